//! Parts: what is made from an offcut or another sheet, and put on the folio. What a maker says of them.
//!
//! A part is paper like the folio: a little sheet of its own with lines on it ([`pattern`]). Where it lies follows from the
//! panel that it is put on ([`laid`]), and where its paper comes from is a question for nesting.

pub mod change;
pub mod glue;
pub mod kind;
pub mod laid;
pub mod own;
pub mod pattern;
pub mod usual;

pub use glue::{Edges, GlueArea, Gluing};
pub use kind::{
    Band, Closure, ClosureKind, Flap, Hinge, Insert, Mat, Own, Page, PanelCorner, PartKind, Pocket, Tab, TuckCorner,
};
pub use laid::{Laid, LaidGlue, PartFault, PartLayout};

use crate::document::Document;
use crate::geometry::Point;
use crate::length::Length;
use crate::line::{Face, LineId};
use crate::stock::{Stock, StockId};
use std::collections::BTreeSet;
use std::fmt;

/// The name by which other things in the document refer to a part.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PartId(pub u32);

/// Something made from an offcut or another sheet, and glued, slid or set on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Part {
    /// Its name in the document.
    pub id: PartId,
    /// What the maker calls it; may be empty.
    pub name: String,
    /// What it is, with its measures.
    pub kind: PartKind,
    /// Where its paper comes from.
    pub source: Source,
    /// Where it lies.
    pub place: Placement,
    /// Glue besides that of its kind, such as a pocket's on a second hinge.
    pub also: Vec<Gluing>,
}

/// One job on the way from a sheet to a finished folio.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Job {
    /// Pressing the scores of a paper.
    Score(Paper),
    /// Cutting it out and cutting into it. For the folio, cutting it out of its sheet.
    Cut(Paper),
    /// Folding a part's folds before it is put in place.
    Fold(PartId),
    /// Gluing, setting, laying or sliding a part in its place.
    Put(PartId),
    /// Closing the folio, step by step.
    Close,
}

/// The folio's sheet or a part's.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Paper {
    /// The folio's.
    Folio,
    /// A part's own little sheet.
    Part(PartId),
}

/// Where the paper of a part comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Source {
    /// Whichever offcut it fits into.
    AnyOffcut,
    /// The offcut around this point of the sheet: cut from it, or that offcut itself where it is as large as the part.
    Offcut(Point),
    /// The offcut around this point, just as it is, whatever its shape.
    Whole(Point),
    /// A further sheet of the folio's own paper.
    FolioStock,
    /// A sheet of another paper.
    Stock(StockId),
    /// No paper at all: bought, as a brad or a magnet.
    Bought,
}

/// A panel that something is put on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum PanelRef {
    /// The panel of the sheet around this point.
    Sheet(Point),
    /// A panel of a part, counted from 0 in reading order on the part's own little sheet.
    Part(PartId, usize),
}

/// Where a part lies on a panel. Left, right, up and down are those of the sheet that the panel is of, as it is drawn,
/// whichever face the part lies on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Placement {
    /// The panel.
    pub on: PanelRef,
    /// Its face.
    pub face: Face,
    /// How far across.
    pub across: Anchor,
    /// How far down.
    pub down: Anchor,
    /// How it is turned.
    pub rotation: Rotation,
    /// The face of the part that is seen when it lies there.
    pub showing: Face,
}

/// So far from a border or the middle of the upright rectangle around a panel to the same of the part's main panel.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Anchor {
    /// What it is measured from.
    pub from: AnchorFrom,
    /// How far: inwards from a border, to the right or down from the middle.
    pub distance: Length,
}

/// What a part's place is measured from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum AnchorFrom {
    /// The left or upper border.
    Start,
    /// The middle.
    Middle,
    /// The right or lower border.
    End,
}

/// By how much a part is turned on its panel: hundredths of a degree, clockwise as that panel's sheet is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Rotation(i32);

impl Part {
    /// Its thickness in place of its paper's, where it is no paper; `None` for paper.
    #[must_use]
    pub const fn own_caliper(&self) -> Option<Length> {
        match self.kind {
            PartKind::Insert(insert) => insert.caliper,
            PartKind::Closure(closure) => Some(closure.thickness),
            _ => None,
        }
    }

