//! The drawn sheet and the template's pages, read back from the display list.
#![expect(clippy::unwrap_used, reason = "a test may fail")]

extern crate foliowright_draw as draw;
extern crate model as foliowright_model;

#[path = "../../model/tests/common/mod.rs"]
mod common;

use common::{Sketch, four_flaps, length};
use draw::list::{Drawing, Node, Role, Shape};
use draw::sheet::{SheetLook, sheet_nodes, sheet_picture};
use draw::template::{Grid, MOST_PAGES, Paper, TemplateOptions, TemplateRefusal, template};
use kurbo::{Affine, Line, PathSeg, Point, Rect, Shape as _, Size};
use model::{Crease, Datum, Direction, Document, FoldAngle, Layout, Place, Run, Stop, Turn, Work};

/// Every straight line of a role, in page coordinates, with how far into its dashes it starts.
fn lines(nodes: &[Node], role: Role, place: Affine) -> Vec<(Line, f64)> {
    let mut out = Vec::new();
    for node in nodes {
        match node {
            Node::Group { place: inner, nodes, .. } => out.extend(lines(nodes, role, place * *inner)),
            Node::Tagged { nodes, .. } => out.extend(lines(nodes, role, place)),
            Node::Item { role: own, shape: Shape::Line { path, stroke } } if *own == role => {
                for segment in path.segments() {
                    if let PathSeg::Line(line) = segment {
                        out.push((Line::new(place * line.p0, place * line.p1), stroke.dash_start));
                    }
                }
            }
            Node::Item { .. } => {}
        }
    }
    out
}

fn texts(nodes: &[Node]) -> Vec<String> {
    let mut out = Vec::new();
    for node in nodes {
        match node {
            Node::Group { nodes, .. } | Node::Tagged { nodes, .. } => out.extend(texts(nodes)),
            // Lengths in the scoring table are held together by no-break spaces.
            Node::Item { shape: Shape::Text(run), .. } => out.push(run.text().replace('\u{A0}', " ")),
            Node::Item { .. } => {}
        }
    }
    out
}

fn nodes_of(document: &Document, turn: Turn) -> Vec<Node> {
    sheet_nodes(document, &Layout::of(document), &SheetLook { turn, ..SheetLook::default() })
}

#[test]
fn scores_and_cuts_are_drawn_where_they_lie_each_once() {
    let nodes = nodes_of(&four_flaps(), Turn::None);
    let length = |role| lines(&nodes, role, Affine::IDENTITY).iter().map(|(l, _)| (l.p1 - l.p0).hypot()).sum::<f64>();
    // Four folds of 6 in; eight cuts of 3 in; the sheet's edge of 48 in.
    assert!((length(Role::Valley) - 24.0 * 25.4).abs() < 1e-9);
    assert!((length(Role::Cut) - 24.0 * 25.4).abs() < 1e-9);
    assert!((length(Role::Outline) - 48.0 * 25.4).abs() < 1e-9);
    assert_eq!(lines(&nodes, Role::Valley, Affine::IDENTITY).len(), 4, "dashes run through crossings");
}

#[test]
fn a_mountain_is_told_from_a_valley_by_role() {
    let mut document = four_flaps();
    document.lines[0].work =
        Work::Score(Crease { direction: Direction::Mountain, angle: FoldAngle::Flat, pressed: None });
    let nodes = nodes_of(&document, Turn::None);
    assert_eq!(lines(&nodes, Role::Mountain, Affine::IDENTITY).len(), 1);
}

#[test]
fn turning_the_sheet_turns_all_that_is_on_it() {
    let sketch = Sketch::on("8x11in").score(1, Turn::None, "1").0;
    let at = |turn| lines(&nodes_of(&sketch, turn), Role::Valley, Affine::IDENTITY)[0].0;
    let mm = |inches: f64| inches * 25.4;
    // On its own turn 1 in from the left; turned once, 1 in from the lower edge, 8 in down.
    assert!((at(Turn::None).p0.x - mm(1.0)).abs() < 1e-9);
    assert!((at(Turn::Once).p0.y - mm(7.0)).abs() < 1e-9);
    assert!((at(Turn::Twice).p0.x - mm(7.0)).abs() < 1e-9);
    assert!((at(Turn::Thrice).p0.y - mm(1.0)).abs() < 1e-9);
}

