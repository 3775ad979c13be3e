//! Named lengths, and formulas in every place where one may stand.

use super::*;
use model::{Formula, LineSlot, NamedLength, NamedLengths, PartId, PartSlot, Slot, SpotSlot, slot::Side};

/// A design in which every kind of length is said by a formula.
pub(super) const NAMED: &str = r#"{
  "format": "foliowright folio",
  "version": 2,
  "title": "Card sleeve",
  "units": "in",
  "board": { "grooves": "1/8 in" },
  "lengths": [
    { "name": "card width", "value": "4 in", "about": "How wide the cards are." },
    { "name": "margin", "value": "1/8 in" },
    { "name": "room", "value": "card width + 2 * margin" }
  ],
  "stock": { "width": "3 * card width", "height": "12 in", "caliper": "0.3 mm" },
  "lines": [
    {
      "id": 1,
      "place": {
        "turn": 0,
        "from": "edge",
        "distance": "room - 1/4 in",
        "start": "margin",
        "end": "line 2 + margin / 2"
      },
      "work": "slot",
      "width": "margin"
    },
    {
      "id": 2,
      "place": { "turn": 1, "from": "edge", "distance": "8 in", "end": "line 1 - 2 * margin" },
      "work": "score",
      "fold": "valley"
    },
    {
      "id": 3,
      "place": {
        "drawn": {
          "from": { "x": "margin", "y": "room" },
          "to": { "on": "line 2", "at": "card width / 2" },
          "bow": "margin - 1/8 in"
        }
      },
      "work": "cut"
    }
  ],
  "corners": [
    {
      "mark": { "x": "1 in", "y": "1 in" },
      "which": "panel",
      "round": "2 * margin"
    },
    {
      "mark": { "x": "11 in", "y": "1 in" },
      "which": "panel",
      "clip": "margin"
    }
  ],
  "base": { "x": "6 in", "y": "6 in" },
  "parts": [
    {
      "id": 1,
      "kind": {
        "pocket": {
          "width": "room",
          "height": "3 in",
          "glued": ["bottom", "left"],
          "strip": "1/4 in",
          "rim": "margin - 1/8 in"
        }
      },
      "from": "folio stock",
      "place": {
        "on": { "x": "6 in", "y": "6 in" },
        "across": "-(margin - 1/8 in) from middle",
        "down": "(card width - margin) / 2 from top"
      }
    }
  ],
  "steps": [
    [2]
  ]
}
"#;

#[test]
fn a_design_with_formulas_everywhere_is_this_text() {
    let document = from_text(NAMED).unwrap();
    assert_eq!(to_text(&document), NAMED);
    let formula = |text: &str| Formula::parse(text, None).unwrap();
    let line = |id, slot| Slot::Line(LineId(id), slot);
    let part = |slot| Slot::Part(PartId(1), slot);
    // Worked out by hand: card width 4 in, margin 1/8 in, room 4 1/4 in.
    let expected = [
        (Slot::Sheet(Side::Width), "3 * card width", "12 in"),
        (line(1, LineSlot::Distance), "room - 1/4 in", "4 in"),
        (line(1, LineSlot::Start), "margin", "1/8 in"),
        (line(1, LineSlot::End), "margin / 2", "1/16 in"),
        (line(1, LineSlot::Width), "margin", "1/8 in"),
        (line(2, LineSlot::End), "-2 * margin", "-1/4 in"),
        (line(3, LineSlot::From(SpotSlot::X)), "margin", "1/8 in"),
        (line(3, LineSlot::From(SpotSlot::Y)), "room", "4 1/4 in"),
        (line(3, LineSlot::To(SpotSlot::At)), "card width / 2", "2 in"),
        (line(3, LineSlot::Bow), "margin - 1/8 in", "0 in"),
        (Slot::Corner(0), "2 * margin", "1/4 in"),
        (Slot::Corner(1), "margin", "1/8 in"),
        (part(PartSlot::Measure("width")), "room", "4 1/4 in"),
        (part(PartSlot::Measure("rim")), "margin - 1/8 in", "0 in"),
        (part(PartSlot::Across), "-(margin - 1/8 in)", "0 in"),
        (part(PartSlot::Down), "(card width - margin) / 2", "1 15/16 in"),
    ];
    for (slot, text, length) in expected {
        assert_eq!(document.lengths.formulas.get(&slot), Some(&formula(text)), "{slot:?}");
        assert_eq!(document.length_in(slot).unwrap().text(Unit::Inch), length, "{slot:?}");
    }
    assert_eq!(document.lengths.formulas.len(), expected.len());
    let room = document.lengths.find("room").unwrap();
    assert_eq!(
        (room.value.text(Unit::Inch).as_str(), &room.formula),
        ("4 1/4 in", &Some(formula("card width + 2 * margin")))
    );
    assert_eq!(document.lengths.list[0].about, "How wide the cards are.");
}

#[test]
fn names_are_found_whatever_their_capitals_and_figures_alone_are_reckoned() {
    let text = NAMED.replace("\"room - 1/4 in\"", "\"ROOM - 1/4in\"").replace("\"8 in\"", "\"16 in / 2\"");
    assert_eq!(to_text(&from_text(&text).unwrap()), NAMED);
}

