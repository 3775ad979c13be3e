//! One piece of paper and all that a machine does to it: the score lines on it, the cuts that end in it, its holes and
//! its outline, each in its place in the order of work.

use super::Pass;
use super::circle::Circles;
use super::contour::{Contour, Track};
use super::dash::ScoreStyle;
use super::edge::{AtCorners, Edge, runs};
use model::{Direction, Document, Face, Layout, PanelId, Piece, PieceId, Point, Segment, Stretch, VoidKind, Work};
use std::collections::{BTreeMap, BTreeSet};

/// A layout with what its pieces are asked of it again and again.
#[derive(Debug)]
pub(super) struct Flat<'a> {
    pub(super) layout: &'a Layout,
    circles: Circles,
    /// Where more than two stretches meet, as many times as they do.
    meeting: BTreeMap<Point, usize>,
    /// What is taken out beside a stretch.
    beside: BTreeMap<Segment, usize>,
    /// For each void, whether it is a slot that only one piece lies around.
    is_slot: Vec<bool>,
}

/// Which faces of the paper scores are pressed into, which way.
pub(super) type ScoreKind = (Direction, Face);

/// One piece of paper.
#[derive(Debug, Clone)]
pub(super) struct Figure {
    /// A group's name in a file: a word without spaces.
    pub(super) key: String,
    /// What a maker calls it.
    pub(super) name: String,
    /// The panel that bears its name, as convex polygons.
    pub(super) convex: Vec<Vec<Point>>,
    scores: BTreeMap<ScoreKind, Vec<Edge>>,
    /// Where dashes start afresh, since scores or cuts meet there.
    knots: BTreeSet<Point>,
    /// Cuts with the same piece on both sides.
    slits: Vec<Edge>,
    /// Where it ends.
    rims: Vec<Rim>,
}

/// A stretch where a piece ends.
#[derive(Debug, Clone, Copy)]
struct Rim {
    edge: Edge,
    is: RimIs,
    /// Whether it bounds an opening and not the piece from outside.
    inner: bool,
}

/// What is at the end of a piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum RimIs {
    /// The sheet's edge.
    Edge,
    /// A cut.
    Cut,
    /// A cut round a slot, which sets no piece free.
    Slot,
}

impl<'a> Flat<'a> {
    pub(super) fn of(document: &Document, layout: &'a Layout) -> Self {
        let mut meeting = BTreeMap::new();
        for stretch in &layout.stretches {
            for end in [stretch.segment.a, stretch.segment.b] {
                *meeting.entry(end).or_insert(0) += 1;
            }
        }
        let outlines = layout.voids.iter().map(|void| std::iter::once(&void.outline).chain(&void.holes));
        let mut beside = BTreeMap::new();
        let mut group: Vec<usize> = (0..layout.voids.len()).collect();
        for (i, outlines) in outlines.enumerate() {
            for (a, b) in outlines.flat_map(|outline| model::polygon::edges(outline)) {
                if let Some(other) = beside.insert(sorted(Segment { a, b }), i) {
                    // Two voids on either side of it are one opening.
                    let [keep, drop] = [group[i].min(group[other]), group[i].max(group[other])];
                    group.iter_mut().filter(|group| **group == drop).for_each(|group| *group = keep);
                }
            }
        }
        let mut flat = Self { layout, circles: Circles::of(document, layout), meeting, beside, is_slot: Vec::new() };
        flat.is_slot = flat.slots(&group);
        flat
    }

    /// For each void, whether it is a slot, in an opening that only one piece lies around.
    fn slots(&self, group: &[usize]) -> Vec<bool> {
        let mut around: BTreeMap<usize, BTreeSet<PieceId>> = BTreeMap::new();
        for stretch in &self.layout.stretches {
            if let Some(&void) = self.beside.get(&sorted(stretch.segment)) {
                let pieces = stretch.sides.iter().flatten().map(|&panel| self.layout.panel(panel).piece);
                around.entry(group[void]).or_default().extend(pieces);
            }
        }
        let is_alone = |i: usize| around.get(&group[i]).is_some_and(|pieces| pieces.len() == 1);
        let voids = self.layout.voids.iter().enumerate();
        voids.map(|(i, void)| matches!(void.kind, VoidKind::Slot(_)) && is_alone(i)).collect()
    }

