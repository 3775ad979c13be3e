//! What the paper of a part looks like before it is folded: a little sheet with scores and cuts, worked out from its kind.

use super::glue::{Edges, GlueArea};
use super::kind::{Band, Flap, Hinge, Own, Page, PanelCorner, PartKind, Pocket, TuckCorner};
use super::{Part, PartFault};
use crate::document::Document;
use crate::geometry::{Point, Size};
use crate::length::Length;
use crate::line::{Crease, Datum, Direction, Face, FoldAngle, Line, LineId, Place, Run, Spot, Work};
use crate::stock::{SheetEdge, Stock};
use crate::turn::Turn;

/// The little sheet of a part, and what is done with it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PartPattern {
    /// The sheet, of the upright rectangle that the part is cut from, with its lines. Its base is the main panel.
    pub document: Document,
    /// What is folded before the part is put in place, step by step.
    pub before: Vec<Vec<LineId>>,
    /// What folds with the folio.
    pub later: Vec<LineId>,
    /// What its panels are called, each by a point inside.
    pub names: Vec<(Point, &'static str)>,
    /// The glue of its kind, on what it is put on.
    pub glue: Vec<PatternGlue>,
}

/// Glue of a part's kind.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PatternGlue {
    /// A point inside the panel that it is on.
    pub at: Point,
    /// The face that it is on.
    pub face: Face,
    /// Where on it.
    pub area: GlueArea,
}

impl PartPattern {
    /// The pattern of a part of a design.
    ///
    /// # Errors
    /// Says which measure can't be.
    pub fn of(part: &Part, document: &Document) -> Result<Self, PartFault> {
        check_measures(&part.kind)?;
        let glued_under = part.place.showing.other();
        let builder = |width: Length, height: Length| Builder::new(document, part, width, height);
        match &part.kind {
            PartKind::Hinge(kind) => hinge(builder(kind.leaf + kind.free_leaf, kind.length)?, *kind, glued_under),
            PartKind::Pocket(kind) => pocket(&builder, *kind, glued_under),
            PartKind::TuckCorner(kind) => tuck_corner(builder(kind.across, kind.down)?, *kind, glued_under),
            PartKind::Page(kind) => page(&builder, *kind, glued_under),
            PartKind::Flap(kind) => flap(&builder, *kind, glued_under),
            PartKind::Band(Band { around, width, overlap, is_upright }) => {
                let (long, wide) = (*around + *overlap, *width);
                let (width, height) = if *is_upright { (wide, long) } else { (long, wide) };
                Ok(builder(width, height)?.whole(GlueArea::None, glued_under))
            }
            PartKind::Mat(mat) => Ok(builder(mat.width, mat.height)?.whole(GlueArea::Whole, glued_under)),
            PartKind::Tab(tab) => {
                let area = GlueArea::Strips(Edges::of(&[tab.glued]), tab.strip);
                Ok(builder(tab.width, tab.height)?.whole(area, glued_under))
            }
            PartKind::Insert(insert) => Ok(builder(insert.width, insert.height)?.whole(GlueArea::None, glued_under)),
            PartKind::Closure(closure) => {
                Ok(builder(closure.width, closure.height)?.whole(GlueArea::Whole, glued_under))
            }
            PartKind::Own(kind) => own(builder(kind.size.width(), kind.size.height())?, kind),
        }
    }

    /// The size of the rectangle it is cut from.
    #[must_use]
    pub const fn size(&self) -> Size {
        self.document.stock.size
    }
}

fn check_measures(kind: &PartKind) -> Result<(), PartFault> {
    let is_glued_nowhere = matches!(kind, PartKind::Pocket(pocket) if pocket.glued == Edges::NONE);
    for (name, length) in kind.measures() {
        let may_be_nothing = match name {
            "rim" | "gusset" | "band" => true,
            "glue strip" => is_glued_nowhere,
            _ => false,
        };
        if length < Length::ZERO || (length == Length::ZERO && !may_be_nothing) {
            return Err(PartFault::NoMeasure(name));
        }
        // So that no sum of them overflows.
        if length > Length::LIMIT {
            return Err(PartFault::TooLarge);
        }
    }
    Ok(())
}

/// A pattern in the making.
struct Builder {
    pattern: PartPattern,
}

