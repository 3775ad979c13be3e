//! An order of steps for a design that has none, or only the first of them; and why the order that it has fails.
//!
//! A step folds a line, or lines that lie on one axis by then, or the two square folds of a gusset together. It is legal
//! if nothing joins what moves to what stays but its folds, nothing lies on what moves on the side to which it does, and
//! the way is clear. Steps are looked for depth first, wide ones and those far from the base first, within a bound on the
//! work; always the same ones are found.
//!
//! Lines that may fold either way are told their way beforehand, as in [`close()`](crate::close()); if that leads nowhere,
//! a way with which the closed state has a layer order. [`Plan::directions`] tells which.

mod candidate;
mod closed;
mod search;
mod wish;

pub use wish::Wish;

use crate::assembly::{Assembly, Joint, StepJoints};
use crate::close::close_settled;
use crate::settle::settled;
use crate::stage::{Bench, Stage};
use crate::trouble::Trouble;
use crate::tuck::Tuck;
use crate::verify::{self, trouble};
use closed::closed;
use model::{Direction, FoldAngle, LineId, PanelId, Point};
use order::{Answer, Given};
use search::{End, Search};
pub(crate) use search::{Reached, reachable};
use std::collections::BTreeMap;
use wish::Sided;

/// What a plan should keep to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Wishes {
    /// So many of the assembly's own steps come first, as they are.
    pub kept: usize,
    /// How layers should lie in the end.
    pub layers: Vec<Wish>,
    /// Whether flaps may be tucked under others where layers can't lie so otherwise.
    pub tucks: bool,
    /// How many steps may be tried in all.
    pub effort: u64,
}

/// One step of a plan.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PlannedStep {
    /// The lines that fold, ascending.
    pub lines: Vec<LineId>,
    /// Their joints, as places in [`Assembly::joints`], ascending.
    pub joints: Vec<usize>,
    /// What is tucked under something.
    pub tucks: Vec<Tuck>,
}

/// Steps that close a design.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Plan {
    /// The steps, those that were kept among them.
    pub steps: Vec<PlannedStep>,
    /// Whether it is known that fewer steps don't do; the work for that may be too much.
    pub is_least: bool,
    /// The way that each line is folded that may fold either way.
    pub directions: BTreeMap<LineId, Direction>,
}

/// Why there is no plan.
#[derive(Debug, Clone, PartialEq)]
pub enum PlanTrouble {
    /// However it is folded, two ways from the base to a panel don't lead to one place: these lines, with the panels that
    /// they would tear apart.
    Torn {
        /// The lines.
        lines: Vec<LineId>,
        /// The panels.
        panels: Vec<PanelId>,
    },
    /// However it is folded, panels would pass through one another in the end.
    NoOrder {
        /// The panels, in ascending order.
        panels: Vec<PanelId>,
        /// The lines that hold them so, in ascending order.
        lines: Vec<LineId>,
        /// Points with paper all round in which several of these meet.
        at: Vec<Point>,
    },
    /// Every order of steps comes to a point from which none is legal. This is the farthest that was found.
    Stuck {
        /// The steps up to there.
        after: Vec<PlannedStep>,
        /// What stands in the way of each step that was tried then.
        hindered: Vec<Hindered>,
    },
    /// It closes, but not with these wishes, by their places in [`Wishes::layers`].
    Unmet {
        /// Those that no layer order has, alone or together with the others.
        impossible: Vec<usize>,
        /// Those that some order has, but none that was reached: a flap would have to be tucked.
        unreached: Vec<usize>,
    },
    /// The work did not suffice to tell. This is the farthest that was found.
    Undecided {
        /// The steps up to there.
        after: Vec<PlannedStep>,
    },
}

/// A step that can't be made.
#[derive(Debug, Clone, PartialEq)]
pub struct Hindered {
    /// Its lines.
    pub lines: Vec<LineId>,
    /// Why. Its number is that of the step that it would be.
    pub troubles: Vec<Trouble>,
}

/// Why a design's own steps fail.
#[derive(Debug, Clone, PartialEq)]
pub struct Explanation {
    /// The first step in which something is wrong, counted from 0; `None` when only the closed state is.
    pub step: Option<usize>,
    /// What is wrong there.
    pub troubles: Vec<Trouble>,
    /// Steps that close it instead, or why there are none.
    pub instead: Result<Plan, PlanTrouble>,
}

