//! The template: the sheet at true size, on one large page or tiled over pages that a printer at home takes; then every
//! part at true size, and how parts are cut from what is left.

mod bar;
mod cutting;
mod flow;
pub(crate) mod grid;
mod notes;
mod over;
mod parts;
mod plan;
mod scoring;
mod steps;
pub(crate) mod strip;
pub(crate) mod tile;
mod tone;

use crate::artwork::Prints;
use crate::board::Board;
use crate::laid::{glued_on, places_on};
use crate::list::{Drawing, Node, Pages, Role, Shape};
use crate::sheet::{SheetLook, part_nodes};
use crate::style::{NOTE, paled};
use crate::supply::Furnishing;
use crate::text::{Face as TypeFace, TextRun};
use kurbo::{BezPath, Line, PathSeg, Point, Rect, Size};
use model::{Document, Face, Layout, PieceId, Turn, Unit};
use over::{Flip, lines_seen_on, turned_over};
use std::collections::BTreeSet;
use std::fmt;
use strip::{Place, Strip};
use tile::Spread;
use tone::pale;

pub use grid::{Grid, Span, Tile};

/// What the template is printed on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub enum Paper {
    /// 8 1/2 x 11 in.
    #[default]
    Letter,
    /// 210 x 297 mm.
    A4,
    /// 11 x 17 in.
    Tabloid,
    /// 297 x 420 mm.
    A3,
    /// One page of the sheet's own size.
    Sheet,
}

/// Which faces of the sheet are printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub enum Sides {
    /// The front alone.
    #[default]
    Front,
    /// The front, each page of it followed by its back, for printing on both sides with the pages flipped on their long
    /// edge.
    Both,
}

/// How a template is laid out.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct TemplateOptions<'a> {
    /// The paper in the printer.
    pub paper: Paper,
    /// The faces that are printed.
    pub sides: Sides,
    /// The pictures to print on the sheet at their own size, under the lines; `None` for none.
    pub artwork: Option<&'a Prints>,
}

impl TemplateOptions<'_> {
    /// The paper a maker who measures in `unit` is likely to have.
    #[must_use]
    pub const fn for_units(unit: Unit) -> Self {
        let paper = match unit {
            Unit::Inch => Paper::Letter,
            Unit::Millimetre | Unit::Centimetre => Paper::A4,
        };
        Self { paper, sides: Sides::Front, artwork: None }
    }
}

impl Paper {
    /// Every paper, the smallest first.
    pub const ALL: [Self; 5] = [Self::Letter, Self::A4, Self::Tabloid, Self::A3, Self::Sheet];

    /// Width and height upright, mm; `None` for the sheet's own size. Letter and tabloid are ANSI A and B, A4 and A3 are
    /// ISO 216.
    #[must_use]
    pub const fn size(self) -> Option<Size> {
        match self {
            Self::Letter => Some(Size::new(215.9, 279.4)),
            Self::A4 => Some(Size::new(210.0, 297.0)),
            Self::Tabloid => Some(Size::new(279.4, 431.8)),
            Self::A3 => Some(Size::new(297.0, 420.0)),
            Self::Sheet => None,
        }
    }

    /// The word for it on the command line.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Letter => "letter",
            Self::A4 => "a4",
            Self::Tabloid => "tabloid",
            Self::A3 => "a3",
            Self::Sheet => "sheet",
        }
    }
}

impl Sides {
    const fn faces(self) -> &'static [Face] {
        match self {
            Self::Front => &[Face::Front],
            Self::Both => &[Face::Front, Face::Back],
        }
    }
}

/// The most pages the sheet may be spread over. More than this nobody tapes together; a sheet of 10 m would take
/// thousands, and minutes to write.
pub const MOST_PAGES: usize = 60;

/// The longest side of a page, mm: 14 400 points, the most that PDF 1.7 (annex C.2) allows.
pub const LONGEST_PAGE: f64 = 5080.0;

/// Why there is no template.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TemplateRefusal {
    /// The sheet would be spread over more than [`MOST_PAGES`] pages.
    TooManyPages {
        /// How many it would take.
        pages: usize,
        /// Whether it fits one page of its own size.
        fits_one: bool,
    },
    /// One page of the sheet's own size would be longer than [`LONGEST_PAGE`].
    PageTooLarge,
}

