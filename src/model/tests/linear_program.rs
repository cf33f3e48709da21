//! The program in the plain form, written out by hand: every variable with its bounds, every row with its figures.

use std::sync::Arc;

use super::super::*;
use crate::brief::{Brief, Goal, Jigger, Proportion, Step};
use crate::read::read;

/// A spirit by 5 ml from 20 ml on, juice and syrup by 2.5 ml, an acid by weight; at most three of them, and one sour.
fn brief(rest: &str) -> Brief {
    let text = format!(
        "currency = \"GBP\"\n[serve]\nmethod = \"none\"\npour = \"2.5 ml\"\nmost = 3\n[targets]\n\
         volume = {{ min = 100, max = 200 }}\n{rest}\n\
         [[choose]]\nrole = \"sour\"\nmin = 1\nmax = 1\n\
         [[candidate]]\nname = \"spirit\"\nrole = \"base\"\nstrength = 40\nnotes = [\"oak\"]\nprice = \"20.00 per 1 l\"\n\
         pour = \"5 ml\"\nmin = \"20 ml\"\nmust = true\n\
         [[candidate]]\nname = \"juice\"\nrole = \"sour\"\nacid = 60\nnotes = [\"lime\"]\nmin = \"5 ml\"\nmax = \"30 ml\"\nprice = \"6.00 per 1 l\"\n\
         [[candidate]]\nname = \"syrup\"\nrole = \"sweetener\"\nsugar = 600\nnotes = [\"lime\", \"oak\"]\nmin = \"10 ml\"\nprice = \"3.00 per 1 l\"\n\
         [[candidate]]\nname = \"acid\"\nrole = \"seasoning\"\nform = \"powder\"\nacid = 990\npour = \"0.1 g\"\nprice = \"8.00 per 1 kg\"\n"
    );
    read(text.as_bytes(), &[]).expect("a brief").brief
}

const COST: &str = "[aim]\nlowest = \"cost\"";

/// The model of a brief with two limits that are plain sums: at most 2.00 of money, at least 8 g of ethanol.
fn model(brief: &Brief) -> Model<'_> {
    let limit = |measure, side, value| Limit { measure, side, value, source: Source::Target };
    let limits = vec![limit(Measure::Cost, Side::Max, 2.0), limit(Measure::Ethanol, Side::Min, 8.0)];
    Model { limits, ..Model::new(brief) }
}

fn plain(model: &Model, objective: &Objective, pours: Pours) -> LinearProgram {
    LinearProgram::of(model, objective, pours, &Expansion::anywhere(model, objective), &[])
}

/// Every variable: what it is, which numbers it takes, and between which.
fn variables(plain: &LinearProgram) -> Vec<(VariableOf, Kind, f64, f64)> {
    plain.variables.iter().map(|v| (v.of, v.kind, v.low, v.high)).collect()
}

/// A row as it is told: variables with their figures, the side, and the number.
type Told = (Vec<(usize, f64)>, RowSense, f64);

/// The rows of this name, their figures to nine places.
fn row(plain: &LinearProgram, of: PlainOf) -> Vec<Told> {
    let rounded = |f: f64| (f * 1e9).round() / 1e9;
    let told = |row: &ProgramRow| {
        (row.terms.iter().map(|(v, f)| (*v, rounded(*f))).collect(), row.sense, rounded(row.at))
    };
    plain.rows.iter().filter(|row| row.of == of).map(told).collect()
}

fn least(terms: &[(usize, f64)], at: f64) -> Told {
    (terms.to_vec(), RowSense::AtLeast, at)
}

fn most(terms: &[(usize, f64)], at: f64) -> Told {
    (terms.to_vec(), RowSense::AtMost, at)
}

fn equal(terms: &[(usize, f64)], at: f64) -> Told {
    (terms.to_vec(), RowSense::Equal, at)
}

