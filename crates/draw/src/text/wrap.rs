//! Breaking text into lines, greedily: as many words on a line as fit. No hyphenation.

use super::{Face, clean, measure};

/// Breaks text into lines no longer than `width` mm at `size_mm` millimetres to the em.
///
/// Line breaks in the text stay, an empty line as an empty string; other runs of white space become one space. A word
/// that is longer than a line is broken where it must be. A line always takes one character at least, so a width of
/// nothing ends too. Text without words gives no lines.
#[must_use]
pub fn wrap(text: &str, face: Face, size_mm: f64, width: f64) -> Vec<String> {
    let fits = |line: &str| measure(line, face, size_mm) <= width;
    if text.trim().is_empty() {
        return Vec::new();
    }
    text.lines().flat_map(|paragraph| wrap_paragraph(paragraph, &fits)).collect()
}

fn wrap_paragraph(paragraph: &str, fits: &impl Fn(&str) -> bool) -> Vec<String> {
    let mut lines = Vec::new();
    let mut line = String::new();
    for word in paragraph.split(is_break).map(clean).filter(|word| !word.is_empty()) {
        let longer = if line.is_empty() { word.clone() } else { format!("{line} {word}") };
        if fits(&longer) {
            line = longer;
            continue;
        }
        if !line.is_empty() {
            lines.push(std::mem::take(&mut line));
        }
        line = break_word(&word, fits, &mut lines);
    }
    if !line.is_empty() || lines.is_empty() {
        lines.push(line);
    }
    lines
}

/// Puts the full lines of a word into `lines` and gives back what is left of it.
fn break_word(word: &str, fits: &impl Fn(&str) -> bool, lines: &mut Vec<String>) -> String {
    if fits(word) {
        return word.to_owned();
    }
    let mut piece = String::new();
    for c in word.chars() {
        piece.push(c);
        if !fits(&piece) && piece.len() > c.len_utf8() {
            piece.pop();
            lines.push(std::mem::replace(&mut piece, c.to_string()));
        }
    }
    piece
}

/// White space that a line may be broken at: all but the no-break spaces.
fn is_break(c: char) -> bool {
    c.is_whitespace() && !matches!(c, '\u{A0}' | '\u{202F}')
}

#[cfg(test)]
mod tests {
    use super::*;

    /// In ems, so that the widths in the cases are easy to follow: a figure is 0.572 em, a space 0.26 em.
    #[track_caller]
    fn check(text: &str, width: f64, expected: &[&str]) {
        assert_eq!(wrap(text, Face::Regular, 1.0, width), expected);
    }

    #[test]
    fn lines_take_the_words_that_fit() {
        check("11 22 33", 1.2, &["11", "22", "33"]);
        check("11 22 33", 2.6, &["11 22", "33"]);
        check("11 22 33", 9.0, &["11 22 33"]);
        check("  11 \t 22  ", 9.0, &["11 22"]);
    }

    #[test]
    fn line_breaks_stay() {
        check("11\n22", 9.0, &["11", "22"]);
        check("11\n\n22\n", 9.0, &["11", "", "22"]);
        check("", 9.0, &[]);
        check(" \n ", 9.0, &[]);
    }

    #[test]
    fn long_words_are_broken() {
        check("11111", 1.2, &["11", "11", "1"]);
        check("2 11111 2", 1.2, &["2", "11", "11", "1", "2"]);
        check("111", 0.0, &["1", "1", "1"]);
        check("111", f64::NAN, &["1", "1", "1"]);
        check("éé", -1.0, &["é", "é"]);
    }

    #[test]
    fn a_no_break_space_holds() {
        check("1 2\u{A0}mm", 2.9, &["1", "2\u{A0}mm"]);
    }

    #[test]
    fn every_line_fits() {
        let text = "Score the sheet at each distance, then turn it a quarter to the left and score again.";
        for width in [20.0, 31.0, 47.5, 100.0] {
            let lines = wrap(text, Face::Regular, 4.0, width);
            assert!(lines.iter().all(|line| measure(line, Face::Regular, 4.0) <= width));
            assert_eq!(lines.join(" "), text);
        }
    }
}
