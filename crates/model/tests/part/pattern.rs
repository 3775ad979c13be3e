//! Patterns by hand: panels, areas, glue, folds and how far they reach when folded. Each in eighths of an inch, in whole
//! millimetres and in an odd number of nanometres; the counts are the same.

use crate::bench::{self, extent, folded, glue_area, laid, squares, steps, with};
use foliowright_model::part::pattern::PartPattern;
use foliowright_model::part::{
    Band, Closure, ClosureKind, Edges, Flap, Hinge, Insert, Mat, Own, Page, PanelCorner, PartFault, Pocket, Tab,
    TuckCorner,
};
use foliowright_model::{
    Crease, Direction, Face, Length, Line, LineId, PartKind, PartLayout, Place, Point, Run, SheetEdge, Size, Turn, Work,
};
use foliowright_model::{Datum, FoldAngle};

const GRIDS: [Length; 3] = [Length::EIGHTH, Length::MILLIMETRE, Length::from_nm(999_998)];

/// A part in words: each panel with its size and area; its glue; its folds before and after, M or V as seen from its front;
/// the rectangle it takes when folded, from the upper left corner of the main panel.
fn said(part: &PartLayout, showing: Face, grid: Length) -> String {
    let mut lines = Vec::new();
    let short = |name: &str| name.strip_prefix(&format!("{}, ", part.name)).unwrap_or("main").to_owned();
    for panel in &part.panels {
        let (width, height) = panel.extent();
        let mut line = format!("{} {} x {}", short(&panel.name), steps(width, grid), steps(height, grid));
        line += &format!(" = {}", squares(panel.area, grid));
        for glue in part.glue.iter().filter(|glue| glue.panels[0] == panel.id && !glue.area.is_empty()) {
            line += &format!(", glue {} {}", glue.face.word(), squares(glue_area(glue), grid));
        }
        lines.push(line);
    }
    let fold = |line: &LineId| {
        let own: Vec<_> = part.folds.iter().filter(|fold| part.lines[line] == fold.line).collect();
        assert_eq!(own.len(), 1, "a line folds once");
        if own[0].crease.direction == Direction::Valley { "V" } else { "M" }
    };
    if !part.folds.is_empty() {
        let before: String = part.pattern.before.iter().flatten().map(fold).collect();
        let later: String = part.pattern.later.iter().map(fold).collect();
        assert_eq!(before.len() + later.len(), part.folds.len(), "every fold is folded");
        lines.push(format!("folds {before}/{later}"));
    }
    let (low, high) = extent(part, showing);
    let main = part.panels.iter().find(|panel| panel.id == part.main).unwrap().bounds().0;
    let at = |a: Length, b: Length| steps(a - b, grid);
    lines.push(format!(
        "lies {}..{} x {}..{}",
        at(low.x, main.x),
        at(high.x, main.x),
        at(low.y, main.y),
        at(high.y, main.y)
    ));
    lines.join("; ")
}

#[track_caller]
fn check(kind: impl Fn(&dyn Fn(i64) -> Length) -> PartKind, showing: Face, expected: &str) {
    for grid in GRIDS {
        let kind = kind(&|count| grid * count);
        let part = laid(kind, showing);
        assert_eq!(said(&part, showing, grid), expected, "in steps of {grid:?}");
    }
}

/// The same with the front and with the back seen: folds and glue change sides, and nothing else.
#[track_caller]
fn check_both(kind: impl Fn(&dyn Fn(i64) -> Length) -> PartKind, with_front: &str) {
    check(&kind, Face::Front, with_front);
    let swap = |text: &str, a: &str, b: &str| text.replace(a, "#").replace(b, a).replace('#', b);
    let folds = |text: &str| if text.starts_with("folds") { swap(text, "V", "M") } else { text.to_owned() };
    let with_back: Vec<String> = swap(with_front, "glue back", "glue front").split("; ").map(folds).collect();
    check(&kind, Face::Back, &with_back.join("; "));
}

type Grid<'a> = &'a dyn Fn(i64) -> Length;

#[test]
fn a_hinge_is_glued_by_one_leaf_and_folded_over_it() {
    let hinge = |n: Grid<'_>| PartKind::Hinge(Hinge { length: n(20), leaf: n(4), free_leaf: n(6) });
    check_both(hinge, "glued leaf 4 x 20 = 80, glue back 80; free leaf 6 x 20 = 120; folds V/; lies -2..4 x 0..20");
}

