//! `describe` for designs with parts: what it says of them is what the libraries work out.

use super::{check_refused, folder, parsed, typed};
use model::part::usual::{Fit, Host, Sort};
use model::part::{
    Anchor, AnchorFrom, Closure, ClosureKind, Edges, Hinge, Insert, Mat, Page, Placement, Pocket, Rotation, Source,
};
use model::{Document, Face, Length, PanelRef, Part, PartId, PartKind, Point, SheetEdge, Unit};
use serde_json::{Value, json};
use session::Derived;

/// So many eighths of an inch.
fn eighths(count: i64) -> Length {
    Length::EIGHTH * count
}

fn part(id: u32, name: &str, kind: PartKind, source: Source, place: Placement) -> Part {
    Part { id: PartId(id), name: name.to_owned(), kind, source, place, also: Vec::new() }
}

/// The demo's tray with a pocket, a card in it, a mat, a hinge with a page on it, and a brad; one more mat lies nowhere,
/// and another is larger than all paper.
fn furnished() -> Document {
    let mut document = file::starters::demo();
    let base = PanelRef::Sheet(document.base.unwrap());
    let start = |count: i64| Anchor { from: AnchorFrom::Start, distance: eighths(count) };
    let at = |left: i64, top: i64| Placement { across: start(left), down: start(top), ..Placement::centred(base) };
    let glued = Edges::of(&[SheetEdge::Left, SheetEdge::Bottom, SheetEdge::Right]);
    let none = Length::ZERO;
    let pocket = Pocket { width: eighths(20), height: eighths(18), glued, strip: eighths(2), rim: none, gusset: none };
    let card = Insert { width: eighths(14), height: eighths(16), caliper: Some(Length::from_nm(500_000)) };
    let mat = |width: i64, height: i64| PartKind::Mat(Mat { width: eighths(width), height: eighths(height) });
    let hinge = PartKind::Hinge(Hinge { length: eighths(16), leaf: eighths(4), free_leaf: eighths(4) });
    let page = Page { width: eighths(16), height: eighths(12), hinged: SheetEdge::Left, strip: eighths(4) };
    let round = Length::from_nm(8_000_000);
    let brad = Closure { kind: ClosureKind::Brad, width: round, height: round, thickness: Length::MILLIMETRE };
    let turned = Placement { rotation: Rotation::QUARTER, ..at(2, 26) };
    let outside = Placement { face: Face::Back, showing: Face::Back, ..Placement::centred(base) };
    let off = Point::new(eighths(4), eighths(4));
    document.parts = vec![
        part(1, "Packet pocket", PartKind::Pocket(pocket), Source::AnyOffcut, at(2, 2)),
        part(2, "Planting card", PartKind::Insert(card), Source::FolioStock, at(5, 2)),
        part(3, "", mat(16, 6), Source::Offcut(off), turned),
        part(4, "", hinge, Source::AnyOffcut, at(26, 4)),
        part(5, "", PartKind::Page(page), Source::FolioStock, at(26, 22)),
        part(6, "", PartKind::Closure(brad), Source::Bought, at(40, 2)),
        part(7, "Label", mat(8, 8), Source::FolioStock, Placement::centred(PanelRef::Sheet(off))),
        part(8, "Cover", mat(200, 4), Source::AnyOffcut, outside),
    ];
    document
}

/// The design as a file, what is worked out for it, and its path.
fn saved(document: &Document) -> (tempfile::TempDir, String, Derived) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("furnished.folio");
    disk::save_design(&path, document).unwrap();
    let path = path.to_str().unwrap().to_owned();
    (folder, path, Derived::of(document))
}

fn nm(value: &Value) -> i64 {
    value["nm"].as_i64().unwrap()
}

fn half_nm2(value: &Value) -> i128 {
    value["half_nm2"].as_str().unwrap().parse().unwrap()
}

