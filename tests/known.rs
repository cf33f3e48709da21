//! From a drink that is known to a brief that answers: forty drinks of our own in ten families, and what a
//! family's skeleton makes of an ordinary shelf. The names are invented; the specs are ordinary ones of their kind.

use std::sync::Arc;

use washline::brief::{Brief, Measure, Pour, Role, serve};
use washline::draft::{At, Wish, brief, measured};
use washline::explain::variation::within_all;
use washline::larder::{FAMILIES, Family};
use washline::read::{Changes, House, Reading, read_changed};
use washline::solve::{Ending, Solved, Stop, solve};

/// Family, name, line.
const DRINKS: [(&str, &str, &str); 40] = [
    ("sour", "Ferry Steps sour", "50 ml aged rum, 25 ml lime juice, 20 ml sugar syrup 1:1"),
    ("sour", "Low Tide", "60 ml gin, 25 ml lemon juice, 20 ml honey syrup 2:1"),
    ("sour", "Rope Walk", "2 oz bourbon, 2 dashes aromatic bitters, ¾ oz lemon juice, ¾ oz sugar syrup 1:1"),
    ("sour", "Mooring", "5 cl tequila, 2.5 cl lime juice, 1 cl agave syrup"),
    ("daisy", "Ebb", "50 ml tequila, 20 ml triple sec, 25 ml lime juice"),
    ("daisy", "Slack Water", "45 ml brandy, 25 ml triple sec, 20 ml lemon juice"),
    ("daisy", "Spindrift", "50 ml gin, 15 ml maraschino liqueur, 20 ml lemon juice, 5 ml sugar syrup 1:1"),
    ("daisy", "Hawser", "50 ml vodka, 20 ml elderflower liqueur, 20 ml lemon juice"),
    ("collins", "Long Reach", "50 ml gin, 25 ml lemon juice, 20 ml sugar syrup 1:1, top soda water"),
    ("collins", "Tow Path", "50 ml light rum, 25 ml lime juice, 20 ml sugar syrup 1:1, 80 ml soda water"),
    ("collins", "Weir", "1 1/2 oz vodka, 1 oz lemon juice, 3/4 oz sugar syrup 1:1, 3 oz soda water"),
    ("collins", "Gravel Bank", "50 ml tequila, 20 ml lime juice, 15 ml agave syrup, soda water to top"),
    ("highball", "Nine Stools", "45 ml gin, 135 ml tonic water"),
    ("highball", "Landing Stage", "50 ml bourbon, 120 ml ginger ale"),
    ("highball", "Bollard", "45 ml blended whisky, 120 ml soda water"),
    ("highball", "Lantern", "50 ml vodka, 120 ml ginger beer"),
    ("spritz", "Evening Ferry", "60 ml bitter aperitif 11%, 90 ml brut sparkling wine, 30 ml soda water"),
    ("spritz", "Elder Bank", "40 ml elderflower liqueur, 90 ml brut sparkling wine, 40 ml soda water"),
    ("spritz", "Red Buoy", "45 ml red bitter aperitif, 75 ml brut sparkling wine, 45 ml soda water"),
    (
        "spritz",
        "Pontoon",
        "40 ml red bitter aperitif, 20 ml sweet vermouth, 90 ml brut sparkling wine, 30 ml soda water",
    ),
    ("stirred", "Harbour Master", "60 ml bourbon, 30 ml sweet vermouth, 2 dashes aromatic bitters"),
    ("stirred", "Pilot", "60 ml gin, 20 ml dry vermouth, 1 dash orange bitters"),
    (
        "stirred",
        "Lighterman",
        "45 ml aged rum, 30 ml sweet vermouth, 5 ml maraschino liqueur, 2 dashes aromatic bitters",
    ),
    ("stirred", "Sextant", "50 ml brandy, 25 ml sweet vermouth, 10 ml curaçao, 2 dashes orange bitters"),
    ("sling", "Anchor Stock", "60 ml bourbon, 10 ml sugar syrup 1:1, 2 dashes aromatic bitters"),
    ("sling", "Capstan", "60 ml aged rum, 7.5 ml demerara syrup 1:1, 2 dashes aromatic bitters"),
    ("sling", "Old Rudder", "60 ml tequila, 7.5 ml agave syrup, 2 dashes orange bitters"),
    ("sling", "Cask Hoop", "60 ml brandy, 10 ml sugar syrup 1:1, 3 dashes aromatic bitters"),
    ("punch", "Boathouse", "45 ml aged rum, 20 ml lime juice, 20 ml sugar syrup 1:1, 60 ml black tea"),
    ("punch", "Wharf Cat", "45 ml brandy, 20 ml lemon juice, 20 ml honey syrup 1:1, 60 ml black tea"),
    ("punch", "Tarpaulin", "50 ml gin, 20 ml lemon juice, 15 ml sugar syrup 1:1, 50 ml apple juice"),
    ("punch", "Ballast", "40 ml bourbon, 20 ml lemon juice, 20 ml demerara syrup 1:1, 70 ml apple juice"),
    ("flip", "Night Crossing", "50 ml brandy, 20 ml sugar syrup 1:1, 1 whole egg"),
    ("flip", "Winter Quay", "50 ml aged rum, 20 ml demerara syrup 1:1, 50 ml whole egg"),
    ("flip", "Cream Sail", "45 ml bourbon, 20 ml sugar syrup 1:1, 45 ml light cream"),
    ("flip", "Galley", "50 ml apple brandy, 20 ml maple syrup, 1 whole egg"),
    ("alcohol-free", "Dry Dock", "25 ml lemon juice, 25 ml sugar syrup 1:1, 150 ml soda water"),
    ("alcohol-free", "Ferryman's Tea", "20 ml lemon juice, 20 ml honey syrup 1:1, 120 ml black tea"),
    (
        "alcohol-free",
        "Orchard Lock",
        "15 ml lime juice, 10 ml sugar syrup 1:1, 75 ml apple juice, 75 ml soda water",
    ),
    ("alcohol-free", "Ginger Mole", "20 ml lime juice, 20 ml ginger syrup, 120 ml soda water"),
];

