//! Drawings of known geometry for the tests of this crate.

use draw::list::{Drawing, Node, Role, Shape};
use draw::style::{self, Colour, stroke_for};
use draw::text::{Face, TextRun, Turned};
use kurbo::{Affine, BezPath, Point, Rect, Shape as _, Size};

/// Where the sheet lies, mm: 200 by 150, not on whole points or pixels.
pub(crate) const SHEET: Rect = Rect::new(10.123_456, 5.5, 210.123_456, 155.5);

/// Where the half-clear wash lies, on white.
pub(crate) const WASH: Rect = Rect::new(212.0, 20.0, 218.0, 40.0);

/// The colour of the wash.
pub(crate) const WASH_COLOUR: Colour = style::SELECTION.with_alpha(128);

/// The part of the clipped strip that shows: 10 to 60 in its own coordinates, turned by a 3-4-5 triangle.
pub(crate) const STRIP: Affine = Affine::new([0.8, 0.6, -0.6, 0.8, 120.0, 60.0]);

/// A scored sheet with names, a clipped strip and a wash: every kind of node and shape.
pub(crate) fn sheet() -> Drawing {
    let mut drawing = Drawing::new(Size::new(220.0, 160.0), "A scored sheet. Two folds, one clipped strip & a <wash>.");
    drawing.push(Role::Paper, fill(SHEET, style::PAPER_FRONT));
    drawing.push(Role::Cut, outline(SHEET, Role::Cut));
    drawing.push(Role::Valley, line(Role::Valley, (85.123_456, 5.5), (85.123_456, 155.5)));
    drawing.push(Role::Mountain, line(Role::Mountain, (160.0, 5.5), (160.0, 155.5)));
    drawing.nodes.push(Node::Group {
        place: STRIP,
        clip: Some(Rect::new(10.0, 0.0, 60.0, 8.0)),
        nodes: vec![Node::Item { role: Role::Offcut, shape: fill(Rect::new(0.0, 0.0, 80.0, 20.0), style::PAPER_BACK) }],
    });
    drawing.push(Role::Label, name("Spine", Face::Bold, Point::new(47.6, 80.0), Turned::Upright));
    drawing.push(Role::Label, name("Gusset 1/4 in", Face::Regular, Point::new(83.0, 80.0), Turned::Left));
    drawing.push(
        Role::Note,
        name("Seed swap – naïve & <new> ½ × ✂", Face::Regular, Point::new(110.0, 20.0), Turned::Upright),
    );
    drawing.push(Role::Note, fill(WASH, WASH_COLOUR));
    drawing
}

/// A filled rectangle.
pub(crate) fn fill(area: Rect, colour: Colour) -> Shape {
    Shape::Fill { path: area.to_path(0.0), colour }
}

/// The outline of a rectangle in the stroke of a role.
pub(crate) fn outline(area: Rect, role: Role) -> Shape {
    Shape::Line { path: area.to_path(0.0), stroke: stroke_for(role) }
}

/// A straight line in the stroke of a role.
pub(crate) fn line(role: Role, from: (f64, f64), to: (f64, f64)) -> Shape {
    let mut path = BezPath::new();
    path.move_to(from);
    path.line_to(to);
    Shape::Line { path, stroke: stroke_for(role) }
}

fn name(text: &str, face: Face, centre: Point, turned: Turned) -> Shape {
    Shape::Text(TextRun::new(text, face, 6.0, style::LABEL).centred_on(centre).turned(turned))
}
