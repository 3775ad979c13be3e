//! What is to be put together, in plain terms: a folio, parts glued to it, and the steps that close it.
//!
//! Everything is named by the numbers of its panels and lines, and measured as on a sheet (y runs down). Checked once,
//! in [`Blueprint::assembly`]. Parts that hold together only later on the way, glued when some steps are over, have no
//! place here yet.

use crate::assembly::{Assembly, Bond, Joint, PanelShape, Start, StepJoints, to_world, ways};
use crate::close::close_settled;
use crate::facet::facets;
use crate::glued::is_glued;
use crate::height::up;
use crate::layer::{Lie, Side};
use crate::relations::Relations;
use crate::ring::rings;
use crate::settle::settled;
use crate::tuck::Tuck;
use glam::{DAffine3, DMat3, DVec2, DVec3};
use model::{Face, Fold, LineId, PanelId, Point, Segment};
use std::collections::{BTreeMap, BTreeSet};
use std::fmt;

/// A folio with its parts, before it is put together.
#[derive(Debug, Clone, PartialEq)]
pub struct Blueprint {
    /// The piece that the base belongs to.
    pub folio: Piece,
    /// The panel that lies still.
    pub base: PanelId,
    /// Whether it lies with its back up.
    pub back_up: bool,
    /// What is glued on, each after what it is glued to.
    pub parts: Vec<Part>,
    /// Where the glue is.
    pub bonds: Vec<Glue>,
    /// What is folded, step by step.
    pub steps: Vec<BlueprintStep>,
}

/// A flat piece of paper with its folds.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Piece {
    /// Its panels. Their numbers ascend, through the folio and then part by part.
    pub panels: Vec<PiecePanel>,
    /// Its folds, each between two panels of the piece.
    pub folds: Vec<Fold>,
    /// How thick its stock is, in mm; zero when unknown. What is negative or no number counts as unknown.
    pub caliper: f64,
}

/// A panel of a piece.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PiecePanel {
    /// Its number.
    pub id: PanelId,
    /// Its outer boundary, clockwise as the maker sees it.
    pub outline: Vec<Point>,
    /// Boundaries of openings in it, anticlockwise.
    pub holes: Vec<Vec<Point>>,
    /// The same area as convex polygons, clockwise.
    pub convex: Vec<Vec<Point>>,
}

/// A piece that is folded on its own first, and then glued on.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// The piece.
    pub piece: Piece,
    /// What is folded before it is glued on, step by step.
    pub folded: Vec<Vec<LineId>>,
    /// The panel that is laid down; it lies still while the part is folded on its own.
    pub panel: PanelId,
    /// The panel on which it is laid.
    pub on: PanelId,
    /// The face of that panel on which it is laid.
    pub face: Face,
    /// Where the origin of the part's own sheet comes to lie on the sheet of the panel under it.
    pub origin: Point,
    /// Where its X axis points there, `(1, 0)` for a part that is not turned. Of any length but 0.
    pub right: DVec2,
    /// Whether its front faces the way that the back of the panel under it does: it is turned over about its Y axis first.
    pub turned_over: bool,
    /// The part, as a place in [`Blueprint::parts`], between which and the panel under it this one is slid. Else it lies
    /// on everything that was put there before.
    pub inside: Option<usize>,
}

/// Glue between two panels.
#[derive(Debug, Clone, PartialEq)]
pub struct Glue {
    /// The two panels.
    pub panels: [PanelId; 2],
    /// The face of each that the glue is on.
    pub faces: [Face; 2],
    /// Where, as convex polygons on the sheet of the first.
    pub area: Vec<Vec<Point>>,
}

/// What is folded in one step.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct BlueprintStep {
    /// Lines, all of whose folds fold. A line folds in the first step that names it.
    pub lines: Vec<LineId>,
    /// Panels that are tucked under another: the panel that moves, and the one under which it comes to lie.
    pub tucks: Vec<[PanelId; 2]>,
}

