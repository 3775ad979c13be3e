//! Pockets, pages and tuck corners on a base: what goes in. Expected values worked out by hand unless a source is named.

#![expect(clippy::unwrap_used, reason = "a test may fail")]

mod common;

use common::{CLOSED, Sketch, at, inches, mm, pocket, tuck};
use foliowright_fit::{CardFit, Depth, Ends, Holds, Inside, PocketFit, corner_sets, pockets, words};
use model::part::{Anchor, AnchorFrom, Edges, GlueArea, Gluing, Hinge, Page, PanelCorner, Rotation};
use model::{Face, Layout, Length, PanelRef, PartId, PartKind, SheetEdge, Unit};

fn base() -> Sketch {
    Sketch::on("8x8in").base("4", "4")
}

#[track_caller]
fn fits(sketch: &Sketch) -> Vec<PocketFit> {
    pockets(&sketch.0, &sketch.layout())
}

#[track_caller]
fn inside(sketch: &Sketch) -> Inside {
    match fits(sketch).pop().map(|fit| fit.holds) {
        Some(Holds::Pocket(inside)) => inside,
        other => panic!("{other:?}"),
    }
}

#[track_caller]
fn check(sketch: &Sketch, across: (&str, Ends), down: (&str, Ends), depth: Depth, mouths: &[SheetEdge]) {
    let Inside { room, mouths: found, .. } = inside(sketch);
    assert_eq!((room.across.inner, room.across.closed), (inches(across.0), across.1));
    assert_eq!((room.down.inner, room.down.closed), (inches(down.0), down.1));
    assert_eq!(room.depth, depth);
    assert_eq!(found, mouths);
}

fn named<'a>(cards: &'a [CardFit], name: &str) -> Vec<&'a CardFit> {
    cards.iter().filter(|fit| fit.card.name.contains(name)).collect()
}

#[test]
fn glue_takes_room() {
    use SheetEdge::{Bottom, Left, Right, Top};
    let flat = |glued: &[SheetEdge]| base().part(pocket("5", "3", glued, "0"), "1", "1");
    check(&flat(&CLOSED), ("4 1/2", Ends::Both), ("2 3/4", Ends::One), Depth::Bowing, &[Top]);
    check(&flat(&[Left, Bottom]), ("4 3/4", Ends::One), ("2 3/4", Ends::One), Depth::Bowing, &[Top, Right]);
    check(&flat(&[Top, Bottom]), ("5", Ends::Open), ("2 1/2", Ends::Both), Depth::Bowing, &[Right, Left]);
    check(&flat(&SheetEdge::ALL), ("4 1/2", Ends::Both), ("2 1/2", Ends::Both), Depth::Bowing, &[]);
    assert_eq!(fits(&flat(&[])), []);
}

#[test]
fn gussets_take_room_and_give_depth() {
    // Feet 1/2 in within the front at three edges; walls 12.7 mm less the paper of 0.3 mm.
    let deep = base().part(pocket("5", "3", &CLOSED, "1/2"), "1", "1");
    check(&deep, ("4", Ends::Both), ("2 1/2", Ends::One), Depth::Upright(mm(12.4)), &[SheetEdge::Top]);
    // A gusset of 6.35 mm round 0.3 mm of paper is as deep as the fold engine has it.
    let room = fold::Allowance::default().room(6.35, 0.3);
    let Depth::Upright(depth) = inside(&base().part(pocket("5", "3", &CLOSED, "1/4"), "1", "1")).room.depth else {
        panic!()
    };
    assert!((depth.mm() - room).abs() < 1e-9);
}

#[test]
fn glue_put_on_besides_takes_room_too() {
    let glued = |edges: &[SheetEdge], width: &str| Gluing {
        panel: 0,
        face: Face::Back,
        to: PanelRef::Sheet(at("4", "4")),
        area: GlueArea::Strips(Edges::of(edges), inches(width)),
    };
    let sketch = base().part(pocket("5", "3", &[SheetEdge::Left, SheetEdge::Bottom], "0"), "1", "1");
    let more = sketch.last(|part| part.also.push(glued(&[SheetEdge::Right], "3/4")));
    check(&more, ("4", Ends::Both), ("2 3/4", Ends::One), Depth::Bowing, &[SheetEdge::Top]);
}

