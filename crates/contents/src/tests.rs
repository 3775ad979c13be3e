//! The measures by hand and against trying everything; and folios that the checker has nothing against.

use super::*;
use crate::solve::Task;
use check::{Context, Severity};
use model::{Layout, Size};
use proptest::prelude::*;

fn length(text: &str) -> Length {
    Length::parse_in(text, Unit::Inch).unwrap()
}

fn thing(count: u32, width: &str, height: &str, thickness: &str) -> Thing {
    let [width, height, thickness] = [width, height, thickness].map(length);
    Thing { name: "Packet".to_owned(), count, width, height, thickness }
}

fn sheet(size: &str) -> Stock {
    Stock::plain(Size::parse(size).unwrap())
}

#[test]
fn a_pile_of_packets_by_hand() {
    // Packets of 4 1/2 x 3 1/4 in with 1/8 in round them: a base of 4 5/8 x 3 3/8 in. 4 of 1 mm and 4 x 0.3 mm of paper are
    // 5.2 mm, so the next groove is 1/4 in. Side flaps: half of 37 grooves is 19, and one. In all 37 + 4 + 40 by
    // 27 + 4 + 27 + 14 grooves.
    let things = [thing(4, "4 1/2", "3 1/4", "1mm")];
    let found = measures(&things, &sheet("12x12in"), Length::EIGHTH).unwrap();
    assert_eq!((found.base, found.gusset, found.side), ([37, 27], 2, 20));
    assert_eq!((found.front, found.closing, found.needed()), (27, 14, [81, 72]));
    assert_eq!(found.lying, [Lying { turned: false, pile: 0 }]);
}

#[test]
fn what_cannot_be_is_said() {
    #[track_caller]
    fn check(things: &[Thing], stock: &Stock, says: &str) {
        let refusal = measures(things, stock, Length::EIGHTH).unwrap_err();
        let said = refusal.said(things, stock, Unit::Inch);
        assert!(said.contains(says), "{said}");
    }
    let card = thing(1, "6", "4", "0.3mm");
    check(&[], &sheet("12x12in"), "nothing to go in");
    check(&vec![card.clone(); 13], &sheet("12x12in"), "13 kinds of things, and 12 at most");
    check(&[thing(0, "6", "4", "0.3mm")], &sheet("12x12in"), "thing 1 has no size");
    check(&[card.clone(), thing(1, "6", "0", "0.3mm")], &sheet("12x12in"), "thing 2 has no size");
    check(&[thing(10_001, "6", "4", "0.3mm")], &sheet("12x12in"), "more than 10000 of thing 1");
    // A base of 6 1/8 x 4 1/8 in in gussets of 1/8 in: 49 + 2 + 2 x 26 by 33 + 2 + 33 + 17 grooves; turned, 33 + 2 + 2 x 18
    // by 49 + 2 + 49 + 25. The first takes 188 grooves of the two sides of a square sheet, the second 196.
    check(
        std::slice::from_ref(&card),
        &sheet("6x6in"),
        "the sheet of 6 x 6 in is too small for these; one of 12 7/8 in x 10 5/8 in would do",
    );
    check(&[thing(200, "3", "2", "0.3mm")], &sheet("12x12in"), "is no gusset; put in less");
    let unknown = Stock { caliper: model::Caliper::Unknown, ..sheet("12x12in") };
    check(&[card], &unknown, "how thick the paper is is not known");
}

/// Every way to lay things, with its measures.
fn all_ways(things: &[Thing], task: &Task<'_>) -> Vec<Measures> {
    let mut all = Vec::new();
    for piles in Piles::ALL {
        let choices = if piles.count() == 1 { 2 } else { 4_usize };
        for way in 0..choices.pow(u32::try_from(things.len()).unwrap()) {
            let lies = |thing: usize| {
                let choice = way / choices.pow(u32::try_from(thing).unwrap()) % choices;
                Lying { turned: choice % 2 == 1, pile: choice / 2 }
            };
            all.push(task.measured(piles, (0..things.len()).map(lies).collect()));
        }
    }
    all
}

