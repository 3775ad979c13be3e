//! Variations: begun in a file of their own, and what was changed in them.

use super::*;
use egui::Key;

fn choose(bench: &mut Bench, words: &str) {
    key(bench, Modifiers::NONE, Key::F1);
    bench.get_by_role_and_label(Role::TextInput, "Search").type_text(words);
    bench.run();
    key(bench, Modifiers::NONE, Key::Enter);
}

#[test]
fn a_variation_goes_on_in_a_file_of_its_own_and_says_what_was_changed() {
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| folder.path().join(name);
    disk::save_design(&at("swap.folio"), &document()).unwrap();
    let mut bench = bench_with(document(), Some(at("swap.folio")), [Chosen::File(at("deeper.folio"))]);
    choose(&mut bench, "what was changed");
    assert!(bench.query_by_label_contains("This is a variation of").is_none(), "it is none yet");
    key(&mut bench, Modifiers::NONE, Key::Escape);
    let title = document().title;
    choose(&mut bench, "make a variation");
    assert_eq!(bench.state().file(), Some(&at("deeper.folio")));
    let varied = disk::read_design(&at("deeper.folio")).unwrap();
    assert_eq!(varied.title, format!("{title}, a variation"));
    assert_eq!(varied.variation_of.as_deref(), Some(&document()));
    assert_eq!(disk::read_design(&at("swap.folio")).unwrap(), document(), "the first is as it was");
    bench.get_by_label("Score line Left fold").focus();
    bench.run();
    key(&mut bench, Modifiers::NONE, Key::ArrowRight);
    choose(&mut bench, "what was changed");
    assert!(exists(&bench, &format!("This is a variation of \"{title}\".")));
    let says = bench.query_all_by_label_contains("farther from the left edge").next().is_some();
    assert!(says, "in words");
    let lit = |bench: &Bench| bench.query_all_by_label_contains("Lit: Left fold").count();
    assert_eq!(lit(&bench), 0);
    let sentence = bench.query_all_by_label_contains("1. Left fold lies").next().unwrap().rect().center();
    click_at(&mut bench, sentence);
    assert_eq!(lit(&bench), 2, "on both sheets");
    for side in [format!("Before: {title}"), format!("After: {title}, a variation")] {
        assert!(exists(&bench, &side), "{side}");
    }
    click_at(&mut bench, sentence);
    assert_eq!(lit(&bench), 0, "and no longer");
    press(&mut bench, "Keep editing");
    assert!(!exists(&bench, "Before:"));
}

#[test]
fn a_design_is_compared_with_one_in_another_file_which_stays_as_it_is() {
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| folder.path().join(name);
    let other = Document::new(Size::parse("A4").unwrap(), Unit::Millimetre);
    disk::save_design(&at("other.folio"), &other).unwrap();
    std::fs::write(at("broken.folio"), "not a design").unwrap();
    let answers = ["broken.folio", "other.folio"].map(|name| Chosen::File(at(name)));
    let mut bench = bench_with(document(), None, answers);
    key(&mut bench, Modifiers::COMMAND | Modifiers::SHIFT, Key::F);
    assert!(exists(&bench, "broken.folio") && !exists(&bench, "Before:"), "it says what is wrong");
    press(&mut bench, "Keep editing");
    key(&mut bench, Modifiers::COMMAND | Modifiers::SHIFT, Key::F);
    assert!(exists(&bench, "What this design differs in from the one in \"other.folio\":"));
    assert!(exists(&bench, "What is different") && exists(&bench, "This one:") && !exists(&bench, "Before:"));
    assert!(exists(&bench, "The sheet is 12 x 12 in, not "), "the paper has a sentence");
    press(&mut bench, "Keep editing");
    assert_eq!(bench.state().session().document(), &document());
    assert_eq!(bench.state().file(), None, "it is only looked at");
    assert_eq!(disk::read_design(&at("other.folio")).unwrap(), other);
}
