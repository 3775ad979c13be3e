//! Cutting along lines: press on a score and drag along it, and round corners along others. All that was gone along is
//! cut as the pointer lets go.

use super::drawing::Pen;
use super::{Canvas, dimension};
use crate::field::sentence;
use crate::pane::Scene;
use crate::theme::{bold, colour};
use draw::style;
use egui::{Event, Painter, PointerButton, Pos2, Response, Stroke, Ui, Vec2};
use model::{Layout, Length, LineId, Segment, Stretch, offcut};
use std::collections::{BTreeMap, BTreeSet};

/// How far beside a score the pointer still goes along it, px.
const REACH: f32 = 9.0;

/// How far the pointer goes between one look and the next, px.
const STEP: f32 = 3.0;

/// How nearly the pointer must go the way of a score, as the cosine of the angle between: within 45 degrees.
const ALONG: f32 = 0.7;

/// How far along a stretch it has to go to mean it, px; a third of it where it is short.
const MEANT: f32 = 12.0;

/// What the pointer has gone along.
#[derive(Debug, Clone)]
pub(super) struct Walk {
    at: Pos2,
    /// How far along each stretch, px.
    passed: BTreeMap<Segment, f32>,
    /// Those that are meant.
    taken: BTreeSet<Segment>,
}

impl Pen {
    /// Follows the pointer along scores, and cuts them as it lets go.
    pub(super) fn cut_along(&mut self, ui: &Ui, canvas: &Canvas, scene: &mut Scene<'_>, response: &Response) {
        let layout = &scene.session.derived().layout;
        let press = ui.input(|input| input.pointer.press_origin());
        if let (true, Some(at)) = (response.drag_started_by(PointerButton::Primary), press) {
            self.why = None;
            self.walk = Some(Walk { at, passed: BTreeMap::new(), taken: BTreeSet::new() });
        }
        if let Some(walk) = &mut self.walk {
            let moved = |event: &Event| match event {
                Event::PointerMoved(at) | Event::PointerButton { pos: at, .. } => Some(*at),
                _ => None,
            };
            let way: Vec<Pos2> = ui.input(|input| {
                let now = input.pointer.latest_pos();
                let moved: Vec<Pos2> = input.events.iter().filter_map(moved).collect();
                if moved.is_empty() { now.into_iter().collect() } else { moved }
            });
            way.into_iter().for_each(|to| walk.go(canvas, layout, to));
        }
        scene.now_hint = Some(match &self.walk {
            Some(walk) => walk.hint(scene),
            None if self.why.is_some() => self.why.clone().unwrap_or_default(),
            None => "Press on a score and drag along it, round corners too. Escape ends it.".to_owned(),
        });
        if response.clicked() {
            let at = response.interact_pointer_pos();
            let one = at.and_then(|at| nearest(canvas, layout, at)).map(|stretch| stretch.segment);
            self.why = cut(scene, &one.into_iter().collect()).err();
        }
        if response.drag_stopped_by(PointerButton::Primary)
            && let Some(walk) = self.walk.take()
        {
            self.why = cut(scene, &walk.taken).err();
        }
    }
}

impl Walk {
    /// Goes on to a point of the screen.
    fn go(&mut self, canvas: &Canvas, layout: &Layout, to: Pos2) {
        while self.at.distance(to) >= STEP {
            let by = (to - self.at).normalized() * STEP;
            self.at += by;
            let beside = scored(layout).filter_map(|stretch| {
                let [a, b] = [stretch.segment.a, stretch.segment.b].map(|end| canvas.at(end));
                let way = (b - a).normalized();
                let beside = distance(a, b, self.at);
                let along = by.dot(way).abs() / STEP;
                (beside <= REACH && along >= ALONG).then_some((beside, along, a.distance(b), stretch.segment))
            });
            let Some((_, along, long, segment)) = beside.min_by(|a, b| a.0.total_cmp(&b.0)) else { continue };
            let passed = self.passed.entry(segment).or_default();
            *passed += along * STEP;
            if *passed >= MEANT.min(long / 3.0) {
                self.taken.insert(segment);
            }
        }
    }

    fn hint(&self, scene: &Scene<'_>) -> String {
        let long: Length = self.taken.iter().map(|segment| (segment.b - segment.a).length()).sum();
        let long = long.readable(scene.session.document().units);
        match self.taken.len() {
            0 => "Drag along a score. Escape ends it.".to_owned(),
            1 => format!("1 stretch, {long} long. Let go to cut it; Escape leaves it."),
            count => format!("{count} stretches, {long} in all. Let go to cut them; Escape leaves them."),
        }
    }

    /// Draws what will be cut.
    pub(super) fn paint(&self, painter: &Painter, canvas: &Canvas) {
        let ink = colour(style::SELECTION);
        for segment in &self.taken {
            painter.line_segment([canvas.at(segment.a), canvas.at(segment.b)], Stroke::new(4.0, ink));
        }
        let text = if self.taken.is_empty() { "along a score" } else { "cut" };
        dimension::label(painter, canvas.rect, self.at + Vec2::new(0.0, 26.0), text, bold(12.5), ink);
    }
}

/// The stretches that can be cut along.
fn scored(layout: &Layout) -> impl Iterator<Item = &Stretch> {
    layout.stretches.iter().filter(|stretch| stretch.work.is_some_and(|work| work.is_score()))
}

/// The scored stretch next to a point of the screen, within reach.
fn nearest<'a>(canvas: &Canvas, layout: &'a Layout, at: Pos2) -> Option<&'a Stretch> {
    let away = |stretch: &Stretch| distance(canvas.at(stretch.segment.a), canvas.at(stretch.segment.b), at);
    let beside = scored(layout).map(|stretch| (away(stretch), stretch)).filter(|(away, _)| *away <= REACH);
    beside.min_by(|a, b| a.0.total_cmp(&b.0)).map(|(_, stretch)| stretch)
}

fn distance(a: Pos2, b: Pos2, at: Pos2) -> f32 {
    super::pick::on_part(a, b, at).distance(at)
}

/// Cuts what was gone along, as one step of history; says why not if it can't.
fn cut(scene: &mut Scene<'_>, taken: &BTreeSet<Segment>) -> Result<(), String> {
    let (document, layout) = (scene.session.document(), &scene.session.derived().layout);
    if taken.is_empty() {
        return Err("Nothing scored lies there to be cut along; press on a score and drag along it.".to_owned());
    }
    let lines: BTreeSet<LineId> = scored(layout)
        .filter(|stretch| taken.contains(&stretch.segment))
        .filter_map(|stretch| stretch.lines.first().copied())
        .collect();
    let label = match lines.first() {
        Some(&line) if lines.len() == 1 => format!("Cut along {}", document.line_name(line)),
        _ => format!("Cut along {} lines", lines.len()),
    };
    let edit = offcut::cut_along(document, layout, taken).map_err(|refusal| sentence(&refusal.to_string()))?;
    scene.edit(label, edit);
    Ok(())
}
