//! Panels are glued into a ring that can't move, although a step should fold in it.

use super::Rule;
use crate::fix::Offers;
use crate::words::sentence;
use crate::{Context, Finding, Fix, Severity, Spot};
use fold::{Ring, Trouble};
use model::part::change;
use model::words::listed;
use model::{LineId, PanelId};
use std::collections::BTreeSet;

pub(super) const RULE: Rule = Rule {
    name: "rigid-loop",
    severities: &[Severity::Error],
    about: "Panels are glued into a ring that can't move, although a step should fold in it.\n\n\
            Where glue closes a ring of panels, its folds hang on one another. Three parallel folds hold as a triangle \
            does; four move like the bars of a parallelogram, and more move in several ways (plane linkages, from \
            memory). A ring counts as rigid when no way of turning its folds together is found from where it lies; \
            that is hard to decide in general (Akitaya and others, 2020), so a ring said to be rigid may have a way \
            that was not found. Two sides of one fold that glue holds are told by `locked-fold`, and paper that was \
            not cut by `still-joined`.",
    example: "\"Score 1\" can't fold in step 1: \"Own shape 1\" makes a ring of 2 folds with the left flap and the base that can't move.",
    check,
};

/// How much glue is tried to be left out.
const MOST_GLUE: usize = 4;

fn check(context: &Context<'_>) -> Vec<Finding> {
    let Some((_, folding)) = context.folded else { return Vec::new() };
    let offers = Offers::tried(context);
    let finding = |(&trouble, ring): (&usize, &Ring)| {
        let Trouble::Joined { step, lines, at, .. } = &folding.troubles()[trouble] else { return None };
        let spot = Spot { panels: ring.panels.clone(), lines: ring.lines.clone(), at: Some(*at), step: Some(*step) };
        Some(Finding {
            rule: RULE.name,
            severity: Severity::Error,
            sentence: sentence(&words(context, ring, *step, lines)),
            mend: "Take the glue off at one place of the ring, or give it so many parallel folds that it has four."
                .to_owned(),
            spot,
            fixes: offers.of(|| opened(context, ring)),
        })
    };
    context.rigid_rings().iter().filter_map(finding).collect()
}

fn words(context: &Context<'_>, ring: &Ring, step: usize, lines: &[LineId]) -> String {
    let (parts, own) = sorted(context, ring);
    let held: Vec<LineId> = ring.lines.iter().copied().filter(|line| lines.contains(line)).collect();
    let held = listed(held.into_iter().map(|line| context.line(line)));
    let (ring, step) = (format!("a ring of {} folds", ring.joints.len()), step + 1);
    let why = match parts.len() {
        0 => format!("{} are glued into {ring} that can't move", context.these(&own)),
        count => {
            let make = if count == 1 { "makes" } else { "make" };
            let with = if own.is_empty() { String::new() } else { format!(" with {}", context.these(&own)) };
            format!("{} {make} {ring}{with} that can't move", listed(parts))
        }
    };
    format!("{held} can't fold in step {step}: {why}.")
}

/// The parts of a ring by their names, and the panels of the folio in it.
fn sorted(context: &Context<'_>, ring: &Ring) -> (Vec<String>, Vec<PanelId>) {
    let mut parts: Vec<String> = Vec::new();
    let mut own = Vec::new();
    for &panel in &ring.panels {
        match context.layout.part_of(panel).map(|part| format!("\"{}\"", part.name)) {
            Some(name) if parts.contains(&name) => {}
            Some(name) => parts.push(name),
            None => own.push(panel),
        }
    }
    (parts, own)
}

