//! Formulas: what a maker types where a length belongs, with the names of other lengths in it, as
//! `card width + 2 * margin`.
//!
//! A formula is worked out in exact fractions; only its result must be a whole number of nanometres. Lengths are added to
//! and taken from lengths, and multiplied and divided by numbers; a length over a length is a number. Which names there are
//! is not asked here.

mod print;
mod read;
#[cfg(test)]
mod tests;

use crate::length::read::{exact, per_unit};
use crate::length::{Length, LengthError, Unit};
use crate::ratio::Ratio;
use std::fmt;

/// A formula, whose result is a length.
///
/// ```
/// use foliowright_model::{Formula, Length, Unit};
/// let formula = Formula::parse("card width + 1/8", Some(Unit::Inch))?;
/// assert_eq!(formula.to_string(), "card width + 1/8 in");
/// assert_eq!(formula.value(|_| Some(Length::INCH * 4))?.text(Unit::Inch), "4 1/8 in");
/// # Ok::<(), foliowright_model::FormulaError>(())
/// ```
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Formula {
    root: Term,
}

#[derive(Debug, Clone, PartialEq, Eq)]
enum Term {
    /// A figure: a length where it has a unit, else a number. Never below zero.
    Figure(Ratio, Option<Unit>),
    Name(String),
    Minus(Box<Self>),
    Pair(Sign, Box<[Self; 2]>),
}

/// What is done with two terms.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Sign {
    Plus,
    Minus,
    Times,
    Over,
}

/// Why a text is no formula, or a formula has no result.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum FormulaError {
    /// It is longer than [`Formula::LONGEST`].
    TooLong,
    /// It ends where something must follow.
    EndsEarly(String),
    /// Something stands where it can't.
    Misplaced(String),
    /// A figure and a word stand beside one another without a sign.
    NoSign(String, String),
    /// There is no length of that name.
    UnknownName(String),
    /// A length is multiplied by a length.
    Area(String),
    /// A number is divided by a length.
    OverLength(String),
    /// Something is divided by nothing.
    OverNothing(String),
    /// A figure in it can't be read, or its result is no length that can be kept.
    Length(LengthError),
}

impl fmt::Display for FormulaError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TooLong => write!(f, "a formula has at most {} characters; name a part of it", Formula::LONGEST),
            Self::EndsEarly(text) => write!(f, "\"{text}\" stops too early; write what follows, or close a bracket"),
            Self::Misplaced(what) => {
                write!(f, "\"{what}\" can't stand there; reckon with +, -, *, / and brackets, a sign between any two")
            }
            Self::NoSign(figure, word) => {
                write!(f, "\"{figure} {word}\" needs a sign between, such as \"{figure} * {word}\"")
            }
            Self::UnknownName(name) => {
                write!(f, "there is no length called \"{name}\"; name it first, or write a length such as \"2 3/4 in\"")
            }
            Self::Area(text) => write!(f, "\"{text}\" is a length times a length; multiply a length by a number"),
            Self::OverLength(text) => write!(f, "\"{text}\" divides a number by a length; divide a length instead"),
            Self::OverNothing(text) => write!(f, "\"{text}\" divides by nothing; divide by something else"),
            Self::Length(error) => error.fmt(f),
        }
    }
}

impl std::error::Error for FormulaError {}

impl From<LengthError> for FormulaError {
    fn from(error: LengthError) -> Self {
        Self::Length(error)
    }
}

/// Whether a term is a length or a number.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Sort {
    Length,
    Number,
}

impl Formula {
    /// The most characters of a formula: a line in a window.
    pub const LONGEST: usize = 200;

    /// Reads a formula. A number that must be a length, as in `card width + 1/4`, is one in `unit` where there is one.
    ///
    /// # Errors
    /// Says what is wrong with the text; see [`FormulaError`].
    pub fn parse(text: &str, unit: Option<Unit>) -> Result<Self, FormulaError> {
        if text.chars().count() > Self::LONGEST {
            return Err(FormulaError::TooLong);
        }
        let (term, sort) = typed(read::term(text)?, unit)?;
        let root = if sort == Sort::Length { term } else { as_length(term, unit)? };
        let formula = Self { root };
        // What is written must be read again.
        if formula.to_string().chars().count() > Self::LONGEST { Err(FormulaError::TooLong) } else { Ok(formula) }
    }

    /// The formula that is but a name.
    #[must_use]
    pub fn of_name(name: &str) -> Self {
        Self { root: Term::Name(name.to_owned()) }
    }

    /// The names in it, from left to right, one that is there twice twice.
    #[must_use]
    pub fn names(&self) -> Vec<&str> {
        let mut found = Vec::new();
        self.root.names(&mut found);
        found
    }

    /// The same with other names: `to` gives the new one, or `None` to keep a name.
    #[must_use]
    pub fn renamed(&self, to: impl Fn(&str) -> Option<String>) -> Self {
        self.replaced(|name| to(name).map(Term::Name))
    }

    /// The same with lengths in place of names: `value` gives one in a unit, or `None` to keep a name.
    #[must_use]
    pub fn with_values(&self, value: impl Fn(&str) -> Option<(Length, Unit)>) -> Self {
        self.replaced(|name| {
            let (length, unit) = value(name)?;
            let figure = |nm: Length| Ratio::whole(nm.abs().nm().into()).times(per_unit(unit).inverse()?);
            let figure = Term::Figure(figure(length)?, Some(unit));
            Some(if length < Length::ZERO { figure.negated() } else { figure })
        })
    }

    fn replaced(&self, with: impl Fn(&str) -> Option<Term>) -> Self {
        Self { root: self.root.replaced(&with) }
    }

