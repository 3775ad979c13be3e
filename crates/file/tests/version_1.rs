//! A design saved in version 1 opens in every later version, and still says the same.
//!
//! The samples are never changed: a later version that can't read them has broken somebody's folio.

#![expect(clippy::unwrap_used, reason = "a test may fail")]

use foliowright_file::{from_text, starters, to_text};
use model::{
    Caliper, Crease, Datum, Direction, Document, FoldAngle, Length, Line, LineId, Place, Point, Run, Size, Step, Stock,
    Stop, Turn, Unit, Work,
};

const SAMPLE: &str = include_str!("version_1/sample.folio");

/// The least that a file of version 1 says.
const BARE: &str = r#"{
  "format": "foliowright folio",
  "version": 1,
  "title": "Bare",
  "units": "cm",
  "stock": { "width": "12 in", "height": "8 1/2 in" },
  "lines": [
    { "id": 0, "place": { "turn": 2, "from": "edge", "distance": "3 in" }, "work": "score", "fold": "mountain" }
  ],
  "steps": []
}
"#;

fn mm(mm: i64) -> Length {
    Length::from_mm_exact(mm, 0)
}

fn line(id: u32, name: &str, place: Place, work: Work) -> Line {
    Line { name: name.to_owned(), ..Line::new(LineId(id), place, work) }
}

fn measured(turn: Turn, from: Datum, distance: Length, from_stop: Stop, to: Stop) -> Place {
    Place::Measured { turn, from, distance, run: Run { from: from_stop, to } }
}

fn score(direction: Direction, angle: FoldAngle) -> Work {
    Work::Score(Crease { direction, angle, pressed: None })
}

fn expected() -> Document {
    let square = score(Direction::Valley, FoldAngle::Square);
    let mountain = score(Direction::Mountain, FoldAngle::Flat);
    let by = |id| Datum::Line(LineId(id));
    let meets = |id| Stop::Line(LineId(id));
    let corner = Place::Along { line: LineId(2), run: Run { from: Stop::Edge, to: meets(5) } };
    let size = Size::new(mm(300), Length::from_mm_exact(297, 500_000)).unwrap();
    Document {
        title: "Seed library swap folio".to_owned(),
        credit: "Folded for the spring swap; the tuck is the neighbours' idea.\nWider gusset than last year's."
            .to_owned(),
        units: Unit::Millimetre,
        groove: mm(5),
        cutting: model::Cutting::default(),
        lengths: model::NamedLengths::default(),
        stock: Stock { caliper: Caliper::Measured(Length::from_nm(270_000)), ..Stock::plain(size) },
        further_stocks: Vec::new(),
        lines: vec![
            line(1, "Left fold", measured(Turn::None, Datum::Edge, mm(80), Stop::Edge, Stop::Edge), square),
            line(2, "", measured(Turn::None, by(1), mm(6), Stop::Edge, Stop::Edge), square),
            line(5, "Tuck", measured(Turn::Once, Datum::Edge, mm(70), meets(2), Stop::At(mm(250))), mountain),
            line(4, "", corner, Work::Cut),
            // 1/4 in is 6.35 mm.
            line(
                7,
                "",
                measured(Turn::Thrice, by(5), Length::from_nm(-6_350_000), Stop::At(mm(5)), Stop::Edge),
                Work::Cut,
            ),
        ],
        corners: Vec::new(),
        base: Some(Point::new(mm(150), mm(120))),
        parts: Vec::new(),
        making: Vec::new(),
        steps: vec![Step::of(vec![LineId(1), LineId(2)]), Step::of(vec![LineId(5)])],
        panel_names: Vec::new(),
        offcuts: Vec::new(),
        silences: Vec::new(),
        variation_of: None,
    }
}

#[test]
fn the_sample_opens_and_says_what_it_said() {
    let document = from_text(SAMPLE).unwrap_or_else(|error| panic!("{error}"));
    assert_eq!(document, expected());
    let saved = to_text(&document);
    assert!(saved.contains("\"version\": 2"), "{saved}");
    assert_eq!(from_text(&saved), Ok(document));
}

#[test]
fn the_starter_as_it_was_is_the_starter_as_it_is() {
    let text = include_str!("version_1/seed-swap.folio");
    assert!(text.contains("\"version\": 1"));
    // Since then its paper is printed and its lengths have names, which version 1 had no words for.
    let mut now = starters::demo();
    (now.stock.front, now.stock.back) = Default::default();
    now.lengths = Default::default();
    assert_eq!(from_text(text), Ok(now));
}