fn any_thing() -> impl Strategy<Value = Thing> {
    (1..6_u32, 8..60_i64, 8..60_i64, 2..20_i64).prop_map(|(count, width, height, thickness)| Thing {
        name: String::new(),
        count,
        width: Length::SIXTEENTH * width,
        height: Length::SIXTEENTH * height,
        thickness: Length::from_mm_exact(0, 100_000) * thickness,
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 60, ..ProptestConfig::default() })]

    #[test]
    fn nothing_that_was_tried_takes_less(things in prop::collection::vec(any_thing(), 1..5), inches in 6..16_i64) {
        let stock = Stock::plain(Size::new(Length::INCH * inches, Length::INCH * 12).unwrap());
        let task = Task::of(&things, &stock, Length::EIGHTH).unwrap();
        let possible = |sheet| {
            let ways = all_ways(&things, &task);
            ways.iter().filter(|way| task.is_possible(way, sheet)).map(|way| task.cost(way.needed())).min()
        };
        match measures(&things, &stock, Length::EIGHTH) {
            Ok(found) => prop_assert_eq!(Some(task.cost(found.needed())), possible(Some(task.sheet))),
            Err(refusal) => {
                prop_assert_eq!(possible(Some(task.sheet)), None);
                match refusal {
                    Refusal::TooSmall { .. } => prop_assert!(possible(None).is_some()),
                    other => {
                        prop_assert_eq!(possible(None), None);
                        let is_thick = matches!(other, Refusal::TooThick { .. });
                        prop_assert!(is_thick);
                    }
                }
            }
        }
    }
}

/// What the checker has against a folio, but for notes.
fn wrong(things: &[Thing], stock: &Stock, groove: Length, unit: Unit) -> Vec<String> {
    let found = measures(things, stock, groove).unwrap();
    let document = folio(&found, things, stock, unit, groove).unwrap();
    let layout = Layout::of(&document);
    let assembly = fold::assemble(&document, &layout).unwrap();
    let folding = fold::close(&assembly);
    let checked = check::check(&Context::new(&document, &layout, Some((&assembly, &folding)), None));
    let bad = checked.findings.into_iter().filter(|finding| finding.severity != Severity::Note);
    bad.map(|finding| finding.sentence).collect()
}

#[test]
fn the_checker_has_nothing_against_its_folios() {
    let inches: [&[Thing]; 6] = [
        &[thing(4, "4 1/2", "3 1/4", "1mm")],
        &[thing(1, "3", "2", "0.3mm")],
        &[thing(10, "2 1/2", "3 1/2", "0.3mm")],
        &[thing(2, "3 1/4", "4 1/2", "2mm"), thing(6, "2", "3", "0.3mm")],
        &[thing(3, "2", "3", "1mm"), thing(3, "2", "3", "1mm")],
        &[thing(5, "1 1/2", "2", "0.5mm"), thing(1, "3", "4", "0.3mm"), thing(2, "2 1/8", "3 3/8", "0.8mm")],
    ];
    for things in inches {
        let wrong = wrong(things, &sheet("12x12in"), Length::EIGHTH, Unit::Inch);
        assert!(wrong.is_empty(), "{things:?}: {wrong:?}");
    }
    let metric = [thing(3, "85mm", "55mm", "0.8mm"), thing(5, "74mm", "105mm", "0.25mm")];
    let wrong = wrong(&metric, &sheet("300x300mm"), Length::MILLIMETRE * 5, Unit::Millimetre);
    assert!(wrong.is_empty(), "{wrong:?}");
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, ..ProptestConfig::default() })]

    #[test]
    fn nor_against_any_that_it_makes(things in prop::collection::vec(any_thing(), 1..5)) {
        let stock = sheet("14x14in");
        prop_assume!(measures(&things, &stock, Length::EIGHTH).is_ok());
        let wrong = wrong(&things, &stock, Length::EIGHTH, Unit::Inch);
        prop_assert!(wrong.is_empty(), "{wrong:?}");
    }
}
