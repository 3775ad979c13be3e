//! Parts of any measures: areas by formula, glue within its panel and against what is below.

use crate::any;
use crate::bench::{self, ID, folded, glue_area, with};
use foliowright_model::part::usual::{Fit, Host, Sort};
use foliowright_model::part::{
    Band, Closure, ClosureKind, Edges, Flap, GlueArea, Gluing, Hinge, Insert, Mat, Own, Page, PanelCorner, Pocket, Tab,
    TuckCorner,
};
use foliowright_model::polygon::{Inside, bounds, edges, locate, signed_area};
use foliowright_model::{Area, Face, Length, PanelRef, Part, PartKind, PartLayout, Point, SheetEdge, Size, Unit};
use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::TestRunner;
use std::collections::BTreeSet;

/// From a hundredth of a millimetre to 100 mm, some on a ruler's marks.
fn length() -> impl Strategy<Value = Length> + Clone {
    prop_oneof![
        (10_000..100_000_000_i64).prop_map(Length::from_nm),
        (1..256_i64).prop_map(Length::from_sixty_fourths),
        (1..100_i64).prop_map(|mm| Length::MILLIMETRE * mm),
    ]
}

fn or_nothing() -> impl Strategy<Value = Length> + Clone {
    prop_oneof![Just(Length::ZERO), length()]
}

fn edge() -> impl Strategy<Value = SheetEdge> {
    prop::sample::select(&SheetEdge::ALL[..])
}

fn some_edges() -> impl Strategy<Value = Edges> {
    prop::sample::subsequence(&SheetEdge::ALL[..], 0..=4).prop_map(|edges| Edges::of(&edges))
}

/// A pocket whose gusset is shallow enough.
fn pocket() -> impl Strategy<Value = PartKind> {
    (length(), length(), some_edges(), length(), or_nothing(), prop_oneof![Just(0), 1..50_i64]).prop_map(
        |(width, height, glued, strip, rim, share)| {
            let gusset = width.min(height) * share / 101;
            PartKind::Pocket(Pocket { width, height, glued, strip, rim, gusset })
        },
    )
}

fn tuck_corner() -> impl Strategy<Value = PartKind> {
    let corner = prop::sample::select(&PanelCorner::ALL[..]);
    (length(), length(), corner, prop_oneof![Just(0), 5..95_i64], length()).prop_map(
        |(across, down, corner, share, strip)| {
            let band = across.min(down) * share / 100;
            PartKind::TuckCorner(TuckCorner { across, down, corner, band, strip })
        },
    )
}

/// Every kind that has a pattern of its own.
fn kind() -> impl Strategy<Value = PartKind> {
    let three = || (length(), length(), length());
    let closure = prop::sample::select(&ClosureKind::ALL[..]);
    prop_oneof![
        6 => pocket(),
        3 => tuck_corner(),
        2 => three().prop_map(|(length, leaf, free_leaf)| PartKind::Hinge(Hinge { length, leaf, free_leaf })),
        2 => (three(), edge())
            .prop_map(|((width, height, strip), hinged)| PartKind::Page(Page { width, height, hinged, strip })),
        2 => (three(), edge())
            .prop_map(|((width, reach, strip), edge)| PartKind::Flap(Flap { width, reach, edge, strip })),
        1 => (three(), edge())
            .prop_map(|((width, height, strip), glued)| PartKind::Tab(Tab { width, height, glued, strip })),
        1 => (three(), any::<bool>()).prop_map(|((around, width, overlap), is_upright)| {
            PartKind::Band(Band { around, width, overlap, is_upright })
        }),
        1 => (length(), length()).prop_map(|(width, height)| PartKind::Mat(Mat { width, height })),
        1 => (length(), length())
            .prop_map(|(width, height)| PartKind::Own(Own::plain(Size::nearest(width, height)))),
        1 => (length(), length())
            .prop_map(|(width, height)| PartKind::Insert(Insert { width, height, caliper: None })),
        1 => (three(), closure).prop_map(|((width, height, thickness), kind)| {
            PartKind::Closure(Closure { kind, width, height, thickness })
        }),
    ]
}

