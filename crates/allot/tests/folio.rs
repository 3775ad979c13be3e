//! What makers ask: parts from the corners and strips of one sheet, and what is said where that does not work.

#![expect(clippy::unwrap_used, reason = "a test may fail")]

extern crate nest as foliowright_nest;

mod common;

use common::{Sketch, at, four_flaps, hinge, length, mat, stop};
use foliowright_allot::{Allotment, GrainWish, OffcutPaper, Origin, Settings, Standing};
use model::part::{Anchor, AnchorFrom, Edges, Own, PanelCorner, Placement, Pocket, Rotation, Source, TuckCorner};
use model::{
    Border, Corner, CornerShape, Face, FurtherStock, Grain, Length, PanelRef, PartId, PartKind, Pattern, PieceId,
    SheetEdge, Size, Stock, StockId, Stop, Turn, Unit, Which, Work,
};
use nest::Knife;

/// Where a part comes from, in few words.
fn origin(found: &Allotment, id: u32) -> String {
    match &found.supply(PartId(id)).unwrap().from {
        Origin::Offcut { name, cutout, whole, .. } => {
            let how = if *whole { "all of " } else { "" };
            format!("{how}{name}, turned by {}", cutout.quarters)
        }
        Origin::Sheet { stock, sheet, cutout } => {
            let stock = stock.map_or("own paper".to_owned(), |id| format!("paper {}", id.0));
            format!("sheet {sheet} of {stock}, turned by {}", cutout.quarters)
        }
        Origin::Bought => "bought".to_owned(),
        Origin::Missing(why) => why.to_string(),
    }
}

#[track_caller]
fn check(sketch: &Sketch, expected: &[&str]) -> Allotment {
    let (_, found) = sketch.allotted();
    let origins: Vec<String> = (1..).take(sketch.0.parts.len()).map(|id| origin(&found, id)).collect();
    assert_eq!(origins, expected);
    found
}

/// A strip 4 in wide on the left of a 12 in square, beside the base.
fn strip() -> Sketch {
    Sketch::on("12x12in").cut(1, Turn::None, "4").base("8", "6")
}

#[test]
fn hinges_come_from_one_strip() {
    let any = Source::AnyOffcut;
    let sketch = strip().part(hinge("1", "12"), any).part(hinge("1", "12"), any).part(hinge("2", "12"), any);
    let found = check(&sketch, &["Offcut 1, turned by 0"; 3]);
    let sentences: Vec<&str> = found.offcuts[0].cuts.iter().map(|cut| cut.sentence.as_str()).collect();
    assert_eq!(sentences.len(), 2, "the strip is used up with two cuts: {sentences:?}");
    assert!(sentences[0].starts_with("Offcut 1: cut "), "{}", sentences[0]);
    assert_eq!((found.standing, found.offcuts[0].remainders.len()), (Standing::Proved, 0));
    assert!((found.ledger.use_per_cent() - 100.0).abs() < 1e-9);
}

#[test]
fn cuts_are_said_as_they_are_made() {
    let found = check(&strip().part(mat("3", "4"), Source::AnyOffcut), &["Offcut 1, turned by 1"]);
    let sentences: Vec<&str> = found.offcuts[0].cuts.iter().map(|cut| cut.sentence.as_str()).collect();
    assert_eq!(sentences, ["Offcut 1: cut 3 in from the top edge, left to right; that gives \"Mat 1\" above."]);
    // 8 of 12 columns are folio, and the mat is 12 of 144 square inches.
    assert!((found.ledger.use_per_cent() - (100.0 * 108.0 / 144.0)).abs() < 1e-9);
    assert!((found.ledger.folio_per_cent() - (100.0 * 96.0 / 144.0)).abs() < 1e-9);
}

