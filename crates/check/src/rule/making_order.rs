//! The order in which the maker wants to make the folio puts a job before one that has to come first.

use super::Rule;
use crate::{Context, Finding, Fix, Severity, Spot};
use make::{Constraint, Words};
use model::part::{Job, Paper};
use model::{Edit, PartId};

pub(super) const RULE: Rule = Rule {
    name: "making-order",
    severities: &[Severity::Warning],
    about: "The order in which the maker wants to make the folio puts a job before one that has to come first.\n\n\
            A brad is set while its legs can still be bent open: glued over, its back can't be reached. The same goes \
            for a pocket under a page, a mat under a pocket and a scored sheet that is cut too early. Most orders keep \
            right by themselves; one that was saved keeps to what it was while parts are added and moved (common \
            practice, no source).",
    example: "In the making order, \"Glue Mat 2 to the back of the Base, all over\" comes before \"Set Brad 1 through the Base and spread its legs behind\".",
    check,
};

fn check(context: &Context<'_>) -> Vec<Finding> {
    if context.document.making.len() < 2 {
        return Vec::new();
    }
    let making = context.making();
    making.broken(&context.document.making).map(|broken| finding(context, broken)).into_iter().collect()
}

fn finding(context: &Context<'_>, broken: Constraint) -> Finding {
    let making = context.making();
    let words = Words { document: context.document, layout: context.layout, making };
    let panels = [broken.first, broken.then].into_iter().filter_map(part_of);
    let panels = panels.filter_map(|id| Some(context.layout.part(id)?.main)).collect();
    Finding {
        rule: RULE.name,
        severity: Severity::Warning,
        sentence: format!(
            "In the making order, \"{}\" comes before \"{}\".",
            words.instruction(broken.then),
            words.instruction(broken.first)
        ),
        mend: format!("Turn the two round. {}", broken.sentence(context.document)),
        spot: Spot { panels, ..Spot::default() },
        fixes: vec![Fix::new("Put the making order right", Edit::SetMaking(making.jobs.clone()))],
    }
}

const fn part_of(job: Job) -> Option<PartId> {
    match job {
        Job::Score(Paper::Part(id)) | Job::Cut(Paper::Part(id)) | Job::Fold(id) | Job::Put(id) => Some(id),
        Job::Score(Paper::Folio) | Job::Cut(Paper::Folio) | Job::Close => None,
    }
}

#[cfg(test)]
mod tests {
    use crate::testing::common::length;
    use crate::testing::part::{base, first, flap_and_base, mat, part};
    use crate::testing::{mended, said};
    use model::part::{Closure, ClosureKind, Job, Paper, Source};
    use model::{Document, Face, Part, PartId, PartKind};

    /// A brad through the base and a mat on the back of that, over its legs; the maker wants to make them in this
    /// order.
    fn brad_and_mat(making: &[Job]) -> Document {
        let (size, thickness) = (length("1/4"), length("1/32"));
        let brad = PartKind::Closure(Closure { kind: ClosureKind::Brad, width: size, height: size, thickness });
        let mut cover = part(2, mat("3", "3"), base());
        cover.place.face = Face::Back;
        let mut document = flap_and_base(vec![Part { source: Source::Bought, ..part(1, brad, base()) }, cover]);
        document.making = making.to_vec();
        document
    }

    #[test]
    fn a_brad_whose_back_is_glued_over_first_is_told() {
        let (brad, mat) = (Job::Put(PartId(1)), Job::Put(PartId(2)));
        let document = brad_and_mat(&[mat, brad]);
        let says = "In the making order, \"Glue Mat 2 to the back of the Base, all over\" comes before \"Set Brad 1 through \
                    the Base and spread its legs behind\".";
        assert_eq!(said(&document, "making-order"), [says]);
        let why = "Turn the two round. \"Brad 1\" goes through the paper and \"Mat 2\" lies over its legs, so \"Brad 1\" \
                   comes first.";
        assert_eq!(first(&document, "making-order").mend, why);
        let mended = &mended(&document, "making-order")[0].1;
        let at = |job: Job| mended.making.iter().position(|&it| it == job);
        assert!(at(brad) < at(mat), "{:?}", mended.making);
    }

    #[test]
    fn an_order_that_can_be_kept_is_silent() {
        let (brad, mat) = (Job::Put(PartId(1)), Job::Put(PartId(2)));
        assert_eq!(said(&brad_and_mat(&[brad, mat]), "making-order"), [""; 0]);
        assert_eq!(said(&brad_and_mat(&[]), "making-order"), [""; 0]);
        // Parts that are gone since are nobody's matter.
        assert_eq!(said(&brad_and_mat(&[Job::Put(PartId(7)), brad, mat]), "making-order"), [""; 0]);
    }

    #[test]
    fn a_part_that_is_folded_after_it_is_put_on_is_told() {
        let (cut, put) = (Job::Cut(Paper::Part(PartId(2))), Job::Put(PartId(2)));
        let says = "In the making order, \"Glue Mat 2 to the back of the Base, all over\" comes before \"Cut Mat 2, 3 x 3 in, \
                    from a further sheet\".";
        assert_eq!(said(&brad_and_mat(&[put, cut]), "making-order"), [says]);
    }
}
