//! What strikes what where several folds move at once: conservative advancement.
//!
//! Two figures that are so far apart cannot meet before they have moved as much to one another, so that much of the
//! step is passed over at once (Mirtich 1996); near one another they are looked at each time they may have moved by
//! [`STRIDE`]. What passes through deeper than that and what counts as touching (0.25 mm together) is found for
//! certain. How fast a point moves is bounded by the sum over its hinges of the angle times the reach. Before that, the
//! pairs are taken out of which a few looks, corner by corner, show that they never come close ([`clear`]).
//!
//! Steps are on a grid of moments, so that each moment's poses are worked out once for all pairs. Two limits keep the
//! time short where parts move very far ([`MOST_MOMENTS`]) or hundreds move at once, as in a long strip pleated in one
//! step ([`MOST_LOOKS`]); beyond them looks lie farther apart, and only what passes through deeper is found for
//! certain.

use crate::core::Core;
use crate::hinge::Hinge;
use crate::slab::{gap as slab_gap, meeting};
use crate::solid::{Reach, Solid, gap_of, pass_through, shared_middle};
use crate::step::Poses;
use crate::sweep::{Found, Scene};
use glam::{DAffine3, DVec3};
use std::rc::Rc;

/// How far anything moves at most between two looks, in mm.
const STRIDE: f64 = 0.2;

/// The finest grid of moments of a step: enough for a gusset with a flap of a metre.
const MOST_MOMENTS: usize = 1 << 14;

/// How many looks at pairs of facets are taken on the finest grid: about a tenth of a second. One at what is thick counts
/// as many, by its corners.
const MOST_LOOKS: usize = 500_000;

/// How many looks one at two thick cores of four corners is worth.
const THICK_LOOK: usize = 5;

/// Along so many ways with a corner, all corners of two cores are told in the time of a look.
const CORNERS_A_LOOK: usize = 100;

/// The fewest moments of a step, however many pairs there are.
const LEAST_MOMENTS: usize = 16;

/// How often the time of a strike is halved: to a millionth of the time between two looks.
const HALVINGS: usize = 20;

/// How many looks at a pair are worth finding out that it never comes close.
const CLEARING_LOOKS: u8 = 32;

/// Distances and places are known this well, in mm: far above rounding, far below what counts.
const SURE: f64 = 1e-6;

/// Sines of angles below this belong to parallel hinges: over ten metres off by less than [`SURE`] in a hundred hinges.
const PARALLEL: f64 = 1e-12;

/// How many strides back from a strike the first touch of the paper's faces is looked for.
const STRIDES_BACK: usize = 64;

/// Two facets that both move, each along hinges of its own.
#[derive(Debug, Clone)]
pub(crate) struct Traveller {
    still: usize,
    moving: usize,
    /// How far they move to one another at most in a whole step, in mm.
    speed: f64,
    /// How far each corner of the one that moves comes at most, seen from the other, in mm in a whole step.
    paces: Rc<[f64]>,
    /// How far at most their cores are nearer to one another than they would be without thickness, in
    /// mm; nothing where the order of layers decides about them.
    lift: f64,
    /// When they were last looked at, and did not pass through one another, as a part of the step.
    looked: f64,
}

/// All pairs of two groups.
pub(crate) fn travellers(scene: &Scene, still: &Group, moving: &Group) -> Vec<Traveller> {
    // How the one moves, seen from the other.
    let chain: Vec<Hinge> = still.hinges.iter().rev().map(Hinge::back).chain(moving.hinges.iter().copied()).collect();
    let is_even = scene.motion.linkage.is_none();
    let of_still: Vec<(usize, f64, f64)> = still.facets.iter().map(|&facet| still.bounds(scene, facet)).collect();
    let mut out = Vec::with_capacity(of_still.len() * moving.facets.len());
    for &facet in moving.facets {
        let (_, fast, up) = moving.bounds(scene, facet);
        let corners = scene.start.solid(facet).corners;
        let paces: Rc<[f64]> = corners.iter().map(|&corner| pace(corner, &chain, is_even)).collect();
        for &(other, slow, down) in &of_still {
            let lift = if up + down > 0.0 && !scene.rest(facet, other) { up + down } else { 0.0 };
            let speed = (fast + slow).max(STRIDE);
            out.push(Traveller { still: other, moving: facet, speed, paces: Rc::clone(&paces), lift, looked: 0.0 });
        }
    }
    out
}

