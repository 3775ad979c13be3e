//! Inserts where they lie in a design, and how thick it is with them. Expected values worked out by hand unless a source is
//! named.

#![expect(clippy::unwrap_used, reason = "a test may fail")]

mod common;

use common::{CLOSED, Sketch, card, id, inches, mm, pocket, seed_swap, tuck};
use foliowright_fit::{Holder, Holders, InsertFit, Misfit, corner_sets, inserts, loaded, pockets, trays, words};
use model::part::{Hinge, PanelCorner, Placement, Rotation, Source};
use model::{Length, PanelRef, Part, PartKind, SheetEdge};

/// A base of 4 by 5 in with two flaps as wide that fold over it, one on the other.
fn folio() -> Sketch {
    Sketch::on("12x5in").valley(1, "4").valley(2, "8").base("6", "2 1/2").steps(&[&[1], &[2]])
}

/// A pocket on it with 3 by 3 3/4 in inside, 1/2 in from the left and from the top.
fn with_pocket() -> Sketch {
    folio().part(pocket("3 1/2", "4", &CLOSED, "0"), "1/4", "1/2")
}

#[track_caller]
fn fits(sketch: &Sketch) -> Vec<InsertFit> {
    let derived = sketch.derived();
    let (document, layout) = (&sketch.0, &derived.layout);
    let holders = Holders {
        pockets: &pockets(document, layout),
        corners: &corner_sets(document, layout),
        trays: &trays(document, layout, &derived.assembly, &derived.folding),
    };
    inserts(document, layout, &holders)
}

#[track_caller]
fn check(sketch: &Sketch, lies_in: &Holder, problems: &[Misfit], said: &str) {
    let fit = fits(sketch).pop().unwrap();
    assert_eq!((&fit.lies_in, fit.problems.as_slice()), (lies_in, problems));
    assert_eq!(words::insert(&fit, &sketch.0, &sketch.layout()), said);
    assert_eq!(fit.fits(), problems.is_empty() && !matches!(lies_in, Holder::Loose(_)));
}

fn in_pocket(insert: PartKind, left: &str, top: &str) -> Sketch {
    with_pocket().part(insert, left, top)
}

#[test]
fn a_card_fits_or_says_why_not() {
    let pocket = Holder::Pocket(id(1));
    let check = |insert: PartKind, left: &str, top: &str, problems: &[Misfit], said: &str| {
        check(&in_pocket(insert, left, top), &pocket, problems, said);
    };
    let eighth = Length::EIGHTH;
    check(card("2 7/8", "3", "0.76 mm"), "9/16", "1", &[], "\"Insert 2\" fits \"Pocket 1\" with 1/8 in to spare.");
    check(
        card("2 7/8", "4", "0.76 mm"),
        "9/16",
        "1/4",
        &[],
        "\"Insert 2\" fits \"Pocket 1\" with 1/8 in to spare and stands out 1/4 in.",
    );
    check(
        card("3 1/8", "3", "0.76 mm"),
        "7/16",
        "1",
        &[Misfit::TooWide(eighth)],
        "\"Insert 2\" is 1/8 in too wide for \"Pocket 1\".",
    );
    // 1/8 in of play is room for 3.175 mm.
    check(
        card("2 7/8", "3", "1/4"),
        "9/16",
        "1",
        &[Misfit::TooThick(eighth)],
        "\"Insert 2\" makes a stack 1/8 in too thick for \"Pocket 1\".",
    );
    check(
        card("2 7/8", "3", "0.76 mm"),
        "3/8",
        "1",
        &[Misfit::OverGlue(eighth)],
        "\"Insert 2\" is laid 1/8 in over what closes \"Pocket 1\"; move it in.",
    );
}

#[test]
fn cards_in_one_pocket_are_one_stack() {
    let two = in_pocket(card("2 7/8", "3", "1/16"), "9/16", "1").part(card("2 3/4", "3", "1/8"), "5/8", "1");
    // 3/16 in all in all: the wider one leaves room for 1/8, the narrower for 1/4.
    let problems: Vec<Vec<Misfit>> = fits(&two).into_iter().map(|fit| fit.problems).collect();
    assert_eq!(problems, [vec![Misfit::TooThick(Length::SIXTEENTH)], vec![]]);
}

#[test]
fn a_turned_card_is_measured_as_it_lies() {
    let turned = |degrees: i32| {
        let sketch = in_pocket(card("3 5/8", "2 7/8", "0.3 mm"), "9/16", "5/8");
        fits(&sketch.last(|part| part.place.rotation = Rotation::from_hundredths(degrees * 100))).pop().unwrap()
    };
    assert_eq!((turned(90).size, turned(90).problems), ((inches("2 7/8"), inches("3 5/8")), vec![]));
    assert_eq!(turned(0).problems, [Misfit::TooWide(inches("5/8"))]);
}

#[test]
fn a_sealed_pocket_has_no_way_in() {
    let sketch = folio().part(pocket("3 1/2", "4", &SheetEdge::ALL, "0"), "1/4", "1/2");
    check(
        &sketch.part(card("2", "3", "0.3 mm"), "1", "1"),
        &Holder::Pocket(id(1)),
        &[Misfit::NoMouth],
        "\"Insert 2\" can't be put into \"Pocket 1\", which is closed all round.",
    );
}

