//! What a maker does to a design: moving, adding, deleting, switching; marks follow, and every step can be taken back.

#![expect(clippy::unwrap_used, reason = "a test may fail")]

mod common;

use common::{Sketch, at, four_flaps, length, line};
use foliowright_model::change::{self, Performed, perform};
use foliowright_model::{Crease, Datum, Document, Edit, Layout, Length, Line, LineId, Place, Run, Stop, Turn, Work};

#[track_caller]
fn make(document: &Document, edit: Edit) -> Document {
    let layout = Layout::of(document);
    let Performed { document: after, layout: new, inverse } = perform(document, &layout, edit).unwrap();
    assert_eq!(new, Layout::of(&after));
    let mut back = after.clone();
    back.apply(inverse).unwrap();
    assert_eq!(&back, document, "the inverse takes it back");
    after
}

fn moved(document: &Document, id: u32, to: &str) -> Edit {
    change::move_line(document, &Layout::of(document), LineId(id), length(to)).unwrap()
}

#[test]
fn what_stops_at_a_line_follows_it() {
    let before = four_flaps();
    let after = make(&before, moved(&before, 1, "2 1/2"));
    let layout = Layout::of(&after);
    assert_eq!(layout.folio().unwrap().panels.len(), 5, "still a cross");
    assert_eq!(layout.offcuts().map(|piece| piece.bounds.1.x).min(), Some(length("2 1/2")));
    assert_eq!(layout.panel(layout.base.unwrap()).extent(), (length("6 1/2"), length("6")));
}

#[test]
fn the_base_mark_goes_where_its_panel_goes() {
    let sketch = Sketch::on("12x12in").score(1, Turn::None, "3").score(2, Turn::None, "5").base("4", "6").0;
    let far = make(&sketch, moved(&sketch, 2, "11"));
    assert_eq!(Layout::of(&far).panel_at(far.base.unwrap()), Some(foliowright_model::PanelId(1)));
    // Both lines move past the mark: it goes along to the strip between them.
    let both = Edit::All(vec![moved(&sketch, 2, "11"), moved(&sketch, 1, "9")]);
    let after = make(&sketch, both);
    let layout = Layout::of(&after);
    assert_eq!(layout.panel(layout.base.unwrap()).bounds(), (at("9", "0"), at("11", "12")));
    assert_ne!(after.base, sketch.base);
}

#[test]
fn a_base_whose_lines_are_gone_goes_to_what_takes_most_of_it() {
    let sketch = Sketch::on("12x12in").score(1, Turn::None, "3").score(2, Turn::None, "5").base("4", "6").0;
    let layout = Layout::of(&sketch);
    let after = make(&sketch, change::delete_line(&sketch, &layout, LineId(1)).unwrap());
    let layout = Layout::of(&after);
    assert_eq!(layout.panel(layout.base.unwrap()).bounds(), (at("0", "0"), at("5", "12")));
}

#[test]
fn deleting_a_line_leaves_others_where_they_are() {
    let run = Run { from: line(1), to: Stop::Edge };
    let beside =
        Place::Measured { turn: Turn::None, from: Datum::Line(LineId(2)), distance: length("1/4"), run: Run::FULL };
    let sketch = Sketch::on("12x12in")
        .score(1, Turn::Once, "4")
        .score(2, Turn::None, "3")
        .line(3, Place::Measured { turn: Turn::None, from: Datum::Edge, distance: length("7"), run }, Work::Cut)
        .line(4, beside, Work::Cut)
        .cut(5, 1, Stop::Edge, Stop::At(length("1")))
        .0;
    let places =
        |document: &Document| Layout::of(document).lines.values().map(|p| p.unwrap().segment).collect::<Vec<_>>();
    let before = places(&sketch);
    let delete = |document: &Document, id| change::delete_line(document, &Layout::of(document), LineId(id)).unwrap();
    let without_one = make(&sketch, delete(&sketch, 1));
    assert_eq!(places(&without_one), before[1..4], "the cut along it goes with it");
    assert_eq!(without_one.steps.len(), 1);
    let without_both = make(&without_one, delete(&without_one, 2));
    assert_eq!(places(&without_both), before[2..4]);
}

#[track_caller]
fn switch(document: &Document, x: &str, y: &str) -> Document {
    let layout = Layout::of(document);
    let point = at(x, y);
    let on = |s: &&foliowright_model::Stretch| {
        (s.segment.b - s.segment.a).cross(point - s.segment.a) == 0
            && (s.segment.a - point).dot(s.segment.b - point) < 0
    };
    let stretch = layout.stretches.iter().find(on).unwrap();
    make(document, change::switch_stretch(document, &layout, stretch).unwrap())
}

fn works(document: &Document) -> Vec<(String, bool)> {
    let text = |s: &foliowright_model::Stretch| {
        let inch = |l: Length| l.text(foliowright_model::Unit::Inch).replace(" in", "");
        format!("{},{}-{},{}", inch(s.segment.a.x), inch(s.segment.a.y), inch(s.segment.b.x), inch(s.segment.b.y))
    };
    let inner = Layout::of(document).stretches;
    inner.iter().filter_map(|s| Some((text(s), s.work?.is_cut()))).collect()
}

#[test]
fn a_stretch_switches_to_a_cut_and_back() {
    let crossed = Sketch::on("12x12in").score(1, Turn::None, "4").score(2, Turn::Once, "5").0;
    let cut = switch(&crossed, "4", "1");
    assert_eq!(works(&cut).iter().filter(|(_, cut)| *cut).map(|(s, _)| s.as_str()).collect::<Vec<_>>(), ["4,0-4,5"]);
    assert_eq!(cut.lines[2].place, Place::Along { line: LineId(1), run: Run { from: Stop::Edge, to: line(2) } });
    let back = switch(&cut, "4", "1");
    assert_eq!(works(&back), works(&crossed));
    assert_eq!(back.lines, crossed.lines);
}

