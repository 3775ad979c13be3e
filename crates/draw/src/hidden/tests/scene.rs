//! Made-up scenes: loose faces, bars, stacks, rings and folded strips in any pose.

use super::super::Face;
use glam::{DAffine3, DQuat, DVec2, DVec3, dvec2, dvec3};
use std::f64::consts::{PI, TAU};

/// Random numbers that are the same everywhere (Marsaglia 2003, "Xorshift RNGs", the 64-bit 13-7-17 generator; from
/// memory).
#[derive(Debug)]
pub(super) struct Dice(u64);

impl Dice {
    pub(super) fn new(seed: u64) -> Self {
        let dice = Self(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15) | 1);
        (0..8).fold(dice, |mut dice, _| {
            dice.bits();
            dice
        })
    }

    fn bits(&mut self) -> u32 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        u32::try_from(self.0 >> 32).unwrap()
    }

    pub(super) fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * f64::from(self.bits()) / f64::from(u32::MAX)
    }

    /// A number from `low` up to but without `high`.
    pub(super) fn pick(&mut self, low: u32, high: u32) -> u32 {
        low + self.bits() % (high - low)
    }

    pub(super) fn shift(&mut self) -> DVec2 {
        dvec2(self.between(0.0, 1.0), self.between(0.0, 1.0))
    }

    pub(super) fn rotation(&mut self) -> DQuat {
        let mut number = || self.between(-1.0, 1.0);
        DQuat::from_xyzw(number(), number(), number(), number() + 1e-9).normalize()
    }

    /// A rotation that leaves the view almost as it is.
    fn tilt(&mut self) -> DQuat {
        let turn = DQuat::from_rotation_z(self.between(0.0, TAU));
        DQuat::from_rotation_x(self.between(-0.4, 0.4)) * DQuat::from_rotation_y(self.between(-0.4, 0.4)) * turn
    }

    pub(super) fn shuffle<T>(&mut self, items: &mut [T]) {
        for i in (1..items.len()).rev() {
            let other = usize::try_from(self.pick(0, u32::try_from(i + 1).unwrap())).unwrap();
            items.swap(i, other);
        }
    }
}

/// Outlines as faces tagged with their index.
pub(super) fn faces(outlines: impl IntoIterator<Item = Vec<DVec3>>) -> Vec<Face<usize>> {
    outlines.into_iter().enumerate().map(|(tag, points)| Face::new(points, tag)).collect()
}

/// A rectangle in the plane z = 0, from its least to its greatest corner.
pub(super) fn rectangle(low: DVec2, high: DVec2) -> Vec<DVec3> {
    [low, dvec2(high.x, low.y), high, dvec2(low.x, high.y)].map(|point| point.extend(0.0)).to_vec()
}

/// A convex outline around the origin in the plane z = 0, with 3 to 7 corners on an ellipse, either way round.
pub(super) fn outline(dice: &mut Dice, least: f64, most: f64) -> Vec<DVec3> {
    let radii = dvec3(dice.between(least, most), dice.between(least, most), 0.0);
    let count = dice.pick(3, 8);
    let part = TAU / f64::from(count);
    let mut points: Vec<DVec3> = (0..count)
        .map(|i| DQuat::from_rotation_z(part * (f64::from(i) + dice.between(0.0, 0.8))) * DVec3::X * radii)
        .collect();
    if dice.pick(0, 2) == 0 {
        points.reverse();
    }
    points
}

fn moved(points: Vec<DVec3>, rotation: DQuat, by: DVec3) -> Vec<DVec3> {
    points.into_iter().map(|point| rotation * point + by).collect()
}

/// Outlines anywhere in any pose; most pass through others.
pub(super) fn loose(dice: &mut Dice) -> Vec<Vec<DVec3>> {
    let count = dice.pick(2, 12);
    let spread = dice.between(0.0, 50.0);
    let place = |dice: &mut Dice| dice.between(-spread, spread);
    (0..count)
        .map(|_| {
            let points = outline(dice, 5.0, 60.0);
            let by = dvec3(place(dice), place(dice), place(dice));
            moved(points, dice.rotation(), by)
        })
        .collect()
}

/// Long narrow bars, nearly flat on a table: many rings.
pub(super) fn bars(dice: &mut Dice) -> Vec<Vec<DVec3>> {
    let count = dice.pick(3, 14);
    (0..count)
        .map(|_| {
            let half = dvec2(dice.between(20.0, 60.0), dice.between(1.0, 8.0));
            let by = dvec3(dice.between(-30.0, 30.0), dice.between(-30.0, 30.0), dice.between(-5.0, 5.0));
            moved(rectangle(-half, half), dice.tilt(), by)
        })
        .collect()
}

