//! What can be asked for on the command line.

use crate::export::ExportTask;
use clap::{Args, Parser, Subcommand, ValueEnum};
use std::io::IsTerminal;
use std::path::PathBuf;

/// Design a folio from one sheet of paper, see it fold, and cut it.
///
/// Without a task, `foliowright [FILE]` opens the window.
#[derive(Debug, Parser)]
#[command(name = "foliowright", version, disable_help_subcommand = false)]
pub(crate) struct Arguments {
    #[command(subcommand)]
    pub(crate) task: Task,
}

#[derive(Debug, Subcommand)]
pub(crate) enum Task {
    /// Say what will go wrong at the table.
    Check(CheckTask),
    /// Say all that follows from a design: panels, folds, offcuts, scoring table, closed size.
    Describe(DescribeTask),
    /// Make a template, a booklet, a cutting file, cards and mats, pictures or an animation.
    Export(ExportTask),
    /// Say what the checker looks for, and where its limits come from.
    Rules(RulesTask),
    /// List the starter designs, or copy one.
    Starters(StartersTask),
    /// Make an empty design.
    New(NewTask),
    /// Copy a design to another unit or another sheet.
    Convert(ConvertTask),
    /// Put a picture on a face of the sheet.
    Artwork(ArtworkTask),
    /// Begin a variation of a design, which keeps the one it came from.
    Vary(VaryTask),
    /// List the lengths that a design names, or give them other values.
    Lengths(LengthsTask),
    /// Say what two designs differ in.
    Compare(CompareTask),
    /// Work out a folio from what should go in.
    Measure(MeasureTask),
    /// Print the version, the licence, and what the program is built from, with the licence of each.
    Licences,
    /// Print what a shell needs to complete these commands.
    Completions(CompletionsTask),
    /// Print a page of the manual, for the program or one of its commands.
    Manual(ManualTask),
}

#[derive(Debug, Args)]
#[command(group = clap::ArgGroup::new("changes").args(["fix", "silence", "hear"]))]
pub(crate) struct CheckTask {
    /// The designs to check.
    #[arg(required = true, value_name = "FILE")]
    pub(crate) files: Vec<PathBuf>,
    /// Print one JSON value instead of sentences.
    #[arg(long)]
    pub(crate) json: bool,
    /// Mend what this rule finds in one design, where that can be done in one go: each finding in the first way that it
    /// offers, one after another.
    #[arg(long, value_name = "RULE", requires = "output", conflicts_with = "json")]
    pub(crate) fix: Option<String>,
    /// Say no more of what this rule finds at one place of one design, for the reason given with --reason.
    #[arg(long, value_name = "RULE", requires_all = ["output", "reason"], conflicts_with_all = ["json", "fix"])]
    pub(crate) silence: Option<String>,
    /// Why that is as you want it; kept in the design.
    #[arg(long, value_name = "WHY", requires = "silence")]
    pub(crate) reason: Option<String>,
    /// Let what is silenced of this rule in one design be heard again.
    #[arg(long, value_name = "RULE", requires = "output", conflicts_with_all = ["json", "fix", "silence"])]
    pub(crate) hear: Option<String>,
    /// Which of several findings --silence or --hear is for, counted from 1 as they are told.
    #[arg(long, value_name = "N", conflicts_with_all = ["json", "fix"])]
    pub(crate) number: Option<usize>,
    /// Where to put the changed design.
    #[arg(short, long, value_name = "FILE", requires = "changes")]
    pub(crate) output: Option<PathBuf>,
    /// Whether severities are coloured: where a terminal shows them and NO_COLOR is not set, when left out.
    #[arg(long, value_enum, default_value_t)]
    pub(crate) colour: ColourWord,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, ValueEnum)]
pub(crate) enum ColourWord {
    /// On a terminal.
    #[default]
    Auto,
    /// In any case.
    Always,
    /// Not at all.
    Never,
}

impl ColourWord {
    /// Whether what goes to standard output is to have colour.
    pub(crate) fn is_on(self) -> bool {
        match self {
            Self::Always => true,
            Self::Never => false,
            // A variable of this name that is not empty asks for none (an informal standard of command-line programs).
            Self::Auto => {
                std::io::stdout().is_terminal() && std::env::var_os("NO_COLOR").is_none_or(|value| value.is_empty())
            }
        }
    }
}

