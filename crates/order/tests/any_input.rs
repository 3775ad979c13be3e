//! Whatever a figure is, there is an answer or a fault, and no panic. Corners come from a small grid with a little noise, so
//! that they often coincide, nearly do, or line up.

mod common;

use common::{Pattern, Random, rectangle};
use foliowright_order::{Bond, Effort, Face, Facet, Figure, FigureFault, Fold, Given, Joint, Part, prepare};
use glam::DVec2;

const NOISE: [f64; 8] = [0.0, 0.0, 0.0, 0.0, 1e-9, 4e-4, 9e-4, 3e-3];

fn point(random: &mut Random) -> DVec2 {
    let mut at = || *random.pick(&[0.0, 10.0, 20.0, 30.0, 13.7]) + *random.pick(&NOISE);
    DVec2::new(at(), at())
}

fn outline(random: &mut Random) -> Vec<DVec2> {
    match random.below(4) {
        0 => (0..random.below(7)).map(|_| point(random)).collect(),
        1 => vec![point(random), point(random), point(random)],
        _ => {
            let (low, size) = (point(random), point(random) + 5.0);
            rectangle(low.x, low.y, size.x, size.y)
        }
    }
}

fn anything(random: &mut Random) -> Figure {
    let count = 1 + random.below(7);
    let mut figure = Figure::default();
    for facet in 0..count {
        if facet == 0 || random.below(3) == 0 {
            let holes = (0..random.below(5) / 4).map(|_| outline(random)).collect();
            figure.facets.push(Facet { outline: outline(random), holes, face_up: random.below(2) == 1 });
        } else {
            hang_on(&mut figure, random);
        }
    }
    // Now and then one that there is none of.
    let number = |random: &mut Random| {
        let beyond = usize::from(random.below(20) == 0);
        random.below(count + beyond)
    };
    for _ in 0..random.below(3) {
        let facets = [number(random), number(random)];
        let segment = edge(random, &figure.facets).unwrap_or_else(|| (point(random), point(random)));
        figure.joints.push(Joint { facets, segment, fold: *random.pick(&FOLDS) });
    }
    let faces = [None, Some([Face::Front, Face::Back]), Some([Face::Front, Face::Front])];
    for _ in 0..random.below(2) {
        let (facets, area) = ([number(random), number(random)], vec![outline(random)]);
        figure.bonds.push(Bond { facets, area, faces: *random.pick(&faces) });
    }
    for _ in 0..random.below(3) {
        let at = (random.below(2) == 1).then(|| point(random));
        figure.given.push(Given { lower: number(random), upper: number(random), at });
    }
    figure
}

const FOLDS: [Option<Fold>; 4] = [None, Some(Fold::Valley), Some(Fold::Mountain), Some(Fold::Either)];

/// Adds a panel like another and joined to it along an edge: on it if folded, beside it if not.
fn hang_on(figure: &mut Figure, random: &mut Random) {
    let from = random.below(figure.facets.len());
    let mut facet = figure.facets[from].clone();
    let fold = *random.pick(&FOLDS);
    let count = facet.outline.len();
    let at = random.below(count.max(1));
    if let (Some(&a), Some(&b)) = (facet.outline.get(at), facet.outline.get((at + 1) % count.max(1))) {
        let along = (b - a).normalize_or_zero();
        if fold.is_none() {
            let turn = |corner: DVec2| 2.0 * (a + along * along.dot(corner - a)) - corner;
            facet.outline.iter_mut().chain(facet.holes.iter_mut().flatten()).for_each(|corner| *corner = turn(*corner));
        }
        facet.face_up ^= fold.is_some();
        figure.joints.push(Joint { facets: [from, figure.facets.len()], segment: (a, b), fold });
    }
    figure.facets.push(facet);
}

/// An edge of some panel, so that a joint may be on a boundary.
fn edge(random: &mut Random, facets: &[Facet]) -> Option<(DVec2, DVec2)> {
    let outline = &facets[random.below(facets.len())].outline;
    (!outline.is_empty()).then(|| {
        let at = random.below(outline.len());
        (outline[at], outline[(at + 1) % outline.len()])
    })
}

/// The figure without what its faults name, one after the other.
fn mended(mut figure: Figure) -> Figure {
    while let Err(fault) = prepare(&figure) {
        match fault {
            FigureFault::NoArea { facet } | FigureFault::Tangled { facet } => {
                figure.facets[facet].outline = rectangle(0.0, 0.0, 20.0, 10.0);
                figure.facets[facet].holes.clear();
            }
            FigureFault::Unpaired(Part::Joint(joint))
            | FigureFault::ShortJoint { joint }
            | FigureFault::Apart { joint, .. }
            | FigureFault::OnSlit { joint, .. }
            | FigureFault::WrongSides { joint }
            | FigureFault::TwoJoints { joints: [joint, _], .. } => {
                figure.joints.remove(joint);
            }
            FigureFault::WrongFaces { joint } => {
                let fold = figure.joints[joint].fold;
                figure.joints[joint].fold = if fold.is_none() { Some(Fold::Either) } else { None };
            }
            FigureFault::Unpaired(Part::Bond(bond))
            | FigureFault::BondApart { bond }
            | FigureFault::BondFaces { bond } => {
                figure.bonds.remove(bond);
            }
            FigureFault::Unpaired(Part::Given(given)) => {
                figure.given.remove(given);
            }
            other => panic!("{other} is not of these figures"),
        }
    }
    figure
}

/// Asks everything there is to ask; how many joints it was about.
fn ask(figure: &Figure) -> usize {
    let problem = prepare(figure).unwrap_or_else(|fault| panic!("{fault} in {figure:?}"));
    let problem = problem.with_effort(Effort(20_000));
    let answer = problem.solve();
    let listing = problem.list(20);
    for state in listing.states().take(5) {
        let piles: Vec<Vec<usize>> = state
            .piles()
            .map(|(point, pile)| {
                assert_eq!(state.pile_at(point), pile);
                pile
            })
            .collect();
        for pile in piles {
            for pair in pile.windows(2) {
                assert_ne!(state.above(pair[0], pair[1]), Some(true), "{figure:?}");
            }
        }
        assert_eq!(state.folds().count(), figure.joints.len());
    }
    let overlaps = problem.overlaps();
    for (number, overlap) in overlaps.iter().enumerate().take(4) {
        assert!(problem.point_of(number).is_some_and(DVec2::is_finite));
        assert!(!problem.leeway(overlap.facets[0], overlap.facets[1]).is_empty());
    }
    let asked: Vec<Given> = figure.given.iter().copied().chain([Given::new(0, 1), Given::new(1, 0)]).collect();
    drop((problem.allows(&asked), problem.count(100), answer));
    figure.joints.len()
}

#[test]
fn no_figure_makes_it_panic() {
    let mut random = Random(1);
    let joints: usize = (0..600).map(|_| ask(&mended(anything(&mut random)))).sum();
    assert!(joints > 300, "{joints} joints were left");
}

#[test]
fn panels_that_lie_anyhow_have_an_order_for_every_way_to_pile_them() {
    // Without joints, any pile will do: one order where two panels don't overlap, two where they do.
    let mut random = Random(2);
    let mut seen = 0;
    while seen < 200 {
        let panels = vec![outline(&mut random), outline(&mut random)];
        let Ok(problem) = prepare(&Pattern { panels, creases: Vec::new() }.folded()) else { continue };
        let overlaps = u32::try_from(problem.overlaps().len()).expect("few");
        assert_eq!(problem.count(1 << 20), foliowright_order::Count::Exact(1 << overlaps));
        seen += 1;
    }
}