#[test]
fn mouths_are_told_as_the_pocket_is_turned() {
    let turned = |degrees: i32, face: Face, showing: Face| {
        let sketch = base().part(pocket("5", "3", &[SheetEdge::Left, SheetEdge::Bottom], "0"), "1", "1");
        let sketch = sketch.last(|part| {
            part.place.rotation = Rotation::from_hundredths(degrees * 100);
            (part.place.face, part.place.showing) = (face, showing);
        });
        inside(&sketch).mouths
    };
    use SheetEdge::{Bottom, Left, Right, Top};
    assert_eq!(turned(0, Face::Front, Face::Front), [Top, Right]);
    // Turned clockwise, what was on top is at the right.
    assert_eq!(turned(90, Face::Front, Face::Front), [Right, Bottom]);
    // Turned over first, so that left and right change places.
    assert_eq!(turned(0, Face::Front, Face::Back), [Top, Left]);
}

#[test]
fn the_largest_insert_is_an_eighth_narrower_and_flush_with_the_mouth() {
    let flat = inside(&base().part(pocket("5", "3", &CLOSED, "0"), "1", "1"));
    assert_eq!(flat.room.largest(), Some((inches("4 3/8"), inches("2 3/4"))));
    assert_eq!(inside(&base().part(pocket("1/2", "3", &CLOSED, "0"), "1", "1")).room.largest(), None);
    assert_eq!(inside(&base().part(pocket("1/2", "3", &CLOSED, "0"), "1", "1")).cards, []);
}

#[test]
fn usual_cards_go_in_upright_or_turned() {
    // 4 1/2 in are 114.3 mm, 2 3/4 in are 69.85 mm.
    let Inside { cards, .. } = inside(&base().part(pocket("5", "3", &CLOSED, "0"), "1", "1"));
    // ID-1 (ISO/IEC 7810): 53.98 x 85.60 x 0.76 mm.
    let [upright, turned] = named(&cards, "ID-1").try_into().unwrap();
    assert_eq!((upright.play, upright.stands_out[1]), (Some(mm(60.32)), mm(15.75)));
    // 114.3 - 85.6 = 28.7 mm of play, and as much room for a stack: 35 of 0.76 mm and a twentieth.
    assert_eq!((turned.play, turned.stands_out[1], turned.count), (Some(mm(28.7)), Length::ZERO, Some(35)));
    // A6 (ISO 216), 105 x 148 mm: upright 78.15 mm stand out, which is more than half; turned it is too wide.
    assert_eq!(named(&cards, "A6"), Vec::<&CardFit>::new());
    // A7, 74 x 105 mm: both ways.
    assert_eq!(named(&cards, "A7 card").len(), 2);
}

#[test]
fn a_gusset_holds_a_stack() {
    let Inside { cards, room, .. } = inside(&base().part(pocket("5", "4", &CLOSED, "1/4"), "1", "1"));
    // 6.05 mm deep: seven bank cards of 0.76 mm spring to 5.586 mm, eight to 6.384.
    assert_eq!(named(&cards, "ID-1")[0].count, Some(7));
    // Of the folio's own paper, 0.3 mm: 19 make 5.985 mm.
    assert_eq!(room.count((inches("3"), inches("4")), mm(0.3)), Some(19));
    // Too wide goes in at no thickness.
    assert_eq!(room.thickest((inches("4 5/8"), inches("3"))), Some(Length::ZERO));
}

