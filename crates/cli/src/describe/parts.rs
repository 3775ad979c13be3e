//! The parts of a design: what each is, how it lies, how it is glued, and what its own little sheet looks like.

mod words;

use super::Told;
use crate::lengths::{area, length, point, points};
use model::part::laid::{Laid, LaidGlue};
use model::part::{Edges, GlueArea, Part, PartKind, PartLayout, Source};
use model::polygon::bounds;
use model::{Fold, Length, PanelId, Point, Unit};
use serde_json::{Map, Value, json};
use std::io::{self, Write};

/// The section on parts; nothing for a design without any.
pub(super) fn write(told: &Told<'_>, out: &mut dyn Write) -> io::Result<()> {
    if told.document.parts.is_empty() {
        return Ok(());
    }
    writeln!(out, "\nParts")?;
    for part in &told.document.parts {
        writeln!(out, "  {}", words::part(told, part))?;
        for line in words::details(told, part) {
            writeln!(out, "    {line}")?;
        }
    }
    Ok(())
}

/// All parts, in the order of the document.
pub(super) fn value(told: &Told<'_>) -> Value {
    told.document.parts.iter().map(|part| one(told, part)).collect()
}

fn one(told: &Told<'_>, part: &Part) -> Value {
    let laid = told.layout.part(part.id);
    let unit = told.document.units;
    let fault = told.layout.part_faults.get(&part.id);
    let size = laid.map(|laid| laid.pattern.size());
    json!({
        "id": part.id.0,
        "name": told.document.part_name(part.id),
        "kind": part.kind.word().to_lowercase(),
        "measures": measures(&part.kind, unit),
        "edges": edges_of(&part.kind).iter().map(|edge| edge.word()).collect::<Vec<_>>(),
        "source": source(told, part.source),
        "width": size.map(|size| length(size.width(), unit)),
        "height": size.map(|size| length(size.height(), unit)),
        "place": laid.and_then(|laid| Some(place(told, part, laid, &laid.laid?))),
        "glue": laid.map_or_else(Vec::new, |laid| glue(told, part, laid)),
        "main": laid.map(|laid| told.layout.panel(laid.main).name.as_str()),
        "panels": laid.map_or_else(Vec::new, |laid| panels(laid, unit)),
        "folds": laid.map_or_else(Vec::new, |laid| folds(told, laid)),
        "fault": fault.map(|fault| fault.phrase(told.document)),
    })
}

fn measures(kind: &PartKind, unit: Unit) -> Value {
    let caliper = match kind {
        PartKind::Insert(insert) => insert.caliper.map(|caliper| ("caliper", caliper)),
        _ => None,
    };
    let all = kind.measures().into_iter().chain(caliper);
    Value::Object(all.map(|(name, measure)| (name.replace(' ', "_"), length(measure, unit))).collect::<Map<_, _>>())
}

/// The edges of its main panel that a kind has something to do with.
fn edges_of(kind: &PartKind) -> Edges {
    match kind {
        PartKind::Pocket(pocket) => pocket.glued,
        PartKind::TuckCorner(tuck) => Edges::of(&tuck.corner.edges()),
        PartKind::Page(page) => Edges::of(&[page.hinged]),
        PartKind::Flap(flap) => Edges::of(&[flap.edge]),
        PartKind::Tab(tab) => Edges::of(&[tab.glued]),
        PartKind::Hinge(_)
        | PartKind::Band(_)
        | PartKind::Mat(_)
        | PartKind::Insert(_)
        | PartKind::Closure(_)
        | PartKind::Own(_) => Edges::NONE,
    }
}

fn source(told: &Told<'_>, source: Source) -> Value {
    let (from, stock) = match source {
        Source::AnyOffcut => ("any offcut", None),
        Source::Offcut(_) => ("offcut", None),
        Source::Whole(_) => ("whole offcut", None),
        Source::FolioStock => ("folio stock", None),
        Source::Stock(id) => ("stock", Some(id.0)),
        Source::Bought => ("bought", None),
    };
    let piece = |mark: Point| {
        let piece = told.layout.panels[told.layout.panel_at(mark)?.0].piece;
        told.layout.offcuts().find(|offcut| offcut.id == piece).map(|offcut| offcut.name.as_str())
    };
    json!({
        "from": from,
        "offcut": source.mark().and_then(piece),
        "at": source.mark().map(|mark| point(mark, told.document.units)),
        "stock": stock,
    })
}

