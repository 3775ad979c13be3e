//! What to mind at the table: each caution once, at the first job that it concerns.

use crate::making::Making;
use model::Document;
use model::part::{ClosureKind, GlueArea, Job, Part, PartKind};
use std::collections::BTreeSet;

/// A caution usual in the trade.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Caution {
    /// Cutting (a teaching association's guide to cutting tools: NSEAD, with reference to CLEAPSS).
    Blades,
    /// Gluing with hot glue (a school's class sheet).
    HotGlue,
    /// Gluing all over, as with spray adhesive (CLEAPSS guides to art materials).
    SprayAdhesive,
    /// Magnets (16 CFR 1262, which craft magnets may fall outside of).
    Magnets,
    /// Whatever else applies where the maker is.
    LocalRules,
}

impl Caution {
    /// The caution, in a sentence or two.
    #[must_use]
    pub const fn sentence(self) -> &'static str {
        match self {
            Self::Blades => {
                "Cut on a mat that is larger than the work, along a safety ruler, with the other hand behind the blade; \
                 cap or retract the blade at once, and put old blades into a sharps container."
            }
            Self::HotGlue => {
                "If you glue with hot glue: it leaves the nozzle at up to about 195 °C, so spread it with a tool and never \
                 a finger; hold a burn under cold water for some ten minutes and do not pull set glue off the skin."
            }
            Self::SprayAdhesive => {
                "If you glue with spray adhesive or solvent glue: it is highly flammable, so use it outdoors or with air \
                 moving through the room, away from flames and sparks, and wear a mask."
            }
            Self::Magnets => {
                "Keep magnets from children, and seal them between glued layers: swallowed magnets pull together through \
                 the bowel."
            }
            Self::LocalRules => {
                "Where local rules, a product's label or your workshop's practice say more, follow those."
            }
        }
    }
}

impl Making {
    /// What to mind, each caution with the first job that it concerns, in the order of the jobs.
    #[must_use]
    pub fn cautions(&self, document: &Document) -> Vec<(Job, Caution)> {
        let mut seen = BTreeSet::new();
        let mut all = Vec::new();
        for &job in &self.jobs {
            let new = of_job(document, job).into_iter().filter(|caution| seen.insert(*caution));
            all.extend(new.map(|caution| (job, caution)));
        }
        // It goes with all of them, so it stands after the first.
        if let Some(&(job, _)) = all.first() {
            all.insert(1, (job, Caution::LocalRules));
        }
        all
    }
}

fn of_job(document: &Document, job: Job) -> Vec<Caution> {
    match job {
        Job::Cut(_) => vec![Caution::Blades],
        Job::Put(id) => document.part(id).map(of_gluing).unwrap_or_default(),
        Job::Score(_) | Job::Fold(_) | Job::Close => Vec::new(),
    }
}

fn of_gluing(part: &Part) -> Vec<Caution> {
    let kind = match &part.kind {
        PartKind::Mat(_) => vec![Caution::HotGlue, Caution::SprayAdhesive],
        PartKind::Closure(closure) => match closure.kind {
            ClosureKind::Brad => Vec::new(),
            ClosureKind::Magnet => vec![Caution::HotGlue, Caution::Magnets],
            ClosureKind::HookAndLoop | ClosureKind::Ribbon => vec![Caution::HotGlue],
        },
        PartKind::Insert(_) | PartKind::Own(_) => Vec::new(),
        _ => vec![Caution::HotGlue],
    };
    let own = part.also.iter().flat_map(|gluing| match gluing.area {
        GlueArea::Whole => vec![Caution::HotGlue, Caution::SprayAdhesive],
        GlueArea::Strips(..) => vec![Caution::HotGlue],
        GlueArea::None => Vec::new(),
    });
    kind.into_iter().chain(own).collect()
}
