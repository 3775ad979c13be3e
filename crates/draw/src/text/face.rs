//! The two faces: their bytes, metrics, outlines, and the shaping of a line.

use super::Glyph;
use harfrust::{BufferClusterLevel, Direction, ShapeOptions, ShaperData, UnicodeBuffer, script};
use kurbo::BezPath;
use skrifa::instance::{LocationRef, Size};
use skrifa::outline::{DrawSettings, OutlinePen};
use skrifa::{FontRef, GlyphId, MetadataProvider as _};
use std::sync::OnceLock;

/// A face of the built-in family, Noto Sans.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub enum Face {
    /// For everything.
    #[default]
    Regular,
    /// For titles and what must be found at once.
    Bold,
}

/// Heights of a face, in ems.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Metrics {
    /// From the baseline up to the top of the line.
    pub ascent: f64,
    /// From the baseline down to the bottom of the line; positive.
    pub descent: f64,
    /// From the baseline up to the top of capitals.
    pub cap_height: f64,
    /// From the baseline up to the top of a small x.
    pub x_height: f64,
}

impl Metrics {
    /// From baseline to baseline of lines set solid: ascent and descent.
    #[must_use]
    pub fn line_height(&self) -> f64 {
        self.ascent + self.descent
    }
}

impl Face {
    /// Every face.
    pub const ALL: [Face; 2] = [Face::Regular, Face::Bold];

    /// The font file: TrueType, licensed under the SIL Open Font License.
    #[must_use]
    pub fn data(self) -> &'static [u8] {
        match self {
            Face::Regular => notosans::REGULAR_TTF,
            Face::Bold => notosans::BOLD_TTF,
        }
    }

    /// The name that a PDF calls the face by.
    #[must_use]
    pub const fn postscript_name(self) -> &'static str {
        match self {
            Face::Regular => "NotoSans-Regular",
            Face::Bold => "NotoSans-Bold",
        }
    }

    /// Its heights.
    #[must_use]
    pub fn metrics(self) -> Metrics {
        self.loaded().metrics
    }

    fn loaded(self) -> &'static Loaded {
        static REGULAR: OnceLock<Loaded> = OnceLock::new();
        static BOLD: OnceLock<Loaded> = OnceLock::new();
        let slot = match self {
            Face::Regular => &REGULAR,
            Face::Bold => &BOLD,
        };
        slot.get_or_init(|| Loaded::new(self))
    }
}

/// The outline of a glyph in ems, y up, to be filled by the non-zero rule; empty for spaces and unknown glyphs.
#[must_use]
pub fn outline(face: Face, glyph_id: u16) -> BezPath {
    let loaded = face.loaded();
    let mut pen = EmPen { path: BezPath::new(), per_em: loaded.units_per_em };
    let Some(glyph) = loaded.font.outline_glyphs().get(GlyphId::from(glyph_id)) else { return pen.path };
    match glyph.draw(DrawSettings::unhinted(Size::unscaled(), LocationRef::default()), &mut pen) {
        Ok(_) => pen.path,
        Err(_) => BezPath::new(),
    }
}

/// Shapes a line: its glyphs and its length, both in mm.
pub(super) fn shape(face: Face, text: &str, size_mm: f64) -> (Vec<Glyph>, f64) {
    let loaded = face.loaded();
    let mut buffer = UnicodeBuffer::new();
    buffer.set_cluster_level(BufferClusterLevel::MonotoneCharacters);
    buffer.push_str(text);
    buffer.guess_segment_properties();
    buffer.set_direction(Direction::LeftToRight);
    if !text.chars().any(char::is_alphabetic) {
        buffer.set_script(script::LATIN);
    }
    let shaped = loaded.shaping.shaper(&loaded.font).build().shape(buffer, ShapeOptions::new());
    // Font units become millimetres by a multiplication, so that equal texts at equal sizes are equal to the bit.
    let mm = size_mm / loaded.units_per_em;
    let mut pen = 0_i64;
    let mut glyphs = Vec::with_capacity(shaped.len());
    for (info, position) in shaped.glyph_infos().iter().zip(shaped.glyph_positions()) {
        glyphs.push(Glyph {
            id: u16::try_from(info.glyph_id).unwrap_or(0),
            x: units(pen + i64::from(position.x_offset)) * mm,
            y: f64::from(position.y_offset) * mm,
            advance: f64::from(position.x_advance) * mm,
            cluster: usize::try_from(info.cluster).unwrap_or(0),
        });
        pen += i64::from(position.x_advance);
    }
    (glyphs, units(pen) * mm)
}

