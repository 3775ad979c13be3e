//! What the rules' tests share: a folio said in few words, and its findings.

#[path = "../../model/tests/common/mod.rs"]
pub(crate) mod common;

use crate::{Context, Finding, check};
use model::{Document, Layout};

/// All findings of a document.
pub(crate) fn findings(document: &Document) -> Vec<Finding> {
    let layout = Layout::of(document);
    let folded = fold::assemble(document, &layout).map(|assembly| {
        let folding = fold::close(&assembly);
        (assembly, folding)
    });
    let folded = folded.as_ref().map(|(assembly, folding)| (assembly, folding));
    let supply = (!document.parts.is_empty()).then(|| allot::allot(document, &layout, &allot::Settings::default()));
    check(&Context { document, layout: &layout, folded, supply: supply.as_ref() })
}

/// The sentences of one rule's findings.
pub(crate) fn said(document: &Document, rule: &str) -> Vec<String> {
    findings(document).into_iter().filter(|finding| finding.rule == rule).map(|finding| finding.sentence).collect()
}
