//! Good briefs are read, and mean what they say.

use washline::brief::{
    Aim, Brief, Candidate, Goal, HoldFor, Measure, Nearest, Origin, PourError, Poured, Role, Step, serve,
};
use washline::liquid::{Dilution, Form, Stage};
use washline::read::{Reading, Setting, read, starter};

fn reading(text: &str, settings: &[(&str, &str)]) -> Reading {
    let settings: Vec<_> = settings
        .iter()
        .map(|(key, value)| Setting { key: (*key).to_owned(), value: (*value).to_owned() })
        .collect();
    read(text.as_bytes(), &settings).unwrap_or_else(|findings| panic!("{findings:#?}"))
}

/// A brief around the given ingredients and tables.
fn brief_of(rest: &str) -> Brief {
    let text = format!(
        "currency = \"EUR\"\n[serve]\nmethod = \"none\"\npour = \"2.5 ml\"\nsmallest = \"6 ml\"\n\
         [targets]\nvolume = {{ max = 120 }}\n[aim]\nlowest = \"volume\"\n{rest}"
    );
    reading(&text, &[]).brief
}

fn find<'a>(brief: &'a Brief, name: &str) -> &'a Candidate {
    &brief.candidates[brief.find(name).expect(name)]
}

#[track_caller]
fn near(value: f64, expected: f64, within: f64) {
    assert!((value - expected).abs() <= within, "{value} is not {expected} ± {within}");
}

#[test]
fn own_figures_are_read() {
    let Reading { brief, warnings, .. } = reading(include_str!("good/own-figures.toml"), &[]);
    assert!(warnings.is_empty());
    assert_eq!(brief.aim, Aim::Lowest(Goal::Measure(Measure::Strength)));
    let spirit = &brief.candidates[0];
    assert_eq!((spirit.role, spirit.label.strength), (Role::Base, 40.0));
    assert_eq!((spirit.step.clone(), spirit.least), (Step::Every(2.5), 2.5));
    assert_eq!(spirit.natural.strength.map(|r| (r.min, r.max)), Some((39.7, 40.3)));
    assert_eq!((brief.title.as_str(), brief.currency.code()), ("Untitled drink", "XXX"));
}

#[test]
fn the_starter_reads_without_a_finding() {
    assert!(reading(starter(), &[]).warnings.is_empty());
}

#[test]
fn the_whole_format_is_read() {
    let Reading { brief, warnings, .. } = reading(include_str!("good/damson-and-bay.toml"), &[]);
    assert!(warnings.is_empty());
    // 45 % as weighed on the reference, and the rule's slope around it.
    assert!(matches!(brief.serve.dilution, Dilution::Fit { .. }));
    let pours = &brief.reference.as_ref().expect("a reference").pours;
    let weighed = serve(&brief, pours).drink;
    near(weighed.worked_melt() / weighed.worked, 0.45, 1e-12);
    assert_eq!(brief.serve.glass.map(|glass| glass.holds()), Some(152.0));
    assert_eq!(brief.targets.len(), 12);
    let caffeine = brief.target(Measure::Property(0)).expect("a target");
    assert_eq!((caffeine.min, caffeine.max), (None, Some(0.0)));
    assert_eq!(brief.menu.map(|menu| menu.net()), Some(10.0));
    assert_eq!(brief.reference.as_ref().map(|reference| reference.pours.len()), Some(2));
    assert_eq!(brief.choose.iter().map(|c| c.members.len()).collect::<Vec<_>>(), [3, 2]);
    assert_eq!((brief.proportions[0].min, brief.proportions[0].max), (Some(0.75), Some(1.5)));
    assert_eq!((brief.answer.alternatives, brief.answer.within), (6, Some(15.0)));
    assert_eq!(
        (brief.variation.hold, brief.variation.pour_error),
        (HoldFor::Typical, Some(Poured::Stated(PourError::fixed(1.0))))
    );
    let cordial = find(&brief, "bay leaf cordial");
    assert_eq!((cordial.step.clone(), cordial.least, cordial.most), (Step::Every(1.0), 5.0, Some(30.0)));
    near(cordial.cost_per_unit.expect("a cost"), 0.0062 / 0.95, 1e-12);
    // 10 g in 100 g of 1.0381 g/ml (CRC Handbook, 102nd ed., 2021, sucrose, 10 % mass at 20 °C).
    near(find(&brief, "damson brandy").label.sugar, 103.81, 0.02);
}

