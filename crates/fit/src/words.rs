//! What fits, said to a maker: one function a result. What has to go into something is said rounded down to what a ruler
//! shows.

use crate::insert::{Holder, InsertFit, Loaded, Misfit};
use crate::mat::{MatCut, MatFit};
use crate::pocket::{Holds, Inside, PocketFit};
use crate::room::{CardFit, Depth, Ends, Room};
use crate::rounding::{down, size_up, thick_down, thick_up, to_cut, up};
use crate::tray::TrayFit;
use crate::tuck::{CornerFit, CornerSet};
use fold::View;
use model::words::listed;
use model::{Document, Layout, Length, PanelId, PartId, SheetEdge, Size, Unit};

/// What goes into a part.
#[must_use]
pub fn pocket(fit: &PocketFit, unit: Unit) -> String {
    match &fit.holds {
        Holds::Pocket(inside) => in_pocket(&fit.name, inside, unit),
        Holds::Corner(corner) => in_corner(&fit.name, corner.as_ref(), unit),
        Holds::Surface { room, .. } => {
            format!(
                "\"{}\" takes what is no larger than {}.",
                fit.name,
                proposed((room.across.inner, room.down.inner), unit)
            )
        }
    }
}

/// A usual card that goes in: "Bank card (ID-1), turned: 4 go in, standing out 1/2 in".
#[must_use]
pub fn card(fit: &CardFit, unit: Unit) -> String {
    let turned = if fit.is_turned { ", turned" } else { "" };
    let count = match fit.count {
        Some(1) => "one goes in".to_owned(),
        Some(count) => format!("{count} go in"),
        None => "goes in".to_owned(),
    };
    let out = fit.stands_out[0].max(fit.stands_out[1]);
    let out = if out > Length::ZERO { format!(", standing out {}", up(out, unit).text(unit)) } else { String::new() };
    format!("{}{turned}: {count}{out}", fit.card.name)
}

/// What tuck corners hold between them.
#[must_use]
pub fn corners(set: &CornerSet, document: &Document) -> String {
    let unit = document.units;
    format!(
        "{} hold a card of up to {} and cover {} of it; one of that height must be wider than {}, one of that width higher \
         than {}.",
        parts(set.corners.iter().map(|corner| corner.part), document),
        proposed(set.largest(), unit),
        percent(set.share()),
        up(set.least_width, unit).text(unit),
        up(set.least_height, unit).text(unit),
    )
}

/// What lies in a tray.
#[must_use]
pub fn tray(fit: &TrayFit, unit: Unit) -> String {
    let name = first_lower(&fit.name);
    if fit.lacks > Length::ZERO {
        let by = up(fit.lacks, unit).text(unit);
        return format!("The gussets round the {name} are {by} too narrow for what they go round; make them wider.");
    }
    match (fit.room.largest(), fit.room.depth) {
        (Some(largest), Depth::Upright(depth)) => format!(
            "On the {name} there is room for what is up to {}{}.",
            proposed(largest, unit),
            stacked(depth, unit)
        ),
        _ => format!("The gussets round the {name} leave no room on it; make them wider."),
    }
}

/// Whether an insert fits where it lies.
#[must_use]
pub fn insert(fit: &InsertFit, document: &Document, layout: &Layout) -> String {
    let unit = document.units;
    let place = match &fit.lies_in {
        Holder::Pocket(pocket) => quoted(&document.part_name(*pocket)),
        Holder::Corners(corners) => parts(corners.iter().copied(), document),
        Holder::Tray(panel) => panel_name(layout, *panel),
        Holder::Loose(panel) => {
            return format!("\"{}\" lies loose on {}; nothing holds it.", fit.name, panel_name(layout, *panel));
        }
    };
    let Some(first) = fit.problems.first() else {
        let play = fit.play.map_or(String::new(), |play| format!(" with {} to spare", down(play, unit).text(unit)));
        let out = up(fit.stands_out, unit).text(unit);
        let out = if fit.stands_out > Length::ZERO { format!(" and stands out {out}") } else { String::new() };
        return format!("\"{}\" fits {place}{play}{out}.", fit.name);
    };
    let by = |length: Length| up(length, unit).text(unit);
    let why = match *first {
        Misfit::TooWide(length) => format!("is {} too wide for {place}", by(length)),
        Misfit::TooHigh(length) => format!("is {} too high for {place}", by(length)),
        Misfit::TooThick(length) => format!("makes a stack {} too thick for {place}", by(length)),
        Misfit::OverGlue(length) => format!("is laid {} over what closes {place}; move it in", by(length)),
        Misfit::SlipsOut => format!("slips out of {place}; make it larger"),
        Misfit::NoMouth => format!("can't be put into {place}, which is closed all round"),
    };
    format!("\"{}\" {why}.", fit.name)
}

/// How large something is at a glance, from millimetres worked out: "5 1/2 x 4 1/2 in". Nothing is larger than is said.
#[must_use]
pub fn size_at_a_glance([width, height]: [f64; 2], unit: Unit) -> String {
    let side = |mm| size_up(Length::from_mm_rounded(mm).unwrap_or(Length::LIMIT), unit);
    exact((side(width), side(height)), unit)
}

/// How thick something is at a glance, from millimetres worked out: "5/16 in thick". Nothing is thicker than is said.
#[must_use]
pub fn thickness_at_a_glance(mm: f64, unit: Unit) -> String {
    format!("{} thick", thick_up(Length::from_mm_rounded(mm).unwrap_or(Length::LIMIT), unit).text(unit))
}

