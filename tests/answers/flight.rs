//! A flight: every glass against all pourable specs of its ingredients, by the second physics.

use washline::brief::{Brief, Goal, HoldFor, Measure};
use washline::scenario::flight::{Along, Flight, flight};
use washline::solve::{Ending, Stop};

use crate::briefs::{Aims, seeded};
use crate::exact::over_both_cores;
use crate::universe::Universe;

/// What one step off is, written down a second time from the words of the flight's own documentation.
fn widths(flight: &Flight) -> Vec<(Measure, f64)> {
    let usual = |measure: Measure| match measure {
        Measure::Volume => 5.0,
        Measure::Strength => 0.5,
        Measure::Sweetness => 3.0,
        Measure::Acid => 0.3,
        other => panic!("{other:?} is not kept"),
    };
    let steps =
        flight.along.iter().map(|a| (a.measure, (a.to - a.from).abs() / (a.glasses - 1) as f64 / 4.0));
    steps.chain(flight.kept.iter().map(|k| (k.measure, usual(k.measure)))).collect()
}

/// The brief with one set of ingredients, all used, and nothing but its rules.
fn narrowed(brief: &Brief, flight: &Flight) -> Brief {
    let mut question = brief.clone();
    let used = |at: usize| flight.glasses[0].spec.pours.iter().any(|p| p.candidate == at);
    for (at, candidate) in question.candidates.iter_mut().enumerate() {
        (candidate.must, candidate.out) = (used(at), !used(at));
    }
    question.targets.clear();
    question.hold.clear();
    question.variation.hold = HoldFor::Typical;
    question.aim = washline::brief::Aim::Lowest(Goal::Measure(Measure::Volume));
    question
}

#[test]
fn no_spec_of_its_ingredients_would_suit_a_glass_better() {
    let done = std::sync::atomic::AtomicUsize::new(0);
    over_both_cores(9100..9160, |seed| {
        let brief = seeded(seed, Aims::Plain).brief();
        let step = |measure, from, to| Along { measure, glasses: 3, from, to };
        let along = match seed % 4 {
            0 => vec![step(Measure::Sugar, 40.0, 100.0)],
            1 => vec![step(Measure::Strength, 8.0, 20.0)],
            2 => vec![step(Measure::Acid, 4.0, 10.0)],
            _ => vec![step(Measure::Sugar, 50.0, 90.0), step(Measure::Acid, 5.0, 8.0)],
        };
        let Ok(found) = flight(&brief, &along, &Stop::default()) else { return Ok(()) };
        let question = narrowed(&brief, &found);
        let universe = Universe::new(&question);
        if universe.combinations() > 2e5 {
            return Ok(());
        }
        done.fetch_add(1, std::sync::atomic::Ordering::Relaxed);
        let widths = widths(&found);
        let mut least = vec![f64::INFINITY; found.glasses.len()];
        universe.walk(|poured| {
            if poured.keeps != universe.full() {
                return;
            }
            for (glass, least) in found.glasses.iter().zip(&mut least) {
                let places = glass.places.iter().copied().chain(found.kept.iter().map(|k| k.value));
                let off = widths
                    .iter()
                    .zip(places)
                    .map(|((measure, width), place)| {
                        (poured.glass.value(&question, *measure) - place).abs() / width
                    })
                    .fold(0.0, f64::max);
                *least = least.min(off);
            }
        });
        for (at, (glass, least)) in found.glasses.iter().zip(&least).enumerate() {
            if (glass.off - least).abs() > 1e-7 * (1.0 + least) {
                return Err(format!("seed {seed}, glass {at}: {} widths off, {least} can be had", glass.off));
            }
        }
        if found.ending == Ending::Found { Ok(()) } else { Err(format!("seed {seed}: not proved")) }
    });
    let done = done.into_inner();
    assert!(done >= 15, "only {done} of 60 flights were small enough to go through");
}
