//! Which way is up on every panel, so that a pattern that has an up is seen the right way.
//!
//! The base is upright: up is towards the top edge of the sheet. A face that is seen while the folio lies open has its up
//! there; another has it when the folio is closed. What is never seen from the front is turned over like a page of a book,
//! which leaves up where it was.

use model::part::Rotation;
use model::{Direction, Document, Face, Fold, FoldAngle, Layout, LineId, PanelId, SheetEdge};
use std::collections::{BTreeMap, BTreeSet};

/// Where the ways right and down on a panel's own sheet point to: two rows. It mirrors when the panel's back is seen.
type Map = [[f64; 2]; 2];

const SAME: Map = [[1.0, 0.0], [0.0, 1.0]];

/// How every panel lies when the folio is open and when it is closed.
#[derive(Debug, Clone)]
pub(crate) struct Views {
    open: BTreeMap<PanelId, Map>,
    closed: BTreeMap<PanelId, Map>,
}

/// How a part lies on what is under it.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Lies {
    /// The panel under it; `None` for what goes round the folio.
    pub(crate) on: Option<PanelId>,
    /// The panel's face.
    pub(crate) face: Face,
    /// How it is turned.
    pub(crate) rotation: Rotation,
    /// The face of the part that is seen.
    pub(crate) showing: Face,
}

impl Views {
    pub(crate) fn of(document: &Document, layout: &Layout) -> Self {
        let mut views = Self { open: BTreeMap::new(), closed: BTreeMap::new() };
        views.open.extend(layout.panels.iter().map(|panel| (panel.id, SAME)));
        views.closed.extend(layout.panels.iter().map(|panel| (panel.id, SAME)));
        let folded: BTreeSet<LineId> = document.steps.iter().flat_map(|step| layout.lines_of(step)).collect();
        // A design without steps is one that nobody has told yet how to close: every fold of it may fold.
        let folds = |line: LineId| document.steps.is_empty() || folded.contains(&line);
        if let Some(base) = layout.base {
            spread(&mut views.closed, base, SAME, &layout.folds, &folds);
        }
        for part in &layout.parts {
            let before = |line: LineId| part.before.iter().flatten().any(|&other| other == line);
            let host = part.laid.map(|laid| (laid.on, laying(laid.right, laid.turned_over)));
            let on_host = |views: &BTreeMap<PanelId, Map>| {
                host.map_or(SAME, |(on, laying)| product(views.get(&on).copied().unwrap_or(SAME), laying))
            };
            let (open, closed) = (on_host(&views.open), on_host(&views.closed));
            for panel in &part.panels {
                views.open.insert(panel.id, open);
                views.closed.insert(panel.id, closed);
            }
            spread(&mut views.open, part.main, open, &part.folds, &before);
            spread(&mut views.closed, part.main, closed, &part.folds, &|line| before(line) || folds(line));
        }
        views
    }

    /// The edge of a part's own little sheet, as drawn, that is up on its main panel, and whether that is so exactly: a part
    /// that is turned by no quarter has it at the nearest.
    pub(crate) fn up(&self, lies: Lies) -> (SheetEdge, bool) {
        let laying = laying(lies.rotation.cos_sin(), lies.on.is_some() && lies.showing != lies.face);
        let of = |views: &BTreeMap<PanelId, Map>| {
            let host = lies.on.and_then(|on| views.get(&on)).copied().unwrap_or(SAME);
            product(host, laying)
        };
        let open = of(&self.open);
        let is_seen = (determinant(open) > 0.0) == (lies.showing == Face::Front);
        let map = if is_seen { open } else { of(&self.closed) };
        // The way that comes to point up, by the transpose, since the map keeps lengths.
        let (x, y) = (-map[1][0], -map[1][1]);
        // One part in a billion: more than rounding makes, less than a hundredth of a degree.
        let is_exact = x.abs().min(y.abs()) < 1e-9;
        // Upright for what lies just between, and for what rounding alone makes lie nearer to level.
        let is_level = x.abs() > y.abs() + 1e-9;
        let edge = match (is_level, x > 0.0, y > 0.0) {
            (true, true, _) => SheetEdge::Right,
            (true, false, _) => SheetEdge::Left,
            (false, _, true) => SheetEdge::Bottom,
            (false, _, false) => SheetEdge::Top,
        };
        (edge, is_exact)
    }
}

/// By how many quarters clockwise a way to `from` has to be turned to point to `to`.
pub(crate) fn quarters(from: SheetEdge, to: SheetEdge) -> u8 {
    let place = |edge| SheetEdge::ALL.iter().zip(0_u8..).find(|(other, _)| **other == edge).map_or(0, |(_, at)| at);
    (4 + place(to) - place(from)) % 4
}

/// Goes from a panel over folds that are folded to all others, mirroring at each that is folded flat. The two square folds of
/// a gusset together are one flat fold where they go the same way, and none where they go to and fro; the wall between them
/// is seen edge on, and has up where it was.
fn spread(
    views: &mut BTreeMap<PanelId, Map>,
    from: PanelId,
    view: Map,
    folds: &[Fold],
    is_folded: &dyn Fn(LineId) -> bool,
) {
    let mut seen = BTreeSet::from([from]);
    views.insert(from, view);
    // Each with the square fold by which it stands upright, if it does.
    let mut open: Vec<(PanelId, Option<Direction>)> = vec![(from, None)];
    while let Some((at, standing)) = open.pop() {
        let here = views.get(&at).copied().unwrap_or(SAME);
        for fold in folds {
            let Some(next) = fold.across_from(at) else { continue };
            if seen.insert(next) {
                let (over, standing) = match (is_folded(fold.line), fold.crease.angle, standing) {
                    (false, ..) => (SAME, standing),
                    (true, FoldAngle::Flat, _) => (mirror(fold), standing),
                    (true, FoldAngle::Square, None) => (SAME, Some(fold.crease.direction)),
                    (true, FoldAngle::Square, Some(first)) if first == fold.crease.direction => (mirror(fold), None),
                    (true, FoldAngle::Square, Some(_)) => (SAME, None),
                };
                views.insert(next, product(here, over));
                open.push((next, standing));
            }
        }
    }
}

/// Mirrored at a fold.
fn mirror(fold: &Fold) -> Map {
    let Some(segment) = fold.stretches.first() else { return SAME };
    let ((ax, ay), (bx, by)) = (segment.a.mm(), segment.b.mm());
    let (x, y) = (bx - ax, by - ay);
    let square = x * x + y * y;
    if square <= 0.0 {
        return SAME;
    }
    let both = 2.0 * x * y / square;
    [[(x * x - y * y) / square, both], [both, (y * y - x * x) / square]]
}

/// Turned over about the upright axis, then turned.
fn laying((cos, sin): (f64, f64), turned_over: bool) -> Map {
    let side = if turned_over { -1.0 } else { 1.0 };
    [[side * cos, -sin], [side * sin, cos]]
}

fn product(a: Map, b: Map) -> Map {
    let cell = |row: usize, column: usize| a[row][0] * b[0][column] + a[row][1] * b[1][column];
    [[cell(0, 0), cell(0, 1)], [cell(1, 0), cell(1, 1)]]
}

fn determinant(map: Map) -> f64 {
    map[0][0] * map[1][1] - map[0][1] * map[1][0]
}
