//! Any sequence of edits: each is made whole or refused, and taking all of them back gives the design as it was.

use super::layout::adds_up;
use crate::bytes::Bytes;
use crate::design::{corner, crease, design, id, line, part, point, spot, steps};
use model::change::{
    add_line, delete_line, fold_alone, fold_in_step, join_step, move_end, move_line, move_step, set_crease,
    shape_corner, switch_stretch,
};
use model::offcut::{cut_away, keep};
use model::part::Rotation;
use model::placing::{Mirror, copy_opposite, lock, mirror, space_evenly};
use model::resize::move_to_sheet;
use model::{Document, Edit, LineId, PanelId, PartId, Size, Stock, Unit, Vector};
use session::Session;
use std::collections::BTreeSet;

pub(crate) fn run(data: &[u8]) {
    let mut bytes = Bytes(data);
    let start = design(&mut bytes, 6);
    let mut session = Session::new(start.clone());
    for _ in 0..12 {
        if bytes.is_empty() {
            break;
        }
        one(&mut session, &mut bytes);
        adds_up(&session.derived().layout);
    }
    session.finish_gesture();
    let end = session.document().clone();
    let mut back = 0;
    while session.undo().expect("what was done is taken back") {
        back += 1;
    }
    assert_eq!(*session.document(), start);
    // No more than that: what had been taken back before stays so.
    for _ in 0..back {
        assert!(session.redo().expect("what was taken back is done again"));
    }
    assert_eq!(*session.document(), end);
}

fn one(session: &mut Session, bytes: &mut Bytes<'_>) {
    match bytes.below(12) {
        0 => drop(session.undo().expect("what was done is taken back")),
        1 => drop(session.redo().expect("what was taken back is done again")),
        2 => {
            session.begin_gesture("Drag");
            for _ in 0..=bytes.below(3) {
                let edit = edit(session, bytes);
                // A place that the drag can't take is refused, and it goes on.
                drop(session.drag(edit));
            }
            if bytes.flag() { session.finish_gesture() } else { session.cancel_gesture() }
        }
        _ => {
            let before = session.document().clone();
            if let Some(edit) = edit(session, bytes)
                && let Err(refusal) = session.apply("Edit", edit)
            {
                assert!(!refusal.to_string().is_empty());
                assert_eq!(*session.document(), before, "a refused edit changes nothing");
            }
        }
    }
}

fn edit(session: &Session, bytes: &mut Bytes<'_>) -> Option<Edit> {
    let document: &Document = session.gesture_start().map_or(session.document(), |(document, _)| document);
    let layout = session.gesture_start().map_or(&session.derived().layout, |(_, layout)| layout);
    let count = document.lines.len().min(200);
    let which = id(bytes, count);
    let ids: BTreeSet<LineId> = document.lines.iter().map(|line| line.id).filter(|_| bytes.flag()).collect();
    let panel = PanelId(bytes.below(layout.panels.len().clamp(1, 255)));
    let is_there = layout.panels.iter().any(|known| known.id == panel);
    match bytes.below(24) {
        0 | 1 => move_line(document, layout, which, bytes.length()),
        2 => Some(add_line(document, line(bytes, document.next_line(), count))),
        3 => delete_line(document, layout, which).ok(),
        4 => {
            let stretch = layout.stretches.get(bytes.below(layout.stretches.len().min(255)))?;
            switch_stretch(document, layout, stretch).ok()
        }
        5 => set_crease(document, which, crease(bytes)),
        6 => move_end(document, which, bytes.below(2), spot(bytes, count)),
        7 => Some(shape_corner(document, layout, corner(bytes, count))),
        8 => lock(document, &ids, bytes.flag()),
        9 => mirror(document, layout, &ids, bytes.pick(&[Mirror::LeftRight, Mirror::TopBottom])).ok(),
        10 => copy_opposite(document, layout, &ids, bytes.pick(&[Mirror::LeftRight, Mirror::TopBottom])).ok(),
        11 => space_evenly(document, layout, &ids).ok(),
        12 => {
            let size = Size::parse(bytes.pick(&["A4", "8x8in", "12x12in", "1x1in"])).ok()?;
            move_to_sheet(document, layout, Stock { size, ..document.stock.clone() }).ok()
        }
        13 if is_there => cut_away(document, layout, panel).ok(),
        14 if is_there => keep(document, layout, panel).ok(),
        15 => Some(Edit::SetBase(bytes.flag().then(|| point(bytes)))),
        16 => Some(Edit::SetSteps(steps(bytes, count))),
        17 => move_step(document, bytes.below(8), bytes.below(8)),
        18 => Some(fold_in_step(document, which, bytes.below(8))),
        19 => join_step(document, bytes.below(8)),
        20 => Some(fold_alone(document, which)),
        21 => {
            let number = document.parts.iter().map(|part| part.id.0).max().unwrap_or(0) + 1;
            Some(model::part::change::add(document, part(bytes, number, count)))
        }
        22 => {
            let part = PartId(u32::from(bytes.byte() % 5));
            match bytes.below(4) {
                0 => Some(model::part::change::remove(document, &[part])),
                1 => {
                    let by = Vector { x: bytes.short(), y: bytes.short() };
                    model::part::change::shift(document, part, by)
                }
                2 => model::part::change::turn(document, layout, part, Rotation::QUARTER),
                _ => model::part::change::reorder(document, part, bytes.below(4)),
            }
        }
        _ => Some(Edit::SetUnits(bytes.pick(&[Unit::Inch, Unit::Millimetre, Unit::Centimetre]))),
    }
}
