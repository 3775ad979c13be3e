//! Faults planted in folios that have none: one at a time, each at a place that is known.

mod closing;
mod glue;
mod line;
mod paper;
mod part;
mod shape;

use crate::closed::{Closed, Host, Layer};
use crate::dice::Dice;
use crate::unfold::{Folio, lies_flat, unfold};
use check::{Finding, Severity};
use model::{Document, Layout, LineId, PanelId, PartId, Point};

/// A kind of fault.
#[derive(Debug, Clone, Copy)]
pub struct Kind {
    /// What is done, in a few words.
    pub name: &'static str,
    /// The rule that finds it.
    pub rule: &'static str,
    /// Other rules that may rightly say something worse than a note of it too.
    pub also: &'static [&'static str],
    /// Plants it; `None` in a folio in which there is no place for it.
    pub plant: fn(&Folio, &mut Dice) -> Option<Planted>,
}

/// A design with a fault in it.
#[derive(Debug, Clone)]
pub struct Planted {
    /// The design.
    pub document: Document,
    /// What has to be named as the place of the fault.
    pub at: Vec<Place>,
}

/// Something by which a finding names a place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Place {
    /// The panel of the sheet round a point.
    Panel(Point),
    /// A panel of a part.
    Part(PartId),
    /// A line.
    Line(LineId),
    /// A spot on the sheet.
    Spot(Point),
    /// A step of closing, counted from 0.
    Step(usize),
    /// Words in the sentence.
    Says(String),
}

/// Every kind of fault.
pub fn kinds() -> impl Iterator<Item = &'static Kind> {
    [shape::KINDS, closing::KINDS, line::KINDS, part::KINDS, glue::KINDS, paper::KINDS].into_iter().flatten()
}

impl Planted {
    /// Whether a finding names all that has to be named, in a layout of this design.
    #[must_use]
    pub fn is_named(&self, finding: &Finding, layout: &Layout) -> bool {
        self.at.iter().all(|place| place.is_named(finding, layout))
    }
}

impl Place {
    fn is_named(&self, finding: &Finding, layout: &Layout) -> bool {
        let spot = &finding.spot;
        let has = |panel: Option<PanelId>| panel.is_some_and(|panel| spot.panels.contains(&panel));
        match self {
            Self::Panel(mark) => has(layout.panel_at(*mark)),
            Self::Part(id) => {
                layout.part(*id).is_some_and(|part| part.panels.iter().any(|panel| spot.panels.contains(&panel.id)))
            }
            Self::Line(line) => spot.lines.contains(line),
            Self::Spot(at) => spot.at == Some(*at),
            Self::Step(step) => spot.step == Some(*step),
            Self::Says(words) => finding.sentence.contains(words),
        }
    }
}

/// How many findings of a rule are so bad.
#[must_use]
pub fn count(findings: &[Finding], rule: &str, least: Severity) -> usize {
    findings.iter().filter(|finding| finding.rule == rule && finding.severity >= least).count()
}

/// A folio that closes otherwise; `None` where parts of it would lie on one another while it is flat.
fn again(folio: &Folio, closed: &Closed, dice: &mut Dice) -> Option<Folio> {
    lies_flat(closed).then(|| unfold(closed, folio.margins, dice))
}

/// The same folio with nothing on it.
fn bare(folio: &Folio, dice: &mut Dice) -> Folio {
    if folio.closed.stuck.is_empty() && !folio.closed.band {
        return folio.clone();
    }
    let mut closed = folio.closed.clone();
    closed.stuck.clear();
    closed.layers.retain(|layer| matches!(layer, Layer::Leaf(_)));
    closed.band = false;
    unfold(&closed, folio.margins, dice)
}

/// The flaps on the base, in the order in which they close.
fn flaps(closed: &Closed) -> Vec<usize> {
    let on_base = |leaf: &usize| closed.leaves[*leaf].hangs.is_some_and(|hang| hang.on == 0);
    closed.steps.iter().flatten().copied().filter(on_base).collect()
}

/// Those of them on which nothing hangs or is put, and which are not tucked and have nothing tucked under them.
fn plain_flaps(closed: &Closed) -> Vec<usize> {
    let carries = |leaf: usize| {
        let leaves = closed.leaves.iter().any(|other| other.hangs.is_some_and(|hang| hang.on == leaf));
        leaves || closed.stuck.iter().any(|part| part.on == Host::Leaf(leaf))
    };
    let tucked = |leaf: usize| closed.tuck.is_some_and(|tuck| tuck.contains(&leaf));
    flaps(closed).into_iter().filter(|&leaf| !carries(leaf) && !tucked(leaf)).collect()
}

/// One of several; `None` where there are none.
fn one<T: Copy>(dice: &mut Dice, of: &[T]) -> Option<T> {
    (!of.is_empty()).then(|| dice.pick(of))
}
