//! What every back end asks of a drawing before it starts: finite coordinates, a page with an area, shallow groups.

use crate::OutputError;
use draw::list::{Drawing, Node, Shape, Stroke, TagKind};
use kurbo::{Affine, BezPath, PathEl, Point};

/// How far from the origin anything may lie, mm: a kilometre. Beyond it single precision says nothing useful.
pub const MAX_REACH: f64 = 1.0e6;

/// How deep groups may nest; back ends recurse, and the stack is finite.
pub const MAX_DEPTH: usize = 64;

/// The longest side of a page in mm: 14 400 points, the most that PDF 1.7 (annex C.2) allows.
const MAX_PAGE: f64 = 5080.0;

/// The shortest side of a page in mm: 3 points, the least of PDF 1.7 (annex C.2), rounded; less would be no page when
/// it is written with a few decimals.
const MIN_PAGE: f64 = 1.0;

/// Dashes that repeat within this, mm, are drawn as a solid line: no printer shows them, and they are slow to draw.
const FINEST_DASHES: f64 = 0.01;

/// Checks one page, numbered from 1.
pub(crate) fn check(drawing: &Drawing, page: usize) -> Result<(), OutputError> {
    let (width, height) = (drawing.size.width, drawing.size.height);
    if !(reachable(width) && reachable(height)) {
        return Err(OutputError::NotFinite { page, what: "page size" });
    }
    let possible = MIN_PAGE..=MAX_PAGE;
    if !(possible.contains(&width) && possible.contains(&height)) {
        return Err(OutputError::PageSize { page, width, height });
    }
    check_nodes(&drawing.nodes, Affine::IDENTITY, page, 0)
}

/// The dashes of a stroke that can be drawn; empty for a solid line.
pub(crate) fn dashes(stroke: &Stroke) -> &[f64] {
    let even = stroke.dashes.len().is_multiple_of(2);
    let positive = stroke.dashes.iter().all(|&length| length >= 0.0);
    let total: f64 = stroke.dashes.iter().sum();
    if even && positive && total > FINEST_DASHES { &stroke.dashes } else { &[] }
}

/// Whether a line of this stroke leaves a mark. A width of nothing means a hairline to some readers and nothing to
/// others; here it means nothing.
pub(crate) fn is_seen(stroke: &Stroke) -> bool {
    stroke.width > 0.0 && stroke.colour.a > 0
}

fn check_nodes(nodes: &[Node], place: Affine, page: usize, depth: usize) -> Result<(), OutputError> {
    if depth > MAX_DEPTH {
        return Err(OutputError::TooDeep { page });
    }
    for node in nodes {
        match node {
            Node::Item { role, shape } => {
                if matches!(shape, Shape::Image(image) if !crate::image::is_whole(&image.picture)) {
                    return Err(OutputError::Picture { page });
                }
                if !shape_is_sound(shape, place) {
                    return Err(OutputError::NotFinite { page, what: role.title() });
                }
            }
            Node::Tagged { tags, nodes } => {
                let bounds = tags.iter().filter_map(|tag| match &tag.kind {
                    TagKind::Figure { bounds, .. } => Some(bounds),
                    _ => None,
                });
                if !bounds.flat_map(|bounds| [bounds.x0, bounds.y0, bounds.x1, bounds.y1]).all(reachable) {
                    return Err(OutputError::NotFinite { page, what: "picture" });
                }
                check_nodes(nodes, place, page, depth + 1)?;
            }
            Node::Group { place: inner, clip, nodes } => {
                let both = place * *inner;
                let numbers = inner.as_coeffs().into_iter().chain(both.as_coeffs());
                let corners = clip.iter().flat_map(|clip| [clip.x0, clip.y0, clip.x1, clip.y1]);
                if !numbers.chain(corners).all(reachable) {
                    return Err(OutputError::NotFinite { page, what: "transform" });
                }
                check_nodes(nodes, both, page, depth + 1)?;
            }
        }
    }
    Ok(())
}

fn shape_is_sound(shape: &Shape, place: Affine) -> bool {
    match shape {
        Shape::Fill { path, .. } => path_is_sound(path, place),
        Shape::Line { path, stroke } => {
            let numbers = [stroke.width, stroke.dash_start];
            numbers.iter().chain(&stroke.dashes).all(|&number| reachable(number)) && path_is_sound(path, place)
        }
        Shape::Text(run) => {
            let bounds = run.bounds();
            let corners = [Point::new(bounds.x0, bounds.y0), Point::new(bounds.x1, bounds.y1)];
            reachable(run.size()) && corners.into_iter().all(|point| point_is_sound(point, place))
        }
        Shape::Image(image) => {
            image.place.as_coeffs().into_iter().all(reachable)
                && path_is_sound(&crate::image::extent(image.place), place)
                && path_is_sound(&image.clip, place)
        }
    }
}

