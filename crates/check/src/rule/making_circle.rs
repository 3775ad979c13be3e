//! Parts keep one another from being put in place: each would have to be there before the other.

use super::Rule;
use crate::fix::Offers;
use crate::{Context, Finding, Fix, Severity, Spot};
use make::{Circle, Making};
use model::change::perform;
use model::part::{Job, PartLayout, Rotation, change};
use model::polygon::bounds;
use model::{Edit, PanelRef, Part, Point, Vector};

pub(super) const RULE: Rule = Rule {
    name: "making-circle",
    severities: &[Severity::Warning],
    about: "Parts keep one another from being put in place: each would have to be there before the other.",
    example: "\"Mat 2\" would cover the place where \"Mat 1\" is glued, so \"Mat 1\" comes first; but \"Mat 1\" would cover the place where \"Mat 2\" is glued, so \"Mat 2\" comes first.",
    check,
};

fn check(context: &Context<'_>) -> Vec<Finding> {
    if context.document.parts.len() < 2 {
        return Vec::new();
    }
    let making = context.making();
    let offers = Offers::tried(context);
    let finding = |circle: &Circle| {
        let parts = circle.reasons.iter().filter_map(|reason| match reason.then {
            Job::Put(id) => context.layout.part(id),
            _ => None,
        });
        Finding {
            rule: RULE.name,
            severity: Severity::Warning,
            sentence: format!("{}.", circle.what(context.document)),
            mend: format!("{}.", crate::words::sentence(circle.mend())),
            spot: Spot { panels: parts.map(|part| part.main).collect(), ..Spot::default() },
            fixes: offers.of(|| on_one_another(context, making, circle)),
        }
    };
    making.circles.iter().map(finding).collect()
}

/// Puts the later of two parts on the earlier one, where it lies now. Only where the earlier lies upright on the front of
/// its panel with its own front seen, so that its left and top are those of that panel.
fn on_one_another(context: &Context<'_>, making: &Making, circle: &Circle) -> Option<Fix> {
    let (document, layout) = (context.document, context.layout);
    let [Job::Put(a), Job::Put(b)] = circle.reasons.iter().map(|reason| reason.then).collect::<Vec<_>>()[..] else {
        return None;
    };
    let mut both = document.parts.iter().filter(|part| [a, b].contains(&part.id));
    let (under, over) = (both.next()?, both.next()?);
    let lies = layout.part(under.id)?.laid?;
    let is_plain = |part: &Part| part.also.is_empty();
    let is_upright = under.place.rotation == Rotation::NONE && !lies.turned_over;
    let is_beside = layout.part(over.id)?.laid.is_some_and(|laid| (laid.on, laid.face) == (lies.on, lies.face));
    if !is_plain(under) || !is_plain(over) || !is_upright || !is_beside {
        return None;
    }
    let PanelRef::Part(id, panel) = layout.panel_ref(layout.part(under.id)?.main)? else { return None };
    let lift = change::change(document, over.id, |part| {
        part.place.on = PanelRef::Part(id, panel);
        part.place.face = under.place.showing;
    })?;
    let lifted = perform(document, layout, lift.clone()).ok()?;
    let host = lifted.layout.part(under.id)?.laid?;
    let was = corner(layout.part(over.id)?, |point| point)?;
    let is = corner(lifted.layout.part(over.id)?, |point| host.on_host(point))?;
    let back = change::shift(&lifted.document, over.id, Vector { x: was.x - is.x, y: was.y - is.y });
    let edit = Edit::All(std::iter::once(lift).chain(back).collect());
    let done = perform(document, layout, edit.clone()).ok()?;
    let circles = Making::of(&done.document, &done.layout).circles.len();
    let label = format!("Put {} on {}", document.part_name(over.id), document.part_name(under.id));
    (circles < making.circles.len() && done.layout.part_faults.is_empty()).then(|| Fix::new(label, edit))
}

/// The upper left corner of the rectangle around a part's main panel where it lies.
fn corner(part: &PartLayout, then: impl Fn(Point) -> Point) -> Option<Point> {
    let laid = part.laid?;
    let main = part.panels.iter().find(|panel| panel.id == part.main)?;
    let corners: Vec<Point> = main.outline.iter().map(|&point| then(laid.on_host(point))).collect();
    Some(bounds(&corners).0)
}

#[cfg(test)]
mod tests {
    use crate::testing::common::{Sketch, at, length};
    use crate::testing::{mended, mends, said};
    use model::part::{Anchor, AnchorFrom, Mat, Part, Placement, Rotation, Source};
    use model::{Document, Layout, PanelRef, PartId, PartKind, Point, Turn};

    /// Two mats of 4 by 4 in on the base, the second so far to the right of the first.
    fn mats(apart: &str) -> Document {
        let mut document = Sketch::on("12x12in").score(1, Turn::None, "3").base("8", "6").steps(&[&[1]]).0;
        let kind = || PartKind::Mat(Mat { width: length("4"), height: length("4") });
        for (id, left) in [(1, length("0")), (2, length(apart))] {
            let mut place = Placement::centred(PanelRef::Sheet(at("8", "6")));
            place.across = Anchor { from: AnchorFrom::Start, distance: left };
            let source = Source::FolioStock;
            document.parts.push(Part {
                id: PartId(id),
                name: String::new(),
                kind: kind(),
                source,
                place,
                also: Vec::new(),
            });
        }
        document
    }

    #[test]
    fn two_mats_over_one_another_glued_to_one_panel_are_told() {
        assert_eq!(said(&mats("4"), "making-circle"), [""; 0]);
        assert_eq!(
            said(&mats("3"), "making-circle"),
            [
                "\"Mat 2\" would cover the place where \"Mat 1\" is glued, so \"Mat 1\" comes first; but \"Mat 1\" would cover the place where \"Mat 2\" is glued, so \"Mat 2\" comes first."
            ]
        );
    }

    #[test]
    fn the_later_is_put_on_the_earlier_where_it_lies() {
        let circle = mats("3");
        let [(label, mended)] = mended(&circle, "making-circle").try_into().unwrap();
        assert_eq!(label, "Put Mat 2 on Mat 1");
        assert_eq!(mended.parts[1].place.on, PanelRef::Part(PartId(1), 0));
        let left = |document: &Document| {
            let layout = Layout::of(document);
            let [first, second] = [1, 2].map(|id| layout.part(PartId(id)).unwrap().laid.unwrap());
            let corner = second.on_host(Point::default());
            if second.on == first.on { corner } else { first.on_host(corner) }
        };
        // The base begins 3 in from the left of the sheet, and the mats are 4 in high in the middle of 12 in.
        assert_eq!((left(&circle), left(&mended)), (at("6", "4"), at("6", "4")));
        let mut turned = circle;
        turned.parts[0].place.rotation = Rotation::QUARTER;
        assert_eq!(mends(&turned, "making-circle"), [""; 0]);
    }
}
