//! What follows from a document, worked out once for each state of it.

use check::{Context, Finding, Severity};
use fold::{Assembly, Folding};
use model::{Document, Layout};

/// Everything derived from one state of a document.
#[derive(Debug, Clone)]
pub struct Derived {
    /// The flat sheet.
    pub layout: Layout,
    /// The folio and how it folds; `None` while no base is marked.
    pub folded: Option<(Assembly, Folding)>,
    /// What the checker has to say, the worst first.
    pub findings: Vec<Finding>,
}

impl Derived {
    /// Runs every stage on `document`, whose layout is `layout`.
    #[must_use]
    pub fn new(document: &Document, layout: Layout) -> Self {
        let folded = fold::assemble(document, &layout).map(|assembly| {
            let folding = fold::close(&assembly);
            (assembly, folding)
        });
        let pair = folded.as_ref().map(|(assembly, folding)| (assembly, folding));
        let findings = check::check(&Context { document, layout: &layout, folded: pair });
        Self { layout, folded, findings }
    }

    /// Runs every stage on `document`.
    #[must_use]
    pub fn of(document: &Document) -> Self {
        Self::new(document, Layout::of(document))
    }

    /// The worst that the checker has to say; `None` when it has nothing to say.
    #[must_use]
    pub fn worst(&self) -> Option<Severity> {
        self.findings.iter().map(|finding| finding.severity).max()
    }
}
