//! What is made least, written out by hand: ratios, notes, changes, and caps on further scores.

use super::super::*;
use super::rows::{brief, cost, is, limit, model};
use crate::brief::Goal;

/// A score of amounts over amounts has the one above and the other below, 5 and 2.5 ml a step, whichever way it is sought.
#[test]
fn a_ratio_is_of_one_amount_over_another() {
    let brief = brief();
    let mut model = model(&brief, &[]);
    for (sense, sign) in [(Sense::Low, 1.0), (Sense::High, -1.0)] {
        let objective = Objective::Ratio { of: 0, to: 1, sense };
        let lines = Program::relaxed(&model, &objective, &Ranges::of(&model.typical)).lines;
        assert_eq!(lines.value, [sign * 5.0, 0.0, 0.0, 0.0]);
        assert_eq!((lines.over, lines.constant), (Some(vec![0.0, 2.5, 0.0, 0.0]), 0.0));
    }
    // What a further score adds counts nothing, above or below.
    model.objective_bounds = vec![(Objective::Notes(vec![vec![0]]), -1.0)];
    let ratio = Objective::Ratio { of: 0, to: 1, sense: Sense::Low };
    let lines = Program::relaxed(&model, &ratio, &Ranges::of(&model.typical)).lines;
    assert_eq!(lines.value, [5.0, 0.0, 0.0, 0.0, 0.0]);
    assert_eq!(lines.over, Some(vec![0.0, 2.5, 0.0, 0.0, 0.0]));
}

/// Of notes that the first two and the last two carry: each variable ends at one and counts one, and is no more than the
/// least pours of what carries it. A further score's notes follow, and count nothing in the first.
#[test]
fn notes_are_variables_beside_the_amounts() {
    let brief = brief();
    let mut model = model(&brief, &[limit(Measure::Volume, Side::Min, 90.0)]);
    let objective = Objective::Notes(vec![vec![0, 1], vec![2, 3]]);
    let cap = Objective::Notes(vec![vec![1], vec![0], vec![3]]);
    model.objective_bounds = vec![(cap, -2.0), (Objective::Notes(vec![vec![2]]), -1.0), (cost(&model), 1.5)];
    let program = Program::relaxed(&model, &objective, &Ranges::of(&model.typical));
    assert_eq!(program.extras, [1.0; 6]);
    assert_eq!(program.width(), 10);
    assert_eq!(program.lines.value, [0.0, 0.0, 0.0, 0.0, -1.0, -1.0, 0.0, 0.0, 0.0, 0.0]);
    assert_eq!((program.lines.over.as_ref(), program.lines.constant), (None, 0.0));
    // 0.10, 0.015, 0.0075 and 0.0008 a step; notes are free.
    let costs = [0.1, 0.015, 0.0075, 0.0008, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0];
    assert!(
        program.lines.cost.iter().zip(costs).all(|(a, b)| (a - b).abs() < 1e-12),
        "{:?}",
        program.lines.cost
    );
    // Least pours are 4, 2, 4 and 1 steps.
    let carried: [&[(usize, f64)]; 6] = [
        &[(0, 0.25), (1, 0.5)],
        &[(2, 0.25), (3, 1.0)],
        &[(1, 0.5)],
        &[(0, 0.25)],
        &[(3, 1.0)],
        &[(2, 0.25)],
    ];
    let rows: Vec<&Row> =
        program.rows.iter().filter(|row| matches!(row.origin, RowOrigin::Note(_))).collect();
    assert_eq!(rows.len(), carried.len());
    for (at, (row, carried)) in rows.into_iter().zip(carried).enumerate() {
        let mut figures = [0.0; 10];
        carried.iter().for_each(|(column, share)| figures[*column] = *share);
        figures[4 + at] = -1.0;
        let told = (row.coefficients.clone(), row.low, row.high);
        assert!(is(&told, &figures, 0.0, f64::INFINITY), "{at}: {row:?}");
        // Loosened, never tightened.
        assert!(carried.iter().all(|(column, share)| row.coefficients[*column] > *share));
    }
    let caps: Vec<_> =
        program.rows.iter().filter(|row| matches!(row.origin, RowOrigin::ObjectiveBound(_))).collect();
    let by_hand = [
        ([0.0, 0.0, 0.0, 0.0, 0.0, 0.0, -1.0, -1.0, -1.0, 0.0], -2.0),
        ([0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, -1.0], -1.0),
        (costs, 1.5),
    ];
    for (row, (figures, most)) in caps.iter().zip(by_hand) {
        let told = (row.coefficients.clone(), row.low, row.high);
        assert!(is(&told, &figures, f64::NEG_INFINITY, most) && row.high > most, "{row:?}");
    }
    assert_eq!(caps.len(), 3);
}

