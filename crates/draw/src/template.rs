//! The template: the sheet at true size, on one large page or tiled over pages that a printer at home takes.

mod bar;
mod flow;
mod notes;
mod plan;
mod scoring;
mod steps;
mod tile;

use crate::list::{Drawing, Node, Pages, Role};
use crate::sheet::{SheetLook, part_nodes};
use crate::supply::Furnishing;
use kurbo::{Rect, Size};
use model::{Document, Layout, Unit};
use std::fmt;

pub use tile::{Grid, Span};

/// What the template is printed on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub enum Paper {
    /// 8 1/2 x 11 in.
    #[default]
    Letter,
    /// 210 x 297 mm.
    A4,
    /// One page as large as the sheet itself.
    Sheet,
}

/// How a template is laid out.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct TemplateOptions {
    /// The paper in the printer.
    pub paper: Paper,
}

impl TemplateOptions {
    /// The paper a maker who measures in `unit` is likely to have.
    #[must_use]
    pub const fn for_units(unit: Unit) -> Self {
        let paper = match unit {
            Unit::Inch => Paper::Letter,
            Unit::Millimetre | Unit::Centimetre => Paper::A4,
        };
        Self { paper }
    }
}

impl Paper {
    /// Width and height upright, mm; `None` for the sheet's own size.
    #[must_use]
    pub const fn size(self) -> Option<Size> {
        match self {
            Self::Letter => Some(Size::new(215.9, 279.4)),
            Self::A4 => Some(Size::new(210.0, 297.0)),
            Self::Sheet => None,
        }
    }

    /// The word for it on the command line.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Letter => "letter",
            Self::A4 => "a4",
            Self::Sheet => "sheet",
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

/// The template's pages: what to do and what it is first, then the sheet at 1:1, with the parts that are cut from its
/// offcuts.
///
/// # Errors
/// [`TemplateRefusal::TooManyPages`] when the sheet is too large for the paper, [`TemplateRefusal::PageTooLarge`] when
/// it is for a page of its own.
pub fn template(
    document: &Document,
    layout: &Layout,
    furnishing: Option<&Furnishing<'_>>,
    options: &TemplateOptions,
) -> Result<Pages, TemplateRefusal> {
    let sheet = Size::new(layout.size.width().mm(), layout.size.height().mm());
    let fits_one = sheet.width.max(sheet.height) <= LONGEST_PAGE;
    let pages = match options.paper.size() {
        Some(page) => {
            let grid = Grid::covering(sheet, page);
            if grid.count() > MOST_PAGES {
                return Err(TemplateRefusal::TooManyPages { pages: grid.count(), fits_one });
            }
            let mut pages = notes::notes(document, layout, grid.page(), Some(&grid));
            let crosses = tile::crosses(&grid);
            pages.extend(tile::pages(document, &grid, pages.len(), |part| {
                printed(document, layout, furnishing, part, &crosses)
            }));
            pages
        }
        None if !fits_one => return Err(TemplateRefusal::PageTooLarge),
        None => {
            let page = TemplateOptions::for_units(document.units).paper.size().unwrap_or(sheet);
            let mut pages = notes::notes(document, layout, page, None);
            pages.push(whole(document, layout, furnishing, sheet));
            pages
        }
    };
    Ok(Pages { title: format!("{}, template", document.title), pages })
}

/// What is printed of the sheet: all but the paper itself, which is white already, with the folds numbered clear of
/// the crosses; offcuts keep their tint.
fn printed(
    document: &Document,
    layout: &Layout,
    furnishing: Option<&Furnishing<'_>>,
    part: Rect,
    crosses: &[Rect],
) -> Vec<Node> {
    let mut nodes = part_nodes(document, layout, furnishing, &SheetLook::default(), part);
    nodes.retain(|node| !matches!(node, Node::Item { role: Role::Paper, .. }));
    let words = nodes.iter().filter_map(bar::text_bounds);
    let taken: Vec<Rect> = words.chain(crosses.iter().copied()).collect();
    nodes.extend(steps::numbers(document, layout, part, &taken));
    nodes
}

/// The whole sheet on a page of its own size, with a check of the scale on it.
fn whole(document: &Document, layout: &Layout, furnishing: Option<&Furnishing<'_>>, sheet: Size) -> Drawing {
    let mut page = Drawing::new(sheet, format!("{}: the whole sheet at true size.", document.title));
    page.nodes = printed(document, layout, furnishing, sheet.to_rect(), &[]);
    page.nodes.extend(bar::bar_on_sheet(layout, &page.nodes, sheet));
    page
}
