//! What a pen may draw: names in the middle of pieces, and guide lines. On its own, so that it can be left out.

use super::contour::{Bend, Contour, Track};
use super::edge::spot;
use super::figure::Figure;
use crate::list::{Node, Shape};
use crate::sheet::fitting_text;
use kurbo::{PathEl, Rect, Vec2};
use model::{Document, Layout, Work};

/// How far a letter's outline, drawn in straight stretches, may lie from its curve, mm.
const LETTER: f64 = 0.02;

/// The outlines of the letters of a piece's name, in its middle; `None` where there is no room to read it.
pub(super) fn name(figure: &Figure) -> Option<Contour> {
    let largest = figure.convex.iter().max_by_key(|outline| model::polygon::signed_area(outline))?;
    let Some(Node::Item { shape: Shape::Text(run), .. }) = fitting_text(room(largest), &figure.name) else {
        return None;
    };
    let mut tracks: Vec<Track> = Vec::new();
    kurbo::flatten(run.path(), LETTER, |element| {
        let last = tracks.last_mut();
        match (element, last) {
            (PathEl::MoveTo(start), _) => tracks.push(Track { start, bends: Vec::new() }),
            (PathEl::LineTo(to), Some(track)) => track.bends.push(Bend::straight(to)),
            (PathEl::ClosePath, Some(track)) if track.end() != track.start => {
                track.bends.push(Bend::straight(track.start));
            }
            // Flat paths have no curves.
            _ => {}
        }
    });
    tracks.retain(|track| !track.bends.is_empty());
    (!tracks.is_empty()).then_some(Contour { tracks })
}

/// Of an upright rectangle all; of other outlines so much about their middle as lies inside of a triangle.
fn room(outline: &[model::Point]) -> Rect {
    let (low, high) = model::polygon::bounds(outline);
    let all = Rect::from_points(spot(low), spot(high));
    let is_upright =
        outline.iter().all(|corner| [low.x, high.x].contains(&corner.x) && [low.y, high.y].contains(&corner.y));
    if is_upright && outline.len() == 4 {
        return all;
    }
    let count = f64::from(u32::try_from(outline.len()).unwrap_or(u32::MAX));
    let sum = outline.iter().map(|&corner| spot(corner).to_vec2()).fold(Vec2::ZERO, |sum, one| sum + one);
    Rect::from_center_size((sum / count).to_point(), all.size() / 3.0)
}

/// The guide lines of the sheet.
pub(super) fn guides(document: &Document, layout: &Layout) -> Vec<Contour> {
    let guides = document.lines.iter().filter(|line| line.work == Work::Guide);
    let placed = guides.filter_map(|line| layout.lines.get(&line.id)?.as_ref().ok());
    let track = placed.map(|placed| {
        let mut points = placed.path().into_iter().map(spot);
        let start = points.next().unwrap_or_default();
        Track { start, bends: points.map(Bend::straight).collect() }
    });
    track.map(Contour::of).collect()
}
