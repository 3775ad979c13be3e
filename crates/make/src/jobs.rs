//! The jobs that a design has.

use model::board::{closing_order, scoring_table};
use model::cutting::cut_list;
use model::part::{Job, Paper, Part, PartLayout, Source};
use model::{Document, Layout, PartId};

/// The jobs there are, phase by phase: scoring, cutting, folding, putting in place, closing, sliding on; in each the folio
/// first, then parts as the document has them. A part without a place has no jobs, since it can't be put anywhere.
pub(crate) fn jobs(document: &Document, layout: &Layout) -> Vec<Job> {
    let parts: Vec<(&Part, &PartLayout)> =
        document.parts.iter().filter_map(|part| Some((part, layout.part(part.id)?))).collect();
    let of = |has: fn(&Part, &PartLayout) -> bool, job: fn(PartId) -> Job| {
        let mine = parts.iter().filter(move |(part, laid)| has(part, laid));
        mine.map(move |(part, _)| job(part.id)).collect::<Vec<_>>()
    };
    let folio = |is: bool, job: Job| is.then_some(job).into_iter();
    let all = folio(has_scores(document, layout), Job::Score(Paper::Folio))
        .chain(of(is_scored, |id| Job::Score(Paper::Part(id))))
        .chain(folio(!cut_list(document, layout).is_empty(), Job::Cut(Paper::Folio)))
        .chain(of(is_cut, |id| Job::Cut(Paper::Part(id))))
        .chain(of(is_folded, Job::Fold))
        .chain(of(|part, _| part.kind.is_on_a_panel(), Job::Put))
        .chain(folio(closes(document, layout), Job::Close))
        .chain(of(|part, _| !part.kind.is_on_a_panel(), Job::Put));
    let mut jobs: Vec<Job> = Vec::new();
    // An id that two parts of a damaged document have is one part, as for `Document::part`.
    let mut seen = std::collections::BTreeSet::new();
    jobs.extend(all.filter(|job| seen.insert(*job)));
    jobs
}

fn has_scores(document: &Document, layout: &Layout) -> bool {
    let table = scoring_table(document, layout);
    !table.turns.is_empty() || !table.by_ruler.is_empty()
}

fn is_scored(part: &Part, laid: &PartLayout) -> bool {
    part.source != Source::Bought && has_scores(&laid.pattern.document, &laid.sheet)
}

/// An offcut that is used as it is has only the cuts that are made into it.
fn is_cut(part: &Part, laid: &PartLayout) -> bool {
    match part.source {
        Source::Bought => false,
        Source::Whole(_) => !cut_list(&laid.pattern.document, &laid.sheet).is_empty(),
        Source::AnyOffcut | Source::Offcut(_) | Source::FolioStock | Source::Stock(_) => true,
    }
}

fn is_folded(part: &Part, laid: &PartLayout) -> bool {
    part.source != Source::Bought && laid.before.iter().any(|step| !step.is_empty())
}

/// Whether anything folds when the folio is closed.
fn closes(document: &Document, layout: &Layout) -> bool {
    let of_parts = document.steps.iter().flat_map(|step| &step.parts);
    let folds = |part: PartId, line| layout.part(part).is_some_and(|laid| laid.lines.contains_key(line));
    !closing_order(document, layout).is_empty() || of_parts.into_iter().any(|(part, line)| folds(*part, line))
}
