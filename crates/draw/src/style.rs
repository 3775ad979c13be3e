//! The one place for colours, line widths and dashes.
//!
//! Inks are safe for colour-blind eyes and dark enough (3 : 1 at least) on white and on both faces of the paper, and
//! still no meaning rests on colour alone: a cut is solid, a valley dashed, a mountain dash-dot. Nothing here decides
//! *what* is drawn, only how it looks.

use crate::list::{Role, Stroke};

/// An sRGB colour with alpha, eight bits a channel, not premultiplied.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Colour {
    /// Red.
    pub r: u8,
    /// Green.
    pub g: u8,
    /// Blue.
    pub b: u8,
    /// Opacity: 0 clear, 255 solid.
    pub a: u8,
}

impl Colour {
    /// A solid colour.
    #[must_use]
    pub const fn solid(r: u8, g: u8, b: u8) -> Self {
        Self { r, g, b, a: 255 }
    }

    /// The same colour at another opacity: 0 clear, 255 solid.
    #[must_use]
    pub const fn with_alpha(self, a: u8) -> Self {
        Self { a, ..self }
    }

    /// What is seen when this colour lies over a solid one, each channel rounded to the nearest step.
    #[must_use]
    pub const fn over(self, ground: Colour) -> Colour {
        Colour::solid(blend(self.r, ground.r, self.a), blend(self.g, ground.g, self.a), blend(self.b, ground.b, self.a))
    }

    /// A mix with another colour, `parts` out of 255 of it. Alpha is mixed as well.
    #[must_use]
    pub const fn mixed(self, other: Colour, parts: u8) -> Colour {
        Colour {
            r: blend(other.r, self.r, parts),
            g: blend(other.g, self.g, parts),
            b: blend(other.b, self.b, parts),
            a: blend(other.a, self.a, parts),
        }
    }

    /// Relative luminance of the solid colour, 0 (black) to 1 (white): WCAG 2.2, "relative luminance".
    #[must_use]
    pub fn luminance(self) -> f64 {
        0.2126 * linear(self.r) + 0.7152 * linear(self.g) + 0.0722 * linear(self.b)
    }

    /// Contrast ratio of two solid colours, 1 to 21, the same both ways round: WCAG 2.2, "contrast ratio".
    #[must_use]
    pub fn contrast(self, other: Colour) -> f64 {
        let (a, b) = (self.luminance(), other.luminance());
        (a.max(b) + 0.05) / (a.min(b) + 0.05)
    }
}

/// The page, and what a colour fades to.
pub const WHITE: Colour = Colour::solid(255, 255, 255);

/// The front of the paper: a warm tint.
pub const PAPER_FRONT: Colour = Colour::solid(0xFB, 0xF3, 0xE4);

/// The back of the paper: a cool tint, told from the front without looking twice.
pub const PAPER_BACK: Colour = Colour::solid(0xE3, 0xEC, 0xF3);

/// Paper that comes off: neutral, so that it reads as neither face of the folio.
pub const OFFCUT: Colour = Colour::solid(0xEC, 0xEC, 0xEC);

/// The same over a printed offcut, so that what is printed on it is still seen.
pub const OFFCUT_FADE: Colour = OFFCUT.with_alpha(0xA0);

/// How much of the paper's own colour lies over what is printed on it, of 255, in drawings to measure and work by: on the
/// darkest print lines still have 3 : 1 (WCAG 2.2, 1.4.11).
pub const VEIL: u8 = 0xD4;

/// Under lines on printed paper that is drawn as it is: as much of the paper's colour as lines need on the darkest print.
pub const HALO: Colour = PAPER_FRONT.with_alpha(0xD0);

/// How far it reaches beyond a line on either side, mm.
pub const HALO_WIDTH: f64 = 0.35;

/// Under words on printed paper: as much of the paper's colour as words need on the darkest print.
pub const PLATE: Colour = PAPER_FRONT.with_alpha(0xE6);

/// The front of a part's paper: darker than the folio's, so that it stands out from it.
pub const PART_FRONT: Colour = Colour::solid(0xF7, 0xE9, 0xD0);

/// The back of a part's paper.
pub const PART_BACK: Colour = Colour::solid(0xD9, 0xEA, 0xF9);

/// Glue, as hatching.
pub const GLUE_INK: Colour = Colour::solid(0x8A, 0x3F, 0x6B);

