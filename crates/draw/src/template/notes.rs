//! The template's first pages: what it is, how the pages join, what the lines mean, where to score, how to cut and in
//! which order to fold. As many pages as the words need.

use super::flow::{Flow, TEXT, TextCell};
use super::over::Flip;
use super::plan::{height, plan};
use super::scoring::{ScoreRow, TurnRows, lying, scores};
use super::steps;
use super::tone::pale;
use super::{Design, Grid, Page, Sides, empty_page};
use crate::laid::hatching;
use crate::list::{Node, Role, Shape};
use crate::sheet::counted;
use crate::sheet::role_of;
use crate::style::{Colour, DIMENSION, OFFCUT, PART_FRONT, VALLEY_INK, stroke_for};
use crate::text::{Face, TextRun, measure};
use kurbo::{BezPath, Point, Rect, Shape as _, Size, Vec2};
use model::board::closing_order;
use model::board::{STOPS_FOR_PARTS, scoring_table_sparing};
use model::cutting::cut_list;
use model::{Document, Face as SheetFace, Layout, Part, Pattern, Stock, Turn};

/// Width of a sample in the legend, mm.
const SAMPLE: f64 = 16.0;

/// The pages of notes. `grid` is how the sheet is spread over the pages that follow; `None` for one page of its size.
pub(super) fn notes(design: &Design<'_>, page: Size, grid: Option<&Grid>, sides: Sides) -> Vec<Page> {
    let (document, layout) = (design.document, design.layout);
    let mut flow = Flow::new(page);
    flow.title(&document.title);
    flow.paragraph(&summary(document, layout, grid));
    let room = flow.beside(|room| height(layout, room));
    let flip =
        Flip::about_long_edge(grid.map_or(Size::new(layout.size.width().mm(), layout.size.height().mm()), Grid::page));
    print_and_check(&mut flow, grid, sides, flip);
    legend(&mut flow, design, sides);
    score(&mut flow, design);
    cut(&mut flow, document, layout, grid);
    fold(&mut flow, document, layout);
    flow.heading("Take care");
    flow.paragraph(
        "Cut on a mat along a metal ruler, fingers away from the blade's path; change dull blades, and keep knives \
         from children. Follow the rules and practice of the place you work in.",
    );
    if !document.credit.trim().is_empty() {
        flow.heading("Credit");
        flow.paragraph(&document.credit);
    }
    let mut pages = flow.into_notes(&document.title, "how to use this template");
    if sides == Sides::Both && pages.len() % 2 == 1 {
        pages.push(empty_page(&document.title, page));
    }
    let (before, each) = (pages.len(), sides.faces().len());
    if let Some(first) = pages.first_mut() {
        let plan = plan(design, grid, room, |tile| before + 1 + tile * each);
        first.drawing.nodes.splice(0..0, plan);
    }
    pages
}

fn summary(document: &Document, layout: &Layout, grid: Option<&Grid>) -> String {
    let size = layout.size.text(document.units);
    let panels = layout.folio().map_or(0, |folio| folio.panels.len());
    let pages = match grid.map_or(1, Grid::count) {
        1 => "on one page".to_owned(),
        count => format!("over {count} pages"),
    };
    format!(
        "One sheet of {size}, shown at true size {pages}: {} and {}.",
        counted(panels, "panel"),
        counted(layout.offcuts().count(), "offcut")
    )
}

fn is_tiled(grid: Option<&Grid>) -> bool {
    grid.is_some_and(|grid| grid.count() > 1)
}

fn print_and_check(flow: &mut Flow, grid: Option<&Grid>, sides: Sides, flip: Flip) {
    flow.heading("Print and check");
    flow.paragraph(
        "Print every page at 100 %, with no fitting to the page. Then hold a ruler against the scale check at the \
         foot of this page: 4 in or 100 mm must measure exactly that. If they don't, set the printer's scaling off and \
         print again.",
    );
    if is_tiled(grid) {
        flow.paragraph(
            "Lay the pages over one another as in the plan, so that the crosses and the dotted seams meet, and tape \
             them together.",
        );
    }
    if grid.is_some_and(Grid::leaves_out) {
        flow.paragraph("Pages with no line on them are left out; the plan shows where.");
    }
    if sides == Sides::Both {
        let turned = flip.words();
        flow.paragraph(&format!(
            "Each page of the sheet is followed by its back. Print on both sides, flipped on the long edge: the leaf is \
             turned over from {turned}. Hold it against the light to see that crosses and edges meet.",
        ));
    }
}

