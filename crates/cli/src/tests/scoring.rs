//! `describe` on scoring: from where to where, in words and in JSON.

use super::{four_flaps, parsed, typed};
use model::change::{add_line, measured_score};
use model::part::{Mat, Placement, Source};
use model::{Crease, Document, Length, LineId, PanelRef, Part, PartId, PartKind, Place, Point, Spot, Turn, Work};
use serde_json::Value;

/// Four flaps of 60 mm round a base of 100 mm, with a score at 40 mm that crosses both corners at the left, and one along a
/// ruler from corner to corner of the upper left one and on into the base.
fn crossed() -> Document {
    let mm = |length: i64| Length::MILLIMETRE * length;
    let mut document = file::from_text(&four_flaps(60)).unwrap();
    document.apply(add_line(&document, measured_score(LineId(20), Turn::None, mm(40)))).unwrap();
    let [from, to] = [0, 100].map(|at| Spot::At(Point::new(mm(at), mm(at))));
    let slant = Place::Drawn { from, to, bow: Length::ZERO };
    let line = model::Line::new(LineId(21), slant, Work::Score(Crease::VALLEY));
    document.apply(add_line(&document, line)).unwrap();
    document
}

/// The same with a label of 20 x 50 mm cut from the upper left corner.
fn labelled() -> Document {
    let mm = |length: i64| Length::MILLIMETRE * length;
    let mut document = crossed();
    let kind = PartKind::Mat(Mat { width: mm(20), height: mm(50) });
    let source = Source::Offcut(Point::new(mm(10), mm(20)));
    let place = Placement::centred(PanelRef::Sheet(document.base.unwrap()));
    document.parts = vec![Part { id: PartId(1), name: "Label".into(), kind, source, place, also: Vec::new() }];
    document
}

#[track_caller]
fn check(document: &Document, lines: &[&str], absent: &str, ends: [i64; 2], ruled: [i64; 2]) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("crossed.folio");
    disk::save_design(&path, document).unwrap();
    let path = path.to_str().unwrap();
    let (code, text, err) = typed(&["describe", path]);
    assert_eq!((code, err.as_str()), (0, ""));
    for line in lines {
        assert!(text.lines().any(|one| one == *line), "{line} in\n{text}");
    }
    assert!(!text.contains(absent), "{text}");
    let scoring = &parsed(&["describe", "--json", path])["scoring"];
    let turns = scoring["turns"].as_array().unwrap();
    let runs = turns.iter().flat_map(|turn| turn["scores"].as_array().unwrap());
    let runs: Vec<_> = runs.flat_map(|score| score["runs"].as_array().unwrap()).collect();
    let own = runs.iter().find(|run| run["line"]["id"] == 20).unwrap();
    let nm = |length: &Value| length["nm"].as_i64().map(|nm| nm / 1_000_000);
    assert_eq!([nm(&own["from"]), nm(&own["to"])], ends.map(Some), "{own}");
    let slant = &scoring["by_ruler"][0];
    assert_eq!(slant["line"]["id"], 21);
    let at = |end: usize| ["x", "y"].map(|way| nm(&slant["runs"][0][end][way]));
    assert_eq!([at(0), at(1)], ruled.map(|mm| [Some(mm); 2]), "{slant}");
}

#[test]
fn scores_over_an_offcut_that_is_used_are_said_from_where_to_where() {
    let whole = "  as drawn, then turned over away from you, into the back: 40 mm, 60 mm, 160 mm";
    let ruler = "  along a ruler, turned over, into the back: Score 21";
    check(&crossed(), &[whole, ruler], "stop short", [0, 220], [0, 100]);
    // Turned over away from the maker, the upper corner lies below.
    let broken = "  as drawn, then turned over away from you, into the back: 40 mm from the edge to 160 mm down; 60 mm, 160 mm, each from \
                  edge to edge";
    let why = "  Where a part is cut from an offcut, scores stop short of that offcut.";
    check(&labelled(), &[broken, ruler, why], "40 mm, 60 mm", [0, 160], [60, 100]);
}
