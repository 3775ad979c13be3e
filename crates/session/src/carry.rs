//! Something carried over panels: which panel lies under the pointer, what an offcut would do for there, and where a part
//! comes to lie that is let go.

use crate::derived::Derived;
use crate::part::{Rest, on_host, on_own_sheet};
use crate::snap::{Fineness, step};
use allot::{Origin, Settings, Suggestion, allot, fitting};
use model::part::Source;
use model::part::change::{add, change, with_carried};
use model::part::pattern::PartPattern;
use model::part::usual::{Fit, Host, Sort};
use model::polygon::{Inside, locate};
use model::{Document, Edit, Face, Layout, Length, PanelId, Part, PartId, PieceId, Point, Turn, Vector};
use std::collections::BTreeSet;

/// A face of a panel that something is let go on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Ground {
    /// The panel.
    pub panel: PanelId,
    /// The face that is seen of it.
    pub face: Face,
}

/// Where something comes to lie that is let go.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Landing {
    /// The edit that puts it there.
    pub edit: Edit,
    /// What it came to rest at across and down, in a few words.
    pub to: String,
}

/// How a pointer that carries something is read.
#[derive(Debug, Clone, Copy)]
pub struct Pull {
    /// Where on the flat sheet the pointer is.
    pub at: Point,
    /// From there to the middle of what is carried; the pointer stays within a part that is smaller.
    pub grip: Vector,
    /// How fine the places are that it comes to rest at.
    pub fineness: Fineness,
    /// How far borders and the middle draw it.
    pub reach: Length,
    /// How the sheet lies, for the names of sides.
    pub turn: Turn,
}

/// What an offcut would do for on a panel: see [`fitting`].
#[must_use]
pub fn uses(document: &Document, derived: &Derived, piece: PieceId, on: PanelId) -> Vec<Suggestion> {
    let layout = &derived.layout;
    let Some(on) = layout.panel_ref(on) else { return Vec::new() };
    match &derived.supply {
        Some(supply) => fitting(document, layout, supply, piece, on),
        // Without parts there is no plan yet.
        None => fitting(document, layout, &allot(document, layout, &Settings::of(document)), piece, on),
    }
}

/// The same for an offcut that is carried over a panel: what is too narrow to be of use is left out, and where nothing is
/// left, parts that fit the panel are cut from it.
#[must_use]
pub fn uses_over(document: &Document, derived: &Derived, piece: PieceId, ground: Ground) -> Vec<Suggestion> {
    let is_of_use = |use_of: &Suggestion| {
        let pattern = PartPattern::of(&use_of.part, document);
        pattern.is_ok_and(|pattern| pattern.size().width().min(pattern.size().height()) >= LEAST)
    };
    let mut found = uses(document, derived, piece, ground.panel);
    found.retain(is_of_use);
    if found.is_empty() { cut_to_fit(document, derived, piece, ground) } else { found }
}

/// Parts that fit a panel and can be cut from an offcut which is too large for it, or whose measures suggest nothing there.
fn cut_to_fit(document: &Document, derived: &Derived, piece: PieceId, on: Ground) -> Vec<Suggestion> {
    let layout = &derived.layout;
    let of = layout.pieces.get(piece.0).and_then(|piece| piece.panels.iter().find_map(|&id| layout.panel(id).inside));
    let (Some(mark), Some(panel)) = (of, layout.panel_ref(on.panel)) else { return Vec::new() };
    let host = Host::of(layout, on.panel);
    let fit = Fit::usual(document.units);
    let made = |sort: Sort| {
        let part = sort.fitted(&host, &fit).part(document.next_part(), panel, on.face);
        let part = Part { source: Source::Offcut(mark), ..part };
        let mut next = document.clone();
        next.apply(add(document, part.clone())).ok()?;
        let after = Layout::of(&next);
        let laid = after.part(part.id)?;
        let (width, height) = laid.panels.iter().find(|panel| panel.id == laid.main)?.extent();
        let found = allot(&next, &after, &Settings::of(&next));
        let is_cut = matches!(found.supply(part.id)?.from, Origin::Offcut { .. });
        let label = format!("{}, {}", part.kind.word(), laid.size_text(document.units));
        let waste = found.offcut(piece)?.remainders.iter().map(|rect| rect.area()).sum();
        (is_cut && width.min(height) >= LEAST).then_some(Suggestion { label, part, waste })
    };
    CUT_TO_FIT.into_iter().filter_map(made).collect()
}

