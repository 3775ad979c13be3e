//! Every starter design is one that a maker can begin with: it closes, it is read and saved without loss, and nothing
//! of its sheet goes missing.

use file::starters::{ALL, Starter};
use foliowright_tests::design;
use model::{Area, Document, PartKind};
use session::Derived;

/// Runs a test on every starter.
#[track_caller]
fn each(test: fn(&Starter, &Document, &Derived)) {
    assert!(!ALL.is_empty());
    for starter in ALL {
        let (document, derived) = design(starter.text).unwrap_or_else(|error| panic!("{}: {error}", starter.name));
        test(starter, &document, &derived);
    }
}

#[test]
fn nothing_but_how_it_goes_by_post_is_said_of_a_starter_and_nothing_silenced() {
    each(|starter, document, derived| {
        // That is a note, and no fault of a folio as deep as a stack of packets.
        let said: Vec<_> = derived.findings.iter().filter(|finding| finding.rule != "post").collect();
        assert!(said.is_empty(), "{}: {said:?}", starter.name);
        assert!(document.silences.is_empty(), "{}", starter.name);
    });
}

#[test]
fn there_is_a_starter_of_each_kind_and_each_says_where_it_comes_from() {
    // Kinds that the makers of folios asked for, in the words of their first sentences.
    let kinds = [
        "gusseted envelope",
        "one-sheet folio",
        "plain envelope",
        "gate fold",
        "woven shut",
        "accordion",
        "in millimetres from an A4 sheet",
        "a second, printed paper",
    ];
    for kind in kinds {
        assert_eq!(
            ALL.iter().filter(|starter| starter.about.contains(kind)).count(),
            1,
            "one starter is a {kind} by its first sentence"
        );
    }
    for starter in ALL {
        let named = kinds.iter().any(|kind| starter.about.contains(kind));
        assert!(named, "{}: name its kind in this list, in the words of its sentence", starter.name);
    }
    assert_eq!(kinds.len(), ALL.len(), "each starter is of another kind");
    let mut names: Vec<&str> = ALL.iter().map(|starter| starter.name).collect();
    names.sort_unstable();
    names.dedup();
    assert_eq!(names.len(), ALL.len());
    each(|starter, document, _| {
        assert!(!document.title.is_empty(), "{}", starter.name);
        let says = &document.credit;
        assert!(says.contains("What was changed") || says.contains("ours"), "{}: {says}", starter.name);
    });
}

#[test]
fn every_starter_is_on_its_page_with_its_pictures() {
    let docs = concat!(env!("CARGO_MANIFEST_DIR"), "/../docs");
    let page = std::fs::read_to_string(format!("{docs}/starters.md")).expect("the page of the starters can be read");
    for starter in ALL {
        for side in ["open", "closed"] {
            let picture = format!("pictures/{}-{side}.png", starter.name);
            assert!(page.contains(&format!("({picture})")), "docs/starters.md does not show {picture}");
            let is_there = std::path::Path::new(docs).join(&picture).is_file();
            assert!(is_there, "docs/{picture} is missing; run: docs/pictures/make");
        }
    }
}

#[test]
fn every_paper_of_a_starter_is_printed_on_both_faces_as_fine_as_printers_ask() {
    // 300 pixels an inch (common practice, no source).
    each(|starter, document, _| {
        let further = document.further_stocks.iter().map(|further| &further.stock);
        let sides: Vec<_> =
            std::iter::once(&document.stock).chain(further).flat_map(|stock| [&stock.front, &stock.back]).collect();
        let artwork: Vec<_> = sides.iter().filter_map(|side| side.artwork.as_ref()).collect();
        assert_eq!(artwork.len(), starter.pictures.len(), "{}", starter.name);
        assert_eq!(artwork.len(), sides.len(), "{}", starter.name);
        for one in artwork {
            assert!(one.pixels_per_inch() >= 300.0, "{}: {}", starter.name, one.file);
        }
    });
}

#[test]
fn parts_of_a_starter_have_their_paper_and_every_offcut_gives_some() {
    each(|starter, document, derived| {
        let Some(supply) = &derived.supply else {
            assert!(document.parts.is_empty(), "{}", starter.name);
            return;
        };
        assert!(supply.is_complete(), "{}", starter.name);
        for offcut in &supply.offcuts {
            assert!(!offcut.parts.is_empty(), "{}: {}", starter.name, offcut.name);
        }
        let (assembly, _) = derived.folded.as_ref().expect("a starter folds");
        assert!(assembly.left_out.is_empty(), "{}: {:?}", starter.name, assembly.left_out);
    });
}

