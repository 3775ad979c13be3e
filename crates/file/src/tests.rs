//! Exact text, refusals and their sentences, and round trips over made-up designs.

use super::*;
use model::{
    Crease, Datum, Direction, FoldAngle, Length, Line, LineId, Place, Point, Run, Size, Step, Stop, Turn, Work,
};
use model::{Stock, Unit};
use proptest::prelude::*;

const SMALL: &str = r#"{
  "format": "foliowright folio",
  "version": 1,
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

fn line(id: u32, name: &str, place: Place, work: Work) -> Line {
    Line { id: LineId(id), name: name.to_owned(), place, work }
}

fn small() -> Document {
    let measured = |from, distance, run| Place::Measured { turn: Turn::None, from, distance: inches(distance), run };
    let square = Crease { direction: Direction::Mountain, angle: FoldAngle::Square };
    let stops = Run { from: Stop::Line(LineId(3)), to: Stop::At(inches("4")) };
    let top = Run { from: Stop::Edge, to: Stop::At(inches("2")) };
    Document {
        title: "Seed swap folio".to_owned(),
        credit: "After a folded seed packet".to_owned(),
        units: Unit::Inch,
        groove: Length::EIGHTH,
        stock: Stock { size: Size::parse("12 x 8 1/2 in").unwrap(), caliper: Stock::USUAL_CALIPER },
        lines: vec![
            line(1, "Left fold", measured(Datum::Edge, "3 1/4", Run::FULL), Work::Score(Crease::VALLEY)),
            line(2, "", measured(Datum::Line(LineId(1)), "1/4", stops), Work::Score(square)),
            line(3, "", Place::Along { line: LineId(1), run: top }, Work::Cut),
        ],
        base: Some(Point::new(inches("6"), inches("5"))),
        steps: vec![Step { lines: vec![LineId(2)] }, Step { lines: vec![LineId(1), LineId(2)] }],
    }
}

#[test]
fn a_small_design_is_this_text() {
    assert_eq!(to_text(&small()), SMALL);
    assert_eq!(from_text(SMALL), Ok(small()));
}

#[test]
fn what_says_nothing_is_left_out() {
    let bare = Document {
        title: String::new(),
        credit: String::new(),
        units: Unit::Millimetre,
        groove: Length::ZERO,
        stock: Stock { size: Size::parse("A4").unwrap(), caliper: Length::ZERO },
        lines: Vec::new(),
        base: None,
        steps: Vec::new(),
    };
    let text = r#"{
  "format": "foliowright folio",
  "version": 1,
  "title": "",
  "units": "mm",
  "stock": { "width": "210 mm", "height": "297 mm" },
  "lines": [],
  "steps": []
}
"#;
    assert_eq!(to_text(&bare), text);
    assert_eq!(from_text(text).as_ref(), Ok(&bare));
    let nulls = text.replace("\"lines\"", "\"base\": null, \"board\": null, \"lines\"");
    assert_eq!(from_text(&nulls), Ok(bare));
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
fn files_that_are_no_design_are_refused() {
    let stranger = "this is not a Foliowright design; open a .folio file that Foliowright has saved";
    says("", "there is nothing in it; open a copy of the design or start a new one");
    says("\u{feff} \n", "there is nothing in it; open a copy of the design or start a new one");
    says("12", stranger);
    says("[]", stranger);
    says("{}", stranger);
    says("{\"format\": 3}", stranger);
    refuse("foliowright folio", "recipe", stranger);
    refuse("  \"format\": \"foliowright folio\",\n", "", stranger);
    let large = " ".repeat(MOST_BYTES) + SMALL;
    says(&large, "a design takes at most 16 MiB and this is more; check that it is the right file");
}

#[test]
fn versions_are_refused_that_are_newer_or_none() {
    let none = "version is not a whole number above 0; write the version the design was saved in, such as 1";
    let newer = "the design was saved by a newer version of Foliowright (format 2, and this one reads up to 1); \
                 update Foliowright to open it";
    refuse("\"version\": 1", "\"version\": 2", newer);
    refuse("\"version\": 1,", "\"version\": 2, \"pages\": [],", newer);
    refuse("\"version\": 1", "\"version\": 0", none);
    refuse("\"version\": 1", "\"version\": -1", none);
    refuse("\"version\": 1", "\"version\": 1.0", none);
    refuse("\"version\": 1", "\"version\": \"1\"", none);
    refuse("  \"version\": 1,\n", "", none);
}

