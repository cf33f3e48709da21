//! What is as good as the best, and what is steadier, in the words of the brief.

use super::spec::{self, SpecLine};
use crate::brief::{Brief, Pour};
use crate::explain::variation::Share;
use crate::explain::variation::steadier::{Blamed, Opens, Steadier, Steadiest};
use crate::simulate::SERVES;
use crate::solve::levels::Level;
use crate::solve::{Looked, Solved};

/// What was made of differences that do not matter.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct AsGoodLine {
    /// Differences of at most this do not matter, in the aim's unit.
    pub to: f64,
    /// So many specs as good as the best were served to find the steadiest.
    pub served: usize,
    /// Whether these are all that are as good.
    pub all: bool,
    /// The best score of any spec that was found.
    pub score: f64,
    /// Whether it is proved that no spec at all has a better one.
    pub exact: bool,
}

/// The best spec that holds in at least so many serves.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct SteadierLine {
    /// So many of 100 serves.
    pub level: f64,
    /// The share of its serves within all targets; nothing where no such spec was found.
    pub within_all: Option<f64>,
    /// Its 95 % interval.
    pub interval: Option<[f64; 2]>,
    /// The spec; its changes are told from the best.
    pub spec: Option<SpecLine>,
    /// Its score less that of the best.
    pub gap: Option<f64>,
    /// Whether it is proved that no better spec holds so often, or none at all.
    pub proved: bool,
}

/// The spec that holds in the most serves of all that were looked at.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct SteadiestLine {
    /// The share of its serves within all targets.
    #[serde(flatten)]
    pub within_all: Share,
    /// The spec; its changes are told from the best.
    pub spec: SpecLine,
    /// Which sides of targets its serves miss, the most often missed first.
    pub blame: Vec<Blamed>,
    /// What would let more of its serves hold, the most first.
    pub opens: Vec<Opens>,
}

/// What was as good; nothing where every difference matters.
pub fn as_good(solved: &Solved) -> Option<AsGoodLine> {
    let best = solved.specs.first().filter(|_| solved.as_good.to > 0.0)?;
    let (served, all) = match solved.as_good.looked {
        Looked::All(served) => (served, true),
        Looked::Some(served) => (served, false),
    };
    let score = solved.as_good.optimum.as_ref().unwrap_or(best).score;
    Some(AsGoodLine { to: solved.as_good.to, served, all, score, exact: solved.as_good.exact })
}

/// Every level that the best does not meet.
pub fn steadier(brief: &Brief, solved: &Solved, found: &Steadier) -> Vec<SteadierLine> {
    let best = solved.specs.first();
    let against = best.map(|best| best.pours.as_slice());
    let line = |level: &Level| {
        let found = level.found.as_ref().map(|steady| (&steady.spec, Share::of(steady.within, SERVES)));
        SteadierLine {
            level: 100.0 * level.level,
            within_all: found.map(|(_, share)| share.found),
            interval: found.map(|(_, share)| share.interval()),
            spec: found.map(|(spec, share)| spec::line(brief, spec, against).in_service(Some(share))),
            gap: found.zip(best).map(|((spec, _), best)| spec.score - best.score),
            proved: level.proved,
        }
    };
    found.levels.iter().map(line).collect()
}

/// Every spec of some levels once, with the levels that it is the best of, the first of them before the others.
pub fn specs(lines: &[SteadierLine]) -> Vec<(Vec<f64>, &SpecLine)> {
    let mut specs: Vec<(Vec<f64>, &SpecLine)> = vec![];
    for (level, spec) in lines.iter().filter_map(|line| Some((line.level, line.spec.as_ref()?))) {
        match specs.iter_mut().find(|(_, other)| other.pours == spec.pours) {
            Some((levels, _)) => levels.push(level),
            None => specs.push((vec![level], spec)),
        }
    }
    specs
}

/// The steadiest.
pub fn steadiest(brief: &Brief, found: &Steadiest, against: Option<&[Pour]>) -> SteadiestLine {
    SteadiestLine {
        within_all: found.within,
        spec: spec::line(brief, &found.spec, against).in_service(Some(found.within)),
        blame: found.blame.clone(),
        opens: found.opens.clone(),
    }
}
