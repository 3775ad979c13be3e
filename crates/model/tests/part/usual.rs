//! Which part of each sort fits a panel, by hand and for any panel.

use crate::bench::{self, ID, folded};
use foliowright_model::part::usual::{Closed, Companion, Fit, Host, Sort, hung, measure};
use foliowright_model::part::{AnchorFrom, Edges, Insert, PanelCorner, Rotation};
use foliowright_model::polygon::bounds;
use foliowright_model::{
    Crease, Datum, Document, Face, Layout, Length, Line, LineId, PanelRef, Part, PartId, PartKind, Place, Point, Run,
    SheetEdge, Size, Turn, Unit, Work,
};
use proptest::prelude::*;

fn host(width: &str, height: &str, folds: &[SheetEdge]) -> Host {
    let length = |text: &str| text.parse::<Length>().unwrap();
    // Somewhere on its sheet, so that places measured from the sheet's corner would be found out.
    let low = Point::new(Length::INCH * 2, Length::INCH);
    let high = Point::new(low.x + length(width), low.y + length(height));
    Host { low, high, folds: Edges::of(folds) }
}

/// Its measures but those that are nothing, and where it lies: "left 1/8 in", "middle".
#[track_caller]
fn said(sort: Sort, host: &Host, fit: &Fit<'_>) -> String {
    let usual = sort.fitted(host, fit);
    let measures = usual.kind.measures().into_iter().filter(|(_, length)| *length != Length::ZERO);
    let text = |length: Length| length.text(fit.units);
    let mut out: Vec<String> = measures.map(|(name, length)| format!("{name} {}", text(length))).collect();
    let mut anchor = |anchor: foliowright_model::part::Anchor, words: [&str; 2]| {
        let word = match anchor.from {
            AnchorFrom::Start => words[0],
            AnchorFrom::Middle => "middle",
            AnchorFrom::End => words[1],
        };
        let by = anchor.distance;
        out.push(if by == Length::ZERO { word.to_owned() } else { format!("{word} {}", text(by)) });
    };
    anchor(usual.across, ["left", "right"]);
    anchor(usual.down, ["top", "bottom"]);
    if usual.rotation != Rotation::NONE {
        out.push(format!("turned {}", usual.rotation));
    }
    out.join("; ")
}

#[track_caller]
fn check(sort: Sort, inch: &str, millimetre: &str) {
    let fit = |units| Fit::usual(units);
    assert_eq!(said(sort, &host("6 in", "4 in", &[]), &fit(Unit::Inch)), inch, "{sort:?}");
    assert_eq!(said(sort, &host("150 mm", "100 mm", &[]), &fit(Unit::Millimetre)), millimetre, "{sort:?}");
}

