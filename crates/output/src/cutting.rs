//! What both kinds of cutting file have in common: what is asked of a sheet before it is written.

mod svg;

pub use svg::cutting_svg;

use crate::{MAX_REACH, OutputError};
use draw::cutting::CuttingSheet;

/// Checks that everything on a sheet can be reached.
pub(crate) fn check(sheet: &CuttingSheet) -> Result<(), OutputError> {
    let reachable = |value: f64| value.abs() <= MAX_REACH;
    if !(reachable(sheet.size.width) && reachable(sheet.size.height)) {
        return Err(OutputError::NotFinite { page: sheet.number, what: "page size" });
    }
    let contours = sheet.groups.iter().flat_map(|group| &group.passes).flat_map(|(_, contours)| contours);
    let mut stretches = contours.flat_map(|contour| &contour.tracks).flat_map(|track| track.stretches());
    let is_sound = stretches.all(|(from, bend)| {
        [from.x, from.y, bend.to.x, bend.to.y].into_iter().all(reachable) && bend.sweep.abs() <= FULL_TURN
    });
    if is_sound { Ok(()) } else { Err(OutputError::NotFinite { page: sheet.number, what: "a contour" }) }
}

/// No arc turns further than this, in radians.
const FULL_TURN: f64 = 2.0 * std::f64::consts::PI;

#[cfg(test)]
pub(crate) mod sample {
    use draw::cutting::{Bend, Contour, CuttingGroup, CuttingSheet, Direction, Pass, Track};
    use kurbo::{Point, Size};

    /// A sheet of 60 × 40 mm: a valley in two dashes, a round hole of 5 mm made of two arcs, an open cut, and a square
    /// of 10 mm.
    pub(crate) fn sheet() -> CuttingSheet {
        let dash = |from: f64, to: f64| Track::line(Point::new(30.5, from), Point::new(30.5, to));
        let half = |x: f64, y: f64| Bend { to: Point::new(x, y), sweep: std::f64::consts::PI };
        let hole = Track { start: Point::new(10.0, 20.0), bends: vec![half(20.0, 20.0), half(10.0, 20.0)] };
        let corner = [(50.0, 5.0), (50.0, 15.0), (40.0, 15.0), (40.0, 5.0)];
        let square = Track {
            start: Point::new(40.0, 5.0),
            bends: corner.map(|(x, y)| Bend::straight(Point::new(x, y))).to_vec(),
        };
        let open = Track {
            start: Point::new(0.0, 30.0),
            bends: vec![Bend::straight(Point::new(5.0, 30.0)), Bend { to: Point::new(10.0, 35.0), sweep: QUARTER }],
        };
        let passes = vec![
            (Pass::Score(Direction::Valley), vec![Contour { tracks: vec![dash(0.0, 4.0), dash(5.0, 40.0 / 3.0)] }]),
            (Pass::Slot, vec![Contour::of(hole)]),
            (Pass::Cut, vec![Contour::of(open), Contour::of(square)]),
        ];
        let groups = vec![CuttingGroup { key: String::new(), name: String::new(), passes }];
        let name = "The sheet".to_owned();
        CuttingSheet { name, number: 1, is_back: false, size: Size::new(60.0, 40.0), groups }
    }

    const QUARTER: f64 = std::f64::consts::FRAC_PI_2;
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_out_of_reach_is_refused() {
        assert!(check(&sample::sheet()).is_ok());
        let mut wide = sample::sheet();
        wide.size.width = 2e6;
        assert!(matches!(check(&wide), Err(OutputError::NotFinite { what: "page size", .. })));
        for bad in [f64::NAN, f64::INFINITY, -2e6] {
            let mut sheet = sample::sheet();
            sheet.groups[0].passes[2].1[0].tracks[0].start.x = bad;
            assert!(matches!(check(&sheet), Err(OutputError::NotFinite { what: "a contour", .. })));
        }
        let mut turned = sample::sheet();
        turned.groups[0].passes[1].1[0].tracks[0].bends[0].sweep = f64::NAN;
        assert!(check(&turned).is_err());
    }
}
