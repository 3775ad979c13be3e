//! Usual parts: of each sort one that fits the panel it is put on, as a maker would begin with.
//!
//! Sizes are rounded down to marks on her ruler, so that nothing reaches over its panel unless it is meant to. A panel is
//! bounded by folds, cuts and edges of the sheet, so glue within it never runs across a fold.

mod fit;
mod hung;
pub mod measure;

pub use fit::{Closed, Companion, Fit, Host};
pub use hung::hung;

use super::kind::{
    Closure, ClosureKind, Flap, Hinge, Insert, Mat, Page, PanelCorner, PartKind, Pocket, Tab, TuckCorner,
};
use super::{Anchor, Band, Edges, GlueArea, Gluing, Own, PanelRef, Part, PartId, Placement, Rotation, Source};
use crate::geometry::Size;
use crate::length::Length;
use crate::line::Face;
use crate::stock::SheetEdge;
use fit::Room;
use measure::{ID_1, rounded_up};

/// The sorts, from the one list of them: what each is and what a menu calls it.
macro_rules! sorts {
    ($($(#[$about:meta])+ $sort:ident = $label:literal,)+) => {
        /// What a maker can put on a panel, in the order of her menu.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum Sort {
            $($(#[$about])+ $sort,)+
        }

        impl Sort {
            /// All of them, in the order of a menu.
            pub const ALL: [Self; [$(Self::$sort),+].len()] = [$(Self::$sort),+];

            /// What it is called in a menu.
            #[must_use]
            pub const fn label(self) -> &'static str {
                match self {
                    $(Self::$sort => $label,)+
                }
            }
        }
    };
}

sorts! {
    /// A strip folded along its length.
    Hinge = "Hinge",
    /// A pocket glued along three edges.
    FlatPocket = "Flat pocket",
    /// The same with sides that open.
    GussetedPocket = "Gusseted pocket",
    /// A pocket glued along two edges that meet.
    SlideIn = "Slide-in",
    /// A triangle across a corner.
    TuckCorner = "Tuck corner",
    /// A band across a corner.
    CornerBand = "Corner band",
    /// A leaf with a strip to hang by.
    Page = "Page",
    /// A strip with a leaf that folds over.
    Flap = "Flap",
    /// A strip round the closed folio.
    BellyBand = "Belly band",
    /// A decorative rectangle.
    Mat = "Mat",
    /// A plain rectangle to score and cut as the maker likes.
    OwnShape = "Own shape",
    /// A small piece that stands out.
    Tab = "Tab",
    /// A card that lies in a pocket.
    Insert = "Insert",
    /// A brad.
    Brad = "Brad",
    /// One of a pair of magnets.
    Magnet = "Magnet",
    /// One of a pair of dots.
    HookAndLoop = "Hook-and-loop dot",
    /// A ribbon.
    Ribbon = "Ribbon",
}

/// A part of some sort as it fits a panel.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Usual {
    /// What it is, with its measures.
    pub kind: PartKind,
    /// Where it comes from.
    pub source: Source,
    /// How far across its panel it lies.
    pub across: Anchor,
    /// How far down.
    pub down: Anchor,
    /// How it is turned.
    pub rotation: Rotation,
}

impl Sort {
    /// How it is spelled on a command line: its label in small letters, with hyphens.
    #[must_use]
    pub fn word(self) -> String {
        self.label().to_ascii_lowercase().replace(' ', "-")
    }

    /// The sort that is spelled so.
    #[must_use]
    pub fn of_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|sort| sort.word() == word)
    }

    /// Whether the corner of [`Fit`] matters for it.
    #[must_use]
    pub const fn goes_in_a_corner(self) -> bool {
        matches!(self, Self::SlideIn | Self::TuckCorner | Self::CornerBand)
    }

    /// Whether the edge of [`Fit`] matters for it.
    #[must_use]
    pub const fn goes_at_an_edge(self) -> bool {
        matches!(
            self,
            Self::Hinge | Self::Page | Self::Flap | Self::Tab | Self::Brad | Self::Magnet | Self::HookAndLoop
        )
    }

    /// One that fits a panel. On a panel too small for the usual measures they are smaller, but never nothing; what is
    /// bought, and how far a tab stands out, stays as it is.
    #[must_use]
    pub fn fitted(self, host: &Host, fit: &Fit<'_>) -> Usual {
        let room = Room::of(host, fit);
        match self {
            Self::Hinge => hinge(&room),
            Self::FlatPocket | Self::GussetedPocket => pocket(&room, self == Self::GussetedPocket),
            Self::SlideIn => slide_in(&room),
            Self::TuckCorner | Self::CornerBand => tuck_corner(&room, self == Self::CornerBand),
            Self::Page => page(&room),
            Self::Flap => flap(&room),
            Self::BellyBand => belly_band(&room),
            Self::Mat => {
                let (width, height) = (room.inner(room.width()), room.inner(room.height()));
                Usual::centred(PartKind::Mat(Mat { width, height }), Source::AnyOffcut)
            }
            Self::OwnShape => {
                let size = Size::nearest(room.inner(room.width()), room.inner(room.height()));
                Usual::centred(PartKind::Own(Own::plain(size)), Source::AnyOffcut)
            }
            Self::Tab => tab(&room),
            Self::Insert => insert(&room),
            Self::Brad => dot(&room, ClosureKind::Brad, measure::BRAD, measure::BRAD_THICK.of(fit.units)),
            Self::Magnet => dot(&room, ClosureKind::Magnet, measure::DOT, measure::MAGNET_THICK),
            Self::HookAndLoop => dot(&room, ClosureKind::HookAndLoop, measure::DOT, measure::HOOK_AND_LOOP_THICK),
            Self::Ribbon => ribbon(&room),
        }
    }
}

