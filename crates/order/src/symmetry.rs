//! Which orders come from others without a search: those turned over, and those rolled round.
//!
//! A figure of which nothing is said about up and down reads the same from below. If besides all its panels lie in one
//! pile and nothing but folds along its rim holds them, the lowest panel may as well lie on top: folds that don't
//! interleave along a line don't interleave round a circle either. So a map of m by n panels has a multiple of m n
//! orders (the theorem of Lunnon, *A map-folding problem*, 1968, from memory), and so have other figures that nobody
//! would call a map, such as sectors of equal angles round a vertex.

use crate::engine::Engine;
use crate::literal::Literal;
use crate::parity::{Even, TRUTH};
use crate::system::System;

/// Whether every order turned over is an order, because nothing is said of what is above but in relation to others:
/// no direction, no order is given. Equations of four, rings and piles read the same from below.
pub(crate) fn turns_over(engine: &Engine) -> bool {
    let system = engine.system;
    let is_open = |class: &Literal| engine.value(*class).is_none();
    system.class_of.iter().all(is_open) && system.even.iter().all(|sum| sum.classes().len() % 2 == 0)
}

/// Whether every order of which the lowest panel is taken to the top is an order.
///
/// Where each trio of panels shares a spot, orders are heights, and taking a panel from one end to the other turns
/// just its own statements about. Equations that have an even number of those, of whichever panel, stay true.
pub(crate) fn rolls_round(system: &System) -> bool {
    let facets = system.facets;
    let is_of_one_pair = |class: usize| {
        let pairs = system.pairs.of(class);
        pairs.len() == 1 && system.sets[pairs[0].set as usize].iter().count() == facets
    };
    facets > 1
        // So many that none is settled and no two are the same.
        && system.classes - 1 == facets * (facets - 1) / 2
        && (TRUTH + 1..system.classes).all(is_of_one_pair)
        && system.even.iter().all(|sum| names_each_panel_evenly(system, sum))
}

fn names_each_panel_evenly(system: &System, sum: &Even) -> bool {
    let pairs = sum.classes().iter().flat_map(|&class| system.pairs.of(class));
    let mut named: Vec<u32> = pairs.flat_map(|pair| [pair.upper, pair.lower]).collect();
    named.sort_unstable();
    named.chunk_by(|a, b| a == b).all(|same| same.len() % 2 == 0)
}

/// Settles that the first panel lies under all others, which share one place with it each; `false` if it can't.
pub(crate) fn put_first_lowest(engine: &mut Engine) -> bool {
    let system = engine.system;
    (1..system.facets).all(|other| engine.require(system.above(other, 0))) && engine.follow()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::figure::{Facet, Figure};
    use crate::overlap::Overlaps;
    use crate::rule::Claim;
    use crate::survey::Survey;
    use glam::DVec2;

    /// Panels with these outlines, held by nothing but some claims; whether their orders roll round, by hand.
    #[track_caller]
    fn check(outlines: Vec<Vec<DVec2>>, claims: &[Claim], expected: bool) {
        let facets = outlines.into_iter().map(|outline| Facet { outline, ..Facet::default() });
        let figure = Figure { facets: facets.collect(), ..Figure::default() };
        let overlaps = Overlaps::new(&figure, &Survey::new(&figure).unwrap());
        let ranks: Vec<u32> = (0..).take(figure.facets.len()).collect();
        let system = System::new(&overlaps, claims.iter().copied(), &ranks).unwrap();
        assert_eq!(rolls_round(&system), expected, "{claims:?}");
    }

    fn square(at: f64) -> Vec<DVec2> {
        [(at, 0.0), (at + 10.0, 0.0), (at + 10.0, 10.0), (at, 10.0)].map(DVec2::from).to_vec()
    }

    /// The statement about panels `a` and `b` of four that all overlap.
    fn of(a: usize, b: usize) -> Literal {
        let pairs = [(0, 1), (0, 2), (0, 3), (1, 2), (1, 3), (2, 3)];
        Literal::new(pairs.iter().position(|&pair| pair == (a, b)).unwrap(), true)
    }

    #[test]
    fn a_pile_rolls_round_unless_something_holds_a_panel() {
        let pile = || vec![square(0.0); 4];
        check(pile(), &[], true);
        // Folds 0 1 and 2 3 don't interleave.
        check(pile(), &[Claim::Even([of(0, 2), of(1, 2), of(0, 3), of(1, 3)])], true);
        // Panel 2 runs on across the fold 0 1; 0 is under 1.
        check(pile(), &[Claim::Same([of(0, 2), of(1, 2)])], false);
        check(pile(), &[Claim::Is(of(0, 1))], false);
        // No rule says this; panels 0 and 1 would be turned about in it once.
        check(pile(), &[Claim::Even([of(0, 1), of(0, 2), of(0, 3), of(2, 3)])], false);
    }

    #[test]
    fn panels_beside_one_another_do_not_roll_round() {
        check(vec![square(0.0), square(5.0), square(8.0)], &[], true);
        check(vec![square(0.0), square(5.0), square(12.0)], &[], false);
        check(vec![square(0.0)], &[], false);
        check(Vec::new(), &[], false);
    }
}
