//! The cut list: each cut in a sentence that a person can follow with knife and ruler.

use crate::corner::{Border, CornerShape, Which};
use crate::document::Document;
use crate::geometry::Point;
use crate::layout::{CornerTaken, CornerWork, Layout, Panel, PanelId};
use crate::length::Length;
use crate::line::{Line, LineId, Notch, Place, Spot, Stop, Strip, StripSide, Work};
use crate::resolve::{Placed, Segment};
use crate::turn::Turn;
use crate::words::listed;
use std::collections::BTreeSet;

/// One cut.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CutStep {
    /// The line; `None` for corners.
    pub line: Option<LineId>,
    /// What it is listed under.
    pub under: Under,
    /// What to do, in a sentence.
    pub sentence: String,
}

/// What cuts are listed under.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Under {
    /// How the sheet lies on the board.
    Turn(Turn),
    /// As the sheet is drawn, straight from mark to mark.
    Ruler,
    /// Arcs, which no ruler follows.
    Curves,
    /// Corners that are rounded or clipped.
    Corners,
}

impl Under {
    /// How the sheet lies for it; `None` where that is no matter.
    #[must_use]
    pub const fn turn(self) -> Option<Turn> {
        if let Self::Turn(turn) = self { Some(turn) } else { None }
    }

    /// The heading over such cuts; `turned` says how the sheet lies.
    #[must_use]
    pub fn heading(self, turned: impl FnOnce(Turn) -> String) -> String {
        match self {
            Self::Turn(turn) => turned(turn),
            Self::Ruler => "As drawn, along a ruler".to_owned(),
            Self::Curves => "Curves, as drawn".to_owned(),
            Self::Corners => "Corners, as drawn".to_owned(),
        }
    }
}

/// The cut list: turn by turn from left to right, then what is cut along a ruler, then curves, then corners. All distances
/// are from the sheet's uncut edges, so everything is to be marked before the first cut.
#[must_use]
pub fn cut_list(document: &Document, layout: &Layout) -> Vec<CutStep> {
    let mut cuts: Vec<(&Line, Placed)> = Vec::new();
    for line in document.lines.iter().filter(|line| line.work.is_cut()) {
        cuts.extend(layout.lines.get(&line.id).and_then(|placed| placed.ok()).map(|placed| (line, placed)));
    }
    // What has no turn comes last.
    let order = |placed: &Placed| (placed.on_board().is_none(), is_curved(placed), placed.on_board(), placed.from);
    cuts.sort_by_key(|(line, placed)| (order(placed), line.id));
    let step = |(line, placed): &(&Line, Placed)| CutStep {
        line: Some(line.id),
        under: under(placed),
        sentence: Words { document, layout, line, placed }.sentence(),
    };
    let corner = |sentence| CutStep { line: None, under: Under::Corners, sentence };
    let corners = layout.corners.iter().flat_map(|work| corner_sentences(document, layout, work));
    cuts.iter().map(step).chain(corners.map(corner)).collect()
}

fn under(placed: &Placed) -> Under {
    match placed.on_board() {
        Some((turn, _)) => Under::Turn(turn),
        None if is_curved(placed) => Under::Curves,
        None => Under::Ruler,
    }
}

fn is_curved(placed: &Placed) -> bool {
    placed.bow != Length::ZERO
}

struct Words<'a> {
    document: &'a Document,
    layout: &'a Layout,
    line: &'a Line,
    placed: &'a Placed,
}

