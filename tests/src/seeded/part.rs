//! Faults of parts: of what lies where, what is glued to what, and what holds what.

use super::{Kind, Place, Planted, bare, flaps, one, plain_flaps};
use crate::closed::{Host, Rectangle};
use crate::dice::Dice;
use crate::stacking::lies_clear;
use crate::unfold::Folio;
use model::part::{
    Anchor, AnchorFrom, Closure, ClosureKind, Edges, GlueArea, Gluing, Hinge, Insert, Mat, Page, Placement, Pocket,
    Rotation, Source, Tab,
};
use model::{Document, Face, Length, PanelRef, Part, PartId, PartKind, Point, SheetEdge};

/// What lies over a fold keeps it from folding, and sticks out beside it; and what is put on has to find room in gussets.
const OVER: &[&str] = &["blocked", "strikes", "no-layer-order", "sticks-out", "thin-gusset"];

/// What is put on has to find room in gussets.
pub(super) const LAYERS: &[&str] = &["thin-gusset"];

pub(super) const KINDS: &[Kind] = &[
    Kind { name: "a mat on no panel", rule: "misplaced-part", also: &[], plant: misplaced },
    Kind { name: "a pocket without glue", rule: "unheld-part", also: LAYERS, plant: unheld },
    Kind { name: "a mat glued over a fold", rule: "glue-over-fold", also: OVER, plant: glue_over_fold },
    Kind { name: "a tab that reaches over a fold", rule: "part-over-fold", also: OVER, plant: part_over_fold },
    Kind { name: "a mat beyond the edge of a flap", rule: "glue-beyond-edge", also: LAYERS, plant: glue_beyond_edge },
    Kind {
        name: "a card too wide for its pocket",
        rule: "misfit-insert",
        also: &["no-layer-order", "thin-gusset"],
        plant: misfit,
    },
    Kind { name: "a pocket glued all round", rule: "closed-mouth", also: LAYERS, plant: closed_mouth },
    Kind { name: "a pocket open at the bottom", rule: "mouth-down", also: LAYERS, plant: mouth_down },
    Kind { name: "a brad through a pocket", rule: "brad-in-pocket", also: LAYERS, plant: brad_in_pocket },
    Kind { name: "a hinge longer than its mat", rule: "hinge-shows", also: LAYERS, plant: hinge_shows },
    Kind {
        name: "two hinges askew",
        rule: "hinges-not-parallel",
        also: &["glue-beyond-edge", "thin-gusset"],
        plant: askew,
    },
    Kind { name: "one magnet of a pair", rule: "no-partner", also: LAYERS, plant: no_partner },
    Kind { name: "nothing to hold it shut", rule: "nothing-shuts-it", also: LAYERS, plant: nothing_shuts },
    Kind {
        name: "two mats half over one another",
        rule: "making-circle",
        also: &["no-layer-order", "thin-gusset"],
        plant: circle,
    },
    Kind {
        name: "a mat put on after the page over it",
        rule: "no-layer-order",
        also: &["making-circle", "thin-gusset"],
        plant: no_order,
    },
    Kind { name: "a brad", rule: "small-parts", also: LAYERS, plant: brad },
];

/// A design to put parts on, with nothing on it yet.
pub(super) struct Bed {
    pub(super) folio: Folio,
    /// The base on its sheet.
    pub(super) base: Rectangle,
    /// 1/4 in or 6 mm.
    pub(super) unit: Length,
}

impl Bed {
    pub(super) fn of(folio: &Folio, dice: &mut Dice) -> Self {
        let folio = bare(folio, dice);
        let (base, unit) = (folio.flat[0], unit(&folio));
        Self { folio, base, unit }
    }

    /// Puts a part on a leaf, on the face that looks up in the closed folio or on the other, at a place of the sheet.
    pub(super) fn put(&mut self, kind: PartKind, leaf: usize, upper: bool, at: Rectangle) -> PartId {
        let is_front = upper == self.folio.closed.is_front_up(leaf);
        let face = if is_front { Face::Front } else { Face::Back };
        let border = self.folio.flat[leaf];
        put(&mut self.folio.document, kind, PanelRef::Sheet(border.middle()), face, (border.low, at.low))
    }

