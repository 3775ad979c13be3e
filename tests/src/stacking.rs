//! Closed folios stacked at random, as a maker stacks them: layer on layer, each no larger than the base along its reach.

use crate::closed::{Closed, Hang, Host, Layer, Leaf, Rectangle, Stuck, is_upright};
use crate::dice::Dice;
use crate::unfold::{Margins, lies_flat, up_to};
use model::part::{Closure, ClosureKind, Edges, Hinge, Mat, Page, Pocket, Tab};
use model::{Length, PartKind, SheetEdge, Unit};

/// A closed folio and the margins of paper round it when it is flat: those of a seed, the same every time.
#[must_use]
pub fn stacked(seed: u64) -> (Closed, Margins, Dice) {
    let mut dice = Dice::new(seed);
    loop {
        let mut stack = Stack::begun(&mut dice);
        stack.flaps();
        stack.tuck();
        stack.parts();
        stack.gussets();
        let Stack { closed, unit, .. } = stack;
        let margins = [0; 4].map(|_| if dice.chance(40) { Length::ZERO } else { unit * whole(dice.below(5) + 1) });
        if lies_flat(&closed) && is_well_made(&closed) {
            return (closed, margins, dice);
        }
    }
}

/// Whether flat folds go round no more than one score can and fall short of nothing inside by that, and no edge closes right
/// beside that of something stuck on: good practice, which warnings ask for.
fn is_well_made(closed: &Closed) -> bool {
    let flat = |leaf: &usize| closed.leaves[*leaf].hangs.is_some_and(|hang| hang.depth == Length::ZERO);
    let mut folds = (0..closed.leaves.len()).filter(flat);
    folds.all(|leaf| goes_round(closed, leaf)) && closed.stuck.iter().all(|part| lies_clear(closed, part.at))
}

/// Whether a leaf on a flat fold goes round what lies in it.
fn goes_round(closed: &Closed, leaf: usize) -> bool {
    // One score goes round 1/8 in at most, its own paper with it; a little less is taken.
    const MOST: Length = Length::from_nm(3_000_000);
    let Some(hang) = closed.leaves[leaf].hangs else { return true };
    let mut ends = [Layer::Leaf(hang.on), Layer::Leaf(leaf)];
    ends.sort_by_key(|&layer| closed.place(layer));
    let (_, thick) = closed.between(ends[0], ends[1]);
    // Folded round a stack it falls short by 1.3 times that; a little more is taken.
    let short = thick * 3 / 2;
    let own = closed.leaves[leaf].at;
    let crease = closed.leaves[hang.on].at.edge(hang.edge);
    let from_crease = |at: Rectangle| (at.edge(hang.edge.opposite()) - crease).abs();
    let within = &closed.layers[closed.place(ends[0]) + 1..closed.place(ends[1])];
    let comes_out = |&&layer: &&Layer| {
        let at = closed.at(layer);
        let beyond = from_crease(at) - from_crease(own);
        at.shared(&own).is_some() && beyond <= Length::MILLIMETRE && beyond > -short - Length::MILLIMETRE / 2
    };
    thick + closed.caliper <= MOST && (thick == Length::ZERO || within.iter().find(comes_out).is_none())
}

/// Whether no leaf ends right beside something stuck on at a place.
pub(crate) fn lies_clear(closed: &Closed, at: Rectangle) -> bool {
    // Makers leave 1/32 in or a millimetre.
    let around = at.inset(Length::from_nm(-1_100_000));
    let is_clear = |leaf: &Leaf| leaf.at.shared(&at).is_some() || leaf.at.shared(&around).is_none();
    closed.leaves.iter().all(is_clear)
}

/// A closed folio in the making.
struct Stack<'a> {
    closed: Closed,
    dice: &'a mut Dice,
    /// The least that free edges are measured in: 1/16 in or a millimetre.
    fine: Length,
    /// A quarter of an inch or six millimetres: the usual strip of glue.
    unit: Length,
    /// The flaps on the base, in the order in which they close.
    flaps: Vec<usize>,
    deep: Deep,
}

/// Which flaps have gussets.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Deep {
    None,
    /// All, all as deep.
    All,
    /// Each after one that closes before it, deeper than that or as deep.
    Later,
}

/// What a flap is.
#[derive(Clone, Copy)]
enum Sort {
    Plain,
    /// Its tip is rolled in under it.
    Rolled,
    /// Folded to and fro, with so many panels.
    Pleated(usize),
    /// With small flaps at its sides.
    Winged,
}

