//! Lines drawn from spot to spot: the pen, the ends, curves.

use super::*;
use egui::Key;
use model::{Place, Point, Spot, Work};

fn at(x: i64, y: i64) -> Point {
    Point::new(Length::INCH * x, Length::INCH * y)
}

fn draw(bench: &mut Bench, from: (f32, f32), to: (f32, f32)) {
    let (from, to) = (on_sheet(bench, from.0, from.1), on_sheet(bench, to.0, to.1));
    drag(bench, from, to);
    bench.drop_at(to);
    bench.run();
}

fn spots(bench: &Bench, id: u32) -> (Spot, Spot) {
    let Place::Drawn { from, to, .. } = line_of(bench, id).place else { panic!("a drawn line") };
    (from, to)
}

/// A bench with a cut 4 drawn from where the left and the top fold cross to (6, 5) in.
fn drawn() -> Bench {
    let mut bench = bench();
    press(&mut bench, "Draw a line");
    draw(&mut bench, (3.05, 2.04), (6.02, 4.98));
    key(&mut bench, Modifiers::NONE, Key::Escape);
    bench
}

#[test]
fn a_line_is_drawn_from_a_crossing_to_a_groove() {
    let bench = drawn();
    assert_eq!(spots(&bench, 4), (Spot::Crossing(LineId(1), LineId(3)), Spot::At(at(6, 5))));
    assert_eq!((line_of(&bench, 4).work, selected_line(&bench)), (Work::Cut, Some(4)));
    assert_eq!(bench.state().session().undo_label(), Some("Draw a line"));
    assert!(exists(&bench, "Cut line 4"), "it has a name on the sheet");
}

#[test]
fn ends_snap_to_lines_and_to_corners_of_the_sheet() {
    let mut bench = bench();
    key(&mut bench, Modifiers::NONE, Key::L);
    draw(&mut bench, (0.05, 0.06), (9.04, 6.0));
    assert_eq!(spots(&bench, 4), (Spot::At(at(0, 0)), Spot::On(LineId(2), Length::INCH * 6)));
}

#[test]
fn the_status_line_names_what_the_pointer_snaps_to() {
    let mut bench = bench();
    press(&mut bench, "Draw a line");
    assert!(exists(&bench, "Escape ends it"));
    let crossing = on_sheet(&bench, 3.05, 2.04);
    bench.hover_at(crossing);
    bench.run();
    assert!(exists(&bench, "Starts at: where \"Left fold\" crosses \"Top fold\"."));
    let to = on_sheet(&bench, 6.0, 5.0);
    drag(&mut bench, crossing, to);
    bench.run();
    assert!(exists(&bench, "Ends at: 6 in from the left and 5 in from the top edge, 1/8 in groove."));
}

#[test]
fn escape_lays_the_pen_down_and_no_more() {
    let mut bench = bench();
    press(&mut bench, "Select Score line Left fold");
    press(&mut bench, "Draw a line");
    key(&mut bench, Modifiers::NONE, Key::Escape);
    assert_eq!(selected_line(&bench), Some(1));
    draw(&mut bench, (5.0, 5.0), (7.0, 7.0));
    assert_eq!(bench.state().session().document().lines.len(), 3, "now the table is dragged");
}

#[test]
fn a_press_without_a_drag_draws_nothing() {
    let mut bench = bench();
    press(&mut bench, "Draw a line");
    let place = on_sheet(&bench, 6.0, 6.0);
    click_at(&mut bench, place);
    assert_eq!(bench.state().session().document().lines.len(), 3);
    assert!(!bench.state().session().is_changed());
    assert!(exists(&bench, "Drag from one spot to another to draw a line."));
}

#[test]
fn the_pen_takes_hold_of_no_line() {
    let mut bench = bench();
    press(&mut bench, "Draw a line");
    draw(&mut bench, (3.0, 6.0), (5.0, 8.0));
    assert_eq!(across(&bench, 1), 3 * 64, "the left fold stays");
    assert_eq!(spots(&bench, 4), (Spot::On(LineId(1), Length::INCH * 6), Spot::At(at(5, 8))));
}

#[test]
fn an_end_is_dragged_in_one_step() {
    let mut bench = drawn();
    draw(&mut bench, (6.0, 5.0), (7.0, 6.0));
    assert_eq!(spots(&bench, 4), (Spot::Crossing(LineId(1), LineId(3)), Spot::At(at(7, 6))));
    key(&mut bench, Modifiers::COMMAND, Key::Z);
    assert_eq!(spots(&bench, 4).1, Spot::At(at(6, 5)));
}

