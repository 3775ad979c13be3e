//! The command line as a maker types it, on streams and files of our own.

mod animation;
mod artwork;
mod booklet;
mod compare;
mod cutting;
mod inserts;
mod manual;
mod measure;
mod mend;
mod named;
mod parts;
mod scoring;
mod silence;
mod starters;
mod template;

use crate::run_with;
use serde_json::{Value, json};
use std::ffi::OsString;
use std::path::Path;

/// Exit code, standard output, standard error.
fn typed(words: &[&str]) -> (u8, String, String) {
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let code = run_with(words.iter().map(OsString::from), &mut out, &mut err);
    (code, String::from_utf8(out).unwrap(), String::from_utf8(err).unwrap())
}

/// A folder with a copy of the demo in it.
fn folder() -> (tempfile::TempDir, String) {
    let folder = tempfile::tempdir().unwrap();
    let (code, out, err) = typed(&["starters", "--copy", "seed-swap", folder.path().to_str().unwrap()]);
    assert_eq!((code, err.as_str()), (0, ""));
    (folder, out.trim().to_owned())
}

fn parsed(words: &[&str]) -> Value {
    let (code, out, err) = typed(words);
    assert!(code < 2, "{err}");
    serde_json::from_str(&out).unwrap()
}

#[track_caller]
fn check_refused(words: &[&str], code: u8, says: &str) {
    let (got, out, err) = typed(words);
    assert_eq!((got, out.as_str()), (code, ""), "{err}");
    assert!(err.contains(says), "{err}");
    assert_eq!(err.lines().count(), 1, "one sentence: {err}");
}

#[test]
fn the_demo_has_nothing_worse_than_a_note() {
    let (_folder, demo) = folder();
    let (code, out, err) = typed(&["check", &demo]);
    assert_eq!((code, err.as_str()), (0, ""), "{out}");
    let findings = parsed(&["check", "--json", &demo]);
    let worst = findings["files"][0]["findings"].as_array().unwrap().iter().all(|f| f["severity"] == "note");
    assert!(worst, "{findings}");
}

/// The demo's valleys, all pressed into the back, and only where the folio lies.
const ONCE: &str = "  turned once to the left, then turned over away from you, into the back: 2 3/4 in, 3 in, 7 1/2 in, \
                    7 3/4 in, each from 3 1/4 in to 8 3/4 in down";

#[test]
fn the_demo_is_described_with_its_panels_offcuts_and_closed_size() {
    let (_folder, demo) = folder();
    let all = parsed(&["describe", "--json", &demo]);
    let names = |list: &str, key: &str| -> Vec<String> {
        let mut names: Vec<String> =
            all[list].as_array().unwrap().iter().map(|one| one[key].as_str().unwrap().to_owned()).collect();
        names.sort();
        names
    };
    assert_eq!(names("pieces", "name"), ["Folio", "Offcut 1", "Offcut 2", "Offcut 3", "Offcut 4"]);
    assert!(names("panels", "name").contains(&"Bottom gusset".to_owned()));
    // By hand: the base is 5 1/2 x 4 1/2 in and nothing reaches past it; the gussets are 1/4 in, so the middle of the
    // first flap's paper is 6.35 mm above that of the base, three more flaps lie on it at 0.3 mm each, and half a
    // caliper is added on either side.
    let nm = |key: &str| all["closed"][key]["nm"].as_i64().unwrap();
    assert_eq!([nm("width"), nm("height"), nm("thickness")], [139_700_000, 114_300_000, 7_550_000]);
    let (code, text, _) = typed(&["describe", &demo]);
    assert_eq!(code, 0);
    for line in ["  Base: 5 1/2 in x 4 1/2 in", ONCE] {
        assert!(text.lines().any(|one| one == line), "{line} in\n{text}");
    }
}

