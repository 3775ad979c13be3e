//! What an offcut would do for: parts with the offcut's own measures, those first that waste least.
//!
//! The measures that tell a strip from a card are common practice, no source.

use crate::allotment::{Allotment, Origin};
use crate::settings::GrainWish;
use crate::shape::{Shape, turned_into, turned_size};
use crate::steps::size_words;
use crate::upright::{Lies, Views};
use crate::wanted::{Demand, demand};
use crate::whole::fit;
use model::part::own::glue_below;
use model::part::pattern::PartPattern;
use model::part::{
    Band, Edges, GlueArea, Hinge, Mat, Own, Page, PanelCorner, Placement, Pocket, Rotation, Source, Tab, TuckCorner,
};
use model::{Area, Document, Face, Layout, Length, PanelRef, Part, PartKind, PieceId, Point, SheetEdge, Size};
use nest::Rect;

/// A part that an offcut would do for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Suggestion {
    /// "Hinge, 3/4 x 6 in": what it is, and the size of its own little sheet.
    pub label: String,
    /// The part, ready to be put into the design, in the middle of the panel asked about.
    pub part: Part,
    /// What it would leave or lose of the offcut, or of what is still left of it.
    pub waste: Area,
}

/// What a strip is glued by: a page's own, 1/2 in.
const PAGE_STRIP: Length = Length::from_sixty_fourths(32);
/// Hinges are strips at least so many times as long as wide.
const STRIP: i64 = 3;
/// Nothing goes into a pocket or page narrower than this: 1 1/2 in.
const LEAST_POCKET: Length = Length::from_sixty_fourths(96);
/// A tab is at most 2 1/2 in long.
const MOST_TAB: Length = Length::from_sixty_fourths(160);
/// A square for a corner is at most 3 in wide.
const MOST_CORNER: Length = Length::from_sixty_fourths(192);
/// How far a band goes beyond twice the base: 1/8 in, so that it slides.
const BAND_EASE: Length = Length::EIGHTH;
/// The overlap of a band is from 1/2 in to 3 in.
const BAND_OVERLAP: [Length; 2] = [Length::from_sixty_fourths(32), Length::from_sixty_fourths(192)];

/// What an offcut would do for on the panel `on`: none for a piece that is no offcut, or of which nothing is left. A
/// part is only suggested where the paper does for it with its pattern upright, and where its main panel is no larger than
/// the panel it is to lie on.
///
/// An untouched offcut is suggested as it is ([`Source::Whole`]); of another the largest rectangle left
/// ([`Source::Offcut`]).
#[must_use]
pub fn fitting(
    document: &Document,
    layout: &Layout,
    allotment: &Allotment,
    piece: PieceId,
    on: PanelRef,
) -> Vec<Suggestion> {
    let Some(finder) = Finder::of(document, layout, allotment, piece, on) else { return Vec::new() };
    let mut found: Vec<Suggestion> = finder.kinds().into_iter().filter_map(|kind| finder.suggestion(&kind)).collect();
    // Stable, so what is likeliest comes first among equals.
    found.sort_by_key(|suggestion| suggestion.waste);
    found
}

struct Finder<'a> {
    document: &'a Document,
    views: Views,
    /// The paper there is.
    shape: Shape,
    /// The rectangle to use of it.
    rect: Rect,
    source: Source,
    /// The shape that an untouched offcut has, with the scores across it.
    as_it_is: Option<Own>,
    grain: GrainWish,
    on: PanelRef,
    host: Option<model::PanelId>,
    /// How wide and high the panel is that it is to lie on.
    room: (Length, Length),
    /// How wide and high the base is.
    base: (Length, Length),
}

impl<'a> Finder<'a> {
    fn of(
        document: &'a Document,
        layout: &'a Layout,
        allotment: &Allotment,
        piece: PieceId,
        on: PanelRef,
    ) -> Option<Self> {
        let offcut = allotment.offcut(piece)?;
        let of = layout.pieces.get(piece.0)?;
        let marks = of.panels.iter().filter_map(|&panel| layout.panel(panel).inside);
        let mark = marks.into_iter().next()?;
        let is_whole =
            |origin: &Origin| matches!(origin, Origin::Offcut { piece: other, whole: true, .. } if *other == piece);
        if allotment.supplies.iter().any(|supply| is_whole(&supply.from)) {
            return None;
        }
        let rect = offcut.remainders.iter().copied().reduce(|a, b| if b.area() > a.area() { b } else { a })?;
        let (shape, source, as_it_is) = if offcut.is_untouched {
            (Shape::of(layout, &of.panels), Source::Whole(mark), Own::of_offcut(layout, piece))
        } else {
            (of_rect(rect), Source::Offcut(mark), Some(Own::plain(rect.size)))
        };
        let host = layout.panel_of(on);
        let room = layout.panel(host?).extent();
        let base = layout.base.map_or(room, |base| layout.panel(base).extent());
        let views = Views::of(document, layout);
        let grain = allotment.settings.grain;
        Some(Self { document, views, shape, rect, source, as_it_is, grain, on, host, room, base })
    }

