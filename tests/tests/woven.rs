//! Pictures of closed folios show what the proved order of layers says, also where flaps lie on one another in a ring.

use draw::folded::{FoldedScene, Posed, View, folded_scene};
use file::starters::ALL;
use fold::Folding;
use foliowright_tests::design;
use model::PanelId;

/// Whether a spot is inside an outline, by counting how often a ray to the right crosses it.
fn covers(outline: &[(f64, f64)], (x, y): (f64, f64)) -> bool {
    let crosses = |i: &usize| {
        let ((ax, ay), (bx, by)) = (outline[*i], outline[(i + 1) % outline.len()]);
        (ay > y) != (by > y) && x < (bx - ax) * (y - ay) / (by - ay) + ax
    };
    (0..outline.len()).filter(crosses).count() % 2 == 1
}

/// The panels around a spot, farthest first.
fn around(scene: &FoldedScene, at: (f64, f64)) -> Vec<PanelId> {
    let outline = |points: &[_]| points.iter().map(|point: &kurbo::Point| (point.x, point.y)).collect::<Vec<_>>();
    scene.faces.iter().filter(|face| covers(&outline(&face.outline), at)).map(|face| face.panel).collect()
}

/// Looks at a grid of spots: in how many a panel is seen that another one lies on, and in how many layers are compared.
fn wrong(folding: &Folding, scene: &FoldedScene, is_front: bool) -> (usize, usize) {
    let (mut wrong, mut compared) = (0, 0);
    for i in 0..80 {
        for j in 0..80 {
            let part = |k: i32| (f64::from(k) + 0.37) / 80.0;
            let bounds = scene.bounds;
            let panels = around(scene, (bounds.x0 + part(i) * bounds.width(), bounds.y0 + part(j) * bounds.height()));
            let Some((&seen, others)) = panels.split_last() else { continue };
            for &other in others.iter().filter(|&&other| other != seen) {
                let Some(above) = folding.above(other, seen) else { continue };
                compared += 1;
                wrong += usize::from(above == is_front);
            }
        }
    }
    (wrong, compared)
}

#[test]
fn the_nearest_layer_of_a_closed_starter_is_seen_from_either_side() {
    let mut flat = 0;
    for starter in ALL {
        let (_, derived) = design(starter.text).unwrap();
        let (assembly, folding) = derived.folded.as_ref().unwrap();
        let closed = Posed::at(assembly, folding, f64::INFINITY);
        for (view, is_front) in [(View::FRONT, true), (View::BACK, false)] {
            let scene = folded_scene(&derived.layout, &closed, &view);
            let (wrong, compared) = wrong(folding, &scene, is_front);
            assert_eq!(wrong, 0, "{}, front {is_front}, of {compared}", starter.name);
            // Behind a gusset nothing else lies in the plane of what is seen.
            let is_flat = folding.planes().len() == 1;
            assert!(compared > 1000 || !is_flat, "{}, front {is_front}: {compared}", starter.name);
            flat += usize::from(is_flat);
        }
    }
    assert!(flat >= 4, "only {flat} were looked at through and through");
}

#[test]
fn only_the_woven_close_is_told_pair_by_pair() {
    for starter in ALL {
        let (_, derived) = design(starter.text).unwrap();
        let (_, folding) = derived.folded.as_ref().unwrap();
        let woven = folding.woven(f64::INFINITY);
        assert_eq!(!woven.is_empty(), starter.about.contains("woven shut"), "{}: {woven:?}", starter.name);
        for pair in woven {
            let [panel, other] = [pair.panel, pair.other].map(|place| folding.panels()[place]);
            assert!(folding.above(other, panel).is_some(), "{pair:?}");
        }
    }
}
