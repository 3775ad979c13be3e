//! Brads: where their legs come out.

use crate::lying::{Lain, Lying, Spot};
use crate::plane::{Polygon, in_mm, overlap};
use model::part::{ClosureKind, PartKind};
use model::{Face, PanelId, PartId};

/// The legs of a brad, as wide as the brad is.
#[derive(Debug)]
pub(crate) struct Legs {
    pub(crate) brad: PartId,
    /// The panel that they come out of, on which face.
    pub(crate) on: Spot,
    /// Where, on the sheet of that panel.
    pub(crate) area: Vec<Polygon>,
}

/// The legs of every brad.
pub(crate) fn legs(lain: &Lain<'_>) -> Vec<Legs> {
    let is_brad = |kind: &PartKind| matches!(kind, PartKind::Closure(closure) if closure.kind == ClosureKind::Brad);
    lain.all.iter().filter(|lying| is_brad(&lying.part.kind)).map(|brad| legs_of(lain, brad)).collect()
}

/// A brad goes through its panel, and on through what that is glued to where it goes through the glue.
fn legs_of(lain: &Lain<'_>, brad: &Lying<'_>) -> Legs {
    let (mut on, mut area) = ((brad.on.0, brad.on.1.other()), brad.on_host(&brad.whole));
    // Each part lies on one before it, so this ends.
    while let Some(host) = lain.of_panel(on.0)
        && let Some(pose) = host.poses.get(&on.0)
        && glue_on(host, on.0, on.1, &area)
    {
        area = pose.then(&host.motion).all(&area);
        on = (host.on.0, host.on.1.other());
    }
    Legs { brad: brad.part.id, on, area }
}

/// Whether a part is glued to what it lies on within `area` of this face.
fn glue_on(part: &Lying<'_>, panel: PanelId, face: Face, area: &[Polygon]) -> bool {
    let mut here = part.laid.glue.iter().filter(|glue| glue.panels == [panel, part.on.0] && glue.face == face);
    here.any(|glue| overlap(&in_mm(&glue.area), area))
}
