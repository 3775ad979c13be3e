//! Mats: how large one may be on each face that shows, and how many of each size to cut.

use super::Told;
use crate::lengths::{length, point, size};
use fit::{MatCut, MatFit, Sight, cut_list, words};
use serde_json::{Value, json};
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
    Ok(())
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
    json!({
        "margin": length(told.margin, unit),
        "faces": told.mats.iter().map(face).collect::<Vec<_>>(),
        "cut_list": cut_list(&told.mats).into_iter().map(cut).collect::<Vec<_>>(),
    })
}