#[test]
fn what_version_1_leaves_out_says_nothing() {
    let size = Size::parse("12 x 8 1/2 in").unwrap();
    let place = measured(Turn::Twice, Datum::Edge, Length::INCH * 3, Stop::Edge, Stop::Edge);
    let bare = Document {
        title: "Bare".to_owned(),
        groove: Length::ZERO,
        cutting: model::Cutting::default(),
        stock: Stock { caliper: Caliper::Unknown, ..Stock::plain(size) },
        lines: vec![line(0, "", place, score(Direction::Mountain, FoldAngle::Flat))],
        base: None,
        ..Document::new(size, Unit::Centimetre)
    };
    assert_eq!(from_text(BARE).as_ref(), Ok(&bare));
    // A thickness of nothing stood for one that isn't known.
    let zero = BARE.replace("\"8 1/2 in\"", "\"8 1/2 in\", \"caliper\": \"0 mm\"");
    assert_eq!(from_text(&zero).as_ref(), Ok(&bare));
    let nulls = BARE.replace("\"units\"", "\"credit\": null, \"board\": null, \"base\": null, \"units\"");
    let nulls = nulls.replace("\"id\": 0", "\"id\": 0, \"name\": null, \"angle\": null");
    let nulls = nulls.replace("\"turn\": 2", "\"turn\": 2, \"along\": null, \"start\": null, \"end\": null");
    assert_eq!(from_text(&nulls), Ok(bare));
}

/// Changes the bare design's text and expects a whole sentence, in which # is the number of the changed line.
#[track_caller]
fn refuse(from: &str, to: &str, sentence: &str) {
    let (before, after) = BARE.split_once(from).expect("it is in the sample");
    let line = before.lines().count();
    let error = from_text(&format!("{before}{to}{after}")).unwrap_err().to_string();
    assert_eq!(error, sentence.replace('#', &line.to_string()));
}

#[test]
fn version_1_gains_nothing_from_later_versions() {
    let unknown = "(line #) is not a key of this format; take it out or use one of";
    refuse(
        "\"lines\"",
        "\"corners\": [], \"lines\"",
        &format!("corners {unknown} format, version, title, credit, units, board, stock, lines, base, steps"),
    );
    refuse(
        "\"8 1/2 in\"",
        "\"8 1/2 in\", \"grain\": \"level\"",
        &format!("stock.grain {unknown} width, height, caliper"),
    );
    refuse(
        "\"id\": 0",
        "\"id\": 0, \"locked\": true",
        &format!("lines[0].locked {unknown} id, name, place, work, fold, angle"),
    );
    refuse(
        "\"turn\": 2",
        "\"drawn\": {}",
        &format!("lines[0].place.drawn {unknown} turn, from, distance, along, start, end"),
    );
    refuse(
        "\"steps\": []",
        "\"parts\": [], \"steps\": []",
        &format!("parts {unknown} format, version, title, credit, units, board, stock, lines, base, steps"),
    );
    let word = "belongs; write that instead";
    refuse(
        "\"steps\": []",
        "\"steps\": [{ \"lines\": [0] }]",
        &format!("steps[0] (line #): an object in {{ }} stands where a list in [ ] {word}"),
    );
    refuse(
        "mountain",
        "either",
        &format!("lines[0].fold (line #): \"either\" stands where \"valley\" or \"mountain\" {word}"),
    );
    refuse("score", "slot", &format!("lines[0].work (line #): \"slot\" stands where \"score\" or \"cut\" {word}"));
    refuse(
        "\"turn\": 2",
        "\"turn\": 2, \"end\": \"line 3 + 1 in\"",
        &format!("lines[0].place.end (line #): \"line 3 + 1 in\" stands where a line such as \"line 3\" {word}"),
    );
}

#[test]
fn version_1_refuses_what_it_refused() {
    refuse("\"turn\": 2, ", "", "lines[0].place: it doesn't say where; give turn, from and distance, or along");
    refuse(
        "\"turn\": 2",
        "\"turn\": 2, \"along\": \"line 1\"",
        "lines[0].place: it is both measured and along a line; keep along, or turn, from and distance",
    );
    refuse("\"score\"", "\"cut\"", "lines[0]: a cut doesn't fold; take out fold and angle, or make it a score");
    refuse(
        ", \"fold\": \"mountain\"",
        "",
        "lines[0]: a score folds; add \"fold\": \"valley\" or \"fold\": \"mountain\"",
    );
    refuse("\"12 in\"", "\"0 in\"", "stock: both sides of a sheet must be more than nothing and at most 10 m");
    let paper = "\"8 1/2 in\", \"caliper\": ";
    refuse(
        "\"8 1/2 in\"",
        &format!("{paper}\"-0.3 mm\""),
        "stock.caliper: paper is not thinner than nothing; leave it out if not known",
    );
    refuse(
        "\"8 1/2 in\"",
        &format!("{paper}\"11 mm\""),
        "stock.caliper: no paper that folds is more than 10 mm thick; measure one sheet",
    );
    refuse(
        "\"steps\": []",
        "\"steps\": [[1]]",
        "steps[0][0]: there is no line 1; put the id of a line there, or take it out",
    );
}
