//! Text, shaped once, so that every output draws the same glyphs.
//!
//! The two faces are built in; no font of the machine is ever used. Left to right only, no justification: labels and
//! the booklet's sentences need no more. A character that the faces lack shows as the font's empty box.

mod face;
mod wrap;

pub use face::{Face, Metrics, outline};
pub use wrap::wrap;

use crate::style::Colour;
use kurbo::{Affine, BezPath, Point, Rect, Shape as _, Vec2};

/// Which way a run reads. Quarter turns only, so that no trigonometry is needed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub enum Turned {
    /// From left to right.
    #[default]
    Upright,
    /// A quarter turn to the left: from the bottom to the top.
    Left,
    /// A quarter turn to the right: from the top to the bottom.
    Right,
    /// Half a turn: upside down.
    Over,
}

/// One glyph of a run.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Glyph {
    /// The glyph's number in the face; 0 is the empty box for a character that the face lacks.
    pub id: u16,
    /// Where its origin is, mm along the baseline from the run's start.
    pub x: f64,
    /// How far its origin is raised above the baseline, mm; only accents that are set apart have one.
    pub y: f64,
    /// How far the next glyph's origin usually is from this one's, mm.
    pub advance: f64,
    /// The byte of the run's text that it begins to show. Glyphs of one cluster share it; never falls along the run.
    pub cluster: usize,
}

/// A shaped line of text with its place and colour.
#[derive(Debug, Clone, PartialEq)]
pub struct TextRun {
    text: String,
    face: Face,
    size: f64,
    colour: Colour,
    glyphs: Vec<Glyph>,
    width: f64,
    point: Point,
    anchor: Anchor,
    turned: Turned,
}

/// Which spot of the run lies on its point.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Anchor {
    Start,
    Middle,
    End,
    Centre,
}

impl TextRun {
    /// Shapes a line of text of `size_mm` millimetres to the em, upright, its baseline starting at the origin.
    ///
    /// Control characters are dropped; line breaks and tabs become spaces (see [`wrap()`] for breaking lines).
    #[must_use]
    pub fn new(text: &str, face: Face, size_mm: f64, colour: Colour) -> Self {
        let text = clean(text);
        let (glyphs, width) = face::shape(face, &text, size_mm);
        Self {
            text,
            face,
            size: size_mm,
            colour,
            glyphs,
            width,
            point: Point::ORIGIN,
            anchor: Anchor::Start,
            turned: Turned::Upright,
        }
    }

    /// With the start of its baseline at a point.
    #[must_use]
    pub fn at(self, point: Point) -> Self {
        Self { point, anchor: Anchor::Start, ..self }
    }

    /// With the middle of its baseline at a point.
    #[must_use]
    pub fn middle_at(self, point: Point) -> Self {
        Self { point, anchor: Anchor::Middle, ..self }
    }

    /// With the end of its baseline at a point.
    #[must_use]
    pub fn ending_at(self, point: Point) -> Self {
        Self { point, anchor: Anchor::End, ..self }
    }

    /// Centred on a point both ways: along the baseline, and between the baseline and the height of capitals.
    #[must_use]
    pub fn centred_on(self, point: Point) -> Self {
        Self { point, anchor: Anchor::Centre, ..self }
    }

    /// Turned about the point it is placed by.
    #[must_use]
    pub fn turned(self, turned: Turned) -> Self {
        Self { turned, ..self }
    }

