//! The layout of the flat sheet: panels, folds, pieces, offcuts and a ledger of areas, derived from a document.

use crate::arrangement::{Arrangement, Cell};
use crate::document::Document;
use crate::geometry::{Area, Point, Size};
use crate::length::Length;
use crate::line::{Crease, LineId, Work};
use crate::naming;
use crate::polygon::{Inside, bounds, convex_pieces, inner_point, locate};
use crate::resolve::{LineFault, Placed, Segment, resolve};
use std::collections::BTreeMap;

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
    /// The flat areas, in reading order. Only lines that part or fold are drawn on a sheet, so each cell of the
    /// arrangement is a panel.
    pub panels: Vec<Panel>,
    /// Where panels are joined, by panel and line.
    pub folds: Vec<Fold>,
    /// Every stretch between neighbouring crossings, with what is done along it.
    pub stretches: Vec<Stretch>,
    /// What hangs together after cutting: the folio first, then offcuts in reading order.
    pub pieces: Vec<Piece>,
    /// The panel that lies still, where the mark for it lies inside one.
    pub base: Option<PanelId>,
    /// Where the sheet's area went.
    pub ledger: Ledger,
}

/// A flat area bounded by folds, cuts and the outline.
#[derive(Debug, Clone, PartialEq)]
pub struct Panel {
    /// Its place in the list.
    pub id: PanelId,
    /// What it is called, unlike any other here: by where it lies from the base.
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
    /// What is done along it; `None` along the sheet's edge. A cut outweighs a score, an earlier line a later.
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
    /// Whether it holds the base.
    pub is_folio: bool,
    /// Its panels.
    pub panels: Vec<PanelId>,
    /// Its area.
    pub area: Area,
    /// The least and greatest corner of the upright rectangle around it.
    pub bounds: (Point, Point),
}

/// Where the sheet's area went. `folio + offcuts` is `sheet`, to the last square nanometre.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Ledger {
    /// The whole sheet.
    pub sheet: Area,
    /// What stays.
    pub folio: Area,
    /// What comes off; the whole sheet when no base is marked.
    pub offcuts: Area,
}

impl Layout {
    /// Works out the layout of a document's sheet. Lines without a place are left out (see [`Layout::lines`]).
    #[must_use]
    pub fn of(document: &Document) -> Self {
        let size = document.stock.size;
        let lines = resolve(document);
        let corners = size.corners();
        let mut segments: Vec<Segment> = (0..4).map(|i| Segment { a: corners[i], b: corners[(i + 1) % 4] }).collect();
        let mut drawn = Vec::new();
        for line in &document.lines {
            if let Some(Ok(placed)) = lines.get(&line.id) {
                segments.push(placed.segment);
                drawn.push((line.id, line.work));
            }
        }
        let arrangement = Arrangement::new(&segments);
        let base = document.base.and_then(|point| arrangement.cell_at(point)).map(PanelId);
        let stretches = stretches(&arrangement, &drawn);
        let folds = folds(&stretches);
        let piece_of = pieces_of(arrangement.cells.len(), &folds, base);
        let mut panels: Vec<Panel> =
            arrangement.cells.into_iter().enumerate().map(|(i, cell)| panel(i, cell, piece_of[i])).collect();
        naming::name_panels(&mut panels, &folds, base);
        let pieces = pieces(&panels, base);
        let folio = base.map_or(Area::ZERO, |base| pieces[panels[base.0].piece.0].area);
        let whole: Area = panels.iter().map(|panel| panel.area).sum();
        let ledger = Ledger { sheet: size.area(), folio, offcuts: whole - folio };
        Self { size, lines, panels, folds, stretches, pieces, base, ledger }
    }

    /// The panel strictly around `point`.
    #[must_use]
    pub fn panel_at(&self, point: Point) -> Option<PanelId> {
        let around = |panel: &&Panel| locate(point, &panel.outline, &panel.holes) == Inside::Yes;
        self.panels.iter().find(around).map(|panel| panel.id)
    }

