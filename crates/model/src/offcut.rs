//! Cutting a panel away from the folio in one go, and joining it again.

use crate::change::switch_stretch;
use crate::document::Document;
use crate::edit::{Edit, Refusal};
use crate::layout::{Layout, PanelId, Stretch};
use crate::resolve::Segment;
use std::collections::BTreeSet;

/// Cuts every fold between a panel and the folio. What hangs on the folio by that panel alone goes with it.
///
/// # Errors
/// The panel is the base, or no part of the folio.
pub fn cut_away(document: &Document, layout: &Layout, panel: PanelId) -> Result<Edit, Refusal> {
    cut_away_together(document, layout, &BTreeSet::from([panel]))
}

/// Cuts every fold between some panels and the rest of the folio; between one another they stay joined. What hangs on the
/// folio by them alone goes with them.
///
/// # Errors
/// One of them is the base, or no part of the folio.
pub fn cut_away_together(document: &Document, layout: &Layout, panels: &BTreeSet<PanelId>) -> Result<Edit, Refusal> {
    let refuse = |why: String| Err(Refusal::Misplaced(why));
    if layout.base.is_some_and(|base| panels.contains(&base)) {
        return refuse("the base stays; make another panel the base first".to_owned());
    }
    let folio = layout.folio().map(|piece| piece.id);
    if let Some(off) = panels.iter().map(|&id| layout.panel(id)).find(|panel| Some(panel.piece) != folio) {
        return refuse(format!("\"{}\" is cut away already", off.name));
    }
    let kept = hanging_without(layout, panels);
    let between = |stretch: &&Stretch| {
        stretch.work.is_some_and(|work| work.is_score()) && panels.iter().any(|&panel| parts(stretch, panel, &kept))
    };
    switch(document, layout, layout.stretches.iter().filter(between).collect())
}

/// Scores again where a panel was cut away from the folio: along its own edges, or those of the offcut that it is part of.
///
/// # Errors
/// The panel is part of the folio, or no cut along a line parts it from the folio.
pub fn keep(document: &Document, layout: &Layout, panel: PanelId) -> Result<Edit, Refusal> {
    let stretches = joints(document, layout, panel);
    if stretches.is_empty() {
        let name = &layout.panel(panel).name;
        let why = format!("no fold or straight cut lies between \"{name}\" and the folio, so it can't be joined to it");
        return Err(Refusal::Misplaced(why));
    }
    switch(document, layout, stretches)
}

/// Cuts every scored stretch that lies at one of `segments`, whichever lines they are of. What is cut already stays.
///
/// # Errors
/// None of them is scored, or one is part of a curve.
pub fn cut_along(document: &Document, layout: &Layout, segments: &BTreeSet<Segment>) -> Result<Edit, Refusal> {
    let scored =
        |stretch: &&Stretch| segments.contains(&stretch.segment) && stretch.work.is_some_and(|work| work.is_score());
    let stretches: Vec<&Stretch> = layout.stretches.iter().filter(scored).collect();
    if stretches.is_empty() {
        return Err(Refusal::Misplaced("there is no score along there that could be cut".to_owned()));
    }
    switch(document, layout, stretches)
}

/// Whether [`keep`] has something to do.
#[must_use]
pub fn may_keep(document: &Document, layout: &Layout, panel: PanelId) -> bool {
    !joints(document, layout, panel).is_empty()
}

/// Whether [`cut_away`] has something to do.
#[must_use]
pub fn may_cut_away(layout: &Layout, panel: PanelId) -> bool {
    let folio = layout.folio().map(|piece| piece.id);
    layout.base != Some(panel) && folio == Some(layout.panel(panel).piece)
}

/// Where a panel, or else the offcut that it is part of, is parted from the folio by a cut that can be switched. Where
/// scores lie under some of the cuts, those alone.
fn joints<'a>(document: &Document, layout: &'a Layout, panel: PanelId) -> Vec<&'a Stretch> {
    let Some(folio) = layout.folio() else { return Vec::new() };
    let piece = &layout.pieces[layout.panel(panel).piece.0];
    if piece.id == folio.id {
        return Vec::new();
    }
    let kept: BTreeSet<PanelId> = folio.panels.iter().copied().collect();
    let has = |stretch: &Stretch, score: bool| {
        stretch.lines.iter().filter_map(|&id| document.line(id)).any(|line| line.work.is_score() == score)
    };
    let of = |panels: &[PanelId]| -> Vec<&Stretch> {
        let cut = |stretch: &&Stretch| {
            let parted = panels.iter().any(|&panel| parts(stretch, panel, &kept));
            parted && switch_stretch(document, layout, stretch).is_ok()
        };
        let all: Vec<&Stretch> = layout.stretches.iter().filter(cut).collect();
        let scored: Vec<&Stretch> = all.iter().copied().filter(|stretch| has(stretch, true)).collect();
        if scored.is_empty() { all } else { scored }
    };
    let own = of(&[panel]);
    if own.is_empty() { of(&piece.panels) } else { own }
}

