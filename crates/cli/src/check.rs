//! `foliowright check`.

mod mend;
mod report;
mod silence;

use crate::arguments::CheckTask;
use crate::lengths;
use crate::{Failure, Outcome, read};
use check::{Finding, Severity};
use model::Document;
use report::Ink;
use serde_json::{Value, json};
use session::Derived;
use silence::Meant;
use std::io::Write;

pub(crate) fn run(task: &CheckTask, out: &mut dyn Write, err: &mut dyn Write) -> Outcome {
    if let Some(output) = &task.output {
        let meant = |rule| Meant { rule, number: task.number };
        return match (&task.fix, &task.silence, &task.hear) {
            (Some(rule), ..) => mend::run(&task.files, rule, output, out),
            (_, Some(rule), _) => {
                silence::silence(&task.files, meant(rule), task.reason.as_deref().unwrap_or_default(), output, out)
            }
            (.., Some(rule)) => silence::hear(&task.files, meant(rule), output, out),
            _ => Err(Failure::unreadable("--output goes with --fix, --silence or --hear".to_owned())),
        };
    }
    let ink = Ink::new(task.colour.is_on());
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
            reports.push(report(&name, &document, &derived));
        } else {
            report::lines(&name, &document, &derived, ink, out)?;
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

/// What is found in a design as JSON: the worst first, then by the order of the rules.
fn report(name: &str, document: &Document, derived: &Derived) -> Value {
    let findings: Vec<Value> = derived.findings.iter().map(|f| finding(f, document, derived)).collect();
    json!({ "file": name, "findings": findings, "silenced": silenced(document, derived) })
}

/// What is silenced: findings, each with the reason, and the places for which nothing would be said now.
pub(crate) fn silenced(document: &Document, derived: &Derived) -> Value {
    let with_reason = |silenced: &check::Silenced| {
        let mut value = finding(&silenced.finding, document, derived);
        value["reason"] = json!(document.silences[silenced.by].reason);
        value
    };
    let is_idle = |by: &usize| derived.silenced.iter().all(|silenced| silenced.by != *by);
    let idle = (0..document.silences.len()).filter(is_idle).map(|by| {
        let silence = &document.silences[by];
        json!({ "rule": silence.rule, "reason": silence.reason })
    });
    json!({
        "findings": derived.silenced.iter().map(with_reason).collect::<Vec<_>>(),
        "idle": idle.collect::<Vec<_>>(),
    })
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
