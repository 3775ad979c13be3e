//! Where parts lie: each as a little sheet of its own, and how that is laid on the panel under it.

use super::pattern::PartPattern;
use super::{GlueArea, PanelRef, Part, PartId, Placement};
use crate::document::Document;
use crate::geometry::{Point, Vector};
use crate::layout::{Fold, FoldId, Layout, Panel, PanelId};
use crate::length::{Length, Unit};
use crate::line::{Face, LineId};
use crate::polygon::bounds;
use std::collections::{BTreeMap, BTreeSet};

/// A part's own little sheet, and where it lies. Its panels are numbered on from those of the sheet and of the parts
/// before it, and its lines have numbers that no line of the document has.
#[derive(Debug, Clone, PartialEq)]
pub struct PartLayout {
    /// The part.
    pub id: PartId,
    /// What it is called.
    pub name: String,
    /// The little sheet, with its own numbers from 0, what is cut off it included.
    pub sheet: Layout,
    /// The pattern that it was made by.
    pub pattern: PartPattern,
    /// The panels of the part itself, in reading order.
    pub panels: Vec<Panel>,
    /// Its folds, between those panels.
    pub folds: Vec<Fold>,
    /// What is folded before it is put in place, step by step.
    pub before: Vec<Vec<LineId>>,
    /// For each of its lines, the number it has among all lines.
    pub lines: BTreeMap<LineId, LineId>,
    /// The main panel, by which it is placed.
    pub main: PanelId,
    /// Where it lies; `None` for what lies on no panel.
    pub laid: Option<Laid>,
    /// Its glue.
    pub glue: Vec<LaidGlue>,
}

/// How a part's little sheet lies on the sheet of the panel under it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Laid {
    /// The panel.
    pub on: PanelId,
    /// Its face.
    pub face: Face,
    /// Where the origin of the little sheet comes to lie.
    pub origin: Point,
    /// Cosine and sine of the angle by which its X axis is turned, clockwise as drawn.
    pub right: (f64, f64),
    /// Whether it is turned over about its Y axis before it is turned.
    pub turned_over: bool,
}

/// Glue between two panels.
#[derive(Debug, Clone, PartialEq)]
pub struct LaidGlue {
    /// The part's panel, and what it is glued to.
    pub panels: [PanelId; 2],
    /// The face of the part's panel that the glue is on.
    pub face: Face,
    /// Where, as convex polygons on the part's little sheet, clockwise.
    pub area: Vec<Vec<Point>>,
}

/// Why a part can't be made, or has no place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PartFault {
    /// This measure is missing, or less than nothing.
    NoMeasure(&'static str),
    /// It is larger than any sheet.
    TooLarge,
    /// The band across a corner is as wide as its legs are long.
    BandTooWide,
    /// The sides of a pocket's gusset would meet under its front.
    GussetTooDeep,
    /// No paper is left at the mark of its main panel.
    NoMainPanel,
    /// It is put on a place of the sheet that is no panel of the folio.
    NotOnFolio,
    /// It is put on a part that is not in the design.
    UnknownPart(PartId),
    /// It is put on itself.
    OnItself,
    /// It is put on a panel that the other part does not have.
    NoPanel(PartId),
    /// It is put on a part that lies on it.
    Circle(PartId),
    /// It is put on a part that has no place itself.
    Unplaced(PartId),
    /// It is glued by a panel that it does not have.
    NoGluedPanel,
}

impl PartFault {
    /// What is wrong and how to mend it, in a phrase that follows the part's name.
    #[must_use]
    pub fn phrase(self, document: &Document) -> String {
        let (what, mend) = self.said(document);
        format!("{what}; {mend}")
    }

