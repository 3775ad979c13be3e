//! Whether folds that meet in a point of whole paper fold flat together.
//!
//! Laid flat, the paper turns back at every fold, so the angles between them, added and taken away in turn, come to nothing
//! (Kawasaki and Justin), and of mountains and valleys there are two more of one than of the other (Maekawa and Justin).
//! Whether some layer order keeps the paper from crossing itself is told by folding the narrowest angles away, one run of
//! equal ones after the other (T. Hull, "The combinatorics of flat folds", arXiv:1410.5022).
//!
//! How paper moves on the way there is not asked here, but for single straight hinges ([`free_lines`]).

use crate::vertex::closes;
use glam::DVec2;
use model::Direction;
use std::fmt;

/// Angles that differ by less than this, in degrees, are equal: a millionth of a radian, which over a sheet is less than a
/// micrometre.
const SAME_ANGLE: f64 = 6e-5;

/// What is to be said of folds that meet in a point.
#[derive(Debug, Clone, PartialEq)]
pub enum VertexVerdict {
    /// They fold flat together.
    Folds,
    /// Their count is odd, or there are none, so the paper does not come back to where it was.
    Odd {
        /// How many folds meet.
        folds: usize,
    },
    /// Every second angle and the others don't add up to the same.
    Angles {
        /// Both sums, in degrees: of the first angle and every second after it, and of the others.
        sums: [f64; 2],
    },
    /// There are not two more of one kind than of the other, whichever way those fold that may fold either way.
    Counts {
        /// How many mountains.
        mountains: usize,
        /// How many valleys.
        valleys: usize,
    },
    /// The paper would have to pass through itself: of the folds round a run of equal angles narrower than their
    /// neighbours, once what is narrower still is folded away, there are too many of one kind.
    NoOrder {
        /// How many angles the run has.
        run: usize,
        /// How many mountains bound them.
        mountains: usize,
        /// How many valleys.
        valleys: usize,
    },
    /// The numbers are not those of folds round a point: angles that are not positive, or not as many as folds.
    Unclear,
}

impl VertexVerdict {
    /// Whether they fold flat together.
    #[must_use]
    pub const fn folds(&self) -> bool {
        matches!(self, Self::Folds)
    }
}

impl fmt::Display for VertexVerdict {
    /// A clause that says why, such as "3 mountains and 3 valleys meet; a flat fold needs two more of one than of the
    /// other".
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Folds => write!(f, "the folds that meet fold flat together"),
            Self::Odd { folds } => write!(f, "{} meet; a flat fold needs an even number", number(*folds, "fold")),
            Self::Angles { sums: [first, second] } => write!(
                f,
                "every second angle adds up to {} and the others to {}; a flat fold needs both alike",
                degrees(*first),
                degrees(*second)
            ),
            Self::Counts { mountains, valleys } => write!(
                f,
                "{} and {} meet; a flat fold needs two more of one than of the other",
                number(*mountains, "mountain"),
                number(*valleys, "valley")
            ),
            Self::NoOrder { run, mountains, valleys } => write!(
                f,
                "no layer order: {} and {} bound its narrowest angles; paper needs {}",
                number(*mountains, "mountain"),
                number(*valleys, "valley"),
                if run % 2 == 1 { "as many of one as of the other" } else { "one more of one than of the other" }
            ),
            Self::Unclear => write!(f, "the angles between the folds are not known"),
        }
    }
}

