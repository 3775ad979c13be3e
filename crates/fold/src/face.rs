//! Which face of a panel a viewer sees, and which way up.
//!
//! Angles are told as one sees them on a clock: 0 is upright, 90 turned a quarter to the right.

use glam::{DAffine3, DVec2};
use model::{Face, SheetEdge};

/// Components of a direction below this are none: rounding of folded poses is a million times less.
const LEVEL: f64 = 1e-9;

/// From where a folio on the table is looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum View {
    /// From above: the base shows its front.
    Front,
    /// From below, after the folio has been turned over like a page: its left is then at the right, its top stays.
    Back,
}

impl View {
    /// Both.
    pub const ALL: [Self; 2] = [Self::Front, Self::Back];

    /// A direction in the world's plane as the viewer has it: x to his right, y up.
    #[must_use]
    pub const fn seen(self, direction: DVec2) -> DVec2 {
        match self {
            Self::Front => direction,
            Self::Back => DVec2::new(-direction.x, direction.y),
        }
    }

    /// "front" or "back".
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Front => "front",
            Self::Back => "back",
        }
    }
}

/// A face as it is turned to a viewer.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shown {
    /// Which face of the sheet.
    pub face: Face,
    /// Where the top of the sheet, as drawn, points on it: degrees clockwise from the viewer's up, from 0 to below 360.
    pub up: f64,
}

impl Shown {
    /// What the viewer sees of a panel that lies as `frame` says; `None` when it is seen edge-on.
    pub(crate) fn of(frame: &DAffine3, view: View) -> Option<Self> {
        let towards = match view {
            View::Front => frame.matrix3.z_axis.z,
            View::Back => -frame.matrix3.z_axis.z,
        };
        let up = view.seen(frame.matrix3.y_axis.truncate());
        if towards.abs() < LEVEL || up.length() < LEVEL {
            return None;
        }
        let face = if towards > 0.0 { Face::Front } else { Face::Back };
        Some(Self { face, up: whole_turn(libm::atan2(up.x, up.y).to_degrees()) })
    }

    /// Where an edge of the sheet, as drawn, points on the shown face of a panel that lies flat: degrees clockwise from
    /// the viewer's up. For a pattern with an up this is how far it is turned; upright at 0, upside down at 180.
    ///
    /// On the back the sheet's right is at the left of its top.
    #[must_use]
    pub fn towards(self, edge: SheetEdge) -> f64 {
        let clockwise = match edge {
            SheetEdge::Top => 0.0,
            SheetEdge::Right => 90.0,
            SheetEdge::Bottom => 180.0,
            SheetEdge::Left => 270.0,
        };
        whole_turn(match self.face {
            Face::Front => self.up + clockwise,
            Face::Back => self.up - clockwise,
        })
    }
}

/// An angle in degrees brought into 0 to below 360; what is a full turn but for rounding is none.
fn whole_turn(degrees: f64) -> f64 {
    let turned = degrees - 360.0 * libm::floor(degrees / 360.0);
    if (LEVEL..=360.0 - LEVEL).contains(&turned) { turned } else { 0.0 }
}

#[cfg(test)]
mod tests {
    use super::*;
    use glam::{DMat3, DVec3};

    /// A panel turned by the matrix with these columns, looked at from both sides.
    #[track_caller]
    fn check(columns: [[f64; 3]; 3], front: (Face, f64), back: (Face, f64)) {
        let [x, y, z] = columns.map(DVec3::from);
        let frame = DAffine3::from_mat3(DMat3::from_cols(x, y, z));
        for (view, (face, up)) in [(View::Front, front), (View::Back, back)] {
            let shown = Shown::of(&frame, view).unwrap();
            assert_eq!(shown.face, face, "{view:?}");
            assert!((shown.up - up).abs() < 1e-9, "{view:?}: {} is not {up}", shown.up);
        }
    }

    #[test]
    fn a_panel_shows_its_face_and_its_up() {
        // By hand, with a slip of paper with an arrow on both faces.
        check([[1., 0., 0.], [0., 1., 0.], [0., 0., 1.]], (Face::Front, 0.0), (Face::Back, 0.0));
        // Folded over to the side: the arrow still points up.
        check([[-1., 0., 0.], [0., 1., 0.], [0., 0., -1.]], (Face::Back, 0.0), (Face::Front, 0.0));
        // Folded down from the top: upside down.
        check([[1., 0., 0.], [0., -1., 0.], [0., 0., -1.]], (Face::Back, 180.0), (Face::Front, 180.0));
        // Turned a quarter to the left on the table.
        check([[0., 1., 0.], [-1., 0., 0.], [0., 0., 1.]], (Face::Front, 270.0), (Face::Back, 90.0));
    }

    #[test]
    fn a_wall_shows_no_face() {
        let wall = DAffine3::from_mat3(DMat3::from_cols(DVec3::X, DVec3::Z, -DVec3::Y));
        assert_eq!(Shown::of(&wall, View::Front), None);
    }

    #[test]
    fn a_pattern_may_point_to_any_edge() {
        // By hand: top, right, bottom and left, on a front turned a quarter to the right and on an upright back.
        for (shown, expected) in [
            (Shown { face: Face::Front, up: 90.0 }, [90.0, 180.0, 270.0, 0.0]),
            (Shown { face: Face::Back, up: 0.0 }, [0.0, 270.0, 180.0, 90.0]),
        ] {
            for (edge, degrees) in SheetEdge::ALL.into_iter().zip(expected) {
                assert!((shown.towards(edge) - degrees).abs() < 1e-9, "{edge:?}");
            }
        }
    }
}
