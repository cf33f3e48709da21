//! The swap, the reference and what each ingredient brings, as rows.

use super::Cell::{Nothing, Number, Text};
use super::Sheet;
use crate::answer::{Frame, SpecAnswer, SpecLine, Spelled as _};

impl Sheet {
    /// What was swapped, and the reference that it is held against.
    pub(super) fn swap(&mut self, answer: &SpecAnswer) {
        if let Some(reference) = &answer.reference {
            self.spec("reference", &answer.frame, reference);
            self.brings("reference", &answer.frame, reference);
        }
        let Some(swap) = &answer.swap else { return };
        swap.out.iter().for_each(|name| self.fact("goes out", name));
        swap.coming.iter().for_each(|name| self.fact("comes in", name));
        self.fact("held by", swap.held_by.spelled());
        for held in &swap.held {
            let (low, high) = (held.value - held.within, held.value + held.within);
            let (value, low, high) = (Number(held.value), Number(low), Number(high));
            self.row(&[
                Text("reference"),
                Text("held"),
                Text(&held.target),
                value,
                Nothing,
                Nothing,
                low,
                high,
            ]);
        }
        swap.aim_set_aside.iter().for_each(|aim| self.fact("aim set aside", aim));
        swap.proportions_left_out.iter().for_each(|rule| self.fact("proportion left out", rule));
    }

    /// What each pour and the ice bring: a row a figure.
    pub(super) fn brings(&mut self, which: &str, frame: &Frame, spec: &SpecLine) {
        for line in &spec.contributions {
            for (key, share) in line.share.0.iter().filter(|(_, share)| *share != 0.0 && !share.is_nan()) {
                let what = format!("brings {key}");
                let unit = frame.gauge(key).map_or("", |gauge| gauge.unit.as_str());
                let cells = [Text(which), Text(&what), Text(&line.ingredient), Number(*share), Text(unit)];
                self.row(&cells);
            }
        }
    }
}
