//! Where scores are pressed: all along, but for where one would run over an offcut that a part is cut from.

use crate::geometry::Point;
use crate::layout::{Layout, PanelId, PieceId, Stretch};
use crate::line::{LineId, Work};
use crate::resolve::Placed;
use std::collections::BTreeSet;

impl Stretch {
    /// Whether it is a score on one of `spared`, offcuts that parts are cut from: it would only spoil them. None is while
    /// no base is marked, since what comes off isn't told from the folio then.
    #[must_use]
    pub fn is_spared(&self, layout: &Layout, spared: &BTreeSet<PieceId>) -> bool {
        let on_one =
            |side: Option<PanelId>| side.is_some_and(|panel| spared.contains(&layout.sheet_panel(panel).piece));
        layout.base.is_some() && self.work.is_some_and(Work::is_score) && self.sides.into_iter().all(on_one)
    }

    /// Whether the folio is scored here.
    fn scores_the_folio(&self, layout: &Layout) -> bool {
        let folio = layout.folio().map(|piece| piece.id);
        let on_it = |side: Option<PanelId>| side.is_some_and(|panel| Some(layout.sheet_panel(panel).piece) == folio);
        self.work.is_some_and(Work::is_score) && self.sides.into_iter().all(on_it)
    }
}

/// The scores that run over `spared`.
pub(crate) fn broken(layout: &Layout, spared: &BTreeSet<PieceId>) -> BTreeSet<LineId> {
    let over = layout.stretches.iter().filter(|stretch| stretch.is_spared(layout, spared));
    over.flat_map(|stretch| stretch.lines.iter().copied()).collect()
}

/// Where a score is pressed that lies on a sheet with parts cut from its offcuts `spared`, from its start on: each run as the
/// points that it runs through, two and more.
///
/// All along where it runs over none of these. Else no farther beside them than the folio needs it, and elsewhere to its
/// ends, since it is handy to go on over what isn't used; so nowhere where the folio isn't scored along it.
#[must_use]
pub fn pressed(layout: &Layout, id: LineId, placed: &Placed, spared: &BTreeSet<PieceId>) -> Vec<Vec<Point>> {
    let (start, end) = (placed.segment.a, placed.segment.b);
    let way = end - start;
    // An arc is no more than half a circle, so that its points come in their order along its chord.
    let along = |point: Point| way.dot(point - start);
    let mut own: Vec<([Point; 2], &Stretch)> = Vec::new();
    for stretch in layout.stretches.iter().filter(|stretch| stretch.lines.contains(&id)) {
        let (a, b) = (stretch.segment.a, stretch.segment.b);
        own.push((if along(a) <= along(b) { [a, b] } else { [b, a] }, stretch));
    }
    if !own.iter().any(|(_, stretch)| stretch.is_spared(layout, spared)) {
        return vec![placed.path()];
    }
    own.sort_by_key(|([from, _], _)| along(*from));
    let groups: Vec<&[([Point; 2], &Stretch)]> = own.split(|(_, stretch)| stretch.is_spared(layout, spared)).collect();
    let last = groups.len() - 1;
    let run = |(at, group): (usize, &&[([Point; 2], &Stretch)])| {
        let is_needed = |(_, stretch): &([Point; 2], &Stretch)| stretch.scores_the_folio(layout);
        let needed = [group.iter().position(is_needed)?, group.iter().rposition(is_needed)?];
        let (from, to) = (if at == 0 { 0 } else { needed[0] }, if at == last { group.len() - 1 } else { needed[1] });
        let mut points: Vec<Point> = group[from..=to].iter().flat_map(|(ends, _)| *ends).collect();
        // Nothing is left of it where paper is taken out at its very end.
        if at == 0 {
            points.insert(0, start);
        }
        if at == last {
            points.push(end);
        }
        points.dedup();
        Some(points)
    };
    groups.iter().enumerate().filter_map(run).collect()
}