/// Facets that move together.
pub(crate) struct Group<'a> {
    pub(crate) facets: &'a [usize],
    /// What carries them, without and with thickness, after what carries the other group too.
    pub(crate) hinges: &'a [Hinge],
    pub(crate) stiff: &'a [Hinge],
}

impl Group<'_> {
    /// One of its facets, how far any point of it moves at most in the whole step, and how far its core is at most from
    /// where the facet would be without thickness, both in mm.
    fn bounds(&self, scene: &Scene, facet: usize) -> (usize, f64, f64) {
        let flat = scene.start.solid(facet);
        let aside = scene.core(facet).aside(&flat) + raised(self.hinges, self.stiff);
        (facet, speed(&flat, self.hinges), aside)
    }
}

/// Looks at pairs that travel, each only when it may have come close.
pub(crate) fn travel(mut travellers: Vec<Traveller>, found: &mut Found) {
    if travellers.is_empty() {
        return;
    }
    let scene = found.scene;
    let fastest = travellers.iter().map(|pair| pair.speed).fold(0.0, f64::max);
    let moments = count(fastest / STRIDE).clamp(LEAST_MOMENTS, MOST_MOMENTS);
    let mut places = Places::new(scene);
    clear(&mut travellers, moments, &mut places);
    places.move_to(0.0);
    let mut due = Due::new(moments, travellers.len());
    let later = |free: f64, speed: f64, looks: usize| {
        let least = if looks > MOST_LOOKS { moments / LEAST_MOMENTS } else { 1 };
        count((free + STRIDE) / speed * share(moments, 1)).max(least)
    };
    for (number, pair) in travellers.iter().enumerate() {
        // Those that pass through one another before the step are not its fault.
        if let Some(free) = places.free(pair) {
            due.put(number, later(free, pair.speed, places.looks));
        }
    }
    for moment in 1..moments {
        let mut next = due.first[moment];
        if next == NONE {
            continue;
        }
        let progress = share(moment, moments);
        places.move_to(progress);
        while next != NONE {
            let number = next;
            next = due.after[number];
            let pair = &mut travellers[number];
            if let Some(free) = places.free(pair) {
                pair.looked = progress;
                due.put(number, moment + later(free, pair.speed, places.looks));
            } else {
                let (degrees, at) = met(scene, pair, progress);
                found.note(pair.moving, pair.still, degrees, at);
            }
        }
    }
}

/// Takes out the pairs that certainly do not come close in any moment.
///
/// A figure stays on one side of a plane that is fixed to the other at least until one of its corners has gone the way
/// to it, and corners near a hinge, which are near the other, are slow. So a few looks do instead of hundreds; a pair
/// for which they don't is looked at as if this had not been tried.
fn clear(travellers: &mut Vec<Traveller>, moments: usize, places: &mut Places) {
    let mut due = Due::new(moments, travellers.len());
    (0..travellers.len()).for_each(|pair| due.put(pair, 0));
    let mut looks = vec![0; travellers.len()];
    let mut cleared = vec![false; travellers.len()];
    for moment in 0..moments {
        let mut next = due.first[moment];
        if next != NONE {
            places.move_to(share(moment, moments));
        }
        while next != NONE {
            let number = next;
            next = due.after[number];
            let wait = count(places.sure(&travellers[number]) * share(moments, 1));
            if moment.saturating_add(wait) >= moments - 1 {
                cleared[number] = true;
            } else if wait > 0 && looks[number] < CLEARING_LOOKS {
                looks[number] += 1;
                // On few moments, so that places worked out for one pair serve others too.
                let grain = 1 << (wait / 4).max(1).ilog2();
                due.put(number, (moment + wait) / grain * grain);
            }
        }
    }
    let mut number = 0;
    travellers.retain(|_| {
        number += 1;
        !cleared[number - 1]
    });
}

