//! Long lists to choose from: all commands, the steps so far, the designs that were open last. Typing narrows them down.

use super::{Answer, Dialog, answers, title};
use crate::arrangement::Arrangement;
use crate::commands;
use crate::pane::Scene;
use crate::theme::{self, BODY, SMALL, caption, colour, palette, plain};
use crate::tip::Tip as _;
use egui::{Id, Key, Modifiers, Pos2, Rect, ScrollArea, Sense, TextEdit, Ui, Vec2, WidgetInfo, accesskit};
use session::command::TABLE;
use std::path::{Path, PathBuf};

/// The least and the greatest height of the list, px.
const HEIGHT: (f32, f32) = (110.0, 340.0);

/// What the dialog takes of the window's height beside the list, px.
const BESIDE: f32 = 216.0;

/// What is listed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Sort {
    /// Every command.
    Commands,
    /// Every step so far.
    History,
    /// Designs that were open last.
    Recent,
}

/// A list that is open.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct List {
    sort: Sort,
    /// What was typed to narrow it down.
    typed: String,
    /// The row that enter chooses, counted among those that are shown.
    at: usize,
}

/// A row of a list.
struct Row {
    text: String,
    /// At the right: the keys.
    aside: String,
    /// Under the text, in small.
    more: String,
    enabled: bool,
    answer: Answer,
}

impl List {
    /// A list as it is when it is opened.
    pub(crate) const fn new(sort: Sort) -> Self {
        Self { sort, typed: String::new(), at: 0 }
    }

    /// The steps so far, at the one that the design is at.
    pub(crate) const fn at(sort: Sort, at: usize) -> Self {
        Self { sort, typed: String::new(), at }
    }
}

/// Shows the list.
pub(super) fn ui(ui: &mut Ui, scene: &Scene<'_>, list: &mut List, arrangement: &Arrangement) -> Option<Answer> {
    let (heading, hint, none) = match list.sort {
        Sort::Commands => ("All commands", "Type a word of what you want to do", "No command is called so."),
        Sort::History => ("Steps so far", "Type a word of a step", "No step is called so."),
        Sort::Recent => ("Open recent", "Type a part of the name", "No design is remembered by that name."),
    };
    title(ui, heading);
    let moved = ui.input_mut(|input| {
        let mut pressed = |key| input.count_and_consume_key(Modifiers::NONE, key);
        [Key::ArrowDown, Key::ArrowUp, Key::PageDown, Key::PageUp].map(&mut pressed)
    });
    let edit =
        TextEdit::singleline(&mut list.typed).id(Id::unique("search")).desired_width(f32::INFINITY).hint_text(hint);
    let response =
        ui.add(edit).accessible_name("Search").tip("Type words to narrow the list down; arrows and Enter choose.");
    // Asked before it gets the focus again.
    let entered = response.lost_focus() && ui.input(|input| input.key_pressed(Key::Enter));
    if !response.has_focus() && ui.memory(|memory| memory.focused().is_none()) {
        response.request_focus();
    }
    if response.changed() {
        list.at = 0;
    }
    let mut rows: Vec<Row> = rows(scene, list.sort, arrangement);
    rows.retain(|row| is_meant(row, &list.typed));
    if list.sort == Sort::Commands && !list.typed.is_empty() {
        // What is called so, before what only speaks of it.
        rows.sort_by_key(|row| !has_words(&row.text, &list.typed));
    }
    let last = rows.len().saturating_sub(1);
    let [down, up, page_down, page_up] = moved;
    list.at = (list.at + down + 10 * page_down).min(last).saturating_sub(up + 10 * page_up);
    let jumps = moved.iter().any(|count| *count > 0);
    let mut chosen = None;
    let height = (ui.ctx().content_rect().height() - BESIDE).clamp(HEIGHT.0, HEIGHT.1);
    ScrollArea::vertical().max_height(height).min_scrolled_height(height).auto_shrink([false, false]).show(ui, |ui| {
        ui.spacing_mut().item_spacing.y = 1.0;
        for (index, row) in rows.iter().enumerate() {
            let is_at = index == list.at;
            let response = show(ui, row, is_at);
            if is_at && (jumps || response.gained_focus()) {
                response.scroll_to_me(None);
            }
            if response.clicked() || (entered && is_at && row.enabled) {
                chosen = Some(row.answer.clone());
            }
        }
        if rows.is_empty() {
            ui.label(caption(if list.typed.is_empty() { "There is nothing here yet." } else { none }));
        }
    });
    let entered_nothing = entered && chosen.is_none();
    if entered_nothing {
        response.request_focus();
    }
    let closed = answers(ui, [("Close", Answer::Never)]);
    chosen.or(closed)
}