impl Words<'_> {
    fn sentence(&self) -> String {
        let way = self.way();
        match self.line.work {
            Work::Slot(strip) | Work::Trim(strip) => self.strip(&way, strip),
            Work::Notch(notch) => self.notch(&way, notch),
            Work::Cut | Work::Score(_) | Work::Guide => format!("Cut {way}{}: {}.", self.curve(), self.parted()),
        }
    }

    fn text(&self, length: Length) -> String {
        length.readable(self.document.units)
    }

    /// Where the knife goes: "from the upper edge down the 3 in score to the first cross score".
    fn way(&self) -> String {
        match self.line.place {
            Place::Drawn { from, to, .. } => {
                let Segment { a, b } = self.placed.segment;
                format!("from {} to {}", self.spot(from, a), self.spot(to, b))
            }
            place => {
                let run = place.run();
                let (start, end) = (self.stop(run.from, true), self.stop(run.to, false));
                format!("from {start} {} to {end}", self.track())
            }
        }
    }

    /// "down the 3 in score", or "down, 3 in from the left edge" where there is none.
    fn track(&self) -> String {
        let Some((_, across)) = self.placed.on_board() else {
            let host = self.line.place.hangs_on().next().map(|id| self.document.line_name(id)).unwrap_or_default();
            return format!("along \"{host}\"");
        };
        let scored = self.document.lines.iter().any(|other| {
            let placed = self.layout.lines.get(&other.id).and_then(|placed| placed.ok());
            let same = placed.is_some_and(|placed| self.same_track(&placed));
            other.work.is_score() && same
        });
        let across_text = self.text(across);
        if across == Length::ZERO {
            "down the left edge".to_owned()
        } else if scored {
            format!("down the {across_text} score")
        } else {
            format!("straight down, {across_text} from the left edge,")
        }
    }

    fn same_track(&self, other: &Placed) -> bool {
        let (size, a, b) = (self.layout.size, other.segment.a, other.segment.b);
        match (self.placed.on_board(), other.on_board()) {
            (Some((turn, across)), Some(_)) => [a, b].iter().all(|&at| turn.to_board(at, size).across == across),
            _ => false,
        }
    }

    /// Where a run starts or ends.
    fn stop(&self, stop: Stop, starts: bool) -> String {
        let name = |id| self.document.line_name(id);
        match stop {
            Stop::Edge if self.placed.on_board().is_none() => if starts { "its start" } else { "its end" }.to_owned(),
            Stop::Edge => if starts { "the upper edge" } else { "the lower edge" }.to_owned(),
            Stop::At(at) if self.placed.on_board().is_none() => format!("{} from its start", self.text(at)),
            Stop::At(at) => format!("{} below the upper edge", self.text(at)),
            Stop::Past(id, by) => {
                let (before, after) =
                    if self.placed.on_board().is_some() { ("above", "below") } else { ("before", "beyond") };
                let word = if by < Length::ZERO { before } else { after };
                format!("{} {word} \"{}\"", self.text(by.abs()), name(id))
            }
            Stop::Line(id) => match self.cross_score(id) {
                Some(which) => format!("the {which} cross score ({})", self.called(id)),
                None => format!("\"{}\"", name(id)),
            },
        }
    }

    /// A line's name; with its distance where it has but a number, which could be taken for that of a step.
    fn called(&self, id: LineId) -> String {
        let name = format!("\"{}\"", self.document.line_name(id));
        let unnamed = self.document.line(id).is_some_and(|line| line.name.is_empty());
        let placed = self.layout.lines.get(&id).and_then(|placed| placed.ok());
        match placed.and_then(|placed| placed.on_board()).filter(|_| unnamed) {
            Some((_, across)) => format!("{name}, {}", self.text(across)),
            None => name,
        }
    }

    /// Which of the scores across the way a line is, from the top: "first", "second", "last".
    fn cross_score(&self, id: LineId) -> Option<&'static str> {
        const COUNTED: [&str; 4] = ["first", "second", "third", "fourth"];
        let size = self.layout.size;
        let mut places = BTreeSet::new();
        for other in self.document.lines.iter().filter(|other| other.work.is_score()) {
            let Some(Ok(placed)) = self.layout.lines.get(&other.id) else { continue };
            // Only those that reach the way, and where there is a way.
            let Some(at) = self.placed.track.crossing(placed.track, size) else { continue };
            let (down, along) = (self.placed.down(at, size), placed.down(at, size));
            if (Length::ZERO..=self.placed.reach(size)).contains(&down) && (placed.from..=placed.to).contains(&along) {
                places.insert(down);
            }
        }
        let Some(Ok(placed)) = self.layout.lines.get(&id) else { return None };
        self.document.line(id).filter(|line| line.work.is_score())?;
        let own = self.placed.down(self.placed.track.crossing(placed.track, size)?, size);
        let rank = places.iter().position(|&place| place == own)?;
        if rank + 1 == places.len() && rank > 0 { Some("last") } else { COUNTED.get(rank).copied() }
    }

    /// A spot, by where it lies on the sheet as drawn.
    fn spot(&self, spot: Spot, at: Point) -> String {
        let name = |id| self.document.line_name(id);
        let place = format!("{} from the left and {} from the top edge", self.text(at.x), self.text(at.y));
        match spot {
            Spot::At(_) => format!("the spot {place}"),
            Spot::Crossing(a, b) => format!("where \"{}\" crosses \"{}\"", name(a), name(b)),
            Spot::On(line, _) => format!("the spot on \"{}\" {place}", name(line)),
        }
    }

    fn curve(&self) -> String {
        match self.placed.bow {
            Length::ZERO => String::new(),
            bow => format!(" in an arc that rises {} {}", self.text(bow.abs()), self.side(bow > Length::ZERO)),
        }
    }

    /// Which side of the line is meant: of a line on the board "to the left", as it lies there; of a drawn one "towards
    /// the top edge", as the sheet is drawn, since no way that it lies makes that line run down.
    fn side(&self, left: bool) -> &'static str {
        match (self.placed.on_board(), left) {
            (Some(_), true) => return "to the left",
            (Some(_), false) => return "to the right",
            (None, _) => {}
        }
        let way = self.placed.segment.b - self.placed.segment.a;
        let to = way.to_left(if left { Length::INCH } else { -Length::INCH });
        match (to.x.abs() > to.y.abs(), to.x > Length::ZERO, to.y > Length::ZERO) {
            (true, true, _) => "towards the right edge of the sheet",
            (true, false, _) => "towards the left edge of the sheet",
            (false, _, true) => "towards the bottom edge of the sheet",
            (false, _, false) => "towards the top edge of the sheet",
        }
    }

    /// What lies to the left and to the right of the way.
    fn beside(&self) -> [Vec<&Panel>; 2] {
        let mut sides: [BTreeSet<usize>; 2] = Default::default();
        let own = self.layout.stretches.iter().filter(|stretch| stretch.lines.contains(&self.line.id));
        let way = self.placed.segment.b - self.placed.segment.a;
        for stretch in own {
            let along = stretch.segment.b - stretch.segment.a;
            if way.dot(along).abs() < way.cross(along).abs() {
                // The end of a strip, which lies across the way.
                continue;
            }
            // Along the line's own way the sides are as they are; against it they are swapped.
            let along = way.dot(stretch.segment.b - stretch.segment.a) > 0;
            // As a walker has them: the left of one who goes down the sheet is the maker's right.
            let [left, right] = stretch.sides;
            let maker = if along { [right, left] } else { [left, right] };
            for (side, panel) in sides.iter_mut().zip(maker) {
                side.extend(panel.map(|panel| panel.0));
            }
        }
        sides.map(|side| side.into_iter().map(|panel| &self.layout.panels[panel]).collect())
    }

    /// What stays and what comes off: "the Left flap stays, Offcut 1 comes off".
    fn parted(&self) -> String {
        let [left, right] = self.beside();
        let mut stays = BTreeSet::new();
        let mut off = BTreeSet::new();
        for panel in left.into_iter().chain(right) {
            let piece = &self.layout.pieces[panel.piece.0];
            if piece.is_folio {
                stays.insert(panel.name.as_str())
            } else {
                off.insert(piece.name.as_str())
            };
        }
        let the = |names: &BTreeSet<&str>| listed(names.iter().map(|name| format!("the {name}")));
        let plain = |names: &BTreeSet<&str>| listed(names.iter().map(|name| (*name).to_owned()));
        match (stays.len(), off.len()) {
            (0, 0) => "nothing is parted by it".to_owned(),
            (0, 1) => format!("{} is cut into", plain(&off)),
            (0, _) => format!("{} are parted", plain(&off)),
            (1, 0) => format!("{} is cut into and stays whole", the(&stays)),
            (_, 0) => format!("{} are parted here and stay", the(&stays)),
            (kept, gone) => {
                let (stay, come) = (if kept == 1 { "stays" } else { "stay" }, if gone == 1 { "comes" } else { "come" });
                format!("{} {stay}, {} {come} off", the(&stays), plain(&off))
            }
        }
    }

    fn strip(&self, way: &str, strip: Strip) -> String {
        let width = self.text(strip.width);
        let [left, right] = self.beside();
        let of_line = |side: &str| {
            if self.placed.on_board().is_some() {
                format!("{side} of the line")
            } else {
                format!("from the line {side}")
            }
        };
        let (side, on) = match strip.side {
            StripSide::Left => (of_line(self.side(true)), left),
            StripSide::Right => (of_line(self.side(false)), right),
            StripSide::Centred => ("half on either side of the line".to_owned(), Vec::new()),
        };
        let names: BTreeSet<String> = on.iter().map(|panel| self.stays(panel)).collect();
        let on = if names.is_empty() { String::new() } else { format!(", on the side of {}", listed(names)) };
        match self.line.work {
            Work::Trim(_) => format!("Trim off a hairline of {width} {way}, {side}{on}."),
            _ => format!("Cut out a strip {width} wide {way}, {side}{on}."),
        }
    }

    /// A panel with whether it stays: "the Left flap that stays", "Offcut 2".
    fn stays(&self, panel: &Panel) -> String {
        let piece = &self.layout.pieces[panel.piece.0];
        if piece.is_folio { format!("the {}, which stays", panel.name) } else { piece.name.clone() }
    }

    fn notch(&self, way: &str, notch: Notch) -> String {
        let side = self.side(notch.to_left);
        let side = if self.placed.on_board().is_some() { format!("{side} of the line") } else { side.to_owned() };
        format!("Cut out a thumb notch {way}, {} deep, {side}.", self.text(notch.depth))
    }
}

