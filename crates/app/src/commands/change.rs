//! What a command would change of the design, worked out before anything is changed.

use super::crease;
use crate::pane::OwnLine;
use model::board::free_place;
use model::change::{add_line, measured_score, perform, switch_stretch};
use model::placing::{self, Mirror};
use model::{BoardPoint, Edit, Layout, LineId, PanelId, Refusal, Stretch, Turn, Work};
use session::deletion::Deletion;
use session::own::{Little, add_score};
use session::{Command, Selected, Selection, Session, closing, offcut};
use std::collections::BTreeSet;

/// What a command would do to the design.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Change {
    /// Its name in the history.
    pub(crate) label: String,
    /// What is changed.
    pub(crate) edit: Edit,
    /// What is selected then, where that changes.
    pub(crate) select: Option<Selection>,
    /// The line of a part of her own that is worked on then, where that changes.
    pub(crate) own_line: Option<OwnLine>,
    /// What to say of it, where the sheet does not show it.
    pub(crate) said: Option<String>,
}

impl Change {
    pub(super) fn new(label: impl Into<String>, edit: Edit) -> Self {
        Self { label: label.into(), edit, select: None, own_line: None, said: None }
    }
}

/// What a command would change; `None` when it changes nothing of the design.
///
/// # Errors
/// Says in a sentence why it can't.
pub(crate) fn change(session: &Session, turn: Turn, command: Command) -> Option<Result<Change, String>> {
    // Left and right are those of the sheet as it is seen.
    let seen = |mirror| match (turn.is_upright(), mirror) {
        (true, mirror) => mirror,
        (false, Mirror::LeftRight) => Mirror::TopBottom,
        (false, Mirror::TopBottom) => Mirror::LeftRight,
    };
    let mirror = |mirror| mirrored(session, seen(mirror));
    let copy = |mirror| copied(session, seen(mirror));
    Some(match command {
        Command::AddScore => new_score(session, turn),
        Command::DeleteLine => deleted(session),
        Command::DuplicateLine => super::clip::duplicated(session),
        Command::SwitchStretch => switched(session),
        Command::ReverseFold => crease::reversed(session),
        Command::SwitchAngle => crease::at_other_angle(session),
        Command::Lock => locked(session),
        Command::MirrorLeftRight => mirror(Mirror::LeftRight),
        Command::MirrorTopBottom => mirror(Mirror::TopBottom),
        Command::CopyLeftRight => copy(Mirror::LeftRight),
        Command::CopyTopBottom => copy(Mirror::TopBottom),
        Command::SpaceEvenly => spaced(session),
        Command::AlignLines => aligned(session),
        Command::ToGrooves => on_grooves(session),
        Command::SetBase => new_base(session),
        Command::CutAway => cut_away(session),
        Command::KeepOffcut => kept(session),
        Command::FindOrder => ordered(session),
        Command::StepEarlier | Command::StepLater | Command::JoinStep | Command::PartStep => {
            super::step::change(session, command)
        }
        other => return super::part::change(session, turn, other),
    })
}

/// The stretch that a selection means: the one pointed at, or the only one of the line.
pub(crate) fn stretch(selected: Selected, layout: &Layout) -> Option<&Stretch> {
    let id = selected.line()?;
    let own = || layout.stretches.iter().filter(|stretch| stretch.lines.contains(&id) && stretch.work.is_some());
    let only = || if own().count() == 1 { own().next() } else { None };
    selected.stretch(layout).or_else(only)
}

/// A new score, on the selected part where that is of her own, else on the folio's sheet.
fn new_score(session: &Session, turn: Turn) -> Result<Change, String> {
    let document = session.document();
    let layout = &session.derived().layout;
    if let Some(part) = session.selected().part()
        && let Some(little) = Little::of(document, layout, part)
        && let Some((edit, line)) = add_score(document, layout, part, little.turn_of(turn)).map_err(in_words)?
    {
        let own_line = Some((part, line));
        return Ok(Change { own_line, ..Change::new(format!("Add score to {}", document.part_name(part)), edit) });
    }
    let id = document.next_line();
    let across = free_place(layout, turn).snapped(document.groove);
    let (_, height) = turn.size_of(layout.size);
    let middle = turn.from_board(BoardPoint { across, down: height.half() }, layout.size);
    let edit = add_line(document, measured_score(id, turn, across));
    let select = Some(Selected::Line { id, at: Some(middle) }.into());
    Ok(Change { select, ..Change::new("Add score", edit) })
}

