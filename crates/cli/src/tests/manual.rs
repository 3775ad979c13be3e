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
