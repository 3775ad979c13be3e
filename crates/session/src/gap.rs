//! The gaps between a line and what lies beside it, and how one is made so wide.

use crate::lock;
use model::change::{move_line, perform};
use model::{Datum, Document, Edit, Layout, Length, LineId, Place};

/// What a gap goes from or to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Bound {
    /// The left edge of the sheet as the line has it lie.
    Left,
    /// The right edge of it.
    Right,
    /// A line.
    Line(LineId),
}

/// A gap beside a line, across the line's own turn: one end of it is the line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Gap {
    /// What else bounds it.
    pub bound: Bound,
    /// Whether it lies left of the line.
    pub is_before: bool,
    /// How far from the left edge it begins.
    pub from: Length,
    /// How far from the left edge it ends; more than `from`.
    pub to: Length,
}

impl Gap {
    /// How wide it is.
    #[must_use]
    pub fn width(self) -> Length {
        self.to - self.from
    }

    /// Its two ends by their names, from left to right: "the left edge" and "Left fold".
    #[must_use]
    pub fn names(self, document: &Document, line: LineId) -> [String; 2] {
        let own = document.line_name(line);
        match self.bound {
            Bound::Left => ["the left edge".to_owned(), own],
            Bound::Right => [own, "the right edge".to_owned()],
            Bound::Line(other) => {
                let other = document.line_name(other);
                if self.is_before { [other, own] } else { [own, other] }
            }
        }
    }
}

/// The gaps that are told of a line, the one that it is measured by first: from the left edge, from and to the lines next
/// to it, and to the right edge where there is none. None for a line that is drawn, or has no place.
#[must_use]
pub fn gaps(document: &Document, layout: &Layout, id: LineId) -> Vec<Gap> {
    let Some((turn, own)) = layout.lines.get(&id).and_then(|placed| placed.ok()).and_then(|placed| placed.on_board())
    else {
        return Vec::new();
    };
    let (width, _) = turn.size_of(layout.size);
    let beside: Vec<(Length, LineId)> = layout
        .lines
        .iter()
        .filter_map(|(&other, placed)| {
            let placed = placed.ok()?;
            let (its, _) = placed.on_board().filter(|_| other != id)?;
            (its.is_upright() == turn.is_upright())
                .then(|| (turn.to_board(placed.segment.a, layout.size).across, other))
        })
        .collect();
    let before = |bound, from| Gap { bound, is_before: true, from, to: own };
    let after = |bound, to| Gap { bound, is_before: false, from: own, to };
    // Of lines on one another the earliest.
    let left = beside.iter().filter(|(at, _)| *at < own).max_by_key(|(at, id)| (*at, std::cmp::Reverse(*id)));
    let right = beside.iter().filter(|(at, _)| *at > own).min();
    let datum = match document.line(id).map(|line| line.place) {
        Some(Place::Measured { from: Datum::Line(other), .. }) => beside.iter().find(|(_, beside)| *beside == other),
        _ => None,
    };
    let to_line = |&(at, other): &(Length, LineId)| {
        let bound = Bound::Line(other);
        if at < own { before(bound, at) } else { after(bound, at) }
    };
    let mut gaps: Vec<Gap> = datum.map(to_line).into_iter().collect();
    gaps.push(before(Bound::Left, Length::ZERO));
    gaps.extend(left.map(to_line));
    gaps.push(right.map_or(after(Bound::Right, width), to_line));
    gaps.retain(|gap| gap.from < gap.to);
    let mut seen = Vec::new();
    gaps.retain(|gap| {
        let is_new = !seen.contains(&(gap.from, gap.to));
        seen.push((gap.from, gap.to));
        is_new
    });
    gaps
}

/// Makes a gap beside a line so wide: by moving the line, or its neighbour where that follows the line.
///
/// # Errors
/// Says in a sentence without its full stop why it can't.
pub fn set(document: &Document, layout: &Layout, id: LineId, gap: Gap, width: Length) -> Result<Edit, String> {
    let [from, to] = gap.names(document, id);
    if width <= Length::ZERO {
        return Err(format!("between {from} and {to} there must be more than nothing"));
    }
    let (moved, across) = match gap.bound {
        // A neighbour that follows the line would keep its distance.
        Bound::Line(other) if document.hangs_on(other, id) => {
            let at = if gap.is_before { gap.to - width } else { gap.from + width };
            (other, across_own(layout, id, other, at).ok_or_else(|| format!("{from} and {to} can't be parted"))?)
        }
        _ => (id, if gap.is_before { gap.from + width } else { gap.to - width }),
    };
    if let Some(why) = lock::refusal(document, moved) {
        return Err(why);
    }
    let Some(edit) = move_line(document, layout, moved, across) else {
        // Nothing to do, or nothing that can be.
        return if width == gap.width() { Ok(Edit::All(Vec::new())) } else { Err(kept(&from, &to)) };
    };
    let after = perform(document, layout, edit.clone()).map_err(|refusal| refusal.to_string())?;
    let is_so = apart(&after.layout, id, gap.bound) == Some(width);
    if is_so { Ok(edit) } else { Err(kept(&from, &to)) }
}

fn kept(from: &str, to: &str) -> String {
    format!("the distance from {from} to {to} follows from other lines; move those")
}

