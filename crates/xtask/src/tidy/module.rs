//! Every module says what it is for, and none grows past what one sitting can read.

use crate::tree::Tree;

/// Lines after which a file is likely to hold two things.
const MOST_LINES: usize = 600;

/// Longer files, each with why it is one thing all the same.
const LONGER: [(&str, &str); 0] = [];

/// Every Rust file's length, and the first line of those in `src` folders.
pub(crate) fn check(tree: &Tree) -> Vec<String> {
    let mut wrong = Vec::new();
    for (path, text) in tree.rust() {
        if path.contains("/src/") && !text.starts_with("//!") {
            wrong.push(format!("{path}: it does not open with //! and what it is for"));
        }
        let count = text.lines().count();
        if count > MOST_LINES && !LONGER.iter().any(|(listed, _)| *listed == path) {
            wrong
                .push(format!("{path}: {count} lines; split it, or list it in xtask's tidy/module.rs with the reason"));
        }
    }
    for (listed, _) in LONGER {
        if tree.texts.get(listed).is_none_or(|text| text.lines().count() <= MOST_LINES) {
            wrong.push(format!("{listed}: it is listed as a long file and is none"));
        }
    }
    wrong
}

#[cfg(test)]
mod tests {
    use super::super::expect;
    use super::*;

    #[test]
    fn modules_open_with_what_they_are_for() {
        expect(check, &[("crates/a/src/b.rs", "//! About.\n"), ("crates/a/tests/c.rs", "use d;\n")], &[]);
        expect(
            check,
            &[("crates/a/src/b.rs", "use c;\n")],
            &["crates/a/src/b.rs: it does not open with //! and what it is for"],
        );
    }

    #[test]
    fn long_files_are_named() {
        let text = |count: usize| format!("//! About.\n{}", "\n".repeat(count - 1));
        expect(check, &[("crates/a/src/b.rs", &text(600))], &[]);
        expect(
            check,
            &[("crates/a/src/b.rs", &text(601))],
            &["crates/a/src/b.rs: 601 lines; split it, or list it in xtask's tidy/module.rs with the reason"],
        );
    }
}
