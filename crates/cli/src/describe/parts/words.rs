//! A part in words: what it is, where it lies, how it is glued.

use super::{borders, glued};
use crate::describe::Told;
use model::part::laid::{Laid, LaidGlue};
use model::part::{ClosureKind, Edges, GlueArea, Part, PartKind, PartLayout, Rotation};
use model::words::listed;
use model::{Face, Length, SheetEdge};

/// "Left hinge: hinge, length 5 in, glued leaf 3/4 in, free leaf 1 in".
pub(super) fn part(told: &Told<'_>, part: &Part) -> String {
    let unit = told.document.units;
    let mut said = vec![part.kind.word().to_lowercase()];
    match &part.kind {
        PartKind::TuckCorner(tuck) => said[0] = format!("{} tuck corner", tuck.corner.words()),
        PartKind::Page(page) => said.push(format!("hinged at the {}", page.hinged.word())),
        PartKind::Flap(flap) => said.push(format!("its leaf at the {}", flap.edge.word())),
        _ => {}
    }
    let measures = part.kind.measures().into_iter().filter(|(_, length)| *length != Length::ZERO);
    said.extend(measures.map(|(name, length)| format!("{name} {}", length.readable(unit))));
    if let PartKind::Insert(insert) = &part.kind {
        said.extend(insert.caliper.map(|caliper| format!("{} thick", caliper.text(unit))));
    }
    format!("{}: {}", told.document.part_name(part.id), said.join(", "))
}

/// Where it lies and how it is glued, line by line; or why it has no place.
pub(super) fn details(told: &Told<'_>, part: &Part) -> Vec<String> {
    let Some(own) = told.layout.part(part.id) else {
        let fault = told.layout.part_faults.get(&part.id);
        return fault.map(|fault| format!("it {}", fault.phrase(told.document))).into_iter().collect();
    };
    match (&part.kind, &own.laid) {
        (PartKind::Band(band), _) => {
            let way = if band.is_upright { "from top to bottom" } else { "from side to side" };
            vec![format!("round the closed folio {way}, its ends glued to one another")]
        }
        (_, None) => Vec::new(),
        (_, Some(laid)) => std::iter::once(place(told, part, own, laid)).chain(glue(told, part, own)).collect(),
    }
}

/// "on the front of Base, 1/4 in from its left border, 1/2 in from its top, …, turned 90° clockwise, its back seen".
fn place(told: &Told<'_>, part: &Part, own: &PartLayout, laid: &Laid) -> String {
    let distance = |(distance, border): (Length, &str)| match distance {
        within if within >= Length::ZERO => format!("{} from its {border}", within.readable(told.document.units)),
        beyond => format!("{} beyond its {border}", (-beyond).readable(told.document.units)),
    };
    let distances = borders(told, own.main, laid).into_iter().zip(["left border", "top", "right", "bottom"]);
    let mut said = vec![
        format!("on the {} of {}", laid.face.word(), told.layout.panel(laid.on).name),
        listed(distances.map(distance)),
    ];
    if part.place.rotation != Rotation::NONE {
        said.push(format!("turned {}° clockwise", part.place.rotation));
    }
    if part.place.showing == Face::Back {
        said.push("its back seen".to_owned());
    }
    said.join(", ")
}

fn glue(told: &Told<'_>, part: &Part, own: &PartLayout) -> Vec<String> {
    let of_kind = own.pattern.glue.len();
    let is_brad = matches!(&part.kind, PartKind::Closure(closure) if closure.kind == ClosureKind::Brad);
    if is_brad {
        let further = glued(part, own).skip(of_kind).map(|glue| gluing(told, own, glue));
        let through = "set through it, its legs spread behind".to_owned();
        return std::iter::once(through).chain(further).collect();
    }
    let all: Vec<String> = glued(part, own).map(|glue| gluing(told, own, glue)).collect();
    if all.is_empty() { vec!["not glued".to_owned()] } else { all }
}

/// "glued by its back to Base, along its own left and bottom edges, 1/4 in wide".
fn gluing(told: &Told<'_>, own: &PartLayout, (area, glue): (GlueArea, &LaidGlue)) -> String {
    let [panel, to] = glue.panels.map(|panel| told.layout.panel(panel).name.as_str());
    let leaf = panel.strip_prefix(own.name.as_str()).and_then(|rest| rest.strip_prefix(", "));
    let by = match leaf {
        Some(leaf) => format!("the {} of its {leaf}", glue.face.word()),
        None => format!("its {}", glue.face.word()),
    };
    let place = match area {
        GlueArea::Whole => "all over".to_owned(),
        GlueArea::Strips(edges, strip) => {
            format!("along its own {}, {} wide", edge_words(edges), strip.readable(told.document.units))
        }
        GlueArea::None => String::new(),
    };
    format!("glued by {by} to {to}, {place}")
}

fn edge_words(edges: Edges) -> String {
    let words = listed(edges.iter().map(|edge: SheetEdge| edge.word().to_owned()));
    if edges.iter().count() == 1 { format!("{words} edge") } else { format!("{words} edges") }
}
