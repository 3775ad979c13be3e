//! Where parts lie on their panel.

use crate::bench::{self, ID, laid, with};
use foliowright_model::part::{Anchor, AnchorFrom, Laid, Mat, Page, Placement, Rotation};
use foliowright_model::polygon::bounds;
use foliowright_model::{Face, Layout, Length, Part, PartKind, Point, SheetEdge};
use proptest::prelude::*;

const FACES: [Face; 2] = [Face::Front, Face::Back];
const FROM: [AnchorFrom; 3] = [AnchorFrom::Start, AnchorFrom::Middle, AnchorFrom::End];

fn at(x: i64, y: i64) -> Point {
    Point::new(Length::INCH * x, Length::INCH * y)
}

fn mat() -> PartKind {
    PartKind::Mat(Mat { width: Length::INCH * 6, height: Length::INCH * 2 })
}

fn placed(kind: PartKind, place: impl FnOnce(Placement) -> Placement) -> Layout {
    let part = bench::part(kind, Face::Front);
    with(Part { place: place(part.place), ..part })
}

fn laid_main(layout: &Layout) -> (Laid, (Point, Point)) {
    let part = layout.part(ID).unwrap();
    let laid = part.laid.unwrap();
    let main = part.panels.iter().find(|panel| panel.id == part.main).unwrap();
    let outline: Vec<Point> = main.outline.iter().map(|&point| laid.on_host(point)).collect();
    (laid, bounds(&outline))
}

#[test]
fn a_part_lies_as_far_from_its_panels_borders_as_said() {
    // A mat of 6 by 2 in on a panel of 40 by 40: 3 in inwards from a border, or to the right or down from the middle.
    let expected = |from: AnchorFrom, own: i64| match from {
        AnchorFrom::Start => 3,
        AnchorFrom::Middle => 20 - own / 2 + 3,
        AnchorFrom::End => 40 - own - 3,
    };
    for (across, down) in FROM.into_iter().flat_map(|across| FROM.map(|down| (across, down))) {
        for (face, showing) in FACES.into_iter().flat_map(|face| FACES.map(|showing| (face, showing))) {
            for (quarters, width, height) in [(0, 6, 2), (1, 2, 6), (2, 6, 2), (3, 2, 6)] {
                let rotation = Rotation::from_hundredths(9_000 * quarters);
                let anchor = |from| Anchor { from, distance: Length::INCH * 3 };
                let layout = placed(mat(), |place| {
                    let (across, down) = (anchor(across), anchor(down));
                    Placement { face, across, down, rotation, showing, ..place }
                });
                let low = (expected(across, width), expected(down, height));
                let (laid, found) = laid_main(&layout);
                assert_eq!(found, (at(low.0, low.1), at(low.0 + width, low.1 + height)), "{across:?} {down:?}");
                assert_eq!((laid.face, laid.turned_over), (face, face != showing));
            }
        }
    }
}

#[test]
fn a_quarter_turn_is_clockwise_as_drawn_after_turning_over() {
    // Where the upper left corner of the mat goes, of the rectangle in which it lies: by hand.
    let corner = |showing, quarters: i32| {
        let rotation = Rotation::from_hundredths(9_000 * quarters);
        let layout = placed(mat(), |place| Placement { rotation, showing, ..place });
        let (laid, (low, high)) = laid_main(&layout);
        let at = laid.on_host(Point::default());
        match (at.x == low.x, at.y == low.y) {
            (true, true) => "upper left",
            (false, true) => "upper right",
            (false, false) if at == high => "lower right",
            _ => "lower left",
        }
    };
    let turned = |showing| [0, 1, 2, 3, -1, 5].map(|quarters| corner(showing, quarters));
    let front = ["upper left", "upper right", "lower right", "lower left", "lower left", "upper right"];
    assert_eq!(turned(Face::Front), front);
    let back = ["upper right", "lower right", "lower left", "upper left", "upper left", "lower right"];
    assert_eq!(turned(Face::Back), back);
}

#[test]
fn a_part_is_placed_by_its_main_panel_and_not_by_its_strip() {
    let page =
        Page { width: Length::INCH * 10, height: Length::INCH * 4, hinged: SheetEdge::Left, strip: Length::INCH * 2 };
    let part = laid(PartKind::Page(page), Face::Front);
    let laid = part.laid.unwrap();
    // The leaf is in the middle of 40 by 40, and the strip to the left of it, before it is folded.
    assert_eq!(laid.on_host(at(2, 0)), at(15, 18));
    assert_eq!(laid.on_host(at(0, 0)), at(13, 18));
}

#[test]
fn a_part_turned_by_45_degrees_lies_in_the_middle_of_its_rectangle() {
    let layout = placed(mat(), |place| Placement { rotation: Rotation::from_hundredths(4_500), ..place });
    let (laid, (low, high)) = laid_main(&layout);
    // (6 + 2) in / sqrt 2 wide and high: 203.2 mm / 1.414 213 562 4 = 143.684 097 9 mm.
    let side = 143_684_098;
    let near = |length: Length, nm: i64| assert!((length.nm() - nm).abs() <= 3, "{length:?} is not {nm} nm");
    near(high.x - low.x, side);
    near(high.y - low.y, side);
    near(laid.on_host(at(3, 1)).x, 508_000_000);
    near(laid.on_host(at(3, 1)).y, 508_000_000);
}

fn length() -> impl Strategy<Value = Length> {
    (-300_000_000..300_000_000_i64).prop_map(Length::from_nm)
}

fn face() -> impl Strategy<Value = Face> {
    prop_oneof![Just(Face::Front), Just(Face::Back)]
}

fn anchor() -> impl Strategy<Value = Anchor> {
    let from = prop_oneof![Just(AnchorFrom::Start), Just(AnchorFrom::Middle), Just(AnchorFrom::End)];
    (from, length()).prop_map(|(from, distance)| Anchor { from, distance })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// There and back again is exact for quarter turns, and to two roundings at any other angle.
    #[test]
    fn a_place_on_the_part_is_found_again(
        (across, down, face, showing) in (anchor(), anchor(), face(), face()),
        rotation in prop_oneof![(0..4).prop_map(|quarters| quarters * 9_000), 0..36_000],
        (x, y) in (length(), length()),
    ) {
        let rotation = Rotation::from_hundredths(rotation);
        let layout = placed(mat(), |place| Placement { across, down, face, rotation, showing, ..place });
        let laid = layout.parts[0].laid.unwrap();
        let point = Point::new(x, y);
        let back = laid.on_part(laid.on_host(point));
        let slack = if rotation.quarters().is_some() { 0 } else { 2 };
        prop_assert!((back.x - x).nm().abs() <= slack && (back.y - y).nm().abs() <= slack, "{:?} {:?}", point, back);
    }

    /// Moving an anchor to where something lies keeps it there, from whatever it is measured.
    #[test]
    fn anchors_say_the_same_place(anchor in anchor(), start in length(), low in length(), own in length()) {
        let high = low + Length::INCH * 40;
        let moved = anchor.moved_to(start, low, high, own.abs());
        prop_assert_eq!(moved.start(low, high, own.abs()), start);
        prop_assert_eq!(moved.from, anchor.from);
    }
}