    /// What is wrong, in a phrase that follows the part's name, and how to mend it.
    #[must_use]
    pub fn said(self, document: &Document) -> (String, &'static str) {
        let name = |id| document.part_name(id);
        match self {
            Self::NoMeasure(what) => (format!("has no {what}"), "give it one above 0"),
            Self::TooLarge => ("is larger than any sheet".to_owned(), "make it smaller"),
            Self::BandTooWide => ("is a band as wide as its legs are long".to_owned(), "make the band narrower"),
            Self::GussetTooDeep => {
                ("has a gusset half as deep as its front is wide or high".to_owned(), "make it shallower")
            }
            Self::NoMainPanel => ("has no paper where its main panel should be".to_owned(), "mark another"),
            Self::NotOnFolio => ("lies on no panel of the folio".to_owned(), "put it on one"),
            Self::UnknownPart(id) => {
                (format!("is put on part {}, which is not in the design", id.0), "put it on another")
            }
            Self::OnItself => ("is put on itself".to_owned(), "put it on something else"),
            Self::NoPanel(id) => {
                (format!("is put on a panel that \"{}\" does not have", name(id)), "put it on another")
            }
            Self::Circle(id) => (format!("is put on \"{}\", which lies on it", name(id)), "put one of them elsewhere"),
            Self::Unplaced(id) => (format!("is put on \"{}\", which has no place itself", name(id)), "mend that first"),
            Self::NoGluedPanel => ("is glued by a panel that it does not have".to_owned(), "name another"),
        }
    }
}

/// Every part of a document on its sheet, each after what it lies on, and why others have no place.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct Parts {
    pub(crate) laid: Vec<PartLayout>,
    pub(crate) faults: BTreeMap<PartId, PartFault>,
}

impl Parts {
    pub(crate) fn of(document: &Document, layout: &Layout) -> Self {
        let mut parts = Self::default();
        let (order, circles) = in_order(&document.parts);
        parts.faults.extend(circles);
        let mut free = FreeLines::of(document);
        let mut next = Numbers { panel: layout.panels.len(), fold: layout.folds.len() };
        for part in order {
            match part_layout(document, layout, &parts, part, &mut free, next) {
                Ok(laid) => {
                    next.panel += laid.panels.len();
                    next.fold += laid.folds.len();
                    parts.laid.push(laid);
                }
                Err(fault) => {
                    parts.faults.insert(part.id, fault);
                }
            }
        }
        parts
    }

    fn find(&self, id: PartId) -> Option<&PartLayout> {
        self.laid.iter().find(|laid| laid.id == id)
    }
}

/// The numbers that the next part's panels and folds have from.
#[derive(Clone, Copy)]
struct Numbers {
    panel: usize,
    fold: usize,
}

/// Numbers that no line of the document has.
struct FreeLines {
    used: BTreeSet<u32>,
    next: u32,
}

impl FreeLines {
    fn of(document: &Document) -> Self {
        let used: BTreeSet<u32> = document.lines.iter().map(|line| line.id.0).collect();
        // Above all of the document's where there is room, so that lines of parts sort last.
        let next = used.last().map_or(1, |most| most.checked_add(1).unwrap_or(1));
        Self { used, next }
    }

    fn take(&mut self) -> LineId {
        while self.used.contains(&self.next) {
            self.next = self.next.checked_add(1).unwrap_or(1);
        }
        self.used.insert(self.next);
        LineId(self.next)
    }
}

/// The parts, each after those that it lies on and otherwise as the maker has them; and those that lie on one another in
/// a circle.
fn in_order(parts: &[Part]) -> (Vec<&Part>, BTreeMap<PartId, PartFault>) {
    let known: BTreeSet<PartId> = parts.iter().map(|part| part.id).collect();
    let (mut order, mut done) = (Vec::with_capacity(parts.len()), BTreeSet::new());
    let mut open: Vec<&Part> = parts.iter().collect();
    loop {
        let is_ready = |part: &&Part| part.hosts().all(|host| done.contains(&host) || !known.contains(&host));
        let Some(at) = open.iter().position(is_ready) else { break };
        let part = open.remove(at);
        done.insert(part.id);
        order.push(part);
    }
    // Of those that are left, some lie on themselves by way of others, and the rest on such.
    let reaches = |from: PartId, to: PartId| {
        let (mut seen, mut next) = (BTreeSet::new(), vec![from]);
        while let Some(at) = next.pop() {
            let hosts = open.iter().find(|part| part.id == at).into_iter().flat_map(|part| part.hosts());
            for host in hosts {
                if host == to {
                    return true;
                }
                if seen.insert(host) {
                    next.push(host);
                }
            }
        }
        false
    };
    let fault = |part: &&Part| {
        let in_circle = part.hosts().find(|&host| reaches(host, part.id));
        let host = part.hosts().find(|host| !done.contains(host) && known.contains(host)).unwrap_or(part.id);
        (part.id, in_circle.map_or(PartFault::Unplaced(host), PartFault::Circle))
    };
    let faults = open.iter().map(fault).collect();
    (order, faults)
}

