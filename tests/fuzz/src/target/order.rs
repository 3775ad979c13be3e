//! Any figure: a fault or an answer within its effort, and an order that was found holds.

use crate::bytes::Bytes;
use glam::DVec2;
use order::{Answer, Bond, Effort, Face, Facet, Figure, Fold, Given, Joint, prepare};

const FOLDS: [Option<Fold>; 4] = [None, Some(Fold::Valley), Some(Fold::Mountain), Some(Fold::Either)];

/// Places on a small grid, with noise about the size of what counts as one place, and some that are no places at all.
const PLACES: [f64; 16] = [
    0.0,
    10.0,
    20.0,
    30.0,
    13.7,
    10.000_1,
    9.999_6,
    10.003,
    0.000_9,
    20.000_000_001,
    40.0,
    50.0,
    -10.0,
    1e7,
    f64::NAN,
    f64::INFINITY,
];

pub(crate) fn run(data: &[u8]) {
    let figure = figure(&mut Bytes(data));
    let problem = match prepare(&figure) {
        Ok(problem) => problem.with_effort(Effort(20_000)),
        Err(fault) => {
            assert!(!fault.to_string().is_empty());
            return;
        }
    };
    if let Answer::Order(state) = problem.solve() {
        for (point, pile) in state.piles() {
            assert_eq!(state.pile_at(point), pile);
            pile.windows(2).for_each(|pair| assert_ne!(state.above(pair[0], pair[1]), Some(true)));
        }
    }
    let overlaps = problem.overlaps();
    for (number, overlap) in overlaps.iter().enumerate().take(4) {
        assert!(problem.point_of(number).is_some_and(DVec2::is_finite));
        assert!(!problem.leeway(overlap.facets[0], overlap.facets[1]).is_empty());
    }
    drop((problem.count(50), problem.allows(&[Given::new(0, 1), Given::new(1, 0)])));
}

fn point(bytes: &mut Bytes<'_>) -> DVec2 {
    // What is no place comes seldom.
    let mut at = || if bytes.byte() < 250 { PLACES[bytes.below(12)] } else { PLACES[bytes.below(16)] };
    DVec2::new(at(), at())
}

fn outline(bytes: &mut Bytes<'_>) -> Vec<DVec2> {
    if bytes.below(3) == 0 {
        return (0..bytes.below(7)).map(|_| point(bytes)).collect();
    }
    let (low, high) = (point(bytes), point(bytes) + 5.0);
    vec![low, DVec2::new(high.x, low.y), high, DVec2::new(low.x, high.y)]
}

fn figure(bytes: &mut Bytes<'_>) -> Figure {
    let mut figure = Figure::default();
    for facet in 0..=bytes.below(7) {
        if facet == 0 || bytes.below(3) == 0 {
            let holes = (0..bytes.below(5) / 4).map(|_| outline(bytes)).collect();
            figure.facets.push(Facet { outline: outline(bytes), holes, face_up: bytes.flag() });
        } else {
            hang_on(&mut figure, bytes);
        }
    }
    let count = figure.facets.len();
    for _ in 0..bytes.below(3) {
        let facets = [bytes.below(count + 1), bytes.below(count + 1)];
        figure.joints.push(Joint { facets, segment: (point(bytes), point(bytes)), fold: bytes.pick(&FOLDS) });
    }
    for _ in 0..bytes.below(2) {
        let (facets, area) = ([bytes.below(count + 1), bytes.below(count + 1)], vec![outline(bytes)]);
        let faces = [None, Some([Face::Front, Face::Back]), Some([Face::Front, Face::Front])];
        figure.bonds.push(Bond { facets, area, faces: bytes.pick(&faces) });
    }
    for _ in 0..bytes.below(3) {
        let at = bytes.flag().then(|| point(bytes));
        figure.given.push(Given { lower: bytes.below(count + 1), upper: bytes.below(count + 1), at });
    }
    figure
}

/// Adds a panel like another and joined to it along an edge.
fn hang_on(figure: &mut Figure, bytes: &mut Bytes<'_>) {
    let from = bytes.below(figure.facets.len());
    let mut facet = figure.facets[from].clone();
    let fold = bytes.pick(&FOLDS);
    let count = facet.outline.len();
    if count > 1 {
        let at = bytes.below(count);
        let (a, b) = (facet.outline[at], facet.outline[(at + 1) % count]);
        let along = (b - a).normalize_or_zero();
        if fold.is_none() {
            let turned = |corner: DVec2| 2.0 * (a + along * along.dot(corner - a)) - corner;
            facet
                .outline
                .iter_mut()
                .chain(facet.holes.iter_mut().flatten())
                .for_each(|corner| *corner = turned(*corner));
        }
        facet.face_up ^= fold.is_some();
        figure.joints.push(Joint { facets: [from, figure.facets.len()], segment: (a, b), fold });
    }
    figure.facets.push(facet);
}
