//! The order in which the folio closes.

mod tuck;

use crate::commands;
use crate::icon::Icon;
use crate::menu::{self, Of};
use crate::naming::StepNames;
use crate::pane::reorder::{Move, Outcome, Reorder, Rows, pushed};
use crate::pane::{Action, OrderList, Scene};
use crate::theme::{self, BODY, bold, caption, colour, palette, plain, shortened};
use crate::tip::Tip as _;
use egui::{Id, Pos2, Rect, ScrollArea, Sense, Ui, UiBuilder, Vec2, WidgetInfo, accesskit};
use model::change::{join_step, last_apart, move_step};
use session::{Selected, Session};

/// The buttons of a step: five of them, with what lies between.
const BUTTONS: f32 = 5.0 * 26.0 + 4.0 * 3.0;

/// What a click and keys do with a step.
const SELECTS: &str = "Select what folds in this step; Alt+Up and Alt+Down fold it earlier or later.";

/// What Shift does where a step would stand in the way.
const INSIST: &str = "With Shift it is put there all the same.";

/// Shows the list. `now` is the step that the folded view is in, if any.
pub(crate) fn ui(ui: &mut Ui, scene: &mut Scene<'_>, carried: &mut Reorder, now: Option<usize>) {
    ScrollArea::vertical().auto_shrink(false).min_scrolled_height(0.0).show(ui, |ui| {
        ui.spacing_mut().item_spacing.y = 2.0;
        let session = scene.session;
        let steps = session.document().steps.len();
        let mut rows = Rows::new(carried, scene, OrderList::Closing);
        let names = StepNames::of(session);
        for step in 0..steps {
            row(ui, scene, &mut rows, (step, &names), now == Some(step));
        }
        if steps == 0 {
            ui.label(caption("Every score that is added folds in a step of its own."));
        }
        let name = |step: usize| format!("Step {}, {}", step + 1, names.name(step));
        if let Some(asked) = rows.follow(ui, scene, name, |from, to| outcome(session, from, to)) {
            put(ui, scene, asked);
        }
    });
}

/// What comes of a step in another place, in words.
fn outcome(session: &Session, from: usize, to: usize) -> Outcome {
    let (fits, said) = commands::outcome(session, from, to);
    Outcome { fits, said: if fits { said } else { format!("{said} {INSIST}") } }
}

/// Puts a step in another place, or says what would stand in the way there.
fn put(ui: &Ui, scene: &mut Scene<'_>, asked: Move) {
    let Move { from, to, insists } = asked;
    let outcome = outcome(scene.session, from, to);
    let edit = move_step(scene.session.document(), from, to).filter(|_| outcome.fits || insists);
    let Some(edit) = edit else { return scene.ask(Action::Complain(outcome.said)) };
    scene.edit("Change the closing order", edit);
    if outcome.fits {
        scene.ask(Action::Report(outcome.said));
    }
    let focused = ui.memory(|memory| memory.has_focus(id(from)));
    if focused {
        ui.memory_mut(|memory| memory.request_focus(id(to)));
    }
}

/// The row of a step.
fn id(step: usize) -> Id {
    Id::unique(("step", step))
}

