//! Which corners of which panels are rounded or clipped, and what is cut off them.

use super::border::Borders;
use super::plan::CornerCut;
use super::{Layout, PanelId};
use crate::corner::{Border, Corner, CornerShape, Which};
use crate::curve::arc;
use crate::document::Document;
use crate::geometry::Point;
use crate::length::Length;
use std::collections::{BTreeMap, BTreeSet};

/// Why a corner can't be rounded or clipped as said.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum CornerFault {
    /// The mark lies in no panel.
    NoPanel,
    /// The two borders don't meet in a corner of the panel.
    NotThere,
    /// A fold ends in that corner, or it points inwards; nothing can be taken off.
    NotFree,
    /// All free corners are meant, and there are none.
    NoneFree,
    /// One of its sides is a curve.
    Curved,
    /// The radius or distance is not more than nothing.
    NoMeasure,
    /// It takes more of a side than there is; this radius or distance would fit.
    TooLarge(Length),
    /// It is done, but the mark itself lies on paper that is taken off.
    MarkTakenOff,
}

/// What is said of a corner that can't be done.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct CornerTrouble {
    /// The place of what is said in [`Document::corners`].
    pub by: usize,
    /// Why.
    pub fault: CornerFault,
    /// The panel concerned, where there is one.
    pub panel: Option<PanelId>,
    /// The corner, or the mark where no corner can be told.
    pub at: Point,
}

/// What is done with corners by one thing that is said of them.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CornerWork {
    /// The place of what is said in [`Document::corners`].
    pub by: usize,
    /// Whether it shapes all free corners that it means, so that none of them was said otherwise of or can't be done.
    pub all: bool,
    /// The corners that are taken off by it.
    pub corners: Vec<CornerTaken>,
}

/// A corner that is rounded or clipped.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct CornerTaken {
    /// The panel that it is of.
    pub panel: PanelId,
    /// Where it was.
    pub at: Point,
    /// A border on either side of it.
    pub between: [Border; 2],
}

/// A corner of a panel that can be rounded or clipped, as it is before anything is taken off.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct FreeCorner {
    /// Where it is.
    pub tip: Point,
    /// Where the side before it and the side after it come from and go to.
    pub ends: [Point; 2],
    /// Whether one of its sides is a curve, so that nothing can be taken off.
    pub is_curved: bool,
    /// What is done with it now, said of it alone.
    pub corner: Corner,
}

/// A corner of a panel that can be taken off: the sides next to it are cuts or the sheet's edge.
#[derive(Debug, Clone)]
struct Free {
    tip: Point,
    /// How far the side before it and the side after it run, and to where.
    sides: [(Length, Point); 2],
    borders: [BTreeSet<Border>; 2],
    curved: bool,
}

/// What comes of all that is said of corners.
pub(super) struct Shaped {
    pub(super) cuts: Vec<CornerCut>,
    pub(super) work: Vec<CornerWork>,
    pub(super) troubles: Vec<CornerTrouble>,
}

/// What is to be cut off, and what can't be.
pub(super) fn shaped(document: &Document, layout: &Layout) -> Shaped {
    let mut table = Table {
        document,
        layout,
        borders: Borders::of(document, layout),
        free: BTreeMap::new(),
        meetings: BTreeMap::new(),
        asked: BTreeMap::new(),
        troubles: Vec::new(),
    };
    for by in 0..document.corners.len() {
        table.ask(by);
    }
    table.shaped()
}

struct Table<'a> {
    document: &'a Document,
    layout: &'a Layout,
    borders: Borders<'a>,
    free: BTreeMap<PanelId, Vec<Free>>,
    meetings: BTreeMap<PanelId, BTreeSet<(Border, Border)>>,
    /// For each corner what holds, by its place in the document.
    asked: BTreeMap<(PanelId, Point), usize>,
    troubles: Vec<CornerTrouble>,
}

