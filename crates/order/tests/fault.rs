//! Figures that can't be looked at, and odd ones that can. By hand.

mod common;

use common::{count, rectangle, strip};
use foliowright_order::{Answer, Bond, Face, Facet, Figure, FigureFault, Fold, Given, Joint, Part, prepare};
use glam::DVec2;

/// A card of two panels, with something done to it.
#[track_caller]
fn check(spoil: impl FnOnce(&mut Figure), expected: FigureFault, sentence: &str) {
    let mut figure = strip(&[50.0, 50.0], "V");
    spoil(&mut figure);
    let fault = match prepare(&figure) {
        Ok(_) => panic!("{figure:?} has no fault"),
        Err(fault) => fault,
    };
    assert_eq!(fault, expected);
    assert!(fault.to_string().contains(sentence), "{fault}");
}

fn bond(area: Vec<Vec<DVec2>>, faces: Option<[Face; 2]>) -> Bond {
    Bond { facets: [0, 1], area, faces }
}

#[test]
fn numbers_are_checked() {
    let panel = FigureFault::Unplaced(Part::Facet(1));
    check(|figure| figure.facets[1].outline[0].x = f64::NAN, panel, "panel 1");
    check(|figure| figure.facets[1].outline[0].x = 1e9, panel, "nearer the origin");
    check(|figure| figure.joints[0].segment.1.y = f64::INFINITY, FigureFault::Unplaced(Part::Joint(0)), "joint 0");
    check(|figure| figure.joints[0].facets = [0, 2], FigureFault::Unpaired(Part::Joint(0)), "joint 0");
    check(|figure| figure.joints[0].facets = [1, 1], FigureFault::Unpaired(Part::Joint(0)), "two different panels");
    check(|figure| figure.given.push(Given::new(0, 7)), FigureFault::Unpaired(Part::Given(0)), "given order 0");
    let nowhere = Bond { facets: [0, 9], ..Bond::default() };
    check(|figure| figure.bonds.push(nowhere), FigureFault::Unpaired(Part::Bond(0)), "bond 0");
    let many = |figure: &mut Figure| figure.facets = vec![Facet::default(); 1001];
    check(many, FigureFault::TooManyFacets { count: 1001 }, "1000 at most");
}

#[test]
fn outlines_are_checked() {
    let no_area = FigureFault::NoArea { facet: 1 };
    check(|figure| figure.facets[1].outline.clear(), no_area, "panel 1 holds no paper");
    check(|figure| figure.facets[1].outline.truncate(2), no_area, "panel 1");
    check(|figure| figure.facets[1].outline.iter_mut().for_each(|corner| corner.y *= 1e-6), no_area, "panel 1");
    let tangled = FigureFault::Tangled { facet: 0 };
    check(|figure| figure.facets[0].outline.swap(1, 2), tangled, "crosses itself");
    check(|figure| figure.facets[0].holes.push(rectangle(45.0, 2.0, 20.0, 2.0)), tangled, "panel 0");
    let star = [0, 3, 1, 4, 2].map(|i| {
        let angle = f64::from(i) * std::f64::consts::TAU / 5.0;
        DVec2::new(libm::cos(angle), libm::sin(angle)) * 30.0
    });
    // Turns one way at every corner, and crosses itself all the same.
    check(|figure| figure.facets[0].outline = star.to_vec(), tangled, "panel 0");
}

#[test]
fn joints_are_checked() {
    let apart = |facet| FigureFault::Apart { joint: 0, facet };
    let shift = |figure: &mut Figure, facet: usize, by: f64| {
        figure.facets[facet].outline.iter_mut().for_each(|corner| corner.x += by);
    };
    check(|figure| shift(figure, 1, 0.01), apart(1), "do not close");
    check(|figure| shift(figure, 0, -0.01), apart(0), "panel 0");
    check(|figure| figure.joints[0].segment.1.y = 12.0, apart(0), "not on the edge");
    let ends = |figure: &mut Figure| figure.joints[0].segment.1 = figure.joints[0].segment.0;
    check(ends, FigureFault::ShortJoint { joint: 0 }, "no length");
    check(|figure| figure.facets[1].face_up = true, FigureFault::WrongFaces { joint: 0 }, "wrong faces");
    check(|figure| figure.joints[0].fold = None, FigureFault::WrongFaces { joint: 0 }, "wrong faces");
    let aside = |figure: &mut Figure| figure.facets[1].outline = rectangle(50.0, 0.0, 50.0, 10.0);
    check(aside, FigureFault::WrongSides { joint: 0 }, "on one side");
    let twice = |figure: &mut Figure| figure.joints.push(figure.joints[0].clone());
    check(twice, FigureFault::TwoJoints { joints: [0, 1], facet: 0 }, "same stretch");
    let slit = |figure: &mut Figure| {
        let ends = [DVec2::new(20.0, 2.0), DVec2::new(20.0, 8.0)];
        figure.facets[0].holes.push(ends.to_vec());
        figure.facets[1].outline = rectangle(20.0, 0.0, 10.0, 10.0);
        figure.joints[0].segment = (ends[0], ends[1]);
    };
    check(slit, FigureFault::OnSlit { joint: 0, facet: 0 }, "slit of panel 0");
}

