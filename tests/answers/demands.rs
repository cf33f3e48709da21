//! Whether a spec keeps a demand, by the library and by the contract written a second time (`universe.rs`).

use washline::brief::edit::{Demand, without};
use washline::brief::{Measure, Numerator, Pour, serve};
use washline::liquid::ice::PER_MELT;
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

/// Giving a demand up, asking for another figure and taking it back: of a seeded brief with every kind of them.
#[test]
fn a_demand_is_given_up_changed_and_taken_back() {
    let mut kinds = std::collections::BTreeSet::new();
    for seed in 9000..9060 {
        let brief = seeded(seed, if seed % 3 == 0 { Aims::Nearest } else { Aims::Plain }).brief();
        let all = Demand::all(&brief);
        for demand in &all {
            kinds.insert(format!("{demand:?}").split('(').next().unwrap_or_default().to_owned());
            let (side, asked) = demand.asked(&brief).expect("a figure");
            let mut moved = brief.clone();
            demand.set(&mut moved, asked + 1.0);
            assert_eq!(demand.asked(&moved), Some((side, asked + 1.0)), "seed {seed}: {demand:?}");
            demand.take_back(&mut moved, &brief);
            assert_eq!(moved, brief, "seed {seed}: {demand:?} taken back");
            let open = without(&brief, &[*demand]);
            let left = Demand::all(&open);
            // What is held is counted anew; the others keep their places.
            let rest = |d: &&Demand| !matches!((d, demand), (Demand::Hold(_), Demand::Hold(_)));
            let kept: Vec<&Demand> = all.iter().filter(|d| *d != demand).filter(rest).collect();
            assert_eq!(left.iter().filter(rest).collect::<Vec<_>>(), kept, "seed {seed}: without {demand:?}");
            assert_eq!(left.len() + 1, all.len());
        }
    }
    let names: Vec<&str> = kinds.iter().map(String::as_str).collect();
    assert_eq!(names, ["Choose", "Glass", "Hold", "Largest", "Most", "Must", "Proportion", "Target"]);
}

/// The formula of every measure, summed over the pours and divided, is what the drink as a whole measures.
#[test]
fn every_measure_is_made_as_its_formula_says() {
    let mut compared = std::collections::BTreeMap::<String, usize>::new();
    for seed in 9000..9060 {
        let brief = seeded(seed, Aims::Plain).brief();
        let first: Vec<usize> = brief.usable().take(5).collect();
        let amount = |at: usize| if brief.candidates[at].portion.poured > 0.0 { 20.0 } else { 0.5 };
        let pours: Vec<Pour> =
            first.iter().map(|&candidate| Pour { candidate, amount: amount(candidate) }).collect();
        let served = serve(&brief, &pours);
        let properties = (0..brief.properties.len()).map(Measure::Property);
        for measure in Measure::BUILT_IN.into_iter().chain(properties) {
            let (part, over) = measure.formula(&brief);
            let sum = |figure: &dyn Fn(usize) -> f64| {
                pours.iter().map(|p| p.amount * figure(p.candidate)).sum::<f64>()
            };
            let of = |at: usize| &brief.candidates[at];
            let sum = match part {
                Numerator::Volume => served.drink.volume,
                Numerator::Melt => served.drink.melt,
                Numerator::Level => served.drink.volume - served.drink.glass_melt * PER_MELT,
                Numerator::Portion(figure) => sum(&|at| figure(&of(at).portion)),
                Numerator::Cost(times) => times * sum(&|at| of(at).cost_per_unit.unwrap_or(f64::NAN)),
                Numerator::Carried(property, times) => times * sum(&|at| of(at).carried(property)),
            };
            let (made, value) = (sum / over.of(&served.drink), served.value(measure));
            if value.is_finite() {
                assert!(
                    (made - value).abs() <= 1e-9 * value.abs(),
                    "seed {seed}: {measure:?} {made} for {value}"
                );
                *compared.entry(measure.keyword().to_owned()).or_default() += 1;
            }
        }
    }
    assert!(compared.len() == 12 && compared.values().all(|count| *count >= 10), "{compared:?}");
}
