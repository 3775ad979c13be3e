//! The design as a whole, its corners and base, and the orders in which it is made and closed.

use crate::{About, Design, Difference};
use model::panel_name::PanelName;
use model::{CornerShape, Document, Length, LineId, Step, Which};
use std::collections::BTreeSet;

/// Title, units and board.
pub(crate) fn of_design(before: &Document, after: &Document) -> Vec<Difference> {
    let mut says = Vec::new();
    if before.title != after.title {
        says.push(format!("It is called \"{}\", not \"{}\".", after.title, before.title));
    }
    if before.units != after.units {
        says.push(format!("Lengths are given in {}, not in {}.", after.units.word(), before.units.word()));
    }
    if before.groove != after.groove {
        let board = |groove: Length| match groove {
            groove if groove <= Length::ZERO => "no grooves".to_owned(),
            groove => format!("a groove every {}", groove.readable(after.units)),
        };
        says.push(format!("The scoring board has {}, not {}.", board(after.groove), board(before.groove)));
    }
    says.into_iter().map(|says| Difference { about: About::Design, says }).collect()
}

/// What panels are called. A mark that another name has been given is that of the same panel; others may have been carried
/// along, so that names alone are compared.
pub(crate) fn of_names(before: &Document, after: &Document) -> Vec<Difference> {
    let (mut was, mut is): (Vec<&PanelName>, Vec<&PanelName>) =
        (before.panel_names.iter().collect(), after.panel_names.iter().collect());
    was.retain(|named| match is.iter().position(|other| other.name == named.name) {
        Some(at) => {
            is.remove(at);
            false
        }
        None => true,
    });
    let mut says = Vec::new();
    was.retain(|named| match is.iter().position(|other| other.mark == named.mark) {
        Some(at) => {
            says.push(format!("The panel \"{}\" is called \"{}\".", named.name, is.remove(at).name));
            false
        }
        None => true,
    });
    says.extend(is.iter().map(|named| format!("A panel is called \"{}\".", named.name)));
    says.extend(was.iter().map(|named| format!("No panel is called \"{}\".", named.name)));
    says.into_iter().map(|says| Difference { about: About::Panels, says }).collect()
}

/// Corners and the base. The points by which panels are marked are carried along with them as lines move, so they are not
/// compared.
pub(crate) fn of_folio(before: &Design<'_>, after: &Design<'_>) -> Vec<Difference> {
    let mut all = Vec::new();
    let corners = |design: &Design<'_>| -> Vec<(Which, CornerShape)> {
        design.document.corners.iter().map(|corner| (corner.which, corner.shape)).collect()
    };
    if corners(before) != corners(after) {
        let says = "Corners are rounded or clipped otherwise.".to_owned();
        all.push(Difference { about: About::Corners, says });
    }
    let says = match (before.layout.base, after.layout.base) {
        (Some(_), None) => Some("No panel lies still."),
        (None, Some(_)) => Some("A panel lies still as it folds."),
        _ if is_other(before, after) => Some("Another panel lies still as it folds."),
        _ => None,
    };
    all.extend(says.map(|says| Difference { about: About::Base, says: says.to_owned() }));
    all
}

/// Whether the panel that lies still is bounded by none of the lines, on the same side of them, that it was bounded by
/// before; of those that both designs have.
fn is_other(before: &Design<'_>, after: &Design<'_>) -> bool {
    let both = |line: LineId| before.document.line(line).is_some() && after.document.line(line).is_some();
    let round = |design: &Design<'_>| -> BTreeSet<(LineId, usize)> {
        let sides = design.layout.stretches.iter().flat_map(|stretch| {
            let own = (0..2).filter(|&side| stretch.sides[side] == design.layout.base);
            own.flat_map(|side| stretch.lines.iter().map(move |&line| (line, side)))
        });
        sides.filter(|(line, _)| both(*line)).collect()
    };
    let (was, is) = (round(before), round(after));
    !was.is_empty() && !is.is_empty() && was.is_disjoint(&is)
}

/// Making and closing.
pub(crate) fn of_orders(before: &Document, after: &Document) -> Vec<Difference> {
    let mut all = Vec::new();
    if before.making != after.making {
        all.push(Difference { about: About::Making, says: "It is made in another order.".to_owned() });
    }
    let steps = |document: &Document| -> Vec<Step> {
        let steps = document.steps.iter().filter(|step| !step.is_empty()).cloned();
        // What is tucked is marked by points, which are carried along as lines move.
        steps.map(|step| Step { tucks: Vec::new(), ..step }).collect()
    };
    let (was, is) = (steps(before), steps(after));
    if was != is {
        let count = |count: usize| if count == 1 { "1 step".to_owned() } else { format!("{count} steps") };
        let says = if was.len() == is.len() {
            "It closes in another order.".to_owned()
        } else {
            format!("It closes in {}, not {}.", count(is.len()), was.len())
        };
        all.push(Difference { about: About::Closing, says });
    }
    all
}
