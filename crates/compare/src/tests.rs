//! Sentences about small changes, each by hand.

use super::*;
use model::change::{add_line, measured_score};
use model::panel_name::PanelName;
use model::part::{Mat, Placement, Source};
use model::{
    Corner, CornerShape, Crease, Datum, Direction, Edit, Face, Line, PanelRef, Part, PartKind, Place, Point, Run, Size,
    Spot, Step, Stop, Strip, StripSide, Turn, Unit, Weight, Which, Work,
};

fn inches(text: &str) -> Length {
    Length::parse_in(text, Unit::Inch).unwrap()
}

/// A sheet of 12 x 12 in with scores 3 in and 1/4 in farther from the left edge, and one 4 in from the top.
fn folio() -> Document {
    let mut document = Document::new(Size::parse("12x12in").unwrap(), Unit::Inch);
    document.title = "Seed folio".to_owned();
    let gusset = Line {
        place: Place::Measured {
            turn: Turn::None,
            from: Datum::Line(LineId(1)),
            distance: inches("1/4"),
            run: Run::FULL,
        },
        ..measured_score(LineId(2), Turn::None, Length::ZERO)
    };
    let lines = [
        measured_score(LineId(1), Turn::None, inches("3")),
        gusset,
        measured_score(LineId(3), Turn::Once, inches("4")),
    ];
    for line in lines {
        document.apply(add_line(&document, line)).unwrap();
    }
    document
}

fn with(change: impl FnOnce(&mut Document)) -> Document {
    let mut document = folio();
    change(&mut document);
    document
}

#[track_caller]
fn check(after: &Document, expected: &[&str]) {
    let says: Vec<String> = differences(&folio(), after).into_iter().map(|difference| difference.says).collect();
    assert_eq!(says, expected);
}

fn score(direction: Direction) -> Work {
    Work::Score(Crease { direction, ..Crease::VALLEY })
}

#[test]
fn a_named_length_is_told_by_its_value() {
    use model::named::change::{add, remove, set_value};
    let named = |value| {
        with(|document| {
            let typed = document.lengths.read(value, None).unwrap();
            document.apply(add(document, "gusset", typed, "").unwrap()).unwrap();
        })
    };
    check(&named("1/4 in"), &["A length is named \"gusset\": 1/4 in."]);
    let mut after = named("1/4 in");
    let typed = after.lengths.read("2 * gusset", None).unwrap();
    after.apply(add(&after, "both", typed, "").unwrap()).unwrap();
    let before = after.clone();
    after.apply(set_value(&after, "gusset", "3/8 in", None).unwrap()).unwrap();
    let says: Vec<String> = differences(&before, &after).into_iter().map(|difference| difference.says).collect();
    assert_eq!(says, ["\"gusset\" is 3/8 in, not 1/4 in.", "\"both\" is 3/4 in by 2 * gusset, not 1/2 in."]);
    let mut less = before.clone();
    less.apply(set_value(&less, "both", "1/2 in", None).unwrap()).unwrap();
    let says: Vec<String> = differences(&before, &less).into_iter().map(|difference| difference.says).collect();
    assert_eq!(says, ["\"both\" is said otherwise: 1/2 in."]);
    less.apply(remove(&less, "both").unwrap()).unwrap();
    let says: Vec<String> = differences(&before, &less).into_iter().map(|difference| difference.says).collect();
    assert_eq!(says, ["No length is named \"both\" any more."]);
}

#[test]
fn a_design_does_not_differ_from_itself() {
    check(&folio(), &[]);
    check(&folio().variation("Seed folio".to_owned()), &[]);
}

