//! The lines of an expansion: the value at its point, and the slopes there.

use super::*;

/// A figure of a served drink.
type Figure<'f> = &'f dyn Fn(&Served) -> f64;

/// The value of a sum of a measure, and its change by a little more of a column.
fn difference(model: &Model, units: &[f64], column: usize, value: Figure) -> f64 {
    let step = 1e-4;
    let at = |by: f64| {
        let mut moved = units.to_vec();
        moved[column] += by;
        value(&poured(model, &moved).1)
    };
    // One-sided where nothing is poured yet, to second order.
    if units[column] == 0.0 {
        (-3.0 * at(0.0) + 4.0 * at(step) - at(2.0 * step)) / (2.0 * step)
    } else {
        (at(step) - at(-step)) / (2.0 * step)
    }
}

#[test]
fn a_tangent_has_the_value_and_the_slopes_of_the_drink() {
    each(|model, units, _, served| {
        let tangent = Tangent::at(model, &model.typical, &served.drink);
        let all: [(&[f64], Figure); 3] = [
            (&tangent.volume, &|s| s.drink.volume),
            (&tangent.melt, &|s| s.drink.melt),
            (&tangent.level, &level),
        ];
        for (line, value) in all {
            assert!((dot(line, units) - value(served)).abs() <= 1e-8 * served.drink.volume);
            for (column, slope) in line.iter().enumerate() {
                let measured = difference(model, units, column, value);
                assert!((slope - measured).abs() <= 1e-4, "{column}: {slope} and {measured}");
            }
        }
    });
}

/// Every measure as a goal, low and high: the line of its expansion is the score at the point and falls as it does.
#[test]
fn the_expansion_of_a_score_has_its_value_and_its_slopes() {
    let measures = [
        Measure::Volume,
        Measure::Strength,
        Measure::Sugar,
        Measure::Acid,
        Measure::SugarAcid,
        Measure::Cost,
        Measure::PourCost,
        Measure::Energy,
        Measure::Melt,
        Measure::Level,
    ];
    each(|model, units, pours, served| {
        for (measure, sense) in measures.into_iter().flat_map(|m| [(m, Sense::Low), (m, Sense::High)]) {
            let objective = Objective::goal(model, Goal::Measure(measure), sense);
            let score = |served: &Served| objective.score(model, pours, served);
            let here = score(served);
            // A ratio over next to nothing is steeper than differences can tell.
            if !here.is_finite() || here.abs() > 100.0 && measure == Measure::SugarAcid {
                continue;
            }
            let expansion = Expansion::at(model, &objective, units, here);
            let [line] = &expansion.scores[..] else { panic!("{:?}", expansion.scores) };
            let size = here.abs().max(1.0);
            assert!(
                (line.at(units) - here).abs() <= 1e-7 * size,
                "{measure:?}: {} and {here}",
                line.at(units)
            );
            for column in 0..units.len() {
                let measured = difference(model, units, column, &score);
                let slope = line.figures[column];
                assert!(
                    (slope - measured).abs() <= 2e-4 * size,
                    "{measure:?} {column}: {slope} and {measured}"
                );
            }
        }
    });
}

/// A limit that the mixture meets to the letter: its row does so as well, and a little tighter neither does.
#[test]
fn the_row_of_a_limit_ends_where_the_mixture_does() {
    let mut rows = 0;
    each(|model, units, _, served| {
        let mut asked = model.clone();
        for limit in &mut asked.limits {
            limit.value = served.value(limit.measure);
        }
        asked.limits.retain(|limit| limit.value.is_finite());
        let objective = Objective::of(&asked);
        let expansion = Expansion::at(&asked, &objective, units, 0.0);
        for (row, limit) in expansion.limits.iter().zip(&asked.limits) {
            let end = if limit.side == Side::Min { row.low } else { row.high };
            let other = if limit.side == Side::Min { row.high } else { row.low };
            let size = limit.value.abs().max(1.0) * served.drink.volume;
            assert!((dot(&row.coefficients, units) - end).abs() <= 1e-8 * size, "{limit:?}: {row:?}");
            assert!(other.is_infinite());
            rows += 1;
        }
    });
    assert!(rows > 4000, "{rows}");
}

/// A soft limit that is missed by so many of its sizes: the line of the expansion says so at the point.
#[test]
fn the_expansion_of_a_soft_limit_says_by_how_much_it_is_missed() {
    each(|model, units, _, served| {
        for measure in [Measure::Volume, Measure::Strength, Measure::Acid, Measure::Cost] {
            for side in [Side::Min, Side::Max] {
                let value = served.value(measure);
                let size = 0.1 * value;
                if size <= 0.0 {
                    continue;
                }
                // Missed by two and a half sizes.
                let limit = if side == Side::Min { value + 2.5 * size } else { value - 2.5 * size };
                let soft =
                    Soft { limit: Limit { measure, side, value: limit, source: Source::Target }, size };
                let objective =
                    Objective::Elastic { softs: vec![soft], together: Together::Largest, most: 9.0 };
                let expansion = Expansion::at(model, &objective, units, 2.5);
                let at = expansion.scores[0].at(units);
                assert!((at - 2.5).abs() <= 1e-7, "{measure:?} {side:?}: {at}");
                let missed = |served: &Served| soft.missed(served.value(measure));
                for column in 0..units.len() {
                    let measured = difference(model, units, column, &missed);
                    let slope = expansion.scores[0].figures[column];
                    assert!((slope - measured).abs() <= 1e-3, "{measure:?} {column}: {slope} and {measured}");
                }
            }
        }
    });
}