fn whole(count: usize) -> i64 {
    i64::try_from(count).unwrap_or(0)
}

impl<'a> Stack<'a> {
    fn begun(dice: &'a mut Dice) -> Self {
        let inches = dice.chance(50);
        let (units, fine, unit) = if inches {
            (Unit::Inch, Length::SIXTEENTH, Length::SIXTEENTH * 4)
        } else {
            (Unit::Millimetre, Length::MILLIMETRE, Length::MILLIMETRE * 6)
        };
        // Boards with other grooves than the usual are sold too (common practice, no source).
        let groove = if inches {
            dice.pick(&[Length::EIGHTH, Length::EIGHTH, Length::SIXTEENTH])
        } else {
            dice.pick(&[Length::MILLIMETRE * 5, Length::MILLIMETRE * 5, Length::MILLIMETRE * 2])
        };
        // Card from thin to stout: 0.18 to 0.4 mm.
        let caliper = Length::from_nm(10_000) * whole(18 + dice.below(23));
        let mm = Length::MILLIMETRE;
        let [width, height] = [0; 2].map(|_| dice.length(mm * 90, mm * 180, groove));
        let base =
            Leaf { at: Rectangle::new(Length::ZERO, Length::ZERO, width, height), hangs: None, clip: Length::ZERO };
        let deep = dice.pick(&[Deep::None, Deep::None, Deep::None, Deep::All, Deep::All, Deep::Later, Deep::Later]);
        let closed = Closed {
            units,
            groove,
            caliper,
            leaves: vec![base],
            stuck: Vec::new(),
            layers: vec![Layer::Leaf(0)],
            steps: Vec::new(),
            tuck: None,
            band: false,
        };
        Self { closed, dice, fine, unit, flaps: Vec::new(), deep }
    }

    /// Flaps on some of the base's edges, one after the other.
    fn flaps(&mut self) {
        let mut edges = SheetEdge::ALL;
        self.dice.shuffle(&mut edges);
        let count = self.dice.pick(&[1, 2, 2, 3, 3, 4, 4]);
        for &edge in &edges[..count] {
            let sorts =
                [Sort::Plain, Sort::Plain, Sort::Plain, Sort::Rolled, Sort::Pleated(2), Sort::Pleated(3), Sort::Winged];
            let sort = self.dice.pick(&sorts);
            self.flap(edge, sort);
        }
    }

    fn leaf(&mut self, on: usize, edge: SheetEdge, at: Rectangle, clip: Length) -> usize {
        let hangs = Some(Hang { on, edge, depth: Length::ZERO });
        self.closed.leaves.push(Leaf { at, hangs, clip });
        self.closed.leaves.len() - 1
    }

    /// From where to where along an edge a flap runs: all of it, or somewhat less at either end.
    fn span(&mut self, edge: SheetEdge) -> (Length, Length) {
        let (from, to) = self.closed.base().span(edge);
        let groove = self.closed.groove;
        // Beside gussets and wings some room is left.
        let least = if self.deep == Deep::None { Length::ZERO } else { groove };
        let most = (to - from) / 5;
        let [start, end] =
            [0; 2].map(|_| if self.dice.chance(40) { least } else { self.dice.length(least, most, groove) });
        (from + start, to - end)
    }

