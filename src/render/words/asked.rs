//! What was asked, in words.

use crate::answer::Asked;

/// `Asked of low-strength.toml with --set targets.strength.max=8.5; washline 0.1.0.`
pub fn asked(asked: &Asked) -> String {
    let brief = if asked.brief == "-" { "a brief on standard input" } else { asked.brief.as_str() };
    let changes = options(asked);
    let with = if changes.is_empty() { String::new() } else { format!(" with {changes}") };
    format!("Asked of {brief}{with}; washline {}.", asked.version)
}

/// `For this answer the brief was changed: --set targets.strength.max=8.5.`
pub fn changed(asked: &Asked) -> String {
    format!("For this answer the brief was changed: {}.", options(asked))
}

fn options(asked: &Asked) -> String {
    let swaps = asked.swap.iter().map(|swap| format!("--swap \"{swap}\""));
    let settings = asked.set.iter().map(|set| format!("--set {set}"));
    swaps.chain(settings).collect::<Vec<_>>().join(", ")
}
