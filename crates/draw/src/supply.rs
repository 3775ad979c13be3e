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
        let mut nodes = supply_nodes(layout, self.supply, board);
        if let Some((assembly, folding)) = self.folded {
            nodes.extend(place_nodes(layout, assembly, folding, board));
        }
        nodes
    }

    /// The offcuts that parts are cut from: theirs are the names there.
    pub(crate) fn is_used(&self, piece: PieceId) -> bool {
        self.supply.offcut(piece).is_some_and(|offcut| !offcut.parts.is_empty())
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
    match (&supply.from, layout.part(supply.part)) {
        (Origin::Offcut { cutout, .. }, Some(part)) => pattern_nodes(part, |point| board.at(cutout.on_paper(point))),
        _ => Vec::new(),
    }
}

/// One part as it is cut out: its paper, its scores and cuts, and its name; `at` places what is on its own little sheet.
pub(crate) fn pattern_nodes(part: &PartLayout, at: impl Fn(model::Point) -> Point) -> Vec<Node> {
    let own: Vec<_> = part.sheet.folio().map_or(Vec::new(), |piece| piece.panels.clone());
    let (mut paper, mut nodes, mut bounds) = (BezPath::new(), Vec::new(), None::<Rect>);
    for panel in &part.panels {
        for outline in std::iter::once(&panel.outline).chain(&panel.holes) {
            add_polygon(&mut paper, outline.iter().map(|&point| at(point)));
        }
        for &point in &panel.outline {
            let point = at(point);
            let spot = Rect::from_points(point, point);
            bounds = Some(bounds.map_or(spot, |all| all.union(spot)));
        }
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
    let main = part.panels.iter().find(|panel| panel.id == part.main);
    let room = match main.and_then(|panel| Some((panel, at(panel.inside?)))) {
        // Half as wide and high as its rectangle, round a point well inside, is inside of a triangle as well.
        Some((panel, middle)) if panel.outline.len() == 3 => {
            bounds.map(|bounds| Rect::from_center_size(middle, bounds.size() * 0.5))
        }
        _ => bounds,
    };
    nodes.extend(room.and_then(|room| fitting_text(room, &part.name)));
    nodes
}
