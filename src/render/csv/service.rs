//! How sure, as rows: shares from 0 to 1, their 95 % intervals as min and max.

use super::Cell::{Nothing, Number, Text};
use super::Sheet;
use crate::explain::variation::Service;
use crate::explain::variation::certainty::Certainty;
use crate::render::words;

impl Sheet {
    /// A simulated service.
    pub(super) fn service(&mut self, service: &Service) {
        self.share("draws", "", service.draws as f64, None);
        self.share("within", "all", service.within_all.found, Some(service.within_all.interval()));
        for target in &service.targets {
            self.share("within", &target.target, target.within, Some(target.interval));
            for cause in &target.varies_with {
                let what = format!("{} varies with", target.target);
                self.share(&what, &words::cause_words(cause), cause.share, None);
            }
        }
        if let Some(missed) = &service.most_missed {
            let side = format!("{} {}", missed.target, missed.side.keyword());
            self.share("most missed", &side, missed.share, None);
            for cause in &missed.mended {
                self.share("mended by", &words::cause_words(cause), cause.share, None);
            }
        }
        if let Some(fresh) = service.fresh {
            self.share("within, in other serves", "all", fresh.found, Some(fresh.interval()));
        }
        for judged in &service.judged {
            let name = format!("{}: {}, {}", judged.ingredient, judged.figure, judged.basis);
            self.row(&[Text("service"), Text("judged range"), Text(&name)]);
        }
    }

    fn share(&mut self, what: &str, name: &str, value: f64, interval: Option<[f64; 2]>) {
        let [low, high] = interval.map_or([Nothing; 2], |ends| ends.map(Number));
        self.row(&[Text("service"), Text(what), Text(name), Number(value), Nothing, Nothing, low, high]);
    }

    /// What certainty costs, or what stands against it.
    pub(super) fn certainty(&mut self, certainty: &Certainty) {
        let row =
            |sheet: &mut Self, what: &str, name: &str, value, unit: &str, [min, max]: [super::Cell; 2]| {
                sheet.row(&[Text("certainty"), Text(what), Text(name), value, Text(unit), Nothing, min, max]);
            };
        let score = certainty.typical_score.into();
        row(self, "score", "typical composition", score, "", [Nothing; 2]);
        for reach in &certainty.reach {
            row(self, "reach", &reach.target, Nothing, "", [Number(reach.min), Number(reach.max)]);
        }
        for known in &certainty.known {
            row(self, "score, known exactly", &known.ingredient, Number(known.score), "", [Nothing; 2]);
        }
        for blame in &certainty.blame {
            for range in &blame.ranges {
                let name = format!("{}: {}", range.ingredient, range.figure);
                row(self, "range needed", &name, Nothing, range.unit, range.needed.map(Number));
            }
        }
    }
}
