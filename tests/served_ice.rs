//! Heat and ice against published tables, and what the ice in a glass does to drinks that others have
//! worked out.

use washline::liquid::heat::{self, FUSION};
use washline::liquid::ice::{self, Balance};
use washline::liquid::{Dilution, Drink, Label, Masses, Melting, Method, Stage};

const CUBES: Balance = Balance { crushed: false, strained: None, more: 0.0 };

/// *Perry's Chemical Engineers' Handbook*, 7th ed., section 2, specific heats of aqueous solutions, ethyl alcohol:
/// mole % and cal/(g °C) at 3 and 23 °C, read in a scan. The table has two decimals; the fit is allowed a half of
/// the last on either end, and that of the mean.
#[test]
fn heat_capacities_are_those_of_the_handbook() {
    for (mole, cold, warm) in [
        (4.16, 1.05, 1.02),
        (11.5, 1.02, 1.03),
        (37.0, 0.805, 0.86),
        (61.0, 0.67, 0.727),
        (100.0, 0.54, 0.577),
    ] {
        let x: f64 = mole / 100.0;
        let p = 46.07 * x / (46.07 * x + 18.015 * (1.0 - x));
        let published = 4.184 * (cold + warm) / 2.0;
        let ours = heat::capacity(p).0;
        assert!((ours - published).abs() < 4.184 * 0.005, "{mole}: {ours} against {published}");
    }
    // CRC Handbook, water: 4.2176 at 0 °C, 4.1921 at 10, 4.1818 at 20 J/(g K); the mean of the three.
    assert!((heat::capacity(0.0).0 - (4.2176 + 4.1921 + 4.1818) / 3.0).abs() < 0.005);
}

/// *Lange's Handbook of Chemistry*, 15th ed., table 5.13, freezing point of ethyl alcohol and water: % by weight
/// and °C (its signs are lost in the scan that was read). The fit is off by up to 0.4 °C.
#[test]
fn freezing_points_are_those_of_the_handbook() {
    let table = [
        (2.5, 1.0),
        (4.8, 2.0),
        (6.8, 3.0),
        (11.3, 5.0),
        (13.8, 6.1),
        (16.4, 7.5),
        (17.5, 8.7),
        (18.8, 9.4),
        (20.3, 10.6),
        (22.1, 12.2),
        (24.2, 14.0),
        (26.7, 16.0),
        (29.9, 18.9),
        (33.8, 23.6),
        (39.0, 28.7),
    ];
    for (percent, below) in table {
        let ours = heat::freezing(percent / 100.0).0;
        assert!((ours + below).abs() < 0.4, "{percent} %: {ours} against -{below}");
    }
}

/// What is fitted and differentiated by hand is differentiated once more, by differences.
#[test]
fn slopes_are_slopes_and_the_bounds_bound() {
    let crushed = Balance { crushed: true, ..CUBES };
    let n = 2000;
    for i in 1..n {
        let (p, h) = (f64::from(i) / f64::from(n), 1e-5);
        for f in [&|p: f64| heat::enthalpy(p, -18.0), &|p: f64| CUBES.end(p), &|p: f64| crushed.end(p)]
            as [&dyn Fn(f64) -> (f64, f64); 3]
        {
            let by = (f(p + h).0 - f(p - h).0) / (2.0 * h);
            assert!((by - f(p).1).abs() < 1e-4 * (1.0 + by.abs()), "{p}: {by} against {}", f(p).1);
        }
        for balance in [CUBES, crushed] {
            let bend = (balance.end(p + h).1 - balance.end(p - h).1) / (2.0 * h);
            assert!(bend.abs() < 0.9 * ice::CURVATURE, "{p}: {bend}");
            let (value, slope) = balance.end(p);
            assert!(FUSION + value - p * slope > ice::LEAST && FUSION + value > ice::LEAST, "{p}");
        }
    }
}

/// Water alone, by hand: 100 g at 20 °C melt 100 × 4.196 × 20 / 333.55 = 25.16 g.
#[test]
fn water_over_ice_is_an_exercise() {
    let water = Masses { water: 100.0, ..Masses::default() };
    let melt = CUBES.melt(&water, heat::brought(&water, 20.0));
    assert!((melt - 25.16).abs() < 0.01, "{melt}");
    // A textbook's: as much ice as liquid cannot be melted by water under 79.5 °C (333.55 / 4.196).
    let hot = CUBES.melt(&water, heat::brought(&water, 79.49));
    assert!((hot - 100.0).abs() < 0.1, "{hot}");
    assert_eq!(CUBES.melt(&water, heat::brought(&water, -5.0)), 0.0);
}

fn pour(strength: f64, sugar: f64, temperature: f64, stage: Stage) -> washline::liquid::Portion {
    Label { strength, sugar, temperature, stage, ..Label::default() }.portion().expect("a liquid")
}

/// 50 ml of gin of 40 % vol from the shelf and 150 ml of tonic from the fridge. Without the heat of mixing the
/// balance gives 21 g and 9.1 % vol (worked by hand: (47.4 × 4.1 × 20 + 155 × 4.0 × 5) / 333.55); gin that is
/// thinned to a tenth gives off another 2.1 kJ near 0 °C, which melt 6 g more.
#[test]
fn a_highball() {
    let (gin, tonic) = (pour(40.0, 0.0, 20.0, Stage::Made), pour(0.0, 80.0, 5.0, Stage::Made));
    let parts = || [(&gin, 50.0), (&tonic, 150.0)];
    let drink = Drink::of(parts(), Melting { working: Dilution::Share(0.0), glass: Some(CUBES) });
    assert!((25.0..30.0).contains(&drink.melt), "{} ml", drink.melt);
    assert!((8.7..8.95).contains(&drink.strength()), "{} % vol", drink.strength());
    let cooled: f64 = 50.0 * gin.masses.total() * heat::capacity(0.333).0 * 20.0
        + 150.0 * (tonic.masses.water * heat::capacity(0.0).0 + tonic.masses.solids * heat::SOLIDS) * 5.0;
    let plain = cooled / FUSION;
    assert!((20.0..22.0).contains(&plain), "{plain}");
}

/// 77.5 ml shaken, 60 ml of soda on top, served up: some 176 ml at 9.1 % vol, where the soda stays out of the
/// shaker (the figures: 38 ml of melt).
#[test]
fn a_topped_drink() {
    let made = pour(20.7, 80.0, 20.0, Stage::Made);
    let soda = pour(0.0, 0.0, 5.0, Stage::Topped);
    let rule = Dilution::of(Method::Shake, None).expect("a rule");
    let drink = Drink::of([(&made, 77.5), (&soda, 60.0)], rule);
    assert!((drink.melt - 77.5 * rule.at(0.207)).abs() < 1e-9);
    assert!((drink.melt - 38.0).abs() < 1.0, "{}", drink.melt);
    assert!((drink.volume - 176.0).abs() < 1.5, "{}", drink.volume);
    assert!((drink.strength() - 9.1).abs() < 0.1, "{}", drink.strength());
}