/// Changes the text and expects a whole sentence.
#[track_caller]
fn refuse(from: &str, to: &str, sentence: &str) {
    let (before, after) = NAMED.split_once(from).expect("it is in the sample");
    says(&format!("{before}{to}{after}"), sentence);
}

#[test]
fn refusals_say_where_and_how_to_mend_it() {
    refuse(
        "\"room - 1/4 in\"",
        "\"rom - 1/4 in\"",
        "lines[0].place.distance: there is no length called \"rom\"; name it first, or write a length such as \"2 3/4 in\"",
    );
    refuse(
        "\"value\": \"1/8 in\"",
        "\"value\": \"room\"",
        "lengths[1].value: there is no length called \"room\"; name it first, or write a length such as \"2 3/4 in\"",
    );
    refuse(
        "card width + 2 * margin",
        "room + 1 in",
        "lengths[2].value: there is no length called \"room\"; name it first, or write a length such as \"2 3/4 in\"",
    );
    refuse(
        "margin / 2",
        "margin / (margin / margin - 1)",
        "lines[0].place.end: \"margin / (margin / margin - 1)\" divides by nothing; divide by something else",
    );
    refuse(
        "\"room\",\n          \"height\"",
        "\"room / 7\",\n          \"height\"",
        "parts[0].kind.pocket.width: \"room / 7\" has no exact length; the nearest is 15.421429 mm, or 39/64 in on a ruler",
    );
    refuse(
        "(card width - margin) / 2 from top",
        "card width * 1000 from top",
        "parts[0].place.down: \"card width * 1000\" is more than 10 m; no sheet is that large",
    );
    refuse(
        "\"3 * card width\"",
        "\"card width - 4 in\"",
        "stock: both sides of a sheet must be more than nothing and at most 10 m",
    );
    refuse(
        "\"margin\", \"value\"",
        "\"card Width\", \"value\"",
        "lengths[1].name: there is a length called \"card width\" already; choose another name",
    );
    refuse(
        "\"margin\", \"value\"",
        "\"line gap\", \"value\"",
        "lengths[1].name: \"line gap\" has the word \"line\" in it, which means something else; choose another",
    );
    refuse(
        "How wide",
        "How\\u0007 wide",
        "lengths[0].about: it holds a line break or another control character; take it out",
    );
    refuse(
        "\"round\": \"2 * margin\"",
        "\"round\": \"2 margin\"",
        "corners[0].round (line 48): \"margin\" is not a unit; use in, mm or cm",
    );
    refuse(
        "\"value\": \"1/8 in\"",
        "\"value\": \"1/8 in +\"",
        "lengths[1].value (line 9): \"1/8 in +\" stops too early; write what follows, or close a bracket",
    );
}

#[test]
fn what_a_terminal_would_obey_is_not_said_back() {
    // Found by fuzzing: a name of many control characters.
    let ending = "\u{7f}".repeat(45);
    let (before, after) = NAMED.split_once("\"card width\", \"value\"").unwrap();
    let said = from_text(&format!("{before}\"ca{ending}\", \"value\"{after}")).unwrap_err().to_string();
    assert!(said.contains("is too long; a name has at most 40 characters"), "{said}");
    assert!(!said.contains(char::is_control), "{said:?}");
    refuse(
        "\"room - 1/4 in\"",
        "\"rom\\u001b\\u0007 - 1/4 in\"",
        "lines[0].place.distance (line 19): \"\\u{1b}\" can't stand there; reckon with +, -, *, / and brackets, a sign \
         between any two",
    );
}

#[test]
fn a_little_sheet_of_her_own_knows_no_names() {
    let own = r#""own": { "width": "room", "height": "2 in", "base": { "x": "1 in", "y": "1 in" }, "lines": [
        { "id": 1, "place": { "turn": 0, "from": "edge", "distance": "margin" }, "work": "cut" }
    ] } }, "from": "folio stock""#;
    let (start, rest) = NAMED.split_once("\"pocket\"").unwrap();
    let (_, end) = rest.split_once("\"from\": \"folio stock\"").unwrap();
    let text = format!("{start}{own}{end}");
    says(
        &text,
        "parts[0].kind.own.lines[0].place.distance: named lengths are not known on a part's own little sheet; write the \
         length itself",
    );
    let document = from_text(&text.replace("\"margin\" }, \"work\"", "\"1/8 in\" }, \"work\"")).unwrap();
    assert_eq!(document.typed_in(Slot::Part(PartId(1), PartSlot::Measure("width"))).unwrap().text(Unit::Inch), "room");
}

#[test]
fn lengths_that_nothing_uses_are_kept() {
    let named = NamedLength { name: "gap".to_owned(), value: Length::EIGHTH, formula: None, about: String::new() };
    let document = Document { lengths: NamedLengths { list: vec![named], ..NamedLengths::default() }, ..small() };
    assert_eq!(from_text(&to_text(&document)), Ok(document));
}