/// On a panel of 6 by 4 in, and on one of 150 by 100 mm, from the rules in words: an allowance of 1/8 in or 3 mm on each
/// side, 3/5 of the height for pockets, 1/3 of the shorter side for corners (common practice, no source).
#[test]
fn each_sort_fits_its_panel() {
    check(
        Sort::Hinge,
        "length 3 1/2 in; glued leaf 1/2 in; free leaf 1/2 in; left 1/8 in; middle; turned 180",
        "length 88 mm; glued leaf 12 mm; free leaf 12 mm; left 3 mm; middle; turned 180",
    );
    check(
        Sort::FlatPocket,
        // 3/5 of 4 in is 2 2/5 in, less than 2 7/16.
        "width 5 3/4 in; height 2 3/8 in; glue strip 1/4 in; middle; bottom 1/8 in",
        "width 144 mm; height 60 mm; glue strip 6 mm; middle; bottom 3 mm",
    );
    check(
        Sort::GussetedPocket,
        "width 5 3/4 in; height 2 3/8 in; glue strip 1/4 in; gusset 1/4 in; middle; bottom 1/8 in",
        "width 144 mm; height 60 mm; glue strip 6 mm; gusset 6 mm; middle; bottom 3 mm",
    );
    check(
        Sort::SlideIn,
        // 3/5 of 6 in is 3 3/5 in, less than 3 5/8.
        "width 3 9/16 in; height 2 3/8 in; glue strip 1/4 in; left 1/8 in; bottom 1/8 in",
        "width 90 mm; height 60 mm; glue strip 6 mm; left 3 mm; bottom 3 mm",
    );
    check(
        Sort::TuckCorner,
        // 4/3 in is between 1 5/16 and 1 3/8.
        "across 1 5/16 in; down 1 5/16 in; glue strip 1/4 in; right; bottom",
        "across 33 mm; down 33 mm; glue strip 6 mm; right; bottom",
    );
    check(
        Sort::CornerBand,
        // A third of 1 5/16 in is 7/16 in, less than the usual 1/2; of 33 mm 11 mm, less than 12.
        "across 1 5/16 in; down 1 5/16 in; band 7/16 in; glue strip 1/4 in; right; bottom",
        "across 33 mm; down 33 mm; band 11 mm; glue strip 6 mm; right; bottom",
    );
    check(
        Sort::Page,
        "width 5 3/4 in; height 3 3/4 in; strip 1/2 in; middle; middle",
        "width 144 mm; height 94 mm; strip 12 mm; middle; middle",
    );
    check(
        Sort::Flap,
        "width 5 3/4 in; reach 2 in; strip 1/2 in; middle; top",
        "width 144 mm; reach 50 mm; strip 12 mm; middle; top",
    );
    check(Sort::Mat, "width 5 3/4 in; height 3 3/4 in; middle; middle", "width 144 mm; height 94 mm; middle; middle");
    check(
        Sort::Tab,
        "width 3/4 in; height 1 in; glue strip 1/4 in; right -1/2 in; middle",
        "width 18 mm; height 25 mm; glue strip 6 mm; right -12 mm; middle",
    );
    check(
        Sort::Brad,
        "width 1/4 in; height 1/4 in; thickness 1/32 in; right 1/8 in; middle",
        "width 6 mm; height 6 mm; thickness 1 mm; right 3 mm; middle",
    );
    check(
        Sort::Magnet,
        "width 3/8 in; height 3/8 in; thickness 1 mm; right 1/8 in; middle",
        "width 10 mm; height 10 mm; thickness 1 mm; right 3 mm; middle",
    );
    check(
        Sort::HookAndLoop,
        "width 3/8 in; height 3/8 in; thickness 2 mm; right 1/8 in; middle",
        "width 10 mm; height 10 mm; thickness 2 mm; right 3 mm; middle",
    );
    check(
        Sort::Ribbon,
        "width 5 3/4 in; height 3/8 in; thickness 1/64 in; middle; middle",
        "width 144 mm; height 10 mm; thickness 0.4 mm; middle; middle",
    );
    // ISO/IEC 7810: an ID-1 card is 85.60 by 53.98 mm.
    check(
        Sort::Insert,
        "width 85.6 mm; height 53.98 mm; middle; middle",
        "width 85.6 mm; height 53.98 mm; middle; middle",
    );
}

#[test]
fn a_belly_band_goes_round_the_closed_folio() {
    let inch = |count: i64| Length::INCH * count;
    let around = |width, height, thickness: &str| {
        let closed = Some(Closed { width, height, thickness: thickness.parse().unwrap() });
        said(Sort::BellyBand, &host("3 in", "3 in", &[]), &Fit { closed, ..Fit::usual(Unit::Inch) })
    };
    // 2 (6 + 1/8) + 1/8.
    let first = "around 12 3/8 in; width 1 1/2 in; overlap 1/2 in; middle; middle";
    assert_eq!(around(inch(6), inch(6), "1/8 in"), first);
    // The shorter way: the same round a folio that is longer.
    assert_eq!(around(inch(6), inch(8), "1/8 in"), first);
    assert_eq!(around(inch(8), inch(6), "1/8 in"), first);
    // 12 in and 2 by 2.5 mm are 12.197 in; with the slack 12.322 in, rounded up to a sixteenth.
    assert_eq!(around(inch(6), inch(6), "2.5 mm"), first);
    let is_upright = |width, height| {
        let closed = Some(Closed { width, height, thickness: Length::ZERO });
        let fit = Fit { closed, ..Fit::usual(Unit::Inch) };
        matches!(Sort::BellyBand.fitted(&host("3 in", "3 in", &[]), &fit).kind, PartKind::Band(band) if band.is_upright)
    };
    assert_eq!([is_upright(inch(6), inch(8)), is_upright(inch(8), inch(6))], [false, true]);
}

