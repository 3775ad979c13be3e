//! Folios with parts on them, as their documents say them; what is expected worked out by hand.

use super::{Sheet, VALLEY, at, mm};
use crate::{Assembly, Folding, PartRefusal, Trouble, close, mobility, thickness};
use model::part::{
    Anchor, AnchorFrom, Band, Edges, Flap, GlueArea, Gluing, Hinge, Insert, Mat, Page, PanelCorner, Part, Placement,
    Pocket, Rotation, Source, Tab, TuckCorner,
};
use model::{Face, Layout, LineId, PanelRef, PartId, PartKind, SheetEdge, Step, Tucked};

/// A base of 100 by 100 mm with a flap of 80 mm at its right that folds over it.
fn folio() -> Sheet {
    Sheet::new(180.0, 100.0).down(100.0, VALLEY).base(50.0, 50.0).steps(&[&[1]])
}

const BASE: (f64, f64) = (50.0, 50.0);

impl Sheet {
    fn part(mut self, kind: PartKind, on: PanelRef, left: f64, top: f64) -> Self {
        let id = self.document.next_part();
        let from_start = |distance| Anchor { from: AnchorFrom::Start, distance: mm(distance) };
        let place = Placement { across: from_start(left), down: from_start(top), ..Placement::centred(on) };
        self.document.parts.push(Part {
            id,
            name: String::new(),
            kind,
            source: Source::FolioStock,
            place,
            also: Vec::new(),
        });
        self
    }

    fn last(mut self, change: impl FnOnce(&mut Part)) -> Self {
        change(self.document.parts.last_mut().unwrap());
        self
    }

    fn furnished(&self) -> (Layout, Assembly, Folding) {
        let layout = Layout::of(&self.document);
        assert!(layout.part_faults.is_empty(), "{:?}", layout.part_faults);
        let assembly = crate::assemble(&self.document, &layout).unwrap();
        let folding = close(&assembly);
        (layout, assembly, folding)
    }
}

fn base() -> PanelRef {
    PanelRef::Sheet(at(BASE.0, BASE.1))
}

fn pocket(width: f64, height: f64, gusset: f64) -> PartKind {
    let glued = Edges::of(&[SheetEdge::Left, SheetEdge::Bottom, SheetEdge::Right]);
    PartKind::Pocket(Pocket {
        width: mm(width),
        height: mm(height),
        glued,
        strip: mm(6.0),
        rim: mm(0.0),
        gusset: mm(gusset),
    })
}

fn hinge() -> PartKind {
    PartKind::Hinge(Hinge { length: mm(60.0), leaf: mm(10.0), free_leaf: mm(10.0) })
}

#[track_caller]
fn check_clean(sheet: &Sheet, greatest: f64) {
    let (_, assembly, folding) = sheet.furnished();
    assert!(assembly.left_out.is_empty(), "{:?}", assembly.left_out);
    assert_eq!(folding.troubles(), []);
    let found = thickness(&assembly, &folding).greatest;
    assert!((found - greatest).abs() < 1e-6, "{found} mm thick and not {greatest}");
}

// The paper of all of them is 0.3 mm.

#[test]
fn a_flat_pocket_lies_between_base_and_flap() {
    check_clean(&folio().part(pocket(80.0, 60.0, 0.0), base(), 5.0, 35.0), 0.9);
}

#[test]
fn a_gusseted_pocket_is_three_layers_where_its_sides_are_folded() {
    // Front, gusset and strip, and base and flap. In the lower corners the upright sides stop short.
    check_clean(&folio().part(pocket(70.0, 60.0, 10.0), base(), 5.0, 35.0), 1.5);
}

