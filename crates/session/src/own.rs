//! The little sheet of a part of the maker's own, worked on where the part lies on the folio's sheet.

use model::change::perform;
use model::part::{Laid, change};
use model::{Document, Edit, Layout, PartId, PartKind, Point, Refusal, Vector};

/// A part's little sheet, and how it lies.
#[derive(Debug, Clone, Copy)]
pub struct Little<'a> {
    /// The sheet as a design of its own.
    pub document: &'a Document,
    /// Its layout.
    pub layout: &'a Layout,
    laid: Laid,
}

impl<'a> Little<'a> {
    /// That of a part. `None` for a part of another kind, for one that has no place, and for one that lies on another part,
    /// which need not be flat.
    #[must_use]
    pub fn of(document: &Document, layout: &'a Layout, id: PartId) -> Option<Self> {
        if !matches!(document.part(id)?.kind, PartKind::Own(_)) {
            return None;
        }
        let part = layout.part(id)?;
        let laid = part.laid.filter(|laid| layout.part_of(laid.on).is_none())?;
        Some(Self { document: &part.pattern.document, layout: &part.sheet, laid })
    }

    /// Where a point of it lies on the folio's sheet, all of it laid flat.
    #[must_use]
    pub fn on_sheet(&self, point: Point) -> Point {
        self.laid.on_host(point)
    }

    /// Where a place on the folio's sheet lies on it.
    #[must_use]
    pub fn on_own(&self, point: Point) -> Point {
        self.laid.on_part(point)
    }

    /// A way on it as it goes on the folio's sheet.
    #[must_use]
    pub fn way_on_sheet(&self, way: Vector) -> Vector {
        let zero = self.on_own(self.on_sheet(Point::default()));
        self.on_sheet(zero + way) - self.on_sheet(zero)
    }

    /// A way on the folio's sheet as it goes on it.
    #[must_use]
    pub fn way_on_own(&self, way: Vector) -> Vector {
        self.on_own(Point::default() + way) - self.on_own(Point::default())
    }
}

