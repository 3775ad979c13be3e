//! Faults of the closed shape: of flaps, gussets, and the order in which they close.

use super::{Kind, Place, Planted, again, bare, flaps, one, plain_flaps};
use crate::closed::{Closed, Layer, Rectangle};
use crate::dice::Dice;
use crate::unfold::Folio;
use model::change::delete_line;
use model::part::PanelCorner;
use model::{Layout, Length, LineId, PartKind, Place as LinePlace, Point, Run, SheetEdge, Stop, Turn, Unit};

pub(super) const KINDS: &[Kind] = &[
    Kind { name: "a flap longer than the base", rule: "sticks-out", also: &[], plant: sticks_out },
    Kind { name: "a flap too narrow to grip", rule: "narrow-strip", also: &[], plant: narrow },
    Kind {
        name: "a gusset narrower than its layers",
        rule: "thin-gusset",
        also: &["close-scores", "strikes"],
        plant: thin_gusset,
    },
    Kind { name: "a gusset whose scores run into one", rule: "close-scores", also: &[], plant: close_scores },
    Kind { name: "a tip folded after its flap", rule: "blocked", also: &["no-layer-order", "strikes"], plant: blocked },
    Kind {
        name: "a tip folded after its deep flap",
        rule: "strikes",
        also: &["no-layer-order", "blocked"],
        plant: strikes_late,
    },
    Kind { name: "a flat flap closed after a deep one", rule: "strikes", also: &[], plant: strikes },
    Kind { name: "a flap tucked under one it does not reach", rule: "cannot-tuck", also: &[], plant: cannot_tuck },
    Kind {
        name: "a corner not cut away",
        rule: "still-joined",
        also: &["tearing-corner", "blocked", "strikes", "no-layer-order"],
        plant: still_joined,
    },
];

fn sticks_out(folio: &Folio, dice: &mut Dice) -> Option<Planted> {
    let mut closed = folio.closed.clone();
    let edge_of = |leaf: usize| closed.leaves[leaf].hangs.map(|hang| hang.edge);
    let all = flaps(&closed);
    let is_alone = |leaf: &usize| {
        edge_of(*leaf).is_some_and(|edge| !all.iter().any(|&other| edge_of(other) == Some(edge.opposite())))
    };
    let able: Vec<usize> = plain_flaps(&closed).into_iter().filter(is_alone).collect();
    let flap = one(dice, &able)?;
    let hang = closed.leaves[flap].hangs?;
    let out = closed.groove / 2 * i64::try_from(dice.below(6) + 2).unwrap_or(2);
    let (base, span) = (closed.base(), closed.leaves[flap].at.span(hang.edge));
    closed.leaves[flap].at = Rectangle::inwards(hang.edge, base.edge(hang.edge), span, base.reach(hang.edge) + out);
    let past = hang.edge.opposite().word();
    let says = format!("sticks out {} past the {past} edge", out.readable(closed.units));
    let folio = again(folio, &closed, dice)?;
    let at = vec![Place::Panel(folio.flat[flap].middle()), Place::Says(says)];
    Some(Planted { document: folio.document, at })
}

fn narrow(folio: &Folio, dice: &mut Dice) -> Option<Planted> {
    let mut closed = folio.closed.clone();
    let flap = one(dice, &plain_flaps(&closed))?;
    let hang = closed.leaves[flap].hangs?;
    let wide = Length::from_nm(2_000_000 + 100_000 * i64::try_from(dice.below(10)).unwrap_or(0));
    let span = closed.leaves[flap].at.span(hang.edge);
    closed.leaves[flap].at = Rectangle::inwards(hang.edge, closed.base().edge(hang.edge), span, wide);
    closed.leaves[flap].clip = Length::ZERO;
    let folio = again(folio, &closed, dice)?;
    let mark = Place::Panel(folio.flat[flap].middle());
    let at = vec![mark, Place::Line(*folio.creases[flap].last()?), Place::Says(wide.readable(Unit::Millimetre))];
    Some(Planted { document: folio.document, at })
}

/// How wide the gusset of each flap has to be, of those that have one.
fn least(folio: &Folio) -> Vec<(usize, Length)> {
    let closed = &folio.closed;
    let deep = flaps(closed).into_iter().filter(|&flap| folio.gussets[flap].is_some());
    let wide = |flap| closed.between(Layer::Leaf(0), Layer::Leaf(flap)).1 + closed.caliper;
    deep.map(|flap| (flap, wide(flap))).collect()
}

/// The same folio with all its gussets so wide, on no board.
fn with_gussets(folio: &Folio, wide: Length, dice: &mut Dice) -> Option<Folio> {
    let mut closed = folio.closed.clone();
    // Gussets lie in no groove then.
    closed.groove = Length::ZERO;
    for leaf in &mut closed.leaves {
        if let Some(hang) = leaf.hangs.as_mut().filter(|hang| hang.depth > Length::ZERO) {
            hang.depth = wide;
        }
    }
    again(folio, &closed, dice)
}

