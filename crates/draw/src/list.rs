//! The display list: what every drawing is made of, whatever it ends up on.
//!
//! Millimetres, x to the right, y down, origin at the top left of the drawing. The screen, PDF, SVG and PNG all
//! draw this list, so what is seen is what is printed. It knows roles, not panels or pockets, and no output format.

use crate::style::Colour;
use crate::text::TextRun;
use kurbo::{Affine, BezPath, Rect, Size};
pub use raster::{Channels, Orientation, Picture};
use std::sync::Arc;

/// What a mark on paper is for. Exporters group by it: an SVG group, a PDF layer.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Role {
    /// The face of the paper: panels of the folio.
    Paper,
    /// Paper that comes off: offcuts.
    Offcut,
    /// A part on a panel, or where one is cut from.
    Part,
    /// Glue.
    Glue,
    /// A knife line.
    Cut,
    /// A score line that folds as a valley, seen from the front.
    Valley,
    /// A score line that folds as a mountain, seen from the front.
    Mountain,
    /// A score line that folds either way.
    EitherWay,
    /// A pencil line to measure from.
    Guide,
    /// The outline of the sheet, and edges of folded panels.
    Outline,
    /// Names of panels and pieces.
    Label,
    /// Distances along the edges.
    Dimension,
    /// Where pages join: registration marks and the overlap.
    Registration,
    /// The bar that shows whether the printer kept the size.
    ScaleCheck,
    /// Page furniture: title, legend, page plan, notes.
    Note,
}

impl Role {
    /// Every role, in the order in which exporters list them.
    pub const ALL: [Role; 15] = [
        Role::Paper,
        Role::Offcut,
        Role::Part,
        Role::Glue,
        Role::Cut,
        Role::Valley,
        Role::Mountain,
        Role::EitherWay,
        Role::Guide,
        Role::Outline,
        Role::Label,
        Role::Dimension,
        Role::Registration,
        Role::ScaleCheck,
        Role::Note,
    ];

    /// A stable lower-case word for the role: an SVG group id.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Role::Paper => "paper",
            Role::Offcut => "offcut",
            Role::Part => "part",
            Role::Glue => "glue",
            Role::Cut => "cut",
            Role::Valley => "score-valley",
            Role::Mountain => "score-mountain",
            Role::EitherWay => "score-either",
            Role::Guide => "guide",
            Role::Outline => "outline",
            Role::Label => "label",
            Role::Dimension => "dimension",
            Role::Registration => "registration",
            Role::ScaleCheck => "scale-check",
            Role::Note => "note",
        }
    }

    /// The name a reader of the exported file sees, for example as a PDF layer.
    #[must_use]
    pub const fn title(self) -> &'static str {
        match self {
            Role::Paper => "Paper",
            Role::Offcut => "Offcuts",
            Role::Part => "Parts",
            Role::Glue => "Glue",
            Role::Cut => "Cuts",
            Role::Valley => "Valley scores",
            Role::Mountain => "Mountain scores",
            Role::EitherWay => "Scores that fold either way",
            Role::Guide => "Guides",
            Role::Outline => "Outlines",
            Role::Label => "Names",
            Role::Dimension => "Distances",
            Role::Registration => "Registration marks",
            Role::ScaleCheck => "Scale check",
            Role::Note => "Notes",
        }
    }
}

/// How a line is drawn.
#[derive(Debug, Clone, PartialEq)]
pub struct Stroke {
    /// Width in mm.
    pub width: f64,
    /// Colour.
    pub colour: Colour,
    /// Lengths of dash, gap, dash, gap … in mm; empty for a solid line. Always an even count.
    pub dashes: Vec<f64>,
    /// How far into the dash pattern the line starts, in mm.
    pub dash_start: f64,
}

