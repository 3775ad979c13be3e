//! What the rules' tests share: a folio said in few words, and its findings.

#[path = "../../model/tests/common/mod.rs"]
pub(crate) mod common;
pub(crate) mod part;

use crate::{Checked, Context, Finding, Fix, Severity, check};
use common::Sketch;
use model::change::perform;
use model::offcut::cut_away_together;
use model::{Document, FoldAngle, Layout, PanelId, Point, Turn, Work};
use std::collections::BTreeSet;

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

/// A 12 in sheet with scores so many inches from the left and from the top, all valleys by this angle, each in a step of its
/// own. The base lies in the middle.
pub(crate) fn crossed(upright: &[&str], level: &[&str], angle: FoldAngle) -> Document {
    let all = upright.iter().map(|at| (Turn::None, at)).chain(level.iter().map(|at| (Turn::Once, at)));
    let sketch = (1..).zip(all).fold(Sketch::on("12x12in"), |sketch, (id, (turn, at))| sketch.score(id, turn, at));
    folded_by(sketch.base("6", "6").0, angle)
}

/// The same with all scores folded by this angle.
pub(crate) fn folded_by(mut document: Document, angle: FoldAngle) -> Document {
    for line in &mut document.lines {
        if let Work::Score(crease) = &mut line.work {
            crease.angle = angle;
        }
    }
    document
}

/// The places of the scores on either side of gussets of 1/4 in round a base of 5 1/2 in.
pub(crate) const GUSSETS: [&str; 4] = ["3", "3 1/4", "8 3/4", "9"];

/// A document without the corner that the panels around some points make up.
#[track_caller]
pub(crate) fn without_corner(document: &Document, around: &[Point]) -> Document {
    let layout = Layout::of(document);
    let panels: BTreeSet<PanelId> = around.iter().filter_map(|&at| layout.panel_at(at)).collect();
    let edit = cut_away_together(document, &layout, &panels).unwrap();
    perform(document, &layout, edit).unwrap().document
}

/// A base of 5 1/2 in with gussets of 1/4 in and flaps on four sides, the corners cut away.
#[track_caller]
pub(crate) fn gusseted(angle: FoldAngle) -> Document {
    let sides = [["1", "3 1/8"], ["8 7/8", "10"]];
    let corners = sides.iter().flat_map(|across| sides.iter().map(move |down| (across, down)));
    corners.fold(crossed(&GUSSETS, &GUSSETS, angle), |document, (across, down)| {
        let around: Vec<Point> = across.iter().flat_map(|x| down.iter().map(move |y| common::at(x, y))).collect();
        without_corner(&document, &around)
    })
}

/// How many errors a document has.
pub(crate) fn errors(document: &Document) -> usize {
    findings(document).iter().filter(|finding| finding.severity == Severity::Error).count()
}

/// The sentences of one rule's findings.
pub(crate) fn said(document: &Document, rule: &str) -> Vec<String> {
    findings(document).into_iter().filter(|finding| finding.rule == rule).map(|finding| finding.sentence).collect()
}
