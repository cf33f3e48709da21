//! The nearest spec that holds: of all that can be poured and meet the brief, the one that moves the fewest ml from a
//! given one.

use crate::brief::{Aim, Answer, Brief, Nearest, Pour, Reference, Resolution, Target, serve};
use crate::solve::{Ending, Spec, Stop, solve};

/// A spec brought inside the brief.
#[derive(Debug, Clone, PartialEq)]
pub struct Mended {
    /// What to pour instead; its score is how far it is, ml and g together.
    pub spec: Spec,
    /// Whether it is proved that nothing nearer holds.
    pub proved: bool,
}

/// The nearest spec that meets every target and every rule; nothing where none does, or none was found.
pub fn mended(brief: &Brief, pours: &[Pour], stop: &Stop) -> Option<Mended> {
    let mut near = brief.clone();
    // What is held, is held at the reference of the brief, not at the given spec.
    near.targets = brief.limits().into_iter().map(known).collect();
    near.hold.clear();
    near.reference = Some(Reference { pours: pours.to_vec() });
    near.aim = Aim::Nearest(Nearest::Reference);
    near.resolution = Resolution::FINE;
    near.answer = Answer { alternatives: 0, within: None, steady: vec![] };
    let solved = solve(&near, stop);
    let spec = solved.specs.first()?.clone();
    let served = serve(brief, &spec.pours);
    let proved = matches!(solved.ending, Ending::Found);
    Some(Mended { spec: Spec { served, ..spec }, proved })
}

/// A limit without the sides that have no figure: the reference has no such ratio.
fn known(target: Target) -> Target {
    let figure = |side: Option<f64>| side.filter(|value| value.is_finite());
    Target { min: figure(target.min), max: figure(target.max), ..target }
}
