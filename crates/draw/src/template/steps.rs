//! The folding order: in words for the notes, and as numbers beside the folds on the sheet.

use super::bar::meet;
use super::over::seen_on;
use super::tile::within;
use crate::list::{Node, Role, Shape};
use crate::sheet::role_of_fold;
use crate::style::{WHITE, ink_for};
use crate::text::{Face, TextRun};
use kurbo::{Line, ParamCurve, Point, Rect, Shape as _, Vec2};
use model::board::{StepFolds, closing_order};
use model::words::listed;
use model::{Crease, Direction, Document, Face as SheetFace, Layout, LineId, PanelId, Segment};
use std::collections::{BTreeMap, BTreeSet};

/// Height of numbers, mm to the em; the lesser where lines stand close.
const SIZES: [f64; 2] = [2.8, 2.0];

/// Around a number, in its own ems.
const SPACE: f64 = 0.24;

/// From a number to other lines and text, mm: enough that it is not read as part of a word.
const CLEAR: f64 = 0.4;

/// How much of its ink a number's disc has, out of 255: little, so that the number stands out from it.
const TINT: u8 = 32;

/// Folds shorter than this, mm, bear their number beside them: on them it would hide them.
const SHORT: f64 = 10.0;

/// A fold that goes on beyond a page bears its number there if at least this much of it is seen, mm: a little more
/// than neighbouring pages share, so that one of them bears it.
const LEAST_SEEN: f64 = 13.0;

/// The most panels that a step names; of more a reader would look for none.
const MOST_NAMED: usize = 4;

/// A sentence a step: "3. Fold along Bottom gusset fold and Front fold (valleys, 90°): Bottom gusset and Bottom flap move."
pub(super) fn words(document: &Document, layout: &Layout) -> Vec<String> {
    let depths = layout.depths();
    let sentence = |step: &StepFolds| {
        let creases: BTreeSet<Crease> = step.folds.iter().map(|(_, crease)| *crease).collect();
        let folds = if creases.len() == 1 {
            let names: Vec<String> = step.folds.iter().map(|(id, _)| layout.line_name(document, *id)).collect();
            let several = if step.folds.len() > 1 { "s" } else { "" };
            let crease = creases.first().map_or_else(String::new, |crease| match crease.direction {
                Direction::Either => crease.words(),
                direction => format!("{}{several}, {}°", direction.word(), crease.angle.degrees()),
            });
            format!("{} ({crease})", listed(names))
        } else {
            let one =
                |(id, crease): &(LineId, Crease)| format!("{} ({})", layout.line_name(document, *id), crease.words());
            listed(step.folds.iter().map(one))
        };
        let moved = moved(layout, step, &depths);
        let moves = match moved.len() {
            0 => String::new(),
            1 => format!(": {} moves", listed(moved)),
            2..=MOST_NAMED => format!(": {} move", listed(moved)),
            count => format!(": {count} panels move"),
        };
        format!("{}. Fold along {folds}{}{moves}.", step.step + 1, step.tuck_words(layout))
    };
    closing_order(document, layout).iter().map(sentence).collect()
}

/// What a step moves: the panel on the farther side of each of its folds, as the folds lead from the base.
fn moved(layout: &Layout, step: &StepFolds, depths: &BTreeMap<PanelId, usize>) -> Vec<String> {
    let mut panels = BTreeSet::new();
    for fold in step.folds.iter().flat_map(|(id, _)| layout.folio_folds(*id)) {
        let [a, b] = fold.panels;
        match depths.get(&a).cmp(&depths.get(&b)) {
            std::cmp::Ordering::Less => panels.insert((depths.get(&b), b)),
            std::cmp::Ordering::Greater => panels.insert((depths.get(&a), a)),
            std::cmp::Ordering::Equal => false,
        };
    }
    panels.into_iter().map(|(_, id)| layout.panel(id).name.clone()).collect()
}

/// The number of its step on each fold that is seen within `part`, in the ink that the fold has on this face, clear of
/// other lines and of what is `taken`.
pub(super) fn numbers(document: &Document, layout: &Layout, face: SheetFace, part: Rect, taken: &[Rect]) -> Vec<Node> {
    let placed = layout.lines.values().filter_map(|placed| placed.as_ref().ok());
    let lines: Vec<Rect> = placed.map(|placed| span(placed.segment).bounding_box()).collect();
    let mut taken: Vec<Rect> = taken.iter().copied().filter(|one| meet(*one, part)).collect();
    let mut out = Vec::new();
    for step in closing_order(document, layout) {
        let number = (step.step + 1).to_string();
        for (id, crease) in &step.folds {
            let ink = ink_for(seen_on(face, role_of_fold(crease.direction)));
            let shape = |size| TextRun::new(&number, Face::Bold, size, ink);
            for seen in runs(layout, *id).into_iter().filter_map(|run| seen(span(run), part)) {
                let run = place(&SIZES.map(shape), seen, part, &lines, &taken);
                taken.push(patch(&run));
                out.extend(badge(run, Role::Label));
            }
        }
    }
    out
}

