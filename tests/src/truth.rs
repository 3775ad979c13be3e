//! What is known of a folio before it is unfolded, held against what the program works out from its flat sheet.

use crate::closed::{Closed, Host, Layer};
use crate::unfold::{Folio, unfolded};
use fold::{Assembly, Folding};
use model::part::ClosureKind;
use model::{Layout, Length, PanelId, PartKind, PartLayout, Point};
use session::Derived;
use std::collections::{BTreeMap, BTreeSet};

/// A millionth of a millimetre: a nanometre, the unit of all that is authored.
const NANOMETRE: f64 = 1e-6;

/// All in which the program does not agree with what is known, in words; none when it is right.
#[must_use]
pub fn disagreements(folio: &Folio, derived: &Derived) -> Vec<String> {
    let Some((assembly, folding)) = &derived.folded else { return vec!["it has no base".to_owned()] };
    let mut known = Known { folio, layout: &derived.layout, assembly, folding, wrong: Vec::new() };
    known.panels();
    if known.wrong.is_empty() {
        known.places();
        known.order();
        known.steps();
        known.thickness();
    }
    known.wrong
}

/// Rules whose notes may be there or not: how folios go by post, and whether some of the base shows between flaps, has
/// nothing to do with how they close.
pub const MAY_BE_SAID: [&str; 2] = ["post", "flaps-apart"];

/// The rules whose notes are right for a valid folio: what follows from what is in it, and no more.
#[must_use]
pub fn notes(closed: &Closed) -> BTreeSet<&'static str> {
    let is_magnet = |kind: &PartKind| matches!(kind, PartKind::Closure(closure) if closure.kind == ClosureKind::Magnet);
    let has_magnets = closed.stuck.iter().any(|part| is_magnet(&part.kind));
    let is_shut = has_magnets || closed.band || closed.tuck.is_some();
    let mut notes = BTreeSet::new();
    if has_magnets {
        notes.insert("small-parts");
    }
    if !is_shut && !closed.stuck.is_empty() {
        notes.insert("nothing-shuts-it");
    }
    notes
}

impl Folio {
    /// The panel that a leaf is.
    #[must_use]
    pub fn leaf(&self, layout: &Layout, leaf: usize) -> Option<PanelId> {
        layout.panel_at(self.flat[leaf].middle())
    }

    /// The panel that a layer is.
    #[must_use]
    pub fn panel(&self, layout: &Layout, layer: Layer) -> Option<PanelId> {
        let part = |part: usize| layout.part(self.stuck[part]);
        match layer {
            Layer::Leaf(leaf) => self.leaf(layout, leaf),
            Layer::Stuck(one) => Some(part(one)?.main),
            Layer::Second(one) => {
                let PartLayout { main, panels, .. } = part(one)?;
                panels.iter().map(|panel| panel.id).find(|id| id != main)
            }
        }
    }

    /// The leaf that a layer lies on in the end.
    fn carrier(&self, layer: Layer) -> usize {
        match layer {
            Layer::Leaf(leaf) => leaf,
            Layer::Stuck(part) | Layer::Second(part) => match self.closed.stuck[part].on {
                Host::Leaf(leaf) => leaf,
                Host::Hinge(hinge) => self.carrier(Layer::Stuck(hinge)),
            },
        }
    }
}

struct Known<'a> {
    folio: &'a Folio,
    layout: &'a Layout,
    assembly: &'a Assembly,
    folding: &'a Folding,
    wrong: Vec<String>,
}