/// A pocket of 20 by 12 with these edges glued 2 wide.
fn pocket<'a>(edges: &'a [SheetEdge], rim: i64, gusset: i64) -> impl Fn(Grid<'_>) -> PartKind + 'a {
    move |n| {
        let (rim, gusset, glued) = (n(rim), n(gusset), Edges::of(edges));
        PartKind::Pocket(Pocket { width: n(20), height: n(12), glued, strip: n(2), rim, gusset })
    }
}

#[test]
fn a_flat_pocket_is_glued_along_its_edges() {
    use SheetEdge::{Bottom, Left, Right, Top};
    let flat = |edges: &[SheetEdge], glue: &str| {
        check_both(pocket(edges, 0, 0), &format!("main 20 x 12 = 240{glue}; lies 0..20 x 0..12"));
    };
    flat(&[], "");
    flat(&[Bottom], ", glue back 40");
    flat(&[Left], ", glue back 24");
    // 240 less 18 by 10.
    flat(&[Left, Bottom], ", glue back 60");
    flat(&[Top, Bottom], ", glue back 80");
    flat(&[Left, Right], ", glue back 48");
    // 240 less 16 by 10.
    flat(&[Left, Bottom, Right], ", glue back 80");
    // 240 less 16 by 8.
    flat(&[Top, Right, Bottom, Left], ", glue back 112");
}

#[test]
fn a_rim_is_folded_over_the_front_at_the_mouth() {
    use SheetEdge::{Bottom, Left, Right, Top};
    let main = "main 20 x 12 = 240, glue back";
    check_both(
        pocket(&[Left, Bottom, Right], 3, 0),
        &format!("rim 20 x 3 = 60; {main} 80; folds V/; lies 0..20 x 0..12"),
    );
    check_both(pocket(&[Left, Top, Right], 3, 0), &format!("{main} 80; rim 20 x 3 = 60; folds V/; lies 0..20 x 0..12"));
    check_both(
        pocket(&[Left, Top, Bottom], 3, 0),
        &format!("{main} 96; rim 3 x 12 = 36; folds V/; lies 0..20 x 0..12"),
    );
    check_both(
        pocket(&[Right, Top, Bottom], 3, 0),
        &format!("rim 3 x 12 = 36; {main} 96; folds V/; lies 0..20 x 0..12"),
    );
    // Longer than the front is high, it hangs down over it.
    check_both(
        pocket(&[Left, Bottom, Right], 15, 0),
        &format!("rim 20 x 15 = 300; {main} 80; folds V/; lies 0..20 x 0..15"),
    );
    // Nothing is open, so there is nothing to fold over.
    check_both(pocket(&[Top, Right, Bottom, Left], 3, 0), &format!("{main} 112; lies 0..20 x 0..12"));
}

#[test]
fn a_gusset_has_a_side_and_a_strip_beyond_each_glued_edge() {
    use SheetEdge::{Bottom, Left, Right, Top};
    // One edge: the side 3 deep, the strip 2 wide.
    check_both(
        pocket(&[Bottom], 0, 3),
        "main 20 x 12 = 240; gusset 20 x 3 = 60; glue strip 20 x 2 = 40, glue back 40; folds VM/; lies 0..20 x 0..12",
    );
    check_both(
        pocket(&[Left], 0, 3),
        "glue strip 2 x 12 = 24, glue back 24; gusset 3 x 12 = 36; main 20 x 12 = 240; folds VM/; lies 0..20 x 0..12",
    );
    // Opposite edges.
    check_both(
        pocket(&[Top, Bottom], 0, 3),
        "top glue strip 20 x 2 = 40, glue back 40; top gusset 20 x 3 = 60; main 20 x 12 = 240; \
         bottom gusset 20 x 3 = 60; bottom glue strip 20 x 2 = 40, glue back 40; folds VMVM/; lies 0..20 x 0..12",
    );
    check_both(
        pocket(&[Left, Right], 0, 3),
        "left glue strip 2 x 12 = 24, glue back 24; left gusset 3 x 12 = 36; main 20 x 12 = 240; \
         right gusset 3 x 12 = 36; right glue strip 2 x 12 = 24, glue back 24; folds VMVM/; lies 0..20 x 0..12",
    );
    // Two that meet: the upright side stops 3 short.
    check_both(
        pocket(&[Left, Bottom], 0, 3),
        "left glue strip 2 x 9 = 18, glue back 18; left gusset 3 x 9 = 27; main 20 x 12 = 240; \
         bottom gusset 20 x 3 = 60; bottom glue strip 20 x 2 = 40, glue back 40; folds VMVM/; lies 0..20 x 0..12",
    );
}

#[test]
fn three_sides_of_a_gusset_or_four_lie_flat_without_crossing() {
    use SheetEdge::{Bottom, Left, Right, Top};
    check_both(
        pocket(&[Left, Bottom, Right], 4, 3),
        "rim 20 x 4 = 80; left glue strip 2 x 9 = 18, glue back 18; left gusset 3 x 9 = 27; main 20 x 12 = 240; \
         right gusset 3 x 9 = 27; right glue strip 2 x 9 = 18, glue back 18; bottom gusset 20 x 3 = 60; \
         bottom glue strip 20 x 2 = 40, glue back 40; folds VVMVMVM/; lies 0..20 x 0..12",
    );
    check_both(
        pocket(&[Top, Bottom, Left], 4, 3),
        "top glue strip 20 x 2 = 40, glue back 40; top gusset 20 x 3 = 60; main 20 x 12 = 240; rim 4 x 12 = 48; \
         left glue strip 2 x 6 = 12, glue back 12; left gusset 3 x 6 = 18; \
         bottom gusset 20 x 3 = 60; bottom glue strip 20 x 2 = 40, glue back 40; folds VMVVMVM/; lies 0..20 x 0..12",
    );
    // A strip wider than the side is deep stands out by the difference: here a strip 2 wide on a side 1 deep.
    check_both(
        pocket(&[Top, Right, Bottom, Left], 4, 1),
        "top glue strip 20 x 2 = 40, glue back 40; top gusset 20 x 1 = 20; main 20 x 12 = 240; \
         left glue strip 2 x 10 = 20, glue back 20; left gusset 1 x 10 = 10; \
         right gusset 1 x 10 = 10; right glue strip 2 x 10 = 20, glue back 20; \
         bottom gusset 20 x 1 = 20; bottom glue strip 20 x 2 = 40, glue back 40; folds VMVMVMVM/; lies -1..21 x -1..13",
    );
}

#[test]
fn a_tuck_corner_is_glued_along_its_legs() {
    for corner in PanelCorner::ALL {
        let square = |n: Grid<'_>| {
            PartKind::TuckCorner(TuckCorner { across: n(12), down: n(12), corner, band: n(0), strip: n(2) })
        };
        // 72, less a triangle of legs 8.
        check_both(square, "main 12 x 12 = 72, glue back 40; lies 0..12 x 0..12");
        let band = |n: Grid<'_>| {
            PartKind::TuckCorner(TuckCorner { across: n(12), down: n(12), corner, band: n(4), strip: n(2) })
        };
        // 72 less a triangle of legs 8; of that, what is not glued is a triangle of legs 8 less one of legs 4.
        check_both(band, "main 12 x 12 = 40, glue back 16; lies 0..12 x 0..12");
    }
}

