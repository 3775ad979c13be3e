//! Where labels stand so that none covers another: on the sheet distances and names of panels, offcuts and parts, and the
//! numbers of what is different between two designs.
//!
//! Who asks first has the first choice: the distances of what is selected, then names. A distance that finds no free place
//! stands where it covers the least; a name is left out. While the view stays the same a label keeps the place that it had
//! as long as that is free, so that none jumps to and fro while a line is dragged.

use egui::{Id, IdMap, Rect};

/// The least that two labels are apart, px.
const APART: f32 = 1.0;

/// A label by what it says, and the number of each of its places.
pub(crate) type Place<R, T> = (usize, R, T);

/// The labels of a frame that have their place.
#[derive(Debug, Clone, Default)]
pub(crate) struct Labels {
    taken: Vec<Rect>,
    before: Stood,
    now: Stood,
}

/// Which of its places each label had, by number.
#[derive(Debug, Clone, Default)]
pub(crate) struct Stood(IdMap<usize>);

impl Labels {
    /// Labels that keep the places that they had before, where they can.
    pub(crate) fn after(before: Stood) -> Self {
        Self { before, ..Self::default() }
    }

    /// The places that they have now.
    pub(crate) fn stood(self) -> Stood {
        self.now
    }

    /// Puts a label in the place that it had if it covers no other one there, else in the first of some places where it
    /// does not.
    pub(crate) fn place<T>(&mut self, label: Id, places: impl IntoIterator<Item = Place<Rect, T>>) -> Option<T> {
        let before = self.before.0.get(&label).copied();
        let mut chosen: Option<Place<Rect, T>> = None;
        for place in places {
            if (chosen.is_none() || before == Some(place.0)) && self.is_free(place.1) {
                let is_last = before.is_none_or(|before| before == place.0);
                chosen = Some(place);
                if is_last {
                    break;
                }
            }
        }
        let (number, rect, place) = chosen?;
        self.take(label, number, [rect]);
        Some(place)
    }

    /// The same for a label that has to be seen: where no place is free, the one that covers the least of others. `None`
    /// only where there is no place at all.
    /// It may take several rectangles, such as a text and the bars beside it.
    pub(crate) fn place_anyway<T, const N: usize>(
        &mut self,
        label: Id,
        places: impl IntoIterator<Item = Place<[Rect; N], T>>,
    ) -> Option<T> {
        let before = self.before.0.get(&label).copied();
        let mut least: Option<(f32, Place<[Rect; N], T>)> = None;
        for place in places {
            let covered: f32 = place.1.iter().map(|rect| self.covered(*rect)).sum();
            let is_before = before == Some(place.0);
            if least.as_ref().is_none_or(|(so_far, _)| covered < *so_far || is_before && covered <= 0.0) {
                least = Some((covered, place));
            }
            if covered <= 0.0 && (is_before || before.is_none()) {
                break;
            }
        }
        let (_, (number, rects, place)) = least?;
        self.take(label, number, rects);
        Some(place)
    }

    fn take(&mut self, label: Id, number: usize, rects: impl IntoIterator<Item = Rect>) {
        self.taken.extend(rects);
        self.now.0.insert(label, number);
    }

    fn is_free(&self, rect: Rect) -> bool {
        let around = rect.expand(APART);
        self.taken.iter().all(|other| !overlaps(around, *other))
    }

    /// How many square px of other labels it would cover.
    fn covered(&self, rect: Rect) -> f32 {
        let around = rect.expand(APART);
        let both = self.taken.iter().filter(|other| overlaps(around, **other)).map(|other| around.intersect(*other));
        both.map(|rect| rect.area()).sum()
    }
}

/// Whether two rectangles have more in common than a border.
fn overlaps(a: Rect, b: Rect) -> bool {
    a.min.x < b.max.x && b.min.x < a.max.x && a.min.y < b.max.y && b.min.y < a.max.y
}

