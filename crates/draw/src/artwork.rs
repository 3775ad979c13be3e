//! What is printed on paper: pictures on the faces of sheets, and so on the panels and parts that are made of them.
//!
//! Pixels come from outside; here is only where they lie. A picture on the back is placed as the back is seen, turned over
//! like a page, so on the sheet as drawn it is mirrored.

use crate::board::Board;
use crate::list::{Image, Node, Picture, Role, Shape, Stroke};
use crate::sheet::add_polygon;
use crate::style::{Colour, HALO, HALO_WIDTH, OFFCUT_FADE, PLATE, VEIL};
use allot::{Allotment, Origin};
use kurbo::{Affine, BezPath, Shape as _};
use model::{Artwork, Document, Face, Layout, Length, PanelId, Point, StockId};
use std::collections::BTreeMap;
use std::sync::Arc;

/// A picture and where it lies: from the picture as stored, in shares, to a sheet as drawn, in mm.
pub type Print<'a> = (&'a Arc<Picture>, Affine);

/// A picture of a document, with the face that it is printed on; `None` is the folio's own stock.
pub type FacePicture = (Option<StockId>, Face, Arc<Picture>);

/// The pictures that are printed on the papers of a design.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Prints {
    prints: Vec<Placed>,
}

#[derive(Debug, Clone, PartialEq)]
struct Placed {
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
            Some(Placed { stock, face, picture, place })
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
    pub fn on_sheet(&self, stock: Option<StockId>, face: Face) -> Option<Print<'_>> {
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

/// How many pixels a millimetre of paper are to be kept of the pictures of a design, so that none of them, nor any of its
/// papers, is more than so many pixels along: what is drawn small needs no more, and what is kept has a bound.
#[must_use]
pub fn per_mm(document: &Document, most_along: f64) -> f64 {
    let stocks = std::iter::once(&document.stock).chain(document.further_stocks.iter().map(|further| &further.stock));
    let longest = stocks.flat_map(|stock| {
        let artwork = [Face::Front, Face::Back].into_iter().filter_map(|face| stock.side(face).artwork.as_ref());
        let printed = artwork.map(|artwork| artwork.width.max(artwork.height())).max();
        printed.into_iter().chain([stock.size.width(), stock.size.height()])
    });
    most_along / longest.max().map_or(1.0, Length::mm).max(1.0)
}

impl Printed<'_> {
    /// Nothing.
    pub const NOTHING: Printed<'static> = Printed { prints: &Prints { prints: Vec::new() }, supply: None };

    /// What is printed on a panel, as [`Prints::on_sheet`] but for the panel's own sheet: that of the folio, or the part's.
    #[must_use]
    pub fn on_panel(&self, layout: &Layout, panel: PanelId, face: Face) -> Option<Print<'_>> {
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

/// Nodes of paper, each fill with its lines and words after it, with what is printed over each fill: `print` says what for a
/// fill of that outline. Lines and words on print can be read whatever is printed.
pub(crate) fn over_fills(nodes: Vec<Node>, print: impl Fn(Role, &BezPath) -> Option<Node>) -> Vec<Node> {
    let mut out = Vec::with_capacity(nodes.len());
    for piece in nodes.chunk_by(|_, next| !is_fill(next)) {
        let printed = match piece.first() {
            Some(Node::Item { role, shape: Shape::Fill { path, .. } }) => print(*role, path),
            _ => None,
        };
        let Some(printed) = printed else {
            out.extend_from_slice(piece);
            continue;
        };
        out.extend_from_slice(&piece[..1]);
        out.push(printed);
        out.extend(legible(piece[1..].to_vec()));
    }
    out
}

/// The nodes of parts where they are cut from the folio's sheet, with what is printed there over each fill.
#[must_use]
pub fn over_parts(nodes: Vec<Node>, prints: &Prints, board: Board) -> Vec<Node> {
    over_fills(nodes, |role, path| {
        (role == Role::Part).then(|| prints.node(None, Face::Front, role, on_board(board), path.clone()))?
    })
}

const fn is_fill(node: &Node) -> bool {
    matches!(node, Node::Item { shape: Shape::Fill { .. }, .. })
}

/// Fills of paper, and lines after them, with what is printed over the fills and the fills' own colours over that again, so
/// that the print is pale and all that is drawn after it can be read. `to` goes from the sheet as drawn to the drawing.
#[must_use]
pub fn paled(nodes: Vec<Node>, print: Option<Print<'_>>, to: Affine) -> Vec<Node> {
    let Some((picture, place)) = print else { return nodes };
    let mut all = BezPath::new();
    let mut veils: BTreeMap<Role, (Colour, BezPath)> = BTreeMap::new();
    for node in &nodes {
        if let Node::Item { role, shape: Shape::Fill { path, colour } } = node {
            all.extend(path.iter());
            veils.entry(*role).or_insert_with(|| (*colour, BezPath::new())).1.extend(path.iter());
        }
    }
    let at = nodes.iter().rposition(is_fill).map_or(0, |last| last + 1);
    let Some(printed) = image(Role::Paper, picture, to * place, all) else { return nodes };
    let veil = |(role, (colour, path)): (Role, (Colour, BezPath))| {
        // Paper that comes off is told by its tint, print or not.
        let parts = if role == Role::Offcut { VEIL.saturating_add(0x18) } else { VEIL };
        Node::Item { role, shape: Shape::Fill { path, colour: colour.with_alpha(parts) } }
    };
    let mut out = nodes;
    let after = out.split_off(at);
    out.push(printed);
    out.extend(veils.into_iter().map(veil));
    out.extend(after);
    out
}

/// Lines and words as they stand on printed paper: the paper's colour under them.
#[must_use]
pub fn legible(nodes: Vec<Node>) -> Vec<Node> {
    let mut under: Vec<Node> = nodes.iter().filter_map(halo).collect();
    for node in nodes {
        under.extend(plate(&node));
        under.push(node);
    }
    under
}

/// What lies under a line on print.
fn halo(node: &Node) -> Option<Node> {
    let Node::Item { role, shape: Shape::Line { path, stroke } } = node else { return None };
    let stroke = Stroke { width: stroke.width + 2.0 * HALO_WIDTH, colour: HALO, dashes: Vec::new(), dash_start: 0.0 };
    Some(Node::Item { role: *role, shape: Shape::Line { path: path.clone(), stroke } })
}

/// What lies under words on print.
#[must_use]
pub fn plate(node: &Node) -> Option<Node> {
    let Node::Item { role, shape: Shape::Text(run) } = node else { return None };
    let room = run.bounds().inflate(run.size() * 0.12, run.size() * 0.12);
    (!run.glyphs().is_empty()).then(|| {
        let path = room.to_path(0.0);
        Node::Item { role: *role, shape: Shape::Fill { path, colour: PLATE } }
    })
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
