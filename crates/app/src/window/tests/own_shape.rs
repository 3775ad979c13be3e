//! A part of the maker's own, made in the window from nothing and from an offcut, and worked line by line.

use super::parts::{part, put, selected_part, with_offcut};
use super::*;
use egui::Key;
use egui::accesskit::Role;
use model::part::{Own, Source};
use model::{Crease, Direction, Line, PanelRef, PartId, PartKind, Place, Point, Spot, Work};

const INCH: Length = Length::INCH;

fn own(bench: &Bench, id: u32) -> Own {
    match part(bench, id).kind {
        PartKind::Own(own) => own,
        other => panic!("a shape of her own, not {other:?}"),
    }
}

fn only_line(bench: &Bench) -> Line {
    let [line] = <[Line; 1]>::try_from(own(bench, 1).lines).unwrap();
    line
}

fn push_button(bench: &mut Bench, label: &str) {
    bench.get_by_label(label).scroll_to_me();
    bench.run();
    press(bench, label);
}

/// A plain shape on the base, which is 6 by 10 in.
fn plain() -> Bench {
    let mut bench = bench();
    press(&mut bench, "Parts");
    put(&mut bench, "Own shape");
    assert_eq!((selected_part(&bench), own(&bench, 1).lines), (Some(1), Vec::new()));
    assert!(!exists(&bench, "Nothing holds"), "it is glued all over");
    bench
}

#[test]
fn a_shape_is_scored_measured_and_folded_from_its_details() {
    let mut bench = plain();
    push_button(&mut bench, "Add upright score");
    let at = |line: &Line| match line.place {
        Place::Measured { distance, .. } => distance,
        other => panic!("{other:?}"),
    };
    let width = own(&bench, 1).size.width();
    assert!(at(&only_line(&bench)) > width / 3 && at(&only_line(&bench)) < width * 2 / 3, "near the middle");
    assert_eq!(bench.state().session().undo_label(), Some("Add upright score to Own shape 1"));
    type_into(&mut bench, "Distance of Score 1 of Own shape 1", "1 1/4");
    assert_eq!(at(&only_line(&bench)), INCH * 5 / 4);
    type_into(&mut bench, "Distance of Score 1 of Own shape 1", "20");
    assert!(exists(&bench, "On Own shape 1, \"Score 1\" lies"), "said beside the field");
    assert_eq!(at(&only_line(&bench)), INCH * 5 / 4);
    key(&mut bench, Modifiers::NONE, Key::Escape);
    push_button(&mut bench, "Mountain");
    push_button(&mut bench, "Square, 90°");
    assert!(matches!(
        only_line(&bench).work,
        Work::Score(Crease { direction: Direction::Mountain, angle: model::FoldAngle::Square, .. })
    ));
    assert_eq!(bench.state().session().document().steps.iter().filter(|step| !step.parts.is_empty()).count(), 1);
    push_button(&mut bench, "Before gluing");
    assert_eq!(own(&bench, 1).folded, [[LineId(1)]]);
    assert!(bench.state().session().document().steps.iter().all(|step| step.parts.is_empty()));
    choose(&mut bench, "Face it is pressed into", "the back");
    let Work::Score(crease) = only_line(&bench).work else { panic!("a score") };
    assert_eq!(crease.pressed, Some(model::Face::Back));
    choose(&mut bench, "What is done along the line", "Slot");
    type_into(&mut bench, "Width of the strip", "3/16");
    assert!(matches!(only_line(&bench).work, Work::Slot(strip) if strip.width == INCH * 3 / 16));
    type_into(&mut bench, "Width of the strip", "-1");
    assert!(exists(&bench, "On Own shape 1, "), "said beside the field");
    key(&mut bench, Modifiers::NONE, Key::Escape);
    choose(&mut bench, "What is done along the line", "Cut");
    assert_eq!((only_line(&bench).work, own(&bench, 1).folded), (Work::Cut, Vec::new()));
    push_button(&mut bench, "Delete this line");
    assert_eq!(own(&bench, 1).lines, []);
}

