//! The integer programme: turns and piles of things, and the size of the base.

use crate::{Lying, MOST_OF_IT, MOST_THINGS, Measures, Piles, ROOM, Refusal, Thing, WIDEST_GUSSET};
use good_lp::{
    Expression, ProblemVariables, Solution, SolverModel, Variable, constraint, default_solver, variable, variables,
};
use model::{Length, Stock};

/// Layers of paper that lie in the depth of a gusset beside the things: two side flaps and the front; and a caliper for the
/// gusset's own two creases, half of one each.
const LAYERS: i64 = 4;

/// A task in grooves.
pub(crate) struct Task<'a> {
    things: &'a [Thing],
    pub(crate) groove: Length,
    caliper: Length,
    /// How wide and high each thing is with the room round it, as it is read, in grooves, rounded up.
    sizes: Vec<[i64; 2]>,
    /// How large the sheet is, rounded down.
    pub(crate) sheet: [i64; 2],
}

impl<'a> Task<'a> {
    pub(crate) fn of(things: &'a [Thing], stock: &Stock, groove: Length) -> Result<Self, Refusal> {
        if things.is_empty() {
            return Err(Refusal::Nothing);
        }
        if things.len() > MOST_THINGS {
            return Err(Refusal::TooMany);
        }
        let is_bad = |thing: &Thing| {
            let measures = [thing.width, thing.height, thing.thickness];
            thing.count == 0 || measures.into_iter().any(|measure| measure <= Length::ZERO || measure > Length::LIMIT)
        };
        if let Some(bad) = things.iter().position(is_bad) {
            return Err(Refusal::BadThing(bad));
        }
        if let Some(many) = things.iter().position(|thing| thing.count > MOST_OF_IT) {
            return Err(Refusal::TooManyOf(many));
        }
        let caliper = stock.thickness().ok_or(Refusal::NoCaliper)?;
        let groove = if groove > Length::ZERO { groove } else { Length::MILLIMETRE };
        let grooves = |length: Length| {
            (length + ROOM).nm().div_euclid(groove.nm()) + i64::from((length + ROOM).nm().rem_euclid(groove.nm()) > 0)
        };
        Ok(Self {
            things,
            groove,
            caliper,
            sizes: things.iter().map(|thing| [grooves(thing.width), grooves(thing.height)]).collect(),
            sheet: [stock.size.width(), stock.size.height()].map(|side| side.nm().div_euclid(groove.nm())),
        })
    }

    /// The best of all ways to lay the piles, on a sheet of so many grooves or on any; `None` where it is too small.
    pub(crate) fn best(&self, sheet: Option<[i64; 2]>) -> Option<Measures> {
        let all = Piles::ALL.into_iter().filter_map(|piles| self.solved(piles, sheet));
        all.min_by_key(|measures| self.cost(measures.needed()))
    }

    /// The narrowest gusset that any two piles need.
    pub(crate) fn narrowest(&self) -> Length {
        let ways = 0..1_u32 << (self.things.len() - 1);
        let thicker = |way: u32| {
            let (mut first, mut second) = (Length::ZERO, Length::ZERO);
            for thing in 0..self.things.len() {
                let pile = if way >> thing & 1 == 1 { &mut second } else { &mut first };
                *pile += self.thick(thing);
            }
            first.max(second)
        };
        self.groove * self.gusset(ways.map(thicker).min().unwrap_or_default())
    }

    /// How wide the gusset is, in grooves, with piles so thick.
    fn gusset(&self, thickest: Length) -> i64 {
        let least = (thickest + self.caliper * LAYERS).nm();
        least.div_euclid(self.groove.nm()) + i64::from(least.rem_euclid(self.groove.nm()) > 0)
    }

    /// How thick all of one thing is.
    fn thick(&self, thing: usize) -> Length {
        self.things[thing].thickness * i64::from(self.things[thing].count)
    }

    /// What is to be least: the strips of the sheet that are taken up across and down, the corner that they share counted
    /// twice. In square grooves.
    pub(crate) fn cost(&self, [width, height]: [i64; 2]) -> i64 {
        width * self.sheet[1] + height * self.sheet[0]
    }

    /// The measures that follow from where things lie, worked out in whole numbers.
    pub(crate) fn measured(&self, piles: Piles, lying: Vec<Lying>) -> Measures {
        let along = usize::from(piles == Piles::Above);
        let mut room = vec![0; piles.count()];
        let mut across = 0;
        let mut thick = vec![Length::ZERO; piles.count()];
        for (thing, lies) in lying.iter().enumerate() {
            let [width, height] = self.sizes[thing];
            let size = if lies.turned { [height, width] } else { [width, height] };
            room[lies.pile] = room[lies.pile].max(size[along]);
            across = across.max(size[1 - along]);
            thick[lies.pile] += self.thick(thing);
        }
        let mut base = [across; 2];
        base[along] = room.iter().sum();
        let gusset = self.gusset(thick.into_iter().max().unwrap_or_default());
        let half = |side: i64| side.div_euclid(2) + side.rem_euclid(2);
        Measures {
            groove: self.groove,
            piles,
            lying,
            room,
            base,
            gusset,
            // They cross by two grooves at least, so that nothing slips out between them.
            side: half(base[0]) + 1,
            front: base[1],
            closing: half(base[1]),
        }
    }

