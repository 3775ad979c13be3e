//! Where labels stand so that none covers another: on the sheet distances and names of panels, offcuts and parts, and the
//! numbers of what is different between two designs.
//!
//! Who asks first has the first choice: the distances of what is selected, then names. A distance that finds no free place
//! stands where it covers the least; a name is left out.

use egui::Rect;

/// The least that two labels are apart, px.
const APART: f32 = 1.0;

/// The labels of a frame that have their place.
#[derive(Debug, Clone, Default)]
pub(crate) struct Labels {
    taken: Vec<Rect>,
}

impl Labels {
    /// Puts a label in the first of some places that covers no other one.
    pub(crate) fn place<T>(&mut self, places: impl IntoIterator<Item = (Rect, T)>) -> Option<T> {
        let (rect, place) = places.into_iter().find(|(rect, _)| self.is_free(*rect))?;
        self.taken.push(rect);
        Some(place)
    }

    /// The same for a label that has to be seen: where no place is free, the one that covers the least of others. `None`
    /// only where there is no place at all.
    /// It may take several rectangles, such as a text and the bars beside it.
    pub(crate) fn place_anyway<T, const N: usize>(
        &mut self,
        places: impl IntoIterator<Item = ([Rect; N], T)>,
    ) -> Option<T> {
        let mut least: Option<(f32, [Rect; N], T)> = None;
        for (rects, place) in places {
            let covered = rects.iter().map(|rect| self.covered(*rect)).sum();
            if least.as_ref().is_none_or(|(so_far, ..)| covered < *so_far) {
                least = Some((covered, rects, place));
            }
            if covered <= 0.0 {
                break;
            }
        }
        let (_, rects, place) = least?;
        self.taken.extend(rects);
        Some(place)
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
    #[track_caller]
    fn check(labels: &[&[(f32, f32)]], has_to: bool, expected: &[Option<usize>]) {
        let mut placed = Labels::default();
        let found: Vec<Option<usize>> = labels
            .iter()
            .map(|places| {
                let places = places.iter().enumerate().map(|(number, &(x, y))| (at(x, y), number));
                if has_to {
                    placed.place_anyway(places.map(|(rect, number)| ([rect], number)))
                } else {
                    placed.place(places)
                }
            })
            .collect();
        assert_eq!(found, expected);
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
