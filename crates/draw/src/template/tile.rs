//! The tiled pages: which part of the sheet is on which, how they join, and whether the printer kept the size.

use super::bar::scale_bar;
use super::flow::fitted;
use crate::list::{Drawing, Node, Role, Shape};
use crate::style::{NOTE, stroke_for};
use crate::text::{Face, TextRun, measure};
use kurbo::{Affine, BezPath, Line, ParamCurve, Point, Rect, Shape as _, Size, Vec2};
use model::Document;

/// White edge that home printers can't print on, mm; most need 4 to 6 (common practice, no source).
const MARGIN: f64 = 8.0;

/// Height of the strip at the foot of each page for its title and the scale check, mm.
const FOOT: f64 = 14.0;

/// How much of the sheet neighbouring pages both show, mm: enough to glue, little enough not to cost a page.
const OVERLAP: f64 = 12.0;

/// How far a cross reaches from its middle, mm.
const ARM: f64 = 3.0;

/// How the sheet is spread over pages.
#[derive(Debug, Clone, PartialEq)]
pub struct Grid {
    sheet: Size,
    page: Size,
    columns: Vec<Span>,
    rows: Vec<Span>,
}

/// The part of the sheet that a column or row of pages shows, mm from the sheet's left or top edge.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Span {
    /// Where it starts.
    pub from: f64,
    /// Where it ends.
    pub to: f64,
}

impl Grid {
    /// The fewest pages of `page` (upright, or on their side where that saves pages) that cover `sheet`.
    #[must_use]
    pub fn covering(sheet: Size, page: Size) -> Self {
        let upright = Self::on(sheet, page);
        let sideways = Self::on(sheet, Size::new(page.height, page.width));
        if sideways.count() < upright.count() { sideways } else { upright }
    }

    fn on(sheet: Size, page: Size) -> Self {
        let (room_x, room_y) = (page.width - 2.0 * MARGIN, page.height - 2.0 * MARGIN - FOOT);
        Self { sheet, page, columns: spans(sheet.width, room_x), rows: spans(sheet.height, room_y) }
    }

    /// The page's size as it is printed on, mm.
    #[must_use]
    pub const fn page(&self) -> Size {
        self.page
    }

    /// The columns of pages, from the left.
    #[must_use]
    pub fn columns(&self) -> &[Span] {
        &self.columns
    }

    /// The rows of pages, from the top.
    #[must_use]
    pub fn rows(&self) -> &[Span] {
        &self.rows
    }

    /// How many pages it takes.
    #[must_use]
    pub fn count(&self) -> usize {
        self.columns.len() * self.rows.len()
    }

    /// The sheet it covers, mm.
    #[must_use]
    pub const fn sheet(&self) -> Size {
        self.sheet
    }

    /// Where pages join: the middle of each overlap, mm across.
    #[must_use]
    pub fn upright_seams(&self) -> Vec<f64> {
        seams(&self.columns)
    }

    /// Where pages join: the middle of each overlap, mm down.
    #[must_use]
    pub fn level_seams(&self) -> Vec<f64> {
        seams(&self.rows)
    }
}

fn spans(length: f64, room: f64) -> Vec<Span> {
    if length <= room {
        return vec![Span { from: 0.0, to: length }];
    }
    // As many as are needed, each of the same length, so that no page holds a mere strip.
    let pitch = room - OVERLAP;
    let count = ((length - OVERLAP) / pitch).ceil().max(1.0);
    let even = (length - OVERLAP) / count;
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "at most ten metres over a page")]
    let count = count as u32;
    (0..count).map(|i| Span { from: f64::from(i) * even, to: f64::from(i) * even + even + OVERLAP }).collect()
}

fn seams(spans: &[Span]) -> Vec<f64> {
    spans.windows(2).map(|pair| f64::midpoint(pair[1].from, pair[0].to)).collect()
}

/// One page a tile, row by row, after so many other pages; `nodes` gives what is to be drawn of a part of the sheet.
pub(super) fn pages(
    document: &Document,
    grid: &Grid,
    before: usize,
    nodes: impl Fn(Rect) -> Vec<Node>,
) -> Vec<Drawing> {
    let mut pages = Vec::new();
    for (r, row) in grid.rows.iter().enumerate() {
        for (c, column) in grid.columns.iter().enumerate() {
            let part = Rect::new(column.from, row.from, column.to, row.to);
            let name = format!("Row {} of {}, column {} of {}", r + 1, grid.rows.len(), c + 1, grid.columns.len());
            let description = format!("{}: {} of the sheet at true size.", document.title, name.to_lowercase());
            let mut page = Drawing::new(grid.page, description);
            page.nodes.push(Node::Group {
                place: Affine::translate((MARGIN - part.x0, MARGIN - part.y0)),
                // A hair more than the part, so that the sheet's own edge keeps its width.
                clip: Some(part.inflate(0.3, 0.3)),
                nodes: nodes(part).iter().filter_map(|node| clipped(node, part)).collect(),
            });
            page.nodes.extend(marks(grid, part));
            let number = (before + pages.len() + 1, before + grid.count());
            page.nodes.extend(foot(&document.title, grid.page, &name, number));
            pages.push(page);
        }
    }
    pages
}

