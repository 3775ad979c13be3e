//! Thin paper with thick cards glued on: every thickness counts where it is.

use super::at;
use crate::{
    Allowance, Assembly, Back, Blueprint, BlueprintStep, Folding, Glue, Part, Piece, PiecePanel, Trouble, close, creep,
    gaps, gussets, thickness,
};
use glam::DVec2;
use model::{Crease, Direction, Face, Fold, FoldAngle, FoldId, LineId, PanelId, Point, Segment};

/// Thickness of the paper and of the card, in mm: a cover paper, and a plastic card (ISO/IEC 7810: 0.76 mm).
const PAPER: f64 = 0.2;
const CARD: f64 = 0.76;

const FLAT: Crease = Crease { direction: Direction::Valley, angle: FoldAngle::Flat, pressed: None };
const WALL: Crease = Crease { direction: Direction::Valley, angle: FoldAngle::Square, pressed: None };

fn rectangle(x: f64, y: f64, w: f64, h: f64) -> Vec<Point> {
    [(x, y), (x + w, y), (x + w, y + h), (x, y + h)].map(|(x, y)| at(x, y)).to_vec()
}

/// A strip of paper 50 mm tall: panels from 0, with lines from 1 between them.
fn strip(widths: &[f64], creases: &[Crease]) -> Piece {
    let mut piece = Piece { caliper: PAPER, ..Piece::default() };
    let mut x = 0.0;
    for (i, &width) in widths.iter().enumerate() {
        piece.panels.push(PiecePanel::new(PanelId(i), rectangle(x, 0.0, width, 50.0)));
        x += width;
    }
    let mut x = 0.0;
    for (i, (&crease, width)) in creases.iter().zip(widths).enumerate() {
        x += width;
        piece.folds.push(Fold {
            id: FoldId(i),
            line: LineId(u32::try_from(i + 1).unwrap()),
            crease,
            panels: [PanelId(i), PanelId(i + 1)],
            stretches: vec![Segment { a: at(x, 0.0), b: at(x, 50.0) }],
        });
    }
    piece
}

/// Glues a card of some thickness, `wide` mm from `x` on and 30 mm tall, on the front of a panel.
fn with_card(mut blueprint: Blueprint, on: usize, (x, wide): (f64, f64), caliper: f64) -> Blueprint {
    let last = blueprint.parts.iter().map(|part| &part.piece).chain([&blueprint.folio]).flat_map(|piece| &piece.panels);
    let panel = PanelId(last.map(|panel| panel.id.0).max().unwrap() + 1);
    let card = PiecePanel::new(panel, rectangle(0.0, 0.0, wide, 30.0));
    blueprint.parts.push(Part {
        piece: Piece { panels: vec![card], caliper, ..Piece::default() },
        folded: Vec::new(),
        panel,
        on: PanelId(on),
        face: Face::Front,
        origin: at(x, 10.0),
        right: DVec2::X,
        turned_over: false,
        inside: None,
    });
    blueprint.bonds.push(Glue {
        panels: [PanelId(on), panel],
        faces: [Face::Front, Face::Back],
        area: vec![rectangle(x + 1.0, 11.0, wide - 2.0, 28.0)],
    });
    blueprint
}

/// The strip with steps that each fold some lines.
fn folio(piece: Piece, base: usize, steps: &[&[u32]]) -> Blueprint {
    let step =
        |lines: &&[u32]| BlueprintStep { lines: lines.iter().map(|&line| LineId(line)).collect(), tucks: Vec::new() };
    Blueprint { steps: steps.iter().map(step).collect(), ..Blueprint::new(piece, PanelId(base)) }
}

fn fold(blueprint: &Blueprint) -> (Assembly, Folding) {
    let assembly = blueprint.assembly().unwrap();
    let folding = close(&assembly);
    (assembly, folding)
}

#[track_caller]
fn near(got: f64, expected: f64) {
    assert!((got - expected).abs() < 1e-9, "{got} is not {expected}");
}

/// A cover of 100 mm over a base of 100 mm that bears a card of 60 mm, so far from the crease.
fn covered(away: f64) -> (Assembly, Folding) {
    let book = folio(strip(&[100.0, 100.0], &[FLAT]), 1, &[&[1]]);
    let (assembly, folding) = fold(&with_card(book, 1, (100.0 + away, 60.0), CARD));
    assert_eq!(folding.troubles(), []);
    (assembly, folding)
}

