//! What is as good as the best, and what is steadier, in the words of the brief.

use super::service::CauseWord;
use super::spec::{self, SpecLine};
use crate::brief::{Brief, Pour, Side};
use crate::explain::variation::Share;
use crate::explain::variation::steadier::{Steadier, Steadiest, Way, Wider};
use crate::simulate::Cause;
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
    pub within_all: f64,
    /// Its 95 % interval.
    pub interval: [f64; 2],
    /// The spec; its changes are told from the best.
    pub spec: SpecLine,
    /// Which sides of targets its serves miss, the most often missed first.
    pub blame: Vec<SideLine>,
    /// What would let more of its serves hold, the most first.
    pub opens: Vec<OpensLine>,
}

/// A side of a target and the share of serves that miss it.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct SideLine {
    /// The target's key.
    pub target: String,
    /// `min` or `max`.
    pub side: Side,
    /// The share of all serves.
    pub share: f64,
}

/// One change, and the share of serves within all targets then.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
#[serde(untagged)]
pub enum OpensLine {
    /// Wider limits.
    Limits {
        /// The target's key.
        target: String,
        /// Its lower limit then.
        min: Option<f64>,
        /// Its upper limit then.
        max: Option<f64>,
        /// The share then.
        within_all: f64,
    },
    /// Nothing of a cause.
    Cause {
        /// What would always be as it should.
        cause: CauseWord,
        /// Of which ingredient; nothing of the ice.
        ingredient: Option<String>,
        /// The share then.
        within_all: f64,
    },
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
    let line = |level: &crate::explain::variation::steadier::Level| {
        let found = level.found.as_ref();
        SteadierLine {
            level: 100.0 * level.level,
            within_all: found.map(|(_, share)| share.found),
            interval: found.map(|(_, share)| ends(share)),
            spec: found.map(|(spec, share)| spec::line(brief, spec, against).in_service(Some(*share))),
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
    let name = |measure| brief.measure_name(measure).to_owned();
    let blame = found.blame.iter().map(|(measure, side, share)| SideLine {
        target: name(*measure),
        side: *side,
        share: *share,
    });
    SteadiestLine {
        within_all: found.within.found,
        interval: ends(&found.within),
        spec: spec::line(brief, &found.spec, against).in_service(Some(found.within)),
        blame: blame.collect(),
        opens: found.opens.iter().map(|way| opens(brief, way)).collect(),
    }
}

fn opens(brief: &Brief, way: &Way) -> OpensLine {
    let within_all = way.within.found;
    let of = |cause, at: usize| {
        let ingredient = Some(brief.candidates[at].name.clone());
        OpensLine::Cause { cause, ingredient, within_all }
    };
    match way.change {
        Wider::Limits(measure, min, max) => {
            OpensLine::Limits { target: brief.measure_name(measure).to_owned(), min, max, within_all }
        }
        Wider::Without(Cause::Ice) => {
            OpensLine::Cause { cause: CauseWord::Ice, ingredient: None, within_all }
        }
        Wider::Without(Cause::Pour(at)) => of(CauseWord::Pour, at),
        Wider::Without(Cause::Nature(at)) => of(CauseWord::Composition, at),
    }
}

fn ends(share: &Share) -> [f64; 2] {
    [share.low, share.high]
}
