//! What is said back to the maker: the scoring table and the cut list.

#![expect(clippy::unwrap_used, reason = "a test may fail")]

mod common;

use common::{Sketch, at, four_flaps, length, line};
use foliowright_model::board::scoring_table;
use foliowright_model::cutting::cut_list;
use foliowright_model::{
    Border, Corner, CornerShape, Crease, Datum, Direction, Document, Face, Layout, Length, LineId, Notch, Place, Run,
    SheetEdge, Spot, Stop, Strip, StripSide, Turn, Which, Work,
};

/// The table as face, turn, and distances in inches.
fn table(document: &Document) -> Vec<(Face, Turn, Vec<String>)> {
    let table = scoring_table(document, &Layout::of(document));
    let said = |across: &Length| across.text(document.units);
    table.turns.iter().map(|turn| (turn.face, turn.turn, turn.scores.keys().map(said).collect())).collect()
}

fn score(direction: Direction, pressed: Option<Face>) -> Work {
    Work::Score(Crease { direction, pressed, ..Crease::VALLEY })
}

fn place(turn: Turn, distance: &str) -> Place {
    Place::Measured { turn, from: Datum::Edge, distance: length(distance), run: Run::FULL }
}

#[test]
fn scores_of_opposite_turns_are_pressed_on_one() {
    // 3 in from the right edge of a 12 in sheet is 9 in from the left.
    let document = Sketch::on("12x12in")
        .score(1, Turn::None, "2 3/4")
        .score(2, Turn::None, "6 1/4")
        .score(3, Turn::Twice, "3")
        .score(4, Turn::Thrice, "1 1/2")
        .0;
    assert_eq!(
        table(&document),
        [
            (Face::Back, Turn::None, ["2 3/4 in", "6 1/4 in", "9 in"].map(String::from).to_vec()),
            (Face::Back, Turn::Thrice, vec!["1 1/2 in".to_owned()]),
        ]
    );
}

#[test]
fn a_turn_is_kept_where_the_grooves_ask_for_it() {
    // On A4, 40 mm from either edge are in grooves of 5 mm only when each is measured from its own edge: 210 - 40 = 170
    // is in one too, but 210 - 42.5 is not.
    let mut document = Sketch::on("A4").score(1, Turn::None, "40 mm").score(2, Turn::Twice, "40 mm").0;
    document.groove = Length::MILLIMETRE * 4;
    assert_eq!(table(&document).len(), 2, "170 mm is not a whole number of 4 mm");
    document.groove = Length::MILLIMETRE * 5;
    assert_eq!(table(&document).len(), 1);
    document.groove = Length::ZERO;
    assert_eq!(table(&document).len(), 1, "without a board every place is as good");
}

#[test]
fn a_score_is_pressed_into_the_face_it_folds_away_from() {
    // The bead that rises under the groove lies inside the fold: a mountain is pressed into the front, a valley into the
    // back (fold towards the bead: a board mill's handbook).
    let (valley, mountain, either) = (Direction::Valley, Direction::Mountain, Direction::Either);
    let document = Sketch::on("12x12in")
        .line(1, place(Turn::None, "1"), score(valley, None))
        .line(2, place(Turn::None, "2"), score(mountain, None))
        .line(3, place(Turn::None, "3"), score(either, None))
        .line(4, place(Turn::None, "4"), score(valley, Some(Face::Front)))
        .line(5, place(Turn::None, "5"), score(mountain, Some(Face::Back)))
        .0;
    let said = |words: &[&str]| words.iter().map(|&word| word.to_owned()).collect::<Vec<_>>();
    assert_eq!(
        table(&document),
        [(Face::Front, Turn::None, said(&["2 in", "3 in", "4 in"])), (Face::Back, Turn::None, said(&["1 in", "5 in"])),]
    );
}

#[test]
fn runs_are_counted_as_the_sheet_then_lies() {
    // 8 in of the 12 in from the upper edge on, measured from the right: on turn 0 that is the lower 8 in; with the back
    // up, turned over away from the maker, the upper.
    let run = Run { from: Stop::Edge, to: Stop::At(length("8")) };
    let upside_down = Place::Measured { turn: Turn::Twice, from: Datum::Edge, distance: length("3"), run };
    let runs = |work| {
        let document = Sketch::on("12x12in")
            .line(1, place(Turn::None, "1"), work)
            .line(2, place(Turn::None, "2"), work)
            .line(3, upside_down, work)
            .0;
        let table = scoring_table(&document, &Layout::of(&document));
        let run = table.turns[0].scores[&length("9")][0];
        (run.from, run.to)
    };
    assert_eq!(runs(score(Direction::Mountain, None)), (length("4"), length("12")));
    assert_eq!(runs(score(Direction::Valley, None)), (length("0"), length("8")));
}

