//! How a spec does in service, and what certainty costs, in the words of the brief.

use super::spreads::{self, LotsLine, OffLine, RangeLine};
use crate::brief::{Brief, Side};
use crate::explain::variation::certainty::{Blame, Certainty, Narrow};
use crate::explain::variation::{Missed, Part, Service, Share};
use crate::simulate::Cause;

/// A simulated service.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct ServiceLine {
    /// How many serves were simulated.
    pub draws: usize,
    /// The share within all targets, 0 to 1.
    pub within_all: f64,
    /// Its 95 % interval.
    pub interval: [f64; 2],
    /// Every target.
    pub targets: Vec<TargetLine>,
    /// The side that is missed most often.
    pub most_missed: Option<MissedLine>,
    /// The share within all targets in serves that no spec was chosen by, and its interval.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub fresh: Option<FreshLine>,
    /// Serves from a typical lot, and how many lots are good; nothing where no lot differs.
    pub lots: Option<LotsLine>,
    /// How far off each pour is.
    pub hand: Vec<OffLine>,
    /// Figures that are drawn from a range, and what the range is between.
    pub drawn: Vec<RangeLine>,
    /// Figures that stand still although makes differ: a question for the label of the bottle.
    pub held: Vec<RangeLine>,
    /// The share within all targets, did nobody know which makes are poured.
    pub any_make: Option<f64>,
    /// Standard deviation of a pour, ml.
    pub pour_error: f64,
    /// The part of it that grows with the amount, as a share of it.
    pub pour_share: f64,
    /// How liquids are poured that do not say it themselves; nothing where the brief states a figure.
    pub poured: Option<&'static str>,
    /// Whether the brief states it.
    #[serde(skip)]
    pub stated: bool,
    /// The melt was drawn within so many ml per ml poured.
    pub melt_within: f64,
    /// Ranges it leans on that are judgement or from memory.
    pub judged: Vec<JudgedLine>,
}

/// A target in service.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct TargetLine {
    /// The target's key.
    pub target: String,
    /// The share of serves within it.
    pub within: f64,
    /// Its 95 % interval.
    pub interval: [f64; 2],
    /// Between which values nine of ten serves lie; nothing where a serve has no such figure.
    pub spread: Option<[f64; 2]>,
    /// What its variance comes from.
    pub varies_with: Vec<CauseLine>,
}

/// One cause and its share of something.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct CauseLine {
    /// What differs.
    pub cause: CauseWord,
    /// Of which ingredient; nothing of the ice.
    pub ingredient: Option<String>,
    /// The share, 0 to 1.
    pub share: f64,
}

/// What differs from serve to serve.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "lowercase")]
pub enum CauseWord {
    /// How much is poured.
    Pour,
    /// What an ingredient is made of.
    Composition,
    /// How much ice melts.
    Ice,
}

/// A side of a target that is missed, and what would mend it.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct MissedLine {
    /// The target's key.
    pub target: String,
    /// `min` or `max`.
    pub side: Side,
    /// The share of all serves that miss it.
    pub share: f64,
    /// Its share of the serves that miss anything.
    pub of_misses: f64,
    /// Whether the spec misses it with everything as it should be.
    pub at_rest: bool,
    /// The share of these misses that one cause alone, put right, would mend.
    pub mended: Vec<CauseLine>,
    /// The share that exact pours would mend.
    pub by_pours: f64,
    /// The share that typical compositions would mend.
    pub by_compositions: f64,
    /// The share that the typical melt would mend.
    pub by_ice: f64,
}

/// A share found in serves that no spec was chosen by.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct FreshLine {
    /// The share within all targets.
    pub within_all: f64,
    /// Its 95 % interval.
    pub interval: [f64; 2],
}

/// A range that is less than sourced.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct JudgedLine {
    /// The ingredient.
    pub ingredient: String,
    /// The figure whose range it is.
    pub figure: &'static str,
    /// What the range rests on.
    pub basis: &'static str,
}

/// What certainty costs, or what stands against it.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct CertaintyLine {
    /// The best score, were the typical composition enough.
    pub typical_score: Option<f64>,
    /// The share of that spec's serves within all targets.
    pub typical_within: Option<f64>,
    /// The greatest share of serves that any spec looked at stays inside with, where none reaches what is asked.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub most_within: Option<f64>,
    /// The score of that spec.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub most_within_score: Option<f64>,
    /// Between which values every target lies, whatever the composition.
    pub reach: Vec<CertainReach>,
    /// The best score, were one ingredient known exactly.
    pub known: Vec<KnownLine>,
    /// Whose spread stands in the way.
    pub blame: Vec<BlameLine>,
}

/// A target over all compositions.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct CertainReach {
    /// The target's key.
    pub target: String,
    /// Its least value.
    pub min: f64,
    /// Its greatest value.
    pub max: f64,
}

/// The best score, were an ingredient known exactly.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct KnownLine {
    /// The ingredient.
    pub ingredient: String,
    /// The score.
    pub score: f64,
}

