//! The order in which it is made, each job with its picture.

use super::{Told, said, titled};
use crate::block::{Block, Figure, Picture, Step};
use crate::picture::{band, closed, folding, laid, scores, sheet_with_offcuts, source};
use crate::style::{BESIDE, BESIDE_HIGH};
use kurbo::Size;
use make::Words;
use model::part::{Job, Paper, PartId, PartKind};
use std::collections::BTreeSet;

const ROOM: Size = Size::new(BESIDE, BESIDE_HIGH);

pub(super) fn chapter(told: Told<'_>) -> Vec<Block> {
    let making = told.subject.making;
    if making.jobs.is_empty() {
        return Vec::new();
    }
    let (document, layout) = (told.subject.document, told.subject.layout);
    let cautions = making.cautions(document);
    let mut put: BTreeSet<PartId> = BTreeSet::new();
    let mut steps = Vec::new();
    for (number, &job) in (1..).zip(&making.jobs) {
        if let Job::Put(id) = job {
            put.insert(id);
        }
        let text = told.voice.say(|version| Words { document: &version.document, layout, making }.instruction(job));
        let own = cautions.iter().filter(|(at, _)| *at == job).map(|(_, caution)| caution.sentence().to_owned());
        steps.push(Step {
            number: format!("{number}."),
            figure: picture(told, job, &put).map(|picture| Figure {
                picture,
                caption: String::new(),
                alt: format!("Step {number}: {text}."),
            }),
            text: format!("{text}."),
            notes: Vec::new(),
            cautions: own.collect(),
        });
    }
    let mut blocks = vec![said(
        "Where a step says more elsewhere in this booklet, turn there: scores, cuts and parts each have their chapter. A \
         heavy outline is what is put on in a step; broken, it lies behind the paper.",
    )];
    blocks.push(Block::Steps(steps));
    blocks.extend(
        making.circles.iter().map(|circle| said(format!("This order can't be kept: {}", circle.sentence(document)))),
    );
    titled("Make it in this order", blocks)
}

fn picture(told: Told<'_>, job: Job, put: &BTreeSet<PartId>) -> Option<Picture> {
    let (document, layout) = (told.subject.document, told.subject.layout);
    let (folded, printed) = (told.subject.folded, told.subject.printed());
    match job {
        Job::Score(Paper::Folio) => Some(scores(document, layout, &printed, ROOM)),
        Job::Cut(Paper::Folio) => Some(sheet_with_offcuts(document, layout, &printed, ROOM)),
        Job::Score(Paper::Part(id)) | Job::Cut(Paper::Part(id)) => {
            let all = told.subject.supply?;
            source(layout, &printed, all.supply(id)?, &all.sheets, ROOM)
        }
        Job::Fold(id) => layout.part(id).map(|laid| folding(layout, &printed, laid, ROOM)),
        Job::Put(id) => match &document.part(id)?.kind {
            PartKind::Band(strip) => Some(band(layout, folded?, &printed, strip.width, strip.is_upright, ROOM)),
            _ => Some(laid(document, layout, folded?, &printed, (put, id), ROOM)),
        },
        Job::Close => Some(closed(layout, folded?, &printed, ROOM)),
    }
}
