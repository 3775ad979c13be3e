//! The list of crates that the program is built from, with their licences, as it is shown by the program itself: without what
//! only tests and building need.

use anyhow::{Context, Result, bail};
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;

/// Where it is kept.
const PLACE: &str = "crates/about/src/dependencies.txt";

/// The package that is the program.
const PROGRAM: &str = "foliowright";

/// Whether the list is what the program is built from.
///
/// # Errors
/// Says how to write it anew where it is not.
pub(super) fn check(root: &Path, metadata: &Value) -> Result<()> {
    let kept = fs::read_to_string(root.join(PLACE)).unwrap_or_default();
    if kept != text(metadata)? {
        bail!("{PLACE} is out of date; run cargo xtask licences --write");
    }
    println!("{} of them are in the program, and listed by it", kept.lines().count());
    Ok(())
}

/// Writes it anew.
///
/// # Errors
/// The file can't be written.
pub(super) fn write(root: &Path, metadata: &Value) -> Result<()> {
    let place = root.join(PLACE);
    fs::write(&place, text(metadata)?).with_context(|| format!("{} can't be written", place.display()))?;
    println!("{}", place.display());
    Ok(())
}

/// A line for each crate from a registry that is reached from the program: name, version, licence.
fn text(metadata: &Value) -> Result<String> {
    let packages = metadata["packages"].as_array().context("cargo metadata lists no packages")?;
    let nodes = metadata["resolve"]["nodes"].as_array().context("cargo metadata resolves nothing")?;
    let id = |value: &Value| value["id"].as_str().unwrap_or_default().to_owned();
    let by_id: BTreeMap<String, &Value> = packages.iter().map(|package| (id(package), package)).collect();
    let used: BTreeMap<String, Vec<String>> = nodes.iter().map(|node| (id(node), needed(node))).collect();
    let program = packages.iter().find(|package| package["name"] == PROGRAM).context("there is no such program")?;
    let mut reached = BTreeSet::new();
    let mut open = vec![id(program)];
    while let Some(next) = open.pop() {
        if reached.insert(next.clone()) {
            open.extend(used.get(&next).into_iter().flatten().cloned());
        }
    }
    let line = |id: &String| {
        let package = by_id.get(id).filter(|package| !package["source"].is_null())?;
        let word = |key: &str| package[key].as_str().unwrap_or("unknown").to_owned();
        Some((word("name"), word("version"), word("license")))
    };
    let lines: BTreeSet<(String, String, String)> = reached.iter().filter_map(line).collect();
    Ok(lines.into_iter().map(|(name, version, licence)| format!("{name} {version} {licence}\n")).collect())
}

/// What a crate needs to run, by id; not what builds or tests it.
fn needed(node: &Value) -> Vec<String> {
    let all = node["deps"].as_array().map(Vec::as_slice).unwrap_or_default();
    let runs = |used: &&Value| {
        let kinds = used["dep_kinds"].as_array().map(Vec::as_slice).unwrap_or_default();
        kinds.iter().any(|kind| kind["kind"].is_null())
    };
    all.iter().filter(runs).filter_map(|used| used["pkg"].as_str().map(str::to_owned)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_tests_and_building_need_is_left_out() {
        let package = |name: &str, source: &str| {
            format!(
                r#"{{ "id": "{name}", "name": "{name}", "version": "1.2.3", "license": "MIT", "source": {source} }}"#
            )
        };
        let used = |name: &str, kind: &str| format!(r#"{{ "pkg": "{name}", "dep_kinds": [{{ "kind": {kind} }}] }}"#);
        let text_of = format!(
            r#"{{ "packages": [{}], "resolve": {{ "nodes": [
                {{ "id": "foliowright", "deps": [{}, {}, {}] }}, {{ "id": "loom", "deps": [{}] }}
            ] }} }}"#,
            [
                package("foliowright", "null"),
                package("loom", "\"registry\""),
                package("shuttle", "\"registry\""),
                package("warp", "\"registry\""),
                package("weft", "\"registry\""),
            ]
            .join(", "),
            used("loom", "null"),
            used("warp", "\"dev\""),
            used("weft", "\"build\""),
            used("shuttle", "null"),
        );
        let metadata = serde_json::from_str(&text_of).unwrap();
        assert_eq!(text(&metadata).unwrap(), "loom 1.2.3 MIT\nshuttle 1.2.3 MIT\n");
        assert!(text(&Value::Null).is_err());
    }
}
