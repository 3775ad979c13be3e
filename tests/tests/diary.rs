//! The starter whose offcuts all come back as parts.

use allot::{OffcutPaper, Origin, Standing};
use file::starters::ALL;
use foliowright_tests::design;
use model::part::Job;
use model::{Area, Document, Edit, PartId, PartKind};
use session::Derived;

fn diary() -> (Document, Derived) {
    let starter = ALL.iter().find(|starter| starter.name == "season-diary").expect("there is such a starter");
    design(starter.text).expect("a starter can be read")
}

#[test]
fn five_offcuts_become_a_raised_pocket_a_page_a_slide_in_tuck_corners_a_mat_and_a_band() {
    let (document, derived) = diary();
    assert_eq!(derived.layout.offcuts().count(), 5);
    let words: Vec<&str> = document.parts.iter().map(|part| part.kind.word()).collect();
    let expected = ["Hinge", "Hinge", "Pocket", "Page", "Slide-in", "Tuck corner", "Tuck corner", "Mat", "Band"];
    assert_eq!(words, expected);
    // The pocket is carried by both hinges: glued to the first by its own glue, to the second by what is added.
    let pocket = &document.parts[2];
    assert_eq!(pocket.hosts().collect::<Vec<_>>(), [PartId(1), PartId(2)]);
    let (assembly, folding) = derived.folded.as_ref().expect("it folds");
    assert!(assembly.left_out.is_empty(), "{:?}", assembly.left_out);
    assert_eq!(folding.troubles(), []);
    assert_eq!(derived.findings, []);
}

#[test]
fn every_part_is_cut_from_an_offcut_and_nothing_larger_than_a_square_inch_is_left() {
    let (document, derived) = diary();
    let supply = derived.supply.as_ref().expect("it has parts");
    assert_eq!(supply.supplies.len(), document.parts.len());
    assert!(supply.supplies.iter().all(|supply| matches!(supply.from, Origin::Offcut { .. })));
    assert_eq!(supply.standing, Standing::Proved);
    let inch = 645.16;
    for offcut in &supply.offcuts {
        assert_eq!(offcut.paper, OffcutPaper::Exact, "{}", offcut.name);
        assert!(!offcut.parts.is_empty(), "{}", offcut.name);
        for left in &offcut.remainders {
            assert!(left.area().mm2() <= inch, "{}: {left:?}", offcut.name);
        }
        // Cut off within patterns: the triangles beside tuck corners, half a square of 1 3/8 in each.
        let triangles = offcut.ledger.cut_offs.mm2() / inch;
        assert!(triangles == 0.0 || (triangles - 1.375 * 1.375).abs() < 1e-9, "{triangles}");
    }
    // The folio is the sheet less the strip (1 by 12) and four corners of 2 3/4 by 3 5/8 in; parts by hand.
    let folio = 144.0 - 12.0 - 4.0 * 2.75 * 3.625;
    let hinges = 2.0 * 2.125 * 0.6875;
    let [pocket, page, slide_in] = [2.5 * 2.25, 2.5 * 3.625, 2.5 * 3.375];
    let parts = hinges + pocket + page + slide_in + 1.375 * 1.375 + 2.75 * 2.25 + 11.875;
    let expected = 100.0 * (folio + parts) / 144.0;
    let ledger = supply.ledger;
    assert!((ledger.use_per_cent() - expected).abs() < 1e-9, "{} {expected}", ledger.use_per_cent());
    assert!(expected > 95.0);
    let all = ledger.folio + ledger.parts + ledger.cut_offs + ledger.left + ledger.slots + ledger.waste;
    assert_eq!(all, ledger.sheet);
}

