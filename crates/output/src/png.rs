//! PNG: a picture on white or on nothing, at a width in pixels.
//!
//! The seams between neighbouring areas are described at the crate's root.

use crate::image::{Key, covers, extent};
use crate::{OutputError, number, sound};
use draw::list::{Drawing, Image, Node, Picture, Shape, Stroke};
use draw::style::Colour;
use kurbo::{Affine, BezPath, PathEl, Shape as _};
use std::collections::BTreeMap;
use tiny_skia::{
    FillRule, FilterQuality, Mask, Paint, Path, PathBuilder, Pattern, Pixmap, PremultipliedColorU8, SpreadMode,
    StrokeDash, Transform,
};

/// The longest side of a picture in pixels. Twice what a 12 in sheet takes at 600 dots an inch.
pub const MAX_SIDE: u64 = 16_000;

/// The most pixels of a picture; four bytes each while drawing, so 400 MB.
pub const MAX_PIXELS: u64 = 100_000_000;

/// What a picture is drawn on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Ground {
    /// A white page.
    #[default]
    White,
    /// Nothing: where nothing is drawn, the picture is clear.
    Clear,
}

/// Draws a drawing on white as an RGB PNG `pixels_wide` pixels across; the height follows, rounded to whole pixels.
///
/// The file says how large a pixel is (`pHYs`, whole pixels a metre), so that it prints at its size in mm.
///
/// # Errors
/// [`OutputError::PictureSize`] beyond [`MAX_SIDE`] or [`MAX_PIXELS`] or for a width of nothing;
/// [`OutputError::NotFinite`], [`OutputError::PageSize`] or [`OutputError::TooDeep`] when the drawing can't be drawn.
pub fn png(drawing: &Drawing, pixels_wide: u32) -> Result<Vec<u8>, OutputError> {
    png_on(drawing, pixels_wide, Ground::White)
}

/// The same on a ground of choice; on none it is an RGBA PNG.
///
/// # Errors
/// As [`png()`].
pub fn png_on(drawing: &Drawing, pixels_wide: u32, ground: Ground) -> Result<Vec<u8>, OutputError> {
    let pixmap = Painter::default().painted(drawing, pixels_wide, ground)?;
    let (data, colours) = match ground {
        Ground::White => (rgb(&pixmap), ::png::ColorType::Rgb),
        Ground::Clear => (rgba(&pixmap), ::png::ColorType::Rgba),
    };
    let mut bytes = Vec::new();
    let mut encoder = ::png::Encoder::new(&mut bytes, pixmap.width(), pixmap.height());
    encoder.set_color(colours);
    encoder.set_depth(::png::BitDepth::Eight);
    encoder.set_pixel_dims(Some(pixel_size(drawing, pixels_wide)));
    let mut writer = encoder.write_header()?;
    writer.write_image_data(&data)?;
    writer.finish()?;
    Ok(bytes)
}

/// How large a pixel is on paper.
pub(crate) fn pixel_size(drawing: &Drawing, pixels_wide: u32) -> ::png::PixelDimensions {
    let per_metre = f64::from(pixels_wide) / drawing.size.width * 1000.0;
    let per_metre = u32::try_from(whole(per_metre)).unwrap_or(u32::MAX);
    ::png::PixelDimensions { xppu: per_metre, yppu: per_metre, unit: ::png::Unit::Meter }
}

/// Draws drawings, and keeps the pictures in them as the rasteriser wants them.
#[derive(Default)]
pub(crate) struct Painter {
    pictures: BTreeMap<Key, Pixmap>,
}

