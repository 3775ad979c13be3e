//! The places of a design where a length stands that a maker may say by a formula.
//!
//! Marks, artwork and glue have none: they are pointed at or worked out. Nor have the lines on a part's own little sheet.

use crate::corner::CornerShape;
use crate::document::Document;
use crate::geometry::Size;
use crate::length::Length;
use crate::line::{Line, LineId, Notch, Place, Run, Spot, Stop, Work};
use crate::part::{Part, PartId};
use crate::stock::StockId;

/// A place where a length stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Slot {
    /// How wide or high the folio's sheet is.
    Sheet(Side),
    /// How wide or high the sheet of another paper is.
    FurtherSheet(StockId, Side),
    /// Something that is said of a line.
    Line(LineId, LineSlot),
    /// The radius or the clip of a corner, by its place in the list of corners.
    Corner(usize),
    /// Something that is said of a part.
    Part(PartId, PartSlot),
}

/// One of the two sides of a rectangle.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Side {
    /// From left to right.
    Width,
    /// From top to bottom.
    Height,
}

/// A length that is said of a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum LineSlot {
    /// How far it lies from what it is measured from.
    Distance,
    /// Where its run starts, by itself or past a line.
    Start,
    /// Where its run ends.
    End,
    /// How wide its strip, or how deep its notch is.
    Width,
    /// How far an arc bows.
    Bow,
    /// Of a drawn line, a figure of the spot where it starts.
    From(SpotSlot),
    /// Of a drawn line, a figure of the spot where it ends.
    To(SpotSlot),
}

/// A length of a spot.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum SpotSlot {
    /// To the right of the sheet's left edge.
    X,
    /// Down from its top edge.
    Y,
    /// Along the line that it is on.
    At,
}

/// A length that is said of a part.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum PartSlot {
    /// One of its measures, by its name in [`crate::part::PartKind::measures`].
    Measure(&'static str),
    /// How far across its panel it lies.
    Across,
    /// How far down its panel it lies.
    Down,
}

impl Document {
    /// The length that stands in a slot; `None` where there is no such slot.
    #[must_use]
    pub fn length_in(&self, slot: Slot) -> Option<Length> {
        match slot {
            Slot::Sheet(side) => Some(side.of(self.stock.size)),
            Slot::FurtherSheet(id, side) => self.further_stock(id).map(|stock| side.of(stock.size)),
            Slot::Line(id, slot) => slot.of(self.line(id)?),
            Slot::Corner(at) => match self.corners.get(at)?.shape {
                CornerShape::Square => None,
                shape => Some(shape.measure()),
            },
            Slot::Part(id, slot) => slot.of(self.part(id)?),
        }
    }

    /// Puts a length into a slot. `None`, with nothing changed, where there is no such slot or the length can't stand there.
    pub(crate) fn put_length(&mut self, slot: Slot, length: Length) -> Option<()> {
        match slot {
            Slot::Sheet(side) => self.stock.size = side.put(self.stock.size, length)?,
            Slot::FurtherSheet(id, side) => {
                let stock = &mut self.further_stocks.iter_mut().find(|further| further.id == id)?.stock;
                stock.size = side.put(stock.size, length)?;
            }
            Slot::Line(id, slot) => {
                let line = self.lines.iter_mut().find(|line| line.id == id)?;
                slot.put(line, length)?;
            }
            Slot::Corner(at) => {
                let corner = self.corners.get_mut(at)?;
                corner.shape = match corner.shape {
                    CornerShape::Round(_) if length > Length::ZERO => CornerShape::Round(length),
                    CornerShape::Clip(_) if length > Length::ZERO => CornerShape::Clip(length),
                    _ => return None,
                };
            }
            Slot::Part(id, slot) => {
                let part = self.parts.iter_mut().find(|part| part.id == id)?;
                slot.put(part, length)?;
            }
        }
        Some(())
    }

