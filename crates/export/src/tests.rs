//! Every kind of export of the starters, and why there is none.

use super::*;
use draw::animation::Pace;
use draw::cutting::CuttingLayout;
use draw::folded::View;
use draw::template::{Paper, Sides};
use file::starters;
use model::{Length, Turn};

/// One of each kind, and pictures of both sorts.
fn kinds(document: &Document) -> Vec<Export> {
    let (view, width) = (View::SLANTED, 120);
    vec![
        Export::Template(TemplateChoice::usual(document)),
        Export::Booklet(BookletChoice::usual(document)),
        Export::Cutting(CuttingOptions::default()),
        Export::Inserts(InsertsChoice::usual(document)),
        Export::Picture(PictureChoice { shown: Shown::Sheet(Turn::None), width, is_clear: false }),
        Export::Picture(PictureChoice { shown: Shown::Folio(1.5, view), width, is_clear: true }),
        Export::Contact(ContactChoice { view, width }),
        Export::Animation(AnimationChoice { view, width: 60, pace: Pace { per_step: 2, hold: 20 } }),
    ]
}

/// How many places `place` gives.
const PLACES: usize = 7;

/// Which of the kinds it is. The compiler asks for a new one here; it also goes into `kinds` above, with what its files begin
/// with into `start` below, and into `tests/src/exported.rs`.
const fn place(export: &Export) -> usize {
    match export {
        Export::Template(_) => 0,
        Export::Booklet(_) => 1,
        Export::Cutting(_) => 2,
        Export::Inserts(_) => 3,
        Export::Picture(_) => 4,
        Export::Contact(_) => 5,
        Export::Animation(_) => 6,
    }
}

/// The animation among `kinds`.
fn animation(document: &Document) -> Export {
    kinds(document).into_iter().find(|export| matches!(export, Export::Animation(_))).expect("it is one of them")
}

/// What a file of an ending begins with.
fn start(ending: &str) -> &'static [u8] {
    match ending {
        "pdf" => b"%PDF",
        "svg" => b"<",
        "dxf" => b"  0",
        "gif" => b"GIF89a",
        "png" | "apng" => b"\x89PNG",
        other => panic!("say in `start` what a .{other} file begins with"),
    }
}

fn go_on(_done: usize, _all: usize) -> ControlFlow<()> {
    ControlFlow::Continue(())
}

#[test]
fn every_kind_is_among_those_that_are_tried() {
    let mut places: Vec<usize> = kinds(&starters::demo()).iter().map(place).collect();
    places.dedup();
    assert!(
        places.iter().copied().eq(0..PLACES),
        "`kinds` has kinds of these places: {places:?}, and `PLACES` is {PLACES}; add the missing kind, or count it"
    );
}

#[test]
fn every_starter_is_exported_in_every_way_and_the_same_each_time() {
    for document in starters::ALL.iter().map(|starter| file::from_text(starter.text).unwrap()) {
        let derived = Derived::of(&document);
        let prints = Prints::default();
        let design = Design { document: &document, derived: &derived, prints: &prints };
        for export in kinds(&document) {
            for ending in export.endings() {
                let made = export.files(&design, ending, &mut go_on).unwrap_or_else(|why| panic!("{export:?}: {why}"));
                assert!(!made.files.is_empty() && made.files[0].tail.is_empty(), "{export:?}");
                for file in &made.files {
                    assert!(file.bytes.starts_with(start(ending)), "{export:?} {ending}");
                }
                assert_eq!(export.files(&design, ending, &mut go_on).unwrap(), made, "{export:?} {ending}");
            }
        }
    }
}

