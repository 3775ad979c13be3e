//! The only mouth of a pocket looks down when the closed folio stands as it is drawn, so that cards may slide out.

use super::Rule;
use crate::measure::closed_at;
use crate::{Context, Finding, Fix, Severity, Spot};
use fit::{Holds, Inside, PocketFit};
use glam::DVec3;
use model::part::{PanelRef, Rotation, change};
use model::{PartLayout, SheetEdge};

pub(super) const RULE: Rule = Rule {
    name: "mouth-down",
    severities: &[Severity::Note],
    about: "The only mouth of a pocket looks down when the closed folio stands as it is drawn, so that cards may \
            slide out.\n\n\
            A flap that folds down from the top turns what lies on it upside down, which is easily missed on the flat \
            sheet (plain from how flaps fold, no source).",
    example: "The mouth of \"Pocket 1\" looks down when the closed folio stands as it is drawn, so that cards may slide out.",
    check,
};

fn check(context: &Context<'_>) -> Vec<Finding> {
    let is_pocket = |part: &&model::Part| part.kind.holds_inserts();
    if context.folded.is_none() || context.document.parts.iter().find(is_pocket).is_none() {
        return Vec::new();
    }
    context.pockets().iter().filter_map(|fit| finding(context, fit)).collect()
}

fn finding(context: &Context<'_>, fit: &PocketFit) -> Option<Finding> {
    let Holds::Pocket(Inside { closed, .. }) = &fit.holds else { return None };
    let mut open = closed.others();
    let (mouth, None) = (open.next()?, open.next()) else { return None };
    let part = context.layout.part(fit.part)?;
    if !looks_down(context, part, mouth)? {
        return None;
    }
    Some(Finding {
        rule: RULE.name,
        severity: Severity::Note,
        sentence: format!(
            "The mouth of \"{}\" looks down when the closed folio stands as it is drawn, so that cards may slide out.",
            part.name
        ),
        mend: "Turn it, or leave another edge open and glue this one.".to_owned(),
        spot: Spot { panels: vec![part.main], ..Spot::default() },
        fixes: turned(context, part).into_iter().collect(),
    })
}

/// Whether an edge of a part's main panel is the lower one in the closed state.
fn looks_down(context: &Context<'_>, part: &PartLayout, edge: SheetEdge) -> Option<bool> {
    /// The cosine of 45°: nearer to straight down than to either side.
    const STEEP: f64 = std::f64::consts::FRAC_1_SQRT_2;
    let (assembly, folding) = context.folded?;
    let pose = *folding.flat_pose(closed_at(folding)).get(assembly.place(part.main)?)?;
    let out = match edge {
        SheetEdge::Top => DVec3::Y,
        SheetEdge::Right => DVec3::X,
        SheetEdge::Bottom => DVec3::NEG_Y,
        SheetEdge::Left => DVec3::NEG_X,
    };
    Some(folding.is_folded(part.main) && pose.transform_vector3(out).y < -STEEP)
}

/// Turned by half, where nothing else hangs on how it lies.
fn turned(context: &Context<'_>, part: &PartLayout) -> Option<Fix> {
    let own = context.document.part(part.id)?;
    let carries = context.document.parts.iter().any(|other| other.hosts().any(|host| host == part.id));
    let on_sheet = matches!(own.place.on, PanelRef::Sheet(_));
    if carries || !own.also.is_empty() || !on_sheet {
        return None;
    }
    let half = Rotation::QUARTER.plus(Rotation::QUARTER);
    Some(Fix::new("Turn it by half", change::turn(context.document, context.layout, part.id, half)?))
}

#[cfg(test)]
mod tests {
    use crate::testing::common::{Sketch, at};
    use crate::testing::part::{base, flap_and_base, part, pocket};
    use crate::testing::{mended, said};
    use model::SheetEdge::{Bottom, Left, Right, Top};
    use model::{Document, PanelRef, SheetEdge, Turn};

    #[track_caller]
    fn check(document: &Document, is_told: bool) {
        let says = "The mouth of \"Pocket 1\" looks down when the closed folio stands as it is drawn, so that cards may slide out.";
        assert_eq!(said(document, "mouth-down"), if is_told { vec![says] } else { vec![] });
    }

    #[test]
    fn a_pocket_on_the_base_opens_as_it_is_drawn() {
        let with = |glued: &[SheetEdge]| flap_and_base(vec![part(1, pocket("4", "4", glued), base())]);
        check(&with(&[Right, Top, Left]), true);
        check(&with(&[Right, Bottom, Left]), false);
        check(&with(&[Top, Bottom, Left]), false);
        // Open at the top too: a sleeve.
        check(&with(&[Right, Left]), false);
        mended(&with(&[Right, Top, Left]), "mouth-down");
    }

    #[test]
    fn a_flap_from_the_top_turns_its_pocket_over() {
        let with = |glued: &[SheetEdge]| {
            let mut document = Sketch::on("12x12in").score(1, Turn::Once, "5").base("6", "8").steps(&[&[1]]).0;
            document.parts = vec![part(1, pocket("4", "3", glued), PanelRef::Sheet(at("6", "2")))];
            document
        };
        check(&with(&[Right, Bottom, Left]), true);
        check(&with(&[Right, Top, Left]), false);
        mended(&with(&[Right, Bottom, Left]), "mouth-down");
    }
}
