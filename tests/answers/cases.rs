//! Published linear and integer programs with known optima, from `lp/`: the figures to hold the
//! linear layer to. Each file names its source and says what was published and what only computed.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use good_lp::{Expression, Solution, Solver, Variable, constraint, variable, variables};
use serde_json::Value;

/// Whether the objective is to be low or high.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sense {
    Min,
    Max,
}

/// One row: `lower ≤ Σ coefficient · variable ≤ upper`; infinite where there is no bound.
#[derive(Debug, Clone)]
pub struct Row {
    pub name: String,
    pub lower: f64,
    pub upper: f64,
    /// `(variable, coefficient)`.
    pub coefficients: Vec<(usize, f64)>,
}

/// How the optimal value answers to one bound, by its right and left derivatives and the values of the
/// bound up to which they hold; `None` where there is no room that way.
#[derive(Debug, Clone)]
pub struct TwoSided {
    pub row: usize,
    /// `lo`, `hi` or `eq`.
    pub kind: String,
    pub value: f64,
    pub up: Option<(f64, f64)>,
    pub down: Option<(f64, f64)>,
}

/// A published program.
#[derive(Debug, Clone)]
pub struct Case {
    pub name: String,
    pub source: String,
    pub sense: Sense,
    pub offset: f64,
    pub names: Vec<String>,
    pub costs: Vec<f64>,
    pub lower: Vec<f64>,
    pub upper: Vec<f64>,
    pub integer: Vec<bool>,
    pub rows: Vec<Row>,
    /// As printed in the source; `None` where it says that there is no solution.
    pub published: Option<f64>,
    /// As computed by another solver; `None` where there is no solution.
    pub verified: Option<f64>,
    /// Dual values as printed, by row.
    pub published_duals: BTreeMap<String, f64>,
    /// Computed, and independent of any basis.
    pub two_sided: Vec<TwoSided>,
    /// The whole file.
    pub file: Value,
}

impl Case {
    pub fn is_integer(&self) -> bool {
        self.integer.contains(&true)
    }
}

/// Every case, by name.
pub fn all() -> Vec<Case> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/answers/lp");
    let entries = fs::read_dir(folder).expect("the folder of cases");
    let mut all: Vec<Case> = entries.map(|entry| load(&entry.expect("an entry").path())).collect();
    all.sort_by(|a, b| a.name.cmp(&b.name));
    all
}

fn load(path: &Path) -> Case {
    let text = fs::read_to_string(path).expect("a case");
    let file: Value = serde_json::from_str(&text).expect("a case in JSON");
    let variables = list(&file["variables"]);
    let names: Vec<String> = variables.iter().map(|v| word(&v["name"])).collect();
    let rows: Vec<Row> = list(&file["rows"]).iter().map(|row| load_row(row, &names)).collect();
    let two_sided = file.get("two_sided_rows").map_or(&[][..], |rows| list(rows));
    Case {
        name: word(&file["name"]),
        source: word(&file["source"]),
        sense: if file["sense"] == "max" { Sense::Max } else { Sense::Min },
        offset: file.get("objective_offset").map_or(0.0, number),
        costs: variables.iter().map(|v| number(&v["cost"])).collect(),
        lower: variables.iter().map(|v| bound(v.get("lower"), 0.0, f64::NEG_INFINITY)).collect(),
        upper: variables.iter().map(|v| bound(v.get("upper"), f64::INFINITY, f64::INFINITY)).collect(),
        integer: variables.iter().map(|v| v.get("integer").is_some()).collect(),
        published: published(&file),
        verified: file["verified_objective"].as_f64(),
        published_duals: pairs(file.get("published_duals")).collect(),
        two_sided: two_sided.iter().flat_map(|row| load_two_sided(row, &rows)).collect(),
        names,
        rows,
        file,
    }
}

/// As printed; a daily figure that is printed for a year of 365 days has no more digits than that one.
fn published(file: &Value) -> Option<f64> {
    let per_year = file.get("published_objective_annual_365").map(number);
    let digits = |per_day: f64| (per_day * 1e6).round() / 1e6;
    per_year.map(|dollars| digits(dollars / 365.0)).or(file["published_objective"].as_f64())
}

