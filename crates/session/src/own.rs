//! The little sheet of a part of the maker's own, worked on where the part lies on the folio's sheet.

use crate::work::{Kind, set_work, switch_kind};
use model::board::free_place;
use model::change::{add_line, delete_line, measured_score, perform};
use model::part::{Laid, Own, change};
use model::{
    BoardPoint, Crease, Document, Edit, FoldAngle, Layout, Length, Line, LineId, PanelId, Part, PartId, PartKind,
    Place, Point, Refusal, Spot, Turn, Vector, Work,
};
use std::collections::BTreeSet;

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

    /// Whether a place on the folio's sheet lies on it, what is cut from it counted in.
    #[must_use]
    pub fn holds(&self, point: Point) -> bool {
        let (at, size) = (self.on_own(point), self.layout.size);
        (Length::ZERO..=size.width()).contains(&at.x) && (Length::ZERO..=size.height()).contains(&at.y)
    }

    /// The turn of the little sheet on which a line is upright or level as one is on the folio's sheet on a turn of that.
    #[must_use]
    pub fn turn_of(&self, turn: Turn) -> Turn {
        // For a way, any size will do.
        let at = |down| turn.from_board(BoardPoint { across: Length::ZERO, down }, self.layout.size);
        let way = self.way_on_own(at(Length::INCH) - at(Length::ZERO));
        if way.y.abs() >= way.x.abs() { Turn::None } else { Turn::Once }
    }

    /// What of the way between two places on the folio's sheet lies on it, as spots of its own; `None` where that is nothing.
    #[must_use]
    pub fn across(&self, from: Point, to: Point) -> Option<[Point; 2]> {
        let [a, b] = [from, to].map(|point| self.on_own(point));
        let size = self.layout.size;
        let (mut first, mut last) = (0.0_f64, 1.0_f64);
        for (a, b, side) in [(a.x, b.x, size.width()), (a.y, b.y, size.height())] {
            if a == b {
                if !(Length::ZERO..=side).contains(&a) {
                    return None;
                }
                continue;
            }
            let (a, by, side) = (a.mm(), (b - a).mm(), side.mm());
            let ends = [-a / by, (side - a) / by];
            first = first.max(ends[0].min(ends[1]));
            last = last.min(ends[0].max(ends[1]));
        }
        let at = |share: f64, exact: Point| {
            if share <= 0.0 || share >= 1.0 {
                return Some(exact);
            }
            let along = |a: Length, b: Length, side: Length| {
                let to = Length::from_mm_rounded(a.mm() + (b - a).mm() * share)?;
                Some(to.clamp(Length::ZERO, side))
            };
            Some(Point::new(along(a.x, b.x, size.width())?, along(a.y, b.y, size.height())?))
        };
        if first < last { Some([at(first, a)?, at(last, b)?]) } else { None }
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
    in_place(document, layout, id, |part| {
        if let PartKind::Own(own) = &mut part.kind {
            own.lines.clone_from(&performed.lines);
            keep_scores(own);
            own.corners.clone_from(&performed.corners);
            own.base = performed.base.unwrap_or(own.base);
        }
    })
}

/// Makes the panel around a place of a part's little sheet its main panel. What of it was glued by the one before is glued by
/// that, and all of it stays where it lies. `None` where nothing changes.
///
/// # Errors
/// Says why it can't be.
pub fn set_main(document: &Document, layout: &Layout, id: PartId, base: Point) -> Result<Option<Edit>, Refusal> {
    let Some(part) = layout.part(id) else { return Ok(None) };
    let number = |panel: PanelId| part.panels.iter().position(|one| one.id == panel);
    let now = part.sheet.panel_at(base).and_then(|panel| {
        let inside = part.sheet.panel(panel).inside?;
        part.panels.iter().position(|one| one.inside == Some(inside))
    });
    let (Some(before), Some(now)) = (number(part.main), now) else { return Ok(None) };
    in_place(document, layout, id, |part| {
        if let PartKind::Own(own) = &mut part.kind {
            own.base = base;
        }
        for gluing in part.also.iter_mut().filter(|gluing| gluing.panel == before && gluing.to == part.place.on) {
            gluing.panel = now;
        }
    })
}

