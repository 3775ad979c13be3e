//! Whether glue holds anything: some of its area lies on both panels.

use crate::assembly::{Bond, PanelShape};
use crate::overlap::{is_proper, shared};
use glam::{DAffine3, DVec2};

/// Whether some of a bond's glue lies on both of its panels, as they lie by `frames`, in one plane.
pub(crate) fn is_glued(panels: &[PanelShape], frames: &[DAffine3], bond: &Bond) -> bool {
    let [a, b] = bond.panels;
    let to_first = frames[a].inverse() * frames[b];
    let other: Vec<Vec<DVec2>> = panels[b].convex.iter().map(|piece| mapped(&to_first, piece)).collect();
    bond.area.iter().any(|glue| {
        panels[a].convex.iter().any(|own| {
            let on_first = shared(glue, own);
            is_proper(&on_first) && other.iter().any(|piece| is_proper(&shared(&on_first, piece)))
        })
    })
}

/// A convex outline in another plane, anticlockwise there.
fn mapped(frame: &DAffine3, outline: &[DVec2]) -> Vec<DVec2> {
    let there = outline.iter().map(|&corner| frame.transform_point3(corner.extend(0.0)).truncate());
    if frame.matrix3.z_axis.z < 0.0 { there.rev().collect() } else { there.collect() }
}