#[test]
fn lines_that_moved_alike_are_told_together() {
    let moved = |distance| {
        with(|document| {
            let Place::Measured { distance: at, .. } = &mut document.lines[0].place else { panic!() };
            *at = inches(distance);
        })
    };
    check(&moved("3 1/2"), &["Score 1 and Score 2 lie 1/2 in farther from the left edge."]);
    check(&moved("2 3/4"), &["Score 1 and Score 2 lie 1/4 in nearer to the left edge."]);
    let [only] = differences(&folio(), &moved("3 1/2")).try_into().unwrap();
    assert_eq!(only.about, About::Lines(vec![LineId(1), LineId(2)], Some(inches("1/2"))));
    let wider = with(|document| {
        let Place::Measured { distance, .. } = &mut document.lines[1].place else { panic!() };
        *distance = inches("3/8");
    });
    check(&wider, &["Score 2 lies 1/8 in farther from the left edge: 3 3/8 in from it."]);
    let top = with(|document| document.lines[2] = measured_score(LineId(3), Turn::Once, inches("3")));
    check(&top, &["Score 3 lies 1 in nearer to the top edge: 3 in from it."]);
    let turned = with(|document| document.lines[2] = measured_score(LineId(3), Turn::None, inches("8")));
    check(&turned, &["Score 3 lies another way: a score that folds as a valley, 8 in from the left edge."]);
}

#[test]
fn lines_that_are_gone_new_or_worked_otherwise() {
    check(&with(|document| drop(document.lines.drain(1..))), &["Score 2 and Score 3 are gone."]);
    let slot = Work::Slot(Strip { width: inches("1/8"), side: StripSide::Centred });
    let new = with(|document| {
        document.lines.push(Line { work: slot, ..measured_score(LineId(7), Turn::Twice, inches("1")) });
        document.lines[0].work = score(Direction::Mountain);
        document.lines[2].work = Work::Cut;
        document.lines[2].name = "Top".to_owned();
    });
    check(
        &new,
        &[
            "Slot 7 is new: a slot 1/8 in wide, 1 in from the right edge.",
            "Cut 3 is called \"Top\".",
            "Score 1 folds as a mountain, not as a valley.",
            "Top is a cut, not a score that folds as a valley.",
        ],
    );
    let short = with(|document| {
        let Place::Measured { run, .. } = &mut document.lines[2].place else { panic!() };
        run.to = Stop::At(inches("5"));
    });
    check(&short, &["Score 3 is 5 in long, not 12 in."]);
}

#[test]
fn a_drawn_line_is_told_by_how_far_its_ends_moved() {
    let drawn = |x: &str| {
        with(|document| {
            let at = |x: &str, y: &str| Spot::At(Point::new(inches(x), inches(y)));
            let place = Place::Drawn { from: at("1", "1"), to: at(x, "4"), bow: Length::ZERO };
            document.lines.push(Line::new(LineId(9), place, Work::Cut));
        })
    };
    let says: Vec<String> = differences(&drawn("2"), &drawn("5")).into_iter().map(|it| it.says).collect();
    assert_eq!(says, ["Cut 9 is drawn elsewhere: an end of it moved by 3 in."]);
}

#[test]
fn papers_are_told_by_what_is_known_of_them() {
    let other = with(|document| {
        document.stock.size = Size::parse("11x8.5in").unwrap();
        document.stock.weight = Some(Weight::parse("120 g/m2").unwrap());
        document.stock.name = "Moss".to_owned();
        document.groove = Length::ZERO;
    });
    let says: Vec<String> = differences(&folio(), &other).into_iter().map(|it| it.says).collect();
    assert_eq!(says[0], "The scoring board has no grooves, not a groove every 1/8 in.");
    assert_eq!(says[1], "The sheet is 11 x 8 1/2 in, not 12 x 12 in.");
    assert_eq!(says[2], "The sheet is called \"Moss\".");
    assert!(says[3].starts_with("The sheet weighs 120"), "{says:?}");
}

fn mat(width: &str) -> Part {
    let on = PanelRef::Sheet(Point::new(inches("6"), inches("6")));
    Part {
        id: PartId(4),
        name: String::new(),
        kind: PartKind::Mat(Mat { width: inches(width), height: inches("2") }),
        source: Source::AnyOffcut,
        place: Placement::centred(on),
        also: Vec::new(),
    }
}

