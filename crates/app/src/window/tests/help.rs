//! Every control says in a sentence what it does, and words of the trade are explained where they stand.

use super::*;
use about::glossary;
use egui::Key;

const CONTROL: Modifiers = Modifiers::COMMAND;
const SHIFT: Modifiers = Modifiers::SHIFT;

/// The starter with the most kinds of parts.
fn diary() -> Document {
    let diary = file::starters::ALL.iter().find(|starter| starter.name == "season-diary").unwrap();
    file::from_text(diary.text).unwrap()
}

/// Whether a description is a sentence, or several, with keys in brackets after it if any.
fn is_told(description: &str) -> bool {
    let text =
        description.rsplit_once(" (").filter(|(_, keys)| keys.ends_with(')')).map_or(description, |(text, _)| text);
    text.len() > 8
        && text.ends_with('.')
        && text.starts_with(|c: char| c.is_uppercase() || c.is_ascii_digit() || c == '"')
}

/// The controls that are there and don't say what they do.
#[track_caller]
fn untold(bench: &Bench, place: &str) -> Vec<String> {
    const CONTROLS: [Role; 8] = [
        Role::Button,
        Role::TextInput,
        Role::MultilineTextInput,
        Role::CheckBox,
        Role::ComboBox,
        Role::SpinButton,
        Role::Slider,
        Role::RadioButton,
    ];
    let controls: Vec<_> = bench.query_all_by(|node| CONTROLS.contains(&node.role())).collect();
    assert!(controls.len() > 20, "{place}: {} controls", controls.len());
    controls
        .iter()
        .map(|node| node.accesskit_node())
        .filter(|node| !node.description().is_some_and(|description| is_told(&description)))
        .map(|node| format!("{place}: {:?} {:?}: {:?}", node.role(), node.label(), node.description()))
        .collect()
}