#[test]
fn cards_and_packets_of_a_starter_lie_where_something_holds_them() {
    each(|starter, document, derived| {
        let fits = derived.fits(document);
        assert_eq!(
            fits.inserts.len(),
            document.parts.iter().filter(|part| matches!(part.kind, PartKind::Insert(_))).count(),
            "{}",
            starter.name
        );
        for insert in &fits.inserts {
            assert!(insert.problems.is_empty(), "{}: {insert:?}", starter.name);
        }
    });
}

#[test]
fn a_starter_is_made_in_an_order_in_which_nothing_blocks_a_later_step() {
    each(|starter, document, derived| {
        let making = derived.making(document);
        assert!(making.circles.is_empty(), "{}", starter.name);
        assert_eq!(making.broken(&making.jobs), None, "{}", starter.name);
    });
}

#[test]
fn no_starter_is_more_than_the_season_diary_so_that_budgets_measured_on_that_hold_for_all() {
    let panels = |derived: &Derived| {
        let (assembly, _) = derived.folded.as_ref().expect("a starter folds");
        assembly.panels.len()
    };
    let diary = ALL.iter().find(|starter| starter.name == "season-diary").expect("there is such a starter");
    let (_, diary) = design(diary.text).expect("a starter can be read");
    for starter in ALL {
        let (_, derived) = design(starter.text).expect("a starter can be read");
        assert!(panels(&derived) <= panels(&diary), "{}: {}", starter.name, panels(&derived));
    }
}

#[test]
fn every_fold_of_a_starter_folds_and_nothing_stands_in_its_way() {
    each(|starter, document, derived| {
        let (assembly, folding) = derived.folded.as_ref().unwrap_or_else(|| panic!("{}: no base", starter.name));
        assert_eq!(folding.troubles(), [], "{}", starter.name);
        assert!(assembly.loose.is_empty(), "{}: {:?} fold in no step", starter.name, assembly.loose);
        assert_eq!(folding.steps(), document.steps.len());
        for step in 0..folding.steps() {
            assert!(folding.moves(step), "{}: step {step} moves nothing", starter.name);
        }
    });
}

#[test]
fn a_closed_starter_is_no_larger_than_its_base_and_the_paper_around_it() {
    each(|starter, _, derived| {
        let base = derived.layout.panel(derived.layout.base.expect("a starter has a base"));
        let (_, folding) = derived.folded.as_ref().expect("a starter folds");
        let (width, height) = base.extent();
        let size = folding.closed_size();
        // Nothing of a tidy folio reaches past its base by more than some layers of its paper.
        let room = 8.0 * derived.folded.as_ref().map_or(0.0, |(assembly, _)| assembly.caliper_of(assembly.base));
        assert!(size.x <= width.mm() + room && size.y <= height.mm() + room, "{}: {size}", starter.name);
    });
}

#[test]
fn a_starter_leaves_an_offcut_to_make_parts_of_and_none_is_a_sliver() {
    // 10 mm is about the narrowest strip that is glued with ease (common practice, no source).
    const NARROW: f64 = 10.0;
    each(|starter, _, derived| {
        assert!(derived.layout.offcuts().count() >= 1, "{}", starter.name);
        for piece in derived.layout.offcuts() {
            let (low, high) = piece.bounds;
            let (width, height) = ((high.x - low.x).mm(), (high.y - low.y).mm());
            assert!(width.min(height) >= NARROW, "{}: {} is {width} x {height} mm", starter.name, piece.name);
        }
    });
}

#[test]
fn the_ledger_of_a_starter_adds_up_to_the_sheet() {
    each(|starter, document, derived| {
        let layout = &derived.layout;
        let size = document.stock.size;
        let sheet = i128::from(size.width().nm()) * i128::from(size.height().nm()) * 2;
        assert_eq!(layout.ledger.sheet.half_nm2(), sheet, "{}", starter.name);
        let ledger = layout.ledger;
        let all = ledger.folio + ledger.offcuts + ledger.slots + ledger.waste;
        assert_eq!(all.half_nm2(), sheet, "{}", starter.name);
        let taken: Area = layout.voids.iter().map(|void| void.area).sum();
        assert_eq!(
            (layout.panels.iter().map(|panel| panel.area).sum::<Area>() + taken).half_nm2(),
            sheet,
            "{}",
            starter.name
        );
        assert_eq!(
            (layout.pieces.iter().map(|piece| piece.area).sum::<Area>() + taken).half_nm2(),
            sheet,
            "{}",
            starter.name
        );
    });
}

