//! The layout of the flat sheet: panels, folds, pieces, offcuts and a ledger of areas, derived from a document.
//!
//! First the lines are laid out, with the strips and notches that are taken out along them. Then it is seen which corners
//! are free, and the paper that is taken off them is laid out too.

mod border;
mod carried;
mod corner;
mod fold;
mod inner_corner;
mod piece;
mod plan;

pub use corner::{CornerFault, CornerTaken, CornerTrouble, CornerWork, FreeCorner};
pub use inner_corner::InnerCorner;

use crate::arrangement::Arrangement;
use crate::document::{Document, Step};
use crate::geometry::{Area, Point, Size};
use crate::length::Length;
use crate::line::{Crease, LineId, Work};
use crate::naming;
use crate::numbered::numbers;
use crate::part::laid::Parts;
use crate::part::{PanelRef, PartFault, PartId, PartLayout};
use crate::polygon::{Inside, bounds, convex_pieces, inner_point, locate};
use crate::resolve::{LineFault, Placed, Segment, resolve};
use plan::{Origin, Plan};
use std::collections::{BTreeMap, BTreeSet};

/// A panel's place in [`Layout::panels`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PanelId(pub usize);

/// A fold's place in [`Layout::folds`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct FoldId(pub usize);

/// A piece's place in [`Layout::pieces`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PieceId(pub usize);

/// All that follows from a document's lines.
#[derive(Debug, Clone, PartialEq)]
pub struct Layout {
    /// The sheet's size.
    pub size: Size,
    /// Where each line lies, or why it lies nowhere.
    pub lines: BTreeMap<LineId, Result<Placed, LineFault>>,
    /// The flat areas, in reading order. Guides part nothing, so each cell of the arrangement is a panel or a void, and
    /// every place on the sheet that lies on no boundary is in exactly one of them.
    pub panels: Vec<Panel>,
    /// Where paper is taken out or off: slots, trims, notches and corners.
    pub voids: Vec<Void>,
    /// Where panels are joined, by panel and line.
    pub folds: Vec<Fold>,
    /// Every stretch between neighbouring crossings, with what is done along it.
    pub stretches: Vec<Stretch>,
    /// What hangs together after cutting: the folio first, then offcuts in reading order.
    pub pieces: Vec<Piece>,
    /// The panel that lies still, where the mark for it lies inside one.
    pub base: Option<PanelId>,
    /// Where a piece has an inner corner or a cut ends within it, and paper may tear.
    pub inner_corners: Vec<InnerCorner>,
    /// What is done with corners, in the document's order.
    pub corners: Vec<CornerWork>,
    /// What is said of corners that can't be done.
    pub corner_troubles: Vec<CornerTrouble>,
    /// The parts, each after what it lies on.
    pub parts: Vec<PartLayout>,
    /// Why other parts have no place.
    pub part_faults: BTreeMap<PartId, PartFault>,
    /// Where the sheet's area went.
    pub ledger: Ledger,
}

/// A flat area bounded by folds, cuts and the outline.
#[derive(Debug, Clone, PartialEq)]
pub struct Panel {
    /// Its place in the list.
    pub id: PanelId,
    /// What it is called, unlike any other here: as the maker says, or by where it lies from the base.
    pub name: String,
    /// Its outer boundary, clockwise as the maker sees it.
    pub outline: Vec<Point>,
    /// Boundaries of openings in it, anticlockwise.
    pub holes: Vec<Vec<Point>>,
    /// The same area as convex polygons, clockwise.
    pub convex: Vec<Vec<Point>>,
    /// Its area.
    pub area: Area,
    /// A point well inside it; `None` for a sliver that has no whole nanometre inside.
    pub inside: Option<Point>,
    /// The piece it belongs to.
    pub piece: PieceId,
    /// Whether it is a narrow strip between two parallel folds, which gives depth.
    pub is_gusset: bool,
}

/// An area that is taken out of the sheet, or off it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Void {
    /// What for.
    pub kind: VoidKind,
    /// Its outer boundary, clockwise as the maker sees it.
    pub outline: Vec<Point>,
    /// Boundaries of what lies within it and is not of it, anticlockwise.
    pub holes: Vec<Vec<Point>>,
    /// Its area.
    pub area: Area,
}

/// What paper is taken out or off for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum VoidKind {
    /// A slot along this line.
    Slot(LineId),
    /// A trim along this line.
    Trim(LineId),
    /// A notch on this line.
    Notch(LineId),
    /// A corner rounded or clipped; the place of what asks for it in [`Document::corners`].
    Corner(usize),
}