#[test]
fn syntax_errors_name_line_and_column() {
    refuse("\"in\",", "\"in\"", "line 7, column 3 cannot be read: expected \",\" or \"}\"; mend the text there");
    refuse(
        "[1, 2]\n",
        "[1, 2],\n",
        "line 34, column 3 cannot be read: a value is missing or not in quotes; mend the text there",
    );
    refuse("\"work\"", "work", "line 14, column 7 cannot be read: a key is not in quotes; mend the text there");
    says(
        &format!("{SMALL}x"),
        "line 36, column 1 cannot be read: something follows the end of the design; mend the text there",
    );
    let deep = format!("\"version\": {}1{}", "[".repeat(500), "]".repeat(500));
    refuse(
        "\"version\": 1",
        &deep,
        "line 3, column 140 cannot be read: brackets are nested too deep for a design; mend the text there",
    );
    says(&SMALL[..200], "the text stops on line 8 before the design is complete; open a whole copy of it");
}

#[test]
fn keys_are_those_of_the_format() {
    refuse(
        "\"turn\": 0, \"from\": \"line 1\", \"distance\"",
        "\"turn\": 0, \"from\": \"line 1\", \"distanse\"",
        "lines[1].place.distanse (line #) is not a key of this format; take it out or use one of turn, from, \
         distance, along, start, end",
    );
    refuse("\"x\"", "\"across\"", "base.across (line #) is not a key of this format; take it out or use one of x, y");
    refuse(
        "\"base\"",
        "\"pages\"",
        "pages (line #) is not a key of this format; take it out or use one of format, version, title, credit, units, \
         board, stock, lines, base, steps",
    );
    let odd = "�a.b (line #) is not a key of this format; take it out or use one of x, y";
    refuse("\"x\"", "\"\\na.b\"", &format!("base.{odd}"));
    refuse("  \"title\": \"Seed swap folio\",\n", "", "title (line 34) is missing; put it in");
    refuse("\"width\": \"12 in\", ", "", "stock.width (line #) is missing; put it in");
    refuse("      \"id\": 2,\n", "", "lines[1].id (line 22) is missing; put it in");
    refuse("\"x\": \"6 in\",", "\"x\": \"6 in\", \"x\": \"7 in\",", "base.x (line #) is there twice; take one out");
    refuse("\"version\": 1,", "\"version\": 1, \"version\": 1,", "version (line #) is there twice; take one out");
}

#[test]
fn values_are_of_the_right_kind() {
    refuse(
        "\"12 in\"",
        "12",
        "stock.width (line #): 12 stands where a length in quotes such as \"2 3/4 in\" or \"70 mm\" belongs; write that \
         instead",
    );
    refuse(
        "\"id\": 1",
        "\"id\": \"a\"",
        "lines[0].id (line #): \"a\" stands where a whole number, 0 or more belongs; write that instead",
    );
    refuse(
        "\"id\": 1",
        "\"id\": -1",
        "lines[0].id (line #): -1 stands where a whole number, 0 or more belongs; write that instead",
    );
    refuse(
        "\"id\": 1",
        "\"id\": 1.5",
        "lines[0].id (line #): 1.5 stands where a whole number, 0 or more belongs; write that instead",
    );
    refuse("\"Seed swap folio\"", "7", "title (line #): 7 stands where text in quotes belongs; write that instead");
    refuse(
        "\"Seed swap folio\"",
        "null",
        "title (line #): null stands where text in quotes belongs; write that instead",
    );
    refuse("[2]", "2", "steps[0] (line #): 2 stands where a list in [ ] belongs; write that instead");
    refuse("[2]", "{}", "steps[0] (line #): an object in { } stands where a list in [ ] belongs; write that instead");
    refuse(
        "{ \"x\": \"6 in\", \"y\": \"5 in\" }",
        "true",
        "base (line #): true stands where a point in { } belongs; write that instead",
    );
    refuse(
        "{ \"grooves\": \"1/8 in\" }",
        "\"1/8 in\"",
        "board (line #): \"1/8 in\" stands where a board in { } belongs; write that instead",
    );
    refuse(
        "\"along\": \"line 1\"",
        "\"along\": 1",
        "lines[2].place.along (line #): 1 stands where a line such as \"line 3\" belongs; write that instead",
    );
}

