//! `check --silence` and `check --hear`: what is not to be told again, and why, is kept in the design.

use super::mend::saved;
use super::{check_refused, parsed, typed};
use serde_json::json;

const WHY: &str = "It is scored along a ruler.";

#[test]
fn one_place_is_silenced_for_a_reason_and_heard_again() {
    let (_folder, at) = saved(&[33, 48, 161], |_| {});
    let [from, silent, again] = ["swap.folio", "silent.folio", "again.folio"].map(at);
    let several = "say which with --number, 1: \"Score 1\" lies";
    check_refused(&["check", &from, "--silence", "off-groove", "--reason", WHY, "-o", &silent], 1, several);
    let (code, out, err) =
        typed(&["check", &from, "--silence", "off-groove", "--number", "2", "--reason", WHY, "-o", &silent]);
    assert_eq!((code, err.as_str()), (0, ""), "{out}");
    assert!(out.starts_with(&format!("{from}: silenced: \"Score 3\" lies 10 1/16 in")), "{out}");
    let report = parsed(&["check", "--json", &silent])["files"][0].clone();
    let told = |list: &serde_json::Value| -> Vec<String> {
        let off = list.as_array().unwrap().iter().filter(|one| one["rule"] == "off-groove");
        off.map(|one| one["lines"][0]["name"].as_str().unwrap().to_owned()).collect()
    };
    assert_eq!(told(&report["findings"]), ["Score 1"]);
    assert_eq!(told(&report["silenced"]["findings"]), ["Score 3"]);
    assert_eq!(report["silenced"]["findings"][0]["reason"], WHY);
    assert_eq!(report["silenced"]["idle"], json!([]));
    let text = typed(&["check", &silent]).1;
    assert!(
        text.contains(&format!("between the grooves of the board, which are 1/8 in apart. Reason: {WHY} [off-groove]"))
    );
    let (code, out, err) = typed(&["check", &silent, "--hear", "off-groove", "-o", &again]);
    assert_eq!((code, err.as_str()), (0, ""));
    assert!(out.contains(WHY), "{out}");
    assert_eq!(std::fs::read_to_string(&again).unwrap(), std::fs::read_to_string(&from).unwrap());
}

#[test]
fn what_is_silenced_and_finds_nothing_now_is_told_as_idle() {
    let (_folder, at) = saved(&[33], |_| {});
    let [from, silent, mended] = ["swap.folio", "silent.folio", "mended.folio"].map(at);
    assert_eq!(typed(&["check", &from, "--silence", "off-groove", "--reason", WHY, "-o", &silent]).0, 0);
    // She moves the score to a groove in the file.
    let text = std::fs::read_to_string(&silent).unwrap();
    assert!(text.contains("2 1/16 in"), "{text}");
    std::fs::write(&mended, text.replace("2 1/16 in", "2 in")).unwrap();
    let report = parsed(&["check", "--json", &mended])["files"][0].clone();
    assert_eq!(report["silenced"], json!({ "findings": [], "idle": [{ "rule": "off-groove", "reason": WHY }] }));
}

#[test]
fn a_warning_that_is_silenced_no_longer_makes_a_folio_fail() {
    // A strip of 1/8 in is too narrow to take hold of.
    let (_folder, at) = saved(&[32, 34, 96], |document| document.base = None);
    let [from, silent] = ["swap.folio", "silent.folio"].map(at);
    assert_eq!(typed(&["check", &from]).0, 1);
    assert_eq!(typed(&["check", &from, "--silence", "no-base", "--reason", "Not yet.", "-o", &silent]).0, 0);
    let report = parsed(&["check", "--json", &silent])["files"][0].clone();
    let worse: Vec<_> =
        report["findings"].as_array().unwrap().iter().filter(|one| one["severity"] != "note").cloned().collect();
    assert_eq!(typed(&["check", &silent]).0, u8::from(!worse.is_empty()), "{worse:?}");
    assert!(worse.iter().all(|one| one["rule"] != "no-base"), "{worse:?}");
}

#[test]
fn what_is_asked_wrongly_is_told_in_one_sentence() {
    let (_folder, at) = saved(&[33], |_| {});
    let (from, to) = (at("swap.folio"), at("silent.folio"));
    let asked = |words: &[&str]| -> Vec<String> {
        ["check", &from].into_iter().chain(words.iter().copied()).map(str::to_owned).collect()
    };
    #[track_caller]
    fn refused(words: Vec<String>, code: u8, says: &str) {
        check_refused(&words.iter().map(String::as_str).collect::<Vec<_>>(), code, says);
    }
    refused(asked(&["--silence", "tidy", "--reason", WHY, "-o", &to]), 2, "there is no rule \"tidy\"");
    refused(asked(&["--silence", "off-groove", "-o", &to]), 2, "--reason");
    refused(asked(&["--silence", "off-groove", "--reason", " ", "-o", &to]), 2, "--reason is empty");
    refused(asked(&["--silence", "off-groove", "--reason", "a\nb", "-o", &to]), 2, "one line");
    refused(asked(&["--silence", "off-groove", "--reason", WHY]), 2, "--output");
    refused(asked(&["--silence", "strikes", "--reason", WHY, "-o", &to]), 1, "strikes finds nothing");
    let third = &["--silence", "off-groove", "--number", "3", "--reason", WHY, "-o", &to];
    refused(asked(third), 1, "there is no 3 of what off-groove finds; there are 1");
    refused(asked(&["--hear", "off-groove", "-o", &to]), 1, "off-groove is silenced for nothing");
    assert!(!std::path::Path::new(&to).exists());
    refused(asked(&["--silence", "off-groove", "--reason", WHY, "-o", &from]), 1, "is there already");
}
