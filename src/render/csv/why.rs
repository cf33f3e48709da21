//! Why the answer is as it is, as rows.

use super::Cell::{Nothing, Number, Text};
use super::{Cell, Sheet};
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
            let share = Number(in_play.within);
            self.row(&[Text("in play"), Text("within"), Nothing, share, Text("%")]);
            let groups =
                [("always", &in_play.always), ("sometimes", &in_play.sometimes), ("never", &in_play.never)];
            for (how, names) in groups {
                for name in names {
                    self.row(&[Text("in play"), Text(how), Text(name)]);
                }
            }
        }
        for next in &answer.next {
            self.need("looser", "needed", &next.need);
            let name = Text(&next.need.target);
            self.row(&[Text("looser"), Text("score"), name, Number(next.score)]);
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
            let rate = line.unit.to_string();
            let (unit, from, to) = (Text(&rate), Cell::from(line.from), Cell::from(line.to));
            for (what, slope) in [("slope looser", line.looser), ("slope tighter", line.tighter)] {
                self.row(&[Text("limit"), Text(what), Text(&name), slope.into(), unit, Nothing, from, to]);
            }
            let (from, to) = (Cell::from(line.score_from), Cell::from(line.score_to));
            self.row(&[
                Text("limit"),
                Text("score at ends"),
                Text(&name),
                Nothing,
                Nothing,
                Nothing,
                from,
                to,
            ]);
        }
    }

    /// The price of a pack, and between which prices specs stay: with any amounts, and as poured.
    fn prices(&mut self, found: &Sensitivity) {
        for line in &found.prices {
            let (name, per, price) =
                (Text(&line.ingredient), format!("per {}", line.per), Cell::from(line.price));
            let mut row = |what, enters: Option<f64>, from: Option<f64>, to: Option<f64>| {
                self.row(&[
                    Text("price"),
                    Text(what),
                    name,
                    enters.into(),
                    Text(&per),
                    price,
                    from.into(),
                    to.into(),
                ]);
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
                let words = words::item(frame, item, UnitSystem::Metric);
                let limit = match item {
                    Item::Target { limit, .. } => Number(*limit),
                    Item::Rule { .. } => Nothing,
                };
                let core = format!("core {}", at + 1);
                self.row(&[Text("conflict"), Text(&core), Text(&words), limit]);
            }
        }
        for reach in &conflict.reach {
            let unit = frame.gauge(&reach.target).map_or("", |g| g.unit.as_str());
            let (min, max) = (Cell::from(reach.min.found), Cell::from(reach.max.found));
            let name = Text(&reach.target);
            self.row(&[Text("conflict"), Text("reach"), name, Nothing, Text(unit), Nothing, min, max]);
        }
        conflict.enough.iter().for_each(|need| self.need("conflict", "enough", need));
        conflict.relax.iter().for_each(|need| self.need("conflict", "relax", need));
        if let Some(spec) = &conflict.spec {
            self.spec("relaxed", frame, spec);
        }
    }

    /// A change: what is needed as the value, what was asked for as its min or max.
    fn need(&mut self, which: &str, what: &str, need: &Change) {
        let asked = Number(need.asked);
        let (min, max) = if need.side == Side::Min { (asked, Nothing) } else { (Nothing, asked) };
        let name = Text(&need.target);
        self.row(&[Text(which), Text(what), name, need.needed.into(), Nothing, Nothing, min, max]);
    }
}
