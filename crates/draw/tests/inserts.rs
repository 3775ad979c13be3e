//! Cards, tags and mats on their pages, read back from the display list.
#![expect(clippy::unwrap_used, reason = "a test may fail")]

extern crate foliowright_draw as draw;
extern crate model as foliowright_model;

#[path = "../../model/tests/common/mod.rs"]
mod common;

use common::{Sketch, four_flaps, length};
use draw::inserts::{Choice, InsertsOptions, InsertsRefusal, Slip, Takes, inserts, slips};
use draw::list::{Drawing, Node, Pages, Role, Shape};
use draw::template::Paper;
use kurbo::{Affine, Line, PathSeg, Point, Rect, Shape as _, Size};
use model::part::{Edges, Insert, Part, Placement, Pocket, Source};
use model::{Document, Layout, Length, PanelRef, PartId, PartKind, SheetEdge};

/// Four flaps with a pocket on the base, glued at three edges, and a tag to lie in it.
fn with_pocket() -> Document {
    let mut document = four_flaps();
    let place = || Placement::centred(PanelRef::Sheet(four_flaps().base.unwrap()));
    let pocket = Pocket {
        width: length("4"),
        height: length("3"),
        glued: Edges::of(&[SheetEdge::Left, SheetEdge::Right, SheetEdge::Bottom]),
        strip: length("1/4"),
        rim: Length::ZERO,
        gusset: Length::ZERO,
    };
    let tag = Insert { width: length("2"), height: length("2 1/2"), caliper: None };
    let part = |id, name: &str, kind| Part {
        id: PartId(id),
        name: name.to_owned(),
        kind,
        source: Source::FolioStock,
        place: place(),
        also: Vec::new(),
    };
    document.parts =
        vec![part(1, "Seed pocket", PartKind::Pocket(pocket)), part(2, "Sowing tag", PartKind::Insert(tag))];
    document
}

