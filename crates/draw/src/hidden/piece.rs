//! A face, or a part of one, made ready for comparing: its plane, its bounds and its outline on the screen.
//!
//! Which of two pieces is in front is `relation`'s business.

use super::{Corner, EDGE_ON, SAME_POINT, SLIVER};
use glam::{DVec2, DVec3};

/// Corners this close to a cutting plane, in mm, count as lying on it, so that cuts make no edges too short to have a
/// direction. Must stay below [`SLIVER`].
const ON_PLANE: f64 = 1e-7;

/// A face or a part of one.
#[derive(Clone, Debug)]
pub(super) struct Piece {
    /// Index of the face in the input.
    pub(super) source: usize,
    /// The outline in space.
    pub(super) corners: Vec<Corner>,
    /// The outline on the screen as inward half-planes, all corners inside all of them; sides of no length left out.
    pub(super) sides: Vec<Side>,
    /// The least coordinates of all corners.
    pub(super) low: DVec3,
    /// The greatest coordinates of all corners.
    pub(super) high: DVec3,
    /// Whether the face is seen edge-on, so that [`Piece::depth`] means nothing.
    pub(super) edge_on: bool,
    /// The plane of the whole face: parts keep it, so that a narrow part's plane is as good as its parent's.
    plane: Plane,
}

/// One side of a projected outline.
#[derive(Clone, Copy, Debug)]
pub(super) struct Side {
    /// Where it starts.
    pub(super) start: DVec2,
    /// The unit vector across it to the inside.
    pub(super) inward: DVec2,
}

#[derive(Clone, Copy, Debug)]
struct Plane {
    /// A point on it.
    anchor: DVec3,
    /// Its unit normal, turned to the viewer.
    normal: DVec3,
}

impl Piece {
    /// The piece for a whole face; `None` if it has no area or a coordinate is not finite.
    pub(super) fn new(source: usize, corners: Vec<Corner>) -> Option<Self> {
        let plane = Plane::through(&corners)?;
        Self::on_plane(source, corners, plane)
    }

    fn on_plane(source: usize, corners: Vec<Corner>, plane: Plane) -> Option<Self> {
        let first = corners.first()?.at;
        let low = corners.iter().fold(first, |low, corner| low.min(corner.at));
        let high = corners.iter().fold(first, |high, corner| high.max(corner.at));
        let area = doubled_area(&corners);
        if !is_wider_than(SLIVER, area.length() / 2.0, (high - low).length()) {
            return None;
        }
        let size = high - low;
        let edge_on = !is_wider_than(EDGE_ON, area.z.abs() / 2.0, size.truncate().length());
        let sides = if edge_on { Vec::new() } else { sides(&corners, area.z < 0.0) };
        Some(Self { source, corners, sides, low, high, edge_on, plane })
    }

    /// Depth of the face at a screen point within its outline, in mm.
    ///
    /// Held within the face's own depths, which bounds the error of steep faces.
    pub(super) fn depth(&self, at: DVec2) -> f64 {
        let Plane { anchor, normal } = self.plane;
        let depth = anchor.z - (at - anchor.truncate()).dot(normal.truncate()) / normal.z;
        depth.max(self.low.z).min(self.high.z)
    }

    /// How squarely the face is turned to the viewer: the cosine of its slope, from 0 for edge-on to 1.
    pub(super) fn facing(&self) -> f64 {
        self.plane.normal.z
    }

