//! Parts on the flat sheet: where they lie on its panels, front seen, with their glue.

use crate::artwork::{Print, Printed, image, legible, on_board as sheet_on_board};
use crate::board::Board;
use crate::list::{Node, Role, Shape, Stroke};
use crate::sheet::{add_polygon, fitting_text, role_of_fold};
use crate::style::{PART_BACK, PART_FRONT, stroke_for};
use fold::{Assembly, Folding};
use glam::{DAffine3, DVec3};
use kurbo::{Affine, BezPath, Line, Point, Rect};
use model::{Face, Fold, Layout, Length, Panel, PartId, PartLayout};

/// What is shown of parts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct LaidLook {
    /// Whether they bear their names.
    pub names: bool,
    /// Whether their glue is shown.
    pub glue: bool,
}

/// A part as it is seen on the flat sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct LaidPart {
    /// The part.
    pub id: PartId,
    /// Its panels' outlines on the board, the lowest first.
    pub outlines: Vec<Vec<Point>>,
    /// Whether it lies behind the sheet.
    pub is_behind: bool,
}

/// Poses that differ by less, in mm and in parts of one, are those of paper that is not folded.
const FLAT: f64 = 1e-6;

/// How many times as wide as an edge what covers it is.
const OVER_EDGE: f64 = 1.5;

/// How far apart the lines of hatched glue are, mm.
const HATCH: f64 = 1.6;

/// Every part that is on the folio, before the first step: those behind the sheet first, then from low to high.
#[must_use]
pub fn laid_parts(layout: &Layout, assembly: &Assembly, folding: &Folding, board: Board) -> Vec<LaidPart> {
    let (poses, layers) = (folding.flat_pose(0.0), folding.layers_before());
    let mut parts: Vec<(i32, LaidPart)> = Vec::new();
    for part in &layout.parts {
        let mut panels: Vec<(i32, Vec<Point>)> = Vec::new();
        for panel in &part.panels {
            let Some(place) = assembly.place(panel.id) else { continue };
            panels.push((layers[place], on_board(panel, &poses[place], board)));
        }
        panels.sort_by_key(|(layer, _)| *layer);
        let Some(&(height, _)) = panels.last() else { continue };
        let is_behind = is_behind(layout, part);
        let outlines = panels.into_iter().map(|(_, outline)| outline).collect();
        parts.push((height, LaidPart { id: part.id, outlines, is_behind }));
    }
    parts.sort_by(|(a, one), (b, other)| other.is_behind.cmp(&one.is_behind).then(a.cmp(b)));
    parts.into_iter().map(|(_, part)| part).collect()
}

/// Draws the parts: the paper of those before the sheet, the outlines in dots of those behind it.
#[must_use]
pub fn laid_nodes(layout: &Layout, assembly: &Assembly, folding: &Folding, board: Board, look: LaidLook) -> Vec<Node> {
    printed_laid_nodes(layout, (assembly, folding), board, look, &Printed::NOTHING)
}

/// The same with what is printed on the parts.
#[must_use]
pub fn printed_laid_nodes(
    layout: &Layout,
    (assembly, folding): (&Assembly, &Folding),
    board: Board,
    look: LaidLook,
    printed: &Printed<'_>,
) -> Vec<Node> {
    let (poses, layers) = (folding.flat_pose(0.0), folding.layers_before());
    let mut nodes = Vec::new();
    for laid in laid_parts(layout, assembly, folding, board) {
        let Some(part) = layout.part(laid.id) else { continue };
        let mut panels: Vec<(i32, &Panel, &DAffine3)> = Vec::new();
        for panel in &part.panels {
            let Some(place) = assembly.place(panel.id) else { continue };
            panels.push((layers[place], panel, &poses[place]));
        }
        panels.sort_by_key(|(layer, ..)| *layer);
        let mut is_printed = false;
        for (_, panel, pose) in panels {
            let face = if faces_up(pose) { Face::Front } else { Face::Back };
            let print = printed.on_panel(layout, panel.id, face);
            let print = print.map(|(picture, place)| (picture, sheet_on_board(board) * flat(pose) * place));
            is_printed |= print.is_some();
            nodes.extend(panel_nodes(panel, pose, board, laid.is_behind, print));
        }
        if !laid.is_behind {
            nodes.extend(part.folds.iter().flat_map(|fold| fold_nodes(fold, assembly, &poses, board)));
        }
        if look.glue {
            nodes.extend(glue_nodes(part, assembly, &poses, board));
        }
        if look.names
            && let Some(outline) = laid.outlines.last()
        {
            let name: Vec<Node> = fitting_text(bounds(outline), &part.name).into_iter().collect();
            nodes.extend(if is_printed { legible(name) } else { name });
        }
    }
    nodes
}

