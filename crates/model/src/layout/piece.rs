//! What hangs together after cutting, and what falls out of what.

use super::{Fold, Panel, PanelId, Piece, PieceId};
use crate::arrangement::Arrangement;
use crate::geometry::Point;
use crate::polygon::bounds;
use std::collections::{BTreeMap, BTreeSet};

/// The piece of each panel, the folio being piece 0 when there is a base, the others in reading order.
pub(super) fn pieces_of(count: usize, folds: &[Fold], base: Option<PanelId>) -> Vec<PieceId> {
    let mut joined: Vec<Vec<usize>> = vec![Vec::new(); count];
    for fold in folds {
        let [PanelId(a), PanelId(b)] = fold.panels;
        joined[a].push(b);
        joined[b].push(a);
    }
    let mut piece = vec![None; count];
    let mut pieces = 0;
    for start in base.iter().map(|base| base.0).chain(0..count) {
        let mut reached = vec![start];
        if piece[start].is_some() {
            continue;
        }
        piece[start] = Some(PieceId(pieces));
        while let Some(at) = reached.pop() {
            for &next in &joined[at] {
                if piece[next].is_none() {
                    piece[next] = Some(PieceId(pieces));
                    reached.push(next);
                }
            }
        }
        pieces += 1;
    }
    piece.into_iter().flatten().collect()
}

/// The pieces, each with its panels. `numbers` gives the offcuts their numbers.
pub(super) fn pieces(
    panels: &[Panel],
    base: Option<PanelId>,
    islands: &BTreeSet<PieceId>,
    numbers: impl FnOnce(&[PieceId]) -> BTreeMap<PieceId, u32>,
) -> Vec<Piece> {
    let count = panels.iter().map(|panel| panel.piece.0 + 1).max().unwrap_or(0);
    let folio = base.map(|base| panels[base.0].piece);
    let mut members: Vec<Vec<&Panel>> = vec![Vec::new(); count];
    for panel in panels {
        members[panel.piece.0].push(panel);
    }
    let offcuts: Vec<PieceId> = (0..count).map(PieceId).filter(|&id| folio != Some(id)).collect();
    let numbers = numbers(&offcuts);
    members
        .into_iter()
        .enumerate()
        .map(|(i, mine)| {
            let id = PieceId(i);
            let corners: Vec<Point> = mine.iter().flat_map(|panel| panel.outline.iter().copied()).collect();
            let is_folio = folio == Some(id);
            let number = numbers.get(&id).copied().unwrap_or_default();
            Piece {
                id,
                name: if is_folio { "Folio".to_owned() } else { format!("Offcut {number}") },
                number,
                is_folio,
                panels: mine.iter().map(|panel| panel.id).collect(),
                area: mine.iter().map(|panel| panel.area).sum(),
                bounds: bounds(&corners),
                is_island: islands.contains(&id),
            }
        })
        .collect()
}

/// The pieces that can't come off sideways, since others enclose them: those from which every way to the outside of the
/// sheet leads through another piece that is larger.
pub(super) fn islands(
    arrangement: &Arrangement,
    panels: &[Panel],
    panel_of: &dyn Fn(usize) -> Option<PanelId>,
) -> BTreeSet<PieceId> {
    let count = panels.iter().map(|panel| panel.piece.0 + 1).max().unwrap_or(0);
    let mut open = vec![false; count];
    let piece = |cell: usize| panel_of(cell).map(|panel| panels[panel.0].piece);
    // Voids are ways out; which of them lead outside is found by walking from the outside through cells of voids.
    let mut beside: Vec<Vec<usize>> = vec![Vec::new(); arrangement.cells.len()];
    let mut walk = Vec::new();
    for edge in &arrangement.edges {
        match edge.sides {
            [Some(a), Some(b)] => {
                beside[a].push(b);
                beside[b].push(a);
            }
            [Some(cell), None] | [None, Some(cell)] => walk.push(cell),
            [None, None] => {}
        }
    }
    let mut seen = vec![false; arrangement.cells.len()];
    while let Some(cell) = walk.pop() {
        if std::mem::replace(&mut seen[cell], true) {
            continue;
        }
        match piece(cell) {
            Some(PieceId(piece)) => open[piece] = true,
            None => walk.extend(&beside[cell]),
        }
    }
    (0..count).filter(|&piece| !open[piece]).map(PieceId).collect()
}
