//! What a swap changed in the question, and what it holds.

use crate::brief::{Brief, serve};
use crate::read::{HeldBy, Swapped};

/// A swap.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct SwapLine {
    /// What goes out.
    pub out: Vec<String>,
    /// What comes in.
    #[serde(rename = "in")]
    pub coming: Vec<String>,
    /// What is held at the reference's own values.
    pub held: Vec<HeldLine>,
    /// `brief`, or `custom` where the brief has no `[hold]`.
    pub held_by: HeldBy,
    /// The brief's own aim, where the nearest to the reference took its place.
    pub aim_set_aside: Option<String>,
    /// Proportions that were left out, as they name what goes out.
    pub proportions_left_out: Vec<String>,
}

/// A measure that is held.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct HeldLine {
    /// Its key.
    pub target: String,
    /// The reference's own value.
    pub value: f64,
    /// How far it may move either way.
    pub within: f64,
}

/// A swap in the words of the brief.
pub fn swap_line(brief: &Brief, swapped: &Swapped) -> SwapLine {
    let name = |at: usize| brief.candidates[at].name.clone();
    let mut out: Vec<String> = Vec::new();
    let mut coming: Vec<String> = Vec::new();
    for (old, new) in &swapped.pairs {
        for (list, name) in [(&mut out, name(*old)), (&mut coming, name(*new))] {
            if !list.contains(&name) {
                list.push(name);
            }
        }
    }
    SwapLine {
        out,
        coming,
        held: held(brief),
        held_by: swapped.held,
        aim_set_aside: swapped.aside.clone(),
        proportions_left_out: swapped.dropped.clone(),
    }
}

fn held(brief: &Brief) -> Vec<HeldLine> {
    let Some(reference) = &brief.reference else { return Vec::new() };
    let served = serve(brief, &reference.pours);
    let line = |hold: &crate::brief::Hold| HeldLine {
        target: brief.measure_name(hold.measure).to_owned(),
        value: served.value(hold.measure),
        within: hold.within,
    };
    brief.hold.iter().map(line).collect()
}
