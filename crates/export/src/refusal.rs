//! Why there is no export.

use booklet::BookletRefusal;
use draw::animation::{MOST_MOMENTS, Still};
use draw::contact::MOST_PICTURES;
use draw::cutting::CuttingRefusal;
use draw::inserts::InsertsRefusal;
use draw::template::TemplateRefusal;
use output::OutputError;

/// Why there is no export of a design, and what to do.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum ExportRefusal {
    /// The file's name ends in something that is not written here.
    #[error("{name} needs another name; end its name in {}", one_of(endings))]
    Ending {
        /// What is exported.
        name: &'static str,
        /// What it may end in.
        endings: &'static [&'static str],
    },
    /// Nothing can be folded.
    #[error("nothing can be folded, since no panel is marked as the base")]
    NoBase,
    /// There are more steps than fit on a contact sheet.
    #[error("{0} steps are too many for one picture; at most {most} fit", most = MOST_PICTURES - 1)]
    TooManySteps(usize),
    /// There is nothing to be seen moving, or too much.
    #[error("{}", still(*.0))]
    Still(Still),
    /// There is no template.
    #[error(transparent)]
    Template(#[from] TemplateRefusal),
    /// There is no booklet.
    #[error(transparent)]
    Booklet(#[from] BookletRefusal),
    /// There are no inserts.
    #[error(transparent)]
    Inserts(#[from] InsertsRefusal),
    /// There is no cutting file.
    #[error(transparent)]
    Cutting(#[from] CuttingRefusal),
    /// It could not be written.
    #[error(transparent)]
    Output(#[from] OutputError),
}

/// Endings in a sentence: ".svg or .dxf".
#[must_use]
pub fn one_of(endings: &[&str]) -> String {
    let all: Vec<String> = endings.iter().map(|ending| format!(".{ending}")).collect();
    match all.split_last() {
        Some((last, [])) => last.clone(),
        Some((last, others)) => format!("{} or {last}", others.join(", ")),
        None => String::new(),
    }
}

fn still(still: Still) -> String {
    match still {
        Still::NothingFolds => "no step of the closing moves anything, so there is nothing to show".to_owned(),
        Still::TooMany(count) => {
            format!("this would take {count} pictures, and at most {MOST_MOMENTS} are made; take fewer for each step")
        }
    }
}