#[derive(Debug, Args)]
pub(crate) struct RulesTask {
    /// The rule to explain, such as off-groove; all of them, as a page of Markdown, when left out.
    pub(crate) rule: Option<String>,
}

#[derive(Debug, Args)]
pub(crate) struct DescribeTask {
    /// The design to describe.
    pub(crate) file: PathBuf,
    /// Print one JSON value instead of text.
    #[arg(long)]
    pub(crate) json: bool,
    /// In the JSON, where each panel is after so many steps, such as 1.5, or `closed`, which it is when left out.
    #[arg(long, value_name = "STEPS", requires = "json")]
    pub(crate) at: Option<String>,
    /// Also say how many ways there are for the layers to lie when closed, trying so many steps to see which of them
    /// folding reaches; 1000 when no number is given.
    #[arg(long, value_name = "TRIES", num_args = 0..=1, require_equals = true, default_missing_value = "1000")]
    #[arg(value_parser = clap::value_parser!(u64).range(..=1_000_000))]
    pub(crate) orders: Option<u64>,
    /// How much smaller mats are than the faces that they go on, at each edge, such as 1/8in, which it is when left out.
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub(crate) margin: Option<String>,
    /// Look longer, about a second, for a better plan of which part is cut from which offcut.
    #[arg(long)]
    pub(crate) thorough: bool,
}

#[derive(Debug, Args)]
pub(crate) struct StartersTask {
    /// Copy the starter of this name into a folder.
    #[arg(long, num_args = 2, value_names = ["NAME", "DIR"])]
    pub(crate) copy: Option<Vec<String>>,
    /// Give one of its named lengths another value, such as "card width=6 in". Once for each.
    #[arg(long, value_name = "NAME=VALUE", requires = "copy", conflicts_with = "json")]
    pub(crate) set: Vec<String>,
    /// Print one JSON value instead of text.
    #[arg(long)]
    pub(crate) json: bool,
}

#[derive(Debug, Args)]
pub(crate) struct NewTask {
    /// The sheet's size, such as 12x12in, 210x297mm or A4.
    #[arg(long, value_name = "SIZE")]
    pub(crate) sheet: String,
    /// Where to put the design.
    #[arg(short, long, value_name = "FILE")]
    pub(crate) output: PathBuf,
}

#[derive(Debug, Args)]
pub(crate) struct VaryTask {
    /// The design.
    pub(crate) file: PathBuf,
    /// Where to put the variation.
    #[arg(short, long, value_name = "FILE")]
    pub(crate) output: PathBuf,
    /// What to call it; after the design when left out.
    #[arg(long)]
    pub(crate) title: Option<String>,
    /// Give one of its named lengths another value, such as "card width=6 in". Once for each.
    #[arg(long, value_name = "NAME=VALUE")]
    pub(crate) set: Vec<String>,
}

#[derive(Debug, Args)]
pub(crate) struct LengthsTask {
    /// The design.
    pub(crate) file: PathBuf,
    /// Give a named length another value, such as "card width=6 in" or "room=card width + 1/4 in". Once for each.
    #[arg(long, value_name = "NAME=VALUE", requires = "output", conflicts_with = "json")]
    pub(crate) set: Vec<String>,
    /// Where to put the design with the other values.
    #[arg(short, long, value_name = "FILE", requires = "set")]
    pub(crate) output: Option<PathBuf>,
    /// Print one JSON value instead of text.
    #[arg(long)]
    pub(crate) json: bool,
}

#[derive(Debug, Args)]
pub(crate) struct CompareTask {
    /// A design; a variation alone is compared with the design that it came from.
    pub(crate) file: PathBuf,
    /// The later design, to compare the first with.
    pub(crate) other: Option<PathBuf>,
    /// Print one JSON value instead of sentences.
    #[arg(long)]
    pub(crate) json: bool,
}

