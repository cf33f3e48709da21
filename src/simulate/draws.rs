//! What chance does: pours that are off, fruit that differs, ice that melts more or less.

use std::sync::{Arc, Mutex, OnceLock, PoisonError};

use rand::{RngExt, SeedableRng};
use rand_distr::{Distribution, StandardNormal};
use rand_pcg::Pcg64Mcg;

use super::Run;
use crate::brief::{Brief, Candidate, PourError, Poured, Range};
use crate::liquid::ice::{self, Balance};
use crate::liquid::{Around, Form, Masses, Portion, Stage};

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

/// What one ml or g brings to each sum that a drink is measured by, in the order of [`brings`].
pub(super) type Brings = [f64; SUMS];
/// How many these are.
pub(super) const SUMS: usize = 12;
/// Where its heat stands in them.
pub(super) const HEAT: usize = 10;

/// Of a portion: ethanol, water, sweet solids and acid (g), what is beyond their volume (ml), what meets the working ice
/// (ml) and the ethanol in it (ml), sugars (g), sweetness (g as sucrose), energy (kcal), heat (J), what is poured (ml).
pub(super) fn brings(portion: &Portion) -> Brings {
    let m = &portion.masses;
    let alcohol = portion.worked * portion.strength;
    [
        m.ethanol,
        m.water,
        m.solids,
        m.acid,
        portion.excess,
        portion.worked,
        alcohol,
        portion.sugars,
        portion.sweet,
        portion.energy,
        portion.heat,
        portion.poured,
    ]
}

/// The heat (J) of what one unit brings, into a glass whose ice melts by a balance.
pub(super) fn heat(brings: &Brings, stage: Stage, balance: &Balance) -> f64 {
    let [ethanol, water, solids, acid, ..] = *brings;
    balance.carried(stage, &Masses { ethanol, water, solids, acid }, brings[HEAT])
}

/// The random numbers of one ingredient for a block.
#[derive(Debug)]
pub(super) struct Drawn {
    /// By how many standard deviations each pour is off; empty where none is.
    pub normals: Vec<f64>,
    /// What one ml or g brings in the first serve; nothing where nothing varies.
    first: Option<Brings>,
    /// In each serve, figure by figure; empty where it is what it is in the first.
    columns: [Vec<f64>; SUMS],
}

impl Drawn {
    /// Draws a block. Where a draw is of a liquid that cannot exist, the typical one stands in.
    pub fn new(candidate: &Candidate, exact: bool, run: Run, block: usize) -> Self {
        let (label, natural) = (&candidate.label, &candidate.natural);
        let around = Around::new(*label, candidate.portion);
        let mut rng = stream(&candidate.name, run, block);
        let (mut normals, mut all) = (vec![], vec![]);
        for _ in 0..BLOCK {
            if !exact {
                normals.push(StandardNormal.sample(&mut rng));
            }
            if !natural.is_fixed() {
                let strength = within(natural.strength, label.strength, &mut rng);
                let sugar = within(natural.sugar, label.sugar, &mut rng);
                let acid = within(natural.acid, label.acid, &mut rng);
                all.push(brings(&around.at(strength, sugar, acid).unwrap_or(candidate.portion)));
            }
        }
        let first = all.first().copied();
        let columns = std::array::from_fn(|figure| {
            let alike = all.windows(2).all(|two| two[0][figure].to_bits() == two[1][figure].to_bits());
            if alike { vec![] } else { all.iter().map(|one| one[figure]).collect() }
        });
        Self { normals, first, columns }
    }

    /// Whether what one unit brings differs between serves.
    pub fn differs(&self) -> bool {
        self.columns.iter().any(|column| !column.is_empty())
    }

    /// What one unit brings in a serve of the block; nothing where nothing varies.
    pub fn at(&self, place: usize) -> Option<Brings> {
        let mut brings = self.first?;
        for (figure, column) in brings.iter_mut().zip(&self.columns) {
            *figure = column.get(place).copied().unwrap_or(*figure);
        }
        Some(brings)
    }

    /// A figure in every serve of the block; nothing where it is the same in all.
    pub fn column(&self, figure: usize) -> Option<&[f64]> {
        Some(self.columns[figure].as_slice()).filter(|column| !column.is_empty())
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
