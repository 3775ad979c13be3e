//! Inserts that are in a design: what each lies in, whether it fits there, and how thick the folio is with them.

use crate::ground::Ground;
use crate::pocket::{Holds, Inside, PocketFit};
use crate::rounding::up_mm;
use crate::tray::TrayFit;
use crate::tuck::CornerSet;
use fold::{Assembly, Folding, thickness};
use model::part::{Edges, Laid};
use model::polygon::bounds;
use model::{Document, Layout, Length, PanelId, Part, PartId, PartKind, PartLayout, Point, SheetEdge, Stock};
use std::collections::BTreeMap;

/// An insert where it lies.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct InsertFit {
    /// The insert.
    pub part: PartId,
    /// What it is called.
    pub name: String,
    /// What it lies in.
    pub lies_in: Holder,
    /// Its width and height as it lies there, on the sheet of what it lies in; of one that lies aslant, those of the
    /// upright rectangle around it.
    pub size: (Length, Length),
    /// The least play that it has between two closed ends, negative where it is too large; `None` where no two ends are
    /// closed.
    pub play: Option<Length>,
    /// How far it stands out of the mouths as it is laid; the farthest of them.
    pub stands_out: Length,
    /// Why it does not fit there; empty where it does.
    pub problems: Vec<Misfit>,
}

/// What an insert lies in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Holder {
    /// A pocket.
    Pocket(PartId),
    /// Tuck corners that face one another.
    Corners(Vec<PartId>),
    /// A tray: a panel between gussets.
    Tray(PanelId),
    /// Nothing: it lies loose on this panel.
    Loose(PanelId),
}

/// Why an insert does not fit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Misfit {
    /// It is so much wider than there is room.
    TooWide(Length),
    /// It is so much higher than there is room.
    TooHigh(Length),
    /// It, with all that lies in the same place, is so much too thick.
    TooThick(Length),
    /// It is drawn so far over the glue or a gusset, and has to be moved.
    OverGlue(Length),
    /// It is too small for the corners round it, and slips out of them.
    SlipsOut,
    /// There is no mouth to put it in by.
    NoMouth,
}

impl InsertFit {
    /// Whether it fits where it lies, and something holds it.
    #[must_use]
    pub fn fits(&self) -> bool {
        self.problems.is_empty() && !matches!(self.lies_in, Holder::Loose(_))
    }
}

/// How thick a closed folio is with what lies in it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Loaded {
    /// Its greatest thickness, rounded up.
    pub thickness: Length,
    /// The inserts that are counted.
    pub counted: Vec<PartId>,
    /// Those that are not, since the assembly could not be put together with them.
    pub left_out: Vec<PartId>,
}

/// Everything that inserts may lie in.
#[derive(Debug, Clone, Copy)]
pub struct Holders<'a> {
    /// From [`crate::pockets`].
    pub pockets: &'a [PocketFit],
    /// From [`crate::corner_sets`].
    pub corners: &'a [CornerSet],
    /// From [`crate::trays`].
    pub trays: &'a [TrayFit],
}

/// Every insert of a design where it lies, in the order in which they are put on. It lies in the first pocket on the same
/// face of the same panel whose front covers some of it; else between the tuck corners round its middle; else in the tray
/// that it lies on.
#[must_use]
pub fn inserts(document: &Document, layout: &Layout, holders: &Holders) -> Vec<InsertFit> {
    let placed: Vec<Insert> =
        layout.parts.iter().filter_map(|part| Insert::of(document, layout, part, holders)).collect();
    // Cards in one pocket lie on one another.
    let mut stacks: BTreeMap<PartId, Length> = BTreeMap::new();
    for insert in &placed {
        if let Holder::Pocket(pocket) = insert.lies_in {
            *stacks.entry(pocket).or_default() += insert.caliper;
        }
    }
    placed.iter().map(|insert| insert.fit(document, layout, holders, &stacks)).collect()
}