#[test]
fn parts_are_told_with_their_measures_place_and_glue() {
    let document = furnished();
    let (_folder, path, derived) = saved(&document);
    let all = parsed(&["describe", "--json", &path]);
    let parts = all["parts"].as_array().unwrap();
    assert_eq!(parts.len(), document.parts.len());
    let pocket = &parts[0];
    assert_eq!((&pocket["name"], &pocket["kind"]), (&json!("Packet pocket"), &json!("pocket")));
    // By hand: 2 1/2 x 2 1/4 in on a base of 5 1/2 x 4 1/2 in, 1/4 in from its left and top.
    let told = |of: &Value, keys: &[&str]| keys.iter().map(|key| nm(&of[*key])).collect::<Vec<_>>();
    assert_eq!(
        told(&pocket["measures"], &["width", "height", "glue_strip", "rim"]),
        [63_500_000, 57_150_000, 6_350_000, 0]
    );
    let borders = told(&pocket["place"]["borders"], &["left", "top", "right", "bottom"]);
    assert_eq!(borders, [6_350_000, 6_350_000, 69_850_000, 50_800_000]);
    assert_eq!((&pocket["place"]["panel"], &pocket["place"]["face"]), (&json!("Base"), &json!("front")));
    let glue = &pocket["glue"][0];
    assert_eq!((&glue["to"], &glue["edges"]), (&json!("Base"), &json!(["right", "bottom", "left"])));
    // The areas of the glue are those of three strips of 1/4 in: 2 1/4 in twice, and 2 in between them.
    let areas: Vec<Vec<Point>> = glue["areas"]
        .as_array()
        .unwrap()
        .iter()
        .map(|area| {
            area.as_array()
                .unwrap()
                .iter()
                .map(|at| Point::new(Length::from_nm(nm(&at["x"])), Length::from_nm(nm(&at["y"]))))
                .collect()
        })
        .collect();
    let area: f64 = areas.iter().map(|area| model::polygon::signed_area(area).mm2()).sum();
    assert!((area / 645.16 - 6.5 / 4.0).abs() < 1e-9, "{area}");
    assert_eq!(areas, derived.layout.part(PartId(1)).unwrap().glue[0].area);
    // Turned by a quarter, 2 x 3/4 in are 3/4 in wide.
    let outline = parts[2]["place"]["outline"].as_array().unwrap();
    let xs: Vec<i64> = outline.iter().map(|at| nm(&at["x"])).collect();
    assert_eq!(xs.iter().max().unwrap() - xs.iter().min().unwrap(), 19_050_000);
    assert_eq!(parts[2]["place"]["rotation"], json!(90.0));
    // A page's strip is folded under before it is glued, and its glue is on that strip.
    let page = &parts[4];
    assert_eq!((&page["folds"][0]["before"], &page["panels"].as_array().unwrap().len()), (&json!(true), &2));
    assert_eq!((&page["glue"][0]["panel"], &page["main"]), (&json!("Page 5, strip"), &json!("Page 5")));
    // An insert lies loose, a brad has no paper, and what lies on no panel of the folio says so.
    assert_eq!((&parts[1]["glue"], &parts[1]["measures"]["caliper"]["nm"]), (&json!([]), &json!(500_000)));
    assert_eq!(parts[5]["source"], json!({ "from": "bought", "offcut": null, "at": null, "stock": null }));
    assert_eq!(parts[2]["source"]["offcut"], "Offcut 1");
    assert_eq!((&parts[6]["place"], &parts[6]["panels"]), (&Value::Null, &json!([])));
    assert_eq!(parts[6]["fault"], "lies on no panel of the folio; put it on one");
    for (id, fault) in &derived.layout.part_faults {
        let part = parts.iter().find(|part| part["id"] == id.0).unwrap();
        assert_eq!(part["fault"], fault.phrase(&document));
    }
}

