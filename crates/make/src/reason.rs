//! All reasons for which one job must come before another.

use crate::cover;
use crate::inside::{inside, is_closed_in};
use crate::legs::legs;
use crate::lying::{Lain, Lying};
use crate::outside::Closed;
use crate::why::{Constraint, Why};
use model::part::{Job, Paper, Part, PartKind};
use model::{Document, Layout, PanelRef, PartId};
use std::cell::OnceCell;
use std::collections::{BTreeMap, BTreeSet};

/// Every constraint between jobs that there are, one for each pair; of several reasons for a pair the plainest.
pub(crate) fn reasons(document: &Document, layout: &Layout, jobs: &[Job]) -> Vec<Constraint> {
    let lain = Lain::of(document, layout);
    let legs = legs(&lain);
    let inside = inside(document, layout, &lain, &legs);
    let design = Design { document, layout, jobs: jobs.iter().copied().collect(), lain, inside };
    let mut all = Vec::new();
    design.folio(&mut all);
    for laid in &layout.parts {
        if let Some(part) = document.part(laid.id) {
            design.preparation(part, &mut all);
            design.hosts(part, &mut all);
        }
    }
    all.extend(cover::constraints(&design.lain, &legs));
    design.closing(&mut all);
    let mut seen = BTreeSet::new();
    all.retain(|it| {
        let exists = design.jobs.contains(&it.first) && design.jobs.contains(&it.then) && it.first != it.then;
        exists && seen.insert((it.first, it.then))
    });
    all
}

struct Design<'a> {
    document: &'a Document,
    layout: &'a Layout,
    jobs: BTreeSet<Job>,
    lain: Lain<'a>,
    /// What each part must be put on before that is put in place.
    inside: BTreeMap<PartId, BTreeSet<PartId>>,
}

impl Design<'_> {
    /// The last job by which a paper is made, before it is folded.
    fn made(&self, paper: Paper) -> Option<Job> {
        [Job::Cut(paper), Job::Score(paper)].into_iter().find(|job| self.jobs.contains(job))
    }

    fn folio(&self, all: &mut Vec<Constraint>) {
        let [score, cut] = [Job::Score(Paper::Folio), Job::Cut(Paper::Folio)];
        all.push(Constraint::new(score, cut, Why::ScoredWhole));
        all.extend(self.made(Paper::Folio).map(|made| Constraint::new(made, Job::Close, Why::FolioFirst)));
    }

    /// A part's own jobs, one after the other, from the time that its paper is there.
    fn preparation(&self, part: &Part, all: &mut Vec<Constraint>) {
        let paper = Paper::Part(part.id);
        let [score, cut, fold, put] = [Job::Score(paper), Job::Cut(paper), Job::Fold(part.id), Job::Put(part.id)];
        let own: Vec<Job> = [score, cut, fold, put].into_iter().filter(|job| self.jobs.contains(job)).collect();
        if let Some(&first) = own.first()
            && part.is_from_offcut()
        {
            all.push(Constraint::new(Job::Cut(Paper::Folio), first, Why::ComesOff));
        }
        for pair in own.windows(2) {
            let why = match pair[1] {
                Job::Cut(_) => Why::ScoredWhole,
                Job::Fold(_) => Why::MadeThenFolded,
                _ => Why::MadeThenPut,
            };
            all.push(Constraint::new(pair[0], pair[1], why));
        }
    }

    /// What a part lies on comes first, but for what it lies on the inside of.
    fn hosts(&self, part: &Part, all: &mut Vec<Constraint>) {
        let put = Job::Put(part.id);
        let empty = BTreeSet::new();
        let inside = self.inside.get(&part.id).unwrap_or(&empty);
        for to in std::iter::once(part.place.on).chain(part.also.iter().map(|gluing| gluing.to)) {
            match to {
                PanelRef::Sheet(_) => {
                    all.extend(self.made(Paper::Folio).map(|made| Constraint::new(made, put, Why::FolioFirst)));
                }
                PanelRef::Part(host, _) if inside.contains(&host) => {
                    all.extend(self.made(Paper::Part(host)).map(|made| Constraint::new(made, put, Why::HostMade)));
                }
                PanelRef::Part(host, _) if self.slides_into(part, host) => {
                    all.push(Constraint::new(Job::Put(host), put, Why::GoesIn));
                }
                PanelRef::Part(host, _) => all.push(Constraint::new(Job::Put(host), put, Why::LiesOn)),
            }
        }
        if !part.kind.is_on_a_panel() {
            // Nothing is put on the folio by it, but it goes round it.
            all.extend(self.made(Paper::Folio).map(|made| Constraint::new(made, put, Why::FolioFirst)));
        }
        all.extend(inside.iter().map(|&host| Constraint::new(put, Job::Put(host), Why::InsideOf)));
    }

    /// Whether a card lies on the inside of something with an open edge.
    fn slides_into(&self, part: &Part, host: PartId) -> bool {
        let (Some(own), Some(host)) = (self.lain.part(part.id), self.lain.part(host)) else { return false };
        own.is_loose() && is_closed_in(host, own.on, &own.on_host(&own.whole))
    }

    /// What must be done before the folio closes, and what only after.
    fn closing(&self, all: &mut Vec<Constraint>) {
        // Only asked for where something lies on the folio itself.
        let closed = OnceCell::new();
        let mut outside = BTreeSet::new();
        for laid in &self.layout.parts {
            let Some(part) = self.document.part(laid.id) else { continue };
            let put = Job::Put(part.id);
            let Some(lying) = self.lain.part(part.id) else {
                all.push(Constraint::new(Job::Close, put, Why::SlidesOn));
                outside.insert(part.id);
                continue;
            };
            if self.folds_along(part.id) {
                all.push(Constraint::new(put, Job::Close, Why::FoldsAlong));
            } else if self.is_outside(lying, &closed, &outside) {
                outside.insert(part.id);
            } else {
                let why = match part.kind {
                    PartKind::Mat(_) | PartKind::Closure(_) => Why::WhileFlat,
                    _ => Why::Within,
                };
                all.push(Constraint::new(put, Job::Close, why));
            }
        }
    }

    /// Whether a part lies on the outside of the closed folio, or on something that does, and on the outside of that.
    fn is_outside(&self, lying: &Lying<'_>, closed: &OnceCell<Option<Closed>>, outside: &BTreeSet<PartId>) -> bool {
        let is_spread = lying.glued_to().iter().any(|&to| to != lying.on.0);
        match self.lain.id_of_panel(lying.on.0) {
            _ if is_spread => false,
            Some(host) => outside.contains(&host),
            None => {
                let closed = closed.get_or_init(|| Closed::of(self.document, self.layout)).as_ref();
                closed.is_some_and(|closed| closed.is_outside(lying.on, &lying.on_host(&lying.whole)))
            }
        }
    }

    fn folds_along(&self, part: PartId) -> bool {
        self.document.steps.iter().any(|step| {
            let tucked = step.tucks.iter().flat_map(|tuck| [tuck.panel, tuck.under]);
            let is_tucked = tucked.into_iter().any(|panel| matches!(panel, PanelRef::Part(id, _) if id == part));
            is_tucked || step.parts.iter().any(|(id, _)| *id == part)
        })
    }
}