#[test]
fn a_stretch_of_a_long_cut_becomes_a_score_and_leaves_the_rest() {
    let full = Place::Measured { turn: Turn::None, from: Datum::Edge, distance: length("4"), run: Run::FULL };
    let cut = Sketch::on("12x12in").line(1, full, Work::Cut).score(2, Turn::Once, "5").score(3, Turn::Once, "8").0;
    let scored = switch(&cut, "4", "6");
    let upright: Vec<(String, bool)> =
        works(&scored).into_iter().filter(|(s, _)| s.starts_with("4,") && s.contains("-4,")).collect();
    let expected = [("4,0-4,5", true), ("4,5-4,8", false), ("4,8-4,12", true)];
    assert_eq!(upright, expected.map(|(s, cut)| (s.to_owned(), cut)));
    assert!(scored.steps.iter().flat_map(|step| &step.lines).count() == 3, "the new score folds too");
    // A whole cut just becomes a score.
    let plain = Sketch::on("12x12in").line(1, full, Work::Cut).0;
    let scored = switch(&plain, "4", "6");
    assert_eq!((scored.lines.len(), scored.lines[0].work), (1, Work::Score(Crease::VALLEY)));
}

#[test]
fn what_is_left_of_a_cut_on_either_side_is_a_cut_of_its_own() {
    let crossed = Sketch::on("12x12in").score(1, Turn::None, "4").score(2, Turn::Once, "5").score(3, Turn::Once, "8");
    let parted = switch(&crossed.cut(4, 1, Stop::Edge, Stop::Edge).0, "4", "6");
    let cuts =
        |document: &Document| works(document).into_iter().filter(|(_, cut)| *cut).map(|(s, _)| s).collect::<Vec<_>>();
    assert_eq!(cuts(&parted), ["4,0-4,5", "4,8-4,12"]);
    assert_eq!(cuts(&switch(&parted, "4", "2")), ["4,8-4,12"]);
}

#[test]
fn the_sheets_edge_is_neither() {
    // With or without a line on it.
    for document in [Sketch::on("12x12in").0, Sketch::on("12x12in").score(1, Turn::None, "0").0] {
        let layout = Layout::of(&document);
        let refusal = change::switch_stretch(&document, &layout, &layout.stretches[0]).unwrap_err();
        assert_eq!(refusal.to_string(), "the sheet's own edge is neither scored nor cut");
    }
}

#[test]
fn new_lines_find_a_free_id_even_beside_the_largest() {
    let mut document = Sketch::on("12x12in").score(1, Turn::None, "4").score(2, Turn::Once, "5").0;
    assert_eq!(document.next_line(), LineId(3));
    document.lines[0].id = LineId(u32::MAX);
    assert_eq!(document.next_line(), LineId(1));
    let cut = switch(&document, "4", "2");
    assert_eq!(cut.lines[2].id, LineId(1));
}

#[test]
fn what_would_leave_a_line_without_a_place_is_refused() {
    #[track_caller]
    fn check(document: &Document, edit: Edit, says: &str) {
        assert_eq!(perform(document, &Layout::of(document), edit).unwrap_err().to_string(), says);
    }
    let document = four_flaps();
    check(&document, moved(&document, 1, "12 1/2"), "\"Score 1\" lies 1/2 in beyond the edge of the sheet");
    // A cut that runs to a line that is then moved past its start.
    let run = Run { from: Stop::At(length("2")), to: line(3) };
    let place = Place::Measured { turn: Turn::None, from: Datum::Edge, distance: length("6"), run };
    let mut held = document.clone();
    held.lines.push(Line { name: "Slit".into(), ..Line::new(LineId(30), place, Work::Cut) });
    check(&held, moved(&held, 3, "1"), "\"Slit\" ends where it starts, so there is nothing of it");
    // What was misplaced before does not stand in the way of other edits.
    held.lines.push(Line {
        id: LineId(31),
        place: Place::Along { line: LineId(99), run: Run::FULL },
        ..held.lines[0].clone()
    });
    make(&held, moved(&held, 2, "8"));
}

#[test]
fn moving_a_line_along_another_moves_that_one() {
    let document = four_flaps();
    let after = make(&document, moved(&document, 11, "2"));
    assert_eq!(after, make(&document, moved(&document, 1, "2")));
}

#[test]
fn steps_are_moved_joined_and_parted() {
    #[track_caller]
    fn check(edit: Option<Edit>, expected: &[&[u32]]) {
        let Some(Edit::SetSteps(steps)) = edit else { panic!("{edit:?}") };
        let got: Vec<Vec<u32>> = steps.iter().map(|step| step.lines.iter().map(|id| id.0).collect()).collect();
        assert_eq!(got, expected);
    }
    let document = Sketch::on("12x12in").steps(&[&[1], &[2], &[3, 4]]).0;
    check(change::move_step(&document, 2, 0), &[&[3, 4], &[1], &[2]]);
    check(Some(change::fold_in_step(&document, LineId(1), 2)), &[&[2], &[3, 4, 1]]);
    check(Some(change::fold_in_step(&document, LineId(3), 9)), &[&[1], &[2], &[4], &[3]]);
    check(Some(change::fold_alone(&document, LineId(3))), &[&[1], &[2], &[4], &[3]]);
    check(change::join_step(&document, 1), &[&[1, 2], &[3, 4]]);
    assert_eq!(change::move_step(&document, 5, 0), None);
    assert_eq!((change::join_step(&document, 0), change::join_step(&document, 3)), (None, None));
}
