//! `export template` as it is typed.

use super::{check_refused, folder, typed};

#[test]
fn a_template_is_made_on_every_paper_one_sided_and_two() {
    let (folder, demo) = folder();
    let out = folder.path().join("t.pdf");
    let out = out.to_str().unwrap();
    // The demo's sheet of 12 x 12 in takes four pages of Letter and A4 and two of the larger papers, after two of notes.
    for (paper, sheet) in [("letter", 4), ("a4", 4), ("tabloid", 2), ("a3", 2), ("sheet", 1)] {
        for (backs, faces) in [(&[][..], 1), (&["--back"][..], 2)] {
            let words = [&["export", "template", &demo, "-o", out, "--paper", paper][..], backs].concat();
            let (code, said, err) = typed(&words);
            assert_eq!((code, err.as_str()), (0, ""), "{paper}");
            let pages: usize = said.rsplit(": ").next().and_then(|text| text.split(' ').next()?.parse().ok()).unwrap();
            assert!(pages > sheet * faces && pages <= sheet * faces + 4, "{paper}: {said}");
            assert!(std::fs::read(out).unwrap().starts_with(b"%PDF"));
        }
    }
}

#[test]
fn the_same_words_give_the_same_bytes() {
    let (folder, demo) = folder();
    let made = |name: &str| {
        let out = folder.path().join(name);
        let (code, _, err) =
            typed(&["export", "template", &demo, "-o", out.to_str().unwrap(), "--back", "--paper", "a3"]);
        assert_eq!((code, err.as_str()), (0, ""));
        std::fs::read(out).unwrap()
    };
    assert_eq!(made("one.pdf"), made("other.pdf"));
}

#[test]
fn artwork_is_printed_where_there_is_some() {
    let (folder, demo) = folder();
    let out = folder.path().join("t.pdf");
    let size = || {
        let (code, _, err) = typed(&["export", "template", &demo, "-o", out.to_str().unwrap(), "--artwork"]);
        assert_eq!((code, err.as_str()), (0, ""));
        std::fs::read(&out).unwrap().len()
    };
    let printed = size();
    for side in ["front", "back"] {
        assert_eq!(typed(&["artwork", &demo, "--side", side, "--remove"]).0, 0);
    }
    let plain = size();
    assert!(printed > plain + 1000, "a design without pictures has none to print: {printed}, {plain}");
}

#[test]
fn a_paper_that_is_not_known_is_refused() {
    let (_folder, demo) = folder();
    check_refused(&["export", "template", &demo, "-o", "t.pdf", "--paper", "legal"], 2, "legal");
}
