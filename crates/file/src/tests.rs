//! Exact text, refusals and their sentences, and round trips over made-up designs.

#[path = "../tests/common/any.rs"]
mod any;
mod feature;
mod line;
mod named;
mod offcut;
mod panel_name;
mod paper;
mod part;
mod refusal;
mod round_trip;
mod schema;
mod silence;
mod variation;
mod word;

use super::*;
use model::{
    Caliper, Crease, Datum, Direction, FoldAngle, Length, Line, LineId, Place, Point, Run, Size, Step, Stock, Stop,
    Turn, Unit, Work,
};

const SMALL: &str = r#"{
  "format": "foliowright folio",
  "version": 2,
  "title": "Seed swap folio",
  "credit": "After a folded seed packet",
  "units": "in",
  "board": { "grooves": "1/8 in" },
  "stock": { "width": "12 in", "height": "8 1/2 in", "caliper": "0.3 mm" },
  "lines": [
    {
      "id": 1,
      "name": "Left fold",
      "place": { "turn": 0, "from": "edge", "distance": "3 1/4 in" },
      "work": "score",
      "fold": "valley"
    },
    {
      "id": 2,
      "place": { "turn": 0, "from": "line 1", "distance": "1/4 in", "start": "line 3", "end": "4 in" },
      "work": "score",
      "fold": "mountain",
      "angle": 90
    },
    {
      "id": 3,
      "place": { "along": "line 1", "end": "2 in" },
      "work": "cut"
    }
  ],
  "base": { "x": "6 in", "y": "5 in" },
  "steps": [
    [2],
    [1, 2]
  ]
}
"#;

fn inches(text: &str) -> Length {
    Length::parse_in(text, Unit::Inch).unwrap()
}

fn small() -> Document {
    let measured = |from, distance, run| Place::Measured { turn: Turn::None, from, distance: inches(distance), run };
    let line = |id, place, work| Line::new(LineId(id), place, work);
    let square = Crease { direction: Direction::Mountain, angle: FoldAngle::Square, pressed: None };
    let stops = Run { from: Stop::Line(LineId(3)), to: Stop::At(inches("4")) };
    let top = Run { from: Stop::Edge, to: Stop::At(inches("2")) };
    let left = line(1, measured(Datum::Edge, "3 1/4", Run::FULL), Work::Score(Crease::VALLEY));
    Document {
        title: "Seed swap folio".to_owned(),
        credit: "After a folded seed packet".to_owned(),
        groove: Length::EIGHTH,
        cutting: model::Cutting::default(),
        lines: vec![
            Line { name: "Left fold".to_owned(), ..left },
            line(2, measured(Datum::Line(LineId(1)), "1/4", stops), Work::Score(square)),
            line(3, Place::Along { line: LineId(1), run: top }, Work::Cut),
        ],
        base: Some(Point::new(inches("6"), inches("5"))),
        steps: vec![Step::of(vec![LineId(2)]), Step::of(vec![LineId(1), LineId(2)])],
        ..Document::new(Size::parse("12 x 8 1/2 in").unwrap(), Unit::Inch)
    }
}

/// Changes the small design's text and expects a whole sentence, in which # is the number of the changed line.
#[track_caller]
fn refuse(from: &str, to: &str, sentence: &str) {
    let (before, after) = SMALL.split_once(from).expect("it is in the sample");
    let line = before.lines().count().max(1);
    says(&format!("{before}{to}{after}"), &sentence.replace('#', &line.to_string()));
}

#[track_caller]
fn says(text: &str, sentence: &str) {
    assert_eq!(from_text(text).unwrap_err().to_string(), sentence);
}

#[test]
fn a_small_design_is_this_text() {
    assert_eq!(to_text(&small()), SMALL);
    assert_eq!(from_text(SMALL), Ok(small()));
}

#[test]
fn what_says_nothing_is_left_out() {
    let size = Size::parse("A4").unwrap();
    let bare = Document {
        title: String::new(),
        groove: Length::ZERO,
        cutting: model::Cutting::default(),
        stock: Stock { caliper: Caliper::Unknown, ..Stock::plain(size) },
        base: None,
        ..Document::new(size, Unit::Millimetre)
    };
    let text = r#"{
  "format": "foliowright folio",
  "version": 2,
  "title": "",
  "units": "mm",
  "stock": { "width": "210 mm", "height": "297 mm" },
  "lines": [],
  "steps": []
}
"#;
    assert_eq!(to_text(&bare), text);
    assert_eq!(from_text(text).as_ref(), Ok(&bare));
    let nulls = "\"base\": null, \"board\": null, \"corners\": null, \"further_stocks\": [], \"lines\"";
    assert_eq!(from_text(&text.replace("\"lines\"", nulls)).as_ref(), Ok(&bare));
    let plain = "\"297 mm\", \"front\": {}, \"back\": { \"pattern\": \"plain\", \"artwork\": null }, \"core\": null";
    assert_eq!(from_text(&text.replace("\"297 mm\"", plain)), Ok(bare));
}

#[test]
fn other_spellings_of_the_same_design_are_read() {
    #[track_caller]
    fn check(from: &str, to: &str) {
        assert!(SMALL.contains(from), "{from}");
        assert_eq!(from_text(&SMALL.replacen(from, to, 1)), Ok(small()), "{to}");
    }
    check("{", "\u{feff}{");
    check("\n", "\r\n");
    check("\"1/8 in\"", "\"3.175 mm\"");
    check("\"fold\": \"valley\"", "\"angle\": 180, \"fold\": \"valley\"");
    check("\"distance\": \"3 1/4 in\"", "\"start\": \"edge\", \"end\": \"edge\", \"distance\": \"3.25 in\"");
    check("\"id\": 2,", "\"id\": 2, \"name\": \"\",");
    check("\"id\": 2,", "\"id\": 2, \"locked\": false, \"width\": null,");
    check("\"version\": 2", "\"version\": 1");
}

#[test]
fn a_file_cut_short_anywhere_is_refused() {
    for length in 0..SMALL.trim_end().len() {
        let error = from_text(&SMALL[..length]).unwrap_err();
        assert!(matches!(error, FileError::CutShort { .. } | FileError::Empty), "{length}: {error:?}");
    }
}