impl Plan {
    /// The steps as an assembly has them: see [`Assembly::with_steps`].
    #[must_use]
    pub fn joints(&self) -> Vec<StepJoints> {
        self.steps.iter().map(|step| StepJoints { joints: step.joints.clone(), tucks: step.tucks.clone() }).collect()
    }
}

impl Default for Wishes {
    /// No wishes; 2000 tries, some tenths of a second for a folio of twenty folds.
    fn default() -> Self {
        Self { kept: 0, layers: Vec::new(), tucks: false, effort: 2000 }
    }
}

/// Looks for steps that close `assembly`, whatever its own are but for the first [`Wishes::kept`].
///
/// # Errors
/// Why there are none: see [`PlanTrouble`].
pub fn plan(assembly: &Assembly, wishes: &Wishes) -> Result<Plan, PlanTrouble> {
    let either = |joint: &&Joint| joint.crease.direction == Direction::Either;
    let mut told = settled(assembly);
    let mut found = plan_settled(&told, wishes);
    if found.is_err() && assembly.joints.iter().any(|joint| either(&joint)) {
        // Told otherwise, so that there is a layer order at least.
        if let Some(other) = by_order(assembly) {
            found = plan_settled(&other, wishes);
            told = other;
        }
    }
    let joints = assembly.joints.iter().zip(&told.joints).filter(|(joint, _)| either(joint));
    let directions = joints.map(|(joint, told)| (joint.line, told.crease.direction)).collect();
    found.map(|plan| Plan { directions, ..plan })
}

/// The assembly with every line that may fold either way told one with which the closed state has a layer order, if there
/// is one. Lines that fold square are taken as valleys.
fn by_order(assembly: &Assembly) -> Option<Assembly> {
    let bench = Bench::new(assembly);
    let end = closed(&bench).ok()?;
    let mut ways: BTreeMap<LineId, Direction> = BTreeMap::new();
    for (flat, problem) in verify::problems(&bench, &end, true) {
        let Answer::Order(state) = problem?.solve() else { return None };
        for (fold, &joint) in state.folds().zip(&flat.joints) {
            let Joint { line, crease, .. } = &assembly.joints[joint];
            let Some(fold) = fold.filter(|_| crease.angle == FoldAngle::Flat) else { continue };
            let direction = if fold == order::Fold::Mountain { Direction::Mountain } else { Direction::Valley };
            // A line folds one way all along.
            if *ways.entry(*line).or_insert(direction) != direction {
                return None;
            }
        }
    }
    let mut told = assembly.clone();
    for joint in told.joints.iter_mut().filter(|joint| joint.crease.direction == Direction::Either) {
        joint.crease.direction = ways.get(&joint.line).copied().unwrap_or(Direction::Valley);
    }
    Some(told)
}

/// The same where every line is told its way.
fn plan_settled(assembly: &Assembly, wishes: &Wishes) -> Result<Plan, PlanTrouble> {
    let bench = Bench::new(assembly);
    let end = closed(&bench).map_err(|torn| torn_apart(assembly, &torn))?;
    let layers = wish::sided(&bench, &end, &wishes.layers);
    possible(&bench, &end)?;
    let (search, found) = search_through(&bench, &layers, wishes);
    match found {
        End::Found(plan) => Ok(plan),
        End::Exhausted if wishes.layers.is_empty() => {
            Err(PlanTrouble::Stuck { hindered: search.hindered(), after: search.farthest() })
        }
        End::Spent if wishes.layers.is_empty() => Err(PlanTrouble::Undecided { after: search.farthest() }),
        found => Err(unmet(assembly, wishes, (&bench, &end), (&search, found == End::Exhausted))),
    }
}

/// Looks for steps without tucks first, then with one, two and so on.
fn search_through<'a>(bench: &'a Bench<'a>, layers: &'a [Sided], wishes: &Wishes) -> (Search<'a>, End) {
    let most = if wishes.tucks { layers.len() } else { 0 };
    let mut tucks = 0;
    let mut left = wishes.effort;
    loop {
        let mut search = Search::new(bench, layers, tucks, left);
        let found = search.plan(wishes.kept);
        if found != End::Exhausted || tucks == most {
            return (search, found);
        }
        tucks += 1;
        left = search.left();
    }
}

