//! The window as a maker and a screen reader find it: by what things are called, with pointer and keyboard.

mod align;
mod along;
mod arrange;
mod begin;
mod carry;
mod choices;
mod clip;
mod corner;
mod detail;
mod drawing;
mod drop;
mod files;
mod findings;
mod fold;
mod gap;
mod help;
mod lengths;
mod list;
mod lists;
mod menu;
mod own;
mod own_shape;
mod panel;
mod paper;
mod part_detail;
mod parts;
mod reorder;
mod safe;
mod several;
mod sheet;
mod tight;
mod tips;
mod typing;
mod variation;

use super::Window;
use crate::{Chosen, Scripted};
use egui::accesskit::Role;
use egui::{Modifiers, Pos2, Vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use model::change::{add_line, measured_score};
use model::{Document, Length, Line, LineId, Size, Turn, Unit};
use session::Selected;

type Bench = Harness<'static, Window>;

/// A 12 in sheet with scores 3 in and 9 in from the left, and one 2 in from the left once turned.
fn document() -> Document {
    let mut document = Document::new(Size::parse("12x12in").unwrap(), Unit::Inch);
    let scores = [(1, "Left fold", Turn::None, 3), (2, "Right fold", Turn::None, 9), (3, "Top fold", Turn::Once, 2)];
    for (id, name, turn, inches) in scores {
        let line = Line { name: name.to_owned(), ..measured_score(LineId(id), turn, Length::INCH * inches) };
        let edit = add_line(&document, line);
        document.apply(edit).unwrap();
    }
    document
}

fn bench() -> Bench {
    bench_with(document(), None, [])
}

/// A window of the usual size, its first frames drawn.
fn bench_of(window: Window) -> Bench {
    let mut bench = Harness::builder()
        .with_size(Vec2::new(1400.0, 900.0))
        // What a thread works out asks for one more picture, whenever it is done.
        .with_max_steps(16)
        .with_context_setup(Window::set_up)
        .build_ui_state(|ui, window: &mut Window| window.ui(ui), window);
    bench.run();
    bench
}

fn bench_with(
    document: Document,
    file: Option<std::path::PathBuf>,
    answers: impl IntoIterator<Item = Chosen>,
) -> Bench {
    let window = Window::new(document, file, Box::new(Scripted::new(answers)));
    bench_of(window)
}

/// How far a line lies from the left edge of its own turn, in sixty-fourths of an inch.
fn across(bench: &Bench, id: u32) -> i64 {
    let placed = bench.state().session().derived().layout.lines[&LineId(id)].unwrap();
    placed.on_board().unwrap().1.nm() * 64 / Length::INCH.nm()
}

/// Where a line is on the screen: the middle of it.
fn middle_of(bench: &Bench, label: &str) -> Pos2 {
    bench.get_by_label(label).rect().center()
}

/// Px an inch of the sheet as it is shown, from two lines 6 in apart.
fn inch(bench: &Bench) -> f32 {
    (middle_of(bench, "Score line Right fold").x - middle_of(bench, "Score line Left fold").x) / 6.0
}

fn press(bench: &mut Bench, label: &str) {
    bench.get_by_role_and_label(Role::Button, label).click();
    bench.run();
}

fn key(bench: &mut Bench, modifiers: Modifiers, key: egui::Key) {
    bench.key_press_modifiers(modifiers, key);
    bench.run();
}

fn drag(bench: &mut Bench, from: Pos2, to: Pos2) {
    bench.hover_at(from);
    bench.step();
    bench.drag_at(from);
    bench.step();
    for part in 1_u8..=8 {
        bench.hover_at(from.lerp(to, f32::from(part) / 8.0));
        bench.step();
    }
}

fn click_at(bench: &mut Bench, at: Pos2) {
    bench.hover_at(at);
    bench.step();
    bench.drag_at(at);
    bench.step();
    bench.drop_at(at);
    bench.run();
}

fn type_into(bench: &mut Bench, label: &str, text: &str) {
    bench.get_by_role_and_label(Role::TextInput, label).click();
    bench.run();
    bench.key_press_modifiers(Modifiers::COMMAND, egui::Key::A);
    bench.get_by_role_and_label(Role::TextInput, label).type_text(text);
    bench.run();
    key(bench, Modifiers::NONE, egui::Key::Enter);
}

/// What a field shows.
fn shown(bench: &Bench, label: &str) -> String {
    bench.get_by_role_and_label(Role::TextInput, label).value().unwrap()
}

/// Opens a choice and takes one of its options.
fn choose(bench: &mut Bench, choice: &str, option: &str) {
    bench.get_by_role_and_label(Role::ComboBox, choice).click();
    bench.run();
    // Where a button elsewhere has the same name, the option is the one laid over it.
    bench.query_all_by_role_and_label(Role::Button, option).last().unwrap().click();
    bench.run();
}

/// A place on the sheet as drawn, in inches, on the screen.
fn on_sheet(bench: &Bench, x: f32, y: f32) -> Pos2 {
    let left = bench.get_by_label("Score line Left fold").rect();
    let top = bench.get_by_label("Score line Top fold").rect();
    let inch = inch(bench);
    Pos2::new(left.center().x + (x - 3.0) * inch, top.center().y + (y - 2.0) * inch)
}

fn line_of(bench: &Bench, id: u32) -> Line {
    bench.state().session().document().line(LineId(id)).unwrap().clone()
}

fn exists(bench: &Bench, label: &str) -> bool {
    bench.query_all_by_label_contains(label).next().is_some()
}

fn selected_line(bench: &Bench) -> Option<u32> {
    match bench.state().session().selected() {
        Selected::Line { id, .. } => Some(id.0),
        _ => None,
    }
}

/// Mends are tried on a thread of their own.
fn await_mends(bench: &mut Bench) {
    while bench.state().mending.is_some() {
        std::thread::yield_now();
        bench.step();
    }
    bench.run();
}
