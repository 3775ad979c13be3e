//! What the lines and tints of the pictures mean.

use super::{fill, line, outline};
use crate::block::Picture;
use crate::style::SMALL;
use draw::laid::hatching;
use draw::list::{Node, Role, Shape};
use draw::sheet::role_of;
use draw::style::{LABEL, OFFCUT, PART_FRONT, stroke_for};
use draw::text::{Face, TextRun};
use kurbo::{BezPath, Point, Rect, Size};
use model::{Document, Layout, Part};

/// How wide a sample is, and each column.
const SAMPLE: f64 = 14.0;
const COLUMN: f64 = 84.0;
const ROW: f64 = 5.4;

/// The legend of a design: what is in it, in two columns.
pub(crate) fn legend(document: &Document, layout: &Layout) -> Picture {
    let has = |role: Role| document.lines.iter().any(|line| role_of(Some(line.work)) == role);
    let mut entries: Vec<(&str, Role)> = Vec::new();
    let lines = [
        ("cut", Role::Cut),
        ("valley: the fronts come together", Role::Valley),
        ("mountain: the backs come together", Role::Mountain),
        ("folds either way", Role::EitherWay),
        ("pencil line, neither scored nor cut", Role::Guide),
    ];
    entries.extend(lines.into_iter().filter(|(_, role)| has(*role)));
    if layout.offcuts().next().is_some() {
        entries.push(("comes off", Role::Offcut));
    }
    if document.parts.iter().any(Part::is_from_offcut) {
        entries.push(("a part", Role::Part));
    }
    if layout.parts.iter().any(|part| !part.glue.is_empty()) {
        entries.push(("glue", Role::Glue));
    }
    let mut nodes = Vec::new();
    let rows = entries.len().div_ceil(2).max(1);
    for (i, (words, role)) in entries.iter().enumerate() {
        let (column, row) = (crate::style::times(i / rows), crate::style::times(i % rows));
        let at = Point::new(column * COLUMN, row * ROW + ROW / 2.0);
        nodes.extend(sample(*role, at));
        let run = TextRun::new(words, Face::Regular, SMALL, LABEL);
        nodes.push(Node::Item {
            role: Role::Note,
            shape: Shape::Text(run.at(Point::new(at.x + SAMPLE + 3.0, at.y + SMALL * 0.36))),
        });
    }
    Picture { size: Size::new(COLUMN * 2.0, crate::style::times(rows) * ROW), nodes }
}

fn sample(role: Role, at: Point) -> Vec<Node> {
    let slip = Rect::new(at.x, at.y - 1.5, at.x + SAMPLE, at.y + 1.5);
    let corners = [(slip.x0, slip.y0), (slip.x1, slip.y0), (slip.x1, slip.y1), (slip.x0, slip.y1)].map(Point::from);
    let edge = || line(role, outline(corners), stroke_for(Role::Outline));
    match role {
        Role::Offcut => vec![fill(role, outline(corners), OFFCUT), edge()],
        Role::Part => vec![fill(role, outline(corners), PART_FRONT), edge()],
        Role::Glue => hatching(&[corners.to_vec()]).into_iter().chain([edge()]).collect(),
        _ => {
            let mut path = BezPath::new();
            path.move_to(at);
            path.line_to((at.x + SAMPLE, at.y));
            vec![line(role, path, stroke_for(role))]
        }
    }
}
