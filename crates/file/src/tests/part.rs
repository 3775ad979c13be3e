//! Parts, the order of making and steps that speak of them: their exact text, and what is refused of them.

mod refusal;

use super::*;
use crate::{MOST_GLUE, MOST_JOBS, MOST_OWN_LINES, MOST_TUCKS};
use model::part::{
    Anchor, AnchorFrom, Band, Closure, ClosureKind, Edges, Flap, GlueArea, Gluing, Hinge, Insert, Job, Mat, Own, Page,
    PanelCorner, Paper, PartKind, Placement, Pocket, Rotation, Source, Tab, TuckCorner,
};
use model::{Corner, CornerShape, Face, PanelRef, Part, PartId, SheetEdge, StockId, Tucked, Which};

/// A design with a part of every kind.
pub(super) const MADE: &str = r#"{
  "format": "foliowright folio",
  "version": 2,
  "title": "Seed swap folio",
  "credit": "After a folded seed packet",
  "units": "in",
  "board": { "grooves": "1/8 in" },
  "stock": { "width": "12 in", "height": "8 1/2 in", "caliper": "0.3 mm" },
  "lines": [
    {
      "id": 1,
      "name": "Left fold",
      "place": { "turn": 0, "from": "edge", "distance": "3 1/4 in" },
      "work": "score",
      "fold": "valley"
    },
    {
      "id": 2,
      "place": { "turn": 0, "from": "line 1", "distance": "1/4 in", "start": "line 3", "end": "4 in" },
      "work": "score",
      "fold": "mountain",
      "angle": 90
    },
    {
      "id": 3,
      "place": { "along": "line 1", "end": "2 in" },
      "work": "cut"
    }
  ],
  "base": { "x": "6 in", "y": "5 in" },
  "parts": [
    {
      "id": 1,
      "name": "Left hinge",
      "kind": {
        "hinge": { "length": "5 in", "leaf": "3/4 in", "free_leaf": "1 in" }
      },
      "from": "any offcut",
      "place": {
        "on": { "x": "6 in", "y": "5 in" }
      }
    },
    {
      "id": 2,
      "name": "Packet pocket",
      "kind": {
        "pocket": {
          "width": "4 in",
          "height": "3 in",
          "glued": ["right", "bottom", "left"],
          "strip": "1/4 in",
          "rim": "1/2 in",
          "gusset": "1/4 in"
        }
      },
      "from": {
        "offcut": { "x": "11 in", "y": "1 in" }
      },
      "place": {
        "on": "part 1 panel 2",
        "face": "back",
        "across": "1/2 in from left",
        "down": "-1/8 in from bottom",
        "rotation": "12.5",
        "showing": "back"
      },
      "glue": [
        { "panel": 1, "face": "back", "to": "part 1 panel 3" },
        {
          "panel": 2,
          "face": "front",
          "to": { "x": "1 in", "y": "5 in" },
          "area": { "edges": ["top", "left"], "strip": "1/4 in" }
        },
        { "panel": 2, "face": "front", "to": "part 9 panel 1", "area": "none" }
      ]
    },
    {
      "id": 3,
      "kind": {
        "tuck_corner": { "across": "2 in", "down": "2 in", "corner": "bottom left", "strip": "1/4 in" }
      },
      "from": {
        "whole": { "x": "11 in", "y": "7 in" }
      },
      "place": {
        "on": { "x": "6 in", "y": "5 in" }
      }
    },
    {
      "id": 4,
      "kind": {
        "tuck_corner": { "across": "2 in", "down": "1 1/2 in", "corner": "top right", "band": "1/8 in", "strip": "1/4 in" }
      },
      "from": "any offcut",
      "place": {
        "on": { "x": "6 in", "y": "5 in" }
      }
    },
    {
      "id": 5,
      "kind": {
        "mat": { "width": "3 in", "height": "2 in" }
      },
      "from": "stock 4",
      "place": {
        "on": { "x": "6 in", "y": "5 in" }
      }
    },
    {
      "id": 6,
      "kind": {
        "tab": { "width": "3 in", "height": "2 in", "glued": "right", "strip": "3/8 in" }
      },
      "from": "any offcut",
      "place": {
        "on": { "x": "6 in", "y": "5 in" }
      }
    },
    {
      "id": 7,
      "kind": {
        "band": { "around": "13 in", "width": "1 in", "overlap": "1 in", "upright": true }
      },
      "from": "folio stock",
      "place": {
        "on": { "x": "6 in", "y": "5 in" }
      }
    },
    {
      "id": 8,
      "kind": {
        "band": { "around": "13 in", "width": "1 in", "overlap": "1 in" }
      },
      "from": "any offcut",
      "place": {
        "on": { "x": "6 in", "y": "5 in" }
      }
    },
    {
      "id": 10,
      "kind": {
        "insert": { "width": "3 in", "height": "2 in" }
      },
      "from": "any offcut",
      "place": {
        "on": { "x": "6 in", "y": "5 in" }
      }
    },
    {
      "id": 11,
      "kind": {
        "insert": { "width": "3 in", "height": "2 in", "caliper": "0.5 mm" }
      },
      "from": "any offcut",
      "place": {
        "on": { "x": "6 in", "y": "5 in" }
      }
    },
    {
      "id": 12,
      "kind": {
        "page": { "width": "4 in", "height": "5 in", "hinged": "left", "strip": "1/2 in" }
      },
      "from": "any offcut",
      "place": {
        "on": { "x": "6 in", "y": "5 in" }
      }
    },
    {
      "id": 13,
      "kind": {
        "flap": { "width": "4 in", "reach": "2 in", "edge": "top", "strip": "1/2 in" }
      },
      "from": "any offcut",
      "place": {
        "on": { "x": "6 in", "y": "5 in" }
      }
    },
    {
      "id": 14,
      "kind": {
        "closure": { "with": "hook and loop", "width": "10 mm", "height": "10 mm", "thickness": "2.5 mm" }
      },
      "from": "bought",
      "place": {
        "on": { "x": "6 in", "y": "5 in" }
      }
    },
    {
      "id": 15,
      "kind": {
        "own": {
          "width": "3 in",
          "height": "2 in",
          "lines": [
            {
              "id": 1,
              "place": { "turn": 0, "from": "edge", "distance": "1 in" },
              "work": "score",
              "fold": "valley"
            }
          ],
          "corners": [
            {
              "mark": { "x": "2 in", "y": "1 in" },
              "which": "panel",
              "round": "1/8 in"
            }
          ],
          "base": { "x": "2 in", "y": "1 in" },
          "folded": [
            [1]
          ]
        }
      },
      "from": "any offcut",
      "place": {
        "on": { "x": "6 in", "y": "5 in" }
      }
    }
  ],
  "making": ["score folio", "cut folio", "score part 2", "cut part 2", "fold part 2", "put part 99", "close"],
  "steps": [
    [2],
    { "parts": ["part 13 line 1", "part 99 line 3"] },
    {
      "lines": [1],
      "tucks": [
        {
          "panel": { "x": "1 in", "y": "5 in" },
          "under": "part 3 panel 1"
        }
      ]
    }
  ]
}
"#;