/// What an edit of a part's little sheet comes to in the design: all of it that is not edited stays where it lies, also
/// where the part is placed by what is. `None` where nothing changes.
///
/// # Errors
/// Says why the edit can't be made.
pub fn edit(document: &Document, layout: &Layout, id: PartId, on_little: Edit) -> Result<Option<Edit>, Refusal> {
    let Some(little) = Little::of(document, layout, id) else { return Ok(None) };
    let performed = perform(little.document, little.layout, on_little)?.document;
    let changed = change::change(document, id, |part| {
        if let PartKind::Own(own) = &mut part.kind {
            own.lines.clone_from(&performed.lines);
            own.corners.clone_from(&performed.corners);
            own.base = performed.base.unwrap_or(own.base);
        }
    });
    let Some(changed) = changed else { return Ok(None) };
    let mut next = document.clone();
    next.apply(changed.clone())?;
    let now = Layout::of(&next).part(id).and_then(|part| part.laid);
    let back = now.map(|now| little.laid.origin - now.origin).filter(|by| *by != Vector::default());
    let back = back.and_then(|by| change::shift(&next, id, by));
    Ok(Some(match back {
        Some(back) => Edit::All(vec![changed, back]),
        None => changed,
    }))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Session;
    use model::change::{add_line, measured_score, move_line};
    use model::part::{Own, Placement, Rotation, Source};
    use model::{Length, LineId, PanelRef, Part, Size, Turn, Unit};

    const INCH: Length = Length::INCH;

    /// A 12 in sheet, and on the middle of it a part of 4 by 2 in of the maker's own, with scores 1 in and 3 in from its left;
    /// its main panel lies between them.
    fn session(rotation: Rotation) -> Session {
        let mut document = Document::new(Size::parse("12x12in").unwrap(), Unit::Inch);
        document.base = Some(Point::new(INCH * 6, INCH * 6));
        let lines = [1, 3].map(|at| measured_score(LineId(at), Turn::None, INCH * i64::from(at)));
        let size = Size::new(INCH * 4, INCH * 2).unwrap();
        let base = Point::new(INCH * 2, INCH);
        let own = Own { size, lines: lines.to_vec(), corners: Vec::new(), base, folded: Vec::new() };
        let on = PanelRef::Sheet(Point::new(INCH * 6, INCH * 6));
        let place = Placement { rotation, ..Placement::centred(on) };
        let (kind, source) = (PartKind::Own(own), Source::FolioStock);
        let part = Part { id: PartId(1), name: String::new(), kind, source, place, also: Vec::new() };
        document.apply(change::add(&document, part)).unwrap();
        Session::new(document)
    }

    fn little(session: &Session) -> Little<'_> {
        Little::of(session.document(), &session.derived().layout, PartId(1)).unwrap()
    }

    /// Where the little sheet's corner and both scores lie on the folio's sheet, in quarters of an inch.
    fn places(session: &Session) -> [(i64, i64); 3] {
        let little = little(session);
        let quarters = |length: Length| length.nm() * 4 / INCH.nm();
        let at = |point: Point| {
            let at = little.on_sheet(point);
            (quarters(at.x), quarters(at.y))
        };
        let score = |id| at(little.layout.lines[&LineId(id)].unwrap().segment.a);
        [at(Point::default()), score(1), score(3)]
    }

    fn moved(session: &Session, line: u32, inches: i64) -> Result<Option<Edit>, Refusal> {
        let little = little(session);
        let on_little = move_line(little.document, little.layout, LineId(line), INCH * inches).unwrap();
        edit(session.document(), &session.derived().layout, PartId(1), on_little)
    }

    #[test]
    fn what_is_not_moved_stays_though_the_part_is_placed_by_what_is() {
        // Its main panel is 2 in wide and lies in the middle: 5 in to 7 in, so the little sheet begins at 4 in.
        for line in [1, 3] {
            let mut session = session(Rotation::NONE);
            let before = places(&session);
            assert_eq!(before, [(16, 20), (20, 20), (28, 20)]);
            session.apply("Move", moved(&session, line, 2).unwrap().unwrap()).unwrap();
            let now = places(&session);
            let kept = if line == 1 { 2 } else { 1 };
            assert_eq!((now[0], now[kept], now[3 - kept]), (before[0], before[kept], (24, 20)), "line {line}");
            session.undo().unwrap();
            assert_eq!(places(&session), before);
        }
    }

    #[test]
    fn ways_go_there_and_back_whichever_way_the_part_lies() {
        for quarters in 0..4 {
            let session = session((0..quarters).fold(Rotation::NONE, |all, _| all.plus(Rotation::QUARTER)));
            let little = little(&session);
            let way = Vector { x: INCH, y: Length::ZERO };
            let flat = little.way_on_sheet(way);
            let expected = [(1, 0), (0, 1), (-1, 0), (0, -1)][usize::try_from(quarters).unwrap()];
            assert_eq!((flat.x.nm() / INCH.nm(), flat.y.nm() / INCH.nm()), expected, "clockwise as drawn");
            assert_eq!(little.way_on_own(flat), way);
            let point = Point::new(INCH * 3, INCH);
            assert_eq!(little.on_own(little.on_sheet(point)), point);
        }
    }

    #[test]
    fn what_has_no_place_is_refused_and_other_parts_have_no_little_sheet() {
        let session = session(Rotation::NONE);
        let refusal = moved(&session, 1, 5).unwrap_err().to_string();
        assert_eq!(refusal, "\"Score 1\" lies 1 in beyond the edge of the sheet");
        assert!(Little::of(session.document(), &session.derived().layout, PartId(2)).is_none());
        let mut document = session.document().clone();
        let add_line = add_line(&document, measured_score(LineId(1), Turn::None, INCH));
        document.apply(add_line).unwrap();
        let mat = PartKind::Mat(model::part::Mat { width: INCH, height: INCH });
        document.apply(change::change(&document, PartId(1), |part| part.kind = mat.clone()).unwrap()).unwrap();
        assert!(Little::of(&document, &Layout::of(&document), PartId(1)).is_none());
    }
}