#[expect(clippy::cast_precision_loss, reason = "exact below 2^53 units, some 9 000 million kilometres of 10 mm text")]
fn units(value: i64) -> f64 {
    value as f64
}

/// A face, parsed once.
struct Loaded {
    font: FontRef<'static>,
    shaping: ShaperData,
    units_per_em: f64,
    metrics: Metrics,
}

impl Loaded {
    fn new(face: Face) -> Self {
        let font = FontRef::new(face.data()).expect("the built-in faces are sound, which a test shows");
        let found = font.metrics(Size::unscaled(), LocationRef::default());
        let units_per_em = f64::from(found.units_per_em.max(1));
        let em = |units: f32| f64::from(units) / units_per_em;
        let metrics = Metrics {
            ascent: em(found.ascent),
            descent: em(-found.descent),
            cap_height: em(found.cap_height.unwrap_or(found.ascent)),
            x_height: em(found.x_height.unwrap_or(found.ascent)),
        };
        Self { shaping: ShaperData::new(&font), font, units_per_em, metrics }
    }
}

/// Collects an outline, font units to ems.
struct EmPen {
    path: BezPath,
    per_em: f64,
}

impl EmPen {
    fn point(&self, x: f32, y: f32) -> kurbo::Point {
        kurbo::Point::new(f64::from(x) / self.per_em, f64::from(y) / self.per_em)
    }
}

impl OutlinePen for EmPen {
    fn move_to(&mut self, x: f32, y: f32) {
        self.path.move_to(self.point(x, y));
    }

    fn line_to(&mut self, x: f32, y: f32) {
        self.path.line_to(self.point(x, y));
    }

    fn quad_to(&mut self, cx: f32, cy: f32, x: f32, y: f32) {
        self.path.quad_to(self.point(cx, cy), self.point(x, y));
    }

    fn curve_to(&mut self, cx0: f32, cy0: f32, cx1: f32, cy1: f32, x: f32, y: f32) {
        self.path.curve_to(self.point(cx0, cy0), self.point(cx1, cy1), self.point(x, y));
    }

    fn close(&mut self) {
        self.path.close_path();
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::Shape as _;

    /// Read from the font file's `head`, `hhea` and `OS/2` tables by hand, in 2048ths of an em.
    #[test]
    fn heights_are_those_of_the_font() {
        for face in Face::ALL {
            let Metrics { ascent, descent, cap_height, x_height } = face.metrics();
            let found = [ascent, descent, cap_height, x_height].map(|em| em * 2048.0);
            let x_height = if face == Face::Bold { 1118.0 } else { 1098.0 };
            for (found, published) in found.into_iter().zip([2189.0, 600.0, 1462.0, x_height]) {
                assert!((found - published).abs() < 1e-9, "{face:?}: {found} against {published}");
            }
            assert!((face.metrics().line_height() * 2048.0 - 2789.0).abs() < 1e-9);
        }
    }

    #[test]
    fn both_faces_have_every_letter_and_figure() {
        for face in Face::ALL {
            for c in ('!'..='~').chain("×–—…°½¼¾éßñ".chars()) {
                let (glyphs, _) = shape(face, &c.to_string(), 1.0);
                assert!(glyphs[0].id != 0 && !outline(face, glyphs[0].id).elements().is_empty(), "{face:?} {c}");
            }
        }
    }

    #[test]
    fn a_capital_reaches_the_cap_height() {
        let id = shape(Face::Regular, "H", 1.0).0[0].id;
        let bounds = outline(Face::Regular, id).bounding_box();
        assert!(bounds.y0.abs() < 1e-9 && (bounds.y1 - 1462.0 / 2048.0).abs() < 1e-9, "{bounds:?}");
    }

    #[test]
    fn unknown_glyphs_are_empty() {
        assert!(outline(Face::Regular, u16::MAX).elements().is_empty());
    }

    #[test]
    fn bold_is_wider() {
        assert!(shape(Face::Bold, "Spine", 1.0).1 > shape(Face::Regular, "Spine", 1.0).1);
    }
}
