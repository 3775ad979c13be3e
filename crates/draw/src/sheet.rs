//! The flat sheet: paper, offcuts, lines, names, and distances as on the scoring board.

use crate::artwork::{Prints, legible, over_paper, over_parts};
use crate::board::Board;
use crate::chain::chains;
use crate::list::{Drawing, Node, Role, Shape};
use crate::style::{self, OFFCUT, PAPER_FRONT, ink_for, stroke_for};
use crate::supply::Furnishing;
use crate::text::{self, TextRun, Turned, measure};
use kurbo::{BezPath, Point, Rect, Size};
use model::{Direction, Document, Face, Layout, Length, Panel, PieceId, Segment, Turn, Work};
use std::collections::{BTreeMap, BTreeSet};

/// What is shown of a sheet, and how it lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct SheetLook {
    /// How the sheet lies on the board.
    pub turn: Turn,
    /// Whether panels and offcuts bear their names.
    pub names: bool,
    /// Whether each line bears its distance from the left edge on its own turn.
    pub distances: bool,
}

impl Default for SheetLook {
    fn default() -> Self {
        Self { turn: Turn::None, names: true, distances: true }
    }
}

/// Paper around the sheet in a picture of it, mm.
const PICTURE_MARGIN: f64 = 6.0;

/// Height of names, mm to the em, where there is room.
const NAME_SIZE: f64 = 4.2;

/// Below this a name can't be read in print, so it is left out.
const LEAST_NAME_SIZE: f64 = 1.6;

/// Height of distances, mm to the em.
const DISTANCE_SIZE: f64 = 2.8;

/// From the sheet's edge to a distance, and from a line to the distance beside it, mm.
const DISTANCE_GAP: (f64, f64) = (2.0, 0.9);

/// How text that reads upwards on `turn` reads on a board.
const fn reading_up_on(board: Board, turn: Turn) -> Turned {
    // Turning the sheet further to the left turns what is on it further to the left.
    match (board.turn.count() + 4 - turn.count()) % 4 {
        0 => Turned::Left,
        1 => Turned::Over,
        2 => Turned::Right,
        _ => Turned::Upright,
    }
}

/// The sheet in millimetres across and down from its upper left corner as it lies; nothing is drawn beyond its edge.
#[must_use]
pub fn sheet_nodes(document: &Document, layout: &Layout, look: &SheetLook) -> Vec<Node> {
    let (width, height) = look.turn.size_of(layout.size);
    part_nodes(document, layout, None, look, Rect::new(0.0, 0.0, width.mm(), height.mm()))
}

/// The same with names in the middle of what lies within `part`, so that each page of a tiled sheet bears the names of
/// what is on it, and with what is drawn of parts. Lines and areas are not cut off.
#[must_use]
pub(crate) fn part_nodes(
    document: &Document,
    layout: &Layout,
    furnishing: Option<&Furnishing<'_>>,
    look: &SheetLook,
    part: Rect,
) -> Vec<Node> {
    printed_nodes(document, layout, furnishing, &Prints::default(), look, part)
}

/// The same as [`sheet_nodes`] without scores across the offcuts `used`, which parts are cut from.
#[must_use]
pub fn sparing_sheet_nodes(
    document: &Document,
    layout: &Layout,
    used: &BTreeSet<PieceId>,
    look: &SheetLook,
) -> Vec<Node> {
    let (width, height) = look.turn.size_of(layout.size);
    let board = Board { size: layout.size, turn: look.turn };
    let mut nodes = paper(layout, board);
    nodes.extend(lines(document, layout, used, board));
    if look.names {
        nodes.extend(names(layout, used, board, Rect::new(0.0, 0.0, width.mm(), height.mm())));
    }
    if look.distances {
        nodes.extend(distances(document, layout, board));
    }
    nodes
}

/// The same as [`sheet_nodes`] with what is printed on the front of the paper.
#[must_use]
pub fn printed_sheet_nodes(document: &Document, layout: &Layout, prints: &Prints, look: &SheetLook) -> Vec<Node> {
    let (width, height) = look.turn.size_of(layout.size);
    printed_nodes(document, layout, None, prints, look, Rect::new(0.0, 0.0, width.mm(), height.mm()))
}

/// The same as [`part_nodes`] with what is printed on the front of the paper.
#[must_use]
pub(crate) fn printed_nodes(
    document: &Document,
    layout: &Layout,
    furnishing: Option<&Furnishing<'_>>,
    prints: &Prints,
    look: &SheetLook,
    part: Rect,
) -> Vec<Node> {
    let board = Board { size: layout.size, turn: look.turn };
    // Whatever is printed, what is drawn over it is to be read.
    let over = |nodes| if prints.on_sheet(None, Face::Front).is_some() { legible(nodes) } else { nodes };
    let used = furnishing.map(Furnishing::used).unwrap_or_default();
    let mut nodes = over_paper(paper(layout, board), prints, board);
    nodes.extend(over(lines(document, layout, &used, board)));
    if let Some(furnishing) = furnishing {
        nodes.extend(over_parts(furnishing.nodes_within(layout, board, part), prints, board));
    }
    if look.names {
        nodes.extend(over(names(layout, &used, board, part)));
    }
    if look.distances {
        nodes.extend(over(distances(document, layout, board)));
    }
    nodes
}

