//! How sure, as rows: shares from 0 to 1, their 95 % intervals as min and max.

use super::Sheet;
use crate::explain::variation::Service;
use crate::explain::variation::certainty::Certainty;
use crate::render::words::cause_words;

impl Sheet {
    /// A simulated service.
    pub(super) fn service(&mut self, service: &Service) {
        let mut share = |what: &str, name: &str, value: f64, interval: Option<[f64; 2]>| {
            let (low, high) = (interval.map(|ends| ends[0]), interval.map(|ends| ends[1]));
            self.row(&cells!["service", what, name, value, (), (), low, high]);
        };
        share("draws", "", service.draws as f64, None);
        share("within", "all", service.within_all.found, Some(service.within_all.interval()));
        for target in &service.targets {
            share("within", &target.target, target.within, Some(target.interval));
            for cause in &target.varies_with {
                let what = format!("{} varies with", target.target);
                share(&what, &cause_words(cause), cause.share, None);
            }
        }
        if let Some(missed) = &service.most_missed {
            let side = format!("{} {}", missed.target, missed.side.keyword());
            share("most missed", &side, missed.share, None);
            missed.mended.iter().for_each(|by| share("mended by", &cause_words(by), by.share, None));
        }
        if let Some(fresh) = service.fresh {
            share("within, in other serves", "all", fresh.found, Some(fresh.interval()));
        }
        for judged in &service.judged {
            let name = format!("{}: {}, {}", judged.ingredient, judged.figure, judged.basis);
            self.row(&cells!["service", "judged range", name]);
        }
    }

    /// What certainty costs, or what stands against it.
    pub(super) fn certainty(&mut self, certainty: &Certainty) {
        self.row(&cells!["certainty", "score", "typical composition", certainty.typical_score]);
        for reach in &certainty.reach {
            self.row(&cells!["certainty", "reach", &reach.target, (), (), (), reach.min, reach.max]);
        }
        for known in &certainty.known {
            self.row(&cells!["certainty", "score, known exactly", &known.ingredient, known.score]);
        }
        for range in certainty.blame.iter().flat_map(|blame| &blame.ranges) {
            let (name, [low, high]) = (format!("{}: {}", range.ingredient, range.figure), range.needed);
            self.row(&cells!["certainty", "range needed", name, (), range.unit, (), low, high]);
        }
    }
}
