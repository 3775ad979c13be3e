//! Faults of paper: its sides, its grain, how thick it is, and where that of a part comes from.

use super::{Kind, Place, Planted, bare, flaps, one};
use crate::closed::{Layer, Rectangle, is_upright};
use crate::dice::Dice;
use crate::unfold::Folio;
use model::part::{Anchor, AnchorFrom, Insert, Mat, Page, Placement, Rotation, Source};
use model::{
    Artwork, Caliper, Face, FurtherStock, Grain, Length, PanelRef, Part, PartId, PartKind, Pattern, SheetEdge, Size,
    Stock, StockId, Weight,
};

pub(super) const KINDS: &[Kind] = &[
    Kind { name: "a mat larger than any offcut", rule: "no-paper", also: &[], plant: no_paper },
    Kind {
        name: "something thick at a fold",
        rule: "tight-fold",
        also: &["misfit-insert", "strikes", "thin-gusset", "too-thick"],
        plant: tight,
    },
    Kind { name: "stout board in one half", rule: "lopsided", also: &[], plant: lopsided },
    Kind { name: "grain the wrong way", rule: "across-grain", also: &[], plant: across_grain },
    Kind { name: "a pattern upside down", rule: "pattern-turned", also: &[], plant: pattern_turned },
    Kind { name: "paper printed on the inside", rule: "plain-side", also: &[], plant: plain_side },
    Kind { name: "a page of thin paper", rule: "worn-fold", also: &["thin-gusset"], plant: worn },
    Kind { name: "a picture of few pixels", rule: "coarse-artwork", also: &[], plant: coarse },
];

/// Puts a part on the base, its upper left corner so far from that of the base.
fn on_base(folio: &mut Folio, kind: PartKind, source: Source, face: Face, at: Rectangle) -> PartId {
    let id = folio.document.next_part();
    let anchor = |distance| Anchor { from: AnchorFrom::Start, distance };
    let base = folio.flat[0];
    let place = Placement {
        on: PanelRef::Sheet(base.middle()),
        face,
        across: anchor(at.low.x - base.low.x),
        down: anchor(at.low.y - base.low.y),
        rotation: Rotation::NONE,
        showing: Face::Front,
    };
    folio.document.parts.push(Part { id, name: String::new(), kind, source, place, also: Vec::new() });
    id
}

fn mat(at: Rectangle) -> PartKind {
    PartKind::Mat(Mat { width: at.width(), height: at.height() })
}

fn no_paper(folio: &Folio, dice: &mut Dice) -> Option<Planted> {
    let mut folio = bare(folio, dice);
    let at = folio.flat[0].inset(Length::SIXTEENTH);
    let id = on_base(&mut folio, mat(at), Source::AnyOffcut, Face::Back, at);
    // No piece that comes off is as large.
    let layout = model::Layout::of(&folio.document);
    let sides = |low: Length, high: Length| [low.min(high), low.max(high)];
    let own = sides(at.width(), at.height());
    let holds = |piece: &model::Piece| {
        let (low, high) = piece.bounds;
        let its = sides(high.x - low.x, high.y - low.y);
        its[0] >= own[0] && its[1] >= own[1]
    };
    let none = !layout.offcuts().any(holds);
    none.then(|| Planted { document: folio.document, at: vec![Place::Part(id), Place::Says(format!("Mat {}", id.0))] })
}

fn tight(folio: &Folio, dice: &mut Dice) -> Option<Planted> {
    let mut folio = bare(folio, dice);
    let flat = |leaf: &usize| folio.gussets[*leaf].is_none();
    let able: Vec<usize> = flaps(&folio.closed).into_iter().filter(flat).collect();
    let flap = one(dice, &able)?;
    let edge = folio.closed.leaves[flap].hangs?.edge;
    // Under everything, right up to the fold.
    let base = folio.flat[0];
    let at = folio.closed.leaves[flap].at;
    let (from, to) = at.span(edge);
    let low = if is_upright(edge) { base.low.y } else { base.low.x };
    let at = Rectangle::inwards(edge, base.edge(edge), (low + from, low + to), at.reach(edge) / 2);
    let thick = Length::MILLIMETRE * 4;
    let kind = PartKind::Insert(Insert { width: at.width(), height: at.height(), caliper: Some(thick) });
    on_base(&mut folio, kind, Source::Bought, Face::Front, at);
    let line = folio.creases[flap][0];
    let at = vec![Place::Panel(folio.flat[flap].middle()), Place::Panel(base.middle()), Place::Line(line)];
    Some(Planted { document: folio.document, at })
}

