//! Pictures in a drawing, as each back end draws them.
#![expect(clippy::unwrap_used, reason = "a test may fail")]

use draw::list::{Channels, Drawing, Image, Node, Pages, Picture, Role, Shape};
use draw::style;
use foliowright_output as output;
use kurbo::{Affine, Point, Rect, Shape as _, Size};
use raster::Orientation;
use resvg::{tiny_skia, usvg};
use std::sync::Arc;

const BASELINE: &[u8] = include_bytes!("../../raster/tests/pictures/baseline.jpg");

/// 16 × 16 pixels in four squares: red, green; blue, and grey that is so solid.
fn four(opacity: u8) -> Arc<Picture> {
    let colour = |at: usize| match (at % 16 < 8, at / 16 < 8) {
        (true, true) => [200, 0, 0, 255],
        (false, true) => [0, 160, 0, 255],
        (true, false) => [0, 0, 180, 255],
        (false, false) => [90, 90, 90, opacity],
    };
    let pixels = (0..256).flat_map(colour).collect();
    let (channels, orientation) = (Channels::Rgba, Orientation::AsStored);
    Arc::new(Picture { digest: [opacity; 32], width: 16, height: 16, channels, pixels, orientation, jpeg: None })
}

fn page(images: impl IntoIterator<Item = Image>) -> Drawing {
    let mut drawing = Drawing::new(Size::new(40.0, 30.0), "");
    for image in images {
        drawing.push(Role::Paper, Shape::Image(image));
    }
    drawing
}

fn clip(area: Rect) -> kurbo::BezPath {
    area.to_path(0.0)
}

/// A picture turned by a quarter to the right, 20 mm wide, 10 mm high before that, clipped to its right half of the page.
fn turned() -> Drawing {
    let place = Affine::new([0.0, 20.0, -10.0, 0.0, 25.0, 5.0]);
    page([Image { picture: four(255), place, clip: clip(Rect::new(18.0, 0.0, 40.0, 30.0)) }])
}

/// Red, green, blue at a place of the page, mm.
type Look = Box<dyn Fn(f64, f64) -> [u8; 3]>;

fn by_png(drawing: &Drawing) -> Look {
    let bytes = output::png(drawing, 400).unwrap();
    let mut reader = png::Decoder::new(std::io::Cursor::new(bytes)).read_info().unwrap();
    let mut pixels = vec![0; reader.output_buffer_size().unwrap()];
    reader.next_frame(&mut pixels).unwrap();
    Box::new(move |x, y| {
        let at = (pixel(y) * 400 + pixel(x)) * 3;
        [pixels[at], pixels[at + 1], pixels[at + 2]]
    })
}

/// The SVG as an independent renderer draws it.
fn by_svg(drawing: &Drawing) -> Look {
    let tree = usvg::Tree::from_str(&output::svg(drawing).unwrap(), &usvg::Options::default()).unwrap();
    let mut pixmap = tiny_skia::Pixmap::new(400, 300).unwrap();
    pixmap.fill(tiny_skia::Color::WHITE);
    let scale = 400.0 / tree.size().width();
    resvg::render(&tree, tiny_skia::Transform::from_scale(scale, scale), &mut pixmap.as_mut());
    Box::new(move |x, y| {
        let at = (pixel(y) * 400 + pixel(x)) * 4;
        let data = pixmap.data();
        [data[at], data[at + 1], data[at + 2]]
    })
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "places on the page")]
fn pixel(mm: f64) -> usize {
    (mm * 10.0) as usize
}

#[track_caller]
fn check(drawing: &Drawing, spots: &[((f64, f64), [u8; 3])]) {
    for (name, look) in [("PNG", by_png(drawing)), ("SVG", by_svg(drawing))] {
        for ((x, y), expected) in spots {
            let found = look(*x, *y);
            assert!(found.iter().zip(expected).all(|(a, b)| a.abs_diff(*b) <= 3), "{name} at {x}, {y}: {found:?}");
        }
    }
}

/// Places by hand: the upper half of the picture is at the right, x from 20 to 25, and its left at the top.
#[test]
fn pixels_lie_under_the_map_and_within_the_clip() {
    let white = [255, 255, 255];
    check(
        &turned(),
        &[
            ((23.5, 8.0), [200, 0, 0]),
            ((23.5, 22.0), [0, 160, 0]),
            ((18.3, 8.0), [0, 0, 180]),
            ((18.3, 22.0), [90, 90, 90]),
            ((17.7, 8.0), white),
            ((25.3, 8.0), white),
            ((23.5, 4.7), white),
            ((23.5, 25.3), white),
        ],
    );
}

#[test]
fn what_is_clear_shows_the_ground() {
    let place = Affine::new([20.0, 0.0, 0.0, 20.0, 10.0, 5.0]);
    for (opacity, expected) in [(255, [90, 90, 90]), (0, [255, 255, 255]), (128, [172, 172, 172])] {
        let drawing = page([Image { picture: four(opacity), place, clip: clip(Rect::new(10.0, 5.0, 30.0, 25.0)) }]);
        check(&drawing, &[((26.0, 21.0), expected), ((13.0, 8.0), [200, 0, 0])]);
    }
}

