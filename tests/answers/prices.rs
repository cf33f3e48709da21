//! What bounds and costs are worth at the published programs' optima: rates on both sides, how far
//! they hold, and cost ranges, held to printed figures and to values that hang on no basis.

use serde_json::Value;
use washline::lp::bound::{Bound, Way};
use washline::lp::dual_face::DualFace;
use washline::lp::linear::Linear;

use crate::cases::{Case, Sense, all, list, number, pairs, word};

/// A case as the program that our own analysis takes: to be made least.
fn program(case: &Case) -> Linear {
    let sign = sign(case);
    let dense = |terms: &[(usize, f64)]| {
        let mut figures = vec![0.0; case.names.len()];
        terms.iter().for_each(|(at, figure)| figures[*at] += figure);
        figures
    };
    Linear {
        cost: case.costs.iter().map(|c| sign * c).collect(),
        bounds: case.lower.iter().copied().zip(case.upper.iter().copied()).collect(),
        rows: case.rows.iter().map(|row| (dense(&row.coefficients), row.lower, row.upper)).collect(),
    }
}

fn sign(case: &Case) -> f64 {
    match case.sense {
        Sense::Min => 1.0,
        Sense::Max => -1.0,
    }
}

/// The cases with a solution and without whole numbers.
fn linear() -> impl Iterator<Item = Case> {
    all().into_iter().filter(|case| !case.is_integer() && case.verified.is_some())
}

fn near(a: f64, b: f64, relative: f64) -> bool {
    a == b || (a - b).abs() <= relative * a.abs().max(b.abs()).max(1.0)
}

/// The edge of a `two_sided` entry.
fn edge(kind: &str, row: usize) -> Bound {
    match kind {
        "lo" => Bound::RowMin(row),
        "hi" => Bound::RowMax(row),
        _ => Bound::RowBoth(row),
    }
}

fn edge_of_variable(kind: &str, variable: usize) -> Bound {
    match kind {
        "lo" => Bound::Min(variable),
        "hi" => Bound::Max(variable),
        _ => Bound::Both(variable),
    }
}

/// One side of a bound: the rate in the case's own direction, and how far it holds.
fn reach(face: &mut DualFace, edge: Bound, way: Way, sign: f64) -> Option<(f64, f64)> {
    face.ranging(edge, way).map(|reach| (sign * reach.rate, reach.to))
}

fn expected(bound: &Value, rate: &str, to: &str) -> Option<(f64, f64)> {
    Some((bound[rate].as_f64()?, number(&bound[to])))
}

/// What one side of a bound has to show, against what it shows.
fn compare(what: &str, expected: Option<(f64, f64)>, found: Option<(f64, f64)>, faults: &mut Vec<String>) {
    let same = match (expected, found) {
        (None, None) => true,
        (Some((rate, to)), Some((own_rate, own_to))) => near(rate, own_rate, 1e-6) && near(to, own_to, 1e-6),
        _ => false,
    };
    if !same {
        faults.push(format!("{what}: {found:?}, not {expected:?}"));
    }
}

/// Every optimum through our own linear layer.
#[test]
fn our_own_layer_reaches_the_published_optima() {
    for case in all().into_iter().filter(|case| !case.is_integer()) {
        let program = program(&case);
        let found = program.minimize();
        assert_eq!(found.is_some(), case.verified.is_some(), "{}", case.name);
        let (Some(x), Some(verified)) = (found, case.verified) else { continue };
        let value: f64 = case.costs.iter().zip(&x).map(|(c, x)| c * x).sum::<f64>() + case.offset;
        assert!(near(value, verified, 1e-8), "{}: {value}, not {verified}", case.name);
    }
}

/// Rates and reaches of every bound of every row and variable: 31 programs, and what the cases give as
/// computed without a basis.
#[test]
fn two_sided_rates_and_reaches_are_those_of_the_cases() {
    let mut faults = vec![];
    let mut count = 0;
    for case in linear() {
        let program = program(&case);
        let x = program.minimize().expect("a solved case");
        let mut face = DualFace::at(&program, &x).unwrap_or_else(|| panic!("{}: no prices", case.name));
        let mut check = |entry: &Value, edge: &dyn Fn(&str) -> Bound| {
            for bound in list(&entry["bounds"]) {
                let edge = edge(&word(&bound["kind"]));
                for (way, rate, to) in
                    [(Way::Up, "inc_shadow", "inc_to"), (Way::Down, "dec_shadow", "dec_to")]
                {
                    let what = format!("{} {} {edge:?} {way:?}", case.name, word(&entry["name"]));
                    let found = reach(&mut face, edge, way, sign(&case));
                    compare(&what, expected(bound, rate, to), found, &mut faults);
                    count += 1;
                }
            }
        };
        for entry in list(&case.file["two_sided_rows"]) {
            let at = case.rows.iter().position(|r| r.name == word(&entry["name"])).expect("a row");
            check(entry, &|kind| edge(kind, at));
        }
        for entry in list(&case.file["two_sided_variables"]) {
            let at = case.names.iter().position(|n| *n == word(&entry["name"])).expect("a variable");
            check(entry, &|kind| edge_of_variable(kind, at));
        }
    }
    assert!(faults.is_empty(), "{} of {count} differ\n{}", faults.len(), faults.join("\n"));
    assert!(count > 1000, "{count}");
}

