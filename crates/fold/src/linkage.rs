//! Panels that hang together in loops: how far a loop is from closing, and how to close it.
//!
//! Each group of panels is carried from the base by the joints of a tree; every other joint has to find its two panels
//! where it wants them. The turns are found by Newton's method on these conditions, each written as the small motion
//! (three turns, three shifts) by which the one panel is off. Conditions that say the same twice do no harm.

use crate::hinge::exact_turn;
use glam::{DAffine3, DMat3, DVec3};
use std::f64::consts::FRAC_PI_2;

/// How far a loop may be from closing, in mm: the drift along a path stays a thousand times below a micrometre.
const CLOSED: f64 = 1e-9;

/// The most rounds of Newton's method: near a solution it needs five.
const ROUNDS: usize = 40;

/// What is added to the square conditions, as a part of the largest: makes conditions that say the same twice
/// harmless, and is far below those of a fold that has begun to open by a hundredth of a degree.
const SOFTNESS: f64 = 1e-13;

/// A joint that turns, as it lies when the step starts.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Pivot {
    /// Its place among the joints.
    pub(crate) joint: usize,
    /// The groups of the panels it joins. The second is carried by the first where the joint is of the tree.
    pub(crate) groups: [usize; 2],
    /// A point on its line, in mm, and its direction, so that positive turns are valleys.
    pub(crate) at: DVec3,
    pub(crate) along: DVec3,
    /// How far it has turned at the start, in quarter turns, valleys positive.
    pub(crate) quarters: i32,
}

/// Groups of panels joined by pivots.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Linkage {
    pub(crate) pivots: Vec<Pivot>,
    /// For each group, the pivot that carries it; `None` for the base's.
    pub(crate) carrier: Vec<Option<usize>>,
    /// The groups, each after the one that carries it.
    order: Vec<usize>,
    /// The pivots that carry nothing: each closes a loop.
    closing: Vec<usize>,
    /// What a radian is worth in mm.
    size: f64,
    /// The turns of the pivots, in radians from the start, at equal parts of the step from 0 to 1.
    pub(crate) path: Vec<Vec<f64>>,
}

impl Linkage {
    /// The linkage of `pivots` between so many groups, carried from group `base`. A pivot is turned round when its
    /// second group comes to carry its first.
    pub(crate) fn new(mut pivots: Vec<Pivot>, groups: usize, base: usize) -> Self {
        let mut carrier = vec![None; groups];
        let mut reached = vec![false; groups];
        reached[base] = true;
        let mut order = vec![base];
        let mut next = 0;
        while let Some(&at) = order.get(next) {
            next += 1;
            for (number, pivot) in pivots.iter_mut().enumerate() {
                let Some(near) = pivot.groups.iter().position(|&group| group == at) else { continue };
                let far = pivot.groups[1 - near];
                if !reached[far] {
                    reached[far] = true;
                    carrier[far] = Some(number);
                    order.push(far);
                    if near == 1 {
                        // Seen from the other panel the same fold turns about the opposite direction.
                        *pivot = Pivot { groups: [at, far], along: -pivot.along, ..*pivot };
                    }
                }
            }
        }
        let closing = (0..pivots.len()).filter(|pivot| !carrier.contains(&Some(*pivot))).collect();
        let first = pivots.first().map_or(DVec3::ZERO, |pivot| pivot.at);
        let size = pivots.iter().map(|pivot| pivot.at.distance(first)).fold(1.0, f64::max);
        Self { pivots, carrier, order, closing, size, path: Vec::new() }
    }

    /// Whether any loop has to close.
    pub(crate) const fn has_loops(&self) -> bool {
        !self.closing.is_empty()
    }

    /// How each group has moved when the pivots have turned by so much.
    pub(crate) fn moved(&self, turns: &[f64]) -> Vec<DAffine3> {
        let mut moved = vec![DAffine3::IDENTITY; self.carrier.len()];
        for &group in &self.order {
            if let Some(number) = self.carrier[group] {
                let pivot = &self.pivots[number];
                moved[group] = moved[pivot.groups[0]] * exact_turn(pivot.at, pivot.along, turns[number]);
            }
        }
        moved
    }

