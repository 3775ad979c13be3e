//! What is chosen of exports, from one run of the program to the next, and what is printed on the papers.

use super::*;
use keep::Keep;
use model::{Artwork, Face};
use std::fs;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

/// A window on a design's file that remembers in a folder, as the program opens it.
fn opened(file: &Path, state: &Path) -> Bench {
    let document = disk::read_design(file).unwrap();
    let window = Window::new(document, Some(file.to_owned()), Box::new(Scripted::new([]))).remembering(Keep::at(state));
    bench_of(window)
}

fn room() -> (tempfile::TempDir, PathBuf, PathBuf) {
    let room = tempfile::tempdir().unwrap();
    let (file, state) = (room.path().join("swap.folio"), room.path().join("state"));
    disk::save_design(&file, &document()).unwrap();
    (room, file, state)
}

/// Opens the question of exports at one kind.
fn ask(bench: &mut Bench, kind: &str) {
    key(bench, Modifiers::COMMAND, egui::Key::P);
    press(bench, kind);
}

#[test]
fn choices_of_exports_are_there_again_the_next_time() {
    let (_room, file, state) = room();
    let mut bench = opened(&file, &state);
    ask(&mut bench, "Template");
    choose(&mut bench, "Paper", "A3, 297 x 420 mm");
    bench.get_by_label("Also the back, to print on both sides").click();
    bench.run();
    press(&mut bench, "Cutting file");
    choose(&mut bench, "Pieces", "Each by itself");
    press(&mut bench, "Keep editing");
    let chosen = bench.state().choices.clone();
    assert_ne!(chosen, crate::export::Choices::usual(bench.state().session().document()));
    drop(bench);
    let again = opened(&file, &state);
    assert_eq!(again.state().choices, chosen);
    // Another design has its own.
    let other = file.with_file_name("other.folio");
    disk::save_design(&other, &document()).unwrap();
    let usual = crate::export::Choices::usual(&document());
    assert_eq!(opened(&other, &state).state().choices, usual);
    // What can't be read is the usual, and nobody is bothered.
    fs::write(state.join("exports.json"), "{ not json").unwrap();
    assert_eq!(opened(&file, &state).state().choices, usual);
}

#[test]
fn choices_for_a_design_without_a_file_are_remembered_when_it_gets_one() {
    let (room, _, state) = room();
    let place = room.path().join("new.folio");
    let chooser = Box::new(Scripted::new([Chosen::File(place.clone())]));
    let window = Window::new(document(), None, chooser).remembering(Keep::at(&state));
    let mut bench = Harness::builder()
        .with_size(Vec2::new(1400.0, 900.0))
        .with_context_setup(Window::set_up)
        .build_ui_state(|ui, window: &mut Window| window.ui(ui), window);
    bench.run();
    ask(&mut bench, "Booklet");
    choose(&mut bench, "Lengths in", "Both");
    press(&mut bench, "Keep editing");
    let chosen = bench.state().choices.clone();
    assert!(!state.join("exports.json").exists());
    key(&mut bench, Modifiers::COMMAND, egui::Key::S);
    bench.run();
    assert!(place.exists());
    assert_eq!(opened(&place, &state).state().choices, chosen);
}

/// A PNG of one red pixel, by the PNG specification, third edition.
const RED: &[u8] = b"\x89PNG\x0d\x0a\x1a\x0a\x00\x00\x00\x0dIHDR\x00\x00\x00\x01\x00\x00\x00\x01\x08\x02\x00\x00\x00\x90wS\xde\x00\x00\x00\x0cIDATx\x9cc8!'\x07\x00\x02\xb6\x01\x054\xa6u\xaa\x00\x00\x00\x00IEND\xaeB`\x82";

/// Runs until the pictures have come in.
fn wait(bench: &mut Bench) {
    let begun = Instant::now();
    while bench.state().artwork.readings() == 0 {
        assert!(begun.elapsed() < Duration::from_secs(120), "no picture comes in");
        std::thread::sleep(Duration::from_millis(5));
        bench.step();
    }
    bench.run();
}

#[test]
fn what_is_printed_on_the_paper_is_read_once_and_found_on_the_panes() {
    let (room, file, state) = room();
    fs::write(room.path().join("leaves.png"), RED).unwrap();
    let mut document = document();
    let artwork: Artwork = disk::artwork::take_in(&file, &room.path().join("leaves.png"), Length::INCH * 12).unwrap();
    document.stock.side_mut(Face::Front).artwork = Some(artwork);
    disk::save_design(&file, &document).unwrap();
    let mut bench = opened(&file, &state);
    wait(&mut bench);
    assert!(bench.state().artwork.prints().on_sheet(None, Face::Front).is_some());
    let images = |nodes: &[draw::list::Node]| {
        let is_image = |node: &&draw::list::Node| {
            matches!(node, draw::list::Node::Item { shape: draw::list::Shape::Image(_), .. })
        };
        nodes.iter().filter(is_image).count()
    };
    assert_eq!(images(bench.state().sheet.shown_nodes()), 1);
    change_a_line(&mut bench);
    assert_eq!(bench.state().artwork.readings(), 1, "a line that moves asks for no picture");
    assert_eq!(images(bench.state().sheet.shown_nodes()), 1);
    // Gone from the disk, it stays on the screen until the design is opened again.
    fs::remove_dir_all(disk::artwork::folder(&file)).unwrap();
    let again = opened(&file, &state);
    assert!(again.state().artwork.prints().is_empty());
}

fn change_a_line(bench: &mut Bench) {
    bench.get_by_label("Score line Left fold").focus();
    bench.run();
    key(bench, Modifiers::NONE, egui::Key::ArrowRight);
    bench.run();
}