fn family(name: &str) -> &'static Family {
    Family::find(name).unwrap_or_else(|| panic!("no family {name}"))
}

fn wish(line: &str, family: &Family) -> Wish {
    Wish { line: Some(line.to_owned()), method: Some(family.method), ..Wish::default() }
}

/// Writes the brief, reads it and solves it.
#[track_caller]
fn solved(name: &str, wish: &Wish) -> (String, Brief, Solved) {
    let text = brief(wish).unwrap_or_else(|findings| panic!("{name}: {findings:#?}"));
    let changes = Changes { house: wish.at.as_ref().map(|at| Arc::clone(&at.house)), ..Changes::default() };
    let Reading { brief, .. } = read_changed(text.as_bytes(), &changes)
        .unwrap_or_else(|findings| panic!("{name}: {findings:#?}\n{text}"));
    let solved = solve(&brief, &Stop::within_reason());
    (text, brief, solved)
}

/// Every line but headings of the file says what it is for.
fn commented(text: &str) -> bool {
    text.lines().all(|line| line.is_empty() || line.contains('#'))
}

#[test]
fn forty_drinks_in_ten_families_are_written_down_and_solve() {
    for (of, name, line) in DRINKS {
        let (text, brief, solved) = solved(name, &wish(line, family(of)));
        assert!(commented(&text), "{name}:\n{text}");
        // The drink itself is one answer, but for what its card has finer than a bar pours.
        assert!(!solved.specs.is_empty(), "{name}: {:?}\n{text}", solved.ending);
        let reference = brief.reference.as_ref().expect("the drink itself");
        let count = line.split(',').count();
        assert_eq!(reference.pours.len(), count, "{name}");
        assert!(solved.specs[0].score <= 2.0, "{name}: {} ml moved\n{text}", solved.specs[0].score);
    }
}

