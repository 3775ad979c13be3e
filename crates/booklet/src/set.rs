//! Each kind of block as chunks with their text wrapped, and every mark tagged as what it is.

use crate::block::{Block, Figure, Step, Table};
use crate::flow::{Chunk, height, rule};
use crate::style::{BESIDE, CHAPTER, GAP, GUTTER, LEADING, SECTION, SMALL, TEXT, TITLE, WIDE_GAP, times};
use draw::list::{Node, Role, Shape, Tag, TagKind};
use draw::style::{Colour, DESK, DIMENSION, FINDING_WARNING, LABEL, PAPER_FRONT};
use draw::text::{Face, TextRun, wrap};
use kurbo::{Affine, Point, Rect, Shape as _};
use std::cell::Cell;

/// Sets blocks into a column.
pub(crate) struct Setter {
    pub(crate) left: f64,
    pub(crate) width: f64,
    /// The height of a page.
    pub(crate) room: f64,
    /// The chapters with their pages.
    contents: Table,
    next: Cell<u32>,
}

/// How lines of text look.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Look {
    pub(crate) face: Face,
    pub(crate) size: f64,
    pub(crate) ink: Colour,
}

impl Look {
    pub(crate) const TEXT: Self = Self { face: Face::Regular, size: TEXT, ink: LABEL };
    pub(crate) const SMALL: Self = Self { face: Face::Regular, size: SMALL, ink: LABEL };
    pub(crate) const SMALL_BOLD: Self = Self { face: Face::Bold, size: SMALL, ink: LABEL };
    pub(crate) const CAPTION: Self = Self { face: Face::Regular, size: SMALL, ink: DIMENSION };
    const BOLD: Self = Self { face: Face::Bold, size: TEXT, ink: LABEL };

    /// The height of a line.
    pub(crate) fn line(self) -> f64 {
        self.size * LEADING
    }

    /// From a line's top to its baseline.
    pub(crate) fn baseline(self) -> f64 {
        // The middle of capitals lies in the middle of the line.
        self.line() / 2.0 + self.face.metrics().cap_height * self.size / 2.0
    }

    pub(crate) fn wrap(self, text: &str, width: f64) -> Vec<String> {
        wrap(text, self.face, self.size, width)
    }

    /// A line of text as a node; one that goes on has a space at its end, so that its last word stands apart from the next.
    pub(crate) fn node(self, line: &str, goes_on: bool, left: f64, top: f64) -> Node {
        let text = if goes_on { format!("{line} ") } else { line.to_owned() };
        let run = TextRun::new(&text, self.face, self.size, self.ink).at(Point::new(left, top + self.baseline()));
        Node::Item { role: Role::Note, shape: Shape::Text(run) }
    }
}

/// The lines of a text, none too many: what goes on beyond `most` lines ends in an ellipsis.
pub(crate) fn shortened(mut lines: Vec<String>, most: usize) -> Vec<String> {
    if lines.len() > most {
        lines.truncate(most);
        if let Some(last) = lines.last_mut() {
            for _ in 0..2 {
                last.pop();
            }
            last.push('…');
        }
    }
    lines
}

impl Setter {
    pub(crate) const fn new(left: f64, width: f64, room: f64, contents: Table) -> Self {
        Self { left, width, room, contents, next: Cell::new(0) }
    }

    /// A new element.
    pub(crate) fn tag(&self, kind: TagKind) -> Tag {
        self.next.set(self.next.get() + 1);
        Tag { number: self.next.get(), kind }
    }

    pub(crate) fn blocks<'a>(&'a self, blocks: &'a [Block]) -> Vec<Chunk<'a>> {
        self.within(blocks, self.left, self.width, &[])
    }

    /// Sets blocks within an element, in a column of its own.
    fn within<'a>(&'a self, blocks: &'a [Block], left: f64, width: f64, tags: &[Tag]) -> Vec<Chunk<'a>> {
        let mut out: Vec<Chunk<'a>> = Vec::new();
        let mut begins_page = false;
        let mut leads_on = false;
        for block in blocks {
            let at = out.len();
            // A paragraph that says what comes is not parted from it.
            let follows = !matches!(block, Block::Paragraph(_) | Block::Heading(..) | Block::Title(_) | Block::NewPage);
            if let Some(last) = out.last_mut().filter(|_| leads_on && follows) {
                last.keep = true;
            }
            leads_on = matches!(block, Block::Paragraph(_));
            match block {
                Block::NewPage => {
                    begins_page = true;
                    continue;
                }
                Block::Contents => out.extend(self.table(&self.contents, left, width, tags)),
                Block::Title(text) => out.extend(self.title(text, left, width)),
                Block::Heading(level, text) => out.extend(self.heading(*level, text, left, width)),
                Block::Paragraph(text) => {
                    out.extend(self.paragraph(text, Look::TEXT, left, width, tags));
                }
                Block::List(items) => out.extend(self.list(items, left, width, tags)),
                Block::Caution(text) => out.push(self.caution(text, left, width, tags)),
                Block::Table(table) => out.extend(self.table(table, left, width, tags)),
                Block::Figures(figures, is_on_desk) => {
                    out.extend(self.figures(figures, *is_on_desk, left, width, tags));
                }
                Block::Beside(figure, blocks) => out.extend(self.beside(figure, blocks, left, width, tags)),
                Block::Steps(steps) => out.extend(self.steps(steps, left, width)),
            }
            if let Some(first) = out.get_mut(at) {
                first.new_page |= std::mem::take(&mut begins_page);
            }
        }
        out
    }

