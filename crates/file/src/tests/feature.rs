//! What version 2 says beyond version 1: its exact text, and what it refuses.

use super::*;
use model::{
    Artwork, Border, Bulk, Colour, Corner, CornerShape, Cutting, Face, FurtherStock, Grain, Notch, Pattern, SheetEdge,
    Side, Spot, StockId, Strip, StripSide, Weight, Which,
};

/// A design with everything that [`SMALL`] lacks.
pub(super) const FULL: &str = r##"{
  "format": "foliowright folio",
  "version": 2,
  "title": "Planting card folio",
  "units": "mm",
  "cutting": { "edge": "2 mm", "along_grain": true },
  "stock": {
    "name": "Meadow sheet",
    "width": "300 mm",
    "height": "300 mm",
    "weight": "80 lb cover",
    "bulk": "1.25",
    "grain": "upright",
    "front": {
      "pattern": "top up",
      "colour": "#7a9b3c",
      "artwork": {
        "file": "meadow.png",
        "sha256": "ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff",
        "pixels": [3600, 1800],
        "width": "300 mm",
        "left": "-5 mm",
        "top": "2.5 mm"
      }
    },
    "back": { "pattern": "any way" },
    "core": "#ffffff"
  },
  "further_stocks": [
    {
      "id": 4,
      "stock": {
        "width": "210 mm",
        "height": "297 mm",
        "weight": "120 g/m2",
        "caliper": "0.16 mm",
        "grain": "level"
      }
    }
  ],
  "lines": [
    {
      "id": 1,
      "place": { "turn": 0, "from": "edge", "distance": "80 mm", "end": "line 2 - 3 mm" },
      "work": "score",
      "fold": "either",
      "pressed": "back",
      "locked": true
    },
    {
      "id": 2,
      "place": {
        "drawn": {
          "from": { "x": "0 mm", "y": "40 mm" },
          "to": { "on": "line 1", "at": "55 mm" }
        }
      },
      "work": "guide"
    },
    {
      "id": 3,
      "place": {
        "drawn": {
          "from": { "crossing": ["line 1", "line 2"] },
          "to": { "x": "300 mm", "y": "10 mm" },
          "bow": "-12 mm"
        }
      },
      "work": "cut"
    },
    {
      "id": 4,
      "place": { "along": "line 1", "start": "line 3 + 1.5 mm" },
      "work": "slot",
      "width": "2 mm"
    },
    {
      "id": 5,
      "place": { "along": "line 2" },
      "work": "slot",
      "width": "3 mm",
      "side": "left"
    },
    {
      "id": 6,
      "place": { "along": "line 2" },
      "work": "trim",
      "width": "0.5 mm",
      "side": "centred"
    },
    {
      "id": 7,
      "place": { "turn": 3, "from": "edge", "distance": "0 mm", "start": "100 mm", "end": "120 mm" },
      "work": "notch",
      "depth": "8 mm",
      "side": "right"
    }
  ],
  "corners": [
    {
      "mark": { "x": "10 mm", "y": "20 mm" },
      "which": "piece",
      "round": "5 mm"
    },
    {
      "mark": { "x": "10 mm", "y": "20 mm" },
      "which": "panel",
      "clip": "3 mm"
    },
    {
      "mark": { "x": "10 mm", "y": "20 mm" },
      "which": ["line 1", "top edge"],
      "square": true
    }
  ],
  "steps": [
    [1]
  ]
}
"##;

fn mm(mm: i64) -> Length {
    Length::from_mm_exact(mm, 0)
}

fn papers() -> (Stock, FurtherStock) {
    let artwork = Artwork {
        file: "meadow.png".to_owned(),
        digest: [255; 32],
        pixels: [3600, 1800],
        width: mm(300),
        left: mm(-5),
        top: Length::from_mm_exact(2, 500_000),
    };
    let meadow = Stock {
        name: "Meadow sheet".to_owned(),
        weight: Some(Weight::parse("80 lb cover").unwrap()),
        caliper: Caliper::FromBulk(Bulk::parse("1.25").unwrap()),
        front: Side {
            pattern: Pattern::OneWay(SheetEdge::Top),
            colour: Some(Colour([0x7a, 0x9b, 0x3c])),
            artwork: Some(artwork),
        },
        back: Side { pattern: Pattern::AnyWay, ..Side::default() },
        grain: Some(Grain::Upright),
        core: Some(Colour([255; 3])),
        ..Stock::plain(Size::new(mm(300), mm(300)).unwrap())
    };
    let card = Stock {
        weight: Some(Weight::parse("120 g/m2").unwrap()),
        caliper: Caliper::Measured(Length::from_nm(160_000)),
        grain: Some(Grain::Level),
        ..Stock::plain(Size::parse("A4").unwrap())
    };
    (meadow, FurtherStock { id: StockId(4), stock: card })
}

