//! Sorting faces by what covers what, and cutting where no order exists.
//!
//! In two stages: faces that pass through each other are cut first, so that each remaining pair has one order or none;
//! then faces are taken whenever nothing is left that belongs behind them (Kahn 1962, "Topological sorting of large
//! networks"; from memory), and where that comes to a halt a ring of faces is opened.

use super::piece::Piece;
use super::relation::{Lower, Relation, Said, Strength, relate};
use std::collections::{BTreeSet, VecDeque};

/// Faces, which of them belong behind which, and how far sorting has come.
pub(super) struct Order<'a> {
    nodes: Vec<Node>,
    said: Said<'a>,
    /// What has been taken, farthest first.
    sorted: Vec<usize>,
    /// Faces that nothing left belongs behind, by [`Order::rank`].
    ready: BTreeSet<(usize, usize)>,
    cuts_left: usize,
}

#[derive(Debug)]
struct Node {
    piece: Piece,
    /// The faces it belongs behind; some may be gone.
    in_front: Vec<Link>,
    /// How many of the faces behind are still to be taken.
    waits_for: usize,
    /// Taken, or replaced by its parts.
    gone: bool,
}

#[derive(Clone, Copy, Debug)]
struct Link {
    to: usize,
    strength: Strength,
}

impl<'a> Order<'a> {
    /// The order of `pieces`, which are given in the order to keep at equal depth; at most `max_cuts` cuts are made.
    pub(super) fn new(pieces: Vec<Piece>, max_cuts: usize, said: Said<'a>) -> Self {
        let nodes = Vec::with_capacity(pieces.len());
        let mut order = Self { nodes, said, sorted: Vec::new(), ready: BTreeSet::new(), cuts_left: max_cuts };
        for piece in pieces {
            order.insert(piece);
        }
        order
    }

    /// The pieces, farthest first.
    pub(super) fn into_sorted(mut self) -> Vec<Piece> {
        self.ready = (0..self.nodes.len()).filter(|&i| self.nodes[i].waits_for == 0).map(|i| self.rank(i)).collect();
        loop {
            while let Some((_, next)) = self.ready.pop_first() {
                self.take(next);
            }
            let Some(ring) = self.ring() else { break };
            self.open(&ring);
        }
        let mut pieces: Vec<_> = self.nodes.into_iter().map(|node| Some(node.piece)).collect();
        self.sorted.into_iter().filter_map(|i| pieces[i].take()).collect()
    }

    /// What decides between faces that may both come next: input order, parts of one face in the order they were made.
    fn rank(&self, node: usize) -> (usize, usize) {
        (self.nodes[node].piece.source, node)
    }

    /// Adds a piece after those already here, cut up by those it passes through.
    ///
    /// Compares with every other piece: at the few hundred faces of a folio the comparing of bounds costs less than
    /// keeping them sorted.
    fn insert(&mut self, whole: Piece) {
        // A part is known not to pass through the first `cleared` pieces; that bounds the cutting.
        let mut parts = vec![(whole, 0)];
        let mut relations = Vec::with_capacity(self.nodes.len());
        while let Some((part, cleared)) = parts.pop() {
            relations.clear();
            let mut halves = None;
            for (i, node) in self.nodes.iter().enumerate() {
                let relation = relate(&node.piece, &part, self.said);
                if matches!(relation, Relation::Crossing(_)) && i >= cleared && self.cuts_left > 0 {
                    halves = part.cut_by(&node.piece).map(|halves| (halves, i + 1));
                    if halves.is_some() {
                        break;
                    }
                }
                if relation != Relation::Apart {
                    relations.push((i, relation));
                }
            }
            if let Some(([behind, in_front], cleared)) = halves {
                self.cuts_left -= 1;
                parts.extend([(in_front, cleared), (behind, cleared)]);
            } else {
                let new = self.push(part);
                relations.iter().for_each(|&(i, relation)| self.link(i, new, relation));
            }
        }
    }

