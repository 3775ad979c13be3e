//! Every part at true size: small ones several to a page, one that is larger than a page on pages of its own. Each with
//! its folds, its glue, where it is cut from, how it is scored and where it goes.

use super::grid::{Grid, MARGIN, room};
use super::over::{Flip, lines_seen_on, turned_over};
use super::scoring::{ScoreRow, scores};
use super::strip::{Place, Strip};
use super::tile::Spread;
use super::tone::pale;
use super::{Design, MOST_PAGES, Page, Sides, lines_of, notes};
use crate::laid::hatching;
use crate::list::{Drawing, Node, Role, Shape, Stroke};
use crate::sheet::{SheetLook, fitting_text, part_nodes};
use crate::style::NOTE;
use crate::supply::{EVERYWHERE, pattern_nodes};
use crate::text::{Face as TypeFace, TextRun, wrap};
use allot::Origin;
use kurbo::{Affine, Point, Rect, Size};
use model::board::scoring_table;
use model::words::listed;
use model::{Document, Face, Layout, Part, PartLayout, StockId, Turn};

/// Height of the words beside a part, mm to the em, and from line to line, mm.
const TEXT: (f64, f64) = (3.0, 4.1);

/// Words beside a narrow part are at least as wide as this, mm.
const WORDS: f64 = 64.0;

/// Between two parts, and between a part and its words, mm.
const GAPS: (f64, f64) = (9.0, 3.0);

/// A part with its words, as it lies on a page.
struct Block<'a> {
    part: &'a PartLayout,
    /// Whether the part itself is on pages of its own.
    is_apart: bool,
    /// Lines of words, the first of them the part's name.
    words: Vec<String>,
    size: Size,
}

/// The pages of parts; none for a design whose parts are all bought.
pub(super) fn pages(design: &Design<'_>, page: Size, sides: Sides) -> Vec<Page> {
    let origin = |id| design.furnishing.and_then(|furnishing| furnishing.supply.supply(id)).map(|supply| &supply.from);
    let made = design.document.parts.iter().filter_map(|part| {
        let origin = origin(part.id).filter(|origin| !matches!(origin, Origin::Bought))?;
        Some((part, design.layout.part(part.id)?, origin))
    });
    let mut left = MOST_PAGES;
    let (mut blocks, mut apart) = (Vec::new(), Vec::new());
    for (part, laid, origin) in made {
        let size = size_of(laid);
        let mut words = wrapped(&words(design, part, laid, origin), size.width, page);
        let height = words_height(&words);
        let is_apart = size.width > room(page).width || size.height + height > room(page).height;
        if is_apart {
            let grid = Grid::holding(size, page, &lines_of(&nodes(laid, Face::Front, size.to_rect())));
            let said = if grid.count() > left {
                format!(
                    "It would take {} pages of this paper and is not printed; draw it by its measures.",
                    grid.count()
                )
            } else {
                "It is on pages of its own, after the smaller parts.".to_owned()
            };
            words.extend(wrapped(&[said], size.width, page));
            if grid.count() <= left {
                left -= grid.count();
                apart.push((laid, grid));
            }
        }
        let wide = size.width.max(WORDS).min(room(page).width);
        let drawn = if is_apart { 0.0 } else { size.height + GAPS.1 };
        blocks.push(Block { part: laid, is_apart, size: Size::new(wide, words_height(&words) + drawn), words });
    }
    let mut pages = shared(design, &blocks, page, sides);
    let is_pale = design.artwork.is_none();
    for (part, grid) in apart {
        let of = format!("part \"{}\"", part.name);
        let spread = Spread { title: &design.document.title, of: &of, grid: &grid, sides, is_pale };
        pages.extend(spread.pages(|face, seen| nodes(part, face, seen)));
    }
    pages
}

