//! `foliowright describe`: all that follows from a design, as text or JSON.

use crate::arguments::DescribeTask;
use crate::lengths::{area, area_text, derived as derived_length, length, point};
use crate::{Outcome, fold_time, read};
use model::board::{closing_order, scoring_table};
use model::{Crease, Document, Layout, Length, Piece, Unit};
use serde_json::{Value, json};
use session::Derived;
use std::io::{self, Write};

pub(crate) fn run(task: &DescribeTask, out: &mut dyn Write) -> Outcome {
    let document = read(&task.file)?;
    let derived = Derived::of(&document);
    if task.json {
        let steps = derived.folded.as_ref().map_or(0, |(_, folding)| folding.steps());
        let at = task.at.as_deref().map(|at| fold_time(at, steps)).transpose()?;
        writeln!(out, "{:#}", described(&document, &derived, at))?;
    } else {
        write_text(&document, &derived, out)?;
    }
    Ok(())
}

fn described(document: &Document, derived: &Derived, at: Option<f64>) -> Value {
    let (layout, unit) = (&derived.layout, document.units);
    let stock = document.stock;
    let findings: Vec<Value> =
        derived.findings.iter().map(|finding| crate::check::finding(finding, document, derived)).collect();
    json!({
        "title": document.title,
        "credit": document.credit,
        "sheet": {
            "width": length(stock.size.width(), unit),
            "height": length(stock.size.height(), unit),
            "caliper": length(stock.caliper, unit),
        },
        "base": layout.base.map(|base| layout.panel(base).name.as_str()),
        "panels": panels(layout, unit),
        "folds": folds(document, layout),
        "pieces": layout.pieces.iter().map(|one| piece(one, layout, unit)).collect::<Vec<_>>(),
        "ledger": {
            "sheet": area(layout.ledger.sheet, unit),
            "folio": area(layout.ledger.folio, unit),
            "offcuts": area(layout.ledger.offcuts, unit),
        },
        "scoring": scoring(document, layout),
        "cuts": cuts(document, layout),
        "closing": closing(document, layout),
        "closed": closed(derived, unit, at),
        "findings": findings,
    })
}

fn panels(layout: &Layout, unit: Unit) -> Vec<Value> {
    let panel = |panel: &model::Panel| {
        let (width, height) = panel.extent();
        json!({
            "name": panel.name,
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
        "panels": piece.panels.iter().map(|&panel| layout.panel(panel).name.as_str()).collect::<Vec<_>>(),
        "area": area(piece.area, unit),
        "width": length(high.x - low.x, unit),
        "height": length(high.y - low.y, unit),
        "at": point(low, unit),
    })
}

fn scoring(document: &Document, layout: &Layout) -> Vec<Value> {
    let turn = |turn: model::board::TurnScores| {
        let score = |(across, ids): &(Length, Vec<model::LineId>)| {
            let lines: Vec<Value> =
                ids.iter().map(|&id| json!({ "id": id.0, "name": document.line_name(id) })).collect();
            json!({ "distance": length(*across, document.units), "lines": lines })
        };
        json!({ "turn": turn.turn.count(), "scores": turn.scores.iter().map(score).collect::<Vec<_>>() })
    };
    scoring_table(document, layout).into_iter().map(turn).collect()
}

fn cuts(document: &Document, layout: &Layout) -> Vec<Value> {
    let cut = |line: &model::Line| {
        let placed = layout.lines.get(&line.id)?.ok()?;
        let unit = document.units;
        Some(json!({
            "line": { "id": line.id.0, "name": document.line_name(line.id) },
            "turn": placed.turn.count(),
            "distance": length(placed.across, unit),
            "from": length(placed.from, unit),
            "to": length(placed.to, unit),
        }))
    };
    document.lines.iter().filter(|line| line.work.is_cut()).filter_map(cut).collect()
}

fn closing(document: &Document, layout: &Layout) -> Vec<Value> {
    let fold = |(id, crease): (model::LineId, Crease)| {
        json!({
            "line": { "id": id.0, "name": document.line_name(id) },
            "fold": crease.direction.word(),
            "angle": crease.angle.degrees(),
        })
    };
    let step = |step: model::board::StepFolds| json!({ "step": step.step + 1, "folds": step.folds.into_iter().map(fold).collect::<Vec<_>>() });
    closing_order(document, layout).into_iter().map(step).collect()
}

#[expect(clippy::cast_precision_loss, reason = "a count of steps")]
fn closed(derived: &Derived, unit: Unit, at: Option<f64>) -> Value {
    let Some((assembly, folding)) = &derived.folded else { return Value::Null };
    let size = folding.closed_size();
    let poses = folding.flat_pose(at.unwrap_or(folding.steps() as f64));
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
        "at": at.unwrap_or(folding.steps() as f64),
        "panels": assembly.panels.iter().zip(&poses).map(place).collect::<Vec<_>>(),
        "overlaps": folding.overlaps().into_iter().map(overlap).collect::<Vec<_>>(),
    })
}