impl Painter {
    /// The pixels of a drawing.
    pub(crate) fn painted(
        &mut self,
        drawing: &Drawing,
        pixels_wide: u32,
        ground: Ground,
    ) -> Result<Pixmap, OutputError> {
        sound::check(drawing, 1)?;
        let scale = f64::from(pixels_wide) / drawing.size.width;
        let height = whole(drawing.size.height * scale).max(1);
        let width = u64::from(pixels_wide);
        let refused = || OutputError::PictureSize { width, height };
        if width == 0 || width > MAX_SIDE || height > MAX_SIDE || width * height > MAX_PIXELS {
            return Err(refused());
        }
        let rows = u32::try_from(height).map_err(|_too_many| refused())?;
        let mut pixmap = Pixmap::new(pixels_wide, rows).ok_or_else(refused)?;
        if ground == Ground::White {
            pixmap.fill(tiny_skia::Color::WHITE);
        }
        self.nodes(&mut pixmap, &drawing.nodes, Affine::scale(scale), None);
        Ok(pixmap)
    }

    fn nodes(&mut self, pixmap: &mut Pixmap, nodes: &[Node], place: Affine, clip: Option<&Mask>) {
        for node in nodes {
            match node {
                Node::Item { shape, .. } => self.shape(pixmap, shape, place, clip),
                Node::Group { place: inner, clip: None, nodes } => self.nodes(pixmap, nodes, place * *inner, clip),
                Node::Group { place: inner, clip: Some(area), nodes } => {
                    let place = place * *inner;
                    // An area that is no path has nothing inside.
                    if let Some(mask) = clipped(pixmap, &area.to_path(0.0), place, clip) {
                        self.nodes(pixmap, nodes, place, Some(&mask));
                    }
                }
                Node::Tagged { nodes, .. } => self.nodes(pixmap, nodes, place, clip),
            }
        }
    }

    fn shape(&mut self, pixmap: &mut Pixmap, shape: &Shape, place: Affine, clip: Option<&Mask>) {
        match shape {
            Shape::Fill { path, colour } => fill(pixmap, path, &paint(*colour), place, clip),
            Shape::Text(run) => fill(pixmap, &run.path(), &paint(run.colour()), place, clip),
            Shape::Line { path, stroke } if sound::is_seen(stroke) => {
                if let Some(path) = pixel_path(path) {
                    pixmap.stroke_path(&path, &paint(stroke.colour), &pen(stroke), transform(place), clip);
                }
            }
            Shape::Line { .. } => {}
            Shape::Image(image) => self.image(pixmap, image, place, clip),
        }
    }

    fn image(&mut self, pixmap: &mut Pixmap, image: &Image, place: Affine, clip: Option<&Mask>) {
        let picture = &image.picture;
        let [width, height] = fewer_pixels(picture, place * image.place);
        let key = (picture.digest, width, height);
        if !self.pictures.contains_key(&key) {
            self.pictures.extend(premultiplied(picture, [width, height]).map(|pixels| (key, pixels)));
        }
        let Some(pixels) = self.pictures.get(&key) else { return };
        let pixel = Affine::scale_non_uniform(1.0 / f64::from(width), 1.0 / f64::from(height));
        let to_drawing = transform(image.place * pixel);
        let shader = Pattern::new(pixels.as_ref(), SpreadMode::Pad, FilterQuality::Bilinear, 1.0, to_drawing);
        let paint = Paint { shader, anti_alias: true, ..Paint::default() };
        if covers(image) {
            fill(pixmap, &image.clip, &paint, place, clip);
        } else if let Some(mask) = clipped(pixmap, &extent(image.place), place, clip) {
            // The pattern goes on beyond the picture, which must not be seen.
            fill(pixmap, &image.clip, &paint, place, Some(&mask));
        }
    }
}

/// How many pixels of a picture to draw: half as many both ways, and again, while two fall on one of the page, since the
/// rasteriser looks at four neighbours only.
fn fewer_pixels(picture: &Picture, place: Affine) -> [u32; 2] {
    let [a, b, c, d, ..] = place.as_coeffs();
    let (mut across, mut down) = (picture.width, picture.height);
    let on_page = |x: f64, y: f64, pixels: u32| (x * x + y * y).sqrt() / f64::from(pixels);
    while across > 1 && down > 1 && on_page(a, b, across).max(on_page(c, d, down)) <= 0.5 {
        (across, down) = (across.div_ceil(2), down.div_ceil(2));
    }
    [across, down]
}

