//! `foliowright measure`: the measures of a folio that holds what should go in, and the folio itself.

use crate::arguments::MeasureTask;
use crate::lengths::length;
use crate::{Failure, Outcome};
use contents::{Measures, Thing, folio, measures};
use model::{Document, Length, Size, Stock, Unit};
use serde_json::{Value, json};
use std::io::Write;

pub(crate) fn run(task: &MeasureTask, out: &mut dyn Write) -> Outcome {
    if let Some(output) = task.output.as_ref().filter(|output| output.exists()) {
        let sentence = format!("{} is there already; choose another name", output.display());
        return Err(Failure::Refused(Some(sentence)));
    }
    let size = Size::parse(&task.sheet).map_err(|error| Failure::unreadable(error.to_string()))?;
    let unit = Unit::of_text(&task.sheet);
    let typed = |name: &str, text: &str| {
        Length::parse_in(text, unit).map_err(|error| Failure::unreadable(format!("{name}: {error}")))
    };
    let mut stock = Stock::plain(size);
    if let Some(text) = &task.caliper {
        let caliper = typed("--caliper", text)?;
        if caliper <= Length::ZERO {
            return Err(Failure::unreadable("--caliper: paper has some thickness; give more than 0".to_owned()));
        }
        stock.caliper = model::Caliper::Measured(caliper);
    }
    let groove = match &task.groove {
        Some(text) => typed("--groove", text)?,
        None => Document::usual_groove(unit),
    };
    let things = task.put.iter().map(|text| thing(text, unit)).collect::<Result<Vec<Thing>, Failure>>()?;
    let found = measures(&things, &stock, groove)
        .map_err(|refusal| Failure::Refused(Some(refusal.said(&things, &stock, unit))))?;
    if task.json {
        writeln!(out, "{:#}", value(&found, &things, unit))?;
    } else {
        for sentence in found.said(&things, &stock, unit) {
            writeln!(out, "{sentence}")?;
        }
    }
    if let Some(output) = &task.output {
        let document = folio(&found, &things, &stock, unit, groove)
            .map_err(|refusal| Failure::Refused(Some(refusal.to_string())))?;
        disk::save_design(output, &document).map_err(|error| Failure::Refused(Some(error.to_string())))?;
        if !task.json {
            writeln!(out, "{}", output.display())?;
        }
    }
    Ok(())
}

/// "seed packet, 4, 4 1/2 x 3 1/4 in, 1 mm": a name, a count, a size and how thick one is.
fn thing(text: &str, unit: Unit) -> Result<Thing, Failure> {
    let wrong = |says: String| {
        let form =
            "write a name, a count, a size and how thick one is, such as \"seed packet, 4, 4 1/2 x 3 1/4 in, 1 mm\"";
        Failure::unreadable(format!("--put \"{text}\": {says}; {form}"))
    };
    let fields: Vec<&str> = text.split(',').map(str::trim).collect();
    let [name, count, size, thickness] = fields.as_slice() else {
        return Err(wrong("it does not have four parts with commas between them".to_owned()));
    };
    let count = count.parse().map_err(|_not_a_count| wrong(format!("\"{count}\" is no count")))?;
    let size = Size::parse(size).map_err(|error| wrong(error.to_string()))?;
    let thickness = Length::parse_in(thickness, unit).map_err(|error| wrong(error.to_string()))?;
    Ok(Thing { name: (*name).to_owned(), count, width: size.width(), height: size.height(), thickness })
}

fn value(found: &Measures, things: &[Thing], unit: Unit) -> Value {
    let measure = |grooves: i64| length(found.groove * grooves, unit);
    let size = |[width, height]: [i64; 2]| json!({ "width": measure(width), "height": measure(height) });
    let lies = |(thing, lies): (&Thing, &contents::Lying)| json!({ "name": thing.name, "count": thing.count, "turned": lies.turned, "pile": lies.pile });
    json!({
        "base": size(found.base),
        "gusset": measure(found.gusset),
        "side_flap": measure(found.side),
        "front_flap": measure(found.front),
        "closing_flap": measure(found.closing),
        "needed": size(found.needed()),
        "piles": found.piles.to_string(),
        "things": things.iter().zip(&found.lying).map(lies).collect::<Vec<Value>>(),
    })
}
