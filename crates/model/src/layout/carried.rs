//! What folds at a line: the panel beyond it, seen from the base.

use super::{Layout, PanelId};
use crate::line::LineId;
use std::collections::{BTreeMap, VecDeque};

impl Layout {
    /// The panel that each score of the folio's sheet carries: of the two that it joins the one that is more folds away from
    /// the base. Where it has several, the largest; of equals the first in reading order. A score between panels that are
    /// equally far away, or that do not hang together with the base, is left out.
    #[must_use]
    pub fn carried(&self) -> BTreeMap<LineId, PanelId> {
        let mut beside: BTreeMap<PanelId, Vec<PanelId>> = BTreeMap::new();
        for fold in &self.folds {
            let [a, b] = fold.panels;
            beside.entry(a).or_default().push(b);
            beside.entry(b).or_default().push(a);
        }
        let mut away: BTreeMap<PanelId, usize> = self.base.map(|base| (base, 0)).into_iter().collect();
        let mut next: VecDeque<PanelId> = self.base.into_iter().collect();
        while let Some(at) = next.pop_front() {
            let beyond = away[&at] + 1;
            for &panel in beside.get(&at).into_iter().flatten() {
                away.entry(panel).or_insert_with(|| {
                    next.push_back(panel);
                    beyond
                });
            }
        }
        let mut carried: BTreeMap<LineId, PanelId> = BTreeMap::new();
        for fold in &self.folds {
            let [Some(&near), Some(&far)] = fold.panels.map(|panel| away.get(&panel)) else { continue };
            let beyond = match near.cmp(&far) {
                std::cmp::Ordering::Less => fold.panels[1],
                std::cmp::Ordering::Greater => fold.panels[0],
                std::cmp::Ordering::Equal => continue,
            };
            let area = |panel: PanelId| self.panel(panel).area;
            let kept = carried.entry(fold.line).or_insert(beyond);
            if (area(beyond), std::cmp::Reverse(beyond)) > (area(*kept), std::cmp::Reverse(*kept)) {
                *kept = beyond;
            }
        }
        carried
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
