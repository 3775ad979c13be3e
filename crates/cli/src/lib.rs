//! The command line: everything that works without a screen.
//!
//! Reads arguments, opens files through `disk`, and says what the other crates worked out. No geometry and no rules
//! of its own.

mod arguments;
mod check;
mod describe;
mod export;
mod lengths;
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
    /// Something could not be read or understood: exit 2.
    Unreadable(String),
    /// The reader of our output went away; there is no one to tell.
    Unheard,
}

type Outcome = Result<(), Failure>;

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
    const WORDS: [&str; 10] =
        ["check", "describe", "export", "starters", "new", "help", "--help", "-h", "--version", "-V"];
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
        Task::Export(task) => export::run(&task, out),
        Task::Starters(task) => starters::list_or_copy(&task, out),
        Task::New(task) => starters::new(&task, out),
    };
    match outcome.and_then(|()| out.flush().map_err(Failure::from)) {
        Ok(()) => 0,
        Err(Failure::Unheard) => 1,
        Err(Failure::Refused(None)) => 1,
        Err(Failure::Refused(Some(sentence))) => told(err, &sentence, 1),
        Err(Failure::Unreadable(sentence)) => told(err, &sentence, 2),
    }
}

/// Says a sentence and gives the code. That nobody may hear it is no reason for another code.
fn told(err: &mut dyn Write, sentence: &str, code: u8) -> u8 {
    match writeln!(err, "{sentence}") {
        Ok(()) | Err(_) => code,
    }
}

fn read(path: &Path) -> Result<model::Document, Failure> {
    disk::read_design(path).map_err(|error| Failure::Unreadable(error.to_string()))
}

#[cfg(test)]
mod tests;
