//! What strikes what where several folds move at once: conservative advancement.
//!
//! Two figures that are so far apart cannot meet before they have moved as much to one another, so that much of the
//! step is passed over at once (Mirtich 1996); near one another they are looked at each time they may have moved by
//! [`STRIDE`]. What passes through deeper than that and what counts as touching (0.25 mm together) is found for
//! certain. How fast a point moves is bounded by the sum over its hinges of the angle times the reach.
//!
//! Steps are on a grid of moments, so that each moment's poses are worked out once for all pairs. Two limits keep the
//! time short where parts move very far ([`MOST_MOMENTS`]) or hundreds move at once, as in a long strip pleated in one
//! step ([`MOST_LOOKS`]); beyond them looks lie farther apart, and only what passes through deeper is found for
//! certain.

use crate::core::Core;
use crate::hinge::Hinge;
use crate::slab::{gap as slab_gap, meeting};
use crate::solid::{Solid, gap, pass_through, shared_middle};
use crate::sweep::{Found, Scene};
use glam::{DAffine3, DVec3};

/// How far anything moves at most between two looks, in mm.
const STRIDE: f64 = 0.2;

/// The finest grid of moments of a step: enough for a gusset with a flap of a metre.
const MOST_MOMENTS: usize = 1 << 14;

/// How many looks at pairs of facets are taken on the finest grid: some tenths of a second.
const MOST_LOOKS: usize = 500_000;

/// The fewest moments of a step, however many pairs there are.
const LEAST_MOMENTS: usize = 16;

/// How often the time of a strike is halved: to a millionth of the time between two looks.
const HALVINGS: usize = 20;

/// How many strides back from a strike the first touch of the paper's faces is looked for.
const STRIDES_BACK: usize = 64;

/// Two facets that both move, each along hinges of its own.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Traveller {
    still: usize,
    moving: usize,
    /// How far they move to one another at most in a whole step, in mm.
    speed: f64,
    /// How far at most their cores are nearer to one another than they would be without thickness, in
    /// mm; nothing where the order of layers decides about them.
    lift: f64,
    /// When they were last looked at, and did not pass through one another, as a part of the step.
    looked: f64,
}

/// All pairs of two groups.
pub(crate) fn travellers(scene: &Scene, still: &Group, moving: &Group) -> Vec<Traveller> {
    let paced = |group: &Group| -> Vec<(usize, f64, f64)> {
        let raised = raised(group.hinges, group.stiff);
        let of = |&facet: &usize| (facet, scene.start.solid(facet), scene.core(facet));
        let with = |(facet, flat, core): (usize, Solid, Core)| {
            let aside = core.aside(&flat);
            (facet, speed(&flat, group.hinges), aside + raised)
        };
        group.facets.iter().map(of).map(with).collect()
    };
    let (still, moving) = (paced(still), paced(moving));
    let pair = |(moving, fast, up): (usize, f64, f64), (still, slow, down): (usize, f64, f64)| {
        let lift = if up + down > 0.0 && !scene.rest(moving, still) { up + down } else { 0.0 };
        Traveller { still, moving, speed: (fast + slow).max(STRIDE), lift, looked: 0.0 }
    };
    moving.iter().flat_map(|&fast| still.iter().map(move |&slow| pair(fast, slow))).collect()
}

/// Facets that move together.
pub(crate) struct Group<'a> {
    pub(crate) facets: &'a [usize],
    /// What carries them, without and with thickness, after what carries the other group too.
    pub(crate) hinges: &'a [Hinge],
    pub(crate) stiff: &'a [Hinge],
}

/// Looks at pairs that travel, each only when it may have come close.
pub(crate) fn travel(travellers: Vec<Traveller>, found: &mut Found) {
    if travellers.is_empty() {
        return;
    }
    let scene = found.scene;
    let fastest = travellers.iter().map(|pair| pair.speed).fold(0.0, f64::max);
    let moments = count(fastest / STRIDE).clamp(LEAST_MOMENTS, MOST_MOMENTS);
    let mut places = Places::new(scene);
    let mut due: Vec<Vec<Traveller>> = Vec::new();
    due.resize_with(moments, Vec::new);
    // Those that pass through one another before the step are not its fault.
    due[0] = travellers.into_iter().filter(|pair| places.free(pair).is_some()).collect();
    let mut looks = 0;
    for moment in 0..moments {
        let now = std::mem::take(&mut due[moment]);
        if now.is_empty() {
            continue;
        }
        let progress = share(moment, moments);
        places.move_to(moment, progress);
        for pair in now {
            looks += 1;
            let Some(free) = places.free(&pair) else {
                let (degrees, at) = met(scene, &pair, progress);
                found.note(pair.moving, pair.still, degrees, at);
                continue;
            };
            let least = if looks > MOST_LOOKS { moments / LEAST_MOMENTS } else { 1 };
            let wait = count((free + STRIDE) / pair.speed * share(moments, 1)).max(least);
            if let Some(later) = due.get_mut(moment + wait) {
                later.push(Traveller { looked: progress, ..pair });
            }
        }
    }
}

