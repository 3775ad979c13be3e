//! Whether an offcut, just as it is, does for a part.

use crate::allotment::Cutout;
use crate::contain::lies_within;
use crate::inner;
use crate::shape::{Shape, turned_into, turned_size};
use model::{Length, Point, Size, Vector};
use nest::Rect;
use std::collections::BTreeSet;

/// So many places are tried for each turn: those that bring borders or corners together.
const MOST_SHIFTS: usize = 64;

/// Where a part of `shape`, on a little sheet of `size`, lies within an offcut: as it is drawn or turned by quarters, all
/// of them or the one that its pattern demands. First the little sheet is laid on the offcut as a whole, so that what is
/// measured from its edges is measured from those of the offcut; then places are tried that bring borders together, then
/// those that bring corners together, so a part of the offcut's own shape is always found.
pub(crate) fn fit(shape: &Shape, size: Size, demand: Option<u8>, offcut: &Shape) -> Option<Cutout> {
    let rects: Vec<Point> = inner::rects(offcut).iter().map(|rect| rect.corner).collect();
    // A rectangle turned by half lies as before.
    let most = if shape.area == size.area() { 2 } else { 4 };
    let turns = demand.map_or_else(|| (0..most).collect(), |quarters| vec![quarters]);
    turns.into_iter().find_map(|quarters| {
        let origin = Point::default();
        let turned = shape.moved(|point| turned_into(point, size, quarters, origin));
        let by = shift(&turned, offcut, &rects)?;
        let rect = Rect { corner: origin + by, size: turned_size(size, quarters) };
        Some(Cutout { rect, quarters })
    })
}

/// `rects` are places where the upper left corner of a rectangle may come to lie.
fn shift(part: &Shape, offcut: &Shape, rects: &[Point]) -> Option<Vector> {
    let ((low, high), (least, most)) = (part.bounds(), offcut.bounds());
    let room = (most.x - least.x) - (high.x - low.x);
    if room < Length::ZERO || (most.y - least.y) - (high.y - low.y) < Length::ZERO {
        return None;
    }
    let across = [least.x - low.x, most.x - high.x];
    let down = [least.y - low.y, most.y - high.y];
    // The little sheet begins at the origin.
    let as_a_whole = std::iter::once(least - Point::default());
    let borders = down.into_iter().flat_map(|y| across.map(|x| Vector { x, y }));
    let corners = |shape: &Shape| shape.rings.iter().flatten().copied().collect::<Vec<_>>();
    let (own, others) = (corners(part), corners(offcut));
    let met = others.iter().flat_map(|&to| own.iter().map(move |&from| to - from));
    let in_rects = rects.iter().map(|&to| to - low);
    let mut seen = BTreeSet::new();
    let new = |by: &Vector| seen.insert((by.x, by.y));
    let mut tried = as_a_whole.chain(borders).chain(in_rects).chain(met).filter(new).take(MOST_SHIFTS);
    tried.find(|&by| lies_within(&part.moved(|point| point + by), offcut))
}