#[test]
fn names_and_distances_are_shown_or_left_out() {
    let document = four_flaps();
    let all = texts(&nodes_of(&document, Turn::None));
    for text in ["Base", "Left flap", "Offcut 4", "3 in", "9 in"] {
        assert!(all.iter().any(|one| one == text), "{text} in {all:?}");
    }
    let look = SheetLook { turn: Turn::None, names: false, distances: false };
    assert_eq!(texts(&sheet_nodes(&document, &Layout::of(&document), &look)), [""; 0]);
}

#[test]
fn a_picture_says_what_is_to_be_seen() {
    let document = four_flaps();
    let picture = sheet_picture(&document, &Layout::of(&document), None, &SheetLook::default());
    assert_eq!(picture.description, "Untitled folio: a flat sheet of 12 x 12 in with 5 panels and 4 offcuts.");
    assert!((picture.size.width - (304.8 + 12.0)).abs() < 1e-9);
}

fn pages(document: &Document, paper: Paper) -> Vec<Drawing> {
    template(document, &Layout::of(document), None, &TemplateOptions { paper, ..TemplateOptions::default() })
        .unwrap()
        .pages
}

fn refusal(size: &str, paper: Paper) -> Option<TemplateRefusal> {
    let document = Sketch::on(size).0;
    template(&document, &Layout::of(&document), None, &TemplateOptions { paper, ..TemplateOptions::default() }).err()
}

/// Texts with the boxes they take, in page coordinates.
fn text_boxes(nodes: &[Node], place: Affine) -> Vec<(String, Rect)> {
    let mut out = Vec::new();
    for node in nodes {
        match node {
            Node::Group { place: inner, nodes, .. } => out.extend(text_boxes(nodes, place * *inner)),
            Node::Tagged { nodes, .. } => out.extend(text_boxes(nodes, place)),
            Node::Item { shape: Shape::Text(run), .. } => {
                out.push((run.text().to_owned(), place.transform_rect_bbox(run.bounds())));
            }
            Node::Item { .. } => {}
        }
    }
    out
}

fn touch(a: Rect, b: Rect) -> bool {
    a.x0 <= b.x1 && b.x0 <= a.x1 && a.y0 <= b.y1 && b.y0 <= a.y1
}

/// 45 scores and a credit of many lines: more than a page holds.
fn pleated() -> Document {
    let mut sketch = Sketch::on("12x12in");
    for id in 1..=30 {
        sketch = sketch.score(id, Turn::None, &format!("{}/8", id * 3));
    }
    for id in 31..=45 {
        sketch = sketch.score(id, Turn::Once, &format!("{}/2", id - 30));
    }
    let steps: Vec<Vec<u32>> = (1..=45).map(|id| vec![id]).collect();
    let steps: Vec<&[u32]> = steps.iter().map(Vec::as_slice).collect();
    let mut document = sketch.steps(&steps).base("6 1/8", "10").0;
    document.credit = "Told at length, so that it needs more room than a page has left. ".repeat(60);
    document
}

#[test]
fn pages_are_of_the_paper_asked_for() {
    // Letter is ANSI A, 8 1/2 x 11 in; A4 is 210 x 297 mm by ISO 216.
    let document = four_flaps();
    for (paper, w, h, count) in [(Paper::Letter, 215.9, 279.4, 4), (Paper::A4, 210.0, 297.0, 4)] {
        let pages = pages(&document, paper);
        assert_eq!(of_sheet(&pages).len(), count, "{paper:?}");
        assert!(pages.iter().all(|page| page.size == Size::new(w, h) || page.size == Size::new(h, w)));
    }
    let whole = pages(&document, Paper::Sheet);
    let sheets = of_sheet(&whole);
    assert_eq!((sheets.len(), sheets[0].size), (1, Size::new(304.8, 304.8)));
}

/// The pages that show the sheet, after those with notes.
fn of_sheet(pages: &[Drawing]) -> Vec<&Drawing> {
    let notes = |page: &&Drawing| texts(&page.nodes).join(" ").contains("how to use this template");
    let first = pages.iter().take_while(notes).count();
    assert!(first > 0 && pages[first..].iter().all(|page| !notes(&page)), "notes come first, on pages of their own");
    pages[first..].iter().collect()
}