/// What is cut to fit a panel, likeliest first.
const CUT_TO_FIT: [Sort; 4] = [Sort::FlatPocket, Sort::Mat, Sort::Page, Sort::Hinge];

/// What is narrower is of no use, 1/2 in (common practice, no source): as wide as the usual leaf of a hinge.
const LEAST: Length = Length::from_sixty_fourths(32);

/// What is seen from the front at a place of the flat sheet that something can be put on: the uppermost part there, but
/// for those `without`, else a panel of the folio.
#[must_use]
pub fn ground_at(derived: &Derived, at: Point, without: &BTreeSet<PartId>) -> Option<Ground> {
    on_part(derived, at, without).or_else(|| on_folio(&derived.layout, at, Face::Front))
}

/// The other panel that a part is dragged to; `None` while it is over its own, or over none that it can be put on.
#[must_use]
pub fn other_ground(document: &Document, derived: &Derived, id: PartId, at: Point) -> Option<Ground> {
    let laid = derived.layout.part(id)?.laid?;
    if is_over(derived, laid.on, at) {
        return None;
    }
    let is_behind = derived.layout.part_of(laid.on).is_none() && laid.face == Face::Back;
    let found = if is_behind {
        // What lies behind the sheet stays there.
        on_folio(&derived.layout, at, Face::Back)
    } else {
        ground_at(derived, at, &with_carried(document, &[id]))
    };
    found.filter(|ground| ground.panel != laid.on)
}

/// Whether a place of the flat sheet lies on a panel, of the sheet or of a part as it lies there.
fn is_over(derived: &Derived, panel: PanelId, at: Point) -> bool {
    let of = derived.layout.panel(panel);
    let own = match derived.layout.part_of(panel) {
        None => Some(at),
        Some(_) => derived.folded.as_ref().and_then(|(assembly, _)| on_own_sheet(assembly, panel, at)),
    };
    own.is_some_and(|own| locate(own, &of.outline, &of.holes) == Inside::Yes)
}

fn on_folio(layout: &Layout, at: Point, face: Face) -> Option<Ground> {
    let folio = layout.folio()?.id;
    let panel = layout.panel_at(at).filter(|&panel| layout.panel(panel).piece == folio)?;
    Some(Ground { panel, face })
}

fn on_part(derived: &Derived, at: Point, without: &BTreeSet<PartId>) -> Option<Ground> {
    let (assembly, folding) = derived.folded.as_ref()?;
    let layers = folding.layers_before();
    let height = |id: PanelId| assembly.place(id).and_then(|place| layers.get(place)).copied().unwrap_or_default();
    // The sheet lies in between those before it and those behind it.
    let sheet = derived.layout.panel_at(at).map_or(i32::MIN, height);
    let parts = derived.layout.parts.iter().filter(|part| !without.contains(&part.id));
    let panels = parts.flat_map(|part| &part.panels).map(|panel| panel.id);
    let found =
        panels.filter(|&panel| height(panel) > sheet && is_over(derived, panel, at)).max_by_key(|&id| height(id))?;
    let frame = assembly.lying(assembly.place(found)?)?;
    let face = if frame.matrix3.z_axis.z > 0.0 { Face::Front } else { Face::Back };
    Some(Ground { panel: found, face })
}

