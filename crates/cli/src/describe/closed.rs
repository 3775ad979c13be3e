//! What is told of a closed folio beyond where its panels lie: how thick it is, what its folds go round, what is seen of it.

use fold::{Allowance, Assembly, Folding, Region, Scoring, View, VisibleFace};
use model::{Document, Face, Layout, LineId, Pattern};
use serde_json::{Value, json};

/// A closed folio with what it was made from.
#[derive(Clone, Copy)]
pub(super) struct Closed<'a> {
    pub(super) document: &'a Document,
    pub(super) layout: &'a Layout,
    pub(super) assembly: &'a Assembly,
    pub(super) folding: &'a Folding,
}

impl Closed<'_> {
    /// Areas of one thickness each, the thinnest first.
    pub(super) fn thickness_areas(self) -> Value {
        let area = |area: &fold::ThicknessArea| {
            json!({
                "layers": area.layers,
                "paper_mm": told(area.paper),
                "height_mm": told(area.height),
                "mm2": area.area(),
                "regions": regions(&area.regions),
            })
        };
        fold::thickness(self.assembly, self.folding).areas.iter().map(area).collect()
    }

    /// What each fold has to span.
    pub(super) fn gaps(self) -> Value {
        let gap = |gap: fold::FoldGap| {
            let joint = &self.assembly.joints[gap.joint];
            let scoring = match gap.scoring {
                Scoring::Single => "one score",
                Scoring::Wide => "a wide score",
                Scoring::Double => "two scores",
            };
            json!({
                "line": self.line(joint.line),
                "panels": joint.panels.map(|panel| self.name(panel)),
                "layers": gap.layers,
                "stack_mm": told(gap.stack),
                "needed_mm": told(gap.needed),
                "has_mm": told(gap.has),
                "scoring": scoring,
            })
        };
        fold::gaps(self.assembly, self.folding, &self.allowance()).into_iter().map(gap).collect()
    }

    /// How each gusset goes round what it wraps.
    pub(super) fn gussets(self) -> Value {
        let gusset = |fit: fold::GussetFit| {
            json!({
                "panel": self.name(fit.panel),
                "lines": fit.joints.map(|joint| self.line(self.assembly.joints[joint].line)),
                "layers": fit.layers,
                "wraps_mm": told(fit.wraps),
                "least_mm": told(fit.least),
                "next_groove_mm": fit.next_groove.map(told),
                "has_mm": told(fit.has),
            })
        };
        fold::gussets(self.assembly, self.folding, &self.allowance()).into_iter().map(gusset).collect()
    }

    /// What is seen of each panel from either side, after so many steps.
    pub(super) fn faces(self, time: f64) -> Value {
        let seen =
            |view| -> Value { fold::visible(self.folding, time, view).iter().map(|face| self.face(face)).collect() };
        json!({ "front": seen(View::Front), "back": seen(View::Back) })
    }

    fn face(self, seen: &VisibleFace) -> Value {
        let (pattern, pattern_up) = match self.document.stock.side(seen.face).pattern {
            Pattern::Plain => ("plain", None),
            Pattern::AnyWay => ("any way", None),
            Pattern::OneWay(edge) => ("one way", Some(seen.shown().towards(edge))),
        };
        let face = match seen.face {
            Face::Front => "front",
            Face::Back => "back",
        };
        json!({
            "panel": self.layout.panel(seen.panel).name,
            "face": face,
            "up": seen.up,
            "pattern": pattern,
            "pattern_up": pattern_up,
            "mm2": seen.area(),
            "regions": regions(&seen.regions),
        })
    }

    fn allowance(self) -> Allowance {
        Allowance { groove: self.document.groove.mm().max(0.0), ..Allowance::default() }
    }

    fn name(self, panel: usize) -> String {
        self.layout.panel(self.assembly.panels[panel].id).name.clone()
    }

    fn line(self, id: LineId) -> Value {
        json!({ "id": id.0, "name": self.document.line_name(id) })
    }
}

/// Millimetres without the rounding of floats: to the nanometre, in which lengths are said.
fn told(mm: f64) -> f64 {
    (mm * 1e6).round() / 1e6
}

fn regions(regions: &[Region]) -> Value {
    let path = |path: &Vec<glam::DVec2>| path.iter().map(|corner| corner.to_array()).collect::<Vec<_>>();
    let region = |region: &Region| json!({ "outline": path(&region.outline), "holes": region.holes.iter().map(path).collect::<Vec<_>>() });
    regions.iter().map(region).collect()
}