#[test]
fn amounts_round_inwards_to_the_step() {
    let brief = brief_of(
        "[[candidate]]\nname = \"a\"\nmin = \"11 ml\"\nmax = \"24.9 ml\"\n\
         [[candidate]]\nname = \"b\"\npour = \"0.3 ml\"\nmax = \"9 ml\"\n\
         [[candidate]]\nname = \"c\"\npour = \"free\"\nmax = \"7.7 ml\"\n\
         [[candidate]]\nname = \"d\"\nmin = \"0.25 fl oz\"\npour = \"0.25 fl oz\"\n\
         [[candidate]]\nname = \"e\"\nform = \"powder\"\nsugar = 1000\nmax = 2.05\n",
    );
    let amounts = |name| {
        let candidate = find(&brief, name);
        (candidate.least, candidate.most)
    };
    assert_eq!(amounts("a"), (12.5, Some(22.5)));
    // The smallest pour of 6 ml is 20 steps of 0.3 ml, and 9 ml are 30: neither loses one to rounding.
    assert_eq!(amounts("b"), (20.0 * 0.3, Some(30.0 * 0.3)));
    assert_eq!(amounts("c"), (6.0, Some(7.7)));
    assert_eq!(amounts("d"), (29.573_529_562_5 / 4.0, None));
    // The smallest pour does not concern powders: one step of a scale that shows 0.1 g.
    near(amounts("e").0, 0.1, 1e-12);
    near(amounts("e").1.expect("a most"), 2.0, 1e-12);
    assert_eq!((find(&brief, "e").role, find(&brief, "a").role), (Role::Seasoning, Role::Modifier));
}

#[test]
fn figures_are_read_in_the_units_that_people_have() {
    let text = "currency = \"GBP\"\n[serve]\nmethod = \"shake\"\n[targets]\nvolume = { min = \"3 1/4 fl oz\", max = 125 }\n\
         strength = 12\nsugar = \"6 %\"\ncost = { max = \"£1.60\" }\n[aim]\nlowest = \"cost\"\n\
         [[candidate]]\nname = \"gin\"\nstrength = \"80 proof\"\nprice = \"£28 per 700 ml\"\n\
         [[candidate]]\nname = \"syrup\"\nsugar = \"50 °Brix\"\nprice = \"3 GBP per 1 l\"\n\
         [[candidate]]\nname = \"juice\"\nacid = { typical = \"6 %\", min = \"5.5 %\", max = 65 }\nprice = \"9 per 1 l\"\n\
         [[candidate]]\nname = \"tap\"\nrole = \"water\"\n";
    let brief = read(text.as_bytes(), &[]).expect("a sound brief").brief;
    let target = |measure| *brief.target(measure).expect("a target");
    // NIST Handbook 44, Appendix C: 29.573 53 ml to the US fluid ounce.
    near(target(Measure::Volume).min.expect("a least"), 3.25 * 29.573_53, 1e-4);
    assert_eq!(target(Measure::Volume).max, Some(125.0));
    // One figure stands for that figure, give or take what is usual, and the brief remembers it.
    assert_eq!((target(Measure::Strength).min, target(Measure::Strength).max), (Some(11.5), Some(12.5)));
    assert_eq!((target(Measure::Sugar).min, target(Measure::Sugar).max), (Some(55.0), Some(65.0)));
    assert_eq!(brief.about, [(Measure::Strength, 12.0), (Measure::Sugar, 60.0)]);
    assert_eq!(target(Measure::Cost).max, Some(1.6));
    // 27 CFR 5.1: 80 proof is 40 % by volume.
    assert_eq!(find(&brief, "gin").label.strength, 40.0);
    near(find(&brief, "gin").cost_per_unit.expect("a price"), 28.0 / 700.0, 1e-12);
    // 50 g in 100 g at a density of 1.2296 g/ml (ICUMSA SPS-4; from memory).
    near(find(&brief, "syrup").label.sugar, 614.8, 0.5);
    let juice = find(&brief, "juice");
    assert_eq!(juice.label.acid, 60.0);
    assert_eq!(juice.natural.acid.map(|range| (range.min, range.max)), Some((55.0, 65.0)));
    assert_eq!(find(&brief, "tap").cost_per_unit, Some(0.0));
}

