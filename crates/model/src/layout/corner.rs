//! Which corners of which panels are rounded or clipped, and what is cut off them.

use super::plan::CornerCut;
use super::{Layout, PanelId, Stretch};
use crate::corner::{Border, Corner, CornerShape, Which};
use crate::curve::arc;
use crate::document::Document;
use crate::geometry::{Point, Size};
use crate::length::Length;
use crate::line::Work;
use crate::polygon::edges;
use crate::stock::SheetEdge;
use std::collections::{BTreeMap, BTreeSet};

/// Why a corner can't be rounded or clipped as said.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CornerFault {
    /// The mark lies in no panel.
    NoPanel,
    /// The two borders don't meet in a corner of the panel.
    NotThere,
    /// A fold ends in that corner, or it points inwards; nothing can be taken off.
    NotFree,
    /// It takes more of a side than there is, which is this much.
    TooLarge(Length),
    /// It is done, but the mark itself lies on paper that is taken off.
    MarkTakenOff,
}

/// A corner of a panel that can be taken off: the sides next to it are cuts or the sheet's edge.
#[derive(Debug, Clone)]
struct Free {
    tip: Point,
    /// How far the side before it and the side after it run, and to where.
    sides: [(Length, Point); 2],
    borders: [BTreeSet<Border>; 2],
}

/// What is asked of one corner, by what in the document.
#[derive(Clone, Copy)]
struct Asked {
    by: usize,
    shape: CornerShape,
}

/// What is to be cut off, and what can't be.
pub(super) fn cuts(document: &Document, layout: &Layout) -> (Vec<CornerCut>, Vec<(usize, CornerFault)>) {
    let borders = Borders::of(layout);
    let mut free: BTreeMap<PanelId, Vec<Free>> = BTreeMap::new();
    let mut asked: BTreeMap<(PanelId, Point), Asked> = BTreeMap::new();
    let mut faults = Vec::new();
    for (by, corner) in document.corners.iter().enumerate() {
        let Some(panel) = layout.panel_at(corner.mark) else {
            faults.push((by, CornerFault::NoPanel));
            continue;
        };
        let panels = match corner.which {
            Which::AllOfPiece => layout.pieces[layout.panel(panel).piece.0].panels.clone(),
            Which::AllOfPanel | Which::Between(..) => vec![panel],
        };
        for panel in panels {
            let own = free.entry(panel).or_insert_with(|| free_corners(layout, panel, &borders));
            let hit = own.iter().filter(|free| free.is_meant(corner));
            let tips: Vec<Point> = hit.map(|free| free.tip).collect();
            if let (Which::Between(a, b), true) = (corner.which, tips.is_empty()) {
                let meet = borders.meet(layout, panel, a, b);
                faults.push((by, if meet { CornerFault::NotFree } else { CornerFault::NotThere }));
            }
            asked.extend(tips.into_iter().map(|tip| ((panel, tip), Asked { by, shape: corner.shape })));
        }
    }
    let mut cuts = Vec::new();
    for (panel, corners) in &free {
        for corner in corners {
            let Some(&Asked { by, shape }) = asked.get(&(*panel, corner.tip)) else { continue };
            let taken = |tip: Point| {
                let other = corners.iter().find(|free| free.tip == tip)?;
                Some(other.takes(asked.get(&(*panel, tip))?.shape))
            };
            let Some(room) = corner.room(shape, &taken) else {
                cuts.extend(corner.cut(by, shape));
                continue;
            };
            faults.push((by, CornerFault::TooLarge(room)));
        }
    }
    faults.sort_by_key(|(by, _)| *by);
    faults.dedup();
    (cuts, faults)
}

impl Layout {
    /// The free corners of the panel around `mark`, as they are before anything is taken off: where each is, and what is
    /// done with it now, said of it alone. None where the mark lies in no panel.
    #[must_use]
    pub fn free_corners(document: &Document, mark: Point) -> Vec<(Point, Corner)> {
        let uncut = Self::of(&Document { corners: Vec::new(), ..document.clone() });
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
            Some((free.tip, Corner { mark, which, shape }))
        };
        free_corners(&uncut, panel, &Borders::of(&uncut)).iter().filter_map(named).collect()
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

    /// Cosine and sine of the corner's angle.
    fn angle(&self) -> (f64, f64) {
        let [u, v] = self.sides.map(|(_, end)| (end - self.tip).scaled_to(Length::MILLIMETRE * 1000));
        if u.dot(v) == 0 {
            return (0.0, 1.0);
        }
        let [ux, uy, vx, vy] = [u.x, u.y, v.x, v.y].map(|part| part.mm() / 1000.0);
        (ux * vx + uy * vy, (ux * vy - uy * vx).abs())
    }

    /// How much of a side there is, where that is less than the shape takes; `None` when it fits. What the corner at
    /// the other end of a side takes is not there to be taken.
    fn room(&self, shape: CornerShape, taken: &dyn Fn(Point) -> Option<Length>) -> Option<Length> {
        let takes = self.takes(shape);
        let over = |&(length, end): &(Length, Point)| {
            let other = taken(end).unwrap_or(Length::ZERO);
            (takes + other > length).then(|| if other == Length::ZERO { length } else { length.half() })
        };
        self.sides.iter().filter_map(over).min()
    }

