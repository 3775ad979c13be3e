//! A design and all that follows from it, as one JSON value.

use super::closed::Closed;
use super::{Told, fits, making, mats, paper, parts, plan, post};
use crate::lengths::{area, derived as derived_length, length, point};
use model::board::{RuledScore, ScoreRun, TurnScores, closing_order};
use model::cutting::{CutStep, cut_list};
use model::{
    Border, Corner, CornerFault, CornerShape, CornerTrouble, Crease, Document, FurtherStock, InnerCorner, Layout,
    Length, Line, LineId, Piece, Strip, StripSide, Turn, Unit, Void, VoidKind, Which, Work,
};
use serde_json::{Value, json};
use session::Derived;
use std::path::Path;

/// A design and all that follows from it; `file` says where its artwork is looked for.
pub(super) fn described(file: &Path, told: &Told<'_>, at: Option<f64>) -> Value {
    let Told { document, derived, layout, .. } = *told;
    let unit = document.units;
    let further = |further: &FurtherStock| {
        let mut value = paper::stock(&further.stock, file, unit);
        value["id"] = json!(further.id.0);
        value
    };
    let findings: Vec<Value> =
        derived.findings.iter().map(|finding| crate::check::finding(finding, document, derived)).collect();
    json!({
        "title": document.title,
        "credit": document.credit,
        "variation": compare::credit(document).unwrap_or_default(),
        "units": unit.word(),
        "grooves": (document.groove > Length::ZERO).then(|| length(document.groove, unit)),
        "cutting": {
            "edge": length(document.cutting.edge, unit),
            "along_grain": document.cutting.along_grain,
        },
        "lengths": crate::named::values(document),
        "sheet": paper::stock(&document.stock, file, unit),
        "further_stocks": document.further_stocks.iter().map(further).collect::<Vec<_>>(),
        "lines": document.lines.iter().map(|one| line(one, document, layout)).collect::<Vec<_>>(),
        "base": layout.base.map(|base| layout.panel(base).name.as_str()),
        "panels": panels(layout, unit),
        "folds": folds(document, layout),
        "pieces": layout.pieces.iter().map(|one| piece(one, layout, unit)).collect::<Vec<_>>(),
        "ledger": {
            "sheet": area(layout.ledger.sheet, unit),
            "folio": area(layout.ledger.folio, unit),
            "offcuts": area(layout.ledger.offcuts, unit),
            "slots": area(layout.ledger.slots, unit),
            "waste": area(layout.ledger.waste, unit),
        },
        "voids": layout.voids.iter().map(|one| void(one, document)).collect::<Vec<_>>(),
        "inner_corners": layout.inner_corners.iter().map(|one| inner_corner(one, layout, unit)).collect::<Vec<_>>(),
        "corners": corners(document, layout),
        "scoring": scoring(told),
        "cuts": cuts(document, layout),
        "closing": closing(document, layout),
        "closed": closed(document, derived, at),
        "parts": parts::value(told),
        "plan": plan::value(told),
        "making": making::value(told),
        "fits": fits::value(told),
        "mats": mats::value(told),
        "post": post::value(told),
        "findings": findings,
        "silenced": crate::check::silenced(document, derived),
    })
}

fn panels(layout: &Layout, unit: Unit) -> Vec<Value> {
    let panel = |panel: &model::Panel| {
        let (width, height) = panel.extent();
        json!({
            "name": panel.name,
            "gusset": panel.is_gusset,
            "piece": layout.pieces[panel.piece.0].name,
            "width": length(width, unit),
            "height": length(height, unit),
            "area": area(panel.area, unit),
            "outline": panel.outline.iter().map(|&corner| point(corner, unit)).collect::<Vec<_>>(),
            "holes": panel.holes.iter()
                .map(|hole| hole.iter().map(|&corner| point(corner, unit)).collect::<Vec<_>>()).collect::<Vec<_>>(),
        })
    };
    layout.panels.iter().map(panel).collect()
}

fn folds(document: &Document, layout: &Layout) -> Vec<Value> {
    let fold = |fold: &model::Fold| {
        json!({
            "line": { "id": fold.line.0, "name": document.line_name(fold.line) },
            "panels": fold.panels.map(|panel| layout.panel(panel).name.as_str()),
            "fold": fold.crease.direction.word(),
            "angle": fold.crease.angle.degrees(),
            "stretches": fold.stretches.iter()
                .map(|s| [point(s.a, document.units), point(s.b, document.units)]).collect::<Vec<_>>(),
        })
    };
    layout.folds.iter().map(fold).collect()
}

