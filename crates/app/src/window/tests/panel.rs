//! The selected panel: cut away and kept, its corners shaped.

use super::*;
use egui::Key;
use model::{Corner, CornerShape, Point, Which};

/// The corner panel at the top left is selected; the base lies in the middle.
fn corner_panel() -> Bench {
    let mut bench = bench();
    let place = on_sheet(&bench, 1.0, 1.0);
    click_at(&mut bench, place);
    bench
}

fn corners(bench: &Bench) -> Vec<(Which, CornerShape)> {
    bench.state().session().document().corners.iter().map(|corner: &Corner| (corner.which, corner.shape)).collect()
}

fn pieces(bench: &Bench) -> usize {
    bench.state().session().derived().layout.pieces.len()
}

#[test]
fn a_corner_comes_off_and_is_kept_again_each_in_one_step() {
    let mut bench = corner_panel();
    press(&mut bench, "Cut this panel away");
    assert_eq!(pieces(&bench), 2);
    assert_eq!(bench.state().session().document().lines.len(), 5, "a cut along each of its two folds");
    assert!(exists(&bench, "3 in by 2 in, cut from the folio."));
    press(&mut bench, "Keep this offcut");
    assert_eq!(bench.state().session().document(), &document());
    key(&mut bench, Modifiers::COMMAND, Key::Z);
    assert_eq!(pieces(&bench), 2);
    key(&mut bench, Modifiers::COMMAND, Key::Z);
    assert!(!bench.state().session().is_changed());
}

#[test]
fn the_base_is_not_cut_away() {
    let mut bench = bench();
    let place = on_sheet(&bench, 6.0, 6.0);
    click_at(&mut bench, place);
    let button = bench.get_by_role_and_label(Role::Button, "Cut this panel away");
    assert!(button.accesskit_node().is_disabled());
    key(&mut bench, Modifiers::NONE, Key::C);
    assert!(exists(&bench, "The base stays"));
}

#[test]
fn without_a_panel_the_command_asks_for_one() {
    let mut bench = bench();
    key(&mut bench, Modifiers::NONE, Key::C);
    assert!(exists(&bench, "Click the panel that is to come off first."));
    key(&mut bench, Modifiers::NONE, Key::J);
    assert!(exists(&bench, "Click the offcut that is to be kept first."));
}

#[test]
fn the_free_corners_of_a_panel_are_rounded_together() {
    let mut bench = corner_panel();
    choose(&mut bench, "Corner: Of this panel", "Round");
    type_into(&mut bench, "Measure of corner: Of this panel", "1/2");
    assert_eq!(corners(&bench), [(Which::AllOfPanel, CornerShape::Round(Length::INCH / 2))]);
    assert_eq!(bench.state().session().derived().layout.voids.len(), 1, "it has one free corner");
    assert_eq!(shown(&bench, "Measure of corner: Top left"), "1/2 in");
    choose(&mut bench, "Corner: Of this panel", "Square");
    assert!(corners(&bench).is_empty());
}

#[test]
fn a_panel_pointed_at_near_its_corner_stays_selected_when_that_is_taken_off() {
    let mut bench = bench();
    let place = on_sheet(&bench, 0.3, 0.3);
    click_at(&mut bench, place);
    choose(&mut bench, "Corner: Top left", "Clip");
    type_into(&mut bench, "Measure of corner: Top left", "1");
    assert_eq!(shown(&bench, "Measure of corner: Top left"), "1 in");
}

#[test]
fn all_corners_of_the_folio_are_clipped_but_for_one() {
    let mut bench = corner_panel();
    choose(&mut bench, "Corner: Of the folio", "Clip");
    let voids = |bench: &Bench| bench.state().session().derived().layout.voids.len();
    assert_eq!(voids(&bench), 4);
    choose(&mut bench, "Corner: Top left", "Square");
    assert_eq!((voids(&bench), corners(&bench).len()), (3, 2));
    choose(&mut bench, "Corner: Top left", "Round");
    assert_eq!((voids(&bench), corners(&bench).len()), (4, 2), "said of the same corner, it takes its place");
}

#[test]
fn a_whole_piece_shaped_from_two_panels_is_said_once() {
    let mut bench = corner_panel();
    choose(&mut bench, "Corner: Of the folio", "Round");
    let other = on_sheet(&bench, 11.0, 11.0);
    click_at(&mut bench, other);
    choose(&mut bench, "Corner: Of the folio", "Clip");
    assert_eq!(corners(&bench), [(Which::AllOfPiece, CornerShape::Clip(Length::INCH / 4))]);
}

#[test]
fn a_measure_that_will_not_do_is_refused() {
    let mut bench = corner_panel();
    choose(&mut bench, "Corner: Of this panel", "Round");
    for (text, why) in [("0", "choose square"), ("two", "here is no length called \"two\"")] {
        type_into(&mut bench, "Measure of corner: Of this panel", text);
        assert!(exists(&bench, why), "{text}");
    }
    assert_eq!(corners(&bench), [(Which::AllOfPanel, CornerShape::Round(Length::INCH / 4))]);
}

#[test]
fn a_panel_with_folds_all_round_has_no_corner_to_shape() {
    let mut document = document();
    let line = measured_score(LineId(4), Turn::Once, Length::INCH * 10);
    document.apply(add_line(&document, line)).unwrap();
    let mut bench = bench_with(document, None, []);
    let place = on_sheet(&bench, 6.0, 6.0);
    click_at(&mut bench, place);
    assert!(exists(&bench, "None is free"));
}

#[test]
fn a_mat_is_put_on_a_face_that_shows() {
    let mut bench = bench();
    let place = on_sheet(&bench, 6.0, 6.0);
    click_at(&mut bench, place);
    // The base is 6 by 10 in, with 1/8 in around the mat; its back is what is seen of the closed folio.
    press(&mut bench, "Put a mat on its back, 5 3/4 in x 9 3/4 in");
    let document = bench.state().session().document().clone();
    let [part] = document.parts.as_slice() else { panic!("one part") };
    assert_eq!((part.place.face, part.place.showing), (model::Face::Back, model::Face::Front));
    assert_eq!(bench.state().session().selected(), Selected::Part(part.id));
    assert!(bench.state().session().derived().folded.as_ref().unwrap().0.left_out.is_empty());
}

#[test]
fn a_panel_is_named_and_gets_its_own_name_back() {
    const FIELD: &str = "Name of the selected panel";
    let mut bench = corner_panel();
    let name = |bench: &Bench| {
        let layout = &bench.state().session().derived().layout;
        layout.panels.iter().find(|panel| panel.bounds().0 == Point::default()).unwrap().name.clone()
    };
    let by_place = name(&bench);
    type_into(&mut bench, FIELD, " Address side ");
    assert_eq!(name(&bench), "Address side");
    assert_eq!(bench.state().session().steps().0, ["Name the panel"]);
    assert!(exists(&bench, "Address side"), "in the pane and on the sheet");
    key(&mut bench, Modifiers::COMMAND, Key::Z);
    assert_eq!(name(&bench), by_place);
    key(&mut bench, Modifiers::COMMAND | Modifiers::SHIFT, Key::Z);
    assert_eq!(name(&bench), "Address side");
    type_into(&mut bench, FIELD, " ");
    assert_eq!(name(&bench), by_place);
    assert!(bench.state().session().document().panel_names.is_empty());
}