    fn push(&mut self, piece: Piece) -> usize {
        self.nodes.push(Node { piece, in_front: Vec::new(), waits_for: 0, gone: false });
        self.nodes.len() - 1
    }

    fn link(&mut self, first: usize, second: usize, relation: Relation) {
        let (lower, strength) = match relation {
            Relation::Apart => return,
            Relation::Sorted(lower, strength) => (lower, strength),
            // Only where no cut was to be had.
            Relation::Crossing(lower) => (lower, Strength::Loose),
        };
        let (low, high) = if lower == Lower::First { (first, second) } else { (second, first) };
        self.nodes[low].in_front.push(Link { to: high, strength });
        self.nodes[high].waits_for += 1;
    }

    /// Paints a face next: nothing left belongs behind it.
    fn take(&mut self, node: usize) {
        self.sorted.push(node);
        self.retire(node);
    }

    /// Marks a face as gone and readies those that waited for it alone.
    fn retire(&mut self, node: usize) {
        self.nodes[node].gone = true;
        for i in 0..self.nodes[node].in_front.len() {
            let next = self.nodes[node].in_front[i].to;
            self.nodes[next].waits_for = self.nodes[next].waits_for.saturating_sub(1);
            self.make_ready(next);
        }
    }

    fn make_ready(&mut self, node: usize) {
        if self.nodes[node].waits_for == 0 && !self.nodes[node].gone {
            self.ready.insert(self.rank(node));
        }
    }

    /// Faces each of which belongs behind the next and the last behind the first; `None` once no face is left.
    fn ring(&self) -> Option<Vec<usize>> {
        let behind = self.lowest_behind();
        let mut at = self.left().min_by_key(|&i| self.rank(i))?;
        let mut place = vec![None; self.nodes.len()];
        let mut walk = Vec::new();
        while place[at].is_none() {
            place[at] = Some(walk.len());
            walk.push(at);
            // Nothing is ready, so every face left has one behind it.
            at = behind[at]?;
        }
        let ring = walk.split_off(place[at]?);
        let start = ring.into_iter().min_by_key(|&i| self.rank(i))?;
        self.shortest_ring(start)
    }

    /// The faces still to be taken.
    fn left(&self) -> impl Iterator<Item = usize> {
        (0..self.nodes.len()).filter(|&i| !self.nodes[i].gone)
    }

    /// For each face left, the first by rank of those left that belong behind it.
    fn lowest_behind(&self) -> Vec<Option<usize>> {
        let mut behind = vec![None; self.nodes.len()];
        for low in self.left() {
            for link in &self.nodes[low].in_front {
                let known = &mut behind[link.to];
                if known.is_none_or(|other| self.rank(low) < self.rank(other)) {
                    *known = Some(low);
                }
            }
        }
        behind
    }

    /// The shortest ring through `start`, which is on one, by breadth-first search.
    fn shortest_ring(&self, start: usize) -> Option<Vec<usize>> {
        let mut reached_from = vec![None; self.nodes.len()];
        let mut queue = VecDeque::from([start]);
        while let Some(at) = queue.pop_front() {
            for link in self.nodes[at].in_front.iter().filter(|link| !self.nodes[link.to].gone) {
                if reached_from[link.to].is_none() {
                    reached_from[link.to] = Some(at);
                    queue.push_back(link.to);
                }
            }
            if let Some(last) = reached_from[start] {
                let mut ring: Vec<_> =
                    std::iter::successors(Some(last), |&i| reached_from[i].filter(|_| i != start)).collect();
                ring.reverse();
                return Some(ring);
            }
        }
        None
    }

    /// Opens a ring: by a loose link if it has one, else by a cut, else by taking its farthest face.
    fn open(&mut self, ring: &[usize]) {
        if let Some((low, high)) = self.loose_link(ring) {
            self.unlink(low, high);
        } else if let Some((node, parts)) = self.best_cut(ring) {
            self.replace(node, parts);
        } else {
            let middle = |&node: &usize| self.nodes[node].piece.middle_depth();
            let farthest = ring.iter().copied().min_by(|a, b| middle(a).total_cmp(&middle(b)));
            farthest.into_iter().for_each(|node| self.take(node));
        }
    }

