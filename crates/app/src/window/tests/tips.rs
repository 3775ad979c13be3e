//! Tips, and when they are kept back.

use super::*;

/// What the tip of the left fold begins with; what follows stands in the list of lines too.
const TIP: &str = "Score line Left fold\nScored";

/// Longer than a tip takes to come up.
fn rest(bench: &mut Bench) {
    for _ in 0..30 {
        bench.step();
    }
}

fn told(bench: &Bench, words: &str) -> bool {
    bench
        .query_all_by(|node| {
            node.role() == Role::Label && node.value().or(node.label()).is_some_and(|text| text.contains(words))
        })
        .next()
        .is_some()
}

#[test]
fn no_tip_covers_what_is_dragged_or_was_just_let_go() {
    let mut bench = bench();
    let from = on_sheet(&bench, 3.0, 8.0);
    bench.hover_at(from);
    rest(&mut bench);
    assert!(told(&bench, TIP));
    let to = from + Vec2::new(inch(&bench), 0.0);
    drag(&mut bench, from, to);
    rest(&mut bench);
    assert!(!told(&bench, TIP), "while it is held");
    bench.drop_at(to);
    rest(&mut bench);
    assert_eq!(across(&bench, 1), 4 * 64);
    assert!(!told(&bench, TIP), "while the pointer is still on it");
    bench.hover_at(to + Vec2::new(80.0, 0.0));
    bench.step();
    bench.hover_at(to);
    rest(&mut bench);
    assert!(told(&bench, TIP), "once it has been off it");
}