    fn edge(&self, stretch: &Stretch) -> Edge {
        let Segment { a, b } = stretch.segment;
        Edge { a, b, line: stretch.lines.first().copied(), circle: self.circles.under(stretch) }
    }

    /// The score stretches of some panels, by how they fold and the face they are pressed into.
    fn scores(&self, has: &dyn Fn(PanelId) -> bool) -> BTreeMap<ScoreKind, Vec<Edge>> {
        let mut scores: BTreeMap<ScoreKind, Vec<Edge>> = BTreeMap::new();
        for stretch in &self.layout.stretches {
            let Some(Work::Score(crease)) = stretch.work else { continue };
            if stretch.sides.iter().flatten().any(|&panel| has(panel)) {
                scores.entry((crease.direction, crease.face())).or_default().push(self.edge(stretch));
            }
        }
        scores
    }

    fn rim(&self, stretch: &Stretch) -> RimIs {
        match (stretch.work, self.beside.get(&sorted(stretch.segment))) {
            (None, _) => RimIs::Edge,
            (Some(_), Some(&void)) if self.is_slot[void] => RimIs::Slot,
            (Some(_), _) => RimIs::Cut,
        }
    }

    /// A piece of the layout.
    pub(super) fn figure(&self, piece: &Piece, key: String, name: String) -> Figure {
        let mine: BTreeSet<PanelId> = piece.panels.iter().copied().collect();
        let (mut slits, mut rims) = (Vec::new(), Vec::new());
        for stretch in &self.layout.stretches {
            let sides = stretch.sides.map(|side| side.is_some_and(|panel| mine.contains(&panel)));
            if sides == [false, false] {
                continue;
            }
            let (edge, is) = (self.edge(stretch), self.rim(stretch));
            match sides {
                [true, true] if stretch.work.is_some_and(Work::is_cut) => slits.push(edge),
                [false, true] => rims.push(Rim { edge, is, inner: false }),
                [true, false] => rims.push(Rim { edge: edge.reversed(), is, inner: false }),
                _ => {}
            }
        }
        mark_inner(&mut rims);
        let panels = piece.panels.iter().map(|&id| self.layout.panel(id));
        let largest = panels.max_by_key(|panel| (panel.area, std::cmp::Reverse(panel.id)));
        let convex = largest.map_or(Vec::new(), |panel| panel.convex.clone());
        let knots = self.meeting.iter().filter(|(_, count)| **count > 2).map(|(point, _)| *point).collect();
        Figure { key, name, convex, scores: self.scores(&|panel| mine.contains(&panel)), knots, slits, rims }
    }
}

/// Tells openings from the outline, which is the ring that the leftmost point is on.
fn mark_inner(rims: &mut [Rim]) {
    let edges: Vec<Edge> = rims.iter().map(|rim| rim.edge).collect();
    let rings = runs(&edges, AtCorners::Turn);
    let first = edges.iter().map(|edge| edge.a).min();
    let outer = rings.iter().filter(|ring| ring.iter().any(|edge| Some(edge.a) == first));
    let outer: BTreeSet<Segment> = outer.flatten().map(|edge| edge.ends()).collect();
    for rim in rims {
        rim.inner = !outer.contains(&rim.edge.ends());
    }
}

impl Figure {
    /// The same elsewhere. Lengths have to be kept and nothing mirrored.
    pub(super) fn moved(&self, to: &dyn Fn(Point) -> Point) -> Self {
        let edges = |edges: &[Edge]| edges.iter().map(|edge| edge.moved(to)).collect::<Vec<Edge>>();
        Self {
            key: self.key.clone(),
            name: self.name.clone(),
            convex: self.convex.iter().map(|outline| outline.iter().map(|&point| to(point)).collect()).collect(),
            scores: self.scores.iter().map(|(kind, some)| (*kind, edges(some))).collect(),
            knots: self.knots.iter().map(|&point| to(point)).collect(),
            slits: edges(&self.slits),
            rims: self.rims.iter().map(|rim| Rim { edge: rim.edge.moved(to), ..*rim }).collect(),
        }
    }

