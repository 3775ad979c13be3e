//! How long each stage takes: the starters, and accordions of more and more panels. `cargo bench` prints medians in
//! microseconds; nothing is asserted, since machines differ.

#![expect(clippy::print_stdout, reason = "a bench speaks to whoever runs it")]

use allot::{Settings, allot};
use check::Context;
use draw::folded::{Posed, View, folded_scene};
use draw::sheet::{SheetLook, sheet_nodes};
use draw::template::{TemplateOptions, template};
use model::change::{add_line, measured_score};
use model::{Crease, Direction, Document, FoldAngle, Layout, Length, LineId, Size, Turn, Unit, Work};
use session::Derived;
use std::hint::black_box;
use std::time::{Duration, Instant};

/// Runs of each stage; the median of fewer jumps about on a busy machine.
const RUNS: usize = 31;

fn main() {
    println!("median of {RUNS} runs, µs");
    let stages = ["design", "layout", "close", "supply", "check", "all of these", "sheet", "folded", "template + PDF"];
    println!("{}", stages.map(|stage| format!("{stage:>16}")).concat());
    for starter in file::starters::ALL {
        row(starter.name, &file::from_text(starter.text).expect("a starter can be read"));
    }
    for panels in [10, 50, 200] {
        row(&format!("{panels} pleats"), &accordion(panels));
    }
}

fn row(name: &str, document: &Document) {
    let layout = Layout::of(document);
    let Some(assembly) = fold::assemble(document, &layout) else {
        println!("{name:>16}  has no base");
        return;
    };
    let folding = fold::close(&assembly);
    let supply = (!document.parts.is_empty()).then(|| allot(document, &layout, &Settings::default()));
    // New ones each time: they keep what rules have worked out.
    let check = || {
        let folding = folding.clone();
        let context = Context::new(document, &layout, Some((&assembly, &folding)), supply.as_ref());
        drop(black_box(check::check(&context)));
    };
    let posed = Posed::at(&assembly, &folding, 0.5);
    let times = [
        median(|| drop(black_box(Layout::of(document)))),
        median(|| drop(black_box(fold::assemble(document, &layout).map(|assembly| fold::close(&assembly))))),
        median(|| {
            drop(black_box((!document.parts.is_empty()).then(|| allot(document, &layout, &Settings::default()))));
        }),
        median(check),
        median(|| drop(black_box(Derived::of(document)))),
        median(|| drop(black_box(sheet_nodes(document, &layout, &SheetLook::default())))),
        median(|| drop(black_box(folded_scene(&layout, &posed, &View::SLANTED)))),
        median(|| {
            let pages = template(document, &layout, None, &TemplateOptions::default());
            drop(black_box(pages.map(|pages| output::pdf(&pages))));
        }),
    ];
    println!("{name:>16}{}", times.map(|time| format!("{:>16}", time.as_micros())).concat());
}

fn median(stage: impl Fn()) -> Duration {
    let mut times: Vec<Duration> = (0..RUNS)
        .map(|_| {
            let start = Instant::now();
            stage();
            start.elapsed()
        })
        .collect();
    times.sort_unstable();
    times[RUNS / 2]
}

/// A strip of panels 10 mm wide that folds to and fro, all at once.
fn accordion(panels: u32) -> Document {
    let width = Length::MILLIMETRE * 10;
    let size = Size::new(width * i64::from(panels), width * 10).expect("a thousand panels are 10 m");
    let mut document = Document::new(size, Unit::Millimetre);
    for i in 1..panels {
        let direction = if i % 2 == 0 { Direction::Mountain } else { Direction::Valley };
        let work = Work::Score(Crease { direction, angle: FoldAngle::Flat, pressed: None });
        let line = model::Line { work, ..measured_score(LineId(i), Turn::None, width * i64::from(i)) };
        document.apply(add_line(&document, line)).expect("each id is new");
    }
    document.base = Some(model::Point::new(width.half(), width));
    document
}
