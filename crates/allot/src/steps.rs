//! Cuts in sentences, and as lines to draw.

use crate::allotment::{CutLine, CutStep};
use model::{Length, Point, Size, Unit};
use nest::{Cut, Leftover, LeftoverPlan, Opening, Paper, Rect, Way};

/// What is cut, and what it is called.
pub(crate) struct Words<'a> {
    pub(crate) unit: Unit,
    /// "Offcut 2".
    pub(crate) name: &'a str,
    /// The upright rectangle around it.
    pub(crate) around: Rect,
    /// The rectangles inside it that have to be cut out first; none where it is cut from edge to edge at once.
    pub(crate) inside: &'a [Rect],
    /// What cuts destroy.
    pub(crate) kerf: Length,
}

/// Width and height as read: "3 1/2 x 4 in".
pub(crate) fn size_words(size: Size, unit: Unit) -> String {
    let (width, height) = (size.width().readable(unit), size.height().readable(unit));
    match (width.rsplit_once(' '), height.rsplit_once(' ')) {
        (Some((number, a)), Some((_, b))) if a == b => format!("{number} x {height}"),
        _ => format!("{width} x {height}"),
    }
}

impl Words<'_> {
    /// All steps for one blank; `part` names what a placement is.
    pub(crate) fn blank(&self, paper: &Leftover, plan: &LeftoverPlan, part: &dyn Fn(usize) -> String) -> Vec<CutStep> {
        let mut steps = Vec::new();
        match paper {
            Leftover::Rect(rect) if self.inside.contains(rect) => steps.push(self.free(*rect)),
            _ => {}
        }
        steps.extend(plan.openings.iter().map(|opening| self.opening(*opening)));
        for body in &plan.bodies {
            match &body.paper {
                Paper::Part(placement) => steps.push(self.as_it_is(body.rect, &part(*placement))),
                paper => self.paper(paper, part, &mut steps),
            }
        }
        steps
    }

    /// An offcut that is a part, or nearly: `rect` is the part's own.
    pub(crate) fn whole(&self, part: &str, size: Size, is_same: bool) -> CutStep {
        let sentence = if is_same {
            format!("{} is \"{part}\" as it is.", self.name)
        } else {
            format!("{}: trim it to \"{part}\", {} around.", self.name, size_words(size, self.unit))
        };
        CutStep { sentence, line: None }
    }

    fn free(&self, rect: Rect) -> CutStep {
        let (left, top) = (rect.left() - self.around.left(), rect.top() - self.around.top());
        let [left, top] = [left, top].map(|length| length.readable(self.unit));
        let size = size_words(rect.size, self.unit);
        let sentence =
            format!("{}: cut out a rectangle of {size}, {left} from its left and {top} from its top.", self.name);
        CutStep { sentence, line: None }
    }

    fn as_it_is(&self, rect: Rect, part: &str) -> CutStep {
        let sentence = format!("{} is \"{part}\" as it is.", self.called(rect));
        CutStep { sentence, line: None }
    }

    fn opening(&self, Opening { from, to }: Opening) -> CutStep {
        let (left, top) = (from.x - self.around.left(), from.y - self.around.top());
        let [left, top] = [left, top].map(|length| length.readable(self.unit));
        let (way, where_to) = match (to.x.cmp(&from.x), to.y.cmp(&from.y)) {
            (std::cmp::Ordering::Less, _) => (Way::Level, "left"),
            (std::cmp::Ordering::Greater, _) => (Way::Level, "right"),
            (_, std::cmp::Ordering::Less) => (Way::Upright, "up"),
            _ => (Way::Upright, "down"),
        };
        let corner = format!("the inner corner {left} from its left and {top} from its top");
        let sentence = format!("{}: cut from {corner} straight {where_to} to the edge.", self.name);
        CutStep { sentence, line: Some(CutLine { paper: self.around, way, from, to, kerf: self.kerf }) }
    }

    /// A cut, then those in what lies before it, then those in what lies behind.
    fn paper(&self, paper: &Paper, part: &dyn Fn(usize) -> String, steps: &mut Vec<CutStep>) {
        let Paper::Cut(cut) = paper else { return };
        steps.push(self.cut(cut, part));
        self.paper(&cut.first, part, steps);
        if let Some(second) = &cut.second {
            self.paper(second, part, steps);
        }
    }

    fn cut(&self, cut: &Cut, part: &dyn Fn(usize) -> String) -> CutStep {
        let rect = cut.paper;
        let (edges, way) = match cut.way {
            Way::Upright => (["left", "right"], "top to bottom"),
            Way::Level => (["top", "bottom"], "left to right"),
        };
        let (start, end) = match cut.way {
            Way::Upright => (rect.left(), rect.right()),
            Way::Level => (rect.top(), rect.bottom()),
        };
        let called = self.called(rect);
        let text = |length: Length| length.readable(self.unit);
        let is_trim = |paper: &Paper| matches!(paper, Paper::Trim(_));
        let sentence = if is_trim(&cut.first) {
            format!("{called}: trim {} off the {} edge.", text(cut.at - start), edges[0])
        } else if cut.second.as_deref().is_some_and(is_trim) {
            format!("{called}: trim {} off the {} edge.", text(end - cut.at), edges[1])
        } else {
            let distance = text(cut.at - start);
            format!("{called}: cut {distance} from the {} edge, {way}{}.", edges[0], gives(cut, part))
        };
        let (from, to) = match cut.way {
            Way::Upright => (Point::new(cut.at, rect.top()), Point::new(cut.at, rect.bottom())),
            Way::Level => (Point::new(rect.left(), cut.at), Point::new(rect.right(), cut.at)),
        };
        CutStep { sentence, line: Some(CutLine { paper: rect, way: cut.way, from, to, kerf: cut.kerf }) }
    }

    /// "Offcut 2", or "Offcut 2, the piece of 3 x 4 in" for less than all of it.
    fn called(&self, rect: Rect) -> String {
        if rect == self.around {
            self.name.to_owned()
        } else {
            format!("{}, the piece of {}", self.name, size_words(rect.size, self.unit))
        }
    }
}

/// What parts come off with a cut.
fn gives(cut: &Cut, part: &dyn Fn(usize) -> String) -> String {
    let sides = match cut.way {
        Way::Upright => ["on the left", "on the right"],
        Way::Level => ["above", "below"],
    };
    let papers = [Some(&cut.first), cut.second.as_ref()];
    let off = papers.into_iter().zip(sides).filter_map(|(paper, side)| match paper.map(|paper| &**paper) {
        Some(Paper::Part(placement)) => Some(format!("\"{}\" {side}", part(*placement))),
        _ => None,
    });
    let off: Vec<String> = off.collect();
    if off.is_empty() { String::new() } else { format!("; that gives {}", model::words::listed(off)) }
}