    /// How each group has moved when `progress` of the step is done.
    pub(crate) fn moved_at(&self, progress: f64) -> Vec<DAffine3> {
        self.moved(&self.turns_at(progress))
    }

    /// How far each pivot has turned from the start when `progress` of the step is done, in radians.
    pub(crate) fn turns_at(&self, progress: f64) -> Vec<f64> {
        let spans = self.path.len().saturating_sub(1);
        let (Some(first), Some(last)) = (self.path.first(), self.path.last()) else {
            return vec![0.0; self.pivots.len()];
        };
        if progress <= 0.0 || progress >= 1.0 {
            return if progress <= 0.0 { first.clone() } else { last.clone() };
        }
        let (span, part) = place(progress, spans);
        let between = |(from, to): (&f64, &f64)| from + (to - from) * part;
        let guess: Vec<f64> = self.path[span].iter().zip(&self.path[span + 1]).map(between).collect();
        self.closed(&guess, &vec![1.0; guess.len()]).unwrap_or(guess)
    }

    /// How far each joint is folded when the path ends, in quarter turns, valleys positive.
    pub(crate) fn ends(&self) -> Vec<(usize, i32)> {
        let Some(last) = self.path.last() else { return Vec::new() };
        self.pivots.iter().zip(last).map(|(pivot, turn)| (pivot.joint, pivot.quarters + quarters(*turn).0)).collect()
    }

    /// The greatest distance by which a loop is from closing at these turns, in mm, a radian counted as the size of the
    /// whole.
    pub(crate) fn gap(&self, turns: &[f64]) -> f64 {
        let (off, _) = self.conditions(turns, false);
        off.iter().fold(0.0, |most, part| most.max(part.abs()))
    }

    /// Turns near `guess` at which all loops close; each pivot gives way by its weight, one of none not at all.
    pub(crate) fn closed(&self, guess: &[f64], weights: &[f64]) -> Option<Vec<f64>> {
        self.nearest(guess, guess, weights)
    }

    /// Turns at which all loops close and that are as near as may be to `wanted`, found from `guess`.
    pub(crate) fn nearest(&self, guess: &[f64], wanted: &[f64], weights: &[f64]) -> Option<Vec<f64>> {
        let mut turns = guess.to_vec();
        for round in 0..ROUNDS {
            // Towards what is wanted in the first rounds; then what is found is closed where it is.
            let wanted = if round < ROUNDS / 2 { wanted.to_vec() } else { turns.clone() };
            let (off, rows) = self.conditions(&turns, true);
            let is_closed = off.iter().all(|part| part.abs() < CLOSED);
            // On the conditions made straight at `turns`: rows (x - turns) + off = 0.
            let goal: Vec<f64> = rows
                .iter()
                .zip(&off)
                .map(|(row, off)| {
                    -off - row.iter().zip(&wanted).zip(&turns).map(|((r, w), t)| r * (w - t)).sum::<f64>()
                })
                .collect();
            let step = least(&rows, &goal, weights)?;
            let next: Vec<f64> = wanted.iter().zip(&step).map(|(w, s)| w + s).collect();
            let change = next.iter().zip(&turns).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max);
            if !change.is_finite() {
                return None;
            }
            if is_closed && change < CLOSED {
                return Some(turns);
            }
            turns = next;
        }
        (self.gap(&turns) < CLOSED * 1e2).then_some(turns)
    }

    /// The directions in which turns may begin to change with all loops kept closed, each of length 1.
    pub(crate) fn freedoms(&self, turns: &[f64]) -> Vec<Vec<f64>> {
        let (_, rows) = self.conditions(turns, true);
        null_space(&rows, self.pivots.len())
    }

    /// By how much each loop is off at these turns, in mm, and how that changes with each turn.
    fn conditions(&self, turns: &[f64], with_rows: bool) -> (Vec<f64>, Vec<Vec<f64>>) {
        let moved = self.moved(turns);
        let (mut off, mut rows) = (Vec::new(), Vec::new());
        for &number in &self.closing {
            let pivot = &self.pivots[number];
            let [near, far] = pivot.groups.map(|group| moved[group]);
            let wanted = near * exact_turn(pivot.at, pivot.along, turns[number]);
            let at = wanted.transform_point3(pivot.at);
            let turn = rotation_vector(far.matrix3 * wanted.matrix3.transpose()) * self.size;
            let shift = far.transform_point3(pivot.at) - at;
            off.extend(turn.to_array().into_iter().chain(shift.to_array()));
            if with_rows {
                rows.extend(self.rows(number, &moved, at));
            }
        }
        (off, rows)
    }

    /// Six rows: how the turn and shift at the closing pivot `number`, now at `at`, change with each turn.
    fn rows(&self, number: usize, moved: &[DAffine3], at: DVec3) -> [Vec<f64>; 6] {
        let mut rows = [0; 6].map(|_| vec![0.0; self.pivots.len()]);
        let mut add = |pivot: usize, sign: f64| {
            let Pivot { groups: [near, _], at: point, along, .. } = self.pivots[pivot];
            let axis = moved[near].transform_vector3(along) * sign;
            let shift = axis.cross(at - moved[near].transform_point3(point));
            let turn = axis * self.size;
            for (row, part) in rows.iter_mut().zip(turn.to_array().into_iter().chain(shift.to_array())) {
                row[pivot] += part;
            }
        };
        let [near, far] = self.pivots[number].groups;
        add(number, -1.0);
        for (group, sign) in [(far, 1.0), (near, -1.0)] {
            let mut at = group;
            while let Some(carrier) = self.carrier[at] {
                add(carrier, sign);
                at = self.pivots[carrier].groups[0];
            }
        }
        rows
    }
}

