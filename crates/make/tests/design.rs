//! Small designs, each with what must come before what in it.

#![expect(clippy::unwrap_used, reason = "a test may fail")]

mod common;

use common::{
    CUT, SCORE, Said, Sketch, at, band, base, closure, cut, flap, fold, gate, hinge, inches, insert,
    keeps_its_promises, mat, of, page, part, pocket, pocket_glued, put, score, why,
};
use foliowright_make::Why;
use model::part::{ClosureKind, Edges, GlueArea, Job, Own, Source, Tab};
use model::{
    Crease, Datum, Direction, Document, Face, FoldAngle, Line, LineId, PanelRef, PartId, PartKind, Place, Run,
    SheetEdge, Size, Step, Turn, Work,
};

/// The reasons there must be, and pairs of jobs that either may come first of.
#[track_caller]
fn check(sketch: &Sketch, musts: &[(Job, Job, Why)], free: &[(Job, Job)]) {
    let making = sketch.making();
    assert_eq!(making.circles, []);
    keeps_its_promises(&making);
    for &(first, then, reason) in musts {
        assert_eq!(why(&making, first, then), Some(reason), "{first:?} before {then:?}");
    }
    for &(a, b) in free {
        assert_eq!((why(&making, a, b), why(&making, b, a)), (None, None), "{a:?} and {b:?}");
    }
}

/// A pocket that is held by hinges at both sides. The free leaf of a folded hinge shows its back, and what is right of it
/// when it lies folded is left of it on the unfolded strip.
fn pocket_on_two_hinges() -> Sketch {
    gate()
        .part(part(1, hinge("6", "1/2"), base()).moved("-2", "0"))
        .part(part(2, hinge("6", "1/2"), base()).moved("2", "0").turned("180"))
        .part(part(3, pocket("4 1/4", "6"), of(1, 1)).on_back().moved("-2", "0").glued_too(
            0,
            Face::Back,
            of(2, 1),
            GlueArea::Strips(Edges::of(&[SheetEdge::Right]), inches("1/4")),
        ))
}

#[test]
fn a_pocket_on_two_hinges_waits_for_both() {
    let musts = [
        (SCORE, CUT, Why::ScoredWhole),
        (CUT, put(1), Why::FolioFirst),
        (score(1), cut(1), Why::ScoredWhole),
        (cut(1), fold(1), Why::MadeThenFolded),
        (fold(1), put(1), Why::MadeThenPut),
        (cut(3), put(3), Why::MadeThenPut),
        (put(1), put(3), Why::LiesOn),
        (put(2), put(3), Why::LiesOn),
        (put(3), Job::Close, Why::Within),
    ];
    check(&pocket_on_two_hinges(), &musts, &[(put(1), put(2)), (cut(1), CUT)]);
    let jobs = pocket_on_two_hinges().making().jobs;
    let expected =
        [SCORE, score(1), score(2), CUT, cut(1), cut(2), cut(3), fold(1), fold(2), put(1), put(2), put(3), Job::Close];
    assert_eq!(jobs, expected);
}

#[test]
fn a_brad_behind_a_pocket_held_by_two_hinges_comes_before_it() {
    let brad = part(9, closure(ClosureKind::Brad), base());
    check(&pocket_on_two_hinges().part(brad), &[(put(9), put(3), Why::Behind)], &[(put(9), put(1))]);
}

#[test]
fn behind_a_page_that_turns_it_may_come_later_but_for_what_lies_on_the_same_panel() {
    let on_hinge = gate()
        .part(part(1, hinge("6", "1/2"), base()).moved("-2", "0"))
        .part(part(2, mat("4", "4"), of(1, 1)).on_back().moved("-2", "0"))
        .part(part(9, closure(ClosureKind::Magnet), base()));
    check(&on_hinge, &[(put(1), put(2), Why::LiesOn)], &[(put(9), put(2))]);
    // Its leaf lies over the magnet, its strip beside it.
    let on_base = gate().part(part(1, page("3", "4"), base())).part(part(9, closure(ClosureKind::Magnet), base()));
    check(&on_base, &[(put(9), put(1), Why::Behind)], &[]);
}

