//! Numbers of offcuts in the project file.

use super::*;
use model::{Numbered, Point};

const OFFCUTS: &str = r#"  "offcuts": [
    {
      "number": 1,
      "mark": { "x": "11 in", "y": "1 in" }
    },
    {
      "number": 2,
      "mark": { "x": "1 in", "y": "1 in" }
    }
  ],
"#;

fn numbered() -> Document {
    let mark = |number, inches| Numbered { number, mark: Point::new(Length::INCH * inches, Length::INCH) };
    Document { offcuts: vec![mark(1, 11), mark(2, 1)], ..small() }
}

/// The text of the small design with numbers of offcuts, before its steps.
pub(super) fn text() -> String {
    let (before, after) = SMALL.split_once("  \"steps\"").unwrap();
    format!("{before}{OFFCUTS}  \"steps\"{after}")
}

#[test]
fn numbers_are_this_text() {
    assert_eq!(to_text(&numbered()), text());
    assert_eq!(from_text(&text()), Ok(numbered()));
    assert!(!to_text(&small()).contains("offcuts"), "in reading order nothing is said");
}

#[test]
fn a_number_that_cannot_be_is_refused() {
    #[track_caller]
    fn check(number: &str, says: &str) {
        let error = from_text(&text().replace("\"number\": 2", &format!("\"number\": {number}"))).unwrap_err();
        assert!(error.to_string().contains(says), "{error}");
    }
    check("1", "1 stands twice; give each offcut a number of its own");
    check("0", "0 is no number of an offcut; give one from 1 to 9999");
    check("10000", "10000 is no number of an offcut");
}
