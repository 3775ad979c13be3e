//! `cargo xtask licences`: what the program is built from may be used as the program is, and is not taken back.
//!
//! Every crate of the dependency tree says its licence; each must be one of a short list. The list of them that the program
//! shows must be the one that it is built from. And none of the versions in
//! `Cargo.lock` may have been yanked. What was reported about a crate's safety is not looked at: that is in no registry.

mod list;

use anyhow::{Context, Result, bail};
use serde_json::Value;
use std::fmt::Write as _;
use std::fs;
use std::path::Path;
use std::process::{Command, Output};

/// Licences that ask for no more than that they and the names of authors are passed on.
const TAKEN: [&str; 12] = [
    "MIT",
    "MIT-0",
    "Apache-2.0",
    "Apache-2.0 WITH LLVM-exception",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "0BSD",
    "ISC",
    "Zlib",
    "BSL-1.0",
    "Unlicense",
    "Unicode-3.0",
];

/// A licence that is taken of one crate alone, and why.
const TAKEN_OF: [(&str, &str, &str); 3] = [
    ("epaint_default_fonts", "OFL-1.1", "fonts, passed on as they are"),
    ("epaint_default_fonts", "Ubuntu-font-1.0", "fonts, passed on as they are"),
    ("option-ext", "MPL-2.0", "its few files are used unchanged; whoever changes them passes those on"),
];

/// A crate from a registry.
#[derive(Debug, PartialEq, Eq)]
struct Package {
    name: String,
    version: String,
    /// What it says; nothing where it says nothing.
    licence: String,
}

/// Checks the repository at `root`.
///
/// # Errors
/// Names each crate whose licence is not taken, or whose version was yanked; says when the list in the program is not what it
/// is built from.
pub(crate) fn run(root: &Path) -> Result<()> {
    let metadata = metadata(root)?;
    list::check(root, &metadata)?;
    let packages = packages(&metadata)?;
    let wrong = refused(&packages);
    for sentence in &wrong {
        println!("{sentence}");
    }
    if !wrong.is_empty() {
        bail!("{} of {} crates may not be used", wrong.len(), packages.len());
    }
    println!("{} crates, all with a licence that is taken", packages.len());
    yanked(root, &packages)
}

/// Writes the list of what the program is built from.
///
/// # Errors
/// Cargo can't tell, or the file can't be written.
pub(crate) fn write(root: &Path) -> Result<()> {
    list::write(root, &metadata(root)?)
}

fn metadata(root: &Path) -> Result<Value> {
    let output = cargo(root, &["metadata", "--format-version", "1", "--locked"])?;
    if !output.status.success() {
        bail!("cargo metadata failed: {}", String::from_utf8_lossy(&output.stderr).trim());
    }
    Ok(serde_json::from_slice(&output.stdout)?)
}

fn cargo(folder: &Path, words: &[&str]) -> Result<Output> {
    let mut command = Command::new(std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into()));
    command.args(words).current_dir(folder).output().with_context(|| format!("cargo {} did not start", words.join(" ")))
}

/// Every crate that comes from a registry.
fn packages(metadata: &Value) -> Result<Vec<Package>> {
    let all = metadata["packages"].as_array().context("cargo metadata lists no packages")?;
    let text = |package: &Value, key: &str| package[key].as_str().unwrap_or_default().to_owned();
    let outside = all.iter().filter(|package| !package["source"].is_null());
    let each = |package: &Value| Package {
        name: text(package, "name"),
        version: text(package, "version"),
        licence: text(package, "license"),
    };
    Ok(outside.map(each).collect())
}

fn refused(packages: &[Package]) -> Vec<String> {
    let refused = packages.iter().filter(|package| !Words::of(package).are_taken());
    let says = |licence: &str| if licence.is_empty() { "it says none".to_owned() } else { format!("\"{licence}\"") };
    refused
        .map(|package| {
            format!("{} {}: its licence is not taken: {}", package.name, package.version, says(&package.licence))
        })
        .collect()
}

/// The words of an expression of licences (SPDX specification 2.3, annex D, from memory), with a slash for "or" as it was
/// once written.
struct Words<'a> {
    words: Vec<String>,
    name: &'a str,
    at: usize,
}

impl<'a> Words<'a> {
    fn of(package: &'a Package) -> Self {
        let spaced = package.licence.replace('/', " OR ").replace('(', " ( ").replace(')', " ) ");
        Self { words: spaced.split_whitespace().map(str::to_owned).collect(), name: &package.name, at: 0 }
    }

    /// Whether all of it can be read and is taken.
    fn are_taken(mut self) -> bool {
        self.any() == Some(true) && self.at == self.words.len()
    }

    fn eat(&mut self, word: &str) -> bool {
        let found = self.words.get(self.at).is_some_and(|next| next == word);
        self.at += usize::from(found);
        found
    }

