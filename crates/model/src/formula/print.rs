//! Formulas as text: the same text for the same formula, which reads back as that formula.

use super::{Formula, Sign, Term};
use crate::length::Unit;
use crate::ratio::Ratio;
use std::fmt::{self, Display, Formatter};

impl Display for Formula {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        self.root.fmt(f)
    }
}

/// How tightly what is written holds together.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Hold {
    Sum,
    Product,
    One,
}

impl Sign {
    const fn word(self) -> char {
        match self {
            Self::Plus => '+',
            Self::Minus => '-',
            Self::Times => '*',
            Self::Over => '/',
        }
    }

    const fn hold(self) -> Hold {
        match self {
            Self::Plus | Self::Minus => Hold::Sum,
            Self::Times | Self::Over => Hold::Product,
        }
    }
}

impl Term {
    const fn hold(&self) -> Hold {
        match self {
            Self::Figure(..) | Self::Name(_) | Self::Minus(_) => Hold::One,
            Self::Pair(sign, _) => sign.hold(),
        }
    }
}

impl Display for Term {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match self {
            Self::Figure(figure, None) => write!(f, "{}", number(*figure, false)),
            Self::Figure(figure, Some(unit)) => {
                write!(f, "{} {}", number(*figure, *unit == Unit::Inch), unit.word())
            }
            Self::Name(name) => f.write_str(name),
            Self::Minus(term) => {
                f.write_str("-")?;
                within(f, term, Hold::One)
            }
            Self::Pair(sign, terms) => {
                within(f, &terms[0], sign.hold())?;
                write!(f, " {} ", sign.word())?;
                // What is read from left to right needs brackets to be taken from right to left.
                let least = if sign.hold() == Hold::Sum { Hold::Product } else { Hold::One };
                within(f, &terms[1], least)
            }
        }
    }
}

/// A term in what holds together at least so tightly.
fn within(f: &mut Formatter<'_>, term: &Term, least: Hold) -> fmt::Result {
    if term.hold() >= least { term.fmt(f) } else { write!(f, "({term})") }
}

/// A figure: a fraction for inches to a sixty-fourth, a decimal where that comes out, else a fraction.
fn number(figure: Ratio, as_fraction: bool) -> String {
    let (top, bottom) = (figure.top(), figure.bottom());
    let decimal = if as_fraction && 64 % bottom == 0 { None } else { decimal(figure) };
    match (decimal, top / bottom, top % bottom) {
        (_, whole, 0) => whole.to_string(),
        (Some(decimal), ..) => decimal,
        (None, 0, part) => format!("{part}/{bottom}"),
        (None, whole, part) => format!("{whole} {part}/{bottom}"),
    }
}

/// A fraction that comes out as a decimal of at most nine places.
fn decimal(figure: Ratio) -> Option<String> {
    let places = (1..=9_u32).find(|places| 10_i128.pow(*places) % figure.bottom() == 0)?;
    let scale = 10_i128.pow(places);
    let all = figure.top().checked_mul(scale / figure.bottom())?;
    let width = places as usize;
    Some(format!("{}.{:0width$}", all / scale, all % scale))
}
