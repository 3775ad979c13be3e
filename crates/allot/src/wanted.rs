//! What the parts ask for: a rectangle each, and how it may be turned on the paper so that its pattern is upright.

use crate::remark::Remark;
use crate::settings::{GrainWish, Settings};
use crate::shape::{Shape, turned_size};
use crate::upright::{Lies, Views, quarters};
use model::part::Placement;
use model::{Area, Document, Fold, Grain, Part, PartId, PartLayout, Pattern, Size, Stock};
use nest::Turning;

/// A part as something to be cut out.
#[derive(Debug, Clone)]
pub(crate) struct Wanted<'a> {
    pub(crate) part: &'a Part,
    pub(crate) name: String,
    /// Its own little sheet, not turned.
    pub(crate) size: Size,
    /// What is left of that when its own cuts are made.
    pub(crate) shape: Shape,
    /// By how many quarters clockwise it has to be turned on the paper; `None` where that is no matter.
    pub(crate) demand: Option<u8>,
    /// Which way its folds run, for the most part.
    folds: Option<Grain>,
    /// Which way the grain of its paper runs.
    grain: Option<Grain>,
    /// What is to be said in any case.
    remarks: Vec<Remark>,
}

impl<'a> Wanted<'a> {
    pub(crate) fn of(
        document: &Document,
        views: &Views,
        part: &'a Part,
        laid: &PartLayout,
        settings: &Settings,
    ) -> Option<Self> {
        let panels = &laid.sheet.folio()?.panels;
        let Placement { face, rotation, showing, .. } = part.place;
        let lies = Lies { on: laid.laid.map(|laid| laid.on), face, rotation, showing };
        let (stock, name) = (part.stock(document), laid.name.clone());
        let Demand { quarters, is_exact } = demand(views, stock, lies, &laid.folds, settings.grain);
        let what = "is turned by no quarter, so its pattern is cut upright at the nearest quarter";
        let remarks = if is_exact { Vec::new() } else { vec![Remark::new(format!("\"{name}\" {what}"), "")] };
        Some(Self {
            part,
            name,
            size: laid.pattern.size(),
            shape: Shape::of(&laid.sheet, panels),
            demand: quarters,
            folds: run_of(&laid.folds),
            grain: stock.and_then(|stock| stock.grain),
            remarks,
        })
    }

    pub(crate) fn id(&self) -> PartId {
        self.part.id
    }

    /// The area of its own panels.
    pub(crate) fn own_area(&self) -> Area {
        self.shape.area
    }

    /// The rectangle and the turning that nesting is asked for.
    pub(crate) fn ask(&self) -> (Size, Turning) {
        match self.demand {
            Some(quarters) => (turned_size(self.size, quarters), Turning::Kept),
            None => (self.size, Turning::Quarter),
        }
    }

    /// The sizes that a place for it may have.
    pub(crate) fn rects(&self) -> Vec<Size> {
        self.demand
            .map_or_else(|| vec![0, 1], |quarters| vec![quarters])
            .into_iter()
            .map(|quarters| turned_size(self.size, quarters))
            .collect()
    }

    /// By how many quarters it is turned, when nesting has turned what it was asked for or not.
    pub(crate) fn quarters(&self, turned: bool) -> u8 {
        self.demand.unwrap_or(u8::from(turned))
    }

    /// What is to be said of it when it is cut so.
    pub(crate) fn notes(&self, quarters: u8) -> Vec<Remark> {
        let mut notes = self.remarks.clone();
        if let (Some(folds), Some(grain)) = (self.folds, self.grain)
            && (folds == grain) != quarters.is_multiple_of(2)
        {
            let what = format!("The fold of \"{}\" runs across the grain", self.name);
            notes.push(Remark::new(what, "score it well, or have it keep to the grain"));
        }
        notes
    }
}

/// By how many quarters a part has to be turned on its paper, and whether that is exact.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Demand {
    pub(crate) quarters: Option<u8>,
    pub(crate) is_exact: bool,
}

/// What the pattern on the face that is seen demands, and where there is none the grain, if it is to be kept to.
pub(crate) fn demand(views: &Views, stock: Option<&Stock>, lies: Lies, folds: &[Fold], wish: GrainWish) -> Demand {
    if let Some(Pattern::OneWay(edge)) = stock.map(|stock| stock.side(lies.showing).pattern) {
        let (up, is_exact) = views.up(lies);
        return Demand { quarters: Some(quarters(up, edge)), is_exact };
    }
    let runs = run_of(folds).zip(stock.and_then(|stock| stock.grain)).filter(|_| wish == GrainWish::Keep);
    Demand { quarters: runs.map(|(folds, grain)| u8::from(folds != grain)), is_exact: true }
}

/// Which way most of the length of some folds runs; `None` for none, and for slanting ones.
fn run_of(folds: &[Fold]) -> Option<Grain> {
    let (mut upright, mut level) = (0_i64, 0_i64);
    for segment in folds.iter().flat_map(|fold| &fold.stretches) {
        let way = segment.b - segment.a;
        match (way.x.nm(), way.y.nm()) {
            (0, down) => upright += down.abs(),
            (across, 0) => level += across.abs(),
            _ => {}
        }
    }
    match upright.cmp(&level) {
        std::cmp::Ordering::Greater => Some(Grain::Upright),
        std::cmp::Ordering::Less => Some(Grain::Level),
        std::cmp::Ordering::Equal => None,
    }
}