/// Takes off glue that a part of the ring has besides that of its kind, where the step can be made then.
fn opened(context: &Context<'_>, ring: &Ring) -> Option<Fix> {
    let parts: BTreeSet<_> =
        ring.panels.iter().filter_map(|&panel| context.layout.part_of(panel)).map(|part| part.id).collect();
    let glue = parts
        .into_iter()
        .rev()
        .filter_map(|id| context.document.part(id))
        .flat_map(|part| part.also.iter().enumerate().map(move |(place, gluing)| (part, place, gluing)));
    glue.take(MOST_GLUE).find_map(|(part, place, gluing)| {
        let edit = change::change(context.document, part.id, |part| {
            part.also.remove(place);
        })?;
        let to = context.layout.panel_of(gluing.to)?;
        let label = format!("Take the glue of \"{}\" off {}", context.document.part_name(part.id), context.the(to));
        context.if_closer(label, edit)
    })
}

#[cfg(test)]
mod tests {
    use crate::testing::common::{Sketch, at, length};
    use crate::testing::part::{base, first, flap_and_base, moved, part};
    use crate::testing::{mended, mends, said};
    use model::part::{Edges, GlueArea, Gluing, Own};
    use model::{Document, Face, PanelRef, PartKind, SheetEdge, Size, Turn};

    /// A strip of 4 by 1 in across the fold between the left flap, of 3 in, and the base: scored at some places, and glued
    /// to the flap at its left end and to the base at its right, on this face of both.
    #[track_caller]
    fn bridged(face: Face, scores: &[&str], ends: &[SheetEdge]) -> Document {
        let size = Size::parse("4x1in").unwrap();
        let mut strip = Sketch::on("4x1in");
        for (id, at) in (1..).zip(scores) {
            strip = strip.score(id, Turn::None, at);
        }
        let own = Own { size, lines: strip.0.lines, corners: vec![], base: at("3 3/4", "1/2"), folded: vec![] };
        let mut bridge = moved(part(1, PartKind::Own(own), base()), "-2", "5");
        (bridge.place.face, bridge.place.showing) = (face, face);
        let glued = |edge: &SheetEdge| {
            let (panel, to) = match edge {
                SheetEdge::Left => (0, PanelRef::Sheet(at("1", "6"))),
                _ => (scores.len(), base()),
            };
            let area = GlueArea::Strips(Edges::of(&[*edge]), length("1/4"));
            Gluing { panel, face: face.other(), to, area }
        };
        bridge.also = ends.iter().map(glued).collect();
        flap_and_base(vec![bridge])
    }

    const BOTH: [SheetEdge; 2] = [SheetEdge::Left, SheetEdge::Right];

    #[test]
    fn a_strip_with_a_fold_beside_that_of_the_flap_holds_it() {
        let held = bridged(Face::Front, &["1"], &BOTH);
        let says = "\"Score 1\" can't fold in step 1: \"Own shape 1\" makes a ring of 2 folds with the left flap and the base that can't move.";
        assert_eq!(said(&held, "rigid-loop"), [says]);
        assert_eq!(said(&held, "still-joined"), [""; 0], "it is told once");
        assert_eq!(said(&held, "locked-fold"), [""; 0], "it is told once");
        assert_eq!(first(&held, "rigid-loop").spot.step, Some(0));
        assert_eq!(mends(&held, "rigid-loop"), [""; 0], "without glue at the flap it still lies in its way");
    }

    #[test]
    fn behind_the_flap_the_glue_can_be_left_out() {
        let held = bridged(Face::Back, &["1"], &BOTH);
        assert_eq!(said(&held, "rigid-loop").len(), 1);
        let [(label, mended)] = mended(&held, "rigid-loop").try_into().unwrap();
        assert_eq!(label, "Take the glue of \"Own shape 1\" off the left flap");
        assert_eq!(mended.parts[0].also.len(), 1);
    }

    #[test]
    fn a_ring_that_is_not_closed_or_folds_where_the_flap_does_is_no_matter() {
        // The base begins 3 in from the left, and the strip 2 in farther to the left.
        assert_eq!(said(&bridged(Face::Front, &["2"], &BOTH), "rigid-loop"), [""; 0]);
        assert_eq!(said(&bridged(Face::Front, &["1"], &[SheetEdge::Right]), "rigid-loop"), [""; 0]);
        assert_eq!(said(&flap_and_base(Vec::new()), "rigid-loop"), [""; 0]);
    }
}
