//! The nearest spec that holds, against every spec that can be poured.

use std::sync::atomic::{AtomicUsize, Ordering};

use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;
use washline::brief::{HoldFor, Pour};
use washline::explain::mend::mended;
use washline::solve::Stop;

use crate::briefs::{Aims, seeded};
use crate::exact::over_both_cores;
use crate::universe::Universe;

/// More combinations than this take too long.
const COMBINATIONS: f64 = 4e5;

/// Seeded briefs, some with what is held at a reference, each with a spec of chance: no spec that keeps everything
/// moves less of it, and the one that is told moves as much as is said.
#[test]
fn no_spec_that_holds_is_nearer() {
    let (found, none) = (AtomicUsize::new(0), AtomicUsize::new(0));
    over_both_cores(7000..7150, |seed| {
        let aims = if seed % 3 == 0 { Aims::Nearest } else { Aims::Plain };
        let brief = seeded(seed, aims).brief();
        let universe = Universe::new(&brief);
        if universe.combinations() > COMBINATIONS || brief.variation.hold != HoldFor::Typical {
            return Ok(());
        }
        let mut rng = Pcg64Mcg::seed_from_u64(seed);
        let given: Vec<f64> =
            brief.candidates.iter().map(|_| f64::from(rng.random_range(0..8_u8)) * 7.5).collect();
        let moved = |amounts: &dyn Fn(usize) -> f64| -> f64 {
            given.iter().enumerate().map(|(at, amount)| (amounts(at) - amount).abs()).sum()
        };
        let all = (1_u64 << universe.demands.len()) - 1;
        let mut least = f64::INFINITY;
        universe.walk(|poured| {
            if poured.keeps == all {
                least = least.min(moved(&|at| poured.amounts[at]));
            }
        });
        let pours: Vec<Pour> = given
            .iter()
            .enumerate()
            .filter(|(_, amount)| **amount > 0.0)
            .map(|(candidate, amount)| Pour { candidate, amount: *amount })
            .collect();
        match mended(&brief, &pours, &Stop::default()) {
            None if least.is_infinite() => none.fetch_add(1, Ordering::Relaxed),
            Some(told) => {
                let amount = |at: usize| {
                    told.spec.pours.iter().filter(|p| p.candidate == at).map(|p| p.amount).sum::<f64>()
                };
                let far = moved(&amount);
                let same = (far - least).abs() < 1e-6 && (told.spec.score - least).abs() < 1e-6;
                if !same || !told.proved {
                    return Err(format!("moves {far}, says {}, {least} would do", told.spec.score));
                }
                found.fetch_add(1, Ordering::Relaxed)
            }
            None => return Err(format!("none was found, {least} would do")),
        };
        Ok(())
    });
    let (found, none) = (found.into_inner(), none.into_inner());
    assert!(found >= 20 && none >= 5, "{found} mended, {none} beyond mending");
}