#[test]
fn the_pocket_is_that_over_some_of_the_card() {
    // Only its lower end is in it.
    let sketch = in_pocket(card("2", "2", "0.3 mm"), "1", "-3/4");
    assert_eq!(fits(&sketch)[0].lies_in, Holder::Pocket(id(1)));
    // It ends where the pocket begins.
    let sketch = in_pocket(card("2", "2", "0.3 mm"), "1", "-1 1/2");
    let base = sketch.layout().base.unwrap();
    check(&sketch, &Holder::Loose(base), &[], "\"Insert 2\" lies loose on the base; nothing holds it.");
    // On the other face.
    let sketch = in_pocket(card("2", "2", "0.3 mm"), "1", "1").last(|part| part.place.face = model::Face::Back);
    assert_eq!(fits(&sketch)[0].lies_in, Holder::Loose(base));
}

#[test]
fn a_card_between_corners_is_held() {
    let sketch =
        folio().part(tuck("1", PanelCorner::TopLeft), "0", "0").part(tuck("1", PanelCorner::BottomRight), "3", "4");
    let corners = Holder::Corners(vec![id(1), id(2)]);
    let place = "\"Tuck corner 1\" and \"Tuck corner 2\"";
    let with = |width: &str, height: &str| sketch.clone().part(card(width, height, "0.3 mm"), "1/4", "1/4");
    check(&with("3 1/2", "4 1/2"), &corners, &[], &format!("\"Insert 3\" fits {place} with 0 in to spare."));
    check(
        &with("3 5/8", "4 1/2"),
        &corners,
        &[Misfit::TooWide(Length::EIGHTH)],
        &format!("\"Insert 3\" is 1/8 in too wide for {place}."),
    );
    let on_back = with("3 1/2", "4 1/2").last(|part| part.place.face = model::Face::Back);
    assert_eq!(fits(&on_back)[0].lies_in, Holder::Loose(on_back.layout().base.unwrap()));
    check(
        &with("3 1/4", "4 1/4"),
        &corners,
        &[Misfit::SlipsOut],
        &format!("\"Insert 3\" slips out of {place}; make it larger."),
    );
}

#[test]
fn a_packet_lies_in_the_tray() {
    // The seed library's folio: between gussets of 1/4 in on 5 1/2 by 4 1/2 in.
    let with = |width: &str, caliper: &str| seed_swap().part(card(width, "4", caliper), "1/8", "1/8");
    let tray = Holder::Tray(seed_swap().layout().base.unwrap());
    check(&with("5 1/4", "1/16"), &tray, &[], "\"Insert 1\" fits the base with 15/64 in to spare.");
    check(&with("5 1/2", "1/16"), &tray, &[Misfit::TooWide(mm(0.3))], "\"Insert 1\" is 1/64 in too wide for the base.");
    // 5.15 mm are free under the flaps.
    check(
        &with("5 1/4", "6.15 mm"),
        &tray,
        &[Misfit::TooThick(mm(1.0))],
        "\"Insert 1\" makes a stack 3/64 in too thick for the base.",
    );
}

#[test]
fn a_card_goes_into_a_pocket_on_hinges() {
    // Carried at both sides by hinges that are folded at 1 in and at 3 in.
    let hinge = || PartKind::Hinge(Hinge { length: inches("3"), leaf: inches("1/2"), free_leaf: inches("1/2") });
    let sketch = folio().part(hinge(), "1/2", "1").part(hinge(), "3", "1").last(|part| {
        part.place.rotation = Rotation::from_hundredths(18_000);
    });
    let glued = model::part::Gluing {
        panel: 0,
        face: model::Face::Back,
        to: PanelRef::Part(id(2), 1),
        area: model::part::GlueArea::Strips(model::part::Edges::of(&[SheetEdge::Right]), inches("1/4")),
    };
    let kind = pocket("3", "3", &[SheetEdge::Left], "0");
    let mut sketch = sketch.part_on(kind, PanelRef::Part(id(1), 1), "0", "0").last(|part| {
        part.place.face = model::Face::Back;
        part.place.across.from = model::part::AnchorFrom::End;
        part.also.push(glued);
    });
    let on_base = Placement::centred(PanelRef::Sheet(sketch.0.base.unwrap()));
    let mut with = |width: &str| {
        sketch.0.parts.truncate(3);
        sketch.0.parts.push(Part {
            id: id(4),
            name: "Planting card".to_owned(),
            kind: card(width, "2", "0.3 mm"),
            source: Source::FolioStock,
            place: on_base,
            also: Vec::new(),
        });
        fits(&sketch).pop().unwrap()
    };
    let fit = with("1 7/8");
    assert_eq!((&fit.lies_in, &fit.problems, fit.play), (&Holder::Pocket(id(3)), &vec![], Some(Length::EIGHTH)));
    assert_eq!(with("2 1/4").problems, [Misfit::TooWide(inches("1/4"))]);
}

#[test]
fn a_loaded_folio_is_as_thick_as_all_that_lies_in_it() {
    let load = |sketch: &Sketch| {
        let derived = sketch.derived();
        loaded(&sketch.0, &derived.layout, &derived.assembly, &derived.folding)
    };
    assert_eq!(load(&with_pocket()), None);
    // A bank card of 0.76 mm (ISO/IEC 7810) in four layers of 0.30 mm: 1.96 mm (recomputed).
    let mut sketch = in_pocket(card("53.98 mm", "85.6 mm", "0.76 mm"), "3/4", "3/4");
    sketch.0.units = model::Unit::Millimetre;
    let loaded = load(&sketch).unwrap();
    assert_eq!((loaded.thickness, loaded.counted.as_slice()), (mm(2.0), [id(2)].as_slice()));
    assert_eq!(words::load(&loaded, &sketch.0), "Closed with \"Insert 2\" it is 2 mm thick.");
    let exact = fold::thickness(&sketch.derived().assembly, &sketch.derived().folding).greatest;
    assert!((exact - 1.96).abs() < 1e-6, "{exact}");
}
