//! Booklets of the starters and of designs that say little or too much, and pages of made-up blocks.

use crate::block::{Block, Step, Table};
use crate::style::SIDE;
use crate::{BookletOptions, BookletRefusal, Paper, Subject, Units, booklet, flow};
use draw::artwork::Prints;
use draw::list::{Channels, Node, Orientation, Pages, Picture, Shape, TagKind};
use kurbo::{Affine, Rect};
use model::part::{Mat, Placement, Source};
use model::{
    Artwork, Crease, Datum, Document, Face, Length, Line, LineId, PanelRef, Part, PartId, PartKind, Place, Point, Run,
    Size, Turn, Unit, Work,
};
use session::Derived;
use std::sync::Arc;

/// A piece of text on a page: what it says, where, and what element it is of.
struct Said {
    text: String,
    bounds: Rect,
    kind: Option<TagKind>,
}

fn said(nodes: &[Node], place: Affine, kind: Option<&TagKind>, out: &mut Vec<Said>) {
    for node in nodes {
        match node {
            Node::Item { shape: Shape::Text(run), .. } => {
                let bounds = place.transform_rect_bbox(run.bounds());
                let text = run.text().trim_end().replace('\u{A0}', " ");
                out.push(Said { text, bounds, kind: kind.cloned() });
            }
            Node::Item { .. } => {}
            Node::Group { place: inner, nodes, .. } => said(nodes, place * *inner, kind, out),
            Node::Tagged { tags, nodes } => said(nodes, place, tags.last().map(|tag| &tag.kind), out),
        }
    }
}

fn texts(pages: &Pages) -> Vec<Vec<Said>> {
    let of = |page: &draw::list::Drawing| {
        let mut out = Vec::new();
        said(&page.nodes, Affine::IDENTITY, None, &mut out);
        out
    };
    pages.pages.iter().map(of).collect()
}

fn told(document: &Document, options: &BookletOptions) -> Result<Pages, BookletRefusal> {
    printed(document, options, &Prints::default())
}

fn printed(document: &Document, options: &BookletOptions, prints: &Prints) -> Result<Pages, BookletRefusal> {
    let derived = Derived::of(document);
    let subject = Subject {
        document,
        layout: &derived.layout,
        folded: derived.folded.as_ref().map(|(assembly, folding)| (assembly, folding)),
        supply: derived.supply.as_ref(),
        making: derived.making(document),
        prints,
    };
    booklet(&subject, options)
}

fn letter(unit: Unit) -> BookletOptions {
    BookletOptions { paper: Paper::Letter, units: Units::only(unit) }
}

#[track_caller]
fn check_pages(pages: &Pages) {
    for (number, page) in texts(pages).iter().enumerate() {
        let size = pages.pages[number].size;
        // A line that goes on ends in a space, which may stand beyond the edge.
        let within = Rect::new(SIDE - 0.1, 8.0, size.width - SIDE + 1.0, size.height - 6.0);
        for one in page {
            let holds = within.union(one.bounds).area() <= within.area() + 1e-6;
            assert!(holds || one.text.is_empty(), "page {}: {} at {:?}", number + 1, one.text, one.bounds);
        }
        // A line's box without the white above and below its letters.
        let tight = |bounds: Rect| {
            let (across, down) = (bounds.width(), bounds.height());
            if across < down { bounds.inflate(-across * 0.22, -0.05) } else { bounds.inflate(-0.05, -down * 0.22) }
        };
        for (i, one) in page.iter().enumerate().filter(|(_, one)| !one.text.is_empty()) {
            for other in page[i + 1..].iter().filter(|other| !other.text.is_empty()) {
                let both = tight(one.bounds).intersect(tight(other.bounds));
                let is_over = both.width() > 0.1 && both.height() > 0.1;
                assert!(!is_over, "page {}: {} over {}", number + 1, one.text, other.text);
            }
        }
        let foot = format!("{} of {}", number + 1, pages.pages.len());
        assert!(page.iter().any(|one| one.text == foot), "page {} has its number", number + 1);
        let body = page.iter().filter(|one| one.kind.is_some());
        let last = body.max_by(|a, b| a.bounds.y1.total_cmp(&b.bounds.y1)).unwrap();
        assert!(!matches!(last.kind, Some(TagKind::Heading(_))), "page {} ends with a heading", number + 1);
    }
}

