//! Slips on pages: rows of them, the highest first, with cut marks around each and its words below; one that is larger
//! than a page goes over several.

use super::Slip;
use crate::list::{Drawing, Node, Role, Shape, Stroke};
use crate::style::{MARK_WIDTH, NOTE, PRINTED_LINE, REGISTRATION, ink_for, paled, stroke_for};
use crate::template::grid::{Grid, room};
use crate::template::strip::{Place, Strip};
use crate::template::tile::Spread;
use crate::template::{Page, Sides, numbered};
use crate::text::{Face, TextRun, wrap};
use kurbo::{BezPath, Point, Rect, Shape as _, Size, Vec2};
use model::{Document, Length};
use std::cmp::Reverse;

/// White edge of a page, mm: that which printers need, and room for cut marks.
const MARGIN: f64 = 13.0;

/// From a corner to its cut marks, and how long those are, mm.
const MARKS: (f64, f64) = (1.5, 3.0);

/// Between two slips, mm: more than the marks of both reach.
const GAP: f64 = 12.0;

/// Size of words, mm to the em; from line to line; and from a slip to the first baseline, below its marks.
const WORDS: (f64, f64, f64) = (2.6, 3.4, 7.5);

/// Words below a narrow slip are at least as wide as this, mm.
const LEAST_WORDS: f64 = 38.0;

/// A slip with its words and the room that both take.
struct Cell<'a> {
    slip: &'a Slip,
    size: Size,
    words: Vec<String>,
    room: Size,
}

/// Cells side by side.
struct Row<'a> {
    cells: Vec<Cell<'a>>,
    width: f64,
    height: f64,
}

/// All pages, with their numbers.
pub(super) fn pages(document: &Document, slips: &[Slip], paper: Size, corner: Length) -> Vec<Drawing> {
    let inner = Size::new(paper.width - 2.0 * MARGIN, room(paper).height - 2.0 * (MARKS.0 + MARKS.1));
    let cell = |slip| Cell::of(slip, inner.width);
    let (small, large): (Vec<Cell<'_>>, Vec<Cell<'_>>) =
        slips.iter().map(cell).partition(|cell| cell.size.width <= inner.width && cell.room.height <= inner.height);
    let rows = rows(small, inner.width);
    let mut pages: Vec<Page> = Vec::new();
    for on_page in filled(rows, inner.height) {
        pages.push(shared(document, &on_page, paper, corner));
    }
    for cell in large {
        let grid = Grid::covering(cell.size, paper);
        let of = format!("{}, {}, {}", cell.slip.name, cell.slip.measure, cell.slip.goes);
        let spread = Spread { title: &document.title, of: &of, grid: &grid, sides: Sides::Front, is_pale: true };
        pages.extend(spread.pages(|_, _| vec![trim(cell.size.to_rect(), corner)]));
    }
    numbered(&document.title, pages)
}

/// Rows from the highest cell to the lowest, each cell in the first row that has room for it.
fn rows(mut cells: Vec<Cell<'_>>, width: f64) -> Vec<Row<'_>> {
    let key = |cell: &Cell<'_>| {
        let lines = cell.words.len();
        (Reverse(cell.slip.size.height()), Reverse(cell.slip.size.width()), Reverse(lines))
    };
    cells.sort_by_key(key);
    let mut rows: Vec<Row<'_>> = Vec::new();
    for cell in cells {
        let wide = cell.room.width;
        match rows.iter_mut().find(|row| row.width + GAP + wide <= width) {
            Some(row) => {
                row.width += GAP + wide;
                row.height = row.height.max(cell.room.height);
                row.cells.push(cell);
            }
            None => rows.push(Row { width: wide, height: cell.room.height, cells: vec![cell] }),
        }
    }
    rows
}