    /// A pocket in the middle of the base, glued so.
    pub(super) fn pocket(&mut self, glued: &[SheetEdge]) -> (PartId, Rectangle) {
        let at = self.base.inset(self.unit * 3);
        let (strip, none, glued) =
            (if glued.is_empty() { Length::ZERO } else { self.unit }, Length::ZERO, Edges::of(glued));
        let kind = Pocket { width: at.width(), height: at.height(), glued, strip, rim: none, gusset: none };
        (self.put(PartKind::Pocket(kind), 0, true, at), at)
    }

    pub(super) fn planted(self, at: Vec<Place>) -> Option<Planted> {
        Some(Planted { document: self.folio.document, at })
    }
}

fn unit(folio: &Folio) -> Length {
    model::part::usual::measure::GLUE_STRIP.of(folio.closed.units)
}

/// Puts a part on a panel whose upper left corner lies at `corner.0`, with its own at `corner.1`.
pub(super) fn put(document: &mut Document, kind: PartKind, on: PanelRef, face: Face, corner: (Point, Point)) -> PartId {
    let id = document.next_part();
    let anchor = |distance| Anchor { from: AnchorFrom::Start, distance };
    let (across, down) = (anchor(corner.1.x - corner.0.x), anchor(corner.1.y - corner.0.y));
    let place = Placement { on, face, across, down, rotation: Rotation::NONE, showing: Face::Front };
    let source = if matches!(kind, PartKind::Closure(_)) { Source::Bought } else { Source::FolioStock };
    document.parts.push(Part { id, name: String::new(), kind, source, place, also: Vec::new() });
    id
}

pub(super) fn mat(at: Rectangle) -> PartKind {
    PartKind::Mat(Mat { width: at.width(), height: at.height() })
}

pub(super) const THREE: [SheetEdge; 3] = [SheetEdge::Left, SheetEdge::Bottom, SheetEdge::Right];

fn misplaced(folio: &Folio, dice: &mut Dice) -> Option<Planted> {
    let mut bed = Bed::of(folio, dice);
    let size = bed.folio.document.stock.size;
    // Below the sheet.
    let nowhere = Point::new(size.width().half(), size.height() + Length::INCH);
    let kind = mat(bed.base.inset(bed.unit * 2));
    let id = put(&mut bed.folio.document, kind, PanelRef::Sheet(nowhere), Face::Front, (nowhere, nowhere));
    let says = format!("\"Mat {}\" lies on no panel of the folio", id.0);
    bed.planted(vec![Place::Spot(nowhere), Place::Says(says)])
}

fn unheld(folio: &Folio, dice: &mut Dice) -> Option<Planted> {
    let mut bed = Bed::of(folio, dice);
    let (id, _) = bed.pocket(&[]);
    bed.planted(vec![Place::Part(id)])
}

/// A fold of the base with the flap that closes over it there, and a rectangle in the middle of that edge which reaches so
/// far beyond it.
fn over_edge(bed: &Bed, dice: &mut Dice) -> Option<(usize, SheetEdge, Rectangle, Length)> {
    let closed = &bed.folio.closed;
    let flap = one(dice, &flaps(closed))?;
    let edge = closed.leaves[flap].hangs?.edge;
    let by = bed.unit / 3;
    let (from, to) = closed.leaves[flap].at.span(edge);
    let long = (to - from) / 2;
    let low = if crate::closed::is_upright(edge) { bed.base.low.y } else { bed.base.low.x };
    let middle = low + from + (to - from).half();
    let span = (middle - long.half(), middle + long.half());
    let deep = bed.unit * 4;
    let outwards = if matches!(edge, SheetEdge::Right | SheetEdge::Bottom) { by } else { -by };
    Some((flap, edge, Rectangle::inwards(edge, bed.base.edge(edge) + outwards, span, deep + by), by))
}

