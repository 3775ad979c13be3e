//! Reading lengths: figures as rulers and patterns print them, and units.

use super::{Length, LengthError, Unit};
use crate::ratio::Ratio;

/// The single-character fractions a maker may paste.
const VULGAR: [(char, &str); 11] = [
    ('½', "1/2"),
    ('¼', "1/4"),
    ('¾', "3/4"),
    ('⅛', "1/8"),
    ('⅜', "3/8"),
    ('⅝', "5/8"),
    ('⅞', "7/8"),
    ('⅓', "1/3"),
    ('⅔', "2/3"),
    ('⅕', "1/5"),
    ('⅖', "2/5"),
];

/// The most characters of a length: 18 digits, a fraction of as many over as many, and a unit in full.
const LONGEST: usize = 72;

pub(super) fn parse(text: &str, default: Option<Unit>) -> Result<Length, LengthError> {
    let shown: String = text.trim().chars().take(40).collect();
    if text.trim().chars().count() > LONGEST {
        return Err(LengthError::NotANumber(shown));
    }
    let plain = spelled_out(text.trim());
    if plain.is_empty() {
        return Err(LengthError::Empty);
    }
    let split = plain.find(|c: char| c.is_alphabetic() || c == '"' || c == '″').unwrap_or(plain.len());
    let (number, unit) = plain.split_at(split);
    let unit = match (unit.trim(), default) {
        ("", Some(unit)) => unit,
        ("", None) => return Err(LengthError::MissingUnit(shown)),
        (word, _) => unit_named(word).ok_or_else(|| LengthError::UnknownUnit(word.to_owned()))?,
    };
    exact(number_of(number, &shown)?.times(per_unit(unit)), shown)
}

/// A text with its single-character fractions spelled out: "2 1/2" for "2½".
pub(crate) fn spelled_out(text: &str) -> String {
    let mut plain = String::new();
    for c in text.chars() {
        match VULGAR.iter().find(|(v, _)| *v == c) {
            Some((_, spelled)) => {
                plain.push(' ');
                plain.push_str(spelled);
            }
            None => plain.push(c),
        }
    }
    plain
}

/// The nanometres of a unit.
pub(crate) fn per_unit(unit: Unit) -> Ratio {
    Ratio::whole(match unit {
        Unit::Inch => 25_400_000,
        Unit::Millimetre => 1_000_000,
        Unit::Centimetre => 10_000_000,
    })
}

/// A length of so many nanometres, which must be whole; `None` for more than can be reckoned with.
pub(crate) fn exact(nm: Option<Ratio>, shown: String) -> Result<Length, LengthError> {
    let nearest = nm.and_then(Ratio::rounded).and_then(|nearest| i64::try_from(nearest).ok()).map(Length);
    match nearest.filter(|length| length.abs() <= Length::LIMIT) {
        None => Err(LengthError::TooLarge(shown)),
        Some(length) if nm.is_some_and(Ratio::is_whole) => Ok(length),
        Some(near) => Err(LengthError::NotExact(shown, near)),
    }
}

/// The unit that a word means.
pub(crate) fn unit_named(word: &str) -> Option<Unit> {
    match word.to_ascii_lowercase().trim_end_matches('.') {
        "in" | "inch" | "inches" | "\"" | "″" => Some(Unit::Inch),
        "mm" | "millimetre" | "millimetres" | "millimeter" | "millimeters" => Some(Unit::Millimetre),
        "cm" | "centimetre" | "centimetres" | "centimeter" | "centimeters" => Some(Unit::Centimetre),
        _ => None,
    }
}

/// Reads `[sign] whole`, `[sign] decimal`, `[sign] a/b` or `[sign] whole a/b`.
pub(crate) fn number_of(text: &str, shown: &str) -> Result<Ratio, LengthError> {
    let bad = || LengthError::NotANumber(shown.to_owned());
    let text = text.trim();
    let (is_negative, rest) = match text.strip_prefix(['-', '−']) {
        Some(rest) => (true, rest),
        None => (false, text.strip_prefix('+').unwrap_or(text)),
    };
    // A hyphen between whole and fraction is how some rulers and patterns print a mixed number.
    let words: Vec<&str> = rest.split([' ', '-', '\u{a0}']).filter(|word| !word.is_empty()).collect();
    let ratio = match words.as_slice() {
        [one] if one.contains('/') => fraction_of(one, shown)?,
        [one] => decimal_of(one).ok_or_else(bad)?,
        [whole, part] if part.contains('/') && !whole.contains(['/', '.']) => {
            let whole = decimal_of(whole).ok_or_else(bad)?;
            let part = fraction_of(part, shown)?;
            whole.plus(part).ok_or_else(bad)?
        }
        _ => return Err(bad()),
    };
    Ok(if is_negative { ratio.negative() } else { ratio })
}

fn fraction_of(text: &str, shown: &str) -> Result<Ratio, LengthError> {
    let bad = || LengthError::NotANumber(shown.to_owned());
    let (top, bottom) = text.split_once('/').ok_or_else(bad)?;
    let (top, bottom) = (whole_of(top).ok_or_else(bad)?, whole_of(bottom).ok_or_else(bad)?);
    Ratio::new(top, bottom).ok_or_else(|| LengthError::OverZero(shown.to_owned()))
}

/// Up to 18 digits, so that every product stays far within an `i128`.
fn whole_of(text: &str) -> Option<i128> {
    let digits = !text.is_empty() && text.len() <= 18 && text.bytes().all(|b| b.is_ascii_digit());
    digits.then(|| text.parse().ok()).flatten()
}

fn decimal_of(text: &str) -> Option<Ratio> {
    let (whole, part) = text.split_once('.').unwrap_or((text, ""));
    if whole.is_empty() && part.is_empty() || whole.len() + part.len() > 18 {
        return None;
    }
    let bottom = 10_i128.pow(u32::try_from(part.len()).ok()?);
    let whole = if whole.is_empty() { 0 } else { whole_of(whole)? };
    let part = if part.is_empty() { 0 } else { whole_of(part)? };
    Ratio::new(whole * bottom + part, bottom)
}
