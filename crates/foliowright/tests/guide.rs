//! The guide's commands, page by page, as a maker types them; and its pictures, which those commands make.

#![expect(clippy::unwrap_used, reason = "a test may fail")]

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

fn guide() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../docs/guide")
}

/// The pages with their names, by name.
fn pages() -> Vec<(String, String)> {
    let entries = fs::read_dir(guide()).unwrap().map(|entry| entry.unwrap().path());
    let pages = entries.filter(|path| path.extension().is_some_and(|extension| extension == "md"));
    let mut pages: Vec<(String, String)> = pages
        .map(|path| (path.file_stem().unwrap().to_str().unwrap().to_owned(), fs::read_to_string(&path).unwrap()))
        .collect();
    pages.sort();
    pages
}

/// The commands of a page, each with the exit code that it says: 0 unless `# exit N` stands behind it.
fn commands(page: &str) -> Vec<(Vec<String>, i32)> {
    let blocks = page.split("```").skip(1).step_by(2).filter_map(|block| block.strip_prefix("sh\n"));
    blocks.flat_map(str::lines).map(command).collect()
}

fn command(line: &str) -> (Vec<String>, i32) {
    let (words, note) = line.split_once(" # ").unwrap_or((line, ""));
    let code = note.strip_prefix("exit ").map_or(0, |code| code.parse().unwrap());
    // What stands between quotation marks is one word.
    let split = words.split('"').enumerate();
    let words = split.flat_map(|(i, part)| -> Vec<String> {
        if i % 2 == 0 { part.split_whitespace().map(str::to_owned).collect() } else { vec![part.to_owned()] }
    });
    (words.collect(), code)
}

/// What a page links to, pictures among it.
fn links(page: &str) -> impl Iterator<Item = &str> {
    page.split("](").skip(1).filter_map(|rest| rest.split_once(')')).map(|(link, _)| link)
}

fn run(folder: &Path, words: &[String]) -> Output {
    let mut command = Command::new(env!("CARGO_BIN_EXE_foliowright"));
    for display in ["DISPLAY", "WAYLAND_DISPLAY", "WAYLAND_SOCKET"] {
        command.env_remove(display);
    }
    command.args(words).current_dir(folder).output().unwrap()
}

#[test]
fn every_command_runs_and_makes_the_pictures() {
    let mut other = Vec::new();
    let (mut ran, mut looked) = (0, 0);
    for (name, page) in pages() {
        let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("guide").join(&name);
        if folder.exists() {
            fs::remove_dir_all(&folder).unwrap();
        }
        fs::create_dir_all(&folder).unwrap();
        for (words, code) in commands(&page) {
            assert_eq!(words[0], "foliowright", "{name}: {words:?}");
            let Output { status, stdout, stderr } = run(&folder, &words[1..]);
            let said = format!("{}{}", String::from_utf8_lossy(&stdout), String::from_utf8_lossy(&stderr));
            assert_eq!(status.code(), Some(code), "{name}: {words:?}\n{said}");
            assert!(stderr.is_empty(), "{name}: {words:?}\n{said}");
            ran += 1;
        }
        for picture in links(&page).filter_map(|link| link.strip_prefix("pictures/")) {
            let made = folder.join(picture);
            assert!(made.exists(), "{name}: no command on the page makes {picture}");
            looked += 1;
            if fs::read(&made).unwrap() != fs::read(guide().join("pictures").join(picture)).unwrap_or_default() {
                other.push(picture.to_owned());
            }
        }
    }
    assert!(ran > 25 && looked > 8, "{ran} commands, {looked} pictures");
    assert!(other.is_empty(), "{other:?} are no longer what the commands make; run docs/guide/make and look at them");
}

#[test]
fn every_link_leads_somewhere_and_every_picture_is_shown() {
    let mut shown = BTreeSet::new();
    let mut linked = BTreeSet::new();
    for (name, page) in pages() {
        for link in links(&page) {
            assert!(guide().join(link).exists(), "{name}: {link}");
            shown.extend(link.strip_prefix("pictures/").map(str::to_owned));
            if name == "README" {
                linked.insert(link.to_owned());
            }
        }
    }
    for (name, _) in pages().iter().filter(|(name, _)| name != "README") {
        assert!(linked.contains(&format!("{name}.md")), "the list of pages leaves {name} out");
    }
    let kept = fs::read_dir(guide().join("pictures")).unwrap().map(|entry| entry.unwrap().file_name());
    let kept: BTreeSet<String> = kept.map(|name| name.into_string().unwrap()).collect();
    assert_eq!(kept, shown, "pictures kept, and pictures shown");
}

#[test]
fn the_glossary_is_in_order_and_the_checkers_words_are_in_it() {
    let (_, page) = pages().into_iter().find(|(name, _)| name == "glossary").unwrap();
    let words: Vec<&str> =
        page.lines().filter_map(|line| line.strip_prefix("| ")?.split(" | ").next()).skip(1).collect();
    let mut sorted = words.clone();
    sorted.sort_unstable();
    assert_eq!(words, sorted);
    for word in ["gusset", "mouth", "offcut", "creep", "tuck", "valley", "mountain", "hairline", "base", "turn"] {
        assert!(words.contains(&word), "{word}");
    }
}
