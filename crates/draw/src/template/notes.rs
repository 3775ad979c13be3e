//! The template's first page: what it is, how the pages join, what the lines mean, where to score and in which order
//! to fold.

use super::tile::{Grid, scale_bar};
use crate::list::{Drawing, Node, Role, Shape};
use crate::sheet::{SheetLook, counted, sheet_nodes};
use crate::style::{NOTE, stroke_for};
use crate::text::{Face, TextRun, wrap};
use kurbo::{Affine, BezPath, Point, Rect, Shape as _, Size};
use model::board::{StepFolds, TurnScores, closing_order, scoring_table};
use model::{Crease, Direction, Document, Layout, LineId, Turn};

/// White edge, mm.
const MARGIN: f64 = 15.0;

/// Text sizes, mm to the em: title, heading, text.
const SIZES: (f64, f64, f64) = (7.0, 4.4, 3.5);

/// A page filled from the top, a line of text at a time.
struct Column {
    nodes: Vec<Node>,
    left: f64,
    width: f64,
    y: f64,
    foot: f64,
}

impl Column {
    fn text(&mut self, text: &str, face: Face, size: f64) {
        for line in wrap(text, face, size, self.width) {
            self.y += size * 1.35;
            if self.y > self.foot {
                return;
            }
            let run = TextRun::new(&line, face, size, NOTE).at(Point::new(self.left, self.y));
            self.nodes.push(Node::Item { role: Role::Note, shape: Shape::Text(run) });
        }
    }

    fn heading(&mut self, text: &str) {
        self.y += 3.2;
        self.text(text, Face::Bold, SIZES.1);
        self.y += 0.8;
    }

    fn paragraph(&mut self, text: &str) {
        self.text(text, Face::Regular, SIZES.2);
    }
}

