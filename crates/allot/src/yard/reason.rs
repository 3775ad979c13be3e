//! Why a part has no paper: what is missing and how to mend it.

use super::Yard;
use crate::allotment::Origin;
use crate::inner;
use crate::remark::Remark;
use crate::round::Blank;
use crate::shape::Shape;
use crate::steps::size_words;
use crate::whole::fit;
use model::part::Source;
use model::{PartId, Size};
use nest::Leftover;

impl Yard<'_> {
    /// Why an offcut does not do for a part.
    pub(super) fn mismatch(&self, at: usize, offcut: usize) -> Remark {
        let (wanted, offcut) = (&self.wanted[at], &self.offcuts[offcut]);
        let words = |shape: &Shape| shape.size().map_or_else(String::new, |size| size_words(size, self.document.units));
        let (own, paper, name) = (words(&wanted.shape), words(&offcut.shape), &wanted.name);
        let mend = "make the part smaller, or choose another offcut";
        if wanted.demand.is_some() && fit(&wanted.shape, wanted.size, None, &offcut.shape).is_some() {
            let what = format!(
                "\"{name}\" ({own}) lies within {} ({paper}) only turned, so that its pattern or grain would not run as it \
                 should",
                offcut.name
            );
            return Remark::new(what, "turn it on its panel, or choose another offcut");
        }
        let sides = |size: Size| (size.width().max(size.height()), size.width().min(size.height()));
        let fits = |(a, b): (Size, Size)| sides(a).0 <= sides(b).0 && sides(a).1 <= sides(b).1;
        if wanted.shape.size().zip(offcut.shape.size()).is_some_and(fits) {
            let shapes = "but it does not lie within its shape";
            return Remark::new(format!("\"{name}\" is {own} and {} {paper} around, {shapes}", offcut.name), mend);
        }
        Remark::new(format!("\"{name}\" is {own}, and {} is {paper}", offcut.name), mend)
    }

    pub(super) fn say_what_is_missing(&mut self) {
        for at in 0..self.wanted.len() {
            if !self.origins.contains_key(&at) {
                let why = self.why_missing(at);
                self.origins.insert(at, Origin::Missing(why));
            }
        }
    }

    pub(super) fn why_missing(&self, at: usize) -> Remark {
        let wanted = &self.wanted[at];
        let (name, unit) = (&wanted.name, self.document.units);
        if let Source::Stock(id) = wanted.part.source {
            let what = format!("\"{name}\" is of paper {}, which is not in the design", id.0);
            return Remark::new(what, "choose another paper");
        }
        let size = size_words(wanted.size, unit);
        let turned = if wanted.demand.is_some() { " upright as its pattern or grain wants it" } else { "" };
        let only = match wanted.part.source {
            Source::Offcut(mark) => self.marked(at, mark).ok().map(|offcut| self.offcuts[offcut].piece),
            _ => None,
        };
        let is_there = |blank: &&Blank| {
            let whole = self.offcuts.iter().any(|offcut| offcut.piece == blank.piece && offcut.whole.is_some());
            !whole && only.is_none_or(|only| only == blank.piece)
        };
        let rects = self.blanks.iter().filter(is_there).flat_map(|blank| match &blank.paper {
            Leftover::Rect(rect) => vec![(*rect, blank.piece)],
            Leftover::Outline(outline) => {
                inner::inner_rects(outline).into_iter().map(|rect| (rect, blank.piece)).collect()
            }
        });
        // The first of the largest, so that it is the same every time.
        let largest = rects.reduce(|best, other| if other.0.area() > best.0.area() { other } else { best });
        let mend = if only.is_some() { "choose another offcut" } else { "cut it from a further sheet" };
        match largest {
            None => Remark::new(
                format!("\"{name}\" needs {size}, and no offcut is left"),
                format!("make it smaller, or {mend}"),
            ),
            Some((rect, piece)) => Remark::new(
                format!("\"{name}\" needs {size}{turned}, and no such place is left"),
                format!(
                    "the largest rectangle, in {}, is {}: make the part smaller, or {mend}",
                    self.layout.pieces[piece.0].name,
                    size_words(rect.size, unit)
                ),
            ),
        }
    }

    /// Why a part can't be made at all.
    pub(super) fn unmade(&self, id: PartId) -> Remark {
        let fault = self.layout.part_faults.get(&id).map(|fault| fault.said(self.document));
        let (what, mend) = fault.unwrap_or_else(|| ("has no paper of its own".to_owned(), "mark its main panel anew"));
        Remark::new(format!("\"{}\" {what}", self.document.part_name(id)), mend)
    }
}