#[test]
fn layers_lie_half_the_caliper_of_each_apart() {
    // The folding reference, 3.5: mid-planes at the sum of the calipers below. From the middle of the base: half of it
    // and half of the card to the card's middle, half of it, the card and half of the cover to the cover's.
    let (assembly, folding) = covered(10.0);
    for (panel, height) in [(1, 0.0), (2, 0.5 * (PAPER + CARD)), (0, PAPER + CARD)] {
        near(folding.height(PanelId(panel)).unwrap(), height);
    }
    near(folding.closed_size().z, PAPER + CARD + PAPER);
    // It lies there already before the cover closes.
    near(folding.pose(0.0)[2].translation.z, 0.5 * (PAPER + CARD));
    near(folding.pose(1.0)[0].translation.z, PAPER + CARD);
    assert_eq!(folding.planes()[0].layers.iter().map(|(level, _)| *level).collect::<Vec<_>>(), [0, 1, 2]);
    // Beside the card (60 by 30 of 100 by 50 mm) the cover bridges it.
    let areas: Vec<_> = thickness(&assembly, &folding).areas;
    assert_eq!(areas.iter().map(|area| area.layers).collect::<Vec<_>>(), [2, 3]);
    for (area, (paper, mm2)) in areas.iter().zip([(0.4, 3200.0), (1.16, 1800.0)]) {
        near(area.height, PAPER + CARD + PAPER);
        near(area.paper, paper);
        assert!((area.area() - mm2).abs() < 1e-6, "{area:?}");
    }
}

#[test]
fn a_fold_spans_what_lies_at_its_crease() {
    // The folding reference, 4.3: the calipers between the two panels and that of the paper that folds.
    let gap = |away| {
        let (assembly, folding) = covered(away);
        let gap = gaps(&assembly, &folding, &Allowance::default())[0];
        (gap, creep(&assembly, &folding, Back::Sharp))
    };
    let (at_crease, creep) = gap(0.0);
    assert_eq!(at_crease.layers, 1);
    near(at_crease.stack, CARD);
    near(at_crease.needed, CARD + PAPER);
    near(creep[0].by, CARD);
    let (away, creep) = gap(10.0);
    assert_eq!((away.layers, creep.len()), (0, 0));
}

#[test]
fn a_thick_layer_outweighs_several_thin_ones_at_a_crease() {
    // Between cover and base, at the crease: a card at the top, two labels of 0.1 mm on one another at the bottom.
    let book = folio(strip(&[100.0, 100.0], &[FLAT]), 1, &[&[1]]);
    let mut book = with_card(with_card(book, 1, (100.0, 60.0), CARD), 1, (100.0, 20.0), 0.1);
    for (part, y) in book.parts.iter_mut().zip([0.0, 35.0]) {
        part.piece.panels[0] = PiecePanel::new(part.panel, rectangle(0.0, 0.0, 20.0, 15.0));
        part.origin = at(100.0, y);
    }
    for (glue, y) in book.bonds.iter_mut().zip([0.0, 35.0]) {
        glue.area = vec![rectangle(101.0, y + 1.0, 18.0, 13.0)];
    }
    let mut upper = book.parts[1].clone();
    (upper.panel, upper.on, upper.origin) = (PanelId(4), PanelId(3), at(0.0, 0.0));
    upper.piece.panels[0].id = PanelId(4);
    book.parts.push(upper);
    let (assembly, folding) = fold(&book);
    assert_eq!(folding.troubles(), []);
    let gap = gaps(&assembly, &folding, &Allowance::default())[0];
    assert_eq!(gap.layers, 1);
    near(gap.stack, CARD);
    // The upper label rests on the lower one, and the cover on the card.
    near(folding.height(PanelId(4)).unwrap(), 0.5 * PAPER + 0.1 + 0.05);
    near(folding.height(PanelId(0)).unwrap(), PAPER + CARD);
}

/// A tray: a base of 100 mm with a card of some thickness, a gusset, a flap of 90 mm over it.
fn tray(gusset: f64, card: f64) -> (Assembly, Folding) {
    let tray = folio(strip(&[100.0, gusset, 90.0], &[WALL, WALL]), 0, &[&[1, 2]]);
    fold(&with_card(tray, 0, (15.0, 60.0), card))
}

#[test]
fn a_gusset_has_to_be_as_wide_as_the_card_and_its_own_paper() {
    // The folding reference, 4.2: T + 2κt with the hinge in the middle of the paper.
    let (assembly, folding) = tray(3.0, CARD);
    let fit = gussets(&assembly, &folding, &Allowance::default())[0];
    assert_eq!(fit.layers, 1);
    near(fit.wraps, CARD);
    near(fit.least, CARD + PAPER);
}

