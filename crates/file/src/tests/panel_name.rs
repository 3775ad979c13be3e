//! What panels are called, in the project file.

use super::*;
use model::panel_name::PanelName;

const TEXT: &str = r#"
  "panel_names": [
    {
      "mark": { "x": "1 in", "y": "6 in" },
      "name": "Address side"
    }
  ],
  "steps""#;

fn named() -> Document {
    let mark = Point::new(Length::INCH, Length::INCH * 6);
    Document { panel_names: vec![PanelName { mark, name: "Address side".to_owned() }], ..small() }
}

/// The text of the small design with a panel named.
pub(super) fn text() -> String {
    SMALL.replacen("\n  \"steps\"", TEXT, 1)
}

#[test]
fn names_of_panels_are_this_text() {
    assert_eq!(to_text(&named()), text());
    assert_eq!(from_text(&text()), Ok(named()));
}

#[test]
fn what_is_wrong_with_the_name_of_a_panel_is_told() {
    #[track_caller]
    fn check(to: &str, expected: &str) {
        let error = from_text(&text().replacen("\"Address side\"", to, 1)).unwrap_err().to_string();
        assert!(error.contains("panel_names[0].name") && error.contains(expected), "{error}");
    }
    check("\" \"", "name the panel, or take this out");
    check("\"a\\nb\"", "line break");
    check("7", "text");
}
