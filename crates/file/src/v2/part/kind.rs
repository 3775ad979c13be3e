//! Kinds of parts in version 2, each with its measures. A measure that is nothing is the checker's to report.

use super::glue::EdgeList;
use super::own::{self, OwnKeys};
use crate::error::FileError;
use crate::quoted::Quoted;
use crate::schema::{POSITIVE, just_one};
use crate::v2::measure;
use crate::v2::named::{Reckoned, Reckons, is_nothing, reckoned};
use crate::word::Measure;
use model::part::{
    Band, Closure, ClosureKind, Flap, Hinge, Insert, Mat, Page, PanelCorner, PartKind, Pocket, Tab, TuckCorner,
};
use model::{Length, SheetEdge, Unit};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// What a part is: just one of these. Left, right, top and bottom are those of its own little sheet.
#[derive(Serialize, Deserialize, JsonSchema, Default)]
#[serde(deny_unknown_fields, expecting = "a kind in { }")]
#[schemars(rename = "PartKind", extend("oneOf" = just_one(&KINDS)))]
pub(super) struct KindKeys {
    hinge: Option<HingeKeys>,
    pocket: Option<PocketKeys>,
    tuck_corner: Option<TuckCornerKeys>,
    page: Option<PageKeys>,
    flap: Option<FlapKeys>,
    band: Option<BandKeys>,
    mat: Option<MatKeys>,
    tab: Option<TabKeys>,
    insert: Option<InsertKeys>,
    closure: Option<ClosureKeys>,
    own: Option<OwnKeys>,
}

const KINDS: [&str; 11] =
    ["hinge", "pocket", "tuck_corner", "page", "flap", "band", "mat", "tab", "insert", "closure", "own"];

/// A strip folded along its length into two leaves, fronts together.
#[derive(Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, expecting = "a hinge in { }")]
#[schemars(rename = "Hinge")]
struct HingeKeys {
    /// How long it is, from top to bottom.
    length: Quoted<Reckoned>,
    /// How wide the leaf is that is glued down, at the left.
    leaf: Quoted<Reckoned>,
    /// How wide the leaf is that carries something.
    free_leaf: Quoted<Reckoned>,
}

/// Paper glued along some of its edges, so that something goes in.
#[derive(Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, expecting = "a pocket in { }")]
#[schemars(rename = "Pocket")]
struct PocketKeys {
    /// How wide its front is.
    width: Quoted<Reckoned>,
    /// How high its front is.
    height: Quoted<Reckoned>,
    /// The edges that are glued; where it is not glued is its mouth.
    glued: EdgeList,
    /// How wide the glue is.
    strip: Quoted<Reckoned>,
    /// How far the paper is folded over to the front at the mouth; a plain edge when left out.
    #[serde(skip_serializing_if = "is_nothing")]
    rim: Option<Quoted<Reckoned>>,
    /// How deep its sides open; a flat pocket when left out.
    #[serde(skip_serializing_if = "is_nothing")]
    gusset: Option<Quoted<Reckoned>>,
}

/// A triangle across a corner, or a band across it, glued along the two edges that meet there.
#[derive(Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, expecting = "a tuck corner in { }")]
#[schemars(rename = "TuckCorner")]
struct TuckCornerKeys {
    /// How long it is along the upper or lower edge.
    across: Quoted<Reckoned>,
    /// How long it is along the left or right edge.
    down: Quoted<Reckoned>,
    corner: Quoted<PanelCorner>,
    /// How wide a band is, along the edges; a triangle when left out.
    #[serde(skip_serializing_if = "is_nothing")]
    band: Option<Quoted<Reckoned>>,
    /// How wide the glue is.
    strip: Quoted<Reckoned>,
}

/// A leaf that hangs by a strip of its own, folded under it, backs together.
#[derive(Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, expecting = "a page in { }")]
#[schemars(rename = "Page")]
struct PageKeys {
    /// How wide the leaf is.
    width: Quoted<Reckoned>,
    /// How high the leaf is.
    height: Quoted<Reckoned>,
    /// The edge at which it hangs.
    hinged: Quoted<SheetEdge>,
    /// How wide the strip is.
    strip: Quoted<Reckoned>,
}

