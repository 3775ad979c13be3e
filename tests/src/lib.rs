//! What the acceptance tests share: designs as text, and all that follows from them.
//!
//! The tests look at the program as a whole, from a project file to what the checker says of it. What one crate does
//! alone is tested in that crate.

pub mod closed;
pub mod dice;
pub mod exported;
pub mod large;
pub mod ruler;
mod said;
pub mod seeded;
pub mod stacking;
mod stuck;
pub mod truth;
pub mod unfold;

use file::FileError;
use model::Document;
use session::Derived;

/// A design read from the text of a project file, with all that follows from it.
///
/// # Errors
/// What is wrong with the text.
pub fn design(text: &str) -> Result<(Document, Derived), FileError> {
    let document = file::from_text(text)?;
    let derived = Derived::of(&document);
    Ok((document, derived))
}

/// The text of a sheet `width` x `height` with upright score lines, each at a distance from the left edge and with its
/// fold, folding one after another in the order given. The base is the leftmost panel.
#[must_use]
pub fn strip(width: &str, height: &str, caliper: &str, scores: &[(&str, &str)], base: (&str, &str)) -> String {
    let line = |(i, (distance, fold)): (usize, &(&str, &str))| {
        format!(
            r#"{{ "id": {}, "place": {{ "turn": 0, "from": "edge", "distance": "{distance}" }}, "work": "score", "fold": "{fold}" }}"#,
            i + 1
        )
    };
    let lines: Vec<String> = scores.iter().enumerate().map(line).collect();
    let steps: Vec<String> = (1..=scores.len()).rev().map(|id| format!("[{id}]")).collect();
    format!(
        r#"{{ "format": "foliowright folio", "version": 1, "title": "Strip", "units": "in",
            "stock": {{ "width": "{width}", "height": "{height}", "caliper": "{caliper}" }},
            "lines": [{}], "base": {{ "x": "{}", "y": "{}" }}, "steps": [{}] }}"#,
        lines.join(", "),
        base.0,
        base.1,
        steps.join(", ")
    )
}
