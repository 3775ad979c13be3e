//! Pictures on the screen: each uploaded once, then laid on triangles of what is seen of it.

use super::fill;
use crate::view_transform::{ViewTransform, px};
use draw::list::{Channels, Image, Picture};
use egui::epaint::{Mesh, Vertex};
use egui::{Color32, ColorImage, Id, Painter, Pos2, Shape, TextureFilter, TextureHandle, TextureOptions, Vec2};
use kurbo::{Affine, Point};
use std::sync::Arc;

/// The most pixels along a side of what is uploaded: more than any screen shows of a sheet at once.
const MOST_SIDE: u32 = 2048;

/// The most pictures that are kept uploaded: all of the starters' at once, and those of the open design. Beyond that the
/// one that was not drawn for longest is let go.
const MOST_KEPT: usize = 40;

/// What tells one picture from others.
type Key = ([u8; 32], u32, u32);

/// The pictures that are uploaded, the last one drawn at the end.
#[derive(Clone, Default)]
struct Uploaded(Vec<(Key, TextureHandle)>);

/// A corner of what is seen: where it lies on the screen, and on the picture in shares of it.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Corner {
    pos: Pos2,
    share: Vec2,
}

/// Draws a picture within outlines on the screen; `place` goes from the image's drawing to what `view` shows.
pub(super) fn paint(painter: &Painter, image: &Image, outlines: &[Vec<Pos2>], view: &ViewTransform, place: Affine) {
    let to_drawing = place * image.place;
    if to_drawing.determinant().abs() < f64::MIN_POSITIVE {
        return;
    }
    let to_shares = to_drawing.inverse();
    let share = |pos: Pos2| {
        let Point { x, y } = to_shares * view.to_drawing(pos);
        Corner { pos, share: Vec2::new(px(x), px(y)) }
    };
    let Some((corners, indices)) = fill::triangulated(outlines) else { return };
    let corners: Vec<Corner> = corners.into_iter().map(share).collect();
    let triangles = indices.chunks_exact(3).filter_map(|three| {
        let corner = |i: usize| corners.get(usize::try_from(three[i]).ok()?).copied();
        Some([corner(0)?, corner(1)?, corner(2)?])
    });
    let seen: Vec<Vec<Corner>> = triangles.map(|triangle| within(&triangle)).filter(|shape| shape.len() > 2).collect();
    if seen.is_empty() {
        return;
    }
    let texture = uploaded(painter.ctx(), &image.picture);
    let mut mesh = Mesh::with_texture(texture.id());
    for shape in seen {
        let first = u32::try_from(mesh.vertices.len()).unwrap_or(0);
        let count = u32::try_from(shape.len()).unwrap_or(0);
        let vertex = |corner: Corner| Vertex { pos: corner.pos, uv: corner.share.to_pos2(), color: Color32::WHITE };
        mesh.vertices.extend(shape.into_iter().map(vertex));
        for i in 2..count {
            mesh.add_triangle(first, first + i - 1, first + i);
        }
    }
    painter.add(Shape::mesh(mesh));
}

/// What of a convex shape lies on the picture: its shares between 0 and 1 (Sutherland and Hodgman, 1974: one side after the
/// other).
fn within(shape: &[Corner]) -> Vec<Corner> {
    let sides: [fn(Vec2) -> f32; 4] = [|share| share.x, |share| 1.0 - share.x, |share| share.y, |share| 1.0 - share.y];
    sides.into_iter().fold(shape.to_vec(), |shape, inside| {
        let mut kept = Vec::with_capacity(shape.len() + 1);
        for (i, &from) in shape.iter().enumerate() {
            let to = shape[(i + 1) % shape.len()];
            let (a, b) = (inside(from.share), inside(to.share));
            if a >= 0.0 {
                kept.push(from);
            }
            if (a >= 0.0) != (b >= 0.0) {
                let at = a / (a - b);
                kept.push(Corner { pos: from.pos.lerp(to.pos, at), share: from.share + (to.share - from.share) * at });
            }
        }
        kept
    })
}

