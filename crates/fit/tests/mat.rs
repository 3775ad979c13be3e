//! Mats for the faces that show, and trays. Expected values worked out by hand.

#![expect(clippy::unwrap_used, reason = "a test may fail")]

mod common;

use common::{CLOSED, Derived, Sketch, id, inches, mm, pocket, seed_swap};
use fold::View;
use foliowright_fit::{Depth, Ends, MARGIN, MatFit, Sight, cut_list, mats, trays, words};
use model::part::{Edges, Flap, Mat};
use model::{Corner, CornerShape, Face, Length, PartKind, SheetEdge, Step, Unit, Which};

#[track_caller]
fn found(sketch: &Sketch) -> (Derived, Vec<MatFit>) {
    let derived = sketch.derived();
    let mats = mats(&sketch.0, &derived.layout, &derived.folding, MARGIN);
    (derived, mats)
}

fn said(mats: &[MatFit]) -> Vec<String> {
    mats.iter().map(|mat| words::mat(mat, Unit::Inch)).collect()
}

#[test]
fn every_face_of_the_seed_librarys_folio_has_its_mat() {
    let (_, mats) = found(&seed_swap());
    // Panels of 5 1/2 x 2 3/4, 3 x 4 1/4 twice, 5 1/2 x 4 1/2 and 5 1/2 x 4 1/4 in, each 1/4 in less; gussets are too narrow.
    assert_eq!(
        said(&mats),
        [
            "Top flap, front: 5 1/4 x 2 1/2 in",
            "Top flap, back: 5 1/4 x 2 1/2 in",
            "Base, front: 5 1/4 x 4 1/4 in",
            "Base, back: 5 1/4 x 4 1/4 in",
            "Left flap, front: 2 3/4 x 4 in",
            "Left flap, back: 2 3/4 x 4 in",
            "Right flap, front: 2 3/4 x 4 in",
            "Right flap, back: 2 3/4 x 4 in",
            "Bottom flap, front: 5 1/4 x 4 in",
            "Bottom flap, back: 5 1/4 x 4 in",
        ]
    );
    let cuts: Vec<String> = cut_list(&mats).iter().map(|cut| words::cut(cut, Unit::Inch)).collect();
    assert_eq!(
        cuts,
        [
            "2 mats of 5 1/4 x 4 1/4 in",
            "2 mats of 5 1/4 x 4 in",
            "2 mats of 5 1/4 x 2 1/2 in",
            "4 mats of 2 3/4 x 4 in",
        ]
    );
    assert_eq!(cut_list(&mats)[3].mats, [4, 5, 6, 7]);
}

#[test]
fn a_face_knows_when_it_is_seen() {
    // Left, right, bottom, top close one after the other.
    let (derived, mats) = found(&seed_swap());
    let stages = |name: &str, face: Face, view: View| -> Vec<usize> {
        let mat = mats.iter().find(|mat| (mat.name.as_str(), mat.face) == (name, face)).unwrap();
        mat.seen.iter().filter(|sight| sight.view == view).map(|sight| sight.stage).collect()
    };
    assert_eq!(stages("Base", Face::Back, View::Back), [0, 1, 2, 3, 4]);
    // Of the base only the left and right flaps' ends are short by 1/8 in; they meet over its middle.
    assert_eq!(stages("Left flap", Face::Front, View::Front), [0]);
    assert_eq!(stages("Left flap", Face::Back, View::Back), [0]);
    // Folded over, its back is up, until the bottom flap of 4 1/4 in covers it but for the 1/8 in that it does not reach.
    assert_eq!(stages("Left flap", Face::Back, View::Front), [1, 2, 3]);
    assert_eq!(stages("Top flap", Face::Back, View::Front), [4]);
    let told = |place: usize| words::seen(&mats[place], derived.folding.steps());
    assert_eq!(told(3), "from the back at every stage");
    assert_eq!(told(5), "from the front after step 1, after step 2 and after step 3; from the back flat");
    let outside: Vec<&str> =
        mats.iter().filter(|mat| mat.is_outside(&derived.folding)).map(|mat| mat.name.as_str()).collect();
    assert_eq!(outside, ["Top flap", "Base", "Bottom flap"]);
}

#[test]
fn a_pocket_takes_room_from_the_face_under_it() {
    // On 8 x 8 in a pocket of 8 x 3 in along the bottom: above it 8 x 5 in are left, and of its own front all.
    let sketch = Sketch::on("8x8in").base("4", "4").part(pocket("8", "3", &CLOSED, "0"), "0", "5");
    let (_, mats) = found(&sketch);
    assert_eq!(
        said(&mats),
        ["Base, front: 7 3/4 x 4 3/4 in", "Base, back: 7 3/4 x 7 3/4 in", "Pocket 1, front: 7 3/4 x 2 3/4 in"]
    );
    assert_eq!(
        (mats[0].at, mats[0].seen.as_slice()),
        (model::Point::new(MARGIN, MARGIN), [Sight { stage: 0, view: View::Front }].as_slice())
    );
}