#[test]
fn a_small_sheet_takes_one_page_and_no_tape() {
    let document = Sketch::on("6x6in").score(1, Turn::None, "2").0;
    let pages = pages(&document, Paper::Letter);
    assert_eq!(pages.len(), 2);
    let cover = texts(&pages[0].nodes).join(" ");
    assert!(cover.contains("on one page") && !cover.contains("tape them"), "{cover}");
}

#[test]
fn the_grid_covers_the_sheet_with_overlaps_and_no_empty_page() {
    for (w, h) in [(304.8, 304.8), (100.0, 900.0), (2000.0, 50.0), (179.0, 260.0)] {
        let grid = Grid::covering(Size::new(w, h), Size::new(210.0, 297.0));
        for (spans, length) in [(grid.columns(), w), (grid.rows(), h)] {
            let ends = (spans[0].from, spans[spans.len() - 1].to);
            assert!(ends.0.abs() < 1e-9 && (ends.1 - length).abs() < 1e-9, "{spans:?}");
            assert!(spans.windows(2).all(|pair| pair[0].to - pair[1].from > 11.9), "{spans:?}");
            assert!(spans.iter().all(|span| span.to - span.from > 13.0), "{spans:?}");
        }
    }
}

#[test]
fn the_pages_together_hold_every_line_at_true_size() {
    let document = four_flaps();
    let whole = lines(&nodes_of(&document, Turn::None), Role::Valley, Affine::IDENTITY);
    let grid = Grid::covering(Size::new(304.8, 304.8), Size::new(215.9, 279.4));
    let pages = pages(&document, Paper::Letter);
    let tiles = of_sheet(&pages);
    for (line, _) in &whole {
        let mut covered = 0.0;
        for (i, page) in tiles.iter().enumerate() {
            let (row, column) = (grid.rows()[i / grid.columns().len()], grid.columns()[i % grid.columns().len()]);
            // Pages start 8 mm in from their paper's edge.
            let back = Affine::translate((column.from - 8.0, row.from - 8.0));
            for (part, dash_start) in lines(&page.nodes, Role::Valley, back) {
                let along = (line.p1 - line.p0).normalize();
                let off = |p: Point| (p - line.p0).cross(along).abs();
                if off(part.p0) < 1e-9 && off(part.p1) < 1e-9 {
                    covered += (part.p1 - part.p0).hypot();
                    let start = (part.p0 - line.p0).dot(along);
                    assert!((start - dash_start).abs() < 1e-9, "dashes keep their beat");
                }
            }
        }
        assert!(covered >= (line.p1 - line.p0).hypot() - 1e-9, "{line:?} has {covered} mm");
    }
}

#[test]
fn the_scale_bar_is_four_inches_and_a_hundred_millimetres() {
    for page in pages(&four_flaps(), Paper::Letter) {
        let bar = lines(&page.nodes, Role::ScaleCheck, Affine::IDENTITY);
        let level = |length: f64| bar.iter().any(|(l, _)| ((l.p1 - l.p0).hypot() - length).abs() < 1e-9);
        assert!(level(101.6) && level(100.0), "{bar:?}");
    }
}

#[test]
fn the_notes_say_how_to_score_cut_fold_and_take_care() {
    let mut document = four_flaps();
    document.credit = "After an old letter fold.".into();
    let pages_a4 = pages(&document, Paper::A4);
    let notes = &pages_a4[..pages_a4.len() - of_sheet(&pages_a4).len()];
    let cover = notes.iter().map(|page| texts(&page.nodes).join(" ")).collect::<Vec<_>>().join(" ");
    for words in [
        "As drawn (left edge at the left), back up each edge to edge: 3 in Score 1 9 in Score 2",
        "Turned once to the left (top edge at the left), back up each edge to edge: 3 in Score 3 9 in Score 4",
        "comes off",
        "Cut after scoring",
        "The tinted areas come off.",
        "1. Cut from the upper edge down the 3 in score to the first cross score (\"Score 3\", 3 in): the Top flap stays, \
         Offcut 1 comes off.",
        "1. Fold along Score 1 (valley, 180°): Left flap moves.",
        "keep knives",
        "After an old letter fold.",
    ] {
        assert!(cover.contains(words), "{words} in {cover}");
    }
    let empty = texts(&pages(&Sketch::on("6x6in").0, Paper::A4)[0].nodes).join(" ");
    assert!(empty.contains("no score lines yet") && !empty.contains("Cut after scoring"), "{empty}");
}

