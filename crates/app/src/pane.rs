//! The panes of the window, one a file. A pane reads the session and asks for [`Action`]s; it changes nothing itself.

pub(crate) mod bar;
pub(crate) mod findings;
pub(crate) mod folded;
pub(crate) mod foot;
pub(crate) mod lengths;
pub(crate) mod lines;
pub(crate) mod making;
pub(crate) mod panel;
pub(crate) mod parts;
pub(crate) mod reorder;
pub(crate) mod sheet;
pub(crate) mod steps;
pub(crate) mod welcome;
pub(crate) mod work;

use crate::field::{Heard, Saying, sentence};
use crate::menu::Of;
use check::Spot;
use draw::artwork::{Printed, Prints};
use egui::Pos2;
use model::change::perform;
use model::named::change::with_formula;
use model::{Edit, LineId, PanelId, PartId, Point, Slot, Turn};
use session::{Command, Selected, Session};

/// What a pane may look at, and where it leaves what it asks for.
#[derive(Debug)]
pub(crate) struct Scene<'a> {
    /// The open design.
    pub(crate) session: &'a Session,
    /// Counts the designs opened so far: with the session's revision it names a state of a document.
    pub(crate) design: u64,
    /// How the sheet lies on the board.
    pub(crate) turn: Turn,
    /// The panel that the pointer is over, in whichever view.
    pub(crate) hovered: Option<PanelId>,
    /// The line of the selected part of her own that is worked on.
    pub(crate) own_line: Option<OwnLine>,
    /// The place that a chosen finding speaks of.
    pub(crate) spot: Option<&'a Spot>,
    /// Why a drag was refused, while it is.
    pub(crate) refused: Option<&'a str>,
    /// What is printed on its papers.
    pub(crate) prints: &'a Prints,
    /// Counts the readings of that: with another one what is printed is drawn anew.
    pub(crate) readings: u64,
    /// Whether keys ask for the menu of what has the focus, and nothing has answered yet.
    pub(crate) asks_menu: bool,
    /// Whether something was copied that can be pasted.
    pub(crate) can_paste: bool,
    /// The panel that the pointer turned out to be over in this frame.
    pub(crate) now_hovered: Option<PanelId>,
    /// What is under way in this frame, for the status line: where a line that is drawn would start or end.
    pub(crate) now_hint: Option<String>,
    /// What the panes ask for, in order.
    pub(crate) actions: Vec<Action>,
    /// What was typed into a field for a length and no change has taken over yet.
    heard: Heard,
}

/// A line of a part of her own.
pub(crate) type OwnLine = (PartId, LineId);

/// Something a pane asks for.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Action {
    /// A command of the table.
    Run(Command),
    /// A change, as one step of history with this name.
    Edit(String, Edit),
    /// The same, and what is selected then.
    EditAndSelect(String, Edit, Selected),
    /// A selection.
    Select(Selected),
    /// A line of the selected part of her own, to be worked on.
    WorkOn(OwnLine),
    /// Another list at the left.
    ShowList(LeftList),
    /// A line selected along with others, or let go of; and where she pointed at it.
    SelectAlso(LineId, Option<Point>),
    /// Several lines selected at once.
    SelectLines(Vec<LineId>),
    /// A word on why something is not done.
    Complain(String),
    /// A word on what came of it.
    Report(String),
    /// The start of a drag, by its name in the history.
    BeginDrag(String),
    /// Where the drag has come to.
    Drag(Option<Edit>),
    /// The menu of a thing, at a place in the window.
    ShowMenu(Pos2, Of),
    /// The end of the drag.
    FinishDrag,
    /// The drag is off.
    CancelDrag,
    /// The question for every named length at once.
    AskLengths,
    /// A flap opened or closed.
    Swing(PanelId),
    /// A closer look at what a finding speaks of.
    ShowSpot(Spot),
}

/// The lists at the left of the window.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(crate) enum LeftList {
    /// Lines.
    #[default]
    Lines,
    /// Parts.
    Parts,
    /// Named lengths.
    Lengths,
}

/// The orders at the lower right of the window.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(crate) enum OrderList {
    /// In which the folio closes.
    #[default]
    Closing,
    /// In which it is made.
    Making,
}

/// Tells a screen reader how large a canvas is; a ui of its own says only what it is.
pub(crate) fn bound_canvas(ui: &egui::Ui, rect: egui::Rect) {
    let [x0, y0, x1, y1] = [rect.min.x, rect.min.y, rect.max.x, rect.max.y].map(f64::from);
    ui.ctx().accesskit_node_builder(ui.unique_id(), |node| {
        node.set_bounds(egui::accesskit::Rect { x0, y0, x1, y1 });
    });
}

/// Asks for a change if it can be made, and says why not if it can't.
pub(crate) fn try_edit(scene: &mut Scene<'_>, label: String, edit: Edit) -> Result<(), String> {
    let session = scene.session;
    perform(session.document(), &session.derived().layout, edit.clone())
        .map_err(|refusal| sentence(&refusal.to_string()))?;
    scene.edit(label, edit);
    Ok(())
}

impl<'a> Scene<'a> {
    /// What a frame begins with: nothing asked for, nothing pointed at.
    pub(crate) fn new(
        session: &'a Session,
        design: u64,
        turn: Turn,
        hovered: Option<PanelId>,
        spot: Option<&'a Spot>,
        refused: Option<&'a str>,
    ) -> Self {
        Self {
            session,
            design,
            turn,
            hovered,
            spot,
            refused,
            prints: Printed::NOTHING.prints,
            readings: 0,
            own_line: None,
            asks_menu: false,
            can_paste: false,
            now_hovered: None,
            now_hint: None,
            actions: Vec::new(),
            heard: Heard::default(),
        }
    }

    /// How the length in a slot is said in a field, and with which names.
    pub(crate) fn at(&self, slot: Slot) -> Saying<'a> {
        Saying::of(self.session.document(), slot, &self.heard)
    }
}

impl Scene<'_> {
    /// Asks for something.
    pub(crate) fn ask(&mut self, action: Action) {
        self.actions.push(action);
    }

    /// Asks for a change. Where a length was typed for it, it is said from now on as it was typed.
    pub(crate) fn edit(&mut self, label: impl Into<String>, edit: Edit) {
        let edit = match self.heard.take() {
            Some((slot, formula)) => with_formula(self.session.document(), edit.clone(), slot, formula).unwrap_or(edit),
            None => edit,
        };
        self.ask(Action::Edit(label.into(), edit));
    }

    /// Asks for what was typed and changes no length, only how it is said.
    pub(crate) fn say_otherwise(&mut self) {
        let Some((slot, formula)) = self.heard.take() else { return };
        let lengths = &self.session.document().lengths;
        if lengths.formulas.get(&slot) == formula.as_ref() {
            return;
        }
        let mut lengths = lengths.clone();
        match formula {
            Some(formula) => lengths.formulas.insert(slot, formula),
            None => lengths.formulas.remove(&slot),
        };
        self.edit("Say a length otherwise", Edit::SetLengths(lengths));
    }

    /// Whether a panel is under the pointer, or spoken of by the chosen finding.
    pub(crate) fn is_lit(&self, panel: PanelId) -> bool {
        self.hovered == Some(panel) || self.spot.is_some_and(|spot| spot.panels.contains(&panel))
    }
}