impl fmt::Display for TemplateRefusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TooManyPages { pages, fits_one } => {
                write!(f, "the sheet would take {pages} pages of this paper; ")?;
                f.write_str(if *fits_one {
                    "print it on one page of its own size, --paper sheet, or on larger paper"
                } else {
                    "make the sheet smaller, since a single page may be 200 in (5080 mm) at most"
                })
            }
            Self::PageTooLarge => {
                f.write_str("the sheet is too large for one page, which may be 200 in (5080 mm) at most")
            }
        }
    }
}

impl std::error::Error for TemplateRefusal {}

/// A design as it is printed.
#[derive(Debug, Clone, Copy)]
struct Design<'a> {
    document: &'a Document,
    layout: &'a Layout,
    furnishing: Option<&'a Furnishing<'a>>,
    artwork: Option<&'a Prints>,
}

/// A page that has no number yet.
#[derive(Debug)]
pub(crate) struct Page {
    pub(crate) drawing: Drawing,
    /// `None` on a page of the sheet's own size, which has no room for it.
    pub(crate) strip: Option<Strip>,
}

/// The template's pages: what to do and what it is first, then the sheet at 1:1, each page followed by its back where both
/// sides are printed; then every part at 1:1, and how parts are cut from offcuts and further sheets.
///
/// # Errors
/// [`TemplateRefusal::TooManyPages`] when the sheet is too large for the paper, [`TemplateRefusal::PageTooLarge`] when
/// it is for a page of its own.
pub fn template(
    document: &Document,
    layout: &Layout,
    furnishing: Option<&Furnishing<'_>>,
    options: &TemplateOptions<'_>,
) -> Result<Pages, TemplateRefusal> {
    let design = Design { document, layout, furnishing, artwork: options.artwork };
    let sheet = design.size();
    let fits_one = sheet.width.max(sheet.height) <= LONGEST_PAGE;
    let is_printed = options.artwork.is_some_and(|prints| !prints.is_empty());
    let spread = |page| {
        if is_printed { Grid::covering(sheet, page) } else { Grid::holding(sheet, page, &design.drawn()) }
    };
    let grid = options.paper.size().map(spread);
    match &grid {
        Some(grid) if grid.count() > MOST_PAGES => {
            return Err(TemplateRefusal::TooManyPages { pages: grid.count(), fits_one });
        }
        None if !fits_one => return Err(TemplateRefusal::PageTooLarge),
        Some(_) | None => {}
    }
    let small = options.paper.size().or_else(|| TemplateOptions::for_units(document.units).paper.size());
    // A page of notes and parts lies as those of the sheet do.
    let small = grid.as_ref().map(Grid::page).or(small).unwrap_or(sheet);
    let mut pages = notes::notes(&design, small, grid.as_ref(), options.sides);
    match &grid {
        Some(grid) => pages.extend(design.tiles(grid, options.sides)),
        None => pages.extend(options.sides.faces().iter().map(|&face| design.whole(face, options.sides))),
    }
    let upright = Size::new(small.width.min(small.height), small.width.max(small.height));
    pages.extend(parts::pages(&design, upright, options.sides));
    pages.extend(cutting::pages(&design, upright));
    Ok(Pages { title: format!("{}, template", document.title), pages: numbered(&document.title, pages) })
}

/// The pages with their strips, now that it is known how many there are.
pub(crate) fn numbered(title: &str, pages: Vec<Page>) -> Vec<Drawing> {
    let total = pages.len();
    let finish = |(i, page): (usize, Page)| {
        let Page { mut drawing, strip } = page;
        if let Some(strip) = strip {
            let nodes = strip.nodes(title, drawing.size, (i + 1, total));
            drawing.nodes.extend(nodes);
        }
        drawing
    };
    pages.into_iter().enumerate().map(finish).collect()
}

/// A page that only keeps fronts and backs together.
fn empty_page(title: &str, page: Size) -> Page {
    let mut drawing = Drawing::new(page, format!("{title}: left empty, so that fronts and backs are on one leaf."));
    let words = "This page is left empty, so that each front and its back are printed on one leaf.";
    let ink = paled(NOTE, crate::style::PRINTED_TEXT);
    let run =
        TextRun::new(words, TypeFace::Regular, 3.3, ink).middle_at(Point::new(page.width / 2.0, page.height / 2.0));
    drawing.push(Role::Note, Shape::Text(run));
    Page { drawing, strip: Some(Strip { name: "left empty".to_owned(), place: Place::Foot }) }
}

