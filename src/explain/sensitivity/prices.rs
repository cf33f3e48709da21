//! Over which prices the spec with free pours stays the same, and under which an unused ingredient
//! comes in.
//!
//! Prices stand in costs and in limits on money alone, never in the volume, so the optimum stays where
//! it is as long as nothing is better. Beside it, its own linear program says where that ends; what lies
//! further off may come before it sooner, and is found by solving again there (the best cost is a
//! concave function of a price, so that asking at the ends is enough).

use super::Priced;
use super::money::{Money, Pack, Purse, has_middle, money, pack, purses};
use super::question::Question;
use super::{held, near, pourable};
use crate::brief::{Brief, Side};
use crate::explain::side_by_side::side_by_side;
use crate::free;
use crate::free::everywhere;
use crate::free::parted::Parted;
use crate::lp::bound::Bound;
use crate::lp::dual_face::DualFace;
use crate::model::{Model, Objective, Ranges, RowOrigin};
use crate::solve::{Solved, Stop};
use crate::tolerance::UNUSED;

/// How often the price under which an ingredient comes in is looked for anew.
const ROUNDS: usize = 20;
/// How closely the end of a range is found, as a share of the price.
const CLOSE: f64 = 1e-7;

/// Every candidate that may be used, on a long shelf those that are used and the nearest to it; none where
/// the middle of what a drink may cost is part of the aim.
pub fn prices(question: &Question, solved: &Solved, stop: &Stop) -> Vec<Priced> {
    let model = Model::new(question.open());
    let purses = purses(&model);
    let money = money(question.brief);
    if question.aim_moves() && has_middle(&purses) {
        // The middle of what a drink may cost is part of the aim: prices move everything a little.
        return vec![];
    }
    let free = Free::new(question, &model, &purses, money);
    if free.is_beaten() {
        return vec![];
    }
    let price = |column: usize| question.brief.candidates[model.columns[column].candidate].cost_per_unit;
    let columns = near::columns(question, &model, price).into_iter();
    let mut priced = free.all_priced(&columns.collect::<Vec<usize>>(), stop);
    let mut turns = pourable::Turns::new(question.brief, solved, &purses, money, stop);
    let mut order: Vec<usize> = (0..priced.len()).collect();
    order.sort_by(|a, b| off(&priced[*a]).total_cmp(&off(&priced[*b])));
    // Every candidate gets its share of the effort, those that are nearest to a change first.
    for at in order {
        if stop.raised() {
            break;
        }
        let candidate = priced[at].candidate;
        let pack = pack(&question.brief.candidates[candidate]);
        priced[at].pourable = pack.and_then(|pack| turns.of(candidate, &pack));
    }
    priced
}

/// How far the price of an ingredient is from where the spec with free pours would take it in, as a
/// share of it; none for what is used.
fn off(priced: &Priced) -> f64 {
    match (priced.used, priced.price, priced.enters_below) {
        (true, ..) => 0.0,
        (false, Some(price), Some(below)) if price > 0.0 => 1.0 - below / price,
        _ => 1.0,
    }
}

/// A model without the most that may be paid, where the aim is to pay little: whatever is better than a known spec is
/// paid where that is.
fn without_ceilings<'b>(mut model: Model<'b>, purses: &[Purse], money: Money) -> Model<'b> {
    if matches!(money, Money::Aim(times) if times > 0.0) {
        let ceiling = |purse: &&Purse| purse.side == Side::Max;
        let places: Vec<usize> = purses.iter().filter(ceiling).map(|purse| purse.place).collect();
        let mut at = 0..;
        model.limits.retain(|_| at.next().is_some_and(|at| !places.contains(&at)));
    }
    model
}

/// Prices and the spec with free pours.
struct Free<'q> {
    question: &'q Question<'q>,
    model: &'q Model<'q>,
    purses: &'q [Purse],
    /// The rows of the limits on money.
    rows: Vec<usize>,
    money: Money,
    /// The model without what only says again that nothing dearer is looked for.
    open: Model<'q>,
    /// Which compositions the brief allows, where that does not hang on prices; and all of them, in boxes.
    within: Option<Ranges>,
    parted: Option<Parted>,
}