#[test]
fn a_drawn_line_is_dragged_as_a_whole() {
    let mut bench = drawn();
    // Its start lies at (3, 2), where the left and the top fold cross.
    let (from, to) = (on_sheet(&bench, 4.5, 3.5), on_sheet(&bench, 5.52, 3.53));
    drag(&mut bench, from, to);
    assert!(exists(&bench, "Cut 4: 1 in to the right."), "where it has come to is said");
    bench.drop_at(to);
    bench.run();
    // Along the top fold it keeps to that.
    assert_eq!(spots(&bench, 4), (Spot::On(LineId(3), Length::INCH * 8), Spot::At(at(7, 5))));
    assert_eq!(bench.state().session().undo_label(), Some("Move Cut 4"));
    key(&mut bench, Modifiers::COMMAND, Key::Z);
    assert_eq!(spots(&bench, 4), (Spot::Crossing(LineId(1), LineId(3)), Spot::At(at(6, 5))));
}

#[test]
fn a_drawn_line_stays_on_the_sheet_and_a_locked_one_where_it_is() {
    let mut bench = drawn();
    draw(&mut bench, (4.5, 3.5), (4.5, -4.0));
    assert_eq!(spots(&bench, 4), (Spot::On(LineId(1), Length::ZERO), Spot::At(at(6, 3))), "no further than the edge");
    key(&mut bench, Modifiers::NONE, Key::K);
    draw(&mut bench, (4.5, 1.5), (5.5, 1.5));
    assert_eq!(spots(&bench, 4).1, Spot::At(at(6, 3)));
    assert!(exists(&bench, "is locked; free it first"));
}

#[test]
fn escape_puts_a_drawn_line_back() {
    let mut bench = drawn();
    let (from, to) = (on_sheet(&bench, 4.5, 3.5), on_sheet(&bench, 5.5, 4.5));
    drag(&mut bench, from, to);
    assert_eq!(spots(&bench, 4).1, Spot::At(at(7, 6)));
    key(&mut bench, Modifiers::NONE, Key::Escape);
    bench.drop_at(to);
    bench.run();
    assert_eq!(spots(&bench, 4), (Spot::Crossing(LineId(1), LineId(3)), Spot::At(at(6, 5))));
}

#[test]
fn a_slanting_line_is_clicked_on_and_not_beside() {
    let mut bench = drawn();
    let (on, beside) = (on_sheet(&bench, 4.5, 3.5), on_sheet(&bench, 5.5, 3.0));
    click_at(&mut bench, beside);
    assert!(matches!(bench.state().session().selected(), Selected::Panel(_)), "within its bounds, but far from it");
    click_at(&mut bench, on);
    assert_eq!(selected_line(&bench), Some(4));
}

#[test]
fn ends_and_bow_are_typed() {
    let mut bench = drawn();
    type_into(&mut bench, "From the left to its end", "8");
    type_into(&mut bench, "From the top to its end", "2 1/2");
    let end = Point::new(Length::INCH * 8, Length::INCH * 5 / 2);
    assert_eq!(spots(&bench, 4).1, Spot::At(end));
    type_into(&mut bench, "Bow of the line", "1/2");
    let Place::Drawn { bow, .. } = line_of(&bench, 4).place else { panic!("a drawn line") };
    assert_eq!(bow, Length::INCH / 2);
    type_into(&mut bench, "Bow of the line", "9");
    assert!(exists(&bench, "rises by more than half its length"));
    choose(&mut bench, "What is done along the line", "Score");
    assert!(exists(&bench, "only cuts and guides may be curved"));
}

#[test]
fn an_end_is_said_in_another_way() {
    let mut bench = drawn();
    choose(&mut bench, "How its start is placed", "on a line");
    assert_eq!(spots(&bench, 4).0, Spot::On(LineId(1), Length::INCH * 2), "where it was");
    choose(&mut bench, "Line at its start", "Right fold");
    assert_eq!(spots(&bench, 4).0, Spot::On(LineId(2), Length::INCH * 2));
    choose(&mut bench, "How its end is placed", "where lines cross");
    assert_eq!(SpotOf::of(spots(&bench, 4).1), SpotOf::Crossing);
}

/// How a spot is said.
type SpotOf = session::spot::SpotKind;

#[test]
fn a_drawn_line_turns_into_a_score_or_a_guide() {
    let mut bench = drawn();
    choose(&mut bench, "What is done along the line", "Guide");
    assert_eq!(line_of(&bench, 4).work, Work::Guide);
    assert!(exists(&bench, "Guide line 4"));
    choose(&mut bench, "What is done along the line", "Score");
    assert!(line_of(&bench, 4).work.is_score());
    assert_eq!(bench.state().session().document().step_of(LineId(4)), Some(3));
}

#[test]
fn drawn_lines_stand_neither_rulers_nor_turns_nor_keys_in_the_way() {
    let mut bench = drawn();
    for _ in 0..4 {
        key(&mut bench, Modifiers::NONE, Key::T);
        bench.get_by_label("Cut line 4").focus();
        bench.run();
        for arrow in [Key::ArrowRight, Key::ArrowDown] {
            key(&mut bench, Modifiers::NONE, arrow);
        }
    }
    assert_eq!(spots(&bench, 4).1, Spot::At(at(6, 5)));
    assert!(exists(&bench, "Drawn from spot to spot"), "it is listed");
}
