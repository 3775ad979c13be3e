//! `foliowright manual` and `foliowright completions`: what the command line says of itself, for `man`, for the guide and for
//! shells.

mod page;

use crate::arguments::{Arguments, CompletionsTask, ManualTask};
use crate::{Failure, Outcome};
use clap::{Command, CommandFactory};
use clap_mangen::Man;
use model::words::listed;
use std::io::Write;

pub(crate) fn completions(task: &CompletionsTask, out: &mut dyn Write) -> Outcome {
    let mut script = Vec::new();
    clap_complete::generate(task.shell, &mut Arguments::command(), "foliowright", &mut script);
    out.write_all(&script)?;
    Ok(())
}

pub(crate) fn run(task: &ManualTask, out: &mut dyn Write) -> Outcome {
    let mut command = Arguments::command();
    // So that each command knows the names above it, and has the help of its own.
    command.build();
    if task.markdown {
        out.write_all(page::markdown(&command).as_bytes())?;
        return Ok(());
    }
    let mut name = command.get_name().to_owned();
    for word in &task.command {
        let commands = |command: &Command| -> Vec<String> {
            let known = command.get_subcommands().map(|known| known.get_name().to_owned());
            known.filter(|known| known != "help").collect()
        };
        let Some(next) = command.find_subcommand(word).cloned() else {
            let known = commands(&command);
            let sentence = if known.is_empty() {
                format!("\"{name}\" has no commands of its own; leave \"{word}\" out")
            } else {
                format!("\"{name}\" has no command \"{word}\"; it has {}", listed(known))
            };
            return Err(Failure::unreadable(sentence));
        };
        command = next;
        name = format!("{name} {word}");
    }
    let source = format!("Foliowright {}", env!("CARGO_PKG_VERSION"));
    let page = name.replace(' ', "-");
    // Without a date, which would be that of the machine.
    let man = Man::new(command.name(page.clone()).bin_name(name))
        .title(page.to_uppercase())
        .section("1")
        .date("")
        .source(source);
    man.render(out)?;
    Ok(())
}
