//! PDF 1.7: a page a drawing, at its exact size, with layers and text that can be searched.
//!
//! Paths are written in millimetres under one matrix, so what a reader measures is what was drawn. Print scaling is
//! switched off as far as a file can ask for that. The text is tagged for screen readers, its headings are listed beside
//! it, and streams are compressed, but for what says what the document is.

mod font;
mod image;
mod layer;
mod metadata;
mod outline;
mod page;
mod tag;

use crate::{OutputError, number, sound};
use draw::list::{Drawing, Pages};
use font::FontBook;
use image::ImageBook;
use layer::Layers;
use page::PageContent;
use pdf_writer::types::TabOrder;
use pdf_writer::{Filter, Finish as _, Name, Pdf, Rect, Ref, TextStr};
use std::collections::BTreeMap;
use tag::{Numbers, Structure};

/// How hard streams are compressed, 0 to 10: higher takes longer and saves little.
const LEVEL: u8 = 6;

/// Points to the millimetre.
const POINTS: f64 = 72.0 / 25.4;

/// Writes pages as a PDF document.
///
/// Nodes with tags become elements of the text, and what else is on their page an artifact; of a page without tags the notes
/// are paragraphs and the rest is one picture. There is a layer (optional content) for each role used, in the order of [`draw::list::Role::ALL`], all visible. The
/// same pages give the same bytes: no date, no random identifier.
///
/// # Errors
/// [`OutputError::NoPages`] for an empty document; [`OutputError::NotFinite`], [`OutputError::PageSize`] or
/// [`OutputError::TooDeep`] with the page that can't be written; [`OutputError::Font`] when a face can't be cut down.
pub fn pdf(pages: &Pages) -> Result<Vec<u8>, OutputError> {
    written(pages, Streams::Compressed)
}

/// How streams are written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Streams {
    /// With less bytes.
    Compressed,
    /// So that they can be read without a PDF library.
    #[cfg(test)]
    Plain,
}

fn written(pages: &Pages, streams: Streams) -> Result<Vec<u8>, OutputError> {
    if pages.pages.is_empty() {
        return Err(OutputError::NoPages);
    }
    for (index, page) in pages.pages.iter().enumerate() {
        sound::check(page, index + 1)?;
    }
    let mut refs = Refs::default();
    let mut document = Document {
        catalog: refs.next(),
        page_tree: refs.next(),
        layers: Layers::new(&pages.pages, &mut refs),
        structure: Structure::new(&mut refs),
        numbers: Numbers::after(pages),
        streams,
        fonts: FontBook::default(),
        images: ImageBook::default(),
        opacities: BTreeMap::new(),
        pdf: Pdf::new(),
        refs,
    };
    document.write(pages)?;
    Ok(document.pdf.finish())
}

/// Numbers of the objects, given out from 1.
#[derive(Debug, Default)]
struct Refs(i32);

impl Refs {
    fn next(&mut self) -> Ref {
        self.0 += 1;
        Ref::new(self.0)
    }
}

struct Document {
    pdf: Pdf,
    refs: Refs,
    catalog: Ref,
    page_tree: Ref,
    layers: Layers,
    structure: Structure,
    numbers: Numbers,
    streams: Streams,
    fonts: FontBook,
    images: ImageBook,
    /// Graphics states by the opacity that they set.
    opacities: BTreeMap<u8, Ref>,
}

impl Document {
    fn write(&mut self, pages: &Pages) -> Result<(), OutputError> {
        let kids: Vec<Ref> = pages.pages.iter().map(|page| self.write_page(page)).collect();
        self.write_catalog(pages);
        self.structure.write(&mut self.pdf);
        let count = i32::try_from(kids.len()).unwrap_or(i32::MAX);
        self.pdf.pages(self.page_tree).kids(kids).count(count);
        self.layers.write(&mut self.pdf);
        for (&opacity, &id) in &self.opacities {
            let share = f32::from(opacity) / 255.0;
            self.pdf.ext_graphics(id).stroking_alpha(share).non_stroking_alpha(share);
        }
        self.images.write(&mut self.pdf, &mut self.refs);
        self.fonts.write(&mut self.pdf, &mut self.refs, self.streams)
    }

