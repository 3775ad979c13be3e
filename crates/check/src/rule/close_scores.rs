//! Two scores beside one another lie closer together than the paper between them can be pressed and folded.

use super::Rule;
use crate::fix::Offers;
use crate::measure::{Paper, at_least, both};
use crate::{Context, Finding, Fix, Severity, Spot};
use fold::to_world;
use glam::DVec2;
use model::resolve::resolve;
use model::{Fold, Length, LineId, PanelId, Placed, Point, Segment, Unit};
use std::collections::BTreeMap;

pub(super) const RULE: Rule = Rule {
    name: "close-scores",
    severities: &[Severity::Warning, Severity::Note],
    about: "Two scores beside one another lie closer together than the paper between them can be pressed and folded.\n\n\
            A score is pressed into a channel, and its bead is as wide. Nearer than one channel the beads run into \
            one, and the strip between turns into a roll that folds where it likes, or cracks: a warning. Creases \
            should be two or three channels apart (a heuristic of ours; two is taken), so that as much paper is left \
            between them as each takes: below, a note. A channel is 1.5 calipers and the width of the rule (a maker \
            of creasing matrix), and the rule is taken as 0.71 mm, the usual one of 2 points: for paper of 0.3 mm, \
            1.2 and 2.3 mm.\n\n\
            Scores that meet, or run across one another, are no matter: only what runs alongside.",
    example: "\"Score 1\" and \"Score 2\" lie 1/32 in (about 0.79 mm) apart, too close for paper of 0.3 mm: below 1.16 mm their beads run into one.",
    check,
};

/// The width of a scoring rule of 2 points, in mm.
const BEAD_RULE: f64 = 0.71;

/// How many channels apart two scores should be.
const CHANNELS: f64 = 2.0;

/// Scores whose ways differ by less than this run alongside one another: the sine of 15° (our choice).
const ALONGSIDE: f64 = 0.26;

/// Scores nearer than this, in mm, meet: rounding, and less than any maker can press apart.
const MEETING: f64 = 1e-3;

/// Scores may be closer than they have to be by this, in mm: a hundredth, as calipers are told.
const HAIR: f64 = 0.01;

/// Two scores too close to one another.
struct Pair {
    lines: [LineId; 2],
    panel: PanelId,
    at: Point,
    apart: f64,
    channel: f64,
    caliper: Length,
}

fn check(context: &Context<'_>) -> Vec<Finding> {
    let close = context.papers().into_iter().flat_map(|paper| pairs(&paper));
    let offers = Offers::tried(context);
    let with_fixes = |pair: Pair| Finding { fixes: offers.of(|| fixes(context, &pair)), ..finding(context, &pair) };
    close.map(with_fixes).collect()
}

/// Every two lines of a paper that are too close somewhere, each two once: where they are closest.
fn pairs(paper: &Paper<'_>) -> Vec<Pair> {
    let Some(caliper) = paper.caliper else { return Vec::new() };
    let channel = fold::channel(BEAD_RULE, caliper.mm());
    let mut close: BTreeMap<[LineId; 2], Pair> = BTreeMap::new();
    for (panel, folds) in paper.beside() {
        let two = near(&folds, CHANNELS * channel).into_iter().map(|pair| pair.map(|i| folds[i]));
        for [first, second] in two.filter(|[first, second]| first.line != second.line) {
            let Some((apart, at)) = closest(first, second).filter(|(apart, _)| apart + HAIR < CHANNELS * channel)
            else {
                continue;
            };
            let lines = if first.line < second.line { [first.line, second.line] } else { [second.line, first.line] };
            let pair = Pair { lines, panel, at, apart, channel, caliper };
            match close.get(&lines) {
                Some(known) if known.apart <= apart => {}
                _ => drop(close.insert(lines, pair)),
            }
        }
    }
    close.into_values().collect()
}

/// The pairs of folds, by their places, the boxes round which are nearer than `reach`, in mm; ascending.
fn near(folds: &[&Fold], reach: f64) -> Vec<[usize; 2]> {
    let bounds: Vec<(DVec2, DVec2)> = folds.iter().map(|fold| bounds(fold)).collect();
    let mut order: Vec<usize> = (0..folds.len()).collect();
    order.sort_by(|&a, &b| bounds[a].0.x.total_cmp(&bounds[b].0.x));
    let mut out = Vec::new();
    for (at, &i) in order.iter().enumerate() {
        let to_the_right = order[at + 1..].iter().take_while(|&&k| bounds[k].0.x <= bounds[i].1.x + reach);
        let beside = |k: usize| bounds[k].0.y <= bounds[i].1.y + reach && bounds[i].0.y <= bounds[k].1.y + reach;
        out.extend(to_the_right.filter(|&&k| beside(k)).map(|&k| [i.min(k), i.max(k)]));
    }
    out.sort_unstable();
    out
}