#[test]
fn a_tuck_corner_lies_in_its_corner() {
    let n = |count: i64| Length::EIGHTH * count;
    let at = |x, y| Point::new(n(x), n(y));
    let corners = [at(0, 0), at(12, 0), at(12, 8), at(0, 8)];
    for (i, corner) in PanelCorner::ALL.into_iter().enumerate() {
        let kind = PartKind::TuckCorner(TuckCorner { across: n(12), down: n(8), corner, band: n(0), strip: n(2) });
        let part = laid(kind, Face::Front);
        let outline = &part.panels[0].outline;
        // All but the corner across from its own.
        let others: Vec<Point> = corners.iter().copied().filter(|at| !outline.contains(at)).collect();
        assert_eq!((outline.len(), others), (3, vec![corners[(i + 2) % 4]]), "{corner:?}");
    }
}

#[test]
fn a_page_hangs_by_a_strip_folded_under_it() {
    use SheetEdge::{Bottom, Left, Right, Top};
    let page = |hinged| move |n: Grid<'_>| PartKind::Page(Page { width: n(20), height: n(12), hinged, strip: n(4) });
    let side = "strip 4 x 12 = 48, glue front 48";
    let level = "strip 20 x 4 = 80, glue front 80";
    let end = "folds M/; lies 0..20 x 0..12";
    check_both(page(Left), &format!("{side}; main 20 x 12 = 240; {end}"));
    check_both(page(Right), &format!("main 20 x 12 = 240; {side}; {end}"));
    check_both(page(Top), &format!("{level}; main 20 x 12 = 240; {end}"));
    check_both(page(Bottom), &format!("main 20 x 12 = 240; {level}; {end}"));
}

