//! What should go in, and the folio that is worked out from it, on a thread of its own: with many things that takes a while.

use contents::{Thing, folio, measures};
use draw::board::Board;
use draw::list::Node;
use draw::sheet::{SheetLook, sheet_nodes};
use model::{Caliper, Document, Layout, Length, Size, Stock, Turn, Unit};
use std::sync::mpsc;

/// What was said of it.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Wish {
    /// What lengths are said in.
    pub(crate) unit: Unit,
    /// The sheet.
    pub(crate) stock: Stock,
    /// How far apart the board's grooves are.
    pub(crate) groove: Length,
    /// What should go in, each with a number of its own.
    pub(crate) things: Vec<(u32, Thing)>,
}

/// What came of it: the folio, or why there is none.
pub(crate) type Answer = Result<Found, String>;

/// The folio that holds what should go in.
#[derive(Debug)]
pub(crate) struct Found {
    /// Its measures in words, a line each.
    pub(crate) said: Vec<String>,
    /// Its sheet.
    pub(crate) board: Board,
    /// What is drawn of it.
    pub(crate) nodes: Vec<Node>,
    document: Document,
}

/// The form and what was worked out last.
#[derive(Debug, Default)]
pub(crate) struct GoingIn {
    wish: Option<Wish>,
    found: Option<(Wish, Answer)>,
    coming: Option<(Wish, mpsc::Receiver<Answer>)>,
}

impl Wish {
    /// What stands there to begin with: a few seed packets on the usual sheet, in a design's units.
    fn usual(document: &Document) -> Self {
        let unit = document.units;
        let inches = unit == Unit::Inch;
        let size = Size::parse(if inches { "12 x 12 in" } else { "300 x 300 mm" });
        let packet = Thing {
            name: "Seed packet".to_owned(),
            count: 4,
            width: if inches { Length::INCH * 9 / 2 } else { Length::MILLIMETRE * 115 },
            height: if inches { Length::INCH * 13 / 4 } else { Length::MILLIMETRE * 80 },
            thickness: Length::MILLIMETRE,
        };
        let stock = Stock::plain(size.unwrap_or(document.stock.size));
        Self { unit, stock, groove: Document::usual_groove(unit), things: vec![(1, packet)] }
    }

    /// Adds another thing, as large as the last.
    pub(crate) fn add(&mut self) {
        let number = self.things.iter().map(|(number, _)| number + 1).max().unwrap_or(1);
        let last = self.things.last().map(|(_, thing)| thing.clone());
        let size = Length::INCH * 3;
        let blank = Thing { name: String::new(), count: 1, width: size, height: size, thickness: Length::MILLIMETRE };
        let thing = Thing { name: String::new(), count: 1, ..last.unwrap_or(blank) };
        self.things.push((number, thing));
    }

    /// Says lengths in another unit. The sheet stays; the board is the usual one for it.
    pub(crate) fn set_unit(&mut self, unit: Unit) {
        self.unit = unit;
        self.groove = Document::usual_groove(unit);
    }

    fn answered(&self) -> Answer {
        let things: Vec<Thing> = self.things.iter().map(|(_, thing)| thing.clone()).collect();
        let Self { unit, stock, groove, .. } = self;
        let measures = measures(&things, stock, *groove).map_err(|why| why.said(&things, stock, *unit))?;
        let said = measures.said(&things, stock, *unit);
        let document = folio(&measures, &things, stock, *unit, *groove).map_err(|why| why.to_string())?;
        let layout = Layout::of(&document);
        let look = SheetLook { turn: Turn::None, names: true, distances: true };
        let nodes = sheet_nodes(&document, &layout, &look);
        Ok(Found { said, board: Board { size: layout.size, turn: Turn::None }, nodes, document })
    }
}

impl GoingIn {
    /// What is said in the form, to be changed. It begins with the units of the open design.
    pub(crate) fn wish(&mut self, document: &Document) -> &mut Wish {
        self.wish.get_or_insert_with(|| Wish::usual(document))
    }

    /// What came of what is said in the form; `None` while it is worked out.
    pub(crate) fn answer(&mut self, ctx: &egui::Context) -> Option<&Answer> {
        let wish = self.wish.clone()?;
        let is_asked = self.coming.as_ref().is_some_and(|(asked, _)| *asked == wish);
        let is_known = self.found.as_ref().is_some_and(|(known, _)| *known == wish);
        if !is_asked && !is_known {
            let (send, coming) = mpsc::channel();
            let (ctx, asked) = (ctx.clone(), wish.clone());
            std::thread::spawn(move || {
                // The window may be gone, or something else be asked by now.
                send.send(asked.answered()).unwrap_or_default();
                ctx.request_repaint();
            });
            self.coming = Some((wish.clone(), coming));
        }
        if let Some((asked, coming)) = self.coming.take() {
            match coming.try_recv() {
                Ok(answer) => self.found = Some((asked, answer)),
                Err(mpsc::TryRecvError::Empty) => self.coming = Some((asked, coming)),
                Err(mpsc::TryRecvError::Disconnected) => {
                    self.found = Some((asked, Err("it could not be worked out; change something".to_owned())));
                }
            }
        }
        self.found.as_ref().filter(|(known, _)| *known == wish).map(|(_, answer)| answer)
    }

    /// The design, where there is one for what is said in the form now.
    pub(crate) fn folio(&self) -> Option<Document> {
        let (known, answer) = self.found.as_ref()?;
        let found = answer.as_ref().ok().filter(|_| self.wish.as_ref() == Some(known))?;
        Some(found.document.clone())
    }

    /// Reads a thickness of paper.
    pub(crate) fn set_caliper(stock: &mut Stock, caliper: Length) -> Result<(), String> {
        if caliper <= Length::ZERO {
            return Err("A sheet is thicker than nothing.".to_owned());
        }
        stock.caliper = Caliper::Measured(caliper);
        Ok(())
    }
}
