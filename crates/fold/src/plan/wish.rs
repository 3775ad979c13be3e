//! How layers should lie in the end.

use crate::figure::Flat;
use crate::layer::Side;
use crate::relations::Relations;
use crate::stage::{Bench, Stage};
use model::PanelId;
use order::Given;

/// A wish for the closed state. One about panels that don't lie on one another then, or that there are none of, is met.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Wish {
    /// One panel lies above another, along the normal of their plane (as in [`Folding::above`](crate::Folding::above)).
    Above {
        /// The one that lies above.
        upper: PanelId,
        /// The one that lies below.
        lower: PanelId,
    },
    /// Nothing lies on one of the faces of this panel; on the other there is what it closes on.
    Outermost(PanelId),
}

/// A wish in terms of faces, which stays the same however the panels are carried about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Sided {
    /// The second panel lies on this face of the first.
    On(usize, usize, Side),
    Outermost(usize),
}

impl Wish {
    /// The orders of facets that amount to it, any of which will do.
    pub(super) fn orders(self, bench: &Bench, flat: &Flat) -> Vec<Vec<Given>> {
        let facet = |id: PanelId| {
            let place = bench.assembly.place(id)?;
            flat.panels[..flat.whole].iter().position(|&panel| panel == place)
        };
        match self {
            Self::Above { upper, lower } => match (facet(upper), facet(lower)) {
                (Some(upper), Some(lower)) => vec![vec![Given::new(lower, upper)]],
                _ => vec![Vec::new()],
            },
            Self::Outermost(panel) => {
                let Some(panel) = facet(panel) else { return vec![Vec::new()] };
                let others = || (0..flat.whole).filter(|&other| other != panel);
                vec![
                    others().map(|other| Given::new(other, panel)).collect(),
                    others().map(|other| Given::new(panel, other)).collect(),
                ]
            }
        }
    }
}

/// Wishes in terms of faces, those that speak of panels that there are.
pub(super) fn sided(bench: &Bench, end: &Stage, wishes: &[Wish]) -> Vec<Sided> {
    let place = |id: PanelId| bench.assembly.place(id);
    let of = |wish: &Wish| match *wish {
        Wish::Above { upper, lower } => {
            let (upper, lower) = (place(upper)?, place(lower)?);
            let normal = end.frames[lower].matrix3.z_axis;
            let front_up = normal.dot(crate::height::up(normal)) > 0.0;
            Some(Sided::On(lower, upper, if front_up { Side::Front } else { Side::Back }))
        }
        Wish::Outermost(panel) => Some(Sided::Outermost(place(panel)?)),
    };
    wishes.iter().filter_map(of).collect()
}

impl Sided {
    /// Whether it is met as layers lie now.
    pub(super) fn is_met(self, bench: &Bench, relations: &Relations) -> bool {
        let of = |panel: usize| (0..bench.facets.len()).filter(move |&facet| bench.facets[facet].panel == panel);
        match self {
            Self::On(first, second, side) => {
                of(first).all(|a| of(second).all(|b| relations.side(a, b).is_none_or(|is| is == side)))
            }
            Self::Outermost(panel) => {
                let sides = |a: usize| (0..bench.facets.len()).filter_map(move |b| relations.side(a, b));
                let mut all = of(panel).flat_map(sides);
                let first = all.next();
                all.all(|side| Some(side) == first)
            }
        }
    }

    /// The panel that should lie farther out than others, if it is for sure the moving one.
    pub(super) const fn outer(self) -> usize {
        match self {
            Self::On(_, upper, _) => upper,
            Self::Outermost(panel) => panel,
        }
    }

    pub(super) const fn inner(self) -> Option<usize> {
        match self {
            Self::On(lower, _, _) => Some(lower),
            Self::Outermost(_) => None,
        }
    }
}