    /// The best for one way to lay the piles.
    fn solved(&self, piles: Piles, sheet: Option<[i64; 2]>) -> Option<Measures> {
        let measures = self.measured(piles, self.chosen(piles, sheet)?);
        self.is_possible(&measures, sheet).then_some(measures)
    }

    /// Whether a folio of these measures comes out of the sheet, and has gussets.
    pub(crate) fn is_possible(&self, measures: &Measures, sheet: Option<[i64; 2]>) -> bool {
        let fits = |most: [i64; 2]| measures.needed().iter().zip(most).all(|(needed, most)| *needed <= most);
        self.groove * measures.gusset <= WIDEST_GUSSET && sheet.is_none_or(fits)
    }

    /// How things are turned and piled, by the solver.
    fn chosen(&self, piles: Piles, sheet: Option<[i64; 2]>) -> Option<Vec<Lying>> {
        let mut all: ProblemVariables = variables!();
        let number = |value: i64| -> f64 { i32::try_from(value).map_or(f64::INFINITY, f64::from) };
        let turned: Vec<Variable> = self.things.iter().map(|_| all.add(variable().binary())).collect();
        let first: Vec<Variable> = self.things.iter().map(|_| all.add(variable().binary())).collect();
        let whole = |all: &mut ProblemVariables| all.add(variable().integer().min(0));
        let room: Vec<Variable> = (0..piles.count()).map(|_| whole(&mut all)).collect();
        let [across, gusset, side_half, high_half] = std::array::from_fn(|_| whole(&mut all));
        let along = usize::from(piles == Piles::Above);
        // The base, as the sheet lies.
        let total: Expression = room.iter().sum();
        let (width, height): (Expression, Expression) =
            if along == 0 { (total, across.into()) } else { (across.into(), total) };
        let needed = [width.clone() + 2 * gusset + 2 * side_half + 2, height.clone() * 2 + 2 * gusset + high_half];
        let cost = needed[0].clone() * number(self.sheet[1]) + needed[1].clone() * number(self.sheet[0]);
        let mut problem = all.minimise(cost).using(default_solver);
        let largest: i64 = self.sizes.iter().flatten().copied().max().unwrap_or(0);
        for (thing, size) in self.sizes.iter().enumerate() {
            let side = |at: usize| {
                number(size[at]) + (number(size[1 - at]) - number(size[at])) * Expression::from(turned[thing])
            };
            problem = problem.with(constraint!(side(1 - along) <= across));
            // Only the pile that it lies in has to be as wide.
            for (pile, room) in room.iter().enumerate() {
                let elsewhere: Expression = match (piles.count(), pile) {
                    (1, _) => Expression::from(0.0),
                    (_, 0) => 1 - Expression::from(first[thing]),
                    _ => first[thing].into(),
                };
                problem = problem.with(constraint!(side(along) - number(largest) * elsewhere <= *room));
            }
        }
        // A gusset is as wide as the thicker pile needs.
        for pile in 0..piles.count() {
            let mut thick = Expression::from(self.caliper.mm() * 4.0);
            for (thing, first) in first.iter().enumerate() {
                let here: Expression = match (piles.count(), pile) {
                    (1, _) => Expression::from(1.0),
                    (_, 0) => (*first).into(),
                    _ => 1 - Expression::from(*first),
                };
                thick += here * self.thick(thing).mm();
            }
            problem = problem.with(constraint!(thick <= self.groove.mm() * gusset + SURE));
        }
        problem = problem.with(constraint!(width <= 2 * side_half)).with(constraint!(height <= 2 * high_half));
        if let Some(most) = sheet {
            for (needed, most) in needed.into_iter().zip(most) {
                problem = problem.with(constraint!(needed <= number(most)));
            }
        }
        let widest = WIDEST_GUSSET.nm().div_euclid(self.groove.nm());
        problem = problem.with(constraint!(gusset <= number(widest)));
        if piles.count() == 2 {
            // Piles that could change places are one choice: the first thing lies in the first.
            problem = problem.with(constraint!(first[0] >= 1));
        }
        let solution = problem.solve().ok()?;
        let is_set = |variable: Variable| solution.value(variable) > 0.5;
        let pile = |thing: usize| usize::from(piles.count() == 2 && !is_set(first[thing]));
        Some((0..self.things.len()).map(|thing| Lying { turned: is_set(turned[thing]), pile: pile(thing) }).collect())
    }
}

/// Thicknesses are known this well, in mm: far above rounding, far below paper.
const SURE: f64 = 1e-6;
