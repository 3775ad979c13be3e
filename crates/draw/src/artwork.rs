//! What is printed on paper: pictures on the faces of sheets, and so on the panels and parts that are made of them.
//!
//! Pixels come from outside; here is only where they lie. A picture on the back is placed as the back is seen, turned over
//! like a page, so on the sheet as drawn it is mirrored.

use crate::board::Board;
use crate::list::{Image, Node, Picture, Role, Shape};
use crate::sheet::add_polygon;
use crate::style::OFFCUT_FADE;
use allot::{Allotment, Origin};
use kurbo::{Affine, BezPath};
use model::{Artwork, Document, Face, Layout, Length, PanelId, Point, StockId};
use std::sync::Arc;

/// A picture of a document, with the face that it is printed on; `None` is the folio's own stock.
pub type FacePicture = (Option<StockId>, Face, Arc<Picture>);

/// The pictures that are printed on the papers of a design.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Prints {
    prints: Vec<Print>,
}

#[derive(Debug, Clone, PartialEq)]
struct Print {
    stock: Option<StockId>,
    face: Face,
    picture: Arc<Picture>,
    /// From the stored picture, in shares, to the sheet as drawn, mm.
    place: Affine,
}

/// What is printed on the folio and on the parts of a design.
#[derive(Debug, Clone, Copy)]
pub struct Printed<'a> {
    /// The pictures.
    pub prints: &'a Prints,
    /// Where parts are cut from; without it they are plain.
    pub supply: Option<&'a Allotment>,
}

impl Prints {
    /// The pictures found for a document. Those for a face on which the document has none are left out.
    #[must_use]
    pub fn new(document: &Document, pictures: impl IntoIterator<Item = FacePicture>) -> Self {
        let print = |(stock, face, picture): FacePicture| {
            let paper = match stock {
                None => &document.stock,
                Some(id) => document.further_stock(id)?,
            };
            let artwork = paper.side(face).artwork.as_ref()?;
            let place = place(artwork, face, paper.size.width()) * Affine::new(picture.orientation.map());
            Some(Print { stock, face, picture, place })
        };
        Self { prints: pictures.into_iter().filter_map(print).collect() }
    }

    /// Whether nothing is printed anywhere.
    #[must_use]
    pub const fn is_empty(&self) -> bool {
        self.prints.is_empty()
    }

    /// What is printed on a face of a sheet: the picture, and the map from it as stored, in shares, to the sheet as drawn,
    /// in mm.
    #[must_use]
    pub fn on_sheet(&self, stock: Option<StockId>, face: Face) -> Option<(&Arc<Picture>, Affine)> {
        let print = self.prints.iter().find(|print| print.stock == stock && print.face == face)?;
        Some((&print.picture, print.place))
    }

    /// What is printed on a face of a sheet of `stock` (`None` is the folio's own), where it shows within `clip`; `to` goes
    /// from the sheet as drawn, in mm, to the drawing, and `clip` is in the drawing. `None` where nothing is printed.
    ///
    /// The back comes out as it is seen through the sheet; a `to` that mirrors shows it as it is.
    #[must_use]
    pub fn node(&self, stock: Option<StockId>, face: Face, role: Role, to: Affine, clip: BezPath) -> Option<Node> {
        let (picture, place) = self.on_sheet(stock, face)?;
        image(role, picture, to * place, clip)
    }

    /// What is printed on a face of the folio's sheet, on the board: on its panels and offcuts, and not where slots,
    /// notches and corners are taken out.
    #[must_use]
    pub fn sheet_node(&self, layout: &Layout, face: Face, board: Board) -> Option<Node> {
        self.panels_node(layout, face, board, |_| true)
    }

    /// The same on the folio alone.
    #[must_use]
    pub fn folio_node(&self, layout: &Layout, face: Face, board: Board) -> Option<Node> {
        let folio = layout.folio()?.id;
        self.panels_node(layout, face, board, |panel| panel.piece == folio)
    }

    fn panels_node(
        &self,
        layout: &Layout,
        face: Face,
        board: Board,
        which: impl Fn(&model::Panel) -> bool,
    ) -> Option<Node> {
        // One image for all panels: beside one another, each with its own, they would show a seam.
        let mut clip = BezPath::new();
        for panel in layout.panels.iter().filter(|panel| which(panel)) {
            for outline in std::iter::once(&panel.outline).chain(&panel.holes) {
                add_polygon(&mut clip, outline.iter().map(|&point| board.at(point)));
            }
        }
        self.node(None, face, Role::Paper, on_board(board), clip)
    }
}

