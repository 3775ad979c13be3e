//! Whether the closed state passes through itself.
//!
//! Round any stretch of line in space, look at a section across it: facets leave the line in several directions, those
//! in one direction stacked in layers. Each seam joins two of these ends, and so does a facet that runs on across the
//! line. Paper does not cross itself there exactly when no two such chords alternate round the line. This one rule
//! holds all of the known cases: two folds on one side (taco-taco), a fold and a panel between its halves
//! (taco-tortilla), unfolded joints (tortilla-tortilla), and walls at right angles.
//!
//! Besides, three facets over one spot may not lie on one another in a ring, and facets in planes that are not
//! parallel may not pass through one another.

use crate::boxes::{Bounds, meetings};
use crate::facet::Seam;
use crate::layer::{Lie, Side};
use crate::overlap::{LEAST_WIDTH, edges, is_proper, shared};
use crate::relations::Relations;
use crate::solid::{Solid, pass_through};
use glam::DVec3;
use order::ones;
use std::cmp::Ordering;
use std::collections::BTreeSet;

/// Distances from a line or plane below this, in mm, are none (as in [`crate::layer`]).
const SAME_PLACE: f64 = 1e-3;

/// Directions whose cosine is nearer to 1 than this are one.
const SAME_WAY: f64 = 1e-9;

/// Two facets' ends at a line, joined there.
#[derive(Debug, Clone, Copy)]
struct Chord {
    /// Each facet, and the way it leaves the line.
    ends: [(usize, DVec3); 2],
}

/// The sets of panels that would pass through one another, each ascending, all in ascending order.
pub(crate) fn crossings(seams: &[Seam], lie: &Lie, relations: &Relations) -> Vec<Vec<usize>> {
    let mut found: BTreeSet<Vec<usize>> = BTreeSet::new();
    let mut note = |facets: &[usize]| {
        let panels: BTreeSet<usize> = facets.iter().map(|&facet| lie.facets[facet].panel).collect();
        found.insert(panels.into_iter().collect());
    };
    let placed: Vec<[DVec3; 2]> = seams.iter().map(|seam| placed(seam, lie)).collect();
    let chords: Vec<Chord> = seams.iter().zip(&placed).map(|(seam, &ends)| of_seam(seam, ends, lie)).collect();
    let way = |seam: usize| (placed[seam][1] - placed[seam][0]).normalize_or_zero();
    let boxed = |&[p, q]: &[DVec3; 2]| (p.min(q) - DVec3::splat(SAME_PLACE), p.max(q) + DVec3::splat(SAME_PLACE));
    let mut boxes: Vec<Bounds> = placed.iter().map(boxed).collect();
    meetings(
        &boxes,
        |seam| seam,
        |i, j| {
            let (chord, other) = (chords[i], chords[j]);
            if on_one_line(placed[i], placed[j]) && alternate(chord, other, way(i), lie, relations) {
                note(&[chord.ends[0].0, chord.ends[1].0, other.ends[0].0, other.ends[1].0]);
            }
        },
    );
    boxes.extend(&lie.boxes);
    meetings(
        &boxes,
        |i| usize::from(i >= seams.len()),
        |i, facet| {
            let (facet, chord) = (facet - seams.len(), chords[i]);
            let across = lie.normal(facet).cross(way(i));
            let through = Chord { ends: [(facet, across), (facet, -across)] };
            if runs_across(placed[i], facet, lie) && alternate(chord, through, way(i), lie, relations) {
                note(&[chord.ends[0].0, chord.ends[1].0, facet]);
            }
        },
    );
    for ring in rings(lie, relations) {
        note(&ring);
    }
    for (a, b) in pierced(lie) {
        note(&[a, b]);
    }
    found.into_iter().collect()
}

fn placed(seam: &Seam, lie: &Lie) -> [DVec3; 2] {
    seam.ends.map(|end| lie.frame(seam.facets[0]).transform_point3(end.extend(0.0)))
}

fn of_seam(seam: &Seam, [from, to]: [DVec3; 2], lie: &Lie) -> Chord {
    let way = (to - from).normalize_or_zero();
    let [left, right] = seam.facets;
    Chord { ends: [(left, lie.normal(left).cross(way)), (right, way.cross(lie.normal(right)))] }
}

/// Whether two stretches lie on one line and share some length.
fn on_one_line([p, q]: [DVec3; 2], [r, s]: [DVec3; 2]) -> bool {
    let slack = DVec3::splat(SAME_PLACE);
    if !(p.min(q) - slack).cmple(r.max(s)).all() || !(r.min(s) - slack).cmple(p.max(q)).all() {
        return false;
    }
    let length = p.distance(q);
    let way = (q - p) / length.max(f64::MIN_POSITIVE);
    let aside = |point: DVec3| (point - p).cross(way).length() > SAME_PLACE;
    if aside(r) || aside(s) {
        return false;
    }
    let (u, v) = (way.dot(r - p), way.dot(s - p));
    u.max(v).min(length) - u.min(v).max(0.0) > LEAST_WIDTH
}

