//! The folded view against a depth buffer, and against what a maker would see.

#![expect(clippy::unwrap_used, reason = "a test may fail")]

extern crate foliowright_draw as draw;
extern crate model as foliowright_model;

#[path = "../../model/tests/common/mod.rs"]
mod common;

use common::{four_flaps, length};
use draw::folded::{FoldedScene, Posed, View, folded_picture, folded_scene};
use draw::list::{Node, Role, Shape};
use draw::style::stroke_for;
use fold::{Assembly, Folding, assemble, close};
use glam::DVec3;
use kurbo::{Point, Shape as _};
use model::{
    Crease, Datum, Direction, Document, FoldAngle, Layout, Line, LineId, PanelId, Place, Run, Stop, Turn, Work,
};
use proptest::prelude::*;

fn folded(document: &Document) -> (Layout, Assembly, Folding) {
    let layout = Layout::of(document);
    let assembly = assemble(document, &layout).unwrap();
    let folding = close(&assembly);
    (layout, assembly, folding)
}

/// The four flaps, some standing square, some folded to the back.
fn variant(kinds: [u8; 4]) -> Document {
    let mut document = four_flaps();
    for (line, kind) in document.lines.iter_mut().zip(kinds) {
        let direction = if kind & 1 == 0 { Direction::Valley } else { Direction::Mountain };
        let angle = if kind & 2 == 0 { FoldAngle::Flat } else { FoldAngle::Square };
        line.work = Work::Score(Crease { direction, angle, pressed: None });
    }
    document
}

fn covers(outline: &[Point], at: Point) -> bool {
    let mut inside = false;
    for i in 0..outline.len() {
        let (a, b) = (outline[i], outline[(i + 1) % outline.len()]);
        if (a.y > at.y) != (b.y > at.y) && at.x < (b.x - a.x) * (at.y - a.y) / (b.y - a.y) + a.x {
            inside = !inside;
        }
    }
    inside
}

fn seen(scene: &FoldedScene, at: Point) -> Option<(PanelId, bool)> {
    scene.faces.iter().rev().find(|face| covers(&face.outline, at)).map(|face| (face.panel, face.front))
}

/// What a depth buffer shows at a spot: the face nearest to the viewer, or `None` where nothing is, and `Err` where two
/// are too near each other, or an edge too near the spot, to tell.
fn nearest(folding: &Folding, time: f64, view: View, origin: DVec3, at: Point) -> Result<Option<PanelId>, ()> {
    let matrix = view.matrix();
    let mut depths: Vec<(f64, PanelId)> = Vec::new();
    for face in folding.faces(time) {
        let corners: Vec<DVec3> = face.corners.iter().map(|&corner| matrix * (corner - origin)).collect();
        let outline: Vec<Point> = corners.iter().map(|c| Point::new(c.x, c.y)).collect();
        let edge = |i: usize| kurbo::Line::new(outline[i], outline[(i + 1) % outline.len()]);
        let near = (0..outline.len()).any(|i| {
            use kurbo::ParamCurveNearest;
            edge(i).nearest(at, 1e-9).distance_sq < 1e-4
        });
        if near {
            return Err(());
        }
        if covers(&outline, at) {
            let normal = (corners[1] - corners[0]).cross(corners[2] - corners[1]);
            let depth = corners[0].z - (normal.x * (at.x - corners[0].x) + normal.y * (at.y - corners[0].y)) / normal.z;
            depths.push((depth, face.panel));
        }
    }
    depths.sort_by(|a, b| b.0.total_cmp(&a.0));
    match depths.as_slice() {
        [] => Ok(None),
        [first, second, ..] if first.0 - second.0 < 1e-5 => Err(()),
        [first, ..] => Ok(Some(first.1)),
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]
    #[test]
    fn the_folded_view_shows_what_a_depth_buffer_shows(
        kinds in prop::array::uniform4(0..4_u8),
        time in 0.0..4.0_f64,
        yaw in -180.0..180.0_f64,
        pitch in -89.0..89.0_f64,
    ) {
        let (layout, assembly, folding) = folded(&variant(kinds));
        let view = View { yaw, pitch };
        let scene = folded_scene(&layout, &Posed::at(&assembly, &folding, time), &view);
        // The middle of the base of the four flaps.
        let origin = DVec3::new(152.4, -152.4, 0.0);
        for i in 0..24 {
            for j in 0..24 {
                let part = |k: i32| (f64::from(k) + 0.37) / 24.0;
                let at = Point::new(
                    scene.bounds.x0 + part(i) * scene.bounds.width(),
                    scene.bounds.y0 + part(j) * scene.bounds.height(),
                );
                if let Ok(expected) = nearest(&folding, time, view, origin, at) {
                    prop_assert_eq!(seen(&scene, at).map(|(panel, _)| panel), expected, "at {:?}", at);
                }
            }
        }
    }
}

