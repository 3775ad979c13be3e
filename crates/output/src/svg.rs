//! SVG in millimetres, for pictures and cutting machines.
//!
//! Letters are outlines, because a font named in the file looks different, or fits differently, on every machine; what
//! they say is kept as a label for screen readers. No styles, no scripts, no references outside the file.

use crate::image::{Key, base64, key, passes_on, png_of};
use crate::{OutputError, number, sound};
use draw::list::{Drawing, Image, Node, Picture, Role, Shape, Stroke};
use draw::style::Colour;
use draw::text::TextRun;
use kurbo::{Affine, BezPath, PathEl, Point, Rect};
use std::collections::BTreeMap;
use std::fmt::Write as _;

/// Decimals of a coordinate in mm: a nanometre.
const DECIMALS: usize = 6;

/// Decimals of the factors of a transform, which are multiplied by hundreds of millimetres.
const FACTOR_DECIMALS: usize = 9;

/// The name of the vocabulary that older readers know links by.
const XLINK: &str = "http://www.w3.org/1999/xlink";

/// Writes a drawing as an SVG document whose user unit is the millimetre.
///
/// Neighbours of one role are grouped in a `g` whose class is [`Role::key`]; back to front order is kept.
///
/// # Errors
/// [`OutputError::NotFinite`], [`OutputError::PageSize`] or [`OutputError::TooDeep`] when the drawing can't be written.
pub fn svg(drawing: &Drawing) -> Result<String, OutputError> {
    sound::check(drawing, 1)?;
    let mut writer = Writer { out: String::new(), clips: 0, pictures: BTreeMap::new() };
    writer.document(drawing)?;
    Ok(writer.out)
}

struct Writer {
    out: String,
    /// Clips named so far.
    clips: usize,
    /// Pictures by their number in the file.
    pictures: BTreeMap<Key, usize>,
}

