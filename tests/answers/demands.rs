//! Whether a spec keeps a demand, by the library and by the contract written a second time (`universe.rs`).

use washline::brief::{Pour, serve};
use washline::explain::demand::Demand;
use washline::model::Model;

use crate::briefs::{Aims, seeded};
use crate::exact::over_both_cores;
use crate::universe::Universe;

/// More combinations than this take too long; of those of a brief every so many-th is looked at.
const COMBINATIONS: f64 = 4e5;
const EVERY: usize = 97;

#[test]
fn a_spec_keeps_what_the_contract_says() {
    let kinds = std::sync::Mutex::new(std::collections::BTreeMap::<String, [usize; 2]>::new());
    over_both_cores(9000..9120, |seed| {
        let brief = seeded(seed, if seed % 3 == 0 { Aims::Nearest } else { Aims::Plain }).brief();
        let universe = Universe::new(&brief);
        if universe.combinations() > COMBINATIONS || universe.demands.len() > 60 {
            return Ok(());
        }
        let model = Model::new(&brief);
        let (mut at, mut fault) = (0, None);
        universe.walk(|poured| {
            at += 1;
            if at % EVERY != 0 || fault.is_some() {
                return;
            }
            let amounts = poured.amounts.iter().enumerate().filter(|(_, amount)| **amount > 0.0);
            let pours: Vec<Pour> = amounts.map(|(candidate, &amount)| Pour { candidate, amount }).collect();
            let served = serve(&brief, &pours);
            for (bit, demand) in universe.demands.iter().enumerate() {
                let kept = poured.keeps & (1 << bit) != 0;
                if demand.met(&model, &pours, &served) != kept {
                    fault = Some(format!("{demand:?} of {pours:?}: kept {kept}"));
                }
                if let Ok(mut kinds) = kinds.lock() {
                    let kind = format!("{demand:?}").split('(').next().unwrap_or_default().to_owned();
                    kinds.entry(kind).or_default()[usize::from(kept)] += 1;
                }
            }
        });
        fault.map_or(Ok(()), Err)
    });
    let kinds = kinds.into_inner().expect("no check panicked");
    // Every kind of demand was kept and missed.
    let names: Vec<&str> = kinds.keys().map(String::as_str).collect();
    assert_eq!(names, ["Choose", "Glass", "Hold", "Most", "Must", "Proportion", "Target"], "{kinds:?}");
    assert!(kinds.values().all(|[missed, kept]| *missed > 20 && *kept > 20), "{kinds:?}");
    assert!(Demand::Target(0, washline::brief::Side::Min).is_target() && Demand::Hold(0).is_target());
    assert!(!Demand::Glass.is_target() && !Demand::Must(0).is_target());
}