#[test]
fn the_plan_is_that_of_the_library() {
    let document = furnished();
    let (_folder, path, derived) = saved(&document);
    let plan = parsed(&["describe", "--json", &path])["plan"].clone();
    let quick = derived.supply.as_ref().unwrap();
    for (told, supply) in plan["supplies"].as_array().unwrap().iter().zip(&quick.supplies) {
        let notes: Vec<String> = supply.notes.iter().map(ToString::to_string).collect();
        assert_eq!((&told["part"]["id"], &told["notes"]), (&json!(supply.part.0), &json!(notes)));
        let cutout = |cutout: &allot::Cutout| {
            let (at, size) = (cutout.rect.corner, cutout.rect.size);
            assert_eq!((nm(&told["cutout"]["at"]["x"]), nm(&told["cutout"]["at"]["y"])), (at.x.nm(), at.y.nm()));
            assert_eq!(
                (nm(&told["cutout"]["width"]), nm(&told["cutout"]["height"])),
                (size.width().nm(), size.height().nm())
            );
            assert_eq!(told["cutout"]["quarters"], cutout.quarters);
        };
        match &supply.from {
            allot::Origin::Offcut { name, cutout: own, .. } => {
                assert_eq!((&told["from"], &told["offcut"]), (&json!("offcut"), &json!(name)));
                cutout(own);
            }
            allot::Origin::Sheet { sheet, cutout: own, .. } => {
                assert_eq!((&told["from"], &told["sheet"]), (&json!("sheet"), &json!(sheet)));
                cutout(own);
            }
            allot::Origin::Bought => assert_eq!((&told["from"], &told["cutout"]), (&json!("bought"), &Value::Null)),
            allot::Origin::Missing(why) => {
                assert_eq!((&told["from"], &told["missing"]), (&json!("missing"), &json!(why.to_string())));
            }
        }
    }
    let from = |id: usize| plan["supplies"][id - 1]["from"].as_str().unwrap().to_owned();
    assert_eq!(
        [1, 2, 3, 4, 5, 6, 7, 8].map(from),
        ["offcut", "sheet", "offcut", "offcut", "sheet", "bought", "missing", "missing"]
    );
    assert_eq!(plan["supplies"][2]["offcut"], "Offcut 1", "the one that the design names");
    for (told, offcut) in plan["offcuts"].as_array().unwrap().iter().zip(&quick.offcuts) {
        let sentences: Vec<&str> =
            told["cuts"].as_array().unwrap().iter().map(|cut| cut["sentence"].as_str().unwrap()).collect();
        assert_eq!(sentences, offcut.cuts.iter().map(|cut| cut.sentence.as_str()).collect::<Vec<_>>());
        assert_eq!(told["remainders"].as_array().unwrap().len(), offcut.remainders.len());
        let ledger = &told["ledger"];
        let parts: i128 = ledger["parts"].as_array().unwrap().iter().map(|part| half_nm2(&part["area"])).sum();
        let rest: i128 = ["cut_offs", "left", "waste"].map(|key| half_nm2(&ledger[key])).iter().sum();
        assert_eq!(parts + rest, half_nm2(&ledger["whole"]), "{}", offcut.name);
    }
    let ledger = &plan["ledger"];
    let all: i128 =
        ["folio", "parts", "cut_offs", "left", "slots", "waste"].map(|key| half_nm2(&ledger[key])).iter().sum();
    assert_eq!(all, half_nm2(&ledger["sheet"]));
    // By hand: a pocket of 2 1/2 x 2 1/4, a mat of 2 x 3/4 and a hinge of 2 x 1 in come out of the sheet of 144 sq in.
    let (used, folio) = (ledger["use_per_cent"].as_f64().unwrap(), ledger["folio_per_cent"].as_f64().unwrap());
    assert!(((used - folio) * 1.44 - (2.5 * 2.25 + 1.5 + 2.0)).abs() < 1e-9, "{used} {folio}");
    // With more work it is no worse, and the same as the library's.
    let thorough = parsed(&["describe", "--json", "--thorough", &path])["plan"].clone();
    let best = allot::allot(&document, &derived.layout, &allot::Settings::of(&document).thorough());
    assert_eq!(half_nm2(&thorough["ledger"]["parts"]), best.ledger.parts.half_nm2());
    assert!(half_nm2(&thorough["ledger"]["parts"]) >= half_nm2(&ledger["parts"]));
    assert_eq!(thorough["standing"] == "proved", best.standing == allot::Standing::Proved);
}

#[test]
fn the_order_of_making_is_that_of_the_library_and_cautions_are_said_once() {
    let document = furnished();
    let (_folder, path, derived) = saved(&document);
    let told = parsed(&["describe", "--json", &path])["making"].clone();
    let making = derived.making(&document);
    let words = make::Words { document: &document, layout: &derived.layout, making };
    let texts = |key: &str| -> Vec<String> {
        told["jobs"].as_array().unwrap().iter().map(|job| job[key].as_str().unwrap().to_owned()).collect()
    };
    assert_eq!(texts("instruction"), making.jobs.iter().map(|&job| words.instruction(job)).collect::<Vec<_>>());
    let jobs = texts("job");
    assert!(jobs.contains(&"score folio".to_owned()) && jobs.contains(&"fold part 5".to_owned()), "{jobs:?}");
    // Every reason is obeyed by the order in which the jobs are told.
    let constraints = told["constraints"].as_array().unwrap();
    assert_eq!(constraints.len(), making.constraints.len());
    let at = |job: &Value| jobs.iter().position(|other| job == other).unwrap();
    for (one, own) in constraints.iter().zip(&making.constraints) {
        assert!(at(&one["first"]) < at(&one["then"]), "{one}");
        assert_eq!(one["why"], own.sentence(&document));
    }
    assert_eq!(told["circles"], json!([]));
    let cautions: Vec<&str> = told["jobs"]
        .as_array()
        .unwrap()
        .iter()
        .flat_map(|job| job["cautions"].as_array().unwrap())
        .map(|caution| caution.as_str().unwrap())
        .collect();
    let own: Vec<&str> = making.cautions(&document).iter().map(|(_, caution)| caution.sentence()).collect();
    assert_eq!(cautions, own);
    let text = typed(&["describe", &path]).1;
    for caution in own {
        assert_eq!(text.matches(caution).count(), 1, "{caution}");
    }
}

