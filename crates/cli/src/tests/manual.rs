//! Pages of the manual, and completions.

use super::*;
use crate::arguments::Arguments;
use clap::{Command, CommandFactory};

/// Every command with the words that lead to it.
fn commands(command: &Command, words: &[String]) -> Vec<Vec<String>> {
    let below = command.get_subcommands().filter(|below| below.get_name() != "help");
    let below = below.flat_map(|below| commands(below, &[words, &[below.get_name().to_owned()]].concat()));
    std::iter::once(words.to_vec()).chain(below.collect::<Vec<_>>()).collect()
}

#[test]
fn every_command_has_a_page_that_names_its_options() {
    let all = commands(&Arguments::command(), &[]);
    assert!(all.len() > 20, "{all:?}");
    for words in all {
        let typed_words: Vec<&str> = std::iter::once("manual").chain(words.iter().map(String::as_str)).collect();
        let (code, page, err) = typed(&typed_words);
        assert_eq!((code, err.as_str()), (0, ""), "{words:?}");
        let title = std::iter::once("FOLIOWRIGHT".to_owned()).chain(words.iter().map(|word| word.to_uppercase()));
        let title = title.collect::<Vec<_>>().join("-");
        assert!(page.contains(&format!(".TH {title} 1")), "{words:?}: {page}");
    }
    let (_, page, _) = typed(&["manual", "check"]);
    assert!(page.contains("\\-\\-silence"), "{page}");
}

#[test]
fn what_is_no_command_has_no_page() {
    check_refused(&["manual", "sing"], 2, "\"foliowright\" has no command \"sing\"; it has check, describe");
    check_refused(&["manual", "check", "twice"], 2, "\"foliowright check\" has no commands of its own");
}

#[test]
fn shells_are_told_of_every_task() {
    for shell in ["bash", "zsh", "fish", "elvish", "powershell"] {
        let (code, script, err) = typed(&["completions", shell]);
        assert_eq!((code, err.as_str()), (0, ""), "{shell}");
        for task in Arguments::command().get_subcommands() {
            assert!(script.contains(task.get_name()), "{shell} knows {}", task.get_name());
        }
    }
    let (code, _, err) = typed(&["completions", "conch"]);
    assert_eq!((code, err.lines().count()), (2, 1), "{err}");
}

#[test]
fn the_guides_page_of_commands_is_what_the_program_prints() {
    let (code, page, err) = typed(&["manual", "--markdown"]);
    assert_eq!((code, err.as_str()), (0, ""));
    let kept = include_str!("../../../../docs/guide/commands.md");
    let how = "docs/guide/commands.md is out of date; run: cargo run -- manual --markdown > docs/guide/commands.md";
    assert_eq!(page, kept, "{how}");
}

#[test]
fn every_command_and_option_is_on_the_page() {
    let (_, page, _) = typed(&["manual", "--markdown"]);
    for words in commands(&Arguments::command(), &[]).into_iter().filter(|words| !words.is_empty()) {
        let name = words.join(" ");
        let heading = format!("\n## foliowright {name}\n");
        assert_eq!(page.matches(&heading).count(), 1, "{name}");
        let section = page.split(&heading).nth(1).unwrap().split("\n## ").next().unwrap();
        let command =
            words.iter().fold(Arguments::command(), |command, word| command.find_subcommand(word).unwrap().clone());
        for option in command.get_arguments().filter_map(|arg| arg.get_long()).filter(|long| *long != "help") {
            assert!(section.contains(&format!("--{option}")), "{name}: --{option}");
        }
    }
    assert!(page.lines().filter(|line| line.starts_with("| `")).all(|line| line.ends_with(". |")), "sentences");
}

#[test]
fn every_command_is_in_the_reference() {
    let reference = include_str!("../../../../docs/command-line.md");
    let all = commands(&Arguments::command(), &[]);
    // What has commands of its own is there by those.
    let ends = all.iter().filter(|words| !all.iter().any(|more| more.len() > words.len() && more.starts_with(words)));
    for words in ends {
        let typed = format!("`foliowright {}", words.join(" "));
        let is_there =
            reference.match_indices(&typed).any(|(at, _)| reference[at + typed.len()..].starts_with([' ', '`']));
        assert!(is_there, "docs/command-line.md has no row for {typed}`");
    }
}

#[test]
fn licences_are_printed_with_the_version() {
    let (code, page, err) = typed(&["licences"]);
    assert_eq!((code, err.as_str()), (0, ""));
    assert!(page.starts_with(&format!("Foliowright {}\n", env!("CARGO_PKG_VERSION"))), "{page}");
    assert!(page.contains("\nclap 4"), "what this reads its arguments with");
    check_refused(&["licences", "all"], 2, "unexpected argument 'all'");
}