#[test]
fn a_part_goes_to_the_edge_or_the_corner_asked_for() {
    use SheetEdge::{Bottom, Left, Right, Top};
    let panel = host("6 in", "4 in", &[]);
    let place = |sort: Sort, fit: Fit<'_>| {
        let text = said(sort, &panel, &fit);
        text.rsplit_once("strip ").map_or(text.clone(), |(_, place)| place.to_owned())
    };
    let at = |sort, edge| place(sort, Fit { edge: Some(edge), ..Fit::usual(Unit::Inch) });
    assert_eq!(at(Sort::Flap, Bottom), "1/2 in; middle; bottom");
    assert_eq!(at(Sort::Tab, Top), "1/4 in; middle; top -1/2 in");
    assert_eq!(at(Sort::Tab, Left), "1/4 in; left -1/2 in; middle");
    // The fold lies outwards: the leaf left of it is turned to the right, up or down.
    let hinge = |edge| {
        let text = at(Sort::Hinge, edge);
        text.split_once("free leaf 1/2 in; ").map(|(_, place)| place.to_owned()).unwrap()
    };
    assert_eq!(hinge(Right), "right 1/8 in; middle");
    assert_eq!(hinge(Bottom), "middle; bottom 1/8 in; turned 90");
    assert_eq!(hinge(Top), "middle; top 1/8 in; turned 270");
    let corner = |sort, corner| place(sort, Fit { corner: Some(corner), ..Fit::usual(Unit::Inch) });
    assert_eq!(corner(Sort::SlideIn, PanelCorner::BottomRight), "1/4 in; right 1/8 in; bottom 1/8 in");
    assert_eq!(corner(Sort::TuckCorner, PanelCorner::TopLeft), "1/4 in; left; top");
}

#[test]
fn a_hinges_fold_lies_at_its_edge() {
    let document = bench::sheet();
    let layout = Layout::of(&document);
    let base = layout.base.unwrap();
    for edge in SheetEdge::ALL {
        let fit = Fit { edge: Some(edge), ..Fit::usual(Unit::Inch) };
        let on = layout.panel_ref(base).unwrap();
        let part = Sort::Hinge.fitted(&Host::of(&layout, base), &fit).part(ID, on, Face::Front);
        let laid = bench::with(part);
        let hinge = &laid.parts[0];
        let fold = hinge.folds[0].stretches[0];
        let (low, high) = bounds(&[fold.a, fold.b].map(|at| hinge.laid.unwrap().on_host(at)));
        let far = Length::INCH * 40 - Length::EIGHTH;
        let (axis, expected) = match edge {
            SheetEdge::Left => ([low.x, high.x], Length::EIGHTH),
            SheetEdge::Right => ([low.x, high.x], far),
            SheetEdge::Top => ([low.y, high.y], Length::EIGHTH),
            SheetEdge::Bottom => ([low.y, high.y], far),
        };
        assert_eq!(axis, [expected; 2], "{edge:?}");
    }
}