/// Whether a stretch lies between a panel and one of others.
fn parts(stretch: &Stretch, panel: PanelId, others: &BTreeSet<PanelId>) -> bool {
    match stretch.sides {
        [Some(a), Some(b)] => (a == panel && others.contains(&b)) || (b == panel && others.contains(&a)),
        _ => false,
    }
}

/// The panels that still hang on the base when some are not there.
fn hanging_without(layout: &Layout, gone: &BTreeSet<PanelId>) -> BTreeSet<PanelId> {
    let mut reached = BTreeSet::new();
    let mut open: Vec<PanelId> = layout.base.into_iter().collect();
    while let Some(at) = open.pop() {
        if !gone.contains(&at) && reached.insert(at) {
            open.extend(layout.folds.iter().filter_map(|fold| fold.across_from(at)));
        }
    }
    reached
}

/// Switches stretches one after another, each that goes on from the one before together with it.
fn switch(document: &Document, layout: &Layout, stretches: Vec<&Stretch>) -> Result<Edit, Refusal> {
    let mut runs: Vec<Vec<&Stretch>> = Vec::new();
    for stretch in stretches {
        let goes_on = |run: &&mut Vec<&Stretch>| {
            run.last().is_some_and(|last| {
                let (a, b) = (last.segment, stretch.segment);
                a.b == b.a && last.lines == stretch.lines && (a.b - a.a).cross(b.b - b.a) == 0
            })
        };
        match runs.iter_mut().find(goes_on) {
            Some(run) => run.push(stretch),
            None => runs.push(vec![stretch]),
        }
    }
    let mut now = document.clone();
    let mut layout = layout.clone();
    let mut edits = Vec::new();
    for run in runs {
        // Looked up again, since the lines that cover a stretch may be others by now.
        let found = |of: &&Stretch| layout.stretches.iter().find(|stretch| stretch.segment == of.segment);
        let (Some(first), Some(last)) = (run.first().and_then(found), run.last()) else { continue };
        let whole = Stretch { segment: Segment { a: first.segment.a, b: last.segment.b }, ..first.clone() };
        let edit = switch_stretch(&now, &layout, &whole)?;
        now.apply(edit.clone())?;
        layout = Layout::of(&now);
        edits.push(edit);
    }
    Ok(Edit::All(edits))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::change::{add_line, measured_score, perform};
    use crate::{Length, Line, LineId, Place, Point, Run, Size, Spot, Turn, Unit, Work};

    fn at(x: i64, y: i64) -> Point {
        Point::new(Length::INCH * x, Length::INCH * y)
    }

    /// A 12 in sheet with scores 3 and 9 in from the left and 3 in from the top: six panels, the base in the middle.
    fn document() -> Document {
        let mut document = Document::new(Size::parse("12x12in").unwrap(), Unit::Inch);
        for (id, turn, inches) in [(1, Turn::None, 3), (2, Turn::None, 9), (3, Turn::Once, 3)] {
            document.apply(add_line(&document, measured_score(LineId(id), turn, Length::INCH * inches))).unwrap();
        }
        document
    }

    fn done(document: &Document, edit: Edit) -> (Document, Layout) {
        let performed = perform(document, &Layout::of(document), edit).unwrap();
        (performed.document, performed.layout)
    }

    fn cut(document: &Document, x: i64, y: i64) -> (Document, Layout) {
        let layout = Layout::of(document);
        let panel = layout.panel_at(at(x, y)).unwrap();
        done(document, cut_away(document, &layout, panel).unwrap())
    }

    #[test]
    fn a_corner_comes_off_in_one_go_and_is_joined_again() {
        let document = document();
        let (after, layout) = cut(&document, 1, 1);
        assert_eq!((layout.pieces.len(), after.lines.len()), (2, 5), "one cut along each of its folds");
        let offcut = layout.panel_at(at(1, 1)).unwrap();
        assert!(!layout.pieces[layout.panel(offcut).piece.0].is_folio);
        assert!(may_keep(&after, &layout, offcut) && !may_cut_away(&layout, offcut));
        let (back, _) = done(&after, keep(&after, &layout, offcut).unwrap());
        assert_eq!(back, document);
    }

    #[test]
    fn panels_come_off_together_and_stay_joined() {
        let mut document = document();
        document.apply(add_line(&document, measured_score(LineId(4), Turn::None, Length::INCH))).unwrap();
        let layout = Layout::of(&document);
        let spots = [Point::new(Length::INCH.half(), Length::INCH), at(2, 1)];
        let corner: BTreeSet<PanelId> = spots.into_iter().filter_map(|spot| layout.panel_at(spot)).collect();
        let (after, cut) = done(&document, cut_away_together(&document, &layout, &corner).unwrap());
        let pieces: BTreeSet<_> = spots.iter().map(|&spot| cut.panel(cut.panel_at(spot).unwrap()).piece).collect();
        assert_eq!((corner.len(), pieces.len()), (2, 1));
        assert_eq!(
            (cut.pieces.len(), after.lines.len()),
            (2, 6),
            "one cut on each side, however many panels it goes along"
        );
    }

    #[test]
    fn stretches_of_several_lines_are_cut_at_once_and_cuts_stay() {
        let document = document();
        let layout = Layout::of(&document);
        // Down the left fold from the top, and along the top fold to the right.
        let of = |line: u32, from: Point| {
            let is_it = |stretch: &&Stretch| {
                stretch.lines == [LineId(line)] && [stretch.segment.a, stretch.segment.b].contains(&from)
            };
            layout.stretches.iter().find(is_it).unwrap().segment
        };
        let all = BTreeSet::from([of(1, at(3, 0)), of(3, at(0, 3))]);
        let (after, cut) = done(&document, cut_along(&document, &layout, &all).unwrap());
        assert_eq!((cut.pieces.len(), after.lines.len()), (2, 5), "the corner has come off");
        let again = cut_along(&after, &cut, &all).unwrap_err().to_string();
        assert!(again.contains("no score along there"), "{again}");
        let more = BTreeSet::from([of(1, at(3, 0)), of(2, at(9, 0))]);
        let (after, _) = done(&after, cut_along(&after, &cut, &more).unwrap());
        assert_eq!(after.lines.len(), 6, "one more, since the other is cut already");
    }

    #[test]
    fn what_hangs_on_a_panel_goes_with_it() {
        let mut document = document();
        // Without the fold between the corner and the side below it the corner hangs on the top flap alone.
        let layout = Layout::of(&document);
        let corner = layout.panel_at(at(1, 1)).unwrap();
        let below = |stretch: &&Stretch| stretch.lines == [LineId(3)] && stretch.sides.contains(&Some(corner));
        let fold = layout.stretches.iter().find(below).unwrap();
        document.apply(switch_stretch(&document, &layout, fold).unwrap()).unwrap();
        let (_, layout) = cut(&document, 6, 1);
        let piece = |x, y| layout.panel(layout.panel_at(at(x, y)).unwrap()).piece;
        assert_eq!(piece(1, 1), piece(6, 1));
        assert_ne!(piece(6, 1), piece(6, 6));
        assert_eq!(piece(10, 1), piece(6, 6), "the other corner hangs on the right flap too");
    }

    #[test]
    fn a_fold_in_two_stretches_is_cut_once() {
        let mut document = document();
        // A guide parts nothing, but a short score that ends at the left fold parts its stretch in two.
        let spots = [at(1, 6), at(3, 6)].map(Spot::At);
        let place = Place::Drawn { from: spots[0], to: spots[1], bow: Length::ZERO };
        document.apply(add_line(&document, Line::new(LineId(7), place, Work::Cut))).unwrap();
        let (after, layout) = cut(&document, 1, 9);
        assert_eq!(layout.pieces.len(), 2);
        let cuts = after.lines.iter().filter(|line| matches!(line.place, Place::Along { .. }));
        assert_eq!(cuts.count(), 2, "one along the left fold, one along the top fold");
    }

    #[test]
    fn the_base_stays_and_an_offcut_is_no_offcut_twice() {
        let document = document();
        let layout = Layout::of(&document);
        let said = |panel| cut_away(&document, &layout, panel).unwrap_err().to_string();
        assert!(said(layout.base.unwrap()).contains("the base stays"));
        assert!(keep(&document, &layout, layout.panel_at(at(1, 1)).unwrap()).is_err(), "it is no offcut");
        let (after, layout) = cut(&document, 1, 1);
        let offcut = layout.panel_at(at(1, 1)).unwrap();
        assert!(cut_away(&after, &layout, offcut).unwrap_err().to_string().contains("already"));
    }

    #[test]
    fn a_plain_cut_becomes_a_score_when_what_it_parts_is_kept() {
        let mut document = Document::new(Size::parse("12x12in").unwrap(), Unit::Inch);
        let line = measured_score(LineId(1), Turn::None, Length::INCH * 3);
        document.apply(add_line(&document, Line { work: Work::Cut, ..line })).unwrap();
        let layout = Layout::of(&document);
        let offcut = layout.panel_at(at(1, 1)).unwrap();
        let (after, layout) = done(&document, keep(&document, &layout, offcut).unwrap());
        assert_eq!((layout.pieces.len(), after.lines.len()), (1, 1));
        assert!(after.lines[0].work.is_score() && after.steps.len() == 1);
        assert_eq!(after.lines[0].place.run(), Run::FULL);
    }
}
