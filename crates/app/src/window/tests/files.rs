//! New, open, save, export, and changes that are not saved.

use super::*;
use egui::Key;
use std::path::PathBuf;

fn folder() -> (tempfile::TempDir, impl Fn(&str) -> PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().to_owned();
    (folder, move |name| path.join(name))
}

fn change(bench: &mut Bench) {
    bench.get_by_label("Score line Left fold").focus();
    bench.run();
    key(bench, Modifiers::NONE, Key::ArrowRight);
}

#[test]
fn a_design_is_saved_as_and_saved_again() {
    let (_keep, at) = folder();
    let mut bench = bench_with(document(), None, [Chosen::File(at("swap.folio"))]);
    change(&mut bench);
    assert!(exists(&bench, "Not saved yet"));
    key(&mut bench, Modifiers::COMMAND, Key::S);
    assert!(!bench.state().session().is_changed());
    let read = || disk::read_design(&at("swap.folio")).unwrap();
    assert_eq!(&read(), bench.state().session().document());
    change(&mut bench);
    assert_ne!(&read(), bench.state().session().document());
    key(&mut bench, Modifiers::COMMAND, Key::S);
    assert_eq!(&read(), bench.state().session().document(), "no question the second time");
}

#[test]
fn changes_are_kept_saved_or_let_go_before_another_design_opens() {
    let (_keep, at) = folder();
    disk::save_design(&at("other.folio"), &Document::new(Size::parse("A4").unwrap(), Unit::Millimetre)).unwrap();
    let answers = [Chosen::File(at("mine.folio")), Chosen::File(at("other.folio"))];
    let mut bench = bench_with(document(), None, answers);
    change(&mut bench);
    key(&mut bench, Modifiers::COMMAND, Key::O);
    press(&mut bench, "Keep editing");
    assert!(bench.state().session().is_changed() && !at("mine.folio").exists());
    key(&mut bench, Modifiers::COMMAND, Key::O);
    let save = |bench: &Bench| bench.query_all_by_role_and_label(Role::Button, "Save").last().unwrap().rect().center();
    let in_the_question = save(&bench);
    click_at(&mut bench, in_the_question);
    assert!(at("mine.folio").exists());
    assert_eq!(bench.state().session().document().stock.size, Size::parse("A4").unwrap());
    assert_eq!(bench.state().file(), Some(&at("other.folio")));
}

#[test]
fn changes_let_go_are_gone() {
    let (_keep, at) = folder();
    disk::save_design(&at("other.folio"), &Document::new(Size::parse("A4").unwrap(), Unit::Millimetre)).unwrap();
    let mut bench = bench_with(document(), None, [Chosen::File(at("other.folio"))]);
    change(&mut bench);
    key(&mut bench, Modifiers::COMMAND, Key::O);
    press(&mut bench, "Don't save");
    assert!(bench.state().session().document().lines.is_empty());
}

#[test]
fn quitting_waits_for_unsaved_changes() {
    let mut bench = bench();
    change(&mut bench);
    key(&mut bench, Modifiers::COMMAND, Key::Q);
    assert!(!bench.state().is_ending());
    key(&mut bench, Modifiers::NONE, Key::Escape);
    assert!(!exists(&bench, "Save the changes first?"));
    key(&mut bench, Modifiers::COMMAND, Key::Q);
    press(&mut bench, "Don't save");
    assert!(bench.state().is_ending());
}

#[test]
fn quitting_with_nothing_to_lose_asks_nothing() {
    let mut bench = bench();
    key(&mut bench, Modifiers::COMMAND, Key::Q);
    assert!(bench.state().is_ending());
}

#[test]
fn a_new_sheet_is_asked_for_its_size() {
    let mut bench = bench();
    key(&mut bench, Modifiers::COMMAND, Key::N);
    let field = |bench: &Bench| bench.get_by_role_and_label(Role::TextInput, "Size of the sheet").rect();
    assert!(field(&bench).width() > 100.0);
    bench.key_press_modifiers(Modifiers::COMMAND, Key::A);
    bench.get_by_role_and_label(Role::TextInput, "Size of the sheet").type_text("8 by 8");
    bench.run();
    press(&mut bench, "Start");
    assert!(exists(&bench, "is not a size"));
    bench.get_by_role_and_label(Role::TextInput, "Size of the sheet").click();
    bench.run();
    bench.key_press_modifiers(Modifiers::COMMAND, Key::A);
    bench.get_by_role_and_label(Role::TextInput, "Size of the sheet").type_text("8x8in");
    bench.run();
    key(&mut bench, Modifiers::NONE, Key::Enter);
    let document = bench.state().session().document();
    assert_eq!((document.stock.size, document.lines.len()), (Size::parse("8x8in").unwrap(), 0));
}

