//! What should fold is still joined to what should stay, most often round a corner that was not cut away.

use super::Rule;
use crate::fix::Offers;
use crate::fix::corner::Corner;
use crate::words::sentence;
use crate::{Context, Finding, Fix, Severity, Spot};
use fold::{Folding, Trouble};
use model::change::fold_in_step;
use model::polygon::{Inside, locate};
use model::{Edit, Fold, Line, LineId, PanelId, Point, Run, Segment, Stop, Work};
use std::collections::{BTreeMap, BTreeSet};

pub(super) const RULE: Rule = Rule {
    name: "still-joined",
    severities: &[Severity::Error],
    about: "What should fold is still joined to what should stay, most often round a corner that was not cut away.\n\n\
            Paper kept all round a crossing of four right angles folds flat only with three of one kind and one of \
            the other (Maekawa's theorem: mountains and valleys differ by two), and never with a square fold in it: a \
            flap beside another needs the corner between them cut.",
    example: "If it is to stay: no mountains and 4 valleys meet; a flat fold needs two more of one than of the other.",
    check,
};

/// How many scores are tried as what should fold along.
const MOST_ALONG: usize = 4;

fn check(context: &Context<'_>) -> Vec<Finding> {
    let Some((_, folding)) = context.folded else { return Vec::new() };
    let mut findings = loose_ends(context);
    let offers = Offers::tried(context);
    let finding = |(place, trouble): (usize, &Trouble)| {
        let Trouble::Joined { step, lines, panels, at } = trouble else { return None };
        // What glue holds is told with the glue.
        let is_locked = panels.len() == 2 && super::locked_fold::tells(context, lines);
        if is_locked || context.rigid_rings().contains_key(&place) {
            return None;
        }
        let (words, mend) = match panels.as_slice() {
            [corner, first, second, ..] => (
                format!(
                    "{} is still joined round the corner to both {} and {}, {}, so they cannot fold there.",
                    context.the(*corner),
                    context.the(*first),
                    context.the(*second),
                    context.place(*at)
                ),
                format!("{}{}", cut_free(context, *corner), kept(folding, *at)),
            ),
            [moving, staying] => (
                format!(
                    "{} is still joined to {} {}, so it cannot fold on its own.",
                    context.the(*moving),
                    context.the(*staying),
                    context.place(*at)
                ),
                "Cut between the two, or let the scores that join them fold in the same step.".to_owned(),
            ),
            _ => (
                format!("Paper is still joined {}, so step {} cannot fold.", context.place(*at), step + 1),
                "Cut the paper there.".to_owned(),
            ),
        };
        let fixes = offers.of(|| match panels.as_slice() {
            [corner, _, _, ..] => without(context, *step, *corner),
            _ => along(context, *step, panels).into_iter().collect(),
        });
        let spot = Spot { panels: panels.clone(), lines: lines.clone(), at: Some(*at), step: Some(*step) };
        Some(Finding { rule: RULE.name, severity: Severity::Error, sentence: sentence(&words), mend, spot, fixes })
    };
    findings.extend(folding.troubles().iter().enumerate().filter_map(finding));
    findings
}

/// How a corner is mended: a corner of one panel may stay on one of its sides.
fn cut_free(context: &Context<'_>, panel: PanelId) -> String {
    match context.corner(panel).filter(|corner| !corner.is_single()) {
        Some(corner) => format!("Cut {} away, all of it.", corner.words(context)),
        None => format!("Cut {} away along its two scores, or cut it free along one of them.", context.the(panel)),
    }
}

/// Cuts a corner away: all of it that hangs together, since what is left of it would hang on one flap. Where that brings to
/// light that gussets beside it can't lie flat, they are made to stand too. Where neither leaves less in the way, the panel
/// comes off alone, or the step that it held comes first. One of a part is left to the maker.
fn without(context: &Context<'_>, step: usize, panel: PanelId) -> Vec<Fix> {
    let Some(corner) = context.corner(panel) else { return Vec::new() };
    let cut = corner.cut(context);
    if context.trials().is_none() {
        return cut.into_iter().collect();
    }
    let mut fixes = fewest(context.closer(cut.iter().cloned().chain(corner.cut_and_squared(context))));
    if fixes.is_empty() && !corner.is_single() {
        fixes = fewest(context.closer(Corner::single(panel).cut(context)));
    }
    if fixes.is_empty() {
        fixes = fewest(context.closer(corner.cut_and_first(context, step)));
    }
    if fixes.is_empty() && corner.is_single() {
        // As much may come to light as the corner hid.
        fixes.extend(cut.filter(|cut| context.tried(&cut.edit).is_some()));
    }
    fixes
}

