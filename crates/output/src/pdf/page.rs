//! The content stream of a page: paths, text and clips in millimetres, y down, under one matrix.

use super::font::{FontBook, PlacedGlyph, resource_name};
use super::image::{self, ImageBook};
use super::tag::Structure;
use super::{POINTS, Refs};
use crate::{number::single, sound};
use draw::list::{Image, Node, Role, Shape, Stroke, Tag};
use draw::style::Colour;
use draw::text::{Face, TextRun};
use kurbo::{Affine, BezPath, PathEl, Point, Rect, Size};
use pdf_writer::{Content, Name, Str};
use std::collections::BTreeSet;

/// What a page consists of and which of the document's resources it names.
pub(super) struct PageContent {
    pub(super) stream: Vec<u8>,
    pub(super) fonts: BTreeSet<Face>,
    /// Pictures, by their numbers.
    pub(super) images: BTreeSet<usize>,
    pub(super) opacities: BTreeSet<u8>,
    pub(super) roles: BTreeSet<Role>,
}

/// The name of the graphics state that sets an opacity.
pub(super) fn opacity_name(opacity: u8) -> String {
    format!("A{opacity}")
}

/// What all pages of a document share.
pub(super) struct Book<'a> {
    pub(super) fonts: &'a mut FontBook,
    pub(super) images: &'a mut ImageBook,
    pub(super) structure: &'a mut Structure,
    pub(super) refs: &'a mut Refs,
}

/// Draws a page.
pub(super) fn content(size: Size, nodes: &[Node], book: Book<'_>) -> PageContent {
    let mut painter = Painter {
        content: Content::new(),
        book: book.fonts,
        pictures: book.images,
        structure: book.structure,
        refs: book.refs,
        fonts: BTreeSet::new(),
        images: BTreeSet::new(),
        opacities: BTreeSet::new(),
        roles: BTreeSet::new(),
        opacity: u8::MAX,
        layer: None,
        is_in_element: false,
        is_artifact: false,
    };
    let height = size.height * POINTS;
    painter.content.transform(matrix(Affine::new([POINTS, 0.0, 0.0, -POINTS, 0.0, height])));
    // SVG and the rasteriser cut long mitres at 4 by default, PDF at 10: one look for all.
    painter.content.set_miter_limit(4.0);
    painter.nodes(nodes);
    let Painter { content, fonts, images, opacities, roles, .. } = painter;
    PageContent { stream: content.finish().into_vec(), fonts, images, opacities, roles }
}

struct Painter<'a> {
    content: Content,
    book: &'a mut FontBook,
    pictures: &'a mut ImageBook,
    structure: &'a mut Structure,
    refs: &'a mut Refs,
    fonts: BTreeSet<Face>,
    images: BTreeSet<usize>,
    opacities: BTreeSet<u8>,
    roles: BTreeSet<Role>,
    /// The opacity that is set now.
    opacity: u8,
    /// The layer that is open now.
    layer: Option<Role>,
    /// Whether what is drawn is in an element of the text.
    is_in_element: bool,
    /// Whether the mark of what is in no element is open now.
    is_artifact: bool,
}