/// Blocks beside and below one another in the order of the design.
fn shared(design: &Design<'_>, blocks: &[Block<'_>], page: Size, sides: Sides) -> Vec<Page> {
    let room = room(page);
    let mut filled: Vec<Vec<(&Block<'_>, Point)>> = Vec::new();
    let (mut x, mut y, mut high) = (0.0, 0.0, 0.0_f64);
    for block in blocks {
        if x > 0.0 && x + block.size.width > room.width {
            (x, y, high) = (0.0, y + high + GAPS.0, 0.0);
        }
        let is_full = y + block.size.height > room.height;
        if filled.is_empty() || is_full {
            filled.push(Vec::new());
            (x, y, high) = (0.0, 0.0, 0.0);
        }
        if let Some(last) = filled.last_mut() {
            last.push((block, Point::new(MARGIN + x, MARGIN + y)));
        }
        x += block.size.width + GAPS.0;
        high = high.max(block.size.height);
    }
    let flip = Flip::about_long_edge(page);
    let mut pages = Vec::new();
    for on_page in &filled {
        for &face in sides.faces() {
            let mut drawing = Drawing::new(page, description(design, on_page, face));
            let mut place = Place::Foot;
            if face == Face::Back {
                place = Place::of_back(flip);
            } else {
                drawing.nodes.extend(on_page.iter().flat_map(|(block, at)| said(block, *at)));
            }
            for (block, at) in on_page.iter().filter(|(block, _)| !block.is_apart) {
                let down = words_height(&block.words) + GAPS.1;
                let place = Affine::translate((at.x, at.y + down));
                drawing.nodes.push(placed(block.part, face, place, page, design.artwork.is_none()));
            }
            pages.push(Page { drawing, strip: Some(Strip { name: format!("parts, {}", face.word()), place }) });
        }
    }
    pages
}

fn description(design: &Design<'_>, blocks: &[(&Block<'_>, Point)], face: Face) -> String {
    let names = listed(blocks.iter().map(|(block, _)| block.part.name.clone()));
    format!("{}: {names} at true size, {}.", design.document.title, face.word())
}

/// A part on a page, front up or turned over with it.
fn placed(part: &PartLayout, face: Face, place: Affine, page: Size, is_pale: bool) -> Node {
    let own = size_of(part);
    let (mut nodes, mut place) = (nodes(part, face, own.to_rect()), place);
    if face == Face::Back {
        let flip = Flip::about_long_edge(page);
        nodes = turned_over(nodes, flip, own);
        place = flip.map(page) * place * flip.map(own);
    }
    Node::Group { place, clip: None, nodes: if is_pale { pale(nodes) } else { nodes } }
}

fn size_of(part: &PartLayout) -> Size {
    let size = part.pattern.size();
    Size::new(size.width().mm(), size.height().mm())
}

/// What is printed of a part, in millimetres on its own little sheet: glue first, under the lines, with that of the other
/// face in dots; its name in the middle of what is `seen` of its main panel.
fn nodes(part: &PartLayout, face: Face, seen: Rect) -> Vec<Node> {
    let glue = |on: Face| {
        let areas = part.glue.iter().filter(move |glue| glue.face == on).flat_map(|glue| &glue.area);
        let areas: Vec<Vec<Point>> = areas.map(|area| area.iter().map(|at| Point::from(at.mm())).collect()).collect();
        hatching(&areas)
    };
    let mut nodes: Vec<Node> = glue(face).into_iter().chain(glue(face.other()).map(dotted)).collect();
    let own = pattern_nodes(part, |point| Point::from(point.mm()), EVERYWHERE).into_iter();
    let is_line = |node: &Node| matches!(node, Node::Item { shape: Shape::Line { .. }, .. });
    nodes.extend(lines_seen_on(face, own.filter(is_line).collect()));
    let look = SheetLook { turn: Turn::None, names: false, distances: true };
    let all = part_nodes(&part.pattern.document, &part.sheet, None, &look, size_of(part).to_rect());
    nodes.extend(all.into_iter().filter(|node| matches!(node, Node::Item { role: Role::Dimension, .. })));
    nodes.extend(name(part, seen));
    nodes
}

fn name(part: &PartLayout, seen: Rect) -> Option<Node> {
    let main = part.panels.iter().find(|panel| panel.id == part.main)?;
    let largest = main.convex.iter().max_by_key(|piece| model::polygon::signed_area(piece))?;
    let (low, high) = model::polygon::bounds(largest);
    let room = Rect::from_points(low.mm(), high.mm());
    let room = match main.inside {
        // Half as wide and high as its rectangle, round a point well inside, is inside of a triangle as well.
        Some(middle) if main.outline.len() == 3 => Rect::from_center_size(middle.mm(), room.size() * 0.5),
        _ => room,
    };
    fitting_text(room.intersect(seen), &part.name)
}

fn dotted(node: Node) -> Node {
    match node {
        Node::Item { role, shape: Shape::Line { path, stroke } } => {
            let stroke = Stroke { dashes: vec![0.3, 1.1], ..stroke };
            Node::Item { role, shape: Shape::Line { path, stroke } }
        }
        other => other,
    }
}

fn words_height(words: &[String]) -> f64 {
    words.iter().map(|_| TEXT.1).sum()
}

/// Sentences in lines of a block as wide as its part, or [`WORDS`].
fn wrapped(sentences: &[String], width: f64, page: Size) -> Vec<String> {
    let width = width.max(WORDS).min(room(page).width);
    // The name is set in bold, which is wider.
    let face = |i| if i == 0 { TypeFace::Bold } else { TypeFace::Regular };
    sentences.iter().enumerate().flat_map(|(i, text)| wrap(text, face(i), TEXT.0, width)).collect()
}

