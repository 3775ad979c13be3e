//! Pictures on paper, where they come to lie on the flat sheet, on the folded folio and on parts.
#![expect(clippy::unwrap_used, reason = "a test may fail")]

extern crate foliowright_draw as draw;
extern crate model as foliowright_model;

#[path = "../../model/tests/common/mod.rs"]
mod common;

use common::four_flaps;
use draw::animation::{Animation, Pace, Still};
use draw::artwork::{Printed, Prints, legible, on_board, paled, per_mm};
use draw::board::Board;
use draw::contact::contact_sheet;
use draw::folded::{Posed, View, bounds_in_pose, folded_scene, printed_scene};
use draw::laid::{LaidLook, laid_nodes, printed_laid_nodes};
use draw::list::{Channels, Image, Node, Picture, Shape};
use draw::sheet::{SheetLook, printed_sheet_picture, sheet_nodes, sheet_picture};
use fold::{Assembly, Folding, assemble, close};
use kurbo::{Affine, Point, Shape as _};
use model::part::{Mat, Part, PartId, PartKind, Placement, Source};
use model::{Artwork, Document, Edit, Face, Layout, Length, PanelRef, Turn};
use std::sync::Arc;

/// A picture of two pixels, turned as it says.
fn picture(orientation: raster::Orientation) -> Arc<Picture> {
    let pixels = vec![0, 0, 0, 255, 255, 255];
    let digest = [3; 32];
    Arc::new(Picture { digest, width: 2, height: 1, channels: Channels::Rgb, pixels, orientation, jpeg: None })
}

/// The four flaps on 12 in, with a picture 6 in wide and 3 in high, 1 in from the left and 2 in from the top.
fn printed_on(face: Face) -> Document {
    let mut document = four_flaps();
    document.stock.side_mut(face).artwork = Some(Artwork {
        file: "leaves.png".to_owned(),
        digest: [3; 32],
        pixels: [2, 1],
        width: Length::INCH * 6,
        left: Length::INCH,
        top: Length::INCH * 2,
    });
    document
}

fn prints(document: &Document, face: Face) -> Prints {
    Prints::new(document, [(None, face, picture(raster::Orientation::AsStored))])
}

fn folded(document: &Document) -> (Layout, Assembly, Folding) {
    let layout = Layout::of(document);
    let assembly = assemble(document, &layout).unwrap();
    let folding = close(&assembly);
    (layout, assembly, folding)
}

/// All images with the map from their groups to the drawing.
fn images(nodes: &[Node], place: Affine) -> Vec<(Affine, Image)> {
    let mut found = Vec::new();
    for node in nodes {
        match node {
            Node::Group { place: inner, nodes, .. } => found.extend(images(nodes, place * *inner)),
            Node::Tagged { nodes, .. } => found.extend(images(nodes, place)),
            Node::Item { shape: Shape::Image(image), .. } => found.push((place, image.clone())),
            Node::Item { .. } => {}
        }
    }
    found
}

#[track_caller]
fn check_near(found: Point, expected: (f64, f64)) {
    assert!((found - Point::from(expected)).hypot() < 1e-9, "{found:?} is not {expected:?}");
}

/// By hand: inches on the sheet times 25.4; a sheet of 12 in turned once to the left has its upper right corner at its
/// upper left.
#[test]
fn the_flat_sheet_bears_its_picture_on_every_turn() {
    let document = printed_on(Face::Front);
    let layout = Layout::of(&document);
    for (turn, start, across) in [
        (Turn::None, (1.0, 2.0), (6.0, 0.0)),
        (Turn::Once, (2.0, 11.0), (0.0, -6.0)),
        (Turn::Twice, (11.0, 10.0), (-6.0, 0.0)),
        (Turn::Thrice, (10.0, 1.0), (0.0, 6.0)),
    ] {
        let look = SheetLook { turn, ..SheetLook::default() };
        let drawing = printed_sheet_picture(&document, &layout, None, &prints(&document, Face::Front), &look);
        let found = images(&drawing.nodes, Affine::IDENTITY);
        let [(place, image)] = found.as_slice() else { panic!("{found:?}") };
        let at = |x, y| *place * image.place * Point::new(x, y);
        // The sheet lies 6 mm from the picture's edges.
        let mm = |inches: f64| inches * 25.4 + 6.0;
        check_near(at(0.0, 0.0), (mm(start.0), mm(start.1)));
        check_near(at(1.0, 0.0), (mm(start.0 + across.0), mm(start.1 + across.1)));
        // Folio and offcuts are all of the sheet.
        assert!((image.clip.area().abs() - 304.8 * 304.8).abs() < 1e-6);
    }
}

