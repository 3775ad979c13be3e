//! Jobs as a maker is told to do them.

use crate::making::Making;
use crate::why::Why;
use model::board::closing_order;
use model::layout::Layout;
use model::part::{Closure, ClosureKind};
use model::part::{Edges, GlueArea, Job, Paper, Part, PartKind, PartLayout, Pocket, Source};
use model::words::listed;
use model::{Document, Face, PanelId, PanelRef, PartId, Point, SheetEdge};
use std::collections::BTreeSet;

/// Puts jobs into words.
#[derive(Debug, Clone, Copy)]
pub struct Words<'a> {
    /// The design.
    pub document: &'a Document,
    /// Its layout.
    pub layout: &'a Layout,
    /// Its jobs.
    pub making: &'a Making,
}

impl Words<'_> {
    /// What to do, without a full stop, so that it can stand in a list: "Glue Pocket 2 to the Base, along its left, bottom and
    /// right edges". For a job that the design does not have it is as near as can be said.
    #[must_use]
    pub fn instruction(&self, job: Job) -> String {
        match job {
            Job::Score(Paper::Folio) => "Score the sheet".to_owned(),
            Job::Cut(Paper::Folio) => self.cut_folio(),
            Job::Close => self.close(),
            Job::Score(Paper::Part(id)) => match self.part(id) {
                Some((part, laid)) => format!("Score {} on {}", laid.name, self.source(part)),
                None => format!("Score {}", self.document.part_name(id)),
            },
            Job::Cut(Paper::Part(id)) => match self.part(id) {
                Some((part, laid)) => self.cut_part(part, laid),
                None => format!("Cut out {}", self.document.part_name(id)),
            },
            Job::Fold(id) => match self.part(id) {
                Some((part, laid)) => fold(part, laid),
                None => format!("Fold {}", self.document.part_name(id)),
            },
            Job::Put(id) => match self.part(id) {
                Some((part, laid)) => self.put(part, laid),
                None => format!("Put {} in place", self.document.part_name(id)),
            },
        }
    }

    fn part(&self, id: PartId) -> Option<(&Part, &PartLayout)> {
        self.document.part(id).zip(self.layout.part(id))
    }

    fn cut_folio(&self) -> String {
        if self.layout.offcuts().next().is_none() {
            return "Make the cuts in the folio".to_owned();
        }
        match self.kept_offcuts() {
            kept if kept.is_empty() => "Cut the folio out".to_owned(),
            kept => format!("Cut the folio out and keep {kept}"),
        }
    }

    /// The offcuts that parts are made from: those that are named, or all where a part may come from any.
    fn kept_offcuts(&self) -> String {
        let made = self.document.parts.iter().filter(|part| self.layout.part(part.id).is_some());
        let sources: Vec<Source> = made.map(|part| part.source).collect();
        let named: BTreeSet<String> =
            sources.iter().filter_map(|source| source.mark()).filter_map(|mark| self.offcut_at(mark)).collect();
        let is_any = sources.contains(&Source::AnyOffcut);
        let kept = self.layout.offcuts().filter(|piece| is_any || named.contains(&piece.name));
        ranges(kept.map(|piece| piece.name.as_str()))
    }

    /// "Offcut 2"; `None` where the mark lies on no offcut.
    fn offcut_at(&self, mark: Point) -> Option<String> {
        let piece = self.layout.panel_at(mark).map(|id| self.layout.panel(id).piece)?;
        self.layout.pieces.get(piece.0).filter(|piece| !piece.is_folio).map(|piece| piece.name.clone())
    }

    /// The paper that a part is made from.
    fn source(&self, part: &Part) -> String {
        match part.source {
            Source::Offcut(mark) | Source::Whole(mark) => {
                self.offcut_at(mark).unwrap_or_else(|| "an offcut".to_owned())
            }
            Source::AnyOffcut => "an offcut".to_owned(),
            Source::FolioStock => "a further sheet".to_owned(),
            Source::Stock(id) => match self.document.further_stock(id) {
                Some(stock) if !stock.name.is_empty() => format!("a sheet of {}", stock.name),
                _ => "a sheet of another paper".to_owned(),
            },
            Source::Bought => "what is bought".to_owned(),
        }
    }

    fn cut_part(&self, part: &Part, laid: &PartLayout) -> String {
        let source = self.source(part);
        match part.source {
            Source::Whole(_) => format!("Make the cuts in {source} for {}", laid.name),
            _ => format!("Cut {}, {}, from {source}", laid.name, laid.size_text(self.document.units)),
        }
    }

    fn close(&self) -> String {
        let of_parts = |(part, line): &(PartId, model::LineId)| {
            self.layout.part(*part).is_some_and(|laid| laid.lines.contains_key(line))
        };
        let folds: BTreeSet<usize> = closing_order(self.document, self.layout).iter().map(|step| step.step).collect();
        let steps = self.document.steps.iter().enumerate();
        let count = steps.filter(|(at, step)| folds.contains(at) || step.parts.iter().any(of_parts)).count();
        match count {
            1 => "Close the folio in one step".to_owned(),
            count => format!("Close the folio in {count} steps"),
        }
    }

    fn put(&self, part: &Part, laid: &PartLayout) -> String {
        let name = &laid.name;
        let on = self.on(part, laid);
        match &part.kind {
            PartKind::Band(_) if self.making.jobs.contains(&Job::Close) => {
                format!("Wrap {name} round the closed folio, glue its ends to one another and slide it on")
            }
            PartKind::Band(_) => format!("Wrap {name} round the folio, glue its ends to one another and slide it on"),
            PartKind::Insert(_) => match self.goes_into(part.id) {
                Some(pocket) => format!("Slide {name} into {pocket}"),
                None => format!("Lay {name} on {on}"),
            },
            PartKind::Closure(Closure { kind: ClosureKind::Brad, .. }) => {
                format!("Set {name} through {on} and spread its legs behind")
            }
            PartKind::Closure(Closure { kind: ClosureKind::Ribbon, .. }) => {
                format!("Glue {name} to {on} and leave its ends free")
            }
            _ if laid.glue.is_empty() => format!("Lay {name} on {on}"),
            _ => format!("Glue {name} to {on}{}", self.how(part, laid)),
        }
    }

    /// What an insert slides into.
    fn goes_into(&self, id: PartId) -> Option<String> {
        let goes_in = self.making.constraints.iter().find(|it| it.then == Job::Put(id) && it.why == Why::GoesIn)?;
        crate::why::part_of(goes_in.first).map(|pocket| self.document.part_name(pocket))
    }

    /// What it is put on and glued to: "the Base", "the back of the Left flap", "the free leaf of Hinge 1 and Mat 1".
    fn on(&self, part: &Part, laid: &PartLayout) -> String {
        let Some(place) = &laid.laid else { return "the folio".to_owned() };
        let mut all = vec![self.panel(place.on, Some(place.face))];
        let others = part.also.iter().filter(|gluing| !matches!(gluing.to, PanelRef::Part(id, _) if id == part.id));
        for to in others.filter_map(|gluing| self.layout.panel_of(gluing.to)).filter(|&to| to != place.on) {
            let said = self.panel(to, None);
            if !all.contains(&said) {
                all.push(said);
            }
        }
        listed(all)
    }

    /// A panel as it is said in a sentence, with its face where that is the back.
    fn panel(&self, id: PanelId, face: Option<Face>) -> String {
        let name = &self.layout.panel(id).name;
        let said = match self.layout.part_of(id) {
            None => format!("the {name}"),
            Some(part) => match name.strip_prefix(part.name.as_str()).and_then(|rest| rest.strip_prefix(", ")) {
                Some(own) => format!("the {own} of {}", part.name),
                None => name.clone(),
            },
        };
        if face == Some(Face::Back) { format!("the back of {said}") } else { said }
    }

    /// Where the glue is: ", along its left, bottom and right edges", ", all over", " by its strip".
    fn how(&self, part: &Part, laid: &PartLayout) -> String {
        match &part.kind {
            PartKind::Hinge(_) => " by its glued leaf".to_owned(),
            PartKind::Page(_) | PartKind::Flap(_) => " by its strip".to_owned(),
            PartKind::Pocket(pocket) if is_gusseted(pocket) => {
                format!(" by its glue strips along {}", edges_as_it_lies(part, pocket.glued))
            }
            PartKind::Pocket(pocket) => format!(", along {}", edges_as_it_lies(part, pocket.glued)),
            PartKind::TuckCorner(tuck) => {
                format!(", along {}", edges_as_it_lies(part, Edges::of(&tuck.corner.edges())))
            }
            PartKind::Tab(tab) => format!(", along {}", edges_as_it_lies(part, Edges::of(&[tab.glued]))),
            PartKind::Mat(_) => ", all over".to_owned(),
            PartKind::Own(_) => own_glue(part, laid),
            PartKind::Band(_) | PartKind::Insert(_) | PartKind::Closure(_) => String::new(),
        }
    }
}

