//! What is seen while a line is dragged is what would be worked out anew from the document as it is then, and when the drag
//! has ended it is all of it.

use check::Finding;
use file::starters::ALL;
use foliowright_tests::dice::Dice;
use model::change::move_line;
use model::{Datum, Edit, Length, Place};
use session::{Derived, Session};

fn without_fixes(findings: &[Finding]) -> Vec<Finding> {
    findings.iter().map(|finding| Finding { fixes: Vec::new(), ..finding.clone() }).collect()
}

/// Whether all of the stages agree; of the findings but for their fixes where the drag is under way.
#[track_caller]
fn agree(session: &Session, is_under_way: bool) {
    let (seen, anew) = (session.derived(), Derived::of(session.document()));
    assert_eq!(seen.layout, anew.layout);
    assert_eq!(seen.folded, anew.folded);
    assert_eq!(seen.supply, anew.supply);
    if is_under_way {
        assert_eq!(without_fixes(&seen.findings), without_fixes(&anew.findings));
        let offered = |findings: &[Finding]| findings.iter().map(|finding| finding.fixes.len()).sum::<usize>();
        assert!(offered(&seen.findings) <= offered(&anew.findings));
    } else {
        assert_eq!(seen.findings, anew.findings);
        assert_eq!(seen.silenced, anew.silenced);
    }
}

#[test]
fn random_drags_show_what_there_is() {
    let mut left_out = 0;
    for (seed, starter) in (1..).zip(ALL) {
        let mut dice = Dice::new(seed);
        let mut session = Session::new(file::from_text(starter.text).unwrap());
        for _ in 0..3 {
            let lines = session.document().lines.iter();
            let from_edge = |line: &&model::Line| matches!(line.place, Place::Measured { from: Datum::Edge, .. });
            let ids: Vec<_> = lines.filter(from_edge).map(|line| line.id).collect();
            let id = ids[dice.below(ids.len())];
            session.begin_gesture("Move a line");
            for _ in 0..3 {
                let (document, layout) = session.gesture_start().unwrap();
                let to = Length::MILLIMETRE * i64::try_from(dice.below(300)).unwrap();
                let edit = move_line(document, layout, id, to);
                // Where it is refused, all stays as it was.
                let _refused = session.drag(edit);
                agree(&session, true);
            }
            let before: usize = session.derived().findings.iter().map(|finding| finding.fixes.len()).sum();
            session.finish_gesture();
            agree(&session, false);
            let after: usize = session.derived().findings.iter().map(|finding| finding.fixes.len()).sum();
            left_out += after - before;
            // What leaves the paper as it is, and taking it back.
            session.apply("Change the title", Edit::SetTitle(format!("Folio {seed}"))).unwrap();
            agree(&session, false);
            session.go_to(session.steps().1 - 1).unwrap();
            agree(&session, false);
        }
    }
    assert!(left_out > 0, "no drag ended where a fix had to be tried out");
}
