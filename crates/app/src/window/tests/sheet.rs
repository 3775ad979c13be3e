//! Lines on the sheet: found, moved, dragged, added, turned.

use super::*;
use egui::Key;

#[test]
fn a_score_is_found_by_name_and_moved_by_keys() {
    let mut bench = bench();
    let node = bench.get_by_label("Score line Left fold");
    assert_eq!(node.accesskit_node().role(), Role::Slider);
    assert_eq!(node.accesskit_node().numeric_value(), Some(76.2), "3 in, in mm");
    node.focus();
    bench.run();
    key(&mut bench, Modifiers::NONE, Key::ArrowRight);
    assert_eq!(across(&bench, 1), 3 * 64 + 8, "one groove: 1/8 in");
    key(&mut bench, Modifiers::SHIFT, Key::ArrowLeft);
    assert_eq!(across(&bench, 1), 3 * 64 + 6, "a quarter of a groove");
    key(&mut bench, Modifiers::COMMAND, Key::Z);
    key(&mut bench, Modifiers::COMMAND, Key::Z);
    assert_eq!(across(&bench, 1), 3 * 64);
    key(&mut bench, Modifiers::COMMAND | Modifiers::SHIFT, Key::Z);
    assert_eq!(across(&bench, 1), 3 * 64 + 8, "redo is told from undo");
}

#[test]
fn a_line_across_moves_down_with_the_arrow_down() {
    let mut bench = bench();
    bench.get_by_label("Score line Top fold").focus();
    bench.run();
    key(&mut bench, Modifiers::NONE, Key::ArrowDown);
    assert_eq!(across(&bench, 3), 2 * 64 + 8);
}

#[test]
fn a_screen_reader_moves_and_selects_a_line() {
    let mut bench = bench();
    bench.get_by_label("Score line Right fold").increment_accesskit();
    bench.run();
    assert_eq!(across(&bench, 2), 9 * 64 + 8);
    bench.get_by_label("Score line Left fold").click_accesskit();
    bench.run();
    assert_eq!(selected_line(&bench), Some(1));
}

#[test]
fn delete_takes_the_focused_line_out() {
    let mut bench = bench();
    bench.get_by_label("Score line Left fold").focus();
    bench.run();
    key(&mut bench, Modifiers::NONE, Key::Delete);
    assert!(!exists(&bench, "Score line Left fold"));
    assert_eq!(bench.state().session().document().lines.len(), 2);
}

#[test]
fn a_drag_goes_from_groove_to_groove_and_is_one_step() {
    let mut bench = bench();
    let from = middle_of(&bench, "Score line Left fold") + Vec2::new(0.0, 60.0);
    let to = from + Vec2::new(inch(&bench) * 1.03, 5.0);
    drag(&mut bench, from, to);
    assert_eq!(across(&bench, 1), 4 * 64, "while it is held");
    assert!(bench.state().session().in_gesture());
    bench.drop_at(to);
    bench.run();
    assert_eq!((across(&bench, 1), bench.state().session().in_gesture()), (4 * 64, false));
    key(&mut bench, Modifiers::COMMAND, Key::Z);
    assert_eq!(across(&bench, 1), 3 * 64);
    assert!(!bench.state().session().is_changed());
}

#[test]
fn a_line_rests_where_it_is_let_go_though_the_pointer_moves_on() {
    let mut bench = bench();
    let from = middle_of(&bench, "Score line Left fold") + Vec2::new(0.0, 60.0);
    let to = from + Vec2::new(inch(&bench), 0.0);
    drag(&mut bench, from, to);
    let button = egui::PointerButton::Primary;
    let let_go = egui::Event::PointerButton { pos: to, button, pressed: false, modifiers: Modifiers::NONE };
    let moved_on = egui::Event::PointerMoved(to + Vec2::new(200.0, 0.0));
    bench.input_mut().events.extend([let_go, moved_on]);
    bench.run();
    assert_eq!((across(&bench, 1), bench.state().session().in_gesture()), (4 * 64, false));
}

