//! The starters as they are shown to choose from: what each is called, and pictures of it closed and laid open. The pictures
//! are drawn as the folded view draws the open design, once, on a thread of their own.

use draw::artwork::{Printed, Prints};
use draw::folded::{Posed, View, folded_picture, printed_scene};
use draw::list::Drawing;
use file::starters::{ALL, Starter};
use model::{Document, Layout};
use std::sync::mpsc;

/// Pixels along the longest side of whatever is printed on a starter's papers: a picture of it is hardly larger.
const MOST_ALONG: f64 = 360.0;

/// Longer side of a picture, mm: any will do, since it is fitted into its card.
const LONGEST: f64 = 100.0;

/// A starter, as it is shown.
#[derive(Debug)]
pub(crate) struct Card {
    /// What it is called.
    pub(crate) title: String,
    /// How large the sheet is that it is made from.
    pub(crate) paper: String,
    /// What it is, in a sentence.
    pub(crate) about: &'static str,
    /// Pictures of it, once they are drawn.
    pub(crate) pictures: Option<Pictures>,
}

/// What a starter looks like.
#[derive(Debug)]
pub(crate) struct Pictures {
    /// Folded and closed.
    pub(crate) closed: Drawing,
    /// Laid open.
    pub(crate) open: Drawing,
}

/// All starters with their pictures, so far as they are drawn.
#[derive(Debug, Default)]
pub(crate) struct Gallery {
    cards: Vec<Card>,
    coming: Option<mpsc::Receiver<(usize, Pictures)>>,
}

impl Gallery {
    /// The starters in their order. The first time, it begins to draw their pictures.
    pub(crate) fn cards(&mut self, ctx: &egui::Context) -> &[Card] {
        if self.cards.is_empty() {
            let designs: Vec<Document> = ALL.iter().filter_map(design).collect();
            self.cards = ALL.iter().zip(&designs).map(|(starter, design)| Card::of(starter, design)).collect();
            self.coming = Some(drawn(ctx, designs));
        }
        let Some(coming) = &self.coming else { return &self.cards };
        loop {
            match coming.try_recv() {
                Ok((at, pictures)) => {
                    if let Some(card) = self.cards.get_mut(at) {
                        card.pictures = Some(pictures);
                    }
                }
                Err(mpsc::TryRecvError::Empty) => break,
                Err(mpsc::TryRecvError::Disconnected) => {
                    self.coming = None;
                    break;
                }
            }
        }
        &self.cards
    }
}

impl Card {
    fn of(starter: &Starter, design: &Document) -> Self {
        Self {
            title: design.title.clone(),
            paper: format!("{} sheet", design.stock.size.text(design.units)),
            about: starter.about,
            pictures: None,
        }
    }
}

/// A starter's design; a test reads every one of them, so that none is left out.
pub(crate) fn design(starter: &Starter) -> Option<Document> {
    file::from_text(starter.text).ok()
}

/// Draws pictures of all designs, one after the other.
fn drawn(ctx: &egui::Context, designs: Vec<Document>) -> mpsc::Receiver<(usize, Pictures)> {
    let (send, coming) = mpsc::channel();
    let ctx = ctx.clone();
    std::thread::spawn(move || {
        for (at, design) in designs.into_iter().enumerate() {
            let Some(pictures) = Pictures::of(&design) else { continue };
            if send.send((at, pictures)).is_err() {
                // The window is gone.
                return;
            }
            ctx.request_repaint();
        }
    });
    coming
}

impl Pictures {
    /// Pictures of a starter; `None` where it has no base to fold about.
    fn of(design: &Document) -> Option<Self> {
        let layout = Layout::of(design);
        let assembly = fold::assemble(design, &layout)?;
        let folding = fold::close(&assembly);
        let (pictures, _) = disk::artwork::unsaved(design, draw::artwork::per_mm(design, MOST_ALONG));
        let prints = Prints::new(design, pictures);
        let supply = allot::allot(design, &layout, &allot::Settings::of(design));
        let printed = Printed { prints: &prints, supply: Some(&supply) };
        let picture = |time: f64, view: View, how: &str| {
            let scene = printed_scene(&layout, &Posed::at(&assembly, &folding, time), &view, &printed);
            folded_picture(&scene, LONGEST, &format!("{}, {how}.", design.title))
        };
        Some(Self {
            closed: picture(f64::INFINITY, View::SLANTED, "closed"),
            open: picture(0.0, View::FRONT, "laid open"),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_starter_has_a_card_and_pictures_that_show_its_paper() {
        let designs: Vec<Document> = ALL.iter().filter_map(design).collect();
        assert_eq!(designs.len(), ALL.len());
        for (starter, design) in ALL.iter().zip(&designs) {
            let card = Card::of(starter, design);
            assert!(card.paper.ends_with("sheet") && !card.title.is_empty(), "{card:?}");
            let Pictures { closed, open } = Pictures::of(design).unwrap();
            for picture in [&closed, &open] {
                assert!(images(&picture.nodes) > 0, "{}: nothing printed is seen", picture.description);
            }
            assert_ne!(closed.size, open.size, "{}: it folds", starter.name);
        }
    }

    fn images(nodes: &[draw::list::Node]) -> usize {
        use draw::list::{Node, Shape};
        let count = |node: &Node| match node {
            Node::Item { shape: Shape::Image(_), .. } => 1,
            Node::Item { .. } => 0,
            Node::Group { nodes, .. } | Node::Tagged { nodes, .. } => images(nodes),
        };
        nodes.iter().map(count).sum()
    }
}
