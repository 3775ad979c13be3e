//! PDF 1.7: a page a drawing, at its exact size, with layers and text that can be searched.
//!
//! Paths are written in millimetres under one matrix, so what a reader measures is what was drawn. Print scaling is
//! switched off as far as a file can ask for that. Tags for screen readers and compression are left out.

mod font;
mod layer;
mod page;

use crate::{OutputError, number, sound};
use draw::list::{Drawing, Pages};
use font::FontBook;
use layer::Layers;
use page::PageContent;
use pdf_writer::{Finish as _, Name, Pdf, Rect, Ref, TextStr};
use std::collections::BTreeMap;

/// Points to the millimetre.
const POINTS: f64 = 72.0 / 25.4;

/// Writes pages as a PDF document.
///
/// There is a layer (optional content) for each role used, in the order of [`draw::list::Role::ALL`], all visible. The
/// same pages give the same bytes: no date, no random identifier.
///
/// # Errors
/// [`OutputError::NoPages`] for an empty document; [`OutputError::NotFinite`], [`OutputError::PageSize`] or
/// [`OutputError::TooDeep`] with the page that can't be written; [`OutputError::Font`] when a face can't be cut down.
pub fn pdf(pages: &Pages) -> Result<Vec<u8>, OutputError> {
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
        fonts: FontBook::default(),
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
    fonts: FontBook,
    /// Graphics states by the opacity that they set.
    opacities: BTreeMap<u8, Ref>,
}

impl Document {
    fn write(&mut self, pages: &Pages) -> Result<(), OutputError> {
        self.write_catalog(&pages.title);
        let kids: Vec<Ref> = pages.pages.iter().map(|page| self.write_page(page)).collect();
        let count = i32::try_from(kids.len()).unwrap_or(i32::MAX);
        self.pdf.pages(self.page_tree).kids(kids).count(count);
        self.layers.write(&mut self.pdf);
        for (&opacity, &id) in &self.opacities {
            let share = f32::from(opacity) / 255.0;
            self.pdf.ext_graphics(id).stroking_alpha(share).non_stroking_alpha(share);
        }
        self.fonts.write(&mut self.pdf, &mut self.refs)
    }

    fn write_catalog(&mut self, title: &str) {
        let mut catalog = self.pdf.catalog(self.catalog);
        catalog.pages(self.page_tree).lang(TextStr("en"));
        catalog.viewer_preferences().display_doc_title(true).pair(Name(b"PrintScaling"), Name(b"None"));
        self.layers.write_properties(&mut catalog);
        catalog.finish();
        let title: String = title.chars().filter(|c| !c.is_control()).collect();
        let info = self.refs.next();
        self.pdf.document_info(info).title(TextStr(&title)).creator(TextStr("Foliowright"));
    }

    fn write_page(&mut self, drawing: &Drawing) -> Ref {
        let (id, content_id) = (self.refs.next(), self.refs.next());
        let PageContent { stream, fonts, opacities, roles } = page::content(drawing, &mut self.fonts, &mut self.refs);
        self.pdf.stream(content_id, &stream);
        for &opacity in &opacities {
            self.opacities.entry(opacity).or_insert_with(|| self.refs.next());
        }
        let [width, height] = [drawing.size.width, drawing.size.height].map(|mm| number::single(mm * POINTS));
        let mut page = self.pdf.page(id);
        page.parent(self.page_tree).media_box(Rect::new(0.0, 0.0, width, height)).contents(content_id);
        let mut resources = page.resources();
        if !fonts.is_empty() {
            let mut dict = resources.fonts();
            for face in fonts {
                if let Some(font) = self.fonts.reference(face) {
                    dict.pair(Name(font::resource_name(face).as_bytes()), font);
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

#[cfg(test)]
mod tests;
