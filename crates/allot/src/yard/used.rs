//! How each offcut is used: its cuts, what is left of it, and its ledger.

use super::{Offcut, Yard};
use crate::allotment::{CutStep, OffcutPaper, OffcutUse, Origin};
use crate::inner;
use crate::ledger::OffcutLedger;
use crate::round::Blank;
use crate::steps::Words;
use crate::wanted::Wanted;
use model::{Area, PartId};
use nest::{Leftover, Rect};

impl Yard<'_> {
    /// How an offcut is used.
    pub(super) fn used(&self, at: usize) -> OffcutUse {
        let offcut = &self.offcuts[at];
        let (cuts, remainders, left) = match offcut.whole {
            Some(part) => (vec![self.whole_step(offcut, part)], Vec::new(), Area::ZERO),
            None => self.cut_from(at),
        };
        let from_it = |(&at, origin): (&usize, &Origin)| match origin {
            Origin::Offcut { piece, .. } if *piece == offcut.piece => Some(at),
            _ => None,
        };
        let mine: Vec<usize> = self.origins.iter().filter_map(from_it).collect();
        let whole = offcut.shape.area;
        let parts: Vec<(PartId, Area)> =
            mine.iter().map(|&at| (self.wanted[at].id(), self.wanted[at].own_area())).collect();
        let own: Area = parts.iter().map(|(_, area)| *area).sum();
        let taken = match offcut.whole {
            Some(_) => whole,
            None => mine.iter().map(|&at| self.wanted[at].size.area()).sum(),
        };
        let ledger = OffcutLedger { whole, parts, cut_offs: taken - own, left, waste: whole - taken - left };
        let parts = mine.iter().map(|&at| self.wanted[at].id()).collect();
        let (piece, name, paper) = (offcut.piece, offcut.name.clone(), offcut.paper.clone());
        let is_untouched = mine.is_empty();
        OffcutUse { piece, name, paper, parts, cuts, remainders, is_untouched, ledger }
    }

    pub(super) fn words<'b>(&'b self, offcut: &'b Offcut) -> Option<Words<'b>> {
        let inside = match &offcut.paper {
            OffcutPaper::Rectangles(rects) => rects.as_slice(),
            _ => &[],
        };
        let (unit, kerf) = (self.document.units, self.settings.knife.kerf);
        Some(Words { unit, name: &offcut.name, around: offcut.shape.around()?, inside, kerf })
    }

    pub(super) fn whole_step(&self, offcut: &Offcut, part: usize) -> CutStep {
        let Wanted { name, size, shape, .. } = &self.wanted[part];
        let words = self.words(offcut);
        let step = words.map(|words| words.whole(name, shape.size().unwrap_or(*size), shape.area == offcut.shape.area));
        step.unwrap_or_else(|| CutStep { sentence: offcut.name.clone(), line: None })
    }

    /// The cuts in an offcut, the rectangles left of it, and the area left.
    pub(super) fn cut_from(&self, at: usize) -> (Vec<CutStep>, Vec<Rect>, Area) {
        let offcut = &self.offcuts[at];
        if self.is_untouched(at) {
            return match &offcut.paper {
                OffcutPaper::Exact => (Vec::new(), inner::rects(&offcut.shape), offcut.shape.area),
                OffcutPaper::Rectangles(rects) => (Vec::new(), rects.clone(), offcut.shape.area),
                OffcutPaper::Sliver => (Vec::new(), Vec::new(), Area::ZERO),
            };
        }
        let mut cuts = Vec::new();
        let Some(words) = self.words(offcut) else { return (cuts, Vec::new(), Area::ZERO) };
        for (round, placed) in &self.rounds {
            let part =
                |placement: usize| placed.get(placement).map_or_else(String::new, |&at| self.wanted[at].name.clone());
            for (leftover, plan) in round.plan.leftovers.iter().enumerate() {
                let is_cut = round.plan.placements.iter().any(|placement| placement.leftover == leftover);
                if round.pieces[leftover] == offcut.piece && is_cut {
                    cuts.extend(words.blank(&round.task.leftovers[leftover], plan, &part));
                }
            }
        }
        let rect = |blank: &Blank| match &blank.paper {
            Leftover::Rect(rect) if blank.piece == offcut.piece => Some(*rect),
            _ => None,
        };
        let left: Vec<Rect> = self.blanks.iter().filter_map(rect).collect();
        let area = left.iter().map(|rect| rect.area()).sum();
        (cuts, left, area)
    }
}
