//! Which way each line folds.

use super::{Told, said, table, titled};
use crate::block::Block;
use model::words::listed;
use std::collections::BTreeSet;

pub(super) fn chapter(told: Told<'_>) -> Vec<Block> {
    let (document, layout) = (told.subject.document, told.subject.layout);
    let rows: Vec<Vec<String>> = document
        .lines
        .iter()
        .filter_map(|line| {
            let crease = line.work.crease()?;
            let joins: BTreeSet<&str> = layout
                .folio_folds(line.id)
                .flat_map(|fold| fold.panels)
                .map(|panel| layout.panel(panel).name.as_str())
                .collect();
            (!joins.is_empty()).then(|| {
                let scored = format!("the {}", crease.face().word());
                let joins = listed(joins.into_iter().map(str::to_owned));
                vec![document.line_name(line.id), crease.words(), scored, joins]
            })
        })
        .collect();
    if rows.is_empty() {
        return Vec::new();
    }
    let blocks = vec![
        said(
            "Valley and mountain are as seen from the front: a valley brings the fronts together, a mountain the backs. Fold \
             away from the scored side, so that the raised bead lies inside the fold. Crease each fold once to its full \
             angle or a little beyond, and lay it flat again.",
        ),
        table("Every fold of the folio", &["Line", "Folds", "Scored on", "Joins"], rows),
    ];
    titled("Which way the lines fold", blocks)
}