impl Usual {
    fn centred(kind: PartKind, source: Source) -> Self {
        let middle = fit::MIDDLE;
        Self { kind, source, across: middle, down: middle, rotation: Rotation::NONE }
    }

    fn at(kind: PartKind, (across, down): (Anchor, Anchor)) -> Self {
        Self { kind, source: Source::AnyOffcut, across, down, rotation: Rotation::NONE }
    }

    /// Where it lies on a face of its panel, with the same face of its own seen, so that its left and right are those of
    /// the panel's sheet.
    #[must_use]
    pub const fn place(&self, on: PanelRef, face: Face) -> Placement {
        let Self { across, down, rotation, .. } = *self;
        Placement { on, face, across, down, rotation, showing: face }
    }

    /// The part, without a name, on a face of its panel.
    #[must_use]
    pub fn part(self, id: PartId, on: PanelRef, face: Face) -> Part {
        let place = self.place(on, face);
        // A shape of her own brings no glue of its kind: a plain one is glued all over.
        let all_over = Gluing { panel: 0, face: face.other(), to: on, area: GlueArea::Whole };
        let also = if matches!(self.kind, PartKind::Own(_)) { vec![all_over] } else { Vec::new() };
        Part { id, name: String::new(), kind: self.kind, source: self.source, place, also }
    }
}

/// Along an edge, its fold away from the middle of the panel, so that what it carries covers the panel and opens beyond
/// that edge.
fn hinge(room: &Room<'_>) -> Usual {
    let edge = room.fit.edge.unwrap_or(SheetEdge::Left);
    let (along, depth) = room.along_and_depth(edge);
    let carried = room.fit.with.and_then(|with| fit::front(with.kind));
    let side = carried.map_or_else(|| room.inner(along), |size| fit::side_along(edge, size));
    let end = measure::HINGE_END.of(room.fit.units);
    let leaf = room.at_most(measure::LEAF, depth / 3);
    let kind = Hinge { length: room.less(side.min(along), end * 2), leaf, free_leaf: leaf };
    // The glued leaf lies to the left of the fold on the hinge's own little sheet.
    let rotation = match edge {
        SheetEdge::Right => Rotation::NONE,
        SheetEdge::Bottom => Rotation::QUARTER,
        SheetEdge::Left => Rotation::QUARTER.plus(Rotation::QUARTER),
        SheetEdge::Top => Rotation::from_hundredths(-Rotation::QUARTER.hundredths()),
    };
    let place = fit::beside(edge, room.inset(depth, leaf));
    Usual { rotation, ..Usual::at(PartKind::Hinge(kind), place) }
}

