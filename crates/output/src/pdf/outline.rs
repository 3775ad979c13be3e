//! The list of headings that a reader shows beside the document.

use super::Refs;
use super::tag::Entry;
use pdf_writer::{Pdf, Ref, TextStr};

/// Writes the list of headings; `None` where there are none.
pub(super) fn write(entries: &[Entry<'_>], pdf: &mut Pdf, refs: &mut Refs) -> Option<Ref> {
    if entries.is_empty() {
        return None;
    }
    let root = refs.next();
    let ids: Vec<Ref> = entries.iter().map(|_| refs.next()).collect();
    let parents = parents(entries);
    let children = |of: Option<usize>| -> Vec<usize> { (0..entries.len()).filter(|&i| parents[i] == of).collect() };
    let count = |many: usize| i32::try_from(many).unwrap_or(i32::MAX);
    let top = children(None);
    let mut outline = pdf.outline(root);
    if let (Some(&first), Some(&last)) = (top.first(), top.last()) {
        outline.first(ids[first]).last(ids[last]).count(count(top.len()));
    }
    drop(outline);
    for (i, entry) in entries.iter().enumerate() {
        let siblings = children(parents[i]);
        let place = siblings.iter().position(|&at| at == i).unwrap_or_default();
        let own = children(Some(i));
        let mut item = pdf.outline_item(ids[i]);
        item.title(TextStr(entry.text)).parent(parents[i].map_or(root, |at| ids[at]));
        if let Some(&before) = place.checked_sub(1).and_then(|at| siblings.get(at)) {
            item.prev(ids[before]);
        }
        if let Some(&after) = siblings.get(place + 1) {
            item.next(ids[after]);
        }
        if let (Some(&first), Some(&last)) = (own.first(), own.last()) {
            // Less than nothing: shut at first.
            item.first(ids[first]).last(ids[last]).count(-count(own.len()));
        }
        item.dest().page(entry.page).xyz(0.0, entry.top, None);
    }
    Some(root)
}

/// The nearest heading before each that is of a higher level.
fn parents(entries: &[Entry<'_>]) -> Vec<Option<usize>> {
    let mut open: Vec<usize> = Vec::new();
    let mut parents = Vec::with_capacity(entries.len());
    for (i, entry) in entries.iter().enumerate() {
        while open.last().is_some_and(|&at| entries[at].level >= entry.level) {
            open.pop();
        }
        parents.push(open.last().copied());
        open.push(i);
    }
    parents
}
