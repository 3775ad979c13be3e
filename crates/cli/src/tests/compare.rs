//! Variations, and designs compared.

use super::*;

/// A copy of the demo, and a variation of it with its first score 1/8 in farther from the left edge.
fn variation() -> (tempfile::TempDir, String, String) {
    let (folder, demo) = folder();
    let varied = folder.path().join("deeper.folio").to_str().unwrap().to_owned();
    let (code, out, err) = typed(&["vary", &demo, "-o", &varied, "--title", "Deeper folio"]);
    assert_eq!((code, out.trim(), err.as_str()), (0, varied.as_str(), ""));
    (folder, demo, varied)
}

fn change(path: &str, change: impl FnOnce(&mut Value)) {
    let mut design: Value = serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap();
    change(&mut design);
    std::fs::write(path, design.to_string()).unwrap();
}

#[test]
fn a_variation_is_the_same_folio_and_keeps_where_it_came_from() {
    let (_folder, demo, varied) = variation();
    let (code, out, _) = typed(&["compare", &varied]);
    assert_eq!(code, 1, "{out}");
    let (_, said) = out.split_once("\n\n").unwrap();
    assert_eq!(said, "It is called \"Deeper folio\", not \"Seed swap folio\".\n");
    assert_eq!(typed(&["compare", &demo, &demo]).0, 0);
    check_refused(&["vary", &demo, "-o", &varied], 1, "is there already");
    check_refused(&["compare", &demo], 2, "name the design to compare it with");
    check_refused(&["compare", &demo, "none.folio"], 2, "there is no such file");
}

#[test]
fn what_was_changed_is_told_in_words_and_as_json() {
    let (_folder, demo, varied) = variation();
    change(&varied, |design| {
        let first = &mut design["lines"][0]["place"]["distance"];
        assert_eq!(*first, "(12 in - tray width) / 2 - gusset", "3 in");
        *first = json!("2 7/8 in");
    });
    let (code, out, _) = typed(&["compare", &demo, &varied]);
    assert_eq!(code, 1);
    assert!(out.contains("1/8 in nearer to the left edge"), "{out}");
    let said = parsed(&["compare", "--json", &demo, &varied]);
    assert_eq!([&said["first"]["title"], &said["second"]["title"]], ["Seed swap folio", "Deeper folio"]);
    let moved = said["differences"].as_array().unwrap().iter().find(|it| it["about"] == "lines").unwrap();
    assert_eq!(moved["moved"], json!({ "nm": -3_175_000, "text": "-1/8 in" }));
    assert_eq!(moved["lines"][0], 1);
    // The same in the credit, wherever that is told.
    let (_, told, _) = typed(&["describe", &varied]);
    assert!(told.contains("This is a variation of \"Seed swap folio\".\n"), "{told}");
    assert!(told.contains("1/8 in nearer to the left edge"), "{told}");
    let described = parsed(&["describe", "--json", &varied]);
    assert_eq!(described["variation"][0], "This is a variation of \"Seed swap folio\".");
}