/// The box round a fold, in mm.
fn bounds(fold: &Fold) -> (DVec2, DVec2) {
    let ends = fold.stretches.iter().flat_map(|stretch| [stretch.a, stretch.b]).map(to_world);
    ends.fold((DVec2::INFINITY, DVec2::NEG_INFINITY), |(low, high), end| (low.min(end), high.max(end)))
}

/// How far apart two folds are that run alongside, in mm, and where the first is closest.
fn closest(first: &Fold, second: &Fold) -> Option<(f64, Point)> {
    let pairs = first.stretches.iter().flat_map(|&a| second.stretches.iter().map(move |&b| (a, b)));
    let gaps = pairs.filter_map(|(a, b)| Some((gap(a, b)?, a.a)));
    gaps.min_by(|(a, _), (b, _)| a.total_cmp(b))
}

/// How far apart two stretches are where they run alongside, in mm; `None` where they do not, or meet.
fn gap(a: Segment, b: Segment) -> Option<f64> {
    let (from, to) = (to_world(a.a), to_world(a.b));
    let (at, end) = (to_world(b.a), to_world(b.b));
    let way = (to - from).normalize_or_zero();
    if way.perp_dot((end - at).normalize_or_zero()).abs() > ALONGSIDE {
        return None;
    }
    // Along the first and beside it, for both ends of the second.
    let seen = |point: DVec2| (way.dot(point - from), way.perp_dot(point - from));
    let (mut low, mut high) = (seen(at), seen(end));
    if low.0 > high.0 {
        (low, high) = (high, low);
    }
    let (start, stop) = (low.0.max(0.0), high.0.min(from.distance(to)));
    if stop - start < MEETING {
        return None;
    }
    let beside = |along: f64| low.1 + (high.1 - low.1) * (along - low.0) / (high.0 - low.0);
    let (near, far) = (beside(start), beside(stop));
    let apart = near.abs().min(far.abs());
    (near * far > 0.0 && apart > MEETING).then_some(apart)
}

fn finding(context: &Context<'_>, pair: &Pair) -> Finding {
    let unit = context.document.units;
    let [first, second] = pair.lines.map(|line| context.line(line));
    let on_board = on_board(context, pair);
    let far = at_least(CHANNELS * pair.channel);
    let apart = match on_board {
        Some(width) => format!("{} apart, the next groove of the board", width.readable(unit)),
        None => format!("{far} apart"),
    };
    let (severity, why) = if pair.apart < pair.channel {
        (Severity::Warning, format!("below {} their beads run into one", at_least(pair.channel)))
    } else {
        (Severity::Note, format!("{far} would leave a bead's width between them"))
    };
    Finding {
        rule: RULE.name,
        severity,
        sentence: format!(
            "{first} and {second} lie {} apart, too close for paper of {}: {why}.",
            both(pair.apart, unit),
            pair.caliper.readable(Unit::Millimetre),
        ),
        mend: format!("Move them {apart}, or press one wide score in place of the two."),
        spot: Spot { panels: vec![pair.panel], lines: pair.lines.to_vec(), at: Some(pair.at), step: None },
        fixes: Vec::new(),
    }
}

/// The least distance on the grooves of the board that suffices; `None` without a board.
fn on_board(context: &Context<'_>, pair: &Pair) -> Option<Length> {
    let board = context.allowance();
    Length::from_mm_rounded(board.next_groove(CHANNELS * pair.channel)?)
}

/// Moves of either line to a groove that is far enough away; none where both would move, or a line would lose its place.
fn fixes(context: &Context<'_>, pair: &Pair) -> Vec<Fix> {
    let [first, second] = pair.lines;
    let Some(width) = on_board(context, pair) else { return Vec::new() };
    [(second, first), (first, second)].into_iter().filter_map(|(line, from)| fix(context, line, from, width)).collect()
}

fn fix(context: &Context<'_>, line: LineId, from: LineId, width: Length) -> Option<Fix> {
    let (document, layout) = (context.document, context.layout);
    let (turn, now) = layout.lines.get(&line)?.ok()?.on_board()?;
    let across = |placed: Placed| {
        let (its, _) = placed.on_board()?;
        (its.is_upright() == turn.is_upright()).then(|| turn.to_board(placed.segment.a, layout.size).across)
    };
    let other = across(layout.lines.get(&from)?.ok()?)?;
    let to = if now > other { other + width } else { other - width };
    let fix = context.moved(line, to)?;
    let mut moved = document.clone();
    moved.apply(fix.edit.clone()).ok()?;
    let places = resolve(&moved);
    let keeps_its_place =
        |(id, was): (&LineId, &Result<Placed, _>)| was.is_err() || matches!(places.get(id), Some(Ok(_)));
    let of = |id: LineId| across(places.get(&id)?.ok()?);
    let apart = (of(line)? - of(from)?).abs();
    (apart == width && layout.lines.iter().all(keeps_its_place)).then_some(fix)
}

