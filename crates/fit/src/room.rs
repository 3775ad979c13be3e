//! The room inside something that cards go into: how far it reaches, where it is closed, how deep it is.
//!
//! **Flat pockets.** Front and back of a flat pocket are equally long between two lines of glue, and paper does not
//! stretch. Pushed open the two are a tube `2B` round, `B` being the distance between the lines. The shortest loop round
//! a stack of cards `w` wide and `t` thick is the rectangle itself, `2 (w + t)` long, so the stack goes in if and only if
//! `w + t ≤ B`: whatever its play sideways, so thick may it be, and without play nothing does. Both walls bow then. On a
//! back that is kept flat the front has to go over the stack at `w + 2 √(((B - w)/2)² + t²)`, which is more than `B` for
//! any `t`; see [`over_flat_back`].
//!
//! At an end that is closed on one side only, `t/2` of the length of either wall goes round the edge of the stack, which
//! stands out at the mouth by as much; that is left out here, since a card may stand out as its maker wishes.
//!
//! **Pockets with gussets.** The walls stand upright, so far apart as the gusset is wide less what its own folds take:
//! `T = g - 2κt` with hinges in the middle of the paper, as [`fold::Allowance::room`] has it. With its front `2g` longer
//! than the back between the feet and the gussets to either side, the front never holds a stack back before that (see
//! the test).

use crate::card::{CARDS, Card};
use model::Length;

/// By how much an insert should be narrower than its pocket: 1/8 in (common practice, no source). By the rule for flat
/// pockets such an insert may be 1/8 in thick.
pub const ALLOWANCE: Length = Length::EIGHTH;

/// At least one part in so many of a card lies in its pocket; one that stands out farther tips out (common practice, no
/// source).
pub const LEAST_HELD: i64 = 2;

/// By how much thicker than its caliper a sheet is reckoned to be in a stack, one part in so many: thickness varies by
/// 5 % within one run of paper (a print service), and a loose stack is never thinner than the sum of its sheets.
pub const SPRING: i64 = 20;

/// At which of its two ends a span is closed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Ends {
    /// At neither: a card may stand out on either side.
    Open,
    /// At one: a card goes in up to it and may stand out on the other side.
    One,
    /// At both.
    Both,
}

/// How far a room reaches from side to side, or from top to bottom.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Span {
    /// Between what closes it, or to the edge where nothing does; never less than nothing.
    pub inner: Length,
    /// Where it is closed.
    pub closed: Ends,
}

/// How deep a room is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Depth {
    /// It opens as far as its walls bow.
    Bowing,
    /// So deep, from wall to wall; never less than nothing.
    Upright(Length),
    /// It is no room but a surface: what lies on it stays within it.
    Surface,
}

/// The room inside something. Across and down are those of the sheet that it is told in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Room {
    /// From side to side.
    pub across: Span,
    /// From top to bottom.
    pub down: Span,
    /// From wall to wall.
    pub depth: Depth,
}

/// A usual card that goes in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct CardFit {
    /// The card.
    pub card: Card,
    /// Whether it lies on its longer side.
    pub is_turned: bool,
    /// How far it stands out, across and down; nothing where it lies within.
    pub stands_out: [Length; 2],
    /// The least play that it has between two closed ends; `None` where no two are.
    pub play: Option<Length>,
    /// How many go in; `None` where nothing but the paper's patience bounds that.
    pub count: Option<usize>,
}

impl Span {
    /// A span that is nothing where it would be less.
    pub(crate) fn new(inner: Length, closed: Ends) -> Self {
        Self { inner: inner.max(Length::ZERO), closed }
    }

    /// The play of something so long between two closed ends, negative where it is too long; `None` where an end is
    /// open.
    #[must_use]
    pub fn play(self, size: Length) -> Option<Length> {
        (self.closed == Ends::Both).then_some(self.inner - size)
    }

    /// How far something so long stands out, pushed in as far as it goes.
    #[must_use]
    pub fn stands_out(self, size: Length) -> Length {
        if self.closed == Ends::Both { Length::ZERO } else { (size - self.inner).max(Length::ZERO) }
    }

    /// The longest that should go in: less the [`ALLOWANCE`] between two closed ends, and flush with an open one.
    #[must_use]
    pub fn largest(self) -> Length {
        if self.closed == Ends::Both { self.inner - ALLOWANCE } else { self.inner }
    }

    /// Whether something so long goes in and is held.
    fn takes(self, size: Length, depth: Depth) -> bool {
        match self.closed {
            Ends::Both => size <= self.inner,
            _ if depth == Depth::Surface => size <= self.inner,
            Ends::Open | Ends::One => size <= self.inner * LEAST_HELD,
        }
    }
}

impl Room {
    /// The width and height of the largest insert that lies within; `None` where nothing goes in.
    #[must_use]
    pub fn largest(&self) -> Option<(Length, Length)> {
        let (width, height) = (self.across.largest(), self.down.largest());
        let is_open = self.depth != Depth::Upright(Length::ZERO);
        (width > Length::ZERO && height > Length::ZERO && is_open).then_some((width, height))
    }