#[test]
fn every_usual_kind_is_among_the_random_ones() {
    let mut runner = TestRunner::deterministic();
    let words: BTreeSet<&str> = (0..500).map(|_| kind().new_tree(&mut runner).unwrap().current().word()).collect();
    let high = Point::new(Length::INCH * 6, Length::INCH * 6);
    let host = Host { low: Point::default(), high, folds: Edges::NONE };
    for sort in Sort::ALL {
        let word = sort.fitted(&host, &Fit::usual(Unit::Inch)).kind.word();
        assert!(words.contains(word), "`kind` in crates/model/tests/part/random.rs makes no {word}; add it there");
    }
}

fn face() -> impl Strategy<Value = Face> {
    prop_oneof![Just(Face::Front), Just(Face::Back)]
}

fn rectangle(width: Length, height: Length) -> Area {
    Area::from_half_nm2(2 * i128::from(width.nm()) * i128::from(height.nm()))
}

fn triangle(across: Length, down: Length) -> Area {
    Area::from_half_nm2(i128::from(across.nm()) * i128::from(down.nm()))
}

fn count(edges: Edges, of: [SheetEdge; 2]) -> i64 {
    of.into_iter().map(|edge| i64::from(edges.has(edge))).sum()
}

const LEVEL: [SheetEdge; 2] = [SheetEdge::Top, SheetEdge::Bottom];
const UPRIGHT: [SheetEdge; 2] = [SheetEdge::Left, SheetEdge::Right];

/// The area of paper in a part.
fn paper(kind: &PartKind) -> Area {
    match *kind {
        PartKind::Hinge(Hinge { length, leaf, free_leaf }) => rectangle(leaf + free_leaf, length),
        PartKind::Pocket(pocket) => pocket_paper(pocket),
        PartKind::TuckCorner(TuckCorner { across, down, band, .. }) => {
            let off = if band > Length::ZERO { triangle(across - band, down - band) } else { Area::ZERO };
            triangle(across, down) - off
        }
        PartKind::Page(Page { width, height, hinged, strip }) => {
            let side = if LEVEL.contains(&hinged) { width } else { height };
            rectangle(width, height) + rectangle(side, strip)
        }
        PartKind::Flap(Flap { width, reach, strip, .. }) => rectangle(width, reach + strip),
        PartKind::Band(Band { around, width, overlap, .. }) => rectangle(around + overlap, width),
        PartKind::Mat(Mat { width, height })
        | PartKind::Tab(Tab { width, height, .. })
        | PartKind::Insert(Insert { width, height, .. })
        | PartKind::Closure(Closure { width, height, .. }) => rectangle(width, height),
        PartKind::Own(Own { size, .. }) => size.area(),
    }
}

fn pocket_paper(pocket: Pocket) -> Area {
    let Pocket { width, height, glued, strip, rim, gusset } = pocket;
    let mouth = SheetEdge::ALL.into_iter().find(|&edge| !glued.has(edge));
    let of_rim = match mouth {
        Some(edge) if LEVEL.contains(&edge) => rectangle(width, rim),
        Some(_) => rectangle(height, rim),
        None => Area::ZERO,
    };
    let front = rectangle(width, height) + of_rim;
    if gusset == Length::ZERO {
        return front;
    }
    let level = rectangle(width * count(glued, LEVEL), gusset + strip);
    // Upright sides stop short where a level one meets them.
    let upright = rectangle((height - gusset * count(glued, LEVEL)) * count(glued, UPRIGHT), gusset + strip);
    front + level + upright
}

/// The glue along edges of a rectangle: all of it less what is left in the middle.
fn along(edges: Edges, strip: Length, width: Length, height: Length) -> Area {
    let left = |side: Length, of: [SheetEdge; 2]| (side - strip * count(edges, of)).max(Length::ZERO);
    rectangle(width, height) - rectangle(left(width, UPRIGHT), left(height, LEVEL))
}

/// Glue along both legs of a triangle, in square millimetres: all of it less a triangle like it in the middle.
fn along_legs(across: Length, down: Length, strip: Length) -> f64 {
    let (across, down, strip) = (across.mm(), down.mm(), strip.mm());
    let left = (1.0 - strip / across - strip / down).max(0.0);
    across * down / 2.0 * (1.0 - left * left)
}

