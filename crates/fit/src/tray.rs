//! Trays: panels of the folio with gussets round them, on which things lie when it is closed.

use crate::pocket::usual_caliper;
use crate::room::{CardFit, Depth, Ends, Room, Span};
use fold::{Allowance, Assembly, Folding, GussetFit, gussets};
use model::part::Edges;
use model::{Document, Layout, Length, PanelId, Point, SheetEdge};
use std::collections::BTreeMap;

/// What goes into a tray.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TrayFit {
    /// The panel that is its floor.
    pub panel: PanelId,
    /// What that is called.
    pub name: String,
    /// The edges at which gussets stand, on the panel's sheet as drawn.
    pub walls: Edges,
    /// How large it is: from wall to wall, and as deep as the closing flaps and what lies in it already leave free.
    pub room: Room,
    /// By how much its gussets are too narrow for what they go round already; nothing where they are not.
    pub lacks: Length,
    /// The usual cards that lie in it.
    pub cards: Vec<CardFit>,
}

/// Every rectangular panel with gussets at two or more of its edges, by panel.
///
/// The walls stand with the middle of their paper on the fold, so each takes half a caliper from the floor; how deep a
/// gusset is less what it goes round, see [`fold::gussets`], is what is left.
#[must_use]
pub fn trays(document: &Document, layout: &Layout, assembly: &Assembly, folding: &Folding) -> Vec<TrayFit> {
    let mut walls: BTreeMap<usize, Vec<(usize, GussetFit)>> = BTreeMap::new();
    for fit in gussets(assembly, folding, &Allowance::default()) {
        for joint in fit.joints {
            let [a, b] = assembly.joints[joint].panels;
            walls.entry(if a == fit.panel { b } else { a }).or_default().push((joint, fit));
        }
    }
    walls.into_iter().filter_map(|(panel, walls)| tray(document, layout, assembly, panel, &walls)).collect()
}

fn tray(
    document: &Document,
    layout: &Layout,
    assembly: &Assembly,
    floor: usize,
    walls: &[(usize, GussetFit)],
) -> Option<TrayFit> {
    let panel = layout.panel(assembly.panels[floor].id);
    let (low, high) = panel.bounds();
    let box_area = (high.x - low.x).mm() * (high.y - low.y).mm();
    // What is cut out of a panel may be where a card lies; that is not reckoned here.
    if (panel.area.mm2() - box_area).abs() > box_area * SAME_AREA {
        return None;
    }
    let mut edges = Edges::NONE;
    let (mut deep, mut paper) = (f64::INFINITY, 0.0_f64);
    for &(joint, fit) in walls {
        let Some(edge) = edge_of(assembly, joint, low, high) else { continue };
        edges = edges.with(edge, true);
        deep = deep.min(fit.has - fit.least);
        paper = paper.max(assembly.caliper_of(fit.panel));
    }
    if edges.iter().count() < 2 {
        return None;
    }
    // What lengths and calipers make is whole nanometres; floats only carried it.
    let [deep, paper] = [deep, paper].map(|mm| Length::from_mm_rounded(mm).unwrap_or_default());
    let span = |whole: Length, sides: [SheetEdge; 2]| match sides.map(|side| edges.has(side)) {
        [true, true] => Span::new(whole - paper, Ends::Both),
        [false, false] => Span::new(whole, Ends::Open),
        _ => Span::new(whole - paper.half(), Ends::One),
    };
    let room = Room {
        across: span(high.x - low.x, [SheetEdge::Left, SheetEdge::Right]),
        down: span(high.y - low.y, [SheetEdge::Top, SheetEdge::Bottom]),
        depth: Depth::Upright(deep.max(Length::ZERO)),
    };
    let cards = room.cards(usual_caliper(document));
    let lacks = (-deep).max(Length::ZERO);
    Some(TrayFit { panel: panel.id, name: panel.name.clone(), walls: edges, room, lacks, cards })
}

/// Areas that differ by less than this part are one.
const SAME_AREA: f64 = 1e-9;

/// The edge of an upright rectangle on which a fold lies; `None` for one within.
fn edge_of(assembly: &Assembly, joint: usize, low: Point, high: Point) -> Option<SheetEdge> {
    let segment = assembly.joints[joint].segments.first()?;
    let (a, b) = (segment.a, segment.b);
    match () {
        () if a.x == b.x && a.x == low.x => Some(SheetEdge::Left),
        () if a.x == b.x && a.x == high.x => Some(SheetEdge::Right),
        () if a.y == b.y && a.y == low.y => Some(SheetEdge::Top),
        () if a.y == b.y && a.y == high.y => Some(SheetEdge::Bottom),
        () => None,
    }
}