#[test]
fn a_page_is_a_surface() {
    let page =
        PartKind::Page(Page { width: inches("4"), height: inches("6"), hinged: SheetEdge::Left, strip: inches("1/2") });
    let fit = fits(&base().part(page, "1", "1")).pop().unwrap();
    let Holds::Surface { room, cards } = &fit.holds else { panic!("{fit:?}") };
    assert_eq!(room.largest(), Some((inches("4"), inches("6"))));
    // 4 x 6 in lies on it upright, A6 (105 mm wide) does not lie within 101.6 mm.
    assert_eq!(named(cards, "4 x 6").len(), 1);
    assert!(named(cards, "A6").is_empty());
    assert_eq!(words::pocket(&fit, Unit::Inch), "\"Page 1\" takes what is no larger than 4 x 6 in.");
}

/// A pocket of 5 by 3 in, glued to the free leaves of two hinges whose glued leaves lie from 1 1/4 in and to 6 1/4 in; their
/// folds lie towards the middle, or away from it.
fn carried(leaf: &str, free: &str, towards_middle: bool) -> Sketch {
    let hinge = || PartKind::Hinge(Hinge { length: inches("3"), leaf: inches(leaf), free_leaf: inches(free) });
    let turned = |is_turned: bool| Rotation::from_hundredths(if is_turned { 18_000 } else { 0 });
    let sketch = base().part(hinge(), "1 1/4", "2").last(|part| part.place.rotation = turned(!towards_middle));
    let sketch = sketch.part(hinge(), "0", "2").last(|part| {
        part.place.across = Anchor { from: AnchorFrom::End, distance: inches("1 3/4") };
        part.place.rotation = turned(towards_middle);
    });
    let glued = Gluing {
        panel: 0,
        face: Face::Back,
        to: PanelRef::Part(PartId(2), 1),
        area: GlueArea::Strips(Edges::of(&[SheetEdge::Right]), inches("1/4")),
    };
    let kind = pocket("5", "3", &[SheetEdge::Left], "0");
    sketch.part_on(kind, PanelRef::Part(PartId(1), 1), "0", "0").last(|part| {
        // The free leaf lies back up, and left and right on it are the other way round.
        part.place.face = Face::Back;
        part.place.rotation = turned(!towards_middle);
        if towards_middle {
            let beyond_fold = inches(free) - inches(leaf);
            part.place.across = Anchor { from: AnchorFrom::End, distance: beyond_fold };
        }
        part.also.push(glued);
    })
}

#[test]
fn a_pocket_on_hinges_is_as_wide_as_they_leave_it() {
    #[track_caller]
    fn check(sketch: &Sketch, wide: &str) {
        let layout = sketch.layout();
        let fit = pockets(&sketch.0, &layout).pop().unwrap();
        assert_eq!(Some(fit.host), layout.base);
        let Holds::Pocket(inside) = &fit.holds else { panic!("{fit:?}") };
        assert_eq!((inside.room.across.inner, inside.room.across.closed), (inches(wide), Ends::Both));
        assert_eq!(inside.mouths, [SheetEdge::Top, SheetEdge::Bottom]);
    }
    // Folded at 2 in and at 5 1/2 in, whatever the free leaf.
    check(&carried("3/4", "1/2", true), "3 1/2");
    check(&carried("3/4", "1", true), "3 1/2");
    // Folded at 1 1/4 in and at 6 1/4 in: the longer leaf is in the way.
    check(&carried("3/4", "1/2", false), "3 1/2");
    check(&carried("3/4", "1", false), "3");
}

#[test]
fn a_pocket_on_one_hinge_opens_like_a_page() {
    // Its front starts at 1 1/4 in on the base and the hinge is folded at 2 in.
    let inside = inside(&carried("3/4", "1/2", true).last(|part| part.also.clear()));
    assert_eq!((inside.room.across.inner, inside.room.across.closed), (inches("4 1/4"), Ends::One));
    assert_eq!(inside.mouths, [SheetEdge::Top, SheetEdge::Right, SheetEdge::Bottom]);
}