#[test]
fn what_is_flush_keeps_off_an_edge_that_folds() {
    use SheetEdge::{Bottom, Left, Right, Top};
    let fit = Fit::usual(Unit::Inch);
    let end = |sort, folds: &[SheetEdge]| {
        let text = said(sort, &host("6 in", "4 in", folds), &fit);
        text.rsplit_once("strip ").unwrap().1.to_owned()
    };
    assert_eq!(end(Sort::TuckCorner, &[Bottom]), "1/4 in; right; bottom 1/32 in");
    assert_eq!(end(Sort::TuckCorner, &[Right, Top]), "1/4 in; right 1/32 in; bottom");
    // A flap and a tab go to the first edge that is free; where none is, they keep off the fold.
    assert_eq!(end(Sort::Flap, &[Top]), "1/2 in; right; middle");
    assert_eq!(end(Sort::Flap, &[Top, Right, Bottom, Left]), "1/2 in; middle; top 1/32 in");
    assert_eq!(end(Sort::Tab, &[Right, Top]), "1/4 in; middle; bottom -1/2 in");
    // 1/2 in out, and 1/32 in inwards.
    assert_eq!(end(Sort::Tab, &[Top, Right, Bottom, Left]), "1/4 in; right -15/32 in; middle");
}

#[test]
fn a_hinge_is_shorter_than_what_it_carries() {
    let panel = host("6 in", "4 in", &[]);
    let usual = Fit::usual(Unit::Inch);
    let pocket = Sort::FlatPocket.fitted(&panel, &usual).kind;
    let hinge = |edge| {
        let with = Some(Companion { kind: &pocket, bounds: None });
        said(Sort::Hinge, &panel, &Fit { edge: Some(edge), with, ..usual })
    };
    // The pocket is 5 3/4 by 2 3/8 in; 1/8 in less at each end.
    assert!(hinge(SheetEdge::Left).starts_with("length 2 1/8 in;"), "{}", hinge(SheetEdge::Left));
    assert!(hinge(SheetEdge::Top).starts_with("length 5 1/2 in;"), "{}", hinge(SheetEdge::Top));
}

/// Where the corners of a part's main panel come to lie on the sheet when it hangs on a hinge that is folded over.
fn hanging(layout: &Layout, hinge: Face) -> Vec<Point> {
    let [under, part] = [PartId(2), ID].map(|id| layout.part(id).unwrap());
    let leaf = under.panels.iter().find(|panel| panel.id != under.main).unwrap().id;
    let over = &folded(under, hinge)[&leaf];
    let (own, on) = (part.laid.unwrap(), under.laid.unwrap());
    assert_eq!(own.on, leaf);
    let outline = &part.panels.iter().find(|panel| panel.id == part.main).unwrap().outline;
    outline.iter().map(|&at| on.on_host(over.point(own.on_host(at)))).collect()
}

#[test]
fn what_hangs_on_a_hinge_lies_as_if_it_lay_on_the_panel() {
    let usual = Fit::usual(Unit::Inch);
    for sort in [Sort::Page, Sort::Mat] {
        for (edge, face) in
            SheetEdge::ALL.into_iter().flat_map(|edge| [Face::Front, Face::Back].map(|face| (edge, face)))
        {
            for showing in [Face::Front, Face::Back] {
                let mut document = scored();
                document.base = Some(Point::new(Length::INCH * 6, Length::INCH * 2));
                let layout = Layout::of(&document);
                let (host, on) = (Host::of(&layout, layout.panels[1].id), PanelRef::Sheet(document.base.unwrap()));
                let fit = Fit { edge: Some(edge), ..usual };
                let mut hinge = Sort::Hinge.fitted(&host, &fit).part(PartId(2), on, face);
                if showing != face {
                    // Turned over it opens to the other side, unless it is turned half round too.
                    hinge.place.showing = showing;
                    hinge.place.rotation = hinge.place.rotation.plus(Rotation::from_hundredths(18_000));
                }
                document.parts = vec![hinge];
                let layout = Layout::of(&document);
                let part = hung(sort, ID, PartId(2), &document, &layout, &usual).unwrap();
                document.parts.push(part);
                let found = hanging(&Layout::of(&document), showing);
                let direct = sort.fitted(&host, &fit).part(ID, on, face);
                assert_eq!(document.parts[1].kind, direct.kind);
                document.parts = vec![direct];
                let layout = Layout::of(&document);
                let part = layout.part(ID).unwrap();
                let outline = &part.panels.iter().find(|panel| panel.id == part.main).unwrap().outline;
                let expected: Vec<Point> = outline.iter().map(|&at| part.laid.unwrap().on_host(at)).collect();
                // Corner by corner, so it is neither turned nor mirrored.
                assert_eq!(found, expected, "{sort:?} {edge:?} {face:?} {showing:?}");
            }
        }
    }
}

