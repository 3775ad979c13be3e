//! The folio folded: an orthographic view as a display list, the nearer panels over the farther.

use crate::artwork::{Printed, image};
use crate::hidden::{Corner, Face, Lower, back_to_front_as};
use crate::list::{Drawing, Node, Picture, Role, Shape, Stroke};
use crate::sheet::add_polygon;
use crate::style::{Colour, OUTLINE, PAPER_BACK, PAPER_FRONT, PART_BACK, PART_FRONT, THIN_WIDTH, stroke_for};
use fold::overlap::edges;
use fold::{Assembly, Folding, PanelShape, Woven};
use glam::{DAffine3, DMat3, DVec2, DVec3};
use kurbo::{Affine, BezPath, Point, Rect, Size};
use model::{Layout, PanelId};
use std::collections::BTreeMap;
use std::sync::Arc;

/// Where the maker looks from, in degrees.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct View {
    /// How far she has gone round to the right, 180 being straight behind.
    pub yaw: f64,
    /// How far above she looks from, -90 to 90.
    pub pitch: f64,
}

impl View {
    /// Straight at the front.
    pub const FRONT: Self = Self { yaw: 0.0, pitch: 0.0 };
    /// Straight at the back.
    pub const BACK: Self = Self { yaw: 180.0, pitch: 0.0 };
    /// At the front, from the lower right.
    pub const SLANTED: Self = Self { yaw: 28.0, pitch: -34.0 };

    /// How far a flat sheet is seen to reach to the side and up from its middle, which reaches so far to the side and up as it
    /// lies.
    #[must_use]
    pub fn reach(self, wide: f64, high: f64) -> (f64, f64) {
        let to = self.matrix();
        let along = |row: usize| (to.col(0)[row] * wide).abs() + (to.col(1)[row] * high).abs();
        (along(0), along(1))
    }

    /// From the world (x right, y up the sheet, z out of its front) to the view (x right, y down, z towards her).
    #[must_use]
    pub fn matrix(self) -> DMat3 {
        let (yaw, pitch) = (self.yaw.to_radians(), self.pitch.to_radians());
        let (sy, cy) = (libm::sin(yaw), libm::cos(yaw));
        let (sp, cp) = (libm::sin(pitch), libm::cos(pitch));
        // Going round to the right turns the folio to the left, and going up turns its top towards her.
        let round = DMat3::from_cols(DVec3::new(cy, 0.0, sy), DVec3::Y, DVec3::new(-sy, 0.0, cy));
        let tip = DMat3::from_cols(DVec3::X, DVec3::new(0.0, cp, sp), DVec3::new(0.0, -sp, cp));
        DMat3::from_diagonal(DVec3::new(1.0, -1.0, 1.0)) * tip * round
    }
}

/// The panels where they are at one moment.
#[derive(Debug, Clone, PartialEq)]
pub struct Posed<'a> {
    /// The paper.
    pub assembly: &'a Assembly,
    /// Where each of its panels is.
    pub poses: Vec<DAffine3>,
    /// What lies on what where that does not tell.
    pub woven: &'a [Woven],
}

impl<'a> Posed<'a> {
    /// The folio at a time of its folding: 0 is the flat sheet, the number of steps the closed folio.
    #[must_use]
    pub fn at(assembly: &'a Assembly, folding: &'a Folding, time: f64) -> Self {
        Self { assembly, poses: folding.pose(time), woven: folding.woven(time) }
    }

    /// What the poses don't tell of two panels in one plane: whether the first is behind the second for one who looks along
    /// `matrix`.
    fn behind(&self, matrix: &DMat3) -> BTreeMap<(PanelId, PanelId), bool> {
        let normal = |panel: usize| *matrix * self.poses[panel].transform_vector3(DVec3::Z);
        let id = |panel: usize| self.assembly.panels[panel].id;
        let known = |pair: &&Woven| pair.panel.max(pair.other) < self.poses.len().min(self.assembly.panels.len());
        let pairs = self.woven.iter().filter(known).flat_map(|&Woven { panel, other, on_front }| {
            let own = normal(panel);
            let is_behind = (own.z > 0.0) == on_front;
            let is_flat = 1.0 - own.dot(normal(other)).abs() < SAME_WAY;
            let pair = [((id(panel), id(other)), is_behind), ((id(other), id(panel)), !is_behind)];
            pair.into_iter().filter(move |_| is_flat)
        });
        pairs.collect()
    }
}