fn ordered(session: &Session) -> Result<Change, String> {
    let found = closing::find(session.document(), session.derived())?;
    let Some(edit) = closing::edit(session.document(), session.derived(), &found) else {
        let said = Some("The order as it is closes the folio, and none of fewer steps was found.".to_owned());
        return Ok(Change { said, ..Change::new("Find an order", Edit::All(Vec::new())) });
    };
    let count = found.steps.len();
    let least = if found.is_least { ", the fewest there can be" } else { "" };
    let said = format!("It closes in {count} {}{least}.", if count == 1 { "step" } else { "steps" });
    Ok(Change { said: Some(said), ..Change::new("Find an order", edit) })
}

fn deleted(session: &Session) -> Result<Change, String> {
    let ids = lines(session)?;
    let document = session.document();
    let deletion = Deletion::of(document, &session.derived().layout, &ids).map_err(in_words)?;
    let words = deletion.words(document, &ids);
    let is_told = !deletion.along.is_empty() || ids.len() > 1;
    let said = is_told.then(|| format!("Deleted {words}."));
    let select = Some(Selected::Nothing.into());
    Ok(Change { select, said, ..Change::new(format!("Delete {}", named(session, &ids)), deletion.edit) })
}

fn switched(session: &Session) -> Result<Change, String> {
    let layout = &session.derived().layout;
    let count = session.selected_lines().len();
    if count > 1 {
        return Err(format!("{count} lines are selected; click the one stretch that is to be cut or scored"));
    }
    let stretch = stretch(session.selected(), layout)
        .ok_or_else(|| "Point at the stretch of the line that is to be cut or scored".to_owned())?;
    let edit = switch_stretch(session.document(), layout, stretch).map_err(in_words)?;
    let label = if matches!(stretch.work, Some(Work::Cut)) { "Score the stretch" } else { "Cut the stretch" };
    Ok(Change::new(label, edit))
}

/// Locks the selected lines, or frees them when all of them are locked.
fn locked(session: &Session) -> Result<Change, String> {
    let ids = lines(session)?;
    let document = session.document();
    let all = ids.iter().filter_map(|&id| document.line(id)).all(|line| line.locked);
    let edit = placing::lock(document, &ids, !all).ok_or_else(no_line)?;
    let (verb, done) = if all { ("Free", "Freed") } else { ("Lock", "Locked") };
    Ok(counted(session, &ids, done, "", Change::new(format!("{verb} {}", named(session, &ids)), edit)))
}

fn mirrored(session: &Session, mirror: Mirror) -> Result<Change, String> {
    let ids = lines(session)?;
    let edit = placing::mirror(session.document(), &session.derived().layout, &ids, mirror).map_err(in_words)?;
    // Where she pointed at a line is not where it is any more.
    let select = Some(ids.iter().copied().collect());
    let change = Change { select, ..Change::new(format!("Mirror {}", named(session, &ids)), edit) };
    Ok(counted(session, &ids, "Mirrored", "", change))
}

fn copied(session: &Session, mirror: Mirror) -> Result<Change, String> {
    let ids = lines(session)?;
    let document = session.document();
    let edit = placing::copy_opposite(document, &session.derived().layout, &ids, mirror).map_err(in_words)?;
    let mut after = document.clone();
    after.apply(edit.clone()).map_err(in_words)?;
    let new = after.lines.iter().map(|line| line.id).filter(|&id| document.line(id).is_none());
    let label = format!("Copy {} to the opposite side", named(session, &ids));
    let said = (ids.len() > 1).then(|| format!("Copied {} lines to the opposite side.", ids.len()));
    Ok(Change { select: Some(new.collect()), said, ..Change::new(label, edit) })
}

