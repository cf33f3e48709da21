//! The program of a range: every mixture that meets the brief is in it, with a score that is no better than its own.

use super::*;

/// The value of every variable at units of every column: segments are filled from their start, misses are those of the drink.
fn variables(program: &Program, objective: &Objective, units: &[f64], served: &Served) -> Vec<f64> {
    let filled = |s: &Segment| s.part_of(units[s.column]);
    let mut all: Vec<f64> = program.segments.iter().map(filled).collect();
    if let Objective::Elastic { softs, together, .. } = objective {
        let missed = softs.iter().map(|soft| soft.missed(served.value(soft.limit.measure)));
        match together {
            Together::Sum => all.extend(missed),
            Together::Largest => all.push(missed.fold(0.0, f64::max)),
        }
    }
    all
}

fn objectives(model: &Model, units: &[f64], served: &Served) -> Vec<Objective> {
    let measures = [
        Measure::Volume,
        Measure::Strength,
        Measure::SugarAcid,
        Measure::Cost,
        Measure::Melt,
        Measure::Level,
    ];
    let both = |m| [Sense::Low, Sense::High].map(|sense| Objective::goal(model, Goal::Measure(m), sense));
    let mut all: Vec<Objective> = measures.into_iter().flat_map(both).collect();
    all.push(Objective::goal(model, Goal::Ingredient(0), Sense::High));
    let from =
        units.iter().enumerate().map(|(at, units)| if at % 2 == 0 { 0.5 * units } else { 1.5 * units + 1.0 });
    all.push(Objective::Change { from: from.collect(), lost: 3.0 });
    let soft = |measure, side, by: f64| {
        let value = served.value(measure);
        Soft {
            limit: Limit { measure, side, value: by * value, source: Source::Target },
            size: 0.1 * value.max(0.1),
        }
    };
    let softs = vec![
        soft(Measure::Volume, Side::Max, 0.9),
        soft(Measure::Strength, Side::Min, 1.2),
        soft(Measure::Cost, Side::Max, 1.3),
    ];
    for together in [Together::Sum, Together::Largest] {
        all.push(Objective::Elastic { softs: softs.clone(), together, most: 9.0 });
    }
    all
}

/// The model with limits that the mixture meets by a tenth, or misses one of.
fn met<'b>(model: &Model<'b>, served: &Served, missed: Option<usize>) -> Model<'b> {
    let mut asked = model.clone();
    asked.limits.retain(|limit| served.value(limit.measure).is_finite() && served.value(limit.measure) > 0.0);
    for (at, limit) in asked.limits.iter_mut().enumerate() {
        let by = if missed == Some(at) { -0.05 } else { 0.1 };
        let by = if limit.side == Side::Min { 1.0 - by } else { 1.0 + by };
        limit.value = by * served.value(limit.measure);
    }
    asked
}

fn keeps(program: &Program, x: &[f64]) -> bool {
    program.rows.iter().all(|row| {
        let terms: f64 = row.coefficients.iter().zip(x).map(|(a, x)| (a * x).abs()).sum();
        let (activity, pad) = (dot(&row.coefficients, x), 1e-7 * (1.0 + terms));
        row.low - pad <= activity && activity <= row.high + pad
    })
}

#[test]
fn what_meets_the_brief_is_in_its_program_and_scores_no_better_there() {
    let mut compared = 0;
    each(|model, units, pours, served| {
        let asked = met(model, served, None);
        for objective in objectives(&asked, units, served) {
            let score = objective.score(&asked, pours, served);
            if !score.is_finite() {
                continue;
            }
            for by in [0.0, 0.02] {
                let program = Program::relaxed(&asked, &objective, &around(&served.drink, by));
                let x = variables(&program, &objective, units, served);
                assert_eq!(x.len(), program.width());
                assert!(keeps(&program, &x), "{objective:?}: {:?}", program.rows);
                let amounts = program.amounts(|variable| x[variable]);
                assert!(amounts.iter().zip(units).all(|(a, b)| (a - b).abs() < 1e-9));
                let value = dot(&program.lines.value, &x);
                let told = match &program.lines.over {
                    Some(over) => value / dot(over, &x),
                    None => value + program.lines.constant,
                };
                let pad = 1e-6 * score.abs().max(1.0);
                assert!(told <= score + pad, "{objective:?} {by}: {told} and {score}");
                assert!(by > 0.0 || told >= score - pad, "{objective:?} {by}: {told} and {score}");
                compared += 1;
            }
        }
    });
    assert!(compared > 10_000, "{compared}");
}

#[test]
fn what_misses_a_limit_is_in_no_program_of_its_own_composition() {
    let mut missed = 0;
    each(|model, units, _, served| {
        let objective = Objective::of(model);
        for at in 0..met(model, served, None).limits.len() {
            let asked = met(model, served, Some(at));
            let program = Program::relaxed(&asked, &objective, &around(&served.drink, 0.0));
            let x = variables(&program, &objective, units, served);
            assert!(!keeps(&program, &x), "{:?}: {:?}", asked.limits[at], program.rows);
            missed += 1;
        }
    });
    assert!(missed > 4000, "{missed}");
}

/// A cap on a further score keeps out what scores worse.
#[test]
fn a_cap_keeps_out_what_scores_worse() {
    each(|model, units, pours, served| {
        for cap in objectives(model, units, served).into_iter().take(13) {
            let score = cap.score(model, pours, served);
            if !score.is_finite() || score == 0.0 {
                continue;
            }
            for (by, inside) in [(0.05, true), (-0.05, false)] {
                let mut asked = met(model, served, None);
                asked.objective_bounds.push((cap.clone(), score + by * score.abs()));
                let objective = Objective::of(&asked);
                let program = Program::relaxed(&asked, &objective, &around(&served.drink, 0.0));
                let x = variables(&program, &objective, units, served);
                assert_eq!(keeps(&program, &x), inside, "{cap:?} {by}");
            }
        }
    });
}
