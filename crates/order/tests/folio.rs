//! Figures as folios have them: flaps, slits, pockets, glue. Closed forms by hand, each checked by trying all orders in an
//! independent program unless it says otherwise.

mod common;

use common::{Pattern, count, flaps, folds, ready, rectangle, states, strip, word};
use foliowright_order::{Answer, Bond, Count, Face, Facet, Figure, Fold, Given, Joint, State};
use glam::DVec2;

#[test]
fn flaps_that_overlap_their_neighbours_only() {
    // 2 orders at each of four corners, two of them woven; either way: the trace of [[2, 1], [1, 2]]^4, 3^4 + 1.
    assert_eq!(count(&flaps(100.0, 100.0, 40.0, "VVVV")), 16);
    assert_eq!(count(&flaps(100.0, 100.0, 40.0, "????")), 82);
}

#[test]
fn flaps_that_all_overlap() {
    // 4!, and the sum of C(4, k) k! (4 - k)!.
    assert_eq!(count(&flaps(100.0, 100.0, 70.0, "VVVV")), 24);
    assert_eq!(count(&flaps(100.0, 100.0, 70.0, "????")), 120);
}

#[test]
fn two_of_the_orders_of_four_flaps_are_woven() {
    let woven = states(&flaps(100.0, 100.0, 40.0, "VVVV"))
        .into_iter()
        .filter(|state| {
            let next = (1..=4).map(|flap| state.above(flap, flap % 4 + 1).unwrap());
            let turns: Vec<bool> = next.collect();
            turns.iter().all(|&turn| turn == turns[0])
        })
        .count();
    assert_eq!(woven, 2);
}

#[test]
fn separate_flaps_are_separate_components() {
    // A flap of two panels has 4 orders; k of them 4^k.
    for flaps in [1_u32, 2, 8] {
        let mut pattern = Pattern { panels: vec![rectangle(0.0, 0.0, 200.0, 20.0)], creases: Vec::new() };
        for flap in 0..flaps {
            let x = 20.0 * f64::from(flap);
            let (first, last) = (pattern.panels.len(), pattern.panels.len() + 1);
            pattern.panels.extend([rectangle(x, 20.0, 15.0, 10.0), rectangle(x, 30.0, 15.0, 10.0)]);
            for (pair, y) in [([0, first], 20.0), ([first, last], 30.0)] {
                pattern.creases.push((pair, [DVec2::new(x, y), DVec2::new(x + 15.0, y)], Some(Fold::Either)));
            }
        }
        let figure = pattern.folded();
        assert_eq!(count(&figure), 4_u128.pow(flaps));
        let listing = ready(&figure).list(100);
        assert!(listing.is_complete() && listing.parts().iter().all(|&part| part <= 4), "{:?}", listing.parts());
        assert_eq!(listing.count(), Count::Exact(4_u128.pow(flaps)));
        let mut distinct: Vec<String> = listing.states().take(5000).map(|state| format!("{state:?}")).collect();
        let all = distinct.len();
        distinct.sort();
        distinct.dedup();
        assert_eq!((all, distinct.len()), (4_usize.pow(flaps).min(5000), all));
    }
}

#[test]
fn corners_folded_to_the_middle_only_touch() {
    let corner = [(0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0)].map(DVec2::from);
    let middle = |i: usize| (corner[i % 4] + corner[(i + 1) % 4]) / 2.0;
    let mut pattern = Pattern { panels: vec![(0..4).map(middle).collect()], creases: Vec::new() };
    for i in 0..4 {
        pattern.panels.push(vec![middle(i), corner[(i + 1) % 4], middle(i + 1)]);
        pattern.creases.push(([0, i + 1], [middle(i), middle(i + 1)], Some(Fold::Either)));
    }
    // 2^4.
    assert_eq!(count(&pattern.folded()), 16);
}