#[test]
fn a_part_without_its_offcut_says_what_there_is() {
    let any = Source::AnyOffcut;
    check(
        &strip().part(mat("5", "5"), any),
        &[
            "\"Mat 1\" needs 5 x 5 in, and no such place is left; the largest rectangle, in Offcut 1, is 4 x 12 in: make \
           the part smaller, or cut it from a further sheet.",
        ],
    );
    check(
        &Sketch::on("12x12in").part(mat("1", "1"), any),
        &["\"Mat 1\" needs 1 x 1 in, and no offcut is left; make it smaller, or cut it from a further sheet."],
    );
    let found = check(
        &strip().part(mat("4", "12"), any).part(mat("4", "11"), any),
        &[
            "Offcut 1, turned by 0",
            "\"Mat 2\" needs 4 x 11 in, and no offcut is left; make it smaller, or cut it from a further sheet.",
        ],
    );
    assert_eq!((found.standing, found.offcuts[0].cuts.len()), (Standing::Proved, 1));
    assert_eq!(found.offcuts[0].cuts[0].sentence, "Offcut 1 is \"Mat 1\" as it is.");
}

#[test]
fn a_whole_offcut_has_to_do_for_its_part() {
    let corner = |x: &str, y: &str| Source::Whole(at(x, y));
    let found = check(
        &four_flaps()
            .part(mat("3", "3"), corner("1", "1"))
            .part(mat("3", "2"), corner("11", "1"))
            .part(mat("3", "3 1/2"), corner("1", "11"))
            .part(mat("1", "1"), corner("1", "1"))
            .part(mat("1", "1"), corner("6", "6"))
            .part(mat("1", "1"), Source::Offcut(at("11", "1"))),
        &[
            "all of Offcut 1, turned by 0",
            "all of Offcut 2, turned by 0",
            "\"Mat 3\" is 3 x 3 1/2 in, and Offcut 3 is 3 x 3 in; make the part smaller, or choose another offcut.",
            "Offcut 1 is taken whole by \"Mat 1\"; choose another offcut for \"Mat 4\".",
            "The paper marked for \"Mat 5\" is part of the folio; cut it away, or choose an offcut.",
            "Offcut 2 is taken whole by \"Mat 2\"; choose another offcut for \"Mat 6\".",
        ],
    );
    let sentence = |at: usize| found.offcuts[at].cuts[0].sentence.as_str();
    assert_eq!(sentence(0), "Offcut 1 is \"Mat 1\" as it is.");
    assert_eq!(sentence(1), "Offcut 2: trim it to \"Mat 2\", 3 x 2 in around.");
}

#[test]
fn a_triangle_is_a_tuck_corner_as_it_is() {
    let tuck = |corner: PanelCorner| {
        PartKind::TuckCorner(TuckCorner {
            across: length("4"),
            down: length("4"),
            corner,
            band: Length::ZERO,
            strip: length("1/4"),
        })
    };
    // The sheet's lower right corner, 4 in along both edges.
    let cut = || Sketch::on("12x12in").cut_between(1, at("8", "12"), at("12", "8")).base("4", "4");
    check(
        &cut().part(tuck(PanelCorner::BottomRight), Source::Whole(at("11", "11"))),
        &["all of Offcut 1, turned by 0"],
    );
    // Without a pattern it may be turned; what comes from any offcut takes one of its shape as it is.
    check(&cut().part(tuck(PanelCorner::TopLeft), Source::AnyOffcut), &["all of Offcut 1, turned by 2"]);
    let mut printed = cut().part(tuck(PanelCorner::TopLeft), Source::Whole(at("11", "11")));
    printed.0.stock.front.pattern = Pattern::OneWay(SheetEdge::Top);
    check(
        &printed,
        &[
            "\"Tuck corner 1\" (4 x 4 in) lies within Offcut 1 (4 x 4 in) only turned, so that its pattern or grain would \
           not run as it should; turn it on its panel, or choose another offcut.",
        ],
    );
    // The largest rectangle in it is half of each leg (the vertex of x (4 - x)).
    let found = check(&cut().part(mat("2", "2"), Source::AnyOffcut), &["Offcut 1, turned by 0"]);
    assert_eq!(
        found.offcuts[0].cuts[0].sentence,
        "Offcut 1: cut out a rectangle of 2 x 2 in, 2 in from its left and 2 in from its top."
    );
    assert!(origin(&cut().part(mat("2", "2 1/64"), Source::AnyOffcut).allotted().1, 1).contains("no such place"));
}

