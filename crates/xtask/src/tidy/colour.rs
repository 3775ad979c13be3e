//! Colours are declared in one place for drawings and one for the window, and named everywhere else.

use super::rust_text::{code, is_test};
use crate::tree::Tree;

const HOMES: [&str; 2] = ["crates/draw/src/style.rs", "crates/app/src/theme.rs"];

/// How a colour is written as numbers.
const LITERALS: [&str; 4] = [
    concat!("Colour::", "solid("),
    concat!("Color32::", "from_rgb"),
    concat!("Color32::", "from_gray("),
    concat!("Color32::", "from_hex("),
];

/// Every Rust file but for tests, which draw in colours of their own.
pub(crate) fn check(tree: &Tree) -> Vec<String> {
    let mut wrong = Vec::new();
    for (path, text) in tree.rust().filter(|(path, _)| !HOMES.contains(path) && !is_test(path)) {
        for (number, line) in code(text) {
            if LITERALS.iter().any(|literal| line.contains(literal)) {
                wrong.push(format!("{path}:{number}: give the colour a name in {}", HOMES.join(" or ")));
            }
        }
    }
    wrong
}

#[cfg(test)]
mod tests {
    use super::super::expect;
    use super::*;

    #[test]
    fn colours_have_a_home() {
        let text = format!("const INK: Colour = {}0, 0, 0);\n", LITERALS[0]);
        expect(check, &[(HOMES[0], &text), ("crates/draw/src/tests.rs", &text)], &[]);
        expect(
            check,
            &[("crates/draw/src/sheet.rs", &text)],
            &[
                "crates/draw/src/sheet.rs:1: give the colour a name in crates/draw/src/style.rs or crates/app/src/theme.rs",
            ],
        );
    }
}
