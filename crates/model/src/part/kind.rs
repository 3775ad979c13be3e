//! The kinds of parts, each with its measures.

use super::glue::Edges;
use crate::corner::Corner;
use crate::geometry::{Point, Size};
use crate::length::Length;
use crate::line::{Line, LineId};
use crate::stock::SheetEdge;

/// What a part is. Left, right, top and bottom are those of its own little sheet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum PartKind {
    /// A strip folded along its length.
    Hinge(Hinge),
    /// Paper glued along some of its edges, so that something goes in.
    Pocket(Pocket),
    /// A triangle or a band across a corner.
    TuckCorner(TuckCorner),
    /// A leaf with a strip of its own to hang by.
    Page(Page),
    /// A strip glued along an edge, with a leaf beyond it that folds when the folio closes.
    Flap(Flap),
    /// A strip round the closed folio, glued to itself, that slides on and off.
    Band(Band),
    /// A decorative rectangle, glued all over.
    Mat(Mat),
    /// A small piece glued at one edge, to pull or to write on.
    Tab(Tab),
    /// A card or tag that lies in a pocket.
    Insert(Insert),
    /// What keeps something shut.
    Closure(Closure),
    /// A kind of the maker's own.
    Own(Own),
}

/// A strip folded along its length into two leaves: fronts together where its front is seen, else backs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Hinge {
    /// How long it is, from top to bottom.
    pub length: Length,
    /// How wide the leaf is that is glued down, at the left.
    pub leaf: Length,
    /// How wide the leaf is that carries something.
    pub free_leaf: Length,
}

/// A pocket: the main panel is its front wall.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Pocket {
    /// How wide its front is.
    pub width: Length,
    /// How high its front is.
    pub height: Length,
    /// The edges that are glued; where it is not glued is its mouth.
    pub glued: Edges,
    /// How wide the glue is.
    pub strip: Length,
    /// How far the paper is folded over to the front at the mouth; zero for a plain edge.
    pub rim: Length,
    /// How deep its sides open: each is a panel so wide, folded under the front, with a strip to glue that is folded out
    /// again under it. The front bows as they open. Zero for a flat pocket.
    pub gusset: Length,
}

/// A corner of a panel.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum PanelCorner {
    /// Top and left.
    TopLeft,
    /// Top and right.
    TopRight,
    /// Bottom and right.
    BottomRight,
    /// Bottom and left.
    BottomLeft,
}

/// A triangle across a corner, or a band across it, glued along the two edges that meet there.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TuckCorner {
    /// How long it is along the upper or lower edge.
    pub across: Length,
    /// How long it is along the left or right edge.
    pub down: Length,
    /// Which corner of its panel it lies in.
    pub corner: PanelCorner,
    /// How wide a band is, along the edges; zero for a triangle.
    pub band: Length,
    /// How wide the glue is.
    pub strip: Length,
}

/// A leaf that hangs by a strip of its own, folded under it: backs together where its front is seen, else fronts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Page {
    /// How wide the leaf is.
    pub width: Length,
    /// How high the leaf is.
    pub height: Length,
    /// The edge at which it hangs, and to which side it opens.
    pub hinged: SheetEdge,
    /// How wide the strip is.
    pub strip: Length,
}

/// A strip with a leaf that folds over it: fronts together where its front is seen, else backs. The main panel is the
/// strip.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Flap {
    /// How long the fold is.
    pub width: Length,
    /// How far the leaf reaches from the fold.
    pub reach: Length,
    /// The edge of the strip at which the leaf hangs.
    pub edge: SheetEdge,
    /// How wide the strip is.
    pub strip: Length,
}

/// A strip round the closed folio.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Band {
    /// How long it is once round.
    pub around: Length,
    /// How wide the strip is.
    pub width: Length,
    /// How far its ends lie on one another, glued.
    pub overlap: Length,
    /// Whether it goes round from top to bottom; else from side to side.
    pub is_upright: bool,
}

/// A decorative rectangle.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Mat {
    /// How wide.
    pub width: Length,
    /// How high.
    pub height: Length,
}

/// A small piece glued at one edge.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Tab {
    /// How wide.
    pub width: Length,
    /// How high.
    pub height: Length,
    /// The edge at which it is glued.
    pub glued: SheetEdge,
    /// How wide the glue is.
    pub strip: Length,
}

/// A card or tag.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Insert {
    /// How wide.
    pub width: Length,
    /// How high.
    pub height: Length,
    /// How thick; `None` for that of the paper it is made of.
    pub caliper: Option<Length>,
}

/// What keeps something shut: what is set on one panel. A pair is two of them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Closure {
    /// What it is.
    pub kind: ClosureKind,
    /// How wide; the diameter of what is round.
    pub width: Length,
    /// How high.
    pub height: Length,
    /// How thick.
    pub thickness: Length,
}