/// Where a line folds in the folio, each stretch as long as it runs unbroken.
fn runs(layout: &Layout, id: LineId) -> Vec<Segment> {
    let mut stretches: Vec<Segment> = layout.folio_folds(id).flat_map(|fold| fold.stretches.iter().copied()).collect();
    stretches.sort_unstable();
    let mut runs: Vec<Segment> = Vec::new();
    for stretch in stretches {
        match runs.last_mut() {
            Some(last) if last.b == stretch.a => last.b = stretch.b,
            _ => runs.push(stretch),
        }
    }
    runs
}

fn span(segment: Segment) -> Line {
    Line::new(segment.a.mm(), segment.b.mm())
}

/// What of a fold is seen, if that is enough for a number.
fn seen(fold: Line, part: Rect) -> Option<Line> {
    let (from, to) = within(fold, part)?;
    let seen = Line::new(fold.eval(from), fold.eval(to));
    (length(seen) >= LEAST_SEEN.min(length(fold) - 1e-6)).then_some(seen)
}

fn length(line: Line) -> f64 {
    (line.p1 - line.p0).hypot2().sqrt()
}

/// The number as near the middle of its fold as it is clear of other lines and text; on the fold, or beside one that
/// is short or crowded. `sizes` is the number in the sizes it may have.
fn place(sizes: &[TextRun; 2], fold: Line, part: Rect, lines: &[Rect], taken: &[Rect]) -> TextRun {
    let around = fold.bounding_box().inflate(8.0, 8.0);
    let near: Vec<Rect> = lines.iter().chain(taken).copied().filter(|other| meet(*other, around)).collect();
    let own = |other: &&Rect| other.union(fold.bounding_box()).area() > 0.0;
    let others: Vec<Rect> = near.iter().filter(own).copied().collect();
    let page = part.inflate(-0.5, -0.5);
    let clear = |run: &TextRun, of: &[Rect]| {
        let patch = patch(run);
        patch.union(page) == page && of.iter().all(|other| !meet(*other, patch.inflate(CLEAR, CLEAR)))
    };
    let middle = fold.midpoint();
    let long = length(fold);
    let along = (fold.p1 - fold.p0) / long.max(f64::MIN_POSITIVE);
    let on_fold = |sizes: &[TextRun; 2]| {
        if long < SHORT {
            return None;
        }
        let steps =
            std::iter::successors(Some(0.0), |step| Some(step + 2.0)).take_while(|step| *step < long / 2.0 - 3.0);
        let spots: Vec<Point> = steps.flat_map(|step| [middle - along * step, middle + along * step]).collect();
        let runs = sizes.iter().flat_map(|run| spots.iter().map(move |&spot| run.clone().centred_on(spot)));
        runs.into_iter().find(|run| clear(run, &others))
    };
    let beside = |sizes: &[TextRun; 2]| {
        let runs = sizes.iter().flat_map(|run| {
            let box_of = patch(run);
            let away = Vec2::new(along.y.abs() * box_of.width(), along.x.abs() * box_of.height()) * 0.5;
            let away = away + Vec2::new(along.y.abs(), along.x.abs()) * (CLEAR + 0.2);
            let spots = [0.5, 0.25, 0.75].map(|part| fold.eval(part));
            spots.into_iter().flat_map(move |spot| [spot + away, spot - away]).map(|spot| run.clone().centred_on(spot))
        });
        runs.into_iter().find(|run| clear(run, &near))
    };
    let [_, least] = sizes;
    on_fold(sizes).or_else(|| beside(sizes)).unwrap_or_else(|| least.clone().centred_on(middle))
}

/// A number on a pale disc of its own ink: a bare "1" on an upright fold looks like a dash.
pub(super) fn badge(run: TextRun, role: Role) -> [Node; 2] {
    let patch = patch(&run);
    let disc = patch.to_rounded_rect(patch.height() / 2.0).to_path(0.01);
    let colour = WHITE.mixed(run.colour(), TINT);
    [Shape::Fill { path: disc, colour }, Shape::Text(run)].map(|shape| Node::Item { role, shape })
}

/// What a number covers: its figures, of the height of capitals, and a little paper around them.
fn patch(run: &TextRun) -> Rect {
    let (height, space) = (run.face().metrics().cap_height * run.size(), run.size() * SPACE);
    let tall = height + 2.0 * space;
    let wide = (run.width() + 1.5 * space).max(tall);
    let start = run.start();
    Rect::from_center_size(Point::new(start.x + run.width() / 2.0, start.y - height / 2.0), (wide, tall))
}