#[test]
fn a_reference_alone_asks_for_what_is_near_it() {
    let rest = "[serve]\nmethod = \"shake\"\n[reference]\n\"a\" = \"2 oz\"\n\"b\" = \"¾ oz\"\n\
         [[candidate]]\nname = \"a\"\nstrength = 40\n[[candidate]]\nname = \"b\"\nsugar = 600\nacid = 20\n";
    let alone = read(rest.as_bytes(), &[]).expect("a sound brief").brief;
    assert_eq!(alone.aim, Aim::Nearest(Nearest::Reference));
    let widths =
        |brief: &Brief| brief.hold.iter().map(|hold| (hold.measure, hold.within)).collect::<Vec<_>>();
    let close =
        [(Measure::Volume, 8.0), (Measure::Strength, 0.5), (Measure::Sweetness, 5.0), (Measure::Acid, 0.5)];
    assert_eq!(widths(&alone), close);
    let with = |word: &str| read(format!("hold = \"{word}\"\n{rest}").as_bytes(), &[]).expect(word).brief;
    assert_eq!(widths(&with("close")), close);
    assert!(
        widths(&with("loose"))
            .iter()
            .zip(close)
            .all(|((of, within), (measure, near))| { *of == measure && *within > near })
    );
}

#[test]
fn a_setting_changes_the_aim_and_bare_money_is_for_the_same_pack() {
    let text = "currency = \"GBP\"\n[serve]\nmethod = \"shake\"\n[targets]\nvolume = { max = 125 }\n[aim]\nlowest = \"cost\"\n\
         [[candidate]]\nname = \"gin\"\nbrix = 1\nprice = \"28 per 700 ml\"\n";
    for (value, cost) in [("29", 29.0), ("£29.50", 29.5), ("30 per 1 l", 21.0)] {
        let set = reading(
            text,
            &[("aim.highest", "volume"), ("candidate.gin.price", value), ("candidate.gin.sugar", "20")],
        );
        assert_eq!(set.brief.aim, Aim::Highest(Goal::Measure(Measure::Volume)));
        near(find(&set.brief, "gin").cost_per_unit.expect("a price") * 700.0, cost, 1e-9);
        assert_eq!(find(&set.brief, "gin").label.sugar, 20.0);
    }
}

#[test]
fn jiggers_measure_their_sizes_and_all_sums_of_them() {
    let brief = brief_of(
        "[[candidate]]\nname = \"a\"\npour = [\"15 ml\", 20, \"2.5 cl\"]\nmin = 11\nmax = \"34 ml\"\n\
         [[candidate]]\nname = \"b\"\npour = \"jigger 15/25/40/50\"\nmin = \"8 ml\"\nmax = \"19 ml\"\n\
         [[candidate]]\nname = \"c\"\npour = \"Jigger 1/2, 3/4, 1, 1 1/2 oz\"\n\
         [[candidate]]\nname = \"d\"\npour = \"jigger 25/50 ml\"\n\
         [[candidate]]\nname = \"e\"\npour = [\"2.5 ml\", \"5 ml\"]\n",
    );
    let sizes = |name| match &find(&brief, name).step {
        Step::Jigger(jigger) => jigger.sizes().collect::<Vec<f64>>(),
        other => panic!("{name}: {other:?}"),
    };
    assert_eq!(sizes("a"), [15.0, 20.0, 25.0]);
    // 11 ml is less than the least; of 15, 20, 25, 30 the last is under 34.
    assert_eq!((find(&brief, "a").least, find(&brief, "a").most), (15.0, Some(30.0)));
    // Each and its half. From 8 ml on 12.5 is the first; 15 = 7.5 + 7.5 the last under 19, for 17.5 is no sum.
    assert_eq!(sizes("b"), [7.5, 12.5, 15.0, 20.0, 25.0, 40.0, 50.0]);
    assert_eq!((find(&brief, "b").least, find(&brief, "b").most), (12.5, Some(15.0)));
    // A US fluid ounce (NIST Handbook 44, Appendix C) in eighths: the half of 3/4 is 3/8, that of 1/2 is 1/4.
    let eighths: Vec<f64> = sizes("c").iter().map(|ml| ml / 29.573_529_562_5 * 8.0).collect();
    for (eighth, expected) in eighths.iter().zip([2.0, 3.0, 4.0, 6.0, 8.0, 12.0]) {
        near(*eighth, expected, 1e-9);
    }
    // Halves and wholes of 25 and 50 are every 12.5 ml, and a list may be a step as well.
    assert_eq!(find(&brief, "d").step, Step::Every(12.5));
    assert_eq!(find(&brief, "e").step, Step::Every(2.5));
}

#[test]
fn prices_come_down_to_one_unit_in_the_glass() {
    let brief = brief_of(
        "[[candidate]]\nname = \"honey\"\ndensity = 1.4\nsugar = 1100\nprice = \"8.00 per 1 kg\"\n\
         [[candidate]]\nlarder = \"water\"\n[[candidate]]\nlarder = \"lime juice\"\n",
    );
    // 1.4 g of every ml at 0.008 EUR/g.
    near(find(&brief, "honey").cost_per_unit.expect("a cost"), 0.0112, 1e-12);
    assert_eq!(find(&brief, "water").cost_per_unit, Some(0.0));
    assert_eq!(find(&brief, "lime juice").cost_per_unit, None);
}

