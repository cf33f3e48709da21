//! `--swap OLD=NEW`, as far as reading goes: who is out, who is in, what happens to the rules.

use washline::brief::{Aim, Brief, Goal, Measure, Nearest, Role};
use washline::finding::Finding;
use washline::read::{Changes, HeldBy, Reading, Setting, Swap, codes, read, read_changed};
use washline::scenario::swap::{ranked, solve_each};
use washline::solve::{Ending, Stop};

const BRIEF: &str = r#"
currency = "GBP"
[serve]
method = "shake"
glass = "160 ml"
[targets]
strength = { min = 10, max = 25 }
[aim]
lowest = "strength"
[[candidate]]
larder = "aged rum"
[[candidate]]
larder = "lime juice"
must = true
[[candidate]]
name = "house verjus"
larder = "verjus"
role = "sour"
out = true
[[candidate]]
larder = "sugar syrup 1:1"
[[candidate]]
larder = "citric acid"
role = "seasoning"
max = "1 g"
[[choose]]
among = ["lime juice", "citric acid"]
min = 1
max = 2
[[proportion]]
of = "lime juice"
to = "sugar syrup 1:1"
min = 0.75
[[proportion]]
of = "sugar syrup 1:1"
to = "aged rum"
max = 1
[reference]
"aged rum" = "50 ml"
"lime juice" = "25 ml"
"sugar syrup 1:1" = "20 ml"
"#;

fn swaps(pairs: &[(&str, &str)]) -> Changes {
    let swap = |(old, new): &(&str, &str)| Swap { old: (*old).to_owned(), new: (*new).to_owned() };
    Changes { swaps: pairs.iter().map(swap).collect(), ..Changes::default() }
}

fn set(mut changes: Changes, key: &str, value: &str) -> Changes {
    changes.settings.push(Setting { key: key.to_owned(), value: value.to_owned() });
    changes
}

#[track_caller]
fn reading(text: &str, changes: &Changes) -> Reading {
    read_changed(text.as_bytes(), changes).unwrap_or_else(|findings| panic!("{findings:#?}"))
}

#[track_caller]
fn refused(text: &str, changes: &Changes) -> Vec<Finding> {
    read_changed(text.as_bytes(), changes).expect_err("a finding")
}

fn names(brief: &Brief, indices: &[usize]) -> Vec<String> {
    indices.iter().map(|at| brief.candidates[*at].name.clone()).collect()
}

#[test]
fn one_goes_out_and_one_comes_in_from_the_larder() {
    let Reading { brief, swapped, .. } = reading(BRIEF, &swaps(&[("lime juice", "lemon juice")]));
    let (old, new) = (brief.find("lime juice").expect("known"), brief.find("lemon juice").expect("known"));
    assert!(brief.candidates[old].out && !brief.candidates[old].must);
    assert!(!brief.candidates[new].out && brief.candidates[new].must);
    assert_eq!(brief.aim, Aim::Nearest(Nearest::Reference));
    let swapped = swapped.expect("a swap");
    assert_eq!(swapped.pairs, [(old, new)]);
    assert_eq!(swapped.held, HeldBy::Custom);
    assert_eq!(swapped.aside.as_deref(), Some("lowest strength"));
    assert_eq!(swapped.dropped, ["lime juice to sugar syrup 1:1"]);
    assert_eq!(brief.proportions.len(), 1, "the other proportion stays");
    let held: Vec<(Measure, f64)> = brief.hold.iter().map(|h| (h.measure, h.within)).collect();
    let custom =
        [(Measure::Volume, 8.0), (Measure::Strength, 0.5), (Measure::Sweetness, 5.0), (Measure::Acid, 0.5)];
    assert_eq!(held, custom);
}

#[test]
fn it_takes_its_place_in_groups_and_its_role() {
    let brief = reading(BRIEF, &swaps(&[("citric acid", "lemon juice")])).brief;
    let new = brief.find("lemon juice").expect("known");
    assert_eq!(brief.candidates[new].role, Role::Seasoning, "that of what goes out");
    assert_eq!(names(&brief, &brief.choose[0].members), ["lime juice", "citric acid", "lemon juice"]);
}

/// Where less of what goes out is not tasted, nor is it of what comes in: but a powder is no liquid, and what the brief
/// itself says of an ingredient stays.
#[test]
fn it_takes_over_the_least_that_is_tasted() {
    let text = BRIEF.replace("must = true", "min = \"7.5 ml\"");
    let least = |old: &str, new: &str| {
        let brief = reading(&text, &swaps(&[(old, new)])).brief;
        brief.candidates[brief.find(new).expect("known")].least
    };
    assert_eq!(least("lime juice", "lemon juice"), 7.5);
    assert_eq!(least("lime juice", "house verjus"), 2.5);
    assert_eq!(least("lime juice", "malic acid"), 0.1);
    assert_eq!(least("sugar syrup 1:1", "agave syrup"), 2.5);
}

#[test]
fn a_candidate_comes_in_as_it_stands() {
    for name in ["house verjus", "House Verjus", "verjus"] {
        let brief = reading(BRIEF, &swaps(&[("lime juice", name)])).brief;
        assert_eq!(brief.candidates.len(), 5, "{name}");
        let verjus = &brief.candidates[brief.find("house verjus").expect("known")];
        assert!(verjus.must && !verjus.out, "{name}");
    }
}

