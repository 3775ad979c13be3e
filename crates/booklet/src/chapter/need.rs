//! What has to be at hand: paper, tools, and what to mind.

use super::{Told, counted};
use crate::block::Block;
use crate::voice::{Version, sheet_size};
use allot::Origin;
use model::part::{Closure, PartKind, Source};
use model::{Caliper, Document, Face, Grain, Length, Pattern, Stock};

pub(super) fn chapter(told: Told<'_>) -> Vec<Block> {
    let document = told.subject.document;
    let mut blocks = vec![
        Block::NewPage,
        Block::Heading(1, "What you need".to_owned()),
        Block::Heading(2, "Paper".to_owned()),
        Block::List(papers(told)),
        Block::Heading(2, "Tools".to_owned()),
        Block::List(tools(told)),
    ];
    let cautions = told.subject.making.cautions(document);
    if !cautions.is_empty() {
        blocks.push(Block::Heading(2, "Take care".to_owned()));
        blocks.extend(cautions.into_iter().map(|(_, caution)| Block::Caution(caution.sentence().to_owned())));
    }
    blocks
}

fn papers(told: Told<'_>) -> Vec<String> {
    let document = told.subject.document;
    let mut all = vec![format!("1 sheet of {}.", told.voice.say(|version| stock(&version.document.stock, version)))];
    for sheets in told.subject.supply.iter().flat_map(|supply| &supply.sheets) {
        let count = counted(sheets.sheets.len(), "further sheet");
        all.push(match sheets.stock.and_then(|id| document.further_stock(id)) {
            Some(further) => format!("{count} of {}.", told.voice.say(|version| stock(further, version))),
            None => format!("{count} of the folio's own paper, {}.", sheet_size(told.voice, sheets.size)),
        });
    }
    let supplies = told.subject.supply.iter().flat_map(|supply| &supply.supplies);
    for supply in supplies {
        let name = document.part_name(supply.part);
        match (&supply.from, document.part(supply.part).map(|part| &part.kind)) {
            (Origin::Bought, Some(PartKind::Closure(closure))) => {
                all.push(format!("{}: {}.", name, told.voice.say(|version| bought(*closure, version))));
            }
            (Origin::Bought, _) => all.push(format!("{name}, which is bought.")),
            (Origin::Missing(why), _) => all.push(format!("Paper for {name}. {why}")),
            _ => {}
        }
    }
    all
}

fn bought(closure: Closure, version: &Version<'_>) -> String {
    let unit = version.unit();
    format!(
        "{} of {} x {}, {} thick, which is bought",
        closure.kind.word().to_lowercase(),
        closure.width.readable(unit),
        closure.height.readable(unit),
        closure.thickness.readable(unit)
    )
}

/// "12 x 12 in, 80 lb cover (216.3 g/m2), 0.3 mm thick, its front printed with its up at the top edge".
fn stock(stock: &Stock, version: &Version<'_>) -> String {
    let unit = version.unit();
    let mut said = vec![stock.size.text(unit)];
    if !stock.name.is_empty() {
        said.insert(0, format!("\"{}\"", stock.name));
    }
    if let Some(weight) = stock.weight {
        let grams = format!("{:.0} g/m2", weight.grammage());
        said.push(if weight.to_string().ends_with("g/m2") {
            weight.to_string()
        } else {
            format!("{weight} ({grams})")
        });
    }
    match (stock.caliper, stock.thickness()) {
        (_, None) => {}
        (Caliper::FromBulk(_), Some(thick)) => said.push(format!("about {:.2} mm thick", thick.mm())),
        (_, Some(thick)) => said.push(format!("{} thick", thick.text(model::Unit::Millimetre))),
    }
    for face in [Face::Front, Face::Back] {
        match stock.side(face).pattern {
            Pattern::Plain => {}
            Pattern::AnyWay => said.push(format!("its {} printed", face.word())),
            Pattern::OneWay(up) => {
                said.push(format!("its {} printed with its up at the {} edge", face.word(), up.word()));
            }
        }
    }
    match stock.grain {
        Some(Grain::Upright) => said.push("its grain from top to bottom".to_owned()),
        Some(Grain::Level) => said.push("its grain from side to side".to_owned()),
        None => {}
    }
    said.join(", ")
}

fn tools(told: Told<'_>) -> Vec<String> {
    let document = told.subject.document;
    let mut all = vec!["A pencil, an eraser and a ruler.".to_owned()];
    let scores = document.lines.iter().any(|line| line.work.is_score());
    if scores && document.groove > Length::ZERO {
        all.push(format!(
            "A scoring board with a groove every {} and its blunt scoring tool; a ruler and an embossing tool or a bone \
             folder do as well.",
            told.voice.length(document.groove)
        ));
    } else if scores {
        all.push("A ruler and an embossing tool or a bone folder, to score with.".to_owned());
    }
    if document.lines.iter().any(|line| line.work.is_cut()) || !document.parts.is_empty() {
        all.push("A sharp knife, a metal safety ruler and a cutting mat; scissors for small cuts.".to_owned());
    }
    all.extend(further_tools(document));
    all
}

fn further_tools(document: &Document) -> Vec<String> {
    let is_glued = document.parts.iter().any(|part| {
        part.source != Source::Bought && !matches!(part.kind, PartKind::Insert(_)) || !part.also.is_empty()
    });
    let has = |which: fn(&PartKind) -> bool| document.parts.iter().any(|part| which(&part.kind));
    let mut all = Vec::new();
    if is_glued {
        all.push(
            "Paper glue that dries clear or double-sided tape, and something flat and heavy to press with.".to_owned(),
        );
    }
    if has(|kind| matches!(kind, PartKind::Closure(Closure { kind: model::part::ClosureKind::Brad, .. }))) {
        all.push("A needle or an awl, for holes.".to_owned());
    }
    all
}