/// Knife lines.
pub const CUT_INK: Colour = Colour::solid(0x1A, 0x1A, 0x1A);

/// Cuts round slots, where a machine has to tell them from other cuts: a dark vermillion.
pub const SLOT_INK: Colour = Colour::solid(0x9E, 0x40, 0x1A);

/// Valley folds: the Okabe–Ito bluish green, darkened until it stands on tinted paper.
pub const VALLEY_INK: Colour = Colour::solid(0x00, 0x79, 0x5A);

/// Mountain folds: a violet, which keeps its distance from the valley's green in every kind of colour vision.
pub const MOUNTAIN_INK: Colour = Colour::solid(0x65, 0x47, 0xB0);

/// Scores that fold either way: between the two inks, and told from them by its dashes.
pub const EITHER_INK: Colour = Colour::solid(0x33, 0x60, 0x85);

/// The outline of the sheet and edges of folded panels.
pub const OUTLINE: Colour = Colour::solid(0x4A, 0x4A, 0x4A);

/// Names of panels and pieces.
pub const LABEL: Colour = Colour::solid(0x2B, 0x2B, 0x2B);

/// Distances and their lines.
pub const DIMENSION: Colour = Colour::solid(0x5C, 0x52, 0x48);

/// Registration marks and the scale check.
pub const REGISTRATION: Colour = Colour::solid(0x33, 0x33, 0x33);

/// Titles, legends, page plans.
pub const NOTE: Colour = Colour::solid(0x3D, 0x3D, 0x3D);

/// What is selected, on screen: the Okabe–Ito blue.
pub const SELECTION: Colour = Colour::solid(0x00, 0x72, 0xB2);

/// What the pointer is over, on screen: a wash of the selection's blue.
pub const HOVER: Colour = SELECTION.with_alpha(0x40);

/// A finding that stops the work: the Okabe–Ito vermillion, darkened.
pub const FINDING_ERROR: Colour = Colour::solid(0xB3, 0x4A, 0x00);

/// A finding to look at before cutting: a dark ochre.
pub const FINDING_WARNING: Colour = Colour::solid(0x8A, 0x65, 0x00);

/// A finding to know about.
pub const FINDING_NOTE: Colour = Colour::solid(0x00, 0x5F, 0x95);

/// The table that the sheet lies on: the canvas's background.
pub const TABLE: Colour = Colour::solid(0xD5, 0xD2, 0xCC);

/// The desk: panels of the window beside the canvas.
pub const DESK: Colour = Colour::solid(0xF5, 0xF3, 0xEF);

/// Fields and buttons on the desk.
pub const DESK_RAISED: Colour = Colour::solid(0xE6, 0xE2, 0xDB);

/// A button under the pointer.
pub const DESK_HOVER: Colour = Colour::solid(0xDA, 0xD4, 0xCA);

/// A button pressed or switched on.
pub const DESK_ACTIVE: Colour = Colour::solid(0xC6, 0xD9, 0xE6);

/// Lines between parts of the desk, and frames of fields: 3 : 1 on the desk, so that a field's edge is seen.
pub const DESK_LINE: Colour = Colour::solid(0x87, 0x81, 0x77);

/// Text on the desk.
pub const DESK_TEXT: Colour = Colour::solid(0x26, 0x24, 0x21);

/// Secondary text on the desk: still 4.5 : 1, the least for text (WCAG 2.2, 1.4.3).
pub const DESK_TEXT_QUIET: Colour = Colour::solid(0x5E, 0x59, 0x51);

/// Width of a cut, mm: thick of the ISO 128-2 series (.13 .18 .25 .35 .5 …), thin enough to cut on its middle.
pub const CUT_WIDTH: f64 = 0.35;

/// Width of a fold, mm. Wider would show on the finished work; narrower loses the dots of a mountain fold in print.
pub const FOLD_WIDTH: f64 = 0.25;

/// Width of everything that only explains, mm.
pub const THIN_WIDTH: f64 = 0.18;

/// Width of what only a machine follows, mm: thin enough to be read as a line and not as an area.
pub const MACHINE_WIDTH: f64 = 0.1;

/// Width of marks that another page or a ruler is laid on, mm.
pub const MARK_WIDTH: f64 = 0.25;

