//! `foliowright artwork`: a picture put on a face of the sheet, or taken off.

use crate::arguments::{ArtworkTask, SideWord};
use crate::{Failure, Outcome, read};
use model::{Artwork, Document, Face, Length, Pattern};
use std::io::Write;
use std::path::Path;

/// What a picture may be wide on the paper, and how far off its corner may lie: within the largest sheet.
const RANGE: (Length, Length) = (Length::from_nm(1_000_000), Length::LIMIT);

pub(crate) fn run(task: &ArtworkTask, out: &mut dyn Write) -> Outcome {
    let mut document = read(&task.file)?;
    let face = match task.side {
        SideWord::Front => Face::Front,
        SideWord::Back => Face::Back,
    };
    let side = document.stock.side(face).clone();
    let artwork = match &task.picture {
        None => None,
        Some(picture) => Some(placed(task, &document, picture)?),
    };
    let stays_plain = artwork.is_none() || side.pattern != Pattern::Plain;
    let pattern = if stays_plain { side.pattern } else { Pattern::AnyWay };
    if artwork.is_none() && side.artwork.is_none() {
        return Err(Failure::Refused(Some(format!("{}: there is no picture on that side", task.file.display()))));
    }
    let said = artwork.as_ref().map_or_else(|| "taken off".to_owned(), |artwork| words(artwork, &document));
    *document.stock.side_mut(face) = model::Side { artwork, pattern, ..side };
    disk::save_design(&task.file, &document).map_err(|error| Failure::Refused(Some(error.to_string())))?;
    writeln!(out, "{}: {said}", task.file.display())?;
    Ok(())
}

fn placed(task: &ArtworkTask, document: &Document, picture: &Path) -> Result<Artwork, Failure> {
    let unit = document.units;
    let length = |text: &Option<String>, usual: Length| match text {
        None => Ok(usual),
        Some(text) => Length::parse_in(text, unit).map_err(|error| Failure::unreadable(error.to_string())),
    };
    let width = length(&task.width, document.stock.size.width())?;
    if width < RANGE.0 || width > RANGE.1 {
        let says = format!("{} is no width for a picture; give 1 mm or more", width.readable(unit));
        return Err(Failure::unreadable(says));
    }
    let (left, top) = (length(&task.left, Length::ZERO)?, length(&task.top, Length::ZERO)?);
    let artwork =
        disk::artwork::take_in(&task.file, picture, width).map_err(|error| Failure::unreadable(error.to_string()))?;
    Ok(Artwork { left, top, ..artwork })
}

fn words(artwork: &Artwork, document: &Document) -> String {
    let unit = document.units;
    format!(
        "\"{}\" {} x {} on the paper, {:.0} pixels an inch",
        artwork.file,
        artwork.width.readable(unit),
        artwork.height().readable(unit),
        artwork.pixels_per_inch()
    )
}
