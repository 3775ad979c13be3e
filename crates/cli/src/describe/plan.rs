//! Where the paper of parts comes from: which offcut or further sheet, by which cuts, and what is left.

mod value;

use super::Told;
use crate::lengths::area_text;
use allot::{Allotment, Origin, SheetUse, Standing, Supply};
use model::words::listed;
use model::{Length, Unit};
use std::io::{self, Write};

pub(super) use value::{part_key, value};

/// The section on paper; nothing for a design without parts.
pub(super) fn write(told: &Told<'_>, out: &mut dyn Write) -> io::Result<()> {
    let Some(plan) = told.plan() else { return Ok(()) };
    let text = Text { told, plan, unit: told.document.units };
    writeln!(out, "\nWhere their paper comes from")?;
    for supply in &plan.supplies {
        writeln!(out, "  {}", text.supply(supply))?;
        for note in &supply.notes {
            writeln!(out, "    {note}")?;
        }
    }
    for offcut in plan.offcuts.iter().filter(|offcut| !offcut.is_untouched) {
        writeln!(out, "  Cut {}", offcut.name)?;
        text.cuts(&offcut.cuts, out)?;
    }
    for sheets in &plan.sheets {
        text.sheets(sheets, out)?;
    }
    text.left(out)?;
    text.standing(out)
}

/// The line on where the sheet's area went, in a design with parts.
pub(super) fn ledger(plan: &Allotment, unit: Unit) -> String {
    let ledger = plan.ledger;
    let [sheet, folio, parts, left] =
        [ledger.sheet, ledger.folio, ledger.parts, ledger.left].map(|one| area_text(one, unit));
    let lost = [
        (ledger.cut_offs, "cut off within their patterns"),
        (ledger.slots, "for slots"),
        (ledger.waste, "lost otherwise"),
    ];
    let lost = lost.into_iter().filter(|(area, _)| area.half_nm2() != 0);
    let lost: String = lost.map(|(area, what)| format!(", {} {what}", area_text(area, unit))).collect();
    format!(
        "Paper: {sheet}, of which {folio} are the folio, {parts} parts and {left} left of the offcuts{lost}\n\
         Use of the sheet: {:.1} %, {:.1} % by the folio alone",
        ledger.use_per_cent(),
        ledger.folio_per_cent()
    )
}

struct Text<'a> {
    told: &'a Told<'a>,
    plan: &'a Allotment,
    unit: Unit,
}

impl Text<'_> {
    /// "Packet pocket: 4 1/2 in x 4 in of Offcut 2", or what is missing.
    fn supply(&self, supply: &Supply) -> String {
        let name = self.told.document.part_name(supply.part);
        let turned = |quarters: u8| match quarters {
            0 => "",
            1 => ", turned a quarter clockwise",
            2 => ", turned by half",
            _ => ", turned a quarter anticlockwise",
        };
        match &supply.from {
            Origin::Offcut { name: offcut, whole: true, .. } => format!("{name}: {offcut} as it is"),
            Origin::Offcut { name: offcut, cutout, .. } => {
                format!("{name}: {} of {offcut}{}", cutout.rect.size.text(self.unit), turned(cutout.quarters))
            }
            Origin::Sheet { stock, sheet, cutout } => {
                let paper = stock.map_or_else(
                    || "the folio's paper".to_owned(),
                    |id| match self.told.document.further_stock(id) {
                        Some(stock) if !stock.name.is_empty() => format!("\"{}\"", stock.name),
                        _ => format!("paper {}", id.0),
                    },
                );
                let size = cutout.rect.size.text(self.unit);
                format!("{name}: {size} of further sheet {sheet} of {paper}{}", turned(cutout.quarters))
            }
            Origin::Bought => format!("{name}: bought"),
            Origin::Missing(why) => format!("{name}: no paper. {why}"),
        }
    }

    fn cuts(&self, cuts: &[allot::CutStep], out: &mut dyn Write) -> io::Result<()> {
        for (number, cut) in (1..).zip(cuts) {
            writeln!(out, "    {number}. {}", cut.sentence)?;
        }
        Ok(())
    }

    fn sheets(&self, sheets: &SheetUse, out: &mut dyn Write) -> io::Result<()> {
        let paper = match (sheets.stock, sheets.name.as_str()) {
            (None, _) => "the folio's paper".to_owned(),
            (Some(id), "") => format!("paper {}", id.0),
            (Some(_), name) => format!("\"{name}\""),
        };
        let size = sheets.size.text(self.unit);
        let (count, least) = (sheets.sheets.len(), sheets.at_least);
        let word = if count == 1 { "sheet" } else { "sheets" };
        // Fewer might do where that many are not known to be needed.
        let fewer = if usize::try_from(least).is_ok_and(|least| least < count) {
            format!("; perhaps {least} would do")
        } else {
            String::new()
        };
        writeln!(out, "  Take {count} further {word} of {paper}, {size}{fewer}")?;
        for sheet in &sheets.sheets {
            self.cuts(&sheet.cuts, out)?;
        }
        Ok(())
    }

    /// What is left of everything that is cut, and which offcuts stay as they are.
    fn left(&self, out: &mut dyn Write) -> io::Result<()> {
        let size =
            |width: Length, height: Length| format!("{} x {}", width.readable(self.unit), height.readable(self.unit));
        let mut said = Vec::new();
        for offcut in &self.plan.offcuts {
            let rests = offcut.remainders.iter().map(|rest| size(rest.size.width(), rest.size.height()));
            if offcut.is_untouched {
                said.push(format!("all of {}", offcut.name));
            } else if !offcut.remainders.is_empty() {
                said.push(format!("{} of {}", listed(rests), offcut.name));
            }
        }
        for sheets in &self.plan.sheets {
            for sheet in sheets.sheets.iter().filter(|sheet| !sheet.remainders.is_empty()) {
                let rests = sheet.remainders.iter().map(|rest| size(rest.size.width(), rest.size.height()));
                said.push(format!("{} of further sheet {}", listed(rests), sheet.number));
            }
        }
        if said.is_empty() { Ok(()) } else { writeln!(out, "  Left: {}", said.join("; ")) }
    }

    fn standing(&self, out: &mut dyn Write) -> io::Result<()> {
        let is_from_offcut = |supply: &Supply| {
            let part = self.told.document.part(supply.part);
            part.is_some_and(model::Part::is_from_offcut)
        };
        if !self.plan.supplies.iter().any(is_from_offcut) {
            return Ok(());
        }
        match self.plan.standing {
            Standing::Proved => writeln!(out, "  No other cuts from edge to edge get more parts out of the offcuts"),
            Standing::Within(area) => {
                let more = area_text(area, self.unit);
                writeln!(out, "  Other cuts might get up to {more} more of parts out of the offcuts")
            }
        }
    }
}
