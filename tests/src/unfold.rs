//! From the closed folio to its flat sheet: each leaf is mirrored back over its fold, and what bounds it is cut.
//!
//! Whole nanometres and mirrors at upright and level lines are all there is to it. How lines are said (on which turn, from
//! what to what) is left to the dice, since it is all the same to the folio.

use crate::closed::{Closed, Rectangle, is_upright};
use crate::dice::Dice;
use crate::said::Sayer;
use crate::stuck;
use model::{
    Corner, CornerShape, Crease, Direction, Document, FoldAngle, Length, LineId, PanelRef, PartId, Point, SheetEdge,
    Size, Step, Stock, Tucked, Vector, Which, Work,
};
use std::collections::BTreeMap;

/// A design with all that is known of it.
#[derive(Debug, Clone)]
pub struct Folio {
    /// What it is like when closed.
    pub closed: Closed,
    /// The design.
    pub document: Document,
    /// Where each leaf lies on the sheet.
    pub flat: Vec<Rectangle>,
    /// Where the gusset lies by which it hangs, where there is one.
    pub gussets: Vec<Option<Rectangle>>,
    /// The scores by which each leaf hangs, from the other to it.
    pub creases: Vec<Vec<LineId>>,
    /// The cuts.
    pub cuts: Vec<LineId>,
    /// What is stuck on, by its names in the design.
    pub stuck: Vec<PartId>,
    /// The margins that it was unfolded with.
    pub margins: Margins,
}

/// How wide a margin of paper is left beyond what is farthest out at the top, right, bottom and left, at least.
pub type Margins = [Length; 4];

/// Where a leaf's places come to lie on the sheet: mirrored or not, then shifted.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Unfolded {
    mirrored: [bool; 2],
    by: Vector,
}

impl Unfolded {
    const fn still() -> Self {
        Self { mirrored: [false, false], by: Vector { x: Length::ZERO, y: Length::ZERO } }
    }

    pub(crate) fn point(self, at: Point) -> Point {
        let one = |mirrored: bool, at: Length| if mirrored { -at } else { at };
        Point::new(one(self.mirrored[0], at.x) + self.by.x, one(self.mirrored[1], at.y) + self.by.y)
    }

    pub(crate) fn rectangle(self, at: Rectangle) -> Rectangle {
        let (a, b) = (self.point(at.low), self.point(at.high));
        Rectangle::new(a.x.min(b.x), a.y.min(b.y), a.x.max(b.x), a.y.max(b.y))
    }

    /// After a mirror at `at` across an upright line (else a level one), and moved away from it by `depth` towards `edge`.
    fn beyond(self, edge: SheetEdge, at: Length, depth: Length) -> Self {
        let axis = usize::from(!is_upright(edge));
        let mut mirrored = self.mirrored;
        mirrored[axis] = !mirrored[axis];
        // A mirror takes x to 2 at − x, which the leaf's own mirror and shift then carry on.
        let outwards = if matches!(edge, SheetEdge::Right | SheetEdge::Bottom) { depth } else { -depth };
        let along = at * 2 + outwards;
        let along = if self.mirrored[axis] { -along } else { along };
        let by = if axis == 0 {
            Vector { x: self.by.x + along, y: self.by.y }
        } else {
            Vector { x: self.by.x, y: self.by.y + along }
        };
        Self { mirrored, by }
    }
}

/// How each leaf lies unfolded, the base where it lies closed.
pub(crate) fn unfolded(closed: &Closed) -> Vec<Unfolded> {
    let mut all: Vec<Unfolded> = Vec::new();
    for leaf in &closed.leaves {
        all.push(leaf.hangs.map_or(Unfolded::still(), |hang| {
            all[hang.on].beyond(hang.edge, closed.leaves[hang.on].at.edge(hang.edge), hang.depth)
        }));
    }
    all
}

/// Where each leaf lies unfolded, and the gusset by which it hangs.
pub(crate) fn flat(closed: &Closed, lies: &[Unfolded]) -> (Vec<Rectangle>, Vec<Option<Rectangle>>) {
    let leaves = closed.leaves.iter().zip(lies).map(|(leaf, lies)| lies.rectangle(leaf.at)).collect();
    let gusset = |leaf: usize| {
        let hang = closed.leaves[leaf].hangs.filter(|hang| hang.depth > Length::ZERO)?;
        let span = closed.leaves[leaf].at.span(hang.edge);
        let at = closed.leaves[hang.on].at.edge(hang.edge);
        // Outwards of the edge is inwards of the opposite one.
        Some(lies[hang.on].rectangle(Rectangle::inwards(hang.edge.opposite(), at, span, hang.depth)))
    };
    (leaves, (0..closed.leaves.len()).map(gusset).collect())
}