fn part_layout(
    document: &Document,
    layout: &Layout,
    parts: &Parts,
    part: &Part,
    free: &mut FreeLines,
    first: Numbers,
) -> Result<PartLayout, PartFault> {
    let pattern = PartPattern::of(part, document)?;
    let sheet = Layout::of(&pattern.document);
    let piece = sheet.folio().ok_or(PartFault::NoMainPanel)?;
    let name = document.part_name(part.id);
    let place: BTreeMap<PanelId, PanelId> =
        piece.panels.iter().enumerate().map(|(i, &id)| (id, PanelId(first.panel + i))).collect();
    let lines: BTreeMap<LineId, LineId> = pattern.document.lines.iter().map(|line| (line.id, free.take())).collect();
    let panels = piece.panels.iter().map(|id| {
        let panel = sheet.panel(*id);
        Panel { id: place[id], name: panel_name(&name, &pattern, &sheet, panel, piece.panels.len()), ..panel.clone() }
    });
    let panels: Vec<Panel> = panels.collect();
    let own = sheet.folds.iter().filter(|fold| fold.panels.iter().all(|panel| place.contains_key(panel)));
    let folds = own.enumerate().map(|(i, fold)| Fold {
        id: FoldId(first.fold + i),
        line: lines[&fold.line],
        panels: fold.panels.map(|panel| place[&panel]),
        ..fold.clone()
    });
    let folds: Vec<Fold> = folds.collect();
    let main = sheet.base.and_then(|base| place.get(&base)).copied().ok_or(PartFault::NoMainPanel)?;
    let renamed = |step: &Vec<LineId>| step.iter().filter_map(|line| lines.get(line)).copied().collect();
    let before = pattern.before.iter().map(renamed).collect();
    let (laid, glue) = if part.kind.is_on_a_panel() {
        if matches!(part.place.on, PanelRef::Part(id, _) if id == part.id) {
            return Err(PartFault::OnItself);
        }
        let on = host(layout, parts, part.place.on)?;
        let extent = panels.iter().find(|panel| panel.id == main).ok_or(PartFault::NoMainPanel)?;
        let laid = lay(on, extent, &part.place);
        let glue = glue(layout, parts, part, &pattern, &sheet, &panels, &place, on.id)?;
        (Some(laid), glue)
    } else {
        (None, Vec::new())
    };
    Ok(PartLayout { id: part.id, name, sheet, pattern, panels, folds, before, lines, main, laid, glue })
}

pub(crate) fn panel_name(part: &str, pattern: &PartPattern, sheet: &Layout, panel: &Panel, count: usize) -> String {
    if count == 1 {
        return part.to_owned();
    }
    let own = pattern.names.iter().find(|(at, _)| sheet.panel_at(*at) == Some(panel.id)).map(|(_, name)| *name);
    match own {
        Some("front" | "leaf") => part.to_owned(),
        Some(name) => {
            let alike = pattern.names.iter().filter(|(_, other)| *other == name).count();
            let side = if alike > 1 { side_word(pattern, panel) } else { "" };
            format!("{part}, {side}{name}")
        }
        None => format!("{part}, {}", lower_first(&panel.name)),
    }
}

/// On which side of the main panel it lies, where several have the same name.
fn side_word(pattern: &PartPattern, panel: &Panel) -> &'static str {
    let Some(main) = pattern.document.base else { return "" };
    let (low, high) = panel.bounds();
    if high.x < main.x {
        "left "
    } else if low.x > main.x {
        "right "
    } else if high.y < main.y {
        "top "
    } else {
        "bottom "
    }
}

fn lower_first(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_lowercase().chain(letters).collect())
}

/// The panel that a reference names.
fn host<'a>(layout: &'a Layout, parts: &'a Parts, on: PanelRef) -> Result<&'a Panel, PartFault> {
    match on {
        PanelRef::Sheet(mark) => {
            let panel = layout.panel_at(mark).map(|id| layout.sheet_panel(id)).ok_or(PartFault::NotOnFolio)?;
            // While no panel is the base, nothing is the folio, and that is told once.
            let is_of_folio = layout.folio().is_none_or(|folio| folio.id == panel.piece);
            if is_of_folio { Ok(panel) } else { Err(PartFault::NotOnFolio) }
        }
        PanelRef::Part(id, at) => match parts.find(id) {
            Some(laid) => laid.panels.get(at).ok_or(PartFault::NoPanel(id)),
            None if parts.faults.contains_key(&id) => Err(PartFault::Unplaced(id)),
            None => Err(PartFault::UnknownPart(id)),
        },
    }
}