impl<'q> Free<'q> {
    fn new(question: &'q Question, model: &'q Model, purses: &'q [Purse], money: Money) -> Self {
        let row = |purse: &Purse| question.base.row(RowOrigin::Limit(purse.place));
        let rows = purses.iter().filter_map(row).collect();
        let open = without_ceilings(model.clone(), purses, money);
        let objective = Objective::of(&open);
        let fixed = open.limits.len() + purses.len() == model.limits.len();
        let within = fixed.then(|| everywhere::allowed(&open.freed(), &objective)).flatten();
        let parted = within
            .filter(|_| matches!(money, Money::Aim(_)))
            .and_then(|within| Parted::new(&open, &objective, within, &question.base.free.units));
        Self { question, model, purses, rows, money, open, within, parted }
    }

    /// Whether solving again betters the spec with nothing changed: then it is no base to ask from.
    fn is_beaten(&self) -> bool {
        let base = &self.question.base.free.units;
        let again = self.parted.as_ref().map(|parted| parted.best.clone()).or_else(|| {
            free::optimum_within(&self.open, &Objective::of(&self.open), Some(base), self.within)
        });
        again.is_some_and(|again| self.question.improves(again.score, self.question.score))
    }

    /// What the prices of columns do to the spec with free pours: each of them by itself, so that two cores change nothing
    /// but the time.
    fn all_priced(&self, columns: &[usize], stop: &Stop) -> Vec<Priced> {
        let priced = |column: &usize| (!stop.raised()).then(|| self.priced(*column));
        side_by_side(columns, 2, priced).into_iter().flatten().collect()
    }

    /// What the price of a column does to the spec with free pours.
    fn priced(&self, column: usize) -> Priced {
        let of = &self.model.columns[column];
        let (candidate, bought) = (of.candidate, &self.question.brief.candidates[of.candidate]);
        let amount = self.question.base.free.units[column] * of.unit;
        let used = amount > UNUSED;
        let known = Priced { candidate, ingredient: bought.name.clone(), used, ..Priced::default() };
        let Some(pack) = pack(bought) else { return known };
        let elsewhere = |amount: f64, end: f64| self.elsewhere(candidate, amount, &pack, end);
        let (from, to) = if used { self.stays(column, amount, &pack) } else { (None, None) };
        let enters_below = (!used)
            .then(|| elsewhere(0.0, self.enters(column, &pack).unwrap_or(0.0)))
            .filter(|price| *price > 0.0);
        let [from, to] = [from, to].map(|end| end.map(|end| elsewhere(amount, end)));
        Priced { price: Some(pack.price), from, to, enters_below, per: pack.per, ..known }
    }

    /// Draws the end of a range in to where nothing that lies elsewhere is better than the spec.
    fn elsewhere(&self, candidate: usize, amount: f64, pack: &Pack, end: f64) -> f64 {
        let mut end = end;
        if self.money == Money::Limits && self.purses.is_empty() {
            return end;
        }
        for _ in 0..ROUNDS {
            let known = match self.money {
                Money::Aim(times) => self.question.score + times * (end - pack.price) * pack.share * amount,
                Money::Limits => self.question.score,
            };
            let mut moved = self.question.open().clone();
            moved.candidates[candidate].cost_per_unit = Some(end * pack.share);
            let best = self.best(&moved, candidate, pack, end);
            let Some(best) = best.filter(|best| self.question.improves(best.score, known)) else { break };
            let Money::Aim(times) = self.money else { return pack.price };
            // Both are straight lines in the price: back to where they cross.
            let other: f64 = self.amount(&best.units, candidate);
            let crossing = end + (known - best.score) / (times * pack.share * (other - amount));
            let (low, high) = (end.min(pack.price), end.max(pack.price));
            if !crossing.is_finite() || (crossing - end).abs() <= CLOSE * pack.price.abs() {
                break;
            }
            end = crossing.clamp(low, high);
        }
        end
    }

    /// The best at another price, as far as it is better than the spec.
    fn best(&self, moved: &Brief, candidate: usize, pack: &Pack, price: f64) -> Option<free::Free> {
        let model = without_ceilings(Model::new(moved), self.purses, self.money);
        let (objective, base) = (Objective::of(&model), &self.question.base.free.units);
        let Some(parted) = &self.parted else {
            return free::optimum_within(&model, &objective, Some(base), self.within);
        };
        let columns = (0..model.columns.len()).filter(|at| model.columns[*at].candidate == candidate);
        let by = price - pack.price;
        let dearer: Vec<(usize, f64)> = columns.map(|at| (at, by * self.cost_per_price(at, pack))).collect();
        parted.better(&model, &objective, base, &dearer)
    }