#[cfg(test)]
mod tests {
    use crate::Severity;
    use crate::testing::common::{Sketch, four_flaps, length};
    use crate::testing::part::first;
    use crate::testing::{findings, said};
    use model::part::{Edges, Part, Placement, Pocket, Source};
    use model::{Datum, Document, Length, LineId, PanelRef, PartId, PartKind, Place, Run, SheetEdge, Turn, Unit, Work};

    /// Two upright scores, the second measured from the first.
    fn apart(distance: &str) -> Document {
        let place = |from, distance| Place::Measured { turn: Turn::None, from, distance, run: Run::FULL };
        let score = Work::Score(model::Crease::VALLEY);
        Sketch::on("12x12in")
            .line(1, place(Datum::Edge, length("3")), score)
            .line(2, place(Datum::Line(LineId(1)), length(distance)), score)
            .base("8", "6")
            .0
    }

    #[track_caller]
    fn check(distance: &str, severity: Severity, says: &str) {
        let found = first(&apart(distance), "close-scores");
        assert_eq!((found.severity, found.sentence.as_str()), (severity, says));
    }

    #[test]
    fn scores_nearer_than_two_channels_are_told_and_nearer_than_one_warned_of() {
        // By hand: a channel for 0.3 mm is 1.5 · 0.3 + 0.71 = 1.16 mm, as in a table for a rule of 2 points.
        let says = "\"Score 1\" and \"Score 2\" lie 1/32 in (about 0.79 mm) apart, too close for paper of 0.3 mm: below \
                    1.16 mm their beads run into one.";
        check("1/32", Severity::Warning, says);
        let says = "\"Score 1\" and \"Score 2\" lie 1/16 in (about 1.59 mm) apart, too close for paper of 0.3 mm: \
                    2.32 mm would leave a bead's width between them.";
        check("1/16", Severity::Note, says);
        // 5/64 in are 1.98 mm, 3/32 in are 2.38 mm.
        assert_eq!(said(&apart("5/64"), "close-scores").len(), 1);
        assert_eq!(said(&apart("3/32"), "close-scores"), [""; 0]);
    }

    #[test]
    fn thinner_paper_takes_closer_scores_and_unknown_paper_is_not_judged() {
        let mut thin = apart("1/16");
        thin.stock.caliper = model::Caliper::Measured(Length::from_nm(50_000));
        assert_eq!(said(&thin, "close-scores"), [""; 0]);
        thin.stock.caliper = model::Caliper::Unknown;
        assert_eq!(said(&thin, "close-scores"), [""; 0]);
    }

    #[test]
    fn either_score_can_be_moved_to_a_groove() {
        let close = apart("1/16");
        let finding = findings(&close).into_iter().find(|finding| finding.rule == "close-scores").unwrap();
        assert!(finding.mend.starts_with("Move them 1/8 in apart, the next groove of the board,"), "{}", finding.mend);
        // The second is measured from the first, so moving the first moves both.
        let [fix] = finding.fixes.as_slice() else { panic!("{:?}", finding.fixes) };
        assert_eq!(fix.label, "Move Score 2 to 3 1/8 in");
        let mut mended = close.clone();
        mended.apply(fix.edit.clone()).unwrap();
        assert_eq!(said(&mended, "close-scores"), [""; 0]);
        let mut by_ruler = close;
        (by_ruler.groove, by_ruler.units) = (Length::ZERO, Unit::Millimetre);
        let finding = findings(&by_ruler).into_iter().find(|finding| finding.rule == "close-scores").unwrap();
        assert_eq!(finding.mend, "Move them 2.32 mm apart, or press one wide score in place of the two.");
        assert_eq!(finding.fixes, []);
    }

    #[test]
    fn scores_that_meet_or_cross_are_no_matter() {
        assert_eq!(said(&four_flaps(), "close-scores"), [""; 0]);
        let crossing = Sketch::on("12x12in").score(1, Turn::None, "3").score(2, Turn::Once, "3").base("8", "6").0;
        assert_eq!(said(&crossing, "close-scores"), [""; 0]);
    }

    #[test]
    fn a_pocket_opens_by_sides_that_can_be_folded() {
        let with_pocket = |gusset: &str| {
            let mut document = Sketch::on("12x12in").base("6", "6").0;
            let glued = Edges::of(&[SheetEdge::Left, SheetEdge::Right, SheetEdge::Bottom]);
            let (width, height, strip, gusset) = (length("5"), length("4"), length("1/4"), length(gusset));
            let kind = PartKind::Pocket(Pocket { width, height, glued, strip, rim: Length::ZERO, gusset });
            let place = Placement::centred(PanelRef::Sheet(document.base.unwrap()));
            let (name, source) = (String::new(), Source::FolioStock);
            document.parts.push(Part { id: PartId(1), name, kind, source, place, also: Vec::new() });
            said(&document, "close-scores")
        };
        let close = with_pocket("1/16");
        assert_eq!(close.len(), 3, "left, right and bottom: {close:?}");
        assert!(close.iter().all(|words| words.starts_with("\"Pocket 1, ")), "{close:?}");
        assert_eq!(with_pocket("1/4"), [""; 0]);
    }
}
