//! Filling areas: convex ones as they are, others cut into triangles.

use egui::epaint::{Mesh, PathStroke, Vertex, WHITE_UV};
use egui::{Color32, Painter, Pos2, Shape};
use lyon::math::point;
use lyon::path::Path;
use lyon::tessellation::{BuffersBuilder, FillOptions, FillRule, FillTessellator, FillVertex, VertexBuffers};

/// How far a triangle's edge may stray from the outline, px. The outlines are straight already.
const TOLERANCE: f32 = 0.1;

/// Fills outlines as one area by the non-zero rule.
pub(super) fn outlines(painter: &Painter, outlines: &[Vec<Pos2>], ink: Color32) {
    match outlines {
        [] => {}
        [one] if is_convex(one) && is_sharp(one) => {
            // The soft edge that is laid round a convex polygon would run far beyond its sharp corners.
            painter.add(Shape::mesh(fan(one, ink)));
        }
        [one] if is_convex(one) => {
            painter.add(Shape::convex_polygon(one.clone(), ink, egui::Stroke::NONE));
        }
        many => {
            if let Some(mesh) = triangles(many, ink) {
                painter.add(Shape::mesh(mesh));
                // A mesh has hard edges; a hairline of the same colour softens them.
                for outline in many.iter().filter(|_| ink.a() == 255) {
                    painter.add(Shape::closed_line(outline.clone(), PathStroke::new(1.0, ink)));
                }
            }
        }
    }
}

/// Whether a closed outline turns one way only, and once.
pub(super) fn is_convex(outline: &[Pos2]) -> bool {
    let n = outline.len();
    let turns = (0..n).map(|i| {
        let (a, b, c) = (outline[i], outline[(i + 1) % n], outline[(i + 2) % n]);
        (b.x - a.x) * (c.y - b.y) - (b.y - a.y) * (c.x - b.x)
    });
    let (mut left, mut right) = (false, false);
    for turn in turns {
        left |= turn < -1e-3;
        right |= turn > 1e-3;
    }
    // A star turns one way only but goes round more than once: its x changes direction more than twice.
    let ways: Vec<bool> =
        (0..n).map(|i| outline[(i + 1) % n].x - outline[i].x).filter(|x| x.abs() > 1e-3).map(|x| x > 0.0).collect();
    let reversals = (0..ways.len()).filter(|&i| ways[i] != ways[(i + 1) % ways.len()]).count();
    !(left && right) && reversals <= 2
}

/// Whether a convex outline has a corner of less than 20°, as slivers beside a curve have.
fn is_sharp(outline: &[Pos2]) -> bool {
    /// The cosine of 20°.
    const SHARP: f32 = 0.94;
    let n = outline.len();
    (0..n).any(|i| {
        let (a, b, c) = (outline[i], outline[(i + 1) % n], outline[(i + 2) % n]);
        (a - b).normalized().dot((c - b).normalized()) > SHARP
    })
}

/// A convex outline as triangles round its first corner.
fn fan(outline: &[Pos2], ink: Color32) -> Mesh {
    let mut mesh = Mesh::default();
    for &pos in outline {
        mesh.vertices.push(Vertex { pos, uv: WHITE_UV, color: ink });
    }
    let corners = u32::try_from(outline.len()).unwrap_or(0);
    for i in 2..corners {
        mesh.add_triangle(0, i - 1, i);
    }
    mesh
}

fn triangles(outlines: &[Vec<Pos2>], ink: Color32) -> Option<Mesh> {
    let (corners, indices) = triangulated(outlines)?;
    let vertices = corners.into_iter().map(|pos| Vertex { pos, uv: WHITE_UV, color: ink }).collect();
    Some(Mesh { indices, vertices, ..Mesh::default() })
}

