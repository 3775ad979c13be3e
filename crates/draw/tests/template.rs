//! The template's backs, papers, parts and cutting plan, read back from the display list.
#![expect(clippy::unwrap_used, reason = "a test may fail")]

extern crate foliowright_draw as draw;
extern crate model as foliowright_model;

#[path = "../../model/tests/common/mod.rs"]
mod common;

use allot::{Settings, allot};
use common::{Sketch, four_flaps, length};
use draw::list::{Drawing, Node, Role, Shape};
use draw::style::{Colour, PRINTED_LINE, PRINTED_TEXT, WHITE};
use draw::supply::Furnishing;
use draw::template::{Paper, Sides, TemplateOptions, template};
use kurbo::{Affine, Line, ParamCurve as _, PathSeg, Point, Rect, Size};
use model::change::measured_score;
use model::part::{Hinge, Mat, Own, Part, Placement, Source};
use model::{Document, Face, Layout, LineId, PanelRef, PartId, PartKind, Pattern, Turn};

/// What is drawn on a page: straight lines with their role and colour, texts with theirs and their boxes.
#[derive(Debug, Default)]
struct Seen {
    lines: Vec<(Role, Line, Colour)>,
    texts: Vec<(String, Colour, Rect)>,
}

fn look(nodes: &[Node], place: Affine, seen: &mut Seen) {
    for node in nodes {
        match node {
            Node::Group { place: inner, nodes, .. } => look(nodes, place * *inner, seen),
            Node::Tagged { nodes, .. } => look(nodes, place, seen),
            Node::Item { role, shape: Shape::Line { path, stroke } } => {
                for segment in path.segments() {
                    if let PathSeg::Line(line) = segment {
                        seen.lines.push((*role, place * line, stroke.colour));
                    }
                }
            }
            Node::Item { shape: Shape::Text(run), .. } => {
                let place = place.transform_rect_bbox(run.bounds());
                seen.texts.push((run.text().replace('\u{A0}', " "), run.colour(), place));
            }
            Node::Item { .. } => {}
        }
    }
}

impl Seen {
    fn of(page: &Drawing) -> Self {
        let mut seen = Self::default();
        look(&page.nodes, Affine::IDENTITY, &mut seen);
        seen
    }

    fn of_role(&self, role: Role) -> Vec<Line> {
        self.lines.iter().filter(|(own, ..)| *own == role).map(|(_, line, _)| *line).collect()
    }

    fn says(&self, words: &str) -> bool {
        let all: Vec<&str> = self.texts.iter().map(|(text, ..)| text.as_str()).collect();
        all.join(" ").contains(words)
    }
}

fn options(paper: Paper, sides: Sides) -> TemplateOptions<'static> {
    TemplateOptions { paper, sides, artwork: None }
}

fn pages(document: &Document, options: TemplateOptions<'_>) -> Vec<Drawing> {
    let layout = Layout::of(document);
    let supply = allot(document, &layout, &Settings::of(document));
    let assembly = fold::assemble(document, &layout);
    let folding = assembly.as_ref().map(fold::close);
    let folded = assembly.as_ref().zip(folding.as_ref());
    let furnishing = Furnishing { supply: &supply, folded };
    let furnishing = (!document.parts.is_empty()).then_some(&furnishing);
    template(document, &layout, furnishing, &options).unwrap().pages
}

fn part(id: u32, kind: PartKind, source: Source, document: &Document) -> Part {
    let place = Placement::centred(PanelRef::Sheet(document.base.unwrap()));
    Part { id: PartId(id), name: format!("Slip {id}"), kind, source, place, also: Vec::new() }
}

/// Four flaps with a mat from an offcut, a hinge from further paper and a mat on the back of the base.
fn furnished() -> Document {
    let mut document = four_flaps();
    let mat = |width: &str, height: &str| PartKind::Mat(Mat { width: length(width), height: length(height) });
    let hinge = PartKind::Hinge(Hinge { length: length("2"), leaf: length("1/2"), free_leaf: length("3/4") });
    let mut behind = part(3, mat("3", "2"), Source::FolioStock, &document);
    behind.place.face = Face::Back;
    document.parts = vec![
        part(1, mat("2", "1"), Source::AnyOffcut, &document),
        part(2, hinge, Source::FolioStock, &document),
        behind,
    ];
    document
}

fn near(a: Line, b: Line) -> bool {
    let close = |p: Point, q: Point| (p - q).hypot() < 1e-6;
    (close(a.p0, b.p0) && close(a.p1, b.p1)) || (close(a.p0, b.p1) && close(a.p1, b.p0))
}

