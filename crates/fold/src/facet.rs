//! Convex facets of the panels, and the seams along which facets hang together.

use crate::assembly::{Assembly, PanelShape};
use crate::overlap::edges;
use glam::DVec2;

/// Points closer than this to a line lie on it, in mm: one nanometre, the unit of the layout, in which they are exactly
/// on it but for the rounding of millimetres to floats (1e-13 mm).
const ON_LINE: f64 = 1e-6;

/// A convex part of a panel.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Facet {
    /// Which panel, as a place in [`Assembly::panels`].
    pub(crate) panel: usize,
    /// Its corners on the flat sheet, anticlockwise.
    pub(crate) shape: Vec<DVec2>,
}

/// Where two facets hang together.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Seam {
    /// The two facets.
    pub(crate) facets: [usize; 2],
    /// From where to where, on the flat sheet; the first facet lies to the left.
    pub(crate) ends: [DVec2; 2],
    /// The joint it is part of; `None` within a panel.
    pub(crate) joint: Option<usize>,
}

/// All facets, by panel.
pub(crate) fn facets(panels: &[PanelShape]) -> Vec<Facet> {
    let of = |(panel, shape): (usize, &PanelShape)| {
        shape.convex.iter().map(move |piece| Facet { panel, shape: piece.clone() }).collect::<Vec<_>>()
    };
    panels.iter().enumerate().flat_map(of).collect()
}

/// All seams: within panels, then along joints.
pub(crate) fn seams(assembly: &Assembly, facets: &[Facet]) -> Vec<Seam> {
    let mut by_panel: Vec<Vec<usize>> = vec![Vec::new(); assembly.panels.len()];
    for (i, facet) in facets.iter().enumerate() {
        by_panel[facet.panel].push(i);
    }
    let mut out = Vec::new();
    for mine in &by_panel {
        for (k, &a) in mine.iter().enumerate() {
            for &b in &mine[k + 1..] {
                out.extend(common(facets, a, b).into_iter().map(|ends| Seam { facets: [a, b], ends, joint: None }));
            }
        }
    }
    for (j, joint) in assembly.joints.iter().enumerate() {
        let [p, q] = joint.panels;
        for &a in &by_panel[p] {
            for &b in &by_panel[q] {
                let within = common(facets, a, b).into_iter().flat_map(|ends| {
                    joint.stretches.iter().filter_map(move |&(from, to)| common_stretch(ends, [from, to]))
                });
                out.extend(within.map(|ends| Seam { facets: [a, b], ends, joint: Some(j) }));
            }
        }
    }
    out
}

/// The stretches along which facet `a` has facet `b` on the other side; `a` on the left.
fn common(facets: &[Facet], a: usize, b: usize) -> Vec<[DVec2; 2]> {
    let mut out = Vec::new();
    for (p, q) in edges(&facets[a].shape) {
        for (r, s) in edges(&facets[b].shape) {
            if (q - p).dot(s - r) < 0.0 {
                out.extend(common_stretch([p, q], [s, r]));
            }
        }
    }
    out
}

/// What two stretches of one line share, in the direction of the first; `None` when they are not on one line.
pub(crate) fn common_stretch([p, q]: [DVec2; 2], [r, s]: [DVec2; 2]) -> Option<[DVec2; 2]> {
    let length = p.distance(q);
    if length <= ON_LINE {
        return None;
    }
    let along = (q - p) / length;
    if along.perp_dot(r - p).abs() > ON_LINE || along.perp_dot(s - p).abs() > ON_LINE {
        return None;
    }
    let (u, v) = (along.dot(r - p), along.dot(s - p));
    let (from, to) = (u.min(v).max(0.0), u.max(v).min(length));
    (to - from > ON_LINE).then(|| [p + along * from, p + along * to])
}
