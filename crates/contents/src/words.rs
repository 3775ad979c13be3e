//! The measures of a folio in words, for the window and the command line alike.

use crate::{Lying, Measures, Piles, Thing};
use model::{Length, Stock, Unit};

impl Measures {
    /// The panels with their names and sizes in grooves, from the top, and the sheet that they need.
    #[must_use]
    pub const fn panels(&self) -> [(&'static str, [i64; 2]); 5] {
        let [width, height] = self.base;
        [
            ("Closing flap", [width, self.closing]),
            ("Base", [width, height]),
            ("Side flaps, each", [self.side, height]),
            ("Front flap", [width, self.front]),
            ("Sheet needed", self.needed()),
        ]
    }

    /// All there is to say of them, a line each: the panels, the gussets, what is left of the sheet, and where each of the
    /// things lies.
    #[must_use]
    pub fn said(&self, things: &[Thing], stock: &Stock, unit: Unit) -> Vec<String> {
        let text = |grooves: i64| (self.groove * grooves).readable(unit);
        let panels = self.panels().map(|(name, [width, height])| format!("{name}: {} x {}", text(width), text(height)));
        let mut said = panels.to_vec();
        said.push(format!("Gussets, all round: {}", text(self.gusset)));
        said.push(self.left(stock, unit));
        said.push(format!("What goes in lies {}:", self.piles));
        said.extend(things.iter().zip(&self.lying).map(|(thing, lies)| self.place(thing, *lies)));
        said
    }

    /// What of the sheet is not needed.
    fn left(&self, stock: &Stock, unit: Unit) -> String {
        let [width, height] = self.needed().map(|grooves| self.groove * grooves);
        let sides = [(stock.size.width() - width, "at the right"), (stock.size.height() - height, "below")];
        let left: Vec<String> = sides
            .iter()
            .filter(|(left, _)| *left > Length::ZERO)
            .map(|(left, side)| format!("{} {side}", left.readable(unit)))
            .collect();
        if left.is_empty() {
            "Left of the sheet: nothing".to_owned()
        } else {
            format!("Left of the sheet: {}", left.join(", "))
        }
    }

    fn place(&self, thing: &Thing, lies: Lying) -> String {
        let pile = match (self.piles, lies.pile) {
            (Piles::One, _) => "",
            (Piles::Beside, 0) => ", in the left pile",
            (Piles::Beside, _) => ", in the right pile",
            (Piles::Above, 0) => ", in the upper pile",
            (Piles::Above, _) => ", in the lower pile",
        };
        let turned = if lies.turned { ", turned a quarter" } else { "" };
        format!("  {} x {}{turned}{pile}", thing.count, thing.name)
    }
}
