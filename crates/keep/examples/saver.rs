//! Saves a design and keeps it for recovery over and over, to be killed in the middle of it. `tests/outside/killed.py` looks at
//! what is left then.
//!
//! Each line of what it prints is said when that is done: `made N` when the design says N, `saved N` when its file does.

use keep::Keep;
use keep::recovery::Recovery;
use std::io::Write;
use std::path::PathBuf;
use std::time::Duration;

extern crate foliowright_keep as keep;

fn main() {
    let mut words = std::env::args_os().skip(1).map(PathBuf::from);
    let (Some(design), Some(state)) = (words.next(), words.next()) else { return };
    let Ok(opened) = disk::open_design(&design) else { return };
    let (mut document, mut version) = (opened.document, opened.version);
    let first: u64 = document.title.rsplit(' ').next().and_then(|number| number.parse().ok()).unwrap_or(0);
    // Far more often than a window does, so that most moments are in the middle of it.
    let recovery = Recovery::with_pace(&Keep::at(state), Duration::from_millis(1));
    let mut out = std::io::stdout();
    for number in first + 1.. {
        document.title = format!("Step {number}");
        recovery.keep(&document, Some(&design), version);
        let mut said = writeln!(out, "made {number}");
        // Both at the same time, and each alone.
        if number % 3 != 0 {
            match disk::replace_design(&design, &document, version) {
                Ok(saved) => version = Some(saved.version),
                Err(error) => said = said.and(writeln!(out, "refused: {error}")),
            }
            said = said.and(writeln!(out, "saved {number}"));
        } else {
            std::thread::sleep(Duration::from_millis(2));
        }
        if said.is_err() {
            return;
        }
    }
}