/// Glued left, right and at the bottom, and open at the top.
fn pocket(room: &Room<'_>, is_gusseted: bool) -> Usual {
    let (width, height) = (room.inner(room.width()), room.pocket_height());
    let quarter = width.min(height) / 4;
    let strip = room.at_most(measure::GLUE_STRIP, quarter);
    let gusset = if is_gusseted { room.at_most(measure::GUSSET, quarter) } else { Length::ZERO };
    let glued = Edges::of(&[SheetEdge::Right, SheetEdge::Bottom, SheetEdge::Left]);
    let kind = Pocket { width, height, glued, strip, rim: Length::ZERO, gusset };
    let place = fit::beside(SheetEdge::Bottom, room.inset(room.height(), height));
    Usual::at(PartKind::Pocket(kind), place)
}

fn slide_in(room: &Room<'_>) -> Usual {
    let corner = room.fit.corner.unwrap_or(PanelCorner::BottomLeft);
    let width = room.share(room.width(), 3, 5);
    let height = room.pocket_height();
    let strip = room.at_most(measure::GLUE_STRIP, width.min(height) / 4);
    let glued = Edges::of(&corner.edges());
    let kind = Pocket { width, height, glued, strip, rim: Length::ZERO, gusset: Length::ZERO };
    let insets = (room.inset(room.width(), width), room.inset(room.height(), height));
    Usual::at(PartKind::Pocket(kind), fit::in_corner(corner, insets))
}

/// Flush in its corner, or a hairline off an edge that folds.
fn tuck_corner(room: &Room<'_>, is_band: bool) -> Usual {
    let corner = room.fit.corner.unwrap_or(PanelCorner::BottomRight);
    let leg = room.share(room.width().min(room.height()), 1, 3);
    let band = if is_band { room.at_most(measure::CORNER_BAND, leg / 3) } else { Length::ZERO };
    let strip = room.at_most(measure::GLUE_STRIP, leg / 4);
    let kind = TuckCorner { across: leg, down: leg, corner, band, strip };
    let [level, upright] = corner.edges();
    let insets = (room.clear_of_fold(upright, leg), room.clear_of_fold(level, leg));
    Usual::at(PartKind::TuckCorner(kind), fit::in_corner(corner, insets))
}

fn page(room: &Room<'_>) -> Usual {
    let hinged = room.fit.edge.unwrap_or(SheetEdge::Left);
    let (width, height) = (room.inner(room.width()), room.inner(room.height()));
    let (_, depth) = fit::along_and_depth(hinged, (width, height));
    let strip = room.at_most(measure::LEAF, depth / 2);
    Usual::centred(PartKind::Page(Page { width, height, hinged, strip }), Source::AnyOffcut)
}

/// Its strip lies along the edge, with the fold at the edge, or a hairline inside one that folds itself.
fn flap(room: &Room<'_>) -> Usual {
    let edge = room.edge_that_is_free([SheetEdge::Top, SheetEdge::Right, SheetEdge::Left, SheetEdge::Bottom]);
    let (along, depth) = room.along_and_depth(edge);
    let strip = room.at_most(measure::LEAF, depth / 2);
    let kind = Flap { width: room.inner(along), reach: room.share(depth, 1, 2), edge, strip };
    Usual::at(PartKind::Flap(kind), fit::beside(edge, room.clear_of_fold(edge, strip)))
}

