//! A folio that has been closed: where every panel is at any time, and how the layers lie in the end.

use crate::laid::Kept;
use crate::layer::{Side, part_way};
use crate::overlap::{self, hull};
use crate::relations::Relations;
use crate::step::Motion;
use crate::trouble::Trouble;
use glam::{DAffine3, DVec2, DVec3};
use model::PanelId;

/// Everything worked out about the closing of an [`Assembly`](crate::Assembly).
#[derive(Debug, Clone, PartialEq)]
pub struct Folding {
    pub(crate) panels: Vec<PanelId>,
    /// The corners of each panel's outline on the flat sheet, of the holes in it, and its convex parts.
    pub(crate) outlines: Vec<Vec<DVec2>>,
    pub(crate) holes: Vec<Vec<Vec<DVec2>>>,
    pub(crate) convex: Vec<Vec<Vec<DVec2>>>,
    /// Where each panel is before the first step and after each step, without thickness.
    pub(crate) frames: Vec<Vec<DAffine3>>,
    /// How each step moves the panels.
    pub(crate) motions: Vec<Motion>,
    /// At the same times as `frames`: how far each panel is lifted along its own front to keep layers apart, in mm.
    pub(crate) lifts: Vec<Vec<f64>>,
    /// The same in layers, so known even where the paper's thickness is not.
    pub(crate) levels: Vec<Vec<i32>>,
    /// At the same times, what lies on what where the lifts can't tell.
    pub(crate) woven: Vec<Vec<Woven>>,
    pub(crate) planes: Vec<Plane>,
    /// In the closed state, what lies on what, panel by panel: on the front stands for above along their plane's normal.
    pub(crate) order: Relations,
    pub(crate) troubles: Vec<Trouble>,
    /// For each step, whether something is tucked in it.
    pub(crate) tucked: Vec<bool>,
    /// In the closed state: how far each joint is folded, in quarter turns, valleys positive, and what lies on what.
    pub(crate) turned: Vec<i32>,
    pub(crate) relations: Relations,
    /// For each panel, whether all folds between the base and it have folded.
    pub(crate) folded: Vec<bool>,
    /// How thick each panel is, in mm; zero when unknown.
    pub(crate) calipers: Vec<f64>,
    /// What has been looked at of it on the table.
    pub(crate) kept: Kept,
}

/// Panels that lie in one plane in the closed state.
#[derive(Debug, Clone, PartialEq)]
pub struct Plane {
    /// Its direction: +Z for planes parallel to the base, else towards +X or +Y.
    pub normal: DVec3,
    /// How far along `normal` it lies from the origin, in mm, without thickness.
    pub distance: f64,
    /// The layers from low to high along `normal`, each with its number: 0 for that of the base (in planes without it,
    /// of the panel fewest folds away from it, of several the first to arrive), negative below. Panels in one layer do not lie on one another.
    pub layers: Vec<(i32, Vec<PanelId>)>,
}

/// A convex part of a panel as it lies in space.
#[derive(Debug, Clone, PartialEq)]
pub struct PosedFace {
    /// The panel.
    pub panel: PanelId,
    /// Its corners, in mm, anticlockwise for one who sees its front.
    pub corners: Vec<DVec3>,
}

/// Two panels of which one lies on the other in the closed state.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Overlap {
    /// The one that lies lower along their plane's normal.
    pub lower: PanelId,
    /// The one that lies on it.
    pub upper: PanelId,
    /// How much of it, in mm².
    pub area: f64,
}

/// Two panels that lie on one another, in a ring of panels each of which lies on the next: no height for each of them tells
/// which of the two is nearer.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Woven {
    /// A panel, by its place in [`Folding::panels`].
    pub panel: usize,
    /// The one that lies on it, in the same way. Each pair is told once.
    pub other: usize,
    /// Whether the other lies on its front, else on its back.
    pub on_front: bool,
}

impl Folding {
    /// How many steps there are, whether or not each can be made.
    #[must_use]
    pub const fn steps(&self) -> usize {
        self.motions.len()
    }

