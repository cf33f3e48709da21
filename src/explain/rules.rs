//! Which rules of a brief a given spec breaks: steps, smallest and largest pours, groups, ratios, glass.
//!
//! Targets are not looked at here: they are measured.

use crate::brief::{Brief, Choose, Measure, Pour, Proportion, Step, poured, serve};
use crate::quantity::{Amount, UnitSystem, number};
use crate::tolerance;

/// Every broken rule in words, in the order of the pours and then of the brief.
pub fn broken(brief: &Brief, pours: &[Pour]) -> Vec<String> {
    let mut broken: Vec<String> = pours.iter().flat_map(|p| pour_rules(brief, *p)).collect();
    broken.extend(missing(brief, pours));
    broken.extend(too_many(brief, pours));
    broken.extend(brief.choose.iter().filter_map(|c| group(c, pours)));
    broken.extend(brief.proportions.iter().filter_map(|p| ratio(brief, p, pours)));
    broken.extend(overflow(brief, pours));
    broken
}

fn pour_rules(brief: &Brief, pour: Pour) -> Vec<String> {
    let candidate = &brief.candidates[pour.candidate];
    let unit = candidate.unit();
    let words = |value: f64| number::pour(Amount { value, unit }, UnitSystem::Metric);
    let (name, poured) = (&candidate.name, words(pour.amount));
    let mut broken = Vec::new();
    if candidate.out {
        broken.push(format!("{name} is out, but is poured"));
    }
    if !candidate.step.measures(pour.amount) {
        broken.push(match &candidate.step {
            Step::Jigger(jigger) => {
                let sizes: Vec<String> = jigger.sizes().map(words).collect();
                format!("{name}: {poured} is no sum of the measures {}", sizes.join(", "))
            }
            step => format!("{name}: {poured} is not a whole number of {} steps", words(step.least())),
        });
    }
    if !tolerance::meets_min(pour.amount, candidate.least) {
        broken.push(format!("{name}: {poured} is under its smallest pour of {}", words(candidate.least)));
    }
    if let Some(most) = candidate.most
        && !tolerance::meets_max(pour.amount, most)
    {
        broken.push(format!("{name}: {poured} is over its largest pour of {}", words(most)));
    }
    broken
}

fn missing(brief: &Brief, pours: &[Pour]) -> Vec<String> {
    let unused = |at: usize| poured(pours, at) <= 0.0;
    let needed = brief.candidates.iter().enumerate().filter(|(at, c)| c.must && !c.out && unused(*at));
    needed.map(|(_, c)| format!("{} has to be used, but is not poured", c.name)).collect()
}

fn too_many(brief: &Brief, pours: &[Pour]) -> Option<String> {
    let most = brief.serve.most?;
    (pours.len() > most).then(|| format!("{} ingredients, at most {most} are allowed", pours.len()))
}

fn group(choose: &Choose, pours: &[Pour]) -> Option<String> {
    let used = choose.members.iter().filter(|&&at| poured(pours, at) > 0.0).count();
    let label = &choose.label;
    match (choose.min, choose.max) {
        (Some(min), _) if used < min => Some(format!("{label}: {used} used, at least {min} asked for")),
        (_, Some(max)) if used > max => Some(format!("{label}: {used} used, at most {max} allowed")),
        _ => None,
    }
}

fn ratio(brief: &Brief, proportion: &Proportion, pours: &[Pour]) -> Option<String> {
    let (of, to) = (poured(pours, proportion.of), poured(pours, proportion.to));
    let name = |at: usize| brief.candidates[at].name.as_str();
    let pair = format!("{} to {}", name(proportion.of), name(proportion.to));
    let now = if to > 0.0 { number::trimmed(of / to, 3) } else { "without limit".to_owned() };
    let under = proportion.min.filter(|min| !tolerance::meets_min(of, min * to));
    let over = proportion.max.filter(|max| !tolerance::meets_max(of, max * to));
    match (under, over) {
        (Some(min), _) => Some(format!("{pair} is {now}, at least {} asked for", number::trimmed(min, 3))),
        (_, Some(max)) => Some(format!("{pair} is {now}, at most {} allowed", number::trimmed(max, 3))),
        _ => None,
    }
}

fn overflow(brief: &Brief, pours: &[Pour]) -> Option<String> {
    let glass = brief.serve.glass?;
    let on_ice = brief.serve.ice.is_some();
    let measure = if on_ice { Measure::Level } else { Measure::Volume };
    let level = serve(brief, pours).value(measure);
    let volume = level + glass.ice;
    let with = if on_ice { " with its ice" } else { "" };
    (!tolerance::meets_max(level, glass.holds())).then(|| {
        format!(
            "{} ml{with} is more than the {} ml glass holds with {} % of it left free",
            number::fixed(volume, 1),
            number::trimmed(glass.brim, 1),
            number::trimmed(glass.headroom, 1)
        )
    })
}
