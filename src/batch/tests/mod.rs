//! Batches worked out by hand beside what the room makes of them.

use std::str::FromStr as _;

use super::*;
use crate::brief::{Allergen, Pour};
use crate::read::read;

fn brief(serve: &str, rest: &str) -> Brief {
    let text = format!(
        "title = \"Test\"\ncurrency = \"GBP\"\n[serve]\n{serve}\n[targets]\nvolume = {{ min = 1, max = 1000 }}\n\
         [aim]\nlowest = \"strength\"\n{rest}"
    );
    read(text.as_bytes(), &[]).unwrap_or_else(|findings| panic!("{findings:#?}")).brief
}

fn spec(brief: &Brief, pours: &[(&str, f64)]) -> Spec {
    let pours: Vec<Pour> = pours
        .iter()
        .map(|(name, amount)| Pour { candidate: brief.find(name).expect(name), amount: *amount })
        .collect();
    let served = serve(brief, &pours);
    Spec { pours, served, score: 0.0 }
}

fn serves(count: f64) -> Order {
    Order { size: Size::Serves(count), water: Water::FromIce, bottle: None, pour_cost: None, waste: 0.0 }
}

fn made(brief: &Brief, pours: &[(&str, f64)], order: &Order) -> Batch {
    batch(brief, &spec(brief, pours), order).expect("a batch")
}

fn decimal(text: &str) -> Decimal {
    Decimal::from_str(text).expect(text)
}

mod figures;
mod thresholds;

const SPIRIT: &str = "[[candidate]]\nname = \"spirit\"\nrole = \"base\"\nstrength = 40\n\
                      price = \"21.00 per 700 ml\"\n";
const SYRUP: &str = "[[candidate]]\nname = \"syrup\"\nrole = \"sweetener\"\nsugar = 600\n\
                     price = \"6.20 per 1 l\"\nyield = 0.95\n";

/// By hand: 60 serves of 50 ml spirit and 10 ml syrup. 3000 ml of spirit are 4.29 bottles, so 5 at
/// 21.00 with 500 ml left; by use 3000/700 of 21.00 = 90.00. Of the syrup 95 % reach the glass: 600/0.95
/// = 631.579 ml, one litre at 6.20 with 368.421 ml left; by use 3.915 789. Together 93.915 789, a serve
/// 1.565 263. At 12.00 with 20 % tax the net price is 10.00: pour cost 15.652 63 %, profit 8.434 737.
/// A pour cost of 20 % needs 1.565 263 / 0.2 = 7.826 316 net, 9.391 579 with tax.
#[test]
fn a_batch_worked_by_hand() {
    let rest = format!("[menu]\nprice = 12.00\ntax = 20\n{SPIRIT}{SYRUP}");
    let brief = brief("method = \"none\"", &rest);
    let order = Order { pour_cost: Some(20.0), ..serves(60.0) };
    let batch = made(&brief, &[("spirit", 50.0), ("syrup", 10.0)], &order);
    let amounts: Vec<Decimal> = batch.lines.iter().map(|l| l.amount).collect();
    assert_eq!(amounts, [decimal("3000"), decimal("600")]);
    let [spirit, syrup] = batch.purchases.as_slice() else { panic!("{:?}", batch.purchases) };
    let (bottles, litre) = (spirit.packs.as_ref().expect("packs"), syrup.packs.as_ref().expect("packs"));
    assert_eq!((bottles.count, bottles.money), (decimal("5"), decimal("105.00")));
    assert_eq!((bottles.left_over, spirit.cost), (decimal("500"), Some(decimal("90"))));
    assert_eq!((litre.count, litre.money), (decimal("1"), decimal("6.20")));
    assert_eq!(litre.left_over.round_dp(3), decimal("368.421"));
    let costing = &batch.costing;
    assert_eq!(costing.used.0.round_dp(6), decimal("93.915789"));
    assert_eq!((costing.spend.0, costing.per_serve.0.round_dp(6)), (decimal("111.20"), decimal("1.565263")));
    let menu = costing.menu.expect("a menu");
    assert_eq!(menu.net.0, decimal("10"));
    assert!((menu.pour_cost - 15.65263).abs() < 5e-6, "{menu:?}");
    assert_eq!(menu.gross_profit.0.round_dp(6), decimal("8.434737"));
    let needed = costing.needed.expect("a price");
    assert_eq!(
        (needed.net.0.round_dp(6), needed.price.0.round_dp(6)),
        (decimal("7.826316"), decimal("9.391579"))
    );
    let shares: Vec<Decimal> = costing.shares.iter().map(|s| s.expect("a share").round_dp(2)).collect();
    assert_eq!(shares, [decimal("95.83"), decimal("4.17")]);
}

