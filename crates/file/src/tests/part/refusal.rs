//! Parts and steps that can't be, each with the whole sentence.

use super::*;

/// Changes the design's text and expects a whole sentence, in which # is the number of the changed line.
#[track_caller]
fn refuse_made(from: &str, to: &str, sentence: &str) {
    let (before, after) = MADE.split_once(from).expect("it is in the sample");
    let line = before.lines().count();
    says(&format!("{before}{to}{after}"), &sentence.replace("line #", &format!("line {line}")));
}

/// Every kind, as a sentence lists them.
const KINDS: &str = "hinge, pocket, tuck_corner, page, flap, band, mat, tab, insert, closure, own";

#[test]
fn a_part_is_of_one_kind() {
    let one = format!("a part is of one kind; give just one of {KINDS}");
    let mat = "\"mat\": { \"width\": \"3 in\", \"height\": \"2 in\" }";
    refuse_made(mat, "", &format!("parts[4].kind: {one}"));
    refuse_made(mat, "\"mat\": null", &format!("parts[4].kind: {one}"));
    let two = mat.replace("mat", "insert");
    refuse_made(mat, &format!("{mat}, {two}"), &format!("parts[4].kind: {one}"));
    refuse_made(
        mat,
        &mat.replace("mat", "frame"),
        &format!("parts[4].kind.frame (line #) is not a key of this format; take it out or use one of {KINDS}"),
    );
    refuse_made(
        mat,
        "\"mat\": { \"width\": \"3 in\", \"height\": \"2 in\", \"strip\": \"1 in\" }",
        "parts[4].kind.mat.strip (line #) is not a key of this format; take it out or use one of width, height",
    );
    refuse_made(mat, "\"mat\": { \"width\": \"3 in\" }", "parts[4].kind.mat.height (line #) is missing; put it in");
    refuse_made(
        "\"free_leaf\": \"1 in\"",
        "\"free_leaf\": 1",
        "parts[0].kind.hinge.free_leaf (line #): 1 stands where a length in quotes such as \"2 3/4 in\" or \"70 mm\" \
         belongs; write that instead",
    );
    refuse_made(
        "\"caliper\": \"0.5 mm\"",
        "\"caliper\": \"0 mm\"",
        "parts[9].kind.insert.caliper: a card is thicker than nothing; measure it, or leave it out where it is as thick as \
         its paper",
    );
}

#[test]
fn words_of_parts_are_those_of_the_format() {
    let instead = "belongs; write that instead";
    let edge = format!("stands where \"top\", \"right\", \"bottom\" or \"left\" {instead}");
    refuse_made(
        "\"bottom\", \"left\"]",
        "\"all\"]",
        &format!("parts[1].kind.pocket.glued[1] (line #): \"all\" {edge}"),
    );
    refuse_made(
        "\"hinged\": \"left\"",
        "\"hinged\": \"start\"",
        &format!("parts[10].kind.page.hinged (line #): \"start\" {edge}"),
    );
    let glued = "parts[1].kind.pocket.glued (line #)";
    refuse_made("\"bottom\", \"left\"]", "\"right\"]", &format!("{glued}: right is there twice; take one out"));
    refuse_made(
        "\"bottom\", \"left\"]",
        "\"bottom\", \"left\", \"top\", \"top\"]",
        &format!("{glued}: there are 5 here and at most 4 belong; take some out"),
    );
    let corner = format!("stands where \"top left\", \"top right\", \"bottom right\" or \"bottom left\" {instead}");
    refuse_made(
        "\"top right\"",
        "\"right top\"",
        &format!("parts[3].kind.tuck_corner.corner (line #): \"right top\" {corner}"),
    );
    let with = format!("stands where \"brad\", \"magnet\", \"hook and loop\" or \"ribbon\" {instead}");
    refuse_made("\"hook and loop\"", "\"button\"", &format!("parts[12].kind.closure.with (line #): \"button\" {with}"));
    let area = format!(
        "stands where \"whole\", \"none\" or strips along edges, such as {{ \"edges\": [\"left\"], \"strip\": \"1/4 in\" }}, {instead}"
    );
    refuse_made("\"none\"", "\"edges\"", &format!("parts[1].glue[2].area (line #): \"edges\" {area}"));
    refuse_made("\"none\"", "[]", &format!("parts[1].glue[2].area (line #): a list in [ ] {area}"));
    refuse_made("\"none\"", "{ \"strip\": \"1/4 in\" }", "parts[1].glue[2].area.edges (line #) is missing; put it in");
    let job = format!(
        "stands where a job such as \"score folio\", \"cut part 2\", \"fold part 2\", \"put part 2\" or \"close\" {instead}"
    );
    for wrong in ["fold folio", "put", "close part 2", "cut part two", "score  folio", "cut part 99999999999", "open"] {
        refuse_made("\"cut folio\"", &format!("{wrong:?}"), &format!("making[1] (line #): {wrong:?} {job}"));
    }
}

