//! Offcuts carried onto panels, and parts from one panel to another.

use super::parts::{part, place, selected_part, with_mat, with_offcut};
use super::*;
use egui::Key;
use model::part::{Source, change};
use model::{PanelId, PanelRef, PartId, Point};

const INCH: Length = Length::INCH;

/// The sheet with its upper left corner, 3 by 2 in, cut away.
fn cut() -> Bench {
    bench_with(with_offcut(), None, [])
}

fn carry(bench: &mut Bench, from: (f32, f32), to: (f32, f32)) -> Pos2 {
    let (from, to) = (on_sheet(bench, from.0, from.1), on_sheet(bench, to.0, to.1));
    drag(bench, from, to);
    to
}

fn let_go(bench: &mut Bench, at: Pos2) {
    bench.drop_at(at);
    bench.run();
}

/// The panel around a place, in whole inches.
fn panel_at(bench: &Bench, x: i64, y: i64) -> PanelId {
    bench.state().session().derived().layout.panel_at(Point::new(INCH * x, INCH * y)).unwrap()
}

fn host(bench: &Bench, id: u32) -> PanelId {
    bench.state().session().derived().layout.part(PartId(id)).unwrap().laid.unwrap().on
}

#[test]
fn an_offcut_let_go_over_a_panel_becomes_a_part_there() {
    let mut bench = cut();
    let to = carry(&mut bench, (1.5, 1.0), (6.0, 7.0));
    assert!(bench.state().session().in_gesture());
    assert!(exists(&bench, "on Base, across: middle; down: middle."), "what it would be is said");
    let_go(&mut bench, to);
    assert_eq!((selected_part(&bench), place(&bench, 1)), (Some(1), (0, 0)));
    assert!(matches!(part(&bench, 1).source, Source::Whole(_)), "it is the offcut as it is");
    assert_eq!(host(&bench, 1), panel_at(&bench, 6, 7));
    assert_eq!(bench.state().session().undo_label(), Some("Use Offcut 1"));
    key(&mut bench, Modifiers::COMMAND, Key::Z);
    assert!(bench.state().session().document().parts.is_empty() && !bench.state().session().is_changed());
}

#[test]
fn an_offcut_lies_where_it_is_let_go() {
    let mut bench = cut();
    // Taken hold of 1/2 in left of its middle, it lies 1/2 in right of the pointer.
    let to = carry(&mut bench, (1.0, 1.0), (6.5, 4.0));
    let_go(&mut bench, to);
    let part = part(&bench, 1);
    let (low, high) = {
        let layout = &bench.state().session().derived().layout;
        let of = layout.part(PartId(1)).unwrap();
        let main = of.panels.iter().find(|panel| panel.id == of.main).unwrap();
        session::part::on_host(&of.laid.unwrap(), main)
    };
    let middle = ((low.x + high.x).half(), (low.y + high.y).half());
    let near = |a: Length, b: Length| (a - b).abs() <= INCH / 8;
    assert!(near(middle.0, INCH * 7) && near(middle.1, INCH * 4), "{part:?}");
}

#[test]
fn arrows_choose_what_an_offcut_becomes() {
    let mut bench = cut();
    let to = carry(&mut bench, (1.5, 1.0), (6.0, 7.0));
    let word = |bench: &Bench| part(bench, 1).kind.word();
    let first = word(&bench);
    key(&mut bench, Modifiers::NONE, Key::ArrowDown);
    assert_ne!(word(&bench), first);
    key(&mut bench, Modifiers::NONE, Key::ArrowUp);
    assert_eq!(word(&bench), first);
    let_go(&mut bench, to);
    assert_eq!(bench.state().session().steps().0, ["Use Offcut 1"]);
}

#[test]
fn escape_puts_an_offcut_back() {
    let mut bench = cut();
    let to = carry(&mut bench, (1.5, 1.0), (6.0, 7.0));
    assert_eq!(bench.state().session().document().parts.len(), 1, "while it is carried");
    key(&mut bench, Modifiers::NONE, Key::Escape);
    let_go(&mut bench, to);
    assert!(bench.state().session().document().parts.is_empty());
    assert_eq!(bench.state().session().undo_label(), None);
}

#[test]
fn let_go_beside_the_folio_an_offcut_stays_and_it_is_said_why() {
    for to in [(1.2, 1.2), (-0.4, 6.0)] {
        let mut bench = cut();
        let to = carry(&mut bench, (1.5, 1.0), to);
        assert!(exists(&bench, "Offcut 1 is over no panel of the folio."));
        let_go(&mut bench, to);
        assert!(exists(&bench, "Let Offcut 1 go over a panel of the folio to make a part of it."));
        assert!(bench.state().session().document().parts.is_empty() && !bench.state().session().is_changed());
    }
}