fn glue_over_fold(folio: &Folio, dice: &mut Dice) -> Option<Planted> {
    let mut bed = Bed::of(folio, dice);
    let (flap, _, at, by) = over_edge(&bed, dice)?;
    let id = bed.put(mat(at), 0, true, at);
    let line = bed.folio.creases[flap][0];
    let says = format!("reaches {} over", by.readable(bed.folio.closed.units));
    bed.planted(vec![Place::Part(id), Place::Line(line), Place::Says(says)])
}

fn part_over_fold(folio: &Folio, dice: &mut Dice) -> Option<Planted> {
    let mut bed = Bed::of(folio, dice);
    let (flap, edge, at, by) = over_edge(&bed, dice)?;
    let kind = Tab { width: at.width(), height: at.height(), glued: edge.opposite(), strip: bed.unit };
    let id = bed.put(PartKind::Tab(kind), 0, true, at);
    let line = bed.folio.creases[flap][0];
    let says = format!("reaches {} over", by.readable(bed.folio.closed.units));
    bed.planted(vec![Place::Part(id), Place::Line(line), Place::Says(says)])
}

fn glue_beyond_edge(folio: &Folio, dice: &mut Dice) -> Option<Planted> {
    let mut bed = Bed::of(folio, dice);
    let closed = &bed.folio.closed;
    let by = bed.unit / 2;
    let is_short = |leaf: &usize| {
        let crate::closed::Leaf { at, hangs, clip } = closed.leaves[*leaf];
        let edge = hangs.map_or(SheetEdge::Top, |hang| hang.edge);
        clip == Length::ZERO
            && at.reach(edge) + by < closed.base().reach(edge)
            && at.width() > bed.unit * 5
            && at.height() > bed.unit * 5
    };
    let able: Vec<usize> = plain_flaps(closed).into_iter().filter(is_short).collect();
    let flap = one(dice, &able)?;
    // Its far edge lies farthest out on the sheet too.
    let edge = closed.leaves[flap].hangs?.edge;
    let own = bed.folio.flat[flap].inset(bed.unit);
    let outwards = if matches!(edge, SheetEdge::Right | SheetEdge::Bottom) { by } else { -by };
    let far = bed.folio.flat[flap].edge(edge) + outwards;
    let at = Rectangle::inwards(edge, far, own.span(edge), own.reach(edge));
    let id = bed.put(mat(at), flap, true, at);
    let says = format!("reaches {} beyond the edge", by.readable(bed.folio.closed.units));
    let mark = bed.folio.flat[flap].middle();
    bed.planted(vec![Place::Part(id), Place::Panel(mark), Place::Says(says)])
}

fn misfit(folio: &Folio, dice: &mut Dice) -> Option<Planted> {
    let mut bed = Bed::of(folio, dice);
    let (pocket, at) = bed.pocket(&THREE);
    // As wide as the pocket, less nothing for its glue.
    let card = Rectangle::new(
        at.low.x + bed.unit / 2,
        at.low.y + bed.unit * 2,
        at.high.x - bed.unit / 2,
        at.high.y - bed.unit * 2,
    );
    let kind = PartKind::Insert(Insert { width: card.width(), height: card.height(), caliper: None });
    let id = bed.put(kind, 0, true, card);
    // Half a strip on either side.
    let says = format!(
        "\"Insert {}\" is {} too wide for \"Pocket {}\"",
        id.0,
        bed.unit.readable(folio.closed.units),
        pocket.0
    );
    bed.planted(vec![Place::Part(id), Place::Says(says)])
}

fn closed_mouth(folio: &Folio, dice: &mut Dice) -> Option<Planted> {
    let mut bed = Bed::of(folio, dice);
    let (id, _) = bed.pocket(&SheetEdge::ALL);
    bed.planted(vec![Place::Part(id)])
}

