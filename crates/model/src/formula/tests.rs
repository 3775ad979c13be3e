//! Formulas: what they come to, how they are written, what is refused.

use super::*;
use proptest::prelude::*;

/// The lengths that the tests name.
fn known(name: &str) -> Option<Length> {
    match name {
        "card width" => Some(Length::INCH * 4),
        "margin" => Some(Length::EIGHTH),
        "gap 2" => Some(Length::MILLIMETRE * 3),
        "nothing" => Some(Length::ZERO),
        _ => None,
    }
}

#[track_caller]
fn check(text: &str, written: &str, value: &str) {
    let formula = Formula::parse(text, Some(Unit::Inch)).unwrap();
    assert_eq!(formula.to_string(), written, "{text}");
    assert_eq!(Formula::parse(written, None), Ok(formula.clone()), "{written}");
    let unit = if value.ends_with("mm") { Unit::Millimetre } else { Unit::Inch };
    assert_eq!(formula.value(known).unwrap().text(unit), value, "{text}");
}

#[track_caller]
fn refuse(text: &str, says: &str) {
    let said = Formula::parse(text, None).and_then(|formula| formula.value(known)).unwrap_err().to_string();
    assert!(said.contains(says), "{text}: {said}");
}

#[test]
fn a_formula_is_worked_out_as_on_paper() {
    // Each by hand: card width 4 in, margin 1/8 in, gap 2 3 mm.
    check("card width", "card width", "4 in");
    check("card width + 2 * margin", "card width + 2 * margin", "4 1/4 in");
    check("card width+2*margin", "card width + 2 * margin", "4 1/4 in");
    check("card width/2", "card width / 2", "2 in");
    check("card  width - 1/4", "card width - 1/4 in", "3 3/4 in");
    check("(card width - margin) / 2", "(card width - margin) / 2", "1 15/16 in");
    check("card width - (margin - 1/8)", "card width - (margin - 1/8 in)", "4 in");
    check("card width - margin - 1/8", "card width - margin - 1/8 in", "3 3/4 in");
    check("-margin + card width", "-margin + card width", "3 7/8 in");
    check("-(margin + 1/8)", "-(margin + 1/8 in)", "-1/4 in");
    check("2 - -margin", "2 in - -margin", "2 1/8 in");
    check("card width × 1 1/2", "card width * 1.5", "6 in");
    check("card width ÷ 3 * 3", "card width / 3 * 3", "4 in");
    check("card width * (1/3) * 3", "card width * 1/3 * 3", "4 in");
    check("card width / (2 * 4)", "card width / (2 * 4)", "1/2 in");
    check("gap 2 * 2 + 1 mm", "gap 2 * 2 + 1 mm", "7 mm");
    check("card width / margin * 1 mm", "card width / margin * 1 mm", "32 mm");
    check("card width / margin", "card width / margin * 1 in", "32 in");
    check("2½ + margin", "2 1/2 in + margin", "2 5/8 in");
    check("2-3/4\" + margin", "2 3/4 in + margin", "2 7/8 in");
    check("0.3 in + margin", "0.3 in + margin", "10.795 mm");
}

#[test]
fn figures_alone_are_reckoned_too() {
    check("12 - 2 3/4", "12 in - 2 3/4 in", "9 1/4 in");
    check("8 1/2 / 2", "8 1/2 in / 2", "4 1/4 in");
    check("1 in + 10 mm * 3 - 1/4", "1 in + 10 mm * 3 - 1/4 in", "49.05 mm");
    check("2 * 3", "2 in * 3", "6 in");
    check("-(1 + 2) / 4", "-(1 in + 2 in) / 4", "-3/4 in");
}

#[test]
fn refusals_say_what_was_wrong() {
    refuse("card with", "no length called \"card with\"");
    refuse("card width +", "stops too early");
    refuse("(card width", "stops too early");
    refuse("card width)", "\")\" can't stand there");
    refuse("* margin", "\"*\" can't stand there");
    refuse("margin ! 2", "\"!\" can't stand there");
    refuse("margin (2)", "\"(\" can't stand there");
    refuse("2 margin", "such as \"2 * margin\"");
    refuse("margin * card width", "a length times a length");
    refuse("2 / margin", "divides a number by a length");
    refuse("margin / 0", "\"margin / 0\" divides by nothing");
    refuse("margin / (2 - 2)", "divides by nothing");
    refuse("margin / (nothing / margin)", "divides by nothing");
    refuse("margin + 1/0 in", "divides by nothing");
    refuse("margin + 2", "\"2\" has no unit");
    refuse("card width / 3", "the nearest is 33.866667 mm, or 1 21/64 in on a ruler");
    refuse("card width * 1000", "more than 10 m");
    refuse("1.2.3 in + margin", "is not a length");
    refuse("", "no length is given");
    refuse(&"(".repeat(201), "at most 200 characters");
    refuse(&format!("margin{}", " * 999999999999999999".repeat(9)), "more than 10 m");
}

#[test]
fn names_are_found_replaced_and_filled_in() {
    let formula = Formula::parse("card width + 2 * (margin - card width)", None).unwrap();
    assert_eq!(formula.names(), ["card width", "margin", "card width"]);
    let renamed = formula.renamed(|name| (name == "margin").then(|| "border".to_owned()));
    assert_eq!(renamed.to_string(), "card width + 2 * (border - card width)");
    let filled = formula.with_values(|name| Some((-known(name)?, Unit::Inch)).filter(|_| name == "margin"));
    assert_eq!(filled.to_string(), "card width + 2 * (-1/8 in - card width)");
}

/// Any formula, as text.
fn any_text() -> impl Strategy<Value = String> {
    let leaf = prop_oneof![
        Just("card width".to_owned()),
        Just("margin".to_owned()),
        (0..100_u32, 1..70_u32).prop_map(|(top, bottom)| format!("{top}/{bottom} in")),
        (0..1000_u32, 0..1000_u32).prop_map(|(whole, part)| format!("{whole}.{part:03} mm")),
        (0..20_u32).prop_map(|whole| format!("{whole}")),
    ];
    leaf.prop_recursive(5, 24, 2, |inner| {
        let signs = prop_oneof![Just("+"), Just("-"), Just("*"), Just("/")];
        prop_oneof![
            (inner.clone(), signs, inner.clone()).prop_map(|(a, sign, b)| format!("{a} {sign} {b}")),
            inner.clone().prop_map(|a| format!("({a})")),
            inner.prop_map(|a| format!("-{a}")),
        ]
    })
}

proptest! {
    #[test]
    fn what_is_written_reads_back_the_same(text in any_text()) {
        if let Ok(formula) = Formula::parse(&text, Some(Unit::Inch)) {
            let written = formula.to_string();
            prop_assert_eq!(Formula::parse(&written, None), Ok(formula.clone()), "{}", written);
            prop_assert_eq!(Formula::parse(&written, None).unwrap().to_string(), written);
        }
    }

    #[test]
    fn any_text_is_read_or_refused(text in "\\PC{0,60}") {
        if let Ok(formula) = Formula::parse(&text, Some(Unit::Millimetre)) {
            let value = formula.value(|_| Some(Length::INCH));
            prop_assert!(value.is_err() || value.is_ok_and(|value| value.abs() <= Length::LIMIT));
        }
    }
}
