//! Pictures of known pixels for the tests of this crate.

use ::png::{BitDepth, ColorType, Encoder, Info};

/// What a camera notes of a picture's orientation, `big` end first or last.
pub(crate) fn notes(orientation: u16, big: bool) -> Vec<u8> {
    let short = |value: u16| if big { value.to_be_bytes() } else { value.to_le_bytes() };
    let long = |value: u32| if big { value.to_be_bytes() } else { value.to_le_bytes() };
    let mut bytes = if big { b"MM\0*".to_vec() } else { b"II*\0".to_vec() };
    bytes.extend(long(8));
    // Two entries: the width of the picture, then its orientation, one short value each.
    bytes.extend(short(2));
    for (tag, value) in [(256, 7), (274, orientation)] {
        bytes.extend(short(tag));
        bytes.extend(short(3));
        bytes.extend(long(1));
        bytes.extend(short(value));
        bytes.extend([0, 0]);
    }
    bytes
}

/// A PNG of these bytes.
pub(crate) fn png([width, height]: [u32; 2], colours: ColorType, depth: BitDepth, data: &[u8]) -> Vec<u8> {
    let mut bytes = Vec::new();
    let mut encoder = Encoder::new(&mut bytes, width, height);
    encoder.set_color(colours);
    encoder.set_depth(depth);
    let mut writer = encoder.write_header().unwrap();
    writer.write_image_data(data).unwrap();
    writer.finish().unwrap();
    bytes
}

/// A PNG of one byte a pixel, each the number of a colour of the palette, which is taken as it is.
pub(crate) fn with_palette([width, height]: [u32; 2], palette: &[u8], opacities: &[u8], data: &[u8]) -> Vec<u8> {
    let mut bytes = Vec::new();
    let mut info = Info::with_size(width, height);
    info.color_type = ColorType::Indexed;
    info.palette = Some(palette.to_vec().into());
    info.trns = (!opacities.is_empty()).then(|| opacities.to_vec().into());
    let mut writer = Encoder::with_info(&mut bytes, info).unwrap().write_header().unwrap();
    writer.write_image_data(data).unwrap();
    writer.finish().unwrap();
    bytes
}

/// Puts a segment after the start of a JPEG.
pub(crate) fn with_segment(jpeg: &[u8], marker: u8, body: &[u8]) -> Vec<u8> {
    let length = u16::try_from(body.len() + 2).unwrap();
    let mut bytes = jpeg[..2].to_vec();
    bytes.extend([0xFF, marker]);
    bytes.extend(length.to_be_bytes());
    bytes.extend(body);
    bytes.extend(&jpeg[2..]);
    bytes
}
