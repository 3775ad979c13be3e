//! Crates whose results depend on nothing but what they are given touch no files, clocks, settings or threads.

use super::rust_text::{code, is_test};
use crate::tree::Tree;

const PURE: [&str; 15] = [
    "about", "model", "compare", "contents", "raster", "make", "nest", "allot", "fold", "fit", "check", "draw",
    "booklet", "session", "output",
];

const OUTSIDE: [&str; 4] = ["std::fs", "std::time", "std::env", "std::thread"];

/// Where one of these is used all the same, since no result can depend on it.
const ALLOWED: [(&str, &str); 1] = [("crates/fold/src/at_once.rs", "std::thread")];

/// Every file of a pure crate but for its tests.
pub(crate) fn check(tree: &Tree) -> Vec<String> {
    let mut wrong = Vec::new();
    for (path, text) in tree.rust().filter(|(path, _)| is_pure(path) && !is_test(path)) {
        for (number, line) in code(text) {
            let used = |outside: &&&str| line.contains(**outside) && !ALLOWED.contains(&(path, **outside));
            for outside in OUTSIDE.iter().filter(used) {
                wrong.push(format!("{path}:{number}: a pure crate must not use {outside}"));
            }
        }
    }
    wrong
}

fn is_pure(path: &str) -> bool {
    PURE.iter().any(|name| path.strip_prefix("crates/").is_some_and(|rest| rest.starts_with(&format!("{name}/src/"))))
}

#[cfg(test)]
mod tests {
    use super::super::expect;
    use super::*;

    #[test]
    fn pure_crates_reach_for_nothing() {
        let text = "//! std::fs\nuse std::time::Instant;\n#[cfg(test)]\nmod tests {\n    use std::fs;\n}\n";
        expect(
            check,
            &[("crates/fold/src/a.rs", text)],
            &["crates/fold/src/a.rs:2: a pure crate must not use std::time"],
        );
        expect(check, &[("crates/disk/src/a.rs", text), ("crates/fold/src/tests.rs", text)], &[]);
    }
}