/// Why the own steps of `assembly` fail; `None` when they don't.
#[must_use]
pub fn explain(assembly: &Assembly) -> Option<Explanation> {
    let folding = close_settled(&settled(assembly));
    let counts = |trouble: &&Trouble| !matches!(trouble, Trouble::NotInSteps { .. });
    let first = folding.troubles().iter().find(counts)?.step();
    let troubles = folding.troubles().iter().filter(counts).filter(|trouble| trouble.step() == first);
    let troubles = troubles.cloned().collect();
    // What was right before the first mistake is kept, if anything can be made of it.
    let kept = Wishes { kept: first.unwrap_or(0), ..Wishes::default() };
    let instead = plan(assembly, &kept).or_else(|_| plan(assembly, &Wishes::default()));
    Some(Explanation { step: first, troubles, instead })
}

fn torn_apart(assembly: &Assembly, torn: &[usize]) -> PlanTrouble {
    let joints = || torn.iter().map(|&joint| &assembly.joints[joint]);
    let ascending = |mut list: Vec<PanelId>| {
        list.sort_unstable();
        list.dedup();
        list
    };
    let mut lines: Vec<LineId> = joints().map(|joint| joint.line).collect();
    lines.sort_unstable();
    lines.dedup();
    let panels = joints().flat_map(|joint| joint.panels).map(|panel| assembly.panels[panel].id).collect();
    PlanTrouble::Torn { lines, panels: ascending(panels) }
}

/// Whether the closed state has a layer order at all.
fn possible(bench: &Bench, end: &Stage) -> Result<(), PlanTrouble> {
    for (flat, problem) in verify::problems(bench, end, true) {
        if let Some(Answer::Conflict(conflict)) = problem.map(|problem| problem.solve())
            && let Trouble::Crosses { panels, lines, at, .. } = trouble(bench, &flat, &conflict, &[])
        {
            return Err(PlanTrouble::NoOrder { panels, lines, at });
        }
    }
    Ok(())
}

/// Which of the wishes can't be had.
fn unmet(
    assembly: &Assembly,
    wishes: &Wishes,
    (bench, end): (&Bench, &Stage),
    (search, is_sure): (&Search, bool),
) -> PlanTrouble {
    let impossible: Vec<usize> =
        (0..wishes.layers.len()).filter(|&i| !allowed(bench, end, &wishes.layers[i..=i])).collect();
    let all = (0..wishes.layers.len()).collect::<Vec<usize>>();
    if !impossible.is_empty() {
        return PlanTrouble::Unmet { impossible, unreached: Vec::new() };
    }
    if !allowed(bench, end, &wishes.layers) {
        return PlanTrouble::Unmet { impossible: all, unreached: Vec::new() };
    }
    if !is_sure {
        return PlanTrouble::Undecided { after: search.farthest() };
    }
    // Without any wish it may be stuck all the same.
    if let Err(trouble) = plan(assembly, &Wishes { layers: Vec::new(), ..wishes.clone() }) {
        return trouble;
    }
    let alone = |i: &usize| {
        let one = Wishes { layers: vec![wishes.layers[*i]], ..wishes.clone() };
        wishes.layers.len() > 1 && plan(assembly, &one).is_ok()
    };
    let unreached: Vec<usize> = all.iter().copied().filter(|i| !alone(i)).collect();
    PlanTrouble::Unmet { impossible: Vec::new(), unreached: if unreached.is_empty() { all } else { unreached } }
}

/// Whether some layer order has all of some wishes.
fn allowed(bench: &Bench, end: &Stage, layers: &[Wish]) -> bool {
    verify::problems(bench, end, true).into_iter().all(|(flat, problem)| {
        let Some(problem) = problem else { return true };
        // An outermost panel may be so above or below: each way is tried.
        let mut ways: Vec<Vec<Given>> = vec![Vec::new()];
        for &wish in layers {
            let orders = wish.orders(bench, &flat);
            ways = ways.iter().flat_map(|way| orders.iter().map(|order| [way.as_slice(), order].concat())).collect();
        }
        ways.iter().any(|asked| !matches!(problem.allows(asked), Answer::Conflict(_)))
    })
}
