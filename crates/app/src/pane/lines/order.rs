//! In which order lines are listed: by the turn they are worked on, from left to right. While the pointer is over the list
//! the order stays, so that a line does not run away from under it when its distance is typed.

use crate::naming::turn_name;
use model::{Document, Layout, Length, LineId, Turn};
use std::collections::BTreeSet;

/// What lines are listed under.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Group {
    /// Worked on this turn.
    On(Turn),
    /// Drawn from spot to spot, or along such a line.
    Drawn,
    /// Without a place.
    Lost,
}

/// The lines of each group, in order; no group is empty.
pub(super) type Order = Vec<(Group, Vec<LineId>)>;

impl Group {
    /// What it is called over its lines.
    pub(super) const fn name(self) -> &'static str {
        match self {
            Self::On(turn) => turn_name(turn),
            Self::Drawn => "Drawn from spot to spot",
            Self::Lost => "Without a place on the sheet",
        }
    }
}

/// The order that follows from where the lines lie.
pub(super) fn order(document: &Document, layout: &Layout) -> Order {
    let mut keys: Vec<(Group, Length, bool, LineId)> = document
        .lines
        .iter()
        .map(|line| {
            let (group, across) = match layout.lines.get(&line.id) {
                Some(Ok(placed)) => {
                    placed.on_board().map_or((Group::Drawn, Length::ZERO), |(turn, across)| (Group::On(turn), across))
                }
                _ => (Group::Lost, Length::ZERO),
            };
            (group, across, line.work.is_cut(), line.id)
        })
        .collect();
    keys.sort_unstable();
    let mut order = Order::new();
    for (group, .., id) in keys {
        match order.last_mut() {
            Some((last, ids)) if *last == group => ids.push(id),
            _ => order.push((group, vec![id])),
        }
    }
    order
}

/// The same lines in the order they had before; new ones where they belong.
pub(super) fn kept(before: &Order, now: Order) -> Order {
    let all: BTreeSet<LineId> = now.iter().flat_map(|(_, ids)| ids.iter().copied()).collect();
    let listed: BTreeSet<LineId> = before.iter().flat_map(|(_, ids)| ids.iter().copied()).collect();
    let mut order: Order = before
        .iter()
        .map(|(group, ids)| (*group, ids.iter().copied().filter(|id| all.contains(id)).collect()))
        .collect();
    for (group, ids) in now {
        for (at, id) in ids.into_iter().enumerate() {
            if listed.contains(&id) {
                continue;
            }
            match order.iter_mut().find(|(other, _)| *other == group) {
                Some((_, others)) => others.insert(at.min(others.len()), id),
                None => order.push((group, vec![id])),
            }
        }
    }
    order.retain(|(_, ids)| !ids.is_empty());
    order.sort_by_key(|(group, _)| *group);
    order
}

#[cfg(test)]
mod tests {
    use super::*;
    use model::change::{add_line, measured_score};
    use model::{Edit, Line, Place, Point, Size, Spot, Unit, Work};

    /// Upright scores at these places in inches, numbered from 1, and a drawn cut 9.
    fn document(places: &[i64]) -> Document {
        let mut document = Document::new(Size::parse("12x12in").unwrap(), Unit::Inch);
        for (id, &inches) in (1..).zip(places) {
            let score = measured_score(LineId(id), Turn::None, Length::INCH * inches);
            document.apply(add_line(&document, score)).unwrap();
        }
        let spot = |x, y| Spot::At(Point::new(Length::INCH * x, Length::INCH * y));
        let place = Place::Drawn { from: spot(0, 1), to: spot(2, 3), bow: Length::ZERO };
        document.apply(add_line(&document, Line::new(LineId(9), place, Work::Cut))).unwrap();
        document
    }

    fn now(document: &Document) -> Order {
        order(document, &Layout::of(document))
    }

    #[track_caller]
    fn check(order: &Order, upright: &[u32]) {
        let ids = upright.iter().map(|&id| LineId(id)).collect();
        assert_eq!(order, &vec![(Group::On(Turn::None), ids), (Group::Drawn, vec![LineId(9)])]);
    }

    #[test]
    fn lines_are_listed_from_left_to_right() {
        check(&now(&document(&[5, 2, 9])), &[2, 1, 3]);
    }

    #[test]
    fn the_order_stays_and_takes_in_what_is_new() {
        let before = now(&document(&[2, 5, 9]));
        check(&kept(&before, now(&document(&[11, 5, 9]))), &[1, 2, 3]);
        check(&kept(&before, now(&document(&[11, 5, 9, 1]))), &[4, 1, 2, 3]);
        let mut fewer = document(&[11, 5, 9]);
        fewer.apply(Edit::RemoveLine(LineId(2))).unwrap();
        check(&kept(&before, now(&fewer)), &[1, 3]);
        check(&kept(&Order::new(), now(&document(&[11, 5, 9]))), &[2, 3, 1]);
    }
}