#[track_caller]
fn none(wrong: &[String]) {
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn a_sentence_is_told_from_a_name() {
    for (text, told) in [
        ("Save the design to its file. (Ctrl+S)", true),
        ("Close the lists.", true),
        ("Close the lists", false),
        ("", false),
        ("save it to a file.", false),
    ] {
        assert_eq!(is_told(text), told, "{text}");
    }
}

#[test]
fn every_control_of_the_panes_says_what_it_does() {
    let mut wrong = Vec::new();
    let mut bench = bench_with(diary(), None, []);
    wrong.extend(untold(&bench, "nothing selected"));
    bench.get_by_role_and_label(Role::Button, "Making order").click();
    bench.run();
    wrong.extend(untold(&bench, "the making order"));
    let lines: Vec<LineId> = bench.state().session().document().lines.iter().map(|line| line.id).collect();
    for id in lines.iter().take(6) {
        bench.state_mut().session.select(Selected::Line { id: *id, at: None });
        bench.run();
        wrong.extend(untold(&bench, &format!("line {id}")));
    }
    key(&mut bench, CONTROL, Key::A);
    wrong.extend(untold(&bench, "all lines"));
    let panels: Vec<_> =
        bench.state().session().derived().layout.panels.iter().filter_map(|panel| panel.inside).collect();
    for inside in panels {
        bench.state_mut().session.select(Selected::Panel(inside));
        bench.run();
        wrong.extend(untold(&bench, &format!("panel at {inside:?}")));
    }
    bench.state_mut().list = crate::pane::LeftList::Parts;
    let parts: Vec<_> = bench.state().session().document().parts.iter().map(|part| part.id).collect();
    for id in parts {
        bench.state_mut().session.select(Selected::Part(id));
        bench.run();
        wrong.extend(untold(&bench, &format!("part {id:?}")));
    }
    none(&wrong);
}

#[test]
fn every_control_of_findings_and_what_is_drawn_says_what_it_does() {
    let mut wrong = Vec::new();
    // A score that goes nowhere near a groove, and a line from spot to spot.
    let mut document = document();
    let off = measured_score(LineId(4), Turn::None, Length::MILLIMETRE * 100);
    document.apply(add_line(&document, off)).unwrap();
    let mut bench = bench_with(document, None, []);
    assert!(!bench.state().session().derived().findings.is_empty());
    let finding = bench.state().session().derived().findings[0].sentence.clone();
    let row = bench
        .query_all_by_role(Role::Button)
        .find(|node| node.accesskit_node().label().is_some_and(|label| label.contains(&finding)));
    row.unwrap().click();
    bench.run();
    wrong.extend(untold(&bench, "a finding"));
    press(&mut bench, "Silence…");
    wrong.extend(untold(&bench, "silencing"));
    none(&wrong);
}

#[test]
fn every_control_of_the_questions_says_what_it_does() {
    let mut wrong = Vec::new();
    let mut bench = bench_with(diary(), None, [Chosen::NoDialog]);
    for (modifiers, shortcut, place) in [
        (CONTROL, Key::N, "a new sheet"),
        (CONTROL, Key::T, "starters"),
        (CONTROL, Key::I, "what goes in"),
        (CONTROL, Key::B, "paper"),
        (CONTROL | SHIFT, Key::N, "another sheet"),
        (CONTROL, Key::H, "steps so far"),
        (CONTROL | SHIFT, Key::O, "recent"),
        (Modifiers::NONE, Key::F1, "all commands"),
        (SHIFT, Key::F1, "about"),
        (CONTROL | SHIFT, Key::F, "a path"),
    ] {
        key(&mut bench, modifiers, shortcut);
        assert!(bench.state().dialog.is_some(), "{place}");
        wrong.extend(untold(&bench, place));
        key(&mut bench, Modifiers::NONE, Key::Escape);
        bench.state_mut().dialog = None;
        bench.run();
    }
    key(&mut bench, CONTROL, Key::P);
    for kind in crate::export::Kind::ALL.map(crate::export::Kind::name) {
        press(&mut bench, kind);
        wrong.extend(untold(&bench, kind));
    }
    key(&mut bench, Modifiers::NONE, Key::Escape);
    key(&mut bench, Modifiers::NONE, Key::A);
    key(&mut bench, CONTROL, Key::Q);
    wrong.extend(untold(&bench, "unsaved changes"));
    none(&wrong);
}

#[test]
fn menus_say_what_is_in_them() {
    let mut wrong = Vec::new();
    let mut bench = bench();
    for menu in ["New", "Compare", "View", "Help"] {
        press(&mut bench, menu);
        wrong.extend(untold(&bench, menu));
        key(&mut bench, Modifiers::NONE, Key::Escape);
    }
    none(&wrong);
}

#[test]
fn words_of_the_trade_are_explained_by_the_one_glossary() {
    let bench = bench();
    let described = |bench: &Bench, label: &str| {
        let node = bench.query_all_by_label(label).find(|node| node.accesskit_node().role() == Role::Label);
        node.and_then(|node| node.accesskit_node().description())
    };
    assert_eq!(described(&bench, "Findings"), glossary::sentence("finding"));
    let mut bench = bench_with(diary(), None, []);
    bench.state_mut().session.select(Selected::Line { id: LineId(1), at: None });
    bench.run();
    let buttons: Vec<Option<String>> = ["Valley", "Mountain"]
        .iter()
        .filter_map(|word| bench.query_all_by_role_and_label(Role::Button, word).next())
        .map(|node| node.accesskit_node().description())
        .collect();
    assert_eq!(buttons, [glossary::sentence("valley"), glossary::sentence("mountain")]);
}

#[test]
fn the_page_for_a_folio_from_nothing_is_read_in_the_window() {
    let mut bench = bench();
    key(&mut bench, Modifiers::NONE, Key::F12);
    assert!(exists(&bench, "A folio from nothing, in the window") && exists(&bench, "Say what lies still"));
    // While it is read, keys are not for the design.
    key(&mut bench, Modifiers::NONE, Key::A);
    assert_eq!(bench.state().session().document().lines.len(), 3);
    press(&mut bench, "Close");
    assert!(!exists(&bench, "Say what lies still"));
    bench.get_by_role_and_label(Role::Button, "Help").click();
    bench.run();
    press(&mut bench, "A folio from nothing");
    assert!(exists(&bench, "Say what lies still"));
}

/// What the page says to do, done by its keys: see `docs/guide/from-nothing.md`.
#[test]
fn the_page_leads_to_a_folio_that_closes() {
    let mut bench = bench_with(Document::new(Size::parse("letter").unwrap(), Unit::Inch), None, []);
    key(&mut bench, Modifiers::COMMAND, Key::N);
    press(&mut bench, "Start");
    assert_eq!(bench.state().session().document().stock.size, Size::parse("12x12in").unwrap());
    let score = |bench: &mut Bench, distance: &str| {
        key(bench, Modifiers::NONE, Key::A);
        key(bench, Modifiers::NONE, Key::Enter);
        bench.get_by(|node| node.role() == Role::TextInput && node.is_focused()).type_text(distance);
        bench.run();
        key(bench, Modifiers::NONE, Key::Enter);
    };
    score(&mut bench, "3");
    score(&mut bench, "9");
    key(&mut bench, Modifiers::NONE, Key::T);
    score(&mut bench, "3");
    score(&mut bench, "8 1/2");
    for _ in 0..3 {
        key(&mut bench, Modifiers::NONE, Key::T);
    }
    let places: Vec<i64> = (1..=4).map(|id| across(&bench, id) * 2 / 64).collect();
    assert_eq!((places, bench.state().turn()), (vec![6, 18, 6, 17], Turn::None), "in half inches");
    let middle = bench.get_by_label("Sheet").rect().center();
    click_at(&mut bench, middle);
    key(&mut bench, Modifiers::NONE, Key::B);
    key(&mut bench, Modifiers::NONE, Key::F9);
    await_mends(&mut bench);
    assert!(exists(&bench, "Mended 4 findings: "));
    assert!(exists(&bench, "Nothing to mend: the folio closes as drawn."));
    assert_eq!(bench.state().session().derived().layout.offcuts().count(), 4);
    key(&mut bench, Modifiers::NONE, Key::O);
    assert!(exists(&bench, "The order as it is closes the folio"));
    key(&mut bench, Modifiers::NONE, Key::P);
    bench.query_all_by_role_and_label(Role::Button, "Flat pocket").last().unwrap().click();
    bench.run();
    assert_eq!(bench.state().session().document().parts.len(), 1);
    key(&mut bench, Modifiers::NONE, Key::U);
    assert!(exists(&bench, "cut from what is left"), "or why not");
}
