//! What the program says of itself, in the window and on the command line alike: its version, its licence, what it is built
//! from, and what the words of the trade mean.

pub mod glossary;

/// The version of the program.
pub const VERSION: &str = env!("CARGO_PKG_VERSION");

/// Under which licences the program may be used and passed on, in a sentence.
pub const LICENCE: &str = "Foliowright may be used, changed and passed on under the MIT licence or the Apache licence 2.0, whichever you choose.";

/// The shorter of the two.
pub const MIT: &str = include_str!("../../../docs/LICENSE-MIT");

/// The fonts that are built in, which have licences of their own.
pub const FONTS: &str = "The text is set in Noto Sans, under the SIL Open Font License 1.1.";

/// What the program is built from, a line each; `cargo xtask licences --write` writes it, and `cargo xtask licences` says
/// when it is out of date.
const DEPENDENCIES: &str = include_str!("dependencies.txt");

/// A crate that the program is built from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Dependency {
    /// What it is called.
    pub name: &'static str,
    /// Its version.
    pub version: &'static str,
    /// Its licence, as it says it: an expression of SPDX identifiers.
    pub licence: &'static str,
}

/// Every crate that the program is built from, by name.
pub fn dependencies() -> impl Iterator<Item = Dependency> {
    DEPENDENCIES.lines().filter_map(|line| {
        let (name, rest) = line.split_once(' ')?;
        let (version, licence) = rest.split_once(' ')?;
        Some(Dependency { name, version, licence })
    })
}

/// All of it as a page of text.
#[must_use]
pub fn page() -> String {
    let mut lines = vec![format!("Foliowright {VERSION}"), String::new(), LICENCE.to_owned(), FONTS.to_owned()];
    lines.push("It is built from these crates, each under its own licence:".to_owned());
    lines.push(String::new());
    lines.extend(dependencies().map(|Dependency { name, version, licence }| format!("{name} {version}: {licence}")));
    lines.extend([String::new(), MIT.trim_end().to_owned(), String::new()]);
    lines.join("\n")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_line_of_the_list_is_a_crate_with_its_version_and_licence() {
        let all: Vec<Dependency> = dependencies().collect();
        assert_eq!(all.len(), DEPENDENCIES.lines().count());
        assert!(all.len() > 100, "{}", all.len());
        assert!(all.is_sorted_by_key(|one| (one.name, one.version)));
        for Dependency { name, version, licence } in all {
            let is_version = version.starts_with(|c: char| c.is_ascii_digit()) && version.contains('.');
            assert!(is_version && !licence.trim().is_empty(), "{name} {version} {licence}");
        }
    }

    /// The lock file is what is built; a crate or version that it has not is not in the program any more.
    #[test]
    fn the_list_holds_only_what_is_locked() {
        let lock = include_str!("../../../Cargo.lock");
        for Dependency { name, version, .. } in dependencies() {
            let entry = format!("name = \"{name}\"\nversion = \"{version}\"\n");
            assert!(lock.contains(&entry), "{name} {version} is not in Cargo.lock; run cargo xtask licences --write");
        }
    }

    #[test]
    fn the_page_says_version_and_licences() {
        let page = page();
        assert!(page.starts_with(&format!("Foliowright {VERSION}\n")) && page.contains("Permission is hereby granted"));
        assert!(dependencies().all(|one| page.contains(&format!("\n{} {}: {}\n", one.name, one.version, one.licence))));
    }
}