/// Whether a facet has some of the stretch inside it.
fn runs_across(ends: [DVec3; 2], facet: usize, lie: &Lie) -> bool {
    let [from, to] = ends.map(|end| lie.on_sheet(facet, end));
    if from.z.abs() > SAME_PLACE || to.z.abs() > SAME_PLACE {
        return false;
    }
    let (from, to) = (from.truncate(), to.truncate());
    let (mut low, mut high) = (0.0_f64, 1.0_f64);
    for (p, q) in edges(&lie.facets[facet].shape) {
        let inwards = (q - p).normalize_or_zero().perp();
        let (at, end) = (inwards.dot(from - p) - LEAST_WIDTH, inwards.dot(to - p) - LEAST_WIDTH);
        if at < 0.0 && end < 0.0 {
            return false;
        }
        let turn = at / (at - end);
        if at < 0.0 {
            low = low.max(turn);
        } else if end < 0.0 {
            high = high.min(turn);
        }
    }
    (high - low) * from.distance(to) > LEAST_WIDTH
}

/// Whether two chords alternate round the line along `way`.
fn alternate(x: Chord, y: Chord, way: DVec3, lie: &Lie, relations: &Relations) -> bool {
    let zero = x.ends[0].1;
    let angle = |end: DVec3| {
        let quarter = round(zero.dot(end), way.cross(zero).dot(end));
        if quarter > 4.0 - SAME_WAY { 0.0 } else { quarter }
    };
    // `None` where two ends lie on one another and their order is not known: then nothing is claimed.
    let before = |a: (usize, DVec3), b: (usize, DVec3)| -> Option<bool> {
        if a.1.dot(b.1) > 1.0 - SAME_WAY {
            relations.above(lie, a.0, b.0, way.cross(a.1))
        } else {
            Some(angle(a.1).total_cmp(&angle(b.1)) == Ordering::Less)
        }
    };
    let between = |end| Some(before(x.ends[0], end)? != before(x.ends[1], end)?);
    match (between(y.ends[0]), between(y.ends[1])) {
        (Some(first), Some(second)) => first != second,
        _ => false,
    }
}

/// Grows with the angle of `(x, y)` from the right, anticlockwise, from 0 to 4.
fn round(x: f64, y: f64) -> f64 {
    let share = y.abs() / (x.abs() + y.abs()).max(f64::MIN_POSITIVE);
    match (x >= 0.0, y >= 0.0) {
        (true, true) => share,
        (false, true) => 2.0 - share,
        (false, false) => 2.0 + share,
        (true, false) => 4.0 - share,
    }
}

/// Facets that lie on one another in a ring over one spot.
fn rings(lie: &Lie, relations: &Relations) -> Vec<[usize; 3]> {
    let mut out = Vec::new();
    for a in 0..relations.count() {
        for (b, side) in relations.after(a) {
            // A ring: b on a, a on c, c on b; or all three the other way. So c lies on the other face of a, and on that of b
            // which looks away from a.
            let b_on_a = side == Side::Front;
            let alike = lie.normal(b).dot(lie.normal(a)) > 0.0;
            let words = relations.row(a).iter().zip(relations.row(b)).enumerate().skip(b / 64);
            for (at, (of_a, of_b)) in words {
                let under_a = if b_on_a { of_a.back } else { of_a.front };
                let over_b = if b_on_a == alike { of_b.front } else { of_b.back };
                for c in ones(under_a & over_b).map(|bit| at * 64 + bit).filter(|&c| c > b) {
                    if share_spot(lie, a, b, c) {
                        out.push([a, b, c]);
                    }
                }
            }
        }
    }
    out
}

fn share_spot(lie: &Lie, a: usize, b: usize, c: usize) -> bool {
    match (lie.covered(a, b), lie.covered(a, c)) {
        (Some(b), Some(c)) => is_proper(&shared(&b, &c)),
        _ => false,
    }
}

/// Facets in planes that are not parallel and pass through one another.
pub(crate) fn pierced(lie: &Lie) -> Vec<(usize, usize)> {
    let solids: Vec<Solid> = (0..lie.facets.len()).map(|facet| lie.solid(facet)).collect();
    let mut pairs = Vec::new();
    meetings(
        &lie.boxes,
        |facet| facet,
        |a, b| {
            if pass_through(&solids[a], &solids[b]) {
                pairs.push((a, b));
            }
        },
    );
    pairs.sort_unstable();
    pairs
}
