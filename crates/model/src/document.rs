//! The document: all that the maker decided, and nothing that can be worked out.

use crate::corner::Corner;
use crate::geometry::{Point, Size};
use crate::length::{Length, Unit};
use crate::line::{Line, LineId, Work};
use crate::named::NamedLengths;
use crate::numbered::Numbered;
use crate::panel_name::PanelName;
use crate::part::{Job, PanelRef, Part, PartId};
use crate::silence::Silence;
use crate::stock::{FurtherStock, Stock, StockId};
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
    /// How parts are cut from offcuts.
    pub cutting: Cutting,
    /// The lengths that she names, and the formulas in which she uses them.
    pub lengths: NamedLengths,
    /// The paper of the folio.
    pub stock: Stock,
    /// Other papers, as for mats.
    pub further_stocks: Vec<FurtherStock>,
    /// Scores and cuts, in the order she made them.
    pub lines: Vec<Line>,
    /// What is done with corners, in the order she said it.
    pub corners: Vec<Corner>,
    /// A point inside the panel that lies still.
    pub base: Option<Point>,
    /// What she calls panels.
    pub panel_names: Vec<PanelName>,
    /// The numbers of offcuts, where they are not those of reading order.
    pub offcuts: Vec<Numbered>,
    /// What is made and put on the folio, in the order it is put on.
    pub parts: Vec<Part>,
    /// The order in which the maker wants to make it; jobs that are not in it are put where they can be.
    pub making: Vec<Job>,
    /// The order in which the folio closes.
    pub steps: Vec<Step>,
    /// What the checker is not to say again, and why.
    pub silences: Vec<Silence>,
    /// The design that this is a variation of, as it was when the variation was begun; it has none of its own.
    pub variation_of: Option<Box<Self>>,
}

/// How parts are cut from offcuts and further sheets.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Cutting {
    /// How much is trimmed off every edge of an offcut or sheet before parts are cut from it; nothing for clean edges.
    pub edge: Length,
    /// Whether a part with a fold is only cut so that the fold runs along the grain, where that is known.
    pub along_grain: bool,
}

/// One step of closing: what folds together in it. A gusset's two lines make one step.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Step {
    /// The lines; each stretch of them that is not cut folds.
    pub lines: Vec<LineId>,
    /// Lines of parts, by their numbers on the part's own little sheet.
    pub parts: Vec<(PartId, LineId)>,
    /// What is tucked under something as it folds: a panel that moves, and the one under which it comes to lie.
    pub tucks: Vec<Tucked>,
}

/// A panel that is tucked under another, or into it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Tucked {
    /// The panel that moves.
    pub panel: PanelRef,
    /// The panel under which it comes to lie.
    pub under: PanelRef,
}

impl Step {
    /// A step in which these lines of the sheet fold.
    #[must_use]
    pub const fn of(lines: Vec<LineId>) -> Self {
        Self { lines, parts: Vec::new(), tucks: Vec::new() }
    }

    /// The same without some lines of the sheet.
    #[must_use]
    pub fn without(&self, is_gone: impl Fn(LineId) -> bool) -> Self {
        let lines = self.lines.iter().copied().filter(|&line| !is_gone(line)).collect();
        Self { lines, parts: self.parts.clone(), tucks: self.tucks.clone() }
    }

    /// Whether nothing happens in it.
    #[must_use]
    pub const fn is_empty(&self) -> bool {
        self.lines.is_empty() && self.parts.is_empty()
    }
}

impl Document {
    /// The most lines a document may hold: far more than a folio has, and a bound on what a file can ask for. Folios of
    /// a few dozen lines are what every stage is quick for; this many, all crossing or all folding, take long.
    pub const MOST_LINES: usize = 2_000;

    /// The most things said of corners: several for each panel of the largest folio.
    pub const MOST_CORNERS: usize = 2_000;

    /// The most further stocks: more papers than a table holds.
    pub const MOST_STOCKS: usize = 100;

    /// An empty design on a sheet of `size`.
    #[must_use]
    pub fn new(size: Size, units: Unit) -> Self {
        let (w, h) = (size.width(), size.height());
        Self {
            title: "Untitled folio".to_owned(),
            credit: String::new(),
            units,
            groove: Self::usual_groove(units),
            cutting: Cutting::default(),
            lengths: NamedLengths::default(),
            stock: Stock::plain(size),
            further_stocks: Vec::new(),
            lines: Vec::new(),
            corners: Vec::new(),
            base: Some(Point::new(w.half(), h.half())),
            panel_names: Vec::new(),
            offcuts: Vec::new(),
            parts: Vec::new(),
            making: Vec::new(),
            steps: Vec::new(),
            silences: Vec::new(),
            variation_of: None,
        }
    }

    /// A variation to be changed: the same folio, which keeps the design that it came from. Where that is a variation
    /// itself, what it came from is no longer kept.
    #[must_use]
    pub fn variation(&self, title: String) -> Self {
        let first = Self { variation_of: None, ..self.clone() };
        Self { title, variation_of: Some(Box::new(first)), ..self.clone() }
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

    /// The further stock called `id`.
    #[must_use]
    pub fn further_stock(&self, id: StockId) -> Option<&Stock> {
        self.further_stocks.iter().find(|further| further.id == id).map(|further| &further.stock)
    }

    /// What to call a line: its own name, or its kind and number.
    #[must_use]
    pub fn line_name(&self, id: LineId) -> String {
        let kind = match self.line(id) {
            Some(line) if !line.name.is_empty() => return line.name.clone(),
            Some(line) => line.work.word(),
            None => "Score",
        };
        format!("{kind} {}", id.0)
    }
}

impl Work {
    /// What such a line is called, as the first word of its name: "Score", "Slot".
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Score(_) => "Score",
            Self::Cut => "Cut",
            Self::Slot(_) => "Slot",
            Self::Trim(_) => "Trim",
            Self::Notch(_) => "Notch",
            Self::Guide => "Guide",
        }
    }
}
