//! Rules that cannot be kept together whatever the targets are: the way out changes one of each core, as little as
//! the others allow. Briefs and ways out by hand; what is offered then has to be the best of all that is poured.

use washline::brief::{Brief, Measure, Side};
use washline::explain::conflict::{Relaxed, conflict};
use washline::explain::demand::Demand;
use washline::explain::loosen::changed;
use washline::read::read;
use washline::solve::Stop;

use crate::enumerator::{enumerate, judge};

/// Two gins of 40 and 44 % vol and two sours, of which these rules speak; strength and volume leave room for one and one.
#[track_caller]
fn brief(rules: &str) -> Brief {
    let of = |name: &str, role: &str, keys: &str| {
        format!("[[candidate]]\nname = \"{name}\"\nrole = \"{role}\"\nmax = \"40 ml\"\n{keys}\n")
    };
    let text = format!(
        "[serve]\nmethod = \"none\"\npour = \"10 ml\"\n\
         [targets]\nvolume = {{ min = 60, max = 120 }}\nstrength = {{ min = 18, max = 30 }}\n[aim]\nto = 0\nlowest = \"strength\"\n\
         {}{}{}{}{rules}",
        of("mild gin", "base", "strength = 40"),
        of("stiff gin", "base", "strength = 44"),
        of("lime", "sour", "acid = 60"),
        of("lemon", "sour", "acid = 50"),
    );
    read(text.as_bytes(), &[]).unwrap_or_else(|findings| panic!("{findings:#?}")).brief
}

/// The way out: its changes, as demands with the figure that each needs. Its spec is the best there then is.
#[track_caller]
fn way_out(brief: &Brief) -> Vec<(Demand, Option<f64>)> {
    let found = conflict(brief, &Stop::default());
    let Relaxed { changes, spec, .. } = found.relaxed.clone().unwrap_or_else(|| panic!("{found:#?}"));
    let possible = changes.iter().fold(brief.clone(), |brief, change| changed(&brief, change));
    let pours: Vec<(usize, f64)> = spec.pours.iter().map(|p| (p.candidate, p.amount)).collect();
    judge(&possible, &pours).unwrap_or_else(|fault| panic!("{fault}: {found:#?}"));
    let best = enumerate(&possible).into_iter().next().expect("something can be poured");
    assert!((spec.score - best.score).abs() < 1e-9, "{spec:#?}, not {}", best.score);
    changes.iter().map(|change| (change.demand, change.needed)).collect()
}

fn choose(role: &str, limit: &str) -> String {
    format!("[[choose]]\nrole = \"{role}\"\n{limit}\n")
}

/// Two bases are asked for and three things allowed; one of each sour has to be in it as well. The counts of the
/// bases give way, to one.
#[test]
fn one_rule_of_a_core_gives_way_as_far_as_the_others_need() {
    let both = choose("sour", "min = 2") + &choose("base", "min = 2");
    let mut brief = brief(&both);
    // The reader sees as much itself; less plain sums of rules it does not.
    brief.serve.most = Some(3);
    assert_eq!(way_out(&brief), [(Demand::Choose(1, Side::Min), Some(1.0))]);
}

/// Of each role two are asked for and one is allowed: two cores without a target, and one change for each.
#[test]
fn one_rule_of_each_core_gives_way() {
    let all = [("base", "min = 2"), ("base", "max = 1"), ("sour", "min = 2"), ("sour", "max = 1")];
    let rules: String = all.iter().map(|(role, limit)| choose(role, limit)).collect();
    let two = [(Demand::Choose(1, Side::Max), Some(2.0)), (Demand::Choose(3, Side::Max), Some(2.0))];
    assert_eq!(way_out(&brief(&rules)), two);
}

/// One change can be the way out of two cores: what is in both is changed once.
#[test]
fn a_rule_of_two_cores_gives_way_once() {
    let named = "[[choose]]\namong = [\"mild gin\", \"stiff gin\"]\nmin = 2\n";
    let rules = choose("base", "min = 2") + named + &choose("base", "max = 1");
    assert_eq!(way_out(&brief(&rules)), [(Demand::Choose(2, Side::Max), Some(2.0))]);
}

/// Rules that give way can still leave targets in the way: these then move, too.
#[test]
fn targets_move_after_the_rules() {
    let rules = choose("base", "min = 2") + &choose("base", "max = 1");
    // Two gins of 10 ml and 60 ml of sours, at most 40 of each: 10.5 % vol at least; asked for are 9 at most.
    let mut brief = brief(&rules);
    let strength = brief.targets.iter_mut().find(|t| t.measure == Measure::Strength).expect("strength");
    (strength.min, strength.max) = (Some(2.0), Some(8.0));
    let found = way_out(&brief);
    assert_eq!(found[0], (Demand::Choose(1, Side::Max), Some(2.0)));
    // 8.4 of 100 ml: four tens of each sour and one of each gin.
    assert_eq!(found.len(), 2, "{found:?}");
    assert!(
        matches!(found[1], (Demand::Target(_, Side::Max), Some(figure)) if (8.3..8.5).contains(&figure)),
        "{found:?}"
    );
}