    /// Least and greatest height of `other`'s corners over this face's plane, along the line of sight, in mm.
    pub(super) fn heights_of(&self, other: &Self) -> (f64, f64) {
        let Plane { anchor, normal } = self.plane;
        let scaled = normal / normal.z;
        other.corners.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), corner| {
            let height = (corner.at - anchor).dot(scaled);
            (low.min(height), high.max(height))
        })
    }

    /// Depth halfway between the nearest and the farthest corner.
    pub(super) fn middle_depth(&self) -> f64 {
        f64::midpoint(self.low.z, self.high.z)
    }

    /// The part behind and the part in front of `knife`'s plane; `None` if the plane misses the piece or cuts off less
    /// than a sliver.
    pub(super) fn cut_by(&self, knife: &Self) -> Option<[Self; 2]> {
        let Plane { anchor, normal } = knife.plane;
        let heights = self.heights(|corner| (corner - anchor).dot(normal));
        self.parted(&heights)
    }

    /// The part outside and the part inside a line on the screen; `None` as for [`Piece::cut_by`].
    pub(super) fn cut_along(&self, side: &Side) -> Option<[Self; 2]> {
        let heights = self.heights(|corner| side.depth_of(corner.truncate()));
        self.parted(&heights)
    }

    fn heights(&self, of: impl Fn(DVec3) -> f64) -> Vec<f64> {
        let heights = self.corners.iter().map(|corner| of(corner.at));
        heights.map(|height| if height.abs() <= ON_PLANE { 0.0 } else { height }).collect()
    }

    /// The parts where `heights`, one for each corner, are negative and where they are not.
    fn parted(&self, heights: &[f64]) -> Option<[Self; 2]> {
        if heights.iter().all(|&height| height >= 0.0) || heights.iter().all(|&height| height <= 0.0) {
            return None;
        }
        let part = |sign: f64| Self::on_plane(self.source, self.corners_over(heights, sign), self.plane);
        Some([part(-1.0)?, part(1.0)?])
    }

    /// The outline of the part where `heights`, times `sign`, are not negative; its new edge has no number.
    fn corners_over(&self, heights: &[f64], sign: f64) -> Vec<Corner> {
        let mut kept = Vec::with_capacity(self.corners.len() + 1);
        for (i, &corner) in self.corners.iter().enumerate() {
            let next = (i + 1) % self.corners.len();
            let (here, there) = (heights[i] * sign, heights[next] * sign);
            let crossing = || corner.at.lerp(self.corners[next].at, here / (here - there));
            if here > 0.0 || (here >= 0.0 && there >= 0.0) {
                kept.push(corner);
            } else if here >= 0.0 {
                kept.push(Corner { edge: None, ..corner });
            }
            if here > 0.0 && there < 0.0 {
                kept.push(Corner { at: crossing(), edge: None });
            } else if here < 0.0 && there > 0.0 {
                kept.push(Corner { at: crossing(), edge: corner.edge });
            }
        }
        kept
    }
}

impl Side {
    /// How far inside this side a point lies, in mm; negative outside.
    pub(super) fn depth_of(&self, point: DVec2) -> f64 {
        (point - self.start).dot(self.inward)
    }
}

impl Plane {
    /// The plane through `corners` by Newell's method (Sutherland, Sproull and Schumacker 1974, "A characterization of
    /// ten hidden-surface algorithms"; from memory), which weighs all corners alike.
    fn through(corners: &[Corner]) -> Option<Self> {
        let (sum, count) = corners.iter().fold((DVec3::ZERO, 0.0), |(sum, n), corner| (sum + corner.at, n + 1.0));
        let anchor = sum / count;
        let normal = doubled_area(corners).try_normalize()?;
        let normal = if normal.z < 0.0 { -normal } else { normal };
        (anchor.is_finite() && normal.is_finite()).then_some(Self { anchor, normal })
    }
}

/// Twice the area of an outline as a vector along its normal.
fn doubled_area(corners: &[Corner]) -> DVec3 {
    let Some(first) = corners.first() else { return DVec3::ZERO };
    let fan = corners.windows(2).map(|pair| (pair[0].at - first.at).cross(pair[1].at - first.at));
    fan.sum()
}

/// Whether an outline of this area and length is wider than `width` on average; no if any is not a number.
pub(super) fn is_wider_than(width: f64, area: f64, length: f64) -> bool {
    area.is_finite() && area > width * length
}

/// The projected sides of an outline, `clockwise` as seen with x to the right and y up.
fn sides(corners: &[Corner], clockwise: bool) -> Vec<Side> {
    let mut points: Vec<DVec2> = Vec::with_capacity(corners.len());
    for corner in corners {
        let point = corner.at.truncate();
        if points.last().is_none_or(|last| last.distance(point) > SAME_POINT) {
            points.push(point);
        }
    }
    while points.len() > 1 && points[0].distance(points[points.len() - 1]) <= SAME_POINT {
        points.pop();
    }
    if clockwise {
        points.reverse();
    }
    let ends = points.iter().cycle().skip(1);
    points
        .iter()
        .zip(ends)
        .map(|(&start, end)| Side { start, inward: (end - start).perp().normalize_or_zero() })
        .collect()
}
