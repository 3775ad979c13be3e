//! Steps and jobs carried to another place in their order, or pushed there by keys.

use super::parts::with_mat;
use super::*;
use egui::Key;
use make::Making;
use model::{Crease, Direction, FoldAngle, Point, Step, Work};

/// What stands in the way when the tip folds last: see [`covered`].
const COVERED: &str = "Not as step 3: the right flap 2 cannot fold in step 3: the left flap already lies on it.";

/// A base of 6 in, a right flap of 5 in with a tip of 1 in that folds to its back, and a left flap of 5 in, closed in this
/// order: tip, right, left. Once both flaps are closed, the left one lies on the tip: from the sizes, by hand.
pub(super) fn covered() -> Bench {
    let inch = Length::INCH;
    let mut document = Document::new(Size::parse("17x6in").unwrap(), Unit::Inch);
    for (id, name, inches) in [(1, "Left fold", 5), (2, "Right fold", 11), (3, "Tip fold", 16)] {
        let mut line = Line { name: name.to_owned(), ..measured_score(LineId(id), Turn::None, inch * inches) };
        if id == 3 {
            line.work = Work::Score(Crease { direction: Direction::Mountain, angle: FoldAngle::Flat, pressed: None });
        }
        document.apply(add_line(&document, line)).unwrap();
    }
    document.base = Some(Point::new(inch * 8, inch * 3));
    document.steps = [3, 2, 1].map(|id| Step::of(vec![LineId(id)])).to_vec();
    bench_with(document, None, [])
}

pub(super) fn order(bench: &Bench) -> Vec<u32> {
    let steps = &bench.state().session().document().steps;
    steps.iter().flat_map(|step| step.lines.iter().map(|id| id.0)).collect()
}

/// Carries a row by its grip over another, to just beyond the middle of that, and holds it there.
fn carry(bench: &mut Bench, from: &str, over: &str) -> Pos2 {
    let [from, over] = [from, over].map(|name| bench.get_by_label(&format!("Grip of {name}")).rect().center());
    let to = over + Vec2::new(0.0, 6.0 * (over.y - from.y).signum());
    drag(bench, from, to);
    bench.step();
    to
}

fn let_go(bench: &mut Bench, at: Pos2) {
    bench.drop_at(at);
    bench.run();
}

#[test]
fn a_step_is_carried_to_where_nothing_is_in_its_way() {
    let mut bench = covered();
    let at = carry(&mut bench, "step 1", "step 2");
    assert!(exists(&bench, "Step 1 as step 2: nothing stands in the way."));
    assert_eq!(order(&bench), [3, 2, 1], "nothing changes while it is carried");
    let_go(&mut bench, at);
    assert_eq!(order(&bench), [2, 3, 1]);
    key(&mut bench, Modifiers::COMMAND, Key::Z);
    assert_eq!(order(&bench), [3, 2, 1], "one step of history");
}

#[test]
fn a_step_that_something_would_lie_on_stays_and_says_why() {
    let mut bench = covered();
    let at = carry(&mut bench, "step 1", "step 3");
    assert!(exists(&bench, COVERED), "said while it is carried");
    let_go(&mut bench, at);
    assert_eq!((order(&bench), bench.state().session().undo_label()), (vec![3, 2, 1], None));
    assert!(exists(&bench, COVERED), "and when it is let go");
}

#[test]
fn with_shift_a_step_is_put_there_all_the_same() {
    let mut bench = covered();
    let at = carry(&mut bench, "step 1", "step 3");
    bench.event(egui::Event::ModifiersChanged(Modifiers::SHIFT));
    bench.step();
    let_go(&mut bench, at);
    assert_eq!(order(&bench), [2, 1, 3]);
    let findings = &bench.state().session().derived().findings;
    assert!(findings.iter().any(|finding| finding.rule == "blocked"), "and the checker says so");
}

