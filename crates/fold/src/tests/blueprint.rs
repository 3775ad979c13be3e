//! Structures of several pieces: parts, glue, a base with its back up.

use super::{Sheet, VALLEY, at, near};
use crate::{
    Assembly, Blueprint, BlueprintFault, BlueprintStep, Folding, Glue, Part, Piece, PiecePanel, Trouble, close,
};
use glam::{DVec2, DVec3};
use model::{Crease, Direction, Face, Fold, FoldAngle, FoldId, LineId, PanelId, Point, Segment};

const FLAT: Crease = Crease { direction: Direction::Valley, angle: FoldAngle::Flat, pressed: None };

fn rectangle(x: f64, y: f64, w: f64, h: f64) -> Vec<Point> {
    [(x, y), (x + w, y), (x + w, y + h), (x, y + h)].map(|(x, y)| at(x, y)).to_vec()
}

/// A strip of panels numbered from `first`, 40 mm tall, with a line between each two, numbered from `line`.
fn strip(first: usize, line: u32, widths: &[f64], crease: Crease) -> Piece {
    let mut piece = Piece::default();
    let mut x = 0.0;
    for (i, &width) in widths.iter().enumerate() {
        piece.panels.push(PiecePanel::new(PanelId(first + i), rectangle(x, 0.0, width, 40.0)));
        if i > 0 {
            piece.folds.push(Fold {
                id: FoldId(i - 1),
                line: LineId(line + u32::try_from(i).unwrap() - 1),
                crease,
                panels: [PanelId(first + i - 1), PanelId(first + i)],
                stretches: vec![Segment { a: at(x, 0.0), b: at(x, 40.0) }],
            });
        }
        x += width;
    }
    piece
}

/// A part laid on a panel without turning.
fn part(piece: Piece, on: usize, face: Face, origin: (f64, f64)) -> Part {
    let panel = piece.panels[0].id;
    let (origin, right) = (at(origin.0, origin.1), DVec2::X);
    Part { piece, folded: Vec::new(), panel, on: PanelId(on), face, origin, right, turned_over: false, inside: None }
}

fn glue(panels: [usize; 2], faces: [Face; 2]) -> Glue {
    Glue { panels: panels.map(PanelId), faces, area: vec![rectangle(5.0, 5.0, 10.0, 10.0)] }
}

fn step(lines: &[u32]) -> BlueprintStep {
    BlueprintStep { lines: lines.iter().map(|&line| LineId(line)).collect(), tucks: Vec::new() }
}

fn folded(blueprint: &Blueprint) -> (Assembly, Folding) {
    let assembly = blueprint.assembly().unwrap();
    let folding = close(&assembly);
    (assembly, folding)
}

#[test]
fn a_blueprint_folds_as_the_same_document_does() {
    let drawn = Sheet::new(210.0, 40.0).down(70.0, VALLEY).down(140.0, VALLEY).base(105.0, 20.0);
    let drawn = drawn.steps(&[&[1], &[2]]).fold();
    let piece = strip(0, 1, &[70.0, 70.0, 70.0], FLAT);
    let blueprint = Blueprint { steps: vec![step(&[1]), step(&[2])], ..Blueprint::new(piece, PanelId(1)) };
    let (_, built) = folded(&blueprint);
    let drawn = &drawn.folding;
    assert_eq!((built.planes(), built.overlaps()), (drawn.planes(), drawn.overlaps()));
    assert_eq!((built.troubles(), built.flat_pose(1.5)), (drawn.troubles(), drawn.flat_pose(1.5)));
}

#[test]
fn a_base_with_its_back_up_folds_to_its_other_face() {
    let piece = strip(0, 1, &[70.0, 100.0], FLAT);
    let blueprint = Blueprint { back_up: true, steps: vec![step(&[1])], ..Blueprint::new(piece, PanelId(1)) };
    let (assembly, folding) = folded(&blueprint);
    assert_eq!(folding.troubles(), []);
    // Turned over about the upright line through the base's middle, x = 120; a valley closes on the front, now below.
    near(folding.flat_pose(0.0)[1].transform_point3(DVec3::new(70.0, 0.0, 0.0)), [170.0, 0.0, 0.0]);
    assert_eq!(folding.above(PanelId(0), PanelId(1)), Some(false));
    assert!(folding.flat_pose(1.0)[assembly.base].abs_diff_eq(assembly.start.frames[assembly.base], 0.0));
}

