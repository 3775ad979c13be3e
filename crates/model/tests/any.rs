//! What holds for every document and every edit.

#![expect(clippy::unwrap_used, reason = "a test may fail")]

#[path = "common/any.rs"]
mod any;

use foliowright_model::board::scoring_table;
use foliowright_model::change::{delete_line, move_line, perform, set_crease, shape_corner, switch_stretch};
use foliowright_model::cutting::cut_list;
use foliowright_model::placing::{Mirror, copy_opposite, lock, mirror, space_evenly};
use foliowright_model::polygon::{Inside, convex_pieces, inner_point, locate, signed_area};
use foliowright_model::resize::move_to_sheet;
use foliowright_model::{Area, Crease, Document, Edit, Layout, Length, LineId, Point, Size, Stock, Unit, VoidKind};
use proptest::prelude::*;
use std::collections::BTreeSet;

/// An edit that a maker might make, by numbers.
fn edit(document: &Document, layout: &Layout, (kind, which, amount): (u8, u8, i64)) -> Option<Edit> {
    let nth = |count: usize| (count > 0).then(|| usize::from(which) % count.max(1));
    let id = document.lines.get(nth(document.lines.len())?).map(|line| line.id)?;
    let ids: BTreeSet<LineId> =
        document.lines.iter().skip(usize::from(which) % 3).step_by(2).map(|line| line.id).collect();
    let length = Length::from_sixty_fourths(amount * 8);
    match kind % 11 {
        0 => move_line(document, layout, id, length),
        1 => delete_line(document, layout, id).ok(),
        2 => layout.stretches.get(nth(layout.stretches.len())?).and_then(|s| switch_stretch(document, layout, s).ok()),
        3 => set_crease(document, id, Crease::VALLEY),
        4 => lock(document, &ids, amount % 2 == 0),
        5 => mirror(document, layout, &ids, Mirror::LeftRight).ok(),
        6 => copy_opposite(document, layout, &ids, Mirror::TopBottom).ok(),
        7 => space_evenly(document, layout, &ids).ok(),
        8 => {
            let size =
                [Size::parse("A4"), Size::parse("8x8in"), Size::parse("12x12in")][usize::from(which) % 3].clone();
            move_to_sheet(document, layout, Stock { size: size.ok()?, ..document.stock.clone() }).ok()
        }
        9 => document.corners.first().map(|corner| shape_corner(document, layout, *corner)),
        _ => Some(Edit::SetUnits(if amount % 2 == 0 { Unit::Inch } else { Unit::Millimetre })),
    }
}

