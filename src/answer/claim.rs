//! What a checked proof says, in words.

use crate::brief::{Aim, Brief, Goal, Pour, Resolution, Side};
use crate::explain::demand::Demand;
use crate::proof::{Claim, Proved, What};
use crate::quantity::{Amount, UnitSystem, number};

/// A line for each claim that was checked, and each of its specs.
pub fn claim_lines(brief: &Brief, proved: &Proved) -> String {
    let mut text = String::new();
    for claim in &proved.claims {
        text.push_str(&sentence(brief, claim));
        claim.pours.iter().for_each(|pours| text.push_str(&format!("  {}\n", in_words(brief, pours))));
    }
    text.push_str(&format!("{} leaves checked, each by itself.\n", number::grouped(proved.leaves)));
    text
}

fn sentence(brief: &Brief, claim: &Claim) -> String {
    match &claim.what {
        What::Best => format!("Proved: nothing that can be poured is better{} than\n", matters(brief)),
        What::Sets => format!(
            "Proved: of its set of ingredients nothing that can be poured is better{} than each of these, and no other \
             set comes before them\n",
            matters(brief)
        ),
        What::Nothing(core) if core.is_empty() => {
            "Proved: no spec that can be poured meets the brief.\n".to_owned()
        }
        What::Nothing(core) => {
            let demands: Vec<String> = core.iter().map(|one| demand(brief, *one)).collect();
            let rest =
                if claim.irreducible { " Without any one of them the others can be kept." } else { "" };
            format!("Proved: nothing that can be poured keeps all of these: {}.{rest}\n", demands.join("; "))
        }
    }
}

/// By how much, where small differences do not matter.
fn matters(brief: &Brief) -> String {
    let to = brief.resolution.at(1.0);
    let unit = match brief.aim {
        _ if to == 0.0 => return String::new(),
        Aim::Lowest(Goal::Measure(measure)) | Aim::Highest(Goal::Measure(measure)) => {
            brief.measure_unit(measure)
        }
        _ => String::new(),
    };
    match brief.resolution {
        Resolution::By(to) => {
            format!(" by more than {} {unit}", number::trimmed(to, 4)).trim_end().to_owned()
        }
        Resolution::Share(share) => format!(" by more than {} %", number::trimmed(100.0 * share, 3)),
    }
}

fn in_words(brief: &Brief, pours: &[Pour]) -> String {
    let pour = |pour: &Pour| {
        let candidate = &brief.candidates[pour.candidate];
        let amount = Amount { value: pour.amount, unit: candidate.unit() };
        format!("{} {}", number::pour(amount, UnitSystem::Metric), candidate.name)
    };
    pours.iter().map(pour).collect::<Vec<_>>().join(", ")
}

fn demand(brief: &Brief, demand: Demand) -> String {
    let of_target = || {
        let Demand::Target(at, _) = demand else { return demand.name(brief) };
        let unit = brief.measure_unit(brief.targets[at].measure);
        demand.asked(brief).map_or_else(String::new, |(side, limit)| {
            let bound = if side == Side::Min { "at least" } else { "at most" };
            format!("{} {bound} {} {unit}", demand.name(brief), number::trimmed(limit, 3))
        })
    };
    demand.rule(brief).unwrap_or_else(of_target)
}
