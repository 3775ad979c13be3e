//! What is said of parts: where they lie, where their paper comes from, what is wrong with them.

use allot::Origin;
use model::part::{Edges, Pocket, Source};
use model::words::listed;
use model::{Document, Layout, PanelRef, Part, PartId, PartKind, PieceId, Refusal, SheetEdge};
use session::Derived;

/// What a panel of the sheet or of a part is called.
pub(crate) fn panel_name(document: &Document, layout: &Layout, on: PanelRef) -> String {
    match (layout.panel_of(on), on) {
        (Some(panel), _) => layout.panel(panel).name.clone(),
        (None, PanelRef::Part(id, _)) => document.part_name(id),
        (None, PanelRef::Sheet(_)) => "no panel".to_owned(),
    }
}

/// "On the front of Base."
pub(crate) fn where_it_lies(document: &Document, layout: &Layout, part: &Part) -> String {
    if !part.kind.is_on_a_panel() {
        return "Round the closed folio.".to_owned();
    }
    format!("On the {} of {}.", part.place.face.word(), panel_name(document, layout, part.place.on))
}

/// Its kind and the size of its own little sheet.
pub(crate) fn size(document: &Document, layout: &Layout, id: PartId) -> String {
    layout.part(id).map(|part| part.size_text(document.units)).unwrap_or_default()
}

/// Where the paper of a part comes from, by the plan; the error says why there is none.
pub(crate) fn supply(document: &Document, derived: &Derived, part: &Part) -> Result<String, String> {
    let planned = derived.supply.as_ref().and_then(|supply| supply.supply(part.id));
    match planned.map(|supply| &supply.from) {
        Some(Origin::Offcut { name, whole: true, .. }) => Ok(format!("{name} as it is")),
        Some(Origin::Offcut { name, .. }) => Ok(format!("from {name}")),
        Some(Origin::Sheet { stock: None, sheet, .. }) => Ok(format!("from further sheet {sheet}")),
        Some(Origin::Sheet { stock: Some(id), sheet, .. }) => {
            Ok(format!("from {}, sheet {sheet}", stock_name(document, *id)))
        }
        Some(Origin::Bought) => Ok("bought".to_owned()),
        Some(Origin::Missing(why)) => Err(why.to_string()),
        None => Ok(source(document, &derived.layout, part.source)),
    }
}

/// What a choice of paper is called.
pub(crate) fn source(document: &Document, layout: &Layout, source: Source) -> String {
    let offcut = |mark| {
        let piece = layout.panel_at(mark).map(|panel| layout.panel(panel).piece);
        piece.and_then(|piece| layout.pieces.get(piece.0)).map_or("an offcut that is gone", |piece| piece.name.as_str())
    };
    match source {
        Source::AnyOffcut => "any offcut it fits into".to_owned(),
        Source::Offcut(mark) => format!("cut from {}", offcut(mark)),
        Source::Whole(mark) => format!("{} as it is", offcut(mark)),
        Source::FolioStock => "a further sheet".to_owned(),
        Source::Stock(id) => format!("a sheet of {}", stock_name(document, id)),
        Source::Bought => "bought".to_owned(),
    }
}

/// The offcut that a source names, where there is one.
pub(crate) fn piece_of(layout: &Layout, source: Source) -> Option<PieceId> {
    source.mark().and_then(|mark| layout.panel_at(mark)).map(|panel| layout.panel(panel).piece)
}

fn stock_name(document: &Document, id: model::StockId) -> String {
    let name = document.further_stock(id).map_or("", |stock| stock.name.as_str());
    if name.is_empty() { format!("paper {}", id.0) } else { name.to_owned() }
}

/// What is wrong with a part, in sentences: why it has no place, or can't be put together with the rest.
pub(crate) fn faults(document: &Document, derived: &Derived, id: PartId) -> Vec<String> {
    let name = document.part_name(id);
    let fault = derived.layout.part_faults.get(&id);
    let mut faults: Vec<String> =
        fault.map(|fault| format!("{name} {}.", fault.phrase(document))).into_iter().collect();
    let left_out = derived.folded.as_ref().is_some_and(|(assembly, _)| assembly.left_out.contains_key(&id));
    if left_out {
        let own = |finding: &&check::Finding| {
            finding.rule == "misplaced-part" && finding.sentence.starts_with(&format!("\"{name}\" "))
        };
        let said = derived.findings.iter().find(own).map(|finding| format!("{} {}", finding.sentence, finding.mend));
        faults.push(said.unwrap_or_else(|| format!("{name} can't be put together with what it lies on.")));
    }
    faults
}

/// Where something goes into a pocket: "Its mouth is at the top."
pub(crate) fn mouth(pocket: &Pocket) -> String {
    let open: Vec<String> = pocket.glued.others().map(|edge| edge.word().to_owned()).collect();
    match open.len() {
        0 => "Glued all round: nothing goes in.".to_owned(),
        4 => "Glued nowhere: nothing holds it.".to_owned(),
        _ => format!("Open at the {}.", listed(open)),
    }
}

/// What an edge is called on a button.
pub(crate) const fn edge_name(edge: SheetEdge) -> &'static str {
    match edge {
        SheetEdge::Top => "Top",
        SheetEdge::Right => "Right",
        SheetEdge::Bottom => "Bottom",
        SheetEdge::Left => "Left",
    }
}

/// "Pocket, glued at the right, bottom and left".
pub(crate) fn kind_words(kind: &PartKind) -> String {
    let listed = |edges: Edges| listed(edges.iter().map(|edge| edge.word().to_owned()));
    match kind {
        PartKind::Pocket(pocket) if pocket.glued != Edges::NONE => {
            format!("{}, glued at the {}", kind.word(), listed(pocket.glued))
        }
        _ => kind.word().to_owned(),
    }
}

/// Why a line of a part can't be worked so: "on Own shape 2, \"Score 1\" lies …", since the folio may have one of that name.
pub(crate) fn on_part(part: &str, refusal: &Refusal) -> String {
    format!("on {part}, {refusal}")
}

#[cfg(test)]
mod tests {
    use super::*;
    use model::Length;

    #[test]
    fn a_mouth_is_named_by_the_edges_that_are_open() {
        use SheetEdge::{Bottom, Left, Right, Top};
        let check = |glued: &[SheetEdge], expected: &str| {
            let (width, height, strip) = (Length::INCH * 4, Length::INCH * 3, Length::EIGHTH);
            let (rim, gusset) = (Length::ZERO, Length::ZERO);
            assert_eq!(mouth(&Pocket { width, height, glued: Edges::of(glued), strip, rim, gusset }), expected);
        };
        check(&[Left, Bottom, Right], "Open at the top.");
        check(&[Left, Bottom], "Open at the top and right.");
        check(&SheetEdge::ALL, "Glued all round: nothing goes in.");
        check(&[], "Glued nowhere: nothing holds it.");
        assert_eq!(edge_name(Top), "Top");
    }
}