fn thin_gusset(folio: &Folio, dice: &mut Dice) -> Option<Planted> {
    let closed = &folio.closed;
    let mut least = least(folio);
    least.sort_by_key(|&(_, wide)| wide);
    let (flap, most) = least.pop()?;
    let next = least.last().map_or(closed.caliper, |&(_, wide)| wide);
    // One that closes later would strike it once it is made as wide as it has to be.
    let is_last = closed.steps.last().is_some_and(|step| step.contains(&flap)) && closed.tuck.is_none();
    // Magnets may lie beside the thickest pile, and bridge it.
    let is_paper = closed.stuck.iter().all(|part| !matches!(part.kind, PartKind::Closure(_)));
    // Nothing lies in it, or another needs as much.
    if !is_last
        || !is_paper
        || most - next < Length::from_nm(50_000)
        || closed.between(Layer::Leaf(0), Layer::Leaf(flap)).0 == 0
    {
        return None;
    }
    let folio = with_gussets(folio, next, dice)?;
    let (first, second) = (*folio.creases[flap].first()?, *folio.creases[flap].last()?);
    let says = format!("it has to be {}", most.readable(Unit::Millimetre));
    let mark = Place::Panel(folio.gussets[flap]?.middle());
    let at = vec![mark, Place::Line(first), Place::Line(second), Place::Says(says)];
    Some(Planted { document: folio.document, at })
}

fn close_scores(folio: &Folio, dice: &mut Dice) -> Option<Planted> {
    let closed = &folio.closed;
    let least = least(folio);
    let most = least.iter().map(|&(_, wide)| wide).max()?;
    // A bead is one and a half calipers wide and as much as the rule, 0.71 mm.
    let channel = Length::from_nm(closed.caliper.nm() * 3 / 2 + 710_000);
    let wide = most.max(channel - Length::from_nm(300_000));
    if wide >= channel - Length::from_nm(50_000) {
        return None;
    }
    let (flap, _) = one(dice, &least)?;
    let folio = with_gussets(folio, wide, dice)?;
    let lines = folio.creases[flap].iter().map(|&line| Place::Line(line));
    let mark = Place::Panel(folio.gussets[flap]?.middle());
    let at = std::iter::once(mark).chain(lines).collect();
    Some(Planted { document: folio.document, at })
}

/// Where in the order of closing a leaf folds.
fn step_of(folio: &Folio, leaf: usize) -> Option<usize> {
    folio.closed.steps.iter().position(|step| step.contains(&leaf))
}

/// A tip or wing of a flat flap.
fn blocked(folio: &Folio, dice: &mut Dice) -> Option<Planted> {
    late(folio, dice, false)
}

/// The same of a flap with a gusset: there is room to begin with.
fn strikes_late(folio: &Folio, dice: &mut Dice) -> Option<Planted> {
    late(folio, dice, true)
}

/// What is rolled in, or a wing, folds when the flap that it should lie under is closed.
fn late(folio: &Folio, dice: &mut Dice, is_deep: bool) -> Option<Planted> {
    let closed = &folio.closed;
    let place = |leaf| closed.place(Layer::Leaf(leaf));
    let inner = |&leaf: &usize| {
        let on = closed.leaves[leaf].hangs.map_or(0, |hang| hang.on);
        let is_so = (closed.height(on) > Length::ZERO) == is_deep;
        // Along the base's own edge it would fold round that, to its back.
        let is_inside = closed.leaves[leaf].hangs.is_some_and(|hang| {
            let (at, edge) = (closed.leaves[on].at.edge(hang.edge), closed.base().edge(hang.edge));
            (at - edge).abs() >= closed.groove
        });
        is_so && is_inside && on != 0 && place(leaf) < place(on) && !closed.tuck.is_some_and(|tuck| tuck.contains(&on))
    };
    let all: Vec<usize> = (1..closed.leaves.len()).filter(inner).collect();
    let leaf = one(dice, &all)?;
    let on = closed.leaves[leaf].hangs?.on;
    let (early, late) = (step_of(folio, leaf)?, step_of(folio, on)?);
    // Alone, so that it is the only one that is blocked.
    if closed.steps[early].len() > 1 || late < early {
        return None;
    }
    let mut closed = closed.clone();
    let step = closed.steps.remove(early);
    closed.steps.insert(late, step);
    let folio = again(folio, &closed, dice)?;
    let at = vec![Place::Panel(folio.flat[leaf].middle()), Place::Step(late)];
    Some(Planted { document: folio.document, at })
}

