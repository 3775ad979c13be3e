//! One round of nesting: some parts into some blanks.

use crate::wanted::Wanted;
use model::{PartId, PieceId, Size};
use nest::{Effort, Goal, Knife, Leftover, MOST_LEFTOVERS, MOST_PARTS, Part, Plan, Task, Turning, nest};

/// What was asked of nesting, and what it answered.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Round {
    /// The question.
    pub task: Task,
    /// The answer.
    pub plan: Plan,
    /// The offcut that each of the task's leftovers is of.
    pub pieces: Vec<PieceId>,
    /// The part of the document behind each of the plan's placements.
    pub parts: Vec<PartId>,
    /// Whether it took in every part there was to place and every blank that holds one; nesting takes so many at once.
    pub is_all: bool,
}

/// A rectangle, or an angular outline, that parts may be cut from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Blank {
    pub(crate) piece: PieceId,
    pub(crate) paper: Leftover,
}

/// Parts that ask for the same rectangle.
#[derive(Debug, Clone)]
pub(crate) struct Kind {
    pub(crate) size: Size,
    pub(crate) turning: Turning,
    /// Places in the list of what is wanted.
    pub(crate) members: Vec<usize>,
}

/// What is wanted, by rectangles, in the order of first asking.
pub(crate) fn kinds(wanted: &[Wanted<'_>], open: &[usize]) -> Vec<Kind> {
    let mut kinds: Vec<Kind> = Vec::new();
    for &at in open {
        let (size, turning) = wanted[at].ask();
        match kinds.iter_mut().find(|kind| kind.size == size && kind.turning == turning) {
            Some(kind) => kind.members.push(at),
            None => kinds.push(Kind { size, turning, members: vec![at] }),
        }
    }
    kinds
}

impl Kind {
    /// As nesting takes it.
    pub(crate) fn part(&self) -> Part {
        // A document holds far fewer parts than there are numbers.
        let count = u32::try_from(self.members.len()).unwrap_or(u32::MAX);
        Part { turning: self.turning, ..Part::new(self.size, count) }
    }

    /// Whether a blank may hold one; told of rectangles alone.
    fn fits(&self, blank: &Blank) -> bool {
        let Leftover::Rect(rect) = &blank.paper else { return true };
        let (long, short) = (rect.size.width().max(rect.size.height()), rect.size.width().min(rect.size.height()));
        let (width, height) = (self.size.width(), self.size.height());
        match self.turning {
            Turning::Kept => width <= rect.size.width() && height <= rect.size.height(),
            Turning::Quarter => width.max(height) <= long && width.min(height) <= short,
        }
    }
}

/// Cuts what is `open` of what is wanted from blanks, as much area as can be had; with `first` all of those that are in it
/// come before the others. What is placed is taken off `open`, and what is left of the blanks is put in their place.
/// `None` where there is nothing to ask.
pub(crate) fn round(
    wanted: &[Wanted<'_>],
    open: &mut Vec<usize>,
    first: &[usize],
    blanks: &mut Vec<Blank>,
    (knife, effort): (Knife, Effort),
) -> Option<(Round, Vec<usize>)> {
    let mut kinds = kinds(wanted, open);
    // More than a drawer full: the largest.
    kinds.sort_by_key(|kind| std::cmp::Reverse(kind.size.area()));
    let is_all_parts = kinds.len() <= MOST_PARTS;
    kinds.truncate(MOST_PARTS);
    let area = |blank: &Blank| match &blank.paper {
        Leftover::Rect(rect) => rect.area(),
        Leftover::Outline(outline) => model::polygon::signed_area(outline),
    };
    let mut order: Vec<usize> = (0..blanks.len()).filter(|&i| kinds.iter().any(|kind| kind.fits(&blanks[i]))).collect();
    order.sort_by_key(|&i| std::cmp::Reverse(area(&blanks[i])));
    let is_all = is_all_parts && order.len() <= MOST_LEFTOVERS;
    order.truncate(MOST_LEFTOVERS);
    order.sort_unstable();
    if kinds.is_empty() || order.is_empty() {
        return None;
    }
    for kind in &mut kinds {
        kind.members.sort_by_key(|at| (!first.contains(at), *at));
    }
    let part = |kind: &Kind| {
        let least = kind.members.iter().filter(|at| first.contains(at)).count();
        Part { least: u32::try_from(least).unwrap_or(0), ..kind.part() }
    };
    let task = Task {
        leftovers: order.iter().map(|&i| blanks[i].paper.clone()).collect(),
        parts: kinds.iter().map(part).collect(),
        knife,
        goal: Goal::Area,
        effort,
    };
    let plan = nest(&task).ok()?;
    let pieces: Vec<PieceId> = order.iter().map(|&i| blanks[i].piece).collect();
    let mut next = vec![0; kinds.len()];
    let mut placed = Vec::new();
    for placement in &plan.placements {
        let kind = placement.part;
        placed.push(*kinds[kind].members.get(next[kind])?);
        next[kind] += 1;
    }
    open.retain(|at| !placed.contains(at));
    leave(blanks, &order, &plan);
    let parts = placed.iter().map(|&at| wanted[at].id()).collect();
    Some((Round { task, plan, pieces, parts, is_all }, placed))
}

/// Puts what is left of each blank in its place.
fn leave(blanks: &mut Vec<Blank>, order: &[usize], plan: &Plan) {
    let mut left = Vec::new();
    for (i, blank) in blanks.iter().enumerate() {
        let Some(leftover) = order.iter().position(|&at| at == i) else {
            left.push(blank.clone());
            continue;
        };
        if plan.placements.iter().any(|placement| placement.leftover == leftover) {
            let of_it = plan.remainders.iter().filter(|rest| rest.leftover == leftover);
            left.extend(of_it.map(|rest| Blank { piece: blank.piece, paper: Leftover::Rect(rest.rect) }));
        } else {
            left.push(blank.clone());
        }
    }
    *blanks = left;
}