fn point(x: &str, y: &str) -> Point {
    Point::new(inches(x), inches(y))
}

/// A part in the middle of the front of a panel of the sheet, of whichever offcut it fits into.
fn part(id: u32, kind: PartKind) -> Part {
    let place = Placement::centred(PanelRef::Sheet(point("6", "5")));
    Part { id: PartId(id), name: String::new(), kind, source: Source::AnyOffcut, place, also: Vec::new() }
}

fn on_part(id: u32, panel: usize) -> PanelRef {
    PanelRef::Part(PartId(id), panel)
}

fn anchor(from: AnchorFrom, distance: &str) -> Anchor {
    Anchor { from, distance: inches(distance) }
}

fn packet_pocket() -> Part {
    let pocket = Pocket {
        width: inches("4"),
        height: inches("3"),
        glued: Edges::of(&[SheetEdge::Left, SheetEdge::Bottom, SheetEdge::Right]),
        strip: GlueArea::USUAL_STRIP,
        rim: inches("1/2"),
        gusset: inches("1/4"),
    };
    let place = Placement {
        on: on_part(1, 1),
        face: Face::Back,
        across: anchor(AnchorFrom::Start, "1/2"),
        down: anchor(AnchorFrom::End, "-1/8"),
        rotation: Rotation::from_hundredths(1_250),
        showing: Face::Back,
    };
    let strips = GlueArea::Strips(Edges::of(&[SheetEdge::Top, SheetEdge::Left]), GlueArea::USUAL_STRIP);
    let also = vec![
        Gluing { panel: 0, face: Face::Back, to: on_part(1, 2), area: GlueArea::Whole },
        Gluing { panel: 1, face: Face::Front, to: PanelRef::Sheet(point("1", "5")), area: strips },
        Gluing { panel: 1, face: Face::Front, to: on_part(9, 0), area: GlueArea::None },
    ];
    let source = Source::Offcut(point("11", "1"));
    Part { name: "Packet pocket".to_owned(), place, source, also, ..part(2, PartKind::Pocket(pocket)) }
}

