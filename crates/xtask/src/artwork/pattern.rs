//! The patterns of the starters' papers: leaves, seeds, furrows and what else there is about a garden.
//!
//! Each is a tile at 300 pixels an inch, painted with three inks on the paper. None has an up: all are right whichever way
//! the paper is turned.

use super::tile::{Ink, Spot, Tile};

/// Paler and stronger tints of a palette, and its accent.
const PALE: Ink = 1;
const STRONG: Ink = 2;
const ACCENT: Ink = 3;

/// The eight ways of a wind rose, nearly of one length.
const ROSE: [Spot; 8] = [(100, 0), (71, 71), (0, 100), (-71, 71), (-100, 0), (-71, -71), (0, -100), (71, -71)];

/// So far from a spot in one of the ways of the rose.
fn towards((x, y): Spot, way: usize, distance: i64) -> Spot {
    let (dx, dy) = ROSE[way % ROSE.len()];
    (x + dx * distance / 100, y + dy * distance / 100)
}

/// Sprigs of seven leaves, strewn so that they point all ways.
pub(super) fn sprigs() -> Tile {
    let mut tile = Tile::new(600, 600);
    for (at, way) in [((60, 90), 1), ((330, 60), 0), ((240, 280), 3), ((480, 200), 2), ((300, 420), 1), ((180, 580), 4)]
    {
        sprig(&mut tile, at, way);
    }
    for at in [(260, 160), (580, 180), (50, 270), (560, 480), (220, 480), (360, 320)] {
        tile.disc(at, 9, ACCENT);
    }
    tile
}

fn sprig(tile: &mut Tile, at: Spot, way: usize) {
    let tip = towards(at, way, 120);
    tile.stroke(at, tip, 3, STRONG);
    for (along, long) in [(25, 62), (62, 58), (96, 46)] {
        let foot = towards(at, way, along);
        for side in [1, 7] {
            tile.leaf(foot, towards(foot, way + side, long), 14, PALE);
            tile.stroke(foot, towards(foot, way + side, long - 22), 1, STRONG);
        }
    }
    tile.leaf(tip, towards(tip, way, 54), 13, PALE);
}

/// Seeds strewn loosely.
pub(super) fn seeds() -> Tile {
    let mut tile = Tile::new(450, 450);
    let seeds = [(40, 60, 1), (170, 30, 4), (310, 80, 7), (90, 190, 2), (240, 170, 5), (390, 200, 0), (30, 320, 6)];
    let more = [(150, 300, 3), (290, 290, 1), (400, 340, 4), (90, 410, 0), (230, 410, 7), (350, 430, 2)];
    for (nth, (x, y, way)) in seeds.into_iter().chain(more).enumerate() {
        let ink = if nth % 3 == 0 { STRONG } else { PALE };
        tile.drop((x, y), towards((x, y), way, 48), 15, ink);
        let (shine, end) = (towards((x, y), way, 20), towards((x, y), way, 34));
        tile.stroke(shine, end, 2, ACCENT);
    }
    tile
}

/// A trellis with a leaf at every other crossing.
pub(super) fn trellis() -> Tile {
    let mut tile = Tile::new(400, 400);
    for way in [200, -200] {
        for start in [0, 200] {
            tile.stroke((start, 0), (start + way, 200), 4, PALE);
            tile.stroke((start + way, 200), (start + 2 * way, 400), 4, PALE);
        }
    }
    for at in [(0, 0), (200, 0), (100, 100), (300, 100), (0, 200), (200, 200), (100, 300), (300, 300)] {
        tile.disc(at, 10, STRONG);
    }
    for (at, ways) in [((100, 100), [1, 3]), ((300, 300), [5, 7]), ((200, 0), [2, 6])] {
        for way in ways {
            let foot = towards(at, way, 8);
            tile.leaf(foot, towards(foot, way, 70), 19, STRONG);
            tile.stroke(foot, towards(foot, way, 50), 2, ACCENT);
        }
    }
    tile
}

/// Furrows that swing along the bed, with a seed here and there.
pub(super) fn furrows() -> Tile {
    let mut tile = Tile::new(600, 240);
    for (y, ink) in [(0, PALE), (60, STRONG), (120, PALE), (180, STRONG)] {
        tile.wave(y, (300, 16), if ink == PALE { 9 } else { 3 }, ink);
    }
    for (x, y) in [(75, 44), (225, 15), (375, 164), (525, 135), (150, 90), (450, 210)] {
        tile.disc((x, y), 7, ACCENT);
    }
    tile
}

/// Flowers of eight petals, large and small.
pub(super) fn flowers() -> Tile {
    let mut tile = Tile::new(560, 560);
    for (at, long, half) in [((140, 140), 105, 25), ((420, 420), 105, 25), ((420, 140), 58, 15), ((140, 420), 58, 15)] {
        for way in 0..8 {
            let ink = if way % 2 == 0 { PALE } else { STRONG };
            tile.drop(at, towards(at, way, long), half, ink);
        }
        tile.disc(at, half * 2 / 3, ACCENT);
    }
    tile
}