/// ISO 128-2 line type 02, dashes, in line widths: the valley fold of the Yoshizawa–Randlett convention.
const VALLEY_DASHES: [f64; 2] = [12.0, 3.0];

/// ISO 128-2 line type 10, dash-dot, in line widths: the mountain fold of the Yoshizawa–Randlett convention.
const MOUNTAIN_DASHES: [f64; 4] = [12.0, 3.0, 0.5, 3.0];

/// ISO 128-2 line type 12, dash with two dots, in line widths: a fold that goes either way is a mountain and more.
const EITHER_DASHES: [f64; 6] = [12.0, 3.0, 0.5, 3.0, 0.5, 3.0];

/// ISO 128-2 line type 07, dots, in line widths: what is neither pressed nor cut.
const GUIDE_DOTS: [f64; 2] = [0.5, 3.0];

/// The ink of a role's lines and text.
#[must_use]
pub const fn ink_for(role: Role) -> Colour {
    match role {
        Role::Paper | Role::Offcut | Role::Part | Role::Outline => OUTLINE,
        Role::Glue => GLUE_INK,
        Role::Cut => CUT_INK,
        Role::Valley => VALLEY_INK,
        Role::Mountain => MOUNTAIN_INK,
        Role::EitherWay => EITHER_INK,
        Role::Guide => DIMENSION,
        Role::Label => LABEL,
        Role::Dimension => DIMENSION,
        Role::Registration | Role::ScaleCheck => REGISTRATION,
        Role::Note => NOTE,
    }
}

/// How lines of a role are drawn; the two papers, which are areas, get their outline.
#[must_use]
pub fn stroke_for(role: Role) -> Stroke {
    let (width, pattern): (f64, &[f64]) = match role {
        Role::Cut => (CUT_WIDTH, &[]),
        Role::Valley => (FOLD_WIDTH, &VALLEY_DASHES),
        Role::Mountain => (FOLD_WIDTH, &MOUNTAIN_DASHES),
        Role::EitherWay => (FOLD_WIDTH, &EITHER_DASHES),
        Role::Guide => (THIN_WIDTH, &GUIDE_DOTS),
        Role::Registration | Role::ScaleCheck => (MARK_WIDTH, &[]),
        Role::Paper | Role::Offcut | Role::Outline | Role::Label | Role::Dimension | Role::Note => (THIN_WIDTH, &[]),
        Role::Part | Role::Glue => (THIN_WIDTH, &[]),
    };
    Stroke {
        width,
        colour: ink_for(role),
        dashes: pattern.iter().map(|widths| widths * width).collect(),
        dash_start: 0.0,
    }
}

/// Contrast on white of lines on a template's sheet, which may be printed on the good paper itself: 3 : 1, the least at
/// which a line is seen (WCAG 2.2, 1.4.11), so that it shows as little as can be on the finished work.
pub const PRINTED_LINE: f64 = 3.0;

/// The same of text there: 4.5 : 1, the least at which it is read (WCAG 2.2, 1.4.3).
pub const PRINTED_TEXT: f64 = 4.5;

/// The palest mix of an ink with white that has at least this contrast on white; the ink itself where it has less.
#[must_use]
pub fn paled(ink: Colour, contrast: f64) -> Colour {
    // With more white there is never more contrast.
    let (mut enough, mut too_much) = (0_u8, u8::MAX);
    while too_much - enough > 1 {
        let middle = enough.midpoint(too_much);
        if ink.mixed(WHITE, middle).contrast(WHITE) >= contrast { enough = middle } else { too_much = middle }
    }
    ink.mixed(WHITE, enough)
}

/// `parts` out of 255 of `top` on `ground`, rounded.
const fn blend(top: u8, ground: u8, parts: u8) -> u8 {
    let sum = top as u32 * parts as u32 + ground as u32 * (255 - parts as u32);
    let rounded = (sum + 127) / 255;
    // A weighted mean of two bytes is a byte; `to_le_bytes` takes its low byte without a cast.
    rounded.to_le_bytes()[0]
}

/// One sRGB channel as linear light, 0 to 1 (IEC 61966-2-1, as quoted by WCAG 2.2).
fn linear(channel: u8) -> f64 {
    let c = f64::from(channel) / 255.0;
    if c <= 0.04045 { c / 12.92 } else { libm::pow((c + 0.055) / 1.055, 2.4) }
}