#[test]
fn a_flap_folds_over_its_strip_with_the_folio() {
    use SheetEdge::{Bottom, Left, Right, Top};
    let flap = |edge| move |n: Grid<'_>| PartKind::Flap(Flap { width: n(20), reach: n(12), edge, strip: n(4) });
    // From the strip's upper left corner; the leaf folded over the strip and beyond.
    let level = "strip 20 x 4 = 80, glue back 80";
    let side = "strip 4 x 20 = 80, glue back 80";
    check_both(flap(Top), &format!("main 20 x 12 = 240; {level}; folds /V; lies 0..20 x 0..12"));
    check_both(flap(Bottom), &format!("{level}; main 20 x 12 = 240; folds /V; lies 0..20 x -8..4"));
    check_both(flap(Left), &format!("main 12 x 20 = 240; {side}; folds /V; lies 0..12 x 0..20"));
    check_both(flap(Right), &format!("{side}; main 12 x 20 = 240; folds /V; lies -8..4 x 0..20"));
}

#[test]
fn what_has_no_fold_is_one_panel() {
    let (across, down) = (20, 12);
    let mat = |n: Grid<'_>| PartKind::Mat(Mat { width: n(across), height: n(down) });
    check_both(mat, "main 20 x 12 = 240, glue back 240; lies 0..20 x 0..12");
    let insert = |n: Grid<'_>| PartKind::Insert(Insert { width: n(across), height: n(down), caliper: None });
    check_both(insert, "main 20 x 12 = 240; lies 0..20 x 0..12");
    for (glued, area) in SheetEdge::ALL.into_iter().zip([40, 24, 40, 24]) {
        let tab = |n: Grid<'_>| PartKind::Tab(Tab { width: n(across), height: n(down), glued, strip: n(2) });
        check_both(tab, &format!("main 20 x 12 = 240, glue back {area}; lies 0..20 x 0..12"));
    }
    for kind in ClosureKind::ALL {
        let closure =
            |n: Grid<'_>| PartKind::Closure(Closure { kind, width: n(3), height: n(5), thickness: Length::MILLIMETRE });
        check_both(closure, "main 3 x 5 = 15, glue back 15; lies 0..3 x 0..5");
    }
}

#[test]
fn a_belly_band_is_as_long_as_once_round_and_the_overlap() {
    let band =
        |is_upright| move |n: Grid<'_>| PartKind::Band(Band { around: n(60), width: n(12), overlap: n(4), is_upright });
    check_both(band(false), "main 64 x 12 = 768; lies 0..64 x 0..12");
    check_both(band(true), "main 12 x 64 = 768; lies 0..12 x 0..64");
    let part = laid(band(false)(&|count| Length::EIGHTH * count), Face::Front);
    assert_eq!((part.laid, part.glue), (None, Vec::new()));
}

#[test]
fn a_part_of_the_makers_own_folds_where_she_says() {
    let n = |count: i64| Length::EIGHTH * count;
    let score = |id: u32, distance: Length, direction: Direction| {
        let place = Place::Measured { turn: Turn::None, from: Datum::Edge, distance, run: Run::FULL };
        Line::new(LineId(id), place, Work::Score(Crease { direction, angle: FoldAngle::Flat, pressed: None }))
    };
    // A strip of three: the left third folded over beforehand, the right with the folio.
    let own = Own {
        size: Size::new(n(30), n(10)).unwrap(),
        lines: vec![score(7, n(8), Direction::Valley), score(9, n(18), Direction::Mountain)],
        corners: Vec::new(),
        base: Point::new(n(12), n(5)),
        folded: vec![vec![LineId(7)]],
    };
    let part = laid(PartKind::Own(own.clone()), Face::Front);
    assert_eq!((&part.pattern.before, &part.pattern.later), (&vec![vec![LineId(7)]], &vec![LineId(9)]));
    let areas: Vec<String> = part.panels.iter().map(|panel| squares(panel.area, Length::EIGHTH)).collect();
    assert_eq!(areas, ["80", "100", "120"]);
    assert_eq!(part.main, part.panels[1].id);
    assert_eq!(part.glue, Vec::new());
    let outside = Own { base: Point::new(n(8), n(5)), ..own };
    check_fault(PartKind::Own(outside), PartFault::NoMainPanel);
}

#[track_caller]
fn check_fault(kind: PartKind, fault: PartFault) {
    for showing in [Face::Front, Face::Back] {
        let layout = with(bench::part(kind.clone(), showing));
        assert_eq!(layout.part_faults.get(&bench::ID), Some(&fault), "{kind:?}");
        assert!(layout.parts.is_empty());
    }
}