/// No pair.
const NONE: usize = usize::MAX;

/// Which pairs are to be looked at in each moment, in the order in which they were put there.
struct Due {
    /// For each moment, its first and its last pair.
    first: Vec<usize>,
    last: Vec<usize>,
    /// For each pair, the one after it in the same moment.
    after: Vec<usize>,
}

impl Due {
    fn new(moments: usize, pairs: usize) -> Self {
        Self { first: vec![NONE; moments], last: vec![NONE; moments], after: vec![NONE; pairs] }
    }

    /// Puts down a pair for a moment; nothing when the step is over by then.
    fn put(&mut self, pair: usize, moment: usize) {
        let Some(last) = self.last.get_mut(moment) else { return };
        let before = std::mem::replace(last, pair);
        if before == NONE {
            self.first[moment] = pair;
        } else {
            self.after[before] = pair;
        }
        self.after[pair] = NONE;
    }
}

/// Facets where they are at one moment, each worked out when it is asked for.
struct Places<'a> {
    scene: &'a Scene<'a>,
    /// Counts the moments that were moved to.
    moment: usize,
    /// Counts looks at pairs, by the time that they take.
    looks: usize,
    moved: Poses<'a>,
    stiff: Poses<'a>,
    facets: Vec<Placed>,
}

/// A facet, without thickness and as its core.
struct Placed {
    /// The panels that move with it.
    group: usize,
    /// The moments for which the two were last worked out.
    flat_at: usize,
    core_at: usize,
    flat: Solid,
    reach: Reach,
    core: Core,
    /// The same before the step.
    start: (Solid, Core),
}

impl<'a> Places<'a> {
    fn new(scene: &'a Scene<'a>) -> Self {
        let placed = |facet: usize| {
            let (flat, core) = (scene.start.solid(facet), scene.core(facet));
            let group = scene.motion.group[scene.start.facets[facet].panel];
            let reach = Reach::of(&flat);
            Placed { group, flat_at: 0, core_at: 0, start: (flat.clone(), core.clone()), flat, reach, core }
        };
        let facets = (0..scene.start.facets.len()).map(placed).collect();
        Self { scene, moment: 0, looks: 0, moved: Poses::new(scene.motion), stiff: Poses::new(scene.stiff), facets }
    }

    fn move_to(&mut self, progress: f64) {
        self.moment += 1;
        self.moved.move_to(progress);
        self.stiff.move_to(progress);
    }

    fn place(&mut self, facet: usize) {
        let placed = &mut self.facets[facet];
        if placed.flat_at != self.moment {
            placed.flat_at = self.moment;
            placed.flat.put(&placed.start.0, &self.moved.of(placed.group));
            placed.reach = Reach::of(&placed.flat);
        }
    }

    fn place_core(&mut self, facet: usize) {
        let placed = &mut self.facets[facet];
        if placed.core_at != self.moment && self.scene.is_thick {
            placed.core_at = self.moment;
            placed.core.put(&placed.start.1, &self.stiff.of(placed.group));
        }
    }