/// What must be used is between 20 ml and 1.15 times the greatest volume; the others are used or not.
#[test]
fn a_program_of_steps_is_what_is_written_by_hand() {
    let brief = brief(COST);
    let model = model(&brief);
    let plain = plain(&model, &Objective::of(&model), Pours::Steps);
    let pour = |at, low, high| (VariableOf::Pour(at), Kind::Whole, low, high);
    let used = |at| (VariableOf::Used(at), Kind::Binary, 0.0, 1.0);
    assert_eq!(
        variables(&plain),
        [
            pour(0, 4.0, 46.0),
            pour(1, 0.0, 12.0),
            pour(2, 0.0, 92.0),
            pour(3, 0.0, 3910.0),
            used(1),
            used(2),
            used(3)
        ]
    );
    let row = |of| row(&plain, of);
    for (at, used, low, high) in [(1, 4, 2.0, 12.0), (2, 5, 4.0, 92.0), (3, 6, 1.0, 3910.0)] {
        assert_eq!(row(PlainOf::Least(at)), [least(&[(at, 1.0), (used, -low)], 0.0)]);
        assert_eq!(row(PlainOf::Most(at)), [most(&[(at, 1.0), (used, -high)], 0.0)]);
    }
    // 20.00 a litre are 0.10 a step of 5 ml, 6.00 and 3.00 are 0.015 and 0.0075 of 2.5 ml, 8.00 a kilogram 0.0008 of 0.1 g.
    let costs = [(0, 0.1), (1, 0.015), (2, 0.0075), (3, 0.0008)];
    assert_eq!(row(PlainOf::Limit(0, 0)), [most(&costs, 2.0)]);
    // 2 ml of ethanol a step, 0.78924 g/ml at 20 °C (OIML R 22).
    let (terms, sense, grams) = row(PlainOf::Limit(1, 0)).remove(0);
    assert!(terms.len() == 1 && terms[0].0 == 0 && (terms[0].1 - 1.57848).abs() < 1e-5, "{terms:?}");
    assert_eq!((sense, grams), (RowSense::AtLeast, 8.0));
    // Nothing asks for a volume: so any one of them is poured by its least.
    let something = row(PlainOf::Something(Something::Drink));
    assert_eq!(something, [least(&[(0, 0.25), (1, 0.5), (2, 0.25), (3, 1.0)], 1.0)]);
    // One sour at least (of the one that there is, at most one says nothing); two beside what must be used.
    assert_eq!(row(PlainOf::Count(0, Side::Min)), [least(&[(4, 1.0)], 1.0)]);
    assert_eq!(row(PlainOf::Count(0, Side::Max)), []);
    assert_eq!(row(PlainOf::Count(1, Side::Min)), []);
    assert_eq!(row(PlainOf::Count(1, Side::Max)), [most(&[(4, 1.0), (5, 1.0), (6, 1.0)], 2.0)]);
    assert_eq!(plain.rows.len(), 11);
    let objective: Vec<(usize, f64)> =
        plain.objective.iter().map(|(v, f)| (*v, (f * 1e9).round() / 1e9)).collect();
    assert_eq!(objective, costs);
    // 40 ml, 20 ml, 30 ml and 0.2 g: 0.80 + 0.12 + 0.09 + 0.0016.
    assert!((plain.value(&[8.0, 8.0, 12.0, 2.0, 1.0, 1.0, 1.0]) - 1.0116).abs() < 1e-12);
}

/// Any amounts: no steps, no counts, nothing that is used or not; what must be used still is.
#[test]
fn a_program_of_free_pours_has_amounts_alone() {
    let brief = brief(COST);
    let model = model(&brief);
    let plain = plain(&model, &Objective::of(&model), Pours::Free);
    let pour = |at, low, high| (VariableOf::Pour(at), Kind::Any, low, high);
    let amounts = [pour(0, 4.0, 46.0), pour(1, 0.0, 12.0), pour(2, 0.0, 92.0), pour(3, 0.0, 3910.0)];
    assert_eq!(variables(&plain), amounts);
    let rows: Vec<PlainOf> = plain.rows.iter().map(|row| row.of).collect();
    assert_eq!(rows, [PlainOf::Limit(0, 0), PlainOf::Limit(1, 0), PlainOf::Something(Something::Drink)]);
    // By steps, what is of any amount stays so.
    let freed = self::plain(&model.freed(), &Objective::of(&model), Pours::Steps);
    assert!(freed.variables[..4].iter().all(|v| v.kind == Kind::Any), "{:?}", freed.variables);
}

