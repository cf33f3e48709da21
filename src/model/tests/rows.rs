//! Rows beside those of the limits, worked out by hand: what no glass goes without, counts, rooms, and how much a miss of a
//! soft limit loosens.

use super::super::*;
use crate::brief::{Brief, Goal};
use crate::liquid::ethanol;
use crate::read::read;

/// A spirit by 5 ml from 20 ml on, juice and syrup by 2.5 ml from 5 and 10 ml on, an acid by weight.
pub(super) fn brief() -> Brief {
    let text = "currency = \"GBP\"\n[serve]\nmethod = \"none\"\npour = \"2.5 ml\"\n[targets]\nvolume = { min = 100, max = 200 }\n\
         [aim]\nlowest = \"cost\"\n\
         [[candidate]]\nname = \"spirit\"\nstrength = 40\nprice = \"20.00 per 1 l\"\npour = \"5 ml\"\nmin = \"20 ml\"\n\
         [[candidate]]\nname = \"juice\"\nacid = 60\nmin = \"5 ml\"\nmax = \"30 ml\"\nprice = \"6.00 per 1 l\"\n\
         [[candidate]]\nname = \"syrup\"\nsugar = 600\nmin = \"10 ml\"\nprice = \"3.00 per 1 l\"\n\
         [[candidate]]\nname = \"acid\"\nform = \"powder\"\nacid = 990\npour = \"0.1 g\"\nprice = \"8.00 per 1 kg\"\n";
    read(text.as_bytes(), &[]).expect("a brief").brief
}

pub(super) fn limit(measure: Measure, side: Side, value: f64) -> Limit {
    Limit { measure, side, value, source: Source::Target }
}

/// The model of the brief with limits of its own.
pub(super) fn model<'b>(brief: &'b Brief, limits: &[Limit]) -> Model<'b> {
    Model { limits: limits.to_vec(), ..Model::new(brief) }
}

pub(super) fn cost(model: &Model) -> Objective {
    Objective::goal(model, Goal::Measure(Measure::Cost), Sense::Low)
}

/// The rows of a program of the whole range that have such an origin, a figure a column.
pub(super) fn rows(
    model: &Model,
    objective: &Objective,
    of: impl Fn(RowOrigin) -> bool,
) -> Vec<(Vec<f64>, f64, f64)> {
    let program = Program::relaxed(model, objective, &Ranges::of(&model.typical));
    let own = program.rows.into_iter().filter(|row| of(row.origin));
    own.map(|row| (row.coefficients, row.low, row.high)).collect()
}

/// Whether a row is that of these figures and ends, but for what rows are loosened by.
pub(super) fn is(row: &(Vec<f64>, f64, f64), figures: &[f64], low: f64, high: f64) -> bool {
    let near = |a: f64, b: f64| a == b || (a - b).abs() <= 1e-7 * (1.0 + b.abs());
    row.0.len() == figures.len()
        && row.0.iter().zip(figures).all(|(a, b)| near(*a, *b))
        && near(row.1, low)
        && near(row.2, high)
}

/// Any least pour is a drink: 4, 2 and 4 steps, or one of the acid. A tenth of a ml (g) is a taste: 0.04 steps of juice or
/// syrup, one of the acid.
#[test]
fn no_glass_goes_without_something() {
    let brief = brief();
    let something = |limits: &[Limit], objective: Option<&Objective>| {
        let model = model(&brief, limits);
        let cost = cost(&model);
        let rounded = |(what, figures): (Something, Vec<f64>)| {
            (what, figures.iter().map(|f| (f * 1e6).round() / 1e6).collect::<Vec<f64>>())
        };
        model.something(objective.unwrap_or(&cost)).into_iter().map(rounded).collect::<Vec<_>>()
    };
    let drink = || (Something::Drink, vec![0.25, 0.5, 0.25, 1.0]);
    let acid = || (Something::Acid, vec![0.0, 25.0, 0.0, 1.0]);
    let sugar = || (Something::Sugar, vec![0.0, 0.0, 25.0, 0.0]);
    let of = |limits: &[Limit]| something(limits, None);
    let (min, max) = (Side::Min, Side::Max);
    let ratio = |side| limit(Measure::SugarAcid, side, 8.0);
    assert_eq!(of(&[]), [drink()]);
    // At least some volume is a drink already; at least none, or at most some, is not.
    assert_eq!(of(&[limit(Measure::Volume, min, 90.0)]), []);
    assert_eq!(of(&[limit(Measure::Volume, min, 0.0)]), [drink()]);
    assert_eq!(of(&[limit(Measure::Volume, max, 90.0)]), [drink()]);
    // Sugar over acid takes acid; so much sugar for the acid takes sugar; what is acid or sweet is a drink.
    assert_eq!(of(&[ratio(max)]), [acid()]);
    assert_eq!(of(&[ratio(min)]), [sugar()]);
    assert_eq!(of(&[ratio(min), ratio(max)]), [acid(), sugar()]);
    assert_eq!(of(&[ratio(max), limit(Measure::Volume, min, 90.0)]), [acid()]);
    // Limits of the acid or the sugar say so already.
    assert_eq!(of(&[ratio(max), limit(Measure::Acid, min, 0.5)]), [drink()]);
    assert_eq!(of(&[ratio(min), limit(Measure::Sugar, min, 50.0)]), [drink()]);
    assert_eq!(of(&[ratio(max), limit(Measure::Acid, max, 5.0)]), [acid()]);
    // An aim or a soft limit over acid takes acid as well.
    let any = model(&brief, &[]);
    let goal = Objective::goal(&any, Goal::Measure(Measure::SugarAcid), Sense::High);
    assert_eq!(something(&[], Some(&goal)), [acid()]);
    for (side, measure, row) in
        [(max, Measure::SugarAcid, acid()), (min, Measure::SugarAcid, drink()), (max, Measure::Acid, drink())]
    {
        let softs = [limit(Measure::Cost, max, 2.0), limit(measure, side, 8.0)];
        let softs = softs.into_iter().map(|limit| Soft { limit, size: 1.0 }).collect();
        let soft = Objective::Elastic { softs, together: Together::Sum, most: 9.0 };
        assert_eq!(something(&[], Some(&soft)), [row], "{measure:?}");
    }
}

