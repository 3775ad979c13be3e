//! A design saved in version 1 opens in every later version, and still says the same.
//!
//! The sample is never changed: a later version that can't read it has broken somebody's folio.

use foliowright_file::{from_text, to_text};
use model::{Crease, Datum, Direction, Document, FoldAngle, Length, Line, LineId, Place, Point, Run, Size, Step, Stop};
use model::{Stock, Turn, Unit, Work};

const SAMPLE: &str = include_str!("data/version-1.folio");

fn mm(mm: i64) -> Length {
    Length::from_mm_exact(mm, 0)
}

fn line(id: u32, name: &str, place: Place, work: Work) -> Line {
    Line { id: LineId(id), name: name.to_owned(), place, work }
}

fn measured(turn: Turn, from: Datum, distance: Length, from_stop: Stop, to: Stop) -> Place {
    Place::Measured { turn, from, distance, run: Run { from: from_stop, to } }
}

fn expected() -> Document {
    let square = Work::Score(Crease { direction: Direction::Valley, angle: FoldAngle::Square });
    let mountain = Work::Score(Crease { direction: Direction::Mountain, angle: FoldAngle::Flat });
    let by = |id| Datum::Line(LineId(id));
    let meets = |id| Stop::Line(LineId(id));
    let corner = Place::Along { line: LineId(2), run: Run { from: Stop::Edge, to: meets(5) } };
    Document {
        title: "Seed library swap folio".to_owned(),
        credit: "Folded for the spring swap; the tuck is the neighbours' idea.\nWider gusset than last year's."
            .to_owned(),
        units: Unit::Millimetre,
        groove: mm(5),
        stock: Stock {
            size: Size::new(mm(300), Length::from_mm_exact(297, 500_000)).expect("a size"),
            caliper: Length::from_nm(270_000),
        },
        lines: vec![
            line(1, "Left fold", measured(Turn::None, Datum::Edge, mm(80), Stop::Edge, Stop::Edge), square),
            line(2, "", measured(Turn::None, by(1), mm(6), Stop::Edge, Stop::Edge), square),
            line(5, "Tuck", measured(Turn::Once, Datum::Edge, mm(70), meets(2), Stop::At(mm(250))), mountain),
            line(4, "", corner, Work::Cut),
            // 1/4 in is 6.35 mm.
            line(
                7,
                "",
                measured(Turn::Thrice, by(5), Length::from_nm(-6_350_000), Stop::At(mm(5)), Stop::Edge),
                Work::Cut,
            ),
        ],
        base: Some(Point::new(mm(150), mm(120))),
        steps: vec![Step { lines: vec![LineId(1), LineId(2)] }, Step { lines: vec![LineId(5)] }],
    }
}

#[test]
fn the_sample_opens_and_says_what_it_said() {
    let document = from_text(SAMPLE).unwrap_or_else(|error| panic!("{error}"));
    assert_eq!(document, expected());
    assert_eq!(from_text(&to_text(&document)), Ok(document));
}
