//! The parts: what each is, where it is cut from, how it folds, where its glue goes and where it is put.

use super::{Told, capital, counted, said, titled};
use crate::block::{Block, Figure};
use crate::picture::{pattern, source};
use crate::style::{BESIDE, BESIDE_HIGH};
use crate::voice::{Version, size_text};
use allot::{Origin, Supply};
use kurbo::Size;
use model::board::scoring_table;
use model::cutting::cut_list;
use model::part::laid::{Laid, LaidGlue};
use model::part::{Edges, GlueArea, Part, PartKind, PartLayout, Rotation, Source};
use model::polygon::bounds;
use model::words::listed;
use model::{Face, Fold, Layout, Length};

const ROOM: Size = Size::new(BESIDE, BESIDE_HIGH);

pub(super) fn chapter(told: Told<'_>) -> Vec<Block> {
    let document = told.subject.document;
    let mut blocks = papers(told);
    blocks.extend(document.parts.iter().flat_map(|part| one(told, part)));
    if blocks.is_empty() {
        return blocks;
    }
    let first = said(format!(
        "There {} {}. Hatching is glue; it is shown as if the paper could be seen through.",
        if document.parts.len() == 1 { "is" } else { "are" },
        counted(document.parts.len(), "part")
    ));
    titled("The parts", std::iter::once(first).chain(blocks).collect())
}

/// How offcuts and further sheets are cut up.
fn papers(told: Told<'_>) -> Vec<Block> {
    let Some(supply) = told.subject.supply else { return Vec::new() };
    let mut blocks = Vec::new();
    for (i, offcut) in supply.offcuts.iter().enumerate().filter(|(_, offcut)| !offcut.parts.is_empty()) {
        let cuts = told.voice.say_all(|version| sentences(version, |plan| plan.offcuts.get(i).map(|one| &one.cuts)));
        if !cuts.is_empty() {
            blocks.push(Block::Heading(2, format!("Cutting {}", offcut.name)));
            blocks.push(Block::List(cuts));
        }
    }
    for (i, sheets) in supply.sheets.iter().enumerate() {
        for (k, sheet) in sheets.sheets.iter().enumerate() {
            let cuts = told
                .voice
                .say_all(|version| sentences(version, |plan| plan.sheets.get(i)?.sheets.get(k).map(|one| &one.cuts)));
            let of = if sheets.name.is_empty() { String::new() } else { format!(" of \"{}\"", sheets.name) };
            if !cuts.is_empty() {
                blocks.push(Block::Heading(2, format!("Cutting further sheet {}{of}", sheet.number)));
                blocks.push(Block::List(cuts));
            }
        }
    }
    blocks
}

fn sentences(version: &Version<'_>, of: impl Fn(&allot::Allotment) -> Option<&Vec<allot::CutStep>>) -> Vec<String> {
    let cuts = version.supply.as_deref().and_then(of);
    cuts.into_iter().flatten().map(|cut| cut.sentence.clone()).collect()
}

fn one(told: Told<'_>, part: &Part) -> Vec<Block> {
    let (document, layout) = (told.subject.document, told.subject.layout);
    let name = document.part_name(part.id);
    let mut blocks = vec![Block::Heading(2, name.clone())];
    let Some(laid) = layout.part(part.id) else {
        let why = layout.part_faults.get(&part.id).map_or_else(String::new, |fault| fault.phrase(document));
        blocks.push(said(format!("{name} {why}.")));
        return blocks;
    };
    blocks.push(said(told.voice.say(|version| measures(part, version))));
    let supply = told.subject.supply.and_then(|all| all.supply(part.id));
    let figures = pictures(told, part, laid, supply);
    if !figures.is_empty() {
        blocks.push(Block::Figures(figures, false));
    }
    let mut words = Vec::new();
    if let Some(supply) = supply {
        words.push(told.voice.say(|version| paper(told, laid, supply, version)));
        words.extend(told.voice.say_all(|version| notes(version, part)));
    }
    words.extend(work(told, part, laid));
    words.extend(folds(told, laid));
    words.extend(glue(told, part, laid));
    words.extend(place(told, part, laid));
    blocks.push(Block::List(words));
    blocks
}

/// Where it is cut from, and its own little sheet.
fn pictures(told: Told<'_>, part: &Part, laid: &PartLayout, supply: Option<&Supply>) -> Vec<Figure> {
    let name = &laid.name;
    let printed = told.subject.printed();
    let sheets = told.subject.supply.map_or(&[][..], |all| &all.sheets);
    let cut_from = supply.and_then(|supply| source(told.subject.layout, &printed, supply, sheets, ROOM));
    let mut figures: Vec<Figure> = cut_from
        .map(|picture| Figure {
            picture,
            caption: "Where it is cut from".to_owned(),
            alt: format!("Where {name} is cut from."),
        })
        .into_iter()
        .collect();
    if part.source != Source::Bought {
        figures.push(Figure {
            picture: pattern(told.subject.layout, &printed, laid, ROOM),
            caption: "Its front, with its folds and glue".to_owned(),
            alt: format!("{name} laid flat, with its folds and where its glue goes."),
        });
    }
    figures
}