#[test]
fn a_face_counts_as_it_shows_at_its_best() {
    // A flap's strip from 3 to 3 1/2 in; its leaf lies to the right of it up to 6 1/2 in, then folds over to the left. At first
    // 3 in and 1 1/2 in of the base are seen beside it, then 4 1/2 in and 1/2 in.
    let flap =
        PartKind::Flap(Flap { width: inches("8"), reach: inches("3"), edge: SheetEdge::Right, strip: inches("1/2") });
    let mut sketch = Sketch::on("8x8in").base("4", "4").part(flap, "3", "0");
    let fold = sketch.layout().parts[0].pattern.later[0];
    sketch.0.steps = vec![Step { parts: vec![(id(1), fold)], ..Step::default() }];
    let (_, mats) = found(&sketch);
    assert_eq!(words::mat(&mats[0], Unit::Inch), "Base, front: 4 1/4 x 7 3/4 in");
    assert_eq!(mats[0].at, common::at("3 5/8", "1/8"));
}

#[test]
fn a_face_with_a_mat_wants_no_other() {
    let mat = PartKind::Mat(Mat { width: inches("4"), height: inches("4") });
    let (_, mats) = found(&Sketch::on("8x8in").base("4", "4").part(mat, "1/2", "1/2"));
    assert_eq!(said(&mats), ["Base, back: 7 3/4 x 7 3/4 in"]);
}

#[test]
fn a_narrow_face_has_no_mat() {
    let strip = |wide: &str| found(&Sketch::on(&format!("{wide}x6in")).base("1/4", "3")).1;
    assert_eq!(said(&strip("47/64")), Vec::<String>::new());
    assert_eq!(said(&strip("3/4")), ["Base, front: 1/2 x 5 3/4 in", "Base, back: 1/2 x 5 3/4 in"]);
    let none = mats(
        &Sketch::on("6x6in").0,
        &Sketch::on("6x6in").layout(),
        &found(&Sketch::on("6x6in")).0.folding,
        inches("3"),
    );
    assert_eq!(none, []);
}

#[test]
fn a_panel_with_round_corners_has_a_mat_within_them() {
    let mut sketch = Sketch::on("6x6in").base("3", "3");
    let mark = sketch.0.base.unwrap();
    sketch.0.corners.push(Corner { mark, which: Which::AllOfPanel, shape: CornerShape::Round(inches("1")) });
    let (_, mats) = found(&sketch);
    // The square with its corners on the arcs is 2 (1 - 1/√2) in less, 5.414 in wide; an oblong is no larger. Of that 1/4 in is
    // margin: 5.164 in, 330.5 sixty-fourths.
    let (wide, high) = (mats[0].width, mats[0].height);
    let near = |length: Length| (length.mm() - inches("5 10/64").mm()).abs() <= inches("2/64").mm();
    assert!(near(wide) && near(high), "{} x {}", wide.text(Unit::Inch), high.text(Unit::Inch));
    assert!(wide.is_multiple_of(Length::SIXTY_FOURTH) && high.is_multiple_of(Length::SIXTY_FOURTH));
}

#[test]
fn the_seed_librarys_folio_is_a_tray() {
    let sketch = seed_swap();
    let derived = sketch.derived();
    let found = trays(&sketch.0, &derived.layout, &derived.assembly, &derived.folding);
    let [tray] = found.as_slice() else { panic!("{found:?}") };
    assert_eq!((tray.name.as_str(), tray.walls), ("Base", Edges::of(&SheetEdge::ALL)));
    // 139.7 x 114.3 mm less half a caliper of 0.3 mm for each wall.
    let room = &tray.room;
    assert_eq!((room.across.inner, room.down.inner), (mm(139.4), mm(114.0)));
    assert_eq!((room.across.closed, room.down.closed), (Ends::Both, Ends::Both));
    // The last gusset, of 6.35 mm, goes round three flaps of 0.3 mm and is 0.3 mm thick itself.
    assert_eq!(room.depth, Depth::Upright(mm(5.15)));
    assert_eq!(
        words::tray(tray, Unit::Millimetre),
        "On the base there is room for what is up to 136 x 110.5 mm, in a stack of up to 5.1 mm."
    );
    // Of plastic cards (ID-1, 0.76 mm) six spring to 4.79 mm, seven to 5.59.
    let bank = tray.cards.iter().find(|fit| fit.card.name.contains("ID-1")).unwrap();
    assert_eq!(bank.count, Some(6));
}

#[test]
fn a_folio_without_gussets_is_no_tray() {
    let sketch = Sketch::on("12x5in").valley(1, "4").base("6", "2 1/2").steps(&[&[1]]);
    let derived = sketch.derived();
    assert_eq!(trays(&sketch.0, &derived.layout, &derived.assembly, &derived.folding), []);
}