/// What is held is held with the margins that the drink itself keeps to: each in 95 of 100 serves, all of them in at least
/// three of four. A card in ounces is the drink itself, to the last digit.
#[test]
fn the_drink_itself_holds_in_most_of_its_serves() {
    for (of, name, line) in DRINKS {
        let (text, brief, _) = solved(name, &wish(line, family(of)));
        let reference = brief.reference.as_ref().expect("the drink itself");
        let share = within_all(&brief, &reference.pours).found;
        assert!(share >= 0.75, "{name}: {share}\n{text}");
    }
    let (text, _, found) =
        solved("ounces", &wish("2 oz gin, 1 oz dry vermouth, 1/4 oz maraschino", family("stirred")));
    assert!(
        text.contains("\"maraschino liqueur\" = \"0.25 fl oz\"") && found.specs[0].score < 1e-7,
        "{text}"
    );
}

#[test]
fn a_lighter_one_solves_or_states_its_conflict() {
    let mut solves = 0;
    for (of, name, line) in DRINKS.iter().filter(|(of, ..)| *of != "alcohol-free") {
        let drink = measured(line, Some(family(of).method), None).expect("measured");
        let strength = serve(&drink.brief, &drink.pours).value(Measure::Strength);
        let most = (0.75 * strength).round();
        let (text, _, solved) = solved(name, &Wish { lighter: Some(most), ..wish(line, family(of)) });
        assert!(commented(&text), "{name}:\n{text}");
        match solved.specs.first() {
            Some(best) => {
                solves += 1;
                assert!(best.served.value(Measure::Strength) <= most + 1e-6, "{name}");
            }
            None => assert_eq!(solved.ending, Ending::Conflict, "{name}"),
        }
    }
    assert!(solves >= 24, "only {solves} of 36 can be poured lighter");
}

/// What could stand in is looked for on the ingredient's own shelf, with its notes and without new allergens, before figures
/// alone are: malt vinegar is as sour as lime juice, and condensed milk as sweet as orgeat.
#[test]
fn what_could_stand_in_is_of_its_kind() {
    let line = "40 ml gin, 20 ml lime juice, 60 ml pineapple juice, 15 ml orgeat";
    let text = brief(&wish(line, family("punch"))).expect("a brief");
    for (own, first) in
        [("gin", "old tom gin"), ("lime juice", "calamansi juice"), ("orgeat", "spiced lime syrup")]
    {
        let told = text.lines().skip_while(|l| !l.contains(&format!("could stand in for {own}"))).nth(1);
        assert!(told.is_some_and(|told| told.contains(&format!("\"{first}\""))), "{own}: {told:?}\n{text}");
    }
    for other in ["vinegar", "milk", "cream"] {
        assert!(!text.contains(other), "{other}:\n{text}");
    }
}

/// A lighter one keeps one of each kind that the drink has: it is no Manhattan without its vermouth and its bitters.
#[test]
fn what_seasons_a_drink_stays_in_it() {
    let line = "60 ml bourbon, 30 ml sweet vermouth, 2 dashes aromatic bitters";
    let (_, brief, solved) =
        solved("lighter", &Wish { lighter: Some(18.0), ..wish(line, family("stirred")) });
    let best = solved.specs.first().expect("a spec");
    for role in [Role::Base, Role::Modifier, Role::Bitters] {
        assert!(best.pours.iter().any(|pour| brief.candidates[pour.candidate].role == role), "{role:?}");
    }
}

/// Specs of the International Bartenders Association's list, from memory, in the larder's words: none of them decided a
/// range but the two that are marked. What the list calls few dashes are two.
const LISTED: [(&str, &str); 14] = [
    ("sour", "45 ml bourbon, 25 ml lemon juice, 20 ml sugar syrup 1:1"),
    ("sour", "60 ml light rum, 20 ml lime juice, 8 g sugar, white"),
    // Widened the sour's volume.
    ("sour", "60 ml pisco, 30 ml lemon juice, 20 ml sugar syrup 1:1, 1 egg white"),
    ("daisy", "50 ml tequila, 20 ml triple sec, 15 ml lime juice"),
    ("daisy", "50 ml brandy, 20 ml triple sec, 20 ml lemon juice"),
    ("daisy", "40 ml gin, 30 ml triple sec, 20 ml lemon juice"),
    // Widened the collins' volume and acid.
    ("collins", "45 ml gin, 30 ml lemon juice, 15 ml sugar syrup 1:1, 60 ml soda water"),
    ("highball", "40 ml brandy, 120 ml ginger ale"),
    ("highball", "60 ml aged rum, 100 ml ginger beer"),
    ("spritz", "60 ml bitter aperitif 11%, 90 ml brut sparkling wine, 30 ml soda water"),
    ("stirred", "50 ml bourbon, 20 ml sweet vermouth, 1 dash aromatic bitters"),
    ("stirred", "60 ml gin, 10 ml dry vermouth"),
    ("sling", "45 ml bourbon, 4 g sugar, white, 2 dashes aromatic bitters, 2 ml water"),
    ("sling", "50 ml brandy, 4 g sugar, white, 2 dashes aromatic bitters, 10 ml absinthe"),
];

