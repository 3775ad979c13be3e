//! A part has no paper: no offcut holds it, or not along with the others; or its paper is not as it should be for it.

use super::Rule;
use crate::fix::Offers;
use crate::{Context, Finding, Fix, Severity, Spot};
use allot::{Origin, Remark};
use model::part::{Source, change};
use model::{Length, PartId, Size};

pub(super) const RULE: Rule = Rule {
    name: "no-paper",
    severities: &[Severity::Error, Severity::Note],
    about: "A part has no paper: no offcut holds it, or not along with the others; or its paper is not as it should \
            be for it.\n\n\
            A maker who starts cutting finds that out when the good piece is gone. Notes tell of patterns that can't \
            stand upright and of folds across the grain.",
    example: "\"Mat 1\" needs 4 x 5 in, and no such place is left.",
    check,
};

fn check(context: &Context<'_>) -> Vec<Finding> {
    let mut findings = Vec::new();
    let offers = Offers::plain();
    for supply in context.supply.iter().flat_map(|supply| &supply.supplies) {
        // What has no shape is told by another rule.
        if context.layout.part(supply.part).is_none() {
            continue;
        }
        if let Origin::Missing(remark) = &supply.from {
            let fixes = offers.of(|| further(context, supply.part));
            findings.push(finding(context, supply.part, Severity::Error, remark, fixes));
        }
        let notes = supply.notes.iter();
        findings.extend(notes.map(|note| finding(context, supply.part, Severity::Note, note, Vec::new())));
    }
    findings
}

fn finding(context: &Context<'_>, id: PartId, severity: Severity, remark: &Remark, fixes: Vec<Fix>) -> Finding {
    let panels = context.layout.part(id).map(|part| part.main).into_iter().collect();
    let mend = match remark.mend.as_str() {
        "" => "take other paper for it, or leave it so",
        mend => mend,
    };
    Finding {
        rule: RULE.name,
        severity,
        sentence: format!("{}.", crate::words::sentence(&remark.what)),
        mend: format!("{}.", crate::words::sentence(mend)),
        spot: Spot { panels, ..Spot::default() },
        fixes,
    }
}

/// Takes a further sheet of the folio's paper for what should come from an offcut, where it goes on one.
fn further(context: &Context<'_>, id: PartId) -> Option<Fix> {
    let part = context.document.part(id)?;
    let sides = |size: Size| -> [Length; 2] {
        let (w, h) = (size.width(), size.height());
        [w.min(h), w.max(h)]
    };
    let own = sides(context.layout.part(id)?.pattern.size());
    let goes_on = own.into_iter().zip(sides(context.document.stock.size)).all(|(own, most)| own <= most);
    if !part.is_from_offcut() || !goes_on {
        return None;
    }
    let edit = change::change(context.document, id, |part| part.source = Source::FolioStock)?;
    Some(Fix::new("Take a further sheet of the folio's paper", edit))
}

#[cfg(test)]
mod tests {
    use crate::testing::common::{Sketch, at, length};
    use crate::testing::{findings, mended, mends, said};
    use model::part::{Mat, Part, Placement, Source};
    use model::{Document, PanelRef, PartId, PartKind, Turn};

    /// A sheet with a strip of 3 by 12 in cut off at its left, and a mat.
    fn with_mat(width: &str, height: &str) -> Document {
        let mut document = Sketch::on("12x12in").score(1, Turn::None, "3").base("8", "6").0;
        document.lines[0].work = model::Work::Cut;
        let kind = PartKind::Mat(Mat { width: length(width), height: length(height) });
        let place = Placement::centred(PanelRef::Sheet(at("8", "6")));
        let source = Source::AnyOffcut;
        document.parts.push(Part { id: PartId(1), name: String::new(), kind, source, place, also: Vec::new() });
        document
    }

    #[test]
    fn a_mat_larger_than_every_offcut_has_no_paper() {
        assert_eq!(said(&with_mat("3", "5"), "no-paper"), [""; 0]);
        let large = with_mat("4", "5");
        let [finding] = findings(&large)
            .into_iter()
            .filter(|finding| finding.rule == "no-paper")
            .collect::<Vec<_>>()
            .try_into()
            .unwrap();
        assert_eq!(finding.sentence, "\"Mat 1\" needs 4 x 5 in, and no such place is left.");
        let mend =
            "The largest rectangle, in Offcut 1, is 3 x 12 in: make the part smaller, or cut it from a further sheet.";
        assert_eq!(finding.mend, mend);
        // What a part is called is no matter, whatever stands in it.
        let mut odd = large.clone();
        odd.parts[0].name = "Leaf; small.".to_owned();
        assert_eq!(said(&odd, "no-paper"), ["\"Leaf; small.\" needs 4 x 5 in, and no such place is left."]);
        let [(label, mended)] = mended(&large, "no-paper").try_into().unwrap();
        assert_eq!(label, "Take a further sheet of the folio's paper");
        assert_eq!(mended.parts[0].source, Source::FolioStock);
        // None of 12 in holds that.
        assert_eq!(mends(&with_mat("4", "13"), "no-paper"), [""; 0]);
    }
}
