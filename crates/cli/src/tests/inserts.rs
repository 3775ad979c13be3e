//! `export inserts` as it is typed.

use super::{check_refused, folder, typed};

#[test]
fn inserts_are_made_for_cards_and_for_mats() {
    let (folder, demo) = folder();
    let out = folder.path().join("i.pdf");
    let out = out.to_str().unwrap();
    for words in
        [&["--for", "mats"][..], &["--for", "all", "--paper", "a3"], &["--corner", "1/8in", "--margin", "1/4in"]]
    {
        let (code, said, err) = typed(&[&["export", "inserts", &demo, "-o", out][..], words].concat());
        assert_eq!((code, err.as_str()), (0, ""), "{words:?}");
        assert!(said.contains(" page"), "{said}");
        assert!(std::fs::read(out).unwrap().starts_with(b"%PDF"));
    }
}

#[test]
fn what_can_not_be_is_one_sentence() {
    let (folder, demo) = folder();
    let out = folder.path().join("i.pdf");
    let out = out.to_str().unwrap();
    let inserts = |words: &[&'static str]| -> Vec<String> {
        ["export", "inserts", &demo, "-o", out].iter().chain(words).map(|word| (*word).to_owned()).collect()
    };
    for (words, code, says) in [
        (&["--corner", "-1/8in"][..], 2, "is no radius"),
        (&["--margin", "-1/8in"], 2, "is no margin"),
        (&["--corner", "soon"], 2, "soon"),
        (&["--corner", "9in"], 1, "would meet"),
        (&["--for", "tickets"], 2, "tickets"),
        (&["--paper", "sheet"], 2, "sheet"),
    ] {
        let typed = inserts(words);
        let typed: Vec<&str> = typed.iter().map(String::as_str).collect();
        check_refused(&typed, code, says);
    }
    check_refused(&["export", "inserts", &demo, "-o", &demo], 2, "end its name in .pdf");
}