fn lopsided(folio: &Folio, dice: &mut Dice) -> Option<Planted> {
    let mut folio = bare(folio, dice);
    let base = folio.flat[0];
    let edge = dice.pick(&SheetEdge::ALL);
    let at = Rectangle::inwards(edge, base.edge(edge), base.span(edge), base.reach(edge) / 2);
    let (id, size) = (StockId(9), Size::new(base.width(), base.height())?);
    // Thicker than all the rest twice over.
    let caliper = Caliper::Measured((folio.closed.thickest() + Length::MILLIMETRE) * 2);
    folio.document.further_stocks.push(FurtherStock { id, stock: Stock { caliper, ..Stock::plain(size) } });
    on_base(&mut folio, mat(at), Source::Stock(id), Face::Back, at);
    Some(Planted { document: folio.document, at: vec![Place::Says(format!("on average at the {} and", edge.word()))] })
}

fn across_grain(folio: &Folio, _: &mut Dice) -> Option<Planted> {
    let closed = &folio.closed;
    let mut along = [Length::ZERO; 2];
    for (leaf, creases) in closed.leaves.iter().zip(&folio.creases) {
        let Some(hang) = leaf.hangs else { continue };
        let (from, to) = leaf.at.span(hang.edge);
        let count = i64::try_from(creases.len()).unwrap_or(1);
        along[usize::from(is_upright(hang.edge))] += (to - from) * count;
    }
    let [level, upright] = along;
    let grain = if level > upright { Grain::Upright } else { Grain::Level };
    let [more, less] = [level.max(upright), level.min(upright)];
    let units = closed.units;
    let mut document = folio.document.clone();
    document.stock.weight = Weight::parse("80 lb cover").ok();
    document.stock.grain = Some(grain);
    let is_clear = more * 2 > less * 3;
    let says =
        format!("{} of the folio's folds run across the grain and {}", more.readable(units), less.readable(units));
    is_clear.then(|| Planted { document, at: vec![Place::Says(says)] })
}

/// What is printed on the back stands upright on the sheet, so a flap that folds down from the top, or up from the bottom,
/// shows it upside down.
fn pattern_turned(folio: &Folio, dice: &mut Dice) -> Option<Planted> {
    let folio = bare(folio, dice);
    let closed = &folio.closed;
    let Some(&Layer::Leaf(last)) = closed.layers.last() else { return None };
    let hang = closed.leaves[last].hangs?;
    if hang.on != 0 || is_upright(hang.edge) {
        return None;
    }
    let mut document = folio.document.clone();
    document.stock.back.pattern = Pattern::OneWay(SheetEdge::Top);
    Some(Planted { document, at: vec![Place::Panel(folio.flat[last].middle()), Place::Says("upside down".to_owned())] })
}

fn plain_side(folio: &Folio, dice: &mut Dice) -> Option<Planted> {
    let mut folio = bare(folio, dice);
    folio.document.stock.front.pattern = Pattern::AnyWay;
    let at = vec![Place::Panel(folio.flat[0].middle()), Place::Says("100 % of its back".to_owned())];
    Some(Planted { document: folio.document, at })
}

fn worn(folio: &Folio, dice: &mut Dice) -> Option<Planted> {
    let mut folio = bare(folio, dice);
    let (at, strip) = (folio.flat[0].inset(Length::MILLIMETRE * 15), Length::MILLIMETRE * 12);
    let kind = Page { width: at.width(), height: at.height(), hinged: dice.pick(&SheetEdge::ALL), strip };
    let (id, size) = (StockId(9), Size::new(at.width() * 2, at.height() * 2)?);
    let caliper = Caliper::Measured(Length::from_nm(80_000));
    folio.document.further_stocks.push(FurtherStock { id, stock: Stock { caliper, ..Stock::plain(size) } });
    let page = on_base(&mut folio, PartKind::Page(kind), Source::Stock(id), Face::Front, at);
    let says = format!("\"Page {}'s fold\" is worked to and fro", page.0);
    Some(Planted { document: folio.document, at: vec![Place::Says(says)] })
}

fn coarse(folio: &Folio, dice: &mut Dice) -> Option<Planted> {
    let mut document = folio.document.clone();
    let (width, density) = (Length::INCH * 4, dice.pick(&[50_u32, 72, 96]));
    let artwork = Artwork {
        file: "leaves.png".to_owned(),
        digest: [7; 32],
        pixels: [density * 4, density * 4],
        width,
        left: Length::ZERO,
        top: Length::ZERO,
    };
    document.stock.front.artwork = Some(artwork);
    document.stock.back.pattern = Pattern::AnyWay;
    let says = format!("\"leaves.png\" on the front of the paper has {density} pixels an inch");
    Some(Planted { document, at: vec![Place::Says(says)] })
}
