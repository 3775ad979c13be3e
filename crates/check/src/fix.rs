//! How findings are mended in one go: what several rules' fixes share.

pub(crate) mod corner;
mod gusset;
mod trial;

use crate::{Context, Fix};
use fold::{Assembly, Folding, Trouble};
use model::change::{delete_line, move_line, move_step};
use model::part::change::reorder;
use model::{Edit, Layout, Length, LineId, PartId, Place};
use std::cell::Cell;
use std::mem::discriminant;

/// For how many more findings of a rule fixes are worked out. A design is checked at every move of what is dragged in it, and
/// an edit may carry all its steps; who mends the first findings is offered fixes for the next.
#[derive(Debug)]
pub(crate) struct Offers<'a> {
    left: Cell<usize>,
    /// Whether a finding counts for which none was found: looking takes long.
    counts_in_vain: bool,
    /// Where to say that nothing is worked out now.
    left_out: Option<&'a Cell<bool>>,
}

/// For how many findings of a rule fixes are worked out that need no more than the design.
const MOST: usize = 20;

/// How many layouts or foldings are tried out for a finding, and for how many findings of a rule.
const MOST_TRIED: usize = 3;

/// The most panels with which orders are tried out: folios have a few dozen, and far more take long to fold even once.
const MOST_PANELS: usize = 50;

impl<'a> Offers<'a> {
    /// For a rule whose fixes follow from the design as it is.
    pub(crate) const fn plain() -> Self {
        Self { left: Cell::new(MOST), counts_in_vain: false, left_out: None }
    }

    /// For a rule whose fixes take a layout or a folding each.
    pub(crate) fn tried(context: &'a Context<'_>) -> Self {
        let left_out = (!context.tries).then_some(&context.left_out);
        Self { left: Cell::new(MOST_TRIED), counts_in_vain: true, left_out }
    }

    /// These fixes, while it is not yet too many.
    pub(crate) fn of<Fixes: IntoIterator<Item = Fix>>(&self, fixes: impl FnOnce() -> Fixes) -> Vec<Fix> {
        if let Some(left_out) = self.left_out {
            left_out.set(true);
            return Vec::new();
        }
        let Some(left) = self.left.get().checked_sub(1) else { return Vec::new() };
        let fixes: Vec<Fix> = fixes().into_iter().collect();
        if self.counts_in_vain || !fixes.is_empty() {
            self.left.set(left);
        }
        fixes
    }
}

impl Fix {
    pub(crate) fn new(label: impl Into<String>, edit: Edit) -> Self {
        Self { label: label.into(), edit }
    }
}

impl Context<'_> {
    /// Deletes a line with what lies along it.
    pub(crate) fn deletion(&self, id: LineId) -> Option<Fix> {
        let edit = delete_line(self.document, self.layout, id).ok()?;
        let along = if self.has_along(id) { " and what lies along it" } else { "" };
        Some(Fix::new(format!("Delete {}{along}", self.document.line_name(id)), edit))
    }

    /// Whether anything is placed along a line.
    pub(crate) fn has_along(&self, id: LineId) -> bool {
        self.document.lines.iter().any(|line| matches!(line.place, Place::Along { line, .. } if line == id))
    }

    /// Moves a line to so far from the left edge on its own turn. `None` where it can't be moved, would come to lie at the
    /// sheet's edge or beyond, or on another line that does not move along.
    pub(crate) fn moved(&self, id: LineId, to: Length) -> Option<Fix> {
        let (document, size) = (self.document, self.layout.size);
        let (turn, _) = self.layout.lines.get(&id)?.ok()?.on_board()?;
        let (width, _) = turn.size_of(size);
        let mut moving = id;
        while let Some(Place::Along { line, .. }) = document.line(moving).map(|line| line.place) {
            moving = line;
        }
        let is_there = |line: &model::Line| {
            let placed = self.layout.lines.get(&line.id).and_then(|placed| placed.ok());
            let lies = placed.and_then(|placed| Some((placed.on_board()?.0, placed.segment.a)));
            let at_it = lies
                .is_some_and(|(its, at)| its.is_upright() == turn.is_upright() && turn.to_board(at, size).across == to);
            at_it && !document.hangs_on(line.id, moving)
        };
        if to <= Length::ZERO || to >= width || document.lines.iter().any(is_there) {
            return None;
        }
        let edit = move_line(document, self.layout, id, to)?;
        Some(Fix::new(format!("Move {} to {}", document.line_name(id), to.readable(document.units)), edit))
    }

    /// Putting one of some parts on before another, where less stands in the way of closing then. Each takes a folding to
    /// find out.
    pub(crate) fn better_piles(&self, parts: &[PartId]) -> Vec<Fix> {
        let Some((_, folding)) = self.trials() else {
            return Vec::new();
        };
        let now = folding.troubles().len();
        let place = |id: PartId| self.document.parts.iter().position(|part| part.id == id);
        let pairs = parts.iter().flat_map(|&first| parts.iter().map(move |&second| (first, second)));
        let better = |(first, second): (PartId, PartId)| {
            let (to, from) = (place(first)?, place(second)?);
            let edit = if from > to { reorder(self.document, second, to)? } else { return None };
            let mut tried = self.document.clone();
            tried.apply(edit.clone()).ok()?;
            let closed = fold::close(&fold::assemble(&tried, &Layout::of(&tried))?);
            let name = |id| self.document.part_name(id);
            let label = format!("Put {} on before {}", name(second), name(first));
            (closed.troubles().len() < now).then(|| Fix::new(label, edit))
        };
        pairs.filter_map(better).collect()
    }

    /// Those of some moves of a step to another place in the closing order after which less stands in the way of closing
    /// than now, and less of the kind of `trouble`, with a gusset at its panels that is made to stand instead: the best
    /// first. Each takes a folding to find out.
    pub(crate) fn unblocked(&self, trouble: &Trouble, moves: impl IntoIterator<Item = (usize, usize)>) -> Vec<Fix> {
        let Some((_, folding)) = self.trials() else {
            return Vec::new();
        };
        let alike = |folding: &Folding| {
            folding.troubles().iter().filter(|other| discriminant(*other) == discriminant(trouble)).count()
        };
        let now = (trial::hindrances(folding), alike(folding));
        let better = |(from, to): (usize, usize)| {
            let edit = move_step(self.document, from, to)?;
            let mut tried = self.document.clone();
            tried.apply(edit.clone()).ok()?;
            let closed = fold::close(&fold::assemble(&tried, self.layout)?);
            let side = if to < from { "before" } else { "after" };
            let label = format!("Fold step {} {side} step {}", from + 1, to + 1);
            let left = trial::hindrances(&closed);
            (left < now.0 && alike(&closed) < now.1).then(|| (left, Fix::new(label, edit)))
        };
        let orders = moves.into_iter().take(MOST_TRIED).filter_map(better);
        best_first(orders.chain(self.squared(&trouble.panels())))
    }

    /// The folding, where edits may be tried out on it: where it is not too large for that.
    pub(crate) fn trials(&self) -> Option<(&Assembly, &Folding)> {
        self.folded.filter(|(assembly, _)| assembly.panels.len() <= MOST_PANELS)
    }
}

/// Fixes with how much each leaves in the way of closing, by that: of equals the earlier first.
pub(crate) fn best_first(fixes: impl IntoIterator<Item = (usize, Fix)>) -> Vec<Fix> {
    let mut fixes: Vec<(usize, Fix)> = fixes.into_iter().collect();
    fixes.sort_by_key(|(left, _)| *left);
    fixes.into_iter().map(|(_, fix)| fix).collect()
}
