//! Any parts there can be on the seed library's folio: nothing panics, and what is said to fit fits.

#![expect(clippy::unwrap_used, reason = "a test may fail")]

mod common;

use common::{id, seed_swap};
use foliowright_fit::{
    Ends, Holders, Holds, LEAST_MAT, MARGIN, corner_sets, cut_list, inserts, loaded, mats, pockets, trays, words,
};
use model::part::{
    Anchor, AnchorFrom, Edges, GlueArea, Gluing, Hinge, Insert, Mat, Page, PanelCorner, Placement, Pocket, Rotation,
    Source, TuckCorner,
};
use model::{Document, Face, Layout, Length, PanelRef, Part, PartKind, Point, SheetEdge, Unit};
use proptest::prelude::*;
use proptest::test_runner::RngSeed;

fn length() -> impl Strategy<Value = Length> + Clone {
    prop_oneof![
        8 => (0..40_i64).prop_map(|count| Length::from_sixty_fourths(count * 8)),
        1 => (0..150_000_000_i64).prop_map(Length::from_nm),
        1 => Just(Length::ZERO),
    ]
}

fn face() -> impl Strategy<Value = Face> + Clone {
    prop_oneof![2 => Just(Face::Front), 1 => Just(Face::Back)]
}

fn edges() -> impl Strategy<Value = Edges> + Clone {
    prop::sample::subsequence(SheetEdge::ALL.to_vec(), 0..=4).prop_map(|edges| Edges::of(&edges))
}

fn kind() -> impl Strategy<Value = PartKind> {
    let strip = (0..3_i64).prop_map(|count| Length::from_sixty_fourths(count * 16));
    let corner = prop::sample::select(PanelCorner::ALL.to_vec());
    let pocket = (length(), length(), edges(), strip.clone(), prop_oneof![Just(Length::ZERO), length()]);
    let tuck = (length(), length(), corner, prop_oneof![Just(Length::ZERO), length()], strip.clone());
    let pair = (length(), length());
    prop_oneof![
        4 => pocket.prop_map(|(width, height, glued, strip, gusset)| PartKind::Pocket(Pocket {
            width, height, glued, strip, rim: Length::ZERO, gusset,
        })),
        3 => tuck.prop_map(|(across, down, corner, band, strip)| PartKind::TuckCorner(TuckCorner {
            across, down, corner, band, strip,
        })),
        2 => (length(), length(), length()).prop_map(|(length, leaf, free_leaf)| PartKind::Hinge(Hinge {
            length, leaf, free_leaf,
        })),
        1 => (length(), length(), strip).prop_map(|(width, height, strip)| PartKind::Page(Page {
            width, height, hinged: SheetEdge::Left, strip,
        })),
        1 => pair.clone().prop_map(|(width, height)| PartKind::Mat(Mat { width, height })),
        4 => (pair, prop::option::of(length())).prop_map(|((width, height), caliper)| PartKind::Insert(Insert {
            width, height, caliper,
        })),
    ]
}

fn panel() -> impl Strategy<Value = PanelRef> + Clone {
    let sheet = |x, y| PanelRef::Sheet(Point::new(Length::INCH * x, Length::INCH * y));
    prop_oneof![
        4 => Just(sheet(6, 5)),
        1 => Just(sheet(1, 5)),
        3 => (1..6_u32, 0..3_usize).prop_map(|(part, panel)| PanelRef::Part(id(part), panel)),
    ]
}

fn anchor() -> impl Strategy<Value = Anchor> {
    let from = prop_oneof![Just(AnchorFrom::Start), Just(AnchorFrom::Middle), Just(AnchorFrom::End)];
    (from, length()).prop_map(|(from, distance)| Anchor { from, distance })
}