#[test]
fn a_gusset_opens_only_as_far_as_paper_bows() {
    // Stretched out flat, front and sides are as long as what they span: stiff panels could not move.
    let PartKind::Pocket(kind) = pocket(70.0, 60.0, 10.0) else { unreachable!() };
    let kind = PartKind::Pocket(Pocket { glued: Edges::of(&[SheetEdge::Left, SheetEdge::Right]), ..kind });
    let (_, assembly, folding) = folio().part(kind, base(), 5.0, 35.0).furnished();
    let rings = mobility(&assembly, &folding, 0);
    assert!(rings.iter().all(|ring| ring.gap < 1e-9));
    assert_eq!(rings.iter().filter(|ring| ring.moves).count(), 0);
}

#[test]
fn a_card_lies_in_the_pocket_put_on_before_it() {
    let card = PartKind::Insert(Insert { width: mm(60.0), height: mm(40.0), caliper: Some(mm(0.76)) });
    let sheet = folio().part(pocket(80.0, 60.0, 0.0), base(), 5.0, 35.0).part(card, base(), 15.0, 40.0);
    check_clean(&sheet, 1.66);
    let (layout, assembly, folding) = sheet.furnished();
    let [pocket, card] = [0, 1].map(|part| layout.parts[part].main);
    let base = assembly.panels[assembly.base].id;
    assert_eq!([folding.above(card, base), folding.above(pocket, card)], [Some(true); 2]);
}

#[test]
fn a_page_lies_on_its_strip() {
    for hinged in SheetEdge::ALL {
        let page = PartKind::Page(Page { width: mm(60.0), height: mm(60.0), hinged, strip: mm(12.0) });
        // Leaf, strip, base and flap.
        check_clean(&folio().part(page, base(), 10.0, 10.0), 1.2);
    }
}

#[test]
fn parts_lie_on_the_back_and_turned_over() {
    for (face, showing) in
        [(Face::Front, Face::Back), (Face::Back, Face::Front), (Face::Back, Face::Back), (Face::Front, Face::Front)]
    {
        for kind in [hinge(), pocket(60.0, 50.0, 8.0)] {
            let sheet = folio().part(kind, base(), 20.0, 20.0).last(|part| {
                part.place.face = face;
                part.place.showing = showing;
                part.place.rotation = Rotation::QUARTER;
            });
            let (_, assembly, folding) = sheet.furnished();
            assert!(assembly.left_out.is_empty(), "{face:?} {showing:?}: {:?}", assembly.left_out);
            assert_eq!(folding.troubles(), []);
        }
    }
}

/// A pocket carried by two hinges, free leaves inwards or outwards.
fn raised(mirrored: bool) -> Sheet {
    let mut sheet = folio().part(hinge(), base(), 10.0, 20.0).part(hinge(), base(), 80.0, 20.0);
    if mirrored {
        // The second opens to the other side, so that the two swing against each other.
        sheet.document.parts[1].place.rotation = Rotation::from_hundredths(18_000);
    }
    let on = |hinge: u32| PanelRef::Part(PartId(hinge), 1);
    let glued = Gluing {
        panel: 0,
        face: Face::Back,
        to: on(2),
        area: GlueArea::Strips(Edges::of(&[SheetEdge::Right]), mm(6.0)),
    };
    let kind = PartKind::Mat(Mat { width: mm(80.0), height: mm(60.0) });
    // The free leaf lies back up, and its own left and right are the other way round.
    sheet.part(kind, on(1), 0.0, 0.0).last(|part| {
        part.place.face = Face::Back;
        part.place.across.from = AnchorFrom::End;
        part.also.push(glued);
    })
}

#[test]
fn what_two_hinges_of_one_fold_carry_is_held() {
    // Two bodies joined at two parallel folds that do not lie in line can't move against each other.
    let (_, assembly, folding) = raised(false).furnished();
    assert!(assembly.left_out.is_empty(), "{:?}", assembly.left_out);
    assert_eq!(folding.troubles(), []);
    let moves = |mirrored| {
        let (_, assembly, folding) = raised(mirrored).furnished();
        let [ring] = mobility(&assembly, &folding, 0).try_into().unwrap();
        assert!(ring.gap < 1e-9, "{}", ring.gap);
        ring.moves
    };
    assert!(!moves(false));
    assert!(!moves(true));
}

