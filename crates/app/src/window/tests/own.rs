//! The lines of a part of the maker's own, worked on the sheet.

use super::parts::{part, selected_part};
use super::*;
use egui::Key;
use model::part::{Own, Placement, Source, change};
use model::{CornerShape, Line, PanelRef, PartId, PartKind, Place, Point, Spot, Work};

const INCH: Length = Length::INCH;

/// A part of 4 by 2 in on the base, which is 6 by 10 in: a score 1 in from its left edge and a drawn cut in its right half.
/// Its main panel is the 3 in right of the score, in the middle of the base: from 4 1/2 in to 7 1/2 in.
fn with_own() -> Bench {
    let mut document = document();
    let at = |x, y| Spot::At(Point::new(INCH * x, INCH * y));
    let cut = Place::Drawn { from: at(2, 1), to: at(3, 1), bow: Length::ZERO };
    let lines = vec![
        Line { name: "Own fold".to_owned(), ..measured_score(LineId(1), Turn::None, INCH) },
        Line { name: "Own cut".to_owned(), ..Line::new(LineId(2), cut, Work::Cut) },
    ];
    let size = Size::new(INCH * 4, INCH * 2).unwrap();
    let base = Point::new(INCH * 2, INCH / 2);
    let kind = PartKind::Own(Own { size, lines, corners: Vec::new(), base, folded: Vec::new() });
    let place = Placement::centred(PanelRef::Sheet(Point::new(INCH * 6, INCH * 6)));
    let (id, name, source) = (PartId(1), "Shape".to_owned(), Source::FolioStock);
    document.apply(change::add(&document, model::Part { id, name, kind, source, place, also: Vec::new() })).unwrap();
    let mut bench = bench_with(document, None, []);
    let middle = on_sheet(&bench, 5.2, 7.7);
    click_at(&mut bench, middle);
    assert_eq!(selected_part(&bench), Some(1));
    bench
}

fn lines(bench: &Bench) -> Vec<Line> {
    let PartKind::Own(own) = part(bench, 1).kind else { panic!("a shape of her own") };
    own.lines
}

/// How far the score lies from the little sheet's left edge, in sixty-fourths of an inch.
fn score(bench: &Bench) -> i64 {
    let Place::Measured { distance, .. } = lines(bench)[0].place else { panic!("it is measured") };
    distance.nm() * 64 / INCH.nm()
}

#[test]
fn a_line_of_a_part_is_dragged_from_groove_to_groove_and_all_else_stays() {
    let mut bench = with_own();
    let label = "Score line Own fold of Shape";
    let (from, px) = (middle_of(&bench, label), inch(&bench));
    let to = from + Vec2::new(0.78 * px, 0.0);
    let edge = bench.get_by_label("Shape on the sheet").rect().right();
    drag(&mut bench, from, to);
    assert_eq!(score(&bench), 64 + 48, "on the groove at 1 3/4 in");
    bench.drop_at(to);
    bench.run();
    assert_eq!((score(&bench), selected_part(&bench)), (64 + 48, Some(1)), "the part stays selected");
    assert!((middle_of(&bench, label).x - from.x - 0.75 * px).abs() < 2.0, "it is where it was dragged to");
    assert!((bench.get_by_label("Shape on the sheet").rect().right() - edge).abs() < 2.0, "the part lies where it lay");
    assert_eq!(bench.state().session().undo_label(), Some("Move Own fold of Shape"));
    key(&mut bench, Modifiers::COMMAND, Key::Z);
    assert_eq!((score(&bench), bench.state().session().undo_label()), (64, None));
}

#[test]
fn a_distance_is_typed_while_it_is_dragged_and_escape_puts_it_back() {
    let mut bench = with_own();
    let from = middle_of(&bench, "Score line Own fold of Shape");
    let to = from + Vec2::new(40.0, 0.0);
    drag(&mut bench, from, to);
    bench.event(egui::Event::Text("1 1/2".to_owned()));
    bench.step();
    bench.step();
    key(&mut bench, Modifiers::NONE, Key::Enter);
    assert_eq!(score(&bench), 64 + 32);
    bench.drop_at(to);
    bench.run();
    let from = middle_of(&bench, "Score line Own fold of Shape");
    drag(&mut bench, from, from + Vec2::new(40.0, 0.0));
    assert_ne!(score(&bench), 64 + 32);
    key(&mut bench, Modifiers::NONE, Key::Escape);
    assert_eq!(score(&bench), 64 + 32);
}