impl Painter<'_> {
    fn nodes(&mut self, nodes: &[Node]) {
        for node in nodes {
            match node {
                Node::Item { role, shape } => {
                    self.open_artifact();
                    self.open_layer(*role);
                    self.shape(shape);
                }
                Node::Group { place, clip, nodes } => {
                    self.close_artifact();
                    self.group(*place, *clip, nodes);
                }
                Node::Tagged { tags, nodes } => {
                    self.close_artifact();
                    self.tagged(tags, nodes);
                }
            }
        }
        self.close_artifact();
    }

    /// Elements don't hold one another on the page: what is tagged within an element is that element's.
    fn tagged(&mut self, tags: &[Tag], nodes: &[Node]) {
        let mark = if self.is_in_element { None } else { self.structure.mark(tags, nodes, self.refs) };
        let Some((name, mark)) = mark else { return self.nodes(nodes) };
        // Where all is on one layer, that is opened first: simple readers only know the innermost mark.
        let only = only_layer(nodes);
        if let Some(role) = only {
            self.open_layer(role);
        }
        self.content.begin_marked_content_with_properties(name).properties().identify(mark);
        self.is_in_element = true;
        if only.is_some() {
            for node in nodes {
                if let Node::Item { shape, .. } = node {
                    self.shape(shape);
                }
            }
        } else {
            self.nodes(nodes);
        }
        self.is_in_element = false;
        self.content.end_marked_content();
        self.close_layer();
    }

    fn open_artifact(&mut self) {
        if !self.is_in_element && !self.is_artifact {
            self.content.begin_marked_content(Name(b"Artifact"));
            self.is_artifact = true;
        }
    }

    /// Closes what is open around items, the layer first.
    fn close_artifact(&mut self) {
        self.close_layer();
        if std::mem::take(&mut self.is_artifact) {
            self.content.end_marked_content();
        }
    }

    fn group(&mut self, place: Affine, clip: Option<Rect>, nodes: &[Node]) {
        let opacity = self.opacity;
        self.content.save_state();
        self.content.transform(matrix(place));
        if let Some(clip) = clip {
            let [x, y, width, height] =
                [clip.min_x(), clip.min_y(), clip.width().abs(), clip.height().abs()].map(single);
            self.content.rect(x, y, width, height).clip_nonzero().end_path();
        }
        self.nodes(nodes);
        self.content.restore_state();
        self.opacity = opacity;
    }

    fn open_layer(&mut self, role: Role) {
        if self.layer != Some(role) {
            self.close_layer();
            self.content
                .begin_marked_content_with_properties(Name(b"OC"))
                .properties_named(Name(role.key().as_bytes()));
            self.roles.insert(role);
            self.layer = Some(role);
        }
    }

    fn close_layer(&mut self) {
        if self.layer.take().is_some() {
            self.content.end_marked_content();
        }
    }

    fn shape(&mut self, shape: &Shape) {
        match shape {
            Shape::Fill { path, colour } => self.fill(path, *colour),
            Shape::Line { path, stroke } if sound::is_seen(stroke) => self.stroke(path, stroke),
            Shape::Line { .. } => {}
            Shape::Text(run) => self.text(run),
            Shape::Image(image) => self.image(image),
        }
    }

    fn fill(&mut self, path: &BezPath, colour: Colour) {
        if path.elements().is_empty() {
            return;
        }
        self.set_fill(colour);
        self.path(path);
        self.content.fill_nonzero();
    }

    fn stroke(&mut self, path: &BezPath, stroke: &Stroke) {
        if path.elements().is_empty() {
            return;
        }
        self.set_opacity(stroke.colour.a);
        let [r, g, b] = channels(stroke.colour);
        self.content.set_stroke_rgb(r, g, b).set_line_width(single(stroke.width));
        let dashes = sound::dashes(stroke).iter().map(|&dash| single(dash));
        // A negative phase is an error in PDF; whole periods forward it is the same.
        let phase = positive_phase(stroke.dash_start, sound::dashes(stroke).iter().sum());
        self.content.set_dash_pattern(dashes, single(phase));
        self.path(path);
        self.content.stroke();
    }

    fn image(&mut self, image: &Image) {
        if image.clip.elements().is_empty() {
            return;
        }
        self.set_opacity(u8::MAX);
        let number = self.pictures.number(&image.picture, self.refs);
        self.images.insert(number);
        self.content.save_state();
        self.path(&image.clip);
        self.content.clip_nonzero().end_path();
        // In a PDF the first row of a picture is at the top of a square whose y goes up.
        self.content.transform(matrix(image.place * Affine::new([1.0, 0.0, 0.0, -1.0, 0.0, 1.0])));
        self.content.x_object(Name(image::resource_name(number).as_bytes()));
        self.content.restore_state();
    }

    fn path(&mut self, path: &BezPath) {
        // PDF has no quadratic curves; raised to cubics they are the same curves.
        let mut last = Point::ORIGIN;
        let mut start = Point::ORIGIN;
        for element in path.elements() {
            match *element {
                PathEl::MoveTo(a) => {
                    self.content.move_to(single(a.x), single(a.y));
                    start = a;
                    last = a;
                }
                PathEl::LineTo(a) => {
                    self.content.line_to(single(a.x), single(a.y));
                    last = a;
                }
                PathEl::QuadTo(a, b) => {
                    self.cubic(last.lerp(a, 2.0 / 3.0), b.lerp(a, 2.0 / 3.0), b);
                    last = b;
                }
                PathEl::CurveTo(a, b, c) => {
                    self.cubic(a, b, c);
                    last = c;
                }
                PathEl::ClosePath => {
                    self.content.close_path();
                    last = start;
                }
            }
        }
    }

    fn cubic(&mut self, a: Point, b: Point, c: Point) {
        let [x1, y1, x2, y2, x3, y3] = [a.x, a.y, b.x, b.y, c.x, c.y].map(single);
        self.content.cubic_to(x1, y1, x2, y2, x3, y3);
    }

    fn text(&mut self, run: &TextRun) {
        if run.size() == 0.0 || run.glyphs().is_empty() {
            return;
        }
        self.fonts.insert(run.face());
        self.set_fill(run.colour());
        let glyphs = self.book.place(run, self.refs);
        self.content.begin_text().set_font(Name(resource_name(run.face()).as_bytes()), single(run.size()));
        // Glyphs at one height are shown together; an accent set apart starts a new line of its own.
        for level in glyphs.chunk_by(|a, b| a.y.to_bits() == b.y.to_bits()) {
            self.level(run, level);
        }
        self.content.end_text();
    }

    /// Shows glyphs that stand at one height.
    fn level(&mut self, run: &TextRun, glyphs: &[PlacedGlyph]) {
        let Some(first) = glyphs.first() else { return };
        self.content
            .set_text_matrix(matrix(run.place() * Affine::translate((first.x * run.size(), first.y * run.size()))));
        let mut shown = self.content.show_positioned();
        let mut items = shown.items();
        let mut pen = first.x;
        let mut codes: Vec<u8> = Vec::new();
        for glyph in glyphs {
            // Thousandths of an em to go back.
            let back = (pen - glyph.x) * 1000.0;
            if back.abs() > 0.01 {
                if !codes.is_empty() {
                    items.show(Str(&codes));
                    codes.clear();
                }
                items.adjust(single(back));
                pen = glyph.x;
            }
            codes.extend(glyph.code.to_be_bytes());
            pen += glyph.advance;
        }
        items.show(Str(&codes));
    }

    fn set_fill(&mut self, colour: Colour) {
        self.set_opacity(colour.a);
        let [r, g, b] = channels(colour);
        self.content.set_fill_rgb(r, g, b);
    }

    fn set_opacity(&mut self, opacity: u8) {
        if self.opacity != opacity {
            self.content.set_parameters(Name(opacity_name(opacity).as_bytes()));
            self.opacities.insert(opacity);
            self.opacity = opacity;
        }
    }
}

/// The layer of nodes that are nothing but items on one.
fn only_layer(nodes: &[Node]) -> Option<Role> {
    let of = |node: &Node| match node {
        Node::Item { role, .. } => Some(*role),
        Node::Group { .. } | Node::Tagged { .. } => None,
    };
    let first = of(nodes.first()?)?;
    nodes.iter().all(|node| of(node) == Some(first)).then_some(first)
}

fn matrix(affine: Affine) -> [f32; 6] {
    affine.as_coeffs().map(single)
}

fn channels(colour: Colour) -> [f32; 3] {
    [colour.r, colour.g, colour.b].map(|channel| f32::from(channel) / 255.0)
}

/// A phase within one period of the dashes; 0 where there are none.
fn positive_phase(phase: f64, period: f64) -> f64 {
    if period > 0.0 { phase - (phase / period).floor() * period } else { 0.0 }
}