impl Builder {
    fn new(document: &Document, part: &Part, width: Length, height: Length) -> Result<Self, PartFault> {
        let size = Size::new(width, height).ok_or(PartFault::TooLarge)?;
        let stock = Stock { size, ..part.stock(document).cloned().unwrap_or_else(|| Stock::plain(size)) };
        let mut sheet = Document { stock, groove: document.groove, ..Document::new(size, document.units) };
        sheet.title = document.part_name(part.id);
        let pattern =
            PartPattern { document: sheet, before: Vec::new(), later: Vec::new(), names: Vec::new(), glue: Vec::new() };
        Ok(Self { pattern })
    }

    fn add(&mut self, place: Place, work: Work) -> LineId {
        let id = self.pattern.document.next_line();
        self.pattern.document.lines.push(Line::new(id, place, work));
        id
    }

    /// A score that folds all the way, so far from the left edge, or from the top.
    fn score(&mut self, turn: Turn, distance: Length, direction: Direction) -> LineId {
        let place = Place::Measured { turn, from: Datum::Edge, distance, run: Run::FULL };
        self.add(place, Work::Score(Crease { direction, angle: FoldAngle::Flat, pressed: None }))
    }

    fn cut(&mut self, from: Point, to: Point) {
        let place = Place::Drawn { from: Spot::At(from), to: Spot::At(to), bow: Length::ZERO };
        self.add(place, Work::Cut);
    }

    fn glue(&mut self, at: Point, face: Face, area: GlueArea) {
        self.pattern.glue.push(PatternGlue { at, face, area });
    }

    /// One panel, glued so.
    fn whole(mut self, area: GlueArea, face: Face) -> PartPattern {
        let size = self.pattern.size();
        let middle = Point::new(size.width().half(), size.height().half());
        self.pattern.document.base = Some(middle);
        self.glue(middle, face, area);
        self.pattern
    }
}

/// Which way a fold goes that brings a panel under the one whose face `glued_under` lies below.
const fn under(glued_under: Face) -> Direction {
    match glued_under {
        Face::Back => Direction::Mountain,
        Face::Front => Direction::Valley,
    }
}

/// Which way a fold goes that brings a panel over the one whose face `glued_under` lies below.
const fn over(glued_under: Face) -> Direction {
    under(glued_under).reversed()
}

fn hinge(mut builder: Builder, kind: Hinge, glued_under: Face) -> Result<PartPattern, PartFault> {
    let fold = builder.score(Turn::None, kind.leaf, over(glued_under));
    let middle = kind.length.half();
    let (leaf, free) = (Point::new(kind.leaf.half(), middle), Point::new(kind.leaf + kind.free_leaf.half(), middle));
    builder.glue(leaf, glued_under, GlueArea::Whole);
    let mut pattern = builder.pattern;
    pattern.document.base = Some(leaf);
    pattern.before = vec![vec![fold]];
    pattern.names = vec![(leaf, "glued leaf"), (free, "free leaf")];
    Ok(pattern)
}

/// What is beyond the edges of a pocket's front, and where that lies on its little sheet.
struct Front {
    kind: Pocket,
    around: Margins,
    low: Point,
    high: Point,
    middle: Point,
}

/// How far paper reaches beyond each edge of a pocket's front.
#[derive(Clone, Copy)]
struct Margins {
    top: Length,
    right: Length,
    bottom: Length,
    left: Length,
}

impl Margins {
    fn of(kind: Pocket) -> Self {
        let margin = |edge: SheetEdge| match kind.glued.has(edge) {
            true if kind.gusset > Length::ZERO => kind.gusset + kind.strip,
            false if kind.mouth() == Some(edge) => kind.rim,
            _ => Length::ZERO,
        };
        Self {
            top: margin(SheetEdge::Top),
            right: margin(SheetEdge::Right),
            bottom: margin(SheetEdge::Bottom),
            left: margin(SheetEdge::Left),
        }
    }
}

impl Front {
    fn of(kind: Pocket) -> Self {
        let around = Margins::of(kind);
        let low = Point::new(around.left, around.top);
        let high = Point::new(low.x + kind.width, low.y + kind.height);
        let middle = Point::new(low.x + kind.width.half(), low.y + kind.height.half());
        Self { kind, around, low, high, middle }
    }

    /// So far beyond the middle of an edge of the front.
    fn beyond(&self, edge: SheetEdge, distance: Length) -> Point {
        let Self { low, high, middle, .. } = *self;
        match edge {
            SheetEdge::Top => Point::new(middle.x, low.y - distance),
            SheetEdge::Right => Point::new(high.x + distance, middle.y),
            SheetEdge::Bottom => Point::new(middle.x, high.y + distance),
            SheetEdge::Left => Point::new(low.x - distance, middle.y),
        }
    }

