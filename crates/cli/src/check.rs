//! `foliowright check`.

mod mend;

use crate::arguments::CheckTask;
use crate::lengths;
use crate::{Failure, Outcome, read};
use check::{Finding, Severity};
use model::Document;
use serde_json::{Value, json};
use session::Derived;
use std::io::Write;

pub(crate) fn run(task: &CheckTask, out: &mut dyn Write, err: &mut dyn Write) -> Outcome {
    if let (Some(rule), Some(output)) = (&task.fix, &task.output) {
        return mend::run(&task.files, rule, output, out);
    }
    let mut unreadable = false;
    let mut worst = None;
    let mut reports = Vec::new();
    for path in &task.files {
        let document = match read(path) {
            Ok(document) => document,
            Err(Failure::Unreadable(sentence)) => {
                // The other files are checked all the same.
                unreadable = true;
                writeln!(err, "{}", sentence.unwrap_or_default())?;
                continue;
            }
            Err(other) => return Err(other),
        };
        let derived = Derived::of(&document);
        worst = worst.max(derived.worst());
        let name = path.display().to_string();
        if task.json {
            let findings: Vec<Value> = derived.findings.iter().map(|f| finding(f, &document, &derived)).collect();
            reports.push(json!({ "file": name, "findings": findings }));
        } else if derived.findings.is_empty() {
            writeln!(out, "{name}: no findings")?;
        } else {
            for Finding { rule, severity, sentence, mend, .. } in &derived.findings {
                writeln!(out, "{name}: {}: {sentence} {mend} [{rule}]", severity.word())?;
            }
        }
    }
    if task.json {
        writeln!(out, "{:#}", json!({ "files": reports }))?;
    }
    out.flush()?;
    match (unreadable, worst) {
        (true, _) => Err(Failure::Unreadable(None)),
        (_, Some(Severity::Warning | Severity::Error)) => Err(Failure::Refused(None)),
        _ => Ok(()),
    }
}

/// A finding as JSON; also part of `describe`.
pub(crate) fn finding(finding: &Finding, document: &Document, derived: &Derived) -> Value {
    let spot = &finding.spot;
    let panels: Vec<&str> = spot.panels.iter().map(|&panel| derived.layout.panel(panel).name.as_str()).collect();
    let lines: Vec<Value> =
        spot.lines.iter().map(|&id| json!({ "id": id.0, "name": document.line_name(id) })).collect();
    json!({
        "rule": finding.rule,
        "severity": finding.severity.word(),
        "sentence": finding.sentence,
        "mend": finding.mend,
        "fixes": finding.fixes.iter().map(|fix| fix.label.as_str()).collect::<Vec<_>>(),
        "panels": panels,
        "lines": lines,
        "at": spot.at.map(|at| lengths::point(at, document.units)),
        "step": spot.step.map(|step| step + 1),
    })
}