/// A crease between two panels: all stretches of one line that join them.
#[derive(Debug, Clone, PartialEq)]
pub struct Fold {
    /// Its place in the list.
    pub id: FoldId,
    /// The score line it lies on.
    pub line: LineId,
    /// How it folds.
    pub crease: Crease,
    /// The panels it joins, the lesser first.
    pub panels: [PanelId; 2],
    /// Where; more than one stretch when a cut parts it in the middle.
    pub stretches: Vec<Segment>,
}

/// A stretch between two neighbouring crossings.
#[derive(Debug, Clone, PartialEq)]
pub struct Stretch {
    /// Where it lies.
    pub segment: Segment,
    /// The lines that cover it, in the document's order; none along the sheet's edge.
    pub lines: Vec<LineId>,
    /// What is done along it, a score or a cut; `None` along the sheet's edge. A cut outweighs a score, an earlier line a
    /// later. Round a void it is a cut, of no line where a corner is taken off.
    pub work: Option<Work>,
    /// The panel to the left and to the right of the way from `segment.a` to `segment.b`.
    pub sides: [Option<PanelId>; 2],
}

/// Paper that hangs together after cutting.
#[derive(Debug, Clone, PartialEq)]
pub struct Piece {
    /// Its place in the list.
    pub id: PieceId,
    /// "Folio" or "Offcut 1" and so on.
    pub name: String,
    /// The number of an offcut; 0 for the folio.
    pub number: u32,
    /// Whether it holds the base.
    pub is_folio: bool,
    /// Its panels.
    pub panels: Vec<PanelId>,
    /// Its area.
    pub area: Area,
    /// The least and greatest corner of the upright rectangle around it.
    pub bounds: (Point, Point),
    /// Whether other pieces enclose it, so that it falls out of them instead of coming off.
    pub is_island: bool,
}

/// Where the sheet's area went: all the other entries together are `sheet`, to the last square nanometre.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Ledger {
    /// The whole sheet.
    pub sheet: Area,
    /// What stays.
    pub folio: Area,
    /// What comes off and can be used; all that is no void when no base is marked.
    pub offcuts: Area,
    /// What is taken out for slots.
    pub slots: Area,
    /// What is lost to trims, notches and corners.
    pub waste: Area,
}

impl Layout {
    /// Works out the layout of a document's sheet. Lines without a place are left out (see [`Layout::lines`]).
    #[must_use]
    pub fn of(document: &Document) -> Self {
        let mut layout = Self::of_sheet(document);
        if !document.parts.is_empty() {
            let Parts { laid, faults } = Parts::of(document, &layout);
            layout.parts = laid;
            layout.part_faults = faults;
        }
        layout
    }

    /// The same without the parts.
    fn of_sheet(document: &Document) -> Self {
        let lines = resolve(document);
        let plan = Plan::of(document, &lines);
        let first = Self::from_plan(document, lines, &plan);
        if document.corners.is_empty() {
            return first;
        }
        let corner::Shaped { cuts, mut work, mut troubles } = corner::shaped(document, &first);
        let mut layout = if cuts.is_empty() {
            first
        } else {
            let plan = plan.with_corners(cuts);
            let next = Self::from_plan(document, first.lines.clone(), &plan);
            // A panel goes by another number where its upper left corner was taken off.
            let now = |was: PanelId| first.panel(was).inside.and_then(|inside| next.panel_at(inside));
            for work in &mut work {
                work.corners.retain_mut(|taken| now(taken.panel).map(|panel| taken.panel = panel).is_some());
            }
            for trouble in &mut troubles {
                trouble.panel = trouble.panel.and_then(now);
            }
            next
        };
        for (by, corner) in document.corners.iter().enumerate() {
            if layout.panel_at(corner.mark).is_none() && troubles.iter().all(|trouble| trouble.by != by) {
                troubles.push(CornerTrouble { by, fault: CornerFault::MarkTakenOff, panel: None, at: corner.mark });
            }
        }
        layout.corners = work;
        layout.corner_troubles = troubles;
        layout
    }