fn lines() -> Vec<Line> {
    let by = LineId;
    let hinge = Crease { direction: Direction::Either, angle: FoldAngle::Flat, pressed: Some(Face::Back) };
    let above = Run { from: Stop::Edge, to: Stop::Past(by(2), mm(-3)) };
    let below = Run { from: Stop::Past(by(3), Length::from_nm(1_500_000)), to: Stop::Edge };
    let thumb = Run { from: Stop::At(mm(100)), to: Stop::At(mm(120)) };
    let measured = |turn, distance, run| Place::Measured { turn, from: Datum::Edge, distance, run };
    let at = |x, y| Spot::At(Point::new(mm(x), mm(y)));
    let strip = |nm, side| Strip { width: Length::from_nm(nm), side };
    let guide = Place::Drawn { from: at(0, 40), to: Spot::On(by(1), mm(55)), bow: Length::ZERO };
    let arc = Place::Drawn { from: Spot::Crossing(by(1), by(2)), to: at(300, 10), bow: mm(-12) };
    let on = |id, run| Place::Along { line: by(id), run };
    let line = |id, place, work| Line::new(LineId(id), place, work);
    vec![
        Line { locked: true, ..line(1, measured(Turn::None, mm(80), above), Work::Score(hinge)) },
        line(2, guide, Work::Guide),
        line(3, arc, Work::Cut),
        line(4, on(1, below), Work::Slot(strip(2_000_000, StripSide::Centred))),
        line(5, on(2, Run::FULL), Work::Slot(strip(3_000_000, StripSide::Left))),
        line(6, on(2, Run::FULL), Work::Trim(strip(500_000, StripSide::Centred))),
        line(7, measured(Turn::Thrice, mm(0), thumb), Work::Notch(Notch { depth: mm(8), to_left: false })),
    ]
}

fn full() -> Document {
    let (stock, card) = papers();
    let corner = |which, shape| Corner { mark: Point::new(mm(10), mm(20)), which, shape };
    let between = Which::Between(Border::Line(LineId(1)), Border::Edge(SheetEdge::Top));
    Document {
        title: "Planting card folio".to_owned(),
        groove: Length::ZERO,
        cutting: Cutting { edge: mm(2), along_grain: true },
        further_stocks: vec![card],
        lines: lines(),
        corners: vec![
            corner(Which::AllOfPiece, CornerShape::Round(mm(5))),
            corner(Which::AllOfPanel, CornerShape::Clip(mm(3))),
            corner(between, CornerShape::Square),
        ],
        base: None,
        steps: vec![Step::of(vec![LineId(1)])],
        ..Document { stock, ..Document::new(Size::parse("A4").unwrap(), Unit::Millimetre) }
    }
}

#[test]
fn a_full_design_is_this_text() {
    assert_eq!(to_text(&full()), FULL);
    assert_eq!(from_text(FULL), Ok(full()));
}

/// Changes the full design's text and expects a whole sentence, in which # is the number of the changed line.
#[track_caller]
pub(super) fn refuse_full(from: &str, to: &str, sentence: &str) {
    let (before, after) = FULL.split_once(from).expect("it is in the sample");
    let line = before.lines().count();
    says(&format!("{before}{to}{after}"), &sentence.replace("line #", &format!("line {line}")));
}

#[test]
fn lists_are_bounded() {
    let mut document = full();
    document.corners = vec![document.corners[0]; Document::MOST_CORNERS + 1];
    says(&to_text(&document), "corners (line 10105): there are 2001 here and at most 2000 belong; take some out");
    document.corners.pop();
    let card = document.further_stocks[0].clone();
    let cards = (0..).map(|id| FurtherStock { id: StockId(id), ..card.clone() });
    document.further_stocks = cards.take(Document::MOST_STOCKS).collect();
    assert_eq!(from_text(&to_text(&document)).as_ref(), Ok(&document));
    document.further_stocks.push(FurtherStock { id: StockId(1_000), ..card });
    says(&to_text(&document), "further_stocks (line 1040): there are 101 here and at most 100 belong; take some out");
    let name = |name: String| Document { stock: Stock { name, ..full().stock }, ..full() };
    says(&to_text(&name("n".repeat(201))), "stock.name: it has 201 characters and may have at most 200; shorten it");
}
