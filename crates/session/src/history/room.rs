//! About how many bytes an edit takes besides those of its own: what its lists and texts hold. Only that it grows with
//! them counts, not what an allocator adds.

use model::part::{Own, Part, PartKind};
use model::{Corner, Edit, Line, LineId, NamedLengths, Silence, Step, Stock};

/// About how many bytes an edit takes besides `size_of::<Edit>()`.
pub(super) fn room(edit: &Edit) -> usize {
    match edit {
        Edit::SetTitle(text) | Edit::SetCredit(text) => text.len(),
        Edit::SetLengths(lengths) => of_lengths(lengths),
        Edit::SetStock(stock) => of_stock(stock),
        Edit::SetFurtherStocks(stocks) => list(stocks, |further| of_stock(&further.stock)),
        Edit::InsertLine { line, .. } | Edit::ReplaceLine(line) => of_line(line),
        Edit::SetSteps(steps) => list(steps, of_step),
        Edit::SetCorners(corners) => flat(corners),
        Edit::SetParts(parts) => list(parts, of_part),
        Edit::SetMaking(jobs) => flat(jobs),
        Edit::SetOffcuts(numbered) => flat(numbered),
        Edit::SetSilences(silences) => list(silences, of_silence),
        Edit::SetPanelNames(names) => list(names, |named| named.name.len()),
        Edit::All(edits) => list(edits, room),
        Edit::SetUnits(_) | Edit::SetGroove(_) | Edit::SetCutting(_) | Edit::RemoveLine(_) | Edit::SetBase(_) => 0,
    }
}

fn flat<T>(all: &[T]) -> usize {
    size_of_val(all)
}

fn list<T>(all: &[T], of: impl Fn(&T) -> usize) -> usize {
    flat(all) + all.iter().map(of).sum::<usize>()
}

fn of_lengths(lengths: &NamedLengths) -> usize {
    /// About what a formula takes beside its slot.
    const FORMULA: usize = 200;
    let named = list(&lengths.list, |named| named.name.len() + named.about.len() + FORMULA);
    named + lengths.formulas.len() * FORMULA
}

fn of_line(line: &Line) -> usize {
    line.name.len()
}

fn of_stock(stock: &Stock) -> usize {
    let sides = [&stock.front, &stock.back];
    stock.name.len() + sides.iter().filter_map(|side| side.artwork.as_ref()).map(|art| art.file.len()).sum::<usize>()
}

fn of_step(step: &Step) -> usize {
    flat(&step.lines) + flat(&step.parts) + flat(&step.tucks)
}

fn of_part(part: &Part) -> usize {
    let kind = match &part.kind {
        PartKind::Own(own) => of_own(own),
        _ => 0,
    };
    part.name.len() + flat(&part.also) + kind
}

fn of_own(own: &Own) -> usize {
    let folded = list(&own.folded, |lines: &Vec<LineId>| flat(lines));
    list(&own.lines, of_line) + flat::<Corner>(&own.corners) + folded
}

fn of_silence(silence: &Silence) -> usize {
    size_of_val(silence) + silence.reason.len() + silence.rule.len()
}
