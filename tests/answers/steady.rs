//! In how many serves each spec of an answer holds, against closed forms; and what is steadier, against enumeration.

use std::num::NonZeroUsize;
use std::sync::atomic::{AtomicUsize, Ordering};

use rand::SeedableRng;
use rand_pcg::Pcg64Mcg;
use washline::answer::explained;
use washline::brief::Pour;
use washline::explain::explain;
use washline::model::Model;
use washline::read::read;
use washline::simulate::{Run, SERVES, Serves};
use washline::solve::levels::levels;
use washline::solve::{Stop, solve};

use crate::briefs::{Aims, seeded};
use crate::effort::one_in;
use crate::enumerator::every;
use crate::exact::{over_both_cores, some};
use crate::service::{close, normal, off};
use crate::worst::vary;

/// Two waters of which one is poured alone, 50 ml of it and nothing else: the cheap one in the bar's step of 10 ml and
/// with its error of 1.5 ml, the dear one in steps of 2 ml and so with a fifth of it. 48 to 51.5 ml hold in
/// Φ(1) - Φ(-4/3) and Φ(5) - Φ(-20/3) of the serves.
#[test]
fn every_spec_of_an_answer_comes_with_its_share() {
    let text = "currency = \"GBP\"\n[serve]\nmethod = \"none\"\npour = \"10 ml\"\nmost = 1\n\
                [variation]\npour_error = \"1.5 ml\"\n[targets]\nvolume = { min = 48, max = 51.5 }\n\
                [aim]\nlowest = \"cost\"\n\
                [[candidate]]\nname = \"cheap\"\nrole = \"water\"\nprice = \"1.00 per 1 l\"\n\
                [[candidate]]\nname = \"dear\"\nrole = \"water\"\npour = \"2 ml\"\nprice = \"2.00 per 1 l\"\n";
    let brief = read(text.as_bytes(), &[]).unwrap_or_else(|findings| panic!("{findings:#?}")).brief;
    let stop = Stop::default();
    let solved = solve(&brief, &stop);
    let answer = explained(&brief, &solved, &explain(&brief, &solved, &stop));
    let shares = |spec: &washline::answer::SpecLine| spec.within_all.expect("a share");
    close(shares(answer.best.as_ref().expect("a spec")), normal(1.0) - normal(-4.0 / 3.0));
    assert_eq!(answer.alternatives.len(), 1);
    close(shares(&answer.alternatives[0]), normal(5.0) - normal(-20.0 / 3.0));
}

/// The levels against enumeration: of every spec that meets the brief all its serves are counted. What is called proved
/// is the best of those that hold as often, or is not there; what is not may be dearer, and holds as often all the same.
#[test]
fn steadier_specs_agree_with_enumeration() {
    let (asked, proved) = (AtomicUsize::new(0), AtomicUsize::new(0));
    over_both_cores(some(7400..7460, 6), |seed| {
        let mut brief = seeded(seed, Aims::Plain).brief();
        vary(&mut brief, &mut Pcg64Mcg::seed_from_u64(seed), 0.5);
        (brief.variation.pour_error, brief.variation.bar_step) = (Some(off(0.5)), Some(5.0));
        let all = every(&brief);
        if all.is_empty() || all.len() > 400 {
            return Ok(());
        }
        let serves = Serves::new(&brief, Run::First);
        let limits = Model::new(&brief).targets();
        let pours = |found: &[(usize, f64)]| -> Vec<Pour> {
            found.iter().map(|&(candidate, amount)| Pour { candidate, amount }).collect()
        };
        let share = |pours: &[Pour]| serves.tally(pours, &limits, NonZeroUsize::MIN).within_all;
        let shares: Vec<(f64, usize)> = all.iter().map(|f| (f.score, share(&pours(&f.pours)))).collect();
        let found = levels(&brief, &solve(&brief, &Stop::default()), &[0.5, 0.75, 0.9], &Stop::default());
        for level in &found.levels {
            let holding =
                shares.iter().filter(|(_, within)| *within as f64 >= level.level * SERVES as f64 - 1e-6);
            let best =
                holding.map(|(score, _)| *score).reduce(|a, b| if brief.aim.better(a, b) { a } else { b });
            asked.fetch_add(1, Ordering::Relaxed);
            proved.fetch_add(usize::from(level.proved), Ordering::Relaxed);
            match (&level.found, best) {
                (None, Some(best)) if level.proved => {
                    return Err(format!("{}: {best} was missed", level.level));
                }
                (None, _) => {}
                (Some(steady), Some(best)) => {
                    let within = share(&steady.spec.pours);
                    let same = (steady.spec.score - best).abs() <= 1e-9 * best.abs();
                    if within != steady.within || (within as f64) < level.level * SERVES as f64 - 1e-6 {
                        return Err(format!("{} of {within}", steady.within));
                    }
                    if level.proved && !same {
                        return Err(format!("{}: {}, not {best}", level.level, steady.spec.score));
                    }
                }
                (Some(_), None) => return Err(format!("{}: none holds so often", level.level)),
            }
        }
        Ok(())
    });
    let (asked, proved) = (asked.into_inner(), proved.into_inner());
    assert!(asked * one_in(6) >= 40 && proved * 2 >= asked, "{asked} levels, {proved} proved");
}
