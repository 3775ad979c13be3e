//! What is told of a closed folio beyond where its panels lie: how thick it is, what its folds go round, what is seen of it.

use fold::{Allowance, Assembly, Folding, Region, Scoring, View, VisibleFace};
use model::{Document, Layout, LineId, Pattern};
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

    /// What hangs together in rings when all parts are in place and nothing is folded yet.
    pub(super) fn rings(self) -> Value {
        let ring = |ring: fold::Ring| {
            json!({
                "panels": ring.panels.iter().map(|&panel| &self.layout.panel(panel).name).collect::<Vec<_>>(),
                "lines": ring.lines.iter().map(|&line| self.line(line)).collect::<Vec<_>>(),
                "gap_mm": told(ring.gap),
                "moves": ring.moves,
            })
        };
        fold::mobility(self.assembly, self.folding, 0).into_iter().map(ring).collect()
    }

    fn face(self, seen: &VisibleFace) -> Value {
        let (pattern, pattern_up) = match self.pattern(seen) {
            Pattern::Plain => ("plain", None),
            Pattern::AnyWay => ("any way", None),
            Pattern::OneWay(edge) => ("one way", Some(seen.shown().towards(edge))),
        };
        json!({
            "panel": self.layout.panel(seen.panel).name,
            "face": seen.face.word(),
            "up": seen.up,
            "pattern": pattern,
            "pattern_up": pattern_up,
            "mm2": seen.area(),
            "regions": regions(&seen.regions),
        })
    }

    /// What is printed on the paper that is seen there; what is bought has nothing on it.
    fn pattern(self, seen: &VisibleFace) -> Pattern {
        let stock = match self.layout.part_of(seen.panel) {
            Some(part) => self.document.part(part.id).and_then(|part| part.stock(self.document)),
            None => Some(&self.document.stock),
        };
        stock.map_or(Pattern::Plain, |stock| stock.side(seen.face).pattern)
    }

    fn allowance(self) -> Allowance {
        Allowance { groove: self.document.groove.mm().max(0.0), ..Allowance::default() }
    }

    fn name(self, panel: usize) -> String {
        self.layout.panel(self.assembly.panels[panel].id).name.clone()
    }

    fn line(self, id: LineId) -> Value {
        json!({ "id": id.0, "name": self.layout.line_name(self.document, id) })
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

#[cfg(test)]
mod tests {
    use super::*;
    use session::Derived;

    #[test]
    fn the_demo_shows_two_flaps_and_its_gussets_wrap_what_closes_before_theirs() {
        let document = file::starters::demo();
        let derived = Derived::of(&document);
        let (assembly, folding) = derived.folded.as_ref().unwrap();
        let demo = Closed { document: &document, layout: &derived.layout, assembly, folding };
        // By hand: a base of 5 1/2 x 4 1/2 in, a closing flap 2 3/4 in deep from the top, and 1 3/4 in of the front under it.
        let mm2 = |wide: f64, high: f64| wide * high * 25.4 * 25.4;
        let faces = demo.faces(f64::INFINITY);
        let seen = |view: &str| -> Vec<(String, String, f64, f64)> {
            let text = |value: &Value| value.as_str().unwrap().to_owned();
            let number = |value: &Value| value.as_f64().unwrap();
            let all = faces[view].as_array().unwrap().iter();
            all.map(|face| (text(&face["panel"]), text(&face["face"]), number(&face["up"]), number(&face["mm2"])))
                .collect()
        };
        let expected = [
            (
                "front",
                vec![("Top flap", "back", 180.0, mm2(5.5, 2.75)), ("Bottom flap", "back", 180.0, mm2(5.5, 1.75))],
            ),
            ("back", vec![("Base", "back", 0.0, mm2(5.5, 4.5))]),
        ];
        for (view, panels) in expected {
            let seen = seen(view);
            assert_eq!(seen.len(), panels.len(), "{seen:?}");
            for ((name, face, up, area), (panel, side, degrees, mm2)) in seen.into_iter().zip(panels) {
                assert_eq!((name.as_str(), face.as_str()), (panel, side));
                assert!((up - degrees).abs() < 1e-9 && (area - mm2).abs() < 1e-6, "{panel}: {up}, {area} mm²");
            }
        }
        // Left, right, bottom, top close in this order, one over the other, on gussets of 1/4 in.
        let gussets = demo.gussets();
        let of =
            |name: &str| gussets.as_array().unwrap().iter().find(|gusset| gusset["panel"] == name).unwrap().clone();
        for (layers, name) in ["Left gusset", "Right gusset", "Bottom gusset", "Top gusset"].into_iter().enumerate() {
            assert_eq!(
                (of(name)["layers"].as_u64(), of(name)["has_mm"].as_f64()),
                (u64::try_from(layers).ok(), Some(6.35))
            );
            assert_eq!(of(name)["next_groove_mm"].as_f64(), Some(3.175));
        }
    }
}
