//! Pictures at the size that they have on the page: drawings of `draw` made smaller, their lines as wide as ever.

mod cut;
mod folded;
mod legend;
mod part;
mod sheet;

pub(crate) use cut::cut_states;
pub(crate) use folded::{band, closed, closing, opened};
pub(crate) use legend::legend;
pub(crate) use part::{folding, laid, pattern, source};
pub(crate) use sheet::{named_sheet, scored_turn, scores, sheet_with_offcuts};

use crate::block::Picture;
use crate::style::LEAST_LABEL;
use draw::list::{Image, Node, Role, Shape, Stroke};
use draw::sheet::fitting_text;
use kurbo::{Affine, BezPath, Point, Rect, Size};

/// From a drawing in millimetres to its picture.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Frame {
    /// The part of the drawing that is shown.
    of: Rect,
    scale: f64,
    /// Where its upper left corner lies in the picture.
    at: Point,
    /// Paper round it.
    margin: f64,
}

impl Frame {
    /// As large as it fits into `room`, with a margin round it.
    pub(crate) fn new(of: Rect, room: Size, margin: f64) -> Self {
        let wide = (room.width - 2.0 * margin).max(1.0) / of.width().max(1e-3);
        let high = (room.height - 2.0 * margin).max(1.0) / of.height().max(1e-3);
        Self { of, scale: wide.min(high), at: Point::new(margin, margin), margin }
    }

    /// The same with room above for words.
    pub(crate) fn below(self, words: f64) -> Self {
        Self { at: Point::new(self.at.x, self.at.y + words), ..self }
    }

    pub(crate) fn place(self) -> Affine {
        let shift = self.at.to_vec2() - self.of.origin().to_vec2() * self.scale;
        Affine::translate(shift) * Affine::scale(self.scale)
    }

    /// Where a rectangle of the drawing lies in the picture.
    pub(crate) fn rect(self, rect: Rect) -> Rect {
        self.place().transform_rect_bbox(rect)
    }

    /// The picture with these nodes, which are in its own millimetres.
    pub(crate) fn picture(self, nodes: Vec<Node>) -> Picture {
        let width = self.of.width() * self.scale + self.at.x + self.margin;
        let height = self.of.height() * self.scale + self.at.y + self.margin;
        Picture { size: Size::new(width, height), nodes }
    }
}

/// Nodes of a drawing in a picture: their outlines smaller, their lines as wide as they are; without text, which would be too
/// small to be read.
pub(crate) fn scaled(nodes: &[Node], place: Affine) -> Vec<Node> {
    let mut out = Vec::with_capacity(nodes.len());
    for node in nodes {
        match node {
            Node::Item { role, shape: Shape::Fill { path, colour } } => {
                let shape = Shape::Fill { path: place * path, colour: *colour };
                out.push(Node::Item { role: *role, shape });
            }
            Node::Item { role, shape: Shape::Line { path, stroke } } => {
                let shape = Shape::Line { path: place * path, stroke: stroke.clone() };
                out.push(Node::Item { role: *role, shape });
            }
            Node::Item { role, shape: Shape::Image(image) } => {
                let image = Image {
                    picture: image.picture.clone(),
                    place: place * image.place,
                    clip: place * image.clip.clone(),
                };
                out.push(Node::Item { role: *role, shape: Shape::Image(image) });
            }
            Node::Item { shape: Shape::Text(_), .. } => {}
            Node::Group { place: inner, nodes, .. } => out.extend(scaled(nodes, place * *inner)),
            Node::Tagged { nodes, .. } => out.extend(scaled(nodes, place)),
        }
    }
    out
}

pub(crate) fn fill(role: Role, path: BezPath, colour: draw::style::Colour) -> Node {
    Node::Item { role, shape: Shape::Fill { path, colour } }
}

pub(crate) fn line(role: Role, path: BezPath, stroke: Stroke) -> Node {
    Node::Item { role, shape: Shape::Line { path, stroke } }
}

/// A name in a rectangle of the picture; nothing where it could not be read.
pub(crate) fn label(room: Rect, text: &str) -> Option<Node> {
    fitting_text(room, text).filter(|node| match node {
        Node::Item { shape: Shape::Text(run), .. } => run.size() >= LEAST_LABEL,
        _ => true,
    })
}

/// A closed outline.
pub(crate) fn outline(points: impl IntoIterator<Item = Point>) -> BezPath {
    let mut path = BezPath::new();
    for (i, point) in points.into_iter().enumerate() {
        if i == 0 { path.move_to(point) } else { path.line_to(point) }
    }
    if !path.elements().is_empty() {
        path.close_path();
    }
    path
}
