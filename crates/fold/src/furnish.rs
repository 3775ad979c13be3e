//! A layout as a blueprint: the folio's panels, the parts that lie on them, and their glue.
//!
//! A part that can't be folded on its own, or whose glue does not meet what it is to hold, is left out along with all that
//! lies on it, and said so; the rest is put together as if it were not there.

use crate::assembly::{Assembly, to_world};
use crate::blueprint::{Blueprint, BlueprintFault, BlueprintStep, Glue, Part, Piece, PiecePanel};
use crate::overlap::{is_proper, shared};
use glam::DVec2;
use model::part::{Laid, LaidGlue};
use model::{Document, Face, FoldAngle, Layout, LineId, Panel, PanelId, PartId, PartKind, PartLayout, Point, Step};
use std::collections::{BTreeMap, BTreeSet};

/// Why a part of a design is not in its assembly.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum PartRefusal {
    /// Its own folds can't be folded before it is put in place.
    Blocked,
    /// Its panel and this one don't lie on one another, so that the glue between them holds nothing.
    NotTogether(PanelId, PanelId),
    /// It lies on a part that is left out.
    HostLeftOut(PartId),
    /// It can't be put together for its shape.
    Shape,
}

/// The blueprint of a layout, part by part as long as they can be put together.
pub(crate) fn furnished(document: &Document, layout: &Layout, base: PanelId) -> Option<Assembly> {
    let folio = layout.folio()?;
    let panels = folio.panels.iter().map(|&id| piece_panel(layout.panel(id))).collect();
    let is_ours = |panel: &PanelId| layout.panels.get(panel.0).is_some_and(|panel| panel.piece == folio.id);
    let folds = layout.folds.iter().filter(|fold| fold.panels.iter().all(is_ours)).cloned().collect();
    let caliper = document.stock.thickness().map_or(0.0, model::Length::mm);
    let steps = document.steps.iter().map(|step| blueprint_step(layout, step)).collect();
    let folio_alone = Blueprint { steps, ..Blueprint::new(Piece { panels, folds, caliper }, base) };
    let furniture = Furniture { document, layout, up: fronts_up(layout) };
    // Mostly everything goes together, and it need not be found out part by part.
    let mut blueprint = folio_alone.clone();
    for part in &layout.parts {
        furniture.put(&mut blueprint, part);
    }
    if let Some(assembly) = with_tucks_kept(&blueprint) {
        return Some(assembly);
    }
    // Else what does not go together is left out, and what lies on that, until the rest does.
    let mut left_out: BTreeMap<PartId, PartRefusal> = BTreeMap::new();
    loop {
        let mut blueprint = folio_alone.clone();
        for part in &layout.parts {
            match hosts(layout, part).find(|host| left_out.contains_key(host)) {
                Some(host) => {
                    left_out.entry(part.id).or_insert(PartRefusal::HostLeftOut(host));
                }
                None if left_out.contains_key(&part.id) => {}
                None => furniture.put(&mut blueprint, part),
            }
        }
        let Err(fault) = (Blueprint { steps: Vec::new(), ..blueprint.clone() }).assembly() else {
            let mut assembly = with_tucks_kept(&blueprint)?;
            assembly.left_out = left_out;
            return Some(assembly);
        };
        // Every fault names a panel of the part that is to blame first; without one nothing can be put together at all.
        let blamed = named(&fault).into_iter().find_map(|panel| layout.part_of(panel))?;
        left_out.insert(blamed.id, refusal(&fault));
    }
}

/// The panels that a fault names, the one to blame first.
fn named(fault: &BlueprintFault) -> Vec<PanelId> {
    match *fault {
        BlueprintFault::NotTogether([a, b]) => vec![a, b],
        BlueprintFault::Unordered(panel)
        | BlueprintFault::NoPanel(panel)
        | BlueprintFault::NoArea(panel)
        | BlueprintFault::NoPlace(panel)
        | BlueprintFault::PartBlocked(panel) => vec![panel],
        BlueprintFault::NoFold(_) => Vec::new(),
    }
}

/// Puts a blueprint together, without the tucks of panels that are not in it.
fn with_tucks_kept(blueprint: &Blueprint) -> Option<Assembly> {
    if blueprint.steps.iter().all(|step| step.tucks.is_empty()) {
        return blueprint.assembly().ok();
    }
    let mut blueprint = blueprint.clone();
    let numbers: BTreeSet<PanelId> = blueprint.pieces().flat_map(|piece| &piece.panels).map(|panel| panel.id).collect();
    for step in &mut blueprint.steps {
        step.tucks.retain(|pair| pair.iter().all(|panel| numbers.contains(panel)));
    }
    blueprint.assembly().ok()
}

/// What parts are put into a blueprint by.
struct Furniture<'a> {
    document: &'a Document,
    layout: &'a Layout,
    /// For each panel whether its front looks the way the front of the sheet does, when all parts are in place.
    up: BTreeMap<PanelId, bool>,
}