#[test]
fn of_several_offered_for_one_at_least_one_is_used() {
    let brief = reading(BRIEF, &swaps(&[("lime juice", "lemon juice"), ("lime juice", "verjus")])).brief;
    let rule = brief.choose.last().expect("a rule");
    assert_eq!(names(&brief, &rule.members), ["lemon juice", "house verjus"]);
    assert_eq!((rule.min, rule.max), (Some(1), None));
    assert!(brief.candidates.iter().all(|c| !c.must));
}

#[test]
fn several_swaps_at_once() {
    let brief = reading(BRIEF, &swaps(&[("lime juice", "verjus"), ("aged rum", "light rum")])).brief;
    let out: Vec<&str> = brief.candidates.iter().filter(|c| c.out).map(|c| c.name.as_str()).collect();
    assert_eq!(out, ["aged rum", "lime juice"]);
}

#[test]
fn the_briefs_own_hold_and_near_aim_stay() {
    let text =
        format!("{}\n[hold]\nacid = 0.2\n", BRIEF.replace("lowest = \"strength\"", "nearest = \"middle\""));
    let Reading { brief, swapped, .. } = reading(&text, &swaps(&[("lime juice", "lemon juice")]));
    assert_eq!(brief.aim, Aim::Nearest(Nearest::Middle));
    assert_eq!(brief.hold.len(), 1);
    let swapped = swapped.expect("a swap");
    assert_eq!((swapped.held, swapped.aside), (HeldBy::Brief, None));
}

#[test]
fn a_setting_says_more_about_what_comes_in_or_what_to_aim_for() {
    let priced =
        set(swaps(&[("lime juice", "lemon juice")]), "candidate.\"lemon juice\".price", "0.22 per 25 ml");
    let priced = set(priced, "aim.lowest", "acid");
    let brief = reading(BRIEF, &priced).brief;
    assert_eq!(brief.aim, Aim::Lowest(Goal::Measure(Measure::Acid)));
    let lemon = &brief.candidates[brief.find("lemon juice").expect("known")];
    assert_eq!(lemon.cost_per_unit, Some(0.22 / 25.0));
}

#[test]
fn what_a_target_wants_elsewhere_is_not_held() {
    // The reference has some 17 % vol, and this brief wants a light drink.
    let text = BRIEF.replace("strength = { min = 10, max = 25 }", "strength = { max = 9 }");
    let brief = reading(&text, &swaps(&[("lime juice", "lemon juice")])).brief;
    let held: Vec<Measure> = brief.hold.iter().map(|h| h.measure).collect();
    assert_eq!(held, [Measure::Volume, Measure::Sweetness, Measure::Acid]);
}

#[test]
fn swaps_that_make_no_sense_are_told() {
    let code = |changes: &Changes| refused(BRIEF, changes).iter().map(|f| f.code).collect::<Vec<_>>();
    assert_eq!(code(&swaps(&[("lemon", "verjus")])), [codes::BAD_SWAP]);
    assert_eq!(code(&swaps(&[("lime juice", "lime juice")])), [codes::BAD_SWAP]);
    let round = swaps(&[("lime juice", "lemon juice"), ("lemon juice", "verjus")]);
    assert!(code(&round).contains(&codes::BAD_SWAP));
}

#[test]
fn a_reading_without_swaps_has_none() {
    let reading = reading(BRIEF, &set(Changes::default(), "targets.strength.max", "20"));
    assert_eq!(reading.swapped, None);
    assert_eq!(reading.brief.hold, []);
}

/// Found before stopped, stopped before conflict; among those found the better score, then the lower cost, and what
/// costs an unknown sum last; whatever order they were tried in.
#[test]
fn what_was_tried_is_ranked_by_what_came_of_it() {
    // A spirit of so much strength, at such a price: 40 ml of it and nothing else.
    let brief = |strength: u32, price: &str| {
        let text = format!(
            "currency = \"GBP\"\n[serve]\nmethod = \"none\"\npour = \"40 ml\"\n\
             [targets]\nvolume = {{ min = 30, max = 50 }}\nstrength = {{ min = 20, max = 60 }}\n[aim]\nlowest = \"strength\"\n\
             [[candidate]]\nname = \"spirit\"\nrole = \"base\"\nstrength = {strength}\n{price}\n"
        );
        read(text.as_bytes(), &[]).unwrap_or_else(|findings| panic!("{findings:#?}")).brief
    };
    let priced = |pounds: u32| format!("price = \"{pounds}.00 per 1 l\"");
    // Best first, each as a place of this list.
    let all = [
        brief(25, &priced(30)),
        brief(30, &priced(10)),
        brief(30, &priced(20)),
        brief(30, ""),
        brief(45, &priced(1)),
        brief(35, &priced(1)),
        brief(70, &priced(1)),
    ];
    let mut solved = solve_each(&all, 1, &Stop::default(), &|| ());
    assert_eq!(solved[6].ending, Ending::Conflict);
    // One search that was stopped at a spec that no other reaches.
    solved[5].ending = Ending::Stopped;
    for turn in 0..all.len() {
        for back in [false, true] {
            let mut places: Vec<usize> = (0..all.len()).map(|at| (at + turn) % all.len()).collect();
            if back {
                places.reverse();
            }
            let briefs: Vec<Brief> = places.iter().map(|at| all[*at].clone()).collect();
            let tried: Vec<_> = places.iter().map(|at| solved[*at].clone()).collect();
            let order: Vec<usize> = ranked(&briefs, &tried, &[]).into_iter().map(|at| places[at]).collect();
            assert_eq!(order, [0, 1, 2, 3, 4, 5, 6], "{places:?}");
        }
    }
}