    fn loose_link(&self, ring: &[usize]) -> Option<(usize, usize)> {
        let is_loose = |low: usize, high: usize| {
            self.nodes[low].in_front.iter().any(|link| link.to == high && link.strength == Strength::Loose)
        };
        pairs(ring).find(|&(low, high)| is_loose(low, high))
    }

    fn unlink(&mut self, low: usize, high: usize) {
        self.nodes[low].in_front.retain(|link| link.to != high);
        self.nodes[high].waits_for = self.nodes[high].waits_for.saturating_sub(1);
        self.make_ready(high);
    }

    /// A face of the ring and its two parts: the first cut that opens this ring at once, else the first cut there is.
    ///
    /// There is always one by a plane while faces are flat and convex and sorted by depth: a plane that cuts no face of the
    /// ring would have some of them behind it and some in front, and then the step of the ring that leads back from front
    /// to behind would be painted against depth. Where the caller has said what is behind, the faces may lie in one plane;
    /// then one is cut along the outline of its neighbour.
    fn best_cut(&self, ring: &[usize]) -> Option<(usize, [Piece; 2])> {
        if self.cuts_left == 0 {
            return None;
        }
        let source = |node: usize| self.nodes[node].piece.source;
        let is_said = pairs(ring).any(|(low, high)| (self.said)(source(low), source(high)).is_some());
        let mut any = None;
        for (i, &node) in ring.iter().enumerate() {
            let before = ring[(i + ring.len() - 1) % ring.len()];
            let after = ring[(i + 1) % ring.len()];
            let knives = ring.iter().filter(|&&knife| knife != node).map(|&knife| &self.nodes[knife].piece);
            let own = &self.nodes[node].piece;
            let along = [after, before].into_iter().filter(|_| is_said).flat_map(|next| &self.nodes[next].piece.sides);
            for parts in
                knives.filter_map(|knife| own.cut_by(knife)).chain(along.filter_map(|side| own.cut_along(side)))
            {
                let closes = |part: &Piece| self.belongs_behind(before, part) && self.belongs_before(part, after);
                if !parts.iter().any(closes) {
                    return Some((node, parts));
                }
                any.get_or_insert((node, parts));
            }
        }
        any
    }

    fn belongs_behind(&self, node: usize, part: &Piece) -> bool {
        matches!(relate(&self.nodes[node].piece, part, self.said), Relation::Sorted(Lower::First, _))
    }

    fn belongs_before(&self, part: &Piece, node: usize) -> bool {
        matches!(relate(part, &self.nodes[node].piece, self.said), Relation::Sorted(Lower::First, _))
    }

    /// Puts two parts in a face's place. They overlap only what the face did.
    fn replace(&mut self, node: usize, parts: [Piece; 2]) {
        self.cuts_left = self.cuts_left.saturating_sub(1);
        let linked = |low: usize, high: usize| self.nodes[low].in_front.iter().any(|link| link.to == high);
        let neighbours: Vec<usize> = self.left().filter(|&i| linked(i, node) || linked(node, i)).collect();
        let first_new = self.nodes.len();
        for part in parts {
            let new = self.push(part);
            for &other in &neighbours {
                let (first, second) = if self.rank(new) < self.rank(other) { (new, other) } else { (other, new) };
                let relation = relate(&self.nodes[first].piece, &self.nodes[second].piece, self.said);
                self.link(first, second, relation);
            }
        }
        // Only now, so that what waits for a part is not readied in between.
        self.retire(node);
        (first_new..self.nodes.len()).for_each(|new| self.make_ready(new));
    }
}

/// Each face of a ring with the next.
fn pairs(ring: &[usize]) -> impl Iterator<Item = (usize, usize)> {
    ring.iter().copied().zip(ring.iter().copied().cycle().skip(1))
}
