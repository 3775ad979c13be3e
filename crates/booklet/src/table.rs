//! Tables: columns as wide as what is in them, heads shown again on each page, rows never parted.

use crate::block::Table;
use crate::flow::{Chunk, rule};
use crate::set::{Look, Setter, filled, shortened, with};
use crate::style::{WIDE_GAP, times};
use draw::list::{Node, Tag, TagKind};
use draw::style::PAPER_FRONT;
use draw::text::measure;
use kurbo::Rect;
use std::rc::Rc;

/// Between a cell's edge and its text, across and down.
const PAD: (f64, f64) = (1.8, 0.9);

/// The most lines in a cell.
const MOST_LINES: usize = 30;

/// A row ready to be drawn.
struct Row {
    cells: Vec<Vec<String>>,
    tags: Vec<Vec<Tag>>,
    look: Look,
}

impl Setter {
    pub(crate) fn table<'a>(&self, table: &'a Table, left: f64, width: f64, tags: &[Tag]) -> Vec<Chunk<'a>> {
        if table.rows.is_empty() {
            return Vec::new();
        }
        let columns = widths(table, width);
        let all = with(tags, self.tag(TagKind::Table));
        let full: f64 = columns.iter().sum();
        let mut out = Vec::new();
        if !table.caption.is_empty() {
            let caption = with(&all, self.tag(TagKind::Caption));
            let lines = Look::CAPTION.wrap(&table.caption, width);
            let tall = times(lines.len()) * Look::CAPTION.line() + 0.8;
            out.push(
                Chunk::new(WIDE_GAP, tall, move |y, _| {
                    let says = lines.iter().enumerate().map(|(i, line)| {
                        Look::CAPTION.node(line, i + 1 < lines.len(), left, y + times(i) * Look::CAPTION.line())
                    });
                    vec![Node::Tagged { tags: caption.clone(), nodes: says.collect() }]
                })
                .kept(),
            );
        }
        let heads = self.row(&table.heads, &columns, &all, (TagKind::ColumnHead, Look::SMALL_BOLD));
        let tall = heads.height();
        let stops = columns.clone();
        let mut head = Chunk::new(if out.is_empty() { WIDE_GAP } else { 0.0 }, tall, move |y, tagged| {
            let panel = Rect::new(left, y, left + full, y + tall);
            let mut nodes = vec![filled(panel, PAPER_FRONT), rule(left, left + full, y + tall)];
            nodes.extend(heads.nodes(&stops, left, y, tagged));
            nodes
        });
        head.keep = true;
        let again = (tall, Rc::clone(&head.draw));
        out.push(head);
        let count = table.rows.len();
        for (i, cells) in table.rows.iter().enumerate() {
            let row = self.row(cells, &columns, &all, (TagKind::Cell, Look::SMALL));
            let (tall, stops) = (row.height(), columns.clone());
            let mut chunk = Chunk::new(0.0, tall, move |y, tagged| {
                let mut nodes = vec![rule(left, left + full, y + tall)];
                nodes.extend(row.nodes(&stops, left, y, tagged));
                nodes
            });
            // Neither the first nor the last row stands alone.
            chunk.keep = i + 1 < count && (i == 0 || i + 2 == count);
            chunk.again = Some(again.clone());
            out.push(chunk);
        }
        out
    }

    fn row(&self, cells: &[String], columns: &[f64], table: &[Tag], (kind, look): (TagKind, Look)) -> Row {
        let row = with(table, self.tag(TagKind::Row));
        let lines = |(text, width): (&String, &f64)| shortened(look.wrap(text, width - 2.0 * PAD.0 + 0.01), MOST_LINES);
        let tags = cells.iter().map(|_| with(&row, self.tag(kind.clone()))).collect();
        Row { cells: cells.iter().zip(columns).map(lines).collect(), tags, look }
    }
}

impl Row {
    fn height(&self) -> f64 {
        let lines = self.cells.iter().map(Vec::len).max().unwrap_or(0).max(1);
        times(lines) * self.look.line() + 2.0 * PAD.1
    }

    fn nodes(&self, columns: &[f64], left: f64, y: f64, tagged: bool) -> Vec<Node> {
        let mut nodes = Vec::new();
        let mut start = left;
        for ((lines, tags), width) in self.cells.iter().zip(&self.tags).zip(columns) {
            let text = lines.iter().enumerate().map(|(i, line)| {
                let top = y + PAD.1 + times(i) * self.look.line();
                self.look.node(line, i + 1 < lines.len(), start + PAD.0, top)
            });
            if tagged {
                nodes.push(Node::Tagged { tags: tags.clone(), nodes: text.collect() });
            } else {
                nodes.extend(text);
            }
            start += width;
        }
        nodes
    }
}

/// How wide the columns are: as what is in them where that fits, else the longest word each and shares of the rest.
fn widths(table: &Table, room: f64) -> Vec<f64> {
    let texts = |column: usize| {
        let head = table.heads.get(column).map(|text| (text, Look::SMALL_BOLD));
        let cells = table.rows.iter().filter_map(move |row| row.get(column)).map(|text| (text, Look::SMALL));
        head.into_iter().chain(cells)
    };
    // Beyond this nothing is set on a line; measuring more would only take time.
    let wide = |text: &str, look: Look| {
        let start: String = text.chars().take(200).collect();
        measure(&start, look.face, look.size) + 2.0 * PAD.0 + 0.02
    };
    let natural: Vec<f64> = (0..table.heads.len())
        .map(|column| texts(column).map(|(text, look)| wide(text, look)).fold(0.0, f64::max))
        .collect();
    if natural.iter().sum::<f64>() <= room {
        return natural;
    }
    let least: Vec<f64> = (0..table.heads.len())
        .map(|column| {
            let words = texts(column).flat_map(|(text, look)| text.split(' ').map(move |word| wide(word, look)));
            words.fold(0.0, f64::max).min(room / 2.0)
        })
        .collect();
    let (needed, wanted): (f64, f64) = (least.iter().sum(), natural.iter().sum());
    if needed >= room {
        return least.iter().map(|width| width * room / needed).collect();
    }
    let share = (room - needed) / (wanted - needed).max(f64::MIN_POSITIVE);
    least.iter().zip(&natural).map(|(least, natural)| least + (natural - least) * share).collect()
}
