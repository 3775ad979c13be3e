//! What each command is called, does, and is asked for by.

use super::{Command, Entry, Key, Shortcut};

const fn control(key: char) -> Option<Shortcut> {
    with_control(Key::Char(key))
}

const fn with_control(key: Key) -> Option<Shortcut> {
    Some(Shortcut { control: true, shift: false, key })
}

const fn control_shift(key: char) -> Option<Shortcut> {
    Some(Shortcut { control: true, shift: true, key: Key::Char(key) })
}

const fn plain(key: Key) -> Option<Shortcut> {
    Some(Shortcut { control: false, shift: false, key })
}

const fn shift(key: Key) -> Option<Shortcut> {
    Some(Shortcut { control: false, shift: true, key })
}

const fn entry(command: Command, label: &'static str, tooltip: &'static str, shortcut: Option<Shortcut>) -> Entry {
    Entry { command, label, tooltip, shortcut }
}

/// Every command, in the order of the menus.
pub const TABLE: [Entry; 89] = [
    entry(Command::New, "New…", "Start an empty design on a sheet of your size.", control('N')),
    entry(
        Command::NewFromStarter,
        "New from a starter…",
        "Begin with a copy of one of the starter designs, chosen by its picture.",
        control('T'),
    ),
    entry(
        Command::NewForContents,
        "New for what goes in…",
        "Say what should go in, and begin with the folio that holds it.",
        control('I'),
    ),
    entry(Command::Open, "Open…", "Open a design from a file.", control('O')),
    entry(Command::OpenRecent, "Open recent…", "Open one of the designs that were open last.", control_shift('O')),
    entry(Command::Save, "Save", "Save the design to its file.", control('S')),
    entry(Command::SaveAs, "Save as…", "Save the design to another file.", control_shift('S')),
    entry(
        Command::Vary,
        "Make a variation…",
        "Go on with the same folio in a file of its own, which keeps the design it came from.",
        control_shift('B'),
    ),
    entry(
        Command::WhatChanged,
        "What was changed",
        "Show this design beside the one that it is a variation of, and say what is different.",
        control_shift('W'),
    ),
    entry(
        Command::CompareWith,
        "Compare with another file…",
        "Show this design beside one from another file, and say what is different.",
        control_shift('F'),
    ),
    entry(
        Command::Export,
        "Export…",
        "Make a template to print, a booklet, cards, a cutting file, a picture or an animation.",
        control('P'),
    ),
    entry(
        Command::ExportPicture,
        "Export picture…",
        "Make a PNG or SVG of the sheet or of the fold as shown.",
        control_shift('P'),
    ),
    entry(
        Command::Paper,
        "Paper…",
        "Say what the sheet is and what paper it is of, the board's grooves and the units.",
        control('B'),
    ),
    entry(Command::Quit, "Quit", "Close Foliowright.", control('Q')),
    entry(Command::Undo, "Undo", "Take the last change back.", control('Z')),
    entry(Command::Redo, "Redo", "Make the change again that was taken back last.", control_shift('Z')),
    entry(
        Command::ShowHistory,
        "Steps so far…",
        "See every step by its name, and go back to any of them.",
        control('H'),
    ),
    entry(
        Command::Cut,
        "Take out to paste",
        "Take the selected lines or part out of the design, to be pasted elsewhere.",
        control('X'),
    ),
    entry(
        Command::Copy,
        "Copy",
        "Keep the selected lines or part, to be pasted here or in another design.",
        control('C'),
    ),
    entry(Command::Paste, "Paste", "Put in what was copied; a part goes on the selected panel.", control('V')),
    entry(Command::SelectAll, "Select all lines", "Select every line of the design.", control('A')),
    entry(Command::AddScore, "Add score", "Add a score line on the turn the sheet lies on.", plain(Key::Char('A'))),
    entry(
        Command::DrawLine,
        "Draw a line",
        "Press on the sheet and drag from spot to spot, at any angle.",
        plain(Key::Char('L')),
    ),
    entry(
        Command::Measure,
        "Measure",
        "Press on the sheet and drag from one spot to another to read how far they are apart.",
        plain(Key::Char('D')),
    ),
    entry(Command::DuplicateLine, "Duplicate line", "Put the selected lines in once more, a little aside.", None),
    entry(Command::DeleteLine, "Delete line", "Take the selected lines out of the design.", plain(Key::Delete)),
    entry(
        Command::SwitchStretch,
        "Switch score and cut",
        "Cut the selected stretch, or score it again.",
        plain(Key::Char('X')),
    ),
    entry(
        Command::ReverseFold,
        "Fold the other way",
        "Make each selected valley a mountain, and each mountain a valley.",
        plain(Key::Char('V')),
    ),
    entry(
        Command::SwitchAngle,
        "Fold flat or square",
        "Fold the selected scores by 180° or by 90°.",
        plain(Key::Char('G')),
    ),
    entry(
        Command::Lock,
        "Lock or free",
        "Keep the selected lines from being moved, or free them again.",
        plain(Key::Char('K')),
    ),
    entry(
        Command::MirrorLeftRight,
        "Mirror left–right",
        "Move the selected lines to the same place on the other side of the sheet's upright middle line.",
        plain(Key::Char('M')),
    ),
    entry(
        Command::MirrorTopBottom,
        "Mirror top–bottom",
        "Move the selected lines to the same place on the other side of the sheet's level middle line.",
        shift(Key::Char('M')),
    ),
    entry(
        Command::CopyLeftRight,
        "Copy left–right",
        "Add the same lines on the opposite side of the sheet, left or right.",
        control('M'),
    ),
    entry(
        Command::CopyTopBottom,
        "Copy top–bottom",
        "Add the same lines on the opposite side of the sheet, top or bottom.",
        control_shift('M'),
    ),
    entry(
        Command::SpaceEvenly,
        "Space evenly",
        "Make the gaps between three or more selected lines equal; the outermost two stay.",
        plain(Key::Char('E')),
    ),
    entry(
        Command::CutAlong,
        "Cut along lines",
        "Press on a score and drag along it, and round corners along others; letting go cuts all of it.",
        shift(Key::Char('X')),
    ),
    entry(
        Command::AlignLines,
        "Align lines",
        "Move the selected lines to the same distance as the one that was selected first.",
        shift(Key::Char('E')),
    ),
    entry(
        Command::ToGrooves,
        "Put on grooves",
        "Move the selected lines to the nearest grooves of the board.",
        shift(Key::Char('G')),
    ),
    entry(
        Command::SetBase,
        "Make this the base",
        "Let the selected panel lie still while the others fold.",
        plain(Key::Char('B')),
    ),
    entry(
        Command::CutAway,
        "Cut this panel away",
        "Cut every fold between the selected panel and the folio.",
        plain(Key::Char('C')),
    ),
    entry(
        Command::KeepOffcut,
        "Keep this offcut",
        "Score again where the selected offcut was cut from the folio.",
        plain(Key::Char('J')),
    ),
    entry(Command::AddPart, "Add a part…", "Put a hinge, a pocket or another part on a panel.", plain(Key::Char('P'))),
    entry(Command::DuplicatePart, "Duplicate", "Put the same part on once more, a little aside.", control('D')),
    entry(
        Command::TurnPart,
        "Turn the part",
        "Turn the selected part a quarter to the right on its panel.",
        shift(Key::Char('R')),
    ),
    entry(
        Command::TurnPartOver,
        "Turn it over",
        "Let the other face of the selected part be seen.",
        shift(Key::Char('F')),
    ),
    entry(
        Command::PartLeft,
        "Part to the left",
        "Put the selected part against the left border of its panel.",
        control_shift('L'),
    ),
    entry(
        Command::PartRight,
        "Part to the right",
        "Put the selected part against the right border of its panel.",
        control_shift('R'),
    ),
    entry(
        Command::PartTop,
        "Part to the top",
        "Put the selected part against the upper border of its panel.",
        control_shift('T'),
    ),
    entry(
        Command::PartBottom,
        "Part to the bottom",
        "Put the selected part against the lower border of its panel.",
        control_shift('U'),
    ),
    entry(
        Command::PartMiddleAcross,
        "Part to the middle across",
        "Put the selected part as far from the left border of its panel as from the right one.",
        control_shift('E'),
    ),
    entry(
        Command::PartMiddleDown,
        "Part to the middle down",
        "Put the selected part as far from the upper border of its panel as from the lower one.",
        control_shift('D'),
    ),
    entry(
        Command::DeletePart,
        "Delete part",
        "Take the selected part off with all that lies on it. The delete key alone does so too.",
        shift(Key::Delete),
    ),
    entry(
        Command::FitParts,
        "Fit parts into what is left",
        "Cut the parts of the folio's paper from whichever offcuts they fit into.",
        plain(Key::Char('U')),
    ),
    entry(Command::ShowParts, "Show parts", "Show parts on the sheet, or the bare sheet.", plain(Key::Char('H'))),
    entry(
        Command::FindOrder,
        "Find an order",
        "Work out the steps that close the folio, the fewest that are found.",
        plain(Key::Char('O')),
    ),
    entry(
        Command::StepEarlier,
        "Fold the step earlier",
        "Fold the step of what is selected before the step before it.",
        with_control(Key::PageUp),
    ),
    entry(
        Command::StepLater,
        "Fold the step later",
        "Fold the step of what is selected after the step after it.",
        with_control(Key::PageDown),
    ),
    entry(
        Command::JoinStep,
        "Join with the step before",
        "Fold the step of what is selected along with the step before it.",
        shift(Key::Char('J')),
    ),
    entry(
        Command::PartStep,
        "Split the step",
        "Fold the last line of the step of what is selected in a step of its own.",
        shift(Key::Char('K')),
    ),
    entry(
        Command::MendAll,
        "Mend all",
        "Make every first mend of an error or a warning that deletes nothing, cuts no flap away, makes no part and leaves less \
         wrong, as one step.",
        plain(Key::Function(9)),
    ),
    entry(
        Command::ShowSilenced,
        "Show silenced",
        "Show the findings that are silenced, each with its reason, or put them away.",
        shift(Key::Function(9)),
    ),
    entry(
        Command::MoveSheet,
        "Move to another sheet…",
        "Put the design on a sheet of another size; gussets and narrow strips keep their width.",
        control_shift('N'),
    ),
    entry(
        Command::TurnSheet,
        "Turn the sheet",
        "Turn the sheet a quarter to the left on the board.",
        plain(Key::Char('T')),
    ),
    entry(Command::FitSheet, "Show all", "Show the whole sheet.", plain(Key::Home)),
    entry(Command::PlayFold, "Fold", "Watch the folio close, or stop it.", plain(Key::Space)),
    entry(Command::Unfold, "Lay flat", "Show the sheet before the first fold.", plain(Key::Char('1'))),
    entry(Command::Close, "Close up", "Show the folio closed.", plain(Key::Char('2'))),
    entry(Command::FrontView, "From the front", "Look at the folio from its front.", plain(Key::Char('F'))),
    entry(Command::BackView, "From the back", "Look at the folio from its back.", plain(Key::Char('R'))),
    entry(Command::SlantView, "At a slant", "Look at the folio from its lower right.", plain(Key::Char('N'))),
    entry(Command::StepBack, "Step back", "Show the folio before the step it is in.", plain(Key::PageUp)),
    entry(Command::StepOn, "Step on", "Show the folio after the step it is in.", plain(Key::PageDown)),
    entry(
        Command::SwingFlap,
        "Open or close the flap",
        "Fold the selected panel up or down, and first whatever is in its way. A double click on it does so too.",
        plain(Key::Char('W')),
    ),
    entry(
        Command::SpreadLayers,
        "Spread the layers",
        "Show the closed folio with air between its layers, so that their order is seen.",
        plain(Key::Char('S')),
    ),
    entry(
        Command::SeeThrough,
        "See through",
        "Show the paper of the folded folio so thin that what lies behind is seen.",
        plain(Key::Char('I')),
    ),
    entry(Command::FillSheet, "Only the sheet", "Let the sheet fill the window, or not.", plain(Key::Function(2))),
    entry(
        Command::FillFolded,
        "Only the folded view",
        "Let the folded view fill the window, or not.",
        plain(Key::Function(3)),
    ),
    entry(Command::ShowLists, "Lists", "Show the lists of lines and parts, or close them.", plain(Key::Function(4))),
    entry(Command::ShowFolded, "Folded view", "Show the folded view, or close it.", plain(Key::Function(5))),
    entry(Command::ShowOrders, "Orders", "Show the closing and making order, or close it.", plain(Key::Function(6))),
    entry(Command::ShowFindings, "Findings", "Show the findings, or close them.", plain(Key::Function(7))),
    entry(Command::LightOrDark, "Light or dark", "Make the desk light or dark.", plain(Key::Function(8))),
    entry(Command::Larger, "Larger", "Make everything in the window larger.", control('+')),
    entry(Command::Smaller, "Smaller", "Make everything in the window smaller.", control('-')),
    entry(Command::UsualSize, "Usual size", "Show everything in the window at its usual size.", control('0')),
    entry(
        Command::ShowMenu,
        "What can be done with it",
        "Open the menu of what is in focus or selected, as a click with the right button does.",
        shift(Key::Function(10)),
    ),
    entry(
        Command::AllCommands,
        "All commands…",
        "Search every command by its name, with the keys for it.",
        plain(Key::Function(1)),
    ),
    entry(
        Command::FromNothing,
        "A folio from nothing",
        "Read how a folio is made in this window, from an empty sheet to the template.",
        plain(Key::Function(12)),
    ),
    entry(
        Command::About,
        "About Foliowright",
        "See the version, the licence, and what the program is built from.",
        shift(Key::Function(1)),
    ),
];