/// A base with a slit across its middle, from `low` to `high`, and a tab 20 mm wide that folds over it from the right. The
/// base is one panel, or two that are joined flat beside the slit.
fn slit(low: f64, high: f64, is_one: bool) -> Figure {
    let at = |x: f64, y: f64| DVec2::new(x, y);
    let tab = Facet { outline: rectangle(10.0, 20.0, 90.0, 20.0), ..Facet::default() };
    let crease = (at(100.0, 20.0), at(100.0, 40.0));
    let flat = |from: f64, to: f64| Joint { facets: [0, 1], segment: (at(50.0, from), at(50.0, to)), fold: None };
    let base = |outline| Facet { outline, face_up: true, ..Facet::default() };
    if is_one {
        // Along the lower edge, up one side of the slit and down the other where it reaches the edge; else as a hole.
        let around = rectangle(0.0, 0.0, 100.0, 60.0);
        let mut facet = base(around);
        facet.holes.push(vec![at(50.0, low), at(50.0, high)]);
        let joints = vec![Joint { facets: [0, 1], segment: crease, fold: Some(Fold::Either) }];
        return Figure { facets: vec![facet, tab], joints, ..Figure::default() };
    }
    let facets = vec![base(rectangle(0.0, 0.0, 50.0, 60.0)), base(rectangle(50.0, 0.0, 50.0, 60.0)), tab];
    let crease = Joint { facets: [1, 2], segment: crease, fold: Some(Fold::Either) };
    Figure { facets, joints: vec![flat(0.0, low), flat(high, 60.0), crease], ..Figure::default() }
}

#[test]
fn a_tab_may_pass_a_slit_that_is_as_wide() {
    // Above or below each half; a tab that is too wide stays on one side.
    for is_one in [false, true] {
        assert_eq!(count(&slit(15.0, 45.0, is_one)), 4, "wider than the tab, {is_one}");
        assert_eq!(count(&slit(20.0, 40.0, is_one)), 4, "as wide as the tab, {is_one}");
        assert_eq!(count(&slit(25.0, 35.0, is_one)), 2, "narrower, {is_one}");
        assert_eq!(count(&slit(25.0, 45.0, is_one)), 2, "beside it, {is_one}");
    }
}

#[test]
fn a_tab_through_a_slit_lies_in_two_places_on_one_panel() {
    let problem = ready(&slit(15.0, 45.0, true));
    assert_eq!(problem.overlaps_of(0, 1), 0..2);
    let sides: Vec<DVec2> = (0..2).map(|overlap| problem.point_of(overlap).unwrap()).collect();
    assert!(sides.iter().any(|point| point.x < 50.0) && sides.iter().any(|point| point.x > 50.0), "{sides:?}");
    let through = |on_left, on_right| {
        [(30.0, on_left), (80.0, on_right)].map(|(x, is_above)| {
            let (lower, upper) = if is_above { (0, 1) } else { (1, 0) };
            Given { lower, upper, at: Some(DVec2::new(x, 30.0)) }
        })
    };
    let Answer::Order(state) = problem.allows(&through(false, true)) else { panic!("a tab passes a slit") };
    assert_eq!(state.above(1, 0), None, "it is above on one side only");
    assert_eq!(state.pile_at(DVec2::new(30.0, 30.0)), [1, 0]);
    assert_eq!(state.pile_at(DVec2::new(80.0, 30.0)), [0, 1]);
    assert_eq!(word(&state), "V");
    let narrow = ready(&slit(25.0, 35.0, true));
    let Answer::Conflict(conflict) = narrow.allows(&through(false, true)) else { panic!("too wide") };
    assert_eq!((conflict.asked, conflict.facets), (vec![0, 1], vec![0, 1]));
}