    fn cut(&self, by: usize, shape: CornerShape) -> Option<CornerCut> {
        let takes = self.takes(shape);
        if takes <= Length::ZERO {
            return None;
        }
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
        Some(CornerCut { by, path: arc(before, after, bow), tip: self.tip })
    }
}

/// What bounds panels, by stretch.
struct Borders<'a> {
    size: Size,
    of: BTreeMap<(Point, Point), &'a Stretch>,
}

impl<'a> Borders<'a> {
    fn of(layout: &'a Layout) -> Self {
        let key = |stretch: &'a Stretch| ((stretch.segment.a, stretch.segment.b), stretch);
        Self { size: layout.size, of: layout.stretches.iter().map(key).collect() }
    }

    /// The stretch that is this edge of an outline.
    fn stretch(&self, a: Point, b: Point) -> Option<&'a Stretch> {
        self.of.get(&(a.min(b), a.max(b))).copied()
    }

    /// The borders that lie along an edge of an outline.
    fn names(&self, a: Point, b: Point) -> BTreeSet<Border> {
        let (zero, w, h) = (Length::ZERO, self.size.width(), self.size.height());
        let on = |edge: SheetEdge| match edge {
            SheetEdge::Top => (a.y, b.y) == (zero, zero),
            SheetEdge::Right => (a.x, b.x) == (w, w),
            SheetEdge::Bottom => (a.y, b.y) == (h, h),
            SheetEdge::Left => (a.x, b.x) == (zero, zero),
        };
        let edges = SheetEdge::ALL.into_iter().filter(|&edge| on(edge)).map(Border::Edge);
        let lines = self.stretch(a, b).into_iter().flat_map(|stretch| stretch.lines.iter().copied().map(Border::Line));
        edges.chain(lines).collect()
    }

    /// Whether paper ends at an edge of an outline, so that something may be taken off there.
    fn ends_paper(&self, a: Point, b: Point) -> bool {
        self.stretch(a, b)
            .is_none_or(|stretch| !matches!(stretch.work, Some(Work::Score(_))) || stretch.sides.contains(&None))
    }

    /// Whether two borders meet in any corner of a panel, free or not.
    fn meet(&self, layout: &Layout, panel: PanelId, first: Border, second: Border) -> bool {
        let outline: Vec<(Point, Point)> = edges(&layout.panel(panel).outline).collect();
        let n = outline.len();
        (0..n).any(|i| {
            let [before, after] = [outline[i], outline[(i + 1) % n]].map(|(a, b)| self.names(a, b));
            (before.contains(&first) && after.contains(&second)) || (before.contains(&second) && after.contains(&first))
        })
    }
}

/// The corners of a panel that can be taken off.
fn free_corners(layout: &Layout, panel: PanelId, borders: &Borders<'_>) -> Vec<Free> {
    let outline = &layout.panel(panel).outline;
    let n = outline.len();
    let at = |i: usize| outline[i % n];
    let corner = |i: usize| {
        let (before, tip, after) = (at(i + n - 1), at(i), at(i + 1));
        let convex = (tip - before).cross(after - tip) > 0;
        let free = borders.ends_paper(before, tip) && borders.ends_paper(tip, after);
        if !convex || !free {
            return None;
        }
        let names = [borders.names(before, tip), borders.names(tip, after)];
        // A curve is laid out as short straight stretches; where one of them meets the next is no corner.
        let within_curve = names[0].intersection(&names[1]).any(|border| is_curve(layout, *border));
        (!within_curve).then(|| Free {
            tip,
            sides: [side(i, n - 1, outline, borders), side(i, 1, outline, borders)],
            borders: names,
        })
    };
    (0..n).filter_map(corner).collect()
}

fn is_curve(layout: &Layout, border: Border) -> bool {
    let Border::Line(id) = border else { return false };
    matches!(layout.lines.get(&id), Some(Ok(placed)) if placed.bow != Length::ZERO)
}

/// How far paper ends straight on from a corner, going by `step` places round the outline, and to where.
fn side(corner: usize, step: usize, outline: &[Point], borders: &Borders<'_>) -> (Length, Point) {
    let n = outline.len();
    let tip = outline[corner];
    let mut end = outline[(corner + step) % n];
    let way = end - tip;
    for k in 2..n {
        let next = outline[(corner + k * step) % n];
        if way.cross(next - end) != 0 || way.dot(next - end) <= 0 || !borders.ends_paper(end, next) {
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
    use crate::length::Unit;
    use crate::line::{Line, LineId, Place, Spot};
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
            let tips: Vec<Point> = Layout::free_corners(&document, mark).into_iter().map(|(tip, _)| tip).collect();
            assert!(tips.len() <= 4, "{tips:?}");
        }
    }
}
