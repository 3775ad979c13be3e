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
    assert!(bench.query_by_label_contains("farther from the left edge").is_some());
}
