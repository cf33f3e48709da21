//! How far one price holds: the bound's values over which the optimum moves on one straight line.

use super::DualFace;
use super::corners::{Corners, Top};
use crate::lp::bound::{Bound, Way};
use crate::lp::linear::Linear;
use crate::tolerance::ZERO_PRICE;

/// A one-sided rate and how far it holds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ranging {
    /// Change of the optimum per unit of the bound's value.
    pub rate: f64,
    /// The bound's value at which the rate changes or room ends; infinite where neither happens.
    pub to: f64,
}

impl DualFace<'_> {
    /// The rate of a bound in one direction and the value up to which it holds. `None`: there is no
    /// room that way.
    ///
    /// With prices y from the set that give the rate, the line holds as long as some point keeps the
    /// moved bounds and stays on every bound that y prices: y is then optimal there too.
    pub fn ranging(&mut self, bound: Bound, way: Way) -> Option<Ranging> {
        let rate = self.rate(bound, way)?;
        let corner = self.set.point();
        let priced: Vec<Bound> =
            self.prices.iter().zip(corner).filter(|(_, v)| *v > ZERO_PRICE).map(|(p, _)| p.bound).collect();
        let value = self.program.value_of(bound);
        let far = Moved::new(self.program, bound, way, &priced).furthest();
        Some(Ranging { rate, to: value + way.sign() * far })
    }
}

/// A variable of the program over those of the moved one.
struct Amount {
    constant: f64,
    /// How it goes with the distance.
    distance: f64,
    /// The moved program's variables that add to it.
    parts: Vec<(usize, f64)>,
}

/// The program with one bound moved by an unknown distance, as equations over variables from zero up;
/// variable 0 is the distance. Bounds that have a price are kept as they are, the others have slack.
struct Moved<'f> {
    program: &'f Linear,
    bound: Bound,
    sign: f64,
    priced: &'f [Bound],
    columns: Vec<Vec<(usize, f64)>>,
    right: Vec<f64>,
}

impl<'f> Moved<'f> {
    fn new(program: &'f Linear, bound: Bound, way: Way, priced: &'f [Bound]) -> Self {
        let mut moved =
            Self { program, bound, sign: way.sign(), priced, columns: vec![vec![]], right: vec![] };
        let amounts: Vec<Amount> = (0..program.cost.len()).map(|j| moved.amount(j)).collect();
        for (j, amount) in amounts.iter().enumerate() {
            moved.bound(&[(amount, 1.0)], Bound::Max(j), program.bounds[j].1, -1.0);
        }
        for (i, (figures, low, high)) in program.rows.iter().enumerate() {
            let size = figures.iter().fold(0.0_f64, |a, f| a.max(f.abs()));
            let terms = amounts.iter().zip(figures).filter(|(_, f)| **f != 0.0).map(|(x, f)| (x, f / size));
            let terms: Vec<(&Amount, f64)> = terms.collect();
            let size = if size > 0.0 { size } else { 1.0 };
            if low == high && moved.shift(Bound::RowMin(i)) == moved.shift(Bound::RowMax(i)) {
                moved.equation(&terms, low / size, moved.shift(Bound::RowMin(i)) / size, None);
                continue;
            }
            moved.bound(&terms, Bound::RowMin(i), *low / size, size);
            moved.bound(&terms, Bound::RowMax(i), *high / size, -size);
        }
        moved
    }

    /// How far the bound goes.
    fn furthest(mut self) -> f64 {
        // Right sides of order 1: the distance counts in these.
        let size = self.right.iter().fold(0.0_f64, |a, q| a.max(q.abs()));
        let size = if size > 0.0 { size } else { 1.0 };
        self.right.iter_mut().for_each(|q| *q /= size);
        match Corners::new(&self.columns, &self.right).and_then(|mut set| set.highest(&[(0, 1.0)])) {
            Some(Top::At(value)) => value.max(0.0) * size,
            Some(Top::Endless) => f64::INFINITY,
            None => 0.0,
        }
    }

    /// How a bound goes with the distance.
    fn shift(&self, bound: Bound) -> f64 {
        let moves = match self.bound {
            Bound::RowBoth(i) => bound == Bound::RowMin(i) || bound == Bound::RowMax(i),
            Bound::Both(j) => bound == Bound::Min(j) || bound == Bound::Max(j),
            one => bound == one,
        };
        if moves { self.sign } else { 0.0 }
    }

    /// A further variable.
    fn part(&mut self) -> usize {
        self.columns.push(vec![]);
        self.columns.len() - 1
    }

    /// What a variable of the program is made of: it starts at its lower bound, if it has one.
    fn amount(&mut self, j: usize) -> Amount {
        let low = self.program.bounds[j].0;
        if !low.is_finite() {
            return Amount {
                constant: 0.0,
                distance: 0.0,
                parts: vec![(self.part(), 1.0), (self.part(), -1.0)],
            };
        }
        let parts = if self.priced.contains(&Bound::Min(j)) { vec![] } else { vec![(self.part(), 1.0)] };
        Amount { constant: low, distance: self.shift(Bound::Min(j)), parts }
    }

    /// Keeps a sum on the right side of a bound; `size` is positive for lower bounds, negative for upper
    /// ones, and what the sum was divided by.
    fn bound(&mut self, terms: &[(&Amount, f64)], bound: Bound, at: f64, size: f64) {
        if at.is_finite() {
            let slack = (!self.priced.contains(&bound)).then_some(-size.signum());
            self.equation(terms, at, self.shift(bound) / size.abs(), slack);
        }
    }

    /// `terms + slack = at + shift · distance`.
    fn equation(&mut self, terms: &[(&Amount, f64)], at: f64, shift: f64, slack: Option<f64>) {
        let equation = self.right.len();
        let constant: f64 = terms.iter().map(|(x, f)| x.constant * f).sum();
        let distance = terms.iter().map(|(x, f)| x.distance * f).sum::<f64>() - shift;
        self.right.push(at - constant);
        if distance != 0.0 {
            self.columns[0].push((equation, distance));
        }
        for (x, f) in terms {
            x.parts.iter().for_each(|(part, sign)| self.columns[*part].push((equation, sign * f)));
        }
        if let Some(sign) = slack {
            let slack = self.part();
            self.columns[slack].push((equation, sign));
        }
    }
}