/// Why a blueprint can't be put together.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BlueprintFault {
    /// The numbers of the panels don't ascend from piece to piece.
    Unordered(PanelId),
    /// No piece, or not the piece that it should belong to, has a panel of this number.
    NoPanel(PanelId),
    /// The panel has no area.
    NoArea(PanelId),
    /// The line joins a panel to itself, or there is no length along which it does.
    NoFold(LineId),
    /// The part's place on this panel has no direction, or lies beyond all measure.
    NoPlace(PanelId),
    /// The two panels don't lie on one another with the faces that are glued, or not where the glue is.
    NotTogether([PanelId; 2]),
    /// The part, on its own, can't be folded as it should be before it is glued on; this panel is the one laid down.
    PartBlocked(PanelId),
}

impl fmt::Display for BlueprintFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Unordered(PanelId(n)) => {
                write!(f, "Panel {n} follows one of a higher or the same number; number the panels upwards.")
            }
            Self::NoPanel(PanelId(n)) => write!(f, "There is no panel {n} where one is named; name one that there is."),
            Self::NoArea(PanelId(n)) => {
                write!(f, "Panel {n} has no area; give it an outline of three corners or more.")
            }
            Self::NoFold(line) => write!(f, "Line {line} does not join two panels; let it run along both of them."),
            Self::NoPlace(PanelId(n)) => {
                write!(f, "The part laid on panel {n} has no direction; say where its right side points.")
            }
            Self::NotTogether([PanelId(a), PanelId(b)]) => {
                write!(f, "Panels {a} and {b} don't lie on one another with the glued faces; lay them so.")
            }
            Self::PartBlocked(PanelId(n)) => {
                write!(f, "The part of panel {n} can't be folded before it is glued on; fold it in another order.")
            }
        }
    }
}

impl std::error::Error for BlueprintFault {}

impl PiecePanel {
    /// A panel by its outline, clockwise as the maker sees it, without openings.
    #[must_use]
    pub fn new(id: PanelId, outline: Vec<Point>) -> Self {
        let convex = model::polygon::convex_pieces(&outline, &[]);
        Self { id, outline, holes: Vec::new(), convex }
    }
}

impl Blueprint {
    /// A folio without parts, glue and steps, front up.
    #[must_use]
    pub const fn new(folio: Piece, base: PanelId) -> Self {
        Self { folio, base, back_up: false, parts: Vec::new(), bonds: Vec::new(), steps: Vec::new() }
    }

    /// Puts it together.
    ///
    /// # Errors
    /// Anything of [`BlueprintFault`].
    pub fn assembly(&self) -> Result<Assembly, BlueprintFault> {
        let mut places = BTreeMap::new();
        for panel in self.pieces().flat_map(|piece| &piece.panels) {
            if places.last_key_value().is_some_and(|(last, _)| *last >= panel.id) {
                return Err(BlueprintFault::Unordered(panel.id));
            }
            if panel.outline.len() < 3 || panel.convex.is_empty() {
                return Err(BlueprintFault::NoArea(panel.id));
            }
            places.insert(panel.id, places.len());
        }
        let place = |id: PanelId| places.get(&id).copied().ok_or(BlueprintFault::NoPanel(id));
        has(&self.folio, self.base)?;
        let mut assembly = self.of_pieces(place(self.base)?)?;
        self.place_parts(&mut assembly, &place)?;
        for glue in &self.bonds {
            let panels = [place(glue.panels[0])?, place(glue.panels[1])?];
            let turned = |shape: &Vec<Point>| shape.iter().rev().map(|&point| to_world(point)).collect();
            let area = glue.area.iter().map(turned).collect();
            assembly.bonds.push(Bond { panels, faces: glue.faces, area });
        }
        self.check_bonds(&assembly)?;
        for (of_step, step) in assembly.steps.iter_mut().zip(&self.steps) {
            for &[moving, under] in &step.tucks {
                of_step.tucks.push(Tuck { moving: place(moving)?, under: place(under)? });
            }
        }
        assembly.ways = ways(assembly.panels.len(), assembly.base, &assembly.joints, &assembly.bonds, &assembly.steps);
        Ok(assembly)
    }

    pub(crate) fn pieces(&self) -> impl Iterator<Item = &Piece> {
        std::iter::once(&self.folio).chain(self.parts.iter().map(|part| &part.piece))
    }

