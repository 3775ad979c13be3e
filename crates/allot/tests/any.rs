//! Any folio with any parts: ledgers add up, nothing overlaps, and everything can be cut as it is said.

#![expect(clippy::unwrap_used, reason = "a test may fail")]

extern crate model as foliowright_model;
extern crate nest as foliowright_nest;

#[path = "../../model/tests/common/any.rs"]
mod any;
mod common;

use common::keeps_its_promises;
use foliowright_allot::{GrainWish, Settings, allot, fitting};
use model::part::{
    Band, Edges, Flap, Hinge, Mat, Page, PanelCorner, Placement, Pocket, Rotation, Source, Tab, TuckCorner,
};
use model::{
    Document, Face, FurtherStock, Grain, Layout, Length, PanelRef, Part, PartId, PartKind, Pattern, Point, SheetEdge,
    Size, Stock, StockId,
};
use nest::{Effort, Knife};
use proptest::prelude::*;

/// Eighths of an inch up to 5 in.
fn measure() -> impl Strategy<Value = Length> + Clone {
    (2..40_i64).prop_map(|eighths| Length::EIGHTH * eighths)
}

fn edge() -> impl Strategy<Value = SheetEdge> + Clone {
    (0..4_usize).prop_map(|edge| SheetEdge::ALL[edge])
}

fn kind() -> impl Strategy<Value = PartKind> {
    let (strip, none) = (Length::EIGHTH, Length::ZERO);
    let three = (measure(), measure(), measure());
    prop_oneof![
        three.clone().prop_map(|(length, leaf, free_leaf)| PartKind::Hinge(Hinge { length, leaf, free_leaf })),
        (measure(), measure()).prop_map(|(width, height)| PartKind::Mat(Mat { width, height })),
        (measure(), measure(), edge(), edge(), 0..3_i64).prop_map(move |(width, height, a, b, gusset)| {
            let (glued, gusset) = (Edges::of(&[a, b]), Length::EIGHTH * gusset);
            PartKind::Pocket(Pocket { width, height, glued, strip, rim: none, gusset })
        }),
        (measure(), measure(), 0..4_usize, 0..3_i64).prop_map(move |(across, down, corner, band)| {
            let (corner, band) = (PanelCorner::ALL[corner], Length::EIGHTH * band);
            PartKind::TuckCorner(TuckCorner { across, down, corner, band, strip })
        }),
        (measure(), measure(), edge()).prop_map(|(width, height, hinged)| {
            PartKind::Page(Page { width, height, hinged, strip: Length::EIGHTH * 2 })
        }),
        (measure(), measure(), edge()).prop_map(move |(width, reach, edge)| PartKind::Flap(Flap {
            width,
            reach,
            edge,
            strip
        })),
        three.prop_map(|(around, width, overlap)| PartKind::Band(Band { around, width, overlap, is_upright: false })),
        (measure(), measure(), edge()).prop_map(move |(width, height, glued)| PartKind::Tab(Tab {
            width,
            height,
            glued,
            strip
        })),
    ]
}

/// What is said of a part besides its kind, as indices to be taken from the layout.
type Where = (usize, usize, usize, i32, bool, bool);

fn parts() -> impl Strategy<Value = Vec<(PartKind, Where)>> {
    let place = (0..9_usize, any::<usize>(), any::<usize>(), 0..8_i32, any::<bool>(), any::<bool>());
    proptest::collection::vec((kind(), place), 0..9)
}

/// Puts parts on panels of the folio, or on those before them, with paper from everywhere.
fn with_parts(mut document: Document, parts: Vec<(PartKind, Where)>, (pattern, grain): (usize, usize)) -> Document {
    let stock = Stock::plain(Size::parse("6x9in").unwrap());
    document.further_stocks = vec![FurtherStock { id: StockId(1), stock }];
    document.stock.front.pattern =
        [Pattern::Plain, Pattern::AnyWay, Pattern::OneWay(SheetEdge::Top), Pattern::OneWay(SheetEdge::Right)][pattern];
    document.stock.grain = [None, Some(Grain::Upright), Some(Grain::Level)][grain];
    let layout = Layout::of(&document);
    let marks = |of_folio: bool| -> Vec<Point> {
        let folio = layout.folio().map(|piece| piece.id);
        let of = layout.panels.iter().filter(move |panel| (Some(panel.piece) == folio) == of_folio);
        of.filter_map(|panel| panel.inside).collect()
    };
    let (panels, offcuts) = (marks(true), marks(false));
    for ((kind, (source, host, offcut, turn, is_back, is_over)), number) in parts.into_iter().zip(1_u32..) {
        let mark = offcuts.get(offcut % offcuts.len().max(1)).copied().unwrap_or_default();
        let source = match source {
            0 => Source::Offcut(mark),
            1 => Source::Whole(mark),
            2 => Source::FolioStock,
            3 => Source::Stock(StockId(1)),
            4 => Source::Bought,
            _ => Source::AnyOffcut,
        };
        let on = match panels.get(host % panels.len().max(1)) {
            Some(&mark) if host % 3 > 0 || number == 1 => PanelRef::Sheet(mark),
            _ => PanelRef::Part(PartId(number.saturating_sub(1)), 0),
        };
        // Quarters, and one angle between.
        let rotation = Rotation::from_hundredths(if turn == 7 { 1_234 } else { turn * 9_000 });
        let face = |is_back: bool| if is_back { Face::Back } else { Face::Front };
        let place = Placement { face: face(is_back), showing: face(is_over), rotation, ..Placement::centred(on) };
        document.parts.push(Part { id: PartId(number), name: String::new(), kind, source, place, also: Vec::new() });
    }
    document
}

fn settings() -> impl Strategy<Value = Settings> {
    (0..3_i64, 0..2_i64, any::<bool>()).prop_map(|(kerf, edge, keep)| Settings {
        knife: Knife { kerf: Length::from_nm(kerf * 400_001), edge: Length::EIGHTH * edge },
        grain: if keep { GrainWish::Keep } else { GrainWish::Note },
        effort: Effort { steps: 100_000 },
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn everything_adds_up(document in any::document(), parts in parts(), paper in (0..4_usize, 0..3_usize), settings in settings()) {
        let document = with_parts(document, parts, paper);
        let layout = Layout::of(&document);
        let found = allot(&document, &layout, &settings);
        keeps_its_promises(&document, &layout, &found, &settings);
        // What is suggested for an offcut as it is, comes out of it.
        let Some(base) = document.base.filter(|_| layout.folio().is_some()) else { return Ok(()) };
        for offcut in found.offcuts.iter().take(2) {
            for suggestion in fitting(&document, &layout, &found, offcut.piece, PanelRef::Sheet(base)) {
                let mut with = document.clone();
                with.parts.push(suggestion.part.clone());
                let layout = Layout::of(&with);
                let after = allot(&with, &layout, &settings);
                let is_whole = matches!(suggestion.part.source, Source::Whole(_));
                if is_whole {
                    let supply = after.supply(suggestion.part.id).unwrap();
                    let found = matches!(&supply.from, foliowright_allot::Origin::Offcut { piece, whole: true, .. } if *piece == offcut.piece);
                    prop_assert!(found, "{}: {:?}", suggestion.label, supply);
                }
            }
        }
    }
}