    /// The text that is shown, without control characters.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.text
    }

    /// The face.
    #[must_use]
    pub fn face(&self) -> Face {
        self.face
    }

    /// Millimetres to the em.
    #[must_use]
    pub fn size(&self) -> f64 {
        self.size
    }

    /// The colour.
    #[must_use]
    pub fn colour(&self) -> Colour {
        self.colour
    }

    /// Which way it reads.
    #[must_use]
    pub fn reading(&self) -> Turned {
        self.turned
    }

    /// The glyphs along the baseline.
    #[must_use]
    pub fn glyphs(&self) -> &[Glyph] {
        &self.glyphs
    }

    /// Length of the baseline, mm.
    #[must_use]
    pub fn width(&self) -> f64 {
        self.width
    }

    /// Where the baseline starts, in the drawing.
    #[must_use]
    pub fn start(&self) -> Point {
        let (along, up) = self.turned.axes();
        let (back, down) = match self.anchor {
            Anchor::Start => (0.0, 0.0),
            Anchor::Middle => (self.width / 2.0, 0.0),
            Anchor::End => (self.width, 0.0),
            Anchor::Centre => (self.width / 2.0, self.face.metrics().cap_height * self.size / 2.0),
        };
        self.point - along * back - up * down
    }

    /// From millimetres along the baseline and above it (y up) to the drawing (y down).
    #[must_use]
    pub fn place(&self) -> Affine {
        let (along, up) = self.turned.axes();
        let start = self.start();
        Affine::new([along.x, along.y, up.x, up.y, start.x, start.y])
    }

    /// The box of the line in the drawing: its width, from the face's descent to its ascent, whatever the letters are.
    #[must_use]
    pub fn bounds(&self) -> Rect {
        let metrics = self.face.metrics();
        let line = Rect::new(0.0, -metrics.descent * self.size, self.width, metrics.ascent * self.size);
        self.place().transform_rect_bbox(line)
    }

    /// The outlines of all glyphs in the drawing, to be filled by the non-zero rule.
    #[must_use]
    pub fn path(&self) -> BezPath {
        let place = self.place();
        let mut path = BezPath::new();
        for glyph in &self.glyphs {
            let to_line = Affine::new([self.size, 0.0, 0.0, self.size, glyph.x, glyph.y]);
            path.extend(place * to_line * outline(self.face, glyph.id));
        }
        path
    }

    /// The box of the ink in the drawing; `None` when nothing is inked.
    #[must_use]
    pub fn ink(&self) -> Option<Rect> {
        let path = self.path();
        (!path.elements().is_empty()).then(|| path.bounding_box())
    }
}

impl Turned {
    /// The directions of the baseline and of 'up', in a drawing with y down.
    #[must_use]
    pub const fn axes(self) -> (Vec2, Vec2) {
        match self {
            Turned::Upright => (Vec2::new(1.0, 0.0), Vec2::new(0.0, -1.0)),
            Turned::Left => (Vec2::new(0.0, -1.0), Vec2::new(-1.0, 0.0)),
            Turned::Right => (Vec2::new(0.0, 1.0), Vec2::new(1.0, 0.0)),
            Turned::Over => (Vec2::new(-1.0, 0.0), Vec2::new(0.0, 1.0)),
        }
    }
}

/// Length of a line of text in mm at `size_mm` millimetres to the em.
#[must_use]
pub fn measure(text: &str, face: Face, size_mm: f64) -> f64 {
    face::shape(face, &clean(text), size_mm).1
}

