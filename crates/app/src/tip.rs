//! Tooltips: one sentence for whoever points at a thing, and the same for whoever hears it described; and the words of the
//! trade, each explained where it stands as a heading or before a field.

use about::glossary;
use egui::Response;

/// A thing in the window that says in a sentence what it is for.
pub(crate) trait Tip {
    /// Says it beside the pointer, whether the thing can be used now or not, and to a screen reader.
    fn tip(self, sentence: &str) -> Self;

    /// Says it to a screen reader alone, where the pointer is told something else.
    fn described(self, sentence: &str) -> Self;

    /// Explains the words of the trade in a heading or caption, where there are any.
    fn explained(self, text: &str) -> Self;
}

impl Tip for Response {
    fn tip(self, sentence: &str) -> Self {
        self.described(sentence).on_hover_text(sentence).on_disabled_hover_text(sentence)
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