fn piece(piece: &Piece, layout: &Layout, unit: Unit) -> Value {
    let (low, high) = piece.bounds;
    json!({
        "name": piece.name,
        "folio": piece.is_folio,
        "island": piece.is_island,
        "panels": piece.panels.iter().map(|&panel| layout.panel(panel).name.as_str()).collect::<Vec<_>>(),
        "area": area(piece.area, unit),
        "width": length(high.x - low.x, unit),
        "height": length(high.y - low.y, unit),
        "at": point(low, unit),
    })
}

fn scoring(told: &Told<'_>) -> Value {
    let document = told.document;
    let unit = document.units;
    let run = |run: &ScoreRun| {
        let (from, to) = (length(run.from, unit), length(run.to, unit));
        json!({ "line": line_key(document, run.line), "from": from, "to": to })
    };
    let turn = |turn: &TurnScores| {
        let score = |(across, runs): (&Length, &Vec<ScoreRun>)| json!({ "distance": length(*across, unit), "runs": runs.iter().map(run).collect::<Vec<_>>() });
        json!({ "face": turn.face.word(), "turn": turn.turn.count(), "scores": turn.scores.iter().map(score).collect::<Vec<_>>() })
    };
    let table = told.scoring();
    let by_ruler = |score: &RuledScore| {
        let runs: Vec<_> = score.runs.iter().map(|ends| ends.map(|end| point(end, unit))).collect();
        json!({ "face": score.face.word(), "line": line_key(document, score.line), "runs": runs })
    };
    json!({
        "turns": table.turns.iter().map(turn).collect::<Vec<_>>(),
        "by_ruler": table.by_ruler.iter().map(by_ruler).collect::<Vec<_>>(),
    })
}

fn line_key(document: &Document, id: LineId) -> Value {
    json!({ "id": id.0, "name": document.line_name(id) })
}

/// A line with where it lies, or with what keeps it from lying anywhere.
fn line(line: &Line, document: &Document, layout: &Layout) -> Value {
    let unit = document.units;
    let mut value = line_key(document, line.id);
    value["work"] = json!(line.work.word().to_lowercase());
    value["locked"] = json!(line.locked);
    if let Some(crease) = line.work.crease() {
        value["fold"] = json!(crease.direction.word());
        value["angle"] = json!(crease.angle.degrees());
        value["pressed"] = json!(crease.face().word());
    }
    let side = |strip: Strip| match strip.side {
        StripSide::Left => "left",
        StripSide::Right => "right",
        StripSide::Centred => "centred",
    };
    match line.work {
        Work::Slot(strip) | Work::Trim(strip) => {
            value["strip"] = json!({ "width": length(strip.width, unit), "side": side(strip) });
        }
        Work::Notch(notch) => {
            let side = if notch.to_left { "left" } else { "right" };
            value["strip"] = json!({ "width": length(notch.depth, unit), "side": side });
        }
        Work::Score(_) | Work::Cut | Work::Guide => {}
    }
    match layout.lines.get(&line.id) {
        Some(Ok(placed)) => {
            value["turn"] = json!(placed.on_board().map(|(turn, _)| turn.count()));
            value["distance"] = json!(placed.on_board().map(|(_, across)| length(across, unit)));
            value["from"] = length(placed.from, unit);
            value["to"] = length(placed.to, unit);
            value["bow"] = length(placed.bow, unit);
            value["ends"] = json!([point(placed.segment.a, unit), point(placed.segment.b, unit)]);
        }
        Some(Err(fault)) => value["fault"] = json!(fault.phrase(document)),
        None => {}
    }
    value
}

fn void(void: &Void, document: &Document) -> Value {
    let (kind, line) = match void.kind {
        VoidKind::Slot(id) => ("slot", Some(id)),
        VoidKind::Trim(id) => ("trim", Some(id)),
        VoidKind::Notch(id) => ("notch", Some(id)),
        VoidKind::Corner(_) => ("corner", None),
    };
    json!({
        "kind": kind,
        "line": line.map(|id| line_key(document, id)),
        "area": area(void.area, document.units),
        "outline": void.outline.iter().map(|&corner| point(corner, document.units)).collect::<Vec<_>>(),
        "holes": void.holes.iter()
            .map(|hole| hole.iter().map(|&corner| point(corner, document.units)).collect::<Vec<_>>()).collect::<Vec<_>>(),
    })
}

fn inner_corner(corner: &InnerCorner, layout: &Layout, unit: Unit) -> Value {
    json!({
        "at": point(corner.at, unit),
        "panels": corner.panels.iter().map(|&panel| layout.panel(panel).name.as_str()).collect::<Vec<_>>(),
        "folds": corner.folds,
        "ends_cut": corner.ends_cut,
    })
}

