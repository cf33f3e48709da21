//! Which parts an explanation has: what was found, what conflicts, what was stopped; for the typical drink, for
//! the worst of all, and for a share of serves.

use washline::explain::demand::Demand;
use washline::explain::variation::service;
use washline::explain::{Explanation, explain};
use washline::read::{read, spec_line};
use washline::solve::{Ending, Solved, Stop, solve};

/// Gin with a natural strength of 38 to 42 % vol and water, so that the strength lies between the two limits.
#[track_caller]
fn explained(hold: &str, least: f64, most: f64, ending: Ending) -> Explanation {
    let text = format!(
        "[serve]\nmethod = \"none\"\npour = \"1 ml\"\nmost = 2\n[variation]\npour_error = \"1 ml\"\n{hold}\n\
         [targets]\nvolume = {{ min = 95, max = 105 }}\nstrength = {{ min = {least}, max = {most} }}\n\
         [aim]\nlowest = \"strength\"\n\
         [[candidate]]\nname = \"gin\"\nrole = \"base\"\nstrength = {{ typical = 40, min = 38, max = 42 }}\n\
         [[candidate]]\nname = \"water\"\nrole = \"lengthener\"\n"
    );
    let brief = read(text.as_bytes(), &[]).unwrap_or_else(|findings| panic!("{findings:#?}")).brief;
    let stop = Stop::default();
    let solved = solve(&brief, &stop);
    let as_asked = Solved { ending, ..solved.clone() };
    // A search can be stopped at any time: one that has come to its end serves as well.
    assert!(solved.ending == ending || ending == Ending::Stopped, "{solved:#?}");
    explain(&brief, &as_asked, &stop)
}

/// The parts that an explanation has, in the order of its fields.
fn parts(explanation: &Explanation) -> [bool; 5] {
    [
        explanation.in_play.is_some(),
        explanation.sensitivity.is_some(),
        explanation.conflict.is_some(),
        explanation.service.is_some(),
        explanation.certainty.is_some(),
    ]
}

const SHARE: &str = "hold = { share = 90 }";

#[test]
fn a_spec_is_explained_wholly() {
    assert_eq!(parts(&explained("", 8.0, 12.0, Ending::Found)), [true, true, false, true, false]);
    let worst = explained("hold = \"worst\"", 8.0, 12.0, Ending::Found);
    assert_eq!(parts(&worst), [true, true, false, true, true]);
    assert!(worst.certainty.is_some_and(|c| c.blame.is_empty() && !c.reach.is_empty()));
}

/// In a share of serves each question would be a search in which every spec is served.
#[test]
fn a_spec_that_holds_in_a_share_comes_with_its_service_alone() {
    let found = explained(SHARE, 8.0, 12.0, Ending::Found);
    assert_eq!(parts(&found), [false, false, false, true, true]);
    assert!(found.certainty.is_some_and(|certainty| certainty.typical_score.is_some()));
}

#[test]
fn a_conflict_is_explained_as_one() {
    assert_eq!(parts(&explained("", 50.0, 60.0, Ending::Conflict)), [false, false, true, false, false]);
    let worst = explained("hold = \"worst\"", 10.0, 10.2, Ending::Conflict);
    assert_eq!(parts(&worst), [false, false, true, false, true]);
    // Gin of exactly 40 % vol would do.
    assert!(worst.certainty.is_some_and(|c| c.blame.len() == 1 && c.reach.is_empty()));
}

/// By hand: 25 ml of gin in 100 ml are 10 % vol; one ml more or less in either pour is 0.3 % vol and more, so that
/// between 9.9 and 10.1 not nine serves in ten come to lie, while the typical one does: nothing conflicts.
#[test]
fn what_only_too_few_serves_meet_is_no_conflict() {
    let found = explained(SHARE, 9.9, 10.1, Ending::Conflict);
    assert_eq!(parts(&found), [false, false, false, false, true]);
    assert!(
        found
            .certainty
            .is_some_and(|certainty| certainty.typical_score.is_some() && certainty.blame.is_empty())
    );
}

/// What not even the typical drink meets conflicts, and is explained on it.
#[test]
fn what_no_serve_meets_is_a_conflict() {
    let found = explained(SHARE, 50.0, 60.0, Ending::Conflict);
    assert_eq!(parts(&found), [false, false, true, false, true]);
    assert!(found.certainty.is_some_and(|certainty| certainty.typical_score.is_none()));
}