#[test]
fn an_offcut_that_is_too_large_for_a_panel_is_no_part_of_it() {
    let mut document = with_offcut();
    let id = document.next_line();
    let strip = measured_score(id, Turn::None, INCH * 19 / 2);
    document.apply(add_line(&document, strip)).unwrap();
    let mut bench = bench_with(document, None, []);
    let to = carry(&mut bench, (1.5, 1.0), (9.25, 7.0));
    let_go(&mut bench, to);
    // A strip of 1/2 in holds nothing that is worth its paper.
    assert!(exists(&bench, "Nothing that is left of Offcut 1 would do for a part on"));
    assert!(!bench.state().session().is_changed());
}

#[test]
fn a_panel_of_the_folio_is_not_carried() {
    let mut bench = cut();
    let before = on_sheet(&bench, 6.0, 7.0);
    let to = carry(&mut bench, (6.0, 7.0), (5.0, 7.0));
    let_go(&mut bench, to);
    assert!(!bench.state().session().is_changed());
    assert!(on_sheet(&bench, 6.0, 7.0).x < before.x - 10.0, "the table is dragged");
}

#[test]
fn a_part_is_dragged_to_another_panel_in_one_step() {
    let mut bench = with_mat();
    let to = carry(&mut bench, (6.0, 7.0), (1.5, 7.0));
    assert!(exists(&bench, "Photo mat: on Left"), "where it would go is said");
    let_go(&mut bench, to);
    assert_eq!((host(&bench, 1), place(&bench, 1)), (panel_at(&bench, 1, 7), (0, 0)));
    let of = bench.state().session().derived().layout.part(PartId(1)).unwrap();
    assert!(!of.glue.is_empty(), "it is glued there");
    assert_eq!(bench.state().session().steps().0, ["Move Photo mat"]);
    key(&mut bench, Modifiers::COMMAND, Key::Z);
    assert_eq!(host(&bench, 1), panel_at(&bench, 6, 7));
}

#[test]
fn a_part_let_go_on_no_other_panel_stays_on_its_own() {
    let mut bench = with_mat();
    let to = carry(&mut bench, (6.0, 7.0), (1.5, 7.0));
    bench.hover_at(to - Vec2::new(4.0 * inch(&bench), 0.0));
    bench.step();
    assert_eq!(host(&bench, 1), panel_at(&bench, 6, 7), "beside the sheet it is still on its own panel");
    key(&mut bench, Modifiers::NONE, Key::Escape);
    let_go(&mut bench, to);
    assert_eq!((host(&bench, 1), place(&bench, 1)), (panel_at(&bench, 6, 7), (0, 0)));
    assert!(!bench.state().session().is_changed());
}

#[test]
fn a_part_is_dragged_onto_another_part_that_is_seen() {
    let mut bench = with_mat();
    let mut document = bench.state().session().document().clone();
    let mut page = document.parts[0].clone();
    page.id = PartId(2);
    page.name = "Card".to_owned();
    page.kind = model::PartKind::Mat(model::part::Mat { width: INCH * 2, height: INCH * 3 });
    page.place = model::part::Placement::centred(PanelRef::Sheet(Point::new(INCH, INCH * 7)));
    document.apply(change::add(&document, page)).unwrap();
    bench = bench_with(document, None, []);
    let to = carry(&mut bench, (6.0, 7.0), (1.5, 7.0));
    let_go(&mut bench, to);
    assert_eq!(part(&bench, 1).place.on, PanelRef::Part(PartId(2), 0));
    let folded = bench.state().session().derived().folded.as_ref().unwrap();
    assert!(folded.0.left_out.is_empty());
}

#[test]
fn what_lies_behind_the_sheet_goes_behind_the_other_panel() {
    let mut document = with_mat().state().session().document().clone();
    document.parts[0].place.face = model::Face::Back;
    let mut bench = bench_with(document, None, []);
    let to = carry(&mut bench, (6.0, 7.0), (1.5, 7.0));
    let_go(&mut bench, to);
    assert_eq!((host(&bench, 1), part(&bench, 1).place.face), (panel_at(&bench, 1, 7), model::Face::Back));
}

#[test]
fn where_a_part_lies_is_said_as_it_is_seen_on_the_turned_sheet() {
    let mut bench = with_mat();
    key(&mut bench, Modifiers::NONE, Key::T);
    let from = middle_of(&bench, "Photo mat on the sheet");
    // Turned once to the left, the panel is 10 in wide and 6 in high; to the right is down on the sheet as drawn.
    let inch = (middle_of(&bench, "Score line Left fold").y - middle_of(&bench, "Score line Right fold").y).abs() / 6.0;
    let to = from + Vec2::new(inch, 0.0);
    drag(&mut bench, from, to);
    bench.run();
    assert!(exists(
        &bench,
        "across: 1/8 in groove; down: middle. It lies 5 1/2 in from the left and 2 in from the top."
    ));
    let_go(&mut bench, to);
    assert_eq!(place(&bench, 1), (0, 64));
}