/// What is said of corners, each with whether it can be done.
fn corners(document: &Document, layout: &Layout) -> Vec<Value> {
    let border = |border: Border| match border {
        Border::Edge(edge) => format!("{} edge", edge.word()),
        Border::Line(id) => document.line_name(id),
    };
    let corner = |(by, corner): (usize, &Corner)| {
        let (shape, measure) = match corner.shape {
            CornerShape::Square => ("square", None),
            CornerShape::Round(radius) => ("round", Some(radius)),
            CornerShape::Clip(distance) => ("clip", Some(distance)),
        };
        let which = match corner.which {
            Which::AllOfPanel => json!("panel"),
            Which::AllOfPiece => json!("piece"),
            Which::Between(a, b) => json!([border(a), border(b)]),
        };
        let faults = layout.corner_troubles.iter().filter(|trouble| trouble.by == by);
        let fault = |trouble: &CornerTrouble| match trouble.fault {
            CornerFault::NoPanel => "no panel is there",
            CornerFault::NotThere => "its borders don't meet",
            CornerFault::NotFree => "a fold ends there or it points inwards",
            CornerFault::TooLarge(_) => "it is larger than its side",
            CornerFault::NoneFree => "none of them is free",
            CornerFault::Curved => "one of its sides is a curve",
            CornerFault::NoMeasure => "it has no measure",
            CornerFault::MarkTakenOff => "its mark lies on what is taken off",
        };
        json!({
            "panel": layout.panel_at(corner.mark).map(|panel| layout.panel(panel).name.as_str()),
            "which": which,
            "shape": shape,
            "measure": measure.map(|measure| length(measure, document.units)),
            "faults": faults.map(fault).collect::<Vec<_>>(),
        })
    };
    document.corners.iter().enumerate().map(corner).collect()
}

/// The cut list, each cut with its line and in a sentence.
fn cuts(document: &Document, layout: &Layout) -> Vec<Value> {
    let cut = |step: CutStep| {
        json!({
            "line": step.line.map(|id| line_key(document, id)),
            "turn": step.under.turn().map(Turn::count),
            "sentence": step.sentence,
        })
    };
    cut_list(document, layout).into_iter().map(cut).collect()
}

fn closing(document: &Document, layout: &Layout) -> Vec<Value> {
    let fold = |(id, crease): (model::LineId, Crease)| {
        json!({
            "line": { "id": id.0, "name": layout.line_name(document, id) },
            "fold": crease.direction.word(),
            "angle": crease.angle.degrees(),
        })
    };
    let tuck = |[panel, under]: [model::PanelId; 2]| json!({ "panel": layout.panel(panel).name, "under": layout.panel(under).name });
    let step = |step: model::board::StepFolds| {
        json!({
            "step": step.step + 1,
            "folds": step.folds.into_iter().map(fold).collect::<Vec<_>>(),
            "tucks": step.tucks.into_iter().map(tuck).collect::<Vec<_>>(),
        })
    };
    closing_order(document, layout).into_iter().map(step).collect()
}

#[expect(clippy::cast_precision_loss, reason = "a count of steps")]
fn closed(document: &Document, derived: &Derived, at: Option<f64>) -> Value {
    let Some((assembly, folding)) = &derived.folded else { return Value::Null };
    let (unit, size) = (document.units, folding.closed_size());
    let at = at.unwrap_or(folding.steps() as f64);
    let poses = folding.flat_pose(at);
    let all = Closed { document, layout: &derived.layout, assembly, folding };
    let place = |(panel, pose): (&fold::PanelShape, &glam::DAffine3)| {
        let corners = panel.outline.iter().map(|corner| pose.transform_point3(corner.extend(0.0)).to_array());
        json!({
            "name": derived.layout.panel(panel.id).name,
            "layer": folding.layer(panel.id),
            "flat": panel.outline.iter().map(|corner| corner.to_array()).collect::<Vec<_>>(),
            "corners": corners.collect::<Vec<_>>(),
        })
    };
    let overlap = |overlap: fold::Overlap| {
        let name = |panel| derived.layout.panel(panel).name.as_str();
        json!({ "lower": name(overlap.lower), "upper": name(overlap.upper), "mm2": overlap.area })
    };
    json!({
        "width": derived_length(size.x, unit),
        "height": derived_length(size.y, unit),
        "thickness": derived_length(size.z, unit),
        "steps": folding.steps(),
        "at": at,
        "panels": assembly.panels.iter().zip(&poses).map(place).collect::<Vec<_>>(),
        "overlaps": folding.overlaps().into_iter().map(overlap).collect::<Vec<_>>(),
        "thickness_areas": all.thickness_areas(),
        "gaps": all.gaps(),
        "gussets": all.gussets(),
        "rings": all.rings(),
        "faces": all.faces(at),
    })
}