#[test]
fn its_parts_are_made_in_an_order_in_which_nothing_blocks_a_later_step() {
    let (document, derived) = diary();
    let making = derived.making(&document);
    assert!(making.circles.is_empty());
    assert_eq!(making.broken(&making.jobs), None);
    let at = |job: Job| making.jobs.iter().position(|&one| one == job).unwrap_or_else(|| panic!("{job:?} is no job"));
    let put = |id| at(Job::Put(PartId(id)));
    assert!(put(1) < put(3) && put(2) < put(3), "hinges before what they carry");
    assert!((1..=8).all(|id| put(id) < at(Job::Close)), "glued before it closes");
    assert!(put(9) > at(Job::Close), "the band slides on at last");
    let mut done = Vec::new();
    while done.len() < making.jobs.len() {
        let next = making.next(&done);
        done.push(*next.first().expect("there is always a next job"));
    }
}

#[test]
fn a_part_taken_off_gives_its_paper_back() {
    let (document, derived) = diary();
    let offcuts: Area = derived.layout.ledger.offcuts;
    let mut bare = document.clone();
    bare.apply(Edit::SetParts(vec![])).expect("parts can be taken off");
    assert_eq!(Derived::of(&bare).layout.ledger.offcuts, offcuts);
    let without = |id: u32| {
        let mut document = document.clone();
        document.apply(model::part::change::remove(&document, &[PartId(id)])).expect("a part can be taken off");
        let supply = Derived::of(&document).supply.expect("others are left");
        (document.parts.len(), supply.ledger.left + supply.ledger.cut_offs)
    };
    let before = derived.supply.as_ref().map(|supply| supply.ledger.left + supply.ledger.cut_offs);
    let before = before.expect("it has parts");
    let mat = Area::from_half_nm2(i128::from(69_850_000i64) * i128::from(57_150_000i64) * 2);
    assert_eq!(without(8), (8, before + mat));
    // The first hinge goes with the pocket on it.
    assert_eq!(without(1).0, 7);
}

#[test]
fn a_card_goes_into_its_pocket_and_its_corners() {
    let (document, derived) = diary();
    let fits = derived.fits(&document);
    let of = |id: u32| fits.pockets.iter().find(|fit| fit.part == PartId(id));
    assert!((3..=7).all(|id| of(id).is_some()), "pocket, page, slide-in and corners hold something");
    assert_eq!(fits.corners.len(), 1, "the two tuck corners hold one card between them");
    assert!(document.parts.iter().all(|part| !matches!(part.kind, PartKind::Insert(_))));
}

#[test]
fn a_trim_of_the_edges_leaves_too_little_for_parts_that_fill_their_offcut() {
    let (mut document, _) = diary();
    let cutting = model::Cutting { edge: model::Length::SIXTEENTH, along_grain: false };
    document.apply(Edit::SetCutting(cutting)).expect("a trim can be set");
    let supply = Derived::of(&document).supply.expect("it has parts");
    let missing = |id: u32| matches!(supply.supply(PartId(id)).map(|supply| &supply.from), Some(Origin::Missing(_)));
    // The mat is as wide as its offcut, which gives other parts too; hinges and pocket take the whole height of theirs.
    assert!(missing(8) && (missing(1) || missing(2) || missing(3)));
    // One part alone of an offcut may be cut of it as it is.
    assert!(!missing(4) && !missing(9));
    assert!(!supply.is_complete());
}

#[test]
fn its_label_is_cut_so_that_a_pattern_stands_upright_on_the_closed_folio() {
    // Printed with an up towards the top of the sheet. The top flap comes down over two square folds and is upside down
    // then, seen from its back; a mat on it has to be cut turned by half.
    let (mut document, _) = diary();
    let mut stock = document.stock.clone();
    stock.front.pattern = model::Pattern::OneWay(model::SheetEdge::Top);
    document.apply(Edit::SetStock(stock)).expect("a pattern can be set");
    let derived = Derived::of(&document);
    let supply = derived.supply.as_ref().expect("it has parts");
    let Some(Origin::Offcut { cutout, .. }) = supply.supply(PartId(8)).map(|supply| &supply.from) else {
        panic!("the mat has paper");
    };
    assert_eq!(cutout.quarters, 2);
    let page = supply.supply(PartId(4)).map(|supply| &supply.from);
    assert!(matches!(page, Some(Origin::Offcut { cutout, .. }) if cutout.quarters == 0));
}