/// A syrup of 3 parts sugar and 2 of water is 60 % by mass: 1.2864 g/ml (CRC Handbook, 102nd ed.,
/// concentrative properties; ±0.0004). A litre weighs 1286.4 g, 771.8 g of it sugar; with 5 % lost,
/// 812.5 g of sugar and 541.6 g of water go in, 542.6 ml: 813 g and 545 ml in steps that are no less.
#[test]
fn a_house_preparation_is_taken_apart_with_its_loss() {
    let rest = "[[candidate]]\nname = \"sugar\"\nform = \"powder\"\nsugar = 1000\nprice = \"1.30 per 500 g\"\n\
                out = true\n[[candidate]]\nname = \"house syrup\"\nrole = \"sweetener\"\n\
                made = { by = \"weight\", parts = { \"sugar\" = 3, \"water\" = 2 }, loss = 5 }\n";
    let brief = brief("method = \"none\"", &format!("{SPIRIT}{rest}"));
    let batch = made(&brief, &[("spirit", 50.0), ("house syrup", 10.0)], &serves(100.0));
    let [recipe] = batch.recipes.as_slice() else { panic!("{:?}", batch.recipes) };
    assert_eq!((recipe.amount, recipe.loss), (1000.0, 5.0));
    let parts: Vec<_> = recipe.parts.iter().map(|p| (p.ingredient.as_str(), p.amount)).collect();
    assert_eq!(parts, [("sugar", decimal("813")), ("water", decimal("545"))]);
    // The syrup itself is not bought, and neither is water: 813 g of sugar are two packs, 187 g left.
    let names: Vec<&str> = batch.purchases.iter().map(|p| p.name.as_str()).collect();
    assert_eq!(names, ["spirit", "sugar"]);
    let packs = batch.purchases[1].packs.as_ref().expect("packs");
    assert_eq!((packs.count, packs.left_over, packs.money), (decimal("2"), decimal("187"), decimal("2.60")));
    assert_eq!(batch.lines[1].cost, Some(decimal("2.1138")));
}

#[test]
fn what_is_poured_and_prepared_is_bought_together() {
    let rest = "[[candidate]]\nname = \"tea\"\nrole = \"lengthener\"\nprice = \"0.40 per 1 l\"\n\
                [[candidate]]\nname = \"tea syrup\"\nrole = \"sweetener\"\n\
                made = { by = \"volume\", parts = { \"tea\" = 1, \"honey\" = 1 } }\n\
                [[candidate]]\nname = \"honey\"\nsugar = 1100\nprice = \"4 per 1.4 kg\"\ndensity = 1.4\n";
    let brief = brief("method = \"none\"", rest);
    let batch = made(&brief, &[("tea", 30.0), ("tea syrup", 20.0)], &serves(25.0));
    let tea = batch.purchases.iter().find(|p| p.name == "tea").expect("tea");
    // 750 ml poured, and about 250 ml in 500 ml of syrup: they shrink a little.
    let need = to_f64(tea.need);
    assert!((1000.0..1010.0).contains(&need), "{need}");
    assert_eq!(batch.purchases.iter().filter(|p| p.name == "tea").count(), 1);
    // Honey is sold by weight: about 250 ml of 1.4 g/ml.
    let honey = batch.purchases.iter().find(|p| p.name == "honey").expect("honey");
    assert_eq!(honey.unit, Unit::G);
    assert!((350.0..357.0).contains(&to_f64(honey.need)), "{}", honey.need);
}