/// Where parts are put on the front of the sheet, as dotted outlines: what a printed sheet shows of them.
#[must_use]
pub fn place_nodes(layout: &Layout, assembly: &Assembly, folding: &Folding, board: Board) -> Vec<Node> {
    places_on(layout, assembly, folding, board, Face::Front)
}

/// The same for one face of the sheet; those on the back as they are seen through the sheet.
#[must_use]
pub fn places_on(layout: &Layout, assembly: &Assembly, folding: &Folding, board: Board, face: Face) -> Vec<Node> {
    let is_there = |laid: &&LaidPart| laid.is_behind == (face == Face::Back);
    let mut path = BezPath::new();
    for laid in laid_parts(layout, assembly, folding, board).iter().filter(is_there) {
        for outline in &laid.outlines {
            add_polygon(&mut path, outline.iter().copied());
        }
    }
    if path.elements().is_empty() {
        return Vec::new();
    }
    let stroke = crate::list::Stroke { colour: stroke_for(Role::Part).colour, ..stroke_for(Role::Guide) };
    vec![Node::Item { role: Role::Part, shape: Shape::Line { path, stroke } }]
}

/// Where the folio's own panels take glue on one face, hatched, before anything is folded; on the back as it is seen
/// through the sheet.
#[must_use]
pub fn glued_on(layout: &Layout, assembly: &Assembly, folding: &Folding, board: Board, face: Face) -> Vec<Node> {
    let poses = folding.flat_pose(0.0);
    let mut areas = Vec::new();
    for part in &layout.parts {
        let own = if is_behind(layout, part) { Face::Back } else { Face::Front };
        for glue in part.glue.iter().filter(|glue| layout.part_of(glue.panels[1]).is_none()) {
            let host_face = part.laid.filter(|laid| laid.on == glue.panels[1]).map_or(own, |laid| laid.face);
            let Some(pose) = assembly.place(glue.panels[0]).and_then(|place| poses.get(place)) else { continue };
            if host_face == face {
                let placed = |area: &Vec<_>| area.iter().filter_map(|&point| placed(point, pose, board)).collect();
                areas.extend(glue.area.iter().map(placed));
            }
        }
    }
    hatching(&areas).into_iter().collect()
}

/// Whether a part lies behind the sheet: on the back of one of its panels, or on a part that does.
fn is_behind(layout: &Layout, part: &PartLayout) -> bool {
    let mut part = part;
    loop {
        let Some(laid) = part.laid else { return false };
        match layout.part_of(laid.on) {
            Some(host) => part = host,
            None => return laid.face == Face::Back,
        }
    }
}

fn panel_nodes(panel: &Panel, pose: &DAffine3, board: Board, is_behind: bool, print: Option<Print<'_>>) -> Vec<Node> {
    let mut path = BezPath::new();
    for outline in std::iter::once(&panel.outline).chain(&panel.holes) {
        add_polygon(&mut path, outline.iter().filter_map(|&point| placed(point, pose, board)));
    }
    if is_behind {
        let stroke = stroke_for(Role::Guide);
        return vec![Node::Item { role: Role::Part, shape: Shape::Line { path, stroke } }];
    }
    let colour = if faces_up(pose) { PART_FRONT } else { PART_BACK };
    let line =
        Node::Item { role: Role::Part, shape: Shape::Line { path: path.clone(), stroke: stroke_for(Role::Part) } };
    let print = print.and_then(|(picture, place)| image(Role::Part, picture, place, path.clone()));
    let fill = Node::Item { role: Role::Part, shape: Shape::Fill { path, colour } };
    match print {
        Some(print) => [fill, print].into_iter().chain(legible(vec![line])).collect(),
        None => vec![fill, line],
    }
}