/// What a closure is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ClosureKind {
    /// Goes through the panel; its legs lie on the back.
    Brad,
    /// One of a pair, glued on.
    Magnet,
    /// One of a pair, glued on.
    HookAndLoop,
    /// Glued on, its ends free to be tied.
    Ribbon,
}

/// A shape of the maker's own: a little sheet with lines on it, like the folio's.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Own {
    /// The upright rectangle it is cut from.
    pub size: Size,
    /// Its scores and cuts.
    pub lines: Vec<Line>,
    /// What is done with its corners.
    pub corners: Vec<Corner>,
    /// A point inside its main panel.
    pub base: Point,
    /// The lines that are folded before it is glued on, step by step.
    pub folded: Vec<Vec<LineId>>,
}

impl PartKind {
    /// What such a part is called, as the first word of its name: "Hinge", "Tuck corner".
    #[must_use]
    pub const fn word(&self) -> &'static str {
        match self {
            Self::Hinge(_) => "Hinge",
            Self::Pocket(pocket) if pocket.glued.are_two_that_meet() => "Slide-in",
            Self::Pocket(_) => "Pocket",
            Self::TuckCorner(_) => "Tuck corner",
            Self::Page(_) => "Page",
            Self::Flap(_) => "Flap",
            Self::Band(_) => "Band",
            Self::Mat(_) => "Mat",
            Self::Tab(_) => "Tab",
            Self::Insert(_) => "Insert",
            Self::Closure(closure) => closure.kind.word(),
            Self::Own(_) => "Own shape",
        }
    }

    /// Whether a card or tag goes into it.
    #[must_use]
    pub const fn holds_inserts(&self) -> bool {
        matches!(self, Self::Pocket(_) | Self::TuckCorner(_))
    }

    /// Whether it lies on a panel. A band does not: it goes round the closed folio.
    #[must_use]
    pub const fn is_on_a_panel(&self) -> bool {
        !matches!(self, Self::Band(_))
    }

    /// Its measures, each with what it is called.
    #[must_use]
    pub fn measures(&self) -> Vec<(&'static str, Length)> {
        match self {
            Self::Hinge(hinge) => {
                vec![("length", hinge.length), ("glued leaf", hinge.leaf), ("free leaf", hinge.free_leaf)]
            }
            Self::Pocket(pocket) => vec![
                ("width", pocket.width),
                ("height", pocket.height),
                ("glue strip", pocket.strip),
                ("rim", pocket.rim),
                ("gusset", pocket.gusset),
            ],
            Self::TuckCorner(tuck) => {
                vec![("across", tuck.across), ("down", tuck.down), ("band", tuck.band), ("glue strip", tuck.strip)]
            }
            Self::Page(page) => vec![("width", page.width), ("height", page.height), ("strip", page.strip)],
            Self::Flap(flap) => vec![("width", flap.width), ("reach", flap.reach), ("strip", flap.strip)],
            Self::Band(band) => vec![("around", band.around), ("width", band.width), ("overlap", band.overlap)],
            Self::Mat(mat) => vec![("width", mat.width), ("height", mat.height)],
            Self::Tab(tab) => vec![("width", tab.width), ("height", tab.height), ("glue strip", tab.strip)],
            Self::Insert(insert) => vec![("width", insert.width), ("height", insert.height)],
            Self::Closure(closure) => {
                vec![("width", closure.width), ("height", closure.height), ("thickness", closure.thickness)]
            }
            Self::Own(own) => vec![("width", own.size.width()), ("height", own.size.height())],
        }
    }

    /// The same with another measure, by its name; `None` for a name that is none of its measures, and for a little sheet
    /// without a size.
    #[must_use]
    pub fn with_measure(&self, name: &str, value: Length) -> Option<Self> {
        let mut kind = self.clone();
        let place = match (&mut kind, name) {
            (Self::Hinge(hinge), "length") => &mut hinge.length,
            (Self::Hinge(hinge), "glued leaf") => &mut hinge.leaf,
            (Self::Hinge(hinge), "free leaf") => &mut hinge.free_leaf,
            (Self::Pocket(pocket), "width") => &mut pocket.width,
            (Self::Pocket(pocket), "height") => &mut pocket.height,
            (Self::Pocket(pocket), "glue strip") => &mut pocket.strip,
            (Self::Pocket(pocket), "rim") => &mut pocket.rim,
            (Self::Pocket(pocket), "gusset") => &mut pocket.gusset,
            (Self::TuckCorner(tuck), "across") => &mut tuck.across,
            (Self::TuckCorner(tuck), "down") => &mut tuck.down,
            (Self::TuckCorner(tuck), "band") => &mut tuck.band,
            (Self::TuckCorner(tuck), "glue strip") => &mut tuck.strip,
            (Self::Page(page), "width") => &mut page.width,
            (Self::Page(page), "height") => &mut page.height,
            (Self::Page(page), "strip") => &mut page.strip,
            (Self::Flap(flap), "width") => &mut flap.width,
            (Self::Flap(flap), "reach") => &mut flap.reach,
            (Self::Flap(flap), "strip") => &mut flap.strip,
            (Self::Band(band), "around") => &mut band.around,
            (Self::Band(band), "width") => &mut band.width,
            (Self::Band(band), "overlap") => &mut band.overlap,
            (Self::Mat(mat), "width") => &mut mat.width,
            (Self::Mat(mat), "height") => &mut mat.height,
            (Self::Tab(tab), "width") => &mut tab.width,
            (Self::Tab(tab), "height") => &mut tab.height,
            (Self::Tab(tab), "glue strip") => &mut tab.strip,
            (Self::Insert(insert), "width") => &mut insert.width,
            (Self::Insert(insert), "height") => &mut insert.height,
            (Self::Closure(closure), "width") => &mut closure.width,
            (Self::Closure(closure), "height") => &mut closure.height,
            (Self::Closure(closure), "thickness") => &mut closure.thickness,
            (Self::Own(own), "width") => {
                own.size = Size::new(value, own.size.height())?;
                return Some(kind);
            }
            (Self::Own(own), "height") => {
                own.size = Size::new(own.size.width(), value)?;
                return Some(kind);
            }
            _ => return None,
        };
        *place = value;
        Some(kind)
    }
}