#[cfg(test)]
mod tests {
    use super::*;
    use egui::{Pos2, Vec2};

    /// A label of 40 by 20 px, from here on.
    fn at(x: f32, y: f32) -> Rect {
        Rect::from_min_size(Pos2::new(x, y), Vec2::new(40.0, 20.0))
    }

    /// Places labels one after another, each with its places from left to right; gives which of them each has.
    fn placed(all: &mut Labels, labels: &[&[(f32, f32)]], has_to: bool) -> Vec<Option<usize>> {
        let one = |(name, places): (usize, &&[(f32, f32)])| {
            let places = places.iter().enumerate().map(|(number, &(x, y))| (number, at(x, y), number));
            let name = Id::unique(("label", name));
            if has_to {
                all.place_anyway(name, places.map(|(number, rect, place)| (number, [rect], place)))
            } else {
                all.place(name, places)
            }
        };
        labels.iter().enumerate().map(one).collect()
    }

    #[track_caller]
    fn check(labels: &[&[(f32, f32)]], has_to: bool, expected: &[Option<usize>]) {
        assert_eq!(placed(&mut Labels::default(), labels, has_to), expected);
    }

    #[test]
    fn a_label_keeps_its_place_while_that_is_free() {
        let free: &[(f32, f32)] = &[(0.0, 0.0), (0.0, 40.0), (0.0, 80.0)];
        for has_to in [false, true] {
            // What stands where the second would go first comes nearer, then goes away again, then into its way.
            let mut stood = Stood::default();
            for (other, expected) in [((90.0, 0.0), 0), ((20.0, 0.0), 1), ((90.0, 0.0), 1), ((20.0, 40.0), 0)] {
                let mut labels = Labels::after(stood);
                let found = placed(&mut labels, &[&[other], free], has_to);
                assert_eq!(found, [Some(0), Some(expected)], "{other:?}");
                stood = labels.stood();
            }
        }
    }

    #[test]
    fn what_has_no_room_any_more_is_left_out_and_comes_back_in_its_first_place() {
        let mut stood = Stood::default();
        for (others, expected) in [
            (&[(20.0, 0.0), (90.0, 0.0)], Some(1)),
            (&[(20.0, 0.0), (20.0, 40.0)], None),
            (&[(90.0, 0.0), (90.0, 40.0)], Some(0)),
        ] {
            let mut labels = Labels::after(stood);
            let all: [&[(f32, f32)]; 3] = [&others[..1], &others[1..], &[(0.0, 0.0), (0.0, 40.0)]];
            assert_eq!(placed(&mut labels, &all, false)[2], expected);
            stood = labels.stood();
        }
    }

    #[test]
    fn a_label_takes_its_first_place_that_covers_no_other() {
        check(&[&[(0.0, 0.0), (0.0, 30.0)], &[(60.0, 0.0)]], false, &[Some(0), Some(0)]);
        check(&[&[(0.0, 0.0)], &[(20.0, 10.0), (0.0, 30.0)]], false, &[Some(0), Some(1)]);
        // The first two leave no room between them.
        check(&[&[(0.0, 0.0)], &[(60.0, 0.0)], &[(30.0, 5.0), (41.0, 0.0)]], false, &[Some(0), Some(0), None]);
    }

    #[test]
    fn labels_are_a_little_apart() {
        check(&[&[(0.0, 0.0)], &[(40.5, 0.0), (41.0, 0.0)]], false, &[Some(0), Some(1)]);
    }

    #[test]
    fn what_has_to_be_seen_covers_as_little_as_it_can() {
        check(&[&[(0.0, 0.0)], &[(5.0, 0.0), (35.0, 0.0), (0.0, 2.0)]], true, &[Some(0), Some(1)]);
        check(&[&[(0.0, 0.0)], &[(5.0, 0.0), (0.0, 60.0), (90.0, 0.0)]], true, &[Some(0), Some(1)]);
        check(&[&[]], true, &[None]);
    }
}
