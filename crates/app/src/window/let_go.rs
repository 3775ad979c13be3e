//! What is said when a change lets go of formulas.

use super::Window;
use crate::field::sentence;
use model::Document;
use model::named::let_go;

impl Window {
    /// Says which lengths follow their names no more since the design was as it was before; nothing where it is names that
    /// were changed.
    pub(super) fn say_what_let_go(&mut self, before: &Document) {
        let after = self.session.document();
        if before.lengths.list != after.lengths.list {
            return;
        }
        let gone = let_go(before, after);
        let Some((slot, formula)) = gone.first() else { return };
        let name = sentence(&format!("{} no longer follows {formula}", before.slot_name(*slot)));
        let said = match gone.len() - 1 {
            0 => name,
            1 => format!("{name} One more length follows no name."),
            more => format!("{name} {more} more lengths follow no names."),
        };
        self.report(said);
    }
}
