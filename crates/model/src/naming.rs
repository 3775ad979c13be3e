//! What panels are called when a maker has not said: by where they lie from the base.
//!
//! "Left flap", "Top gusset", "Right flap 2": names that stay put while lines are dragged, so that a finding or a
//! template can point at a panel in words.

use crate::layout::{Fold, Panel, PanelId};
use crate::length::Length;
use crate::resolve::Segment;
use std::collections::{BTreeMap, VecDeque};

/// A gusset is at most this wide; and narrower than half of what it joins. A single-panel strip wider than 1 in is
/// a panel in its own right (common practice, no source).
const WIDEST_GUSSET: Length = Length::INCH;

/// Gives each panel a name unlike any other. Of several that would be called the same, the one fewest folds away from
/// the base has the plain name.
pub(crate) fn name_panels(panels: &mut [Panel], folds: &[Fold], base: Option<PanelId>) {
    let mut round: Vec<Vec<&Fold>> = vec![Vec::new(); panels.len()];
    for fold in folds {
        for panel in fold.panels {
            round[panel.0].push(fold);
        }
    }
    for panel in panels.iter_mut() {
        panel.is_gusset = is_gusset(panel, &round[panel.id.0]);
    }
    let mut names = Names { of: vec![None; panels.len()], counts: BTreeMap::new() };
    let mut queue = VecDeque::new();
    if let Some(base) = base {
        names.give(base, "Base");
        queue.push_back((base, None));
    }
    while let Some((at, side)) = queue.pop_front() {
        for &fold in &round[at.0] {
            let Some(next) = fold.across_from(at) else { continue };
            if names.of[next.0].is_none() {
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
    counts: BTreeMap<String, usize>,
}

impl Names {
    /// Names a panel that has no name yet, with a number from the second of that name on.
    fn give(&mut self, panel: PanelId, name: &str) {
        let slot = &mut self.of[panel.0];
        if slot.is_none() {
            let count = self.counts.entry(name.to_owned()).or_default();
            *count += 1;
            *slot = Some(if *count == 1 { name.to_owned() } else { format!("{name} {count}") });
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
