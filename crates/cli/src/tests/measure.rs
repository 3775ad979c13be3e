//! A folio measured from what goes in.

use super::*;

const PACKETS: &str = "seed packet, 4, 4 1/2 x 3 1/4 in, 1 mm";

#[test]
fn measures_are_told_and_the_folio_is_made() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("packets.folio");
    let out = out.to_str().unwrap();
    let (code, said, err) = typed(&["measure", "--sheet", "12x12in", "--put", PACKETS, "-o", out]);
    assert_eq!((code, err.as_str()), (0, ""));
    // By hand in the tests of the measures themselves.
    let expected = format!(
        "Closing flap: 4 5/8 in x 1 3/4 in\nBase: 4 5/8 in x 3 3/8 in\nSide flaps, each: 2 1/2 in x 3 3/8 in\n\
         Front flap: 4 5/8 in x 3 3/8 in\nSheet needed: 10 1/8 in x 9 in\nGussets, all round: 1/4 in\n\
         Left of the sheet: 1 7/8 in at the right, 3 in below\nWhat goes in lies in one pile:\n  4 x seed packet\n{out}\n"
    );
    assert_eq!(said, expected);
    assert_eq!(typed(&["check", out]).0, 0);
    let (_, told, _) = typed(&["describe", out]);
    assert!(told.contains("seed packet, 4 of them"), "{told}");
    check_refused(&["measure", "--sheet", "12x12in", "--put", PACKETS, "-o", out], 1, "is there already");
}

#[test]
fn things_in_two_piles_are_told_as_json() {
    let words = [
        "measure",
        "--sheet",
        "300x300mm",
        "--json",
        "--put",
        "card, 6, 60x90mm, 0.4mm",
        "--put",
        "tag, 3, 90x60mm, 1mm",
    ];
    let said = parsed(&words);
    let things = said["things"].as_array().unwrap();
    assert_eq!((things.len(), &things[1]["count"]), (2, &json!(3)));
    // Both fit one base, as one is turned: 63.175 x 93.175 mm with the room, in grooves of 5 mm.
    assert_ne!(things[0]["turned"], things[1]["turned"]);
    assert_eq!(said["piles"], "in one pile");
    let sides = [&said["base"]["width"]["text"], &said["base"]["height"]["text"]];
    assert!(sides.contains(&&json!("65 mm")) && sides.contains(&&json!("95 mm")), "{said}");
}

#[test]
fn what_cannot_be_read_or_does_not_fit_is_refused() {
    let with = |put: &'static str| ["measure", "--sheet", "6x6in", "--put", put];
    check_refused(&with(PACKETS), 1, "the sheet of 6 x 6 in is too small for these; one of 10 1/8 in x 9 in would do");
    check_refused(&with("seed packet"), 2, "it does not have four parts");
    check_refused(&with("packet, some, 4x3in, 1mm"), 2, "\"some\" is no count");
    check_refused(&with("packet, 4, 4, 1mm"), 2, "is not a size");
    check_refused(&with("packet, 0, 4x3in, 1mm"), 1, "thing 1 has no size, or there is none of it");
    check_refused(&["measure", "--sheet", "6x6in"], 2, "--put");
    check_refused(&["measure", "--sheet", "6x6in", "--put", PACKETS, "--caliper", "0"], 2, "give more than 0");
}