#[test]
fn words_are_those_of_the_format() {
    let line_3 = "stands where a line such as \"line 3\" belongs; write that instead";
    refuse(
        "\"in\"",
        "\"inch\"",
        "units (line #): \"inch\" stands where \"in\", \"mm\" or \"cm\" belongs; write that instead",
    );
    refuse(
        "\"cut\"",
        "\"slit\"",
        "lines[2].work (line #): \"slit\" stands where \"score\" or \"cut\" belongs; write that instead",
    );
    refuse(
        "\"valley\"",
        "\"up\"",
        "lines[0].fold (line #): \"up\" stands where \"valley\" or \"mountain\" belongs; write that instead",
    );
    refuse(
        "\"from\": \"edge\"",
        "\"from\": \"left\"",
        "lines[0].place.from (line #): \"left\" stands where \"edge\" or a line such as \"line 3\" belongs; write that instead",
    );
    refuse("\"line 3\"", "\"line x\"", &format!("lines[1].place.start (line #): \"line x\" {line_3}"));
    refuse(
        "\"line 3\"",
        "\"line 99999999999\"",
        &format!("lines[1].place.start (line #): \"line 99999999999\" {line_3}"),
    );
    refuse(
        "\"along\": \"line 1\"",
        "\"along\": \"line +1\"",
        &format!("lines[2].place.along (line #): \"line +1\" {line_3}"),
    );
    refuse(
        "\"turn\": 0",
        "\"turn\": 4",
        "lines[0].place.turn (line #): 4 stands where a count of quarter turns, 0 to 3, belongs; write that instead",
    );
    refuse("90", "45", "lines[1].angle (line #): 45 stands where 180 or 90 belongs; write that instead");
}

#[test]
fn a_stop_is_an_edge_a_line_or_a_length() {
    let stop =
        "stands where \"edge\", a line such as \"line 3\" or a length such as \"2 3/4 in\" belongs; write that instead";
    refuse("\"4 in\"", "\"bottom\"", &format!("lines[1].place.end (line #): \"bottom\" {stop}"));
    refuse("\"4 in\"", "\"\"", &format!("lines[1].place.end (line #): \"\" {stop}"));
    refuse("\"4 in\"", "4", &format!("lines[1].place.end (line #): 4 {stop}"));
}

#[test]
fn lengths_are_lengths() {
    refuse("\"3 1/4 in\"", "\"3 1/4\"", "lines[0].place.distance (line #): \"3 1/4\" has no unit; add in, mm or cm");
    refuse("\"4 in\"", "\"4 furlongs\"", "lines[1].place.end (line #): \"furlongs\" is not a unit; use in, mm or cm");
    refuse(
        "\"1/8 in\"",
        "\"1/0 in\"",
        "board.grooves (line #): \"1/0 in\" divides by nothing; give the fraction a bottom figure",
    );
    refuse("\"12 in\"", "\"0 in\"", "stock: both sides of a sheet must be more than nothing and at most 10 m");
    refuse("\"12 in\"", "\"12000 in\"", "stock.width (line #): \"12000 in\" is more than 10 m; no sheet is that large");
    refuse("\"0.3 mm\"", "\"-0.3 mm\"", "stock.caliper: paper is not thinner than nothing; leave it out if not known");
}

#[test]
fn a_line_says_one_thing() {
    refuse(
        "\"distance\": \"3 1/4 in\"",
        "\"start\": \"edge\"",
        "lines[0].place: it doesn't say where; give turn, from and distance, or along",
    );
    refuse(
        "\"along\": \"line 1\"",
        "\"along\": \"line 1\", \"turn\": 1",
        "lines[2].place: it is both measured and along a line; keep along, or turn, from and distance",
    );
    refuse(
        "\"cut\"",
        "\"cut\", \"angle\": 90",
        "lines[2]: a cut doesn't fold; take out fold and angle, or make it a score",
    );
    refuse("\"cut\"", "\"score\"", "lines[2]: a score folds; add \"fold\": \"valley\" or \"fold\": \"mountain\"");
}

