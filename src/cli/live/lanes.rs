//! Which question of a tab is the newest: older searches are given up, and older answers never come.

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex};

use crate::solve::Stop;

/// More tabs than this nobody keeps open; the one that was silent longest is forgotten.
const TABS: usize = 32;
/// Of the name of a tab so many letters count.
const NAME: usize = 64;

/// What kind of question it is: one of a kind is enough at a time.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// The best spec: what is asked of an older state is given up, of every kind but the way along an end.
    Glass,
    /// What comes next.
    Others,
    /// Reasons.
    Reasons,
    /// Along an end.
    Along,
    /// Swaps.
    Tries,
}

#[derive(Default)]
struct Lane {
    newest: u64,
    used: u64,
    running: BTreeMap<Kind, Arc<Stop>>,
}

/// The tabs that ask.
#[derive(Default)]
pub struct Lanes {
    tabs: Mutex<(u64, BTreeMap<String, Lane>)>,
}

/// A question on its way: dropped with its connection, it gives the search up.
pub struct Turn {
    /// Raised when nobody waits for the answer any more.
    pub stop: Arc<Stop>,
}

impl Drop for Turn {
    fn drop(&mut self) {
        self.stop.raise();
    }
}

impl Lanes {
    /// Begins a question; nothing where the tab has asked a newer one already.
    pub fn begin(&self, tab: &str, kind: Kind, seq: Option<u64>) -> Option<Turn> {
        let mut tabs = self.tabs.lock().ok()?;
        let (clock, lanes) = &mut *tabs;
        *clock += 1;
        let tab: String = tab.chars().take(NAME).collect();
        if !lanes.contains_key(&tab) && lanes.len() >= TABS {
            let silent = lanes.iter().min_by_key(|(_, lane)| lane.used).map(|(name, _)| name.clone());
            silent.and_then(|name| lanes.remove(&name)).iter().for_each(|lane| {
                lane.running.values().for_each(|stop| stop.raise());
            });
        }
        let lane = lanes.entry(tab).or_default();
        lane.used = *clock;
        if let Some(seq) = seq {
            if seq < lane.newest {
                return None;
            }
            if seq > lane.newest {
                lane.newest = seq;
                lane.running
                    .iter()
                    .filter(|(kind, _)| **kind != Kind::Along)
                    .for_each(|(_, stop)| stop.raise());
                lane.running.retain(|kind, _| *kind == Kind::Along);
            }
        }
        let stop = Arc::new(Stop::within_reason());
        if let Some(older) = lane.running.insert(kind, Arc::clone(&stop)) {
            older.raise();
        }
        Some(Turn { stop })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_older_is_given_up_and_never_begun() {
        let lanes = Lanes::default();
        let begin = |tab, kind, seq| lanes.begin(tab, kind, seq);
        let along = begin("a", Kind::Along, None).expect("a turn");
        let others = begin("a", Kind::Others, Some(1)).expect("a turn");
        let elsewhere = begin("b", Kind::Others, Some(1)).expect("a turn");
        let glass = begin("a", Kind::Glass, Some(2)).expect("a turn");
        assert!(
            others.stop.raised() && !glass.stop.raised() && !along.stop.raised() && !elsewhere.stop.raised()
        );
        assert!(begin("a", Kind::Others, Some(1)).is_none());
        let others = begin("a", Kind::Others, Some(2)).expect("a turn");
        assert!(!glass.stop.raised());
        let again = begin("a", Kind::Others, Some(2)).expect("a turn");
        assert!(others.stop.raised() && !again.stop.raised());
    }

    #[test]
    fn the_silent_tab_is_forgotten() {
        let lanes = Lanes::default();
        let first = lanes.begin("first", Kind::Others, Some(9)).expect("a turn");
        for tab in 0..TABS {
            drop(lanes.begin(&tab.to_string(), Kind::Glass, Some(1)));
        }
        assert!(first.stop.raised());
        assert_eq!(lanes.tabs.lock().expect("a lock").1.len(), TABS);
    }
}
