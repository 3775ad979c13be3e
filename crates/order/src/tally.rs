//! All orders: which classes hang together, and every way to settle each such component.
//!
//! Components are independent, so that eight flaps of four orders each are eight short lists and not a long one.

use crate::bits::Bits;
use crate::engine::Engine;
use crate::literal::Literal;
use crate::search::Verdict;

/// Classes that hang together, in the order to decide them in.
pub(crate) type Component = Vec<usize>;

/// The components of what is not settled on the ground, by their first classes in deciding order.
pub(crate) fn components(engine: &Engine) -> Vec<Component> {
    let system = engine.system;
    let mut unseen: Vec<bool> =
        (0..system.classes).map(|class| engine.value(Literal::new(class, true)).is_none()).collect();
    let mut turn = vec![0; system.classes];
    for (at, &class) in system.order.iter().enumerate() {
        turn[class] = at;
    }
    let mut found = Vec::new();
    for &class in &system.order {
        if !std::mem::take(&mut unseen[class]) {
            continue;
        }
        let mut component = vec![class];
        let mut at = 0;
        while let Some(&class) = component.get(at) {
            at += 1;
            each_neighbour(engine, class, |other| {
                if std::mem::take(&mut unseen[other]) {
                    component.push(other);
                }
            });
        }
        component.sort_unstable_by_key(|&class| turn[class]);
        found.push(component);
    }
    found
}

fn each_neighbour(engine: &Engine, class: usize, mut visit: impl FnMut(usize)) {
    let system = engine.system;
    for &number in system.even_of.of(class) {
        system.even[number as usize].classes().iter().for_each(|&other| visit(other));
    }
    let literal = Literal::new(class, true);
    for pair in system.ring_of.of(literal.code()).iter().chain(system.ring_of.of((!literal).code())) {
        pair.iter().for_each(|other| visit(other.number()));
    }
    for pair in system.pairs.of(class) {
        let (a, b) = (pair.upper as usize, pair.lower as usize);
        for c in system.sets[pair.set as usize].iter().filter(|&c| c != a && c != b) {
            visit(system.above(a, c).number());
            visit(system.above(b, c).number());
        }
    }
}

/// What came of going through all ways to settle a component.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Tally {
    /// How many were found.
    pub found: u64,
    /// [`Verdict::Nothing`] when there are no more, [`Verdict::Found`] when `cap` were found and there is one more.
    pub then: Verdict,
}

/// Which of the ways to settle a component to go through.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Extent {
    /// All.
    All,
    /// Those in which the first class is as it is tried first. The others are these turned over, where nothing is settled
    /// on the ground: see [`crate::symmetry::turns_over`].
    Half,
}

/// Goes through the ways to settle a component, from the ground up, in an order that is always the same.
pub(crate) fn each(
    engine: &mut Engine,
    component: &Component,
    extent: Extent,
    cap: u64,
    effort: u64,
    mut visit: impl FnMut(&Engine),
) -> Tally {
    engine.back_to(0);
    let limit = engine.steps.saturating_add(effort);
    let mut found = 0;
    let mut tried: Vec<Guess> = Vec::new();
    loop {
        let holds = engine.follow();
        let from = tried.last().map_or(0, |guess| guess.at + 1);
        let is_open = |&at: &usize| engine.value(Literal::new(component[at], true)).is_none();
        let open = if holds { (from..component.len()).find(is_open) } else { None };
        if holds && open.is_none() {
            if found == cap {
                return Tally { found, then: Verdict::Found };
            }
            found += 1;
            visit(engine);
        }
        if engine.steps >= limit {
            return Tally { found, then: Verdict::Undecided };
        }
        let next = match open {
            Some(at) => Some(Guess { at, is_second: false }),
            None => second_guess(engine, &mut tried, extent),
        };
        let Some(guess) = next else { return Tally { found, then: Verdict::Nothing } };
        engine.try_out(Literal::new(component[guess.at], guess.is_second));
        tried.push(guess);
    }
}

/// A class that was tried, one on each level.
#[derive(Debug, Clone, Copy)]
struct Guess {
    /// Its place in the component.
    at: usize,
    /// Whether it is tried as true, after all ways in which it is false. (At first later panels are above earlier ones.)
    is_second: bool,
}

/// Goes back to the last class that was tried one way only; `None` when there is none left.
fn second_guess(engine: &mut Engine, tried: &mut Vec<Guess>, extent: Extent) -> Option<Guess> {
    while tried.last()?.is_second {
        tried.pop();
    }
    let Guess { at, .. } = tried.pop()?;
    engine.back_to(tried.len());
    let is_over = tried.is_empty() && extent == Extent::Half;
    (!is_over).then_some(Guess { at, is_second: true })
}

/// How the classes of a component are settled, one bit each.
pub(crate) fn settled(engine: &Engine, component: &Component) -> Bits {
    let mut bits = Bits::none(component.len());
    let is_true = |class: usize| engine.value(Literal::new(class, true)) == Some(true);
    component.iter().enumerate().filter(|(_, class)| is_true(**class)).for_each(|(at, _)| bits.put(at));
    bits
}

/// The way that is another one turned over, of so many classes.
pub(crate) fn turned_over(way: &Bits, classes: usize) -> Bits {
    let mut bits = way.clone();
    (0..classes).for_each(|at| bits.flip(at));
    bits
}
