//! Fonts: which glyphs are used for which text, and the faces cut down to them.
//!
//! A code in the document stands for a glyph *and* the text it shows, so that copied and searched text is right even
//! where one glyph serves several characters (the empty box does).

use super::{Refs, Streams};
use crate::OutputError;
use draw::text::{Face, TextRun};
use pdf_writer::types::{CidFontType, FontFlags, SystemInfo, UnicodeCmap};
use pdf_writer::{Name, Pdf, Rect, Ref, Str};
use skrifa::instance::{LocationRef, Size};
use skrifa::{FontRef, GlyphId, MetadataProvider as _};
use std::collections::BTreeMap;
use subsetter::GlyphRemapper;

/// A glyph ready to be shown; lengths in ems.
#[derive(Debug, Clone, Copy)]
pub(super) struct PlacedGlyph {
    pub(super) code: u16,
    pub(super) x: f64,
    pub(super) y: f64,
    /// The advance that the font itself gives the glyph.
    pub(super) advance: f64,
}

/// The faces that a document uses.
#[derive(Debug, Default)]
pub(super) struct FontBook(BTreeMap<Face, FontUse>);

#[derive(Debug)]
struct FontUse {
    id: Ref,
    codes: BTreeMap<(u16, String), u16>,
    /// Glyph and text by code, from code 1; 0 is the empty box.
    entries: Vec<(u16, String)>,
}

/// The name that content streams call a face by.
pub(super) fn resource_name(face: Face) -> &'static str {
    match face {
        Face::Regular => "Regular",
        Face::Bold => "Bold",
    }
}

impl FontBook {
    /// The font object of a face that has been used.
    pub(super) fn reference(&self, face: Face) -> Option<Ref> {
        self.0.get(&face).map(|font| font.id)
    }

    /// Gives the glyphs of a run their codes. A run of size 0 has no positions in ems.
    pub(super) fn place(&mut self, run: &TextRun, refs: &mut Refs) -> Vec<PlacedGlyph> {
        let font = self.0.entry(run.face()).or_insert_with(|| FontUse {
            id: refs.next(),
            codes: BTreeMap::new(),
            entries: Vec::new(),
        });
        let widths = Widths::new(run.face());
        let glyphs = run.glyphs();
        let texts = cluster_texts(run);
        glyphs
            .iter()
            .zip(texts)
            .map(|(glyph, text)| PlacedGlyph {
                code: font.code(glyph.id, text),
                x: glyph.x / run.size(),
                y: glyph.y / run.size(),
                advance: widths.ems(glyph.id),
            })
            .collect()
    }

    /// Writes every face used, cut down to its glyphs.
    pub(super) fn write(&self, pdf: &mut Pdf, refs: &mut Refs, streams: Streams) -> Result<(), OutputError> {
        self.0.iter().try_for_each(|(face, font)| font.write(*face, pdf, refs, streams))
    }

    /// Whether some character is shown as the empty box, or some glyph stands for no text of its own.
    pub(super) fn has_missing(&self) -> bool {
        self.0.values().any(|font| font.entries.iter().any(|(glyph, text)| *glyph == 0 || text.is_empty()))
    }
}

impl FontUse {
    fn code(&mut self, glyph: u16, text: &str) -> u16 {
        if let Some(&code) = self.codes.get(&(glyph, text.to_owned())) {
            return code;
        }
        // Past 65 535 pairs, more than the face has glyphs and any document has characters, the empty box is shown.
        let Ok(code) = u16::try_from(self.entries.len() + 1) else { return 0 };
        self.codes.insert((glyph, text.to_owned()), code);
        self.entries.push((glyph, text.to_owned()));
        code
    }