fn part() -> impl Strategy<Value = Part> {
    let turned = prop_oneof![3 => Just(0), 3 => (0..4_i32).prop_map(|quarter| quarter * 9_000), 1 => 0..36_000_i32];
    let strips = (edges(), length()).prop_map(|(edges, width)| GlueArea::Strips(edges, width));
    let area = prop_oneof![3 => strips, 1 => Just(GlueArea::Whole), 1 => Just(GlueArea::None)];
    let gluing =
        (0..2_usize, face(), panel(), area).prop_map(|(panel, face, to, area)| Gluing { panel, face, to, area });
    let place = (panel(), face(), anchor(), anchor(), turned, face());
    let also = prop::collection::vec(gluing, 0..2);
    (kind(), place, also).prop_map(|(kind, (on, face, across, down, turned, showing), also)| {
        let rotation = Rotation::from_hundredths(turned);
        let place = Placement { on, face, across, down, rotation, showing };
        Part { id: id(0), name: String::new(), kind, source: Source::FolioStock, place, also }
    })
}

fn design() -> impl Strategy<Value = Document> {
    prop::collection::vec(part(), 1..7).prop_map(|parts| {
        let mut document = seed_swap().0;
        let numbered = parts.into_iter().zip(1..).map(|(part, number)| Part { id: id(number), ..part });
        document.parts = numbered.collect();
        document
    })
}

/// Says everything that there is to say, and holds it to its word.
fn everything(document: &Document) -> Result<(), TestCaseError> {
    let layout = Layout::of(document);
    let (pockets, corners) = (pockets(document, &layout), corner_sets(document, &layout));
    for pocket in &pockets {
        prop_assert!(words::pocket(pocket, document.units).ends_with('.'));
        let Holds::Pocket(inside) = &pocket.holds else { continue };
        for fit in &inside.cards {
            let (card, room) = (&fit.card, &inside.room);
            let size = if fit.is_turned { (card.height, card.width) } else { (card.width, card.height) };
            for (span, length, out) in
                [(room.across, size.0, fit.stands_out[0]), (room.down, size.1, fit.stands_out[1])]
            {
                prop_assert!(length - out <= span.inner);
                prop_assert!(span.closed != Ends::Both || out == Length::ZERO);
            }
            prop_assert!(fit.count != Some(0) && words::card(fit, Unit::Inch).contains("go"));
        }
        if let Some((width, height)) = inside.room.largest() {
            prop_assert!(width <= inside.room.across.inner && height <= inside.room.down.inner);
        }
    }
    for set in &corners {
        prop_assert!(set.holds(set.largest()) && set.share() > 0.0);
        let (width, height) = set.largest();
        let nanometre = Length::from_nm(2);
        prop_assert!(
            set.holds((set.least_width + nanometre, height)) && set.holds((width, set.least_height + nanometre))
        );
        prop_assert!(set.least_width == Length::ZERO || !set.holds((set.least_width - nanometre, height)));
        prop_assert!(words::corners(set, document).contains("hold"));
    }
    let Some(assembly) = fold::assemble(document, &layout) else { return Ok(()) };
    let folding = fold::close(&assembly);
    let trays = trays(document, &layout, &assembly, &folding);
    let holders = Holders { pockets: &pockets, corners: &corners, trays: &trays };
    for insert in inserts(document, &layout, &holders) {
        prop_assert!(words::insert(&insert, document, &layout).ends_with('.'));
    }
    if let Some(loaded) = loaded(document, &layout, &assembly, &folding) {
        prop_assert!(words::load(&loaded, document).contains("thick"));
    }
    let mats = mats(document, &layout, &folding, MARGIN);
    for mat in &mats {
        let (width, height) = layout.panel(mat.panel).extent();
        prop_assert!(mat.width + MARGIN * 2 <= width && mat.height + MARGIN * 2 <= height);
        prop_assert!(mat.width.min(mat.height) >= LEAST_MAT && !mat.seen.is_empty());
    }
    prop_assert_eq!(cut_list(&mats).iter().map(|cut| cut.mats.len()).sum::<usize>(), mats.len());
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 30,
        failure_persistence: None,
        rng_seed: RngSeed::Fixed(7),
        ..ProptestConfig::default()
    })]

    #[test]
    fn what_is_said_to_fit_fits(document in design()) {
        everything(&document)?;
    }
}