/// How far the cosine between two panels may be from 1 and they still lie flat on one another.
const SAME_WAY: f64 = 1e-9;

/// A face of a panel, or a part of one, as it is seen.
#[derive(Debug, Clone, PartialEq)]
pub struct FoldedFace {
    /// The panel.
    pub panel: PanelId,
    /// Whether its front is seen, else its back.
    pub front: bool,
    /// Its outline on the view.
    pub outline: Vec<Point>,
}

/// The folio as it is seen: millimetres, x to the right, y down, the middle of the base at the origin.
#[derive(Debug, Clone, PartialEq)]
pub struct FoldedScene {
    /// What to draw, back to front.
    pub nodes: Vec<Node>,
    /// The faces, back to front: the last one around a point is the one seen there.
    pub faces: Vec<FoldedFace>,
    /// The rectangle around all of it.
    pub bounds: Rect,
}

/// Corners nearer than this to an outline lie on it, mm: a nanometre, the unit of authored lengths.
const ON_OUTLINE: f64 = 1e-6;

/// How much of the outline's ink darkens a panel seen at a right angle to its face's best light, of 255.
const DEEPEST_SHADE: f64 = 70.0;

/// The folio at a moment, plain.
#[must_use]
pub fn folded_scene(layout: &Layout, posed: &Posed<'_>, view: &View) -> FoldedScene {
    printed_scene(layout, posed, view, &Printed::NOTHING)
}

/// The same with what is printed on its papers.
#[must_use]
pub fn printed_scene(layout: &Layout, posed: &Posed<'_>, view: &View, printed: &Printed<'_>) -> FoldedScene {
    let Posed { assembly, poses, .. } = posed;
    let matrix = view.matrix();
    let origin = middle_of_base(layout, assembly);
    let to_view = |pose: &DAffine3, point: DVec2| matrix * (pose.transform_point3(point.extend(0.0)) - origin);
    let mut faces = Vec::new();
    for (panel, pose) in assembly.panels.iter().zip(poses) {
        let normal = matrix * pose.transform_vector3(DVec3::Z);
        for piece in &panel.convex {
            let corners = boundary(piece, panel).into_iter().enumerate();
            let corners = corners.map(|(i, (from, own))| Corner { at: to_view(pose, from), edge: own.then_some(i) });
            let corners = corners.collect();
            let is_part = layout.part_of(panel.id).is_some();
            faces.push(Face { corners, tag: Seen { panel: panel.id, front: normal.z > 0.0, is_part, normal } });
        }
    }
    let behind = posed.behind(&matrix);
    let said = |first: &Seen, second: &Seen| {
        let is_behind = behind.get(&(first.panel, second.panel))?;
        Some(if *is_behind { Lower::First } else { Lower::Second })
    };
    let ordered = back_to_front_as(faces, said);
    let mut scene = FoldedScene { nodes: Vec::new(), faces: Vec::new(), bounds: Rect::ZERO };
    let points = ordered.iter().flat_map(|face| face.corners.iter().map(|corner| flat(corner.at)));
    scene.bounds = bounds(points);
    for parts in ordered.chunk_by(|a, b| a.tag.panel == b.tag.panel) {
        let print = parts.first().and_then(|part| {
            let Seen { panel, front, .. } = part.tag;
            let face = if front { model::Face::Front } else { model::Face::Back };
            let (picture, on_sheet) = printed.on_panel(layout, panel, face)?;
            let pose = poses.get(assembly.place(panel)?)?;
            // The panel's sheet has y down, the world y up.
            let at = |x, y| flat(to_view(pose, DVec2::new(x, y)));
            let origin = at(0.0, 0.0);
            let (right, down) = (at(1.0, 0.0) - origin, at(0.0, -1.0) - origin);
            Some((picture, Affine::new([right.x, right.y, down.x, down.y, origin.x, origin.y]) * on_sheet))
        });
        paint(parts, print, &mut scene);
    }
    scene
}

