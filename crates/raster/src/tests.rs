//! Pictures of every kind, sound and not. The JPEGs in `tests/pictures` were made by Pillow 13: 16 × 8 pixels, red
//! (200, 30, 40) on the left and blue (20, 60, 180) on the right.

use super::*;
use crate::testing::{notes, png, with_palette, with_segment};
use ::png::{BitDepth, ColorType};

const BASELINE: &[u8] = include_bytes!("../tests/pictures/baseline.jpg");
const PROGRESSIVE: &[u8] = include_bytes!("../tests/pictures/progressive.jpg");
const GREY: &[u8] = include_bytes!("../tests/pictures/grey.jpg");
const INKS: &[u8] = include_bytes!("../tests/pictures/inks.jpg");

const ALL: [u32; 2] = [u32::MAX; 2];

fn read_all(bytes: &[u8]) -> Picture {
    read(bytes, ALL, [7; 32]).unwrap()
}

#[track_caller]
fn check_pixels(bytes: &[u8], channels: Channels, expected: &[u8]) {
    let picture = read_all(bytes);
    assert_eq!((picture.channels, picture.pixels.as_slice()), (channels, expected));
}

#[track_caller]
fn check_refused(bytes: &[u8], expected: ReadError) {
    assert_eq!(read(bytes, ALL, [0; 32]).unwrap_err(), expected);
}

#[test]
fn every_kind_of_png_gives_its_colours() {
    let rgb = [10, 20, 30, 40, 50, 60];
    check_pixels(&png([2, 1], ColorType::Rgb, BitDepth::Eight, &rgb), Channels::Rgb, &rgb);
    let rgba = [10, 20, 30, 255, 40, 50, 60, 0];
    check_pixels(&png([2, 1], ColorType::Rgba, BitDepth::Eight, &rgba), Channels::Rgba, &rgba);
    let grey = png([2, 1], ColorType::Grayscale, BitDepth::Eight, &[9, 99]);
    check_pixels(&grey, Channels::Rgb, &[9, 9, 9, 99, 99, 99]);
    // One bit a pixel: 1, 0.
    let bits = png([2, 1], ColorType::Grayscale, BitDepth::One, &[0b1000_0000]);
    check_pixels(&bits, Channels::Rgb, &[255, 255, 255, 0, 0, 0]);
    let clear = png([2, 1], ColorType::GrayscaleAlpha, BitDepth::Eight, &[9, 255, 99, 1]);
    check_pixels(&clear, Channels::Rgba, &[9, 9, 9, 255, 99, 99, 99, 1]);
    let deep = png([1, 1], ColorType::Rgb, BitDepth::Sixteen, &[1, 255, 2, 255, 3, 255]);
    check_pixels(&deep, Channels::Rgb, &[1, 2, 3]);
}

#[test]
fn a_palette_gives_its_colours_or_is_refused() {
    let bytes = |palette: &[u8], opacities: &[u8]| with_palette([2, 1], palette, opacities, &[1, 0]);
    let two = [10, 20, 30, 40, 50, 60];
    check_pixels(&bytes(&two, &[]), Channels::Rgb, &[40, 50, 60, 10, 20, 30]);
    check_pixels(&bytes(&two, &[0, 9]), Channels::Rgba, &[40, 50, 60, 9, 10, 20, 30, 0]);
    check_pixels(&bytes(&[7; 768], &[]), Channels::Rgb, &[7; 6]);
    check_refused(&bytes(&[], &[]), ReadError::Damaged);
    check_refused(&bytes(&two[..4], &[]), ReadError::Damaged);
    check_refused(&bytes(&two[..5], &[]), ReadError::Damaged);
    check_refused(&bytes(&[7; 769], &[]), ReadError::Damaged);
    check_refused(&bytes(&[7; 771], &[]), ReadError::Damaged);
    check_refused(&bytes(&two, &[0, 9, 9]), ReadError::Damaged);
}

/// Quality 90 keeps flat halves of 8 × 8 pixels within a few steps.
#[track_caller]
fn check_red_and_blue(picture: &Picture) {
    let half = |right: bool| if right { [20, 60, 180] } else { [200, 30, 40] };
    for (at, pixel) in (0..picture.width * picture.height).zip(picture.pixels.chunks_exact(3)) {
        let wanted = half(at % picture.width >= picture.width / 2);
        assert!(pixel.iter().zip(wanted).all(|(&found, wanted)| found.abs_diff(wanted) <= 4), "{at}: {pixel:?}");
    }
}

#[test]
fn jpegs_are_read_at_any_size() {
    for bytes in [BASELINE, PROGRESSIVE] {
        assert_eq!(measure(bytes).unwrap(), [16, 8]);
        for (most, size) in [(ALL, [16, 8]), ([16, 8], [16, 8]), ([6, 5], [6, 5]), ([2, 1], [2, 1])] {
            let picture = read(bytes, most, [7; 32]).unwrap();
            assert_eq!([picture.width, picture.height], size);
            check_red_and_blue(&picture);
        }
    }
    let grey = read_all(GREY);
    assert!(grey.pixels.chunks_exact(3).all(|pixel| pixel[0] == pixel[1] && pixel[1] == pixel[2]));
    assert_eq!(read(INKS, ALL, [0; 32]).unwrap_err(), ReadError::Inks);
}