#[test]
fn without_a_picture_nothing_changes() {
    let document = four_flaps();
    let layout = Layout::of(&document);
    let (look, none) =
        (SheetLook::default(), Prints::new(&document, [(None, Face::Front, picture(raster::Orientation::AsStored))]));
    assert!(none.is_empty(), "the document has no artwork");
    assert_eq!(
        printed_sheet_picture(&document, &layout, None, &none, &look),
        sheet_picture(&document, &layout, None, &look)
    );
    let (layout, assembly, folding) = folded(&document);
    let posed = Posed::at(&assembly, &folding, 1.5);
    let printed = Printed { prints: &none, supply: None };
    let scene = printed_scene(&layout, &posed, &View::SLANTED, &printed);
    assert_eq!(scene, folded_scene(&layout, &posed, &View::SLANTED));
}

/// Where the picture's corner is seen on the base, with the middle of the base at the origin: the sheet's point
/// (1 in, 2 in) is 5 in to the left and 4 in up from it, and the back's is mirrored when seen from the front.
#[test]
fn the_folded_folio_bears_its_picture_where_the_sheet_does() {
    let inch = 25.4;
    for (face, view, other) in [(Face::Front, View::FRONT, View::BACK), (Face::Back, View::BACK, View::FRONT)] {
        let document = printed_on(face);
        let (layout, assembly, folding) = folded(&document);
        let prints = prints(&document, face);
        let printed = Printed { prints: &prints, supply: None };
        let scene = printed_scene(&layout, &Posed::at(&assembly, &folding, 0.0), &view, &printed);
        let found = images(&scene.nodes, Affine::IDENTITY);
        assert_eq!(found.len(), 5, "base and four flaps");
        for (place, image) in found {
            let at = |x, y| place * image.place * Point::new(x, y);
            check_near(at(0.0, 0.0), (-5.0 * inch, -4.0 * inch));
            check_near(at(1.0, 0.0), (inch, -4.0 * inch));
            check_near(at(0.0, 1.0), (-5.0 * inch, -inch));
        }
        let scene = printed_scene(&layout, &Posed::at(&assembly, &folding, 0.0), &other, &printed);
        assert!(images(&scene.nodes, Affine::IDENTITY).is_empty(), "the other face is plain");
        // Folded over, flaps show the other face.
        let closed = printed_scene(&layout, &Posed::at(&assembly, &folding, 4.0), &view, &printed);
        assert!(images(&closed.nodes, Affine::IDENTITY).len() < 5);
    }
}

/// Turned pictures have their upper left corner where the stored picture says; by hand from the meaning of the numbers.
#[test]
fn a_turned_picture_lies_as_it_is_seen() {
    let document = printed_on(Face::Front);
    let place = |orientation| {
        let prints = Prints::new(&document, [(None, Face::Front, picture(orientation))]);
        prints.on_sheet(None, Face::Front).unwrap().1
    };
    let inches = |x: f64, y: f64| (x * 25.4, y * 25.4);
    // Turned a quarter clockwise, the first row is at the right, and starts at the top.
    let clockwise = place(raster::Orientation::Clockwise);
    check_near(clockwise * Point::new(0.0, 0.0), inches(7.0, 2.0));
    check_near(clockwise * Point::new(1.0, 0.0), inches(7.0, 5.0));
    let half = place(raster::Orientation::HalfRound);
    check_near(half * Point::new(0.0, 0.0), inches(7.0, 5.0));
}

/// A mat from an offcut bears the picture of that offcut: what lies at a point of the mat is what lay at that point of the
/// sheet.
#[test]
fn a_part_bears_the_picture_of_its_paper() {
    let mut document = printed_on(Face::Front);
    let kind = PartKind::Mat(Mat { width: Length::INCH * 2, height: Length::INCH });
    let base = model::Point::new(Length::INCH * 6, Length::INCH * 6);
    document.base = Some(base);
    let place = Placement::centred(PanelRef::Sheet(base));
    let part = Part { id: PartId(1), name: String::new(), kind, source: Source::AnyOffcut, place, also: vec![] };
    document.apply(Edit::SetParts(vec![part])).unwrap();
    let (layout, ..) = folded(&document);
    let supply = allot::allot(&document, &layout, &allot::Settings::default());
    let allot::Origin::Offcut { cutout, .. } = &supply.supplies[0].from else { panic!("{:?}", supply.supplies) };
    let prints = prints(&document, Face::Front);
    let part = &layout.parts[0];
    let printed = Printed { prints: &prints, supply: Some(&supply) };
    let (_, own) = printed.on_panel(&layout, part.main, Face::Front).unwrap();
    let (_, sheet) = prints.on_sheet(None, Face::Front).unwrap();
    for corner in &part.panels[0].outline {
        let ((x, y), (on_x, on_y)) = (corner.mm(), cutout.on_paper(*corner).mm());
        let found = sheet * own.inverse() * Point::new(x, y);
        check_near(found, (on_x, on_y));
    }
    assert_eq!(printed.on_panel(&layout, part.main, Face::Back), None);
    assert_eq!(Printed { supply: None, ..printed }.on_panel(&layout, part.main, Face::Front), None);
}

