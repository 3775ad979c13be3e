//! What is seen of each panel, from the front and from the back, at any time of the folding.
//!
//! Both views are straight down on the table. Thickness is not seen: upright panels show nothing, and what a stack of
//! layers shifts sideways is left out.

use crate::face::{Shown, View};
use crate::folding::Folding;
use crate::laid::Laid;
use crate::pile::Region;
use model::{Face, PanelId};
use std::collections::BTreeMap;

/// What is seen of one panel.
#[derive(Debug, Clone, PartialEq)]
pub struct VisibleFace {
    /// The panel.
    pub panel: PanelId,
    /// Which of its faces.
    pub face: Face,
    /// Where the top of the sheet points on it, in degrees clockwise from the viewer's up (see [`Shown::up`]).
    pub up: f64,
    /// What is seen of it, where it lies on the table: in the world's plane, so mirrored for one who looks from the back.
    pub regions: Vec<Region>,
}

impl VisibleFace {
    /// How much of it is seen, in mm².
    #[must_use]
    pub fn area(&self) -> f64 {
        self.regions.iter().map(|region| region.area).sum()
    }

    /// The face as it is turned to the viewer.
    #[must_use]
    pub const fn shown(&self) -> Shown {
        Shown { face: self.face, up: self.up }
    }
}

/// What is seen of the folio at `time` (see [`Folding::pose`]), panel by panel; panels of which nothing is seen are left
/// out. The areas add up to that of [`outline`].
#[must_use]
pub fn visible(folding: &Folding, time: f64, view: View) -> Vec<VisibleFace> {
    folding.laid(time, |laid| visible_of(folding, laid, view))
}

fn visible_of(folding: &Folding, laid: &Laid, view: View) -> Vec<VisibleFace> {
    let top = |pile: &[usize], _| match view {
        View::Front => pile.last().copied(),
        View::Back => pile.first().copied(),
    };
    let mut seen: BTreeMap<usize, Vec<Region>> = BTreeMap::new();
    for (panel, region) in laid.regions(top) {
        seen.entry(panel).or_default().push(region);
    }
    let face = |(panel, regions): (usize, Vec<Region>)| {
        let Shown { face, up } = Shown::of(&laid.piles.frames[panel], view)?;
        Some(VisibleFace { panel: folding.panels()[panel], face, up, regions })
    };
    seen.into_iter().filter_map(face).collect()
}

/// The outline of the folio on the table at `time`, as it is, with its notches and openings; more than one region when
/// parts of it are linked by upright panels alone.
#[must_use]
pub fn outline(folding: &Folding, time: f64) -> Vec<Region> {
    let covered = |pile: &[usize], _| (!pile.is_empty()).then_some(());
    folding.laid(time, |laid| laid.regions(covered)).into_iter().map(|((), region)| region).collect()
}
