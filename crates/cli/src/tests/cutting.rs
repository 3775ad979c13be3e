//! `export cutting`: which files come of it, what is said of them, and what is refused.

use super::{check_refused, folder, typed};
use model::part::{Mat, Part, PartId, PartKind, Placement, Source};
use model::{Length, PanelRef};
use std::path::Path;

/// What `export cutting` says, and the names of the files beside the design and its pictures.
#[track_caller]
fn exported(design: &str, name: &str, options: &[&str]) -> (String, Vec<String>) {
    let out = Path::new(design).with_file_name(name);
    let (code, said, err) = typed(&[&["export", "cutting", design, "-o", out.to_str().unwrap()], options].concat());
    assert_eq!((code, err.as_str()), (0, ""));
    let files = std::fs::read_dir(out.parent().unwrap()).unwrap().map(|entry| entry.unwrap().file_name());
    let mut files: Vec<String> = files.map(|name| name.to_string_lossy().into_owned()).collect();
    files.retain(|file| !file.ends_with(".folio") && !file.ends_with(".assets"));
    files.sort();
    (said, files)
}

#[test]
fn the_demo_is_scored_and_cut() {
    let (_folder, demo) = folder();
    let (said, files) = exported(&demo, "demo.svg", &[]);
    assert_eq!(files, ["demo.svg"]);
    assert!(said.contains("demo.svg: The sheet, 304.8 x 304.8 mm: 8 valley scores, 4 cuts"), "{said}");
    let svg = std::fs::read_to_string(Path::new(&demo).with_file_name("demo.svg")).unwrap();
    assert!(svg.contains("width=\"304.8mm\" height=\"304.8mm\" viewBox=\"0 0 304.8 304.8\""));
    let (_, files) = exported(&demo, "demo.dxf", &["--layout", "pieces", "--marks"]);
    assert_eq!(files, ["demo.dxf", "demo.svg"]);
    let dxf = std::fs::read_to_string(Path::new(&demo).with_file_name("demo.dxf")).unwrap();
    assert!(dxf.ends_with("  0\nEOF\n") && dxf.contains("SCORE-VALLEY") && dxf.contains("MARK"));
}

#[test]
fn what_is_pressed_into_the_back_has_a_file_of_its_own() {
    let (_folder, demo) = folder();
    let (said, files) = exported(&demo, "demo.svg", &["--turn-over", "--scores", "dashed", "--dash", "1/4 in"]);
    assert_eq!(files, ["demo-back.svg", "demo.svg"]);
    // First of all, while the sheet is whole.
    assert!(said.lines().next().unwrap().contains("demo-back.svg: The sheet, turned over, "), "{said}");
}

#[test]
fn further_sheets_are_numbered() {
    let folder = tempfile::tempdir().unwrap();
    let mut document = file::starters::demo();
    let base = PanelRef::Sheet(document.base.unwrap());
    let mat = PartKind::Mat(Mat { width: Length::INCH * 2, height: Length::INCH });
    let place = Placement::centred(base);
    let (name, also) = (String::new(), Vec::new());
    document.parts = vec![Part { id: PartId(1), name, kind: mat, source: Source::FolioStock, place, also }];
    let path = folder.path().join("design.folio");
    disk::save_design(&path, &document).unwrap();
    let (said, files) = exported(path.to_str().unwrap(), "all.parts.dxf", &[]);
    assert_eq!(files, ["all.parts-2.dxf", "all.parts.dxf"]);
    // Two of the mat's sides lie along the sheet's edge.
    assert!(said.contains("all.parts-2.dxf: Further sheet 1, 304.8 x 304.8 mm: 1 cut\n"), "{said}");
}

#[test]
fn what_can_not_be_done_is_refused_in_a_sentence() {
    let (folder, demo) = folder();
    let out = folder.path().join("out.svg");
    let out = out.to_str().unwrap();
    let export = ["export", "cutting", demo.as_str(), "-o"];
    let check = |words: &[&str], code, says: &str| check_refused(&[export.as_slice(), words].concat(), code, says);
    check(&["cutting.pdf"], 2, "\"cutting.pdf\" is no name for a cutting file; end its name in .svg or .dxf");
    check(&[out, "--scores", "perforated", "--dash", "0"], 2, "0 is too short for a dash; give 0.1 mm or more");
    check(&[out, "--scores", "dashed", "--gap", "-1"], 2, "-1 is too short for a gap");
    check(&[out, "--gap", "1 mm"], 2, "solid scores have no dashes");
    check(&[out, "--scores", "perforated", "--turn-over"], 2, "the sheet need not be turned over");
    let empty = folder.path().join("empty.folio");
    let empty = empty.to_str().unwrap();
    assert_eq!(typed(&["new", "--sheet", "A4", "-o", empty]).0, 0);
    check_refused(&["export", "cutting", empty, "-o", out], 1, "nothing is scored or cut in this design");
    assert!(!Path::new(out).exists());
    // The sheet itself can be cut out.
    assert_eq!(typed(&["export", "cutting", empty, "-o", out, "--outline"]).0, 0);
}