#[test]
fn listed_specs_measure_as_their_families_do() {
    for (of, line) in LISTED {
        let drink =
            measured(line, Some(family(of).method), None).unwrap_or_else(|f| panic!("{line}: {f:#?}"));
        let served = serve(&drink.brief, &drink.pours);
        let figures =
            [Measure::Volume, Measure::Strength, Measure::Sugar, Measure::Acid].map(|m| served.value(m));
        assert!(
            family(of).outside(|measure| served.value(measure)) <= 0.0,
            "{line} is no {of}: {figures:.1?}"
        );
    }
}

/// Our own drinks were written down by how such drinks are poured; that each lies in its range finds slips of either.
#[test]
fn each_measures_as_its_family_does() {
    let mut strangers: Vec<String> = Vec::new();
    for (of, name, line) in DRINKS {
        let drink =
            measured(line, Some(family(of).method), None).unwrap_or_else(|f| panic!("{name}: {f:#?}"));
        let served = serve(&drink.brief, &drink.pours);
        let outside = family(of).outside(|measure| served.value(measure));
        let figures =
            [Measure::Volume, Measure::Strength, Measure::Sugar, Measure::Acid].map(|m| served.value(m));
        if outside > 0.0 {
            strangers.push(format!("{name} is no {of}: {figures:.1?}"));
        }
    }
    assert!(strangers.is_empty(), "{strangers:#?}");
}

/// An ordinary shelf with prices that a small bar could pay; invented.
const SHELF: &str = r#"
currency = "GBP"
[[candidate]]
larder = "gin"
price = "16.80 per 700 ml"
[[candidate]]
larder = "light rum"
price = "15.40 per 700 ml"
[[candidate]]
larder = "aged rum"
price = "17.50 per 700 ml"
[[candidate]]
larder = "overproof rum"
price = "20.00 per 700 ml"
[[candidate]]
larder = "vodka"
price = "12.00 per 700 ml"
[[candidate]]
larder = "triple sec"
price = "14.00 per 700 ml"
[[candidate]]
larder = "maraschino liqueur"
price = "18.00 per 700 ml"
[[candidate]]
larder = "sweet vermouth"
price = "9.50 per 750 ml"
[[candidate]]
larder = "dry vermouth"
price = "9.00 per 750 ml"
[[candidate]]
larder = "red bitter aperitif"
price = "16.00 per 700 ml"
[[candidate]]
larder = "bitter aperitif 11%"
price = "13.00 per 700 ml"
[[candidate]]
larder = "brut sparkling wine"
price = "8.00 per 750 ml"
[[candidate]]
larder = "lemon juice"
price = "0.22 per 25 ml"
[[candidate]]
larder = "lime juice"
price = "0.28 per 25 ml"
[[candidate]]
larder = "verjus"
price = "7.20 per 750 ml"
[[candidate]]
larder = "sugar syrup 1:1"
price = "1.10 per 1 l"
[[candidate]]
larder = "honey syrup 2:1"
price = "6.00 per 1 l"
[[candidate]]
larder = "aromatic bitters"
price = "12.00 per 200 ml"
[[candidate]]
larder = "soda water"
price = "0.60 per 1 l"
[[candidate]]
larder = "tonic water"
price = "1.60 per 1 l"
[[candidate]]
larder = "ginger ale"
price = "1.60 per 1 l"
[[candidate]]
larder = "black tea"
price = "0.35 per 1 l"
[[candidate]]
larder = "apple juice"
price = "2.10 per 1 l"
[[candidate]]
larder = "whole egg"
price = "0.30 per 50 ml"
[[candidate]]
larder = "light cream"
price = "4.20 per 1 l"
"#;