/// The same mat on the sheet shows there what lay where it is cut from: by hand, it is laid in the middle of the base.
#[test]
fn a_part_on_the_sheet_bears_the_picture_of_its_paper() {
    let mut document = printed_on(Face::Front);
    let kind = PartKind::Mat(Mat { width: Length::INCH * 2, height: Length::INCH });
    let base = model::Point::new(Length::INCH * 6, Length::INCH * 6);
    document.base = Some(base);
    let place = Placement::centred(PanelRef::Sheet(base));
    let part = Part { id: PartId(1), name: String::new(), kind, source: Source::AnyOffcut, place, also: vec![] };
    document.apply(Edit::SetParts(vec![part])).unwrap();
    let (layout, assembly, folding) = folded(&document);
    let supply = allot::allot(&document, &layout, &allot::Settings::default());
    let prints = prints(&document, Face::Front);
    let printed = Printed { prints: &prints, supply: Some(&supply) };
    let look = LaidLook { names: true, glue: false };
    for turn in [Turn::None, Turn::Once] {
        let board = Board { size: layout.size, turn };
        let nodes = printed_laid_nodes(&layout, (&assembly, &folding), board, look, &printed);
        let [(_, image)] = &images(&nodes, Affine::IDENTITY)[..] else { panic!("one part") };
        let middle = on_board(board) * Point::new(6.0 * 25.4, 6.0 * 25.4);
        assert!((image.clip.area().abs() / 25.4_f64.powi(2) - 2.0).abs() < 1e-9);
        check_near(image.clip.bounding_box().center(), (middle.x, middle.y));
        let (_, own) = printed.on_panel(&layout, layout.parts[0].main, Face::Front).unwrap();
        // The middle of the mat, 1 in and 1/2 in from its corner, shows the same spot of the picture.
        check_near(image.place.inverse() * middle, {
            let spot = own.inverse() * Point::new(25.4, 12.7);
            (spot.x, spot.y)
        });
        let plain = printed_laid_nodes(&layout, (&assembly, &folding), board, look, &Printed::NOTHING);
        assert_eq!(plain, laid_nodes(&layout, &assembly, &folding, board, look));
    }
}

/// What is printed lies over all paper, its own colour in part over that, and every line over both.
#[test]
fn print_is_pale_under_what_is_to_be_measured() {
    let document = printed_on(Face::Front);
    let layout = Layout::of(&document);
    let board = Board { size: layout.size, turn: Turn::None };
    let look = SheetLook { names: false, ..SheetLook::default() };
    let bare = sheet_nodes(&document, &layout, &look);
    let prints = prints(&document, Face::Front);
    let nodes = paled(bare.clone(), prints.on_sheet(None, Face::Front), on_board(board));
    let is_fill = |node: &&Node| matches!(node, Node::Item { shape: Shape::Fill { .. }, .. });
    let fills = bare.iter().filter(is_fill).count();
    assert_eq!(nodes[..fills], bare[..fills]);
    assert_eq!(images(&nodes[fills..=fills], Affine::IDENTITY).len(), 1);
    // A veil for the folio, one for what comes off; all of the sheet is under one of them.
    let veils: Vec<f64> = nodes[fills + 1..]
        .iter()
        .filter_map(|node| match node {
            Node::Item { shape: Shape::Fill { path, colour }, .. } if colour.a < 255 => Some(path.area().abs()),
            _ => None,
        })
        .collect();
    assert_eq!(veils.len(), 2);
    assert!((veils.iter().sum::<f64>() - 304.8 * 304.8).abs() < 1e-6);
    assert_eq!(nodes[fills + 3..], bare[fills..]);
    assert_eq!(paled(bare.clone(), prints.on_sheet(None, Face::Back), on_board(board)), bare);
}

