//! `starters` as it is typed, and what comes along with a design that is saved elsewhere.

use super::{check_refused, parsed, typed};

/// The names of all starters, as the program lists them.
fn names() -> Vec<String> {
    let all = parsed(&["starters", "--json"]);
    let names: Vec<String> =
        all["starters"].as_array().unwrap().iter().map(|one| one["name"].as_str().unwrap().to_owned()).collect();
    assert!(names.len() >= 8, "{names:?}");
    names
}

/// How the pictures of a design's own paper are found.
fn states(design: &str) -> Vec<String> {
    let sheet = parsed(&["describe", "--json", design])["sheet"].clone();
    ["front", "back"].map(|face| sheet[face]["artwork"]["state"].as_str().unwrap().to_owned()).to_vec()
}

#[test]
fn every_starter_is_copied_with_its_pictures_and_checked() {
    let folder = tempfile::tempdir().unwrap();
    for name in names() {
        let (code, out, err) = typed(&["starters", "--copy", &name, folder.path().to_str().unwrap()]);
        assert_eq!((code, err.as_str()), (0, ""), "{name}");
        let design = out.trim();
        assert_eq!(states(design), ["present", "present"], "{name}");
        assert_eq!(typed(&["check", design]).0, 0, "{name}");
        let svg = folder.path().join("p.svg");
        let (code, _, err) = typed(&["export", "picture", design, "-o", svg.to_str().unwrap(), "--fold", "closed"]);
        assert_eq!((code, err.as_str()), (0, ""), "{name}");
        assert!(std::fs::read_to_string(&svg).unwrap().contains("data:image/png;base64,"), "{name}");
    }
}

#[test]
fn a_picture_of_the_makers_is_not_replaced_by_a_starters() {
    let folder = tempfile::tempdir().unwrap();
    let there = folder.path().join("garden-gate.assets");
    std::fs::create_dir(&there).unwrap();
    std::fs::write(there.join("trellis.png"), "a letter").unwrap();
    let at = folder.path().to_str().unwrap();
    check_refused(&["starters", "--copy", "garden-gate", at], 1, "trellis.png");
    assert_eq!(std::fs::read(there.join("trellis.png")).unwrap(), b"a letter");
    assert!(!folder.path().join("garden-gate.folio").exists(), "no design that would miss its picture");
}

#[test]
fn pictures_come_along_with_a_converted_design_and_one_that_cannot_is_told() {
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| folder.path().join(name).to_str().unwrap().to_owned();
    assert_eq!(typed(&["starters", "--copy", "seed-swap", &at("")]).0, 0);
    let (demo, small, other) = (at("seed-swap.folio"), at("small.folio"), at("other.folio"));
    let (code, out, err) = typed(&["convert", &demo, "-o", &small, "--units", "mm"]);
    assert_eq!((code, out.trim(), err.as_str()), (0, small.as_str(), ""));
    assert_eq!(states(&small), ["present", "present"]);
    std::fs::create_dir(at("other.assets")).unwrap();
    std::fs::write(at("other.assets/beds.png"), "a letter").unwrap();
    let (code, out, _) = typed(&["convert", &demo, "-o", &other, "--units", "mm"]);
    assert_eq!(code, 0);
    assert!(out.starts_with("a picture did not come along: ") && out.contains("beds.png"), "{out}");
    assert_eq!(states(&other), ["present", "changed"]);
}