#[test]
fn what_lies_behind_a_pocket_comes_first() {
    for kind in ClosureKind::ALL {
        let sketch = gate().part(part(1, pocket("4", "4"), base())).part(part(2, closure(kind), base()));
        check(&sketch, &[(put(2), put(1), Why::Behind)], &[]);
        let beside =
            gate().part(part(1, pocket("2", "4"), base())).part(part(2, closure(kind), base()).moved("2", "0"));
        check(&beside, &[], &[(put(1), put(2))]);
    }
}

#[test]
fn the_legs_of_a_brad_come_out_on_the_other_face() {
    let brad = part(1, closure(ClosureKind::Brad), base());
    let mat_behind = part(2, mat("4", "4"), base()).on_back();
    check(&gate().part(mat_behind.clone()).part(brad.clone()), &[(put(1), put(2), Why::OverLegs)], &[]);
    let magnet = part(1, closure(ClosureKind::Magnet), base());
    check(&gate().part(mat_behind.clone()).part(magnet), &[], &[(put(1), put(2))]);
    let elsewhere = mat_behind.moved("0", "3 1/2");
    check(&gate().part(elsewhere).part(brad), &[], &[(put(1), put(2))]);
}

#[test]
fn a_brad_through_a_mat_goes_through_the_panel_too() {
    let sketch = gate()
        .part(part(1, mat("4", "4"), base()))
        .part(part(2, closure(ClosureKind::Brad), of(1, 0)))
        .part(part(3, mat("4", "4"), base()).on_back());
    check(&sketch, &[(put(1), put(2), Why::LiesOn), (put(2), put(3), Why::OverLegs)], &[]);
}

#[test]
fn a_brad_through_a_pockets_front_is_set_before_the_pocket_is_glued() {
    let brad = part(2, closure(ClosureKind::Brad), of(1, 0));
    let sketch = gate().part(part(1, pocket("4", "4"), base())).part(brad.clone());
    check(&sketch, &[(cut(1), put(2), Why::HostMade), (put(2), put(1), Why::InsideOf)], &[]);
    // In the glue it goes through both.
    let in_glue = gate().part(part(1, pocket("4", "4"), base())).part(brad.moved("0", "1 3/4"));
    check(&in_glue, &[(put(1), put(2), Why::LiesOn)], &[]);
}

#[test]
fn what_lies_on_a_pockets_inside_goes_on_before_the_pocket() {
    let mut tag = part(2, mat("1", "1"), of(1, 0));
    (tag.place.face, tag.place.showing) = (Face::Back, Face::Back);
    let on_tag = part(3, closure(ClosureKind::Magnet), of(2, 0)).on_back();
    let sketch = gate().part(part(1, pocket("4", "4"), base())).part(tag).part(on_tag);
    let musts = [(put(2), put(1), Why::InsideOf), (put(3), put(1), Why::InsideOf)];
    check(&sketch, &musts, &[]);
}

#[test]
fn magnets_under_mats_come_first_and_a_mat_under_a_pocket_too() {
    let magnet = |id, across| part(id, closure(ClosureKind::Magnet), base()).moved(across, "0");
    let sketch = gate().part(part(1, mat("5", "5"), base())).part(magnet(2, "-1")).part(magnet(3, "1")).part(part(
        4,
        closure(ClosureKind::HookAndLoop),
        of(1, 0),
    ));
    let musts = [(put(2), put(1), Why::Behind), (put(3), put(1), Why::Behind), (put(1), put(4), Why::LiesOn)];
    check(&sketch, &musts, &[(put(2), put(3))]);
    let under = gate().part(part(1, pocket("5", "5"), base())).part(part(2, mat("4", "4"), base()));
    check(&under, &[(put(2), put(1), Why::OverItsGlue)], &[]);
}