#[test]
fn what_is_looked_at_first_is_what_is_written() {
    let document = starters::demo();
    let derived = Derived::of(&document);
    let prints = Prints::default();
    let design = Design { document: &document, derived: &derived, prints: &prints };
    let usual = TemplateChoice::usual(&document);
    let both = TemplateChoice { sides: Sides::Both, ..usual };
    let large = TemplateChoice { paper: Paper::Sheet, ..usual };
    let counts = [usual, both, large].map(|choice| {
        let export = Export::Template(choice);
        let pages = export.pages(&design).unwrap().unwrap();
        let told = &export.files(&design, "pdf", &mut go_on).unwrap().files[0].told;
        assert_eq!(*told, format!("{} pages", pages.len()));
        pages.len()
    });
    assert!(counts[1] > counts[0] && counts[2] < counts[0], "{counts:?}");
    let picture = Export::Picture(PictureChoice { shown: Shown::Sheet(Turn::None), width: 99, is_clear: false });
    let [drawing] = picture.pages(&design).unwrap().unwrap().try_into().unwrap();
    assert_eq!(
        output::svg(&drawing).unwrap().into_bytes(),
        picture.files(&design, "SVG", &mut go_on).unwrap().files[0].bytes
    );
    assert_eq!(Export::Cutting(CuttingOptions::default()).pages(&design).unwrap(), None);
}

#[test]
fn pieces_side_by_side_are_written_as_well_and_further_sheets_have_numbers() {
    let document = file::from_text(starters::ALL[1].text).unwrap();
    let derived = Derived::of(&document);
    let prints = Prints::default();
    let design = Design { document: &document, derived: &derived, prints: &prints };
    let options = CuttingOptions { layout: CuttingLayout::Pieces, ..CuttingOptions::default() };
    let made = Export::Cutting(options).files(&design, "dxf", &mut go_on).unwrap();
    let tails: Vec<&str> = made.files.iter().map(|file| file.tail.as_str()).collect();
    assert_eq!(tails.iter().collect::<std::collections::BTreeSet<_>>().len(), tails.len(), "no two files of one name");
}

#[test]
fn why_there_is_none_is_told() {
    #[track_caller]
    fn check(document: &Document, export: &Export, ending: &str, says: &str) {
        let derived = Derived::of(document);
        let prints = Prints::default();
        let design = Design { document, derived: &derived, prints: &prints };
        let why = export.files(&design, ending, &mut go_on).unwrap_err().to_string();
        assert!(why.contains(says), "{why}");
    }
    let demo = starters::demo();
    for export in kinds(&demo) {
        check(
            &demo,
            &export,
            "txt",
            &format!("{} needs another name; end its name in .{}", export.name(), export.endings()[0]),
        );
    }
    let mut loose = demo.clone();
    loose.base = None;
    let folio = Export::Picture(PictureChoice { shown: Shown::Folio(1.0, View::BACK), width: 50, is_clear: false });
    check(&loose, &folio, "png", "no panel is marked as the base");
    check(&loose, &Export::Contact(ContactChoice { view: View::FRONT, width: 50 }), "svg", "no panel is marked");
    let mut flat = demo.clone();
    flat.steps.clear();
    check(&flat, &animation(&demo), "gif", "no step of the closing moves anything");
    let corner = InsertsChoice { corner: Length::INCH * 5, ..InsertsChoice::usual(&demo) };
    check(&demo, &Export::Inserts(corner), "pdf", "corners of 5 in would meet");
}

#[test]
fn an_animation_tells_how_far_it_is_and_is_called_off() {
    let document = starters::demo();
    let derived = Derived::of(&document);
    let prints = Prints::default();
    let design = Design { document: &document, derived: &derived, prints: &prints };
    let animation = animation(&document);
    let mut told = Vec::new();
    let made = animation.files(&design, "gif", &mut |done, all| {
        told.push((done, all));
        ControlFlow::Continue(())
    });
    let all = told.len();
    assert_eq!(made.unwrap().files[0].told, format!("{all} pictures"));
    assert!(told.iter().enumerate().all(|(i, &(done, of))| done == i + 1 && of == all), "{told:?}");
    let stopped = animation.files(&design, "apng", &mut |done, _| {
        if done == 3 { ControlFlow::Break(()) } else { ControlFlow::Continue(()) }
    });
    assert!(matches!(stopped, Err(ExportRefusal::Output(output::OutputError::Stopped))), "{stopped:?}");
}

#[test]
fn further_files_have_more_in_their_names() {
    let file = |tail: &str| ExportedFile { tail: tail.to_owned(), bytes: Vec::new(), told: String::new() };
    assert_eq!(file("-2-back").path(Path::new("a/b.svg")), Path::new("a/b-2-back.svg"));
    assert_eq!(file("").path(Path::new("a/b.svg")), Path::new("a/b.svg"));
}
