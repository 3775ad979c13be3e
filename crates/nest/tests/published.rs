//! Published instances of cutting one sheet by edge-to-edge cuts in any number of stages, and their optima.
//!
//! The optima are those of F. Furini, E. Malaguti and D. Thomopulos, INFORMS Journal on Computing 28, 2016 (counted), of
//! G. F. Cintra and others, European Journal of Operational Research 191, 2008 (gcut, any number, both with turning and
//! without), and of M. Hifi and V. Zissimopoulos, 1996 (cgcut, any number), as listed on their pages; authors and years
//! from memory. Those with turning of counted parts were proved by an integer programme of our own.

#![expect(clippy::unwrap_used, reason = "a test may fail")]

mod common;

use common::{keeps_its_promises, size, task};
use foliowright_nest::{Goal, Part, Quality, Task, Turning, nest};

/// Width, height, worth and count of each part.
type Parts = &'static [[u32; 4]];

/// N. Christofides and C. Whitlock, Operations Research 25, 1977: a sheet of 15 by 10.
const CGCUT1: Parts =
    &[[8, 4, 66, 2], [3, 7, 35, 1], [8, 2, 24, 3], [3, 4, 17, 5], [3, 3, 11, 2], [3, 2, 8, 2], [2, 1, 2, 1]];

/// J. E. Beasley, Journal of the Operational Research Society 36, 1985: a sheet of 250 by 250, worth is area.
const GCUT1: Parts = &[
    [167, 184, 30_728, 1],
    [114, 118, 13_452, 1],
    [167, 152, 25_384, 1],
    [83, 140, 11_620, 1],
    [70, 86, 6_020, 1],
    [143, 166, 23_738, 1],
    [120, 160, 19_200, 1],
    [66, 148, 9_768, 1],
    [87, 141, 12_267, 1],
    [69, 165, 11_385, 1],
];

/// The same, gcut2.
const GCUT2: Parts = &[
    [120, 133, 15_960, 1],
    [135, 186, 25_110, 1],
    [86, 75, 6_450, 1],
    [103, 73, 7_519, 1],
    [66, 85, 5_610, 1],
    [135, 97, 13_095, 1],
    [91, 175, 15_925, 1],
    [131, 176, 23_056, 1],
    [71, 176, 12_496, 1],
    [153, 72, 11_016, 1],
    [87, 148, 12_876, 1],
    [168, 107, 17_976, 1],
    [118, 90, 10_620, 1],
    [140, 109, 15_260, 1],
    [132, 159, 20_988, 1],
    [152, 93, 14_136, 1],
    [135, 68, 9_180, 1],
    [121, 158, 19_118, 1],
    [68, 94, 6_392, 1],
    [155, 76, 11_780, 1],
];

/// More of a part than a sheet can hold.
const ANY: u32 = 400;

fn instance(sheet: (i64, i64), parts: Parts, any_number: bool, turning: Turning) -> Task {
    let part = |&[width, height, worth, count]: &[u32; 4]| Part {
        size: size(width.into(), height.into()),
        turning,
        count: if any_number { ANY } else { count },
        least: 0,
        worth,
    };
    Task { goal: Goal::Worth, ..task(&[sheet], &parts.iter().map(part).collect::<Vec<_>>()) }
}

#[track_caller]
fn check(sheet: (i64, i64), parts: Parts, any_number: bool, turning: Turning, optimum: u128) {
    let task = instance(sheet, parts, any_number, turning);
    let plan = nest(&task).unwrap();
    keeps_its_promises(&task, &plan);
    assert_eq!((plan.reached, plan.quality), (optimum, Quality::Proved));
}

#[test]
fn counted_parts() {
    check((15, 10), CGCUT1, false, Turning::Kept, 244);
    check((250, 250), GCUT1, false, Turning::Kept, 48_368);
    check((250, 250), GCUT2, false, Turning::Kept, 59_307);
}

#[test]
fn counted_parts_that_may_be_turned() {
    check((15, 10), CGCUT1, false, Turning::Quarter, 260);
    check((250, 250), GCUT1, false, Turning::Quarter, 58_136);
    check((250, 250), GCUT2, false, Turning::Quarter, 60_403);
}

#[test]
fn any_number_of_parts() {
    check((15, 10), CGCUT1, true, Turning::Kept, 249);
    check((250, 250), GCUT1, true, Turning::Kept, 56_460);
    check((250, 250), GCUT1, true, Turning::Quarter, 58_136);
    check((250, 250), GCUT2, true, Turning::Kept, 60_536);
    check((250, 250), GCUT2, true, Turning::Quarter, 60_611);
}
