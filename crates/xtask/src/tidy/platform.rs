//! What only some systems have is kept in one place, beside what the others do instead: the program is built for all of them,
//! and tried on few.

use super::rust_text::{code, is_test};
use crate::tree::Tree;

/// Where it may be used; each has a way for other systems beside it.
const HOMES: [&str; 1] = ["crates/keep/src/claim.rs"];

/// How such a thing is written.
const SIGNS: [&str; 9] = [
    "std::os::unix",
    "std::os::linux",
    "std::os::windows",
    "std::os::macos",
    "cfg(unix)",
    "cfg(windows)",
    "cfg(target_os",
    "libc::",
    "rustix::",
];

/// What a home says for the systems that have it not.
const OTHERWISE: &str = "cfg(not(unix))";

/// Crates that give what only some systems have.
const CRATES: [&str; 4] = ["libc", "rustix", "nix", "windows-sys"];

/// Every Rust file but for tests, and every manifest.
pub(crate) fn check(tree: &Tree) -> Vec<String> {
    let mut wrong = Vec::new();
    for (path, text) in tree.rust().filter(|(path, _)| !is_test(path) && !path.starts_with("crates/xtask/")) {
        let signs = |line: &str| SIGNS.iter().find(|sign| line.contains(**sign)).copied();
        let found: Vec<(usize, &str)> = code(text).filter_map(|(at, line)| Some((at, signs(line)?))).collect();
        if HOMES.contains(&path) {
            if !found.is_empty() && !code(text).any(|(_, line)| line.contains(OTHERWISE)) {
                wrong.push(format!("{path}: say what other systems do, by #[{OTHERWISE}]"));
            }
            continue;
        }
        for (at, sign) in found {
            wrong.push(format!("{path}:{at}: {sign} is not on every system; it belongs in {}", HOMES.join(" or ")));
        }
    }
    for name in tree.crates() {
        let manifest = format!("crates/{name}/Cargo.toml");
        let Some(text) = tree.texts.get(&manifest) else { continue };
        let of = |line: &&str| CRATES.iter().any(|one| line.split(['.', '=', ' ']).next() == Some(*one));
        for line in text.lines().map(str::trim).filter(of) {
            wrong.push(format!("{manifest}: {line} is not on every system"));
        }
    }
    wrong
}

#[cfg(test)]
mod tests {
    use super::super::expect;
    use super::*;

    #[test]
    fn what_some_systems_have_is_in_its_home_with_a_way_for_the_others() {
        let text = "//! About.\n#[cfg(unix)]\nuse std::os::unix::fs::MetadataExt;\n";
        let both = format!("{text}#[cfg(not(unix))]\nfn other() {{}}\n");
        expect(check, &[(HOMES[0], &both), ("crates/disk/src/tests.rs", text)], &[]);
        expect(
            check,
            &[(HOMES[0], text)],
            &["crates/keep/src/claim.rs: say what other systems do, by #[cfg(not(unix))]"],
        );
        expect(
            check,
            &[("crates/disk/src/save.rs", text)],
            &[
                "crates/disk/src/save.rs:2: cfg(unix) is not on every system; it belongs in crates/keep/src/claim.rs",
                "crates/disk/src/save.rs:3: std::os::unix is not on every system; it belongs in crates/keep/src/claim.rs",
            ],
        );
    }

    #[test]
    fn crates_of_one_system_are_not_used() {
        let manifest = "[dependencies]\nlibc = \"0.2\"\nlibm.workspace = true\n";
        let wrong = "crates/disk/Cargo.toml: libc = \"0.2\" is not on every system";
        expect(check, &[("crates/disk/Cargo.toml", manifest)], &[wrong]);
    }
}
