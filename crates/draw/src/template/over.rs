//! The back of a printed page: what is on the sheet as it is seen from its back, so that both print on one another.

use crate::list::{Image, Node, Role, Shape};
use crate::style::stroke_for;
use crate::text::{TextRun, Turned};
use kurbo::{Affine, Point, Size};
use model::Face;

/// How a page is turned over: about its long edge, as printers do for a page that is read like a book.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Flip {
    /// From left to right, for a page that is no wider than high.
    Sideways,
    /// From top to bottom, for a page on its side.
    Endwise,
}

impl Flip {
    /// That about the long edge of a page.
    pub(super) const fn about_long_edge(page: Size) -> Self {
        if page.width > page.height { Self::Endwise } else { Self::Sideways }
    }

    /// Where what lies on an area comes to lie.
    pub(super) const fn map(self, area: Size) -> Affine {
        match self {
            Self::Sideways => Affine::new([-1.0, 0.0, 0.0, 1.0, area.width, 0.0]),
            Self::Endwise => Affine::new([1.0, 0.0, 0.0, -1.0, 0.0, area.height]),
        }
    }

    /// "left to right".
    pub(super) const fn words(self) -> &'static str {
        match self {
            Self::Sideways => "left to right",
            Self::Endwise => "top to bottom",
        }
    }
}

/// The role of a line on a face: what is a valley from the front is a mountain from the back.
pub(super) const fn seen_on(face: Face, role: Role) -> Role {
    match (face, role) {
        (Face::Back, Role::Valley) => Role::Mountain,
        (Face::Back, Role::Mountain) => Role::Valley,
        _ => role,
    }
}

/// Lines as they are seen on a face.
pub(super) fn lines_seen_on(face: Face, nodes: Vec<Node>) -> Vec<Node> {
    let seen = |node| match node {
        Node::Item { role, shape: Shape::Line { path, .. } } if seen_on(face, role) != role => {
            let role = seen_on(face, role);
            Node::Item { role, shape: Shape::Line { path, stroke: stroke_for(role) } }
        }
        other => other,
    };
    nodes.into_iter().map(seen).collect()
}

/// What lies on an area, turned over with it. Text stays readable and in its place: names still read upright or upwards,
/// and a distance still reads upwards when the edge that it is measured from lies at the left.
pub(super) fn turned_over(nodes: Vec<Node>, flip: Flip, area: Size) -> Vec<Node> {
    let map = flip.map(area);
    let over = |node| match node {
        Node::Item { role, shape } => Node::Item { role, shape: shape_over(role, shape, flip, map) },
        Node::Group { place, clip, nodes } => Node::Group { place: map * place, clip, nodes },
        Node::Tagged { tags, nodes } => Node::Tagged { tags, nodes: turned_over(nodes, flip, area) },
    };
    nodes.into_iter().map(over).collect()
}

fn shape_over(role: Role, shape: Shape, flip: Flip, map: Affine) -> Shape {
    match shape {
        Shape::Fill { path, colour } => Shape::Fill { path: map * path, colour },
        Shape::Line { path, stroke } => Shape::Line { path: map * path, stroke },
        Shape::Image(image) => Shape::Image(Image { place: map * image.place, clip: map * image.clip, ..image }),
        Shape::Text(run) => {
            let reading = if role == Role::Dimension { distance_over(flip, run.reading()) } else { run.reading() };
            let middle = map * middle(&run);
            Shape::Text(run.turned(reading).centred_on(middle))
        }
    }
}

/// The sheet is laid as the distance reads and then turned over away from the maker, so that what was up is down.
const fn distance_over(flip: Flip, reading: Turned) -> Turned {
    match (flip, reading) {
        (Flip::Sideways, Turned::Left) => Turned::Right,
        (Flip::Sideways, Turned::Right) => Turned::Left,
        (Flip::Endwise, Turned::Upright) => Turned::Over,
        (Flip::Endwise, Turned::Over) => Turned::Upright,
        (_, reading) => reading,
    }
}

/// The spot of a run that [`TextRun::centred_on`] places.
fn middle(run: &TextRun) -> Point {
    let (along, up) = run.reading().axes();
    run.start() + along * (run.width() / 2.0) + up * (run.face().metrics().cap_height * run.size() / 2.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::style::LABEL;
    use crate::text::Face as TypeFace;

    const LETTER: Size = Size::new(215.9, 279.4);

    fn over(role: Role, reading: Turned, flip: Flip) -> TextRun {
        let run =
            TextRun::new("3 in", TypeFace::Regular, 2.8, LABEL).turned(reading).centred_on(Point::new(20.0, 30.0));
        let nodes = turned_over(vec![Node::Item { role, shape: Shape::Text(run) }], flip, LETTER);
        let [Node::Item { shape: Shape::Text(run), .. }] = nodes.as_slice() else { panic!("{nodes:?}") };
        run.clone()
    }

    #[test]
    fn a_page_is_turned_about_its_long_edge() {
        // Flipped on the long edge an upright page turns like a book's, one on its side like a calendar's.
        assert_eq!(Flip::about_long_edge(LETTER), Flip::Sideways);
        assert_eq!(Flip::about_long_edge(Size::new(279.4, 215.9)), Flip::Endwise);
    }

    /// Held with the back up, the distance's edge at the left: turned over away from the maker, up has become down.
    #[test]
    fn text_stays_in_place_and_readable() {
        for (flip, at) in [(Flip::Sideways, (195.9, 30.0)), (Flip::Endwise, (20.0, 249.4))] {
            for reading in [Turned::Upright, Turned::Left] {
                let name = over(Role::Label, reading, flip);
                assert_eq!(name.reading(), reading);
                assert!((middle(&name) - Point::from(at)).hypot() < 1e-9);
            }
        }
        assert_eq!(over(Role::Dimension, Turned::Left, Flip::Sideways).reading(), Turned::Right);
        assert_eq!(over(Role::Dimension, Turned::Upright, Flip::Sideways).reading(), Turned::Upright);
        assert_eq!(over(Role::Dimension, Turned::Left, Flip::Endwise).reading(), Turned::Left);
        assert_eq!(over(Role::Dimension, Turned::Upright, Flip::Endwise).reading(), Turned::Over);
    }
}