impl Pocket {
    /// Its mouth: the first edge, clockwise from the top, that is not glued. Where others aren't either, it is open there
    /// too. `None` where all are glued.
    #[must_use]
    pub fn mouth(self) -> Option<SheetEdge> {
        self.glued.others().next()
    }

    /// Whether sides of its gusset would meet under its front, or run out of it.
    #[must_use]
    pub fn has_gusset_too_deep(self) -> bool {
        let any = |edges: [SheetEdge; 2]| edges.into_iter().any(|edge| self.glued.has(edge));
        let too_deep = |side: Length| self.gusset >= side - self.gusset;
        (any([SheetEdge::Left, SheetEdge::Right]) && too_deep(self.width))
            || (any([SheetEdge::Top, SheetEdge::Bottom]) && too_deep(self.height))
    }
}

impl ClosureKind {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::Brad, Self::Magnet, Self::HookAndLoop, Self::Ribbon];

    /// "Brad", "Magnet" and so on.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Brad => "Brad",
            Self::Magnet => "Magnet",
            Self::HookAndLoop => "Hook-and-loop dot",
            Self::Ribbon => "Ribbon",
        }
    }
}

impl PanelCorner {
    /// All four, clockwise from the top left.
    pub const ALL: [Self; 4] = [Self::TopLeft, Self::TopRight, Self::BottomRight, Self::BottomLeft];

    /// The two edges that meet in it, the level one first.
    #[must_use]
    pub const fn edges(self) -> [SheetEdge; 2] {
        match self {
            Self::TopLeft => [SheetEdge::Top, SheetEdge::Left],
            Self::TopRight => [SheetEdge::Top, SheetEdge::Right],
            Self::BottomRight => [SheetEdge::Bottom, SheetEdge::Right],
            Self::BottomLeft => [SheetEdge::Bottom, SheetEdge::Left],
        }
    }

    /// "top left" and so on.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::TopLeft => "top left",
            Self::TopRight => "top right",
            Self::BottomRight => "bottom right",
            Self::BottomLeft => "bottom left",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::length::Unit;
    use crate::part::usual::{Fit, Host, Sort};

    #[test]
    fn every_measure_of_every_kind_can_be_changed() {
        let inch = Length::INCH;
        let host = Host { low: Point::default(), high: Point::new(inch * 6, inch * 6), folds: Edges::NONE };
        let usual = Sort::ALL.into_iter().map(|sort| sort.fitted(&host, &Fit::usual(Unit::Inch)).kind);
        let size = Size::parse("3x2in").unwrap();
        let (lines, corners, folded) = (Vec::new(), Vec::new(), Vec::new());
        let own = Own { size, lines, corners, base: Point::new(inch, inch), folded };
        let mut count = 0;
        for kind in usual.chain([PartKind::Own(own)]) {
            for (place, (name, _)) in kind.measures().into_iter().enumerate() {
                let changed = kind.with_measure(name, inch * 2).unwrap();
                let after = changed.measures();
                let others = kind.measures().into_iter().enumerate().filter(|(other, _)| *other != place);
                assert_eq!(after[place], (name, inch * 2), "{}", kind.word());
                assert!(others.into_iter().all(|(other, measure)| after[other] == measure), "{} {name}", kind.word());
                count += 1;
            }
        }
        assert!(count > 40, "{count}");
    }
}
