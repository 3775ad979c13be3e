//! What folds at a line: the panel beyond it, seen from the base.

use super::{Layout, PanelId};
use crate::line::LineId;
use std::cmp::{Ordering, Reverse};
use std::collections::btree_map::Entry;
use std::collections::{BTreeMap, VecDeque};

impl Layout {
    /// The panel that each score of the folio's sheet carries: of the two that it joins the one that is more folds away from
    /// the base. Where it has several, the largest; of equals the first in reading order. A score between panels that are
    /// equally far away, or that do not hang together with the base, is left out.
    #[must_use]
    pub fn carried(&self) -> BTreeMap<LineId, PanelId> {
        let depths = self.depths();
        let mut carried: BTreeMap<LineId, PanelId> = BTreeMap::new();
        for fold in &self.folds {
            let [Some(near), Some(far)] = fold.panels.map(|panel| depths.get(&panel)) else { continue };
            let beyond = match near.cmp(far) {
                Ordering::Less => fold.panels[1],
                Ordering::Greater => fold.panels[0],
                Ordering::Equal => continue,
            };
            let size = |panel: PanelId| (self.panel(panel).area, Reverse(panel));
            let kept = carried.entry(fold.line).or_insert(beyond);
            if size(beyond) > size(*kept) {
                *kept = beyond;
            }
        }
        carried
    }

    /// How many folds lie at least between the base and each panel that hangs together with it, the base's own none.
    #[must_use]
    pub fn depths(&self) -> BTreeMap<PanelId, usize> {
        let mut beside: BTreeMap<PanelId, Vec<PanelId>> = BTreeMap::new();
        for fold in &self.folds {
            let [a, b] = fold.panels;
            beside.entry(a).or_default().push(b);
            beside.entry(b).or_default().push(a);
        }
        let mut depths: BTreeMap<PanelId, usize> = self.base.map(|base| (base, 0)).into_iter().collect();
        let mut open: VecDeque<(PanelId, usize)> = depths.clone().into_iter().collect();
        while let Some((at, depth)) = open.pop_front() {
            for &next in beside.get(&at).into_iter().flatten() {
                if let Entry::Vacant(entry) = depths.entry(next) {
                    entry.insert(depth + 1);
                    open.push_back((next, depth + 1));
                }
            }
        }
        depths
    }
}

#[cfg(test)]
mod tests {
    use crate::change::{add_line, measured_score};
    use crate::{Document, Layout, Length, LineId, Point, Size, Turn, Unit};

    /// A 12 in sheet with upright scores at these inches; the base 6 in from the left.
    fn carried(scores: &[i64], level: Option<i64>) -> Vec<(u32, String)> {
        let mut document = Document::new(Size::parse("12x12in").unwrap(), Unit::Inch);
        document.base = Some(Point::new(Length::INCH * 6, Length::INCH * 6));
        for (id, &at) in (1..).zip(scores) {
            document.apply(add_line(&document, measured_score(LineId(id), Turn::None, Length::INCH * at))).unwrap();
        }
        if let Some(at) = level {
            let score = measured_score(document.next_line(), Turn::Once, Length::INCH * at);
            document.apply(add_line(&document, score)).unwrap();
        }
        let layout = Layout::of(&document);
        layout.carried().into_iter().map(|(line, panel)| (line.0, layout.panel(panel).name.clone())).collect()
    }

    #[test]
    fn a_score_carries_the_panel_away_from_the_base() {
        let found = carried(&[1, 3, 9], None);
        let names: Vec<&str> = found.iter().map(|(_, name)| name.as_str()).collect();
        assert_eq!(found.iter().map(|(id, _)| *id).collect::<Vec<_>>(), [1, 2, 3]);
        assert_eq!(names[2], "Right flap");
        assert_ne!(names[0], names[1], "{found:?}");
    }

    #[test]
    fn of_several_that_a_score_carries_it_is_the_largest() {
        // The level score at 2 in carries the strip above the base and, at the corners, strips less wide.
        let found = carried(&[3, 9], Some(2));
        assert_eq!(found[2], (3, "Top flap".to_owned()));
        assert_eq!((found[0].1.as_str(), found[1].1.as_str()), ("Left flap", "Right flap"));
        assert_eq!(carried(&[], None), []);
    }
}