fn write_text(document: &Document, derived: &Derived, out: &mut dyn Write) -> io::Result<()> {
    let (layout, unit) = (&derived.layout, document.units);
    writeln!(out, "{}", document.title)?;
    if !document.credit.is_empty() {
        writeln!(out, "{}", document.credit)?;
    }
    let size = document.stock.size.text(unit);
    match document.stock.caliper {
        Length::ZERO => writeln!(out, "\nSheet: {size}, thickness not known")?,
        caliper => writeln!(out, "\nSheet: {size}, {} thick", caliper.text(unit))?,
    }
    writeln!(out, "\nPanels")?;
    let folio = layout.folio().map(|piece| piece.id);
    for panel in layout.panels.iter().filter(|panel| Some(panel.piece) == folio) {
        let (width, height) = panel.extent();
        writeln!(out, "  {}: {} x {}", panel.name, width.readable(unit), height.readable(unit))?;
    }
    writeln!(out, "\nOffcuts")?;
    for piece in layout.offcuts() {
        let (low, high) = piece.bounds;
        let size = format!("{} x {}", (high.x - low.x).readable(unit), (high.y - low.y).readable(unit));
        writeln!(out, "  {}: {size}, {}", piece.name, area_text(piece.area, unit))?;
    }
    writeln!(out, "\nScore, from the left edge")?;
    for turn in scoring_table(document, layout) {
        let scores: Vec<String> = turn.scores.iter().map(|(across, _)| across.readable(unit)).collect();
        writeln!(out, "  {}: {}", turn.turn.words(), scores.join(", "))?;
    }
    writeln!(out, "\nCut")?;
    for line in document.lines.iter().filter(|line| line.work.is_cut()) {
        if let Some(Ok(placed)) = layout.lines.get(&line.id) {
            let (across, from, to) = (placed.across, placed.from, placed.to);
            let [across, from, to] = [across, from, to].map(|at| at.readable(unit));
            let (name, lies) = (document.line_name(line.id), placed.turn.words());
            writeln!(out, "  {name}: {lies}, {across} from the left edge, from {from} to {to} below the upper edge")?;
        }
    }
    writeln!(out, "\nFold in this order")?;
    for step in closing_order(document, layout) {
        writeln!(out, "  {}. {}", step.step + 1, step.words(document))?;
    }
    let ledger = layout.ledger;
    let [sheet, kept, off] = [ledger.sheet, ledger.folio, ledger.offcuts].map(|one| area_text(one, unit));
    writeln!(out, "\nPaper: {sheet}, of which {kept} are the folio and {off} come off")?;
    if let Some((_, folding)) = &derived.folded {
        let text = |mm: f64| Length::from_mm_rounded(mm).map_or_else(String::new, |length| length.readable(unit));
        let size = folding.closed_size();
        let thick = match document.stock.caliper {
            Length::ZERO => "without the paper's thickness".to_owned(),
            _ => format!("{} thick", text(size.z)),
        };
        writeln!(out, "Closed: {} x {}, {thick}", text(size.x), text(size.y))?;
    }
    Ok(())
}