/// The rectangle around the folio in a pose, as it is seen: that of [`FoldedScene::bounds`] without looking at what hides
/// what.
#[must_use]
pub fn bounds_in_pose(layout: &Layout, posed: &Posed<'_>, view: &View) -> Rect {
    let Posed { assembly, poses, .. } = posed;
    let (matrix, origin) = (view.matrix(), middle_of_base(layout, assembly));
    let placed = assembly.panels.iter().zip(poses);
    bounds(placed.flat_map(|(panel, pose)| {
        let points = panel.convex.iter().flatten();
        points.map(move |&point| flat(matrix * (pose.transform_point3(point.extend(0.0)) - origin)))
    }))
}

/// A picture of the folio in a pose, with a margin, scaled so that its longer side is `longest` mm.
#[must_use]
pub fn folded_picture(scene: &FoldedScene, longest: f64, description: &str) -> Drawing {
    framed_picture(scene, scene.bounds, longest, description)
}

/// The same with `frame` of the view within the margin, whatever the folio reaches to.
#[must_use]
pub fn framed_picture(scene: &FoldedScene, frame: Rect, longest: f64, description: &str) -> Drawing {
    const MARGIN: f64 = 6.0;
    let (w, h) = (frame.width().max(1.0), frame.height().max(1.0));
    let scale = (longest - 2.0 * MARGIN).max(1.0) / w.max(h);
    let mut drawing = Drawing::new(Size::new(w * scale + 2.0 * MARGIN, h * scale + 2.0 * MARGIN), description);
    let shift = Point::new(MARGIN, MARGIN).to_vec2() - frame.origin().to_vec2() * scale;
    let place = Affine::translate(shift) * Affine::scale(scale);
    drawing.nodes.push(Node::Group { place, clip: None, nodes: scene.nodes.clone() });
    drawing
}

/// What is carried through the ordering of faces.
#[derive(Debug, Clone, Copy)]
struct Seen {
    panel: PanelId,
    front: bool,
    is_part: bool,
    normal: DVec3,
}

fn middle_of_base(layout: &Layout, assembly: &Assembly) -> DVec3 {
    let base = layout.panel(assembly.panels[assembly.base].id);
    let (low, high) = base.bounds();
    DVec3::new((low.x.mm() + high.x.mm()) / 2.0, -(low.y.mm() + high.y.mm()) / 2.0, 0.0)
}

/// Paints parts of one panel that lie beside one another in the order: first all of the paper, then the edges, so that no
/// part hides half of another's edge.
///
/// What is printed lies over the paper, and the shade over both.
fn paint(parts: &[Face<Seen>], print: Option<(&Arc<Picture>, Affine)>, scene: &mut FoldedScene) {
    let mut all = BezPath::new();
    for face in parts {
        let Seen { panel, front, is_part, normal } = face.tag;
        let outline: Vec<Point> = face.corners.iter().map(|corner| flat(corner.at)).collect();
        let mut path = BezPath::new();
        add_polygon(&mut path, outline.iter().copied());
        let ground = match (front, is_part) {
            (true, false) => PAPER_FRONT,
            (false, false) => PAPER_BACK,
            (true, true) => PART_FRONT,
            (false, true) => PART_BACK,
        };
        let colour = if print.is_some() { ground } else { shade(normal).over(ground) };
        all.extend(path.iter());
        scene.nodes.push(Node::Item { role: Role::Paper, shape: Shape::Fill { path, colour } });
        scene.faces.push(FoldedFace { panel, front, outline });
        // Edges that are not the panel's own only part its fill: a hairline of the same colour closes the seam. Under print
        // it would be seen beside it, on what was painted before.
        if print.is_none() {
            let seam = Stroke { width: THIN_WIDTH, colour, dashes: Vec::new(), dash_start: 0.0 };
            scene.nodes.extend(edges_of(face, false, seam));
        }
    }
    if let (Some((picture, place)), Some(first)) = (print, parts.first()) {
        let colour = shade(first.tag.normal);
        let nodes = image(Role::Paper, picture, place, all.clone())
            .into_iter()
            .chain([Node::Item { role: Role::Paper, shape: Shape::Fill { path: all, colour } }])
            .collect();
        scene.nodes.push(Node::Group { place: Affine::IDENTITY, clip: None, nodes });
    }
    for face in parts {
        scene.nodes.extend(edges_of(face, true, stroke_for(Role::Outline)));
    }
}

