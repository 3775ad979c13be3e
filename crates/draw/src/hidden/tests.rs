//! Checks against a depth buffer, and cases worked out by hand.

mod depth_buffer;
mod scene;

use super::order::Order;
use super::piece::Piece;
use super::{Corner, Face, Lower, back_to_front, back_to_front_as};
use depth_buffer::compare;
use glam::{DVec3, dvec2, dvec3};
use scene::{Dice, faces, rectangle};

/// Whether a scene may need cuts.
#[derive(Clone, Copy, Debug)]
enum Cuts {
    Any,
    Exactly(usize),
}

/// Sorts scenes made by `make` and compares each with the depth buffer.
#[track_caller]
fn check(scenes: u64, cuts: Cuts, make: impl Fn(&mut Dice) -> Vec<Vec<DVec3>>) {
    let mut contested = 0;
    for seed in 1..=scenes {
        let mut dice = Dice::new(seed);
        let input = faces(make(&mut dice));
        let sorted = back_to_front(input.clone());
        let result = compare(&input, &sorted, dice.shift());
        assert!(result.wrong.is_empty(), "scene {seed}: {:?} in {input:#?}", result.wrong);
        if let Cuts::Exactly(cuts) = cuts {
            assert_eq!(sorted.len(), input.len() + cuts, "scene {seed}");
        }
        assert_parts_make_up(&input, &sorted);
        contested += result.contested;
    }
    let least = usize::try_from(scenes).unwrap() * 5;
    assert!(contested > least, "only {contested} samples of overlaps were compared");
}

/// That the parts of each face have its area, its numbered edges in full length, and cuts inside it.
#[track_caller]
fn assert_parts_make_up(input: &[Face<usize>], sorted: &[Face<usize>]) {
    for face in input {
        let parts: Vec<_> = sorted.iter().filter(|part| part.tag == face.tag).collect();
        let whole = area(face);
        let sum: f64 = parts.iter().map(|part| area(part)).sum();
        assert!((whole - sum).abs() < 1e-7 * whole.max(1.0), "area {whole} became {sum}");
        let mut lengths = vec![0.0; face.corners.len()];
        for (corner, end) in parts.iter().flat_map(|part| edges(part)) {
            let on = |i: usize| distance_to_edge(face, i, corner.at).max(distance_to_edge(face, i, end));
            if let Some(edge) = corner.edge {
                assert!(on(edge) < 1e-5, "edge {edge} moved");
                lengths[edge] += corner.at.distance(end);
            } else {
                let own = (0..face.corners.len()).find(|&i| on(i) < 1e-9);
                assert_eq!(own, None, "an edge lost its number");
            }
        }
        for ((corner, end), length) in edges(face).zip(lengths) {
            let before = corner.at.distance(end);
            assert!((before - length).abs() < 1e-5, "an edge of {before} became {length}");
        }
    }
}

fn edges<T>(face: &Face<T>) -> impl Iterator<Item = (Corner, DVec3)> {
    let ends = face.corners.iter().cycle().skip(1);
    face.corners.iter().zip(ends).map(|(&corner, end)| (corner, end.at))
}

fn area<T>(face: &Face<T>) -> f64 {
    let first = face.corners[0].at;
    edges(face).map(|(corner, end)| (corner.at - first).cross(end - first)).sum::<DVec3>().length() / 2.0
}

fn distance_to_edge<T>(face: &Face<T>, edge: usize, point: DVec3) -> f64 {
    let (corner, end) = edges(face).nth(edge).unwrap();
    let along = (end - corner.at).normalize();
    (point - corner.at).cross(along).length()
}

fn tags(faces: Vec<Face<usize>>) -> Vec<usize> {
    back_to_front(faces).into_iter().map(|face| face.tag).collect()
}

fn raised(points: Vec<DVec3>, z: f64) -> Vec<DVec3> {
    points.into_iter().map(|point| point + DVec3::Z * z).collect()
}

fn square(low: f64, high: f64, z: f64) -> Vec<DVec3> {
    raised(rectangle(dvec2(low, low), dvec2(high, high)), z)
}

#[test]
fn loose_faces_agree_with_a_depth_buffer() {
    check(800, Cuts::Any, scene::loose);
}

#[test]
fn bars_on_a_table_agree_with_a_depth_buffer() {
    check(800, Cuts::Any, scene::bars);
}

#[test]
fn layers_a_tenth_of_a_millimetre_apart_agree_with_a_depth_buffer_and_stay_whole() {
    check(600, Cuts::Exactly(0), scene::stack);
}

#[test]
fn pleats_agree_with_a_depth_buffer_and_stay_whole() {
    check(600, Cuts::Exactly(0), scene::pleats);
}

