//! How the window is arranged, and what else of it is remembered from one run to the next. Nothing of a design.

use crate::theme::Tone;
use serde::{Deserialize, Serialize};
use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

/// What it is kept under.
pub(crate) const NAME: &str = "window";

/// The sizes of everything in the window that can be chosen, in percent.
const SCALES: [u16; 9] = [70, 80, 90, 100, 115, 130, 150, 175, 200];

/// The size to begin with, in percent.
const USUAL_SCALE: u16 = 100;

/// The most designs that are remembered: as many as a list shows at a glance (common practice, no source).
const MOST_RECENT: usize = 12;

/// A pane that can be closed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub(crate) enum Pane {
    /// The lists of lines and parts, with details.
    Lists,
    /// The folded view.
    Folded,
    /// The closing and making order.
    Orders,
    /// The findings.
    Findings,
}

/// One of the two views.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) enum View {
    /// The flat sheet.
    Sheet,
    /// The folded folio.
    Folded,
}

/// The least width of a window in which the lists and the folded view stand on either side of the sheet, px; in a narrower
/// one they take turns.
const BOTH_SIDES: f32 = 984.0;

/// The least height of a window in which orders and findings are shown before they are asked for, px.
const ALL_ROWS: f32 = 440.0;

/// What the window is too small for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(crate) struct Tight {
    /// For lists and folded view at once.
    pub(crate) is_narrow: bool,
    /// For orders and findings beside all else.
    pub(crate) is_low: bool,
}

/// How the window is arranged.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(default)]
pub(crate) struct Arrangement {
    tone: Tone,
    scale: Option<u16>,
    closed: BTreeSet<Pane>,
    /// Which of the lists and the folded view was asked for last.
    side: Option<Pane>,
    /// What the window is too small for as it is.
    #[serde(skip)]
    tight: Tight,
    /// Panes that were asked for though the window is low.
    #[serde(skip)]
    raised: BTreeSet<Pane>,
    /// The view that fills the window, if one does.
    fills: Option<View>,
    /// How wide or high panes are, px.
    sizes: BTreeMap<Pane, u16>,
    /// The designs that were open last, the latest first.
    recent: Vec<String>,
    /// Whether she has been told how to begin.
    greeted: bool,
}

impl Arrangement {
    /// Light or dark.
    pub(crate) const fn tone(&self) -> Tone {
        self.tone
    }

    /// The other one.
    pub(crate) const fn switch_tone(&mut self) {
        self.tone = match self.tone {
            Tone::Light => Tone::Dark,
            Tone::Dark => Tone::Light,
        };
    }

    /// How large everything is, 1 being as usual.
    pub(crate) fn scale(&self) -> f32 {
        f32::from(self.percent()) / 100.0
    }

    /// The same in percent, as it may be chosen.
    pub(crate) fn percent(&self) -> u16 {
        self.scale.unwrap_or(USUAL_SCALE).clamp(SCALES[0], SCALES[SCALES.len() - 1])
    }

    /// The next larger size, or the next smaller one; the same at the end of the scale.
    pub(crate) fn rescale(&mut self, larger: bool) {
        let now = self.percent();
        let next = if larger {
            SCALES.into_iter().find(|scale| *scale > now)
        } else {
            SCALES.into_iter().rev().find(|scale| *scale < now)
        };
        self.scale = Some(next.unwrap_or(now));
    }

    /// The usual size.
    pub(crate) const fn usual_scale(&mut self) {
        self.scale = None;
    }

    /// Follows the window's size, px.
    pub(crate) fn fit(&mut self, size: egui::Vec2) {
        self.tight = Tight { is_narrow: size.x < BOTH_SIDES, is_low: size.y < ALL_ROWS };
    }

    /// What the window is too small for.
    pub(crate) const fn tight(&self) -> Tight {
        self.tight
    }

    /// Whether a pane is seen: not closed, there is room for it, and no view fills the window without it.
    pub(crate) fn shows(&self, pane: Pane) -> bool {
        let beside = match self.fills {
            None => true,
            Some(View::Sheet) => false,
            Some(View::Folded) => pane == Pane::Folded,
        };
        let is_open = !self.closed.contains(&pane) || (pane == Pane::Folded && self.fills == Some(View::Folded));
        beside && is_open && self.has_room(pane)
    }