#[test]
fn shift_drags_finer() {
    let mut bench = bench();
    let from = middle_of(&bench, "Score line Left fold") + Vec2::new(0.0, 60.0);
    let to = from + Vec2::new(inch(&bench) * 5.0 / 32.0, 0.0);
    drag(&mut bench, from, to);
    bench.event(egui::Event::ModifiersChanged(Modifiers::SHIFT));
    bench.step();
    assert_eq!(across(&bench, 1), 3 * 64 + 10, "5/32 in");
}

#[test]
fn escape_puts_a_dragged_line_back() {
    let mut bench = bench();
    let from = middle_of(&bench, "Score line Left fold") + Vec2::new(0.0, 60.0);
    let to = from + Vec2::new(inch(&bench), 0.0);
    drag(&mut bench, from, to);
    key(&mut bench, Modifiers::NONE, Key::Escape);
    assert_eq!((across(&bench, 1), bench.state().session().in_gesture()), (3 * 64, false));
    bench.hover_at(to + Vec2::new(40.0, 0.0));
    bench.drop_at(to);
    bench.run();
    assert_eq!(across(&bench, 1), 3 * 64, "the drag is over");
}

#[test]
fn undo_in_the_middle_of_a_drag_ends_it() {
    let mut bench = bench();
    let from = middle_of(&bench, "Score line Left fold") + Vec2::new(0.0, 60.0);
    let to = from + Vec2::new(inch(&bench), 0.0);
    drag(&mut bench, from, to);
    key(&mut bench, Modifiers::NONE, Key::T);
    assert_eq!(bench.state().turn(), Turn::None, "other keys wait");
    key(&mut bench, Modifiers::COMMAND, Key::Z);
    assert_eq!((across(&bench, 1), bench.state().session().in_gesture()), (3 * 64, false));
    bench.drop_at(to);
    bench.run();
    assert_eq!((across(&bench, 1), bench.state().session().undo_label()), (3 * 64, None));
}

#[test]
fn escape_lets_go_of_what_is_selected() {
    let mut bench = bench();
    press(&mut bench, "Select Score line Left fold");
    assert_eq!(selected_line(&bench), Some(1));
    key(&mut bench, Modifiers::NONE, Key::Escape);
    assert_eq!(selected_line(&bench), None);
}

#[test]
fn arrows_along_a_line_go_from_stretch_to_stretch() {
    let mut bench = bench();
    bench.get_by_label("Score line Left fold").focus();
    bench.run();
    let stretch = |bench: &Bench| {
        let session = bench.state().session();
        session.selected().stretch(&session.derived().layout).unwrap().segment
    };
    let lower = stretch(&bench);
    key(&mut bench, Modifiers::NONE, Key::ArrowUp);
    let upper = stretch(&bench);
    assert!(upper.a.y.min(upper.b.y) < lower.a.y.min(lower.b.y), "the top fold parts the left one in two");
    key(&mut bench, Modifiers::NONE, Key::ArrowDown);
    assert_eq!(stretch(&bench), lower);
    assert_eq!(across(&bench, 1), 3 * 64, "and nothing moves");
}

#[test]
fn a_refused_drag_stays_at_its_last_place() {
    let mut document = document();
    // The right fold keeps 6 in from the left one, so that neither can go far to the right.
    let right = document.line(LineId(2)).unwrap().clone();
    let model::Place::Measured { turn, run, .. } = right.place else { panic!("measured") };
    let from = model::Datum::Line(LineId(1));
    let place = model::Place::Measured { turn, from, distance: Length::INCH * 6, run };
    document.apply(model::Edit::ReplaceLine(Line { place, ..right })).unwrap();
    let mut bench = bench_with(document, None, []);
    let from = middle_of(&bench, "Score line Left fold") + Vec2::new(0.0, 60.0);
    let to = from + Vec2::new(inch(&bench) * 5.0, 0.0);
    drag(&mut bench, from, to);
    assert!(across(&bench, 1) > 4 * 64 && across(&bench, 2) <= 12 * 64, "{} {}", across(&bench, 1), across(&bench, 2));
    assert_eq!(across(&bench, 2) - across(&bench, 1), 6 * 64, "the distance is kept");
    let said = bench.state().refused.clone().unwrap();
    assert!(said.contains("Right fold") && said.contains("beyond the edge"), "{said}");
    bench.drop_at(to);
    bench.run();
    assert!(bench.state().refused.is_none());
}

