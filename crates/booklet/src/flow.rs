//! From blocks to pages: chunks that are never parted follow one another, and a page ends where the next does not fit.

use crate::block::{Block, Table};
use crate::set::Setter;
use crate::style::{FOOT, SIDE, SMALL, TOP};
use draw::list::{Drawing, Node, Pages, Role, Shape, Tag, TagKind};
use draw::style::{DIMENSION, stroke_for};
use draw::text::{Face, TextRun, measure};
use kurbo::{BezPath, Point, Size};
use std::collections::BTreeSet;
use std::rc::Rc;

/// Draws something with its top at this height of the page; `true` where it is an element of the text, and not shown again.
pub(crate) type Draw<'a> = Rc<dyn Fn(f64, bool) -> Vec<Node> + 'a>;

/// Something that is never parted.
pub(crate) struct Chunk<'a> {
    /// White space above it, but none at a page's top.
    pub(crate) space: f64,
    pub(crate) height: f64,
    /// Whether the next must be on the same page.
    pub(crate) keep: bool,
    /// Whether it begins a page.
    pub(crate) new_page: bool,
    /// What is shown again above it where it comes first on a page: the heads of a table, with their height.
    pub(crate) again: Option<(f64, Draw<'a>)>,
    pub(crate) draw: Draw<'a>,
}

impl<'a> Chunk<'a> {
    pub(crate) fn new(space: f64, height: f64, draw: impl Fn(f64, bool) -> Vec<Node> + 'a) -> Self {
        Self { space, height, keep: false, new_page: false, again: None, draw: Rc::new(draw) }
    }

    pub(crate) fn kept(self) -> Self {
        Self { keep: true, ..self }
    }
}

/// Sets blocks on pages of this size.
pub(crate) fn set(content: &[Block], page: Size, title: &str) -> Pages {
    let set = |contents: Table| {
        let setter = Setter::new(SIDE, page.width - 2.0 * SIDE, page.height - TOP - FOOT, contents);
        broken(&setter.blocks(content), page)
    };
    // Once to learn on which pages the chapters are; their numbers take no more room than the ones they stand for.
    let pages = set(contents(content, &[]));
    let pages = set(contents(content, &chapters(&pages)));
    let count = pages.len();
    let shown = one_line(title, page.width - 2.0 * SIDE);
    let drawn = |(i, nodes): (usize, Vec<Node>)| {
        let mut drawing = Drawing::new(page, format!("{title}: page {} of {count} of the booklet.", i + 1));
        drawing.nodes = furniture(&shown, page, (i + 1, count));
        drawing.nodes.extend(nodes);
        drawing
    };
    let pages = pages.into_iter().enumerate().map(drawn).collect();
    Pages { title: if title.trim().is_empty() { "Booklet".to_owned() } else { title.to_owned() }, pages }
}

/// The chapters after the title, each with its page.
fn contents(content: &[Block], pages: &[usize]) -> Table {
    let titles = content.iter().filter_map(|block| match block {
        Block::Heading(1, title) => Some(title.clone()),
        _ => None,
    });
    let page = |i: usize| pages.get(i).map_or_else(|| "00".to_owned(), usize::to_string);
    let rows = titles.enumerate().map(|(i, title)| vec![title, page(i)]).collect();
    let heads = ["Chapter", "Page"].map(str::to_owned).into();
    Table { caption: "In this booklet".to_owned(), heads, rows }
}

/// The page of each chapter after the title.
fn chapters(pages: &[Vec<Node>]) -> Vec<usize> {
    let mut seen = BTreeSet::new();
    let mut found = Vec::new();
    for (number, nodes) in (1..).zip(pages) {
        for node in nodes {
            let Node::Tagged { tags, .. } = node else { continue };
            let [Tag { number: element, kind: TagKind::Heading(1) }] = tags.as_slice() else { continue };
            if seen.insert(*element) {
                found.push(number);
            }
        }
    }
    // The first is the title itself.
    if found.is_empty() { found } else { found.split_off(1) }
}

/// Breaks chunks into pages and draws them.
fn broken(chunks: &[Chunk<'_>], page: Size) -> Vec<Vec<Node>> {
    let (top, bottom) = (TOP, page.height - FOOT);
    let mut pages: Vec<Vec<Node>> = vec![Vec::new()];
    let mut y = top;
    let mut at = 0;
    while at < chunks.len() {
        let group = group(chunks, at, bottom - top);
        let first = &chunks[at];
        let height = height(&chunks[at..group]);
        let is_full = y + first.space + height > bottom;
        if y > top && (is_full || first.new_page) {
            pages.push(Vec::new());
            y = top;
        }
        for chunk in &chunks[at..group] {
            let Some(nodes) = pages.last_mut() else { break };
            if y > top {
                y += chunk.space;
            } else if let Some((height, again)) = &chunk.again {
                nodes.extend(again(y, false));
                y += height;
            }
            nodes.extend((chunk.draw)(y, true));
            y += chunk.height;
        }
        at = group;
    }
    pages
}

/// Where the chunks end that must be on one page with the one at `at`; only that one where they don't fit any page.
fn group(chunks: &[Chunk<'_>], at: usize, room: f64) -> usize {
    let mut end = at + 1;
    while end < chunks.len() && chunks[end - 1].keep && !chunks[end].new_page {
        end += 1;
    }
    if height(&chunks[at..end]) > room { at + 1 } else { end }
}

/// How high chunks are, without the space above the first.
pub(crate) fn height(chunks: &[Chunk<'_>]) -> f64 {
    let spaces: f64 = chunks.iter().skip(1).map(|chunk| chunk.space).sum();
    spaces + chunks.iter().map(|chunk| chunk.height).sum::<f64>()
}

/// The running title, but on the first page, and the page's number.
fn furniture(title: &str, page: Size, (number, count): (usize, usize)) -> Vec<Node> {
    let text = |run: TextRun| Node::Item { role: Role::Note, shape: Shape::Text(run) };
    let says = format!("{number} of {count}");
    let foot = Point::new(page.width / 2.0, page.height - FOOT + 11.0);
    let mut nodes = vec![text(TextRun::new(&says, Face::Regular, SMALL, DIMENSION).middle_at(foot))];
    if number > 1 {
        let base = TOP - 9.0;
        nodes.push(text(TextRun::new(title, Face::Regular, SMALL, DIMENSION).at(Point::new(SIDE, base))));
        nodes.push(rule(SIDE, page.width - SIDE, base + 1.8));
    }
    nodes
}

/// A thin line across.
pub(crate) fn rule(from: f64, to: f64, y: f64) -> Node {
    let mut path = BezPath::new();
    path.move_to((from, y));
    path.line_to((to, y));
    Node::Item { role: Role::Note, shape: Shape::Line { path, stroke: stroke_for(Role::Note) } }
}

/// As much of a text as fits on a line.
pub(crate) fn one_line(text: &str, width: f64) -> String {
    // No line holds more; measuring more would only take time.
    let mut shown: String = text.chars().filter(|c| !c.is_control()).take(300).collect();
    if shown.len() == text.len() && measure(&shown, Face::Regular, SMALL) <= width {
        return shown;
    }
    while !shown.is_empty() && measure(&format!("{shown}…"), Face::Regular, SMALL) > width {
        shown.pop();
    }
    format!("{}…", shown.trim_end())
}
