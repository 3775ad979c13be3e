//! Exporting on a thread of its own, with what is done of it and a way to call it off.

use super::{prints, refused};
use crate::work;
use ::export::{Design, Export};
use model::Document;
use session::Derived;
use std::path::{Path, PathBuf};

/// An export under way.
#[derive(Debug)]
pub(crate) struct Work(work::Work<Ended>);

/// How it ended.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Ended {
    /// All is written; sentences say what and where.
    Written(Vec<String>),
    /// Nothing is written, and why.
    Refused(String),
    /// It was called off.
    CalledOff,
}

impl Work {
    /// Begins to write an export of a design, which lies at `file` if anywhere, to `path`. `wake` is called when there is
    /// something new to show.
    pub(crate) fn begin(
        document: &Document,
        file: Option<&Path>,
        export: Export,
        path: PathBuf,
        wake: impl Fn() + Send + 'static,
    ) -> Self {
        let (document, file) = (document.clone(), file.map(Path::to_owned));
        Self(work::Work::begin(move |progress| written(&document, file.as_deref(), &export, &path, progress), wake))
    }

    /// How it ended, once it has.
    pub(crate) fn ended(&self) -> Option<Ended> {
        Some(match self.0.ended()? {
            Ok(Ended::Refused(_)) if self.0.is_off() => Ended::CalledOff,
            Ok(end) => end,
            Err(work::Lost) => Ended::Refused("the export could not be made".to_owned()),
        })
    }

    /// How much of how much is done; nothing of nothing while that is not known.
    pub(crate) fn progress(&self) -> (usize, usize) {
        self.0.progress()
    }

    /// Calls it off, as soon as it listens.
    pub(crate) fn call_off(&self) {
        self.0.call_off();
    }
}

fn written(
    document: &Document,
    file: Option<&Path>,
    export: &Export,
    path: &Path,
    progress: work::Progress<'_>,
) -> Ended {
    let derived = Derived::of(document);
    let ending = path.extension().map(|ending| ending.to_string_lossy().into_owned()).unwrap_or_default();
    let (prints, wrong) = prints(file, document, export.per_mm(document, &derived, &ending));
    let design = Design { document, derived: &derived, prints: &prints };
    let made = match export.files(&design, &ending, progress) {
        Ok(made) => made,
        Err(why) => return Ended::Refused(refused(&why)),
    };
    let mut said = Vec::new();
    for made in &made.files {
        let path = made.path(path);
        if let Err(error) = disk::save_bytes(&path, &made.bytes) {
            return Ended::Refused(error.to_string());
        }
        // In full, so that she finds it.
        let whole = std::path::absolute(&path).unwrap_or(path);
        said.push(format!("Exported to {}.", whole.display()));
    }
    said.extend(wrong.iter().map(|sentence| format!("Drawn without this picture: {sentence}.")));
    said.extend(made.notes);
    Ended::Written(said)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::export::{Choices, Kind, Looks};
    use draw::folded::View;
    use model::Turn;
    use std::time::{Duration, Instant};

    const LOOKS: Looks = Looks { turn: Turn::None, view: View::SLANTED, time: 0.0 };

    fn end(work: &Work) -> Ended {
        let begun = Instant::now();
        loop {
            if let Some(end) = work.ended() {
                return end;
            }
            assert!(begun.elapsed() < Duration::from_secs(300), "it does not end");
            std::thread::sleep(Duration::from_millis(5));
        }
    }

    fn animation() -> (Document, Export) {
        let document = file::starters::demo();
        let mut choices = Choices::usual(&document);
        choices.moving_width = 60;
        choices.pace.per_step = 2;
        (document, choices.export(Kind::Animation, LOOKS))
    }

    #[test]
    fn an_animation_is_written_and_tells_how_far_it_is() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("swap.gif");
        let (document, export) = animation();
        let work = Work::begin(&document, None, export, path.clone(), || {});
        let Ended::Written(said) = end(&work) else { panic!("it is written") };
        assert_eq!(said, [format!("Exported to {}.", path.display())]);
        let (done, all) = work.progress();
        assert!(done == all && all > 4, "{done} of {all}");
        assert!(std::fs::read(path).unwrap().starts_with(b"GIF89a"));
    }

    #[test]
    fn what_is_called_off_writes_nothing() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("swap.gif");
        let (document, export) = animation();
        let work = Work::begin(&document, None, export, path.clone(), || {});
        work.call_off();
        assert!(matches!(end(&work), Ended::CalledOff) && !path.exists());
    }

    #[test]
    fn why_nothing_is_written_is_told() {
        let (document, export) = animation();
        let end = end(&Work::begin(&document, None, export, PathBuf::from("swap.txt"), || {}));
        assert!(matches!(&end, Ended::Refused(why) if why.contains("end its name in .gif")), "{end:?}");
    }
}