/// One thing drawn.
#[derive(Debug, Clone, PartialEq)]
pub enum Shape {
    /// A filled area (non-zero winding).
    Fill {
        /// The outline; every subpath is closed.
        path: BezPath,
        /// The colour.
        colour: Colour,
    },
    /// A drawn line; butt caps, mitre joins.
    Line {
        /// The path; subpaths may be open.
        path: BezPath,
        /// How it looks.
        stroke: Stroke,
    },
    /// A run of text.
    Text(TextRun),
    /// A picture.
    Image(Image),
}

/// A picture as it lies on a drawing. Its pixels are shared, so that many images of one picture take no more room than one.
#[derive(Debug, Clone, PartialEq)]
pub struct Image {
    /// The picture.
    pub picture: Arc<Picture>,
    /// From the picture as stored, in shares of its width and height to the right and down, to the drawing: so it holds
    /// however many pixels are kept of it.
    pub place: Affine,
    /// Nothing outside is drawn (non-zero winding), in the drawing's coordinates; every subpath is closed.
    pub clip: BezPath,
}

/// One node of a drawing: a shape with its role, or a group.
#[derive(Debug, Clone, PartialEq)]
pub enum Node {
    /// A shape.
    Item {
        /// What it is for.
        role: Role,
        /// What is drawn.
        shape: Shape,
    },
    /// Nodes under a transform and a clip; the clip is in the group's own coordinates, before the transform.
    Group {
        /// From the group's coordinates to its parent's.
        place: Affine,
        /// Nothing outside is drawn.
        clip: Option<Rect>,
        /// What is in it, back to front.
        nodes: Vec<Node>,
    },
    /// Nodes that are an element of the text, for readers who can't see the page.
    Tagged {
        /// The element and those it is in, the outermost first.
        tags: Vec<Tag>,
        /// What is seen of it, back to front.
        nodes: Vec<Node>,
    },
}

/// An element of the text of several pages. Nodes anywhere whose tags have one number are one element, so that it goes on
/// over pages; elements come in the order in which they are first met, and what is not tagged is only decoration.
#[derive(Debug, Clone, PartialEq)]
pub struct Tag {
    /// Its number, which no other element has.
    pub number: u32,
    /// What it is.
    pub kind: TagKind,
}

/// What an element of the text is.
#[derive(Debug, Clone, PartialEq)]
pub enum TagKind {
    /// A heading of this level, from 1; pages that have some are listed by them beside the document.
    Heading(u8),
    /// A paragraph.
    Paragraph,
    /// A list; its items may be numbered.
    List {
        /// Whether its labels are numbers that count on.
        numbered: bool,
    },
    /// An item of a list.
    Item,
    /// The number or mark before an item.
    Label,
    /// What an item says.
    Body,
    /// A table.
    Table,
    /// A row of a table.
    Row,
    /// A cell above a column, which says what is in it.
    ColumnHead,
    /// A cell at the start of a row, which says what the row is about.
    RowHead,
    /// Another cell.
    Cell,
    /// A picture.
    Figure {
        /// A sentence that says what is to be seen.
        alt: String,
        /// The rectangle around it on its page, mm.
        bounds: Rect,
    },
    /// The words under a picture or above a table.
    Caption,
}

/// A drawing of a given size: one picture or one page.
#[derive(Debug, Clone, PartialEq)]
pub struct Drawing {
    /// Width and height in mm.
    pub size: Size,
    /// What is on it, back to front.
    pub nodes: Vec<Node>,
    /// A sentence that says what is to be seen, for readers who can't see it.
    pub description: String,
}

impl Drawing {
    /// An empty drawing.
    #[must_use]
    pub fn new(size: Size, description: impl Into<String>) -> Self {
        Self { size, nodes: Vec::new(), description: description.into() }
    }

    /// Adds a shape on top of what is there.
    pub fn push(&mut self, role: Role, shape: Shape) {
        self.nodes.push(Node::Item { role, shape });
    }
}

/// Several pages with what a document viewer shows of them.
#[derive(Debug, Clone, PartialEq)]
pub struct Pages {
    /// The title.
    pub title: String,
    /// Page by page.
    pub pages: Vec<Drawing>,
}
