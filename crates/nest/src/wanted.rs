//! The parts of a task as kinds of rectangles, and back. Which of them are cut is decided elsewhere.

use crate::outline::{Block, Opened};
use crate::problem::{Kind, Problem, Shape};
use crate::task::{Goal, Knife, Part, Rect, Turning};
use model::Length;

/// The parts of a task as kinds: parts of one size and worth are one kind.
pub(crate) struct Wanted<'a> {
    pub(crate) parts: &'a [Part],
    knife: Knife,
    kinds: Vec<Kind>,
    /// The kind of each part.
    kind_of: Vec<usize>,
    /// What a unit of worth of the kinds stands for.
    pub(crate) unit: i128,
}

impl<'a> Wanted<'a> {
    pub(crate) fn new(parts: &'a [Part], knife: Knife, goal: Goal) -> Self {
        let worths: Vec<i128> = parts.iter().map(|part| worth(part, goal)).collect();
        let unit = worths.iter().fold(0, |unit, &worth| common(unit, worth)).max(1);
        let (mut kinds, mut kind_of): (Vec<Kind>, Vec<usize>) = (Vec::new(), Vec::new());
        for (part, worth) in parts.iter().zip(worths) {
            let new = Kind {
                shapes: shapes(part, knife),
                most: lane(part.count),
                least: lane(part.least),
                worth: worth / unit,
            };
            let same = |kind: &Kind| kind.shapes == new.shapes && kind.worth == new.worth;
            match kinds.iter().position(same) {
                Some(kind) => {
                    kinds[kind].most += new.most;
                    kinds[kind].least += new.least;
                    kind_of.push(kind);
                }
                None => {
                    kind_of.push(kinds.len());
                    kinds.push(new);
                }
            }
        }
        Self { parts, knife, kinds, kind_of, unit }
    }

    /// The problem of cutting them from some blocks, and which blocks are its roots with what is inside their edges.
    pub(crate) fn problem(&self, opened: &[&Opened]) -> (Problem, Vec<Vec<Option<Rect>>>) {
        let inside = |block: &Block| inner(block, self.knife.edge);
        let usable: Vec<Vec<_>> = opened.iter().map(|opened| opened.blocks.iter().map(inside).collect()).collect();
        let root = |rect: &Rect| [rect.size.width(), rect.size.height()].map(|side| (side + self.knife.kerf).nm());
        let roots: Vec<[i64; 2]> = usable.iter().flatten().flatten().map(root).collect();
        let blocks = opened.iter().flat_map(|opened| &opened.blocks).zip(usable.iter().flatten());
        let trims =
            |block: &Block| block.rough.iter().filter(|rough| **rough && self.knife.edge > Length::ZERO).count();
        let touch = blocks.filter(|(_, usable)| usable.is_some()).map(|(block, _)| trims(block)).collect();
        (Problem::new(self.kinds_for(&roots), roots).with_knife(self.knife.kerf.nm(), touch), usable)
    }

    /// The kinds with no more copies than there is paper for.
    fn kinds_for(&self, roots: &[[i64; 2]]) -> Vec<Kind> {
        let area = |[w, h]: [i64; 2]| i128::from(w) * i128::from(h);
        let fit = |kind: &Kind| -> i128 {
            let one = area([kind.shapes[0].width, kind.shapes[0].height]);
            let holds =
                |root: &&[i64; 2]| kind.shapes.iter().any(|shape| shape.width <= root[0] && shape.height <= root[1]);
            roots.iter().filter(holds).map(|&root| area(root) / one).sum()
        };
        let limited = |kind: &Kind| {
            let most = i16::try_from(fit(kind)).unwrap_or(i16::MAX).min(kind.most);
            Kind { most, least: kind.least.min(most), ..kind.clone() }
        };
        self.kinds.iter().map(limited).collect()
    }

    /// All kinds without regard to paper.
    pub(crate) fn whole(&self, problem: &Problem) -> Problem {
        problem.with_kinds(self.kinds.clone())
    }

    /// What one of a part is worth.
    pub(crate) fn worth_of(&self, part: usize) -> i128 {
        self.kinds[self.kind_of[part]].worth * self.unit
    }

    /// Gives every rectangle cut, named by its kind, to a part of that kind: to parts that have to be there first. Also
    /// how many each part gets.
    pub(crate) fn hand_out(&self, kinds: impl Iterator<Item = usize>) -> (Vec<usize>, Vec<u32>) {
        let mut placed = vec![0; self.parts.len()];
        let part_of = |kind: usize| {
            let of_kind = |&part: &usize| self.kind_of[part] == kind;
            let lacks = |part: &usize, enough: &dyn Fn(&Part) -> u32| placed[*part] < enough(&self.parts[*part]);
            let parts = || (0..self.parts.len()).filter(of_kind);
            let first = parts().find(|part| lacks(part, &|part| part.least));
            let part = first.or_else(|| parts().find(|part| lacks(part, &|part| part.count)));
            let part = part.expect("no more are cut than wanted");
            placed[part] += 1;
            part
        };
        (kinds.map(part_of).collect(), placed)
    }
}

/// A count as a lane of the search holds it: there are at most [`crate::MOST_COPIES`], and two can be added.
fn lane(count: u32) -> i16 {
    i16::try_from(count).unwrap_or(0)
}

fn worth(part: &Part, goal: Goal) -> i128 {
    match goal {
        Goal::Area => part.size.area().half_nm2() / 2,
        Goal::Worth => i128::from(part.worth),
        Goal::Pieces => 1,
    }
}

/// The greatest common divisor.
fn common(a: i128, b: i128) -> i128 {
    if b == 0 { a } else { common(b, a % b) }
}

/// The ways round of a part, with a kerf: the wider one first where it may be turned, so that equal ones look equal.
fn shapes(part: &Part, knife: Knife) -> Vec<Shape> {
    let [width, height] = [part.size.width(), part.size.height()].map(|side| (side + knife.kerf).nm());
    let given = Shape { width, height };
    let turned = Shape { width: height, height: width };
    match part.turning {
        Turning::Quarter if width > height => vec![given, turned],
        Turning::Quarter if width < height => vec![turned, given],
        _ => vec![given],
    }
}

/// What is left of a block when its rough edges are trimmed.
fn inner(block: &Block, edge: Length) -> Option<Rect> {
    let [l, t, r, b] = block.rough.map(|rough| if rough { edge } else { Length::ZERO });
    let rect = block.rect;
    Rect::between(rect.left() + l, rect.top() + t, rect.right() - r, rect.bottom() - b)
}
