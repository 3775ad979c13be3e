//! Shaping a corner by pulling at it: the further inwards, the more is rounded or clipped.

use crate::snap::{Fineness, step};
use model::change::shape_corner;
use model::{Corner, CornerFault, CornerShape, Document, Edit, FreeCorner, Layout, Length, Vector};

/// A corner that is pulled at, and what it would come to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Pulled {
    /// What is done with it.
    pub shape: CornerShape,
    /// The edit; `None` when that is done with it already.
    pub edit: Option<Edit>,
    /// Whether there is no room for more.
    pub is_all: bool,
}

/// Rounded, or clipped when `clips`, by as much as it was before and so far inwards as the pointer was pulled: that is along
/// either side of the corner, half of each.
#[must_use]
pub fn pulled(
    document: &Document,
    layout: &Layout,
    free: &FreeCorner,
    by: Vector,
    clips: bool,
    fineness: Fineness,
) -> Pulled {
    let (step, _) = step(document, fineness);
    let [before, after] = ways(free);
    let (x, y) = (by.x.mm(), by.y.mm());
    let inwards = ((before.0 + after.0) * x + (before.1 + after.1) * y) / 2.0;
    let inwards = Length::from_mm_rounded(inwards).unwrap_or_default();
    let now = free.corner.shape.measure();
    // A press that barely moves leaves a corner as it is, on a groove or not.
    let measure = if inwards.abs() * 2 < step { now } else { (now + inwards).snapped(step) };
    shaped(document, layout, free, measure, clips, step)
}

/// The same by so many steps more or less.
#[must_use]
pub fn pushed(document: &Document, layout: &Layout, free: &FreeCorner, steps: i64, fineness: Fineness) -> Pulled {
    let (step, _) = step(document, fineness);
    let clips = matches!(free.corner.shape, CornerShape::Clip(_));
    shaped(document, layout, free, (free.corner.shape.measure() + step * steps).snapped(step), clips, step)
}

/// From the corner along the side before it and the side after it, each 1 long.
#[must_use]
pub fn ways(free: &FreeCorner) -> [(f64, f64); 2] {
    free.ends.map(|end| {
        let way = end - free.tip;
        let long = way.length().mm().max(f64::MIN_POSITIVE);
        (way.x.mm() / long, way.y.mm() / long)
    })
}

/// By that much, or by as many steps as there is room for.
fn shaped(
    document: &Document,
    layout: &Layout,
    free: &FreeCorner,
    measure: Length,
    clips: bool,
    step: Length,
) -> Pulled {
    let made = |measure| if clips { CornerShape::Clip(measure) } else { CornerShape::Round(measure) };
    let shape = |measure| if measure > Length::ZERO { made(measure) } else { CornerShape::Square };
    let edit = |shape| {
        let edit = shape_corner(document, layout, Corner { shape, ..free.corner });
        (shape != free.corner.shape).then_some(edit)
    };
    let Some(room) = room(document, free, edit(shape(measure))) else {
        return Pulled { shape: shape(measure), edit: edit(shape(measure)), is_all: false };
    };
    // Down to a whole step.
    let most = Length::from_nm(room.nm() - room.nm().rem_euclid(step.nm().max(1)));
    Pulled { shape: shape(most), edit: edit(shape(most)), is_all: true }
}

/// How much there is room for, where an edit takes more off a corner.
fn room(document: &Document, free: &FreeCorner, edit: Option<Edit>) -> Option<Length> {
    let mut next = Document { parts: Vec::new(), ..document.clone() };
    next.apply(edit?).ok()?;
    Layout::of(&next).corner_troubles.iter().find_map(|trouble| match trouble.fault {
        CornerFault::TooLarge(room) if trouble.at == free.tip => Some(room),
        _ => None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use model::{Point, Size, Unit};

    /// Eighths of an inch.
    fn eighths(count: i64) -> Length {
        Length::EIGHTH * count
    }

    /// The upper left corner of a sheet of 4 by 6 in, shaped as said and pulled by so many eighths right and down.
    #[track_caller]
    fn check(was: CornerShape, by: (i64, i64), clips: bool, expected: (CornerShape, bool)) {
        let mut document = Document::new(Size::parse("4x6in").unwrap(), Unit::Inch);
        let mark = Point::new(Length::INCH * 2, Length::INCH * 2);
        let tip = Point::new(Length::ZERO, Length::ZERO);
        let corner = |document: &Document| {
            let all = Layout::corners_by_side(document, mark);
            all.into_iter().find(|free| free.tip == tip).unwrap()
        };
        let layout = Layout::of(&document);
        let first = Corner { shape: was, ..corner(&document).corner };
        document.apply(shape_corner(&document, &layout, first)).unwrap();
        let (layout, free) = (Layout::of(&document), corner(&document));
        let by = Vector { x: eighths(by.0), y: eighths(by.1) };
        let pulled = pulled(&document, &layout, &free, by, clips, Fineness::Grooves);
        assert_eq!((pulled.shape, pulled.is_all), expected);
        let mut after = document.clone();
        pulled.edit.into_iter().for_each(|edit| drop(after.apply(edit).unwrap()));
        assert_eq!(corner(&after).corner.shape, expected.0);
        assert!(Layout::of(&after).corner_troubles.is_empty());
    }

    #[test]
    fn a_corner_is_rounded_by_how_far_it_is_pulled() {
        use CornerShape::{Clip, Round, Square};
        check(Square, (4, 4), false, (Round(eighths(4)), false));
        check(Square, (4, 4), true, (Clip(eighths(4)), false));
        // Half of either way: along one side alone it is half as far.
        check(Square, (8, 0), false, (Round(eighths(4)), false));
        check(Round(eighths(4)), (-2, -2), false, (Round(eighths(2)), false));
        check(Round(eighths(4)), (-9, -9), false, (Square, false));
        check(Clip(eighths(4)), (0, 0), true, (Clip(eighths(4)), false));
        // The shorter side is 4 in long.
        check(Square, (60, 60), false, (Round(eighths(32)), true));
    }

    #[test]
    fn steps_go_there_and_back() {
        let document = Document::new(Size::parse("4x6in").unwrap(), Unit::Inch);
        let layout = Layout::of(&document);
        let free = Layout::corners_by_side(&document, Point::new(Length::INCH, Length::INCH))[0];
        let shape = |steps, fineness| pushed(&document, &layout, &free, steps, fineness).shape;
        assert_eq!(shape(1, Fineness::Grooves), CornerShape::Round(eighths(1)));
        assert_eq!(shape(1, Fineness::Fine), CornerShape::Round(eighths(1) / 4));
        assert_eq!(shape(-1, Fineness::Grooves), CornerShape::Square);
    }
}
