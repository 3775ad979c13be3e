//! How a drawing is spread over pages: which part of it is on which, and which pages are left out.

use super::tile::within;
use kurbo::{Line, Rect, Size};

/// White edge that home printers can't print on, mm; most need 4 to 6 (common practice, no source).
pub(crate) const MARGIN: f64 = 8.0;

/// Height of the strip at a page's foot, or at its head, for its title and the scale check, mm.
pub(crate) const STRIP: f64 = 14.0;

/// How much of the drawing neighbouring pages both show, mm: enough to glue, little enough not to cost a page.
const OVERLAP: f64 = 12.0;

/// How far beyond its cell, mm, a line still counts as on it: one that ends in a seam is on both sides of it.
pub(crate) const TOUCH: f64 = 0.01;

/// How a drawing is spread over pages.
#[derive(Debug, Clone, PartialEq)]
pub struct Grid {
    sheet: Size,
    page: Size,
    columns: Vec<Span>,
    rows: Vec<Span>,
    /// Which pages there are, row by row.
    held: Vec<bool>,
}

/// The part of the drawing that a column or row of pages shows, mm from its left or top edge.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Span {
    /// Where it starts.
    pub from: f64,
    /// Where it ends.
    pub to: f64,
}

/// One page of a grid.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tile {
    /// Its row, from 0.
    pub row: usize,
    /// Its column, from 0.
    pub column: usize,
    /// What it shows, mm on the drawing.
    pub part: Rect,
}

impl Grid {
    /// The fewest pages of `page` (upright, or on their side where that saves pages) that cover `sheet`, none left out.
    #[must_use]
    pub fn covering(sheet: Size, page: Size) -> Self {
        Self::fewest(sheet, page, |_| {})
    }

    /// The same without the pages that hold none of these lines. What is left hangs together.
    #[must_use]
    pub fn holding(sheet: Size, page: Size, lines: &[Line]) -> Self {
        Self::fewest(sheet, page, |grid| grid.leave_out(lines))
    }

    fn fewest(sheet: Size, page: Size, finish: impl Fn(&mut Self)) -> Self {
        let [upright, sideways] = [page, Size::new(page.height, page.width)].map(|page| {
            let mut grid = Self::on(sheet, page);
            finish(&mut grid);
            grid
        });
        if sideways.count() < upright.count() { sideways } else { upright }
    }

    fn on(sheet: Size, page: Size) -> Self {
        let room = room(page);
        let (columns, rows) = (spans(sheet.width, room.width), spans(sheet.height, room.height));
        let held = vec![true; columns.len() * rows.len()];
        Self { sheet, page, columns, rows, held }
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

    /// How many pages there are.
    #[must_use]
    pub fn count(&self) -> usize {
        self.held.iter().filter(|held| **held).count()
    }

    /// Whether some pages are left out.
    #[must_use]
    pub fn leaves_out(&self) -> bool {
        self.held.iter().any(|held| !held)
    }

    /// The drawing it covers, mm.
    #[must_use]
    pub const fn sheet(&self) -> Size {
        self.sheet
    }

    /// The pages there are, row by row.
    pub fn tiles(&self) -> impl Iterator<Item = Tile> + '_ {
        self.all().zip(&self.held).filter(|(_, held)| **held).map(|(tile, _)| tile)
    }

    /// What each page shows as far as the seams, whether it is there or left out, row by row, mm on the drawing.
    pub(crate) fn cells(&self) -> impl Iterator<Item = (Rect, bool)> + '_ {
        let cell = |tile: Tile| {
            let (xs, ys) = (edges(&self.columns, tile.column), edges(&self.rows, tile.row));
            Rect::new(xs.from, ys.from, xs.to, ys.to)
        };
        self.all().map(cell).zip(self.held.iter().copied())
    }

    fn all(&self) -> impl Iterator<Item = Tile> + '_ {
        self.rows.iter().enumerate().flat_map(move |(row, y)| {
            let tile =
                move |(column, x): (usize, &Span)| Tile { row, column, part: Rect::new(x.from, y.from, x.to, y.to) };
            self.columns.iter().enumerate().map(tile)
        })
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

    fn leave_out(&mut self, lines: &[Line]) {
        let holds = |(cell, _): (Rect, bool)| {
            let near = cell.inflate(TOUCH, TOUCH);
            lines.iter().any(|line| within(*line, near).is_some())
        };
        let held = self.cells().map(holds).collect();
        self.held = held;
        while let Some(lost) = self.unreached() {
            // On to the left, where the drawing's edge is at the latest.
            let row = lost - lost % self.columns.len();
            let Some(gap) = (row..lost).rev().find(|&at| !self.held[at]) else { break };
            self.held[gap] = true;
        }
    }

    /// The first page that does not hang together with the first of all.
    fn unreached(&self) -> Option<usize> {
        let wide = self.columns.len();
        let first = self.held.iter().position(|held| *held)?;
        let mut reached = vec![false; self.held.len()];
        let mut next = vec![first];
        while let Some(at) = next.pop() {
            if !self.held[at] || std::mem::replace(&mut reached[at], true) {
                continue;
            }
            let column = at % wide;
            next.extend((column > 0).then(|| at - 1));
            next.extend((column + 1 < wide).then_some(at + 1));
            next.extend(at.checked_sub(wide));
            next.extend(Some(at + wide).filter(|below| *below < self.held.len()));
        }
        (0..self.held.len()).find(|&at| self.held[at] && !reached[at])
    }
}

