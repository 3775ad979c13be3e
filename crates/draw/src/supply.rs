//! Where parts are cut from: each on its offcut, with its cuts, scores and name.

use crate::board::Board;
use crate::laid::place_nodes;
use crate::list::{Node, Role, Shape};
use crate::sheet::{add_polygon, fitting_text, role_of};
use crate::style::{PART_FRONT, stroke_for};
use allot::{Allotment, Origin, Supply};
use fold::{Assembly, Folding};
use kurbo::{BezPath, Point, Rect};
use model::{Layout, PartLayout, PieceId};
use std::collections::BTreeSet;

/// A window that shows all of any drawing.
pub(crate) const EVERYWHERE: Rect = Rect::new(-1e9, -1e9, 1e9, 1e9);

/// What is drawn of a design's parts on its flat sheet.
#[derive(Debug, Clone, Copy)]
pub struct Furnishing<'a> {
    /// Where their paper comes from.
    pub supply: &'a Allotment,
    /// The folio that they lie on; `None` while no base is marked.
    pub folded: Option<(&'a Assembly, &'a Folding)>,
}

impl Furnishing<'_> {
    /// The parts on their offcuts, and in dots where they are put on the front of the folio.
    #[must_use]
    pub fn nodes(&self, layout: &Layout, board: Board) -> Vec<Node> {
        self.nodes_within(layout, board, EVERYWHERE)
    }

    /// The same with names in the middle of what lies within `window`. Lines and areas are not cut off.
    pub(crate) fn nodes_within(&self, layout: &Layout, board: Board, window: Rect) -> Vec<Node> {
        let supplies = self.supply.supplies.iter();
        let mut nodes: Vec<Node> = supplies.flat_map(|supply| source_within(layout, supply, board, window)).collect();
        if let Some((assembly, folding)) = self.folded {
            nodes.extend(place_nodes(layout, assembly, folding, board));
        }
        nodes
    }

    /// The offcuts that parts are cut from: theirs are the names there, and no score of the sheet is pressed across them.
    pub(crate) fn used(&self) -> BTreeSet<PieceId> {
        self.supply.used()
    }
}

/// Every part that is cut from an offcut, where it is cut from: its paper, its scores and cuts, and its name.
#[must_use]
pub fn supply_nodes(layout: &Layout, supply: &Allotment, board: Board) -> Vec<Node> {
    supply.supplies.iter().flat_map(|supply| source_nodes(layout, supply, board)).collect()
}

/// The same for one part; nothing for one that is not cut from an offcut.
#[must_use]
pub fn source_nodes(layout: &Layout, supply: &Supply, board: Board) -> Vec<Node> {
    source_within(layout, supply, board, EVERYWHERE)
}

fn source_within(layout: &Layout, supply: &Supply, board: Board, window: Rect) -> Vec<Node> {
    match (&supply.from, layout.part(supply.part)) {
        (Origin::Offcut { cutout, .. }, Some(part)) => {
            pattern_nodes(part, |point| board.at(cutout.on_paper(point)), window)
        }
        _ => Vec::new(),
    }
}

/// One part as it is cut out: its paper, its scores and cuts, and its name in the middle of what lies within `window`; `at`
/// places what is on its own little sheet.
pub(crate) fn pattern_nodes(part: &PartLayout, at: impl Fn(model::Point) -> Point, window: Rect) -> Vec<Node> {
    let own: Vec<_> = part.sheet.folio().map_or(Vec::new(), |piece| piece.panels.clone());
    let (mut paper, mut nodes) = (BezPath::new(), Vec::new());
    for outline in part.panels.iter().flat_map(|panel| std::iter::once(&panel.outline).chain(&panel.holes)) {
        add_polygon(&mut paper, outline.iter().map(|&point| at(point)));
    }
    nodes.push(Node::Item { role: Role::Part, shape: Shape::Fill { path: paper, colour: PART_FRONT } });
    for stretch in &part.sheet.stretches {
        let sides = stretch.sides.map(|side| side.is_some_and(|panel| own.contains(&panel)));
        // The edge of the little sheet is a cut where the part is cut out of its offcut.
        let role = match (sides, stretch.work) {
            ([false, false], _) => continue,
            ([true, true], work) => role_of(work),
            _ => Role::Cut,
        };
        let mut path = BezPath::new();
        path.move_to(at(stretch.segment.a));
        path.line_to(at(stretch.segment.b));
        nodes.push(Node::Item { role, shape: Shape::Line { path, stroke: stroke_for(role) } });
    }
    let room = room_for_name(part, at).map(|room| room.intersect(window));
    nodes.extend(room.and_then(|room| fitting_text(room, &part.name)));
    nodes
}

/// Where the name of a part stands: on its largest panel, so that no fold runs through it.
fn room_for_name(part: &PartLayout, at: impl Fn(model::Point) -> Point) -> Option<Rect> {
    let panel = part.panels.iter().max_by_key(|panel| (panel.area, std::cmp::Reverse(panel.id)))?;
    let corners = panel.outline.iter().map(|&point| at(point)).map(|point| Rect::from_points(point, point));
    let bounds = corners.reduce(|all, one| all.union(one))?;
    match panel.inside {
        // Half as wide and high as its rectangle, round a point well inside, is inside of a triangle as well.
        Some(middle) if panel.outline.len() == 3 => Some(Rect::from_center_size(at(middle), bounds.size() * 0.5)),
        _ => Some(bounds),
    }
}