#[derive(Debug, Args)]
pub(crate) struct MeasureTask {
    /// The sheet's size, such as 12x12in, 210x297mm or A4.
    #[arg(long, value_name = "SIZE")]
    pub(crate) sheet: String,
    /// What goes in: a name, a count, the size and the thickness of one, with commas between them, such as "seed packet, 4,
    /// 4 1/2 x 3 1/4 in, 1 mm". Once for each kind.
    #[arg(long, value_name = "THING", required = true)]
    pub(crate) put: Vec<String>,
    /// How thick the sheet is; 0.3 mm when left out.
    #[arg(long, value_name = "LENGTH")]
    pub(crate) caliper: Option<String>,
    /// How far apart the grooves of the scoring board are; 1/8 in or 5 mm when left out.
    #[arg(long, value_name = "LENGTH")]
    pub(crate) groove: Option<String>,
    /// Where to put the design.
    #[arg(short, long, value_name = "FILE")]
    pub(crate) output: Option<PathBuf>,
    /// Print one JSON value instead of sentences.
    #[arg(long)]
    pub(crate) json: bool,
}

#[derive(Debug, Args)]
pub(crate) struct CompletionsTask {
    /// The shell.
    pub(crate) shell: clap_complete::Shell,
}

#[derive(Debug, Args)]
pub(crate) struct ManualTask {
    /// The command, such as "export template"; the whole program when left out.
    pub(crate) command: Vec<String>,
    /// Print all commands with their options as one page of Markdown, as it lies in the guide.
    #[arg(long, conflicts_with = "command")]
    pub(crate) markdown: bool,
}

#[derive(Debug, Args)]
#[command(group = clap::ArgGroup::new("to").required(true).multiple(true))]
pub(crate) struct ConvertTask {
    /// The design.
    pub(crate) file: PathBuf,
    /// Where to put the copy.
    #[arg(short, long, value_name = "FILE")]
    pub(crate) output: PathBuf,
    /// Show lengths in this unit; no measurement changes.
    #[arg(long, value_enum, group = "to")]
    pub(crate) units: Option<UnitWord>,
    /// Move the design to a sheet of this size, such as 8 1/2x11in or A4: panels grow or shrink, gussets and strips up to
    /// 1/4 in stay.
    #[arg(long, value_name = "SIZE", group = "to")]
    pub(crate) sheet: Option<String>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum UnitWord {
    /// Inches.
    In,
    /// Millimetres.
    Mm,
    /// Centimetres.
    Cm,
}

#[derive(Debug, Args)]
pub(crate) struct ArtworkTask {
    /// The design; the picture is copied into the folder beside it.
    pub(crate) file: PathBuf,
    /// The picture, a PNG or JPEG; left out with --remove.
    #[arg(required_unless_present = "remove", conflicts_with = "remove")]
    pub(crate) picture: Option<PathBuf>,
    /// The face it is printed on.
    #[arg(long, value_enum)]
    pub(crate) side: SideWord,
    /// How wide it is on the paper, such as 12 in; as wide as the sheet when left out.
    #[arg(long, value_name = "LENGTH", conflicts_with = "remove")]
    pub(crate) width: Option<String>,
    /// From the left edge of the face to the picture, seen from that side.
    #[arg(long, value_name = "LENGTH", conflicts_with = "remove", allow_hyphen_values = true)]
    pub(crate) left: Option<String>,
    /// From the top edge of the face to the picture.
    #[arg(long, value_name = "LENGTH", conflicts_with = "remove", allow_hyphen_values = true)]
    pub(crate) top: Option<String>,
    /// Take the picture off that face; its file stays.
    #[arg(long)]
    pub(crate) remove: bool,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum SideWord {
    /// The front of the sheet.
    Front,
    /// The back.
    Back,
}

/// What clap says over several lines, as one sentence.
pub(crate) fn one_sentence(error: &clap::Error) -> String {
    let text = error.to_string();
    let words = text.lines().map(str::trim).take_while(|line| !line.starts_with("Usage:"));
    let words: Vec<&str> = words.filter(|line| !line.is_empty() && !line.starts_with("For more information")).collect();
    let said = words.join(" ");
    let said = said.strip_prefix("error: ").unwrap_or(&said);
    if said.is_empty() || matches!(error.kind(), clap::error::ErrorKind::DisplayHelpOnMissingArgumentOrSubcommand) {
        return "say what to do: `foliowright --help` lists the tasks".to_owned();
    }
    format!("{said}; `foliowright --help` lists the tasks")
}
