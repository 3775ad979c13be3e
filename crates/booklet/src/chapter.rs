//! What the booklet says, chapter by chapter, in the order in which a maker needs it.

mod close;
mod cover;
mod cut;
mod fits;
mod fold;
mod make;
mod need;
mod part;
mod post;
mod score;
mod sheet;

use crate::Subject;
use crate::block::{Block, Table};
use crate::voice::Voice;

/// A design with how it is said.
#[derive(Clone, Copy)]
struct Told<'a> {
    subject: &'a Subject<'a>,
    voice: &'a Voice<'a>,
}

/// All chapters; those without anything to say are left out.
pub(crate) fn all(subject: &Subject<'_>, voice: &Voice<'_>) -> Vec<Block> {
    let told = Told { subject, voice };
    let chapters = [
        cover::chapter(told),
        need::chapter(told),
        sheet::chapter(told),
        score::chapter(told),
        cut::chapter(told),
        fold::chapter(told),
        part::chapter(told),
        make::chapter(told),
        close::chapter(told),
        fits::chapter(told),
        post::chapter(told),
        cover::credits(told),
    ];
    chapters.into_iter().flatten().collect()
}

/// A chapter of a title and what is in it; nothing where that is empty.
fn titled(title: &str, blocks: Vec<Block>) -> Vec<Block> {
    if blocks.is_empty() {
        return blocks;
    }
    std::iter::once(Block::Heading(1, title.to_owned())).chain(blocks).collect()
}

fn said(text: impl Into<String>) -> Block {
    Block::Paragraph(text.into())
}

fn table(caption: &str, heads: &[&str], rows: Vec<Vec<String>>) -> Block {
    let heads = heads.iter().map(|&head| head.to_owned()).collect();
    Block::Table(Table { caption: caption.to_owned(), heads, rows })
}

/// "1 panel", "3 panels".
fn counted(count: usize, noun: &str) -> String {
    if count == 1 { format!("1 {noun}") } else { format!("{count} {noun}s") }
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}
