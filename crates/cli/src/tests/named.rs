//! Named lengths as they are typed.

use super::{check_refused, folder, parsed, typed};
use serde_json::json;

#[test]
fn named_lengths_are_listed_with_what_they_are() {
    let (_folder, demo) = folder();
    let (code, out, err) = typed(&["lengths", &demo]);
    assert_eq!((code, err.as_str()), (0, ""));
    assert!(out.starts_with("  tray width, 5 1/2 in: "), "{out}");
    let all = parsed(&["lengths", &demo, "--json"]);
    let gusset = &all["lengths"][2];
    assert_eq!((&gusset["name"], &gusset["value"]["nm"]), (&json!("gusset"), &json!(6_350_000)));
    assert!(gusset["uses"].as_array().unwrap().contains(&json!("the distance of \"Left gusset fold\"")), "{gusset}");
    assert_eq!(parsed(&["describe", "--json", &demo])["lengths"], all["lengths"]);
    assert!(typed(&["describe", &demo]).1.contains("\nNamed lengths\n  tray width, 5 1/2 in"));
}

#[test]
fn a_starter_is_copied_with_other_lengths() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path().to_str().unwrap();
    let set = ["--set", "packet width=4", "--set", "packet height = 3 1/2 in"];
    let (code, out, err) = typed(&[&["starters", "--copy", "packet-envelope", at][..], &set].concat());
    assert_eq!((code, err.as_str()), (0, ""));
    let design = out.trim();
    let text = std::fs::read_to_string(design).unwrap();
    assert!(text.contains("\"value\": \"4 in\",") && text.contains("\"value\": \"3 1/2 in\","), "{text}");
    assert!(text.contains("\"distance\": \"side\""), "its lines go on following");
    assert_eq!(typed(&["check", design]).0, 0);
    // (7 1/2 - 4) / 2, by hand.
    let lines = parsed(&["describe", "--json", design])["lines"].clone();
    assert_eq!(lines[0]["distance"]["text"], "1 3/4 in");
}

#[test]
fn a_copy_and_a_variation_have_other_lengths_and_what_changed_is_told() {
    let (folder, demo) = folder();
    let at = |name: &str| folder.path().join(name).to_str().unwrap().to_owned();
    let (copy, variation) = (at("copy.folio"), at("variation.folio"));
    let (code, out, err) = typed(&["lengths", &demo, "--set", "gusset=1/8", "-o", &copy]);
    assert_eq!((code, out.trim(), err.as_str()), (0, copy.as_str(), ""));
    let (_, says, _) = typed(&["compare", &demo, &copy]);
    assert!(says.contains("\"gusset\" is 1/8 in, not 1/4 in."), "{says}");
    assert_eq!(typed(&["vary", &demo, "-o", &variation, "--set", "tray width=6 in"]).0, 0);
    let (_, says, _) = typed(&["compare", &variation]);
    assert!(says.contains("\"tray width\" is 6 in, not 5 1/2 in."), "{says}");
    check_refused(&["lengths", &demo, "--set", "gusset=1/8", "-o", &copy], 1, "is there already");
}

#[test]
fn values_that_cannot_be_are_refused_in_a_sentence() {
    let (folder, demo) = folder();
    let out = folder.path().join("out.folio").to_str().unwrap().to_owned();
    let set = |value| ["lengths", &demo, "--set", value, "-o", &out].map(str::to_owned);
    for (value, code, says) in [
        ("gusset", 2, "gives no value"),
        ("depth=1 in", 2, "there is no length called \"depth\"; there is tray width, tray height, gusset"),
        ("gusset=a lot", 2, "there is no length called \"a lot\""),
        ("gusset=tray width / 7", 2, "no exact length"),
        ("tray width=gusset", 2, "a named length uses only those above it"),
        ("tray width=20 in", 1, "beyond the edge of the sheet"),
    ] {
        let words = set(value);
        check_refused(&words.each_ref().map(String::as_str), code, says);
    }
    assert!(!std::path::Path::new(&out).exists());
    check_refused(&["lengths", &demo, "--set", "gusset=1 in"], 2, "--output");
    let bare = folder.path().join("bare.folio").to_str().unwrap().to_owned();
    assert_eq!(typed(&["new", "--sheet", "A4", "-o", &bare]).0, 0);
    assert_eq!(typed(&["lengths", &bare]).1, "The design names no lengths.\n");
}