    /// The panels, in the order in which [`Folding::pose`] has them: that of [`Assembly::panels`](crate::Assembly).
    #[must_use]
    pub fn panels(&self) -> &[PanelId] {
        &self.panels
    }

    /// A copy that has yet to work out what a folding keeps once it was asked for: to measure how long that takes.
    #[must_use]
    pub fn afresh(&self) -> Self {
        Self { kept: Kept::default(), ..self.clone() }
    }

    /// What stands in the way, step by step, then what shows in the closed state.
    #[must_use]
    pub fn troubles(&self) -> &[Trouble] {
        &self.troubles
    }

    /// Whether step `step` moves anything; not so when it was left out for a [`Trouble::Joined`].
    #[must_use]
    pub fn moves(&self, step: usize) -> bool {
        self.motions.get(step).is_some_and(|motion| motion.chains.iter().any(|chain| !chain.is_empty()))
    }

    /// Whether step `step` tucks something under something: its paper has to bend on the way.
    #[must_use]
    pub fn tucks(&self, step: usize) -> bool {
        self.tucked.get(step).copied().unwrap_or(false)
    }

    /// Whether the closed state is reached by tucking something under something.
    #[must_use]
    pub fn needs_tuck(&self) -> bool {
        self.tucked.contains(&true)
    }

    /// How many steps move a panel, by its place in [`Folding::panels`].
    #[must_use]
    pub fn moves_of(&self, panel: usize) -> usize {
        self.motions.iter().filter(|motion| !motion.chain(panel).is_empty()).count()
    }

    /// The panels that step `step` moves.
    #[must_use]
    pub fn moving(&self, step: usize) -> Vec<PanelId> {
        let Some(motion) = self.motions.get(step) else { return Vec::new() };
        let moves = |&i: &usize| !motion.chain(i).is_empty();
        (0..self.panels.len()).filter(moves).map(|i| self.panels[i]).collect()
    }

    /// Whether every fold on some way from the base to `panel` has been folded by a step that could be made: so for
    /// the base, and not for a panel beyond a score that no step names or whose step was left out. `false` for a panel
    /// that is not of the folio.
    #[must_use]
    pub fn is_folded(&self, panel: PanelId) -> bool {
        self.panels.binary_search(&panel).is_ok_and(|place| self.folded[place])
    }

    /// Where each panel is at `time`, from the flat sheet's plane: 0 is the flat sheet, [`Folding::steps`] the closed
    /// folio, and a fraction the part of the angle that a step has turned (no easing; that is the caller's). Times
    /// beyond either end count as that end. Layers are lifted to lie on one
    /// another with their thickness, as in a drawing. The base does not move.
    #[must_use]
    pub fn pose(&self, time: f64) -> Vec<DAffine3> {
        let (step, progress) = self.moment(time);
        let mut poses = self.flat_pose(time);
        for (i, pose) in poses.iter_mut().enumerate() {
            let before = self.lifts[step][i];
            let after = self.lifts.get(step + 1).map_or(before, |lifts| lifts[i]);
            let lift = before + (after - before) * progress;
            *pose *= DAffine3::from_translation(DVec3::new(0.0, 0.0, lift));
        }
        poses
    }

    /// What lies on what at `time` where [`Folding::pose`] can't tell it; of a step under way, what did so before it. Nothing in
    /// most folios: only a woven close has such pairs. Holds for those that still lie in one plane.
    #[must_use]
    pub fn woven(&self, time: f64) -> &[Woven] {
        let (step, _) = self.moment(time);
        self.woven.get(step).map_or(&[], Vec::as_slice)
    }

    /// The same without thickness: layers lie in one plane, joints stay closed. Exact at whole times.
    #[must_use]
    pub fn flat_pose(&self, time: f64) -> Vec<DAffine3> {
        let (step, progress) = self.moment(time);
        let Some(motion) = self.motions.get(step).filter(|_| progress > 0.0) else { return self.frames[step].clone() };
        part_way(&self.frames[step], motion, progress)
    }