/// How thick the closed folio is with the inserts that lie in it, to the next step of a ruler; `None` for a design without
/// inserts.
#[must_use]
pub fn loaded(document: &Document, layout: &Layout, assembly: &Assembly, folding: &Folding) -> Option<Loaded> {
    let is_insert = |part: &&Part| matches!(part.kind, PartKind::Insert(_));
    let is_in = |id: &PartId| {
        let main = layout.part(*id).map(|part| part.main);
        main.is_some_and(|main| assembly.panels.iter().any(|panel| panel.id == main))
    };
    let all: Vec<PartId> = document.parts.iter().filter(is_insert).map(|part| part.id).collect();
    if all.is_empty() {
        return None;
    }
    let (counted, left_out) = all.into_iter().partition(is_in);
    Some(Loaded { thickness: up_mm(thickness(assembly, folding).greatest, document.units), counted, left_out })
}

/// An insert and what it lies in.
struct Insert<'a> {
    part: &'a PartLayout,
    laid: Laid,
    caliper: Length,
    lies_in: Holder,
}

impl<'a> Insert<'a> {
    fn of(document: &Document, layout: &'a Layout, part: &'a PartLayout, holders: &Holders) -> Option<Self> {
        let own = document.part(part.id)?;
        let laid = part.laid.filter(|_| matches!(own.kind, PartKind::Insert(_)))?;
        let of_paper = || own.stock(document).and_then(Stock::thickness);
        let caliper = own.own_caliper().or_else(of_paper).unwrap_or(Stock::USUAL_CALIPER);
        Some(Self { part, laid, caliper, lies_in: holder(document, layout, part, &laid, holders) })
    }

    fn fit(
        &self,
        document: &Document,
        layout: &Layout,
        holders: &Holders,
        stacks: &BTreeMap<PartId, Length>,
    ) -> InsertFit {
        let on_host: Vec<Point> = self.outline().map(|corner| self.laid.on_host(corner)).collect();
        let (low, high) = bounds(&on_host);
        let loose = InsertFit {
            part: self.part.id,
            name: self.part.name.clone(),
            lies_in: self.lies_in.clone(),
            size: (high.x - low.x, high.y - low.y),
            play: None,
            stands_out: Length::ZERO,
            problems: Vec::new(),
        };
        match &self.lies_in {
            Holder::Pocket(id) => {
                let pocket = holders.pockets.iter().find(|pocket| pocket.part == *id);
                let ground = layout.part(*id).and_then(|part| Ground::of(document, layout, part));
                let Some((inside, ground)) = pocket.and_then(inside).zip(ground) else { return loose };
                let there: Vec<Point> = on_host.iter().map(|&corner| ground.on_part(corner)).collect();
                in_pocket(loose, inside, bounds(&there), stacks.get(id).copied().unwrap_or(self.caliper))
            }
            Holder::Corners(parts) => {
                let set =
                    holders.corners.iter().find(|set| set.corners.iter().map(|one| one.part).eq(parts.iter().copied()));
                set.map_or(loose.clone(), |set| in_corners(loose, set))
            }
            Holder::Tray(panel) => {
                let tray = holders.trays.iter().find(|tray| tray.panel == *panel);
                tray.map_or(loose.clone(), |tray| in_tray(loose, tray))
            }
            Holder::Loose(_) => loose,
        }
    }

    fn outline(&self) -> impl Iterator<Item = Point> {
        let main = self.part.panels.iter().filter(|panel| panel.id == self.part.main);
        main.flat_map(|panel| panel.outline.iter().copied())
    }
}

fn inside(pocket: &PocketFit) -> Option<&Inside> {
    match &pocket.holds {
        Holds::Pocket(inside) => Some(inside),
        Holds::Corner(_) | Holds::Surface { .. } => None,
    }
}