/// A strip with a leaf that folds over, fronts together, when the folio closes.
#[derive(Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, expecting = "a flap in { }")]
#[schemars(rename = "Flap")]
struct FlapKeys {
    /// How long the fold is.
    width: Quoted<Reckoned>,
    /// How far the leaf reaches from the fold.
    reach: Quoted<Reckoned>,
    /// The edge of the strip at which the leaf hangs.
    edge: Quoted<SheetEdge>,
    /// How wide the strip is.
    strip: Quoted<Reckoned>,
}

/// A strip round the closed folio, glued to itself, that slides on and off.
#[derive(Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, expecting = "a band in { }")]
#[schemars(rename = "Band")]
struct BandKeys {
    /// How long it is once round.
    around: Quoted<Reckoned>,
    /// How wide the strip is.
    width: Quoted<Reckoned>,
    /// How far its ends lie on one another, glued.
    overlap: Quoted<Reckoned>,
    /// Whether it goes round from top to bottom; from side to side when left out.
    upright: Option<bool>,
}

/// A decorative rectangle, glued all over.
#[derive(Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, expecting = "a mat in { }")]
#[schemars(rename = "Mat")]
struct MatKeys {
    /// How wide.
    width: Quoted<Reckoned>,
    /// How high.
    height: Quoted<Reckoned>,
}

/// A small piece glued at one edge, to pull or to write on.
#[derive(Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, expecting = "a tab in { }")]
#[schemars(rename = "Tab")]
struct TabKeys {
    /// How wide.
    width: Quoted<Reckoned>,
    /// How high.
    height: Quoted<Reckoned>,
    /// The edge at which it is glued.
    glued: Quoted<SheetEdge>,
    /// How wide the glue is.
    strip: Quoted<Reckoned>,
}

/// A card or tag that lies in a pocket.
#[derive(Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, expecting = "an insert in { }")]
#[schemars(rename = "Insert")]
struct InsertKeys {
    /// How wide.
    width: Quoted<Reckoned>,
    /// How high.
    height: Quoted<Reckoned>,
    /// How thick, more than zero; as its paper when left out.
    #[schemars(extend("pattern" = POSITIVE))]
    caliper: Option<Quoted<Measure>>,
}

/// What keeps something shut: what is set on one panel. A pair is two of them.
#[derive(Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, expecting = "a closure in { }")]
#[schemars(rename = "Closure")]
struct ClosureKeys {
    with: Quoted<ClosureKind>,
    /// How wide; the diameter of what is round.
    width: Quoted<Reckoned>,
    /// How high.
    height: Quoted<Reckoned>,
    /// How thick.
    thickness: Quoted<Reckoned>,
}

/// The kind at `path`.
pub(super) fn read(path: &str, keys: KindKeys) -> Result<PartKind, FileError> {
    let insert_at = format!("{path}.insert");
    let kinds = [
        keys.hinge.map(|keys| PartKind::Hinge(keys.kind())),
        keys.pocket.map(|keys| PartKind::Pocket(keys.kind())),
        keys.tuck_corner.map(|keys| PartKind::TuckCorner(keys.kind())),
        keys.page.map(|keys| PartKind::Page(keys.kind())),
        keys.flap.map(|keys| PartKind::Flap(keys.kind())),
        keys.band.map(|keys| PartKind::Band(keys.kind())),
        keys.mat.map(|keys| PartKind::Mat(keys.kind())),
        keys.tab.map(|keys| PartKind::Tab(keys.kind())),
        keys.insert.map(|keys| keys.kind(&insert_at)).transpose()?.map(PartKind::Insert),
        keys.closure.map(|keys| PartKind::Closure(keys.kind())),
        keys.own.map(|keys| own::read(&format!("{path}.own"), keys)).transpose()?.map(PartKind::Own),
    ];
    let mut given = kinds.into_iter().flatten();
    match (given.next(), given.next()) {
        (Some(kind), None) => Ok(kind),
        _ => Err(FileError::value(path, format!("a part is of one kind; give just one of {}", KINDS.join(", ")))),
    }
}