/// Of fixes with how much each leaves in the way, those that leave less than all before them: the best first.
fn fewest(fixes: impl Iterator<Item = (usize, Fix)>) -> Vec<Fix> {
    let mut fewest: Vec<(usize, Fix)> = Vec::new();
    for (left, fix) in fixes {
        if fewest.iter().all(|(least, _)| left < *least) {
            fewest.insert(0, (left, fix));
        }
    }
    fewest.into_iter().map(|(_, fix)| fix).collect()
}

/// Lets another score that joins one of two panels to something fold in the same step, where they can move then.
fn along(context: &Context<'_>, step: usize, panels: &[PanelId]) -> Option<Fix> {
    let joins = |fold: &&Fold| fold.panels.iter().any(|panel| panels.contains(panel));
    let others = context.layout.folds.iter().filter(joins).map(|fold| fold.line);
    let others: BTreeSet<LineId> = others.filter(|&line| context.document.step_of(line) != Some(step)).collect();
    others.into_iter().take(MOST_ALONG).find_map(|line| {
        let label = format!("Fold {} in step {} too", context.layout.line_name(context.document, line), step + 1);
        context.if_closer(label, fold_in_step(context.document, line, step))
    })
}

/// What to mind where the corner is to stay: why its folds can't lie flat together. Empty where they can, in another order.
fn kept(folding: &Folding, corner: Point) -> String {
    let why = folding.troubles().iter().find_map(|trouble| match trouble {
        Trouble::Unflat { at, why, .. } if *at == corner => Some(why),
        _ => None,
    });
    why.map(|why| format!(" If it is to stay: {why}.")).unwrap_or_default()
}

/// Scores that end inside a panel: it hangs together round their end, so nothing folds along them.
fn loose_ends(context: &Context<'_>) -> Vec<Finding> {
    let offers = Offers::tried(context);
    let ends = loose(context).into_iter();
    ends.filter_map(|(line, panel)| {
        Some(Finding { fixes: offers.of(|| lengthened(context, line)), ..loose_end(context, line, panel)? })
    })
    .collect()
}

/// The scores that end inside a panel of the folio, each with that.
fn loose(context: &Context<'_>) -> BTreeMap<LineId, PanelId> {
    let layout = context.layout;
    let folio = layout.folio().map(|piece| piece.id);
    let mut loose: BTreeMap<LineId, PanelId> = BTreeMap::new();
    for stretch in &layout.stretches {
        if let (Some(Work::Score(_)), [Some(a), Some(b)]) = (stretch.work, stretch.sides)
            && a == b
            && Some(layout.panel(a).piece) == folio
            && let Some(&line) = stretch.lines.first()
            && layout.folio_folds(line).next().is_none()
        {
            loose.entry(line).or_insert(a);
        }
    }
    loose
}

/// Lengthens a score to the edge of the sheet, where it folds then and nothing else stands in the way.
fn lengthened(context: &Context<'_>, id: LineId) -> Option<Fix> {
    let line = context.document.line(id).filter(|line| !line.locked)?;
    let run = line.place.run();
    let longer = [Run { to: Stop::Edge, ..run }, Run { from: Stop::Edge, ..run }, Run::FULL];
    longer.into_iter().filter(|longer| *longer != run).find_map(|longer| {
        let edit = Edit::ReplaceLine(Line { place: line.place.with_run(longer), ..line.clone() });
        let tried = context.tried(&edit)?;
        let is_mended = loose(&tried.context()).len() < loose(context).len();
        is_mended
            .then(|| Fix::new(format!("Lengthen {} to the edge of the sheet", context.document.line_name(id)), edit))
    })
}