#[test]
fn ids_are_known_and_not_shared() {
    refuse("\"id\": 2", "\"id\": 1", "lines[1].id: there is a line 1 already; give each line a number of its own");
    refuse("[1, 2]", "[1, 7]", "steps[1][1]: there is no line 7; put the id of a line there, or take it out");
    // A place by a line that isn't there is the layout's to report, in a design that opens.
    let dangling = from_text(&SMALL.replace("\"line 3\"", "\"line 9\"")).unwrap();
    assert_eq!(dangling.lines[1].place.run().from, Stop::Line(LineId(9)));
}

#[test]
fn sizes_are_bounded() {
    #[track_caller]
    fn check(change: impl Fn(&mut Document, usize), most: usize, sentence: &str) {
        let mut document = small();
        change(&mut document, most);
        assert_eq!(from_text(&to_text(&document)), Ok(document.clone()));
        change(&mut document, most + 1);
        says(&to_text(&document), sentence);
    }
    // Characters, not bytes: é takes two.
    let title = |document: &mut Document, count| document.title = "é".repeat(count);
    check(title, MOST_TITLE, "title: it has 201 characters and may have at most 200; shorten it");
    let name = |document: &mut Document, count| document.lines[2].name = "n".repeat(count);
    check(name, MOST_TITLE, "lines[2].name: it has 201 characters and may have at most 200; shorten it");
    let credit = |document: &mut Document, count| document.credit = "c".repeat(count);
    check(credit, MOST_CREDIT, "credit: it has 20001 characters and may have at most 20000; shorten it");
    let lines = |document: &mut Document, count| {
        let cut = document.lines[2].clone();
        document.lines = (1..).take(count).map(|id| Line { id: LineId(id), ..cut.clone() }).collect();
    };
    check(lines, Document::MOST_LINES, "lines: there are 2001 here and a design holds at most 2000; take some out");
    let steps = |document: &mut Document, count| document.steps = vec![Step::default(); count];
    check(steps, Document::MOST_LINES, "steps: there are 2001 here and a design holds at most 2000; take some out");
    let step = |document: &mut Document, count| document.steps[1].lines = vec![LineId(1); count];
    check(step, Document::MOST_LINES, "steps[1]: there are 2001 here and a step holds at most 2000; take some out");
}

/// Lengths as typed in either system, and any others that are read.
fn any_length() -> impl Strategy<Value = Length> {
    let limit = Length::LIMIT.nm();
    prop_oneof![
        (-2_000..2_000_i64).prop_map(Length::from_sixty_fourths),
        (-50_000..50_000_i64).prop_map(|hundredths| Length::from_nm(hundredths * 10_000)),
        (-limit..=limit).prop_map(Length::from_nm),
    ]
}

fn any_stop() -> impl Strategy<Value = Stop> {
    prop_oneof![Just(Stop::Edge), any::<u32>().prop_map(|id| Stop::Line(LineId(id))), any_length().prop_map(Stop::At)]
}

#[test]
fn control_characters_and_impossible_paper_are_refused() {
    let says = "it holds a line break or another control character; take it out";
    refuse("\"Seed swap folio\"", "\"Seed\\nswap\"", &format!("title: {says}"));
    refuse("\"Left fold\"", "\"Left\\u001b[31m\"", &format!("lines[0].name: {says}"));
    let credit = "credit: it holds a control character other than a line break; take it out";
    refuse("After a folded", "After\\u0007a\\nfolded", credit);
    let paper = "stock.caliper: no paper that folds is more than 10 mm thick; measure one sheet";
    refuse("0.3 mm", "10000 mm", paper);
}

fn any_place() -> impl Strategy<Value = Place> {
    let run = (any_stop(), any_stop()).prop_map(|(from, to)| Run { from, to });
    let datum = prop_oneof![Just(Datum::Edge), any::<u32>().prop_map(|id| Datum::Line(LineId(id)))];
    let turn = prop::sample::select(Turn::ALL.to_vec());
    (prop::option::of(any::<u32>()), turn, datum, any_length(), run).prop_map(|(along, turn, from, distance, run)| {
        match along {
            Some(line) => Place::Along { line: LineId(line), run },
            None => Place::Measured { turn, from, distance, run },
        }
    })
}

