//! Hidden surfaces of the folded view: in which order flat faces are painted so that the nearer covers the farther.
//!
//! The view is orthographic, so a face hides another exactly where their outlines overlap on the screen and its depth
//! is greater there. [`back_to_front`] finds that relation for each overlapping pair, sorts by it, and cuts a face only
//! where two faces pass through each other or several lie over one another in a ring. The result is a list to paint
//! in order; no picture elements and no depth buffer are involved.
//!
//! Where the caller knows better than the depths do ([`back_to_front_as`]), as for flaps that are woven, each under the
//! next, it is what the caller says that counts.
//!
//! Left out: folding, projecting and shading (the caller's), paper thickness (the caller places layers apart), and
//! faces that are not convex (cut those beforehand).

mod order;
mod piece;
mod relation;
#[cfg(test)]
mod tests;

use glam::DVec3;
use order::Order;
use piece::Piece;
pub use relation::Lower;

/// How far apart two faces must lie to count as one behind the other, in mm, measured across the steeper of them:
/// rounding shows in the depth of a steep face many times over.
///
/// One nanometre, the unit of authored lengths: far above the rounding of folded positions (about 1e-12 mm), far below
/// the thinnest paper (about 0.05 mm). Were it larger than a paper, stacked layers would fall back to input order.
const SAME_DEPTH: f64 = 1e-6;

/// Overlaps and cut-off parts narrower than this, in mm, count as none.
///
/// Faces that share a fold overlap by rounding alone; an order made from that could close a false ring. It has to
/// exceed [`SAME_POINT`], which moves outlines by as much.
const SLIVER: f64 = 1e-5;

/// Corners of a projected outline closer than this, in mm, are taken as one: the direction of a shorter side is noise.
const SAME_POINT: f64 = 1e-6;

/// A face whose projection is narrower than this, in mm, is seen edge-on and shows as a line at most.
///
/// Above [`SLIVER`], so that every face that is not a line can overlap others; a thousand times finer than print.
const EDGE_ON: f64 = 1e-4;

/// The most cuts made in one call.
///
/// Folded paper needs a handful; hundreds of faces thrown together at random need hundreds. Past this the time would
/// show in the window, so the rest is ordered by centre depth instead.
const MAX_CUTS: usize = 1000;

/// A convex flat face in view space.
#[derive(Clone, Debug, PartialEq)]
pub struct Face<T> {
    /// The corners in turn, either way round, at least three and none repeated.
    pub corners: Vec<Corner>,
    /// Whatever the caller wants back with the face, such as a panel and the side that shows.
    pub tag: T,
}

/// A corner of a [`Face`] and the edge that leaves it for the next corner.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Corner {
    /// Where it is, in mm: x to the right, y down the screen, z towards the viewer.
    pub at: DVec3,
    /// The caller's number for the edge from here to the next corner; `None` for an edge that is not the caller's own,
    /// such as one made by cutting a face.
    pub edge: Option<usize>,
}

impl<T> Face<T> {
    /// A face through `points`, its edges numbered from 0: edge `i` runs from point `i` to the next.
    pub fn new(points: impl IntoIterator<Item = DVec3>, tag: T) -> Self {
        let corners = points.into_iter().enumerate().map(|(i, at)| Corner { at, edge: Some(i) }).collect();
        Self { corners, tag }
    }
}

/// The faces in the order to paint them, farthest first, so that each covers what it hides.
///
/// Faces come back whole unless two pass through each other or several overlap in a ring; then one of them comes back
/// in parts that together cover it exactly, with the same tag, and with [`Corner::edge`] `None` on the cuts.
///
/// - Faces that lie on each other (within 1e-6 mm) where they overlap keep their input order, and so does, as far as depth
///   allows, everything else: the result depends on the input alone.
/// - Faces that touch on the screen along an edge or in a corner, as neighbours at a fold do, put no order on each other.
/// - A face seen edge-on is placed by its nearest edge, at the middle of where it crosses another face; it is never a
///   reason to cut.
/// - Faces without area (narrower than 1e-5 mm) and faces with a coordinate that is not finite are left out.
/// - At most 1000 cuts are made. Faces that would need more, and rings that no cut opens, which needs faces that are
///   bent or not convex, are taken by the depth of their centres.
///
/// ```
/// use foliowright_draw::hidden::{Face, back_to_front};
/// use glam::dvec3;
///
/// let square = |z: f64| [dvec3(0.0, 0.0, z), dvec3(1.0, 0.0, z), dvec3(1.0, 1.0, z), dvec3(0.0, 1.0, z)];
/// let faces = vec![Face::new(square(0.2), "near"), Face::new(square(0.1), "far")];
/// let tags: Vec<_> = back_to_front(faces).into_iter().map(|face| face.tag).collect();
/// assert_eq!(tags, ["far", "near"]);
/// ```
#[must_use]
pub fn back_to_front<T: Clone>(faces: Vec<Face<T>>) -> Vec<Face<T>> {
    back_to_front_as(faces, |_, _| None)
}

/// The same where `said` tells of some pairs which is behind wherever they overlap on the screen, whatever their depths:
/// of faces in one plane, or as good as in one. They may lie on one another in a ring; then one of them comes back in parts.
#[must_use]
pub fn back_to_front_as<T: Clone>(faces: Vec<Face<T>>, said: impl Fn(&T, &T) -> Option<Lower>) -> Vec<Face<T>> {
    let mut tags = Vec::with_capacity(faces.len());
    let mut pieces = Vec::with_capacity(faces.len());
    for (source, face) in faces.into_iter().enumerate() {
        tags.push(face.tag);
        pieces.extend(Piece::new(source, face.corners));
    }
    let said = |first: usize, second: usize| said(&tags[first], &tags[second]);
    let sorted = Order::new(pieces, MAX_CUTS, &said).into_sorted();
    sorted.into_iter().map(|piece| Face { tag: tags[piece.source].clone(), corners: piece.corners }).collect()
}