/// By hand: 57 serves of 50 ml spirit with 5 % waste are mixed as 60: 3000 ml, 4.2857 bottles, 90.00 by use. It is 57
/// guests that pay for them: 1.578 947 each. Of ten litres with a tenth lost, nine are served.
#[test]
fn waste_is_mixed_and_paid_for_and_not_served() {
    let brief = brief("method = \"none\"", SPIRIT);
    let pours = [("spirit", 50.0)];
    let batch = made(&brief, &pours, &Order { waste: 0.05, ..serves(57.0) });
    assert_eq!((batch.serves, batch.lines[0].amount), (57.0, decimal("3000")));
    assert!((batch.mixed - 60.0).abs() < 1e-9 && (batch.vessel.per_serve - 50.0).abs() < 1e-9);
    assert_eq!(batch.costing.used.0, decimal("90"));
    assert_eq!(batch.costing.per_serve.0.round_dp(6), decimal("1.578947"));
    assert!((batch.served.drink.volume - 50.0).abs() < 1e-9, "a serve is a serve");
    let size = Size::Volume(10_000.0);
    let litres = made(&brief, &pours, &Order { size, waste: 0.1, ..serves(1.0) });
    assert_eq!(litres.lines[0].amount, decimal("10000"));
    assert!((litres.serves - 180.0).abs() < 1e-6 && (litres.mixed - 200.0).abs() < 1e-6);
}

#[test]
fn a_need_of_whole_packs_takes_no_more() {
    let brief = brief("method = \"none\"", SPIRIT);
    let batch = made(&brief, &[("spirit", 70.0)], &serves(30.0));
    let packs = batch.purchases[0].packs.as_ref().expect("packs");
    assert_eq!((packs.count, packs.left_over), (decimal("3"), Decimal::ZERO));
}

#[test]
fn what_has_no_price_is_named_and_nothing_is_made_up() {
    let rest = format!("[menu]\nprice = 12\n{SPIRIT}[[candidate]]\nname = \"gift\"\nstrength = 20\n");
    let brief = brief("method = \"none\"", &rest);
    let order = Order { pour_cost: Some(20.0), ..serves(10.0) };
    let batch = made(&brief, &[("spirit", 50.0), ("gift", 10.0)], &order);
    assert_eq!(batch.costing.unpriced, ["gift"]);
    assert_eq!(batch.costing.used.0, decimal("15"));
    assert_eq!((&batch.costing.menu, &batch.costing.needed), (&None, &None));
    assert_eq!(batch.costing.shares, [None, None]);
    assert_eq!(batch.purchases[1].packs, None);
}

/// 27 CFR 30.66, Table 6: at 100 US proof, 50 parts of alcohol and 53.73 of water make 100 parts by
/// volume at 60 °F. At 20 °C the same mix differs by about one part in a thousand.
#[test]
fn a_batch_shrinks_as_spirit_and_water_do() {
    let rest = "[[candidate]]\nname = \"alcohol\"\nstrength = 100\n[[candidate]]\nlarder = \"water\"\n";
    let brief = brief("method = \"none\"", rest);
    let batch = made(&brief, &[("alcohol", 50.0), ("water", 53.73)], &serves(500.0));
    assert_eq!(batch.vessel.parts, 51_865.0);
    assert!((batch.vessel.volume - 50_000.0).abs() < 60.0, "{}", batch.vessel.volume);
    assert!((batch.vessel.strength - 50.0).abs() < 0.06, "{}", batch.vessel.strength);
}

/// European spirits label guidance: a liqueur of 15 % vol and 100 g/L sugar has 123 kcal and 513 kJ in
/// 100 ml.
#[test]
fn the_energy_of_the_published_label() {
    let liqueur = "[[candidate]]\nname = \"liqueur\"\nstrength = 15\nsugar = 100\n";
    let brief = brief("method = \"none\"", liqueur);
    let label = made(&brief, &[("liqueur", 50.0)], &serves(10.0)).label;
    assert_eq!((label.energy_per_100ml.kcal.round(), label.energy_per_100ml.kj.round()), (123.0, 513.0));
    assert_eq!(format!("{:.1}", label.strength), "15.0");
    assert!(label.statements[0].starts_with("15.0 % vol as served"), "{}", label.statements[0]);
    assert_eq!(label.statements.last().map(String::as_str), Some(statements::CHECK));
}

