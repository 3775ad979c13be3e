//! The sheet cut by cut: what is made of it so far, where the knife goes now, and what comes off by that.

use super::sheet::{folio_panels, heavy, name, panels, panels_cut};
use super::{Frame, scaled};
use crate::block::Picture;
use draw::artwork::Printed;
use draw::board::Board;
use draw::list::Node;
use kurbo::{Affine, Rect, Size, Vec2};
use model::cutting::CutStep;
use model::{Document, Layout, LineId, PanelId, Turn};
use std::collections::{BTreeMap, BTreeSet};

/// The sheet at one cut.
#[derive(Debug, Clone)]
pub(crate) struct CutState {
    /// The line that is cut; `None` for corners.
    line: Option<LineId>,
    /// The lines that are cut, with this one.
    done: BTreeSet<LineId>,
    /// How the sheet lies.
    turn: Turn,
    /// What still hangs together with the folio after it.
    stays: BTreeSet<PanelId>,
    /// What comes off by it.
    comes_off: BTreeSet<PanelId>,
    /// The offcuts of which all is off, with this cut for the first time.
    pub(crate) freed: Vec<String>,
}

/// The sheet at each of these cuts.
pub(crate) fn cut_states(document: &Document, layout: &Layout, cuts: &[CutStep]) -> Vec<CutState> {
    let mut done: BTreeSet<LineId> = BTreeSet::new();
    let all: BTreeSet<PanelId> = layout.panels.iter().map(|panel| panel.id).collect();
    let mut before = all;
    let mut off: BTreeSet<PanelId> = BTreeSet::new();
    let mut said: BTreeSet<&str> = BTreeSet::new();
    let mut turn = Turn::None;
    let mut states = Vec::new();
    for cut in cuts {
        done.extend(cut.line);
        turn = cut.under.turn().unwrap_or(if cut.line.is_some() { Turn::None } else { turn });
        let stays = joined(document, layout, &done);
        let comes_off: BTreeSet<PanelId> = before.difference(&stays).copied().collect();
        off.extend(&comes_off);
        let is_off = |piece: &&model::Piece| piece.panels.iter().all(|panel| off.contains(panel));
        let freed = layout.offcuts().filter(is_off).filter(|piece| said.insert(&piece.name));
        let freed = freed.map(|piece| piece.name.clone()).collect();
        states.push(CutState { line: cut.line, done: done.clone(), turn, stays: stays.clone(), comes_off, freed });
        before = stays;
    }
    states
}

/// The panels that hang together with the folio when some lines are cut; all where there is no folio yet.
fn joined(document: &Document, layout: &Layout, done: &BTreeSet<LineId>) -> BTreeSet<PanelId> {
    let folio = folio_panels(layout);
    let mut parent: Vec<usize> = (0..layout.panels.len()).collect();
    // Panels on the two sides of a strip that is not taken out yet: they hang together by it.
    let mut by_strip: BTreeMap<LineId, usize> = BTreeMap::new();
    for stretch in &layout.stretches {
        let cuts = || stretch.lines.iter().filter(|&&id| document.line(id).is_some_and(|line| line.work.is_cut()));
        match stretch.sides {
            [Some(a), Some(b)]
                if !stretch.work.is_some_and(|work| work.is_cut()) || !cuts().any(|id| done.contains(id)) =>
            {
                unite(&mut parent, a.0, b.0);
            }
            [Some(panel), None] | [None, Some(panel)] => {
                for &id in cuts().filter(|id| !done.contains(id)) {
                    let other = *by_strip.entry(id).or_insert(panel.0);
                    unite(&mut parent, panel.0, other);
                }
            }
            _ => {}
        }
    }
    let roots: BTreeSet<usize> = folio.iter().map(|panel| root(&mut parent, panel.0)).collect();
    let is_joined = |panel: &PanelId| roots.is_empty() || roots.contains(&root(&mut parent.clone(), panel.0));
    layout.panels.iter().map(|panel| panel.id).filter(is_joined).collect()
}

fn root(parent: &mut [usize], mut at: usize) -> usize {
    while parent[at] != at {
        parent[at] = parent[parent[at]];
        at = parent[at];
    }
    at
}

fn unite(parent: &mut [usize], a: usize, b: usize) {
    let (a, b) = (root(parent, a), root(parent, b));
    parent[a.max(b)] = a.min(b);
}

impl CutState {
    /// The picture: what comes off lies a little away from the rest.
    pub(crate) fn picture(&self, document: &Document, layout: &Layout, printed: &Printed<'_>, room: Size) -> Picture {
        /// How far what comes off is moved, mm on the page.
        const AWAY: f64 = 3.0;
        let board = Board { size: layout.size, turn: self.turn };
        let frame = Frame::new(board.rect(), room, AWAY + 0.5);
        let mut nodes = panels_cut(layout, printed, &self.stays, &self.done, board, frame);
        let stays = super::sheet::around(layout, &self.stays, board);
        let pieces: BTreeSet<usize> = self.comes_off.iter().map(|&id| layout.panel(id).piece.0).collect();
        for piece in pieces {
            let own: BTreeSet<PanelId> =
                self.comes_off.iter().copied().filter(|&id| layout.panel(id).piece.0 == piece).collect();
            let away = direction(super::sheet::around(layout, &own, board), stays) * AWAY;
            let moved = panels(layout, printed, &own, board, frame);
            let largest = own.iter().map(|&id| layout.panel(id)).max_by_key(|panel| panel.area);
            let named = largest.and_then(|panel| name(panel, &layout.pieces[piece].name, board, frame));
            nodes.extend(scaled(&moved, Affine::translate(away)));
            nodes.extend(named.map(|node| Node::Group {
                place: Affine::translate(away),
                clip: None,
                nodes: vec![node],
            }));
        }
        nodes.extend(self.line.and_then(|id| heavy(document, layout, id, board, frame)));
        frame.picture(nodes)
    }
}

/// Which way something lies from the middle of the rest: a step of at most 1 each way.
fn direction(own: Rect, rest: Rect) -> Vec2 {
    let by = own.center() - rest.center();
    let step = |by: f64, size: f64| if by.abs() < size * 0.12 { 0.0 } else { by.signum() };
    let (x, y) = (step(by.x, rest.width()), step(by.y, rest.height()));
    if x == 0.0 && y == 0.0 { Vec2::new(0.0, 0.0) } else { Vec2::new(x, y) }
}