fn strikes(folio: &Folio, dice: &mut Dice) -> Option<Planted> {
    let closed = &folio.closed;
    let all = flaps(closed);
    let pairs = all.iter().enumerate().flat_map(|(i, &a)| all[i + 1..].iter().map(move |&b| (a, b)));
    let able = pairs.filter(|&(a, b)| {
        let lie = closed.leaves[a].at.shared(&closed.leaves[b].at).is_some();
        lie && closed.height(a) == Length::ZERO && closed.height(b) > Length::ZERO
    });
    let (flat, deep) = one(dice, &able.collect::<Vec<_>>())?;
    let (early, late) = (step_of(folio, flat)?, step_of(folio, deep)?);
    if closed.steps[early].len() > 1 || closed.tuck.is_some() {
        return None;
    }
    let mut closed = closed.clone();
    let step = closed.steps.remove(early);
    closed.steps.insert(late, step);
    let folio = again(folio, &closed, dice)?;
    let at = vec![Place::Panel(folio.flat[flat].middle()), Place::Step(late)];
    Some(Planted { document: folio.document, at })
}

fn cannot_tuck(folio: &Folio, dice: &mut Dice) -> Option<Planted> {
    let mut closed = folio.closed.clone();
    let &[flap] = &closed.steps.last()?[..] else { return None };
    let own = closed.leaves[flap].at;
    let beside = |&leaf: &usize| leaf != flap && closed.leaves[leaf].at.shared(&own).is_none();
    let able: Vec<usize> = flaps(&closed).into_iter().filter(beside).collect();
    if closed.tuck.is_some() {
        return None;
    }
    let under = one(dice, &able)?;
    closed.tuck = Some([flap, under]);
    let step = closed.steps.len() - 1;
    let folio = again(folio, &closed, dice)?;
    let marks = [flap, under].map(|leaf| Place::Panel(folio.flat[leaf].middle()));
    let at = marks.into_iter().chain([Place::Step(step)]).collect();
    Some(Planted { document: folio.document, at })
}

/// The corner between two flaps is scored instead of cut: both scores run on through it.
fn still_joined(folio: &Folio, dice: &mut Dice) -> Option<Planted> {
    let mut closed = bare(folio, dice).closed;
    let base = closed.base();
    let on = |closed: &Closed, edge: SheetEdge| {
        let hangs = |leaf: &usize| {
            closed.leaves[*leaf].hangs.is_some_and(|hang| hang.edge == edge && hang.depth == Length::ZERO)
        };
        plain_flaps(closed).into_iter().find(hangs)
    };
    let corners = PanelCorner::ALL.into_iter().filter_map(|corner| {
        let [level, upright] = corner.edges();
        Some((level, upright, [on(&closed, level)?, on(&closed, upright)?]))
    });
    let (level, upright, two) = one(dice, &corners.collect::<Vec<_>>())?;
    // Both flaps reach up to the corner.
    let [first, second] = two;
    let up_to = |at: Rectangle, x: bool, y: bool| Rectangle {
        low: Point::new(
            if x { at.low.x.min(base.edge(upright)) } else { at.low.x },
            if y { at.low.y.min(base.edge(level)) } else { at.low.y },
        ),
        high: Point::new(
            if x { at.high.x.max(base.edge(upright)) } else { at.high.x },
            if y { at.high.y.max(base.edge(level)) } else { at.high.y },
        ),
    };
    closed.leaves[first].at = up_to(closed.leaves[first].at, true, false);
    closed.leaves[second].at = up_to(closed.leaves[second].at, false, true);
    let margins = [Length::ZERO; 4];
    let mut folio = again(&Folio { margins, ..folio.clone() }, &closed, dice)?;
    let base = folio.flat[0];
    let corner = Point::new(base.edge(upright), base.edge(level));
    let layout = Layout::of(&folio.document);
    let ends_there = |line: &LineId| {
        let placed = layout.lines.get(line).and_then(|placed| placed.ok());
        placed.is_some_and(|placed| [placed.segment.a, placed.segment.b].contains(&corner))
    };
    let cuts: Vec<LineId> = folio.cuts.iter().copied().filter(ends_there).collect();
    for cut in cuts {
        let edit = delete_line(&folio.document, &Layout::of(&folio.document), cut).ok()?;
        folio.document.apply(edit).ok()?;
    }
    for leaf in two {
        let line = folio.document.lines.iter_mut().find(|line| line.id == folio.creases[leaf][0])?;
        let LinePlace::Measured { turn, run, .. } = &mut line.place else { return None };
        *run = through(*run, *turn, &layout, corner, line.id)?;
    }
    let at = vec![Place::Spot(corner)];
    Some(Planted { document: folio.document, at })
}

/// A run that goes on beyond the end that lies at a corner, to the edge of the sheet.
fn through(run: Run, turn: Turn, layout: &Layout, corner: Point, line: LineId) -> Option<Run> {
    let placed = layout.lines.get(&line)?.ok()?;
    let down = turn.to_board(corner, layout.size).down;
    if placed.from == down { Some(Run { from: Stop::Edge, ..run }) } else { Some(Run { to: Stop::Edge, ..run }) }
}