/// What of a page is there for the drawing, mm.
pub(crate) fn room(page: Size) -> Size {
    Size::new(page.width - 2.0 * MARGIN, page.height - 2.0 * MARGIN - STRIP)
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

/// One of the spans as far as the seams.
fn edges(spans: &[Span], at: usize) -> Span {
    let seams = seams(spans);
    let from = at.checked_sub(1).map_or(spans[at].from, |before| seams[before]);
    Span { from, to: seams.get(at).copied().unwrap_or(spans[at].to) }
}

#[cfg(test)]
mod tests {
    use super::*;

    const LETTER: Size = Size::new(215.9, 279.4);

    fn held(grid: &Grid) -> Vec<(usize, usize)> {
        grid.tiles().map(|tile| (tile.row, tile.column)).collect()
    }

    /// The four edges of a drawing.
    fn edge(size: Size) -> Vec<Line> {
        let (wide, high) = (size.width, size.height);
        let corners = [(0.0, 0.0), (wide, 0.0), (wide, high), (0.0, high)];
        (0..4).map(|i| Line::new(corners[i], corners[(i + 1) % 4])).collect()
    }

    /// 560 x 730 mm on upright Letter, 199.9 x 249.4 mm of it for the drawing: 3 columns (548 / 187.9 is 2.9) and 4 rows
    /// (718 / 237.4 is 3.02).
    #[test]
    fn pages_that_hold_nothing_are_left_out() {
        let size = Size::new(560.0, 730.0);
        let grid = Grid::holding(size, LETTER, &edge(size));
        assert_eq!((grid.columns().len(), grid.rows().len(), grid.count()), (3, 4, 10));
        assert!(grid.leaves_out() && !Grid::covering(size, LETTER).leaves_out());
        assert!(!held(&grid).contains(&(1, 1)) && !held(&grid).contains(&(2, 1)));
        let mut lines = edge(size);
        lines.push(Line::new((250.0, 300.0), (260.0, 310.0)));
        assert!(held(&Grid::holding(size, LETTER, &lines)).contains(&(1, 1)));
        assert_eq!(held(&Grid::holding(Size::new(100.0, 100.0), LETTER, &[])), []);
    }

    #[test]
    fn a_line_along_a_seam_is_on_both_pages() {
        let size = Size::new(304.8, 304.8);
        let seam = Grid::covering(size, LETTER).upright_seams()[0];
        let lines = [Line::new((seam, 10.0), (seam, 40.0))];
        assert_eq!(held(&Grid::holding(size, LETTER, &lines)), [(0, 0), (0, 1)]);
    }

    #[test]
    fn what_stands_alone_is_joined_to_the_rest() {
        let size = Size::new(1100.0, 1300.0);
        let mut lines = edge(size);
        lines.push(Line::new((550.0, 650.0), (551.0, 650.0)));
        let grid = Grid::holding(size, LETTER, &lines);
        assert!(grid.leaves_out());
        assert_eq!(grid.unreached(), None);
        let cell = |(cell, held): (Rect, bool)| held && cell.contains(kurbo::Point::new(550.0, 650.0));
        assert!(grid.cells().any(cell));
    }

    #[test]
    fn cells_tile_the_drawing() {
        let size = Size::new(560.0, 730.0);
        let area: f64 = Grid::covering(size, LETTER).cells().map(|(cell, _)| cell.area()).sum();
        assert!((area - size.area()).abs() < 1e-6);
    }
}