/// How thick the folio is with what lies in it.
#[must_use]
pub fn load(loaded: &Loaded, document: &Document) -> String {
    let thick = thick_up(loaded.thickness, document.units).text(document.units);
    let with = match loaded.counted.as_slice() {
        [] => "Closed and empty".to_owned(),
        counted => format!("Closed with {}", parts(counted.iter().copied(), document)),
    };
    let without = match loaded.left_out.as_slice() {
        [] => String::new(),
        left => format!(" {} could not be put in and is not counted.", parts(left.iter().copied(), document)),
    };
    format!("{with} it is {thick} thick.{without}")
}

/// The mat for a face: "Base, front: 5 1/4 x 4 1/4 in".
#[must_use]
pub fn mat(fit: &MatFit, unit: Unit) -> String {
    format!("{}, {}: {}", fit.name, fit.face.word(), exact((fit.width, fit.height), unit))
}

/// When the face of a mat is seen, of so many steps of closing: "from the front flat and after step 1; from the back at
/// every stage".
#[must_use]
pub fn seen(fit: &MatFit, steps: usize) -> String {
    let stage = |stage: usize| match stage {
        0 => "flat".to_owned(),
        stage if stage == steps => "closed".to_owned(),
        stage => format!("after step {stage}"),
    };
    let from = |view: View| {
        let stages: Vec<usize> = fit.seen.iter().filter(|sight| sight.view == view).map(|sight| sight.stage).collect();
        let when =
            if stages.len() > steps { "at every stage".to_owned() } else { listed(stages.iter().map(|&at| stage(at))) };
        (!stages.is_empty()).then(|| format!("from the {} {when}", view.word()))
    };
    View::ALL.into_iter().filter_map(from).collect::<Vec<_>>().join("; ")
}

/// One line of the cut list of mats: "2 mats of 5 1/4 x 2 in".
#[must_use]
pub fn cut(cut: &MatCut, unit: Unit) -> String {
    let count = match cut.mats.len() {
        1 => "1 mat".to_owned(),
        count => format!("{count} mats"),
    };
    format!("{count} of {}", exact((cut.width, cut.height), unit))
}

fn in_pocket(name: &str, inside: &Inside, unit: Unit) -> String {
    let name = quoted(name);
    let room = &inside.room;
    if inside.mouths.is_empty() {
        return format!("{name} is closed all round; leave an edge open for its mouth.");
    }
    let Some(largest) = room.largest() else {
        return format!("{name} leaves no room inside; make it larger, or its glue strips narrower.");
    };
    format!(
        "{name} is {} inside, open at the {}, and holds an insert of up to {}{}.",
        size((room.across.inner, room.down.inner), unit),
        listed(inside.mouths.iter().map(|edge| edge_word(*edge).to_owned())),
        proposed(largest, unit),
        thickness(room, unit),
    )
}

/// ", in a stack of up to 7/32 in": nothing for so little that no stack is.
fn stacked(depth: Length, unit: Unit) -> String {
    let depth = thick_down(depth, unit);
    if depth > Length::ZERO { format!(", in a stack of up to {}", depth.text(unit)) } else { String::new() }
}

/// How thick a stack goes in, as the end of a sentence.
fn thickness(room: &Room, unit: Unit) -> String {
    match room.depth {
        Depth::Upright(depth) => stacked(depth, unit),
        Depth::Bowing if room.across.closed == Ends::Both || room.down.closed == Ends::Both => {
            "; a stack may be as thick as it has play".to_owned()
        }
        Depth::Bowing | Depth::Surface => String::new(),
    }
}

fn in_corner(name: &str, corner: Option<&CornerFit>, unit: Unit) -> String {
    let name = quoted(name);
    match corner {
        Some(fit) => format!(
            "{name} covers {} of the upper or lower edge of a card and {} of its side.",
            down(fit.across, unit).text(unit),
            down(fit.down, unit).text(unit)
        ),
        None => format!("{name} leaves no room for the corner of a card; make it larger, or its glue strip narrower."),
    }
}

const fn edge_word(edge: SheetEdge) -> &'static str {
    match edge {
        SheetEdge::Top => "top",
        SheetEdge::Right => "right",
        SheetEdge::Bottom => "bottom",
        SheetEdge::Left => "left",
    }
}

/// Rounded down.
fn size((width, height): (Length, Length), unit: Unit) -> String {
    exact((down(width, unit), down(height, unit)), unit)
}

/// What is proposed to be cut.
fn proposed((width, height): (Length, Length), unit: Unit) -> String {
    exact((to_cut(width, unit), to_cut(height, unit)), unit)
}

fn exact((width, height): (Length, Length), unit: Unit) -> String {
    Size::new(width, height)
        .map_or_else(|| format!("{} x {}", width.text(unit), height.text(unit)), |size| size.text(unit))
}

fn parts(ids: impl Iterator<Item = PartId>, document: &Document) -> String {
    listed(ids.map(|id| quoted(&document.part_name(id))))
}

/// A part's name within a sentence.
fn quoted(name: &str) -> String {
    format!("\"{name}\"")
}

fn panel_name(layout: &Layout, panel: PanelId) -> String {
    format!("the {}", first_lower(&layout.panel(panel).name))
}

fn first_lower(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_lowercase().chain(letters).collect())
}

/// Shares nearer than this to a whole percent are one.
const ROUNDING: f64 = 1e-9;

/// A share in whole percent, rounded down.
fn percent(share: f64) -> String {
    format!("{:.0} %", libm::floor(share * 100.0 + ROUNDING))
}
