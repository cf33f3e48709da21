//! The worst of all compositions, against every one of them.

use super::*;
use crate::brief::{HoldFor, Range, serve_with};

/// Spirit, juice and syrup between two ends each; the worst counts.
fn varied(served: &str) -> crate::brief::Brief {
    let mut brief = read(brief(served).as_bytes(), &[]).expect("a brief").brief;
    brief.variation.hold = HoldFor::Worst;
    let range = |min, max| Some(Range { min, max });
    brief.candidates[0].natural.strength = range(55.0, 60.0);
    brief.candidates[1].natural.sugar = range(120.0, 150.0);
    brief.candidates[2].natural.acid = range(50.0, 70.0);
    brief.candidates[2].natural.sugar = range(15.0, 25.0);
    brief
}

/// Every choice of a corner a column.
fn choices(spread: &Spread) -> Vec<Vec<usize>> {
    spread.corners.iter().fold(vec![vec![]], |all, corners| {
        let with = |chosen: &Vec<usize>| {
            (0..corners.len()).map(|at| [&chosen[..], &[at]].concat()).collect::<Vec<Vec<usize>>>()
        };
        all.iter().flat_map(with).collect()
    })
}

/// Two corners of the spirit, two of the wine, four of the juice: of sixteen drinks the one that is furthest off, on each
/// side of each limit, and what it is judged by.
#[test]
fn no_composition_is_worse_than_the_worst() {
    let mut compared = 0;
    for served_as in SERVED {
        let brief = varied(served_as);
        let model = Model::new(&brief);
        let spread = model.spread.as_ref().expect("corners");
        let all = choices(spread);
        assert_eq!(all.len(), 16);
        let mut numbers = Numbers(7);
        for _ in 0..8 {
            let (pours, served) = poured(&model, &numbers.units(model.columns.len()));
            let drinks: Vec<Served> = all
                .iter()
                .map(|picks| serve_with(&brief, &pours, |at| &spread.corners[at][picks[at]]))
                .collect();
            for measure in Measure::BUILT_IN.into_iter().chain([Measure::Level, Measure::Property(0)]) {
                let values: Vec<f64> = drinks.iter().map(|drink| drink.value(measure)).collect();
                if !values.iter().all(|value| value.is_finite()) {
                    continue;
                }
                let (low, high) = (
                    values.iter().copied().fold(f64::INFINITY, f64::min),
                    values.iter().copied().fold(f64::NEG_INFINITY, f64::max),
                );
                for (side, by_hand) in [(Side::Min, low), (Side::Max, high)] {
                    // A limit between what the drink is and what it may be.
                    let value = 0.5 * (served.value(measure) + by_hand);
                    let limit = Limit { measure, side, value, source: Source::Target };
                    let (worst, drink) = spread.worst(&model, &pours, &limit);
                    let pad = 1e-12 * by_hand.abs();
                    assert!((worst - by_hand).abs() <= pad, "{measure:?} {side:?}: {worst} and {by_hand}");
                    assert!((drink.value(measure) - by_hand).abs() <= pad);
                    assert_eq!(model.judged_value(&pours, &served, &limit), worst);
                    // Beside a limit that nothing misses.
                    let any = Limit { measure: Measure::Volume, side: Side::Min, value: 0.0, ..limit };
                    let asked = Model { limits: vec![any, limit], ..model.clone() };
                    // Of some strong drinks the typical is beyond all corners, by hundredths of a ml.
                    let met = limit.met(&served) && values.iter().all(|value| limit.met_by(*value));
                    assert_eq!(asked.meets_limits(&pours, &served), met, "{measure:?} {side:?}");
                    compared += 1;
                }
            }
        }
    }
    assert!(compared > 700, "{compared}");
}

