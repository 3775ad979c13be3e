//! A flap can't be tucked under what it should be: other folds or glue hold it, or it does not reach there.

use super::Rule;
use crate::fix::Offers;
use crate::lie;
use crate::measure::closed_at;
use crate::words::sentence;
use crate::{Context, Finding, Fix, Severity, Spot};
use fold::Trouble;
use model::words::listed;
use model::{Edit, PanelId};

pub(super) const RULE: Rule = Rule {
    name: "cannot-tuck",
    severities: &[Severity::Error],
    about: "A flap can't be tucked under what it should be: other folds or glue hold it, or it does not reach there.\n\n\
            A tuck holds only what lies under it when the folio is closed, and a flap goes under by a free edge (plain \
            from how tucks work, no source).",
    example: "The right flap can't be tucked under the left flap in step 2: it ends 2 in before it.",
    check,
};

fn check(context: &Context<'_>) -> Vec<Finding> {
    let troubles = context.folded.iter().flat_map(|(_, folding)| folding.troubles());
    let offers = Offers::plain();
    troubles.filter_map(|trouble| finding(context, trouble, &offers)).collect()
}

fn finding(context: &Context<'_>, trouble: &Trouble, offers: &Offers<'_>) -> Option<Finding> {
    let Trouble::CannotTuck { step, moving, under, held_by } = trouble else { return None };
    let (flap, over) = (context.the(*moving), context.the(*under));
    let (why, mend) = if held_by.is_empty() {
        let short = short_of(context, *moving, *under).filter(|by| lie::is_seen(*by));
        let why = match short {
            Some(by) => format!("ends {} before it", lie::readable(by, context.document.units)),
            None => "does not come to lie on it".to_owned(),
        };
        (why, "Make it longer, tuck it under something that it reaches, or let it lie on top.")
    } else {
        let by = listed(held_by.iter().map(|&panel| context.the(panel)));
        (format!("is held by {by} as well"), "Cut it free there, or let it lie on top.")
    };
    Some(Finding {
        rule: RULE.name,
        severity: Severity::Error,
        sentence: sentence(&format!("{flap} can't be tucked under {over} in step {}: it {why}.", step + 1)),
        mend: mend.to_owned(),
        spot: Spot { panels: vec![*moving, *under], step: Some(*step), ..Spot::default() },
        fixes: offers.of(|| untucked(context, *step, *moving, *under)),
    })
}

/// How far from one another two panels lie on the table in the end, in mm.
fn short_of(context: &Context<'_>, moving: PanelId, under: PanelId) -> Option<f64> {
    let (assembly, folding) = context.folded?;
    let frames = folding.flat_pose(closed_at(folding));
    let on_table = |id| assembly.place(id).map(|place| lie::laid(&assembly.panels[place].convex, frames[place]));
    Some(lie::apart(&on_table(moving)?, &on_table(under)?))
}

fn untucked(context: &Context<'_>, step: usize, moving: PanelId, under: PanelId) -> Option<Fix> {
    let mut steps = context.document.steps.clone();
    let tucks = &mut steps.get_mut(step)?.tucks;
    let count = tucks.len();
    let is = |panel, id| context.layout.panel_of(panel) == Some(id);
    tucks.retain(|tuck| !(is(tuck.panel, moving) && is(tuck.under, under)));
    let label = format!("Let {} lie on top", context.the(moving));
    (tucks.len() < count).then(|| Fix::new(label, Edit::SetSteps(steps)))
}

#[cfg(test)]
mod tests {
    use crate::testing::common::{Sketch, at, four_flaps};
    use crate::testing::{mended, said};
    use model::{PanelRef, Tucked, Turn};

    #[test]
    fn a_flap_that_does_not_reach_is_told() {
        let mut document = Sketch::on("12x12in").score(1, Turn::None, "3").score(2, Turn::None, "10").base("6", "6").0;
        document.steps = vec![model::Step::of(vec![model::LineId(1)]), model::Step::of(vec![model::LineId(2)])];
        let [left, right] = [at("1", "6"), at("11", "6")].map(PanelRef::Sheet);
        document.steps[1].tucks = vec![Tucked { panel: right, under: left }];
        assert_eq!(
            said(&document, "cannot-tuck"),
            ["The right flap can't be tucked under the left flap in step 2: it ends 2 in before it."]
        );
        // The left flap ends 6 in from the left of the sheet, the right one 2 in from its fold at 10 in.
        let [(label, mended)] = mended(&document, "cannot-tuck").try_into().unwrap();
        assert_eq!((label.as_str(), mended.steps[1].tucks.len()), ("Let the right flap lie on top", 0));
        assert_eq!(mended.steps[1].lines, document.steps[1].lines);
    }

    #[test]
    fn the_last_of_four_flaps_is_tucked_under_the_first() {
        let mut document = four_flaps();
        assert_eq!(document.steps.len(), 4, "each flap in a step of its own");
        let last = document.steps[3].lines[0];
        let first = document.steps[0].lines[0];
        let layout = model::Layout::of(&document);
        let flap = |line| {
            let fold = layout.folio_folds(line).next().unwrap();
            let panel = fold.panels.into_iter().find(|panel| Some(*panel) != layout.base).unwrap();
            layout.panel_ref(panel).unwrap()
        };
        document.steps[3].tucks = vec![Tucked { panel: flap(last), under: flap(first) }];
        assert_eq!(said(&document, "cannot-tuck"), [""; 0]);
    }
}