#[test]
fn a_search_that_was_stopped_says_how_its_spec_does_in_service() {
    assert_eq!(parts(&explained("", 8.0, 12.0, Ending::Stopped)), [false, false, false, true, false]);
    assert_eq!(parts(&explained(SHARE, 8.0, 12.0, Ending::Stopped)), [false, false, false, true, true]);
}

/// The middle moves with the limits, so that nothing is known to be better behind one: all of them stay open.
#[test]
fn behind_the_limits_of_a_middle_nothing_is_told() {
    let text = "[serve]\nmethod = \"none\"\npour = \"10 ml\"\n[targets]\nvolume = { min = 90, max = 110 }\n\
                strength = { min = 9, max = 15 }\n[aim]\nnearest = \"middle\"\n\
                [[candidate]]\nname = \"gin\"\nrole = \"base\"\nstrength = 40\n\
                [[candidate]]\nname = \"water\"\nrole = \"lengthener\"\n";
    let brief = read(text.as_bytes(), &[]).unwrap_or_else(|findings| panic!("{findings:#?}")).brief;
    let stop = Stop::default();
    let solved = solve(&brief, &stop);
    assert_eq!(solved.ending, Ending::Found, "{solved:#?}");
    let next = explain(&brief, &solved, &stop).next;
    assert_eq!((next.found.len(), next.open), (0, Demand::all(&brief)));
}

/// The middle of what a drink may cost moves with every price, so that no price is told anything of; of a cost without
/// a least, and so without a middle, it is.
#[test]
fn prices_that_move_the_aim_itself_are_not_told() {
    let told = |cost: &str| {
        let text = format!(
            "currency = \"GBP\"\n[serve]\nmethod = \"none\"\npour = \"10 ml\"\n[targets]\nvolume = {{ min = 90, max = 110 }}\n\
             strength = {{ min = 9, max = 15 }}\ncost = {cost}\n[aim]\nnearest = \"middle\"\n\
             [[candidate]]\nname = \"gin\"\nrole = \"base\"\nstrength = 40\nprice = \"20.00 per 1 l\"\n\
             [[candidate]]\nname = \"water\"\nrole = \"lengthener\"\nprice = \"0.50 per 1 l\"\n"
        );
        let brief = read(text.as_bytes(), &[]).unwrap_or_else(|findings| panic!("{findings:#?}")).brief;
        let stop = Stop::default();
        let solved = solve(&brief, &stop);
        assert_eq!(solved.ending, Ending::Found, "{solved:#?}");
        explain(&brief, &solved, &stop).sensitivity.expect("free pours").prices.len()
    };
    assert_eq!(told("{ min = 0.4, max = 0.9 }"), 0);
    assert_eq!(told("{ max = 0.9 }"), 2);
}

/// What the service leans on is named where the larder's range is a guess and moves what is asked for: the
/// bottled juice moves the sugar, the acid of a little tea does not; a range of the brief's own is no guess.
#[test]
fn guesses_that_the_service_leans_on_are_named() {
    let named = |further: &str, line: &str| {
        let text = format!(
            "[serve]\nmethod = \"none\"\npour = \"5 ml\"\n[variation]\npour_error = \"0.5 ml\"\n\
             [targets]\nvolume = {{ min = 50, max = 300 }}\nsugar = {{ min = 1, max = 60 }}\n[aim]\nlowest = \"strength\"\n\
             [[candidate]]\nlarder = \"bottled lime juice\"\n{further}\n[[candidate]]\nlarder = \"green tea\"\n\
             [[candidate]]\nname = \"lime of the house\"\nrole = \"lengthener\"\n\
             made = {{ by = \"volume\", parts = {{ \"bottled lime juice\" = 3, \"water\" = 1 }} }}\n\
             [[candidate]]\nlarder = \"water\"\n"
        );
        let brief = read(text.as_bytes(), &[]).unwrap_or_else(|findings| panic!("{findings:#?}")).brief;
        let pours = spec_line::read(line, &brief).unwrap_or_else(|findings| panic!("{findings:#?}"));
        let leans = service(&brief, &pours).judged.into_iter();
        leans.map(|lean| format!("{} {}", lean.ingredient, lean.figure)).collect::<Vec<_>>()
    };
    assert_eq!(
        named("", "100 ml bottled lime juice, 5 ml green tea"),
        ["bottled lime juice sugar", "bottled lime juice acid"]
    );
    let own = "sugar = { typical = 15, min = 5, max = 25 }";
    assert_eq!(named(own, "100 ml bottled lime juice"), ["bottled lime juice acid"]);
    assert_eq!(named("", "100 ml green tea"), [""; 0]);
    assert_eq!(named("", "100 ml lime of the house"), ["lime of the house sugar", "lime of the house acid"]);
}
