//! Where a part lies in version 2: on which face of which panel, how far across and down, and how it is turned.

use super::word::{Across, Down, PartPanel};
use crate::quoted::{Quoted, WordsOr};
use crate::v2::named::Reckons;
use crate::v2::{PointKeys, point_keys};
use model::part::{Anchor, AnchorFrom, Placement, Rotation};
use model::{Face, Length, PanelRef, PartSlot, Unit};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A panel: a point inside it for one of the sheet, `part 2 panel 1` for one of a part.
pub(in crate::v2) type PanelKeys = WordsOr<PartPanel, PointKeys>;

/// Where a part lies. Left, right, top and bottom are those of the sheet that its panel is of, as it is drawn, whichever
/// face the part lies on.
#[derive(Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, expecting = "a place in { }")]
#[schemars(rename = "PartPlace")]
pub(super) struct PartPlaceKeys {
    /// The panel it is put on.
    on: PanelKeys,
    /// The face of that panel; the front when left out.
    face: Option<Quoted<Face>>,
    /// How far across its main panel lies; in the middle when left out.
    #[serde(skip_serializing_if = "is_middle_across")]
    across: Option<Quoted<Across>>,
    /// How far down its main panel lies; in the middle when left out.
    #[serde(skip_serializing_if = "is_middle_down")]
    down: Option<Quoted<Down>>,
    /// By how much it is turned; upright when left out.
    rotation: Option<Quoted<Rotation>>,
    /// The face of it that is seen; the front when left out.
    showing: Option<Quoted<Face>>,
}

const MIDDLE: Anchor = Anchor { from: AnchorFrom::Middle, distance: Length::ZERO };

/// Whether it is left out: in the middle, and by no formula.
fn is_middle_across(key: &Option<Quoted<Across>>) -> bool {
    key.as_ref().is_none_or(|key| key.0.anchor == MIDDLE && key.0.formula.is_none())
}

fn is_middle_down(key: &Option<Quoted<Down>>) -> bool {
    key.as_ref().is_none_or(|key| key.0.anchor == MIDDLE && key.0.formula.is_none())
}

impl PartPlaceKeys {
    /// The keys that may be formulas, with where they are from here and the slots of their lengths.
    pub(super) fn reckoned(&mut self) -> impl Iterator<Item = (&'static str, PartSlot, &mut dyn Reckons)> {
        let across =
            self.across.iter_mut().map(|key| ("place.across", PartSlot::Across, &mut key.0 as &mut dyn Reckons));
        across.chain(self.down.iter_mut().map(|key| ("place.down", PartSlot::Down, &mut key.0 as &mut dyn Reckons)))
    }
}

/// A part's place.
pub(super) fn read(keys: PartPlaceKeys) -> Placement {
    let face = |face: Option<Quoted<Face>>| face.map_or(Face::Front, |face| face.0);
    Placement {
        on: panel(keys.on),
        face: face(keys.face),
        across: keys.across.map_or(MIDDLE, |across| across.0.anchor),
        down: keys.down.map_or(MIDDLE, |down| down.0.anchor),
        rotation: keys.rotation.map_or(Rotation::NONE, |rotation| rotation.0),
        showing: face(keys.showing),
    }
}

/// The panel that is meant.
pub(in crate::v2) fn panel(keys: PanelKeys) -> PanelRef {
    match keys {
        WordsOr::Words(PartPanel(part, panel)) => PanelRef::Part(part, panel),
        WordsOr::Keys(point) => PanelRef::Sheet(point.point()),
    }
}

/// A part's place as it is written.
pub(super) fn keys(place: Placement, unit: Unit) -> PartPlaceKeys {
    let face = |face| (face != Face::Front).then_some(Quoted(face));
    PartPlaceKeys {
        on: panel_keys(place.on, unit),
        face: face(place.face),
        across: Some(Quoted(Across { anchor: place.across, unit, formula: None })),
        down: Some(Quoted(Down { anchor: place.down, unit, formula: None })),
        rotation: (place.rotation != Rotation::NONE).then_some(Quoted(place.rotation)),
        showing: face(place.showing),
    }
}

/// A panel as it is written.
pub(in crate::v2) fn panel_keys(panel: PanelRef, unit: Unit) -> PanelKeys {
    match panel {
        PanelRef::Sheet(mark) => WordsOr::Keys(point_keys(mark, unit)),
        PanelRef::Part(part, panel) => WordsOr::Words(PartPanel(part, panel)),
    }
}
