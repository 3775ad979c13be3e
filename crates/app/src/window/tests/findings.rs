//! Findings are mended by their buttons.

use super::*;
use egui::Key;

/// One score so many sixteenths of an inch from the left: between grooves where that is odd.
fn off_groove(sixteenths: i64) -> Bench {
    let mut document = Document::new(Size::parse("12x12in").unwrap(), Unit::Inch);
    let score = measured_score(LineId(1), Turn::None, Length::SIXTEENTH * sixteenths);
    document.apply(add_line(&document, score)).unwrap();
    bench_with(document, None, [])
}

#[test]
fn a_finding_is_mended_by_its_button_and_that_is_taken_back_in_one_step() {
    let mut bench = off_groove(97);
    assert!(exists(&bench, "between the grooves of the board"));
    press(&mut bench, "Move Score 1 to 6 1/8 in");
    assert_eq!(across(&bench, 1), 6 * 64 + 8);
    assert!(!exists(&bench, "between the grooves of the board"), "the finding is gone");
    assert_eq!(bench.state().session().undo_label(), Some("Move Score 1 to 6 1/8 in"));
    key(&mut bench, Modifiers::COMMAND, Key::Z);
    assert_eq!(across(&bench, 1), 6 * 64 + 4);
    assert_eq!(bench.state().session().undo_label(), None);
}

#[test]
fn all_are_mended_in_one_step_that_is_told() {
    let mut document = Document::new(Size::parse("12x12in").unwrap(), Unit::Inch);
    // Two that cross, so that the corner between them is joined, one of them between grooves.
    for (id, turn, sixteenths) in [(1, Turn::None, 49), (2, Turn::Once, 48)] {
        let score = measured_score(LineId(id), turn, Length::SIXTEENTH * sixteenths);
        document.apply(add_line(&document, score)).unwrap();
    }
    document.base = Some(model::Point::new(Length::INCH * 6, Length::INCH * 6));
    let mut bench = bench_with(document, None, []);
    press(&mut bench, "Mend all");
    await_mends(&mut bench);
    let pieces = |bench: &Bench| bench.state().session().derived().layout.pieces.len();
    assert_eq!((pieces(&bench), across(&bench, 1)), (2, 3 * 64 + 4), "what is only noted stays as it was measured");
    assert!(exists(&bench, "Mended 1 finding: Cut the top flap 2 away."));
    assert!(exists(&bench, "between the grooves of the board"));
    assert!(!exists(&bench, "Mend all"), "nothing is left that could be");
    assert_eq!(bench.state().session().undo_label(), Some("Mend all"));
    key(&mut bench, Modifiers::COMMAND, Key::Z);
    assert_eq!((pieces(&bench), bench.state().session().undo_label()), (1, None));
    // The key alone does so too.
    key(&mut bench, Modifiers::NONE, Key::F9);
    await_mends(&mut bench);
    assert_eq!(pieces(&bench), 2);
    key(&mut bench, Modifiers::NONE, Key::F9);
    await_mends(&mut bench);
    assert!(exists(&bench, "Nothing that is wrong can be mended in one go."));
}

#[test]
fn the_first_mend_is_seen_without_scrolling_in_a_small_window() {
    let mut bench = off_groove(97);
    bench.set_size(Vec2::new(1280.0, 720.0));
    bench.run();
    let is_finding = |label: String| label.contains("between the grooves of the board");
    let finding = bench.get_by(|node| node.role() == Role::Button && node.label().is_some_and(is_finding)).rect();
    let mend = bench.get_by_role_and_label(Role::Button, "Move Score 1 to 6 1/8 in").rect();
    assert!(mend.top() - finding.bottom() < 12.0, "just under its sentence: {finding} and {mend}");
    assert!(mend.bottom() < 720.0, "{mend}");
}

#[test]
fn further_ways_to_mend_it_are_in_a_menu() {
    let mut bench = off_groove(97);
    assert!(!exists(&bench, "Move Score 1 to 6 in"), "it is not shown before the menu is open");
    press(&mut bench, "Other ways");
    press(&mut bench, "Move Score 1 to 6 in");
    assert_eq!(across(&bench, 1), 6 * 64);
    assert!(!exists(&bench, "Other ways"), "nothing is left to mend");
}

#[test]
fn a_finding_without_a_fix_has_no_button_and_still_shows_its_place() {
    // A folio of 12 by 9 in is too large for every letter.
    let mut document = Document::new(Size::parse("12x12in").unwrap(), Unit::Inch);
    let score = measured_score(LineId(1), Turn::None, Length::INCH * 3);
    document.apply(add_line(&document, score)).unwrap();
    document.base = Some(model::Point::new(Length::INCH * 10, Length::INCH * 6));
    let mut bench = bench_with(document, None, []);
    let findings = bench.state().session().derived().findings.clone();
    let out = findings.iter().find(|finding| finding.rule == "post").unwrap();
    assert!(out.fixes.is_empty() && !exists(&bench, "Other ways"), "{findings:?}");
    let sentence = out.sentence.clone();
    let label = format!("Note: {sentence}");
    bench.get_by_label(&label).scroll_to_me();
    bench.run();
    bench.get_by_label(&label).click();
    bench.run();
    assert_eq!(bench.state().spot.as_ref(), Some(&out.spot));
}

#[test]
fn a_finding_is_silenced_for_a_reason_and_heard_again() {
    let mut bench = off_groove(97);
    let is_finding = |label: String| label.contains("between the grooves of the board");
    bench.get_by(|node| node.role() == Role::Button && node.label().is_some_and(is_finding)).click();
    bench.run();
    press(&mut bench, "Silence…");
    press(&mut bench, "Silence it here");
    assert!(exists(&bench, "between the grooves of the board"), "a reason comes first");
    type_into(&mut bench, "Why it is as you want it", "It is scored along a ruler.");
    assert!(!exists(&bench, "between the grooves of the board"), "it is not said");
    assert_eq!(bench.state().session().undo_label(), Some("Silence off-groove"));
    press(&mut bench, "1 silenced");
    assert!(exists(&bench, "Reason: It is scored along a ruler."));
    assert!(exists(&bench, "between the grooves of the board"), "it is told among what is silenced");
    bench.get_by_label("Hear again").scroll_to_me();
    bench.run();
    press(&mut bench, "Hear again");
    assert!(!exists(&bench, "silenced") && exists(&bench, "between the grooves of the board"));
    key(&mut bench, Modifiers::COMMAND, Key::Z);
    key(&mut bench, Modifiers::COMMAND, Key::Z);
    assert!(bench.state().session().document().silences.is_empty());
}