/// Whether something is used is asked only where its least is more than the first step, or where it is counted.
#[test]
fn what_is_used_is_asked_only_where_it_matters() {
    let brief = brief(COST);
    let mut model = model(&brief);
    model.groups.clear();
    let used = |model: &Model| -> Vec<VariableOf> {
        let plain = plain(model, &Objective::of(model), Pours::Steps);
        plain.variables[4..].iter().map(|v| v.of).collect()
    };
    // The least of the acid is one step, as every pour's is.
    assert_eq!(used(&model), [VariableOf::Used(1), VariableOf::Used(2)]);
    model.columns[1].least = 1.0;
    assert_eq!(used(&model), [VariableOf::Used(2)]);
    model.columns[1].whole = false;
    assert_eq!(used(&model), [VariableOf::Used(1), VariableOf::Used(2)]);
    model.columns[1].least = 0.0;
    assert_eq!(used(&model), [VariableOf::Used(2)]);
    // Counts that ask for nothing do not ask for it: none of them at least, both of them at most.
    model.groups = vec![Group { members: vec![1, 3], min: 0, max: 2 }];
    assert_eq!(used(&model), [VariableOf::Used(2)]);
    assert!(
        !plain(&model, &Objective::of(&model), Pours::Steps)
            .rows
            .iter()
            .any(|row| matches!(row.of, PlainOf::Count(..)))
    );
    for (min, max) in [(1, 2), (0, 1)] {
        model.groups[0] = Group { members: vec![1, 3], min, max };
        assert_eq!(used(&model), [VariableOf::Used(1), VariableOf::Used(2), VariableOf::Used(3)]);
    }
    // The first is asked for like any other where nothing says that it must be used.
    let mut open = model.clone();
    open.columns[0].must = false;
    assert_eq!(used(&open)[0], VariableOf::Used(0));
    // Two of all four, the spirit among them, is one of the others.
    model.groups[0] = Group { members: vec![0, 1, 2, 3], min: 2, max: 4 };
    let plain = plain(&model, &Objective::of(&model), Pours::Steps);
    assert_eq!(row(&plain, PlainOf::Count(0, Side::Min)), [least(&[(4, 1.0), (5, 1.0), (6, 1.0)], 1.0)]);
    assert_eq!(row(&plain, PlainOf::Count(0, Side::Max)), []);
}

/// What cannot be poured is none, and where it must be, a row says that this cannot be.
#[test]
fn ends_that_cross_leave_nothing_to_pour() {
    let brief = brief(COST);
    let mut model = model(&brief);
    model.columns[1].least = 13.0;
    model.columns[2].most = 0.0;
    (model.columns[0].least, model.columns[0].most) = (4.0, 3.0);
    let plain = plain(&model, &Objective::of(&model), Pours::Steps);
    let pour = |at, high| (VariableOf::Pour(at), Kind::Whole, 0.0, high);
    let used = (VariableOf::Used(3), Kind::Binary, 0.0, 1.0);
    assert_eq!(variables(&plain), [pour(0, 0.0), pour(1, 0.0), pour(2, 0.0), pour(3, 3910.0), used]);
    assert_eq!(row(&plain, PlainOf::Least(0)), [least(&[(0, 1.0)], 4.0)]);
    assert_eq!((row(&plain, PlainOf::Least(1)), row(&plain, PlainOf::Least(2))), (vec![], vec![]));
    // Less than one of what may be poured in any amount can be.
    (model.columns[2].whole, model.columns[2].least, model.columns[2].most) = (false, 0.0, 0.5);
    let little = self::plain(&model, &Objective::of(&model), Pours::Steps);
    assert_eq!(variables(&little)[2], (VariableOf::Pour(2), Kind::Any, 0.0, 0.5));
    // One least that is also the most can be poured.
    (model.columns[0].least, model.columns[0].most) = (4.0, 4.0);
    let plain = self::plain(&model, &Objective::of(&model), Pours::Steps);
    assert_eq!((plain.variables[0].low, plain.variables[0].high), (4.0, 4.0));
    assert_eq!(row(&plain, PlainOf::Least(0)), []);
}

