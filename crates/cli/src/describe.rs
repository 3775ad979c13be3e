//! `foliowright describe`: all that follows from a design, as text or JSON.

mod closed;
mod fits;
mod json;
mod making;
mod mats;
mod order;
mod paper;
mod parts;
mod plan;
mod post;

use crate::arguments::DescribeTask;
use crate::lengths::area_text;
use crate::{Failure, Outcome, fold_time, read};
use allot::{Allotment, Settings, allot};
use fit::MatFit;
use fit::words::{size_at_a_glance, thickness_at_a_glance};
use model::board::{STOPS_FOR_PARTS, ScoreRun, ScoringTable, TurnScores, closing_order, scoring_table_sparing};
use model::cutting::cut_list;
use model::words::listed;
use model::{Caliper, Document, Face, Layout, Length, Panel, Stock};
use order::Orders;
use session::Derived;
use std::collections::{BTreeMap, BTreeSet};
use std::io::{self, Write};

pub(crate) fn run(task: &DescribeTask, out: &mut dyn Write) -> Outcome {
    let document = read(&task.file)?;
    let margin = margin(task.margin.as_deref(), &document)?;
    let derived = Derived::of(&document);
    let told = Told::of(&document, &derived, margin, task.thorough);
    let closed = derived.folded.as_ref();
    let orders = closed.zip(task.orders).map(|(closed, tries)| Orders::of(&derived.layout, closed, tries));
    if task.json {
        let steps = closed.map_or(0, |(_, folding)| folding.steps());
        let at = task.at.as_deref().map(|at| fold_time(at, steps)).transpose()?;
        let mut value = json::described(&task.file, &told, at);
        if task.orders.is_some() {
            value["orders"] = orders.map_or(serde_json::Value::Null, |orders| orders.value());
        }
        writeln!(out, "{value:#}")?;
    } else {
        Text { document: &document, derived: &derived, layout: &derived.layout, told: &told }.write(out)?;
        for sentence in orders.iter().flat_map(Orders::sentences) {
            writeln!(out, "{sentence}")?;
        }
    }
    Ok(())
}

/// A design, what follows from it, and what follows from what was asked for besides.
struct Told<'a> {
    document: &'a Document,
    derived: &'a Derived,
    layout: &'a Layout,
    /// A plan with more work in it than the one that follows by itself.
    thorough: Option<Allotment>,
    /// How far mats stay from the edges of what is seen.
    margin: Length,
    mats: Vec<MatFit>,
}

impl<'a> Told<'a> {
    fn of(document: &'a Document, derived: &'a Derived, margin: Length, is_thorough: bool) -> Self {
        let layout = &derived.layout;
        let is_longer = is_thorough && derived.supply.is_some();
        let thorough = is_longer.then(|| allot(document, layout, &Settings::of(document).thorough()));
        Self { document, derived, layout, thorough, margin, mats: derived.mats_with(document, margin) }
    }

    /// Where the paper of parts comes from; `None` without parts.
    fn plan(&self) -> Option<&Allotment> {
        self.thorough.as_ref().or(self.derived.supply.as_ref())
    }

    /// What is pressed on the folio's sheet.
    fn scoring(&self) -> ScoringTable {
        scoring_table_sparing(self.document, self.layout, &self.plan().map(Allotment::used).unwrap_or_default())
    }
}

fn margin(text: Option<&str>, document: &Document) -> Result<Length, Failure> {
    let Some(text) = text else { return Ok(fit::MARGIN) };
    let margin = Length::parse_in(text, document.units).map_err(|error| Failure::unreadable(error.to_string()))?;
    if margin < Length::ZERO {
        let says = format!("{} is no margin for a mat; give nothing or more", margin.text(document.units));
        return Err(Failure::unreadable(says));
    }
    Ok(margin)
}

/// From where to where is pressed at one distance.
type Ends = BTreeSet<(Length, Length)>;

struct Text<'a> {
    document: &'a Document,
    derived: &'a Derived,
    layout: &'a Layout,
    told: &'a Told<'a>,
}

