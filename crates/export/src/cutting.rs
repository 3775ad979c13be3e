//! Files for a cutting machine, one a sheet.

use crate::{Design, ExportRefusal, Exported, ExportedFile};
use draw::cutting::{CuttingOptions, CuttingSheet, cutting};

pub(crate) fn files(options: &CuttingOptions, design: &Design<'_>, ending: &str) -> Result<Exported, ExportRefusal> {
    let derived = design.derived;
    let plan = cutting(design.document, &derived.layout, derived.supply.as_ref(), *options)?;
    let file = |sheet: &CuttingSheet| {
        let text = match ending {
            "dxf" => output::cutting_dxf(sheet)?,
            _ => output::cutting_svg(&plan.title, sheet)?,
        };
        Ok(ExportedFile { tail: tail(sheet), bytes: text.into_bytes(), told: told(sheet) })
    };
    let files = plan.sheets.iter().map(file).collect::<Result<Vec<_>, ExportRefusal>>()?;
    Ok(Exported { files, notes: plan.notes.clone() })
}

/// The number of a further sheet, and "back" for one that is turned over.
fn tail(sheet: &CuttingSheet) -> String {
    let number = if sheet.number > 1 { format!("-{}", sheet.number) } else { String::new() };
    number + if sheet.is_back { "-back" } else { "" }
}

/// "the sheet, 304.8 x 304.8 mm: 4 valley scores, 2 slots, 9 cuts".
fn told(sheet: &CuttingSheet) -> String {
    let counts = sheet.counts().into_iter().map(|(pass, count)| pass.counted(count));
    let (width, height) = (sheet.size.width, sheet.size.height);
    format!("{}, {width} x {height} mm: {}", sheet.name, counts.collect::<Vec<_>>().join(", "))
}
