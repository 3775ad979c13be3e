//! Where the sheet's area went, parts and all.

use model::{Area, PartId};

/// Where an offcut's area went: parts, cut-offs, what is left and waste together are `whole`, exactly.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OffcutLedger {
    /// All of it.
    pub whole: Area,
    /// Each part that comes out of it, with the area of its own panels.
    pub parts: Vec<(PartId, Area)>,
    /// What is cut off within the parts' patterns, and beside a part that takes the offcut as it is.
    pub cut_offs: Area,
    /// What is left and can be used again.
    pub left: Area,
    /// What cuts destroy, what is trimmed off, what lies beside usable rectangles, and slivers.
    pub waste: Area,
}

/// Where the sheet's area went: folio, parts, cut-offs, left, slots and waste together are `sheet`, exactly.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Ledger {
    /// The whole sheet.
    pub sheet: Area,
    /// What stays in one piece with the base.
    pub folio: Area,
    /// The parts that come out of offcuts, by their own panels.
    pub parts: Area,
    /// What is cut off within their patterns.
    pub cut_offs: Area,
    /// What is left of the offcuts.
    pub left: Area,
    /// What is taken out for slots.
    pub slots: Area,
    /// What is lost otherwise.
    pub waste: Area,
}

impl OffcutLedger {
    /// The area of all parts.
    #[must_use]
    pub fn used(&self) -> Area {
        self.parts.iter().map(|(_, area)| *area).sum()
    }
}

impl Ledger {
    pub(crate) fn of<'a>(sheet: model::Ledger, offcuts: impl Iterator<Item = &'a OffcutLedger>) -> Self {
        let model::Ledger { sheet, folio, slots, waste, .. } = sheet;
        let none = Area::ZERO;
        let start = Self { sheet, folio, parts: none, cut_offs: none, left: none, slots, waste };
        offcuts.fold(start, |all, one| Self {
            parts: all.parts + one.used(),
            cut_offs: all.cut_offs + one.cut_offs,
            left: all.left + one.left,
            waste: all.waste + one.waste,
            ..all
        })
    }

    /// How much of the sheet is folio and parts, in per cent from 0 to 100.
    #[must_use]
    pub fn use_per_cent(&self) -> f64 {
        100.0 * (self.folio + self.parts).mm2() / self.sheet.mm2()
    }

    /// The same without the parts.
    #[must_use]
    pub fn folio_per_cent(&self) -> f64 {
        100.0 * self.folio.mm2() / self.sheet.mm2()
    }
}