/// The nearest whole number of quarter turns, and by how many radians it is missed.
#[expect(clippy::cast_possible_truncation, reason = "a few turns at most")]
pub(crate) fn quarters(radians: f64) -> (i32, f64) {
    let whole = libm::round(radians / FRAC_PI_2);
    (whole as i32, (radians - whole * FRAC_PI_2).abs())
}

/// The part of the path at which `progress` lies, and how far along.
#[expect(clippy::cast_possible_truncation, clippy::cast_precision_loss, reason = "within the count of spans")]
#[expect(clippy::cast_sign_loss, reason = "not negative")]
fn place(progress: f64, spans: usize) -> (usize, f64) {
    let along = progress * spans as f64;
    let span = (libm::floor(along) as usize).min(spans.saturating_sub(1));
    (span, along - span as f64)
}

/// The vector along the axis of a rotation, as long as its angle; for small angles exact to the third power.
fn rotation_vector(turn: DMat3) -> DVec3 {
    let (x, y, z) = (turn.x_axis, turn.y_axis, turn.z_axis);
    let twice = DVec3::new(y.z - z.y, z.x - x.z, x.y - y.x);
    let (sin, cos) = (twice.length() / 2.0, (x.x + y.y + z.z - 1.0) / 2.0);
    if sin > 1e-9 {
        return twice * (libm::atan2(sin, cos) / (2.0 * sin));
    }
    if cos > 0.0 {
        return twice / 2.0;
    }
    // Half a turn: the axis is the direction that stays.
    let columns = [x + DVec3::X, y + DVec3::Y, z + DVec3::Z];
    let longest = columns.into_iter().fold(DVec3::ZERO, |a, b| if b.length() > a.length() { b } else { a });
    longest.normalize_or_zero() * std::f64::consts::PI
}