    /// For how much of the step a pair certainly does not come close, as a part of it; 0 when that is not known.
    fn sure(&mut self, pair: &Traveller) -> f64 {
        self.place(pair.still);
        self.place(pair.moving);
        let [still, moving] = [&self.facets[pair.still].flat, &self.facets[pair.moving].flat];
        let apart = pair.lift + SURE;
        let along = |way: DVec3| {
            let (low, high) = still.along(way);
            let (mut below, mut above) = (f64::INFINITY, f64::INFINITY);
            for (corner, pace) in moving.corners.iter().zip(pair.paces.iter()) {
                let at = way.dot(*corner);
                below = below.min((low - at - apart) / pace);
                above = above.min((at - high - apart) / pace);
            }
            below.max(above)
        };
        let (first, second) = (still.corners.first(), still.corners.get(1));
        let edge = first.zip(second).map_or(DVec3::ZERO, |(from, to)| (*to - *from).normalize_or_zero());
        [still.normal, edge, still.normal.cross(edge)].into_iter().map(along).fold(0.0, f64::max)
    }

    /// How far a pair may move to one another before anything can happen, in mm; `None` when it passes through itself.
    fn free(&mut self, pair: &Traveller) -> Option<f64> {
        self.looks = self.looks.saturating_add(1);
        self.place(pair.still);
        self.place(pair.moving);
        let [still, moving] = [&self.facets[pair.still], &self.facets[pair.moving]];
        let apart = gap_of((&still.flat, &still.reach), (&moving.flat, &moving.reach));
        if apart > pair.lift {
            return Some(apart - pair.lift);
        }
        if apart <= 0.0 && pass_through(&still.flat, &moving.flat) {
            return None;
        }
        if pair.lift <= 0.0 {
            return Some(apart.max(0.0));
        }
        self.place_core(pair.still);
        self.place_core(pair.moving);
        let [still, moving] = [&self.facets[pair.still].core, &self.facets[pair.moving].core];
        if still.either_thick(moving) {
            self.looks = self.looks.saturating_add(thick_look(still, moving));
        }
        let cores = still.free(moving, self.scene.give())?;
        Some(apart.min(cores).max(0.0))
    }
}

/// How many looks one at two cores is worth of which one is thick: each corner is looked at along each way that is across an edge
/// of either.
fn thick_look(a: &Core, b: &Core) -> usize {
    let [a, b] = [a, b].map(|core| core.middle.corners.len());
    THICK_LOOK.saturating_add((a + 1).saturating_mul(b + 1).saturating_mul(a + b) / CORNERS_A_LOOK)
}

/// How far at most hinges of paper with thickness carry something aside of where it would be without.
fn raised(flat: &[Hinge], stiff: &[Hinge]) -> f64 {
    flat.iter().zip(stiff).map(|(flat, stiff)| 2.0 * (stiff.at - flat.at).cross(flat.along).length()).sum()
}

/// When a pair that passes through itself at `through` began to, as the turn of the moving panel's own fold in degrees,
/// and where: when the faces of its paper met, or the middles of it where those touched all along.
fn met(scene: &Scene, pair: &Traveller, through: f64) -> (f64, DVec3) {
    let facets = [pair.still, pair.moving];
    let group = facets.map(|facet| scene.motion.group[scene.start.facets[facet].panel]);
    let moved = |motion, at: f64| {
        let mut poses = Poses::new(motion);
        poses.move_to(at);
        group.map(|group| poses.of(group))
    };
    let (flats, cores) = (facets.map(|facet| scene.start.solid(facet)), facets.map(|facet| scene.core(facet)));
    let middles = facets.map(|facet| scene.middle(facet));
    let strikes = |at: f64| {
        let (flat, stiff) = (moved(scene.motion, at), moved(scene.stiff, at));
        pass_through(&carried(&flats[0], &flat[0]), &carried(&flats[1], &flat[1]))
            || carried_core(&cores[0], &stiff[0]).pass_deeper(&carried_core(&cores[1], &stiff[1]), scene.give())
    };
    let thick = |at: f64| {
        let by = moved(scene.stiff, at);
        [carried(&middles[0], &by[0]), carried(&middles[1], &by[1])]
    };
    let slabs = |at: f64| {
        let middles = thick(at);
        [scene.slab(pair.still, &middles[0]), scene.slab(pair.moving, &middles[1])]
    };
    let touch = |at: f64| {
        let [still, moving] = slabs(at);
        slab_gap(&still, &moving)
    };
    let struck = halved(pair.looked, through, strikes);
    let mut back = struck;
    let clear = (0..STRIDES_BACK).find_map(|_| {
        back -= ((-touch(back)).max(0.0) + STRIDE / 2.0) / pair.speed;
        (back <= 0.0 || touch(back) > 0.0).then_some(back)
    });
    let first = clear.filter(|&at| at > 0.0).map_or(struck, |clear| halved(clear, struck, |at| touch(at) <= 0.0));
    let [still, moving] = slabs(first);
    let at = meeting(&still, &moving).unwrap_or_else(|| {
        let [still, moving] = thick(first);
        shared_middle(&still, &moving)
    });
    (scene.motion.turn(group[1], first).to_degrees(), at)
}

