//! The template: the sheet at true size, on one large page or tiled over pages that a printer at home takes.

mod notes;
mod tile;

use crate::list::{Drawing, Node, Pages, Role};
use crate::sheet::{SheetLook, part_nodes};
use kurbo::{Rect, Size};
use model::{Document, Layout, Unit};

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

/// The template's pages: what to do and what it is first, then the sheet at 1:1.
#[must_use]
pub fn template(document: &Document, layout: &Layout, options: &TemplateOptions) -> Pages {
    let sheet = Size::new(layout.size.width().mm(), layout.size.height().mm());
    let mut pages = Vec::new();
    match options.paper.size() {
        Some(page) => {
            let grid = Grid::covering(sheet, page);
            pages.push(notes::cover(document, layout, grid.page(), Some(&grid)));
            pages.extend(tile::pages(document, &grid, |part| printed(document, layout, part)));
        }
        None => {
            let fallback = TemplateOptions::for_units(document.units).paper.size();
            pages.push(notes::cover(document, layout, fallback.unwrap_or(sheet), None));
            pages.push(whole(document, sheet, printed(document, layout, sheet.to_rect())));
        }
    }
    Pages { title: format!("{}, template", document.title), pages }
}

/// What is printed of the sheet: all but the paper itself, which is white already; offcuts keep their tint.
fn printed(document: &Document, layout: &Layout, part: Rect) -> Vec<Node> {
    let mut nodes = part_nodes(document, layout, &SheetLook::default(), part);
    nodes.retain(|node| !matches!(node, Node::Item { role: Role::Paper, .. }));
    nodes
}

/// The whole sheet on a page of its own size, with a check of the scale on it.
fn whole(document: &Document, sheet: Size, nodes: Vec<Node>) -> Drawing {
    let mut page = Drawing::new(sheet, format!("{}: the whole sheet at true size.", document.title));
    page.nodes = nodes;
    page.nodes.extend(tile::scale_bar(kurbo::Point::new(sheet.width / 2.0, sheet.height - 4.0), sheet.width - 20.0));
    page
}
