//! A tile that is repeated over the paper, and the shapes that are painted on it.
//!
//! Everything is worked out in whole numbers, so that the same tile comes out on every machine. Shapes run on across the
//! tile's edges: what leaves it on the right comes in again at the left.

/// A pixel of the tile, to the right and down; beyond its edges too.
pub(super) type Spot = (i64, i64);

/// A colour by its place in the palette of the picture; 0 is the paper.
pub(super) type Ink = u8;

/// What is repeated over the paper.
pub(super) struct Tile {
    width: i64,
    height: i64,
    inks: Vec<Ink>,
}

impl Tile {
    /// Bare paper. Sides are more than nothing.
    pub(super) fn new(width: u16, height: u16) -> Self {
        let count = usize::from(width) * usize::from(height);
        Self { width: i64::from(width), height: i64::from(height), inks: vec![0; count] }
    }

    pub(super) const fn height(&self) -> i64 {
        self.height
    }

    /// The ink at a pixel, wherever on the repeated tiles that is.
    pub(super) fn ink(&self, (x, y): Spot) -> Ink {
        self.place((x, y)).and_then(|at| self.inks.get(at)).copied().unwrap_or_default()
    }

    fn place(&self, (x, y): Spot) -> Option<usize> {
        usize::try_from(y.rem_euclid(self.height) * self.width + x.rem_euclid(self.width)).ok()
    }

    /// Paints what lies inside a shape between two corners.
    fn paint(&mut self, low: Spot, high: Spot, ink: Ink, inside: impl Fn(i64, i64) -> bool) {
        for y in low.1..=high.1 {
            for x in low.0..=high.0 {
                if inside(x, y)
                    && let Some(at) = self.place((x, y))
                    && let Some(pixel) = self.inks.get_mut(at)
                {
                    *pixel = ink;
                }
            }
        }
    }

    pub(super) fn rectangle(&mut self, low: Spot, high: Spot, ink: Ink) {
        self.paint(low, high, ink, |_, _| true);
    }

    pub(super) fn disc(&mut self, (x, y): Spot, radius: i64, ink: Ink) {
        let inside = |px: i64, py: i64| (px - x) * (px - x) + (py - y) * (py - y) <= radius * radius;
        self.paint((x - radius, y - radius), (x + radius, y + radius), ink, inside);
    }

    /// A stroke with round ends, `half` to each side.
    pub(super) fn stroke(&mut self, from: Spot, to: Spot, half: i64, ink: Ink) {
        self.along(from, to, half, ink, |t, s, long| (0..=long).contains(&t) && s * s <= half128(half) * long);
        self.disc(from, half, ink);
        self.disc(to, half, ink);
    }

    /// A leaf with both ends pointed, at its middle `half` to each side. At most 600 pixels long.
    pub(super) fn leaf(&mut self, from: Spot, to: Spot, half: i64, ink: Ink) {
        // Half its width at the share u of its length is 4 u (1 - u) of the most; both sides squared, and without a
        // division.
        self.along(from, to, half, ink, |t, s, long| {
            (0..=long).contains(&t) && s * s * long.pow(3) <= 16 * half128(half) * (t * (long - t)).pow(2)
        });
    }

    /// A drop or a petal with its point at `from` and round at `to`, `half` to each side where it is widest, at two thirds
    /// of its length. At most 300 pixels long.
    pub(super) fn drop(&mut self, from: Spot, to: Spot, half: i64, ink: Ink) {
        // Likewise, with 27/4 u² (1 - u).
        self.along(from, to, half, ink, |t, s, long| {
            (0..=long).contains(&t) && 16 * s * s * long.pow(5) <= 729 * half128(half) * t.pow(4) * (long - t).pow(2)
        });
    }

    /// A level ribbon that goes up and down in bows: `half` to each side of its middle, which leaves `y` by `rise` at most,
    /// twice in `period`.
    pub(super) fn wave(&mut self, y: i64, (period, rise): (i64, i64), half: i64, ink: Ink) {
        let bow = period / 2;
        let middle = |x: i64| {
            let on = x.rem_euclid(period);
            let (in_bow, up) = if on < bow { (on, 1) } else { (on - bow, -1) };
            y + up * 4 * rise * in_bow * (bow - in_bow) / (bow * bow)
        };
        let reach = rise + half;
        self.paint((0, y - reach), (self.width - 1, y + reach), ink, |x, py| (py - middle(x)).abs() <= half);
    }

    /// Paints by how far along a way a pixel lies (from 0 to the way's length squared), how far beside it (times its
    /// length), and that length squared.
    fn along(&mut self, from: Spot, to: Spot, half: i64, ink: Ink, inside: impl Fn(i128, i128, i128) -> bool) {
        let (dx, dy) = (to.0 - from.0, to.1 - from.1);
        let long = i128::from(dx * dx + dy * dy);
        let low = (from.0.min(to.0) - half, from.1.min(to.1) - half);
        let high = (from.0.max(to.0) + half, from.1.max(to.1) + half);
        self.paint(low, high, ink, |x, y| {
            let (px, py) = (x - from.0, y - from.1);
            inside(i128::from(px * dx + py * dy), i128::from(px * dy - py * dx), long)
        });
    }
}

fn half128(half: i64) -> i128 {
    i128::from(half * half)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn count(tile: &Tile, ink: Ink) -> usize {
        tile.inks.iter().filter(|&&one| one == ink).count()
    }

    #[track_caller]
    fn check(paint: impl Fn(&mut Tile), area: f64) {
        let mut tile = Tile::new(400, 400);
        paint(&mut tile);
        #[expect(clippy::cast_precision_loss, reason = "160000 pixels at most")]
        let found = count(&tile, 1) as f64;
        assert!((found / area - 1.0).abs() < 0.02, "{found} pixels for {area}");
    }

    #[test]
    fn shapes_are_as_large_as_their_formulas_say() {
        // Areas by integration: a disc; 2 h L times the mean of 4 u (1 - u), which is 2/3; of 27/4 u² (1 - u), which is
        // 27/4 / 12; a stroke with its round ends; a ribbon as wide as the tile.
        check(|tile| tile.disc((200, 200), 100, 1), std::f64::consts::PI * 100.0 * 100.0);
        check(|tile| tile.leaf((50, 200), (350, 200), 60, 1), 2.0 * 60.0 * 300.0 * 2.0 / 3.0);
        check(|tile| tile.leaf((100, 100), (260, 220), 40, 1), 2.0 * 40.0 * 200.0 * 2.0 / 3.0);
        check(|tile| tile.drop((100, 100), (260, 220), 40, 1), 2.0 * 40.0 * 200.0 * 27.0 / 48.0);
        check(|tile| tile.stroke((100, 100), (100, 300), 20, 1), 41.0 * 200.0 + std::f64::consts::PI * 400.0);
        check(|tile| tile.wave(200, (200, 40), 10, 1), 21.0 * 400.0);
    }

    #[test]
    fn what_leaves_a_tile_comes_in_on_the_other_side() {
        let mut tile = Tile::new(100, 60);
        tile.disc((0, 0), 20, 2);
        assert_eq!([(99, 59), (100, 60), (-1, -1), (50, 30)].map(|at| tile.ink(at)), [2, 2, 2, 0]);
    }
}
