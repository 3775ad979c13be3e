//! Silencing: what a finding has to be for a maker's word to hold for it.

use crate::Finding;
use model::{Document, Edit, Layout, Length, Point, Silence};
use std::collections::BTreeSet;

/// How far from where it was said a place may have moved and still be the same, where the same panels and lines have
/// several: less than two such places are apart on paper that can be cut (our choice).
const NEAR: Length = Length::EIGHTH;

/// A finding that the maker does not want to hear.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Silenced {
    /// What would be said.
    pub finding: Finding,
    /// Which of [`Document::silences`] keeps it from being said.
    pub by: usize,
}

/// Parts findings into those that are said and those that are silenced.
pub(crate) fn parted(findings: Vec<Finding>, document: &Document, layout: &Layout) -> (Vec<Finding>, Vec<Silenced>) {
    if document.silences.is_empty() {
        return (findings, Vec::new());
    }
    let (mut said, mut silenced) = (Vec::new(), Vec::new());
    for finding in findings {
        match document.silences.iter().position(|silence| covers(silence, &finding, layout)) {
            Some(by) => silenced.push(Silenced { finding, by }),
            None => said.push(finding),
        }
    }
    (said, silenced)
}

/// Whether a silence is for this finding: of its rule, for just its panels and lines.
fn covers(silence: &Silence, finding: &Finding, layout: &Layout) -> bool {
    let spot = &finding.spot;
    let is_near = |a: Point, b: Point| (a - b).length() <= NEAR;
    silence.rule == finding.rule
        && silence.panel_ids(layout) == spot.panels.iter().copied().collect::<BTreeSet<_>>()
        && silence.line_ids(layout) == spot.lines.iter().copied().collect::<BTreeSet<_>>()
        && silence.at.is_none_or(|at| spot.at.is_some_and(|is| is_near(is, at)))
}

/// Silences what a finding says at its place, for a reason. `None` where the place can't be named: for more panels or lines
/// than [`Silence::MOST_SPOKEN_OF`], or without a reason. `all` is everything that is found, silenced or not: the very place
/// only counts where the rule says something else of the same panels and lines, since it moves with them.
#[must_use]
pub fn silence<'a>(
    document: &Document,
    layout: &Layout,
    finding: &Finding,
    all: impl IntoIterator<Item = &'a Finding>,
    reason: &str,
) -> Option<Edit> {
    let (spot, reason) = (&finding.spot, reason.trim());
    let is_alike = |other: &&Finding| {
        other.rule == finding.rule && other.spot.panels == spot.panels && other.spot.lines == spot.lines
    };
    let is_only = all.into_iter().filter(is_alike).count() <= 1;
    let lines = layout.step_of(&spot.lines);
    let panels: Option<Vec<_>> = spot.panels.iter().map(|&panel| layout.panel_ref(panel)).collect();
    let silence = Silence {
        rule: finding.rule.to_owned(),
        panels: panels?,
        lines: lines.lines,
        part_lines: lines.parts,
        at: spot.at.filter(|_| !is_only),
        reason: reason.to_owned(),
    };
    let counts = [silence.panels.len(), silence.lines.len(), silence.part_lines.len()];
    if reason.is_empty() || counts.iter().any(|&count| count > Silence::MOST_SPOKEN_OF) {
        return None;
    }
    let mut all = document.silences.clone();
    all.push(silence);
    Some(Edit::SetSilences(all))
}

/// Lets one of [`Document::silences`] go, so that what it kept from being said is said again.
#[must_use]
pub fn hear_again(document: &Document, by: usize) -> Option<Edit> {
    let mut all = document.silences.clone();
    (by < all.len()).then(|| {
        all.remove(by);
        Edit::SetSilences(all)
    })
}

#[cfg(test)]
mod tests {
    use super::{Silenced, hear_again, parted, silence};
    use crate::testing::checked;
    use crate::testing::common::{Sketch, at, length};
    use crate::{Finding, Severity, Spot};
    use model::change::{delete_line, move_line, perform};
    use model::part::{Mat, Placement, Source};
    use model::{Document, Layout, LineId, PanelRef, Part, PartId, PartKind, Turn};

    /// Two scores between the grooves of the board.
    fn two_off() -> Document {
        let sketch = Sketch::on("12x12in").score(1, Turn::None, "3 1/16").score(2, Turn::None, "9 1/16");
        sketch.base("6", "6").steps(&[&[1], &[2]]).0
    }

    /// The same with the first finding of a rule silenced.
    fn without(document: &Document, rule: &str) -> Document {
        let (checked, layout) = checked(document);
        let finding = checked.findings.iter().find(|finding| finding.rule == rule).expect("there is one");
        let edit = silence(document, &layout, finding, &checked.findings, " A ruler does it. ").unwrap();
        let mut next = document.clone();
        next.apply(edit).unwrap();
        next
    }