    fn write_catalog(&mut self, pages: &Pages) {
        let title: String = pages.title.chars().filter(|c| !c.is_control()).collect();
        let outline = outline::write(&self.structure.headings(), &mut self.pdf, &mut self.refs);
        let metadata = self.refs.next();
        // A missing glyph may not be shown, every glyph stands for text (ISO 14289-1, 7.21.7 and 7.21.8), and a document
        // has a title (7.1).
        let is_accessible = tag::all_tagged(pages) && !self.fonts.has_missing() && !title.trim().is_empty();
        let packet = metadata::packet(&title, is_accessible);
        self.pdf.metadata(metadata, packet.as_bytes());
        let mut catalog = self.pdf.catalog(self.catalog);
        catalog.pages(self.page_tree).lang(TextStr("en"));
        catalog.metadata(metadata);
        if let Some(outline) = outline {
            catalog.outlines(outline);
        }
        self.structure.write_properties(&mut catalog);
        catalog.viewer_preferences().display_doc_title(true).pair(Name(b"PrintScaling"), Name(b"None"));
        self.layers.write_properties(&mut catalog);
        catalog.finish();
        let info = self.refs.next();
        self.pdf.document_info(info).title(TextStr(&title)).creator(TextStr("Foliowright"));
    }

    fn write_page(&mut self, drawing: &Drawing) -> Ref {
        let (id, content_id) = (self.refs.next(), self.refs.next());
        self.structure.start_page(id, drawing.size, &mut self.refs);
        let tagged = self.numbers.tagged(drawing);
        let nodes = tagged.as_deref().unwrap_or(&drawing.nodes);
        let book = page::Book {
            fonts: &mut self.fonts,
            images: &mut self.images,
            structure: &mut self.structure,
            refs: &mut self.refs,
        };
        let PageContent { stream, fonts, images, opacities, roles } = page::content(drawing.size, nodes, book);
        self.streams.write(&mut self.pdf, content_id, &stream);
        for &opacity in &opacities {
            self.opacities.entry(opacity).or_insert_with(|| self.refs.next());
        }
        let [width, height] = [drawing.size.width, drawing.size.height].map(|mm| number::single(mm * POINTS));
        let mut page = self.pdf.page(id);
        page.parent(self.page_tree).media_box(Rect::new(0.0, 0.0, width, height)).contents(content_id);
        page.struct_parents(self.structure.page_key()).tab_order(TabOrder::StructureOrder);
        let mut resources = page.resources();
        if !fonts.is_empty() {
            let mut dict = resources.fonts();
            for face in fonts {
                if let Some(font) = self.fonts.reference(face) {
                    dict.pair(Name(font::resource_name(face).as_bytes()), font);
                }
            }
        }
        if !images.is_empty() {
            let mut dict = resources.x_objects();
            for number in images {
                if let Some(picture) = self.images.reference(number) {
                    dict.pair(Name(image::resource_name(number).as_bytes()), picture);
                }
            }
        }
        if !opacities.is_empty() {
            let mut dict = resources.ext_g_states();
            for opacity in opacities {
                dict.pair(Name(page::opacity_name(opacity).as_bytes()), self.opacities[&opacity]);
            }
        }
        if !roles.is_empty() {
            let mut dict = resources.insert(Name(b"Properties")).dict();
            for role in roles {
                if let Some(layer) = self.layers.reference(role) {
                    dict.pair(Name(role.key().as_bytes()), layer);
                }
            }
        }
        id
    }
}

impl Streams {
    /// Writes a stream with no other keys.
    fn write(self, pdf: &mut Pdf, id: Ref, data: &[u8]) {
        self.write_with(pdf, id, data, |_| {});
    }

    /// Writes a stream, with keys.
    fn write_with(self, pdf: &mut Pdf, id: Ref, data: &[u8], keys: impl FnOnce(&mut pdf_writer::Stream<'_>)) {
        match self {
            Self::Compressed => {
                let compressed = miniz_oxide::deflate::compress_to_vec_zlib(data, LEVEL);
                let mut stream = pdf.stream(id, &compressed);
                stream.filter(Filter::FlateDecode);
                keys(&mut stream);
            }
            #[cfg(test)]
            Self::Plain => keys(&mut pdf.stream(id, data)),
        }
    }
}

#[cfg(test)]
mod tests;