#[test]
fn a_click_on_the_ruler_adds_a_score_on_the_turn_shown() {
    for turns in [0, 1] {
        let mut bench = bench();
        for _ in 0..turns {
            press(&mut bench, "Turn the sheet");
        }
        let ruler = bench.get_by_label("Ruler: add a score").rect();
        // 6 in along, between the lines 3 in and 9 in from the left; turned once the sheet is as wide.
        let at =
            Pos2::new(bench.get_by_label("Sheet").rect().center().x + inch_on_sheet(&bench) * 0.02, ruler.center().y);
        click_at(&mut bench, at);
        let placed = bench.state().session().derived().layout.lines[&LineId(4)].unwrap();
        assert_eq!(placed.on_board(), Turn::from_count(turns).map(|turn| (turn, Length::INCH * 6)));
        assert_eq!(selected_line(&bench), Some(4));
        assert_eq!(bench.state().session().document().steps.len(), 4, "it folds");
    }
}

#[test]
fn a_click_on_the_left_ruler_adds_a_score_across() {
    for turns in [0, 3] {
        let mut bench = bench();
        for _ in 0..turns {
            press(&mut bench, "Turn the sheet");
        }
        let ruler = bench.get_by_label("Left ruler: add a score across").rect();
        // 5 in below the upper edge, an inch above the middle.
        let inch = inch_on_sheet(&bench);
        let at = Pos2::new(ruler.center().x, bench.get_by_label("Sheet").rect().center().y - inch * 0.98);
        click_at(&mut bench, at);
        let placed = bench.state().session().derived().layout.lines[&LineId(4)].unwrap();
        // What is the upper edge is the left one a turn later.
        assert_eq!(placed.on_board(), Turn::from_count((turns + 1) % 4).map(|turn| (turn, Length::INCH * 5)));
        assert_eq!(selected_line(&bench), Some(4));
        click_at(&mut bench, at);
        assert_eq!(bench.state().session().document().lines.len(), 4, "it is selected now, and not added once more");
    }
}

/// Px an inch, whichever way the sheet lies: a 12 in sheet is fitted with its margin.
fn inch_on_sheet(bench: &Bench) -> f32 {
    bench.get_by_label("Score line Left fold").rect().size().max_elem() / 12.0
}

#[test]
fn turning_shows_upright_lines_lying() {
    let mut bench = bench();
    let tall = |bench: &Bench| {
        let size = bench.get_by_label("Score line Left fold").rect().size();
        size.y > size.x
    };
    assert!(tall(&bench));
    key(&mut bench, Modifiers::NONE, Key::T);
    assert_eq!((tall(&bench), bench.state().turn()), (false, Turn::Once));
    for _ in 0..3 {
        press(&mut bench, "Turn the sheet");
    }
    assert_eq!((tall(&bench), bench.state().turn()), (true, Turn::None));
    assert!(!bench.state().session().is_changed(), "turning is looking");
}

#[test]
fn a_click_selects_a_line_then_a_panel_then_nothing() {
    let mut bench = bench();
    let line = middle_of(&bench, "Score line Left fold") + Vec2::new(0.0, 60.0);
    click_at(&mut bench, line);
    assert_eq!(selected_line(&bench), Some(1));
    click_at(&mut bench, line + Vec2::new(60.0, 0.0));
    assert!(matches!(bench.state().session().selected(), Selected::Panel(_)));
    press(&mut bench, "Make this the base");
    let corner = bench.get_by_label("Sheet").rect().left_top() + Vec2::splat(8.0);
    click_at(&mut bench, corner);
    assert_eq!(bench.state().session().selected(), Selected::Nothing);
}