/// What the ledger promises of a layout.
fn adds_up(layout: &Layout) -> Result<(), TestCaseError> {
    let ledger = layout.ledger;
    prop_assert_eq!(ledger.folio + ledger.offcuts + ledger.slots + ledger.waste, ledger.sheet);
    let panels: Area = layout.panels.iter().map(|panel| panel.area).sum();
    let voids: Area = layout.voids.iter().map(|void| void.area).sum();
    prop_assert_eq!(panels + voids, ledger.sheet);
    let slots: Area = layout.voids.iter().filter(|v| matches!(v.kind, VoidKind::Slot(_))).map(|v| v.area).sum();
    prop_assert_eq!(slots, ledger.slots);
    for panel in &layout.panels {
        let pieces: i128 = panel.convex.iter().map(|piece| signed_area(piece).half_nm2()).sum();
        prop_assert_eq!(pieces, panel.area.half_nm2());
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn the_ledger_adds_up_to_the_sheet(document in any::document()) {
        adds_up(&Layout::of(&document))?;
    }

    #[test]
    fn every_place_is_in_one_area_or_on_a_boundary(
        document in any::document(),
        x in 0..1_000_000_i64,
        y in 0..1_000_000_i64,
    ) {
        let layout = Layout::of(&document);
        let part = |side: Length, part: i64| Length::from_nm(side.nm() / 1_000_003 * part + 1);
        let point = Point::new(part(layout.size.width(), x), part(layout.size.height(), y));
        let panels = layout.panels.iter().map(|panel| locate(point, &panel.outline, &panel.holes));
        let voids = layout.voids.iter().map(|void| locate(point, &void.outline, &void.holes));
        let places: Vec<Inside> = panels.chain(voids).collect();
        let inside = places.iter().filter(|place| **place == Inside::Yes).count();
        let touching = places.iter().filter(|place| **place == Inside::Boundary).count();
        prop_assert!(inside == 1 && touching == 0 || inside == 0 && touching >= 1, "{:?}", places);
    }

    #[test]
    fn what_is_taken_back_is_as_before(
        document in any::document(),
        moves in prop::collection::vec((any::<u8>(), any::<u8>(), 0..100_i64), 1..6),
    ) {
        let (mut now, mut layout) = (document.clone(), Layout::of(&document));
        let mut back = Vec::new();
        for numbers in moves {
            let Some(edit) = edit(&now, &layout, numbers) else { continue };
            let Ok(done) = perform(&now, &layout, edit) else { continue };
            prop_assert_eq!(&done.layout, &Layout::of(&done.document), "the layout is that of the document");
            adds_up(&done.layout)?;
            (now, layout) = (done.document, done.layout);
            back.push(done.inverse);
        }
        while let Some(inverse) = back.pop() {
            now.apply(inverse).unwrap();
        }
        prop_assert_eq!(now, document);
    }

    #[test]
    fn a_mark_keeps_its_panel_or_its_loss_is_told(
        document in any::document(),
        numbers in (any::<u8>(), any::<u8>(), 0..100_i64),
    ) {
        let layout = Layout::of(&document);
        let Some(edit) = edit(&document, &layout, numbers) else { return Ok(()) };
        let Ok(done) = perform(&document, &layout, edit) else { return Ok(()) };
        if let Some(was) = layout.base.filter(|_| done.document.base.is_some()) {
            // Where lines stay, so does the mark; else it is in the panel with most of the old one, or told to be lost.
            let same = layout.size == done.layout.size
                && layout.lines == done.layout.lines
                && layout.voids == done.layout.voids;
            prop_assert!(!same || done.document.base == document.base);
            if done.layout.base.is_none() {
                let inside = layout.panel(was).inside.unwrap_or_default();
                let there = done.layout.panel_at(inside).map(|panel| done.layout.panel(panel).area);
                prop_assert!(there.is_none_or(|area| area < layout.panel(was).area), "{:?}", done.document.base);
            }
        }
        for (i, corner) in done.document.corners.iter().enumerate() {
            let told = done.layout.corner_troubles.iter().any(|trouble| trouble.by == i);
            prop_assert!(told || done.layout.panel_at(corner.mark).is_some());
        }
    }

    #[test]
    fn a_mirror_image_lies_where_the_mirror_shows_it(document in any::document()) {
        let layout = Layout::of(&document);
        let placed = |layout: &Layout, id: LineId| layout.lines.get(&id).and_then(|placed| placed.ok());
        let ids: BTreeSet<LineId> =
            document.lines.iter().filter(|line| !line.locked && placed(&layout, line.id).is_some()).map(|l| l.id).collect();
        for glass in [Mirror::LeftRight, Mirror::TopBottom] {
            // Lines that hang on others which stay behind may lose their place; then the mirror refuses.
            let Ok(once) = mirror(&document, &layout, &ids, glass).and_then(|edit| perform(&document, &layout, edit))
            else { continue };
            // All lines and no corners: then what is taken out is the mirror image too.
            if ids.len() == document.lines.len() && document.corners.is_empty() {
                for void in layout.voids.iter().filter(|void| void.area.mm2() > 0.01) {
                    let Some(middle) = inner_point(&convex_pieces(&void.outline, &void.holes)) else { continue };
                    let image = glass.point(middle, layout.size);
                    prop_assert!(once.layout.panel_at(image).is_none(), "{:?} at {:?}", void.kind, middle);
                }
            }
            for &id in &ids {
                let (before, after) = (placed(&layout, id).unwrap(), placed(&once.layout, id).unwrap());
                let image = [before.segment.a, before.segment.b].map(|end| glass.point(end, layout.size));
                let ends = [after.segment.a, after.segment.b];
                let mut near = [image, ends];
                near.iter_mut().for_each(|pair| pair.sort_unstable());
                for (image, end) in near[0].iter().zip(near[1]) {
                    // Crossings of slanting lines are rounded, on either side of the mirror.
                    let off = (*image - end).length();
                    prop_assert!(off <= Length::from_nm(3), "{:?} of {:?} to {:?}", off, before, after);
                }
            }
        }
    }

    #[test]
    fn everything_can_be_said(document in any::document()) {
        let layout = Layout::of(&document);
        let table = scoring_table(&document, &layout);
        let scored: BTreeSet<LineId> = table.turns.iter().flat_map(|turn| turn.scores.values().flatten()).map(|run| run.line)
            .chain(table.by_ruler.iter().map(|score| score.line)).collect();
        let wanted: BTreeSet<LineId> = document.lines.iter()
            .filter(|line| line.work.is_score() && layout.lines[&line.id].is_ok()).map(|line| line.id).collect();
        prop_assert_eq!(scored, wanted, "each score once");
        let cut: Vec<LineId> = cut_list(&document, &layout).iter().filter_map(|step| step.line).collect();
        let wanted = document.lines.iter().filter(|line| line.work.is_cut() && layout.lines[&line.id].is_ok()).count();
        prop_assert_eq!(cut.len(), wanted);
        for step in cut_list(&document, &layout) {
            prop_assert!(step.sentence.ends_with('.') && !step.sentence.contains("  "), "{}", step.sentence);
        }
    }
}