    fn flap(&mut self, edge: SheetEdge, sort: Sort) {
        let base = self.closed.base();
        let (extent, at, span) = (base.reach(edge), base.edge(edge), self.span(edge));
        let (groove, fine) = (self.closed.groove, self.fine);
        let carries = !matches!(sort, Sort::Plain | Sort::Winged);
        let step = if carries { groove } else { fine };
        let least = if carries { extent * 2 / 5 } else { extent / 4 };
        let reach = self.dice.length(least, extent - groove, step);
        let clip =
            if !carries && self.dice.chance(30) { self.fine * whole(3 + self.dice.below(5)) } else { Length::ZERO };
        let clip = if matches!(sort, Sort::Winged) { Length::ZERO } else { clip };
        let flap = self.leaf(0, edge, Rectangle::inwards(edge, at, span, reach), clip);
        let own = self.closed.leaves[flap].at;
        match sort {
            Sort::Plain => self.closed.layers.push(Layer::Leaf(flap)),
            Sort::Rolled => {
                let tip = self.dice.length(extent / 5, reach - groove, fine);
                let tip = self.tip(flap, edge, tip);
                self.closed.layers.extend([tip, flap].map(Layer::Leaf));
                self.closed.steps.push(vec![tip]);
            }
            Sort::Pleated(panels) => {
                self.closed.layers.push(Layer::Leaf(flap));
                let second = self.dice.length(extent / 5, reach - groove, groove);
                let mut pleats = vec![self.tip(flap, edge, second)];
                if panels > 2 {
                    let room = second - groove;
                    let third = self.dice.length((extent / 6).min(room), room, fine);
                    pleats.push(self.tip(pleats[0], edge.opposite(), third));
                }
                self.closed.layers.extend(pleats.iter().map(|&pleat| Layer::Leaf(pleat)));
                self.closed.steps.extend(pleats.iter().rev().map(|&pleat| vec![pleat]));
            }
            Sort::Winged => {
                let wings = self.wings(flap, edge, own);
                self.closed.layers.extend(wings.iter().map(|&wing| Layer::Leaf(wing)));
                self.closed.layers.push(Layer::Leaf(flap));
                if self.dice.chance(50) {
                    self.closed.steps.push(wings);
                } else {
                    self.closed.steps.extend(wings.into_iter().map(|wing| vec![wing]));
                }
            }
        }
        let joins = self.flaps.last().copied().filter(|&last| {
            let is_free = self.closed.leaves[last].at.shared(&own).is_none();
            let follows = self.closed.steps.last() == Some(&vec![last]);
            is_free && follows && self.closed.leaves[last].hangs.is_some_and(|hang| hang.edge == edge.opposite())
        });
        match (joins, self.closed.steps.last_mut()) {
            (Some(_), Some(step)) => step.push(flap),
            _ => self.closed.steps.push(vec![flap]),
        }
        self.flaps.push(flap);
    }

    /// What hangs on the far edge of a leaf that hangs by `edge`.
    fn tip(&mut self, on: usize, edge: SheetEdge, reach: Length) -> usize {
        let own = self.closed.leaves[on].at;
        let far = edge.opposite();
        self.leaf(on, far, Rectangle::inwards(far, own.edge(far), own.span(far), reach), Length::ZERO)
    }

    /// Small flaps at the sides of a flap, folded in under it.
    fn wings(&mut self, on: usize, edge: SheetEdge, own: Rectangle) -> Vec<usize> {
        let (groove, fine) = (self.closed.groove, self.fine);
        let sides =
            if is_upright(edge) { [SheetEdge::Top, SheetEdge::Bottom] } else { [SheetEdge::Left, SheetEdge::Right] };
        let wanted = self.dice.pick(&[[true, true], [true, false], [false, true]]);
        let (from, to) = own.span(sides[0]);
        let gap = self.unit.max(groove);
        let room = (own.reach(sides[0]) - gap) / 2;
        let mut wings = Vec::new();
        for side in sides.into_iter().zip(wanted).filter(|(_, wanted)| *wanted).map(|(side, _)| side) {
            let reach = self.dice.length(self.unit, room.min(self.unit * 5), fine);
            let clip = if self.dice.chance(60) { reach / 3 } else { Length::ZERO };
            let span = (from + gap, to - gap);
            wings.push(self.leaf(on, side, Rectangle::inwards(side, own.edge(side), span, reach), clip));
        }
        wings
    }

    /// Tucks the last flap under the one that closed before it.
    fn tuck(&mut self) {
        let &[.., under, last] = &self.flaps[..] else { return };
        let [own, other] = [last, under].map(|leaf| self.closed.leaves[leaf].at);
        let lie_last = self.closed.layers.ends_with(&[Layer::Leaf(under), Layer::Leaf(last)]);
        let is_alone = self.closed.steps.last() == Some(&vec![last]);
        // What is rolled in or winged has its own folds there, which a flap across them would run into.
        let is_plain = self.closed.leaves.iter().all(|leaf| leaf.hangs.is_none_or(|hang| hang.on != under));
        if self.deep == Deep::Later
            || !lie_last
            || !is_plain
            || !is_alone
            || own.shared(&other).is_none()
            || !self.dice.chance(50)
        {
            return;
        }
        let count = self.closed.layers.len();
        self.closed.layers.swap(count - 1, count - 2);
        self.closed.tuck = Some([last, under]);
    }