    /// For each panel, in the order of [`Folding::panels`], how high it lies among those on one another before the first
    /// step, counted along the front of the sheet: known for paper of unknown thickness too.
    #[must_use]
    pub fn layers_before(&self) -> Vec<i32> {
        let (levels, frames) = (&self.levels[0], &self.frames[0]);
        let level = |(level, frame): (&i32, &DAffine3)| if frame.matrix3.z_axis.z < 0.0 { -level } else { *level };
        levels.iter().zip(frames).map(level).collect()
    }

    /// The layers of all panels, counted along their own fronts, after the last whole step before `time`, and how far they
    /// are lifted that way, in mm.
    pub(crate) fn layers_at(&self, time: f64) -> (&[i32], &[f64]) {
        let (step, _) = self.moment(time);
        (&self.levels[step], &self.lifts[step])
    }

    /// The convex parts of all panels at `time`, layers lifted as in [`Folding::pose`].
    #[must_use]
    pub fn faces(&self, time: f64) -> Vec<PosedFace> {
        let poses = self.pose(time);
        let face = |i: usize, shape: &Vec<DVec2>| PosedFace {
            panel: self.panels[i],
            corners: shape.iter().map(|&corner| poses[i].transform_point3(corner.extend(0.0))).collect(),
        };
        (0..self.panels.len())
            .flat_map(|i| self.convex[i].iter().map(move |shape| (i, shape)))
            .map(|(i, s)| face(i, s))
            .collect()
    }

    /// The planes of the closed state, with their layers. Planes parallel to the base first, from low to high.
    #[must_use]
    pub fn planes(&self) -> &[Plane] {
        &self.planes
    }

    /// The number of a panel's layer in its plane in the closed state (see [`Plane::layers`]); `None` for a panel that
    /// is not of the folio.
    #[must_use]
    pub fn layer(&self, panel: PanelId) -> Option<i32> {
        let mut layers = self.planes.iter().flat_map(|plane| &plane.layers);
        layers.find(|(_, panels)| panels.contains(&panel)).map(|(number, _)| *number)
    }

    /// How high the middle of a panel's paper is in the closed state along its plane's normal, in mm, with thickness.
    #[must_use]
    pub fn height(&self, panel: PanelId) -> Option<f64> {
        let plane = self.planes.iter().find(|plane| plane.layers.iter().any(|(_, all)| all.contains(&panel)))?;
        let place = self.panels.binary_search(&panel).ok()?;
        let lift = self.lifts.last().map_or(0.0, |lifts| lifts[place]);
        let is_front_up = self.frames.last().is_none_or(|frames| frames[place].matrix3.z_axis.dot(plane.normal) > 0.0);
        Some(plane.distance + if is_front_up { lift } else { -lift })
    }

    /// Whether panel `a` lies above panel `b` in the closed state, along the normal of their plane; `None` when neither
    /// lies on the other.
    #[must_use]
    pub fn above(&self, a: PanelId, b: PanelId) -> Option<bool> {
        let place = |id| self.panels.binary_search(&id).ok();
        self.order.side(place(b)?, place(a)?).map(|side| side == Side::Front)
    }

    /// Every pair of panels of which one lies on the other in the closed state, in ascending order of the lower one.
    #[must_use]
    pub fn overlaps(&self) -> Vec<Overlap> {
        let lower = 0..self.panels.len();
        let lies_on = lower.flat_map(|lower| self.order.on(lower, Side::Front).map(move |upper| (lower, upper)));
        let named = lies_on.map(|(lower, upper)| (self.panels[lower], self.panels[upper]));
        named.map(|(lower, upper)| Overlap { lower, upper, area: self.shared_area(lower, upper) }).collect()
    }