    /// The paper that it is made of; `None` for what is bought, and for a stock that the document does not have.
    #[must_use]
    pub fn stock<'a>(&self, document: &'a Document) -> Option<&'a Stock> {
        match self.source {
            Source::AnyOffcut | Source::Offcut(_) | Source::Whole(_) | Source::FolioStock => Some(&document.stock),
            Source::Stock(id) => document.further_stock(id),
            Source::Bought => None,
        }
    }

    /// Whether it comes out of what is left of the folio's sheet.
    #[must_use]
    pub const fn is_from_offcut(&self) -> bool {
        matches!(self.source, Source::AnyOffcut | Source::Offcut(_) | Source::Whole(_))
    }

    /// The marks on the folio's sheet that it names panels and offcuts by.
    pub fn marks(&self) -> impl Iterator<Item = Point> {
        let panels = std::iter::once(self.place.on).chain(self.also.iter().map(|gluing| gluing.to));
        self.source.mark().into_iter().chain(panels.filter_map(PanelRef::mark))
    }

    /// Moves each of those marks.
    pub fn move_marks(&mut self, to: impl Fn(Point) -> Point) {
        if let Source::Offcut(mark) | Source::Whole(mark) = &mut self.source {
            *mark = to(*mark);
        }
        for panel in std::iter::once(&mut self.place.on).chain(self.also.iter_mut().map(|gluing| &mut gluing.to)) {
            if let PanelRef::Sheet(mark) = panel {
                *mark = to(*mark);
            }
        }
    }

    /// The parts that it is put or glued on.
    pub fn hosts(&self) -> impl Iterator<Item = PartId> {
        let all = std::iter::once(self.place.on).chain(self.also.iter().map(|gluing| gluing.to));
        all.filter_map(|panel| match panel {
            PanelRef::Part(id, _) if id != self.id => Some(id),
            _ => None,
        })
    }
}

impl Source {
    /// The mark in the sheet that it names an offcut by.
    #[must_use]
    pub const fn mark(self) -> Option<Point> {
        match self {
            Self::Offcut(mark) | Self::Whole(mark) => Some(mark),
            _ => None,
        }
    }
}

impl PanelRef {
    /// The mark by which it names a panel of the folio's sheet.
    #[must_use]
    pub const fn mark(self) -> Option<Point> {
        match self {
            Self::Sheet(mark) => Some(mark),
            Self::Part(..) => None,
        }
    }
}

impl Placement {
    /// In the middle of the front of a panel, upright, with the part's front seen.
    #[must_use]
    pub const fn centred(on: PanelRef) -> Self {
        let middle = Anchor { from: AnchorFrom::Middle, distance: Length::ZERO };
        Self { on, face: Face::Front, across: middle, down: middle, rotation: Rotation::NONE, showing: Face::Front }
    }
}

impl Anchor {
    /// Where the least coordinate of something of length `own` comes to lie beside a host from `low` to `high`.
    #[must_use]
    pub fn start(self, low: Length, high: Length, own: Length) -> Length {
        match self.from {
            AnchorFrom::Start => low + self.distance,
            AnchorFrom::Middle => low + (high - low - own).half() + self.distance,
            AnchorFrom::End => high - own - self.distance,
        }
    }

    /// The same anchor with the distance that brings the least coordinate to `start`.
    #[must_use]
    pub fn moved_to(self, start: Length, low: Length, high: Length, own: Length) -> Self {
        let by = start - self.start(low, high, own);
        let distance = match self.from {
            AnchorFrom::Start | AnchorFrom::Middle => self.distance + by,
            AnchorFrom::End => self.distance - by,
        };
        Self { distance, ..self }
    }
}

impl Rotation {
    /// Not turned.
    pub const NONE: Self = Self(0);
    /// A quarter turn clockwise.
    pub const QUARTER: Self = Self(9_000);
    const WHOLE: i32 = 36_000;

    /// From hundredths of a degree, of any number of turns.
    #[must_use]
    pub const fn from_hundredths(hundredths: i32) -> Self {
        Self(hundredths.rem_euclid(Self::WHOLE))
    }

    /// Hundredths of a degree, from 0 to 35 999.
    #[must_use]
    pub const fn hundredths(self) -> i32 {
        self.0
    }

    /// How many quarter turns it is; `None` for an angle between.
    #[must_use]
    pub const fn quarters(self) -> Option<i32> {
        if self.0 % Self::QUARTER.0 == 0 { Some(self.0 / Self::QUARTER.0) } else { None }
    }

    /// Turned on by another.
    #[must_use]
    pub const fn plus(self, other: Self) -> Self {
        Self::from_hundredths(self.0 + other.0)
    }

