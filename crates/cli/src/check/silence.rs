//! `check --silence` and `check --hear`: what the maker does not want to be told again of one place.

use super::mend::{one_file, rule_named, save_elsewhere};
use crate::{Failure, Outcome, read};
use check::{Finding, silence};
use session::Derived;
use std::io::Write;
use std::path::{Path, PathBuf};

/// Which finding of a rule is meant: the only one, or one by its number from 1.
#[derive(Debug, Clone, Copy)]
pub(super) struct Meant<'a> {
    pub(super) rule: &'a str,
    pub(super) number: Option<usize>,
}

/// Silences one finding, for a reason.
pub(super) fn silence(files: &[PathBuf], meant: Meant<'_>, reason: &str, to: &Path, out: &mut dyn Write) -> Outcome {
    rule_named(meant.rule)?;
    let file = one_file(files, "--silence")?;
    if reason.trim().is_empty() {
        return Err(Failure::unreadable("--reason is empty; say why that is as you want it".to_owned()));
    }
    if reason.chars().any(char::is_control) || reason.chars().count() > file::MOST_TITLE {
        let most = file::MOST_TITLE;
        return Err(Failure::unreadable(format!("--reason takes one line of at most {most} characters")));
    }
    let mut document = read(file)?;
    let derived = Derived::of(&document);
    let findings: Vec<&Finding> = derived.findings.iter().filter(|finding| finding.rule == meant.rule).collect();
    let sentences = findings.iter().map(|finding| finding.sentence.clone()).collect();
    let finding = findings[meant.place(file, sentences, "finds")?];
    let all = derived.findings.iter().chain(derived.silenced.iter().map(|silenced| &silenced.finding));
    let edit = silence::silence(&document, &derived.layout, finding, all, reason);
    let applied = edit.map(|edit| document.apply(edit).map_err(|refusal| refusal.to_string()));
    match applied {
        Some(Ok(_)) => {}
        Some(Err(why)) => return Err(Failure::Refused(Some(format!("{}: {why}", file.display())))),
        None => {
            let sentence = format!("{}: that finding has no place that can be named", file.display());
            return Err(Failure::Refused(Some(sentence)));
        }
    }
    save_elsewhere(&document, file, to, out)?;
    writeln!(out, "{}: silenced: {} [{}]", file.display(), finding.sentence, meant.rule)?;
    writeln!(out, "{}", to.display())?;
    Ok(())
}

/// Lets one silenced finding be heard again, also one that would find nothing now.
pub(super) fn hear(files: &[PathBuf], meant: Meant<'_>, to: &Path, out: &mut dyn Write) -> Outcome {
    let file = one_file(files, "--hear")?;
    let mut document = read(file)?;
    let places: Vec<usize> =
        (0..document.silences.len()).filter(|&i| document.silences[i].rule == meant.rule).collect();
    let reasons = places.iter().map(|&place| document.silences[place].reason.clone()).collect();
    let place = places[meant.place(file, reasons, "is silenced for")?];
    let reason = document.silences[place].reason.clone();
    if let Some(edit) = silence::hear_again(&document, place) {
        document.apply(edit).map_err(|refusal| Failure::Refused(Some(refusal.to_string())))?;
    }
    save_elsewhere(&document, file, to, out)?;
    writeln!(out, "{}: heard again: {}, which was silenced: {reason}", file.display(), meant.rule)?;
    writeln!(out, "{}", to.display())?;
    Ok(())
}

impl Meant<'_> {
    /// The place in a list of what it is, each of which a sentence tells.
    fn place(self, file: &Path, sentences: Vec<String>, does: &str) -> Result<usize, Failure> {
        let (name, rule, count) = (file.display(), self.rule, sentences.len());
        let refused = |why: String| Err(Failure::Refused(Some(why)));
        match self.number {
            _ if count == 0 => refused(format!("{name}: {rule} {does} nothing")),
            Some(number) if (1..=count).contains(&number) => Ok(number - 1),
            Some(number) => refused(format!("{name}: there is no {number} of what {rule} {does}; there are {count}")),
            None if count == 1 => Ok(0),
            None => {
                let told: Vec<String> = (1..).zip(&sentences).map(|(i, sentence)| format!("{i}: {sentence}")).collect();
                refused(format!("{name}: {rule} {does} several; say which with --number, {}", told.join(" ")))
            }
        }
    }
}
