//! Parts: where one is cut from, its own little sheet with folds and glue, and where it is put.

use super::sheet::{HEAVY, around, folio_panels, panels};
use super::{Frame, fill, label, line, outline, scaled};
use crate::block::Picture;
use allot::{Origin, SheetUse, Supply};
use draw::artwork::{Printed, legible, on_board, paled};
use draw::board::Board;
use draw::laid::{LaidLook, hatching, laid_parts, printed_laid_nodes};
use draw::list::{Node, Role};
use draw::sheet::{SheetLook, role_of_fold, sheet_nodes};
use draw::style::{GLUE_INK, PART_FRONT, stroke_for};
use draw::supply::source_nodes;
use fold::{Assembly, Folding};
use kurbo::{BezPath, Rect, Size};
use model::part::{PartId, PartLayout};
use model::{Document, Face, Layout, PanelId, PieceId, Turn};
use std::collections::BTreeSet;

/// The paper that a part is cut from, with the part on it; `None` for what is bought or has no paper.
pub(crate) fn source(
    layout: &Layout,
    printed: &Printed<'_>,
    supply: &Supply,
    sheets: &[SheetUse],
    room: Size,
) -> Option<Picture> {
    let part = layout.part(supply.part)?;
    let (board, shown, mut nodes, frame, stock) = match &supply.from {
        Origin::Offcut { piece, .. } => {
            let board = Board { size: layout.size, turn: Turn::None };
            let own: BTreeSet<PanelId> = layout.pieces.get(piece.0)?.panels.iter().copied().collect();
            let frame = Frame::new(around(layout, &own, board), room, 1.5);
            (board, supply.clone(), panels(layout, printed, &own, board, frame), frame, None)
        }
        Origin::Sheet { stock, cutout, .. } => {
            let size = sheets.iter().find(|sheets| sheets.stock == *stock)?.size;
            let board = Board { size, turn: Turn::None };
            let frame = Frame::new(board.rect(), room, 1.5);
            let path = frame.place() * rect_path(board.rect());
            let paper = vec![
                fill(Role::Offcut, path.clone(), draw::style::OFFCUT),
                line(Role::Outline, path, stroke_for(Role::Outline)),
            ];
            let print = printed.prints.on_sheet(*stock, Face::Front);
            let paper = paled(paper, print, frame.place());
            // Drawn like one on an offcut: where it lies is all that is asked.
            let from = Origin::Offcut { piece: PieceId(0), name: String::new(), cutout: *cutout, whole: false };
            (board, Supply { from, ..supply.clone() }, paper, frame, *stock)
        }
        Origin::Bought | Origin::Missing(_) => return None,
    };
    let print = printed.prints.on_sheet(stock, Face::Front);
    nodes.extend(scaled(&paled(source_nodes(layout, &shown, board), print, on_board(board)), frame.place()));
    // A fold would run through the name.
    if let (Origin::Offcut { cutout, .. }, true) = (&shown.from, part.folds.is_empty()) {
        let (low, size) = (cutout.rect.corner, cutout.rect.size);
        let high = model::Point::new(low.x + size.width(), low.y + size.height());
        nodes.extend(label(frame.rect(Rect::from_points(board.at(low), board.at(high))), &part.name));
    }
    Some(frame.picture(nodes))
}

/// A part's own little sheet: what is cut off it, its folds and its glue.
pub(crate) fn pattern(layout: &Layout, printed: &Printed<'_>, laid: &PartLayout, room: Size) -> Picture {
    little_sheet((layout, printed), laid, room, 1.0, true)
}

/// The same with its folds heavy and without glue.
pub(crate) fn folding(layout: &Layout, printed: &Printed<'_>, laid: &PartLayout, room: Size) -> Picture {
    little_sheet((layout, printed), laid, room, HEAVY, false)
}

