//! Why one job must come before another.

use model::part::{Job, Paper};
use model::{Document, PartId};

/// One job that must come before another.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Constraint {
    /// What comes first.
    pub first: Job,
    /// What comes after it, at once or later.
    pub then: Job,
    /// Why.
    pub why: Why,
}

/// Why one job must come before another. That each is so at the table is common practice, no source, but where a source
/// stands beside it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Why {
    /// A paper is scored before it is cut out: the whole sheet lies square on the board.
    ScoredWhole,
    /// The paper of the part comes off as the folio is cut out.
    ComesOff,
    /// A part is scored or cut out before it is folded.
    MadeThenFolded,
    /// A part is made before it is put in place.
    MadeThenPut,
    /// The folio is scored and cut out before anything is put on it, and before it closes.
    FolioFirst,
    /// What lies on a part comes after it.
    LiesOn,
    /// A part is made before something is put inside it.
    HostMade,
    /// What is put inside a part, or on a band, can't be reached once that is in place.
    InsideOf,
    /// What lies behind a part, flat on the same face.
    Behind,
    /// A part would cover the place where another is glued.
    OverItsGlue,
    /// A brad goes through its panel, and what lies over its legs comes after it.
    OverLegs,
    /// What goes in by an open edge goes in when that is glued.
    GoesIn,
    /// What lies under a part without an open edge can't go in afterwards.
    ClosedIn,
    /// What decorates or fastens the folio goes on while it lies flat.
    WhileFlat,
    /// The inside can't be reached once the folio is closed.
    Within,
    /// A part that folds or is tucked with the folio.
    FoldsAlong,
    /// A band slides on when the folio is closed.
    SlidesOn,
}

impl Constraint {
    pub(crate) const fn new(first: Job, then: Job, why: Why) -> Self {
        Self { first, then, why }
    }

    /// The reason, in one sentence.
    #[must_use]
    pub fn sentence(&self, document: &Document) -> String {
        let (first, then) = (subject(self.first, document), subject(self.then, document));
        match self.why {
            Why::ScoredWhole => {
                format!("{} is scored before it is cut out: a whole sheet lies square on the board.", capital(&first))
            }
            Why::ComesOff => {
                format!("{} is made from an offcut, which comes off as the folio is cut out.", capital(&then))
            }
            Why::MadeThenFolded => format!("{} is cut out and scored before it is folded.", capital(&then)),
            Why::MadeThenPut => format!("{} is made before it is put in place.", capital(&then)),
            Why::FolioFirst if self.then == Job::Close => {
                "The folio is scored and cut out before it is closed.".to_owned()
            }
            Why::FolioFirst => format!("The folio is scored and cut out before {then} is put on it."),
            Why::LiesOn => format!("{} lies on {first}, which is put in place first.", capital(&then)),
            Why::HostMade => format!("{} is put on {first}, which is made first.", capital(&then)),
            Why::InsideOf => {
                format!(
                    "{} is put on {then} before that is in place, since it can't be reached later.",
                    capital(&first)
                )
            }
            Why::Behind => format!("{} lies behind {then}, so it is put in place first.", capital(&first)),
            Why::OverItsGlue => {
                format!("{} would cover the place where {first} is glued, so {first} comes first.", capital(&then))
            }
            Why::OverLegs => {
                format!(
                    "{} goes through the paper and {then} lies over its legs, so {first} comes first.",
                    capital(&first)
                )
            }
            Why::GoesIn => format!("{} goes in when {first} is glued.", capital(&then)),
            Why::ClosedIn => {
                format!("{} lies under {then}, which leaves no way in, so it is laid there first.", capital(&first))
            }
            Why::WhileFlat => format!("{} is put on while the folio lies flat, before it is closed.", capital(&first)),
            Why::Within => {
                format!("{} lies on the inside, which can't be reached once the folio is closed.", capital(&first))
            }
            Why::FoldsAlong => format!("{} folds along as the folio is closed.", capital(&first)),
            Why::SlidesOn => format!("{} slides on when the folio is closed.", capital(&then)),
        }
    }
}

impl Why {
    /// Whether it holds for any design, so that it is never at fault where reasons contradict one another.
    pub(crate) const fn always_holds(self) -> bool {
        matches!(
            self,
            Self::ScoredWhole
                | Self::ComesOff
                | Self::MadeThenFolded
                | Self::MadeThenPut
                | Self::FolioFirst
                | Self::LiesOn
                | Self::HostMade
        )
    }
}

/// What a job is about.
fn subject(job: Job, document: &Document) -> String {
    match part_of(job) {
        Some(part) => format!("\"{}\"", document.part_name(part)),
        None => "the folio".to_owned(),
    }
}

/// The part that a job is about; `None` for the folio.
pub(crate) const fn part_of(job: Job) -> Option<PartId> {
    match job {
        Job::Score(Paper::Part(part)) | Job::Cut(Paper::Part(part)) | Job::Fold(part) | Job::Put(part) => Some(part),
        Job::Score(Paper::Folio) | Job::Cut(Paper::Folio) | Job::Close => None,
    }
}

pub(crate) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}