    /// Whether there is room for a pane that is not closed.
    fn has_room(&self, pane: Pane) -> bool {
        match pane {
            Pane::Lists | Pane::Folded => !self.tight.is_narrow || self.fills.is_some() || self.at_side() == pane,
            Pane::Orders | Pane::Findings => !self.tight.is_low || self.raised.contains(&pane),
        }
    }

    /// Which of the lists and the folded view is seen where there is room for one: what was asked for last, unless it is
    /// closed.
    fn at_side(&self) -> Pane {
        let last = self.side.unwrap_or(Pane::Folded);
        let other = if last == Pane::Folded { Pane::Lists } else { Pane::Folded };
        if self.closed.contains(&last) { other } else { last }
    }

    /// Whether the flat sheet is seen.
    pub(crate) fn shows_sheet(&self) -> bool {
        self.fills != Some(View::Folded)
    }

    /// Closes a pane, or brings it back. While a view fills the window, both views are brought back first.
    pub(crate) fn show_or_close(&mut self, pane: Pane) {
        // The orders lie under the folded view, so they are seen with that alone.
        let is_seen = pane != Pane::Orders || self.shows(Pane::Folded);
        let shown = self.shows(pane) && is_seen && self.fills.is_none();
        self.fills = None;
        let only_raised = self.raised.remove(&pane) && self.tight.is_low;
        match (shown, pane) {
            (true, _) if only_raised => {}
            (true, _) => {
                self.closed.insert(pane);
            }
            (false, Pane::Lists | Pane::Folded) => {
                self.closed.remove(&pane);
                self.side = Some(pane);
            }
            (false, Pane::Orders | Pane::Findings) => {
                self.closed.remove(&pane);
                self.raised.insert(pane);
                if pane == Pane::Orders {
                    self.show(Pane::Folded);
                }
            }
        }
    }

    /// Brings a pane back if it is closed.
    pub(crate) fn show(&mut self, pane: Pane) {
        if !self.shows(pane) {
            self.show_or_close(pane);
        }
    }

    /// Which view fills the window.
    pub(crate) const fn filling(&self) -> Option<View> {
        self.fills
    }

    /// Lets a view fill the window, or no longer.
    pub(crate) fn fill_or_not(&mut self, view: View) {
        self.fills = if self.fills == Some(view) { None } else { Some(view) };
    }

    /// How wide or high a pane was, px.
    pub(crate) fn size(&self, pane: Pane, usual: f32) -> f32 {
        self.sizes.get(&pane).map_or(usual, |size| f32::from(*size))
    }

    /// Notes how wide or high a pane is, px.
    pub(crate) fn note_size(&mut self, pane: Pane, size: f32) {
        #[expect(clippy::cast_possible_truncation, reason = "clamped to what it holds")]
        let whole = size.round().clamp(0.0, 30_000.0) as i32;
        if let Ok(size) = u16::try_from(whole) {
            self.sizes.insert(pane, size);
        }
    }

    /// The designs that were open last, the latest first.
    pub(crate) fn recent(&self) -> &[String] {
        &self.recent
    }

    /// Notes that a design was opened or saved. One whose path is no text is not remembered.
    pub(crate) fn note_recent(&mut self, path: &Path) {
        let Some(path) = path.to_str().map(str::to_owned) else { return };
        self.recent.retain(|other| *other != path);
        self.recent.insert(0, path);
        self.recent.truncate(MOST_RECENT);
    }

    /// Forgets a design that is not there any more.
    pub(crate) fn forget_recent(&mut self, path: &Path) {
        self.recent.retain(|other| Path::new(other) != path);
    }

    /// Whether she has yet to be told how to begin.
    pub(crate) const fn is_new(&self) -> bool {
        !self.greeted
    }

