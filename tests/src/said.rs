//! Ways to say where a line lies: on any turn on which it lies in a groove, along another line or from spot to spot, and up
//! to the sheet's edge, another line or so far.

use crate::dice::Dice;
use model::change::add_line;
use model::{Datum, Document, Length, Line, LineId, Place, Point, Run, Spot, Stop, Turn, Work};

/// Says lines of a design in one of several ways.
pub(crate) struct Sayer<'a> {
    pub(crate) document: &'a mut Document,
    pub(crate) dice: &'a mut Dice,
}

/// What a line is as it lies on the board.
struct OnBoard {
    turn: Turn,
    across: Length,
    from: Length,
    to: Length,
}

impl Sayer<'_> {
    /// A score between two ends, the upper or left one first; where there is one, it may be measured from another that is
    /// parallel to it.
    pub(crate) fn score(&mut self, ends: (Point, Point), other: Option<LineId>, work: Work) -> LineId {
        let groove = self.document.groove;
        let ways: Vec<OnBoard> = self.on_board(ends).filter(|way| way.across.is_multiple_of(groove)).collect();
        let pick = self.dice.below(ways.len());
        let way = ways.into_iter().nth(pick).expect("on one turn at least a score lies in a groove");
        let measured = other.filter(|_| self.dice.chance(60)).and_then(|other| {
            let across = self.across(other, way.turn)?;
            Some((Datum::Line(other), way.across - across))
        });
        let (from, distance) = measured.unwrap_or((Datum::Edge, way.across));
        let run = self.run(&way);
        self.add(Place::Measured { turn: way.turn, from, distance, run }, work)
    }

    /// A cut between two ends, the upper or left one first.
    pub(crate) fn cut(&mut self, ends: (Point, Point)) -> LineId {
        if self.dice.chance(20) {
            let [from, to] = if self.dice.chance(50) { [ends.0, ends.1] } else { [ends.1, ends.0] };
            return self.add(Place::Drawn { from: Spot::At(from), to: Spot::At(to), bow: Length::ZERO }, Work::Cut);
        }
        let ways: Vec<OnBoard> = self.on_board(ends).collect();
        let pick = self.dice.below(ways.len());
        let way = ways.into_iter().nth(pick).expect("there are two turns");
        let along = self.dice.chance(70).then(|| self.score_along(&ways_of(&self.document.lines), ends)).flatten();
        if let Some((line, turn)) = along {
            let way = self.on_turn(ends, turn);
            let run = self.run(&way);
            return self.add(Place::Along { line, run }, Work::Cut);
        }
        let run = self.run(&way);
        self.add(Place::Measured { turn: way.turn, from: Datum::Edge, distance: way.across, run }, Work::Cut)
    }

    fn add(&mut self, place: Place, work: Work) -> LineId {
        let id = self.document.next_line();
        let mut line = Line::new(id, place, work);
        if self.dice.chance(25) {
            line.name = format!("Line no. {}", id.0);
        }
        let edit = add_line(self.document, line);
        self.document.apply(edit).expect("a new line can be added");
        id
    }

    fn on_board(&self, ends: (Point, Point)) -> impl Iterator<Item = OnBoard> + use<> {
        let turns = if ends.0.x == ends.1.x { [Turn::None, Turn::Twice] } else { [Turn::Once, Turn::Thrice] };
        let ways = turns.map(|turn| self.on_turn(ends, turn));
        ways.into_iter()
    }

    /// As it lies when the sheet has been turned to the left so often.
    fn on_turn(&self, (a, b): (Point, Point), turn: Turn) -> OnBoard {
        let (wide, high) = (self.document.stock.size.width(), self.document.stock.size.height());
        let (across, from, to) = match turn {
            Turn::None => (a.x, a.y, b.y),
            Turn::Once => (a.y, wide - b.x, wide - a.x),
            Turn::Twice => (wide - a.x, high - b.y, high - a.y),
            Turn::Thrice => (high - a.y, a.x, b.x),
        };
        OnBoard { turn, across, from, to }
    }

    /// How far from the left edge a line lies on a turn; `None` for one that is not measured.
    fn across(&self, id: LineId, turn: Turn) -> Option<Length> {
        let Place::Measured { turn: its, from, distance, .. } = self.document.line(id)?.place else { return None };
        let own = match from {
            Datum::Edge => distance,
            Datum::Line(other) => self.across(other, its)? + distance,
        };
        let (wide, high) = (self.document.stock.size.width(), self.document.stock.size.height());
        let far = if turn.is_upright() { wide } else { high };
        match (its.is_upright() == turn.is_upright(), its == turn) {
            (false, _) => None,
            (true, true) => Some(own),
            (true, false) => Some(far - own),
        }
    }

    /// From a stop to a stop: the sheet's edge where it ends there, else a line that crosses its way there or so far.
    fn run(&mut self, way: &OnBoard) -> Run {
        let size = self.document.stock.size;
        let far = if way.turn.is_upright() { size.height() } else { size.width() };
        let [from, to] = [way.from, way.to].map(|down| {
            if down == Length::ZERO || down == far {
                return Stop::Edge;
            }
            // Down on one turn is across on the next but two.
            let crossing = if way.turn.is_upright() { Turn::Once } else { Turn::None };
            let at = match way.turn {
                Turn::None | Turn::Thrice => down,
                Turn::Once | Turn::Twice => far - down,
            };
            let meets = |line: &&Line| self.across(line.id, crossing) == Some(at);
            let meeting = self.document.lines.iter().find(meets).map(|line| line.id);
            match meeting.filter(|_| self.dice.chance(60)) {
                Some(line) => Stop::Line(line),
                None => Stop::At(down),
            }
        });
        Run { from, to }
    }

    /// A measured score on the line through two points, with its turn.
    fn score_along(&self, scores: &[(LineId, Turn)], (a, b): (Point, Point)) -> Option<(LineId, Turn)> {
        let upright = a.x == b.x;
        let lies = |&&(id, turn): &&(LineId, Turn)| {
            turn.is_upright() == upright && self.across(id, turn) == Some(self.on_turn((a, b), turn).across)
        };
        scores.iter().find(lies).copied()
    }
}

/// The measured scores, each with its turn.
fn ways_of(lines: &[Line]) -> Vec<(LineId, Turn)> {
    let score = |line: &Line| match line.place {
        Place::Measured { turn, .. } if line.work.is_score() => Some((line.id, turn)),
        _ => None,
    };
    lines.iter().filter_map(score).collect()
}
