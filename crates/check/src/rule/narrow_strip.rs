//! A flap, a strip or a line of glue is too narrow to take hold of, to fold or to glue.

use super::Rule;
use crate::measure::{Paper, both, depth, narrowest};
use crate::words::sentence;
use crate::{Context, Finding, Severity, Spot};
use model::part::GlueArea;
use model::part::usual::measure::GLUE_STRIP;
use model::{Fold, Length, LineId, Panel, PanelId, PartKind, Unit};
use std::collections::BTreeSet;

pub(super) const RULE: Rule = Rule {
    name: "narrow-strip",
    severities: &[Severity::Warning],
    about: "A flap, a strip or a line of glue is too narrow to take hold of, to fold or to glue.\n\n\
            What ends in the air has to be gripped to be folded, and glue or tape needs some width to hold: 3 mm is \
            taken as the least for both, as wide as the narrowest double-sided tape is sold (from memory); makers use \
            1/4 in and more (common practice, no source). A strip between two scores is not gripped but carried round \
            by what hangs on it; how close its scores may be is told by `close-scores`.",
    example: "The left flap is 3/32 in (about 2.38 mm) wide, too narrow to take hold of or to glue.",
    check,
};

/// 3 mm.
const NARROW: Length = Length::from_mm_exact(3, 0);

fn check(context: &Context<'_>) -> Vec<Finding> {
    let papers = context.papers();
    let papers = papers.iter().filter(|paper| !matches!(paper.part, Some((part, _)) if is_bought(&part.kind)));
    papers.flat_map(|paper| strips(context, paper).into_iter().chain(glue(context, paper))).collect()
}

/// Magnets and such are as small as they are sold.
const fn is_bought(kind: &PartKind) -> bool {
    matches!(kind, PartKind::Closure(_))
}

/// Panels of a paper that end in the air and are too narrow.
fn strips(context: &Context<'_>, paper: &Paper<'_>) -> Vec<Finding> {
    let beside = paper.beside();
    let narrow = paper.panels.iter().filter_map(|panel| {
        let folds = beside.get(&panel.id).map_or(&[][..], |folds| folds);
        let (wide, line) = reach(panel, folds)?;
        (wide < NARROW.mm()).then(|| strip(context, panel.id, wide, line))
    });
    narrow.collect()
}

/// How far a panel reaches from the line that it hangs by, in mm, and that line; for one without a fold, how wide it is.
/// `None` for what hangs by several.
fn reach(panel: &Panel, folds: &[&Fold]) -> Option<(f64, Option<LineId>)> {
    let Some(&first) = folds.first() else { return Some((narrowest(&panel.outline), None)) };
    let hangs_by_one = folds.iter().all(|fold| fold.line == first.line);
    let segment = *first.stretches.first()?;
    hangs_by_one.then(|| (depth(segment, &panel.outline), Some(first.line)))
}

fn strip(context: &Context<'_>, panel: PanelId, wide: f64, line: Option<LineId>) -> Finding {
    let unit = context.document.units;
    let words = format!("{} is {} wide, too narrow to take hold of or to glue.", context.the(panel), both(wide, unit));
    let least = NARROW.readable(Unit::Millimetre);
    Finding {
        rule: RULE.name,
        severity: Severity::Warning,
        sentence: sentence(&words),
        mend: format!("Make it {least} wide or more, or cut it off."),
        spot: Spot { panels: vec![panel], lines: line.into_iter().collect(), ..Spot::default() },
        fixes: Vec::new(),
    }
}

/// Lines of glue of a part that are too narrow, those of one width told once.
fn glue(context: &Context<'_>, paper: &Paper<'_>) -> Vec<Finding> {
    let Some((part, laid)) = paper.part else { return Vec::new() };
    let unit = context.document.units;
    let areas = laid.pattern.glue.iter().map(|glue| glue.area).chain(part.also.iter().map(|glue| glue.area));
    let width = |area: GlueArea| match area {
        GlueArea::Strips(_, width) if width > Length::ZERO && width < NARROW => Some(width),
        _ => None,
    };
    let narrow: BTreeSet<Length> = areas.filter_map(width).collect();
    let least = NARROW.readable(Unit::Millimetre);
    let finding = |width: Length| Finding {
        rule: RULE.name,
        severity: Severity::Warning,
        sentence: format!("The glue of \"{}\" is {} wide, too narrow to hold.", laid.name, both(width.mm(), unit)),
        mend: format!("Glue it {least} wide or more; {} is usual.", GLUE_STRIP.of(unit).text(unit)),
        spot: Spot { panels: vec![laid.main], ..Spot::default() },
        fixes: Vec::new(),
    };
    narrow.into_iter().map(finding).collect()
}