    fn any(&mut self) -> Option<bool> {
        let mut taken = self.all()?;
        while self.eat("OR") {
            taken |= self.all()?;
        }
        Some(taken)
    }

    fn all(&mut self) -> Option<bool> {
        let mut taken = self.one()?;
        while self.eat("AND") {
            taken &= self.one()?;
        }
        Some(taken)
    }

    /// One licence, or an expression in brackets; `None` where neither stands there.
    fn one(&mut self) -> Option<bool> {
        if self.eat("(") {
            let taken = self.any();
            return if self.eat(")") { taken } else { None };
        }
        let mut licence = self.words.get(self.at)?.clone();
        self.at += 1;
        if self.eat("WITH") {
            licence = format!("{licence} WITH {}", self.words.get(self.at)?);
            self.at += 1;
        }
        let of_this = |(name, of, _): &(&str, &str, &str)| *name == self.name && *of == licence;
        Some(TAKEN.contains(&licence.as_str()) || TAKEN_OF.iter().any(of_this))
    }
}

/// Whether the registry would still give these versions to somebody who has no lock file: a yanked one it does not.
///
/// # Errors
/// What Cargo says of the yanked ones. Where the registry can't be asked, that is printed and nothing more.
fn yanked(root: &Path, packages: &[Package]) -> Result<()> {
    let folder = root.join("target").join("licences");
    fs::create_dir_all(folder.join("src"))?;
    fs::write(folder.join("src").join("lib.rs"), "")?;
    fs::write(folder.join("Cargo.toml"), manifest(packages))?;
    let lock = folder.join("Cargo.lock");
    if lock.exists() {
        fs::remove_file(lock)?;
    }
    let output = cargo(&folder, &["generate-lockfile"])?;
    let said = String::from_utf8_lossy(&output.stderr);
    if output.status.success() {
        println!("none of their versions has been yanked");
    } else if said.contains("yanked") {
        bail!("a version in Cargo.lock has been yanked:\n{}", said.trim());
    } else {
        println!("whether a version has been yanked could not be asked:\n{}", said.trim());
    }
    Ok(())
}

/// A crate that depends on exactly these versions.
fn manifest(packages: &[Package]) -> String {
    let mut text =
        "[workspace]\n\n[package]\nname = \"licences\"\nversion = \"0.0.0\"\nedition = \"2024\"\n\n[dependencies]\n"
            .to_owned();
    for (number, Package { name, version, .. }) in packages.iter().enumerate() {
        let line =
            format!("d{number} = {{ package = \"{name}\", version = \"={version}\", default-features = false }}");
        writeln!(text, "{line}").unwrap_or_default();
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    fn package(name: &str, licence: &str) -> Package {
        Package { name: name.to_owned(), version: "1.2.3".to_owned(), licence: licence.to_owned() }
    }

    #[track_caller]
    fn check(licence: &str, taken: bool) {
        assert_eq!(refused(&[package("loom", licence)]).is_empty(), taken, "{licence}");
    }

    #[test]
    fn one_of_several_licences_is_enough_and_all_of_several_are_needed() {
        check("MIT", true);
        check("MIT OR GPL-3.0-only", true);
        check("GPL-3.0-only/MIT", true);
        check("MIT AND GPL-3.0-only", false);
        check("(MIT OR GPL-3.0-only) AND Unicode-3.0", true);
        check("MIT OR Apache-2.0 AND GPL-3.0-only", true);
        check("Apache-2.0 WITH LLVM-exception", true);
        check("GPL-3.0-only WITH Classpath-exception-2.0", false);
        check("GPL-3.0-only", false);
    }

    #[test]
    fn what_cannot_be_read_is_not_taken() {
        for licence in ["", "MIT OR", "(MIT", "MIT)", "MIT MIT", "OR", "mit", "MIT WITH", "AND MIT"] {
            check(licence, false);
        }
        assert_eq!(refused(&[package("loom", "")]), ["loom 1.2.3: its licence is not taken: it says none"]);
    }

    #[test]
    fn a_licence_taken_of_one_crate_is_not_taken_of_another() {
        assert!(refused(&[package("option-ext", "MPL-2.0")]).is_empty());
        assert_eq!(refused(&[package("loom", "MPL-2.0")]).len(), 1);
    }

    #[test]
    fn crates_of_our_own_are_not_looked_at() {
        let text = r#"{ "packages": [
            { "name": "ours", "version": "0.1.0", "license": null, "source": null },
            { "name": "loom", "version": "1.2.3", "license": "MIT", "source": "registry+https://example.org" }
        ] }"#;
        assert_eq!(packages(&serde_json::from_str(text).unwrap()).unwrap(), [package("loom", "MIT")]);
        assert!(packages(&Value::Null).is_err());
        assert!(
            manifest(&[package("loom", "MIT")])
                .ends_with("d0 = { package = \"loom\", version = \"=1.2.3\", default-features = false }\n")
        );
    }
}