#[test]
fn folded_strips_agree_with_a_depth_buffer() {
    check(1000, Cuts::Any, scene::folded_strip);
}

#[test]
fn faces_through_each_other_agree_with_a_depth_buffer() {
    check(1000, Cuts::Any, scene::crossed_pair);
}

#[test]
fn rings_agree_with_a_depth_buffer_and_take_one_cut() {
    for count in 3..=7 {
        check(150, Cuts::Exactly(1), |dice| scene::ring(dice, count));
    }
}

#[test]
fn three_bars_in_a_ring_need_a_cut_but_not_when_one_lies_on_top() {
    let mut bars = scene::ring(&mut Dice::new(7), 3);
    assert_eq!(back_to_front(faces(bars.clone())).len(), 4);
    bars[1] = raised(bars[1].clone(), 50.0);
    assert_eq!(back_to_front(faces(bars)).len(), 3);
}

#[test]
fn a_pair_that_crosses_becomes_three() {
    let at = |x: f64, y: f64| dvec3(x, y, x / 2.0);
    let ramp = vec![at(-10.0, -3.0), at(10.0, -3.0), at(10.0, 3.0), at(-10.0, 3.0)];
    let sorted = back_to_front(faces([square(-20.0, 20.0, 0.0), ramp]));
    assert_eq!(sorted.iter().map(|face| face.tag).collect::<Vec<_>>(), [1, 0, 1]);
    // The ramp meets the square along x = 0, halfway up: its lower half has x < 0, and one new edge without a number.
    let lower: Vec<_> = sorted[0].corners.iter().map(|corner| (corner.at.x, corner.edge)).collect();
    assert_eq!(lower, [(-10.0, Some(0)), (0.0, None), (0.0, Some(2)), (-10.0, Some(3))]);
    let upper: Vec<_> = sorted[2].corners.iter().map(|corner| (corner.at.x, corner.edge)).collect();
    assert_eq!(upper, [(0.0, Some(0)), (10.0, Some(1)), (10.0, Some(2)), (0.0, None)]);
}

#[test]
fn nothing_sorts_to_nothing() {
    assert_eq!(back_to_front(Vec::<Face<()>>::new()), []);
}

#[test]
fn faces_come_back_as_they_were() {
    let face = Face::new(square(0.0, 1.0, 0.0), "panel 3, back");
    assert_eq!(back_to_front(vec![face.clone()]), [face]);
}

#[test]
fn edge_numbers_of_the_caller_survive_a_cut() {
    let mut input = faces(scene::crossed_pair(&mut Dice::new(3)));
    input.iter_mut().flat_map(|face| &mut face.corners).for_each(|corner| corner.edge = Some(41));
    let sorted = back_to_front(input);
    assert!(sorted.len() > 2, "the pair crosses");
    let count = |edge| sorted.iter().flat_map(|face| &face.corners).filter(|corner| corner.edge == edge).count();
    assert_eq!(count(None), 2 * (sorted.len() - 2));
    assert!(count(Some(41)) > 0);
}

#[test]
fn faces_at_one_depth_keep_their_order() {
    for seed in 1..200 {
        let mut dice = Dice::new(seed);
        let pose = dice.rotation();
        let flat = |dice: &mut Dice| {
            let by = dvec3(dice.between(-20.0, 20.0), dice.between(-20.0, 20.0), dice.between(-1e-7, 1e-7));
            scene::outline(dice, 5.0, 40.0).into_iter().map(|point| pose * (point + by)).collect()
        };
        let count = dice.pick(2, 20);
        let sorted = tags(faces((0..count).map(|_| flat(&mut dice))));
        assert!(sorted.is_sorted(), "scene {seed}: {sorted:?}");
    }
}

#[test]
fn depth_goes_before_input_order() {
    assert_eq!(tags(faces([square(0.0, 9.0, 0.2), square(1.0, 9.0, 0.1), square(2.0, 9.0, 0.2)])), [1, 0, 2]);
}

#[test]
fn faces_side_by_side_keep_their_order_whatever_their_depth() {
    let quarter = |x, y, z| raised(rectangle(dvec2(x, y), dvec2(x + 1.0, y + 1.0)), z);
    let quarters = [quarter(0.0, 0.0, 3.0), quarter(1.0, 0.0, 2.0), quarter(0.0, 1.0, 1.0), quarter(1.0, 1.0, 0.0)];
    assert_eq!(tags(faces(quarters)), [0, 1, 2, 3]);
}

