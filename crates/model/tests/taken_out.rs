//! Paper that is taken out: slots, trims, notches, corners, and what that does to the ledger.

#![expect(clippy::unwrap_used, reason = "a test may fail")]

mod common;

use common::{Sketch, at, four_flaps, length, line};
use foliowright_model::{
    Area, Border, Corner, CornerFault, CornerShape, Document, Layout, Length, LineId, Notch, Place, Run, SheetEdge,
    Stop, Strip, StripSide, Turn, VoidKind, Which, Work,
};

fn square_inches(area: Area) -> f64 {
    area.mm2() / 645.16
}

#[track_caller]
fn near(area: Area, expected: f64) {
    let found = square_inches(area);
    // Flattened arcs are up to 5 µm inside of their circles.
    assert!((found - expected).abs() < 2e-3, "{found} square inches, not {expected}");
}

fn strip(width: &str, side: StripSide) -> Strip {
    Strip { width: length(width), side }
}

/// A 12 in sheet with a score at 3 in on two turns.
fn cross() -> Sketch {
    Sketch::on("12x12in").score(1, Turn::None, "3").score(2, Turn::Once, "3").base("8", "8")
}

#[test]
fn a_slot_along_a_score_gives_the_fold_room() {
    // The trade takes about 1/8 in out beside a score (common practice, no source). From the upper edge to the cross score,
    // 3 in long, to the left of it: 3 x 1/8 in.
    let along = Place::Along { line: LineId(1), run: Run { from: Stop::Edge, to: line(2) } };
    let layout = Layout::of(&cross().line(3, along, Work::Slot(strip("1/8", StripSide::Left))).0);
    near(layout.ledger.slots, 0.375);
    near(layout.ledger.waste, 0.0);
    assert_eq!(layout.voids.len(), 1);
    assert_eq!(layout.voids[0].kind, VoidKind::Slot(LineId(3)));
    let ledger = layout.ledger;
    assert_eq!(ledger.folio + ledger.offcuts + ledger.slots + ledger.waste, ledger.sheet);
    // The corner hangs on the folio by one fold now, along the level score.
    let corner = layout.panel_at(at("1", "1")).unwrap();
    assert_eq!(layout.panel(corner).extent().0, length("2 7/8"));
    assert_eq!(layout.folds.iter().filter(|fold| fold.panels.contains(&corner)).count(), 1);
}

#[test]
fn a_centred_slot_takes_half_from_either_side() {
    let along = Place::Along { line: LineId(1), run: Run::FULL };
    let layout = Layout::of(&cross().line(3, along, Work::Slot(strip("1/8", StripSide::Centred))).0);
    let widths: Vec<Length> = layout.panels.iter().map(|panel| panel.extent().0).collect();
    assert_eq!(widths, ["2 15/16", "8 15/16", "2 15/16", "8 15/16"].map(length));
    assert_eq!(layout.pieces.len(), 2);
}

#[test]
fn a_trim_takes_an_edge_back_by_a_hairline() {
    // Off the sheet's left edge: 12 in x 1/64 in, to the right of the line along it.
    let edge = Place::Measured {
        turn: Turn::None,
        from: foliowright_model::Datum::Edge,
        distance: Length::ZERO,
        run: Run::FULL,
    };
    let layout = Layout::of(&cross().line(3, edge, Work::Trim(strip("1/64", StripSide::Right))).0);
    near(layout.ledger.waste, 12.0 / 64.0);
    near(layout.ledger.slots, 0.0);
    // To the left there is nothing to take.
    let nothing = Layout::of(&cross().line(3, edge, Work::Trim(strip("1/64", StripSide::Left))).0);
    near(nothing.ledger.waste, 0.0);
}

#[test]
fn a_thumb_notch_is_half_a_circle_out_of_an_edge() {
    // 1 in wide in the middle of the upper edge: half a circle of radius 1/2 in, π / 8 in².
    let run = Run { from: Stop::At(length("5 1/2")), to: Stop::At(length("6 1/2")) };
    let edge = Place::Measured { turn: Turn::Once, from: foliowright_model::Datum::Edge, distance: Length::ZERO, run };
    let half_round = |to_left| Work::Notch(Notch { depth: length("1/2"), to_left });
    let layout = Layout::of(&Sketch::on("12x12in").line(1, edge, half_round(false)).base("6", "6").0);
    let notch = &layout.voids[0];
    assert!((square_inches(notch.area) - std::f64::consts::PI / 8.0).abs() < 2e-3, "{}", square_inches(notch.area));
    assert_eq!(layout.ledger.waste, notch.area);
    // Outwards it would leave the sheet.
    let out = Layout::of(&Sketch::on("12x12in").line(1, edge, half_round(true)).0);
    assert!(out.lines[&LineId(1)].is_err());
    // Smooth curves are no inner corners; the two ends of the bite lie on the edge.
    assert_eq!(layout.inner_corners, []);
}

