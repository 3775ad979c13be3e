//! In which order a folio and its parts are made, and why.

use super::Told;
use make::{Circle, Constraint, Words};
use model::Document;
use model::part::{Job, Paper};
use serde_json::{Value, json};
use std::io::{self, Write};

/// The section on making; nothing for a design without parts, which is scored, cut and closed.
pub(super) fn write(told: &Told<'_>, out: &mut dyn Write) -> io::Result<()> {
    if told.document.parts.is_empty() {
        return Ok(());
    }
    let Told { document, layout, .. } = *told;
    let making = told.derived.making(document);
    let words = Words { document, layout, making };
    let cautions = making.cautions(document);
    writeln!(out, "\nMake in this order")?;
    for (number, &job) in (1..).zip(&making.jobs) {
        writeln!(out, "  {number}. {}", words.instruction(job))?;
        for (_, caution) in cautions.iter().filter(|(at, _)| *at == job) {
            writeln!(out, "     {}", caution.sentence())?;
        }
    }
    for circle in &making.circles {
        writeln!(out, "  This order can't be kept: {}", circle.sentence(document))?;
    }
    Ok(())
}

/// The jobs in their order, what must come before what, and where reasons contradict one another.
pub(super) fn value(told: &Told<'_>) -> Value {
    let Told { document, layout, .. } = *told;
    let making = told.derived.making(document);
    let words = Words { document, layout, making };
    let cautions = making.cautions(document);
    let job = |&job: &Job| {
        let own = cautions.iter().filter(|(at, _)| *at == job).map(|(_, caution)| caution.sentence());
        json!({ "job": spelled(job), "instruction": words.instruction(job), "cautions": own.collect::<Vec<_>>() })
    };
    let reasons = |all: &[Constraint]| all.iter().map(|one| reason(document, one)).collect::<Vec<_>>();
    let circle =
        |circle: &Circle| json!({ "sentence": circle.sentence(document), "reasons": reasons(&circle.reasons) });
    json!({
        "jobs": making.jobs.iter().map(job).collect::<Vec<_>>(),
        "constraints": reasons(&making.constraints),
        "circles": making.circles.iter().map(circle).collect::<Vec<_>>(),
    })
}

fn reason(document: &Document, reason: &Constraint) -> Value {
    json!({ "first": spelled(reason.first), "then": spelled(reason.then), "why": reason.sentence(document) })
}

/// A job as the project file spells it.
fn spelled(job: Job) -> String {
    let paper = |paper: Paper| match paper {
        Paper::Folio => "folio".to_owned(),
        Paper::Part(id) => format!("part {}", id.0),
    };
    match job {
        Job::Score(of) => format!("score {}", paper(of)),
        Job::Cut(of) => format!("cut {}", paper(of)),
        Job::Fold(id) => format!("fold part {}", id.0),
        Job::Put(id) => format!("put part {}", id.0),
        Job::Close => "close".to_owned(),
    }
}
