//! The folio closing and opening, picture by picture.
//!
//! Pictures are made one at a time, when they are asked for. All of them have the same frame, which holds the whole
//! motion, so that the folio moves and the eye does not.

use crate::artwork::Printed;
use crate::folded::{Posed, View, bounds_in_pose, framed_picture, printed_scene};
use crate::list::Drawing;
use fold::{Assembly, Folding};
use kurbo::Rect;
use model::Layout;

/// How long a step takes, hundredths of a second.
const STEP: u32 = 100;

/// The shortest time that a picture is shown, hundredths of a second: programs that show moving pictures slow down those
/// with less (common practice, no source).
const SHORTEST: u32 = 2;

/// A pause after a step, hundredths of a second, before the next begins.
const BREATH: u32 = 30;

/// The most pictures of one animation: a hundred steps of 20 pictures, there and back.
pub const MOST_MOMENTS: usize = 4000;

/// The most pictures that a step may take: no more can be told apart in a second.
pub const MOST_PER_STEP: u32 = STEP / SHORTEST;

/// How the folio moves.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Pace {
    /// Pictures for each step, 1 to [`MOST_PER_STEP`]; a step takes about a second however many there are.
    pub per_step: u32,
    /// How long it lies flat, and closed, hundredths of a second.
    pub hold: u32,
}

impl Default for Pace {
    fn default() -> Self {
        Self { per_step: 12, hold: 150 }
    }
}

/// One picture.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Moment {
    /// How far the folio is closed: so many steps.
    pub time: f64,
    /// How long it is shown, hundredths of a second.
    pub centiseconds: u32,
}

/// Why there is no animation.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Still {
    /// No step moves anything.
    NothingFolds,
    /// It would take so many pictures, more than [`MOST_MOMENTS`].
    TooMany(usize),
}

/// The folio closing and opening.
#[derive(Debug, Clone)]
pub struct Animation<'a> {
    layout: &'a Layout,
    assembly: &'a Assembly,
    folding: &'a Folding,
    printed: Printed<'a>,
    view: View,
    moments: Vec<Moment>,
    frame: Rect,
    longest: f64,
    title: String,
}

