//! There are magnets or brads in a folio that may come into a child's hands. Said once for the whole folio.

use super::Rule;
use crate::lie;
use crate::{Context, Finding, Severity, Spot};
use make::Caution;
use model::PanelId;
use model::part::ClosureKind;

pub(super) const RULE: Rule = Rule {
    name: "small-parts",
    severities: &[Severity::Note],
    about: "There are magnets or brads in a folio that may come into a child's hands. Said once for the whole folio.\n\n\
            Magnets: a swallowed pair pulls together through the bowel; 16 CFR 1262 (in force for what is made after \
            2022-10-21) limits loose ones in products for amusement, and magnets sold as closures may fall outside of \
            it. Small parts: what fits into the cylinder of 16 CFR 1501.4 is kept from children under three (the age \
            from memory). Local rules and a workshop's practice may say more.",
    example: "This folio has magnets, which are dangerous when they are swallowed.",
    check,
};

fn check(context: &Context<'_>) -> Vec<Finding> {
    let of = |wanted: ClosureKind| -> Vec<PanelId> {
        let is_one = |part: &&model::PartLayout| context.document.part(part.id).and_then(lie::closure) == Some(wanted);
        context.layout.parts.iter().filter(is_one).map(|part| part.main).collect()
    };
    let (magnets, brads) = (of(ClosureKind::Magnet), of(ClosureKind::Brad));
    let (sentence, mend) = match (magnets.is_empty(), brads.is_empty()) {
        (true, true) => return Vec::new(),
        (true, false) => (
            "This folio has brads, which small children may swallow.",
            format!("Give it to nobody under three years of age. {}", Caution::LocalRules.sentence()),
        ),
        (false, _) => (
            "This folio has magnets, which are dangerous when they are swallowed.",
            format!("{} {}", Caution::Magnets.sentence(), Caution::LocalRules.sentence()),
        ),
    };
    let panels = magnets.into_iter().chain(brads).collect();
    vec![Finding {
        rule: RULE.name,
        severity: Severity::Note,
        sentence: sentence.to_owned(),
        mend,
        spot: Spot { panels, ..Spot::default() },
        fixes: Vec::new(),
    }]
}

#[cfg(test)]
mod tests {
    use crate::Severity;
    use crate::testing::common::length;
    use crate::testing::part::{base, first, flap_and_base, moved, part};
    use crate::testing::said;
    use model::part::{Closure, ClosureKind, Source};
    use model::{Part, PartKind};

    fn closures(kinds: &[ClosureKind]) -> Vec<Part> {
        let (size, thickness) = (length("1/4"), length("1/32"));
        let one = |(id, &kind): (u32, &ClosureKind)| {
            let closure = PartKind::Closure(Closure { kind, width: size, height: size, thickness });
            Part { source: Source::Bought, ..moved(part(id, closure, base()), &id.to_string(), "3") }
        };
        (1..).zip(kinds).map(one).collect()
    }

    #[test]
    fn magnets_and_brads_are_cautioned_of_once() {
        use ClosureKind::{Brad, HookAndLoop, Magnet, Ribbon};
        let check = |kinds: &[ClosureKind], says: &[&str]| {
            assert_eq!(said(&flap_and_base(closures(kinds)), "small-parts"), says, "{kinds:?}");
        };
        let magnets = "This folio has magnets, which are dangerous when they are swallowed.";
        check(&[Magnet, Brad, Magnet], &[magnets]);
        check(&[Brad, Brad], &["This folio has brads, which small children may swallow."]);
        check(&[HookAndLoop, Ribbon], &[]);
        let finding = first(&flap_and_base(closures(&[Magnet])), "small-parts");
        assert_eq!(finding.severity, Severity::Note);
        assert!(finding.mend.contains("Keep magnets from children"), "{}", finding.mend);
        assert!(finding.mend.contains("local rules"), "{}", finding.mend);
    }
}
