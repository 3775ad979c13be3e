//! `foliowright rules`: what the checker looks for, as text for a maker or as a page of the documentation.

use crate::arguments::RulesTask;
use crate::{Failure, Outcome};
use check::rule::{ALL, Rule, named};
use model::words::listed;
use std::io::{self, Write};

/// What the page begins with.
const TOP: &str = "\
# Findings

What the checker looks for. Each finding has one of these names, says what is wrong, where and by how much, and how to
mend it. An *error* will not work, a *warning* will disappoint, a *note* is worth knowing. Where a mend can be made in one
go, the window has a button for it, and so has the command line: `foliowright check FILE --fix NAME -o OUT`.

What is as you want it can be silenced for one place, with your reason kept in the design: in the window by Silence beside
the finding, or with `foliowright check FILE --silence NAME --reason WHY -o OUT`.

This page is what `foliowright rules` prints.
";

pub(crate) fn run(task: &RulesTask, out: &mut dyn Write) -> Outcome {
    let Some(name) = &task.rule else {
        page(out)?;
        return Ok(());
    };
    let Some(rule) = named(name) else {
        let names = listed(sorted().into_iter().map(|rule| rule.name.to_owned()));
        return Err(Failure::unreadable(format!("there is no rule \"{name}\"; the rules are {names}")));
    };
    explained(rule, out)?;
    Ok(())
}

/// The rules by their names.
pub(crate) fn sorted() -> Vec<&'static Rule> {
    let mut rules = ALL.to_vec();
    rules.sort_by_key(|rule| rule.name);
    rules
}

fn page(out: &mut dyn Write) -> io::Result<()> {
    write!(out, "{TOP}")?;
    for rule in sorted() {
        write!(out, "\n## {}\n\n*{}*\n", rule.name, severities(rule))?;
        for paragraph in rule.about.split("\n\n") {
            write!(out, "\n{}\n", wrapped(paragraph, ""))?;
        }
        write!(out, "\n{}\n", wrapped(rule.example, "> "))?;
    }
    Ok(())
}

/// One rule, as it is told on a terminal.
fn explained(rule: &Rule, out: &mut dyn Write) -> io::Result<()> {
    writeln!(out, "{} ({})", rule.name, severities(rule))?;
    for paragraph in rule.about.split("\n\n") {
        write!(out, "\n{}\n", wrapped(paragraph, ""))?;
    }
    write!(out, "\nFor instance:\n{}\n", wrapped(rule.example, "  "))
}

/// "error or warning".
fn severities(rule: &Rule) -> String {
    let words: Vec<&str> = rule.severities.iter().map(|severity| severity.word()).collect();
    words.join(" or ")
}

/// A paragraph in lines of at most 100 characters, each after `start`.
fn wrapped(paragraph: &str, start: &str) -> String {
    const WIDTH: usize = 100;
    let mut lines = vec![start.to_owned()];
    for word in paragraph.split_whitespace() {
        let line = lines.last_mut().expect("it begins with a line");
        let is_bare = line.len() == start.len();
        if !is_bare && line.chars().count() + 1 + word.chars().count() > WIDTH {
            lines.push(format!("{start}{word}"));
        } else {
            line.push_str(if is_bare { "" } else { " " });
            line.push_str(word);
        }
    }
    lines.join("\n")
}