fn legend(flow: &mut Flow, design: &Design<'_>, sides: Sides) {
    let (document, layout) = (design.document, design.layout);
    // As pale as on the sheet.
    let tone = |nodes| if design.artwork.is_none() { pale(nodes) } else { nodes };
    let line = |role: Role| {
        move |at: Point| {
            let mut path = BezPath::new();
            path.move_to(at);
            path.line_to((at.x + SAMPLE, at.y));
            tone(vec![Node::Item { role: Role::Note, shape: Shape::Line { path, stroke: stroke_for(role) } }])
        }
    };
    flow.heading("Lines");
    flow.sample("cut", SAMPLE, line(Role::Cut));
    flow.sample("valley score: the fronts come together", SAMPLE, line(Role::Valley));
    flow.sample("mountain score: the backs come together", SAMPLE, line(Role::Mountain));
    let has = |role: Role| document.lines.iter().any(|line| role_of(Some(line.work)) == role);
    if has(Role::EitherWay) {
        flow.sample("score that folds either way", SAMPLE, line(Role::EitherWay));
    }
    if has(Role::Guide) {
        flow.sample("pencil line: neither scored nor cut", SAMPLE, line(Role::Guide));
    }
    if !closing_order(document, layout).is_empty() {
        flow.sample("its step in the folding order", SAMPLE, |at| {
            let run = TextRun::new("1", Face::Bold, 2.8, VALLEY_INK).centred_on(at + Vec2::new(SAMPLE / 2.0, 0.0));
            let mut nodes = line(Role::Valley)(at);
            nodes.extend(tone(steps::badge(run, Role::Note).into()));
            nodes
        });
    }
    let placed = layout.lines.values().filter_map(|placed| placed.as_ref().ok());
    // The shortest, so that it fits its place.
    if let Some(text) =
        placed.filter_map(|placed| Some(placed.on_board()?.1.readable(document.units))).min_by_key(String::len)
    {
        flow.sample("from the left edge, with the sheet turned so that the text reads upwards", SAMPLE, |at| {
            let size = 2.8_f64.min(SAMPLE / measure(&text, Face::Regular, 1.0).max(1.0));
            let run = TextRun::new(&text, Face::Regular, size, DIMENSION).centred_on(at + Vec2::new(SAMPLE / 2.0, 0.0));
            tone(vec![Node::Item { role: Role::Note, shape: Shape::Text(run) }])
        });
    }
    if layout.offcuts().next().is_some() {
        let words = if layout.folio().is_some() { "comes off" } else { "would come off: no panel is the base yet" };
        flow.sample(words, SAMPLE, swatch(OFFCUT));
    }
    if document.parts.iter().any(Part::is_from_offcut) {
        flow.sample("a part, cut from what comes off", SAMPLE, swatch(PART_FRONT));
    }
    if layout.parts.iter().any(|part| part.laid.is_some()) {
        flow.sample("where a part is put", SAMPLE, line(Role::Guide));
    }
    if layout.parts.iter().any(|part| !part.glue.is_empty()) {
        flow.sample("glue", SAMPLE, |at| tone(glue(at)));
    }
    flow.space(1.0);
    flow.paragraph(&faces(&document.stock, sides));
}

/// A strip of glue, from a place to the right.
fn glue(at: Point) -> Vec<Node> {
    let strip = Rect::new(at.x, at.y - 1.3, at.x + SAMPLE, at.y + 1.3);
    let corners = vec![
        strip.origin(),
        Point::new(strip.x1, strip.y0),
        Point::new(strip.x1, strip.y1),
        Point::new(strip.x0, strip.y1),
    ];
    let as_note = |node| match node {
        Node::Item { shape, .. } => Node::Item { role: Role::Note, shape },
        other => other,
    };
    hatching(&[corners]).into_iter().map(as_note).collect()
}

/// Which face is shown, and how the other shows.
fn faces(stock: &Stock, sides: Sides) -> String {
    let pattern = |face| side_word(stock, face).map_or(String::new(), |word| format!(", its {word} side"));
    let front = pattern(SheetFace::Front);
    match sides {
        Sides::Front => format!("The template shows the front of the sheet{front}."),
        Sides::Both => format!(
            "Pages named front show the front of the sheet{front}; pages named back show its back as you look at it, so that \
             a valley of the front is a mountain there. Dashes always fold towards you, dash-dots away from you.",
        ),
    }
}

/// What a face is told from the other by: whether it is printed.
pub(super) fn side_word(stock: &Stock, face: SheetFace) -> Option<&'static str> {
    let is_printed = |face| stock.side(face).pattern != Pattern::Plain;
    match (is_printed(face), is_printed(face.other())) {
        (true, false) => Some("pattern"),
        (false, true) => Some("plain"),
        _ => None,
    }
}

/// How the sheet lies and which side is up: "As drawn (left edge at the left), back up, the plain side".
fn lying_with(stock: &Stock, turn: Turn, face: SheetFace) -> String {
    let side = side_word(stock, face).map_or(String::new(), |word| format!(", the {word} side"));
    format!("{}, {} up{side}", lying(turn), face.word())
}

/// A slip of paper of this colour, from a place to the right.
fn swatch(colour: Colour) -> impl Fn(Point) -> Vec<Node> {
    move |at| {
        let slip = Rect::new(at.x, at.y - 1.3, at.x + SAMPLE, at.y + 1.3).to_path(0.1);
        let shapes =
            [Shape::Fill { path: slip.clone(), colour }, Shape::Line { path: slip, stroke: stroke_for(Role::Outline) }];
        shapes.map(|shape| Node::Item { role: Role::Note, shape }).into()
    }
}

