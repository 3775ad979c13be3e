//! A solution laid out on the leftovers: cuts and placements, areas, and what is claimed of the plan.

use crate::carve::{Yield, carve, parted};
use crate::outline::{self, Block, Opened};
use crate::plan::{Body, Cut, LeftoverPlan, Paper, Placement, Plan, Quality, Remainder, Way};
use crate::problem::Problem;
use crate::sketch::{Axis, Sketch};
use crate::solve::Solved;
use crate::task::{Knife, Leftover, Rect};
use crate::wanted::Wanted;
use model::{Area, Length};
use std::cmp::Reverse;

/// What a plan is judged by: how many are there of those that have to be, what the goal counts, then fewer cuts, then
/// the largest remainder.
pub(crate) type Rank = (u32, u128, Reverse<usize>, Area);

/// Where a solution is laid out.
#[derive(Clone, Copy)]
pub(crate) struct Layout<'a> {
    pub(crate) leftovers: &'a [Leftover],
    pub(crate) knife: Knife,
    pub(crate) wanted: &'a Wanted<'a>,
    pub(crate) opened: &'a [&'a Opened],
    /// For every block of every leftover what is inside its edges.
    pub(crate) usable: &'a [Vec<Option<Rect>>],
}

impl Layout<'_> {
    /// The plan, and how it ranks.
    pub(crate) fn plan(&self, problem: &Problem, solved: &Solved) -> (Plan, Rank) {
        let mut sketches = solved.best.sketches.iter();
        let mut out = Yield::default();
        let (mut carved_from, mut remains_of) = (Vec::new(), Vec::new());
        let mut leftovers = Vec::new();
        for leftover in 0..self.leftovers.len() {
            let of_blocks: Vec<Option<&Sketch>> =
                self.usable[leftover].iter().map(|usable| usable.and_then(|_| sketches.next())).collect();
            leftovers.push(self.leftover(leftover, &of_blocks, &mut out));
            carved_from.resize(out.parts.len(), leftover);
            remains_of.resize(out.remainders.len(), leftover);
        }
        let (parts, placed) = self.wanted.hand_out(out.parts.iter().map(|carved| carved.kind));
        let of = |((carved, part), leftover): ((&crate::carve::Carved, usize), usize)| {
            let turned = carved.rect.size != self.wanted.parts[part].size;
            Placement { part, leftover, rect: carved.rect, turned }
        };
        let placements: Vec<Placement> = out.parts.iter().zip(parts).zip(carved_from).map(of).collect();
        let remainders = out.remainders.iter().zip(remains_of);
        let wanted = self.wanted.parts.iter().zip(&placed);
        let worth = |placement: &Placement| self.wanted.worth_of(placement.part);
        let plan = Plan {
            remainders: remainders.map(|(&rect, leftover)| Remainder { leftover, rect }).collect(),
            missing: wanted.clone().map(|(part, placed)| part.count - placed).collect(),
            has_least: wanted.clone().all(|(part, placed)| *placed >= part.least),
            used: placements.iter().map(|placement| placement.rect.area()).sum(),
            reached: placements.iter().map(worth).sum::<i128>().unsigned_abs(),
            cuts: leftovers.iter().map(LeftoverPlan::cuts).sum(),
            quality: self.quality(problem, solved),
            placements,
            leftovers,
        };
        let least = self.wanted.parts.iter().zip(&placed).map(|(part, placed)| *placed.min(&part.least)).sum();
        let rank = (least, plan.reached, Reverse(plan.cuts), plan.largest_remainder());
        (plan, rank)
    }

    fn leftover(&self, leftover: usize, sketches: &[Option<&Sketch>], out: &mut Yield) -> LeftoverPlan {
        let area = match &self.leftovers[leftover] {
            Leftover::Rect(rect) => rect.area(),
            Leftover::Outline(corners) => outline::area(corners),
        };
        let opened = self.opened[leftover];
        let is_cut = |sketch: &Option<&Sketch>| sketch.is_some_and(|sketch| *sketch != Sketch::Empty);
        if !opened.openings.is_empty() && !sketches.iter().any(is_cut) {
            return LeftoverPlan { openings: Vec::new(), bodies: Vec::new(), area, kerf: Area::ZERO, trim: Area::ZERO };
        }
        let blocks = opened.blocks.iter().zip(sketches).zip(&self.usable[leftover]);
        let bodies: Vec<Body> = blocks
            .map(|((block, sketch), usable)| match (sketch.filter(|sketch| is_cut(&Some(sketch))), usable) {
                (Some(sketch), Some(_)) => self.body(block, sketch, out),
                _ => Body { rect: block.rect, paper: carve(&Sketch::Empty, block.rect, self.knife.kerf, out) },
            })
            .collect();
        let of_bodies: Area = bodies.iter().map(|body| body.rect.area()).sum();
        let spent = bodies.iter().map(|body| spent(&body.paper));
        let (kerf, trim) = spent.fold((area - of_bodies, Area::ZERO), |all, one| (all.0 + one.0, all.1 + one.1));
        LeftoverPlan { openings: opened.openings.clone(), bodies, area, kerf, trim }
    }

    /// A block that is cut: its rough edges are trimmed first.
    fn body(&self, block: &Block, sketch: &Sketch, out: &mut Yield) -> Body {
        let kerf = self.knife.kerf;
        let edges = [(Axis::X, true), (Axis::Y, true), (Axis::X, false), (Axis::Y, false)];
        let rough = edges.into_iter().zip(block.rough).filter(|(_, rough)| *rough && self.knife.edge > Length::ZERO);
        let edges: Vec<_> = rough.map(|(edge, _)| edge).collect();
        let paper = trimmed(block.rect, self.knife.edge, &edges, &mut |rect| carve(sketch, rect, kerf, out));
        Body { rect: block.rect, paper }
    }

    fn quality(&self, problem: &Problem, solved: &Solved) -> Quality {
        let has_openings = self.opened.iter().any(|opened| !opened.openings.is_empty());
        let capacity = self.leftovers.iter().map(|leftover| capacity(leftover, self.knife.kerf)).sum();
        let by_area = self.wanted.whole(problem).gain_from_area(capacity);
        let bound = if has_openings { by_area } else { by_area.min(solved.bound) };
        if bound <= solved.best.gain {
            return Quality::Proved;
        }
        let mut tally = crate::price::tally(problem, &solved.best.sketches);
        tally.iter_mut().zip(&problem.kinds).for_each(|(count, kind)| *count = (*count).min(kind.least));
        let urgent = problem.urgent * tally.iter().map(|&count| i128::from(count)).sum::<i128>();
        let all: i128 = (0..self.wanted.parts.len())
            .map(|part| self.wanted.worth_of(part) * i128::from(self.wanted.parts[part].count))
            .sum();
        Quality::Found { bound: ((bound - urgent) * self.wanted.unit).min(all).unsigned_abs() }
    }
}