fn row(ui: &mut Ui, scene: &mut Scene<'_>, rows: &mut Rows<'_>, (step, names): (usize, &StepNames<'_>), is_now: bool) {
    let height = ui.spacing().interact_size.y;
    let (rect, _) = ui.allocate_exact_size(Vec2::new(ui.available_width(), height), Sense::hover());
    let buttons = Rect::from_min_max(Pos2::new(rect.right() - BUTTONS, rect.top()), rect.max);
    let rest = rows.grip(ui, rect, &format!("step {}", step + 1));
    let named = Rect::from_min_max(rest.min, Pos2::new(buttons.left() - 6.0, rest.bottom()));
    let mut asked = name(ui, scene, (step, names), is_now, named);
    let document = scene.session.document();
    let last = document.steps.len().saturating_sub(1);
    let insists = ui.input(|input| input.modifiers.shift);
    let mut edit = None;
    ui.scope_builder(UiBuilder::new().max_rect(buttons), |ui| {
        ui.horizontal(|ui| {
            ui.spacing_mut().item_spacing.x = 3.0;
            let number = step + 1;
            if Icon::Up.button(ui, &format!("Fold step {number} earlier"), step > 0).clicked() {
                asked = Some(Move { from: step, to: step - 1, insists });
            }
            if Icon::Down.button(ui, &format!("Fold step {number} later"), step < last).clicked() {
                asked = Some(Move { from: step, to: step + 1, insists });
            }
            if Icon::Join.button(ui, &format!("Join step {number} with the one before"), step > 0).clicked() {
                edit = join_step(document, step);
            }
            let several = document.steps.get(step).is_some_and(|step| step.lines.len() + step.parts.len() > 1);
            if Icon::Apart.button(ui, &format!("Split step {number} in two"), several).clicked() {
                edit = last_apart(document, step);
            }
            tuck::button(ui, scene, step);
        });
    });
    if let Some(edit) = edit {
        scene.edit("Change the closing order", edit);
    }
    if let Some(asked) = asked {
        put(ui, scene, asked);
    }
}

/// The name of a step, which selects what folds in it; gives where keys move it.
fn name(
    ui: &Ui,
    scene: &mut Scene<'_>,
    (step, names): (usize, &StepNames<'_>),
    is_now: bool,
    rect: Rect,
) -> Option<Move> {
    let document = scene.session.document();
    let tucks = session::tuck::words(document, scene.session.derived(), step);
    let text = format!("{}  {}", step + 1, with_tucks(names.name(step), &tucks));
    let response = ui.interact(rect, id(step), Sense::click());
    let lines = document.steps.get(step).map_or(&[][..], |step| &step.lines);
    let of_part = document.steps.get(step).and_then(|step| step.parts.first()).copied();
    let selected = scene.session.selected().line().is_some_and(|id| lines.contains(&id))
        || of_part.is_some_and(|of| {
            scene.session.selected() == Selected::Part(of.0) && scene.own_line.is_none_or(|line| line == of)
        });
    let label = format!("Step {text}");
    response.widget_info(|| WidgetInfo::selected(accesskit::Role::Button, true, selected, &label));
    let painter = theme::row(ui, &response, rect, selected);
    if is_now {
        let bar = Rect::from_min_size(rect.min, Vec2::new(3.0, rect.height()));
        painter.rect_filled(bar, 1.0, colour(palette().selection));
    }
    let font = if is_now { bold(BODY) } else { plain(BODY) };
    let galley = shortened(&painter, &text, font, rect.width() - 12.0);
    let cut_off = galley.elided;
    let at = Pos2::new(rect.left() + 9.0, rect.center().y - galley.size().y / 2.0);
    painter.galley(at, galley, colour(palette().text));
    let menu = menu::asked(scene, &response);
    if !response.clicked() && menu.is_none() {
    } else if let Some(&id) = lines.first() {
        let placed = scene.session.derived().layout.lines.get(&id).and_then(|placed| placed.ok());
        let at = placed.map(|placed| super::sheet::middle(&placed));
        scene.ask(Action::Select(Selected::Line { id, at }));
    } else if let Some(of) = of_part {
        scene.ask(Action::Select(Selected::Part(of.0)));
        scene.ask(Action::WorkOn(of));
    }
    if let Some(at) = menu {
        scene.ask(Action::ShowMenu(at, Of::Step));
    }
    let tip = if cut_off { format!("{text}. {SELECTS}") } else { SELECTS.to_owned() };
    if response.hovered()
        && let Some(panel) = names.panel(step)
    {
        scene.now_hovered = Some(panel);
    }
    let response = response.tip(&tip);
    pushed(ui, &response, (step, document.steps.len()), id)
}

/// What a step folds, and what it tucks under what: "Left flap under Top flap" says both.
fn with_tucks(name: String, tucks: &[String]) -> String {
    let says_it_all = |tuck: &String| tuck.strip_prefix(&name).is_some_and(|rest| rest.starts_with(" under "));
    match tucks {
        [only] if says_it_all(only) => only.clone(),
        tucks => std::iter::once(name).chain(tucks.iter().cloned()).collect::<Vec<_>>().join(", "),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use model::{Document, Edit, LineId, Size, Step, Unit};

    fn document(steps: &[&[u32]]) -> Document {
        let mut document = Document::new(Size::parse("12x12in").unwrap(), Unit::Inch);
        document.steps = steps.iter().map(|ids| Step::of(ids.iter().map(|id| LineId(*id)).collect())).collect();
        document
    }

    #[track_caller]
    fn check(edit: Option<Edit>, expected: &[&[u32]]) {
        assert_eq!(edit, Some(Edit::SetSteps(document(expected).steps)));
    }

    #[test]
    fn what_is_tucked_is_said_once() {
        let check = |name: &str, tucks: &[&str], expected: &str| {
            let tucks: Vec<String> = tucks.iter().map(|&tuck| tuck.to_owned()).collect();
            assert_eq!(with_tucks(name.to_owned(), &tucks), expected);
        };
        check("Left flap", &[], "Left flap");
        check("Left flap", &["Left flap under Top flap"], "Left flap under Top flap");
        check("Left flap", &["Left flap 2 under Top flap"], "Left flap, Left flap 2 under Top flap");
        check("Left fold", &["A under B", "C under D"], "Left fold, A under B, C under D");
    }

    #[test]
    fn the_last_line_of_a_step_is_parted() {
        check(last_apart(&document(&[&[1, 2], &[3]]), 0), &[&[1], &[2], &[3]]);
    }
}
