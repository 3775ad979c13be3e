//! Every starter design is one that a maker can begin with: it closes, it is read and saved without loss, and nothing
//! of its sheet goes missing.

use check::Severity;
use file::starters::{ALL, Starter};
use foliowright_tests::design;
use model::{Area, Document};
use session::Derived;

/// Runs a test on every starter.
#[track_caller]
fn each(test: fn(&Starter, &Document, &Derived)) {
    assert!(!ALL.is_empty());
    for starter in ALL {
        let (document, derived) = design(starter.text).unwrap_or_else(|error| panic!("{}: {error}", starter.name));
        test(starter, &document, &derived);
    }
}

#[test]
fn nothing_worse_than_a_note_is_said_of_a_starter() {
    each(|starter, _, derived| {
        let worse: Vec<_> = derived.findings.iter().filter(|finding| finding.severity > Severity::Note).collect();
        assert!(worse.is_empty(), "{}: {worse:?}", starter.name);
    });
}

#[test]
fn every_fold_of_a_starter_folds_and_nothing_stands_in_its_way() {
    each(|starter, document, derived| {
        let (assembly, folding) = derived.folded.as_ref().unwrap_or_else(|| panic!("{}: no base", starter.name));
        assert_eq!(folding.troubles(), [], "{}", starter.name);
        assert!(assembly.loose.is_empty(), "{}: {:?} fold in no step", starter.name, assembly.loose);
        assert_eq!(folding.steps(), document.steps.len());
        for step in 0..folding.steps() {
            assert!(folding.moves(step), "{}: step {step} moves nothing", starter.name);
        }
    });
}

#[test]
fn a_closed_starter_is_no_larger_than_its_base_and_the_paper_around_it() {
    each(|starter, _, derived| {
        let base = derived.layout.panel(derived.layout.base.expect("a starter has a base"));
        let (_, folding) = derived.folded.as_ref().expect("a starter folds");
        let (width, height) = base.extent();
        let size = folding.closed_size();
        // Nothing of a tidy folio reaches past its base by more than some layers of its paper.
        let room = 8.0 * derived.folded.as_ref().map_or(0.0, |(assembly, _)| assembly.caliper_of(assembly.base));
        assert!(size.x <= width.mm() + room && size.y <= height.mm() + room, "{}: {size}", starter.name);
    });
}

#[test]
fn a_starter_leaves_offcuts_to_make_parts_of_and_none_is_a_sliver() {
    // 10 mm is about the narrowest strip that is glued with ease (common practice, no source).
    const NARROW: f64 = 10.0;
    each(|starter, _, derived| {
        assert!(derived.layout.offcuts().count() >= 3, "{}", starter.name);
        for piece in derived.layout.offcuts() {
            let (low, high) = piece.bounds;
            let (width, height) = ((high.x - low.x).mm(), (high.y - low.y).mm());
            assert!(width.min(height) >= NARROW, "{}: {} is {width} x {height} mm", starter.name, piece.name);
        }
    });
}

#[test]
fn the_ledger_of_a_starter_adds_up_to_the_sheet() {
    each(|starter, document, derived| {
        let layout = &derived.layout;
        let size = document.stock.size;
        let sheet = i128::from(size.width().nm()) * i128::from(size.height().nm()) * 2;
        assert_eq!(layout.ledger.sheet.half_nm2(), sheet, "{}", starter.name);
        let ledger = layout.ledger;
        let all = ledger.folio + ledger.offcuts + ledger.slots + ledger.waste;
        assert_eq!(all.half_nm2(), sheet, "{}", starter.name);
        let taken: Area = layout.voids.iter().map(|void| void.area).sum();
        assert_eq!(
            (layout.panels.iter().map(|panel| panel.area).sum::<Area>() + taken).half_nm2(),
            sheet,
            "{}",
            starter.name
        );
        assert_eq!(
            (layout.pieces.iter().map(|piece| piece.area).sum::<Area>() + taken).half_nm2(),
            sheet,
            "{}",
            starter.name
        );
    });
}

#[test]
fn a_starter_is_saved_as_it_was_read() {
    each(|starter, document, _| assert_eq!(file::to_text(document), starter.text, "{}", starter.name));
}

#[test]
fn every_score_of_a_starter_lies_on_a_groove_of_its_board() {
    each(|starter, document, derived| {
        for line in document.lines.iter().filter(|line| line.work.is_score()) {
            let placed = derived.layout.lines[&line.id].unwrap_or_else(|fault| panic!("{}: {fault:?}", starter.name));
            let (_, across) = placed.on_board().unwrap_or_else(|| panic!("{}: {} is drawn", starter.name, line.name));
            assert!(across.is_multiple_of(document.groove), "{}: {}", starter.name, line.name);
        }
    });
}
