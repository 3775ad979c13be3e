//! How long each export takes, from a design with all that follows from it to the bytes of its files: of every starter, or
//! with `-- --sizes` of made-up folios of more and more panels, with the power of the panels by which each grew. Nothing is
//! asserted, since machines differ. The time to read pictures is not in it. `-- --json FILE` writes the numbers too,
//! `-- --only NAME` measures one starter.

#![expect(clippy::print_stdout, reason = "a bench speaks to whoever runs it")]

use draw::animation::Pace;
use draw::artwork::Prints;
use draw::folded::View;
use export::{AnimationChoice, Design, Export};
use foliowright_tests::exported::{Asked, all, steps};
use foliowright_tests::large::Sort;
use foliowright_tests::ruler::{Record, after};
use model::Document;
use session::Derived;
use std::hint::black_box;
use std::ops::ControlFlow;

/// How many panels the made-up folios have.
const SIZES: [usize; 4] = [50, 200, 500, 2000];

/// Pixels across the animation that is measured, and about how many pictures it has.
const ANIMATION: (u32, f64) = (800, 90.0);

fn main() {
    let mut record = Record::new("exports");
    println!("medians in ms, of an animation of about {} pictures {} px across", ANIMATION.1, ANIMATION.0);
    if std::env::args().any(|word| word == "--sizes") {
        for sort in Sort::ALL {
            for size in SIZES {
                design(&mut record, sort.name(), &sort.folio(size));
            }
        }
    } else {
        let only = after("--only");
        for starter in file::starters::ALL.iter().filter(|one| only.as_deref().is_none_or(|name| name == one.name)) {
            design(&mut record, starter.name, &file::from_text(starter.text).expect("a starter can be read"));
        }
    }
    record.write();
}

fn design(record: &mut Record, name: &str, document: &Document) {
    let derived = Derived::of(document);
    let panels = derived.folded.as_ref().map_or(0, |(assembly, _)| assembly.panels.len());
    println!("{name}, {panels} panels");
    for asked in all(document, steps(&derived)).iter().filter(|asked| !asked.name.starts_with("animation")) {
        row(record, (name, panels), (document, &derived), asked);
    }
    for ending in ["gif", "apng"] {
        row(record, (name, panels), (document, &derived), &animation(&derived, ending));
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

fn row(record: &mut Record, of: (&str, usize), (document, derived): (&Document, &Derived), asked: &Asked) {
    let per_mm = asked.export.per_mm(document, derived, asked.ending);
    let pictures = per_mm.map(|per_mm| disk::artwork::unsaved(document, per_mm).0);
    let prints = Prints::new(document, pictures.into_iter().flatten());
    let design = Design { document, derived, prints: &prints };
    let files = || asked.export.files(&design, asked.ending, &mut |_done, _all| ControlFlow::Continue(()));
    let name = format!("{}.{}", asked.name, asked.ending);
    let mut made = None;
    let Some(taken) = record.measure(of, &name, || made = Some(black_box(files()))) else {
        println!("{name:>26}  takes too long, by the size before");
        return;
    };
    match made {
        Some(Ok(made)) => {
            let bytes: usize = made.files.iter().map(|file| file.bytes.len()).sum();
            let told = made.files.first().map_or("", |file| file.told.as_str());
            let grown = record.exponent(of, &name).map_or(String::new(), |by| format!("{by:.1}"));
            println!("{name:>26}{:>10.1}{grown:>6}{:>10} kB  {told}", taken.ms(), bytes / 1000);
        }
        Some(Err(why)) => {
            // How long a refusal takes is no time of an export.
            record.forget(of, &name);
            println!("{name:>26}  {why}");
        }
        None => {}
    }
}