impl Table<'_> {
    /// Notes which corners are meant by one thing that is said.
    fn ask(&mut self, by: usize) {
        let corner = self.document.corners[by];
        let panel = self.layout.panel_at(corner.mark);
        let mut trouble = |fault| self.troubles.push(CornerTrouble { by, fault, panel, at: corner.mark });
        let Some(panel) = panel else { return trouble(CornerFault::NoPanel) };
        if corner.shape != CornerShape::Square && corner.shape.measure() <= Length::ZERO {
            return trouble(CornerFault::NoMeasure);
        }
        let panels = match corner.which {
            Which::AllOfPiece => self.layout.pieces[self.layout.panel(panel).piece.0].panels.clone(),
            Which::AllOfPanel | Which::Between(..) => vec![panel],
        };
        let mut any = false;
        for panel in panels {
            let (layout, borders) = (self.layout, &self.borders);
            let own = self.free.entry(panel).or_insert_with(|| free_corners(layout, panel, borders));
            for free in own.iter().filter(|free| free.is_meant(&corner)) {
                any = true;
                self.asked.insert((panel, free.tip), by);
            }
        }
        if !any {
            let fault = match corner.which {
                Which::AllOfPanel | Which::AllOfPiece => CornerFault::NoneFree,
                Which::Between(a, b) => {
                    let (layout, borders) = (self.layout, &self.borders);
                    let meetings = self.meetings.entry(panel).or_insert_with(|| borders.meetings(layout, panel));
                    if meetings.contains(&(a, b)) { CornerFault::NotFree } else { CornerFault::NotThere }
                }
            };
            self.troubles.push(CornerTrouble { by, fault, panel: Some(panel), at: corner.mark });
        }
    }

    fn shape(&self, by: usize) -> CornerShape {
        self.document.corners[by].shape
    }

    fn shaped(mut self) -> Shaped {
        // First those that don't fit by themselves, so that they take nothing from their neighbours.
        let mut alone: BTreeMap<(PanelId, Point), Length> = BTreeMap::new();
        for (&panel, corners) in &self.free {
            for free in corners {
                let Some(&by) = self.asked.get(&(panel, free.tip)) else { continue };
                let shape = self.shape(by);
                let takes = free.takes(shape);
                let room = free.sides.iter().map(|(length, _)| *length).min().unwrap_or_default();
                let fault = if free.curved && takes > Length::ZERO {
                    CornerFault::Curved
                } else if takes > room {
                    // A side between two of which the same is said has room for half of it at either end.
                    let is_shared = |end: Point| self.asked.get(&(panel, end)) == Some(&by);
                    let sides = free.sides.iter().map(|&(side, end)| if is_shared(end) { side.half() } else { side });
                    CornerFault::TooLarge(free.measure(shape, sides.min().unwrap_or_default()))
                } else {
                    alone.insert((panel, free.tip), takes);
                    continue;
                };
                self.troubles.push(CornerTrouble { by, fault, panel: Some(panel), at: free.tip });
            }
        }
        let mut cuts = Vec::new();
        let mut work: BTreeMap<usize, CornerWork> = BTreeMap::new();
        for (&panel, corners) in &self.free {
            for free in corners {
                let key = (panel, free.tip);
                let (Some(&by), Some(&takes)) = (self.asked.get(&key), alone.get(&key)) else { continue };
                let other = |end: Point| alone.get(&(panel, end)).copied().unwrap_or_default();
                let crowded = free.sides.iter().filter(|&&(length, end)| takes + other(end) > length);
                if let Some(room) = crowded.map(|(length, _)| length.half()).min() {
                    let fault = CornerFault::TooLarge(free.measure(self.shape(by), room));
                    self.troubles.push(CornerTrouble { by, fault, panel: Some(panel), at: free.tip });
                } else if takes > Length::ZERO {
                    cuts.push(free.cut(by, self.shape(by), takes));
                    let entry = work.entry(by).or_insert(CornerWork { by, all: false, corners: Vec::new() });
                    entry.corners.extend(free.taken(panel));
                }
            }
        }
        for work in work.values_mut() {
            work.all = work.corners.len() == self.meant(work.by);
        }
        self.troubles.sort_unstable();
        self.troubles.dedup();
        Shaped { cuts, work: work.into_values().collect(), troubles: self.troubles }
    }

    /// How many free corners one thing that is said means.
    fn meant(&self, by: usize) -> usize {
        let corner = &self.document.corners[by];
        let Some(panel) = self.layout.panel_at(corner.mark) else { return 0 };
        let of = |other: PanelId| match corner.which {
            Which::AllOfPiece => self.layout.panel(other).piece == self.layout.panel(panel).piece,
            Which::AllOfPanel | Which::Between(..) => other == panel,
        };
        let own = self.free.iter().filter(|(other, _)| of(**other));
        own.map(|(_, corners)| corners.iter().filter(|free| free.is_meant(corner)).count()).sum()
    }
}

