//! The rulers along the top and the left of the sheet: the board's grooves, turned with the sheet.

use super::{Canvas, dimension};
use crate::pane::{Action, Scene};
use crate::theme::{SMALL, bold, colour, palette, plain, seen};
use crate::tip::Tip as _;
use crate::view_transform::px;
use draw::board::Board;
use draw::style;
use egui::{Key, Painter, Pos2, Rect, Sense, Shape, Stroke, Ui, Vec2, WidgetInfo, accesskit};
use model::{BoardPoint, Document, Length, LineId, Point, Unit};
use session::{Fineness, Selected};

/// Width of the left ruler and height of the upper one, px: the left one holds figures of four digits.
pub(super) const THICKNESS: Vec2 = Vec2::new(42.0, 30.0);

/// The least distance between two ticks, px.
const LEAST_TICK: f32 = 5.0;

/// The least distance between two figures, px.
const LEAST_FIGURE: f32 = 34.0;

/// Along which edge a ruler lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Side {
    Top,
    Left,
}

/// Shows both rulers; a click on one adds a score there, on the left one that of the sheet turned once more to the left.
pub(super) fn ui(ui: &mut Ui, whole: Rect, canvas: &Canvas, scene: &mut Scene<'_>) {
    let top =
        Rect::from_min_max(Pos2::new(canvas.rect.left(), whole.top()), Pos2::new(whole.right(), canvas.rect.top()));
    let left =
        Rect::from_min_max(Pos2::new(whole.left(), canvas.rect.top()), Pos2::new(canvas.rect.left(), whole.bottom()));
    let document = scene.session.document();
    for (side, rect) in [(Side::Top, top), (Side::Left, left)] {
        let painter = ui.painter().with_clip_rect(rect.intersect(ui.clip_rect()));
        painter.rect_filled(rect, 0.0, colour(palette().raised));
        ticks(&painter, rect, side, canvas, document);
    }
    ui.painter().rect_filled(Rect::from_min_max(whole.min, canvas.rect.min), 0.0, colour(palette().raised));
    let edge = Stroke::new(1.0, colour(palette().line));
    ui.painter().hline(whole.x_range(), canvas.rect.top(), edge);
    ui.painter().vline(canvas.rect.left(), whole.y_range(), edge);
    let painter = ui.painter().with_clip_rect(top.intersect(ui.clip_rect()));
    line_marks(&painter, top, canvas, scene);
    pointer_mark(ui, canvas, top, left);
    add_score(ui, (Side::Top, top), canvas, scene);
    add_score(ui, (Side::Left, left), canvas, scene);
}

/// The spacing of ticks and of figures, coarse enough to be told apart.
fn spacing(units: Unit, groove: Length, scale: f32) -> (Length, Length) {
    let inch = Length::INCH;
    let mm = Length::MILLIMETRE;
    let fine = if groove > Length::ZERO { groove } else { Length::SIXTEENTH };
    let ladder = match units {
        Unit::Inch => vec![fine, inch / 4, inch / 2, inch, inch * 2, inch * 5, inch * 10, inch * 20, inch * 50],
        Unit::Millimetre | Unit::Centimetre => {
            vec![mm, mm * 5, mm * 10, mm * 20, mm * 50, mm * 100, mm * 200, mm * 500, mm * 1000]
        }
    };
    let wide = |step: Length, least: f32| px(step.mm()) * scale >= least;
    let coarsest = ladder.last().copied().unwrap_or(inch);
    let tick = ladder.iter().copied().find(|&step| wide(step, LEAST_TICK)).unwrap_or(coarsest);
    let whole = |step: &&Length| units != Unit::Inch || **step >= inch;
    let figure = ladder.iter().filter(whole).copied().find(|&step| wide(step, LEAST_FIGURE)).unwrap_or(coarsest);
    (tick, figure)
}

