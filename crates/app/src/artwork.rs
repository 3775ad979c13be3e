//! What is printed on the papers of the open design: its pictures, read once on a thread of their own, since a large one
//! takes a while, and with no more pixels than a window shows.

use draw::artwork::{FacePicture, Prints};
use model::{Document, Face, StockId};
use std::path::{Path, PathBuf};
use std::sync::mpsc;

/// Pixels along the longest side of whatever is printed: about what a sheet has on a large screen.
const MOST_ALONG: f64 = 1600.0;

/// The pictures of the open design.
#[derive(Debug, Default)]
pub(crate) struct Artwork {
    /// What was last asked for.
    wanted: Option<Wanted>,
    /// The state of the design that `prints` is for: which design, and its revision.
    of: Option<(u64, u64)>,
    pictures: Vec<FacePicture>,
    prints: Prints,
    /// Counts the readings that came in.
    readings: u64,
    coming: Option<mpsc::Receiver<Vec<FacePicture>>>,
}

/// What tells whether pictures have to be read anew.
#[derive(Debug, Clone, PartialEq)]
struct Wanted {
    design: u64,
    file: Option<PathBuf>,
    pictures: Vec<(Option<StockId>, Face, [u8; 32], u32)>,
}

impl Wanted {
    fn of(design: u64, file: Option<&Path>, document: &Document) -> Self {
        let per_mm = draw::artwork::per_mm(document, MOST_ALONG);
        let further = document.further_stocks.iter().map(|further| (Some(further.id), &further.stock));
        let stocks = std::iter::once((None, &document.stock)).chain(further);
        let pictures = stocks.flat_map(|(id, stock)| {
            let faces = [Face::Front, Face::Back].into_iter();
            faces.filter_map(move |face| {
                let artwork = stock.side(face).artwork.as_ref()?;
                Some((id, face, artwork.digest, doublings(artwork.width.mm() * per_mm)))
            })
        });
        Self { design, file: file.map(Path::to_owned), pictures: pictures.collect() }
    }
}

/// How often 1 is doubled until it is no less: a picture that is only stretched a little need not be read again.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "between 1 and a billion")]
fn doublings(pixels: f64) -> u32 {
    let whole = pixels.clamp(1.0, 1e9).ceil() as u32;
    whole.next_power_of_two().trailing_zeros()
}

impl Artwork {
    /// What is printed on the papers, so far as it has been read.
    pub(crate) const fn prints(&self) -> &Prints {
        &self.prints
    }

    /// Counts how often pictures came in, so that what is drawn of them is drawn anew.
    pub(crate) const fn readings(&self) -> u64 {
        self.readings
    }

    /// Follows the design: begins to read what is new on it, and takes what has been read. `now` names the design and its
    /// state.
    pub(crate) fn follow(&mut self, ctx: &egui::Context, file: Option<&Path>, document: &Document, now: (u64, u64)) {
        let is_elsewhere = self.wanted.as_ref().is_some_and(|wanted| wanted.file.as_deref() != file);
        if self.of != Some(now) || is_elsewhere {
            self.ask(ctx, file, document, now.0);
            self.prints = Prints::new(document, self.pictures.iter().cloned());
            self.of = Some(now);
        }
        let Some(coming) = &self.coming else { return };
        match coming.try_recv() {
            Ok(pictures) => {
                self.pictures = pictures;
                self.prints = Prints::new(document, self.pictures.iter().cloned());
                self.readings += 1;
                self.coming = None;
            }
            Err(mpsc::TryRecvError::Empty) => {}
            Err(mpsc::TryRecvError::Disconnected) => self.coming = None,
        }
    }

    fn ask(&mut self, ctx: &egui::Context, file: Option<&Path>, document: &Document, design: u64) {
        let wanted = Wanted::of(design, file, document);
        if self.wanted.as_ref() == Some(&wanted) {
            return;
        }
        if self.wanted.as_ref().is_none_or(|before| before.design != design) {
            self.pictures.clear();
        }
        self.coming = None;
        if !wanted.pictures.is_empty() {
            let (send, coming) = mpsc::channel();
            let per_mm = draw::artwork::per_mm(document, MOST_ALONG);
            let (ctx, document, file) = (ctx.clone(), document.clone(), wanted.file.clone());
            std::thread::spawn(move || {
                let (pictures, _) = crate::export::pictures(file.as_deref(), &document, per_mm);
                // The window may be gone, or ask for others by now.
                send.send(pictures).unwrap_or_default();
                ctx.request_repaint();
            });
            self.coming = Some(coming);
        }
        self.wanted = Some(wanted);
    }
}