/// What has no price counts nothing where money orders what is as good.
#[test]
fn what_has_no_price_costs_nothing() {
    let mut brief = brief();
    brief.candidates[2].cost_per_unit = None;
    let model = model(&brief, &[limit(Measure::Volume, Side::Min, 90.0)]);
    let objective = Objective::goal(&model, Goal::Measure(Measure::Volume), Sense::Low);
    let costs = Program::relaxed(&model, &objective, &Ranges::of(&model.typical)).lines.cost;
    let by_hand = [0.1, 0.015, 0.0, 0.0008];
    assert!(costs.iter().zip(by_hand).all(|(a, b)| (a - b).abs() < 1e-12), "{costs:?}");
}

/// A change from 10 steps of spirit, more juice than there may be, and none of the rest bends once, at ten steps; as a cap
/// the amounts below count down from all that was there: 50 and 50 ml and 7 that cannot be poured.
#[test]
fn a_change_bends_where_the_reference_is() {
    let brief = brief();
    let mut model = model(&brief, &[limit(Measure::Volume, Side::Min, 90.0)]);
    model.columns[2].most = 0.5;
    let change = Objective::Change { from: vec![10.0, 20.0, 0.0, 0.0], lost: 7.0 };
    let segment = |column, start, length| Segment { column, start, length };
    let by_hand = [
        segment(0, 0.0, 10.0),
        segment(0, 10.0, 36.0),
        segment(1, 0.0, 12.0),
        segment(2, 0.0, 0.5),
        segment(3, 0.0, 3910.0),
    ];
    let program = Program::relaxed(&model, &change, &Ranges::of(&model.typical));
    assert_eq!(program.segments, by_hand);
    assert_eq!(program.of_column, [0..2, 2..3, 3..4, 4..5]);
    assert_eq!((program.lines.value, program.lines.constant), (vec![-5.0, 5.0, -2.5, 2.5, 0.1], 107.0));
    model.objective_bounds = vec![(change, 60.0)];
    let program = Program::relaxed(&model, &cost(&model), &Ranges::of(&model.typical));
    assert_eq!(program.segments, by_hand);
    let cap =
        program.rows.iter().find(|row| matches!(row.origin, RowOrigin::ObjectiveBound(_))).expect("a row");
    let told = (cap.coefficients.clone(), cap.low, cap.high);
    assert!(is(&told, &[-5.0, 5.0, -2.5, 2.5, 0.1], f64::NEG_INFINITY, -47.0), "{cap:?}");
    // Where nothing bends at all, each has one.
    model.objective_bounds.clear();
    model.columns[2].most = 0.0;
    let program = Program::relaxed(&model, &cost(&model), &Ranges::of(&model.typical));
    let lengths: Vec<f64> = program.segments.iter().map(|segment| segment.length).collect();
    assert_eq!(lengths, [46.0, 12.0, 0.0, 3910.0]);
}

/// Sugar over no acid has no line: what is expanded there asks for nothing.
#[test]
fn a_score_over_nothing_has_no_line() {
    let brief = brief();
    let model = model(&brief, &[]);
    let ratio = Objective::goal(&model, Goal::Measure(Measure::SugarAcid), Sense::Low);
    assert_eq!(Expansion::at(&model, &ratio, &[8.0, 0.0, 8.0, 0.0], 1.0).scores, []);
    assert_eq!(Expansion::at(&model, &ratio, &[8.0, 4.0, 8.0, 0.0], 1.0).scores.len(), 1);
    assert_eq!(Expansion::anywhere(&model, &ratio).scores.len(), 1);
}
