//! Flat patterns and what they become when every crease is folded: strips, grids, single vertices, panels with flaps.
//!
//! Panels are reflected one after the other across the creases that lead to them from panel 0, which keeps its place and
//! its face up.

#![allow(dead_code, reason = "each test file uses some of this")]

pub(crate) mod section;

use foliowright_order::{Answer, Count, Facet, Figure, Fold, Joint, Problem, State, prepare};
use glam::{DAffine2, DMat2, DVec2};

/// A flat sheet of panels.
#[derive(Debug, Clone, Default)]
pub(crate) struct Pattern {
    /// The outline of each panel on the sheet.
    pub(crate) panels: Vec<Vec<DVec2>>,
    /// Creases, and joints that stay flat (`None`), with their ends on the sheet.
    pub(crate) creases: Vec<([usize; 2], [DVec2; 2], Option<Fold>)>,
}

impl Pattern {
    /// The figure that it folds to, in panels and creases of the same numbers.
    pub(crate) fn folded(&self) -> Figure {
        let places = self.places();
        let facets = self.panels.iter().zip(&places).map(|(outline, place)| Facet {
            outline: outline.iter().map(|&corner| place.transform_point2(corner)).collect(),
            holes: Vec::new(),
            face_up: place.matrix2.determinant() > 0.0,
        });
        let joints = self.creases.iter().map(|&(facets, ends, fold)| {
            let [from, to] = ends.map(|end| places[facets[0]].transform_point2(end));
            Joint { facets, segment: (from, to), fold }
        });
        Figure { facets: facets.collect(), joints: joints.collect(), ..Figure::default() }
    }

    /// Where each panel comes to lie.
    fn places(&self) -> Vec<DAffine2> {
        let mut places: Vec<Option<DAffine2>> = vec![None; self.panels.len()];
        places[0] = Some(DAffine2::IDENTITY);
        loop {
            let before = places.iter().flatten().count();
            for &([a, b], ends, fold) in &self.creases {
                for (from, to) in [(a, b), (b, a)] {
                    if let (Some(place), None) = (places[from], places[to]) {
                        let turned = fold.map_or(DAffine2::IDENTITY, |_| reflection(ends));
                        places[to] = Some(place * turned);
                    }
                }
            }
            if places.iter().flatten().count() == before {
                return places.into_iter().map(Option::unwrap_or_default).collect();
            }
        }
    }
}

fn reflection([from, to]: [DVec2; 2]) -> DAffine2 {
    let way = to - from;
    let (c, s) = ((way.x * way.x - way.y * way.y) / way.length_squared(), 2.0 * way.x * way.y / way.length_squared());
    let turn = DMat2::from_cols(DVec2::new(c, s), DVec2::new(s, -c));
    DAffine2::from_mat2_translation(turn, from - turn * from)
}

/// Creases from a word of M, V, and ? for either.
pub(crate) fn folds(word: &str) -> Vec<Fold> {
    let fold = |letter| match letter {
        'M' => Fold::Mountain,
        'V' => Fold::Valley,
        '?' => Fold::Either,
        other => panic!("{other} is no fold"),
    };
    word.chars().map(fold).collect()
}

/// The word of a state's folds, without its flat joints.
pub(crate) fn word(state: &State) -> String {
    let letter = |fold| match fold {
        Fold::Mountain => 'M',
        Fold::Valley => 'V',
        Fold::Either => '?',
    };
    state.folds().flatten().map(letter).collect()
}

/// A rectangle of columns and rows with these widths and heights. Panels are numbered row by row from the bottom; creases
/// as they come with each panel: to its right, then above it.
pub(crate) fn grid(widths: &[f64], heights: &[f64], fold: impl Fn(usize, usize, Side) -> Option<Fold>) -> Pattern {
    let (x, y) = (sums(widths), sums(heights));
    let mut pattern = Pattern::default();
    let number = |row: usize, column: usize| row * widths.len() + column;
    for row in 0..heights.len() {
        for column in 0..widths.len() {
            let corners = [(column, row), (column + 1, row), (column + 1, row + 1), (column, row + 1)];
            let corners = corners.map(|(i, j)| DVec2::new(x[i], y[j]));
            pattern.panels.push(corners.to_vec());
            let mut crease =
                |to, ends, side| pattern.creases.push(([number(row, column), to], ends, fold(row, column, side)));
            if column + 1 < widths.len() {
                crease(number(row, column + 1), [corners[1], corners[2]], Side::Right);
            }
            if row + 1 < heights.len() {
                crease(number(row + 1, column), [corners[2], corners[3]], Side::Above);
            }
        }
    }
    pattern
}

/// Where a crease of a grid lies with regard to its first panel.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Side {
    Right,
    Above,
}

/// Where lengths laid end to end begin and end.
fn sums(lengths: &[f64]) -> Vec<f64> {
    (0..=lengths.len()).map(|count| lengths[..count].iter().sum()).collect()
}

/// A map of unit squares, ten millimetres each, every line folded either way.
pub(crate) fn map(rows: usize, columns: usize) -> Figure {
    grid(&vec![10.0; columns], &vec![10.0; rows], |_, _, _| Some(Fold::Either)).folded()
}

/// A strip of panels of these lengths, folded as a word says.
pub(crate) fn strip(lengths: &[f64], word: &str) -> Figure {
    let folds = folds(word);
    assert_eq!(folds.len() + 1, lengths.len(), "{word} does not fit {lengths:?}");
    grid(lengths, &[10.0], |_, column, _| Some(folds[column])).folded()
}

