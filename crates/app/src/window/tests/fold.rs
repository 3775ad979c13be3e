//! The folded view, the closing order, the findings.

use super::*;
use egui::Key;

#[test]
fn the_fold_is_laid_flat_stepped_and_closed() {
    let mut bench = bench();
    key(&mut bench, Modifiers::NONE, Key::Num2);
    assert!((bench.state().fold_time() - 3.0).abs() < 1e-9);
    assert!(exists(&bench, "Closed"));
    key(&mut bench, Modifiers::NONE, Key::Num1);
    press(&mut bench, "Step on");
    assert!((bench.state().fold_time() - 1.0).abs() < 1e-9);
    assert!(exists(&bench, "Step 1 of 3: Left fold"));
    press(&mut bench, "Step back");
    assert!(bench.state().fold_time().abs() < 1e-9);
}

#[test]
fn playing_goes_on_by_itself_and_then_rests() {
    let mut bench = bench();
    key(&mut bench, Modifiers::NONE, Key::Num1);
    bench.key_press(Key::Space);
    bench.run_steps(10);
    let then = bench.state().fold_time();
    assert!(then > 0.0);
    bench.run_steps(10);
    assert!(bench.state().fold_time() > then);
    bench.key_press(Key::Space);
    bench.run_steps(4);
    let stopped = bench.state().fold_time();
    // Asks for no further frame: a harness that has nothing to repaint stops by itself.
    assert!(bench.try_run().is_ok());
    assert!((bench.state().fold_time() - stopped).abs() < 1e-9);
}

#[test]
fn the_closing_order_is_changed_by_its_buttons() {
    let mut bench = bench();
    let order = |bench: &Bench| -> Vec<Vec<u32>> {
        let steps = &bench.state().session().document().steps;
        steps.iter().map(|step| step.lines.iter().map(|id| id.0).collect()).collect()
    };
    press(&mut bench, "Fold step 3 earlier");
    assert_eq!(order(&bench), [vec![1], vec![3], vec![2]]);
    press(&mut bench, "Join step 2 with the one before");
    assert_eq!(order(&bench), [vec![1, 3], vec![2]]);
    press(&mut bench, "Split step 1 in two");
    press(&mut bench, "Fold step 1 later");
    assert_eq!(order(&bench), [vec![3], vec![1], vec![2]]);
}

#[test]
fn a_finding_selects_its_place() {
    // Two scores that cross on the folio cannot fold one after the other without a cut: the checker objects.
    let mut bench = bench();
    let finding = bench.state().session().derived().findings.first().cloned().unwrap();
    let sentence = finding.sentence.clone();
    bench
        .get_by(|node| node.role() == Role::Button && node.label().is_some_and(|label| label.ends_with(&sentence)))
        .click();
    bench.run();
    match bench.state().session().selected() {
        Selected::Line { id, .. } => assert_eq!(finding.spot.lines.first(), Some(&id)),
        Selected::Panel(point) => {
            let panel = bench.state().session().derived().layout.panel_at(point);
            assert_eq!(finding.spot.panels.first().copied(), panel);
        }
        other => panic!("{finding:?} selects {other:?}"),
    }
    assert_eq!(bench.state().spot.as_ref(), Some(&finding.spot));
}

#[test]
fn a_panel_under_the_pointer_is_known_to_both_views() {
    let mut bench = bench();
    let sheet = bench.get_by_label("Sheet").rect().center();
    bench.hover_at(sheet);
    bench.run();
    let over = bench.state().hovered;
    let base = bench.state().session().derived().layout.base;
    assert!(over.is_some() && over == base, "the middle of the sheet is the base");
    let folded = bench.get_by_label("Folded view").rect().center();
    bench.hover_at(folded);
    bench.run();
    assert_eq!(bench.state().hovered, base, "and the middle of the folded view");
}

#[test]
fn an_idle_window_asks_for_no_frame() {
    let mut bench = bench();
    bench.step();
    assert!(bench.try_run().is_ok_and(|steps| steps <= 2));
}

