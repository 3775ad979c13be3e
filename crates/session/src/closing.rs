//! A closing order found by the fold engine: as an edit, or as a sentence that says what stands in the way.

use crate::derived::Derived;
use fold::{PlanTrouble, PlannedStep, Trouble, Wishes};
use model::words::listed;
use model::{Document, Edit, LineId, PanelId, PartId, Step, Tucked};
use std::collections::BTreeSet;

/// An order of steps that closes the design.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Found {
    /// The steps. Scores that fold nothing in the folio come last, in the steps that they were in.
    pub steps: Vec<Step>,
    /// Whether it is known that fewer steps don't do.
    pub is_least: bool,
}

/// Looks for the steps that close a design, whatever its own are.
///
/// # Errors
/// Says in a sentence what keeps it from closing.
pub fn find(document: &Document, derived: &Derived) -> Result<Found, String> {
    let Some((assembly, _)) = &derived.folded else {
        return Err("nothing can fold yet, since no panel is marked as the base".to_owned());
    };
    if assembly.joints.is_empty() {
        return Err("nothing can fold yet, since the base has no score round it".to_owned());
    }
    let plan =
        fold::plan(assembly, &Wishes::default()).map_err(|trouble| Words { document, derived }.says(&trouble))?;
    let named = |place: usize| derived.layout.panel_ref(assembly.panels.get(place)?.id);
    let tucked = |tuck: &fold::Tuck| Some(Tucked { panel: named(tuck.moving)?, under: named(tuck.under)? });
    let step = |step: &PlannedStep| Step {
        tucks: step.tucks.iter().filter_map(tucked).collect(),
        ..derived.layout.step_of(&step.lines)
    };
    let mut steps: Vec<Step> = plan.steps.iter().map(step).collect();
    let folded: BTreeSet<LineId> = steps.iter().flat_map(|step| step.lines.iter().copied()).collect();
    let of_parts: BTreeSet<(PartId, LineId)> = steps.iter().flat_map(|step| step.parts.iter().copied()).collect();
    let idle = document.steps.iter().map(|step| {
        let mut idle = step.without(|line| folded.contains(&line));
        idle.parts.retain(|line| !of_parts.contains(line));
        idle.tucks.clear();
        idle
    });
    steps.extend(idle.filter(|step| !step.is_empty()));
    Ok(Found { steps, is_least: plan.is_least })
}

/// The edit that gives a design these steps; `None` when its own close it in as few: then they are the maker's choice.
#[must_use]
pub fn edit(document: &Document, derived: &Derived, found: &Found) -> Option<Edit> {
    let closes = derived.folded.as_ref().is_some_and(|(_, folding)| folding.troubles().is_empty());
    let as_good = closes && document.steps.len() <= found.steps.len();
    (!as_good && document.steps != found.steps).then(|| Edit::SetSteps(found.steps.clone()))
}

struct Words<'a> {
    document: &'a Document,
    derived: &'a Derived,
}

