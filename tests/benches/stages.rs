//! How long each stage takes, from a document to what the window shows of it: the demo, the largest starter, and made-up
//! folios of more and more panels, with the power of the panels by which each stage grows from size to size. Nothing is
//! asserted, since machines differ. `cargo bench -p foliowright-tests --bench stages`, with `-- --json FILE` for a file of
//! numbers as well and `-- --most PANELS` to leave out larger ones. `-- --write FOLDER` writes some of the made-up folios as
//! project files, `-- --busy` comes nearer to the truth on a busy machine, and `-- --folder FOLDER` measures the project files in a folder in place of all these.

#![expect(clippy::print_stdout, reason = "a bench speaks to whoever runs it")]

use allot::{Allotment, Settings, allot};
use check::Context;
use draw::folded::{Posed, View, folded_scene};
use draw::sheet::{SheetLook, sheet_nodes};
use fold::{Assembly, Extent, Folding, alternatives};
use foliowright_tests::large::Sort;
use foliowright_tests::ruler::{Record, after};
use make::Making;
use model::{Document, Layout};
use session::Derived;
use std::hint::black_box;
use std::path::{Path, PathBuf};

/// How many panels the made-up folios have.
const SIZES: [usize; 4] = [50, 200, 500, 2000];

/// How many panels those have that are written.
const WRITTEN: usize = 500;

/// Layer orders are looked for as far as telling whether there is more than one.
const ORDERS: Extent = Extent { most: 1, effort: 0 };

/// What is measured, in the order of the columns.
const STAGES: [&str; 10] =
    ["layout", "assemble", "close", "orders", "check", "nest", "fit", "make", "draw sheet", "draw folded"];

/// All stages that an edit sets off, as the window runs them.
const ALL: &str = "edit";

fn main() {
    let mut bench = Bench { record: Record::new("stages") };
    let most = after("--most").and_then(|most| most.parse().ok()).unwrap_or(usize::MAX);
    if let Some(folder) = after("--write") {
        for sort in Sort::ALL {
            let path = Path::new(&folder).join(format!("{}-{WRITTEN}.folio", sort.name()));
            std::fs::write(&path, file::to_text(&sort.folio(WRITTEN))).expect("the folder can be written to");
        }
        return;
    }
    println!("medians in ms; under a made-up folio, the power of the panels by which each grew since the size before");
    println!("{:>12}{:>8}{}{ALL:>12}", "", "panels", STAGES.map(|stage| format!("{stage:>12}")).concat());
    if let Some(folder) = after("--folder") {
        for path in projects(Path::new(&folder)) {
            let text = std::fs::read_to_string(&path).expect("the file can be read");
            let name = path.file_stem().unwrap_or_default().to_string_lossy();
            bench.row(&name, &file::from_text(&text).expect("it is a project file"));
        }
        bench.record.write();
        return;
    }
    for starter in ["seed-swap", "season-diary"] {
        let text = file::starters::ALL.iter().find(|one| one.name == starter).expect("there is such a starter").text;
        bench.row(starter, &file::from_text(text).expect("a starter can be read"));
    }
    for sort in Sort::ALL {
        for size in SIZES.into_iter().filter(|size| *size <= most) {
            bench.row(sort.name(), &sort.folio(size));
        }
    }
    bench.record.write();
}

fn projects(folder: &Path) -> Vec<PathBuf> {
    let entries = std::fs::read_dir(folder).expect("the folder can be read").flatten();
    let paths = entries.map(|entry| entry.path()).filter(|path| path.extension().is_some_and(|end| end == "folio"));
    let mut paths: Vec<PathBuf> = paths.collect();
    paths.sort();
    paths
}

struct Bench {
    record: Record,
}

/// All that follows from a document, stage by stage.
struct Stages<'a> {
    document: &'a Document,
    layout: Layout,
    assembly: Assembly,
    folding: Folding,
    supply: Option<Allotment>,
}

impl Bench {
    fn row(&mut self, name: &str, document: &Document) {
        let layout = Layout::of(document);
        let Some(assembly) = fold::assemble(document, &layout) else {
            println!("{name:>12}  has no base");
            return;
        };
        let of = (name, assembly.panels.len());
        let supply = supply(document, &layout);
        // Where closing takes too long already, all that rests on it does too.
        let closed = self.record.measure(of, "close", || drop(black_box(fold::close(&assembly))));
        let Some(_) = closed else {
            println!("{name:>12}{:>8}  takes too long to close, by the size before", of.1);
            return;
        };
        let folding = fold::close(&assembly);
        let stages = Stages { document, layout, assembly, folding, supply };
        let only = after("--only");
        let is_one = |only: &str, stage: &str| only.split(',').any(|one| one == stage);
        let is_asked = |stage: &&str| *stage != "close" && only.as_deref().is_none_or(|only| is_one(only, stage));
        for stage in STAGES.into_iter().filter(is_asked) {
            self.record.measure(of, stage, || stages.run(stage));
        }
        self.record.measure(of, ALL, || drop(black_box(Derived::of(document))));
        self.print(of);
    }

    fn print(&self, of: (&str, usize)) {
        let times = STAGES.iter().chain([&ALL]).map(|stage| {
            let ms = self.record.ms(of, stage);
            ms.map_or_else(|| format!("{:>12}", "-"), |ms| format!("{ms:>12.3}"))
        });
        println!("{:>12}{:>8}{}", of.0, of.1, times.collect::<String>());
        let grown: Vec<Option<f64>> =
            STAGES.iter().chain([&ALL]).map(|stage| self.record.exponent(of, stage)).collect();
        if grown.iter().any(Option::is_some) {
            let grown = grown.iter().map(|by| by.map_or_else(|| " ".repeat(12), |by| format!("{by:>12.1}")));
            println!("{:>20}{}", "", grown.collect::<String>());
        }
    }
}

fn supply(document: &Document, layout: &Layout) -> Option<Allotment> {
    (!document.parts.is_empty()).then(|| allot(document, layout, &Settings::of(document)))
}

impl Stages<'_> {
    fn run(&self, stage: &str) {
        let Self { document, layout, assembly, folding, supply: from } = self;
        match stage {
            "layout" => drop(black_box(Layout::of(document))),
            "assemble" => drop(black_box(fold::assemble(document, layout))),
            "orders" => drop(black_box(alternatives(assembly, folding, ORDERS))),
            "check" => {
                // A folding keeps what rules have worked out.
                let folding = folding.afresh();
                let context = Context::new(document, layout, Some((assembly, &folding)), from.as_ref());
                drop(black_box(check::check(&context)));
            }
            "nest" => drop(black_box(supply(document, layout))),
            "fit" => {
                let pockets = fit::pockets(document, layout);
                let corners = fit::corner_sets(document, layout);
                let trays = fit::trays(document, layout, assembly, folding);
                drop(black_box((pockets, corners, trays, fit::mats(document, layout, folding, fit::MARGIN))));
            }
            "make" => drop(black_box(Making::of(document, layout))),
            "draw sheet" => drop(black_box(sheet_nodes(document, layout, &SheetLook::default()))),
            "draw folded" => {
                let posed = Posed::at(assembly, folding, 0.5);
                drop(black_box(folded_scene(layout, &posed, &View::SLANTED)));
            }
            _ => unreachable!("every stage has its line here"),
        }
    }
}
