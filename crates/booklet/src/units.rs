//! Lengths in one unit or in two, in whatever sentence they stand.
//!
//! A sentence is made once in each unit by the code that makes it for everybody; where the two differ by a length, both
//! lengths are kept, the second in brackets. So a name that looks like a length is never taken for one.

use model::Unit;

/// What lengths are said in: one unit, or another beside it in brackets.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Units {
    /// The unit that is said first.
    pub first: Unit,
    /// The unit in brackets.
    pub second: Option<Unit>,
}

impl Units {
    /// One unit alone.
    #[must_use]
    pub const fn only(unit: Unit) -> Self {
        Self { first: unit, second: None }
    }

    /// Inches and millimetres, that of the design first.
    #[must_use]
    pub const fn both(of_design: Unit) -> Self {
        match of_design {
            Unit::Inch => Self { first: Unit::Inch, second: Some(Unit::Millimetre) },
            Unit::Millimetre | Unit::Centimetre => Self { first: of_design, second: Some(Unit::Inch) },
        }
    }
}

/// A length or a size in a sentence.
struct Measure {
    /// How many words it takes.
    words: usize,
    /// A bracket before it.
    before: String,
    /// The measure, held together by no-break spaces.
    said: String,
    /// Marks after it.
    after: String,
}

/// One sentence of two that say the same in different units.
pub(crate) fn merged(first: &str, second: &str, units: [Unit; 2]) -> String {
    let [own, other] = [first, second].map(|text| text.split(' ').collect::<Vec<&str>>());
    let (mut i, mut j) = (0, 0);
    let mut out: Vec<String> = Vec::new();
    while i < own.len() {
        let here = measure(&own[i..], units[0]);
        let there = other.get(j..).and_then(|rest| measure(rest, units[1]));
        if let (Some(here), Some(there)) = (here, there) {
            out.push(format!("{}{} ({}){}", here.before, here.said, there.said, here.after));
            (i, j) = (i + here.words, j + there.words);
        } else {
            out.push(own[i].to_owned());
            (i, j) = (i + 1, j + 1);
        }
    }
    unbroken(&out.join(" "))
}

/// The same text, no length in it parted at a line's end: "8" and "3/4 in" apart would be misread.
pub(crate) fn unbroken(text: &str) -> String {
    let words: Vec<&str> = text.split(' ').collect();
    let mut out = Vec::new();
    let mut at = 0;
    while at < words.len() {
        let units = [Unit::Inch, Unit::Millimetre, Unit::Centimetre];
        match units.into_iter().find_map(|unit| measure(&words[at..], unit)) {
            Some(Measure { words, before, said, after }) => {
                out.push(format!("{before}{said}{after}"));
                at += words;
            }
            None => {
                out.push(words[at].to_owned());
                at += 1;
            }
        }
    }
    out.join(" ")
}

/// A measure at the start of these words: "2 3/4 in", "about 70 mm", "5 1/2 x 4 in".
fn measure(words: &[&str], unit: Unit) -> Option<Measure> {
    let open = words.first()?.trim_start_matches(['(', '"']);
    let before = words[0][..words[0].len() - open.len()].to_owned();
    let mut said: Vec<&str> = Vec::new();
    let mut at = 0;
    let word = |at: usize| if at == 0 { Some(open) } else { words.get(at).copied() };
    loop {
        if word(at) == Some("about") {
            said.push("about");
            at += 1;
        }
        let number = word(at).filter(|text| is_number(text) || is_fraction(text))?;
        said.push(number);
        at += 1;
        if is_number(number)
            && let Some(fraction) = word(at).filter(|text| is_fraction(text))
        {
            said.push(fraction);
            at += 1;
        }
        let next = word(at)?;
        if next == "x" {
            said.push(next);
            at += 1;
            continue;
        }
        let bare = next.trim_end_matches([',', '.', ';', ':', ')', '"']);
        if bare != unit.word() {
            return None;
        }
        said.push(bare);
        return Some(Measure {
            words: at + 1,
            before,
            said: said.join("\u{A0}"),
            after: next[bare.len()..].to_owned(),
        });
    }
}

fn is_number(text: &str) -> bool {
    let digits = text.strip_prefix('-').unwrap_or(text);
    digits.starts_with(|c: char| c.is_ascii_digit())
        && digits.ends_with(|c: char| c.is_ascii_digit())
        && digits.chars().all(|c| c.is_ascii_digit() || c == '.')
}

fn is_fraction(text: &str) -> bool {
    text.split_once('/').is_some_and(|(above, below)| {
        let digits = |text: &str| !text.is_empty() && text.chars().all(|c| c.is_ascii_digit());
        digits(above.strip_prefix('-').unwrap_or(above)) && digits(below)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(inches: &str, millimetres: &str, both: &str) {
        let said = merged(inches, millimetres, [Unit::Inch, Unit::Millimetre]);
        assert_eq!(said.replace('\u{A0}', " "), both);
    }

    #[test]
    fn both_lengths_are_kept() {
        check("2 3/4 in", "69.85 mm", "2 3/4 in (69.85 mm)");
        check("Cut 0 in down.", "Cut 0 mm down.", "Cut 0 in (0 mm) down.");
        check(
            "Cut A, 5 1/2 x 4 in, from it.",
            "Cut A, 139.7 x 101.6 mm, from it.",
            "Cut A, 5 1/2 x 4 in (139.7 x 101.6 mm), from it.",
        );
        check(
            "the first score (\"Score 2\", 1/64 in).",
            "the first score (\"Score 2\", about 0.4 mm).",
            "the first score (\"Score 2\", 1/64 in (about 0.4 mm)).",
        );
        check("0.3 mm thick, 12 in", "0.3 mm thick, 304.8 mm", "0.3 mm thick, 12 in (304.8 mm)");
    }

    #[test]
    fn a_name_that_looks_like_a_length_is_left_alone() {
        check("Flap 3 in goes 1 in down.", "Flap 3 in goes 25.4 mm down.", "Flap 3 in goes 1 in (25.4 mm) down.");
        check("", "", "");
    }

    #[test]
    fn lengths_are_held_together() {
        assert_eq!(unbroken("from 8 3/4 in to 10 mm."), "from 8\u{A0}3/4\u{A0}in to 10\u{A0}mm.");
        assert_eq!(unbroken("12 x 12 in"), "12\u{A0}x\u{A0}12\u{A0}in");
        assert_eq!(unbroken("3 in a row"), "3\u{A0}in a row");
        assert_eq!(unbroken("in 1 of 3"), "in 1 of 3");
    }
}
