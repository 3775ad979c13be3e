//! Opening and closing one flap: to which moment of the closing the folio goes, so that nothing is in its way.

use fold::Folding;
use model::PanelId;

/// The moment that a maker means who takes hold of a panel at `time`: closed by the step that moves it last, when that is
/// yet to come; else opened again, and before it whatever closed after it. `None` for a panel that no step moves.
#[must_use]
pub fn toggled(folding: &Folding, panel: PanelId, time: f64) -> Option<f64> {
    let step = (0..folding.steps()).rev().find(|&step| folding.moving(step).contains(&panel))?;
    let (open, closed) = (count(step), count(step + 1));
    Some(if time < closed { closed } else { open })
}

/// A number of steps as a time.
#[expect(clippy::cast_precision_loss, reason = "a folio has far fewer steps than 2^53")]
const fn count(steps: usize) -> f64 {
    steps as f64
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Session;
    use model::change::{add_line, measured_score};
    use model::{Document, Edit, Length, LineId, Point, Size, Turn, Unit};

    #[test]
    fn a_flap_closes_and_opens_with_what_lies_on_it() {
        let mut document = Document::new(Size::parse("12x12in").unwrap(), Unit::Inch);
        for (id, inches) in [(1, 4), (2, 8)] {
            let score = measured_score(LineId(id), Turn::None, Length::INCH * inches);
            document.apply(add_line(&document, score)).unwrap();
        }
        let at = |inches: i64| Point::new(Length::INCH * inches, Length::INCH * 6);
        document.apply(Edit::SetBase(Some(at(6)))).unwrap();
        let session = Session::new(document);
        let layout = &session.derived().layout;
        let (_, folding) = session.derived().folded.as_ref().unwrap();
        let to = |inches, time| toggled(folding, layout.panel_at(at(inches)).unwrap(), time);
        assert_eq!([to(2, 0.0), to(2, 0.5), to(2, 2.0)], [Some(1.0), Some(1.0), Some(0.0)]);
        assert_eq!([to(10, 0.0), to(10, 2.0)], [Some(2.0), Some(1.0)]);
        assert_eq!(to(6, 1.0), None, "the base lies still");
    }
}