#[test]
fn a_key_overrides_the_larder_and_what_depends_on_it() {
    let brief = brief_of(
        "[[candidate]]\nlarder = \"lime juice\"\n\
         [[candidate]]\nlarder = \"lime juice\"\nname = \"sour lime\"\nacid = 70\nsugar = { typical = 10, max = 12 }\n",
    );
    let (lime, sour) = (find(&brief, "lime juice"), find(&brief, "sour lime"));
    // What the larder had to judge of the acid is of no account once the brief gives it.
    let judges_acid = |c: &Candidate| matches!(&c.origin, Origin::Larder { judged, .. } if judged.iter().any(|words| words.contains("acid")));
    assert!(judges_acid(lime) && !judges_acid(sour));
    assert!(matches!(&sour.origin, Origin::Larder { entry, .. } if entry == "lime juice"));
    assert_eq!((sour.role, sour.label.acid, sour.natural.acid), (lime.role, 70.0, None));
    assert_eq!(sour.natural.sugar.map(|r| (r.min, r.max)), Some((10.0, 12.0)));
    // The larder's density went with the larder's sugar.
    assert_eq!(sour.label.density, None);
}

#[test]
fn every_ingredient_of_the_larder_can_be_used_to_the_ends_of_its_ranges() {
    // An end of a range that no liquid could have would be a finding.
    let one =
        |entry: &washline::larder::Entry| format!("[[candidate]]\nlarder = \"{}\"\nmax = 10\n", entry.name);
    let list: Vec<_> = washline::larder::all().iter().map(one).collect();
    let brief = brief_of(&list.concat());
    assert!(list.len() >= 120 && brief.candidates.len() == list.len());
}

#[test]
fn caffeine_and_sodium_come_from_the_larder_in_the_propertys_unit() {
    let brief = brief_of(
        "[properties]\ncaffeine = { unit = \"mg\" }\nsodium = { unit = \"g\", per = \"litre\" }\n\
         [[candidate]]\nlarder = \"black tea\"\n[[candidate]]\nlarder = \"salt\"\nmax = \"1 g\"\n\
         [[candidate]]\nlarder = \"black tea\"\nname = \"mild tea\"\ncarries = { caffeine = 10 }\n",
    );
    let entry = |name| washline::larder::find(name).expect(name);
    assert!(entry("black tea").caffeine > 0.0 && entry("salt").sodium > 0.0);
    assert_eq!(find(&brief, "black tea").carries[0], entry("black tea").caffeine);
    assert_eq!(find(&brief, "salt").carries[1], entry("salt").sodium / 1000.0);
    assert_eq!(find(&brief, "mild tea").carries[0], 10.0);
}

#[test]
fn extra_figures_reach_the_portion() {
    let brief = brief_of(
        "[[candidate]]\nname = \"erythritol syrup\"\npolyols = 400\npolyol_sweetness = 0.6\npolyol_energy = 0\n\
         other_energy = 100\nhandling = [\"polyol\", \"raw egg\"]\n",
    );
    let syrup = find(&brief, "erythritol syrup");
    near(syrup.portion.sweet, 0.24, 1e-12);
    near(syrup.portion.energy, 0.1, 1e-12);
    assert_eq!(syrup.portion.sugars, 0.0);
    assert_eq!(syrup.handling.iter().map(|h| h.keyword()).collect::<Vec<_>>(), ["raw egg", "polyol"]);
}

#[test]
fn settings_reach_every_corner_of_a_brief() {
    let text = include_str!("good/damson-and-bay.toml");
    let set = |settings: &[(&str, &str)]| reading(text, settings).brief;
    let brief = set(&[
        ("targets.strength.max", "12"),
        ("candidate.\"lime juice\".price", "0.50 per 25 ml"),
        ("candidate.lime juice.max", "20 ml"),
        ("candidate.0.price", "\"21 per 700 ml\""),
        ("candidate.bay leaf cordial.acid", "{ typical = 15, min = 10 }"),
        ("candidate.bay leaf cordial.must", "false"),
        ("reference.\"bay leaf cordial\"", "10"),
        ("answer.within", "5"),
        ("title", "A colder sour"),
        ("targets.strength.max", "12.5"),
    ]);
    assert_eq!(brief.target(Measure::Strength).and_then(|t| t.max), Some(12.5));
    let lime = find(&brief, "lime juice");
    near(lime.cost_per_unit.expect("a cost"), 0.02, 1e-12);
    assert_eq!(lime.most, Some(20.0));
    near(brief.candidates[0].cost_per_unit.expect("a cost"), 0.03, 1e-12);
    let cordial = find(&brief, "bay leaf cordial");
    assert_eq!((cordial.label.acid, cordial.must), (15.0, false));
    assert_eq!(brief.reference.expect("a reference").pours.len(), 3);
    assert_eq!((brief.answer.within, brief.title.as_str()), (Some(5.0), "A colder sour"));
    // A table that the text does not have is made.
    let bare = reading(include_str!("good/own-figures.toml"), &[("targets.sugar.max", "40")]);
    assert_eq!(bare.brief.target(Measure::Sugar).and_then(|t| t.max), Some(40.0));
}