/// Flipped on the long edge, an upright page's left is its back's right, and a page on its side is turned upside down.
#[test]
fn a_back_lies_behind_its_front_with_folds_the_other_way() {
    let wide =
        Sketch::on("400x200mm").score(1, Turn::None, "70 mm").score(2, Turn::Once, "50 mm").base("200 mm", "100 mm").0;
    for (document, paper, sideways) in
        [(four_flaps(), Paper::Letter, true), (four_flaps(), Paper::Sheet, true), (wide, Paper::A3, false)]
    {
        let pages = pages(&document, options(paper, Sides::Both));
        let tiles: Vec<&Drawing> = pages.iter().skip_while(|page| Seen::of(page).says("how to use")).collect();
        let tiles: Vec<&Drawing> = tiles.into_iter().filter(|page| !Seen::of(page).says("left empty")).collect();
        assert!(!tiles.is_empty() && tiles.len().is_multiple_of(2), "{paper:?}");
        for pair in tiles.chunks(2) {
            assert_eq!(pair[0].size, pair[1].size);
            let Size { width, height } = pair[0].size;
            assert_eq!(width <= height, sideways, "{paper:?}");
            let map = if sideways {
                Affine::new([-1.0, 0.0, 0.0, 1.0, width, 0.0])
            } else {
                Affine::new([1.0, 0.0, 0.0, -1.0, 0.0, height])
            };
            let [front, back] = [0, 1].map(|i| Seen::of(pair[i]));
            for (here, there) in [
                (Role::Valley, Role::Mountain),
                (Role::Mountain, Role::Valley),
                (Role::Cut, Role::Cut),
                (Role::Outline, Role::Outline),
            ] {
                let (ours, theirs) = (front.of_role(here), back.of_role(there));
                assert_eq!(ours.len(), theirs.len(), "{paper:?} {here:?}");
                for line in ours {
                    assert!(theirs.iter().any(|other| near(map * line, *other)), "{paper:?} {here:?} {line:?}");
                }
            }
            let base =
                |seen: &Seen| seen.texts.iter().find(|(text, ..)| text == "Base").map(|(.., place)| place.center());
            if let (Some(here), Some(there)) = (base(&front), base(&back)) {
                // Boxes reach from the descent to the ascent and not evenly about the middle that is kept.
                assert!((map * here - there).hypot() < 1.0, "{here:?} {there:?}");
            }
        }
    }
}

#[test]
fn backs_are_asked_for_and_said() {
    let plain = pages(&four_flaps(), options(Paper::Letter, Sides::Front));
    assert!(!Seen::of(&plain[0]).says("flipped on the long edge"));
    assert!(plain.iter().all(|page| !Seen::of(page).says("of 2, back")));
    let both = pages(&four_flaps(), options(Paper::Letter, Sides::Both));
    assert!(Seen::of(&both[0]).says("flipped on the long edge: the leaf is turned over from left to right"));
    // Notes take a page or two; what is left of a leaf is left empty, so that fronts have odd numbers.
    let first = both.iter().position(|page| Seen::of(page).says("of 2, front")).unwrap();
    assert!(first == 2 || first == 4, "{first}");
    for (i, page) in both.iter().enumerate().skip(first) {
        let face = if i % 2 == 0 { "front" } else { "back" };
        assert!(Seen::of(page).says(&format!("of 2, {face}")), "page {}", i + 1);
    }
    let planned: Vec<String> = Seen::of(&both[0]).texts.into_iter().map(|(text, ..)| text).collect();
    for number in [1, 3, 5, 7].map(|after| first + after) {
        assert!(planned.contains(&format!("page {number}")), "{planned:?}");
    }
}

/// ISO 216 A3 297 x 420 mm; ANSI B 11 x 17 in.
#[test]
fn larger_papers_take_fewer_pages() {
    for (paper, wide, high, count) in [(Paper::A3, 297.0, 420.0, 2), (Paper::Tabloid, 279.4, 431.8, 2)] {
        let pages = pages(&four_flaps(), options(paper, Sides::Front));
        assert!(pages.iter().all(|page| page.size == Size::new(wide, high) || page.size == Size::new(high, wide)));
        assert_eq!(pages.len(), 1 + count, "{paper:?}");
    }
}

