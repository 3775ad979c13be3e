//! The order in which the folio and its parts are made.

use crate::icon::Icon;
use crate::menu::{self, Of};
use crate::pane::reorder::{Move, Outcome, Reorder, Rows, pushed};
use crate::pane::{Action, OrderList, Scene};
use crate::theme::{self, BODY, bold, caption, colour, complaint, palette, plain};
use crate::tip::Tip as _;
use egui::{Id, Label, Pos2, Rect, RichText, ScrollArea, Sense, Ui, UiBuilder, Vec2, WidgetInfo, accesskit};
use make::{Making, Words};
use model::part::{Job, Paper};
use model::{Document, Edit, PartId};
use session::Selected;

/// The two buttons of a row with what lies between, px.
const BUTTONS: f32 = 2.0 * 26.0 + 3.0;

/// Above and below the words of a row, px.
const PADDING: f32 = 5.0;

/// Shows the list.
pub(crate) fn ui(ui: &mut Ui, scene: &mut Scene<'_>, carried: &mut Reorder) {
    let document = scene.session.document();
    let making = scene.session.derived().making(document);
    ScrollArea::vertical().auto_shrink(false).min_scrolled_height(0.0).show(ui, |ui| {
        ui.spacing_mut().item_spacing.y = 2.0;
        for circle in &making.circles {
            ui.add(Label::new(complaint(&circle.sentence(document))).wrap());
        }
        let words = Words { document, layout: &scene.session.derived().layout, making };
        let mut rows = Rows::new(carried, scene, OrderList::Making);
        for (place, &job) in making.jobs.iter().enumerate() {
            row(ui, scene, (&mut rows, making), (place, job), &words.instruction(job));
        }
        let name = |place: usize| match making.jobs.get(place) {
            Some(&job) => format!("Job {}, {}", place + 1, words.instruction(job)),
            None => format!("Job {}", place + 1),
        };
        if let Some(asked) = rows.follow(ui, scene, name, |from, to| outcome(document, making, from, to)) {
            put(ui, scene, making, asked);
        }
        if making.jobs.is_empty() {
            ui.label(caption("Nothing to make yet: no score, no cut, no part."));
        }
        let cautions = making.cautions(document);
        if !cautions.is_empty() {
            ui.add_space(4.0);
            ui.label(RichText::new("What to mind").font(bold(13.0)));
        }
        ui.spacing_mut().item_spacing.y = 6.0;
        for (_, caution) in cautions {
            ui.add(Label::new(caption(caution.sentence())).wrap());
        }
    });
}

fn row(
    ui: &mut Ui,
    scene: &mut Scene<'_>,
    (rows, making): (&mut Rows<'_>, &Making),
    (place, job): (usize, Job),
    text: &str,
) {
    let width = ui.available_width();
    let words = format!("{}  {text}", place + 1);
    let ink = colour(palette().text);
    let galley = ui.painter().layout(words, plain(BODY), ink, width - BUTTONS - 42.0);
    let height = (galley.size().y + 2.0 * PADDING).max(ui.spacing().interact_size.y);
    let (rect, _) = ui.allocate_exact_size(Vec2::new(width, height), Sense::hover());
    let buttons = Rect::from_min_max(Pos2::new(rect.right() - BUTTONS, rect.top()), rect.max);
    let rest = rows.grip(ui, rect, &format!("job {}", place + 1));
    let name = Rect::from_min_max(rest.min, Pos2::new(buttons.left() - 6.0, rest.bottom()));
    let response = ui.interact(name, id(place), Sense::click());
    let part = part_of(job);
    let selected = part.is_some() && scene.session.selected().part() == part;
    let label = format!("Job {}: {text}", place + 1);
    response.widget_info(|| WidgetInfo::selected(accesskit::Role::Button, true, selected, &label));
    let painter = theme::row(ui, &response, name, selected);
    painter.galley(Pos2::new(name.left() + 9.0, name.center().y - galley.size().y / 2.0), galley, ink);
    let tip = match part {
        Some(_) => "Select the part that this job is about; Alt+Up and Alt+Down do it earlier or later.",
        None => "A job on the folio itself; Alt+Up and Alt+Down do it earlier or later.",
    };
    let response = response.tip(tip);
    let menu = part.and_then(|_| menu::asked(scene, &response));
    if let (true, Some(part)) = (response.clicked() || menu.is_some(), part) {
        scene.ask(Action::Select(Selected::Part(part)));
    }
    if let Some(at) = menu {
        scene.ask(Action::ShowMenu(at, Of::Selected));
    }
    let last = making.jobs.len().saturating_sub(1);
    let mut asked = pushed(ui, &response, (place, making.jobs.len()), id);
    let to = |to| Some(Move { from: place, to, insists: false });
    ui.scope_builder(UiBuilder::new().max_rect(buttons), |ui| {
        ui.horizontal(|ui| {
            ui.spacing_mut().item_spacing.x = 3.0;
            if Icon::Up.button(ui, &format!("Do job {} earlier", place + 1), place > 0).clicked() {
                asked = to(place.saturating_sub(1));
            }
            if Icon::Down.button(ui, &format!("Do job {} later", place + 1), place < last).clicked() {
                asked = to(place + 1);
            }
        });
    });
    ui.advance_cursor_after_rect(rect);
    if let Some(asked) = asked {
        put(ui, scene, making, asked);
    }
}

/// What comes of a job in another place, in words.
fn outcome(document: &Document, making: &Making, from: usize, to: usize) -> Outcome {
    let moved = making.jobs.get(from).map(|&job| making.may_move(job, to));
    let (fits, said) = match moved {
        Some(Err(blocked)) => (false, format!("Not as job {}: {}", to + 1, blocked.why.sentence(document))),
        _ => (true, format!("Job {} as job {}: no reason speaks against it.", from + 1, to + 1)),
    };
    Outcome { fits, said }
}

/// Puts a job in another place, or says what is in its way. No insisting helps: the reasons are those of glue and paper.
fn put(ui: &Ui, scene: &mut Scene<'_>, making: &Making, Move { from, to, .. }: Move) {
    let Some(&job) = making.jobs.get(from) else { return };
    let said = outcome(scene.session.document(), making, from, to).said;
    match making.may_move(job, to) {
        Ok(jobs) => {
            scene.edit("Change the making order", Edit::SetMaking(jobs));
            scene.ask(Action::Report(said));
            let focused = ui.memory(|memory| memory.has_focus(id(from)));
            if focused {
                ui.memory_mut(|memory| memory.request_focus(id(to)));
            }
        }
        Err(_) => scene.ask(Action::Complain(said)),
    }
}

/// The row of a job.
fn id(place: usize) -> Id {
    Id::unique(("job", place))
}

/// The part that a job is about.
const fn part_of(job: Job) -> Option<PartId> {
    match job {
        Job::Score(Paper::Part(id)) | Job::Cut(Paper::Part(id)) | Job::Fold(id) | Job::Put(id) => Some(id),
        Job::Score(Paper::Folio) | Job::Cut(Paper::Folio) | Job::Close => None,
    }
}