#[test]
fn a_measure_that_cannot_be_is_named() {
    use SheetEdge::{Bottom, Left, Right, Top};
    let n = |count: i64| Length::EIGHTH * count;
    let of = |edges: &[SheetEdge], rim, gusset| pocket(edges, rim, gusset)(&n);
    check_fault(PartKind::Mat(Mat { width: n(0), height: n(1) }), PartFault::NoMeasure("width"));
    check_fault(PartKind::Mat(Mat { width: n(1), height: n(-1) }), PartFault::NoMeasure("height"));
    check_fault(of(&[Left], -1, 0), PartFault::NoMeasure("rim"));
    check_fault(of(&[Left], 0, -1), PartFault::NoMeasure("gusset"));
    let larger = Length::LIMIT + Length::from_nm(1);
    check_fault(PartKind::Mat(Mat { width: larger, height: n(1) }), PartFault::TooLarge);
    let hinge = Hinge { length: n(1), leaf: Length::LIMIT, free_leaf: n(1) };
    check_fault(PartKind::Hinge(hinge), PartFault::TooLarge);
    // 12 high: a level side may be less than 6 deep; 20 wide: an upright one less than 10.
    check_fault(of(&[Bottom], 0, 6), PartFault::GussetTooDeep);
    check_fault(of(&[Top, Left], 0, 6), PartFault::GussetTooDeep);
    check_fault(of(&[Left, Right], 0, 10), PartFault::GussetTooDeep);
    let unglued = |kind| match kind {
        PartKind::Pocket(pocket) => PartKind::Pocket(Pocket { strip: Length::ZERO, ..pocket }),
        other => other,
    };
    check_fault(unglued(of(&[Left], 0, 0)), PartFault::NoMeasure("glue strip"));
    check_fault(unglued(of(&[Left], 0, 2)), PartFault::NoMeasure("glue strip"));
    laid(unglued(of(&[], 0, 2)), Face::Front);
    let tuck = TuckCorner { across: n(8), down: n(4), corner: PanelCorner::TopLeft, band: n(4), strip: n(1) };
    check_fault(PartKind::TuckCorner(tuck), PartFault::BandTooWide);
}

#[test]
fn a_gusset_just_shallow_enough_is_made() {
    use SheetEdge::{Bottom, Left, Right, Top};
    let n = |count: i64| Length::EIGHTH * count;
    let glued = Edges::of(&[Top, Right, Bottom, Left]);
    let gusset = n(6) - Length::from_nm(1);
    let kind = Pocket { width: n(20), height: n(12), glued, strip: n(2), rim: n(0), gusset };
    assert_eq!(laid(PartKind::Pocket(kind), Face::Front).panels.len(), 9);
}

#[test]
fn panels_keep_their_order_whatever_the_measures() {
    use SheetEdge::{Bottom, Left, Right, Top};
    let names = |edges: &[SheetEdge], width, height, strip, gusset| {
        let n = |count: i64| Length::MILLIMETRE * count;
        let glued = Edges::of(edges);
        let kind = Pocket { width: n(width), height: n(height), glued, strip: n(strip), rim: n(3), gusset: n(gusset) };
        let part = laid(PartKind::Pocket(kind), Face::Front);
        part.panels.iter().map(|panel| panel.name.clone()).collect::<Vec<_>>()
    };
    for edges in [&[Left, Bottom, Right][..], &[Top, Left], &[Top, Right, Bottom, Left], &[Left, Right]] {
        let first = names(edges, 100, 60, 6, 6);
        for (width, height, strip, gusset) in [(30, 200, 2, 12), (200, 30, 40, 1), (50, 50, 1, 24)] {
            assert_eq!(names(edges, width, height, strip, gusset), first, "{edges:?}");
        }
    }
}

#[test]
fn a_pattern_knows_its_paper_and_its_size() {
    let document = bench::sheet();
    let kind = PartKind::Page(Page {
        width: Length::INCH * 5,
        height: Length::INCH * 3,
        hinged: SheetEdge::Left,
        strip: Length::INCH.half(),
    });
    let pattern = PartPattern::of(&bench::part(kind, Face::Front), &document).unwrap();
    assert_eq!(pattern.size(), Size::parse("5 1/2 x 3 in").unwrap());
    assert_eq!(pattern.document.stock.caliper, document.stock.caliper);
    // Which panel lies below which is the fold engine's business; here only that the strip goes under.
    let part = laid(bench::part(page_of(5), Face::Front).kind, Face::Front);
    let strip = folded(&part, Face::Front).into_values().find_map(|panel| panel.is_below);
    assert_eq!(strip, Some(true));
}

fn page_of(inches: i64) -> PartKind {
    let side = Length::INCH * inches;
    PartKind::Page(Page { width: side, height: side, hinged: SheetEdge::Top, strip: Length::INCH })
}