#[test]
fn nothing_hangs_on_what_is_no_hinge() {
    let mut document = scored();
    let layout = Layout::of(&document);
    let host = Host::of(&layout, layout.panels[1].id);
    let on = layout.panel_ref(layout.panels[1].id).unwrap();
    let fit = Fit::usual(Unit::Inch);
    document.parts = vec![Sort::Page.fitted(&host, &fit).part(PartId(2), on, Face::Front)];
    let layout = Layout::of(&document);
    assert_eq!(hung(Sort::Mat, ID, PartId(2), &document, &layout, &fit), None);
    document.parts = vec![Sort::Hinge.fitted(&host, &fit).part(PartId(2), on, Face::Front)];
    let layout = Layout::of(&document);
    for sort in [Sort::Brad, Sort::FlatPocket] {
        assert_eq!(hung(sort, ID, PartId(2), &document, &layout, &fit), None);
    }
    assert!(hung(Sort::Mat, ID, PartId(2), &document, &layout, &fit).is_some());
}

/// A sheet of 9 by 4 in with a score 3 in from the left: the right panel is 6 by 4 in and folds at its left.
fn scored() -> Document {
    let mut document = Document::new(Size::parse("9 x 4 in").unwrap(), Unit::Inch);
    let place = Place::Measured { turn: Turn::None, from: Datum::Edge, distance: Length::INCH * 3, run: Run::FULL };
    document.lines.push(Line::new(LineId(1), place, Work::Score(Crease::VALLEY)));
    document
}

#[test]
fn a_host_knows_where_it_folds() {
    let layout = Layout::of(&scored());
    let [left, right] = [0, 1].map(|i| Host::of(&layout, layout.panels[i].id));
    assert_eq!((left.folds, right.folds), (Edges::of(&[SheetEdge::Right]), Edges::of(&[SheetEdge::Left])));
    assert_eq!(right.low, Point::new(Length::INCH * 3, Length::ZERO));
    assert_eq!(right.high, Point::new(Length::INCH * 9, Length::INCH * 4));
}

#[test]
fn an_insert_fits_into_its_pocket() {
    let mut document = scored();
    let usual = Fit::usual(Unit::Inch);
    let on = |layout: &Layout| (Host::of(layout, layout.panels[1].id), layout.panel_ref(layout.panels[1].id).unwrap());
    let (host, panel) = on(&Layout::of(&document));
    for sort in [Sort::FlatPocket, Sort::GussetedPocket, Sort::SlideIn] {
        document.parts = vec![sort.fitted(&host, &usual).part(ID, panel, Face::Front)];
        let layout = Layout::of(&document);
        let part = layout.part(ID).unwrap();
        let with = Companion::of(&document.parts[0].kind, part, layout.panels[1].id);
        let insert = Sort::Insert.fitted(&host, &Fit { with: Some(with), ..usual });
        let PartKind::Insert(Insert { width, height, .. }) = insert.kind else { unreachable!() };
        let low = Point::new(
            insert.across.start(host.low.x, host.high.x, width),
            insert.down.start(host.low.y, host.high.y, height),
        );
        let text = |length: Length| length.text(Unit::Inch);
        let found = [low.x, low.y, width, height].map(text).join(", ");
        // The pocket lies from 3 1/8 to 8 7/8 in across and from 1 1/2 to 3 7/8 in down; glue 1/4 in, allowance 1/8 in.
        let expected = match sort {
            // In from 3 3/8 to 8 5/8, down from 1 1/2 to 3 5/8: 5 1/4 by 2 1/8 in less 1/4 in.
            Sort::FlatPocket | Sort::GussetedPocket => "3 1/2 in, 1 5/8 in, 5 in, 1 7/8 in",
            // From 3 3/8 to 6 11/16: 3 5/16 in less 1/4 in.
            _ => "3 1/2 in, 1 5/8 in, 3 1/16 in, 1 7/8 in",
        };
        assert_eq!(found, expected, "{sort:?}");
    }
}

