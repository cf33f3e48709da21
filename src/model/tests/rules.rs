//! Amounts, counts, proportions, notes and scores, worked out by hand.

use super::super::*;
use crate::brief::{Brief, Goal, serve};
use crate::read::read;

/// A spirit by 5 ml or as jiggers measure, juice and syrup by 2.5 ml, an acid by weight; volume from 100 to 200 ml.
fn brief(rest: &str, spirit: &str) -> Brief {
    let text = format!(
        "currency = \"GBP\"\n[serve]\nmethod = \"none\"\npour = \"2.5 ml\"\nmost = 3\n[targets]\n\
         volume = {{ min = 100, max = 200 }}\nsugar = {{ min = 50, max = 90 }}\n{rest}\n\
         [[candidate]]\nname = \"spirit\"\nrole = \"base\"\nstrength = 40\nnotes = [\"oak\"]\nprice = \"20.00 per 1 l\"\n{spirit}\n\
         [[candidate]]\nname = \"juice\"\nrole = \"sour\"\nacid = 60\nnotes = [\"lime\"]\nmin = \"5 ml\"\nmax = \"30 ml\"\nprice = \"6.00 per 1 l\"\n\
         [[candidate]]\nname = \"syrup\"\nrole = \"sweetener\"\nsugar = 600\nnotes = [\"lime\", \"oak\"]\nmin = \"10 ml\"\nprice = \"3.00 per 1 l\"\n\
         [[candidate]]\nname = \"acid\"\nform = \"powder\"\nacid = 990\npour = \"0.1 g\"\nprice = \"8.00 per 1 kg\"\n"
    );
    read(text.as_bytes(), &[]).expect("a brief").brief
}

const COST: &str = "[aim]\nlowest = \"cost\"";

fn pours(amounts: [f64; 4]) -> Vec<Pour> {
    let pour = |(candidate, amount)| Pour { candidate, amount };
    amounts.into_iter().enumerate().map(pour).filter(|pour| pour.amount > 0.0).collect()
}

#[test]
fn amounts_are_counted_in_steps_between_their_ends() {
    let brief = brief(COST, "pour = \"5 ml\"\nmin = \"20 ml\"\nmust = true");
    let model = Model::new(&brief);
    let of = |at: usize| (model.columns[at].unit, model.columns[at].least, model.columns[at].most);
    // Of 200 ml served at most 1.15 times as much may be poured of one thing: 46 steps of 5 ml, 92 of 2.5 ml.
    assert_eq!(of(0), (5.0, 4.0, 46.0));
    assert_eq!(of(1), (2.5, 2.0, 12.0));
    assert_eq!(of(2), (2.5, 4.0, 92.0));
    // Of what dissolves 1.7 times as many grams: 391 g, and at least one step.
    assert_eq!(of(3), (0.1, 1.0, 3910.0));
    assert!(model.columns[0].must && !model.columns[1].must);
    let column = &model.columns[1];
    assert_eq!((column.below(3.7), column.above(3.2)), (3.0, 4.0));
    assert!(
        column.measures(3.0)
            && column.measures(3.0 + 1e-12)
            && !column.measures(3.5)
            && !column.measures(-3.5)
    );
    // Three steps of 0.1 g are 0.3 g, not a hair more.
    assert_eq!(model.pour(3, 3.0).amount, 0.3);
    let free = model.freed();
    assert_eq!(free.pour(1, 1.0 / 3.0).amount, 1.0 / 3.0 * 2.5);
    assert!(free.columns[1].measures(3.5) && free.columns[1].most == 12.0 && free.groups.is_empty());
}

/// Of what may be poured in any amount the unit is 1 ml, and nothing is rounded: 7.3 to 30.2 ml.
#[test]
fn any_amount_is_counted_in_millilitres() {
    let mut brief = brief(COST, "pour = \"5 ml\"");
    let juice = &mut brief.candidates[1];
    (juice.step, juice.least, juice.most) = (crate::brief::Step::Free, 7.3, Some(30.2));
    let column = &Model::new(&brief).columns[1];
    assert_eq!((column.unit, column.whole, column.least, column.most), (1.0, false, 7.3, 30.2));
    assert_eq!((column.above(7.9), column.below(7.9), column.measures(7.9)), (7.9, 7.9, true));
}

#[test]
fn jiggers_measure_what_they_measure() {
    let brief = brief(COST, "pour = \"jigger 20/40\"");
    let column = Model::new(&brief).columns[0].clone();
    let measured = |ml: f64| column.measures(ml / column.unit);
    assert!(measured(20.0) && measured(40.0) && !measured(25.0), "{column:?}");
    // Halves of a step are none, whatever the jiggers.
    assert!(!column.measures(20.0 / column.unit + 0.5));
    assert!((column.above(21.0 / column.unit) * column.unit - 30.0).abs() < 1e-9, "{column:?}");
}