#[test]
fn a_place_is_a_panel_and_how_far_from_where() {
    let instead = "belongs; write that instead";
    let panel = format!(
        "stands where a point inside a panel of the sheet, such as {{ \"x\": \"6 in\", \"y\": \"5 in\" }}, or a panel of a \
         part, such as \"part 2 panel 1\", {instead}"
    );
    let on = "parts[1].place.on (line #)";
    for wrong in ["part 1 panel 0", "part 1", "panel 2", "part 1 panel -1", "part 1 panel 4294967296", "part x panel 1"]
    {
        refuse_made("\"part 1 panel 2\"", &format!("{wrong:?}"), &format!("{on}: {wrong:?} {panel}"));
    }
    refuse_made("\"part 1 panel 2\"", "7", &format!("{on}: 7 {panel}"));
    refuse_made("\"part 1 panel 2\"", "{ \"x\": \"1 in\" }", "parts[1].place.on.y (line #) is missing; put it in");
    refuse_made(
        "\"part 1 panel 2\"",
        "{ \"part\": 1, \"panel\": 2 }",
        "parts[1].place.on.part (line #) is not a key of this format; take it out or use one of x, y",
    );
    refuse_made(
        "\"1/2 in from left\"",
        "\"1/2 in from top\"",
        &format!(
            "parts[1].place.across (line #): \"1/2 in from top\" stands where a distance such as \"1/2 in from left\", \
             \"0 in from middle\" or \"2 mm from right\" {instead}"
        ),
    );
    refuse_made(
        "\"-1/8 in from bottom\"",
        "\"bottom\"",
        &format!(
            "parts[1].place.down (line #): \"bottom\" stands where a distance such as \"1/2 in from top\", \"0 in from \
             middle\" or \"2 mm from bottom\" {instead}"
        ),
    );
    refuse_made(
        "\"1/2 in from left\"",
        "\"1/2 from left\"",
        "parts[1].place.across (line #): \"1/2\" has no unit; add in, mm or cm",
    );
    let angle = format!("stands where an angle in degrees, in quotes, such as \"90\" or \"12.5\" {instead}");
    for wrong in ["north", "1.234", "1e3", ""] {
        refuse_made("\"12.5\"", &format!("{wrong:?}"), &format!("parts[1].place.rotation (line #): {wrong:?} {angle}"));
    }
    refuse_made("\"12.5\"", "12.5", &format!("parts[1].place.rotation (line #): 12.5 {angle}"));
    let whole = format!("0 stands where a whole number, 1 or more {instead}");
    refuse_made("\"panel\": 1,", "\"panel\": 0,", &format!("parts[1].glue[0].panel (line #): {whole}"));
}