/// The edges of a part that are the panel's own, or those that are not, as one line.
fn edges_of(face: &Face<Seen>, own: bool, stroke: Stroke) -> Option<Node> {
    let mut path = BezPath::new();
    let n = face.corners.len();
    for (i, corner) in face.corners.iter().enumerate().filter(|(_, corner)| corner.edge.is_some() == own) {
        path.move_to(flat(corner.at));
        path.line_to(flat(face.corners[(i + 1) % n].at));
    }
    (!path.elements().is_empty()).then_some(Node::Item { role: Role::Outline, shape: Shape::Line { path, stroke } })
}

/// Paper seen straight on is as light as it is; the more it turns away, the darker. The light comes from the upper
/// left, so that walls on either side differ.
fn shade(normal: DVec3) -> Colour {
    let facing = if normal.z < 0.0 { -normal } else { normal };
    let light = DVec3::new(-0.35, -0.45, 0.82);
    let missing = (1.0 - facing.dot(light) / light.length()).clamp(0.0, 1.0);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "between 0 and DEEPEST_SHADE")]
    let parts = (missing * DEEPEST_SHADE).round() as u8;
    OUTLINE.with_alpha(parts)
}

fn flat(point: DVec3) -> Point {
    Point::new(point.x, point.y)
}

fn bounds(points: impl Iterator<Item = Point>) -> Rect {
    points.map(|point| Rect::from_points(point, point)).reduce(|all, one| all.union(one)).unwrap_or(Rect::ZERO)
}

/// The corners of a convex part of a panel, each with whether the edge that leaves it is the panel's own.
///
/// A part's edge may run partly along the panel's outline and partly through its inside, as at the shoulders of a
/// plus, so edges are parted at corners of the outline where that changes. The corners that come of it are straight.
fn boundary(piece: &[DVec2], panel: &PanelShape) -> Vec<(DVec2, bool)> {
    let sides = || std::iter::once(&panel.outline).chain(&panel.holes).flat_map(|outline| edges(outline));
    let mut corners = Vec::with_capacity(piece.len());
    for (from, to) in edges(piece) {
        let within = |corner: &DVec2| {
            lies_on(*corner, from, to) && corner.distance(from) > ON_OUTLINE && corner.distance(to) > ON_OUTLINE
        };
        let mut stops: Vec<DVec2> = sides().map(|(corner, _)| corner).filter(within).collect();
        stops.sort_by(|a, b| a.distance_squared(from).total_cmp(&b.distance_squared(from)));
        stops.dedup();
        stops.insert(0, from);
        let ends = stops.iter().skip(1).chain([&to]);
        let own = |middle: DVec2| sides().any(|(a, b)| lies_on(middle, a, b));
        let mut parts: Vec<(DVec2, bool)> =
            stops.iter().zip(ends).map(|(&start, &end)| (start, own((start + end) / 2.0))).collect();
        parts.dedup_by_key(|(_, own)| *own);
        corners.extend(parts);
    }
    corners
}

fn lies_on(point: DVec2, a: DVec2, b: DVec2) -> bool {
    let along = b - a;
    let t = ((point - a).dot(along) / along.length_squared().max(f64::MIN_POSITIVE)).clamp(0.0, 1.0);
    (a + along * t - point).length() <= ON_OUTLINE
}
