//! What is stuck on a folio, said as a maker says it: on which face of which panel, so far from which borders.

use crate::closed::{Host, Rectangle, Stuck};
use crate::dice::Dice;
use crate::unfold::{Folio, Unfolded};
use model::part::{Anchor, AnchorFrom, Band, Placement, Rotation, Source};
use model::{Face, FurtherStock, Length, PanelRef, Part, PartId, PartKind, Size, Stock, StockId};

/// The paper of bands, which are longer than most sheets.
const BAND_PAPER: StockId = StockId(7);

/// Puts on all that is stuck on a folio, and its band.
pub(crate) fn put_on(folio: &mut Folio, lies: &[Unfolded], dice: &mut Dice) {
    let closed = folio.closed.clone();
    for stuck in &closed.stuck {
        let id = folio.document.next_part();
        let (on, face, border, at) = match stuck.on {
            Host::Leaf(leaf) => {
                let is_front = stuck.upper == closed.is_front_up(leaf);
                let face = if is_front { Face::Front } else { Face::Back };
                let mark = folio.flat[leaf].middle();
                (PanelRef::Sheet(mark), face, folio.flat[leaf], lies[leaf].rectangle(stuck.at))
            }
            Host::Hinge(hinge) => on_hinge(&closed.stuck[hinge], folio.stuck[hinge], stuck.at),
        };
        let across = anchor((border.low.x, border.high.x), (at.low.x, at.high.x), dice);
        let down = anchor((border.low.y, border.high.y), (at.low.y, at.high.y), dice);
        let place = Placement { on, face, across, down, rotation: Rotation::NONE, showing: Face::Front };
        let source = if matches!(stuck.kind, PartKind::Closure(_)) { Source::Bought } else { Source::FolioStock };
        let part = Part { id, name: String::new(), kind: stuck.kind.clone(), source, place, also: Vec::new() };
        folio.document.parts.push(part);
        folio.stuck.push(id);
    }
    if closed.band {
        band(folio);
    }
}

/// Where a rectangle lies on the free leaf of a hinge. The hinge's own sheet has the glued leaf at the left and the free one
/// at the right; closed, the free one lies mirrored over it.
fn on_hinge(hinge: &Stuck, id: PartId, at: Rectangle) -> (PanelRef, Face, Rectangle, Rectangle) {
    let free = hinge.second.unwrap_or(hinge.at);
    let (glued, fold) = (hinge.at, hinge.at.high.x);
    // From the upper left corner of the hinge's sheet.
    let mirrored = |at: Rectangle| {
        let (left, right) = (fold * 2 - at.high.x - glued.low.x, fold * 2 - at.low.x - glued.low.x);
        Rectangle::new(left, at.low.y - glued.low.y, right, at.high.y - glued.low.y)
    };
    (PanelRef::Part(id, 1), Face::Back, mirrored(free), mirrored(at))
}

/// How far something from `own.0` to `own.1` lies from a border of what reaches from `on.0` to `on.1`, or from its middle.
fn anchor(on: (Length, Length), own: (Length, Length), dice: &mut Dice) -> Anchor {
    let from = dice.pick(&[AnchorFrom::Start, AnchorFrom::Middle, AnchorFrom::End]);
    let distance = match from {
        AnchorFrom::Start => own.0 - on.0,
        AnchorFrom::Middle => own.0 - on.0 - (on.1 - on.0 - (own.1 - own.0)).half(),
        AnchorFrom::End => on.1 - own.1,
    };
    Anchor { from, distance }
}

/// A band round the closed folio, of a paper that is long enough.
fn band(folio: &mut Folio) {
    let (closed, document) = (&folio.closed, &mut folio.document);
    let (base, mm) = (closed.base(), Length::MILLIMETRE);
    let deepest = (0..closed.leaves.len()).map(|leaf| closed.height(leaf)).max().unwrap_or_default();
    let around = (base.width() + closed.thickest() + deepest) * 2 + mm * 4;
    let overlap = mm * 12;
    let size = Size::new(around + overlap, mm * 60).expect("a band is no longer than a sheet may be");
    document.further_stocks.push(FurtherStock { id: BAND_PAPER, stock: Stock::plain(size) });
    let on = PanelRef::Sheet(folio.flat[0].middle());
    document.parts.push(Part {
        id: document.next_part(),
        name: "Band".to_owned(),
        kind: PartKind::Band(Band { around, width: mm * 30, overlap, is_upright: false }),
        source: Source::Stock(BAND_PAPER),
        place: Placement::centred(on),
        also: Vec::new(),
    });
}
