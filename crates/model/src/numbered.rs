//! Numbers of offcuts that stay while others are cut and joined again.
//!
//! Offcuts are numbered in reading order, so that of a design nothing has to be said. Where an edit would give one that is
//! still there another number, such as when a cut before it makes a new one, all numbers are kept in the document, each by
//! a mark inside its offcut; a new offcut has the lowest number that is free. Where the numbers come to be those of reading
//! order again, nothing is kept any more.

use crate::document::Document;
use crate::edit::Edit;
use crate::geometry::Point;
use crate::layout::{Layout, PanelId, Piece, PieceId};
use crate::mark::{Carried, Carrier};
use std::collections::{BTreeMap, BTreeSet};

/// An offcut by its number.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Numbered {
    /// Its number, from 1.
    pub number: u32,
    /// A point inside it.
    pub mark: Point,
}

impl Numbered {
    /// The highest number.
    pub const HIGHEST: u32 = 9_999;
}

impl Document {
    /// The most offcuts whose numbers are kept.
    pub const MOST_OFFCUTS: usize = 500;
}

/// The number of every offcut, of pieces in reading order: those that are kept, and for the others the lowest that are free.
/// A number whose mark lies in no offcut, or in one that has a lower number, says nothing; nor does one given twice.
pub(crate) fn numbers(
    kept: &[Numbered],
    offcuts: &[PieceId],
    piece_at: impl Fn(Point) -> Option<PieceId>,
) -> BTreeMap<PieceId, u32> {
    let mut kept = kept.to_vec();
    kept.sort_unstable();
    let (mut numbers, mut given) = (BTreeMap::new(), BTreeSet::new());
    for Numbered { number, mark } in kept {
        let piece = piece_at(mark).filter(|piece| offcuts.contains(piece) && !numbers.contains_key(piece));
        if let Some(piece) = piece.filter(|_| given.insert(number)) {
            numbers.insert(piece, number);
        }
    }
    let mut free = (1..).filter(|number| !given.contains(number));
    for &piece in offcuts {
        numbers.entry(piece).or_insert_with(|| free.next().unwrap_or(Numbered::HIGHEST));
    }
    numbers
}

/// The edit that lets offcuts keep the numbers that they had, where `next` would give them others.
pub(crate) fn kept(
    document: &Document,
    layout: &Layout,
    next: &Document,
    new: &Layout,
    carrier: &Carrier<'_>,
) -> Option<Edit> {
    if next.offcuts != document.offcuts || layout.folio().is_none() || new.folio().is_none() {
        return None;
    }
    let offcuts: Vec<PieceId> = new.offcuts().map(|piece| piece.id).collect();
    let piece_at = |point| new.panel_at(point).map(|panel| new.panel(panel).piece);
    let mut before: Vec<&Piece> = layout.offcuts().collect();
    before.sort_by_key(|piece| piece.number);
    let mut claimed = BTreeSet::new();
    let mut marks = Vec::new();
    for piece in before {
        // By its largest panel, unless that is no part of an offcut any more.
        let carried = by_area(layout, piece).into_iter().filter_map(|panel| {
            let mark = layout.panel(panel).inside?;
            match carrier.carry(mark) {
                Carried::Stays => Some(mark),
                Carried::Moves(to) => Some(to),
                Carried::Lost => None,
            }
        });
        let is_free =
            |mark: &Point| piece_at(*mark).is_some_and(|piece| offcuts.contains(&piece) && !claimed.contains(&piece));
        if let Some(mark) = carried.into_iter().find(is_free) {
            claimed.extend(piece_at(mark));
            marks.push(Numbered { number: piece.number, mark });
        }
    }
    let wanted = numbers(&marks, &offcuts, piece_at);
    if wanted == numbers(&[], &offcuts, piece_at) {
        return (!next.offcuts.is_empty()).then(|| Edit::SetOffcuts(Vec::new()));
    }
    if wanted.iter().all(|(piece, number)| new.pieces[piece.0].number == *number) {
        return None;
    }
    let numbered = wanted.into_iter().filter_map(|(piece, number)| {
        let mark = by_area(new, &new.pieces[piece.0]).into_iter().find_map(|panel| new.panel(panel).inside)?;
        Some(Numbered { number, mark })
    });
    let mut numbered: Vec<Numbered> = numbered.collect();
    numbered.sort_unstable();
    (numbered.len() <= Document::MOST_OFFCUTS).then_some(Edit::SetOffcuts(numbered))
}

