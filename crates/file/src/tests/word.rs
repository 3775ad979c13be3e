//! Words, lengths, ids and texts that are refused, each with the whole sentence.

use super::*;

#[test]
fn words_are_those_of_the_format() {
    refuse(
        "\"in\"",
        "\"inch\"",
        "units (line #): \"inch\" stands where \"in\", \"mm\" or \"cm\" belongs; write that instead",
    );
    refuse(
        "\"cut\"",
        "\"slit\"",
        "lines[2].work (line #): \"slit\" stands where \"score\", \"cut\", \"slot\", \"trim\", \"notch\" or \"guide\" belongs; write that instead",
    );
    refuse(
        "\"valley\"",
        "\"up\"",
        "lines[0].fold (line #): \"up\" stands where \"valley\", \"mountain\" or \"either\" belongs; write that instead",
    );
    refuse(
        "\"from\": \"edge\"",
        "\"from\": \"left\"",
        "lines[0].place.from (line #): \"left\" stands where \"edge\" or a line such as \"line 3\" belongs; write that instead",
    );
    refuse(
        "\"along\": \"line 1\"",
        "\"along\": \"line +1\"",
        "lines[2].place.along (line #): \"line +1\" stands where a line such as \"line 3\" belongs; write that instead",
    );
    refuse(
        "\"turn\": 0",
        "\"turn\": 4",
        "lines[0].place.turn (line #): 4 stands where a count of quarter turns, 0 to 3, belongs; write that instead",
    );
    refuse("90", "45", "lines[1].angle (line #): 45 stands where 180 or 90 belongs; write that instead");
}

#[test]
fn a_stop_is_an_edge_a_line_or_a_length() {
    let stop = "stands where \"edge\", a line such as \"line 3\", a place past it such as \"line 3 + 1/4 in\" or a length such \
                as \"2 3/4 in\" belongs; write that instead";
    for word in ["", "line x", "line 99999999999", "line 3 + - 1/4 in", "line + 1/4 in", "line"] {
        refuse("\"4 in\"", &format!("{word:?}"), &format!("lines[1].place.end (line #): {word:?} {stop}"));
    }
    for word in ["bottom", "lines"] {
        let says = format!("there is no length called {word:?}; name it first, or write a length such as \"2 3/4 in\"");
        refuse("\"4 in\"", &format!("{word:?}"), &format!("lines[1].place.end: {says}"));
    }
    refuse("\"4 in\"", "4", &format!("lines[1].place.end (line #): 4 {stop}"));
    refuse("\"4 in\"", "\"line 3 + 1/4\"", "lines[1].place.end (line #): \"1/4\" has no unit; add in, mm or cm");
}

#[test]
fn a_stop_may_lie_past_a_line() {
    #[track_caller]
    fn check(text: &str, nm: i64, written: &str) {
        let read = from_text(&SMALL.replace("\"4 in\"", &format!("{text:?}"))).unwrap();
        assert_eq!(read.lines[1].place.run().to, Stop::Past(LineId(3), Length::from_nm(nm)), "{text}");
        assert!(to_text(&read).contains(&format!("\"end\": {written:?}")), "{text}");
    }
    check("line 3 + 1/4 in", 6_350_000, "line 3 + 1/4 in");
    check("line 3 - 2 mm", -2_000_000, "line 3 - 2 mm");
    check("line 3 -2 1/2 in", -63_500_000, "line 3 - 2 1/2 in");
    check("line 3+1cm", 10_000_000, "line 3 + 10 mm");
    check("line 3 − 0 in", 0, "line 3 + 0 in");
}

#[test]
fn lengths_are_lengths() {
    refuse("\"3 1/4 in\"", "\"3 1/4\"", "lines[0].place.distance (line #): \"3 1/4\" has no unit; add in, mm or cm");
    refuse("\"4 in\"", "\"4 furlongs\"", "lines[1].place.end (line #): \"furlongs\" is not a unit; use in, mm or cm");
    refuse(
        "\"1/8 in\"",
        "\"1/0 in\"",
        "board.grooves (line #): \"1/0 in\" divides by nothing; give the fraction a bottom figure",
    );
    refuse("\"12 in\"", "\"0 in\"", "stock: both sides of a sheet must be more than nothing and at most 10 m");
    refuse("\"12 in\"", "\"12000 in\"", "stock.width (line #): \"12000 in\" is more than 10 m; no sheet is that large");
    refuse(
        "\"0.3 mm\"",
        "\"-0.3 mm\"",
        "stock.caliper: paper is thicker than nothing; measure one sheet, or leave it out if not known",
    );
}

#[test]
fn ids_are_known_and_not_shared() {
    refuse("\"id\": 2", "\"id\": 1", "lines[1].id: there is a line 1 already; give each line a number of its own");
    refuse("[1, 2]", "[1, 7]", "steps[1][1]: there is no line 7; put the id of a line there, or take it out");
    // A place by a line that isn't there is the layout's to report, in a design that opens.
    let dangling = from_text(&SMALL.replace("\"line 3\"", "\"line 9\"")).unwrap();
    assert_eq!(dangling.lines[1].place.run().from, Stop::Line(LineId(9)));
}

#[test]
fn sizes_are_bounded() {
    #[track_caller]
    fn check(change: impl Fn(&mut Document, usize), most: usize, sentence: &str) {
        let mut document = small();
        change(&mut document, most);
        assert_eq!(from_text(&to_text(&document)), Ok(document.clone()));
        change(&mut document, most + 1);
        says(&to_text(&document), sentence);
    }
    // Characters, not bytes: é takes two.
    let title = |document: &mut Document, count| document.title = "é".repeat(count);
    check(title, MOST_TITLE, "title: it has 201 characters and may have at most 200; shorten it");
    let name = |document: &mut Document, count| document.lines[2].name = "n".repeat(count);
    check(name, MOST_TITLE, "lines[2].name: it has 201 characters and may have at most 200; shorten it");
    let credit = |document: &mut Document, count| document.credit = "c".repeat(count);
    check(credit, MOST_CREDIT, "credit: it has 20001 characters and may have at most 20000; shorten it");
    let lines = |document: &mut Document, count| {
        let cut = document.lines[2].clone();
        document.lines = (1..).take(count).map(|id| Line { id: LineId(id), ..cut.clone() }).collect();
    };
    check(
        lines,
        Document::MOST_LINES,
        "lines (line 10015): there are 2001 here and at most 2000 belong; take some out",
    );
    let steps = |document: &mut Document, count| document.steps = vec![Step::default(); count];
    check(steps, Document::MOST_LINES, "steps (line 2033): there are 2001 here and at most 2000 belong; take some out");
    let step = |document: &mut Document, count| document.steps[1].lines = vec![LineId(1); count];
    check(
        step,
        Document::MOST_LINES,
        "steps[1] (line 2035): there are 2001 here and at most 2000 belong; take some out",
    );
}

#[test]
fn control_characters_and_impossible_paper_are_refused() {
    let says = "it holds a line break or another control character; take it out";
    refuse("\"Seed swap folio\"", "\"Seed\\nswap\"", &format!("title: {says}"));
    refuse("\"Left fold\"", "\"Left\\u001b[31m\"", &format!("lines[0].name: {says}"));
    let credit = "credit: it holds a control character other than a line break; take it out";
    refuse("After a folded", "After\\u0007a\\nfolded", credit);
    let paper = "stock.caliper: no paper that folds is more than 10 mm thick; measure one sheet";
    refuse("0.3 mm", "10000 mm", paper);
}