impl Printed<'_> {
    /// Nothing.
    pub const NOTHING: Printed<'static> = Printed { prints: &Prints { prints: Vec::new() }, supply: None };

    /// What is printed on a panel, as [`Prints::on_sheet`] but for the panel's own sheet: that of the folio, or the part's.
    #[must_use]
    pub fn on_panel(&self, layout: &Layout, panel: PanelId, face: Face) -> Option<(&Arc<Picture>, Affine)> {
        if self.prints.is_empty() {
            return None;
        }
        let Some(part) = layout.part_of(panel) else { return self.prints.on_sheet(None, face) };
        let supply = self.supply?.supplies.iter().find(|supply| supply.part == part.id)?;
        let (stock, cutout) = match &supply.from {
            Origin::Offcut { cutout, .. } => (None, cutout),
            Origin::Sheet { stock, cutout, .. } => (*stock, cutout),
            Origin::Bought | Origin::Missing(_) => return None,
        };
        let (picture, place) = self.prints.on_sheet(stock, face)?;
        let on_paper = affine(|point| {
            let (x, y) = cutout.on_paper(point).mm();
            kurbo::Point::new(x, y)
        });
        Some((picture, on_paper.inverse() * place))
    }
}

/// The nodes of paper with what is printed on them: nodes that fill paper get the picture over them, offcuts a veil as well.
pub(crate) fn over_paper(nodes: Vec<Node>, prints: &Prints, board: Board) -> Vec<Node> {
    if prints.on_sheet(None, Face::Front).is_none() {
        return nodes;
    }
    let (mut all, mut offcuts) = (BezPath::new(), BezPath::new());
    for node in &nodes {
        if let Node::Item { role, shape: Shape::Fill { path, .. } } = node {
            all.extend(path.iter());
            if *role == Role::Offcut {
                offcuts.extend(path.iter());
            }
        }
    }
    let print = prints.node(None, Face::Front, Role::Paper, on_board(board), all);
    let veil = Shape::Fill { path: offcuts, colour: OFFCUT_FADE };
    nodes.into_iter().chain(print).chain([Node::Item { role: Role::Offcut, shape: veil }]).collect()
}

/// The nodes of parts where they are cut from, with what is printed there over each fill.
pub(crate) fn over_parts(nodes: Vec<Node>, prints: &Prints, board: Board) -> Vec<Node> {
    let mut out = Vec::with_capacity(nodes.len());
    for node in nodes {
        let print = match &node {
            Node::Item { role: Role::Part, shape: Shape::Fill { path, .. } } => {
                prints.node(None, Face::Front, Role::Part, on_board(board), path.clone())
            }
            _ => None,
        };
        out.push(node);
        out.extend(print);
    }
    out
}

/// A picture on a drawing; `None` where it is seen edge-on or nothing of it is to be seen.
pub(crate) fn image(role: Role, picture: &Arc<Picture>, place: Affine, clip: BezPath) -> Option<Node> {
    /// Narrower than this, mm, nothing is seen.
    const EDGE_ON: f64 = 1e-4;
    let [a, b, c, d, ..] = place.as_coeffs();
    let longest = (a * a + b * b).max(c * c + d * d).sqrt();
    let is_seen = place.determinant().abs() > EDGE_ON * longest && !clip.elements().is_empty();
    let shape = Shape::Image(Image { picture: Arc::clone(picture), place, clip });
    is_seen.then_some(Node::Item { role, shape })
}

/// From the picture as it is seen, in shares, to the sheet as drawn, mm.
fn place(artwork: &Artwork, face: Face, sheet_width: Length) -> Affine {
    let size = Affine::scale_non_uniform(artwork.width.mm(), artwork.height().mm());
    let on_face = Affine::translate((artwork.left.mm(), artwork.top.mm())) * size;
    match face {
        Face::Front => on_face,
        Face::Back => Affine::new([-1.0, 0.0, 0.0, 1.0, sheet_width.mm(), 0.0]) * on_face,
    }
}

/// From the sheet as drawn to the sheet as it lies on the board, mm.
#[must_use]
pub fn on_board(board: Board) -> Affine {
    affine(|point| board.at(point))
}

/// The affine map that does what `map` does, which is a rigid one of the sheet.
fn affine(map: impl Fn(Point) -> kurbo::Point) -> Affine {
    let at = |x, y| map(Point::new(x, y));
    let origin = at(Length::ZERO, Length::ZERO);
    let (right, down) = (at(Length::MILLIMETRE, Length::ZERO) - origin, at(Length::ZERO, Length::MILLIMETRE) - origin);
    Affine::new([right.x, right.y, down.x, down.y, origin.x, origin.y])
}