/// Those that are made of one piece.
fn plain_parts() -> Vec<Part> {
    let whole = Source::Whole(point("11", "7"));
    let corner = |down, corner, band| TuckCorner {
        across: inches("2"),
        down: inches(down),
        corner,
        band,
        strip: GlueArea::USUAL_STRIP,
    };
    let band = |is_upright| Band { around: inches("13"), width: Length::INCH, overlap: Length::INCH, is_upright };
    let [width, height] = ["3", "2"].map(inches);
    let tab = Tab { width, height, glued: SheetEdge::Right, strip: inches("3/8") };
    let card = |caliper| Insert { width, height, caliper };
    vec![
        Part { source: whole, ..part(3, PartKind::TuckCorner(corner("2", PanelCorner::BottomLeft, Length::ZERO))) },
        part(4, PartKind::TuckCorner(corner("1 1/2", PanelCorner::TopRight, Length::EIGHTH))),
        Part { source: Source::Stock(StockId(4)), ..part(5, PartKind::Mat(Mat { width, height })) },
        part(6, PartKind::Tab(tab)),
        Part { source: Source::FolioStock, ..part(7, PartKind::Band(band(true))) },
        part(8, PartKind::Band(band(false))),
        part(10, PartKind::Insert(card(None))),
        part(11, PartKind::Insert(card(Some(Length::from_nm(500_000))))),
    ]
}

/// Those that fold, and a closure.
fn folding_parts() -> Vec<Part> {
    let [width, height, strip] = ["4", "5", "1/2"].map(inches);
    let page = Page { width, height, hinged: SheetEdge::Left, strip };
    let flap = Flap { width, reach: inches("2"), edge: SheetEdge::Top, strip };
    let dot = Length::from_mm_exact(10, 0);
    let closure =
        Closure { kind: ClosureKind::HookAndLoop, width: dot, height: dot, thickness: Length::from_nm(2_500_000) };
    let fold = Place::Measured { turn: Turn::None, from: Datum::Edge, distance: Length::INCH, run: Run::FULL };
    let own = Own {
        size: Size::parse("3 x 2 in").unwrap(),
        lines: vec![Line::new(LineId(1), fold, Work::Score(Crease::VALLEY))],
        corners: vec![Corner {
            mark: point("2", "1"),
            which: Which::AllOfPanel,
            shape: CornerShape::Round(Length::EIGHTH),
        }],
        base: point("2", "1"),
        folded: vec![vec![LineId(1)]],
    };
    vec![
        part(12, PartKind::Page(page)),
        part(13, PartKind::Flap(flap)),
        Part { source: Source::Bought, ..part(14, PartKind::Closure(closure)) },
        part(15, PartKind::Own(own)),
    ]
}

fn made() -> Document {
    let hinge = Hinge { length: inches("5"), leaf: inches("3/4"), free_leaf: Length::INCH };
    let hinge = Part { name: "Left hinge".to_owned(), ..part(1, PartKind::Hinge(hinge)) };
    let tuck = Tucked { panel: PanelRef::Sheet(point("1", "5")), under: on_part(3, 0) };
    Document {
        parts: [vec![hinge, packet_pocket()], plain_parts(), folding_parts()].concat(),
        making: vec![
            Job::Score(Paper::Folio),
            Job::Cut(Paper::Folio),
            Job::Score(Paper::Part(PartId(2))),
            Job::Cut(Paper::Part(PartId(2))),
            Job::Fold(PartId(2)),
            Job::Put(PartId(99)),
            Job::Close,
        ],
        steps: vec![
            Step::of(vec![LineId(2)]),
            Step {
                lines: Vec::new(),
                parts: vec![(PartId(13), LineId(1)), (PartId(99), LineId(3))],
                tucks: Vec::new(),
            },
            Step { lines: vec![LineId(1)], parts: Vec::new(), tucks: vec![tuck] },
        ],
        ..small()
    }
}

