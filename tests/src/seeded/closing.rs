//! Faults of closing with something in the folio: of steps, of what holds it shut, and of room for flaps.

use super::part::{Bed, LAYERS, closure, mat};
use super::{Kind, Place, Planted, flaps, one, plain_flaps};
use crate::closed::Rectangle;
use crate::dice::Dice;
use crate::unfold::Folio;
use model::part::{ClosureKind, Insert, Job};
use model::{Length, PartKind, Point, SheetEdge, Step};

pub(super) const KINDS: &[Kind] = &[
    Kind { name: "a flap folded twice", rule: "empty-step", also: &[], plant: empty_step },
    Kind { name: "a ribbon under another flap", rule: "closure-under", also: LAYERS, plant: closure_under },
    Kind {
        name: "something thick under a flat flap",
        rule: "too-thick",
        also: &["misfit-insert", "strikes", "thin-gusset"],
        plant: too_thick,
    },
    Kind { name: "a mat right beside a flap", rule: "no-hairline", also: LAYERS, plant: no_hairline },
    Kind { name: "a brad set after its back is covered", rule: "making-order", also: LAYERS, plant: making_order },
];

fn empty_step(folio: &Folio, _: &mut Dice) -> Option<Planted> {
    let mut document = folio.document.clone();
    let first = document.steps.first()?.lines.clone();
    document.steps.push(Step::of(first));
    let says = format!("Step {} folds nothing", document.steps.len());
    let step = document.steps.len() - 1;
    Some(Planted { document, at: vec![Place::Step(step), Place::Says(says)] })
}

fn closure_under(folio: &Folio, dice: &mut Dice) -> Option<Planted> {
    let mut bed = Bed::of(folio, dice);
    let closed = &bed.folio.closed;
    let all = plain_flaps(closed);
    let pairs = all.iter().enumerate().flat_map(|(i, &a)| all[i + 1..].iter().map(move |&b| (a, b)));
    let room = |(under, over): (usize, usize)| {
        let both = closed.leaves[under].at.shared(&closed.leaves[over].at)?;
        let least = bed.unit * 3;
        // In planes of their own it is not told.
        let in_one_plane = closed.height(under) == closed.height(over);
        (in_one_plane && both.width() > least && both.height() > least).then_some((under, over, both.middle()))
    };
    let (under, over, Point { x, y }) = one(dice, &pairs.filter_map(room).collect::<Vec<_>>())?;
    // Something else may keep the upper one down.
    if closed.tuck.is_some() || closed.steps.last().is_none_or(|step| !step.contains(&over)) {
        return None;
    }
    let half = bed.unit / 2;
    let at = bed.folio.on_sheet(under, Rectangle::new(x - half, y - half, x + half, y + half));
    let id = bed.put(closure(ClosureKind::Ribbon, half * 2), under, true, at);
    let mark = bed.folio.flat[over].middle();
    bed.planted(vec![Place::Part(id), Place::Panel(mark)])
}

/// In the middle of where a flap lies.
fn too_thick(folio: &Folio, dice: &mut Dice) -> Option<Planted> {
    let mut bed = Bed::of(folio, dice);
    let closed = &bed.folio.closed;
    let is_flat = |leaf: &usize| closed.height(*leaf) == Length::ZERO;
    let flap = one(dice, &flaps(closed).into_iter().filter(is_flat).collect::<Vec<_>>())?;
    let middle = closed.leaves[flap].at.middle();
    let half = bed.unit;
    let low = Point::new(bed.base.low.x + middle.x - half, bed.base.low.y + middle.y - half);
    let insert = Insert { width: half * 2, height: half * 2, caliper: Some(Length::MILLIMETRE * 4) };
    bed.put(PartKind::Insert(insert), 0, true, Rectangle { low, high: low });
    let (line, mark) = (bed.folio.creases[flap][0], bed.folio.flat[flap].middle());
    bed.planted(vec![Place::Line(line), Place::Panel(mark)])
}

/// On the base, just beyond where the first flap ends.
fn no_hairline(folio: &Folio, dice: &mut Dice) -> Option<Planted> {
    let mut bed = Bed::of(folio, dice);
    let closed = &bed.folio.closed;
    let &flap = flaps(closed).first().filter(|flap| plain_flaps(closed).contains(flap))?;
    let edge = closed.leaves[flap].hangs?.edge;
    let (at, deep) = (closed.leaves[flap].at, bed.unit * 3);
    if closed.height(flap) > Length::ZERO || at.reach(edge) + deep + bed.unit > closed.base().reach(edge) {
        return None;
    }
    let hair = Length::from_nm(500_000);
    let far = at.edge(edge.opposite());
    let towards = if matches!(edge, SheetEdge::Right | SheetEdge::Bottom) { far - hair } else { far + hair };
    let (from, to) = at.span(edge);
    let span = (from + (to - from) / 4, to - (to - from) / 4);
    let at = bed.folio.on_sheet(0, Rectangle::inwards(edge, towards, span, deep));
    let id = bed.put(mat(at), 0, true, at);
    let mark = bed.folio.flat[flap].middle();
    bed.planted(vec![Place::Part(id), Place::Panel(mark)])
}

fn making_order(folio: &Folio, dice: &mut Dice) -> Option<Planted> {
    let mut bed = Bed::of(folio, dice);
    let at = bed.base.inset(bed.unit * 2);
    let low = Point::new(at.low.x + bed.unit * 2, at.low.y + bed.unit * 2);
    let brad = bed.put(closure(ClosureKind::Brad, bed.unit), 0, true, Rectangle { low, high: low });
    let id = bed.put(mat(at), 0, false, at);
    bed.folio.document.making = vec![Job::Put(id), Job::Put(brad)];
    bed.planted(vec![Place::Says(format!("Mat {}", id.0)), Place::Says(format!("Brad {}", brad.0))])
}