/// The time between one when something does not hold and one when it does, halved until it is known well.
fn halved(mut before: f64, mut after: f64, holds: impl Fn(f64) -> bool) -> f64 {
    for _ in 0..HALVINGS {
        let middle = f64::midpoint(before, after);
        if holds(middle) {
            after = middle;
        } else {
            before = middle;
        }
    }
    after
}

fn carried_core(core: &Core, by: &DAffine3) -> Core {
    core.mapped(|point| by.transform_point3(point), |way| by.transform_vector3(way))
}

fn carried(solid: &Solid, by: &DAffine3) -> Solid {
    solid.mapped(|point| by.transform_point3(point), |way| by.transform_vector3(way))
}

/// How far any point of a figure moves at most in a whole step, in mm: for each hinge the angle times the reach, which
/// is no more than the way from hinge to hinge to the farthest corner.
fn speed(solid: &Solid, chain: &[Hinge]) -> f64 {
    let Some(last) = chain.last() else { return 0.0 };
    let (_, mut reach) = solid.range(|corner| corner.distance(last.at));
    let mut sum = 0.0;
    for (i, hinge) in chain.iter().enumerate().rev() {
        sum += hinge.pace * reach;
        reach += i.checked_sub(1).map_or(0.0, |before| chain[before].at.distance(hinge.at));
    }
    sum
}

/// How far a point moves at most in a whole step, in mm. Where all hinges are parallel and turn evenly, each part of
/// the way from hinge to hinge turns as fast as the hinges before it do together, be it to and fro.
fn pace(point: DVec3, chain: &[Hinge], is_even: bool) -> f64 {
    let Some(first) = chain.first() else { return 0.0 };
    let is_parallel = |hinge: &Hinge| hinge.along.cross(first.along).length() < PARALLEL;
    if !is_even || !chain.iter().all(is_parallel) {
        return speed(&Solid { corners: vec![point], normal: DVec3::Z }, chain);
    }
    let ends = chain.iter().skip(1).map(|hinge| hinge.at).chain([point]);
    let mut turn = 0.0;
    let parts = chain.iter().zip(ends).map(|(hinge, end)| {
        turn += hinge.radians() * hinge.along.dot(first.along).signum();
        f64::abs(turn) * (end - hinge.at).cross(hinge.along).length()
    });
    parts.sum()
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

    #[test]
    fn no_corner_moves_faster_than_the_bound() {
        // A wall of 10 mm and a flap of 30 mm: the flap's edge, by hand, is never more than 40 mm from the first hinge
        // and 30 mm from the second.
        let hinge = |x: f64| Hinge::new(DVec3::X * x, -DVec3::Y, 1);
        let corners = vec![DVec3::X * 10.0, DVec3::X * 40.0, DVec3::new(40.0, 0.0, 0.0)];
        let flap = Solid { corners, normal: DVec3::Z };
        let bound = speed(&flap, &[hinge(0.0), hinge(10.0)]);
        assert!((bound - std::f64::consts::FRAC_PI_2 * (40.0 + 30.0)).abs() < 1e-9, "{bound}");
        assert!((speed(&flap, &[]) - 0.0).abs() < 1e-12);
    }
}
