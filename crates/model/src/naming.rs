//! What panels are called: as a maker says, and where she has not said, by where they lie from the base.
//!
//! "Left flap", "Top gusset", "Right flap 2": names that stay put while lines are dragged, so that a finding or a
//! template can point at a panel in words.

use crate::layout::{Fold, Panel, PanelId};
use crate::length::Length;
use crate::resolve::Segment;
use std::collections::{BTreeMap, BTreeSet, VecDeque};

/// A gusset is at most this wide; and narrower than half of what it joins. A single-panel strip wider than 1 in is
/// a panel in its own right (common practice, no source).
const WIDEST_GUSSET: Length = Length::INCH;

/// Gives each panel a name unlike any other: the one that the maker gave it, or one by where it lies. Of several that would
/// be called the same, the first of those given has the plain name, then the one fewest folds away from the base.
pub(crate) fn name_panels(panels: &mut [Panel], folds: &[Fold], base: Option<PanelId>, given: &[(PanelId, &str)]) {
    let mut round: Vec<Vec<&Fold>> = vec![Vec::new(); panels.len()];
    for fold in folds {
        for panel in fold.panels {
            round[panel.0].push(fold);
        }
    }
    for panel in panels.iter_mut() {
        panel.is_gusset = is_gusset(panel, &round[panel.id.0]);
    }
    let mut names = Names { of: vec![None; panels.len()], counts: BTreeMap::new(), taken: BTreeSet::new() };
    names.give_as_said(given);
    let mut is_reached = vec![false; panels.len()];
    let mut queue = VecDeque::new();
    if let Some(base) = base {
        names.give(base, "Base");
        is_reached[base.0] = true;
        queue.push_back((base, None));
    }
    while let Some((at, side)) = queue.pop_front() {
        for &fold in &round[at.0] {
            let Some(next) = fold.across_from(at) else { continue };
            if !is_reached[next.0] {
                is_reached[next.0] = true;
                let side = side.unwrap_or_else(|| side_of(&panels[next.0], fold));
                let kind = if panels[next.0].is_gusset { "gusset" } else { "flap" };
                names.give(next, &format!("{side} {kind}"));
                queue.push_back((next, Some(side)));
            }
        }
    }
    for panel in panels {
        names.give(panel.id, "Offcut panel");
        panel.name = names.of[panel.id.0].take().unwrap_or_default();
    }
}

struct Names {
    of: Vec<Option<String>>,
    /// How many of a name there are, numbered ones counted as those of the plain name.
    counts: BTreeMap<String, usize>,
    /// Those that the maker gave, and those with a number that were made of them: no other panel has one.
    taken: BTreeSet<String>,
}

impl Names {
    /// Names panels as the maker says, with a number from the second of a name on.
    fn give_as_said(&mut self, given: &[(PanelId, &str)]) {
        let mut left: BTreeSet<&str> = given.iter().map(|(_, name)| *name).collect();
        self.taken.extend(left.iter().map(|&name| name.to_owned()));
        for &(panel, name) in given {
            let name = if left.remove(name) { name.to_owned() } else { self.numbered(name) };
            self.taken.insert(name.clone());
            self.of[panel.0] = Some(name);
        }
    }

    /// Names a panel that has no name yet, with a number from the second of that name on.
    fn give(&mut self, panel: PanelId, name: &str) {
        if self.of[panel.0].is_none() {
            self.of[panel.0] = Some(self.numbered(name));
        }
    }

    /// The name, with the next number that makes it one that no panel has.
    fn numbered(&mut self, name: &str) -> String {
        let count = self.counts.entry(name.to_owned()).or_default();
        loop {
            *count += 1;
            let numbered = if *count == 1 { name.to_owned() } else { format!("{name} {count}") };
            if !self.taken.contains(&numbered) {
                return numbered;
            }
        }
    }
}

/// Whether a panel is a narrow strip between two parallel ones of the folds round it.
fn is_gusset(panel: &Panel, round: &[&Fold]) -> bool {
    let (width, height) = panel.extent();
    let narrow = width.min(height);
    if narrow > WIDEST_GUSSET || narrow * 2 >= width.max(height) {
        return false;
    }
    let own: Vec<&Segment> = round.iter().flat_map(|fold| &fold.stretches).collect();
    let parallel = |a: &Segment, b: &Segment| (a.b - a.a).cross(b.b - b.a) == 0 && (a.b - a.a).cross(b.a - a.a) != 0;
    own.iter().any(|a| own.iter().any(|b| parallel(a, b)))
}

/// Which side of a fold a panel lies on: left or right of an upright one, above or below a level one.
fn side_of(panel: &Panel, fold: &Fold) -> &'static str {
    let Some(stretch) = fold.stretches.first() else { return "Left" };
    let (low, high) = panel.bounds();
    let (along, to) = (stretch.b - stretch.a, [low.x + high.x, low.y + high.y]);
    let [left, above] = [(stretch.a.x + stretch.b.x) > to[0], (stretch.a.y + stretch.b.y) > to[1]];
    match (along.x.abs() <= along.y.abs(), left, above) {
        (true, true, _) => "Left",
        (true, false, _) => "Right",
        (false, _, true) => "Top",
        (false, _, false) => "Bottom",
    }
}