/// The first look, by slopes alone, picks the worst corner of every ingredient that is used: of a strength the strongest
/// spirit over a maximum, of an acid the sourest juice, and the other ends under a minimum.
#[test]
fn corners_are_picked_by_what_they_do_to_the_limit() {
    let brief = varied(SERVED[0]);
    let model = Model::new(&brief);
    let spread = model.spread.as_ref().expect("corners");
    let (_, served) = poured(&model, &[8.0, 8.0, 8.0, 4.0, 2.0, 4.0, 8.0]);
    let picked = |measure, side, column: usize| {
        let limit = Limit { measure, side, value: served.value(measure), source: Source::Target };
        let picks = spread.picks(&model, &limit, &served.drink);
        spread.portions(&picks)[column]
    };
    let strengths = [Side::Min, Side::Max].map(|side| picked(Measure::Strength, side, 0).strength);
    assert!((strengths[0] - 0.55).abs() < 1e-12 && (strengths[1] - 0.60).abs() < 1e-12, "{strengths:?}");
    let acids = [Side::Min, Side::Max].map(|side| picked(Measure::Acid, side, 2).masses.acid);
    assert!((acids[0] - 0.05).abs() < 1e-12 && (acids[1] - 0.07).abs() < 1e-12, "{acids:?}");
    let sugars = [Side::Min, Side::Max].map(|side| picked(Measure::Sugar, side, 1).sugars);
    assert!((sugars[0] - 0.12).abs() < 1e-12 && (sugars[1] - 0.15).abs() < 1e-12, "{sugars:?}");
    // Of sugar over acid, the least of the one goes with the most of the other.
    let ratio = picked(Measure::SugarAcid, Side::Min, 2);
    assert!((ratio.sugars - 0.015).abs() < 1e-12 && (ratio.masses.acid - 0.07).abs() < 1e-12);
    // The spirit of 57 % vol is 55 to 60: two to one side, three to the other.
    let (under, over) = spread.strength_reach(&model.typical);
    assert!((under + 0.02).abs() < 1e-12 && (over - 0.03).abs() < 1e-12, "{under} {over}");
    // What may only be stronger lies under the typical by nothing.
    let stronger = Spread { corners: vec![vec![Portion { strength: 0.61, ..model.typical[0] }]] };
    let (under, over) = stronger.strength_reach(&model.typical[..1]);
    assert!(under == 0.0 && (over - 0.04).abs() < 1e-12, "{under} {over}");
    // Where only the typical counts there are no corners.
    let typical = read(self::brief(SERVED[0]).as_bytes(), &[]).expect("a brief").brief;
    assert!(Model::new(&typical).spread.is_none());
}

/// What holds at every corner is in the program of its range, whichever corner a row is seen with; and at a point its rows
/// end there.
#[test]
fn what_holds_at_every_corner_is_in_its_program() {
    let (mut exact, mut all) = (0, 0);
    for served_as in SERVED {
        let brief = varied(served_as);
        let model = Model::new(&brief);
        let mut numbers = Numbers(3);
        for _ in 0..40 {
            let units = numbers.units(model.columns.len());
            let (pours, served) = poured(&model, &units);
            let ranges = around(&served.drink, 0.01);
            let mut asked = model.clone();
            asked.limits.retain(|limit| served.value(limit.measure).is_finite());
            for limit in &mut asked.limits {
                limit.value = model.judged_value(&pours, &served, limit);
            }
            let objective = Objective::of(&asked);
            let program = Program::relaxed(&asked, &objective, &ranges);
            for row in program.rows.iter().filter(|row| matches!(row.origin, RowOrigin::Limit(_))) {
                let activity = dot(&row.coefficients, &units);
                let pad = 1e-7 * row.coefficients.iter().zip(&units).map(|(a, x)| (a * x).abs()).sum::<f64>();
                assert!(row.low - pad <= activity && activity <= row.high + pad, "{row:?}: {activity}");
            }
            // At its point the row of an expansion ends where the worst does. Where slopes tell another corner from the
            // worst than the physics does, it ends before, never behind.
            let expansion = Expansion::at(&asked, &objective, &units, 0.0);
            for (row, limit) in expansion.limits.iter().zip(&asked.limits) {
                let activity = dot(&row.coefficients, &units);
                let left = if limit.side == Side::Min { activity - row.low } else { row.high - activity };
                let pad = 1e-8 * limit.value.abs().max(1.0) * served.drink.volume;
                assert!(left <= pad, "{limit:?}: {left}");
                (exact, all) = (exact + usize::from(left >= -pad), all + 1);
            }
        }
    }
    assert!(all > 1500 && 100 * exact > 99 * all, "{exact} of {all}");
}
