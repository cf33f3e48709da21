//! What the command line changes in a brief for one run: swaps, then settings.
//!
//! What a change brings gets places beyond the end of the text, so that a finding about it can be told
//! apart and say where it comes from.

use std::ops::Range;
use std::sync::Arc;

use super::house::House;
use super::shape::shown;
use super::{codes, settings};
use crate::finding::{Finding, Text};

/// One `--set KEY=VALUE`: a change to the brief before it is read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Setting {
    /// Dotted key, such as `targets.strength.max`.
    pub key: String,
    /// The value as TOML, or a bare string.
    pub value: String,
}

impl Setting {
    /// Whether it is about a key at the top of the brief, or something under it.
    pub(super) fn is_under(&self, key: &str) -> bool {
        settings::parts(&self.key).first().is_some_and(|first| first == key)
    }
}

/// One `--swap OLD=NEW`: an ingredient goes out, another comes in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Swap {
    /// What goes out: a candidate.
    pub old: String,
    /// What comes in: a candidate or an ingredient of the larder.
    pub new: String,
}

/// Everything that changes for one run, and what stands beside the brief.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Changes {
    /// Done first, so that a setting can say more about what comes in: its price, its largest pour.
    pub swaps: Vec<Swap>,
    /// Done in their order.
    pub settings: Vec<Setting>,
    /// The house that the brief names, as its file has it: whoever reads files brings it.
    pub house: Option<Arc<House>>,
}

impl Changes {
    /// As the command line writes them.
    pub fn words(&self) -> Vec<String> {
        let swaps = self.swaps.iter().map(|swap| format!("--swap {}={}", swap.old, swap.new));
        let settings = self.settings.iter().map(|set| format!("--set {}={}", set.key, set.value));
        swaps.chain(settings).collect()
    }
}

/// Where the changes stand: as if they were written behind the text, one after the other.
#[derive(Debug, Clone)]
pub(super) struct Places {
    /// Of the swaps.
    pub swaps: Vec<Range<usize>>,
    /// Of the values of the settings.
    pub settings: Vec<Range<usize>>,
    /// Of the house.
    pub house: Range<usize>,
}

impl Places {
    /// Behind a text of this length.
    pub fn after(end: usize, changes: &Changes) -> Self {
        let mut start = end + 1;
        let mut take = |length: usize| {
            let place = start..start + length + 1;
            start = place.end;
            place
        };
        let swaps = changes.swaps.iter().map(|s| take(s.old.len() + s.new.len())).collect();
        let settings = changes.settings.iter().map(|s| take(s.value.len())).collect();
        let house = take(changes.house.as_ref().map_or(0, |house| house.bytes.len()));
        Self { swaps, settings, house }
    }

    /// Turns findings about what came from a change into findings that say so.
    pub fn told(&self, findings: &mut [Finding], changes: &Changes) {
        let swaps = changes.swaps.iter().map(|s| format!("--swap {}={}", shown(&s.old), shown(&s.new)));
        let settings =
            changes.settings.iter().map(|s| format!("--set {}", shown(&format!("{}={}", s.key, s.value))));
        let given: Vec<(String, &Range<usize>)> =
            swaps.zip(&self.swaps).chain(settings.zip(&self.settings)).collect();
        for finding in findings {
            let Some(place) = finding.place.clone() else { continue };
            let start = place.start;
            if self.house.contains(&start) {
                let base = self.house.start;
                finding.place = Some(start - base..place.end.saturating_sub(base));
                finding.text = Text::House;
                continue;
            }
            if let Some((words, _)) = given.iter().find(|(_, place)| place.contains(&start)) {
                finding.place = None;
                finding.what = format!("in {words}: {}", finding.what);
            }
            let swapped = changes.swaps.iter().zip(&self.swaps).find(|(_, place)| place.contains(&start));
            if let Some((swap, _)) = swapped.filter(|_| finding.code == codes::NO_PRICE) {
                finding.help = format!(
                    "add --set 'candidate.\"{}\".price=14.50 per 700 ml' with its own price, or list it as a \
                     [[candidate]] with one",
                    shown(&swap.new)
                );
            }
        }
    }
}
