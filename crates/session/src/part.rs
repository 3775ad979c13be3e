//! Parts under the pointer: which one lies there, and where a dragged one comes to rest.

use crate::derived::Derived;
use crate::snap::{Fineness, step};
use fold::Assembly;
use glam::{DVec2, DVec3};
use model::part::{Laid, change};
use model::polygon::{Inside, bounds, locate};
use model::{BoardPoint, Document, Edit, Length, Panel, PanelId, PartId, Point, Turn, Vector};

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
/// of its panel where that is nearer than `reach`, and else on the grid. Sides are named as they are seen on a turn.
#[must_use]
pub fn drag(
    document: &Document,
    derived: &Derived,
    id: PartId,
    by: Vector,
    fineness: Fineness,
    (reach, turn): (Length, Turn),
) -> Option<Dragged> {
    let part = derived.layout.part(id)?;
    let laid = part.laid?;
    let by = turned_back(derived, laid.on, by)?;
    let main = part.panels.iter().find(|panel| panel.id == part.main)?;
    let rest = Rest { derived, host: laid.on, grid: step(document, fineness), reach, turn };
    let (by, to) = rest.of(on_host(&laid, main), by)?;
    Some(Dragged { edit: change::shift(document, id, by), to })
}

/// Where something that is pulled over a panel comes to rest.
pub(crate) struct Rest<'a> {
    pub(crate) derived: &'a Derived,
    /// The panel.
    pub(crate) host: PanelId,
    /// The spacing of places, and what they are called.
    pub(crate) grid: (Length, String),
    /// How far borders and the middle draw it.
    pub(crate) reach: Length,
    /// How the sheet lies, for the names of sides.
    pub(crate) turn: Turn,
}

impl Rest<'_> {
    /// How far a rectangle goes on the panel's own sheet that is pulled by so far, and what it comes to rest at: "across:
    /// left border; down: middle".
    pub(crate) fn of(&self, (low, high): (Point, Point), by: Vector) -> Option<(Vector, String)> {
        let (host_low, host_high) = self.derived.layout.panel(self.host).bounds();
        let (grid, name) = &self.grid;
        let snap = |low: Length, high: Length, by: Length, host: [Length; 2], words: [&'static str; 3]| {
            let own = high - low;
            let free = low + by;
            let places = [
                (host[0], words[0]),
                (host[0] + (host[1] - host[0] - own).half(), words[1]),
                (host[1] - own, words[2]),
            ];
            let nearest = places.into_iter().min_by_key(|(place, _)| (*place - free).abs());
            match nearest.filter(|(place, _)| (*place - free).abs() <= self.reach) {
                Some((place, word)) => (place - low, word.to_owned()),
                None => (host[0] + (free - host[0]).snapped(*grid) - low, name.clone()),
            }
        };
        let along = |x, y| Some(Side::of(self.seen(Vector { x, y })?));
        let across = along(Length::INCH, Length::ZERO)?;
        let down = along(Length::ZERO, Length::INCH)?;
        let (x, to_x) = snap(low.x, high.x, by.x, [host_low.x, host_high.x], across.borders());
        let (y, to_y) = snap(low.y, high.y, by.y, [host_low.y, host_high.y], down.borders());
        let (first, second) = if across.is_level() { (to_x, to_y) } else { (to_y, to_x) };
        Some((Vector { x, y }, format!("across: {first}; down: {second}")))
    }

    /// A way on the panel's own sheet as it is seen.
    fn seen(&self, way: Vector) -> Option<Vector> {
        let flat = laid_out(self.derived, self.host, way)?;
        let zero = Point::new(Length::ZERO, Length::ZERO);
        let [from, to] = [zero, zero + flat].map(|at| self.turn.to_board(at, self.derived.layout.size));
        Some(Vector { x: to.across - from.across, y: to.down - from.down })
    }
}

/// A side of a panel, as it is seen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// The left one.
    Left,
    /// The right one.
    Right,
    /// The upper one.
    Top,
    /// The lower one.
    Bottom,
}

impl Side {
    /// The side that a way leads to most nearly.
    fn of(way: Vector) -> Self {
        match way.x.abs() >= way.y.abs() {
            true if way.x < Length::ZERO => Self::Left,
            true => Self::Right,
            false if way.y < Length::ZERO => Self::Top,
            false => Self::Bottom,
        }
    }

    const fn is_level(self) -> bool {
        matches!(self, Self::Left | Self::Right)
    }

    /// What lies at the start, in the middle and at the end of a way to this side.
    const fn borders(self) -> [&'static str; 3] {
        match self {
            Self::Right => ["left border", "middle", "right border"],
            Self::Left => ["right border", "middle", "left border"],
            Self::Bottom => ["upper border", "middle", "lower border"],
            Self::Top => ["lower border", "middle", "upper border"],
        }
    }

    /// An inch towards it on the board.
    const fn way(self) -> Vector {
        let (none, inch) = (Length::ZERO, Length::INCH);
        match self {
            Self::Left => Vector { x: Length::from_nm(-inch.nm()), y: none },
            Self::Right => Vector { x: inch, y: none },
            Self::Top => Vector { x: none, y: Length::from_nm(-inch.nm()) },
            Self::Bottom => Vector { x: none, y: inch },
        }
    }
}