/// Dots in a quincunx.
pub(super) fn dots() -> Tile {
    let mut tile = Tile::new(240, 240);
    for (at, radius, ink) in
        [((60, 60), 16, PALE), ((180, 180), 16, PALE), ((180, 60), 7, STRONG), ((60, 180), 7, STRONG)]
    {
        tile.disc(at, radius, ink);
    }
    for at in [(0, 0), (120, 0), (0, 120), (120, 120)] {
        tile.disc(at, 4, ACCENT);
    }
    tile
}

/// Ears of grain, every other column upside down.
pub(super) fn ears() -> Tile {
    let mut tile = Tile::new(360, 300);
    for (x, y, sign) in [(90, 270, -1), (270, 30, 1)] {
        tile.stroke((x, y), (x, y + sign * 190), 3, STRONG);
        for row in 0..5 {
            let foot = (x, y + sign * (70 + row * 26));
            for side in [-1, 1] {
                tile.drop(foot, (foot.0 + side * 34, foot.1 + sign * 40), 11, PALE);
            }
        }
        tile.drop((x, y + sign * 186), (x, y + sign * 238), 11, ACCENT);
        tile.leaf((x, y + sign * 6), (x + 58, y + sign * 62), 9, STRONG);
    }
    tile
}

/// Narrow and wide stripes.
pub(super) fn stripes() -> Tile {
    let mut tile = Tile::new(240, 8);
    for (low, high, ink) in [(20, 79, PALE), (92, 97, STRONG), (140, 199, PALE), (212, 217, STRONG), (48, 51, ACCENT)] {
        tile.rectangle((low, 0), (high, 7), ink);
    }
    tile
}

/// Seed packets, each with a leaf or a seed on it.
pub(super) fn packets() -> Tile {
    let mut tile = Tile::new(600, 600);
    for (nth, (x, y)) in [(60, 50), (360, 50), (210, 350), (510, 350)].into_iter().enumerate() {
        tile.rectangle((x, y), (x + 140, y + 200), STRONG);
        tile.rectangle((x + 5, y + 5), (x + 135, y + 195), PALE);
        tile.rectangle((x + 5, y + 36), (x + 135, y + 40), STRONG);
        let (top, foot) = ((x + 70, y + 70), (x + 70, y + 170));
        if nth % 2 == 0 {
            tile.stroke(top, foot, 3, STRONG);
            for (dy, reach) in [(30, 44), (60, 50)] {
                for side in [-1, 1] {
                    tile.leaf((x + 70, y + 70 + dy), (x + 70 + side * reach, y + 46 + dy), 12, ACCENT);
                }
            }
        } else {
            for (dx, dy) in [(-26, 16), (26, 16), (0, 58)] {
                tile.drop((x + 70 + dx, y + 62 + dy), (x + 70 + dx, y + 112 + dy), 16, ACCENT);
            }
        }
    }
    for (x, y) in [(280, 130), (580, 130), (130, 430), (430, 430), (280, 300), (580, 300), (130, 570), (430, 570)] {
        tile.disc((x, y), 8, STRONG);
    }
    tile
}

/// Dashes in rows, as seeds are dropped along a line.
pub(super) fn rows() -> Tile {
    let mut tile = Tile::new(240, 160);
    for (x, y, ink) in
        [(20, 20, PALE), (140, 20, PALE), (80, 60, STRONG), (200, 60, STRONG), (20, 100, PALE), (140, 100, PALE)]
    {
        tile.stroke((x, y), (x + 44, y), 5, ink);
    }
    for x in [60, 180] {
        tile.disc((x, 140), 6, ACCENT);
    }
    tile
}

/// Threads over and under one another, as of sacking.
pub(super) fn sacking() -> Tile {
    let mut tile = Tile::new(96, 96);
    for (nth, y) in [(0, 0), (1, 48)] {
        for x in [0, 48] {
            let over = (x / 48 + nth) % 2 == 0;
            if over {
                tile.rectangle((x + 3, y + 8), (x + 44, y + 39), PALE);
                tile.rectangle((x + 3, y + 22), (x + 44, y + 24), STRONG);
            } else {
                tile.rectangle((x + 8, y + 3), (x + 39, y + 44), PALE);
                tile.rectangle((x + 22, y + 3), (x + 24, y + 44), STRONG);
            }
        }
    }
    tile.disc((24, 24), 4, ACCENT);
    tile
}

