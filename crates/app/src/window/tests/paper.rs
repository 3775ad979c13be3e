//! The paper: its fields, further papers, and the move to another sheet.

use super::*;
use egui::Key;
use model::{Caliper, Colour, Grain, Pattern, SheetEdge, Stock};

fn open() -> Bench {
    let mut bench = bench();
    press(&mut bench, "Paper…");
    bench
}

fn stock(bench: &Bench) -> &Stock {
    &bench.state().session().document().stock
}

#[test]
fn a_paper_is_named_weighed_and_coloured() {
    let mut bench = open();
    type_into(&mut bench, "Name of the paper", "Leaf green cover");
    type_into(&mut bench, "Weight", "80");
    assert!(exists(&bench, "is not a paper's weight"), "in the model's words");
    type_into(&mut bench, "Weight", "80 lb");
    assert!(exists(&bench, "of which grade the pounds are"));
    type_into(&mut bench, "Weight", "80 lb cover");
    type_into(&mut bench, "Colour of the front", "green");
    assert!(exists(&bench, "is not a colour"));
    type_into(&mut bench, "Colour of the front", "#7a9b3c");
    type_into(&mut bench, "Colour where it is cut", "#FFFFFF");
    choose(&mut bench, "Pattern of the back", "printed, up to the right");
    choose(&mut bench, "Way the grain runs", "from side to side");
    let stock = stock(&bench);
    assert_eq!(stock.name, "Leaf green cover");
    assert_eq!(stock.weight.unwrap().to_string(), "80 lb cover");
    assert_eq!((stock.front.colour, stock.core), (Colour::parse("#7a9b3c"), Colour::parse("#ffffff")));
    assert_eq!((stock.back.pattern, stock.grain), (Pattern::OneWay(SheetEdge::Right), Some(Grain::Level)));
}

#[test]
fn a_thickness_is_measured_or_follows_from_the_bulk() {
    let mut bench = open();
    type_into(&mut bench, "Thickness of the paper", "0.28 mm");
    assert!(exists(&bench, "0.28 mm thick, as measured."));
    choose(&mut bench, "How the thickness is known", "estimated from its bulk");
    assert!(exists(&bench, "Say how heavy it is"));
    type_into(&mut bench, "Weight", "216 g/m2");
    choose(&mut bench, "Finish of the paper", "silk coated");
    // 216 g/m² at 1 cm³/g is 216 µm (the definition of bulk, ISO 534).
    assert_eq!(stock(&bench).thickness(), Some(Length::from_nm(216_000)));
    assert!(exists(&bench, "216 g/m² at a bulk of 1 cm³/g."));
    type_into(&mut bench, "Bulk, cm³/g", "9");
    assert!(exists(&bench, "is not a bulk"));
    choose(&mut bench, "How the thickness is known", "not known");
    assert_eq!(stock(&bench).caliper, Caliper::Unknown);
}

#[test]
fn further_papers_are_added_changed_and_removed() {
    let mut bench = open();
    press(&mut bench, "Add a paper");
    type_into(&mut bench, "Name of the paper", "Mat");
    type_into(&mut bench, "Size of the sheet", "6x6in");
    let further = |bench: &Bench| bench.state().session().document().further_stocks.clone();
    assert_eq!((further(&bench).len(), further(&bench)[0].stock.name.as_str()), (1, "Mat"));
    assert_eq!(stock(&bench).size, Size::parse("12x12in").unwrap(), "the folio's paper stays");
    press(&mut bench, "The folio's paper");
    assert_eq!(shown(&bench, "Name of the paper"), "");
    press(&mut bench, "Mat");
    assert_eq!(shown(&bench, "Name of the paper"), "Mat");
    press(&mut bench, "Remove this paper");
    assert!(further(&bench).is_empty());
    assert_eq!(shown(&bench, "Size of the sheet"), "12 x 12 in", "the folio's paper is shown again");
}

#[test]
fn a_design_moves_to_another_sheet() {
    let mut bench = open();
    press(&mut bench, "Move to another sheet…");
    type_into(&mut bench, "Size of the other sheet", "small");
    assert!(exists(&bench, "is not a size"));
    type_into(&mut bench, "Size of the other sheet", "8x8in");
    assert!(bench.state().dialog.is_none(), "the question is answered");
    assert_eq!(stock(&bench).size, Size::parse("8x8in").unwrap());
    assert_eq!((across(&bench, 1), across(&bench, 2)), (2 * 64, 6 * 64), "3 and 9 of 12 in become 2 and 6 of 8 in");
    key(&mut bench, Modifiers::COMMAND, Key::Z);
    assert_eq!(bench.state().session().document(), &document());
}

#[test]
fn a_named_size_goes_into_the_field() {
    let mut bench = bench();
    key(&mut bench, Modifiers::COMMAND | Modifiers::SHIFT, Key::N);
    choose(&mut bench, "Named sizes", "A3");
    assert_eq!(shown(&bench, "Size of the other sheet"), "A3");
    press(&mut bench, "Keep this sheet");
    assert!(!bench.state().session().is_changed());
}

#[test]
fn what_is_trimmed_off_offcuts_is_said_and_kept_to() {
    let mut bench = bench();
    press(&mut bench, "Paper…");
    type_into(&mut bench, "Trim off offcuts before cutting parts", "1/16");
    assert_eq!(bench.state().session().document().cutting.edge, Length::SIXTEENTH);
    type_into(&mut bench, "Trim off offcuts before cutting parts", "-1");
    assert_eq!(bench.state().session().document().cutting.edge, Length::SIXTEENTH);
    bench.get_by_label("Cut parts so that their folds run along the grain").click();
    bench.run();
    assert!(bench.state().session().document().cutting.along_grain);
}
