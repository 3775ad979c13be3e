//! The closed folio with its layers spread: one above another with air between, so that their order is seen.

use fold::Folding;
use glam::{DAffine3, DVec3};
use model::PanelId;
use std::collections::BTreeMap;

/// The most air between two layers, as a share of the closed folio's longer side.
const WIDEST: f64 = 0.14;

/// How high all layers together rise at most, as a share of the same.
const HIGHEST: f64 = 0.9;

/// The closed state's pose with as much air between any two layers that are parallel to the base; the base stays where it
/// is, and panels that stand keep to where they are.
#[must_use]
pub fn spread(folding: &Folding) -> Vec<DAffine3> {
    let ranks = ranks(folding);
    let gap = gap(folding, &ranks);
    let mut poses = folding.pose(last(folding));
    for (panel, pose) in folding.panels().iter().zip(&mut poses) {
        if let Some(&rank) = ranks.get(panel) {
            *pose = DAffine3::from_translation(DVec3::new(0.0, 0.0, gap * f64::from(rank))) * *pose;
        }
    }
    poses
}

/// The air between two layers, mm.
fn gap(folding: &Folding, ranks: &BTreeMap<PanelId, i32>) -> f64 {
    let side = folding.closed_size().truncate().max_element();
    let layers = ranks.values().max().zip(ranks.values().min()).map_or(0, |(high, low)| high - low);
    side * WIDEST.min(HIGHEST / f64::from(layers.max(1)))
}

/// How many layers above the base each panel lies that is parallel to it, whatever is between; below it negative.
fn ranks(folding: &Folding) -> BTreeMap<PanelId, i32> {
    let parallel = folding.planes().iter().filter(|plane| plane.normal.z > 0.5);
    // Planes come from low to high, and so do their layers.
    let layers: Vec<&Vec<PanelId>> = parallel.flat_map(|plane| plane.layers.iter().map(|(_, panels)| panels)).collect();
    let base = folding.planes().iter().find(|plane| plane.normal.z > 0.5 && plane.distance.abs() < ON_BASE);
    let base = base.and_then(|plane| plane.layers.iter().find(|(number, _)| *number == 0)).map(|(_, panels)| panels);
    let ground = layers.iter().position(|panels| Some(*panels) == base).unwrap_or(0);
    let rank = |index: usize| i32::try_from(index).unwrap_or(i32::MAX) - i32::try_from(ground).unwrap_or(0);
    layers.iter().enumerate().flat_map(|(i, panels)| panels.iter().map(move |panel| (*panel, rank(i)))).collect()
}

/// How far from the base's plane a plane still is that one, mm: a nanometre, the unit of authored lengths.
const ON_BASE: f64 = 1e-6;

#[expect(clippy::cast_precision_loss, reason = "a folio has far fewer steps than 2^53")]
const fn last(folding: &Folding) -> f64 {
    folding.steps() as f64
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Session;
    use model::change::{add_line, measured_score};
    use model::{Document, Edit, Length, LineId, Point, Size, Turn, Unit};

    #[test]
    fn layers_lie_one_gap_apart_in_their_order() {
        let mut document = Document::new(Size::parse("12x12in").unwrap(), Unit::Inch);
        for (id, inches) in [(1, 4), (2, 8)] {
            let score = measured_score(LineId(id), Turn::None, Length::INCH * inches);
            document.apply(add_line(&document, score)).unwrap();
        }
        let at = |inches: i64| Point::new(Length::INCH * inches, Length::INCH * 6);
        document.apply(Edit::SetBase(Some(at(6)))).unwrap();
        let session = Session::new(document);
        let layout = &session.derived().layout;
        let (_, folding) = session.derived().folded.as_ref().unwrap();
        let (before, after) = (folding.pose(2.0), spread(folding));
        // 0.14 of the closed folio's 12 in.
        let gap = 12.0 * 25.4 * 0.14;
        // The base, then the flap that closes first, then the one that closes over it.
        for (inches, expected) in [(6, 0.0), (2, gap), (10, 2.0 * gap)] {
            let panel = layout.panel_at(at(inches)).unwrap();
            let place = folding.panels().iter().position(|other| *other == panel).unwrap();
            let moved = after[place].translation - before[place].translation;
            assert!((moved - DVec3::new(0.0, 0.0, expected)).length() < 1e-9, "{inches}: {moved}");
        }
    }
}
