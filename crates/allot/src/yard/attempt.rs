//! Rectangles cut from offcuts: which way of going about it places most, and how far that could be bettered.

use super::{Offcut, Rounds, Yard};
use crate::allotment::{Cutout, OffcutPaper, Origin, Standing};
use crate::inner;
use crate::round::{Blank, Round, round};
use model::part::Source;
use model::{Area, Size};
use nest::{Effort, Knife, Quality};
use std::collections::BTreeMap;

/// So many offcuts are tried with other rectangles in them, each with a quarter of the steps of the first attempt.
const MOST_RETRIES: usize = 4;

/// One way of going about it.
struct Attempt {
    rounds: Rounds,
    blanks: Vec<Blank>,
    open: Vec<usize>,
}

impl Attempt {
    /// The area placed, then the fewest cuts.
    fn rank(&self) -> (Area, std::cmp::Reverse<usize>) {
        let used = self.rounds.iter().map(|(round, _)| round.plan.used).sum();
        (used, std::cmp::Reverse(self.rounds.iter().map(|(round, _)| round.plan.cuts).sum()))
    }
}

impl Yard<'_> {
    /// Cuts rectangles for all parts that are still open.
    pub(super) fn cut(&mut self) {
        let mut named: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
        let mut open: Vec<usize> = Vec::new();
        for at in (0..self.wanted.len()).filter(|&at| self.is_open(at)).collect::<Vec<_>>() {
            match self.wanted[at].part.source {
                Source::Offcut(mark) => match self.marked(at, mark) {
                    Ok(offcut) => named.entry(offcut).or_default().push(at),
                    Err(why) => drop(self.origins.insert(at, Origin::Missing(why))),
                },
                _ => open.push(at),
            }
        }
        let is_loose = self.offcuts.iter().any(|offcut| matches!(offcut.paper, OffcutPaper::Rectangles(_)));
        let steps = self.settings.effort.steps;
        let mut best = self.best_attempt(&named, &open, if is_loose { steps / 2 } else { steps });
        self.try_other_rects(&mut best, &named, &open);
        self.standing = self.standing(&best, &named, &open);
        for (round, placed) in &best.rounds {
            for (placement, &at) in round.plan.placements.iter().zip(placed) {
                let piece = round.pieces[placement.leftover];
                let name = self.layout.pieces[piece.0].name.clone();
                let cutout = Cutout { rect: placement.rect, quarters: self.wanted[at].quarters(placement.turned) };
                self.origins.insert(at, Origin::Offcut { piece, name, cutout, whole: false });
            }
        }
        (self.blanks, self.rounds) = (best.blanks, best.rounds);
    }

    /// What can be cut up: the offcuts that no part takes as they are.
    fn free_blanks(&self) -> Vec<Blank> {
        self.offcuts.iter().filter(|offcut| offcut.whole.is_none()).flat_map(Offcut::blanks).collect()
    }

    fn best_attempt(&self, named: &BTreeMap<usize, Vec<usize>>, open: &[usize], steps: u64) -> Attempt {
        let blanks = self.free_blanks();
        let best = self.attempt(named, open, (&blanks, steps), false);
        if named.is_empty() || best.open.is_empty() || open.is_empty() {
            return best;
        }
        let other = self.attempt(named, open, (&blanks, steps), true);
        if other.rank() > best.rank() { other } else { best }
    }

    /// Offcuts of which rectangles are used may have others in them that hold what has found no place.
    fn try_other_rects(&mut self, best: &mut Attempt, named: &BTreeMap<usize, Vec<usize>>, open: &[usize]) {
        let is_loose = |offcut: &Offcut| matches!(offcut.paper, OffcutPaper::Rectangles(_)) && offcut.whole.is_none();
        let loose: Vec<usize> = (0..self.offcuts.len()).filter(|&at| is_loose(&self.offcuts[at])).collect();
        for at in loose.into_iter().take(MOST_RETRIES) {
            let is_free = |part: usize| named.iter().all(|(&offcut, mine)| offcut == at || !mine.contains(&part));
            let missing = best.open.iter().copied().filter(|&part| is_free(part) && !self.is_held(part, at));
            let largest = missing.max_by_key(|&part| (self.wanted[part].size.area(), std::cmp::Reverse(part)));
            let shape = &self.offcuts[at].shape;
            let Some(rects) = largest.and_then(|part| inner::rects_holding(shape, &self.wanted[part].rects())) else {
                continue;
            };
            let before = std::mem::replace(&mut self.offcuts[at].paper, OffcutPaper::Rectangles(rects));
            let other = self.best_attempt(named, open, self.settings.effort.steps / 8);
            if other.rank() > best.rank() {
                *best = other;
            } else {
                self.offcuts[at].paper = before;
            }
        }
    }

    /// Whether one of the rectangles of an offcut is large enough for a part.
    fn is_held(&self, part: usize, offcut: usize) -> bool {
        let OffcutPaper::Rectangles(rects) = &self.offcuts[offcut].paper else { return false };
        let holds = |rect: Size, own: Size| own.width() <= rect.width() && own.height() <= rect.height();
        self.wanted[part].rects().into_iter().any(|own| rects.iter().any(|rect| holds(rect.size, own)))
    }

    /// First what names its offcut, offcut by offcut, alone or together with what may come from any; then the rest.
    fn attempt(
        &self,
        named: &BTreeMap<usize, Vec<usize>>,
        open: &[usize],
        (blanks, steps): (&[Blank], u64),
        together: bool,
    ) -> Attempt {
        let mut attempt = Attempt { rounds: Vec::new(), blanks: blanks.to_vec(), open: open.to_vec() };
        let share = u64::try_from(named.len() + 1).unwrap_or(1);
        let means = (self.settings.knife, Effort { steps: steps / share });
        let mut short = Vec::new();
        for (&offcut, first) in named {
            let piece = self.offcuts[offcut].piece;
            let (mut mine, others): (Vec<Blank>, Vec<Blank>) =
                attempt.blanks.into_iter().partition(|blank| blank.piece == piece);
            let mut asked = first.clone();
            if together {
                asked.append(&mut attempt.open);
            }
            attempt.rounds.extend(self.rounds(&mut asked, first, &mut mine, means));
            attempt.blanks = others.into_iter().chain(mine).collect();
            let (still_first, still_open): (Vec<usize>, Vec<usize>) =
                asked.into_iter().partition(|at| first.contains(at));
            short.extend(still_first);
            if together {
                attempt.open = still_open;
            }
        }
        let Attempt { rounds, blanks, open } = &mut attempt;
        rounds.extend(self.rounds(open, &[], blanks, means));
        open.extend(short);
        attempt
    }

    /// Round after round, for as long as something is placed and more is asked for than one round takes.
    fn rounds(
        &self,
        open: &mut Vec<usize>,
        first: &[usize],
        blanks: &mut Vec<Blank>,
        means: (Knife, Effort),
    ) -> Rounds {
        let mut rounds = Rounds::new();
        while let Some(one) = round(self.wanted, open, first, blanks, means) {
            let goes_on = !one.0.is_all && !one.1.is_empty() && !open.is_empty();
            rounds.push(one);
            if !goes_on {
                break;
            }
        }
        rounds
    }

    /// How far the best could be bettered: by the one round there was, or by a round in which all may come from anywhere.
    fn standing(&self, best: &Attempt, named: &BTreeMap<usize, Vec<usize>>, open: &[usize]) -> Standing {
        if best.open.is_empty() {
            return Standing::Proved;
        }
        let mut asked: Vec<usize> = named.values().flatten().chain(open).copied().collect();
        let all: Area = asked.iter().map(|&at| self.wanted[at].size.area()).sum();
        // More than one round takes could all be placed.
        let bound = |round: &Round| match round.plan.quality {
            _ if !round.is_all => all,
            Quality::Proved => area_of(round.plan.reached).min(all),
            Quality::Found { bound } => area_of(bound).min(all),
        };
        let used = best.rank().0;
        let most = match best.rounds.as_slice() {
            [(only, _)] if named.is_empty() => bound(only),
            _ => {
                let means = (self.settings.knife, self.settings.effort);
                round(self.wanted, &mut asked, &[], &mut self.free_blanks(), means)
                    .map_or(used, |(round, _)| bound(&round))
            }
        };
        if most > used { Standing::Within(most - used) } else { Standing::Proved }
    }
}

fn area_of(nm2: u128) -> Area {
    Area::from_half_nm2(i128::try_from(nm2).unwrap_or(i128::MAX / 2).saturating_mul(2))
}
