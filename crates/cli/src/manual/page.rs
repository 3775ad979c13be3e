//! All commands with their options as one page of Markdown, from the same table that reads what is typed.

use clap::{Arg, ArgAction, Command};

/// The start of the page, before the first command.
const START: &str = "# All commands

Every command with all that can be said to it. `foliowright manual --markdown` prints this page; what the commands do, with
their exit codes, is told in [the command line](../command-line.md).
";

/// The page of a program whose commands are built.
pub(super) fn markdown(program: &Command) -> String {
    let mut page = START.to_owned();
    below(program, "foliowright", &mut page);
    page
}

fn below(command: &Command, name: &str, page: &mut String) {
    for one in command.get_subcommands().filter(|one| one.get_name() != "help") {
        let name = format!("{name} {}", one.get_name());
        section(one, &name, page);
        below(one, &name, page);
    }
}

fn section(command: &Command, name: &str, page: &mut String) {
    let about = command.get_long_about().or(command.get_about()).map(ToString::to_string).unwrap_or_default();
    // As it is typed, with all that must be given.
    let usage = command.clone().bin_name(name).render_usage().to_string();
    let usage = usage.trim_start_matches("Usage: ").split_whitespace().collect::<Vec<_>>().join(" ");
    page.push_str(&format!("\n## {name}\n\n{}\n\n```text\n{usage}\n```\n", sentence(&about)));
    let rows: Vec<String> = command.get_arguments().filter(|arg| is_told(arg)).map(row).collect();
    if !rows.is_empty() {
        page.push_str(&format!("\n| to say | what it does |\n|---|---|\n{}", rows.concat()));
    }
}

/// Help is the same everywhere and goes without saying.
fn is_told(arg: &Arg) -> bool {
    !arg.is_hide_set() && !matches!(arg.get_action(), ArgAction::Help | ArgAction::HelpShort | ArgAction::HelpLong)
}

fn row(arg: &Arg) -> String {
    let help = arg.get_long_help().or(arg.get_help()).map(ToString::to_string).unwrap_or_default();
    let mut told = sentence(&help);
    let words: Vec<String> = arg
        .get_possible_values()
        .iter()
        .filter(|_| !matches!(arg.get_action(), ArgAction::SetTrue | ArgAction::SetFalse))
        .map(|word| format!("`{}`", word.get_name()))
        .collect();
    if !words.is_empty() {
        told = format!("{told} One of {}.", words.join(", "));
    }
    let usual: Vec<String> =
        arg.get_default_values().iter().map(|value| value.to_string_lossy().into_owned()).collect();
    if !usual.is_empty() && arg.get_action().takes_values() {
        told = format!("{told} `{}` when left out.", usual.join(" "));
    }
    format!("| `{}` | {} |\n", spelled(arg).replace('|', "\\|"), told.replace('|', "\\|"))
}

/// "-o, --output FILE", or the place of what is said without a name.
fn spelled(arg: &Arg) -> String {
    let values: Vec<String> = match arg.get_value_names() {
        Some(names) => names.iter().map(ToString::to_string).collect(),
        None => vec![arg.get_id().as_str().to_uppercase()],
    };
    let values = values.join(" ");
    let names = [arg.get_short().map(|short| format!("-{short}")), arg.get_long().map(|long| format!("--{long}"))];
    let names: Vec<String> = names.into_iter().flatten().collect();
    match (names.is_empty(), arg.get_action().takes_values()) {
        (true, _) => values,
        (false, true) => format!("{} {values}", names.join(", ")),
        (false, false) => names.join(", "),
    }
}

/// With a full stop, on one line.
fn sentence(text: &str) -> String {
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    if text.is_empty() || text.ends_with(['.', '?', '!']) { text } else { format!("{text}.") }
}