/// Where any amount may be poured there is no least; a smaller least than a taste is what counts; one row stands once; and
/// what only some makes have is had.
#[test]
fn something_is_of_what_may_have_it() {
    let brief = brief();
    let mut model = model(&brief, &[limit(Measure::SugarAcid, Side::Max, 8.0)]);
    let row = |model: &Model| model.something(&cost(model));
    model.columns[1].least = 0.01;
    let figures = row(&model)[0].1.clone();
    assert!((figures[1] - 100.0).abs() < 1e-9 && figures[0] == 0.0, "{figures:?}");
    model.columns[1].least = 0.0;
    assert_eq!(row(&model), []);
    // Acid and sugar of the same ingredient alone: one row for both.
    let mut same =
        self::model(&brief, &[Side::Min, Side::Max].map(|side| limit(Measure::SugarAcid, side, 8.0)));
    same.typical[3].masses.acid = 0.0;
    same.typical[2].sugars = 0.0;
    same.typical[1].sugars = 0.1;
    let rows = row(&same);
    assert_eq!(rows.len(), 1, "{rows:?}");
    assert_eq!((rows[0].0, rows[0].1[0]), (Something::Acid, 0.0));
    // Some of the spirit is sour in one corner of its range.
    let mut corner = same.typical[0];
    corner.masses.acid = 0.001;
    let corners = same.typical.iter().map(|portion| vec![*portion]).collect();
    same.spread = Some(Spread { corners });
    assert_eq!(row(&same).len(), 1);
    if let Some(spread) = &mut same.spread {
        spread.corners[0].push(corner);
    }
    let rows = row(&same);
    // A taste of 0.1 ml is 0.02 steps of 5 ml.
    assert!((rows[0].1[0] - 50.0).abs() < 1e-9 && rows.len() == 2, "{rows:?}");
}

