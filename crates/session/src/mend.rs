//! Mending everything at once: the first mend of each error and warning in turn, where it does no harm. What is only noted is
//! as the maker measured it, and stays so unless it is but an order of steps.
//!
//! A mend does no harm where it deletes nothing that the maker put there, takes no more paper off the folio than a corner or a
//! strip, and makes no part that she did not ask for, and less is wrong after it. Each is tried on what the ones before it came
//! to, with all that follows from it.

use crate::derived::Derived;
use check::{Finding, Fix, Severity};
use model::change::perform;
use model::{Area, Document, Edit, Layout, Panel};
use std::collections::BTreeSet;
use std::ops::ControlFlow;

/// Is told how many mends have been tried, of how many as far as is known, and says whether to go on.
pub type Progress<'a> = &'a mut dyn FnMut(usize, usize) -> ControlFlow<()>;

/// How many mends are tried at most: each takes a folding.
const MOST_TRIED: usize = 60;

/// How many mends are named; more are counted.
const NAMED: usize = 3;

/// What was mended.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Mended {
    /// The mends that do no harm, each to be made on what the one before it comes to.
    pub edits: Vec<Edit>,
    /// What they are called.
    labels: Vec<String>,
    /// How many findings have a mend that is left to the maker.
    left: usize,
}

/// Works out which first mends do no harm, one after another. `derived` is what follows from the document. `None` where
/// `progress` calls it off.
#[must_use]
pub fn all(document: &Document, derived: &Derived, progress: Progress<'_>) -> Option<Mended> {
    let mut mended = Mended::default();
    let mut now = (document.clone(), derived.clone());
    // Mends that would do harm; they are not tried again.
    let mut harmful: Vec<String> = Vec::new();
    while mended.edits.len() + harmful.len() < MOST_TRIED {
        let mends = now.1.findings.iter().filter(|finding| is_asked_for(finding)).filter_map(|of| of.fixes.first());
        let open: Vec<&Fix> = mends.filter(|fix| !harmful.contains(&fix.label)).collect();
        let Some(fix) = open.first() else { break };
        let tried_so_far = mended.edits.len() + harmful.len();
        let waiting = open.iter().map(|fix| &fix.label).collect::<BTreeSet<_>>().len();
        if progress(tried_so_far, (tried_so_far + waiting).min(MOST_TRIED)).is_break() {
            return None;
        }
        match tried(&now, fix) {
            Some(after) => {
                mended.edits.push(fix.edit.clone());
                mended.labels.push(fix.label.clone());
                now = after;
            }
            None => harmful.push(fix.label.clone()),
        }
    }
    mended.left = now.1.findings.iter().filter(|finding| is_asked_for(finding)).count();
    Some(mended)
}

/// Whether a finding is one to be mended with others: an error or a warning with a mend, or a note whose mend changes orders
/// alone and nothing that was measured.
#[must_use]
pub fn is_asked_for(finding: &Finding) -> bool {
    finding.fixes.first().is_some_and(|fix| finding.severity >= Severity::Warning || is_of_orders(&fix.edit))
}

fn is_of_orders(edit: &Edit) -> bool {
    match edit {
        Edit::SetSteps(_) | Edit::SetMaking(_) => true,
        Edit::All(edits) => edits.iter().all(is_of_orders),
        _ => false,
    }
}

/// What a mend comes to; `None` where it can't be made or would do harm.
fn tried((document, derived): &(Document, Derived), fix: &Fix) -> Option<(Document, Derived)> {
    let after = perform(document, &derived.layout, fix.edit.clone()).ok()?;
    let keeps_lines = document.lines.iter().all(|line| after.document.line(line.id).is_some());
    let keeps_parts = document.parts.iter().all(|part| after.document.part(part.id).is_some());
    let makes_parts = after.document.parts.len() > document.parts.len();
    if !keeps_lines || !keeps_parts || makes_parts || !keeps_panels(&derived.layout, &after.layout) {
        return None;
    }
    let then = Derived::after(&after.document, after.layout, derived);
    is_better(&derived.findings, &then.findings).then_some((after.document, then))
}

