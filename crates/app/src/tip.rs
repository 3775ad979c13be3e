//! Tooltips: one sentence for whoever points at a thing, and the same for whoever hears it described; and the words of the
//! trade, each explained where it stands as a heading or before a field.

use about::glossary;
use egui::{Context, Id, Pos2, RectAlign, Response, Tooltip};

/// How far the pointer has to move off where something was let go until tips are shown again, px.
const OFF: f32 = 24.0;

/// A thing in the window that says in a sentence what it is for.
pub(crate) trait Tip {
    /// Says it beside the pointer, whether the thing can be used now or not, and to a screen reader.
    fn tip(self, sentence: &str) -> Self;

    /// The same as [`Tip::tip`], but above the thing where there is room: what is to be pressed stands under it.
    fn tip_above(self, sentence: &str) -> Self;

    /// Says it beside the pointer alone, where a screen reader is told otherwise.
    fn told(self, text: &str) -> Self;

    /// The same just at the pointer, for what is larger than its name suggests.
    fn told_at_pointer(self, text: &str) -> Self;

    /// Says it to a screen reader alone, where the pointer is told something else.
    fn described(self, sentence: &str) -> Self;

    /// Explains the words of the trade in a heading or caption, where there are any.
    fn explained(self, text: &str) -> Self;
}

impl Tip for Response {
    fn tip(self, sentence: &str) -> Self {
        let response = self.described(sentence).told(sentence);
        if is_hushed(&response.ctx) { response } else { response.on_disabled_hover_text(sentence) }
    }

    fn tip_above(self, sentence: &str) -> Self {
        let response = self.described(sentence);
        if !is_hushed(&response.ctx) {
            let mut tooltip = Tooltip::for_enabled(&response);
            tooltip.popup = tooltip.popup.align(RectAlign::TOP_START);
            tooltip.show(|ui| ui.label(sentence));
        }
        response
    }

    fn told(self, text: &str) -> Self {
        if is_hushed(&self.ctx) { self } else { self.on_hover_text(text) }
    }

    fn told_at_pointer(self, text: &str) -> Self {
        if is_hushed(&self.ctx) { self } else { self.on_hover_text_at_pointer(text) }
    }

    fn described(self, sentence: &str) -> Self {
        if self.ctx.has_accesskit_node(self.id) {
            self.ctx.accesskit_node_builder(self.id, |node| node.set_description(sentence));
        }
        self
    }

    fn explained(self, text: &str) -> Self {
        match meaning(text) {
            Some(sentences) => self.tip(&sentences),
            None => self,
        }
    }
}

/// Keeps tips back while a button of the pointer is down, and after a drag until the pointer moves off what was dragged: they
/// would cover it just when it is to be seen.
#[derive(Debug, Default)]
pub(crate) struct Hush {
    /// Where the last drag has come to, and what was dragged, until the pointer has moved off it.
    dragged: Option<(Pos2, Option<Id>)>,
}

impl Hush {
    /// Follows the pointer, at the start of a frame.
    pub(crate) fn follow(&mut self, ctx: &Context) {
        let (is_down, drags, at) = ctx.input(|input| {
            let pointer = &input.pointer;
            (pointer.any_down(), pointer.is_decidedly_dragging(), pointer.latest_pos())
        });
        if drags {
            let held = ctx.dragged_id().or(self.dragged.and_then(|(_, held)| held));
            self.dragged = at.map(|at| (at, held));
        } else if !is_down && self.dragged.is_some_and(|from| is_off(ctx, from)) {
            self.dragged = None;
        }
        let is_hushed = is_down || self.dragged.is_some();
        ctx.data_mut(|data| data.insert_temp(hush_id(), is_hushed));
    }
}

/// Whether the pointer has moved off what was let go.
fn is_off(ctx: &Context, (from, held): (Pos2, Option<Id>)) -> bool {
    let is_on_it = held.and_then(|id| ctx.read_response(id)).is_some_and(|response| response.hovered());
    let is_near = ctx.input(|input| input.pointer.latest_pos()).is_some_and(|at| at.distance(from) < OFF);
    !is_on_it && !is_near
}

fn hush_id() -> Id {
    Id::unique("tips are kept back")
}

fn is_hushed(ctx: &Context) -> bool {
    ctx.data(|data| data.get_temp(hush_id())).unwrap_or_default()
}

/// What the words of the trade in a text mean, a line each in the order they stand there; of one that is part of a longer
/// one, only the longer.
pub(crate) fn meaning(text: &str) -> Option<String> {
    let words: Vec<String> = text
        .split(|c: char| !c.is_alphanumeric() && c != '-')
        .filter(|word| !word.is_empty())
        .map(str::to_lowercase)
        .collect();
    let mut said: Vec<String> = Vec::new();
    let mut at = 0;
    while at < words.len() {
        let pair = words.get(at + 1).and_then(|next| known(&format!("{} {next}", words[at])));
        let (sentence, taken) = match pair {
            Some(sentence) => (Some(sentence), 2),
            None => (known(&words[at]), 1),
        };
        said.extend(sentence.filter(|sentence| !said.contains(sentence)));
        at += taken;
    }
    (!said.is_empty()).then(|| said.join("\n"))
}

/// What a word means; the same of several of it.
fn known(word: &str) -> Option<String> {
    let one = || word.strip_suffix("es").and_then(glossary::sentence);
    glossary::sentence(word).or_else(|| word.strip_suffix('s').and_then(glossary::sentence)).or_else(one)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(text: &str, expected: &[&str]) {
        let sentences: Vec<String> = expected.iter().map(|word| glossary::sentence(word).unwrap()).collect();
        assert_eq!(meaning(text).unwrap_or_default(), sentences.join("\n"), "{text}");
    }

    #[test]
    fn words_of_the_trade_are_found_in_headings() {
        check("Findings", &["finding"]);
        check("Grooves of the board every", &["board"]);
        check("Tuck corners", &["tuck corner"]);
        check("Notches and a notch", &["notch"]);
        check("Valley or mountain", &["valley", "mountain"]);
        check("Closing order", &[]);
    }
}
