//! What strikes what while a step folds.
//!
//! Two groups of panels of which one turns about a hinge on the other are tested exactly (see [`crate::contact`]).
//! Groups whose motion to one another is made of several turns, as that of a gusset's flap to the base, are looked at in
//! moments so close that no part moves more than [`STRIDE`] between two of them; what passes through deeper than
//! that (0.25 mm with what counts as touching) is found for certain, less deep perhaps.
//!
//! Contact is no strike: panels may touch, share hinges, and come to rest on one another.

use crate::contact::{Swept, first_contact};
use crate::hinge::{Hinge, along_chain};
use crate::layer::Lie;
use crate::solid::{Solid, gap, pass_through};
use crate::step::Motion;
use std::collections::BTreeMap;

/// How far anything moves at most between two moments that are looked at, in mm.
const STRIDE: f64 = 0.2;

/// Hinges nearer than this, in mm, and parallel to within as much, are one.
const SAME_HINGE: f64 = 1e-6;

/// One panel strikes another.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Strike {
    /// The panel that moves; of two that do, the one carried by more hinges.
    pub(crate) moving: usize,
    /// What it strikes.
    pub(crate) with: usize,
    /// How far the fold that carries it has turned by then.
    pub(crate) degrees: f64,
}

/// All pairs of panels that strike one another in a step, each once, in ascending order.
pub(crate) fn strikes(start: &Lie, motion: &Motion) -> Vec<Strike> {
    let mut members: Vec<Vec<usize>> = vec![Vec::new(); motion.chains.len()];
    for (facet, of) in start.facets.iter().enumerate() {
        members[motion.group[of.panel]].push(facet);
    }
    let mut found: BTreeMap<(usize, usize), f64> = BTreeMap::new();
    for g in 0..members.len() {
        for h in g + 1..members.len() {
            // The one with more hinges moves; what both have in common does not move them to one another.
            let (still, moving) = if motion.chains[g].len() <= motion.chains[h].len() { (g, h) } else { (h, g) };
            let (of_still, of_moving) = own(&motion.chains[still], &motion.chains[moving]);
            let pair = Pair { start, still: &members[still], moving: &members[moving] };
            match (of_still, of_moving) {
                (_, []) => {}
                ([], [hinge]) => pair.turn(hinge, &mut found),
                _ => pair.travel(of_still, of_moving, &mut found),
            }
        }
    }
    found.into_iter().map(|((moving, with), degrees)| Strike { moving, with, degrees }).collect()
}

/// Two groups, and what to test between them.
struct Pair<'a> {
    start: &'a Lie<'a>,
    still: &'a [usize],
    moving: &'a [usize],
}

impl Pair<'_> {
    /// One turns about a hinge on the other.
    fn turn(&self, hinge: &Hinge, found: &mut BTreeMap<(usize, usize), f64>) {
        let swept = |&facet: &usize| (facet, Swept::new(&self.start.solid(facet), hinge));
        let still: Vec<(usize, Swept)> = self.still.iter().map(swept).collect();
        for (moving, figure) in self.moving.iter().map(swept) {
            for (other, obstacle) in &still {
                if let Some(radians) = first_contact(obstacle, &figure, hinge.radians()) {
                    self.note(found, moving, *other, radians.to_degrees());
                }
            }
        }
    }

    /// Both are carried by hinges of their own.
    fn travel(&self, of_still: &[Hinge], of_moving: &[Hinge], found: &mut BTreeMap<(usize, usize), f64>) {
        let turn = of_moving.last().map_or(0.0, Hinge::radians).to_degrees();
        let solid = |&facet: &usize| (facet, self.start.solid(facet));
        let still: Vec<(usize, Solid)> = self.still.iter().map(solid).collect();
        for (moving, figure) in self.moving.iter().map(solid) {
            for (other, obstacle) in &still {
                if let Some(progress) = meeting((obstacle, of_still), (&figure, of_moving)) {
                    self.note(found, moving, *other, progress * turn);
                }
            }
        }
    }

    fn note(&self, found: &mut BTreeMap<(usize, usize), f64>, moving: usize, other: usize, degrees: f64) {
        let panels = (self.start.facets[moving].panel, self.start.facets[other].panel);
        let least = found.entry(panels).or_insert(degrees);
        *least = least.min(degrees);
    }
}

/// The hinges that each of two chains has of its own, after those they begin with in common.
fn own<'a>(a: &'a [Hinge], b: &'a [Hinge]) -> (&'a [Hinge], &'a [Hinge]) {
    let common = a.iter().zip(b).take_while(|(a, b)| one_hinge(a, b)).count();
    (&a[common..], &b[common..])
}

fn one_hinge(a: &Hinge, b: &Hinge) -> bool {
    a.quarters == b.quarters
        && a.along.abs_diff_eq(b.along, SAME_HINGE)
        && (b.at - a.at).cross(a.along).length() < SAME_HINGE
}

/// The progress at which two figures that each move along a chain of hinges are first seen to pass through one another.
fn meeting(still: (&Solid, &[Hinge]), moving: (&Solid, &[Hinge])) -> Option<f64> {
    let speed = speed(still) + speed(moving);
    if pass_through(still.0, moving.0) {
        // They did so before; the step that brought it about has been blamed.
        return None;
    }
    let mut progress = 0.0;
    while progress < 1.0 {
        let at = |(solid, chain): (&Solid, &[Hinge])| {
            let moved = along_chain(chain, progress);
            solid.mapped(|point| moved.transform_point3(point), |way| moved.transform_vector3(way))
        };
        let (a, b) = (at(still), at(moving));
        let apart = gap(&a, &b);
        if apart <= 0.0 && pass_through(&a, &b) {
            return Some(progress);
        }
        // Figures so far apart cannot meet before they have moved as much.
        progress += apart.max(STRIDE) / speed;
    }
    None
}

/// How far any point of a figure moves at most in a whole step, in mm: for each hinge the angle times the reach, which
/// is no more than the way from hinge to hinge to the farthest corner.
fn speed((solid, chain): (&Solid, &[Hinge])) -> f64 {
    let Some(last) = chain.last() else { return 0.0 };
    let (_, mut reach) = solid.range(|corner| corner.distance(last.at));
    let mut sum = 0.0;
    for (i, hinge) in chain.iter().enumerate().rev() {
        sum += hinge.radians().abs() * reach;
        reach += i.checked_sub(1).map_or(0.0, |before| chain[before].at.distance(hinge.at));
    }
    sum.max(STRIDE)
}
