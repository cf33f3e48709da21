//! Specs as rows: the answer to a brief, a given spec, and what could come in.

use super::{HEAD, Rows, Sheet};
use crate::answer::{CheckAnswer, Frame, Miss, SpecAnswer, SpecLine, Spelled as _, SubstitutesAnswer};
use crate::quantity::Currency;

impl Rows for SpecAnswer {
    fn rows(&self) -> String {
        let mut out = Sheet::with_head(&HEAD);
        out.title(&self.title, &self.currency);
        out.fact("outcome", self.outcome.spelled());
        out.fact("aim", format!("{} {}", self.aim.direction.word(), self.aim.of));
        out.fact("bound", self.bound);
        out.fact("complete", self.complete);
        if let Some(best) = &self.best {
            out.spec("best", &self.frame, best);
            out.brings("best", &self.frame, best);
        }
        for (at, spec) in self.alternatives.iter().enumerate() {
            out.spec(&format!("alternative {}", at + 1), &self.frame, spec);
        }
        self.unrounded.iter().for_each(|free| out.spec("unrounded", &self.frame, free));
        out.swap(self);
        self.service.iter().for_each(|service| out.service(service));
        self.certainty.iter().for_each(|certainty| out.certainty(certainty));
        out.why(self);
        out.close(&self.cautions, self.asked.as_ref())
    }
}

impl Rows for CheckAnswer {
    fn rows(&self) -> String {
        let mut out = Sheet::with_head(&HEAD);
        out.fact("title", &self.title);
        out.fact("meets", self.meets);
        out.spec("given", &self.frame, &self.spec);
        out.brings("given", &self.frame, &self.spec);
        for miss in &self.misses {
            match miss {
                Miss::Target { target, side, by, .. } => {
                    out.row(&cells!["given", "misses by", format!("{target} {}", side.keyword()), *by]);
                }
                Miss::Rule { rule } => out.row(&cells!["given", "breaks", rule]),
            }
        }
        out.service(&self.service);
        out.close(&self.cautions, self.asked.as_ref())
    }
}

impl Rows for SubstitutesAnswer {
    fn rows(&self) -> String {
        let mut out = Sheet::with_head(&HEAD);
        out.title(&self.title, &self.currency);
        out.fact("aim", format!("{} {}", self.aim.direction.word(), self.aim.of));
        out.fact("goes out", &self.out);
        out.fact("held by", self.held_by.spelled());
        self.reference.iter().for_each(|reference| out.spec("reference", &self.frame, reference));
        for substitute in &self.ranked {
            let name = &substitute.coming;
            out.row(&cells![name, "outcome", "outcome", substitute.outcome.spelled()]);
            out.row(&cells![name, "score", "score", substitute.score]);
            substitute.notes_kept.iter().for_each(|note| out.row(&cells![name, "keeps note", note]));
            substitute.spec.iter().for_each(|spec| out.spec(name, &self.frame, spec));
        }
        for untried in &self.untried {
            out.row(&cells![&untried.coming, "not tried", &untried.why]);
        }
        out.close(&[], self.asked.as_ref())
    }
}

impl Sheet {
    /// What a spec pours, measures, carries and changes. Where no price is named, nothing is said of money.
    pub(super) fn spec(&mut self, which: &str, frame: &Frame, spec: &SpecLine) {
        for pour in &spec.pours {
            self.row(&cells![which, "pour", &pour.ingredient, pour.amount, pour.unit.spelled(), pour.cost]);
        }
        let money = frame.currency != Currency::NONE;
        for gauge in frame.gauges.iter().filter(|gauge| money || gauge.unit != Currency::NONE) {
            let value = spec.served.get(&gauge.key);
            self.row(&cells![which, "served", &gauge.key, value, &gauge.unit, (), gauge.min, gauge.max]);
        }
        for note in &spec.notes {
            self.row(&cells![which, "note", &note.note, &note.from]);
        }
        for change in &spec.change {
            self.row(&cells![which, "change", &change.ingredient, change.by, change.unit.symbol()]);
        }
    }

    /// What each pour and the ice bring: a row a figure.
    fn brings(&mut self, which: &str, frame: &Frame, spec: &SpecLine) {
        for line in &spec.contributions {
            for (key, share) in line.share.0.iter().filter(|(_, share)| *share != 0.0 && !share.is_nan()) {
                let unit = frame.gauge(key).map(|gauge| &gauge.unit);
                self.row(&cells![which, format!("brings {key}"), &line.ingredient, *share, unit]);
            }
        }
    }

    /// What was swapped, and the reference that it is held against.
    fn swap(&mut self, answer: &SpecAnswer) {
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
            self.row(&cells!["reference", "held", &held.target, held.value, (), (), low, high]);
        }
        swap.aim_set_aside.iter().for_each(|aim| self.fact("aim set aside", aim));
        swap.proportions_left_out.iter().for_each(|rule| self.fact("proportion left out", rule));
    }
}