/// Worked out by hand on an 8 x 11 in sheet. Valleys are pressed with the back up, the sheet turned over top to bottom:
/// what started 2 in below the upper edge ends 2 in above the lower one, so 2 to 7 in of 11 in become 4 to 9 in.
#[test]
fn runs_are_given_as_the_sheet_lies() {
    let run = |from: &str, to: &str| Run { from: Stop::At(length(from)), to: Stop::At(length(to)) };
    let score = |turn, distance: &str, run, direction| {
        let place = Place::Measured { turn, from: Datum::Edge, distance: length(distance), run };
        (place, Work::Score(Crease { direction, angle: FoldAngle::Flat, pressed: None }))
    };
    let (valley, mountain) = (Direction::Valley, Direction::Mountain);
    let to_edge = Run { from: Stop::At(length("1")), to: Stop::Edge };
    let cases = [
        (score(Turn::None, "2", run("2", "7"), mountain), "2 in from 2 in to 7 in down Score 1"),
        (score(Turn::None, "2", run("2", "7"), valley), "2 in from 4 in to 9 in down Score 1"),
        // Turned once it is 8 in from its upper edge to its lower.
        (score(Turn::Once, "3", run("1/2", "3 1/4"), mountain), "3 in from 1/2 in to 3 1/4 in down Score 1"),
        (score(Turn::Once, "3", run("1/2", "3 1/4"), valley), "3 in from 4 3/4 in to 7 1/2 in down Score 1"),
        (score(Turn::Twice, "1", run("2", "7"), valley), "1 in from 4 in to 9 in down Score 1"),
        (score(Turn::Thrice, "1", to_edge, mountain), "1 in from 1 in down to the edge Score 1"),
        (score(Turn::Thrice, "1", to_edge, valley), "1 in from the edge to 7 in down Score 1"),
        (score(Turn::Thrice, "1", Run::FULL, valley), "1 in edge to edge Score 1"),
    ];
    for ((place, work), expected) in cases {
        let document = Sketch::on("8x11in").line(1, place, work).0;
        let cover = texts(&pages(&document, Paper::Letter)[0].nodes).join(" ");
        assert!(cover.contains(expected), "{expected} in {cover}");
        let back = matches!(work, Work::Score(crease) if crease.direction == valley);
        let sides = ["Front up", "Back up"].map(|side| cover.contains(side));
        assert_eq!(sides, [!back, back], "only the side that has scores: {cover}");
    }
}

#[test]
fn notes_flow_on_and_every_page_bears_its_number() {
    let document = pleated();
    let pages = pages(&document, Paper::Letter);
    let tiles = Grid::covering(Size::new(304.8, 304.8), Size::new(215.9, 279.4)).count();
    let notes = pages.len() - tiles;
    assert!(notes >= 2, "{notes}");
    let said = pages[..notes].iter().flat_map(|page| texts(&page.nodes)).collect::<Vec<_>>().join(" ");
    for words in ["Score 45", "Score 30", "45. Fold along Score 45 (valley, 180°)", "keep knives"] {
        assert!(said.contains(words), "{words} in {said}");
    }
    assert_eq!(said.matches("Told at length").count(), 60, "none of the credit is lost");
    for (i, page) in pages.iter().enumerate() {
        let own = format!("Page {} of {}", i + 1, pages.len());
        assert!(texts(&page.nodes).contains(&own), "{own}");
        let paper = page.size.to_rect();
        for (text, place) in text_boxes(&page.nodes, Affine::IDENTITY) {
            let seen = i >= notes || place.union(paper) == paper;
            assert!(seen, "\"{text}\" is on page {} at {place:?}", i + 1);
        }
    }
    let first = texts(&pages[0].nodes);
    let planned: Vec<&String> = first.iter().filter(|text| text.starts_with("page ")).collect();
    let expected: Vec<String> = (1..=tiles).map(|tile| format!("page {}", notes + tile)).collect();
    assert_eq!(planned, expected.iter().collect::<Vec<_>>());
    assert!(texts(&pages[notes].nodes).iter().any(|text| text.contains("Row 1 of 2, column 1 of 2")));
}