/// A change of a part after which its little sheet lies where it lay.
fn in_place(
    document: &Document,
    layout: &Layout,
    id: PartId,
    how: impl FnOnce(&mut Part),
) -> Result<Option<Edit>, Refusal> {
    let Some(little) = Little::of(document, layout, id) else { return Ok(None) };
    let Some(changed) = change::change(document, id, how) else { return Ok(None) };
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

/// Lets nothing be folded before it is glued on that is no score any more.
fn keep_scores(own: &mut Own) {
    let scores: BTreeSet<LineId> = own.lines.iter().filter(|line| line.work.is_score()).map(|line| line.id).collect();
    own.folded.iter_mut().for_each(|step| step.retain(|line| scores.contains(line)));
    own.folded.retain(|step| !step.is_empty());
}

/// A score from edge to edge on a part's little sheet, upright on the first turn and level on the second, where it is widest
/// without one; and its number there. `None` for what has no little sheet.
///
/// # Errors
/// Says why it can't be added.
pub fn add_score(
    document: &Document,
    layout: &Layout,
    id: PartId,
    turn: Turn,
) -> Result<Option<(Edit, LineId)>, Refusal> {
    let Some(little) = Little::of(document, layout, id) else { return Ok(None) };
    let (width, _) = turn.size_of(little.layout.size);
    let free = free_place(little.layout, turn);
    // On a sheet that is narrower than the grooves are apart, a groove may lie at its edge.
    let on_groove = Some(free.snapped(document.groove)).filter(|&at| at > Length::ZERO && at < width);
    add(document, layout, id, measured_score(little.document.next_line(), turn, on_groove.unwrap_or(free)))
}

/// A cut drawn from spot to spot of a part's little sheet; and its number there. `None` for what has no little sheet.
///
/// # Errors
/// Says why it can't be drawn.
pub fn draw(
    document: &Document,
    layout: &Layout,
    id: PartId,
    [from, to]: [Spot; 2],
) -> Result<Option<(Edit, LineId)>, Refusal> {
    let Some(little) = Little::of(document, layout, id) else { return Ok(None) };
    let place = Place::Drawn { from, to, bow: Length::ZERO };
    add(document, layout, id, Line::new(little.document.next_line(), place, Work::Cut))
}

fn add(document: &Document, layout: &Layout, id: PartId, line: Line) -> Result<Option<(Edit, LineId)>, Refusal> {
    let Some(little) = Little::of(document, layout, id) else { return Ok(None) };
    let number = line.id;
    let edit = edit(document, layout, id, add_line(little.document, line))?;
    Ok(edit.map(|edit| (edit, number)))
}

/// What a line of a part's little sheet is changed by. Such a change is `None` where nothing changes.
#[derive(Debug, Clone, Copy)]
pub struct OwnWork<'a> {
    document: &'a Document,
    layout: &'a Layout,
    /// The part.
    pub part: PartId,
    /// The line.
    pub line: LineId,
}

impl<'a> OwnWork<'a> {
    /// A line of a part.
    #[must_use]
    pub const fn new(document: &'a Document, layout: &'a Layout, (part, line): (PartId, LineId)) -> Self {
        Self { document, layout, part, line }
    }

    fn line(&self) -> Option<(Little<'a>, &'a Line)> {
        let little = Little::of(self.document, self.layout, self.part)?;
        Some((little, little.document.line(self.line)?))
    }

    fn edit(&self, on_little: Option<Edit>) -> Result<Option<Edit>, Refusal> {
        on_little.map_or(Ok(None), |on_little| edit(self.document, self.layout, self.part, on_little))
    }

