//! How the closed folio goes by post.

use super::{Told, titled};
use crate::block::Block;
use check::Context;
use check::post::{mail_piece, words};

pub(super) fn chapter(told: Told<'_>) -> Vec<Block> {
    let crate::Subject { document, layout, folded, supply, .. } = *told.subject;
    let Some(piece) = mail_piece(&Context::new(document, layout, folded, supply)) else { return Vec::new() };
    let mut sentences = told.voice.say_all(|version| words(&piece, version.unit()));
    let (Some(check), false) = (sentences.pop(), sentences.is_empty()) else { return Vec::new() };
    let size = sentences.remove(0);
    // Before the list, so that it never stands alone on a page.
    titled("By post", vec![Block::Paragraph(size), Block::Caution(check), Block::List(sentences)])
}
