//! Any leftovers and parts: a fault or a plan in which every part lies on its paper and none on another, the same each time.

use crate::bytes::Bytes;
use model::{Length, Point, Size};
use nest::{Effort, Goal, Knife, Leftover, Part, Rect, Task, Turning, extra_sheets, nest};

pub(crate) fn run(data: &[u8]) {
    let mut bytes = Bytes(data);
    let task = task(&mut bytes);
    match nest(&task) {
        Ok(plan) => {
            assert!(plan.placements.len() <= task.parts.iter().map(|part| part.count as usize).sum());
            for (number, one) in plan.placements.iter().enumerate() {
                let others = plan.placements.iter().skip(number + 1).filter(|other| other.leftover == one.leftover);
                others.for_each(|other| assert!(!overlap(one.rect, other.rect), "{one:?} {other:?}"));
            }
        }
        Err(fault) => assert!(!fault.to_string().is_empty()),
    }
    let sheet = Size::parse("300x300mm").expect("a size");
    drop(extra_sheets(&task.parts, sheet, task.knife, Effort { steps: 100_000 }));
}

fn overlap(a: Rect, b: Rect) -> bool {
    a.left() < b.right() && b.left() < a.right() && a.top() < b.bottom() && b.top() < a.bottom()
}

fn task(bytes: &mut Bytes<'_>) -> Task {
    let kerf = Length::from_nm(i64::from(bytes.byte()) * 9_999);
    let edge = Length::from_nm(i64::from(bytes.byte()) * 9_999 - 100_000);
    Task {
        knife: Knife { kerf, edge },
        goal: bytes.pick(&[Goal::Area, Goal::Worth, Goal::Pieces]),
        leftovers: (0..bytes.below(5)).map(|_| leftover(bytes)).collect(),
        parts: (0..bytes.below(9)).map(|_| part(bytes)).collect(),
        effort: Effort { steps: 100_000 },
    }
}

fn size(bytes: &mut Bytes<'_>) -> Size {
    Size::new(bytes.length(), bytes.length()).unwrap_or_else(|| Size::parse("2x3in").expect("a size"))
}

fn part(bytes: &mut Bytes<'_>) -> Part {
    let (size, count) = (size(bytes), u32::from(bytes.byte() % 6));
    let turning = bytes.pick(&[Turning::Quarter, Turning::Kept]);
    Part { size, turning, count, least: u32::from(bytes.byte() % 3), worth: u32::from(bytes.byte()) }
}

fn leftover(bytes: &mut Bytes<'_>) -> Leftover {
    match bytes.below(3) {
        0 => Leftover::of_size(size(bytes)),
        1 => {
            let corner = Point::new(bytes.length(), bytes.length());
            Leftover::Rect(Rect { corner, size: size(bytes) })
        }
        _ => {
            let mut outline: Vec<Point> = Vec::new();
            for _ in 0..bytes.below(8) {
                let point =
                    Point::new(Length::INCH * i64::from(bytes.byte() % 6), Length::INCH * i64::from(bytes.byte() % 6));
                let before = outline.last().copied().unwrap_or(point);
                outline.extend([Point::new(point.x, before.y), point]);
            }
            if let (Some(&first), Some(&last)) = (outline.first(), outline.last()) {
                outline.push(Point::new(first.x, last.y));
            }
            Leftover::Outline(outline)
        }
    }
}