fn holder(document: &Document, layout: &Layout, part: &PartLayout, laid: &Laid, holders: &Holders) -> Holder {
    let size = part.pattern.size();
    let middle = laid.on_host(Point::new(size.width().half(), size.height().half()));
    let corners = size.corners().map(|corner| laid.on_host(corner));
    let covers = |pocket: &&PocketFit| {
        let part = layout.part(pocket.part);
        let place = part.and_then(|part| Some((Ground::of(document, layout, part)?, layout.panel(part.main))));
        let is_here = (pocket.host, pocket.face) == (laid.on, laid.face) && inside(pocket).is_some();
        let is_over = |(ground, front): (Ground, &model::Panel)| {
            let there: Vec<Point> = corners.iter().map(|&corner| ground.on_part(corner)).collect();
            let ((low, high), (front_low, front_high)) = (bounds(&there), front.bounds());
            let is_across = low.x < front_high.x && high.x > front_low.x;
            is_across && low.y < front_high.y && high.y > front_low.y
        };
        is_here && place.is_some_and(is_over)
    };
    if let Some(pocket) = holders.pockets.iter().find(covers) {
        return Holder::Pocket(pocket.part);
    }
    let is_within =
        |(low, high): (Point, Point)| (low.x..=high.x).contains(&middle.x) && (low.y..=high.y).contains(&middle.y);
    let frames = |set: &&CornerSet| (set.host, set.face) == (laid.on, laid.face) && is_within(set.space);
    if let Some(set) = holders.corners.iter().find(frames) {
        return Holder::Corners(set.corners.iter().map(|corner| corner.part).collect());
    }
    match holders.trays.iter().find(|tray| tray.panel == laid.on) {
        Some(tray) => Holder::Tray(tray.panel),
        None => Holder::Loose(laid.on),
    }
}

/// How an insert lies in a pocket, by the rectangle that it takes up on the pocket's own sheet.
fn in_pocket(fit: InsertFit, inside: &Inside, (low, high): (Point, Point), stack: Length) -> InsertFit {
    let size = (high.x - low.x, high.y - low.y);
    let mut problems = too_large([inside.room.across.play(size.0), inside.room.down.play(size.1)]);
    if let Some(by) = inside.room.thickest(size).map(|most| stack - most).filter(|by| *by > Length::ZERO) {
        // One that is too large goes in at no thickness; that has been said.
        if problems.is_empty() {
            problems.push(Misfit::TooThick(by));
        }
    }
    let beyond = |edge: SheetEdge| match edge {
        SheetEdge::Top => inside.space.0.y - low.y,
        SheetEdge::Right => high.x - inside.space.1.x,
        SheetEdge::Bottom => high.y - inside.space.1.y,
        SheetEdge::Left => inside.space.0.x - low.x,
    };
    let farthest =
        |edges: &mut dyn Iterator<Item = SheetEdge>| edges.map(beyond).max().unwrap_or_default().max(Length::ZERO);
    let over = farthest(&mut inside.closed.iter());
    if over > Length::ZERO && !is_too_large(&problems) {
        problems.push(Misfit::OverGlue(over));
    }
    let stands_out = farthest(&mut inside.closed.others());
    if inside.closed == Edges::of(&SheetEdge::ALL) {
        problems.push(Misfit::NoMouth);
    }
    InsertFit { size, play: inside.room.play(size), stands_out, problems, ..fit }
}

fn in_corners(fit: InsertFit, set: &CornerSet) -> InsertFit {
    let (width, height) = set.largest();
    let plays = [width - fit.size.0, height - fit.size.1];
    let mut problems = too_large(plays.map(Some));
    if problems.is_empty() && !set.holds(fit.size) {
        problems.push(Misfit::SlipsOut);
    }
    InsertFit { play: plays.into_iter().min(), problems, ..fit }
}

fn in_tray(fit: InsertFit, tray: &TrayFit) -> InsertFit {
    let room = &tray.room;
    let mut problems = too_large([room.across.play(fit.size.0), room.down.play(fit.size.1)]);
    if tray.lacks > Length::ZERO {
        problems.push(Misfit::TooThick(tray.lacks));
    }
    let stands_out = room.across.stands_out(fit.size.0).max(room.down.stands_out(fit.size.1));
    InsertFit { play: room.play(fit.size), stands_out, problems, ..fit }
}

fn too_large([across, down]: [Option<Length>; 2]) -> Vec<Misfit> {
    let short = |play: Option<Length>| play.filter(|play| *play < Length::ZERO).map(|play| -play);
    short(across).map(Misfit::TooWide).into_iter().chain(short(down).map(Misfit::TooHigh)).collect()
}

fn is_too_large(problems: &[Misfit]) -> bool {
    problems.iter().any(|problem| matches!(problem, Misfit::TooWide(_) | Misfit::TooHigh(_)))
}
