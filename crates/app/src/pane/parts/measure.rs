//! The measures of a part, each a field.

use super::try_change;
use crate::field::{self, Drafts, Field};
use crate::form::{length, row};
use crate::pane::Scene;
use egui::{Id, Ui};
use model::{Length, Part, PartKind, Size};

/// Width of the fields, px.
const FIELD: f32 = 110.0;

/// Shows a field for every measure.
pub(super) fn ui(ui: &mut Ui, scene: &mut Scene<'_>, drafts: &mut Drafts, part: &Part) {
    let units = scene.session.document().units;
    for (name, value) in part.kind.measures() {
        let id = Id::unique(("measure of part", part.id.0, name));
        let title = capital(name);
        row(ui, &title, |ui| {
            let label = format!("{title} of the part");
            length(ui, drafts, (id, &label, FIELD), value, units, |value| {
                let Some(kind) = with(&part.kind, name, value) else {
                    return Err(format!("The {name} can't be that."));
                };
                try_change(scene, "Change", part.id, |part| part.kind = kind)
            });
        });
        drafts.say_why(ui, id);
    }
    if let PartKind::Insert(insert) = part.kind {
        thickness(ui, scene, drafts, part, insert.caliper);
    }
}

/// How thick an insert is that is no paper of its own; empty for that of its paper.
fn thickness(ui: &mut Ui, scene: &mut Scene<'_>, drafts: &mut Drafts, part: &Part, caliper: Option<Length>) {
    let units = scene.session.document().units;
    let id = Id::unique(("thickness of insert", part.id.0));
    let shown = caliper.map(|caliper| caliper.text(units)).unwrap_or_default();
    row(ui, "Thickness", |ui| {
        let field = Field { id, name: "Thickness of the insert", shown: &shown, hint: "as its paper", width: FIELD };
        drafts.field(ui, field, |text| {
            let caliper = if text.is_empty() { None } else { Some(field::length(text, units)?) };
            if caliper.is_some_and(|caliper| caliper <= Length::ZERO) {
                return Err("Give more than nothing, or leave it empty for that of its paper.".to_owned());
            }
            try_change(scene, "Change", part.id, |part| {
                if let PartKind::Insert(insert) = &mut part.kind {
                    insert.caliper = caliper;
                }
            })
        });
    });
    drafts.say_why(ui, id);
}

/// A kind with another measure; `None` for a name that is none of its measures, and for a size beyond any sheet.
fn with(kind: &PartKind, name: &str, value: Length) -> Option<PartKind> {
    let mut kind = kind.clone();
    let place = match (&mut kind, name) {
        (PartKind::Hinge(hinge), "length") => &mut hinge.length,
        (PartKind::Hinge(hinge), "glued leaf") => &mut hinge.leaf,
        (PartKind::Hinge(hinge), "free leaf") => &mut hinge.free_leaf,
        (PartKind::Pocket(pocket), "width") => &mut pocket.width,
        (PartKind::Pocket(pocket), "height") => &mut pocket.height,
        (PartKind::Pocket(pocket), "glue strip") => &mut pocket.strip,
        (PartKind::Pocket(pocket), "rim") => &mut pocket.rim,
        (PartKind::Pocket(pocket), "gusset") => &mut pocket.gusset,
        (PartKind::TuckCorner(tuck), "across") => &mut tuck.across,
        (PartKind::TuckCorner(tuck), "down") => &mut tuck.down,
        (PartKind::TuckCorner(tuck), "band") => &mut tuck.band,
        (PartKind::TuckCorner(tuck), "glue strip") => &mut tuck.strip,
        (PartKind::Page(page), "width") => &mut page.width,
        (PartKind::Page(page), "height") => &mut page.height,
        (PartKind::Page(page), "strip") => &mut page.strip,
        (PartKind::Flap(flap), "width") => &mut flap.width,
        (PartKind::Flap(flap), "reach") => &mut flap.reach,
        (PartKind::Flap(flap), "strip") => &mut flap.strip,
        (PartKind::Band(band), "around") => &mut band.around,
        (PartKind::Band(band), "width") => &mut band.width,
        (PartKind::Band(band), "overlap") => &mut band.overlap,
        (PartKind::Mat(mat), "width") => &mut mat.width,
        (PartKind::Mat(mat), "height") => &mut mat.height,
        (PartKind::Tab(tab), "width") => &mut tab.width,
        (PartKind::Tab(tab), "height") => &mut tab.height,
        (PartKind::Tab(tab), "glue strip") => &mut tab.strip,
        (PartKind::Insert(insert), "width") => &mut insert.width,
        (PartKind::Insert(insert), "height") => &mut insert.height,
        (PartKind::Closure(closure), "width") => &mut closure.width,
        (PartKind::Closure(closure), "height") => &mut closure.height,
        (PartKind::Closure(closure), "thickness") => &mut closure.thickness,
        (PartKind::Own(own), "width") => {
            own.size = Size::new(value, own.size.height())?;
            return Some(kind);
        }
        (PartKind::Own(own), "height") => {
            own.size = Size::new(own.size.width(), value)?;
            return Some(kind);
        }
        _ => return None,
    };
    *place = value;
    Some(kind)
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

#[cfg(test)]
mod tests {
    use super::*;
    use model::Point;
    use model::Unit;
    use model::part::usual::{Fit, Host, Sort};
    use model::part::{Edges, Own};

    #[test]
    fn every_measure_of_every_kind_can_be_changed() {
        let inch = Length::INCH;
        let host = Host { low: Point::default(), high: Point::new(inch * 6, inch * 6), folds: Edges::NONE };
        let usual = Sort::ALL.into_iter().map(|sort| sort.fitted(&host, &Fit::usual(Unit::Inch)).kind);
        let size = Size::parse("3x2in").unwrap();
        let (lines, corners, folded) = (Vec::new(), Vec::new(), Vec::new());
        let own = Own { size, lines, corners, base: Point::new(inch, inch), folded };
        let mut count = 0;
        for kind in usual.chain([PartKind::Own(own)]) {
            for (place, (name, _)) in kind.measures().into_iter().enumerate() {
                let changed = with(&kind, name, inch * 2).unwrap();
                let after = changed.measures();
                let others = kind.measures().into_iter().enumerate().filter(|(other, _)| *other != place);
                assert_eq!(after[place], (name, inch * 2), "{}", kind.word());
                assert!(others.into_iter().all(|(other, measure)| after[other] == measure), "{} {name}", kind.word());
                count += 1;
            }
        }
        assert!(count > 40, "{count}");
    }
}
