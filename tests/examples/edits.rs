//! A maker who never stops: `edits [COUNT [STARTER]]` edits a design so often, takes steps back and makes them again, and says
//! ten times how much memory the process holds. `tests/outside/long_use.py` looks at what it says.
//!
//! Each line of what it prints is `DONE STEPS KIB`: how many edits, how many steps the history holds, the resident memory (of
//! Linux's `/proc/self/status`; 0 elsewhere).

#![expect(clippy::print_stdout, clippy::print_stderr, reason = "a tool for those who work on the program")]

use foliowright_tests::dice::Dice;
use model::change::move_line;
use model::{Datum, Edit, Length, Line, LineId, Place};
use session::Session;

fn main() {
    let mut words = std::env::args().skip(1);
    let count: u64 = words.next().and_then(|word| word.parse().ok()).unwrap_or(100_000);
    let name = words.next().unwrap_or_else(|| "seed-swap".to_owned());
    let Some(starter) = file::starters::ALL.iter().find(|starter| starter.name == name) else {
        eprintln!("no starter is called {name}");
        std::process::exit(2);
    };
    let document = match file::from_text(starter.text) {
        Ok(document) => document,
        Err(error) => {
            eprintln!("{name}: {error}");
            std::process::exit(2);
        }
    };
    let mut session = Session::new(document);
    let mut dice = Dice::new(count);
    for done in 1..=count {
        one(&mut session, &mut dice);
        if done % (count / 10).max(1) == 0 {
            println!("{done} {} {}", session.steps().0.len(), resident());
        }
    }
}

/// One edit, or steps back and forth, or a drag that is given up or kept.
fn one(session: &mut Session, dice: &mut Dice) {
    // What is refused changes nothing, and that is as much a part of long use as what is done.
    let _refused = match dice.below(12) {
        0 => (0..=dice.below(2)).try_for_each(|_| session.undo().map(drop)),
        1 => (0..=dice.below(2)).try_for_each(|_| session.redo().map(drop)),
        2 => {
            session.begin_gesture("Move a line");
            let moved = (0..3).try_for_each(|_| {
                let edit = moved(session, dice);
                session.drag(edit)
            });
            if dice.below(2) == 0 {
                session.cancel_gesture();
            } else {
                session.finish_gesture();
            }
            moved
        }
        3 => session.apply("Change the title", Edit::SetTitle(format!("Folio {}", dice.below(1_000_000)))),
        _ => match moved(session, dice) {
            Some(edit) => session.apply("Move a line", edit),
            None => Ok(()),
        },
    };
}

/// A line that is measured from the sheet's edge, a few millimetres from where it is.
fn moved(session: &Session, dice: &mut Dice) -> Option<Edit> {
    let from_edge = |line: &Line| match line.place {
        Place::Measured { from: Datum::Edge, distance, .. } => Some((line.id, distance)),
        _ => None,
    };
    let lines: Vec<(LineId, Length)> = session.document().lines.iter().filter_map(from_edge).collect();
    let (id, distance) = *lines.get(dice.below(lines.len()))?;
    let to = distance + dice.length(Length::MILLIMETRE * -3, Length::MILLIMETRE * 3, Length::MILLIMETRE);
    move_line(session.document(), &session.derived().layout, id, to)
}

/// Resident memory in KiB.
fn resident() -> u64 {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status.lines().find_map(|line| line.strip_prefix("VmRSS:"));
    line.and_then(|line| line.split_whitespace().next()?.parse().ok()).unwrap_or(0)
}