#[test]
fn the_keys_of_lines_work_on_the_line_that_has_them() {
    let mut bench = plain();
    push_button(&mut bench, "Add level score");
    let label = "Score line 1 of Own shape 1";
    bench.get_by_label(label).focus();
    bench.run();
    key(&mut bench, Modifiers::NONE, Key::V);
    assert!(matches!(only_line(&bench).work, Work::Score(Crease { direction: Direction::Mountain, .. })));
    key(&mut bench, Modifiers::NONE, Key::X);
    assert_eq!(only_line(&bench).work, Work::Cut);
    assert_eq!(bench.state().session().undo_label(), Some("Cut Score 1 of Own shape 1"));
    key(&mut bench, Modifiers::NONE, Key::V);
    assert!(exists(&bench, "does not fold"), "a cut says why not");
    key(&mut bench, Modifiers::NONE, Key::X);
    key(&mut bench, Modifiers::NONE, Key::Delete);
    assert_eq!(own(&bench, 1).lines, [], "the line goes and the part stays");
    key(&mut bench, Modifiers::COMMAND, Key::Z);
    assert!(only_line(&bench).work.is_score());
}

#[test]
fn the_pen_draws_on_the_selected_shape_and_beside_it_on_the_folio() {
    let mut bench = plain();
    let count = bench.state().session().document().lines.len();
    key(&mut bench, Modifiers::NONE, Key::L);
    let draw = |bench: &mut Bench, from: (f32, f32), to: (f32, f32)| {
        let (from, to) = (on_sheet(bench, from.0, from.1), on_sheet(bench, to.0, to.1));
        drag(bench, from, to);
        bench.drop_at(to);
        bench.run();
    };
    draw(&mut bench, (5.0, 5.0), (6.0, 7.0));
    let Place::Drawn { from: Spot::At(from), to: Spot::At(to), .. } = only_line(&bench).place else {
        panic!("a line from spot to spot")
    };
    assert_eq!((to.x - from.x, to.y - from.y), (INCH, INCH * 2));
    assert_eq!(bench.state().session().document().lines.len(), count);
    draw(&mut bench, (0.5, 0.5), (1.5, 1.5));
    assert_eq!((own(&bench, 1).lines.len(), bench.state().session().document().lines.len()), (1, count + 1));
}

#[test]
fn a_cut_goes_across_the_shape_wherever_it_begins() {
    let mut bench = plain();
    let count = bench.state().session().document().lines.len();
    key(&mut bench, Modifiers::NONE, Key::L);
    let (from, to) = (on_sheet(&bench, 2.5, 6.0), on_sheet(&bench, 9.5, 7.0));
    drag(&mut bench, from, to);
    bench.drop_at(to);
    bench.run();
    assert_eq!(bench.state().session().document().lines.len(), count, "the folio keeps whole");
    let Place::Drawn { from: Spot::At(from), to: Spot::At(to), .. } = only_line(&bench).place else {
        panic!("a line from spot to spot")
    };
    assert_eq!((from.x, to.x), (Length::ZERO, own(&bench, 1).size.width()), "from edge to edge of it");
    key(&mut bench, Modifiers::NONE, Key::Escape);
    key(&mut bench, Modifiers::NONE, Key::Delete);
    assert_eq!((own(&bench, 1).lines, selected_part(&bench)), (Vec::new(), Some(1)), "the cut goes, the shape stays");
}

#[test]
fn a_line_chosen_in_the_details_has_the_keys_and_is_let_go_by_a_click_on_the_shape() {
    let mut bench = plain();
    key(&mut bench, Modifiers::NONE, Key::A);
    // As with a score of the folio, Enter leads to its distance.
    key(&mut bench, Modifiers::NONE, Key::Enter);
    bench.run();
    assert!(bench.get_by_label("Distance of Score 1 of Own shape 1").is_focused());
    key(&mut bench, Modifiers::NONE, Key::Escape);
    bench.get_by_label("Score line 1 of Own shape 1").focus();
    bench.run();
    key(&mut bench, Modifiers::NONE, Key::T);
    key(&mut bench, Modifiers::NONE, Key::A);
    let turns = |bench: &Bench| -> Vec<Turn> {
        own(bench, 1)
            .lines
            .iter()
            .map(|line| match line.place {
                Place::Measured { turn, .. } => turn,
                other => panic!("{other:?}"),
            })
            .collect()
    };
    assert_eq!(turns(&bench), [Turn::None, Turn::Once], "as they are seen on the turn that the sheet lies on");
    push_button(&mut bench, "Select Score line 1 in the list of Own shape 1");
    press(&mut bench, "Select Score line 1 in the list of Own shape 1");
    key(&mut bench, Modifiers::NONE, Key::X);
    assert_eq!(own(&bench, 1).lines[0].work, Work::Cut);
    key(&mut bench, Modifiers::NONE, Key::Delete);
    assert_eq!(turns(&bench), [Turn::Once]);
    let at = on_sheet(&bench, 3.4, 2.4);
    click_at(&mut bench, at);
    assert_eq!(selected_part(&bench), Some(1));
    key(&mut bench, Modifiers::NONE, Key::Delete);
    assert_eq!(bench.state().session().document().parts, []);
}