/// Whether the folds round a point fold flat together: `angles`, in degrees, one after the other, and `folds`, of which
/// each lies between the angle of its number and the next (the last one between the last and the first). On a flat sheet
/// angles add up to 360°; a cone's are taken as well.
#[must_use]
pub fn vertex_verdict(angles: &[f64], folds: &[Direction]) -> VertexVerdict {
    if angles.len() != folds.len() {
        return VertexVerdict::Unclear;
    }
    if let Some(verdict) = angles_verdict(angles) {
        return verdict;
    }
    let kinds = Kinds::of(folds);
    if !kinds.can_differ(folds.len() / 2 + 1) {
        return VertexVerdict::Counts { mountains: kinds.mountains, valleys: kinds.valleys };
    }
    let mut ring: Vec<(f64, Direction)> = angles.iter().copied().zip(folds.iter().copied()).collect();
    while let Some(run) = narrowest(&mut ring) {
        if let Err(kinds) = folded_away(&mut ring, run) {
            return VertexVerdict::NoOrder { run, mountains: kinds.mountains, valleys: kinds.valleys };
        }
    }
    let left: Vec<Direction> = ring.iter().map(|(_, fold)| *fold).collect();
    let kinds = Kinds::of(&left);
    if kinds.can_differ(left.len() / 2 + 1) {
        VertexVerdict::Folds
    } else {
        VertexVerdict::NoOrder { run: left.len(), mountains: kinds.mountains, valleys: kinds.valleys }
    }
}

/// In how many ways folds at these angles (as in [`vertex_verdict`]) can be mountains and valleys and fold flat together;
/// 0 when the angles don't allow it, the largest number when there are more.
#[must_use]
pub fn vertex_words(angles: &[f64]) -> u64 {
    if angles_verdict(angles).is_some() {
        return 0;
    }
    let mut ring: Vec<(f64, Direction)> = angles.iter().map(|&angle| (angle, Direction::Either)).collect();
    let mut words = 1_u64;
    while let Some(run) = narrowest(&mut ring) {
        words = words.saturating_mul(choose(run + 1, run.div_ceil(2)));
        if folded_away(&mut ring, run).is_err() {
            return 0;
        }
    }
    let half = ring.len() / 2;
    words.saturating_mul(2).saturating_mul(choose(2 * half, half - 1))
}

/// The pairs of folds round a point along which it can be folded next as along one straight hinge, the paper between the
/// others staying as it is. `folded` says which of them are folded flat already; the rest are not folded at all.
///
/// At four right angles it is one whole line or the other at first, and once one is folded the other.
#[must_use]
pub fn free_lines(angles: &[f64], folds: &[Direction], folded: &[bool]) -> Vec<[usize; 2]> {
    let count = angles.len();
    if folds.len() != count || folded.len() != count {
        return Vec::new();
    }
    let mut way = 0.0;
    let along: Vec<DVec2> = angles
        .iter()
        .map(|angle| {
            way += angle;
            let (sin, cos) = libm::sincos(f64::to_radians(way));
            DVec2::new(cos, sin)
        })
        .collect();
    let rest = (0..count).filter(|&fold| !folded[fold]);
    let pairs = rest.clone().flat_map(|a| rest.clone().filter(move |&b| b > a).map(move |b| [a, b]));
    pairs.filter(|pair| moves(&along, folds, folded, *pair)).collect()
}

/// Whether two folds can fold while all others stay as they are.
fn moves(along: &[DVec2], folds: &[Direction], folded: &[bool], pair: [usize; 2]) -> bool {
    let ways = |fold: Direction| match fold {
        Direction::Valley => &[2.0][..],
        Direction::Mountain => &[-2.0],
        Direction::Either => &[2.0, -2.0],
    };
    // What is folded flat is as far turned either way.
    let quarters = |fold: usize| if folded[fold] { 2.0 } else { 0.0 };
    let [a, b] = pair;
    ways(folds[a]).iter().any(|&first| {
        ways(folds[b]).iter().any(|&second| {
            closes((0..along.len()).map(|fold| {
                let target = match fold {
                    _ if fold == a => Some(first),
                    _ if fold == b => Some(second),
                    _ => None,
                };
                (along[fold], quarters(fold), target)
            }))
        })
    })
}

/// How many mountains, valleys and folds that may be either there are.
#[derive(Debug, Clone, Copy)]
struct Kinds {
    mountains: usize,
    valleys: usize,
}

impl Kinds {
    fn of(folds: &[Direction]) -> Self {
        let count = |direction| folds.iter().filter(|&&fold| fold == direction).count();
        Self { mountains: count(Direction::Mountain), valleys: count(Direction::Valley) }
    }

