//! A design moved to another sheet: panels grow or shrink, gussets and allowances stay.

use crate::corner::Corner;
use crate::document::Document;
use crate::edit::{Edit, Refusal};
use crate::geometry::{Point, Size};
use crate::layout::Layout;
use crate::length::{Length, Unit};
use crate::line::{Line, LineId, Place, Run, Spot, Stop};
use crate::numbered::Numbered;
use crate::part::PanelRef;
use crate::placing::put;
use crate::resolve::Placed;
use crate::stock::Stock;
use std::collections::{BTreeMap, BTreeSet};

/// Strips up to this wide are allowances, which a larger sheet does not widen: 1/4 in, the usual strip for glue
/// (common practice, no source). Gussets are kept whatever their width.
const ALLOWANCE: Length = Length::from_sixty_fourths(16);

/// Moves a design to another sheet. Between the lines that run one way, gussets and strips up to 1/4 in keep their width,
/// and the rest is scaled by one factor, each strip to a whole number of grooves (or of 1/16 in or millimetres without
/// a board) but for the widest, which takes up what is left over.
///
/// # Errors
/// The new sheet is too small for what is kept, or a line would lose its place.
pub fn move_to_sheet(document: &Document, layout: &Layout, stock: Stock) -> Result<Edit, Refusal> {
    let size = stock.size;
    let x = Scale::new(document, layout, Axis::X, size.width())?;
    let y = Scale::new(document, layout, Axis::Y, size.height())?;
    let moved = |point: Point| Point::new(x.at(point.x), y.at(point.y));
    let mut targets: BTreeMap<LineId, Point> = BTreeMap::new();
    let mut others = Vec::new();
    for line in &document.lines {
        let Some(Ok(placed)) = layout.lines.get(&line.id) else { continue };
        if matches!(line.place, Place::Measured { .. }) {
            targets.insert(line.id, moved(placed.segment.a));
        }
        others.push((line, placed));
    }
    let mut lines: BTreeMap<LineId, Line> = BTreeMap::new();
    for edit in put(document, layout, size, &targets) {
        if let Edit::ReplaceLine(line) = edit {
            lines.insert(line.id, line);
        }
    }
    for (line, placed) in others {
        let now = lines.get(&line.id).unwrap_or(line);
        let place = rerun(layout, now.place, placed, size, &moved);
        if place != line.place {
            lines.insert(line.id, Line { place, ..now.clone() });
        }
    }
    let corners = document.corners.iter().map(|corner| Corner { mark: moved(corner.mark), ..*corner }).collect();
    let mut edits = vec![Edit::SetStock(stock)];
    edits.extend(lines.into_values().map(Edit::ReplaceLine));
    edits.push(Edit::SetBase(document.base.map(moved)));
    edits.push(Edit::SetCorners(corners));
    let mut parts = document.parts.clone();
    parts.iter_mut().for_each(|part| part.move_marks(moved));
    let mut steps = document.steps.clone();
    for tuck in steps.iter_mut().flat_map(|step| &mut step.tucks) {
        for panel in [&mut tuck.panel, &mut tuck.under] {
            if let PanelRef::Sheet(mark) = panel {
                *mark = moved(*mark);
            }
        }
    }
    edits.push(Edit::SetParts(parts));
    edits.push(Edit::SetSteps(steps));
    if !document.panel_names.is_empty() {
        let mut names = document.panel_names.clone();
        names.iter_mut().for_each(|named| named.mark = moved(named.mark));
        edits.push(Edit::SetPanelNames(names));
    }
    if !document.offcuts.is_empty() {
        let moved = |numbered: &Numbered| Numbered { mark: moved(numbered.mark), ..*numbered };
        edits.push(Edit::SetOffcuts(document.offcuts.iter().map(moved).collect()));
    }
    if !document.silences.is_empty() {
        let mut silences = document.silences.clone();
        silences.iter_mut().for_each(|silence| {
            silence.move_marks(moved);
            silence.at = silence.at.map(moved);
        });
        edits.push(Edit::SetSilences(silences));
    }
    Ok(Edit::All(edits))
}

/// A place with its stops and spots at the distances that the new sheet has for them.
fn rerun(layout: &Layout, place: Place, placed: &Placed, size: Size, moved: &dyn Fn(Point) -> Point) -> Place {
    let stop = |stop| match (stop, placed.on_board()) {
        (Stop::At(at), Some((turn, _))) => Stop::At(turn.to_board(moved(placed.point_at(at, layout.size)), size).down),
        _ => stop,
    };
    let spot = |spot| match spot {
        Spot::At(point) => Spot::At(moved(point)),
        Spot::On(id, at) => match layout.lines.get(&id).and_then(|host| host.ok()) {
            Some(host) if host.on_board().is_some() => {
                let (turn, _) = host.on_board().unwrap_or_default();
                Spot::On(id, turn.to_board(moved(host.point_at(at, layout.size)), size).down)
            }
            _ => spot,
        },
        Spot::Crossing(..) => spot,
    };
    match place {
        Place::Drawn { from, to, bow } => {
            let stretched = |from: Point, to: Point| (moved(to) - moved(from)).length();
            let (was, is) =
                ((placed.segment.b - placed.segment.a).length(), stretched(placed.segment.a, placed.segment.b));
            let scaled = Length::from_mm_rounded(bow.mm() * is.mm() / was.mm().max(f64::MIN_POSITIVE));
            let most = is.half();
            let bow = if bow == Length::ZERO || is == was { bow } else { scaled.unwrap_or(bow).clamp(-most, most) };
            Place::Drawn { from: spot(from), to: spot(to), bow }
        }
        place => {
            let Run { from, to } = place.run();
            place.with_run(Run { from: stop(from), to: stop(to) })
        }
    }
}

