//! The offcuts of a sheet given out to parts: whole ones first, then those that parts name, then whichever fits.

mod attempt;
mod reason;
mod used;

use crate::allotment::{Allotment, Cutout, OffcutPaper, OffcutUse, Origin, Standing, Supply};
use crate::inner::{self, SLIVER};
use crate::ledger::Ledger;
use crate::remark::Remark;
use crate::round::{Blank, Round};
use crate::settings::Settings;
use crate::shape::Shape;
use crate::sheet::sheets;
use crate::upright::Views;
use crate::wanted::Wanted;
use crate::whole::fit;
use model::part::Source;
use model::{Document, Layout, PartId, PieceId, Point, Size};
use nest::Leftover;
use std::collections::BTreeMap;

/// Says for every part of a design which paper it is cut from. `layout` has to be the document's.
#[must_use]
pub fn allot(document: &Document, layout: &Layout, settings: &Settings) -> Allotment {
    let views = Views::of(document, layout);
    let with_paper = document.parts.iter().filter(|part| part.source != Source::Bought);
    let laid = with_paper.filter_map(|part| Wanted::of(document, &views, part, layout.part(part.id)?, settings));
    let wanted: Vec<Wanted<'_>> = laid.collect();
    let mut yard = Yard::new(document, layout, &wanted, settings);
    yard.take_whole();
    yard.take_alike();
    yard.cut();
    yard.take_by_shape();
    let (sheets, from_sheets) = sheets(document, &wanted, settings);
    yard.origins.extend(from_sheets);
    yard.say_what_is_missing();
    let offcuts: Vec<OffcutUse> = (0..yard.offcuts.len()).map(|at| yard.used(at)).collect();
    let ledger = Ledger::of(layout.ledger, offcuts.iter().map(|offcut| &offcut.ledger));
    let supplies = document.parts.iter().map(|part| yard.supply(part.id)).collect();
    let Yard { standing, rounds, .. } = yard;
    let rounds = rounds.into_iter().map(|(round, _)| round).collect();
    Allotment { settings: *settings, supplies, offcuts, sheets, standing, ledger, rounds }
}

/// A piece that came off.
pub(crate) struct Offcut {
    pub(crate) piece: PieceId,
    pub(crate) name: String,
    pub(crate) shape: Shape,
    pub(crate) paper: OffcutPaper,
    /// The part that takes it as it is, in the list of what is wanted.
    whole: Option<usize>,
}

impl Offcut {
    pub(crate) fn of(layout: &Layout, piece: &model::Piece) -> Self {
        let shape = Shape::of(layout, &piece.panels);
        let is_narrow = |size: Size| size.width() < SLIVER || size.height() < SLIVER;
        let paper = match shape.exact() {
            _ if shape.size().is_none_or(is_narrow) => OffcutPaper::Sliver,
            Some(_) => OffcutPaper::Exact,
            None => match inner::rects(&shape) {
                rects if rects.is_empty() => OffcutPaper::Sliver,
                rects => OffcutPaper::Rectangles(rects),
            },
        };
        Self { piece: piece.id, name: piece.name.clone(), shape, paper, whole: None }
    }

    fn blanks(&self) -> Vec<Blank> {
        let blank = |paper| Blank { piece: self.piece, paper };
        match &self.paper {
            OffcutPaper::Exact => self.shape.exact().into_iter().map(blank).collect(),
            OffcutPaper::Rectangles(rects) => rects.iter().map(|&rect| blank(Leftover::Rect(rect))).collect(),
            OffcutPaper::Sliver => Vec::new(),
        }
    }
}

/// A question to nesting with its answer, and where in the list of what is wanted each placement is.
type Rounds = Vec<(Round, Vec<usize>)>;

struct Yard<'a> {
    document: &'a Document,
    layout: &'a Layout,
    wanted: &'a [Wanted<'a>],
    settings: &'a Settings,
    offcuts: Vec<Offcut>,
    blanks: Vec<Blank>,
    /// What becomes of each of those wanted.
    origins: BTreeMap<usize, Origin>,
    rounds: Rounds,
    standing: Standing,
}