    fn title<'a>(&self, text: &str, left: f64, width: f64) -> Vec<Chunk<'a>> {
        let look = Look { face: Face::Bold, size: TITLE, ink: LABEL };
        let short: String = text.chars().take(400).collect();
        let tag = self.tag(TagKind::Heading(1));
        let lines = shortened(look.wrap(&short, width), 4);
        lined(lines, look, left, &[tag], WIDE_GAP, 4)
    }

    fn heading<'a>(&self, level: u8, text: &str, left: f64, width: f64) -> Vec<Chunk<'a>> {
        let (size, space) = if level == 1 { (CHAPTER, 9.0) } else { (SECTION, 5.0) };
        let look = Look { face: Face::Bold, size, ink: LABEL };
        let short: String = text.chars().take(300).collect();
        let tags = [self.tag(TagKind::Heading(level))];
        let lines = shortened(look.wrap(&short, width), 3);
        let mut chunks: Vec<Chunk<'a>> =
            lined(lines, look, left, &tags, space, usize::MAX).into_iter().map(Chunk::kept).collect();
        if level == 1 {
            chunks.push(Chunk::new(0.4, 1.0, move |y, _| vec![rule(left, left + width, y + 0.4)]).kept());
        }
        chunks
    }

    fn paragraph<'a>(&self, text: &str, look: Look, left: f64, width: f64, tags: &[Tag]) -> Vec<Chunk<'a>> {
        let tags = with(tags, self.tag(TagKind::Paragraph));
        lined(look.wrap(text, width), look, left, &tags, GAP, 2)
    }

    fn list<'a>(&self, items: &[String], left: f64, width: f64, tags: &[Tag]) -> Vec<Chunk<'a>> {
        const INDENT: f64 = 4.6;
        let list = with(tags, self.tag(TagKind::List { numbered: false }));
        let mut out = Vec::new();
        for (i, item) in items.iter().enumerate() {
            let item_tags = with(&list, self.tag(TagKind::Item));
            let label = with(&item_tags, self.tag(TagKind::Label));
            let body = with(&item_tags, self.tag(TagKind::Body));
            let lines = Look::TEXT.wrap(item, width - INDENT);
            let space = if i == 0 { GAP } else { 1.0 };
            let mut chunks = lined(lines, Look::TEXT, left + INDENT, &body, space, 2);
            if let Some(first) = chunks.first_mut() {
                let text = first.draw.clone();
                first.draw = std::rc::Rc::new(move |y, tagged| {
                    let bullet = Look::TEXT.node("•", false, left + 0.8, y);
                    let mut nodes = vec![Node::Tagged { tags: label.clone(), nodes: vec![bullet] }];
                    nodes.extend(text(y, tagged));
                    nodes
                });
            }
            out.extend(chunks);
        }
        // The first two and the last two stay together.
        let count = out.len();
        for i in [0, count.saturating_sub(2)] {
            if i + 1 < count {
                out[i].keep = true;
            }
        }
        out
    }

    fn caution<'a>(&self, text: &str, left: f64, width: f64, tags: &[Tag]) -> Chunk<'a> {
        const INSET: f64 = 3.4;
        let tags = with(tags, self.tag(TagKind::Paragraph));
        let lines = shortened(Look::SMALL.wrap(text, width - 2.0 * INSET - 1.0), 40);
        let tall = times(lines.len()) * Look::SMALL.line();
        Chunk::new(GAP, tall + 2.6, move |y, _| {
            let panel = Rect::new(left, y, left + width, y + tall + 2.6);
            let edge = Rect { x1: left + 1.0, ..panel };
            let mut nodes = vec![filled(panel, PAPER_FRONT), filled(edge, FINDING_WARNING)];
            let says = lines.iter().enumerate().map(|(i, line)| {
                let top = y + 1.3 + times(i) * Look::SMALL.line();
                Look::SMALL.node(line, i + 1 < lines.len(), left + 1.0 + INSET, top)
            });
            nodes.push(Node::Tagged { tags: tags.clone(), nodes: says.collect() });
            nodes
        })
    }