    /// The same without its scores.
    pub(super) fn unscored(self) -> Self {
        Self { scores: BTreeMap::new(), ..self }
    }

    /// The same, with the sheet's edge cut too.
    pub(super) fn cut_all_round(mut self) -> Self {
        for rim in self.rims.iter_mut().filter(|rim| rim.is == RimIs::Edge) {
            rim.is = RimIs::Cut;
        }
        self
    }

    /// The same with less of its border: what `left` leaves of each stretch.
    pub(super) fn bordered(mut self, left: impl Fn(Edge) -> Vec<Edge>) -> Self {
        let rims = self.rims.iter().flat_map(|rim| left(rim.edge).into_iter().map(|edge| Rim { edge, ..*rim }));
        self.rims = rims.collect();
        self
    }

    /// Where it ends.
    pub(super) fn border(&self) -> impl Iterator<Item = Edge> + '_ {
        self.rims.iter().map(|rim| rim.edge)
    }

    /// The upright rectangle around it.
    pub(super) fn bounds(&self) -> (Point, Point) {
        let corners: Vec<Point> = self.border().flat_map(|edge| [edge.a, edge.b]).collect();
        model::polygon::bounds(&corners)
    }

    /// Its scores, of each kind from line to line.
    pub(super) fn scored(&self, style: ScoreStyle) -> Vec<(ScoreKind, Contour)> {
        let kinds = self.scores.iter().flat_map(|(kind, edges)| {
            runs(edges, AtCorners::Stop).into_iter().map(|run| (*kind, self.score(&run, style)))
        });
        kinds.collect()
    }

    fn score(&self, run: &[Edge], style: ScoreStyle) -> Contour {
        if style == ScoreStyle::Solid {
            return Contour { tracks: Track::of(run).into_iter().collect() };
        }
        // Dashes start afresh where other lines meet it.
        let free = run.chunk_by(|edge, _| !self.knots.contains(&edge.b));
        Contour { tracks: free.filter_map(Track::of).flat_map(|track| style.broken(track)).collect() }
    }

    /// Its cuts from the inside out: those that end in it, its openings, its outline. What is in `done` is left out, and
    /// what is cut is added to it.
    pub(super) fn cut(&self, done: &mut BTreeSet<Segment>) -> Vec<(Pass, Contour)> {
        let mut out: Vec<(Pass, Contour)> = Vec::new();
        let mut add = |pass, run: &[Edge]| out.extend(Track::of(run).map(|track| (pass, Contour::of(track))));
        for run in runs(&self.slits, AtCorners::Turn) {
            add(Pass::Cut, &run);
        }
        for inner in [true, false] {
            let open = self.rims.iter().filter(|rim| rim.inner == inner && rim.is != RimIs::Edge);
            let own: Vec<&Rim> = open.filter(|rim| done.insert(rim.edge.ends())).collect();
            let slots: BTreeSet<Segment> =
                own.iter().filter(|rim| rim.is == RimIs::Slot).map(|rim| rim.edge.ends()).collect();
            let edges: Vec<Edge> = own.iter().map(|rim| rim.edge).collect();
            for run in runs(&edges, AtCorners::Turn) {
                let closes = run.len() > 1 && run.first().map(|edge| edge.a) == run.last().map(|edge| edge.b);
                // All round a piece it sets that free.
                let is_slot = (inner || !closes) && run.iter().all(|edge| slots.contains(&edge.ends()));
                add(if is_slot { Pass::Slot } else { Pass::Cut }, &run);
            }
        }
        out
    }

    /// The sheet's edge as far as the piece reaches.
    pub(super) fn edges(&self) -> impl Iterator<Item = Edge> + '_ {
        self.rims.iter().filter(|rim| rim.is == RimIs::Edge).map(|rim| rim.edge)
    }
}

fn sorted(Segment { a, b }: Segment) -> Segment {
    Segment { a: a.min(b), b: a.max(b) }
}
