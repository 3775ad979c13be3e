//! What is brought in from outside by hand: files dropped on the window, and what is on the clipboard.

use super::Window;
use crate::commands;
use crate::dialog::{Purpose, Then};
use egui::{Event, Key, ViewportCommand};
use model::{Edit, Pattern, SheetEdge};
use session::{Command, Session};
use std::path::{Path, PathBuf};

/// The endings of pictures that can be printed on paper.
const PICTURES: [&str; 3] = ["png", "jpg", "jpeg"];

/// How many frames may pass until what was asked for from the clipboard is there.
const MOST_AWAITED: u8 = 3;

/// Said where there is nothing to paste.
const NOTHING_COPIED: &str = "Nothing was copied that could be pasted; copy a line or a part first";

/// What is known of the clipboard, which can be read only by asking for it.
#[derive(Debug, Default)]
pub(super) struct Clipboard {
    /// Whether a line or part was on it when it was last heard of.
    holds: bool,
    /// For how many frames more what is on it is waited for.
    awaited: u8,
    /// Whether the key of *Paste* went down for something else, or has brought something.
    is_heard: bool,
}

impl Clipboard {
    /// Whether there is something to paste, as far as is known.
    pub(super) const fn holds_something(&self) -> bool {
        self.holds
    }

    /// Notes that what is on it was asked for.
    pub(super) const fn await_text(&mut self) {
        self.awaited = MOST_AWAITED;
    }

    /// Whether the events of a frame tell that it was asked for and nothing is on it. The windowing crate is silent then: of the
    /// keys for *Paste* it lets the window hear only how they come up.
    fn turns_out_empty(&mut self, events: &[Event], is_first_pass: bool) -> bool {
        let mut is_empty = false;
        let mut came = false;
        for event in events {
            match event {
                Event::Paste(_) | Event::PasteImage(_) => {
                    self.is_heard = true;
                    came = true;
                }
                Event::Key { key: Key::V, pressed: true, .. } => self.is_heard = true,
                // Control may have come up before it.
                Event::Key { key: Key::V, pressed: false, .. } => is_empty |= !std::mem::take(&mut self.is_heard),
                _ => {}
            }
        }
        if came {
            self.awaited = 0;
        } else if is_first_pass && self.awaited > 0 {
            self.awaited -= 1;
            is_empty |= self.awaited == 0;
        }
        self.holds &= !is_empty;
        is_empty
    }
}

impl Window {
    /// Takes the first of the files that were dropped. While they hover, gives what dropping them would do.
    pub(super) fn take_dropped(&mut self, ctx: &egui::Context) -> Option<String> {
        let (dropped, hovering) = ctx.input(|input| {
            let files: Vec<PathBuf> = input.raw.dropped_files.iter().map(|file| file.path().to_owned()).collect();
            (files, !input.raw.hovered_files.is_empty())
        });
        let Some(first) = dropped.into_iter().next() else {
            let hint = "Drop a design here to open it, or a PNG or JPEG to print it on the front of the sheet.";
            return hovering.then(|| hint.to_owned());
        };
        self.status = None;
        let ending = first.extension().map(|ending| ending.to_string_lossy().to_lowercase()).unwrap_or_default();
        if self.dialog.is_some() {
            self.complain("Answer the question first, then drop the file again");
        } else if PICTURES.contains(&ending.as_str()) {
            self.take_picture(&first);
        } else {
            // Whatever else it is, opening it says what is wrong with it.
            self.open_path(ctx, first);
        }
        None
    }

    /// Opens a design by its path, once unsaved changes are seen to.
    pub(super) fn open_path(&mut self, ctx: &egui::Context, path: PathBuf) {
        self.waiting = Some(path);
        self.guard(ctx, Then::OpenWaiting);
    }

    /// Opens the design that waits; one that is not there is not offered again.
    pub(super) fn open_waiting(&mut self, ctx: &egui::Context) {
        let Some(path) = self.waiting.take() else { return };
        if !path.exists() {
            self.arrangement.forget_recent(&path);
        }
        self.take_path(ctx, Purpose::Open, path);
    }

