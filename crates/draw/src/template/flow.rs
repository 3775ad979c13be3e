//! Words set in columns that flow from column to column and from page to page, so that no text is lost at a foot; with
//! pictures between them.

use super::Page;
use super::strip::{Place, Strip};
use crate::list::{Drawing, Node, Role, Shape};
use crate::style::NOTE;
use crate::text::{Face, TextRun, wrap};
use kurbo::{Point, Rect, Size};
use std::collections::VecDeque;

/// White edge beside and above the words, mm.
pub(super) const MARGIN: f64 = 15.0;

/// Kept free at the foot of each page for the scale check and the page number, mm.
const FOOT: f64 = 24.0;

/// Between two columns, mm.
const GUTTER: f64 = 8.0;

/// A column lower than this is not worth starting, mm.
const LEAST_COLUMN: f64 = 25.0;

/// Text sizes, mm to the em: title, heading, text.
const SIZES: (f64, f64, f64) = (7.0, 4.2, 3.3);

/// From baseline to baseline, in ems.
const LEADING: f64 = 1.35;

/// The height of a line of text, mm.
const LINE: f64 = SIZES.2 * LEADING;

/// A paragraph of no more lines is never parted; of a longer one two lines at least stay together at either end.
const KEPT_WHOLE: usize = 4;

/// The height of a paragraph of [`KEPT_WHOLE`] lines, mm.
const WHOLE: f64 = 4.0 * LINE;

/// Size of the text, mm to the em.
pub(super) const TEXT: f64 = SIZES.2;

/// Pages being filled.
#[derive(Debug)]
pub(super) struct Flow {
    page: Size,
    pages: Vec<Vec<Node>>,
    /// Columns of this page that are still empty.
    next: VecDeque<Rect>,
    column: Rect,
    /// The last baseline, or the column's top.
    y: f64,
}

/// One cell of a row: what it says, how far into the column it starts, how wide it is, mm.
#[derive(Debug, Clone)]
pub(super) struct TextCell {
    pub(super) text: String,
    pub(super) left: f64,
    pub(super) width: f64,
}

impl Flow {
    /// Starts a first page whose words take its whole width.
    pub(super) fn new(page: Size) -> Self {
        let column = Rect::new(MARGIN, MARGIN - 4.0, page.width - MARGIN, page.height - FOOT);
        Self { page, pages: vec![Vec::new()], next: VecDeque::new(), column, y: column.y0 }
    }

    /// Goes on in two columns, the right one below a picture: `picture` gives its height from the width and the room
    /// there is. Where the picture goes is given back.
    pub(super) fn beside(&mut self, picture: impl FnOnce(Size) -> f64) -> Rect {
        let top = self.y + 4.0;
        let [left, right] = columns(self.page, top);
        let height = picture(right.size());
        self.column = Rect { y0: top - 1.5, ..left };
        self.y = self.column.y0;
        let below = Rect { y0: top + height + 2.0, ..right };
        if below.height() >= LEAST_COLUMN {
            self.next.push_back(below);
        }
        Rect { y1: top + height, ..right }
    }

    /// The pages of words, which have this name.
    pub(super) fn into_notes(self, title: &str, name: &str) -> Vec<Page> {
        let size = self.page;
        let page = |nodes| {
            let mut drawing = Drawing::new(size, format!("{title}: {name}."));
            drawing.nodes = nodes;
            Page { drawing, strip: Some(Strip { name: name.to_owned(), place: Place::Foot }) }
        };
        self.pages.into_iter().map(page).collect()
    }

    /// A picture under its heading, in one column with the first line after it: as wide as there is room, or as high as
    /// `most`. `size` is that of what it shows; `draw` is given where it is.
    pub(super) fn picture(&mut self, heading: &str, size: Size, most: f64, draw: impl FnOnce(Rect) -> Vec<Node>) {
        let scale = (self.width() / size.width).min(most / size.height);
        let (width, height) = (size.width * scale, size.height * scale);
        self.keep(3.0 + SIZES.1 * LEADING + 0.8 + height + 2.0 + 2.0 * LINE);
        self.heading(heading);
        let top = self.y + 2.0;
        self.y = top + height;
        let nodes = draw(Rect::new(self.column.x0, top, self.column.x0 + width, top + height));
        self.put(nodes);
    }

