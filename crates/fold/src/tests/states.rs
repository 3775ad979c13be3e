//! The states between steps, verified.

use super::motion::tab;
use super::{Sheet, VALLEY, VALLEY_WALL};
use crate::{Trouble, verify_steps};
use model::PanelId;

/// The panels that pass through one another after each step.
fn crossing(sheet: &Sheet) -> Vec<Vec<Vec<PanelId>>> {
    let states = verify_steps(&sheet.assemble());
    for (step, state) in states.iter().enumerate() {
        assert!(state.iter().all(|trouble| trouble.step() == Some(step)), "{state:?}");
    }
    states.iter().map(|state| state.iter().map(Trouble::panels).collect()).collect()
}

#[test]
fn a_letter_fold_is_in_order_after_each_step() {
    let letter = Sheet::new(298.0, 50.0).down(100.0, VALLEY).down(200.0, VALLEY).base(150.0, 25.0);
    assert_eq!(crossing(&letter.steps(&[&[2], &[1]])), [Vec::<Vec<PanelId>>::new(), Vec::new()]);
}

#[test]
fn a_tray_is_in_order_after_each_step() {
    let tray = [50.0, 60.0, 120.0, 130.0].into_iter().fold(Sheet::new(155.0, 50.0), |s, at| s.down(at, VALLEY_WALL));
    assert!(crossing(&tray.base(90.0, 25.0).steps(&[&[1, 2], &[3, 4]])).iter().all(Vec::is_empty));
}

#[test]
fn a_wall_through_a_base_shows_from_the_step_on_that_brings_it_there() {
    // A wall on a cover that closes: it passes through the base. A flap at the right folds before and after that.
    let sheet = tab(Sheet::new(300.0, 50.0), 30.0, 25.0).down(115.0, VALLEY).down(280.0, VALLEY).base(200.0, 5.0);
    let folded = sheet.clone().steps(&[&[4], &[5], &[6]]).fold();
    let mut through = vec![folded.panel(1.0, 1.0), folded.panel(40.0, 25.0), folded.panel(200.0, 5.0)];
    through.sort();
    let shows = |state: &Vec<Vec<PanelId>>| state.contains(&through);
    let after = |steps: &[&[u32]]| crossing(&sheet.clone().steps(steps)).iter().map(shows).collect::<Vec<_>>();
    assert_eq!(after(&[&[4], &[5], &[6]]), [false, true, true]);
    assert_eq!(after(&[&[6], &[4], &[5]]), [false, false, true]);
    // The step was hindered and the closed state tells of it, so that after the step is not told as well.
    let told = folded.troubles().iter().filter(|trouble| matches!(trouble, Trouble::Crosses { .. }));
    assert!(told.map(Trouble::step).all(|step| step.is_none()));
}
