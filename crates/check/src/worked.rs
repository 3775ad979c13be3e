//! What several rules look at and takes a while to work out: each once a check, when a rule first asks.

use crate::Context;
use fit::{CornerSet, Holders, PocketFit, TrayFit};
use fold::{Allowance, FoldGap, GussetFit, Thickness};
use make::Making;
use std::cell::OnceCell;

/// What has been worked out so far.
#[derive(Debug, Default)]
pub(crate) struct Worked {
    thickness: OnceCell<Option<Thickness>>,
    gaps: OnceCell<Vec<FoldGap>>,
    gussets: OnceCell<Vec<GussetFit>>,
    making: OnceCell<Making>,
    pockets: OnceCell<Vec<PocketFit>>,
    corners: OnceCell<Vec<CornerSet>>,
    trays: OnceCell<Vec<TrayFit>>,
}

impl Context<'_> {
    /// What is left between folds on the board that the maker has.
    pub(crate) fn allowance(&self) -> Allowance {
        Allowance { groove: self.document.groove.mm().max(0.0), ..Allowance::default() }
    }

    /// How thick the closed folio is; `None` without a base.
    pub(crate) fn thickness(&self) -> Option<&Thickness> {
        let work = || self.folded.map(|(assembly, folding)| fold::thickness(assembly, folding));
        self.worked.thickness.get_or_init(work).as_ref()
    }

    /// What gussets go round; none without a base.
    pub(crate) fn gussets(&self) -> &[GussetFit] {
        let work = |(assembly, folding)| fold::gussets(assembly, folding, &self.allowance());
        self.worked.gussets.get_or_init(|| self.folded.map(work).unwrap_or_default())
    }

    /// What folds go round that are flat when closed, then those of gussets; none without a base.
    pub(crate) fn gaps(&self) -> &[FoldGap] {
        let work = |(assembly, folding)| fold::gaps_with(assembly, folding, &self.allowance(), self.gussets());
        self.worked.gaps.get_or_init(|| self.folded.map(work).unwrap_or_default())
    }

    /// In which order the folio is made.
    pub(crate) fn making(&self) -> &Making {
        self.worked.making.get_or_init(|| Making::of(self.document, self.layout))
    }

    /// What goes into pockets.
    pub(crate) fn pockets(&self) -> &[PocketFit] {
        self.worked.pockets.get_or_init(|| fit::pockets(self.document, self.layout))
    }

    /// All that may hold an insert.
    pub(crate) fn holders(&self) -> Holders<'_> {
        let corners = self.worked.corners.get_or_init(|| fit::corner_sets(self.document, self.layout));
        let trays = |(assembly, folding)| fit::trays(self.document, self.layout, assembly, folding);
        let trays = self.worked.trays.get_or_init(|| self.folded.map(trays).unwrap_or_default());
        Holders { pockets: self.pockets(), corners, trays }
    }
}