    /// Gussets deep enough for what they wrap.
    fn gussets(&mut self) {
        let (caliper, groove) = (self.closed.caliper, self.closed.groove);
        if self.deep == Deep::None {
            return;
        }
        // Two scores are pressed apart by two channels at least: one and a half calipers and a rule of 0.71 mm each.
        let channels = caliper * 3 + Length::from_nm(1_420_000);
        let mut deepest = Length::ZERO;
        let mut depths = Vec::new();
        for (place, &flap) in self.flaps.iter().enumerate() {
            let (_, wraps) = self.closed.between(Layer::Leaf(0), Layer::Leaf(flap));
            let is_thin = wraps + caliper <= Length::MILLIMETRE * 5 / 2;
            if self.deep == Deep::Later && is_thin && (place == 0 || (deepest == Length::ZERO && self.dice.chance(30)))
            {
                depths.push((flap, Length::ZERO));
                continue;
            }
            let more =
                if self.dice.chance(if self.deep == Deep::Later { 60 } else { 30 }) { groove } else { Length::ZERO };
            deepest = deepest.max(up_to((wraps + caliper).max(channels), groove) + more);
            depths.push((flap, deepest));
        }
        for (flap, depth) in depths {
            let depth = if self.deep == Deep::All { deepest } else { depth };
            if let Some(hang) = &mut self.closed.leaves[flap].hangs {
                hang.depth = depth;
            }
        }
    }

    /// Parts on the base and on flaps, and what keeps it shut.
    fn parts(&mut self) {
        if self.dice.chance(25) {
            return;
        }
        self.on_base();
        for leaf in 1..self.closed.leaves.len() {
            for upper in [false, true] {
                if self.dice.chance(20) {
                    self.mat(leaf, upper);
                }
            }
        }
        self.magnets();
        self.closed.band = self.dice.chance(40);
    }

    /// What lies between two others is put right over or under its host.
    fn put(&mut self, part: Stuck, layers: impl FnOnce(usize) -> Vec<Layer>) -> usize {
        let at = match part.on {
            Host::Leaf(leaf) => self.closed.place(Layer::Leaf(leaf)) + usize::from(part.upper),
            Host::Hinge(hinge) => self.closed.place(Layer::Second(hinge)) + 1,
        };
        let number = self.closed.stuck.len();
        self.closed.stuck.push(part);
        self.closed.layers.splice(at..at, layers(number));
        number
    }

    /// A rectangle well within another, at least so large.
    fn within(&mut self, room: Rectangle, least: Length) -> Option<Rectangle> {
        if room.width() < least || room.height() < least {
            return None;
        }
        let fine = self.fine;
        let [width, height] = [room.width(), room.height()].map(|side| self.dice.length(least, side, fine).min(side));
        let left = room.low.x + self.dice.length(Length::ZERO, room.width() - width, fine);
        let top = room.low.y + self.dice.length(Length::ZERO, room.height() - height, fine);
        Some(Rectangle::new(left, top, left + width, top + height))
    }

    fn paper(&self, kind: PartKind, on: Host, upper: bool, at: Rectangle) -> Stuck {
        Stuck { kind, on, upper, at, second: None, thick: self.closed.caliper }
    }

    fn mat(&mut self, leaf: usize, upper: bool) {
        let Leaf { at, clip, .. } = self.closed.leaves[leaf];
        // Clear of clipped corners, and of folds that close over it.
        let room = at.inset(self.unit.max(clip));
        if let Some(at) = self.within(room, self.unit * 2) {
            let kind = PartKind::Mat(Mat { width: at.width(), height: at.height() });
            let part = self.paper(kind, Host::Leaf(leaf), upper, at);
            self.put(part, |part| vec![Layer::Stuck(part)]);
        }
    }

    /// Something in the left half of the base, and perhaps something else in the right.
    fn on_base(&mut self) {
        let base = self.closed.base();
        let room = base.inset(self.unit);
        let middle = base.middle().x;
        let left = Rectangle::new(room.low.x, room.low.y, middle - self.fine, room.high.y);
        let right = Rectangle::new(middle + self.fine, room.low.y, room.high.x, room.high.y);
        for room in [left, right] {
            let Some(at) = self.within(room, self.unit * 6) else { continue };
            match self.dice.below(7) {
                0 | 1 => self.pocket(at),
                2 => self.page(at),
                3 => self.hinged(at),
                4 => self.tab(at),
                5 => {
                    let kind = PartKind::Mat(Mat { width: at.width(), height: at.height() });
                    let part = self.paper(kind, Host::Leaf(0), true, at);
                    self.put(part, |part| vec![Layer::Stuck(part)]);
                }
                _ => {}
            }
        }
        if self.dice.chance(30) {
            self.mat(0, false);
        }
    }