/// A fold between two panels that lie flat beside one another, dashed as it folds in place of the edge between them: paper
/// goes on there. Nothing for one that is folded already, which is an edge.
fn fold_nodes(fold: &Fold, assembly: &Assembly, poses: &[DAffine3], board: Board) -> Vec<Node> {
    let [Some(one), Some(other)] = fold.panels.map(|panel| Some(&poses[assembly.place(panel)?])) else {
        return Vec::new();
    };
    if !one.abs_diff_eq(*other, FLAT) {
        return Vec::new();
    }
    let mut path = BezPath::new();
    for stretch in &fold.stretches {
        let (Some(a), Some(b)) = (placed(stretch.a, one, board), placed(stretch.b, one, board)) else { continue };
        path.move_to(a);
        path.line_to(b);
    }
    let role = role_of_fold(fold.crease.direction);
    let edge = stroke_for(Role::Part);
    let colour = if faces_up(one) { PART_FRONT } else { PART_BACK };
    let over = Stroke { width: edge.width * OVER_EDGE, colour, ..edge };
    vec![
        Node::Item { role: Role::Part, shape: Shape::Line { path: path.clone(), stroke: over } },
        Node::Item { role, shape: Shape::Line { path, stroke: stroke_for(role) } },
    ]
}

fn faces_up(pose: &DAffine3) -> bool {
    pose.matrix3.z_axis.z > 0.0
}

/// Where a panel's own sheet lies on the folio's, both as drawn, in mm, before anything is folded.
fn flat(pose: &DAffine3) -> Affine {
    let at = |x: f64, y: f64| {
        let at = pose.transform_point3(DVec3::new(x, -y, 0.0));
        Point::new(at.x, -at.y)
    };
    let origin = at(0.0, 0.0);
    let (right, down) = (at(1.0, 0.0) - origin, at(0.0, 1.0) - origin);
    Affine::new([right.x, right.y, down.x, down.y, origin.x, origin.y])
}

/// A part's glue as hatching, seen through the paper that it is on. `poses` are those of the flat sheet.
#[must_use]
pub fn glue_nodes(part: &PartLayout, assembly: &Assembly, poses: &[DAffine3], board: Board) -> Vec<Node> {
    let mut areas = Vec::new();
    for glue in &part.glue {
        let Some(pose) = assembly.place(glue.panels[0]).and_then(|place| poses.get(place)) else { continue };
        let placed = |area: &Vec<_>| area.iter().filter_map(|&point| placed(point, pose, board)).collect();
        areas.extend(glue.area.iter().map(placed));
    }
    hatching(&areas).into_iter().collect()
}

/// Convex areas hatched as glue; nothing where they are too small for it.
#[must_use]
pub fn hatching(areas: &[Vec<Point>]) -> Option<Node> {
    let mut path = BezPath::new();
    for line in areas.iter().flat_map(|area| hatched(area)) {
        path.move_to(line.p0);
        path.line_to(line.p1);
    }
    if path.elements().is_empty() {
        return None;
    }
    Some(Node::Item { role: Role::Glue, shape: Shape::Line { path, stroke: stroke_for(Role::Glue) } })
}

