//! What goes into each part that holds something: pockets, tuck corners and, as surfaces, pages.

use crate::ground::{Ground, covered, hinge};
use crate::room::{CardFit, Depth, Ends, Room, Span};
use crate::tuck::{CornerFit, corner_fit};
use model::part::{Edges, GlueArea, Page, Pocket};
use model::{Document, Face, Layout, Length, PanelId, Part, PartId, PartKind, PartLayout, Point, SheetEdge, Stock};

/// What goes into a part.
#[derive(Debug, Clone, PartialEq)]
pub struct PocketFit {
    /// The part.
    pub part: PartId,
    /// What it is called.
    pub name: String,
    /// The panel that it lies on; that under the hinges for one carried by them.
    pub host: PanelId,
    /// The face of that panel.
    pub face: Face,
    /// What it holds.
    pub holds: Holds,
}

/// How a part holds something.
#[derive(Debug, Clone, PartialEq)]
pub enum Holds {
    /// Between its front and the panel under it.
    Pocket(Inside),
    /// By a corner; `None` where its glue leaves no room.
    Corner(Option<CornerFit>),
    /// On its face, glued or written.
    Surface {
        /// How large that is.
        room: Room,
        /// The usual cards that it takes.
        cards: Vec<CardFit>,
    },
}

/// The inside of a pocket.
#[derive(Debug, Clone, PartialEq)]
pub struct Inside {
    /// Where it is on the pocket's own sheet: its least and greatest corner, up to the glue, the feet of its gussets or
    /// its mouth.
    pub space: (Point, Point),
    /// Its closed edges, on its own sheet.
    pub closed: Edges,
    /// Its mouths: the other edges, as they lie on the sheet of the panel under it where it is turned by whole quarters,
    /// else on its own. None where it is glued all round.
    pub mouths: Vec<SheetEdge>,
    /// How large it is, across and down its own sheet. A mouth is as wide as the room, so what fits goes in.
    pub room: Room,
    /// The usual cards that go in, upright and turned on its own sheet.
    pub cards: Vec<CardFit>,
}

/// What goes into every part of a design that something goes into, in the order in which they are put on. Left out: pockets
/// with no closed edge, and what hangs on hinges upon hinges, or aslant on them.
///
/// A pocket that hinges carry is reckoned like one glued flat: what the hinges' leaves cover under it is taken off, and
/// by how much they lift it is not counted.
#[must_use]
pub fn pockets(document: &Document, layout: &Layout) -> Vec<PocketFit> {
    let fit = |part: &PartLayout| {
        let own = document.part(part.id)?;
        let holds = match &own.kind {
            PartKind::Pocket(kind) => Holds::Pocket(inside(document, layout, part, own, kind)?),
            PartKind::TuckCorner(kind) => Holds::Corner(corner_fit(kind, document.units)),
            PartKind::Page(kind) => surface(document, kind),
            _ => return None,
        };
        let Ground { host, face, .. } = Ground::of(document, layout, part)?;
        Some(PocketFit { part: part.id, name: part.name.clone(), host, face, holds })
    };
    layout.parts.iter().filter_map(fit).collect()
}

/// How thick a card of any paper is taken to be: as thick as the folio's, or as is usual where that is unknown.
pub(crate) fn usual_caliper(document: &Document) -> Length {
    document.stock.thickness().unwrap_or(Stock::USUAL_CALIPER)
}

fn surface(document: &Document, kind: &Page) -> Holds {
    let span = |inner| Span::new(inner, Ends::Open);
    let room = Room { across: span(kind.width), down: span(kind.height), depth: Depth::Surface };
    Holds::Surface { room, cards: room.cards(usual_caliper(document)) }
}

