//! `foliowright export animation`.

use super::picture::{FOLDED_PICTURE, ViewWord, folded};
use super::{ending, printed, prints, refused, save};
use crate::{Failure, Outcome, read};
use clap::Args;
use draw::animation::{Animation, MOST_MOMENTS, Pace, Still};
use output::Frame;
use session::Derived;
use std::io::Write;
use std::ops::ControlFlow;
use std::path::{Path, PathBuf};

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

/// What an animation is written as.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Kind {
    Gif,
    Apng,
}

pub(super) fn run(task: &AnimationTask, out: &mut dyn Write, err: &mut dyn Write) -> Outcome {
    let kind = match ending(&task.output).as_str() {
        "gif" => Kind::Gif,
        "apng" | "png" => Kind::Apng,
        _ => {
            let name = task.output.display();
            let says = format!("\"{name}\" is no animation; end its name in .gif, .apng or .png");
            return Err(Failure::unreadable(says));
        }
    };
    let document = read(&task.file)?;
    let derived = Derived::of(&document);
    let (assembly, folding) = folded(&derived, &task.file)?;
    let pace = Pace { per_step: task.frames_per_step, hold: task.hold.0 };
    let folio = (&derived.layout, assembly, folding);
    let animation = Animation::new(folio, task.view.view(), pace, FOLDED_PICTURE, &document.title)
        .map_err(|still| Failure::Refused(Some(why_still(still, &task.file))))?;
    let per_mm = f64::from(task.width) / animation.frame().width().max(1.0);
    let prints = prints(&task.file, &document, per_mm, err)?;
    let animation = animation.printed(printed(&prints, &derived));
    let frames = animation.moments().iter().map(|moment| Frame {
        drawing: animation.drawing(moment),
        centiseconds: u16::try_from(moment.centiseconds).unwrap_or(u16::MAX),
    });
    let mut go_on = |_done: usize, _all: usize| ControlFlow::Continue(());
    let bytes = match kind {
        Kind::Gif => output::gif(frames, task.width, &mut go_on),
        Kind::Apng => output::apng(frames, task.width, &mut go_on),
    };
    save(&task.output, &bytes.map_err(refused)?)?;
    writeln!(out, "{}: {} pictures", task.output.display(), animation.moments().len())?;
    Ok(())
}

fn why_still(still: Still, file: &Path) -> String {
    let file = file.display();
    match still {
        Still::NothingFolds => format!("{file}: no step of the closing moves anything, so there is nothing to show"),
        Still::TooMany(count) => format!(
            "{file}: this would take {count} pictures, and at most {MOST_MOMENTS} are made; give fewer with \
             --frames-per-step"
        ),
    }
}

/// Seconds as they are typed.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 to 6000")]
fn seconds(text: &str) -> Result<Hold, String> {
    let seconds = text.parse::<f64>().ok().filter(|seconds| (0.0..=60.0).contains(seconds));
    seconds.map(|seconds| Hold((seconds * 100.0).round() as u32)).ok_or_else(|| "give 0 to 60 seconds".to_owned())
}
