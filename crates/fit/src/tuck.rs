//! Tuck corners: how far the corner of a card goes in, and what cards corners that face one another hold.

use crate::card::{CARDS, Card};
use crate::rounding::down_mm;
use model::part::{Laid, PanelCorner, TuckCorner};
use model::{Document, Face, Layout, Length, PanelId, PartId, PartKind, PartLayout, Point, SheetEdge, Unit};

/// How the corner of a card goes into a tuck corner. A card's corner comes to lie where the two strips of glue meet; with legs
/// `a` and `d` and a strip `s`, the slanting edge is then `a - s - as/d` from it one way and `d - s - ds/a` the other.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CornerFit {
    /// How far along a level edge of the card the corner reaches, on the part's own sheet, to the nanometre below.
    pub across: Length,
    /// How far along an upright edge.
    pub down: Length,
    /// How far it reaches from the card's corner square to its slanting edge, rounded down.
    pub depth: Length,
    /// How much of the card it covers, in mm²: all up to the slanting edge, or as much as lies under a band.
    pub covered: f64,
}

impl CornerFit {
    /// What share of a card it covers, 0 to 1; `None` for a card smaller than the corner.
    #[must_use]
    pub fn share(&self, (width, height): (Length, Length)) -> Option<f64> {
        let is_covered = width >= self.across && height >= self.down && width > Length::ZERO && height > Length::ZERO;
        is_covered.then(|| self.covered / (width.mm() * height.mm()))
    }
}

/// A tuck corner on the panel that it is glued to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Corner {
    /// The part.
    pub part: PartId,
    /// In which corner of a card it lies, on its host's sheet as drawn.
    pub corner: PanelCorner,
    /// Where the card's corner comes to lie there.
    pub at: Point,
    /// How far it reaches from there, from side to side and from top to bottom.
    pub reach: (Length, Length),
    /// How much of a card it covers, in mm².
    pub covered: f64,
}

/// Tuck corners that face one another, so that a card stays between them.
#[derive(Debug, Clone, PartialEq)]
pub struct CornerSet {
    /// The panel that they are on.
    pub host: PanelId,
    /// Its face.
    pub face: Face,
    /// Its corners, by their parts.
    pub corners: Vec<Corner>,
    /// Where the largest card lies, on the host's sheet: its least and greatest corner.
    pub space: (Point, Point),
    /// The least width that a card of the full height has to have more of, so that it can't slip out of one corner while
    /// it stands in the other.
    pub least_width: Length,
    /// The same of the height of a card of the full width.
    pub least_height: Length,
    /// The usual cards that they hold, and whether each is turned.
    pub cards: Vec<(Card, bool)>,
}

/// How the corner of a card goes in; `None` where the glue leaves no room.
pub(crate) fn corner_fit(kind: &TuckCorner, unit: Unit) -> Option<CornerFit> {
    let (a, d) = (nm(kind.across), nm(kind.down));
    let room = room(a, d, nm(kind.strip));
    let (across, down) = (length(room / d.max(1)), length(room / a.max(1)));
    if across <= Length::ZERO || down <= Length::ZERO {
        return None;
    }
    let legs = libm::hypot(kind.across.mm(), kind.down.mm());
    let depth = down_mm(across.mm() * kind.down.mm() / legs, unit);
    let (a, d) = (a - nm(kind.band), d - nm(kind.band));
    let beyond = if kind.band > Length::ZERO { room_beyond(a, d, nm(kind.strip)) } else { 0.0 };
    Some(CornerFit { across, down, depth, covered: across.mm() * down.mm() / 2.0 - beyond })
}

/// `ad - s (a + d)`, in nm²: divided by one leg, how far the other reaches beyond the glue.
const fn room(a: i128, d: i128, s: i128) -> i128 {
    a * d - s * (a + d)
}

/// How much of the card lies in the open corner beyond a band whose inner edge has legs `a` and `d`, in mm².
fn room_beyond(a: i128, d: i128, s: i128) -> f64 {
    let room = room(a, d, s);
    if a <= 0 || d <= 0 || room <= 0 { 0.0 } else { length(room / d).mm() * length(room / a).mm() / 2.0 }
}