#[test]
fn neighbours_that_overlap_by_rounding_put_no_order_on_each_other() {
    let over = 1e-9;
    let strip = |x: f64, z: f64| raised(rectangle(dvec2(x - over, 0.0), dvec2(x + 1.0 + over, 5.0)), z);
    assert_eq!(tags(faces([strip(0.0, 2.0), strip(1.0, 1.0), strip(2.0, 0.0)])), [0, 1, 2]);
}

#[test]
fn a_loose_order_yields_to_depth() {
    // 0 and 1 lie at one depth within the tolerance, and so do 1 and 2; 2 is clearly behind 0.
    let layers = [square(0.0, 9.0, 0.0), square(0.0, 9.0, -8e-7), square(0.0, 9.0, -1.6e-6)];
    let sorted = tags(faces(layers));
    let place = |tag| sorted.iter().position(|&other| other == tag);
    assert_eq!(sorted.len(), 3);
    assert!(place(2) < place(0), "{sorted:?}");
}

#[test]
fn a_wall_seen_edge_on_lies_between_what_is_under_and_over_it() {
    // A gusset stands on a base panel and carries a front panel; a flap further up covers them all.
    let wall = vec![dvec3(5.0, 1.0, 0.0), dvec3(5.0, 8.0, 0.0), dvec3(5.0, 8.0, 6.0), dvec3(5.0, 1.0, 6.0)];
    let flap = square(0.0, 9.0, 6.5);
    let base = square(0.0, 9.0, 0.0);
    let front = raised(rectangle(dvec2(0.0, 0.0), dvec2(7.0, 9.0)), 6.0);
    assert_eq!(tags(faces([flap, front, wall, base])), [3, 2, 1, 0]);
}

#[test]
fn a_wall_through_a_panel_shows_and_cuts_nothing() {
    let wall = vec![dvec3(2.0, 1.0, -3.0), dvec3(4.0, 8.0, -3.0), dvec3(4.0, 8.0, 3.0), dvec3(2.0, 1.0, 3.0)];
    assert_eq!(tags(faces([wall, square(0.0, 9.0, 0.0)])), [1, 0]);
}

#[test]
fn a_ring_closed_by_a_wall_alone_needs_no_cut() {
    // The wall's sloping top is over the upper panel and under the lower one, at the middle of each.
    let wall = vec![dvec3(5.0, 0.0, -1.0), dvec3(5.0, 10.0, -1.0), dvec3(5.0, 10.0, 0.0), dvec3(5.0, 0.0, 7.0)];
    let upper = raised(rectangle(dvec2(0.0, 0.0), dvec2(9.0, 4.0)), 5.0);
    let lower = raised(rectangle(dvec2(0.0, 3.0), dvec2(9.0, 10.0)), 3.0);
    let sorted = tags(faces([wall, upper, lower]));
    assert_eq!(sorted.len(), 3);
    assert!(sorted.iter().rposition(|&tag| tag == 2) < sorted.iter().position(|&tag| tag == 1), "{sorted:?}");
}

/// Bars in one plane, each of which is said to lie on the one before it, the first on the last: sorted, cut and looked at
/// from above.
#[track_caller]
fn check_woven(seed: u64, count: usize) {
    let mut dice = Dice::new(seed);
    let flat = |bar: Vec<DVec3>| bar.into_iter().map(|point| point.with_z(0.0)).collect();
    let bars: Vec<Vec<DVec3>> = scene::ring(&mut dice, u32::try_from(count).unwrap()).into_iter().map(flat).collect();
    let middle = |bar: &[DVec3]| bar.iter().sum::<DVec3>() / 4.0;
    let centre = bars.iter().map(|bar| middle(bar)).sum::<DVec3>() / f64::from(u32::try_from(count).unwrap());
    let around = |bar: &[DVec3]| {
        let from = middle(bar) - centre;
        libm::atan2(from.y, from.x)
    };
    let mut turn: Vec<usize> = (0..count).collect();
    turn.sort_by(|&a, &b| around(&bars[a]).total_cmp(&around(&bars[b])));
    let place = |bar: usize| turn.iter().position(|&other| other == bar).unwrap();
    let said = |a: &usize, b: &usize| match (place(*a) + count - place(*b)) % count {
        1 => Some(Lower::Second),
        back if back == count - 1 => Some(Lower::First),
        _ => None,
    };
    let input = faces(bars.clone());
    let sorted = back_to_front_as(input.clone(), said);
    assert_parts_make_up(&input, &sorted);
    assert!(sorted.len() > input.len() && sorted.len() < 3 * input.len(), "{} parts", sorted.len());
    // Every spot of every crossing shows the bar that is said to lie on the other.
    let inside = |corners: &[DVec3], at: DVec3| {
        let sides = (0..corners.len()).map(|i| {
            let (from, to) = (corners[i], corners[(i + 1) % corners.len()]);
            (to - from).cross(at - from).z
        });
        let sides: Vec<f64> = sides.collect();
        sides.iter().all(|&side| side > 1e-6) || sides.iter().all(|&side| side < -1e-6)
    };
    let mut looked = 0;
    for i in 0..300 {
        for j in 0..300 {
            let at = centre + dvec3(f64::from(i) - 149.6, f64::from(j) - 149.7, 0.0) * 0.45;
            let over: Vec<usize> = (0..count).filter(|&bar| inside(&bars[bar], at)).collect();
            let [a, b] = over[..] else { continue };
            let top = sorted.iter().rev().find(|face| {
                let corners: Vec<DVec3> = face.corners.iter().map(|corner| corner.at).collect();
                inside(&corners, at)
            });
            let Some(top) = top else { continue };
            assert_eq!(top.tag, if said(&a, &b) == Some(Lower::First) { b } else { a }, "at {at}");
            looked += 1;
        }
    }
    assert!(looked > 50 * count, "only {looked} spots of crossings were looked at");
}