    fn from_plan(document: &Document, lines: BTreeMap<LineId, Result<Placed, LineFault>>, plan: &Plan) -> Self {
        let size = document.stock.size;
        let arrangement = Arrangement::new(&plan.segments);
        let areas = areas(plan, &arrangement);
        let panel_of = |cell: usize| match areas.place[cell] {
            CellIs::Panel(panel) => Some(panel),
            CellIs::Void => None,
        };
        let base = document.base.and_then(|point| arrangement.cell_at(point)).and_then(panel_of);
        let stretches = fold::stretches(&arrangement, &plan.origins, &panel_of);
        let folds = fold::folds(&stretches);
        let mut panels = areas.panels;
        let piece_of = piece::pieces_of(panels.len(), &folds, base);
        for (panel, piece) in panels.iter_mut().zip(piece_of) {
            panel.piece = piece;
        }
        let mut named = BTreeSet::new();
        let given = document.panel_names.iter().filter_map(|given| {
            let panel = arrangement.cell_at(given.mark).and_then(panel_of)?;
            named.insert(panel).then_some((panel, given.name.as_str()))
        });
        let given: Vec<(PanelId, &str)> = given.collect();
        naming::name_panels(&mut panels, &folds, base, &given);
        let islands = piece::islands(&arrangement, &panels, &panel_of);
        let piece_at = |point| Some(panels[arrangement.cell_at(point).and_then(panel_of)?.0].piece);
        let pieces = piece::pieces(&panels, base, &islands, |offcuts| numbers(&document.offcuts, offcuts, piece_at));
        let inner_corners = inner_corner::inner_corners(&stretches, &folds);
        let ledger = ledger(size, &panels, &pieces, &areas.voids);
        let voids = areas.voids;
        Self {
            size,
            lines,
            panels,
            voids,
            folds,
            stretches,
            pieces,
            base,
            inner_corners,
            corners: Vec::new(),
            corner_troubles: Vec::new(),
            parts: Vec::new(),
            part_faults: BTreeMap::new(),
            ledger,
        }
    }

    /// The panel strictly around `point`.
    #[must_use]
    pub fn panel_at(&self, point: Point) -> Option<PanelId> {
        let around = |panel: &&Panel| locate(point, &panel.outline, &panel.holes) == Inside::Yes;
        self.panels.iter().find(around).map(|panel| panel.id)
    }

    /// The panel called `id`, of the sheet or of a part.
    ///
    /// # Panics
    /// For an id of another layout.
    #[must_use]
    pub fn panel(&self, id: PanelId) -> &Panel {
        match id.0.checked_sub(self.panels.len()) {
            None => &self.panels[id.0],
            Some(beyond) => {
                let mut of_parts = self.parts.iter().flat_map(|part| &part.panels);
                of_parts.nth(beyond).expect("panels of parts are numbered on, one after the other")
            }
        }
    }

    /// A panel of the sheet itself.
    pub(crate) fn sheet_panel(&self, id: PanelId) -> &Panel {
        &self.panels[id.0]
    }

    /// The part that a panel is of; `None` for a panel of the sheet.
    #[must_use]
    pub fn part_of(&self, id: PanelId) -> Option<&PartLayout> {
        self.parts.iter().find(|part| part.panels.iter().any(|panel| panel.id == id))
    }

    /// The part called `id`, where it has a place.
    #[must_use]
    pub fn part(&self, id: PartId) -> Option<&PartLayout> {
        self.parts.iter().find(|part| part.id == id)
    }

    /// The numbers, among all lines, of what folds in a step.
    #[must_use]
    pub fn lines_of(&self, step: &Step) -> Vec<LineId> {
        let of_part = |(part, line): &(PartId, LineId)| self.part(*part)?.lines.get(line).copied();
        step.lines.iter().copied().chain(step.parts.iter().filter_map(of_part)).collect()
    }

    /// The step in which these lines fold, by their numbers among all lines.
    #[must_use]
    pub fn step_of(&self, lines: &[LineId]) -> Step {
        let mut step = Step::default();
        for &line in lines {
            let own = |part: &PartLayout| {
                let (own, _) = part.lines.iter().find(|(_, all)| **all == line)?;
                Some((part.id, *own))
            };
            match self.parts.iter().find_map(own) {
                Some(of_part) => step.parts.push(of_part),
                None => step.lines.push(line),
            }
        }
        step
    }

    /// The panel that a reference names; `None` where there is none.
    #[must_use]
    pub fn panel_of(&self, panel: PanelRef) -> Option<PanelId> {
        match panel {
            PanelRef::Sheet(mark) => self.panel_at(mark),
            PanelRef::Part(part, at) => Some(self.part(part)?.panels.get(at)?.id),
        }
    }

