//! Whether a state passes through itself, judged as if the steps that led there were not trusted.
//!
//! The order of the layers in each plane is put to the solver, which answers with the few panels and folds that exclude
//! one another where there is a mistake. What it cannot look at, piles beyond its measure and figures that do not fit
//! together, is judged section by section ([`crate::crossing`]), and so are very deep piles first. Panels in planes that
//! are not parallel are looked at in any case.

use crate::figure::{Flat, flats};
use crate::layer::Lie;
use crate::stage::{Bench, Stage};
use crate::trouble::Trouble;
use crate::{crossing, facet};
use model::{LineId, PanelId, Point};
use order::{Answer, Conflict, Effort, Given, Problem, prepare};
use std::collections::BTreeSet;

/// How much work one plane may take, in the solver's steps: some tenths of a second. Where the order is known it takes
/// hardly any, but for saying what is wrong.
pub(crate) const EFFORT: Effort = Effort(2_000_000);

/// With more pairs of facets on one another than this, sections are looked at first, which is quicker where there is nothing
/// to explain: a pile of 32 layers has so many.
const MOST_PAIRS: usize = 500;

/// With more, what is found there is told as it is: to say which folds are at fault takes seconds in a pile of more than 140
/// layers.
const MOST_EXPLAINED: usize = 10_000;

/// The most mistakes in one plane that are told.
const MOST_TOLD: usize = 12;

/// With more facets than this, [`close`](crate::close()) looks at the closed state alone and not at that after each step.
/// The time for a state grows with the square of the facets and is spent once a step. A tray of nine facets in four steps
/// takes a twentieth longer for it, less than a tenth of a millisecond; with 40 in twenty steps it would be some ten
/// milliseconds, which is as much as dragging a line can bear.
pub(crate) const MOST_FACETS: usize = 40;

/// What passes through what.
pub(crate) fn crossings(bench: &Bench, stage: &Stage) -> Vec<Trouble> {
    let lie = bench.lie(stage);
    if stage.relations.pairs().nth(MOST_PAIRS).is_some() {
        let mut by_section = by_section(bench, stage);
        let is_told = by_section.is_empty() || stage.relations.pairs().nth(MOST_EXPLAINED).is_some();
        if is_told {
            by_section.truncate(MOST_TOLD);
            return by_section;
        }
    }
    let mut out = Vec::new();
    for flat in flats(bench, stage, false) {
        match of_plane(bench, stage, &lie, &flat) {
            Some(found) => out.extend(found),
            None => return by_section(bench, stage),
        }
    }
    for (a, b) in crossing::pierced(&lie) {
        let panels = BTreeSet::from([a, b].map(|facet| bench.assembly.panels[bench.facets[facet].panel].id));
        out.push(Trouble::Crosses {
            after: None,
            panels: panels.into_iter().collect(),
            lines: Vec::new(),
            at: Vec::new(),
        });
    }
    out
}

/// The same in the state after a step, counted from 0.
pub(crate) fn crossings_after(bench: &Bench, stage: &Stage, step: usize) -> Vec<Trouble> {
    let dated = |trouble| match trouble {
        Trouble::Crosses { panels, lines, at, .. } => Trouble::Crosses { after: Some(step), panels, lines, at },
        other => other,
    };
    crossings(bench, stage).into_iter().map(dated).collect()
}

/// What is wrong in one plane; `None` when the solver does not know.
fn of_plane(bench: &Bench, stage: &Stage, lie: &Lie, flat: &Flat) -> Option<Vec<Trouble>> {
    let problem = prepare(&flat.figure).ok()?.with_effort(EFFORT);
    let mut asked = flat.reached(bench, lie, &stage.relations);
    asked.extend(flat.of_walls(lie, &stage.relations));
    let mut out = Vec::new();
    while out.len() < MOST_TOLD {
        match problem.allows(&asked) {
            Answer::Order(_) => break,
            Answer::Undecided => return None,
            Answer::Conflict(conflict) => {
                out.push(trouble(bench, flat, &conflict, &asked));
                if conflict.asked.is_empty() {
                    break;
                }
                // Once told, the rest may hold without it.
                let told: BTreeSet<usize> = conflict.asked.iter().copied().collect();
                let rest = asked.iter().enumerate().filter(|(i, _)| !told.contains(i)).map(|(_, given)| *given);
                asked = rest.collect();
            }
        }
    }
    Some(out)
}

/// A conflict in terms of panels and lines.
pub(crate) fn trouble(bench: &Bench, flat: &Flat, conflict: &Conflict, asked: &[Given]) -> Trouble {
    let assembly = bench.assembly;
    let of_asked = conflict.asked.iter().flat_map(|&i| [asked[i].lower, asked[i].upper]);
    let facets = conflict.facets.iter().copied().chain(of_asked);
    let joints: BTreeSet<usize> = conflict.joints.iter().map(|&joint| flat.joints[joint]).collect();
    let panels: BTreeSet<PanelId> = facets.map(|facet| assembly.panels[flat.panels[facet]].id).collect();
    let lines: BTreeSet<LineId> = joints.iter().map(|&joint| assembly.joints[joint].line).collect();
    Trouble::Crosses {
        after: None,
        panels: panels.into_iter().collect(),
        lines: lines.into_iter().collect(),
        at: meeting(bench, &joints),
    }
}

/// The points with paper all round in which several of some joints meet.
fn meeting(bench: &Bench, joints: &BTreeSet<usize>) -> Vec<Point> {
    let several = |&vertex: &&crate::vertex::Vertex| {
        vertex.spokes.iter().filter(|spoke| joints.contains(&spoke.joint)).count() > 1
    };
    bench.assembly.vertices.iter().filter(several).map(|vertex| vertex.at).collect()
}

/// The same judged section by section.
pub(crate) fn by_section(bench: &Bench, stage: &Stage) -> Vec<Trouble> {
    let seams = facet::seams(bench.assembly, &bench.facets);
    let found = crossing::crossings(&seams, &bench.lie(stage), &stage.relations);
    let named = |panels: Vec<usize>| panels.into_iter().map(|panel| bench.assembly.panels[panel].id).collect();
    let trouble = |panels| Trouble::Crosses { after: None, panels: named(panels), lines: Vec::new(), at: Vec::new() };
    found.into_iter().map(trouble).collect()
}

/// The planes of a state made ready for the solver, and in each the order in which walls stand; `None` for a plane that
/// it cannot look at. If it is not known what lies on what, all planes with several panels.
pub(crate) fn problems(bench: &Bench, stage: &Stage, is_open: bool) -> Vec<(Flat, Option<Problem>)> {
    let lie = bench.lie(stage);
    let ready = |mut flat: Flat| {
        flat.figure.given.extend(flat.of_walls(&lie, &stage.relations));
        let problem = prepare(&flat.figure).ok().map(|problem| problem.with_effort(EFFORT));
        (flat, problem)
    };
    flats(bench, stage, is_open).into_iter().map(ready).collect()
}