#[test]
fn booklets_of_the_starters_are_well_set() {
    for starter in file::starters::ALL {
        let document = file::from_text(starter.text).unwrap();
        for paper in [Paper::Letter, Paper::A4] {
            for units in [Units::only(Unit::Millimetre), Units::both(Unit::Inch)] {
                let options = BookletOptions { paper, units };
                let pages = told(&document, &options).unwrap();
                assert!((6..60).contains(&pages.pages.len()), "{} pages", pages.pages.len());
                assert_eq!(pages, told(&document, &options).unwrap());
                check_pages(&pages);
            }
        }
    }
}

/// By hand from the demo: a flap fold 3 in from the left edge, which is 76.2 mm.
#[test]
fn lengths_are_said_in_the_units_that_are_asked_for() {
    let demo = file::starters::demo();
    let all = |units| {
        let pages = told(&demo, &BookletOptions { paper: Paper::A4, units }).unwrap();
        texts(&pages).into_iter().flatten().map(|one| one.text).collect::<Vec<_>>()
    };
    let has = |texts: &[String], says: &str| texts.iter().any(|text| text == says);
    assert!(has(&all(Units::only(Unit::Inch)), "3 in"));
    let metric = all(Units::only(Unit::Millimetre));
    assert!(has(&metric, "76.2 mm") && !metric.iter().any(|text| text.ends_with(" in")), "{metric:?}");
    assert!(has(&all(Units::both(Unit::Inch)), "3 in (76.2 mm)"));
}

/// A sheet of 100 x 60 mm with a strip cut off at the top, from which a label is cut, and a score at 30 mm across both.
#[test]
fn scores_stop_short_of_offcuts_that_parts_are_cut_from() {
    let mm = |length: i64| Length::MILLIMETRE * length;
    let mut document = Document::new(Size::new(mm(100), mm(60)).unwrap(), Unit::Millimetre);
    document.lines = vec![
        model::change::measured_score(LineId(1), Turn::None, mm(30)),
        Line { work: Work::Cut, ..model::change::measured_score(LineId(2), Turn::Once, mm(20)) },
    ];
    document.base = Some(Point::new(mm(60), mm(40)));
    let said = |document: &Document| {
        let pages = told(document, &letter(Unit::Millimetre)).unwrap();
        check_pages(&pages);
        texts(&pages).into_iter().flatten().map(|one| one.text).collect::<Vec<_>>().join(" ")
    };
    let stops = "Where a part is cut from an offcut, scores stop short of that offcut.";
    let all = said(&document);
    assert!(all.contains("30 mm edge to edge Score 1") && !all.contains(stops), "{all}");
    let kind = PartKind::Mat(Mat { width: mm(50), height: mm(15) });
    let place = Placement::centred(PanelRef::Sheet(Point::new(mm(60), mm(40))));
    let source = Source::Offcut(Point::new(mm(60), mm(10)));
    document.parts = vec![Part { id: PartId(1), name: "Label".into(), kind, source, place, also: Vec::new() }];
    let all = said(&document);
    // Pressed into the back, turned over away from the maker, the strip lies below.
    assert!(all.contains("30 mm from the edge to 40 mm Score 1") && all.contains(stops), "{all}");
}

/// How many pictures of what is printed are on each page, by whose front or back.
fn prints_on(nodes: &[Node]) -> [usize; 2] {
    let mut found = [0, 0];
    for node in nodes {
        match node {
            Node::Item { shape: Shape::Image(image), .. } => found[usize::from(image.picture.digest[0])] += 1,
            Node::Item { .. } => {}
            Node::Group { nodes, .. } | Node::Tagged { nodes, .. } => {
                let inner = prints_on(nodes);
                found = [found[0] + inner[0], found[1] + inner[1]];
            }
        }
    }
    found
}

