//! Why the answer is as it is, as rows.

use super::Sheet;
use crate::answer::{ConflictLine, Frame, Item, SpecAnswer};
use crate::brief::Side;
use crate::explain::loosen::Change;
use crate::explain::sensitivity::Sensitivity;
use crate::quantity::{Currency, UnitSystem};
use crate::render::words;

impl Sheet {
    /// Who is in play, what waits behind looser limits, and what conflicts.
    pub(super) fn why(&mut self, answer: &SpecAnswer) {
        if let Some(in_play) = &answer.in_play {
            self.row(&cells!["in play", "within", (), in_play.within, "%"]);
            let groups =
                [("always", &in_play.always), ("sometimes", &in_play.sometimes), ("never", &in_play.never)];
            for (how, names) in groups {
                names.iter().for_each(|name| self.row(&cells!["in play", how, name]));
            }
        }
        for next in &answer.next {
            self.need("looser", "needed", &next.need);
            self.row(&cells!["looser", "score", &next.need.target, next.score]);
        }
        if let Some(found) = &answer.sensitivity {
            self.limits(found);
            if answer.currency != Currency::NONE {
                self.prices(found);
            }
        }
        if let Some(conflict) = &answer.conflict {
            self.conflict(&answer.frame, conflict);
        }
    }

    /// A limit's slopes; between which values they hold, and the scores at both ends.
    fn limits(&mut self, found: &Sensitivity) {
        for line in &found.limits {
            let name = format!("{} {}", line.target, line.side.keyword());
            let (unit, from, to) = (line.unit.to_string(), line.from, line.to);
            for (what, slope) in [("slope looser", line.looser), ("slope tighter", line.tighter)] {
                self.row(&cells!["limit", what, &name, slope, &unit, (), from, to]);
            }
            let (from, to) = (line.score_from, line.score_to);
            self.row(&cells!["limit", "score at ends", name, (), (), (), from, to]);
        }
    }

    /// The price of a pack, and between which prices specs stay: with any amounts, and as poured.
    fn prices(&mut self, found: &Sensitivity) {
        for line in &found.prices {
            let per = format!("per {}", line.per);
            let mut row = |what, enters: Option<f64>, from: Option<f64>, to: Option<f64>| {
                self.row(&cells!["price", what, &line.ingredient, enters, &per, line.price, from, to]);
            };
            if line.used {
                row("any amounts stay", None, line.from, line.to);
            } else {
                row("any amounts enter below", line.enters_below, None, None);
            }
            match line.pourable {
                Some(turn) if turn.used => row("best stays", None, turn.from, turn.to),
                Some(turn) => row("best enters below", turn.enters_below, None, None),
                None => row("best: not proved", None, None, None),
            }
        }
    }

    fn conflict(&mut self, frame: &Frame, conflict: &ConflictLine) {
        for (at, core) in conflict.cores.iter().enumerate() {
            for item in core {
                let limit = match item {
                    Item::Target { limit, .. } => Some(*limit),
                    Item::Rule { .. } => None,
                };
                let words = words::item(frame, item, UnitSystem::Metric);
                self.row(&cells!["conflict", format!("core {}", at + 1), words, limit]);
            }
        }
        for reach in &conflict.reach {
            let unit = frame.gauge(&reach.target).map(|g| &g.unit);
            self.row(&cells![
                "conflict",
                "reach",
                &reach.target,
                (),
                unit,
                (),
                reach.min.found,
                reach.max.found
            ]);
        }
        conflict.enough.iter().for_each(|need| self.need("conflict", "enough", need));
        conflict.relax.iter().for_each(|need| self.need("conflict", "relax", need));
        conflict.spec.iter().for_each(|spec| self.spec("relaxed", frame, spec));
    }

    /// A change: what is needed as the value, what was asked for as its min or max.
    fn need(&mut self, which: &str, what: &str, need: &Change) {
        let (min, max) =
            if need.side == Side::Min { (Some(need.asked), None) } else { (None, Some(need.asked)) };
        self.row(&cells![which, what, &need.target, need.needed, (), (), min, max]);
    }
}
