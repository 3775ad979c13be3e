//! A closed folio as a maker would want it: rectangles on one another over a base, each hanging by an edge of another.
//!
//! Places in it are so far from the upper left corner of the base, as the closed folio lies on the table. Nothing here asks
//! the program: what a closed folio is like is known before there is a sheet.

use model::{Length, PartKind, Point, SheetEdge, Unit};

/// An upright rectangle.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Rectangle {
    /// Its upper left corner.
    pub low: Point,
    /// Its lower right corner.
    pub high: Point,
}

/// A rectangle of the folio as it lies when closed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Leaf {
    /// Where it lies.
    pub at: Rectangle,
    /// What it hangs on; `None` for the base alone.
    pub hangs: Option<Hang>,
    /// By how much its free corners are clipped; nothing for square ones.
    pub clip: Length,
}

/// By which edge a leaf hangs on another.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Hang {
    /// The other.
    pub on: usize,
    /// The edge of the other, closed, along which the fold runs. The leaf lies inwards of it, over or under the other.
    pub edge: SheetEdge,
    /// How deep the gusset between is; nothing for a flat fold.
    pub depth: Length,
}

/// Something put on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stuck {
    /// What.
    pub kind: PartKind,
    /// On what.
    pub on: Host,
    /// Whether on the face of it that looks up in the closed folio.
    pub upper: bool,
    /// Where its main panel lies.
    pub at: Rectangle,
    /// Where the other panel of one with a fold lies.
    pub second: Option<Rectangle>,
    /// How thick it is.
    pub thick: Length,
}

/// What something is put on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Host {
    /// A leaf.
    Leaf(usize),
    /// The free leaf of a hinge that is put on before it.
    Hinge(usize),
}

/// One layer of the closed folio.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Layer {
    /// A leaf.
    Leaf(usize),
    /// The main panel of what is stuck on.
    Stuck(usize),
    /// The other panel of it.
    Second(usize),
}

/// A closed folio.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Closed {
    /// What the maker reckons in.
    pub units: Unit,
    /// How far apart the grooves of her board are.
    pub groove: Length,
    /// How thick the paper is.
    pub caliper: Length,
    /// The leaves; the base is the first.
    pub leaves: Vec<Leaf>,
    /// What is stuck on them.
    pub stuck: Vec<Stuck>,
    /// All layers, from the table up.
    pub layers: Vec<Layer>,
    /// Which leaves fold in each step.
    pub steps: Vec<Vec<usize>>,
    /// The leaf that folds last and the one under which it is tucked.
    pub tuck: Option<[usize; 2]>,
    /// Whether a band goes round it.
    pub band: bool,
}

impl Rectangle {
    /// From its corners' distances from the left and the top.
    #[must_use]
    pub const fn new(left: Length, top: Length, right: Length, bottom: Length) -> Self {
        Self { low: Point::new(left, top), high: Point::new(right, bottom) }
    }

    /// From side to side.
    #[must_use]
    pub fn width(&self) -> Length {
        self.high.x - self.low.x
    }

    /// From top to bottom.
    #[must_use]
    pub fn height(&self) -> Length {
        self.high.y - self.low.y
    }

    /// Its middle, to the nanometre.
    #[must_use]
    pub fn middle(&self) -> Point {
        Point::new(self.low.x + self.width().half(), self.low.y + self.height().half())
    }

    /// Where an edge lies: from the left for upright edges, from the top for level ones.
    #[must_use]
    pub const fn edge(&self, edge: SheetEdge) -> Length {
        match edge {
            SheetEdge::Top => self.low.y,
            SheetEdge::Right => self.high.x,
            SheetEdge::Bottom => self.high.y,
            SheetEdge::Left => self.low.x,
        }
    }

    /// How far it reaches from an edge to the opposite one.
    #[must_use]
    pub fn reach(&self, from: SheetEdge) -> Length {
        if is_upright(from) { self.width() } else { self.height() }
    }

    /// From where to where an edge runs.
    #[must_use]
    pub const fn span(&self, edge: SheetEdge) -> (Length, Length) {
        if is_upright(edge) { (self.low.y, self.high.y) } else { (self.low.x, self.high.x) }
    }

    /// What two of them share; `None` where that has no area.
    #[must_use]
    pub fn shared(&self, other: &Self) -> Option<Self> {
        let low = Point::new(self.low.x.max(other.low.x), self.low.y.max(other.low.y));
        let high = Point::new(self.high.x.min(other.high.x), self.high.y.min(other.high.y));
        (low.x < high.x && low.y < high.y).then_some(Self { low, high })
    }

    /// Whether another lies within it.
    #[must_use]
    pub fn holds(&self, other: &Self) -> bool {
        self.shared(other) == Some(*other)
    }

    /// Smaller by so much on each side.
    #[must_use]
    pub fn inset(&self, by: Length) -> Self {
        Self::new(self.low.x + by, self.low.y + by, self.high.x - by, self.high.y - by)
    }