/// With a picture on either face, every chapter that shows paper shows it: the back where the sheet is scored on its back,
/// the front elsewhere; and nothing else on the pages changes.
#[test]
fn what_is_printed_on_the_paper_is_seen_in_every_picture_of_it() {
    let diary = file::starters::ALL.iter().find(|starter| starter.name == "season-diary").unwrap();
    let mut document = file::from_text(diary.text).unwrap();
    for face in [Face::Front, Face::Back] {
        document.stock.side_mut(face).artwork = Some(Artwork {
            file: "leaves.png".to_owned(),
            digest: [u8::from(face == Face::Back); 32],
            pixels: [2, 2],
            width: Length::INCH * 12,
            left: Length::ZERO,
            top: Length::ZERO,
        });
    }
    let picture = |face: Face| {
        let digest = [u8::from(face == Face::Back); 32];
        let (pixels, orientation) = (vec![9; 12], Orientation::AsStored);
        Arc::new(Picture { digest, width: 2, height: 2, channels: Channels::Rgb, pixels, orientation, jpeg: None })
    };
    let prints = Prints::new(&document, [Face::Front, Face::Back].map(|face| (None, face, picture(face))));
    let options = letter(Unit::Inch);
    let (pages, plain) = (printed(&document, &options, &prints).unwrap(), told(&document, &options).unwrap());
    assert_eq!(pages, printed(&document, &options, &prints).unwrap());
    check_pages(&pages);
    assert_eq!(pages.pages.len(), plain.pages.len());
    let words = |pages: &Pages| texts(pages).into_iter().flatten().map(|one| one.text).collect::<Vec<_>>();
    assert_eq!(words(&pages), words(&plain));
    let by_heading = |says: &str| {
        let on = texts(&pages)
            .iter()
            .rposition(|page| page.iter().any(|one| one.text == says && matches!(one.kind, Some(TagKind::Heading(1)))));
        prints_on(&pages.pages[on.unwrap_or_else(|| panic!("no chapter {says}"))].nodes)
    };
    assert!(prints_on(&pages.pages[0].nodes).iter().all(|&count| count > 0), "the title page shows both faces");
    assert!(by_heading("The sheet")[0] > 0 && by_heading("Score")[1] > 0 && by_heading("Cut")[0] > 0);
    assert!(by_heading("The parts")[0] > 0 && by_heading("Make it in this order")[0] > 0);
    assert!(by_heading("Close it in this order").iter().sum::<usize>() > 0);
    assert!(plain.pages.iter().all(|page| prints_on(&page.nodes) == [0, 0]));
}

#[test]
fn a_variation_is_credited_with_what_was_changed() {
    let document = file::from_text(file::starters::ALL[0].text).unwrap();
    let mut variation = document.variation("Another".to_owned());
    variation.lines[0].name = "Spine".to_owned();
    let words = |document: &Document| {
        let pages = told(document, &letter(Unit::Inch)).unwrap();
        texts(&pages).into_iter().flatten().map(|said| said.text).collect::<Vec<String>>().join(" ")
    };
    let first = format!("This is a variation of \"{}\".", document.title);
    assert!(!words(&document).contains("a variation of"));
    let said = words(&variation);
    assert!(said.contains(&first) && said.contains("is called \"Spine\"."), "{said}");
}

#[test]
fn an_empty_sheet_and_one_without_a_base_have_their_booklets() {
    let empty = Document::new(Size::parse("12x12in").unwrap(), Unit::Inch);
    let pages = told(&empty, &letter(Unit::Inch)).unwrap();
    check_pages(&pages);
    let no_base = Document { base: None, ..file::starters::demo() };
    let pages = told(&no_base, &letter(Unit::Inch)).unwrap();
    check_pages(&pages);
    let all: String = texts(&pages).into_iter().flatten().map(|one| one.text + " ").collect();
    assert!(all.contains("No panel of this design is marked as its base yet"), "{all}");
}

