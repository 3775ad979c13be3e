//! Distances typed where they stand on the sheet.

use super::*;
use egui::Key;

const FROM_EDGE: &str = "Distance from the left edge to Left fold";
const BETWEEN: &str = "Distance from Left fold to Right fold";

fn selected() -> Bench {
    let mut bench = bench();
    bench.get_by_label("Score line Left fold").focus();
    bench.run();
    bench
}

/// Types into the field that is open, in place of what stands there.
fn write(bench: &mut Bench, gap: &str, text: &str) {
    bench.get_by_role_and_label(Role::TextInput, &format!("{gap} to type")).type_text(text);
    bench.run();
}

fn is_open(bench: &Bench) -> bool {
    bench.query_all_by_label_contains(" to type").next().is_some()
}

fn open(bench: &mut Bench, gap: &str) {
    let at = bench.get_by_role_and_label(Role::Button, gap).rect().center();
    click_at(bench, at);
}

#[test]
fn a_distance_is_clicked_and_typed() {
    let mut bench = selected();
    open(&mut bench, FROM_EDGE);
    assert_eq!(shown(&bench, "Distance from the left edge to Left fold to type"), "3 in");
    write(&mut bench, FROM_EDGE, "2 + 1/2");
    assert_eq!(across(&bench, 1), 3 * 64, "not before enter");
    key(&mut bench, Modifiers::NONE, Key::Enter);
    assert_eq!((across(&bench, 1), is_open(&bench)), (160, false));
    assert_eq!(bench.state().session().undo_label(), Some("Move Left fold"));
    // The keys work on the line then.
    key(&mut bench, Modifiers::NONE, Key::ArrowRight);
    assert_eq!(across(&bench, 1), 168);
}

#[test]
fn a_gap_between_neighbours_moves_the_selected_line() {
    let mut bench = selected();
    open(&mut bench, BETWEEN);
    write(&mut bench, BETWEEN, "5");
    key(&mut bench, Modifiers::NONE, Key::Enter);
    assert_eq!((across(&bench, 1), across(&bench, 2)), (4 * 64, 9 * 64));
    bench.get_by_label("Score line Right fold").focus();
    bench.run();
    open(&mut bench, "Distance from Right fold to the right edge");
    write(&mut bench, "Distance from Right fold to the right edge", "2");
    key(&mut bench, Modifiers::NONE, Key::Enter);
    assert_eq!(across(&bench, 2), 10 * 64);
}

#[test]
fn no_distance_covers_another_where_lines_are_close() {
    let mut document = document();
    // A quarter of an inch on either side of the left fold.
    for (id, quarters) in [(4, 11), (5, 13)] {
        let score = measured_score(LineId(id), Turn::None, Length::INCH * quarters / 4);
        document.apply(add_line(&document, score)).unwrap();
    }
    let mut bench = bench_with(document, None, []);
    bench.get_by_label("Score line Left fold").focus();
    bench.run();
    let distances: Vec<egui::Rect> = bench
        .query_all_by(|node| {
            node.role() == Role::Button && node.label().is_some_and(|name| name.starts_with("Distance from"))
        })
        .map(|node| node.rect().shrink(2.0))
        .collect();
    assert_eq!(distances.len(), 3, "from the edge and from both neighbours");
    for (at, one) in distances.iter().enumerate() {
        assert!(distances[at + 1..].iter().all(|other| !one.intersects(*other)), "{distances:?}");
    }
}

#[test]
fn escape_leaves_it_and_keeps_the_line_selected() {
    let mut bench = selected();
    open(&mut bench, BETWEEN);
    write(&mut bench, BETWEEN, "5");
    key(&mut bench, Modifiers::NONE, Key::Escape);
    assert_eq!((across(&bench, 1), is_open(&bench), selected_line(&bench)), (3 * 64, false, Some(1)));
    assert!(!bench.state().session().is_changed());
    key(&mut bench, Modifiers::NONE, Key::ArrowRight);
    assert_eq!(across(&bench, 1), 3 * 64 + 8, "the line has the focus again");
}

#[test]
fn what_can_not_be_is_said_there_and_stays_to_be_mended() {
    let mut bench = selected();
    for (text, why) in [
        ("two", "here is no length called \"two\""),
        ("1/3", "is between the marks of a ruler; the nearest is 21/64 in."),
        ("0", "Between the left edge and Left fold there must be more than nothing."),
        ("13", "\"Left fold\" lies 1 in beyond the edge of the sheet."),
    ] {
        if !is_open(&bench) {
            open(&mut bench, FROM_EDGE);
        }
        bench.key_press_modifiers(Modifiers::COMMAND, Key::A);
        write(&mut bench, FROM_EDGE, text);
        key(&mut bench, Modifiers::NONE, Key::Enter);
        assert!(exists(&bench, why), "{text}");
        assert!(is_open(&bench), "{text}");
    }
    assert!(!bench.state().session().is_changed());
    bench.key_press_modifiers(Modifiers::COMMAND, Key::A);
    write(&mut bench, FROM_EDGE, "4");
    key(&mut bench, Modifiers::NONE, Key::Enter);
    assert_eq!((across(&bench, 1), is_open(&bench)), (4 * 64, false));
}

