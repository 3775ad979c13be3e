//! Silenced rules in the project file.

use super::*;
use model::{PanelRef, PartId, Silence};

const TEXT: &str = r#"
  "silences": [
    { "rule": "off-groove", "lines": [1], "reason": "It is scored along a ruler." },
    {
      "rule": "tight-fold",
      "panels": [
        { "x": "1 in", "y": "6 in" },
        "part 4 panel 1"
      ],
      "part_lines": ["part 4 line 2"],
      "at": { "x": "2 in", "y": "3 in" },
      "reason": "The paper is soft."
    }
  ]
}
"#;

fn silenced() -> Document {
    let inch = |count: i64| Length::INCH * count;
    let point = |x, y| Point::new(inch(x), inch(y));
    Document {
        silences: vec![
            Silence {
                rule: "off-groove".to_owned(),
                lines: vec![LineId(1)],
                reason: "It is scored along a ruler.".to_owned(),
                ..Silence::default()
            },
            Silence {
                rule: "tight-fold".to_owned(),
                panels: vec![PanelRef::Sheet(point(1, 6)), PanelRef::Part(PartId(4), 0)],
                part_lines: vec![(PartId(4), LineId(2))],
                at: Some(point(2, 3)),
                reason: "The paper is soft.".to_owned(),
                ..Silence::default()
            },
        ],
        ..small()
    }
}

/// The text of the small design with what is silenced.
pub(super) fn text() -> String {
    let (body, _) = SMALL.trim_end().rsplit_once("\n}").unwrap();
    format!("{body},{}", TEXT)
}

#[test]
fn silences_are_this_text() {
    assert_eq!(to_text(&silenced()), text());
    assert_eq!(from_text(&text()), Ok(silenced()));
    assert!(!to_text(&small()).contains("silences"));
}

#[test]
fn what_is_wrong_with_a_silence_is_told() {
    #[track_caller]
    fn check(from: &str, to: &str, expected: &str) {
        let error = from_text(&text().replacen(from, to, 1)).unwrap_err().to_string();
        assert!(error.contains(expected), "{error}");
    }
    check("\"The paper is soft.\"", "\"\"", "silences[1].reason");
    check("\"The paper is soft.\"", "\"a\\nb\"", "line break");
    check("\"reason\": \"The paper", "\"why\": \"The paper", "silences[1].why");
    check("\"lines\": [1], \"reason\"", "\"lines\": [9], \"reason\"", "there is no line 9");
    check("\"part 4 panel 1\"", "\"part 4\"", "silences[1].panels[1]");
}

#[test]
fn silences_are_bounded() {
    #[track_caller]
    fn bound(fill: impl Fn(&mut Document, usize), most: usize, path: &str) {
        let mut document = silenced();
        fill(&mut document, most);
        assert_eq!(from_text(&to_text(&document)), Ok(document.clone()));
        fill(&mut document, most + 1);
        let error = from_text(&to_text(&document)).unwrap_err().to_string();
        assert!(error.contains(path) && error.contains("take some out"), "{error}");
    }
    bound(
        |document, count| document.silences = vec![silenced().silences[0].clone(); count],
        Document::MOST_SILENCES,
        "silences",
    );
    bound(
        |document, count| document.silences[0].lines = vec![LineId(1); count],
        Silence::MOST_SPOKEN_OF,
        "silences[0].lines",
    );
}
