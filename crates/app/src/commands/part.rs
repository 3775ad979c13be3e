//! What commands on parts would change of the design, and how a part that fits its panel is made.

use super::change::{Change, in_words};
use model::named::change::with_copies;
use model::part::change;
use model::part::own::glue_of_copy;
use model::part::usual::{Closed, Companion, Fit, Host, Sort, hung};
use model::part::{PanelRef, Part, PartKind, Rotation, Source};
use model::words::listed;
use model::{Document, Edit, Face, Layout, Length, PartId, Turn, Vector};
use session::part::{Side, align};
use session::{Command, Fineness, Selected, Session, snap};
use std::collections::BTreeMap;

/// How many grooves a copy lies aside of what it was made of, so that both are seen.
const ASIDE: i64 = 2;

/// What a command on parts would change; `None` for other commands.
///
/// # Errors
/// Says in a sentence why it can't.
pub(super) fn change(session: &Session, turn: Turn, command: Command) -> Option<Result<Change, String>> {
    Some(match command {
        Command::DeletePart => deleted(session),
        Command::DuplicatePart => duplicated(session),
        Command::TurnPart => turned(session),
        Command::TurnPartOver => turned_over(session),
        Command::FitParts => fitted(session),
        Command::PartLeft => aligned(session, turn, (Side::Left, false)),
        Command::PartRight => aligned(session, turn, (Side::Right, false)),
        Command::PartTop => aligned(session, turn, (Side::Top, false)),
        Command::PartBottom => aligned(session, turn, (Side::Bottom, false)),
        Command::PartMiddleAcross => aligned(session, turn, (Side::Right, true)),
        Command::PartMiddleDown => aligned(session, turn, (Side::Bottom, true)),
        _ => return None,
    })
}

/// A part of some sort as it fits the panel that it is put on. With a hinge selected, a page or mat hangs on that; with a
/// pocket selected, an insert lies in it.
pub(crate) fn usual(session: &Session, sort: Sort, on: PanelRef, face: Face) -> Option<Part> {
    let (document, layout) = (session.document(), &session.derived().layout);
    let host = layout.panel_of(on)?;
    let selected = session.selected().part().and_then(|id| document.part(id));
    let with = selected.and_then(|part| Some(Companion::of(&part.kind, layout.part(part.id)?, host)));
    let fit = Fit { with, closed: closed(session), ..Fit::usual(document.units) };
    let id = document.next_part();
    let hangs = selected.filter(|part| part.place.on == on && matches!(part.kind, PartKind::Hinge(_)));
    let part = hangs.and_then(|hinge| hung(sort, id, hinge.id, document, layout, &fit));
    Some(part.unwrap_or_else(|| sort.fitted(&Host::of(layout, host), &fit).part(id, on, face)))
}

/// How large the closed folio is, for what goes round it.
fn closed(session: &Session) -> Option<Closed> {
    let (_, folding) = session.derived().folded.as_ref()?;
    let size = folding.closed_size();
    let [width, height, thickness] = [size.x, size.y, size.z].map(Length::from_mm_rounded);
    Some(Closed { width: width?, height: height?, thickness: thickness? })
}

fn selected(session: &Session) -> Result<PartId, String> {
    session.selected().part().ok_or_else(|| "Click a part first".to_owned())
}

fn deleted(session: &Session) -> Result<Change, String> {
    let id = selected(session)?;
    let document = session.document();
    let carried: Vec<String> = change::with_carried(document, &[id])
        .into_iter()
        .filter(|&other| other != id)
        .map(|other| format!("\"{}\"", document.part_name(other)))
        .collect();
    let name = document.part_name(id);
    let said = (!carried.is_empty()).then(|| format!("Deleted \"{name}\" with {}, which lay on it.", listed(carried)));
    let select = Some(Selected::Nothing.into());
    Ok(Change { select, said, ..Change::new(format!("Delete {name}"), change::remove(document, &[id])) })
}

