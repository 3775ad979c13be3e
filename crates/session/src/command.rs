//! The one table of commands: what menus, buttons, tooltips and shortcuts read.

mod table;

use crate::select::Selected;
use std::borrow::Cow;
pub use table::TABLE;

/// A key on the keyboard, as far as shortcuts need them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Key {
    /// A letter, upper case, or a digit.
    Char(char),
    /// The delete key.
    Delete,
    /// The space bar.
    Space,
    /// The escape key.
    Escape,
    /// The home key.
    Home,
    /// The page up key.
    PageUp,
    /// The page down key.
    PageDown,
    /// A function key by its number.
    Function(u8),
}

/// A shortcut: a key with or without control and shift.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Shortcut {
    /// With control (command on a Mac).
    pub control: bool,
    /// With shift.
    pub shift: bool,
    /// The key.
    pub key: Key,
}

/// Something a maker can ask for that needs no further figure.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Command {
    /// An empty design.
    New,
    /// A design that begins as a copy of a starter.
    NewFromStarter,
    /// A design that is worked out from what should go in.
    NewForContents,
    /// A design from a file.
    Open,
    /// One of the designs that were open last.
    OpenRecent,
    /// To the file it came from.
    Save,
    /// To another file.
    SaveAs,
    /// Begin a variation, in a file of its own.
    Vary,
    /// Say what a variation differs in from the design that it came from.
    WhatChanged,
    /// Say what this design differs in from one in another file.
    CompareWith,
    /// A template, booklet, cutting file, cards, pictures or animation.
    Export,
    /// A picture of the sheet or of the folded folio.
    ExportPicture,
    /// The sheet and what paper it is, the board, the units.
    Paper,
    /// End the program.
    Quit,
    /// Take the last step back.
    Undo,
    /// Make it again.
    Redo,
    /// Every step so far, to go back to any of them.
    ShowHistory,
    /// Take the selected lines or part out, to be pasted elsewhere.
    Cut,
    /// Keep the selected lines or part to be pasted.
    Copy,
    /// Put what was copied into the design.
    Paste,
    /// Select every line.
    SelectAll,
    /// A new score line.
    AddScore,
    /// Draw a line from spot to spot.
    DrawLine,
    /// Read the distance between two spots.
    Measure,
    /// Put the selected lines in once more.
    DuplicateLine,
    /// Take the selected lines out.
    DeleteLine,
    /// Switch the selected stretch between score and cut.
    SwitchStretch,
    /// Fold the selected scores the other way.
    ReverseFold,
    /// Fold the selected scores by 180° or 90°.
    SwitchAngle,
    /// Lock the selected lines, or free them when all are locked.
    Lock,
    /// Move the selected lines to where their mirror image is, left and right changing places.
    MirrorLeftRight,
    /// The same with top and bottom.
    MirrorTopBottom,
    /// Add the mirror image of the selected lines, left and right changing places.
    CopyLeftRight,
    /// The same with top and bottom.
    CopyTopBottom,
    /// Make the gaps between the selected lines equal.
    SpaceEvenly,
    /// Turn scores into cuts by dragging along them.
    CutAlong,
    /// Move the selected lines to the distance of the first.
    AlignLines,
    /// Move the selected lines to grooves.
    ToGrooves,
    /// Let the selected panel lie still.
    SetBase,
    /// Cut every fold between the selected panel and the folio.
    CutAway,
    /// Join the selected offcut to the folio again.
    KeepOffcut,
    /// Put a part on the selected panel.
    AddPart,
    /// Put the same part on once more.
    DuplicatePart,
    /// Turn the selected part a quarter on its panel.
    TurnPart,
    /// Let the other face of the selected part be seen.
    TurnPartOver,
    /// Put the selected part against the left border of its panel, as it is seen.
    PartLeft,
    /// The same, right.
    PartRight,
    /// The same, above.
    PartTop,
    /// The same, below.
    PartBottom,
    /// Put the selected part in the middle across.
    PartMiddleAcross,
    /// Put the selected part in the middle down.
    PartMiddleDown,
    /// Take the selected part off.
    DeletePart,
    /// Cut parts from what is left of the sheet.
    FitParts,
    /// Show parts on the sheet, or leave them out.
    ShowParts,
    /// Work out the steps that close the folio.
    FindOrder,
    /// Fold the step of what is selected before the one before it.
    StepEarlier,
    /// Fold it after the one after it.
    StepLater,
    /// Fold it along with the one before it.
    JoinStep,
    /// Fold its last line in a step of its own.
    PartStep,
    /// Mend every finding that can be mended without harm.
    MendAll,
    /// Show the findings that are silenced, or put them away.
    ShowSilenced,
    /// Put the design on a sheet of another size.
    MoveSheet,
    /// Turn the sheet a quarter to the left.
    TurnSheet,
    /// Show the whole sheet.
    FitSheet,
    /// Fold or stop.
    PlayFold,
    /// Flat.
    Unfold,
    /// Closed.
    Close,
    /// See the folio from the front.
    FrontView,
    /// See the folio from the back.
    BackView,
    /// See the folio at a slant.
    SlantView,
    /// To the start of the step that the folio is in.
    StepBack,
    /// To the end of the step that the folio is in.
    StepOn,
    /// Open or close the flap that is selected.
    SwingFlap,
    /// Show the closed folio with air between its layers.
    SpreadLayers,
    /// Show what lies behind as well.
    SeeThrough,
    /// Let the sheet fill the window.
    FillSheet,
    /// Let the folded view fill the window.
    FillFolded,
    /// Show or close the lists.
    ShowLists,
    /// Show or close the folded view.
    ShowFolded,
    /// Show or close the closing and making order.
    ShowOrders,
    /// Show or close the findings.
    ShowFindings,
    /// A light or a dark desk.
    LightOrDark,
    /// Everything in the window larger.
    Larger,
    /// Everything in the window smaller.
    Smaller,
    /// Everything in the window at its usual size.
    UsualSize,
    /// What can be done with what is selected or in focus.
    ShowMenu,
    /// Every command there is.
    AllCommands,
    /// How to make a folio from an empty sheet.
    FromNothing,
    /// The version, the licence, and what the program is built from.
    About,
}