fn score(flow: &mut Flow, design: &Design<'_>) {
    let (document, layout) = (design.document, design.layout);
    flow.heading("Score");
    let sides = [
        (SheetFace::Front, "Front up", "Press these into the front."),
        (
            SheetFace::Back,
            "Back up",
            "Press these into the back. Lay the sheet front up as said here, then turn it over away from you, top to \
             bottom: the edge at the left stays at the left.",
        ),
    ];
    let pressed = scoring_table_sparing(document, layout, &design.used());
    let tables = sides.map(|(face, ..)| scores(document, layout, &pressed, face));
    if let Some(words) = pressed.nothing_words() {
        flow.paragraph(words);
        return;
    }
    flow.paragraph(
        "Distances are from the left edge of the sheet as it lies; \"down\" is from its upper edge as it then lies. Fold \
         away from the groove.",
    );
    if pressed.stops_for_parts {
        flow.paragraph(STOPS_FOR_PARTS);
    }
    for ((face, heading, words), turns) in sides.into_iter().zip(tables).filter(|(_, turns)| !turns.is_empty()) {
        flow.subheading(heading);
        flow.paragraph(words);
        for turn in &turns {
            table(flow, turn, &lying_with(&document.stock, turn.turn, face));
        }
    }
    let ways = [
        (
            SheetFace::Front,
            "Along a ruler, front up",
            "Prick the ends through the template and press from prick to prick",
        ),
        (
            SheetFace::Back,
            "Along a ruler, back up",
            "Prick the ends through the template, turn the sheet over and press from prick to prick",
        ),
    ];
    for (face, heading, words) in ways {
        let own = pressed.by_ruler.iter().filter(|score| score.face == face);
        let names: Vec<String> = own.map(|score| document.line_name(score.line)).collect();
        if !names.is_empty() {
            flow.subheading(heading);
            flow.paragraph(&format!("{words}: {}.", names.join(", ")));
        }
    }
}

/// How the sheet lies, then a row a score: distance, run, line. A run that all share is said once; where the three
/// don't fit side by side, line and run are told one after the other.
fn table(flow: &mut Flow, turn: &TurnRows, lying: &str) {
    const GAP: f64 = 3.0;
    let full = flow.width();
    let shared = turn.shared_run();
    flow.subheading(lying);
    if let Some(run) = shared {
        flow.paragraph(&format!("each {run}:"));
    }
    let run_of = |row: &ScoreRow| if shared.is_some() { String::new() } else { row.run.clone() };
    let widest = |text: &dyn Fn(&ScoreRow) -> String| {
        turn.rows.iter().map(|row| measure(&text(row), Face::Regular, TEXT)).fold(0.0_f64, f64::max)
    };
    // A hair more than measured, so that nothing breaks for a rounding.
    let distance = widest(&|row| row.distance.clone()).min(full * 0.4) + 0.01 + GAP;
    let run = match widest(&run_of) {
        width if width > 0.0 => width + 0.01 + GAP,
        _ => 0.0,
    };
    let side_by_side = distance + run + widest(&|row| row.names.clone()) <= full || shared.is_some();
    for row in &turn.rows {
        let first = TextCell { text: row.distance.clone(), left: 0.0, width: distance - GAP };
        if side_by_side {
            let run_cell = TextCell { text: run_of(row), left: distance, width: run };
            let left = distance + run;
            flow.row(&[first, run_cell, TextCell { text: row.names.clone(), left, width: full - left }]);
        } else {
            let text = format!("{}, {}", row.names, row.run);
            flow.row(&[first, TextCell { text, left: distance, width: full - distance }]);
        }
    }
}

fn cut(flow: &mut Flow, document: &Document, layout: &Layout, grid: Option<&Grid>) {
    let steps = cut_list(document, layout);
    if steps.is_empty() {
        return;
    }
    flow.heading("Cut");
    let comes_off =
        if layout.folio().is_some() && layout.offcuts().next().is_some() { " The tinted areas come off." } else { "" };
    flow.paragraph(&format!(
        "Cut after scoring: the distances need the sheet's uncut edges.{comes_off} Trim the {}, lay it on the good sheet \
         edge to edge, and hold it with low-tack tape. Prick the ends of the cuts through with a needle, take the \
         template off, and cut from prick to prick along a ruler.",
        if is_tiled(grid) { "taped template" } else { "template" }
    ));
    flow.paragraph("Without a scoring board, bring the ends of the scores over in the same way.");
    if !layout.voids.is_empty() {
        flow.paragraph("What is white inside the sheet comes out too: slots, trims, notches and corners.");
    }
    let mut last = None;
    for (number, step) in (1..).zip(steps) {
        if last != Some(step.under) {
            flow.subheading(&step.under.heading(|turn| lying_with(&document.stock, turn, SheetFace::Front)));
        }
        last = Some(step.under);
        flow.paragraph(&format!("{number}. {}", step.sentence));
    }
}

fn fold(flow: &mut Flow, document: &Document, layout: &Layout) {
    flow.heading("Fold in this order");
    let order = steps::words(document, layout);
    if order.is_empty() {
        flow.paragraph("No fold is in the closing order yet.");
        return;
    }
    for step in order {
        flow.paragraph(&step);
    }
}
