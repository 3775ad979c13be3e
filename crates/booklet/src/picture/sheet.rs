//! The flat sheet: whole with its names, with its scores, on a turn of the scoring board, and what is left of it.

use super::{Frame, fill, label, line, outline, scaled};
use crate::block::Picture;
use crate::style::SMALL;
use allot::Allotment;
use draw::artwork::{Printed, on_board, paled};
use draw::board::Board;
use draw::list::{Node, Role, Shape};
use draw::sheet::{SheetLook, role_of, role_of_fold, sparing_sheet_nodes};
use draw::style::{DIMENSION, OFFCUT, PAPER_BACK, PAPER_FRONT, THIN_WIDTH, stroke_for};
use draw::text::{self, TextRun, Turned, measure};
use kurbo::{Affine, BezPath, Point, Rect, Size};
use model::board::TurnScores;
use model::pressed::pressed;
use model::{Document, Face, Layout, LineId, Panel, PanelId, PieceId, Turn};
use std::collections::BTreeSet;

/// Pages' lines that are to be seen first are so much wider.
pub(crate) const HEAVY: f64 = 2.2;

fn board_of(layout: &Layout, turn: Turn) -> Board {
    Board { size: layout.size, turn }
}

/// The offcuts that parts are cut from: no score is pressed across them.
fn used(printed: &Printed<'_>) -> BTreeSet<PieceId> {
    printed.supply.map(Allotment::used).unwrap_or_default()
}

/// All lines of a face of the sheet on a turn, with what is printed on it, pale; the back as it is seen through the sheet.
fn lines_and_paper(
    document: &Document,
    layout: &Layout,
    printed: &Printed<'_>,
    (turn, face): (Turn, Face),
    frame: Frame,
) -> Vec<Node> {
    let look = SheetLook { turn, names: false, distances: false };
    let mut nodes = sparing_sheet_nodes(document, layout, &used(printed), &look);
    if face == Face::Back {
        tint(&mut nodes, PAPER_BACK);
    }
    let nodes = paled(nodes, printed.prints.on_sheet(None, face), on_board(board_of(layout, turn)));
    scaled(&nodes, frame.place())
}

/// Gives the folio's paper another colour.
fn tint(nodes: &mut [Node], with: draw::style::Colour) {
    for node in nodes {
        if let Node::Item { role: Role::Paper, shape: Shape::Fill { colour, .. } } = node {
            *colour = with;
        }
    }
}

/// The whole sheet with the names of its panels and of what comes off.
pub(crate) fn named_sheet(document: &Document, layout: &Layout, printed: &Printed<'_>, room: Size) -> Picture {
    let board = board_of(layout, Turn::None);
    let frame = Frame::new(board.rect(), room, 0.5);
    let mut nodes = lines_and_paper(document, layout, printed, (Turn::None, Face::Front), frame);
    for piece in &layout.pieces {
        let panels = piece.panels.iter().map(|&id| layout.panel(id));
        if piece.is_folio {
            nodes.extend(panels.filter_map(|panel| name(panel, &panel.name, board, frame)));
        } else if let Some(largest) = panels.max_by_key(|panel| (panel.area, std::cmp::Reverse(panel.id))) {
            nodes.extend(name(largest, &piece.name, board, frame));
        }
    }
    frame.picture(nodes)
}

/// A name in the largest convex part of a panel.
pub(crate) fn name(panel: &Panel, text: &str, board: Board, frame: Frame) -> Option<Node> {
    let largest = panel.convex.iter().max_by_key(|piece| model::polygon::signed_area(piece))?;
    let (low, high) = model::polygon::bounds(largest);
    label(frame.rect(Rect::from_points(board.at(low), board.at(high))), text)
}

/// The whole sheet with its scores heavy.
pub(crate) fn scores(document: &Document, layout: &Layout, printed: &Printed<'_>, room: Size) -> Picture {
    let board = board_of(layout, Turn::None);
    let frame = Frame::new(board.rect(), room, 0.5);
    let mut nodes = lines_and_paper(document, layout, printed, (Turn::None, Face::Front), frame);
    let used = used(printed);
    for each in document.lines.iter().filter(|each| each.work.is_score()) {
        nodes.extend(heavy_score(document, layout, each.id, &used, board, frame));
    }
    frame.picture(nodes)
}