/// Puts a part against a side of its panel, as that is seen on a turn; or, when `centred`, into the middle on the way to
/// that side. `None` when it lies there already, or on no panel.
#[must_use]
pub fn align(
    document: &Document,
    derived: &Derived,
    id: PartId,
    (side, centred): (Side, bool),
    turn: Turn,
) -> Option<Edit> {
    let part = derived.layout.part(id)?;
    let laid = part.laid?;
    let main = part.panels.iter().find(|panel| panel.id == part.main)?;
    let (low, high) = on_host(&laid, main);
    let (host_low, host_high) = derived.layout.panel(laid.on).bounds();
    let Vector { x, y } = side.way();
    let from_board = |across, down| turn.from_board(BoardPoint { across, down }, derived.layout.size);
    let way = from_board(x, y) - from_board(Length::ZERO, Length::ZERO);
    let own = Side::of(turned_back(derived, laid.on, way)?);
    let middle = |low: Length, high: Length, host: (Length, Length)| (host.0 + host.1 - low - high).half();
    let (none, level) = (Length::ZERO, middle(low.x, high.x, (host_low.x, host_high.x)));
    let by = match (centred, own) {
        (true, Side::Left | Side::Right) => Vector { x: level, y: none },
        (true, Side::Top | Side::Bottom) => Vector { x: none, y: middle(low.y, high.y, (host_low.y, host_high.y)) },
        (false, Side::Left) => Vector { x: host_low.x - low.x, y: none },
        (false, Side::Right) => Vector { x: host_high.x - high.x, y: none },
        (false, Side::Top) => Vector { x: none, y: host_low.y - low.y },
        (false, Side::Bottom) => Vector { x: none, y: host_high.y - high.y },
    };
    change::shift(document, id, by)
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
    on_flat_sheet(derived, laid.on, main.outline.iter().map(|&point| laid.on_host(point)).collect())
}

/// The outline of a panel on the flat sheet, of the sheet itself or of a part; `None` for one that does not lie flat.
#[must_use]
pub fn panel_outline(derived: &Derived, id: PanelId) -> Option<Vec<Point>> {
    on_flat_sheet(derived, id, derived.layout.panel(id).outline.clone())
}

/// Places on a panel's own sheet on the flat sheet.
fn on_flat_sheet(derived: &Derived, panel: PanelId, points: Vec<Point>) -> Option<Vec<Point>> {
    if derived.layout.part_of(panel).is_none() {
        return Some(points);
    }
    let (assembly, _) = derived.folded.as_ref()?;
    let frame = assembly.lying(assembly.place(panel)?)?;
    let on_sheet = |point: Point| {
        let (x, y) = point.mm();
        let at = frame.transform_point3(DVec3::new(x, -y, 0.0));
        Some(Point::new(Length::from_mm_rounded(at.x)?, Length::from_mm_rounded(-at.y)?))
    };
    points.into_iter().map(on_sheet).collect()
}

/// A way on the own sheet of a panel as a way on the flat sheet.
fn laid_out(derived: &Derived, panel: PanelId, way: Vector) -> Option<Vector> {
    if derived.layout.part_of(panel).is_none() {
        return Some(way);
    }
    let (assembly, _) = derived.folded.as_ref()?;
    let frame = assembly.lying(assembly.place(panel)?)?;
    let flat = frame.matrix3 * DVec3::new(way.x.mm(), -way.y.mm(), 0.0);
    Some(Vector { x: Length::from_mm_rounded(flat.x)?, y: Length::from_mm_rounded(-flat.y)? })
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
        let dragged = drag(&document, &derived, PartId(id), by, Fineness::Grooves, (reach, Turn::None)).unwrap();
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

    /// How far a part lies across and down once it is put against a side, in inches from the middle.
    #[track_caller]
    fn aligned(id: u32, to: (Side, bool), turn: Turn, expected: Option<(i64, i64)>) {
        let document = document();
        let derived = Derived::of(&document);
        let place = align(&document, &derived, PartId(id), to, turn).map(|edit| {
            let mut moved = document.clone();
            moved.apply(edit).unwrap();
            let place = moved.part(PartId(id)).unwrap().place;
            (place.across.distance.nm() / Length::INCH.nm(), place.down.distance.nm() / Length::INCH.nm())
        });
        assert_eq!(place, expected);
    }

    #[test]
    fn a_part_is_put_against_sides_as_they_are_seen() {
        // The base is 8 by 12 in, the mat 2 by 2.
        aligned(1, (Side::Left, false), Turn::None, Some((-3, 0)));
        aligned(1, (Side::Right, false), Turn::None, Some((3, 0)));
        aligned(1, (Side::Top, false), Turn::None, Some((0, -5)));
        aligned(1, (Side::Bottom, false), Turn::None, Some((0, 5)));
        // Turned once to the left, the top edge lies at the left.
        aligned(1, (Side::Left, false), Turn::Once, Some((0, -5)));
        aligned(1, (Side::Left, true), Turn::None, None);
        aligned(9, (Side::Left, false), Turn::None, None);
        // The free leaf of the hinge lies face down, 1 in wide: with the mat of 2 in, 1/2 in beyond it.
        aligned(3, (Side::Top, false), Turn::None, Some((0, -1)));
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