#[test]
fn counts_musts_and_ends_decide_what_can_be_poured() {
    let choose = format!("{COST}\n[[choose]]\nrole = \"sour\"\nmin = 1\nmax = 1");
    let brief = brief(&choose, "pour = \"5 ml\"\nmin = \"20 ml\"\nmust = true");
    let model = Model::new(&brief);
    let keeps = |set: &[usize], units: &[f64]| model.keeps_counts(set, units);
    assert!(keeps(&[0, 1], &[4.0, 2.0]) && keeps(&[0, 1, 2], &[46.0, 12.0, 92.0]));
    // Too little and too much of one, half a step, no must, no sour, four of three.
    assert!(!keeps(&[0, 1], &[3.0, 2.0]) && !keeps(&[0, 1], &[47.0, 2.0]) && !keeps(&[0, 1], &[4.5, 2.0]));
    assert!(!keeps(&[1, 2], &[2.0, 4.0]) && !keeps(&[0, 2], &[4.0, 4.0]));
    assert!(!keeps(&[0, 1, 2, 3], &[4.0, 2.0, 4.0, 1.0]));
    // One that is as it should be does not make up for another.
    assert!(!keeps(&[0, 1], &[4.0, 13.0]) && !keeps(&[0, 1], &[4.0, 1.0]));
    let group = model.groups.iter().find(|group| group.members == [1]).expect("the sour");
    assert_eq!((group.min, group.max), (1, 1));
    // Three at most of all four. Where a rule has one end, nothing or all of them is the other.
    let of = |rule: &str| {
        let brief = self::brief(&format!("{COST}\n[[choose]]\nrole = \"sour\"\n{rule}"), "");
        let model = Model::new(&brief);
        model.groups.iter().map(|group| (group.members.len(), group.min, group.max)).collect::<Vec<_>>()
    };
    assert_eq!(of("max = 0"), [(1, 0, 0), (4, 0, 3)]);
    assert_eq!(of("min = 1"), [(1, 1, 1), (4, 0, 3)]);
}

#[test]
fn proportions_are_of_what_is_poured() {
    let proportion = format!("{COST}\n[[proportion]]\nof = \"juice\"\nto = \"syrup\"\nmin = 0.5\nmax = 2");
    let brief = brief(&proportion, "");
    let model = Model::new(&brief);
    let keeps = |juice: f64, syrup: f64| model.keeps_proportions(&pours([30.0, juice, syrup, 0.0]));
    assert!(keeps(10.0, 20.0) && keeps(10.0, 5.0) && keeps(12.5, 12.5));
    assert!(!keeps(7.5, 20.0) && !keeps(12.5, 5.0));
    // None of either keeps any proportion, juice without syrup none.
    assert!(keeps(0.0, 0.0) && !keeps(5.0, 0.0));
}

/// A least pour covers a note, half of one half of it; nothing covers more than all.
#[test]
fn notes_are_covered_by_least_pours() {
    let brief = brief("[aim]\nhighest = { notes = [\"oak\", \"lime\"] }", "pour = \"5 ml\"\nmin = \"20 ml\"");
    let model = Model::new(&brief);
    // 4 steps of spirit, 2 of juice, 4 of syrup, one of acid.
    let covers: Vec<f64> = (0..4).map(|column| model.covers(column)).collect();
    assert_eq!(covers, [0.25, 0.5, 0.25, 1.0]);
    let covered = |units: [f64; 4]| model.covered(&[0, 2], |column| units[column]);
    assert_eq!((covered([4.0, 0.0, 0.0, 0.0]), covered([9.0, 0.0, 9.0, 0.0])), (1.0, 1.0));
    assert_eq!(covered([6.0, 0.0, 0.0, 0.0]), 1.0);
    assert!((covered([1.0, 9.0, 1.0, 9.0]) - 0.5).abs() < 1e-15 && covered([0.0; 4]) == 0.0);
    assert_eq!(model.note_figures(&[0, 2]), [0.25, 0.0, 0.25, 0.0]);
    let free = Model {
        columns: model.columns.iter().cloned().map(|c| Column { least: 0.0, ..c }).collect(),
        ..model.clone()
    };
    // Where nothing names a least, a taste of 0.1 ml: 0.02 steps of 5 ml.
    assert!((free.covers(0) - 50.0).abs() < 1e-9);
    let one = Model {
        columns: model.columns.iter().cloned().map(|c| Column { least: 1.0, ..c }).collect(),
        ..model.clone()
    };
    assert_eq!(one.covers(0), 1.0);
    let objective = Objective::of(&model);
    let score = |amounts: [f64; 4]| {
        let pours = pours(amounts);
        objective.score(&model, &pours, &serve(&brief, &pours))
    };
    assert_eq!(
        (score([20.0, 5.0, 0.0, 0.0]), score([20.0, 0.0, 0.0, 0.0]), score([0.0, 0.0, 10.0, 0.0])),
        (-2.0, -1.0, -2.0)
    );
    // Half of a least pour of spirit is half of oak.
    assert_eq!(score([10.0, 0.0, 0.0, 0.0]), -0.5);
    assert_eq!((objective.floor(&model), objective.step(), objective.value(-2.0)), (-2.0, Some(1.0), 2.0));
}