#[test]
fn a_new_sheet_is_shown_in_what_it_was_measured_in() {
    for (text, units) in [("A5", Unit::Millimetre), ("8 1/2 x 11 in", Unit::Inch)] {
        let mut bench = bench();
        key(&mut bench, Modifiers::COMMAND, Key::N);
        // What stands there is selected: typing replaces it.
        bench.get_by_role_and_label(Role::TextInput, "Size of the sheet").type_text(text);
        bench.run();
        key(&mut bench, Modifiers::NONE, Key::Enter);
        let document = bench.state().session().document();
        assert_eq!((document.stock.size, document.units), (Size::parse(text).unwrap(), units));
    }
}

#[test]
fn without_a_dialog_a_path_is_typed() {
    let (_keep, at) = folder();
    let mut bench = bench_with(document(), Some(at("design.folio")), [Chosen::NoDialog]);
    key(&mut bench, Modifiers::COMMAND | Modifiers::SHIFT, Key::S);
    let field = bench.get_by_role_and_label(Role::TextInput, "Path of the file");
    assert!(field.value().unwrap().ends_with(".folio"));
    field.click();
    bench.run();
    bench.key_press_modifiers(Modifiers::COMMAND, Key::A);
    let typed = at("typed").to_string_lossy().into_owned();
    bench.get_by_role_and_label(Role::TextInput, "Path of the file").type_text(&typed);
    bench.run();
    key(&mut bench, Modifiers::NONE, Key::Enter);
    assert!(at("typed.folio").exists());
}

#[test]
fn a_file_that_cannot_be_read_changes_nothing() {
    let (_keep, at) = folder();
    std::fs::write(at("broken.folio"), "not a design").unwrap();
    let mut bench = bench_with(document(), None, [Chosen::File(at("broken.folio"))]);
    key(&mut bench, Modifiers::COMMAND, Key::O);
    assert!(exists(&bench, "broken.folio"), "the complaint names the file");
    assert_eq!(bench.state().session().document(), &document());
    press(&mut bench, "Keep editing");
    assert!(bench.state().dialog.is_none());
}

#[test]
fn a_dialog_closed_without_a_file_is_no_more() {
    let mut bench = bench_with(document(), None, [Chosen::Nothing]);
    key(&mut bench, Modifiers::COMMAND, Key::O);
    assert!(bench.state().dialog.is_none());
}

/// Steps until an export under way has ended.
fn wait(bench: &mut Bench) {
    let begun = std::time::Instant::now();
    while bench.state().work.is_some() {
        assert!(begun.elapsed() < std::time::Duration::from_secs(300), "it does not end");
        std::thread::sleep(std::time::Duration::from_millis(5));
        bench.step();
    }
    bench.run();
}

#[test]
fn every_kind_is_exported() {
    let (_keep, at) = folder();
    let kinds = [
        ("Template", "a.pdf", b"%PDF".as_slice()),
        ("Booklet", "b.pdf", b"%PDF"),
        ("Cards and mats", "c.pdf", b"%PDF"),
        ("Cutting file", "d.dxf", b"  0"),
        ("Picture", "e.svg", b"<"),
        ("Contact sheet", "f.png", b"\x89PNG"),
        ("Animation", "h.gif", b"GIF89a"),
    ];
    let all = crate::export::Kind::ALL.map(crate::export::Kind::name);
    assert_eq!(kinds.map(|(kind, _, _)| kind), all, "the kinds in the order of their list");
    let answers = kinds.map(|(_, name, _)| Chosen::File(at(name)));
    let mut bench = bench_with(file::starters::demo(), None, answers);
    // Small, and few pictures, so that it takes no time.
    bench.state_mut().choices.moving_width = 60;
    bench.state_mut().choices.pace = draw::animation::Pace { per_step: 2, hold: 20 };
    for (kind, name, start) in kinds {
        key(&mut bench, Modifiers::COMMAND, Key::P);
        press(&mut bench, kind);
        press(&mut bench, "Export to a file…");
        wait(&mut bench);
        assert!(std::fs::read(at(name)).unwrap().starts_with(start), "{kind}");
        assert!(exists(&bench, &format!("Exported to {}", at(name).display())), "{kind}");
    }
}

