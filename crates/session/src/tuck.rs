//! What could be tucked under what in a step of closing.

use crate::derived::Derived;
use model::{Document, PanelId, Tucked, change};
use std::collections::BTreeSet;

/// A way to tuck a flap, and what to call it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Way {
    /// The flap, and what it ends under.
    pub tucked: Tucked,
    /// "Left flap under Top flap".
    pub label: String,
}

/// Every way in which something that moves in a step, counted from 0, can be tucked under something that it would lie on:
/// only those after which the folio still closes as well as before.
#[must_use]
pub fn ways(document: &Document, derived: &Derived, step: usize) -> Vec<Way> {
    let Some((_, folding)) = &derived.folded else { return Vec::new() };
    let moving: BTreeSet<PanelId> = folding.moving(step).into_iter().collect();
    let meets = folding.overlaps().into_iter().flat_map(|meet| [(meet.lower, meet.upper), (meet.upper, meet.lower)]);
    let pairs: BTreeSet<(PanelId, PanelId)> =
        meets.filter(|(flap, under)| moving.contains(flap) && !moving.contains(under)).collect();
    let layout = &derived.layout;
    let way = |(flap, under): (PanelId, PanelId)| {
        let tucked = Tucked { panel: layout.panel_ref(flap)?, under: layout.panel_ref(under)? };
        let mut tried = document.clone();
        tried.apply(change::tuck(document, step, tucked)?).ok()?;
        let assembly = fold::assemble(&tried, layout)?;
        let closed = fold::close(&assembly);
        let works = closed.tucks(step) && closed.troubles().len() <= folding.troubles().len();
        let label = format!("{} under {}", layout.panel(flap).name, layout.panel(under).name);
        works.then_some(Way { tucked, label })
    };
    pairs.into_iter().filter_map(way).collect()
}

/// What is tucked in a step, in words: "Left flap under Top flap"; nothing where nothing is.
#[must_use]
pub fn words(document: &Document, derived: &Derived, step: usize) -> Vec<String> {
    let layout = &derived.layout;
    let name = |panel| layout.panel_of(panel).map(|panel| layout.panel(panel).name.as_str());
    let tucks = document.steps.get(step).into_iter().flat_map(|step| &step.tucks);
    tucks.filter_map(|tuck| Some(format!("{} under {}", name(tuck.panel)?, name(tuck.under)?))).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use model::change::{add_line, measured_score};
    use model::{Length, Line, LineId, Place, Point, Run, Size, Stop, Turn, Unit, Work};

    /// A base of 4 by 4 in with four flaps of 3 in, corners cut away: neighbours overlap.
    fn four_flaps() -> Document {
        let mut document = Document::new(Size::parse("10x10in").unwrap(), Unit::Inch);
        let inch = Length::INCH;
        document.base = Some(Point::new(inch * 5, inch * 5));
        for (id, turn, at) in [(1, Turn::None, 3), (2, Turn::None, 7), (3, Turn::Once, 3), (4, Turn::Once, 7)] {
            document.apply(add_line(&document, measured_score(LineId(id), turn, inch * at))).unwrap();
        }
        let mut id = 10;
        for line in 1..=4 {
            for (from, to) in [(0, 3), (7, 10)] {
                let run = Run { from: Stop::At(inch * from), to: Stop::At(inch * to) };
                let place = Place::Along { line: LineId(line), run };
                document.apply(add_line(&document, Line::new(LineId(id), place, Work::Cut))).unwrap();
                id += 1;
            }
        }
        document
    }

    #[test]
    fn the_last_flap_may_go_under_its_neighbours() {
        let document = four_flaps();
        let derived = Derived::of(&document);
        let labels = |step| ways(&document, &derived, step).into_iter().map(|way| way.label).collect::<Vec<_>>();
        assert_eq!(labels(0), [""; 0]);
        assert_eq!(
            labels(3),
            ["Bottom flap under Top flap", "Bottom flap under Left flap", "Bottom flap under Right flap"]
        );
        let mut tucked = document.clone();
        let way = ways(&document, &derived, 3).remove(1);
        tucked.apply(change::tuck(&document, 3, way.tucked).unwrap()).unwrap();
        let derived = Derived::of(&tucked);
        assert_eq!(words(&tucked, &derived, 3), ["Bottom flap under Left flap"]);
        assert!(derived.folded.as_ref().unwrap().1.needs_tuck());
        assert_eq!(derived.folded.as_ref().unwrap().1.troubles(), []);
        tucked.apply(change::untuck(&tucked, 3).unwrap()).unwrap();
        assert_eq!(tucked.steps, document.steps);
    }
}
