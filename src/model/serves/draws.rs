//! What chance does: pours that are off, fruit that differs, ice that melts more or less.

use std::sync::{Arc, Mutex, OnceLock, PoisonError};

use rand::{RngExt, SeedableRng};
use rand_distr::{Distribution, StandardNormal};
use rand_pcg::Pcg64Mcg;

use super::Run;
use crate::brief::{Brief, Candidate, PourError, Poured, Range};
use crate::liquid::{Around, Form, Portion, ice};

/// Serves that share a stream of random numbers.
pub(super) const BLOCK: usize = 500;
/// How many such blocks there are.
pub(super) const BLOCKS: usize = 40;

/// What the ice's stream is called: no ingredient has an empty name.
const ICE: &str = "";
/// What the stream of the ice in the glass is called: no name starts with a space.
const GLASS_ICE: &str = " ice";

/// How far off the pours are.
#[derive(Debug, Clone, PartialEq)]
pub struct Hand {
    errors: Vec<PourError>,
}

impl Hand {
    /// The hand of a brief's bar.
    ///
    /// What states how it is poured is poured so; of the rest powders are weighed, and liquids are poured as the
    /// brief says, else by the jigger. Where the brief states an error of 0, nothing is off that does not state its own.
    pub fn of(brief: &Brief) -> Self {
        Self { errors: brief.candidates.iter().map(|candidate| Self::way(brief, candidate).1).collect() }
    }

    /// How a candidate is poured, and how far that is off.
    pub fn way(brief: &Brief, candidate: &Candidate) -> (Poured, PourError) {
        let bar = brief.variation.pour_error;
        let exact = matches!(bar, Some(Poured::Stated(error)) if error.is_exact());
        let way = match (candidate.spread.poured, candidate.label.form) {
            (Some(own), _) => own,
            (None, _) if exact => Poured::Stated(PourError::default()),
            (None, Form::Powder) => Poured::Scale,
            (None, Form::Liquid) => bar.unwrap_or(Poured::Jigger),
        };
        // A figure of an ingredient's own is that of its own pours; the bar's belongs to the bar's step.
        let own = matches!(candidate.spread.poured, Some(Poured::Stated(_)));
        let step = if own { None } else { brief.variation.bar_step };
        (way, way.error(candidate.label.form, candidate.step.unit(), step))
    }

    /// Standard deviation of a pour of so much of a candidate, ml or g.
    pub fn error(&self, candidate: usize, amount: f64) -> f64 {
        self.of_candidate(candidate).at(amount)
    }

    /// How far a candidate's pours are off.
    pub(super) fn of_candidate(&self, candidate: usize) -> PourError {
        self.errors.get(candidate).copied().unwrap_or_default()
    }
}

/// Half the width, in ml of water per ml poured, over which the melt is drawn: the uncertainty of the
/// method's rule, or what the brief says of its own figure.
pub fn melt_reach(brief: &Brief) -> f64 {
    let (working, glass) = melt_reaches(brief);
    working.max(glass)
}

/// The same of the working ice, per ml on it, and of that in the glass, per ml poured over it.
pub fn melt_reaches(brief: &Brief) -> (f64, f64) {
    let glass = if brief.serve.melting().glass.is_some() { ice::UNCERTAINTY } else { 0.0 };
    (brief.serve.spread, glass)
}

/// The random numbers of one ingredient for a block.
#[derive(Debug)]
pub(super) struct Drawn {
    /// By how many standard deviations each pour is off; empty where none is.
    pub normals: Vec<f64>,
    /// What one ml or g brings in each serve; empty where nothing varies.
    pub portions: Vec<Portion>,
}

impl Drawn {
    /// Draws a block. Where a draw is of a liquid that cannot exist, the typical one stands in.
    pub fn new(candidate: &Candidate, exact: bool, run: Run, block: usize) -> Self {
        let (label, natural) = (&candidate.label, &candidate.natural);
        let around = Around::new(*label, candidate.portion);
        let mut rng = stream(&candidate.name, run, block);
        let mut drawn = Self { normals: vec![], portions: vec![] };
        for _ in 0..BLOCK {
            if !exact {
                drawn.normals.push(StandardNormal.sample(&mut rng));
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

/// The random numbers of one ingredient, drawn block by block when it is first poured.
#[derive(Debug)]
pub(super) struct Draws {
    candidate: Candidate,
    exact: bool,
    run: Run,
    blocks: [OnceLock<Drawn>; BLOCKS],
}

impl Draws {
    /// One block of them.
    pub fn block(&self, block: usize) -> &Drawn {
        let draw = || Drawn::new(&self.candidate, self.exact, self.run, block);
        self.blocks[block].get_or_init(draw)
    }

    /// Whether they are those of a candidate: they hang on its name and on what it is made of.
    fn are_of(&self, candidate: &Candidate, exact: bool, run: Run) -> bool {
        let own = &self.candidate;
        self.exact == exact
            && self.run == run
            && own.name == candidate.name
            && own.label == candidate.label
            && own.natural == candidate.natural
            && own.portion == candidate.portion
    }
}

/// What was drawn last, of whatever brief: a search, its reasons and the next answer all pour the same.
static KNOWN: Mutex<Vec<Arc<Draws>>> = Mutex::new(vec![]);
/// Of so many ingredients what was drawn is kept.
const KEPT: usize = 64;

/// The draws of a candidate: those that are there, or new ones.
pub(super) fn known(candidate: &Candidate, exact: bool, run: Run) -> Arc<Draws> {
    // Whoever held the list and failed left it whole: entries are pushed and removed, never changed.
    let mut known = KNOWN.lock().unwrap_or_else(PoisonError::into_inner);
    let found = known.iter().position(|draws| draws.are_of(candidate, exact, run));
    let draws = if let Some(at) = found {
        known.remove(at)
    } else {
        let blocks = std::array::from_fn(|_| OnceLock::new());
        Arc::new(Draws { candidate: candidate.clone(), exact, run, blocks })
    };
    // The last one is the one that was asked for last.
    known.push(Arc::clone(&draws));
    if known.len() > KEPT {
        known.remove(0);
    }
    draws
}

/// By how many ml per ml poured the melt is off in each serve of a block; empty where it is not.
#[derive(Debug)]
pub(super) struct Ice {
    working: Vec<f64>,
    glass: Vec<f64>,
}

impl Ice {
    /// Draws a block.
    pub fn new(brief: &Brief, run: Run, block: usize) -> Self {
        let (working, glass) = melt_reaches(brief);
        let draw = |reach: f64, name: &str| {
            let mut rng = stream(name, run, block);
            let count = if reach > 0.0 { BLOCK } else { 0 };
            (0..count).map(|_| within(Some(Range { min: -reach, max: reach }), 0.0, &mut rng)).collect()
        };
        Self { working: draw(working, ICE), glass: draw(glass, GLASS_ICE) }
    }

    /// Of one serve: the working ice's, and that of the ice in the glass.
    pub fn at(&self, at: usize) -> (f64, f64) {
        let of = |all: &[f64]| all.get(at).copied().unwrap_or(0.0);
        (of(&self.working), of(&self.glass))
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