    fn write(&self, face: Face, pdf: &mut Pdf, refs: &mut Refs, streams: Streams) -> Result<(), OutputError> {
        let mut remapper = GlyphRemapper::new();
        let mut glyph_of_code: Vec<u8> = vec![0, 0];
        for (glyph, _) in &self.entries {
            glyph_of_code.extend(remapper.remap(*glyph).to_be_bytes());
        }
        let file = subsetter::subset(face.data(), 0, &remapper).map_err(OutputError::Font)?;
        let name = format!("{}+{}", subset_tag(&file), face.postscript_name());
        let [cid_font, descriptor, file_id, map, unicode] = std::array::from_fn(|_| refs.next());

        pdf.type0_font(self.id)
            .base_font(Name(name.as_bytes()))
            .encoding_predefined(Name(b"Identity-H"))
            .descendant_font(cid_font)
            .to_unicode(unicode);
        let mut cid = pdf.cid_font(cid_font);
        cid.subtype(CidFontType::Type2)
            .base_font(Name(name.as_bytes()))
            .system_info(SystemInfo { registry: Str(b"Adobe"), ordering: Str(b"Identity"), supplement: 0 })
            .font_descriptor(descriptor)
            .cid_to_gid_map_stream(map);
        let widths = Widths::new(face);
        cid.default_width(widths.thousandths(0));
        cid.widths().consecutive(1, self.entries.iter().map(|(glyph, _)| widths.thousandths(*glyph)));
        drop(cid);
        write_descriptor(face, &name, pdf, descriptor, file_id);
        let length = i32::try_from(file.len()).unwrap_or(i32::MAX);
        streams.write_with(pdf, file_id, &file, |stream| {
            stream.pair(Name(b"Length1"), length);
        });
        streams.write(pdf, map, &glyph_of_code);
        streams.write(pdf, unicode, &self.unicode_map());
        Ok(())
    }

    fn unicode_map(&self) -> Vec<u8> {
        let info = SystemInfo { registry: Str(b"Adobe"), ordering: Str(b"UCS"), supplement: 0 };
        let mut map: UnicodeCmap<u16> = UnicodeCmap::new(Name(b"Text"), info);
        for (code, (_, text)) in (1_u16..).zip(&self.entries) {
            if !text.is_empty() {
                map.pair_with_multiple(code, text.chars());
            }
        }
        map.finish().into_vec()
    }
}

fn write_descriptor(face: Face, name: &str, pdf: &mut Pdf, id: Ref, file: Ref) {
    let per_mille = |ems: f64| crate::number::single(ems * 1000.0);
    let metrics = face.metrics();
    // The thickness of upright stems, measured on the capital I; readers only use it to imitate a missing font.
    let stem = if face == Face::Bold { 180.0 } else { 90.0 };
    let bounds = Widths::new(face).bounds();
    pdf.font_descriptor(id)
        .name(Name(name.as_bytes()))
        .flags(FontFlags::NON_SYMBOLIC)
        .bbox(bounds)
        .italic_angle(0.0)
        .ascent(per_mille(metrics.ascent))
        .descent(per_mille(-metrics.descent))
        .cap_height(per_mille(metrics.cap_height))
        .stem_v(stem)
        .font_file2(file);
}

/// What each glyph of a run stands for. The characters of a cluster are dealt out one to a glyph, the last glyph takes
/// what is left; glyphs that are left over stand for nothing.
fn cluster_texts(run: &TextRun) -> Vec<&str> {
    let mut texts = Vec::with_capacity(run.glyphs().len());
    let mut clusters = run.glyphs().chunk_by(|a, b| a.cluster == b.cluster).peekable();
    while let Some(cluster) = clusters.next() {
        let start = cluster.first().map_or(0, |glyph| glyph.cluster);
        let end = clusters.peek().and_then(|next| next.first()).map_or(run.text().len(), |glyph| glyph.cluster);
        let mut rest = run.text().get(start..end).unwrap_or("");
        for left in (0..cluster.len()).rev() {
            let length = if left == 0 { rest.len() } else { rest.chars().next().map_or(0, char::len_utf8) };
            let (text, after) = rest.split_at(length);
            texts.push(text);
            rest = after;
        }
    }
    texts
}