fn nm(length: Length) -> i128 {
    i128::from(length.nm())
}

/// What is no longer than a leg.
fn length(nm: i128) -> Length {
    i64::try_from(nm).map_or(Length::ZERO, Length::from_nm)
}

/// Every tuck corner that lies upright, or turned by whole quarters, on its panel.
fn corners(document: &Document, layout: &Layout) -> Vec<(PanelId, Face, Corner)> {
    let corner = |part: &PartLayout| {
        let PartKind::TuckCorner(kind) = &document.part(part.id)?.kind else { return None };
        let laid = part.laid?;
        Some((laid.on, laid.face, corner_on(part, kind, &laid, document.units)?))
    };
    layout.parts.iter().filter_map(corner).collect()
}

fn corner_on(part: &PartLayout, kind: &TuckCorner, laid: &Laid, unit: Unit) -> Option<Corner> {
    let fit = corner_fit(kind, unit)?;
    let [level, upright] = kind.corner.edges();
    let from_corner = |across: Length, down: Length| {
        let x = if upright == SheetEdge::Left { across } else { kind.across - across };
        let y = if level == SheetEdge::Top { down } else { kind.down - down };
        laid.on_host(Point::new(x, y))
    };
    let at = from_corner(kind.strip, kind.strip);
    let ends = [from_corner(kind.strip + fit.across, kind.strip), from_corner(kind.strip, kind.strip + fit.down)];
    let [first, second] = ends.map(|end| end - at);
    let (side, drop) = if first.y == Length::ZERO { (first, second) } else { (second, first) };
    if side.y != Length::ZERO || drop.x != Length::ZERO {
        return None;
    }
    let corner = match (side.x > Length::ZERO, drop.y > Length::ZERO) {
        (true, true) => PanelCorner::TopLeft,
        (false, true) => PanelCorner::TopRight,
        (false, false) => PanelCorner::BottomRight,
        (true, false) => PanelCorner::BottomLeft,
    };
    Some(Corner { part: part.id, corner, at, reach: (side.x.abs(), drop.y.abs()), covered: fit.covered })
}

/// Tuck corners of a design that face one another on one face of a panel. Where a panel has several of one kind, each goes
/// with the nearest that faces it; else all of a panel hold one card.
#[must_use]
pub fn corner_sets(document: &Document, layout: &Layout) -> Vec<CornerSet> {
    let all = corners(document, layout);
    let mut places: Vec<(PanelId, Face)> = all.iter().map(|&(host, face, _)| (host, face)).collect();
    places.sort_unstable();
    places.dedup();
    let on = |place: (PanelId, Face)| {
        let own: Vec<Corner> = all.iter().filter(|one| (one.0, one.1) == place).map(|one| one.2).collect();
        let groups = if is_one_of_each(&own) { vec![own] } else { pairs(&own) };
        groups.into_iter().filter_map(move |group| CornerSet::of(place, group)).collect::<Vec<_>>()
    };
    places.into_iter().flat_map(on).collect()
}

fn is_one_of_each(corners: &[Corner]) -> bool {
    PanelCorner::ALL.iter().all(|kind| corners.iter().filter(|corner| corner.corner == *kind).count() <= 1)
}

const fn opposite(corner: PanelCorner) -> PanelCorner {
    match corner {
        PanelCorner::TopLeft => PanelCorner::BottomRight,
        PanelCorner::TopRight => PanelCorner::BottomLeft,
        PanelCorner::BottomRight => PanelCorner::TopLeft,
        PanelCorner::BottomLeft => PanelCorner::TopRight,
    }
}

