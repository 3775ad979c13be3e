//! The folio closing and opening.

use crate::picture::FOLDED_PICTURE;
use crate::{Design, ExportRefusal, Progress, folded};
use draw::animation::{Animation, Pace};
use draw::folded::View;
use model::Document;
use output::Frame;
use session::Derived;

/// What an animation is written as.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MovingKind {
    /// GIF: 255 colours for each picture.
    Gif,
    /// An animated PNG, which keeps every colour.
    Apng,
}

/// What can be chosen of an animation.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AnimationChoice {
    /// From where the folio is seen.
    pub view: View,
    /// Pixels across; the height follows.
    pub width: u32,
    /// How it moves.
    pub pace: Pace,
}

impl MovingKind {
    /// By what a file's name ends in: an animated PNG unless that is gif.
    pub(crate) fn of(ending: &str) -> Self {
        if ending.eq_ignore_ascii_case("gif") { Self::Gif } else { Self::Apng }
    }
}

impl AnimationChoice {
    pub(crate) fn per_mm(&self, document: &Document, derived: &Derived) -> f64 {
        let across = self.animation(document, derived).map_or(1.0, |animation| animation.frame().width());
        f64::from(self.width) / across.max(1.0)
    }

    fn animation<'a>(&self, document: &Document, derived: &'a Derived) -> Result<Animation<'a>, ExportRefusal> {
        let (assembly, folding) = folded(derived)?;
        let folio = (&derived.layout, assembly, folding);
        Animation::new(folio, self.view, self.pace, FOLDED_PICTURE, &document.title).map_err(ExportRefusal::Still)
    }

    /// The file, and how many pictures it has.
    pub(crate) fn bytes(
        &self,
        design: &Design<'_>,
        kind: MovingKind,
        progress: Progress<'_>,
    ) -> Result<(Vec<u8>, usize), ExportRefusal> {
        let animation = self.animation(design.document, design.derived)?.printed(design.printed());
        let frames = animation.moments().iter().map(|moment| Frame {
            drawing: animation.drawing(moment),
            centiseconds: u16::try_from(moment.centiseconds).unwrap_or(u16::MAX),
        });
        let bytes = match kind {
            MovingKind::Gif => output::gif(frames, self.width, progress),
            MovingKind::Apng => output::apng(frames, self.width, progress),
        };
        Ok((bytes?, animation.moments().len()))
    }
}