/// Slanting lines across a convex polygon. They lie on the same lines of the drawing for all polygons.
fn hatched(polygon: &[Point]) -> Vec<Line> {
    let along = |point: Point| point.x + point.y;
    let (least, most) = polygon.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), &point| {
        (least.min(along(point)), most.max(along(point)))
    });
    let step = HATCH * std::f64::consts::SQRT_2;
    let mut lines = Vec::new();
    let mut at = (least / step).ceil() * step;
    while at < most {
        let crossing = |(a, b): (Point, Point)| {
            let (from, to) = (along(a), along(b));
            ((from < at) != (to < at)).then(|| a.lerp(b, (at - from) / (to - from)))
        };
        let ends: Vec<Point> =
            polygon.iter().copied().zip(polygon.iter().copied().cycle().skip(1)).filter_map(crossing).collect();
        if let [from, to] = ends[..] {
            lines.push(Line::new(from, to));
        }
        at += step;
    }
    lines
}

fn on_board(panel: &Panel, pose: &DAffine3, board: Board) -> Vec<Point> {
    panel.outline.iter().filter_map(|&point| placed(point, pose, board)).collect()
}

/// Where a point of a panel's own sheet lies on the board; `None` beyond any sheet.
fn placed(point: model::Point, pose: &DAffine3, board: Board) -> Option<Point> {
    let (x, y) = point.mm();
    let at = pose.transform_point3(DVec3::new(x, -y, 0.0));
    let sheet = model::Point::new(Length::from_mm_rounded(at.x)?, Length::from_mm_rounded(-at.y)?);
    Some(board.at(sheet))
}

fn bounds(outline: &[Point]) -> Rect {
    let rects = outline.iter().map(|&point| Rect::from_points(point, point));
    rects.reduce(|all, one| all.union(one)).unwrap_or(Rect::ZERO)
}

#[cfg(test)]
mod tests {
    use super::*;
    use model::change::measured_score;
    use model::part::change::add;
    use model::part::{Own, Part, PartKind, Placement, Source};
    use model::{Document, LineId, PanelRef, Turn, Unit};

    /// A sheet of 8 in, all of it the base, with a shape of 4 by 2 in on it, scored in its middle; folded before it is glued
    /// on, or not.
    fn valleys(is_folded: bool) -> usize {
        let mut document = Document::new(model::Size::parse("8x8in").unwrap(), Unit::Inch);
        let middle = model::Point::new(Length::INCH * 4, Length::INCH * 4);
        document.base = Some(middle);
        let mut own = Own::plain(model::Size::parse("4x2in").unwrap());
        own.lines.push(measured_score(LineId(1), Turn::None, Length::INCH * 2));
        own.base = model::Point::new(Length::INCH, Length::INCH);
        own.folded = if is_folded { vec![vec![LineId(1)]] } else { Vec::new() };
        let place = Placement::centred(PanelRef::Sheet(middle));
        let (id, kind, source) = (PartId(1), PartKind::Own(own), Source::FolioStock);
        let part = Part { id, name: String::new(), kind, source, place, also: Vec::new() };
        document.apply(add(&document, part)).unwrap();
        let layout = Layout::of(&document);
        let assembly = fold::assemble(&document, &layout).unwrap();
        let folding = fold::close(&assembly);
        let board = Board { size: document.stock.size, turn: Turn::None };
        let look = LaidLook { names: false, glue: false };
        let nodes = laid_nodes(&layout, &assembly, &folding, board, look);
        nodes.iter().filter(|node| matches!(node, Node::Item { role: Role::Valley, .. })).count()
    }

    #[test]
    fn a_fold_of_a_part_that_lies_flat_is_dashed_and_one_that_is_folded_is_an_edge() {
        assert_eq!((valleys(false), valleys(true)), (1, 0));
    }

    #[test]
    fn hatching_stays_inside() {
        let square = [(0.0, 0.0), (10.0, 0.0), (10.0, 4.0), (0.0, 4.0)].map(Point::from);
        let lines = hatched(&square);
        // Across from corner to corner are 14 mm of x + y.
        assert_eq!(lines.len(), 6);
        assert!(
            lines
                .iter()
                .flat_map(|line| [line.p0, line.p1])
                .all(|p| (0.0..=10.0).contains(&p.x) && (0.0..=4.0).contains(&p.y))
        );
        assert!(lines.iter().all(|line| (line.p1 - line.p0).hypot() > 0.5));
    }
}
