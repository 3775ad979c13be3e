//! A hundred folios that are stacked closed at random and unfolded from there, the other way round than the program works:
//! it has to fold each as it was stacked, and has nothing to say against it. Then each gets a fault at a known place, which
//! has to be found there, and nothing else.

#![expect(clippy::unwrap_used, reason = "a test may fail")]

use check::{Finding, Severity};
use foliowright_tests::closed::{Closed, Host};
use foliowright_tests::dice::Dice;
use foliowright_tests::seeded::{Kind, Planted, count, kinds};
use foliowright_tests::stacking::stacked;
use foliowright_tests::truth::{MAY_BE_SAID, disagreements, notes};
use foliowright_tests::unfold::{Folio, unfold};
use model::change::perform;
use model::part::ClosureKind;
use model::{Length, PartKind, Unit};
use session::Derived;
use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;
use std::sync::LazyLock;

/// How many folios.
const FOLIOS: u64 = 100;

/// On how many folios each kind of fault is planted, at least.
const LEAST: usize = 3;

/// On which folio which kind of fault is planted.
static PLAN: LazyLock<Vec<(u64, &'static Kind)>> = LazyLock::new(planned);

fn folio(seed: u64) -> Folio {
    let (closed, margins, mut dice) = stacked(seed);
    unfold(&closed, margins, &mut dice)
}

/// A kind of fault in a folio; the same every time.
fn planted(folio: &Folio, seed: u64, kind: &Kind) -> Option<Planted> {
    (kind.plant)(folio, &mut Dice::new(seed ^ 0x0f01_1ade))
}

/// One fault for every folio: of those that it has a place for, the one that fewest have got. Then more for those that too
/// few have.
fn planned() -> Vec<(u64, &'static Kind)> {
    let mut counts: Vec<(usize, &'static Kind)> = kinds().map(|kind| (0, kind)).collect();
    let mut plan: Vec<(u64, &'static Kind)> = Vec::new();
    for seed in 0..FOLIOS {
        let folio = folio(seed);
        counts.sort_by_key(|(count, _)| *count);
        if let Some((count, kind)) = counts.iter_mut().find(|(_, kind)| planted(&folio, seed, kind).is_some()) {
            *count += 1;
            plan.push((seed, *kind));
        }
    }
    for (count, kind) in &mut counts {
        for seed in 0..FOLIOS {
            let is_new = !plan.iter().any(|(other, its)| *other == seed && its.name == kind.name);
            if *count < LEAST && is_new && planted(&folio(seed), seed, kind).is_some() {
                *count += 1;
                plan.push((seed, *kind));
            }
        }
    }
    plan
}

/// The program agrees with what is known of some folios, and says of them what may be said.
#[track_caller]
fn close(seeds: Range<u64>) {
    let mut wrong = Vec::new();
    for seed in seeds {
        let folio = folio(seed);
        let derived = Derived::of(&folio.document);
        wrong.extend(disagreements(&folio, &derived).into_iter().map(|said| format!("folio {seed}: {said}")));
        let known = notes(&folio.closed);
        let said: BTreeSet<&str> = derived.findings.iter().map(|finding| finding.rule).collect();
        for rule in known.difference(&said) {
            wrong.push(format!("folio {seed}: {rule} says nothing"));
        }
        let may = |finding: &&Finding| known.contains(finding.rule) || MAY_BE_SAID.contains(&finding.rule);
        let notes = |finding: &&Finding| may(finding) && finding.severity == Severity::Note;
        let not_so = derived.findings.iter().filter(|finding| !notes(finding));
        wrong.extend(not_so.map(|finding| format!("folio {seed}: {}: {}", finding.rule, finding.sentence)));
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

/// Every fault of a part of the plan is found where it was planted, with nothing unrelated, and the first way that is
/// offered mends it.
#[track_caller]
fn find(part: usize, of: usize) {
    let mut wrong = Vec::new();
    for (seed, kind) in PLAN.iter().skip(part).step_by(of) {
        let planted = planted(&folio(*seed), *seed, kind).unwrap();
        wrong.extend(faults(kind, &planted).into_iter().map(|said| format!("{} in folio {seed}: {said}", kind.name)));
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

/// What is wrong with how a fault is found.
fn faults(kind: &Kind, planted: &Planted) -> Vec<String> {
    let derived = Derived::of(&planted.document);
    let mut wrong = Vec::new();
    let of_rule = |finding: &&Finding| finding.rule == kind.rule;
    let unrelated = |finding: &&Finding| {
        finding.severity > Severity::Note && !of_rule(finding) && !kind.also.contains(&finding.rule)
    };
    let unrelated = derived.findings.iter().filter(unrelated);
    wrong.extend(unrelated.map(|finding| format!("{} says too: {}", finding.rule, finding.sentence)));
    let named = derived.findings.iter().find(|one| of_rule(one) && planted.is_named(one, &derived.layout));
    let Some(finding) = named else {
        let said = derived.findings.iter().map(|one| format!("{}: {} {:?}", one.rule, one.sentence, one.spot));
        wrong.push(format!("{} does not name {:?}: {:?}", kind.rule, planted.at, said.collect::<Vec<_>>()));
        return wrong;
    };
    if let Some(fix) = finding.fixes.first() {
        match perform(&planted.document, &derived.layout, fix.edit.clone()) {
            Ok(done) => {
                let after = Derived::new(&done.document, done.layout);
                wrong.extend(
                    unmended(kind, &derived, &after).into_iter().map(|said| format!("\"{}\" {said}", fix.label)),
                );
            }
            Err(refusal) => wrong.push(format!("\"{}\" is refused: {refusal:?}", fix.label)),
        }
    }
    wrong
}

/// What is wrong with how a fault was mended.
fn unmended(kind: &Kind, before: &Derived, after: &Derived) -> Vec<String> {
    let of = |derived: &Derived, rule: &str, least| count(&derived.findings, rule, least);
    let is_left = of(after, kind.rule, Severity::Note) >= of(before, kind.rule, Severity::Note);
    let is_new = |finding: &&Finding| {
        let count = |derived| of(derived, finding.rule, Severity::Error);
        finding.severity == Severity::Error && count(after) > count(before)
    };
    let new =
        after.findings.iter().filter(is_new).map(|finding| format!("brings {}: {}", finding.rule, finding.sentence));
    new.chain(is_left.then(|| "does not mend it".to_owned())).collect()
}

// Several tests, so that they run beside one another.

#[test]
fn the_first_fifty_folios_close_as_they_were_stacked() {
    close(0..FOLIOS / 2);
}

#[test]
fn the_other_fifty_folios_close_as_they_were_stacked() {
    close(FOLIOS / 2..FOLIOS);
}

#[test]
fn every_third_fault_is_found_where_it_was_planted() {
    find(0, 3);
}

#[test]
fn every_third_fault_after_that_is_found_where_it_was_planted() {
    find(1, 3);
}

#[test]
fn every_other_fault_is_found_where_it_was_planted() {
    find(2, 3);
}

#[test]
fn every_folio_has_a_fault_and_every_kind_of_fault_is_planted_in_several() {
    let seeds: BTreeSet<u64> = PLAN.iter().map(|(seed, _)| *seed).collect();
    assert_eq!(seeds, (0..FOLIOS).collect());
    let mut counts: BTreeMap<&str, usize> = kinds().map(|kind| (kind.name, 0)).collect();
    for (_, kind) in PLAN.iter() {
        *counts.get_mut(kind.name).unwrap() += 1;
    }
    let few: Vec<_> = counts.iter().filter(|(_, count)| **count < LEAST).collect();
    assert!(few.is_empty(), "{few:?}");
    assert_eq!(counts.len(), kinds().count(), "no two kinds are called the same");
    let rules: BTreeSet<&str> = kinds().map(|kind| kind.rule).collect();
    let unknown: Vec<_> = rules.iter().filter(|rule| check::rule::named(rule).is_none()).collect();
    assert!(unknown.is_empty(), "{unknown:?}");
    assert!(rules.len() >= 38, "{rules:?}");
}

#[test]
fn the_hundred_folios_have_all_that_folios_have() {
    let all: Vec<Closed> = (0..FOLIOS).map(|seed| stacked(seed).0).collect();
    #[track_caller]
    fn some(all: &[Closed], least: usize, what: &str, has: impl Fn(&Closed) -> bool) {
        let count = all.iter().filter(|closed| has(closed)).count();
        assert!(count >= least, "{what}: {count}");
    }
    let hangs = |closed: &Closed| closed.leaves.iter().filter_map(|leaf| leaf.hangs).collect::<Vec<_>>();
    let place = |closed: &Closed, leaf| closed.place(foliowright_tests::closed::Layer::Leaf(leaf));
    some(&all, 30, "inches", |closed| closed.units == Unit::Inch);
    some(&all, 30, "millimetres", |closed| closed.units == Unit::Millimetre);
    some(&all, 10, "four flaps", |closed| hangs(closed).iter().filter(|hang| hang.on == 0).count() == 4);
    some(&all, 20, "gussets", |closed| hangs(closed).iter().any(|hang| hang.depth > Length::ZERO));
    some(&all, 20, "no gussets", |closed| hangs(closed).iter().all(|hang| hang.depth == Length::ZERO));
    some(&all, 5, "gussets of several depths", |closed| {
        hangs(closed).iter().map(|hang| hang.depth).filter(|&depth| depth > Length::ZERO).collect::<BTreeSet<_>>().len()
            > 1
    });
    some(&all, 10, "clipped corners", |closed| closed.leaves.iter().any(|leaf| leaf.clip > Length::ZERO));
    some(&all, 10, "what folds in under a flap", |closed| {
        let inner = |leaf: usize| {
            closed.leaves[leaf].hangs.is_some_and(|hang| hang.on != 0 && place(closed, leaf) < place(closed, hang.on))
        };
        (1..closed.leaves.len()).any(inner)
    });
    some(&all, 10, "pleats", |closed| {
        let outer = |leaf: usize| {
            closed.leaves[leaf].hangs.is_some_and(|hang| hang.on != 0 && place(closed, leaf) > place(closed, hang.on))
        };
        (1..closed.leaves.len()).any(outer)
    });
    some(&all, 5, "tucks", |closed| closed.tuck.is_some());
    some(&all, 5, "two flaps in one step", |closed| closed.steps.iter().any(|step| step.len() > 1));
    some(&all, 20, "bands", |closed| closed.band);
    let kind = |is: fn(&PartKind) -> bool| move |closed: &Closed| closed.stuck.iter().any(|part| is(&part.kind));
    some(&all, 20, "mats", kind(|kind| matches!(kind, PartKind::Mat(_))));
    some(&all, 10, "pockets", kind(|kind| matches!(kind, PartKind::Pocket(_))));
    some(&all, 8, "pages", kind(|kind| matches!(kind, PartKind::Page(_))));
    some(&all, 8, "tabs", kind(|kind| matches!(kind, PartKind::Tab(_))));
    some(&all, 8, "what hangs on hinges", |closed| closed.stuck.iter().any(|part| matches!(part.on, Host::Hinge(_))));
    let magnet = |kind: &PartKind| matches!(kind, PartKind::Closure(closure) if closure.kind == ClosureKind::Magnet);
    some(&all, 5, "magnets", kind(magnet));
}
