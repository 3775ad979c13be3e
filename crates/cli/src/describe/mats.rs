//! Mats: how large one may be on each face that shows, and how many of each size to cut.

use super::Told;
use crate::lengths::{length, point, size};
use allot::{Settings, SheetCutting, SheetUse};
use fit::{MatCut, MatFit, Sight, cut_list, words};
use serde_json::{Value, json};
use session::workshop::mat_sheets;
use std::io::{self, Write};

/// The section on mats: each size with the faces that it is for. Nothing where none is large enough.
pub(super) fn write(told: &Told<'_>, out: &mut dyn Write) -> io::Result<()> {
    let unit = told.document.units;
    let Some((_, folding)) = told.derived.folded.as_ref().filter(|_| !told.mats.is_empty()) else { return Ok(()) };
    writeln!(out, "\nMats, {} from the edges of what is seen", told.margin.text(unit))?;
    for cut in cut_list(&told.mats) {
        writeln!(out, "  {}", words::cut(&cut, unit))?;
        for mat in cut.mats.iter().filter_map(|&at| told.mats.get(at)) {
            writeln!(out, "    {}, {}: seen {}", mat.name, mat.face.word(), words::seen(mat, folding.steps()))?;
        }
    }
    for sheets in sheets(told) {
        let paper = match (sheets.stock, sheets.name.as_str()) {
            (None, _) => "the folio's paper".to_owned(),
            (Some(id), "") => format!("paper {}", id.0),
            (Some(_), name) => format!("\"{name}\""),
        };
        let (count, size) = (sheets.sheets.len(), sheets.size.text(unit));
        let word = if count == 1 { "sheet" } else { "sheets" };
        writeln!(out, "  All of them come out of {count} further {word} of {paper}, {size}")?;
    }
    Ok(())
}

/// The further sheets that all mats take: of the folio's own paper, and of each other paper that holds them.
fn sheets(told: &Told<'_>) -> Vec<SheetUse> {
    let stocks = std::iter::once(None).chain(told.document.further_stocks.iter().map(|further| Some(further.id)));
    let of = |stock| mat_sheets(told.document, &told.mats, stock, &Settings::of(told.document));
    let holds_all =
        |sheets: &SheetUse| sheets.sheets.iter().map(|sheet| sheet.parts.len()).sum::<usize>() == told.mats.len();
    stocks.filter_map(of).filter(holds_all).collect()
}

/// The margin, the mat for each face, and the cut list.
pub(super) fn value(told: &Told<'_>) -> Value {
    let unit = told.document.units;
    let sight = |sight: &Sight| json!({ "after": sight.stage, "from": sight.view.word() });
    let face = |mat: &MatFit| {
        let folded = told.derived.folded.as_ref();
        json!({
            "panel": mat.name,
            "face": mat.face.word(),
            "width": length(mat.width, unit),
            "height": length(mat.height, unit),
            "at": point(mat.at, unit),
            "outside": folded.is_some_and(|(_, folding)| mat.is_outside(folding)),
            "seen": mat.seen.iter().map(sight).collect::<Vec<_>>(),
        })
    };
    let cut = |cut: MatCut| {
        let mut value = size((cut.width, cut.height), unit);
        value["count"] = json!(cut.mats.len());
        value["faces"] = json!(cut.mats);
        value
    };
    let sheet = |sheets: &SheetUse| {
        let cuts = |sheet: &SheetCutting| {
            let faces: Vec<u32> = sheet.parts.iter().map(|part| part.0 - 1).collect();
            let cuts: Vec<&str> = sheet.cuts.iter().map(|cut| cut.sentence.as_str()).collect();
            json!({ "faces": faces, "cuts": cuts })
        };
        json!({
            "stock": sheets.stock.map(|id| id.0),
            "count": sheets.sheets.len(),
            "at_least": sheets.at_least,
            "sheets": sheets.sheets.iter().map(cuts).collect::<Vec<_>>(),
        })
    };
    json!({
        "margin": length(told.margin, unit),
        "faces": told.mats.iter().map(face).collect::<Vec<_>>(),
        "cut_list": cut_list(&told.mats).into_iter().map(cut).collect::<Vec<_>>(),
        "sheets": sheets(told).iter().map(sheet).collect::<Vec<_>>(),
    })
}
