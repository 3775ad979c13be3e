//! Faults of glue: where it comes too near, where it is too narrow, and what it holds that should move.

use super::part::{Bed, LAYERS, THREE, mat, put};
use super::{Kind, Place, Planted, flaps, one};
use crate::closed::Rectangle;
use crate::dice::Dice;
use crate::unfold::Folio;
use model::part::{Edges, GlueArea, Gluing, Hinge, Insert, Tab};
use model::{Face, Length, PanelRef, PartId, PartKind, Point, SheetEdge};

/// What lies over something else on one panel also lies over its own glue.
const OVER_ANOTHER: &[&str] = &["making-circle", "no-layer-order", "glue-beyond-edge", "thin-gusset"];

pub(super) const KINDS: &[Kind] = &[
    Kind { name: "glue right at a fold", rule: "glue-near-fold", also: &[], plant: near_fold },
    Kind { name: "a card glued in its pocket", rule: "glued-fast", also: LAYERS, plant: glued_fast },
    Kind {
        name: "a mat glued over what a hinge carries",
        rule: "hinge-blocked",
        also: OVER_ANOTHER,
        plant: hinge_blocked,
    },
    Kind { name: "a mat glued to its hinge and beside it", rule: "locked-fold", also: OVER_ANOTHER, plant: locked },
    Kind { name: "a narrow line of glue", rule: "weak-glue", also: LAYERS, plant: weak },
];

/// On the back of the base, where the fold opens.
fn near_fold(folio: &Folio, dice: &mut Dice) -> Option<Planted> {
    let mut bed = Bed::of(folio, dice);
    let flap = one(dice, &flaps(&bed.folio.closed))?;
    let edge = bed.folio.closed.leaves[flap].hangs?.edge;
    let hair = Length::from_nm(300_000);
    let at = bed.base.edge(edge);
    let at = if matches!(edge, SheetEdge::Right | SheetEdge::Bottom) { at - hair } else { at + hair };
    let at = Rectangle::inwards(edge, at, bed.base.inset(bed.unit * 2).span(edge), bed.unit * 4);
    let id = bed.put(mat(at), 0, false, at);
    let line = bed.folio.creases[flap][0];
    bed.planted(vec![Place::Part(id), Place::Line(line)])
}

fn glued_fast(folio: &Folio, dice: &mut Dice) -> Option<Planted> {
    let mut bed = Bed::of(folio, dice);
    let (_, at) = bed.pocket(&THREE);
    let card = at.inset(bed.unit * 2);
    let id =
        bed.put(PartKind::Insert(Insert { width: card.width(), height: card.height(), caliper: None }), 0, true, card);
    glued(&mut bed, id, GlueArea::Whole)?;
    bed.planted(vec![Place::Part(id)])
}

/// Glues a part to the base as well.
fn glued(bed: &mut Bed, id: PartId, area: GlueArea) -> Option<()> {
    let to = PanelRef::Sheet(bed.base.middle());
    let part = bed.folio.document.parts.iter_mut().find(|part| part.id == id)?;
    part.also.push(Gluing { panel: 0, face: Face::Back, to, area });
    Some(())
}

/// A mat that hangs on a hinge at its right: the hinge, the mat, and where the mat lies.
fn hinged(bed: &mut Bed) -> (PartId, PartId, Rectangle) {
    let leaf = bed.unit * 2;
    let at = bed.base.inset(bed.unit * 3);
    let at = Rectangle { high: Point::new(at.low.x + at.width() / 2, at.high.y), ..at };
    let glued = Rectangle::new(at.high.x - leaf, at.low.y + bed.unit, at.high.x, at.high.y - bed.unit);
    let kind = PartKind::Hinge(Hinge { length: glued.height(), leaf, free_leaf: leaf });
    let hinge = bed.put(kind, 0, true, glued);
    // The free leaf begins one leaf to the right on the hinge's own sheet, and lies mirrored.
    let corner = (Point::new(leaf, Length::ZERO), Point::new(leaf, -bed.unit));
    let id = put(&mut bed.folio.document, mat(at), PanelRef::Part(hinge, 1), Face::Back, corner);
    (hinge, id, at)
}

fn hinge_blocked(folio: &Folio, dice: &mut Dice) -> Option<Planted> {
    let mut bed = Bed::of(folio, dice);
    let (hinge, _, at) = hinged(&mut bed);
    // Over its left edge.
    let over =
        Rectangle::new(at.low.x - bed.unit, at.low.y + bed.unit * 2, at.low.x + bed.unit * 3, at.high.y - bed.unit * 2);
    let id = bed.put(mat(over), 0, true, over);
    bed.planted(vec![Place::Part(hinge), Place::Says(format!("\"Mat {}\" lies", id.0))])
}

fn locked(folio: &Folio, dice: &mut Dice) -> Option<Planted> {
    let mut bed = Bed::of(folio, dice);
    let (hinge, id, _) = hinged(&mut bed);
    let area = GlueArea::Strips(Edges::of(&[SheetEdge::Left]), bed.unit);
    glued(&mut bed, id, area)?;
    let says = format!("\"Hinge {}'s fold\" can't open", hinge.0);
    bed.planted(vec![Place::Says(says)])
}

fn weak(folio: &Folio, dice: &mut Dice) -> Option<Planted> {
    let mut bed = Bed::of(folio, dice);
    let at = bed.base.inset(bed.unit * 3);
    let glued = dice.pick(&SheetEdge::ALL);
    let kind = Tab { width: at.width(), height: at.height(), glued, strip: bed.unit / 2 };
    let id = bed.put(PartKind::Tab(kind), 0, true, at);
    let says = format!("The glue of \"Tab {}\" is {} wide", id.0, (bed.unit / 2).readable(folio.closed.units));
    bed.planted(vec![Place::Part(id), Place::Says(says)])
}
