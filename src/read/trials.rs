//! `--swap OLD=?`: the same brief once for every ingredient that could come in.

use super::{ANY, Changes, Reading, Swap, codes, house, read_changed};
use crate::brief::{Brief, Origin, Role};
use crate::finding::Finding;
use crate::larder;

/// A swap with everything of one role.
#[derive(Debug, Clone, PartialEq)]
pub struct Trials {
    /// What goes out.
    pub old: String,
    /// Its role, and that of everything that is tried.
    pub role: Role,
    /// The brief's own ingredients first, then those of the house, then those of the larder, each in order.
    pub trials: Vec<Trial>,
}

/// One ingredient tried.
#[derive(Debug, Clone, PartialEq)]
pub struct Trial {
    /// What comes in.
    pub new: String,
    /// Where it is from.
    pub from: Shelf,
    /// The brief with it, or why it cannot be tried.
    pub reading: Result<Reading, Vec<Finding>>,
}

/// Where an ingredient that is tried is from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shelf {
    /// A candidate of the brief.
    Brief,
    /// The house that the brief names.
    House,
    /// The larder.
    Larder,
}

/// Reads the brief once for every ingredient of the role of the one that goes out for `?`. `None` where no
/// swap asks for that.
///
/// # Errors
/// What is wrong with the brief, or with the swap.
pub fn trials(bytes: &[u8], changes: &Changes) -> Result<Option<Trials>, Vec<Finding>> {
    let Some(at) = changes.swaps.iter().position(|swap| swap.new == ANY) else { return Ok(None) };
    if changes.swaps.iter().filter(|swap| swap.new == ANY).count() > 1 {
        let help = "ask for one at a time, and name what comes in for the others";
        return Err(vec![Finding::placeless(codes::BAD_SWAP, "`?` stands in more than one swap", help)]);
    }
    let mut without = changes.clone();
    let wish = without.swaps.remove(at);
    let base = read_changed(bytes, &without)?.brief;
    let Some(old) = known(&base, &wish.old) else { return Err(refused(bytes, changes, at, "water")) };
    if base.reference.is_none() {
        let new = if base.candidates[old].name == "water" { "soda water" } else { "water" };
        return Err(refused(bytes, changes, at, new));
    }
    let (old_name, role) = (base.candidates[old].name.clone(), base.candidates[old].role);
    let with = |(new, from): (String, Shelf)| {
        let mut changes = changes.clone();
        changes.swaps[at] = Swap { old: old_name.clone(), new: new.clone() };
        Trial { reading: read_changed(bytes, &changes), new, from }
    };
    let trials = offered(&base, old, changes).into_iter().map(with).collect();
    Ok(Some(Trials { old: old_name.clone(), role, trials }))
}

/// What is wrong with the swap, as it would be told for any newcomer.
fn refused(bytes: &[u8], changes: &Changes, at: usize, new: &str) -> Vec<Finding> {
    let mut changes = changes.clone();
    new.clone_into(&mut changes.swaps[at].new);
    let (old, new) = (changes.swaps[at].old.clone(), changes.swaps[at].new.clone());
    match read_changed(bytes, &changes) {
        Err(mut findings) => {
            // The user wrote a question mark.
            for finding in &mut findings {
                finding.what = finding.what.replace(&format!("{old}={new}"), &format!("{old}={ANY}"));
            }
            findings
        }
        Ok(_) => vec![Finding::placeless(codes::BAD_SWAP, "this swap cannot be tried", "name what comes in")],
    }
}

fn known(brief: &Brief, name: &str) -> Option<usize> {
    let folded = |c: &crate::brief::Candidate| c.name.eq_ignore_ascii_case(name.trim());
    brief.find(name.trim()).or_else(|| brief.candidates.iter().position(folded))
}

/// Everything of the role that could come in.
fn offered(brief: &Brief, old: usize, changes: &Changes) -> Vec<(String, Shelf)> {
    let role = brief.candidates[old].role;
    let going = |name: &str| changes.swaps.iter().any(|swap| swap.old == name);
    let own = brief.candidates.iter().enumerate();
    let own = own.filter(|(at, c)| *at != old && c.role == role && !going(&c.name));
    let own = own.map(|(_, c)| (c.name.clone(), Shelf::Brief));
    let listed = |name: &str| {
        brief
            .candidates
            .iter()
            .any(|c| c.name == name || matches!(&c.origin, Origin::Larder { entry, .. } if entry == name))
    };
    let of_house =
        house::offers(changes.house.as_deref()).into_iter().filter(|(name, r)| *r == role && !listed(name));
    let of_house: Vec<(String, Shelf)> = of_house.map(|(name, _)| (name, Shelf::House)).collect();
    let kept = |name: &str| of_house.iter().any(|(n, _)| n == name);
    let larder = larder::all().iter().filter(|entry| entry.role == role && !listed(&entry.name));
    let larder = larder.filter(|entry| !kept(&entry.name)).map(|entry| (entry.name.clone(), Shelf::Larder));
    own.chain(of_house.clone()).chain(larder).collect()
}
