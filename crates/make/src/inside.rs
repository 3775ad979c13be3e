//! What lies on the inside of a part, between it and what it is put on, or on a band.

use crate::legs::Legs;
use crate::lying::{Lain, Lying, Spot};
use crate::plane::{Polygon, in_mm, overlap};
use model::part::PartKind;
use model::{Document, Layout, PanelRef, PartId};
use std::collections::{BTreeMap, BTreeSet};

/// For each part, the parts that it must be put on before they are put in place themselves.
pub(crate) fn inside(
    document: &Document,
    layout: &Layout,
    lain: &Lain<'_>,
    legs: &[Legs],
) -> BTreeMap<PartId, BTreeSet<PartId>> {
    let is_band = |id: PartId| document.part(id).is_some_and(|part| !part.kind.is_on_a_panel());
    let mut inside: BTreeMap<PartId, BTreeSet<PartId>> = BTreeMap::new();
    for laid in &layout.parts {
        let Some(part) = document.part(laid.id) else { continue };
        let PanelRef::Part(host, _) = part.place.on else { continue };
        let mut own = BTreeSet::new();
        if is_band(host) {
            own.insert(host);
        } else if let (Some(lying), Some(host)) = (lain.part(laid.id), lain.part(host))
            && is_closed_in(host, lying.on, &lying.on_host(&lying.whole))
            && !(lying.is_loose() && host.has_mouth())
        {
            own.insert(host.part.id);
        }
        // What lies on something that is put inside is put inside with it; a card may still be slid in later.
        if !matches!(part.kind, PartKind::Insert(_)) {
            own.extend(inside.get(&host).into_iter().flatten());
        }
        inside.insert(laid.id, own);
    }
    for legs in legs {
        if let Some(host) = lain.of_panel(legs.on.0).filter(|host| is_closed_in(host, legs.on, &legs.area)) {
            inside.entry(legs.brad).or_default().insert(host.part.id);
        }
    }
    inside
}

/// Whether a place on a part lies between it and what it is glued to, so that it can't be reached later.
pub(crate) fn is_closed_in(host: &Lying<'_>, on: Spot, area: &[Polygon]) -> bool {
    let is_hollow = host.part.kind.holds_inserts();
    let mut glue = host.laid.glue.iter().filter(|glue| (glue.panels[0], glue.face) == on);
    is_hollow && on == host.under() || glue.any(|glue| overlap(&in_mm(&glue.area), area))
}
