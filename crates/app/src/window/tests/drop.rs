//! Files dropped on the window.

use super::*;
use egui::DroppedFile;
use std::path::{Path, PathBuf};
use std::sync::Arc;

#[derive(Debug)]
struct Dropped(PathBuf);

impl DroppedFile for Dropped {
    fn path(&self) -> &Path {
        &self.0
    }

    fn bytes(&self) -> Result<Vec<u8>, String> {
        std::fs::read(&self.0).map_err(|error| error.to_string())
    }
}

/// A picture of one grey pixel (PNG, third edition, 5 and 11).
const PIXEL: [u8; 70] = [
    0x89, 0x50, 0x4E, 0x47, 0x0D, 0x0A, 0x1A, 0x0A, 0x00, 0x00, 0x00, 0x0D, 0x49, 0x48, 0x44, 0x52, 0x00, 0x00, 0x00,
    0x01, 0x00, 0x00, 0x00, 0x01, 0x08, 0x00, 0x00, 0x00, 0x00, 0x3A, 0x7E, 0x9B, 0x55, 0x00, 0x00, 0x00, 0x0D, 0x49,
    0x44, 0x41, 0x54, 0x78, 0x01, 0x01, 0x02, 0x00, 0xFD, 0xFF, 0x00, 0x80, 0x00, 0x82, 0x00, 0x81, 0xC3, 0x6E, 0x25,
    0xE0, 0x00, 0x00, 0x00, 0x00, 0x49, 0x45, 0x4E, 0x44, 0xAE, 0x42, 0x60, 0x82,
];

fn drop_on(bench: &mut Bench, path: &Path) {
    bench.input_mut().dropped_files = vec![Arc::new(Dropped(path.to_owned()))];
    bench.step();
    bench.run();
}

fn picture(room: &Path) -> PathBuf {
    let path = room.join("seeds.png");
    std::fs::write(&path, PIXEL).unwrap();
    path
}

#[test]
fn a_dropped_design_is_opened() {
    let room = tempfile::tempdir().unwrap();
    let path = room.path().join("swap.folio");
    disk::save_design(&path, &Document::new(Size::parse("8x8in").unwrap(), Unit::Inch)).unwrap();
    let mut bench = bench();
    drop_on(&mut bench, &path);
    assert_eq!(bench.state().file(), Some(&path));
    assert!(bench.state().session().document().lines.is_empty());
}

#[test]
fn changes_are_seen_to_first() {
    let room = tempfile::tempdir().unwrap();
    let path = room.path().join("swap.folio");
    disk::save_design(&path, &document()).unwrap();
    let mut bench = bench();
    key(&mut bench, Modifiers::NONE, egui::Key::A);
    drop_on(&mut bench, &path);
    assert!(exists(&bench, "Save the changes first?"));
    drop_on(&mut bench, &path);
    press(&mut bench, "Keep editing");
    assert_eq!((bench.state().file(), bench.state().session().document().lines.len()), (None, 4));
}

#[test]
fn a_dropped_picture_is_printed_on_the_front() {
    let room = tempfile::tempdir().unwrap();
    let design = room.path().join("swap.folio");
    disk::save_design(&design, &document()).unwrap();
    let picture = picture(room.path());
    let mut bench = bench();
    drop_on(&mut bench, &picture);
    assert!(exists(&bench, "Save the design first"), "there is no folder for it yet");
    let mut bench = bench_with(document(), Some(design.clone()), []);
    drop_on(&mut bench, &picture);
    let front = bench.state().session().document().stock.front.clone();
    let artwork = front.artwork.unwrap();
    assert_eq!((artwork.file.as_str(), artwork.width), ("seeds.png", Length::INCH * 12));
    assert!(room.path().join("swap.assets/seeds.png").exists());
    key(&mut bench, Modifiers::COMMAND, egui::Key::Z);
    assert_eq!(bench.state().session().document(), &document());
}

#[test]
fn what_is_neither_is_refused_with_its_name() {
    let room = tempfile::tempdir().unwrap();
    let path = room.path().join("letter.txt");
    std::fs::write(&path, "Dear neighbour").unwrap();
    let mut bench = bench();
    drop_on(&mut bench, &path);
    assert!(exists(&bench, "letter.txt"));
    assert_eq!(bench.state().session().document(), &document());
}