    /// Cosine and sine, exact for quarter turns.
    #[must_use]
    pub fn cos_sin(self) -> (f64, f64) {
        match self.quarters() {
            Some(0) => (1.0, 0.0),
            Some(1) => (0.0, 1.0),
            Some(2) => (-1.0, 0.0),
            Some(_) => (0.0, -1.0),
            None => {
                let radians = f64::from(self.0) / 100.0 * std::f64::consts::PI / 180.0;
                (libm::cos(radians), libm::sin(radians))
            }
        }
    }

    /// Reads degrees with up to two decimals, such as `90` or `-12.5`.
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        let text = text.trim().trim_end_matches('°').trim_end();
        let (negative, digits) = match text.strip_prefix('-') {
            Some(rest) => (true, rest),
            None => (false, text),
        };
        let (whole, part) = digits.split_once('.').unwrap_or((digits, ""));
        let is_number = |text: &str| text.chars().all(|c| c.is_ascii_digit());
        if whole.is_empty() || whole.len() > 5 || part.len() > 2 || !is_number(whole) || !is_number(part) {
            return None;
        }
        let hundredths = whole.parse::<i32>().ok()? * 100 + format!("{part:0<2}").parse::<i32>().ok()?;
        Some(Self::from_hundredths(if negative { -hundredths } else { hundredths }))
    }
}

impl fmt::Display for Rotation {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match (self.0 / 100, self.0 % 100) {
            (whole, 0) => write!(f, "{whole}"),
            (whole, part) if part % 10 == 0 => write!(f, "{whole}.{}", part / 10),
            (whole, part) => write!(f, "{whole}.{part:02}"),
        }
    }
}

impl Document {
    /// The most parts: many more than the panels of a folio could carry.
    pub const MOST_PARTS: usize = 200;

    /// The part called `id`.
    #[must_use]
    pub fn part(&self, id: PartId) -> Option<&Part> {
        self.parts.iter().find(|part| part.id == id)
    }

    /// An id that no part here has.
    #[must_use]
    pub fn next_part(&self) -> PartId {
        let used: BTreeSet<u32> = self.parts.iter().map(|part| part.id.0).collect();
        let above = used.last().map_or(Some(1), |most| most.checked_add(1));
        // A document holds far fewer parts than there are numbers.
        PartId(above.or_else(|| (1..).find(|id| !used.contains(id))).unwrap_or_default())
    }

    /// What to call a part: its own name, with its number where another has it too, or its kind and number.
    #[must_use]
    pub fn part_name(&self, id: PartId) -> String {
        match self.part(id) {
            Some(part) if !part.name.is_empty() => {
                let is_shared = self.parts.iter().any(|other| other.id != id && other.name == part.name);
                if is_shared { format!("{} ({})", part.name, id.0) } else { part.name.clone() }
            }
            Some(part) => format!("{} {}", part.kind.word(), id.0),
            None => format!("Part {}", id.0),
        }
    }

    /// The steps in which a line of a part folds, counted from 0.
    #[must_use]
    pub fn step_of_part_line(&self, part: PartId, line: LineId) -> Option<usize> {
        self.steps.iter().position(|step| step.parts.contains(&(part, line)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_rotation_reads_back() {
        let check = |text: &str, shown: &str| assert_eq!(Rotation::parse(text).unwrap().to_string(), shown, "{text}");
        check("90", "90");
        check("-12.5", "347.5");
        check(" 45.25° ", "45.25");
        check("720.05", "0.05");
        for wrong in ["", "north", "1.234", "1e3", "-", "9999999"] {
            assert_eq!(Rotation::parse(wrong), None, "{wrong}");
        }
    }

    #[test]
    fn an_anchor_keeps_its_side_when_it_is_moved() {
        let inch = Length::INCH;
        for (from, start) in [(AnchorFrom::Start, 3), (AnchorFrom::Middle, 5), (AnchorFrom::End, 7)] {
            let anchor = Anchor { from, distance: inch };
            // A thing of 2 in on a host from 2 to 10.
            assert_eq!(anchor.start(inch * 2, inch * 10, inch * 2), if start == 5 { inch * 6 } else { inch * start });
            let moved = anchor.moved_to(inch * 4, inch * 2, inch * 10, inch * 2);
            assert_eq!((moved.from, moved.start(inch * 2, inch * 10, inch * 2)), (from, inch * 4));
        }
    }
}