/// A kind as it is written.
pub(super) fn keys(kind: &PartKind, unit: Unit) -> KindKeys {
    let bare = KindKeys::default();
    match kind {
        PartKind::Hinge(hinge) => KindKeys { hinge: Some(HingeKeys::of(*hinge, unit)), ..bare },
        PartKind::Pocket(pocket) => KindKeys { pocket: Some(PocketKeys::of(*pocket, unit)), ..bare },
        PartKind::TuckCorner(tuck) => KindKeys { tuck_corner: Some(TuckCornerKeys::of(*tuck, unit)), ..bare },
        PartKind::Page(page) => KindKeys { page: Some(PageKeys::of(*page, unit)), ..bare },
        PartKind::Flap(flap) => KindKeys { flap: Some(FlapKeys::of(*flap, unit)), ..bare },
        PartKind::Band(band) => KindKeys { band: Some(BandKeys::of(*band, unit)), ..bare },
        PartKind::Mat(mat) => KindKeys { mat: Some(MatKeys::of(*mat, unit)), ..bare },
        PartKind::Tab(tab) => KindKeys { tab: Some(TabKeys::of(*tab, unit)), ..bare },
        PartKind::Insert(insert) => KindKeys { insert: Some(InsertKeys::of(*insert, unit)), ..bare },
        PartKind::Closure(closure) => KindKeys { closure: Some(ClosureKeys::of(*closure, unit)), ..bare },
        PartKind::Own(own) => KindKeys { own: Some(own::keys(own, unit)), ..bare },
    }
}

const fn length(measure: &Quoted<Reckoned>) -> Length {
    measure.0.length
}

fn or_nothing(measure: Option<&Quoted<Reckoned>>) -> Length {
    measure.map_or(Length::ZERO, length)
}

impl HingeKeys {
    const fn kind(&self) -> Hinge {
        Hinge { length: length(&self.length), leaf: length(&self.leaf), free_leaf: length(&self.free_leaf) }
    }

    fn of(hinge: Hinge, unit: Unit) -> Self {
        let [length, leaf, free_leaf] =
            [hinge.length, hinge.leaf, hinge.free_leaf].map(|length| reckoned(length, unit));
        Self { length, leaf, free_leaf }
    }
}

impl PocketKeys {
    fn kind(&self) -> Pocket {
        Pocket {
            width: length(&self.width),
            height: length(&self.height),
            glued: self.glued.0,
            strip: length(&self.strip),
            rim: or_nothing(self.rim.as_ref()),
            gusset: or_nothing(self.gusset.as_ref()),
        }
    }

    fn of(pocket: Pocket, unit: Unit) -> Self {
        let [width, height, strip] = [pocket.width, pocket.height, pocket.strip].map(|length| reckoned(length, unit));
        let [rim, gusset] = [pocket.rim, pocket.gusset].map(|length| Some(reckoned(length, unit)));
        Self { width, height, glued: EdgeList(pocket.glued), strip, rim, gusset }
    }
}

impl TuckCornerKeys {
    fn kind(&self) -> TuckCorner {
        TuckCorner {
            across: length(&self.across),
            down: length(&self.down),
            corner: self.corner.0,
            band: or_nothing(self.band.as_ref()),
            strip: length(&self.strip),
        }
    }

    fn of(tuck: TuckCorner, unit: Unit) -> Self {
        let [across, down, strip] = [tuck.across, tuck.down, tuck.strip].map(|length| reckoned(length, unit));
        Self { across, down, corner: Quoted(tuck.corner), band: Some(reckoned(tuck.band, unit)), strip }
    }
}

impl PageKeys {
    const fn kind(&self) -> Page {
        let [width, height, strip] = [length(&self.width), length(&self.height), length(&self.strip)];
        Page { width, height, hinged: self.hinged.0, strip }
    }

    fn of(page: Page, unit: Unit) -> Self {
        let [width, height, strip] = [page.width, page.height, page.strip].map(|length| reckoned(length, unit));
        Self { width, height, hinged: Quoted(page.hinged), strip }
    }
}

