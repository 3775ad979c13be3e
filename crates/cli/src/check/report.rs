//! What `check` prints for a maker: plain lines, or with colour where it is read on a terminal.

use check::{Finding, Severity};
use model::Document;
use session::Derived;
use std::io::{self, Write};

/// Whether what is printed has colour. Only the severity, which is a word as well, and what frames the sentence do.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Ink {
    on: bool,
}

/// Control sequences of ECMA-48, 5th edition (1991), 8.3.117: bold with one of the eight colours that every terminal has, in
/// its own shade; faint; and back to usual.
const ERROR: &str = "\x1b[1;31m";
const WARNING: &str = "\x1b[1;33m";
const NOTE: &str = "\x1b[1;36m";
const FAINT: &str = "\x1b[2m";
const USUAL: &str = "\x1b[0m";

impl Ink {
    pub(super) const fn new(on: bool) -> Self {
        Self { on }
    }

    fn paint(self, code: &str, words: &str) -> String {
        if self.on { format!("{code}{words}{USUAL}") } else { words.to_owned() }
    }

    fn severity(self, severity: Severity) -> String {
        let code = match severity {
            Severity::Error => ERROR,
            Severity::Warning => WARNING,
            Severity::Note => NOTE,
        };
        self.paint(code, severity.word())
    }
}

/// All that is found in a design, a line each, then what is silenced.
pub(super) fn lines(
    name: &str,
    document: &Document,
    derived: &Derived,
    ink: Ink,
    out: &mut dyn Write,
) -> io::Result<()> {
    if derived.findings.is_empty() {
        writeln!(out, "{name}: no findings")?;
    }
    for Finding { rule, severity, sentence, mend, .. } in &derived.findings {
        let rule = ink.paint(FAINT, &format!("[{rule}]"));
        writeln!(out, "{name}: {}: {sentence} {mend} {rule}", ink.severity(*severity))?;
    }
    for silenced in &derived.silenced {
        let Finding { rule, sentence, .. } = &silenced.finding;
        let reason = &document.silences[silenced.by].reason;
        let rule = ink.paint(FAINT, &format!("[{rule}]"));
        writeln!(out, "{name}: {}: {sentence} Reason: {reason} {rule}", ink.paint(FAINT, "silenced"))?;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::{Ink, lines};
    use model::change::{add_line, measured_score};
    use model::{Document, Length, LineId, Size, Turn, Unit};
    use session::Derived;

    #[test]
    fn colour_adds_nothing_but_control_sequences() {
        let mut document = Document::new(Size::parse("12x12in").unwrap(), Unit::Inch);
        let score = measured_score(LineId(1), Turn::None, Length::SIXTEENTH * 33);
        document.apply(add_line(&document, score)).unwrap();
        let derived = Derived::of(&document);
        let said = |on: bool| {
            let mut out = Vec::new();
            lines("swap.folio", &document, &derived, Ink::new(on), &mut out).unwrap();
            String::from_utf8(out).unwrap()
        };
        let (plain, coloured) = (said(false), said(true));
        assert!(!plain.contains('\x1b') && coloured.contains("\x1b[1;36mnote\x1b[0m: \"Score 1\""), "{coloured}");
        // Taken out, each from its escape to its m, the rest is the same.
        let bare: String = coloured
            .split('\x1b')
            .enumerate()
            .map(|(i, part)| if i == 0 { part } else { part.split_once('m').unwrap().1 })
            .collect();
        assert_eq!(bare, plain);
    }
}