    /// The least play that a card of this width and height has between two closed ends, negative where it is too large;
    /// `None` where no two ends are closed.
    #[must_use]
    pub fn play(&self, (width, height): (Length, Length)) -> Option<Length> {
        self.across.play(width).into_iter().chain(self.down.play(height)).min()
    }

    /// How thick a stack of cards of this width and height may be; nothing where they are too large. `None` where nothing
    /// but the paper's patience bounds it: on a surface, and in a flat pocket with no two closed ends, whose walls lift
    /// like a flap.
    #[must_use]
    pub fn thickest(&self, size: (Length, Length)) -> Option<Length> {
        let play = self.play(size);
        match self.depth {
            Depth::Bowing => play.map(|play| play.max(Length::ZERO)),
            Depth::Upright(depth) => {
                Some(if play.is_none_or(|play| play >= Length::ZERO) { depth } else { Length::ZERO })
            }
            Depth::Surface => None,
        }
    }

    /// How many cards of this width, height and caliper go in; `None` where [`Room::thickest`] has no bound, or for cards
    /// of no thickness.
    #[must_use]
    pub fn count(&self, size: (Length, Length), caliper: Length) -> Option<usize> {
        self.thickest(size).filter(|_| caliper > Length::ZERO).map(|depth| stacked(depth, caliper))
    }

    /// How a card goes in one way round; `None` where it does not, or is not held. A card of any paper is as thick as
    /// `usual`.
    #[must_use]
    pub fn card(&self, card: &Card, is_turned: bool, usual: Length) -> Option<CardFit> {
        let size = if is_turned { (card.height, card.width) } else { (card.width, card.height) };
        if !self.across.takes(size.0, self.depth) || !self.down.takes(size.1, self.depth) {
            return None;
        }
        let caliper = card.caliper.unwrap_or(usual);
        if self.thickest(size).is_some_and(|most| most < caliper) {
            return None;
        }
        let stands_out = [self.across.stands_out(size.0), self.down.stands_out(size.1)];
        // One that goes in goes in, though a stack of one is reckoned thicker.
        let count = self.count(size, caliper).map(|count| count.max(1));
        Some(CardFit { card: *card, is_turned, stands_out, play: self.play(size), count })
    }

    /// Every way in which one of the usual cards goes in, upright before turned.
    #[must_use]
    pub fn cards(&self, usual: Length) -> Vec<CardFit> {
        let ways = CARDS.iter().flat_map(|card| [(card, false), (card, true)]);
        ways.filter_map(|(card, is_turned)| self.card(card, is_turned, usual)).collect()
    }
}

/// How many sheets of a caliper stack up to no more than `depth`, with what they spring (see [`SPRING`]); none for sheets of
/// no thickness.
#[must_use]
pub fn stacked(depth: Length, caliper: Length) -> usize {
    if caliper <= Length::ZERO || depth <= Length::ZERO {
        return 0;
    }
    let (depth, caliper) = (i128::from(depth.nm()), i128::from(caliper.nm()));
    let spring = i128::from(SPRING);
    usize::try_from(depth * spring / (caliper * (spring + 1))).unwrap_or(usize::MAX)
}

/// How thick a stack may be that lies on a flat back, in mm, when the front that goes over it is `front` long and fixed at
/// two lines `between` apart, and the stack is `wide`, in the middle.
///
/// The front runs taut from line to edge, along the stack, and down again: `w + 2 √(((K - w)/2)² + t²) ≤ F`, hence
/// `t ≤ √(((F - w)/2)² - ((K - w)/2)²)`. Nothing for `F = K`.
#[must_use]
pub fn over_flat_back(front: f64, between: f64, wide: f64) -> f64 {
    if wide > between || front < between {
        return 0.0;
    }
    let (over, beside) = ((front - wide) / 2.0, (between - wide) / 2.0);
    libm::sqrt((over * over - beside * beside).max(0.0))
}

#[cfg(test)]
mod tests {
    use super::*;
    use fold::Allowance;

    fn mm(mm: f64) -> Length {
        Length::from_mm_rounded(mm).unwrap()
    }

    fn flat(across: f64, down: f64) -> Room {
        let span = |inner, closed| Span::new(mm(inner), closed);
        Room { across: span(across, Ends::Both), down: span(down, Ends::One), depth: Depth::Bowing }
    }

    /// The least perimeter of a convex loop round a stack, by walking round its corners; the pocket's two walls are a
    /// loop twice as long as it is wide.
    fn goes_round(inner: f64, wide: f64, thick: f64) -> bool {
        let corners = [(0.0, 0.0), (wide, 0.0), (wide, thick), (0.0, thick)];
        let side = |i: usize| {
            let ((ax, ay), (bx, by)): ((f64, f64), (f64, f64)) = (corners[i], corners[(i + 1) % 4]);
            libm::sqrt((bx - ax) * (bx - ax) + (by - ay) * (by - ay))
        };
        (0..4).map(side).sum::<f64>() <= 2.0 * inner + 1e-9
    }

