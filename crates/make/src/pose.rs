//! How the panels of a part lie on its main panel when it is put in place: what is folded before is folded flat.

use crate::plane::Motion;
use model::part::PartLayout;
use model::{FoldAngle, LineId, PanelId};
use std::collections::{BTreeMap, BTreeSet};

/// Where each panel lies, from its place on the part's little sheet. What stands upright after its folds, and what hangs on
/// it, is left out.
pub(crate) fn poses(part: &PartLayout) -> BTreeMap<PanelId, Motion> {
    let folded: BTreeSet<LineId> = part.before.iter().flatten().copied().collect();
    let mut poses = BTreeMap::from([(part.main, Motion::STILL)]);
    let (mut open, mut seen) = (vec![part.main], BTreeSet::from([part.main]));
    while let Some(at) = open.pop() {
        for fold in &part.folds {
            let (Some(next), Some(pose)) = (fold.across_from(at), poses.get(&at).copied()) else { continue };
            if !seen.insert(next) {
                continue;
            }
            let own = match (folded.contains(&fold.line), fold.crease.angle) {
                (false, _) => Some(Motion::STILL),
                (true, FoldAngle::Flat) => {
                    fold.stretches.first().and_then(|on| Motion::folded_about(on.a.mm(), on.b.mm()))
                }
                (true, FoldAngle::Square) => None,
            };
            if let Some(own) = own {
                poses.insert(next, own.then(&pose));
                open.push(next);
            }
        }
    }
    poses
}
