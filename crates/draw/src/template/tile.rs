//! The tiled pages: a drawing at true size on as many pages as its grid has, front by front or each with its back, with
//! the marks by which they join.

use super::grid::{Grid, MARGIN, TOUCH, Tile};
use super::over::{Flip, turned_over};
use super::strip::{Place, Strip};
use super::tone::pale;
use super::{Page, Sides};
use crate::list::{Drawing, Node, Role, Shape, Stroke};
use crate::style::stroke_for;
use kurbo::{Affine, BezPath, Line, ParamCurve, Point, Rect, Shape as _, Vec2};
use model::Face;

/// How far a cross reaches from its middle, mm.
const ARM: f64 = 3.0;

/// What is spread over pages.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Spread<'a> {
    /// The title of all.
    pub(crate) title: &'a str,
    /// What is shown, as the start of a page's name: empty for the sheet.
    pub(crate) of: &'a str,
    /// How it is spread.
    pub(crate) grid: &'a Grid,
    /// Which faces are printed.
    pub(crate) sides: Sides,
    /// Whether inks are pale.
    pub(crate) is_pale: bool,
}

impl Spread<'_> {
    /// A page a tile, row by row, each followed by its back where backs are asked for; `nodes` gives what is to be drawn of
    /// a part of a face.
    pub(crate) fn pages(&self, nodes: impl Fn(Face, Rect) -> Vec<Node>) -> Vec<Page> {
        let faces = self.sides.faces();
        self.grid
            .tiles()
            .flat_map(|tile| faces.iter().map(move |&face| (tile, face)))
            .map(|(tile, face)| self.page(tile, face, nodes(face, tile.part)))
            .collect()
    }

    fn page(&self, tile: Tile, face: Face, nodes: Vec<Node>) -> Page {
        let (grid, part, page) = (self.grid, tile.part, self.grid.page());
        let mut nodes: Vec<Node> = nodes.iter().filter_map(|node| clipped(node, part)).collect();
        nodes.extend(marks(grid, part));
        if self.is_pale {
            nodes = pale(nodes);
        }
        // A hair more than the part, so that the sheet's own edge keeps its width.
        let mut clip = part.inflate(0.3, 0.3);
        let mut place = Affine::translate((MARGIN - part.x0, MARGIN - part.y0));
        let mut strip = Place::Foot;
        if face == Face::Back {
            let flip = Flip::about_long_edge(page);
            nodes = turned_over(nodes, flip, grid.sheet());
            clip = flip.map(grid.sheet()).transform_rect_bbox(clip);
            place = flip.map(page) * place * flip.map(grid.sheet());
            strip = Place::of_back(flip);
        }
        let (rows, columns) = (grid.rows().len(), grid.columns().len());
        let place_name = format!("row {} of {rows}, column {} of {columns}", tile.row + 1, tile.column + 1);
        let name = match self.of {
            "" => format!("R{}, {}", &place_name[1..], face.word()),
            of => format!("{of}, {place_name}, {}", face.word()),
        };
        let what = if self.of.is_empty() { "the sheet" } else { self.of };
        let description = format!("{}: {place_name} of {what} at true size, {}.", self.title, face.word());
        let mut drawing = Drawing::new(page, description);
        drawing.nodes.push(Node::Group { place, clip: Some(clip), nodes });
        Page { drawing, strip: Some(Strip { name, place: strip }) }
    }
}

/// What of a node lies within `part`. Straight lines are cut off for real, so that a page holds no line beyond its part;
/// dashes keep their beat across pages.
fn clipped(node: &Node, part: Rect) -> Option<Node> {
    let Node::Item { role, shape } = node else { return Some(node.clone()) };
    match shape {
        Shape::Line { path, stroke } => {
            let (path, stroke) = clipped_line(path, stroke, part)?;
            Some(Node::Item { role: *role, shape: Shape::Line { path, stroke } })
        }
        Shape::Fill { path, .. } => overlaps(path.bounding_box(), part).then(|| node.clone()),
        Shape::Text(run) => overlaps(run.bounds(), part).then(|| node.clone()),
        Shape::Image(image) => overlaps(image.clip.bounding_box(), part).then(|| node.clone()),
    }
}