#[test]
fn a_picture_is_written_once_however_often_it_is_drawn() {
    let image = |x: f64| Image {
        picture: four(255),
        place: Affine::new([5.0, 0.0, 0.0, 5.0, x, 5.0]),
        clip: clip(Rect::new(x, 5.0, x + 5.0, 10.0)),
    };
    let drawing = page([image(1.0), image(10.0), image(20.0)]);
    let svg = output::svg(&drawing).unwrap();
    assert_eq!((svg.matches("data:image/png").count(), svg.matches("<use ").count()), (1, 3));
    let pdf = output::pdf(&Pages { title: "Leaves".to_owned(), pages: vec![drawing.clone(), drawing] }).unwrap();
    let pdf = String::from_utf8_lossy(&pdf);
    // The picture and its opacity.
    assert_eq!(pdf.matches("/Subtype /Image").count(), 2);
    assert_eq!(pdf.matches("/SMask").count(), 1);
}

#[test]
fn a_jpeg_is_passed_on_as_it_is() {
    let read = raster::read(BASELINE, [u32::MAX; 2], [1; 32]).unwrap();
    // As if it had more pixels than its file has bytes.
    let picture = Picture { pixels: vec![90; 32 * 16 * 3], width: 32, height: 16, ..read };
    let place = Affine::new([20.0, 0.0, 0.0, 10.0, 0.0, 0.0]);
    let drawing = page([Image { picture: Arc::new(picture), place, clip: clip(Rect::new(0.0, 0.0, 20.0, 10.0)) }]);
    let pdf = output::pdf(&Pages { title: "Leaves".to_owned(), pages: vec![drawing.clone()] }).unwrap();
    assert!(pdf.windows(BASELINE.len()).any(|bytes| bytes == BASELINE));
    assert!(String::from_utf8_lossy(&pdf).contains("/Filter /DCTDecode"));
    let svg = by_svg(&drawing);
    // The red and the blue half of the JPEG, at quality 90.
    for ((x, y), expected) in [((3.0, 5.0), [200, 30, 40]), ((17.0, 5.0), [20, 60, 180])] {
        let found = svg(x, y);
        assert!(found.iter().zip(expected).all(|(a, b)| a.abs_diff(b) <= 4), "{found:?}");
    }
}

/// A page may be clear where nothing is drawn.
#[test]
fn a_clear_ground_stays_clear() {
    let mut drawing = turned();
    let path = Rect::new(1.0, 1.0, 5.0, 5.0).to_path(0.0);
    drawing.push(Role::Paper, Shape::Fill { path, colour: style::SELECTION.with_alpha(128) });
    let bytes = output::png_on(&drawing, 400, output::Ground::Clear).unwrap();
    let mut reader = png::Decoder::new(std::io::Cursor::new(bytes)).read_info().unwrap();
    let mut pixels = vec![0; reader.output_buffer_size().unwrap()];
    assert_eq!(reader.next_frame(&mut pixels).unwrap().color_type, png::ColorType::Rgba);
    let at = |x: usize, y: usize| &pixels[(y * 400 + x) * 4..(y * 400 + x) * 4 + 4];
    assert_eq!(at(5, 5)[3], 0);
    assert_eq!(at(245, 55), [200, 0, 0, 255]);
    let half = at(30, 30);
    assert_eq!(half[3], 128);
    for (found, wanted) in half.iter().zip([style::SELECTION.r, style::SELECTION.g, style::SELECTION.b]) {
        assert!(found.abs_diff(wanted) <= 1, "{half:?}");
    }
}

#[test]
fn pictures_that_cannot_be_drawn_are_refused() {
    let good = Image { picture: four(255), place: Affine::scale(10.0), clip: clip(Rect::new(0.0, 0.0, 10.0, 10.0)) };
    let short = Picture { pixels: vec![0; 3], ..Picture::clone(&good.picture) };
    let none = Picture { pixels: Vec::new(), width: 0, ..Picture::clone(&good.picture) };
    for picture in [short, none] {
        let drawing = page([Image { picture: Arc::new(picture), ..good.clone() }]);
        assert!(matches!(output::svg(&drawing), Err(output::OutputError::Picture { page: 1 })));
    }
    let far = page([Image { place: Affine::scale(f64::NAN), ..good.clone() }]);
    assert!(matches!(output::png(&far, 10), Err(output::OutputError::NotFinite { .. })));
    // Flattened to a line it draws nothing, and does no harm.
    let mut flat = page([Image { place: Affine::new([10.0, 0.0, 0.0, 0.0, 0.0, 0.0]), ..good.clone() }]);
    flat.nodes.push(Node::Group {
        place: Affine::translate(Point::new(3.0, 3.0).to_vec2()),
        clip: Some(Rect::new(0.0, 0.0, 2.0, 2.0)),
        nodes: vec![Node::Item { role: Role::Paper, shape: Shape::Image(good) }],
    });
    let look = by_png(&flat);
    assert_eq!((look(4.0, 4.0), look(6.0, 6.0)), ([200, 0, 0], [255, 255, 255]));
    assert!(output::svg(&flat).is_ok());
}