impl Layout {
    /// The free corners of the panel around `mark`, as they are before anything is taken off: where each is, and what is
    /// done with it now, said of it alone. None where the mark lies in no panel.
    #[must_use]
    pub fn free_corners(document: &Document, mark: Point) -> Vec<(Point, Corner)> {
        Self::corners_by_side(document, mark).into_iter().map(|free| (free.tip, free.corner)).collect()
    }

    /// The same with the two sides that meet there.
    #[must_use]
    pub fn corners_by_side(document: &Document, mark: Point) -> Vec<FreeCorner> {
        let uncut = Self::of(&Document { corners: Vec::new(), parts: Vec::new(), ..document.clone() });
        let Some(panel) = uncut.panel_at(mark) else { return Vec::new() };
        let piece = uncut.panel(panel).piece;
        let own = |corner: &&Corner| match (uncut.panel_at(corner.mark), corner.which) {
            (Some(other), Which::AllOfPiece) => uncut.panel(other).piece == piece,
            (other, _) => other == Some(panel),
        };
        let said: Vec<&Corner> = document.corners.iter().filter(own).collect();
        let named = |free: &Free| {
            let meant = || said.iter().rev().filter(|corner| free.is_meant(corner));
            let alone = meant().map(|corner| corner.which).find(|which| matches!(which, Which::Between(..)));
            let [before, after] = free.borders.each_ref().map(|borders| borders.first().copied());
            let which = alone.or_else(|| Some(Which::Between(before?, after?)))?;
            let shape = meant().next().map_or(CornerShape::Square, |corner| corner.shape);
            let ends = free.sides.map(|(_, end)| end);
            Some(FreeCorner { tip: free.tip, ends, is_curved: free.curved, corner: Corner { mark, which, shape } })
        };
        free_corners(&uncut, panel, &Borders::of(document, &uncut)).iter().filter_map(named).collect()
    }
}

impl Free {
    fn is_meant(&self, corner: &Corner) -> bool {
        match corner.which {
            Which::AllOfPanel | Which::AllOfPiece => true,
            Which::Between(a, b) => {
                let [before, after] = &self.borders;
                (before.contains(&a) && after.contains(&b)) || (before.contains(&b) && after.contains(&a))
            }
        }
    }

    fn taken(&self, panel: PanelId) -> Option<CornerTaken> {
        let [before, after] = self.borders.each_ref().map(|borders| borders.first().copied());
        Some(CornerTaken { panel, at: self.tip, between: [before?, after?] })
    }