    /// Scores along an edge of the front, so far beyond it, from side to side of the sheet: the corners are cut off later.
    fn score(&self, builder: &mut Builder, edge: SheetEdge, distance: Length, direction: Direction) -> LineId {
        let at = self.beyond(edge, distance);
        match edge {
            SheetEdge::Top | SheetEdge::Bottom => builder.score(Turn::Once, at.y, direction),
            SheetEdge::Left | SheetEdge::Right => builder.score(Turn::None, at.x, direction),
        }
    }

    /// The side and the strip beyond a glued edge: the side goes under the front, the strip outwards again under it.
    fn gusset(&self, builder: &mut Builder, edge: SheetEdge, glued_under: Face) {
        let Pocket { gusset, strip, .. } = self.kind;
        let inner = self.score(builder, edge, Length::ZERO, under(glued_under));
        let outer = self.score(builder, edge, gusset, over(glued_under));
        // The outer fold first: the other way round the strip would have to be folded beneath the front.
        builder.pattern.before.extend([vec![outer], vec![inner]]);
        let in_strip = self.beyond(edge, gusset + strip.half());
        builder.pattern.names.extend([(self.beyond(edge, gusset.half()), "gusset"), (in_strip, "glue strip")]);
        builder.glue(in_strip, glued_under, GlueArea::Whole);
    }

    fn rim(&self, builder: &mut Builder, edge: SheetEdge, glued_under: Face) {
        let fold = self.score(builder, edge, Length::ZERO, over(glued_under));
        builder.pattern.before.push(vec![fold]);
        builder.pattern.names.push((self.beyond(edge, self.kind.rim.half()), "rim"));
    }

    /// Takes the corners off the little sheet. Where two gussets meet, the upright one stops short, so that both lie flat
    /// under the front.
    fn cut_corners(&self, builder: &mut Builder) {
        let Self { kind, around, low, high, .. } = *self;
        let size = builder.pattern.size();
        for corner in PanelCorner::ALL {
            let [level, upright] = corner.edges();
            let (fold_x, edge_x, wide) = match upright {
                SheetEdge::Left => (low.x, Length::ZERO, around.left),
                _ => (high.x, size.width(), around.right),
            };
            let (fold_y, edge_y, tall, inwards) = match level {
                SheetEdge::Top => (low.y, Length::ZERO, around.top, kind.gusset),
                _ => (high.y, size.height(), around.bottom, -kind.gusset),
            };
            if wide > Length::ZERO && tall > Length::ZERO {
                let both = kind.glued.has(level) && kind.glued.has(upright);
                let short = if both { fold_y + inwards } else { fold_y };
                builder.cut(Point::new(edge_x, short), Point::new(fold_x, short));
                builder.cut(Point::new(fold_x, short), Point::new(fold_x, edge_y));
            }
        }
    }
}

fn pocket(
    builder: &impl Fn(Length, Length) -> Result<Builder, PartFault>,
    kind: Pocket,
    glued_under: Face,
) -> Result<PartPattern, PartFault> {
    if kind.has_gusset_too_deep() {
        return Err(PartFault::GussetTooDeep);
    }
    let front = Front::of(kind);
    let Margins { top, right, bottom, left } = front.around;
    let mut builder = builder(left + kind.width + right, top + kind.height + bottom)?;
    builder.pattern.document.base = Some(front.middle);
    builder.pattern.names.push((front.middle, "front"));
    let gusseted = kind.gusset > Length::ZERO;
    if !gusseted {
        builder.glue(front.middle, glued_under, GlueArea::Strips(kind.glued, kind.strip));
    }
    for edge in SheetEdge::ALL {
        if gusseted && kind.glued.has(edge) {
            front.gusset(&mut builder, edge, glued_under);
        } else if kind.mouth() == Some(edge) && kind.rim > Length::ZERO {
            front.rim(&mut builder, edge, glued_under);
        }
    }
    front.cut_corners(&mut builder);
    Ok(builder.pattern)
}