#[test]
fn slanting_scores_are_pressed_along_a_ruler() {
    let slant = Place::Drawn { from: Spot::At(at("0", "3")), to: Spot::At(at("3", "0")), bow: Length::ZERO };
    let document = Sketch::on("12x12in").line(1, slant, Work::Score(Crease::VALLEY)).0;
    let table = scoring_table(&document, &Layout::of(&document));
    let ruled: Vec<_> = table.by_ruler.iter().map(|score| (score.face, score.line)).collect();
    assert_eq!((table.turns.len(), ruled), (0, vec![(Face::Back, LineId(1))]));
}

#[track_caller]
fn check(document: &Document, expected: &[&str]) {
    let said: Vec<String> = cut_list(document, &Layout::of(document)).into_iter().map(|step| step.sentence).collect();
    assert_eq!(said, expected);
}

#[test]
fn each_cut_says_from_where_to_where_and_what_stays() {
    let mut document = four_flaps();
    document.base = Some(at("6", "6"));
    document.lines.retain(|line| line.work.is_score() || [11, 12, 16].contains(&line.id.0));
    check(
        &document,
        &[
            "Cut from the upper edge down the 3 in score to the first cross score (\"Score 3\", 3 in): the Top flap stays, Offcut 1 \
             comes off.",
            "Cut from the last cross score (\"Score 4\", 9 in) down the 3 in score to the lower edge: the Bottom flap and the Left \
             flap 2 are parted here and stay.",
            "Cut from the last cross score (\"Score 1\", 3 in) down the 3 in score to the lower edge: the Left flap stays, Offcut 1 \
             comes off.",
        ],
    );
}

#[test]
fn strips_notches_and_curves_say_their_side() {
    let along = Place::Along { line: LineId(1), run: Run { from: Stop::Edge, to: line(2) } };
    let slot = Work::Slot(Strip { width: length("1/8"), side: StripSide::Left });
    let edge = Run { from: Stop::At(length("5")), to: Stop::At(length("6")) };
    let edge = Place::Measured { turn: Turn::Once, from: Datum::Edge, distance: Length::ZERO, run: edge };
    let notch = Work::Notch(Notch { depth: length("1/2"), to_left: false });
    let arc =
        Place::Drawn { from: Spot::At(at("12", "4")), to: Spot::Crossing(LineId(1), LineId(2)), bow: length("1/2") };
    let mut document = Sketch::on("12x12in")
        .score(1, Turn::None, "3")
        .score(2, Turn::Once, "3")
        .line(3, along, slot)
        .line(4, edge, notch)
        .line(5, arc, Work::Cut)
        .base("8", "8")
        .0;
    let which = Which::Between(Border::Edge(SheetEdge::Right), Border::Edge(SheetEdge::Bottom));
    document.corners = vec![Corner { mark: at("8", "8"), which, shape: CornerShape::Round(length("1/4")) }];
    check(
        &document,
        &[
            "Cut out a strip 1/8 in wide from the upper edge down the 3 in score to the first cross score (\"Score 2\", 3 in), to the \
             left of the line, on the side of the Left flap 2, which stays.",
            "Cut out a thumb notch from 5 in below the upper edge down the left edge to 6 in below the upper edge, 1/2 in deep, \
             to the right of the line.",
            "Cut from the spot 12 in from the left and 4 in from the top edge to where \"Score 1\" crosses \"Score 2\" in an arc \
             that rises 1/2 in towards the top edge of the sheet: the Base and the Top flap stay, Offcut 1 comes off.",
            "Round the corner of the Base between the sheet's right edge and the sheet's bottom edge with a radius of 1/4 in.",
        ],
    );
}

#[test]
fn each_cut_stands_under_what_it_is_made_by() {
    let drawn = |x, y, bow| {
        let (from, to) = (Spot::At(at("0", "3")), Spot::At(at(x, y)));
        Place::Drawn { from, to, bow: length(bow) }
    };
    let down = Place::Measured { turn: Turn::Once, from: Datum::Edge, distance: length("2"), run: Run::FULL };
    let mut document = Sketch::on("12x12in")
        .line(1, drawn("3", "0", "1/2"), Work::Cut)
        .line(2, drawn("4", "0", "0"), Work::Cut)
        .line(3, down, Work::Cut)
        .base("8", "8")
        .0;
    let which = Which::Between(Border::Edge(SheetEdge::Right), Border::Edge(SheetEdge::Bottom));
    document.corners = vec![Corner { mark: at("8", "8"), which, shape: CornerShape::Clip(length("1/4")) }];
    let cuts = cut_list(&document, &Layout::of(&document));
    let headings: Vec<String> = cuts.iter().map(|cut| cut.under.heading(|turn| turn.words().to_owned())).collect();
    let expected = ["turned once to the left", "As drawn, along a ruler", "Curves, as drawn", "Corners, as drawn"];
    assert_eq!(headings, expected);
}
