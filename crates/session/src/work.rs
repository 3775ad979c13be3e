//! Changing what is done along a line: the kinds of work, and the figures each begins with.

use model::change::fold_alone;
use model::{Crease, Document, Edit, Layout, Length, Line, LineId, Notch, Step, Strip, StripSide, Unit, Work};

/// What is done along a line, without its figures.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kind {
    /// Pressed, to be folded.
    Score,
    /// Cut through.
    Cut,
    /// A strip taken out.
    Slot,
    /// A hairline taken off.
    Trim,
    /// A round bite.
    Notch,
    /// Only drawn.
    Guide,
}

impl Kind {
    /// All of them, the usual ones first.
    pub const ALL: [Self; 6] = [Self::Score, Self::Cut, Self::Slot, Self::Trim, Self::Notch, Self::Guide];

    /// The kind of a work.
    #[must_use]
    pub const fn of(work: Work) -> Self {
        match work {
            Work::Score(_) => Self::Score,
            Work::Cut => Self::Cut,
            Work::Slot(_) => Self::Slot,
            Work::Trim(_) => Self::Trim,
            Work::Notch(_) => Self::Notch,
            Work::Guide => Self::Guide,
        }
    }

    /// What it is called on a button: "Score", "Slot".
    #[must_use]
    pub const fn word(self) -> &'static str {
        self.usual(Unit::Inch, Length::ZERO).word()
    }

    /// The work with the figures it usually has, along a line of this length (common practice, no source): a valley; a
    /// slot of 1/8 in or 3 mm; the widest trim, or 0.5 mm; a notch 1/2 in or 12 mm deep, less on a short line.
    #[must_use]
    pub const fn usual(self, units: Unit, length: Length) -> Work {
        let inches = matches!(units, Unit::Inch);
        match self {
            Self::Score => Work::Score(Crease::VALLEY),
            Self::Cut => Work::Cut,
            Self::Slot => {
                let width = if inches { Length::EIGHTH } else { Length::from_mm_exact(3, 0) };
                Work::Slot(Strip { width, side: StripSide::Centred })
            }
            Self::Trim => {
                let width = if inches { Work::WIDEST_TRIM } else { Length::from_nm(500_000) };
                Work::Trim(Strip { width, side: StripSide::Right })
            }
            Self::Notch => {
                let deep = if inches { Length::from_sixty_fourths(32) } else { Length::from_mm_exact(12, 0) };
                let half = length.half();
                let depth = if half.nm() > 0 && half.nm() < deep.nm() { half } else { deep };
                Work::Notch(Notch { depth, to_left: false })
            }
            Self::Guide => Work::Guide,
        }
    }
}

/// Does another kind of work along a line, with usual figures. `None` when it is of that kind already, or not there.
#[must_use]
pub fn switch_kind(document: &Document, layout: &Layout, id: LineId, kind: Kind) -> Option<Edit> {
    let line = document.line(id).filter(|line| Kind::of(line.work) != kind)?;
    let placed = layout.lines.get(&id).and_then(|placed| placed.ok());
    let length = placed.map_or(Length::ZERO, |placed| placed.to - placed.from);
    let work = match (line.work, kind.usual(document.units, length)) {
        // On which side was hers to say already.
        (Work::Slot(strip), Work::Trim(usual)) => Work::Trim(Strip { side: strip.side, ..usual }),
        (Work::Trim(strip), Work::Slot(usual)) => Work::Slot(Strip { side: strip.side, ..usual }),
        (_, usual) => usual,
    };
    Some(set_work(document, line, work))
}

/// Does this along a line. A score folds, by itself and after all others; what is no score is taken out of the closing
/// order.
#[must_use]
pub fn set_work(document: &Document, line: &Line, work: Work) -> Edit {
    let replaced = Edit::ReplaceLine(Line { work, ..line.clone() });
    match (line.work.is_score(), work.is_score()) {
        (false, true) => Edit::All(vec![replaced, fold_alone(document, line.id)]),
        (true, false) => Edit::All(vec![replaced, Edit::SetSteps(without(document, line.id))]),
        _ => replaced,
    }
}

fn without(document: &Document, id: LineId) -> Vec<Step> {
    document.steps.iter().map(|step| step.without(|line| line == id)).filter(|step| !step.is_empty()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use model::change::{add_line, measured_score, perform};
    use model::{Size, Turn};

    fn document() -> Document {
        let mut document = Document::new(Size::parse("12x12in").unwrap(), Unit::Inch);
        for (id, inches) in [(1, 3), (2, 9)] {
            let score = measured_score(LineId(id), Turn::None, Length::INCH * inches);
            document.apply(add_line(&document, score)).unwrap();
        }
        document
    }

    #[test]
    fn every_kind_can_be_had_and_scored_again() {
        for kind in Kind::ALL.into_iter().filter(|kind| *kind != Kind::Score) {
            let document = document();
            let layout = Layout::of(&document);
            let edit = switch_kind(&document, &layout, LineId(1), kind).unwrap();
            let after = perform(&document, &layout, edit).unwrap();
            let line = after.document.line(LineId(1)).unwrap();
            assert_eq!((Kind::of(line.work), after.document.step_of(LineId(1))), (kind, None));
            assert!(after.layout.lines[&LineId(1)].is_ok(), "{kind:?} has a place");
            let back = switch_kind(&after.document, &after.layout, LineId(1), Kind::Score).unwrap();
            let back = perform(&after.document, &after.layout, back).unwrap().document;
            assert_eq!((&back.lines, back.step_of(LineId(1))), (&document.lines, Some(1)), "it folds last now");
        }
    }

    #[test]
    fn a_strip_keeps_its_side_and_a_short_notch_is_shallow() {
        let mut document = document();
        let slot = Work::Slot(Strip { width: Length::INCH, side: StripSide::Left });
        let line = document.line(LineId(1)).unwrap().clone();
        document.apply(set_work(&document, &line, slot)).unwrap();
        let layout = Layout::of(&document);
        document.apply(switch_kind(&document, &layout, LineId(1), Kind::Trim).unwrap()).unwrap();
        let trim = Work::Trim(Strip { width: Work::WIDEST_TRIM, side: StripSide::Left });
        assert_eq!(document.line(LineId(1)).unwrap().work, trim);
        let Work::Notch(notch) = Kind::Notch.usual(Unit::Inch, Length::INCH / 4) else { panic!("a notch") };
        assert_eq!(notch.depth, Length::EIGHTH);
    }

    #[test]
    fn the_kind_it_has_already_changes_nothing() {
        let document = document();
        let layout = Layout::of(&document);
        assert_eq!(switch_kind(&document, &layout, LineId(1), Kind::Score), None);
        assert_eq!(switch_kind(&document, &layout, LineId(7), Kind::Cut), None);
    }
}