#[test]
fn a_mat_under_a_gusseted_pocket_comes_first() {
    let glued = Edges::of(&[SheetEdge::Left, SheetEdge::Bottom, SheetEdge::Right]);
    let sketch =
        gate().part(part(1, pocket_glued("5", "5", glued, "1/2"), base())).part(part(2, mat("2", "2"), base()));
    check(&sketch, &[(put(2), put(1), Why::OverItsGlue), (fold(1), put(1), Why::MadeThenPut)], &[]);
}

#[test]
fn a_card_goes_in_by_the_mouth_or_is_laid_in_first() {
    let card = part(1, insert("3", "3"), base());
    let open = gate().part(card.clone()).part(part(2, pocket("4", "4"), base()));
    check(&open, &[(put(2), put(1), Why::GoesIn), (put(1), Job::Close, Why::Within)], &[]);
    let shut = pocket_glued("4", "4", Edges::of(&SheetEdge::ALL), "0");
    check(&gate().part(part(2, shut, base())).part(card.clone()), &[(put(1), put(2), Why::ClosedIn)], &[]);
    check(&gate().part(part(2, mat("4", "4"), base())).part(card), &[(put(1), put(2), Why::ClosedIn)], &[]);
    // On the pocket's own inside it is the same.
    let mut inside = part(3, insert("3", "3"), of(2, 0));
    (inside.place.face, inside.place.showing) = (Face::Back, Face::Back);
    let sketch = gate().part(part(2, pocket("4", "4"), base())).part(inside);
    check(&sketch, &[(put(2), put(3), Why::GoesIn)], &[]);
}

#[test]
fn pages_that_turn_do_not_hold_down_what_is_under_them() {
    // Each leaf covers the other's strip.
    let sketch = gate()
        .part(part(1, page("4", "6"), base()).moved("1/2", "0"))
        .part(part(2, page("4", "6"), base()).turned("180").moved("-1/2", "0"));
    check(&sketch, &[], &[(put(1), put(2))]);
    let on_hinge =
        gate().part(part(1, page("4", "6"), of(2, 1)).moved("2", "0")).part(part(2, hinge("6", "1/2"), base()));
    check(&on_hinge, &[(put(2), put(1), Why::LiesOn)], &[]);
}

#[test]
fn a_band_slides_on_last_with_what_is_on_it() {
    let sketch = gate().part(part(1, band(), base())).part(part(2, mat("1", "1"), of(1, 0))).part(part(
        3,
        mat("2", "2"),
        base(),
    ));
    let musts = [
        (Job::Close, put(1), Why::SlidesOn),
        (cut(1), put(2), Why::HostMade),
        (put(2), put(1), Why::InsideOf),
        (put(3), Job::Close, Why::WhileFlat),
    ];
    check(&sketch, &musts, &[(put(2), Job::Close)]);
    assert_eq!(sketch.making().jobs.last(), Some(&put(1)));
}

#[test]
fn what_lies_on_the_outside_may_go_on_when_the_folio_is_closed_but_comes_before_by_itself() {
    let right = PanelRef::Sheet(at("10 1/2", "8"));
    let left = PanelRef::Sheet(at("1 1/2", "8"));
    let cases = [
        (base(), Face::Front, false),
        (base(), Face::Back, true),
        (left, Face::Front, false),
        (left, Face::Back, true),
        (right, Face::Back, true),
    ];
    for (on, face, is_outside) in cases {
        let mut tag = part(1, mat("1", "1"), on);
        (tag.place.face, tag.place.showing) = (face, face);
        let making = gate().part(tag).making();
        let before = why(&making, put(1), Job::Close);
        assert_eq!(before, if is_outside { None } else { Some(Why::WhileFlat) }, "{on:?} {face:?}");
        assert_eq!(making.jobs.last(), Some(&Job::Close));
        assert_eq!(making.may_move(put(1), 99).is_ok(), is_outside);
    }
}

