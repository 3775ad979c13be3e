//! Designs begun from a starter, or from what should go in.

use super::*;
use egui::Key;
use std::time::{Duration, Instant};

const CONTROL: Modifiers = Modifiers::COMMAND;

/// Runs until something is so.
#[track_caller]
fn wait(bench: &mut Bench, is_so: impl Fn(&Bench) -> bool) {
    let begun = Instant::now();
    while !is_so(bench) {
        assert!(begun.elapsed() < Duration::from_secs(300), "it does not come");
        std::thread::sleep(Duration::from_millis(5));
        bench.step();
    }
    bench.run();
}

fn title(bench: &Bench) -> String {
    bench.state().session().document().title.clone()
}

fn small() -> Bench {
    let window = Window::new(document(), None, Box::new(Scripted::new([])));
    let mut bench = Harness::builder()
        .with_size(Vec2::new(1280.0, 720.0))
        .with_context_setup(Window::set_up)
        .build_ui_state(|ui, window: &mut Window| window.ui(ui), window);
    bench.run();
    bench
}

#[test]
fn every_starter_is_a_card_that_is_seen_whole_in_a_small_window_once_it_is_gone_to() {
    let mut bench = small();
    key(&mut bench, CONTROL, Key::T);
    let screen = egui::Rect::from_min_size(Pos2::ZERO, Vec2::new(1280.0, 720.0));
    for (number, starter) in file::starters::ALL.iter().enumerate() {
        if number > 0 {
            key(&mut bench, Modifiers::NONE, Key::ArrowRight);
        }
        let design = file::from_text(starter.text).unwrap();
        let size = design.stock.size.text(design.units);
        let label = format!("{}, {size} sheet. {}", design.title, starter.about);
        let card = bench.get_by_role_and_label(Role::Button, &label).rect();
        assert!(screen.contains_rect(card) && card.width() > 200.0, "{label}: {card:?}");
    }
    for answer in ["Begin with this one", "Keep editing"] {
        assert!(screen.contains_rect(bench.get_by_role_and_label(Role::Button, answer).rect()), "{answer}");
    }
    key(&mut bench, Modifiers::NONE, Key::Escape);
    assert!(!exists(&bench, "Begin with this one") && bench.state().session().document() == &document());
}

#[test]
fn a_starter_is_chosen_by_arrows_and_opened_with_its_pictures_as_a_design_without_a_file() {
    let mut bench = bench_with(document(), Some("swap.folio".into()), []);
    key(&mut bench, CONTROL, Key::T);
    for arrow in [Key::ArrowRight, Key::ArrowRight, Key::ArrowDown, Key::ArrowLeft] {
        key(&mut bench, Modifiers::NONE, arrow);
    }
    key(&mut bench, Modifiers::NONE, Key::Enter);
    let starter = file::starters::ALL[5];
    assert_eq!(bench.state().session().document(), &file::from_text(starter.text).unwrap());
    assert_eq!(bench.state().file(), None);
    assert!(exists(&bench, "This is a copy of"));
    wait(&mut bench, |bench| bench.state().artwork.readings() > 0);
    assert!(bench.state().artwork.prints().on_sheet(None, model::Face::Front).is_some());
}

#[test]
fn arrows_stop_at_the_last_card_and_a_click_chooses() {
    let mut bench = bench();
    key(&mut bench, CONTROL, Key::T);
    for _ in 0..20 {
        key(&mut bench, Modifiers::NONE, Key::ArrowRight);
    }
    key(&mut bench, Modifiers::NONE, Key::ArrowDown);
    press(&mut bench, "Begin with this one");
    let last = file::starters::ALL.last().expect("there are starters");
    assert_eq!(title(&bench), file::from_text(last.text).unwrap().title);
    key(&mut bench, CONTROL, Key::T);
    let card = bench.get_by_label_contains("Garden gate folio, 12 x 12 in sheet.").rect().center();
    click_at(&mut bench, card);
    assert_eq!(title(&bench), "Garden gate folio");
}