#[test]
fn what_is_printed_on_the_sheet_is_pale_and_still_seen() {
    let pages = pages(&furnished(), options(Paper::Sheet, Sides::Both));
    let on_sheet = pages.iter().filter(|page| page.size == Size::new(304.8, 304.8));
    let mut count = 0;
    for page in on_sheet {
        let seen = Seen::of(page);
        for (role, _, ink) in &seen.lines {
            let ratio = ink.contrast(WHITE);
            assert!((PRINTED_LINE..PRINTED_LINE + 0.1).contains(&ratio), "{role:?}: {ratio}");
        }
        for (text, ink, _) in &seen.texts {
            let ratio = ink.contrast(WHITE);
            assert!((PRINTED_TEXT..PRINTED_TEXT + 0.1).contains(&ratio), "{text}: {ratio}");
        }
        count += seen.lines.len();
    }
    assert!(count > 20);
}

#[test]
fn every_part_is_there_at_true_size_with_its_words() {
    let pages = pages(&furnished(), options(Paper::Letter, Sides::Front));
    let parts: Vec<Seen> =
        pages.iter().map(Seen::of).filter(|seen| seen.says(": parts, front") && !seen.lines.is_empty()).collect();
    assert_eq!(parts.len(), 1);
    for words in [
        "Slip 1 Mat, 2 x 1 in. Cut from Offcut 1",
        "Slip 2 Hinge, 1 1/4 x 2 in. Cut from sheet 1 of further folio paper",
        "Goes on the front of Base, its front seen.",
        "Goes on the back of Base, its front seen.",
        "Score with the back up, from the left edge: 1/2 in.",
        "Glue on the back",
    ] {
        assert!(parts[0].says(words), "{words} in {:?}", parts[0].texts);
    }
    // Cut out all round: 6, 6 1/2 and 10 in.
    let cuts: f64 = parts[0].of_role(Role::Cut).iter().map(|line| (line.p1 - line.p0).hypot()).sum();
    assert!((cuts - 22.5 * 25.4).abs() < 1e-6, "{}", cuts / 25.4);
    let folds = parts[0].of_role(Role::Valley);
    assert_eq!(folds.len(), 1);
    assert!(((folds[0].p1 - folds[0].p0).hypot() - 50.8).abs() < 1e-9);
    assert!(!parts[0].of_role(Role::Glue).is_empty());
}

#[test]
fn glue_is_hatched_on_the_face_that_it_is_on() {
    let pages = pages(&furnished(), options(Paper::Sheet, Sides::Both));
    let faces: Vec<Seen> = pages.iter().filter(|page| page.size == Size::new(304.8, 304.8)).map(Seen::of).collect();
    let extent = |seen: &Seen| {
        let boxes = seen.of_role(Role::Glue).into_iter().map(|line| Rect::from_points(line.p0, line.p1));
        boxes.reduce(|all, one| all.union(one)).unwrap()
    };
    // On the front the mat of 2 x 1 in and the hinge's leaf lie in the middle of the base, on the back that of 3 x 2 in;
    // hatching comes within its step of the edges.
    let (front, back) = (extent(&faces[0]), extent(&faces[1]));
    assert!(front.width() <= 50.8 + 1e-6 && front.width() > 46.0, "{front:?}");
    assert!(back.width() <= 76.2 + 1e-6 && back.width() > 71.0, "{back:?}");
    assert!(back.height() <= 50.8 + 1e-6 && back.height() > 46.0, "{back:?}");
}

#[test]
fn the_cutting_plan_numbers_the_cuts() {
    let document = furnished();
    let layout = Layout::of(&document);
    let supply = allot(&document, &layout, &Settings::of(&document));
    let pages = pages(&document, options(Paper::A4, Sides::Front));
    let plan = Seen::of(pages.last().unwrap());
    assert!(plan.says("Which part is cut from what"), "{:?}", plan.texts);
    let cuts = supply.offcuts.iter().flat_map(|offcut| &offcut.cuts);
    let cuts: Vec<_> = cuts.chain(supply.sheets.iter().flat_map(|paper| &paper.sheets[0].cuts)).collect();
    assert!(cuts.len() >= 3, "{cuts:?}");
    for cut in cuts {
        assert!(plan.says(&cut.sentence), "{}", cut.sentence);
    }
    assert!(plan.says("Sheet 1 of 1 of further folio paper, 12 x 12 in"));
}

#[test]
fn the_side_that_is_up_is_said_turn_by_turn() {
    let mut document = four_flaps();
    document.stock.front.pattern = Pattern::AnyWay;
    let cover = Seen::of(&pages(&document, options(Paper::Letter, Sides::Front))[0]);
    assert!(cover.says("As drawn (left edge at the left), back up, the plain side"), "{:?}", cover.texts);
    assert!(cover.says("The template shows the front of the sheet, its pattern side."));
    document.stock.back.pattern = Pattern::AnyWay;
    let cover = Seen::of(&pages(&document, options(Paper::Letter, Sides::Front))[0]);
    assert!(!cover.says("the plain side") && cover.says("back up"));
}