/// The most area that parts with a kerf added can take up in a leftover with half a kerf added all round.
fn capacity(leftover: &Leftover, kerf: Length) -> i128 {
    let corners = match leftover {
        Leftover::Rect(rect) => {
            let [l, t, r, b] = [rect.left(), rect.top(), rect.right(), rect.bottom()];
            [(l, t), (r, t), (r, b), (l, b)].map(|(x, y)| model::Point::new(x, y)).to_vec()
        }
        Leftover::Outline(corners) => corners.clone(),
    };
    let kerf = i128::from(kerf.nm());
    let strip = (i128::from(outline::girth(&corners).nm()) * kerf + 1) / 2;
    outline::area(&corners).half_nm2() / 2 + strip + kerf * kerf * 8
}

/// Trims strips off some edges, each from its axis' start or end, and goes on with what is inside.
fn trimmed(rect: Rect, edge: Length, edges: &[(Axis, bool)], then: &mut dyn FnMut(Rect) -> Paper) -> Paper {
    let Some((&(axis, is_start), rest)) = edges.split_first() else { return then(rect) };
    let length = axis.of([rect.size.width(), rect.size.height()]);
    let at = if is_start { edge } else { length - edge };
    let (Some(first), Some(second), cut) = parted(rect, axis, at, Length::ZERO) else { return then(rect) };
    let (first, second) = if is_start {
        (Paper::Trim(first), trimmed(second, edge, rest, then))
    } else {
        (trimmed(first, edge, rest, then), Paper::Trim(second))
    };
    Paper::Cut(Cut { first: Box::new(first), second: Some(Box::new(second)), ..cut })
}

/// What cuts destroy and what is trimmed off.
fn spent(paper: &Paper) -> (Area, Area) {
    match paper {
        Paper::Cut(cut) => {
            let [first, second] = [Some(&cut.first), cut.second.as_ref()]
                .map(|paper| paper.map_or((Area::ZERO, Area::ZERO), |paper| spent(paper)));
            (cut.lost() + first.0 + second.0, first.1 + second.1)
        }
        Paper::Trim(rect) => (Area::ZERO, rect.area()),
        Paper::Part(_) | Paper::Remainder(_) => (Area::ZERO, Area::ZERO),
    }
}

impl Cut {
    /// The area that the cut destroys.
    #[must_use]
    pub fn lost(&self) -> Area {
        let length = match self.way {
            Way::Upright => self.paper.size.height(),
            Way::Level => self.paper.size.width(),
        };
        Area::from_half_nm2(2 * i128::from(self.kerf.nm()) * i128::from(length.nm()))
    }
}

impl Paper {
    /// How many cuts there are in it.
    #[must_use]
    pub fn cuts(&self) -> usize {
        match self {
            Self::Cut(cut) => 1 + cut.first.cuts() + cut.second.as_ref().map_or(0, |second| second.cuts()),
            Self::Part(_) | Self::Remainder(_) | Self::Trim(_) => 0,
        }
    }
}

impl LeftoverPlan {
    /// How many cuts it takes.
    #[must_use]
    pub fn cuts(&self) -> usize {
        self.openings.len() + self.bodies.iter().map(|body| body.paper.cuts()).sum::<usize>()
    }
}