/// NHS: 175 ml of wine at 12 % vol are 2.1 units. NIAAA: 1.5 US fl oz of 80 proof spirit are one standard
/// drink. Both from memory.
#[test]
fn units_of_alcohol_and_standard_drinks() {
    let rest =
        "[[candidate]]\nname = \"wine\"\nstrength = 12\n[[candidate]]\nname = \"gin\"\nstrength = 40\n";
    let brief = brief("method = \"none\"\npour = \"free\"", rest);
    let wine = made(&brief, &[("wine", 175.0)], &serves(40.0)).label;
    assert!((wine.units_of_alcohol - 2.1).abs() < 1e-9, "{}", wine.units_of_alcohol);
    let gin = made(&brief, &[("gin", 44.36)], &serves(500.0)).label;
    assert!((gin.us_standard_drinks - 1.0).abs() < 0.005, "{}", gin.us_standard_drinks);
}

#[test]
fn statements_come_where_they_apply_and_only_there() {
    let rest = "[[candidate]]\nlarder = \"vodka\"\n[[candidate]]\nlarder = \"espresso\"\n\
                [[candidate]]\nlarder = \"tonic water\"\n[[candidate]]\nlarder = \"egg white\"\n\
                [[candidate]]\nlarder = \"maltitol\"\n[[candidate]]\nlarder = \"apple juice\"\n";
    let brief = brief("method = \"none\"\npour = \"free\"", rest);
    let said = |pours: &[(&str, f64)]| made(&brief, pours, &serves(20.0)).label.statements.join("\n");
    let strong = said(&[("vodka", 40.0), ("espresso", 30.0)]);
    assert!(strong.contains("High caffeine content") && strong.contains("27 CFR 16.21"), "{strong}");
    assert!(!strong.contains("alcohol free") && !strong.contains("quinine"), "{strong}");
    let soft = said(&[("apple juice", 90.0), ("tonic water", 60.0)]);
    assert!(soft.contains("quinine") && soft.contains("\"alcohol free\""), "{soft}");
    assert!(!soft.contains("caffeine") && !soft.contains("16.21"), "{soft}");
    let light = said(&[("apple juice", 98.0), ("vodka", 2.0)]);
    assert!(light.contains("\"low alcohol\"") && !light.contains("alcohol free"), "{light}");
    let sweet = said(&[("vodka", 40.0), ("maltitol", 12.0)]);
    assert!(sweet.contains("laxative") && sweet.contains("\"with sweetener(s)\""), "{sweet}");
    let little = said(&[("apple juice", 90.0), ("maltitol", 2.0)]);
    assert!(
        !little.contains("laxative") && little.contains("\"with sugar(s) and sweetener(s)\""),
        "{little}"
    );
    let egg = said(&[("vodka", 40.0), ("egg white", 20.0)]);
    assert!(egg.contains("Contains eggs (EU") && egg.contains("Contains eggs (US"), "{egg}");
}

#[test]
fn the_us_nine_come_from_the_groups_of_the_eu() {
    let nine: std::collections::BTreeSet<_> = Allergen::ALL.into_iter().filter_map(UsAllergen::of).collect();
    assert_eq!(nine.len(), 9);
    assert_eq!(UsAllergen::of(Allergen::Sulphites), None);
}

