//! The folio folded: closed, opened, and in the midst of a step.

use super::{Frame, fill, line, outline, scaled};
use crate::block::Picture;
use draw::artwork::Printed;
use draw::folded::{FoldedScene, Posed, View, printed_scene};
use draw::list::Role;
use draw::style::{PART_FRONT, stroke_for};
use fold::{Assembly, Folding};
use kurbo::{Rect, Size};
use model::{Layout, Length};

/// How much of its angle a step has turned in its picture: past upright, so that it is seen which way it goes.
const MIDST: f64 = 0.6;

fn scene(
    layout: &Layout,
    (assembly, folding): (&Assembly, &Folding),
    printed: &Printed<'_>,
    time: f64,
    view: &View,
) -> FoldedScene {
    printed_scene(layout, &Posed::at(assembly, folding, time), view, printed)
}

fn picture(scene: &FoldedScene, room: Size) -> Picture {
    let frame = Frame::new(scene.bounds, room, 1.0);
    frame.picture(scaled(&scene.nodes, frame.place()))
}

/// The closed folio from the lower right.
pub(crate) fn closed(layout: &Layout, folded: (&Assembly, &Folding), printed: &Printed<'_>, room: Size) -> Picture {
    picture(&scene(layout, folded, printed, f64::INFINITY, &View::SLANTED), room)
}

/// The folio laid open with all that is on its front.
pub(crate) fn opened(layout: &Layout, folded: (&Assembly, &Folding), printed: &Printed<'_>, room: Size) -> Picture {
    picture(&scene(layout, folded, printed, 0.0, &View::FRONT), room)
}

/// The folio in the midst of a step, counted from 0.
pub(crate) fn closing(
    layout: &Layout,
    folded: (&Assembly, &Folding),
    printed: &Printed<'_>,
    step: usize,
    room: Size,
) -> Picture {
    let time = crate::style::times(step) + MIDST;
    picture(&scene(layout, folded, printed, time, &View::SLANTED), room)
}

/// The closed folio with a band round it.
pub(crate) fn band(
    layout: &Layout,
    folded: (&Assembly, &Folding),
    printed: &Printed<'_>,
    width: Length,
    is_upright: bool,
    room: Size,
) -> Picture {
    let scene = scene(layout, folded, printed, f64::INFINITY, &View::FRONT);
    let frame = Frame::new(scene.bounds, room, 2.0);
    let mut nodes = scaled(&scene.nodes, frame.place());
    let (folio, wide) = (scene.bounds, width.mm());
    let strip = if is_upright {
        Rect::from_center_size(folio.center(), (wide.min(folio.width()), folio.height()))
    } else {
        Rect::from_center_size(folio.center(), (folio.width(), wide.min(folio.height())))
    };
    let strip = frame.rect(strip);
    let path = outline([
        (strip.x0, strip.y0).into(),
        (strip.x1, strip.y0).into(),
        (strip.x1, strip.y1).into(),
        (strip.x0, strip.y1).into(),
    ]);
    nodes.push(fill(Role::Part, path.clone(), PART_FRONT));
    nodes.push(line(Role::Part, path, stroke_for(Role::Outline)));
    frame.picture(nodes)
}