/// Round the closed folio the shorter way; round the panel where the closed folio is not known.
fn belly_band(room: &Room<'_>) -> Usual {
    let units = room.fit.units;
    let as_panel = Closed { width: room.width(), height: room.height(), thickness: Length::ZERO };
    let Closed { width, height, thickness } = room.fit.closed.unwrap_or(as_panel);
    let is_upright = height < width;
    let (around, beside) = if is_upright { (height, width) } else { (width, height) };
    let around = rounded_up((around + thickness) * 2 + measure::BAND_SLACK.of(units), units);
    let kind = Band {
        around,
        width: room.at_most(measure::BELLY_BAND, beside / 2),
        overlap: room.at_most(measure::BAND_OVERLAP, around / 4),
        is_upright,
    };
    Usual::centred(PartKind::Band(kind), Source::AnyOffcut)
}

fn tab(room: &Room<'_>) -> Usual {
    let edge = room.edge_that_is_free([SheetEdge::Right, SheetEdge::Top, SheetEdge::Bottom, SheetEdge::Left]);
    let (along, depth) = room.along_and_depth(edge);
    let long = room.at_most(measure::TAB_ALONG, along / 2);
    let strip = room.at_most(measure::GLUE_STRIP, depth / 2);
    let out = measure::TAB_OUT.of(room.fit.units);
    let (width, height) = if fit::is_level(edge) { (long, strip + out) } else { (strip + out, long) };
    let kind = Tab { width, height, glued: edge.opposite(), strip };
    Usual::at(PartKind::Tab(kind), fit::beside(edge, room.clear_of_fold(edge, strip) - out))
}

/// What fits the pocket that it goes with, in the middle of it; else a card of ID-1 size.
fn insert(room: &Room<'_>) -> Usual {
    let Some(with) = room.fit.with else { return card(room) };
    let Some((low, high)) = fit::inside(with) else { return card(room) };
    let (width, height) = (room.inner(high.x - low.x), room.inner(high.y - low.y));
    let kind = PartKind::Insert(Insert { width, height, caliper: None });
    let usual = Usual::centred(kind, Source::AnyOffcut);
    if with.bounds.is_none() {
        return usual;
    }
    let middle = |low: Length, high: Length, own: Length| low + (high - low - own).half();
    let across = usual.across.moved_to(middle(low.x, high.x, width), room.host.low.x, room.host.high.x, width);
    let down = usual.down.moved_to(middle(low.y, high.y, height), room.host.low.y, room.host.high.y, height);
    Usual { across, down, ..usual }
}

/// Lying, or standing where it only fits so.
fn card(room: &Room<'_>) -> Usual {
    let [long, short, thick] = ID_1;
    let stands = room.width() < long && room.height() >= long;
    let (width, height) = if stands { (short, long) } else { (long, short) };
    Usual::centred(PartKind::Insert(Insert { width, height, caliper: Some(thick) }), Source::Bought)
}

/// In the middle of an edge, where it meets its like.
fn dot(room: &Room<'_>, kind: ClosureKind, across: measure::Measure, thickness: Length) -> Usual {
    let edge = room.fit.edge.unwrap_or(SheetEdge::Right);
    let (_, depth) = room.along_and_depth(edge);
    let size = across.of(room.fit.units);
    let closure = Closure { kind, width: size, height: size, thickness };
    let place = fit::beside(edge, room.inset(depth, size));
    Usual { source: Source::Bought, ..Usual::at(PartKind::Closure(closure), place) }
}

/// Across the middle of its panel.
fn ribbon(room: &Room<'_>) -> Usual {
    let (width, height) = (room.inner(room.width()), measure::RIBBON.of(room.fit.units));
    let thickness = measure::RIBBON_THICK.of(room.fit.units);
    let closure = Closure { kind: ClosureKind::Ribbon, width, height, thickness };
    Usual::centred(PartKind::Closure(closure), Source::Bought)
}