    /// Every slot that there is.
    #[must_use]
    pub fn slots(&self) -> Vec<Slot> {
        let sides = |of: &dyn Fn(Side) -> Slot| [of(Side::Width), of(Side::Height)];
        let further =
            self.further_stocks.iter().flat_map(|further| sides(&|side| Slot::FurtherSheet(further.id, side)));
        let lines = self.lines.iter().flat_map(|line| LineSlot::ALL.map(|slot| Slot::Line(line.id, slot)));
        let corners = (0..self.corners.len()).map(Slot::Corner);
        let of_part = |part: &Part| PartSlot::all(part).into_iter().map(|slot| (part.id, slot)).collect::<Vec<_>>();
        let parts = self.parts.iter().flat_map(of_part).map(|(id, slot)| Slot::Part(id, slot));
        let all = sides(&Slot::Sheet).into_iter().chain(further).chain(lines).chain(corners).chain(parts);
        all.filter(|slot| self.length_in(*slot).is_some()).collect()
    }

    /// What a slot is, in words: `the distance of "Gusset fold"`.
    #[must_use]
    pub fn slot_name(&self, slot: Slot) -> String {
        match slot {
            Slot::Sheet(side) => format!("the {} of the sheet", side.word()),
            Slot::FurtherSheet(id, side) => match self.further_stock(id) {
                Some(stock) if !stock.name.is_empty() => format!("the {} of \"{}\"", side.word(), stock.name),
                _ => format!("the {} of paper {}", side.word(), id.0),
            },
            Slot::Line(id, slot) => {
                let is_notch = matches!(self.line(id).map(|line| line.work), Some(Work::Notch(_)));
                format!("{} of \"{}\"", slot.words(is_notch), self.line_name(id))
            }
            Slot::Corner(at) => match self.corners.get(at).map(|corner| corner.shape) {
                Some(CornerShape::Clip(_)) => format!("the clip of corner {}", at + 1),
                _ => format!("the radius of corner {}", at + 1),
            },
            Slot::Part(id, slot) => format!("{} of \"{}\"", slot.words(), self.part_name(id)),
        }
    }
}

impl Side {
    /// "width" or "height".
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Width => "width",
            Self::Height => "height",
        }
    }

    const fn of(self, size: Size) -> Length {
        match self {
            Self::Width => size.width(),
            Self::Height => size.height(),
        }
    }

    fn put(self, size: Size, length: Length) -> Option<Size> {
        match self {
            Self::Width => Size::new(length, size.height()),
            Self::Height => Size::new(size.width(), length),
        }
    }
}

const fn of_stop(stop: Stop) -> Option<Length> {
    match stop {
        Stop::At(length) | Stop::Past(_, length) => Some(length),
        Stop::Edge | Stop::Line(_) => None,
    }
}

const fn with_stop(stop: Stop, length: Length) -> Option<Stop> {
    match stop {
        Stop::At(_) => Some(Stop::At(length)),
        Stop::Past(line, _) => Some(Stop::Past(line, length)),
        Stop::Edge | Stop::Line(_) => None,
    }
}

impl SpotSlot {
    const fn of(self, spot: Spot) -> Option<Length> {
        match (self, spot) {
            (Self::X, Spot::At(point)) => Some(point.x),
            (Self::Y, Spot::At(point)) => Some(point.y),
            (Self::At, Spot::On(_, at)) => Some(at),
            _ => None,
        }
    }

    const fn put(self, spot: &mut Spot, length: Length) -> Option<()> {
        match (self, spot) {
            (Self::X, Spot::At(point)) => point.x = length,
            (Self::Y, Spot::At(point)) => point.y = length,
            (Self::At, Spot::On(_, at)) => *at = length,
            _ => return None,
        }
        Some(())
    }

    const fn words(self) -> &'static str {
        match self {
            Self::X => "from the left",
            Self::Y => "from the top",
            Self::At => "along the line",
        }
    }
}