#[test]
fn a_clipped_offcut_is_used_by_the_rectangles_in_it() {
    let clipped = || {
        let mut sketch = strip();
        let shape = CornerShape::Clip(length("1"));
        let which = Which::Between(Border::Edge(SheetEdge::Top), Border::Edge(SheetEdge::Left));
        sketch.0.corners.push(Corner { mark: at("2", "6"), which, shape });
        sketch
    };
    let found = check(&clipped().part(mat("4", "11"), Source::AnyOffcut), &["Offcut 1, turned by 0"]);
    let OffcutPaper::Rectangles(rects) = &found.offcuts[0].paper else { panic!("it slants") };
    let sizes: Vec<String> = rects.iter().map(|rect| rect.size.text(Unit::Inch)).collect();
    assert_eq!(sizes, ["4 x 11 in", "3 x 1 in", "1/2 x 1/2 in"]);
    // A hinge of the strip's whole length wants another rectangle than the largest, and with it there is one for a mat.
    let any = Source::AnyOffcut;
    check(&clipped().part(hinge("1", "12"), any).part(mat("1", "10"), any), &["Offcut 1, turned by 0"; 2]);
}

#[test]
fn an_angular_offcut_is_cut_from_its_inner_corner() {
    // The base is the lower right of the sheet; what is left of it is an L of 4 in and 3 in.
    let sketch = Sketch::on("12x12in")
        .score(1, Turn::None, "4")
        .score(2, Turn::Once, "3")
        .cut_along(3, 1, stop(2), Stop::Edge)
        .cut_along(4, 2, Stop::Edge, stop(1))
        .base("8", "8");
    let found = check(&sketch.part(mat("4", "9"), Source::AnyOffcut), &["Offcut 1, turned by 0"]);
    let cuts = &found.offcuts[0].cuts;
    assert_eq!(found.offcuts[0].paper, OffcutPaper::Exact);
    assert_eq!(
        cuts[0].sentence,
        "Offcut 1: cut from the inner corner 4 in from its left and 3 in from its top straight left to the edge."
    );
}

#[test]
fn a_removed_part_gives_its_offcut_back() {
    let named = |x: &str, y: &str| Source::Offcut(at(x, y));
    let with = four_flaps()
        .part(mat("3", "2"), named("1", "11"))
        .part(mat("2", "3"), named("11", "11"))
        .part(mat("3", "3"), Source::Whole(at("1", "1")));
    let (_, before) = with.allotted();
    assert_eq!(before.offcuts.iter().filter(|offcut| !offcut.is_untouched).count(), 3);
    for gone in 0..3 {
        let mut without = Sketch(with.0.clone());
        let id = without.0.parts.remove(gone).id;
        let (_, after) = without.allotted();
        let Origin::Offcut { piece, .. } = &before.supply(id).unwrap().from else { panic!("it came from an offcut") };
        let offcut = after.offcut(*piece).unwrap();
        assert!(offcut.is_untouched && offcut.cuts.is_empty(), "{offcut:?}");
        assert_eq!((offcut.ledger.left, offcut.remainders.len()), (offcut.ledger.whole, 1));
    }
}

#[test]
fn what_names_an_offcut_leaves_room_for_what_does_not() {
    // One after the other the mat would lie so that neither rest holds the hinge; together they fill the offcut.
    let sketch = strip().part(mat("4", "9"), Source::Offcut(at("2", "2"))).part(hinge("3", "4"), Source::AnyOffcut);
    let found = check(&sketch, &["Offcut 1, turned by 0", "Offcut 1, turned by 1"]);
    assert_eq!(found.offcuts[0].remainders, []);
}

