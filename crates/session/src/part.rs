//! Parts under the pointer: which one lies there, and where a dragged one comes to rest.

use crate::derived::Derived;
use crate::snap::{Fineness, step};
use fold::Assembly;
use glam::{DVec2, DVec3};
use model::part::{Laid, change};
use model::polygon::{Inside, bounds, locate};
use model::{Document, Edit, Length, Panel, PanelId, PartId, Point, Vector};

/// A part's place while it is dragged, and what it snapped to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Dragged {
    /// The edit that moves it there; `None` when it stays.
    pub edit: Option<Edit>,
    /// What it snapped to across and down, in a few words.
    pub to: String,
}

/// The part seen at a place on the flat sheet, from the front: the uppermost whose panels lie there. Parts behind the
/// sheet come last.
#[must_use]
pub fn part_at(derived: &Derived, at: Point) -> Option<PartId> {
    parts_at(derived, at).first().copied()
}

/// All parts at a place on the flat sheet, the uppermost first.
#[must_use]
pub fn parts_at(derived: &Derived, at: Point) -> Vec<PartId> {
    let Some((assembly, folding)) = derived.folded.as_ref() else { return Vec::new() };
    let layers = folding.layers_before();
    let here = |panel: &&Panel| {
        let own = on_own_sheet(assembly, panel.id, at);
        own.is_some_and(|own| locate(own, &panel.outline, &panel.holes) == Inside::Yes)
    };
    let height = |id: PanelId| assembly.place(id).and_then(|place| layers.get(place)).copied().unwrap_or_default();
    let parts = derived.layout.parts.iter();
    let found = parts.filter_map(|part| {
        let panel = part.panels.iter().filter(here).max_by_key(|panel| height(panel.id))?;
        Some((height(panel.id), part.id))
    });
    let mut found: Vec<(i32, PartId)> = found.collect();
    found.sort_by(|a, b| b.cmp(a));
    found.into_iter().map(|(_, id)| id).collect()
}

/// Moves a part by exactly so far on the flat sheet, whatever lies near.
#[must_use]
pub fn push(document: &Document, derived: &Derived, id: PartId, by: Vector) -> Option<Edit> {
    let laid = derived.layout.part(id)?.laid?;
    change::shift(document, id, turned_back(derived, laid.on, by)?)
}

/// The place on a panel's own sheet of a place on the flat sheet; `None` for a panel that is not flat there.
#[must_use]
pub fn on_own_sheet(assembly: &Assembly, panel: PanelId, at: Point) -> Option<Point> {
    let frame = assembly.lying(assembly.place(panel)?)?;
    let (x, y) = at.mm();
    let own = frame.inverse().transform_point3(DVec3::new(x, -y, 0.0));
    Some(Point::new(Length::from_mm_rounded(own.x)?, Length::from_mm_rounded(-own.y)?))
}

/// Moves a part by so far on the flat sheet, from where it lies in `document`. It comes to rest at a border or the middle
/// of its panel where that is nearer than `reach`, and else on the grid.
#[must_use]
pub fn drag(
    document: &Document,
    derived: &Derived,
    id: PartId,
    by: Vector,
    fineness: Fineness,
    reach: Length,
) -> Option<Dragged> {
    let part = derived.layout.part(id)?;
    let laid = part.laid?;
    let by = turned_back(derived, laid.on, by)?;
    let main = part.panels.iter().find(|panel| panel.id == part.main)?;
    let host = derived.layout.panel(laid.on);
    let (host_low, host_high) = host.bounds();
    let (low, high) = on_host(&laid, main);
    let (grid, name) = step(document, fineness);
    let name = &name;
    let snap = |low: Length, high: Length, by: Length, host: [Length; 2], words: [&'static str; 3]| {
        let own = high - low;
        let free = low + by;
        let places =
            [(host[0], words[0]), (host[0] + (host[1] - host[0] - own).half(), words[1]), (host[1] - own, words[2])];
        let nearest = places.into_iter().min_by_key(|(place, _)| (*place - free).abs());
        match nearest.filter(|(place, _)| (*place - free).abs() <= reach) {
            Some((place, word)) => (place - low, word.to_owned()),
            None => (host[0] + (free - host[0]).snapped(grid) - low, name.clone()),
        }
    };
    // Said as it is seen, though the panel may lie turned over.
    let is_mirrored = turned_back(derived, laid.on, Vector { x: Length::INCH, y: Length::ZERO })?.x < Length::ZERO;
    let sides =
        if is_mirrored { ["right border", "middle", "left border"] } else { ["left border", "middle", "right border"] };
    let (x, to_x) = snap(low.x, high.x, by.x, [host_low.x, host_high.x], sides);
    let (y, to_y) = snap(low.y, high.y, by.y, [host_low.y, host_high.y], ["upper border", "middle", "lower border"]);
    let edit = change::shift(document, id, Vector { x, y });
    Some(Dragged { edit, to: format!("across: {to_x}; down: {to_y}") })
}

