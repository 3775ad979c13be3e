//! A magnet or a hook-and-loop dot meets no other when the folio is closed.

use super::Rule;
use crate::lie;
use crate::measure::closed_at;
use crate::{Context, Finding, Fix, Severity, Spot};
use fold::PanelShape;
use fold::overlap::middle;
use glam::DVec3;
use model::part::{ClosureKind, change};
use model::{Face, Length, PartLayout, Vector};

pub(super) const RULE: Rule = Rule {
    name: "no-partner",
    severities: &[Severity::Warning],
    about: "A magnet or a hook-and-loop dot meets no other when the folio is closed.\n\n\
            A pair holds when the two lie on one another; off by half its width, a small magnet hardly pulls (common \
            practice, no source). Magnets pull through paper, so for them it is no matter which face they lie on; \
            dots have to face one another.",
    example: "\"Magnet 1\" meets no other magnet when the folio is closed.",
    check,
};

/// A magnet or dot in the closed folio.
struct Placed<'a> {
    part: &'a PartLayout,
    kind: ClosureKind,
    at: DVec3,
    /// The way that its seen face looks.
    looks: DVec3,
    /// The lesser of its sides, in mm.
    across: f64,
}

fn check(context: &Context<'_>) -> Vec<Finding> {
    let placed = placed(context);
    placed.iter().filter_map(|one| finding(context, one, &placed)).collect()
}

fn placed<'a>(context: &Context<'a>) -> Vec<Placed<'a>> {
    let Some((assembly, folding)) = context.folded else { return Vec::new() };
    let poses = folding.pose(closed_at(folding));
    let one = |part: &'a PartLayout| {
        let own = context.document.part(part.id)?;
        let kind = lie::closure(own).filter(|kind| matches!(kind, ClosureKind::Magnet | ClosureKind::HookAndLoop))?;
        let place = assembly.place(part.main).filter(|_| folding.is_folded(part.main))?;
        let (pose, size) = (poses.get(place)?, part.pattern.size());
        let at = pose.transform_point3(PanelShape::lifted(middle(&assembly.panels[place].outline)));
        let front = pose.transform_vector3(DVec3::Z);
        let looks = if own.place.showing == Face::Front { front } else { -front };
        Some(Placed { part, kind, at, looks, across: size.width().min(size.height()).mm() })
    };
    context.layout.parts.iter().filter_map(one).collect()
}

impl Placed<'_> {
    /// How far the middle of another is from this one's within its plane, in mm; `None` for one that it can't hold.
    fn aside(&self, other: &Self) -> Option<f64> {
        /// The cosine of an angle at which two panels count as lying on one another.
        const FLAT: f64 = 0.99;
        /// A hundredth of a millimetre: layers of unknown thickness lie in one plane.
        const NOTHING: f64 = 0.01;
        let way = other.at - self.at;
        let (through, across) = (way.dot(self.looks), self.looks.dot(other.looks));
        let faces = across < -FLAT && through > -NOTHING;
        let meets = self.kind == other.kind
            && self.part.id != other.part.id
            && (faces || (self.kind == ClosureKind::Magnet && across.abs() > FLAT));
        meets.then(|| (way - self.looks * through).length())
    }
}

