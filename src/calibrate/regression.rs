//! Weighted linear least squares, with prior knowledge of the coefficients where there is any.
//!
//! Solved by Householder QR of the weighted rows (never by the normal equations, which square the condition
//! number). A prior of mean m and standard deviation s stands as one further row, weighted by 1/s: for normal
//! errors that is Bayes' rule.

use nalgebra::{DMatrix, DVector};
use statrs::distribution::{ContinuousCDF, StudentsT};

/// What is known of a coefficient before anything is measured: normal.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Prior {
    /// Its mean.
    pub mean: f64,
    /// Its standard deviation, over 0.
    pub deviation: f64,
}

/// Where the size of the errors comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Errors {
    /// The deviations given with the values are those of the errors.
    Known,
    /// They are so only up to one factor, which the residuals tell. Then there are no priors.
    FromResiduals,
}

/// What was observed: `value = Σ coefficient · row + error`.
#[derive(Debug, Clone, PartialEq)]
pub struct Observation {
    /// What each coefficient is multiplied by.
    pub row: Vec<f64>,
    /// What was measured.
    pub value: f64,
    /// Standard deviation of its error, over 0.
    pub deviation: f64,
}

/// A fit.
#[derive(Debug, Clone, PartialEq)]
pub struct Fit {
    /// The coefficients.
    pub coefficients: Vec<f64>,
    /// Their standard errors.
    pub errors: Vec<f64>,
    /// Standard deviation of a residual whose own deviation is given as 1.
    pub residual: f64,
    /// Observations less coefficients (priors count as observations).
    pub freedom: f64,
    /// By how much each observation pulls the fit towards itself, 0 to 1.
    pub leverages: Vec<f64>,
    /// Each residual over the deviation that the other observations let it have; NaN where they tell none.
    pub studentized: Vec<f64>,
}

/// Fits the observations; nothing where they do not determine the coefficients.
pub fn fit(observations: &[Observation], priors: &[Option<Prior>], errors: Errors) -> Option<Fit> {
    let width = priors.len();
    let (matrix, values) = weighted(observations, priors);
    if matrix.nrows() < width || width == 0 {
        return None;
    }
    // Columns of unit length: what counts as dependent must not hang on units.
    let lengths: Vec<f64> = matrix.column_iter().map(|column| column.norm()).collect();
    if lengths.iter().any(|length| *length <= 0.0 || !length.is_finite()) {
        return None;
    }
    let scaled = DMatrix::from_fn(matrix.nrows(), width, |r, c| matrix[(r, c)] / lengths[c]);
    let qr = scaled.clone().qr();
    let (q, r) = (qr.q(), qr.r());
    if (0..width).any(|at| r[(at, at)].abs() < 1e-11) {
        return None;
    }
    let solution = r.solve_upper_triangular(&(q.transpose() * &values))?;
    let inverse = r.solve_upper_triangular(&DMatrix::identity(width, width))?;
    let residuals = &values - &scaled * &solution;
    let freedom = matrix.nrows() as f64 - width as f64;
    let squares = residuals.norm_squared();
    let residual = if freedom > 0.0 { (squares / freedom).sqrt() } else { f64::NAN };
    let factor = if errors == Errors::Known { 1.0 } else { residual };
    let count = observations.len();
    let leverages: Vec<f64> = (0..count).map(|at| q.row(at).norm_squared()).collect();
    let studentized =
        (0..count).map(|at| studentized(residuals[at], leverages[at], squares, freedom)).collect();
    Some(Fit {
        coefficients: (0..width).map(|at| solution[at] / lengths[at]).collect(),
        errors: (0..width).map(|at| factor * inverse.row(at).norm() / lengths[at]).collect(),
        residual,
        freedom,
        leverages,
        studentized,
    })
}

/// Rows and values over their deviations, priors last.
fn weighted(observations: &[Observation], priors: &[Option<Prior>]) -> (DMatrix<f64>, DVector<f64>) {
    let width = priors.len();
    let mut rows: Vec<(Vec<f64>, f64)> = observations
        .iter()
        .map(|seen| (seen.row.iter().map(|x| x / seen.deviation).collect(), seen.value / seen.deviation))
        .collect();
    for (at, prior) in priors.iter().enumerate() {
        let Some(prior) = prior else { continue };
        let mut row = vec![0.0; width];
        row[at] = 1.0 / prior.deviation;
        rows.push((row, prior.mean / prior.deviation));
    }
    let matrix = DMatrix::from_fn(rows.len(), width, |r, c| rows[r].0[c]);
    (matrix, DVector::from_iterator(rows.len(), rows.iter().map(|(_, value)| *value)))
}

/// A residual over its deviation as told by all other observations.
fn studentized(residual: f64, leverage: f64, squares: f64, freedom: f64) -> f64 {
    let own = residual * residual / (1.0 - leverage);
    let others = (squares - own) / (freedom - 1.0);
    if freedom > 1.0 && leverage < 1.0 && others > 0.0 {
        residual / (others * (1.0 - leverage)).sqrt()
    } else {
        f64::NAN
    }
}

impl Fit {
    /// The observations that are too far off to be of the same kind: their residual would be as large by chance
    /// in under 5 of 100 sets of so many observations (Student, Bonferroni's share for each).
    pub fn outliers(&self) -> Vec<usize> {
        let Ok(student) = StudentsT::new(0.0, 1.0, self.freedom - 1.0) else { return vec![] };
        let share = 0.05 / self.studentized.len().max(1) as f64;
        // Nothing is known of a residual without freedom, and one of nothing is as near as can be.
        let far = |t: f64| t.is_finite() && t.abs() > 1.0 && 2.0 * student.cdf(-t.abs()) < share;
        (0..self.studentized.len()).filter(|at| far(self.studentized[*at])).collect()
    }
}

/// How many standard errors a 95 % interval goes to either side at so many degrees of freedom; 1.96 where the
/// errors are known (no freedom is asked for).
pub fn interval_factor(freedom: Option<f64>) -> f64 {
    let student = freedom.and_then(|freedom| StudentsT::new(0.0, 1.0, freedom).ok());
    student.map_or(1.959_963_984_540_054, |student| student.inverse_cdf(0.975))
}