/// The upright rectangle round a part's main panel, on the sheet that it lies on.
#[must_use]
pub fn on_host(laid: &Laid, main: &Panel) -> (Point, Point) {
    let corners: Vec<Point> = main.outline.iter().map(|&point| laid.on_host(point)).collect();
    bounds(&corners)
}

/// The outline of a part's main panel on the flat sheet, also where the part can't be put together with the rest. `None`
/// for a part without a place, and for one on a part that is left out itself.
#[must_use]
pub fn outline(derived: &Derived, id: PartId) -> Option<Vec<Point>> {
    let part = derived.layout.part(id)?;
    let laid = part.laid?;
    let main = part.panels.iter().find(|panel| panel.id == part.main)?;
    let on_panel = main.outline.iter().map(|&point| laid.on_host(point));
    if derived.layout.part_of(laid.on).is_none() {
        return Some(on_panel.collect());
    }
    let (assembly, _) = derived.folded.as_ref()?;
    let frame = assembly.lying(assembly.place(laid.on)?)?;
    let on_sheet = |point: Point| {
        let (x, y) = point.mm();
        let at = frame.transform_point3(DVec3::new(x, -y, 0.0));
        Some(Point::new(Length::from_mm_rounded(at.x)?, Length::from_mm_rounded(-at.y)?))
    };
    on_panel.map(on_sheet).collect()
}

/// A way on the flat sheet as a way on the own sheet of a panel that lies there.
fn turned_back(derived: &Derived, panel: PanelId, by: Vector) -> Option<Vector> {
    if derived.layout.part_of(panel).is_none() {
        return Some(by);
    }
    let (assembly, _) = derived.folded.as_ref()?;
    let frame = assembly.lying(assembly.place(panel)?)?;
    let way = DVec2::new(by.x.mm(), -by.y.mm());
    let own = frame.matrix3.transpose() * way.extend(0.0);
    Some(Vector { x: Length::from_mm_rounded(own.x)?, y: Length::from_mm_rounded(-own.y)? })
}

#[cfg(test)]
mod tests {
    use super::*;
    use model::change::add_line;
    use model::change::measured_score;
    use model::part::{Hinge, Mat, Part, Placement, Source};
    use model::{Face, LineId, PanelRef, PartKind, Size, Turn, Unit};

    fn inch(count: i64) -> Length {
        Length::INCH * count
    }

    fn at(x: i64, y: i64) -> Point {
        Point::new(inch(x), inch(y))
    }

    fn part(id: u32, kind: PartKind, on: PanelRef) -> Part {
        let place = Placement::centred(on);
        Part { id: PartId(id), name: String::new(), kind, source: Source::FolioStock, place, also: Vec::new() }
    }

