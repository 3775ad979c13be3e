//! Parts as they lie on panels: what of them covers the panel, what of that is held down, and where the glue is.

use crate::plane::{Motion, Polygon, in_mm};
use crate::pose::poses;
use model::part::{GlueArea, Part, PartKind, PartLayout};
use model::{Document, Face, Layout, PanelId, PartId};
use std::collections::{BTreeMap, BTreeSet};

/// The face of a panel of the folio or of a part.
pub(crate) type Spot = (PanelId, Face);

/// A part on a panel. Polygons are in millimetres on the part's own little sheet, with what is folded before folded.
#[derive(Debug)]
pub(crate) struct Lying<'a> {
    pub(crate) part: &'a Part,
    pub(crate) laid: &'a PartLayout,
    /// What it lies on.
    pub(crate) on: Spot,
    /// From its little sheet to that of the panel under it.
    pub(crate) motion: Motion,
    /// How its panels lie on its main one.
    pub(crate) poses: BTreeMap<PanelId, Motion>,
    /// All that it covers.
    pub(crate) whole: Vec<Polygon>,
    /// What of that can't be lifted.
    pub(crate) firm: Vec<Polygon>,
    /// Where it is glued to the panel under it.
    pub(crate) glue: Vec<Polygon>,
}

/// All parts on panels, those first that others lie on, and each by its number in the document.
#[derive(Debug)]
pub(crate) struct Lain<'a> {
    pub(crate) all: Vec<Lying<'a>>,
    place: BTreeMap<PartId, usize>,
    /// The part that each panel is of.
    part_of: BTreeMap<PanelId, PartId>,
}

/// How a part comes to lie on a panel of the folio, through all that it lies on.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Root {
    pub(crate) on: Spot,
    pub(crate) motion: Motion,
}

impl<'a> Lain<'a> {
    pub(crate) fn of(document: &'a Document, layout: &'a Layout) -> Self {
        let all: Vec<Lying<'a>> = layout.parts.iter().filter_map(|laid| Lying::of(document, laid)).collect();
        let place = all.iter().enumerate().map(|(i, lying)| (lying.part.id, i)).collect();
        let panels = |laid: &PartLayout| laid.panels.iter().map(|panel| (panel.id, laid.id)).collect::<Vec<_>>();
        let part_of = layout.parts.iter().flat_map(panels).collect();
        Self { all, place, part_of }
    }

    pub(crate) fn part(&self, id: PartId) -> Option<&Lying<'a>> {
        self.place.get(&id).map(|&i| &self.all[i])
    }

    /// The part that a panel is of, where it lies on a panel itself.
    pub(crate) fn of_panel(&self, panel: PanelId) -> Option<&Lying<'a>> {
        self.part_of.get(&panel).and_then(|&id| self.part(id))
    }

    /// The part that a panel is of.
    pub(crate) fn id_of_panel(&self, panel: PanelId) -> Option<PartId> {
        self.part_of.get(&panel).copied()
    }

    /// Where each part lies on the folio; none for what lies on a band or on something upright.
    pub(crate) fn roots(&self) -> BTreeMap<PartId, Root> {
        let mut roots: BTreeMap<PartId, Root> = BTreeMap::new();
        for lying in &self.all {
            let root = match self.id_of_panel(lying.on.0) {
                None => Some(Root { on: lying.on, motion: lying.motion }),
                Some(host) => roots.get(&host).copied().zip(self.part(host)).and_then(|(root, host)| {
                    let pose = host.poses.get(&lying.on.0)?;
                    Some(Root { on: root.on, motion: lying.motion.then(pose).then(&root.motion) })
                }),
            };
            roots.extend(root.map(|root| (lying.part.id, root)));
        }
        roots
    }
}

impl<'a> Lying<'a> {
    fn of(document: &'a Document, laid: &'a PartLayout) -> Option<Self> {
        let (part, place) = (document.part(laid.id)?, laid.laid.as_ref()?);
        let poses = poses(laid);
        let posed = |panel: PanelId, area: &[Vec<model::Point>]| {
            poses.get(&panel).map(|pose| pose.all(&in_mm(area))).unwrap_or_default()
        };
        let firmly = firm_panels(part, laid);
        let (mut whole, mut firm, mut glue) = (Vec::new(), Vec::new(), Vec::new());
        for panel in &laid.panels {
            let covered = posed(panel.id, &panel.convex);
            if firmly.contains(&panel.id) {
                firm.extend(covered.iter().cloned());
            }
            whole.extend(covered);
        }
        for own in &laid.glue {
            let area = posed(own.panels[0], &own.area);
            firm.extend(area.iter().cloned());
            if own.panels[1] == place.on {
                glue.extend(area);
            }
        }
        let on = (place.on, place.face);
        Some(Self { part, laid, on, motion: Motion::of(place), poses, whole, firm, glue })
    }

    /// Some of its polygons, on the sheet of the panel under it.
    pub(crate) fn on_host(&self, polygons: &[Polygon]) -> Vec<Polygon> {
        self.motion.all(polygons)
    }

    /// Its main panel's face that lies towards what it is put on.
    pub(crate) const fn under(&self) -> Spot {
        (self.laid.main, self.part.place.showing.other())
    }

    /// The panels that it is glued to, besides its own.
    pub(crate) fn glued_to(&self) -> BTreeSet<PanelId> {
        let is_own = |id: PanelId| self.laid.panels.iter().any(|panel| panel.id == id);
        self.laid.glue.iter().map(|glue| glue.panels[1]).filter(|&to| !is_own(to)).collect()
    }

    pub(crate) const fn is_closure(&self) -> bool {
        matches!(self.part.kind, PartKind::Closure(_))
    }

    /// Whether it only lies there, as a card in a pocket does.
    pub(crate) fn is_loose(&self) -> bool {
        matches!(self.part.kind, PartKind::Insert(_)) || self.glue.is_empty() && !self.is_closure()
    }

    /// Whether something can be slid under what it holds down: some edge of it is neither glued nor folded under.
    pub(crate) fn has_mouth(&self) -> bool {
        match &self.part.kind {
            PartKind::Pocket(pocket) => pocket.glued.others().next().is_some(),
            _ => areas(self.part, self.laid).any(|(_, area)| match area {
                GlueArea::Strips(edges, _) => edges.others().next().is_some(),
                GlueArea::Whole | GlueArea::None => false,
            }),
        }
    }
}

/// The panels that can't be lifted: glued all over, or at two edges or more.
fn firm_panels(part: &Part, laid: &PartLayout) -> BTreeSet<PanelId> {
    let is_firm = |area: GlueArea| match area {
        GlueArea::Whole => true,
        GlueArea::Strips(edges, _) => edges.iter().count() > 1,
        GlueArea::None => false,
    };
    let mut firm: BTreeSet<PanelId> =
        areas(part, laid).filter(|(_, area)| is_firm(*area)).map(|(panel, _)| panel).collect();
    if let PartKind::Pocket(pocket) = &part.kind
        && pocket.glued.iter().count() > 1
    {
        // A front on gussets has no glue of its own.
        firm.insert(laid.main);
    }
    firm
}

/// Each glued panel of a part with where on it, as it is said: first the glue of its kind, then what the maker adds.
fn areas<'a>(part: &'a Part, laid: &'a PartLayout) -> impl Iterator<Item = (PanelId, GlueArea)> + 'a {
    let said = laid.pattern.glue.iter().map(|glue| glue.area).chain(part.also.iter().map(|gluing| gluing.area));
    laid.glue.iter().map(|glue| glue.panels[0]).zip(said)
}