/// Each upper corner with the nearest that faces it and is not taken.
fn pairs(corners: &[Corner]) -> Vec<Vec<Corner>> {
    let mut found: Vec<(i128, usize, usize)> = Vec::new();
    for (i, a) in corners.iter().enumerate() {
        for (j, b) in corners.iter().enumerate() {
            let is_facing = b.corner == opposite(a.corner) && a.corner.edges()[0] == SheetEdge::Top;
            if let Some((low, high)) = space(&[*a, *b]).filter(|_| is_facing) {
                found.push((nm(high.x - low.x) * nm(high.y - low.y), i, j));
            }
        }
    }
    found.sort_unstable();
    let mut taken = vec![false; corners.len()];
    let mut out = Vec::new();
    for (_, i, j) in found {
        if !taken[i] && !taken[j] {
            taken[i] = true;
            taken[j] = true;
            out.push(vec![corners[i], corners[j]]);
        }
    }
    out
}

/// Where the largest card lies between corners; `None` unless they bound it on all four sides.
fn space(corners: &[Corner]) -> Option<(Point, Point)> {
    let at = |edge: SheetEdge| corners.iter().filter(move |one| one.corner.edges().contains(&edge)).map(|one| one.at);
    let low = Point::new(at(SheetEdge::Left).map(|at| at.x).max()?, at(SheetEdge::Top).map(|at| at.y).max()?);
    let high = Point::new(at(SheetEdge::Right).map(|at| at.x).min()?, at(SheetEdge::Bottom).map(|at| at.y).min()?);
    (low.x < high.x && low.y < high.y).then_some((low, high))
}

impl CornerSet {
    fn of((host, face): (PanelId, Face), corners: Vec<Corner>) -> Option<Self> {
        let space = space(&corners)?;
        let mut set = Self {
            host,
            face,
            corners,
            space,
            least_width: Length::ZERO,
            least_height: Length::ZERO,
            cards: Vec::new(),
        };
        let (width, height) = set.largest();
        // How far the largest card may be drawn back from a pair of corners, one way.
        let slack = |of: fn((Length, Length)) -> Length| {
            let pair = |(a, b): (&Corner, &Corner)| set.slack(a).and_then(|a| Some(of(a).min(of(set.slack(b)?))));
            set.facing().filter_map(pair).max()
        };
        let (across, down) = (slack(|slack| slack.0)?, slack(|slack| slack.1)?);
        (set.least_width, set.least_height) = ((width - across).max(Length::ZERO), (height - down).max(Length::ZERO));
        let ways = CARDS.iter().flat_map(|card| [(*card, false), (*card, true)]);
        set.cards = ways
            .filter(|(card, is_turned)| {
                set.holds(if *is_turned { (card.height, card.width) } else { (card.width, card.height) })
            })
            .collect();
        Some(set)
    }

    /// The width and height of the largest card.
    #[must_use]
    pub fn largest(&self) -> (Length, Length) {
        let (low, high) = self.space;
        (high.x - low.x, high.y - low.y)
    }

    /// Whether a card of this width and height goes between the corners and stays: pushed all the way into one corner, it
    /// still stands in the one that faces it.
    #[must_use]
    pub fn holds(&self, (width, height): (Length, Length)) -> bool {
        let (most_wide, most_high) = self.largest();
        let (left, up) = (most_wide - width, most_high - height);
        let fits = width > Length::ZERO && height > Length::ZERO && left >= Length::ZERO && up >= Length::ZERO;
        fits && self.facing().any(|(a, b)| self.is_under(a, left, up) && self.is_under(b, left, up))
    }

    /// What share of the largest card the corners cover, 0 to 1.
    #[must_use]
    pub fn share(&self) -> f64 {
        let (width, height) = self.largest();
        self.corners.iter().map(|corner| corner.covered).sum::<f64>() / (width.mm() * height.mm())
    }

    /// Corners that face one another, each pair once.
    fn facing(&self) -> impl Iterator<Item = (&Corner, &Corner)> {
        let upper = self.corners.iter().filter(|one| one.corner.edges()[0] == SheetEdge::Top);
        upper.flat_map(|a| self.corners.iter().filter(|b| b.corner == opposite(a.corner)).map(move |b| (a, b)))
    }

    /// How far the corner of the largest card lies from where the glue meets, which other corners may keep it from.
    fn offset(&self, corner: &Corner) -> (Length, Length) {
        let (low, high) = self.space;
        let [level, upright] = corner.corner.edges();
        let x = if upright == SheetEdge::Left { low.x } else { high.x };
        let y = if level == SheetEdge::Top { low.y } else { high.y };
        ((x - corner.at.x).abs(), (y - corner.at.y).abs())
    }

