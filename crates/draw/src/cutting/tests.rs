//! Whole sheets: what is on them, in which order, and that nothing is cut twice.

use super::*;
use allot::{Settings, allot};
use model::change::{add_line, measured_score};
use model::part::{Hinge, Mat, Part, PartId, PartKind, Placement, Source};
use model::{
    Corner, CornerShape, Crease, Length, Line, LineId, Notch, PanelRef, Place, Point, Spot, Strip, StripSide, Turn,
    Unit, Which, Work,
};
use std::f64::consts::FRAC_PI_2;

fn mm(count: i64) -> Length {
    Length::MILLIMETRE * count
}

fn at(x: i64, y: i64) -> Point {
    Point::new(mm(x), mm(y))
}

/// A sheet of 200 × 100 mm under construction.
struct Sketch(Document);

impl Sketch {
    fn new() -> Self {
        Self(Document::new(model::Size::parse("200x100mm").unwrap(), Unit::Millimetre))
    }

    fn line(mut self, place: Place, work: Work) -> Self {
        let id = LineId(u32::try_from(self.0.lines.len()).unwrap() + 1);
        self.0.apply(add_line(&self.0, Line::new(id, place, work))).unwrap();
        self
    }

    fn drawn(self, from: (i64, i64), to: (i64, i64), bow: i64, work: Work) -> Self {
        let [from, to] = [from, to].map(|(x, y)| Spot::At(at(x, y)));
        self.line(Place::Drawn { from, to, bow: mm(bow) }, work)
    }

    /// A line from edge to edge, so far from the left edge.
    fn across(self, distance: i64, work: Work) -> Self {
        let place = measured_score(LineId(1), Turn::None, mm(distance)).place;
        self.line(place, work)
    }

    /// The same, so far from the upper edge.
    fn level(self, distance: i64, work: Work) -> Self {
        let place = measured_score(LineId(1), Turn::Once, mm(distance)).place;
        self.line(place, work)
    }

    /// A square cut out, from its upper left corner.
    fn square(self, x: i64, y: i64, side: i64) -> Self {
        let corners = [(x, y), (x + side, y), (x + side, y + side), (x, y + side)];
        (0..4).fold(self, |sketch, i| sketch.drawn(corners[i], corners[(i + 1) % 4], 0, Work::Cut))
    }

    fn base(mut self, x: i64, y: i64) -> Self {
        self.0.base = Some(at(x, y));
        self
    }

    fn plan(&self, options: CuttingOptions) -> CuttingPlan {
        let layout = Layout::of(&self.0);
        let supply = (!self.0.parts.is_empty()).then(|| allot(&self.0, &layout, &Settings::default()));
        cutting(&self.0, &layout, supply.as_ref(), options).unwrap()
    }

    fn sheet(&self) -> CuttingSheet {
        let [sheet] = self.plan(CuttingOptions::default()).sheets.try_into().unwrap();
        sheet
    }
}

const VALLEY: Work = Work::Score(Crease::VALLEY);

/// The contours of a pass, each as its corners in whole mm.
fn corners(sheet: &CuttingSheet, pass: Pass) -> Vec<Vec<(f64, f64)>> {
    contours(sheet, pass)
        .iter()
        .flat_map(|contour| &contour.tracks)
        .map(|track| {
            let ends = track.bends.iter().map(|bend| bend.to);
            std::iter::once(track.start).chain(ends).map(|point| (point.x, point.y)).collect()
        })
        .collect()
}

fn contours(sheet: &CuttingSheet, pass: Pass) -> Vec<Contour> {
    let passes = sheet.groups.iter().flat_map(|group| &group.passes);
    passes.filter(|(own, _)| *own == pass).flat_map(|(_, contours)| contours.clone()).collect()
}

fn length(sheet: &CuttingSheet, pass: Pass) -> f64 {
    contours(sheet, pass).iter().map(Contour::length).sum()
}