fn path_is_sound(path: &BezPath, place: Affine) -> bool {
    path.elements().iter().all(|element| {
        let points: &[Point] = match element {
            PathEl::MoveTo(a) | PathEl::LineTo(a) => &[*a],
            PathEl::QuadTo(a, b) => &[*a, *b],
            PathEl::CurveTo(a, b, c) => &[*a, *b, *c],
            PathEl::ClosePath => &[],
        };
        points.iter().all(|&point| point_is_sound(point, place))
    })
}

fn point_is_sound(point: Point, place: Affine) -> bool {
    let placed = place * point;
    [point.x, point.y, placed.x, placed.y].into_iter().all(reachable)
}

fn reachable(value: f64) -> bool {
    value.abs() <= MAX_REACH
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;
    use draw::list::Role;
    use draw::style::{LABEL, stroke_for};
    use draw::text::{Face, TextRun};
    use kurbo::{Rect, Size};

    #[track_caller]
    fn check(drawing: &Drawing, expected: &str) {
        let found = super::check(drawing, 3).map_or_else(|error| error.to_string(), |()| "sound".to_owned());
        assert_eq!(found, expected);
    }

    fn with_node(node: Node) -> Drawing {
        let mut drawing = Drawing::new(Size::new(10.0, 10.0), "");
        drawing.nodes.push(node);
        drawing
    }

    fn line_to(x: f64) -> Node {
        let mut path = BezPath::new();
        path.move_to((0.0, 0.0));
        path.line_to((x, 0.0));
        Node::Item { role: Role::Cut, shape: Shape::Line { path, stroke: stroke_for(Role::Cut) } }
    }

    fn group(place: Affine, node: Node) -> Node {
        Node::Group { place, clip: None, nodes: vec![node] }
    }

    const BAD_CUT: &str = "page 3, Cuts: a coordinate is not a number or lies more than a kilometre away";
    const BAD_PLACE: &str = "page 3, transform: a coordinate is not a number or lies more than a kilometre away";

    #[test]
    fn sound_drawings_pass() {
        check(&sample::sheet(), "sound");
        check(&with_node(line_to(1.0e6)), "sound");
    }

    #[test]
    fn pages_must_have_a_size() {
        let too_small = "page 3 is 0 × 10 mm; a side must be 1 to 5080 mm";
        check(&Drawing::new(Size::new(0.0, 10.0), ""), too_small);
        let too_large = "page 3 is 10 × 5081 mm; a side must be 1 to 5080 mm";
        check(&Drawing::new(Size::new(10.0, 5081.0), ""), too_large);
        let unknown = "page 3, page size: a coordinate is not a number or lies more than a kilometre away";
        check(&Drawing::new(Size::new(f64::NAN, 10.0), ""), unknown);
    }

    #[test]
    fn coordinates_must_be_finite() {
        for x in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 1.1e6] {
            check(&with_node(line_to(x)), BAD_CUT);
        }
        check(&with_node(group(Affine::scale(1000.0), line_to(1001.0))), BAD_CUT);
        check(&with_node(group(Affine::scale(f64::NAN), line_to(1.0))), BAD_PLACE);
        check(&with_node(group(Affine::scale(1e4), group(Affine::scale(1e4), line_to(0.0)))), BAD_PLACE);
        let clip = Some(Rect::new(0.0, 0.0, f64::INFINITY, 1.0));
        check(&with_node(Node::Group { place: Affine::IDENTITY, clip, nodes: Vec::new() }), BAD_PLACE);
        let run = TextRun::new("Spine", Face::Regular, f64::NAN, LABEL);
        let text = Node::Item { role: Role::Cut, shape: Shape::Text(run) };
        check(&with_node(text), BAD_CUT);
    }

    #[test]
    fn groups_may_not_nest_for_ever() {
        let nested = |depth| (0..depth).fold(line_to(1.0), |node, _| group(Affine::IDENTITY, node));
        check(&with_node(nested(MAX_DEPTH)), "sound");
        check(&with_node(nested(MAX_DEPTH + 1)), "page 3 has groups nested more than 64 deep");
    }

    #[test]
    fn dashes_that_cannot_be_drawn_are_solid() {
        let with_dashes = |dashes: &[f64]| Stroke { dashes: dashes.to_vec(), ..stroke_for(Role::Cut) };
        for dashes in [&[][..], &[0.0, 0.0], &[1.0], &[-1.0, 3.0], &[1e-3, 1e-3]] {
            assert!(super::dashes(&with_dashes(dashes)).is_empty(), "{dashes:?}");
        }
        assert_eq!(super::dashes(&with_dashes(&[3.0, 0.75])), [3.0, 0.75]);
    }
}