#[test]
fn the_cheapest_of_a_skeleton_is_a_drink_that_one_tastes() {
    let house = Arc::new(House { name: "shelf.toml".to_owned(), bytes: SHELF.as_bytes().to_vec() });
    for family in &FAMILIES {
        let at = Some(At { house: Arc::clone(&house), path: "shelf.toml".to_owned() });
        let (text, brief, solved) =
            solved(family.name, &Wish { family: Some(family), at, ..Wish::default() });
        assert!(commented(&text) && text.contains("lowest = \"cost\""), "{text}");
        let best =
            solved.specs.first().unwrap_or_else(|| panic!("{}: {:?}\n{text}", family.name, solved.ending));
        for need in family.needs {
            let of_role = |p: &&Pour| brief.candidates[p.candidate].role == need.role;
            let amounts: Vec<f64> = best.pours.iter().filter(of_role).map(|p| p.amount).collect();
            assert!(!amounts.is_empty(), "{}: no {}", family.name, need.role.keyword());
            assert!(
                amounts.iter().all(|a| *a >= need.least - 1e-9),
                "{}: a trace of {}",
                family.name,
                need.role.keyword()
            );
        }
        assert!(family.outside(|measure| best.served.value(measure)) <= 1e-9, "{}", family.name);
    }
}

#[test]
fn what_is_asked_for_is_in_the_brief_or_told_all_at_once() {
    let line = "50 ml aged rum, 25 ml lime juice, 20 ml sugar syrup 1:1";
    let known = wish(line, family("sour"));
    let (_, brief_without, solved_without) =
        solved("without", &Wish { without: vec!["Lime Juices".to_owned()], ..known.clone() });
    let lime = brief_without.find("lime juice").expect("known");
    assert!(brief_without.candidates[lime].out);
    assert!(solved_without.specs.iter().all(|spec| spec.pours.iter().all(|pour| pour.candidate != lime)));
    let note = Wish { notes: vec!["honey".to_owned()], ..known.clone() };
    let (_, brief_note, solved_note) = solved("note", &note);
    let best = solved_note.specs.first().expect("a spec with honey");
    assert!(best.pours.iter().any(|pour| brief_note.candidates[pour.candidate].has_note("honey")));
    let faulty = Wish { notes: vec!["wet slate".to_owned()], under: Some(1.2), lighter: Some(60.0), ..known };
    let codes: Vec<&str> = brief(&faulty).expect_err("faults").iter().map(|finding| finding.code).collect();
    assert_eq!(codes, ["not-lighter", "no-price", "unknown-note"]);
}

/// Words that name nothing to aim at are told before anything is written.
#[test]
fn an_aim_is_one_that_the_brief_can_have() {
    let known = wish("50 ml gin, 25 ml lemon juice, 20 ml honey syrup 2:1", family("sour"));
    let aim = |words: &str| Wish { aim: Some(words.to_owned()), ..known.clone() };
    for (words, line) in [
        ("lowest strength", "lowest = \"strength\""),
        ("energy", "lowest = \"energy\""),
        ("Nearest middle", "nearest = \"middle\""),
        ("middle", "nearest = \"middle\""),
        ("highest gin", "highest = \"gin\""),
    ] {
        let text = brief(&aim(words)).unwrap_or_else(|f| panic!("{words}: {f:#?}"));
        assert!(text.contains(line), "{words}: {text}");
    }
    for words in ["lowest cots", "nearest cost", "", "highest", "highest notes"] {
        let findings = brief(&aim(words)).expect_err(words);
        assert_eq!(findings.len(), 1, "{words}: {findings:#?}");
    }
    let notes = Wish { notes: vec!["honey".to_owned(), "citrus peel".to_owned()], ..aim("highest notes") };
    let (text, brief, solved) = solved("notes", &notes);
    assert!(text.contains("highest = { notes = [\"honey\", \"citrus peel\"] }"), "{text}");
    assert_eq!(solved.specs.first().map(|spec| spec.score), Some(2.0), "{:?}", brief.notes);
}