    /// How much of either side a shape takes. For a radius r in a corner of angle θ that is r / tan(θ / 2).
    fn takes(&self, shape: CornerShape) -> Length {
        match shape {
            CornerShape::Square => Length::ZERO,
            CornerShape::Clip(distance) => distance,
            CornerShape::Round(radius) => {
                let (dot, cross) = self.angle();
                // tan(θ / 2) = (1 - cos θ) / sin θ; exactly 1 in a right angle.
                let tangent = radius.mm() * cross / (1.0 - dot).max(f64::MIN_POSITIVE);
                if dot == 0.0 { radius } else { Length::from_mm_rounded(tangent).unwrap_or(Length::LIMIT) }
            }
        }
    }

    /// The radius or distance by which a shape takes so much of either side.
    fn measure(&self, shape: CornerShape, takes: Length) -> Length {
        let (dot, cross) = self.angle();
        match shape {
            CornerShape::Round(_) if dot != 0.0 => {
                let radius = takes.mm() * (1.0 - dot) / cross.max(f64::MIN_POSITIVE);
                Length::from_mm_rounded(radius).unwrap_or(Length::LIMIT)
            }
            _ => takes,
        }
    }

    /// Cosine and sine of the corner's angle.
    fn angle(&self) -> (f64, f64) {
        let [u, v] = self.sides.map(|(_, end)| (end - self.tip).scaled_to(Length::MILLIMETRE * 1000));
        if u.dot(v) == 0 {
            return (0.0, 1.0);
        }
        let [ux, uy, vx, vy] = [u.x, u.y, v.x, v.y].map(|part| part.mm() / 1000.0);
        (ux * vx + uy * vy, (ux * vy - uy * vx).abs())
    }

    fn cut(&self, by: usize, shape: CornerShape, takes: Length) -> CornerCut {
        let [before, after] = self.sides.map(|(_, end)| self.tip + (end - self.tip).scaled_to(takes));
        let bow = match shape {
            CornerShape::Square | CornerShape::Clip(_) => Length::ZERO,
            CornerShape::Round(radius) => {
                // The arc turns by 180° - θ, so its rise is r (1 - cos(90° - θ / 2)) = r (1 - sin(θ / 2)).
                let (dot, _) = self.angle();
                let rise = radius.mm() * (1.0 - libm::sqrt((1.0 - dot) / 2.0));
                // The outline runs clockwise, so the tip lies to the right of who looks back along it from its end.
                -Length::from_mm_rounded(rise).unwrap_or(Length::ZERO)
            }
        };
        CornerCut { by, path: arc(before, after, bow), tip: self.tip }
    }
}

/// The corners of a panel that can be taken off.
fn free_corners(layout: &Layout, panel: PanelId, borders: &Borders<'_>) -> Vec<Free> {
    let outline = &layout.panel(panel).outline;
    let n = outline.len();
    let at = |i: usize| outline[i % n];
    let corner = |i: usize| {
        let (before, tip, after) = (at(i + n - 1), at(i), at(i + 1));
        if is_straight(before, tip, after) || !borders.ends_paper(before, tip) || !borders.ends_paper(tip, after) {
            return None;
        }
        let curved = [borders.is_curved(before, tip), borders.is_curved(tip, after)];
        let names = [borders.names(before, tip), borders.names(tip, after)];
        // A curve is laid out as short straight stretches; where one of them meets the next is no corner.
        if curved == [true; 2] && !names[0].is_disjoint(&names[1]) {
            return None;
        }
        let sides = [side(i, n - 1, outline, borders), side(i, 1, outline, borders)];
        let convex = (tip - sides[0].1).cross(sides[1].1 - tip) > 0;
        convex.then_some(Free { tip, sides, borders: names, curved: curved[0] || curved[1] })
    };
    (0..n).filter_map(corner).collect()
}

/// Whether a point lies straight between two others, but for the nanometre or two by which a slanting line bends where
/// others meet it.
fn is_straight(before: Point, at: Point, after: Point) -> bool {
    let way = after - before;
    let beside = way.cross(at - before).abs();
    beside <= 2 * i128::from(way.length().nm()) && (at - before).dot(after - at) > 0
}