    /// Panels, joints and steps, everything flat on its own sheet.
    fn of_pieces(&self, base: usize) -> Result<Assembly, BlueprintFault> {
        let shapes =
            |piece: &'_ Piece| piece.panels.iter().map(|panel| shape(panel, piece.caliper)).collect::<Vec<_>>();
        let panels: Vec<PanelShape> = self.pieces().flat_map(shapes).collect();
        let (mut joints, mut first) = (Vec::new(), 0);
        for piece in self.pieces() {
            for fold in &piece.folds {
                joints.push(joint(piece, fold, first)?);
            }
            first += piece.panels.len();
        }
        let steps = steps(self.steps.iter().map(|step| step.lines.as_slice()), &joints);
        let before = self.parts.iter().flat_map(|part| &part.folded).flatten();
        let named: BTreeSet<LineId> = self.steps.iter().flat_map(|step| &step.lines).chain(before).copied().collect();
        let scored: BTreeSet<LineId> = joints.iter().map(|joint| joint.line).collect();
        let count = panels.len();
        let lying = if self.back_up { turned_over(&panels[base]) } else { DAffine3::IDENTITY };
        let start = Start {
            frames: vec![lying; count],
            turned: vec![0; joints.len()],
            relations: Relations::none(facets(&panels).len()),
        };
        Ok(Assembly {
            vertices: rings(&panels, &joints),
            loose: scored.difference(&named).copied().collect(),
            left_out: BTreeMap::new(),
            panels,
            joints,
            bonds: Vec::new(),
            base,
            steps,
            ways: Vec::new(),
            start,
        })
    }

    /// Folds each part on its own, lays it where it belongs, and notes what lies on what then.
    fn place_parts(
        &self,
        assembly: &mut Assembly,
        place: &impl Fn(PanelId) -> Result<usize, BlueprintFault>,
    ) -> Result<(), BlueprintFault> {
        // For each piece its rank among all from low to high, which is that of their order wherever they overlap.
        let mut pile = vec![0];
        let mut piece_of = vec![0; self.folio.panels.len()];
        let mut hosts = vec![(0, false)];
        let (mut first, mut first_joint) = (self.folio.panels.len(), self.folio.folds.len());
        let mut first_facet: usize = self.folio.panels.iter().map(|panel| panel.convex.len()).sum();
        for (i, part) in self.parts.iter().enumerate() {
            let on = place(part.on)?;
            has(&part.piece, part.panel)?;
            let Some(&host) = piece_of.get(on) else { return Err(BlueprintFault::NoPanel(part.on)) };
            let own = folded(part)?;
            let laid = assembly.start.frames[on] * part.laid()?;
            for (k, frame) in own.frames.iter().enumerate() {
                assembly.start.frames[first + k] = laid * *frame;
            }
            assembly.start.turned[first_joint..first_joint + own.turned.len()].copy_from_slice(&own.turned);
            assembly.start.relations.insert(&own.relations, first_facet);
            first_joint += own.turned.len();
            first_facet += part.piece.panels.iter().map(|panel| panel.convex.len()).sum::<usize>();
            first += part.piece.panels.len();
            piece_of.resize(first, i + 1);
            let normal = assembly.start.frames[on].matrix3.z_axis;
            let is_over = (part.face == Face::Front) == (normal.dot(up(normal)) > 0.0);
            hosts.push((host, is_over));
            let inside = part.inside.and_then(|part| pile.iter().position(|&piece| piece == part + 1));
            let place = match inside {
                Some(at) => at + usize::from(!is_over),
                None => slot(&pile, &hosts, host, is_over),
            };
            pile.insert(place, i + 1);
        }
        if !self.parts.is_empty() {
            note_pile(assembly, &piece_of, &pile);
        }
        Ok(())
    }

