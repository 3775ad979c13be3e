//! What is to be said of a part's paper: what is the matter, and how to mend it.

use std::fmt;

/// What is the matter with a part's paper and how to mend it, in one sentence as it is displayed: "… ; ….".
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Remark {
    /// What is the matter, without a full stop.
    pub what: String,
    /// How to mend it, in small letters and without a full stop; empty where there is nothing to do.
    pub mend: String,
}

impl Remark {
    pub(crate) fn new(what: impl Into<String>, mend: impl Into<String>) -> Self {
        Self { what: what.into(), mend: mend.into() }
    }
}

impl fmt::Display for Remark {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.mend.as_str() {
            "" => write!(f, "{}.", self.what),
            mend => write!(f, "{}; {mend}.", self.what),
        }
    }
}
