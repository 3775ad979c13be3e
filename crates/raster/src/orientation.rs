//! How a stored picture is turned to be seen: the orientation that cameras note.
//!
//! Only that one number is read of what a camera notes. Values and their meaning: CIPA DC-008 (Exif 2.3), 4.6.4 A, tag
//! 274, from memory; the layout of the bytes is that of TIFF 6.0, section 2.

/// The tag of the orientation.
const TAG: u16 = 274;

/// How a stored picture is turned, by the number that Exif gives it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub enum Orientation {
    /// 1: as it is stored.
    #[default]
    AsStored,
    /// 2: mirrored left to right.
    Mirrored,
    /// 3: turned half round.
    HalfRound,
    /// 4: mirrored top to bottom.
    Flipped,
    /// 5: rows and columns exchanged.
    Exchanged,
    /// 6: turned a quarter clockwise.
    Clockwise,
    /// 7: turned half round, rows and columns exchanged.
    ExchangedHalfRound,
    /// 8: turned a quarter anticlockwise.
    Anticlockwise,
}

impl Orientation {
    /// All of them, in the order of their numbers.
    pub const ALL: [Self; 8] = [
        Self::AsStored,
        Self::Mirrored,
        Self::HalfRound,
        Self::Flipped,
        Self::Exchanged,
        Self::Clockwise,
        Self::ExchangedHalfRound,
        Self::Anticlockwise,
    ];

    /// What the notes of a camera say; as it is stored where they say nothing that can be read.
    #[must_use]
    pub fn of_notes(notes: &[u8]) -> Self {
        let number = Notes::new(notes).and_then(|notes| notes.orientation()).unwrap_or(1);
        usize::from(number).checked_sub(1).and_then(|at| Self::ALL.get(at)).copied().unwrap_or_default()
    }

    /// A size as it is seen, of one as it is stored; and the other way round.
    #[must_use]
    pub const fn turned(self, [a, b]: [u32; 2]) -> [u32; 2] {
        match self {
            Self::AsStored | Self::Mirrored | Self::HalfRound | Self::Flipped => [a, b],
            Self::Exchanged | Self::Clockwise | Self::ExchangedHalfRound | Self::Anticlockwise => [b, a],
        }
    }

    /// The affine map that takes a place in the stored picture to where it is seen, both as shares of the width and height
    /// to the right and down: `x' = m[0] x + m[2] y + m[4]`, `y' = m[1] x + m[3] y + m[5]`.
    #[must_use]
    pub const fn map(self) -> [f64; 6] {
        match self {
            Self::AsStored => [1.0, 0.0, 0.0, 1.0, 0.0, 0.0],
            Self::Mirrored => [-1.0, 0.0, 0.0, 1.0, 1.0, 0.0],
            Self::HalfRound => [-1.0, 0.0, 0.0, -1.0, 1.0, 1.0],
            Self::Flipped => [1.0, 0.0, 0.0, -1.0, 0.0, 1.0],
            Self::Exchanged => [0.0, 1.0, 1.0, 0.0, 0.0, 0.0],
            Self::Clockwise => [0.0, 1.0, -1.0, 0.0, 1.0, 0.0],
            Self::ExchangedHalfRound => [0.0, -1.0, -1.0, 0.0, 1.0, 1.0],
            Self::Anticlockwise => [0.0, -1.0, 1.0, 0.0, 0.0, 1.0],
        }
    }
}

/// The bytes of a TIFF, either way round.
struct Notes<'a> {
    bytes: &'a [u8],
    big: bool,
}

impl<'a> Notes<'a> {
    fn new(bytes: &'a [u8]) -> Option<Self> {
        let big = match bytes.get(..4)? {
            b"II*\0" => false,
            b"MM\0*" => true,
            _ => return None,
        };
        Some(Self { bytes, big })
    }

    fn orientation(&self) -> Option<u16> {
        let start = usize::try_from(self.long(4)?).ok()?;
        let count = usize::from(self.short(start)?);
        let entry = |index: usize| start.checked_add(2)?.checked_add(index.checked_mul(12)?);
        let found = (0..count).find(|&index| entry(index).and_then(|at| self.short(at)) == Some(TAG))?;
        self.short(entry(found)?.checked_add(8)?)
    }

    fn short(&self, at: usize) -> Option<u16> {
        let pair: [u8; 2] = self.bytes.get(at..at.checked_add(2)?)?.try_into().ok()?;
        Some(if self.big { u16::from_be_bytes(pair) } else { u16::from_le_bytes(pair) })
    }

    fn long(&self, at: usize) -> Option<u32> {
        let four: [u8; 4] = self.bytes.get(at..at.checked_add(4)?)?.try_into().ok()?;
        Some(if self.big { u32::from_be_bytes(four) } else { u32::from_le_bytes(four) })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::notes;

    #[test]
    fn notes_are_read_either_way_round() {
        for (number, expected) in (1..).zip(Orientation::ALL) {
            for big in [false, true] {
                assert_eq!(Orientation::of_notes(&notes(number, big)), expected);
            }
        }
    }

    #[test]
    fn notes_that_make_no_sense_turn_nothing() {
        let whole = notes(6, true);
        for end in 0..whole.len() - 2 {
            assert_eq!(Orientation::of_notes(&whole[..end]), Orientation::AsStored, "{end}");
        }
        let mut far = whole.clone();
        far[4..8].fill(0xFF);
        for bytes in [&far[..], &notes(0, false), &notes(9, false), b"letter"] {
            assert_eq!(Orientation::of_notes(bytes), Orientation::AsStored);
        }
    }

    #[test]
    fn turned_pictures_stay_in_their_square() {
        for orientation in Orientation::ALL {
            let [a, b, c, d, e, f] = orientation.map();
            assert!((a * d - b * c).abs() > 0.5, "{orientation:?}");
            for (x, y) in [(0.0, 0.0), (1.0, 0.0), (0.0, 1.0), (1.0, 1.0)] {
                let seen = [a * x + c * y + e, b * x + d * y + f];
                assert!(seen.iter().all(|&share: &f64| (0.0..=1.0).contains(&share)), "{orientation:?}: {seen:?}");
            }
        }
    }
}