#[test]
fn a_flap_strikes_a_card_that_is_thicker_than_its_gusset_is_wide() {
    // Scores open on the inside, so a gusset of 3 mm leaves 3 mm between the faces of base and flap. What is thicker by
    // three calipers of the paper is told in any case, however thick.
    let thick = [3.0 + 3.0 * PAPER, 5.0, 8.0];
    for (card, strikes) in [CARD, 2.9, 3.0].map(|card| (card, false)).into_iter().chain(thick.map(|card| (card, true)))
    {
        let (_, folding) = tray(3.0, card);
        let struck = folding
            .troubles()
            .iter()
            .any(|trouble| matches!(trouble, Trouble::Collides { moving, with, .. } if (moving.0, with.0) == (2, 3)));
        assert_eq!(struck, strikes, "{card} mm: {:?}", folding.troubles());
    }
}

/// A base with a tab 25 mm tall, 60 mm from the crease of a cover of 100 mm, which bears a card of some thickness on its
/// inside, 20 to 95 mm from the crease.
fn tabbed(card: f64) -> Blueprint {
    let mut piece = strip(&[100.0, 150.0], &[FLAT]);
    // The tab is cut from the base: 10 mm wide, from x = 160 to 185.
    let open = [(160.0, 20.0), (185.0, 20.0), (185.0, 30.0), (160.0, 30.0)].map(|(x, y)| at(x, y));
    let hole: Vec<Point> = open.iter().rev().copied().collect();
    let outline = piece.panels[1].outline.clone();
    piece.panels[1].convex = model::polygon::convex_pieces(&outline, std::slice::from_ref(&hole));
    piece.panels[1].holes = vec![hole];
    piece.panels.push(PiecePanel::new(PanelId(2), open.to_vec()));
    piece.folds.push(Fold {
        id: FoldId(1),
        line: LineId(2),
        crease: WALL,
        panels: [PanelId(1), PanelId(2)],
        stretches: vec![Segment { a: at(160.0, 20.0), b: at(160.0, 30.0) }],
    });
    with_card(folio(piece, 1, &[&[2], &[1]]), 0, (5.0, 75.0), card)
}

#[test]
fn a_card_on_a_cover_strikes_as_early_as_it_is_thick() {
    // Base t, card c, cover t: closed, the middles of base and cover are t + c apart, and half-way between them is the
    // axis (the folding reference, 3.5), (t + c)/2 above the middle of the base. The card's inner face is t/2 + c from
    // the middle of the cover, so c/2 beyond the axis. The tab's edge is 25 mm above the front of the base, 25 - c/2
    // above the axis, and 60 mm away. A face h beyond the axis meets it earlier by asin(h / r), with h = c/2.
    for card in [0.1, PAPER, CARD, 3.0] {
        let (_, folding) = fold(&tabbed(card));
        let up = 25.0 - card / 2.0;
        let expected = libm::atan2(up, 60.0) + libm::asin(card / 2.0 / libm::hypot(up, 60.0));
        let of_card = folding.troubles().iter().find_map(|trouble| match trouble {
            Trouble::Collides { moving, with, degrees, .. } if (moving.0, with.0) == (3, 2) => Some(180.0 - degrees),
            _ => None,
        });
        let got = of_card.unwrap_or_else(|| panic!("{card} mm: {:?}", folding.troubles()));
        assert!((got - expected.to_degrees()).abs() < 1e-6, "{card} mm: {got}, not {}", expected.to_degrees());
    }
}

#[test]
fn two_cards_that_meet_lie_on_one_another() {
    // One on the base, one on the inside of the cover, both from 10 to 70 mm from the crease: 2t + 2c.
    let book = folio(strip(&[100.0, 100.0], &[FLAT]), 1, &[&[1]]);
    let book = with_card(with_card(book, 1, (110.0, 60.0), CARD), 0, (30.0, 60.0), 0.3);
    let (_, folding) = fold(&book);
    assert_eq!(folding.troubles(), []);
    for (panel, height) in [(2, 0.5 * (PAPER + CARD)), (3, 0.5 * PAPER + CARD + 0.15), (0, PAPER + CARD + 0.3)] {
        near(folding.height(PanelId(panel)).unwrap(), height);
    }
}

#[test]
fn stock_of_the_same_caliper_makes_no_difference_to_the_layers() {
    // With a card of the paper's own thickness the middles lie one caliper apart.
    let book = folio(strip(&[100.0, 100.0], &[FLAT]), 1, &[&[1]]);
    let (_, folding) = fold(&with_card(book, 1, (110.0, 60.0), PAPER));
    for panel in 0..3 {
        let level = folding.layer(PanelId(panel)).unwrap();
        near(folding.height(PanelId(panel)).unwrap(), f64::from(level) * PAPER);
    }
}