/// A square base of 100 mm with a flap on each side, so deep, all valleys, each closed by a step of its own.
fn four_flaps(depth: u32) -> String {
    let score = |turn: u32| {
        json!({
            "id": turn + 1, "name": format!("Fold {}", turn + 1), "work": "score", "fold": "valley",
            "place": { "turn": turn, "from": "edge", "distance": format!("{depth} mm") },
        })
    };
    // Each fold is cut on beyond the fold where its left end and its right end meet the next.
    let corner = |(id, along, key, at): (u32, u32, &str, u32)| {
        let mut place = json!({ "along": format!("line {along}") });
        place[key] = json!(format!("line {at}"));
        json!({ "id": id, "name": format!("Corner {id}"), "work": "cut", "place": place })
    };
    let ends = (1..=4).flat_map(|fold| [(fold, "end", fold % 4 + 1), (fold, "start", (fold + 2) % 4 + 1)]);
    let corners = (5..).zip(ends).map(|(id, (fold, key, at))| corner((id, fold, key, at)));
    let side = format!("{} mm", 100 + 2 * depth);
    let middle = format!("{} mm", 50 + depth);
    let design = json!({
        "format": "foliowright folio", "version": 2, "title": "Four flaps", "units": "mm",
        "stock": { "width": side, "height": side, "caliper": "0.3 mm" },
        "lines": (0..4).map(score).chain(corners).collect::<Vec<_>>(),
        "base": { "x": middle, "y": middle },
        "steps": [[1], [2], [3], [4]],
    });
    design.to_string()
}

#[test]
fn the_ways_for_layers_to_lie_are_counted() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("flaps.folio");
    let path = path.to_str().unwrap();
    // By hand: flaps up to the middle meet only their neighbours at four corners, each with two ways to lie, and the two
    // woven rings can't be folded one flap after the other; deeper flaps make a pile of four in any order.
    for (depth, count, need_tuck, sentence) in [
        (40, "16", 2, "There are 16 ways for the layers to lie; 2 of them need a tuck."),
        (60, "24", 0, "There are 24 ways for the layers to lie; folding alone reaches all of them."),
    ] {
        std::fs::write(path, four_flaps(depth)).unwrap();
        let plane = parsed(&["describe", "--json", "--orders", path])["orders"][0].clone();
        let told = (&plane["count"], &plane["count_is"], &plane["need_tuck"], &plane["unknown"]);
        assert_eq!(told, (&json!(count), &json!("exact"), &json!(need_tuck), &json!(0)), "{plane}");
        // A valley lies on the base whatever the other flaps do.
        let forced = plane["forced"].as_array().unwrap();
        assert!(forced.len() == 4 && forced.iter().all(|pair| pair[0] == "Base"), "{plane}");
        let text = typed(&["describe", path, "--orders"]).1;
        assert_eq!(text.lines().last(), Some(sentence));
    }
    // Without any work only the own order is known to be reached.
    let plane = parsed(&["describe", "--json", "--orders=0", path])["orders"][0].clone();
    assert_eq!((&plane["by_folding"], &plane["unknown"]), (&json!(1), &json!(23)), "{plane}");
    assert_eq!(parsed(&["describe", "--json", path])["orders"], Value::Null);
    check_refused(&["describe", path, "--orders=-1"], 2, "-1");
}

#[test]
fn rules_are_explained_and_the_kept_page_is_that_of_the_program() {
    let (code, page, err) = typed(&["rules"]);
    assert_eq!((code, err.as_str()), (0, ""));
    let kept = std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/../../docs/findings.md")).unwrap();
    assert!(
        kept == page,
        "docs/findings.md is not what the program says; renew it: cargo run -- rules > docs/findings.md"
    );
    for rule in check::rule::ALL {
        assert!(page.contains(&format!("\n## {}\n", rule.name)), "{}", rule.name);
    }
    let (code, one, _) = typed(&["rules", "off-groove"]);
    assert_eq!(code, 0);
    assert!(one.starts_with("off-groove (note)\n") && one.contains("For instance:\n  \"Score 2\""), "{one}");
    check_refused(&["rules", "tidy"], 2, "there is no rule \"tidy\"; the rules are across-grain, ");
}

