//! The list of lines keeps its order while the pointer is over it.

use super::*;

fn order(bench: &Bench) -> Vec<u32> {
    let mut rows: Vec<(f32, u32)> = [(1, "Left"), (2, "Right")]
        .into_iter()
        .map(|(id, side)| {
            let label = format!("Select Score line {side} fold");
            (bench.get_by_role_and_label(Role::Button, &label).rect().top(), id)
        })
        .collect();
    rows.sort_by(|a, b| a.0.total_cmp(&b.0));
    rows.into_iter().map(|(_, id)| id).collect()
}

#[test]
fn a_typed_distance_moves_no_row_from_under_the_pointer() {
    let mut bench = bench();
    assert_eq!(order(&bench), [1, 2]);
    let row = bench.get_by_role_and_label(Role::Button, "Select Score line Left fold").rect().center();
    bench.hover_at(row);
    bench.run();
    type_into(&mut bench, "Distance of Left fold", "11");
    assert_eq!((across(&bench, 1), order(&bench)), (11 * 64, vec![1, 2]));
    let sheet = bench.get_by_label("Sheet").rect().center();
    bench.hover_at(sheet);
    bench.run();
    assert_eq!(order(&bench), [2, 1], "once the pointer is elsewhere they lie as on the board");
}

#[test]
fn without_the_pointer_on_it_the_list_follows_at_once() {
    let mut bench = bench();
    let sheet = bench.get_by_label("Sheet").rect().center();
    bench.hover_at(sheet);
    bench.get_by_label("Score line Left fold").focus();
    bench.run();
    for _ in 0..7 * 8 {
        bench.key_press(egui::Key::ArrowRight);
        bench.step();
    }
    bench.run();
    assert_eq!((across(&bench, 1), order(&bench)), (10 * 64, vec![2, 1]));
}