fn loose_end(context: &Context<'_>, line: LineId, id: PanelId) -> Option<Finding> {
    let Segment { a, b } = context.layout.lines.get(&line)?.ok()?.segment;
    let panel = context.layout.panel(id);
    let inside = |end: &Point| locate(*end, &panel.outline, &panel.holes) == Inside::Yes;
    let at = [a, b].into_iter().find(inside).unwrap_or(a);
    let words = format!(
        "{} cannot fold: it ends inside {}, {}, and the paper hangs together round that end.",
        context.line(line),
        context.the(id),
        context.place(at)
    );
    Some(Finding {
        rule: RULE.name,
        severity: Severity::Error,
        sentence: sentence(&words),
        mend: "Cut from that end to the nearest cut or edge, or lengthen the score until it meets one.".to_owned(),
        spot: Spot { panels: vec![id], lines: vec![line], at: Some(at), step: context.document.step_of(line) },
        fixes: Vec::new(),
    })
}

#[cfg(test)]
mod tests {
    use crate::testing::common::{Sketch, four_flaps, length};
    use crate::testing::{findings, mended, mends, said};
    use model::{Crease, Datum, Line, LineId, Place, Run, Stop, Turn, Work};

    #[test]
    fn a_corner_that_was_not_cut_away_is_named_with_its_neighbours() {
        let mut document = four_flaps();
        assert_eq!(said(&document, "still-joined"), [""; 0]);
        // The two cuts round the upper left corner are forgotten.
        document.lines.retain(|line| line.id != LineId(11) && line.id != LineId(16));
        let said = said(&document, "still-joined");
        assert_eq!(said.len(), 1, "{said:?}");
        assert!(said[0].contains("left flap") && said[0].contains("top flap"), "{said:?}");
        assert!(said[0].contains("3 in from the left and 3 in from the top of the sheet"), "{said:?}");
        let [(label, mended)] = mended(&document, "still-joined").try_into().unwrap();
        assert_eq!(label, "Cut the top flap 2 away");
        assert_eq!(model::Layout::of(&mended).pieces.len(), 5, "the base with its flaps, and four corners");
        let finding = findings(&document).into_iter().find(|finding| finding.rule == "still-joined");
        assert_eq!(finding.as_ref().map(|finding| finding.spot.panels.len()), Some(3));
        // All four flaps fold the same way; kept paper would need one of the four folds the other way.
        let why =
            "If it is to stay: no mountains and 4 valleys meet; a flat fold needs two more of one than of the other.";
        assert!(finding.is_some_and(|finding| finding.mend.ends_with(why)));
    }

    #[test]
    fn a_score_that_ends_inside_a_panel_is_told() {
        let run = Run { from: Stop::Edge, to: Stop::At(length("4")) };
        let place = Place::Measured { turn: Turn::None, from: Datum::Edge, distance: length("3"), run };
        let short = Sketch::on("12x12in").line(1, place, Work::Score(Crease::VALLEY)).0;
        let says = "\"Score 1\" cannot fold: it ends inside the base, 3 in from the left and 4 in from the top of the \
                    sheet, and the paper hangs together round that end.";
        assert_eq!(said(&short, "still-joined"), [says]);
        assert_eq!(mends(&short, "still-joined"), ["Lengthen Score 1 to the edge of the sheet"]);
        // There it would meet another score, round whose crossing nothing is cut.
        let mut crossing = short.clone();
        let other = Sketch::on("12x12in").score(2, Turn::Once, "8").0;
        crossing.lines.extend(other.lines);
        crossing.steps.extend(other.steps);
        assert_eq!(mends(&crossing, "still-joined"), [""; 0], "how it should fold is for the maker to say");
        // With a cut from there to the edge it folds.
        let run = Run { from: Stop::Line(LineId(1)), to: Stop::Edge };
        let place = Place::Measured { turn: Turn::Once, from: Datum::Edge, distance: length("4"), run };
        let mut freed = short;
        freed.lines.push(Line::new(LineId(2), place, Work::Cut));
        assert_eq!(said(&freed, "still-joined"), [""; 0]);
    }
}