#[cfg(test)]
mod tests {
    use crate::testing::common::{Sketch, four_flaps, length};
    use crate::testing::part::first;
    use crate::testing::{findings, said};
    use model::part::{Closure, ClosureKind, Edges, Mat, Part, Placement, Pocket, Source};
    use model::{Document, Length, LineId, PanelRef, PartId, PartKind, SheetEdge, Turn, Unit};

    fn with(kind: PartKind) -> Document {
        let mut document = Sketch::on("12x12in").base("6", "6").0;
        let place = Placement::centred(PanelRef::Sheet(document.base.unwrap()));
        let (name, source) = (String::new(), Source::FolioStock);
        document.parts.push(Part { id: PartId(1), name, kind, source, place, also: Vec::new() });
        document
    }

    #[test]
    fn a_flap_of_less_than_3_mm_is_told() {
        let flap = |at: &str| Sketch::on("12x12in").score(1, Turn::None, at).base("8", "6").0;
        // 3/32 in are 2.38 mm, 1/8 in are 3.175 mm.
        let says = "The left flap is 3/32 in (about 2.38 mm) wide, too narrow to take hold of or to glue.";
        assert_eq!(said(&flap("3/32"), "narrow-strip"), [says]);
        assert_eq!(findings(&flap("3/32"))[0].spot.lines, [LineId(1)]);
        assert_eq!(said(&flap("1/8"), "narrow-strip"), [""; 0]);
        assert_eq!(said(&four_flaps(), "narrow-strip"), [""; 0]);
    }

    #[test]
    fn a_strip_between_two_scores_and_what_is_cut_off_are_not_gripped() {
        let between = Sketch::on("12x12in").score(1, Turn::None, "3").score(2, Turn::None, "3 3/32").base("8", "6");
        assert_eq!(said(&between.0, "narrow-strip"), [""; 0]);
        let mut cut_off = Sketch::on("12x12in").score(1, Turn::None, "3/32").base("8", "6").0;
        cut_off.lines[0].work = model::Work::Cut;
        assert_eq!(said(&cut_off, "narrow-strip"), [""; 0]);
    }

    #[test]
    fn glue_of_less_than_3_mm_is_told() {
        let with_strip = |strip: &str| {
            let glued = Edges::of(&[SheetEdge::Left, SheetEdge::Right, SheetEdge::Bottom]);
            let (width, height, strip, none) = (length("5"), length("4"), length(strip), Length::ZERO);
            with(PartKind::Pocket(Pocket { width, height, glued, strip, rim: none, gusset: none }))
        };
        let pocket = |strip: &str| said(&with_strip(strip), "narrow-strip");
        assert_eq!(pocket("1/16"), ["The glue of \"Pocket 1\" is 1/16 in (about 1.59 mm) wide, too narrow to hold."]);
        assert_eq!(pocket("1/8"), [""; 0]);
        let mut narrow = with_strip("1/16");
        assert_eq!(first(&narrow, "narrow-strip").mend, "Glue it 3 mm wide or more; 1/4 in is usual.");
        narrow.units = Unit::Millimetre;
        assert_eq!(first(&narrow, "narrow-strip").mend, "Glue it 3 mm wide or more; 6 mm is usual.");
    }

    #[test]
    fn a_strip_of_a_mat_is_told_and_a_small_magnet_is_not() {
        let mat = |width: &str| PartKind::Mat(Mat { width: length(width), height: length("4") });
        let says = "\"Mat 1\" is 1/16 in (about 1.59 mm) wide, too narrow to take hold of or to glue.";
        assert_eq!(said(&with(mat("1/16")), "narrow-strip"), [says]);
        assert_eq!(said(&with(mat("1/4")), "narrow-strip"), [""; 0]);
        let (size, kind) = (length("1/16"), ClosureKind::Magnet);
        let magnet = PartKind::Closure(Closure { kind, width: size, height: size, thickness: size });
        assert_eq!(said(&with(magnet), "narrow-strip"), [""; 0]);
    }
}