/// A strip of equally long panels, folded as a word says.
pub(crate) fn equal_strip(word: &str) -> Figure {
    strip(&vec![10.0; word.len() + 1], word)
}

/// The sectors round one vertex. Crease i lies between sectors i and i + 1.
pub(crate) fn vertex(degrees: &[f64], word: &str) -> Figure {
    let folds = folds(word);
    let at = |degrees: f64| {
        let angle = degrees.to_radians();
        DVec2::new(libm::cos(angle), libm::sin(angle)) * 50.0
    };
    let turns = sums(degrees);
    let mut pattern = Pattern::default();
    for i in 0..degrees.len() {
        pattern.panels.push(vec![DVec2::ZERO, at(turns[i]), at(turns[i + 1])]);
        pattern.creases.push(([i, (i + 1) % degrees.len()], [DVec2::ZERO, at(turns[i + 1])], Some(folds[i])));
    }
    pattern.folded()
}

/// A rectangle with four flaps along its sides, cut away at its corners. The base is panel 0, the flaps follow from the
/// bottom anticlockwise.
pub(crate) fn flaps(width: f64, height: f64, depth: f64, word: &str) -> Figure {
    let base = rectangle(0.0, 0.0, width, height);
    let out = [
        rectangle(0.0, -depth, width, depth),
        rectangle(width, 0.0, depth, height),
        rectangle(0.0, height, width, depth),
        rectangle(-depth, 0.0, depth, height),
    ];
    let mut pattern = Pattern { panels: vec![base.clone()], creases: Vec::new() };
    for (i, (flap, fold)) in out.into_iter().zip(folds(word)).enumerate() {
        pattern.panels.push(flap);
        pattern.creases.push(([0, i + 1], [base[i], base[(i + 1) % 4]], Some(fold)));
    }
    pattern.folded()
}

/// The corners of an upright rectangle.
pub(crate) fn rectangle(x: f64, y: f64, width: f64, height: f64) -> Vec<DVec2> {
    [(x, y), (x + width, y), (x + width, y + height), (x, y + height)].map(DVec2::from).to_vec()
}

/// A figure made ready.
#[track_caller]
pub(crate) fn ready(figure: &Figure) -> Problem {
    prepare(figure).unwrap_or_else(|fault| panic!("{fault}"))
}

/// The number of layer orders, which the solver has to agree on with itself.
#[track_caller]
pub(crate) fn count(figure: &Figure) -> u128 {
    let problem = ready(figure);
    let Count::Exact(count) = problem.count(1 << 40) else { panic!("{:?}", problem.count(1 << 40)) };
    match problem.solve() {
        Answer::Order(_) => assert_ne!(count, 0),
        Answer::Conflict(_) => assert_eq!(count, 0),
        Answer::Undecided => panic!("undecided"),
    }
    count
}

/// All layer orders.
#[track_caller]
pub(crate) fn states(figure: &Figure) -> Vec<State> {
    let listing = ready(figure).list(1 << 40);
    assert!(listing.is_complete());
    listing.states().collect()
}

/// A sequence of numbers that look random and are always the same (xorshift64*, Vigna 2016).
#[derive(Debug, Clone)]
pub(crate) struct Random(pub(crate) u64);

impl Random {
    /// A number below `bound`.
    pub(crate) fn below(&mut self, bound: usize) -> usize {
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        let high = self.0.wrapping_mul(0x2545_F491_4F6C_DD1D) >> 33;
        usize::try_from(high).expect("31 bits") % bound
    }

    /// One of some.
    pub(crate) fn pick<'a, T>(&mut self, of: &'a [T]) -> &'a T {
        &of[self.below(of.len())]
    }
}

/// A map with the ways that its creases get when it is folded up at one line after the other, all layers at once.
pub(crate) fn simply_folded(rows: usize, columns: usize, random: &mut Random) -> Figure {
    let mut cells: Vec<[usize; 2]> = (0..rows * columns).map(|panel| [panel % columns, panel / columns]).collect();
    let mut is_up = vec![true; cells.len()];
    let mut pattern = grid(&vec![10.0; columns], &vec![10.0; rows], |_, _, _| Some(Fold::Either));
    let mut size = [columns, rows];
    while size != [1, 1] {
        let axis = if size[0] == 1 { 1 } else { usize::from(size[1] > 1 && random.below(2) == 1) };
        let line = 1 + random.below(size[axis] - 1);
        let is_valley = random.below(2) == 1;
        for ([a, b], _, fold) in &mut pattern.creases {
            let at = [*a, *b].map(|panel| cells[panel][axis]);
            if at[0].abs_diff(at[1]) == 1 && at[0].max(at[1]) == line {
                *fold = Some(if is_valley == is_up[*a] { Fold::Valley } else { Fold::Mountain });
            }
        }
        // What lies beyond the line comes down on what lies before it; the larger part stays.
        let after = size[axis] - line;
        for (cell, up) in cells.iter_mut().zip(&mut is_up) {
            let beyond = cell[axis] >= line;
            *up ^= beyond;
            let from_line = if beyond { cell[axis] - line } else { line - 1 - cell[axis] };
            cell[axis] = line.max(after) - 1 - from_line;
        }
        size[axis] = line.max(after);
    }
    pattern.folded()
}
