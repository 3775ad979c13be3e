//! Parts keep one another from being put in place: each would have to be there before the other.

use crate::{Context, Finding, Severity, Spot};
use make::Making;
use model::part::Job;

pub(super) fn check(context: &Context<'_>) -> Vec<Finding> {
    if context.document.parts.len() < 2 {
        return Vec::new();
    }
    let making = Making::of(context.document, context.layout);
    let finding = |circle: &make::Circle| {
        let sentence = circle.sentence(context.document);
        let (what, mend) = sentence.rsplit_once("; ").unwrap_or((&sentence, "put one of them elsewhere"));
        let parts = circle.reasons.iter().filter_map(|reason| match reason.then {
            Job::Put(id) => context.layout.part(id),
            _ => None,
        });
        Finding {
            rule: "making-circle",
            severity: Severity::Warning,
            sentence: format!("{}.", what.trim_end_matches('.')),
            mend: crate::words::sentence(mend),
            spot: Spot { panels: parts.map(|part| part.main).collect(), ..Spot::default() },
            fixes: Vec::new(),
        }
    };
    making.circles.iter().map(finding).collect()
}

#[cfg(test)]
mod tests {
    use crate::testing::common::{Sketch, at, length};
    use crate::testing::said;
    use model::part::{Anchor, AnchorFrom, Mat, Part, Placement, Source};
    use model::{Document, PanelRef, PartId, PartKind, Turn};

    /// Two mats of 4 by 4 in on the base, the second so far to the right of the first.
    fn mats(apart: &str) -> Document {
        let mut document = Sketch::on("12x12in").score(1, Turn::None, "3").base("8", "6").steps(&[&[1]]).0;
        let kind = || PartKind::Mat(Mat { width: length("4"), height: length("4") });
        for (id, left) in [(1, length("0")), (2, length(apart))] {
            let mut place = Placement::centred(PanelRef::Sheet(at("8", "6")));
            place.across = Anchor { from: AnchorFrom::Start, distance: left };
            let source = Source::FolioStock;
            document.parts.push(Part {
                id: PartId(id),
                name: String::new(),
                kind: kind(),
                source,
                place,
                also: Vec::new(),
            });
        }
        document
    }

    #[test]
    fn two_mats_over_one_another_glued_to_one_panel_are_told() {
        assert_eq!(said(&mats("4"), "making-circle"), [""; 0]);
        let says = said(&mats("3"), "making-circle");
        assert!(matches!(says.as_slice(), [one] if one.contains("Mat 1") && one.contains("Mat 2")), "{says:?}");
    }
}