/// The sheet with what comes off tinted and named.
pub(crate) fn sheet_with_offcuts(document: &Document, layout: &Layout, printed: &Printed<'_>, room: Size) -> Picture {
    let board = board_of(layout, Turn::None);
    let frame = Frame::new(board.rect(), room, 0.5);
    let mut nodes = lines_and_paper(document, layout, printed, (Turn::None, Face::Front), frame);
    for piece in layout.offcuts() {
        let panels = piece.panels.iter().map(|&id| layout.panel(id));
        if let Some(largest) = panels.max_by_key(|panel| (panel.area, std::cmp::Reverse(panel.id))) {
            nodes.extend(name(largest, &piece.name, board, frame));
        }
    }
    frame.picture(nodes)
}

/// A line where it lies, wider than others.
pub(crate) fn heavy(
    document: &Document,
    layout: &Layout,
    id: model::LineId,
    board: Board,
    frame: Frame,
) -> Option<Node> {
    let placed = layout.lines.get(&id)?.as_ref().ok()?;
    heavy_path(document, id, &placed.path(), board, frame)
}

/// A score where it is pressed, wider than other lines.
fn heavy_score(
    document: &Document,
    layout: &Layout,
    id: LineId,
    used: &BTreeSet<PieceId>,
    board: Board,
    frame: Frame,
) -> Vec<Node> {
    let Some(Ok(placed)) = layout.lines.get(&id) else { return Vec::new() };
    let runs = pressed(layout, id, placed, used);
    runs.iter().filter_map(|run| heavy_path(document, id, run, board, frame)).collect()
}

fn heavy_path(document: &Document, id: LineId, points: &[model::Point], board: Board, frame: Frame) -> Option<Node> {
    let role = role_of(Some(document.line(id)?.work));
    let mut path = BezPath::new();
    for (i, &point) in points.iter().enumerate() {
        if i == 0 { path.move_to(board.at(point)) } else { path.line_to(board.at(point)) }
    }
    let mut stroke = stroke_for(role);
    stroke.width *= HEAVY;
    Some(line(role, frame.place() * path, stroke))
}

/// The sheet as it lies for one turn: the scores of this turn heavy, each with its distance above it.
pub(crate) fn scored_turn(
    document: &Document,
    layout: &Layout,
    printed: &Printed<'_>,
    of_turn: &TurnScores,
    says: &dyn Fn(model::Length) -> String,
    room: Size,
) -> Picture {
    let board = board_of(layout, of_turn.turn);
    let texts: Vec<String> = of_turn.scores.keys().map(|across| says(*across)).collect();
    let longest = texts.iter().map(|text| measure(text, text::Face::Regular, SMALL)).fold(0.0, f64::max);
    let band = longest + 5.0;
    let frame = Frame::new(board.rect(), Size::new(room.width, room.height - band), 2.0).below(band);
    let mut nodes = lines_and_paper(document, layout, printed, (of_turn.turn, of_turn.face), frame);
    let ids: BTreeSet<_> = of_turn.scores.values().flatten().map(|run| run.line).collect();
    let used = used(printed);
    for id in ids {
        nodes.extend(heavy_score(document, layout, id, &used, board, frame));
    }
    if of_turn.face == Face::Back {
        nodes = turned_over(&nodes, frame.rect(board.rect()));
    }
    let top = frame.rect(board.rect()).y0;
    let wanted: Vec<f64> =
        of_turn.scores.keys().map(|&across| (frame.place() * Point::new(across.mm(), 0.0)).x).collect();
    let sheet = frame.rect(board.rect());
    // Where there are too many to stand side by side, the table alone tells them.
    let shown = spread(&wanted, SMALL * 1.15, [sheet.x0, sheet.x1]).unwrap_or_default();
    for ((x, at), text) in wanted.iter().zip(&shown).zip(&texts) {
        let mut path = BezPath::new();
        path.move_to((*x, top));
        path.line_to((*x, top - 1.0));
        path.line_to((*at, top - 3.4));
        nodes.push(line(Role::Dimension, path, stroke_for(Role::Dimension)));
        let run = TextRun::new(text, text::Face::Regular, SMALL, DIMENSION).turned(Turned::Left);
        let base = Point::new(at + SMALL * 0.36, top - 4.2);
        nodes.push(Node::Item { role: Role::Dimension, shape: Shape::Text(run.at(base)) });
    }
    frame.picture(nodes)
}

