//! A trade-off curve as rows: one a point, then one a switch.

use super::Cell::{Nothing, Number, Text};
use super::{Cell, Sheet};
use crate::answer::{PointLine, Spelled as _, SweepAnswer};

/// The curve.
pub fn sheet(answer: &SweepAnswer) -> String {
    let poured = poured(answer);
    let mut head = ["what", &answer.over, "outcome", "score", "from", "to"].map(str::to_owned).to_vec();
    head.extend(answer.frame.gauges.iter().map(|g| format!("{} {}", g.key, g.unit).trim_end().to_owned()));
    head.extend(poured.iter().map(|(name, unit)| format!("{name} {unit}")));
    let mut out = Sheet::with_head(&head.iter().map(String::as_str).collect::<Vec<_>>());
    for point in &answer.points {
        let mut row = vec![Text("point"), Number(point.at), Text(point.outcome.spelled())];
        row.extend([point.score.into(), Nothing, Nothing]);
        row.extend(answer.frame.gauges.iter().map(|gauge| served(point, &gauge.key)));
        row.extend(poured.iter().map(|(name, _)| amount(point, name)));
        out.row(&row);
    }
    for switch in &answer.switches {
        let (from, to) = (switch.from.join("; "), switch.to.join("; "));
        let mut row = vec![Text("switch"), Number(switch.at), Nothing, switch.score.into()];
        row.extend([Text(&from), Text(&to)]);
        out.row(&row);
    }
    out.finish()
}

/// Every ingredient that any point pours, with its unit, in the order in which they come up.
fn poured(answer: &SweepAnswer) -> Vec<(String, &'static str)> {
    let mut known: Vec<(String, &'static str)> = Vec::new();
    for pour in answer.points.iter().flat_map(|p| &p.spec).flat_map(|spec| &spec.pours) {
        if !known.iter().any(|(name, _)| *name == pour.ingredient) {
            known.push((pour.ingredient.clone(), pour.unit.spelled()));
        }
    }
    known
}

fn served(point: &PointLine, key: &str) -> Cell<'static> {
    point.spec.as_ref().map_or(Nothing, |spec| Number(spec.served.get(key)))
}

fn amount(point: &PointLine, name: &str) -> Cell<'static> {
    let pours = point.spec.as_ref().map_or(&[][..], |spec| &spec.pours);
    pours.iter().find(|p| p.ingredient == name).map_or(Nothing, |p| Number(p.amount))
}
