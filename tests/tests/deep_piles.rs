//! Where a pile of many layers passes through itself it is said which panels do: with the folds that hold them so, up to a
//! depth, and without them beyond, where finding them would take minutes.

use fold::Trouble;
use foliowright_tests::large::Sort;
use model::change::move_line;
use model::{Layout, Length};
use session::Session;

/// The panels of a crossing, and how many lines are told of it.
type Crossing = (Vec<usize>, usize);

/// Of a concertina with pages, one score in the middle of which is 3 mm too far to the right: the panels on either side of it, and
/// what crosses in the closed folio.
fn crossings(panels: usize) -> Option<([usize; 2], Vec<Crossing>)> {
    let document = Sort::Pages.folio(panels);
    let scores = document.lines.len();
    // The scores are numbered from 1, from left to right, as the panels are from 0.
    let id = document.lines[scores / 2].id;
    let layout = Layout::of(&document);
    let (_, across) = layout.lines.get(&id)?.ok()?.on_board()?;
    let edit = move_line(&document, &layout, id, across + Length::MILLIMETRE * 3)?;
    let mut session = Session::new(document);
    session.apply("Move a line", edit).ok()?;
    let (_, folding) = session.derived().folded.as_ref()?;
    let told = folding.troubles().iter().filter_map(|trouble| match trouble {
        Trouble::Crosses { after: None, panels, lines, .. } => {
            Some((panels.iter().map(|panel| panel.0).collect(), lines.len()))
        }
        _ => None,
    });
    Some(([scores / 2, scores / 2 + 1], told.collect()))
}

#[test]
fn what_crosses_is_told_at_any_depth() {
    for (panels, is_explained) in [(30, true), (100, true), (250, false)] {
        let (beside, told) = crossings(panels).expect("it may lie there");
        assert!((1..=12).contains(&told.len()), "{panels}: {}", told.len());
        for (crossing, lines) in told {
            assert!(beside.iter().any(|panel| crossing.contains(panel)), "{panels}: {crossing:?} beside {beside:?}");
            assert_eq!(lines > 0, is_explained, "{panels}: {crossing:?}");
        }
    }
}