#[test]
fn what_is_said_of_faces_in_one_plane_is_shown_even_in_a_ring() {
    for (seed, count) in [(1, 3), (2, 4), (3, 5), (4, 7)] {
        check_woven(seed, count);
    }
}

#[test]
fn a_wall_along_a_hinge_puts_no_order_on_its_neighbour() {
    let wall = vec![dvec3(0.0, 0.0, 0.0), dvec3(0.0, 9.0, 0.0), dvec3(0.0, 9.0, 6.0), dvec3(0.0, 0.0, 6.0)];
    assert_eq!(tags(faces([wall, square(0.0, 9.0, 0.0)])), [0, 1]);
}

#[test]
fn faces_without_area_or_with_wild_coordinates_are_left_out() {
    let line = vec![dvec3(0.0, 0.0, 0.0), dvec3(1.0, 1.0, 0.0), dvec3(2.0, 2.0, 0.0)];
    let wild = |value| vec![dvec3(0.0, 0.0, value), dvec3(1.0, 0.0, 0.0), dvec3(1.0, 1.0, 0.0)];
    let points = vec![DVec3::ONE; 4];
    let rest = [wild(f64::NAN), wild(f64::INFINITY), wild(f64::MAX), points, Vec::new(), vec![DVec3::X, DVec3::Y]];
    let all = [line, square(0.0, 1.0, 0.0)].into_iter().chain(rest);
    assert_eq!(tags(faces(all)), [1]);
}

#[test]
fn any_numbers_sort_without_harm() {
    let odd = [0.0, -0.0, 1.0, -1.0, 5e-324, 1e-9, 1e-5, 3.0, 1e9, 1e150, -1e300, f64::NAN, f64::NEG_INFINITY];
    for seed in 1..3000 {
        let mut dice = Dice::new(seed);
        // Most scenes draw from the small numbers, so that faces survive; points may repeat and outlines may be bent.
        let kinds = if seed % 4 == 0 { 13 } else { 9 };
        let mut number = || odd[usize::try_from(dice.pick(0, kinds)).unwrap()];
        let outlines: Vec<Vec<DVec3>> =
            (0..seed % 12).map(|i| (0..i % 7).map(|_| dvec3(number(), number(), number())).collect()).collect();
        let sorted = back_to_front(faces(outlines));
        assert!(sorted.iter().flat_map(|face| &face.corners).all(|corner| corner.at.is_finite()), "scene {seed}");
    }
}

#[test]
fn without_cuts_to_spare_every_face_still_comes_back_once() {
    for make in [|dice: &mut Dice| scene::ring(dice, 5), scene::bars, scene::loose] {
        let input = faces(make(&mut Dice::new(11)));
        let pieces = input.iter().filter_map(|face| Piece::new(face.tag, face.corners.clone())).collect();
        let mut sources: Vec<_> =
            Order::new(pieces, 0, &|_, _| None).into_sorted().iter().map(|piece| piece.source).collect();
        sources.sort_unstable();
        assert_eq!(sources, (0..input.len()).collect::<Vec<_>>());
    }
}

#[test]
fn the_number_of_cuts_is_kept() {
    let input = faces((0..4).flat_map(|seed| scene::loose(&mut Dice::new(40 + seed))));
    let pieces: Vec<_> = input.iter().filter_map(|face| Piece::new(face.tag, face.corners.clone())).collect();
    let count = |cuts| Order::new(pieces.clone(), cuts, &|_, _| None).into_sorted().len() - pieces.len();
    assert_eq!([0, 1, 5].map(count), [0, 1, 5]);
}