/// "A pocket: width 3 in, height 4 in, glue strip 1/4 in."
fn measures(part: &Part, version: &Version<'_>) -> String {
    let unit = version.unit();
    let kind = match &part.kind {
        PartKind::TuckCorner(tuck) => format!("{} tuck corner", tuck.corner.words()),
        PartKind::Page(page) => format!("page hinged at the {}", page.hinged.word()),
        PartKind::Flap(flap) => format!("flap with its leaf at the {}", flap.edge.word()),
        PartKind::Own(_) => "part of its own shape".to_owned(),
        kind => kind.word().to_lowercase(),
    };
    let article = if kind.starts_with(['a', 'e', 'i', 'o', 'u']) { "An" } else { "A" };
    let all = part.kind.measures().into_iter().filter(|(_, length)| *length != Length::ZERO);
    let mut said: Vec<String> = all.map(|(name, length)| format!("{name} {}", length.readable(unit))).collect();
    if let PartKind::Insert(insert) = &part.kind {
        said.extend(insert.caliper.map(|caliper| format!("{} thick", caliper.text(unit))));
    }
    format!("{article} {kind}: {}.", said.join(", "))
}

/// "It is cut from Offcut 2, as a piece of 3 x 4 in, a quarter turn clockwise."
fn paper(told: Told<'_>, laid: &PartLayout, supply: &Supply, version: &Version<'_>) -> String {
    let own = laid.pattern.size();
    let size = size_text(own.width(), own.height(), version.unit());
    let turned = |quarters: u8| match quarters {
        0 => "",
        1 => ", turned a quarter clockwise",
        2 => ", turned upside down",
        _ => ", turned a quarter to the left",
    };
    match &supply.from {
        Origin::Offcut { name, whole: true, .. } => format!("It is {name} as it is."),
        Origin::Offcut { name, cutout, .. } => {
            format!("It is cut from {name} as a piece of {size}{}.", turned(cutout.quarters))
        }
        Origin::Sheet { stock, sheet, cutout } => {
            let named = stock.and_then(|id| told.subject.document.further_stock(id)).filter(|one| !one.name.is_empty());
            let of = named.map_or_else(String::new, |one| format!(" of \"{}\"", one.name));
            format!("It is cut from further sheet {sheet}{of} as a piece of {size}{}.", turned(cutout.quarters))
        }
        Origin::Bought => "It is bought.".to_owned(),
        Origin::Missing(why) => format!("There is no paper for it yet. {why}"),
    }
}

fn notes(version: &Version<'_>, part: &Part) -> Vec<String> {
    let supply = version.supply.as_deref().and_then(|plan| plan.supply(part.id));
    supply.map(|supply| supply.notes.iter().map(ToString::to_string).collect()).unwrap_or_default()
}

/// Its own scores and cuts.
fn work(told: Told<'_>, part: &Part, laid: &PartLayout) -> Vec<String> {
    if part.source == Source::Bought {
        return Vec::new();
    }
    let mut all = told.voice.say_all(|version| {
        let own = version.pattern(laid);
        let table = scoring_table(&own, &laid.sheet);
        let turns = table.turns.iter().map(|turn| {
            let distances = turn.scores.keys().map(|across| across.readable(version.unit()));
            let lies =
                if turn.turn == model::Turn::None { "as drawn".to_owned() } else { turn.turn.words().to_owned() };
            format!("Score it {lies}, into the {}, {} from the left edge.", turn.face.word(), listed(distances))
        });
        let ruled = table.by_ruler.iter().map(|score| {
            format!("Score \"{}\" along a ruler, into the {}.", own.line_name(score.line), score.face.word())
        });
        turns.chain(ruled).collect()
    });
    all.extend(told.voice.say_all(|version| {
        cut_list(&version.pattern(laid), &laid.sheet).into_iter().map(|cut| without_pieces(cut.sentence)).collect()
    }));
    all
}

/// A cut of a part's own sheet without what stays and what comes off: those names are the folio's to a reader.
fn without_pieces(sentence: String) -> String {
    match sentence.rsplit_once(": ") {
        Some((cut, _)) if sentence.starts_with("Cut ") => format!("{cut}."),
        _ => sentence,
    }
}