#[test]
fn scores_are_read_off_pours_and_measures() {
    let brief = brief(COST, "");
    let model = Model::new(&brief);
    let poured = pours([40.0, 20.0, 30.0, 0.0]);
    let served = serve(&brief, &poured);
    let score = |objective: &Objective| objective.score(&model, &poured, &served);
    let low = Objective::goal(&model, Goal::Ingredient(1), Sense::Low);
    let high = Objective::goal(&model, Goal::Ingredient(1), Sense::High);
    assert_eq!((score(&low), score(&high)), (20.0, -20.0));
    assert_eq!(score(&Objective::Ratio { of: 0, to: 1, sense: Sense::Low }), 2.0);
    assert_eq!(score(&Objective::Ratio { of: 0, to: 1, sense: Sense::High }), -2.0);
    // 10 ml less of the first, 5 ml more of the second, as it was, 0.2 g of acid gone, and 7 that cannot be poured.
    let from =
        [50.0, 15.0, 30.0, 0.2].iter().zip(&model.columns).map(|(ml, column)| ml / column.unit).collect();
    assert!((score(&Objective::Change { from, lost: 7.0 }) - 22.2).abs() < 1e-9);
    let limit = |measure, side, value| Limit { measure, side, value, source: Source::Target };
    let cost = served.value(Measure::Cost);
    let softs = vec![
        // Missed by three halves of their sizes, by one, and met.
        Soft { limit: limit(Measure::Cost, Side::Max, cost - 0.3), size: 0.2 },
        Soft { limit: limit(Measure::Cost, Side::Min, cost + 0.5), size: 0.5 },
        Soft { limit: limit(Measure::Cost, Side::Max, cost + 0.5), size: 0.5 },
    ];
    let together = |together| score(&Objective::Elastic { softs: softs.clone(), together, most: 9.0 });
    assert!((together(Together::Sum) - 2.5).abs() < 1e-9 && (together(Together::Largest) - 1.5).abs() < 1e-9);
    // Missed by half a size alone.
    let softs = vec![Soft { limit: limit(Measure::Cost, Side::Max, cost - 0.1), size: 0.2 }];
    let alone = score(&Objective::Elastic { softs, together: Together::Largest, most: 9.0 });
    assert!((alone - 0.5).abs() < 1e-9, "{alone}");
}

/// From 40 ml, 5 ml and 30 ml, of which the last cannot be poured: 8 and 2 steps, and 30 ml lost.
#[test]
fn a_change_counts_from_the_reference() {
    let mut brief = brief(
        "[reference]\nspirit = \"40 ml\"\njuice = \"5 ml\"\nsyrup = \"30 ml\"\n[aim]\nnearest = \"reference\"",
        "pour = \"5 ml\"",
    );
    brief.candidates[2].out = true;
    let model = Model::new(&brief);
    let Objective::Change { from, lost } = Objective::of(&model) else { panic!("no change") };
    assert_eq!((from, lost), (vec![8.0, 2.0, 0.0], 30.0));
}

