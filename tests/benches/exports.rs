//! How long each export takes, from a design with all that follows from it to the bytes of its files. `cargo bench` prints
//! medians in milliseconds; nothing is asserted, since machines differ. The time to read pictures is not in it.

#![expect(clippy::print_stdout, reason = "a bench speaks to whoever runs it")]

use draw::animation::Pace;
use draw::artwork::Prints;
use draw::folded::View;
use export::{AnimationChoice, Design, Export};
use foliowright_tests::exported::{Asked, all, steps};
use model::Document;
use session::Derived;
use std::hint::black_box;
use std::ops::ControlFlow;
use std::time::{Duration, Instant};

/// Runs of each export; of an animation fewer, since one takes seconds.
const RUNS: (usize, usize) = (11, 3);

/// Pixels across the animation that is measured, and about how many pictures it has.
const ANIMATION: (u32, f64) = (800, 90.0);

fn main() {
    println!("median of {} runs ({} of animations), ms", RUNS.0, RUNS.1);
    for starter in file::starters::ALL {
        let document = file::from_text(starter.text).expect("a starter can be read");
        let derived = Derived::of(&document);
        println!("{}", starter.name);
        for asked in all(&document, steps(&derived)).iter().filter(|asked| !asked.name.starts_with("animation")) {
            row(&document, &derived, asked, RUNS.0);
        }
        for ending in ["gif", "apng"] {
            row(&document, &derived, &animation(&derived, ending), RUNS.1);
        }
    }
}

/// One of about as many pictures as are to be measured: those of all steps there and back.
fn animation(derived: &Derived, ending: &'static str) -> Asked {
    let per_step = (ANIMATION.1 / 2.0 / steps(derived).max(1.0)).round().clamp(1.0, 50.0);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "between 1 and 50")]
    let pace = Pace { per_step: per_step as u32, hold: 100 };
    let export = Export::Animation(AnimationChoice { view: View::SLANTED, width: ANIMATION.0, pace });
    Asked { name: "animation", export, ending }
}

fn row(document: &Document, derived: &Derived, asked: &Asked, runs: usize) {
    let per_mm = asked.export.per_mm(document, derived, asked.ending);
    let pictures = per_mm.map(|per_mm| disk::artwork::unsaved(document, per_mm).0);
    let prints = Prints::new(document, pictures.into_iter().flatten());
    let design = Design { document, derived, prints: &prints };
    let files = || asked.export.files(&design, asked.ending, &mut |_done, _all| ControlFlow::Continue(()));
    let name = format!("{}.{}", asked.name, asked.ending);
    match files() {
        Ok(made) => {
            let time = median(runs, || drop(black_box(files())));
            let bytes: usize = made.files.iter().map(|file| file.bytes.len()).sum();
            let told = made.files.first().map_or("", |file| file.told.as_str());
            println!("{name:>26}{:>10.1}{:>10} kB  {told}", time.as_secs_f64() * 1000.0, bytes / 1000);
        }
        Err(why) => println!("{name:>26}  {why}"),
    }
}

fn median(runs: usize, export: impl Fn()) -> Duration {
    let mut times: Vec<Duration> = (0..runs)
        .map(|_| {
            let start = Instant::now();
            export();
            start.elapsed()
        })
        .collect();
    times.sort_unstable();
    times[runs / 2]
}
