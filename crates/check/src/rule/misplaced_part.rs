//! A part has no place, or can't be put together with what it is put on.

use super::Rule;
use crate::fix::Offers;
use crate::{Context, Finding, Fix, Severity, Spot};
use fold::PartRefusal;
use model::part::{Gluing, PartFault, change};
use model::{PanelRef, PartId};

pub(super) const RULE: Rule = Rule {
    name: "misplaced-part",
    severities: &[Severity::Error],
    about: "A part has no place, or can't be put together with what it is put on.\n\n\
            It is left out of the folded folio until it is mended, and so is all that lies on it; what is said of \
            closing, thickness and faces is then said of a folio without it.",
    example: "\"Mat 1\" lies on no panel of the folio.",
    check,
};

fn check(context: &Context<'_>) -> Vec<Finding> {
    let offers = Offers::plain();
    let faults = context.layout.part_faults.iter().map(|(&id, fault)| {
        let (what, mend) = fault.said(context.document);
        let fixes = offers.of(|| match fault {
            PartFault::Unplaced(_) => Vec::new(),
            PartFault::NoGluedPanel => {
                unglued(context, id, |_| false).into_iter().chain(taken_off(context, id)).collect()
            }
            _ => taken_off(context, id).into_iter().collect(),
        });
        finding(context, id, &what, mend, fixes)
    });
    let left_out = context.folded.iter().flat_map(|(assembly, _)| &assembly.left_out).map(|(&id, refusal)| {
        let (what, mend) = refused(context, *refusal);
        let fixes = offers.of(|| match *refusal {
            PartRefusal::HostLeftOut(_) => Vec::new(),
            PartRefusal::NotTogether(own, other) => {
                let at = |panel| context.layout.panel_of(panel);
                let holds =
                    |glue: &Gluing| (at(PanelRef::Part(id, glue.panel)), at(glue.to)) != (Some(own), Some(other));
                unglued(context, id, holds).into_iter().chain(taken_off(context, id)).collect()
            }
            PartRefusal::Blocked | PartRefusal::Shape => taken_off(context, id).into_iter().collect(),
        });
        finding(context, id, &what, mend, fixes)
    });
    faults.chain(left_out).collect()
}

fn refused(context: &Context<'_>, refusal: PartRefusal) -> (String, &'static str) {
    match refusal {
        PartRefusal::Blocked => {
            ("can't be folded as it is to be before it is put in place".to_owned(), "change its folds or their order")
        }
        PartRefusal::NotTogether(own, other) => (
            format!("is glued to {}, but {} does not lie on it with that face", context.the(other), context.the(own)),
            "move it there, or take that glue off",
        ),
        PartRefusal::HostLeftOut(host) => {
            (format!("lies on \"{}\", which is left out itself", context.document.part_name(host)), "mend that first")
        }
        PartRefusal::Shape => ("has a shape that can't be put together".to_owned(), "change its lines"),
    }
}

/// Takes the part off, with what lies on it.
fn taken_off(context: &Context<'_>, id: PartId) -> Option<Fix> {
    let document = context.document;
    document.part(id)?;
    let others = change::with_carried(document, &[id]).len() - 1;
    let along = match others {
        0 => String::new(),
        1 => " and the part on it".to_owned(),
        _ => format!(" and the {others} parts on it"),
    };
    Some(Fix::new(format!("Take {}{along} off", document.part_name(id)), change::remove(document, &[id])))
}

/// Takes glue off that a part has besides that of its kind: what does not hold, and what is by a panel that is not there.
fn unglued(context: &Context<'_>, id: PartId, holds: impl Fn(&Gluing) -> bool) -> Option<Fix> {
    let edit = change::change(context.document, id, |part| part.also.retain(holds))?;
    Some(Fix::new("Take that glue off", edit))
}