#[test]
fn paper_comes_from_one_place() {
    let from = "stands where \"any offcut\", \"folio stock\", a further stock such as \"stock 4\", \"bought\" or one offcut, \
                such as { \"offcut\": { \"x\": \"1 in\", \"y\": \"1 in\" } }, belongs; write that instead";
    for wrong in ["offcut", "stock", "stock four", "4"] {
        refuse_made("\"stock 4\"", &format!("{wrong:?}"), &format!("parts[4].from (line #): {wrong:?} {from}"));
    }
    refuse_made("\"stock 4\"", "4", &format!("parts[4].from (line #): 4 {from}"));
    let one = "parts[4].from: a part is cut from an offcut or is a whole one; give just one of offcut and whole";
    refuse_made("\"stock 4\"", "{}", one);
    let point = "{ \"x\": \"1 in\", \"y\": \"1 in\" }";
    refuse_made("\"stock 4\"", &format!("{{ \"offcut\": {point}, \"whole\": {point} }}"), one);
    refuse_made(
        "\"stock 4\"",
        "{ \"stock\": 4 }",
        "parts[4].from.stock (line #) is not a key of this format; take it out or use one of offcut, whole",
    );
    refuse_made("      \"from\": \"stock 4\",\n", "", "parts[4].from (line 108) is missing; put it in");
}

#[test]
fn parts_have_numbers_of_their_own_and_names_of_one_line() {
    refuse_made("\"id\": 5", "\"id\": 4", "parts[4].id: there is a part 4 already; give each part a number of its own");
    let says = "it holds a line break or another control character; take it out";
    refuse_made("Left hinge", "Left\\nhinge", &format!("parts[0].name: {says}"));
}

#[test]
fn a_shape_of_her_own_is_read_like_a_sheet() {
    let own = "parts[13].kind.own";
    let size = "\"width\": \"3 in\",\n          \"height\": \"2 in\",\n          \"lines\"";
    refuse_made(
        size,
        &size.replace("2 in", "0 in"),
        &format!("{own}: both sides of a sheet must be more than nothing and at most 10 m"),
    );
    let score = "\"work\": \"score\",\n              \"fold\": \"valley\"\n            }";
    refuse_made(
        score,
        "\"work\": \"score\" }",
        &format!("{own}.lines[0]: a score needs a fold; add \"fold\": \"valley\", \"mountain\" or \"either\""),
    );
    let twice = format!("{score}, {{ \"id\": 1, \"place\": {{ \"along\": \"line 1\" }}, \"work\": \"cut\" }}");
    refuse_made(
        score,
        &twice,
        &format!("{own}.lines[1].id: there is a line 1 already; give each line a number of its own"),
    );
    refuse_made(
        "\"round\": \"1/8 in\"",
        "\"square\": false",
        &format!(
            "{own}.corners[0]: a corner is round, clip or square; give just one of these: round or clip with a length, or \
             square with true"
        ),
    );
    refuse_made(
        "            [1]\n",
        "            [1], [1, 2]\n",
        &format!("{own}.folded[1][1]: there is no line 2; put the id of a line there, or take it out"),
    );
    // Its lines may be none, as where a brim is cut round.
    let plain = MADE.replace(&format!("\"lines\": [\n            {{\n              \"id\": 1,\n              \"place\": {{ \"turn\": 0, \"from\": \"edge\", \"distance\": \"1 in\" }},\n              {score}\n          ]"), "\"lines\": null");
    assert_eq!(
        from_text(&plain.replace("[1]\n          ]", "]")).map(|document| document.parts.len()),
        Ok(made().parts.len())
    );
}

#[test]
fn steps_name_lines_that_are_there_and_any_part() {
    refuse_made(
        "\"lines\": [1],\n      \"tucks\"",
        "\"lines\": [1, 7],\n      \"tucks\"",
        "steps[2].lines[1]: there is no line 7; put the id of a line there, or take it out",
    );
    let line = "stands where a line of a part such as \"part 2 line 1\" belongs; write that instead";
    for wrong in ["part 99", "line 3", "part 99 line x", "part 99 lines 3"] {
        refuse_made(
            "\"part 99 line 3\"",
            &format!("{wrong:?}"),
            &format!("steps[1].parts[1] (line #): {wrong:?} {line}"),
        );
    }
    refuse_made(
        "\"under\": \"part 3 panel 1\"",
        "\"over\": \"part 3 panel 1\"",
        "steps[2].tucks[0].over (line #) is not a key of this format; take it out or use one of panel, under",
    );
    refuse_made(
        "{ \"parts\": [",
        "{ \"folds\": [], \"parts\": [",
        "steps[1].folds (line #) is not a key of this format; take it out or use one of lines, parts, tucks",
    );
}
