//! Every piece and every part by itself, side by side, each cut all round.

use super::figure::{Figure, Flat};
use super::job::{Bench, Job};
use super::sheet::figure_of;
use super::{CuttingSheet, mark};
use model::part::Source;
use model::{Length, Part, PartLayout, Point, Size, Stock, StockId, Vector};
use std::collections::BTreeSet;

/// Paper between two pieces and round them all, 5 mm: room for a blade to turn (common practice, no source).
const ROOM: Length = Length::from_nm(5_000_000);

/// A sheet for every paper: the folio's own with the folio, the offcuts that no part is cut from and the parts, then
/// others with their parts.
pub(super) fn sheets(job: &Job<'_>) -> Vec<CuttingSheet> {
    let flat = Flat::of(job.document, job.layout);
    let used = |piece: &model::Piece| {
        job.supply.and_then(|supply| supply.offcut(piece.id)).is_some_and(|offcut| !offcut.parts.is_empty())
    };
    let pieces = job.layout.pieces.iter().filter(|piece| !used(piece));
    let mut own: Vec<Figure> = pieces
        .map(|piece| flat.figure(piece, piece.name.to_lowercase().replace(' ', "-"), piece.name.clone()))
        .collect();
    own.extend(parts(job, None));
    let mut out = page(job, own, &job.document.stock, "Pieces".to_owned(), 1);
    for further in &job.document.further_stocks {
        let figures = parts(job, Some(further.id));
        if figures.is_empty() {
            continue;
        }
        let number = out.iter().map(|sheet| sheet.number).max().unwrap_or(0) + 1;
        let name = match further.stock.name.as_str() {
            "" => format!("Pieces of paper {}", further.id.0),
            name => format!("Pieces of \"{name}\""),
        };
        out.extend(page(job, figures, &further.stock, name, number));
    }
    out
}

/// The parts that are cut from this paper, the folio's own when no other is named.
fn parts(job: &Job<'_>, stock: Option<StockId>) -> Vec<Figure> {
    let paper = |part: &Part| match part.source {
        Source::Stock(id) => Some(Some(id)),
        Source::Bought => None,
        _ => Some(None),
    };
    let mine: BTreeSet<_> =
        job.document.parts.iter().filter(|part| paper(part) == Some(stock)).map(|part| part.id).collect();
    let laid = |part: &&PartLayout| mine.contains(&part.id);
    job.layout.parts.iter().filter(laid).filter_map(figure_of).collect()
}

/// In rows from left to right, no wider than a sheet of the paper unless a piece is.
fn page(job: &Job<'_>, figures: Vec<Figure>, stock: &Stock, name: String, number: usize) -> Vec<CuttingSheet> {
    let widest = figures.iter().map(|figure| extent(figure).x).max().unwrap_or_default();
    let limit = stock.size.width().max(widest + ROOM + ROOM);
    let (mut x, mut y, mut row) = (ROOM, ROOM, Length::ZERO);
    let (mut wide, mut benches) = (Length::ZERO, Vec::new());
    for figure in figures {
        let Vector { x: width, y: height } = extent(&figure);
        if x > ROOM && x + width + ROOM > limit {
            (x, y, row) = (ROOM, y + row + ROOM, Length::ZERO);
        }
        let (low, _) = figure.bounds();
        let by = Point::new(x, y) - low;
        let figure = figure.moved(&|point| point + by).cut_all_round();
        let mut bench = Bench::new(job.options);
        if job.options.marks {
            bench.mark(mark::name(&figure));
        }
        bench.add(&figure, &mut BTreeSet::new());
        benches.push((figure, bench));
        x = x + width + ROOM;
        (wide, row) = (wide.max(x), row.max(height));
    }
    // More than the largest sheet is refused where it is written.
    let high = y + row + ROOM;
    Bench::side_by_side(benches, name, number, (wide, high))
}

fn extent(figure: &Figure) -> Vector {
    let (low, high) = figure.bounds();
    high - low
}

/// A size in mm, which may be more than a sheet's.
pub(super) fn in_mm((width, height): (Length, Length)) -> kurbo::Size {
    kurbo::Size::new(width.mm(), height.mm())
}

/// The same of a sheet.
pub(super) fn of_sheet(size: Size) -> kurbo::Size {
    in_mm((size.width(), size.height()))
}