/// A picture as the rasteriser wants it: each colour times its opacity.
fn premultiplied(picture: &Picture, [width, height]: [u32; 2]) -> Option<Pixmap> {
    let mut pixmap = Pixmap::new(width, height)?;
    let shrunk = ((width, height) != (picture.width, picture.height)).then(|| picture.shrunk([width, height]));
    let pixels = shrunk.as_ref().unwrap_or(&picture.pixels).chunks_exact(picture.channels.count());
    for (to, from) in pixmap.pixels_mut().iter_mut().zip(pixels) {
        let opacity = from.get(3).copied().unwrap_or(u8::MAX);
        *to = tiny_skia::ColorU8::from_rgba(from[0], from[1], from[2], opacity).premultiply();
    }
    Some(pixmap)
}

/// Red, green and blue of pixels that are all solid: what lies on a white page.
pub(crate) fn rgb(pixmap: &Pixmap) -> Vec<u8> {
    pixmap.data().chunks_exact(4).flat_map(|pixel| [pixel[0], pixel[1], pixel[2]]).collect()
}

fn rgba(pixmap: &Pixmap) -> Vec<u8> {
    let pixel = |pixel: &PremultipliedColorU8| {
        let colour = pixel.demultiply();
        [colour.red(), colour.green(), colour.blue(), colour.alpha()]
    };
    pixmap.pixels().iter().flat_map(pixel).collect()
}

fn fill(pixmap: &mut Pixmap, path: &BezPath, paint: &Paint<'_>, place: Affine, clip: Option<&Mask>) {
    if let Some(path) = pixel_path(path) {
        pixmap.fill_path(&path, paint, FillRule::Winding, transform(place), clip);
    }
}

/// What is left of a clip inside an area.
fn clipped(pixmap: &Pixmap, area: &BezPath, place: Affine, clip: Option<&Mask>) -> Option<Mask> {
    let path = pixel_path(area)?;
    match clip {
        Some(clip) => {
            let mut mask = clip.clone();
            mask.intersect_path(&path, FillRule::Winding, true, transform(place));
            Some(mask)
        }
        None => {
            let mut mask = Mask::new(pixmap.width(), pixmap.height())?;
            mask.fill_path(&path, FillRule::Winding, true, transform(place));
            Some(mask)
        }
    }
}

/// The same path for the rasteriser; `None` when there is nothing in it.
fn pixel_path(path: &BezPath) -> Option<Path> {
    let mut builder = PathBuilder::new();
    let xy = |point: kurbo::Point| (number::single(point.x), number::single(point.y));
    for element in path.elements() {
        match *element {
            PathEl::MoveTo(a) => {
                let (x, y) = xy(a);
                builder.move_to(x, y);
            }
            PathEl::LineTo(a) => {
                let (x, y) = xy(a);
                builder.line_to(x, y);
            }
            PathEl::QuadTo(a, b) => {
                let ((x1, y1), (x, y)) = (xy(a), xy(b));
                builder.quad_to(x1, y1, x, y);
            }
            PathEl::CurveTo(a, b, c) => {
                let ((x1, y1), (x2, y2), (x, y)) = (xy(a), xy(b), xy(c));
                builder.cubic_to(x1, y1, x2, y2, x, y);
            }
            PathEl::ClosePath => builder.close(),
        }
    }
    builder.finish()
}

fn pen(stroke: &Stroke) -> tiny_skia::Stroke {
    let dashes: Vec<f32> = sound::dashes(stroke).iter().map(|&dash| number::single(dash)).collect();
    tiny_skia::Stroke {
        width: number::single(stroke.width),
        dash: StrokeDash::new(dashes, number::single(stroke.dash_start)),
        ..tiny_skia::Stroke::default()
    }
}

fn paint(colour: Colour) -> Paint<'static> {
    let mut paint = Paint { anti_alias: true, ..Paint::default() };
    paint.set_color_rgba8(colour.r, colour.g, colour.b, colour.a);
    paint
}