    /// What it comes to, with `value` giving the lengths that are named.
    ///
    /// # Errors
    /// A name is unknown, something is divided by nothing, or the result is between two nanometres or too large.
    pub fn value(&self, value: impl Fn(&str) -> Option<Length>) -> Result<Length, FormulaError> {
        let nm = self.root.worked_out(&value)?;
        Ok(exact(nm, self.shown())?)
    }

    /// The formula as a sentence shows it, cut short where it is long.
    fn shown(&self) -> String {
        short(&self.to_string())
    }
}

/// A text as a sentence shows it.
fn short(text: &str) -> String {
    const MOST: usize = 60;
    if text.chars().count() <= MOST {
        return text.to_owned();
    }
    text.chars().take(MOST - 1).chain(['…']).collect()
}

impl Term {
    /// The same below zero; a minus before a minus is none.
    fn negated(self) -> Self {
        match self {
            Self::Minus(term) => *term,
            term => Self::Minus(Box::new(term)),
        }
    }

    fn names<'a>(&'a self, found: &mut Vec<&'a str>) {
        match self {
            Self::Figure(..) => {}
            Self::Name(name) => found.push(name),
            Self::Minus(term) => term.names(found),
            Self::Pair(_, terms) => terms.iter().for_each(|term| term.names(found)),
        }
    }

    fn replaced(&self, with: &impl Fn(&str) -> Option<Self>) -> Self {
        match self {
            Self::Figure(..) => self.clone(),
            Self::Name(name) => with(name).unwrap_or_else(|| self.clone()),
            Self::Minus(term) => term.replaced(with).negated(),
            Self::Pair(sign, terms) => Self::Pair(*sign, Box::new(terms.each_ref().map(|term| term.replaced(with)))),
        }
    }

    /// In nanometres, or as it is for a number; `None` beyond what can be reckoned with.
    fn worked_out(&self, value: &impl Fn(&str) -> Option<Length>) -> Result<Option<Ratio>, FormulaError> {
        Ok(match self {
            Self::Figure(figure, None) => Some(*figure),
            Self::Figure(figure, Some(unit)) => figure.times(per_unit(*unit)),
            Self::Name(name) => {
                let length = value(name).ok_or_else(|| FormulaError::UnknownName(short(name)))?;
                Some(Ratio::whole(length.nm().into()))
            }
            Self::Minus(term) => term.worked_out(value)?.map(Ratio::negative),
            Self::Pair(sign, terms) => {
                let (Some(a), Some(b)) = (terms[0].worked_out(value)?, terms[1].worked_out(value)?) else {
                    return Ok(None);
                };
                match sign {
                    Sign::Plus => a.plus(b),
                    Sign::Minus => a.plus(b.negative()),
                    Sign::Times => a.times(b),
                    Sign::Over if b == Ratio::ZERO => return Err(FormulaError::OverNothing(self.shown())),
                    Sign::Over => b.inverse().and_then(|one_over| a.times(one_over)),
                }
            }
        })
    }

    fn shown(&self) -> String {
        short(&self.to_string())
    }
}

/// A term with its numbers made lengths in `unit` where they are added to lengths, and what it is.
fn typed(term: Term, unit: Option<Unit>) -> Result<(Term, Sort), FormulaError> {
    use Sort::{Length, Number};
    Ok(match term {
        Term::Figure(_, None) => (term, Number),
        Term::Figure(..) | Term::Name(_) => (term, Length),
        Term::Minus(inner) => {
            let (inner, sort) = typed(*inner, unit)?;
            (inner.negated(), sort)
        }
        Term::Pair(sign, terms) => {
            let [a, b] = *terms;
            let ((a, first), (b, second)) = (typed(a, unit)?, typed(b, unit)?);
            let pair = |a, b| Term::Pair(sign, Box::new([a, b]));
            match (sign, first, second) {
                (Sign::Plus | Sign::Minus, Length, Number) => (pair(a, as_length(b, unit)?), Length),
                (Sign::Plus | Sign::Minus, Number, Length) => (pair(as_length(a, unit)?, b), Length),
                (Sign::Times, Length, Length) => return Err(FormulaError::Area(pair(a, b).shown())),
                (Sign::Over, Number, Length) => return Err(FormulaError::OverLength(pair(a, b).shown())),
                (Sign::Over, Length, Length) | (_, Number, Number) => (pair(a, b), Number),
                _ => (pair(a, b), Length),
            }
        }
    })
}

/// A number made a length in `unit`.
fn as_length(term: Term, unit: Option<Unit>) -> Result<Term, FormulaError> {
    let unit = unit.ok_or_else(|| LengthError::MissingUnit(term.shown()))?;
    let length = |term| as_length(term, Some(unit));
    Ok(match term {
        Term::Figure(figure, None) => Term::Figure(figure, Some(unit)),
        Term::Minus(inner) => length(*inner)?.negated(),
        Term::Pair(sign, terms) => {
            let [a, b] = *terms;
            match sign {
                Sign::Plus | Sign::Minus => Term::Pair(sign, Box::new([length(a)?, length(b)?])),
                // A length over a length.
                Sign::Over if typed(a.clone(), None).is_ok_and(|(_, sort)| sort == Sort::Length) => {
                    let one = Term::Figure(Ratio::whole(1), Some(unit));
                    Term::Pair(Sign::Times, Box::new([Term::Pair(Sign::Over, Box::new([a, b])), one]))
                }
                Sign::Times | Sign::Over => Term::Pair(sign, Box::new([length(a)?, b])),
            }
        }
        length => length,
    })
}