/// Six capitals that tell subsets apart, as PDF 1.7 (9.6.4) asks: a hash of the file (FNV-1a), so always the same.
fn subset_tag(file: &[u8]) -> String {
    let mut hash = file
        .iter()
        .fold(0xcbf2_9ce4_8422_2325_u64, |hash, &byte| (hash ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3));
    (0..6)
        .map(|_| {
            let letter = b'A' + u8::try_from(hash % 26).unwrap_or(0);
            hash /= 26;
            char::from(letter)
        })
        .collect()
}

/// The advances that a face gives its glyphs.
struct Widths {
    font: Option<FontRef<'static>>,
    units_per_em: f32,
}

impl Widths {
    fn new(face: Face) -> Self {
        let font = FontRef::new(face.data()).ok();
        let found = font.as_ref().map(|font| font.metrics(Size::unscaled(), LocationRef::default()).units_per_em);
        Self { font, units_per_em: f32::from(found.unwrap_or(1).max(1)) }
    }

    /// In thousandths of an em, as a PDF wants them.
    fn thousandths(&self, glyph: u16) -> f32 {
        let Some(font) = &self.font else { return 0.0 };
        let metrics = font.glyph_metrics(Size::unscaled(), LocationRef::default());
        metrics.advance_width(GlyphId::from(glyph)).unwrap_or(0.0) * 1000.0 / self.units_per_em
    }

    /// In ems, exactly as the reader of the PDF sees it.
    fn ems(&self, glyph: u16) -> f64 {
        f64::from(self.thousandths(glyph)) / 1000.0
    }

    fn bounds(&self) -> Rect {
        let metrics = self.font.as_ref().map(|font| font.metrics(Size::unscaled(), LocationRef::default()));
        let em = 1000.0 / self.units_per_em;
        match metrics.and_then(|metrics| metrics.bounds) {
            Some(b) => Rect::new(b.x_min * em, b.y_min * em, b.x_max * em, b.y_max * em),
            None => Rect::new(0.0, 0.0, 1000.0, 1000.0),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use draw::style::LABEL;

    #[track_caller]
    fn check(text: &str, expected: &[&str]) {
        assert_eq!(cluster_texts(&TextRun::new(text, Face::Regular, 1.0, LABEL)), expected);
    }

    #[test]
    fn every_glyph_knows_its_text() {
        check("", &[]);
        check("abc", &["a", "b", "c"]);
        check("½ é", &["½", " ", "é"]);
        check("✂漢", &["✂", "漢"]);
        check("q\u{301}\u{323}x", &["q", "\u{301}", "\u{323}", "x"]);
    }

    #[test]
    fn the_texts_of_a_run_are_its_text() {
        for text in ["ffi fl office", "e\u{301} q\u{301}\u{323} x", "a\u{200d}b", "नमस्ते", "שלום"] {
            let run = TextRun::new(text, Face::Regular, 1.0, LABEL);
            assert_eq!(cluster_texts(&run).concat(), text);
        }
    }

    #[test]
    fn one_glyph_for_two_characters_has_two_codes() {
        let (mut book, mut refs) = (FontBook::default(), Refs::default());
        let mut codes = |text: &str| -> Vec<u16> {
            let run = TextRun::new(text, Face::Regular, 4.0, LABEL);
            book.place(&run, &mut refs).iter().map(|glyph| glyph.code).collect()
        };
        assert_eq!(codes("✂✓✂"), [1, 2, 1]);
        assert_eq!(codes("✓a"), [2, 3]);
    }

    #[test]
    fn tags_are_six_capitals_that_depend_on_the_file() {
        assert_eq!(subset_tag(b"a"), subset_tag(b"a"));
        assert_ne!(subset_tag(b"a"), subset_tag(b"b"));
        assert!(subset_tag(b"").len() == 6 && subset_tag(b"x").bytes().all(|letter| letter.is_ascii_uppercase()));
    }
}
