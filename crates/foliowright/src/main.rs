//! Foliowright: a window to design a folio in, and commands that need no screen.

use app::{DesktopDialogs, Window};
use disk::Opened;
use eframe::egui;
use std::ffi::OsString;
use std::panic::{self, AssertUnwindSafe};
use std::path::Path;
use std::process::ExitCode;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

/// The exit code when a file can't be read or there is no display.
const UNREADABLE: u8 = 2;

/// Said when there is no screen to open a window on.
const NO_DISPLAY: &str = "Foliowright found no display to open its window on; without one, \
    `foliowright export template FILE -o OUT.pdf` makes the printable template.";

fn main() -> ExitCode {
    let arguments: Vec<OsString> = std::env::args_os().skip(1).collect();
    match arguments.as_slice() {
        [first, ..] if cli::is_command(first) || is_misspelt(first) => cli::run(arguments.into_iter()),
        [] => window(None),
        [file] => open(Path::new(file)),
        [_, second, ..] => {
            let second = second.to_string_lossy();
            end(&format!("One file at a time opens in the window; \"{second}\" is one too many."))
        }
    }
}

/// Whether a word can only be meant for the command line: an option, or a plain word that no file is called. The command
/// line then says what it knows.
fn is_misspelt(word: &OsString) -> bool {
    let plain = word.to_str().is_some_and(|word| word.bytes().all(|b| b.is_ascii_lowercase() || b == b'-'));
    plain && !Path::new(word).exists()
}

fn open(path: &Path) -> ExitCode {
    match disk::open_design(path) {
        Ok(opened) => window(Some(opened)),
        Err(error) => end(&error.to_string()),
    }
}

/// Opens the window, on the demo where no design was opened, and stays until it is closed.
fn window(opened: Option<Opened>) -> ExitCode {
    if !has_display() {
        return end(NO_DISPLAY);
    }
    // A missing system library makes the windowing crates panic instead of saying so, and what they print then speaks
    // to nobody: it is held back until the window is open. Later panics are faults of our own and are shown.
    let is_open = Arc::new(AtomicBool::new(false));
    let (usual, seen) = (panic::take_hook(), Arc::clone(&is_open));
    panic::set_hook(Box::new(move |info| {
        if seen.load(Ordering::Relaxed) {
            usual(info);
        }
    }));
    let told = Arc::clone(&is_open);
    match panic::catch_unwind(AssertUnwindSafe(move || run(opened, &told))) {
        Ok(Ok(())) => ExitCode::SUCCESS,
        Err(fault) if is_open.load(Ordering::Relaxed) => panic::resume_unwind(fault),
        Ok(Err(_)) | Err(_) => end(NO_DISPLAY),
    }
}

fn run(opened: Option<Opened>, is_open: &Arc<AtomicBool>) -> eframe::Result {
    let viewport = egui::ViewportBuilder::default()
        .with_title("Foliowright")
        .with_app_id("foliowright")
        .with_inner_size([1400.0, 900.0])
        .with_min_inner_size([1080.0, 640.0]);
    let options = eframe::NativeOptions { viewport, ..eframe::NativeOptions::default() };
    let is_open = Arc::clone(is_open);
    let create: eframe::AppCreator<'_> = Box::new(move |creation| {
        is_open.store(true, Ordering::Relaxed);
        Window::set_up(&creation.egui_ctx);
        let dialogs = Box::new(DesktopDialogs::default());
        let window = match opened {
            Some(opened) => Window::opened(opened, dialogs),
            None => Window::new(file::starters::demo(), None, dialogs),
        };
        Ok(Box::new(Shell(window.remembering(keep::Keep::usual()))))
    });
    eframe::run_native("foliowright", options, create)
}

/// The window as the windowing crate wants it.
struct Shell(Window);

impl eframe::App for Shell {
    fn ui(&mut self, ui: &mut egui::Ui, _frame: &mut eframe::Frame) {
        self.0.ui(ui);
    }
}

/// Whether there is a screen to ask for at all. Only X11 and Wayland name theirs in the environment.
fn has_display() -> bool {
    let named = |variable| std::env::var_os(variable).is_some_and(|value| !value.is_empty());
    cfg!(any(windows, target_os = "macos")) || named("DISPLAY") || named("WAYLAND_DISPLAY")
}

/// Says one sentence and gives the code to end with.
#[expect(clippy::print_stderr, reason = "this is where the program speaks to whoever started it")]
fn end(sentence: &str) -> ExitCode {
    eprintln!("{sentence}");
    ExitCode::from(UNREADABLE)
}
