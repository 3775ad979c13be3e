//! What commands on lines would change of a line of a part of her own, which has the keys on the sheet.

use super::change::Change;
use crate::naming::part::on_part;
use crate::pane::OwnLine;
use model::Work;
use session::own::{Little, OwnWork};
use session::work::Kind;
use session::{Command, Session};

/// What a command would change of such a line; `None` for commands that are not for it, and for what has no such line.
///
/// # Errors
/// Says in a sentence why it can't.
pub(crate) fn change(session: &Session, of: OwnLine, command: Command) -> Option<Result<Change, String>> {
    let (document, layout) = (session.document(), &session.derived().layout);
    let little = Little::of(document, layout, of.0)?;
    let work = little.document.line(of.1)?.work;
    let line = OwnWork::new(document, layout, of);
    let (verb, edit) = match command {
        Command::DeleteLine => ("Delete", line.deleted()),
        Command::SwitchStretch if work.is_score() => ("Cut", line.switched(Kind::Cut)),
        Command::SwitchStretch => ("Score", line.switched(Kind::Score)),
        Command::ReverseFold => ("Fold", line.reversed()),
        Command::SwitchAngle => ("Fold", line.at_other_angle()),
        _ => return None,
    };
    let (name, part) = (little.document.line_name(of.1), document.part_name(of.0));
    let done = || -> Result<Change, String> {
        let edit = edit.map_err(|refusal| on_part(&part, &refusal))?.ok_or_else(|| match work {
            Work::Score(_) => format!("\"{name}\" stays as it is"),
            other => format!("\"{name}\" is a {} and does not fold", other.word().to_lowercase()),
        })?;
        Ok(Change::new(format!("{verb} {name} of {part}"), edit))
    };
    Some(done())
}
