//! The repository's files as the checks see them: every path, and the text of those that hold text.

use anyhow::{Context, Result};
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;

/// Folders that hold nothing of ours, wherever they are.
const SKIPPED: [&str; 7] = ["target", ".git", ".venv", ".venv-growth", ".venv-peers", "out", "__pycache__"];

/// Endings of files whose text is checked, besides files without an ending, which are scripts and licences here.
const TEXT: [&str; 9] = ["rs", "toml", "md", "py", "sh", "txt", "json", "folio", "svg"];

/// Files below one folder, with `/` between the parts of a path.
#[derive(Debug, Default)]
pub(crate) struct Tree {
    /// Every file and folder.
    pub(crate) paths: BTreeSet<String>,
    /// The files that hold text.
    pub(crate) texts: BTreeMap<String, String>,
}

impl Tree {
    /// Reads what lies below `root`.
    ///
    /// # Errors
    /// A folder or file that can't be read, or a text file that isn't UTF-8.
    pub(crate) fn read(root: &Path) -> Result<Self> {
        let mut tree = Self::default();
        tree.add(root, "")?;
        Ok(tree)
    }

    fn add(&mut self, folder: &Path, prefix: &str) -> Result<()> {
        for entry in fs::read_dir(folder).with_context(|| format!("{} can't be read", folder.display()))? {
            let entry = entry?;
            let Ok(name) = entry.file_name().into_string() else { continue };
            let path = format!("{prefix}{name}");
            let kind = entry.file_type()?;
            if is_skipped(prefix, &name) {
                continue;
            }
            if kind.is_dir() {
                self.add(&entry.path(), &format!("{path}/"))?;
                self.paths.insert(path);
            } else if kind.is_file() {
                if is_text(&name) {
                    let text = fs::read_to_string(entry.path()).with_context(|| format!("{path} can't be read"))?;
                    self.texts.insert(path.clone(), text);
                }
                self.paths.insert(path);
            }
        }
        Ok(())
    }

    /// The Rust files with their text.
    pub(crate) fn rust(&self) -> impl Iterator<Item = (&str, &str)> {
        self.texts.iter().filter(|(path, _)| path.ends_with(".rs")).map(|(path, text)| (path.as_str(), text.as_str()))
    }

    /// The names of the folders in `crates/`.
    pub(crate) fn crates(&self) -> impl Iterator<Item = &str> {
        self.paths.iter().filter_map(|path| path.strip_prefix("crates/")?.strip_suffix("/Cargo.toml"))
    }
}

/// Whether something is none of ours: a folder, or the file that stands for `.git` in a further working tree. What is called
/// `target` among sources is a module, and not what is built.
fn is_skipped(prefix: &str, name: &str) -> bool {
    SKIPPED.contains(&name) && !prefix.ends_with("src/")
}

fn is_text(name: &str) -> bool {
    match name.trim_start_matches('.').rsplit_once('.') {
        Some((_, ending)) => TEXT.contains(&ending),
        None => true,
    }
}

#[cfg(test)]
impl Tree {
    /// A tree of made-up files.
    pub(crate) fn of(files: &[(&str, &str)]) -> Self {
        let mut tree = Self::default();
        for (path, text) in files {
            let folders = path.match_indices('/').map(|(end, _)| path[..end].to_owned());
            tree.paths.extend(folders.chain([(*path).to_owned()]));
            tree.texts.insert((*path).to_owned(), (*text).to_owned());
        }
        tree
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn this_repository_is_read_without_what_is_built_in_it() {
        let tree = Tree::read(&crate::root()).unwrap();
        assert!(tree.paths.contains("crates/xtask/src") && tree.texts.contains_key("crates/xtask/src/tree.rs"));
        assert!(tree.crates().any(|name| name == "model"));
        assert!(!tree.paths.iter().any(|path| path.starts_with("target/") || path.starts_with(".git/")));
    }

    #[test]
    fn what_is_built_is_skipped_and_a_module_of_that_name_is_not() {
        for (prefix, name, skipped) in [
            ("", "target", true),
            ("tests/fuzz/", "target", true),
            ("tests/fuzz/src/", "target", false),
            ("", ".git", true),
            ("", ".gitignore", false),
        ] {
            assert_eq!(is_skipped(prefix, name), skipped, "{prefix}{name}");
        }
    }

    #[test]
    fn text_is_told_by_the_ending() {
        for (name, text) in [("a.rs", true), ("run", true), (".gitignore", true), ("a.png", false), ("a.pdf", false)] {
            assert_eq!(is_text(name), text, "{name}");
        }
    }
}