fn duplicated(session: &Session) -> Result<Change, String> {
    let id = selected(session)?;
    let document = session.document();
    let of = document.part(id).ok_or_else(|| "Click a part first".to_owned())?;
    let also = glue_of_copy(of, of.place.on);
    let copy = Part { id: document.next_part(), name: String::new(), also, ..of.clone() };
    let new = copy.id;
    let add = change::add(document, copy);
    let mut after = document.clone();
    after.apply(add.clone()).map_err(in_words)?;
    let by = snap::step(document, Fineness::Grooves).0 * ASIDE;
    let aside = change::shift(&after, new, Vector { x: by, y: by });
    let edit = Edit::All(std::iter::once(add).chain(aside).collect());
    let copied = BTreeMap::from([(id, new)]);
    let edit = with_copies(document, edit, &document.lengths.formulas, &BTreeMap::new(), &copied).map_err(in_words)?;
    let select = Some(Selected::Part(new).into());
    Ok(Change { select, ..Change::new(format!("Duplicate {}", document.part_name(id)), edit) })
}

fn turned(session: &Session) -> Result<Change, String> {
    let id = selected(session)?;
    let document = session.document();
    let edit = change::turn(document, &session.derived().layout, id, Rotation::QUARTER);
    let edit = edit.ok_or_else(|| "there is nothing to turn".to_owned())?;
    Ok(Change::new(format!("Turn {}", document.part_name(id)), edit))
}

fn turned_over(session: &Session) -> Result<Change, String> {
    let id = selected(session)?;
    let document = session.document();
    let edit = document.part(id).map(|part| part.place);
    let edit = edit.and_then(|place| change::turn_over(document, id, place.face, place.showing.other()));
    let edit = edit.ok_or_else(|| "there is nothing to turn over".to_owned())?;
    Ok(Change::new(format!("Turn {} over", document.part_name(id)), edit))
}

/// Puts the selected part against a side of its panel, or into its middle.
fn aligned(session: &Session, turn: Turn, to: (Side, bool)) -> Result<Change, String> {
    let id = selected(session)?;
    let (document, derived) = (session.document(), session.derived());
    let name = document.part_name(id);
    if derived.layout.part(id).is_none_or(|part| part.laid.is_none()) {
        return Err(format!("\"{name}\" lies on no panel that it could be aligned to"));
    }
    let edit = align(document, derived, id, to, turn).ok_or_else(|| format!("\"{name}\" lies there already"))?;
    Ok(Change::new(format!("Move {name}"), edit))
}

/// Lets every part of the folio's own paper come from whichever offcut it fits into; parts that are an offcut just as it is
/// stay that.
fn fitted(session: &Session) -> Result<Change, String> {
    let document = session.document();
    let is_bound = |part: &&Part| matches!(part.source, Source::FolioStock | Source::Offcut(_));
    let count = document.parts.iter().filter(is_bound).count();
    if count == 0 {
        return Err("every part of the folio's paper is cut from what is left already".to_owned());
    }
    let free =
        |part: &Part| if is_bound(&part) { Part { source: Source::AnyOffcut, ..part.clone() } } else { part.clone() };
    let edit = Edit::SetParts(document.parts.iter().map(free).collect());
    let said = Some(said_of_fitting(document, &edit).map_err(in_words)?);
    Ok(Change { said, ..Change::new("Fit parts into what is left", edit) })
}

fn said_of_fitting(document: &Document, edit: &Edit) -> Result<String, model::Refusal> {
    let mut after = document.clone();
    after.apply(edit.clone())?;
    let found = allot::allot(&after, &Layout::of(&after), &allot::Settings::of(&after));
    let asked = after.parts.iter().filter(|part| part.is_from_offcut()).count();
    let missing: Vec<String> = found
        .supplies
        .iter()
        .filter(|supply| matches!(supply.from, allot::Origin::Missing(_)))
        .map(|supply| format!("\"{}\"", after.part_name(supply.part)))
        .collect();
    Ok(if missing.is_empty() {
        format!("{asked} {} cut from what is left.", if asked == 1 { "part is" } else { "parts are" })
    } else {
        format!(
            "{} of {asked} parts are cut from what is left; there is no room for {}.",
            asked - missing.len().min(asked),
            listed(missing)
        )
    })
}
