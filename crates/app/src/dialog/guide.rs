//! A page of the guide, read in the window.
//!
//! The page is the one of the guide, as it is; of its marks only those are known that it uses: headings, numbered steps, points,
//! what is bold, links and pictures. A picture is left out here, since the window itself is before the reader.

use super::{Answer, answers, title};
use crate::theme::{BODY, bold, colour, palette, plain};
use egui::text::{LayoutJob, TextFormat};
use egui::{FontId, Label, RichText, ScrollArea, Ui};

/// How a folio is made in the window, from nothing.
const PAGE: &str = include_str!("../../../../docs/guide/from-nothing.md");

/// Width of the dialog, px: a line that is read at ease.
pub(super) const WIDTH: f32 = 600.0;

/// What the dialog takes of the window's height beside the page, px.
const BESIDE: f32 = 190.0;

/// The least and the greatest height of the page, px.
const HEIGHT: (f32, f32) = (200.0, 620.0);

/// Before the words of a step or point, px.
const INDENT: f32 = 18.0;

/// A block of the page.
#[derive(Debug, Clone, PartialEq, Eq)]
enum Block {
    /// A heading.
    Heading(String),
    /// A step or point by its sign, or a paragraph without one.
    Words(String, String),
}

/// Shows it.
pub(super) fn ui(ui: &mut Ui) -> Option<Answer> {
    let blocks = blocks(PAGE);
    let mut blocks = blocks.iter();
    if let Some(Block::Heading(heading)) = blocks.next() {
        title(ui, heading);
    }
    let height = (ui.ctx().content_rect().height() - BESIDE).clamp(HEIGHT.0, HEIGHT.1);
    ScrollArea::vertical().max_height(height).min_scrolled_height(height).auto_shrink(false).show(ui, |ui| {
        for block in blocks {
            show(ui, block);
        }
    });
    answers(ui, [("Close", Answer::Never)])
}

fn show(ui: &mut Ui, block: &Block) {
    match block {
        Block::Heading(text) => {
            ui.add_space(4.0);
            ui.label(RichText::new(text).font(bold(BODY + 1.5)));
        }
        Block::Words(sign, text) if sign.is_empty() => {
            ui.add(Label::new(words(text)).wrap());
        }
        Block::Words(sign, text) => {
            ui.horizontal_top(|ui| {
                let width = ui.spacing().item_spacing.x;
                ui.allocate_ui(egui::Vec2::new(INDENT - width, 0.0), |ui| {
                    ui.set_min_width(INDENT - width);
                    ui.label(RichText::new(sign).font(plain(BODY)));
                });
                ui.add(Label::new(words(text)).wrap());
            });
        }
    }
}

/// A text with what is bold between pairs of stars, as it is in the page.
fn words(text: &str) -> LayoutJob {
    let mut job = LayoutJob::default();
    for (at, part) in text.split("**").enumerate() {
        let font: FontId = if at % 2 == 0 { plain(BODY) } else { bold(BODY) };
        job.append(part, 0.0, TextFormat::simple(font, colour(palette().text)));
    }
    job
}

/// The blocks of a page.
fn blocks(page: &str) -> Vec<Block> {
    let mut blocks: Vec<Block> = Vec::new();
    let mut goes_on = false;
    for line in page.lines() {
        let line = line.trim();
        if line.is_empty() || line.starts_with("![") {
            goes_on = false;
        } else if let Some(heading) = line.strip_prefix('#') {
            blocks.push(Block::Heading(unlinked(heading.trim_start_matches('#').trim())));
            goes_on = false;
        } else if let Some((sign, text)) = signed(line) {
            blocks.push(Block::Words(sign, unlinked(text)));
            goes_on = true;
        } else {
            match blocks.last_mut() {
                Some(Block::Words(_, text)) if goes_on => {
                    text.push(' ');
                    text.push_str(&unlinked(line));
                }
                _ => blocks.push(Block::Words(String::new(), unlinked(line))),
            }
            goes_on = true;
        }
    }
    blocks
}

/// The sign before a step or point, and what stands behind it: "1." or a dot.
fn signed(line: &str) -> Option<(String, &str)> {
    if let Some(text) = line.strip_prefix("- ") {
        return Some(("•".to_owned(), text));
    }
    let (number, text) = line.split_once(". ")?;
    number.bytes().all(|byte| byte.is_ascii_digit()).then(|| (format!("{number}."), text))
}

/// The text with links as their words alone, and without the marks of what is typed, which stays on one line.
fn unlinked(text: &str) -> String {
    let mut left = text;
    let mut said = String::new();
    while let Some((before, rest)) = left.split_once('[') {
        let Some((name, after)) = rest.split_once("](") else { break };
        said.push_str(before);
        said.push_str(name);
        left = after.split_once(')').map_or("", |(_, after)| after);
    }
    said.push_str(left);
    let typed = said.split('`').enumerate();
    typed.map(|(at, part)| if at % 2 == 0 { part.to_owned() } else { part.replace(' ', "\u{a0}") }).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_page_is_read_block_by_block() {
        let page = "# A folio\n\nPress [the key](keys.md)\nnow.\n\n![A sheet](a.png)\n\n1. **Score** it\n   twice.\n2. Cut it.\n\n- `3 in`\n";
        let words = |sign: &str, text: &str| Block::Words(sign.to_owned(), text.to_owned());
        let expected = [
            Block::Heading("A folio".to_owned()),
            words("", "Press the key now."),
            words("1.", "**Score** it twice."),
            words("2.", "Cut it."),
            words("•", "3\u{a0}in"),
        ];
        assert_eq!(blocks(page), expected);
    }

    #[test]
    fn nothing_of_the_page_is_left_as_a_mark() {
        let all = blocks(PAGE);
        assert!(matches!(all.first(), Some(Block::Heading(_))) && all.len() > 12, "{}", all.len());
        for block in &all {
            let (Block::Heading(text) | Block::Words(_, text)) = block;
            let pairs = text.matches("**").count();
            let is_plain = !text.replace("**", "").contains(['*', '[', ']', '`', '|', '#']);
            assert!(pairs % 2 == 0 && is_plain, "{text}");
        }
    }
}
