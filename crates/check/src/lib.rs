//! The checker: what will go wrong at the table, found before the knife.
//!
//! One rule a file under [`rule`]. A rule only reads; how to mend is said in words, and where it can be done in one go, as
//! an edit.

#[cfg(test)]
extern crate model as foliowright_model;

pub mod finding;
mod fix;
mod lie;
mod measure;
pub mod post;
pub mod rule;
mod shown;
pub mod silence;
#[cfg(test)]
mod testing;
mod words;
mod worked;

pub use finding::{Finding, Fix, Severity, Spot};
pub use silence::Silenced;

use allot::Allotment;
use fold::{Assembly, Folding};
use model::{Document, Layout};
use std::cell::Cell;
use worked::Worked;

/// What a rule may look at.
#[derive(Debug)]
pub struct Context<'a> {
    /// The design.
    pub document: &'a Document,
    /// Its layout.
    pub layout: &'a Layout,
    /// The folio and how it folds; `None` while no base is marked.
    pub folded: Option<(&'a Assembly, &'a Folding)>,
    /// Where the paper of its parts comes from; `None` while it has no parts.
    pub supply: Option<&'a Allotment>,
    worked: Worked,
    /// Whether fixes are worked out that have to be tried out, and whether any were left out since they are not.
    tries: bool,
    left_out: Cell<bool>,
}

impl<'a> Context<'a> {
    /// A design with what follows from it.
    #[must_use]
    pub fn new(
        document: &'a Document,
        layout: &'a Layout,
        folded: Option<(&'a Assembly, &'a Folding)>,
        supply: Option<&'a Allotment>,
    ) -> Self {
        Self { document, layout, folded, supply, worked: Worked::default(), tries: true, left_out: Cell::new(false) }
    }

    /// The same for a design that is about to change again, as while a line is dragged: all is found, but no fix is offered
    /// that takes a layout or a folding to try out.
    #[must_use]
    pub fn in_passing(self) -> Self {
        Self { tries: false, ..self }
    }
}

/// What the checker has to say.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Checked {
    /// What is said: the worst first, then in the order of the rules.
    pub findings: Vec<Finding>,
    /// What the maker does not want to hear, in the same order.
    pub silenced: Vec<Silenced>,
    /// Whether fixes may be missing that [`Context::in_passing`] leaves out.
    pub is_hasty: bool,
}

/// Runs every rule, and leaves out what the maker silenced.
#[must_use]
pub fn check(context: &Context<'_>) -> Checked {
    let mut findings: Vec<Finding> = rule::ALL.iter().flat_map(|rule| (rule.check)(context)).collect();
    findings.sort_by_key(|finding| std::cmp::Reverse(finding.severity));
    let (findings, silenced) = silence::parted(findings, context.document, context.layout);
    Checked { findings, silenced, is_hasty: context.left_out.get() }
}
