//! How parts are cut from offcuts and further sheets: each of them in small, with its cuts numbered in the order in which
//! they are made, and said.

use super::flow::Flow;
use super::parts::paper_name;
use super::steps::badge;
use super::{Design, Page};
use crate::list::{Node, Role, Shape, Stroke};
use crate::sheet::add_polygon;
use crate::style::{Colour, FOLD_WIDTH, NOTE, OFFCUT, stroke_for};
use crate::supply::{EVERYWHERE, pattern_nodes};
use crate::text::{Face, TextRun};
use allot::{Allotment, CutStep, Cutout, Origin};
use kurbo::{Affine, BezPath, Point, Rect, Size};
use model::polygon::bounds;
use model::{PartId, PartLayout, Point as SheetPoint};

/// How high a picture of an offcut or a sheet is at most, mm.
const PICTURE: f64 = 70.0;

/// How far along its cut a number stands, as a share: clear of the names in the middle.
const BADGE: f64 = 0.1;

/// The pages of the cutting plan; none for a design without parts.
pub(super) fn pages(design: &Design<'_>, page: Size) -> Vec<Page> {
    let Some(furnishing) = design.furnishing else { return Vec::new() };
    let supply = furnishing.supply;
    let mut flow = Flow::new(page);
    flow.heading("Which part is cut from what");
    flow.paragraph(
        "Make the cuts in the order of their numbers, each from edge to edge of the piece that it is said to be in. The \
         pictures are small; the parts themselves are on the pages before.",
    );
    flow.beside(|_| 0.0);
    offcuts(&mut flow, design, supply);
    sheets(&mut flow, design, supply);
    without_paper(&mut flow, design, supply);
    flow.into_notes(&design.document.title, "cutting plan")
}

fn offcuts(flow: &mut Flow, design: &Design<'_>, supply: &Allotment) {
    for offcut in supply.offcuts.iter().filter(|offcut| !offcut.parts.is_empty()) {
        let Some(piece) = design.layout.pieces.iter().find(|piece| piece.id == offcut.piece) else { continue };
        let outlines = || piece.panels.iter().map(|&id| &design.layout.panel(id).outline);
        let corners: Vec<SheetPoint> = outlines().flatten().copied().collect();
        let (low, high) = bounds(&corners);
        flow.picture(&offcut.name, extent(low, high), PICTURE, |place| {
            let at = into(place, low, high);
            let mut nodes: Vec<Node> = outlines().flat_map(|outline| area(outline, at, OFFCUT)).collect();
            nodes.extend(parts(design, supply, &offcut.parts, at));
            nodes.extend(numbered(&offcut.cuts, at));
            nodes
        });
        say(flow, &offcut.cuts);
    }
}

fn sheets(flow: &mut Flow, design: &Design<'_>, supply: &Allotment) {
    for paper in &supply.sheets {
        let of = paper.sheets.len();
        for sheet in &paper.sheets {
            let name = paper_name(design.document, paper.stock);
            let size = paper.size.text(design.document.units);
            let heading = format!("Sheet {} of {of} of {name}, {size}", sheet.number);
            let (low, high) = bounds(&paper.size.corners());
            flow.picture(&heading, extent(low, high), PICTURE, |place| {
                let at = into(place, low, high);
                let mut nodes = area(&paper.size.corners(), at, OFFCUT);
                nodes.extend(parts(design, supply, &sheet.parts, at));
                nodes.extend(numbered(&sheet.cuts, at));
                nodes
            });
            say(flow, &sheet.cuts);
        }
    }
}