/// Of three, the first of which must be used, two: one of the others at least, each by its least; and at most, each by its
/// most.
#[test]
fn counts_are_rows_of_amounts() {
    let brief = brief();
    let mut model = model(&brief, &[limit(Measure::Volume, Side::Max, 200.0)]);
    model.columns[0].must = true;
    model.groups = vec![Group { members: vec![0, 1, 2], min: 2, max: 2 }];
    let (none, end) = (f64::NEG_INFINITY, f64::INFINITY);
    let at_least = |model: &Model| rows(model, &cost(model), |of| matches!(of, RowOrigin::AtLeast(_)));
    let at_most = |model: &Model| rows(model, &cost(model), |of| matches!(of, RowOrigin::AtMost(_)));
    let least = at_least(&model);
    assert!(least.len() == 1 && is(&least[0], &[0.0, 0.5, 0.25, 0.0], 1.0, end), "{least:?}");
    assert!(least[0].1 < 1.0);
    let most = at_most(&model);
    assert!(most.len() == 1 && is(&most[0], &[0.0, 1.0 / 12.0, 1.0 / 92.0, 0.0], none, 1.0), "{most:?}");
    assert!(most[0].2 > 1.0);
    let ends = |model: &Model| (at_least(model).len(), at_most(model).len());
    // What the must alone does, and what there is not more of, says nothing.
    model.groups[0] = Group { members: vec![0, 1, 2], min: 1, max: 3 };
    assert_eq!(ends(&model), (0, 0));
    // Nor where any amount of one may be poured, or none.
    model.groups[0] = Group { members: vec![0, 1, 2], min: 2, max: 2 };
    model.columns[1].least = 0.0;
    assert_eq!(ends(&model), (0, 1));
    model.columns[2].most = 0.0;
    assert_eq!(ends(&model), (0, 0));
    // One step is some: of the acid, one step is its least.
    let mut small = self::model(&brief, &[]);
    small.groups = vec![Group { members: vec![1, 3], min: 1, max: 1 }];
    assert_eq!(ends(&small), (1, 1));
    small.columns[1].most = 1.0;
    assert_eq!(ends(&small), (1, 1));
    // A count of everything is a row only where no volume bounds everything.
    let mut model = self::model(&brief, &[limit(Measure::Volume, Side::Max, 200.0)]);
    model.groups = vec![Group { members: vec![0, 1, 2, 3], min: 0, max: 3 }];
    assert_eq!(ends(&model), (0, 0));
    for limits in
        [vec![], vec![limit(Measure::Volume, Side::Min, 9.0)], vec![limit(Measure::Cost, Side::Max, 9.0)]]
    {
        model.limits = limits;
        let most = at_most(&model);
        let shares = [1.0 / 46.0, 1.0 / 12.0, 1.0 / 92.0, 1.0 / 3910.0];
        assert!(most.len() == 1 && is(&most[0], &shares, none, 3.0), "{most:?}");
    }
    // A volume bounds nothing that is counted of some.
    model.limits = vec![limit(Measure::Volume, Side::Max, 200.0)];
    model.groups[0].members.pop();
    model.groups[0].max = 2;
    assert_eq!(ends(&model), (0, 1));
    let program = Program::relaxed(&model, &cost(&model), &Ranges::of(&model.typical));
    let counted = program.clone().counted(&model);
    assert_eq!(counted.rows.len(), program.rows.len() + 1);
}

/// Juice to syrup from a half to two: x₁ - x₂/2 is at least nothing and x₁ - 2·x₂ at most, times 2.5 ml, but for what rows
/// are loosened by.
#[test]
fn proportions_and_something_are_rows_of_a_program() {
    let mut brief = brief();
    brief.proportions = vec![crate::brief::Proportion { of: 1, to: 2, min: Some(0.5), max: Some(2.0) }];
    let model = model(&brief, &[]);
    let own = rows(&model, &cost(&model), |of| matches!(of, RowOrigin::Proportion(..)));
    assert!(is(&own[0], &[0.0, 2.5, -1.25, 0.0], 0.0, f64::INFINITY), "{own:?}");
    assert!(is(&own[1], &[0.0, 2.5, -5.0, 0.0], f64::NEG_INFINITY, 0.0), "{own:?}");
    // Loosened, never tightened.
    assert!(own.len() == 2 && own[0].0[2] > -1.25 && own[1].0[2] < -5.0);
    let own = rows(&model, &cost(&model), |of| matches!(of, RowOrigin::Something(_)));
    assert!(own.len() == 1 && is(&own[0], &[0.25, 0.5, 0.25, 1.0], 1.0, f64::INFINITY), "{own:?}");
    assert!(own[0].1 < 1.0);
}

/// Room is kept free at a limit: at least 8 g are 8.5 g with half a gram of it, at most 20 g are 19.
#[test]
fn room_narrows_the_row_of_its_limit() {
    let brief = brief();
    let limits = [
        limit(Measure::Ethanol, Side::Min, 8.0),
        limit(Measure::Ethanol, Side::Max, 20.0),
        limit(Measure::Volume, Side::Max, 200.0),
    ];
    let mut model = model(&brief, &limits);
    let serves = Serves::new(&brief, Run::First);
    let region = crate::simulate::Region {
        pours: vec![],
        worked: (0.0, 0.0),
        before: (0.0, 0.0),
        spirit: (0.0, 0.0),
        syrup: (0.0, 0.0),
    };
    let mut room = serves.room(&limits[..2], &region, 0.5);
    room.needed = vec![0.5, 1.0];
    model.room = Some(Arc::new(room));
    let rows = rows(&model, &cost(&model), |of| matches!(of, RowOrigin::Limit(_)));
    // 2 ml of ethanol a step of 5 ml.
    let figures = [2.0 * ethanol::PURE, 0.0, 0.0, 0.0];
    assert!(is(&rows[0], &figures, 8.5, f64::INFINITY), "{rows:?}");
    assert!(is(&rows[1], &figures, f64::NEG_INFINITY, 19.0), "{rows:?}");
    assert!((rows[2].2 - 200.0).abs() < 1e-5, "{rows:?}");
}