impl Furniture<'_> {
    /// Puts a part into a blueprint, with its glue. What has no glue is held where it lies.
    fn put(&self, blueprint: &mut Blueprint, part: &PartLayout) {
        let Some(laid) = part.laid.as_ref().filter(|_| is_on_folio(self.layout, part)) else { return };
        let inside = self.pocket_round(blueprint, part, laid);
        blueprint.parts.push(blueprint_part(self.document, part, laid, inside));
        if part.glue.is_empty() {
            let is_up = self.front_up(laid.on) == (laid.face == Face::Front);
            let faces = [self.looking(part.main, !is_up), laid.face];
            blueprint.bonds.push(Glue { panels: [part.main, laid.on], faces, area: Vec::new() });
        }
        for LaidGlue { panels, face, area } in &part.glue {
            let [panel, to] = *panels;
            // The glued face looks at what it is glued to, which looks back.
            let looks_up = self.front_up(panel) == (*face == Face::Front);
            let faces = [*face, self.looking(to, !looks_up)];
            blueprint.bonds.push(Glue { panels: *panels, faces, area: area.clone() });
        }
    }

    fn front_up(&self, panel: PanelId) -> bool {
        self.up.get(&panel).copied().unwrap_or(true)
    }

    /// The face of a panel that looks up, or down.
    fn looking(&self, panel: PanelId, up: bool) -> Face {
        if self.front_up(panel) == up { Face::Front } else { Face::Back }
    }

    /// What an insert goes into of what is in the blueprint already: the lowest pocket or tuck corner on the same face of the
    /// same panel that it lies under, as a place in the blueprint's parts.
    fn pocket_round(&self, blueprint: &Blueprint, part: &PartLayout, laid: &Laid) -> Option<usize> {
        if !matches!(self.document.part(part.id)?.kind, PartKind::Insert(_)) {
            return None;
        }
        let own = self.layout.panel(part.main);
        blueprint.parts.iter().position(|other| {
            let pocket = self.layout.part_of(other.panel);
            pocket.is_some_and(|pocket| {
                let is_pocket = self.document.part(pocket.id).is_some_and(|part| part.kind.holds_inserts());
                let place = pocket.laid.filter(|place| is_pocket && (place.on, place.face) == (laid.on, laid.face));
                place.is_some_and(|place| overlap((own, laid), (self.layout.panel(pocket.main), &place)))
            })
        })
    }
}

/// Whether two panels, each laid on the same sheet, share some area there.
fn overlap((a, a_laid): (&Panel, &Laid), (b, b_laid): (&Panel, &Laid)) -> bool {
    let on_host = |piece: &Vec<Point>, laid: &Laid| {
        let mut there: Vec<DVec2> = piece.iter().map(|&point| to_world(laid.on_host(point))).collect();
        if crate::overlap::area(&there) < 0.0 {
            there.reverse();
        }
        there
    };
    let others: Vec<Vec<DVec2>> = b.convex.iter().map(|piece| on_host(piece, b_laid)).collect();
    let shares = |piece: Vec<DVec2>| others.iter().any(|other| is_proper(&shared(&piece, other)));
    a.convex.iter().any(|piece| shares(on_host(piece, a_laid)))
}

/// Whether a part lies on the folio, or on what does; not so for what lies on a band.
fn is_on_folio(layout: &Layout, part: &PartLayout) -> bool {
    let mut part = part;
    loop {
        let Some(laid) = part.laid else { return false };
        match layout.part_of(laid.on) {
            Some(host) => part = host,
            None => return true,
        }
    }
}

/// For each panel whether its front looks the way the front of the sheet does, before the folio is folded.
fn fronts_up(layout: &Layout) -> BTreeMap<PanelId, bool> {
    let mut up: BTreeMap<PanelId, bool> = layout.panels.iter().map(|panel| (panel.id, true)).collect();
    for part in &layout.parts {
        let Some(laid) = &part.laid else { continue };
        up.insert(part.main, up.get(&laid.on).copied().unwrap_or(true) != laid.turned_over);
        let folded: BTreeSet<LineId> = part.before.iter().flatten().copied().collect();
        let mut reached = vec![part.main];
        while let Some(at) = reached.pop() {
            for fold in &part.folds {
                let Some(next) = fold.across_from(at).filter(|next| !up.contains_key(next)) else { continue };
                let turns = folded.contains(&fold.line) && fold.crease.angle == FoldAngle::Flat;
                up.insert(next, up[&at] != turns);
                reached.push(next);
            }
        }
    }
    up
}

fn piece_panel(panel: &Panel) -> PiecePanel {
    let Panel { id, outline, holes, convex, .. } = panel.clone();
    PiecePanel { id, outline, holes, convex }
}

fn blueprint_step(layout: &Layout, step: &Step) -> BlueprintStep {
    let tuck = |tuck: &model::Tucked| Some([layout.panel_of(tuck.panel)?, layout.panel_of(tuck.under)?]);
    BlueprintStep { lines: layout.lines_of(step), tucks: step.tucks.iter().filter_map(tuck).collect() }
}

/// The parts that a part is put or glued on.
fn hosts<'a>(layout: &'a Layout, part: &'a PartLayout) -> impl Iterator<Item = PartId> + 'a {
    let on = part.laid.iter().map(|laid| laid.on).chain(part.glue.iter().map(|glue| glue.panels[1]));
    on.filter_map(|panel| layout.part_of(panel)).map(|host| host.id).filter(|host| *host != part.id)
}

fn blueprint_part(document: &Document, part: &PartLayout, laid: &Laid, inside: Option<usize>) -> Part {
    let own = document.part(part.id);
    let caliper = own.and_then(|own| own.own_caliper().or_else(|| own.stock(document)?.thickness()));
    let piece = Piece {
        panels: part.panels.iter().map(piece_panel).collect(),
        folds: part.folds.clone(),
        caliper: caliper.map_or(0.0, model::Length::mm),
    };
    let (cos, sin) = laid.right;
    Part {
        piece,
        folded: part.before.clone(),
        panel: part.main,
        on: laid.on,
        face: laid.face,
        origin: laid.origin,
        right: DVec2::new(cos, sin),
        turned_over: laid.turned_over,
        inside,
    }
}

const fn refusal(fault: &BlueprintFault) -> PartRefusal {
    match *fault {
        BlueprintFault::PartBlocked(_) => PartRefusal::Blocked,
        BlueprintFault::NotTogether([a, b]) => PartRefusal::NotTogether(a, b),
        _ => PartRefusal::Shape,
    }
}