fn transform(place: Affine) -> Transform {
    let [a, b, c, d, e, f] = place.as_coeffs().map(number::single);
    Transform::from_row(a, b, c, d, e, f)
}

/// The nearest whole number, 0 for what is below.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "`as` saturates, which is what is wanted")]
pub(crate) fn whole(value: f64) -> u64 {
    value.round() as u64
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;
    use draw::list::Role;
    use draw::style;
    use kurbo::{Point, Rect, Size};

    /// A decoded picture.
    struct Picture {
        width: u32,
        height: u32,
        dims: Option<::png::PixelDimensions>,
        rgb: Vec<u8>,
    }

    fn decode(bytes: &[u8]) -> Picture {
        let mut reader = ::png::Decoder::new(std::io::Cursor::new(bytes)).read_info().unwrap();
        let mut rgb = vec![0; reader.output_buffer_size().unwrap()];
        let frame = reader.next_frame(&mut rgb).unwrap();
        assert_eq!(frame.color_type, ::png::ColorType::Rgb);
        Picture { width: frame.width, height: frame.height, dims: reader.info().pixel_dims, rgb }
    }

    impl Picture {
        fn at(&self, x: u32, y: u32) -> Colour {
            let start = usize::try_from((y * self.width + x) * 3).unwrap();
            Colour::solid(self.rgb[start], self.rgb[start + 1], self.rgb[start + 2])
        }
    }

    /// Ten pixels to the mm.
    fn sheet() -> Picture {
        decode(&png(&sample::sheet(), 2200).unwrap())
    }

    #[test]
    fn size_and_scale_are_as_asked() {
        let picture = sheet();
        assert_eq!((picture.width, picture.height), (2200, 1600));
        let dims = picture.dims.unwrap();
        assert_eq!((dims.xppu, dims.yppu, dims.unit), (10_000, 10_000, ::png::Unit::Meter));
        let small = decode(&png(&sample::sheet(), 1).unwrap());
        assert_eq!((small.width, small.height), (1, 1));
    }

    #[test]
    fn colours_are_where_they_belong() {
        let picture = sheet();
        #[track_caller]
        fn check(picture: &Picture, mm: Point, expected: Colour) {
            let pixel = |mm: f64| u32::try_from(whole((mm * 10.0).floor())).unwrap();
            assert_eq!(picture.at(pixel(mm.x), pixel(mm.y)), expected, "{mm:?}");
        }
        check(&picture, Point::new(5.0, 80.0), style::WHITE);
        check(&picture, Point::new(20.0, 100.0), style::PAPER_FRONT);
        check(&picture, Point::new(10.12, 80.0), style::CUT_INK);
        check(&picture, Point::new(85.15, 6.0), style::VALLEY_INK);
        // 3 mm dash, then a gap of 0.75 mm.
        check(&picture, Point::new(85.15, 8.8), style::PAPER_FRONT);
        check(&picture, Point::new(160.0, 6.0), style::MOUNTAIN_INK);
        check(&picture, sample::STRIP * Point::new(30.0, 4.0), style::PAPER_BACK);
        check(&picture, sample::STRIP * Point::new(9.0, 4.0), style::PAPER_FRONT);
        check(&picture, sample::STRIP * Point::new(61.0, 4.0), style::PAPER_FRONT);
        check(&picture, sample::STRIP * Point::new(30.0, 9.0), style::PAPER_FRONT);
    }

    #[test]
    fn half_clear_colours_mix_with_what_is_below() {
        let found = sheet().at(2150, 300);
        let expected = sample::WASH_COLOUR.over(style::WHITE);
        for (found, expected) in [(found.r, expected.r), (found.g, expected.g), (found.b, expected.b)] {
            assert!(found.abs_diff(expected) <= 1, "{found:?} is not {expected:?}");
        }
    }

    /// The letters are inked within their box and nowhere beside it.
    #[test]
    fn text_is_inked_where_the_run_says() {
        let run = draw::text::TextRun::new("Hinge", draw::text::Face::Bold, 5.0, style::LABEL);
        let run = run.centred_on(Point::new(20.0, 15.0)).turned(draw::text::Turned::Left);
        let ink = run.ink().unwrap();
        let mut drawing = Drawing::new(Size::new(40.0, 30.0), "");
        drawing.push(Role::Label, Shape::Text(run));
        let picture = decode(&png(&drawing, 400).unwrap());
        let mut inked: Option<Rect> = None;
        for y in 0..300 {
            for x in 0..400 {
                if picture.at(x, y) != style::WHITE {
                    let (x, y) = (f64::from(x) / 10.0, f64::from(y) / 10.0);
                    let pixel = Rect::new(x, y, x + 0.1, y + 0.1);
                    inked = Some(inked.map_or(pixel, |inked| inked.union(pixel)));
                }
            }
        }
        let inked = inked.unwrap();
        let off = [inked.x0 - ink.x0, inked.y0 - ink.y0, inked.x1 - ink.x1, inked.y1 - ink.y1];
        assert!(off.iter().all(|off| off.abs() < 0.11), "{inked:?} is not {ink:?}");
    }

    /// Wider than 8191 pixels the rasteriser works in tiles, clips too.
    #[test]
    fn wide_pictures_are_whole() {
        let mut drawing = Drawing::new(Size::new(1000.0, 10.0), "");
        let nodes = vec![Node::Item { role: Role::Paper, shape: sample::fill(drawing.size.to_rect(), style::LABEL) }];
        let clip = Some(Rect::new(10.0, 2.0, 990.0, 8.0));
        drawing.nodes.push(Node::Group { place: Affine::IDENTITY, clip, nodes });
        let picture = decode(&png(&drawing, 10_000).unwrap());
        for (x, expected) in [(50, style::WHITE), (150, style::LABEL), (9850, style::LABEL), (9950, style::WHITE)] {
            assert_eq!(picture.at(x, 50), expected, "{x}");
        }
    }

    #[test]
    fn sizes_out_of_bounds_are_refused() {
        #[track_caller]
        fn check(size: Size, pixels_wide: u32) {
            let error = png(&Drawing::new(size, ""), pixels_wide).unwrap_err();
            assert!(matches!(error, OutputError::PictureSize { .. }), "{error}");
        }
        check(Size::new(10.0, 10.0), 0);
        check(Size::new(100.0, 1.0), 16_001);
        check(Size::new(10.0, 17.0), 10_000);
        check(Size::new(10.0, 10.0), 10_001);
        check(Size::new(1.0, 5000.0), u32::MAX);
    }

    #[test]
    fn coordinates_that_are_not_numbers_are_refused() {
        let mut drawing = Drawing::new(Size::new(10.0, 10.0), "");
        drawing.push(Role::Cut, sample::line(Role::Cut, (f64::INFINITY, 0.0), (1.0, 1.0)));
        assert!(matches!(png(&drawing, 10), Err(OutputError::NotFinite { .. })));
    }

    /// Paths of every degenerate kind draw nothing or a dot, and do not panic.
    #[test]
    fn degenerate_paths_do_no_harm() {
        let mut drawing = Drawing::new(Size::new(10.0, 10.0), "");
        drawing.push(Role::Cut, sample::line(Role::Cut, (1.0, 1.0), (1.0, 1.0)));
        drawing.push(Role::Valley, sample::line(Role::Valley, (-1e6, 1.0), (1e6, 1.0)));
        drawing.push(Role::Paper, Shape::Fill { path: BezPath::new(), colour: style::LABEL });
        drawing.push(Role::Paper, sample::fill(Rect::new(1.0, 1.0, 1.0, 5.0), style::LABEL));
        let nodes = drawing.nodes.clone();
        let clip = Some(Rect::new(3.0, 3.0, 3.0, 3.0));
        drawing.nodes.push(Node::Group { place: Affine::scale(0.0), clip, nodes });
        assert_eq!(decode(&png(&drawing, 100).unwrap()).width, 100);
    }
}
