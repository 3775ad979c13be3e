//! How thick the closed folio is: everywhere, and where it is thickest.
//!
//! Only paper is counted. What lies in a folio (seed packets, cards) counts as soon as it is a panel of the assembly.

use crate::assembly::Assembly;
use crate::folding::Folding;
use crate::laid::Laid;
use crate::pile::{Piles, Region};
use glam::DVec2;
use std::collections::BTreeMap;

/// The thickness of a closed folio.
#[derive(Debug, Clone, PartialEq)]
pub struct Thickness {
    /// Areas of one thickness each, the thinnest first. Together they are the folio's outline on the table.
    pub areas: Vec<ThicknessArea>,
    /// The greatest height of any area, in mm; 0 when nothing covers the table.
    pub greatest: f64,
    /// A place inside an area of that height, in the world's plane.
    pub at: Option<DVec2>,
}

/// An area in which the folio is equally thick.
#[derive(Debug, Clone, PartialEq)]
pub struct ThicknessArea {
    /// How many layers of paper lie there.
    pub layers: usize,
    /// How thick they are when pressed together, in mm: the sum of their calipers.
    pub paper: f64,
    /// From the lowest face to the highest as the folio stands, in mm: with what gussets keep open, and what layers
    /// bridge that reach farther than those under them. Never less than `paper`.
    pub height: f64,
    /// Where.
    pub regions: Vec<Region>,
}

impl ThicknessArea {
    /// How large it is, in mm².
    #[must_use]
    pub fn area(&self) -> f64 {
        self.regions.iter().map(|region| region.area).sum()
    }
}

impl Assembly {
    /// How thick the paper is that is scored, in mm; of several, the thickest.
    pub(crate) fn scored(&self) -> f64 {
        let panels = self.joints.iter().flat_map(|joint| joint.panels);
        panels.map(|panel| self.caliper_of(panel)).fold(0.0, f64::max)
    }

    /// Whether the thickness of any of its panels is known.
    pub(crate) fn is_thick(&self) -> bool {
        self.panels.iter().any(|panel| panel.caliper > 0.0)
    }

    /// How thick the paper of a panel (a place in [`Assembly::panels`]) is, in mm; zero when unknown.
    #[must_use]
    pub fn caliper_of(&self, panel: usize) -> f64 {
        self.panels.get(panel).map_or(0.0, |panel| panel.caliper)
    }
}

/// The local thickness of the closed folio. Paper of unknown caliper counts as a layer of thickness 0.
#[must_use]
pub fn thickness(assembly: &Assembly, folding: &Folding) -> Thickness {
    folding.laid(f64::INFINITY, |laid| thickness_of(assembly, laid))
}

fn thickness_of(assembly: &Assembly, laid: &Laid) -> Thickness {
    let kind = |pile: &[usize], at: DVec2| {
        let paper: f64 = pile.iter().map(|&panel| assembly.caliper_of(panel)).sum();
        (!pile.is_empty())
            .then(|| (nanometres(height(assembly, &laid.piles, pile, at).max(paper)), nanometres(paper), pile.len()))
    };
    let mut by_kind: BTreeMap<(i64, i64, usize), Vec<Region>> = BTreeMap::new();
    for (kind, region) in laid.regions(kind) {
        by_kind.entry(kind).or_default().push(region);
    }
    let area = |((height, paper, layers), regions)| ThicknessArea {
        layers,
        paper: millimetres(paper),
        height: millimetres(height),
        regions,
    };
    let areas: Vec<ThicknessArea> = by_kind.into_iter().map(area).collect();
    let greatest = areas.last().map_or(0.0, |area| area.height);
    let at = areas.last().and_then(|area| area.regions.iter().find_map(Region::inner_point));
    Thickness { areas, greatest, at }
}

/// From the lowest face of a pile to the highest at a place, in mm, layers lifted off one another.
fn height(assembly: &Assembly, piles: &Piles, pile: &[usize], at: DVec2) -> f64 {
    let faces = |panel: usize| {
        let middle = piles.height(panel, at) + piles.lift(panel);
        let half = assembly.caliper_of(panel) / 2.0;
        (middle - half, middle + half)
    };
    let start = (f64::INFINITY, f64::NEG_INFINITY);
    let (low, high) = pile
        .iter()
        .map(|&panel| faces(panel))
        .fold(start, |(low, high), (bottom, top)| (low.min(bottom), high.max(top)));
    high - low
}

/// Thicknesses are told apart to the nanometre.
#[expect(clippy::cast_possible_truncation, reason = "a folio is thinner than a light year")]
fn nanometres(mm: f64) -> i64 {
    libm::round(mm * 1e6) as i64
}

#[expect(clippy::cast_precision_loss, reason = "whole nanometres below 2^52 are 4500 km")]
fn millimetres(nm: i64) -> f64 {
    nm as f64 / 1e6
}