    /// How the document names a panel; `None` for a sliver of the sheet that has no whole nanometre inside.
    #[must_use]
    pub fn panel_ref(&self, id: PanelId) -> Option<PanelRef> {
        match self.part_of(id) {
            Some(part) => {
                let at = part.panels.iter().position(|panel| panel.id == id)?;
                Some(PanelRef::Part(part.id, at))
            }
            None => self.panel(id).inside.map(PanelRef::Sheet),
        }
    }

    /// What to call a line of the document or of a part.
    #[must_use]
    pub fn line_name(&self, document: &Document, id: LineId) -> String {
        let of_part = |part: &PartLayout| {
            let (own, _) = part.lines.iter().find(|(_, line)| **line == id)?;
            let is_only = part.pattern.document.lines.iter().filter(|line| line.work.is_score()).count() == 1;
            let line = part.pattern.document.line_name(*own);
            Some(if is_only { format!("{}'s fold", part.name) } else { format!("{}, {}", part.name, line) })
        };
        self.parts.iter().find_map(of_part).unwrap_or_else(|| document.line_name(id))
    }

    /// The piece that holds the base.
    #[must_use]
    pub fn folio(&self) -> Option<&Piece> {
        self.base.map(|base| &self.pieces[self.panels[base.0].piece.0])
    }

    /// The pieces that came off, in reading order.
    pub fn offcuts(&self) -> impl Iterator<Item = &Piece> {
        self.pieces.iter().filter(|piece| !piece.is_folio)
    }

    /// The folds of a line within the folio.
    pub fn folio_folds(&self, line: LineId) -> impl Iterator<Item = &Fold> {
        let folio = self.folio().map(|piece| piece.id);
        self.folds.iter().filter(move |fold| fold.line == line && Some(self.panel(fold.panels[0]).piece) == folio)
    }
}

impl Panel {
    /// The least and greatest corner of the upright rectangle around it.
    #[must_use]
    pub fn bounds(&self) -> (Point, Point) {
        bounds(&self.outline)
    }

    /// Its size from side to side and from top to bottom.
    #[must_use]
    pub fn extent(&self) -> (Length, Length) {
        let (low, high) = self.bounds();
        (high.x - low.x, high.y - low.y)
    }
}

impl Fold {
    /// The panel on the other side of the fold; `None` when `panel` is on neither.
    #[must_use]
    pub fn across_from(&self, panel: PanelId) -> Option<PanelId> {
        match self.panels {
            [a, b] if a == panel => Some(b),
            [a, b] if b == panel => Some(a),
            _ => None,
        }
    }
}

/// The cells of an arrangement, told apart.
struct Areas {
    panels: Vec<Panel>,
    voids: Vec<Void>,
    /// What each cell is.
    place: Vec<CellIs>,
}

#[derive(Clone, Copy)]
enum CellIs {
    Panel(PanelId),
    Void,
}

fn areas(plan: &Plan, arrangement: &Arrangement) -> Areas {
    let mut areas = Areas { panels: Vec::new(), voids: Vec::new(), place: Vec::new() };
    for cell in &arrangement.cells {
        let convex = convex_pieces(&cell.outline, &cell.holes);
        let inside = inner_point(&convex);
        let is = if let Some(kind) = plan.void_at(inside, &cell.outline) {
            let (outline, holes) = (cell.outline.clone(), cell.holes.clone());
            areas.voids.push(Void { kind, outline, holes, area: cell.area });
            CellIs::Void
        } else {
            let id = PanelId(areas.panels.len());
            areas.panels.push(Panel {
                id,
                name: String::new(),
                inside,
                convex,
                outline: cell.outline.clone(),
                holes: cell.holes.clone(),
                area: cell.area,
                piece: PieceId(0),
                is_gusset: false,
            });
            CellIs::Panel(id)
        };
        areas.place.push(is);
    }
    areas
}

fn ledger(size: Size, panels: &[Panel], pieces: &[Piece], voids: &[Void]) -> Ledger {
    let whole: Area = panels.iter().map(|panel| panel.area).sum();
    let folio: Area = pieces.iter().filter(|piece| piece.is_folio).map(|piece| piece.area).sum();
    let of = |slot: bool| {
        let mine = voids.iter().filter(|void| matches!(void.kind, VoidKind::Slot(_)) == slot);
        mine.map(|void| void.area).sum()
    };
    Ledger { sheet: size.area(), folio, offcuts: whole - folio, slots: of(true), waste: of(false) }
}
