//! Every export of every starter has the same bytes on every machine: those in `exports.sha256`.
//!
//! The list holds a line for each file: its SHA-256 (FIPS 180-4), the starter, the export. Where a change of the program or of
//! a starter is meant to change what leaves the program, the list is renewed with the one that the test leaves; it says how.

use file::starters::{ALL, Starter};
use foliowright_tests::design;
use foliowright_tests::exported::{all, made, steps};
use sha2::{Digest, Sha256};
use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::fs;
use std::path::Path;

const LISTED: &str = include_str!("exports.sha256");

#[test]
fn every_export_of_every_starter_has_the_bytes_that_are_listed() {
    // Each starter on a thread of its own, in the order of the list.
    let found: String = std::thread::scope(|scope| {
        let running: Vec<_> = ALL.iter().map(|starter| scope.spawn(|| digests(starter))).collect();
        running.into_iter().map(|one| one.join().unwrap_or_else(|why| std::panic::resume_unwind(why))).collect()
    });
    let place = Path::new(env!("CARGO_TARGET_TMPDIR")).join("exports.sha256");
    fs::write(&place, &found).expect("the target folder can be written to");
    let (listed, now) = (by_name(LISTED), by_name(&found));
    let names = listed.keys().chain(now.keys()).collect::<std::collections::BTreeSet<_>>();
    let other: Vec<&&str> = names.into_iter().filter(|name| listed.get(*name) != now.get(*name)).collect();
    assert!(
        other.is_empty(),
        "{} exports have other bytes than listed: {other:?}. Look at them; if they are as they should be, renew the list: \
         cp {} tests/tests/exports.sha256",
        other.len(),
        place.display(),
    );
}

/// A line for each file of each export of a starter.
fn digests(starter: &Starter) -> String {
    let (document, derived) = design(starter.text).unwrap_or_else(|error| panic!("{}: {error}", starter.name));
    let mut found = String::new();
    for asked in all(&document, steps(&derived)) {
        let line =
            |digest: &str, tail: &str| format!("{digest}  {} {}{tail}.{}\n", starter.name, asked.name, asked.ending);
        match made(&document, &derived, &asked) {
            Ok(made) => {
                for file in made.files {
                    found.push_str(&line(&hex(&Sha256::digest(&file.bytes)), &file.tail));
                }
            }
            // Some starters have nothing of a kind, such as no inserts; that is listed as well.
            Err(why) => found.push_str(&line(&hex(&Sha256::digest(why.to_string())), "-refused")),
        }
    }
    found
}

/// The digests by what they are of.
fn by_name(list: &str) -> BTreeMap<&str, &str> {
    list.lines().filter_map(|line| line.split_once("  ")).map(|(digest, name)| (name, digest)).collect()
}

fn hex(bytes: &[u8]) -> String {
    bytes.iter().fold(String::new(), |mut text, byte| {
        // Writing to a string can't fail.
        write!(text, "{byte:02x}").unwrap_or_default();
        text
    })
}