    /// Takes it out, with what lies along it.
    ///
    /// # Errors
    /// Says why it can't be taken out.
    pub fn deleted(&self) -> Result<Option<Edit>, Refusal> {
        let Some((little, _)) = self.line() else { return Ok(None) };
        self.edit(Some(delete_line(little.document, little.layout, self.line)?))
    }

    /// Does other work along it, with usual figures.
    ///
    /// # Errors
    /// Says why that can't be done along it.
    pub fn switched(&self, kind: Kind) -> Result<Option<Edit>, Refusal> {
        let Some((little, _)) = self.line() else { return Ok(None) };
        self.edit(switch_kind(little.document, little.layout, self.line, kind))
    }

    /// Folds it otherwise; nothing changes for what is no score.
    ///
    /// # Errors
    /// Says why it can't be folded so.
    pub fn creased(&self, how: impl FnOnce(Crease) -> Crease) -> Result<Option<Edit>, Refusal> {
        let Some((little, line)) = self.line() else { return Ok(None) };
        let Work::Score(crease) = line.work else { return Ok(None) };
        self.edit(Some(set_work(little.document, line, Work::Score(how(crease)))))
    }

    /// Does this along it.
    ///
    /// # Errors
    /// Says why that can't be done along it.
    pub fn worked(&self, work: Work) -> Result<Option<Edit>, Refusal> {
        let Some((little, line)) = self.line() else { return Ok(None) };
        self.edit(Some(set_work(little.document, line, work)))
    }

    /// Folds a score the other way.
    ///
    /// # Errors
    /// Says why it can't be folded so.
    pub fn reversed(&self) -> Result<Option<Edit>, Refusal> {
        self.creased(|crease| Crease { direction: crease.direction.reversed(), ..crease })
    }

    /// Folds a score by 90° instead of 180°, or the other way about.
    ///
    /// # Errors
    /// Says why it can't be folded so.
    pub fn at_other_angle(&self) -> Result<Option<Edit>, Refusal> {
        self.creased(|crease| {
            let angle = if crease.angle == FoldAngle::Flat { FoldAngle::Square } else { FoldAngle::Flat };
            Crease { angle, ..crease }
        })
    }

    /// Puts a measured line so far from what it is measured from.
    ///
    /// # Errors
    /// Says why it can't lie there.
    pub fn at_distance(&self, distance: Length) -> Result<Option<Edit>, Refusal> {
        let Some((_, line)) = self.line() else { return Ok(None) };
        let Place::Measured { turn, from, run, .. } = line.place else { return Ok(None) };
        let place = Place::Measured { turn, from, distance, run };
        self.edit(Some(Edit::ReplaceLine(Line { place, ..line.clone() })))
    }

    /// Whether it is folded before the part is glued on.
    #[must_use]
    pub fn is_folded_before(&self) -> bool {
        let kind = self.document.part(self.part).map(|part| &part.kind);
        matches!(kind, Some(PartKind::Own(own)) if own.folded.iter().flatten().any(|&line| line == self.line))
    }