#[test]
fn a_card_stands_where_it_does_not_lie() {
    let size = |width, height| said(Sort::Insert, &host(width, height, &[]), &Fit::usual(Unit::Millimetre));
    assert!(size("86 mm", "60 mm").starts_with("width 85.6 mm; height 53.98 mm"));
    assert!(size("60 mm", "90 mm").starts_with("width 53.98 mm; height 85.6 mm"));
    assert!(size("60 mm", "60 mm").starts_with("width 85.6 mm"));
}

#[test]
fn sorts_are_spelled_with_hyphens() {
    let words: Vec<String> = Sort::ALL.into_iter().map(Sort::word).collect();
    let expected = "hinge flat-pocket gusseted-pocket slide-in tuck-corner corner-band page flap belly-band mat own-shape tab insert \
                    brad magnet hook-and-loop-dot ribbon";
    assert_eq!(words.join(" "), expected);
    for sort in Sort::ALL {
        assert_eq!(Sort::of_word(&sort.word()), Some(sort));
    }
    assert_eq!(Sort::of_word("Hinge"), None);
}

fn side() -> impl Strategy<Value = Length> {
    prop_oneof![
        (16..192_i64).prop_map(|count| Length::SIXTEENTH * count),
        (25..300_i64).prop_map(|mm| Length::MILLIMETRE * mm),
        (25_400_000..300_000_000_i64).prop_map(Length::from_nm),
    ]
}

fn unit() -> impl Strategy<Value = Unit> {
    prop_oneof![Just(Unit::Inch), Just(Unit::Millimetre), Just(Unit::Centimetre)]
}

/// A sheet with a panel of this size in its middle that folds along some edges, or ends there.
fn panel_with(width: Length, height: Length, folds: &[SheetEdge]) -> Document {
    let border = Length::INCH * 2;
    let margin = |edge| if folds.contains(&edge) { border } else { Length::ZERO };
    let [top, right, bottom, left] = SheetEdge::ALL.map(margin);
    let size = Size::new(left + width + right, top + height + bottom).unwrap();
    let mut document = Document::new(size, Unit::Inch);
    document.base = Some(Point::new(left + width.half(), top + height.half()));
    let lines = [(Turn::None, left), (Turn::None, left + width), (Turn::Once, top), (Turn::Once, top + height)];
    for ((turn, distance), edge) in
        lines.into_iter().zip([SheetEdge::Left, SheetEdge::Right, SheetEdge::Top, SheetEdge::Bottom])
    {
        if folds.contains(&edge) {
            let place = Place::Measured { turn, from: Datum::Edge, distance, run: Run::FULL };
            let id = document.next_line();
            document.lines.push(Line::new(id, place, Work::Score(Crease::VALLEY)));
        }
    }
    document
}