impl FlapKeys {
    const fn kind(&self) -> Flap {
        let [width, reach, strip] = [length(&self.width), length(&self.reach), length(&self.strip)];
        Flap { width, reach, edge: self.edge.0, strip }
    }

    fn of(flap: Flap, unit: Unit) -> Self {
        let [width, reach, strip] = [flap.width, flap.reach, flap.strip].map(|length| reckoned(length, unit));
        Self { width, reach, edge: Quoted(flap.edge), strip }
    }
}

impl BandKeys {
    fn kind(&self) -> Band {
        let [around, width, overlap] = [&self.around, &self.width, &self.overlap].map(length);
        Band { around, width, overlap, is_upright: self.upright.unwrap_or_default() }
    }

    fn of(band: Band, unit: Unit) -> Self {
        let [around, width, overlap] = [band.around, band.width, band.overlap].map(|length| reckoned(length, unit));
        Self { around, width, overlap, upright: band.is_upright.then_some(true) }
    }
}

impl MatKeys {
    const fn kind(&self) -> Mat {
        Mat { width: length(&self.width), height: length(&self.height) }
    }

    fn of(mat: Mat, unit: Unit) -> Self {
        Self { width: reckoned(mat.width, unit), height: reckoned(mat.height, unit) }
    }
}

impl TabKeys {
    const fn kind(&self) -> Tab {
        let [width, height, strip] = [length(&self.width), length(&self.height), length(&self.strip)];
        Tab { width, height, glued: self.glued.0, strip }
    }

    fn of(tab: Tab, unit: Unit) -> Self {
        let [width, height, strip] = [tab.width, tab.height, tab.strip].map(|length| reckoned(length, unit));
        Self { width, height, glued: Quoted(tab.glued), strip }
    }
}

impl InsertKeys {
    /// The insert at `path`.
    fn kind(&self, path: &str) -> Result<Insert, FileError> {
        let caliper = self.caliper.as_ref().map(|caliper| caliper.0.length);
        if caliper.is_some_and(|caliper| caliper <= Length::ZERO) {
            let says = "a card is thicker than nothing; measure it, or leave it out where it is as thick as its paper";
            return Err(FileError::value(format!("{path}.caliper"), says));
        }
        Ok(Insert { width: length(&self.width), height: length(&self.height), caliper })
    }

    fn of(insert: Insert, unit: Unit) -> Self {
        let [width, height] = [insert.width, insert.height].map(|length| reckoned(length, unit));
        Self { width, height, caliper: insert.caliper.map(|caliper| measure(caliper, unit)) }
    }
}

impl ClosureKeys {
    const fn kind(&self) -> Closure {
        let [width, height, thickness] = [length(&self.width), length(&self.height), length(&self.thickness)];
        Closure { kind: self.with.0, width, height, thickness }
    }

    fn of(closure: Closure, unit: Unit) -> Self {
        let measures = [closure.width, closure.height, closure.thickness];
        let [width, height, thickness] = measures.map(|length| reckoned(length, unit));
        Self { with: Quoted(closure.kind), width, height, thickness }
    }
}