    /// Folds a score before the part is glued on, after what is so folded already; or lets it fold with the folio.
    #[must_use]
    pub fn folded_before(&self, before: bool) -> Option<Edit> {
        change::change(self.document, self.part, |part| {
            if let PartKind::Own(own) = &mut part.kind {
                own.folded.iter_mut().for_each(|step| step.retain(|&line| line != self.line));
                own.folded.extend(before.then(|| vec![self.line]));
                keep_scores(own);
            }
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Session;
    use model::change::move_line;
    use model::part::{Placement, Rotation, Source};
    use model::{PanelRef, Part, Size, Unit};

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

    fn own(session: &Session) -> Own {
        match &session.document().part(PartId(1)).unwrap().kind {
            PartKind::Own(own) => own.clone(),
            other => panic!("{other:?}"),
        }
    }

    #[track_caller]
    fn done(session: &mut Session, line: u32, how: impl Fn(OwnWork<'_>) -> Result<Option<Edit>, Refusal>) {
        let of = (PartId(1), LineId(line));
        let edit = how(OwnWork::new(session.document(), &session.derived().layout, of)).unwrap().unwrap();
        session.apply("Work", edit).unwrap();
    }

    #[test]
    fn scores_are_added_where_there_is_room_and_fold_with_the_folio() {
        let mut session = session(Rotation::NONE);
        let before = places(&session);
        // Scores at 1 and 3 in of 4: the widest gap is between them.
        for (turn, distance, steps) in [(Turn::None, 2, 3), (Turn::Once, 1, 4)] {
            let (document, layout) = (session.document(), &session.derived().layout);
            let (edit, number) = add_score(document, layout, PartId(1), turn).unwrap().unwrap();
            session.apply("Add score", edit).unwrap();
            let line = own(&session).lines.into_iter().find(|line| line.id == number).unwrap();
            assert!(matches!(line.place, Place::Measured { distance: at, .. } if at == INCH * distance), "{line:?}");
            assert_eq!(session.document().steps.len(), steps);
        }
        assert_eq!(places(&session), before, "the main panel is another now, and all stays where it was");
        let at = |x, y| Spot::At(Point::new(INCH * x, INCH * y));
        let (document, layout) = (session.document(), &session.derived().layout);
        let (edit, number) = draw(document, layout, PartId(1), [at(0, 1), at(1, 2)]).unwrap().unwrap();
        session.apply("Draw", edit).unwrap();
        assert_eq!(own(&session).lines.last().map(|line| (line.id, line.work)), Some((number, Work::Cut)));
        let (document, layout) = (session.document(), &session.derived().layout);
        assert_eq!(add_score(document, layout, PartId(2), Turn::None), Ok(None), "no such part");
    }

    #[test]
    fn what_is_new_folds_before_the_folio_closes_over_it_and_what_folds_in_no_step_stays_so() {
        let mut session = session(Rotation::NONE);
        let flap = add_line(session.document(), measured_score(LineId(1), Turn::None, INCH * 2));
        session.apply("Add score", flap).unwrap();
        let none_of_parts = |steps: &[model::Step]| -> Vec<usize> {
            steps.iter().enumerate().filter(|(_, step)| step.parts.is_empty()).map(|(at, _)| at).collect()
        };
        assert_eq!(none_of_parts(&session.document().steps), [2], "the folio's, after those of the part");
        let (document, layout) = (session.document(), &session.derived().layout);
        let (edit, number) = add_score(document, layout, PartId(1), Turn::Once).unwrap().unwrap();
        session.apply("Add score", edit).unwrap();
        assert_eq!(session.document().steps[0].parts, [(PartId(1), number)]);
        assert_eq!(none_of_parts(&session.document().steps), [3]);
        // The first step taken out: another line that is moved brings it back no more.
        let steps = session.document().steps[1..].to_vec();
        session.apply("Fold less", Edit::SetSteps(steps.clone())).unwrap();
        done(&mut session, 1, |line| line.at_distance(INCH / 2));
        assert_eq!(session.document().steps, steps);
    }

    #[test]
    fn a_line_is_cut_scored_folded_otherwise_moved_and_taken_out() {
        let mut session = session(Rotation::NONE);
        let work = |session: &Session| own(session).lines[0].work;
        done(&mut session, 1, |line| line.reversed());
        done(&mut session, 1, |line| line.at_other_angle());
        let crease = Crease { direction: model::Direction::Mountain, angle: FoldAngle::Square, ..Crease::VALLEY };
        assert_eq!(work(&session), Work::Score(crease));
        done(&mut session, 1, |line| line.at_distance(INCH / 2));
        assert!(matches!(own(&session).lines[0].place, Place::Measured { distance, .. } if distance == INCH / 2));
        done(&mut session, 1, |line| line.switched(Kind::Cut));
        assert_eq!((work(&session), session.document().steps.len()), (Work::Cut, 1), "what is cut folds no more");
        let line = OwnWork::new(session.document(), &session.derived().layout, (PartId(1), LineId(1)));
        assert_eq!(line.reversed(), Ok(None), "a cut does not fold");
        assert!(line.at_distance(INCH * 9).unwrap_err().to_string().contains("beyond the edge"));
        done(&mut session, 1, |line| line.deleted());
        assert_eq!(own(&session).lines.len(), 1);
        while session.undo().unwrap() {}
        assert_eq!((work(&session), session.document().steps.len()), (Work::Score(Crease::VALLEY), 2));
    }

    #[test]
    fn what_is_folded_before_it_is_glued_on_is_in_no_step_and_is_forgotten_with_its_line() {
        let mut session = session(Rotation::NONE);
        for line in [3, 1] {
            done(&mut session, line, |line| Ok(line.folded_before(true)));
        }
        assert_eq!((own(&session).folded, session.document().steps.len()), (vec![vec![LineId(3)], vec![LineId(1)]], 0));
        let of = |line| OwnWork::new(session.document(), &session.derived().layout, (PartId(1), LineId(line)));
        assert!(of(1).is_folded_before() && of(1).folded_before(true).is_none());
        done(&mut session, 1, |line| line.deleted());
        assert_eq!(own(&session).folded, [vec![LineId(3)]]);
        done(&mut session, 3, |line| line.switched(Kind::Cut));
        assert_eq!(own(&session).folded, Vec::<Vec<LineId>>::new());
        session.undo().unwrap();
        done(&mut session, 3, |line| Ok(line.folded_before(false)));
        assert_eq!(session.document().steps.len(), 1);
    }

    #[test]
    fn of_a_way_across_it_what_lies_on_it_is_told() {
        for rotation in [Rotation::NONE, Rotation::QUARTER] {
            let session = session(rotation);
            let little = little(&session);
            let check = |[a, b]: [(i64, i64); 2], expected: Option<[(i64, i64); 2]>| {
                let at = |(x, y)| Point::new(INCH * x, INCH * y);
                let found = little.across(little.on_sheet(at(a)), little.on_sheet(at(b)));
                assert_eq!(found, expected.map(|ends| ends.map(at)), "{a:?} to {b:?}");
            };
            check([(1, 1), (3, 1)], Some([(1, 1), (3, 1)]));
            check([(-2, 1), (6, 1)], Some([(0, 1), (4, 1)]));
            // Down a slope of one in one from above its upper edge to below its lower one.
            check([(1, -1), (4, 2)], Some([(2, 0), (4, 2)]));
            check([(3, -1), (7, 3)], None);
            check([(5, 0), (5, 2)], None);
            check([(0, 3), (4, 3)], None);
        }
        // Level on the folio's sheet is level on the little one unless the part is turned a quarter.
        let turned = [Rotation::NONE, Rotation::QUARTER].map(|rotation| {
            let session = session(rotation);
            Turn::ALL.map(|turn| little(&session).turn_of(turn))
        });
        let (none, once) = (Turn::None, Turn::Once);
        assert_eq!(turned, [[none, once, none, once], [once, none, once, none]]);
    }

    #[test]
    fn it_holds_what_lies_within_its_edges_whichever_way_it_lies() {
        for rotation in [Rotation::NONE, Rotation::QUARTER] {
            let session = session(rotation);
            let little = little(&session);
            for (x, y, is_held) in [(2, 1, true), (0, 0, true), (4, 2, true), (5, 1, false), (2, 3, false)] {
                let point = little.on_sheet(Point::new(INCH * x, INCH * y));
                assert_eq!(little.holds(point), is_held, "{x} {y}");
            }
        }
    }
}