#[test]
fn corners_that_face_each_other_hold_a_card() {
    // Between corners of a base of 8 in, glue of 1/4 in: 7 1/2 in. Legs of 2 in go 2 - 1/2 = 1 1/2 in in.
    let sketch =
        base().part(tuck("2", PanelCorner::TopLeft), "0", "0").part(tuck("2", PanelCorner::BottomRight), "6", "6");
    let sets = corner_sets(&sketch.0, &sketch.layout());
    let [set] = sets.as_slice() else { panic!("{sets:?}") };
    assert_eq!(set.largest(), (inches("7 1/2"), inches("7 1/2")));
    assert_eq!((set.least_width, set.least_height), (inches("6"), inches("6")));
    // Two triangles of 1.125 sq in of 56.25.
    assert!((set.share() - 2.25 / 56.25).abs() < 1e-9, "{}", set.share());
    let holds = |width: &str, height: &str| set.holds((inches(width), inches(height)));
    assert!(holds("7 1/2", "7 1/2") && holds("6 1/64", "7 1/2") && holds("6 49/64", "6 49/64"));
    // On the slanting edge, and beyond it: 3/4 and 3/4 of 1 1/2.
    assert!(!holds("6", "7 1/2") && !holds("6 3/4", "6 3/4") && !holds("7 33/64", "7"));
    assert_eq!(set.cards, []);
    assert_eq!(
        words::corners(set, &sketch.0),
        "\"Tuck corner 1\" and \"Tuck corner 2\" hold a card of up to 7 1/2 x 7 1/2 in and cover 4 % of it; one of that \
         height must be wider than 6 in, one of that width higher than 6 in."
    );
}

#[test]
fn four_corners_hold_a_postcard() {
    // Corners of 1 in, 1/4 in of glue: 1/2 in goes in. Set for 4 x 6 in.
    let corner = |sketch: Sketch, corner, left: &str, top: &str| sketch.part(tuck("1", corner), left, top);
    let sketch = corner(base(), PanelCorner::TopLeft, "1", "1");
    let sketch = corner(sketch, PanelCorner::TopRight, "4 1/2", "1");
    let sketch = corner(sketch, PanelCorner::BottomRight, "4 1/2", "6 1/2");
    let sketch = corner(sketch, PanelCorner::BottomLeft, "1", "6 1/2");
    let sets = corner_sets(&sketch.0, &sketch.layout());
    let [set] = sets.as_slice() else { panic!("{sets:?}") };
    assert_eq!(set.largest(), (inches("4"), inches("6")));
    let cards: Vec<(&str, bool)> = set.cards.iter().map(|(card, turned)| (card.name, *turned)).collect();
    assert_eq!(cards, [("Card, 4 x 6 in", false)]);
}

#[test]
fn the_corner_farthest_in_bounds_the_card() {
    // The lower left corner lies 1/2 in farther in than the upper left one, and the upper right one 1/4 in lower.
    let sketch = base()
        .part(tuck("2", PanelCorner::TopLeft), "0", "0")
        .part(tuck("2", PanelCorner::TopRight), "6", "1/4")
        .part(tuck("2", PanelCorner::BottomRight), "6", "6")
        .part(tuck("2", PanelCorner::BottomLeft), "1/2", "6");
    let set = corner_sets(&sketch.0, &sketch.layout()).pop().unwrap();
    assert_eq!(set.space, (at("3/4", "1/2"), at("7 3/4", "7 3/4")));
    // From the upper left, 1 1/2 in go in, of which 1/2 and 1/4 are lost; from the lower left and upper right all do. So the
    // least is 7 in less 1 1/2 in.
    assert_eq!((set.least_width, set.least_height), (inches("5 1/2"), inches("5 3/4")));
}

#[test]
fn the_corner_that_holds_least_says_how_small_a_card_may_be() {
    let least = |sketch: &Sketch| {
        let set = corner_sets(&sketch.0, &sketch.layout()).pop().unwrap();
        (set.least_width, set.least_height)
    };
    // 1 1/2 in go into one and 2 1/2 in into the other, of 7 1/2 in.
    let two =
        base().part(tuck("2", PanelCorner::TopLeft), "0", "0").part(tuck("3", PanelCorner::BottomRight), "5", "5");
    assert_eq!(least(&two), (inches("6"), inches("6")));
    // A third keeps the card 1/4 in from the top of the first: 1 1/4 in are left of that, of 7 1/2 by 7 1/4 in.
    let three = two.part(tuck("2", PanelCorner::TopRight), "6", "1/4");
    assert_eq!(least(&three), (inches("6 1/4"), inches("6")));
}