#[test]
fn a_template_and_pictures_are_made() {
    let (folder, demo) = folder();
    let at = |name: &str| folder.path().join(name).to_str().unwrap().to_owned();
    for (words, start) in [
        (vec!["export", "template", &demo, "-o", &at("t.pdf")], b"%PDF".as_slice()),
        (vec!["export", "template", &demo, "-o", &at("s.pdf"), "--paper", "sheet"], b"%PDF"),
        (vec!["export", "picture", &demo, "-o", &at("p.png"), "--width", "300"], b"\x89PNG"),
        (vec!["export", "picture", &demo, "-o", &at("p.svg"), "--fold", "closed"], b"<"),
        (vec!["export", "picture", &demo, "-o", &at("q.svg"), "--fold", "2.5", "--view", "back"], b"<"),
    ] {
        let (code, _, err) = typed(&words);
        assert_eq!((code, err.as_str()), (0, ""), "{words:?}");
        assert!(std::fs::read(Path::new(words[4])).unwrap().starts_with(start), "{words:?}");
    }
}

#[test]
fn a_new_design_is_made_once() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("mine.folio");
    let path = path.to_str().unwrap();
    assert_eq!(typed(&["new", "--sheet", "8 1/2x11in", "-o", path]).0, 0);
    assert_eq!(typed(&["check", path]).0, 0);
    check_refused(&["new", "--sheet", "A4", "-o", path], 1, "is there already");
    check_refused(&["new", "--sheet", "12", "-o", path], 2, "is not a size");
}

#[test]
fn a_design_is_converted_to_another_unit_and_another_sheet() {
    let (folder, demo) = folder();
    let at = |name: &str| folder.path().join(name).to_str().unwrap().to_owned();
    let (metric, small) = (at("metric.folio"), at("small.folio"));
    assert_eq!(typed(&["convert", &demo, "-o", &metric, "--units", "mm"]).0, 0);
    let (before, after) = (parsed(&["describe", "--json", &demo]), parsed(&["describe", "--json", &metric]));
    let nm = |of: &Value| of["panels"][0]["width"]["nm"].clone();
    assert_eq!(nm(&before), nm(&after), "no measurement changes");
    assert!(after["panels"][0]["width"]["text"].as_str().unwrap().ends_with("mm"));
    assert_eq!(typed(&["convert", &demo, "-o", &small, "--sheet", "8x8in"]).0, 0);
    let moved = parsed(&["describe", "--json", &small]);
    assert_eq!(moved["sheet"]["width"]["text"], "8 in");
    let gussets = |of: &Value| -> Vec<i64> {
        let panels = of["panels"].as_array().unwrap().iter().filter(|panel| panel["gusset"] == true);
        panels.map(|p| p["width"]["nm"].as_i64().unwrap().min(p["height"]["nm"].as_i64().unwrap())).collect()
    };
    assert_eq!(gussets(&moved), [6_350_000; 4], "gussets keep their 1/4 in");
    check_refused(&["convert", &demo, "-o", &at("no.folio"), "--sheet", "1/4x8in"], 1, "gussets and allowances");
    check_refused(&["convert", &demo, "-o", &small, "--units", "mm"], 1, "is there already");
    check_refused(&["convert", &demo, "-o", &at("no.folio")], 2, "--units");
    check_refused(&["convert", &demo, "-o", &at("no.folio"), "--sheet", "12"], 2, "is not a size");
}