/// What folds before it is put in place, and what folds later.
fn folds(told: Told<'_>, laid: &PartLayout) -> Option<String> {
    if laid.folds.is_empty() {
        return None;
    }
    let layout = told.subject.layout;
    let is_before = |fold: &&Fold| laid.before.iter().flatten().any(|&line| line == fold.line);
    let words = |folds: Vec<&Fold>, only: &str| {
        let mut seen = std::collections::BTreeSet::new();
        let each = folds.into_iter().filter(|fold| seen.insert(fold.line));
        listed(each.map(|fold| {
            let name = layout.line_name(told.subject.document, fold.line);
            let own = name.strip_prefix(&format!("{}, ", laid.name)).map(|name| format!("\"{name}\""));
            format!("{} ({})", own.as_deref().unwrap_or(only), fold.crease.words())
        }))
    };
    let (before, later): (Vec<&Fold>, Vec<&Fold>) = laid.folds.iter().partition(is_before);
    let mut said = Vec::new();
    if !before.is_empty() {
        said.push(format!("Before it is put in place, fold {}.", words(before, "it")));
    }
    if !later.is_empty() {
        let verb = if later.len() == 1 { "folds" } else { "fold" };
        said.push(format!("{} {verb} with the folio.", capital(&words(later, "its fold"))));
    }
    Some(said.join(" "))
}

fn glue(told: Told<'_>, part: &Part, laid: &PartLayout) -> Vec<String> {
    if let PartKind::Band(_) = part.kind {
        return vec!["Its ends are glued to one another.".to_owned()];
    }
    let areas = laid.pattern.glue.iter().map(|glue| glue.area).chain(part.also.iter().map(|gluing| gluing.area));
    let all: Vec<(GlueArea, &LaidGlue)> = areas.zip(&laid.glue).filter(|(area, _)| *area != GlueArea::None).collect();
    if all.is_empty() {
        return vec!["It is not glued.".to_owned()];
    }
    told.voice.say_all(|version| all.iter().map(|one| gluing(told.subject.layout, laid, *one, version)).collect())
}

fn gluing(layout: &Layout, own: &PartLayout, (area, glue): (GlueArea, &LaidGlue), version: &Version<'_>) -> String {
    let [panel, to] = glue.panels.map(|panel| layout.panel(panel).name.as_str());
    let leaf = panel.strip_prefix(own.name.as_str()).and_then(|rest| rest.strip_prefix(", "));
    let by = match leaf {
        Some(leaf) => format!("the {} of its {leaf}", glue.face.word()),
        None => format!("its {}", glue.face.word()),
    };
    let how = match area {
        GlueArea::Whole => "all over".to_owned(),
        GlueArea::Strips(edges, strip) => {
            format!("along its own {}, {} wide", edge_words(edges), strip.readable(version.unit()))
        }
        GlueArea::None => String::new(),
    };
    format!("Glue {by} to the {to}, {how}.")
}

fn edge_words(edges: Edges) -> String {
    let words = listed(edges.iter().map(|edge| edge.word().to_owned()));
    if edges.iter().count() == 1 { format!("{words} edge") } else { format!("{words} edges") }
}

/// Where it is put: "It lies on the front of the Base, 1/4 in from its left border, …".
fn place(told: Told<'_>, part: &Part, own: &PartLayout) -> Option<String> {
    if let PartKind::Band(band) = &part.kind {
        let way = if band.is_upright { "from top to bottom" } else { "from side to side" };
        return Some(format!("It goes round the closed folio {way}."));
    }
    let laid = own.laid?;
    Some(told.voice.say(|version| lies(told.subject.layout, part, own, &laid, version)))
}

fn lies(layout: &Layout, part: &Part, own: &PartLayout, laid: &Laid, version: &Version<'_>) -> String {
    let outline: Vec<_> = layout.panel(own.main).outline.iter().map(|&corner| laid.on_host(corner)).collect();
    let ((low, high), (least, most)) = (bounds(&outline), bounds(&layout.panel(laid.on).outline));
    let distances = [low.x - least.x, low.y - least.y, most.x - high.x, most.y - high.y];
    let distance = |(distance, border): (Length, &str)| match distance {
        Length::ZERO => format!("at its {border}"),
        within if within > Length::ZERO => format!("{} from its {border}", within.readable(version.unit())),
        beyond => format!("{} beyond its {border}", (-beyond).readable(version.unit())),
    };
    let said = distances.into_iter().zip(["left border", "top", "right border", "bottom"]).map(distance);
    let mut text =
        format!("It lies on the {} of the {}, {}", laid.face.word(), layout.panel(laid.on).name, listed(said));
    if part.place.rotation != Rotation::NONE {
        text.push_str(&format!(", turned {}° clockwise", part.place.rotation));
    }
    if part.place.showing == Face::Back {
        text.push_str(", its back seen");
    }
    text.push('.');
    text
}