#[test]
fn corners_of_two_cards_are_told_apart() {
    let pair = |sketch: Sketch, left: &str, right: &str| {
        let sketch = sketch.part(tuck("1", PanelCorner::TopLeft), left, "1");
        sketch.part(tuck("1", PanelCorner::BottomRight), right, "5")
    };
    let sketch = pair(pair(base(), "0", "2"), "4", "7");
    let sets = corner_sets(&sketch.0, &sketch.layout());
    let largest: Vec<(Length, Length)> = sets.iter().map(|set| set.largest()).collect();
    assert_eq!(largest, [(inches("2 1/2"), inches("4 1/2")), (inches("3 1/2"), inches("4 1/2"))]);
}

#[test]
fn corners_on_one_side_hold_nothing_between_them() {
    let sketch =
        base().part(tuck("2", PanelCorner::TopLeft), "0", "0").part(tuck("2", PanelCorner::TopRight), "6", "0");
    assert_eq!(corner_sets(&sketch.0, &sketch.layout()), []);
    // Turned by a quarter, an upper left corner is an upper right one, which faces the lower left.
    let turned = base().part(tuck("2", PanelCorner::TopLeft), "6", "0").last(|part| {
        part.place.rotation = Rotation::QUARTER;
    });
    let turned = turned.part(tuck("2", PanelCorner::BottomLeft), "0", "6");
    let sets = corner_sets(&turned.0, &turned.layout());
    assert_eq!(sets[0].largest(), (inches("7 1/2"), inches("7 1/2")));
}

#[test]
fn a_folio_without_parts_has_no_pockets() {
    assert_eq!(pockets(&base().0, &Layout::of(&base().0)), []);
}

#[test]
fn pockets_are_said_in_a_sentence() {
    let said = |kind: PartKind| words::pocket(&fits(&base().part(kind, "1", "1"))[0], Unit::Inch);
    assert_eq!(
        said(pocket("5", "3", &CLOSED, "0")),
        "\"Pocket 1\" is 4 1/2 x 2 3/4 in inside, open at the top, and holds an insert of up to 4 3/8 x 2 3/4 in; a stack \
         may be as thick as it has play."
    );
    // 6.05 mm are 7 thirty-seconds of an inch, 5.56 mm, and a bit.
    assert_eq!(
        said(pocket("5", "3", &CLOSED, "1/4")),
        "\"Pocket 1\" is 4 1/2 x 2 3/4 in inside, open at the top, and holds an insert of up to 4 3/8 x 2 3/4 in, in a \
         stack of up to 7/32 in."
    );
    assert_eq!(
        said(pocket("5", "3", &[SheetEdge::Left, SheetEdge::Bottom], "0")),
        "\"Slide-in 1\" is 4 3/4 x 2 3/4 in inside, open at the top and right, and holds an insert of up to 4 3/4 x 2 3/4 in."
    );
    assert_eq!(
        said(pocket("5", "3", &SheetEdge::ALL, "0")),
        "\"Pocket 1\" is closed all round; leave an edge open for its mouth."
    );
    assert_eq!(
        said(pocket("1/2", "3", &CLOSED, "0")),
        "\"Pocket 1\" leaves no room inside; make it larger, or its glue strips narrower."
    );
    assert_eq!(
        said(tuck("2", PanelCorner::TopLeft)),
        "\"Tuck corner 1\" covers 1 1/2 in of the upper or lower edge of a card and 1 1/2 in of its side."
    );
    let cards = inside(&base().part(pocket("5", "3", &CLOSED, "1/4"), "1", "1")).cards;
    let said: Vec<String> = named(&cards, "ID-1").into_iter().map(|fit| words::card(fit, Unit::Inch)).collect();
    assert_eq!(said, ["Bank card (ID-1): 7 go in, standing out 5/8 in", "Bank card (ID-1), turned: 7 go in"]);
}