fn mouth_down(folio: &Folio, dice: &mut Dice) -> Option<Planted> {
    let mut bed = Bed::of(folio, dice);
    let (id, _) = bed.pocket(&[SheetEdge::Left, SheetEdge::Top, SheetEdge::Right]);
    bed.planted(vec![Place::Part(id)])
}

pub(super) fn closure(kind: ClosureKind, size: Length) -> PartKind {
    PartKind::Closure(Closure { kind, width: size, height: size, thickness: Length::MILLIMETRE })
}

fn brad_in_pocket(folio: &Folio, dice: &mut Dice) -> Option<Planted> {
    let mut bed = Bed::of(folio, dice);
    let (pocket, at) = bed.pocket(&THREE);
    let low = Point::new(bed.unit * 3, at.height() / 3);
    let kind = closure(ClosureKind::Brad, bed.unit);
    let on = PanelRef::Part(pocket, 0);
    let id = put(&mut bed.folio.document, kind, on, Face::Front, (Point::default(), low));
    bed.planted(vec![Place::Part(id), Place::Part(pocket)])
}

/// A hinge in the middle of the base, and a mat on it that is so much shorter at either end.
fn hinge_shows(folio: &Folio, dice: &mut Dice) -> Option<Planted> {
    let mut bed = Bed::of(folio, dice);
    let (leaf, by) = (bed.unit * 2, bed.unit / 3 * 2);
    let room = bed.base.inset(bed.unit * 4);
    let at = Rectangle::new(room.low.x, room.low.y, room.low.x + leaf, room.high.y);
    let kind = PartKind::Hinge(Hinge { length: at.height(), leaf, free_leaf: leaf });
    let hinge = bed.put(kind, 0, true, at);
    let size = Rectangle::new(Length::ZERO, Length::ZERO, leaf * 2, at.height() - by * 2);
    // The free leaf begins one leaf to the right on the hinge's own sheet.
    let corner = (Point::new(leaf, Length::ZERO), Point::new(leaf, by));
    let id = put(&mut bed.folio.document, mat(size), PanelRef::Part(hinge, 1), Face::Back, corner);
    let says = format!("reaches {} out from under", by.readable(folio.closed.units));
    bed.planted(vec![Place::Part(hinge), Place::Part(id), Place::Says(says)])
}

/// A mat on two hinges, one of them turned by a quarter.
fn askew(folio: &Folio, dice: &mut Dice) -> Option<Planted> {
    let mut bed = Bed::of(folio, dice);
    let (leaf, long) = (bed.unit * 2, bed.unit * 4);
    let room = bed.base.inset(bed.unit * 2);
    let kind = || PartKind::Hinge(Hinge { length: long, leaf, free_leaf: leaf });
    let at = Rectangle::new(room.low.x, room.low.y + long, room.low.x + leaf, room.low.y + long * 2);
    let first = bed.put(kind(), 0, true, at);
    // Turned a quarter it lies along, with its fold below; glued leaf above it.
    let low = Point::new(room.low.x + leaf + bed.unit, room.low.y + long * 2 - leaf - bed.unit);
    let second = bed.put(kind(), 0, true, Rectangle { low, high: low });
    let turned = bed.folio.document.parts.iter_mut().find(|part| part.id == second)?;
    turned.place.rotation = Rotation::QUARTER;
    let size = Rectangle::new(Length::ZERO, Length::ZERO, leaf + bed.unit + long, long - bed.unit);
    // Over both: on the first hinge's free leaf it lies mirrored, so its right edge there is its left.
    let corner = (Point::new(leaf, Length::ZERO), Point::new(leaf * 2 - size.width(), Length::ZERO));
    let on = PanelRef::Part(first, 1);
    let id = put(&mut bed.folio.document, mat(size), on, Face::Back, corner);
    let carried = bed.folio.document.parts.iter_mut().find(|part| part.id == id)?;
    let area = GlueArea::Strips(Edges::of(&[SheetEdge::Bottom]), bed.unit);
    carried.also.push(Gluing { panel: 0, face: Face::Back, to: PanelRef::Part(second, 1), area });
    bed.planted(vec![
        Place::Part(first),
        Place::Part(second),
        Place::Part(id),
        Place::Says("at 90° to one another".to_owned()),
    ])
}

