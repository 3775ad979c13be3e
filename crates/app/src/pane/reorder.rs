//! A list whose rows are carried by their grips to another place, or pushed there by keys. What an order allows is known to
//! the list alone.

use crate::icon::Icon;
use crate::pane::{OrderList, Scene};
use crate::theme::{BODY, SMALL, colour, palette, plain, shortened};
use crate::tip::Tip as _;
use egui::{
    CursorIcon, EventFilter, Id, Key, LayerId, Modifiers, Order, Painter, PointerButton, Pos2, Rect, Response, Sense,
    Shape, Stroke, StrokeKind, Ui, Vec2, WidgetInfo, accesskit,
};

/// The width of a grip, px.
const GRIP: f32 = 18.0;

/// How far beside the list a row may be let go, px; farther off it stays where it was.
const REACH: f32 = 48.0;

/// How near to its upper or lower border a row that is carried makes the list scroll, px.
const NEAR: f32 = 14.0;

/// How far it scrolls in a frame then, px.
const PACE: f32 = 5.0;

/// How wide the row that is carried is at most, px.
const GHOST: f32 = 300.0;

/// What would come of a row in another place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Outcome {
    /// Whether it is put there.
    pub(crate) fits: bool,
    /// What comes of it, or why it is not put there: for whoever carries it.
    pub(crate) said: String,
}

/// A row to be put in another place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Move {
    /// Where it is.
    pub(crate) from: usize,
    /// Where it should be.
    pub(crate) to: usize,
    /// Whether that is insisted on.
    pub(crate) insists: bool,
}

/// The row that is carried, from frame to frame.
#[derive(Debug, Default)]
pub(crate) struct Reorder {
    carried: Option<Carried>,
}

#[derive(Debug)]
struct Carried {
    list: OrderList,
    /// The state of the design in which it was taken hold of.
    of: (u64, u64),
    from: usize,
    /// The other place that it would be put in, with what comes of that.
    over: Option<(usize, Outcome)>,
}

/// The rows of a list in one frame.
#[derive(Debug)]
pub(crate) struct Rows<'a> {
    reorder: &'a mut Reorder,
    list: OrderList,
    of: (u64, u64),
    rects: Vec<Rect>,
}

impl Reorder {
    /// Whether a row is being carried.
    pub(crate) const fn is_carrying(&self) -> bool {
        self.carried.is_some()
    }

    /// Lets go of what is carried when no button is down any more, also where the list is not shown now.
    pub(crate) fn rest(&mut self, ctx: &egui::Context) {
        if !ctx.input(|input| input.pointer.primary_down()) {
            self.carried = None;
        }
    }
}

impl<'a> Rows<'a> {
    /// A list of which no row is shown yet.
    pub(crate) fn new(reorder: &'a mut Reorder, scene: &Scene<'_>, list: OrderList) -> Self {
        let of = (scene.design, scene.session.revision());
        Self { reorder, list, of, rects: Vec::new() }
    }

    /// Shows the grip of the next row, `name`, and gives the room beside it.
    pub(crate) fn grip(&mut self, ui: &Ui, row: Rect, name: &str) -> Rect {
        let number = self.rects.len();
        self.rects.push(row);
        let (grip, rest) = row.split_left_right_at_x(row.left() + GRIP);
        // By keys the row itself is moved, so the grip takes no focus.
        let response = ui.interact(grip, Id::unique(("grip", name)), Sense::DRAG);
        response.widget_info(|| WidgetInfo::labeled(accesskit::Role::Image, true, format!("Grip of {name}")));
        if response.drag_started_by(PointerButton::Primary) {
            self.reorder.carried = Some(Carried { list: self.list, of: self.of, from: number, over: None });
        }
        if response.hovered() && !self.reorder.is_carrying() {
            ui.ctx().set_cursor_icon(CursorIcon::Grab);
        }
        let ink = if response.hovered() { palette().text } else { palette().quiet };
        Icon::Grip.paint(ui.painter(), Rect::from_center_size(grip.center(), Vec2::splat(14.0)), colour(ink));
        response.tip("Drag it up or down to put the row in another place.");
        rest
    }

