//! A given spec, measured against the brief.

use super::spec::{self, SpecLine};
use super::{Asked, FORMAT, Frame};
use crate::brief::{Aim, Brief, Goal, HoldFor, Nearest, Pour, Served, Side, Source, Target, poured, serve};
use crate::explain::cautions::{self, hazards};
use crate::explain::mend::{self, Mended};
use crate::explain::rules;
use crate::explain::variation::{self, Service};
use crate::model::Model;
use crate::quantity::number;
use crate::solve::{Spec, Stop, in_card_order};

/// What looking for the nearest spec may cost, in figures gone over: about a tenth of a second of one core of 2026.
const MENDING: u64 = 130_000_000;

/// What a given spec measures, and what it misses.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct CheckAnswer {
    /// Version of this object.
    pub format: u32,
    /// What the drink is called.
    pub title: String,
    /// The given spec.
    pub spec: SpecLine,
    /// Whether it meets every target and every rule.
    pub meets: bool,
    /// What it does not meet.
    pub misses: Vec<Miss>,
    /// The nearest spec that holds, where the given one does not; nothing where none was found.
    pub mended: Option<MendedLine>,
    /// How it does in service.
    pub service: Service,
    /// What asks for care.
    pub cautions: Vec<String>,
    /// What was asked, where that is known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub asked: Option<Asked>,
    /// What can hurt somebody.
    #[serde(skip)]
    pub care: Vec<String>,
    /// The question.
    #[serde(skip)]
    pub frame: Frame,
}

/// The nearest spec that meets the brief.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct MendedLine {
    /// How far it is: the sum of what is poured differently, ml (and g).
    pub moved: f64,
    /// What is poured differently.
    pub change: Vec<spec::Change>,
    /// Whether it is proved that nothing nearer holds.
    pub proved: bool,
    /// The spec.
    pub spec: SpecLine,
}

/// One thing that a spec does not meet.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
#[serde(untagged)]
pub enum Miss {
    /// A side of a target.
    Target {
        /// The target's key.
        target: String,
        /// `min` or `max`.
        side: Side,
        /// The limit.
        limit: f64,
        /// The served value.
        value: f64,
        /// How far outside.
        by: f64,
        /// With which composition.
        #[serde(skip)]
        with: With,
    },
    /// Any other rule of the brief.
    Rule {
        /// What is broken, in words.
        rule: String,
    },
}

/// With which composition a target is missed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum With {
    /// The typical one.
    Typical,
    /// The worst in the natural ranges.
    Worst,
}

/// Measures pours, in any order, against a brief.
pub fn check_answer(brief: &Brief, pours: &[Pour]) -> CheckAnswer {
    let given = given(brief, pours);
    let reference = brief.reference.as_ref().map(|r| r.pours.as_slice());
    let line = spec::line_with_shares(brief, &given, reference);
    let outside = line.margins.iter().filter(|m| !m.met).map(|m| Miss::Target {
        target: m.target.clone(),
        side: m.side,
        limit: m.limit,
        value: m.value,
        by: -m.margin,
        with: With::Typical,
    });
    let broken = rules::broken(brief, &given.pours).into_iter().map(|rule| Miss::Rule { rule });
    let service = variation::service(brief, &given.pours);
    let unsure = unsure(brief, &given).into_iter().chain(too_seldom(brief, &service));
    let misses: Vec<Miss> = outside.chain(broken).chain(unsure).collect();
    let mended = if misses.is_empty() { None } else { mended(brief, &given.pours) };
    CheckAnswer {
        format: FORMAT,
        title: brief.title.clone(),
        meets: misses.is_empty(),
        misses,
        mended,
        asked: None,
        care: hazards(brief, &given),
        cautions: cautions::of_given(brief, &given),
        spec: line.in_service(Some(service.within_all)),
        service,
        frame: Frame::of(brief),
    }
}

/// Pours, in any order, as a spec.
pub fn given(brief: &Brief, pours: &[Pour]) -> Spec {
    let mut pours = pours.to_vec();
    in_card_order(brief, &mut pours);
    let served = serve(brief, &pours);
    Spec { score: score(brief, &pours, &served), pours, served }
}

/// The nearest spec that meets the brief, in its words.
fn mended(brief: &Brief, given: &[Pour]) -> Option<MendedLine> {
    let Mended { spec, proved } = mend::mended(brief, given, &Stop::after(MENDING))?;
    let moved = spec.score;
    let spec = Spec { score: score(brief, &spec.pours, &spec.served), ..spec };
    let change = spec::changes(brief, given, &spec.pours);
    Some(MendedLine { moved, change, proved, spec: spec::line(brief, &spec, None) })
}

/// Targets that hold for the typical composition and not for every one, where the brief asks for that.
fn unsure(brief: &Brief, given: &Spec) -> Vec<Miss> {
    if brief.variation.hold != HoldFor::Worst {
        return vec![];
    }
    let model = Model::new(brief);
    let limits = model.limits.iter().filter(|l| l.source == Source::Target && l.met(&given.served));
    let missed = limits.filter_map(|limit| {
        let value = model.judged_value(&given.pours, &given.served, limit);
        (!limit.met_by(value)).then(|| Miss::Target {
            target: brief.measure_name(limit.measure).to_owned(),
            side: limit.side,
            limit: limit.value,
            value,
            by: (value - limit.value).abs(),
            with: With::Worst,
        })
    });
    missed.collect()
}

/// Too few serves within all targets, where the brief asks for a share.
fn too_seldom(brief: &Brief, service: &Service) -> Option<Miss> {
    let HoldFor::Share(asked) = brief.variation.hold else { return None };
    let found = service.within_all.found;
    (found < asked - 1e-9).then(|| Miss::Rule {
        rule: format!(
            "{} of simulated serves stay inside all targets, at least {} asked for",
            number::percent(found, 1),
            number::percent(asked, 1)
        ),
    })
}

/// The aim's value of any spec.
pub fn score(brief: &Brief, pours: &[Pour], served: &Served) -> f64 {
    match brief.aim {
        Aim::Lowest(Goal::Measure(m)) | Aim::Highest(Goal::Measure(m)) => served.value(m),
        Aim::Lowest(Goal::Ingredient(at)) | Aim::Highest(Goal::Ingredient(at)) => poured(pours, at),
        Aim::Notes => brief.covered(pours) as f64,
        Aim::Nearest(Nearest::Reference) => brief
            .reference
            .as_ref()
            .map_or(f64::NAN, |r| spec::changes(brief, &r.pours, pours).iter().map(|c| c.by.abs()).sum()),
        Aim::Nearest(Nearest::Middle) => {
            let ranges = brief.targets.iter().copied().chain(brief.held());
            ranges.filter_map(|t| off_middle(&t, served.value(t.measure))).fold(f64::NAN, f64::max)
        }
    }
}

/// The distance from the middle of a two-sided range, over its half width.
fn off_middle(target: &Target, value: f64) -> Option<f64> {
    let (min, max) = (target.min?, target.max?);
    (max > min).then(|| (value - f64::midpoint(min, max)).abs() / ((max - min) / 2.0))
}