    fn amount(&self, units: &[f64], candidate: usize) -> f64 {
        let columns = self.model.columns.iter().zip(units);
        columns.filter(|(c, _)| c.candidate == candidate).map(|(c, units)| units * c.unit).sum()
    }

    /// What a unit of the pack's price adds to a column's cost in scores.
    fn cost_per_price(&self, column: usize, pack: &Pack) -> f64 {
        match self.money {
            Money::Aim(times) => times * pack.share * self.model.columns[column].unit,
            Money::Limits => 0.0,
        }
    }

    /// Between which prices of a used ingredient the spec stays the same. With a limit on money that has
    /// a price of its own, none but the present one.
    fn stays(&self, column: usize, amount: f64, pack: &Pack) -> (Option<f64>, Option<f64>) {
        let mut open = self.question.base.linear.clone();
        for row in &self.rows {
            (open.rows[*row].1, open.rows[*row].2) = (f64::NEG_INFINITY, f64::INFINITY);
        }
        let per_price = self.cost_per_price(column, pack);
        let face = DualFace::at(&open, &self.question.base.point);
        let variable = self.question.base.variable(column);
        let (low, high) = match (face, variable) {
            (None, _) if self.question.base.face().is_none() => return (None, None),
            (None, _) => (pack.price, pack.price),
            (Some(face), Some(variable)) if per_price != 0.0 => {
                let (a, b) = face.cost_range(variable);
                let (a, b) = (a / per_price, b / per_price);
                (a.min(b), a.max(b))
            }
            (Some(_), _) => (0.0, f64::INFINITY),
        };
        let (least, most) = self.affordable(amount, pack);
        let (low, high) = (low.max(least).clamp(0.0, pack.price), high.min(most).max(pack.price));
        (Some(low), high.is_finite().then_some(high))
    }

    fn reached(&self, purse: &Purse) -> bool {
        let cost = self.question.base.free.served.cost;
        (cost - purse.money).abs() <= held::REACHED * purse.money
    }

    /// The prices at which the spec keeps every limit on money.
    fn affordable(&self, amount: f64, pack: &Pack) -> (f64, f64) {
        let cost = self.question.base.free.served.cost;
        let (mut low, mut high) = (0.0, f64::INFINITY);
        for purse in self.purses {
            let price = pack.price + (purse.money - cost) / (pack.share * amount);
            match purse.side {
                Side::Min => low = f64::max(low, price),
                Side::Max => high = f64::min(high, price),
            }
        }
        (low, high)
    }

    /// The price under which an unused ingredient comes in; `None` if it never does.
    ///
    /// It stays out as long as some optimal prices leave its reduced cost at zero or over; that falls
    /// with its price at a rate that itself hangs on the prices of the limits on money. The fall that
    /// is possible is a ratio of the two, found by Dinkelbach's steps.
    fn enters(&self, column: usize, pack: &Pack) -> Option<f64> {
        // Where a drink has to cost so much, and does, nothing makes it cheaper.
        if self.purses.iter().any(|purse| purse.side == Side::Min && self.reached(purse)) {
            return None;
        }
        let variable = self.question.base.variable(column)?;
        let mut face = self.question.base.face()?;
        let (own, row) = (self.cost_per_price(column, pack), pack.share * self.model.columns[column].unit);
        let rows: Vec<(Bound, f64)> = self
            .purses
            .iter()
            .zip(&self.rows)
            .map(|(purse, at)| match purse.side {
                Side::Max => (Bound::RowMax(*at), row * purse.times),
                Side::Min => (Bound::RowMin(*at), -row * purse.times),
            })
            .collect();
        let mut fall = 0.0;
        for _ in 0..ROUNDS {
            let mut terms = vec![(Bound::Min(variable), 1.0)];
            terms.extend(rows.iter().map(|(bound, per)| (*bound, -fall * per)));
            let left = face.most(&terms)? - fall * own;
            if left.is_infinite() {
                return None;
            }
            let rate = own + rows.iter().map(|(bound, per)| per * face.price(*bound)).sum::<f64>();
            if rate <= 0.0 {
                return None;
            }
            let next = face.price(Bound::Min(variable)) / rate;
            if next <= fall * (1.0 + 1e-9) {
                break;
            }
            fall = next;
        }
        let price = pack.price - fall;
        (price > 0.0).then_some(price)
    }
}
