//! What the rules' tests share: a folio said in few words, and its findings.

#[path = "../../model/tests/common/mod.rs"]
pub(crate) mod common;
pub(crate) mod part;

use crate::{Checked, Context, Finding, Fix, Severity, check};
use model::change::perform;
use model::{Document, Layout};

/// All findings of a document.
pub(crate) fn findings(document: &Document) -> Vec<Finding> {
    checked(document).0.findings
}

/// What is said of a document and what is silenced, with its layout.
pub(crate) fn checked(document: &Document) -> (Checked, Layout) {
    let layout = Layout::of(document);
    let folded = fold::assemble(document, &layout).map(|assembly| {
        let folding = fold::close(&assembly);
        (assembly, folding)
    });
    let folded = folded.as_ref().map(|(assembly, folding)| (assembly, folding));
    let supply = (!document.parts.is_empty()).then(|| allot::allot(document, &layout, &allot::Settings::of(document)));
    let checked = check(&Context::new(document, &layout, folded, supply.as_ref()));
    for finding in &checked.findings {
        let rule = crate::rule::named(finding.rule).expect("findings have the names of rules");
        assert!(rule.severities.contains(&finding.severity), "{} is no {:?}", finding.rule, finding.severity);
    }
    (checked, layout)
}

/// The first finding of a rule, mended in each of the ways that it offers: what each is called, and the design then. Each
/// is one edit that can be taken back, after which there is one finding of the rule less, or none, and no new error.
#[track_caller]
pub(crate) fn mended(document: &Document, rule: &str) -> Vec<(String, Document)> {
    let before = findings(document);
    let of = |findings: &[Finding], rule: &str| findings.iter().filter(|finding| finding.rule == rule).count();
    let errors = |findings: &[Finding], rule: &str| {
        let is_one = |finding: &&Finding| finding.rule == rule && finding.severity == Severity::Error;
        findings.iter().filter(is_one).count()
    };
    let finding = before.iter().find(|finding| finding.rule == rule).expect("there is something to mend");
    let mend = |fix: &Fix| {
        let performed = perform(document, &Layout::of(document), fix.edit.clone()).unwrap();
        let after = findings(&performed.document);
        let said: Vec<&String> = after.iter().map(|finding| &finding.sentence).collect();
        assert!(of(&after, rule) < of(&before, rule), "\"{}\" does not mend it: {said:#?}", fix.label);
        for rule in after.iter().map(|finding| finding.rule) {
            assert!(errors(&after, rule) <= errors(&before, rule), "\"{}\" brings an error: {said:#?}", fix.label);
        }
        let mut back = performed.document.clone();
        back.apply(performed.inverse).unwrap();
        assert_eq!(&back, document, "\"{}\" can't be taken back", fix.label);
        (fix.label.clone(), performed.document)
    };
    finding.fixes.iter().map(mend).collect()
}

/// What the ways to mend the first finding of a rule are called.
#[track_caller]
pub(crate) fn mends(document: &Document, rule: &str) -> Vec<String> {
    mended(document, rule).into_iter().map(|(label, _)| label).collect()
}

/// The sentences of one rule's findings.
pub(crate) fn said(document: &Document, rule: &str) -> Vec<String> {
    findings(document).into_iter().filter(|finding| finding.rule == rule).map(|finding| finding.sentence).collect()
}