/// Whether the folio keeps its panels: none loses more than half of itself, and what comes off as a whole hangs on more than
/// one fold, as a corner does and a flap does not, and is smaller than the base, all of it together.
fn keeps_panels(before: &Layout, after: &Layout) -> bool {
    let of_folio = |layout: &Layout, panel: &Panel| layout.pieces[panel.piece.0].is_folio;
    let mut off = Area::ZERO;
    let keeps = before.panels.iter().filter(|panel| of_folio(before, panel)).all(|panel| {
        let Some(inside) = panel.inside else { return true };
        match after.panel_at(inside).map(|now| after.panel(now)) {
            Some(now) if of_folio(after, now) => now.area.mm2() * 2.0 >= panel.area.mm2(),
            Some(_) => {
                off = off + panel.area;
                before.folds.iter().filter(|fold| fold.panels.contains(&panel.id)).count() > 1
            }
            None => false,
        }
    });
    let base = before.base.map(|base| before.panel(base).area);
    keeps && (off == Area::ZERO || base.is_some_and(|base| off < base))
}

/// Whether less is wrong: fewer errors, or as many and fewer warnings, or as many of both and fewer notes. What an error hid,
/// such as how a folio that closes goes by post, may come to light.
fn is_better(before: &[Finding], after: &[Finding]) -> bool {
    let counts = |all: &[Finding]| {
        [Severity::Error, Severity::Warning, Severity::Note]
            .map(|severity| all.iter().filter(|finding| finding.severity == severity).count())
    };
    counts(after) < counts(before)
}

impl Mended {
    /// What was done, in a sentence: "Mended 2 findings: Move Score 1 to 6 1/8 in; Turn the paper over."
    ///
    /// # Errors
    /// Nothing was: says why, without the full stop.
    pub fn words(&self) -> Result<String, String> {
        let noun = |count: usize| if count == 1 { "finding" } else { "findings" };
        let left = match self.left {
            0 => String::new(),
            1 => "1 more is left to you, since its mend could do harm".to_owned(),
            left => format!("{left} more are left to you, since their mends could do harm"),
        };
        match (self.labels.len(), self.left) {
            (0, 0) => Err("nothing that is wrong can be mended in one go".to_owned()),
            (0, left) => {
                Err(format!("no mend of the {left} {} is sure to do no harm; choose them one by one", noun(left)))
            }
            (count, _) => {
                let (mut named, more) = self.named();
                if more > 0 {
                    named = format!("{named} and {more} more");
                }
                let left = if left.is_empty() { left } else { format!(" ({left})") };
                Ok(format!("Mended {count} {}: {named}{left}.", noun(count)))
            }
        }
    }