impl Writer {
    fn document(&mut self, drawing: &Drawing) -> Result<(), OutputError> {
        let (width, height) = (mm(drawing.size.width), mm(drawing.size.height));
        self.out.push_str("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n");
        self.line(format_args!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}mm\" height=\"{height}mm\" \
             viewBox=\"0 0 {width} {height}\">"
        ));
        let (title, rest) = first_sentence(&drawing.description);
        if !title.is_empty() {
            self.line(format_args!("<title>{}</title>", escaped(title)));
        }
        if !rest.is_empty() {
            self.line(format_args!("<desc>{}</desc>", escaped(rest)));
        }
        self.define_pictures(&drawing.nodes)?;
        self.nodes(&drawing.nodes);
        self.out.push_str("</svg>\n");
        Ok(())
    }

    /// Each picture once, as a square of one millimetre.
    fn define_pictures(&mut self, nodes: &[Node]) -> Result<(), OutputError> {
        for node in nodes {
            match node {
                Node::Group { nodes, .. } | Node::Tagged { nodes, .. } => self.define_pictures(nodes)?,
                Node::Item { shape: Shape::Image(image), .. } => self.define(&image.picture)?,
                Node::Item { .. } => {}
            }
        }
        Ok(())
    }

    fn define(&mut self, picture: &Picture) -> Result<(), OutputError> {
        let number = self.pictures.len() + 1;
        if self.pictures.contains_key(&key(picture)) {
            return Ok(());
        }
        self.pictures.insert(key(picture), number);
        let (kind, letters) = match &picture.jpeg {
            Some(jpeg) if passes_on(picture) => ("jpeg", base64(&jpeg.bytes)),
            _ => ("png", base64(&png_of(picture)?)),
        };
        // `xlink:href` is read by every reader, `href` only by newer ones.
        self.line(format_args!(
            "<defs><image id=\"picture-{number}\" width=\"1\" height=\"1\" preserveAspectRatio=\"none\" \
             xlink:href=\"data:image/{kind};base64,{letters}\" xmlns:xlink=\"{XLINK}\"/></defs>"
        ));
        Ok(())
    }

    fn nodes(&mut self, nodes: &[Node]) {
        let mut open: Option<Role> = None;
        for node in nodes {
            let role = match node {
                Node::Item { role, .. } => Some(*role),
                Node::Group { .. } | Node::Tagged { .. } => None,
            };
            if role != open {
                if open.is_some() {
                    self.out.push_str("</g>\n");
                }
                if let Some(role) = role {
                    self.line(format_args!("<g class=\"{}\">", role.key()));
                }
                open = role;
            }
            match node {
                Node::Item { shape, .. } => self.shape(shape),
                Node::Group { place, clip, nodes } => self.group(*place, *clip, nodes),
                Node::Tagged { nodes, .. } => self.nodes(nodes),
            }
        }
        if open.is_some() {
            self.out.push_str("</g>\n");
        }
    }

    fn group(&mut self, place: Affine, clip: Option<Rect>, nodes: &[Node]) {
        let mut attributes = String::new();
        if place != Affine::IDENTITY {
            attributes = format!(" transform=\"{}\"", matrix(place));
        }
        if let Some(clip) = clip {
            self.clips += 1;
            let name = format!("clip-{}", self.clips);
            let (x, y) = (mm(clip.min_x()), mm(clip.min_y()));
            let (width, height) = (mm(clip.width().abs()), mm(clip.height().abs()));
            self.line(format_args!(
                "<clipPath id=\"{name}\"><rect x=\"{x}\" y=\"{y}\" width=\"{width}\" height=\"{height}\"/></clipPath>"
            ));
            attributes.push_str(&format!(" clip-path=\"url(#{name})\""));
        }
        self.line(format_args!("<g{attributes}>"));
        self.nodes(nodes);
        self.out.push_str("</g>\n");
    }

    fn shape(&mut self, shape: &Shape) {
        match shape {
            Shape::Fill { path, colour } => {
                let paint = paint("fill", *colour);
                self.path(path, &paint);
            }
            Shape::Line { path, stroke } if sound::is_seen(stroke) => self.path(path, &stroke_attributes(stroke)),
            Shape::Line { .. } => {}
            Shape::Text(run) => self.text(run),
            Shape::Image(image) => self.image(image),
        }
    }

    fn image(&mut self, image: &Image) {
        let Some(number) = self.pictures.get(&key(&image.picture)).copied() else { return };
        self.clips += 1;
        let name = format!("clip-{}", self.clips);
        self.line(format_args!("<clipPath id=\"{name}\"><path d=\"{}\"/></clipPath>", path_data(&image.clip)));
        self.line(format_args!(
            "<g clip-path=\"url(#{name})\"><use xlink:href=\"#picture-{number}\" transform=\"{}\" \
             xmlns:xlink=\"{XLINK}\"/></g>",
            matrix(image.place)
        ));
    }

    fn text(&mut self, run: &TextRun) {
        let label = escaped(run.text());
        self.path(&run.path(), &format!("{} role=\"img\" aria-label=\"{label}\"", paint("fill", run.colour())));
    }

    fn path(&mut self, path: &BezPath, attributes: &str) {
        if !path.elements().is_empty() {
            self.line(format_args!("<path d=\"{}\" {attributes}/>", path_data(path)));
        }
    }

    fn line(&mut self, text: std::fmt::Arguments<'_>) {
        self.out.write_fmt(text).expect("a string takes all that is written to it");
        self.out.push('\n');
    }
}

fn matrix(place: Affine) -> String {
    let [a, b, c, d, e, f] = place.as_coeffs();
    let factors = [a, b, c, d].map(|factor| number::text(factor, FACTOR_DECIMALS)).join(" ");
    format!("matrix({factors} {} {})", mm(e), mm(f))
}

fn stroke_attributes(stroke: &Stroke) -> String {
    let mut text = format!("fill=\"none\" {} stroke-width=\"{}\"", paint("stroke", stroke.colour), mm(stroke.width));
    let dashes = sound::dashes(stroke);
    if !dashes.is_empty() {
        let lengths = dashes.iter().map(|&length| mm(length)).collect::<Vec<_>>().join(" ");
        text.push_str(&format!(" stroke-dasharray=\"{lengths}\""));
        if stroke.dash_start != 0.0 {
            text.push_str(&format!(" stroke-dashoffset=\"{}\"", mm(stroke.dash_start)));
        }
    }
    text
}

/// The `fill` or `stroke` attribute, and its opacity where the colour isn't solid.
fn paint(kind: &str, Colour { r, g, b, a }: Colour) -> String {
    let colour = format!("{kind}=\"#{r:02x}{g:02x}{b:02x}\"");
    if a == u8::MAX { colour } else { format!("{colour} {kind}-opacity=\"{}\"", number::text(f64::from(a) / 255.0, 4)) }
}

fn path_data(path: &BezPath) -> String {
    path.elements()
        .iter()
        .map(|element| match *element {
            PathEl::MoveTo(a) => format!("M{}", points(&[a])),
            PathEl::LineTo(a) => format!("L{}", points(&[a])),
            PathEl::QuadTo(a, b) => format!("Q{}", points(&[a, b])),
            PathEl::CurveTo(a, b, c) => format!("C{}", points(&[a, b, c])),
            PathEl::ClosePath => "Z".to_owned(),
        })
        .collect()
}