/// Rows below one another, each on the first page that has room for it.
fn filled(rows: Vec<Row<'_>>, height: f64) -> Vec<Vec<Row<'_>>> {
    let mut pages: Vec<(f64, Vec<Row<'_>>)> = Vec::new();
    for row in rows {
        let high = row.height;
        match pages.iter_mut().find(|(used, _)| used + GAP + high <= height) {
            Some((used, on_page)) => {
                *used += GAP + high;
                on_page.push(row);
            }
            None => pages.push((high, vec![row])),
        }
    }
    pages.into_iter().map(|(_, rows)| rows).collect()
}

fn shared(document: &Document, rows: &[Row<'_>], paper: Size, corner: Length) -> Page {
    let all = rows.iter().flat_map(|row| &row.cells);
    let names = all.map(|cell| format!("{} for {}", cell.slip.name, cell.slip.goes));
    let said = format!("{}: {}, at true size.", document.title, model::words::listed(names));
    let mut drawing = Drawing::new(paper, said);
    let mut y = MARGIN;
    for row in rows {
        let mut x = MARGIN;
        for cell in &row.cells {
            drawing.nodes.extend(cell.nodes(Point::new(x, y), corner));
            x += cell.room.width + GAP;
        }
        y += row.height + GAP;
    }
    let corners = match corner {
        Length::ZERO => String::new(),
        _ => format!(", corners rounded {}", corner.readable(document.units)),
    };
    Page { drawing, strip: Some(Strip { name: format!("cards and mats{corners}"), place: Place::Foot }) }
}

impl<'a> Cell<'a> {
    fn of(slip: &'a Slip, most: f64) -> Self {
        let size = Size::new(slip.size.width().mm(), slip.size.height().mm());
        let wide = size.width.max(LEAST_WORDS).min(most);
        let head = wrap(&format!("{}, {}", slip.name, slip.measure), Face::Bold, WORDS.0, wide);
        let goes = if slip.goes.is_empty() { Vec::new() } else { vec![format!("for {}", slip.goes)] };
        let goes = goes.iter().flat_map(|text| wrap(text, Face::Regular, WORDS.0, wide));
        let words: Vec<String> = head.into_iter().chain(goes).collect();
        let below: f64 = words.iter().skip(1).map(|_| WORDS.1).sum();
        let room = Size::new(wide, size.height + WORDS.2 + below + 1.0);
        Self { slip, size, words, room }
    }

    fn nodes(&self, at: Point, corner: Length) -> Vec<Node> {
        let rect = Rect::from_origin_size(at, self.size);
        let mut nodes = vec![trim(rect, corner), marks(rect)];
        let mut baseline = rect.y1 + WORDS.2;
        let head =
            wrap(&format!("{}, {}", self.slip.name, self.slip.measure), Face::Bold, WORDS.0, self.room.width).len();
        for (i, line) in self.words.iter().enumerate() {
            let face = if i < head { Face::Bold } else { Face::Regular };
            let run = TextRun::new(line, face, WORDS.0, NOTE).at(Point::new(rect.x0, baseline));
            nodes.push(Node::Item { role: Role::Label, shape: Shape::Text(run) });
            baseline += WORDS.1;
        }
        nodes
    }
}

/// The edge along which it is cut, pale, since it stays on what is cut out.
fn trim(rect: Rect, corner: Length) -> Node {
    let path = match corner {
        Length::ZERO => rect.to_path(0.1),
        _ => rect.to_rounded_rect(corner.mm()).to_path(1e-4),
    };
    let stroke = Stroke { colour: paled(ink_for(Role::Cut), PRINTED_LINE), ..stroke_for(Role::Cut) };
    Node::Item { role: Role::Cut, shape: Shape::Line { path, stroke } }
}

/// Two marks outside each corner, in line with the edges.
fn marks(rect: Rect) -> Node {
    let (from, long) = MARKS;
    let mut path = BezPath::new();
    for (x, right) in [(rect.x0, -1.0), (rect.x1, 1.0)] {
        for (y, down) in [(rect.y0, -1.0), (rect.y1, 1.0)] {
            for way in [Vec2::new(right, 0.0), Vec2::new(0.0, down)] {
                path.move_to(Point::new(x, y) + way * from);
                path.line_to(Point::new(x, y) + way * (from + long));
            }
        }
    }
    let stroke = Stroke { width: MARK_WIDTH, colour: REGISTRATION, dashes: Vec::new(), dash_start: 0.0 };
    Node::Item { role: Role::Registration, shape: Shape::Line { path, stroke } }
}
