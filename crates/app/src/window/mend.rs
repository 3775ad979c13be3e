//! Mending all that can be mended at once.

use super::Window;
use session::Command;

impl Window {
    /// Mends what can be mended without harm, as one step, and says what that was.
    pub(super) fn mend_all(&mut self) {
        self.session.finish_gesture();
        let mended = session::mend::all(self.session.document(), self.session.derived());
        let done = mended.words().and_then(|said| {
            let made = self.session.apply_each(Command::MendAll.entry().label, mended.edits);
            made.map(|()| said).map_err(|refusal| refusal.to_string())
        });
        self.spot = None;
        match done {
            Ok(said) => self.report(said),
            Err(why) => self.complain(&why),
        }
    }
}
