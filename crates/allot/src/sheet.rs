//! Further sheets, of the folio's own paper or another: which part is on which, and how each is cut.

use crate::allotment::{Cutout, Origin, SheetCutting, SheetUse};
use crate::remark::Remark;
use crate::round::{Kind, kinds};
use crate::settings::Settings;
use crate::steps::{Words, size_words};
use crate::wanted::Wanted;
use model::part::Source;
use model::{Document, PartId, Stock, StockId, Unit};
use nest::{MOST_PARTS, Plan, Rect, extra_sheets};
use std::collections::BTreeMap;

/// The further sheets, with what becomes of each part that asks for one.
pub(crate) fn sheets(
    document: &Document,
    wanted: &[Wanted<'_>],
    settings: &Settings,
) -> (Vec<SheetUse>, BTreeMap<usize, Origin>) {
    let own = std::iter::once((None, &document.stock));
    let others = document.further_stocks.iter().map(|further| (Some(further.id), &further.stock));
    let (mut uses, mut origins) = (Vec::new(), BTreeMap::new());
    for (id, stock) in own.chain(others) {
        let asks = |at: &usize| match wanted[*at].part.source {
            Source::FolioStock => id.is_none(),
            Source::Stock(asked) => id == Some(asked),
            _ => false,
        };
        let mine: Vec<usize> = (0..wanted.len()).filter(asks).collect();
        let mut maker = Maker { document, wanted, stock, id, number: 0, sheets: Vec::new(), origins: &mut origins };
        let kinds = kinds(wanted, &mine);
        let at_least = kinds.chunks(MOST_PARTS).map(|some| maker.add(some, settings)).max().unwrap_or(0);
        let sheets = maker.sheets;
        let name = stock.name.clone();
        uses.extend((!mine.is_empty()).then_some(SheetUse { stock: id, name, size: stock.size, at_least, sheets }));
    }
    (uses, origins)
}

struct Maker<'a> {
    document: &'a Document,
    wanted: &'a [Wanted<'a>],
    stock: &'a Stock,
    id: Option<StockId>,
    /// How many sheets there are so far.
    number: u32,
    sheets: Vec<SheetCutting>,
    origins: &'a mut BTreeMap<usize, Origin>,
}

impl Maker<'_> {
    /// Adds sheets for some parts; gives how many it takes at least.
    fn add(&mut self, kinds: &[Kind], settings: &Settings) -> u32 {
        let parts: Vec<_> = kinds.iter().map(Kind::part).collect();
        // Parts and knife come from the document and its settings; where a knife can't be, nothing is cut.
        let Ok(found) = extra_sheets(&parts, self.stock.size, settings.knife, settings.effort) else {
            let why = Remark::new("What the knife takes must be nothing or more, and at most 10 m", "set it anew");
            let all = kinds.iter().flat_map(|kind| &kind.members);
            self.origins.extend(all.map(|&at| (at, Origin::Missing(why.clone()))));
            return 0;
        };
        let mut next = vec![0; kinds.len()];
        for plan in &found.sheets {
            for _ in 0..plan.times {
                self.sheet(&plan.plan, kinds, &mut next, settings);
            }
        }
        for at in kinds.iter().flat_map(|kind| &kind.members) {
            if !self.origins.contains_key(at) {
                self.origins.insert(*at, self.too_large(&self.wanted[*at]));
            }
        }
        found.at_least
    }

    fn sheet(&mut self, plan: &Plan, kinds: &[Kind], next: &mut [usize], settings: &Settings) {
        self.number += 1;
        let mut placed = Vec::new();
        for placement in &plan.placements {
            let kind = placement.part;
            let Some(&at) = kinds[kind].members.get(next[kind]) else { continue };
            next[kind] += 1;
            let cutout = Cutout { rect: placement.rect, quarters: self.wanted[at].quarters(placement.turned) };
            self.origins.insert(at, Origin::Sheet { stock: self.id, sheet: self.number, cutout });
            placed.push(at);
        }
        let name = self.name();
        let words = Words {
            unit: self.document.units,
            name: &name,
            around: Rect::at_origin(self.stock.size),
            inside: &[],
            kerf: settings.knife.kerf,
        };
        let part =
            |placement: usize| placed.get(placement).map_or_else(String::new, |&at| self.wanted[at].name.clone());
        let sheet = nest::Leftover::of_size(self.stock.size);
        let cuts = plan.leftovers.iter().flat_map(|leftover| words.blank(&sheet, leftover, &part)).collect();
        placed.sort_unstable();
        let parts: Vec<PartId> = placed.iter().map(|&at| self.wanted[at].id()).collect();
        let remainders = plan.remainders.iter().map(|rest| rest.rect).collect();
        self.sheets.push(SheetCutting { number: self.number, parts, cuts, remainders });
    }

    fn name(&self) -> String {
        match (self.id, self.stock.name.as_str()) {
            (None, _) => format!("Further sheet {}", self.number),
            (Some(id), "") => format!("Sheet {} of paper {}", self.number, id.0),
            (Some(_), name) => format!("Sheet {} of \"{name}\"", self.number),
        }
    }

    fn too_large(&self, wanted: &Wanted<'_>) -> Origin {
        let unit: Unit = self.document.units;
        let (size, sheet) = (size_words(wanted.size, unit), size_words(self.stock.size, unit));
        let turned = if wanted.demand.is_some() { " the way its pattern or grain lies" } else { "" };
        let why = format!("\"{}\" is {size}, and a sheet of its paper is {sheet}, too small{turned}", wanted.name);
        Origin::Missing(Remark::new(why, "make the part smaller, or choose a larger paper"))
    }
}