fn ticks(painter: &Painter, rect: Rect, side: Side, canvas: &Canvas, document: &Document) {
    let (tick, figure) = spacing(document.units, document.groove, canvas.view.scale);
    let (width, height) = canvas.board.turn.size_of(canvas.board.size);
    let reach = if side == Side::Top { width } else { height };
    let unit = match document.units {
        Unit::Inch => Length::INCH,
        Unit::Millimetre => Length::MILLIMETRE,
        Unit::Centimetre => Length::MILLIMETRE * 10,
    };
    let ink = Stroke::new(1.0, colour(style::DIMENSION));
    let count = reach.nm() / tick.nm().max(1);
    for step in 0..=count {
        let at = tick * step;
        let along = canvas.view.to_screen(kurbo::Point::new(at.mm(), at.mm()));
        let visible =
            if side == Side::Top { rect.x_range().contains(along.x) } else { rect.y_range().contains(along.y) };
        if !visible {
            continue;
        }
        let long = tick_length(at, figure, document.units);
        match side {
            Side::Top => painter.vline(along.x, rect.bottom() - long..=rect.bottom(), ink),
            Side::Left => painter.hline(rect.right() - long * 0.8..=rect.right(), along.y, ink),
        };
    }
    for step in 0..=reach.nm() / figure.nm().max(1) {
        let at = figure * step;
        let along = canvas.view.to_screen(kurbo::Point::new(at.mm(), at.mm()));
        let text = (at.nm() / unit.nm()).to_string();
        let galley = painter.layout_no_wrap(text, plain(SMALL), colour(palette().text));
        let place = match side {
            Side::Top => Pos2::new(along.x - galley.size().x / 2.0, rect.top() + 1.0),
            Side::Left => Pos2::new(rect.left() + 3.0, along.y - galley.size().y / 2.0),
        };
        painter.galley(place, galley, colour(palette().text));
    }
}

/// Whole figures have the longest ticks, then halves and quarters of an inch, or every five millimetres.
fn tick_length(at: Length, figure: Length, units: Unit) -> f32 {
    let (middle, less) = match units {
        Unit::Inch => (Length::INCH / 2, Length::INCH / 4),
        Unit::Millimetre | Unit::Centimetre => (Length::MILLIMETRE * 10, Length::MILLIMETRE * 5),
    };
    if at.is_multiple_of(figure) {
        12.0
    } else if at.is_multiple_of(middle) {
        9.0
    } else if at.is_multiple_of(less) {
        7.0
    } else {
        4.5
    }
}

/// A pointer on the ruler for every line that is worked as the sheet lies now.
fn line_marks(painter: &Painter, top: Rect, canvas: &Canvas, scene: &Scene<'_>) {
    let session = scene.session;
    for line in &session.document().lines {
        let Some(Ok(placed)) = session.derived().layout.lines.get(&line.id) else { continue };
        let Some((_, across)) = placed.on_board().filter(|(turn, _)| *turn == canvas.board.turn) else { continue };
        let x = canvas.view.to_screen(kurbo::Point::new(across.mm(), 0.0)).x;
        let foot = Pos2::new(x, top.bottom());
        let selected = session.is_selected(line.id);
        let ink =
            if selected { palette().selection } else { seen(style::ink_for(draw::sheet::role_of(Some(line.work)))) };
        let head = vec![foot, foot + Vec2::new(-4.5, -8.0), foot + Vec2::new(4.5, -8.0)];
        painter.add(Shape::convex_polygon(head, colour(ink), Stroke::NONE));
    }
}

fn pointer_mark(ui: &Ui, canvas: &Canvas, top: Rect, left: Rect) {
    let Some(at) = ui.input(|input| input.pointer.hover_pos()).filter(|at| canvas.rect.contains(*at)) else { return };
    let ink = Stroke::new(1.0, colour(palette().selection));
    ui.painter().vline(at.x, top.y_range(), ink);
    ui.painter().hline(left.x_range(), at.y, ink);
}

fn add_score(ui: &Ui, (side, rect): (Side, Rect), canvas: &Canvas, scene: &mut Scene<'_>) {
    let (place, name) = match side {
        Side::Top => ("upper ruler", "Ruler: add a score"),
        Side::Left => ("left ruler", "Left ruler: add a score across"),
    };
    let response = ui.interact(rect, ui.scope_id().with(place), Sense::click());
    response.widget_info(|| WidgetInfo::labeled(accesskit::Role::Button, true, name));
    let response = response.described("Click where a new score is to lie.");
    let keyed =
        response.has_focus() && ui.input(|input| input.key_pressed(Key::Enter) || input.key_pressed(Key::Space));
    let Some(at) = response.hover_pos().filter(|_| !keyed) else {
        if response.clicked() && side == Side::Top {
            scene.ask(Action::Run(session::Command::AddScore));
        }
        return;
    };
    let modifiers = ui.input(|input| input.modifiers);
    let document = scene.session.document();
    let spot = canvas.view.to_drawing(at);
    // What is the sheet's upper edge now is its left one when it is turned once more.
    let (board, along) = match side {
        Side::Top => (canvas.board, spot.x),
        Side::Left => (Board { turn: canvas.board.turn.once_more(), ..canvas.board }, spot.y),
    };
    let across = snapped(document, board, along, super::drag::fineness(modifiers));
    if let Some((id, middle)) = whole_line_at(scene, board, across) {
        // A second line in the same place would be of no use.
        ghost(
            ui,
            (side, canvas),
            across,
            &format!("Select {} at {}", document.line_name(id), across.readable(document.units)),
        );
        if response.clicked() {
            ui.ctx().memory_mut(|memory| memory.request_focus(super::line::id(id)));
            scene.ask(Action::Select(Selected::Line { id, at: Some(middle) }));
        }
        return;
    }
    ghost(ui, (side, canvas), across, &format!("Add a score at {}", across.readable(document.units)));
    ui.ctx().set_cursor_icon(egui::CursorIcon::Copy);
    if response.clicked() {
        let id = document.next_line();
        let line = model::change::measured_score(id, board.turn, across);
        let edit = model::change::add_line(document, line);
        let (_, height) = board.turn.size_of(board.size);
        let middle = board.turn.from_board(BoardPoint { across, down: height.half() }, board.size);
        scene.ask(Action::EditAndSelect("Add score".to_owned(), edit, Selected::Line { id, at: Some(middle) }));
    }
}