fn spaced(session: &Session) -> Result<Change, String> {
    let ids = session.selected_lines();
    let edit = placing::space_evenly(session.document(), &session.derived().layout, &ids).map_err(in_words)?;
    let select = Some(ids.iter().copied().collect());
    let change = Change { select, ..Change::new(format!("Space {} evenly", named(session, &ids)), edit) };
    Ok(counted(session, &ids, "Moved", " so that all gaps are equal", change))
}

fn aligned(session: &Session) -> Result<Change, String> {
    let ids = lines(session)?;
    let first = session.first_line().ok_or_else(no_line)?;
    let document = session.document();
    let edit = placing::align(document, &session.derived().layout, &ids, first).map_err(in_words)?;
    let change = Change::new(format!("Align {} with {}", named(session, &ids), document.line_name(first)), edit);
    Ok(counted(session, &ids, "Moved", &format!(" to the distance of {}", document.line_name(first)), change))
}

fn on_grooves(session: &Session) -> Result<Change, String> {
    let ids = lines(session)?;
    let edit = placing::to_grooves(session.document(), &session.derived().layout, &ids).map_err(in_words)?;
    let grooves = if ids.len() == 1 { "a groove" } else { "grooves" };
    let change = Change::new(format!("Put {} on {grooves}", named(session, &ids)), edit);
    Ok(counted(session, &ids, "Moved", " to grooves", change))
}

/// A change of several lines that says how many of them it changes: which those are is not seen at a glance.
fn counted(session: &Session, ids: &BTreeSet<LineId>, done: &str, how: &str, change: Change) -> Change {
    if ids.len() < 2 {
        return change;
    }
    let document = session.document();
    let Ok(after) = perform(document, &session.derived().layout, change.edit.clone()) else { return change };
    let changed = ids.iter().filter(|&&id| document.line(id) != after.document.line(id)).count();
    let said = match (changed, ids.len()) {
        (0, count) => format!("None of the {count} lines had to be changed."),
        (changed, count) if changed == count => format!("{done} {count} lines{how}."),
        (changed, count) => format!("{done} {changed} of {count} lines{how}."),
    };
    Change { said: Some(said), ..change }
}

fn new_base(session: &Session) -> Result<Change, String> {
    let layout = &session.derived().layout;
    let panel = panel(session).and_then(|panel| layout.panel(panel).inside);
    let inside = panel.ok_or_else(|| "Click the panel that is to lie still first".to_owned())?;
    Ok(Change::new("Choose the base", Edit::SetBase(Some(inside))))
}

fn cut_away(session: &Session) -> Result<Change, String> {
    let panel = panel(session).ok_or_else(|| "Click the panel that is to come off first".to_owned())?;
    let layout = &session.derived().layout;
    let edit = offcut::cut_away(session.document(), layout, panel).map_err(in_words)?;
    Ok(Change::new(format!("Cut {} away", layout.panel(panel).name), edit))
}

fn kept(session: &Session) -> Result<Change, String> {
    let panel = panel(session).ok_or_else(|| "Click the offcut that is to be kept first".to_owned())?;
    let layout = &session.derived().layout;
    let edit = offcut::keep(session.document(), layout, panel).map_err(in_words)?;
    let name = &layout.pieces[layout.panel(panel).piece.0].name;
    Ok(Change::new(format!("Keep {name}"), edit))
}

fn panel(session: &Session) -> Option<PanelId> {
    match session.selected() {
        Selected::Panel(point) => session.derived().layout.panel_at(point),
        _ => None,
    }
}

pub(super) fn lines(session: &Session) -> Result<BTreeSet<LineId>, String> {
    let ids = session.selected_lines();
    if ids.is_empty() { Err(no_line()) } else { Ok(ids) }
}

/// The lines as the history names them: one by its name, several by their number.
pub(super) fn named(session: &Session, ids: &BTreeSet<LineId>) -> String {
    match ids.first() {
        Some(&id) if ids.len() == 1 => session.document().line_name(id),
        _ => format!("{} lines", ids.len()),
    }
}

