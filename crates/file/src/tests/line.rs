//! Lines and corners that say too little, too much or two things at once, each with the whole sentence.

use super::feature::refuse_full;
use super::*;

#[test]
fn a_place_is_said_in_one_way() {
    let along = "\"along\": \"line 1\"";
    let two = "lines[3].place: it says where in two ways; keep turn, from and distance, or along, or drawn";
    let none = "lines[3].place: it doesn't say where; give turn, from and distance, or along, or drawn";
    let drawn =
        "\"drawn\": { \"from\": { \"x\": \"1 mm\", \"y\": \"1 mm\" }, \"to\": { \"x\": \"1 mm\", \"y\": \"2 mm\" } }";
    refuse_full(along, &format!("{along}, \"turn\": 1"), two);
    refuse_full(along, &format!("{along}, {drawn}"), two);
    refuse_full(along, &format!("\"turn\": 0, {drawn}"), two);
    refuse_full(along, "\"turn\": 0, \"from\": \"edge\"", none);
    refuse_full(along, "\"along\": null", none);
    refuse_full(along, drawn, "lines[3].place: a drawn line goes from spot to spot; take out start and end");
}

#[test]
fn a_spot_is_said_in_one_way() {
    let spot = "\"on\": \"line 1\", \"at\": \"55 mm\"";
    let says = "lines[1].place.drawn.to: a spot is one of x and y, crossing, or on and at; give just one of these";
    for to in ["", "\"on\": \"line 1\"", "\"x\": \"1 mm\"", "\"x\": \"1 mm\", \"y\": \"1 mm\", \"at\": \"1 mm\""] {
        refuse_full(spot, to, says);
    }
    refuse_full(
        "[\"line 1\", \"line 2\"]",
        "[\"line 1\"]",
        "lines[2].place.drawn.from.crossing (line #): the list holds 1 and two belong in it; write two",
    );
    refuse_full(
        "[\"line 1\", \"line 2\"]",
        "[\"line 1\", \"line 2\", \"line 3\"]",
        "lines[2].place.drawn.from.crossing (line #): the list holds 3 and two belong in it; write two",
    );
    refuse_full(
        "[\"line 1\", \"line 2\"]",
        "[\"line 1\", \"edge\"]",
        "lines[2].place.drawn.from.crossing[1] (line #): \"edge\" stands where a line such as \"line 3\" belongs; write \
         that instead",
    );
}

#[test]
fn each_work_has_keys_of_its_own() {
    #[track_caller]
    fn check(work: &str, sentence: &str) {
        refuse_full("\"work\": \"guide\"", work, &format!("lines[1]: {sentence}"));
    }
    let foreign = "take out what doesn't belong, or say another work";
    let length = "a length in quotes such as \"2 3/4 in\" or \"70 mm\"";
    let side = "\"left\", \"right\" or \"centred\"";
    check("\"work\": \"guide\", \"fold\": \"valley\"", &format!("a guide has no fold; {foreign}"));
    check("\"work\": \"cut\", \"angle\": 90, \"depth\": \"1 mm\"", &format!("a cut has no angle, no depth; {foreign}"));
    check("\"work\": \"score\", \"fold\": \"valley\", \"side\": \"left\"", &format!("a score has no side; {foreign}"));
    check("\"work\": \"slot\", \"pressed\": \"front\"", &format!("a slot has no pressed; {foreign}"));
    check("\"work\": \"notch\", \"width\": \"1 mm\"", &format!("a notch has no width; {foreign}"));
    check("\"work\": \"score\"", "a score needs a fold; add \"fold\": \"valley\", \"mountain\" or \"either\"");
    check("\"work\": \"slot\"", &format!("a slot needs a width; add \"width\": {length}"));
    check("\"work\": \"trim\", \"width\": \"1 mm\"", &format!("a trim needs a side; add \"side\": {side}"));
    check("\"work\": \"notch\", \"depth\": \"1 mm\"", &format!("a notch needs a side; add \"side\": {side}"));
    check(
        "\"work\": \"notch\", \"depth\": \"1 mm\", \"side\": \"centred\"",
        "a notch bites to one side of its line; make its side left or right",
    );
    refuse(
        "\"cut\"",
        "\"cut\", \"locked\": \"yes\"",
        "lines[2].locked (line #): \"yes\" stands where true or false belongs; write that instead",
    );
}

#[test]
fn a_corner_says_which_and_what() {
    let one =
        "a corner is round, clip or square; give just one of these: round or clip with a length, or square with true";
    refuse_full("\"round\": \"5 mm\"", "\"round\": null", &format!("corners[0]: {one}"));
    refuse_full("\"round\": \"5 mm\"", "\"round\": \"5 mm\", \"clip\": \"5 mm\"", &format!("corners[0]: {one}"));
    refuse_full("\"square\": true", "\"square\": false", &format!("corners[2]: {one}"));
    let which = "stands where \"panel\", \"piece\" or the two borders that meet there, such as [\"line 3\", \"top edge\"], \
                 belongs; write that instead";
    refuse_full("\"piece\"", "\"all\"", &format!("corners[0].which (line #): \"all\" {which}"));
    refuse_full("\"piece\"", "3", &format!("corners[0].which (line #): 3 {which}"));
    let pair = "corners[2].which (line #): the list holds 1 and two belong in it; write two";
    refuse_full("[\"line 1\", \"top edge\"]", "[\"line 1\"]", pair);
    let border = "stands where a line such as \"line 3\" or an edge of the sheet such as \"top edge\" belongs; write that \
                  instead";
    refuse_full("\"top edge\"", "\"upper edge\"", &format!("corners[2].which[1] (line #): \"upper edge\" {border}"));
}