#[test]
fn escape_lets_go_of_a_row_and_of_nothing_else() {
    let mut bench = covered();
    bench.state_mut().session.select(Selected::Line { id: LineId(1), at: None });
    bench.run();
    let at = carry(&mut bench, "step 1", "step 2");
    key(&mut bench, Modifiers::NONE, Key::Escape);
    assert!(!exists(&bench, "nothing stands in the way"));
    let_go(&mut bench, at);
    assert_eq!((order(&bench), selected_line(&bench)), (vec![3, 2, 1], Some(1)));
}

#[test]
fn keys_move_the_step_that_has_the_focus_and_say_the_same() {
    let mut bench = covered();
    let row = bench.get_by_role_and_label(Role::Button, "Step 1  Tip fold");
    assert_eq!(row.value().as_deref(), Some("1 of 3"));
    row.focus();
    bench.run();
    key(&mut bench, Modifiers::ALT, Key::ArrowDown);
    assert_eq!(order(&bench), [2, 3, 1]);
    assert!(exists(&bench, "Step 1 as step 2: nothing stands in the way."));
    key(&mut bench, Modifiers::ALT, Key::ArrowDown);
    assert_eq!(order(&bench), [2, 3, 1], "the focus went along with it");
    assert!(exists(&bench, COVERED));
    key(&mut bench, Modifiers::ALT | Modifiers::SHIFT, Key::ArrowDown);
    assert_eq!(order(&bench), [2, 1, 3]);
    key(&mut bench, Modifiers::ALT, Key::ArrowDown);
    assert_eq!(order(&bench), [2, 1, 3], "there is no place below the last");
    key(&mut bench, Modifiers::NONE, Key::ArrowUp);
    assert!(bench.get_by_role_and_label(Role::Button, "Step 2  Left fold").accesskit_node().is_focused());
    assert_eq!(order(&bench), [2, 1, 3], "by themselves arrows go from row to row");
}

#[test]
fn the_arrows_of_a_step_refuse_with_the_same_words() {
    let mut bench = covered();
    press(&mut bench, "Fold step 1 later");
    assert_eq!(order(&bench), [2, 3, 1]);
    press(&mut bench, "Fold step 2 later");
    assert_eq!(order(&bench), [2, 3, 1]);
    assert!(exists(&bench, COVERED));
}

fn making(bench: &Bench) -> Making {
    let session = bench.state().session();
    session.derived().making(session.document()).clone()
}

#[test]
fn a_job_is_carried_where_no_reason_speaks_against_it() {
    let mut bench = with_mat();
    press(&mut bench, "Making order");
    let before = making(&bench);
    let movable = |from: &usize| before.may_move(before.jobs[*from], from + 1).is_ok();
    let from = (0..before.jobs.len() - 1).find(movable).unwrap();
    let at = carry(&mut bench, &format!("job {}", from + 1), &format!("job {}", from + 2));
    assert!(exists(&bench, &format!("Job {} as job {}: no reason speaks against it.", from + 1, from + 2)));
    let_go(&mut bench, at);
    assert_eq!(making(&bench).jobs, before.may_move(before.jobs[from], from + 1).unwrap());
}

#[test]
fn a_job_that_must_come_later_stays_and_says_why() {
    let mut bench = with_mat();
    press(&mut bench, "Making order");
    let before = making(&bench);
    let put = before.jobs.iter().position(|job| matches!(job, model::part::Job::Put(_))).unwrap();
    let says = "Not as job 1: \"Photo mat\" is made before it is put in place.";
    let at = carry(&mut bench, &format!("job {}", put + 1), "job 1");
    assert!(exists(&bench, says));
    let_go(&mut bench, at);
    assert_eq!(making(&bench).jobs, before.jobs);
    assert!(exists(&bench, says));
    let row = bench.get_by(|node| node.label().is_some_and(|label| label.starts_with("Job 1: ")));
    assert_eq!(row.value(), Some(format!("1 of {}", before.jobs.len())));
}