/// A part of the design put on another panel, or a new part put on one.
#[must_use]
pub fn landing(document: &Document, derived: &Derived, part: &Part, ground: Ground, pull: Pull) -> Option<Landing> {
    let mut part = part.clone();
    part.place.on = derived.layout.panel_ref(ground.panel)?;
    part.place.face = ground.face;
    part.place.across.distance = Length::ZERO;
    part.place.down.distance = Length::ZERO;
    let id = part.id;
    let put = match document.part(id) {
        Some(_) => change(document, id, |now| *now = part)?,
        None => add(document, part),
    };
    let mut next = document.clone();
    next.apply(put.clone()).ok()?;
    let layout = Layout::of(&next);
    let of = layout.part(id)?;
    let main = of.panels.iter().find(|panel| panel.id == of.main)?;
    let (low, high) = on_host(&of.laid?, main);
    let own = |at: Point| match derived.layout.part_of(ground.panel) {
        None => Some(at),
        Some(_) => on_own_sheet(&derived.folded.as_ref()?.0, ground.panel, at),
    };
    let at = own(pull.at)?;
    let Vector { x, y } = own(pull.at + pull.grip)? - at;
    let within = |grip: Length, size: Length| grip.clamp(-size.half(), size.half());
    let to = at + Vector { x: within(x, high.x - low.x), y: within(y, high.y - low.y) };
    let by = to - Point::new((low.x + high.x).half(), (low.y + high.y).half());
    let grid = step(document, pull.fineness);
    let rest = Rest { derived, host: ground.panel, grid, reach: pull.reach, turn: pull.turn };
    let (by, to) = rest.of((low, high), by)?;
    let shift = model::part::change::shift(&next, id, by);
    Some(Landing { edit: Edit::All(std::iter::once(put).chain(shift).collect()), to })
}

#[cfg(test)]
mod tests {
    use super::*;
    use model::change::{add_line, measured_score, perform};
    use model::{LineId, Size, Unit};

    /// A 12 in sheet with scores 4 in and 11 in from the left: the base in the middle, the left panel cut away, and a
    /// strip of 1 in at the right.
    fn derived() -> (Document, Derived) {
        let mut document = Document::new(Size::parse("12x12in").unwrap(), Unit::Inch);
        for (id, inches) in [(1, 4), (2, 11)] {
            document.apply(add_line(&document, measured_score(LineId(id), Turn::None, Length::INCH * inches))).unwrap();
        }
        let at = |x| Point::new(Length::INCH * x, Length::INCH * 6);
        document.base = Some(at(6));
        let layout = Layout::of(&document);
        let cut = model::offcut::cut_away(&document, &layout, layout.panel_at(at(1)).unwrap()).unwrap();
        let document = perform(&document, &layout, cut).unwrap().document;
        let derived = Derived::of(&document);
        (document, derived)
    }

    #[track_caller]
    fn check(x: i64, expected: &[&str]) {
        let (document, derived) = derived();
        let at = Point::new(Length::EIGHTH * x, Length::INCH * 6);
        let offcut = derived.layout.offcuts().next().unwrap().id;
        let ground = ground_at(&derived, at, &BTreeSet::new()).unwrap();
        let found = cut_to_fit(&document, &derived, offcut, ground);
        let words: Vec<&str> = found.iter().map(|use_of| use_of.part.kind.word()).collect();
        assert_eq!(words, expected);
        for use_of in found {
            let grip = Vector { x: Length::ZERO, y: Length::ZERO };
            let pull = Pull { at, grip, fineness: Fineness::Grooves, reach: Length::ZERO, turn: Turn::None };
            let landed = landing(&document, &derived, &use_of.part, ground, pull).unwrap();
            let after = perform(&document, &derived.layout, landed.edit).unwrap();
            let of = after.layout.part(use_of.part.id).unwrap();
            assert_eq!(of.laid.unwrap().on, ground.panel, "{}", use_of.label);
        }
    }

    #[test]
    fn a_part_that_fits_the_panel_is_cut_from_a_larger_offcut() {
        // On the strip of 1 in at the right. No hinge: its leaf is at most a third of the panel's depth, so less than 1/3 in
        // here, and what is narrower than 1/2 in is of no use.
        check(8 * 11 + 4, &["Pocket", "Mat", "Page"]);
        // The base is 7 by 12 in. The offcut of 4 by 12 in holds a hinge for it, with two leaves of 1/2 in, the usual ones;
        // all others that fit it are more than 6 in wide and more than 7 in high.
        check(8 * 6, &["Hinge"]);
    }

    #[test]
    fn off_the_folio_there_is_no_ground() {
        let (_, derived) = derived();
        let ground = |x, y| ground_at(&derived, Point::new(Length::INCH * x, Length::INCH * y), &BTreeSet::new());
        assert_eq!((ground(1, 6), ground(-1, 6), ground(4, 6)), (None, None, None), "offcut, table, line");
        assert_eq!(ground(6, 6).map(|ground| ground.face), Some(Face::Front));
    }
}