    /// The width of this column, mm.
    pub(super) const fn width(&self) -> f64 {
        self.column.x1 - self.column.x0
    }

    /// The title, on a few lines at most.
    pub(super) fn title(&mut self, text: &str) {
        const MOST_LINES: usize = 3;
        // Far more characters than the lines hold, few enough to be shaped at once.
        let text: String = text.chars().take(600).collect();
        let mut lines = wrap(&text, Face::Bold, SIZES.0, self.width());
        if lines.len() > MOST_LINES {
            let rest = format!("{}…", lines[MOST_LINES - 1]);
            lines.truncate(MOST_LINES - 1);
            lines.push(fitted(&rest, Face::Bold, SIZES.0, self.width()));
        }
        self.lines(&lines, Face::Bold, SIZES.0);
        self.space(1.0);
    }

    /// A heading, never the last line of a column.
    pub(super) fn heading(&mut self, text: &str) {
        self.keep(3.0 + SIZES.1 * LEADING + 0.8 + 1.2 + LINE + WHOLE);
        self.space(3.0);
        self.lines(&wrap(text, Face::Bold, SIZES.1, self.width()), Face::Bold, SIZES.1);
        self.space(0.8);
    }

    /// A heading within a part, with a line after it.
    pub(super) fn subheading(&mut self, text: &str) {
        self.keep(1.2 + LINE + WHOLE);
        self.space(1.2);
        self.lines(&wrap(text, Face::Bold, TEXT, self.width()), Face::Bold, TEXT);
    }

    pub(super) fn paragraph(&mut self, text: &str) {
        self.lines(&wrap(text, Face::Regular, TEXT, self.width()), Face::Regular, TEXT);
    }

    /// A row of cells, each wrapped in its own width.
    pub(super) fn row(&mut self, cells: &[TextCell]) {
        let wrapped: Vec<Vec<String>> =
            cells.iter().map(|cell| wrap(&cell.text, Face::Regular, TEXT, cell.width)).collect();
        let count = wrapped.iter().map(Vec::len).max().unwrap_or(0);
        for i in 0..count {
            self.keep_together(i, count, LINE);
            let baseline = self.step(LINE);
            for (cell, lines) in cells.iter().zip(&wrapped) {
                if let Some(line) = lines.get(i) {
                    self.run(line, Face::Regular, TEXT, Point::new(self.column.x0 + cell.left, baseline));
                }
            }
        }
    }

    /// A sample with words beside it; `sample` is given the middle of its left edge.
    pub(super) fn sample(&mut self, words: &str, width: f64, sample: impl FnOnce(Point) -> Vec<Node>) {
        let cell = TextCell { text: words.to_owned(), left: width + 3.0, width: self.width() - width - 3.0 };
        self.keep(LINE * 2.0);
        let at = Point::new(self.column.x0, self.y + LINE - TEXT * 0.33);
        let nodes = sample(at);
        self.put(nodes);
        self.row(&[cell]);
    }

    /// White space, but none at a column's top.
    pub(super) fn space(&mut self, height: f64) {
        if self.y > self.column.y0 {
            self.y += height;
        }
    }

    fn lines(&mut self, lines: &[String], face: Face, size: f64) {
        for (i, line) in lines.iter().enumerate() {
            self.keep_together(i, lines.len(), size * LEADING);
            let baseline = self.step(size * LEADING);
            self.run(line, face, size, Point::new(self.column.x0, baseline));
        }
    }