pub(super) fn no_line() -> String {
    "Click a line first".to_owned()
}

#[expect(clippy::needless_pass_by_value, reason = "it is what errors are mapped by")]
pub(super) fn in_words(refusal: Refusal) -> String {
    refusal.to_string()
}

#[cfg(test)]
mod tests {
    use super::*;
    use model::{Crease, Document, FoldAngle, Length, Line, Place, Point, Size, Spot, Strip, StripSide, Unit};

    #[test]
    fn a_new_score_lies_in_the_widest_gap_on_the_turn_shown() {
        let session = Session::new(Document::new(Size::parse("12x8in").unwrap(), Unit::Inch));
        for (turn, inches) in [(Turn::None, 6), (Turn::Once, 4)] {
            let change = change(&session, turn, Command::AddScore).unwrap().unwrap();
            let mut after = session.clone();
            after.apply(&change.label, change.edit).unwrap();
            let placed = after.derived().layout.lines[&LineId(1)].unwrap();
            assert_eq!(placed.on_board(), Some((turn, Length::INCH * inches)));
        }
    }

    #[test]
    fn a_command_without_something_to_work_on_says_so() {
        let session = Session::new(Document::new(Size::parse("12x8in").unwrap(), Unit::Inch));
        let said = |command| change(&session, Turn::None, command).unwrap().unwrap_err();
        assert_eq!(said(Command::DeleteLine), "Click a line first");
        assert!(said(Command::SwitchStretch).contains("stretch"));
        assert!(said(Command::SetBase).contains("panel"));
        assert_eq!(change(&session, Turn::None, Command::Save), None);
    }

    #[test]
    fn commands_turn_and_cut_the_selected_line() {
        let mut session = Session::new(Document::new(Size::parse("12x8in").unwrap(), Unit::Inch));
        let run = |session: &mut Session, command| {
            let change = change(session, Turn::None, command).unwrap().unwrap();
            session.apply(&change.label, change.edit).unwrap();
            change.select.into_iter().for_each(|selected| session.select(selected));
            change.said
        };
        run(&mut session, Command::AddScore);
        run(&mut session, Command::ReverseFold);
        run(&mut session, Command::SwitchAngle);
        let crease = session.document().lines[0].work;
        let mountain = Crease { direction: model::Direction::Mountain, angle: FoldAngle::Square, pressed: None };
        assert_eq!(crease, Work::Score(mountain));
        run(&mut session, Command::SwitchStretch);
        assert_eq!(session.derived().layout.pieces.len(), 2, "cut through from edge to edge");
        let said = run(&mut session, Command::DeleteLine);
        assert_eq!(said.as_deref(), Some("Deleted \"Score 1\" and 1 cut along it."));
        assert!(session.document().lines.is_empty());
    }

    #[test]
    fn a_copy_is_selected_in_place_of_what_it_was_made_of() {
        let mut session = Session::new(Document::new(Size::parse("12x8in").unwrap(), Unit::Inch));
        let line = measured_score(LineId(1), Turn::None, Length::INCH * 2);
        session.apply("Add", add_line(session.document(), line)).unwrap();
        session.select(Selected::Line { id: LineId(1), at: None });
        let change = change(&session, Turn::None, Command::CopyLeftRight).unwrap().unwrap();
        session.apply(&change.label, change.edit).unwrap();
        assert_eq!(change.select.unwrap().lines(), BTreeSet::from([LineId(2)]));
        let placed = session.derived().layout.lines[&LineId(2)].unwrap();
        assert_eq!(placed.on_board().unwrap().1, Length::INCH * 10);
    }