    /// Glue between faces that do not meet is a mistake.
    fn check_bonds(&self, assembly: &Assembly) -> Result<(), BlueprintFault> {
        let facets = facets(&assembly.panels);
        for bond in &assembly.bonds {
            let [a, b] = bond.panels;
            let mut meeting = (0..facets.len()).filter(|&f| facets[f].panel == a).flat_map(|f| {
                let others = (0..facets.len()).filter(|&g| facets[g].panel == b);
                others.filter_map(move |g| Some((f, g, assembly.start.relations.side(f, g)?)))
            });
            let faces = bond.faces.map(Side::of);
            let meets =
                meeting.any(|(f, g, side)| side == faces[0] && assembly.start.relations.side(g, f) == Some(faces[1]));
            let holds = bond.area.is_empty() || is_glued(&assembly.panels, &assembly.start.frames, bond);
            if a == b || !meets || !holds {
                return Err(BlueprintFault::NotTogether([assembly.panels[a].id, assembly.panels[b].id]));
            }
        }
        Ok(())
    }
}

impl Part {
    /// From its own sheet to that of the panel under it.
    fn laid(&self) -> Result<DAffine3, BlueprintFault> {
        let right = self.right.normalize_or_zero();
        if right == DVec2::ZERO {
            return Err(BlueprintFault::NoPlace(self.on));
        }
        // On the sheet y runs down, in the world up.
        let right = DVec3::new(right.x, -right.y, 0.0);
        let up = DVec3::Z.cross(right);
        let front = DVec3::Z;
        let turn =
            if self.turned_over { DMat3::from_cols(-right, up, -front) } else { DMat3::from_cols(right, up, front) };
        Ok(DAffine3::from_mat3_translation(turn, to_world(self.origin).extend(0.0)))
    }
}

fn has(piece: &Piece, panel: PanelId) -> Result<(), BlueprintFault> {
    let found = piece.panels.iter().any(|of_piece| of_piece.id == panel);
    if found { Ok(()) } else { Err(BlueprintFault::NoPanel(panel)) }
}

/// How a part lies, on its own sheet, when it has been folded on its own.
fn folded(part: &Part) -> Result<Start, BlueprintFault> {
    let steps = part.folded.iter().map(|lines| BlueprintStep { lines: lines.clone(), tucks: Vec::new() });
    let alone = Blueprint { steps: steps.collect(), ..Blueprint::new(part.piece.clone(), part.panel) }.assembly()?;
    if part.folded.is_empty() {
        return Ok(alone.start);
    }
    let folding = close_settled(&settled(&alone));
    if folding.troubles().iter().any(|trouble| !matches!(trouble, crate::Trouble::NotInSteps { .. })) {
        return Err(BlueprintFault::PartBlocked(part.panel));
    }
    let frames = folding.frames.last().cloned().unwrap_or_default();
    Ok(Start { frames, turned: folding.turned, relations: folding.relations })
}

/// Where in the pile a piece goes that is laid on `host`: beyond all others where everything up to it lies on the same
/// side of the folio, else beyond whatever lies on that side of the host already.
fn slot(pile: &[usize], hosts: &[(usize, bool)], host: usize, is_over: bool) -> usize {
    let mut above = host;
    while above != 0 && hosts[above].1 == is_over {
        above = hosts[above].0;
    }
    if above == 0 {
        return if is_over { pile.len() } else { 0 };
    }
    let at = pile.iter().position(|&piece| piece == host).unwrap_or(0);
    let hangs_there = |&piece: &usize| {
        let mut piece = piece;
        while piece != 0 && hosts[piece].0 != host {
            piece = hosts[piece].0;
        }
        piece != 0 && hosts[piece] == (host, is_over)
    };
    if is_over {
        at + 1 + pile[at + 1..].iter().take_while(|piece| hangs_there(piece)).count()
    } else {
        at - pile[..at].iter().rev().take_while(|piece| hangs_there(piece)).count()
    }
}

/// Notes what lies on what where pieces do.
fn note_pile(assembly: &mut Assembly, piece_of: &[usize], pile: &[usize]) {
    let facets = facets(&assembly.panels);
    let lie = Lie::new(&facets, &*assembly.start.frames);
    let rank = |facet: usize| pile.iter().position(|&piece| piece == piece_of[facets[facet].panel]);
    for a in 0..facets.len() {
        for b in (a + 1..facets.len()).filter(|&b| rank(b) != rank(a) && lie.covered(a, b).is_some()) {
            let normal = lie.normal(a);
            let in_front = (rank(b) > rank(a)) == (normal.dot(up(normal)) > 0.0);
            assembly.start.relations.set(&lie, a, b, Some(if in_front { Side::Front } else { Side::Back }));
        }
    }
}

