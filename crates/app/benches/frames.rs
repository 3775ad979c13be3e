//! How long the window takes for a frame, from the pointer's move to triangles ready to be painted: the first frame, one
//! while a line is dragged, one while the folio folds, and whether it asks for another when nothing happens. On the largest
//! starter, plain and printed on both sides with pictures of 13 million pixels. `cargo bench -p foliowright-app`; nothing is
//! asserted, since machines differ. What a graphics card, or a processor in its place, takes to fill the triangles is not in
//! it.

#![expect(clippy::print_stdout, reason = "a bench speaks to whoever runs it")]

use egui::accesskit::Node;
use egui::{Event, Key, Modifiers, PointerButton, Pos2, Rect, Vec2};
use foliowright_app::{Scripted, Window};
use model::Document;
use std::time::{Duration, Instant};

/// The largest starter, and a line to drag on it.
const STARTER: (&str, &str) = ("season-diary", "Score line Left flap fold");

/// The size that the window opens with, px.
const SIZE: Vec2 = Vec2::new(1400.0, 900.0);

/// What each is meant to take at most, ms.
const BUDGETS: [(&str, f64); 3] = [("first frame", 250.0), ("frame while dragging", 8.0), ("frame while folding", 8.0)];

/// Windows opened, and frames of each sort.
const RUNS: (usize, usize) = (7, 200);

/// Frames after which a window that is still asking for more never rests.
const MOST_FRAMES: usize = 500;

fn main() {
    let starter = file::starters::ALL.iter().find(|one| one.name == STARTER.0).expect("there is such a starter");
    let printed = file::from_text(starter.text).expect("a starter can be read");
    let mut plain = printed.clone();
    (plain.stock.front.artwork, plain.stock.back.artwork) = (None, None);
    println!("{} at {} x {} px, ms", STARTER.0, SIZE.x, SIZE.y);
    println!("{:>24}{:>10}{:>24}{:>12}{:>12}{:>12}", "", "budget", "", "least", "median", "worst");
    // The most memory ever used can only grow, so the plain one comes first.
    measure("plain paper", &plain);
    measure("printed on both sides", &printed);
}

fn measure(paper: &str, document: &Document) {
    let firsts = (0..RUNS.0).map(|_| Desk::open(document).1).collect();
    let (mut desk, _) = Desk::open(document);
    // Pictures are read on a thread of their own.
    let start = Instant::now();
    desk.rest();
    while start.elapsed() < Duration::from_secs(3) {
        std::thread::sleep(Duration::from_millis(20));
        desk.frame();
    }
    desk.rest();
    let idle = desk.is_resting();
    let dragged = desk.drag(STARTER.1);
    let folded = desk.fold();
    for ((what, budget), times) in BUDGETS.into_iter().zip([firsts, dragged, folded]) {
        let times = told(times).map(|ms| format!("{ms:>12.2}")).concat();
        println!("{what:>24}{budget:>10.0}{paper:>24}{times}");
    }
    let asks = if idle { "none asked" } else { "asks for one" };
    println!("{:>24}{:>10}{paper:>24}{asks:>12}", "idle", "none");
    match peak_memory() {
        Some(peak) => println!("{:>24}{:>10}{paper:>24}{peak:>9.0} MB", "most memory so far", ""),
        None => println!("{:>24}  is told by Linux alone", "most memory so far"),
    }
}

/// The window, what happens to it, and the time.
struct Desk {
    ctx: egui::Context,
    window: Window,
    events: Vec<Event>,
    clock: Instant,
    /// When it wants to be drawn again.
    again: Duration,
    /// What a screen reader is told, while it is listened to.
    nodes: Vec<Node>,
}

impl Desk {
    /// A new window with its first frame drawn, and how long that took from the document on.
    fn open(document: &Document) -> (Self, Duration) {
        let document = document.clone();
        let start = Instant::now();
        let ctx = egui::Context::default();
        Window::set_up(&ctx);
        let window = Window::new(document, None, Box::new(Scripted::new([])));
        let (events, nodes) = (Vec::new(), Vec::new());
        let mut desk = Self { ctx, window, events, clock: start, again: Duration::ZERO, nodes };
        desk.frame();
        (desk, start.elapsed())
    }