    /// Before line `i` of `count`: goes on in the next column where a line would else be left alone.
    fn keep_together(&mut self, i: usize, count: usize, line: f64) {
        let together = match i {
            0 if count <= KEPT_WHOLE => count,
            0 => 2,
            // The last two.
            _ if count > KEPT_WHOLE && i + 2 == count => 2,
            _ => 1,
        };
        self.keep(line * f64::from(u32::try_from(together).unwrap_or(1)));
    }

    fn run(&mut self, text: &str, face: Face, size: f64, at: Point) {
        let run = TextRun::new(text, face, size, NOTE).at(at);
        self.put(vec![Node::Item { role: Role::Note, shape: Shape::Text(run) }]);
    }

    fn put(&mut self, nodes: Vec<Node>) {
        if let Some(page) = self.pages.last_mut() {
            page.extend(nodes);
        }
    }

    /// The next baseline.
    fn step(&mut self, height: f64) -> f64 {
        self.keep(height);
        self.y += height;
        self.y
    }

    /// Goes on in the next column where there is no room for so much in this one.
    fn keep(&mut self, height: f64) {
        if self.y + height <= self.column.y1 || self.y <= self.column.y0 {
            return;
        }
        self.column = self.next.pop_front().unwrap_or_else(|| {
            self.pages.push(Vec::new());
            let [left, right] = columns(self.page, MARGIN - 4.0);
            self.next.push_back(right);
            left
        });
        self.y = self.column.y0;
    }
}

/// The two columns of a page below `top`.
fn columns(page: Size, top: f64) -> [Rect; 2] {
    let width = (page.width - 2.0 * MARGIN - GUTTER) / 2.0;
    [MARGIN, page.width - MARGIN - width].map(|left| Rect::new(left, top, left + width, page.height - FOOT))
}

/// The text, or as much of its start as fits `width` mm, with "…" after it.
pub(super) fn fitted(text: &str, face: Face, size: f64, width: f64) -> String {
    let fits = |text: &str| crate::text::measure(text, face, size) <= width;
    // No text this long fits a page; shaping more would only take time.
    let ends: Vec<usize> = text.char_indices().map(|(start, _)| start).take(600).collect();
    if ends.len() < 600 && fits(text) {
        return text.to_owned();
    }
    let cut = |end: usize| format!("{}…", text[..end].trim_end().trim_end_matches('…'));
    let count = ends.partition_point(|&end| fits(&cut(end)));
    cut(count.checked_sub(1).map_or(0, |last| ends[last]))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn long_text_ends_in_an_ellipsis_within_its_width() {
        for (text, width) in [("W".repeat(200), 80.0), ("é ".repeat(5000), 50.0), ("short".to_owned(), 80.0)] {
            let shown = fitted(&text, Face::Bold, 3.2, width);
            assert!(crate::text::measure(&shown, Face::Bold, 3.2) <= width, "{shown}");
            assert_eq!(shown.ends_with('…'), shown != text, "{shown}");
        }
        assert_eq!(fitted("word", Face::Bold, 3.2, 0.0), "…");
    }

    #[test]
    fn a_heading_is_never_the_last_line_of_a_column() {
        let mut flow = Flow::new(Size::new(210.0, 297.0));
        flow.beside(|_| 60.0);
        for i in 0..200 {
            flow.heading(&format!("Heading {i}"));
            flow.paragraph(&format!("Text {i}"));
        }
        let pages = flow.pages;
        assert!(pages.len() > 3);
        for page in &pages {
            let runs: Vec<&TextRun> = page
                .iter()
                .filter_map(|node| match node {
                    Node::Item { shape: Shape::Text(run), .. } => Some(run),
                    _ => None,
                })
                .collect();
            assert!(runs.iter().all(|run| run.bounds().y1 < 297.0 - FOOT + 2.0), "within the page");
            for pair in runs.windows(2).filter(|pair| pair[0].text().starts_with("Heading")) {
                assert!(pair[0].start().x.total_cmp(&pair[1].start().x).is_eq(), "{}", pair[0].text());
            }
        }
    }
}