/// The aim's own limits bound the score, and a score is a limit of the measure.
#[test]
fn a_goal_is_bounded_by_its_own_limits() {
    let brief = brief("[aim]\nlowest = \"sugar\"", "");
    let model = Model::new(&brief);
    let low = Objective::goal(&model, Goal::Measure(Measure::Sugar), Sense::Low);
    let high = Objective::goal(&model, Goal::Measure(Measure::Sugar), Sense::High);
    let about = |a: f64, b: f64| (a - b).abs() < 1e-4;
    assert!(about(low.floor(&model), 50.0) && low.floor(&model) < 50.0, "{}", low.floor(&model));
    assert!(about(high.floor(&model), -90.0) && high.floor(&model) < -90.0);
    assert_eq!(
        Objective::goal(&model, Goal::Measure(Measure::Acid), Sense::Low).floor(&model),
        f64::NEG_INFINITY
    );
    let limit =
        |objective: &Objective, score| objective.as_limit(score).map(|l| (l.measure, l.side, l.value));
    assert_eq!(limit(&low, 60.0), Some((Measure::Sugar, Side::Max, 60.0)));
    assert_eq!(limit(&high, -60.0), Some((Measure::Sugar, Side::Min, 60.0)));
    assert_eq!(limit(&low, f64::INFINITY), None);
    assert_eq!((high.value(-60.0), high.score_of(60.0), low.value(60.0)), (60.0, -60.0, 60.0));
}

/// The middle of a range, and half its width; what has one end has no middle.
#[test]
fn the_middle_is_half_way_between_both_ends() {
    let brief = brief("acid = { min = 4 }\n[aim]\nnearest = \"middle\"", "");
    let model = Model::new(&brief);
    let Objective::Elastic { softs, together, .. } = Objective::of(&model) else { panic!("no distance") };
    assert_eq!(together, Together::Largest);
    let told: Vec<(Measure, Side, f64, f64)> =
        softs.iter().map(|soft| (soft.limit.measure, soft.limit.side, soft.limit.value, soft.size)).collect();
    let both = |measure, value, size| [Side::Min, Side::Max].map(|side| (measure, side, value, size));
    assert_eq!(told, [both(Measure::Volume, 150.0, 50.0), both(Measure::Sugar, 70.0, 20.0)].concat());
    // No distance is over one, but for the margin of a limit.
    let Some(Objective::Elastic { most, .. }) = Objective::middle_of(&model) else { panic!("no distance") };
    assert!(most > 1.0 && most < 1.0001, "{most}");
    // A range of one value has no half width, and without ranges there is no middle.
    let mut brief = brief.clone();
    (brief.targets[0].min, brief.targets[0].max) = (Some(120.0), Some(120.0));
    let Some(Objective::Elastic { softs, .. }) = Objective::middle_of(&Model::new(&brief)) else {
        panic!("none")
    };
    assert!(softs.iter().all(|soft| soft.limit.measure == Measure::Sugar) && softs.len() == 2, "{softs:?}");
    brief.targets.truncate(1);
    assert_eq!(Objective::middle_of(&Model::new(&brief)), None);
}

/// Limits of the brief, of what is held, and of the glass; targets are the first two.
#[test]
fn limits_come_from_targets_holds_and_the_glass() {
    let mut brief = brief(
        "[hold]\nacid = 3\n[reference]\nspirit = \"40 ml\"\njuice = \"5 ml\"\nsyrup = \"20 ml\"\n[aim]\nlowest = \"cost\"",
        "",
    );
    brief.serve.glass = Some(crate::brief::Glass { brim: 200.0, headroom: 10.0, ice: 0.0 });
    let model = Model::new(&brief);
    let of = |source: Source| -> Vec<(Measure, Side, f64)> {
        let own = model.limits.iter().filter(|limit| limit.source == source);
        own.map(|limit| (limit.measure, limit.side, limit.value)).collect()
    };
    assert_eq!(of(Source::Target).len(), 4);
    assert_eq!(of(Source::Glass), [(Measure::Volume, Side::Max, 180.0)]);
    // The reference has some 4.6 g/L of acid: 1.6 to 7.6.
    let reference = serve(&brief, &pours([40.0, 5.0, 20.0, 0.0])).value(Measure::Acid);
    let held = of(Source::Hold);
    assert!(
        (held[0].2 - (reference - 3.0)).abs() < 1e-9 && (held[1].2 - (reference + 3.0)).abs() < 1e-9,
        "{held:?}"
    );
    assert_eq!(model.targets().len(), 6);
    // Nothing is less than none.
    let mut wider = brief.clone();
    wider.hold[0].within = 9.0;
    let least =
        Model::new(&wider).limits.iter().find(|l| l.source == Source::Hold).map(|l| (l.side, l.value));
    assert_eq!(least, Some((Side::Min, 0.0)));
    assert!(
        !model.meets_limits(&pours([40.0, 5.0, 20.0, 0.0]), &serve(&brief, &pours([40.0, 5.0, 20.0, 0.0])))
    );
    let full = pours([80.0, 10.0, 15.0, 0.0]);
    let served = serve(&brief, &full);
    assert!(model.meets_limits(&full, &served), "{served:?}");
}
