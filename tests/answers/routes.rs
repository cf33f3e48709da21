//! Ways out of a conflict that stay the drink, by hand.

use washline::brief::{Brief, Side};
use washline::explain::conflict::{Route, conflict};
use washline::explain::demand::Demand;
use washline::explain::loosen::changed;
use washline::read::read;
use washline::solve::Stop;

use crate::enumerator::{enumerate, judge};

/// A smoky drink of 50 ml: 40 % vol of it cost 10 a ml-hundred. The budget allows a splash of it; the vodka is cheap.
fn brief(more: &str) -> Brief {
    let text = format!(
        "currency = \"GBP\"\n[serve]\nmethod = \"none\"\npour = \"5 ml\"\n\
         [targets]\nvolume = {{ min = 90, max = 110 }}\nstrength = {{ min = 20, max = 24 }}\ncost = {{ max = 1.50 }}\n\
         [aim]\nlowest = \"cost\"\n\
         [[candidate]]\nname = \"smoky spirit\"\nrole = \"base\"\nstrength = 40\nprice = \"50 per 1 l\"\n\
         [[candidate]]\nname = \"juice\"\nrole = \"sour\"\nacid = 40\nprice = \"5 per 1 l\"\n\
         {more}"
    );
    read(text.as_bytes(), &[]).unwrap_or_else(|findings| panic!("{findings:#?}")).brief
}

fn poured(route: &Route, candidate: usize) -> f64 {
    route.relaxed.spec.pours.iter().filter(|p| p.candidate == candidate).map(|p| p.amount).sum()
}

/// Everything that is offered can be poured and is the best there then is.
#[track_caller]
fn routes(brief: &Brief) -> Vec<Route> {
    let found = conflict(brief, &Stop::default());
    for route in &found.routes {
        let possible =
            route.relaxed.changes.iter().fold(brief.clone(), |brief, change| changed(&brief, change));
        let pours: Vec<(usize, f64)> =
            route.relaxed.spec.pours.iter().map(|p| (p.candidate, p.amount)).collect();
        judge(&possible, &pours).unwrap_or_else(|fault| panic!("{fault}: {route:#?}"));
        let best = enumerate(&possible).into_iter().next().expect("something can be poured");
        assert!(route.relaxed.spec.score >= best.score - 1e-9, "{route:#?}");
    }
    // Compared as written: a share of no menu's price is unlike itself.
    let first = found.routes.first().map(|route| route.relaxed.clone());
    assert_eq!(format!("{:?}", found.relaxed), format!("{first:?}"));
    found.routes
}

/// 20 % vol of 90 ml take 45 ml of the spirit: 2.25 for 1.50. Its cost, its strength or its volume gives way: three ways
/// out, no two of which change the same thing most.
#[test]
fn several_ways_out_each_change_something_else() {
    let found = routes(&brief(""));
    assert!((2..=3).contains(&found.len()), "{found:#?}");
    assert!(found.is_sorted_by(|a, b| a.relaxed.total <= b.relaxed.total), "{found:#?}");
    let most: Vec<Vec<Demand>> =
        found.iter().map(|route| route.relaxed.changes.iter().map(|c| c.demand).collect()).collect();
    for (at, one) in most.iter().enumerate() {
        assert!(most[at + 1..].iter().all(|other| other != one), "{most:?}");
    }
    assert!(found.iter().all(|route| route.keeps));
}

/// The drink comes from one with 50 ml of the spirit. The smallest change alone would pour none of it (the vodka meets
/// all but its most of 10 ml); half of the base stays, and the money gives way.
#[test]
fn the_base_of_the_reference_stays() {
    let vodka = "[[candidate]]\nname = \"cheap spirit\"\nrole = \"base\"\nstrength = 40\nprice = \"10 per 1 l\"\nmax = \"40 ml\"\n";
    let brief = |more: &str| {
        let mut brief = brief(more);
        // 40 ml of vodka, 10 of the smoky spirit and 45 of juice cost 1.125.
        brief.targets[2].max = Some(1.0);
        brief
    };
    let bare = routes(&brief(vodka));
    assert!(bare.iter().any(|route| poured(route, 0) < 25.0), "{bare:#?}");
    let reference = format!("{vodka}[reference]\n\"smoky spirit\" = \"50 ml\"\njuice = \"40 ml\"\n");
    let kept = routes(&brief(&reference));
    assert!(
        !kept.is_empty() && kept.iter().all(|route| route.keeps && poured(route, 0) >= 25.0),
        "{kept:#?}"
    );
}

/// What has to be used is used on every way: no least pour is given up while a limit can move.
#[test]
fn what_has_to_be_used_is_used() {
    let must = "[[candidate]]\nname = \"liqueur\"\nrole = \"modifier\"\nstrength = 30\nprice = \"60 per 1 l\"\nmust = true\nmin = \"20 ml\"\n";
    let found = routes(&brief(must));
    assert!(!found.is_empty());
    for route in &found {
        assert!(poured(route, 2) >= 20.0 && route.keeps, "{route:#?}");
        assert!(route.relaxed.changes.iter().all(|c| !matches!(c.demand, Demand::Must(_))), "{route:#?}");
    }
}

/// Where the drink cannot be kept, the way out says so: two rules alone forbid what has to be used.
#[test]
fn a_way_that_gives_the_drink_up_says_so() {
    let must = "[[candidate]]\nname = \"overproof\"\nrole = \"modifier\"\nstrength = 60\nprice = \"5 per 1 l\"\nmust = true\nmin = \"20 ml\"\n\
                [[proportion]]\nof = \"overproof\"\nto = \"juice\"\nmax = 0.1\n";
    let mut text = brief(must);
    for candidate in &mut text.candidates {
        if candidate.name == "juice" {
            candidate.most = Some(50.0);
        }
    }
    let found = routes(&text);
    let changes = |route: &Route| route.relaxed.changes.iter().map(|c| c.demand).collect::<Vec<_>>();
    // A rule that gives way is no must: the ratio or the most of the juice moves, and the overproof stays.
    assert!(!found.is_empty());
    for route in &found {
        assert!(poured(route, 2) >= 20.0, "{route:#?}");
        assert!(
            !changes(route).iter().any(|d| matches!(d, Demand::Must(_) | Demand::Target(_, Side::Min)))
                || route.keeps
        );
    }
}
