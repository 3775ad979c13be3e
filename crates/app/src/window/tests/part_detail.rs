//! The details of a part: how it lies, its measures, its paper and glue, what fits, in which order it is made.

use super::parts::{part, place, put, with_mat, with_offcut};
use super::*;
use egui::Key;
use model::part::Source;
use model::{Edit, Face, PartId, PartKind, SheetEdge};

const INCH: Length = Length::INCH;

#[test]
fn a_part_is_turned_by_key_button_and_field() {
    let mut bench = with_mat();
    bench.get_by_label("Photo mat on the sheet").focus();
    bench.run();
    let turned = |bench: &Bench| part(bench, 1).place.rotation.hundredths();
    key(&mut bench, Modifiers::SHIFT, Key::R);
    assert_eq!(turned(&bench), 9_000);
    press(&mut bench, "Turn the part a quarter to the left");
    assert_eq!(turned(&bench), 0);
    type_into(&mut bench, "How far the part is turned", "12.5");
    assert_eq!(turned(&bench), 1_250);
    type_into(&mut bench, "How far the part is turned", "north");
    assert!(exists(&bench, "Give degrees"));
    assert_eq!(turned(&bench), 1_250);
}

#[test]
fn a_part_is_turned_over_and_put_behind_its_panel() {
    let mut bench = with_mat();
    bench.get_by_label("Photo mat on the sheet").focus();
    bench.run();
    key(&mut bench, Modifiers::SHIFT, Key::F);
    assert_eq!(part(&bench, 1).place.showing, Face::Back);
    press(&mut bench, "On its back");
    assert_eq!(part(&bench, 1).place.face, Face::Back);
    assert!(exists(&bench, "On the back of Base."));
}

#[test]
fn another_anchor_leaves_a_part_where_it_is() {
    let mut bench = with_mat();
    press(&mut bench, "Parts (1)");
    press(&mut bench, "Select Photo mat");
    let lies = |bench: &Bench| {
        let layout = &bench.state().session().derived().layout;
        let of = layout.part(PartId(1)).unwrap();
        session::part::on_host(&of.laid.unwrap(), &of.panels[0])
    };
    let before = lies(&bench);
    choose(&mut bench, "What it is measured from across", "from right");
    assert_eq!((lies(&bench), place(&bench, 1).0), (before, 2 * 64));
    choose(&mut bench, "What it is measured from down", "from top");
    assert_eq!((lies(&bench), place(&bench, 1).1), (before, 9 * 32));
}

#[test]
fn glued_edges_leave_a_mouth_that_is_named() {
    let mut bench = bench();
    press(&mut bench, "Parts");
    put(&mut bench, "Flat pocket");
    assert!(exists(&bench, "Open at the top."));
    press(&mut bench, "Glued at the right");
    assert!(exists(&bench, "Open at the top and right."));
    let PartKind::Pocket(pocket) = part(&bench, 1).kind else { panic!("a pocket") };
    assert!(!pocket.glued.has(SheetEdge::Right));
}

#[test]
fn a_measure_that_makes_no_part_is_refused_with_a_sentence() {
    let mut bench = with_mat();
    press(&mut bench, "Parts (1)");
    press(&mut bench, "Select Photo mat");
    type_into(&mut bench, "Width of the part", "0");
    assert!(exists(&bench, "has no width"));
    assert!(!bench.state().session().is_changed());
}

#[test]
fn an_offcut_is_used_as_a_part_on_the_base() {
    let mut bench = bench_with(with_offcut(), None, []);
    let corner = on_sheet(&bench, 1.0, 1.0);
    click_at(&mut bench, corner);
    bench.get_by_label("Use this offcut as…").click();
    bench.run();
    // The corner is 3 by 2 in.
    bench
        .get_by(|node| node.role() == Role::Button && node.label().is_some_and(|label| label.starts_with("Mat, ")))
        .click();
    bench.run();
    let mat = part(&bench, 1);
    assert!(matches!(mat.source, Source::Whole(_)) && matches!(mat.kind, PartKind::Mat(_)));
    assert!(exists(&bench, "Offcut 1 as it is"));
}

#[test]
fn parts_are_fitted_into_what_is_left() {
    let mut document = with_offcut();
    let layout = model::Layout::of(&document);
    let base = layout.panel_ref(layout.base.unwrap()).unwrap();
    let kind = PartKind::Mat(model::part::Mat { width: INCH * 2, height: INCH });
    let place = model::part::Placement::centred(base);
    let of = |id, kind: &PartKind| model::Part {
        id: PartId(id),
        name: String::new(),
        kind: kind.clone(),
        source: Source::FolioStock,
        place,
        also: Vec::new(),
    };
    let large = PartKind::Mat(model::part::Mat { width: INCH * 5, height: INCH * 5 });
    document.apply(Edit::SetParts(vec![of(1, &kind), of(2, &large)])).unwrap();
    let mut bench = bench_with(document, None, []);
    press(&mut bench, "Parts (2)");
    press(&mut bench, "Fit parts into what is left");
    assert_eq!(part(&bench, 1).source, Source::AnyOffcut);
    assert!(exists(&bench, "1 of 2 parts are cut from what is left; there is no room for \"Mat 2\"."));
    let supply = bench.state().session().derived().supply.clone().unwrap();
    assert!(matches!(supply.supply(PartId(1)).unwrap().from, allot::Origin::Offcut { .. }));
}

#[test]
fn a_job_that_may_not_be_moved_says_what_is_in_its_way() {
    let mut bench = with_mat();
    press(&mut bench, "Making order");
    let jobs = bench.state().session().derived().making(bench.state().session().document()).jobs.clone();
    let last = jobs.len();
    let cut = jobs.iter().position(|job| matches!(job, model::part::Job::Cut(model::part::Paper::Part(_)))).unwrap();
    let put = jobs.iter().position(|job| matches!(job, model::part::Job::Put(_))).unwrap();
    assert!(cut < put && put < last);
    for step in (cut + 2..=put + 1).rev() {
        let label = format!("Do job {step} earlier");
        press(&mut bench, &label);
    }
    assert!(exists(&bench, "is made before it is put in place"));
}

#[test]
fn what_goes_into_a_pocket_is_said() {
    let mut bench = bench();
    press(&mut bench, "Parts");
    put(&mut bench, "Flat pocket");
    assert!(exists(&bench, "What fits"));
    put(&mut bench, "Insert");
    assert!(exists(&bench, "fits \"Pocket 1\""), "an insert made for the pocket fits it");
}

#[test]
fn a_part_that_is_glued_to_nothing_says_so_and_is_mended() {
    let mut bench = with_mat();
    press(&mut bench, "Parts (1)");
    press(&mut bench, "Select Photo mat");
    choose(&mut bench, "Glue it to…", "Left flap");
    assert_eq!(part(&bench, 1).also.len(), 1);
    assert!(exists(&bench, "is glued to"), "the left flap does not lie there");
    assert!(!exists(&bench, "Photo mat on the sheet"), "it is left out");
    bench.get_by_role_and_label(Role::Button, "Take off").scroll_to_me();
    bench.run();
    press(&mut bench, "Take off");
    assert!(part(&bench, 1).also.is_empty(), "it is taken off");
    assert!(exists(&bench, "Photo mat on the sheet"), "and lies there again");
}
