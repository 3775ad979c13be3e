//! Prints the guide's glossary.

#![expect(clippy::print_stdout, reason = "this is what it is for")]

fn main() {
    print!("{}", foliowright_about::glossary::page());
}
