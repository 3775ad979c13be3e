//! The document: all that the maker decided, and nothing that can be worked out.

use crate::geometry::{Point, Size};
use crate::length::{Length, Unit};
use crate::line::{Line, LineId};
use std::collections::BTreeSet;

/// One design.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Document {
    /// What the maker calls it.
    pub title: String,
    /// Where the idea came from, what was changed; free text.
    pub credit: String,
    /// What lengths are shown in.
    pub units: Unit,
    /// The spacing of the scoring board's grooves; zero or less when she has none.
    pub groove: Length,
    /// The paper.
    pub stock: Stock,
    /// Scores and cuts, in the order she made them.
    pub lines: Vec<Line>,
    /// A point inside the panel that lies still.
    pub base: Option<Point>,
    /// The order in which the folio closes.
    pub steps: Vec<Step>,
}

/// A sheet of paper as bought.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Stock {
    /// Width and height as it lies at turn 0.
    pub size: Size,
    /// Thickness of one sheet (caliper). Zero when unknown.
    pub caliper: Length,
}

/// One step of closing: the score lines that fold together in it. A gusset's two lines make one step.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Step {
    /// The lines; each stretch of them that is not cut folds.
    pub lines: Vec<LineId>,
}

impl Document {
    /// The most lines a document may hold: far more than a folio has, and a bound on what a file can ask for. Folios of
    /// a few dozen lines are what every stage is quick for; this many, all crossing or all folding, take long.
    pub const MOST_LINES: usize = 2_000;

    /// An empty design on a sheet of `size`.
    #[must_use]
    pub fn new(size: Size, units: Unit) -> Self {
        let (w, h) = (size.width(), size.height());
        Self {
            title: "Untitled folio".to_owned(),
            credit: String::new(),
            units,
            groove: Self::usual_groove(units),
            stock: Stock { size, caliper: Stock::USUAL_CALIPER },
            lines: Vec::new(),
            base: Some(Point::new(w.half(), h.half())),
            steps: Vec::new(),
        }
    }

    /// How far apart the grooves of a scoring board are: 1/8 in, or 5 mm (common practice, no source).
    #[must_use]
    pub const fn usual_groove(units: Unit) -> Length {
        match units {
            Unit::Inch => Length::EIGHTH,
            Unit::Millimetre | Unit::Centimetre => Length::from_mm_exact(5, 0),
        }
    }

    /// The line called `id`.
    #[must_use]
    pub fn line(&self, id: LineId) -> Option<&Line> {
        self.lines.iter().find(|line| line.id == id)
    }

    /// Where in the closing order a line folds, counted from 0.
    #[must_use]
    pub fn step_of(&self, id: LineId) -> Option<usize> {
        self.steps.iter().position(|step| step.lines.contains(&id))
    }

    /// Whether how far across a line lies hangs on another, directly or through others, or it is that line.
    #[must_use]
    pub fn hangs_on(&self, id: LineId, other: LineId) -> bool {
        let mut seen = BTreeSet::new();
        let mut open = vec![id];
        while let Some(at) = open.pop() {
            if at == other {
                return true;
            }
            if seen.insert(at) {
                open.extend(self.line(at).into_iter().flat_map(|line| line.place.hangs_on()));
            }
        }
        false
    }

    /// An id that no line here has: above all others, or the lowest that is free where there is none above.
    #[must_use]
    pub fn next_line(&self) -> LineId {
        let used: BTreeSet<u32> = self.lines.iter().map(|line| line.id.0).collect();
        let above = used.last().map_or(Some(1), |most| most.checked_add(1));
        // A document holds far fewer lines than there are numbers.
        LineId(above.or_else(|| (1..).find(|id| !used.contains(id))).unwrap_or_default())
    }

    /// What to call a line: its own name, or its kind and number.
    #[must_use]
    pub fn line_name(&self, id: LineId) -> String {
        match self.line(id) {
            Some(line) if !line.name.is_empty() => line.name.clone(),
            Some(line) if line.work.is_cut() => format!("Cut {}", id.0),
            _ => format!("Score {}", id.0),
        }
    }
}

impl Stock {
    /// 0.3 mm: an 80 lb uncoated cover stock measures 0.25 to 0.34 mm (0.010 to 0.0135 in, two stockists' figures).
    pub const USUAL_CALIPER: Length = Length::from_nm(300_000);
}