/// The frame of a sheet that lies with its back up, turned over about the upright line through the middle of its base.
fn turned_over(base: &PanelShape) -> DAffine3 {
    let start = (f64::INFINITY, f64::NEG_INFINITY);
    let (low, high) = base.outline.iter().fold(start, |(low, high), point| (low.min(point.x), high.max(point.x)));
    DAffine3::from_mat3_translation(DMat3::from_diagonal(DVec3::new(-1.0, 1.0, -1.0)), DVec3::X * (low + high))
}

fn shape(panel: &PiecePanel, caliper: f64) -> PanelShape {
    // Clockwise as the maker sees it, so to be turned round for a plane whose y runs up.
    let turned = |outline: &Vec<Point>| outline.iter().rev().map(|&point| to_world(point)).collect::<Vec<_>>();
    PanelShape {
        id: panel.id,
        outline: turned(&panel.outline),
        holes: panel.holes.iter().map(turned).collect(),
        convex: panel.convex.iter().map(turned).collect(),
        caliper: if caliper.is_finite() { caliper.max(0.0) } else { 0.0 },
    }
}

/// A fold of a piece whose first panel has the number `first`.
fn joint(piece: &Piece, fold: &Fold, first: usize) -> Result<Joint, BlueprintFault> {
    let place = |id: PanelId| {
        let place = piece.panels.binary_search_by_key(&id, |panel| panel.id).ok();
        place.ok_or(BlueprintFault::NoPanel(id))
    };
    let [a, b] = [place(fold.panels[0])?, place(fold.panels[1])?];
    let is_long = |stretch: &Segment| stretch.a != stretch.b;
    if a == b || fold.stretches.is_empty() || !fold.stretches.iter().all(is_long) {
        return Err(BlueprintFault::NoFold(fold.line));
    }
    Ok(Joint {
        fold: fold.id,
        line: fold.line,
        panels: [first + a, first + b],
        stretches: fold.stretches.iter().map(|&stretch| directed(&piece.panels[a], stretch)).collect(),
        segments: fold.stretches.clone(),
        crease: fold.crease,
    })
}

/// Each line folds once: in the first step that names it.
fn steps<'a>(steps: impl Iterator<Item = &'a [LineId]>, joints: &[Joint]) -> Vec<StepJoints> {
    let mut by_line: BTreeMap<LineId, Vec<usize>> = BTreeMap::new();
    for (j, joint) in joints.iter().enumerate() {
        by_line.entry(joint.line).or_default().push(j);
    }
    let mut seen = BTreeSet::new();
    let of_step = |lines: &[LineId]| {
        let lines: BTreeSet<LineId> = lines.iter().copied().filter(|&line| seen.insert(line)).collect();
        let mut joints: Vec<usize> = lines.iter().filter_map(|line| by_line.get(line)).flatten().copied().collect();
        joints.sort_unstable();
        StepJoints { joints, tucks: Vec::new() }
    };
    steps.map(of_step).collect()
}

/// A stretch of `panel`'s boundary, in the direction that has the panel on its left as seen from the front.
fn directed(panel: &PiecePanel, stretch: Segment) -> (DVec2, DVec2) {
    let way = stretch.b - stretch.a;
    let along = |&(p, q): &(Point, Point)| {
        let (from, to) = ((p - stretch.a).dot(way), (q - stretch.a).dot(way));
        let on = way.cross(p - stretch.a) == 0 && way.cross(q - stretch.a) == 0;
        on && from.min(to) < way.dot(way) && from.max(to) > 0
    };
    let mut around = std::iter::once(&panel.outline).chain(&panel.holes).flat_map(|path| model::polygon::edges(path));
    // The outlines have their panel on the right.
    match around.find(along) {
        Some((p, q)) if (q - p).dot(way) > 0 => (to_world(stretch.b), to_world(stretch.a)),
        _ => (to_world(stretch.a), to_world(stretch.b)),
    }
}
