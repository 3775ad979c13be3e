//! What is selected.

use model::{Document, Layout, LineId, PartId, Point, Stretch};
use std::collections::BTreeSet;

/// All that is selected: one thing that is shown in detail, and the lines chosen along with it.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Selection {
    main: Selected,
    /// Further lines as they were chosen; never the main one, and none while the main thing is no line.
    also: Vec<LineId>,
}

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
    /// A part.
    Part(PartId),
}

impl From<Selected> for Selection {
    fn from(main: Selected) -> Self {
        Self { main, also: Vec::new() }
    }
}

impl FromIterator<LineId> for Selection {
    fn from_iter<T: IntoIterator<Item = LineId>>(lines: T) -> Self {
        lines.into_iter().fold(Self::default(), |selection, id| selection.toggled(id, None))
    }
}

impl Selection {
    /// The thing that is shown in detail.
    #[must_use]
    pub const fn main(&self) -> Selected {
        self.main
    }

    /// Every line that is selected.
    #[must_use]
    pub fn lines(&self) -> BTreeSet<LineId> {
        self.main.line().into_iter().chain(self.also.iter().copied()).collect()
    }

    /// The line that was chosen first.
    #[must_use]
    pub fn first(&self) -> Option<LineId> {
        self.also.first().copied().or(self.main.line())
    }

    /// Whether a line is selected, alone or along with others.
    #[must_use]
    pub fn contains(&self, id: LineId) -> bool {
        self.main.line() == Some(id) || self.also.contains(&id)
    }

    /// Takes a line in, as the one shown in detail, or lets go of it when it is in.
    #[must_use]
    pub fn toggled(mut self, id: LineId, at: Option<Point>) -> Self {
        if let Some(at) = self.also.iter().position(|&other| other == id) {
            self.also.remove(at);
            return self;
        }
        match self.main.line() {
            Some(main) if main == id => {
                // The one chosen before it is shown now; where she pointed on it is not known any more.
                let next = self.also.pop();
                self.main = next.map_or(Selected::Nothing, |id| Selected::Line { id, at: None });
            }
            main => {
                self.also.extend(main);
                self.main = Selected::Line { id, at };
            }
        }
        self
    }

    /// The same without what is no longer there.
    #[must_use]
    pub fn still_in(mut self, document: &Document) -> Self {
        self.also.retain(|&id| document.line(id).is_some());
        if self.main.still_in(document) != self.main {
            let next = self.also.pop();
            self.main = next.map_or(Selected::Nothing, |id| Selected::Line { id, at: None });
        }
        self
    }
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

    /// The part, when a part is selected.
    #[must_use]
    pub const fn part(self) -> Option<PartId> {
        match self {
            Self::Part(id) => Some(id),
            _ => None,
        }
    }

    /// The same, or nothing when it is no longer there.
    #[must_use]
    pub fn still_in(self, document: &Document) -> Self {
        match self {
            Self::Line { id, .. } if document.line(id).is_none() => Self::Nothing,
            Self::Part(id) if document.part(id).is_none() => Self::Nothing,
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

#[cfg(test)]
mod tests {
    use super::*;
    use model::change::{add_line, measured_score};
    use model::{Edit, Length, Size, Turn, Unit};

    fn line(id: u32) -> Selected {
        Selected::Line { id: LineId(id), at: None }
    }

    /// Toggles lines one after another, from nothing selected.
    #[track_caller]
    fn check(toggled: &[u32], main: Selected, lines: &[u32]) {
        let found: Selection = toggled.iter().copied().map(LineId).collect();
        assert_eq!(found.main(), main);
        assert_eq!(found.lines(), lines.iter().map(|&id| LineId(id)).collect());
    }

    #[test]
    fn lines_are_taken_in_and_let_go_of() {
        check(&[1], line(1), &[1]);
        check(&[1, 2, 3], line(3), &[1, 2, 3]);
        check(&[1, 2, 3, 2], line(3), &[1, 3]);
        check(&[1, 2, 3, 3], line(2), &[1, 2]);
        check(&[1, 1], Selected::Nothing, &[]);
    }

    #[test]
    fn the_first_that_was_chosen_is_known() {
        let first = |toggled: &[u32]| toggled.iter().copied().map(LineId).collect::<Selection>().first();
        assert_eq!(
            (first(&[3, 1, 2]), first(&[3, 1, 3]), first(&[2])),
            (Some(LineId(3)), Some(LineId(1)), Some(LineId(2)))
        );
        assert_eq!((first(&[3, 1, 2, 2]), first(&[])), (Some(LineId(3)), None));
    }

    #[test]
    fn a_line_beside_a_panel_takes_its_place() {
        let panel = Selection::from(Selected::Panel(Point::new(Length::INCH, Length::INCH)));
        assert_eq!(panel.toggled(LineId(1), None).main(), line(1));
    }

    #[test]
    fn lines_that_are_gone_are_not_selected() {
        let mut document = Document::new(Size::parse("12x12in").unwrap(), Unit::Inch);
        for id in 1..=3 {
            let score = measured_score(LineId(id), Turn::None, Length::INCH * i64::from(id));
            document.apply(add_line(&document, score)).unwrap();
        }
        let all: Selection = (1..=3).map(LineId).collect();
        document.apply(Edit::RemoveLine(LineId(3))).unwrap();
        let left = all.still_in(&document);
        assert_eq!((left.main(), left.lines().len()), (line(2), 2));
    }
}
