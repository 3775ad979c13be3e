//! Scores in dashes, and as rows of little cuts.
//!
//! Machines run what they are given and know no dashes, so each dash is a track of its own. A pressed score begins and
//! ends with a dash, so that the paper is pressed right up to its edge, where a fold starts to stray. A perforated one
//! begins and ends with uncut paper: a cut that ran into the edge, or into another score, would be where it tears.

use super::contour::Track;
use model::Length;

/// How scores are done.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum ScoreStyle {
    /// Pressed, or cut half through, in one go.
    #[default]
    Solid,
    /// Pressed, or cut half through, in dashes.
    Dashed(Dashes),
    /// Cut through, in dashes.
    Perforated(Dashes),
}

/// Lengths of dashes and of what is left between them, each [`Dashes::LEAST`] at least.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Dashes {
    dash: Length,
    gap: Length,
}

impl Dashes {
    /// The shortest dash or gap, 0.1 mm: less is no longer than a blade or a beam is wide (common practice, no source).
    pub const LEAST: Length = Length::from_nm(100_000);

    /// For pressed scores: 4 mm and 1 mm (common practice, no source).
    pub const PRESSED: Self = Self { dash: Length::from_nm(4_000_000), gap: Length::from_nm(1_000_000) };

    /// For perforated scores: 2 mm cut and 1 mm left (common practice, no source).
    pub const CUT: Self = Self { dash: Length::from_nm(2_000_000), gap: Length::from_nm(1_000_000) };

    /// Dashes and gaps so long; `None` when either is shorter than [`Dashes::LEAST`].
    #[must_use]
    pub fn new(dash: Length, gap: Length) -> Option<Self> {
        (dash >= Self::LEAST && gap >= Self::LEAST).then_some(Self { dash, gap })
    }

    /// The length of a dash.
    #[must_use]
    pub const fn dash(self) -> Length {
        self.dash
    }

    /// The length of a gap.
    #[must_use]
    pub const fn gap(self) -> Length {
        self.gap
    }
}

/// What a length that is a whole number of dashes may miss of it by rounding, in dashes.
const ROUNDING: f64 = 1e-6;

impl ScoreStyle {
    /// About how many dashes a length takes, in mm.
    pub(super) fn count(self, length: f64) -> f64 {
        match self {
            Self::Solid => 0.0,
            Self::Dashed(dashes) | Self::Perforated(dashes) => length / (dashes.dash + dashes.gap).mm() + 1.0,
        }
    }

    /// A score that meets no other on its way, broken as it is to be done.
    pub(super) fn broken(self, track: Track) -> Vec<Track> {
        let length = track.length();
        let spans = match self {
            Self::Solid => return vec![track],
            Self::Dashed(dashes) => pressed(length, dashes.dash.mm(), dashes.gap.mm()),
            Self::Perforated(dashes) => perforated(length, dashes.dash.mm(), dashes.gap.mm()),
        };
        spans.into_iter().filter_map(|(from, to)| track.between(from, to)).collect()
    }
}

/// Gaps as long as asked, and dashes at least so, so that one starts and one ends the length.
fn pressed(length: f64, dash: f64, gap: f64) -> Vec<(f64, f64)> {
    let count = ((length + gap) / (dash + gap) + ROUNDING).floor().max(1.0);
    let dash = (length - (count - 1.0) * gap) / count;
    numbers(count).map(|k| k * (dash + gap)).map(|from| (from, from + dash)).collect()
}

/// Dashes as long as asked, and gaps at least so, so that one starts and one ends the length. Where not even one dash
/// goes in with its gaps, the middle third is cut.
fn perforated(length: f64, dash: f64, gap: f64) -> Vec<(f64, f64)> {
    let count = ((length - gap) / (dash + gap) + ROUNDING).floor();
    if count < 1.0 {
        return vec![(length / 3.0, length / 3.0 * 2.0)];
    }
    let gap = (length - count * dash) / (count + 1.0);
    numbers(count).map(|k| gap + k * (dash + gap)).map(|from| (from, from + dash)).collect()
}

/// 0, 1, 2 … below `count`.
fn numbers(count: f64) -> impl Iterator<Item = f64> {
    std::iter::successors(Some(0.0_f64), |k| Some(k + 1.0)).take_while(move |&k| k < count - 0.5)
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::Point;

    #[track_caller]
    fn check(found: &[(f64, f64)], expected: &[(f64, f64)]) {
        assert_eq!(found.len(), expected.len(), "{found:?}");
        for ((a, b), (c, d)) in found.iter().zip(expected) {
            assert!((a - c).abs() < 1e-9 && (b - d).abs() < 1e-9, "{found:?}");
        }
    }

    #[test]
    fn a_pressed_score_begins_and_ends_with_a_dash() {
        check(&pressed(14.0, 4.0, 1.0), &[(0.0, 4.0), (5.0, 9.0), (10.0, 14.0)]);
        // A little longer: the dashes take it up; a little shorter: one dash less.
        check(&pressed(17.0, 4.0, 1.0), &[(0.0, 5.0), (6.0, 11.0), (12.0, 17.0)]);
        check(&pressed(13.0, 4.0, 1.0), &[(0.0, 6.0), (7.0, 13.0)]);
        check(&pressed(3.0, 4.0, 1.0), &[(0.0, 3.0)]);
    }

    #[test]
    fn a_perforated_score_begins_and_ends_with_uncut_paper() {
        check(&perforated(7.0, 2.0, 1.0), &[(1.0, 3.0), (4.0, 6.0)]);
        // The gaps take up what is over, never the dashes.
        check(&perforated(8.5, 2.0, 1.0), &[(1.5, 3.5), (5.0, 7.0)]);
        check(&perforated(4.0, 2.0, 1.0), &[(1.0, 3.0)]);
        check(&perforated(3.0, 2.0, 1.0), &[(1.0, 2.0)]);
    }

    #[test]
    fn dashes_have_a_least_length() {
        let (least, less) = (Dashes::LEAST, Dashes::LEAST - Length::from_nm(1));
        assert!(Dashes::new(least, least).is_some());
        assert!(Dashes::new(less, least).is_none() && Dashes::new(least, Length::ZERO).is_none());
    }

    #[test]
    fn dashes_follow_the_track() {
        let track = Track::line(Point::new(1.0, 2.0), Point::new(1.0, 9.0));
        let dashes = ScoreStyle::Perforated(Dashes::CUT).broken(track.clone());
        let ends: Vec<(f64, f64)> = dashes.iter().map(|dash| (dash.start.y, dash.end().y)).collect();
        check(&ends, &[(3.0, 5.0), (6.0, 8.0)]);
        assert_eq!(ScoreStyle::Solid.broken(track.clone()), [track]);
    }
}