/// Specks, as in paper with husks in it.
pub(super) fn specks() -> Tile {
    let mut tile = Tile::new(360, 360);
    let specks = [(20, 40, 2), (90, 15, 3), (160, 70, 1), (250, 30, 6), (330, 90, 0), (50, 130, 5), (130, 160, 7)];
    let more = [(210, 140, 2), (290, 180, 4), (30, 220, 1), (110, 250, 6), (190, 230, 3), (270, 270, 0), (340, 310, 7)];
    for (nth, (x, y, way)) in specks.into_iter().chain(more).enumerate() {
        let (ink, long) = [(PALE, 22), (STRONG, 12), (ACCENT, 7)][nth % 3];
        tile.stroke((x, y), towards((x, y), way, long), 3, ink);
    }
    tile
}

/// Fern fronds side by side, every other one upside down.
pub(super) fn ferns() -> Tile {
    let mut tile = Tile::new(500, 480);
    for (x, up) in [(125, true), (375, false)] {
        let sign = if up { -1 } else { 1 };
        tile.stroke((x, 0), (x, 480), 3, STRONG);
        for row in 0..8 {
            let foot = (x, row * 60);
            let long = if row % 2 == 0 { 100 } else { 84 };
            for side in [-1, 1] {
                let ink = if row % 4 == 3 { ACCENT } else { PALE };
                tile.leaf(foot, (x + side * long, foot.1 + sign * 52), 15, ink);
                tile.stroke(foot, (x + side * long * 2 / 3, foot.1 + sign * 35), 1, STRONG);
            }
        }
    }
    tile
}

/// A check of two widths.
pub(super) fn checks() -> Tile {
    let mut tile = Tile::new(180, 180);
    tile.rectangle((0, 0), (59, 179), PALE);
    tile.rectangle((0, 0), (179, 59), PALE);
    tile.rectangle((0, 0), (59, 59), STRONG);
    for (low, high) in [((118, 0), (121, 179)), ((0, 118), (179, 121))] {
        tile.rectangle(low, high, ACCENT);
    }
    tile
}

/// Sunflower heads with their seeds in rings.
pub(super) fn sunflowers() -> Tile {
    let mut tile = Tile::new(640, 640);
    for (at, size) in [((160, 160), 10), ((480, 480), 10), ((480, 160), 6), ((160, 480), 6)] {
        for way in 0..8 {
            let (near, far) = (towards(at, way, 4 * size), towards(at, way, 12 * size));
            tile.leaf(near, far, 2 * size + size / 2, PALE);
        }
        for way in 0..8 {
            // Between those, from the middles of neighbouring ways.
            let ends = [5, 11].map(|by| {
                let (a, b) = (towards(at, way, by * size), towards(at, way + 1, by * size));
                (a.0.midpoint(b.0), a.1.midpoint(b.1))
            });
            tile.leaf(ends[0], ends[1], 2 * size, ACCENT);
        }
        tile.disc(at, 5 * size, STRONG);
        for (ring, ways) in [(15, 8), (35, 8)] {
            for way in 0..ways {
                tile.disc(towards(at, way, ring * size / 10), size / 2, PALE);
            }
        }
    }
    tile
}

/// Wide stripes with seeds in every other one.
pub(super) fn beds() -> Tile {
    let mut tile = Tile::new(300, 150);
    tile.rectangle((0, 0), (149, 149), PALE);
    for (low, high) in [(0, 3), (146, 149)] {
        tile.rectangle((low, 0), (high, 149), STRONG);
    }
    for (x, y, tip) in [(60, 20, 52), (90, 95, 127)] {
        tile.drop((x, y), (x + 14, tip), 9, STRONG);
    }
    for y in [37, 112] {
        tile.disc((225, y), 8, ACCENT);
    }
    tile
}

/// Seedlings in rows, every other row upside down.
pub(super) fn seedlings() -> Tile {
    let mut tile = Tile::new(400, 400);
    for (x, y, up) in [(100, 170, true), (300, 170, true), (200, 230, false), (400, 230, false)] {
        let sign = if up { -1 } else { 1 };
        tile.stroke((x, y), (x, y + sign * 80), 4, STRONG);
        for side in [-1, 1] {
            tile.leaf((x, y + sign * 74), (x + side * 72, y + sign * 118), 20, PALE);
            tile.stroke((x, y + sign * 74), (x + side * 48, y + sign * 103), 1, STRONG);
        }
        tile.disc((x, y), 9, ACCENT);
    }
    tile
}

/// Drops of rain that fall aslant.
pub(super) fn rain() -> Tile {
    let mut tile = Tile::new(320, 320);
    for (nth, (x, y)) in [(40, 20), (200, 60), (120, 140), (280, 180), (40, 220), (200, 260)].into_iter().enumerate() {
        let (turn, ink) = (if nth % 2 == 0 { (16, 52) } else { (-16, -52) }, if nth % 3 == 0 { STRONG } else { PALE });
        tile.drop((x, y), (x + turn.0, y + turn.1), 12, ink);
    }
    for at in [(110, 40), (270, 100), (200, 180), (120, 290)] {
        tile.disc(at, 5, ACCENT);
    }
    tile
}