/// A miss of one size of a ratio is worth its size times what it is divided by: the greatest volume that there may be, or
/// all the acid; at a point its own.
#[test]
fn a_miss_of_a_ratio_counts_by_what_it_is_divided_by() {
    let brief = brief();
    let figure = |limits: &[Limit], softs: &[Soft], most: f64, together, at: usize| {
        let model = model(&brief, limits);
        let objective = Objective::Elastic { softs: softs.to_vec(), together, most };
        let rows = rows(&model, &objective, |of| of == RowOrigin::Soft(at));
        assert_eq!(rows.len(), 1);
        let own = if together == Together::Sum { 4 + at } else { 4 };
        assert_eq!(rows[0].0.len(), 4 + if together == Together::Sum { softs.len() } else { 1 });
        rows[0].0[own]
    };
    let soft = |measure, side, value, size| Soft { limit: limit(measure, side, value), size };
    let strength = |side| soft(Measure::Strength, side, 12.0, 2.0);
    let hard = [limit(Measure::Volume, Side::Min, 100.0), limit(Measure::Volume, Side::Max, 200.0)];
    let near = |a: f64, b: f64| (a - b).abs() <= 1e-5 * b.abs();
    // 2 % vol of at most 200 ml: what is missed is added under a minimum and taken off over a maximum.
    for together in [Together::Sum, Together::Largest] {
        assert!(near(figure(&hard, &[strength(Side::Min)], 3.0, together, 0), 400.0));
        assert!(near(figure(&hard, &[strength(Side::Max)], 3.0, together, 0), -400.0));
    }
    // A volume that may be missed by up to three times 10 ml ends at 150 + 30 ml; one over the hard end does not count.
    let volume = soft(Measure::Volume, Side::Max, 150.0, 10.0);
    assert!(near(figure(&hard, &[volume, strength(Side::Min)], 3.0, Together::Sum, 1), 360.0));
    assert!(near(figure(&hard, &[volume, strength(Side::Min)], 30.0, Together::Sum, 1), 400.0));
    assert!(near(figure(&hard, &[volume, strength(Side::Min)], 3.0, Together::Sum, 0), -10.0));
    assert!(near(figure(&hard, &[volume, strength(Side::Min)], 3.0, Together::Largest, 1), 360.0));
    // Without an end, it is all that can be poured: 46 steps of 5 ml, 12 and 92 of 2.5 ml and 391 g of acid, 490 ml and
    // the acid's 200 to 250; of much more than a serve four of the largest, 8 l.
    let all = figure(&[], &[strength(Side::Min)], 3.0, Together::Sum, 0) / 2.0;
    assert!((690.0..760.0).contains(&all), "{all}");
    let mut wide = model(&brief, &[]);
    wide.columns.iter_mut().for_each(|column| column.most *= 20.0);
    let softs = vec![strength(Side::Min)];
    let objective = Objective::Elastic { softs, together: Together::Sum, most: 3.0 };
    let own = rows(&wide, &objective, |of| of == RowOrigin::Soft(0))[0].0[4];
    assert!(near(own, 16_000.0), "{own}");
    // Sugar over acid: 0.06 g/ml of 30 ml and 0.99 of 391 g are 388.89 g.
    let ratio = soft(Measure::SugarAcid, Side::Max, 8.0, 2.0);
    assert!(near(figure(&hard, &[ratio], 3.0, Together::Sum, 0), -777.78));
    // A sum is not divided at all.
    let money = soft(Measure::Cost, Side::Max, 1.0, 0.25);
    assert!(near(figure(&hard, &[money], 3.0, Together::Sum, 0), -0.25));
    // At a drink, its own volume and its own acid: 20 ml of the juice and 0.2 g are 1.398 g.
    let model = model(&brief, &hard);
    let pours: Vec<Pour> = [8.0, 8.0, 12.0, 2.0].iter().enumerate().map(|(c, x)| model.pour(c, *x)).collect();
    let drink = crate::brief::serve(&brief, &pours).drink;
    let softs = vec![strength(Side::Min), ratio];
    let objective = Objective::Elastic { softs, together: Together::Sum, most: 3.0 };
    let envelope = Tangent::at(&model, &model.typical, &drink).envelope();
    let basis = Basis { views: &[], loose: 0.0, at: Some(&drink) };
    let program = Program::over(&model, &objective, envelope, basis);
    let own = |at: usize| {
        let row = program.rows.iter().find(|row| row.origin == RowOrigin::Soft(at)).expect("a row");
        row.coefficients[4 + at]
    };
    assert!(near(own(0), 2.0 * drink.volume) && near(own(1), -2.0 * 1.398), "{} {}", own(0), own(1));
}