    /// Whether a card's corner still is under a tuck corner, when it lies so far inwards from that of the largest card.
    fn is_under(&self, corner: &Corner, across: Length, down: Length) -> bool {
        let (off_x, off_y) = self.offset(corner);
        let (reach_x, reach_y) = corner.reach;
        let (x, y) = (nm(off_x + across), nm(off_y + down));
        x * nm(reach_y) + y * nm(reach_x) < nm(reach_x) * nm(reach_y)
    }

    /// How far the corner of the largest card may be drawn back from a tuck corner, from side to side alone and from top to
    /// bottom alone; `None` where it does not stand in it at all.
    fn slack(&self, corner: &Corner) -> Option<(Length, Length)> {
        let (off_x, off_y) = self.offset(corner);
        let (reach_x, reach_y) = corner.reach;
        // On the slanting edge x / reach_x + y / reach_y = 1.
        let x = reach_x - length(nm(off_y) * nm(reach_x) / nm(reach_y).max(1)) - off_x;
        let y = reach_y - length(nm(off_x) * nm(reach_y) / nm(reach_x).max(1)) - off_y;
        (x > Length::ZERO && y > Length::ZERO).then_some((x, y))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn kind(across: i64, down: i64, band: i64, strip: i64) -> TuckCorner {
        let mm = |count| Length::MILLIMETRE * count;
        TuckCorner {
            across: mm(across),
            down: mm(down),
            corner: PanelCorner::TopLeft,
            band: mm(band),
            strip: mm(strip),
        }
    }

    #[track_caller]
    fn check(kind: TuckCorner, legs: (f64, f64), depth: &str, covered: f64) {
        let fit = corner_fit(&kind, Unit::Millimetre).unwrap();
        assert!((fit.across.mm() - legs.0).abs() < 1e-5 && (fit.down.mm() - legs.1).abs() < 1e-5, "{fit:?}");
        assert_eq!(fit.depth.text(Unit::Millimetre), depth);
        assert!((fit.covered - covered).abs() < 1e-3, "{fit:?}");
    }

    // By hand: similar triangles.

    #[test]
    fn a_corner_goes_in_up_to_the_slanting_edge() {
        // No glue to speak of: 30 by 40 and a hypotenuse of 50, 24 from the corner.
        check(kind(30, 40, 0, 0), (30.0, 40.0), "24 mm", 600.0);
        // Equal legs of 40 less twice 6: 28, and 28 / √2 = 19.799 from corner to edge.
        check(kind(40, 40, 0, 6), (28.0, 28.0), "19.7 mm", 392.0);
        // 30 - 3 - 30 · 3/60 = 25.5; 60 - 3 - 60 · 3/30 = 51.
        check(kind(30, 60, 0, 3), (25.5, 51.0), "22.8 mm", 650.25);
    }

    #[test]
    fn a_band_leaves_the_tip_open() {
        // Legs of 28 outside, of 8 inside.
        check(kind(40, 40, 20, 6), (28.0, 28.0), "19.7 mm", 392.0 - 32.0);
        // The open tip is all glue.
        check(kind(40, 40, 30, 6), (28.0, 28.0), "19.7 mm", 392.0);
    }

    #[test]
    fn glue_all_over_leaves_no_room() {
        assert_eq!(corner_fit(&kind(12, 12, 0, 6), Unit::Millimetre), None);
        assert_eq!(corner_fit(&kind(30, 8, 0, 7), Unit::Millimetre), None);
    }

    #[test]
    fn a_share_is_of_a_card_that_covers_the_corner() {
        let fit = corner_fit(&kind(40, 40, 0, 6), Unit::Millimetre).unwrap();
        let mm = |count| Length::MILLIMETRE * count;
        assert!((fit.share((mm(98), mm(40))).unwrap() - 0.1).abs() < 1e-12);
        assert_eq!(fit.share((mm(27), mm(40))), None);
    }
}
