//! What is struck on the way.

use super::{Sheet, VALLEY, VALLEY_WALL};
use crate::Trouble;
use model::{LineId, Work};

/// A tab that stands up from the paper it is cut from, at `x`, `height` tall and 10 mm wide; two cuts beside it and
/// one at its end, hinge last.
pub(super) fn tab(sheet: Sheet, x: f64, height: f64) -> Sheet {
    sheet
        .across_from(20.0, (x, x + height), Work::Cut)
        .across_from(30.0, (x, x + height), Work::Cut)
        .down_from(x + height, (20.0, 30.0), Work::Cut)
        .down_from(x, (20.0, 30.0), VALLEY_WALL)
}

/// A cover `width` wide closes over a base with a tab 25 mm tall at `distance` from the hinge.
pub(super) fn cover(width: f64, distance: f64) -> Sheet {
    let sheet = tab(Sheet::new(width + 150.0, 50.0), width + distance, 25.0).down(width, VALLEY);
    sheet.base(width + 5.0, 5.0).steps(&[&[4], &[5]])
}

/// At what angle above the base the cover strikes, in degrees; `None` for not at all.
#[track_caller]
fn check(width: f64, distance: f64, expected: Option<f64>) {
    let folded = cover(width, distance).fold();
    let (cover, tab) = (folded.panel(1.0, 1.0), folded.panel(width + distance + 10.0, 25.0));
    let struck = folded.troubles().iter().find_map(|trouble| match trouble {
        Trouble::Collides { step: 1, moving, with, degrees, .. } if (*moving, *with) == (cover, tab) => {
            Some(180.0 - degrees)
        }
        _ => None,
    });
    match (struck, expected) {
        (None, None) => assert_eq!(folded.troubles(), []),
        (Some(got), Some(angle)) => assert!((got - angle).abs() < 1e-6, "{width} at {distance}: {got}"),
        _ => panic!("{width} at {distance}: {:?}", folded.troubles()),
    }
}

#[test]
fn a_cover_strikes_a_wall_in_its_way() {
    // The folding reference, 3.5: atan2(25, 60) = 22.619865 degrees.
    check(100.0, 60.0, Some(22.619_864_948));
    check(100.0, 120.0, None);
    // Just long enough to reach the wall's upper edge (60, 25, 65): it touches there, and would have to pass through
    // to get down.
    check(65.0, 60.0, Some(22.619_864_948));
    // It reaches the foot of the wall and comes to rest there.
    check(60.0, 60.0, None);
    // Reaching 61 mm, it passes under the upper edge and meets the wall at acos(60 / 61), by hand.
    check(61.0, 60.0, Some(libm::acos(60.0 / 61.0).to_degrees()));
}

#[test]
fn a_wall_on_the_cover_strikes_the_base_it_closes_on() {
    // The same triangle the other way round: the wall's edge comes down first.
    let sheet = tab(Sheet::new(250.0, 50.0), 30.0, 25.0).down(115.0, VALLEY).base(200.0, 5.0).steps(&[&[4], &[5]]);
    let folded = sheet.fold();
    let (tab, base) = (folded.panel(40.0, 25.0), folded.panel(200.0, 5.0));
    let struck = folded.troubles().iter().find_map(|trouble| match trouble {
        Trouble::Collides { step: 1, moving, with, degrees, .. } if (*moving, *with) == (tab, base) => Some(*degrees),
        _ => None,
    });
    // Its foot is 85 mm from the hinge, its edge 25 mm above the cover's front; half a caliper of 0.3 mm on each side
    // of the middle of its paper, on the side of its own valley, takes it 0.3 mm nearer.
    let expected = 180.0 - libm::atan2(25.0, 84.7).to_degrees();
    assert!((struck.unwrap() - expected).abs() < 1e-6, "{struck:?} is not {expected}");
    let mut through = vec![folded.panel(1.0, 1.0), tab, base];
    through.sort();
    let crosses = |trouble: &Trouble| match trouble {
        Trouble::Crosses { panels, lines, .. } => *panels == through && lines.contains(&LineId(4)),
        _ => false,
    };
    assert!(folded.troubles().iter().any(crosses), "{:?}", folded.troubles());
}

#[test]
fn a_gusset_flap_strikes_what_stands_higher_than_its_wall() {
    // A wall 20 mm tall and a flap 60 mm deep close over a tab 25 mm tall and 30 mm away, or one 15 mm tall.
    for (height, strikes) in [(25.0, true), (15.0, false), (20.0, false)] {
        let sheet = tab(Sheet::new(180.0, 50.0), 70.0, height).down(100.0, VALLEY_WALL).down(120.0, VALLEY_WALL);
        let folded = sheet.base(5.0, 5.0).steps(&[&[4], &[5, 6]]).fold();
        let (tab, flap) = (folded.panel(75.0, 25.0), folded.panel(150.0, 25.0));
        let struck = folded.troubles().iter().any(|trouble| {
            matches!(trouble, Trouble::Collides { step: 1, moving, with, .. } if (*moving, *with) == (flap, tab))
        });
        assert_eq!(struck, strikes, "{height} mm: {:?}", folded.troubles());
        assert_eq!(folded.troubles().is_empty(), !strikes, "{height} mm: {:?}", folded.troubles());
    }
}

#[test]
fn a_wall_folded_through_another_in_the_same_hinge_plane_is_struck() {
    // A box side: flap and wall on one base; the flap swings past a wall that stands on the same line.
    let sheet = Sheet::new(150.0, 100.0)
        .across_from(50.0, (0.0, 50.0), Work::Cut)
        .down_from(50.0, (0.0, 50.0), VALLEY_WALL)
        .down_from(50.0, (50.0, 100.0), VALLEY)
        .base(100.0, 50.0);
    let folded = sheet.steps(&[&[2], &[3]]).fold();
    assert_eq!(folded.troubles(), [], "beside one another they pass freely");
}