/// Flaps so wide that the right one lies over the left: what lies on the back of the left is inside. Folded the other way
/// round, what lies on the right is.
#[test]
fn the_flap_that_folds_last_has_the_outside() {
    for (steps, outside) in [([1, 2], 2), ([2, 1], 1)] {
        let mut sketch = Sketch::on("12x12in").fold(1, "4", Direction::Valley).fold(2, "8", Direction::Valley);
        sketch.0.steps = steps.map(|id| Step::of(vec![LineId(id)])).to_vec();
        for (id, x) in [(1, "2"), (2, "10")] {
            let mut tag = part(id, mat("1", "1"), PanelRef::Sheet(at(x, "6")));
            (tag.place.face, tag.place.showing) = (Face::Back, Face::Back);
            sketch = sketch.part(tag);
        }
        let making = sketch.making();
        for id in [1, 2] {
            assert_eq!(why(&making, put(id), Job::Close).is_none(), id == outside, "{steps:?} {id}");
        }
        // Tucked, nothing is certain.
        let tuck = model::Tucked { panel: PanelRef::Sheet(at("10", "6")), under: PanelRef::Sheet(at("2", "6")) };
        sketch.0.steps[1].tucks.push(tuck);
        assert!([1, 2].iter().all(|&id| why(&sketch.making(), put(id), Job::Close).is_some()));
    }
}

#[test]
fn an_accordions_last_leaf_shows_its_front() {
    // Valley at 3, mountain at 6: the base at the left, then a leaf front down, then one front up on top.
    let sketch = Sketch::on("9x6in").fold(1, "3", Direction::Valley).fold(2, "6", Direction::Mountain).base("1", "3");
    let mut sketch = sketch;
    // First the far leaf goes behind, then both come over.
    sketch.0.steps.reverse();
    let on = |x| PanelRef::Sheet(at(x, "3"));
    let sketch = sketch.part(part(1, mat("1", "1"), on("7 1/2"))).part(part(2, mat("1", "1"), on("4 1/2")));
    let making = sketch.making();
    assert_eq!(why(&making, put(1), Job::Close), None);
    assert_eq!(why(&making, put(2), Job::Close), Some(Why::WhileFlat));
}

#[test]
fn a_flap_that_folds_along_is_glued_before_closing() {
    let mut sketch = gate().part(part(1, flap("4", "2"), base()).on_back());
    let making = sketch.making();
    assert_eq!(why(&making, put(1), Job::Close), None);
    sketch.0.steps.push(Step { parts: vec![(PartId(1), LineId(1))], ..Step::default() });
    assert_eq!(why(&sketch.making(), put(1), Job::Close), Some(Why::FoldsAlong));
}

#[test]
fn parts_from_offcuts_wait_for_the_folio_to_be_cut_out() {
    let offcut = at("6", "1");
    for source in [Source::AnyOffcut, Source::Offcut(offcut), Source::Whole(offcut)] {
        let sketch = gate().part(part(1, hinge("2", "1/2"), base()).from(source));
        check(&sketch, &[(CUT, score(1), Why::ComesOff)], &[]);
        let has_cut = !matches!(source, Source::Whole(_));
        assert_eq!(sketch.making().jobs.contains(&cut(1)), has_cut);
    }
    check(&gate().part(part(1, hinge("2", "1/2"), base())), &[], &[(CUT, score(1)), (CUT, cut(1))]);
    let mat_of_offcut = gate().part(part(1, mat("1", "1"), base()).from(Source::AnyOffcut));
    check(&mat_of_offcut, &[(CUT, cut(1), Why::ComesOff)], &[]);
}