#[track_caller]
fn with_corners(document: Document, corners: &[(Which, CornerShape)]) -> Layout {
    let corners = corners.iter().map(|&(which, shape)| Corner { mark: at("1", "6"), which, shape }).collect();
    Layout::of(&Document { corners, ..document })
}

#[test]
fn all_free_corners_of_a_flap_are_rounded() {
    // The left flap has two free corners, at its outer end. Rounding one by r takes off r² (1 - π / 4).
    let round = CornerShape::Round(length("1/2"));
    let layout = with_corners(four_flaps(), &[(Which::AllOfPanel, round)]);
    let lost = |corners: f64, r: f64| corners * r * r * (1.0 - std::f64::consts::FRAC_PI_4);
    near(layout.ledger.waste, lost(2.0, 0.5));
    let mut document = four_flaps();
    document.base = Some(at("6", "6"));
    assert_eq!(layout.corner_troubles, []);
    // All eight of the folio.
    let layout = with_corners(document.clone(), &[(Which::AllOfPiece, round)]);
    near(layout.ledger.waste, lost(8.0, 0.5));
    // All but one, and that one clipped: what is said later holds. A clip of d takes off d² / 2.
    let left_top = Which::Between(Border::Edge(SheetEdge::Left), Border::Line(LineId(3)));
    let clipped = [(Which::AllOfPiece, round), (left_top, CornerShape::Clip(length("1/4")))];
    near(with_corners(document.clone(), &clipped).ledger.waste, lost(7.0, 0.5) + 0.03125);
    let square = [(Which::AllOfPiece, round), (left_top, CornerShape::Square)];
    near(with_corners(document, &square).ledger.waste, lost(7.0, 0.5));
}

#[test]
fn a_flap_end_is_rounded_to_a_half_circle_and_no_further() {
    let mut document = four_flaps();
    document.base = Some(at("6", "6"));
    // The flap is 6 in wide and 3 in deep: two radii of 3 in meet in its middle.
    let whole = with_corners(document.clone(), &[(Which::AllOfPanel, CornerShape::Round(length("3")))]);
    assert_eq!(whole.corner_troubles, []);
    let left = whole.panel_at(at("1", "6")).unwrap();
    near(whole.panel(left).area, std::f64::consts::PI * 9.0 / 2.0);
    let more = with_corners(document, &[(Which::AllOfPanel, CornerShape::Round(length("3 1/16")))]);
    let told: Vec<CornerFault> = more.corner_troubles.iter().map(|trouble| trouble.fault).collect();
    assert_eq!(told, [CornerFault::TooLarge(length("3")); 2]);
    near(more.ledger.waste, 0.0);
}

#[test]
fn a_slanting_corner_is_rounded_by_its_own_tangents() {
    // A right triangle with legs of 4 in: its sharp corners are 45°. A radius r takes r / tan(22.5°) of both sides, and
    // r² (1 / tan(22.5°) - (180 - 45)/180 π / 2) of area.
    let hypotenuse = Place::Drawn {
        from: foliowright_model::Spot::At(at("0", "4")),
        to: foliowright_model::Spot::At(at("4", "0")),
        bow: Length::ZERO,
    };
    let mut document = Sketch::on("12x12in").line(1, hypotenuse, Work::Cut).base("1", "1").0;
    let which = Which::Between(Border::Edge(SheetEdge::Left), Border::Line(LineId(1)));
    document.corners = vec![Corner { mark: at("1", "1"), which, shape: CornerShape::Round(length("1/2")) }];
    let layout = Layout::of(&document);
    // The tangent of 22.5° is √2 - 1.
    let tangent = 1.0 / (std::f64::consts::SQRT_2 - 1.0);
    near(layout.ledger.waste, 0.25 * (tangent - 0.75 * std::f64::consts::PI / 2.0));
    assert_eq!(layout.corner_troubles, []);
}

#[test]
fn a_window_falls_out_and_its_corners_may_tear() {
    // A 2 in square cut out of the middle of an 8 in sheet.
    let side = |turn, distance: &str| Place::Measured {
        turn,
        from: foliowright_model::Datum::Edge,
        distance: length(distance),
        run: Run { from: Stop::At(length("3")), to: Stop::At(length("5")) },
    };
    let sketch = Sketch::on("8x8in")
        .line(1, side(Turn::None, "3"), Work::Cut)
        .line(2, side(Turn::None, "5"), Work::Cut)
        .line(3, side(Turn::Once, "3"), Work::Cut)
        .line(4, side(Turn::Once, "5"), Work::Cut)
        .base("1", "1");
    let layout = Layout::of(&sketch.0);
    let islands: Vec<&str> = layout.pieces.iter().filter(|piece| piece.is_island).map(|p| p.name.as_str()).collect();
    assert_eq!(islands, ["Offcut 1"]);
    let corners: Vec<_> =
        layout.inner_corners.iter().map(|corner| (corner.at, corner.folds, corner.ends_cut)).collect();
    let expected = [("3", "3"), ("3", "5"), ("5", "3"), ("5", "5")].map(|(x, y)| (at(x, y), 0, false));
    assert_eq!(corners, expected);
}