/// The picture of a sheet that is turned over away from the maker: what lay at the top lies at the bottom.
fn turned_over(nodes: &[Node], sheet: Rect) -> Vec<Node> {
    scaled(nodes, Affine::new([1.0, 0.0, 0.0, -1.0, 0.0, sheet.y0 + sheet.y1]))
}

/// Places as near as can be to those wanted, which rise, no nearer to one another than `gap` and within two ends; `None`
/// where they don't find room there.
fn spread(wanted: &[f64], gap: f64, [low, high]: [f64; 2]) -> Option<Vec<f64>> {
    if crate::style::times(wanted.len()) * gap > high - low {
        return None;
    }
    let mut shown = wanted.to_vec();
    // A few rounds of pushing neighbours apart by halves; what is left over is mended from either end.
    for _ in 0..40 {
        for i in 1..shown.len() {
            let lacks = gap - (shown[i] - shown[i - 1]);
            if lacks > 0.0 {
                shown[i - 1] -= lacks / 2.0;
                shown[i] += lacks / 2.0;
            }
        }
    }
    let mut least = low;
    for at in &mut shown {
        *at = at.max(least);
        least = *at + gap;
    }
    let mut most = high;
    for at in shown.iter_mut().rev() {
        *at = at.min(most);
        most = *at - gap;
    }
    Some(shown)
}

/// Some panels, each in its own tint: those of the folio as paper, others as what comes off.
pub(crate) fn panels(
    layout: &Layout,
    printed: &Printed<'_>,
    set: &BTreeSet<PanelId>,
    board: Board,
    frame: Frame,
) -> Vec<Node> {
    panels_cut(layout, printed, set, &BTreeSet::new(), board, frame)
}

/// The same with some lines cut already; other cuts are dotted.
pub(crate) fn panels_cut(
    layout: &Layout,
    printed: &Printed<'_>,
    set: &BTreeSet<PanelId>,
    done: &BTreeSet<LineId>,
    board: Board,
    frame: Frame,
) -> Vec<Node> {
    let folio = layout.folio().map(|piece| piece.id);
    let mut nodes = Vec::new();
    for panel in layout.panels.iter().filter(|panel| set.contains(&panel.id)) {
        let (role, colour) =
            if Some(panel.piece) == folio { (Role::Paper, PAPER_FRONT) } else { (Role::Offcut, OFFCUT) };
        let mut path = BezPath::new();
        for points in std::iter::once(&panel.outline).chain(&panel.holes) {
            path.extend(outline(points.iter().map(|&point| board.at(point))));
        }
        nodes.push(fill(role, frame.place() * path, colour));
    }
    let print = printed.prints.on_sheet(None, Face::Front);
    let mut nodes = paled(nodes, print, frame.place() * on_board(board));
    let used = used(printed);
    for stretch in layout.stretches.iter().filter(|stretch| !stretch.is_spared(layout, &used)) {
        let sides = stretch.sides.map(|side| side.is_some_and(|panel| set.contains(&panel)));
        let role = match (sides, stretch.work) {
            ([false, false], _) => continue,
            ([true, true], Some(model::Work::Score(crease))) => role_of_fold(crease.direction),
            ([true, true], Some(work)) if work.is_cut() => {
                if stretch.lines.iter().any(|id| done.contains(id)) {
                    Role::Cut
                } else {
                    Role::Guide
                }
            }
            ([true, true], _) => continue,
            _ => Role::Outline,
        };
        let mut path = BezPath::new();
        path.move_to(board.at(stretch.segment.a));
        path.line_to(board.at(stretch.segment.b));
        let mut stroke = stroke_for(role);
        if role == Role::Outline {
            stroke.width = THIN_WIDTH * 1.4;
        }
        nodes.push(line(role, frame.place() * path, stroke));
    }
    nodes
}

/// The folio's own panels.
pub(crate) fn folio_panels(layout: &Layout) -> BTreeSet<PanelId> {
    layout.folio().map(|piece| piece.panels.iter().copied().collect()).unwrap_or_default()
}

