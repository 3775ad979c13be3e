//! Why a line has no place on the sheet, and how to say so.

use crate::document::Document;
use crate::length::Length;
use crate::line::{LineId, Work};

/// Why a line has no place on the sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LineFault {
    /// It refers to a line that is not in the document.
    UnknownLine(LineId),
    /// It is placed by lines that are placed by it.
    Circle(LineId),
    /// The line it refers to has no place itself.
    Unplaced(LineId),
    /// It is measured from a line that is not parallel to it.
    NotParallel(LineId),
    /// It stops at a line, or starts from one, that does not cross the way.
    NotCrossing(LineId),
    /// It stops at, or starts on, a line that is a curve.
    Curved(LineId),
    /// It lies beyond the sheet's edge by so much.
    OffSheet(Length),
    /// Its run ends where it starts, or before.
    EmptyRun,
    /// It is said to take a part of a curve.
    PartOfCurve,
    /// Its arc or notch rises by more than half its length.
    BowTooDeep,
    /// A curve that is to be scored, slotted or trimmed.
    CurvedWork,
    /// A strip or a notch without any width.
    NoWidth,
    /// A trim of this width, which is no hairline.
    WideTrim(Length),
}

impl LineFault {
    /// What is wrong, in a phrase that follows the line's name.
    #[must_use]
    pub fn phrase(self, document: &Document) -> String {
        let name = |id| document.line_name(id);
        let unit = document.units;
        match self {
            Self::UnknownLine(id) => format!("refers to line {}, which is not in the design", id.0),
            Self::Circle(id) => format!("is measured round in a circle, by way of \"{}\"", name(id)),
            Self::Unplaced(id) => format!("depends on \"{}\", which has no place itself", name(id)),
            Self::NotParallel(id) => format!("is measured from \"{}\", which does not run beside it", name(id)),
            Self::NotCrossing(id) => {
                format!("stops or starts at \"{}\", which runs the same way, so that they never meet", name(id))
            }
            Self::Curved(id) => format!("stops or starts at \"{}\", which is a curve; stop it at a distance", name(id)),
            Self::OffSheet(by) => format!("lies {} beyond the edge of the sheet", by.readable(unit)),
            Self::EmptyRun => "ends where it starts, so there is nothing of it".to_owned(),
            Self::PartOfCurve => "takes a part of a curve; draw the part as a curve of its own".to_owned(),
            Self::BowTooDeep => "rises by more than half its length; make it shallower or longer".to_owned(),
            Self::CurvedWork => "is a curve, and only cuts and guides may be curved".to_owned(),
            Self::NoWidth => "has no width; give it one".to_owned(),
            Self::WideTrim(width) => {
                let most = Work::WIDEST_TRIM.readable(unit);
                format!("takes off {}, and a trim takes {most} at most; make it a slot", width.readable(unit))
            }
        }
    }
}