impl Words<'_> {
    fn says(&self, trouble: &PlanTrouble) -> String {
        match trouble {
            PlanTrouble::Torn { lines, .. } => {
                let all = if lines.len() == 1 { "" } else { "all " };
                format!("however it is folded, paper would tear: {} can't {all}fold so", self.lines(lines))
            }
            PlanTrouble::NoOrder { panels, lines, .. } => format!(
                "however it is folded, {} would pass through one another, held so by {}",
                self.panels(panels),
                self.lines(lines)
            ),
            PlanTrouble::Stuck { after, hindered } => {
                let why = hindered.iter().flat_map(|step| &step.troubles).next().map(|trouble| self.why(trouble));
                let why = why.unwrap_or_else(|| "nothing more can move".to_owned());
                format!("{}{why}", self.after(after))
            }
            PlanTrouble::Unmet { .. } => "it closes, but not with the layers as wished".to_owned(),
            PlanTrouble::Undecided { after } => format!(
                "{}no step that leads on was found in the tries allowed; order some of the steps by hand",
                self.after(after)
            ),
        }
    }

    /// "After 3 steps ", or nothing.
    fn after(&self, steps: &[PlannedStep]) -> String {
        match steps.last() {
            None => String::new(),
            Some(last) => format!(
                "after {} {}, ",
                if steps.len() == 1 { "folding" } else { "the last possible step," },
                self.lines(&last.lines)
            ),
        }
    }

    fn why(&self, trouble: &Trouble) -> String {
        match trouble {
            Trouble::Joined { lines, .. } => format!("paper still joins what should move along {}", self.lines(lines)),
            Trouble::Blocked { moving, by, .. } => format!("{} lies on {}", self.panel(*by), self.panel(*moving)),
            Trouble::Collides { moving, with, .. } => format!("{} strikes {}", self.panel(*moving), self.panel(*with)),
            Trouble::Crosses { panels, .. } | Trouble::Unflat { panels, .. } => {
                format!("{} can't lie flat together", self.panels(panels))
            }
            Trouble::NotInSteps { line } => {
                format!("\"{}\" folds in no step", self.derived.layout.line_name(self.document, *line))
            }
            Trouble::CannotTuck { .. } => "a flap can't be tucked where it should".to_owned(),
        }
    }

    fn panel(&self, id: PanelId) -> String {
        format!("the {}", self.derived.layout.panel(id).name)
    }

    fn panels(&self, ids: &[PanelId]) -> String {
        listed(ids.iter().map(|&id| self.panel(id)))
    }

    fn lines(&self, ids: &[LineId]) -> String {
        listed(ids.iter().map(|&id| format!("\"{}\"", self.derived.layout.line_name(self.document, id))))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use model::change::{add_line, measured_score};
    use model::{Layout, Length, Line, Place, Point, Run, Size, Stop, Turn, Unit, Work};

    /// A 12 in square with a 6 in base and four flaps, the corners cut away unless `whole`.
    fn four_flaps(whole: bool) -> Document {
        let mut document = Document::new(Size::parse("12x12in").unwrap(), Unit::Inch);
        let inches = |n| Length::INCH * n;
        document.base = Some(Point::new(inches(6), inches(6)));
        let scores = [(1, Turn::None, 3), (2, Turn::None, 9), (3, Turn::Once, 3), (4, Turn::Once, 9)];
        for (id, turn, across) in scores {
            document.apply(add_line(&document, measured_score(LineId(id), turn, inches(across)))).unwrap();
        }
        let at = |id| Stop::Line(LineId(id));
        let cuts = [(1, Stop::Edge, at(3)), (1, at(4), Stop::Edge), (2, Stop::Edge, at(3)), (2, at(4), Stop::Edge)];
        let more = [(3, Stop::Edge, at(2)), (3, at(1), Stop::Edge), (4, Stop::Edge, at(2)), (4, at(1), Stop::Edge)];
        for ((line, from, to), id) in cuts.into_iter().chain(more).zip(11..).filter(|_| !whole) {
            let place = Place::Along { line: LineId(line), run: Run { from, to } };
            document.apply(add_line(&document, Line::new(LineId(id), place, Work::Cut))).unwrap();
        }
        document
    }

    #[test]
    fn a_design_without_an_order_gets_one_that_closes() {
        let mut document = four_flaps(false);
        document.steps.clear();
        assert!(Derived::of(&document).findings.iter().any(|finding| finding.rule == "never-folds"));
        let found = find(&document, &Derived::of(&document)).unwrap();
        document.apply(edit(&document, &Derived::of(&document), &found).unwrap()).unwrap();
        assert!(Derived::of(&document).findings.iter().all(|finding| finding.rule != "never-folds"));
        let derived = Derived::of(&document);
        assert_eq!(derived.folded.as_ref().unwrap().1.troubles(), []);
        assert_eq!(edit(&document, &derived, &found), None, "it has it now");
        document.steps.reverse();
        let derived = Derived::of(&document);
        assert_eq!(edit(&document, &derived, &found), None, "another order that closes is left as it is");
    }

    #[test]
    fn what_keeps_it_from_closing_is_named() {
        // All valleys round four kept corners: a flat fold needs two more of one than of the other.
        let whole = four_flaps(true);
        let says = find(&whole, &Derived::of(&whole)).unwrap_err();
        assert!(says.contains("pass through one another, held so by \"Score"), "{says}");
    }

    #[test]
    fn without_a_base_or_a_score_it_says_so() {
        let document = Document { base: None, ..four_flaps(false) };
        let derived = Derived::new(&document, Layout::of(&document));
        assert!(find(&document, &derived).unwrap_err().contains("no panel is marked"));
        let plain = Document::new(Size::parse("A4").unwrap(), Unit::Millimetre);
        assert!(find(&plain, &Derived::of(&plain)).unwrap_err().contains("no score"));
    }
}