/// Where a line lies on its own turn that lies so far across on the turn of another.
fn across_own(layout: &Layout, id: LineId, other: LineId, at: Length) -> Option<Length> {
    let (turn, _) = layout.lines.get(&id)?.ok()?.on_board()?;
    let (own, _) = layout.lines.get(&other)?.ok()?.on_board()?;
    let point = turn.from_board(model::BoardPoint { across: at, down: Length::ZERO }, layout.size);
    Some(own.to_board(point, layout.size).across)
}

/// How far a line lies from a bound now, whatever lies between.
fn apart(layout: &Layout, id: LineId, bound: Bound) -> Option<Length> {
    let (turn, own) = layout.lines.get(&id)?.ok()?.on_board()?;
    let at = match bound {
        Bound::Left => Length::ZERO,
        Bound::Right => turn.size_of(layout.size).0,
        Bound::Line(other) => turn.to_board(layout.lines.get(&other)?.ok()?.segment.a, layout.size).across,
    };
    Some((at - own).abs())
}

#[cfg(test)]
mod tests {
    use super::*;
    use model::change::{add_line, measured_score};
    use model::{Line, Run, Size, Turn, Unit};

    fn inch(count: i64) -> Length {
        Length::INCH * count
    }

    /// A 12 in sheet with scores 3 and 9 in from the left, a third 2 in right of the first, and one 4 in from the left as
    /// the sheet lies turned twice, which is 8 in from the left.
    fn document() -> Document {
        let mut document = Document::new(Size::parse("12x12in").unwrap(), Unit::Inch);
        let hung =
            Place::Measured { turn: Turn::None, from: Datum::Line(LineId(1)), distance: inch(2), run: Run::FULL };
        for line in [
            measured_score(LineId(1), Turn::None, inch(3)),
            measured_score(LineId(2), Turn::None, inch(9)),
            Line { place: hung, ..measured_score(LineId(3), Turn::None, inch(1)) },
            measured_score(LineId(4), Turn::Twice, inch(4)),
        ] {
            document.apply(add_line(&document, line)).unwrap();
        }
        document
    }

    /// The gaps of a line, as inches from and to.
    #[track_caller]
    fn told(id: u32, expected: &[(Bound, i64, i64)]) {
        let document = document();
        let found = gaps(&document, &Layout::of(&document), LineId(id));
        let whole = |length: Length| length.nm() / Length::INCH.nm();
        let found: Vec<_> = found.into_iter().map(|gap| (gap.bound, whole(gap.from), whole(gap.to))).collect();
        assert_eq!(found, expected);
    }

    #[test]
    fn gaps_are_told_from_edges_and_from_neighbours() {
        let line = |id| Bound::Line(LineId(id));
        told(1, &[(Bound::Left, 0, 3), (line(3), 3, 5)]);
        told(2, &[(Bound::Left, 0, 9), (line(4), 8, 9), (Bound::Right, 9, 12)]);
        // What it is measured from comes first.
        told(3, &[(line(1), 3, 5), (Bound::Left, 0, 5), (line(4), 5, 8)]);
        // On its own turn, where the others lie the other way round.
        told(4, &[(Bound::Left, 0, 4), (line(2), 3, 4), (line(3), 4, 7)]);
        told(9, &[]);
    }

    /// Makes the gap of a line to something so many inches wide; gives where the lines lie then, or why not.
    #[track_caller]
    fn check(document: &Document, (id, bound): (u32, Bound), width: i64, expected: Result<[i64; 4], &str>) {
        let layout = Layout::of(document);
        let gap = gaps(document, &layout, LineId(id)).into_iter().find(|gap| gap.bound == bound).unwrap();
        let found = set(document, &layout, LineId(id), gap, inch(width)).map(|edit| {
            let after = perform(document, &layout, edit).unwrap().layout;
            [1, 2, 3, 4].map(|id| {
                let (_, across) = after.lines[&LineId(id)].unwrap().on_board().unwrap();
                across.nm() / Length::INCH.nm()
            })
        });
        assert_eq!(found, expected.map_err(str::to_owned));
    }

    #[test]
    fn a_gap_is_made_so_wide() {
        let line = |id| Bound::Line(LineId(id));
        let document = document();
        check(&document, (1, Bound::Left), 4, Ok([4, 9, 6, 4]));
        check(&document, (2, Bound::Right), 2, Ok([3, 10, 5, 4]));
        check(&document, (2, line(4)), 2, Ok([3, 10, 5, 4]));
        check(&document, (4, line(2)), 2, Ok([3, 9, 5, 5]));
        check(&document, (3, line(1)), 4, Ok([3, 9, 7, 4]));
        // The third follows the first, so it is the third that moves.
        check(&document, (1, line(3)), 4, Ok([3, 9, 7, 4]));
        check(&document, (1, Bound::Left), 3, Ok([3, 9, 5, 4]));
    }

    #[test]
    fn a_gap_that_can_not_be_is_refused_with_a_sentence() {
        let mut document = document();
        let nothing = "between the left edge and Score 1 there must be more than nothing";
        check(&document, (1, Bound::Left), 0, Err(nothing));
        check(&document, (1, Bound::Left), -2, Err(nothing));
        check(&document, (2, Bound::Left), 14, Err("\"Score 2\" lies 2 in beyond the edge of the sheet"));
        let locked = Line { locked: true, ..document.line(LineId(1)).unwrap().clone() };
        document.apply(Edit::ReplaceLine(locked)).unwrap();
        check(&document, (1, Bound::Left), 4, Err("\"Score 1\" is locked; free it first"));
    }
}
