//! What follows from a document, worked out once for each state of it.

use crate::workshop::{self, Fits};
use allot::Allotment;
use check::{Checked, Context, Finding, Severity, Silenced};
use fit::MatFit;
use fold::{Assembly, Folding};
use make::Making;
use model::{Document, Layout, Length};
use std::cell::OnceCell;

/// Everything derived from one state of a document.
#[derive(Debug, Clone)]
pub struct Derived {
    /// The flat sheet.
    pub layout: Layout,
    /// The folio and how it folds; `None` while no base is marked.
    pub folded: Option<(Assembly, Folding)>,
    /// Where the paper of parts comes from, by a quick plan; `None` while there are no parts.
    pub supply: Option<Allotment>,
    /// What the checker has to say, the worst first.
    pub findings: Vec<Finding>,
    /// What it would say, had the maker not silenced it.
    pub silenced: Vec<Silenced>,
    /// Whether fixes are missing from the findings that take long to try out.
    is_hasty: bool,
    making: OnceCell<Making>,
    fits: OnceCell<Fits>,
    mats: OnceCell<Vec<MatFit>>,
}

impl Derived {
    /// Runs every stage on `document`, whose layout is `layout`.
    #[must_use]
    pub fn new(document: &Document, layout: Layout) -> Self {
        Self::worked_out(document, layout, None, false)
    }

    /// The same after an edit, given what followed from the document before it.
    #[must_use]
    pub(crate) fn after(document: &Document, layout: Layout, before: &Self) -> Self {
        Self::worked_out(document, layout, Some(before), false)
    }

    /// The same for a document that is about to change again, as while a line is dragged: no fix is offered that has to be
    /// tried out. [`Derived::settle`] adds them.
    #[must_use]
    pub(crate) fn in_passing(document: &Document, layout: Layout, before: &Self) -> Self {
        Self::worked_out(document, layout, Some(before), true)
    }

    /// Adds what [`Derived::in_passing`] left out, and says whether it had left out anything; `document` is the one that this
    /// follows from.
    pub(crate) fn settle(&mut self, document: &Document) -> bool {
        let was_hasty = self.is_hasty;
        if was_hasty {
            let context = Context::new(document, &self.layout, self.pair(), self.supply.as_ref());
            let Checked { findings, silenced, is_hasty } = check::check(&context);
            (self.findings, self.silenced, self.is_hasty) = (findings, silenced, is_hasty);
        }
        was_hasty
    }

    fn worked_out(document: &Document, layout: Layout, before: Option<&Self>, passes: bool) -> Self {
        let close = || {
            fold::assemble(document, &layout).map(|assembly| {
                // Paper that is the same folds the same, and to see that it is takes hardly any time.
                let known = before.and_then(|before| before.folded.as_ref()).filter(|(known, _)| *known == assembly);
                let folding = known.map_or_else(|| fold::close(&assembly), |(_, folding)| folding.clone());
                (assembly, folding)
            })
        };
        // Neither needs the other.
        let (folded, supply) = if document.parts.is_empty() {
            (close(), None)
        } else {
            let supply = || allot::allot(document, &layout, &allot::Settings::of(document));
            let (folded, supply) = fold::at_once(close, supply);
            (folded, Some(supply))
        };
        let pair = folded.as_ref().map(|(assembly, folding)| (assembly, folding));
        let context = Context::new(document, &layout, pair, supply.as_ref());
        let context = if passes { context.in_passing() } else { context };
        let Checked { findings, silenced, is_hasty } = check::check(&context);
        let (making, fits, mats) = (OnceCell::new(), OnceCell::new(), OnceCell::new());
        Self { layout, folded, supply, findings, silenced, is_hasty, making, fits, mats }
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

    /// In which order the folio and its parts are made, worked out when it is first asked for. `document` is the one that
    /// this follows from.
    pub fn making(&self, document: &Document) -> &Making {
        self.making.get_or_init(|| Making::of(document, &self.layout))
    }

    /// What fits in it, worked out when it is first asked for. `document` is the one that this follows from.
    pub fn fits(&self, document: &Document) -> &Fits {
        self.fits.get_or_init(|| Fits::of(document, &self.layout, self.pair()))
    }

    /// How large mats may be on faces that show, with the usual margin, worked out when it is first asked for. `document` is
    /// the one that this follows from.
    pub fn mats(&self, document: &Document) -> &[MatFit] {
        self.mats.get_or_init(|| self.mats_with(document, fit::MARGIN))
    }

    /// The same with another margin.
    #[must_use]
    pub fn mats_with(&self, document: &Document, margin: Length) -> Vec<MatFit> {
        workshop::mats(document, &self.layout, self.pair(), margin)
    }

    fn pair(&self) -> Option<(&Assembly, &Folding)> {
        self.folded.as_ref().map(|(assembly, folding)| (assembly, folding))
    }
}
