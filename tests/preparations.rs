//! Preparations made in house, worked out by hand beside each test.
//!
//! Densities of sucrose solutions at 20 °C: CRC Handbook of Chemistry and Physics, 102nd ed. (2021),
//! Concentrative Properties of Aqueous Solutions: 20 % mass 1.0810, 50 % mass 1.2295 g/ml. Water at
//! 20 °C: 0.99820 g/ml (the same).

use washline::brief::{Allergen, Brief, Candidate, Handling, Origin, Part, Preparation};
use washline::liquid::Form;
use washline::quantity::Unit;
use washline::read::{codes, read};

/// A brief around ingredients; `sugar` is pure sucrose.
fn brief_of(ingredients: &str) -> Brief {
    let text = format!(
        "currency = \"GBP\"\n[serve]\nmethod = \"none\"\n[targets]\nvolume = {{ max = 100 }}\n\
         [aim]\nlowest = \"volume\"\n\
         [[candidate]]\nname = \"sugar\"\nform = \"powder\"\nsugar = 1000\nprice = \"1.20 per 1 kg\"\nmax = \"9 g\"\n\
         {ingredients}"
    );
    read(text.as_bytes(), &[]).unwrap_or_else(|findings| panic!("{findings:#?}")).brief
}

fn candidate<'a>(brief: &'a Brief, name: &str) -> &'a Candidate {
    &brief.candidates[brief.find(name).expect(name)]
}

fn preparation<'a>(brief: &'a Brief, name: &str) -> &'a Preparation {
    match &candidate(brief, name).origin {
        Origin::Made(preparation) => preparation,
        other => panic!("{name} is {other:?}"),
    }
}

fn part<'a>(preparation: &'a Preparation, name: &str) -> &'a Part {
    preparation.parts.iter().find(|part| part.name == name).expect(name)
}

#[track_caller]
fn near(value: f64, expected: f64, within: f64) {
    assert!((value - expected).abs() <= within, "{value} is not {expected} ± {within}");
}

#[test]
fn syrups_by_weight_have_the_handbooks_sugar() {
    let brief = brief_of(
        "[[candidate]]\nname = \"even\"\nmade = { by = \"weight\", parts = { sugar = 1, water = 1 } }\n\
         [[candidate]]\nname = \"rich\"\nmade = { by = \"weight\", parts = { sugar = 2, water = 1 } }\n",
    );
    let even = candidate(&brief, "even");
    // 50 % mass of 1.2295 g/ml: 614.75 g/L; the row is good to 0.0002 g/ml.
    near(even.label.sugar, 614.75, 0.1);
    near(even.portion.mass, 1.2295, 2e-4);
    assert_eq!(even.label.form, Form::Liquid);
    // 66.67 % mass: 884.5 g/L by the polynomial of Bubník et al. (1995), p. 164.
    near(candidate(&brief, "rich").label.sugar, 884.5, 0.05);
}

#[test]
fn a_nested_preparation_with_losses_costs_what_the_hand_says() {
    let brief = brief_of(
        "[[candidate]]\nname = \"bay tea\"\nprice = \"2.00 per 1 l\"\nyield = 0.8\n\
         [[candidate]]\nname = \"cordial\"\nmade = { by = \"weight\", parts = { syrup = 2, \"bay tea\" = 3 }, loss = 5 }\n\
         [[candidate]]\nname = \"syrup\"\nmade = { by = \"weight\", parts = { sugar = 1, water = 1 }, loss = 10 }\n",
    );
    // Syrup: 0.61475 g of sugar a ml at 0.0012 GBP/g, a tenth of it lost.
    let syrup = candidate(&brief, "syrup");
    near(syrup.cost_per_unit.expect("a cost"), 0.61475 * 0.0012 / 0.9, 2e-7);
    // Cordial: 5 g hold 1 g of sugar, 20 % mass, so they fill 5/1.0810 = 4.62535 ml.
    let cordial = candidate(&brief, "cordial");
    near(cordial.label.sugar, 216.20, 0.05);
    // 1 g of sugar in lossy syrup 0.00133333 GBP; 3 g of tea are 3.00541 ml at 0.0025 GBP/ml, 0.00751352 GBP;
    // together 0.00884685 GBP for 4.62535 ml of which 95 % are left: 0.00201335 GBP/ml.
    near(cordial.cost_per_unit.expect("a cost"), 0.002_013_35, 5e-7);
    // The raw parts for one ml: 1/0.9/4.62535/0.95 g of sugar, as many g of water, 3.00541/4.62535/0.95 ml of tea.
    let raw = preparation(&brief, "cordial");
    assert_eq!((raw.parts.len(), raw.loss), (3, 5.0));
    let sugar = part(raw, "sugar");
    assert_eq!(sugar.per_unit.unit, Unit::G);
    near(sugar.per_unit.value, 0.252_865, 6e-5);
    let water = part(raw, "water");
    assert_eq!(water.per_unit.unit, Unit::Ml);
    near(water.per_unit.value, 0.252_865 / 0.99820, 6e-5);
    near(part(raw, "bay tea").per_unit.value, 0.683_965, 2e-4);
    assert_eq!(part(raw, "bay tea").yielded, 0.8);
}