#[test]
fn bonds_are_checked() {
    let apart = FigureFault::BondApart { bond: 0 };
    check(|figure| figure.bonds.push(bond(vec![], None)), apart, "bond 0");
    check(|figure| figure.bonds.push(bond(vec![rectangle(80.0, 0.0, 5.0, 5.0)], None)), apart, "glued area");
    // The fronts of a valley meet, or its backs outside; a front and a back don't.
    let faces = Some([Face::Front, Face::Back]);
    let area = vec![rectangle(5.0, 1.0, 5.0, 5.0)];
    check(|figure| figure.bonds.push(bond(area, faces)), FigureFault::BondFaces { bond: 0 }, "glue other faces");
}

#[test]
fn every_fault_is_one_sentence() {
    let faults = [
        FigureFault::TooManyFacets { count: 3000 },
        FigureFault::Unplaced(Part::Bond(1)),
        FigureFault::Unpaired(Part::Given(1)),
        FigureFault::NoArea { facet: 1 },
        FigureFault::Tangled { facet: 1 },
        FigureFault::ShortJoint { joint: 1 },
        FigureFault::Apart { joint: 1, facet: 1 },
        FigureFault::OnSlit { joint: 1, facet: 1 },
        FigureFault::WrongSides { joint: 1 },
        FigureFault::WrongFaces { joint: 1 },
        FigureFault::TwoJoints { joints: [1, 2], facet: 1 },
        FigureFault::BondApart { bond: 1 },
        FigureFault::BondFaces { bond: 1 },
    ];
    for sentence in faults.map(|fault| fault.to_string()) {
        assert!(sentence.ends_with('.') && sentence.matches(". ").count() == 0, "{sentence}");
        assert!(sentence.chars().next().is_some_and(char::is_uppercase), "{sentence}");
    }
}

#[test]
fn rounding_makes_no_fault_and_no_difference() {
    // A letter fold of inch lengths, its corners off by what two hundred reflections are at most.
    let mut figure = strip(&[93.6625, 93.6625, 92.075], "VV");
    let noise = [3e-10, -2e-10, 1e-10, -4e-10];
    for facet in &mut figure.facets {
        facet.outline.iter_mut().zip(noise).for_each(|(corner, by)| *corner += DVec2::new(by, -by));
    }
    assert_eq!(count(&figure), 2);
}

#[test]
fn what_is_asked_of_panels_that_do_not_overlap_claims_nothing() {
    let problem = prepare(&strip(&[20.0, 20.0, 20.0], "VM")).unwrap_or_else(|fault| panic!("{fault}"));
    assert!(matches!(problem.allows(&[Given::new(0, 17), Given::new(1, 1)]), Answer::Order(_)));
    let beside = Given { at: Some(DVec2::new(500.0, f64::NAN)), ..Given::new(2, 0) };
    assert!(matches!(problem.allows(&[beside]), Answer::Order(_)));
    assert!(problem.leeway(0, 9).is_empty() && problem.forced(9, 9).is_none() && problem.point_of(99).is_none());
    // Panel 1 lies on panel 0, and so does nothing beside them.
    let on = |x| Given { at: Some(DVec2::new(x, 5.0)), ..Given::new(1, 0) };
    assert!(matches!(problem.allows(&[on(500.0)]), Answer::Order(_)));
    assert!(matches!(problem.allows(&[on(10.0)]), Answer::Conflict(_)));
    let Answer::Order(state) = problem.solve() else { panic!("a pleat folds") };
    assert_eq!((state.above(0, 9), state.above(1, 1), state.fold(5)), (None, None, None));
    assert!(state.pile_at(DVec2::new(-5.0, 5.0)).is_empty() && state.pile_at(DVec2::NAN).is_empty());
    assert_eq!(state.folds().collect::<Vec<_>>(), [Some(Fold::Valley), Some(Fold::Mountain)]);
    let loose = Joint { facets: [0, 2], segment: (DVec2::ZERO, DVec2::new(0.0, 10.0)), fold: None };
    let figure = Figure { joints: vec![loose], ..strip(&[20.0, 20.0, 20.0], "VM") };
    assert_eq!(prepare(&figure).err(), Some(FigureFault::WrongSides { joint: 0 }));
}