fn any_work() -> impl Strategy<Value = Work> {
    let direction = prop_oneof![Just(Direction::Valley), Just(Direction::Mountain)];
    let angle = prop_oneof![Just(FoldAngle::Flat), Just(FoldAngle::Square)];
    prop_oneof![
        Just(Work::Cut),
        (direction, angle).prop_map(|(direction, angle)| Work::Score(Crease { direction, angle }))
    ]
}

fn any_text() -> impl Strategy<Value = String> {
    let plain = |c: &char| !c.is_control();
    prop::collection::vec(any::<char>().prop_filter("titles and names are one line of text", plain), 0..12)
        .prop_map(String::from_iter)
}

fn any_stock() -> impl Strategy<Value = Stock> {
    (any_length(), any_length(), any_length()).prop_map(|(width, height, caliper)| {
        let side = |length: Length| length.abs().max(Length::SIXTY_FOURTH);
        Stock {
            size: Size::new(side(width), side(height)).unwrap(),
            caliper: caliper.abs().min(Length::MILLIMETRE * 10),
        }
    })
}

fn any_document() -> impl Strategy<Value = Document> {
    let units = prop::sample::select(vec![Unit::Inch, Unit::Millimetre, Unit::Centimetre]);
    let lines = prop::collection::btree_map(any::<u32>(), (any_text(), any_place(), any_work()), 1..8);
    let point = prop::option::of((any_length(), any_length()).prop_map(|(x, y)| Point::new(x, y)));
    let steps = prop::collection::vec(prop::collection::vec(any::<prop::sample::Index>(), 0..4), 0..4);
    (any_text(), any_text(), units, any_length(), any_stock(), lines, point, steps).prop_map(
        |(title, credit, units, groove, stock, lines, base, steps)| {
            let line = |(id, (name, place, work))| Line { id: LineId(id), name, place, work };
            // From the highest id to the lowest, so that order in the file isn't order of ids.
            let lines: Vec<Line> = lines.into_iter().rev().map(line).collect();
            let step = |picks: Vec<prop::sample::Index>| Step {
                lines: picks.iter().map(|pick| lines[pick.index(lines.len())].id).collect(),
            };
            let steps = steps.into_iter().map(step).collect();
            Document { title, credit, units, groove, stock, lines, base, steps }
        },
    )
}

proptest! {
    #[test]
    fn every_design_comes_back_as_it_was(document in any_document()) {
        let text = to_text(&document);
        prop_assert_eq!(text.lines().last(), Some("}"));
        let back = from_text(&text);
        prop_assert_eq!(back.as_ref(), Ok(&document));
        prop_assert_eq!(back.map(|document| to_text(&document)), Ok(text));
    }

    #[test]
    fn any_text_is_a_design_or_a_sentence(text in any_text()) {
        let error = from_text(&text).unwrap_err();
        prop_assert!(!error.to_string().is_empty());
    }

    #[test]
    fn a_damaged_file_is_a_design_or_a_sentence(
        damage in prop::collection::vec((any::<prop::sample::Index>(), any::<u8>()), 1..4),
        length in any::<prop::sample::Index>(),
        cut in any::<bool>(),
    ) {
        let mut bytes = SMALL.as_bytes().to_vec();
        for (at, byte) in damage {
            let at = at.index(bytes.len());
            bytes[at] = byte;
        }
        if cut {
            bytes.truncate(length.index(bytes.len()));
        }
        match from_text(&String::from_utf8_lossy(&bytes)) {
            Ok(document) => prop_assert_eq!(from_text(&to_text(&document)), Ok(document)),
            Err(FileError::Value { says, .. }) => prop_assert!(!says.starts_with("invalid"), "{}", says),
            Err(error) => prop_assert!(!error.to_string().contains(char::is_control), "{}", error),
        }
    }
}

#[test]
fn a_file_cut_short_anywhere_is_refused() {
    for length in 0..SMALL.trim_end().len() {
        let error = from_text(&SMALL[..length]).unwrap_err();
        assert!(matches!(error, FileError::CutShort { .. } | FileError::Empty), "{length}: {error:?}");
    }
}