fn all_of<T>(document: &Document, choice: Choice, with: impl FnOnce(&Document, &Layout, &Takes<'_>, Choice) -> T) -> T {
    let layout = Layout::of(document);
    let assembly = fold::assemble(document, &layout);
    let folding = assembly.as_ref().map(fold::close);
    let pockets = fit::pockets(document, &layout);
    let corners = fit::corner_sets(document, &layout);
    let trays = assembly.as_ref().zip(folding.as_ref()).map(|(a, f)| fit::trays(document, &layout, a, f));
    let mats = folding.as_ref().map(|folding| fit::mats(document, &layout, folding, fit::MARGIN)).unwrap_or_default();
    let trays = trays.unwrap_or_default();
    let takes = Takes { pockets: &pockets, corners: &corners, trays: &trays, mats: &mats };
    with(document, &layout, &takes, choice)
}

fn printed(document: &Document, options: InsertsOptions) -> Result<Pages, InsertsRefusal> {
    all_of(document, options.choice, |document, layout, takes, _| inserts(document, layout, takes, &options))
}

fn of(document: &Document, choice: Choice) -> Vec<Slip> {
    all_of(document, choice, slips)
}

fn options(choice: Choice) -> InsertsOptions {
    InsertsOptions { paper: Paper::Letter, corner: Length::ZERO, choice }
}

/// The trims, marks and words on a page.
fn seen(page: &Drawing) -> (Vec<Rect>, Vec<Line>, Vec<(String, Rect)>) {
    let (mut trims, mut marks, mut words) = (Vec::new(), Vec::new(), Vec::new());
    for node in &page.nodes {
        match node {
            Node::Item { role: Role::Cut, shape: Shape::Line { path, .. } } => trims.push(path.bounding_box()),
            Node::Item { role: Role::Registration, shape: Shape::Line { path, .. } } => {
                marks.extend(path.segments().filter_map(|segment| match segment {
                    PathSeg::Line(line) => Some(line),
                    _ => None,
                }));
            }
            Node::Item { role: Role::Label, shape: Shape::Text(run) } => {
                words.push((run.text().to_owned(), run.bounds()));
            }
            _ => {}
        }
    }
    (trims, marks, words)
}

/// Inside, the pocket is 4 - 2 * 1/4 = 3 1/2 in wide and 3 - 1/4 = 2 3/4 in high; less 1/8 in between closed edges, the
/// largest card is 3 3/8 x 2 3/4 in. Of the usual cards that lie within, A8, 74 x 52 mm, has 3848 mm², the bank card lying
/// on its side, 85.6 x 53.98 mm, 4621, and 55 x 85 mm 4675; the business card of 2 x 3 1/2 in is exactly as wide as there is
/// room and so has no room for its thickness; 2 1/2 x 3 1/2 in neither; A7, 74 mm wide upright, stands out.
#[test]
fn a_pocket_has_its_largest_card_and_the_largest_usual_one() {
    let cards = of(&with_pocket(), Choice::Cards);
    let said: Vec<String> =
        cards.iter().map(|slip| format!("{}, {}, for {}", slip.name, slip.measure, slip.goes)).collect();
    let goes = "Seed pocket, on Base, front";
    assert_eq!(
        said,
        [
            "Sowing tag, 2 x 2 1/2 in, for Base, front".to_owned(),
            format!("Largest card, 3 3/8 x 2 3/4 in, for {goes}"),
            format!("Business card, 85 x 55 mm, for {goes}"),
        ]
    );
}

#[test]
fn mats_are_for_faces_that_show() {
    let mats = of(&four_flaps(), Choice::Mats);
    // The base is 6 x 6 in; less 1/8 in all round, 5 3/4 in.
    let base = mats.iter().find(|slip| slip.goes == "Base, front").unwrap();
    assert_eq!((base.name.as_str(), base.measure.as_str()), ("Mat", "5 3/4 x 5 3/4 in"));
    assert_eq!(of(&four_flaps(), Choice::Cards), []);
    assert_eq!(of(&four_flaps(), Choice::All), mats);
}

#[test]
fn slips_keep_clear_of_one_another_and_marks_lie_outside() {
    for paper in [Paper::Letter, Paper::A4, Paper::Tabloid, Paper::A3] {
        for corner in [Length::ZERO, Length::EIGHTH] {
            let document = with_pocket();
            let pages = printed(&document, InsertsOptions { paper, corner, choice: Choice::All }).unwrap().pages;
            let mut found = Vec::new();
            for page in &pages {
                let (trims, marks, words) = seen(page);
                assert_eq!(marks.len(), 8 * trims.len(), "two at each corner");
                let paper = page.size.to_rect().inset(-6.0);
                for (i, trim) in trims.iter().enumerate() {
                    assert!(trim.union(paper) == paper, "{trim:?}");
                    assert!(trims[i + 1..].iter().all(|other| trim.intersect(*other).area() <= 0.0));
                    for mark in &marks {
                        let place = mark.bounding_box().inflate(0.1, 0.1);
                        assert!(place.union(paper) == paper && trim.intersect(place).area() <= 0.0, "{mark:?}");
                    }
                    for (text, place) in &words {
                        assert!(trim.intersect(*place).area() <= 0.0, "{text}");
                        assert!(marks.iter().all(|mark| !touch(mark.bounding_box(), place.inset(-0.3))), "{text}");
                    }
                    // In line with its edges, 1.5 mm from its corners.
                    let beside = Point::new(trim.x0 - 1.5, trim.y0);
                    assert!(marks.iter().any(|mark| (mark.p0 - beside).hypot() < 1e-9));
                }
                found.extend(trims.iter().map(|trim| trim.size()));
            }
            let mut wanted: Vec<Size> = of(&document, Choice::All)
                .iter()
                .map(|slip| Size::new(slip.size.width().mm(), slip.size.height().mm()))
                .collect();
            for size in found {
                let at = wanted.iter().position(|one| (*one - size).width.abs() + (*one - size).height.abs() < 1e-6);
                wanted.remove(at.expect("a slip of that size"));
            }
            assert_eq!(wanted, []);
        }
    }
}

fn touch(a: Rect, b: Rect) -> bool {
    a.x0 <= b.x1 && b.x0 <= a.x1 && a.y0 <= b.y1 && b.y0 <= a.y1
}

#[test]
fn one_larger_than_a_page_goes_over_several() {
    let document = Sketch::on("12x12in").base("5", "5").0;
    let pages = printed(&document, options(Choice::Mats)).unwrap().pages;
    // 11 3/4 in each way, front and back, each on two by two pages of Letter.
    assert_eq!(pages.len(), 8);
    let inked = |page: &Drawing| {
        page.nodes.iter().any(|node| matches!(node, Node::Group { place, .. } if *place != Affine::IDENTITY))
    };
    assert!(pages.iter().all(inked));
}

#[test]
fn what_can_not_be_is_told_in_a_sentence() {
    let mut empty = four_flaps();
    empty.base = None;
    for (choice, words) in [(Choice::Cards, "holds a card"), (Choice::Mats, "takes a mat"), (Choice::All, "base panel")]
    {
        let refusal = printed(&empty, options(choice)).unwrap_err();
        assert_eq!(refusal, InsertsRefusal::Nothing(choice));
        assert!(refusal.to_string().contains(words), "{refusal}");
    }
    let wide = InsertsOptions { corner: length("1 1/2"), ..options(Choice::Cards) };
    let refusal = printed(&with_pocket(), wide).unwrap_err();
    assert_eq!(refusal.to_string(), "corners of 1 1/2 in would meet on \"Sowing tag\"; give 1 in or less");
    let huge = Sketch::on("4000x4000mm").base("2000 mm", "2000 mm").0;
    let refusal = printed(&huge, options(Choice::Mats)).unwrap_err();
    assert!(matches!(refusal, InsertsRefusal::TooManyPages(pages) if pages > 60), "{refusal}");
}

#[test]
fn the_same_pages_twice() {
    let one = printed(&with_pocket(), options(Choice::All)).unwrap();
    assert_eq!(printed(&with_pocket(), options(Choice::All)).unwrap(), one);
}