#[test]
fn parts_are_told_by_their_measures_and_the_panel_they_are_on() {
    let first = with(|document| document.parts.push(mat("3")));
    let after = |change: &dyn Fn(&mut Part)| {
        with(|document| {
            document.parts.push(mat("3"));
            change(&mut document.parts[0]);
        })
    };
    let says = |after: &Document| -> Vec<String> {
        differences(&first, after).into_iter().map(|difference| difference.says).collect()
    };
    check(&first, &["Mat 4 is new: a mat, width 3 in, height 2 in."]);
    assert_eq!(says(&folio()), ["Mat 4 is gone."]);
    assert_eq!(says(&after(&|part| part.kind = mat("2 1/2").kind)), ["Mat 4: width 2 1/2 in, not 3 in."]);
    assert_eq!(says(&after(&|part| part.place.face = Face::Back)), ["Mat 4 is on the back of its panel."]);
    assert_eq!(says(&after(&|part| part.source = Source::Bought)), ["Mat 4 is bought."]);
    let moved = after(&|part| part.place.on = PanelRef::Sheet(Point::new(inches("1"), inches("6"))));
    assert_eq!(says(&moved), ["Mat 4 is on \"Left flap\", not on \"Base\"."]);
    // The mark moved within its panel, as it does when lines move: the same panel.
    let carried = after(&|part| part.place.on = PanelRef::Sheet(Point::new(inches("7"), inches("7"))));
    assert_eq!(says(&carried), Vec::<String>::new());
}

#[test]
fn corners_base_and_orders() {
    let rounded = |at: &str| Corner {
        mark: Point::new(inches(at), inches("6")),
        which: Which::AllOfPanel,
        shape: CornerShape::Round(inches("1/4")),
    };
    check(&with(|document| document.corners.push(rounded("6"))), &["Corners are rounded or clipped otherwise."]);
    check(&with(|document| document.base = None), &["No panel lies still."]);
    let left = Point::new(inches("1"), inches("2"));
    check(&with(|document| document.base = Some(left)), &["Another panel lies still as it folds."]);
    let steps = with(|document| {
        document.apply(Edit::SetSteps(vec![Step::of(vec![LineId(1), LineId(2)])])).unwrap();
    });
    let says: Vec<String> = differences(&folio(), &steps).into_iter().map(|it| it.says).collect();
    assert_eq!(says, ["It closes in 1 step, not 3."]);
}

#[test]
fn names_of_panels_are_told_but_change_no_folio() {
    let name =
        |x: i64, name: &str| PanelName { mark: Point::new(Length::INCH * x, Length::INCH * 6), name: name.to_owned() };
    let before =
        with(|document| document.panel_names = vec![name(1, "Pocket side"), name(6, "Middle"), name(9, "Lid")]);
    let after = with(|document| document.panel_names = vec![name(2, "Lid"), name(6, "Heart"), name(11, "Tongue")]);
    let says: Vec<String> = differences(&before, &after).into_iter().map(|difference| difference.says).collect();
    let expected = [
        "The panel \"Middle\" is called \"Heart\".",
        "A panel is called \"Tongue\".",
        "No panel is called \"Pocket side\".",
    ];
    assert_eq!(says, expected);
    assert_eq!(changes(&before, &after), []);

    // A part on a panel that is called otherwise now is on the same panel.
    let on = |document: &mut Document| document.parts = vec![mat("4")];
    let renamed = |document: &mut Document| {
        on(document);
        document.panel_names = vec![name(6, "Heart")];
    };
    assert_eq!(changes(&with(on), &with(renamed)), []);
}

#[test]
fn a_variation_is_credited_with_what_was_changed() {
    assert_eq!(credit(&folio()), None);
    let mut variation = folio().variation("Deeper folio".to_owned());
    let said = |document: &Document| credit(document).unwrap();
    assert_eq!(said(&variation), ["This is a variation of \"Seed folio\".", "Nothing of the folio was changed."]);
    variation.lines.pop();
    assert_eq!(said(&variation), ["This is a variation of \"Seed folio\".", "Score 3 is gone."]);
}
