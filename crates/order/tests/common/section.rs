//! The rule of not crossing, asked by itself: sections are laid across every joint, and the paper in each drawn as chords
//! of a circle, no two of which may alternate. No arrangement, no families of rules, and none of the solver's code.

use foliowright_order::{Figure, Given};
use glam::DVec2;

/// How far beside a joint a section looks, in mm. Figures to test have no features that small.
const ASIDE: f64 = 0.01;

/// For each pair of panels that overlap somewhere, `[lower index, higher index]`, ascending.
pub(crate) fn pairs(figure: &Figure) -> Vec<[usize; 2]> {
    let piles = piles(figure);
    let all = (0..figure.facets.len()).flat_map(|a| (a + 1..figure.facets.len()).map(move |b| [a, b]));
    all.filter(|pair| piles.iter().any(|pile| pair.iter().all(|facet| pile.contains(facet)))).collect()
}

/// The orders of a figure of convex panels, by trying all of them: for each that does not cross itself the panels of
/// `pairs`, true where the first is above. Time doubles with each pair.
pub(crate) fn orders(figure: &Figure, pairs: &[[usize; 2]]) -> Vec<Vec<bool>> {
    let sections = sections(figure);
    let piles = piles(figure);
    let all = (0..1_u32 << pairs.len()).map(|word| (0..pairs.len()).map(|i| word >> i & 1 == 1).collect::<Vec<bool>>());
    all.filter(|first_above| {
        let above = |a: usize, b: usize| {
            let at = pairs.binary_search(&[a.min(b), a.max(b)]).expect("both cover a point");
            first_above[at] == (a < b)
        };
        piles.iter().all(|pile| is_in_order(pile, above)) && sections.iter().all(|section| section.is_clear(above))
    })
    .collect()
}

/// The orders of a state as given orders, for pairs of convex panels.
pub(crate) fn given(pairs: &[[usize; 2]], first_above: &[bool]) -> Vec<Given> {
    let each = pairs.iter().zip(first_above);
    each.map(|(&[a, b], &above)| if above { Given::new(b, a) } else { Given::new(a, b) }).collect()
}

/// Points that every overlap has one of: near corners, crossings of edges and the middles between all of these.
fn points(figure: &Figure) -> Vec<DVec2> {
    let edges: Vec<[DVec2; 2]> = (0..figure.facets.len()).flat_map(|facet| edges(figure, facet)).collect();
    let mut special: Vec<DVec2> = edges.iter().map(|edge| edge[0]).collect();
    for (i, &[a, b]) in edges.iter().enumerate() {
        for &[c, d] in &edges[i + 1..] {
            let (u, v) = (b - a, d - c);
            let turn = u.perp_dot(v);
            if turn.abs() > 1e-9 {
                let (s, t) = ((c - a).perp_dot(v) / turn, (c - a).perp_dot(u) / turn);
                if (0.0..=1.0).contains(&s) && (0.0..=1.0).contains(&t) {
                    special.push(a + u * s);
                }
            }
        }
    }
    special.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
    special.dedup_by(|a, b| a.distance(*b) < 1e-6);
    let mut points = Vec::new();
    for (i, &a) in special.iter().enumerate() {
        for (j, &b) in special.iter().enumerate().skip(i + 1) {
            for &c in &special[j + 1..] {
                if (b - a).perp_dot(c - a).abs() > 1e-3 {
                    points.push((a + b + c) / 3.0);
                }
            }
        }
    }
    points
}

fn edges(figure: &Figure, facet: usize) -> Vec<[DVec2; 2]> {
    let outline = &figure.facets[facet].outline;
    (0..outline.len()).map(|i| [outline[i], outline[(i + 1) % outline.len()]]).collect()
}

/// Whether a point is inside a convex panel.
fn covers(figure: &Figure, facet: usize, point: DVec2) -> bool {
    let outline = &figure.facets[facet].outline;
    let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
    for (i, &a) in outline.iter().enumerate() {
        let b = outline[(i + 1) % outline.len()];
        let left = (b - a).perp_dot(point - a) / a.distance(b);
        low = low.min(left);
        high = high.max(left);
    }
    low > 1e-6 || high < -1e-6
}

fn pile(figure: &Figure, point: DVec2) -> Vec<usize> {
    (0..figure.facets.len()).filter(|&facet| covers(figure, facet, point)).collect()
}

/// Every set of panels over one point, once.
fn piles(figure: &Figure) -> Vec<Vec<usize>> {
    let mut piles: Vec<Vec<usize>> = points(figure).iter().map(|&point| pile(figure, point)).collect();
    piles.sort();
    piles.dedup();
    piles
}

fn is_in_order(pile: &[usize], above: impl Fn(usize, usize) -> bool) -> bool {
    let mut heights: Vec<usize> =
        pile.iter().map(|&a| pile.iter().filter(|&&b| a != b && above(a, b)).count()).collect();
    heights.sort_unstable();
    heights.iter().enumerate().all(|(height, &found)| height == found)
}

/// What runs beside one point of a joint, on its left and right, and how it hangs together.
struct Section {
    piles: [Vec<usize>; 2],
    /// Two ends each, as (side, panel).
    chords: Vec<[(usize, usize); 2]>,
}

fn sections(figure: &Figure) -> Vec<Section> {
    let mut found = Vec::new();
    for joint in &figure.joints {
        let (from, to) = joint.segment;
        let along = (to - from).normalize();
        // Odd shares of the length, so as to miss all corners.
        for share in [0.0371, 0.1713, 0.3137, 0.4519, 0.5877, 0.7193, 0.8641, 0.9629] {
            found.push(section(figure, from.lerp(to, share), along));
        }
    }
    found
}

fn section(figure: &Figure, point: DVec2, along: DVec2) -> Section {
    let beside = [along.perp(), -along.perp()].map(|way| point + way * ASIDE);
    let piles = beside.map(|point| pile(figure, point));
    let mut chords = Vec::new();
    let mut held: Vec<usize> = Vec::new();
    for joint in &figure.joints {
        let (from, to) = joint.segment;
        let way = (to - from).normalize();
        let at = way.dot(point - from) / from.distance(to);
        if way.perp_dot(point - from).abs() < 1e-6 && way.perp_dot(along).abs() < 1e-9 && (0.0..1.0).contains(&at) {
            let end = |facet: usize| (usize::from(!piles[0].contains(&facet)), facet);
            chords.push(joint.facets.map(end));
            held.extend(joint.facets);
        }
    }
    // What has no edge there runs on across.
    for &facet in piles[0].iter().filter(|facet| piles[1].contains(facet) && !held.contains(facet)) {
        chords.push([(0, facet), (1, facet)]);
    }
    Section { piles, chords }
}

impl Section {
    /// Whether no two chords alternate round the circle: up the left side and down the right.
    fn is_clear(&self, above: impl Fn(usize, usize) -> bool) -> bool {
        let place = |(side, facet): (usize, usize)| {
            let pile = &self.piles[side];
            let height = pile.iter().filter(|&&other| other != facet && above(facet, other)).count();
            if side == 0 { height } else { 1000 - height }
        };
        let chords: Vec<[usize; 2]> = self
            .chords
            .iter()
            .map(|chord| {
                let [a, b] = chord.map(place);
                [a.min(b), a.max(b)]
            })
            .collect();
        let within = |[a, b]: [usize; 2], place: usize| a < place && place < b;
        let pairs = chords.iter().enumerate().flat_map(|(i, &x)| chords[i + 1..].iter().map(move |&y| (x, y)));
        pairs.into_iter().all(|(x, y)| within(x, y[0]) == within(x, y[1]))
    }
}