    /// The panels that lie between two in the closed state, above the one and below the other: all by their places in
    /// [`Folding::panels`], ascending. None where neither of the two lies on the other.
    #[must_use]
    pub fn between(&self, a: usize, b: usize) -> Vec<usize> {
        match self.order.side(a, b) {
            Some(Side::Front) => self.order.on_both((a, Side::Front), (b, Side::Back)).collect(),
            Some(Side::Back) => self.order.on_both((b, Side::Front), (a, Side::Back)).collect(),
            None => Vec::new(),
        }
    }

    /// The area that two panels of one plane share in the closed state, in mm², seen in the plane of the first.
    fn shared_area(&self, first: PanelId, second: PanelId) -> f64 {
        let place = |id| self.panels.binary_search(&id).ok();
        let (Some(a), Some(b), Some(frames)) = (place(first), place(second), self.frames.last()) else { return 0.0 };
        let into_first = frames[a].inverse() * frames[b];
        let seen = |shape: &Vec<DVec2>| -> Vec<DVec2> {
            let corners = shape.iter().map(|&corner| into_first.transform_point3(corner.extend(0.0)).truncate());
            let mut corners: Vec<DVec2> = corners.collect();
            if overlap::area(&corners) < 0.0 {
                corners.reverse();
            }
            corners
        };
        let others: Vec<Vec<DVec2>> = self.convex[b].iter().map(seen).collect();
        let pairs = self.convex[a].iter().flat_map(|own| others.iter().map(move |other| (own, other)));
        pairs.map(|(own, other)| overlap::area(&overlap::shared(own, other))).sum()
    }

    /// The least and greatest corner of the upright box round the closed folio, in mm, with the paper's thickness in Z.
    #[must_use]
    pub fn closed_bounds(&self) -> (DVec3, DVec3) {
        let corners = self.closed_corners();
        let first = corners.first().map_or(DVec3::ZERO, |&(_, corner)| corner);
        corners.iter().fold((first, first), |(low, high), &(panel, corner)| {
            let half = DVec3::new(0.0, 0.0, self.calipers[panel] / 2.0);
            (low.min(corner - half), high.max(corner + half))
        })
    }

    /// Width, height and thickness of the closed folio, in mm.
    #[must_use]
    pub fn closed_size(&self) -> DVec3 {
        let (low, high) = self.closed_bounds();
        high - low
    }

    /// The smallest convex outline of the closed folio as it lies on the table, anticlockwise, in mm.
    #[must_use]
    pub fn closed_outline(&self) -> Vec<DVec2> {
        let points: Vec<DVec2> = self.closed_corners().iter().map(|(_, corner)| corner.truncate()).collect();
        hull(&points)
    }

    /// The corners of all panels in the closed state, each with its panel's place.
    #[expect(clippy::cast_precision_loss, reason = "a count of steps is far below 2^52")]
    fn closed_corners(&self) -> Vec<(usize, DVec3)> {
        let poses = self.pose(self.steps() as f64);
        let corners = |(panel, outline): (usize, &Vec<DVec2>)| {
            let placed = |&corner: &DVec2| (panel, poses[panel].transform_point3(corner.extend(0.0)));
            outline.iter().map(placed).collect::<Vec<_>>()
        };
        self.outlines.iter().enumerate().flat_map(corners).collect()
    }

    /// The number of whole steps that are made at `time`; `None` in the midst of one.
    pub(crate) fn whole_step(&self, time: f64) -> Option<usize> {
        let (step, progress) = self.moment(time);
        (progress <= 0.0).then_some(step)
    }

    /// The step that runs at `time` and how much of it is done; at the end, the closed state and nothing done.
    #[expect(clippy::cast_possible_truncation, clippy::cast_precision_loss, reason = "within 0 and the count of steps")]
    #[expect(clippy::cast_sign_loss, reason = "not negative")]
    fn moment(&self, time: f64) -> (usize, f64) {
        let time = if time.is_nan() { 0.0 } else { time.clamp(0.0, self.steps() as f64) };
        let step = libm::floor(time);
        (step as usize, time - step)
    }
}