#[test]
fn a_copy_is_glued_as_what_it_was_made_of() {
    let mut bench = plain();
    key(&mut bench, Modifiers::COMMAND, Key::D);
    let [first, second] = [1, 2].map(|id| part(&bench, id).also);
    assert_eq!((first.len(), &first), (1, &second));
}

#[test]
fn an_offcut_becomes_a_shape_of_its_own_by_its_menu_and_another_lies_beside_it() {
    let mut document = with_offcut();
    // Across the corner of 3 by 2 in, which is cut away, a score that ends at its edge.
    let run = model::Run { from: model::Stop::Edge, to: model::Stop::At(INCH * 2) };
    let place = Place::Measured { turn: Turn::None, from: model::Datum::Edge, distance: INCH, run };
    let id = document.next_line();
    document.apply(model::change::add_line(&document, Line::new(id, place, Work::Score(Crease::VALLEY)))).unwrap();
    let mut bench = bench_with(document, None, []);
    let errors = |bench: &Bench| {
        let findings = &bench.state().session().derived().findings;
        findings.iter().filter(|finding| finding.severity == check::Severity::Error).count()
    };
    let before = errors(&bench);
    let corner = on_sheet(&bench, 2.0, 1.0);
    super::menu::right_click(&mut bench, corner);
    bench.query_all_by_label("Use this offcut as…").last().unwrap().click();
    bench.run();
    let is_shape = |label: String| label.starts_with("Own shape, ");
    bench.get_by(|node| node.role() == Role::Button && node.label().is_some_and(is_shape)).click();
    bench.run();
    let shape = own(&bench, 1);
    assert_eq!((shape.size.width(), shape.size.height(), shape.lines.len()), (INCH * 3, INCH * 2, 1));
    assert!(matches!(part(&bench, 1).source, Source::Whole(_)));
    assert!(!exists(&bench, "Use this offcut as…"), "the menu is closed");
    assert!(exists(&bench, "Guide line 1 of Own shape 1"), "where the sheet's score went on, to be scored again");
    assert_eq!(errors(&bench), before);
}

#[test]
fn what_an_offcut_is_used_as_lies_clear_of_what_is_there() {
    let mut document = with_offcut();
    let on = PanelRef::Sheet(Point::new(INCH * 6, INCH * 6));
    let mat = PartKind::Mat(model::part::Mat { width: INCH * 2, height: INCH * 2 });
    let place = model::part::Placement::centred(on);
    let (id, source) = (PartId(1), Source::FolioStock);
    let part_of = model::Part { id, name: String::new(), kind: mat, source, place, also: Vec::new() };
    document.apply(model::part::change::add(&document, part_of)).unwrap();
    let mut bench = bench_with(document, None, []);
    let corner = on_sheet(&bench, 1.0, 1.0);
    click_at(&mut bench, corner);
    bench.get_by_label("Use this offcut as…").click();
    bench.run();
    let is_mat = |label: String| label.starts_with("Mat, ");
    bench.get_by(|node| node.role() == Role::Button && node.label().is_some_and(is_mat)).click();
    bench.run();
    let layout = &bench.state().session().derived().layout;
    let [first, second] = [1, 2].map(|id| {
        let part = layout.part(PartId(id)).unwrap();
        let main = part.panels.iter().find(|panel| panel.id == part.main).unwrap();
        session::part::on_host(&part.laid.unwrap(), main)
    });
    assert!(second.0.y >= first.1.y || second.1.y <= first.0.y, "{first:?} {second:?}");
}

#[test]
fn the_main_panel_is_chosen_and_the_glue_goes_with_it() {
    let mut bench = plain();
    push_button(&mut bench, "Add upright score");
    let main = |bench: &Bench| bench.state().session().derived().layout.part(PartId(1)).unwrap().main;
    let before = main(&bench);
    let old = part(&bench, 1).also[0].panel;
    let layout = &bench.state().session().derived().layout;
    let name = layout.part(PartId(1)).unwrap().panels.iter().find(|panel| panel.id != before).unwrap().name.clone();
    let shape = bench.get_by_label("Own shape 1 on the sheet").rect();
    choose(&mut bench, "Main panel of the part", &name);
    assert_ne!(main(&bench), before);
    assert_eq!(part(&bench, 1).also[0].panel, 1 - old, "its glue is that of the main panel");
    assert!(!exists(&bench, "Nothing holds"));
    let now = bench.get_by_label("Own shape 1 on the sheet").rect();
    assert!((now.center() - shape.center()).length() < 2.0, "{now} where {shape} was");
}