    fn pocket(&mut self, at: Rectangle) {
        let none = Length::ZERO;
        let glued = Edges::of(&[SheetEdge::Left, SheetEdge::Right, SheetEdge::Bottom]);
        let kind = Pocket { width: at.width(), height: at.height(), glued, strip: self.unit, rim: none, gusset: none };
        let part = self.paper(PartKind::Pocket(kind), Host::Leaf(0), true, at);
        self.put(part, |part| vec![Layer::Stuck(part)]);
    }

    /// A page, its strip folded under it.
    fn page(&mut self, at: Rectangle) {
        let hinged = self.dice.pick(&SheetEdge::ALL);
        let strip = self.unit * 2;
        let kind = PartKind::Page(Page { width: at.width(), height: at.height(), hinged, strip });
        let second = Some(Rectangle::inwards(hinged, at.edge(hinged), at.span(hinged), strip));
        let part = Stuck { second, ..self.paper(kind, Host::Leaf(0), true, at) };
        self.put(part, |part| vec![Layer::Second(part), Layer::Stuck(part)]);
    }

    /// A mat that swings up on a hinge under its right edge.
    fn hinged(&mut self, at: Rectangle) {
        let (leaf, end) = (self.unit * 2, self.unit);
        let glued = Rectangle::new(at.high.x - leaf, at.low.y + end, at.high.x, at.high.y - end);
        let kind = PartKind::Hinge(Hinge { length: glued.height(), leaf, free_leaf: leaf });
        let hinge = Stuck { second: Some(glued), ..self.paper(kind, Host::Leaf(0), true, glued) };
        let hinge = self.put(hinge, |part| vec![Layer::Stuck(part), Layer::Second(part)]);
        let kind = PartKind::Mat(Mat { width: at.width(), height: at.height() });
        let mat = self.paper(kind, Host::Hinge(hinge), true, at);
        self.put(mat, |part| vec![Layer::Stuck(part)]);
    }

    fn tab(&mut self, at: Rectangle) {
        let glued = self.dice.pick(&SheetEdge::ALL);
        let kind = Tab { width: at.width(), height: at.height(), glued, strip: self.unit };
        let part = self.paper(PartKind::Tab(kind), Host::Leaf(0), true, at);
        self.put(part, |part| vec![Layer::Stuck(part)]);
    }

    /// A pair of magnets: one on the base, one on the inside of a flap that comes to lie on it.
    fn magnets(&mut self) {
        let size = self.fine * 6;
        let Some(&flap) = self.flaps.last().filter(|_| self.dice.chance(35)) else { return };
        let is_there = |part: &&Stuck| match part.on {
            Host::Leaf(0) | Host::Hinge(_) => part.upper,
            Host::Leaf(leaf) => leaf == flap && !part.upper,
        };
        let taken: Vec<Rectangle> = self.closed.stuck.iter().filter(is_there).map(|part| part.at).collect();
        let leaf = &self.closed.leaves[flap];
        let room = leaf.at.inset(self.unit.max(leaf.clip));
        if room.width() < size || room.height() < size {
            return;
        }
        let left = room.low.x + self.dice.length(Length::ZERO, room.width() - size, self.fine);
        let top = room.low.y + self.dice.length(Length::ZERO, room.height() - size, self.fine);
        let at = Rectangle::new(left, top, left + size, top + size);
        let inside = self.closed.base().inset(self.unit);
        if !inside.holds(&at) || taken.iter().any(|other| other.shared(&at).is_some()) {
            return;
        }
        let thick = Length::MILLIMETRE;
        let kind =
            PartKind::Closure(Closure { kind: ClosureKind::Magnet, width: size, height: size, thickness: thick });
        for (on, upper) in [(0, true), (flap, false)] {
            let part = Stuck { kind: kind.clone(), on: Host::Leaf(on), upper, at, second: None, thick };
            self.put(part, |part| vec![Layer::Stuck(part)]);
        }
    }
}