#[test]
fn a_flap_is_tucked_under_another_and_laid_on_top_again() {
    // Two flaps of 5 in close over a base of 6 in, the right one last.
    let mut document = Document::new(Size::parse("16x6in").unwrap(), Unit::Inch);
    for (id, name, inches) in [(1, "Left fold", 5), (2, "Right fold", 11)] {
        let line = Line { name: name.to_owned(), ..measured_score(LineId(id), Turn::None, Length::INCH * inches) };
        document.apply(add_line(&document, line)).unwrap();
    }
    let mut bench = bench_with(document, None, []);
    press(&mut bench, "Tuck what step 1 folds…");
    assert!(exists(&bench, "Nothing that folds in this step can be tucked under anything."));
    bench.key_press(Key::Escape);
    bench.run();
    press(&mut bench, "Tuck what step 2 folds…");
    press(&mut bench, "Right flap under Left flap");
    assert!(bench.state().session().derived().folded.as_ref().unwrap().1.needs_tuck());
    assert!(exists(&bench, "Step 2  Right fold, Right flap under Left flap"));
    press(&mut bench, "Tuck what step 2 folds…");
    press(&mut bench, "On top again");
    assert!(!bench.state().session().derived().folded.as_ref().unwrap().1.needs_tuck());
}

#[test]
fn a_flap_is_opened_and_closed_with_what_is_in_its_way() {
    let mut bench = bench();
    // The panel right of "Right fold", which the second of three steps folds.
    let flap = on_sheet(&bench, 10.5, 8.0);
    click_at(&mut bench, flap);
    for expected in [2.0, 1.0] {
        bench.key_press(Key::W);
        bench.run_steps(60);
        assert!((bench.state().fold_time() - expected).abs() < 1e-9, "{}", bench.state().fold_time());
    }
    let base = on_sheet(&bench, 6.0, 8.0);
    click_at(&mut bench, base);
    key(&mut bench, Modifiers::NONE, Key::W);
    assert!(exists(&bench, "No step of the closing order moves"));
}

#[test]
fn a_double_click_on_a_flap_in_the_folded_view_swings_it() {
    let mut bench = bench();
    press(&mut bench, "Front");
    let view = bench.get_by_role_and_label(Role::Canvas, "Folded view").rect();
    // The middle of the base, 7 in from either of the sheet's farther edges, lies in the middle of the view, with 26 px
    // round the sheet; the middle of the left flap is 4 1/2 in from there.
    let flap = view.center() - Vec2::new((view.height() - 52.0) / 14.0 * 4.5, -20.0);
    bench.hover_at(flap);
    bench.step();
    // In one frame, since the bench lets a quarter of a second pass for each.
    let (button, modifiers) = (egui::PointerButton::Primary, Modifiers::NONE);
    let press = |pressed| egui::Event::PointerButton { pos: flap, button, pressed, modifiers };
    bench.input_mut().events.extend([true, false, true, false].map(press));
    bench.run_steps(60);
    assert!((bench.state().fold_time() - 1.0).abs() < 1e-9, "{}", bench.state().fold_time());
}

#[test]
fn layers_are_spread_and_seen_through() {
    let mut bench = bench();
    key(&mut bench, Modifiers::NONE, Key::S);
    assert!((bench.state().fold_time() - 3.0).abs() < 1e-9, "they are spread when the folio is closed");
    let is_on = |bench: &Bench, label: &str| {
        let button = bench.get_by_role_and_label(Role::Button, label);
        button.accesskit_node().toggled() == Some(egui::accesskit::Toggled::True)
    };
    assert!(is_on(&bench, "Spread the layers") && !is_on(&bench, "See through"));
    press(&mut bench, "See through");
    press(&mut bench, "Spread the layers");
    assert!(!is_on(&bench, "Spread the layers") && is_on(&bench, "See through"));
}

#[test]
fn keys_go_from_step_to_step() {
    let mut bench = bench();
    for (pressed, expected) in
        [(Key::PageDown, 1.0), (Key::PageDown, 2.0), (Key::PageUp, 1.0), (Key::PageUp, 0.0), (Key::PageUp, 0.0)]
    {
        key(&mut bench, Modifiers::NONE, pressed);
        assert!((bench.state().fold_time() - expected).abs() < 1e-9);
    }
}