/// The least `x`, measured by the weights, with `rows x = goal`: `W Rt (R W Rt + e)^-1 goal`.
fn least(rows: &[Vec<f64>], goal: &[f64], weights: &[f64]) -> Option<Vec<f64>> {
    let count = rows.len();
    let dot = |a: &[f64], b: &[f64]| a.iter().zip(b).zip(weights).map(|((a, b), w)| a * b * w).sum::<f64>();
    let mut square: Vec<Vec<f64>> = rows.iter().map(|a| rows.iter().map(|b| dot(a, b)).collect()).collect();
    let most = (0..count).map(|i| square[i][i]).fold(f64::MIN_POSITIVE, f64::max);
    for (i, row) in square.iter_mut().enumerate() {
        row[i] += most * SOFTNESS;
    }
    let shares = solved(&square, goal)?;
    let along = |i: usize| weights[i] * rows.iter().zip(&shares).map(|(row, share)| row[i] * share).sum::<f64>();
    Some((0..weights.len()).map(along).collect())
}

/// The solution of a symmetric positive system (Cholesky); `None` where rounding has left nothing of a row.
fn solved(a: &[Vec<f64>], goal: &[f64]) -> Option<Vec<f64>> {
    let dot = |a: &[f64], b: &[f64]| a.iter().zip(b).map(|(a, b)| a * b).sum::<f64>();
    let mut lower: Vec<Vec<f64>> = Vec::with_capacity(a.len());
    let mut x: Vec<f64> = Vec::with_capacity(a.len());
    for (i, of_a) in a.iter().enumerate() {
        let mut row: Vec<f64> = Vec::with_capacity(i + 1);
        for (earlier, part) in lower.iter().zip(of_a) {
            let lead = earlier[row.len()];
            row.push((part - dot(&row, earlier)) / lead);
        }
        let root = (of_a[i] - dot(&row, &row)).sqrt();
        if !root.is_finite() || root <= 0.0 {
            return None;
        }
        x.push((goal[i] - dot(&row, &x)) / root);
        row.push(root);
        lower.push(row);
    }
    for i in (0..x.len()).rev() {
        x[i] /= lower[i][i];
        let done = x[i];
        x.iter_mut().zip(&lower[i][..i]).for_each(|(x, part)| *x -= part * done);
    }
    Some(x)
}

/// Directions that all rows take to nothing, of length 1 and square to one another: what elimination with the largest
/// pivots leaves free, made square (Gram and Schmidt).
fn null_space(rows: &[Vec<f64>], count: usize) -> Vec<Vec<f64>> {
    let mut rows = rows.to_vec();
    let most = rows.iter().flatten().fold(0.0_f64, |most, part| most.max(part.abs())).max(f64::MIN_POSITIVE);
    let mut leads: Vec<usize> = Vec::new();
    for done in 0..rows.len().min(count) {
        let free = |column: &usize| !leads.contains(column);
        let cells = (done..rows.len()).flat_map(|row| (0..count).filter(free).map(move |column| (row, column)));
        let best = cells.fold(None, |best: Option<(usize, usize)>, (row, column)| match best {
            Some((r, c)) if rows[r][c].abs() >= rows[row][column].abs() => best,
            _ => Some((row, column)),
        });
        let Some((row, column)) = best.filter(|&(row, column)| rows[row][column].abs() > most * 1e-9) else { break };
        rows.swap(done, row);
        leads.push(column);
        let lead: Vec<f64> = rows[done].iter().map(|part| part / rows[done][column]).collect();
        for (i, other) in rows.iter_mut().enumerate() {
            if i != done {
                let by = other[column];
                other.iter_mut().zip(&lead).for_each(|(part, of_lead)| *part -= by * of_lead);
            }
        }
        rows[done] = lead;
    }
    let mut out: Vec<Vec<f64>> = Vec::new();
    for free in (0..count).filter(|column| !leads.contains(column)) {
        let mut way = vec![0.0; count];
        way[free] = 1.0;
        for (row, &column) in rows.iter().zip(&leads) {
            way[column] = -row[free];
        }
        for earlier in &out {
            let along: f64 = way.iter().zip(earlier).map(|(a, b)| a * b).sum();
            way.iter_mut().zip(earlier).for_each(|(part, of_earlier)| *part -= along * of_earlier);
        }
        let length = way.iter().map(|part| part * part).sum::<f64>().sqrt();
        out.push(way.into_iter().map(|part| part / length).collect());
    }
    out
}