    #[track_caller]
    fn says(document: &Document, rule: &str, said: usize, silenced: usize) {
        let (checked, _) = checked(document);
        let count = checked.findings.iter().filter(|finding| finding.rule == rule).count();
        assert_eq!((count, checked.silenced.len()), (said, silenced), "{:#?}", checked.findings);
    }

    #[test]
    fn one_place_is_silenced_and_heard_again() {
        let before = two_off();
        says(&before, "off-groove", 2, 0);
        let silent = without(&before, "off-groove");
        says(&silent, "off-groove", 1, 1);
        assert_eq!(silent.silences[0].reason, "A ruler does it.");
        let mut again = silent.clone();
        again.apply(hear_again(&silent, 0).unwrap()).unwrap();
        assert_eq!(again, before);
        assert_eq!(hear_again(&before, 0), None);
    }

    #[test]
    fn it_goes_with_the_line_and_ends_with_it() {
        let silent = without(&two_off(), "off-groove");
        let layout = Layout::of(&silent);
        let moved = move_line(&silent, &layout, LineId(1), length("4 3/16")).unwrap();
        let moved = perform(&silent, &layout, moved).unwrap();
        says(&moved.document, "off-groove", 1, 1);
        let gone = delete_line(&moved.document, &moved.layout, LineId(1)).unwrap();
        let gone = perform(&moved.document, &moved.layout, gone).unwrap();
        assert_eq!(gone.document.silences, []);
        let mut back = gone.document.clone();
        back.apply(gone.inverse).unwrap();
        assert_eq!(back, moved.document);
    }

    #[test]
    fn it_goes_with_the_panel() {
        let flap = Sketch::on("12x6in").score(1, Turn::None, "6 1/4").base("11", "3").steps(&[&[1]]).0;
        says(&flap, "sticks-out", 1, 0);
        let silent = without(&flap, "sticks-out");
        says(&silent, "sticks-out", 0, 1);
        let layout = Layout::of(&silent);
        // The mark in the flap, 3 1/8 in from the left, lies in the base then.
        let moved = move_line(&silent, &layout, LineId(1), length("6 1/8")).unwrap();
        says(&perform(&silent, &layout, moved).unwrap().document, "sticks-out", 0, 1);
    }

    #[test]
    fn it_goes_with_the_part() {
        let mut document = Sketch::on("12x12in").score(1, Turn::None, "3").base("8", "6").steps(&[&[1]]).0;
        let (kind, source) = (PartKind::Mat(Mat { width: length("10"), height: length("4") }), Source::FolioStock);
        let place = Placement::centred(PanelRef::Sheet(at("8", "6")));
        document.parts.push(Part { id: PartId(1), name: String::new(), kind, source, place, also: Vec::new() });
        let silent = without(&document, "glue-beyond-edge");
        says(&silent, "glue-beyond-edge", 0, 1);
        let layout = Layout::of(&silent);
        let gone = perform(&silent, &layout, model::part::change::remove(&silent, &[PartId(1)])).unwrap();
        assert_eq!(gone.document.silences, []);
    }

    #[test]
    fn of_several_places_of_the_same_lines_it_is_for_one() {
        let (document, layout) = (two_off(), Layout::of(&two_off()));
        let finding = |down: &str| Finding {
            rule: "lines-coincide",
            severity: Severity::Note,
            sentence: down.to_owned(),
            mend: String::new(),
            spot: Spot { lines: vec![LineId(1)], at: Some(at("3", down)), ..Spot::default() },
            fixes: Vec::new(),
        };
        let all = ["2", "2 1/16", "9"].map(finding);
        let mut silent = document.clone();
        silent.apply(silence(&document, &layout, &all[2], &all, "So be it.").unwrap()).unwrap();
        let (said, silenced) = parted(all.to_vec(), &silent, &layout);
        assert_eq!((said.as_slice(), silenced), (&all[..2], vec![Silenced { finding: all[2].clone(), by: 0 }]));
        // Alone it is known without its place.
        let mut silent = document.clone();
        silent.apply(silence(&document, &layout, &all[2], &all[2..], "So be it.").unwrap()).unwrap();
        assert_eq!(parted(all.to_vec(), &silent, &layout).0, []);
    }

    #[test]
    fn a_reason_has_to_be_given() {
        let document = two_off();
        let (checked, layout) = checked(&document);
        assert_eq!(silence(&document, &layout, &checked.findings[0], &checked.findings, " "), None);
    }
}