/// Whether nothing of the folio would lie on anything else of it while it is flat.
#[must_use]
pub fn lies_flat(closed: &Closed) -> bool {
    let (leaves, gussets) = flat(closed, &unfolded(closed));
    let all: Vec<Rectangle> = leaves.into_iter().chain(gussets.into_iter().flatten()).collect();
    all.iter().enumerate().all(|(i, a)| all[i + 1..].iter().all(|b| a.shared(b).is_none()))
}

/// The design that closes so.
///
/// # Panics
/// When the folio is larger than any sheet.
#[must_use]
pub fn unfold(closed: &Closed, margins: Margins, dice: &mut Dice) -> Folio {
    let mut lies = unfolded(closed);
    let (leaves, gussets) = flat(closed, &lies);
    let all = || leaves.iter().chain(gussets.iter().flatten());
    let least = |of: fn(&Rectangle) -> Length| all().map(of).min().unwrap_or_default();
    let most = |of: fn(&Rectangle) -> Length| all().map(of).max().unwrap_or_default();
    let groove = closed.groove;
    // The base's upper left corner lies on grooves.
    let shift = Vector {
        x: up_to(margins[3] - least(|at| at.low.x), groove),
        y: up_to(margins[0] - least(|at| at.low.y), groove),
    };
    let sides = [shift.x + most(|at| at.high.x) + margins[1], shift.y + most(|at| at.high.y) + margins[2]];
    // Where the other edges lie on grooves too, the sheet may be scored turned half round.
    let sides = sides.map(|side| if dice.chance(50) { up_to(side, groove) } else { side });
    for one in &mut lies {
        one.by = Vector { x: one.by.x + shift.x, y: one.by.y + shift.y };
    }
    let size = Size::new(sides[0], sides[1]).expect("a folio is no larger than a sheet may be");
    let mut document = Document::new(size, closed.units);
    document.groove = groove;
    document.stock = Stock { caliper: model::Caliper::Measured(closed.caliper), ..Stock::plain(size) };
    let (flat, gussets) = flat(closed, &lies);
    document.base = Some(inside(&flat[0], dice));
    let mut folio = Folio {
        closed: closed.clone(),
        document,
        flat,
        gussets,
        creases: Vec::new(),
        cuts: Vec::new(),
        stuck: Vec::new(),
        margins,
    };
    folio.score(dice);
    folio.cut(dice);
    folio.clip();
    folio.fold();
    stuck::put_on(&mut folio, &lies, dice);
    folio
}

/// The least multiple of a step that is no less; the length itself without a step.
#[must_use]
pub fn up_to(length: Length, step: Length) -> Length {
    if step <= Length::ZERO {
        return length;
    }
    let past = length.nm().rem_euclid(step.nm());
    if past == 0 { length } else { length + step - Length::from_nm(past) }
}

/// A place well inside a rectangle.
fn inside(at: &Rectangle, dice: &mut Dice) -> Point {
    let part = |low: Length, high: Length, dice: &mut Dice| {
        low + (high - low) / 8 * (i64::try_from(dice.below(5)).unwrap_or(0) + 2)
    };
    Point::new(part(at.low.x, at.high.x, dice), part(at.low.y, at.high.y, dice))
}

impl Folio {
    /// Where a place of the closed folio that a leaf covers lies on the sheet.
    #[must_use]
    pub fn on_sheet(&self, leaf: usize, at: Rectangle) -> Rectangle {
        let (lies, base) = (unfolded(&self.closed)[leaf], self.flat[0].low);
        let Rectangle { low, high } = lies.rectangle(at);
        Rectangle::new(low.x + base.x, low.y + base.y, high.x + base.x, high.y + base.y)
    }

    /// How the fold goes by which a leaf hangs: a valley where the one that looks down lies above the one that looks up.
    #[must_use]
    pub fn direction(&self, leaf: usize) -> Direction {
        let closed = &self.closed;
        let on = closed.leaves[leaf].hangs.map_or(0, |hang| hang.on);
        let [own, other] = [leaf, on].map(|one| closed.place(crate::closed::Layer::Leaf(one)));
        if (own > other) == closed.is_front_up(on) { Direction::Valley } else { Direction::Mountain }
    }

    /// Where the fold lies on the sheet by which a leaf hangs on what is next to it: from where to where.
    fn crease(&self, leaf: usize) -> Option<[(Point, Point); 2]> {
        let hang = self.closed.leaves[leaf].hangs?;
        let own = self.flat[leaf];
        let other = self.flat[hang.on];
        let near = self.gussets[leaf].unwrap_or(own);
        // The edges at which the gusset or the leaf meets the other, and the leaf meets the gusset.
        Some([touching(&other, &near)?, touching(&near, &own).unwrap_or(touching(&other, &near)?)])
    }