/// The picture as a texture, uploaded when it is first drawn.
fn uploaded(ctx: &egui::Context, picture: &Arc<Picture>) -> TextureHandle {
    let key = (picture.digest, picture.width, picture.height);
    let id = Id::unique("pictures on paper");
    let known = ctx.data_mut(|data| {
        let Uploaded(all) = data.get_temp_mut_or_default::<Uploaded>(id);
        let at = all.iter().position(|(one, _)| *one == key)?;
        let found = all.remove(at);
        all.push(found.clone());
        Some(found.1)
    });
    if let Some(texture) = known {
        return texture;
    }
    let options = TextureOptions::LINEAR.with_mipmap_mode(Some(TextureFilter::Linear));
    let texture = ctx.load_texture("picture on paper", pixels(picture, ctx), options);
    // What is let go is let go outside, since that asks the context as well.
    let let_go = ctx.data_mut(|data| {
        let Uploaded(all) = data.get_temp_mut_or_default::<Uploaded>(id);
        all.push((key, texture.clone()));
        let surplus = all.len().saturating_sub(MOST_KEPT);
        all.drain(..surplus).collect::<Vec<_>>()
    });
    drop(let_go);
    texture
}

fn pixels(picture: &Picture, ctx: &egui::Context) -> ColorImage {
    let most = ctx.input(|input| u32::try_from(input.max_texture_side).unwrap_or(MOST_SIDE)).min(MOST_SIDE);
    let size = [picture.width.min(most), picture.height.min(most)];
    let shrunk = (size != [picture.width, picture.height]).then(|| picture.shrunk(size));
    let pixels = shrunk.as_ref().unwrap_or(&picture.pixels);
    let size = size.map(|side| usize::try_from(side).unwrap_or(0));
    // A picture has as many pixels as it says; one that has not is clear.
    match picture.channels {
        _ if pixels.len() != size[0] * size[1] * picture.channels.count() => {
            ColorImage::filled(size, Color32::TRANSPARENT)
        }
        Channels::Rgb => ColorImage::from_rgb(size, pixels),
        Channels::Rgba => ColorImage::from_rgba_unmultiplied(size, pixels),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use draw::list::Node;
    use draw::list::Role;
    use kurbo::{Rect, Shape as _};

    fn corners(shares: &[(f32, f32)]) -> Vec<Corner> {
        shares.iter().map(|&(x, y)| Corner { pos: Pos2::new(x * 10.0, y * 10.0), share: Vec2::new(x, y) }).collect()
    }

    fn area(shape: &[Corner]) -> f32 {
        let n = shape.len();
        let twice = (0..n).map(|i| {
            let (a, b) = (shape[i].share, shape[(i + 1) % n].share);
            a.x * b.y - a.y * b.x
        });
        twice.sum::<f32>().abs() / 2.0
    }

    /// Areas by hand.
    #[test]
    fn only_what_lies_on_the_picture_is_drawn() {
        for (shape, expected) in [
            (&[(0.1, 0.1), (0.9, 0.1), (0.9, 0.9)][..], 0.32),
            (&[(-1.0, -1.0), (3.0, -1.0), (-1.0, 3.0)], 1.0),
            (&[(0.5, 0.0), (2.5, 0.0), (0.5, 2.0)], 0.5),
            (&[(1.5, 0.0), (2.5, 0.0), (1.5, 2.0)], 0.0),
            (&[(0.0, 0.5), (2.0, 0.5), (1.0, 1.5)], 0.125 + 0.25),
        ] {
            let seen = within(&corners(shape));
            assert!((area(&seen) - expected).abs() < 1e-5, "{shape:?}: {}", area(&seen));
            assert!(seen.iter().all(|corner| (corner.pos - (corner.share * 10.0).to_pos2()).length() < 1e-4));
        }
    }

    fn picture(size: [u32; 2], place: [f64; 6]) -> Image {
        let count = usize::try_from(size[0] * size[1]).unwrap();
        let picture = Picture {
            digest: [9; 32],
            width: size[0],
            height: size[1],
            channels: Channels::Rgb,
            pixels: [200, 100, 50].repeat(count),
            orientation: draw::list::Orientation::AsStored,
            jpeg: None,
        };
        let clip = Rect::new(10.0, 10.0, 30.0, 20.0).to_path(0.0);
        Image { picture: Arc::new(picture), place: Affine::new(place), clip }
    }

    /// How many pictures of 8 by 4 pixels are uploaded in a frame, and the meshes that are drawn.
    fn drawn(ctx: &egui::Context, nodes: &[Node], view: &ViewTransform) -> (usize, Vec<Arc<Mesh>>) {
        let mut output = ctx.run_ui(egui::RawInput::default(), |ui| super::super::paint(ui.painter(), nodes, view));
        let deltas = output.textures_delta.set.values().flatten();
        let uploads = deltas.filter(|delta| delta.image.size() == [8, 4]).count();
        // There is no screen that would take them.
        output.textures_delta.clear();
        let meshes = output.shapes.into_iter().filter_map(|shape| match shape.shape {
            Shape::Mesh(mesh) => Some(mesh),
            _ => None,
        });
        (uploads, meshes.collect())
    }

    /// A picture 40 mm wide and 20 high with its corner at the origin, seen through a window of 20 by 10 at 3 px a mm, twice: it
    /// is uploaded once, and the window's corners lie a quarter and a half of the way into it.
    #[test]
    fn a_picture_is_uploaded_once_and_lies_where_it_should() {
        let image = picture([8, 4], [40.0, 0.0, 0.0, 20.0, 0.0, 0.0]);
        let nodes = vec![Node::Item { role: Role::Paper, shape: draw::list::Shape::Image(image) }; 2];
        let ctx = egui::Context::default();
        let view = ViewTransform { scale: 3.0, origin: Pos2::new(5.0, 7.0) };
        for round in 0..3 {
            let (uploads, meshes) = drawn(&ctx, &nodes, &view);
            assert_eq!(uploads, usize::from(round == 0));
            assert_eq!(meshes.len(), 2);
            for vertex in &meshes[0].vertices {
                let expected = Pos2::new(5.0 + 3.0 * 40.0 * vertex.uv.x, 7.0 + 3.0 * 20.0 * vertex.uv.y);
                assert!(vertex.pos.distance(expected) < 1e-3, "{vertex:?}");
                assert!([0.25, 0.75].iter().any(|at| (vertex.uv.x - at).abs() < 1e-5), "{vertex:?}");
                assert!([0.5, 1.0].iter().any(|at| (vertex.uv.y - at).abs() < 1e-5), "{vertex:?}");
            }
        }
    }

    #[test]
    fn a_picture_seen_edge_on_or_beside_its_window_is_not_drawn() {
        let ctx = egui::Context::default();
        let view = ViewTransform { scale: 1.0, origin: Pos2::ZERO };
        for place in [[40.0, 0.0, 0.0, 0.0, 0.0, 0.0], [40.0, 0.0, 0.0, 20.0, 100.0, 0.0]] {
            let image = picture([2, 2], place);
            let nodes = [Node::Item { role: Role::Paper, shape: draw::list::Shape::Image(image) }];
            assert_eq!(drawn(&ctx, &nodes, &view).1, []);
        }
    }

    #[test]
    fn a_large_picture_is_uploaded_smaller_and_a_clear_one_stays_clear() {
        let ctx = egui::Context::default();
        let large = picture([5000, 10], [1.0, 0.0, 0.0, 1.0, 0.0, 0.0]).picture;
        assert_eq!(pixels(&large, &ctx).size, [2048, 10]);
        let clear =
            Picture { channels: Channels::Rgba, pixels: vec![255, 0, 0, 0], width: 1, height: 1, ..(*large).clone() };
        assert_eq!(pixels(&clear, &ctx).pixels, [Color32::TRANSPARENT]);
    }
}