#[test]
fn scores_run_through_crossings_and_the_sheets_edge_is_left() {
    let sheet = Sketch::new().across(50, VALLEY).level(30, VALLEY).sheet();
    assert_eq!(sheet.counts(), [(Pass::Score(Direction::Valley), 2)]);
    let found = corners(&sheet, Pass::Score(Direction::Valley));
    // The first is nearest to the upper left corner; the other one is begun at the end that is nearer then.
    assert_eq!(found, [vec![(0.0, 30.0), (200.0, 30.0)], vec![(50.0, 0.0), (50.0, 100.0)]]);
}

#[test]
fn an_edge_that_two_pieces_share_is_cut_once() {
    let sheet = Sketch::new().across(50, Work::Cut).level(30, Work::Cut).base(100, 50).sheet();
    assert!((length(&sheet, Pass::Cut) - 300.0).abs() < 1e-9);
    // The smallest piece first, in one go.
    assert_eq!(corners(&sheet, Pass::Cut)[0], [(0.0, 30.0), (50.0, 30.0), (50.0, 0.0)]);
}

#[test]
fn what_lies_inside_is_cut_first() {
    // A slit in a square in a square, drawn from the outside in.
    let sketch = Sketch::new().square(20, 10, 80).square(40, 30, 40).drawn((50, 40), (60, 40), 0, Work::Cut);
    let found = corners(&sketch.base(5, 5).sheet(), Pass::Cut);
    let starts: Vec<(f64, f64)> = found.iter().map(|track| track[0]).collect();
    assert_eq!(starts, [(50.0, 40.0), (40.0, 30.0), (20.0, 10.0)]);
    assert!(found[1..].iter().all(|track| track.len() == 5 && track[0] == track[4]), "{found:?}");
}

#[test]
fn a_slot_that_sets_nothing_free_is_one_and_else_it_is_a_cut() {
    let slot = Work::Slot(Strip { width: mm(4), side: StripSide::Centred });
    let inside = Sketch::new().drawn((50, 20), (50, 60), 0, slot).base(10, 10).sheet();
    assert_eq!(inside.counts(), [(Pass::Slot, 1)]);
    assert_eq!(corners(&inside, Pass::Slot)[0].len(), 5);
    assert!((length(&inside, Pass::Slot) - 88.0).abs() < 1e-9);
    // From the edge it is open; the sheet's own edge is no cut.
    let open = Sketch::new().drawn((50, 0), (50, 60), 0, slot).base(10, 10).sheet();
    assert_eq!(open.counts(), [(Pass::Slot, 1)]);
    assert!((length(&open, Pass::Slot) - 124.0).abs() < 1e-9);
    // From edge to edge it parts the sheet.
    let through = Sketch::new().drawn((50, 0), (50, 100), 0, slot).base(10, 10).sheet();
    assert_eq!(through.counts(), [(Pass::Cut, 2)]);
}

#[test]
fn arcs_are_arcs() {
    // To the left of the way to the right is down, into the sheet.
    let notch = Work::Notch(Notch { depth: mm(10), to_left: true });
    let mut sketch = Sketch::new().drawn((80, 0), (120, 0), 0, notch).base(10, 50);
    sketch.0.corners = vec![Corner { mark: at(10, 50), which: Which::AllOfPiece, shape: CornerShape::Round(mm(8)) }];
    let sheet = sketch.sheet();
    let found = contours(&sheet, Pass::Cut);
    let arcs: Vec<(kurbo::Point, Bend)> =
        found.iter().flat_map(|contour| &contour.tracks).flat_map(|track| track.stretches()).collect();
    assert_eq!(arcs.len(), 5, "{arcs:?}");
    let quarters = arcs
        .iter()
        .filter(|(from, bend)| (bend.radius(*from) - 8.0).abs() < 1e-5 && (bend.sweep.abs() - FRAC_PI_2).abs() < 1e-5);
    assert_eq!(quarters.count(), 4);
    // A chord of 40 and a rise of 10: a radius of 25.
    assert!(arcs.iter().any(|(from, bend)| (bend.radius(*from) - 25.0).abs() < 1e-5), "{arcs:?}");
}

