//! Something carried over panels: which panel lies under the pointer, what an offcut would do for there, and where a part
//! comes to lie that is let go.

use crate::derived::Derived;
use crate::part::{Rest, on_host, on_own_sheet};
use crate::snap::{Fineness, step};
use allot::{Settings, Suggestion, allot, fitting};
use model::part::change::{add, change, with_carried};
use model::polygon::{Inside, locate};
use model::{Document, Edit, Face, Layout, Length, PanelId, Part, PartId, PieceId, Point, Turn};
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
    /// Where on the flat sheet the middle of what is carried would lie.
    pub middle: Point,
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
    let found = panels.filter(|&panel| height(panel) > sheet && is_over(derived, panel, at)).max_by_key(|&id| height(id))?;
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
    let to = match derived.layout.part_of(ground.panel) {
        None => pull.middle,
        Some(_) => on_own_sheet(&derived.folded.as_ref()?.0, ground.panel, pull.middle)?,
    };
    let by = to - Point::new((low.x + high.x).half(), (low.y + high.y).half());
    let grid = step(document, pull.fineness);
    let rest = Rest { derived, host: ground.panel, grid, reach: pull.reach, turn: pull.turn };
    let (by, to) = rest.of((low, high), by)?;
    let shift = model::part::change::shift(&next, id, by);
    Some(Landing { edit: Edit::All(std::iter::once(put).chain(shift).collect()), to })
}
