//! The command line: everything that works without a screen.
//!
//! Reads arguments, opens files through `disk`, and says what the other crates worked out. No geometry and no rules
//! of its own.

mod arguments;
mod artwork;
mod check;
mod compare;
mod convert;
mod describe;
mod export;
mod lengths;
mod licences;
mod manual;
mod measure;
mod named;
mod rules;
mod starters;

use arguments::{Arguments, Task};
use clap::Parser;
use std::ffi::{OsStr, OsString};
use std::io::{self, Write};
use std::path::Path;
use std::process::ExitCode;

/// How a task ended, besides going well.
#[derive(Debug)]
enum Failure {
    /// A finding worse than a note, or an export that was refused: exit 1.
    Refused(Option<String>),
    /// Something could not be read or understood: exit 2. Without a sentence, what was wrong has been said.
    Unreadable(Option<String>),
    /// The reader of our output went away; there is no one to tell.
    Unheard,
}

type Outcome = Result<(), Failure>;

impl Failure {
    fn unreadable(sentence: String) -> Self {
        Self::Unreadable(Some(sentence))
    }
}

impl From<io::Error> for Failure {
    fn from(error: io::Error) -> Self {
        match error.kind() {
            io::ErrorKind::BrokenPipe => Self::Unheard,
            _ => Self::Refused(Some(format!("the output could not be written: {error}"))),
        }
    }
}

/// Whether a word is a task of the command line, so that `foliowright WORD …` does not open a window.
#[must_use]
pub fn is_command(word: &OsStr) -> bool {
    const WORDS: [&str; 20] = [
        "check",
        "describe",
        "export",
        "rules",
        "starters",
        "new",
        "convert",
        "artwork",
        "vary",
        "lengths",
        "compare",
        "measure",
        "licences",
        "completions",
        "manual",
        "help",
        "--help",
        "-h",
        "--version",
        "-V",
    ];
    WORDS.iter().any(|known| word == *known)
}

/// Does what the arguments (without the program's name) ask for.
///
/// Results go to standard output, and at most one sentence a file to standard error. The exit code is 0 when all is
/// well, 1 for findings worse than a note or a refused export, 2 for what could not be read or understood.
pub fn run(arguments: impl Iterator<Item = OsString>) -> ExitCode {
    let mut out = io::stdout().lock();
    let code = run_with(arguments, &mut out, &mut io::stderr().lock());
    ExitCode::from(code)
}

/// The same on given streams: what [`run`] does, for tests.
pub fn run_with(arguments: impl Iterator<Item = OsString>, out: &mut dyn Write, err: &mut dyn Write) -> u8 {
    let arguments = match Arguments::try_parse_from(std::iter::once(OsString::from("foliowright")).chain(arguments)) {
        Ok(arguments) => arguments,
        Err(error) if !error.use_stderr() => {
            // Help or version was asked for.
            return if write!(out, "{error}").is_ok() { 0 } else { 1 };
        }
        Err(error) => {
            return told(err, &arguments::one_sentence(&error), 2);
        }
    };
    let outcome = match arguments.task {
        Task::Check(task) => check::run(&task, out, err),
        Task::Describe(task) => describe::run(&task, out),
        Task::Export(task) => export::run(&task, out, err),
        Task::Rules(task) => rules::run(&task, out),
        Task::Starters(task) => starters::list_or_copy(&task, out),
        Task::New(task) => starters::new(&task, out),
        Task::Convert(task) => convert::run(&task, out),
        Task::Artwork(task) => artwork::run(&task, out),
        Task::Vary(task) => compare::vary(&task, out),
        Task::Lengths(task) => named::run(&task, out),
        Task::Compare(task) => compare::run(&task, out),
        Task::Measure(task) => measure::run(&task, out),
        Task::Licences => licences::run(out),
        Task::Completions(task) => manual::completions(&task, out),
        Task::Manual(task) => manual::run(&task, out),
    };
    match outcome.and_then(|()| out.flush().map_err(Failure::from)) {
        Ok(()) => 0,
        Err(Failure::Unheard | Failure::Refused(None)) => 1,
        Err(Failure::Unreadable(None)) => 2,
        Err(Failure::Refused(Some(sentence))) => told(err, &sentence, 1),
        Err(Failure::Unreadable(Some(sentence))) => told(err, &sentence, 2),
    }
}

/// Says a sentence and gives the code. That nobody may hear it is no reason for another code.
fn told(err: &mut dyn Write, sentence: &str, code: u8) -> u8 {
    match writeln!(err, "{sentence}") {
        Ok(()) | Err(_) => code,
    }
}

fn read(path: &Path) -> Result<model::Document, Failure> {
    disk::read_design(path).map_err(|error| Failure::unreadable(error.to_string()))
}

/// Saves a changed design in another place, with its pictures. One that can't come along is told, and the design is saved
/// all the same.
fn save_copy(document: &model::Document, from: &Path, to: &Path, out: &mut dyn Write) -> Outcome {
    disk::save_design(to, document).map_err(|error| Failure::Refused(Some(error.to_string())))?;
    for error in disk::artwork::bring(Some(from), to, document) {
        writeln!(out, "a picture did not come along: {error}")?;
    }
    Ok(())
}

/// A time of the closing as it is typed: so many steps, or "closed".
#[expect(clippy::cast_precision_loss, reason = "a count of steps")]
fn fold_time(text: &str, steps: usize) -> Result<f64, Failure> {
    let most = steps as f64;
    let time = if text == "closed" { Some(most) } else { text.parse().ok() };
    time.filter(|time: &f64| (0.0..=most).contains(time)).ok_or_else(|| {
        let mend = if steps == 0 {
            "nothing folds yet, so give 0".to_owned()
        } else {
            format!("give 0 to {steps}, or \"closed\"")
        };
        Failure::unreadable(format!("\"{text}\" is no step of the closing; {mend}"))
    })
}

#[cfg(test)]
mod tests;