#[test]
fn what_is_chosen_is_what_is_made_and_stays_chosen() {
    let (_keep, at) = folder();
    let answers = ["a.pdf", "b.svg"].map(|name| Chosen::File(at(name)));
    let mut bench = bench_with(document(), None, answers);
    key(&mut bench, Modifiers::COMMAND, Key::P);
    assert!(exists(&bench, "Page 1 of"), "its pages are looked at before");
    choose(&mut bench, "Paper", "One large page");
    press(&mut bench, "Next page");
    assert!(exists(&bench, "Page 2 of"));
    press(&mut bench, "Export to a file…");
    wait(&mut bench);
    assert!(std::fs::read(at("a.pdf")).unwrap().starts_with(b"%PDF"));
    key(&mut bench, Modifiers::COMMAND, Key::P);
    assert_eq!(bench.state().choices.template.paper, draw::template::Paper::Sheet);
    press(&mut bench, "Keep editing");
    key(&mut bench, Modifiers::COMMAND | Modifiers::SHIFT, Key::P);
    choose(&mut bench, "Picture of", "The folio, as it is shown now");
    press(&mut bench, "Export to a file…");
    wait(&mut bench);
    assert!(std::fs::read_to_string(at("b.svg")).unwrap().contains("<svg"));
}

#[test]
fn why_there_is_no_export_is_told_before_a_file_is_chosen() {
    let mut flat = document();
    flat.base = None;
    let mut bench = bench_with(flat, None, []);
    key(&mut bench, Modifiers::COMMAND, Key::P);
    press(&mut bench, "Contact sheet");
    assert!(exists(&bench, "No panel is marked as the base") || exists(&bench, "no panel is marked as the base"));
    assert!(!exists(&bench, "Export to a file…"));
    press(&mut bench, "Keep editing");
    assert!(bench.state().dialog.is_none());
}

#[test]
fn enter_gives_the_usual_answer() {
    let (_keep, at) = folder();
    let mut bench = bench_with(document(), Some(at("swap.folio")), []);
    change(&mut bench);
    key(&mut bench, Modifiers::COMMAND, Key::Q);
    key(&mut bench, Modifiers::NONE, Key::Enter);
    assert!(at("swap.folio").exists() && bench.state().is_ending());
}

#[test]
fn enter_does_not_replace_a_file() {
    let (_keep, at) = folder();
    std::fs::write(at("other.folio"), "kept").unwrap();
    let mut bench = bench_with(document(), None, [Chosen::NoDialog]);
    key(&mut bench, Modifiers::COMMAND | Modifiers::SHIFT, Key::S);
    let typed = at("other.folio").to_string_lossy().into_owned();
    bench.get_by_role_and_label(Role::TextInput, "Path of the file").type_text(&typed);
    bench.run();
    key(&mut bench, Modifiers::NONE, Key::Enter);
    key(&mut bench, Modifiers::NONE, Key::Enter);
    assert!(exists(&bench, "Replace the file?"));
    assert_eq!(std::fs::read_to_string(at("other.folio")).unwrap(), "kept");
}

#[test]
fn a_file_is_typed_after_the_folder() {
    let (_keep, at) = folder();
    disk::save_design(&at("other.folio"), &Document::new(Size::parse("A4").unwrap(), Unit::Millimetre)).unwrap();
    let mut bench = bench_with(document(), Some(at("swap.folio")), [Chosen::NoDialog]);
    key(&mut bench, Modifiers::COMMAND, Key::O);
    bench.get_by_role_and_label(Role::TextInput, "Path of the file").type_text("other.folio");
    bench.run();
    key(&mut bench, Modifiers::NONE, Key::Enter);
    assert_eq!(bench.state().file(), Some(&at("other.folio")));
}