#[cfg(test)]
mod tests {
    use super::*;

    const GROUNDS: [Colour; 6] = [WHITE, PAPER_FRONT, PAPER_BACK, OFFCUT, PART_FRONT, PART_BACK];

    #[track_caller]
    fn check_contrast(a: Colour, b: Colour, at_least: f64) {
        let ratio = a.contrast(b);
        assert!(ratio >= at_least, "{a:?} on {b:?}: {ratio:.2} < {at_least}");
    }

    /// Contrast of the Okabe–Ito colours on white, as published with the palette (two decimals).
    #[test]
    fn contrast_agrees_with_published_values() {
        let cases = [
            (Colour::solid(0x00, 0x00, 0x00), 21.0),
            (Colour::solid(0xE6, 0x9F, 0x00), 2.25),
            (Colour::solid(0x56, 0xB4, 0xE9), 2.31),
            (Colour::solid(0x00, 0x9E, 0x73), 3.42),
            (Colour::solid(0xF0, 0xE4, 0x42), 1.32),
            (Colour::solid(0x00, 0x72, 0xB2), 5.19),
            (Colour::solid(0xD5, 0x5E, 0x00), 3.87),
            (Colour::solid(0xCC, 0x79, 0xA7), 3.06),
        ];
        for (colour, published) in cases {
            let ratio = colour.contrast(WHITE);
            assert!((ratio - published).abs() < 0.006, "{colour:?}: {ratio} against {published}");
            assert!((ratio - WHITE.contrast(colour)).abs() < 1e-12);
        }
    }

    /// The same over the darkest and the palest print: what lies under lines and words leaves them 3 : 1 and 4.5 : 1.
    #[test]
    fn inks_stand_out_on_any_print() {
        for print in [Colour::solid(0, 0, 0), Colour::solid(128, 128, 128), WHITE] {
            for role in Role::ALL {
                for paper in [PAPER_FRONT, PAPER_BACK, PART_FRONT, OFFCUT] {
                    check_contrast(ink_for(role), paper.with_alpha(VEIL).over(print), 3.0);
                }
                check_contrast(ink_for(role), HALO.over(print), 3.0);
            }
            for words in [LABEL, DIMENSION] {
                check_contrast(words, PLATE.over(print), 4.5);
            }
        }
    }

    /// WCAG 2.2, 1.4.11: graphics that carry meaning have 3 : 1; 1.4.3: text has 4.5 : 1.
    #[test]
    fn inks_stand_out_on_white_and_on_both_faces() {
        for ground in GROUNDS {
            for role in Role::ALL {
                check_contrast(ink_for(role), ground, 3.0);
            }
            for text in [LABEL, DIMENSION, NOTE, REGISTRATION, VALLEY_INK, MOUNTAIN_INK, EITHER_INK] {
                check_contrast(text, ground, 4.4);
            }
            for mark in [SELECTION, FINDING_ERROR, FINDING_WARNING, FINDING_NOTE] {
                check_contrast(mark, ground, 3.0);
            }
        }
    }

    #[test]
    fn the_desk_is_legible() {
        for ground in [DESK, DESK_RAISED, DESK_HOVER, DESK_ACTIVE] {
            check_contrast(DESK_TEXT, ground, 4.5);
        }
        for text in [DESK_TEXT_QUIET, FINDING_ERROR, FINDING_WARNING, FINDING_NOTE] {
            check_contrast(text, DESK, 4.5);
        }
        check_contrast(DESK_LINE, DESK, 3.0);
        check_contrast(SELECTION, TABLE, 3.0);
    }

