//! What strikes what while a step folds.
//!
//! Two groups of panels of which one turns about a hinge on the other are tested exactly (see [`crate::contact`]).
//! Groups whose motion to one another is made of several turns, as that of a gusset's flap to the base, are looked at
//! in moments so close that no part moves more than [`STRIDE`] between two of them; what passes through deeper than
//! that (0.25 mm with what counts as touching) is found for certain, less deep perhaps. Two limits keep the time short
//! where parts move very far ([`MOST_MOMENTS`]) or very many move at once, as in a long strip pleated in one step
//! ([`MOST_LOOKS`]); beyond them the moments lie farther apart, and only what passes through deeper is found for
//! certain.
//!
//! Contact is no strike: panels may touch, share hinges, and come to rest on one another.

use crate::contact::{Swept, first_contact};
use crate::hinge::Hinge;
use crate::layer::Lie;
use crate::solid::{Solid, gap, pass_through};
use crate::step::Motion;
use glam::DAffine3;
use std::collections::BTreeMap;

/// How far anything moves at most between two moments that are looked at, in mm.
const STRIDE: f64 = 0.2;

/// The most moments of one step that are looked at: enough for a gusset with a flap of 300 mm. Time grows with it.
const MOST_MOMENTS: usize = 4096;

/// The most looks at a pair of facets in one step: some tenths of a second.
const MOST_LOOKS: usize = 500_000;

/// How often the time of a strike is halved: to a millionth of the time between two looks.
const HALVINGS: usize = 20;

/// The fewest moments of a step, however many pairs there are.
const LEAST_MOMENTS: usize = 16;

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
    let mut found = Found { start, first: BTreeMap::new() };
    let mut travellers = Vec::new();
    for g in (0..members.len()).filter(|&g| !members[g].is_empty()) {
        for h in (g + 1..members.len()).filter(|&h| !members[h].is_empty()) {
            // The one with more hinges moves; what both have in common does not move them to one another.
            let (still, moving) = if motion.chains[g].len() <= motion.chains[h].len() { (g, h) } else { (h, g) };
            let (of_still, of_moving) = own(&motion.chains[still], &motion.chains[moving]);
            if let ([], [hinge]) = (of_still, of_moving) {
                turn(hinge, &members[still], &members[moving], &mut found);
            } else {
                travellers.extend(pairs(start, (&members[still], of_still), (&members[moving], of_moving)));
            }
        }
    }
    travel(start, motion, travellers, &mut found);
    let strike = |((moving, with), degrees)| Strike { moving, with, degrees };
    found.first.into_iter().map(strike).collect()
}

/// The pairs of panels that strike one another, and the least turn at which they do.
struct Found<'a> {
    start: &'a Lie<'a>,
    first: BTreeMap<(usize, usize), f64>,
}

/// Two facets that both move, each along hinges of its own.
struct Traveller {
    still: usize,
    moving: usize,
    /// How far they move to one another at most in a whole step, in mm.
    speed: f64,
    /// When they were last looked at, and did not pass through one another, as a part of the step.
    looked: f64,
}

impl Found<'_> {
    fn note(&mut self, moving: usize, other: usize, degrees: f64) {
        let panels = (self.start.facets[moving].panel, self.start.facets[other].panel);
        let least = self.first.entry(panels).or_insert(degrees);
        *least = least.min(degrees);
    }
}

/// Facets that turn about a hinge on the group of the others.
fn turn(hinge: &Hinge, still: &[usize], moving: &[usize], found: &mut Found) {
    let start = found.start;
    let swept = |&facet: &usize| (facet, Swept::new(&start.solid(facet), hinge));
    let still: Vec<(usize, Swept)> = still.iter().map(swept).collect();
    for (moving, figure) in moving.iter().map(swept) {
        for (other, obstacle) in still.iter().filter(|(_, obstacle)| obstacle.may_meet(&figure)) {
            if let Some(radians) = first_contact(obstacle, &figure, hinge.radians()) {
                found.note(moving, *other, radians.to_degrees());
            }
        }
    }
}

fn pairs<'a>(
    start: &'a Lie,
    (still, of_still): (&'a [usize], &'a [Hinge]),
    (moving, of_moving): (&'a [usize], &'a [Hinge]),
) -> impl Iterator<Item = Traveller> + 'a {
    let paced = |facets: &[usize], chain: &[Hinge]| -> Vec<(usize, f64)> {
        facets.iter().map(|&facet| (facet, speed(&start.solid(facet), chain))).collect()
    };
    let (still, moving) = (paced(still, of_still), paced(moving, of_moving));
    moving.into_iter().flat_map(move |(moving, fast)| {
        let with = move |&(still, slow): &(usize, f64)| Traveller { still, moving, speed: fast + slow, looked: 0.0 };
        still.iter().map(with).collect::<Vec<_>>()
    })
}