    /// A picture becomes what is printed on the front of the sheet, as wide as that.
    fn take_picture(&mut self, picture: &Path) {
        self.session.finish_gesture();
        let Some(design) = self.file.clone() else {
            self.complain("Save the design first, then drop the picture again: it is kept beside the design's file");
            return;
        };
        let document = self.session.document();
        match disk::artwork::take_in(&design, picture, document.stock.size.width()) {
            Ok(artwork) => {
                let mut stock = document.stock.clone();
                let name = artwork.file.clone();
                let side = &mut stock.front;
                side.artwork = Some(artwork);
                if side.pattern == Pattern::Plain {
                    // A picture has an up; Paper… says so if this one has none.
                    side.pattern = Pattern::OneWay(SheetEdge::Top);
                }
                match self.session.apply("Print a picture on the front", Edit::SetStock(stock)) {
                    Ok(()) => self.report(format!(
                        "\"{name}\" is printed on the front, as wide as the sheet, with its top up. Paper… changes that."
                    )),
                    Err(refusal) => self.complain(&refusal.to_string()),
                }
            }
            Err(error) => self.complain(&error.to_string()),
        }
    }

    /// What the clipboard's keys ask for; while she types they are the field's.
    pub(super) fn hear_clipboard(&mut self, ctx: &egui::Context) {
        let events: Vec<Event> = ctx.input(|input| input.events.clone());
        let is_empty = self.clipboard.turns_out_empty(&events, ctx.current_pass_index() == 0);
        if self.is_typing(ctx) || self.session.in_gesture() {
            return;
        }
        if is_empty {
            self.complain(NOTHING_COPIED);
        }
        for event in events {
            match event {
                Event::Copy => self.run(ctx, Command::Copy),
                Event::Cut => self.run(ctx, Command::Cut),
                Event::Paste(text) => self.paste(ctx, &text),
                Event::PasteImage(_) => {
                    self.complain(
                        "What is on the clipboard is a picture; save it as a file and drop that on the window",
                    );
                }
                _ => {}
            }
        }
    }

    /// Does what a command says about the clipboard; says whether it was one.
    pub(super) fn exchange(&mut self, ctx: &egui::Context, command: Command) -> bool {
        match command {
            Command::Copy | Command::Cut => match commands::copied(&self.session) {
                Ok((text, words)) => {
                    ctx.copy_text(text);
                    self.clipboard.holds = true;
                    if command == Command::Cut {
                        self.run(ctx, Command::DeleteLine);
                    }
                    self.report(format!("{} {words}.", if command == Command::Cut { "Took out" } else { "Copied" }));
                }
                Err(why) => self.complain(&why),
            },
            Command::Paste if !self.clipboard.holds => self.complain(NOTHING_COPIED),
            Command::Paste => {
                // The text comes with an event of its own.
                ctx.send_viewport_cmd(ViewportCommand::RequestPaste);
                self.clipboard.await_text();
                ctx.request_repaint();
            }
            Command::SelectAll => {
                let all: session::Selection = self.session.document().lines.iter().map(|line| line.id).collect();
                self.session.select(all);
                self.show_list_of_selected();
            }
            _ => return false,
        }
        true
    }

    fn paste(&mut self, ctx: &egui::Context, text: &str) {
        let pasted = commands::pasted(&self.session, text);
        // It may have been copied in another window; or something else may have been copied since.
        self.clipboard.holds = commands::is_clip(text);
        match pasted {
            Ok(change) => self.change(ctx, &change.label, change.edit, change.select),
            Err(why) => self.complain(&why),
        }
    }

    /// Goes back or on to a step of history.
    pub(super) fn go_to(&mut self, count: usize) {
        self.step_in_history(|session: &mut Session| session.go_to(count).map(|()| true));
    }
}
