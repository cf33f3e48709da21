//! A trade-off curve as rows: one a point, then one a switch.

use super::{Cell, Rows, Sheet};
use crate::answer::{PointLine, Spelled as _, SweepAnswer};

impl Rows for SweepAnswer {
    fn rows(&self) -> String {
        let poured = poured(self);
        let mut head = ["what", &self.over, "outcome", "score", "from", "to"].map(str::to_owned).to_vec();
        head.extend(self.frame.gauges.iter().map(|g| format!("{} {}", g.key, g.unit).trim_end().to_owned()));
        head.extend(poured.iter().map(|(name, unit)| format!("{name} {unit}")));
        let mut out = Sheet::with_head(&head);
        for point in &self.points {
            let mut row = cells!["point", point.at, point.outcome.spelled(), point.score, (), ()].to_vec();
            let served = |key: &str| point.spec.as_ref().map(|spec| spec.served.get(key));
            row.extend(self.frame.gauges.iter().map(|gauge| Cell::from(served(&gauge.key))));
            row.extend(poured.iter().map(|(name, _)| Cell::from(amount(point, name))));
            out.row(&row);
        }
        for switch in &self.switches {
            out.row(&cells!["switch", switch.at, (), switch.score, &switch.from, &switch.to]);
        }
        out.finish()
    }
}

/// Every ingredient that any point pours, with its unit, in the order in which they come up.
fn poured(answer: &SweepAnswer) -> Vec<(&str, &'static str)> {
    let mut known: Vec<(&str, &'static str)> = Vec::new();
    for pour in answer.points.iter().flat_map(|p| &p.spec).flat_map(|spec| &spec.pours) {
        if !known.iter().any(|(name, _)| *name == pour.ingredient) {
            known.push((&pour.ingredient, pour.unit.spelled()));
        }
    }
    known
}

fn amount(point: &PointLine, name: &str) -> Option<f64> {
    let mut pours = point.spec.iter().flat_map(|spec| &spec.pours);
    pours.find(|pour| pour.ingredient == name).map(|pour| pour.amount)
}
