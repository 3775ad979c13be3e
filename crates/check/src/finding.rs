//! One thing the checker has to say.

use model::{Edit, LineId, PanelId, Point};

/// How bad it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Severity {
    /// Worth knowing; nothing fails.
    Note,
    /// It will disappoint.
    Warning,
    /// It will not work.
    Error,
}

/// Where on the flat sheet a finding is.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Spot {
    /// The panels it speaks of.
    pub panels: Vec<PanelId>,
    /// The lines it speaks of.
    pub lines: Vec<LineId>,
    /// The very place, where there is one.
    pub at: Option<Point>,
    /// The closing step it happens in, counted from 0.
    pub step: Option<usize>,
}

/// What is wrong, where, by how much, and how to mend it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Finding {
    /// The rule's stable name, such as `still-joined`.
    pub rule: &'static str,
    /// How bad it is.
    pub severity: Severity,
    /// One sentence that says what is wrong, where, and by how much.
    pub sentence: String,
    /// One sentence that says how to mend it.
    pub mend: String,
    /// Where it is.
    pub spot: Spot,
    /// Ways to mend it in one go, the best first; none where that is for the maker to work out.
    pub fixes: Vec<Fix>,
}

/// A way to mend what a finding says.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fix {
    /// What it does, as on a button: "Move the score to 3 1/8 in".
    pub label: String,
    /// The edit that does it.
    pub edit: Edit,
}

impl Severity {
    /// The word shown to a maker and used in `--json`.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Note => "note",
            Self::Warning => "warning",
            Self::Error => "error",
        }
    }
}
