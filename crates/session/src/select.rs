//! What is selected.

use model::{Document, Layout, LineId, Point, Stretch};

/// What the maker has picked out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Selected {
    /// Nothing.
    #[default]
    Nothing,
    /// A line, and where along it she pointed, if she did: the stretch there can be switched to a cut.
    Line {
        /// The line.
        id: LineId,
        /// The place.
        at: Option<Point>,
    },
    /// A panel, by a point inside it.
    Panel(Point),
}

impl Selected {
    /// The line, when a line is selected.
    #[must_use]
    pub const fn line(self) -> Option<LineId> {
        match self {
            Self::Line { id, .. } => Some(id),
            _ => None,
        }
    }

    /// The same, or nothing when it is no longer there.
    #[must_use]
    pub fn still_in(self, document: &Document) -> Self {
        match self {
            Self::Line { id, .. } if document.line(id).is_none() => Self::Nothing,
            other => other,
        }
    }

    /// The stretch of the selected line that lies nearest to where she pointed.
    #[must_use]
    pub fn stretch(self, layout: &Layout) -> Option<&Stretch> {
        let Self::Line { id, at: Some(at) } = self else { return None };
        let distance = |stretch: &&Stretch| {
            let middle = |a: model::Length, b: model::Length| (a + b).half();
            let (a, b) = (stretch.segment.a, stretch.segment.b);
            let inside = (a - at).dot(b - at) <= 0;
            let way = Point::new(middle(a.x, b.x), middle(a.y, b.y)) - at;
            (!inside, way.dot(way))
        };
        let own = layout.stretches.iter().filter(|stretch| stretch.lines.contains(&id) && stretch.work.is_some());
        own.min_by_key(distance)
    }
}