/// Facets where they are at one moment, each worked out when it is asked for.
struct Places<'a> {
    scene: &'a Scene<'a>,
    moment: usize,
    moved: Vec<DAffine3>,
    stiff: Vec<DAffine3>,
    /// Each facet before the step: its figure without thickness, and its core.
    start: Vec<(Solid, Core)>,
    /// The same at the moment for which they were last worked out.
    placed: Vec<(usize, Solid, Core)>,
}

impl<'a> Places<'a> {
    fn new(scene: &'a Scene<'a>) -> Self {
        let figures = |facet: usize| (scene.start.solid(facet), scene.core(facet));
        let start: Vec<(Solid, Core)> = (0..scene.start.facets.len()).map(figures).collect();
        let placed = start.iter().map(|(flat, thick)| (0, flat.clone(), thick.clone())).collect();
        Self { scene, moment: 0, moved: Vec::new(), stiff: Vec::new(), start, placed }
    }

    fn move_to(&mut self, moment: usize, progress: f64) {
        self.moment = moment;
        self.moved = self.scene.motion.moved(progress);
        if self.scene.is_thick {
            self.stiff = self.scene.stiff.moved(progress);
        }
    }

    fn place(&mut self, facet: usize) {
        if self.placed[facet].0 == self.moment {
            return;
        }
        let group = self.scene.motion.group[self.scene.start.facets[facet].panel];
        let (flat, thick) = &self.start[facet];
        let core = self.stiff.get(group).map_or_else(|| thick.clone(), |by| carried_core(thick, by));
        self.placed[facet] = (self.moment, carried(flat, &self.moved[group]), core);
    }

    /// How far a pair may move to one another before anything can happen, in mm; `None` when it passes through itself.
    fn free(&mut self, pair: &Traveller) -> Option<f64> {
        self.place(pair.still);
        self.place(pair.moving);
        let ((_, still, still_core), (_, moving, core)) = (&self.placed[pair.still], &self.placed[pair.moving]);
        let apart = gap(still, moving);
        if apart > pair.lift {
            return Some(apart - pair.lift);
        }
        let is_through = apart <= 0.0 && pass_through(still, moving);
        let is_deep = pair.lift > 0.0 && still_core.pass_deeper(core, self.scene.give());
        if is_through || is_deep {
            return None;
        }
        let cores = if pair.lift > 0.0 { still_core.gap(core) } else { apart };
        Some(apart.min(cores).max(0.0))
    }
}

/// How far at most hinges of paper with thickness carry something aside of where it would be without.
fn raised(flat: &[Hinge], stiff: &[Hinge]) -> f64 {
    flat.iter().zip(stiff).map(|(flat, stiff)| 2.0 * (stiff.at - flat.at).cross(flat.along).length()).sum()
}

/// When a pair that passes through itself at `through` began to, as the turn of the moving panel's own fold in degrees,
/// and where: when the faces of its paper met, or the middles of it where those touched all along.
fn met(scene: &Scene, pair: &Traveller, through: f64) -> (f64, DVec3) {
    let group = |facet: usize| scene.motion.group[scene.start.facets[facet].panel];
    let flat = |facet: usize, at: f64| carried(&scene.start.solid(facet), &scene.motion.moved(at)[group(facet)]);
    let thick = |facet: usize, at: f64| carried(&scene.middle(facet), &scene.stiff.moved(at)[group(facet)]);
    let core = |facet: usize, at: f64| carried_core(&scene.core(facet), &scene.stiff.moved(at)[group(facet)]);
    let strikes = |at: f64| {
        pass_through(&flat(pair.still, at), &flat(pair.moving, at))
            || core(pair.still, at).pass_deeper(&core(pair.moving, at), scene.give())
    };
    let slab = |facet: usize, at: f64| scene.slab(facet, &thick(facet, at));
    let touch = |at: f64| slab_gap(&slab(pair.still, at), &slab(pair.moving, at));
    let struck = halved(pair.looked, through, strikes);
    let mut back = struck;
    let clear = (0..STRIDES_BACK).find_map(|_| {
        back -= ((-touch(back)).max(0.0) + STRIDE / 2.0) / pair.speed;
        (back <= 0.0 || touch(back) > 0.0).then_some(back)
    });
    let first = clear.filter(|&at| at > 0.0).map_or(struck, |clear| halved(clear, struck, |at| touch(at) <= 0.0));
    let at = meeting(&slab(pair.still, first), &slab(pair.moving, first));
    let at = at.unwrap_or_else(|| shared_middle(&thick(pair.still, first), &thick(pair.moving, first)));
    (scene.motion.turn(group(pair.moving), first).to_degrees(), at)
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