fn is_gusseted(pocket: &Pocket) -> bool {
    pocket.gusset > model::Length::ZERO
}

fn own_glue(part: &Part, laid: &PartLayout) -> String {
    match part.also.first() {
        Some(gluing) if part.also.len() == 1 && laid.panels.len() == 1 => match gluing.area {
            GlueArea::Whole => ", all over".to_owned(),
            GlueArea::Strips(edges, _) => format!(", along {}", edges_as_it_lies(part, edges)),
            GlueArea::None => String::new(),
        },
        _ => String::new(),
    }
}

fn fold(part: &Part, laid: &PartLayout) -> String {
    let name = &laid.name;
    match &part.kind {
        PartKind::Hinge(_) => format!("Fold {name} along its length"),
        PartKind::Page(_) => format!("Fold the strip of {name} under its leaf"),
        PartKind::Pocket(pocket) => {
            let rim = pocket.rim > model::Length::ZERO && pocket.glued.others().next().is_some();
            match (is_gusseted(pocket), rim) {
                (true, true) => {
                    format!("Fold the rim of {name} to its front, and its gussets and glue strips under it")
                }
                (true, false) => format!("Fold the gussets and glue strips of {name} under its front"),
                (false, _) => format!("Fold the rim of {name} to its front"),
            }
        }
        _ => {
            let lines = laid.pattern.before.iter().flatten();
            format!("Fold {name} along {}", listed(lines.map(|&line| laid.pattern.document.line_name(line))))
        }
    }
}