#[test]
fn words_on_a_page_of_notes_never_overlap() {
    let mut document = pleated();
    document.title = "W".repeat(200);
    let sheet = pages(&document, Paper::Sheet);
    for page in &sheet[..sheet.len() - 1] {
        let boxes = text_boxes(&page.nodes, Affine::IDENTITY);
        for (i, (text, place)) in boxes.iter().enumerate() {
            // Ascents and descents of neighbouring lines share a little.
            let core = place.inset(-place.height() * 0.2);
            for (other, there) in &boxes[i + 1..] {
                assert!(!touch(core, there.inset(-there.height() * 0.2)), "\"{text}\" and \"{other}\"");
            }
        }
    }
}

#[test]
fn a_long_title_is_cut_short_beside_the_page_number() {
    let mut document = four_flaps();
    document.title = "W".repeat(200);
    for page in pages(&document, Paper::A4) {
        let boxes = text_boxes(&page.nodes, Affine::IDENTITY);
        let (_, number) = boxes.iter().find(|(text, _)| text.starts_with("Page ")).unwrap();
        let (title, place) = boxes.iter().find(|(text, _)| text.contains("W…: ")).unwrap();
        assert!(place.x1 < number.x0 && !touch(*place, *number), "{title}");
    }
}

#[test]
fn folds_bear_the_number_of_their_step() {
    // The cut 11 lies in step 2 but does not fold: the others keep the numbers they have in the window.
    let document = Sketch(four_flaps()).steps(&[&[1, 2], &[11], &[3], &[4]]).0;
    let pages = pages(&document, Paper::Sheet);
    let sheet = of_sheet(&pages)[0];
    let mut numbers: Vec<(String, Rect)> = text_boxes(&sheet.nodes, Affine::IDENTITY);
    numbers.retain(|(text, _)| text.parse::<u32>().is_ok());
    let shown: Vec<&str> = numbers.iter().map(|(text, _)| text.as_str()).collect();
    assert_eq!(shown, ["1", "1", "3", "4"]);
    let folds = lines(&sheet.nodes, Role::Valley, Affine::IDENTITY);
    for (number, place) in &numbers {
        let near = folds.iter().filter(|(fold, _)| touch(fold.bounding_box(), *place)).count();
        assert_eq!(near, 1, "{number} is on one fold");
        assert!(
            lines(&sheet.nodes, Role::Cut, Affine::IDENTITY).iter().all(|(cut, _)| !touch(cut.bounding_box(), *place))
        );
    }
    let tiles = &self::pages(&document, Paper::Letter)[1..];
    let all: Vec<String> = tiles.iter().flat_map(|page| texts(&page.nodes)).collect();
    for number in ["1", "3", "4"] {
        assert!(all.iter().any(|text| text == number), "{number} in {all:?}");
    }
    let plain = texts(&nodes_of(&document, Turn::None));
    assert!(plain.iter().all(|text| text.parse::<u32>().is_err()), "only the template has them: {plain:?}");
    let notes = texts(&pages[0].nodes).join(" ");
    assert!(
        notes.contains("1. Fold along Score 1 and Score 2 (valleys, 180°): Left flap and Right flap move."),
        "{notes}"
    );
}

#[test]
fn the_scale_bar_on_the_sheet_crosses_no_line_and_no_word() {
    let sheet = &pages(&four_flaps(), Paper::Sheet)[1];
    let bar = lines(&sheet.nodes, Role::ScaleCheck, Affine::IDENTITY);
    let place = bar.iter().map(|(line, _)| line.bounding_box()).reduce(|all, one| all.union(one)).unwrap();
    assert!((place.width() - 101.6).abs() < 1e-9, "{place:?}");
    for role in [Role::Cut, Role::Valley, Role::Outline] {
        for (line, _) in lines(&sheet.nodes, role, Affine::IDENTITY) {
            assert!(!touch(line.bounding_box(), place), "{line:?}");
        }
    }
    let texts = text_boxes(&sheet.nodes, Affine::IDENTITY);
    assert!(texts.iter().all(|(_, text)| !touch(*text, place.inset(-0.1))), "{texts:?}");
    assert!(texts.iter().any(|(text, _)| text == "scale check"));
}

