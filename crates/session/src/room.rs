//! Room on a panel: the nearest place for a new part where nothing else lies.

use model::part::change::{add, shift};
use model::part::own::glue_of_copy;
use model::part::{Laid, PartLayout, Placement};
use model::polygon::{Inside, bounds, locate};
use model::{Document, Layout, Length, Panel, Part, Point, Vector};

/// An upright rectangle by its least and greatest corner.
type Upright = (Point, Point);

/// How far a part is kept off its neighbours and the borders of its panel where there is room for that: 1/8 in (common
/// practice, no source).
const OFF: Length = Length::EIGHTH;

/// A new part as near to where it is put as it can lie without anything beneath or above it on the same face of its panel,
/// a little off its neighbours where that can be. Where that panel has no room for it, it goes to the largest panel of the
/// folio that has; where none has, it stays where it is put.
#[must_use]
pub fn beside_others(document: &Document, layout: &Layout, part: Part) -> Part {
    clear(document, layout, &part, false).or_else(|| elsewhere(document, layout, &part)).unwrap_or(part)
}

/// The part in the middle of another panel of the folio, or near it, where it is clear of others and lies on the panel.
fn elsewhere(document: &Document, layout: &Layout, part: &Part) -> Option<Part> {
    let folio = layout.folio()?;
    let mut panels: Vec<&Panel> = folio.panels.iter().map(|&panel| layout.panel(panel)).collect();
    panels.retain(|panel| !panel.is_gusset && Some(panel.id) != layout.panel_of(part.place.on));
    panels.sort_by_key(|panel| std::cmp::Reverse(panel.area));
    let on = |panel: &Panel| {
        let on = layout.panel_ref(panel.id)?;
        let Placement { across, down, .. } = Placement::centred(on);
        let place = Placement { on, across, down, ..part.place };
        clear(document, layout, &Part { place, also: glue_of_copy(part, on), ..part.clone() }, true)
    };
    panels.into_iter().find_map(on)
}

/// The part where it is put if it is clear of others there and, where that is asked, lies all on its panel; else at the nearest
/// place where both are so.
fn clear(document: &Document, before: &Layout, part: &Part, all_on_it: bool) -> Option<Part> {
    let mut next = document.clone();
    next.apply(add(document, part.clone())).ok()?;
    let layout = Layout::of(&next);
    let own = layout.part(part.id)?;
    let laid = own.laid?;
    let is_beside = |other: &Laid| other.on == laid.on && other.face == laid.face;
    let others = before.parts.iter().filter(|other| other.laid.as_ref().is_some_and(is_beside));
    let others: Vec<Upright> = others.filter_map(|other| on_host(other, &other.laid?)).collect();
    let now = on_host(own, &laid)?;
    let host = layout.panel(laid.on);
    if is_clear(now, &others) && (!all_on_it || is_on(host, now)) {
        return Some(part.clone());
    }
    let by = [OFF, Length::ZERO].into_iter().find_map(|off| nearest(now, &others, host, off))?;
    next.apply(shift(&next, part.id, by)?).ok()?;
    next.part(part.id).cloned()
}

/// The same part in the middle of its panel, where as it is put some of its main panel would lie beyond that.
#[must_use]
pub fn on_its_panel(document: &Document, part: Part) -> Part {
    let is_beyond = || {
        let mut next = document.clone();
        next.apply(add(document, part.clone())).ok()?;
        let layout = Layout::of(&next);
        let own = layout.part(part.id)?;
        let laid = own.laid?;
        let main = own.panels.iter().find(|panel| panel.id == own.main)?;
        Some(!is_on(layout.panel(laid.on), crate::part::on_host(&laid, main)))
    };
    if part.kind.is_on_a_panel() && is_beyond() == Some(true) {
        let Placement { across, down, .. } = Placement::centred(part.place.on);
        return Part { place: Placement { across, down, ..part.place }, ..part };
    }
    part
}

/// The upright rectangle round all of a part, before any of it folds, on the sheet that it lies on.
fn on_host(part: &PartLayout, laid: &Laid) -> Option<Upright> {
    let points: Vec<Point> =
        part.panels.iter().flat_map(|panel| &panel.outline).map(|&point| laid.on_host(point)).collect();
    (!points.is_empty()).then(|| bounds(&points))
}

fn is_clear(own: Upright, others: &[Upright]) -> bool {
    let meets = |(low, high): &Upright| own.0.x < high.x && low.x < own.1.x && own.0.y < high.y && low.y < own.1.y;
    !others.iter().any(meets)
}

