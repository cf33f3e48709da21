//! What chance does: pours that are off, fruit that differs, ice that melts more or less.

use rand::{RngExt, SeedableRng};
use rand_distr::{Distribution, StandardNormal};
use rand_pcg::Pcg64Mcg;

use super::Run;
use crate::brief::{Brief, Candidate, Range, Step};
use crate::liquid::{Around, Form, Method, Portion, melt};

/// Serves that share a stream of random numbers.
pub(super) const BLOCK: usize = 500;
/// How many such blocks there are.
pub(super) const BLOCKS: usize = 40;

/// Standard deviation of one pour in the bar's step where the brief states none, ml.
/// Common practice, no source.
pub const COMMON_ERROR: f64 = 1.0;
/// Standard deviation of a weighed amount, in steps of the scale. Common practice, no source.
const SCALE_ERROR: f64 = 0.5;
/// Standard deviation of a weighed amount where any amount may be weighed, g. Common practice, no source.
const FREE_SCALE_ERROR: f64 = 0.05;
/// What the ice's stream is called: no ingredient has an empty name.
const ICE: &str = "";

/// How far off the pours are.
#[derive(Debug, Clone, PartialEq)]
pub struct Hand {
    /// Standard deviation of a pour in the bar's own step, ml.
    pub error: f64,
    errors: Vec<f64>,
}

impl Hand {
    /// The hand of a brief's bar.
    ///
    /// The brief's pour error is that of a pour in the bar's step. What has a finer step of its own is
    /// measured with a finer tool, and its error shrinks as the step does; what is weighed is off by
    /// half a step of the scale. Nothing is off where the brief states an error of 0.
    pub fn of(brief: &Brief) -> Self {
        let error = brief.variation.pour_error.unwrap_or(COMMON_ERROR);
        let of = |candidate: &Candidate| match (candidate.label.form, candidate.step) {
            _ if error <= 0.0 => 0.0,
            (Form::Powder, Step::Every(step)) => SCALE_ERROR * step,
            (Form::Powder, Step::Free) => FREE_SCALE_ERROR,
            (Form::Liquid, Step::Every(step)) => {
                error * brief.variation.bar_step.map_or(1.0, |bar| (step / bar).min(1.0))
            }
            (Form::Liquid, Step::Free) => error,
        };
        Self { error, errors: brief.candidates.iter().map(of).collect() }
    }

    /// Standard deviation of a pour of a candidate, ml or g.
    pub fn error(&self, candidate: usize) -> f64 {
        self.errors.get(candidate).copied().unwrap_or(0.0)
    }
}

/// Half the width, in ml of water per ml poured, over which the melt is drawn: the uncertainty of the
/// method's rule. A melt that the brief gives is the bar's own figure and stays.
pub fn melt_reach(brief: &Brief) -> f64 {
    let ruled = brief.serve.melt.is_none();
    let iced = matches!(brief.serve.method, Method::Shake | Method::Stir | Method::Build);
    if ruled && iced { melt::UNCERTAINTY } else { 0.0 }
}

/// The random numbers of one ingredient for a block.
#[derive(Debug)]
pub(super) struct Drawn {
    /// By how much each pour is off, ml or g; empty where none is.
    pub errors: Vec<f64>,
    /// What one ml or g brings in each serve; empty where nothing varies.
    pub portions: Vec<Portion>,
}

impl Drawn {
    /// Draws a block. Where a draw is of a liquid that cannot exist, the typical one stands in.
    pub fn new(candidate: &Candidate, error: f64, run: Run, block: usize) -> Self {
        let (label, natural) = (&candidate.label, &candidate.natural);
        let around = Around::new(*label, candidate.portion);
        let mut rng = stream(&candidate.name, run, block);
        let mut drawn = Self { errors: vec![], portions: vec![] };
        for _ in 0..BLOCK {
            if error > 0.0 {
                let normal: f64 = StandardNormal.sample(&mut rng);
                drawn.errors.push(error * normal);
            }
            if !natural.is_fixed() {
                let strength = within(natural.strength, label.strength, &mut rng);
                let sugar = within(natural.sugar, label.sugar, &mut rng);
                let acid = within(natural.acid, label.acid, &mut rng);
                drawn.portions.push(around.at(strength, sugar, acid).unwrap_or(candidate.portion));
            }
        }
        drawn
    }
}

/// By how many ml per ml poured the melt is off in each serve of a block; empty where it is not.
#[derive(Debug)]
pub(super) struct Ice(pub Vec<f64>);

impl Ice {
    /// Draws a block.
    pub fn new(brief: &Brief, run: Run, block: usize) -> Self {
        let reach = melt_reach(brief);
        let mut rng = stream(ICE, run, block);
        let count = if reach > 0.0 { BLOCK } else { 0 };
        Self((0..count).map(|_| within(Some(Range { min: -reach, max: reach }), 0.0, &mut rng)).collect())
    }
}

fn within(range: Option<Range>, typical: f64, rng: &mut Pcg64Mcg) -> f64 {
    match range {
        Some(range) if range.max > range.min => range.min + (range.max - range.min) * rng.random::<f64>(),
        Some(range) => range.min,
        None => typical,
    }
}

/// The random numbers of a name, a run and a block: FNV-1a over all three makes the seed.
fn stream(name: &str, run: Run, block: usize) -> Pcg64Mcg {
    let run = match run {
        Run::First => 1,
        Run::Fresh => 2,
    };
    let bytes = name.bytes().chain([0xff, run]).chain((block as u64).to_le_bytes());
    let seed = bytes.fold(0xcbf2_9ce4_8422_2325_u64, |hash, byte| {
        (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3)
    });
    Pcg64Mcg::seed_from_u64(seed)
}