/// Parts that are bought, or for which there is no paper.
fn without_paper(flow: &mut Flow, design: &Design<'_>, supply: &Allotment) {
    let said = |supply: &allot::Supply| {
        let name = design.document.part_name(supply.part);
        match &supply.from {
            Origin::Bought => Some(format!("{name} is bought.")),
            Origin::Missing(why) => Some(format!("{name} has no paper yet: {why}")),
            Origin::Offcut { .. } | Origin::Sheet { .. } => None,
        }
    };
    let said: Vec<String> = supply.supplies.iter().filter_map(said).collect();
    if !said.is_empty() {
        flow.heading("What is cut from none of them");
        for sentence in &said {
            flow.paragraph(sentence);
        }
    }
}

fn say(flow: &mut Flow, cuts: &[CutStep]) {
    flow.space(1.5);
    for (number, cut) in (1..).zip(cuts) {
        flow.paragraph(&format!("{number}. {}", cut.sentence));
    }
}

fn extent(low: SheetPoint, high: SheetPoint) -> Size {
    Size::new((high.x - low.x).mm(), (high.y - low.y).mm())
}

/// From the paper to where it is pictured.
fn into(place: Rect, low: SheetPoint, high: SheetPoint) -> Affine {
    let scale = place.width() / extent(low, high).width.max(f64::MIN_POSITIVE);
    Affine::translate(place.origin().to_vec2()) * Affine::scale(scale) * Affine::translate((-low.x.mm(), -low.y.mm()))
}

/// Paper of this colour with its edge. All of a plan is a note: at its size it is no line to score or cut along.
fn area(outline: &[SheetPoint], at: Affine, colour: Colour) -> Vec<Node> {
    let mut path = BezPath::new();
    add_polygon(&mut path, outline.iter().map(|point| at * Point::from(point.mm())));
    let edge = Shape::Line { path: path.clone(), stroke: stroke_for(Role::Outline) };
    [Shape::Fill { path, colour }, edge].map(note).into()
}

fn note(shape: Shape) -> Node {
    Node::Item { role: Role::Note, shape }
}

fn parts(design: &Design<'_>, supply: &Allotment, parts: &[PartId], at: Affine) -> Vec<Node> {
    let found = |id: &PartId| {
        let cutout = match &supply.supply(*id)?.from {
            Origin::Offcut { cutout, .. } | Origin::Sheet { cutout, .. } => cutout,
            Origin::Bought | Origin::Missing(_) => return None,
        };
        Some(part(design.layout.part(*id)?, cutout, at))
    };
    parts.iter().filter_map(found).flatten().collect()
}

/// A part where it is cut from: its paper and its edge, without its scores.
fn part(part: &PartLayout, cutout: &Cutout, at: Affine) -> Vec<Node> {
    let kept = |node| match node {
        Node::Item { role: Role::Cut, shape: Shape::Line { path, .. } } => {
            Some(note(Shape::Line { path, stroke: stroke_for(Role::Outline) }))
        }
        Node::Item { shape: Shape::Line { .. }, .. } => None,
        Node::Item { shape, .. } => Some(note(shape)),
        other => Some(other),
    };
    let nodes = pattern_nodes(part, |point| at * Point::from(cutout.on_paper(point).mm()), EVERYWHERE);
    nodes.into_iter().filter_map(kept).collect()
}

/// The cuts that are lines, each with its number.
fn numbered(cuts: &[CutStep], at: Affine) -> Vec<Node> {
    let mut nodes = Vec::new();
    let lines = (1..).zip(cuts).filter_map(|(number, cut): (usize, _)| Some((number, cut.line?)));
    for (number, line) in lines {
        let [from, to] = [line.from, line.to].map(|point| at * Point::from(point.mm()));
        let mut path = BezPath::new();
        path.move_to(from);
        path.line_to(to);
        let stroke = Stroke { width: FOLD_WIDTH, colour: NOTE, dashes: Vec::new(), dash_start: 0.0 };
        nodes.push(note(Shape::Line { path, stroke }));
        let run = TextRun::new(&number.to_string(), Face::Bold, 2.4, NOTE).centred_on(from.lerp(to, BADGE));
        nodes.extend(badge(run, Role::Note));
    }
    nodes
}