fn said(block: &Block<'_>, at: Point) -> Vec<Node> {
    let mut baseline = at.y;
    let run = |(i, line): (usize, &String)| {
        baseline += TEXT.1;
        let face = if i == 0 { TypeFace::Bold } else { TypeFace::Regular };
        let run = TextRun::new(line, face, TEXT.0, NOTE).at(Point::new(at.x, baseline - 1.0));
        Node::Item { role: Role::Note, shape: Shape::Text(run) }
    };
    block.words.iter().enumerate().map(run).collect()
}

/// What is said of a part, a sentence each.
fn words(design: &Design<'_>, part: &Part, laid: &PartLayout, origin: &Origin) -> Vec<String> {
    let (document, layout) = (design.document, design.layout);
    let size = laid.pattern.size().text(document.units);
    let mut said = vec![laid.name.clone(), format!("{}, {size}. {}", part.kind.word(), cut_from(design, laid, origin))];
    let side = notes::side_word(&laid.pattern.document.stock, Face::Front);
    let side = side.map_or(String::new(), |word| format!(", the {word} side"));
    let seen = part.place.showing;
    let up = match goes(layout, laid) {
        Some(goes) => format!("Front up here{side}. Goes on {goes}, its {} seen.", seen.word()),
        None => format!("Front up here{side}; its {} is seen when it is on.", seen.word()),
    };
    said.push(up);
    said.extend(pressed(laid));
    if !laid.glue.is_empty() {
        let faces =
            [Face::Front, Face::Back].into_iter().filter(|&face| laid.glue.iter().any(|glue| glue.face == face));
        let faces = listed(faces.map(|face| format!("the {}", face.word())));
        said.push(format!("Glue on {faces}: hatched here where it is on the front, dotted where on the back."));
    }
    said
}

fn cut_from(design: &Design<'_>, laid: &PartLayout, origin: &Origin) -> String {
    let (document, layout) = (design.document, design.layout);
    let turned = |quarters: u8| match quarters % 4 {
        0 => "",
        1 => ", turned once to the right",
        2 => ", upside down",
        _ => ", turned once to the left",
    };
    match origin {
        Origin::Offcut { name, whole: true, piece, .. } => {
            let own = laid.sheet.folio().map(|piece| piece.area);
            let is_cut = layout.pieces.get(piece.0).is_some_and(|piece| own.is_some_and(|own| own < piece.area));
            let how = if is_cut {
                ", whole. Score it before it is cut to this shape: measures are from its edges"
            } else {
                ", just as it is"
            };
            format!("{name}{how}.")
        }
        Origin::Offcut { name, cutout, .. } => format!("Cut from {name}{}.", turned(cutout.quarters)),
        Origin::Sheet { stock, sheet, cutout } => {
            format!("Cut from sheet {sheet} of {}{}.", paper_name(document, *stock), turned(cutout.quarters))
        }
        Origin::Bought => "Bought.".to_owned(),
        Origin::Missing(why) => format!("No paper yet: {why}"),
    }
}

/// What a paper is called in a sentence.
pub(super) fn paper_name(document: &Document, stock: Option<StockId>) -> String {
    let (paper, plain) = match stock {
        None => (Some(&document.stock), "further folio paper".to_owned()),
        Some(id) => (document.further_stock(id), format!("paper {}", id.0)),
    };
    match paper {
        Some(paper) if !paper.name.is_empty() => format!("\"{}\"", paper.name),
        _ => plain,
    }
}

/// "the front of Base".
fn goes(layout: &Layout, part: &PartLayout) -> Option<String> {
    let laid = part.laid?;
    let panel = &layout.panel(laid.on).name;
    Some(match layout.part_of(laid.on) {
        Some(host) if !panel.starts_with(&host.name) => format!("the {} of {panel} of {}", laid.face.word(), host.name),
        _ => format!("the {} of {panel}", laid.face.word()),
    })
}

/// How it is scored: which side up, how it lies, and at what distances.
fn pressed(part: &PartLayout) -> Vec<String> {
    let (document, layout) = (&part.pattern.document, &part.sheet);
    let row = |row: &ScoreRow| match row.run.as_str() {
        "edge to edge" => row.distance.clone(),
        run => format!("{} {run}", row.distance),
    };
    let mut said = Vec::new();
    let table = scoring_table(document, layout);
    for face in [Face::Front, Face::Back] {
        for turn in scores(document, layout, &table, face) {
            let lies = if turn.turn == Turn::None { String::new() } else { format!(", {}", turn.turn.words()) };
            let distances = listed(turn.rows.iter().map(row));
            said.push(format!("Score with the {} up{lies}, from the left edge: {distances}.", face.word()));
        }
        if table.by_ruler.iter().any(|score| score.face == face) {
            said.push(format!("Score what slants along a ruler, with the {} up.", face.word()));
        }
    }
    said
}