#[test]
fn further_sheets_are_counted_and_cut() {
    let mut sketch = strip();
    let kraft = Stock { name: "Kraft".to_owned(), ..Stock::plain(Size::parse("8 1/2x11in").unwrap()) };
    sketch.0.further_stocks.push(FurtherStock { id: StockId(7), stock: kraft });
    for _ in 0..3 {
        sketch = sketch.part(mat("8", "5"), Source::Stock(StockId(7)));
    }
    let sketch = sketch
        .part(mat("12", "12"), Source::FolioStock)
        .part(mat("13", "1"), Source::FolioStock)
        .part(mat("1", "1"), Source::Stock(StockId(8)))
        .part(mat("1", "1"), Source::Bought);
    let found = check(
        &sketch,
        &[
            "sheet 1 of paper 7, turned by 0",
            "sheet 1 of paper 7, turned by 0",
            "sheet 2 of paper 7, turned by 0",
            "sheet 1 of own paper, turned by 0",
            "\"Mat 5\" is 13 x 1 in, and a sheet of its paper is 12 x 12 in, too small; make the part smaller, or choose a \
             larger paper.",
            "\"Mat 6\" is of paper 8, which is not in the design; choose another paper.",
            "bought",
        ],
    );
    let counts: Vec<(usize, u32)> = found.sheets.iter().map(|sheets| (sheets.sheets.len(), sheets.at_least)).collect();
    assert_eq!(counts, [(1, 1), (2, 2)]);
    assert!(found.sheets[1].sheets[0].cuts[0].sentence.starts_with("Sheet 1 of \"Kraft\": cut "));
}

#[test]
fn the_knife_takes_its_width_and_rough_edges_go_first() {
    let knife = Knife { kerf: length("1/16"), edge: length("1/8") };
    let settings = Settings { knife, ..Settings::default() };
    // 12 in less two edges of 1/8 in and a kerf of 1/16 in leave two of 5 27/32 in and no more.
    for (long, fits) in [("5 27/32", true), ("5 55/64", false)] {
        let sketch = strip().part(mat("3 3/4", long), Source::AnyOffcut).part(mat("3 3/4", long), Source::AnyOffcut);
        let (_, found) = sketch.allotted_with(&settings);
        assert_eq!(found.is_complete(), fits, "{long}");
        assert_eq!(found.offcuts[0].cuts[0].sentence, "Offcut 1: trim 1/8 in off the left edge.");
    }
}

/// How a part is turned in a strip 6 in wide, printed with an up towards an edge.
#[track_caller]
fn turned(up: SheetEdge, host: (&str, &str), face: Face, rotation: Rotation, showing: Face, quarters: u8) {
    // A folio of 6 by 12 in with a fold across and one down, on the right of the sheet.
    let mut sketch = Sketch::on("12x12in")
        .cut(1, Turn::None, "6")
        .score(2, Turn::Once, "8")
        .score(3, Turn::None, "9")
        .base("7 1/2", "4");
    sketch.0.stock.side_mut(showing).pattern = Pattern::OneWay(up);
    let place = Placement { face, rotation, showing, ..Placement::centred(PanelRef::Sheet(at(host.0, host.1))) };
    let found =
        check(&sketch.placed(mat("2", "1"), Source::AnyOffcut, place), &[&format!("Offcut 1, turned by {quarters}")]);
    assert_eq!(found.supplies[0].notes, []);
}

#[test]
fn a_pattern_is_upright_where_it_is_seen() {
    use SheetEdge::{Bottom, Left, Right, Top};
    const BASE: (&str, &str) = ("7 1/2", "4");
    const LOWER: (&str, &str) = ("7 1/2", "11");
    const RIGHT: (&str, &str) = ("11", "4");
    const BOTH: (&str, &str) = ("11", "11");
    let (front, back) = (Face::Front, Face::Back);
    let quarter = Rotation::QUARTER;
    let half = quarter.plus(quarter);
    for (up, quarters) in [(Top, 0), (Right, 1), (Bottom, 2), (Left, 3)] {
        turned(up, BASE, front, Rotation::NONE, front, quarters);
    }
    // Turned clockwise on its panel, its left edge is up, so it is cut out turned clockwise.
    turned(Top, BASE, front, quarter, front, 1);
    turned(Top, BASE, front, half, front, 2);
    // What is seen of the front is seen while the folio is open.
    for host in [LOWER, RIGHT, BOTH] {
        turned(Top, host, front, Rotation::NONE, front, 0);
    }
    // The lower flap comes up, so what is upright on its back lies head down on the sheet; the right one comes over
    // sideways, the corner panel both ways, and its back is on the back of the closed folio.
    turned(Top, LOWER, back, Rotation::NONE, front, 2);
    turned(Top, LOWER, back, half, front, 0);
    turned(Top, RIGHT, back, Rotation::NONE, front, 0);
    turned(Top, BOTH, back, Rotation::NONE, front, 2);
    turned(Top, BASE, back, Rotation::NONE, front, 0);
    // The part's own back seen on a front: turned over sideways, which leaves up where it was. A quarter clockwise on the
    // panel then brings its right edge up.
    turned(Top, BASE, front, Rotation::NONE, back, 0);
    turned(Top, BASE, front, quarter, back, 3);
    turned(Top, LOWER, back, Rotation::NONE, back, 2);
}

