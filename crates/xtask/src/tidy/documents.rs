//! The written pages are held to the repository: what they name exists, and what exists is on the map.

use crate::tree::Tree;

const MAP: &str = "docs/architecture.md";

/// Lines of the map. Longer, and nobody reads it.
const MOST_MAP_LINES: usize = 200;

/// Pages there must be, and what each has to show somebody who has just arrived.
const PAGES: [(&str, &[&str]); 5] = [
    (
        "README.md",
        &[
            "cargo run",
            "cargo test --workspace",
            "foliowright check",
            "foliowright describe",
            "foliowright export template",
            "foliowright export picture",
            "foliowright starters",
            "docs/command-line.md",
            "DEVELOPERS.md",
        ],
    ),
    ("DEVELOPERS.md", &["cargo xtask ci", "cargo xtask tidy", "tests/outside/run", MAP, "docs/decisions.md"]),
    (MAP, &["**Invariant:**"]),
    ("docs/decisions.md", &[]),
    (
        "docs/command-line.md",
        &[
            "foliowright check",
            "foliowright describe",
            "foliowright export template",
            "foliowright export picture",
            "foliowright starters",
            "foliowright new",
        ],
    ),
];

/// Folders whose paths are looked for in the pages.
const FOLDERS: [&str; 6] = ["crates/", "docs/", "tests/", "assets/", ".ci/", ".cargo/"];

/// All of it.
pub(crate) fn check(tree: &Tree) -> Vec<String> {
    [pages(tree), paths(tree), map(tree)].concat()
}

fn pages(tree: &Tree) -> Vec<String> {
    let mut wrong = Vec::new();
    for (page, shown) in PAGES {
        match tree.texts.get(page) {
            None => wrong.push(format!("{page}: it is missing")),
            Some(text) => {
                let missing = shown.iter().filter(|words| !text.contains(*words));
                wrong.extend(missing.map(|words| format!("{page}: it does not mention \"{words}\"")));
            }
        }
    }
    wrong
}

/// Paths in pages that lead nowhere.
fn paths(tree: &Tree) -> Vec<String> {
    let is_page = |path: &str| path == "README.md" || path == "DEVELOPERS.md" || is_in_docs(path);
    // What is made on each machine is not there in a fresh copy.
    let made: Vec<&str> = tree
        .texts
        .get(".gitignore")
        .into_iter()
        .flat_map(|text| text.lines())
        .map(|line| line.trim_matches('/'))
        .collect();
    let mut wrong = Vec::new();
    for (page, text) in tree.texts.iter().filter(|(path, _)| is_page(path)) {
        for (i, line) in text.lines().enumerate() {
            let there = |path: &str| tree.paths.contains(path) || made.contains(&path);
            let dead = named_paths(line).into_iter().filter(|path| !there(path));
            wrong.extend(dead.map(|path| format!("{page}:{}: there is no {path}", i + 1)));
        }
    }
    wrong
}

fn is_in_docs(path: &str) -> bool {
    path.starts_with("docs/") && path.ends_with(".md")
}

/// The paths in a line of text, each up to its first placeholder (`crates/*/src`, `docs/<name>.md`).
fn named_paths(line: &str) -> Vec<&str> {
    let is_part = |c: char| c.is_ascii_alphanumeric() || "_-./*<>".contains(c);
    let mut found = Vec::new();
    for word in line.split(|c: char| !is_part(c)) {
        let Some(path) = FOLDERS.iter().any(|folder| word.starts_with(folder)).then_some(word) else { continue };
        let kept = match path.find(['*', '<']) {
            Some(placeholder) => path[..placeholder].rsplit_once('/').map_or("", |(folder, _)| folder),
            None => path.trim_end_matches(['.', '/']),
        };
        found.extend((!kept.is_empty()).then_some(kept));
    }
    found
}

/// Every crate is on the map, and the map fits on a few screens.
fn map(tree: &Tree) -> Vec<String> {
    let Some(text) = tree.texts.get(MAP) else { return Vec::new() };
    let missing = tree.crates().filter(|name| !named_paths(text).contains(&format!("crates/{name}").as_str()));
    let mut wrong: Vec<String> = missing.map(|name| format!("{MAP}: crates/{name} is not on the map")).collect();
    let count = text.lines().count();
    if count > MOST_MAP_LINES {
        wrong.push(format!("{MAP}: {count} lines; {MOST_MAP_LINES} are read"));
    }
    wrong
}

#[cfg(test)]
mod tests {
    use super::super::expect;
    use super::*;

    #[test]
    fn paths_are_found_in_prose() {
        #[track_caller]
        fn case(line: &str, paths: &[&str]) {
            assert_eq!(named_paths(line), paths);
        }
        case(
            "See `crates/fold/src/close.rs`, and docs/decisions.md.",
            &["crates/fold/src/close.rs", "docs/decisions.md"],
        );
        case("[map](docs/architecture.md#crates) of crates/model/", &["docs/architecture.md", "crates/model"]);
        case("Every crates/*/src and docs/rules/<name>.md", &["crates", "docs/rules"]);
        case("Other tests/ and https://example.org/docs/a", &["tests"]);
        case("Run cargo test; subtests/b and ../crates/c are no such paths.", &[]);
    }

    #[test]
    fn dead_paths_are_named_with_their_line() {
        let page = ("README.md", "One.\nSee crates/a/src/lib.rs and crates/b.\n");
        expect(paths, &[page, ("crates/a/src/lib.rs", "")], &["README.md:2: there is no crates/b"]);
        expect(paths, &[("crates/a/README.md", "crates/b")], &[]);
        expect(paths, &[("README.md", "Look in tests/out."), (".gitignore", "/target\n/tests/out\n")], &[]);
    }

    #[test]
    fn every_crate_is_on_the_map() {
        let files = |text| [(MAP, text), ("crates/fold/Cargo.toml", ""), ("crates/folder/Cargo.toml", "")];
        expect(map, &files("| `crates/fold` | … |\n| `crates/folder` |"), &[]);
        expect(map, &files("| `crates/folder` | … |"), &["docs/architecture.md: crates/fold is not on the map"]);
        expect(map, &[(MAP, &"\n".repeat(201))], &["docs/architecture.md: 201 lines; 200 are read"]);
    }

    #[test]
    fn pages_show_what_a_newcomer_needs() {
        let wrong = pages(&Tree::of(&[("README.md", "cargo run"), ("docs/decisions.md", "")]));
        assert!(wrong.contains(&"README.md: it does not mention \"foliowright check\"".to_owned()));
        assert!(wrong.contains(&"DEVELOPERS.md: it is missing".to_owned()));
        assert!(!wrong.iter().any(|sentence| sentence.contains("cargo run") || sentence.contains("decisions.md: ")));
    }
}