#[test]
fn artwork_is_put_on_a_side_and_taken_off() {
    let (folder, demo) = folder();
    let picture = folder.path().join("leaves.png");
    std::fs::write(&picture, output::png(&draw::list::Drawing::new((12.0, 6.0).into(), String::new()), 240).unwrap())
        .unwrap();
    let picture = picture.to_str().unwrap();
    let (code, out, err) = typed(&["artwork", &demo, picture, "--side", "back", "--width", "12", "--left", "-1/4"]);
    assert_eq!((code, err.as_str()), (0, ""));
    assert!(out.contains("12 in x 6 in on the paper, 20 pixels an inch"), "{out}");
    let back = parsed(&["describe", "--json", &demo])["sheet"]["back"].clone();
    assert_eq!((back["artwork"]["state"].as_str(), back["pattern"].as_str()), (Some("present"), Some("any way")));
    assert_eq!(back["artwork"]["left"]["text"], "-1/4 in");
    std::fs::remove_dir_all(folder.path().join("seed-swap.assets")).unwrap();
    assert_eq!(parsed(&["describe", "--json", &demo])["sheet"]["back"]["artwork"]["state"], "missing");
    assert_eq!(typed(&["artwork", &demo, "--side", "back", "--remove"]).0, 0);
    check_refused(&["artwork", &demo, "--side", "back", "--remove"], 1, "no picture on that side");
    check_refused(&["artwork", &demo, &demo, "--side", "front"], 2, "no PNG or JPEG");
    check_refused(&["artwork", &demo, picture, "--side", "front", "--width", "0"], 2, "no width for a picture");
    check_refused(&["artwork", &demo, "--side", "front"], 2, "PICTURE");
}

#[test]
fn the_schema_is_written() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("folio.schema.json");
    let path = path.to_str().unwrap();
    assert_eq!(typed(&["export", "schema", "-o", path]).0, 0);
    let schema: Value = serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap();
    assert!(schema["$schema"].as_str().unwrap().contains("2020-12"), "{schema}");
    check_refused(&["export", "schema", "-o", "x.txt"], 2, "end its name in .json");
}

#[test]
fn what_cannot_be_read_or_understood_is_one_sentence() {
    let (folder, demo) = folder();
    let out = folder.path().join("x.gif");
    let out = out.to_str().unwrap();
    check_refused(&["describe", "no-such.folio"], 2, "no-such.folio");
    check_refused(&["export", "picture", &demo, "-o", out], 2, "end its name in .png or .svg");
    check_refused(&["export", "picture", &demo, "-o", "x.png", "--fold", "9"], 2, "give 0 to 4");
    check_refused(&["export", "picture", &demo, "-o", "x.png", "--turn", "7"], 2, "7");
    check_refused(&["starters", "--copy", "none", "."], 2, "there is no starter");
    check_refused(&["frobnicate"], 2, "frobnicate");
    check_refused(&["check"], 2, "FILE");
    check_refused(&[], 2, "--help");
    check_refused(&["export", "template", &demo, "-o", "/no/such/folder/t.pdf"], 1, "folder");
    check_refused(&["export", "template", &demo, "-o", &demo], 2, "end its name in .pdf");
    for at in ["-5", "nan", "1e300", "5"] {
        check_refused(&["describe", &demo, "--json", &format!("--at={at}")], 2, "give 0 to 4");
    }
    check_refused(&["check", "no-such.folio"], 2, "no-such.folio");
}

#[test]
fn findings_set_the_exit_code_and_unreadable_files_outweigh_them() {
    let (folder, demo) = folder();
    let text = std::fs::read_to_string(&demo).unwrap();
    let spoiled = folder.path().join("spoiled.folio");
    std::fs::write(&spoiled, text.replace("\"(12 in + tray width) / 2\"", "\"13 in\"")).unwrap();
    let (code, out, _) = typed(&["check", spoiled.to_str().unwrap()]);
    assert_eq!(code, 1);
    assert!(out.contains("error: \"Right gusset fold\" lies 1 in beyond the edge of the sheet."), "{out}");
    let (code, out, err) = typed(&["check", "no-such.folio", &demo]);
    assert_eq!(code, 2);
    assert!(out.contains("seed-swap.folio") && err.contains("no-such.folio"), "{out}{err}");
}

#[test]
fn help_and_version_are_no_errors() {
    for word in ["--help", "--version", "help"] {
        let (code, out, err) = typed(&[word]);
        assert_eq!((code, err.as_str()), (0, ""));
        assert!(out.contains("foliowright") || out.contains("Usage"), "{out}");
    }
    assert!(crate::is_command("check".as_ref()) && !crate::is_command("my.folio".as_ref()));
}
