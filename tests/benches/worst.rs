//! The worst made-up folios that are known, each with how long all stages of an edit take: some thought of, some found by a
//! search for the most time a panel. `-- --search SEED` searches on from there: folios at random, then small changes of the
//! worst of them. Nothing is asserted, since machines differ. `-- --json FILE` writes the numbers too.

#![expect(clippy::print_stdout, reason = "a bench speaks to whoever runs it")]

use foliowright_tests::dice::Dice;
use foliowright_tests::large::{Side, Tray, concertina, crossing, roll};
use foliowright_tests::ruler::{Record, after, taken};
use model::{Document, Layout, Work};
use session::Derived;
use std::hint::black_box;

/// A search looks at folios of at most so many panels, so that it is about their shape and not their size.
const MOST_PANELS: usize = 250;

/// Folios at random, and changes of the worst of them.
const TRIED: (usize, usize) = (150, 100);

fn main() {
    if let Some(seed) = after("--search") {
        search(seed.parse().unwrap_or(1));
        return;
    }
    let mut record = Record::new("worst");
    println!(
        "{:>50}{:>8}{:>12}{:>12}{:>12}{:>12}{:>14}",
        "", "panels", "layout", "close", "check", "edit", "µs a panel"
    );
    let only = after("--only");
    let is_asked = |name: &str| only.as_deref().is_none_or(|only| name.contains(only));
    for (name, document) in cases().into_iter().filter(|(name, _)| is_asked(name)) {
        row(&mut record, name, &document);
    }
    record.write();
}

/// All around a base, so many flaps on each side.
fn around(flaps: usize, reach: i64) -> Tray {
    Tray { sides: [Side { flaps, reach }; 4], ..Tray::default() }
}

/// Flaps one by one, at the top, at the right, at the bottom and at the left, with how far they reach; found by the search.
fn found(flaps: [(usize, i64); 4], mats: usize) -> Document {
    let sides = flaps.map(|(flaps, reach)| Side { flaps, reach });
    Tray { sides, is_deep: false, one_by_one: true, mats }.folio()
}

fn cases() -> Vec<(&'static str, Document)> {
    vec![
        ("200 flaps from four sides over all of a base", around(50, 95).folio()),
        ("the same, one by one", Tray { one_by_one: true, ..around(50, 95) }.folio()),
        ("the same on gussets", Tray { is_deep: true, ..around(50, 95) }.folio()),
        ("found: 19 uneven flaps one by one", found([(8, 95), (7, 76), (1, 45), (3, 70)], 0)),
        ("found: 23 flaps with mats, one by one", found([(1, 13), (8, 62), (5, 55), (9, 21)], 59)),
        ("found: 139 flaps over one another, one by one", found([(23, 78), (35, 87), (57, 62), (24, 38)], 4)),
        ("400 crossings of slanting scores", crossing(20, Work::Score(model::Crease::VALLEY))),
        ("2500 crossings of slanting cuts", crossing(50, Work::Cut)),
        ("a roll of 200 panels", roll(200)),
        ("500 pleats folded at once", concertina(500, true)),
        ("500 pleats folded one by one", concertina(500, false)),
    ]
}

fn row(record: &mut Record, name: &str, document: &Document) {
    let layout = Layout::of(document);
    let Some(assembly) = fold::assemble(document, &layout) else {
        println!("{name:>50}  has no base");
        return;
    };
    let folding = fold::close(&assembly);
    let supply = (!document.parts.is_empty()).then(|| allot::allot(document, &layout, &allot::Settings::of(document)));
    let of = (name, assembly.panels.len());
    let check = || {
        let folding = folding.afresh();
        let context = check::Context::new(document, &layout, Some((&assembly, &folding)), supply.as_ref());
        drop(black_box(check::check(&context)));
    };
    record.measure(of, "layout", || drop(black_box(Layout::of(document))));
    record.measure(of, "close", || drop(black_box(fold::close(&assembly))));
    record.measure(of, "check", check);
    record.measure(of, "edit", || drop(black_box(Derived::of(document))));
    let ms = |what| record.ms(of, what).unwrap_or_default();
    let panels = f64::from(u32::try_from(of.1).unwrap_or(u32::MAX));
    let times = ["layout", "close", "check", "edit"].map(|what| format!("{:>12.2}", ms(what))).concat();
    println!("{name:>50}{:>8}{times}{:>14.1}", of.1, ms("edit") * 1e3 / panels);
}

/// Looks for the folio that takes the most time a panel.
fn search(seed: u64) {
    let mut dice = Dice::new(seed);
    let mut worst = (0.0, Tray::default());
    println!("µs a panel, and the folio");
    for tried in 0..TRIED.0 + TRIED.1 {
        let tray = if tried < TRIED.0 { any(&mut dice) } else { changed(worst.1, &mut dice) };
        if tray.panels() > MOST_PANELS || tray.panels() < 20 {
            continue;
        }
        let document = tray.folio();
        let panels = f64::from(u32::try_from(tray.panels()).unwrap_or(u32::MAX));
        let each = taken(|| drop(black_box(Derived::of(&document)))).ms() * 1e3 / panels;
        if each > worst.0 {
            worst = (each, tray);
            println!("{each:>10.1}  {tray:?}");
        }
    }
}

fn any(dice: &mut Dice) -> Tray {
    let most = dice.pick(&[3, 10, 30, 60]);
    let mut side = || Side { flaps: dice.below(most + 1), reach: i64::try_from(5 + dice.below(95)).unwrap_or(5) };
    let sides = [side(), side(), side(), side()];
    let (is_deep, one_by_one) = (dice.chance(40), dice.chance(60));
    let mats = if dice.chance(50) { dice.below(60) } else { 0 };
    Tray { sides, is_deep, one_by_one, mats }
}

/// One thing of it made otherwise.
fn changed(tray: Tray, dice: &mut Dice) -> Tray {
    let mut tray = tray;
    let other = any(dice);
    let side = dice.below(4);
    match dice.below(6) {
        0 => tray.sides[side] = other.sides[side],
        1 => tray.sides[side].flaps += 1 + dice.below(5),
        2 => tray.sides[side].reach = (tray.sides[side].reach + 7).min(99),
        3 => tray.is_deep = !tray.is_deep,
        4 => tray.one_by_one = !tray.one_by_one,
        _ => tray.mats = other.mats,
    }
    tray
}
