//! The budgets of `docs/speed.md` beside what is measured here, but for those of the window, which
//! `cargo bench -p foliowright-app` has. Nothing is asserted, since machines differ. `-- --json FILE` writes the numbers too.

#![expect(clippy::print_stdout, reason = "a bench speaks to whoever runs it")]

extern crate order as foliowright_order;

#[path = "../../crates/order/tests/common/mod.rs"]
mod common;

use common::{Random, map, ready, simply_folded};
use draw::animation::Pace;
use draw::artwork::Prints;
use draw::folded::View;
use export::{AnimationChoice, BookletChoice, Design, Export, TemplateChoice};
use foliowright_tests::large::Sort;
use foliowright_tests::ruler::{Record, Taken, taken};
use model::change::move_line;
use model::{Document, Length, LineId, Place, Turn};
use order::{Answer, Count, prepare};
use session::{Derived, Session};
use std::hint::black_box;
use std::ops::ControlFlow;

/// All orders of a map of four by four: OEIS A001418.
const ORDERS: u128 = 300_608;

fn main() {
    let mut bench = Bench { record: Record::new("budgets") };
    println!("{:>46}{:>12}{:>12}{:>12}", "ms", "budget", "median", "worst");
    let starter = file::starters::ALL.iter().find(|one| one.name == "season-diary").expect("it is there");
    let diary = file::from_text(starter.text).expect("a starter can be read");
    bench.drag("largest starter", &diary, 4.0);
    for sort in Sort::ALL {
        bench.drag(&format!("{} of 500 panels", sort.name()), &sort.folio(500), 16.0);
    }
    bench.orders();
    bench.exports(&diary);
    bench.record.write();
}

struct Bench {
    record: Record,
}

impl Bench {
    fn row(&mut self, name: &str, panels: usize, budget: Option<f64>, taken: Taken) {
        let worst = taken.worst.as_secs_f64() * 1e3;
        let budget = budget.map_or_else(|| "-".to_owned(), |budget| format!("{budget:.0}"));
        println!("{name:>46}{budget:>12}{:>12.3}{worst:>12.3}", taken.ms());
        self.record.keep((name, panels), "budget", taken);
    }

    /// A line dragged to and fro, from the document to its findings.
    fn drag(&mut self, name: &str, document: &Document, budget: f64) {
        let scores = document.lines.iter().filter(|line| line.work.is_score());
        let upright = |place: Place| matches!(place, Place::Measured { turn: Turn::None, .. });
        let mut scores: Vec<LineId> = scores.clone().filter(|line| upright(line.place)).map(|line| line.id).collect();
        if scores.is_empty() {
            scores = document.lines.iter().filter(|line| line.work.is_score()).map(|line| line.id).collect();
        }
        let id = scores[scores.len() / 2];
        let mut session = Session::new(document.clone());
        let panels = session.derived().folded.as_ref().map_or(0, |(assembly, _)| assembly.panels.len());
        session.begin_gesture("Move a line");
        let mut i = 0_i64;
        let taken = taken(|| {
            let (start, layout) = session.gesture_start().expect("a drag is under way");
            let across = layout.lines[&id].expect("it has its place").on_board().expect("it is measured").1;
            let by = Length::MILLIMETRE * (1 + i % 3);
            let edit = move_line(start, layout, id, if i % 2 == 0 { across + by } else { across - by });
            i += 1;
            session.drag(edit).expect("it may lie there");
        });
        self.row(&format!("a line dragged, {name}"), panels, Some(budget), taken);
    }

    fn orders(&mut self) {
        let figure = map(4, 4);
        let count = || prepare(&figure).expect("a map is well formed").count(1 << 30);
        assert_eq!(count(), Count::Exact(ORDERS));
        self.row(
            "all orders of a map of 4 x 4 counted",
            16,
            Some(1000.0),
            taken(|| assert_ne!(count(), Count::Exact(0))),
        );
        let all = || {
            let listing = ready(&figure).list(1 << 30);
            listing.states().map(black_box).count()
        };
        self.row("all orders of a map of 4 x 4 listed", 16, Some(1000.0), taken(|| assert_ne!(all(), 0)));
        let pile = simply_folded(8, 12, &mut Random(1));
        let first = || prepare(&pile).expect("a map is well formed").solve();
        assert!(matches!(first(), Answer::Order(_)), "it was folded up");
        let overlaps = || prepare(&pile).expect("a map is well formed").overlaps().len();
        self.row("what lies over what in a pile of 96 panels", 96, None, taken(|| assert_eq!(overlaps(), 96 * 95 / 2)));
        self.row("a first order of a pile of 96 panels", 96, Some(10.0), taken(|| drop(black_box(first()))));
    }

    fn exports(&mut self, document: &Document) {
        let derived = Derived::of(document);
        let panels = derived.folded.as_ref().map_or(0, |(assembly, _)| assembly.panels.len());
        let steps = derived.folded.as_ref().map_or(1, |(_, folding)| folding.steps()).max(1);
        // There and back in about 90 pictures.
        let pace = Pace { per_step: u32::try_from((90 / (2 * steps)).max(1)).unwrap_or(1), hold: 100 };
        let moving = Export::Animation(AnimationChoice { view: View::SLANTED, width: 800, pace });
        let asked = [
            ("template PDF, largest starter", Export::Template(TemplateChoice::usual(document)), "pdf", 100.0),
            ("booklet PDF, largest starter", Export::Booklet(BookletChoice::usual(document)), "pdf", 500.0),
            ("animation of 90 pictures, 800 px, GIF", moving.clone(), "gif", 5000.0),
            ("animation of 90 pictures, 800 px, APNG", moving, "apng", 5000.0),
        ];
        for (name, export, ending, budget) in asked {
            let pictures = export.per_mm(document, &derived, ending);
            let pictures = pictures.map(|per_mm| disk::artwork::unsaved(document, per_mm).0);
            let prints = Prints::new(document, pictures.into_iter().flatten());
            let design = Design { document, derived: &derived, prints: &prints };
            let files = || export.files(&design, ending, &mut |_done, _all| ControlFlow::Continue(()));
            assert!(files().is_ok(), "{name} can be made");
            self.row(name, panels, Some(budget), taken(|| drop(black_box(files()))));
        }
    }
}