/// Where the glue of a part lies on the sheet once its folds are folded.
fn glued(layout: &Layout, showing: Face) -> Vec<Point> {
    let part = layout.part(ID).unwrap();
    let Some(laid) = part.laid else { return Vec::new() };
    let folded = folded(part, showing);
    let points = part.glue.iter().flat_map(|glue| {
        let panel = &folded[&glue.panels[0]];
        glue.area.iter().flatten().map(|&point| laid.on_host(panel.point(point)))
    });
    points.collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    /// On any panel of an inch or more, on either face: each sort can be made, in the edge or corner asked for; its paper
    /// is on the panel but for a tab and a flap, and its glue lies on the panel, clear of folds.
    #[test]
    fn every_sort_fits_any_panel(
        (width, height, units) in (side(), side(), unit()),
        folds in prop::sample::subsequence(&SheetEdge::ALL[..], 0..=4),
        edge in prop::option::of(prop::sample::select(&SheetEdge::ALL[..])),
        corner in prop::option::of(prop::sample::select(&PanelCorner::ALL[..])),
        face in prop_oneof![Just(Face::Front), Just(Face::Back)],
    ) {
        let mut document = panel_with(width, height, &folds);
        let layout = Layout::of(&document);
        let base = layout.base.unwrap();
        let host = Host::of(&layout, base);
        prop_assert_eq!(host.folds, Edges::of(&folds));
        let on = layout.panel_ref(base).unwrap();
        let fit = Fit { edge, corner, ..Fit::usual(units) };
        for sort in Sort::ALL {
            document.parts = vec![sort.fitted(&host, &fit).part(ID, on, face)];
            let layout = Layout::of(&document);
            prop_assert_eq!(layout.part_faults.get(&ID), None, "{:?}", sort);
            if matches!(sort, Sort::BellyBand | Sort::Insert) {
                continue;
            }
            let part = layout.part(ID).unwrap();
            let outline = &part.panels.iter().find(|panel| panel.id == part.main).unwrap().outline;
            let main: Vec<Point> = outline.iter().map(|&at| part.laid.unwrap().on_host(at)).collect();
            // These stand out of their panel.
            if !matches!(sort, Sort::Tab) {
                check_within(sort, &main, (host.low, host.high))?;
            }
            let clear = measure::CLEARANCE.of(units);
            let off = |edge| if host.folds.has(edge) { clear } else { Length::ZERO };
            let low = Point::new(host.low.x + off(SheetEdge::Left), host.low.y + off(SheetEdge::Top));
            let high = Point::new(host.high.x - off(SheetEdge::Right), host.high.y - off(SheetEdge::Bottom));
            check_within(sort, &glued(&layout, face), (low, high))?;
        }
    }

    /// Measures are never nothing, however small the panel.
    #[test]
    fn no_panel_is_too_small(width in 1..2_000_000_i64, height in 1..2_000_000_i64, units in unit()) {
        let high = Point::new(Length::from_nm(width), Length::from_nm(height));
        let host = Host { low: Point::default(), high, folds: Edges::of(&SheetEdge::ALL) };
        for sort in Sort::ALL {
            let usual = sort.fitted(&host, &Fit::usual(units));
            for (name, length) in usual.kind.measures() {
                let may_be_nothing = matches!(name, "rim" | "gusset" | "band");
                prop_assert!(length > Length::ZERO || may_be_nothing && length == Length::ZERO, "{:?} {}", sort, name);
            }
        }
    }
}

fn check_within(sort: Sort, points: &[Point], (low, high): (Point, Point)) -> Result<(), TestCaseError> {
    for at in points {
        let is_within = low.x <= at.x && at.x <= high.x && low.y <= at.y && at.y <= high.y;
        prop_assert!(is_within, "{:?}: {:?} is not within {:?} to {:?}", sort, at, low, high);
    }
    Ok(())
}

#[test]
fn what_is_bought_has_no_paper() {
    let layout = Layout::of(&bench::sheet());
    let host = Host::of(&layout, layout.base.unwrap());
    let bought = |sort: &Sort| {
        let part: Part = sort.fitted(&host, &Fit::usual(Unit::Inch)).part(ID, PanelRef::Part(ID, 0), Face::Back);
        assert_eq!((part.place.face, part.place.showing), (Face::Back, Face::Back));
        part.stock(&bench::sheet()).is_none()
    };
    let found: Vec<Sort> = Sort::ALL.into_iter().filter(bought).collect();
    assert_eq!(found, [Sort::Insert, Sort::Brad, Sort::Magnet, Sort::HookAndLoop, Sort::Ribbon]);
}