fn little_sheet(
    (layout, printed): (&Layout, &Printed<'_>),
    laid: &PartLayout,
    room: Size,
    heavy: f64,
    glue: bool,
) -> Picture {
    let board = Board { size: laid.sheet.size, turn: Turn::None };
    let frame = Frame::new(board.rect(), room, 1.5);
    let look = SheetLook { turn: Turn::None, names: false, distances: false };
    let mut nodes = sheet_nodes(&laid.pattern.document, &laid.sheet, &look);
    for node in &mut nodes {
        if let Node::Item { role: role @ Role::Paper, shape: draw::list::Shape::Fill { colour, .. } } = node {
            (*role, *colour) = (Role::Part, PART_FRONT);
        }
    }
    let print = printed.on_panel(layout, laid.main, Face::Front);
    let mut nodes = scaled(&paled(nodes, print, on_board(board)), frame.place());
    if heavy > 1.0 {
        for fold in &laid.folds {
            let role = role_of_fold(fold.crease.direction);
            let mut path = BezPath::new();
            for run in &fold.stretches {
                path.move_to(board.at(run.a));
                path.line_to(board.at(run.b));
            }
            let mut stroke = stroke_for(role);
            stroke.width *= heavy;
            nodes.push(line(role, frame.place() * path, stroke));
        }
    }
    if glue {
        let areas = laid.glue.iter().flat_map(|glue| &glue.area);
        let placed = |area: &Vec<model::Point>| area.iter().map(|&point| frame.place() * board.at(point)).collect();
        nodes.extend(hatching(&areas.map(placed).collect::<Vec<_>>()));
    }
    frame.picture(nodes)
}

/// The folio laid open with the parts that are on it so far, the one that is put there now with a heavy outline.
pub(crate) fn laid(
    document: &Document,
    layout: &Layout,
    (assembly, folding): (&Assembly, &Folding),
    printed: &Printed<'_>,
    (so_far, now): (&BTreeSet<PartId>, PartId),
    room: Size,
) -> Picture {
    let board = Board { size: layout.size, turn: Turn::None };
    let own = folio_panels(layout);
    let mut only = layout.clone();
    only.parts.retain(|part| so_far.contains(&part.id));
    let shown = laid_parts(&only, assembly, folding, board);
    let bounds = shown.iter().flat_map(|part| part.outlines.iter().flatten());
    let bounds = bounds.fold(around(layout, &own, board), |all, &point| all.union_pt(point));
    let frame = Frame::new(bounds, room, 1.0);
    let mut nodes = panels(layout, printed, &own, board, frame);
    let look = LaidLook { names: false, glue: false };
    nodes.extend(scaled(&printed_laid_nodes(&only, (assembly, folding), board, look, printed), frame.place()));
    for part in shown.iter().filter(|part| part.id == now) {
        let mut path = BezPath::new();
        for points in &part.outlines {
            path.extend(outline(points.iter().copied()));
        }
        let mut stroke = stroke_for(if part.is_behind { Role::Valley } else { Role::Outline });
        stroke.width *= HEAVY;
        stroke.colour = GLUE_INK;
        let is_printed = layout.part(now).is_some_and(|part| {
            [Face::Front, Face::Back].into_iter().any(|face| printed.on_panel(layout, part.main, face).is_some())
        });
        let over = |nodes: Vec<Node>| if is_printed { legible(nodes) } else { nodes };
        nodes.extend(over(vec![line(Role::Part, frame.place() * path, stroke)]));
        if let Some(points) = part.outlines.last() {
            let room = points.iter().map(|&point| Rect::from_points(point, point)).reduce(|a, b| a.union(b));
            nodes.extend(over(
                room.and_then(|room| label(frame.rect(room), &document.part_name(now))).into_iter().collect(),
            ));
        }
    }
    frame.picture(nodes)
}

fn rect_path(rect: Rect) -> BezPath {
    outline([
        (rect.x0, rect.y0).into(),
        (rect.x1, rect.y0).into(),
        (rect.x1, rect.y1).into(),
        (rect.x0, rect.y1).into(),
    ])
}