/// The rectangle around panels, on the board.
pub(crate) fn around(layout: &Layout, set: &BTreeSet<PanelId>, board: Board) -> Rect {
    let points = set.iter().flat_map(|&id| &layout.panel(id).outline).map(|&point| board.at(point));
    points.map(|point| Rect::from_points(point, point)).reduce(|a, b| a.union(b)).unwrap_or_else(|| board.rect())
}

#[cfg(test)]
mod tests {
    use super::{Printed, panels, scores, spread};
    use draw::artwork::Prints;
    use draw::board::Board;
    use draw::list::{Node, Role, Shape};
    use kurbo::{Rect, Shape as _, Size};
    use model::change::measured_score;
    use model::part::{Mat, Placement, Source};
    use model::{Document, Length, Line, LineId, PanelRef, Part, PartId, PartKind, Point, Turn, Unit, Work};
    use session::Derived;

    fn mm(length: i64) -> Length {
        Length::MILLIMETRE * length
    }

    /// A sheet of 100 x 60 mm with a strip of 20 mm cut off at the top, from which a label is cut, and a score down both.
    fn labelled() -> Document {
        let mut document = Document::new(model::Size::new(mm(100), mm(60)).unwrap(), Unit::Millimetre);
        let cut = measured_score(LineId(2), Turn::Once, mm(20));
        document.lines = vec![measured_score(LineId(1), Turn::None, mm(30)), Line { work: Work::Cut, ..cut }];
        document.base = Some(Point::new(mm(60), mm(40)));
        let kind = PartKind::Mat(Mat { width: mm(50), height: mm(15) });
        let place = Placement::centred(PanelRef::Sheet(Point::new(mm(60), mm(40))));
        let source = Source::Offcut(Point::new(mm(60), mm(10)));
        document.parts = vec![Part { id: PartId(1), name: "Label".into(), kind, source, place, also: Vec::new() }];
        document
    }

    /// The rectangle around all valleys of a picture; `None` where there are none.
    fn valleys(nodes: &[Node]) -> Option<Rect> {
        let of = |node: &Node| match node {
            Node::Item { role: Role::Valley, shape: Shape::Line { path, .. } } => Some(path.bounding_box()),
            _ => None,
        };
        nodes.iter().filter_map(of).reduce(|all, one| all.union(one))
    }

    #[test]
    fn no_score_runs_over_an_offcut_that_a_part_is_cut_from() {
        let document = labelled();
        let derived = Derived::of(&document);
        let (layout, prints) = (&derived.layout, Prints::default());
        let [bare, used] = [None, derived.supply.as_ref()].map(|supply| Printed { prints: &prints, supply });
        let high = |printed: &Printed<'_>| {
            valleys(&scores(&document, layout, printed, Size::new(101.0, 61.0)).nodes).map_or(0.0, |all| all.height())
        };
        assert!((high(&bare) - 60.0).abs() < 1e-6 && (high(&used) - 40.0).abs() < 1e-6, "{}", high(&used));
        let off = layout.offcuts().flat_map(|piece| piece.panels.iter().copied()).collect();
        let board = Board { size: layout.size, turn: Turn::None };
        let frame = super::Frame::new(board.rect(), Size::new(100.0, 60.0), 0.0);
        let across = |printed: &Printed<'_>| valleys(&panels(layout, printed, &off, board, frame)).is_some();
        assert!(across(&bare) && !across(&used));
    }

    #[test]
    fn labels_keep_their_distance() {
        let apart = |wanted: &[f64]| spread(wanted, 3.0, [0.0, 40.0]).unwrap();
        for wanted in [&[10.0, 10.5, 11.0, 30.0][..], &[0.0, 0.1, 0.2], &[39.0, 39.5, 40.0], &[]] {
            let shown = apart(wanted);
            assert!(shown.windows(2).all(|pair| pair[1] - pair[0] >= 3.0 - 1e-9), "{shown:?}");
            assert!(shown.iter().all(|at| (-1e-9..=40.0 + 1e-9).contains(at)), "{shown:?}");
        }
        assert_eq!(apart(&[5.0, 15.0]), [5.0, 15.0]);
        assert_eq!(spread(&[1.0; 20], 3.0, [0.0, 40.0]), None);
    }
}