/// Text without what can't be shown: control characters and the two code points that XML forbids.
fn clean(text: &str) -> String {
    text.chars()
        .map(|c| if matches!(c, '\t' | '\n' | '\r') { ' ' } else { c })
        .filter(|c| !c.is_control() && !matches!(c, '\u{FFFE}' | '\u{FFFF}'))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::style::LABEL;

    fn run(text: &str) -> TextRun {
        TextRun::new(text, Face::Regular, 10.0, LABEL)
    }

    #[track_caller]
    fn check_near(a: Point, b: Point) {
        assert!((a - b).hypot2() < 1e-18, "{a:?} is not {b:?}");
    }

    #[test]
    fn advances_add_up_to_the_width() {
        for text in ["", "A", "Spine", "2 3/4 in", "AV To 11", "Naïve façade – 5 × 7"] {
            let run = run(text);
            let sum: f64 = run.glyphs().iter().map(|glyph| glyph.advance).sum();
            assert!((sum - run.width()).abs() < 1e-9, "{text}");
            assert!((measure(text, Face::Regular, 10.0) - run.width()).abs() < 1e-12, "{text}");
            assert!(run.glyphs().iter().all(|glyph| glyph.id != 0), "{text}");
        }
    }

    #[test]
    fn control_characters_are_dropped_and_breaks_become_spaces() {
        assert_eq!(run("a\u{0}b\u{1b}[0m\u{85}").text(), "ab[0m");
        assert_eq!(run("a\tb\r\nc").text(), "a b  c");
        assert_eq!(run("\u{FFFE}x\u{FFFF}").text(), "x");
    }

    #[test]
    fn missing_characters_show_the_empty_box() {
        let run = run("a✂漢😀");
        let ids: Vec<u16> = run.glyphs().iter().map(|glyph| glyph.id).collect();
        assert_eq!(&ids[1..], &[0, 0, 0]);
        assert!(run.width() > 0.0 && run.ink().is_some());
    }

    #[test]
    fn clusters_point_at_the_text() {
        let run = run("é e\u{301} q\u{301} ffi");
        let clusters: Vec<usize> = run.glyphs().iter().map(|glyph| glyph.cluster).collect();
        assert!(clusters.is_sorted());
        assert!(clusters.iter().all(|&at| run.text().is_char_boundary(at) && at < run.text().len()));
    }

    #[test]
    fn kerning_is_used() {
        let apart = measure("A", Face::Regular, 10.0) + measure("V", Face::Regular, 10.0);
        assert!(measure("AV", Face::Regular, 10.0) < apart - 0.01);
    }

    #[test]
    fn runs_are_placed_by_their_anchor() {
        let point = Point::new(40.0, 30.0);
        let width = run("Spine").width();
        check_near(run("Spine").at(point).start(), point);
        check_near(run("Spine").ending_at(point).start(), Point::new(40.0 - width, 30.0));
        check_near(run("Spine").middle_at(point).start(), Point::new(40.0 - width / 2.0, 30.0));
        check_near(run("Spine").middle_at(point).turned(Turned::Left).start(), Point::new(40.0, 30.0 + width / 2.0));
        check_near(run("Spine").turned(Turned::Right).ending_at(point).start(), Point::new(40.0, 30.0 - width));
        check_near(run("Spine").turned(Turned::Over).ending_at(point).start(), Point::new(40.0 + width, 30.0));
    }

    /// `H` reaches from the baseline to the height of capitals, so its ink is centred exactly; along the baseline
    /// the side bearings of `H` are equal within 0.01 em.
    #[test]
    fn centred_ink_is_centred_whichever_way_it_reads() {
        let point = Point::new(-3.0, 7.0);
        for turned in [Turned::Upright, Turned::Left, Turned::Right, Turned::Over] {
            let ink = run("H").centred_on(point).turned(turned).ink().unwrap();
            let off = ink.center() - point;
            assert!(off.x.abs() < 0.1 && off.y.abs() < 0.1, "{turned:?}: {off:?}");
        }
    }

    #[test]
    fn ink_lies_within_the_bounds() {
        for turned in [Turned::Upright, Turned::Left, Turned::Right, Turned::Over] {
            let run = run("Hinge pg").at(Point::new(100.0, 100.0)).turned(turned);
            let (ink, bounds) = (run.ink().unwrap(), run.bounds());
            assert!(bounds.inflate(0.01, 0.01).union(ink).area() <= bounds.inflate(0.01, 0.01).area() + 1e-9);
        }
    }

    #[test]
    fn a_run_that_reads_upwards_goes_up() {
        let run = run("Hinge").at(Point::new(100.0, 100.0)).turned(Turned::Left);
        let ink = run.ink().unwrap();
        assert!(ink.y1 <= 100.0 && ink.y0 < 80.0 && ink.x1 <= 102.5 && ink.x0 > 90.0, "{ink:?}");
    }

    #[test]
    fn odd_sizes_do_no_harm() {
        for size in [0.0, -1.0, f64::NAN, f64::INFINITY, 1e300] {
            let run = TextRun::new("Spine", Face::Bold, size, LABEL).centred_on(Point::ORIGIN);
            assert_eq!(run.glyphs().len(), 5);
            assert_eq!(run.bounds().is_finite(), size.is_finite(), "{size}");
        }
    }
}