#[test]
fn what_cannot_be_put_together_is_left_out_with_what_lies_on_it() {
    let far = Gluing { panel: 0, face: Face::Back, to: PanelRef::Sheet(at(140.0, 50.0)), area: GlueArea::Whole };
    let mat = || PartKind::Mat(Mat { width: mm(20.0), height: mm(20.0) });
    let sheet = folio().part(mat(), base(), 10.0, 10.0).last(|part| part.also.push(far));
    let sheet = sheet.part(mat(), PanelRef::Part(PartId(1), 0), 0.0, 0.0).part(mat(), base(), 60.0, 10.0);
    let (layout, assembly, folding) = sheet.furnished();
    let flap = layout.panel_at(at(140.0, 50.0)).unwrap();
    let expected = [
        (PartId(1), PartRefusal::NotTogether(layout.parts[0].main, flap)),
        (PartId(2), PartRefusal::HostLeftOut(PartId(1))),
    ];
    assert_eq!(assembly.left_out.iter().map(|(id, why)| (*id, *why)).collect::<Vec<_>>(), expected);
    assert_eq!(assembly.panels.len(), 3);
    assert_eq!(folding.troubles(), []);
}

#[test]
fn a_glued_on_flap_folds_in_its_own_step() {
    let flap = PartKind::Flap(Flap { width: mm(80.0), reach: mm(40.0), edge: SheetEdge::Top, strip: mm(10.0) });
    let mut sheet = folio().part(flap, base(), 10.0, 0.0);
    let (layout, _, folding) = sheet.furnished();
    let line = layout.parts[0].lines[&LineId(1)];
    assert_eq!(folding.troubles(), [Trouble::NotInSteps { line }]);
    sheet.document.steps.push(Step { parts: vec![(PartId(1), LineId(1))], ..Step::default() });
    // Base, strip and the two flaps on one another.
    check_clean(&sheet, 1.2);
}

#[test]
fn what_lies_across_a_fold_is_struck() {
    // A mat that reaches from the base over the flap beside it, glued all over the base: the flap can't fold.
    let mat = PartKind::Mat(Mat { width: mm(60.0), height: mm(20.0) });
    let across = folio().part(mat, base(), 70.0, 10.0);
    let (_, _, folding) = across.furnished();
    assert!(!folding.troubles().is_empty());
}

/// Two mats over one another, both glued to the base.
fn mats_through_one_another() -> Sheet {
    let mat = |side| PartKind::Mat(Mat { width: mm(side), height: mm(side) });
    folio().part(mat(60.0), base(), 10.0, 10.0).part(mat(30.0), base(), 20.0, 20.0)
}

#[track_caller]
fn check_crosses(sheet: &Sheet) {
    let (_, _, folding) = sheet.furnished();
    let crosses = |trouble: &Trouble| matches!(trouble, Trouble::Crosses { .. });
    assert!(folding.troubles().iter().any(crosses), "{:?}", folding.troubles());
}

#[test]
fn glue_is_looked_at_whatever_else_lies_loose() {
    check_crosses(&mats_through_one_another());
    let card = PartKind::Insert(Insert { width: mm(10.0), height: mm(10.0), caliper: None });
    check_crosses(&mats_through_one_another().part(card, base(), 85.0, 85.0));
    let none = Gluing { panel: 0, face: Face::Back, to: base(), area: GlueArea::None };
    let mat = PartKind::Mat(Mat { width: mm(10.0), height: mm(10.0) });
    check_crosses(&mats_through_one_another().part(mat, base(), 85.0, 0.0).last(|part| part.also.push(none)));
}