/// Parallel layers 0.1 mm apart in any pose, in any order.
pub(super) fn stack(dice: &mut Dice) -> Vec<Vec<DVec3>> {
    let rotation = dice.rotation();
    let count = dice.pick(2, 25);
    let mut layers: Vec<_> = (0..count)
        .map(|i| {
            let by = dvec3(dice.between(-30.0, 30.0), dice.between(-30.0, 30.0), 0.1 * f64::from(i));
            outline(dice, 5.0, 50.0).into_iter().map(|point| rotation * (point + by)).collect()
        })
        .collect();
    dice.shuffle(&mut layers);
    layers
}

/// Two faces through one point.
pub(super) fn crossed_pair(dice: &mut Dice) -> Vec<Vec<DVec3>> {
    (0..2).map(|_| moved(outline(dice, 20.0, 60.0), dice.rotation(), DVec3::ZERO)).collect()
}

/// `count` bars along the sides of a regular polygon, each over the next at one end and under the one before at the
/// other, in any order.
pub(super) fn ring(dice: &mut Dice, count: u32) -> Vec<Vec<DVec3>> {
    let tilt = dice.tilt();
    let (radius, rise) = (dice.between(40.0, 50.0), dice.between(1.0, 4.0));
    let corner = |i: u32| DQuat::from_rotation_z(TAU * f64::from(i) / f64::from(count)) * (DVec3::X * radius);
    let mut bars: Vec<_> = (0..count)
        .map(|i| {
            let (start, end) = (corner(i) - DVec3::Z * rise, corner(i + 1) + DVec3::Z * rise);
            let (past, width) = (dice.between(0.2, 0.25), dice.between(3.0, 4.0));
            let across = (end - start).cross(DVec3::Z).normalize() * width;
            let (start, end) = (start.lerp(end, -past), end.lerp(start, -past));
            [start - across, end - across, end + across, start + across].map(|point| tilt * point).to_vec()
        })
        .collect();
    dice.shuffle(&mut bars);
    bars
}

/// A strip folded at slanted creases by any angles, some of them right or straight, so that panels share hinges, lie
/// on each other, stand edge-on or pass through each other.
pub(super) fn folded_strip(dice: &mut Dice) -> Vec<Vec<DVec3>> {
    let panels = dice.pick(2, 10);
    let square = dice.pick(0, 2) == 0;
    let mut place = DAffine3::from_quat(if square { DQuat::IDENTITY } else { dice.rotation() });
    let (mut top, mut bottom) = (dvec3(-20.0, -15.0, 0.0), dvec3(-20.0, 15.0, 0.0));
    let mut strip = Vec::new();
    for _ in 0..panels {
        let (right, slant) = (top.x.max(bottom.x) + dice.between(6.0, 40.0), dice.between(-5.0, 5.0));
        let (next_top, next_bottom) = (dvec3(right + slant, -15.0, 0.0), dvec3(right - slant, 15.0, 0.0));
        strip.push([top, next_top, next_bottom, bottom].map(|point| place.transform_point3(point)).to_vec());
        let angle = if square { PI / 2.0 * f64::from(dice.pick(0, 4)) } else { dice.between(-3.1, 3.1) };
        let hinge = DQuat::from_axis_angle((next_bottom - next_top).normalize(), angle);
        place = place
            * DAffine3::from_translation(next_top)
            * DAffine3::from_quat(hinge)
            * DAffine3::from_translation(-next_top);
        (top, bottom) = (next_top, next_bottom);
    }
    strip
}

/// A strip pleated across its length in any pose. Its panels never meet but at the folds, and as all share one
/// direction there is always an order.
pub(super) fn pleats(dice: &mut Dice) -> Vec<Vec<DVec3>> {
    let (pose, half) = (dice.rotation(), DVec3::Y * dice.between(5.0, 40.0));
    let mut at = dvec3(-40.0, 0.0, 0.0);
    let count = dice.pick(2, 16);
    let mut panels: Vec<_> = (0..count)
        .map(|_| {
            let slope = DQuat::from_rotation_y(dice.between(-1.5, 1.5));
            let next = at + slope * (DVec3::X * dice.between(3.0, 40.0));
            let panel = [at - half, next - half, next + half, at + half].map(|point| pose * point).to_vec();
            at = next;
            panel
        })
        .collect();
    dice.shuffle(&mut panels);
    panels
}