    /// The panel called `id`.
    #[must_use]
    pub fn panel(&self, id: PanelId) -> &Panel {
        &self.panels[id.0]
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

fn stretches(arrangement: &Arrangement, drawn: &[(LineId, Work)]) -> Vec<Stretch> {
    let stretch = |edge: &crate::arrangement::Edge| {
        // The sheet's own edges are the first four segments.
        let on: Vec<(LineId, Work)> =
            edge.covers.iter().filter_map(|&i| drawn.get(i.checked_sub(4)?).copied()).collect();
        let along_edge = edge.covers.iter().any(|&i| i < 4);
        let work = on.iter().map(|(_, work)| *work).find(|work| work.is_cut()).or_else(|| on.first().map(|(_, w)| *w));
        Stretch {
            segment: edge.segment,
            lines: on.iter().map(|(id, _)| *id).collect(),
            work: if along_edge { None } else { work },
            sides: edge.sides.map(|side| side.map(PanelId)),
        }
    };
    arrangement.edges.iter().map(stretch).collect()
}

fn folds(stretches: &[Stretch]) -> Vec<Fold> {
    let mut found: BTreeMap<([PanelId; 2], LineId), (Crease, Vec<Segment>)> = BTreeMap::new();
    for stretch in stretches {
        let (Some(Work::Score(crease)), [Some(a), Some(b)]) = (stretch.work, stretch.sides) else { continue };
        let Some(&line) = stretch.lines.first() else { continue };
        if a != b {
            let (_, segments) = found.entry(([a.min(b), a.max(b)], line)).or_insert((crease, Vec::new()));
            segments.push(stretch.segment);
        }
    }
    let fold = |(i, ((panels, line), (crease, segments)))| Fold {
        id: FoldId(i),
        line,
        crease,
        panels,
        stretches: joined(segments),
    };
    found.into_iter().enumerate().map(fold).collect()
}

/// Joins stretches that follow one another. Given in ascending order, all on one line.
fn joined(segments: Vec<Segment>) -> Vec<Segment> {
    let mut out: Vec<Segment> = Vec::new();
    for segment in segments {
        match out.last_mut() {
            Some(last) if last.b == segment.a && (last.b - last.a).cross(segment.b - segment.a) == 0 => {
                last.b = segment.b;
            }
            _ => out.push(segment),
        }
    }
    out
}

/// The piece of each panel, the folio being piece 0 when there is a base, the others in reading order.
fn pieces_of(count: usize, folds: &[Fold], base: Option<PanelId>) -> Vec<PieceId> {
    let mut joined: Vec<Vec<usize>> = vec![Vec::new(); count];
    for fold in folds {
        let [PanelId(a), PanelId(b)] = fold.panels;
        joined[a].push(b);
        joined[b].push(a);
    }
    let mut piece = vec![None; count];
    let mut pieces = 0;
    for start in base.iter().map(|base| base.0).chain(0..count) {
        let mut reached = vec![start];
        if piece[start].is_some() {
            continue;
        }
        piece[start] = Some(PieceId(pieces));
        while let Some(at) = reached.pop() {
            for &next in &joined[at] {
                if piece[next].is_none() {
                    piece[next] = Some(PieceId(pieces));
                    reached.push(next);
                }
            }
        }
        pieces += 1;
    }
    piece.into_iter().flatten().collect()
}

fn panel(index: usize, cell: Cell, piece: PieceId) -> Panel {
    let convex = convex_pieces(&cell.outline, &cell.holes);
    Panel {
        id: PanelId(index),
        name: String::new(),
        inside: inner_point(&convex),
        convex,
        outline: cell.outline,
        holes: cell.holes,
        area: cell.area,
        piece,
    }
}

fn pieces(panels: &[Panel], base: Option<PanelId>) -> Vec<Piece> {
    let count = panels.iter().map(|panel| panel.piece.0 + 1).max().unwrap_or(0);
    let folio = base.map(|base| panels[base.0].piece);
    let mut members: Vec<Vec<&Panel>> = vec![Vec::new(); count];
    for panel in panels {
        members[panel.piece.0].push(panel);
    }
    members
        .into_iter()
        .enumerate()
        .map(|(i, mine)| {
            let id = PieceId(i);
            let corners: Vec<Point> = mine.iter().flat_map(|panel| panel.outline.iter().copied()).collect();
            let is_folio = folio == Some(id);
            let number = if folio.is_some() { i } else { i + 1 };
            Piece {
                id,
                name: if is_folio { "Folio".to_owned() } else { format!("Offcut {number}") },
                is_folio,
                panels: mine.iter().map(|panel| panel.id).collect(),
                area: mine.iter().map(|panel| panel.area).sum(),
                bounds: bounds(&corners),
            }
        })
        .collect()
}