/// What the table says of a command.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Entry {
    /// The command.
    pub command: Command,
    /// Its name on menus and buttons; an ellipsis when a question follows.
    pub label: &'static str,
    /// One sentence that says what it does.
    pub tooltip: &'static str,
    /// Its shortcut.
    pub shortcut: Option<Shortcut>,
}

impl Command {
    /// What it comes to when something is selected: one key deletes or doubles whatever that is.
    #[must_use]
    pub const fn meant(self, selected: Selected) -> Self {
        match (self, selected) {
            (Self::DeleteLine, Selected::Part(_)) => Self::DeletePart,
            (Self::DuplicatePart, Selected::Line { .. }) => Self::DuplicateLine,
            _ => self,
        }
    }

    /// The keys for it: its own, or those of the one that comes to the same.
    #[must_use]
    pub fn keys(self) -> Option<Shortcut> {
        let same = if self == Self::DuplicateLine { Self::DuplicatePart } else { self };
        same.entry().shortcut
    }

    /// Its name while so many lines are selected: "Delete 2 lines".
    #[must_use]
    pub fn label(self, lines: usize) -> Cow<'static, str> {
        let verb = match self {
            Self::DeleteLine => "Delete",
            Self::DuplicateLine => "Duplicate",
            Self::AlignLines => "Align",
            _ => "",
        };
        match lines {
            2.. if !verb.is_empty() => format!("{verb} {lines} lines").into(),
            _ => self.entry().label.into(),
        }
    }

    /// What the table says of it.
    #[must_use]
    pub fn entry(self) -> &'static Entry {
        // Every command is in the table; a test sees to it.
        TABLE.iter().find(|entry| entry.command == self).unwrap_or(&TABLE[0])
    }
}

impl Shortcut {
    /// The shortcut as it is shown: "Ctrl+Shift+S".
    #[must_use]
    pub fn text(self) -> String {
        let key = match self.key {
            Key::Char(c) => c.to_string(),
            Key::Delete => "Delete".to_owned(),
            Key::Space => "Space".to_owned(),
            Key::Escape => "Escape".to_owned(),
            Key::Home => "Home".to_owned(),
            Key::PageUp => "Page up".to_owned(),
            Key::PageDown => "Page down".to_owned(),
            Key::Function(n) => format!("F{n}"),
        };
        let control = if self.control { "Ctrl+" } else { "" };
        let shift = if self.shift { "Shift+" } else { "" };
        format!("{control}{shift}{key}")
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn no_two_commands_share_a_name_or_a_shortcut() {
        let labels: BTreeSet<&str> = TABLE.iter().map(|entry| entry.label).collect();
        let with_keys: Vec<Shortcut> = TABLE.iter().filter_map(|entry| entry.shortcut).collect();
        let shortcuts: BTreeSet<String> = with_keys.iter().copied().map(Shortcut::text).collect();
        assert_eq!((labels.len(), shortcuts.len()), (TABLE.len(), with_keys.len()));
        let without: Vec<Command> =
            TABLE.iter().filter(|entry| entry.shortcut.is_none()).map(|entry| entry.command).collect();
        assert_eq!(without, [Command::DuplicateLine], "the key of one means the other");
    }

    #[test]
    fn one_key_deletes_what_is_selected() {
        let part = Selected::Part(model::PartId(1));
        let line = Selected::Line { id: model::LineId(1), at: None };
        let meant = |selected| Command::DeleteLine.meant(selected);
        assert_eq!((meant(part), meant(line)), (Command::DeletePart, Command::DeleteLine));
        assert_eq!(Command::Lock.meant(part), Command::Lock);
    }

    #[test]
    fn commands_on_lines_say_how_many() {
        let says = |command: Command, lines| command.label(lines).into_owned();
        assert_eq!(says(Command::DeleteLine, 1), "Delete line");
        assert_eq!(says(Command::DeleteLine, 2), "Delete 2 lines");
        assert_eq!(says(Command::DuplicateLine, 12), "Duplicate 12 lines");
        assert_eq!(
            (says(Command::AlignLines, 0), says(Command::AlignLines, 3)),
            ("Align lines".into(), "Align 3 lines".into())
        );
        assert_eq!(says(Command::DeletePart, 2), "Delete part");
        assert_eq!(Command::DuplicateLine.keys(), Command::DuplicatePart.keys());
    }

    #[test]
    fn every_tooltip_is_a_sentence_and_every_command_finds_itself() {
        for entry in TABLE {
            assert!(entry.tooltip.ends_with('.'), "{}", entry.label);
            assert_eq!(entry.command.entry().command, entry.command);
        }
    }
}
