//! What lies over what: parts on the same face of the same panel, and what that says of their order.

use crate::legs::Legs;
use crate::lying::{Lain, Lying, Root, Spot};
use crate::plane::{Polygon, overlap};
use crate::why::{Constraint, Why};
use model::PartId;
use model::part::{ClosureKind, Job, PartKind};
use std::collections::BTreeMap;

/// A part with its polygons on the sheet of the panel under it.
struct Shape<'a> {
    lying: &'a Lying<'a>,
    whole: Vec<Polygon>,
    firm: Vec<Polygon>,
    glue: Vec<Polygon>,
}

/// All constraints that follow from what lies over what.
pub(crate) fn constraints(lain: &Lain<'_>, legs: &[Legs]) -> Vec<Constraint> {
    let mut on: BTreeMap<Spot, Vec<Shape<'_>>> = BTreeMap::new();
    for lying in &lain.all {
        let [whole, firm, glue] = [&lying.whole, &lying.firm, &lying.glue].map(|area| lying.on_host(area));
        on.entry(lying.on).or_default().push(Shape { lying, whole, firm, glue });
    }
    let mut all = Vec::new();
    for shapes in on.values() {
        for a in shapes {
            all.extend(shapes.iter().filter(|b| b.id() != a.id()).filter_map(|b| before(a, b)));
        }
    }
    for legs in legs {
        let over = on.get(&legs.on).into_iter().flatten().filter(|shape| shape.id() != legs.brad);
        let over = over.filter(|shape| !is_brad(shape.lying) && overlap(&shape.whole, &legs.area));
        all.extend(over.map(|shape| constraint(legs.brad, shape.id(), Why::OverLegs)));
    }
    let roots = lain.roots();
    for lying in lain.all.iter().filter(|lying| lying.glued_to().len() > 1) {
        let Some(root) = roots.get(&lying.part.id) else { continue };
        let under = on.get(&root.on).into_iter().flatten().filter(|shape| shape.id() != lying.part.id);
        all.extend(under.filter_map(|shape| behind_held(shape, lying, root)));
    }
    all
}

/// Why `a` must come before `b`, which lies on the same face, where it must.
fn before(a: &Shape<'_>, b: &Shape<'_>) -> Option<Constraint> {
    let why = match (a.lying.is_closure(), b.lying.is_closure()) {
        (true, false) => overlap(&a.whole, &b.whole).then_some(Why::Behind),
        (true, true) => {
            let brad_first = is_brad(a.lying) && !is_brad(b.lying);
            (brad_first && overlap(&a.whole, &b.whole)).then_some(Why::OverLegs)
        }
        (false, true) => None,
        (false, false) => match (a.lying.is_loose(), b.lying.is_loose()) {
            (true, true) => None,
            (true, false) => (!b.lying.has_mouth() && overlap(&a.whole, &b.firm)).then_some(Why::ClosedIn),
            (false, true) => (a.lying.has_mouth() && overlap(&b.whole, &a.firm)).then_some(Why::GoesIn),
            (false, false) => overlap(&a.glue, &b.firm).then_some(Why::OverItsGlue),
        },
    };
    why.map(|why| constraint(a.id(), b.id(), why))
}

/// What lies behind a part that is glued to several things, such as a pocket on two hinges, and so can't be lifted.
fn behind_held(shape: &Shape<'_>, held: &Lying<'_>, root: &Root) -> Option<Constraint> {
    let over = |polygons: &[Polygon], area: &[Polygon]| overlap(&root.motion.all(polygons), area);
    let why = if shape.lying.is_closure() {
        over(&held.whole, &shape.whole).then_some(Why::Behind)
    } else {
        (!shape.lying.is_loose() && over(&held.firm, &shape.glue)).then_some(Why::OverItsGlue)
    };
    why.map(|why| constraint(shape.id(), held.part.id, why))
}

impl Shape<'_> {
    const fn id(&self) -> PartId {
        self.lying.part.id
    }
}

const fn is_brad(lying: &Lying<'_>) -> bool {
    matches!(&lying.part.kind, PartKind::Closure(closure) if matches!(closure.kind, ClosureKind::Brad))
}

const fn constraint(first: PartId, then: PartId, why: Why) -> Constraint {
    Constraint::new(Job::Put(first), Job::Put(then), why)
}