/// What is done with corners by one thing that is said of them: in one sentence where it is all that are meant, else in one
/// for each.
fn corner_sentences(document: &Document, layout: &Layout, work: &CornerWork) -> Vec<String> {
    let Some(corner) = document.corners.get(work.by) else { return Vec::new() };
    let measure = corner.shape.measure().readable(document.units);
    let (verb, how) = match corner.shape {
        CornerShape::Square => return Vec::new(),
        CornerShape::Round(_) => ("Round", format!(" with a radius of {measure}.")),
        CornerShape::Clip(_) => ("Clip", format!(", {measure} along both sides.")),
    };
    let border = |border: Border| match border {
        Border::Edge(edge) => format!("the sheet's {} edge", edge.word()),
        Border::Line(id) => format!("\"{}\"", document.line_name(id)),
    };
    // Panels of an offcut have no names that a maker has seen.
    let panel = |id: PanelId| {
        let panel = layout.panel(id);
        let piece = &layout.pieces[panel.piece.0];
        if piece.is_folio { format!("the {}", panel.name) } else { piece.name.clone() }
    };
    let first = work.corners.first().map(|taken| taken.panel);
    match (corner.which, first) {
        (Which::AllOfPanel, Some(first)) if work.all => {
            vec![format!("{verb} all free corners of {}{how}", panel(first))]
        }
        (Which::AllOfPiece, Some(first)) if work.all => {
            let piece = &layout.pieces[layout.panel(first).piece.0];
            let name = if piece.is_folio { "the folio".to_owned() } else { piece.name.clone() };
            vec![format!("{verb} all free corners of {name}{how}")]
        }
        _ => {
            let one = |taken: &CornerTaken| {
                let [a, b] = taken.between.map(border);
                format!("{verb} the corner of {} between {a} and {b}{how}", panel(taken.panel))
            };
            work.corners.iter().map(one).collect()
        }
    }
}