    /// Pictures side by side, each in the middle of its share of the column.
    fn figures<'a>(
        &self,
        figures: &'a [Figure],
        is_on_desk: bool,
        left: f64,
        width: f64,
        tags: &[Tag],
    ) -> Option<Chunk<'a>> {
        let count = times(figures.len().max(1));
        let share = (width - GUTTER * (count - 1.0)) / count;
        let inset = if is_on_desk { 6.0 } else { 0.0 };
        let tallest = figures.iter().map(|figure| figure.picture.size.height).fold(0.0, f64::max);
        let parts: Vec<Placed<'a>> = (0..)
            .zip(figures)
            .map(|(i, figure)| {
                let start = left + f64::from(i) * (share + GUTTER);
                let middle = start + (share - figure.picture.size.width) / 2.0;
                let drop = inset + (tallest - figure.picture.size.height) / 2.0;
                let caption = Look::CAPTION.wrap(&figure.caption, share - 4.0);
                self.placed(
                    figure,
                    Point::new(middle, drop),
                    caption,
                    Some((start + share / 2.0, tallest + inset)),
                    tags,
                )
            })
            .collect();
        if figures.is_empty() {
            return None;
        }
        let words = times(parts.iter().map(|part| part.caption.len()).max().unwrap_or(0)) * Look::CAPTION.line();
        let tall = tallest + 2.0 * inset + if words > 0.0 { words + 1.6 } else { 0.0 };
        Some(Chunk::new(WIDE_GAP, tall, move |y, _| {
            let mut nodes = Vec::new();
            if is_on_desk {
                nodes.push(filled_round(Rect::new(left, y, left + width, y + tall), DESK));
            }
            nodes.extend(parts.iter().flat_map(|part| part.nodes(y)));
            nodes
        }))
    }

    fn placed<'a>(
        &self,
        figure: &'a Figure,
        at: Point,
        caption: Vec<String>,
        under: Option<(f64, f64)>,
        tags: &[Tag],
    ) -> Placed<'a> {
        let kind = TagKind::Figure { alt: figure.alt.clone(), bounds: Rect::ZERO };
        let tags = with(tags, self.tag(kind));
        let caption_tag = self.tag(TagKind::Caption);
        Placed { figure, at, caption, under: under.unwrap_or_default(), tags, caption_tag }
    }

    /// A picture at the left and words at the right; one after the other where they would not fit a page together.
    fn beside<'a>(
        &'a self,
        figure: &'a Figure,
        blocks: &'a [Block],
        left: f64,
        width: f64,
        tags: &[Tag],
    ) -> Vec<Chunk<'a>> {
        let caption = Look::CAPTION.wrap(&figure.caption, BESIDE);
        let words = times(caption.len()) * Look::CAPTION.line();
        let size = figure.picture.size;
        let at = Point::new(left + (BESIDE - size.width) / 2.0, 1.0);
        let under = Some((left + BESIDE / 2.0, size.height + 1.0));
        let placed = self.placed(figure, at, caption, under, tags);
        let text = self.within(blocks, left + BESIDE + GUTTER, width - BESIDE - GUTTER, tags);
        let (picture, tall) = (size.height + 1.0 + words + 1.6, height(&text));
        if tall > self.room / 2.0 {
            let mut out = vec![Chunk::new(WIDE_GAP, picture, move |y, _| placed.nodes(y)).kept()];
            out.extend(self.within(blocks, left, width, tags));
            return out;
        }
        vec![Chunk::new(WIDE_GAP, picture.max(tall), move |y, tagged| {
            let mut nodes = stacked(&text, y, tagged);
            nodes.extend(placed.nodes(y));
            nodes
        })]
    }

    fn steps<'a>(&self, steps: &'a [Step], left: f64, width: f64) -> Vec<Chunk<'a>> {
        let list = [self.tag(TagKind::List { numbered: true })];
        steps.iter().flat_map(|step| self.step(step, left, width, &list)).collect()
    }

    /// A step: its picture at the left, its number and words at the right.
    fn step<'a>(&self, step: &'a Step, left: f64, width: f64, list: &[Tag]) -> Vec<Chunk<'a>> {
        let item = with(list, self.tag(TagKind::Item));
        let label = with(&item, self.tag(TagKind::Label));
        let body = with(&item, self.tag(TagKind::Body));
        let number = draw::text::measure(&step.number, Face::Bold, TEXT) + 2.2;
        let column = if step.figure.is_some() { left + BESIDE + GUTTER } else { left };
        let (start, room) = (column + number, width - (column - left) - number);
        let mut text = self.paragraph(&step.text, Look::TEXT, start, room, &body);
        for note in &step.notes {
            text.extend(self.paragraph(note, Look::CAPTION, start, room, &body));
        }
        text.extend(step.cautions.iter().map(|caution| self.caution(caution, start, room, &body)));
        if let Some(first) = text.first_mut() {
            let words = first.draw.clone();
            let says = step.number.clone();
            first.draw = std::rc::Rc::new(move |y, tagged| {
                let run = Look::BOLD.node(&says, false, column, y);
                let mut nodes = vec![Node::Tagged { tags: label.clone(), nodes: vec![run] }];
                nodes.extend(words(y, tagged));
                nodes
            });
        }
        let tall = height(&text);
        let Some(figure) = &step.figure else {
            if let Some(first) = text.first_mut() {
                first.space = GAP;
            }
            return text;
        };
        let size = figure.picture.size;
        let at = Point::new(left + (BESIDE - size.width) / 2.0, 0.0);
        let placed = self.placed(figure, at, Vec::new(), None, &body);
        if tall > self.room / 2.0 {
            let mut out = vec![Chunk::new(WIDE_GAP, size.height, move |y, _| placed.nodes(y)).kept()];
            out.extend(text);
            return out;
        }
        vec![Chunk::new(WIDE_GAP, size.height.max(tall), move |y, tagged| {
            let mut nodes = stacked(&text, y, tagged);
            nodes.extend(placed.nodes(y));
            nodes
        })]
    }
}