impl<'a> Animation<'a> {
    /// An animation of `folding` in plain paper, whose longer side is `longest` mm, for a design of this title.
    ///
    /// # Errors
    /// [`Still`] when there is nothing to be seen moving, or too much.
    pub fn new(
        (layout, assembly, folding): (&'a Layout, &'a Assembly, &'a Folding),
        view: View,
        pace: Pace,
        longest: f64,
        title: &str,
    ) -> Result<Self, Still> {
        let moments = moments(folding.steps(), |step| folding.moves(step), pace)?;
        let reach = |moment: &Moment| bounds_in_pose(layout, &Posed::at(assembly, folding, moment.time), &view);
        let frame = moments.iter().map(reach).reduce(|all, one| all.union(one)).unwrap_or(Rect::ZERO);
        let printed = Printed::NOTHING;
        Ok(Self { layout, assembly, folding, printed, view, moments, frame, longest, title: title.to_owned() })
    }

    /// What is shown, for how long: flat, closing, closed, opening. It goes round.
    #[must_use]
    pub fn moments(&self) -> &[Moment] {
        &self.moments
    }

    /// What of the view is within the margin of every picture, mm of the paper.
    #[must_use]
    pub const fn frame(&self) -> Rect {
        self.frame
    }

    /// The same animation with what is printed on the papers.
    #[must_use]
    pub fn printed(self, printed: Printed<'a>) -> Self {
        Self { printed, ..self }
    }

    /// The picture of a moment.
    #[must_use]
    pub fn drawing(&self, moment: &Moment) -> Drawing {
        let posed = Posed::at(self.assembly, self.folding, moment.time);
        let scene = printed_scene(self.layout, &posed, &self.view, &self.printed);
        framed_picture(&scene, self.frame, self.longest, &format!("{}, closing and opening.", self.title))
    }
}

/// The moments of so many steps, of which those that `moves` says move anything are shown.
///
/// # Errors
/// As [`Animation::new`].
pub fn moments(steps: usize, moves: impl Fn(usize) -> bool, pace: Pace) -> Result<Vec<Moment>, Still> {
    let moving: Vec<usize> = (0..steps).filter(|&step| moves(step)).collect();
    let per_step = pace.per_step.clamp(1, MOST_PER_STEP);
    let each = usize::try_from(per_step).unwrap_or(1);
    let (Some(&last), count) = (moving.last(), moving.len().saturating_mul(each).saturating_mul(2)) else {
        return Err(Still::NothingFolds);
    };
    if count > MOST_MOMENTS {
        return Err(Still::TooMany(count));
    }
    let quick = (STEP / per_step).max(SHORTEST);
    let mut closing = vec![Moment { time: 0.0, centiseconds: pace.hold.max(SHORTEST) }];
    for &step in &moving {
        for part in 1..=per_step {
            let time = whole(step) + eased(f64::from(part) / f64::from(per_step));
            let centiseconds = match (part == per_step, step == last) {
                (true, true) => pace.hold.max(SHORTEST),
                (true, false) => quick.max(BREATH),
                (false, _) => quick,
            };
            closing.push(Moment { time, centiseconds });
        }
    }
    // Back over the same pictures, without the closed one and the flat one with which it begins again.
    let opening: Vec<Moment> = closing.iter().rev().skip(1).take(closing.len().saturating_sub(2)).copied().collect();
    closing.extend(opening);
    Ok(closing)
}

/// A motion that starts and ends gently: of 0 to 1, 0 to 1.
fn eased(share: f64) -> f64 {
    share * share * (3.0 - 2.0 * share)
}

#[expect(clippy::cast_precision_loss, reason = "a folio has far fewer steps than 2^53")]
const fn whole(steps: usize) -> f64 {
    steps as f64
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(steps: usize, still: &[usize], pace: Pace, expected: &[(f64, u32)]) {
        let found = moments(steps, |step| !still.contains(&step), pace).unwrap();
        let found: Vec<(f64, u32)> = found.iter().map(|moment| (moment.time, moment.centiseconds)).collect();
        assert_eq!(found, expected);
    }

    /// Halfway in time is halfway in motion.
    #[test]
    fn it_closes_and_opens_with_pauses() {
        let pace = Pace { per_step: 2, hold: 90 };
        check(1, &[], pace, &[(0.0, 90), (0.5, 50), (1.0, 90), (0.5, 50)]);
        let both = [(0.0, 90), (0.5, 50), (1.0, 50), (1.5, 50), (2.0, 90), (1.5, 50), (1.0, 50), (0.5, 50)];
        check(2, &[], pace, &both);
        check(2, &[0], pace, &[(0.0, 90), (1.5, 50), (2.0, 90), (1.5, 50)]);
        check(1, &[], Pace { per_step: 1, hold: 0 }, &[(0.0, 2), (1.0, 2)]);
    }

    #[test]
    fn quick_steps_pause_before_the_next() {
        let found = moments(2, |_| true, Pace { per_step: 50, hold: 100 }).unwrap();
        assert_eq!(found.len(), 200);
        let shown: Vec<u32> = found.iter().map(|moment| moment.centiseconds).collect();
        assert_eq!((shown[1], shown[50], shown[100], shown[150]), (2, 30, 100, 30));
    }

    #[test]
    fn nothing_and_too_much_are_refused() {
        assert_eq!(moments(0, |_| true, Pace::default()), Err(Still::NothingFolds));
        assert_eq!(moments(3, |_| false, Pace::default()), Err(Still::NothingFolds));
        assert_eq!(moments(200, |_| true, Pace::default()), Err(Still::TooMany(4800)));
    }
}