fn load_row(row: &Value, names: &[String]) -> Row {
    let place = |name: &str| names.iter().position(|n| n == name).expect("a variable of the case");
    Row {
        name: word(&row["name"]),
        lower: bound(row.get("lower"), f64::NEG_INFINITY, f64::NEG_INFINITY),
        upper: bound(row.get("upper"), f64::INFINITY, f64::INFINITY),
        coefficients: pairs(row.get("coefficients")).map(|(name, c)| (place(&name), c)).collect(),
    }
}

fn load_two_sided(row: &Value, rows: &[Row]) -> Vec<TwoSided> {
    let at = rows.iter().position(|r| r.name == word(&row["name"])).expect("a row of the case");
    let side = |bound: &Value, rate: &str, to: &str| Some((bound[rate].as_f64()?, number(&bound[to])));
    list(&row["bounds"])
        .iter()
        .map(|bound| TwoSided {
            row: at,
            kind: word(&bound["kind"]),
            value: number(&bound["value"]),
            up: side(bound, "inc_shadow", "inc_to"),
            down: side(bound, "dec_shadow", "dec_to"),
        })
        .collect()
}

pub fn list(value: &Value) -> &[Value] {
    value.as_array().expect("a list")
}

pub fn word(value: &Value) -> String {
    value.as_str().expect("a word").to_owned()
}

pub fn pairs(value: Option<&Value>) -> impl Iterator<Item = (String, f64)> {
    let members = value.and_then(Value::as_object);
    members.into_iter().flatten().map(|(name, value)| (name.clone(), number(value)))
}

/// A number, or `"inf"` and `"-inf"`.
pub fn number(value: &Value) -> f64 {
    match value.as_str() {
        Some("inf") => f64::INFINITY,
        Some("-inf") => f64::NEG_INFINITY,
        _ => value.as_f64().expect("a number"),
    }
}

fn bound(value: Option<&Value>, absent: f64, null: f64) -> f64 {
    match value {
        None => absent,
        Some(Value::Null) => null,
        Some(value) => number(value),
    }
}

/// A published figure and a computed one, to the last digit that was printed.
fn as_printed(published: f64, value: f64) -> bool {
    let text = format!("{published}");
    let decimals =
        text.split_once('.').map_or(0, |(_, decimals)| i32::try_from(decimals.len()).unwrap_or(i32::MAX));
    let digit = 10f64.powi(-decimals);
    (published - value).abs() <= digit.max(1e-9 * published.abs())
}

#[test]
fn the_cases_are_whole() {
    let all = all();
    assert_eq!(all.len(), 31);
    for case in &all {
        assert!(!case.source.is_empty(), "{}", case.name);
        assert_eq!(case.names.len(), case.costs.len(), "{}", case.name);
        let names: std::collections::BTreeSet<_> = case.names.iter().collect();
        assert_eq!(names.len(), case.names.len(), "{}: names are unique", case.name);
        for bound in &case.two_sided {
            let row = &case.rows[bound.row];
            let own = if bound.kind == "hi" { row.upper } else { row.lower };
            assert_eq!(own, bound.value, "{}: {}", case.name, row.name);
        }
        match (case.published, case.verified) {
            (Some(published), Some(verified)) => {
                assert!(as_printed(published, verified), "{}: {published} and {verified}", case.name);
            }
            (None, None) => assert_eq!(case.name, "ampl_diet2_infeasible"),
            (None, Some(_)) => assert_eq!(case.name, "bim_budget_gamma1", "only computed"),
            (Some(_), None) => panic!("{}: published, but not verified", case.name),
        }
    }
}

/// Two independent pure-Rust solvers reach what was published: the cases say what their sources say,
/// and the backend that free pours rest on can be trusted with them.
#[test]
fn two_backends_reach_the_published_optima() {
    for case in all() {
        let simplex = optimum(&case, good_lp::microlp);
        check(&case, "simplex", simplex, 1e-9);
        if !case.is_integer() {
            check(&case, "interior point", optimum(&case, good_lp::clarabel), 1e-6);
        }
    }
}

