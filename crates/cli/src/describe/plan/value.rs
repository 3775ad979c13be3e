//! The plan of paper as JSON.

use crate::describe::Told;
use crate::lengths::{area, length, point, rect};
use allot::{
    Allotment, CutStep, Cutout, Ledger, OffcutPaper, OffcutUse, Origin, SheetCutting, SheetUse, Standing, Supply,
};
use model::{Document, PartId, Unit};
use serde_json::{Value, json};

/// Where all paper comes from; null for a design without parts.
pub(in crate::describe) fn value(told: &Told<'_>) -> Value {
    let Some(plan) = told.plan() else { return Value::Null };
    let document = told.document;
    let within = match plan.standing {
        Standing::Proved => None,
        Standing::Within(more) => Some(area(more, document.units)),
    };
    json!({
        "supplies": plan.supplies.iter().map(|one| supply(document, one)).collect::<Vec<_>>(),
        "offcuts": plan.offcuts.iter().map(|one| offcut(document, one)).collect::<Vec<_>>(),
        "sheets": plan.sheets.iter().map(|one| sheets(document, one)).collect::<Vec<_>>(),
        "standing": if within.is_none() { "proved" } else { "within" },
        "within": within,
        "ledger": ledger(plan, document.units),
    })
}

/// A part by its number and name.
pub(in crate::describe) fn part_key(document: &Document, id: PartId) -> Value {
    json!({ "id": id.0, "name": document.part_name(id) })
}

fn supply(document: &Document, supply: &Supply) -> Value {
    let unit = document.units;
    let mut value = json!({
        "part": part_key(document, supply.part),
        "from": "",
        "offcut": null,
        "stock": null,
        "sheet": null,
        "cutout": null,
        "missing": null,
        "notes": supply.notes.iter().map(ToString::to_string).collect::<Vec<_>>(),
    });
    match &supply.from {
        Origin::Offcut { name, cutout: own, whole, .. } => {
            value["from"] = json!(if *whole { "whole offcut" } else { "offcut" });
            value["offcut"] = json!(name);
            value["cutout"] = cutout(own, unit);
        }
        Origin::Sheet { stock, sheet, cutout: own } => {
            value["from"] = json!("sheet");
            value["stock"] = json!(stock.map(|id| id.0));
            value["sheet"] = json!(sheet);
            value["cutout"] = cutout(own, unit);
        }
        Origin::Bought => value["from"] = json!("bought"),
        Origin::Missing(why) => {
            value["from"] = json!("missing");
            value["missing"] = json!(why.to_string());
        }
    }
    value
}

fn cutout(cutout: &Cutout, unit: Unit) -> Value {
    let mut value = rect(cutout.rect.corner, cutout.rect.size, unit);
    value["quarters"] = json!(cutout.quarters);
    value
}

fn offcut(document: &Document, offcut: &OffcutUse) -> Value {
    let unit = document.units;
    let (paper, rectangles) = match &offcut.paper {
        OffcutPaper::Exact => ("exact", Vec::new()),
        OffcutPaper::Rectangles(rects) => {
            ("rectangles", rects.iter().map(|one| rect(one.corner, one.size, unit)).collect())
        }
        OffcutPaper::Sliver => ("sliver", Vec::new()),
    };
    let ledger = &offcut.ledger;
    let own = |(id, own): &(PartId, model::Area)| json!({ "part": part_key(document, *id), "area": area(*own, unit) });
    json!({
        "name": offcut.name,
        "paper": paper,
        "rectangles": rectangles,
        "untouched": offcut.is_untouched,
        "parts": keys(document, &offcut.parts),
        "cuts": cuts(&offcut.cuts, unit),
        "remainders": offcut.remainders.iter().map(|one| rect(one.corner, one.size, unit)).collect::<Vec<_>>(),
        "ledger": {
            "whole": area(ledger.whole, unit),
            "parts": ledger.parts.iter().map(own).collect::<Vec<_>>(),
            "cut_offs": area(ledger.cut_offs, unit),
            "left": area(ledger.left, unit),
            "waste": area(ledger.waste, unit),
        },
    })
}

fn sheets(document: &Document, sheets: &SheetUse) -> Value {
    let unit = document.units;
    let sheet = |sheet: &SheetCutting| {
        json!({
            "number": sheet.number,
            "parts": keys(document, &sheet.parts),
            "cuts": cuts(&sheet.cuts, unit),
            "remainders": sheet.remainders.iter().map(|one| rect(one.corner, one.size, unit)).collect::<Vec<_>>(),
        })
    };
    json!({
        "stock": sheets.stock.map(|id| id.0),
        "name": sheets.name,
        "width": length(sheets.size.width(), unit),
        "height": length(sheets.size.height(), unit),
        "at_least": sheets.at_least,
        "sheets": sheets.sheets.iter().map(sheet).collect::<Vec<_>>(),
    })
}

fn keys(document: &Document, parts: &[PartId]) -> Vec<Value> {
    parts.iter().map(|&id| part_key(document, id)).collect()
}

fn cuts(cuts: &[CutStep], unit: Unit) -> Vec<Value> {
    let cut = |cut: &CutStep| {
        let line = cut.line.map(|line| {
            json!({ "from": point(line.from, unit), "to": point(line.to, unit), "kerf": length(line.kerf, unit) })
        });
        json!({ "sentence": cut.sentence, "line": line })
    };
    cuts.iter().map(cut).collect()
}

fn ledger(plan: &Allotment, unit: Unit) -> Value {
    let Ledger { sheet, folio, parts, cut_offs, left, slots, waste } = plan.ledger;
    json!({
        "sheet": area(sheet, unit),
        "folio": area(folio, unit),
        "parts": area(parts, unit),
        "cut_offs": area(cut_offs, unit),
        "left": area(left, unit),
        "slots": area(slots, unit),
        "waste": area(waste, unit),
        "use_per_cent": plan.ledger.use_per_cent(),
        "folio_per_cent": plan.ledger.folio_per_cent(),
    })
}
