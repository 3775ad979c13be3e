//! Stretches between crossings, and the folds they make together.

use super::{Fold, FoldId, Origin, PanelId, Stretch};
use crate::arrangement::{Arrangement, Edge};
use crate::line::{Crease, LineId, Work};
use crate::resolve::Segment;
use std::collections::BTreeMap;

/// The stretches with paper on at least one side; what lies within a void or along the sheet's edge beside one is gone.
pub(super) fn stretches(
    arrangement: &Arrangement,
    origins: &[Origin],
    panel_of: &dyn Fn(usize) -> Option<PanelId>,
) -> Vec<Stretch> {
    let stretch = |edge: &Edge| {
        let sides = edge.sides.map(|side| side.and_then(panel_of));
        let mut stretch = Stretch { segment: edge.segment, lines: Vec::new(), work: None, sides };
        let mut along_edge = false;
        for &i in &edge.covers {
            match origins[i] {
                Origin::Edge => along_edge = true,
                Origin::Corner => stretch.work = Some(Work::Cut),
                Origin::Line(id, work) => {
                    // Round a strip or a notch runs one line more than once.
                    if stretch.lines.last() != Some(&id) {
                        stretch.lines.push(id);
                    }
                    stretch.work = match stretch.work {
                        Some(before) if before.is_cut() || !work.is_cut() => Some(before),
                        _ => Some(work),
                    };
                }
            }
        }
        if along_edge {
            stretch.work = None;
        }
        stretch
    };
    arrangement.edges.iter().map(stretch).filter(|stretch| stretch.sides != [None, None]).collect()
}

/// The folds: by panels and line, all stretches that join them.
pub(super) fn folds(stretches: &[Stretch]) -> Vec<Fold> {
    let mut found: BTreeMap<([PanelId; 2], LineId), (Crease, Vec<Segment>)> = BTreeMap::new();
    for stretch in stretches {
        let (Some(Work::Score(crease)), [Some(a), Some(b)]) = (stretch.work, stretch.sides) else { continue };
        let Some(&line) = stretch.lines.first() else { continue };
        if a != b {
            let (_, segments) = found.entry(([a.min(b), a.max(b)], line)).or_insert((crease, Vec::new()));
            segments.push(stretch.segment);
        }
    }
    let fold = |(i, ((panels, line), (crease, segments)))| Fold {
        id: FoldId(i),
        line,
        crease,
        panels,
        stretches: joined(segments),
    };
    found.into_iter().enumerate().map(fold).collect()
}

/// Joins stretches that follow one another. Given in ascending order, all on one line.
fn joined(segments: Vec<Segment>) -> Vec<Segment> {
    let mut out: Vec<Segment> = Vec::new();
    for segment in segments {
        match out.last_mut() {
            Some(last) if last.b == segment.a && (last.b - last.a).cross(segment.b - segment.a) == 0 => {
                last.b = segment.b;
            }
            _ => out.push(segment),
        }
    }
    out
}
