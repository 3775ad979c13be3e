//! What may be moved where, what is in its way, and reasons that contradict one another.

#![expect(clippy::unwrap_used, reason = "a test may fail")]

mod common;

use common::{CUT, SCORE, Said, base, closure, cut, gate, keeps_its_promises, mat, of, part, pocket, put, why};
use foliowright_make::{Blocked, Why};
use model::part::{ClosureKind, Job};

#[test]
fn a_job_moves_until_something_is_in_its_way() {
    let sketch = gate().part(part(1, mat("2", "2"), base())).part(part(2, mat("1", "1"), of(1, 0)));
    let making = sketch.making();
    assert_eq!(making.jobs, [SCORE, CUT, cut(1), cut(2), put(1), put(2), Job::Close]);
    assert_eq!(making.may_move(cut(2), 0).unwrap(), [cut(2), SCORE, CUT, cut(1), put(1), put(2), Job::Close]);
    assert_eq!(making.may_move(cut(2), 4).unwrap(), [SCORE, CUT, cut(1), put(1), cut(2), put(2), Job::Close]);
    assert_eq!(making.may_move(cut(2), 3).unwrap(), making.jobs);
    assert_eq!(making.may_move(put(9), 3).unwrap(), making.jobs);
    let blocked = |job, to, says: &str| {
        let Blocked { by, why } = making.may_move(job, to).unwrap_err();
        assert!(by == why.first || by == why.then);
        assert_eq!(why.sentence(&sketch.0), says);
    };
    blocked(put(2), 0, "\"Mat 2\" lies on \"Mat 1\", which is put in place first.");
    blocked(put(2), 99, "\"Mat 2\" is put on while the folio lies flat, before it is closed.");
    blocked(put(1), 0, "\"Mat 1\" is made before it is put in place.");
    blocked(CUT, 0, "The folio is scored before it is cut out: a whole sheet lies square on the board.");
    blocked(CUT, 99, "The folio is scored and cut out before \"Mat 1\" is put on it.");
}

#[test]
fn two_that_cover_each_others_glue_are_a_circle_and_are_listed_all_the_same() {
    let sketch = gate().part(part(1, mat("3", "3"), base())).part(part(2, mat("3", "3"), base()).moved("1", "0"));
    let making = sketch.making();
    keeps_its_promises(&making);
    assert_eq!(making.circles.len(), 1);
    // As the document has them.
    assert_eq!(why(&making, put(1), put(2)), Some(Why::OverItsGlue));
    assert_eq!(why(&making, put(2), put(1)), None);
    assert_eq!(
        making.circles[0].sentence(&sketch.0),
        "\"Mat 2\" would cover the place where \"Mat 1\" is glued, so \"Mat 1\" comes first; but \"Mat 1\" would cover \
         the place where \"Mat 2\" is glued, so \"Mat 2\" comes first; put one of them elsewhere, or on the other."
    );
    // Put on the other, there is no circle.
    let mended = gate().part(part(1, mat("3", "3"), base())).part(part(2, mat("3", "3"), of(1, 0)).moved("1", "0"));
    assert_eq!(mended.making().circles, []);
}

#[test]
fn two_brads_that_each_need_the_other_side_first_are_a_circle_of_four() {
    // Each goes through its own mat and the base, and comes out under the other mat.
    let brad = |id, on, down| part(id, closure(ClosureKind::Brad), of(on, 0)).moved("0", down);
    let sketch = gate()
        .part(part(1, mat("4", "4"), base()))
        .part(part(2, mat("4", "4"), base()).on_back())
        .part(brad(3, 1, "-1"))
        .part(brad(4, 2, "1"));
    let making = sketch.making();
    keeps_its_promises(&making);
    assert_eq!(making.circles.len(), 1);
    let mut reasons: Vec<Why> = making.circles[0].reasons.iter().map(|it| it.why).collect();
    assert_eq!(reasons.len(), 4);
    reasons.sort();
    assert_eq!(reasons, [Why::LiesOn, Why::LiesOn, Why::OverLegs, Why::OverLegs]);
    assert_eq!(making.circles[0].reasons[3].why, Why::OverLegs);
    // With one brad less it can be done.
    let mended = gate().part(part(1, mat("4", "4"), base())).part(part(2, mat("4", "4"), base()).on_back());
    assert_eq!(mended.part(brad(3, 1, "-1")).making().circles, []);
}

/// A pocket and a mat that it overlaps by the width of its glue contradict each other; edge to edge they do not.
#[test]
fn edge_to_edge_is_no_overlap() {
    let beside = |across| {
        gate()
            .part(part(1, pocket("2", "4"), base()).moved("-1", "0"))
            .part(part(2, mat("2", "4"), base()).moved(across, "0"))
    };
    assert_eq!(beside("1").making().circles, []);
    assert_eq!((why(&beside("1").making(), put(1), put(2)), why(&beside("1").making(), put(2), put(1))), (None, None));
    assert_eq!(beside("7/8").making().circles.len(), 1);
}