#[test]
fn very_large_designs_are_refused_in_a_sentence() {
    let mut large = Document::new(Size::parse("12x12in").unwrap(), Unit::Inch);
    large.lines = (1..=201_u32).map(|i| Line::new(LineId(i), measured(i), score())).collect();
    let refusal = told(&large, &letter(Unit::Inch)).unwrap_err();
    assert_eq!(refusal, BookletRefusal::TooManyLines(201));
    assert!(refusal.to_string().starts_with("the design has 201 lines, and a booklet tells of 200 at most; "));
    large.lines.truncate(200);
    check_pages(&told(&large, &letter(Unit::Inch)).unwrap());
}

fn measured(i: u32) -> Place {
    Place::Measured { turn: Turn::None, from: Datum::Edge, distance: Length::MILLIMETRE * i64::from(i), run: Run::FULL }
}

fn score() -> Work {
    Work::Score(Crease::VALLEY)
}

#[test]
fn long_names_and_odd_characters_do_no_harm() {
    let mut odd = file::starters::demo();
    odd.title = "Wörter ✂ ".repeat(200);
    odd.credit = format!("{}\n\u{1}\n{}", "a".repeat(5_000), "word ".repeat(3_000));
    for line in &mut odd.lines {
        line.name = "A very long name of a line ".repeat(12);
    }
    check_pages(&told(&odd, &BookletOptions { paper: Paper::A4, units: Units::both(Unit::Inch) }).unwrap());
}

#[test]
fn the_heads_of_a_table_come_again_on_each_page() {
    let rows = (0..150).map(|i| vec![format!("row {i}"), "text ".repeat(8)]).collect();
    let heads = vec!["First".to_owned(), "Second".to_owned()];
    let blocks = [Block::Table(Table { caption: "All of it".to_owned(), heads, rows })];
    let pages = flow::set(&blocks, Paper::A4.size(), "Title");
    check_pages(&pages);
    let all = texts(&pages);
    assert!(all.len() > 2);
    let heads: Vec<Vec<&Said>> =
        all.iter().map(|page| page.iter().filter(|one| one.text == "First").collect()).collect();
    // Once as an element of the table, then only to be seen.
    assert!(heads.iter().all(|heads| heads.len() == 1));
    assert!(heads[0][0].kind == Some(TagKind::ColumnHead) && heads[1..].iter().all(|heads| heads[0].kind.is_none()));
    let rows = |page: &Vec<Said>| page.iter().filter(|one| one.text.starts_with("row ")).count();
    assert_eq!(all.iter().map(rows).sum::<usize>(), 150);
    assert!(all.iter().all(|page| rows(page) >= 2), "no row stands alone");
}

#[test]
fn neither_the_first_nor_the_last_line_of_a_paragraph_stands_alone() {
    let blocks: Vec<Block> = (0..60).map(|i| Block::Paragraph("some words in a row ".repeat(8 + i % 11))).collect();
    let pages = flow::set(&blocks, Paper::Letter.size(), "Title");
    check_pages(&pages);
    let mut by_number: std::collections::BTreeMap<u32, Vec<usize>> = std::collections::BTreeMap::new();
    for (number, page) in pages.pages.iter().enumerate() {
        for node in &page.nodes {
            if let Node::Tagged { tags, .. } = node {
                by_number.entry(tags[0].number).or_default().push(number);
            }
        }
    }
    for pages in by_number.values().filter(|pages| pages.first() != pages.last()) {
        let on = |page: usize| pages.iter().filter(|&&at| at == page).count();
        assert!(on(pages[0]) >= 2 && on(pages[pages.len() - 1]) >= 2, "{pages:?}");
    }
}

#[test]
fn a_step_longer_than_a_page_is_told_in_full() {
    let words: Vec<String> = (0..1500).map(|i| format!("word{i}")).collect();
    let step = Step {
        number: "1.".to_owned(),
        text: words.join(" "),
        notes: vec!["A note.".to_owned()],
        cautions: vec!["Take care.".to_owned()],
        figure: None,
    };
    let pages = flow::set(&[Block::Steps(vec![step])], Paper::A4.size(), "Title");
    check_pages(&pages);
    let all: String = texts(&pages).into_iter().flatten().map(|one| one.text + " ").collect();
    assert!(words.iter().all(|word| all.contains(word.as_str())));
}