    /// Notes that she has been told.
    pub(crate) const fn greeted(&mut self) {
        self.greeted = true;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn panes_are_closed_and_a_view_fills_the_window() {
        let mut now = Arrangement::default();
        let shown =
            |now: &Arrangement| [Pane::Lists, Pane::Folded, Pane::Orders, Pane::Findings].map(|pane| now.shows(pane));
        assert_eq!((shown(&now), now.shows_sheet()), ([true; 4], true));
        now.show_or_close(Pane::Folded);
        assert_eq!(shown(&now), [true, false, true, true]);
        now.fill_or_not(View::Folded);
        assert_eq!((shown(&now), now.shows_sheet()), ([false, true, false, false], false));
        now.fill_or_not(View::Sheet);
        assert_eq!((shown(&now), now.shows_sheet()), ([false; 4], true));
        now.fill_or_not(View::Sheet);
        assert_eq!(shown(&now), [true, false, true, true], "as before");
        now.fill_or_not(View::Sheet);
        now.show_or_close(Pane::Folded);
        assert_eq!(shown(&now), [true; 4], "asking for a pane brings it up");
    }

    #[test]
    fn in_a_small_window_panes_take_turns() {
        const ALL: [Pane; 4] = [Pane::Lists, Pane::Folded, Pane::Orders, Pane::Findings];
        let shown = |now: &Arrangement| ALL.map(|pane| now.shows(pane));
        let mut now = Arrangement::default();
        // 1280 x 720 at 150 %: narrow; at 200 %: low as well.
        now.fit(egui::vec2(853.3, 480.0));
        assert_eq!(shown(&now), [false, true, true, true]);
        now.show_or_close(Pane::Lists);
        assert_eq!(shown(&now), [true, false, true, true], "what is asked for comes in the other's place");
        now.show(Pane::Folded);
        assert_eq!(shown(&now), [false, true, true, true]);
        now.show_or_close(Pane::Folded);
        assert_eq!(shown(&now), [true, false, true, true], "closed, it makes room");
        now.show_or_close(Pane::Lists);
        assert_eq!(shown(&now), [false, false, true, true]);
        now.fill_or_not(View::Folded);
        assert_eq!(shown(&now), [false, true, false, false]);
        now.fill_or_not(View::Folded);
        now.show_or_close(Pane::Folded);
        now.fit(egui::vec2(640.0, 360.0));
        assert_eq!(shown(&now), [false, true, false, false]);
        now.show_or_close(Pane::Findings);
        assert_eq!(shown(&now), [false, true, false, true]);
        now.show_or_close(Pane::Findings);
        assert_eq!(shown(&now), [false, true, false, false]);
        now.show_or_close(Pane::Lists);
        assert_eq!(shown(&now), [true, false, false, false]);
        now.show_or_close(Pane::Orders);
        assert_eq!(shown(&now), [false, true, true, false], "with what they lie under");
        now.show_or_close(Pane::Orders);
        now.fit(egui::vec2(1280.0, 720.0));
        assert_eq!(shown(&now), [true; 4], "with room all is as it was");
    }

    #[test]
    fn sizes_go_up_and_down_their_scale() {
        let mut now = Arrangement::default();
        now.rescale(true);
        assert_eq!(now.percent(), 115);
        (0..20).for_each(|_| now.rescale(true));
        assert_eq!(now.percent(), 200);
        (0..20).for_each(|_| now.rescale(false));
        assert_eq!(now.percent(), 70);
        now.usual_scale();
        assert_eq!(now.percent(), 100);
        let odd = Arrangement { scale: Some(9999), ..Arrangement::default() };
        assert_eq!(odd.percent(), 200, "whatever is read");
    }

    #[test]
    fn the_latest_designs_come_first_and_each_once() {
        let mut now = Arrangement::default();
        for name in ["a", "b", "a"] {
            now.note_recent(Path::new(name));
        }
        assert_eq!(now.recent(), ["a", "b"]);
        (0..30).for_each(|number| now.note_recent(Path::new(&number.to_string())));
        assert_eq!((now.recent().len(), now.recent()[0].as_str()), (MOST_RECENT, "29"));
        now.forget_recent(Path::new("29"));
        assert_eq!(now.recent()[0], "28");
    }

    #[test]
    fn it_is_kept_and_read_again() {
        let room = tempfile::tempdir().unwrap();
        let keep = keep::Keep::at(room.path());
        let mut now = Arrangement::default();
        now.switch_tone();
        now.show_or_close(Pane::Findings);
        now.note_size(Pane::Lists, 333.4);
        now.fill_or_not(View::Sheet);
        now.note_recent(Path::new("/designs/swap.folio"));
        assert!(keep.write(NAME, &now));
        assert_eq!(keep.read(NAME), Some(now));
    }
}
