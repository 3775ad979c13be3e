//! The booklet's task: its pages, its words, and what it refuses.

use super::{check_refused, folder, typed};

fn written(folder: &tempfile::TempDir, words: &[&str]) -> Vec<u8> {
    let out = folder.path().join("booklet.pdf");
    let all = [words, &["-o", out.to_str().unwrap()]].concat();
    let (code, says, err) = typed(&all);
    assert_eq!((code, err.as_str()), (0, ""), "{all:?}");
    assert!(says.trim_end().ends_with(" pages"), "{says}");
    std::fs::read(out).unwrap()
}

#[test]
fn the_same_design_gives_the_same_booklet() {
    let (folder, demo) = folder();
    let first = written(&folder, &["export", "booklet", &demo]);
    assert!(first.starts_with(b"%PDF-1.7"));
    assert_eq!(first, written(&folder, &["export", "booklet", &demo]));
    // The demo is in inches, so its own paper is Letter.
    assert_eq!(first, written(&folder, &["export", "booklet", &demo, "--paper", "letter", "--units", "in"]));
    assert_ne!(first, written(&folder, &["export", "booklet", &demo, "--paper", "a4"]));
    assert_ne!(first, written(&folder, &["export", "booklet", &demo, "--units", "both"]));
}

#[test]
fn what_is_no_booklet_is_refused() {
    let (folder, demo) = folder();
    let out = folder.path().join("booklet.txt");
    check_refused(&["export", "booklet", &demo, "-o", out.to_str().unwrap()], 2, "end its name in .pdf");
    let pdf = folder.path().join("booklet.pdf");
    let pdf = pdf.to_str().unwrap();
    check_refused(&["export", "booklet", "none.folio", "-o", pdf], 2, "none.folio");
    check_refused(&["export", "booklet", &demo, "-o", pdf, "--units", "cubits"], 2, "cubits");
    check_refused(&["export", "booklet", &demo, "-o", pdf, "--paper", "sheet"], 2, "sheet");
}