#[test]
fn where_a_corner_is_cut_away_two_folds_end() {
    let mut document = four_flaps();
    document.base = Some(at("6", "6"));
    let layout = Layout::of(&document);
    let corners: Vec<_> =
        layout.inner_corners.iter().map(|corner| (corner.at, corner.folds, corner.ends_cut)).collect();
    let expected = [("3", "3"), ("3", "9"), ("9", "3"), ("9", "9")].map(|(x, y)| (at(x, y), 2, false));
    assert_eq!(corners, expected);
    assert!(layout.pieces.iter().all(|piece| !piece.is_island));
    // A slit that ends in the middle of a flap.
    let slit = Place::Measured {
        turn: Turn::None,
        from: foliowright_model::Datum::Edge,
        distance: length("6"),
        run: Run { from: Stop::Edge, to: Stop::At(length("1")) },
    };
    document.lines.push(foliowright_model::Line::new(LineId(30), slit, Work::Cut));
    let ends: Vec<_> = Layout::of(&document)
        .inner_corners
        .into_iter()
        .filter(|c| c.ends_cut)
        .map(|c| (c.at, c.panels.len()))
        .collect();
    assert_eq!(ends, [(at("6", "1"), 1)]);
}

#[test]
fn a_narrow_cut_into_paper_may_tear() {
    // A V of two cuts that meet 3 in below the upper edge, 1/2 in apart there: the angle is 9.5°.
    let side = |x: &str| Place::Drawn {
        from: foliowright_model::Spot::At(at(x, "0")),
        to: foliowright_model::Spot::At(at("6", "3")),
        bow: Length::ZERO,
    };
    let sketch = Sketch::on("12x12in").line(1, side("5 3/4"), Work::Cut).line(2, side("6 1/4"), Work::Cut);
    let corners = Layout::of(&sketch.base("1", "1").0).inner_corners;
    assert_eq!(corners.iter().map(|corner| corner.at).collect::<Vec<_>>(), [at("6", "3")]);
}

#[test]
fn a_corner_that_does_not_fit_takes_nothing_from_its_neighbour() {
    let mut document = four_flaps();
    document.base = Some(at("6", "6"));
    let corner = |line, radius| {
        let which = Which::Between(Border::Edge(SheetEdge::Left), Border::Line(LineId(line)));
        (which, CornerShape::Round(length(radius)))
    };
    let layout = with_corners(document.clone(), &[corner(3, "20"), corner(4, "1/4")]);
    assert_eq!(layout.corner_troubles.len(), 1);
    assert_eq!(layout.corners.iter().map(|work| work.by).collect::<Vec<_>>(), [1]);
    // What has no measure is told, and does not undo what was said before.
    let layout = with_corners(document, &[corner(3, "1/4"), corner(3, "-1")]);
    assert_eq!(layout.corner_troubles.iter().map(|t| t.fault).collect::<Vec<_>>(), [CornerFault::NoMeasure]);
    assert_eq!(layout.corners.iter().map(|work| work.by).collect::<Vec<_>>(), [0]);
}

#[test]
fn a_slanting_side_is_one_side_wherever_lines_meet_it() {
    // From (0, 7) to (3, 0) in; a cut on the offcut's side meets it somewhere between. The folio's corner at its upper end
    // is rounded all the same, and no other corner appears along it.
    for i in 1..40_i64 {
        let slant = Place::Drawn {
            from: foliowright_model::Spot::At(at("0", "7")),
            to: foliowright_model::Spot::At(at("3", "0")),
            bow: Length::ZERO,
        };
        let distance = Length::from_sixty_fourths(4 * i + 1);
        let run = Run { from: Stop::Edge, to: line(1) };
        let meets = Place::Measured { turn: Turn::None, from: foliowright_model::Datum::Edge, distance, run };
        let mut document = Sketch::on("12x12in").line(1, slant, Work::Cut).line(2, meets, Work::Cut).base("8", "8").0;
        document.corners = vec![Corner {
            mark: at("8", "8"),
            which: Which::Between(Border::Edge(SheetEdge::Top), Border::Line(LineId(1))),
            shape: CornerShape::Round(length("1/4")),
        }];
        let layout = Layout::of(&document);
        assert_eq!(layout.corner_troubles, [], "{i}");
        assert_eq!(layout.corners[0].corners.len(), 1, "{i}");
        assert_eq!(Layout::free_corners(&document, at("8", "8")).len(), 5, "{i}");
    }
}