    #[test]
    fn a_flat_pocket_takes_a_stack_as_thick_as_it_has_play() {
        for inner in [60.0, 100.0] {
            for play in [0.0, 0.1, 3.175, 20.0] {
                let thickest = flat(inner, 50.0).thickest((mm(inner - play), mm(50.0))).unwrap();
                assert_eq!(thickest, mm(play));
                assert!(goes_round(inner, inner - play, play), "{inner} {play}");
                assert!(!goes_round(inner, inner - play, play + 1e-3), "{inner} {play}");
            }
        }
        // The usual allowance is room for a stack of 1/8 in, whatever the pocket.
        let room = flat(80.0, 50.0);
        assert_eq!(room.thickest(room.largest().unwrap()), Some(ALLOWANCE));
        assert_eq!(room.thickest((mm(80.5), mm(20.0))), Some(Length::ZERO));
    }

    #[test]
    fn over_a_flat_back_nothing_goes_without_slack() {
        for (front, between, wide) in [(80.0, 80.0, 60.0), (80.0, 80.0, 80.0), (90.0, 80.0, 81.0), (79.0, 80.0, 60.0)] {
            assert!(over_flat_back(front, between, wide) < 1e-12);
        }
        // As wide as the lines are apart: half the slack stands up at either side.
        assert!((over_flat_back(90.0, 80.0, 80.0) - 5.0).abs() < 1e-12);
        // A right triangle of 3, 4 and 5 at either side: 2 · 5 and 72 in the middle are 82, over 72 and 2 · 4.
        assert!((over_flat_back(82.0, 80.0, 72.0) - 3.0).abs() < 1e-12);
    }

    #[test]
    fn the_front_of_a_gusset_never_holds_a_stack_back() {
        // Front and gussets together are 4g longer than the back between the feet.
        for gusset in [3.0, 6.35, 12.7] {
            for between in [30.0, 100.0] {
                for wide in [between / 2.0, between - 3.175, between] {
                    assert!(over_flat_back(between + 4.0 * gusset, between, wide) >= 2.0 * gusset - 1e-9);
                }
            }
        }
    }

    #[test]
    fn a_gusset_is_as_deep_as_a_square_back_is_for_its_stack() {
        // g = T + t round a stack of 0.1, 0.3, 1, 2 and 5 mm in paper of 0.3 mm (plane geometry, recomputed table).
        for (gusset, stack) in [(0.4, 0.1), (0.6, 0.3), (1.3, 1.0), (2.3, 2.0), (5.3, 5.0)] {
            assert!((Allowance::default().room(gusset, 0.3) - stack).abs() < 1e-9, "{gusset}");
            assert_eq!(mm(gusset) - mm(0.3), mm(stack));
        }
    }

    #[test]
    fn sheets_stack_as_the_trade_reckons_and_spring() {
        // A printer's spines: 128 pages of .0039 in are .2496 in, 200 pages of .005 in are .5 in. Exactly so deep they hold
        // as many leaves only when pressed; with their spring a twentieth more is needed.
        for (leaves, caliper, spine) in [(64, "0.0039 in", "0.2496 in"), (100, "0.005 in", "0.5 in")] {
            let [caliper, spine]: [Length; 2] = [caliper, spine].map(|text| text.parse().unwrap());
            let pressed = Allowance { kappa: 0.0, ..Allowance::default() };
            assert_eq!(pressed.sheets_held(spine.mm(), 0.0, caliper.mm()), leaves);
            assert_eq!(stacked(spine + spine / SPRING, caliper), leaves);
            assert_eq!(stacked(spine, caliper), leaves * 20 / 21);
        }
        assert_eq!((stacked(mm(5.0), Length::ZERO), stacked(-mm(1.0), mm(0.3))), (0, 0));
    }

    #[test]
    fn a_card_is_held_by_half_of_it() {
        let room = flat(62.0, 45.0);
        let fit = |is_turned| room.card(&CARDS[2], is_turned, mm(0.3));
        // ID-1 upright: 53.98 wide with 8.02 mm play, 85.6 high in 45 mm.
        let upright = fit(false).unwrap();
        assert_eq!((upright.stands_out, upright.play), ([Length::ZERO, mm(40.6)], Some(mm(8.02))));
        // 8.02 mm hold ten of 0.76 mm and a twentieth.
        assert_eq!(upright.count, Some(10));
        assert_eq!(fit(true), None);
        // Of 42.7 mm half the card lies within, of 42 less.
        assert!(flat(62.0, 42.8).card(&CARDS[2], false, mm(0.3)).is_some());
        assert!(flat(62.0, 42.0).card(&CARDS[2], false, mm(0.3)).is_none());
        // Snug, a card has to find room for its own thickness.
        assert!(flat(54.7, 80.0).card(&CARDS[2], false, mm(0.3)).is_none());
        assert_eq!(flat(54.74, 80.0).card(&CARDS[2], false, mm(0.3)).unwrap().count, Some(1));
    }
}
