//! Things that don't need one another, worked out at once where there are two processors. The one place with a thread in
//! all that has to give the same answer everywhere: neither sees what the other does, so it makes no difference.

use std::panic::resume_unwind;
use std::sync::mpsc::channel;
use std::sync::{Mutex, PoisonError};
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

/// Makes things one after the other with `make`, which hands each on as soon as it is there, and looks at each in turn with
/// `look` on a thread of its own while the next are made; once all are made where no thread is to be had. Gives what making
/// gave, and what each looked like.
pub(crate) fn along<M, T: Send, L: Send>(
    make: impl FnOnce(&mut dyn FnMut(T)) -> M,
    look: impl FnMut(T) -> L + Send,
) -> (M, Vec<L>) {
    let (hand_on, handed) = channel();
    // Lent to the thread and not given to it, so that both are still here where there is none.
    let lent = Mutex::new((handed, look));
    let all = || {
        let (handed, look) = &mut *lent.lock().unwrap_or_else(PoisonError::into_inner);
        handed.iter().map(look).collect::<Vec<L>>()
    };
    scope(|threads| {
        let other = Builder::new().stack_size(STACK).spawn_scoped(threads, all);
        // What can't be handed on was for a thread that has panicked, which is told below.
        let made = make(&mut |thing| drop(hand_on.send(thing)));
        drop(hand_on);
        let looked = match other {
            Ok(other) => other.join().unwrap_or_else(|panic| resume_unwind(panic)),
            Err(_none_to_be_had) => all(),
        };
        (made, looked)
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

    #[test]
    fn each_is_looked_at_in_the_order_in_which_it_was_made() {
        let make = |hand_on: &mut dyn FnMut(usize)| {
            (0..1000).for_each(hand_on);
            "made"
        };
        let (made, looked) = along(make, |number| number * 2);
        assert_eq!((made, looked), ("made", (0..2000).step_by(2).collect()));
    }

    #[test]
    #[should_panic = "torn"]
    fn what_goes_wrong_in_looking_is_told() {
        along(|hand_on| (0..100).for_each(hand_on), |number| assert!(number < 7, "torn"));
    }
}