#[test]
fn spirit_cut_by_volume_meets_the_gauging_manual() {
    // US Gauging Manual, alcohol dilution table: 25.6 volumes of water to 100 of 50 % vol make 40 % vol.
    // The table is for 60 °F and rounded to 0.1 volume, which is 0.03 % vol; ours is at 20 °C.
    let brief = brief_of(
        "[[candidate]]\nname = \"spirit\"\nstrength = 50\n\
         [[candidate]]\nname = \"cut\"\nmade = { by = \"volume\", parts = { spirit = 100, water = 25.6 } }\n",
    );
    near(candidate(&brief, "cut").label.strength, 40.0, 0.05);
}

#[test]
fn natural_ranges_and_properties_go_through_by_mass_balance() {
    let brief = brief_of(
        "[properties]\ncaffeine = { unit = \"mg\" }\n\
         [[candidate]]\nname = \"juice\"\nacid = { typical = 60, min = 50, max = 70 }\ncarries = { caffeine = 40 }\n\
         allergens = [\"sulphites\"]\nhandling = [\"fresh juice\"]\n\
         [[candidate]]\nname = \"half\"\nallergens = [\"celery\"]\n\
         made = { by = \"volume\", parts = { juice = 1, water = 1 } }\n",
    );
    // Acid adds its own volume and water its own: equal volumes make exactly half of everything.
    let half = candidate(&brief, "half");
    near(half.label.acid, 30.0, 1e-9);
    let acid = half.natural.acid.expect("a range");
    near(acid.min, 25.0, 1e-9);
    near(acid.max, 35.0, 1e-9);
    assert_eq!((half.natural.sugar, half.natural.strength), (None, None));
    near(half.carries[0], 20.0, 1e-9);
    assert_eq!(half.allergens, [Allergen::Celery, Allergen::Sulphites]);
    assert_eq!(half.handling, [Handling::FreshJuice]);
    // Water costs nothing, the juice has no price: what the preparation costs is not known.
    assert_eq!(half.cost_per_unit, None);
}

#[test]
fn what_a_density_adds_is_carried_along() {
    // The pulp's 0.05 ml per ml stay: 1 ml of cordial and 1 ml of water make 2 ml by their labels.
    let brief = brief_of(
        "[[candidate]]\nname = \"pulp\"\ndensity = 1.05\n\
         [[candidate]]\nname = \"half\"\nmade = { by = \"volume\", parts = { pulp = 1, water = 1 } }\n",
    );
    near(candidate(&brief, "half").portion.mass, f64::midpoint(1.05, 0.998_201_23), 1e-9);
}

#[test]
fn powders_alone_make_a_powder() {
    let brief = brief_of(
        "[[candidate]]\nname = \"citric\"\nform = \"powder\"\nacid = 1000\nmax = \"2 g\"\nprice = \"9 per 1 kg\"\n\
         [[candidate]]\nname = \"dust\"\nmax = \"2 g\"\nmade = { by = \"weight\", parts = { citric = 1, sugar = 3 } }\n",
    );
    let dust = candidate(&brief, "dust");
    assert_eq!((dust.label.form, dust.unit()), (Form::Powder, Unit::G));
    near(dust.label.acid, 250.0, 1e-9);
    near(dust.label.sugar, 750.0, 1e-9);
    near(dust.cost_per_unit.expect("a cost"), (0.009 + 3.0 * 0.0012) / 4.0, 1e-12);
}

#[test]
fn a_price_of_its_own_makes_a_preparation_bought_in() {
    let brief = brief_of(
        "[[candidate]]\nname = \"syrup\"\nprice = \"3.00 per 1 l\"\nmade = { by = \"weight\", parts = { sugar = 1, water = 1 } }\n\
         [[candidate]]\nname = \"cordial\"\nmade = { by = \"volume\", parts = { syrup = 1 } }\n",
    );
    near(candidate(&brief, "syrup").cost_per_unit.expect("a cost"), 0.003, 1e-12);
    let raw = preparation(&brief, "cordial");
    assert_eq!(raw.parts.iter().map(|p| p.name.as_str()).collect::<Vec<_>>(), ["syrup"]);
    near(candidate(&brief, "cordial").cost_per_unit.expect("a cost"), 0.003, 1e-12);
}

