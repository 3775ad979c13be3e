//! `foliowright check --fix`: what one rule finds, mended finding by finding.

use crate::{Failure, Outcome, read, save_copy};
use check::{Finding, Severity};
use model::change::perform;
use model::words::listed;
use model::{Document, Edit};
use session::Derived;
use std::io::Write;
use std::path::{Path, PathBuf};

/// The most edits made one after another: a bound on the work, since a mended finding may bring on another.
const MOST: usize = 200;

/// Why a file is not mended.
enum Why {
    /// The rule has nothing to say.
    NoFinding,
    /// It has, but none of it can be mended in one go.
    NoFix,
}

/// What was done.
struct Mended {
    document: Document,
    /// What each edit is called.
    did: Vec<String>,
    /// The sentences of findings of the rule that still stand.
    stand: Vec<String>,
}

pub(super) fn run(files: &[PathBuf], rule: &str, output: &Path, out: &mut dyn Write) -> Outcome {
    rule_named(rule)?;
    let file = one_file(files, "--fix")?;
    is_free(output)?;
    let document = read(file)?;
    let name = file.display();
    let mended = mended(&document, rule).map_err(|why| {
        let why = match why {
            Why::NoFinding => format!("{name}: {rule} finds nothing, so there is nothing to mend"),
            Why::NoFix => format!("{name}: nothing that {rule} finds can be mended in one go; `check` says what to do"),
        };
        Failure::Refused(Some(why))
    })?;
    save_elsewhere(&mended.document, file, output, out)?;
    for did in &mended.did {
        writeln!(out, "{name}: {did}")?;
    }
    for sentence in &mended.stand {
        writeln!(out, "{name}: not mended: {sentence} [{rule}]")?;
    }
    writeln!(out, "{}", output.display())?;
    if mended.stand.is_empty() { Ok(()) } else { Err(Failure::Refused(None)) }
}

/// Refuses the name of no rule.
pub(super) fn rule_named(rule: &str) -> Outcome {
    if check::rule::named(rule).is_some() {
        return Ok(());
    }
    let names = listed(crate::rules::sorted().into_iter().map(|rule| rule.name.to_owned()));
    Err(Failure::unreadable(format!("there is no rule \"{rule}\"; the rules are {names}")))
}

/// The one design that an option changes.
pub(super) fn one_file<'a>(files: &'a [PathBuf], option: &str) -> Result<&'a Path, Failure> {
    match files {
        [file] => Ok(file),
        _ => Err(Failure::unreadable(format!("{option} changes one design at a time; name one file"))),
    }
}

fn is_free(output: &Path) -> Outcome {
    if output.exists() {
        let sentence = format!("{} is there already; choose another name", output.display());
        return Err(Failure::Refused(Some(sentence)));
    }
    Ok(())
}

/// Writes a changed design where nothing is yet.
pub(super) fn save_elsewhere(document: &Document, from: &Path, output: &Path, out: &mut dyn Write) -> Outcome {
    is_free(output)?;
    save_copy(document, from, output, out)
}

fn mended(document: &Document, rule: &str) -> Result<Mended, Why> {
    let mut now = document.clone();
    let mut derived = Derived::of(document);
    if of(rule, &derived).next().is_none() {
        return Err(Why::NoFinding);
    }
    let mut did = Vec::new();
    // Edits that mended nothing, or brought an error on.
    let mut in_vain: Vec<Edit> = Vec::new();
    for _ in 0..MOST {
        let open = of(rule, &derived).filter_map(|finding| finding.fixes.first());
        let Some(fix) = open.into_iter().find(|fix| !in_vain.contains(&fix.edit)).cloned() else { break };
        match perform(&now, &derived.layout, fix.edit.clone()) {
            Ok(performed) => {
                let next = Derived::new(&performed.document, performed.layout);
                if is_better(rule, &derived, &next) {
                    did.push(fix.label);
                    (now, derived) = (performed.document, next);
                    in_vain.clear();
                } else {
                    in_vain.push(fix.edit);
                }
            }
            Err(_) => in_vain.push(fix.edit),
        }
    }
    if did.is_empty() {
        return Err(Why::NoFix);
    }
    let stand = of(rule, &derived).map(|finding| finding.sentence.clone()).collect();
    Ok(Mended { document: now, did, stand })
}

fn of<'a>(rule: &'a str, derived: &'a Derived) -> impl Iterator<Item = &'a Finding> {
    derived.findings.iter().filter(move |finding| finding.rule == rule)
}

/// Whether less is found by the rule than before, and there is no more that will not work. What was hidden for want of a base
/// does not count.
fn is_better(rule: &str, before: &Derived, after: &Derived) -> bool {
    let count = |derived: &Derived| of(rule, derived).count();
    let errors =
        |derived: &Derived| derived.findings.iter().filter(|finding| finding.severity == Severity::Error).count();
    count(after) < count(before) && (errors(after) <= errors(before) || before.folded.is_none())
}
