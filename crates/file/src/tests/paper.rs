//! Papers and artwork that can't be, each with the whole sentence.

use super::feature::refuse_full;
use super::*;

#[test]
fn paper_is_paper() {
    refuse_full(
        "\"80 lb cover\"",
        "\"80 lb\"",
        "stock.weight (line #): \"80 lb\" does not say of which grade the pounds are; add one of bond, text, cover, index, \
         tag, bristol",
    );
    refuse_full(
        "\"80 lb cover\"",
        "80",
        "stock.weight (line #): 80 stands where a weight in quotes such as \"216 g/m2\" or \"80 lb cover\" belongs; write \
         that instead",
    );
    refuse_full(
        "\"80 lb cover\"",
        "\"\\u001b[1m heavy\"",
        "stock.weight (line #): \"\\u{1b}[1m heavy\" stands where a weight in quotes such as \"216 g/m2\" or \"80 lb \
         cover\" belongs; write that instead",
    );
    refuse_full(
        "\"1.25\"",
        "\"12\"",
        "stock.bulk (line #): \"12\" is not a bulk; give cm³/g between 0.3 and 5, such as 0.9 for coated or 1.25 for plain \
         paper",
    );
    refuse_full(
        "\"bulk\"",
        "\"caliper\": \"1 mm\", \"bulk\"",
        "stock.caliper: the thickness is either measured or follows from the bulk; keep caliper or bulk",
    );
    refuse_full(
        "0.16 mm",
        "0 mm",
        "further_stocks[0].stock.caliper: paper is thicker than nothing; measure one sheet, or leave it out if not known",
    );
    refuse_full(
        "#ffffff",
        "white",
        "stock.core (line #): \"white\" stands where a colour such as \"#7a9b3c\" belongs; write that instead",
    );
    refuse_full(
        "top up",
        "up",
        "stock.front.pattern (line #): \"up\" stands where \"plain\", \"any way\", \"top up\", \"right up\", \"bottom up\" \
         or \"left up\" belongs; write that instead",
    );
    refuse_full(
        "upright",
        "long",
        "stock.grain (line #): \"long\" stands where \"upright\" or \"level\" belongs; write that instead",
    );
    let second = "\"further_stocks\": [{ \"id\": 4, \"stock\": { \"width\": \"1 mm\", \"height\": \"1 mm\" } },";
    refuse_full(
        "\"further_stocks\": [",
        second,
        "further_stocks[1].id: there is a further stock 4 already; give each further stock a number of its own",
    );
}

#[test]
fn artwork_stays_in_its_folder() {
    let plain = "it is not a plain file name; name a file in the folder of the design's artwork, without /, \\ or :";
    for name in ["", ".", "..", "../meadow.png", "/meadow.png", "a\\\\b.png", "c:meadow.png"] {
        refuse_full("meadow.png", name, &format!("stock.front.artwork.file: {plain}"));
    }
    let odd = "it holds a line break or another control character; give the file another name";
    refuse_full("meadow.png", "mea\\ndow.png", &format!("stock.front.artwork.file: {odd}"));
    // Bytes, not characters: é takes two.
    let long = "é".repeat(128);
    let sentence = "no file has a name of more than 255 bytes; give the file a shorter name";
    refuse_full("meadow.png", &long, &format!("stock.front.artwork.file: {sentence}"));
    assert_eq!(artwork_file(&long[..254]), Ok(()));
    assert_eq!(artwork_file("...png"), Ok(()));
}

#[test]
fn artwork_has_a_size_and_a_hash() {
    let digest = "stands where a SHA-256 of 64 hexadecimal digits in lower case belongs; write that instead";
    let f = "f".repeat(40);
    for (from, to) in [("\"fff", "\"FFF"), ("\"fff", "\"ff"), ("\"fff", "\"ffff"), ("\"fff", "\"+ff")] {
        let shown = &format!("{to}{f}")[..41];
        refuse_full(from, to, &format!("stock.front.artwork.sha256 (line #): {shown}\" {digest}"));
    }
    let pixels = "stock.front.artwork.pixels";
    let none = "a picture is at least one pixel wide and high; write how many it has";
    refuse_full("[3600, 1800]", "[0, 1800]", &format!("{pixels}: {none}"));
    let two = "the list holds 1 and two belong in it; write two";
    refuse_full("[3600, 1800]", "[3600]", &format!("{pixels} (line #): {two}"));
    let whole = "stands where a whole number, 0 or more belongs; write that instead";
    refuse_full("[3600, 1800]", "[3600, 5000000000]", &format!("{pixels}[1] (line #): 5000000000 {whole}"));
    let width = "stock.front.artwork.width: a picture is wider than nothing; write how wide it is on the paper";
    refuse_full("\"width\": \"300 mm\",\n        \"left\"", "\"width\": \"-300 mm\",\n        \"left\"", width);
}