fn finding(context: &Context<'_>, one: &Placed<'_>, all: &[Placed<'_>]) -> Option<Finding> {
    let nearest = all.iter().filter_map(|other| Some((one.aside(other)?, other)));
    let nearest = nearest.min_by(|(a, _), (b, _)| a.total_cmp(b));
    if nearest.is_some_and(|(by, _)| by < one.across / 2.0) {
        return None;
    }
    let what = if one.kind == ClosureKind::Magnet { "magnet" } else { "hook-and-loop dot" };
    let name = &one.part.name;
    let (sentence, mend) = match nearest {
        Some((by, other)) => (
            format!(
                "\"{name}\" meets no other {what} when the folio is closed: \"{}\" comes to lie {} aside.",
                other.part.name,
                lie::readable(by, context.document.units)
            ),
            format!("Move one of them by {}.", lie::readable(by, context.document.units)),
        ),
        None => (
            format!("\"{name}\" meets no other {what} when the folio is closed."),
            "Put another where it comes to lie, on the face that looks at it.".to_owned(),
        ),
    };
    let fixes = nearest.and_then(|(_, other)| onto(context, one, other)).into_iter().collect();
    let panels = std::iter::once(one.part.main).chain(nearest.map(|(_, other)| other.part.main)).collect();
    Some(Finding {
        rule: RULE.name,
        severity: Severity::Warning,
        sentence,
        mend,
        spot: Spot { panels, ..Spot::default() },
        fixes,
    })
}

/// Moves one so that it meets the other; `None` where it would then reach over the edge of its panel.
fn onto(context: &Context<'_>, one: &Placed<'_>, other: &Placed<'_>) -> Option<Fix> {
    let (assembly, folding) = context.folded?;
    let host = assembly.place(one.part.laid?.on)?;
    let own = assembly.place(one.part.main)?;
    let way =
        folding.flat_pose(closed_at(folding)).get(host)?.inverse().transform_vector3(other.at - one.at).truncate();
    let length = |mm: f64| Length::from_mm_rounded(mm);
    let edit = change::shift(context.document, one.part.id, Vector { x: length(way.x)?, y: -length(way.y)? })?;
    let moved: lie::Shapes = lie::laid(&assembly.panels[own].convex, lie::onto(assembly, own, host)?)
        .into_iter()
        .map(|shape| shape.into_iter().map(|corner| corner + way).collect())
        .collect();
    let host = &assembly.panels[host].convex;
    let over = lie::farthest_from(&lie::outside(&moved, host), host);
    (!lie::is_seen(over)).then(|| Fix::new(format!("Move it to where \"{}\" comes to lie", other.part.name), edit))
}

#[cfg(test)]
mod tests {
    use crate::testing::common::{at, length};
    use crate::testing::part::{base, first, flap_and_base, moved, part};
    use crate::testing::{mended, said};
    use model::part::{Closure, ClosureKind, Source};
    use model::{Face, PanelRef, Part, PartKind};

    fn dot(id: u32, kind: ClosureKind, on: PanelRef, across: &str) -> Part {
        let (size, thickness) = (length("1/2"), length("1/16"));
        let closure = PartKind::Closure(Closure { kind, width: size, height: size, thickness });
        Part { source: Source::Bought, ..moved(part(id, closure, on), across, "3") }
    }

    fn flap() -> PanelRef {
        PanelRef::Sheet(at("1", "6"))
    }

    #[track_caller]
    fn check(parts: Vec<Part>, says: &[&str]) {
        assert_eq!(said(&flap_and_base(parts), "no-partner"), says);
    }

    #[test]
    fn magnets_that_miss_one_another_say_by_how_much() {
        use ClosureKind::Magnet;
        // The flap is 3 in wide: what begins 1/2 in from its left lies from 2 to 2 1/2 in from the fold when it is closed.
        let pair = |on_base| vec![dot(1, Magnet, flap(), "1/2"), dot(2, Magnet, base(), on_base)];
        check(pair("2"), &[]);
        check(pair("2 3/16"), &[]);
        let says = |one: u32, other: u32| {
            format!(
                "\"Magnet {one}\" meets no other magnet when the folio is closed: \"Magnet {other}\" comes to lie 1/2 in aside."
            )
        };
        check(pair("2 1/2"), &[&says(1, 2), &says(2, 1)]);
        let (label, mended) = &mended(&flap_and_base(pair("2 1/2")), "no-partner")[0];
        assert_eq!(label, "Move it to where \"Magnet 2\" comes to lie");
        assert_eq!(mended.parts[0].place.across.distance, length("0"));
        // The flap ends where the magnet would have to lie.
        assert_eq!(first(&flap_and_base(pair("3")), "no-partner").fixes, []);
        check(vec![dot(1, Magnet, flap(), "1/2")], &["\"Magnet 1\" meets no other magnet when the folio is closed."]);
    }

    #[test]
    fn dots_have_to_face_one_another_and_magnets_pull_through_paper() {
        let on_back = |kind| {
            let mut behind = dot(2, kind, base(), "2");
            (behind.place.face, behind.place.showing) = (Face::Back, Face::Back);
            vec![dot(1, kind, flap(), "1/2"), behind]
        };
        check(on_back(ClosureKind::Magnet), &[]);
        assert_eq!(said(&flap_and_base(on_back(ClosureKind::HookAndLoop)), "no-partner").len(), 2);
        let facing =
            vec![dot(1, ClosureKind::HookAndLoop, flap(), "1/2"), dot(2, ClosureKind::HookAndLoop, base(), "2")];
        check(facing, &[]);
    }

    #[test]
    fn a_magnet_holds_no_dot() {
        let mixed = vec![dot(1, ClosureKind::Magnet, flap(), "1/2"), dot(2, ClosureKind::HookAndLoop, base(), "2")];
        assert_eq!(said(&flap_and_base(mixed), "no-partner").len(), 2);
    }
}
