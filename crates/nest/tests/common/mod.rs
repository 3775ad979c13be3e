//! What every plan has to keep to, checked without the code that made it: cuts are replayed from the whole paper on.

#![allow(dead_code, reason = "each test uses some of it")]

use foliowright_nest::{Effort, Goal, Knife, Leftover, Paper, Part, Plan, Quality, Rect, Task, Turning, Way};
use model::polygon::{Inside, locate, signed_area};
use model::{Area, Length, Point, Size};

pub(crate) fn size(width: i64, height: i64) -> Size {
    Size::new(Length::from_nm(width), Length::from_nm(height)).unwrap()
}

pub(crate) fn part(width: i64, height: i64, count: u32) -> Part {
    Part::new(size(width, height), count)
}

/// A task about area, without a knife's kerf.
pub(crate) fn task(leftovers: &[(i64, i64)], parts: &[Part]) -> Task {
    Task {
        leftovers: leftovers.iter().map(|&(width, height)| Leftover::of_size(size(width, height))).collect(),
        parts: parts.to_vec(),
        knife: Knife::default(),
        goal: Goal::Area,
        effort: Effort::default(),
    }
}

/// Everything a plan promises, but for being the best.
#[track_caller]
pub(crate) fn keeps_its_promises(task: &Task, plan: &Plan) {
    let mut replay = Replay {
        task,
        plan,
        leftover: 0,
        parts: vec![0; plan.placements.len()],
        rests: vec![0; plan.remainders.len()],
    };
    let mut cuts = 0;
    for (leftover, how) in plan.leftovers.iter().enumerate() {
        replay.leftover = leftover;
        let (area, outline) = match &task.leftovers[leftover] {
            Leftover::Rect(rect) => (rect.area(), corners(*rect)),
            Leftover::Outline(outline) => {
                (signed_area(outline).max(Area::ZERO - signed_area(outline)), outline.clone())
            }
        };
        assert_eq!(how.area, area);
        if let Leftover::Rect(rect) = &task.leftovers[leftover] {
            assert_eq!(how.bodies.iter().map(|body| body.rect).collect::<Vec<_>>(), [*rect]);
        }
        apart(&how.bodies.iter().map(|body| body.rect).collect::<Vec<_>>());
        assert!(how.bodies.iter().all(|body| lies_in(body.rect, &outline)));
        let spent: Vec<(Area, Area, usize)> =
            how.bodies.iter().map(|body| replay.paper(&body.paper, body.rect)).collect();
        let bodies: Area = how.bodies.iter().map(|body| body.rect.area()).sum();
        if !how.bodies.is_empty() {
            assert_eq!(how.kerf, area - bodies + spent.iter().map(|spent| spent.0).sum());
            let of_leftover = plan.remainders.iter().filter(|rest| rest.leftover == leftover);
            let rests: Area = of_leftover.map(|rest| rest.rect.area()).sum();
            let placed = plan.placements.iter().filter(|placed| placed.leftover == leftover);
            let used: Area = placed.map(|placed| placed.rect.area()).sum();
            assert_eq!(used + rests + how.kerf + how.trim, area, "every bit of paper is accounted for");
        }
        assert_eq!(how.trim, spent.iter().map(|spent| spent.1).sum());
        cuts += how.openings.len() + spent.iter().map(|spent| spent.2).sum::<usize>();
        let here = plan.placements.iter().filter(|placed| placed.leftover == leftover);
        apart(&here.map(|placed| placed.rect).collect::<Vec<_>>());
    }
    assert!(replay.parts.iter().chain(&replay.rests).all(|&times| times == 1), "each leaf is cut once");
    assert_eq!(plan.cuts, cuts);
    counts(task, plan);
}

/// No more parts than wanted, turned only where that is allowed, and sums that are right.
#[track_caller]
fn counts(task: &Task, plan: &Plan) {
    let mut placed = vec![0; task.parts.len()];
    for placement in &plan.placements {
        let part = &task.parts[placement.part];
        let Rect { size: found, .. } = placement.rect;
        let turned = Size::new(part.size.height(), part.size.width()).unwrap();
        assert_eq!(found, if placement.turned { turned } else { part.size });
        assert!(!placement.turned || part.turning == Turning::Quarter);
        placed[placement.part] += 1;
    }
    for ((part, placed), missing) in task.parts.iter().zip(&placed).zip(&plan.missing) {
        assert_eq!(placed + missing, part.count);
    }
    assert_eq!(plan.has_least, task.parts.iter().zip(&placed).all(|(part, placed)| *placed >= part.least));
    assert_eq!(plan.used, plan.placements.iter().map(|placed| placed.rect.area()).sum());
    let reached: u128 = plan
        .placements
        .iter()
        .map(|placed| match task.goal {
            Goal::Area => placed.rect.area().half_nm2().unsigned_abs() / 2,
            Goal::Worth => task.parts[placed.part].worth.into(),
            Goal::Pieces => 1,
        })
        .sum();
    assert_eq!(plan.reached, reached);
    if let Quality::Found { bound } = plan.quality {
        assert!(bound >= reached || !plan.has_least, "{bound} {reached}");
    }
}