/// Looks at pairs that travel, each only when it may have come close: figures so far apart cannot meet before they have
/// moved as much.
fn travel(start: &Lie, motion: &Motion, travellers: Vec<Traveller>, found: &mut Found) {
    let fastest = travellers.iter().map(|pair| pair.speed).fold(0.0, f64::max);
    let affordable = (MOST_LOOKS / travellers.len().max(1)).clamp(LEAST_MOMENTS, MOST_MOMENTS);
    let moments = count(fastest / STRIDE).clamp(1, affordable);
    let mut due: Vec<Vec<Traveller>> = Vec::new();
    due.resize_with(moments, Vec::new);
    // Those that pass through one another before the step are not its fault.
    let solids: Vec<Solid> = (0..start.facets.len()).map(|facet| start.solid(facet)).collect();
    let pierced = |pair: &Traveller| pass_through(&solids[pair.still], &solids[pair.moving]);
    due[0] = travellers.into_iter().filter(|pair| !pierced(pair)).collect();
    // Each facet with the moment for which it was last worked out.
    let mut placed: Vec<(usize, Solid)> = solids.iter().map(|solid| (0, solid.clone())).collect();
    for moment in 0..moments {
        let now = std::mem::take(&mut due[moment]);
        if now.is_empty() {
            continue;
        }
        let progress = share(moment, moments);
        let moved = motion.moved(progress);
        for pair in now {
            for facet in [pair.still, pair.moving] {
                if placed[facet].0 != moment {
                    let by = &moved[motion.group[start.facets[facet].panel]];
                    placed[facet] = (moment, carried(&solids[facet], by));
                }
            }
            let (still, moving) = (&placed[pair.still].1, &placed[pair.moving].1);
            let apart = gap(still, moving).max(0.0);
            if apart <= 0.0 && pass_through(still, moving) {
                let last = motion.chain(start.facets[pair.moving].panel).last();
                let met = met(start, motion, &pair, progress);
                found.note(pair.moving, pair.still, last.map_or(0.0, Hinge::radians).to_degrees() * met);
                continue;
            }
            let wait = count((apart + STRIDE) / pair.speed * share(moments, 1)).max(1);
            if let Some(later) = due.get_mut(moment + wait) {
                later.push(Traveller { looked: progress, ..pair });
            }
        }
    }
}

/// Halves the time between the last look and `through`, when the pair pass through one another, until it is known well
/// when they began to.
fn met(start: &Lie, motion: &Motion, pair: &Traveller, through: f64) -> f64 {
    let (mut before, mut after) = (pair.looked, through);
    for _ in 0..HALVINGS {
        let middle = f64::midpoint(before, after);
        let moved = motion.moved(middle);
        let at = |facet: usize| carried(&start.solid(facet), &moved[motion.group[start.facets[facet].panel]]);
        if pass_through(&at(pair.still), &at(pair.moving)) {
            after = middle;
        } else {
            before = middle;
        }
    }
    after
}

fn carried(solid: &Solid, by: &DAffine3) -> Solid {
    solid.mapped(|point| by.transform_point3(point), |way| by.transform_vector3(way))
}

/// The hinges that each of two chains has of its own, after those they begin with in common.
fn own<'a>(a: &'a [Hinge], b: &'a [Hinge]) -> (&'a [Hinge], &'a [Hinge]) {
    let common = a.iter().zip(b).take_while(|(a, b)| a.is_same(b)).count();
    (&a[common..], &b[common..])
}

/// How far any point of a figure moves at most in a whole step, in mm: for each hinge the angle times the reach, which
/// is no more than the way from hinge to hinge to the farthest corner.
fn speed(solid: &Solid, chain: &[Hinge]) -> f64 {
    let Some(last) = chain.last() else { return 0.0 };
    let (_, mut reach) = solid.range(|corner| corner.distance(last.at));
    let mut sum = 0.0;
    for (i, hinge) in chain.iter().enumerate().rev() {
        sum += hinge.radians().abs() * reach;
        reach += i.checked_sub(1).map_or(0.0, |before| chain[before].at.distance(hinge.at));
    }
    sum.max(STRIDE)
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a float beyond the range becomes its end")]
fn count(amount: f64) -> usize {
    amount as usize
}

#[expect(clippy::cast_precision_loss, reason = "counts of moments are far below 2^52")]
fn share(part: usize, of: usize) -> f64 {
    part as f64 / of as f64
}

#[cfg(test)]
mod tests {
    use super::*;
    use glam::DVec3;

    #[test]
    fn no_corner_moves_faster_than_the_bound() {
        // A wall of 10 mm and a flap of 30 mm: the flap's edge, by hand, is never more than 40 mm from the first hinge
        // and 30 mm from the second.
        let hinge = |x: f64| Hinge { at: DVec3::X * x, along: -DVec3::Y, quarters: 1 };
        let corners = vec![DVec3::X * 10.0, DVec3::X * 40.0, DVec3::new(40.0, 0.0, 0.0)];
        let flap = Solid { corners, normal: DVec3::Z };
        let bound = speed(&flap, &[hinge(0.0), hinge(10.0)]);
        assert!((bound - std::f64::consts::FRAC_PI_2 * (40.0 + 30.0)).abs() < 1e-9, "{bound}");
        assert!((speed(&flap, &[]) - 0.0).abs() < 1e-12);
    }
}