fn no_partner(folio: &Folio, dice: &mut Dice) -> Option<Planted> {
    let is_magnet =
        |part: &&Part| matches!(part.kind, PartKind::Closure(closure) if closure.kind == ClosureKind::Magnet);
    let mut document = folio.document.clone();
    let magnets: Vec<PartId> = document.parts.iter().filter(is_magnet).map(|part| part.id).collect();
    if let Some(gone) = one(dice, &magnets) {
        document.parts.retain(|part| part.id != gone);
        let left = magnets.into_iter().find(|&id| id != gone)?;
        return Some(Planted { document, at: vec![Place::Part(left)] });
    }
    let mut bed = Bed::of(folio, dice);
    let (low, high) = (bed.unit * 2, bed.unit * 3);
    if !lies_clear(&bed.folio.closed, Rectangle::new(low, low, high, high)) {
        return None;
    }
    let low = Point::new(bed.base.low.x + low, bed.base.low.y + low);
    let id = bed.put(closure(ClosureKind::Magnet, bed.unit), 0, true, Rectangle { low, high: low });
    bed.planted(vec![Place::Part(id), Place::Says("meets no other magnet".to_owned())])
}

fn nothing_shuts(folio: &Folio, dice: &mut Dice) -> Option<Planted> {
    let mut bed = Bed::of(folio, dice);
    if bed.folio.closed.tuck.is_some() {
        return None;
    }
    let at = bed.base.inset(bed.unit * 2);
    bed.put(mat(at), 0, true, at);
    let step = bed.folio.closed.steps.len() - 1;
    let last = bed.folio.closed.steps[step]
        .iter()
        .map(|&leaf| Place::Panel(bed.folio.flat[leaf].middle()))
        .collect::<Vec<_>>();
    bed.planted(last.into_iter().chain([Place::Step(step)]).collect())
}

fn circle(folio: &Folio, dice: &mut Dice) -> Option<Planted> {
    let mut bed = Bed::of(folio, dice);
    let room = bed.base.inset(bed.unit * 2);
    let by = bed.unit * 2;
    let first = Rectangle { low: room.low, high: Point::new(room.high.x - by, room.high.y - by) };
    let second = Rectangle { low: Point::new(room.low.x + by, room.low.y + by), high: room.high };
    let two = [first, second].map(|at| bed.put(mat(at), 0, true, at));
    bed.planted(two.map(Place::Part).to_vec())
}

fn no_order(folio: &Folio, dice: &mut Dice) -> Option<Planted> {
    let mut bed = Bed::of(folio, dice);
    let at = bed.base.inset(bed.unit * 2);
    let hinged = dice.pick(&SheetEdge::ALL);
    let kind = Page { width: at.width(), height: at.height(), hinged, strip: bed.unit * 2 };
    let page = bed.put(PartKind::Page(kind), 0, true, at);
    let under = at.inset(bed.unit * 3);
    let under = bed.put(mat(under), 0, true, under);
    bed.planted(vec![Place::Part(page), Place::Part(under)])
}

fn brad(folio: &Folio, dice: &mut Dice) -> Option<Planted> {
    let is_closure = |part: &&crate::closed::Stuck| matches!(part.kind, PartKind::Closure(_));
    if folio.closed.stuck.iter().any(|part| is_closure(&part) || part.on == Host::Leaf(0)) {
        return None;
    }
    let mut bed = Bed::of(folio, dice);
    let low = Point::new(bed.base.low.x + bed.unit * 2, bed.base.low.y + bed.unit * 2);
    let id = bed.put(closure(ClosureKind::Brad, bed.unit), 0, false, Rectangle { low, high: low });
    bed.planted(vec![Place::Part(id), Place::Says("brads".to_owned())])
}