/// Lays a part so that the upright rectangle around its main panel, turned as said, is as far from the host's borders as
/// said.
fn lay(on: &Panel, main: &Panel, place: &Placement) -> Laid {
    let (cos, sin) = place.rotation.cos_sin();
    let turned_over = place.showing != place.face;
    let turned = |point: Point| turned(point, (cos, sin), turned_over);
    let (low, high) = on.bounds();
    let corners: Vec<Point> = main.outline.iter().map(|&point| turned(point)).collect();
    let (least, most) = bounds(&corners);
    let x = place.across.start(low.x, high.x, most.x - least.x);
    let y = place.down.start(low.y, high.y, most.y - least.y);
    let origin = Point::new(x - least.x, y - least.y);
    Laid { on: on.id, face: place.face, origin, right: (cos, sin), turned_over }
}

/// Turned over about the Y axis, then turned about the origin; rounded to the nanometre.
fn turned(point: Point, (cos, sin): (f64, f64), turned_over: bool) -> Point {
    let x = if turned_over { -point.x } else { point.x };
    let round = |mm: f64| Length::from_mm_rounded(mm).unwrap_or_default();
    let is_quarter = cos == 0.0 || sin == 0.0;
    if is_quarter {
        // Exact: sine and cosine are 0, 1 or -1.
        let times = |length: Length, by: f64| match by {
            by if by > 0.5 => length,
            by if by < -0.5 => -length,
            _ => Length::ZERO,
        };
        return Point::new(times(x, cos) - times(point.y, sin), times(x, sin) + times(point.y, cos));
    }
    let (x, y) = (x.mm(), point.y.mm());
    Point::new(round(x * cos - y * sin), round(x * sin + y * cos))
}

impl Laid {
    /// Where a point of the part's little sheet lies on the sheet of the panel under it.
    #[must_use]
    pub fn on_host(&self, point: Point) -> Point {
        let at = turned(point, self.right, self.turned_over);
        Point::new(self.origin.x + at.x, self.origin.y + at.y)
    }

    /// Where a place on the sheet of the panel under it lies on the part's little sheet.
    #[must_use]
    pub fn on_part(&self, point: Point) -> Point {
        let Vector { x, y } = point - self.origin;
        let (cos, sin) = self.right;
        let back = turned(Point::new(x, y), (cos, -sin), false);
        Point::new(if self.turned_over { -back.x } else { back.x }, back.y)
    }
}

#[expect(clippy::too_many_arguments, reason = "all of them are what a part is glued by; there is one caller")]
fn glue(
    layout: &Layout,
    parts: &Parts,
    part: &Part,
    pattern: &PartPattern,
    sheet: &Layout,
    panels: &[Panel],
    place: &BTreeMap<PanelId, PanelId>,
    on: PanelId,
) -> Result<Vec<LaidGlue>, PartFault> {
    let mut all = Vec::new();
    for own in &pattern.glue {
        let id = sheet.panel_at(own.at).and_then(|id| place.get(&id)).ok_or(PartFault::NoGluedPanel)?;
        all.push(laid_glue(panels, *id, own.face, on, own.area)?);
    }
    for more in &part.also {
        let panel = panels.get(more.panel).ok_or(PartFault::NoGluedPanel)?;
        let to = match more.to {
            PanelRef::Part(id, at) if id == part.id => panels.get(at).ok_or(PartFault::NoPanel(id))?.id,
            to => host(layout, parts, to)?.id,
        };
        all.push(laid_glue(panels, panel.id, more.face, to, more.area)?);
    }
    Ok(all)
}

fn laid_glue(panels: &[Panel], id: PanelId, face: Face, to: PanelId, area: GlueArea) -> Result<LaidGlue, PartFault> {
    let panel = panels.iter().find(|panel| panel.id == id).ok_or(PartFault::NoGluedPanel)?;
    Ok(LaidGlue { panels: [id, to], face, area: area.on(&panel.convex) })
}

impl PartLayout {
    /// The size of the rectangle it is cut from, in words.
    #[must_use]
    pub fn size_text(&self, unit: Unit) -> String {
        self.pattern.size().text(unit)
    }
}
