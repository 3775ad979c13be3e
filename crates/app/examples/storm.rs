//! A long storm of events on the window, one starter after the other: `storm [DOINGS [SEED [STARTER]]]`, from the one that is
//! named. It ends with a panic where anything goes wrong, and says so with the seed.

#![expect(clippy::print_stdout, clippy::unwrap_used, reason = "a tool for those who work on the window")]

#[path = "../tests/storm/maker.rs"]
mod maker;

use maker::{Maker, with_own};

/// How many doings a design is open for.
const A_DESIGN: u32 = 2000;

fn main() {
    let mut arguments = std::env::args().skip(1);
    let mut number = |usual: u64| arguments.next().map_or(usual, |text| text.parse().unwrap());
    let (doings, first) = (u32::try_from(number(100_000)).unwrap(), number(1));
    let starters = file::starters::ALL;
    let name = std::env::args().nth(3);
    let named = |name: String| starters.iter().position(|starter| starter.name == name).unwrap();
    let from = name.map_or(0, named);
    let mut done = 0;
    for (seed, starter) in (first..).zip(starters.iter().cycle().skip(from)) {
        if done >= doings {
            break;
        }
        let now = A_DESIGN.min(doings - done);
        println!("{done} done; {} with seed {seed}", starter.name);
        let document = file::from_text(starter.text).unwrap();
        // Every other one with a shape of her own on its base, which no starter has.
        let mut maker = Maker::new(if seed % 2 == 0 { with_own(document) } else { document }, seed);
        maker.work(now);
        println!("{} steps are made now", maker.steps());
        done += now;
    }
    println!("{done} doings, and all is well");
}