    /// Follows the row that is carried, once all rows are shown; gives what is to be moved when it is let go. `outcome` is
    /// asked once for each place that it comes over.
    pub(crate) fn follow(
        self,
        ui: &Ui,
        scene: &mut Scene<'_>,
        name: impl Fn(usize) -> String,
        outcome: impl FnOnce(usize, usize) -> Outcome,
    ) -> Option<Move> {
        let Self { reorder, list, of, rects } = self;
        let mut carried = reorder.carried.take().filter(|it| it.list == list && it.of == of)?;
        let from = carried.from;
        if from >= rects.len() || ui.input(|input| input.key_pressed(Key::Escape)) {
            return None;
        }
        let at = ui.input(|input| input.pointer.latest_pos())?;
        let to = landing(&rects, from, at, ui.clip_rect());
        if carried.over.as_ref().map_or(from, |(to, _)| *to) != to {
            carried.over = (to != from).then(|| (to, outcome(from, to)));
        }
        if !ui.input(|input| input.pointer.primary_down()) {
            let insists = ui.input(|input| input.modifiers.shift);
            return carried.over.map(|(to, _)| Move { from, to, insists });
        }
        let words = name(from);
        scene.now_hint = Some(match &carried.over {
            Some((_, outcome)) => outcome.said.clone(),
            None => format!("{words}: it stays where it is. Escape lets it go."),
        });
        ui.ctx().set_cursor_icon(CursorIcon::Grabbing);
        scroll(ui, &rects, at);
        mark(ui.painter(), &rects, &carried);
        ghost(ui, (rects[from].width(), at), &words, carried.over.as_ref().map(|(_, outcome)| outcome));
        reorder.carried = Some(carried);
        None
    }
}

/// The place that a row would be put in, let go at a point.
fn landing(rects: &[Rect], from: usize, at: Pos2, shown: Rect) -> usize {
    if !shown.expand(REACH).contains(at) {
        return from;
    }
    let above = rects.iter().filter(|rect| rect.center().y < at.y).count();
    if above > from { above - 1 } else { above }
}

/// Scrolls a list when a row is carried to its border.
fn scroll(ui: &Ui, rects: &[Rect], at: Pos2) {
    let shown = ui.clip_rect();
    let above = rects.first().is_some_and(|first| first.top() < shown.top());
    let below = rects.last().is_some_and(|last| last.bottom() > shown.bottom());
    let by = if above && at.y < shown.top() + NEAR {
        PACE
    } else if below && at.y > shown.bottom() - NEAR {
        -PACE
    } else {
        return;
    };
    ui.scroll_with_delta(Vec2::new(0.0, by));
    ui.ctx().request_repaint();
}

/// Marks the row that is carried by a dashed frame, and where it would land: by a whole line behind an arrow head
/// where it may be, by a dashed one between crosses where not.
fn mark(painter: &Painter, rects: &[Rect], carried: &Carried) {
    let row = rects[carried.from].shrink(1.0);
    let frame = [row.left_top(), row.right_top(), row.right_bottom(), row.left_bottom(), row.left_top()];
    painter.extend(Shape::dashed_line(&frame, Stroke::new(1.2, colour(palette().quiet)), 5.0, 4.0));
    let Some((to, outcome)) = &carried.over else { return };
    let beside = rects[*to];
    let y = if *to < carried.from { beside.top() - 1.0 } else { beside.bottom() + 1.0 };
    let [left, right] = [beside.left() + GRIP, beside.right() - GRIP].map(|x| Pos2::new(x, y));
    let ends = [
        Rect::from_center_size(left - Vec2::new(GRIP / 2.0, 0.0), Vec2::splat(14.0)),
        Rect::from_center_size(right + Vec2::new(GRIP / 2.0, 0.0), Vec2::splat(14.0)),
    ];
    if outcome.fits {
        let ink = colour(palette().selection);
        painter.line_segment([left, right], Stroke::new(3.0, ink));
        Icon::Play.paint(painter, ends[0], ink);
    } else {
        let stroke = Stroke::new(2.0, colour(palette().error));
        painter.extend(Shape::dashed_line(&[left, right], stroke, 6.0, 5.0));
        for end in ends {
            Icon::Close.paint(painter, end, stroke.color);
        }
    }
}

