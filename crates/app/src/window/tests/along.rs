//! Scores cut by dragging along them.

use super::*;
use egui::Key;

/// The tool is in hand.
fn in_hand() -> Bench {
    let mut bench = bench();
    press(&mut bench, "Cut along lines");
    bench
}

/// Drags from place to place, in inches of the sheet, and keeps hold.
fn go(bench: &mut Bench, places: &[(f32, f32)]) -> Pos2 {
    let places: Vec<Pos2> = places.iter().map(|&(x, y)| on_sheet(bench, x, y)).collect();
    drag(bench, places[0], places[1]);
    for pair in places[1..].windows(2) {
        for part in 1_u8..=8 {
            bench.hover_at(pair[0].lerp(pair[1], f32::from(part) / 8.0));
            bench.step();
        }
    }
    places[places.len() - 1]
}

fn cut(bench: &mut Bench, places: &[(f32, f32)]) {
    let to = go(bench, places);
    bench.drop_at(to);
    bench.run();
}

fn steps(bench: &Bench) -> Vec<&str> {
    bench.state().session().steps().0
}

fn pieces(bench: &Bench) -> usize {
    bench.state().session().derived().layout.pieces.len()
}

#[test]
fn a_drag_round_a_corner_cuts_all_of_it_in_one_step() {
    let mut bench = in_hand();
    // Down the left fold to the top fold, and back along that to the left edge.
    let to = go(&mut bench, &[(3.0, 0.1), (3.0, 2.0), (0.3, 2.0)]);
    assert!(exists(&bench, "2 stretches, 5 in in all. Let go to cut them; Escape leaves them."));
    assert_eq!(pieces(&bench), 1, "not before she lets go");
    bench.drop_at(to);
    bench.run();
    assert_eq!((pieces(&bench), steps(&bench)), (2, vec!["Cut along 2 lines"]));
    key(&mut bench, Modifiers::COMMAND, Key::Z);
    assert_eq!(bench.state().session().document(), &document());
}

#[test]
fn a_line_that_is_only_crossed_stays() {
    let mut bench = in_hand();
    cut(&mut bench, &[(3.0, 0.3), (3.0, 11.0)]);
    assert_eq!(steps(&bench), ["Cut along Left fold"]);
    assert_eq!(pieces(&bench), 2, "the whole left side has come off");
    assert_eq!(bench.state().session().document().lines.len(), 4, "as one cut");
}

#[test]
fn what_is_cut_already_stays() {
    let mut bench = in_hand();
    cut(&mut bench, &[(3.0, 0.3), (3.0, 1.8)]);
    cut(&mut bench, &[(3.0, 0.3), (3.0, 11.0)]);
    assert_eq!(steps(&bench), ["Cut along Left fold", "Cut along Left fold"]);
    assert_eq!(pieces(&bench), 2);
    cut(&mut bench, &[(3.0, 0.3), (3.0, 11.0)]);
    assert!(exists(&bench, "Nothing scored lies there to be cut along"));
    assert_eq!(steps(&bench).len(), 2);
}

#[test]
fn a_click_cuts_one_stretch() {
    let mut bench = in_hand();
    let place = on_sheet(&bench, 9.0, 1.0);
    click_at(&mut bench, place);
    assert_eq!(steps(&bench), ["Cut along Right fold"]);
    assert_eq!(bench.state().session().document().lines.len(), 4);
}

#[test]
fn beside_every_score_nothing_is_cut_and_it_is_said_why() {
    let mut bench = in_hand();
    cut(&mut bench, &[(5.0, 5.0), (7.0, 9.0)]);
    assert!(exists(&bench, "Nothing scored lies there to be cut along; press on a score and drag along it."));
    let place = on_sheet(&bench, 6.0, 6.0);
    click_at(&mut bench, place);
    assert!(!bench.state().session().is_changed());
}

#[test]
fn escape_leaves_it_uncut_and_lays_the_tool_down() {
    let mut bench = bench();
    key(&mut bench, Modifiers::SHIFT, Key::X);
    let to = go(&mut bench, &[(3.0, 0.3), (3.0, 1.8)]);
    key(&mut bench, Modifiers::NONE, Key::Escape);
    bench.drop_at(to);
    bench.run();
    assert!(!bench.state().session().is_changed());
    // Now the line is dragged.
    let (from, to) = (on_sheet(&bench, 3.0, 6.0), on_sheet(&bench, 4.0, 6.0));
    drag(&mut bench, from, to);
    bench.drop_at(to);
    bench.run();
    assert_eq!(across(&bench, 1), 4 * 64);
}