/// What of a node lies within `part`. Straight lines are cut off for real, so that a page holds no line beyond
/// its part; dashes keep their beat across pages.
fn clipped(node: &Node, part: Rect) -> Option<Node> {
    let Node::Item { role, shape } = node else { return Some(node.clone()) };
    match shape {
        Shape::Line { path, stroke } => {
            let lines: Vec<Line> = path
                .segments()
                .filter_map(|segment| match segment {
                    kurbo::PathSeg::Line(line) => Some(line),
                    _ => None,
                })
                .collect();
            let [line] = lines.as_slice() else { return overlaps(path.bounding_box(), part).then(|| node.clone()) };
            let (from, to) = within(*line, part)?;
            let mut stroke = stroke.clone();
            stroke.dash_start += from * (line.p1 - line.p0).hypot2().sqrt();
            let mut path = BezPath::new();
            path.move_to(line.eval(from));
            path.line_to(line.eval(to));
            Some(Node::Item { role: *role, shape: Shape::Line { path, stroke } })
        }
        Shape::Fill { path, .. } => overlaps(path.bounding_box(), part).then(|| node.clone()),
        Shape::Text(run) => overlaps(run.bounds(), part).then(|| node.clone()),
    }
}

fn overlaps(a: Rect, b: Rect) -> bool {
    a.x0 < b.x1 && b.x0 < a.x1 && a.y0 < b.y1 && b.y0 < a.y1
}

/// The stretch of a line within a rectangle, its edge included, as parts of its length (Liang and Barsky 1984).
pub(super) fn within(line: Line, part: Rect) -> Option<(f64, f64)> {
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
pub(super) fn crosses(grid: &Grid) -> Vec<Rect> {
    let points = crossings(grid, &grid.upright_seams(), &grid.level_seams());
    points.into_iter().map(|point| Rect::from_center_size(point, (2.0 * ARM, 2.0 * ARM))).collect()
}

/// Crosses where seams meet each other and the sheet's edges, and the seams themselves: laid cross on cross, the
/// pages join at true size.
fn marks(grid: &Grid, part: Rect) -> Vec<Node> {
    let shift = Vec2::new(MARGIN - part.x0, MARGIN - part.y0);
    let stroke = stroke_for(Role::Registration);
    let (xs, ys) = (grid.upright_seams(), grid.level_seams());
    let mut seams = BezPath::new();
    let mut seam = |a: Point, b: Point| {
        if let Some((from, to)) = within(Line::new(a, b), part) {
            let line = Line::new(a, b);
            seams.move_to(line.eval(from) + shift);
            seams.line_to(line.eval(to) + shift);
        }
    };
    for &x in xs.iter().filter(|x| (part.x0..=part.x1).contains(*x)) {
        seam(Point::new(x, 0.0), Point::new(x, grid.sheet.height));
    }
    for &y in ys.iter().filter(|y| (part.y0..=part.y1).contains(*y)) {
        seam(Point::new(0.0, y), Point::new(grid.sheet.width, y));
    }
    let mut crosses = BezPath::new();
    for point in crossings(grid, &xs, &ys).into_iter().filter(|&point| holds(part, point)) {
        let centre = point + shift;
        for arm in [Vec2::new(ARM, 0.0), Vec2::new(0.0, ARM)] {
            crosses.move_to(centre - arm);
            crosses.line_to(centre + arm);
        }
        crosses.extend(kurbo::Circle::new(centre, 1.5).path_elements(1e-3));
    }
    let mut nodes = Vec::new();
    if !seams.elements().is_empty() {
        // Dots, so that a seam is taken for neither a cut nor a fold.
        let dotted = crate::list::Stroke { dashes: vec![0.3, 2.2], ..stroke.clone() };
        nodes.push(Node::Item { role: Role::Registration, shape: Shape::Line { path: seams, stroke: dotted } });
    }
    if !crosses.elements().is_empty() {
        nodes.push(Node::Item { role: Role::Registration, shape: Shape::Line { path: crosses, stroke } });
    }
    nodes
}

fn crossings(grid: &Grid, xs: &[f64], ys: &[f64]) -> Vec<Point> {
    // A little inside the sheet's edges, so that both pages of a seam show the whole cross.
    const INSET: f64 = 4.0;
    let downs = || std::iter::once(INSET).chain(ys.iter().copied()).chain(std::iter::once(grid.sheet.height - INSET));
    let acrosses = || std::iter::once(INSET).chain(xs.iter().copied()).chain(std::iter::once(grid.sheet.width - INSET));
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

/// The strip at a page's foot: the title with the page's own name, its number out of how many, the scale check.
pub(super) fn foot(title: &str, page: Size, name: &str, (number, total): (usize, usize)) -> Vec<Node> {
    const SIZE: f64 = 3.2;
    let baseline = page.height - MARGIN - 1.0;
    let right = TextRun::new(&format!("Page {number} of {total}"), Face::Regular, SIZE, NOTE);
    let name = format!(": {name}");
    let room = page.width - 2.0 * MARGIN - right.width() - 6.0 - measure(&name, Face::Bold, SIZE);
    let left = TextRun::new(&(fitted(title, Face::Bold, SIZE, room) + &name), Face::Bold, SIZE, NOTE);
    let left = left.at(Point::new(MARGIN, baseline));
    let right = right.ending_at(Point::new(page.width - MARGIN, baseline));
    let mut nodes: Vec<Node> = [left, right].map(|run| Node::Item { role: Role::Note, shape: Shape::Text(run) }).into();
    nodes.extend(scale_bar(Point::new(page.width / 2.0, baseline - 6.5), page.width - 2.0 * MARGIN - 70.0));
    nodes
}