fn show(ui: &mut Ui, row: &Row, is_at: bool) -> egui::Response {
    let height = if row.more.is_empty() { 26.0 } else { 42.0 };
    let sense = if row.enabled { Sense::click() } else { Sense::hover() };
    let (rect, response) = ui.allocate_exact_size(Vec2::new(ui.available_width(), height), sense);
    let label = match row.aside.as_str() {
        "" => row.text.clone(),
        aside => format!("{}, {aside}", row.text),
    };
    response.widget_info(|| WidgetInfo::selected(accesskit::Role::Button, row.enabled, is_at, &label));
    if !ui.is_rect_visible(rect) {
        return response.tip(tip(row));
    }
    let painter = theme::row(ui, &response, rect, is_at);
    let ink = if row.enabled { palette().text } else { palette().quiet };
    let aside = painter.layout_no_wrap(row.aside.clone(), plain(SMALL + 0.5), colour(palette().quiet));
    let room = rect.width() - aside.size().x - 30.0;
    let text = theme::shortened(&painter, &row.text, plain(BODY), room);
    painter.galley_with_override_text_color(Pos2::new(rect.left() + 8.0, rect.top() + 4.0), text, colour(ink));
    let at = Pos2::new(rect.right() - 8.0 - aside.size().x, rect.top() + 5.0);
    painter.galley(at, aside, colour(palette().quiet));
    if !row.more.is_empty() {
        let more = theme::shortened(&painter, &row.more, plain(SMALL), rect.width() - 16.0);
        let at = Rect::from_min_size(Pos2::new(rect.left() + 8.0, rect.top() + 22.0), more.size()).min;
        painter.galley_with_override_text_color(at, more, colour(palette().quiet));
    }
    response.tip(tip(row))
}

/// What choosing a row does.
fn tip(row: &Row) -> &str {
    match &row.answer {
        Answer::Run(command) => command.entry().tooltip,
        other => super::tip(other),
    }
}

/// Whether every word that was typed is somewhere in a row.
fn is_meant(row: &Row, typed: &str) -> bool {
    has_words(&format!("{} {} {}", row.text, row.aside, row.more), typed)
}

fn has_words(text: &str, typed: &str) -> bool {
    let text = text.to_lowercase();
    typed.to_lowercase().split_whitespace().all(|word| text.contains(word))
}

fn rows(scene: &Scene<'_>, sort: Sort, arrangement: &Arrangement) -> Vec<Row> {
    match sort {
        Sort::Commands => TABLE
            .iter()
            .map(|entry| Row {
                text: entry.label.to_owned(),
                aside: entry.shortcut.map(session::Shortcut::text).unwrap_or_default(),
                more: entry.tooltip.to_owned(),
                enabled: commands::is_possible(scene, entry.command),
                answer: Answer::Run(entry.command),
            })
            .collect(),
        Sort::History => history(scene),
        Sort::Recent => arrangement.recent().iter().map(|path| recent(path)).collect(),
    }
}

fn history(scene: &Scene<'_>) -> Vec<Row> {
    let (steps, made) = scene.session.steps();
    let names = std::iter::once("The design as it was at first").chain(steps);
    names
        .enumerate()
        .map(|(count, name)| Row {
            text: if count == 0 { name.to_owned() } else { format!("{count}  {name}") },
            aside: match count.cmp(&made) {
                std::cmp::Ordering::Less => String::new(),
                std::cmp::Ordering::Equal => "now".to_owned(),
                std::cmp::Ordering::Greater => "taken back".to_owned(),
            },
            more: String::new(),
            enabled: true,
            answer: Answer::GoTo(count),
        })
        .collect()
}

fn recent(path: &str) -> Row {
    let place = Path::new(path);
    let part =
        |part: Option<&std::ffi::OsStr>| part.map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
    Row {
        text: part(place.file_stem()),
        aside: String::new(),
        more: part(place.parent().map(Path::as_os_str)),
        enabled: true,
        answer: Answer::Recent(PathBuf::from(path)),
    }
}

/// The list as a question over the window.
impl From<List> for Dialog {
    fn from(list: List) -> Self {
        Self::List(list)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_word_that_is_typed_must_be_there() {
        let row = |text: &str, more: &str| Row {
            text: text.to_owned(),
            aside: "Ctrl+Z".to_owned(),
            more: more.to_owned(),
            enabled: true,
            answer: Answer::Never,
        };
        let undo = row("Undo", "Take the last change back.");
        for (typed, expected) in
            [("", true), ("un", true), ("BACK take", true), ("ctrl+z", true), ("undo twice", false), ("score", false)]
        {
            assert_eq!(is_meant(&undo, typed), expected, "{typed}");
        }
    }
}