#[test]
fn a_slit_from_the_edge_may_be_part_of_the_outline() {
    // The tab can swing in from the open end: above or below each half.
    let at = |x: f64, y: f64| DVec2::new(x, y);
    let mut figure = slit(15.0, 45.0, true);
    figure.facets[0].holes.clear();
    figure.facets[0].outline = vec![
        at(0.0, 0.0),
        at(50.0, 0.0),
        at(50.0, 45.0),
        at(50.0, 0.0),
        at(100.0, 0.0),
        at(100.0, 60.0),
        at(0.0, 60.0),
    ];
    assert_eq!(count(&figure), 4);
}

/// A base with a notch from its upper edge down to 20 mm, and a flap folded over it from the right. The base is one
/// panel or three rectangles joined flat.
fn notch(low: f64, high: f64, is_one: bool) -> Figure {
    let at = |x: f64, y: f64| DVec2::new(x, y);
    let base = |outline| Facet { outline, face_up: true, ..Facet::default() };
    let flap = Facet { outline: rectangle(10.0, low, 90.0, high - low), ..Facet::default() };
    let crease = |facets| Joint { facets, segment: (at(100.0, low), at(100.0, high)), fold: Some(Fold::Either) };
    if is_one {
        let around = [(0.0, 0.0), (100.0, 0.0), (100.0, 60.0), (60.0, 60.0), (60.0, 20.0), (40.0, 20.0), (40.0, 60.0)];
        let outline = around.into_iter().chain([(0.0, 60.0)]).map(DVec2::from).collect();
        return Figure { facets: vec![base(outline), flap], joints: vec![crease([0, 1])], ..Figure::default() };
    }
    let rectangles = [(0.0, 40.0, 60.0), (40.0, 20.0, 20.0), (60.0, 40.0, 60.0)];
    let mut facets: Vec<Facet> = rectangles.map(|(x, width, height)| base(rectangle(x, 0.0, width, height))).to_vec();
    facets.push(flap);
    let flat = |facets, x| Joint { facets, segment: (at(x, 0.0), at(x, 20.0)), fold: None };
    Figure { facets, joints: vec![flat([0, 1], 40.0), flat([1, 2], 60.0), crease([2, 3])], ..Figure::default() }
}

#[test]
fn a_flap_may_pass_a_notch_that_it_is_clear_of() {
    // Above or below each leg, if it reaches no further down than the notch; else above or below all of the base.
    for is_one in [false, true] {
        assert_eq!(count(&notch(30.0, 50.0, is_one)), 4, "between the legs, {is_one}");
        assert_eq!(count(&notch(20.0, 60.0, is_one)), 4, "just between the legs, {is_one}");
        assert_eq!(count(&notch(10.0, 50.0, is_one)), 2, "over the bridge, {is_one}");
    }
}

#[test]
fn a_folio_with_split_pockets_and_glue_tabs() {
    // Two covers 0 and 1, pockets 2 and 3 below them, a tab on each pocket's outer side: 22 by all permutations.
    let panels = vec![
        rectangle(0.0, 0.0, 100.0, 140.0),
        rectangle(100.0, 0.0, 100.0, 140.0),
        rectangle(0.0, -60.0, 100.0, 60.0),
        rectangle(100.0, -60.0, 100.0, 60.0),
        rectangle(-15.0, -60.0, 15.0, 60.0),
        rectangle(200.0, -60.0, 15.0, 60.0),
    ];
    let crease =
        |pair, from: (f64, f64), to: (f64, f64)| (pair, [DVec2::from(from), DVec2::from(to)], Some(Fold::Valley));
    let creases = vec![
        crease([0, 1], (100.0, 0.0), (100.0, 140.0)),
        crease([0, 2], (0.0, 0.0), (100.0, 0.0)),
        crease([1, 3], (100.0, 0.0), (200.0, 0.0)),
        crease([2, 4], (0.0, -60.0), (0.0, 0.0)),
        crease([3, 5], (200.0, -60.0), (200.0, 0.0)),
    ];
    let figure = Pattern { panels, creases }.folded();
    assert_eq!(count(&figure), 22);
    // A tab glued to its cover lies right on it.
    let glue =
        Bond { facets: [0, 4], area: vec![figure.facets[4].outline.clone()], faces: Some([Face::Front, Face::Back]) };
    let lies_on_cover = |state: &State| {
        let pile = state.pile_at(DVec2::new(5.0, 30.0));
        pile.windows(2).any(|pair| pair == [0, 4])
    };
    let mut expected = states(&figure);
    expected.retain(lies_on_cover);
    let glued = states(&Figure { bonds: vec![glue], ..figure });
    assert!(glued.iter().all(lies_on_cover) && !glued.is_empty());
    assert_eq!(glued.len(), expected.len());
}