#[test]
fn enter_on_a_line_opens_its_distance_with_the_text_selected() {
    let mut bench = selected();
    key(&mut bench, Modifiers::NONE, Key::Enter);
    write(&mut bench, FROM_EDGE, "4");
    assert_eq!(shown(&bench, "Distance from the left edge to Left fold to type"), "4", "it takes the text's place");
    key(&mut bench, Modifiers::NONE, Key::Enter);
    assert_eq!((across(&bench, 1), is_open(&bench)), (4 * 64, false));
    assert!(bench.get_by_label("Score line Left fold").is_focused(), "and the sheet has the keys again");
    key(&mut bench, Modifiers::NONE, Key::Enter);
    key(&mut bench, Modifiers::NONE, Key::Enter);
    assert!(!is_open(&bench), "enter without a change closes it");
}

#[test]
fn a_line_measured_from_another_opens_that_distance() {
    let mut document = document();
    let right = document.line(LineId(2)).unwrap().clone();
    let model::Place::Measured { turn, run, .. } = right.place else { panic!("measured") };
    let from = model::Datum::Line(LineId(1));
    let place = model::Place::Measured { turn, from, distance: Length::INCH * 6, run };
    document.apply(model::Edit::ReplaceLine(Line { place, ..right })).unwrap();
    let mut bench = bench_with(document, None, []);
    bench.get_by_label("Score line Right fold").focus();
    bench.run();
    key(&mut bench, Modifiers::NONE, Key::Enter);
    write(&mut bench, BETWEEN, "7");
    key(&mut bench, Modifiers::NONE, Key::Enter);
    assert_eq!((across(&bench, 1), across(&bench, 2)), (3 * 64, 10 * 64));
    // Seen from the other end it is the right fold that moves, since it follows the left one.
    bench.get_by_label("Score line Left fold").focus();
    bench.run();
    open(&mut bench, BETWEEN);
    write(&mut bench, BETWEEN, "5");
    key(&mut bench, Modifiers::NONE, Key::Enter);
    assert_eq!((across(&bench, 1), across(&bench, 2)), (3 * 64, 8 * 64));
    assert_eq!(bench.state().session().undo_label(), Some("Move Right fold"));
}

#[test]
fn distances_are_reached_by_the_keyboard_alone() {
    let mut bench = selected();
    let node = bench.get_by_role_and_label(Role::Button, BETWEEN);
    assert_eq!(node.value().as_deref(), Some("6 in"));
    node.focus();
    bench.run();
    key(&mut bench, Modifiers::NONE, Key::Enter);
    write(&mut bench, BETWEEN, "4");
    key(&mut bench, Modifiers::NONE, Key::Enter);
    assert_eq!(across(&bench, 1), 5 * 64);
}

#[test]
fn a_locked_line_says_so_and_a_drawn_one_has_no_distance() {
    let mut bench = selected();
    key(&mut bench, Modifiers::NONE, Key::K);
    bench.get_by_label("Score line Left fold").focus();
    bench.run();
    key(&mut bench, Modifiers::NONE, Key::Enter);
    write(&mut bench, FROM_EDGE, "4");
    key(&mut bench, Modifiers::NONE, Key::Enter);
    assert!(exists(&bench, "\"Left fold\" is locked; free it first."));
    assert_eq!(across(&bench, 1), 3 * 64);
    key(&mut bench, Modifiers::NONE, Key::Escape);
    let (a, b) = (on_sheet(&bench, 4.0, 4.0), on_sheet(&bench, 6.0, 7.0));
    key(&mut bench, Modifiers::NONE, Key::L);
    drag(&mut bench, a, b);
    bench.drop_at(b);
    bench.run();
    key(&mut bench, Modifiers::NONE, Key::Escape);
    bench.get_by_label("Cut line 4").focus();
    bench.run();
    key(&mut bench, Modifiers::NONE, Key::Enter);
    assert!(exists(&bench, "\"Cut 4\" is drawn from spot to spot; its ends are typed in the list of lines."));
    assert!(!is_open(&bench));
}

#[test]
fn another_line_closes_the_field() {
    let mut bench = selected();
    open(&mut bench, FROM_EDGE);
    press(&mut bench, "Select Score line Top fold");
    assert!(!is_open(&bench) && !bench.state().session().is_changed());
}
