//! The sheet in small, with the pages that cover it.

use super::tile::Grid;
use crate::list::{Node, Role, Shape, Stroke};
use crate::sheet::{SheetLook, sheet_nodes};
use crate::style::{NOTE, WHITE, stroke_for};
use crate::text::{Face, TextRun};
use kurbo::{Affine, BezPath, Point, Rect, Shape as _, Size};
use model::{Document, Layout, Turn};

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

/// The plan in `room`; `grid` is the pages, the first of which bears the number `first`.
pub(super) fn plan(document: &Document, layout: &Layout, grid: Option<&Grid>, room: Rect, first: usize) -> Vec<Node> {
    let (sheet, scale) = (sheet(layout), scale(layout, room.size()));
    let look = SheetLook { turn: Turn::None, names: false, distances: false };
    let place = Affine::translate((room.x0, room.y0)) * Affine::scale(scale);
    let mut nodes =
        vec![Node::Group { place, clip: None, nodes: thickened(sheet_nodes(document, layout, &look), scale) }];
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
    let edges = |seams: Vec<f64>, end: f64| -> Vec<f64> {
        std::iter::once(0.0).chain(seams).chain(std::iter::once(end)).collect()
    };
    let (xs, ys) = (edges(grid.upright_seams(), sheet.width), edges(grid.level_seams(), sheet.height));
    let cells = ys.windows(2).flat_map(|y| xs.windows(2).map(move |x| Rect::new(x[0], y[0], x[1], y[1])));
    for (i, cell) in cells.enumerate() {
        nodes.extend(label(place.transform_rect_bbox(cell), first + i));
    }
    nodes
}

/// The number of a page in the middle of its cell, with the word where there is room; nothing in a cell too small.
fn label(cell: Rect, number: usize) -> Vec<Node> {
    let words = [format!("page {number}"), number.to_string()];
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