impl Known<'_> {
    fn expect<T: PartialEq + std::fmt::Debug>(&mut self, what: &str, found: &T, known: &T) {
        if found != known {
            self.wrong.push(format!("{what}: {found:?} is not {known:?}"));
        }
    }

    /// How many panels there are, and that each leaf and gusset is just one of them.
    fn panels(&mut self) {
        let Self { folio, layout, .. } = *self;
        let closed = &folio.closed;
        let gussets = folio.gussets.iter().flatten().count();
        let of_folio = layout.folio().map_or(0, |piece| piece.panels.len());
        self.expect("panels", &of_folio, &(closed.leaves.len() + gussets));
        let of_parts: usize = layout.parts.iter().map(|part| part.panels.len()).sum();
        let seconds = closed.stuck.iter().filter(|part| part.second.is_some()).count();
        self.expect("panels of parts", &of_parts, &(closed.stuck.len() + seconds + usize::from(closed.band)));
        for (leaf, at) in folio.flat.iter().enumerate() {
            let bounds = folio.leaf(layout, leaf).map(|id| layout.panel(id).bounds());
            self.expect(&format!("leaf {leaf}"), &bounds, &Some((at.low, at.high)));
        }
        for at in folio.gussets.iter().flatten() {
            let panel = layout.panel_at(at.middle()).map(|id| layout.panel(id).bounds());
            self.expect("gusset", &panel, &Some((at.low, at.high)));
        }
    }

    /// Where the corners of every leaf come to lie.
    fn places(&mut self) {
        let Self { folio, layout, folding, .. } = *self;
        let closed = &folio.closed;
        let poses = folding.flat_pose(f64::INFINITY);
        let base = folio.flat[0].low;
        let from = |at: Point| Point::new(at.x + base.x, at.y + base.y);
        for (leaf, lies) in unfolded(closed).into_iter().enumerate() {
            let Some(place) = folio.leaf(layout, leaf).and_then(|id| folding.panels().binary_search(&id).ok()) else {
                self.wrong.push(format!("leaf {leaf} does not fold"));
                continue;
            };
            let at = closed.leaves[leaf].at;
            for corner in [at.low, at.high, Point::new(at.low.x, at.high.y)] {
                let flat = fold::to_world(from(lies.point(corner)));
                let known = fold::to_world(from(corner)).extend(closed.height(leaf).mm());
                let found = poses[place].transform_point3(flat.extend(0.0));
                if found.distance(known) > NANOMETRE {
                    self.wrong.push(format!("a corner of leaf {leaf} comes to lie at {found} and not {known}"));
                }
            }
        }
        let size = folding.closed_size();
        let (width, height) = (closed.base().width().mm(), closed.base().height().mm());
        // Walls of gussets stand out by half their paper at most.
        let deep = closed.leaves.iter().any(|leaf| leaf.hangs.is_some_and(|hang| hang.depth > Length::ZERO));
        let room = if deep { closed.caliper.mm() } else { 0.0 } + NANOMETRE;
        if (size.x - width).abs() > room || (size.y - height).abs() > room {
            self.wrong.push(format!("closed it is {size} and not {width} x {height}"));
        }
    }

    /// Of every two layers over one another, which lies above.
    fn order(&mut self) {
        let Self { folio, layout, folding, .. } = *self;
        let closed = &folio.closed;
        let clip = |layer: Layer| match layer {
            Layer::Leaf(leaf) => closed.leaves[leaf].clip,
            Layer::Stuck(_) | Layer::Second(_) => Length::ZERO,
        };
        for (place, &under) in closed.layers.iter().enumerate() {
            for &over in &closed.layers[place + 1..] {
                let [Some(low), Some(high)] = [under, over].map(|layer| folio.panel(layout, layer)) else {
                    self.wrong.push(format!("{under:?} or {over:?} is no panel"));
                    continue;
                };
                let heights = [under, over].map(|layer| closed.height(folio.carrier(layer)));
                let shared = closed.at(under).shared(&closed.at(over));
                let most = clip(under).max(clip(over));
                // What only a clipped corner would cover may lie on nothing.
                if shared.is_some_and(|shared| shared.width() <= most && shared.height() <= most) {
                    continue;
                }
                let known = shared.filter(|_| heights[0] == heights[1]).map(|_| true);
                let found = folding.above(high, low);
                if heights[0] > heights[1] && shared.is_some() {
                    self.wrong.push(format!("{over:?} is lower than {under:?}"));
                }
                self.expect(&format!("{over:?} above {under:?}"), &found, &known);
            }
        }
    }

    /// What moves in each step.
    fn steps(&mut self) {
        let Self { folio, layout, folding, .. } = *self;
        let closed = &folio.closed;
        self.expect("steps", &folding.steps(), &closed.steps.len());
        for (step, leaves) in closed.steps.iter().enumerate() {
            let moving: BTreeSet<usize> = leaves.iter().flat_map(|&leaf| closed.with_hanging(leaf)).collect();
            let mut known: BTreeSet<Option<PanelId>> = BTreeSet::new();
            for &leaf in &moving {
                known.insert(folio.leaf(layout, leaf));
                known.extend(folio.gussets[leaf].map(|at| layout.panel_at(at.middle())));
            }
            known.extend(
                closed
                    .layers
                    .iter()
                    .filter(|&&layer| moving.contains(&folio.carrier(layer)))
                    .map(|&layer| folio.panel(layout, layer)),
            );
            let found = folding.moving(step).into_iter().map(Some).collect();
            self.expect(&format!("what moves in step {step}"), &found, &known);
        }
    }

    /// How thick the paper is where it is thickest; and how much of the folio is so thick, where corners are square.
    fn thickness(&mut self) {
        let closed = &self.folio.closed;
        let found = fold::thickness(self.assembly, self.folding);
        let most = found.areas.iter().map(|area| area.paper).fold(0.0, f64::max);
        let known = closed.thickest().mm();
        if (most - known).abs() > NANOMETRE {
            self.wrong.push(format!("the thickest pile is {most} mm and not {known}"));
        }
        if closed.leaves.iter().any(|leaf| leaf.clip > Length::ZERO) {
            return;
        }
        let mut areas: BTreeMap<Length, f64> = BTreeMap::new();
        for area in &found.areas {
            *areas.entry(Length::from_mm_rounded(area.paper).unwrap_or_default()).or_default() += area.area();
        }
        for cell in closed.cells() {
            let there = closed.layers.iter().filter(|&&layer| closed.at(layer).shared(&cell).is_some());
            let thick: Length = there.map(|&layer| closed.thick(layer)).sum();
            if thick > Length::ZERO {
                *areas.entry(thick).or_default() -= cell.width().mm() * cell.height().mm();
            }
        }
        // A thousandth of a square millimetre, of some ten thousand.
        for (thick, by) in areas.into_iter().filter(|(_, by)| by.abs() > 1e-3) {
            self.wrong.push(format!("{by} mm² more is {} mm thick than is known", thick.mm()));
        }
    }
}
