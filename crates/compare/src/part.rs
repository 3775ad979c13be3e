//! Parts: gone, new, of another size, on another place, of another paper, glued otherwise.

use crate::{About, Design, Difference};
use model::part::{PanelRef, Source};
use model::{Face, Part, Unit};

pub(crate) fn differences(was: &Design<'_>, is: &Design<'_>) -> Vec<Difference> {
    let (before, after) = (was.document, is.document);
    let of = |part: &Part, says: String| Difference { about: About::Part(part.id), says };
    let gone = before.parts.iter().filter(|part| after.part(part.id).is_none());
    let mut all: Vec<Difference> =
        gone.map(|part| of(part, format!("{} is gone.", before.part_name(part.id)))).collect();
    for part in &after.parts {
        let name = after.part_name(part.id);
        match before.part(part.id) {
            None => all.push(of(part, format!("{name} is new: {}.", measured(part, after.units)))),
            Some(old) => {
                let mut says = changed(&name, old, part, after.units);
                if lies(was, old.place.on) != lies(is, part.place.on) {
                    let (from, to) = (host(was, old.place.on), host(is, part.place.on));
                    says.push(format!("{name} is on {}, not on {}.", to, from));
                }
                all.extend(says.into_iter().map(|says| of(part, says)));
            }
        }
    }
    all
}

fn changed(name: &str, old: &Part, new: &Part, unit: Unit) -> Vec<String> {
    let mut says = Vec::new();
    if old.kind.word() != new.kind.word() {
        says.push(format!("{name} is {}, not {}.", article(new.kind.word()), article(old.kind.word())));
    } else if old.kind != new.kind {
        let (was, is) = (old.kind.measures(), new.kind.measures());
        let differ = was.iter().zip(&is).filter(|(was, is)| was != is);
        let measures: Vec<String> = differ
            .map(|((_, was), (what, is))| format!("{name}: {what} {}, not {}.", is.readable(unit), was.readable(unit)))
            .collect();
        if measures.is_empty() {
            says.push(format!("{name} is made otherwise, of the same size."));
        }
        says.extend(measures);
    }
    if source(old.source) != source(new.source) {
        says.push(format!("{name} is {}.", source(new.source)));
    } else if old.source != new.source {
        says.push(format!("{name} is cut from another offcut."));
    }
    if old.place.face != new.place.face {
        says.push(format!("{name} is on the {} of its panel.", new.place.face.word()));
    }
    if (old.place.across, old.place.down) != (new.place.across, new.place.down) {
        says.push(format!("{name} lies elsewhere on its panel."));
    }
    if old.place.rotation != new.place.rotation {
        says.push(format!("{name} is turned otherwise."));
    }
    if old.place.showing != new.place.showing {
        let face = if new.place.showing == Face::Front { "front" } else { "back" };
        says.push(format!("The {face} of {name} is seen."));
    }
    if old.also != new.also {
        says.push(format!("{name} is glued otherwise."));
    }
    if old.name != new.name && !new.name.is_empty() {
        says.push(format!("{} {} is called \"{}\".", new.kind.word(), new.id.0, new.name));
    }
    says
}

/// The panel that a part is on, by the name that it has from where it lies from the base: that stays the same while lines
/// move, and whatever it is called.
fn lies<'a>(design: &'a Design<'_>, on: PanelRef) -> Option<&'a str> {
    let layout = design.unnamed.as_ref().unwrap_or(&design.layout);
    layout.panel_of(on).map(|panel| layout.panel(panel).name.as_str())
}

/// What the panel that a part is on is called.
fn host(design: &Design<'_>, on: PanelRef) -> String {
    match design.layout.panel_of(on) {
        Some(panel) => format!("\"{}\"", design.layout.panel(panel).name),
        None => "no panel".to_owned(),
    }
}

/// "a pocket, width 4 in, height 3 in".
fn measured(part: &Part, unit: Unit) -> String {
    let measures = part.kind.measures();
    let measures = measures.iter().filter(|(_, length)| length.nm() != 0);
    let measures: Vec<String> = measures.map(|(what, length)| format!("{what} {}", length.readable(unit))).collect();
    format!("{}, {}", article(part.kind.word()), measures.join(", "))
}

fn article(word: &str) -> String {
    let word = word.to_lowercase();
    let article = if word.starts_with(['a', 'e', 'i', 'o', 'u']) { "an" } else { "a" };
    format!("{article} {word}")
}

const fn source(source: Source) -> &'static str {
    match source {
        Source::AnyOffcut => "cut from whichever offcut it fits into",
        Source::Offcut(_) => "cut from one offcut",
        Source::Whole(_) => "an offcut as it came off",
        Source::FolioStock => "cut from another sheet of the folio's paper",
        Source::Stock(_) => "cut from another paper",
        Source::Bought => "bought",
    }
}