/// The costs over which the optimum stays: where it is the only one they hang on nothing else.
#[test]
fn cost_ranges_are_those_of_the_cases() {
    let mut faults = vec![];
    let mut count = 0;
    for case in linear() {
        let program = program(&case);
        let x = program.minimize().expect("a solved case");
        let face = DualFace::at(&program, &x).expect("prices");
        for entry in list(&case.file["two_sided_variables"]) {
            let Some(range) = entry.get("optimal_face_range") else { continue };
            let at = case.names.iter().position(|n| *n == word(&entry["name"])).expect("a variable");
            let unique = list(&case.file["two_sided_variables"]).iter().all(|v| {
                let range = v.get("optimal_face_range").map_or(&[][..], |r| list(r));
                range.iter().all(|end| near(number(end), number(&range[0]), 1e-7))
            });
            if !unique || range.is_null() {
                continue;
            }
            let ends: Vec<f64> = list(&entry["cost_range_x_stays_optimal"]).iter().map(number).collect();
            let (low, high) = own_range(&case, &face, at);
            count += 1;
            if !near(ends[0], low, 1e-6) || !near(ends[1], high, 1e-6) {
                faults.push(format!("{} {}: {low} to {high}, not {ends:?}", case.name, case.names[at]));
            }
        }
    }
    assert!(faults.is_empty(), "{} of {count} differ\n{}", faults.len(), faults.join("\n"));
    assert!(count > 100, "{count}");
}

/// A cost range in the case's own direction.
fn own_range(case: &Case, face: &DualFace, at: usize) -> (f64, f64) {
    let (low, high) = face.cost_range(at);
    match case.sense {
        Sense::Min => (low, high),
        Sense::Max => (-high, -low),
    }
}

/// Dual values as printed lie between the two rates (five decimals at the least are printed), and are
/// both of them where the two are one. Rows whose name the source prints otherwise are skipped.
#[test]
fn printed_dual_values_lie_between_the_two_rates() {
    let mut count = 0;
    for case in linear() {
        let program = program(&case);
        let x = program.minimize().expect("a solved case");
        let mut face = DualFace::at(&program, &x).expect("prices");
        for (name, dual) in &case.published_duals {
            let Some(row) = case.rows.iter().position(|r| r.name == *name) else { continue };
            let rates: Vec<f64> = [Bound::RowMin(row), Bound::RowMax(row), Bound::RowBoth(row)]
                .into_iter()
                .flat_map(|edge| [Way::Up, Way::Down].map(|way| face.rate(edge, way)))
                .flatten()
                .map(|rate| sign(&case) * rate)
                .collect();
            let low = rates.iter().copied().fold(f64::INFINITY, f64::min);
            let high = rates.iter().copied().fold(f64::NEG_INFINITY, f64::max);
            assert!(*dual >= low - 5e-6 && *dual <= high + 5e-6, "{} {name}: {dual}, {rates:?}", case.name);
            count += 1;
        }
    }
    assert!(count >= 20, "{count}");
}

/// Ranges as printed in textbooks and manuals, where they are those of the optimum and not of a basis:
/// right sides (activity ranges of the GLPK manual are the same where one bound binds) and costs.
#[test]
fn printed_ranges_are_met() {
    let mut count = 0;
    for case in linear() {
        let program = program(&case);
        let x = program.minimize().expect("a solved case");
        let mut face = DualFace::at(&program, &x).expect("prices");
        let tight: Vec<Bound> = face.tight().collect();
        for key in ["published_rhs_ranges", "published_rhs_ranges_correct", "published_activity_ranges"] {
            for (name, ends) in printed(&case, key) {
                let name = if name == "yield_" { "yield".to_owned() } else { name };
                let Some(edge) = own_edge(&case, &name, &tight) else { continue };
                let to = |face: &mut DualFace, way| face.ranging(edge, way).expect("room").to;
                let own = [to(&mut face, Way::Down), to(&mut face, Way::Up)];
                check_printed(&case, &name, ends, own);
                count += 1;
            }
        }
        for key in ["published_cost_ranges", "published_obj_coef_ranges"] {
            for (name, ends) in printed(&case, key) {
                let at = case.names.iter().position(|n| *n == name).expect("a variable");
                let (low, high) = own_range(&case, &face, at);
                check_printed(&case, &name, ends, [low, high]);
                count += 1;
            }
        }
    }
    assert!(count >= 20, "{count}");
}