    /// The rectangle inwards of an edge that runs from `span.0` to `span.1` at `at`, so far.
    #[must_use]
    pub fn inwards(edge: SheetEdge, at: Length, span: (Length, Length), reach: Length) -> Self {
        let (from, to) = match edge {
            SheetEdge::Top | SheetEdge::Left => (at, at + reach),
            SheetEdge::Right | SheetEdge::Bottom => (at - reach, at),
        };
        if is_upright(edge) { Self::new(from, span.0, to, span.1) } else { Self::new(span.0, from, span.1, to) }
    }
}

/// Whether an edge runs from top to bottom.
#[must_use]
pub const fn is_upright(edge: SheetEdge) -> bool {
    matches!(edge, SheetEdge::Left | SheetEdge::Right)
}

impl Closed {
    /// The base.
    #[must_use]
    pub fn base(&self) -> Rectangle {
        self.leaves[0].at
    }

    /// Whether the front of a leaf looks up: it does where an even number of folds lies between it and the base. A gusset
    /// has two square ones, as much as one flat.
    #[must_use]
    pub fn is_front_up(&self, leaf: usize) -> bool {
        self.leaves[leaf].hangs.is_none_or(|hang| !self.is_front_up(hang.on))
    }

    /// How high above the base's plane the plane of a leaf lies.
    #[must_use]
    pub fn height(&self, leaf: usize) -> Length {
        self.leaves[leaf].hangs.map_or(Length::ZERO, |hang| self.height(hang.on) + hang.depth)
    }

    /// The place of a layer in the pile, from the table up.
    #[must_use]
    pub fn place(&self, layer: Layer) -> usize {
        self.layers.iter().position(|&one| one == layer).unwrap_or(usize::MAX)
    }

    /// Where a layer lies.
    #[must_use]
    pub fn at(&self, layer: Layer) -> Rectangle {
        match layer {
            Layer::Leaf(leaf) => self.leaves[leaf].at,
            Layer::Stuck(part) => self.stuck[part].at,
            Layer::Second(part) => self.stuck[part].second.unwrap_or(self.stuck[part].at),
        }
    }

    /// How thick a layer is.
    #[must_use]
    pub fn thick(&self, layer: Layer) -> Length {
        match layer {
            Layer::Leaf(_) => self.caliper,
            Layer::Stuck(part) | Layer::Second(part) => self.stuck[part].thick,
        }
    }

    /// The leaves that move with one: those that hang on it, and it.
    #[must_use]
    pub fn with_hanging(&self, leaf: usize) -> Vec<usize> {
        let hangs = |&one: &usize| {
            let mut at = Some(one);
            while let Some(now) = at {
                if now == leaf {
                    return true;
                }
                at = self.leaves[now].hangs.map(|hang| hang.on);
            }
            false
        };
        (0..self.leaves.len()).filter(hangs).collect()
    }

    /// The thickest pile of paper between two layers of it, ends left out, over what both cover: how many layers, and how
    /// thick together.
    #[must_use]
    pub fn between(&self, under: Layer, over: Layer) -> (usize, Length) {
        let Some(both) = self.at(under).shared(&self.at(over)) else { return (0, Length::ZERO) };
        let (from, to) = (self.place(under), self.place(over));
        let within = self.layers.get(from + 1..to).unwrap_or_default();
        let piles = self.cells().into_iter().filter(|cell| both.shared(cell).is_some()).map(|cell| {
            let pile = within.iter().filter(|&&layer| self.at(layer).shared(&cell).is_some());
            pile.fold((0, Length::ZERO), |(count, thick), &layer| (count + 1, thick + self.thick(layer)))
        });
        piles.max_by_key(|&(count, thick)| (thick, count)).unwrap_or_default()
    }

    /// How much paper lies on one another where it is most.
    #[must_use]
    pub fn thickest(&self) -> Length {
        let pile = |cell: Rectangle| {
            let there = self.layers.iter().filter(|&&layer| self.at(layer).shared(&cell).is_some());
            there.map(|&layer| self.thick(layer)).sum::<Length>()
        };
        self.cells().into_iter().map(pile).max().unwrap_or_default()
    }

    /// Rectangles that no edge of a layer runs through, which together take the whole of what any layer covers.
    #[must_use]
    pub fn cells(&self) -> Vec<Rectangle> {
        let all = || self.layers.iter().map(|&layer| self.at(layer));
        let mut across: Vec<Length> = all().flat_map(|at| [at.low.x, at.high.x]).collect();
        let mut down: Vec<Length> = all().flat_map(|at| [at.low.y, at.high.y]).collect();
        for ticks in [&mut across, &mut down] {
            ticks.sort_unstable();
            ticks.dedup();
        }
        let column = |x: &[Length]| down.windows(2).map(|y| Rectangle::new(x[0], y[0], x[1], y[1])).collect::<Vec<_>>();
        across.windows(2).flat_map(column).collect()
    }
}