#[test]
fn unsaved_work_is_seen_to_before_a_starter_takes_its_place() {
    let mut bench = bench();
    key(&mut bench, Modifiers::NONE, Key::A);
    let lines = bench.state().session().document().lines.len();
    key(&mut bench, CONTROL, Key::T);
    key(&mut bench, Modifiers::NONE, Key::Enter);
    assert!(exists(&bench, "before you begin another design"));
    press(&mut bench, "Keep editing");
    assert_eq!(bench.state().session().document().lines.len(), lines);
    key(&mut bench, CONTROL, Key::T);
    key(&mut bench, Modifiers::NONE, Key::Enter);
    press(&mut bench, "Don't save");
    assert_eq!(title(&bench), "Seed swap folio");
}

#[test]
fn pictures_of_the_starters_come_while_the_window_goes_on() {
    let mut bench = bench();
    key(&mut bench, CONTROL, Key::T);
    let ctx = bench.ctx.clone();
    let begun = Instant::now();
    loop {
        let cards = bench.state_mut().begins.gallery.cards(&ctx);
        if cards.len() == file::starters::ALL.len() && cards.iter().all(|card| card.pictures.is_some()) {
            break;
        }
        assert!(begun.elapsed() < Duration::from_secs(300), "they do not come");
        std::thread::sleep(Duration::from_millis(20));
        bench.step();
    }
    bench.run();
}

#[test]
fn what_goes_in_gives_a_folio_to_begin() {
    let mut bench = bench();
    key(&mut bench, CONTROL, Key::I);
    wait(&mut bench, |bench| exists(bench, "Base: 4 5/8 in x 3 3/8 in"));
    // By hand in the tests of the measures: these packets need 10 1/8 x 9 in.
    assert!(exists(&bench, "Left of the sheet: 1 7/8 in at the right, 3 in below"));
    type_into(&mut bench, "Width of Seed packet", "9 / 2 + 1/4");
    assert_eq!(shown(&bench, "Width of Seed packet"), "4 3/4 in");
    wait(&mut bench, |bench| exists(bench, "Base: 4 7/8 in x 3 3/8 in"));
    press(&mut bench, "Begin this folio");
    assert_eq!(title(&bench), "Folio for what goes in");
    let document = bench.state().session().document();
    assert_eq!((document.parts.len(), bench.state().file()), (1, None));
    assert!(bench.state().session().derived().findings.iter().all(|found| found.severity == check::Severity::Note));
}

#[test]
fn why_nothing_holds_it_is_said_and_nothing_can_be_begun() {
    let mut bench = bench();
    key(&mut bench, CONTROL, Key::I);
    type_into(&mut bench, "Size of the sheet", "6 x 6 in");
    wait(&mut bench, |bench| exists(bench, "is too small for these; one of 10 1/8 in x 9 in would do."));
    assert!(!exists(&bench, "Begin this folio"));
    type_into(&mut bench, "Number of Seed packet", "some");
    assert!(exists(&bench, "\"some\" is no count"));
    press(&mut bench, "Leave Seed packet out");
    wait(&mut bench, |bench| exists(bench, "There is nothing to go in; say what should."));
    press(&mut bench, "Add a thing");
    type_into(&mut bench, "Name of thing 1", "Card");
    type_into(&mut bench, "Height of Card", "0");
    assert!(exists(&bench, "Give more than 0."));
}

#[test]
fn the_first_start_shows_a_design_and_three_sentences_and_no_question() {
    let state = tempfile::tempdir().unwrap();
    let window = Window::new(file::starters::demo(), None, Box::new(Scripted::new([])))
        .remembering(keep::Keep::at(state.path().join("state")));
    let bench = bench_of(window);
    assert!(exists(&bench, "F12 says how a folio is made from nothing") && exists(&bench, "Got it"));
    assert!(bench.state().dialog.is_none());
}

#[test]
fn the_about_box_says_version_and_licences_of_all_that_is_built_in() {
    let mut bench = small();
    key(&mut bench, Modifiers::SHIFT, Key::F1);
    assert!(exists(&bench, &format!("Foliowright {}", about::VERSION)));
    assert!(exists(&bench, "MIT licence or the Apache licence 2.0"));
    let first = about::dependencies().next().unwrap();
    assert!(exists(&bench, &format!("{} {}: {}", first.name, first.version, first.licence)));
    press(&mut bench, "Close");
    assert!(bench.state().dialog.is_none());
}
