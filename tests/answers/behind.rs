//! What waits behind a limit: the nearest looser value at which something better can be poured, against enumeration.

use std::sync::atomic::{AtomicUsize, Ordering};

use washline::brief::{Aim, Side};
use washline::explain::demand::Demand;
use washline::explain::steps::next_pourable;
use washline::solve::{Stop, solve};

use crate::briefs::Aims;
use crate::effort::one_in;
use crate::exact::{over_both_cores, some};
use crate::universe::Universe;
use crate::why::{same, small, written};

#[test]
fn what_waits_behind_limits_agrees_with_enumeration() {
    let (counted, open) = (AtomicUsize::new(0), AtomicUsize::new(0));
    over_both_cores(some(6000..6300, 16), |seed| {
        let Some(brief) = small(seed, [Aims::Notes, Aims::Plain][usize::from(seed % 4 > 0)]) else {
            return Ok(());
        };
        let solved = solve(&brief, &Stop::default());
        let Some(best) = solved.specs.first() else { return Ok(()) };
        let universe = Universe::new(&brief);
        let found = next_pourable(&brief, &solved, &Stop::default());
        open.fetch_add(found.open.len(), Ordering::Relaxed);
        for (at, demand) in universe.demands.iter().enumerate() {
            let expected = behind(&universe, at, best.score);
            if found.open.contains(demand) {
                // Not proved: what is found is there, if not the nearest.
                continue;
            }
            let own = found.found.iter().find(|n| n.change.demand == *demand);
            let own = own.map(|n| (n.change.needed.unwrap_or(f64::NAN), n.spec.score));
            counted.fetch_add(usize::from(own.is_some()), Ordering::Relaxed);
            let fits = match (own, expected) {
                (None, None) => true,
                (Some(own), Some(expected)) => same(own.0, expected.0) && same(own.1, expected.1),
                _ => false,
            };
            if !fits {
                return Err(format!("{demand:?}: {own:?}, not {expected:?}"));
            }
        }
        Ok(())
    });
    let (counted, open) = (counted.into_inner(), open.into_inner());
    assert!(counted * one_in(16) >= 100, "only {counted} limits have something behind them");
    assert!(20 * open <= counted, "of {open} limits it is not proved, of {counted} it is");
}

/// The nearest figure of a demand behind which a better spec lies, and the best score there.
fn behind(universe: &Universe, at: usize, best: f64) -> Option<(f64, f64)> {
    let brief = universe.brief;
    let (full, bit, demand) = (universe.full(), 1 << at, universe.demands[at]);
    let down = matches!(brief.aim, Aim::Highest(_) | Aim::Notes);
    let better = |score: f64| {
        let by = if down { score - best } else { best - score };
        by > 1e-7 * best.abs() + 1e-7
    };
    let mut specs: Vec<(f64, f64)> = vec![];
    let mut side = Side::Max;
    universe.walk(|poured| {
        if full & !poured.keeps & !bit != 0 {
            return;
        }
        let (value, own) = universe.figure(demand, poured);
        side = own;
        let value = match (demand, brief.serve.glass) {
            // The first way to say it: less of the glass left free, as long as it can be.
            (Demand::Glass, Some(glass)) if value <= glass.brim => 100.0 - 100.0 * value / glass.brim,
            (Demand::Glass, Some(glass)) => 1e6 + value / (1.0 - glass.headroom / 100.0),
            _ => value,
        };
        let score = poured.score(brief);
        if value.is_finite() && !score.is_nan() {
            specs.push((value, score));
        }
    });
    if demand == Demand::Glass {
        return behind_glass(&specs, better, down);
    }
    let looser = |a: f64, b: f64| if side == Side::Min { a > b } else { a < b };
    let nearest = specs.iter().filter(|(_, score)| better(*score)).map(|(value, _)| *value);
    let nearest = nearest.reduce(|a, b| if looser(b, a) { b } else { a })?;
    let there = specs.iter().filter(|(value, _)| same(*value, nearest) || looser(*value, nearest));
    let score = there.map(|(_, s)| *s).reduce(if down { f64::max } else { f64::min })?;
    Some((nearest, score))
}

/// A glass is told by what is left free while that can be, and by a larger one from there on.
fn behind_glass(specs: &[(f64, f64)], better: impl Fn(f64) -> bool, down: bool) -> Option<(f64, f64)> {
    let volume = |value: f64| if value >= 1e6 { value } else { -value };
    let nearest = specs.iter().filter(|(_, s)| better(*s)).map(|(v, _)| *v);
    let nearest = nearest.min_by(|a, b| volume(*a).total_cmp(&volume(*b)))?;
    let there = specs.iter().filter(|(v, _)| same(*v, nearest) || volume(*v) <= volume(nearest));
    let score = there.map(|(_, s)| *s).reduce(if down { f64::max } else { f64::min })?;
    Some((if nearest >= 1e6 { nearest - 1e6 } else { nearest }, score))
}

/// By hand: a step less of what has to be in it is the nearest that is cheaper; it is not left out.
#[test]
fn what_must_be_used_is_used_behind_its_least_pour() {
    let brief = written(
        "title = 'long drink'\ncurrency = 'GBP'\n[serve]\nmethod = 'none'\npour = '5 ml'\n[aim]\nto = 0\nlowest = 'cost'\n\
         [targets]\nvolume = { min = 95, max = 110 }\n\
         [[candidate]]\nname = 'rum'\nrole = 'base'\nstrength = 40\nprice = '20 per 700 ml'\nmust = true\nmin = '30 ml'\n\
         [[candidate]]\nname = 'water'\nrole = 'water'\nprice = '0.10 per 1 l'\n",
    );
    let solved = solve(&brief, &Stop::default());
    let next = next_pourable(&brief, &solved, &Stop::default());
    let must = next.found.iter().find(|next| next.change.demand == Demand::Must(0)).expect("less rum");
    assert_eq!(must.change.needed, Some(25.0));
    let rum = must.spec.pours.iter().find(|pour| pour.candidate == 0).map(|pour| pour.amount);
    assert_eq!(rum, Some(25.0));
}
