//! The sheet in small, with the pages that cover it.

use super::bar::text_bounds;
use super::{Design, Grid};
use crate::list::{Node, Role, Shape, Stroke};
use crate::sheet::{SheetLook, part_nodes};
use crate::style::{NOTE, WHITE, stroke_for};
use crate::text::{Face, TextRun};
use kurbo::{Affine, BezPath, Point, Rect, Shape as _, Size};
use model::{Layout, Turn};

/// How many times smaller the sheet is shown in `room`; tall sheets are held to little more than its width.
fn scale(layout: &Layout, room: Size) -> f64 {
    let sheet = sheet(layout);
    (room.width / sheet.width).min((room.width * 1.1).min(room.height) / sheet.height)
}

fn sheet(layout: &Layout) -> Size {
    Size::new(layout.size.width().mm(), layout.size.height().mm())
}

/// The plan's height in `room`, mm.
pub(super) fn height(layout: &Layout, room: Size) -> f64 {
    sheet(layout).height * scale(layout, room)
}

/// The plan in `room`, with the parts that are cut from offcuts; `grid` is the pages, and `number` gives that which each
/// of them bears, counted from 0 among those that are there.
pub(super) fn plan(design: &Design<'_>, grid: Option<&Grid>, room: Rect, number: impl Fn(usize) -> usize) -> Vec<Node> {
    let (document, layout) = (design.document, design.layout);
    let (sheet, scale) = (sheet(layout), scale(layout, room.size()));
    let look = SheetLook { turn: Turn::None, names: false, distances: false };
    let place = Affine::translate((room.x0, room.y0)) * Affine::scale(scale);
    let mut drawn = part_nodes(document, layout, design.furnishing, &look, sheet.to_rect());
    drawn.retain(|node| text_bounds(node).is_none());
    let mut nodes = vec![Node::Group { place, clip: None, nodes: thickened(drawn, scale) }];
    let Some(grid) = grid else { return nodes };
    let mut seams = BezPath::new();
    for x in grid.upright_seams() {
        seams.move_to(place * Point::new(x, 0.0));
        seams.line_to(place * Point::new(x, sheet.height));
    }
    for y in grid.level_seams() {
        seams.move_to(place * Point::new(0.0, y));
        seams.line_to(place * Point::new(sheet.width, y));
    }
    if !seams.elements().is_empty() {
        let stroke = Stroke { width: 0.5, dashes: vec![0.6, 1.6], ..stroke_for(Role::Registration) };
        nodes.push(Node::Item { role: Role::Note, shape: Shape::Line { path: seams, stroke } });
    }
    let mut there = 0;
    for (cell, held) in grid.cells() {
        let cell = place.transform_rect_bbox(cell);
        if held {
            nodes.extend(label(cell, [format!("page {}", number(there)), number(there).to_string()]));
            there += 1;
        } else {
            nodes.extend(label(cell, ["left out".to_owned(), "–".to_owned()]));
        }
    }
    nodes
}

/// The first of two wordings that has room in the middle of a cell; nothing in a cell too small.
fn label(cell: Rect, words: [String; 2]) -> Vec<Node> {
    let runs = words.map(|text| TextRun::new(&text, Face::Bold, 3.4, NOTE).centred_on(cell.center()));
    let fits = |run: &TextRun| run.bounds().width() + 2.0 < cell.width() && run.bounds().height() < cell.height();
    let Some(run) = runs.into_iter().find(fits) else { return Vec::new() };
    let patch = run.bounds().inflate(0.8, 0.2).to_path(0.1);
    [Shape::Fill { path: patch, colour: WHITE.with_alpha(0xD0) }, Shape::Text(run)]
        .map(|shape| Node::Item { role: Role::Note, shape })
        .into()
}

/// Lines as wide on the plan as on the sheet itself.
fn thickened(nodes: Vec<Node>, scale: f64) -> Vec<Node> {
    let wider = |node| match node {
        Node::Item { role, shape: Shape::Line { path, mut stroke } } => {
            stroke.width /= scale;
            stroke.dashes.iter_mut().for_each(|dash| *dash /= scale);
            Node::Item { role, shape: Shape::Line { path, stroke } }
        }
        other => other,
    };
    nodes.into_iter().map(wider).collect()
}
