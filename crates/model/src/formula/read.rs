//! Reading formulas: sums of products of figures, names and brackets.

use super::{FormulaError, Sign, Term, short};
use crate::length::read::{number_of, spelled_out, unit_named};
use crate::length::{LengthError, Unit};
use crate::named::is_letter;
use crate::ratio::Ratio;

/// A text as a term.
pub(super) fn term(text: &str) -> Result<Term, FormulaError> {
    let text = spelled_out(text);
    let tokens = tokens(&text)?;
    if tokens.is_empty() {
        return Err(LengthError::Empty.into());
    }
    let mut reader = Reader { tokens: &tokens, at: 0, text: &text };
    let term = reader.sum()?;
    match reader.next() {
        None => Ok(term),
        Some(token) => Err(token.misplaced()),
    }
}

#[derive(Debug, Clone, PartialEq)]
enum Token {
    Figure(Ratio, Option<Unit>, String),
    Name(String),
    Sign(Sign),
    Open,
    Close,
}

impl Token {
    fn misplaced(&self) -> FormulaError {
        FormulaError::Misplaced(match self {
            Self::Figure(_, _, text) | Self::Name(text) => short(text),
            Self::Sign(Sign::Plus) => "+".to_owned(),
            Self::Sign(Sign::Minus) => "-".to_owned(),
            Self::Sign(Sign::Times) => "*".to_owned(),
            Self::Sign(Sign::Over) => "/".to_owned(),
            Self::Open => "(".to_owned(),
            Self::Close => ")".to_owned(),
        })
    }
}

fn tokens(text: &str) -> Result<Vec<Token>, FormulaError> {
    let mut found = Vec::new();
    let mut rest = text.trim_start();
    while let Some(first) = rest.chars().next() {
        let (token, after) = match first {
            '0'..='9' | '.' => figure(rest)?,
            _ if is_letter(first) => name(rest),
            _ => {
                let token = match first {
                    '+' => Token::Sign(Sign::Plus),
                    '-' | '−' | '–' => Token::Sign(Sign::Minus),
                    '*' | '×' | '·' => Token::Sign(Sign::Times),
                    '/' | '÷' => Token::Sign(Sign::Over),
                    '(' => Token::Open,
                    ')' => Token::Close,
                    other => return Err(FormulaError::Misplaced(other.escape_debug().to_string())),
                };
                (token, &rest[first.len_utf8()..])
            }
        };
        found.push(token);
        rest = after.trim_start();
    }
    Ok(found)
}

/// The bytes at the start of a text whose characters are all of a kind.
fn run(text: &str, is: impl Fn(char) -> bool) -> usize {
    text.find(|c| !is(c)).unwrap_or(text.len())
}

/// A figure with its unit, and what follows: `2`, `2.75`, `3/4`, `2 3/4` or `2-3/4`. A stroke with room about it divides.
fn figure(text: &str) -> Result<(Token, &str), FormulaError> {
    let digits = |text: &str| run(text, |c| c.is_ascii_digit());
    let fraction = |text: &str| {
        let top = digits(text);
        let bottom = text[top..].strip_prefix('/').map_or(0, digits);
        (top > 0 && bottom > 0).then_some(top + 1 + bottom)
    };
    let mut end = fraction(text).unwrap_or_else(|| run(text, |c| c.is_ascii_digit() || c == '.'));
    if !text[..end].contains(['/', '.']) {
        let rest = &text[end..];
        let gap = if rest.starts_with('-') { 1 } else { run(rest, |c| c == ' ' || c == '\u{a0}') };
        if let (true, Some(part)) = (gap > 0, fraction(&rest[gap..])) {
            end += gap + part;
        }
    }
    let (written, rest) = text.split_at(end);
    let number = number_of(written, &short(written))?;
    let after = rest.trim_start();
    let word = match after.chars().next() {
        Some(mark @ ('"' | '″')) => mark.len_utf8(),
        _ => run(after, char::is_alphabetic),
    };
    if word == 0 {
        return Ok((Token::Figure(number, None, written.to_owned()), rest));
    }
    let (word, rest) = after.split_at(word);
    let unit = unit_named(word).ok_or_else(|| FormulaError::NoSign(short(written), short(word)))?;
    let rest = rest.strip_prefix('.').unwrap_or(rest);
    Ok((Token::Figure(number, Some(unit), format!("{written} {word}")), rest))
}

/// A name with single spaces between its words, and what follows.
fn name(text: &str) -> (Token, &str) {
    let end = run(text, |c| is_letter(c) || c.is_ascii_digit() || c == ' ' || c == '\u{a0}');
    let words: Vec<&str> = text[..end].split([' ', '\u{a0}']).filter(|word| !word.is_empty()).collect();
    (Token::Name(words.join(" ")), &text[end..])
}

struct Reader<'a> {
    tokens: &'a [Token],
    at: usize,
    text: &'a str,
}

impl Reader<'_> {
    fn next(&self) -> Option<&Token> {
        self.tokens.get(self.at)
    }

    /// The next sign, if it is one of two.
    fn sign(&mut self, of: [Sign; 2]) -> Option<Sign> {
        let Some(Token::Sign(sign)) = self.next() else { return None };
        let sign = *sign;
        of.contains(&sign).then(|| {
            self.at += 1;
            sign
        })
    }

    fn sum(&mut self) -> Result<Term, FormulaError> {
        let mut term = self.product()?;
        while let Some(sign) = self.sign([Sign::Plus, Sign::Minus]) {
            term = Term::Pair(sign, Box::new([term, self.product()?]));
        }
        Ok(term)
    }

    fn product(&mut self) -> Result<Term, FormulaError> {
        let mut term = self.signed()?;
        while let Some(sign) = self.sign([Sign::Times, Sign::Over]) {
            term = Term::Pair(sign, Box::new([term, self.signed()?]));
        }
        Ok(term)
    }

    /// No deeper than a formula is long.
    fn signed(&mut self) -> Result<Term, FormulaError> {
        match self.sign([Sign::Plus, Sign::Minus]) {
            Some(Sign::Minus) => self.signed().map(Term::negated),
            Some(_) => self.signed(),
            None => self.one(),
        }
    }

    fn one(&mut self) -> Result<Term, FormulaError> {
        let early = || FormulaError::EndsEarly(short(self.text.trim()));
        let token = self.next().cloned().ok_or_else(early)?;
        self.at += 1;
        match token {
            Token::Figure(figure, unit, _) => Ok(Term::Figure(figure, unit)),
            Token::Name(name) => Ok(Term::Name(name)),
            Token::Open => {
                let inner = self.sum()?;
                match self.next() {
                    Some(Token::Close) => {
                        self.at += 1;
                        Ok(inner)
                    }
                    Some(token) => Err(token.misplaced()),
                    None => Err(FormulaError::EndsEarly(short(self.text.trim()))),
                }
            }
            other => Err(other.misplaced()),
        }
    }
}