#[test]
fn parts_that_cover_one_another_are_told_as_a_circle() {
    // The page's strip is glued under the hinge's free leaf, and that lies under the page.
    let mut document = furnished();
    document.parts[4].place.across.distance = eighths(24);
    document.parts[4].place.down.distance = eighths(10);
    let (_folder, path, derived) = saved(&document);
    let circles = parsed(&["describe", "--json", &path])["making"]["circles"].clone();
    let own = &derived.making(&document).circles;
    assert_eq!((circles.as_array().unwrap().len(), own.len()), (1, 1), "{circles}");
    assert_eq!(circles[0]["sentence"], own[0].sentence(&document));
    let reasons = circles[0]["reasons"].as_array().unwrap();
    for (one, next) in reasons.iter().zip(reasons.iter().cycle().skip(1)) {
        assert_eq!(one["then"], next["first"], "head to tail");
    }
    let text = typed(&["describe", &path]).1;
    assert!(text.contains(&format!("\n  This order can't be kept: {}\n", own[0].sentence(&document))), "{text}");
}

#[test]
fn what_fits_is_what_the_library_says() {
    let document = furnished();
    let (_folder, path, derived) = saved(&document);
    let told = parsed(&["describe", "--json", &path])["fits"].clone();
    let fits = derived.fits(&document);
    // By hand: 2 1/2 in less two strips of 1/4 in and the usual 1/8 in; 2 1/4 in less one strip.
    let pocket = &told["pockets"][0];
    assert_eq!((nm(&pocket["largest"]["width"]), nm(&pocket["largest"]["height"])), (47_625_000, 50_800_000));
    assert_eq!((&pocket["mouths"], &pocket["room"]["across"]["closed"]), (&json!(["top"]), &json!("both")));
    let fit::Holds::Pocket(inside) = &fits.pockets[0].holds else { panic!("a pocket holds like one") };
    let cards = pocket["cards"].as_array().unwrap();
    assert_eq!(cards.len(), inside.cards.len());
    for (card, own) in cards.iter().zip(&inside.cards) {
        assert_eq!((&card["name"], &card["turned"]), (&json!(own.card.name), &json!(own.is_turned)));
        assert_eq!((&card["count"], nm(&card["stands_out"]["down"])), (&json!(own.count), own.stands_out[1].nm()));
    }
    // A page is as large as it is.
    let page = told["pockets"].as_array().unwrap().iter().find(|one| one["holds"] == "surface").unwrap();
    assert_eq!((&page["part"]["name"], nm(&page["largest"]["width"])), (&json!("Page 5"), 50_800_000));
    // 2 in less 1 3/4 in to spare: it fits.
    let insert = &told["inserts"][0];
    assert_eq!((&insert["lies_in"], &insert["parts"][0]["id"]), (&json!("pocket"), &json!(1)));
    assert_eq!((&insert["fits"], nm(&insert["play"])), (&json!(true), 6_350_000));
    assert_eq!(told["trays"].as_array().unwrap().len(), fits.trays.len());
    let loaded = fits.loaded.as_ref().unwrap();
    assert_eq!(nm(&told["loaded"]["thickness"]), loaded.thickness.nm());
}

#[test]
fn mats_are_as_large_as_the_margin_leaves() {
    let (_folder, demo) = folder();
    let document = file::starters::demo();
    let derived = Derived::of(&document);
    // By hand: the back of the base, 5 1/2 x 4 1/2 in, is seen at every stage. With 2 mm 135.7 x 110.3 mm are left, which lie
    // on no mark of the ruler: a little more than 170 by 138 thirty-seconds of an inch.
    let cases = [
        ("1/8in", 3_175_000, (133_350_000, 107_950_000)),
        ("0.25", 6_350_000, (127_000_000, 101_600_000)),
        ("0", 0, (139_700_000, 114_300_000)),
        ("2 mm", 2_000_000, (134_937_500, 109_537_500)),
    ];
    for (margin, nanometres, of_base) in cases {
        let told = parsed(&["describe", "--json", "--margin", margin, &demo])["mats"].clone();
        assert_eq!(nm(&told["margin"]), nanometres);
        let own = derived.mats_with(&document, Length::from_nm(nanometres));
        let faces = told["faces"].as_array().unwrap();
        assert_eq!(faces.len(), own.len());
        for (face, mat) in faces.iter().zip(&own) {
            assert_eq!(
                (&face["panel"], nm(&face["width"]), nm(&face["height"])),
                (&json!(mat.name), mat.width.nm(), mat.height.nm())
            );
        }
        let base = faces.iter().find(|face| face["panel"] == "Base" && face["face"] == "back").unwrap();
        assert_eq!((nm(&base["width"]), nm(&base["height"])), of_base);
        let counted: u64 = told["cut_list"].as_array().unwrap().iter().map(|cut| cut["count"].as_u64().unwrap()).sum();
        assert_eq!(usize::try_from(counted), Ok(own.len()));
    }
    let text = typed(&["describe", &demo]).1;
    assert!(text.contains("\nMats, 1/8 in from the edges of what is seen\n  2 mats of 5 1/4 x 4 1/4 in\n"), "{text}");
    check_refused(&["describe", &demo, "--margin", "-1/8in"], 2, "-1/8 in is no margin for a mat");
    check_refused(&["describe", &demo, "--margin", "wide"], 2, "\"wide\" is not a unit");
    check_refused(&["describe", &demo, "--margin", "11 m"], 2, "unit");
    check_refused(&["describe", &demo, "--margin=400in"], 2, "more than 10 m");
}