#[test]
fn only_jobs_that_there_are_are_listed() {
    #[track_caller]
    fn check(sketch: &Sketch, jobs: &[Job]) {
        assert_eq!(sketch.making().jobs, jobs);
    }
    let plain = || Sketch::on("12x12in");
    let on = PanelRef::Sheet(at("6", "6"));
    check(&plain(), &[]);
    check(&plain().part(part(1, mat("1", "1"), on)), &[cut(1), put(1)]);
    check(&plain().part(part(1, mat("1", "1"), on).from(Source::Bought)), &[put(1)]);
    check(&plain().part(part(1, hinge("4", "1"), on)), &[score(1), cut(1), fold(1), put(1)]);
    check(&plain().part(part(1, hinge("4", "1"), on).from(Source::Bought)), &[put(1)]);
    check(&plain().part(part(1, flap("4", "1"), on)), &[score(1), cut(1), put(1)]);
    check(&plain().part(part(1, band(), on)), &[cut(1), put(1)]);
    // On no panel, or of no size: nothing can be done with it.
    check(&plain().part(part(1, mat("1", "1"), PanelRef::Sheet(at("20", "6")))), &[]);
    check(&plain().part(part(1, mat("0", "1"), on)), &[]);
    check(&plain().fold(1, "6", Direction::Valley).base("3", "6"), &[SCORE, Job::Close]);
    check(
        &Sketch(Document { steps: Vec::new(), ..plain().fold(1, "6", Direction::Valley).base("3", "6").0 }),
        &[SCORE],
    );
}

/// The two orders that the maker asks for, and what comes of them.
#[test]
fn the_makers_order_is_kept_where_it_can_be() {
    let mut sketch = gate().part(part(1, mat("1", "1"), base())).part(part(2, mat("1", "1"), base()).moved("2", "0"));
    let legal = [SCORE, CUT, cut(2), put(2), cut(1), put(1), Job::Close];
    sketch.0.making = legal.to_vec();
    assert_eq!(sketch.making().jobs, legal);
    // Twice said, and of a part that is not there.
    sketch.0.making = vec![put(2), put(2), put(7), put(1)];
    assert_eq!(sketch.making().jobs, [SCORE, CUT, cut(1), cut(2), put(2), put(1), Job::Close]);
    // What must come before the first that she names is done early enough for it.
    sketch.0.making = vec![put(2), cut(1)];
    assert_eq!(sketch.making().jobs, [SCORE, CUT, cut(2), put(2), cut(1), put(1), Job::Close]);
    // Closing can't come first, so it comes where it can; the rest is as she wants it.
    sketch.0.making = vec![Job::Close, put(2), put(1)];
    assert_eq!(sketch.making().jobs, [SCORE, CUT, cut(1), cut(2), put(2), put(1), Job::Close]);
}

/// With gussets between base and flaps the flaps lie over them; a gusset itself stands.
#[test]
fn over_gussets_the_flap_that_folds_last_has_the_outside_too() {
    let mut sketch = Sketch::on("13x12in");
    for (id, x) in [(1, "4"), (2, "4 1/2"), (3, "8 1/2"), (4, "9")] {
        sketch = sketch.fold(id, x, Direction::Valley);
    }
    for line in &mut sketch.0.lines {
        let Work::Score(crease) = &mut line.work else { continue };
        crease.angle = FoldAngle::Square;
    }
    sketch.0.steps = vec![Step::of(vec![LineId(1), LineId(2)]), Step::of(vec![LineId(3), LineId(4)])];
    for (id, x) in [(1, "2"), (2, "11"), (3, "6 1/2"), (4, "8 3/4")] {
        let mut tag = part(id, mat("1/4", "1"), PanelRef::Sheet(at(x, "6"))).moved("0", "0");
        (tag.place.face, tag.place.showing) = (Face::Back, Face::Back);
        sketch = sketch.part(tag);
    }
    // At the middle of the left flap the right one, 4 in wide as well, lies over it.
    let making = sketch.making();
    let outside: Vec<u32> = (1..=4).filter(|&id| why(&making, put(id), Job::Close).is_none()).collect();
    assert_eq!(outside, [2, 3]);
}