struct Replay<'a> {
    task: &'a Task,
    plan: &'a Plan,
    leftover: usize,
    parts: Vec<usize>,
    rests: Vec<usize>,
}

impl Replay<'_> {
    /// What cuts destroy, what is trimmed, and how many cuts there are in a rectangle of paper.
    fn paper(&mut self, paper: &Paper, rect: Rect) -> (Area, Area, usize) {
        match paper {
            Paper::Part(index) => {
                let placement = self.plan.placements[*index];
                assert_eq!((placement.rect, placement.leftover), (rect, self.leftover));
                self.parts[*index] += 1;
                (Area::ZERO, Area::ZERO, 0)
            }
            Paper::Remainder(index) => {
                let rest = self.plan.remainders[*index];
                assert_eq!((rest.rect, rest.leftover), (rect, self.leftover));
                self.rests[*index] += 1;
                (Area::ZERO, Area::ZERO, 0)
            }
            Paper::Trim(strip) => {
                assert_eq!(*strip, rect);
                let edge = self.task.knife.edge;
                assert!(rect.size.width() == edge || rect.size.height() == edge);
                (Area::ZERO, rect.area(), 0)
            }
            Paper::Cut(cut) => {
                assert_eq!(cut.paper, rect);
                let [l, t, r, b] = [rect.left(), rect.top(), rect.right(), rect.bottom()];
                let end = if cut.way == Way::Upright { r } else { b };
                let past = (cut.at + cut.kerf).min(end);
                let (first, second, lost) = match cut.way {
                    Way::Upright => (
                        Rect::between(l, t, cut.at, b),
                        Rect::between(past, t, r, b),
                        Rect::between(cut.at, t, past, b),
                    ),
                    Way::Level => (
                        Rect::between(l, t, r, cut.at),
                        Rect::between(l, past, r, b),
                        Rect::between(l, cut.at, r, past),
                    ),
                };
                let trims = [Some(&cut.first), cut.second.as_ref()];
                let trims = trims.into_iter().flatten().any(|paper| matches!(**paper, Paper::Trim(_)));
                let kerf = if trims { Length::ZERO } else { self.task.knife.kerf.min(end - cut.at) };
                assert_eq!(cut.kerf, kerf);
                assert!(cut.at < end, "a cut at the edge is none");
                let one = self.paper(&cut.first, first.expect("a cut leaves something before it"));
                assert_eq!(cut.second.is_some(), second.is_some());
                let nothing = (Area::ZERO, Area::ZERO, 0);
                let other = second.zip(cut.second.as_ref()).map_or(nothing, |(rect, paper)| self.paper(paper, rect));
                let lost = lost.map_or(Area::ZERO, Rect::area);
                (lost + one.0 + other.0, one.1 + other.1, 1 + one.2 + other.2)
            }
        }
    }
}

#[track_caller]
fn apart(rects: &[Rect]) {
    for (i, a) in rects.iter().enumerate() {
        for b in &rects[..i] {
            let beside = a.right() <= b.left() || b.right() <= a.left();
            assert!(beside || a.bottom() <= b.top() || b.bottom() <= a.top(), "{a:?} overlaps {b:?}");
        }
    }
}

fn corners(rect: Rect) -> Vec<Point> {
    let [l, t, r, b] = [rect.left(), rect.top(), rect.right(), rect.bottom()];
    vec![Point::new(l, t), Point::new(r, t), Point::new(r, b), Point::new(l, b)]
}

/// Whether a rectangle lies in an outline: its corners do, and no corner of the outline lies inside of it.
fn lies_in(rect: Rect, outline: &[Point]) -> bool {
    let inside = |&point: &Point| locate(point, outline, &[]) != Inside::No;
    let within = |point: &Point| {
        point.x > rect.left() && point.x < rect.right() && point.y > rect.top() && point.y < rect.bottom()
    };
    let middle = Point::new((rect.left() + rect.right()).half(), (rect.top() + rect.bottom()).half());
    corners(rect).iter().all(inside) && inside(&middle) && !outline.iter().any(within)
}