    /// Whether of one kind there can be `more` exactly, and the rest of `more * 2 - 2` of the other.
    const fn can_differ(self, more: usize) -> bool {
        let less = more - 2;
        (self.mountains <= more && self.valleys <= less) || (self.mountains <= less && self.valleys <= more)
    }
}

/// What is wrong with the angles alone.
fn angles_verdict(angles: &[f64]) -> Option<VertexVerdict> {
    if !angles.iter().all(|angle| angle.is_finite() && *angle > SAME_ANGLE) {
        return Some(VertexVerdict::Unclear);
    }
    if angles.is_empty() || angles.len() % 2 == 1 {
        return Some(VertexVerdict::Odd { folds: angles.len() });
    }
    let sums = [0, 1].map(|from| angles.iter().skip(from).step_by(2).sum::<f64>());
    ((sums[0] - sums[1]).abs() > SAME_ANGLE).then_some(VertexVerdict::Angles { sums })
}

/// Turns the ring so that a run of narrowest angles comes first, and gives its length; `None` when all are equal. Each
/// angle comes with the fold after it.
fn narrowest(ring: &mut [(f64, Direction)]) -> Option<usize> {
    let least = ring.iter().map(|(angle, _)| *angle).min_by(f64::total_cmp)?;
    let is_least = |&(angle, _): &(f64, Direction)| angle - least <= SAME_ANGLE;
    let start = (0..ring.len()).find(|&i| is_least(&ring[i]) && !is_least(&ring[(i + ring.len() - 1) % ring.len()]))?;
    ring.rotate_left(start);
    Some(ring.iter().take_while(|angle| is_least(angle)).count())
}

/// Folds a run of narrowest angles, at the start of the ring, away.
///
/// # Errors
/// The folds that bound the run, when there are too many of one kind.
fn folded_away(ring: &mut Vec<(f64, Direction)>, run: usize) -> Result<(), Kinds> {
    let before = ring.len() - 1;
    let bounding: Vec<Direction> = std::iter::once(before).chain(0..run).map(|i| ring[i].1).collect();
    let kinds = Kinds::of(&bounding);
    let half = run.div_ceil(2);
    if run % 2 == 1 {
        // All its folds are gone, and the angles on either side of it have become one. Two larger angles are left at
        // least, or the sums would not be equal.
        if kinds.mountains > half || kinds.valleys > half || before <= run {
            return Err(kinds);
        }
        let (next, fold) = ring[run];
        ring[before] = (ring[before].0 - ring[0].0 + next, fold);
        ring.drain(..=run);
        return Ok(());
    }
    // One fold is left of it, of the kind of which there was one more.
    let [mountain, valley] = [(kinds.valleys, kinds.mountains), (kinds.mountains, kinds.valleys)]
        .map(|(fewer, more)| fewer <= half && more <= half + 1);
    ring[before].1 = match (mountain, valley) {
        (true, true) => Direction::Either,
        (true, false) => Direction::Mountain,
        (false, true) => Direction::Valley,
        (false, false) => return Err(kinds),
    };
    ring.drain(..run);
    Ok(())
}

/// Binomial coefficient; the largest number when there are more.
fn choose(n: usize, k: usize) -> u64 {
    let mut out = 1_u128;
    for i in 0..k {
        let (Ok(top), Ok(bottom)) = (u128::try_from(n - i), u128::try_from(i + 1)) else { return u64::MAX };
        out = out * top / bottom;
        if out > u128::from(u64::MAX) {
            return u64::MAX;
        }
    }
    u64::try_from(out).unwrap_or(u64::MAX)
}

/// "3 mountains", "1 valley", "no folds".
fn number(count: usize, what: &str) -> String {
    let plural = match what {
        "valley" if count != 1 => "valleys".to_owned(),
        _ if count != 1 => format!("{what}s"),
        _ => what.to_owned(),
    };
    if count == 0 { format!("no {plural}") } else { format!("{count} {plural}") }
}

/// "170°", "170.25°": no more digits than there are.
fn degrees(angle: f64) -> String {
    let text = format!("{angle:.2}");
    format!("{}°", text.trim_end_matches('0').trim_end_matches('.'))
}