/// A picture at its place on a chunk.
struct Placed<'a> {
    figure: &'a Figure,
    /// Its upper left corner: across the page, and down from the chunk's top.
    at: Point,
    caption: Vec<String>,
    /// The middle of its caption, and the caption's top.
    under: (f64, f64),
    tags: Vec<Tag>,
    caption_tag: Tag,
}

impl Placed<'_> {
    fn nodes(&self, y: f64) -> Vec<Node> {
        let picture = &self.figure.picture;
        let at = Point::new(self.at.x, y + self.at.y);
        let mut tags = self.tags.clone();
        if let Some(Tag { kind: TagKind::Figure { bounds, .. }, .. }) = tags.last_mut() {
            *bounds = Rect::from_origin_size(at, picture.size);
        }
        let drawn = Node::Group { place: Affine::translate(at.to_vec2()), clip: None, nodes: picture.nodes.clone() };
        let mut nodes = vec![Node::Tagged { tags: tags.clone(), nodes: vec![drawn] }];
        if !self.caption.is_empty() {
            tags.push(self.caption_tag.clone());
            let lines = self.caption.iter().enumerate().map(|(i, line)| {
                let look = Look::CAPTION;
                let text = if i + 1 < self.caption.len() { format!("{line} ") } else { line.clone() };
                let top = y + self.under.1 + 1.6 + times(i) * look.line();
                let run = TextRun::new(&text, look.face, look.size, look.ink);
                let run = run.middle_at(Point::new(self.under.0, top + look.baseline()));
                Node::Item { role: Role::Note, shape: Shape::Text(run) }
            });
            nodes.push(Node::Tagged { tags, nodes: lines.collect() });
        }
        nodes
    }
}

/// Chunks under one another, as one.
fn stacked(chunks: &[Chunk<'_>], mut y: f64, tagged: bool) -> Vec<Node> {
    let mut nodes = Vec::new();
    for (i, chunk) in chunks.iter().enumerate() {
        if i > 0 {
            y += chunk.space;
        }
        nodes.extend((chunk.draw)(y, tagged));
        y += chunk.height;
    }
    nodes
}

/// A chunk a line; the first `alone` lines and the last two stay together.
fn lined<'a>(lines: Vec<String>, look: Look, left: f64, tags: &[Tag], space: f64, alone: usize) -> Vec<Chunk<'a>> {
    let count = lines.len();
    let chunk = |(i, line): (usize, String)| {
        let tags = tags.to_vec();
        let space = if i == 0 { space } else { 0.0 };
        let mut chunk = Chunk::new(space, look.line(), move |y, _| {
            let text = look.node(&line, i + 1 < count, left, y);
            vec![Node::Tagged { tags: tags.clone(), nodes: vec![text] }]
        });
        chunk.keep = i + 1 < count && (i + 1 < alone || i + 2 == count);
        chunk
    };
    lines.into_iter().enumerate().map(chunk).collect()
}

pub(crate) fn with(tags: &[Tag], tag: Tag) -> Vec<Tag> {
    tags.iter().cloned().chain([tag]).collect()
}

pub(crate) fn filled(rect: Rect, colour: Colour) -> Node {
    Node::Item { role: Role::Note, shape: Shape::Fill { path: rect.to_path(0.1), colour } }
}

fn filled_round(rect: Rect, colour: Colour) -> Node {
    Node::Item { role: Role::Note, shape: Shape::Fill { path: rect.to_rounded_rect(2.5).to_path(0.05), colour } }
}