    /// Scores the folds.
    fn score(&mut self, dice: &mut Dice) {
        self.creases.push(Vec::new());
        for leaf in 1..self.closed.leaves.len() {
            let direction = self.direction(leaf);
            let Some([first, second]) = self.crease(leaf) else {
                self.creases.push(Vec::new());
                continue;
            };
            let is_gusset = self.gussets[leaf].is_some();
            let angle = if is_gusset { FoldAngle::Square } else { FoldAngle::Flat };
            let work = Work::Score(Crease { direction, angle, pressed: None });
            let mut sayer = Sayer { document: &mut self.document, dice };
            let inner = sayer.score(first, None, work);
            let mut ids = vec![inner];
            if is_gusset {
                ids.push(sayer.score(second, Some(inner), work));
            }
            self.creases.push(ids);
        }
    }

    /// Cuts round everything, but where it folds and where the sheet ends.
    fn cut(&mut self, dice: &mut Dice) {
        // Upright or level, and where: all that bounds something, and all that folds.
        let mut bounds: BTreeMap<(bool, Length), Vec<(Length, Length)>> = BTreeMap::new();
        for at in self.flat.iter().chain(self.gussets.iter().flatten()) {
            for edge in SheetEdge::ALL {
                bounds.entry((is_upright(edge), at.edge(edge))).or_default().push(at.span(edge));
            }
        }
        let mut folds: BTreeMap<(bool, Length), Vec<(Length, Length)>> = BTreeMap::new();
        for (a, b) in (1..self.closed.leaves.len()).filter_map(|leaf| self.crease(leaf)).flatten() {
            let (upright, at) = if a.x == b.x { (true, a.x) } else { (false, a.y) };
            folds.entry((upright, at)).or_default().push(if upright { (a.y, b.y) } else { (a.x, b.x) });
        }
        let size = self.document.stock.size;
        for ((upright, at), spans) in bounds {
            let far = if upright { size.width() } else { size.height() };
            if at == Length::ZERO || at == far {
                continue;
            }
            let folded = folds.get(&(upright, at)).cloned().unwrap_or_default();
            for (from, to) in without(&joined(spans), &joined(folded)) {
                let ends = if upright {
                    (Point::new(at, from), Point::new(at, to))
                } else {
                    (Point::new(from, at), Point::new(to, at))
                };
                let id = Sayer { document: &mut self.document, dice }.cut(ends);
                self.cuts.push(id);
            }
        }
    }

    /// Clips free corners.
    fn clip(&mut self) {
        for (leaf, at) in self.closed.leaves.iter().zip(&self.flat).filter(|(leaf, _)| leaf.clip > Length::ZERO) {
            let shape = CornerShape::Clip(leaf.clip);
            self.document.corners.push(Corner { mark: at.middle(), which: Which::AllOfPanel, shape });
        }
    }

    /// Says in which steps it closes.
    fn fold(&mut self) {
        let lines = |step: &Vec<usize>| step.iter().flat_map(|&leaf| self.creases[leaf].clone()).collect();
        let mut steps: Vec<Step> = self.closed.steps.iter().map(|step| Step::of(lines(step))).collect();
        if let (Some(tuck), Some(last)) = (self.closed.tuck, steps.last_mut()) {
            let [panel, under] = tuck.map(|leaf| PanelRef::Sheet(self.flat[leaf].middle()));
            last.tucks.push(Tucked { panel, under });
        }
        self.document.steps = steps;
    }
}

/// The stretch along which two rectangles touch.
fn touching(a: &Rectangle, b: &Rectangle) -> Option<(Point, Point)> {
    let (top, bottom) = (a.low.y.max(b.low.y), a.high.y.min(b.high.y));
    let (left, right) = (a.low.x.max(b.low.x), a.high.x.min(b.high.x));
    let touches = (left == right && top < bottom) || (top == bottom && left < right);
    touches.then_some((Point::new(left, top), Point::new(right, bottom)))
}

/// Stretches of one line, those that overlap or touch as one, in ascending order.
fn joined(mut spans: Vec<(Length, Length)>) -> Vec<(Length, Length)> {
    spans.sort_unstable();
    let mut out: Vec<(Length, Length)> = Vec::new();
    for (from, to) in spans {
        match out.last_mut() {
            Some(last) if from <= last.1 => last.1 = last.1.max(to),
            _ => out.push((from, to)),
        }
    }
    out
}

/// Stretches of one line without others, both joined.
fn without(spans: &[(Length, Length)], others: &[(Length, Length)]) -> Vec<(Length, Length)> {
    let mut out = Vec::new();
    for &(from, to) in spans {
        let mut at = from;
        for &(start, end) in others.iter().filter(|(start, end)| *end > from && *start < to) {
            if start > at {
                out.push((at, start));
            }
            at = at.max(end);
        }
        if at < to {
            out.push((at, to));
        }
    }
    out
}