impl Design<'_> {
    fn size(&self) -> Size {
        Size::new(self.layout.size.width().mm(), self.layout.size.height().mm())
    }

    /// What is printed of a face, in the sheet's own millimetres from its upper left corner as seen from the front: all but
    /// the paper, which is white already, with the folds numbered clear of the crosses.
    fn seen(&self, face: Face, part: Rect, crosses: &[Rect]) -> Vec<Node> {
        let (document, layout) = (self.document, self.layout);
        let board = Board { size: layout.size, turn: Turn::None };
        // Where parts are put is added for this face.
        let bare = self.furnishing.map(|furnishing| Furnishing { folded: None, ..*furnishing });
        let lines = part_nodes(document, layout, bare.as_ref(), &SheetLook::default(), part);
        let picture = self.artwork.and_then(|prints| prints.sheet_node(layout, face, board));
        let is_tint = |node: &Node| match node {
            Node::Item { role: Role::Paper, .. } => true,
            Node::Item { role: Role::Offcut | Role::Part, shape: Shape::Fill { .. } } => picture.is_some(),
            _ => false,
        };
        let mut above: Vec<Node> = lines_seen_on(face, lines).into_iter().filter(|node| !is_tint(node)).collect();
        let words = above.iter().filter_map(bar::text_bounds);
        let taken: Vec<Rect> = words.chain(crosses.iter().copied()).collect();
        above.extend(steps::numbers(document, layout, face, part, &taken));
        let mut nodes: Vec<Node> = picture.into_iter().collect();
        if let Some((assembly, folding)) = self.furnishing.and_then(|furnishing| furnishing.folded) {
            nodes.extend(glued_on(layout, assembly, folding, board, face));
            nodes.extend(places_on(layout, assembly, folding, board, face));
        }
        nodes.extend(above);
        nodes
    }

    /// The offcuts that parts are cut from.
    fn used(&self) -> BTreeSet<PieceId> {
        self.furnishing.map(Furnishing::used).unwrap_or_default()
    }

    /// Every line that is printed on one face or the other, for the pages that hold some.
    fn drawn(&self) -> Vec<Line> {
        let whole = self.size().to_rect();
        [Face::Front, Face::Back].iter().flat_map(|&face| lines_of(&self.seen(face, whole, &[]))).collect()
    }

    fn tiles(&self, grid: &Grid, sides: Sides) -> Vec<Page> {
        let crosses = tile::crosses(grid);
        let is_pale = self.artwork.is_none();
        let spread = Spread { title: &self.document.title, of: "", grid, sides, is_pale };
        spread.pages(|face, part| self.seen(face, part, &crosses))
    }

    /// A face of the whole sheet on a page of its own size, with a check of the scale on it.
    fn whole(&self, face: Face, sides: Sides) -> Page {
        let sheet = self.size();
        let description = format!("{}: the whole sheet at true size, {}.", self.document.title, face.word());
        let mut drawing = Drawing::new(sheet, description);
        let mut nodes = self.seen(face, sheet.to_rect(), &[]);
        let flip = (face == Face::Back).then(|| Flip::about_long_edge(sheet));
        if let Some(flip) = flip {
            nodes = turned_over(nodes, flip, sheet);
        }
        let caption = match sides {
            Sides::Front => "scale check".to_owned(),
            Sides::Both => format!("scale check, {}", face.word()),
        };
        let bar = bar::bar_on_sheet(self.layout, &nodes, sheet, flip, &caption);
        nodes.extend(bar);
        drawing.nodes = if self.artwork.is_none() { pale(nodes) } else { nodes };
        Page { drawing, strip: None }
    }
}

/// The straight lines among nodes; a curve counts as the line between its ends, since flat stretches make up all that is
/// drawn of a design.
fn lines_of(nodes: &[Node]) -> Vec<Line> {
    let path_of = |node: &Node| match node {
        Node::Item { shape: Shape::Line { path, .. }, .. } => Some(path.clone()),
        _ => None,
    };
    let line = |segment: PathSeg| match segment {
        PathSeg::Line(line) => line,
        PathSeg::Quad(curve) => Line::new(curve.p0, curve.p2),
        PathSeg::Cubic(curve) => Line::new(curve.p0, curve.p3),
    };
    let paths: Vec<BezPath> = nodes.iter().filter_map(path_of).collect();
    paths.iter().flat_map(|path| path.segments().map(line)).collect()
}