/// 24 x 36 in on Letter with one score near the left edge: nothing but edges and the score is printed.
#[test]
fn pages_that_hold_nothing_are_left_out_and_said() {
    let document = Sketch::on("24x36in").score(1, Turn::None, "1").base("12", "18").0;
    let pages = pages(&document, options(Paper::Letter, Sides::Front));
    let cover = Seen::of(&pages[0]);
    assert!(cover.says("Pages with no line on them are left out") && cover.says("left out"));
    for page in &pages[1..] {
        let seen = Seen::of(page);
        let drawn = seen.lines.iter().filter(|(role, ..)| matches!(role, Role::Outline | Role::Valley)).count();
        assert!(drawn > 0, "{:?}", seen.texts);
        assert!(seen.says(&format!("of {}", pages.len())));
    }
}

#[test]
fn a_part_larger_than_a_page_goes_over_several() {
    let mut document = four_flaps();
    let mat = PartKind::Mat(Mat { width: length("11 1/2"), height: length("5") });
    document.parts = vec![part(1, mat, Source::FolioStock, &document)];
    let pages = pages(&document, options(Paper::Letter, Sides::Front));
    let own: Vec<Seen> = pages.iter().map(Seen::of).filter(|seen| seen.says("part \"Slip 1\", row 1 of 1")).collect();
    assert_eq!(own.len(), 2);
    // 292.1 mm over two pages that share 12 mm, above and below, and two sides of 127 mm.
    let cuts: f64 = own.iter().flat_map(|seen| seen.of_role(Role::Cut)).map(|line| (line.p1 - line.p0).hypot()).sum();
    assert!((cuts - 2.0 * (292.1 + 12.0 + 127.0)).abs() < 1e-6, "{cuts}");
}

#[test]
fn the_same_template_twice() {
    let document = furnished();
    for paper in Paper::ALL {
        let [one, other] = [0, 1].map(|_| pages(&document, options(paper, Sides::Both)));
        assert_eq!(one, other, "{paper:?}");
    }
}

/// A score down the left flap crosses both corners there; a label is cut from the upper one.
#[test]
fn scores_stop_short_of_the_offcuts_that_parts_are_cut_from_in_words_and_in_the_drawing() {
    let mut document = Sketch(four_flaps()).score(5, Turn::None, "2").0;
    let corner = Rect::new(0.1, 0.1, 76.1, 76.1);
    let seen = |document: &Document| {
        let pages = pages(document, options(Paper::Sheet, Sides::Front));
        let sheet = pages.iter().find(|page| page.size == Size::new(304.8, 304.8)).unwrap();
        let over = |line: &Line| (0..=60).any(|part| corner.contains(line.eval(f64::from(part) / 60.0)));
        (Seen::of(&pages[0]), Seen::of(sheet).of_role(Role::Valley).iter().filter(|line| over(line)).count())
    };
    let (words, over) = seen(&document);
    assert!(words.says("each edge to edge: 2 in Score 5") && over == 1, "{over}: {:?}", words.texts);
    let mat = PartKind::Mat(Mat { width: length("2 1/4"), height: length("1") });
    document.parts = vec![part(1, mat, Source::Offcut(common::at("1", "1")), &document)];
    let (words, over) = seen(&document);
    // Into the back: turned over away from the maker, the upper corner lies below.
    assert!(words.says("2 in from the edge to 9 in down Score 5 3 in edge to edge Score 1"), "{:?}", words.texts);
    assert!(words.says("Where a part is cut from an offcut, scores stop short of that offcut."));
    assert_eq!(over, 0);
}

/// A shape of the maker's own from a corner of 3 by 3 in as it came off; cut at 2 in, or not.
#[test]
fn what_is_cut_from_a_whole_offcut_is_measured_before_it_is_cut() {
    for cut in [false, true] {
        let mut document = four_flaps();
        let mut own = Own::plain(model::Size::parse("3x3in").unwrap());
        if cut {
            let at = measured_score(LineId(1), Turn::None, length("2"));
            own.lines.push(model::Line { work: model::Work::Cut, ..at });
        }
        own.base = common::at("1", "1");
        document.parts = vec![part(1, PartKind::Own(own), Source::Whole(common::at("1", "1")), &document)];
        let pages = pages(&document, options(Paper::Letter, Sides::Front));
        let says = |text: &str| pages.iter().any(|page| Seen::of(page).says(text));
        assert_eq!(says("Offcut 1, just as it is."), !cut);
        assert_eq!(says("Offcut 1, whole. Score it before it is cut to this shape"), cut);
    }
}