fn points(points: &[Point]) -> String {
    points.iter().map(|point| format!("{} {}", mm(point.x), mm(point.y))).collect::<Vec<_>>().join(" ")
}

fn mm(value: f64) -> String {
    number::text(value, DECIMALS)
}

/// Text for an element or an attribute: escaped, without what XML 1.0 forbids even as an escape.
pub(crate) fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\t' | '\n' | '\r' => out.push(' '),
            '\u{FFFE}' | '\u{FFFF}' => {}
            c if c.is_control() => {}
            c => out.push(c),
        }
    }
    out
}

/// A text in two: its first sentence, and what comes after.
fn first_sentence(text: &str) -> (&str, &str) {
    let text = text.trim();
    text.split_once(". ").map_or((text, ""), |(first, rest)| (text.get(..=first.len()).unwrap_or(first), rest.trim()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;
    use draw::style::{self, stroke_for};
    use draw::text::{Face, Turned};
    use kurbo::Size;
    use resvg::usvg;

    /// usvg works in 96ths of an inch.
    const MM_PER_PX: f64 = 25.4 / 96.0;

    fn read(drawing: &Drawing) -> usvg::Tree {
        usvg::Tree::from_str(&svg(drawing).unwrap(), &usvg::Options::default()).unwrap()
    }

    fn paths(group: &usvg::Group) -> Vec<&usvg::Path> {
        let mut found = Vec::new();
        for node in group.children() {
            match node {
                usvg::Node::Group(group) => found.extend(paths(group)),
                usvg::Node::Path(path) => found.push(&**path),
                _ => {}
            }
        }
        found
    }

    /// Checks the box of the n-th path against mm, as usvg measures it.
    #[track_caller]
    fn check_extent(tree: &usvg::Tree, n: usize, expected: Rect) {
        let bounds = paths(tree.root())[n].abs_bounding_box();
        let found = [bounds.left(), bounds.top(), bounds.right(), bounds.bottom()];
        let expected = [expected.x0, expected.y0, expected.x1, expected.y1];
        for (found, expected) in found.map(|edge| f64::from(edge) * MM_PER_PX).into_iter().zip(expected) {
            assert!((found - expected).abs() < 1e-4, "{found} is not {expected}");
        }
    }

    #[track_caller]
    fn check_contains(drawing: &Drawing, part: &str) {
        let text = svg(drawing).unwrap();
        assert!(text.contains(part), "{part} is not in {text}");
    }

    fn one(role: Role, shape: Shape) -> Drawing {
        let mut drawing = Drawing::new(Size::new(40.0, 30.0), "");
        drawing.push(role, shape);
        drawing
    }

    #[test]
    fn an_independent_reader_measures_the_millimetres() {
        let tree = read(&sample::sheet());
        let size = tree.size();
        assert!((f64::from(size.width()) * MM_PER_PX - 220.0).abs() < 1e-4);
        assert!((f64::from(size.height()) * MM_PER_PX - 160.0).abs() < 1e-4);
        check_extent(&tree, 0, sample::SHEET);
        check_extent(&tree, 1, sample::SHEET);
        check_extent(&tree, 2, Rect::new(85.123_456, 5.5, 85.123_456, 155.5));
        let strip = sample::STRIP.transform_rect_bbox(Rect::new(0.0, 0.0, 80.0, 20.0));
        check_extent(&tree, 4, strip);
        check_extent(&tree, paths(tree.root()).len() - 1, sample::WASH);
    }

    #[test]
    fn letters_are_outlines_where_the_run_puts_them() {
        let run = TextRun::new("Hinge", Face::Bold, 5.0, style::LABEL).centred_on(Point::new(20.0, 15.0));
        for turned in [Turned::Upright, Turned::Left] {
            let run = run.clone().turned(turned);
            let tree = read(&one(Role::Label, Shape::Text(run.clone())));
            check_extent(&tree, 0, run.ink().unwrap());
        }
    }

    /// The dashes of a mountain fold 0.25 mm wide, in usvg's pixels.
    #[test]
    fn dashes_and_widths_are_read_back() {
        let tree = read(&sample::sheet());
        let stroke = paths(tree.root())[3].stroke().unwrap();
        let dashes: Vec<f64> = stroke.dasharray().unwrap().iter().map(|&dash| f64::from(dash)).collect();
        // The group's scale, pixels to the mm, is kept apart from the numbers.
        assert_eq!(dashes, [3.0, 0.75, 0.125, 0.75]);
        assert!((f64::from(stroke.width().get()) - 0.25).abs() < 1e-6);
        assert!(paths(tree.root())[1].stroke().unwrap().dasharray().is_none());
    }

    #[test]
    fn the_clip_is_a_clip() {
        let tree = read(&sample::sheet());
        assert_eq!(tree.clip_paths().len(), 1);
    }

    #[test]
    fn neighbours_of_one_role_share_a_group() {
        let mut drawing = one(Role::Cut, sample::line(Role::Cut, (0.0, 1.0), (40.0, 1.0)));
        drawing.push(Role::Cut, sample::line(Role::Cut, (0.0, 2.0), (40.0, 2.0)));
        drawing.push(Role::Valley, sample::line(Role::Valley, (0.0, 3.0), (40.0, 3.0)));
        drawing.push(Role::Cut, sample::line(Role::Cut, (0.0, 4.0), (40.0, 4.0)));
        let text = svg(&drawing).unwrap();
        assert_eq!(text.matches("<g class=\"cut\">").count(), 2);
        assert_eq!(text.matches("<g class=\"score-valley\">").count(), 1);
        assert_eq!(text.matches("<g").count(), text.matches("</g>").count());
    }

    #[test]
    fn words_are_escaped_and_stripped() {
        let run = TextRun::new("A & \"B\" <C>\u{7}", Face::Regular, 4.0, style::LABEL);
        check_contains(&one(Role::Label, Shape::Text(run)), "aria-label=\"A &amp; &quot;B&quot; &lt;C&gt;\"");
        let mut drawing = Drawing::new(Size::new(1.0, 1.0), "A \u{0}<sheet>.  Two\nfolds\u{FFFF} & more.");
        check_contains(&drawing, "<title>A &lt;sheet&gt;.</title>\n<desc>Two folds &amp; more.</desc>");
        drawing.description = "A sheet".to_owned();
        check_contains(&drawing, "<title>A sheet</title>\n</svg>");
    }

    #[test]
    fn a_small_document_is_exactly_this() {
        let mut drawing = one(Role::Valley, sample::line(Role::Valley, (1.0, 2.0), (1.0 / 3.0, 0.1 + 0.2)));
        let wash = sample::fill(Rect::new(0.0, 0.0, 2.5, 1.0), Colour::solid(1, 2, 3).with_alpha(128));
        let nodes = vec![Node::Item { role: Role::Note, shape: wash }];
        let clip = Some(Rect::new(0.0, 0.0, 1.0, 1.0));
        drawing.nodes.push(Node::Group { place: Affine::translate((3.0, -4.0)), clip, nodes });
        let expected = r##"<?xml version="1.0" encoding="UTF-8"?>
<svg xmlns="http://www.w3.org/2000/svg" width="40mm" height="30mm" viewBox="0 0 40 30">
<g class="score-valley">
<path d="M1 2L0.333333 0.3" fill="none" stroke="#00795a" stroke-width="0.25" stroke-dasharray="3 0.75"/>
</g>
<clipPath id="clip-1"><rect x="0" y="0" width="1" height="1"/></clipPath>
<g transform="matrix(1 0 0 1 3 -4)" clip-path="url(#clip-1)">
<g class="note">
<path d="M0 0L2.5 0L2.5 1L0 1Z" fill="#010203" fill-opacity="0.502"/>
</g>
</g>
</svg>
"##;
        assert_eq!(svg(&drawing).unwrap(), expected);
    }

    #[test]
    fn what_leaves_no_mark_is_left_out() {
        let stroke = Stroke { width: 0.0, ..stroke_for(Role::Cut) };
        let path = kurbo::Shape::to_path(&Rect::new(0.0, 0.0, 1.0, 1.0), 0.1);
        let text = svg(&one(Role::Cut, Shape::Line { path, stroke })).unwrap();
        assert!(!text.contains("<path"));
        let space = TextRun::new(" ", Face::Regular, 4.0, style::LABEL);
        assert!(!svg(&one(Role::Label, Shape::Text(space))).unwrap().contains("<path"));
    }

    #[test]
    fn coordinates_that_are_not_numbers_are_refused() {
        let drawing = one(Role::Cut, sample::line(Role::Cut, (0.0, 0.0), (f64::NAN, 1.0)));
        assert!(matches!(svg(&drawing), Err(OutputError::NotFinite { page: 1, .. })));
    }
}
