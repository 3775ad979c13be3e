//! A JPEG as every reader takes it, without what a camera or a program noted in it.
//!
//! Notes tell where a photograph was taken, and turn it once more in some readers. Markers: ITU-T T.81, table B.1; the
//! colours that a file with a JFIF or an Adobe marker has: ITU-T T.871 and T.872, from memory.

use std::fmt;
use std::sync::Arc;

/// A baseline JPEG in grey or in the usual three channels, without notes.
#[derive(Clone, PartialEq, Eq)]
pub struct Jpeg {
    /// The file.
    pub bytes: Arc<[u8]>,
    /// Pixels across.
    pub width: u32,
    /// Pixels down.
    pub height: u32,
    /// Whether it has one channel only.
    pub grey: bool,
}

impl fmt::Debug for Jpeg {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Jpeg({} × {}, {} bytes)", self.width, self.height, self.bytes.len())
    }
}

/// Start of image, end of image.
const ENDS: [u8; 2] = [0xD8, 0xD9];

/// The frame of a baseline picture.
const BASELINE: u8 = 0xC0;

/// The start of a scan, after which the pixels come.
const SCAN: u8 = 0xDA;

/// A segment: its marker, and its bytes with the marker and the length.
type Segment<'a> = (u8, &'a [u8]);

/// The same picture for every reader; `None` for one that only some take.
pub(crate) fn plain(bytes: &[u8]) -> Option<Jpeg> {
    let (segments, scans) = parted(bytes)?;
    let mut kept = vec![0xFF, ENDS[0]];
    let mut frame = None;
    let mut is_usual = false;
    for (marker, segment) in segments {
        let body = segment.get(4..)?;
        match marker {
            0xE0 if body.starts_with(b"JFIF\0") => is_usual = true,
            // The twelfth byte says how three channels are made of red, green and blue: 1 as is usual.
            0xEE if body.starts_with(b"Adobe") => {
                if *body.get(11)? != 1 {
                    return None;
                }
                is_usual = true;
            }
            0xE0..=0xEF | 0xFE => continue,
            0xC1..=0xC3 | 0xC5..=0xC7 | 0xC9..=0xCB | 0xCD..=0xCF => return None,
            BASELINE => {
                let side = |at: usize| Some(u32::from(u16::from_be_bytes([*body.get(at)?, *body.get(at + 1)?])));
                frame = Some((*body.first()?, side(3)?, side(1)?, *body.get(5)?));
            }
            _ => {}
        }
        kept.extend_from_slice(segment);
    }
    kept.extend_from_slice(scans);
    let (bits, width, height, channels) = frame?;
    let grey = channels == 1;
    let known = bits == 8 && (grey || channels == 3 && is_usual) && height > 0;
    known.then(|| Jpeg { bytes: kept.into(), width, height, grey })
}

/// Whether a file stops before its last marker, where a decoder may make up what is missing.
pub(crate) fn ends_early(bytes: &[u8]) -> bool {
    parted(bytes).is_none_or(|(_, scans)| scans.len() < 2 || !scans.windows(2).any(|pair| pair == [0xFF, ENDS[1]]))
}

/// The segments before the first scan, and all from there on.
fn parted(bytes: &[u8]) -> Option<(Vec<Segment<'_>>, &[u8])> {
    let mut segments = Vec::new();
    let mut at = 2;
    loop {
        // Bytes of all ones may stand before a marker.
        while bytes.get(at) == Some(&0xFF) && bytes.get(at + 1) == Some(&0xFF) {
            at += 1;
        }
        let (&first, &marker) = (bytes.get(at)?, bytes.get(at + 1)?);
        if first != 0xFF {
            return None;
        }
        if marker == SCAN {
            return Some((segments, bytes.get(at..)?));
        }
        let length = usize::from(u16::from_be_bytes([*bytes.get(at + 2)?, *bytes.get(at + 3)?]));
        let end = at + 2 + length.max(2);
        segments.push((marker, bytes.get(at..end)?));
        at = end;
    }
}
