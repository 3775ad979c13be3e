//! A maker who does anything at all: presses keys, clicks and drags wherever, types whatever, and takes it back now and
//! then. What must hold after each of her doings is checked here, by what the window shows to the outside.

use egui::{Event, Key, Modifiers, MouseWheelUnit, PointerButton, Pos2, Vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use foliowright_app::{Chooser, Chosen, Request, Window};
use model::part::change::add;
use model::part::usual::{Fit, Host, Sort};
use model::{Area, Document, Face, Layout, Turn};

/// After so many doings everything is taken back and made again.
const THERE_AND_BACK: u32 = 400;

/// After so many doings the document is written and read again.
const READ_AGAIN: u32 = 25;

/// The size of the window, px.
const SIZE: Vec2 = Vec2::new(1280.0, 720.0);

/// Keys that mean something, and some that don't.
const KEYS: [Key; 55] = [
    Key::A,
    Key::B,
    Key::C,
    Key::D,
    Key::E,
    Key::F,
    Key::G,
    Key::H,
    Key::I,
    Key::J,
    Key::K,
    Key::L,
    Key::M,
    Key::N,
    Key::O,
    Key::P,
    Key::Q,
    Key::R,
    Key::S,
    Key::T,
    Key::U,
    Key::V,
    Key::W,
    Key::X,
    Key::Y,
    Key::Z,
    Key::Num0,
    Key::Num1,
    Key::Num2,
    Key::Space,
    Key::Enter,
    Key::Enter,
    Key::Escape,
    Key::Escape,
    Key::Tab,
    Key::Tab,
    Key::Delete,
    Key::Backspace,
    Key::Home,
    Key::PageUp,
    Key::PageDown,
    Key::ArrowLeft,
    Key::ArrowRight,
    Key::ArrowUp,
    Key::ArrowDown,
    Key::F1,
    Key::F2,
    Key::F3,
    Key::F4,
    Key::F6,
    Key::F7,
    Key::F8,
    Key::F9,
    Key::F10,
    Key::F12,
];

/// What she types.
const TEXTS: [&str; 14] = [
    "3",
    "1/4",
    "2 3/4 in",
    "12 - 2 3/4",
    "70 mm",
    "-",
    "x",
    "",
    " ",
    "8 1/2 / 2",
    "99999999999",
    "12 x 12 in",
    "é",
    "0",
];

/// Chooses no file, ever.
struct Nobody;

impl Chooser for Nobody {
    fn ask(&mut self, _request: Request, _ctx: &egui::Context) {}

    fn answer(&mut self, _ctx: &egui::Context) -> Option<Chosen> {
        Some(Chosen::Nothing)
    }

    fn forget(&mut self) {}
}

/// The same design with a shape of her own on its base, as large as that, scored either way.
pub(crate) fn with_own(mut document: Document) -> Document {
    let layout = Layout::of(&document);
    let base = layout.base.and_then(|base| Some((base, layout.panel_ref(base)?)));
    let Some((base, on)) = base else { return document };
    let host = Host::of(&layout, base);
    let part = Sort::OwnShape.fitted(&host, &Fit::usual(document.units)).part(document.next_part(), on, Face::Front);
    let id = part.id;
    document.apply(add(&document, part)).expect("a part fits the base");
    for turn in [Turn::None, Turn::Once] {
        let layout = Layout::of(&document);
        let added = session::own::add_score(&document, &layout, id, turn).expect("there is room for a score");
        document.apply(added.expect("it has a little sheet").0).expect("the score has a place");
    }
    document
}

/// She, at her window.
pub(crate) struct Maker {
    bench: Harness<'static, Window>,
    chance: u64,
    doings: u32,
    at: Pos2,
    is_down: bool,
    /// The design as it was before its first step.
    start: Document,
}

impl Maker {
    /// A maker at a design; the same seed does the same.
    pub(crate) fn new(document: Document, seed: u64) -> Self {
        let window = Window::new(document.clone(), None, Box::new(Nobody));
        let mut bench = Harness::builder()
            .with_size(SIZE)
            .with_context_setup(Window::set_up)
            .build_ui_state(|ui, window: &mut Window| window.ui(ui), window);
        bench.step();
        Self { bench, chance: seed, doings: 0, at: Pos2::ZERO, is_down: false, start: document }
    }

    /// Does so many things, and checks what must hold.
    pub(crate) fn work(&mut self, doings: u32) {
        for _ in 0..doings {
            self.do_something();
            self.doings += 1;
            self.check();
            if self.doings.is_multiple_of(THERE_AND_BACK) {
                self.go_there_and_back();
            }
        }
    }

    /// How many steps can be taken back now.
    pub(crate) fn steps(&self) -> usize {
        self.bench.state().session().steps().1
    }

    /// One of a number of things, by chance: splitmix64 (Steele, Lea and Flood, 2014).
    fn chance(&mut self, of: u64) -> u64 {
        self.chance = self.chance.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.chance;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        (z ^ (z >> 31)) % of
    }

    fn pick<T: Copy>(&mut self, of: &[T]) -> T {
        of[usize::try_from(self.chance(of.len() as u64)).unwrap_or(0)]
    }

    fn modifiers(&mut self) -> Modifiers {
        match self.chance(8) {
            0 => Modifiers::COMMAND,
            1 => Modifiers::SHIFT,
            2 => Modifiers::COMMAND | Modifiers::SHIFT,
            3 => Modifiers::ALT,
            _ => Modifiers::NONE,
        }
    }

    fn anywhere(&mut self) -> Pos2 {
        let mut along = |size: f32| {
            let share = u16::try_from(self.chance(1001)).unwrap_or(0);
            f32::from(share) / 1000.0 * size
        };
        Pos2::new(along(SIZE.x), along(SIZE.y))
    }

    /// Something that a screen reader would find, at its middle.
    fn something(&mut self) -> Option<Pos2> {
        let count = self.bench.query_all_by(|_| true).count();
        let nth = usize::try_from(self.chance(count.max(1) as u64)).unwrap_or(0);
        let bounds =
            self.bench.query_all_by(|_| true).nth(nth).and_then(|node| node.accesskit_node().bounding_box())?;
        #[expect(clippy::cast_possible_truncation, reason = "pixels need no more")]
        let middle = Pos2::new(bounds.x0.midpoint(bounds.x1) as f32, bounds.y0.midpoint(bounds.y1) as f32);
        egui::Rect::from_min_size(Pos2::ZERO, SIZE).contains(middle).then_some(middle)
    }

    fn do_something(&mut self) {
        match self.chance(20) {
            0..=3 => self.press_a_key(),
            4..=8 => {
                if let Some(at) = self.something() {
                    self.click(at);
                }
            }
            9..=10 => {
                let at = self.anywhere();
                self.click(at);
            }
            11..=14 => self.pull(),
            15..=16 => {
                let at = self.anywhere();
                self.move_to(at);
            }
            17 => {
                let text = self.pick(&TEXTS);
                self.send(Event::Text(text.to_owned()));
            }
            18 => {
                let (delta, modifiers) = (if self.chance(2) == 0 { 80.0 } else { -80.0 }, self.modifiers());
                let (unit, delta) = (MouseWheelUnit::Point, Vec2::new(0.0, delta));
                let source = egui::MouseWheelSource::Wheel;
                self.send(Event::MouseWheel { unit, delta, modifiers, phase: egui::TouchPhase::Move, source });
            }
            _ => {
                let event = match self.chance(4) {
                    0 => Event::Copy,
                    1 => Event::Cut,
                    2 => Event::Paste(self.pick(&TEXTS).to_owned()),
                    _ => Event::WindowFocused(self.chance(2) == 0),
                };
                self.send(event);
            }
        }
    }

    fn press_a_key(&mut self) {
        let (key, modifiers) = (self.pick(&KEYS), self.modifiers());
        self.bench.key_press_modifiers(modifiers, key);
        self.bench.step();
    }

    fn send(&mut self, event: Event) {
        self.bench.event(event);
        self.bench.step();
    }

    fn move_to(&mut self, at: Pos2) {
        self.at = at;
        self.send(Event::PointerMoved(at));
    }

    fn button(&mut self, pressed: bool) {
        self.is_down = pressed;
        let (pos, modifiers) = (self.at, self.modifiers());
        let button = if self.chance(12) == 0 { PointerButton::Secondary } else { PointerButton::Primary };
        // What was pressed is let go, whichever it was.
        let buttons = if pressed { vec![button] } else { vec![PointerButton::Primary, PointerButton::Secondary] };
        for button in buttons {
            self.bench.event(Event::PointerButton { pos, button, pressed, modifiers });
        }
        self.bench.step();
    }

    fn click(&mut self, at: Pos2) {
        self.move_to(at);
        self.button(!self.is_down);
        if self.is_down {
            self.button(false);
        }
    }

    /// A drag, now and then with a key in the middle of it.
    fn pull(&mut self) {
        let from = if self.chance(2) == 0 { self.something() } else { None };
        let from = from.unwrap_or_else(|| self.anywhere());
        self.move_to(from);
        self.button(true);
        for _ in 0..=self.chance(3) {
            let to = self.anywhere();
            let near = from.lerp(to, 0.3);
            self.move_to(near);
            if self.chance(8) == 0 {
                self.press_a_key();
            }
        }
        if self.chance(10) > 0 {
            self.button(false);
        }
    }

    /// What must hold whatever she did.
    fn check(&mut self) {
        let session = self.bench.state().session();
        let (document, layout) = (session.document(), &session.derived().layout);
        let ledger = layout.ledger;
        let halves = |area: Area| area.half_nm2();
        let parts = [ledger.folio, ledger.offcuts, ledger.slots, ledger.waste].map(halves);
        assert_eq!(parts.iter().sum::<i128>(), halves(ledger.sheet), "the sheet's area, after {} doings", self.doings);
        if self.doings.is_multiple_of(READ_AGAIN) {
            assert_eq!(&Layout::of(document), layout, "the layout, after {} doings", self.doings);
            let again = file::from_text(&file::to_text(document));
            assert_eq!(again.as_ref(), Ok(document), "the file, after {} doings", self.doings);
        }
        if session.in_gesture() {
            return;
        }
        match session.steps() {
            // Another design, or this one before anything was done.
            (steps, 0) if steps.is_empty() => self.start = document.clone(),
            (_, 0) => assert_eq!(document, &self.start, "all taken back, after {} doings", self.doings),
            _ => {}
        }
    }

    /// Takes everything back and makes it again.
    fn go_there_and_back(&mut self) {
        self.button(false);
        for _ in 0..4 {
            self.bench.key_press(Key::Escape);
            self.bench.step();
        }
        let now = self.bench.state().session().document().clone();
        let (steps, made) = self.counted();
        let keys = [(made, Modifiers::COMMAND), (steps, Modifiers::COMMAND | Modifiers::SHIFT)];
        for (presses, modifiers) in keys {
            for _ in 0..presses {
                self.bench.key_press_modifiers(modifiers, Key::Z);
                self.bench.step();
            }
            if modifiers == Modifiers::COMMAND {
                assert_eq!(self.counted(), (steps, 0), "everything is taken back");
                assert_eq!(self.bench.state().session().document(), &self.start);
            }
        }
        assert_eq!(self.counted(), (steps, steps), "everything is made again");
        if made == steps {
            assert_eq!(self.bench.state().session().document(), &now);
        }
    }

    fn counted(&self) -> (usize, usize) {
        let (steps, made) = self.bench.state().session().steps();
        (steps.len(), made)
    }
}