impl Text<'_> {
    fn write(&self, out: &mut dyn Write) -> io::Result<()> {
        writeln!(out, "{}", self.document.title)?;
        if !self.document.credit.is_empty() {
            writeln!(out, "{}", self.document.credit)?;
        }
        for sentence in compare::credit(self.document).unwrap_or_default() {
            writeln!(out, "{sentence}")?;
        }
        writeln!(out, "\nSheet: {}", self.stock(&self.document.stock))?;
        for further in &self.document.further_stocks {
            writeln!(out, "Further paper: {}", self.stock(&further.stock))?;
        }
        if !self.document.lengths.is_empty() {
            writeln!(out, "\nNamed lengths")?;
            crate::named::list(self.document, out)?;
        }
        self.pieces(out)?;
        self.scoring(out)?;
        self.cutting(out)?;
        writeln!(out, "\nFold in this order")?;
        for step in closing_order(self.document, self.layout) {
            writeln!(out, "  {}. {}", step.step + 1, step.words(self.document, self.layout))?;
        }
        parts::write(self.told, out)?;
        plan::write(self.told, out)?;
        making::write(self.told, out)?;
        fits::write(self.told, out)?;
        mats::write(self.told, out)?;
        self.ledger(out)?;
        self.closed(out)?;
        post::write(self.told, out)
    }

    fn text(&self, length: Length) -> String {
        length.readable(self.document.units)
    }

    /// "12 in x 12 in, 80 lb cover (216 g/m2), 0.3 mm thick (measured)".
    fn stock(&self, stock: &Stock) -> String {
        let unit = self.document.units;
        let mut said = vec![stock.size.text(unit)];
        if !stock.name.is_empty() {
            said.insert(0, format!("\"{}\"", stock.name));
        }
        if let Some(weight) = stock.weight {
            said.push(paper::weight_words(weight));
        }
        said.push(match (stock.caliper, stock.thickness()) {
            (_, None) => "thickness not known".to_owned(),
            (Caliper::FromBulk(bulk), Some(length)) => {
                format!("about {:.3} mm thick (estimated from its weight at {bulk} cm³/g)", length.mm())
            }
            (_, Some(length)) => format!("{} thick", length.text(unit)),
        });
        for face in [Face::Front, Face::Back] {
            said.extend(paper::side_words(stock.side(face), face));
        }
        said.extend(stock.grain.map(|grain| paper::grain_words(grain).to_owned()));
        said.join(", ")
    }

    fn pieces(&self, out: &mut dyn Write) -> io::Result<()> {
        writeln!(out, "\nPanels")?;
        let folio = self.layout.folio().map(|piece| piece.id);
        for panel in self.layout.panels.iter().filter(|panel| Some(panel.piece) == folio) {
            writeln!(out, "  {}", self.panel(panel))?;
        }
        writeln!(out, "\nOffcuts")?;
        for piece in self.layout.offcuts() {
            let (low, high) = piece.bounds;
            let size = format!("{} x {}", self.text(high.x - low.x), self.text(high.y - low.y));
            let falls = if piece.is_island { ", falls out of the middle" } else { "" };
            writeln!(out, "  {}: {size}, {}{falls}", piece.name, area_text(piece.area, self.document.units))?;
        }
        Ok(())
    }

    fn panel(&self, panel: &Panel) -> String {
        let (width, height) = panel.extent();
        format!("{}: {} x {}", panel.name, self.text(width), self.text(height))
    }

    fn scoring(&self, out: &mut dyn Write) -> io::Result<()> {
        writeln!(out, "\nScore, from the left edge; down is from the upper edge of the sheet as it then lies")?;
        let table = self.told.scoring();
        for TurnScores { face, turn, scores } in &table.turns {
            let side = match face {
                Face::Front => "into the front",
                Face::Back => "then turned over away from you, into the back",
            };
            writeln!(out, "  {}, {side}: {}", turn.words(), self.scores(scores, turn.size_of(self.layout.size).1))?;
        }
        for (face, side) in [(Face::Front, "into the front"), (Face::Back, "turned over, into the back")] {
            let own = table.by_ruler.iter().filter(|score| score.face == face);
            let names: Vec<String> = own.map(|score| self.document.line_name(score.line)).collect();
            if !names.is_empty() {
                writeln!(out, "  along a ruler, {side}: {}", names.join(", "))?;
            }
        }
        if table.stops_for_parts {
            writeln!(out, "  {STOPS_FOR_PARTS}")?;
        }
        Ok(())
    }

    /// The scores of a turn, those of like runs together: "2 in from 3 in down to the edge; 3 in, 9 in from edge to edge";
    /// no more than the distances where all go from edge to edge.
    fn scores(&self, scores: &BTreeMap<Length, Vec<ScoreRun>>, height: Length) -> String {
        let mut like: Vec<(Ends, Vec<String>)> = Vec::new();
        for (&across, runs) in scores {
            let ends = runs.iter().map(|run| (run.from, run.to)).collect();
            match like.iter_mut().find(|(known, _)| *known == ends) {
                Some((_, distances)) => distances.push(self.text(across)),
                None => like.push((ends, vec![self.text(across)])),
            }
        }
        let run = |&(from, to): &(Length, Length)| match (from == Length::ZERO, to == height) {
            (true, true) => "from edge to edge".to_owned(),
            (true, false) => format!("from the edge to {} down", self.text(to)),
            (false, true) => format!("from {} down to the edge", self.text(from)),
            (false, false) => format!("from {} to {} down", self.text(from), self.text(to)),
        };
        let is_plain = |ends: &Ends| like.len() == 1 && ends.contains(&(Length::ZERO, height));
        let each = |(ends, distances): &(Ends, Vec<String>)| match distances.as_slice() {
            distances if is_plain(ends) => distances.join(", "),
            [only] => format!("{only} {}", listed(ends.iter().map(run))),
            distances => format!("{}, each {}", distances.join(", "), listed(ends.iter().map(run))),
        };
        like.iter().map(each).collect::<Vec<_>>().join("; ")
    }

    fn cutting(&self, out: &mut dyn Write) -> io::Result<()> {
        writeln!(out, "\nCut (mark all of it first: distances are from the uncut edges)")?;
        let mut last = None;
        for (number, step) in (1..).zip(cut_list(self.document, self.layout)) {
            if last != Some(step.under) {
                let heading = step.under.heading(|turn| format!("With the sheet {}", turn.words()));
                writeln!(out, "  {heading}:")?;
            }
            last = Some(step.under);
            writeln!(out, "  {number}. {}", step.sentence)?;
        }
        Ok(())
    }

    fn ledger(&self, out: &mut dyn Write) -> io::Result<()> {
        let (unit, ledger) = (self.document.units, self.layout.ledger);
        if let Some(plan) = self.told.plan() {
            return writeln!(out, "\n{}", plan::ledger(plan, unit));
        }
        let [sheet, kept, off] = [ledger.sheet, ledger.folio, ledger.offcuts].map(|one| area_text(one, unit));
        write!(out, "\nPaper: {sheet}, of which {kept} are the folio and {off} come off")?;
        let lost = [(ledger.slots, "for slots"), (ledger.waste, "for trims, notches and corners")];
        for (area, what) in lost.into_iter().filter(|(area, _)| area.half_nm2() != 0) {
            write!(out, ", {} {what}", area_text(area, unit))?;
        }
        writeln!(out)
    }

    fn closed(&self, out: &mut dyn Write) -> io::Result<()> {
        let Some((_, folding)) = &self.derived.folded else { return Ok(()) };
        let (unit, size) = (self.document.units, folding.closed_size());
        let thick = match self.document.stock.thickness() {
            None => "how thick is not known, as its paper's thickness isn't".to_owned(),
            Some(_) => thickness_at_a_glance(size.z, unit),
        };
        writeln!(out, "Closed, it is {} and {thick}", size_at_a_glance([size.x, size.y], unit))
    }
}