/// How far paper ends straight on from a corner, going by `step` places round the outline, and to where.
fn side(corner: usize, step: usize, outline: &[Point], borders: &Borders<'_>) -> (Length, Point) {
    let n = outline.len();
    let tip = outline[corner];
    let mut end = outline[(corner + step) % n];
    for k in 2..n {
        let next = outline[(corner + k * step) % n];
        if !is_straight(tip, end, next) || !borders.ends_paper(end, next) {
            break;
        }
        end = next;
    }
    ((end - tip).length(), end)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::change::{add_line, measured_score};
    use crate::corner::CornerShape::{Clip, Round, Square};
    use crate::geometry::Size;
    use crate::length::Unit;
    use crate::line::{Line, LineId, Place, Spot, Work};
    use crate::turn::Turn;

    fn at(x: i64, y: i64) -> Point {
        Point::new(Length::INCH * x, Length::INCH * y)
    }

    /// A 12 in sheet with a score 3 in from the left: two panels with two free corners each.
    fn document(corners: &[Corner]) -> Document {
        let mut document = Document::new(Size::parse("12x12in").unwrap(), Unit::Inch);
        document.apply(add_line(&document, measured_score(LineId(1), Turn::None, Length::INCH * 3))).unwrap();
        document.corners = corners.to_vec();
        document
    }

    #[track_caller]
    fn check(corners: &[Corner], expected: &[(Point, CornerShape)]) {
        let found = Layout::free_corners(&document(corners), at(1, 1));
        let found: Vec<(Point, CornerShape)> = found.into_iter().map(|(tip, corner)| (tip, corner.shape)).collect();
        assert_eq!(found, expected);
    }

    #[test]
    fn each_free_corner_is_told_with_what_is_done_with_it() {
        let (quarter, half) = (Round(Length::INCH / 4), Clip(Length::INCH / 2));
        let corner = |mark, which, shape| Corner { mark, which, shape };
        let [(tip, first), (other, _)] = Layout::free_corners(&document(&[]), at(1, 1)).try_into().unwrap();
        check(&[], &[(tip, Square), (other, Square)]);
        let piece = corner(at(6, 6), Which::AllOfPiece, quarter);
        check(&[piece], &[(tip, quarter), (other, quarter)]);
        check(&[piece, Corner { shape: half, ..first }], &[(tip, half), (other, quarter)]);
        check(&[corner(at(6, 6), Which::AllOfPanel, half)], &[(tip, Square), (other, Square)]);
    }

    #[test]
    fn what_is_said_of_one_corner_is_named_as_it_was_said() {
        let (_, first) = Layout::free_corners(&document(&[]), at(1, 1))[0];
        let Which::Between(a, b) = first.which else { panic!("one corner") };
        let said = Corner { which: Which::Between(b, a), shape: Clip(Length::INCH), ..first };
        assert_eq!(Layout::free_corners(&document(&[said]), at(1, 1))[0].1, said);
    }

    #[test]
    fn a_curve_has_no_corners_along_it() {
        let mut document = document(&[]);
        let place = Place::Drawn { from: Spot::At(at(0, 6)), to: Spot::At(at(3, 6)), bow: Length::INCH };
        document.apply(add_line(&document, Line::new(LineId(2), place, Work::Cut))).unwrap();
        for mark in [at(1, 1), at(1, 11)] {
            let mut tips: Vec<Point> = Layout::free_corners(&document, mark).into_iter().map(|(tip, _)| tip).collect();
            tips.sort_unstable();
            // Only the sheet's own corner and where the curve leaves the sheet's edge.
            let edge = if mark == at(1, 1) { vec![at(0, 0), at(0, 6)] } else { vec![at(0, 6), at(0, 12)] };
            assert!(tips.iter().all(|tip| edge.contains(tip)), "{tips:?}");
            assert!(tips.contains(&at(0, if mark == at(1, 1) { 0 } else { 12 })), "{tips:?}");
        }
    }
}