#[test]
fn perforation_starts_afresh_where_scores_cross() {
    let scores = ScoreStyle::Perforated(Dashes::new(mm(10), mm(5)).unwrap());
    let sketch = Sketch::new().across(50, VALLEY).level(30, VALLEY);
    let [sheet] = sketch.plan(CuttingOptions { scores, ..Default::default() }).sheets.try_into().unwrap();
    let rows = contours(&sheet, Pass::Score(Direction::Valley));
    assert_eq!(rows.len(), 2);
    let upright = rows.iter().find(|row| (row.tracks[0].start.x - 50.0).abs() < 1e-9).unwrap();
    let mut spans: Vec<(f64, f64)> = upright.tracks.iter().map(|t| (t.start.y.min(t.end().y), t.length())).collect();
    spans.sort_by(|a, b| a.0.total_cmp(&b.0));
    // 30 mm above the crossing: one dash, and 10 mm left at either end; 70 mm below: four dashes, 6 mm between them.
    let expected = [(10.0, 10.0), (36.0, 10.0), (52.0, 10.0), (68.0, 10.0), (84.0, 10.0)];
    assert_eq!(spans.len(), expected.len(), "{spans:?}");
    for ((a, b), (c, d)) in spans.iter().zip(expected) {
        assert!((a - c).abs() < 1e-9 && (b - d).abs() < 1e-9, "{spans:?}");
    }
}

#[test]
fn scores_of_the_back_are_mirrored_on_a_sheet_of_their_own() {
    let mountain = Work::Score(Crease { direction: Direction::Mountain, ..Crease::VALLEY });
    let sketch = Sketch::new().across(50, VALLEY).across(80, mountain).across(90, Work::Cut);
    let plan = sketch.plan(CuttingOptions { turn_over: true, ..Default::default() });
    let [back, front] = plan.sheets.try_into().unwrap();
    assert!(back.is_back && !front.is_back);
    // A valley is pressed into the back.
    assert_eq!(corners(&back, Pass::Score(Direction::Valley)), [[(150.0, 0.0), (150.0, 100.0)]]);
    assert_eq!(back.counts().len(), 1);
    assert_eq!(front.counts(), [(Pass::Score(Direction::Mountain), 1), (Pass::Cut, 1)]);
    assert_eq!(plan.notes, [""; 0]);
}

/// A strip 60 mm wide comes off; a mat of 60 × 40 mm and a hinge are cut from it.
fn with_parts(source: Source) -> Sketch {
    let mut sketch = Sketch::new().across(60, Work::Cut).across(130, VALLEY).level(70, VALLEY).base(80, 20);
    let place = Placement::centred(PanelRef::Sheet(at(80, 20)));
    let part = |id, kind| Part { id: PartId(id), name: String::new(), kind, source, place, also: Vec::new() };
    let hinge = PartKind::Hinge(Hinge { length: mm(50), leaf: mm(10), free_leaf: mm(10) });
    sketch.0.parts = vec![part(1, PartKind::Mat(Mat { width: mm(60), height: mm(40) })), part(2, hinge)];
    sketch
}

#[test]
fn parts_are_cut_from_their_offcut_without_cutting_its_edges_again() {
    let sheet = with_parts(Source::AnyOffcut).sheet();
    // By hand: the strip's edge is 100 mm. The hinge, 50 x 20, lies in its upper left corner, so two sides are left to cut.
    // The mat lies under it, as wide as the strip: its lower side of 60, and 10 of the upper one beyond the hinge.
    let found = length(&sheet, Pass::Cut);
    assert!((found - (100.0 + 70.0 + 10.0 + 60.0)).abs() < 1e-9, "{:?}", corners(&sheet, Pass::Cut));
    // The strip's edge comes last.
    let last = corners(&sheet, Pass::Cut).pop().unwrap();
    assert_eq!(last, [(60.0, 0.0), (60.0, 100.0)]);
    // The folio's scores and the hinge's; on the strip itself none is pressed.
    assert!((length(&sheet, Pass::Score(Direction::Valley)) - (100.0 + 140.0 + 50.0)).abs() < 1e-9);
}