    /// A base 8 in wide at the left, with a mat of 2 by 2 in its middle, and a hinge with a mat on its free leaf.
    fn document() -> Document {
        let mut document = Document::new(Size::parse("12x12in").unwrap(), Unit::Inch);
        document.apply(add_line(&document, measured_score(LineId(1), Turn::None, inch(8)))).unwrap();
        document.base = Some(at(4, 6));
        let mat = PartKind::Mat(Mat { width: inch(2), height: inch(2) });
        let hinge = PartKind::Hinge(Hinge { length: inch(4), leaf: inch(1), free_leaf: inch(1) });
        let mut carried = part(3, mat.clone(), PanelRef::Part(PartId(2), 1));
        carried.place.face = Face::Back;
        document.parts =
            vec![part(1, mat, PanelRef::Sheet(at(4, 6))), part(2, hinge, PanelRef::Sheet(at(4, 6))), carried];
        document
    }

    #[track_caller]
    fn check(id: u32, by: (i64, i64), expected: (&str, (Length, Length))) {
        let document = document();
        let derived = Derived::of(&document);
        let by = Vector { x: Length::from_sixty_fourths(by.0), y: Length::from_sixty_fourths(by.1) };
        let reach = Length::from_sixty_fourths(4);
        let dragged = drag(&document, &derived, PartId(id), by, Fineness::Grooves, reach).unwrap();
        let mut moved = document.clone();
        moved.apply(dragged.edit.unwrap()).unwrap();
        let place = moved.part(PartId(id)).unwrap().place;
        assert_eq!((dragged.to.as_str(), (place.across.distance, place.down.distance)), expected);
    }

    #[test]
    fn a_part_comes_to_rest_on_borders_the_middle_and_the_grid() {
        let eighth = Length::EIGHTH;
        check(1, (10, 0), ("across: 1/8 in groove; down: middle", (eighth, Length::ZERO)));
        check(1, (-190, 2), ("across: left border; down: middle", (inch(-3), Length::ZERO)));
        check(1, (0, 317), ("across: middle; down: lower border", (Length::ZERO, inch(5))));
    }

    #[test]
    fn what_lies_on_a_folded_leaf_follows_the_pointer() {
        // The free leaf lies face down: what goes right on the table goes left on its own sheet.
        check(3, (24, 0), ("across: 1/8 in groove; down: middle", (-Length::EIGHTH * 3, Length::ZERO)));
        // Wider than the leaf, so going left it is its right border that meets the leaf's.
        check(3, (-30, 0), ("across: right border; down: middle", (inch(1).half(), Length::ZERO)));
    }

    #[test]
    fn a_part_has_an_outline_where_it_is_seen() {
        let derived = Derived::of(&document());
        assert_eq!(bounds(&outline(&derived, PartId(1)).unwrap()), (at(3, 5), at(5, 7)));
        // In the middle of the hinge's free leaf, which lies on the glued one over the middle of the base.
        let (low, high) = bounds(&outline(&derived, PartId(3)).unwrap());
        assert_eq!((high.x - low.x, high.y - low.y, (low.y + high.y).half()), (inch(2), inch(2), inch(6)));
        assert_eq!(parts_at(&derived, Point::new((low.x + high.x).half(), inch(6)))[0], PartId(3));
        assert_eq!(outline(&derived, PartId(9)), None);
    }

    #[test]
    fn a_push_goes_the_way_it_is_seen() {
        let document = document();
        let derived = Derived::of(&document);
        let by = Vector { x: inch(1), y: Length::ZERO };
        for (id, expected) in [(1, inch(1)), (3, -inch(1))] {
            let mut moved = document.clone();
            moved.apply(push(&document, &derived, PartId(id), by).unwrap()).unwrap();
            let place = moved.part(PartId(id)).unwrap().place;
            assert_eq!((place.across.distance, place.down.distance), (expected, Length::ZERO), "part {id}");
        }
    }

    #[test]
    fn the_uppermost_part_is_found() {
        let derived = Derived::of(&document());
        assert_eq!(part_at(&derived, at(1, 1)), None);
        // The hinge's leaves lie from 3 1/2 to 4 1/2 in across on one another, with the carried mat on them.
        assert_eq!(part_at(&derived, at(4, 6)), Some(PartId(3)));
        assert_eq!(part_at(&derived, Point::new(inch(4), inch(4) + inch(1).half())), Some(PartId(2)));
    }
}