/// Ingredients to blame.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct BlameLine {
    /// One where one alone is enough.
    pub ingredients: Vec<String>,
    /// The share of their ranges with which the brief can be met.
    pub share: f64,
    /// The ranges that would do.
    pub ranges: Vec<NarrowLine>,
}

/// A range that would do, beside the one that there is.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct NarrowLine {
    /// The ingredient.
    pub ingredient: String,
    /// `strength`, `sugar` or `acid`.
    pub figure: &'static str,
    /// % vol, g/L, or g/kg of a powder.
    pub unit: &'static str,
    /// The range that it has.
    pub now: [f64; 2],
    /// The range that would do.
    pub needed: [f64; 2],
}

fn ends(share: &Share) -> [f64; 2] {
    [share.low, share.high]
}

/// A service in words.
pub fn service(brief: &Brief, found: &Service) -> ServiceLine {
    let targets = found.targets.iter().map(|target| TargetLine {
        target: brief.measure_name(target.measure).to_owned(),
        within: target.within.found,
        interval: ends(&target.within),
        spread: target.spread.map(|(low, high)| [low, high]),
        varies_with: target.parts.iter().map(|p: &Part| cause(brief, p.cause, p.share)).collect(),
    });
    let judged = found.leans.iter().map(|lean| JudgedLine {
        ingredient: brief.candidates[lean.candidate].name.clone(),
        figure: lean.figure,
        basis: lean.basis,
    });
    ServiceLine {
        draws: found.draws,
        within_all: found.within_all.found,
        interval: ends(&found.within_all),
        targets: targets.collect(),
        most_missed: found.worst.as_ref().map(|missed| missed_line(brief, missed)),
        fresh: found.fresh.map(|share| FreshLine { within_all: share.found, interval: ends(&share) }),
        lots: found.lots.as_ref().map(|lots| spreads::lots(brief, lots)),
        hand: found.hand.iter().map(|off| spreads::off(brief, off)).collect(),
        drawn: found.drawn.iter().map(|one| spreads::ranged(brief, one)).collect(),
        held: found.held.iter().map(|one| spreads::ranged(brief, one)).collect(),
        any_make: found.any_make.map(|share| share.found),
        pour_error: found.assumed.pour_error.fixed,
        pour_share: found.assumed.pour_error.share,
        poured: found.assumed.poured.keyword(),
        stated: found.assumed.stated,
        melt_within: found.assumed.melt,
        judged: judged.collect(),
    }
}

fn missed_line(brief: &Brief, missed: &Missed) -> MissedLine {
    MissedLine {
        target: brief.measure_name(missed.measure).to_owned(),
        side: missed.side,
        share: missed.share,
        of_misses: missed.of_misses,
        at_rest: missed.at_rest,
        mended: missed.mended.iter().map(|(what, share)| cause(brief, *what, *share)).collect(),
        by_pours: missed.by_hand,
        by_compositions: missed.by_nature,
        by_ice: missed.by_ice,
    }
}

fn cause(brief: &Brief, cause: Cause, share: f64) -> CauseLine {
    let name = |at: usize| Some(brief.candidates[at].name.clone());
    let (cause, ingredient) = match cause {
        Cause::Pour(at) => (CauseWord::Pour, name(at)),
        Cause::Nature(at) => (CauseWord::Composition, name(at)),
        Cause::Ice => (CauseWord::Ice, None),
    };
    CauseLine { cause, ingredient, share }
}

/// Certainty in words.
pub fn certainty(brief: &Brief, found: &Certainty) -> CertaintyLine {
    let name = |at: usize| brief.candidates[at].name.clone();
    let blame = |blame: &Blame| BlameLine {
        ingredients: blame.candidates.iter().map(|at| name(*at)).collect(),
        share: blame.share,
        ranges: blame.ranges.iter().map(|narrow| narrow_line(brief, narrow)).collect(),
    };
    let reach = found.reach.iter().map(|reach| CertainReach {
        target: brief.measure_name(reach.measure).to_owned(),
        min: reach.min,
        max: reach.max,
    });
    CertaintyLine {
        typical_score: found.typical.as_ref().map(|spec| spec.score),
        typical_within: found.typical_within.map(|share| share.found),
        most_within: found.steadiest.as_ref().map(|(_, share)| share.found),
        most_within_score: found.steadiest.as_ref().map(|(spec, _)| spec.score),
        reach: reach.collect(),
        known: found
            .known
            .iter()
            .map(|known| KnownLine { ingredient: name(known.candidate), score: known.score })
            .collect(),
        blame: found.blame.iter().map(blame).collect(),
    }
}

fn narrow_line(brief: &Brief, narrow: &Narrow) -> NarrowLine {
    let candidate = &brief.candidates[narrow.candidate];
    let unit = spreads::unit(candidate.label.form, narrow.figure);
    NarrowLine {
        ingredient: candidate.name.clone(),
        figure: narrow.figure.words(),
        unit,
        now: [narrow.now.min, narrow.now.max],
        needed: [narrow.range.min, narrow.range.max],
    }
}
