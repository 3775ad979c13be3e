//! Drawings of every kind, sane or not: each is written or refused with a reason, and what is written can be read.

use draw::list::{Drawing, Node, Pages, Role, Shape, Stroke};
use draw::style::Colour;
use draw::text::{Face, TextRun, Turned};
use foliowright_output as output;
use kurbo::{Affine, BezPath, Point, Rect, Size};
use resvg::usvg;

/// Numbers that have broken drawing code before, besides ordinary ones.
const NASTY: [f64; 14] =
    [0.0, -0.0, 1e-300, 1e-9, 0.001, 0.5, 1.0, 25.4, 304.8, -40.0, 8192.0, 999_999.0, -1e6, f64::NAN];

/// A linear congruential generator (Knuth's MMIX constants): the same drawings on every machine.
struct Dice(u64);

impl Dice {
    fn roll(&mut self, sides: usize) -> usize {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        usize::try_from(self.0 >> 33).expect("31 bits fit") % sides
    }

    fn one_of<T: Clone>(&mut self, items: &[T]) -> T {
        items[self.roll(items.len())].clone()
    }

    fn byte(&mut self) -> u8 {
        u8::try_from(self.roll(256)).expect("less than 256")
    }

    /// Mostly a length on the page, in hundredths; at times a nasty number, and rarely one that must be refused.
    fn number(&mut self) -> f64 {
        match self.roll(40) {
            0..6 => self.one_of(&NASTY[..NASTY.len() - 1]),
            6 if self.roll(8) == 0 => self.one_of(&[f64::NAN, f64::INFINITY, 1e300]),
            _ => f64::from(u16::try_from(self.roll(30_000)).expect("less than 65 536")) / 100.0,
        }
    }

    fn point(&mut self) -> Point {
        Point::new(self.number(), self.number())
    }

    fn colour(&mut self) -> Colour {
        Colour { r: self.byte(), g: self.byte(), b: self.byte(), a: self.byte() }
    }

    fn path(&mut self) -> BezPath {
        let mut path = BezPath::new();
        for _ in 0..self.roll(4) {
            path.move_to(self.point());
            for _ in 0..self.roll(6) {
                match self.roll(4) {
                    0 => path.quad_to(self.point(), self.point()),
                    1 => path.curve_to(self.point(), self.point(), self.point()),
                    2 => path.close_path(),
                    _ => path.line_to(self.point()),
                }
            }
        }
        path
    }

    fn shape(&mut self) -> Shape {
        match self.roll(3) {
            0 => Shape::Fill { path: self.path(), colour: self.colour() },
            1 => {
                let dashes = (0..self.roll(5)).map(|_| self.number() / 10.0).collect();
                let stroke =
                    Stroke { width: self.number() / 100.0, colour: self.colour(), dashes, dash_start: self.number() };
                Shape::Line { path: self.path(), stroke }
            }
            _ => {
                let text = self.one_of(&["", "Spine", "a\u{0}<b>&\"", "✂ é e\u{301}", "שלום", "\u{202e}x\u{FFFF}\n"]);
                let face = self.one_of(&Face::ALL);
                let run = TextRun::new(text, face, self.number() / 10.0, self.colour()).centred_on(self.point());
                Shape::Text(run.turned(self.one_of(&[Turned::Upright, Turned::Left, Turned::Right, Turned::Over])))
            }
        }
    }

    fn node(&mut self, depth: usize) -> Node {
        if depth < 3 && self.roll(4) == 0 {
            let factors = [0.0, 1.0, -1.0, 0.6, 0.8, 1e-7, 30.0];
            let [a, b, c, d] = std::array::from_fn(|_| self.one_of(&factors));
            let place = Affine::new([a, b, c, d, self.number(), self.number()]);
            let clip = (self.roll(2) == 0).then(|| Rect::from_points(self.point(), self.point()));
            let nodes = (0..self.roll(4)).map(|_| self.node(depth + 1)).collect();
            Node::Group { place, clip, nodes }
        } else {
            Node::Item { role: self.one_of(&Role::ALL), shape: self.shape() }
        }
    }

    fn drawing(&mut self) -> Drawing {
        let mut drawing = Drawing::new(Size::new(self.number(), self.number()), "Any drawing. \u{1}<&>");
        drawing.nodes = (0..self.roll(6)).map(|_| self.node(0)).collect();
        drawing
    }
}

#[test]
fn any_drawing_is_written_or_refused() {
    let mut dice = Dice(1);
    let mut written = 0;
    for round in 0..400 {
        let drawing = dice.drawing();
        let svg = output::svg(&drawing);
        let pages = Pages { title: "Any".to_owned(), pages: vec![drawing.clone()] };
        let pdf = output::pdf(&pages);
        assert_eq!(svg.is_ok(), pdf.is_ok(), "round {round}");
        let Ok(svg) = svg else { continue };
        written += 1;
        usvg::Tree::from_str(&svg, &usvg::Options::default()).unwrap_or_else(|error| panic!("{round}: {error}\n{svg}"));
        assert!(pdf.unwrap().starts_with(b"%PDF-1.7"));
        if let Ok(picture) = output::png(&drawing, 60) {
            assert!(picture.starts_with(b"\x89PNG"));
        }
    }
    // Most are sound, so the readers had something to read.
    assert!(written > 200, "{written}");
}