#[test]
fn lines_and_words_on_print_have_paper_under_them() {
    let document = printed_on(Face::Front);
    let layout = Layout::of(&document);
    let bare = sheet_nodes(&document, &layout, &SheetLook::default());
    let over: Vec<Node> =
        bare.into_iter().filter(|node| !matches!(node, Node::Item { shape: Shape::Fill { .. }, .. })).collect();
    let nodes = legible(over.clone());
    let texts =
        |nodes: &[Node]| nodes.iter().filter(|node| matches!(node, Node::Item { shape: Shape::Text(_), .. })).count();
    let lines = over.len() - texts(&over);
    assert_eq!(nodes.len(), 2 * over.len());
    // First what lies under all lines, so that it lies over none of them.
    for (under, line) in nodes[..lines].iter().zip(&nodes[lines..]) {
        let (
            Node::Item { shape: Shape::Line { path: a, stroke: wide }, .. },
            Node::Item { shape: Shape::Line { path: b, stroke }, .. },
        ) = (under, line)
        else {
            panic!("{under:?}, {line:?}")
        };
        assert!(a == b && wide.width > stroke.width && wide.dashes.is_empty());
    }
    for pair in nodes[2 * lines..].chunks_exact(2) {
        let [Node::Item { shape: Shape::Fill { path, .. }, .. }, Node::Item { shape: Shape::Text(run), .. }] = pair
        else {
            panic!("{pair:?}")
        };
        assert!(path.bounding_box().contains_rect(run.ink().unwrap()), "{}", run.text());
    }
}

/// By hand: the sheet is 304.8 mm, a picture of 20 in 508 mm.
#[test]
fn pixels_are_bounded_by_the_longest_side_of_paper_or_print() {
    let mut document = printed_on(Face::Front);
    assert!((per_mm(&document, 800.0) - 800.0 / 304.8).abs() < 1e-12);
    document.stock.front.artwork.as_mut().unwrap().width = Length::INCH * 20;
    assert!((per_mm(&document, 800.0) - 800.0 / 508.0).abs() < 1e-12);
}

#[test]
fn a_face_can_be_had_for_the_folio_alone() {
    let document = printed_on(Face::Back);
    let layout = Layout::of(&document);
    let board = Board { size: layout.size, turn: Turn::None };
    let prints = prints(&document, Face::Back);
    let node = prints.folio_node(&layout, Face::Back, board).unwrap();
    let [(_, image)] = &images(&[node], Affine::IDENTITY)[..] else { panic!() };
    // 12 x 12 in without four corners of 3 x 3 in.
    assert!((image.clip.area().abs() / 25.4_f64.powi(2) - 108.0).abs() < 1e-9);
    // Seen through the sheet it is mirrored: 1 in from the left of the back is 11 in from the left of the front.
    check_near(image.place * Point::new(0.0, 0.0), (11.0 * 25.4, 2.0 * 25.4));
    check_near(image.place * Point::new(1.0, 0.0), (5.0 * 25.4, 2.0 * 25.4));
    assert_eq!(prints.folio_node(&layout, Face::Front, board), None);
}

#[test]
fn the_frame_of_an_animation_holds_the_whole_motion() {
    let document = four_flaps();
    let (layout, assembly, folding) = folded(&document);
    let view = View::SLANTED;
    let animation = Animation::new((&layout, &assembly, &folding), view, Pace::default(), 100.0, "Seeds").unwrap();
    // Four steps of 12 pictures, there and back.
    assert_eq!(animation.moments().len(), 96);
    for moment in animation.moments() {
        let bounds = bounds_in_pose(&layout, &Posed::at(&assembly, &folding, moment.time), &view);
        assert!(animation.frame().contains_rect(bounds), "{moment:?}");
    }
    let drawings = [0, 30].map(|at: usize| animation.drawing(&animation.moments()[at]));
    assert_eq!(drawings[0].size, drawings[1].size);
    assert!((drawings[0].size.width.max(drawings[0].size.height) - 100.0).abs() < 1e-9);
    let mut still = document;
    still.steps.clear();
    let (layout, assembly, folding) = folded(&still);
    let nothing = Animation::new((&layout, &assembly, &folding), view, Pace::default(), 100.0, "Seeds");
    assert_eq!(nothing.err(), Some(Still::NothingFolds));
}

#[test]
fn a_contact_sheet_has_every_step_and_its_words() {
    let document = four_flaps();
    let (layout, assembly, folding) = folded(&document);
    let sheet = contact_sheet(&document, (&layout, &assembly, &folding), &Printed::NOTHING, &View::SLANTED).unwrap();
    let page = sheet.size.to_rect();
    let groups: Vec<&Affine> = sheet
        .nodes
        .iter()
        .filter_map(|node| if let Node::Group { place, .. } = node { Some(place) } else { None })
        .collect();
    assert_eq!(groups.len(), 5, "flat and four steps");
    let mut words = Vec::new();
    for node in &sheet.nodes {
        if let Node::Item { shape: Shape::Text(run), .. } = node {
            assert!(page.contains_rect(run.bounds()), "{}", run.text());
            words.push(run.text());
        }
    }
    let words = words.join(" ");
    for (step, line) in document.lines.iter().take(4).enumerate() {
        let said = format!("{}. {}", step + 1, document.line_name(line.id));
        assert!(words.contains(&said), "{said} is not in {words}");
    }
    assert!(words.starts_with("Flat ") && words.ends_with("Closed."), "{words}");
}