#[test]
fn a_starter_is_saved_as_it_was_read() {
    each(|starter, document, _| assert_eq!(file::to_text(document), starter.text, "{}", starter.name));
}

#[test]
fn every_score_of_a_starter_lies_on_a_groove_of_its_board() {
    each(|starter, document, derived| {
        for line in document.lines.iter().filter(|line| line.work.is_score()) {
            let placed = derived.layout.lines[&line.id].unwrap_or_else(|fault| panic!("{}: {fault:?}", starter.name));
            let (_, across) = placed.on_board().unwrap_or_else(|| panic!("{}: {} is drawn", starter.name, line.name));
            assert!(across.is_multiple_of(document.groove), "{}: {}", starter.name, line.name);
        }
    });
}

/// The starter of a name with other named lengths, each said as a name and a value.
#[track_caller]
fn with_lengths(name: &str, values: &[(&str, &str)]) -> (Document, Derived) {
    let starter = ALL.iter().find(|starter| starter.name == name).expect("there is such a starter");
    let (document, derived) = design(starter.text).expect("a starter can be read");
    let edit = model::named::change::set_values(&document, values, None).expect("its lengths can be that");
    let performed = model::change::perform(&document, &derived.layout, edit)
        .unwrap_or_else(|refusal| panic!("{name} with {values:?}: {refusal}"));
    let derived = Derived::of(&performed.document);
    (performed.document, derived)
}

/// That nothing worse than a note is said of a starter with every combination of some values, and that its parts have
/// their paper.
#[track_caller]
fn stays_sound(name: &str, values: &[(&str, &[&str])]) {
    let mut all: Vec<Vec<(&str, &str)>> = vec![Vec::new()];
    for (name, options) in values {
        all = all
            .iter()
            .flat_map(|chosen| options.iter().map(|value| [chosen.clone(), vec![(*name, *value)]].concat()))
            .collect();
    }
    for chosen in all {
        let (document, derived) = with_lengths(name, &chosen);
        let worse: Vec<_> =
            derived.findings.iter().filter(|finding| finding.severity != check::Severity::Note).collect();
        assert!(worse.is_empty(), "{name} with {chosen:?}: {worse:?}");
        assert!(derived.supply.as_ref().is_none_or(allot::Allotment::is_complete), "{name} with {chosen:?}");
        for (slot, formula) in &document.lengths.formulas {
            let value = document.lengths.value_of(formula).expect("it has a value").length;
            assert_eq!(document.length_in(*slot), Some(value), "{name} with {chosen:?}: {formula}");
        }
    }
}

#[test]
fn starters_with_named_lengths_stay_sound_with_other_values() {
    let packets = ["4 in", "4 1/4 in", "4 1/2 in", "4 3/4 in"];
    stays_sound("packet-envelope", &[("packet width", &packets), ("packet height", &["3 1/4 in", "3 1/2 in", "4 in"])]);
    let (widths, heights) = (["5 in", "5 1/2 in", "6 in"], ["4 1/4 in", "4 1/2 in", "5 in"]);
    let depths = ["1/8 in", "1/4 in", "3/8 in"];
    stays_sound("seed-swap", &[("tray width", &widths), ("tray height", &heights), ("gusset", &depths)]);
    let cards = ["100 mm", "105 mm", "110 mm"];
    let sizes =
        [("card width", &cards[..]), ("card height", &["138 mm", "143 mm", "148 mm"]), ("gusset", &["4 mm", "5 mm"])];
    stays_sound("postcard-wallet", &sizes);
}

#[test]
fn what_a_starter_names_is_used_in_it_and_said_in_a_sentence() {
    let mut named = 0;
    each(|_, document, _| {
        for length in &document.lengths.list {
            assert!(!document.uses_of(&length.name).is_empty(), "{}", length.name);
            assert!(length.about.ends_with('.'), "{}: {}", length.name, length.about);
        }
    });
    for starter in ALL {
        let (document, _) = design(starter.text).expect("a starter can be read");
        named += usize::from(!document.lengths.is_empty());
    }
    assert!(named >= 3, "{named}");
}

#[test]
fn a_wider_packet_makes_a_wider_envelope() {
    let (document, derived) =
        with_lengths("packet-envelope", &[("packet width", "4 in"), ("packet height", "3 1/2 in")]);
    let base = derived.layout.panel(derived.layout.base.expect("a base is marked"));
    // An inch wider and higher than the packet, as it is for the packet that it came with.
    let inch = model::Length::INCH;
    assert_eq!(base.extent(), (inch * 5, inch * 4 + inch / 2));
    assert!(derived.fits(&document).inserts.iter().all(|insert| insert.problems.is_empty()));
}