#[test]
fn a_part_on_a_part_is_upright_too() {
    let mut sketch = strip();
    sketch.0.stock.front.pattern = Pattern::OneWay(SheetEdge::Top);
    let turned = Placement { rotation: Rotation::QUARTER, ..Placement::centred(PanelRef::Sheet(at("8", "6"))) };
    // A page turned by a quarter carries a mat turned back by a quarter.
    let sketch = sketch.placed(mat("4", "2"), Source::AnyOffcut, turned);
    let back = Rotation::from_hundredths(-9_000);
    let on_it = Placement { rotation: back, ..Placement::centred(PanelRef::Part(PartId(1), 0)) };
    let found = check(
        &sketch.placed(mat("2", "1"), Source::AnyOffcut, on_it),
        &["Offcut 1, turned by 1", "Offcut 1, turned by 0"],
    );
    assert!(found.supplies.iter().all(|supply| supply.notes.is_empty()));
    let mut askew = strip();
    askew.0.stock.front.pattern = Pattern::OneWay(SheetEdge::Top);
    let place =
        Placement { rotation: Rotation::from_hundredths(1_500), ..Placement::centred(PanelRef::Sheet(at("8", "6"))) };
    let found = check(&askew.placed(mat("2", "1"), Source::AnyOffcut, place), &["Offcut 1, turned by 0"]);
    assert_eq!(
        found.supplies[0].notes.iter().map(ToString::to_string).collect::<Vec<_>>(),
        ["\"Mat 1\" is turned by no quarter, so its pattern is cut upright at the nearest quarter."]
    );
}

#[test]
fn a_pattern_may_keep_a_part_from_fitting() {
    let mut sketch = strip().part(mat("12", "4"), Source::AnyOffcut);
    check(&sketch, &["Offcut 1, turned by 1"]);
    sketch.0.stock.front.pattern = Pattern::OneWay(SheetEdge::Top);
    let (_, found) = sketch.allotted();
    assert!(
        origin(&found, 1).contains("needs 12 x 4 in upright as its pattern or grain wants it"),
        "{}",
        origin(&found, 1)
    );
    sketch.0.stock.front.pattern = Pattern::AnyWay;
    check(&sketch, &["Offcut 1, turned by 1"]);
}

#[test]
fn a_fold_across_the_grain_is_noted_and_kept_when_asked() {
    let mut sketch =
        Sketch::on("12x12in").cut(1, Turn::Once, "4").base("6", "8").part(hinge("1", "5"), Source::AnyOffcut);
    sketch.0.stock.grain = Some(Grain::Level);
    let keep = Settings { grain: GrainWish::Keep, ..Settings::default() };
    let (_, found) = sketch.allotted_with(&keep);
    assert_eq!((origin(&found, 1).as_str(), found.supplies[0].notes.len()), ("Offcut 1, turned by 1", 0));
    // 5 in long and 4 in of height: along the grain it would have to stand upright.
    sketch.0.stock.grain = Some(Grain::Upright);
    let (_, found) = sketch.allotted_with(&keep);
    assert!(!found.is_complete());
    let (_, found) = sketch.allotted();
    let note = "The fold of \"Hinge 1\" runs across the grain; score it well, or have it keep to the grain.";
    assert_eq!(origin(&found, 1), "Offcut 1, turned by 1");
    assert_eq!(found.supplies[0].notes[0].to_string(), note);
}