/// The first page. `grid` is how the sheet is spread over the pages that follow; `None` for one page of its size.
pub(super) fn cover(document: &Document, layout: &Layout, page: Size, grid: Option<&Grid>) -> Drawing {
    let mut drawing = Drawing::new(page, format!("{}: how to use this template.", document.title));
    let full = page.width - 2.0 * MARGIN;
    let mut column =
        Column { nodes: Vec::new(), left: MARGIN, width: full, y: MARGIN - 4.0, foot: page.height - MARGIN - 14.0 };
    column.text(&document.title, Face::Bold, SIZES.0);
    column.paragraph(&summary(document, layout, grid));
    let top = column.y + 4.0;
    // The plan of the sheet to the right, the words beside it.
    let plan_width = full * 0.42;
    drawing.nodes.extend(plan(document, layout, grid, Point::new(page.width - MARGIN - plan_width, top), plan_width));
    column.width = full - plan_width - 8.0;
    column.y = top - 5.0;
    column.heading("Print and check");
    column.paragraph(
        "Print every page at 100 %, with no fitting to the page. Then hold a ruler against the bar below: 4 in or \
         100 mm must measure just that. If they don't, set the printer's scaling off and print again.",
    );
    if grid.is_some_and(|grid| grid.count() > 1) {
        column.paragraph(
            "Lay the pages over one another so that the crosses and the dotted seams meet, and tape them together.",
        );
    }
    column.heading("Lines");
    legend(&mut column);
    column.paragraph(
        "The template shows the front of the sheet. Fold away from the scored groove: press valleys into the back, \
         mountains into the front.",
    );
    column.heading("Score");
    for line in scoring(document, layout) {
        column.paragraph(&line);
    }
    column.heading("Fold in this order");
    for line in folding(document, layout) {
        column.paragraph(&line);
    }
    column.heading("Take care");
    column.paragraph(
        "Cut on a mat along a metal ruler, fingers away from the blade's path; change dull blades, and keep knives \
         from children. Follow the rules and practice of the place you work in.",
    );
    if !document.credit.trim().is_empty() {
        column.heading("Credit");
        column.paragraph(&document.credit);
    }
    drawing.nodes.extend(column.nodes);
    drawing.nodes.extend(scale_bar(Point::new(page.width / 2.0 - 12.0, page.height - MARGIN - 2.0), full));
    drawing
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

/// The sheet in small, with the pages that cover it.
fn plan(document: &Document, layout: &Layout, grid: Option<&Grid>, at: Point, width: f64) -> Vec<Node> {
    let sheet = Size::new(layout.size.width().mm(), layout.size.height().mm());
    // Tall sheets are held to half again the width.
    let scale = (width / sheet.width).min(width * 1.5 / sheet.height);
    let look = SheetLook { turn: Turn::None, names: false, distances: false };
    let place = Affine::translate(at.to_vec2()) * Affine::scale(scale);
    let mut nodes =
        vec![Node::Group { place, clip: None, nodes: thickened(sheet_nodes(document, layout, &look), scale) }];
    let Some(grid) = grid else { return nodes };
    let mut seams = BezPath::new();
    for x in grid.upright_seams() {
        seams.move_to(place * Point::new(x, 0.0));
        seams.line_to(place * Point::new(x, sheet.height));
    }
    for y in grid.level_seams() {
        seams.move_to(place * Point::new(0.0, y));
        seams.line_to(place * Point::new(sheet.width, y));
    }
    if !seams.elements().is_empty() {
        let stroke = crate::list::Stroke { width: 0.5, dashes: vec![0.6, 1.6], ..stroke_for(Role::Registration) };
        nodes.push(Node::Item { role: Role::Note, shape: Shape::Line { path: seams, stroke } });
    }
    let edges = |seams: Vec<f64>, end: f64| -> Vec<f64> {
        std::iter::once(0.0).chain(seams).chain(std::iter::once(end)).collect()
    };
    let (xs, ys) = (edges(grid.upright_seams(), sheet.width), edges(grid.level_seams(), sheet.height));
    let mut number = 2;
    for y in ys.windows(2) {
        for x in xs.windows(2) {
            let centre = place * Rect::new(x[0], y[0], x[1], y[1]).center();
            let run = TextRun::new(&format!("page {number}"), Face::Bold, 3.4, NOTE).centred_on(centre);
            let mut patch = BezPath::new();
            patch.extend(run.bounds().inflate(0.8, 0.2).path_elements(0.1));
            let colour = crate::style::WHITE.with_alpha(0xD0);
            nodes.push(Node::Item { role: Role::Note, shape: Shape::Fill { path: patch, colour } });
            nodes.push(Node::Item { role: Role::Note, shape: Shape::Text(run) });
            number += 1;
        }
    }
    nodes
}

/// Lines as wide on the plan as on the sheet itself.
fn thickened(nodes: Vec<Node>, scale: f64) -> Vec<Node> {
    let wider = |node| match node {
        Node::Item { role, shape: Shape::Line { path, mut stroke } } => {
            stroke.width /= scale;
            stroke.dashes.iter_mut().for_each(|dash| *dash /= scale);
            Node::Item { role, shape: Shape::Line { path, stroke } }
        }
        other => other,
    };
    nodes.into_iter().map(wider).collect()
}

fn legend(column: &mut Column) {
    let rows = [
        (Role::Cut, "cut"),
        (Role::Valley, "valley score: the fronts come together"),
        (Role::Mountain, "mountain score: the backs come together"),
    ];
    for (role, words) in rows {
        column.y += SIZES.2 * 1.45;
        let (y, x) = (column.y - SIZES.2 * 0.33, column.left);
        let mut path = BezPath::new();
        path.move_to((x, y));
        path.line_to((x + 16.0, y));
        column.nodes.push(Node::Item { role: Role::Note, shape: Shape::Line { path, stroke: stroke_for(role) } });
        let run = TextRun::new(words, Face::Regular, SIZES.2, NOTE).at(Point::new(x + 19.0, column.y));
        column.nodes.push(Node::Item { role: Role::Note, shape: Shape::Text(run) });
    }
    column.y += 1.0;
}

/// The scoring table, a line of text for each turn that has scores.
fn scoring(document: &Document, layout: &Layout) -> Vec<String> {
    let turn = |turn: &TurnScores| {
        let list: Vec<String> = turn.scores.iter().map(|(across, _)| across.readable(document.units)).collect();
        let mut words = turn.turn.words().to_owned();
        words[..1].make_ascii_uppercase();
        format!("{words}: {} from the left edge.", list.join(", "))
    };
    let table: Vec<String> = scoring_table(document, layout).iter().map(turn).collect();
    if table.is_empty() { vec!["This design has no score lines yet.".to_owned()] } else { table }
}

fn folding(document: &Document, layout: &Layout) -> Vec<String> {
    let fold = |(id, crease): &(LineId, Crease)| {
        let way = match crease.direction {
            Direction::Valley => "valley",
            Direction::Mountain => "mountain",
        };
        format!("{} ({way}, {}°)", document.line_name(*id), crease.angle.degrees())
    };
    let step = |step: &StepFolds| step.iter().map(fold).collect::<Vec<_>>().join(" together with ");
    let order: Vec<String> = closing_order(document, layout).iter().map(step).collect();
    if order.is_empty() {
        return vec!["No fold is in the closing order yet.".to_owned()];
    }
    order.iter().enumerate().map(|(i, step)| format!("{}. {step}", i + 1)).collect()
}