fn tuck_corner(mut builder: Builder, kind: TuckCorner, glued_under: Face) -> Result<PartPattern, PartFault> {
    if kind.band >= kind.across.min(kind.down) {
        return Err(PartFault::BandTooWide);
    }
    let [level, upright] = kind.corner.edges();
    // From the corner: so far along the level edge, and along the upright one.
    let at = |across: Length, down: Length| {
        let x = if upright == SheetEdge::Left { across } else { kind.across - across };
        let y = if level == SheetEdge::Top { down } else { kind.down - down };
        Point::new(x, y)
    };
    builder.cut(at(kind.across, Length::ZERO), at(Length::ZERO, kind.down));
    let is_band = kind.band > Length::ZERO;
    let inside = if is_band {
        builder.cut(at(kind.across - kind.band, Length::ZERO), at(Length::ZERO, kind.down - kind.band));
        at((kind.across - kind.band.half()).half(), (kind.down - kind.band.half()).half())
    } else {
        at(kind.across / 4, kind.down / 4)
    };
    builder.glue(inside, glued_under, GlueArea::Strips(Edges::of(&kind.corner.edges()), kind.strip));
    let mut pattern = builder.pattern;
    pattern.document.base = Some(inside);
    Ok(pattern)
}

/// A strip along one edge of a leaf. Gives the builder, a point in the leaf, one in the strip, and the fold's line.
fn leaf_with_strip(
    builder: &impl Fn(Length, Length) -> Result<Builder, PartFault>,
    (width, height): (Length, Length),
    edge: SheetEdge,
    strip: Length,
    direction: Direction,
) -> Result<(Builder, Point, Point, LineId), PartFault> {
    let is_level = matches!(edge, SheetEdge::Top | SheetEdge::Bottom);
    let mut builder = if is_level { builder(width, height + strip)? } else { builder(width + strip, height)? };
    let (leaf, of_strip) = if is_level {
        (height, Point::new(width.half(), strip.half()))
    } else {
        (width, Point::new(strip.half(), height.half()))
    };
    let first = matches!(edge, SheetEdge::Top | SheetEdge::Left);
    let along = if first { strip } else { leaf };
    let line = builder.score(if is_level { Turn::Once } else { Turn::None }, along, direction);
    let shifted = |by: Length| if is_level { Point::new(width.half(), by) } else { Point::new(by, height.half()) };
    let in_leaf = shifted(if first { strip + leaf.half() } else { leaf.half() });
    let in_strip = if first { of_strip } else { shifted(leaf + strip.half()) };
    Ok((builder, in_leaf, in_strip, line))
}

fn page(
    builder: &impl Fn(Length, Length) -> Result<Builder, PartFault>,
    kind: Page,
    glued_under: Face,
) -> Result<PartPattern, PartFault> {
    let (mut builder, leaf, strip, fold) =
        leaf_with_strip(builder, (kind.width, kind.height), kind.hinged, kind.strip, under(glued_under))?;
    // Folded under, the strip meets what it hangs on with the face that is seen of the leaf.
    builder.glue(strip, glued_under.other(), GlueArea::Whole);
    let mut pattern = builder.pattern;
    pattern.document.base = Some(leaf);
    pattern.before = vec![vec![fold]];
    pattern.names = vec![(leaf, "leaf"), (strip, "strip")];
    Ok(pattern)
}

fn flap(
    builder: &impl Fn(Length, Length) -> Result<Builder, PartFault>,
    kind: Flap,
    glued_under: Face,
) -> Result<PartPattern, PartFault> {
    let (width, height) = match kind.edge {
        SheetEdge::Top | SheetEdge::Bottom => (kind.width, kind.reach),
        SheetEdge::Left | SheetEdge::Right => (kind.reach, kind.width),
    };
    // The strip lies opposite to the edge at which the leaf hangs.
    let (mut builder, leaf, strip, fold) =
        leaf_with_strip(builder, (width, height), kind.edge.opposite(), kind.strip, over(glued_under))?;
    builder.glue(strip, glued_under, GlueArea::Whole);
    let mut pattern = builder.pattern;
    pattern.document.base = Some(strip);
    pattern.later = vec![fold];
    pattern.names = vec![(leaf, "leaf"), (strip, "strip")];
    Ok(pattern)
}

fn own(builder: Builder, kind: &Own) -> Result<PartPattern, PartFault> {
    let mut pattern = builder.pattern;
    pattern.document.lines.clone_from(&kind.lines);
    pattern.document.corners.clone_from(&kind.corners);
    pattern.document.base = Some(kind.base);
    pattern.before.clone_from(&kind.folded);
    let folded: Vec<LineId> = kind.folded.iter().flatten().copied().collect();
    let scores = kind.lines.iter().filter(|line| line.work.is_score() && !folded.contains(&line.id));
    pattern.later = scores.map(|line| line.id).collect();
    Ok(pattern)
}