impl<'a> Yard<'a> {
    fn new(document: &'a Document, layout: &'a Layout, wanted: &'a [Wanted<'a>], settings: &'a Settings) -> Self {
        let offcuts: Vec<Offcut> = layout.offcuts().map(|piece| Offcut::of(layout, piece)).collect();
        let (blanks, origins, rounds) = (Vec::new(), BTreeMap::new(), Vec::new());
        Self { document, layout, wanted, settings, offcuts, blanks, origins, rounds, standing: Standing::Proved }
    }

    /// The offcut around a mark, or why there is none.
    fn marked(&self, at: usize, mark: Point) -> Result<usize, Remark> {
        let name = &self.wanted[at].name;
        let piece = self.layout.panel_at(mark).map(|panel| self.layout.panel(panel).piece);
        let offcut = self.offcuts.iter().position(|offcut| Some(offcut.piece) == piece);
        match (piece, offcut) {
            (None, _) => {
                let what = format!("No paper is left where the offcut for \"{name}\" is marked");
                Err(Remark::new(what, "choose another offcut"))
            }
            (_, None) => {
                let what = format!("The paper marked for \"{name}\" is part of the folio");
                Err(Remark::new(what, "cut it away, or choose an offcut"))
            }
            (_, Some(offcut)) => match self.offcuts[offcut].whole {
                Some(other) => {
                    let (offcut, other) = (&self.offcuts[offcut].name, &self.wanted[other].name);
                    let what = format!("{offcut} is taken whole by \"{other}\"");
                    Err(Remark::new(what, format!("choose another offcut for \"{name}\"")))
                }
                None => Ok(offcut),
            },
        }
    }

    /// Parts that take an offcut just as it is.
    fn take_whole(&mut self) {
        for at in 0..self.wanted.len() {
            let Source::Whole(mark) = self.wanted[at].part.source else { continue };
            let origin = match self.marked(at, mark) {
                Ok(offcut) => match self.fit(at, offcut) {
                    Some(cutout) => self.whole(at, offcut, cutout),
                    None => Origin::Missing(self.mismatch(at, offcut)),
                },
                Err(why) => Origin::Missing(why),
            };
            self.origins.insert(at, origin);
        }
    }

    fn fit(&self, at: usize, offcut: usize) -> Option<Cutout> {
        let Wanted { shape, size, demand, .. } = &self.wanted[at];
        fit(shape, *size, *demand, &self.offcuts[offcut].shape)
    }

    fn whole(&mut self, at: usize, offcut: usize, cutout: Cutout) -> Origin {
        let offcut = &mut self.offcuts[offcut];
        offcut.whole = Some(at);
        Origin::Offcut { piece: offcut.piece, name: offcut.name.clone(), cutout, whole: true }
    }

    /// Parts that are no rectangles take an offcut of just their shape before that is cut into rectangles.
    fn take_alike(&mut self) {
        for at in 0..self.wanted.len() {
            if self.wanted[at].own_area() != self.wanted[at].size.area() {
                let area = self.wanted[at].own_area();
                self.take_shaped(at, &|offcut| offcut.shape.area == area);
            }
        }
    }

    /// Parts that no rectangle holds take an untouched offcut that they lie within.
    fn take_by_shape(&mut self) {
        for at in 0..self.wanted.len() {
            let area = self.wanted[at].own_area();
            self.take_shaped(at, &|offcut| offcut.shape.area >= area);
        }
        let is_short = (0..self.wanted.len()).any(|at| self.is_open(at));
        if !is_short {
            self.standing = Standing::Proved;
        }
    }

    /// Whether a part may come from an offcut, and has no paper yet.
    fn is_open(&self, at: usize) -> bool {
        matches!(self.wanted[at].part.source, Source::AnyOffcut | Source::Offcut(_)) && !self.origins.contains_key(&at)
    }

    /// Takes the smallest untouched offcut that a part lies within, of those that will do.
    fn take_shaped(&mut self, at: usize, will_do: &dyn Fn(&Offcut) -> bool) {
        if !self.is_open(at) {
            return;
        }
        let only = match self.wanted[at].part.source {
            Source::Offcut(mark) => match self.marked(at, mark) {
                Ok(offcut) => Some(offcut),
                Err(_) => return,
            },
            _ => None,
        };
        let mut order: Vec<usize> =
            (0..self.offcuts.len()).filter(|offcut| only.is_none_or(|only| only == *offcut)).collect();
        order.retain(|&offcut| self.is_untouched(offcut) && will_do(&self.offcuts[offcut]));
        order.sort_by_key(|&offcut| self.offcuts[offcut].shape.area);
        let found = order.into_iter().find_map(|offcut| Some((offcut, self.fit(at, offcut)?)));
        if let Some((offcut, cutout)) = found {
            let origin = self.whole(at, offcut, cutout);
            self.origins.insert(at, origin);
        }
    }

    fn is_untouched(&self, offcut: usize) -> bool {
        let piece = self.offcuts[offcut].piece;
        let from_it = |(round, _): &(Round, Vec<usize>)| {
            round.plan.placements.iter().any(|placement| round.pieces[placement.leftover] == piece)
        };
        self.offcuts[offcut].whole.is_none() && !self.rounds.iter().any(from_it)
    }

    fn supply(&self, id: PartId) -> Supply {
        let found = self.wanted.iter().position(|wanted| wanted.id() == id);
        let Some((at, from)) = found.and_then(|at| Some((at, self.origins.get(&at)?.clone()))) else {
            let is_bought = self.document.part(id).is_some_and(|part| part.source == Source::Bought);
            let from = if is_bought { Origin::Bought } else { Origin::Missing(self.unmade(id)) };
            return Supply { part: id, from, notes: Vec::new() };
        };
        let notes = match &from {
            Origin::Offcut { cutout, .. } | Origin::Sheet { cutout, .. } => self.wanted[at].notes(cutout.quarters),
            Origin::Bought | Origin::Missing(_) => Vec::new(),
        };
        Supply { part: id, from, notes }
    }
}