#[test]
fn a_sheet_too_large_for_the_paper_is_refused() {
    // On a page of 215.9 x 279.4 mm there is room for 199.9 x 249.4 mm, all but 12 mm of it new on each further page:
    // 10 000 mm across take 54 columns (9988 / 187.9 is 53.2), 10 000 mm down 43 rows (9988 / 237.4 is 42.1). On
    // their side, 263.4 x 185.9 mm: 40 columns (39.7), 58 rows (57.4). An empty sheet has nothing on it but its edges,
    // so that pages within are left out: 2 * 54 + 2 * 43 - 4 = 190 are fewer than 2 * 40 + 2 * 58 - 4 = 192.
    let huge = refusal("10000x10000mm", Paper::Letter);
    assert_eq!(huge, Some(TemplateRefusal::TooManyPages { pages: 190, fits_one: false }));
    let large = refusal("5000x4000mm", Paper::Letter).unwrap();
    assert!(matches!(large, TemplateRefusal::TooManyPages { fits_one: true, .. }), "{large:?}");
    assert!(large.to_string().contains("pages of this paper; print it on one page of its own size"), "{large}");
    assert_eq!(refusal("5080x100mm", Paper::Sheet), None);
    assert_eq!(refusal("100x5080.01mm", Paper::Sheet), Some(TemplateRefusal::PageTooLarge));
    assert!(TemplateRefusal::PageTooLarge.to_string().contains("5080 mm"));
    // 3210 x 3210 mm take 18 columns (3198 / 187.9 is 17.02) and 14 rows (13.5), 2 * 18 + 2 * 14 - 4 = 60 pages round the
    // edge, and as many on their side (13 and 19). 3340 mm take 18 and 15, or 14 and 20.
    let notes = 1;
    assert_eq!(pages(&Sketch::on("3210x3210mm").0, Paper::Letter).len(), notes + MOST_PAGES);
    let one_row_more = refusal("3340x3340mm", Paper::Letter);
    assert_eq!(one_row_more, Some(TemplateRefusal::TooManyPages { pages: 62, fits_one: true }));
}

#[test]
fn a_template_shows_parts_where_they_are_cut_from_and_says_so() {
    use allot::{Settings, allot};
    use draw::supply::Furnishing;
    use model::part::{Mat, Part, Placement, Source};
    use model::{PanelRef, PartId, PartKind};
    let mut document = four_flaps();
    let kind = PartKind::Mat(Mat { width: length("2"), height: length("1") });
    let place = Placement::centred(PanelRef::Sheet(document.base.unwrap()));
    let source = Source::AnyOffcut;
    document.parts.push(Part { id: PartId(1), name: "Label".into(), kind, source, place, also: Vec::new() });
    let layout = Layout::of(&document);
    let supply = allot(&document, &layout, &Settings::of(&document));
    let assembly = fold::assemble(&document, &layout).unwrap();
    let folding = fold::close(&assembly);
    let furnishing = Furnishing { supply: &supply, folded: Some((&assembly, &folding)) };
    let options = TemplateOptions { paper: Paper::Sheet, ..TemplateOptions::default() };
    let pages = template(&document, &layout, Some(&furnishing), &options).unwrap().pages;
    let of_sheet = |pages: &[Drawing]| {
        let own = pages.iter().find(|page| page.size == Size::new(304.8, 304.8));
        own.unwrap().nodes.clone()
    };
    let (notes, sheet) = (texts(&pages[0].nodes), &of_sheet(&pages));
    for words in ["a part, cut from what comes off", "where a part is put"] {
        assert!(notes.iter().any(|text| text == words), "{words}: {notes:?}");
    }
    assert!(texts(sheet).contains(&"Label".to_owned()));
    // Cut out all round, 2 by 1 in; and once more in dots where it goes.
    let plain = template(&document, &layout, None, &options).unwrap().pages;
    let cut = |nodes: &[Node]| {
        lines(nodes, Role::Cut, Affine::IDENTITY).iter().map(|(l, _)| (l.p1 - l.p0).hypot()).sum::<f64>()
    };
    let more = cut(sheet) - cut(&of_sheet(&plain));
    assert!((more - 6.0 * 25.4).abs() < 1e-6, "{more}");
    let dots = lines(sheet, Role::Part, Affine::IDENTITY).iter().map(|(l, _)| (l.p1 - l.p0).hypot()).sum::<f64>();
    assert!((dots - 6.0 * 25.4).abs() < 1e-6, "{dots}");
}