/// `count` preparations, each made of the next alone with a loss of 1 %, and what the last is made of.
fn chain(count: usize, last: &str) -> String {
    let links = (0..count).map(|at| {
        let next = if at + 1 == count { last.to_owned() } else { format!("p{}", at + 1) };
        let made = format!("{{ by = \"weight\", parts = {{ {next} = 1 }}, loss = 1 }}");
        format!("[[candidate]]\nname = \"p{at}\"\nmade = {made}\n")
    });
    links.collect()
}

#[test]
fn a_chain_of_two_hundred_loses_at_each_link_and_changes_nothing_else() {
    let base =
        "[[candidate]]\nname = \"cordial\"\nsugar = 300\nstrength = 5\nacid = 10\nprice = \"4 per 1 l\"\n";
    let brief = brief_of(&format!("{base}{}", chain(200, "cordial")));
    let (first, base) = (candidate(&brief, "p0"), candidate(&brief, "cordial"));
    near(first.label.sugar, base.label.sugar, 1e-9);
    near(first.label.strength, base.label.strength, 1e-9);
    near(first.cost_per_unit.expect("a cost"), 0.004 / 0.99_f64.powi(200), 1e-9);
}

#[test]
fn cycles_upon_cycles_stay_bounded() {
    // Every link also needs the first one: as many cycles as there are links.
    let links = (0..10_000).map(|at| {
        let made = format!("{{ by = \"weight\", parts = {{ p{} = 1, p0 = 1 }} }}", at + 1);
        format!("[[candidate]]\nname = \"p{at}\"\nmade = {made}\n")
    });
    let text = format!(
        "[serve]\nmethod = \"none\"\n[targets]\nvolume = {{ max = 9 }}\n[aim]\nlowest = \"volume\"\n\
         [[candidate]]\nname = \"p10000\"\n{}",
        links.collect::<Vec<_>>().concat()
    );
    let findings = read(text.as_bytes(), &[]).expect_err("cycles");
    assert_eq!(findings.len(), 100);
    assert!(findings.iter().all(|f| f.code == codes::PREP_CYCLE));
}

#[test]
fn more_than_a_hundred_raw_parts_are_refused_even_where_they_come_nested() {
    let base = "currency = \"GBP\"\n[serve]\nmethod = \"none\"\n[targets]\nvolume = { max = 9 }\n[aim]\nlowest = \"volume\"\n";
    let raw: String =
        (0..101).map(|at| format!("[[candidate]]\nname = \"r{at}\"\n")).collect::<Vec<_>>().concat();
    let parts =
        |from: usize, to: usize| (from..to).map(|at| format!("r{at} = 1")).collect::<Vec<_>>().join(", ");
    let made = |name: &str, parts: String| {
        format!("[[candidate]]\nname = \"{name}\"\nmade = {{ by = \"volume\", parts = {{ {parts} }} }}\n")
    };
    let nested = format!(
        "{base}{raw}{}{}{}",
        made("a", parts(0, 60)),
        made("b", parts(60, 101)),
        made("c", "a = 1, b = 1".to_owned())
    );
    for text in [format!("{base}{raw}{}", made("a", parts(0, 101))), nested] {
        let findings = read(text.as_bytes(), &[]).expect_err("too many");
        assert_eq!(findings.iter().map(|f| f.code).collect::<Vec<_>>(), [codes::TOO_MANY]);
    }
}

#[test]
fn ten_thousand_links_do_not_overflow_even_where_they_close_a_cycle() {
    let brief = brief_of(&chain(10_000, "water"));
    near(candidate(&brief, "p0").label.sugar, 0.0, 1e-9);
    let text = format!(
        "[serve]\nmethod = \"none\"\n[targets]\nvolume = {{ max = 9 }}\n[aim]\nlowest = \"volume\"\n{}",
        chain(10_000, "p0")
    );
    let findings = read(text.as_bytes(), &[]).expect_err("a cycle");
    assert_eq!(findings.iter().map(|f| f.code).collect::<Vec<_>>(), [codes::PREP_CYCLE]);
    assert!(findings[0].what.len() < 200, "{}", findings[0].what);
}