    /// A 12 x 8 in sheet with a score, a score along which a stretch is cut, a drawn cut, an arc, a slot, a guide and a
    /// locked score; a corner of it cut away.
    fn furnished() -> Document {
        let mut document = Document::new(Size::parse("12x8in").unwrap(), Unit::Inch);
        let at = |x, y| Spot::At(Point::new(Length::INCH * x, Length::INCH * y));
        let drawn = |from, to, bow| Place::Drawn { from, to, bow };
        let score = |id, turn, inches| measured_score(LineId(id), turn, Length::INCH * inches);
        let slot = Work::Slot(Strip { width: Length::EIGHTH, side: StripSide::Left });
        for line in [
            score(1, Turn::None, 3),
            score(2, Turn::Once, 2),
            Line::new(LineId(3), drawn(at(4, 4), Spot::Crossing(LineId(1), LineId(2)), Length::ZERO), Work::Cut),
            Line::new(LineId(4), drawn(at(5, 5), at(8, 5), Length::INCH), Work::Cut),
            Line { work: slot, ..score(5, Turn::None, 9) },
            Line { work: Work::Guide, ..score(6, Turn::None, 10) },
            Line { locked: true, ..score(7, Turn::None, 11) },
        ] {
            document.apply(add_line(&document, line)).unwrap();
        }
        let layout = Layout::of(&document);
        let corner = layout.panel_at(Point::new(Length::INCH, Length::INCH)).unwrap();
        document.apply(offcut::cut_away(&document, &layout, corner).unwrap()).unwrap();
        let layout = Layout::of(&document);
        let base = layout.base.and_then(|base| layout.panel_ref(base)).unwrap();
        let pocket = model::part::usual::Sort::FlatPocket.fitted(
            &model::part::usual::Host::of(&layout, layout.base.unwrap()),
            &model::part::usual::Fit::usual(document.units),
        );
        let mut pocket = pocket.part(document.next_part(), base, model::Face::Front);
        pocket.source = model::part::Source::FolioStock;
        document.apply(model::part::change::add(&document, pocket)).unwrap();
        document
    }

    #[test]
    fn a_part_goes_with_what_lies_on_it_and_that_is_said() {
        let mut document = furnished();
        let on = model::PanelRef::Part(model::PartId(1), 0);
        let mut mat = document.parts[0].clone();
        mat.id = model::PartId(2);
        mat.kind = model::PartKind::Mat(model::part::Mat { width: Length::INCH, height: Length::INCH });
        mat.place = model::part::Placement::centred(on);
        document.apply(model::part::change::add(&document, mat)).unwrap();
        let mut session = Session::new(document);
        session.select(Selected::Part(model::PartId(1)));
        let change = change(&session, Turn::None, Command::DeletePart).unwrap().unwrap();
        assert_eq!(change.said.as_deref(), Some("Deleted \"Pocket 1\" with \"Mat 2\", which lay on it."));
        session.apply(&change.label, change.edit).unwrap();
        assert!(session.document().parts.is_empty());
    }

    #[test]
    fn every_command_gives_a_change_or_a_sentence_whatever_is_selected() {
        let document = furnished();
        let panels = Layout::of(&document).panels.into_iter().filter_map(|panel| panel.inside).map(Selected::Panel);
        let lines = document.lines.iter().map(|line| Selected::Line { id: line.id, at: None });
        let all: Selection = document.lines.iter().map(|line| line.id).collect();
        let parts = document.parts.iter().map(|part| Selected::Part(part.id));
        let single = panels.chain(lines).chain(parts).chain([Selected::Nothing]).map(Selection::from);
        let opened = Session::new(document.clone());
        let mut changed = 0;
        for selection in single.chain([all]) {
            for entry in session::command::TABLE {
                let mut session = opened.clone();
                session.select(selection.clone());
                let done = match change(&session, Turn::Once, entry.command) {
                    None => continue,
                    Some(Err(why)) => Err(why),
                    Some(Ok(change)) => session.apply(&change.label, change.edit).map_err(in_words),
                };
                match done {
                    Err(why) => assert!(why.len() > 10, "{}: \"{why}\" says nothing", entry.label),
                    Ok(()) if session.is_changed() => {
                        changed += 1;
                        session.undo().unwrap();
                        assert_eq!(session.document(), &document, "{}", entry.label);
                    }
                    Ok(()) => {}
                }
            }
        }
        assert!(changed > 40, "{changed} changes were made and taken back");
    }
}
