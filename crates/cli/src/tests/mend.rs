//! `check --fix`: what one rule finds is mended, and the design written elsewhere.

use super::{check_refused, parsed, typed};
use model::change::{add_line, measured_score};
use model::{Document, Length, LineId, Size, Turn, Unit};

/// A 12 in sheet with scores so many sixteenths of an inch from the left, saved in a folder of its own.
pub(super) fn saved(
    scores: &[i64],
    change: impl FnOnce(&mut Document),
) -> (tempfile::TempDir, impl Fn(&str) -> String) {
    let mut document = Document::new(Size::parse("12x12in").unwrap(), Unit::Inch);
    for (id, &across) in (1..).zip(scores) {
        let score = measured_score(LineId(id), Turn::None, Length::SIXTEENTH * across);
        document.apply(add_line(&document, score)).unwrap();
    }
    change(&mut document);
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().to_owned();
    let at = move |name: &str| path.join(name).to_str().unwrap().to_owned();
    disk::save_design(std::path::Path::new(&at("swap.folio")), &document).unwrap();
    (folder, at)
}

fn distances(file: &str) -> Vec<String> {
    let lines = parsed(&["describe", "--json", file])["lines"].clone();
    lines.as_array().unwrap().iter().map(|line| line["distance"]["text"].as_str().unwrap().to_owned()).collect()
}

#[test]
fn every_finding_of_a_rule_is_mended_and_the_design_written_elsewhere() {
    let (_folder, at) = saved(&[33, 48, 161], |_| {});
    let (from, to) = (at("swap.folio"), at("mended.folio"));
    let (code, out, err) = typed(&["check", &from, "--fix", "off-groove", "-o", &to]);
    assert_eq!((code, err.as_str()), (0, ""), "{out}");
    let did = format!("{from}: Move Score 1 to 2 1/8 in\n{from}: Move Score 3 to 10 1/8 in\n{to}\n");
    assert_eq!(out, did);
    assert_eq!(distances(&to), ["2 1/8 in", "3 in", "10 1/8 in"]);
    assert_eq!(distances(&from), ["2 1/16 in", "3 in", "10 1/16 in"], "the design itself stays as it is");
    check_refused(&["check", &from, "--fix", "off-groove", "-o", &to], 1, "is there already");
    check_refused(&["check", &to, "--fix", "off-groove", "-o", &at("again.folio")], 1, "off-groove finds nothing");
    assert!(!std::path::Path::new(&at("again.folio")).exists());
}

#[test]
fn what_cannot_be_mended_is_told() {
    let lock = |document: &mut Document| document.lines[1].locked = true;
    let (_folder, at) = saved(&[33, 161], lock);
    let (from, to) = (at("swap.folio"), at("mended.folio"));
    let (code, out, err) = typed(&["check", &from, "--fix", "off-groove", "-o", &to]);
    assert_eq!((code, err.as_str()), (1, ""));
    assert!(out.contains("not mended: \"Score 2\" lies 10 1/16 in from the left edge"), "{out}");
    assert_eq!(distances(&to), ["2 1/8 in", "10 1/16 in"]);
    let (_folder, at) = saved(&[161], |document| document.lines[0].locked = true);
    let (from, to) = (at("swap.folio"), at("mended.folio"));
    check_refused(
        &["check", &from, "--fix", "off-groove", "-o", &to],
        1,
        "nothing that off-groove finds can be mended",
    );
    assert!(!std::path::Path::new(&to).exists());
}

#[test]
fn a_base_is_set_even_where_more_is_found_then() {
    // The corners of four flaps are not cut away, which nothing says while there is no base.
    let (_folder, at) = saved(&[48, 144], |document| {
        for (id, across) in [(3, 3), (4, 9)] {
            let score = measured_score(LineId(id), Turn::Once, Length::INCH * across);
            document.apply(add_line(document, score)).unwrap();
        }
        document.base = None;
    });
    let [from, based, mended] = ["swap.folio", "based.folio", "mended.folio"].map(at);
    assert_eq!(typed(&["check", &from, "--fix", "no-base", "-o", &based]).0, 0);
    assert_eq!(typed(&["check", &based]).0, 1);
    let (code, out, err) = typed(&["check", &based, "--fix", "still-joined", "-o", &mended]);
    assert_eq!((code, err.as_str()), (0, ""), "{out}");
    assert_eq!(out.matches(" away\n").count(), 4, "one for each corner: {out}");
    assert_eq!(typed(&["check", &mended]).0, 0);
}

#[test]
fn fixes_are_told_by_name_and_what_is_asked_wrongly_in_one_sentence() {
    let (_folder, at) = saved(&[33], |_| {});
    let (from, to) = (at("swap.folio"), at("mended.folio"));
    let findings = parsed(&["check", "--json", &from])["files"][0]["findings"].clone();
    let off: Vec<_> = findings.as_array().unwrap().iter().filter(|one| one["rule"] == "off-groove").collect();
    assert_eq!(off[0]["fixes"], serde_json::json!(["Move Score 1 to 2 1/8 in", "Move Score 1 to 2 in"]));
    check_refused(&["check", &from, "--fix", "tidy", "-o", &to], 2, "there is no rule \"tidy\"; the rules are");
    check_refused(&["check", &from, &from, "--fix", "off-groove", "-o", &to], 2, "--fix changes one design at a time");
    check_refused(&["check", &from, "--fix", "off-groove"], 2, "--output");
    check_refused(&["check", &from, "-o", &to], 2, "--fix");
    check_refused(&["check", "--json", &from, "--fix", "off-groove", "-o", &to], 2, "--json");
    check_refused(&["check", &at("none.folio"), "--fix", "off-groove", "-o", &to], 2, "none.folio");
}
