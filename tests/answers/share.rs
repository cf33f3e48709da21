//! `hold = { share = … }`: the search against enumeration, in which every spec that meets the brief is
//! served and counted.

use std::num::NonZeroUsize;
use std::sync::atomic::{AtomicUsize, Ordering};

use rand::SeedableRng;
use rand::seq::IndexedRandom;
use rand_pcg::Pcg64Mcg;
use washline::brief::{Brief, HoldFor, PourError, Poured};
use washline::model::Model;
use washline::simulate::{Run, SERVES, Serves};
use washline::solve::levels::levels;
use washline::solve::{Stop, solve};

use crate::briefs::{Aims, seeded};
use crate::effort::one_in;
use crate::enumerator::enumerate;
use crate::exact::{compare, over_both_cores, some};
use crate::worst::vary;

/// A seeded brief that has to hold in a share of its serves; its liquids vary, and the hand is off.
fn varied(seed: u64) -> Brief {
    let aims = if seed.is_multiple_of(3) { Aims::Nearest } else { Aims::Plain };
    let mut brief = seeded(seed, aims).brief();
    let mut rng = Pcg64Mcg::seed_from_u64(seed ^ 0x5e12);
    let share = *[0.2, 0.4, 0.6, 0.8, 0.9, 0.95, 0.99].choose(&mut rng).expect("a share");
    brief.variation.hold = HoldFor::Share(share);
    let error = *[0.1, 0.3, 0.6, 1.0].choose(&mut rng).expect("an error");
    brief.variation.pour_error = Some(Poured::Stated(PourError::fixed(error)));
    brief.variation.bar_step = Some(5.0);
    vary(&mut brief, &mut rng, 0.5);
    brief
}

/// 80 briefs, about a third of which can be met: the best, the alternatives, their order and the proof.
#[test]
fn a_share_agrees_with_serving_every_spec() {
    let (met, several) = (AtomicUsize::new(0), AtomicUsize::new(0));
    over_both_cores(some(5000..5080, 8), |seed| {
        let brief = varied(seed);
        let found = enumerate(&brief);
        met.fetch_add(usize::from(!found.is_empty()), Ordering::Relaxed);
        several.fetch_add(usize::from(found.len() > 1), Ordering::Relaxed);
        compare(&brief, &solve(&brief, &Stop::default()), &found)
    });
    let (met, several) = (met.into_inner(), several.into_inner());
    let of = one_in(8);
    assert!(
        (16..74).contains(&(met * of)) && several * of >= 8,
        "{met} of 80 can be met, {several} in several ways"
    );
}

/// Forty cheap gins of 20 to 60 % vol each, and a dear one of exactly 40: whether a serve of a cheap one has 9 to 11 %
/// vol is a toss, so that only the dear one holds in nine serves of ten. It stands behind forty sets that score better,
/// more than are listed at first.
#[test]
fn what_holds_is_found_behind_more_sets_than_are_listed_at_first() {
    let gin = |name: &str, strength: &str, price: u32| {
        format!(
            "[[candidate]]\nname = \"{name}\"\nrole = \"base\"\nstrength = {strength}\nprice = \"{price}.00 per 1 l\"\n"
        )
    };
    let cheap: String = (0..40)
        .map(|at| gin(&format!("cheap {at:02}"), "{ typical = 40, min = 20, max = 60 }", 10 + at))
        .collect();
    let text = format!(
        "currency = \"GBP\"\n[serve]\nmethod = \"none\"\npour = \"5 ml\"\n\
         [variation]\npour_error = \"0.1 ml\"\nhold = {{ share = 90 }}\n\
         [targets]\nvolume = {{ min = 99, max = 101 }}\nstrength = {{ min = 9, max = 11 }}\n[aim]\nto = 0\nlowest = \"cost\"\n\
         [answer]\nalternatives = 0\n{cheap}{}\
         [[candidate]]\nname = \"water\"\nrole = \"lengthener\"\nprice = \"0.00 per 1 l\"\n\
         [[choose]]\nrole = \"base\"\nmin = 1\nmax = 1\n",
        gin("dear", "40", 90)
    );
    let brief = washline::read::read(text.as_bytes(), &[]).unwrap_or_else(|f| panic!("{f:#?}")).brief;
    let solved = solve(&brief, &Stop::default());
    let best = solved.specs.first().unwrap_or_else(|| panic!("{solved:#?}"));
    let pours: Vec<(usize, f64)> = best.pours.iter().map(|p| (p.candidate, p.amount)).collect();
    // By hand: 25 ml of it and 75 ml of water are 10 % vol.
    assert_eq!(pours, [(40, 25.0), (41, 75.0)], "{solved:#?}");
    assert!(solved.complete, "{solved:#?}");
}

/// A share that a spec as good as the best is known to reach is found: the search for it starts from those, too.
#[test]
fn a_share_that_is_known_to_be_reached_is_found() {
    let text = include_str!("../../problems-demo/low-strength.toml");
    let brief = washline::read::read(text.as_bytes(), &[]).expect("the demo").brief;
    let solved = solve(&brief, &Stop::within_reason());
    let steadiest = levels(&brief, &solved, &brief.answer.steady, &Stop::within_reason()).steadiest;
    let known = steadiest.expect("one is the steadiest");
    let share = (100 * known.within / SERVES) as f64 / 100.0;
    let mut asked = brief.clone();
    asked.variation.hold = HoldFor::Share(share);
    let found = solve(&asked, &Stop::within_reason());
    let best =
        found.specs.first().unwrap_or_else(|| panic!("nothing holds in {share}: {:?}", known.spec.pours));
    let limits = Model::new(&brief).targets();
    let within = Serves::new(&brief, Run::First).tally(&best.pours, &limits, NonZeroUsize::MIN).within_all;
    assert!(within as f64 >= share * SERVES as f64, "{within} of {SERVES} for {share}");
    // What is known to hold as often is no better.
    assert!(best.score <= known.spec.score + 1e-9, "{} and {}", best.score, known.spec.score);
}