/// The rates that issue from no basis, confirmed by solving again with the bound moved half of the way
/// on which they are said to hold; and a printed dual value (five decimals at the least) lies between the
/// two.
#[test]
fn two_sided_rates_are_confirmed_by_solving_again() {
    for case in all() {
        for bound in &case.two_sided {
            let row = &case.rows[bound.row];
            for (rate, to) in [bound.up, bound.down].into_iter().flatten() {
                let way = to - bound.value;
                let way = if way.is_finite() { way / 2.0 } else { way.signum() * bound.value.abs().max(1.0) };
                let moved = optimum(&moved(&case, bound, bound.value + way), good_lp::microlp);
                let moved = moved.expect("a bound that has room to move");
                let (old, expected) = (case.verified.expect("a solved case"), rate * way);
                let near = (moved - old - expected).abs() <= 1e-6 * old.abs().max(expected.abs()).max(1.0);
                assert!(
                    near,
                    "{} {} {}: {moved} from {old} by {way}, at {rate}",
                    case.name, row.name, bound.kind
                );
            }
            if let (Some(dual), Some(up), Some(down)) =
                (case.published_duals.get(&row.name), bound.up, bound.down)
                && binding(&case, bound)
            {
                let between = dual - up.0.min(down.0) >= -5e-6 && up.0.max(down.0) - dual >= -5e-6;
                assert!(between, "{} {}: {dual} beside {} and {}", case.name, row.name, up.0, down.0);
            }
        }
    }
}

/// Whether either rate of the bound says that it matters: a range row has one that does not.
fn binding(case: &Case, bound: &TwoSided) -> bool {
    let others = case.two_sided.iter().filter(|b| b.row == bound.row).count();
    others == 1 || [bound.up, bound.down].into_iter().flatten().any(|(rate, _)| rate != 0.0)
}

/// The case with one bound at another value.
pub fn moved(case: &Case, bound: &TwoSided, value: f64) -> Case {
    let mut case = case.clone();
    let row = &mut case.rows[bound.row];
    if bound.kind != "hi" {
        row.lower = value;
    }
    if bound.kind != "lo" {
        row.upper = value;
    }
    case
}

#[track_caller]
fn check(case: &Case, by: &str, value: Option<f64>, relative: f64) {
    let name = &case.name;
    match (case.verified, value) {
        (Some(verified), Some(value)) => {
            let near = (verified - value).abs() <= relative * verified.abs().max(1.0);
            assert!(near, "{name} by {by}: {value}, not {verified}");
        }
        (None, None) => {}
        (expected, found) => panic!("{name} by {by}: {found:?}, not {expected:?}"),
    }
}

pub fn optimum<S: Solver>(case: &Case, solver: S) -> Option<f64> {
    use good_lp::SolverModel as _;
    let mut pool = variables!();
    let all: Vec<Variable> = (0..case.names.len())
        .map(|at| {
            let each = variable().min(case.lower[at]).max(case.upper[at]);
            pool.add(if case.integer[at] { each.integer() } else { each })
        })
        .collect();
    let sum = |terms: &[(usize, f64)]| terms.iter().map(|&(at, c)| c * all[at]).sum::<Expression>();
    let costs: Vec<(usize, f64)> = case.costs.iter().copied().enumerate().collect();
    let objective = sum(&costs);
    let mut model = match case.sense {
        Sense::Min => pool.minimise(objective.clone()),
        Sense::Max => pool.maximise(objective.clone()),
    }
    .using(solver);
    for row in &case.rows {
        if row.lower == row.upper {
            model.add_constraint(constraint!(sum(&row.coefficients) == row.lower));
            continue;
        }
        if row.lower.is_finite() {
            model.add_constraint(constraint!(sum(&row.coefficients) >= row.lower));
        }
        if row.upper.is_finite() {
            model.add_constraint(constraint!(sum(&row.coefficients) <= row.upper));
        }
    }
    model.solve().ok().map(|solution| case.offset + solution.eval(&objective))
}