    /// The first few mends, each once with how often it was made, and how many were made beyond them.
    fn named(&self) -> (String, usize) {
        let mut counts: Vec<(&str, usize)> = Vec::new();
        for label in &self.labels {
            match counts.iter_mut().find(|(known, _)| known == label) {
                Some((_, count)) => *count += 1,
                None => counts.push((label, 1)),
            }
        }
        let more = counts.iter().skip(NAMED).map(|(_, count)| count).sum();
        let named = counts.iter().take(NAMED).map(|&(label, count)| match count {
            1 => label.to_owned(),
            _ => format!("{label} ({count} times)"),
        });
        (named.collect::<Vec<String>>().join("; "), more)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Session;
    use model::change::{add_line, measured_score};
    use model::{Crease, FoldAngle, Length, Line, LineId, Place, Point, Size, Turn, Unit, Work};

    /// A 12 in sheet with a base and scores so many sixteenths of an inch from the left: between grooves where that is odd.
    fn scored(places: &[i64]) -> Document {
        let mut document = Document::new(Size::parse("12x12in").unwrap(), Unit::Inch);
        for (id, &sixteenths) in (1..).zip(places) {
            let score = measured_score(LineId(id), Turn::None, Length::SIXTEENTH * sixteenths);
            document.apply(add_line(&document, score)).unwrap();
        }
        document.base = Some(Point::new(Length::INCH * 6, Length::INCH * 6));
        document
    }

    /// What is mended where nobody calls it off.
    fn worked_out(session: &Session) -> Mended {
        all(session.document(), session.derived(), &mut |_, _| ControlFlow::Continue(())).unwrap()
    }

    /// Mends all of it; gives the lines' places in sixteenths of an inch, and what is said.
    #[track_caller]
    fn check(document: &Document, places: &[i64], said: Result<&str, &str>) {
        let mut session = Session::new(document.clone());
        let mended = worked_out(&session);
        assert_eq!(mended.words(), said.map(str::to_owned).map_err(str::to_owned));
        session.apply_each("Mend all", mended.edits.clone()).unwrap();
        let found: Vec<i64> = session
            .document()
            .lines
            .iter()
            .filter_map(|line| session.derived().layout.lines[&line.id].ok()?.on_board())
            .map(|(_, across)| across.nm() / Length::SIXTEENTH.nm())
            .collect();
        assert_eq!(found, places);
        // One step takes it back, and one makes it again.
        let after = session.document().clone();
        assert_eq!(session.undo(), Ok(!mended.edits.is_empty()));
        assert_eq!((session.document(), session.undo_label()), (document, None));
        session.redo().unwrap();
        assert_eq!(session.document(), &after);
    }

    #[test]
    fn what_is_only_noted_stays_as_it_was_measured() {
        let between = scored(&[49, 145]);
        let offered = Session::new(between.clone()).derived().findings.iter().any(|one| !one.fixes.is_empty());
        assert!(offered, "each can be moved to its groove by itself");
        check(&between, &[49, 145], Err("nothing that is wrong can be mended in one go"));
        // A corner that is joined is cut away, and the scores round it stay.
        let mut joined = scored(&[49]);
        let level = measured_score(LineId(2), Turn::Once, Length::SIXTEENTH * 49);
        joined.apply(add_line(&joined, level)).unwrap();
        let mut session = Session::new(joined);
        let mended = worked_out(&session);
        assert_eq!(mended.labels.len(), 1, "{:?}", mended.labels);
        session.apply_each("Mend all", mended.edits).unwrap();
        for id in [1, 2] {
            let line = session.document().line(LineId(id)).unwrap();
            assert!(matches!(line.place, Place::Measured { distance, .. } if distance == Length::SIXTEENTH * 49));
        }
    }

    /// Whether a flap of 3 in at the left of a sheet is kept where it is cut so many inches from the left.
    fn keeps(at: i64) -> bool {
        let before = scored(&[48]);
        let mut after = before.clone();
        let cut = Line { work: Work::Cut, ..measured_score(LineId(9), Turn::None, Length::INCH * at) };
        after.apply(add_line(&after, cut)).unwrap();
        let (before, after) = (Layout::of(&before), Layout::of(&after));
        assert_eq!((before.panels.len(), after.panels.len(), after.pieces.len()), (2, 3, 2));
        keeps_panels(&before, &after)
    }

    #[test]
    fn no_mend_takes_more_than_half_of_a_flap() {
        assert!(keeps(1), "a third of it");
        assert!(!keeps(2), "all but a third of it");
    }

    /// Scores that cross 3 in from the left and from the top, with the base around a point, and what is joined round it.
    fn crossed(x: i64, y: i64) -> Session {
        let mut document = scored(&[48]);
        let level = measured_score(LineId(2), Turn::Once, Length::INCH * 3);
        document.apply(add_line(&document, level)).unwrap();
        document.base = Some(Point::new(Length::INCH * x, Length::INCH * y));
        document.steps = vec![model::Step::of(vec![LineId(1)]), model::Step::of(vec![LineId(2)])];
        Session::new(document)
    }

    #[test]
    fn a_corner_comes_off_a_base_that_is_larger_and_nothing_off_a_smaller_one() {
        let corner = crossed(8, 8);
        let mended = worked_out(&corner);
        assert!(mended.labels.iter().any(|label| label.starts_with("Cut")), "{:?}", corner.derived().findings);
        let wrong = crossed(1, 11);
        let mended = worked_out(&wrong);
        assert!(!mended.labels.iter().any(|label| label.starts_with("Cut")), "{:?}", mended.labels);
    }

    /// A 12 in sheet with scores so many quarters of an inch from the left and from the top, folded by an angle in a
    /// step each, the base in the middle.
    fn gusseted(upright: &[i64], level: &[i64], angle: FoldAngle) -> Session {
        let mut document = Document::new(Size::parse("12x12in").unwrap(), Unit::Inch);
        let all = upright.iter().map(|at| (Turn::None, at)).chain(level.iter().map(|at| (Turn::Once, at)));
        for (id, (turn, &quarters)) in (1..).zip(all) {
            let mut score = measured_score(LineId(id), turn, Length::SIXTEENTH * (4 * quarters));
            score.work = Work::Score(Crease { angle, ..Crease::VALLEY });
            document.apply(add_line(&document, score)).unwrap();
        }
        document.base = Some(Point::new(Length::INCH * 7, Length::INCH * 7));
        Session::new(document)
    }

    /// Mends all: no error is left, nor anything that is left to the maker, and so many pieces come off.
    #[track_caller]
    fn mends_wholly(mut session: Session, off: usize) {
        let mended = worked_out(&session);
        session.apply_each("Mend all", mended.edits).unwrap();
        let derived = session.derived();
        assert!(derived.worst() < Some(Severity::Warning), "{:#?}: {:#?}", mended.labels, derived.findings);
        assert_eq!((mended.left, derived.layout.pieces.len()), (0, 1 + off), "{:#?}", mended.labels);
    }

    #[test]
    fn gussets_round_the_base_are_mended_wholly_whether_they_stand_or_lie_flat() {
        let sides = [12, 13, 35, 36];
        for angle in [FoldAngle::Square, FoldAngle::Flat] {
            mends_wholly(gusseted(&sides, &sides, angle), 4);
            mends_wholly(gusseted(&sides, &sides[..2], angle), 2);
            mends_wholly(gusseted(&sides, &[], angle), 0);
        }
        mends_wholly(gusseted(&sides, &[12, 36], FoldAngle::Flat), 4);
    }

    #[test]
    fn a_corner_as_large_as_the_base_stays_though_each_panel_of_it_is_smaller() {
        let large = gusseted(&[12], &[12, 15], FoldAngle::Flat);
        let cuts = |mended: &Mended| mended.labels.iter().filter(|label| label.starts_with("Cut")).count();
        assert_eq!(cuts(&worked_out(&large)), 1);
        // 3 by 9 in of corner beside a base of 9 by 3 in.
        let mut larger = gusseted(&[12], &[12, 24, 36], FoldAngle::Flat).document().clone();
        larger.base = Some(Point::new(Length::INCH * 7, Length::INCH * 10));
        let larger = Session::new(larger);
        let offered = |finding: &Finding| finding.fixes.first().is_some_and(|fix| fix.label.contains("whole corner"));
        assert!(larger.derived().findings.iter().any(offered), "{:#?}", larger.derived().findings);
        assert_eq!(cuts(&worked_out(&larger)), 0);
    }

    #[track_caller]
    fn says(labels: &[&str], left: usize, expected: Result<&str, &str>) {
        let labels = labels.iter().map(|&label| label.to_owned()).collect();
        let mended = Mended { edits: Vec::new(), labels, left };
        assert_eq!(mended.words(), expected.map(str::to_owned).map_err(str::to_owned));
    }

    #[test]
    fn what_was_done_is_one_sentence() {
        says(&["Cut it"], 0, Ok("Mended 1 finding: Cut it."));
        says(&["A", "B", "C", "D", "E"], 0, Ok("Mended 5 findings: A; B; C and 2 more."));
        says(&["A", "B", "A"], 0, Ok("Mended 3 findings: A (2 times); B."));
        says(&["A", "B", "C", "D", "A", "D"], 0, Ok("Mended 6 findings: A (2 times); B; C and 2 more."));
        let left = "Mended 1 finding: A (1 more is left to you, since its mend could do harm).";
        says(&["A"], 1, Ok(left));
        let left = "Mended 1 finding: A (2 more are left to you, since their mends could do harm).";
        says(&["A"], 2, Ok(left));
        says(&[], 0, Err("nothing that is wrong can be mended in one go"));
        says(&[], 2, Err("no mend of the 2 findings is sure to do no harm; choose them one by one"));
    }

    #[test]
    fn where_nothing_is_wrong_there_is_nothing_to_mend() {
        check(&scored(&[48, 144]), &[48, 144], Err("nothing that is wrong can be mended in one go"));
    }

    #[test]
    fn it_tells_how_far_it_is_and_can_be_called_off_before_any_mend() {
        let session = gusseted(&[12, 36], &[12, 36], FoldAngle::Flat);
        let mut told = Vec::new();
        let mended = all(session.document(), session.derived(), &mut |tried, of| {
            told.push((tried, of));
            ControlFlow::Continue(())
        });
        let count = mended.map(|mended| mended.edits.len()).unwrap_or_default();
        assert!(count >= 4, "a corner each: {count}");
        assert!(told.iter().enumerate().all(|(at, &(tried, of))| at == tried && tried < of), "{told:?}");
        for stop_at in 0..count {
            let mut stop = |tried, _| if tried == stop_at { ControlFlow::Break(()) } else { ControlFlow::Continue(()) };
            assert_eq!(all(session.document(), session.derived(), &mut stop), None);
        }
    }

    #[test]
    fn a_line_is_never_deleted() {
        // Two scores in the same place: the mend deletes one.
        let twice = scored(&[48, 48]);
        let derived = Derived::of(&twice);
        let first = |finding: &Finding| finding.fixes.first().is_some_and(|fix| fix.label.contains("Delete"));
        assert!(derived.findings.iter().any(first), "{:?}", derived.findings);
        let mut session = Session::new(twice);
        let mended = worked_out(&session);
        assert_eq!((mended.labels.as_slice(), mended.left), (["Take step 2 out".to_owned()].as_slice(), 1));
        session.apply_each("Mend all", mended.edits).unwrap();
        assert_eq!(session.document().lines.len(), 2, "what else is wrong is mended all the same");
    }
}