#[test]
fn a_pockets_own_cut_offs_are_in_the_ledger() {
    let pocket = Pocket {
        width: length("2"),
        height: length("2"),
        glued: Edges::of(&[SheetEdge::Left, SheetEdge::Right, SheetEdge::Bottom]),
        strip: length("1/4"),
        rim: Length::ZERO,
        gusset: length("1/4"),
    };
    let found = check(&strip().part(PartKind::Pocket(pocket), Source::AnyOffcut), &["Offcut 1, turned by 0"]);
    // A pattern of 3 by 2 1/2 in without the corners below: 1/2 in square each, and where two gussets meet the upright one
    // stops short by another 1/4 in.
    let cut_offs = 2.0 * (0.5 * 0.75) * 645.16;
    assert!((found.ledger.cut_offs.mm2() - cut_offs).abs() < 1e-6, "{}", found.ledger.cut_offs.mm2());
}

#[test]
fn a_window_or_a_slit_is_kept_clear_of() {
    // A slit from the upper edge down the middle of the strip, 6 in long.
    let slit = |sketch: Sketch| sketch.cut_between(9, at("2", "0"), at("2", "6"));
    let found = check(
        &slit(strip())
            .part(mat("4", "6"), Source::AnyOffcut)
            .part(mat("2", "6"), Source::AnyOffcut)
            .part(mat("2", "6"), Source::AnyOffcut),
        &["Offcut 1, turned by 0"; 3],
    );
    assert!(found.is_complete());
    let (_, found) = slit(strip()).part(mat("4", "6 1/64"), Source::AnyOffcut).allotted();
    assert!(!found.is_complete());
}

#[test]
fn a_part_of_the_offcuts_own_shape_takes_it() {
    // An L of 4 in and 3 in again, and the same L as a part, marked to be placed by its long arm.
    let sketch = Sketch::on("12x12in")
        .score(1, Turn::None, "4")
        .score(2, Turn::Once, "3")
        .cut_along(3, 1, stop(2), Stop::Edge)
        .cut_along(4, 2, Stop::Edge, stop(1))
        .base("8", "8");
    let lines = sketch.0.lines.iter().filter(|line| line.work == Work::Cut || line.work.is_score()).cloned().collect();
    let own = Own { size: sketch.0.stock.size, lines, corners: Vec::new(), base: at("1", "1"), folded: Vec::new() };
    let found = check(&sketch.part(PartKind::Own(own), Source::AnyOffcut), &["all of Offcut 1, turned by 0"]);
    let ledger = &found.offcut(PieceId(1)).unwrap().ledger;
    assert_eq!((ledger.used(), ledger.cut_offs.half_nm2()), (ledger.whole, 0));
}

#[test]
fn a_part_without_a_place_says_why() {
    let nowhere = Placement::centred(PanelRef::Sheet(at("2", "2")));
    check(
        &strip().placed(mat("1", "1"), Source::AnyOffcut, nowhere),
        &["\"Mat 1\" lies on no panel of the folio; put it on one."],
    );
}

#[test]
fn a_cutout_leads_from_the_parts_sheet_to_the_paper() {
    let anchor = Anchor { from: AnchorFrom::Start, distance: Length::ZERO };
    let place = Placement { across: anchor, ..Placement::centred(PanelRef::Sheet(at("8", "6"))) };
    let (_, found) = strip().placed(mat("3", "4"), Source::AnyOffcut, place).allotted();
    let Origin::Offcut { cutout, .. } = &found.supplies[0].from else { panic!("it has paper") };
    // Turned clockwise by a quarter: the part's upper left corner is at the upper right of its rectangle.
    assert_eq!((cutout.quarters, cutout.on_paper(at("0", "0"))), (1, at("4", "0")));
    assert_eq!((cutout.on_paper(at("3", "0")), cutout.on_paper(at("3", "4"))), (at("4", "3"), at("0", "3")));
}