#[test]
fn glue_keeps_others_out_of_its_area() {
    // Three equal panels rolled up: 0 2 1 and 2 0 1 from the bottom.
    let roll = strip(&[10.0, 10.0, 10.0], "VV");
    let with = |pairs: &[[usize; 2]]| {
        let area = vec![rectangle(1.0, 1.0, 4.0, 4.0)];
        let bonds = pairs.iter().map(|&facets| Bond { facets, area: area.clone(), faces: None });
        Figure { bonds: bonds.collect(), ..roll.clone() }
    };
    assert_eq!(count(&with(&[])), 2);
    assert_eq!(count(&with(&[[0, 2]])), 2);
    assert_eq!(count(&with(&[[1, 2]])), 1);
    let Answer::Order(state) = ready(&with(&[[2, 0], [1, 2]])).solve() else { panic!("0 2 1 keeps both") };
    assert_eq!(state.pile_at(DVec2::new(5.0, 5.0)), [0, 2, 1]);
    let Answer::Conflict(conflict) = ready(&with(&[[0, 1], [1, 2]])).solve() else { panic!("1 is on top") };
    assert_eq!((conflict.bonds, conflict.joints, conflict.directions), (vec![0, 1], vec![0, 1], vec![0, 1]));
    let Answer::Conflict(conflict) = ready(&with(&[[0, 1], [0, 2], [1, 2]])).solve() else { panic!("one is between") };
    assert!(conflict.is_least && conflict.bonds.len() + conflict.joints.len() <= 4, "{conflict:?}");
}

#[test]
fn glued_faces_settle_which_is_above() {
    let pleats = strip(&[10.0, 10.0, 10.0], "??");
    let bond = |faces| Bond { facets: [0, 2], area: vec![rectangle(1.0, 1.0, 4.0, 4.0)], faces: Some(faces) };
    // Panels 0 and 2 lie face up: the front of one meets the back of the other.
    let above = Figure { bonds: vec![bond([Face::Front, Face::Back])], ..pleats.clone() };
    assert!(states(&above).iter().all(|state| state.above(2, 0) == Some(true)));
    assert_eq!(count(&above), 2, "panel 1 below or above both");
    let below = Figure { bonds: vec![bond([Face::Back, Face::Front])], ..pleats };
    assert!(states(&below).iter().all(|state| state.above(2, 0) == Some(false)));
}

#[test]
fn glue_binds_what_lies_over_it() {
    // Panel 1 is folded over the right end of panel 0; a loose panel 2 lies below, between or above them.
    let mut figure = strip(&[30.0, 10.0], "V");
    figure.facets.push(Facet { outline: rectangle(15.0, 0.0, 15.0, 10.0), face_up: true, ..Facet::default() });
    assert_eq!(count(&figure), 3);
    let glued = |x| {
        let bond = Bond { facets: [0, 2], area: vec![rectangle(x, 1.0, 3.0, 4.0)], faces: None };
        count(&Figure { bonds: vec![bond], ..figure.clone() })
    };
    assert_eq!(glued(16.0), 3, "panel 1 does not reach the glue");
    assert_eq!(glued(19.0), 2, "it does");
    assert_eq!(glued(22.0), 2);
}

#[test]
fn an_empty_figure_has_one_order() {
    assert_eq!(count(&Figure::default()), 1);
    assert_eq!(folds(""), []);
}