#[test]
fn reading_is_the_same_every_time() {
    let text = include_str!("good/damson-and-bay.toml");
    assert_eq!(reading(text, &[]), reading(text, &[]));
    assert_eq!(find(&reading(text, &[]).brief, "citric acid").label.form, Form::Powder);
}

/// A drink of gin, lemon and something on top, made and served as said.
fn long_drink(serve: &str) -> Brief {
    let text = format!(
        "[serve]\n{serve}\n[targets]\nvolume = {{ max = 250 }}\n[aim]\nlowest = \"volume\"\n\
         [[candidate]]\nlarder = \"gin\"\n[[candidate]]\nlarder = \"lemon juice\"\n\
         [[candidate]]\nlarder = \"tonic water\"\n[[candidate]]\nname = \"still wine\"\nstrength = 12\ntop = true\n\
         [[candidate]]\nlarder = \"brut sparkling wine\"\ntop = false\ntemperature = 12\n"
    );
    reading(&text, &[]).brief
}

#[test]
fn what_holds_gas_tops_the_drink_up_unless_the_brief_says_otherwise() {
    let brief = long_drink("method = \"shake\"");
    let stages: Vec<Stage> = brief.candidates.iter().map(|c| c.stage).collect();
    assert_eq!(stages, [Stage::Made, Stage::Made, Stage::Topped, Stage::Topped, Stage::Made]);
    assert_eq!(
        brief.candidates.iter().map(|c| c.portion.worked).collect::<Vec<_>>(),
        [1.0, 1.0, 0.0, 0.0, 1.0]
    );
    let degrees: Vec<f64> = brief.candidates.iter().map(|c| c.label.temperature).collect();
    assert_eq!(degrees, [20.0, 5.0, 5.0, 20.0, 12.0]);
    assert!(brief.serve.ice.is_none());
}

#[test]
fn a_built_drink_with_gas_stands_on_ice_and_one_without_keeps_its_rule() {
    let gas = long_drink("method = \"build\"\nglass = \"300 ml\"");
    let ice = gas.serve.ice.expect("ice");
    near(ice.mass, 100.0, 1e-9);
    assert_eq!((gas.serve.dilution, ice.balance.is_some()), (Dilution::Share(0.0), true));
    // 285 ml under the headroom, less 100 g of ice at 0.9167 g/ml (CRC Handbook).
    near(gas.serve.glass.expect("a glass").holds(), 285.0 - 109.09, 0.01);
    let given = long_drink("method = \"build\"\nmelt = 20");
    assert_eq!(
        (given.serve.dilution, given.serve.ice.and_then(|ice| ice.balance)),
        (Dilution::Share(0.2), None)
    );
    let still = "[serve]\nmethod = \"build\"\n[targets]\nvolume = { max = 250 }\n[aim]\nlowest = \"volume\"\n\
                 [[candidate]]\nlarder = \"gin\"\n";
    let still = reading(still, &[]).brief;
    assert_eq!((still.serve.dilution, still.serve.ice), (Dilution::Share(0.24), None));
}

#[test]
fn a_given_melt_keeps_its_spread() {
    let of = |melt: &str| long_drink(&format!("method = \"shake\"\nmelt = {melt}")).serve;
    assert_eq!((of("43").dilution, of("43").spread), (Dilution::Share(0.43), 0.05));
    assert_eq!(of("{ typical = 43, spread = 4 }").spread, 0.04);
    assert_eq!(of("{ typical = 43, exact = true }").spread, 0.0);
    // Weighed at 20 % vol before the ice, where the rule has 0.203 + 1.742/5 - 1.567/25 = 0.4887.
    let shifted = of("{ typical = 43, at = 20 }").dilution;
    near(shifted.at(0.2), 0.43, 1e-12);
    near(shifted.at(0.3) - shifted.at(0.2), 0.1742 - 1.567 * 0.05, 1e-12);
}