#[test]
fn a_design_with_every_kind_of_part_is_this_text() {
    let text = to_text(&made());
    let other = text.lines().zip(MADE.lines()).find(|(written, kept)| written != kept);
    assert_eq!(other, None, "the first line that is written otherwise than it is in MADE");
    assert_eq!(text, MADE);
    assert_eq!(from_text(MADE), Ok(made()));
}

#[test]
fn what_a_part_leaves_out_is_usual() {
    #[track_caller]
    fn check(from: &str, to: &str) {
        assert!(MADE.contains(from), "{from}");
        assert_eq!(from_text(&MADE.replacen(from, to, 1)), Ok(made()), "{to}");
    }
    let on = "\"on\": { \"x\": \"6 in\", \"y\": \"5 in\" }";
    let usual = "\"face\": \"front\", \"across\": \"0 in from middle\", \"down\": null, \"rotation\": \"360\"";
    check(on, &format!("{on}, {usual}, \"showing\": \"front\""));
    check("\"12.5\"", "\"372.50°\"");
    check("\"-1/8 in from bottom\"", "\"-0.125 in from  bottom\"");
    check("\"id\": 1,\n      \"name\": \"Left hinge\"", "\"id\": 1, \"glue\": [], \"name\": \"Left hinge\"");
    check("\"to\": \"part 1 panel 3\"", "\"to\": \"part 1 panel 3\", \"area\": \"whole\"");
    check("\"glued\": [\"right\", \"bottom\", \"left\"]", "\"glued\": [\"left\", \"right\", \"bottom\"]");
    check("\"corner\": \"bottom left\"", "\"corner\": \"bottom left\", \"band\": \"0 in\"");
    check("\"overlap\": \"1 in\" }", "\"overlap\": \"1 in\", \"upright\": false }");
    check("[2],", "{ \"lines\": [2], \"parts\": [], \"tucks\": null },");
}

#[test]
fn a_design_without_parts_says_nothing_of_them() {
    let text = to_text(&small());
    assert!(!["parts", "making", "tucks"].iter().any(|key| text.contains(key)), "{text}");
    let empty = SMALL.replace("\"steps\"", "\"parts\": [], \"making\": [], \"steps\"");
    assert_eq!(from_text(&empty), Ok(small()));
}

/// Fills a list to its bound, which is read back, and beyond it, which is refused.
#[track_caller]
fn bound(fill: impl Fn(&mut Document, usize), most: usize, sentence: &str) {
    let mut document = made();
    fill(&mut document, most);
    assert_eq!(from_text(&to_text(&document)), Ok(document.clone()));
    fill(&mut document, most + 1);
    let error = from_text(&to_text(&document)).unwrap_err();
    let FileError::Value { at, says } = error else { panic!("{error}") };
    assert_eq!(format!("{}: {says}", at.path), sentence);
}

#[test]
fn lists_of_parts_are_bounded() {
    let many = |count, most| format!("there are {count} here and at most {most} belong; take some out");
    bound(
        |document, count| document.parts = (1..).take(count).map(|id| part(id, made().parts[4].kind.clone())).collect(),
        Document::MOST_PARTS,
        &format!("parts: {}", many(201, 200)),
    );
    bound(
        |document, count| document.making = vec![Job::Close; count],
        MOST_JOBS,
        &format!("making: {}", many(2001, 2000)),
    );
    bound(
        |document, count| document.parts[1].also = vec![packet_pocket().also[0]; count],
        MOST_GLUE,
        &format!("parts[1].glue: {}", many(21, 20)),
    );
    bound(
        |document, count| document.steps[2].tucks = vec![made().steps[2].tucks[0]; count],
        MOST_TUCKS,
        &format!("steps[2].tucks: {}", many(201, 200)),
    );
    let own = |change: fn(&mut Own, usize)| {
        move |document: &mut Document, count: usize| {
            if let PartKind::Own(own) = &mut document.parts[13].kind {
                change(own, count);
            }
        }
    };
    let lines = own(|own, count| {
        let cut = Line::new(LineId(1), own.lines[0].place, Work::Cut);
        own.lines = (1..).take(count).map(|id| Line { id: LineId(id), ..cut.clone() }).collect();
    });
    bound(lines, MOST_OWN_LINES, &format!("parts[13].kind.own.lines: {}", many(201, 200)));
    let corners = own(|own, count| own.corners = vec![own.corners[0]; count]);
    bound(corners, MOST_OWN_LINES, &format!("parts[13].kind.own.corners: {}", many(201, 200)));
}
