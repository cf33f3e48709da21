//! Any batch of any spec: measured again it is the spec within its rounding, and nothing gets lost.

use proptest::prelude::*;
use rust_decimal::Decimal;
use washline::batch::{Batch, Order, Size, Water, batch, to_f64};
use washline::brief::{Brief, Measure, Pour, serve};
use washline::read::read;
use washline::solve::Spec;

fn brief(method: &str) -> Brief {
    let text =
        include_str!("../problems-demo/low-strength.toml").replace("\"shake\"", &format!("\"{method}\""));
    read(text.as_bytes(), &[]).expect("the demo brief").brief
}

/// A spec that nobody solved for: any usable ingredients in any amounts.
fn spec(brief: &Brief, picks: &[(usize, f64)]) -> Spec {
    let usable: Vec<usize> = brief.usable().collect();
    let mut pours: Vec<Pour> = Vec::new();
    for (pick, share) in picks {
        let candidate = usable[pick % usable.len()];
        // Powders in tenths of a gram and up, liquids in millilitres.
        let most = if brief.candidates[candidate].portion.poured > 0.0 { 60.0 } else { 2.0 };
        if pours.iter().all(|p| p.candidate != candidate) {
            pours.push(Pour { candidate, amount: 0.05 * most + share * most });
        }
    }
    let served = serve(brief, &pours);
    Spec { pours, served, score: 0.0 }
}

/// A liquid first, so that there is something to batch.
fn picks() -> impl Strategy<Value = Vec<(usize, f64)>> {
    let further = prop::collection::vec((0..20_usize, 0.0..1.0), 1..6);
    further.prop_map(|mut picks| {
        picks.insert(0, (0, 0.5));
        picks
    })
}

/// How far the rounding moved any amount, as a share of it: known from the amounts alone.
fn rounding(batch: &Batch, melt: f64) -> f64 {
    let lines = batch.lines.iter().map(|l| (to_f64(l.amount) - l.exact).abs() / l.exact);
    let water = if melt > 0.0 { (to_f64(batch.water) - melt).abs() / melt } else { 0.0 };
    lines.fold(water, f64::max)
}

fn order(serves: u32, water: Water) -> Order {
    Order { size: Size::Serves(f64::from(serves)), water, bottle: None, pour_cost: None, waste: 0.0 }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    /// With every amount within a share e of its exact one, every mass and every volume is, too, as each
    /// rises with each amount; so a concentration is within (1 + e) / (1 - e).
    #[test]
    fn measured_again_it_is_the_spec_within_the_rounding(
        picks in picks(), serves in 1..2000_u32, method in prop::sample::select(vec!["shake", "stir", "build", "none"]),
    ) {
        let brief = brief(method);
        let spec = spec(&brief, &picks);
        let made = batch(&brief, &spec, &order(serves, Water::Added)).expect("a batch");
        let e = rounding(&made, spec.served.drink.melt * f64::from(serves)) + 1e-9;
        let room = (1.0 + e) / (1.0 - e);
        for measure in [Measure::Volume, Measure::Strength, Measure::Sugar, Measure::Acid, Measure::Cost] {
            let (before, after) = (spec.served.value(measure), made.served.value(measure));
            if before.is_nan() || before == 0.0 {
                continue;
            }
            let moved = after / before;
            prop_assert!(moved <= room && moved >= 1.0 / room, "{measure:?}: {before} to {after}, e {e}");
        }
        // Half a per cent, but for what is so little that the finest step is coarser.
        let small = made.lines.iter().any(|l| l.exact < 5.0);
        prop_assert!(small || e <= 0.005 + 1e-8 || made.water < Decimal::from(5), "{e}");
    }

    /// What the lines weigh is what stands in the vessel, and what they cost is what is used of the packs.
    #[test]
    fn mass_and_money_are_conserved(picks in picks(), serves in 1..2000_u32) {
        let brief = brief("shake");
        let spec = spec(&brief, &picks);
        let made = batch(&brief, &spec, &order(serves, Water::FromIce)).expect("a batch");
        let weight: f64 = made.lines.iter().map(|l| l.weight).sum();
        prop_assert!((weight - made.vessel.weight).abs() <= 1e-9 * weight);
        let masses = made.served.drink.masses.total() - made.served.drink.melt * 0.998_201_23;
        // Solids that are neither sugar nor acid weigh in no drink's masses: the vessel is no lighter.
        prop_assert!(masses * f64::from(serves) <= weight * (1.0 + 1e-9));
        if !made.costing.unpriced.is_empty() {
            return Ok(());
        }
        let lines: Decimal = made.lines.iter().filter_map(|l| l.cost).sum();
        let used: Decimal = made.purchases.iter().filter_map(|p| p.cost).sum();
        prop_assert_eq!(lines, made.costing.used.0);
        prop_assert_eq!(lines.round_dp(12), used.round_dp(12));
        // The parts of house preparations are rounded up by a step of at most 1 % each.
        let exact = spec.served.cost * f64::from(serves);
        let e = 0.012 + rounding(&made, 0.0);
        let parts_are_small = made.recipes.iter().flat_map(|r| &r.parts).any(|p| p.amount < Decimal::from(5));
        prop_assert!(parts_are_small || (to_f64(lines) / exact - 1.0).abs() <= e, "{lines} for {exact}");
    }

    /// Packs are whole, enough, and not one too many; what they leave is what they hold less the need.
    #[test]
    fn packs_are_whole_and_sufficient(picks in picks(), serves in 1..2000_u32) {
        let brief = brief("shake");
        let made = batch(&brief, &spec(&brief, &picks), &order(serves, Water::FromIce)).expect("a batch");
        for purchase in &made.purchases {
            let Some(packs) = &purchase.packs else { continue };
            prop_assert_eq!(packs.count, packs.count.trunc());
            let grain = Decimal::new(1, 6);
            prop_assert!(packs.count * packs.size + grain >= purchase.need);
            prop_assert!((packs.count - Decimal::ONE) * packs.size < purchase.need);
            prop_assert!((packs.left_over - (packs.count * packs.size - purchase.need)).abs() <= grain);
        }
    }
}