#[test]
fn added_water_takes_the_place_of_the_ice() {
    let brief = brief("method = \"stir\"", &format!("{SPIRIT}{SYRUP}"));
    let pours = [("spirit", 50.0), ("syrup", 10.0)];
    let one = spec(&brief, &pours).served;
    let added = made(&brief, &pours, &Order { water: Water::Added, ..serves(100.0) });
    let from_ice = made(&brief, &pours, &serves(100.0));
    let exact = 100.0 * one.drink.melt;
    assert!((to_f64(added.water) - exact).abs() <= 2.5 && added.water == from_ice.water);
    assert!((added.vessel.strength - one.drink.strength()).abs() < 0.01, "{}", added.vessel.strength);
    assert!((added.vessel.volume / 100.0 - one.drink.volume).abs() < 0.03);
    assert!(from_ice.vessel.strength > one.drink.strength() + 5.0);
    let undiluted = |batch: &Batch| batch.label.statements.iter().any(|s| s.contains("not diluted"));
    assert!(undiluted(&from_ice) && !undiluted(&added));
    // One serve is the same drink either way.
    assert!((added.served.drink.strength() - from_ice.served.drink.strength()).abs() < 0.01);
}

#[test]
fn a_volume_is_made_of_what_stands_in_the_vessel() {
    let brief = brief("method = \"stir\"", &format!("{SPIRIT}{SYRUP}"));
    let pours = [("spirit", 50.0), ("syrup", 10.0)];
    for water in [Water::Added, Water::FromIce] {
        let order = Order { size: Size::Volume(10_000.0), water, bottle: Some(700.0), ..serves(1.0) };
        let batch = made(&brief, &pours, &order);
        // Half a step of each amount.
        assert!((batch.vessel.volume - 10_000.0).abs() < 7.5, "{}", batch.vessel.volume);
        let bottles = batch.bottles.expect("bottles");
        assert_eq!((bottles.full, bottles.needed), (14.0, 15.0));
        assert!((bottles.full * 700.0 + bottles.last - batch.vessel.volume).abs() < 1e-9);
    }
}

#[test]
fn gas_stays_out_of_the_vessel() {
    let soda = "[[candidate]]\nlarder = \"soda water\"\nprice = \"0.60 per 200 ml\"\n";
    let brief = brief("method = \"build\"", &format!("{SPIRIT}{soda}"));
    let batch = made(&brief, &[("spirit", 50.0), ("soda water", 100.0)], &serves(20.0));
    assert_eq!(batch.lines[1].place, Place::Glass);
    assert!((batch.vessel.volume - 1000.0).abs() < 1e-6, "{}", batch.vessel.volume);
    assert!((batch.vessel.strength - 40.0).abs() < 1e-6);
    assert_eq!(batch.purchases[1].packs.as_ref().expect("packs").count, decimal("10"));
    assert!(batch.served.drink.volume > 170.0);
    let only = spec(&brief, &[("soda water", 100.0)]);
    assert_eq!(super::batch(&brief, &only, &serves(3.0)), Err(Unbatchable::NothingStill));
}

#[test]
fn sizes_that_are_no_batch_are_refused() {
    let brief = brief("method = \"none\"", SPIRIT);
    let spec = spec(&brief, &[("spirit", 50.0)]);
    let of = |size| batch(&brief, &spec, &Order { size, ..serves(1.0) });
    assert_eq!(of(Size::Volume(49.0)).err(), Some(Unbatchable::UnderOneServe(spec.served.drink.volume)));
    assert_eq!(of(Size::Volume(1e12)).err(), Some(Unbatchable::TooLarge));
    assert_eq!(of(Size::Serves(f64::INFINITY)).err(), Some(Unbatchable::TooLarge));
    assert!(matches!(of(Size::Serves(f64::NAN)).err(), Some(Unbatchable::UnderOneServe(_))));
    assert!(of(Size::Volume(50.0)).is_ok());
}

#[test]
fn absurd_prices_end_without_a_panic() {
    let rest = "[[candidate]]\nname = \"a\"\nprice = \"0 per 0.0000000000000000000000000000001 ml\"\n\
                [[candidate]]\nname = \"b\"\nprice = \"1000000000 per 1 l\"\nyield = 0.001\n";
    let brief = brief("method = \"none\"", rest);
    let speck = batch(&brief, &spec(&brief, &[("a", 50.0)]), &serves(1000.0));
    assert_eq!(speck, Err(Unbatchable::Uncountable));
    let dear = made(&brief, &[("b", 50.0)], &serves(1e5));
    assert_eq!(dear.costing.used.0, decimal("5000000000000000"));
}
