//! What a booklet consists of, before it is set on pages.

use draw::list::Node;
use kurbo::Size;

/// One thing after another.
pub(crate) enum Block {
    /// The title page's title.
    Title(String),
    /// A heading of a chapter (1) or within one (2).
    Heading(u8, String),
    Paragraph(String),
    /// Things without an order.
    List(Vec<String>),
    /// What to mind.
    Caution(String),
    Table(Table),
    /// Pictures side by side; on a desk, or on the page itself.
    Figures(Vec<Figure>, bool),
    /// A picture with words beside it.
    Beside(Figure, Vec<Block>),
    /// What is done one after the other.
    Steps(Vec<Step>),
    /// The chapters with their pages.
    Contents,
    /// What follows begins a page.
    NewPage,
}

/// A table; each row has as many cells as there are heads.
pub(crate) struct Table {
    pub(crate) caption: String,
    pub(crate) heads: Vec<String>,
    pub(crate) rows: Vec<Vec<String>>,
}

/// A picture of its own size, mm, from its upper left corner.
pub(crate) struct Picture {
    pub(crate) size: Size,
    pub(crate) nodes: Vec<Node>,
}

/// A picture with its words.
pub(crate) struct Figure {
    pub(crate) picture: Picture,
    /// What it shows, under it; may be empty where the words beside it say so.
    pub(crate) caption: String,
    /// A sentence for readers who can't see it.
    pub(crate) alt: String,
}

/// One step of several.
pub(crate) struct Step {
    pub(crate) number: String,
    pub(crate) text: String,
    /// What is to be said besides.
    pub(crate) notes: Vec<String>,
    pub(crate) cautions: Vec<String>,
    pub(crate) figure: Option<Figure>,
}
