//! Pictures in a PDF, each once however often it is drawn.

use super::{LEVEL, Refs};
use crate::image::{Key, key, passes_on};
use draw::list::{Channels, Picture};
use miniz_oxide::deflate::compress_to_vec_zlib;
use pdf_writer::writers::ImageXObject;
use pdf_writer::{Filter, Pdf, Ref};
use std::collections::BTreeMap;
use std::sync::Arc;

/// The pictures of a document.
#[derive(Debug, Default)]
pub(super) struct ImageBook(BTreeMap<Key, Held>);

#[derive(Debug)]
struct Held {
    /// Its number among the pictures, in the order in which they are met.
    number: usize,
    id: Ref,
    picture: Arc<Picture>,
}

impl ImageBook {
    /// The number of a picture.
    pub(super) fn number(&mut self, picture: &Arc<Picture>, refs: &mut Refs) -> usize {
        let number = self.0.len() + 1;
        let held = || Held { number, id: refs.next(), picture: Arc::clone(picture) };
        self.0.entry(key(picture)).or_insert_with(held).number
    }

    /// The object of the picture of that number.
    pub(super) fn reference(&self, number: usize) -> Option<Ref> {
        self.0.values().find(|held| held.number == number).map(|held| held.id)
    }

    /// Writes every picture.
    pub(super) fn write(&self, pdf: &mut Pdf, refs: &mut Refs) {
        let mut all: Vec<&Held> = self.0.values().collect();
        all.sort_by_key(|held| held.number);
        for held in all {
            match &held.picture.jpeg {
                Some(jpeg) if passes_on(&held.picture) => {
                    let mut image = pdf.image_xobject(held.id, &jpeg.bytes);
                    image.filter(Filter::DctDecode);
                    let size = [jpeg.width, jpeg.height];
                    head(&mut image, size, if jpeg.grey { &Space::Grey } else { &Space::Colours });
                }
                _ => pixels(held, pdf, refs),
            }
        }
    }
}

/// The name of a picture on a page.
pub(super) fn resource_name(number: usize) -> String {
    format!("Im{number}")
}

enum Space {
    Grey,
    Colours,
}

fn head(image: &mut ImageXObject<'_>, [width, height]: [u32; 2], space: &Space) {
    let side = |side: u32| i32::try_from(side).unwrap_or(i32::MAX);
    image.width(side(width)).height(side(height)).bits_per_component(8);
    match space {
        Space::Grey => image.color_space().device_gray(),
        Space::Colours => image.color_space().device_rgb(),
    }
}

/// Writes the pixels, their opacity as a picture of its own.
fn pixels(held: &Held, pdf: &mut Pdf, refs: &mut Refs) {
    let picture = &held.picture;
    let size = [picture.width, picture.height];
    match picture.channels {
        Channels::Rgb => {
            let data = compress_to_vec_zlib(&picture.pixels, LEVEL);
            let mut image = pdf.image_xobject(held.id, &data);
            image.filter(Filter::FlateDecode);
            head(&mut image, size, &Space::Colours);
        }
        Channels::Rgba => {
            let mask = refs.next();
            let colours = picture.pixels.chunks_exact(4).flat_map(|pixel| [pixel[0], pixel[1], pixel[2]]);
            let data = compress_to_vec_zlib(&colours.collect::<Vec<u8>>(), LEVEL);
            let mut image = pdf.image_xobject(held.id, &data);
            image.s_mask(mask);
            image.filter(Filter::FlateDecode);
            head(&mut image, size, &Space::Colours);
            drop(image);
            let opacity = picture.pixels.iter().skip(3).step_by(4).copied();
            let data = compress_to_vec_zlib(&opacity.collect::<Vec<u8>>(), LEVEL);
            let mut image = pdf.image_xobject(mask, &data);
            image.filter(Filter::FlateDecode);
            head(&mut image, size, &Space::Grey);
        }
    }
}