#[test]
fn the_text_tells_of_parts_in_sections() {
    let document = furnished();
    let (_folder, path, _) = saved(&document);
    let text = typed(&["describe", &path]).1;
    let sections = [
        "\nFold in this order\n",
        "\nParts\n",
        "\nWhere their paper comes from\n",
        "\nMake in this order\n",
        "\nWhat fits\n",
        "\nMats, ",
        "\nPaper: 144.00 sq in, of which ",
        "\nUse of the sheet: ",
        "\nClosed, it is ",
    ];
    let places: Vec<usize> =
        sections.iter().map(|section| text.find(section).unwrap_or_else(|| panic!("{section} in\n{text}"))).collect();
    assert!(places.is_sorted(), "{text}");
    for line in [
        "  Packet pocket: pocket, width 2 1/2 in, height 2 1/4 in, glue strip 1/4 in",
        "    on the front of Base, 1/4 in from its left border, 1/4 in from its top, 2 3/4 in from its right and 2 in \
         from its bottom",
        "    glued by its back to Base, along its own right, bottom and left edges, 1/4 in wide",
        "  Planting card: insert, width 1 3/4 in, height 2 in, 0.5 mm thick",
        "    not glued",
        "    glued by the back of its glued leaf to Base, all over",
        "    set through it, its legs spread behind",
        "    it lies on no panel of the folio; put it on one",
        "  Brad 6: bought",
        "  Take 1 further sheet of the folio's paper, 12 x 12 in",
    ] {
        assert!(text.lines().any(|one| one == line), "{line} in\n{text}");
    }
}

#[test]
fn a_design_without_parts_is_described_as_before() {
    let (_folder, demo) = folder();
    let text = typed(&["describe", &demo]).1;
    for section in ["\nParts\n", "\nWhere their paper", "\nMake in this order", "\nUse of the sheet"] {
        assert!(!text.contains(section), "{section} in\n{text}");
    }
    assert!(text.contains(" are the folio and ") && text.contains(" come off"), "{text}");
    // Its tray is told all the same: what lies on the base between four gussets.
    assert!(text.contains("\nWhat fits\n  On the base there is room for what is up to "), "{text}");
    let all = parsed(&["describe", "--json", "--thorough", &demo]);
    assert_eq!((&all["parts"], &all["plan"]), (&json!([]), &Value::Null));
    assert_eq!(all["making"]["jobs"].as_array().unwrap().len(), 3, "scored, cut out, closed");
}

#[test]
fn every_kind_is_on_the_pages_that_list_them() {
    let commands = include_str!("../../../../docs/command-line.md");
    let row =
        commands.lines().find(|line| line.starts_with("| `kind` | `hinge`")).expect("the row of the kinds is there");
    let guide = include_str!("../../../../docs/guide/parts.md");
    let high = Point::new(Length::INCH * 6, Length::INCH * 6);
    let host = Host { low: Point::default(), high, folds: Edges::NONE };
    for sort in Sort::ALL {
        let kind = sort.fitted(&host, &Fit::usual(Unit::Inch)).kind;
        let word = kind.word().to_lowercase();
        assert!(row.contains(&format!("`{word}`")), "docs/command-line.md has no `{word}` in the row of `kind`");
        let heading = if matches!(kind, PartKind::Closure(_)) { "closure" } else { &word };
        assert!(guide.contains(&format!("\n| {heading} | ")), "docs/guide/parts.md has no row for {heading}");
    }
}
