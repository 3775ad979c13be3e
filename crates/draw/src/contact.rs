//! A contact sheet: every step of the closing in one picture, each with its words.

use crate::artwork::Printed;
use crate::folded::{Posed, View, bounds_in_pose, framed_picture, printed_scene};
use crate::list::{Drawing, Node, Role, Shape};
use crate::sheet::counted;
use crate::style::ink_for;
use crate::text::{Face, TextRun, measure, wrap};
use fold::{Assembly, Folding};
use kurbo::{Affine, Point, Rect, Size};
use model::words::listed;
use model::{Document, Layout};

/// The longer side of one picture with its margin, mm.
const SIDE: f64 = 80.0;

/// Between pictures and around them, mm.
const GAP: f64 = 6.0;

/// Height of words, mm to the em, and from line to line.
const WORDS: (f64, f64) = (3.6, 5.0);

/// The most lines of words under a picture; what is more is cut off.
const MOST_LINES: usize = 3;

/// The most pictures, so that a page can hold them.
pub const MOST_PICTURES: usize = 400;

/// The flat sheet, the folio after each step, in rows from the left; `None` where there are more than [`MOST_PICTURES`].
/// All pictures are of one scale.
#[must_use]
pub fn contact_sheet(
    document: &Document,
    (layout, assembly, folding): (&Layout, &Assembly, &Folding),
    printed: &Printed<'_>,
    view: &View,
) -> Option<Drawing> {
    let count = folding.steps() + 1;
    if count > MOST_PICTURES {
        return None;
    }
    let poses: Vec<_> = (0..count).map(|step| Posed::at(assembly, folding, whole(step))).collect();
    let reach = poses.iter().map(|poses| bounds_in_pose(layout, poses, view));
    let frame = reach.reduce(|all, one| all.union(one)).unwrap_or(Rect::ZERO);
    let pictures: Vec<Drawing> = poses
        .iter()
        .map(|poses| framed_picture(&printed_scene(layout, poses, view, printed), frame, SIDE, ""))
        .collect();
    let words: Vec<Vec<String>> = (0..count).map(|step| lines(&caption(document, folding.steps(), step))).collect();
    let most_lines = words.iter().map(Vec::len).max().unwrap_or(0);
    let own = pictures.first().map_or(Size::ZERO, |picture| picture.size);
    let cell = Size::new(own.width.max(SIDE / 2.0), own.height + WORDS.1 * whole(most_lines));
    let columns = columns(count, cell);
    let rows = count.div_ceil(columns);
    let along = |count: usize, one: f64| GAP + whole(count) * (one + GAP);
    let size = Size::new(along(columns, cell.width), along(rows, cell.height));
    let description =
        format!("{}: the flat sheet and the folio after each of {}.", document.title, counted(count - 1, "step"));
    let mut sheet = Drawing::new(size, description);
    for (at, (picture, words)) in pictures.into_iter().zip(words).enumerate() {
        let corner = Point::new(along(at % columns, cell.width), along(at / columns, cell.height));
        let inset = (cell.width - own.width) / 2.0;
        let place = Affine::translate(corner.to_vec2() + kurbo::Vec2::new(inset, 0.0));
        sheet.nodes.push(Node::Group { place, clip: None, nodes: picture.nodes });
        for (line, text) in words.iter().enumerate() {
            let down = own.height + WORDS.0 + WORDS.1 * whole(line);
            let width = measure(text, Face::Regular, WORDS.0);
            let start = Point::new(corner.x + (cell.width - width) / 2.0, corner.y + down);
            let run = TextRun::new(text, Face::Regular, WORDS.0, ink_for(Role::Note)).at(start);
            sheet.push(Role::Note, Shape::Text(run));
        }
    }
    Some(sheet)
}

/// What stands under the picture after so many steps.
fn caption(document: &Document, steps: usize, step: usize) -> String {
    let Some(last) = step.checked_sub(1) else { return "Flat".to_owned() };
    let names = document.steps.get(last).map(|last| {
        let lines = last.lines.iter().map(|&id| document.line_name(id));
        let parts = last.parts.iter().map(|&(id, _)| format!("{}'s fold", document.part_name(id)));
        lines.chain(parts).collect::<Vec<String>>()
    });
    let names = listed(names.unwrap_or_default());
    let closed = if step == steps { ". Closed." } else { "" };
    if names.is_empty() { format!("Step {step}{closed}") } else { format!("{step}. {names}{closed}") }
}

fn lines(text: &str) -> Vec<String> {
    let mut lines = wrap(text, Face::Regular, WORDS.0, SIDE / 2.0 + SIDE / 4.0);
    if lines.len() > MOST_LINES {
        lines.truncate(MOST_LINES);
        if let Some(last) = lines.last_mut() {
            last.push_str(" …");
        }
    }
    lines
}

/// How many pictures stand in a row: so that the whole is nearest to a page of 4 by 3.
fn columns(count: usize, cell: Size) -> usize {
    let off = |columns: usize| {
        let (wide, high) = (whole(columns) * cell.width, whole(count.div_ceil(columns)) * cell.height);
        let shape = wide / high.max(f64::MIN_POSITIVE) / (4.0 / 3.0);
        shape.max(1.0 / shape.max(f64::MIN_POSITIVE))
    };
    (1..=count.max(1)).min_by(|&a, &b| off(a).total_cmp(&off(b))).unwrap_or(1)
}

#[expect(clippy::cast_precision_loss, reason = "far fewer than 2^53")]
const fn whole(count: usize) -> f64 {
    count as f64
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(count: usize, cell: Size, expected: usize) {
        assert_eq!(columns(count, cell), expected);
    }

    #[test]
    fn rows_are_about_as_many_as_make_a_page() {
        let square = Size::new(80.0, 80.0);
        check(1, square, 1);
        check(5, square, 3);
        check(12, square, 4);
        check(5, Size::new(40.0, 160.0), 5);
    }

    #[test]
    fn words_end_after_a_few_lines() {
        let text = "Left gusset fold, right gusset fold, ".repeat(20);
        let lines = lines(&text);
        assert_eq!(lines.len(), MOST_LINES);
        assert!(lines[MOST_LINES - 1].ends_with(" …"), "{lines:?}");
    }
}