fn place(told: &Told<'_>, part: &Part, own: &PartLayout, laid: &Laid) -> Value {
    let unit = told.document.units;
    let main: Vec<Point> = told.layout.panel(own.main).outline.iter().map(|&corner| laid.on_host(corner)).collect();
    let [left, top, right, bottom] = borders(told, own.main, laid).map(|distance| length(distance, unit));
    json!({
        "panel": told.layout.panel(laid.on).name,
        "face": laid.face.word(),
        "showing": part.place.showing.word(),
        "rotation": f64::from(part.place.rotation.hundredths()) / 100.0,
        "origin": point(laid.origin, unit),
        "right": [laid.right.0, laid.right.1],
        "turned_over": laid.turned_over,
        "outline": points(&main, unit),
        "borders": { "left": left, "top": top, "right": right, "bottom": bottom },
    })
}

/// How far the main panel lies from the left, top, right and bottom border of the panel under it; less than nothing where
/// it stands out.
fn borders(told: &Told<'_>, main: PanelId, laid: &Laid) -> [Length; 4] {
    let (low, high) = session::part::on_host(laid, told.layout.panel(main));
    let (least, most) = bounds(&told.layout.panel(laid.on).outline);
    [low.x - least.x, low.y - least.y, most.x - high.x, most.y - high.y]
}

/// The glue with the area that each was said by; those of its kind come first.
fn glued<'a>(part: &'a Part, laid: &'a PartLayout) -> impl Iterator<Item = (GlueArea, &'a LaidGlue)> {
    let areas = laid.pattern.glue.iter().map(|glue| glue.area).chain(part.also.iter().map(|gluing| gluing.area));
    areas.zip(&laid.glue).filter(|(area, _)| *area != GlueArea::None)
}

fn glue(told: &Told<'_>, part: &Part, laid: &PartLayout) -> Vec<Value> {
    let unit = told.document.units;
    let one = |(area, glue): (GlueArea, &LaidGlue)| {
        let (edges, strip) = match area {
            GlueArea::Strips(edges, strip) => (edges, Some(strip)),
            GlueArea::Whole | GlueArea::None => (Edges::NONE, None),
        };
        json!({
            "panel": told.layout.panel(glue.panels[0]).name,
            "face": glue.face.word(),
            "to": told.layout.panel(glue.panels[1]).name,
            "edges": edges.iter().map(|edge| edge.word()).collect::<Vec<_>>(),
            "strip": strip.map(|strip| length(strip, unit)),
            "areas": glue.area.iter().map(|area| points(area, unit)).collect::<Vec<_>>(),
        })
    };
    glued(part, laid).map(one).collect()
}

fn panels(laid: &PartLayout, unit: Unit) -> Vec<Value> {
    let panel = |panel: &model::Panel| {
        let (width, height) = panel.extent();
        json!({
            "name": panel.name,
            "width": length(width, unit),
            "height": length(height, unit),
            "area": area(panel.area, unit),
            "outline": points(&panel.outline, unit),
            "holes": panel.holes.iter().map(|hole| points(hole, unit)).collect::<Vec<_>>(),
        })
    };
    laid.panels.iter().map(panel).collect()
}

fn folds(told: &Told<'_>, laid: &PartLayout) -> Vec<Value> {
    let unit = told.document.units;
    let fold = |fold: &Fold| {
        let own = laid.lines.iter().find(|(_, all)| **all == fold.line).map(|(own, _)| own.0);
        json!({
            "line": { "id": fold.line.0, "name": told.layout.line_name(told.document, fold.line) },
            "own_line": own,
            "panels": fold.panels.map(|panel| told.layout.panel(panel).name.as_str()),
            "fold": fold.crease.direction.word(),
            "angle": fold.crease.angle.degrees(),
            "before": laid.before.iter().flatten().any(|&line| line == fold.line),
            "stretches": fold.stretches.iter().map(|run| points(&[run.a, run.b], unit)).collect::<Vec<_>>(),
        })
    };
    laid.folds.iter().map(fold).collect()
}
