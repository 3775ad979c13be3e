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
            flap beside another needs the corner between them cut. Where gussets cross, that corner is more than one panel, and \
            comes off whole: what is left of it would hang on one flap. Where that would only bring to light that a gusset \
            is folded flat, or that a flap comes too late, this is mended with it.",
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
            _ => along(context, *step, panels),
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
        Some(corner) => format!("Cut {} away.", corner.words(context)),
        None => format!("Cut {} away along its two scores, or cut it free along one of them.", context.the(panel)),
    }
}

/// Cuts a corner away: all of it that hangs together, since what is left of it would hang on one flap. Where that brings to
/// light that gussets beside it can't lie flat, they are made to stand too. Where neither leaves less in the way, the panel
/// comes off alone, or the step that it held comes first. One of a part is left to the maker.
fn without(context: &Context<'_>, step: usize, panel: PanelId) -> Option<Fix> {
    let corner = context.corner(panel)?;
    let cut = corner.cut(context);
    if context.trials().is_none() {
        return cut;
    }
    let fewest = |fixes: Vec<Fix>| context.closer(fixes).min_by_key(|(left, _)| *left).map(|(_, fix)| fix);
    let whole = || cut.iter().cloned().chain(corner.cut_and_squared(context)).collect();
    let alone = || Corner::single(panel).cut(context).filter(|_| !corner.is_single()).into_iter().collect();
    let first = || corner.cut_and_first(context, step).into_iter().collect();
    let best = fewest(whole()).or_else(|| fewest(alone())).or_else(|| fewest(first()));
    // As much may come to light as the corner of one panel hid.
    let as_good = || cut.clone().filter(|cut| corner.is_single() && context.tried(&cut.edit).is_some());
    best.or_else(as_good)
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
    use crate::testing::common::{Sketch, at, four_flaps, length};
    use crate::testing::part::{mat, part};
    use crate::testing::{GUSSETS, crossed, errors, findings, mended, mends, said, without_corner};
    use model::change::perform;
    use model::{
        Crease, Datum, Direction, Document, FoldAngle, Layout, Length, Line, LineId, PanelRef, Place, Run, Spot, Step,
        Stop, Turn, Work,
    };

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

    /// Makes the first mend of the first finding of all that has one, again and again: each leaves fewer errors, and the last
    /// none. Gives what they are called and the design then.
    #[track_caller]
    fn mended_wholly(document: &Document) -> (Vec<String>, Document) {
        let (mut now, mut labels) = (document.clone(), Vec::new());
        while errors(&now) > 0 {
            let fix = findings(&now).into_iter().find_map(|finding| finding.fixes.into_iter().next());
            let fix = fix.unwrap_or_else(|| panic!("after {labels:#?} nothing mends {:#?}", findings(&now)));
            let after = perform(&now, &Layout::of(&now), fix.edit).unwrap().document;
            assert!(errors(&after) < errors(&now), "{labels:#?}, {}: {:#?}", fix.label, findings(&after));
            labels.push(fix.label);
            now = after;
        }
        (labels, now)
    }

    #[test]
    fn where_gussets_cross_each_corner_comes_off_whole() {
        let (labels, closed) = mended_wholly(&crossed(&GUSSETS, &GUSSETS, FoldAngle::Square));
        let corner = |one, other| format!("Cut the whole corner between the {one} gusset and the {other} gusset away");
        let expected = [("top", "left"), ("top", "right"), ("left", "bottom"), ("right", "bottom")];
        assert_eq!(labels, expected.map(|(one, other)| corner(one, other)));
        let layout = Layout::of(&closed);
        assert_eq!(layout.pieces.len(), 5, "the folio, and each corner in one");
        assert_eq!(layout.folio().map(|folio| folio.panels.len()), Some(9), "the base with four gussets and flaps");
        assert_eq!(closed.lines.len(), 8 + 8, "one cut on each side of each corner");
    }

    #[test]
    fn it_does_not_matter_how_many_corners_are_off_already_nor_on_how_many_sides_there_are_gussets() {
        let near = ["1", "3 1/8"].map(|x| ["1", "3 1/8"].map(|y| at(x, y))).concat();
        let far = ["8 7/8", "10"].map(|x| ["8 7/8", "10"].map(|y| at(x, y))).concat();
        for angle in [FoldAngle::Square, FoldAngle::Flat] {
            let one = without_corner(&crossed(&GUSSETS, &GUSSETS, angle), &near);
            let two = without_corner(&one, &far);
            for document in [one, two, crossed(&GUSSETS[..2], &GUSSETS[..2], angle)] {
                let (labels, closed) = mended_wholly(&document);
                let layout = Layout::of(&closed);
                let folio = layout.folio().unwrap();
                let folds = layout.folds.iter().filter(|fold| layout.panel(fold.panels[0]).piece == folio.id).count();
                assert_eq!(folds + 1, folio.panels.len(), "no corner is left that two sides share: {labels:?}");
            }
        }
    }

    #[test]
    fn gussets_that_are_folded_flat_are_made_to_stand_as_their_corner_comes_off() {
        let flat = crossed(&GUSSETS, &GUSSETS, FoldAngle::Flat);
        let label = "Cut the whole corner between the top gusset and the left gusset away and fold both sides of the top \
                     gusset, the left gusset, the right gusset and 1 more by 90°";
        assert_eq!(mends(&flat, "still-joined"), [label]);
        let (labels, closed) = mended_wholly(&flat);
        assert_eq!(labels.len(), 4, "{labels:?}");
        let lines: Vec<usize> = closed.steps.iter().map(|step| step.lines.len()).collect();
        assert_eq!(lines, [2; 4], "both sides of each in one step");
    }

    #[test]
    fn flaps_without_a_gusset_come_first_where_they_would_not_reach_the_base_later() {
        let mut gussets = crossed(&GUSSETS, &["3", "9"], FoldAngle::Square);
        for line in &mut gussets.lines[4..] {
            line.work = Work::Score(Crease::VALLEY);
        }
        let (labels, _) = mended_wholly(&gussets);
        let cut = |side, gusset| format!("Cut the whole corner between the {side} flap and the {gusset} gusset away");
        assert_eq!(labels[0], cut("top", "left"));
        assert_eq!(labels[1], format!("{} and fold step 5 before step 1", cut("top", "right")));
        assert_eq!(labels.len(), 4, "{labels:?}");
    }

    #[test]
    fn a_folio_of_many_panels_is_offered_the_whole_corner_untried() {
        let many = ["1", "2", "3", "4", "8", "9", "10", "11"];
        let finding =
            findings(&crossed(&many, &many, FoldAngle::Flat)).into_iter().find(|one| one.rule == "still-joined");
        let labels: Vec<String> = finding.unwrap().fixes.into_iter().map(|fix| fix.label).collect();
        assert_eq!(labels, ["Cut the whole corner between the top gusset and the left gusset away"]);
    }

    #[test]
    fn a_corner_with_a_fold_across_it_comes_off_whole() {
        let mut web = crossed(&["3"], &["3"], FoldAngle::Flat);
        let [from, to] = [at("0", "0"), at("3", "3")].map(Spot::At);
        let mountain = Crease { direction: Direction::Mountain, ..Crease::VALLEY };
        web.lines.push(Line::new(LineId(3), Place::Drawn { from, to, bow: Length::ZERO }, Work::Score(mountain)));
        web.steps.push(Step::of(vec![LineId(3)]));
        assert_eq!(mends(&web, "still-joined"), ["Cut the whole corner between the top flap and the left flap away"]);
    }

    #[test]
    fn a_corner_that_carries_a_part_is_left_to_the_maker() {
        let mut document = crossed(&["3", "9"], &["3"], FoldAngle::Flat);
        assert_eq!(mends(&document, "still-joined"), ["Cut the top flap 2 away"]);
        document.parts.push(part(1, mat("2", "2"), PanelRef::Sheet(at("1", "1"))));
        let finding = findings(&document).into_iter().find(|finding| finding.rule == "still-joined").unwrap();
        assert!(finding.mend.starts_with("Cut the top flap 2 away along its two scores"), "{}", finding.mend);
        assert_eq!(finding.fixes, []);
        // The other corner has none on it.
        let others = findings(&document).into_iter().filter(|finding| finding.rule == "still-joined").skip(1);
        assert_eq!(others.map(|finding| finding.fixes.len()).collect::<Vec<_>>(), [1]);
    }

    #[test]
    fn a_corner_ends_where_something_lies_straight_out_from_the_base() {
        // The left flap has a lip, and the top flap is folded in two: none of that is the corner's.
        let lips = crossed(&["1", "3"], &["1/2", "1 3/4", "3"], FoldAngle::Flat);
        let corner = "Cut the whole corner between the top flap and the left flap away";
        let finding = findings(&lips).into_iter().find(|finding| finding.rule == "still-joined").unwrap();
        assert!(finding.mend.starts_with(&format!("{corner}.")), "{}", finding.mend);
        let fix = finding.fixes.into_iter().find(|fix| fix.label == corner).unwrap();
        let after = Layout::of(&perform(&lips, &Layout::of(&lips), fix.edit).unwrap().document);
        assert_eq!(after.pieces.iter().map(|piece| piece.panels.len()).collect::<Vec<_>>(), [6, 6]);
    }
}