#[test]
fn an_end_and_the_whole_of_a_drawn_line_are_dragged() {
    let mut bench = with_own();
    let (label, px) = ("Cut line Own cut of Shape", inch(&bench));
    let middle = middle_of(&bench, label);
    let spots = |bench: &Bench| {
        let Place::Drawn { from: Spot::At(from), to: Spot::At(to), .. } = lines(bench)[1].place else {
            panic!("it is drawn from spot to spot")
        };
        [from.x, from.y, to.x, to.y].map(|length| length.nm() * 8 / INCH.nm())
    };
    assert_eq!(spots(&bench), [16, 8, 24, 8]);
    let end = middle + Vec2::new(0.5 * px, 0.0);
    drag(&mut bench, end, end + Vec2::new(0.0, 0.5 * px));
    bench.drop_at(end + Vec2::new(0.0, 0.5 * px));
    bench.run();
    assert_eq!(spots(&bench), [16, 8, 24, 12], "its end by grooves");
    key(&mut bench, Modifiers::COMMAND, Key::Z);
    let by = Vec2::new(0.25 * px, -0.25 * px);
    drag(&mut bench, middle, middle + by);
    bench.drop_at(middle + by);
    bench.run();
    assert_eq!(spots(&bench), [18, 6, 26, 6], "all of it");
}

#[test]
fn a_corner_is_rounded_by_its_handle_and_by_keys() {
    let mut bench = with_own();
    let shapes = |bench: &Bench| {
        let PartKind::Own(own) = part(bench, 1).kind else { panic!("a shape of her own") };
        own.corners.iter().map(|corner| corner.shape).collect::<Vec<CornerShape>>()
    };
    let (label, px) = ("Bottom right corner of Shape, base", inch(&bench));
    let at = middle_of(&bench, label);
    let to = at - Vec2::splat(0.5 * px);
    drag(&mut bench, at, to);
    bench.drop_at(to);
    bench.run();
    assert_eq!((shapes(&bench), selected_part(&bench)), (vec![CornerShape::Round(INCH / 2)], Some(1)));
    bench.get_by_label(label).focus();
    bench.run();
    key(&mut bench, Modifiers::NONE, Key::ArrowUp);
    assert_eq!(shapes(&bench), [CornerShape::Round(INCH / 2 + Length::EIGHTH)]);
    assert!(!exists(&bench, "corner of Base"), "the folio's own are out of the way");
    key(&mut bench, Modifiers::COMMAND, Key::Z);
    key(&mut bench, Modifiers::COMMAND, Key::Z);
    assert_eq!(shapes(&bench), []);
}

#[test]
fn a_click_on_a_line_of_a_part_gives_it_the_arrows() {
    let mut bench = with_own();
    let at = middle_of(&bench, "Score line Own fold of Shape");
    click_at(&mut bench, at);
    assert_eq!(selected_part(&bench), Some(1));
    assert!(bench.get_by_label("Score line Own fold of Shape").is_focused());
    key(&mut bench, Modifiers::NONE, Key::ArrowRight);
    assert_eq!(score(&bench), 64 + 8);
    key(&mut bench, Modifiers::SHIFT, Key::ArrowLeft);
    assert_eq!(score(&bench), 64 + 6);
    key(&mut bench, Modifiers::NONE, Key::ArrowDown);
    assert_eq!(score(&bench), 64 + 6, "along itself it goes nowhere");
    assert!(bench.get_by_label("Score line Own fold of Shape").is_focused());
}

#[test]
fn the_arrows_go_as_it_is_seen_when_sheet_and_part_are_turned() {
    let mut bench = with_own();
    key(&mut bench, Modifiers::SHIFT, Key::R);
    key(&mut bench, Modifiers::NONE, Key::T);
    let before = middle_of(&bench, "Score line Own fold of Shape");
    bench.get_by_label("Score line Own fold of Shape").focus();
    bench.run();
    for pressed in [Key::ArrowRight, Key::ArrowUp] {
        for _ in 0..4 {
            key(&mut bench, Modifiers::NONE, pressed);
        }
    }
    let now = middle_of(&bench, "Score line Own fold of Shape");
    // It stands across one of the two ways, and is pushed along that one alone.
    let gone = now - before;
    assert!((gone.x > 10.0 && gone.y.abs() < 2.0) != (gone.y < -10.0 && gone.x.abs() < 2.0), "{gone}");
}

#[test]
fn lines_of_other_parts_are_none_to_take_hold_of() {
    let bench = super::parts::with_mat();
    assert!(!exists(&bench, " of Photo mat"));
    let mut bench = with_own();
    key(&mut bench, Modifiers::NONE, Key::Escape);
    assert!(!exists(&bench, "Own fold of Shape"), "only those of the selected part are");
}