/// How far a rectangle goes to the nearest place on a panel that is clear of others, all of it kept so far off them. What
/// can be moved can be moved until it touches something or is where it was, so no other places are looked at.
fn nearest(now: Upright, others: &[Upright], host: &Panel, off: Length) -> Option<Vector> {
    let grown = |&(low, high): &Upright| (Point::new(low.x - off, low.y - off), Point::new(high.x + off, high.y + off));
    let others: Vec<Upright> = others.iter().map(grown).collect();
    let (low, high) = host.bounds();
    let size = now.1 - now.0;
    let starts =
        |now: Length, size: Length, host: (Length, Length), others: &mut dyn Iterator<Item = (Length, Length)>| {
            let mut starts = vec![now, host.0 + off, host.1 - off - size];
            starts.extend(others.flat_map(|(low, high)| [low - size, high]));
            starts.retain(|&start| start >= host.0 + off && start + size <= host.1 - off);
            starts
        };
    let across = starts(now.0.x, size.x, (low.x, high.x), &mut others.iter().map(|other| (other.0.x, other.1.x)));
    let down = starts(now.0.y, size.y, (low.y, high.y), &mut others.iter().map(|other| (other.0.y, other.1.y)));
    let places = across.iter().flat_map(|&x| down.iter().map(move |&y| Point::new(x, y)));
    let will_do = |at: &Point| is_clear((*at, *at + size), &others) && is_on(host, (*at, *at + size));
    let away = |at: &Point| (*at - now.0).x.abs() + (*at - now.0).y.abs();
    places.filter(will_do).min_by_key(|at| (away(at), *at)).map(|at| at - now.0)
}

/// Whether the corners and the middle of a rectangle lie on a panel.
fn is_on(host: &Panel, (low, high): Upright) -> bool {
    let middle = Point::new((low.x + high.x).half(), (low.y + high.y).half());
    let points = [low, high, Point::new(low.x, high.y), Point::new(high.x, low.y), middle];
    points.iter().all(|&point| locate(point, &host.outline, &host.holes) != Inside::No)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Session;
    use model::part::{Mat, PartKind, Source};
    use model::{PanelRef, PartId, Size, Unit};

    const INCH: Length = Length::INCH;

    fn mat(id: u32, (width, height): (i64, i64)) -> Part {
        let kind = PartKind::Mat(Mat { width: INCH * width, height: INCH * height });
        let place = Placement::centred(PanelRef::Sheet(Point::new(INCH * 4, INCH * 3)));
        Part { id: PartId(id), name: String::new(), kind, source: Source::FolioStock, place, also: Vec::new() }
    }

    /// A sheet of 8 by 6 in, all of it the base, and mats put on it one after another where there is room.
    fn put(mats: &[(i64, i64)]) -> Vec<Upright> {
        let mut document = Document::new(Size::parse("8x6in").unwrap(), Unit::Inch);
        document.base = Some(Point::new(INCH * 4, INCH * 3));
        for (id, &size) in (1..).zip(mats) {
            let session = Session::new(document.clone());
            let part = beside_others(&document, &session.derived().layout, mat(id, size));
            document.apply(add(&document, part)).unwrap();
        }
        let layout = Layout::of(&document);
        layout.parts.iter().map(|part| on_host(part, &part.laid.unwrap()).unwrap()).collect()
    }

    #[test]
    fn the_first_lies_in_the_middle_and_others_near_it_and_off_it() {
        let found = put(&[(2, 2), (2, 2), (2, 2), (2, 2)]);
        assert_eq!(found[0], (Point::new(INCH * 3, INCH * 2), Point::new(INCH * 5, INCH * 4)));
        // No more than 1 7/8 in is left above and below, so the next lie left and right of it.
        let lefts: Vec<Length> = found.iter().map(|rect| rect.0.x).collect();
        assert_eq!(lefts[1..3], [INCH - OFF, INCH * 5 + OFF]);
        for (at, rect) in found.iter().enumerate().take(3) {
            assert!(is_clear(*rect, &[&found[..at], &found[at + 1..3]].concat()), "{found:?}");
        }
        assert_eq!((found[3].0.x, found[3].0.y), (INCH * 3, Length::ZERO), "flush, since nothing else is left near it");
        let found = put(&[(7, 5), (2, 2)]);
        assert_eq!(found[1].0, Point::new(INCH * 3, INCH * 2), "no room, so it lies where it is put");
    }

    #[test]
    fn where_its_panel_has_no_room_it_goes_to_the_largest_that_has() {
        // A sheet of 8 by 6 in with scores 5 in and 6 1/2 in from its left; a mat covers the base, which is the left of it.
        let mut document = Document::new(Size::parse("8x6in").unwrap(), Unit::Inch);
        for (id, at) in [(1, INCH * 5), (2, INCH * 13 / 2)] {
            let score = model::change::measured_score(model::LineId(id), model::Turn::None, at);
            document.apply(model::change::add_line(&document, score)).unwrap();
        }
        let base = Point::new(INCH * 2, INCH * 3);
        document.base = Some(base);
        let on_base = |part: Part| Part { place: Placement::centred(PanelRef::Sheet(base)), ..part };
        document.apply(add(&document, on_base(mat(1, (4, 5))))).unwrap();
        let put = |size| {
            let layout = Layout::of(&document);
            let part = beside_others(&document, &layout, on_base(mat(2, size)));
            layout.panel(layout.panel_of(part.place.on).unwrap()).name.clone()
        };
        assert_eq!(put((1, 1)), "Right flap", "1 1/2 in wide, as is the other");
        assert_eq!(put((2, 2)), "Base", "no flap has room for it, so it lies where it is put");
    }

    #[test]
    fn where_there_is_no_room_beside_it_lies_flush() {
        let found = put(&[(4, 6), (2, 6)]);
        assert_eq!((found[1].0.x, found[1].1.x), (Length::ZERO, INCH * 2));
        let found = put(&[(4, 5), (2, 5)]);
        assert_eq!((found[1].0.x, found[1].1.x), (Length::ZERO, INCH * 2), "flush with the border, clear of the other");
    }
}