/// On the back of the base hinges may be glued when the folio is closed, but what two of them hold goes round no one knows
/// what.
#[test]
fn what_is_glued_to_several_things_goes_on_before_closing() {
    let mut sketch = pocket_on_two_hinges();
    for hinge in &mut sketch.0.parts[..2] {
        hinge.place.face = Face::Back;
    }
    let making = sketch.making();
    let before = [1, 2, 3].map(|id| why(&making, put(id), Job::Close));
    assert_eq!(before, [None, None, Some(Why::Within)]);
}

/// Glued at one edge each, their free ends over the other's glue: either can be lifted.
#[test]
fn what_is_glued_at_one_edge_holds_nothing_down_beside_its_glue() {
    let tab = |glued| {
        let (width, height, strip) = (inches("2"), inches("1"), inches("1/4"));
        PartKind::Tab(Tab { width, height, glued, strip })
    };
    let sketch = gate().part(part(1, tab(SheetEdge::Left), base())).part(part(2, tab(SheetEdge::Right), base()));
    check(&sketch, &[], &[(put(1), put(2))]);
    // Both glued in the same place they are in each other's way.
    let same = gate().part(part(1, tab(SheetEdge::Left), base())).part(part(2, tab(SheetEdge::Left), base()));
    assert_eq!(same.making().circles.len(), 1);
}

/// The glue strips of gussets 1/4 in deep lie under the front: what lies beside the pocket is in nobody's way.
#[test]
fn folded_gussets_lie_under_the_front() {
    let glued = Edges::of(&[SheetEdge::Left, SheetEdge::Bottom, SheetEdge::Right]);
    let pocket = part(1, pocket_glued("4", "4", glued, "1/4"), base());
    let beside = |across| gate().part(pocket.clone()).part(part(2, mat("1", "1"), base()).moved(across, "0"));
    check(&beside("-2 3/4"), &[], &[(put(1), put(2))]);
    assert_eq!(beside("-1 3/4").making().circles.len(), 1);
}

/// A wall that stands when it is put in place covers nothing beside its foot; folded flat it covers what is under it.
#[test]
fn what_stands_up_covers_nothing() {
    for (angle, is_covered) in [(FoldAngle::Square, false), (FoldAngle::Flat, true)] {
        // A strip 1 in wide that is glued down, and a wall of 3 in at its right, folded back over it and beyond.
        let place = |distance| Place::Measured { turn: Turn::None, from: Datum::Edge, distance, run: Run::FULL };
        let crease = Crease { direction: Direction::Valley, angle, pressed: None };
        let own = Own {
            size: Size::parse("4x4in").unwrap(),
            lines: vec![Line::new(LineId(1), place(inches("1")), Work::Score(crease))],
            corners: Vec::new(),
            base: at("1/2", "2"),
            folded: vec![vec![LineId(1)]],
        };
        let wall = part(1, PartKind::Own(own), base()).glued_too(0, Face::Back, base(), GlueArea::Whole);
        let magnet = part(2, closure(ClosureKind::Magnet), base()).moved("-1 1/2", "0");
        let making = gate().part(wall).part(magnet).making();
        assert_eq!(why(&making, put(2), put(1)), is_covered.then_some(Why::Behind), "{angle:?}");
    }
}

/// As many parts as a document may hold, each over all others: every pair is a circle, and it is told soon.
#[test]
fn two_hundred_mats_on_one_another_are_listed_too() {
    let sketch = (1..=200).fold(gate(), |sketch, id| sketch.part(part(id, mat("2", "2"), base())));
    let making = sketch.making();
    assert_eq!(making.circles.len(), 200 * 199 / 2);
    assert_eq!(making.jobs.len(), 403);
    assert_eq!(making.broken(&making.jobs), None);
}
