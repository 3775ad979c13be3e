//! Which crate may use which: the arrows of `docs/architecture.md`, as a table.

use crate::tree::Tree;

/// For each of our crates, which others it may use. A crate that is not here is refused: put it on the map first.
const MAY_USE: [(&str, &[&str]); 24] = [
    ("about", &[]),
    ("model", &[]),
    ("make", &["model"]),
    ("nest", &["model"]),
    ("allot", &["model", "nest"]),
    ("compare", &["model"]),
    ("contents", &["model"]),
    ("order", &[]),
    ("fold", &["model", "order"]),
    ("fit", &["model", "fold"]),
    ("check", &["model", "fold", "allot", "fit", "make"]),
    ("raster", &[]),
    ("draw", &["model", "fold", "allot", "fit", "raster"]),
    ("booklet", &["model", "fold", "check", "compare", "allot", "fit", "make", "draw"]),
    ("file", &["model"]),
    ("disk", &["model", "file", "raster"]),
    ("keep", &["disk", "file", "model"]),
    ("output", &["draw"]),
    ("session", &["model", "fold", "check", "allot", "fit", "make"]),
    ("export", &["model", "fold", "fit", "draw", "booklet", "output", "session"]),
    (
        "cli",
        &[
            "about", "model", "fold", "check", "compare", "contents", "draw", "file", "disk", "export", "session",
            "allot", "fit", "make",
        ],
    ),
    (
        "app",
        &[
            "about", "model", "fold", "check", "compare", "contents", "draw", "file", "disk", "export", "keep",
            "session", "allot", "fit", "make",
        ],
    ),
    ("foliowright", &["app", "cli", "disk", "file", "keep", "model"]),
    ("xtask", &[]),
];

/// Crates from outside that belong to one place: the window is the only one to know the toolkit.
const ONLY_IN: [(&str, &[&str]); 4] =
    [("egui", &["app"]), ("egui_kittest", &["app"]), ("eframe", &["foliowright"]), ("rfd", &["app"])];

/// Every manifest in `crates/` against the tables. Dependencies of tests count too, but for those on our own crates.
pub(crate) fn check(tree: &Tree) -> Vec<String> {
    let mut wrong = Vec::new();
    for name in tree.crates() {
        let manifest = format!("crates/{name}/Cargo.toml");
        let Some((_, may)) = MAY_USE.iter().find(|(known, _)| *known == name) else {
            wrong.push(format!("{manifest}: the table of crates does not have \"{name}\""));
            continue;
        };
        let Some(text) = tree.texts.get(&manifest) else { continue };
        for (section, used) in dependencies(text) {
            let ours = MAY_USE.iter().any(|(known, _)| *known == used);
            if ours && section == "dependencies" && !may.contains(&used) {
                wrong.push(format!("{manifest}: {name} must not use {used}"));
            }
            let kept = ONLY_IN.iter().find(|(outside, _)| *outside == used);
            if let Some((_, homes)) = kept.filter(|(_, homes)| !homes.contains(&name)) {
                wrong.push(format!("{manifest}: {used} belongs in {} alone", homes.join(" and ")));
            }
        }
    }
    wrong
}

/// The dependencies of a manifest with the section each stands in. Reads the two ways in which ours are written,
/// `name.workspace = true` and `name = …`.
fn dependencies(manifest: &str) -> Vec<(&str, &str)> {
    let mut section = "";
    let mut found = Vec::new();
    for line in manifest.lines().map(str::trim).filter(|line| !line.starts_with('#')) {
        if let Some(name) = line.strip_prefix('[').and_then(|rest| rest.strip_suffix(']')) {
            section = name;
        } else if section.ends_with("dependencies") {
            let name = line.split(['.', '=', ' ']).next().unwrap_or_default();
            found.extend((!name.is_empty()).then_some((section, name)));
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::super::expect;
    use super::*;

    #[track_caller]
    fn case(name: &str, manifest: &str, wrong: &[&str]) {
        expect(check, &[(&format!("crates/{name}/Cargo.toml"), manifest)], wrong);
    }

    #[test]
    fn arrows_point_one_way() {
        case("fold", "[dependencies]\nmodel.workspace = true\n", &[]);
        case("model", "[dependencies]\nfold.workspace = true\n", &["crates/model/Cargo.toml: model must not use fold"]);
        case(
            "draw",
            "[dependencies]\nfile = { path = \"../file\" }\n",
            &["crates/draw/Cargo.toml: draw must not use file"],
        );
        case("output", "[dev-dependencies]\nmodel.workspace = true\n", &[]);
    }

    #[test]
    fn the_toolkit_stays_in_the_window() {
        case("app", "[dependencies]\negui.workspace = true\n", &[]);
        case(
            "session",
            "[dev-dependencies]\negui = \"0.1\"\n",
            &["crates/session/Cargo.toml: egui belongs in app alone"],
        );
    }

    #[test]
    fn a_new_crate_is_put_in_the_table_first() {
        case("loom", "", &["crates/loom/Cargo.toml: the table of crates does not have \"loom\""]);
    }

    #[test]
    fn other_keys_are_no_dependencies() {
        let manifest =
            "[package]\nname = \"x\"\n[lints]\nworkspace = true\n[dependencies]\n# fold\n\nglam = { workspace = true }";
        assert_eq!(dependencies(manifest), [("dependencies", "glam")]);
    }
}