/// A line measured on the turn shown that lies there already, from edge to edge, and its middle.
fn whole_line_at(scene: &Scene<'_>, board: Board, across: Length) -> Option<(LineId, Point)> {
    let (_, height) = board.turn.size_of(board.size);
    scene.session.document().lines.iter().find_map(|line| {
        let placed = scene.session.derived().layout.lines.get(&line.id)?.ok()?;
        let there = placed.on_board() == Some((board.turn, across));
        let whole = placed.from == Length::ZERO && placed.to == height;
        (there && whole).then(|| (line.id, super::line::middle(&placed)))
    })
}

/// The groove nearest to a place on the ruler, on the sheet.
fn snapped(document: &Document, board: Board, across_mm: f64, fineness: Fineness) -> Length {
    let (width, _) = board.turn.size_of(board.size);
    let across = Length::from_mm_rounded(across_mm).unwrap_or(Length::ZERO).clamp(Length::ZERO, width);
    across.snapped(session::snap::step(document, fineness).0).clamp(Length::ZERO, width)
}

/// Where the new score would lie, and what a click does.
fn ghost(ui: &Ui, (side, canvas): (Side, &Canvas), across: Length, text: &str) {
    let painter = ui.painter().with_clip_rect(canvas.rect);
    let sheet = canvas.board.rect();
    let ends = match side {
        Side::Top => [kurbo::Point::new(across.mm(), 0.0), kurbo::Point::new(across.mm(), sheet.y1)],
        Side::Left => [kurbo::Point::new(0.0, across.mm()), kurbo::Point::new(sheet.x1, across.mm())],
    };
    let [a, b] = ends.map(|end| canvas.view.to_screen(end));
    let mut stroke = style::stroke_for(draw::list::Role::Valley);
    stroke.colour = style::SELECTION;
    crate::paint::line(&painter, [a, b], &stroke, canvas.view.scale, 1.6);
    let at = match side {
        Side::Top => Pos2::new(a.x, canvas.rect.top() + 20.0),
        Side::Left => Pos2::new(canvas.rect.left() + 70.0, a.y),
    };
    dimension::label(&painter, canvas.rect, at, text, bold(12.5), colour(style::SELECTION));
}

#[cfg(test)]
mod tests {
    use super::*;
    use model::{Size, Turn};

    #[test]
    fn ticks_thin_out_as_the_sheet_shrinks() {
        let inch = Length::INCH;
        // px a mm, the tick and the figure in sixty-fourths of an inch.
        for (scale, tick, figure) in [(8.0, 8, 64), (2.0, 8, 64), (1.0, 16, 128), (0.2, 64, 640)] {
            let (t, f) = spacing(Unit::Inch, Length::EIGHTH, scale);
            let sixty_fourths = |length: Length| length.nm() * 64 / inch.nm();
            assert_eq!((sixty_fourths(t), sixty_fourths(f)), (tick, figure), "{scale}");
        }
        assert_eq!(spacing(Unit::Millimetre, Length::EIGHTH, 2.0), (Length::MILLIMETRE * 5, Length::MILLIMETRE * 20));
    }

    #[test]
    fn a_new_score_lands_on_a_groove_of_the_sheet() {
        let document = Document::new(Size::parse("8x12in").unwrap(), Unit::Inch);
        let board = Board { size: document.stock.size, turn: Turn::None };
        for (mm, fineness, expected) in [
            (77.0, Fineness::Grooves, Length::INCH * 3),
            (77.0, Fineness::Fine, Length::from_sixty_fourths(194)),
            (-9.0, Fineness::Grooves, Length::ZERO),
            (900.0, Fineness::Grooves, Length::INCH * 8),
            (f64::NAN, Fineness::Grooves, Length::ZERO),
        ] {
            assert_eq!(snapped(&document, board, mm, fineness), expected, "{mm}");
        }
    }
}
