//! Texts that are no design: not JSON, no folio, of an unknown version, or with keys and kinds the format doesn't have.

use super::*;

#[test]
fn files_that_are_no_design_are_refused() {
    let stranger = "this is not a Foliowright design; open a .folio file that Foliowright has saved";
    says("", "there is nothing in it; open a copy of the design or start a new one");
    says("\u{feff} \n", "there is nothing in it; open a copy of the design or start a new one");
    says("12", stranger);
    says("[]", stranger);
    says("{}", stranger);
    says("{\"format\": 3}", stranger);
    refuse("foliowright folio", "recipe", stranger);
    refuse("  \"format\": \"foliowright folio\",\n", "", stranger);
    let large = " ".repeat(MOST_BYTES) + SMALL;
    says(&large, "a design takes at most 16 MiB and this is more; check that it is the right file");
}

#[test]
fn versions_are_refused_that_are_newer_or_none() {
    let none = "version is not a whole number above 0; write the one that it was saved in, such as 2";
    let newer = "the design was saved by a newer version of Foliowright (format 3, and this one reads up to 2); \
                 update Foliowright to open it";
    refuse("\"version\": 2", "\"version\": 3", newer);
    refuse("\"version\": 2,", "\"version\": 3, \"pages\": [],", newer);
    refuse("\"version\": 2", "\"version\": 0", none);
    refuse("\"version\": 2", "\"version\": -1", none);
    refuse("\"version\": 2", "\"version\": 2.0", none);
    refuse("\"version\": 2", "\"version\": \"2\"", none);
    refuse("  \"version\": 2,\n", "", none);
}

#[test]
fn syntax_errors_name_line_and_column() {
    refuse("\"in\",", "\"in\"", "line 7, column 3 cannot be read: expected \",\" or \"}\"; mend the text there");
    refuse(
        "[1, 2]\n",
        "[1, 2],\n",
        "line 34, column 3 cannot be read: a value is missing or not in quotes; mend the text there",
    );
    refuse("\"work\"", "work", "line 14, column 7 cannot be read: a key is not in quotes; mend the text there");
    says(
        &format!("{SMALL}x"),
        "line 36, column 1 cannot be read: something follows the end of the design; mend the text there",
    );
    let deep = format!("\"version\": {}1{}", "[".repeat(500), "]".repeat(500));
    refuse(
        "\"version\": 2",
        &deep,
        "line 3, column 140 cannot be read: brackets are nested too deep for a design; mend the text there",
    );
    says(&SMALL[..200], "the text stops on line 8 before the design is complete; open a whole copy of it");
}

#[test]
fn keys_are_those_of_the_format() {
    refuse(
        "\"turn\": 0, \"from\": \"line 1\", \"distance\"",
        "\"turn\": 0, \"from\": \"line 1\", \"distanse\"",
        "lines[1].place.distanse (line #) is not a key of this format; take it out or use one of turn, from, \
         distance, along, drawn, start, end",
    );
    refuse("\"x\"", "\"across\"", "base.across (line #) is not a key of this format; take it out or use one of x, y");
    refuse(
        "\"base\"",
        "\"pages\"",
        "pages (line #) is not a key of this format; take it out or use one of format, version, title, credit, units, \
         board, cutting, lengths, stock, further_stocks, lines, corners, base, panel_names, offcuts, parts, \
         making, steps, silences, variation_of",
    );
    let odd = "�a.b (line #) is not a key of this format; take it out or use one of x, y";
    refuse("\"x\"", "\"\\na.b\"", &format!("base.{odd}"));
    refuse("  \"title\": \"Seed swap folio\",\n", "", "title (line 34) is missing; put it in");
    refuse("\"width\": \"12 in\", ", "", "stock.width (line #) is missing; put it in");
    refuse("      \"id\": 2,\n", "", "lines[1].id (line 22) is missing; put it in");
    refuse("\"x\": \"6 in\",", "\"x\": \"6 in\", \"x\": \"7 in\",", "base.x (line #) is there twice; take one out");
    refuse("\"version\": 2,", "\"version\": 2, \"version\": 2,", "version (line #) is there twice; take one out");
}

#[test]
fn values_are_of_the_right_kind() {
    refuse(
        "\"12 in\"",
        "12",
        "stock.width (line #): 12 stands where a length in quotes such as \"2 3/4 in\" or \"70 mm\" belongs; write that \
         instead",
    );
    refuse(
        "\"id\": 1",
        "\"id\": \"a\"",
        "lines[0].id (line #): \"a\" stands where a whole number, 0 or more belongs; write that instead",
    );
    refuse(
        "\"id\": 1",
        "\"id\": -1",
        "lines[0].id (line #): -1 stands where a whole number, 0 or more belongs; write that instead",
    );
    refuse(
        "\"id\": 1",
        "\"id\": 1.5",
        "lines[0].id (line #): 1.5 stands where a whole number, 0 or more belongs; write that instead",
    );
    refuse("\"Seed swap folio\"", "7", "title (line #): 7 stands where text in quotes belongs; write that instead");
    refuse(
        "\"Seed swap folio\"",
        "null",
        "title (line #): null stands where text in quotes belongs; write that instead",
    );
    let step = "stands where a list of line ids such as [1, 2], or a step in { }, belongs; write that instead";
    refuse("[2]", "2", &format!("steps[0] (line #): 2 {step}"));
    refuse("[2]", "\"line 2\"", &format!("steps[0] (line #): \"line 2\" {step}"));
    refuse(
        "\"lines\": [",
        "\"lines\": {}, \"x\": [",
        "lines (line #): an object in { } stands where a list in [ ] belongs; write that instead",
    );
    refuse(
        "{ \"x\": \"6 in\", \"y\": \"5 in\" }",
        "true",
        "base (line #): true stands where a point in { } belongs; write that instead",
    );
    refuse(
        "{ \"grooves\": \"1/8 in\" }",
        "\"1/8 in\"",
        "board (line #): \"1/8 in\" stands where a board in { } belongs; write that instead",
    );
    refuse(
        "\"along\": \"line 1\"",
        "\"along\": 1",
        "lines[2].place.along (line #): 1 stands where a line such as \"line 3\" belongs; write that instead",
    );
}

#[test]
fn a_sentence_about_an_endless_text_ends() {
    let text = |unit: &str, width: &str| SMALL.replacen("\"in\"", unit, 1).replacen("\"12 in\"", width, 1);
    let endless = format!("\"{}\"", "x".repeat(100_000));
    let (unit, width) = (text(&endless, "\"12 in\""), text("\"in\"", &endless));
    for (text, mend) in [(unit, "write that instead"), (width, "name a part of it")] {
        let said = crate::from_text(&text).unwrap_err().to_string();
        assert!(said.len() < 500 && said.ends_with(mend), "{said}");
    }
}
