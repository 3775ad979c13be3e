//! What must not be left behind: paths of one machine, tests that are switched off, work that is put off.

use crate::tree::Tree;

/// Folders of somebody's machine. In two parts each, so that this file passes its own check.
const MACHINE: [&str; 6] = [
    concat!("/wo", "rk/"),
    concat!("/fa", "rm/"),
    concat!("/ro", "ot/"),
    concat!("/ho", "me/"),
    concat!("/tm", "p/w/"),
    concat!("/tm", "p/bash_jobs"),
];

/// In Rust files.
const PUT_OFF: [&str; 4] =
    [concat!("#[ig", "nore"), concat!("to", "do!("), concat!("unimple", "mented!("), concat!("d", "bg!(")];

/// Every text file.
pub(crate) fn check(tree: &Tree) -> Vec<String> {
    let mut wrong = Vec::new();
    for (path, text) in &tree.texts {
        for (i, line) in text.lines().enumerate() {
            let number = i + 1;
            for folder in MACHINE.iter().filter(|folder| line.contains(*folder)) {
                wrong.push(format!("{path}:{number}: \"{folder}\" is a folder of one machine"));
            }
            for put_off in PUT_OFF.iter().filter(|put_off| path.ends_with(".rs") && line.contains(*put_off)) {
                wrong.push(format!("{path}:{number}: \"{put_off}\" is left in"));
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
    fn paths_of_one_machine_are_found_in_any_text() {
        let text = format!("First.\nSee {}somebody/a.png\n", MACHINE[3]);
        expect(
            check,
            &[("README.md", &text)],
            &[&format!("README.md:2: \"{}\" is a folder of one machine", MACHINE[3])],
        );
        expect(check, &[("README.md", "See /usr/share/doc and docs/homework/a.\n")], &[]);
    }

    #[test]
    fn nothing_is_put_off() {
        for put_off in PUT_OFF {
            let text = format!("//! About.\n{put_off}\n");
            expect(
                check,
                &[("crates/a/src/b.rs", &text)],
                &[&format!("crates/a/src/b.rs:2: \"{put_off}\" is left in")],
            );
            expect(check, &[("docs/style.md", &text)], &[]);
        }
    }
}
