//! Where a line's run starts and ends: the ways to say it, each leaving the line as it lies.

use model::{Document, Edit, Layout, Length, Line, LineId, Place, Run, Stop};

/// One end of a run.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum RunEnd {
    /// Where it starts.
    Start,
    /// Where it ends.
    End,
}

/// How a stop is said, without its figures.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum StopKind {
    /// At the sheet's edge, or the end of the line that it lies along.
    Edge,
    /// At a distance.
    At,
    /// Where another line crosses the way.
    Line,
    /// So far past a line that crosses the way.
    Past,
}

impl RunEnd {
    /// The stop at this end.
    #[must_use]
    pub const fn of(self, run: Run) -> Stop {
        match self {
            Self::Start => run.from,
            Self::End => run.to,
        }
    }

    const fn put(self, run: Run, stop: Stop) -> Run {
        match self {
            Self::Start => Run { from: stop, ..run },
            Self::End => Run { to: stop, ..run },
        }
    }
}

impl StopKind {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::Edge, Self::At, Self::Line, Self::Past];

    /// How a stop is said.
    #[must_use]
    pub const fn of(stop: Stop) -> Self {
        match stop {
            Stop::Edge => Self::Edge,
            Stop::At(_) => Self::At,
            Stop::Line(_) => Self::Line,
            Stop::Past(..) => Self::Past,
        }
    }
}

/// The lines that cross a line's way on the sheet, each with how far down the way, from its start on. Lines that lie along
/// others are left out: what they lie along is there.
#[must_use]
pub fn crossing(document: &Document, layout: &Layout, id: LineId) -> Vec<(Length, LineId)> {
    let Some(Ok(own)) = layout.lines.get(&id) else { return Vec::new() };
    let reach = own.reach(layout.size);
    let cross = |other: &Line| {
        let placed = layout.lines.get(&other.id)?.ok()?;
        let straight = placed.bow == Length::ZERO && !matches!(other.place, Place::Along { .. });
        let point = own.track.crossing(placed.track, layout.size).filter(|_| straight && other.id != id)?;
        let down = own.down(point, layout.size);
        (Length::ZERO..=reach).contains(&down).then_some((down, other.id))
    };
    let mut found: Vec<(Length, LineId)> = document.lines.iter().filter_map(cross).collect();
    found.sort_unstable();
    found
}

/// The stop at an end of a line's run, said in another way but at the same place, or nearest to it at a line. `None` where
/// it can't be said so.
#[must_use]
pub fn said_as(document: &Document, layout: &Layout, id: LineId, end: RunEnd, kind: StopKind) -> Option<Stop> {
    let placed = layout.lines.get(&id)?.ok()?;
    let now = match end {
        RunEnd::Start => placed.from,
        RunEnd::End => placed.to,
    };
    let nearest = |leaves_some: bool| {
        let left = |down: Length| match end {
            RunEnd::Start => down < placed.to,
            RunEnd::End => down > placed.from,
        };
        let lines = crossing(document, layout, id).into_iter().filter(|(down, _)| !leaves_some || left(*down));
        lines.min_by_key(|(down, line)| ((*down - now).abs(), *line))
    };
    match kind {
        StopKind::Edge => Some(Stop::Edge),
        StopKind::At => Some(Stop::At(now)),
        StopKind::Line => nearest(true).map(|(_, line)| Stop::Line(line)),
        StopKind::Past => nearest(false).map(|(down, line)| Stop::Past(line, now - down)),
    }
}

/// Stops a line's run elsewhere. `None` for a drawn line, which has no run, and where nothing changes.
#[must_use]
pub fn set_stop(line: &Line, end: RunEnd, stop: Stop) -> Option<Edit> {
    let place = line.place.with_run(end.put(line.place.run(), stop));
    (place != line.place).then(|| Edit::ReplaceLine(Line { place, ..line.clone() }))
}

#[cfg(test)]
mod tests {
    use super::*;
    use model::change::{add_line, measured_score, perform};
    use model::{Size, Turn, Unit};

    /// An upright score 1 at 3 in, level ones 2 and 3 at 2 and 8 in, an upright one 4 at 9 in.
    fn document() -> Document {
        let mut document = Document::new(Size::parse("12x12in").unwrap(), Unit::Inch);
        for (id, turn, inches) in [(1, Turn::None, 3), (2, Turn::Once, 2), (3, Turn::Once, 8), (4, Turn::None, 9)] {
            document.apply(add_line(&document, measured_score(LineId(id), turn, Length::INCH * inches))).unwrap();
        }
        document
    }

    fn stopped(document: &Document, end: RunEnd, stop: Stop) -> Document {
        let edit = set_stop(document.line(LineId(1)).unwrap(), end, stop).unwrap();
        perform(document, &Layout::of(document), edit).unwrap().document
    }

    #[test]
    fn only_lines_across_the_way_are_offered() {
        let document = document();
        let found = crossing(&document, &Layout::of(&document), LineId(1));
        assert_eq!(found, [(Length::INCH * 2, LineId(2)), (Length::INCH * 8, LineId(3))]);
    }

    #[test]
    fn another_way_to_say_it_leaves_the_line_where_it_is() {
        let document = stopped(&document(), RunEnd::Start, Stop::At(Length::INCH * 3));
        let layout = Layout::of(&document);
        let segment = |document: &Document| Layout::of(document).lines[&LineId(1)].unwrap().segment;
        let said = |kind| said_as(&document, &layout, LineId(1), RunEnd::Start, kind).unwrap();
        assert_eq!(said(StopKind::At), Stop::At(Length::INCH * 3));
        assert_eq!(said(StopKind::Past), Stop::Past(LineId(2), Length::INCH));
        let past = stopped(&document, RunEnd::Start, said(StopKind::Past));
        assert_eq!(segment(&past), segment(&document));
    }

    #[test]
    fn a_line_stops_at_the_nearest_that_leaves_some_of_it() {
        let document = stopped(&document(), RunEnd::End, Stop::At(Length::INCH * 4));
        let said = |document: &Document, end| said_as(document, &Layout::of(document), LineId(1), end, StopKind::Line);
        assert_eq!(said(&document, RunEnd::End), Some(Stop::Line(LineId(2))));
        let short = stopped(&document, RunEnd::Start, Stop::Line(LineId(2)));
        assert_eq!(said(&short, RunEnd::End), Some(Stop::Line(LineId(3))), "not where it starts");
    }

    #[test]
    fn with_nothing_across_there_is_no_line_to_stop_at() {
        let mut document = Document::new(Size::parse("12x12in").unwrap(), Unit::Inch);
        document.apply(add_line(&document, measured_score(LineId(1), Turn::None, Length::INCH))).unwrap();
        let layout = Layout::of(&document);
        for kind in [StopKind::Line, StopKind::Past] {
            assert_eq!(said_as(&document, &layout, LineId(1), RunEnd::End, kind), None);
        }
        assert_eq!(set_stop(document.line(LineId(1)).unwrap(), RunEnd::End, Stop::Edge), None);
    }
}