/// Of 20 and 30 ml the unit is 10 ml: of at most 230 ml the one is poured up to eleven times, the other up to seven.
#[test]
fn jiggers_are_filled_so_many_times() {
    let mut brief = brief(COST);
    brief.candidates[0].step = Step::Jigger(Arc::new(Jigger::of(&[20.0, 30.0]).expect("jiggers")));
    let mut model = model(&brief);
    model.groups.clear();
    let plain = plain(&model, &Objective::of(&model), Pours::Steps);
    assert_eq!(variables(&plain)[0], (VariableOf::Pour(0), Kind::Whole, 2.0, 23.0));
    let filled = |nth, high| (VariableOf::Filled(0, nth), Kind::Whole, 0.0, high);
    assert_eq!(variables(&plain)[4..6], [filled(0, 11.0), filled(1, 7.0)]);
    assert_eq!(row(&plain, PlainOf::Filled(0)), [equal(&[(0, 1.0), (4, -2.0), (5, -3.0)], 0.0)]);
    // Free, or where nothing can be poured, none is filled.
    let filled = |model: &Model, pours| {
        let plain = self::plain(model, &Objective::of(model), pours);
        plain.rows.iter().any(|row| matches!(row.of, PlainOf::Filled(_)))
    };
    assert!(filled(&model, Pours::Steps) && !filled(&model, Pours::Free));
    model.columns[0].most = 1.0;
    assert!(!filled(&model, Pours::Steps));
}

/// Of 2.5 ml steps of juice to 2.5 ml steps of syrup, from a half to two: x₁ - x₂/2 ≥ 0 and x₁ - 2·x₂ ≤ 0, times 2.5.
#[test]
fn proportions_are_rows_of_amounts() {
    let proportion = format!("{COST}\n[[proportion]]\nof = \"juice\"\nto = \"syrup\"\nmin = 0.5\nmax = 2");
    let mut brief = brief(&proportion);
    // Of an ingredient to itself, at least a half: true of any amount.
    brief.proportions.push(Proportion { of: 0, to: 0, min: Some(0.5), max: None });
    let model = model(&brief);
    let plain = plain(&model, &Objective::of(&model), Pours::Steps);
    assert_eq!(row(&plain, PlainOf::Proportion(0, Side::Min)), [least(&[(1, 2.5), (2, -1.25)], 0.0)]);
    assert_eq!(row(&plain, PlainOf::Proportion(0, Side::Max)), [most(&[(1, 2.5), (2, -5.0)], 0.0)]);
    assert_eq!(row(&plain, PlainOf::Proportion(1, Side::Min)), [least(&[(0, 2.5)], 0.0)]);
    assert_eq!(row(&plain, PlainOf::Proportion(1, Side::Max)), []);
}

/// The score is at least the line of each point that is needed, and each point brings the rows that are needed.
#[test]
fn further_points_bring_the_rows_that_are_needed() {
    let brief = brief(COST);
    let mut model = model(&brief);
    model.limits.push(Limit {
        measure: Measure::Volume,
        side: Side::Min,
        value: 90.0,
        source: Source::Target,
    });
    let objective = Objective::goal(&model, Goal::Measure(Measure::Volume), Sense::Low);
    let first = Expansion::at(&model, &objective, &[8.0, 8.0, 12.0, 2.0], 0.0);
    let other = Expansion::at(&model, &objective, &[4.0, 9.0, 20.0, 0.0], 0.0);
    let of = |scores| {
        let needed = Needed { expansion: &other, limits: &[2], scores };
        LinearProgram::of(&model, &objective, Pours::Free, &first, &[needed])
    };
    let terms = |figures: &[f64], sign: f64| -> Vec<(usize, f64)> {
        figures.iter().map(|f| sign * f).enumerate().collect()
    };
    for (scores, variables) in [(false, 4), (true, 5)] {
        let plain = of(scores);
        assert_eq!(plain.variables.len(), variables);
        let limits: Vec<PlainOf> = plain.rows.iter().map(|row| row.of).collect();
        let points = [(0, 0), (1, 0), (2, 0), (2, 1)].map(|(limit, point)| PlainOf::Limit(limit, point));
        let named: Vec<PlainOf> =
            limits.iter().copied().filter(|of| matches!(of, PlainOf::Limit(..))).collect();
        assert_eq!(named, points);
        // A volume is asked for: that is something.
        assert!(!limits.iter().any(|of| matches!(of, PlainOf::Something(_))));
        let row = |at: usize| plain.rows.iter().find(|row| row.of == PlainOf::Score(at));
        if scores {
            assert_eq!(variables - 1, plain.objective[0].0);
            assert_eq!(plain.objective, [(4, 1.0)]);
            assert_eq!(
                self::variables(&plain)[4],
                (VariableOf::Score, Kind::Any, f64::NEG_INFINITY, f64::INFINITY)
            );
            for (at, point) in [(0, &first), (1, &other)] {
                let row = row(at).expect("a row");
                let mut by_hand = vec![(4, 1.0)];
                by_hand.extend(terms(&point.scores[0].figures, -1.0));
                assert_eq!((&row.terms, row.sense, row.at), (&by_hand, RowSense::AtLeast, 0.0));
            }
        } else {
            assert!(row(0).is_none() && row(1).is_none());
            assert_eq!(plain.objective, terms(&first.scores[0].figures, 1.0));
        }
    }
}