/// The row that is carried, at the pointer, and what would come of it there: whoever carries it looks nowhere else.
fn ghost(ui: &Ui, (width, at): (f32, Pos2), words: &str, outcome: Option<&Outcome>) {
    let painter = ui.ctx().layer_painter(LayerId::new(Order::Tooltip, Id::unique("carried row")));
    let width = width.min(GHOST);
    let name = shortened(&painter, words, plain(BODY), width);
    let said = outcome.map(|Outcome { fits, said }| {
        let ink = if *fits { palette().text } else { palette().error };
        painter.layout(said.clone(), plain(SMALL), colour(ink), width)
    });
    let beneath = said.as_ref().map_or(Vec2::ZERO, |said| said.size());
    let size = Vec2::new(name.size().x.max(beneath.x), name.size().y + beneath.y);
    let place = at + Vec2::new(14.0, -name.size().y / 2.0);
    let ground = Rect::from_min_size(place, size).expand2(Vec2::new(7.0, 4.0));
    // Within the window to the right and below; the pointer may then be over it.
    let room = ui.ctx().content_rect();
    let ground = ground.translate((room.max - ground.max).min(Vec2::ZERO));
    let edge = Stroke::new(
        1.0,
        colour(if outcome.is_some_and(|outcome| !outcome.fits) { palette().error } else { palette().line }),
    );
    painter.rect(ground, 3.0, colour(palette().desk), edge, StrokeKind::Inside);
    let at = ground.min + Vec2::new(7.0, 4.0);
    let under = at + Vec2::new(0.0, name.size().y);
    painter.galley(at, name, colour(palette().text));
    if let Some(said) = said {
        painter.galley(under, said, colour(palette().text));
    }
}

/// Which place keys push the row to that has the focus, `at` of `count`, if any: with Alt they move the row, and with
/// Shift as well it is insisted on. By themselves they go from row to row, whose ids are `id`.
pub(crate) fn pushed(ui: &Ui, row: &Response, (at, count): (usize, usize), id: impl Fn(usize) -> Id) -> Option<Move> {
    describe(row, at, count);
    if !row.has_focus() {
        return None;
    }
    let arrows = EventFilter { vertical_arrows: true, ..EventFilter::default() };
    ui.memory_mut(|memory| memory.set_focus_lock_filter(row.id, arrows));
    // Taken away, since the next row would hear them too when it has the focus. Those with more keys come first.
    let taken = |modifiers, key| ui.input_mut(|input| input.consume_key(modifiers, key));
    let neighbour = |key| match key {
        Key::ArrowUp => at.checked_sub(1),
        _ => Some(at + 1).filter(|below| *below < count),
    };
    for key in [Key::ArrowUp, Key::ArrowDown] {
        for (modifiers, insists) in [(Modifiers::ALT | Modifiers::SHIFT, true), (Modifiers::ALT, false)] {
            if taken(modifiers, key) {
                return neighbour(key).map(|to| Move { from: at, to, insists });
            }
        }
        if taken(Modifiers::NONE, key) {
            if let Some(beside) = neighbour(key) {
                ui.memory_mut(|memory| memory.request_focus(id(beside)));
            }
            return None;
        }
    }
    None
}

/// Tells a screen reader which row of how many this is, and the keys that move it.
fn describe(row: &Response, at: usize, count: usize) {
    if row.ctx.has_accesskit_node(row.id) {
        row.ctx.accesskit_node_builder(row.id, |node| {
            node.set_value(format!("{} of {count}", at + 1));
            node.set_keyboard_shortcut("Alt+ArrowUp Alt+ArrowDown");
        });
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Four rows of 20 px, the first from 100 px down, in a list that shows all of them.
    #[track_caller]
    fn check(from: usize, y: f32, expected: usize) {
        let row = |top| Rect::from_min_size(Pos2::new(0.0, top), Vec2::new(200.0, 20.0));
        let rects = [100.0, 120.0, 140.0, 160.0].map(row);
        let shown = Rect::from_min_max(Pos2::new(0.0, 100.0), Pos2::new(200.0, 180.0));
        assert_eq!(landing(&rects, from, Pos2::new(50.0, y), shown), expected, "from {from} at {y}");
    }

    #[test]
    fn a_row_lands_beyond_the_middle_of_another() {
        for (from, y, to) in [(0, 105.0, 0), (0, 128.0, 0), (0, 132.0, 1), (0, 172.0, 3), (3, 168.0, 3), (3, 148.0, 2)]
        {
            check(from, y, to);
        }
        check(3, 105.0, 0);
        check(2, 90.0, 0);
        check(1, 200.0, 3);
    }

    #[test]
    fn far_from_the_list_it_stays() {
        check(0, 300.0, 0);
        check(3, 20.0, 3);
    }
}
