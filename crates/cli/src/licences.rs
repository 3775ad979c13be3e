//! `foliowright licences`: the version, the licence, and what the program is built from.

use crate::Outcome;
use std::io::Write;

pub(crate) fn run(out: &mut dyn Write) -> Outcome {
    out.write_all(about::page().as_bytes())?;
    Ok(())
}
