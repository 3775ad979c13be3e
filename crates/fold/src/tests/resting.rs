//! What rests on what in closed folios.

use super::envelope::envelope;
use super::{Folded, MOUNTAIN, Sheet, VALLEY, VALLEY_WALL};
use crate::contacts;

/// One inch, in mm.
const INCH: f64 = 25.4;

/// A pair as lower and upper, each by a point of the sheet, its area in mm², and how many calipers of 0.3 mm its faces are
/// apart.
type Pair = ((f64, f64), (f64, f64), f64, f64);

#[track_caller]
fn check(folded: &Folded, expected: &[Pair]) {
    assert_eq!(folded.troubles(), []);
    let got = contacts(&folded.folding);
    assert_eq!(got.len(), expected.len(), "{got:?}");
    for &(lower, upper, area, calipers) in expected {
        let panels = (folded.panel(lower.0, lower.1), folded.panel(upper.0, upper.1));
        let found = got.iter().find(|contact| (contact.lower, contact.upper) == panels);
        let contact = found.unwrap_or_else(|| panic!("{lower:?} under {upper:?}: {got:?}"));
        assert!((contact.area - area).abs() < 1e-3, "{contact:?} is not {area} mm²");
        assert!((contact.gap - 0.3 * calipers).abs() < 1e-9, "{contact:?} is not {calipers} calipers");
        assert_eq!(contact.touches(), calipers == 0.0);
    }
}

#[test]
fn each_part_of_a_letter_rests_on_the_one_closed_before() {
    // 100, 100 and 98 mm by 50 mm, by hand. The last 2 mm of the flap that closes last lie over the base alone.
    let (left, base, right) = ((50.0, 25.0), (150.0, 25.0), (250.0, 25.0));
    let letter = |work| Sheet::new(298.0, 50.0).down(100.0, work).down(200.0, work).base(150.0, 25.0);
    let over = letter(VALLEY).steps(&[&[2], &[1]]).fold();
    check(&over, &[(base, right, 4900.0, 0.0), (right, left, 4900.0, 0.0), (base, left, 100.0, 1.0)]);
    // Folded under, all is the other way up.
    let under = letter(MOUNTAIN).steps(&[&[2], &[1]]).fold();
    check(&under, &[(right, base, 4900.0, 0.0), (left, right, 4900.0, 0.0), (left, base, 100.0, 1.0)]);
    // Flat, nothing rests on anything.
    assert_eq!(contacts(&letter(VALLEY).steps(&[]).fold().folding), []);
}

#[test]
fn flaps_that_cross_over_a_tray_rest_on_one_another_and_not_on_its_base() {
    // A tray a quarter of an inch deep with gussets all round: a base of 5.5 by 4.5 in, side flaps of 3 in by 4.25 in that
    // cross by half an inch, a front of 4.25 in over both, a flap of 2.75 in from the top over all. By hand, in inches.
    let at = |x: f64, y: f64| (x * INCH, y * INCH);
    let mut sheet = Sheet::new(12.0 * INCH, 12.0 * INCH);
    for x in [3.0, 3.25, 8.75, 9.0] {
        sheet = sheet.down_from(x * INCH, at(3.125, 7.375), VALLEY_WALL);
    }
    for y in [2.75, 3.0, 7.5, 7.75] {
        sheet = sheet.across_from(y * INCH, at(3.25, 8.75), VALLEY_WALL);
    }
    for x in [(0.0, 3.25), (8.75, 12.0)] {
        for y in [(0.0, 3.125), (7.375, 12.0)] {
            sheet = sheet.cut_out(at(x.0, x.1), at(y.0, y.1));
        }
    }
    let steps: [&[u32]; 4] = [&[2, 1], &[3, 4], &[7, 8], &[6, 5]];
    let folded = sheet.base(6.0 * INCH, 5.25 * INCH).steps(&steps).fold();
    let (left, right, front, top) = (at(1.0, 5.0), at(11.0, 5.0), at(6.0, 10.0), at(6.0, 1.0));
    let square = INCH * INCH;
    let expected = [
        (left, right, 0.5 * 4.25 * square, 0.0),
        (right, front, 3.0 * 4.125 * square, 0.0),
        (left, front, 2.5 * 4.125 * square, 1.0),
        (front, top, 5.5 * 2.5 * square, 0.0),
        (right, top, 3.0 * 0.125 * square, 1.0),
        (left, top, 2.5 * 0.125 * square, 2.0),
    ];
    check(&folded, &expected);
}

#[test]
fn a_flap_on_a_gusset_rests_on_a_pile_as_high_as_that_is_wide() {
    // A flap over one layer of 0.3 mm on the base. The folding reference, 4.2: a gusset T + t wide goes round a stack T, here
    // 0.6 mm; one of 0.8 mm leaves air. By hand: a flap of 60 mm from the left reaches 10 mm over one of 50 mm from the
    // right, on a base of 100 mm.
    for (gusset, rests) in [(0.6, true), (0.8, false)] {
        let end = 60.0 + gusset;
        let sheet = Sheet::new(150.0 + end, 50.0).down(60.0, VALLEY_WALL).down(end, VALLEY_WALL);
        let sheet = sheet.down(end + 100.0, VALLEY).base(end + 10.0, 25.0).steps(&[&[3], &[1, 2]]);
        let (flap, layer, base) = ((30.0, 25.0), (end + 120.0, 25.0), (end + 10.0, 25.0));
        let expected = [(base, layer, 2500.0, 0.0), (layer, flap, 500.0, 0.0)];
        check(&sheet.fold(), if rests { &expected } else { &expected[..1] });
    }
}

#[test]
fn walls_that_stand_on_one_another_count_too() {
    // A wall of 40 mm with its upper half folded down on itself: 20 by 50 mm.
    let sheet = Sheet::new(100.0, 50.0).down(60.0, VALLEY_WALL).down(80.0, VALLEY).base(30.0, 25.0);
    let folded = sheet.steps(&[&[2], &[1]]).fold();
    // The wall's front looks to the left, against the plane's normal; what is folded over to its front lies lower.
    check(&folded, &[((90.0, 25.0), (70.0, 25.0), 1000.0, 0.0)]);
}

#[test]
fn contacts_are_overlaps_with_nothing_between() {
    let middle = 110.0;
    let folded = envelope(60.0).steps(&[&[1], &[3], &[2], &[4]]).fold();
    let contacts = contacts(&folded.folding);
    let overlaps = folded.folding.overlaps();
    for contact in &contacts {
        let whole = overlaps.iter().find(|pair| (pair.lower, pair.upper) == (contact.lower, contact.upper));
        assert!(contact.area <= whole.unwrap().area + 1e-6, "{contact:?}");
    }
    // By hand: a base of 100 mm, left and right flaps of 60 mm cover all of it, top and bottom ones lie on those.
    let base = folded.panel(middle, middle);
    let of_base: f64 = contacts.iter().filter(|contact| contact.lower == base).map(|contact| contact.area).sum();
    assert!((of_base - 10_000.0).abs() < 1e-3, "{contacts:?}");
}
