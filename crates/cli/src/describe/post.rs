//! How the closed folio goes by post.

use super::Told;
use check::Context;
use check::post::{MailPiece, mail_piece, posted, words};
use serde_json::{Value, json};
use std::io::{self, Write};

/// The section on post: what it goes as with each service. Nothing while it can't be closed.
pub(super) fn write(told: &Told<'_>, out: &mut dyn Write) -> io::Result<()> {
    let Some(piece) = piece(told) else { return Ok(()) };
    writeln!(out, "\nPost")?;
    for sentence in words(&piece, told.document.units) {
        writeln!(out, "  {sentence}")?;
    }
    Ok(())
}

/// The piece and what it goes as; null while it can't be closed.
pub(super) fn value(told: &Told<'_>) -> Value {
    let Some(piece) = piece(told) else { return Value::Null };
    let service = |posted: check::post::Posted| {
        json!({
            "service": posted.service,
            "format": posted.format.map(|format| format.name),
            "source": posted.format.map(|format| format.source),
            "surcharge": posted.surcharge,
        })
    };
    json!({
        "length_mm": piece.length,
        "height_mm": piece.height,
        "thickness_mm": piece.thickness,
        "uneven_mm": piece.uneven,
        "grams": piece.grams,
        "services": posted(&piece).into_iter().map(service).collect::<Vec<_>>(),
        "sentences": words(&piece, told.document.units),
    })
}

fn piece(told: &Told<'_>) -> Option<MailPiece> {
    let folded = told.derived.folded.as_ref().map(|(assembly, folding)| (assembly, folding));
    let Told { document, layout, .. } = *told;
    mail_piece(&Context::new(document, layout, folded, told.plan()))
}