/// The panels of a piece, the largest first.
fn by_area(layout: &Layout, piece: &Piece) -> Vec<PanelId> {
    let mut panels = piece.panels.clone();
    panels.sort_by_key(|&id| (std::cmp::Reverse(layout.panel(id).area), id));
    panels
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::change::{add_line, measured_score, move_line, perform};
    use crate::offcut::{cut_away, keep};
    use crate::{Length, LineId, Size, Turn, Unit};

    /// A 12 in sheet with scores 3 and 9 in from the left and from the top, all corners of which can be cut away.
    fn sheet() -> Document {
        let mut document = Document::new(Size::parse("12x12in").unwrap(), Unit::Inch);
        for (id, turn, inches) in [(1, Turn::None, 3), (2, Turn::None, 9), (3, Turn::Once, 3), (4, Turn::Once, 9)] {
            document.apply(add_line(&document, measured_score(LineId(id), turn, Length::INCH * inches))).unwrap();
        }
        document
    }

    fn at(x: i64, y: i64) -> Point {
        Point::new(Length::INCH * x, Length::INCH * y)
    }

    /// The upper left, upper right, lower left and lower right corner.
    fn corners() -> [Point; 4] {
        [at(1, 1), at(11, 1), at(1, 11), at(11, 11)]
    }

    /// Cuts the corner of that place away, or joins it again; gives the edit that takes it back.
    fn switch(document: &mut Document, corner: usize) -> Edit {
        let layout = Layout::of(document);
        let panel = layout.panel_at(corners()[corner]).unwrap();
        let is_off = !layout.pieces[layout.panel(panel).piece.0].is_folio;
        let edit = if is_off { keep(document, &layout, panel) } else { cut_away(document, &layout, panel) };
        let performed = perform(document, &layout, edit.unwrap()).unwrap();
        assert_eq!(
            performed.layout,
            Layout::of(&performed.document),
            "the layout has the numbers that the document says"
        );
        *document = performed.document;
        performed.inverse
    }

    /// The numbers of the corners, 0 for one that is part of the folio.
    fn numbers_of(document: &Document) -> [u32; 4] {
        let layout = Layout::of(document);
        corners().map(|corner| layout.pieces[layout.panel(layout.panel_at(corner).unwrap()).piece.0].number)
    }

    /// Switches corners one after another; `expected` are the numbers after the last, and whether they have to be said.
    #[track_caller]
    fn check(corners: &[usize], expected: [u32; 4], are_said: bool) {
        let mut document = sheet();
        let mut back = Vec::new();
        for &corner in corners {
            back.push((document.clone(), switch(&mut document, corner)));
        }
        assert_eq!((numbers_of(&document), !document.offcuts.is_empty()), (expected, are_said));
        for (before, inverse) in back.into_iter().rev() {
            document.apply(inverse).unwrap();
            assert_eq!(document, before, "undone");
        }
    }

    #[test]
    fn in_reading_order_nothing_is_said() {
        check(&[0, 1, 2, 3], [1, 2, 3, 4], false);
    }

    #[test]
    fn a_new_offcut_before_others_takes_the_next_number() {
        check(&[3, 0], [2, 0, 0, 1], true);
        check(&[3, 2, 1, 0], [4, 3, 2, 1], true);
    }

    #[test]
    fn where_one_is_joined_again_the_others_keep_theirs_and_the_next_takes_what_is_free() {
        check(&[0, 1, 2, 1], [1, 0, 3, 0], true);
        check(&[0, 1, 2, 1, 3], [1, 0, 3, 2], true);
        check(&[0, 1, 2, 1, 1], [1, 2, 3, 0], false);
        check(&[3, 0, 3], [2, 0, 0, 0], true);
        check(&[3, 0, 3, 0, 3], [0, 0, 0, 1], false);
    }

    #[test]
    fn numbers_stay_while_lines_move() {
        let mut document = sheet();
        for corner in [3, 0] {
            switch(&mut document, corner);
        }
        for (line, inches) in [(1, 5), (4, 7), (2, 11), (3, 5)] {
            let layout = Layout::of(&document);
            let edit = move_line(&document, &layout, LineId(line), Length::INCH * inches).unwrap();
            document = perform(&document, &layout, edit).unwrap().document;
            let layout = Layout::of(&document);
            let names: Vec<(&str, bool)> =
                layout.offcuts().map(|piece| (piece.name.as_str(), piece.bounds.0 == at(0, 0))).collect();
            assert_eq!(names, [("Offcut 2", true), ("Offcut 1", false)], "after line {line}");
        }
    }

    #[test]
    fn marks_that_lie_in_no_offcut_and_numbers_given_twice_say_nothing() {
        let mut document = sheet();
        for corner in [0, 1, 2] {
            switch(&mut document, corner);
        }
        let mark = |number, mark| Numbered { number, mark };
        document.offcuts = vec![mark(7, at(11, 1)), mark(3, at(6, 6)), mark(7, at(1, 11)), mark(9, at(11, 1))];
        assert_eq!(numbers_of(&document), [1, 9, 7, 0]);
    }
}
