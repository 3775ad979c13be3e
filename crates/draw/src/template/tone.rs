//! The tone of what is printed on the sheet itself: pale, so that it does not show on the finished work.

use crate::list::{Node, Shape, Stroke};
use crate::style::{PRINTED_LINE, PRINTED_TEXT, paled};
use crate::text::TextRun;

/// The same with pale inks; tints are pale as they are.
pub(super) fn pale(nodes: Vec<Node>) -> Vec<Node> {
    let one = |node| match node {
        Node::Item { role, shape } => Node::Item { role, shape: pale_shape(shape) },
        Node::Group { place, clip, nodes } => Node::Group { place, clip, nodes: pale(nodes) },
        Node::Tagged { tags, nodes } => Node::Tagged { tags, nodes: pale(nodes) },
    };
    nodes.into_iter().map(one).collect()
}

fn pale_shape(shape: Shape) -> Shape {
    match shape {
        Shape::Line { path, stroke } => {
            Shape::Line { path, stroke: Stroke { colour: paled(stroke.colour, PRINTED_LINE), ..stroke } }
        }
        Shape::Text(run) => {
            let ink = paled(run.colour(), PRINTED_TEXT);
            Shape::Text(TextRun::new(run.text(), run.face(), run.size(), ink).turned(run.reading()).at(run.start()))
        }
        Shape::Fill { .. } | Shape::Image(_) => shape,
    }
}