#[test]
fn the_flat_sheet_shows_its_front_the_right_way_up() {
    let (layout, assembly, folding) = folded(&four_flaps());
    let scene = folded_scene(&layout, &Posed::at(&assembly, &folding, 0.0), &View::FRONT);
    let name = |at| seen(&scene, at).map(|(panel, front)| (layout.panel(panel).name.as_str(), front));
    assert_eq!(name(Point::new(0.0, 0.0)), Some(("Base", true)));
    assert_eq!(name(Point::new(-100.0, 0.0)), Some(("Left flap", true)));
    assert_eq!(name(Point::new(0.0, -100.0)), Some(("Top flap", true)));
    assert_eq!(name(Point::new(140.0, 140.0)), None, "the corners are cut away");
    let back = folded_scene(&layout, &Posed::at(&assembly, &folding, 0.0), &View::BACK);
    let name = |at| seen(&back, at).map(|(panel, front)| (layout.panel(panel).name.as_str(), front));
    assert_eq!(name(Point::new(100.0, 0.0)), Some(("Left flap", false)), "seen from behind, left is right");
    assert_eq!(name(Point::new(0.0, -100.0)), Some(("Top flap", false)));
}

/// The length of the strokes drawn as outlines, in mm.
fn outlined(scene: &FoldedScene) -> f64 {
    let length = |node: &Node| match node {
        Node::Item { shape: Shape::Line { path, stroke }, .. } if *stroke == stroke_for(Role::Outline) => {
            path.segments().map(|segment| segment.perimeter(1e-9)).sum()
        }
        _ => 0.0,
    };
    scene.nodes.iter().map(length).sum()
}

#[test]
fn a_panel_that_is_not_convex_is_drawn_with_all_of_its_outline() {
    // A plus of 12 in with shoulders of 3 in: whichever way it is cut into convex parts, some part's edge runs along a
    // shoulder and on through the panel. Its outline is as long as that of the square around it.
    let mut document = four_flaps();
    let cut = |id: u32, turn, distance: &str, from, to| {
        let run = Run { from, to };
        let place = Place::Measured { turn, from: Datum::Edge, distance: length(distance), run };
        Line::new(LineId(id), place, Work::Cut)
    };
    let (edge, near, far) = (Stop::Edge, Stop::At(length("3")), Stop::At(length("9")));
    let mut lines = Vec::new();
    for (i, turn) in [Turn::None, Turn::Once].into_iter().enumerate() {
        for (k, distance) in ["3", "9"].into_iter().enumerate() {
            let id = u32::try_from(4 * i + 2 * k).unwrap() + 1;
            lines.extend([cut(id, turn, distance, edge, near), cut(id + 1, turn, distance, far, edge)]);
        }
    }
    document.lines = lines;
    let (layout, assembly, folding) = folded(&document);
    assert_eq!(assembly.panels.len(), 1);
    let scene = folded_scene(&layout, &Posed::at(&assembly, &folding, 0.0), &View::FRONT);
    assert!((outlined(&scene) - 48.0 * 25.4).abs() < 1e-6, "{} mm", outlined(&scene));
    // With flaps and folds: each of the five squares and rectangles has its own, 24 in and four times 18 in.
    let (layout, assembly, folding) = folded(&four_flaps());
    let scene = folded_scene(&layout, &Posed::at(&assembly, &folding, 0.0), &View::FRONT);
    assert!((outlined(&scene) - 96.0 * 25.4).abs() < 1e-6, "{} mm", outlined(&scene));
}

#[test]
fn closed_from_the_front_the_last_flap_shows_its_back() {
    let (layout, assembly, folding) = folded(&four_flaps());
    let scene = folded_scene(&layout, &Posed::at(&assembly, &folding, 4.0), &View::FRONT);
    // The flaps are folded in the order left, right, top, bottom; each is 3 in deep on a base of 6 in.
    let at = seen(&scene, Point::new(-60.0, 70.0)).map(|(panel, front)| (layout.panel(panel).name.as_str(), front));
    assert_eq!(at, Some(("Bottom flap", false)));
    assert!((scene.bounds.width() - 152.4).abs() < 1e-6 && (scene.bounds.height() - 152.4).abs() < 1e-6);
    let picture = folded_picture(&scene, 100.0, "The folio, closed.");
    assert!((picture.size.width - 100.0).abs() < 1e-9 && (picture.size.height - 100.0).abs() < 1e-9);
}

#[test]
fn looking_from_below_and_the_right_shows_the_walls_there() {
    // The right flap stands: from the right its outer side, the back, is seen.
    let (layout, assembly, folding) = folded(&variant([0, 2, 0, 0]));
    let scene = folded_scene(&layout, &Posed::at(&assembly, &folding, 2.0), &View { yaw: 60.0, pitch: 0.0 });
    let right = layout.panels.iter().find(|panel| panel.name == "Right flap").unwrap().id;
    let faces: Vec<bool> = scene.faces.iter().filter(|face| face.panel == right).map(|face| face.front).collect();
    assert_eq!(faces, [false]);
}