/// A picture of the sheet with a margin around it, with the parts that are cut from its offcuts and where they go.
#[must_use]
pub fn sheet_picture(
    document: &Document,
    layout: &Layout,
    furnishing: Option<&Furnishing<'_>>,
    look: &SheetLook,
) -> Drawing {
    printed_sheet_picture(document, layout, furnishing, &Prints::default(), look)
}

/// The same with what is printed on the front of the paper.
#[must_use]
pub fn printed_sheet_picture(
    document: &Document,
    layout: &Layout,
    furnishing: Option<&Furnishing<'_>>,
    prints: &Prints,
    look: &SheetLook,
) -> Drawing {
    let (width, height) = look.turn.size_of(layout.size);
    let margin = PICTURE_MARGIN;
    let size = Size::new(width.mm() + 2.0 * margin, height.mm() + 2.0 * margin);
    let panels = layout.folio().map_or(0, |folio| folio.panels.len());
    let description = format!(
        "{}: a flat sheet of {} with {} and {}.",
        document.title,
        layout.size.text(document.units),
        counted(panels, "panel"),
        counted(layout.offcuts().count(), "offcut"),
    );
    let mut drawing = Drawing::new(size, description);
    drawing.nodes.push(Node::Group {
        place: kurbo::Affine::translate((margin, margin)),
        clip: None,
        nodes: printed_nodes(document, layout, furnishing, prints, look, Rect::new(0.0, 0.0, width.mm(), height.mm())),
    });
    drawing
}

/// "1 panel", "3 panels".
pub(crate) fn counted(count: usize, noun: &str) -> String {
    if count == 1 { format!("1 {noun}") } else { format!("{count} {noun}s") }
}

fn item(role: Role, shape: Shape) -> Node {
    Node::Item { role, shape }
}

fn paper(layout: &Layout, board: Board) -> Vec<Node> {
    let folio = layout.folio().map(|piece| piece.id);
    let fill = |panel: &Panel| {
        let (role, colour) =
            if Some(panel.piece) == folio { (Role::Paper, PAPER_FRONT) } else { (Role::Offcut, OFFCUT) };
        let mut path = BezPath::new();
        for outline in std::iter::once(&panel.outline).chain(&panel.holes) {
            add_polygon(&mut path, outline.iter().map(|&point| board.at(point)));
        }
        item(role, Shape::Fill { path, colour })
    };
    layout.panels.iter().map(fill).collect()
}

/// Adds a closed outline to a path.
pub(crate) fn add_polygon(path: &mut BezPath, points: impl IntoIterator<Item = Point>) {
    for (i, point) in points.into_iter().enumerate() {
        if i == 0 {
            path.move_to(point);
        } else {
            path.line_to(point);
        }
    }
    if !path.elements().is_empty() {
        path.close_path();
    }
}

/// The role of a line of this work, or of a stretch with it.
#[must_use]
pub fn role_of(work: Option<Work>) -> Role {
    match work {
        None => Role::Outline,
        Some(Work::Cut | Work::Slot(_) | Work::Trim(_) | Work::Notch(_)) => Role::Cut,
        Some(Work::Guide) => Role::Guide,
        Some(Work::Score(crease)) => role_of_fold(crease.direction),
    }
}

/// The role of a score that folds this way.
#[must_use]
pub const fn role_of_fold(direction: Direction) -> Role {
    match direction {
        Direction::Valley => Role::Valley,
        Direction::Mountain => Role::Mountain,
        Direction::Either => Role::EitherWay,
    }
}

/// Guides, then scores, under cuts; each as long as it runs unbroken, so that dashes run through crossings. No score runs
/// over the offcuts `used`.
fn lines(document: &Document, layout: &Layout, used: &BTreeSet<PieceId>, board: Board) -> Vec<Node> {
    // A straight line goes on through crossings, even where another line of its own name bends away.
    let mut by_line: BTreeMap<(Role, Option<model::LineId>, bool), Vec<Segment>> = BTreeMap::new();
    for stretch in layout.stretches.iter().filter(|stretch| !stretch.is_spared(layout, used)) {
        let role = role_of(stretch.work);
        let upright = role != Role::Cut && stretch.segment.a.x == stretch.segment.b.x;
        by_line.entry((role, stretch.lines.first().copied(), upright)).or_default().push(stretch.segment);
    }
    let mut drawn: Vec<(Role, Vec<model::Point>)> = Vec::new();
    for line in document.lines.iter().filter(|line| line.work == Work::Guide) {
        if let Some(Ok(placed)) = layout.lines.get(&line.id) {
            drawn.push((Role::Guide, placed.path()));
        }
    }
    for ((role, ..), segments) in by_line {
        drawn.extend(chains(&segments).into_iter().map(|path| (role, path)));
    }
    let order = [Role::Guide, Role::Valley, Role::Mountain, Role::EitherWay, Role::Outline, Role::Cut];
    drawn.sort_by_key(|(role, _)| order.iter().position(|one| one == role));
    let node = |(role, points): (Role, Vec<model::Point>)| {
        let closes = points.len() > 2 && points.first() == points.last();
        let mut path = BezPath::new();
        if closes {
            add_polygon(&mut path, points.iter().skip(1).map(|&point| board.at(point)));
        } else {
            for (i, &point) in points.iter().enumerate() {
                if i == 0 { path.move_to(board.at(point)) } else { path.line_to(board.at(point)) }
            }
        }
        item(role, Shape::Line { path, stroke: stroke_for(role) })
    };
    drawn.into_iter().map(node).collect()
}

