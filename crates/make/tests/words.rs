//! Jobs as a maker is told to do them, and what she is told to mind.

#![expect(clippy::unwrap_used, reason = "a test may fail")]

mod common;

use common::{
    CUT, SCORE, Said, Sketch, at, band, base, closure, cut, flap, fold, gate, hinge, inches, insert, mat, of, page,
    part, pocket, pocket_glued, put, score,
};
use foliowright_make::{Caution, Words};
use model::part::{ClosureKind, Edges, GlueArea, Job, Own, Source};
use model::{Face, Layout, PartKind, SheetEdge, Size};

#[track_caller]
fn check(sketch: &Sketch, said: &[(Job, &str)]) {
    let (layout, making) = (Layout::of(&sketch.0), sketch.making());
    let words = Words { document: &sketch.0, layout: &layout, making: &making };
    for (job, expected) in said {
        assert!(making.jobs.contains(job), "{job:?} is no job of {:?}", making.jobs);
        assert_eq!(words.instruction(*job), *expected);
    }
}

#[test]
fn the_folio() {
    let said = [(SCORE, "Score the sheet"), (CUT, "Cut the folio out"), (Job::Close, "Close the folio in 2 steps")];
    check(&gate(), &said);
    let two_offcuts = || gate().cut(4, "1");
    let from_offcut = two_offcuts().part(part(1, mat("1", "1"), base()).from(Source::AnyOffcut));
    check(
        &from_offcut,
        &[(CUT, "Cut the folio out and keep Offcuts 1 and 2"), (cut(1), "Cut Mat 1, 1 x 1 in, from an offcut")],
    );
    let offcut = Source::Offcut(at("6", "1 1/2"));
    let from_one = two_offcuts().part(part(1, hinge("4", "1/2"), base()).from(offcut));
    let said = [
        (CUT, "Cut the folio out and keep Offcut 2"),
        (score(1), "Score Hinge 1 on Offcut 2"),
        (cut(1), "Cut Hinge 1, 1 x 4 in, from Offcut 2"),
        (fold(1), "Fold Hinge 1 along its length"),
        (put(1), "Glue Hinge 1 to the Base by its glued leaf"),
    ];
    check(&from_one, &said);
}

#[test]
fn parts_put_in_place() {
    let sketch = gate()
        .part(part(1, hinge("4", "1/2"), base()).moved("-2", "0"))
        .part(part(2, pocket("4", "4"), base()))
        .part(part(3, mat("2", "2"), of(1, 1)))
        .part(part(4, insert("2", "2"), base()))
        .part(part(5, closure(ClosureKind::Brad), base()).moved("0", "-3 1/2"))
        .part(part(6, closure(ClosureKind::Ribbon), base()).on_back())
        .part(part(7, band(), base()))
        .part(part(8, page("2", "2"), of(2, 0)))
        .part(part(9, flap("2", "2"), base()).on_back().moved("0", "3"));
    let said = [
        (put(2), "Glue Pocket 2 to the Base, along its left, bottom and right edges"),
        (put(3), "Glue Mat 3 to the free leaf of Hinge 1, all over"),
        (put(4), "Slide Insert 4 into Pocket 2"),
        (put(5), "Set Brad 5 through the Base and spread its legs behind"),
        (put(6), "Glue Ribbon 6 to the back of the Base and leave its ends free"),
        (put(7), "Wrap Band 7 round the closed folio, glue its ends to one another and slide it on"),
        (fold(8), "Fold the strip of Page 8 under its leaf"),
        (put(8), "Glue Page 8 to Pocket 2 by its strip"),
        (put(9), "Glue Flap 9 to the back of the Base by its strip"),
    ];
    check(&sketch, &said);
}

#[test]
fn edges_are_those_of_the_panel_that_it_is_glued_to() {
    let slide_in = pocket_glued("3", "3", Edges::of(&[SheetEdge::Left, SheetEdge::Bottom]), "0");
    #[track_caller]
    fn turned(kind: model::PartKind, degrees: &str, face: Face, expected: &str) {
        let mut part = part(1, kind, base()).turned(degrees);
        part.place.face = face;
        let back = if face == Face::Back { "the back of " } else { "" };
        check(&gate().part(part), &[(put(1), &format!("Glue Slide-in 1 to {back}the Base, along {expected}"))]);
    }
    turned(slide_in.clone(), "0", Face::Front, "its left and bottom edges");
    // A quarter turn clockwise takes the left edge to the top and the lower one to the left.
    turned(slide_in.clone(), "90", Face::Front, "its left and top edges");
    turned(slide_in.clone(), "180", Face::Front, "its right and top edges");
    turned(slide_in.clone(), "45", Face::Front, "its own bottom and left edges");
    // Its front seen on the back: left and right are swapped.
    turned(slide_in.clone(), "0", Face::Back, "its bottom and right edges");
    turned(slide_in, "90", Face::Back, "its left and bottom edges");
}

#[test]
fn gussets_and_names() {
    let glued = Edges::of(&[SheetEdge::Left, SheetEdge::Bottom, SheetEdge::Right]);
    let mut seeds = part(1, pocket_glued("4", "4", glued, "1/4"), base());
    seeds.name = "Seed pocket".to_owned();
    let said = [
        (fold(1), "Fold the gussets and glue strips of Seed pocket under its front"),
        (put(1), "Glue Seed pocket to the Base by its glue strips along its left, bottom and right edges"),
    ];
    check(&gate().part(seeds), &said);
}

#[test]
fn a_part_of_her_own_is_laid_or_glued_as_she_says() {
    let own = PartKind::Own(Own {
        size: Size::parse("2x2in").unwrap(),
        lines: Vec::new(),
        corners: Vec::new(),
        base: at("1", "1"),
        folded: Vec::new(),
    });
    let plain = part(1, own, base());
    check(&gate().part(plain.clone()), &[(put(1), "Lay Own shape 1 on the Base")]);
    let strips = GlueArea::Strips(Edges::of(&[SheetEdge::Top]), inches("1/4"));
    let cases = [(GlueArea::Whole, ", all over"), (strips, ", along its top edge")];
    for (area, how) in cases {
        let glued = plain.clone().glued_too(0, Face::Back, base(), area);
        check(&gate().part(glued), &[(put(1), &format!("Glue Own shape 1 to the Base{how}"))]);
    }
}

#[test]
fn each_caution_is_said_once_where_it_first_applies() {
    let sketch = gate()
        .part(part(1, closure(ClosureKind::Magnet), base()))
        .part(part(2, closure(ClosureKind::Magnet), base()).moved("1", "0"))
        .part(part(3, mat("4", "4"), base()));
    let expected = [
        (CUT, Caution::Blades),
        (CUT, Caution::LocalRules),
        (put(1), Caution::HotGlue),
        (put(1), Caution::Magnets),
        (put(3), Caution::SprayAdhesive),
    ];
    assert_eq!(sketch.making().cautions(&sketch.0), expected);
    // Nothing to mind with a brad on an uncut sheet.
    let brad = Sketch::on("12x12in").part(part(1, closure(ClosureKind::Brad), model::PanelRef::Sheet(at("6", "6"))));
    assert_eq!(brad.making().cautions(&brad.0), []);
}
