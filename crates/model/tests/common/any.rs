//! Any document there can be, for property tests: lines of every kind and place, corners, marks.
//!
//! Small numbers, so that lines meet, coincide and refer to one another often.

use foliowright_model::{
    Border, Caliper, Corner, CornerShape, Crease, Datum, Direction, Document, Face, FoldAngle, Length, Line, LineId,
    Notch, Place, Point, Run, SheetEdge, Size, Spot, Step, Stock, Stop, Strip, StripSide, Turn, Unit, Weight, Which,
    Work,
};
use proptest::prelude::*;

/// Up to this many lines.
const MOST: u32 = 10;

fn id() -> impl Strategy<Value = LineId> + Clone {
    (1..=MOST + 1).prop_map(LineId)
}

/// Sixty-fourths of an inch or whole nanometres, mostly on the sheet.
fn length() -> impl Strategy<Value = Length> + Clone {
    prop_oneof![
        8 => (-2..50_i64).prop_map(|quarter| Length::from_sixty_fourths(quarter * 16)),
        2 => (0..304_800_000_i64).prop_map(Length::from_nm),
    ]
}

fn short() -> impl Strategy<Value = Length> + Clone {
    prop_oneof![
        6 => (0..33_i64).prop_map(|count| Length::from_sixty_fourths(count * 2)),
        1 => (-3_000_000..40_000_000_i64).prop_map(Length::from_nm),
    ]
}

fn point() -> impl Strategy<Value = Point> + Clone {
    (length(), length()).prop_map(|(x, y)| Point::new(x, y))
}

fn stop() -> impl Strategy<Value = Stop> + Clone {
    prop_oneof![
        2 => Just(Stop::Edge),
        2 => id().prop_map(Stop::Line),
        1 => length().prop_map(Stop::At),
        1 => (id(), short()).prop_map(|(id, by)| Stop::Past(id, by)),
    ]
}

fn run() -> impl Strategy<Value = Run> + Clone {
    prop_oneof![1 => Just(Run::FULL), 2 => (stop(), stop()).prop_map(|(from, to)| Run { from, to })]
}

fn spot() -> impl Strategy<Value = Spot> + Clone {
    prop_oneof![
        3 => point().prop_map(Spot::At),
        1 => (id(), id()).prop_map(|(a, b)| Spot::Crossing(a, b)),
        1 => (id(), length()).prop_map(|(id, at)| Spot::On(id, at)),
    ]
}

fn place() -> impl Strategy<Value = Place> + Clone {
    let turn = (0..4_u8).prop_map(|count| Turn::from_count(count).unwrap_or_default());
    let datum = prop_oneof![3 => Just(Datum::Edge), 1 => id().prop_map(Datum::Line)];
    prop_oneof![
        4 => (turn, datum, length(), run())
            .prop_map(|(turn, from, distance, run)| Place::Measured { turn, from, distance, run }),
        2 => (id(), run()).prop_map(|(line, run)| Place::Along { line, run }),
        2 => (spot(), spot(), prop_oneof![3 => Just(Length::ZERO), 1 => short()])
            .prop_map(|(from, to, bow)| Place::Drawn { from, to, bow }),
    ]
}

fn work() -> impl Strategy<Value = Work> + Clone {
    let direction = prop_oneof![Just(Direction::Valley), Just(Direction::Mountain), Just(Direction::Either)];
    let angle = prop_oneof![3 => Just(FoldAngle::Flat), 1 => Just(FoldAngle::Square)];
    let pressed = prop_oneof![2 => Just(None), 1 => Just(Some(Face::Front)), 1 => Just(Some(Face::Back))];
    let side = prop_oneof![Just(StripSide::Left), Just(StripSide::Right), Just(StripSide::Centred)];
    let strip = (short(), side).prop_map(|(width, side)| Strip { width, side });
    let hairline = (0..3_i64).prop_map(Length::from_sixty_fourths);
    prop_oneof![
        4 => (direction, angle, pressed)
            .prop_map(|(direction, angle, pressed)| Work::Score(Crease { direction, angle, pressed })),
        4 => Just(Work::Cut),
        2 => strip.clone().prop_map(Work::Slot),
        1 => (strip, hairline).prop_map(|(strip, width)| Work::Trim(Strip { width, ..strip })),
        1 => (short(), any::<bool>()).prop_map(|(depth, to_left)| Work::Notch(Notch { depth, to_left })),
        1 => Just(Work::Guide),
    ]
}

fn corner() -> impl Strategy<Value = Corner> + Clone {
    let edge =
        prop_oneof![Just(SheetEdge::Top), Just(SheetEdge::Right), Just(SheetEdge::Bottom), Just(SheetEdge::Left)];
    let border = prop_oneof![edge.prop_map(Border::Edge), id().prop_map(Border::Line)];
    let which = prop_oneof![
        Just(Which::AllOfPanel),
        Just(Which::AllOfPiece),
        (border.clone(), border).prop_map(|(a, b)| Which::Between(a, b)),
    ];
    let shape = prop_oneof![
        1 => Just(CornerShape::Square),
        3 => short().prop_map(CornerShape::Round),
        3 => short().prop_map(CornerShape::Clip),
    ];
    (point(), which, shape).prop_map(|(mark, which, shape)| Corner { mark, which, shape })
}

/// A document of lines that may have a place or none.
pub(crate) fn document() -> impl Strategy<Value = Document> {
    let line = (place(), work(), prop::bool::weighted(0.1));
    let lines = prop::collection::vec(line, 0..usize::try_from(MOST).unwrap_or(10));
    let size = prop_oneof![Just("12x12in"), Just("8 1/2x11in"), Just("A4")];
    let steps = prop::collection::vec(prop::collection::vec(id(), 1..3), 0..5);
    (size, lines, prop::collection::vec(corner(), 0..4), prop::option::weighted(0.8, point()), steps).prop_map(
        |(size, lines, corners, base, steps)| {
            let mut document = Document::new(Size::parse(size).unwrap(), Unit::of_text(size));
            let weight = Weight::parse("80 lb cover").ok();
            document.stock = Stock { weight, caliper: Caliper::default(), ..document.stock };
            document.base = base;
            document.corners = corners;
            for ((place, work, locked), number) in lines.into_iter().zip(1..) {
                document.lines.push(Line { locked, ..Line::new(LineId(number), place, work) });
            }
            let known = u32::try_from(document.lines.len()).unwrap_or_default();
            let kept = |lines: Vec<LineId>| Step::of(lines.into_iter().filter(|id| id.0 <= known).collect());
            document.steps = steps.into_iter().map(kept).collect();
            document
        },
    )
}
