//! What is printed on the paper, in what is drawn.

use super::{folder, typed};
use std::path::Path;

/// The demo with a picture on its front and none on its back.
fn printed() -> (tempfile::TempDir, String) {
    let (folder, demo) = folder();
    for side in ["front", "back"] {
        assert_eq!(typed(&["artwork", &demo, "--side", side, "--remove"]).0, 0);
    }
    let leaf = folder.path().join("leaf.png");
    let sheet = draw::list::Drawing::new((12.0, 12.0).into(), String::new());
    std::fs::write(&leaf, output::png(&sheet, 240).unwrap()).unwrap();
    let (code, _, err) = typed(&["artwork", &demo, leaf.to_str().unwrap(), "--side", "front"]);
    assert_eq!((code, err.as_str()), (0, ""));
    (folder, demo)
}

/// The picture in an SVG, and what was said on standard error.
fn drawn(words: &[&str], path: &Path) -> (bool, String) {
    let all: Vec<&str> = words.iter().copied().chain(["-o", path.to_str().unwrap()]).collect();
    let (code, _, err) = typed(&all);
    assert_eq!(code, 0, "{err}");
    (std::fs::read_to_string(path).unwrap().contains("data:image/png;base64,"), err)
}

#[test]
fn pictures_bear_what_is_printed_on_the_paper() {
    let (folder, demo) = printed();
    let svg = folder.path().join("p.svg");
    let none = String::new;
    assert_eq!(drawn(&["export", "picture", &demo], &svg), (true, none()));
    assert_eq!(drawn(&["export", "picture", &demo, "--fold", "1.5"], &svg), (true, none()));
    assert_eq!(drawn(&["export", "picture", &demo, "--fold", "0", "--view", "back"], &svg), (false, none()));
    assert_eq!(drawn(&["export", "contact", &demo], &svg), (true, none()));
}

#[test]
fn a_picture_that_is_gone_or_another_is_told_and_left_out() {
    let (folder, demo) = printed();
    let svg = folder.path().join("p.svg");
    let kept = folder.path().join("seed-swap.assets/leaf.png");
    let check = |says: &str| {
        for words in [&["export", "picture", &demo][..], &["export", "contact", &demo]] {
            let (is_drawn, err) = drawn(words, &svg);
            assert!(!is_drawn && err.contains(says) && err.contains("leaf.png"), "{err}");
            assert_eq!(err.lines().count(), 1, "one sentence: {err}");
        }
    };
    std::fs::write(&kept, "a letter").unwrap();
    check("another picture than the one that was put on the sheet");
    std::fs::remove_file(&kept).unwrap();
    check("no such file");
}