fn names(layout: &Layout, used: &BTreeSet<PieceId>, board: Board, part: Rect) -> Vec<Node> {
    let mut nodes = Vec::new();
    for piece in layout.pieces.iter().filter(|piece| !used.contains(&piece.id)) {
        let panels = piece.panels.iter().map(|&id| layout.panel(id));
        if piece.is_folio {
            nodes.extend(panels.filter_map(|panel| name(panel, &panel.name, board, part)));
        } else if let Some(largest) = panels.max_by_key(|panel| (panel.area, std::cmp::Reverse(panel.id))) {
            nodes.extend(name(largest, &piece.name, board, part));
        }
    }
    nodes
}

/// The name in the middle of a panel, as large as there is room for; along it where it is narrow.
fn name(panel: &Panel, text: &str, board: Board, part: Rect) -> Option<Node> {
    let largest = panel.convex.iter().max_by_key(|piece| model::polygon::signed_area(piece))?;
    let (low, high) = model::polygon::bounds(largest);
    fitting_text(Rect::from_points(board.at(low), board.at(high)).intersect(part), text)
}

/// Text in the middle of a rectangle, as large as there is room for and along it where it is narrow; `None` where it
/// could not be read.
#[must_use]
pub fn fitting_text(room: Rect, text: &str) -> Option<Node> {
    let (width, height) = (room.width(), room.height());
    let upright = width >= height || measure(text, text::Face::Regular, NAME_SIZE) < width * 0.9;
    let (along, across) = if upright { (width, height) } else { (height, width) };
    let wide = measure(text, text::Face::Regular, 1.0).max(f64::MIN_POSITIVE);
    let size = NAME_SIZE.min(across * 0.55).min(along * 0.85 / wide);
    let turned = if upright { Turned::Upright } else { Turned::Left };
    (size >= LEAST_NAME_SIZE).then(|| {
        let run = TextRun::new(text, text::Face::Regular, size, ink_for(Role::Label))
            .turned(turned)
            .centred_on(room.center());
        item(Role::Label, Shape::Text(run))
    })
}

/// Each line's distance from the left edge on its own turn, beside its upper end, reading up the line.
fn distances(document: &Document, layout: &Layout, board: Board) -> Vec<Node> {
    let mut shown: BTreeMap<(Turn, Length), Length> = BTreeMap::new();
    for placed in layout.lines.values().filter_map(|placed| placed.as_ref().ok()) {
        // Along the sheet's own edge there is no distance to tell.
        let inside = |(turn, across): &(Turn, Length)| *across > Length::ZERO && *across < turn.size_of(layout.size).0;
        if let Some(on_board) = placed.on_board().filter(inside) {
            shown.entry(on_board).and_modify(|least| *least = (*least).min(placed.from)).or_insert(placed.from);
        }
    }
    let node = |((turn, across), from): ((Turn, Length), Length)| {
        let text = across.readable(document.units);
        let width = measure(&text, text::Face::Regular, DISTANCE_SIZE);
        let (edge, beside) = DISTANCE_GAP;
        let (_, height) = turn.size_of(layout.size);
        // Its own turn's directions on this board, by where one millimetre each way leads.
        let start = board.of_turn(turn, across, from);
        let down = board.of_turn(turn, across, from + Length::MILLIMETRE) - start;
        let right = board.of_turn(turn, across + Length::MILLIMETRE, from) - start;
        // Beside the line on its left; on its right where the sheet ends there.
        let side = if across.mm() > DISTANCE_SIZE + beside { -beside } else { beside + DISTANCE_SIZE * 0.75 };
        let low = (edge + width).min(height.mm() - from.mm());
        let run = TextRun::new(&text, text::Face::Regular, DISTANCE_SIZE, style::DIMENSION)
            .turned(reading_up_on(board, turn))
            .at(start + down * low + right * side);
        item(Role::Dimension, Shape::Text(run))
    };
    shown.into_iter().map(node).collect()
}