#[test]
fn what_is_glued_on_moves_along_and_lies_between() {
    // A card of two panels with a label on the front of its cover: closed, the label is between them.
    let cover = Piece { caliper: 0.2, ..strip(0, 1, &[100.0, 100.0], FLAT) };
    let label = vec![PiecePanel::new(PanelId(2), rectangle(0.0, 0.0, 30.0, 20.0))];
    let label = Piece { panels: label, caliper: 0.2, ..Piece::default() };
    for (face, other, pile) in [(Face::Front, Face::Back, [1, 2, 0]), (Face::Back, Face::Front, [1, 0, 2])] {
        let blueprint = Blueprint {
            parts: vec![part(label.clone(), 0, face, (10.0, 10.0))],
            bonds: vec![Glue {
                panels: [PanelId(2), PanelId(0)],
                faces: [other, face],
                area: vec![rectangle(5.0, 5.0, 10.0, 10.0)],
            }],
            steps: vec![step(&[1])],
            ..Blueprint::new(cover.clone(), PanelId(1))
        };
        let (_, folding) = folded(&blueprint);
        assert_eq!(folding.troubles(), []);
        for pair in pile.windows(2) {
            assert_eq!(folding.above(PanelId(pair[1]), PanelId(pair[0])), Some(true), "{face:?} {pair:?}");
        }
        let [plane] = folding.planes() else { panic!("flat") };
        assert_eq!(plane.layers.iter().map(|(_, panels)| panels[0].0).collect::<Vec<_>>(), pile);
    }
}

#[test]
fn a_hinge_of_paper_glued_over_a_fold_folds_with_it() {
    let cover = strip(0, 1, &[100.0, 100.0], FLAT);
    let hinge = strip(2, 7, &[20.0, 20.0], FLAT);
    let bonds = vec![
        Glue {
            panels: [PanelId(0), PanelId(2)],
            faces: [Face::Front, Face::Back],
            area: vec![rectangle(85.0, 5.0, 10.0, 30.0)],
        },
        Glue {
            panels: [PanelId(1), PanelId(3)],
            faces: [Face::Front, Face::Back],
            area: vec![rectangle(105.0, 5.0, 10.0, 30.0)],
        },
    ];
    let at_once = Blueprint {
        parts: vec![part(hinge, 0, Face::Front, (80.0, 0.0))],
        bonds,
        steps: vec![step(&[1, 7])],
        ..Blueprint::new(cover, PanelId(1))
    };
    let (assembly, folding) = folded(&at_once);
    assert_eq!(folding.troubles(), []);
    let expected = [(1, 3), (3, 2), (2, 0)];
    assert!(expected.iter().all(|&(low, high)| folding.above(PanelId(high), PanelId(low)) == Some(true)));
    // Whichever is named, the other follows.
    let named = Blueprint { steps: vec![step(&[1]), step(&[7])], ..at_once };
    assert_eq!(folded(&named).1.planes(), folding.planes());
    // A plan finds that they fold together.
    let plan = crate::plan(&assembly.with_steps(Vec::new()), &crate::Wishes::default()).unwrap();
    assert_eq!(plan.steps.len(), 1);
}

#[test]
fn a_pocket_is_folded_on_its_own_and_then_glued_by_its_tabs() {
    // A pocket 60 mm wide with a tab of 15 mm at either side, folded to its back and glued to the base's front.
    let mountain = Crease { direction: Direction::Mountain, ..FLAT };
    let pocket = strip(2, 7, &[15.0, 60.0, 15.0], mountain);
    let blueprint = Blueprint {
        parts: vec![Part {
            folded: vec![vec![LineId(7)], vec![LineId(8)]],
            panel: PanelId(3),
            ..part(pocket, 0, Face::Front, (5.0, 0.0))
        }],
        // The tabs lie from 20 to 35 mm and from 65 to 80 mm on the base.
        bonds: [(2, 22.0), (4, 67.0)]
            .map(|(tab, x)| Glue { area: vec![rectangle(x, 5.0, 10.0, 10.0)], ..glue([0, tab], [Face::Front; 2]) })
            .to_vec(),
        steps: vec![step(&[1])],
        ..Blueprint::new(strip(0, 1, &[100.0, 100.0], FLAT), PanelId(0))
    };
    let (assembly, folding) = folded(&blueprint);
    assert_eq!((folding.troubles(), &assembly.loose), (&[][..], &Vec::new()));
    // Base, tabs, pocket, cover.
    for (low, high) in [(0, 2), (0, 4), (2, 3), (4, 3), (3, 1)] {
        assert_eq!(folding.above(PanelId(high), PanelId(low)), Some(true), "{low} under {high}");
    }
    let turned = Part { turned_over: true, ..blueprint.parts[0].clone() };
    let wrong = Blueprint { parts: vec![turned], ..blueprint };
    assert_eq!(wrong.assembly().unwrap_err(), BlueprintFault::NotTogether([PanelId(0), PanelId(2)]));
}