    /// Draws a frame as far as triangles, and says how long it took.
    fn frame(&mut self) -> Duration {
        let input = egui::RawInput {
            screen_rect: Some(Rect::from_min_size(Pos2::ZERO, SIZE)),
            time: Some(self.clock.elapsed().as_secs_f64()),
            events: std::mem::take(&mut self.events),
            focused: true,
            ..egui::RawInput::default()
        };
        let start = Instant::now();
        let output = self.ctx.run_ui(input, |ui| self.window.ui(ui));
        let triangles = self.ctx.tessellate(output.shapes, output.pixels_per_point);
        let taken = start.elapsed();
        drop(std::hint::black_box(triangles));
        self.again = output.viewport_output.values().map(|view| view.repaint_delay).min().unwrap_or(Duration::MAX);
        if let Some(update) = output.platform_output.accesskit_update {
            self.nodes = update.nodes.into_iter().map(|(_, node)| node).collect();
        }
        taken
    }

    /// Draws until nothing more is asked for.
    fn rest(&mut self) {
        for _ in 0..MOST_FRAMES {
            self.frame();
            if self.again == Duration::MAX {
                return;
            }
        }
    }

    /// Whether nothing is asked for after a frame in which nothing happens.
    fn is_resting(&mut self) -> bool {
        self.frame();
        self.again == Duration::MAX
    }

    /// The middle of what a screen reader calls so.
    fn middle_of(&mut self, label: &str) -> Pos2 {
        self.ctx.enable_accesskit();
        self.frame();
        self.frame();
        self.ctx.disable_accesskit();
        let node = self.nodes.iter().find(|node| node.label() == Some(label)).expect("the window shows it");
        let bounds = node.bounds().expect("it lies somewhere");
        #[expect(clippy::cast_possible_truncation, reason = "pixels need no more")]
        let middle = Pos2::new(bounds.x0.midpoint(bounds.x1) as f32, bounds.y0.midpoint(bounds.y1) as f32);
        middle
    }

    fn button(&mut self, pos: Pos2, pressed: bool) {
        let (button, modifiers) = (PointerButton::Primary, Modifiers::NONE);
        self.events.push(Event::PointerButton { pos, button, pressed, modifiers });
        self.frame();
    }

    /// Drags a line to and fro, to another place in each frame.
    fn drag(&mut self, label: &str) -> Vec<Duration> {
        // Beside its middle, where its handle may lie.
        let from = self.middle_of(label) + Vec2::new(0.0, 40.0);
        self.events.push(Event::PointerMoved(from));
        self.frame();
        self.button(from, true);
        let (mut at, mut times) = (from, Vec::new());
        for i in 0..MOST_FRAMES {
            // To the right and back, a groove or so a frame.
            let step = u8::try_from(i % 8).unwrap_or(0);
            at.x = from.x + f32::from(if step < 4 { step } else { 8 - step }) * 6.0;
            self.events.push(Event::PointerMoved(at));
            let before = self.window.session().revision();
            let taken = self.frame();
            // Where the line has not come to another groove there is nothing to work out.
            times.extend((self.window.session().revision() > before).then_some(taken));
        }
        assert!(self.window.session().in_gesture() && times.len() >= RUNS.1, "the line is being dragged");
        self.button(at, false);
        self.rest();
        times
    }

    /// Lays the folio flat and lets it fold.
    fn fold(&mut self) -> Vec<Duration> {
        let mut times = Vec::new();
        while times.len() < RUNS.1 {
            self.press(Key::Num1);
            self.rest();
            self.press(Key::Space);
            let before = times.len();
            while times.len() < RUNS.1 && self.again < Duration::from_secs(1) {
                times.push(self.frame());
                std::thread::sleep(Duration::from_millis(8));
            }
            assert!(times.len() > before, "the folio folds");
        }
        times
    }

    fn press(&mut self, key: Key) {
        let modifiers = Modifiers::NONE;
        for pressed in [true, false] {
            self.events.push(Event::Key { key, physical_key: None, pressed, repeat: false, modifiers });
            self.frame();
        }
    }
}

/// The least, the median and the most, in ms. The least is what counts on a machine that does other work at the same time.
fn told(mut times: Vec<Duration>) -> [f64; 3] {
    times.sort_unstable();
    let ms = |time: Option<&Duration>| time.map_or(0.0, |time| time.as_secs_f64() * 1e3);
    [ms(times.first()), ms(times.get(times.len() / 2)), ms(times.last())]
}

/// The most memory that this process has had at once, MB.
fn peak_memory() -> Option<f64> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"))?;
    line.trim().strip_suffix(" kB")?.trim().parse::<f64>().ok().map(|kb| kb / 1024.0)
}