#[test]
fn glue_in_the_air_holds_nothing() {
    let tab = Tab { width: mm(20.0), height: mm(10.0), glued: SheetEdge::Top, strip: mm(4.0) };
    // Its strip lies beyond the upper border of the base.
    let sheet = folio().part(PartKind::Tab(tab), base(), 10.0, -5.0);
    let (layout, assembly, _) = sheet.furnished();
    let host = assembly.panels[assembly.base].id;
    let refusal = PartRefusal::NotTogether(layout.parts[0].main, host);
    assert_eq!(assembly.left_out.get(&PartId(1)), Some(&refusal));
}

#[test]
fn a_card_goes_under_tuck_corners_put_on_before_it_and_stays_in_a_pocket_that_it_stands_out_of() {
    let corner = |corner| {
        PartKind::TuckCorner(TuckCorner { across: mm(15.0), down: mm(15.0), corner, band: mm(0.0), strip: mm(3.0) })
    };
    let card = |width, height| PartKind::Insert(Insert { width: mm(width), height: mm(height), caliper: None });
    let above = |sheet: &Sheet, upper: usize, lower: usize| {
        let (layout, _, folding) = sheet.furnished();
        folding.above(layout.parts[upper].main, layout.parts[lower].main)
    };
    let corners = folio()
        .part(corner(PanelCorner::TopLeft), base(), 0.0, 0.0)
        .part(corner(PanelCorner::BottomRight), base(), 85.0, 85.0)
        .part(card(92.0, 92.0), base(), 4.0, 4.0);
    assert_eq!([above(&corners, 0, 2), above(&corners, 1, 2)], [Some(true); 2]);
    let standing_out =
        folio().part(pocket(80.0, 40.0, 0.0), base(), 5.0, 55.0).part(card(50.0, 60.0), base(), 20.0, 15.0);
    assert_eq!(above(&standing_out, 0, 1), Some(true));
}

#[test]
fn what_lies_on_a_band_is_no_concern_of_folding() {
    let band = PartKind::Band(Band { around: mm(220.0), width: mm(20.0), overlap: mm(10.0), is_upright: false });
    let mat = PartKind::Mat(Mat { width: mm(20.0), height: mm(15.0) });
    let sheet = folio().part(band, base(), 0.0, 0.0).part(mat, PanelRef::Part(PartId(1), 0), 10.0, 2.0);
    let (_, assembly, folding) = sheet.furnished();
    assert!(assembly.left_out.is_empty(), "{:?}", assembly.left_out);
    assert_eq!((assembly.panels.len(), folding.troubles()), (2, &[][..]));
}

#[test]
fn a_flap_is_tucked_with_what_is_glued_to_it_and_under_what_is_glued_to_the_other() {
    // Flaps of 60 mm from both sides on a base of 100 mm share 20 mm of it; each has a mat on its inside and one on its
    // outside. The left one closes last and is tucked under the right one.
    let [left, right] = [(30.0, 50.0), (190.0, 50.0)].map(|(x, y)| PanelRef::Sheet(at(x, y)));
    let mat = || PartKind::Mat(Mat { width: mm(50.0), height: mm(50.0) });
    let mut folio = Sheet::new(220.0, 100.0).down(60.0, VALLEY).down(160.0, VALLEY).base(100.0, 50.0);
    folio = folio.steps(&[&[2], &[1]]);
    for on in [left, right] {
        folio = folio.part(mat(), on, 5.0, 25.0).part(mat(), on, 5.0, 25.0).last(|part| part.place.face = Face::Back);
    }
    folio.document.steps[1].tucks = vec![Tucked { panel: left, under: right }];
    let (layout, _, folding) = folio.furnished();
    assert_eq!(folding.troubles(), []);
    let panel = |on: PanelRef| layout.panel_of(on).unwrap();
    let [inner, outer, under, over] = [1, 2, 3, 4].map(|part| panel(PanelRef::Part(PartId(part), 0)));
    let pile = [inner, panel(left), outer, under, panel(right), over];
    for (place, &low) in pile.iter().enumerate() {
        for &high in &pile[place + 1..] {
            assert_eq!(folding.above(high, low), Some(true), "{low:?} under {high:?}");
        }
    }
}