/// Edges of a part as it lies on its panel, where it is turned by quarters; else its own.
fn edges_as_it_lies(part: &Part, edges: Edges) -> String {
    let Some(quarters) = part.place.rotation.quarters() else {
        return format!("its own {}", said(edges.iter()));
    };
    let turns_over = part.place.showing != part.place.face;
    let as_it_lies = |edge: SheetEdge| {
        let at = SheetEdge::ALL.iter().position(|&other| other == edge).unwrap_or_default();
        let over = if turns_over { (4 - at) % 4 } else { at };
        SheetEdge::ALL[(over + usize::try_from(quarters).unwrap_or_default()) % 4]
    };
    let lying: Vec<SheetEdge> = edges.iter().map(as_it_lies).collect();
    // As one would go round: from the left down and up again.
    let order = [SheetEdge::Left, SheetEdge::Bottom, SheetEdge::Right, SheetEdge::Top];
    format!("its {}", said(order.into_iter().filter(|edge| lying.contains(edge))))
}

/// "left edge", "left and bottom edges".
fn said(edges: impl Iterator<Item = SheetEdge>) -> String {
    let words: Vec<String> = edges.map(|edge| word(edge).to_owned()).collect();
    let noun = if words.len() == 1 { "edge" } else { "edges" };
    format!("{} {noun}", listed(words))
}

const fn word(edge: SheetEdge) -> &'static str {
    match edge {
        SheetEdge::Top => "top",
        SheetEdge::Right => "right",
        SheetEdge::Bottom => "bottom",
        SheetEdge::Left => "left",
    }
}

/// "Offcuts 1 to 4 and 7": names that end in rising numbers after the same word.
fn ranges<'a>(names: impl Iterator<Item = &'a str>) -> String {
    let mut word = "";
    let mut runs: Vec<(usize, usize)> = Vec::new();
    for name in names {
        let Some((before, number)) = name.rsplit_once(' ') else { continue };
        let Ok(number) = number.parse::<usize>() else { continue };
        word = before;
        match runs.last_mut() {
            Some((_, last)) if *last + 1 == number => *last = number,
            _ => runs.push((number, number)),
        }
    }
    let run = |(from, to): (usize, usize)| match to - from {
        0 => vec![from.to_string()],
        1 => vec![from.to_string(), to.to_string()],
        _ => vec![format!("{from} to {to}")],
    };
    let several = if matches!(runs[..], [(from, to)] if from == to) { "" } else { "s" };
    if runs.is_empty() { String::new() } else { format!("{word}{several} {}", listed(runs.into_iter().flat_map(run))) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn neighbours_in_a_list_of_offcuts_are_said_as_a_range() {
        let check = |numbers: &[usize], said: &str| {
            let names: Vec<String> = numbers.iter().map(|number| format!("Offcut {number}")).collect();
            assert_eq!(ranges(names.iter().map(String::as_str)), said);
        };
        check(&[], "");
        check(&[3], "Offcut 3");
        check(&[1, 2], "Offcuts 1 and 2");
        check(&[1, 2, 3, 4], "Offcuts 1 to 4");
        check(&[1, 3, 5, 6, 7], "Offcuts 1, 3 and 5 to 7");
    }
}
