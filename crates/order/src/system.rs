//! What a search has to keep to, laid out for speed: classes of statements, the equations and rings over them, and
//! for each class the pairs of panels that it orders.

use crate::bits::Bits;
use crate::literal::Literal;
use crate::overlap::Overlaps;
use crate::parity::{Even, Parity, TRUTH};
use crate::rule::Claim;

/// A system of classes.
#[derive(Debug, Clone)]
pub(crate) struct System {
    /// How many panels there are.
    pub facets: usize,
    /// For each statement about overlaps its class, or the opposite of it.
    pub class_of: Vec<Literal>,
    /// How many classes there are; [`TRUTH`] is true.
    pub classes: usize,
    /// Equations over classes.
    pub even: Vec<Even>,
    /// For each class the equations it stands in.
    pub even_of: Lists<u32>,
    /// For each literal of a class the pairs that make a ring with it: not all three are true.
    pub ring_of: Lists<[Literal; 2]>,
    /// For each class the pairs that it orders, if they share one place.
    pub pairs: Lists<Pair>,
    /// The sets that pairs name.
    pub sets: Vec<Bits>,
    /// Classes in the order to decide them in: panel after panel against those before it.
    pub order: Vec<usize>,
    /// For panels a, b at a * facets + b: that a is above b, if they share one place.
    above: Vec<Option<Literal>>,
}

/// Two panels, of which the first is above the second when a class is true.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Pair {
    pub upper: u32,
    pub lower: u32,
    /// The set of panels that lie somewhere over, under or between the two, and the two themselves.
    pub set: u32,
}

impl System {
    /// The system that some claims make; `None` if they contradict themselves. `rank` gives each panel its turn.
    pub(crate) fn new(overlaps: &Overlaps, claims: impl Iterator<Item = Claim>, rank: &[u32]) -> Option<Self> {
        let Parity { class_of, classes, even } = Parity::new(overlaps.list.len(), claims)?;
        let facets = overlaps.facets;
        let mut above = vec![None; facets * facets];
        let mut pairs = Vec::with_capacity(overlaps.list.len());
        let mut turn = vec![(u32::MAX, u32::MAX); classes];
        for (statement, overlap) in overlaps.list.iter().enumerate() {
            let [a, b] = overlap.facets;
            let class = class_of[statement];
            let ranks = (rank[a].max(rank[b]), rank[a].min(rank[b]));
            turn[class.number()] = turn[class.number()].min(ranks);
            if overlaps.only(a, b).is_some() {
                above[a * facets + b] = Some(class);
                above[b * facets + a] = Some(!class);
                let [upper, lower] = if class.is_plain() { [a, b] } else { [b, a] };
                let [upper, lower] = [upper, lower].map(|facet| u32::try_from(facet).expect("at most MOST_FACETS"));
                pairs.push((class.number(), Pair { upper, lower, set: overlaps.set_of[statement] }));
            }
        }
        let mut order: Vec<usize> = (TRUTH + 1..classes).collect();
        order.sort_by_key(|&class| (turn[class], class));
        let even_of = (0..).zip(&even).flat_map(|(i, sum)| sum.classes().iter().map(move |&class| (class, i)));
        Some(Self {
            facets,
            even_of: Lists::new(classes, &even_of.collect::<Vec<_>>()),
            ring_of: Lists::new(2 * classes, &rings(&overlaps.rings, &class_of)),
            pairs: Lists::new(classes, &pairs),
            sets: overlaps.sets.clone(),
            order,
            above,
            class_of,
            classes,
            even,
        })
    }

    /// That `upper` is above `lower`, for panels that share one place.
    pub(crate) fn above(&self, upper: usize, lower: usize) -> Literal {
        self.above[upper * self.facets + lower].expect("sets hold only panels that share one place with both of a pair")
    }
}

fn rings(rings: &[[Literal; 3]], class_of: &[Literal]) -> Vec<(usize, [Literal; 2])> {
    let mut found = Vec::new();
    for ring in rings {
        let ring = ring.map(|literal| class_of[literal.number()].turned(!literal.is_plain()));
        for [x, y, z] in [ring, ring.map(|literal| !literal)] {
            found.extend([(x.code(), [y, z]), (y.code(), [x, z]), (z.code(), [x, y])]);
        }
    }
    found.sort_unstable();
    found.dedup();
    found
}

/// Many lists end to end.
#[derive(Debug, Clone)]
pub(crate) struct Lists<T> {
    from: Vec<usize>,
    items: Vec<T>,
}

impl<T: Copy> Lists<T> {
    /// Lists `0..count`, of items each with the number of its list.
    fn new(count: usize, numbered: &[(usize, T)]) -> Self {
        let mut from = vec![0; count + 1];
        for &(list, _) in numbered {
            from[list + 1] += 1;
        }
        for list in 0..count {
            from[list + 1] += from[list];
        }
        let mut next = from.clone();
        let mut items: Vec<T> = numbered.iter().map(|&(_, item)| item).collect();
        for &(list, item) in numbered {
            items[next[list]] = item;
            next[list] += 1;
        }
        Self { from, items }
    }

    /// The items of a list.
    pub(crate) fn of(&self, list: usize) -> &[T] {
        &self.items[self.from[list]..self.from[list + 1]]
    }
}
