//! Where a pile of many layers passes through itself it is said which panels do: with the folds that hold them so, up to a
//! depth, and without them beyond, where finding them would take minutes.

use fold::Trouble;
use foliowright_tests::large::concertina;
use model::change::move_line;
use model::{Edit, Layout, Length, PanelId};
use session::{Derived, Session};

/// What crosses in a concertina of so many panels with one score in the middle 3 mm too far to the right: panel, line by line.
fn crossings(panels: usize) -> Vec<(Vec<PanelId>, usize)> {
    let mut document = concertina(panels, false);
    document.parts.clear();
    let id = document.lines[panels / 2].id;
    let layout = Layout::of(&document);
    let (_, across) = layout.lines[&id].unwrap().on_board().unwrap();
    let edit: Edit = move_line(&document, &layout, id, across + Length::MILLIMETRE * 3).unwrap();
    let mut session = Session::new(document);
    session.apply("Move a line", edit).unwrap();
    let derived: &Derived = session.derived();
    let (_, folding) = derived.folded.as_ref().unwrap();
    let told = folding.troubles().iter().filter_map(|trouble| match trouble {
        Trouble::Crosses { after: None, panels, lines, .. } => Some((panels.clone(), lines.len())),
        _ => None,
    });
    told.collect()
}

#[test]
fn what_crosses_is_told_at_any_depth() {
    for (panels, is_explained) in [(20, true), (60, true), (160, false)] {
        let told = crossings(panels);
        assert!((1..=12).contains(&told.len()), "{panels}: {}", told.len());
        // A fold that is too far out strikes what lies between the folds beside it, so the two panels that meet in it, or those
        // next to them, are in all that is told.
        let middle = panels / 2;
        for (crossing, lines) in told {
            let near = crossing.iter().filter(|panel| panel.0.abs_diff(middle) <= 3).count();
            assert!(near > 0, "{panels}: {crossing:?}");
            assert_eq!(lines > 0, is_explained, "{panels}: {crossing:?}");
        }
    }
}