#[test]
fn a_click_again_picks_the_cut_on_the_score() {
    let mut bench = bench();
    let at = middle_of(&bench, "Score line Left fold") + Vec2::new(0.0, 60.0);
    click_at(&mut bench, at);
    key(&mut bench, Modifiers::NONE, Key::X);
    assert!(exists(&bench, "Cut line 4"), "the stretch is cut");
    click_at(&mut bench, at);
    click_at(&mut bench, at);
    let both = [selected_line(&bench), {
        click_at(&mut bench, at);
        selected_line(&bench)
    }];
    assert!(both.contains(&Some(1)) && both.contains(&Some(4)), "{both:?}");
    key(&mut bench, Modifiers::NONE, Key::X);
    assert!(!exists(&bench, "Cut line 4"), "and scored again");
}

#[test]
fn the_wheel_zooms_about_the_pointer_and_home_shows_all() {
    let mut bench = bench();
    let at = middle_of(&bench, "Score line Left fold");
    let before = inch(&bench);
    bench.hover_at(at);
    bench.step();
    bench.event(egui::Event::MouseWheel {
        unit: egui::MouseWheelUnit::Point,
        delta: Vec2::new(0.0, 120.0),
        phase: egui::TouchPhase::Move,
        source: egui::MouseWheelSource::Wheel,
        modifiers: Modifiers::NONE,
    });
    bench.run_ok();
    assert!(inch(&bench) > before * 1.1);
    assert!((middle_of(&bench, "Score line Left fold").x - at.x).abs() < 1.0, "what is under the pointer stays");
    key(&mut bench, Modifiers::NONE, Key::Home);
    assert!((inch(&bench) - before).abs() < 0.1);
}

#[test]
fn a_new_score_is_what_the_arrows_move() {
    let mut bench = bench();
    key(&mut bench, Modifiers::NONE, Key::A);
    let before = across(&bench, 4);
    key(&mut bench, Modifiers::NONE, Key::ArrowRight);
    assert_eq!((across(&bench, 4), selected_line(&bench)), (before + 8, Some(4)));
}

#[test]
fn the_base_is_not_offered_to_be_made_the_base() {
    let mut bench = bench();
    let offered = |bench: &Bench| {
        let button = bench.get_by_role_and_label(Role::Button, "Make this the base");
        !button.accesskit_node().is_disabled()
    };
    let left = middle_of(&bench, "Score line Left fold") + Vec2::new(0.0, 60.0);
    for (aside, expected) in [(60.0, false), (-60.0, true)] {
        click_at(&mut bench, left + Vec2::new(aside, 0.0));
        assert_eq!(offered(&bench), expected, "{aside}");
    }
}

#[test]
fn a_complaint_goes_with_the_next_choice() {
    let mut bench = bench();
    key(&mut bench, Modifiers::NONE, Key::Delete);
    assert!(exists(&bench, "Click a line first."));
    press(&mut bench, "Select Score line Left fold");
    assert!(!exists(&bench, "Click a line first."));
}

#[test]
fn an_empty_sheet_is_not_praised() {
    let empty = Document::new(Size::parse("12x12in").unwrap(), Unit::Inch);
    let mut bench = bench_with(empty, None, []);
    assert!(exists(&bench, "Nothing to check yet") && !exists(&bench, "the folio closes"));
    key(&mut bench, Modifiers::NONE, Key::A);
    assert!(exists(&bench, "the folio closes"));
}

#[test]
fn a_click_on_the_ruler_over_a_score_selects_it() {
    let mut bench = bench();
    let ruler = bench.get_by_label("Ruler: add a score").rect();
    let at = Pos2::new(middle_of(&bench, "Score line Left fold").x, ruler.center().y);
    for _ in 0..2 {
        click_at(&mut bench, at);
        assert_eq!((selected_line(&bench), bench.state().session().is_changed()), (Some(1), false));
    }
}

#[test]
fn a_line_dragged_off_the_sheet_stops_a_groove_short_of_its_edge() {
    let mut bench = bench();
    let from = middle_of(&bench, "Score line Left fold") + Vec2::new(0.0, 60.0);
    let to = from - Vec2::new(inch(&bench) * 4.0, 0.0);
    drag(&mut bench, from, to);
    bench.drop_at(to);
    bench.run();
    assert_eq!(across(&bench, 1), 8);
}