fn clipped_line(path: &BezPath, stroke: &Stroke, part: Rect) -> Option<(BezPath, Stroke)> {
    let bounds = path.bounding_box();
    if bounds.union(part) == part || !overlaps(bounds.inflate(TOUCH, TOUCH), part) {
        return overlaps(bounds.inflate(TOUCH, TOUCH), part).then(|| (path.clone(), stroke.clone()));
    }
    let straight = |segment: kurbo::PathSeg| match segment {
        kurbo::PathSeg::Line(line) => Some(line),
        _ => None,
    };
    let lines: Option<Vec<Line>> = path.segments().map(straight).collect();
    let Some(lines) = lines.filter(|lines| lines.len() == 1 || stroke.dashes.is_empty()) else {
        return Some((path.clone(), stroke.clone()));
    };
    let (mut out, mut stroke, mut end) = (BezPath::new(), stroke.clone(), None);
    for line in &lines {
        let Some((from, to)) = within(*line, part) else { continue };
        if lines.len() == 1 {
            stroke.dash_start += from * (line.p1 - line.p0).hypot2().sqrt();
        }
        let [start, stop] = [from, to].map(|share| line.eval(share));
        if end != Some(start) {
            out.move_to(start);
        }
        out.line_to(stop);
        end = Some(stop);
    }
    (!out.elements().is_empty()).then_some((out, stroke))
}

fn overlaps(a: Rect, b: Rect) -> bool {
    a.x0 < b.x1 && b.x0 < a.x1 && a.y0 < b.y1 && b.y0 < a.y1
}

/// The stretch of a line within a rectangle, its edge included, as parts of its length (Liang and Barsky 1984).
pub(crate) fn within(line: Line, part: Rect) -> Option<(f64, f64)> {
    let along = line.p1 - line.p0;
    let (mut from, mut to) = (0.0_f64, 1.0_f64);
    let bounds = [
        (-along.x, line.p0.x - part.x0),
        (along.x, part.x1 - line.p0.x),
        (-along.y, line.p0.y - part.y0),
        (along.y, part.y1 - line.p0.y),
    ];
    for (way, room) in bounds {
        if way == 0.0 {
            if room < 0.0 {
                return None;
            }
        } else if way < 0.0 {
            from = from.max(room / way);
        } else {
            to = to.min(room / way);
        }
    }
    (from < to).then_some((from, to))
}

/// What the crosses cover, on the sheet.
pub(crate) fn crosses(grid: &Grid) -> Vec<Rect> {
    let points = crossings(grid, &grid.upright_seams(), &grid.level_seams());
    points.into_iter().map(|point| Rect::from_center_size(point, (2.0 * ARM, 2.0 * ARM))).collect()
}

/// Crosses where seams meet each other and the drawing's edges, and the seams themselves: laid cross on cross, the pages
/// join at true size.
fn marks(grid: &Grid, part: Rect) -> Vec<Node> {
    let stroke = stroke_for(Role::Registration);
    let (xs, ys, sheet) = (grid.upright_seams(), grid.level_seams(), grid.sheet());
    let upright = xs.iter().map(|&x| Line::new((x, 0.0), (x, sheet.height)));
    let level = ys.iter().map(|&y| Line::new((0.0, y), (sheet.width, y)));
    let mut seams = BezPath::new();
    for line in upright.chain(level) {
        if let Some((from, to)) = within(line, part) {
            seams.move_to(line.eval(from));
            seams.line_to(line.eval(to));
        }
    }
    let mut crosses = BezPath::new();
    for centre in crossings(grid, &xs, &ys).into_iter().filter(|&point| holds(part, point)) {
        for arm in [Vec2::new(ARM, 0.0), Vec2::new(0.0, ARM)] {
            crosses.move_to(centre - arm);
            crosses.line_to(centre + arm);
        }
        crosses.extend(kurbo::Circle::new(centre, 1.5).path_elements(1e-3));
    }
    // Dots, so that a seam is taken for neither a cut nor a fold.
    let dotted = Stroke { dashes: vec![0.3, 2.2], ..stroke.clone() };
    [(seams, dotted), (crosses, stroke)]
        .into_iter()
        .filter(|(path, _)| !path.elements().is_empty())
        .map(|(path, stroke)| Node::Item { role: Role::Registration, shape: Shape::Line { path, stroke } })
        .collect()
}

fn crossings(grid: &Grid, xs: &[f64], ys: &[f64]) -> Vec<Point> {
    // A little inside the sheet's edges, so that both pages of a seam show the whole cross.
    const INSET: f64 = 4.0;
    let downs = || std::iter::once(INSET).chain(ys.iter().copied()).chain(std::iter::once(grid.sheet().height - INSET));
    let acrosses =
        || std::iter::once(INSET).chain(xs.iter().copied()).chain(std::iter::once(grid.sheet().width - INSET));
    let on_upright = xs.iter().flat_map(|&x| downs().map(move |y| Point::new(x, y)));
    let on_level = ys.iter().flat_map(|&y| acrosses().map(move |x| Point::new(x, y)));
    let mut points: Vec<Point> = on_upright.chain(on_level).collect();
    points.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
    points.dedup();
    points
}

fn holds(part: Rect, point: Point) -> bool {
    (part.x0..=part.x1).contains(&point.x) && (part.y0..=part.y1).contains(&point.y)
}