fn finding(context: &Context<'_>, id: PartId, what: &str, mend: &str, fixes: Vec<Fix>) -> Finding {
    let mark = context.document.part(id).and_then(|part| part.place.on.mark());
    let panels = mark.and_then(|mark| context.layout.panel_at(mark)).into_iter().collect();
    Finding {
        rule: RULE.name,
        severity: Severity::Error,
        sentence: format!("\"{}\" {what}.", context.document.part_name(id)),
        mend: format!("{}.", crate::words::sentence(mend)),
        spot: Spot { panels, at: mark, ..Spot::default() },
        fixes,
    }
}

#[cfg(test)]
mod tests {
    use crate::testing::common::{Sketch, at, length};
    use crate::testing::{mended, mends, said};
    use model::part::{GlueArea, Gluing, Mat, Part, Placement, Source};
    use model::{Document, Face, PanelRef, PartId, PartKind, Turn};

    fn with_mat(change: impl FnOnce(&mut Part)) -> Document {
        let mut document = Sketch::on("12x12in").score(1, Turn::None, "3").base("8", "6").steps(&[&[1]]).0;
        let kind = PartKind::Mat(Mat { width: length("2"), height: length("2") });
        let place = Placement::centred(PanelRef::Sheet(at("8", "6")));
        let mut part =
            Part { id: PartId(1), name: String::new(), kind, source: Source::FolioStock, place, also: Vec::new() };
        change(&mut part);
        document.parts.push(part);
        document
    }

    #[track_caller]
    fn check(change: impl FnOnce(&mut Part), says: &[&str]) {
        assert_eq!(said(&with_mat(change), "misplaced-part"), says);
    }

    #[test]
    fn a_part_says_why_it_has_no_place() {
        check(|_| {}, &[]);
        check(|part| part.place.on = PanelRef::Sheet(at("-1", "0")), &["\"Mat 1\" lies on no panel of the folio."]);
        check(
            |part| part.place.on = PanelRef::Part(PartId(7), 0),
            &["\"Mat 1\" is put on part 7, which is not in the design."],
        );
        check(
            |part| part.kind = PartKind::Mat(Mat { width: length("0"), height: length("2") }),
            &["\"Mat 1\" has no width."],
        );
        let far = Gluing { panel: 0, face: Face::Back, to: PanelRef::Sheet(at("1", "6")), area: GlueArea::Whole };
        check(
            |part| part.also.push(far),
            &["\"Mat 1\" is glued to the left flap, but \"Mat 1\" does not lie on it with that face."],
        );
    }

    #[test]
    fn glue_that_holds_nothing_is_taken_off_or_else_the_part() {
        let far = Gluing { panel: 0, face: Face::Back, to: PanelRef::Sheet(at("1", "6")), area: GlueArea::Whole };
        let document = with_mat(|part| part.also.push(far));
        let [(glue, kept), (off, gone)] = mended(&document, "misplaced-part").try_into().unwrap();
        assert_eq!((glue.as_str(), &kept), ("Take that glue off", &with_mat(|_| {})));
        assert_eq!((off.as_str(), gone.parts.len()), ("Take Mat 1 off", 0));
        let no_panel = with_mat(|part| part.also.push(Gluing { panel: 3, ..far }));
        assert_eq!(mends(&no_panel, "misplaced-part"), ["Take that glue off", "Take Mat 1 off"]);
    }

    #[test]
    fn a_part_without_a_place_is_taken_off_with_what_lies_on_it() {
        let mut document = with_mat(|part| part.place.on = PanelRef::Sheet(at("-1", "0")));
        assert_eq!(mends(&document, "misplaced-part"), ["Take Mat 1 off"]);
        let on = Placement::centred(PanelRef::Part(PartId(1), 0));
        let second = Part { id: PartId(2), place: on, ..document.parts[0].clone() };
        document.parts.push(second);
        let [(label, gone)] = mended(&document, "misplaced-part").try_into().unwrap();
        assert_eq!((label.as_str(), gone.parts.len()), ("Take Mat 1 and the part on it off", 0));
    }
}
