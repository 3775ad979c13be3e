//! What is asked: leftovers, wanted parts, the knife, and what makes one plan better than another. Whether it makes
//! sense is for `fault.rs`.

use model::{Area, Length, Point, Size};

/// Whether a part may be cut with its width along the leftover's height.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub enum Turning {
    /// Only as it is given: its pattern or grain has a direction.
    Kept,
    /// Also turned by a quarter.
    #[default]
    Quarter,
}

/// A wanted rectangle.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Part {
    /// Width and height as they lie when the part is not turned.
    pub size: Size,
    /// Whether it may be turned.
    pub turning: Turning,
    /// How many are wanted, at most.
    pub count: u32,
    /// How many have to be there before anything else counts; at most `count`.
    pub least: u32,
    /// What one is worth under [`Goal::Worth`]; the other goals don't look at it.
    pub worth: u32,
}

impl Part {
    /// So many of one size, which may be turned, none of which has to be there.
    #[must_use]
    pub const fn new(size: Size, count: u32) -> Self {
        Self { size, turning: Turning::Quarter, count, least: 0, worth: 1 }
    }
}

/// An upright rectangle somewhere on a sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Rect {
    /// The top left corner.
    pub corner: Point,
    /// Width and height.
    pub size: Size,
}

impl Rect {
    /// A rectangle with its top left corner where both lengths are nothing.
    #[must_use]
    pub const fn at_origin(size: Size) -> Self {
        Self { corner: Point::new(Length::ZERO, Length::ZERO), size }
    }

    /// The rectangle between two edges each way; `None` when there is nothing between them.
    #[must_use]
    pub fn between(left: Length, top: Length, right: Length, bottom: Length) -> Option<Self> {
        Some(Self { corner: Point::new(left, top), size: Size::new(right - left, bottom - top)? })
    }

    /// The left edge.
    #[must_use]
    pub const fn left(self) -> Length {
        self.corner.x
    }

    /// The top edge.
    #[must_use]
    pub const fn top(self) -> Length {
        self.corner.y
    }

    /// The right edge.
    #[must_use]
    pub fn right(self) -> Length {
        self.corner.x + self.size.width()
    }

    /// The bottom edge.
    #[must_use]
    pub fn bottom(self) -> Length {
        self.corner.y + self.size.height()
    }

    /// The area.
    #[must_use]
    pub const fn area(self) -> Area {
        self.size.area()
    }
}

/// Paper that is left.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Leftover {
    /// A rectangle.
    Rect(Rect),
    /// A closed outline of level and upright edges, such as an L, in either direction and without holes. It is first
    /// cut into rectangles from its inner corners.
    Outline(Vec<Point>),
}

impl Leftover {
    /// A rectangle of that size.
    #[must_use]
    pub const fn of_size(size: Size) -> Self {
        Self::Rect(Rect::at_origin(size))
    }
}

/// What cutting takes besides the parts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Knife {
    /// The width of paper that every cut destroys; nothing for a trimmer's blade. It is also the allowance between two
    /// parts.
    pub kerf: Length,
    /// How much of every edge of a leftover is trimmed off before it is used; nothing when the edges are clean.
    pub edge: Length,
}

/// What makes one plan better than another, once the least of every part is there. Among plans as good as each other
/// fewer cuts are better, and then a larger remainder.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub enum Goal {
    /// The most area in parts.
    #[default]
    Area,
    /// The most worth.
    Worth,
    /// The most parts.
    Pieces,
}

/// How much work may go into a plan: steps of a fixed size, not time, so that the plan is the same everywhere.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Effort {
    /// About so many additions and comparisons.
    pub steps: u64,
}

impl Default for Effort {
    /// About a second at most on one core of a common machine; small tasks need far less.
    fn default() -> Self {
        Self { steps: 300_000_000 }
    }
}

/// All that is asked.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Task {
    /// The paper there is. A pattern or grain direction is taken to be upright in all of it.
    pub leftovers: Vec<Leftover>,
    /// The parts wanted.
    pub parts: Vec<Part>,
    /// What cutting takes.
    pub knife: Knife,
    /// What is wanted most.
    pub goal: Goal,
    /// How much work may go into it.
    pub effort: Effort,
}
