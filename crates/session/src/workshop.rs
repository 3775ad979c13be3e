//! What is asked only now and then of a design with parts: in which order it is made, what fits, how large mats may be.

use allot::{Settings, SheetUse, allot};
use fit::{CornerSet, InsertFit, Loaded, MatFit, PocketFit, TrayFit};
use fold::{Assembly, Folding};
use model::part::{Mat, Placement, Source};
use model::{Document, Layout, Length, PanelRef, Part, PartId, PartKind, StockId};

/// What fits in and on a design.
#[derive(Debug, Clone)]
pub struct Fits {
    /// What goes into each pocket, tuck corner and page.
    pub pockets: Vec<PocketFit>,
    /// What tuck corners hold between them.
    pub corners: Vec<CornerSet>,
    /// What lies between gussets.
    pub trays: Vec<TrayFit>,
    /// Whether each insert fits where it lies.
    pub inserts: Vec<InsertFit>,
    /// How thick the folio is with its inserts; `None` without inserts.
    pub loaded: Option<Loaded>,
}

impl Fits {
    /// What fits in a design, with the folio and how it folds.
    #[must_use]
    pub fn of(document: &Document, layout: &Layout, folded: Option<(&Assembly, &Folding)>) -> Self {
        let pockets = fit::pockets(document, layout);
        let corners = fit::corner_sets(document, layout);
        let trays = folded.map(|(assembly, folding)| fit::trays(document, layout, assembly, folding));
        let trays = trays.unwrap_or_default();
        let holders = fit::Holders { pockets: &pockets, corners: &corners, trays: &trays };
        let inserts = fit::inserts(document, layout, &holders);
        let loaded = folded.and_then(|(assembly, folding)| fit::loaded(document, layout, assembly, folding));
        Self { pockets, corners, trays, inserts, loaded }
    }
}

/// The mats for every face that shows at any stage, with this margin.
#[must_use]
pub fn mats(
    document: &Document,
    layout: &Layout,
    folded: Option<(&Assembly, &Folding)>,
    margin: Length,
) -> Vec<MatFit> {
    folded.map(|(_, folding)| fit::mats(document, layout, folding, margin)).unwrap_or_default()
}

/// The further sheets that mats take, of the folio's own paper or of another, and how each is cut; mats larger than a sheet
/// are not on them. Each mat is told by its place in the list, from 1, as the number of a part.
#[must_use]
pub fn mat_sheets(
    document: &Document,
    mats: &[MatFit],
    stock: Option<StockId>,
    settings: &Settings,
) -> Option<SheetUse> {
    let source = stock.map_or(Source::FolioStock, Source::Stock);
    let part = |(id, mat): (u32, &MatFit)| Part {
        id: PartId(id),
        name: format!("{}, {}", mat.name, mat.face.word()),
        kind: PartKind::Mat(Mat { width: mat.width, height: mat.height }),
        source,
        // Where they go is known; all that counts here is their size.
        place: Placement::centred(PanelRef::Sheet(document.base.unwrap_or_default())),
        also: Vec::new(),
    };
    let parts = (1..).zip(mats).map(part).take(Document::MOST_PARTS).collect();
    let only = Document { parts, ..document.clone() };
    allot(&only, &Layout::of(&only), settings).sheets.into_iter().next()
}