impl LineSlot {
    /// All of them.
    pub const ALL: [Self; 11] = [
        Self::Distance,
        Self::Start,
        Self::End,
        Self::Width,
        Self::Bow,
        Self::From(SpotSlot::X),
        Self::From(SpotSlot::Y),
        Self::From(SpotSlot::At),
        Self::To(SpotSlot::X),
        Self::To(SpotSlot::Y),
        Self::To(SpotSlot::At),
    ];

    /// The length that stands there.
    #[must_use]
    pub fn of(self, line: &Line) -> Option<Length> {
        match (self, line.place) {
            (Self::Distance, Place::Measured { distance, .. }) => Some(distance),
            (Self::Start, place) => of_stop(place.run().from),
            (Self::End, place) => of_stop(place.run().to),
            (Self::Width, _) => match line.work {
                Work::Slot(strip) | Work::Trim(strip) => Some(strip.width),
                Work::Notch(Notch { depth, .. }) => Some(depth),
                Work::Score(_) | Work::Cut | Work::Guide => None,
            },
            (Self::Bow, Place::Drawn { bow, .. }) => Some(bow),
            (Self::From(slot), Place::Drawn { from, .. }) => slot.of(from),
            (Self::To(slot), Place::Drawn { to, .. }) => slot.of(to),
            _ => None,
        }
    }

    fn put(self, line: &mut Line, length: Length) -> Option<()> {
        let run = line.place.run();
        match (self, &mut line.place) {
            (Self::Distance, Place::Measured { distance, .. }) => *distance = length,
            (Self::Start, place) => *place = place.with_run(Run { from: with_stop(run.from, length)?, ..run }),
            (Self::End, place) => *place = place.with_run(Run { to: with_stop(run.to, length)?, ..run }),
            (Self::Width, _) => match &mut line.work {
                Work::Slot(strip) | Work::Trim(strip) => strip.width = length,
                Work::Notch(notch) => notch.depth = length,
                Work::Score(_) | Work::Cut | Work::Guide => return None,
            },
            (Self::Bow, Place::Drawn { bow, .. }) => *bow = length,
            (Self::From(slot), Place::Drawn { from, .. }) => return slot.put(from, length),
            (Self::To(slot), Place::Drawn { to, .. }) => return slot.put(to, length),
            _ => return None,
        }
        Some(())
    }

    fn words(self, is_notch: bool) -> String {
        match self {
            Self::Distance => "the distance".to_owned(),
            Self::Start => "the start".to_owned(),
            Self::End => "the end".to_owned(),
            Self::Width if is_notch => "the depth".to_owned(),
            Self::Width => "the width".to_owned(),
            Self::Bow => "the bow".to_owned(),
            Self::From(slot) => format!("the start {}", slot.words()),
            Self::To(slot) => format!("the end {}", slot.words()),
        }
    }
}

impl PartSlot {
    /// All that a part has.
    #[must_use]
    pub fn all(part: &Part) -> Vec<Self> {
        let measures = part.kind.measures().into_iter().map(|(name, _)| Self::Measure(name));
        measures.chain([Self::Across, Self::Down]).collect()
    }

    /// The length that stands there.
    #[must_use]
    pub fn of(self, part: &Part) -> Option<Length> {
        match self {
            Self::Measure(name) => {
                part.kind.measures().into_iter().find(|(own, _)| *own == name).map(|(_, length)| length)
            }
            Self::Across => Some(part.place.across.distance),
            Self::Down => Some(part.place.down.distance),
        }
    }

    fn put(self, part: &mut Part, length: Length) -> Option<()> {
        match self {
            Self::Measure(name) => part.kind = part.kind.with_measure(name, length)?,
            Self::Across => part.place.across.distance = length,
            Self::Down => part.place.down.distance = length,
        }
        Some(())
    }

    fn words(self) -> String {
        match self {
            Self::Measure(name) => format!("the {name}"),
            Self::Across => "the place across".to_owned(),
            Self::Down => "the place down".to_owned(),
        }
    }
}
