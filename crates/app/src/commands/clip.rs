//! Copying and pasting: what is selected as text in the form of a design's file, and back.

use super::change::{Change, named};
use session::{Selected, Selection, Session, clip};
use std::collections::BTreeSet;

/// What is selected, as text for the clipboard, and what it is in words.
///
/// # Errors
/// Says that there is nothing to copy.
pub(crate) fn copied(session: &Session) -> Result<(String, String), String> {
    let (document, layout) = (session.document(), &session.derived().layout);
    let nothing = || "Click the lines or the part to copy first".to_owned();
    let (clip, words) = match session.selected() {
        Selected::Part(id) => {
            let words = format!("\"{}\"", document.part_name(id));
            (clip::of_part(document, layout, id), words)
        }
        Selected::Line { .. } => {
            let ids = session.selected_lines();
            (clip::of_lines(document, layout, &ids), named(session, &ids))
        }
        Selected::Panel(_) | Selected::Nothing => return Err(nothing()),
    };
    let clip = clip.ok_or_else(nothing)?;
    Ok((file::to_text(&clip), words))
}

/// What pasting a text would change.
///
/// # Errors
/// Says in a sentence why it can't.
pub(crate) fn pasted(session: &Session, text: &str) -> Result<Change, String> {
    let clip = file::from_text(text)
        .map_err(|_says| "What is on the clipboard is no line and no part; copy one in a design first".to_owned())?;
    put(session, &clip, "Paste")
}

/// Whether a text is a line or part that was copied.
pub(crate) fn is_clip(text: &str) -> bool {
    file::from_text(text).is_ok_and(|clip| !clip.lines.is_empty() || !clip.parts.is_empty())
}

/// What putting the selected lines in once more would change.
///
/// # Errors
/// Says in a sentence why it can't.
pub(super) fn duplicated(session: &Session) -> Result<Change, String> {
    let (document, layout) = (session.document(), &session.derived().layout);
    let ids: BTreeSet<_> = session.selected_lines();
    let clip = clip::of_lines(document, layout, &ids).ok_or_else(|| "Click a line first".to_owned())?;
    put(session, &clip, "Duplicate")
}

fn put(session: &Session, clip: &model::Document, verb: &str) -> Result<Change, String> {
    let on = match session.selected() {
        Selected::Panel(point) => Some(point),
        _ => None,
    };
    let (document, layout) = (session.document(), &session.derived().layout);
    let pasted = clip::paste(document, layout, clip, on)?;
    let what = match (pasted.part.is_some(), pasted.lines.len()) {
        (true, _) => "a part".to_owned(),
        (false, 1) => "a line".to_owned(),
        (false, count) => format!("{count} lines"),
    };
    let select: Selection = match pasted.part {
        Some(id) => Selected::Part(id).into(),
        None => pasted.lines.into_iter().collect(),
    };
    Ok(Change { select: Some(select), ..Change::new(format!("{verb} {what}"), pasted.edit) })
}
