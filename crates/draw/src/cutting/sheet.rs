//! The sheets as they lie: the folio with its offcuts and the parts that are cut from these, and each further sheet.

use super::covered::Covered;
use super::edge::{AtCorners, Edge, runs};
use super::figure::{Figure, Flat};
use super::job::{Bench, Job};
use super::{Contour, CuttingSheet, Pass, Track, mark};
use allot::{Cutout, Origin, SheetCutting, SheetUse};
use model::{PartLayout, Point, Size, Work};
use std::collections::BTreeSet;

/// The folio's sheet, then further ones.
pub(super) fn sheets(job: &Job<'_>) -> Vec<CuttingSheet> {
    let mut out = own(job);
    for used in job.supply.iter().flat_map(|supply| &supply.sheets) {
        for sheet in &used.sheets {
            let number = out.iter().map(|sheet| sheet.number).max().unwrap_or(0) + 1;
            out.extend(further(job, used, sheet, number));
        }
    }
    out
}

fn own(job: &Job<'_>) -> Vec<CuttingSheet> {
    let layout = job.layout;
    let flat = Flat::of(job.document, layout);
    let mut covered = Covered::default();
    for stretch in layout.stretches.iter().filter(|stretch| stretch.work.is_none_or(Work::is_cut)) {
        let model::Segment { a, b } = stretch.segment;
        covered.add(Edge { a, b, line: None, circle: None });
    }
    let supplies = job.supply.iter().flat_map(|supply| &supply.supplies);
    let mut parts = Vec::new();
    let mut used = BTreeSet::new();
    for supply in supplies {
        if let (Origin::Offcut { piece, cutout, .. }, Some(part)) = (&supply.from, layout.part(supply.part)) {
            used.insert(*piece);
            parts.extend(laid(part, cutout));
        }
    }
    let pieces = layout.pieces.iter().map(|piece| {
        let figure = flat.figure(piece, piece.name.to_lowercase().replace(' ', "-"), piece.name.clone());
        // The scores of a part hold where one is cut from; what crossed the offcut would only spoil it.
        if used.contains(&piece.id) { figure.unscored() } else { figure }
    });
    let pieces: Vec<Figure> = pieces.collect();
    let mut bench = Bench::new(job.options);
    if job.options.marks {
        bench.mark(mark::guides(job.document, layout));
        let named = layout.pieces.iter().zip(&pieces).filter(|(piece, _)| !used.contains(&piece.id));
        bench.mark(named.filter_map(|(_, figure)| mark::name(figure)));
    }
    let edge: Vec<Edge> = pieces.iter().flat_map(|figure| figure.edges()).collect();
    lay(job, &mut bench, parts, covered);
    let mut done = BTreeSet::new();
    for figure in by_size(pieces) {
        bench.add(&figure, &mut done);
    }
    if job.options.outline {
        bench.outline(&edge);
    }
    bench.sheets("The sheet".to_owned(), 1, layout.size)
}

/// Parts on the sheet that they are cut from: each stretch once that is not cut already.
fn lay(job: &Job<'_>, bench: &mut Bench, parts: Vec<Figure>, mut covered: Covered) {
    let mut done = BTreeSet::new();
    for figure in by_size(parts) {
        let figure = figure.cut_all_round().bordered(|edge| covered.left_of(edge));
        figure.border().for_each(|edge| covered.add(edge));
        if job.options.marks {
            bench.mark(mark::name(&figure));
        }
        bench.add(&figure, &mut done);
    }
}

fn further(job: &Job<'_>, used: &SheetUse, sheet: &SheetCutting, number: usize) -> Vec<CuttingSheet> {
    let mut covered = Covered::default();
    let edge = rectangle(used.size);
    edge.iter().for_each(|&edge| covered.add(edge));
    let mut parts = Vec::new();
    for supply in job.supply.iter().flat_map(|supply| &supply.supplies) {
        let (Origin::Sheet { stock, sheet: on, cutout }, Some(part)) = (&supply.from, job.layout.part(supply.part))
        else {
            continue;
        };
        if *stock == used.stock && *on == sheet.number {
            parts.extend(laid(part, cutout));
        }
    }
    let mut bench = Bench::new(job.options);
    lay(job, &mut bench, parts, covered);
    if job.options.outline {
        bench.outline(&edge);
    }
    let name = match (used.stock, used.name.as_str()) {
        (None, _) => format!("Further sheet {}", sheet.number),
        (Some(id), "") => format!("Sheet {} of paper {}", sheet.number, id.0),
        (Some(_), name) => format!("Sheet {} of \"{name}\"", sheet.number),
    };
    bench.sheets(name, number, used.size)
}

/// A part where it is cut from.
fn laid(part: &PartLayout, cutout: &Cutout) -> Option<Figure> {
    figure_of(part).map(|figure| figure.moved(&|point| cutout.on_paper(point)))
}

/// A part on its own little sheet.
pub(super) fn figure_of(part: &PartLayout) -> Option<Figure> {
    let flat = Flat::of(&part.pattern.document, &part.sheet);
    let piece = part.sheet.folio()?;
    Some(flat.figure(piece, format!("part-{}", part.id.0), part.name.clone()))
}

/// Small ones first, and so what lies within others before these: while a sheet is whole it lies still.
fn by_size(mut figures: Vec<Figure>) -> Vec<Figure> {
    figures.sort_by_cached_key(|figure| {
        let (low, high) = figure.bounds();
        let (width, height) = (high.x - low.x, high.y - low.y);
        i128::from(width.nm()) * i128::from(height.nm())
    });
    figures
}

fn rectangle(size: Size) -> [Edge; 4] {
    let corners: [Point; 4] = size.corners();
    [0, 1, 2, 3].map(|i| Edge { a: corners[i], b: corners[(i + 1) % 4], line: None, circle: None })
}

impl Bench {
    /// The edge of a sheet that is cut from larger paper: last of all.
    fn outline(&mut self, edges: &[Edge]) {
        let tracks = runs(edges, AtCorners::Turn).into_iter().filter_map(|run| Track::of(&run));
        self.put(Pass::Outline, tracks.map(Contour::of));
    }
}