    /// Full colour blindness of three kinds, matrices on linear sRGB by Machado, Oliveira and Fernandes (2009),
    /// severity 1; from memory, rows sum to 1.
    const VISIONS: [[[f64; 3]; 3]; 4] = [
        [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]],
        [[0.152_286, 1.052_583, -0.204_868], [0.114_503, 0.786_281, 0.099_216], [-0.003_882, -0.048_116, 1.051_998]],
        [[0.367_322, 0.860_646, -0.227_968], [0.280_085, 0.672_501, 0.047_413], [-0.011_820, 0.042_940, 0.968_881]],
        [[1.255_528, -0.076_749, -0.178_779], [-0.078_411, 0.930_809, 0.147_602], [0.004_733, 0.691_367, 0.303_900]],
    ];

    /// CIELAB under D65 of a colour as seen through one of [`VISIONS`].
    fn lab(colour: Colour, vision: [[f64; 3]; 3]) -> [f64; 3] {
        let rgb = [linear(colour.r), linear(colour.g), linear(colour.b)];
        let dot = |row: [f64; 3], v: [f64; 3]| row[0] * v[0] + row[1] * v[1] + row[2] * v[2];
        let seen = vision.map(|row| dot(row, rgb).clamp(0.0, 1.0));
        let f = |t: f64| if t > 0.008_856 { libm::cbrt(t) } else { 7.787 * t + 16.0 / 116.0 };
        let x = f(dot([0.4124, 0.3576, 0.1805], seen) / 0.9505);
        let y = f(dot([0.2126, 0.7152, 0.0722], seen));
        let z = f(dot([0.0193, 0.1192, 0.9505], seen) / 1.089);
        [116.0 * y - 16.0, 500.0 * (x - y), 200.0 * (y - z)]
    }

    /// A distance of 20 in CIELAB is about ten times what is just seen; common practice, no source for the bound.
    #[test]
    fn cut_valley_and_mountain_differ_in_every_colour_vision() {
        for vision in VISIONS {
            for (a, b) in [(CUT_INK, VALLEY_INK), (CUT_INK, MOUNTAIN_INK), (VALLEY_INK, MOUNTAIN_INK)] {
                let (p, q) = (lab(a, vision), lab(b, vision));
                let distance = libm::sqrt(p.iter().zip(q).map(|(p, q)| (p - q) * (p - q)).sum());
                assert!(distance > 20.0, "{a:?} and {b:?}: {distance:.1}");
            }
        }
    }

    #[test]
    fn front_is_warm_and_back_is_cool() {
        let warmth = |colour: Colour| i16::from(colour.r) - i16::from(colour.b);
        assert!(warmth(PAPER_FRONT) >= 16 && warmth(PAPER_BACK) <= -16 && warmth(OFFCUT) == 0);
    }

    /// The numbers of ISO 128-2 for d = 0.25 mm, worked out by hand.
    #[test]
    fn folds_are_dashed_by_convention() {
        #[track_caller]
        fn check(role: Role, width: f64, dashes: &[f64]) {
            let stroke = stroke_for(role);
            assert!((stroke.width - width).abs() < 1e-12);
            assert_eq!(stroke.dashes, dashes);
        }
        check(Role::Cut, 0.35, &[]);
        check(Role::Valley, 0.25, &[3.0, 0.75]);
        check(Role::Mountain, 0.25, &[3.0, 0.75, 0.125, 0.75]);
        check(Role::EitherWay, 0.25, &[3.0, 0.75, 0.125, 0.75, 0.125, 0.75]);
    }

    /// The bounds of WCAG 2.2 from below; from above, a step of a channel changes no contrast here by more than 0.06.
    #[test]
    fn printed_inks_are_as_pale_as_they_may_be() {
        let roles = [Role::Cut, Role::Valley, Role::Mountain, Role::EitherWay, Role::Guide, Role::Glue, Role::Outline];
        for role in roles {
            for least in [PRINTED_LINE, PRINTED_TEXT] {
                let ratio = paled(ink_for(role), least).contrast(WHITE);
                assert!((least..least + 0.06).contains(&ratio), "{role:?}: {ratio:.3}");
            }
        }
        assert_eq!(paled(OFFCUT, PRINTED_LINE), OFFCUT, "what is paler stays");
        // The grey of 3.03 : 1 on white, worked out by hand: (1 + 0.05) / (0.2961 + 0.05).
        assert_eq!(paled(Colour::solid(0, 0, 0), PRINTED_LINE), Colour::solid(0x94, 0x94, 0x94));
    }

    #[test]
    fn mixing_ends_at_its_ends() {
        for (top, ground) in [(CUT_INK, WHITE), (PAPER_FRONT, PAPER_BACK)] {
            assert_eq!(top.over(ground), top);
            assert_eq!(top.with_alpha(0).over(ground), ground);
            assert_eq!(top.mixed(ground, 0), top);
            assert_eq!(top.mixed(ground, 255), ground);
        }
        assert_eq!(Colour::solid(0, 0, 0).with_alpha(128).over(WHITE), Colour::solid(127, 127, 127));
    }
}
