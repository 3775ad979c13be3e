//! `cargo xtask ci`: the one list of checks that a person and the CI script both run.

use crate::{licences, tidy};
use anyhow::{Context, Result, bail};
use std::path::Path;
use std::process::Command;
use std::time::Instant;

/// How much is checked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Extent {
    /// Everything.
    All,
    /// What needs nothing but Cargo.
    CargoOnly,
}

/// What a step does.
enum Work {
    /// Looks at the sources, in this program.
    Tidy,
    /// Looks at the licences of what the program is built from, in this program.
    Licences,
    /// Runs Cargo with these arguments and this setting of the environment.
    Cargo(&'static [&'static str], Option<(&'static str, &'static str)>),
    /// Runs a script of the repository.
    Script(&'static str),
}

struct Step {
    name: &'static str,
    work: Work,
}

/// Cheap steps first, so that a slip shows before the long ones start.
const STEPS: [Step; 8] = [
    Step { name: "format", work: Work::Cargo(&["fmt", "--all", "--", "--check"], None) },
    Step { name: "tidy", work: Work::Tidy },
    Step { name: "licences", work: Work::Licences },
    Step {
        name: "lints",
        work: Work::Cargo(&["clippy", "--workspace", "--all-targets", "--", "-D", "warnings"], None),
    },
    Step { name: "tests", work: Work::Cargo(&["test", "--workspace"], None) },
    Step {
        name: "documentation",
        work: Work::Cargo(
            &["doc", "--workspace", "--no-deps", "--document-private-items"],
            Some(("RUSTDOCFLAGS", "-D warnings")),
        ),
    },
    Step { name: "outside checks", work: Work::Script("tests/outside/run") },
    Step { name: "fuzzing", work: Work::Script("tests/fuzz/run") },
];

/// Runs the steps in order and stops at the first that fails.
///
/// # Errors
/// Names the step that failed and how to run it alone.
pub(crate) fn run(root: &Path, extent: Extent) -> Result<()> {
    let started = Instant::now();
    for step in STEPS.iter().filter(|step| step.work.is_in(extent)) {
        println!("== {}: {}", step.name, step.work.spelled());
        let at = Instant::now();
        step.work.done(root).with_context(|| format!("ci stopped at \"{}\"", step.name))?;
        println!("== {}: passed in {:.1} s", step.name, at.elapsed().as_secs_f64());
    }
    println!("== all passed in {:.1} s", started.elapsed().as_secs_f64());
    Ok(())
}

impl Work {
    const fn is_in(&self, extent: Extent) -> bool {
        matches!(extent, Extent::All) || !matches!(self, Self::Script(_))
    }

    /// The command that does the same alone.
    fn spelled(&self) -> String {
        match self {
            Self::Tidy => "cargo xtask tidy".to_owned(),
            Self::Licences => "cargo xtask licences".to_owned(),
            Self::Cargo(words, None) => format!("cargo {}", words.join(" ")),
            Self::Cargo(words, Some((name, value))) => format!("{name}='{value}' cargo {}", words.join(" ")),
            Self::Script(path) => (*path).to_owned(),
        }
    }

    fn done(&self, root: &Path) -> Result<()> {
        match (self.command(root), self) {
            (Some(command), _) => finished(command, &self.spelled()),
            (None, Self::Licences) => licences::run(root),
            (None, _) => tidy::run(root),
        }
    }

    /// What to start; nothing for what this program does itself.
    fn command(&self, root: &Path) -> Option<Command> {
        let mut command = match self {
            Self::Tidy | Self::Licences => return None,
            Self::Cargo(words, setting) => {
                let mut command = Command::new(std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into()));
                command.args(*words).envs(*setting);
                command
            }
            Self::Script(path) => Command::new(root.join(path)),
        };
        command.current_dir(root);
        Some(command)
    }
}

/// Runs a command to its end; an error names it as `spelled`.
fn finished(mut command: Command, spelled: &str) -> Result<()> {
    let status = command.status().with_context(|| format!("{spelled} did not start"))?;
    if !status.success() {
        bail!("{spelled} failed ({status})");
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::process::Stdio;

    #[test]
    fn only_scripts_need_more_than_cargo() {
        let names =
            |extent| STEPS.iter().filter(|step| step.work.is_in(extent)).map(|step| step.name).collect::<Vec<_>>();
        assert_eq!(names(Extent::All).len(), STEPS.len());
        assert_eq!(names(Extent::CargoOnly), ["format", "tidy", "licences", "lints", "tests", "documentation"]);
    }

    #[test]
    fn a_step_that_cannot_start_or_fails_is_an_error_that_names_it() {
        #[track_caller]
        fn check(work: &Work, says: Option<&str>) {
            let mut command = work.command(Path::new(env!("CARGO_MANIFEST_DIR"))).unwrap();
            command.stdout(Stdio::null()).stderr(Stdio::null());
            let said = finished(command, &work.spelled()).err().map(|error| format!("{error:#}"));
            assert_eq!(said.is_some(), says.is_some(), "{said:?}");
            assert!(says.is_none_or(|says| said.is_some_and(|said| said.contains(says))));
        }
        check(&Work::Script("no-such-script"), Some("no-such-script did not start"));
        check(&Work::Cargo(&["no-such-subcommand"], None), Some("cargo no-such-subcommand failed"));
        check(&Work::Cargo(&["--version"], None), None);
    }
}