/// The glue of a part, in square millimetres.
fn glue(kind: &PartKind) -> f64 {
    match *kind {
        PartKind::Hinge(Hinge { length, leaf, .. }) => rectangle(leaf, length).mm2(),
        PartKind::Pocket(pocket) if pocket.gusset > Length::ZERO => {
            let Pocket { width, height, glued, strip, gusset, .. } = pocket;
            let upright = (height - gusset * count(glued, LEVEL)) * count(glued, UPRIGHT);
            rectangle(width * count(glued, LEVEL) + upright, strip).mm2()
        }
        PartKind::Pocket(Pocket { width, height, glued, strip, .. }) => along(glued, strip, width, height).mm2(),
        PartKind::TuckCorner(TuckCorner { across, down, band, strip, .. }) => {
            let off = if band > Length::ZERO { along_legs(across - band, down - band, strip) } else { 0.0 };
            along_legs(across, down, strip) - off
        }
        PartKind::Page(Page { width, height, hinged, strip }) => {
            rectangle(if LEVEL.contains(&hinged) { width } else { height }, strip).mm2()
        }
        PartKind::Flap(Flap { width, strip, .. }) => rectangle(width, strip).mm2(),
        PartKind::Mat(Mat { width, height }) | PartKind::Closure(Closure { width, height, .. }) => {
            rectangle(width, height).mm2()
        }
        PartKind::Tab(Tab { width, height, glued, strip }) => along(Edges::of(&[glued]), strip, width, height).mm2(),
        PartKind::Band(_) | PartKind::Insert(_) | PartKind::Own(_) => 0.0,
    }
}

/// Whether a point lies in a panel or, where a slanting side was rounded, within a nanometre of it.
fn is_in(point: Point, outline: &[Point]) -> bool {
    let near = |x: i64, y: i64| Point::new(point.x + Length::from_nm(x), point.y + Length::from_nm(y));
    (-1..=1).flat_map(|x| (-1..=1).map(move |y| (x, y))).any(|(x, y)| locate(near(x, y), outline, &[]) != Inside::No)
}

/// The length of a closed outline, in millimetres.
fn around(outline: &[Point]) -> f64 {
    let side = |(a, b): (Point, Point)| {
        let way = b - a;
        (way.x.mm().powi(2) + way.y.mm().powi(2)).sqrt()
    };
    edges(outline).map(side).sum()
}

/// Each polygon of glue lies in its panel, which is convex, so that no fold runs through it.
fn check_glue_within(part: &PartLayout) -> Result<(), TestCaseError> {
    for glue in &part.glue {
        let panel = part.panels.iter().find(|panel| panel.id == glue.panels[0]).unwrap();
        prop_assert_eq!(panel.convex.len(), 1);
        for polygon in &glue.area {
            prop_assert!(signed_area(polygon) > Area::ZERO);
            for &point in polygon {
                prop_assert!(is_in(point, &panel.outline), "{:?} is not on {}", point, panel.name);
            }
        }
    }
    Ok(())
}

/// What is glued to the panel under the part lies below all else of it, and looks down with its glue.
fn check_glue_below(part: &PartLayout, showing: Face) -> Result<(), TestCaseError> {
    let folded = folded(part, showing);
    for glue in &part.glue {
        let panel = &folded[&glue.panels[0]];
        let up = if panel.is_turned() { showing.other() } else { showing };
        prop_assert_eq!(glue.face, up.other());
        prop_assert!(panel.is_below != Some(false));
    }
    Ok(())
}

