//! Rust files as lines of code, told apart from tests and comments by how we write: tests come last in a file, in a
//! `mod` of their own or in a file called `tests` or `testing`.

/// Whether a file holds nothing but tests.
pub(crate) fn is_test(path: &str) -> bool {
    let parts: Vec<&str> = path.split('/').collect();
    parts.iter().any(|part| ["tests", "tests.rs", "testing.rs", "benches"].contains(part))
}

/// The lines of a file that are neither test nor comment, each with its number.
pub(crate) fn code(text: &str) -> impl Iterator<Item = (usize, &str)> {
    let lines: Vec<&str> = text.lines().collect();
    let tests = lines.windows(2).position(|pair| pair[0].trim() == "#[cfg(test)]" && opens_module(pair[1]));
    let end = tests.unwrap_or(lines.len());
    let comment = |line: &str| line.trim_start().starts_with("//");
    lines.into_iter().take(end).enumerate().filter(move |(_, line)| !comment(line)).map(|(i, line)| (i + 1, line))
}

fn opens_module(line: &str) -> bool {
    line.starts_with("mod ") && line.trim_end().ends_with('{')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tests_and_comments_are_no_code() {
        let text = "//! About.\nuse a;\n    // Why.\nfn b() {}\n#[cfg(test)]\nmod tests {\nuse c;\n}\n";
        assert_eq!(code(text).collect::<Vec<_>>(), [(2, "use a;"), (4, "fn b() {}")]);
        let elsewhere = "use a;\n#[cfg(test)]\nmod tests;\nfn b() {}\n";
        assert_eq!(code(elsewhere).count(), 4);
    }

    #[test]
    fn test_files_are_told_by_their_path() {
        for (path, test) in [
            ("crates/a/src/tests.rs", true),
            ("crates/a/tests/b.rs", true),
            ("crates/a/src/tests/b.rs", true),
            ("crates/a/src/testing.rs", true),
            ("crates/a/src/latests.rs", false),
        ] {
            assert_eq!(is_test(path), test, "{path}");
        }
    }
}
