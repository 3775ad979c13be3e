//! A brad goes through the front of a pocket, so that its legs lie where cards go in.

use super::Rule;
use crate::lie;
use crate::{Context, Finding, Severity, Spot};
use model::PartLayout;
use model::part::ClosureKind;

pub(super) const RULE: Rule = Rule {
    name: "brad-in-pocket",
    severities: &[Severity::Warning],
    about: "A brad goes through the front of a pocket, so that its legs lie where cards go in.\n\n\
            Cards catch on them, or the brad pins the front to what is under it. It is set beside the pocket, or \
            through the panel before the pocket is glued over it (common practice, no source).",
    example: "The legs of \"Brad 2\" lie inside \"Slide-in 1\", where cards catch on them.",
    check,
};

fn check(context: &Context<'_>) -> Vec<Finding> {
    context.layout.parts.iter().filter_map(|part| finding(context, part)).collect()
}

fn finding(context: &Context<'_>, brad: &PartLayout) -> Option<Finding> {
    let kind = lie::closure(context.document.part(brad.id)?)?;
    let on = brad.laid?.on;
    let pocket = context.layout.part_of(on)?;
    let holds = context.document.part(pocket.id)?.kind.holds_inserts();
    if kind != ClosureKind::Brad || !holds || pocket.main != on {
        return None;
    }
    Some(Finding {
        rule: RULE.name,
        severity: Severity::Warning,
        sentence: format!("The legs of \"{}\" lie inside \"{}\", where cards catch on them.", brad.name, pocket.name),
        mend: "Set it beside, or through the panel before the other is glued over it.".to_owned(),
        spot: Spot { panels: vec![brad.main, pocket.main], ..Spot::default() },
        fixes: Vec::new(),
    })
}

#[cfg(test)]
mod tests {
    use crate::testing::common::length;
    use crate::testing::part::{base, flap_and_base, mat, part, pocket};
    use crate::testing::said;
    use model::part::{Closure, ClosureKind, Source};
    use model::{PanelRef, Part, PartId, PartKind, SheetEdge};

    fn brad(on: PanelRef, kind: ClosureKind) -> Part {
        let (size, thickness) = (length("1/4"), length("1/32"));
        let closure = PartKind::Closure(Closure { kind, width: size, height: size, thickness });
        Part { source: Source::Bought, ..part(2, closure, on) }
    }

    #[track_caller]
    fn check(parts: Vec<Part>, says: &[&str]) {
        assert_eq!(said(&flap_and_base(parts), "brad-in-pocket"), says);
    }

    #[test]
    fn a_brad_through_a_pocket_is_told() {
        let pocket = || part(1, pocket("4", "4", &[SheetEdge::Left, SheetEdge::Bottom]), base());
        let on_it = PanelRef::Part(PartId(1), 0);
        let says = "The legs of \"Brad 2\" lie inside \"Slide-in 1\", where cards catch on them.";
        check(vec![pocket(), brad(on_it, ClosureKind::Brad)], &[says]);
        // A magnet is glued on, and a mat holds nothing.
        check(vec![pocket(), brad(on_it, ClosureKind::Magnet)], &[]);
        check(vec![part(1, mat("4", "4"), base()), brad(on_it, ClosureKind::Brad)], &[]);
        check(vec![pocket(), brad(base(), ClosureKind::Brad)], &[]);
    }
}