/// Folded under the front, the sides of a gusset lie beside one another and on the front, and the strips do so too.
fn check_gussets_apart(part: &PartLayout, kind: &PartKind, showing: Face) -> Result<(), TestCaseError> {
    let PartKind::Pocket(pocket) = kind else { return Ok(()) };
    let folded = folded(part, showing);
    let lies = |panel: &foliowright_model::Panel| {
        bounds(&panel.outline.iter().map(|&at| folded[&panel.id].point(at)).collect::<Vec<_>>())
    };
    let main = lies(part.panels.iter().find(|panel| panel.id == part.main).unwrap());
    for word in ["gusset", "strip"] {
        let all: Vec<_> = part.panels.iter().filter(|panel| panel.name.ends_with(word)).map(lies).collect();
        prop_assert_eq!(all.len(), if pocket.gusset > Length::ZERO { pocket.glued.iter().count() } else { 0 });
        for (i, (low, high)) in all.iter().enumerate() {
            let apart = |(l, h): &(Point, Point)| h.x <= low.x || high.x <= l.x || h.y <= low.y || high.y <= l.y;
            prop_assert!(all.iter().skip(i + 1).all(apart), "{}s lie on one another", word);
            let is_within = main.0.x <= low.x && main.0.y <= low.y && high.x <= main.1.x && high.y <= main.1.y;
            prop_assert!(is_within || (word == "strip" && pocket.strip > pocket.gusset));
        }
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn a_part_has_the_paper_and_the_glue_that_its_measures_give(kind in kind(), showing in face()) {
        let layout = with(bench::part(kind.clone(), showing));
        prop_assert_eq!(layout.part_faults.get(&ID), None);
        let part = &layout.parts[0];
        let area: Area = part.panels.iter().map(|panel| panel.area).sum();
        prop_assert_eq!(area, paper(&kind));
        let found: f64 = part.glue.iter().map(|glue| glue_area(glue).mm2()).sum();
        let expected = glue(&kind);
        // Slanting strips are rounded to the nanometre: less than 1 m of border by 2 nm.
        prop_assert!((found - expected).abs() < 2e-3, "{} is not {}", found, expected);
        check_glue_within(part)?;
        check_glue_below(part, showing)?;
        check_gussets_apart(part, &kind, showing)?;
    }

    /// Whatever the measures, a part is laid out or a fault is found.
    #[test]
    fn no_measure_is_too_odd(
        lengths in prop::array::uniform5(prop_oneof![any::<i64>(), -5..50_i64, 9_999_999_990..10_000_000_010_i64]),
        (glued, edge, showing) in (some_edges(), edge(), face()),
        corner in prop::sample::select(&PanelCorner::ALL[..]),
    ) {
        let [a, b, c, d, e] = lengths.map(Length::from_nm);
        let kinds = [
            PartKind::Hinge(Hinge { length: a, leaf: b, free_leaf: c }),
            PartKind::Pocket(Pocket { width: a, height: b, glued, strip: c, rim: d, gusset: e }),
            PartKind::TuckCorner(TuckCorner { across: a, down: b, corner, band: c, strip: d }),
            PartKind::Page(Page { width: a, height: b, hinged: edge, strip: c }),
            PartKind::Flap(Flap { width: a, reach: b, edge, strip: c }),
            PartKind::Band(Band { around: a, width: b, overlap: c, is_upright: d > e }),
            PartKind::Tab(Tab { width: a, height: b, glued: edge, strip: c }),
        ];
        for kind in kinds {
            let layout = with(bench::part(kind, showing));
            prop_assert_eq!(layout.parts.len() + layout.part_faults.len(), 1);
        }
    }

    /// A little sheet with any lines on it: its panels are those of its piece, and glue on one of them stays there.
    #[test]
    fn any_lines_make_a_part_of_the_makers_own(
        sheet in any::document(),
        showing in face(),
        (strips, width) in (some_edges(), length()),
    ) {
        let base = sheet.base.unwrap_or(Point::new(Length::INCH, Length::INCH));
        let scores = sheet.lines.iter().filter(|line| line.work.is_score()).map(|line| vec![line.id]);
        let folded = scores.take(2).collect();
        let (size, lines, corners) = (sheet.stock.size, sheet.lines.clone(), sheet.corners.clone());
        let own = PartKind::Own(Own { size, lines, corners, base, folded });
        let part = bench::part(own, showing);
        let PanelRef::Sheet(_) = part.place.on else { unreachable!() };
        let strips = Gluing { panel: 0, face: showing.other(), to: part.place.on, area: GlueArea::Strips(strips, width) };
        let layout = with(Part { also: vec![strips], ..part });
        prop_assert_eq!(layout.parts.len() + layout.part_faults.len(), 1);
        let Some(part) = layout.parts.first() else { return Ok(()) };
        let area: Area = part.panels.iter().map(|panel| panel.area).sum();
        prop_assert_eq!(area, part.sheet.ledger.folio);
        // Corners that are rounded to the nanometre move no border by more than that.
        let slack = part.glue[0].area.iter().map(|polygon| around(polygon)).sum::<f64>() * 1e-6;
        let over = glue_area(&part.glue[0]).mm2() - part.panels[0].area.mm2();
        prop_assert!(over <= slack, "{} mm2 more than the panel has", over);
        for point in part.glue[0].area.iter().flatten() {
            prop_assert!(part.panels[0].convex.iter().any(|piece| is_in(*point, piece)));
        }
    }
}
