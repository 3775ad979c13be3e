//! Animations, contact sheets and clear pictures.

use super::{check_refused, folder, typed};
use std::path::Path;

#[test]
fn animations_and_contact_sheets_are_made() {
    let (folder, demo) = folder();
    let at = |name: &str| folder.path().join(name).to_str().unwrap().to_owned();
    for (words, start, says) in [
        (vec!["animation", &demo, "-o", &at("a.gif"), "--width", "60"], b"GIF89a".as_slice(), ": 96 pictures\n"),
        (vec!["animation", &demo, "-o", &at("a.apng"), "--width", "60", "--frames-per-step", "2"], b"\x89PNG", ": 16"),
        (vec!["animation", &demo, "-o", &at("a.PNG"), "--width", "60", "--hold=0"], b"\x89PNG", "96 pictures"),
        (vec!["contact", &demo, "-o", &at("c.png"), "--width", "90", "--view", "back"], b"\x89PNG", "c.png\n"),
        (vec!["contact", &demo, "-o", &at("c.svg")], b"<", "c.svg\n"),
        (vec!["picture", &demo, "-o", &at("p.png"), "--width", "90", "--transparent"], b"\x89PNG", "p.png\n"),
    ] {
        let all: Vec<&str> = std::iter::once("export").chain(words.iter().copied()).collect();
        let (code, out, err) = typed(&all);
        assert_eq!((code, err.as_str()), (0, ""), "{words:?}");
        assert!(out.contains(says), "{out}");
        assert!(std::fs::read(Path::new(words[3])).unwrap().starts_with(start), "{words:?}");
    }
}

#[test]
fn animations_that_cannot_be_made_are_refused() {
    let (folder, demo) = folder();
    let at = |name: &str| folder.path().join(name).to_str().unwrap().to_owned();
    check_refused(&["export", "animation", &demo, "-o", &at("a.mov")], 2, "end its name in .gif, .apng or .png");
    check_refused(&["export", "animation", &demo, "-o", &at("a.gif"), "--hold=61"], 2, "give 0 to 60 seconds");
    check_refused(&["export", "animation", &demo, "-o", &at("a.gif"), "--width", "8000"], 1, "10 megapixels each");
    check_refused(&["export", "contact", &demo, "-o", &at("c.gif")], 2, "end its name in .png or .svg");
    assert!(!Path::new(&at("a.gif")).exists());
    let text = std::fs::read_to_string(&demo).unwrap();
    let mut design: serde_json::Value = serde_json::from_str(&text).unwrap();
    // On plain paper, since its pictures lie beside the other.
    (design["stock"]["front"], design["stock"]["back"]) = Default::default();
    let (loose, base) = (at("loose.folio"), design["base"].take());
    std::fs::write(&loose, design.to_string()).unwrap();
    for kind in ["animation", "contact"] {
        check_refused(&["export", kind, &loose, "-o", &at("a.png")], 1, "no panel is marked as the base");
    }
    design["base"] = base;
    design["steps"] = serde_json::json!([]);
    std::fs::write(&demo, design.to_string()).unwrap();
    check_refused(&["export", "animation", &demo, "-o", &at("a.gif")], 1, "there is nothing to show");
}
