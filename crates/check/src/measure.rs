//! What rules measure: which folds belong to which paper, how far a panel reaches, and how measures are told.

use crate::Context;
use fold::overlap::{edges, hull};
use fold::{Folding, to_world};
use model::{Fold, Length, Panel, PanelId, Part, PartLayout, Point, Segment, Unit};
use std::collections::BTreeMap;

/// The folio or one of its parts: a paper of one thickness with folds.
pub(crate) struct Paper<'a> {
    /// The part; `None` for the folio.
    pub(crate) part: Option<(&'a Part, &'a PartLayout)>,
    /// Its panels.
    pub(crate) panels: Vec<&'a Panel>,
    /// The folds between them.
    pub(crate) folds: Vec<&'a Fold>,
    /// How thick it is, where that is known.
    pub(crate) caliper: Option<Length>,
}

impl<'a> Paper<'a> {
    /// The folds of each panel that has any.
    pub(crate) fn beside(&self) -> BTreeMap<PanelId, Vec<&'a Fold>> {
        let mut beside: BTreeMap<PanelId, Vec<&Fold>> = BTreeMap::new();
        for &fold in &self.folds {
            for panel in fold.panels {
                beside.entry(panel).or_default().push(fold);
            }
        }
        beside
    }
}

impl<'a> Context<'a> {
    /// The folio, where a base is marked, then the parts that have a place.
    pub(crate) fn papers(&self) -> Vec<Paper<'a>> {
        let (document, layout) = (self.document, self.layout);
        let folio = layout.folio().map(|folio| Paper {
            part: None,
            panels: folio.panels.iter().map(|&id| layout.panel(id)).collect(),
            folds: layout.folds.iter().filter(|fold| layout.panel(fold.panels[0]).piece == folio.id).collect(),
            caliper: document.stock.thickness(),
        });
        let of_part = |laid: &'a PartLayout| {
            let part = document.part(laid.id)?;
            let caliper = part.own_caliper().or_else(|| part.stock(document)?.thickness());
            let (panels, folds) = (laid.panels.iter().collect(), laid.folds.iter().collect());
            Some(Paper { part: Some((part, laid)), panels, folds, caliper })
        };
        folio.into_iter().chain(layout.parts.iter().filter_map(of_part)).collect()
    }

    /// "the left flap, the base and 3 more": panels in a sentence, the first few by name.
    pub(crate) fn these(&self, panels: &[PanelId]) -> String {
        /// More names than this are not read.
        const NAMED: usize = 3;
        let names = panels.iter().take(NAMED).map(|&panel| self.the(panel));
        let more = panels.len().saturating_sub(NAMED);
        model::words::listed(names.chain((more > 0).then(|| format!("{more} more"))))
    }
}

/// The time at which a folio is closed.
#[expect(clippy::cast_precision_loss, reason = "a count of steps is far below 2^52")]
pub(crate) fn closed_at(folding: &Folding) -> f64 {
    folding.steps() as f64
}

/// How far an outline reaches from the line through a segment, in mm.
pub(crate) fn depth(segment: Segment, outline: &[Point]) -> f64 {
    let (from, to) = (to_world(segment.a), to_world(segment.b));
    let way = (to - from).normalize_or_zero();
    outline.iter().map(|&corner| way.perp_dot(to_world(corner) - from).abs()).fold(0.0, f64::max)
}

/// The width of the narrowest straight strip that an outline goes through, in mm.
pub(crate) fn narrowest(outline: &[Point]) -> f64 {
    let points: Vec<_> = outline.iter().map(|&corner| to_world(corner)).collect();
    let hull = hull(&points);
    // The narrowest strip lies along an edge of the hull (Freeman and Shapira 1975, from memory).
    let width = |(a, b): (glam::DVec2, glam::DVec2)| {
        let way = (b - a).normalize_or_zero();
        hull.iter().map(|&corner| way.perp_dot(corner - a).abs()).fold(0.0, f64::max)
    };
    let least = edges(&hull).map(width).fold(f64::INFINITY, f64::min);
    if least.is_finite() { least } else { 0.0 }
}

/// A measure in the maker's units, with millimetres behind it where those are inches: "1/16 in (about 1.59 mm)".
pub(crate) fn both(mm: f64, unit: Unit) -> String {
    let length = Length::from_mm_rounded(mm).unwrap_or(Length::LIMIT);
    match unit {
        Unit::Inch => format!("{} ({})", length.readable(unit), length.readable(Unit::Millimetre)),
        _ => length.readable(unit),
    }
}

/// A measure that has to suffice: in millimetres, rounded up to a hundredth.
pub(crate) fn at_least(mm: f64) -> String {
    // Less than any maker can measure: what is whole but for rounding stays so.
    const NOTHING: f64 = 1e-6;
    let up = (mm * 100.0 - NOTHING).ceil() / 100.0;
    Length::from_mm_rounded(up).unwrap_or(Length::LIMIT).readable(Unit::Millimetre)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::common::at;

    #[track_caller]
    fn check(outline: &[(&str, &str)], expected: f64) {
        let outline: Vec<Point> = outline.iter().map(|(x, y)| at(x, y)).collect();
        let found = narrowest(&outline);
        assert!((found - expected * 25.4).abs() < 1e-6, "{found}");
    }

    #[test]
    fn the_narrowest_strip_lies_along_an_edge() {
        check(&[("0", "0"), ("4", "0"), ("4", "1"), ("0", "1")], 1.0);
        // Sides 3, 4 and 5: its least height, by hand, is 3 · 4 / 5.
        check(&[("0", "0"), ("4", "0"), ("0", "3")], 2.4);
        check(&[("0", "0"), ("4", "0")], 0.0);
    }

    #[test]
    fn measures_are_told_in_both_units_and_rounded_up_where_they_have_to_suffice() {
        assert_eq!(both(1.5875, Unit::Inch), "1/16 in (about 1.59 mm)");
        assert_eq!(both(1.5, Unit::Millimetre), "1.5 mm");
        assert_eq!([at_least(2.32), at_least(2.321)], ["2.32 mm", "2.33 mm"]);
    }
}