/// More than the reference and less of it, in ml: 5·x₀ - more + less = 50, and so on; 7 ml of it cannot be poured.
#[test]
fn changes_count_in_both_directions() {
    let brief = brief(COST);
    let model = model(&brief);
    let objective = Objective::Change { from: vec![10.0, 6.0, 0.0, 2.0], lost: 7.0 };
    let plain = plain(&model, &objective, Pours::Free);
    let moved = |of| (of, Kind::Any, 0.0, f64::INFINITY);
    let by_hand: Vec<_> =
        (0..4).flat_map(|at| [moved(VariableOf::More(at)), moved(VariableOf::Less(at))]).collect();
    assert_eq!(variables(&plain)[4..12], by_hand);
    for (at, unit, from) in [(0, 5.0, 50.0), (1, 2.5, 15.0), (2, 2.5, 0.0), (3, 0.1, 0.2)] {
        let terms = [(at, unit), (4 + 2 * at, -1.0), (5 + 2 * at, 1.0)];
        assert_eq!(row(&plain, PlainOf::Change(at)), [equal(&terms, from)]);
    }
    let mut score = vec![(12, 1.0)];
    score.extend((4..12).map(|variable| (variable, -1.0)));
    assert_eq!(row(&plain, PlainOf::Score(0)), [least(&score, 7.0)]);
    assert_eq!(plain.objective, [(12, 1.0)]);
    // Where nothing is lost the sum is the objective itself.
    let whole = Objective::Change { from: vec![10.0, 6.0, 0.0, 2.0], lost: 0.0 };
    let plain = self::plain(&model, &whole, Pours::Free);
    assert_eq!(plain.objective, (4..12).map(|variable| (variable, 1.0)).collect::<Vec<_>>());
}

/// Lime is covered by 2 steps of juice or 4 of syrup, oak by 4 of spirit or 4 of syrup, or by parts of both.
#[test]
fn notes_are_covered_or_not() {
    let brief = brief("[aim]\nhighest = { notes = [\"lime\", \"oak\"] }");
    let model = model(&brief);
    for (pours, kind, first) in [(Pours::Steps, Kind::Binary, 7), (Pours::Free, Kind::Any, 4)] {
        let plain = plain(&model, &Objective::of(&model), pours);
        let covered = |at| (VariableOf::Covered(at), kind, 0.0, 1.0);
        assert_eq!(variables(&plain)[first..], [covered(0), covered(1)]);
        let lime = [(1, 0.5), (2, 0.25), (first, -1.0)];
        let oak = [(0, 0.25), (2, 0.25), (first + 1, -1.0)];
        assert_eq!(row(&plain, PlainOf::Covered(0)), [least(&lime, 0.0)]);
        assert_eq!(row(&plain, PlainOf::Covered(1)), [least(&oak, 0.0)]);
        assert_eq!(plain.objective, [(first, -1.0), (first + 1, -1.0)]);
    }
}
