//! `foliowright export animation`.

use super::Given;
use super::picture::ViewWord;
use crate::Outcome;
use ::export::{AnimationChoice, Export};
use clap::Args;
use draw::animation::Pace;
use std::io::Write;
use std::path::PathBuf;

#[derive(Debug, Args)]
pub(crate) struct AnimationTask {
    /// The design.
    pub(crate) file: PathBuf,
    /// Where to put the animation; .gif makes a GIF, .apng or .png an animated PNG, which keeps every colour.
    #[arg(short, long, value_name = "OUT")]
    pub(crate) output: PathBuf,
    /// Width in pixels; the height follows.
    #[arg(long, default_value_t = 800, value_parser = clap::value_parser!(u32).range(1..=8000))]
    pub(crate) width: u32,
    /// Pictures for each step, which takes about a second however many there are.
    #[arg(long, value_name = "N", default_value_t = 12, value_parser = clap::value_parser!(u32).range(1..=50))]
    pub(crate) frames_per_step: u32,
    /// From where the folio is seen.
    #[arg(long, value_enum, default_value = "slanted")]
    pub(crate) view: ViewWord,
    /// How many seconds it lies flat, and closed, such as 1.5; 0 to 60.
    #[arg(long, value_name = "SECONDS", default_value = "1.5", value_parser = seconds, allow_hyphen_values = true)]
    pub(crate) hold: Hold,
}

/// Hundredths of a second.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Hold(u32);

pub(super) fn run(task: &AnimationTask, out: &mut dyn Write, err: &mut dyn Write) -> Outcome {
    let pace = Pace { per_step: task.frames_per_step, hold: task.hold.0 };
    let export = Export::Animation(AnimationChoice { view: task.view.view(), width: task.width, pace });
    super::named(&task.output, &export)?;
    Given::read(&task.file)?.write(&task.output, &export, out, err)
}

/// Seconds as they are typed.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 to 6000")]
fn seconds(text: &str) -> Result<Hold, String> {
    let seconds = text.parse::<f64>().ok().filter(|seconds| (0.0..=60.0).contains(seconds));
    seconds.map(|seconds| Hold((seconds * 100.0).round() as u32)).ok_or_else(|| "give 0 to 60 seconds".to_owned())
}