#[test]
fn a_flap_whose_edges_are_held_is_not_tucked() {
    // Two flaps on one base, left over right, and the left one tucked under the right.
    let tucked = |widths: &[f64], lines: &[&[u32]], tuck: [usize; 2]| {
        let mut steps: Vec<BlueprintStep> = lines.iter().map(|lines| step(lines)).collect();
        steps.last_mut().unwrap().tucks.push(tuck.map(PanelId));
        let base = widths.len() - 2;
        folded(&Blueprint { steps, ..Blueprint::new(strip(0, 1, widths, FLAT), PanelId(base)) }).1
    };
    let free = tucked(&[60.0, 100.0, 60.0], &[&[2], &[1]], [0, 2]);
    assert_eq!(free.troubles(), []);
    assert_eq!((free.above(PanelId(0), PanelId(2)), free.needs_tuck()), (Some(false), true));
    // With a panel more at its edge it is held by that.
    let held = tucked(&[20.0, 60.0, 100.0, 60.0], &[&[3], &[2]], [1, 3]);
    let expected = Trouble::CannotTuck { step: 1, moving: PanelId(1), under: PanelId(3), held_by: vec![PanelId(0)] };
    assert!(held.troubles().contains(&expected), "{:?}", held.troubles());
    // It does not reach what it should go under.
    let short = tucked(&[30.0, 100.0, 30.0], &[&[2], &[1]], [0, 2]);
    let expected = Trouble::CannotTuck { step: 1, moving: PanelId(0), under: PanelId(2), held_by: Vec::new() };
    assert_eq!(short.troubles(), [expected]);
}

/// What is said of a blueprint that is wrong.
#[track_caller]
fn refused(blueprint: &Blueprint, expected: BlueprintFault, says: &str) {
    let fault = blueprint.assembly().unwrap_err();
    assert_eq!((fault, fault.to_string()), (expected, says.to_owned()));
}

#[test]
fn wrong_blueprints_are_refused_with_a_sentence() {
    let good = || strip(0, 1, &[50.0, 50.0], FLAT);
    let plain = Blueprint::new(good(), PanelId(0));
    refused(
        &Blueprint { base: PanelId(9), ..plain.clone() },
        BlueprintFault::NoPanel(PanelId(9)),
        "There is no panel 9 where one is named; name one that there is.",
    );
    let label = || strip(1, 5, &[20.0], FLAT);
    refused(
        &Blueprint { parts: vec![part(label(), 0, Face::Front, (0.0, 0.0))], ..plain.clone() },
        BlueprintFault::Unordered(PanelId(1)),
        "Panel 1 follows one of a higher or the same number; number the panels upwards.",
    );
    let undirected = Part { right: DVec2::ZERO, ..part(strip(2, 5, &[20.0], FLAT), 0, Face::Front, (0.0, 0.0)) };
    refused(
        &Blueprint { parts: vec![undirected], ..plain.clone() },
        BlueprintFault::NoPlace(PanelId(0)),
        "The part laid on panel 0 has no direction; say where its right side points.",
    );
    let mut bare = plain.clone();
    bare.folio.panels[1].convex.clear();
    refused(
        &bare,
        BlueprintFault::NoArea(PanelId(1)),
        "Panel 1 has no area; give it an outline of three corners or more.",
    );
    let mut pointless = plain;
    pointless.folio.folds[0].stretches.clear();
    refused(
        &pointless,
        BlueprintFault::NoFold(LineId(1)),
        "Line 1 does not join two panels; let it run along both of them.",
    );
}