#[test]
fn further_sheets_follow_with_their_numbers() {
    let plan = with_parts(Source::FolioStock).plan(CuttingOptions { outline: true, ..Default::default() });
    let names: Vec<(&str, usize)> = plan.sheets.iter().map(|sheet| (sheet.name.as_str(), sheet.number)).collect();
    assert_eq!(names, [("The sheet", 1), ("Further sheet 1", 2)]);
    for sheet in &plan.sheets {
        let (pass, count) = *sheet.counts().last().unwrap();
        assert_eq!((pass, count), (Pass::Outline, 1));
        assert!((length(sheet, Pass::Outline) - 600.0).abs() < 1e-9);
    }
}

#[test]
fn pieces_lie_side_by_side_each_cut_all_round() {
    let options = CuttingOptions { layout: CuttingLayout::Pieces, ..Default::default() };
    let [sheet] = with_parts(Source::AnyOffcut).plan(options).sheets.try_into().unwrap();
    // The offcut that parts come from is used up.
    let keys: Vec<&str> = sheet.groups.iter().map(|group| group.key.as_str()).collect();
    assert_eq!(keys, ["folio", "part-1", "part-2"]);
    let around: Vec<f64> = sheet
        .groups
        .iter()
        .map(|group| group.passes.iter().filter(|(pass, _)| *pass == Pass::Cut).flat_map(|(_, all)| all))
        .map(|contours| contours.map(Contour::length).sum())
        .collect();
    let expected = [2.0 * (140.0 + 100.0), 2.0 * (60.0 + 40.0), 2.0 * (50.0 + 20.0)];
    assert!(around.iter().zip(expected).all(|(a, b)| (a - b).abs() < 1e-9), "{around:?}");
    // 5 mm round each: two rows, since all in one would be wider than the sheet.
    assert_eq!((sheet.size.width, sheet.size.height), (150.0, 5.0 + 100.0 + 5.0 + 50.0 + 5.0));
}

#[test]
fn marks_are_drawn_when_they_are_asked_for() {
    let sketch = Sketch::new().across(60, Work::Cut).level(20, Work::Guide).base(100, 50);
    assert_eq!(sketch.sheet().counts(), [(Pass::Cut, 1)]);
    let [sheet] = sketch.plan(CuttingOptions { marks: true, ..Default::default() }).sheets.try_into().unwrap();
    // A guide, and the names of two pieces.
    assert_eq!(sheet.counts(), [(Pass::Mark, 3), (Pass::Cut, 1)]);
}

#[test]
fn nothing_to_do_and_too_much_are_refused() {
    let refused = |sketch: &Sketch, options| cutting(&sketch.0, &Layout::of(&sketch.0), None, options).unwrap_err();
    let marks = CuttingOptions { marks: true, ..Default::default() };
    assert_eq!(refused(&Sketch::new().across(20, Work::Guide), marks), CuttingRefusal::Nothing);
    let scores = ScoreStyle::Dashed(Dashes::new(Dashes::LEAST, Dashes::LEAST).unwrap());
    let mut large = Sketch::new();
    large.0.stock.size = model::Size::parse("9000x9000mm").unwrap();
    // 27 m in dashes 0.2 mm apart.
    let many = large.across(20, VALLEY).across(30, VALLEY).across(40, VALLEY);
    let fine = CuttingOptions { scores, ..Default::default() };
    assert_eq!(refused(&many, fine), CuttingRefusal::TooManyDashes);
}

#[test]
fn what_is_left_out_is_told() {
    let mut sketch = with_parts(Source::AnyOffcut);
    sketch.0.parts[0].kind = PartKind::Mat(Mat { width: mm(190), height: mm(90) });
    let cut = Place::Measured {
        turn: Turn::None,
        from: model::Datum::Line(LineId(77)),
        distance: mm(1),
        run: model::Run::FULL,
    };
    sketch.0.lines.push(Line::new(LineId(9), cut, Work::Cut));
    let notes = sketch.plan(CuttingOptions::default()).notes;
    assert_eq!(notes.len(), 3, "{notes:?}");
    assert_eq!(notes[0], "1 line has no place on the sheet and is left out; check the design.");
    assert!(notes[1].starts_with("\"Mat 1\" has no paper and is left out: "), "{notes:?}");
    assert_eq!(notes[2], "Some scores are best pressed into the back; here they all lie on the front.");
}