impl KindKeys {
    /// The keys that may be formulas, with where they are from here and the measures that they are.
    pub(super) fn reckoned(&mut self) -> Vec<(&'static str, &'static str, &mut dyn Reckons)> {
        let mut all: Vec<(&'static str, &'static str, &mut dyn Reckons)> = Vec::new();
        if let Some(keys) = &mut self.hinge {
            all.push(("hinge.length", "length", &mut keys.length.0));
            all.push(("hinge.leaf", "glued leaf", &mut keys.leaf.0));
            all.push(("hinge.free_leaf", "free leaf", &mut keys.free_leaf.0));
        }
        if let Some(keys) = &mut self.pocket {
            all.push(("pocket.width", "width", &mut keys.width.0));
            all.push(("pocket.height", "height", &mut keys.height.0));
            all.push(("pocket.strip", "glue strip", &mut keys.strip.0));
            all.extend(keys.rim.iter_mut().map(|key| ("pocket.rim", "rim", &mut key.0 as _)));
            all.extend(keys.gusset.iter_mut().map(|key| ("pocket.gusset", "gusset", &mut key.0 as _)));
        }
        if let Some(keys) = &mut self.tuck_corner {
            all.push(("tuck_corner.across", "across", &mut keys.across.0));
            all.push(("tuck_corner.down", "down", &mut keys.down.0));
            all.extend(keys.band.iter_mut().map(|key| ("tuck_corner.band", "band", &mut key.0 as _)));
            all.push(("tuck_corner.strip", "glue strip", &mut keys.strip.0));
        }
        if let Some(keys) = &mut self.page {
            all.push(("page.width", "width", &mut keys.width.0));
            all.push(("page.height", "height", &mut keys.height.0));
            all.push(("page.strip", "strip", &mut keys.strip.0));
        }
        if let Some(keys) = &mut self.flap {
            all.push(("flap.width", "width", &mut keys.width.0));
            all.push(("flap.reach", "reach", &mut keys.reach.0));
            all.push(("flap.strip", "strip", &mut keys.strip.0));
        }
        if let Some(keys) = &mut self.band {
            all.push(("band.around", "around", &mut keys.around.0));
            all.push(("band.width", "width", &mut keys.width.0));
            all.push(("band.overlap", "overlap", &mut keys.overlap.0));
        }
        if let Some(keys) = &mut self.mat {
            all.push(("mat.width", "width", &mut keys.width.0));
            all.push(("mat.height", "height", &mut keys.height.0));
        }
        if let Some(keys) = &mut self.tab {
            all.push(("tab.width", "width", &mut keys.width.0));
            all.push(("tab.height", "height", &mut keys.height.0));
            all.push(("tab.strip", "glue strip", &mut keys.strip.0));
        }
        if let Some(keys) = &mut self.insert {
            all.push(("insert.width", "width", &mut keys.width.0));
            all.push(("insert.height", "height", &mut keys.height.0));
        }
        if let Some(keys) = &mut self.closure {
            all.push(("closure.width", "width", &mut keys.width.0));
            all.push(("closure.height", "height", &mut keys.height.0));
            all.push(("closure.thickness", "thickness", &mut keys.thickness.0));
        }
        if let Some(keys) = &mut self.own {
            let [width, height] = keys.sides();
            all.push(("own.width", "width", width));
            all.push(("own.height", "height", height));
        }
        all
    }

    /// Visits what stands on a little sheet of the maker's own, where no formulas belong.
    pub(super) fn each_inside(&mut self, visit: &mut dyn FnMut(String, &mut dyn Reckons)) {
        if let Some(keys) = &mut self.own {
            keys.each_inside(visit);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use model::Point;
    use model::part::Edges;
    use model::part::usual::{Fit, Host, Sort};

    #[test]
    fn every_usual_part_is_written_under_one_known_kind_and_read_back() {
        let inch = Length::INCH;
        let host = Host { low: Point::default(), high: Point::new(inch * 6, inch * 6), folds: Edges::NONE };
        for sort in Sort::ALL {
            let kind = sort.fitted(&host, &Fit::usual(Unit::Inch)).kind;
            let written = serde_json::to_value(keys(&kind, Unit::Inch)).unwrap();
            let given = written.as_object().unwrap().iter().filter(|(_, value)| !value.is_null());
            let names: Vec<&str> = given.map(|(name, _)| name.as_str()).collect();
            assert!(names.len() == 1 && KINDS.contains(&names[0]), "{sort:?}: {names:?} is not in KINDS");
            assert_eq!(read("kind", keys(&kind, Unit::Inch)).unwrap(), kind, "{sort:?}");
            // Each of its measures may be a formula.
            let mut again = keys(&kind, Unit::Inch);
            let reckoned: Vec<&str> = again.reckoned().into_iter().map(|(_, measure, _)| measure).collect();
            let measures: Vec<&str> = kind.measures().into_iter().map(|(measure, _)| measure).collect();
            assert_eq!(reckoned, measures, "{sort:?}");
        }
    }
}
