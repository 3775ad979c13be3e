//! Two things that don't need one another, worked out at once where there are two processors. The one place with a thread in
//! all that has to give the same answer everywhere: neither sees what the other does, so it makes no difference.

use std::panic::resume_unwind;
use std::thread::{Builder, scope};

/// As much as the first thread of a program mostly has twice over: what is worked out must not depend on which thread it is on.
const STACK: usize = 16 << 20;

/// What both give: the second is worked out on a thread of its own; after the first where none is to be had.
pub fn at_once<A, B: Send>(first: impl FnOnce() -> A, second: impl Fn() -> B + Sync) -> (A, B) {
    scope(|threads| {
        let other = Builder::new().stack_size(STACK).spawn_scoped(threads, &second);
        let first = first();
        let second = match other {
            Ok(other) => other.join().unwrap_or_else(|panic| resume_unwind(panic)),
            Err(_none_to_be_had) => second(),
        };
        (first, second)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn both_are_worked_out() {
        let words = ["score", "cut", "fold"];
        assert_eq!(at_once(|| words.len(), || words.concat()), (3, "scorecutfold".to_owned()));
    }

    #[test]
    #[should_panic = "torn"]
    fn what_goes_wrong_in_either_is_told() {
        at_once(|| (), || panic!("torn"));
    }
}
