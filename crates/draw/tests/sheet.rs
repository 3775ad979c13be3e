//! The drawn sheet and the template's pages, read back from the display list.

extern crate foliowright_draw as draw;
extern crate model as foliowright_model;

#[path = "../../model/tests/common/mod.rs"]
mod common;

use common::{Sketch, four_flaps};
use draw::list::{Drawing, Node, Role, Shape};
use draw::sheet::{SheetLook, sheet_nodes, sheet_picture};
use draw::template::{Grid, Paper, TemplateOptions, template};
use kurbo::{Affine, Line, PathSeg, Point, Size};
use model::{Crease, Direction, Document, FoldAngle, Layout, Turn, Work};

/// Every straight line of a role, in page coordinates, with how far into its dashes it starts.
fn lines(nodes: &[Node], role: Role, place: Affine) -> Vec<(Line, f64)> {
    let mut out = Vec::new();
    for node in nodes {
        match node {
            Node::Group { place: inner, nodes, .. } => out.extend(lines(nodes, role, place * *inner)),
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
            Node::Group { nodes, .. } => out.extend(texts(nodes)),
            Node::Item { shape: Shape::Text(run), .. } => out.push(run.text().to_owned()),
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
    document.lines[0].work = Work::Score(Crease { direction: Direction::Mountain, angle: FoldAngle::Flat });
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
    let picture = sheet_picture(&document, &Layout::of(&document), &SheetLook::default());
    assert_eq!(picture.description, "Untitled folio: a flat sheet of 12 x 12 in with 5 panels and 4 offcuts.");
    assert!((picture.size.width - (304.8 + 12.0)).abs() < 1e-9);
}

fn pages(document: &Document, paper: Paper) -> Vec<Drawing> {
    template(document, &Layout::of(document), &TemplateOptions { paper }).pages
}

#[test]
fn pages_are_of_the_paper_asked_for() {
    // Letter is ANSI A, 8 1/2 x 11 in; A4 is 210 x 297 mm by ISO 216.
    let document = four_flaps();
    for (paper, w, h, count) in [(Paper::Letter, 215.9, 279.4, 5), (Paper::A4, 210.0, 297.0, 5)] {
        let pages = pages(&document, paper);
        assert_eq!(pages.len(), count, "{paper:?}");
        assert!(pages.iter().all(|page| page.size == Size::new(w, h) || page.size == Size::new(h, w)));
    }
    let whole = pages(&document, Paper::Sheet);
    assert_eq!((whole.len(), whole[1].size), (2, Size::new(304.8, 304.8)));
}

#[test]
fn a_small_sheet_takes_one_page_and_no_tape() {
    let document = Sketch::on("6x6in").score(1, Turn::None, "2").0;
    let pages = pages(&document, Paper::Letter);
    assert_eq!(pages.len(), 2);
    let cover = texts(&pages[0].nodes).join(" ");
    assert!(cover.contains("on one page") && !cover.contains("tape"), "{cover}");
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
    let tiles = &pages(&document, Paper::Letter)[1..];
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
fn the_first_page_says_how_to_score_fold_and_take_care() {
    let mut document = four_flaps();
    document.credit = "After an old letter fold.".into();
    let cover = texts(&pages(&document, Paper::A4)[0].nodes).join(" ");
    for words in [
        "As drawn: 3 in, 9 in from the left edge.",
        "Turned once to the left: 3 in, 9 in from the left edge.",
        "1. Score 1 (valley, 180°)",
        "keep knives",
        "After an old letter fold.",
    ] {
        assert!(cover.contains(words), "{words} in {cover}");
    }
    let empty = texts(&pages(&Sketch::on("6x6in").0, Paper::A4)[0].nodes).join(" ");
    assert!(empty.contains("no score lines yet"), "{empty}");
}