fn inside(document: &Document, layout: &Layout, part: &PartLayout, own: &Part, kind: &Pocket) -> Option<Inside> {
    let ground = Ground::of(document, layout, part)?;
    let (low, high) = layout.panel(part.main).bounds();
    let mut taken = glue_of_front(part, own, kind);
    taken.extend(hinges_under(document, layout, part, &ground, (low, high))?);
    let edges = taken.iter().flat_map(|(edges, _)| edges.iter());
    let closed = edges.fold(Edges::NONE, |all, edge| all.with(edge, true));
    if closed == Edges::NONE {
        return None;
    }
    let taken = |edge: SheetEdge| {
        let widths = taken.iter().filter(|(edges, _)| edges.has(edge)).map(|(_, width)| *width);
        widths.max().unwrap_or_default()
    };
    let low = Point::new(low.x + taken(SheetEdge::Left), low.y + taken(SheetEdge::Top));
    let high = Point::new(high.x - taken(SheetEdge::Right), high.y - taken(SheetEdge::Bottom));
    let depth = if kind.gusset > Length::ZERO {
        let paper = own.stock(document).and_then(Stock::thickness).unwrap_or(Stock::USUAL_CALIPER);
        Depth::Upright((kind.gusset - paper).max(Length::ZERO))
    } else {
        Depth::Bowing
    };
    let room = Room {
        across: Span::new(high.x - low.x, ends(closed, [SheetEdge::Left, SheetEdge::Right])),
        down: Span::new(high.y - low.y, ends(closed, [SheetEdge::Top, SheetEdge::Bottom])),
        depth,
    };
    let mouths: Vec<SheetEdge> = closed.others().map(|edge| ground.edge(edge).unwrap_or(edge)).collect();
    let is_open = !mouths.is_empty() && room.largest().is_some();
    let cards = if is_open { room.cards(usual_caliper(document)) } else { Vec::new() };
    Some(Inside { space: (low, high), closed, mouths, room, cards })
}

/// What the hinges that carry a pocket take up under its front, each at the edge nearest to it; `None` where that can't be
/// said.
fn hinges_under(
    document: &Document,
    layout: &Layout,
    part: &PartLayout,
    ground: &Ground,
    (low, high): (Point, Point),
) -> Option<Vec<(Edges, Length)>> {
    let glued = part.laid.iter().map(|laid| laid.on).chain(part.glue.iter().map(|glue| glue.panels[1]));
    let mut carriers: Vec<_> = glued.filter_map(|panel| hinge(document, layout, panel)).collect();
    carriers.sort_by_key(|(hinge, _)| hinge.id);
    carriers.dedup_by_key(|(hinge, _)| hinge.id);
    let taken = carriers.into_iter().map(|(hinge, kind)| {
        let (is_upright, (from, to)) = covered(ground, hinge, kind)?;
        let nearer = |a: Length, b: Length, first: SheetEdge, second: SheetEdge| {
            let (edge, width) = if a <= b { (first, a) } else { (second, b) };
            (Edges::of(&[edge]), width.max(Length::ZERO))
        };
        Some(if is_upright {
            nearer(to.x - low.x, high.x - from.x, SheetEdge::Left, SheetEdge::Right)
        } else {
            nearer(to.y - low.y, high.y - from.y, SheetEdge::Top, SheetEdge::Bottom)
        })
    });
    taken.collect()
}

/// What closes the front of a pocket from within: along which edges, and how far in it reaches.
fn glue_of_front(part: &PartLayout, own: &Part, kind: &Pocket) -> Vec<(Edges, Length)> {
    let within = own.place.showing.other();
    let (width, height) = front_extent(part);
    let own_glue = (kind.glued, if kind.gusset > Length::ZERO { kind.gusset } else { kind.strip });
    let further = own.also.iter().filter(|gluing| {
        gluing.face == within && part.panels.get(gluing.panel).is_some_and(|panel| panel.id == part.main)
    });
    let further = further.filter_map(|gluing| match gluing.area {
        GlueArea::Strips(edges, strip) => Some((edges, strip)),
        GlueArea::Whole => Some((Edges::of(&SheetEdge::ALL), width.max(height))),
        GlueArea::None => None,
    });
    std::iter::once(own_glue).chain(further).collect()
}

fn front_extent(part: &PartLayout) -> (Length, Length) {
    let main = part.panels.iter().find(|panel| panel.id == part.main);
    main.map(model::Panel::extent).unwrap_or_default()
}

fn ends(closed: Edges, edges: [SheetEdge; 2]) -> Ends {
    match edges.map(|edge| closed.has(edge)) {
        [true, true] => Ends::Both,
        [false, false] => Ends::Open,
        _ => Ends::One,
    }
}