#[test]
fn a_jpeg_is_kept_without_its_notes() {
    let noted = with_segment(BASELINE, 0xE1, &[b"Exif\0\0".as_slice(), &notes(6, true)].concat());
    let noted = with_segment(&noted, 0xFE, b"Maple Street, third door");
    let picture = read_all(&noted);
    assert_eq!((picture.orientation, [picture.width, picture.height]), (Orientation::Clockwise, [16, 8]));
    assert_eq!(measure(&noted).unwrap(), [8, 16], "as it is seen");
    let jpeg = picture.jpeg.unwrap();
    assert_eq!((jpeg.width, jpeg.height, jpeg.grey), (16, 8, false));
    assert_eq!(&*jpeg.bytes, BASELINE, "nothing but the notes is gone");
    assert!(read_all(GREY).jpeg.unwrap().grey);
    assert_eq!(read_all(PROGRESSIVE).jpeg, None);
}

#[test]
fn fewer_pixels_are_asked_for_as_the_picture_is_seen() {
    let noted = with_segment(BASELINE, 0xE1, &[b"Exif\0\0".as_slice(), &notes(8, false)].concat());
    let picture = read(&noted, [4, 16], [7; 32]).unwrap();
    assert_eq!([picture.width, picture.height], [16, 4], "as stored");
}

#[test]
fn means_are_those_of_the_pixels() {
    let picture = read_all(&png([2, 1], ColorType::Rgb, BitDepth::Eight, &[0, 10, 20, 10, 20, 31]));
    assert_eq!(picture.mean(), [5, 15, 26, 255]);
    let picture = read_all(&png([2, 1], ColorType::Rgba, BitDepth::Eight, &[80, 10, 20, 255, 10, 20, 31, 0]));
    assert_eq!(picture.mean(), [80, 10, 20, 128]);
}

#[test]
fn what_is_cut_short_or_spoilt_is_refused() {
    let whole = png([40, 30], ColorType::Rgb, BitDepth::Eight, &[77; 3600]);
    for bytes in [&whole[..], BASELINE, PROGRESSIVE, GREY] {
        for end in 8..bytes.len() - 2 {
            check_refused(&bytes[..end], ReadError::Damaged);
        }
    }
    let mut spoilt = whole;
    spoilt[60] ^= 0x10;
    check_refused(&spoilt, ReadError::Damaged);
    check_refused(b"", ReadError::NoPicture);
    check_refused(b"a letter", ReadError::NoPicture);
    check_refused(b"\xFF\xD8\xFF", ReadError::Damaged);
}

/// Any byte changed gives a picture or a reason.
#[test]
fn no_bytes_do_harm() {
    let whole = png([9, 7], ColorType::Rgb, BitDepth::Eight, &[77; 189]);
    for bytes in [&whole[..], BASELINE, PROGRESSIVE] {
        for at in 0..bytes.len() {
            for value in [0x00, 0x01, 0x7F, 0x80, 0xFF] {
                let mut changed = bytes.to_vec();
                changed[at] = value;
                if let Ok(picture) = read(&changed, [64, 64], [0; 32]) {
                    assert!(picture.width <= 64 && picture.height <= 64 && !picture.pixels.is_empty());
                    let [width, height] = [picture.width, picture.height].map(|side| usize::try_from(side).unwrap());
                    assert_eq!(picture.pixels.len(), width * height * picture.channels.count(), "{at} {value}");
                }
            }
        }
    }
}

/// The head of a PNG that says it has so many pixels (PNG specification, third edition, 11.2.1), with its checksum.
fn head([width, height]: [u32; 2], interlaced: bool) -> Vec<u8> {
    let mut bytes = png([1, 1], ColorType::Rgb, BitDepth::Eight, &[0; 3]);
    bytes[16..20].copy_from_slice(&width.to_be_bytes());
    bytes[20..24].copy_from_slice(&height.to_be_bytes());
    bytes[28] = u8::from(interlaced);
    let sum = checksum(&bytes[12..29]);
    bytes[29..33].copy_from_slice(&sum.to_be_bytes());
    bytes
}

/// PNG specification, third edition, annex D.
fn checksum(bytes: &[u8]) -> u32 {
    !bytes.iter().fold(u32::MAX, |sum, &byte| {
        (0..8).fold(sum ^ u32::from(byte), |sum, _| if sum & 1 == 1 { 0xEDB8_8320 ^ (sum >> 1) } else { sum >> 1 })
    })
}

#[test]
fn pictures_of_too_many_pixels_are_refused_by_their_heads() {
    assert_eq!(measure(&head([12_000, 10_000], false)).unwrap(), [12_000, 10_000]);
    check_refused(&head([12_000, 10_001], false), ReadError::TooLarge);
    check_refused(&head([20_001, 10], false), ReadError::TooLarge);
    check_refused(&head([0x7FFF_FFFF, 0x7FFF_FFFF], false), ReadError::TooLarge);
    check_refused(&head([10_000, 4_001], true), ReadError::TooLargeInPasses);
    check_refused(&head([12_000, 10_000], false), ReadError::Damaged);
    // A JPEG says its size in the frame: bytes 5 to 8 after its marker.
    let at = BASELINE.windows(2).position(|pair| pair == [0xFF, 0xC0]).unwrap();
    let mut large = BASELINE.to_vec();
    large[at + 5..at + 9].copy_from_slice(&[0x4E, 0x21, 0x00, 0x10]);
    check_refused(&large, ReadError::TooLarge);
    assert_eq!(
        ReadError::TooLarge.to_string(),
        "this picture is too large; make it at most 20000 pixels along a side and 120 megapixels"
    );
}