/// The one bound that a printed range speaks of.
fn own_edge(case: &Case, name: &str, tight: &[Bound]) -> Option<Bound> {
    if let Some(row) = case.rows.iter().position(|r| r.name == name) {
        let r = &case.rows[row];
        let any = if r.lower.is_finite() { Bound::RowMin(row) } else { Bound::RowMax(row) };
        let both = r.lower == r.upper;
        return Some(match tight.iter().find(|e| **e == Bound::RowMin(row) || **e == Bound::RowMax(row)) {
            _ if both => Bound::RowBoth(row),
            Some(edge) => *edge,
            None => any,
        });
    }
    let at = case.names.iter().position(|n| n == name)?;
    tight.contains(&Bound::Min(at)).then_some(Bound::Min(at))
}

fn printed(case: &Case, key: &str) -> Vec<(String, [f64; 2])> {
    let ends = |value: &Value, none: f64| if value.is_null() { none } else { number(value) };
    let members = case.file.get(key).and_then(Value::as_object).into_iter().flatten();
    members
        .map(|(name, range)| {
            (name.clone(), [ends(&range[0], f64::NEG_INFINITY), ends(&range[1], f64::INFINITY)])
        })
        .collect()
}

/// To the seven significant digits that are printed at most.
fn check_printed(case: &Case, name: &str, printed: [f64; 2], own: [f64; 2]) {
    for (printed, own) in printed.into_iter().zip(own) {
        let same = printed == own || (printed - own).abs() <= 1e-5 * printed.abs().max(1.0);
        assert!(same, "{} {name}: {own}, printed {printed}", case.name);
    }
}

/// Two solvers, two ways to prices: those of the interior point method where the rates of both sides
/// are one. Its sign is that of the rate of a program to be made least.
#[test]
fn an_interior_point_method_agrees_where_prices_are_unique() {
    let mut count = 0;
    for case in linear() {
        let program = program(&case);
        let x = program.minimize().expect("a solved case");
        let mut face = DualFace::at(&program, &x).expect("prices");
        let Some(duals) = interior(&case) else { continue };
        for (row, bounds) in duals.iter().enumerate() {
            for (edge, dual) in bounds {
                let rates = [Way::Up, Way::Down].map(|way| face.rate(*edge, way));
                let [Some(up), Some(down)] = rates else { continue };
                if near(up, down, 1e-9) {
                    let own = dual.abs();
                    let what = format!("{} {} {edge:?}: {own}, not {up}", case.name, case.rows[row].name);
                    assert!((own - up.abs()).abs() <= 1e-4 * up.abs().max(1.0), "{what}");
                    count += 1;
                }
            }
        }
    }
    assert!(count > 300, "{count}");
}

/// Dual values by row and bound, from the interior point method.
fn interior(case: &Case) -> Option<Vec<Vec<(Bound, f64)>>> {
    use good_lp::solvers::{DualValues as _, SolutionWithDual as _};
    use good_lp::{Expression, SolverModel as _, constraint, variable, variables};
    let mut pool = variables!();
    let bounds = case.lower.iter().zip(&case.upper);
    let all: Vec<_> = bounds.map(|(low, high)| pool.add(variable().min(*low).max(*high))).collect();
    let sum = |terms: &[(usize, f64)]| terms.iter().map(|&(at, c)| c * all[at]).sum::<Expression>();
    let costs: Vec<(usize, f64)> = case.costs.iter().map(|c| sign(case) * c).enumerate().collect();
    let mut model = pool.minimise(sum(&costs)).using(good_lp::clarabel);
    let mut references = vec![];
    for (at, row) in case.rows.iter().enumerate() {
        let mut own = vec![];
        if row.lower == row.upper {
            own.push((
                Bound::RowBoth(at),
                model.add_constraint(constraint!(sum(&row.coefficients) == row.lower)),
            ));
        } else {
            if row.lower.is_finite() {
                own.push((
                    Bound::RowMin(at),
                    model.add_constraint(constraint!(sum(&row.coefficients) >= row.lower)),
                ));
            }
            if row.upper.is_finite() {
                own.push((
                    Bound::RowMax(at),
                    model.add_constraint(constraint!(sum(&row.coefficients) <= row.upper)),
                ));
            }
        }
        references.push(own);
    }
    let mut solution = model.solve().ok()?;
    let duals = solution.compute_dual();
    let read = |own: Vec<(Bound, _)>| own.into_iter().map(|(edge, at)| (edge, duals.dual(at))).collect();
    Some(references.into_iter().map(read).collect())
}

/// The names that the cases print in more than one way are the only ones that are skipped above.
#[test]
fn few_printed_names_are_skipped() {
    for case in linear() {
        let rows: Vec<String> = pairs(case.file.get("published_duals")).map(|(name, _)| name).collect();
        let skipped = rows.iter().filter(|name| !case.rows.iter().any(|row| row.name == **name)).count();
        assert!(skipped <= 1, "{}: {rows:?}", case.name);
    }
}