    /// What the paper suggests, likeliest first.
    fn kinds(&self) -> Vec<PartKind> {
        let mut kinds = Vec::new();
        if let Some(corner) = self.corner() {
            kinds.push(corner);
        }
        let (width, height) = (self.rect.size.width(), self.rect.size.height());
        let (long, short) = (width.max(height), width.min(height));
        if long >= short * STRIP {
            let leaf = short.half();
            kinds.push(PartKind::Hinge(Hinge { length: long, leaf, free_leaf: short - leaf }));
            kinds.extend(self.bands(long, short));
        }
        if short >= LEAST_POCKET && long < short * STRIP {
            let glued = Edges::of(&[SheetEdge::Right, SheetEdge::Bottom, SheetEdge::Left]);
            let (strip, none) = (GlueArea::USUAL_STRIP, Length::ZERO);
            kinds.push(PartKind::Pocket(Pocket { width, height, glued, strip, rim: none, gusset: none }));
            let leaf = width - PAGE_STRIP;
            kinds.push(PartKind::Page(Page { width: leaf, height, hinged: SheetEdge::Left, strip: PAGE_STRIP }));
        }
        if long <= MOST_TAB {
            let strip = GlueArea::USUAL_STRIP.min(height.half());
            kinds.push(PartKind::Tab(Tab { width, height, glued: SheetEdge::Bottom, strip }));
        }
        kinds.push(PartKind::Mat(Mat { width, height }));
        if long <= MOST_CORNER && long * 4 <= short * 5 {
            kinds.push(tuck_corner(width, height, PanelCorner::BottomLeft));
        }
        kinds.extend(self.as_it_is.clone().map(PartKind::Own));
        kinds
    }

    /// A triangle with a level and an upright leg, as a corner.
    fn corner(&self) -> Option<PartKind> {
        let ([ring], true) = (self.shape.rings.as_slice(), self.shape.slits.is_empty()) else { return None };
        let (low, high) = self.shape.bounds();
        let is_corner =
            |point: &Point| (point.x == low.x || point.x == high.x) && (point.y == low.y || point.y == high.y);
        let missing = PanelCorner::ALL.into_iter().find(|corner| {
            let [level, upright] = corner.edges();
            let x = if upright == SheetEdge::Left { high.x } else { low.x };
            let y = if level == SheetEdge::Top { high.y } else { low.y };
            !ring.contains(&Point::new(x, y))
        })?;
        let is_triangle = ring.len() == 3 && ring.iter().all(is_corner);
        is_triangle.then(|| tuck_corner(high.x - low.x, high.y - low.y, missing))
    }

    /// A band round the closed folio, taken to be as large as its base.
    fn bands(&self, long: Length, short: Length) -> Option<PartKind> {
        let fits = |(side, is_upright): (Length, bool)| {
            let around = side * 2 + BAND_EASE;
            let overlap = long - around;
            let is_fair = overlap >= BAND_OVERLAP[0] && overlap <= BAND_OVERLAP[1];
            is_fair.then_some(PartKind::Band(Band { around, width: short, overlap, is_upright }))
        };
        [(self.base.0, false), (self.base.1, true)].into_iter().find_map(fits)
    }

    /// The part, upright on its panel or turned by a quarter, where the paper does for it that way.
    fn suggestion(&self, kind: &PartKind) -> Option<Suggestion> {
        let rotations = [Rotation::NONE, Rotation::QUARTER];
        rotations.into_iter().find_map(|rotation| self.turned(kind, rotation))
    }

    fn turned(&self, kind: &PartKind, rotation: Rotation) -> Option<Suggestion> {
        let place = Placement { rotation, ..Placement::centred(self.on) };
        let id = self.document.next_part();
        let mut part =
            Part { id, name: String::new(), kind: kind.clone(), source: self.source, place, also: Vec::new() };
        if matches!(kind, PartKind::Own(_)) {
            part.also.extend(glue_below(&part, self.document, self.on));
        }
        let pattern = PartPattern::of(&part, self.document).ok()?;
        let sheet = Layout::of(&pattern.document);
        let own = Shape::of(&sheet, &sheet.folio()?.panels);
        let main = sheet.panel(sheet.base?).extent();
        let on = if kind.is_on_a_panel() { self.host } else { None };
        let lies = Lies { on, face: Face::Front, rotation, showing: Face::Front };
        let Demand { quarters, is_exact } =
            demand(&self.views, Some(&self.document.stock), lies, &sheet.folds, self.grain);
        let (across, down) = if rotation == Rotation::NONE { main } else { (main.1, main.0) };
        let has_room = !kind.is_on_a_panel() || (across <= self.room.0 && down <= self.room.1);
        let size = pattern.size();
        let does = match self.source {
            Source::Whole(_) => fit(&own, size, quarters, &self.shape).is_some(),
            _ => self.is_the_rect(size, quarters),
        };
        let label = format!("{}, {}", kind.word(), size_words(size, self.document.units));
        (does && has_room && is_exact).then_some(Suggestion { label, part, waste: self.shape.area - own.area })
    }

    /// Whether the rectangle, turned as demanded, is that of the paper.
    fn is_the_rect(&self, size: Size, demand: Option<u8>) -> bool {
        let turns = demand.map_or_else(|| vec![0, 1], |quarters| vec![quarters]);
        turns.into_iter().any(|quarters| turned_size(size, quarters) == self.rect.size)
    }
}

fn tuck_corner(across: Length, down: Length, corner: PanelCorner) -> PartKind {
    let strip = GlueArea::USUAL_STRIP.min(across.min(down) / 4);
    PartKind::TuckCorner(TuckCorner { across, down, corner, band: Length::ZERO, strip })
}

fn of_rect(rect: Rect) -> Shape {
    let corner = |point: &Point| turned_into(*point, rect.size, 0, rect.corner);
    Shape { rings: vec![rect.size.corners().iter().map(corner).collect()], slits: Vec::new(), area: rect.area() }
}
