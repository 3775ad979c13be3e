//! What bends take, at figures of the folding reference, 4, that the modules' own tests do not name.

use crate::{Allowance, Back, least_radius, roll, round_back, round_wrap};
use std::f64::consts::{FRAC_PI_2, PI};

#[track_caller]
fn near(got: f64, expected: f64, within: f64) {
    assert!((got - expected).abs() <= within, "{got} is not {expected}");
}

#[test]
fn edges_of_folded_layers_creep_by_their_calipers() {
    // 4.4, plane geometry: each layer beyond the innermost, per side, sharp 1.0 t, round π/2 t, square 2.0 t.
    // Edges that are to lie flush cost that on both sides: 2 t, πt, 4 t a layer.
    for (back, by, flush) in [(Back::Sharp, 1.0, 2.0), (Back::Round, FRAC_PI_2, PI), (Back::Square, 2.0, 4.0)] {
        near(back.factor(), by, 1e-12);
        near(back.creep(1, 0.25), 0.25 * by, 1e-12);
        near(2.0 * back.creep(1, 1.0), flush, 1e-12);
    }
    near(2.0 * Back::Round.creep(1, 1.0), round_wrap(PI, 1.0), 1e-12);
}

#[test]
fn usual_paper_bends_no_sharper_than_some_millimetres() {
    // 4.6, recomputed: 0.3 mm at 2 % 7.35 mm, at 4 % 3.6 mm; R/t at 3 % 16.2.
    for (strain, caliper, radius) in [(0.02, 0.3, 7.35), (0.04, 0.3, 3.6), (0.03, 1.0, 16.2)] {
        near(least_radius(strain, caliper), radius, 0.05);
    }
}

#[test]
fn a_roll_fills_its_sheet_with_panels_as_printers_cut_them() {
    // 4.5: text stock, each inner panel 3/32 in less, the innermost 1/16 less than the one before (a printer); the panels
    // of 17 in add up to the sheet.
    let less = [3.0 / 32.0, 1.0 / 16.0];
    let panels = roll(17.0, &less).unwrap();
    near(panels.iter().sum(), 17.0, 1e-12);
    near(panels[0] - panels[1], 0.0, 1e-12);
    near(panels[1] - panels[2], less[0], 1e-12);
    near(panels[2] - panels[3], less[1], 1e-12);
}

#[test]
fn a_back_is_as_wide_as_what_is_wrapped_and_the_paper_round_it() {
    // 4.2: g = T + 2 kappa t + c, inside T, outside T + 2t; a round one π/2 (T + t).
    for (kappa, clearance, back) in [(0.0, 0.0, 2.0), (0.5, 0.0, 2.3), (1.0, 0.0, 2.6), (0.5, 0.4, 2.7)] {
        near(Allowance { kappa, clearance, ..Allowance::default() }.square_back(2.0, 0.3), back, 1e-12);
    }
    near(round_back(2.0, 0.3), FRAC_PI_2 * 2.3, 1e-12);
}
