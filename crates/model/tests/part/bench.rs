//! Putting parts on a plain sheet, and folding them flat by hand: each panel is reflected in the fold that it hangs by.

use foliowright_model::part::laid::LaidGlue;
use foliowright_model::part::{Placement, Source};
use foliowright_model::polygon::bounds;
use foliowright_model::{
    Area, Direction, Document, Face, Fold, Layout, Length, PanelId, PanelRef, Part, PartId, PartKind, PartLayout,
    Point, Size, Unit,
};
use std::collections::BTreeMap;

pub(crate) const ID: PartId = PartId(1);

/// A sheet of one panel, 40 by 40 in.
pub(crate) fn sheet() -> Document {
    let side = Length::INCH * 40;
    Document::new(Size::new(side, side).unwrap(), Unit::Inch)
}

/// A part in the middle of that panel.
pub(crate) fn part(kind: PartKind, showing: Face) -> Part {
    let mark = Point::new(Length::INCH * 20, Length::INCH * 20);
    let place = Placement { showing, ..Placement::centred(PanelRef::Sheet(mark)) };
    Part { id: ID, name: String::new(), kind, source: Source::FolioStock, place, also: Vec::new() }
}

/// The layout of that sheet with one part.
pub(crate) fn with(part: Part) -> Layout {
    let mut document = sheet();
    document.parts.push(part);
    Layout::of(&document)
}

#[track_caller]
pub(crate) fn laid(kind: PartKind, showing: Face) -> PartLayout {
    let layout = with(part(kind, showing));
    assert_eq!(layout.part_faults, BTreeMap::new());
    layout.parts[0].clone()
}

/// A panel folded flat.
#[derive(Debug, Clone)]
pub(crate) struct Folded {
    /// The folds by which it hangs on the main panel, the nearest to that first: all level or upright.
    chain: Vec<Fold>,
    /// Whether it lies below the panel that it hangs on, as the main panel's seen face looks up; `None` for the main one.
    pub(crate) is_below: Option<bool>,
}

impl Folded {
    /// Whether it lies with the other face up than the main panel does.
    pub(crate) fn is_turned(&self) -> bool {
        self.chain.len() % 2 == 1
    }

    /// Where a point of the little sheet comes to lie.
    pub(crate) fn point(&self, point: Point) -> Point {
        self.chain.iter().rev().fold(point, |at, fold| {
            let axis = fold.stretches[0];
            if axis.a.x == axis.b.x {
                Point::new(axis.a.x * 2 - at.x, at.y)
            } else {
                assert_eq!(axis.a.y, axis.b.y, "a fold that is neither level nor upright");
                Point::new(at.x, axis.a.y * 2 - at.y)
            }
        })
    }
}

/// Each panel of a part with all its folds folded.
pub(crate) fn folded(part: &PartLayout, showing: Face) -> BTreeMap<PanelId, Folded> {
    let mut found = BTreeMap::from([(part.main, Folded { chain: Vec::new(), is_below: None })]);
    while found.len() < part.panels.len() {
        let before = found.len();
        for fold in &part.folds {
            for (from, to) in [(0, 1), (1, 0)].map(|(a, b)| (fold.panels[a], fold.panels[b])) {
                if let (Some(parent), false) = (found.get(&from), found.contains_key(&to)) {
                    let front_is_up = (showing == Face::Front) != parent.is_turned();
                    // A valley brings fronts together.
                    let is_below = front_is_up != (fold.crease.direction == Direction::Valley);
                    let chain = parent.chain.iter().chain([fold]).cloned().collect();
                    found.insert(to, Folded { chain, is_below: Some(is_below) });
                }
            }
        }
        assert!(found.len() > before, "{} has panels that hang on nothing", part.name);
    }
    found
}

/// The rectangle around the folded part.
pub(crate) fn extent(part: &PartLayout, showing: Face) -> (Point, Point) {
    let folded = folded(part, showing);
    let points = part.panels.iter().flat_map(|panel| panel.outline.iter().map(|&at| folded[&panel.id].point(at)));
    bounds(&points.collect::<Vec<_>>())
}

pub(crate) fn glue_area(glue: &LaidGlue) -> Area {
    glue.area.iter().map(|polygon| foliowright_model::polygon::signed_area(polygon)).sum()
}

/// A length as so many steps of a grid, with halves.
#[track_caller]
pub(crate) fn steps(length: Length, grid: Length) -> String {
    assert!(length.is_multiple_of(grid.half()), "{length:?} is not on the grid");
    halves(i128::from(length.nm() / grid.half().nm()))
}

/// An area as so many squares of a grid, with halves.
#[track_caller]
pub(crate) fn squares(area: Area, grid: Length) -> String {
    let square = i128::from(grid.nm()).pow(2);
    assert_eq!(area.half_nm2() % square, 0, "{area:?} is not in half squares of the grid");
    halves(area.half_nm2() / square)
}

fn halves(count: i128) -> String {
    if count % 2 == 0 { (count / 2).to_string() } else { format!("{}.5", count / 2) }
}