/// Outlines as triangles by the non-zero rule: their corners, and which three make each.
pub(super) fn triangulated(outlines: &[Vec<Pos2>]) -> Option<(Vec<Pos2>, Vec<u32>)> {
    let mut path = Path::builder();
    for outline in outlines {
        let mut points = outline.iter().filter(|at| at.is_finite());
        let Some(first) = points.next() else { continue };
        path.begin(point(first.x, first.y));
        for at in points {
            path.line_to(point(at.x, at.y));
        }
        path.end(true);
    }
    let mut buffers: VertexBuffers<Pos2, u32> = VertexBuffers::new();
    let corner = |vertex: FillVertex<'_>| {
        let [x, y] = vertex.position().to_array();
        Pos2::new(x, y)
    };
    let options = FillOptions::tolerance(TOLERANCE).with_fill_rule(FillRule::NonZero);
    // The tessellator refuses only figures that are no numbers; an area that has none is then not drawn.
    FillTessellator::new()
        .tessellate_path(&path.build(), &options, &mut BuffersBuilder::new(&mut buffers, corner))
        .ok()?;
    Some((buffers.vertices, buffers.indices))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn points(of: &[(f32, f32)]) -> Vec<Pos2> {
        of.iter().map(|&(x, y)| Pos2::new(x, y)).collect()
    }

    fn area(mesh: &Mesh) -> f32 {
        let corner = |i: &u32| mesh.vertices[*i as usize].pos;
        let triangle = |three: &[u32]| {
            let (a, b, c) = (corner(&three[0]), corner(&three[1]), corner(&three[2]));
            ((b - a).x * (c - a).y - (b - a).y * (c - a).x).abs() / 2.0
        };
        mesh.indices.chunks_exact(3).map(triangle).sum()
    }

    #[test]
    fn convex_is_told_from_concave() {
        let square = [(0.0, 0.0), (9.0, 0.0), (9.0, 9.0), (0.0, 9.0)];
        let notched = [(0.0, 0.0), (9.0, 0.0), (9.0, 9.0), (4.0, 4.0), (0.0, 9.0)];
        let star = [(5.0, 0.0), (8.0, 9.0), (0.0, 3.0), (10.0, 3.0), (2.0, 9.0)];
        let with_a_corner_on_its_side = [(0.0, 0.0), (4.0, 0.0), (9.0, 0.0), (9.0, 9.0), (0.0, 9.0)];
        for (outline, expected) in
            [(&square[..], true), (&notched, false), (&star, false), (&with_a_corner_on_its_side, true)]
        {
            assert_eq!(is_convex(&points(outline)), expected, "{outline:?}");
        }
    }

    /// Areas by hand: an L of 3 squares of 10, and a square of 30 with an opening of 10.
    #[test]
    fn concave_areas_and_openings_keep_their_size() {
        let ell = points(&[(0.0, 0.0), (20.0, 0.0), (20.0, 10.0), (10.0, 10.0), (10.0, 20.0), (0.0, 20.0)]);
        let outer = points(&[(0.0, 0.0), (30.0, 0.0), (30.0, 30.0), (0.0, 30.0)]);
        let hole = points(&[(10.0, 10.0), (10.0, 20.0), (20.0, 20.0), (20.0, 10.0)]);
        for (outlines, expected) in [(vec![ell], 300.0), (vec![outer, hole], 800.0)] {
            let mesh = triangles(&outlines, Color32::BLACK).unwrap();
            assert!((area(&mesh) - expected).abs() < 1e-2, "{expected}: {}", area(&mesh));
        }
    }

    /// By hand: a sliver 100 long and 1 wide has half of 100; a fan of a square has all of it.
    #[test]
    fn slivers_are_filled_to_their_corners_and_no_further() {
        let sliver = points(&[(0.0, 0.0), (100.0, 0.0), (100.0, 1.0)]);
        let square = points(&[(0.0, 0.0), (9.0, 0.0), (9.0, 9.0), (0.0, 9.0)]);
        assert!(is_sharp(&sliver) && !is_sharp(&square));
        for (outline, expected) in [(sliver, 50.0), (square, 81.0)] {
            let mesh = fan(&outline, Color32::BLACK);
            assert!((area(&mesh) - expected).abs() < 1e-3, "{expected}: {}", area(&mesh));
            assert_eq!(mesh.vertices.iter().map(|vertex| vertex.pos).collect::<Vec<_>>(), outline);
        }
        assert_eq!(fan(&[], Color32::BLACK).indices, [0; 0]);
    }

    #[test]
    fn figures_that_are_no_numbers_are_not_drawn() {
        let broken = vec![points(&[(0.0, f32::NAN), (f32::INFINITY, 3.0), (2.0, 2.0)])];
        assert!(triangles(&broken, Color32::BLACK).is_none_or(|mesh| mesh.indices.is_empty()));
    }
}