/// What scaled strips are whole numbers of.
const fn step(document: &Document) -> Length {
    match (document.groove.nm() > 0, document.units) {
        (true, _) => document.groove,
        (false, Unit::Inch) => Length::SIXTEENTH,
        (false, Unit::Millimetre | Unit::Centimetre) => Length::MILLIMETRE,
    }
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Axis {
    X,
    Y,
}

/// Where places along one edge of the sheet go.
struct Scale {
    /// From and to, ascending, from the sheet's one edge to the other.
    stops: Vec<(Length, Length)>,
}

impl Scale {
    fn new(document: &Document, layout: &Layout, axis: Axis, to: Length) -> Result<Self, Refusal> {
        let along = |point: Point| if axis == Axis::X { point.x } else { point.y };
        let from = along(Point::new(layout.size.width(), layout.size.height()));
        let mut places = BTreeSet::from([Length::ZERO, from]);
        for placed in layout.lines.values().filter_map(|placed| placed.as_ref().ok()) {
            let upright = placed.on_board().map(|(turn, _)| turn.is_upright());
            if upright == Some(axis == Axis::X) {
                places.insert(along(placed.segment.a));
            }
        }
        let places: Vec<Length> = places.into_iter().collect();
        let kept = |pair: &[Length]| pair[1] - pair[0] <= ALLOWANCE || is_gusset(layout, &along, pair);
        let strips: Vec<(Length, bool)> = places.windows(2).map(|pair| (pair[1] - pair[0], kept(pair))).collect();
        let fixed: Length = strips.iter().filter(|(_, kept)| *kept).map(|(strip, _)| *strip).sum();
        let (room, free) = (to - fixed, from - fixed);
        let too_small = || {
            let unit = document.units;
            let says = format!(
                "gussets and allowances take {} of the new sheet's {}; choose a larger one",
                fixed.readable(unit),
                to.readable(unit)
            );
            Refusal::Misplaced(says)
        };
        if room <= Length::ZERO && free > Length::ZERO {
            return Err(too_small());
        }
        let widths = scaled(&strips, room, free, if from == to { Length::from_nm(1) } else { step(document) });
        if widths.iter().any(|width| *width <= Length::ZERO) {
            return Err(too_small());
        }
        let mut stops = vec![(Length::ZERO, Length::ZERO)];
        let mut at = Length::ZERO;
        for (place, width) in places[1..].iter().zip(widths) {
            at += width;
            stops.push((*place, at));
        }
        Ok(Self { stops })
    }

    /// Where a place goes.
    fn at(&self, place: Length) -> Length {
        let i = self.stops.partition_point(|(from, _)| *from < place).clamp(1, self.stops.len() - 1);
        let ((from, to), (next, after)) = (self.stops[i - 1], self.stops[i]);
        let (done, whole) = (i128::from((place - from).nm()), i128::from((next - from).nm()).max(1));
        let nm = i128::from((after - to).nm()) * done / whole;
        to + Length::from_nm(i64::try_from(nm).unwrap_or_default())
    }
}

/// Whether a gusset lies between two places along an axis.
fn is_gusset(layout: &Layout, along: &dyn Fn(Point) -> Length, pair: &[Length]) -> bool {
    layout.panels.iter().filter(|panel| panel.is_gusset).any(|panel| {
        let (low, high) = panel.bounds();
        let (width, height) = panel.extent();
        along(low) == pair[0] && along(high) == pair[1] && width.min(height) == pair[1] - pair[0]
    })
}

/// The new widths of strips: those kept as they are, the others scaled from `free` to `room` in whole steps, the widest of
/// them taking up the rest.
fn scaled(strips: &[(Length, bool)], room: Length, free: Length, step: Length) -> Vec<Length> {
    let grown = |strip: Length| {
        let nm = i128::from(strip.nm()) * i128::from(room.nm()) / i128::from(free.nm()).max(1);
        Length::from_nm(i64::try_from(nm).unwrap_or_default())
    };
    let mut widths: Vec<Length> = strips
        .iter()
        .map(|&(strip, kept)| if kept { strip } else { grown(strip).snapped(step).max(step.min(grown(strip))) })
        .collect();
    // The first of equals, so that the answer does not depend on anything else.
    let widest = (0..strips.len()).filter(|&i| !strips[i].1).max_by_key(|&i| (strips[i].0, std::cmp::Reverse(i)));
    let taken: Length = (0..strips.len()).filter(|&i| !strips[i].1).map(|i| widths[i]).sum();
    if let Some(widest) = widest {
        widths[widest] += room - taken;
    }
    widths
}
