//! Many seeds, caught one by one, so that a panic is told with the input that led to it.

use std::ops::Range;
use std::panic::{AssertUnwindSafe, catch_unwind};

use washline::brief::Brief;
use washline::cli::draw::draw;
use washline::finding::Finding;
use washline::read::codes;
use washline::render::Colour;

/// Runs a check over seeds and fails with everything that it found: a fault is a word about a seed.
pub fn over(
    seeds: impl Iterator<Item = u64> + Clone + Send,
    check: impl Fn(u64) -> Result<(), String> + Sync,
) {
    let caught = |seed: u64| match catch_unwind(AssertUnwindSafe(|| check(seed))) {
        Ok(Ok(())) => None,
        Ok(Err(what)) => Some(format!("seed {seed}: {what}")),
        Err(_) => Some(format!("seed {seed}: a panic")),
    };
    let caught = &caught;
    let faults: Vec<String> = std::thread::scope(|scope| {
        let halves = [0, 1].map(|half| {
            let mine = seeds.clone().filter(move |seed| seed % 2 == half);
            scope.spawn(move || mine.filter_map(caught).collect::<Vec<_>>())
        });
        halves.into_iter().flat_map(|half| half.join().expect("all panics are caught")).collect()
    });
    assert!(faults.is_empty(), "{} of {} fail\n{}", faults.len(), seeds.count(), faults.join("\n"));
}

/// Seeds beyond those that every run takes: `count` from `from` on, or as many times that as the environment
/// variable `TIMES` says.
pub fn further(from: u64, count: u64) -> Range<u64> {
    let times = std::env::var("TIMES").ok().and_then(|times| times.parse().ok()).unwrap_or(1);
    from..from + count * times
}

/// Whether findings are such as a person can use: a known code, a place in the text, words; and they can
/// be drawn.
pub fn sound(findings: &[Finding], text: &[u8]) -> Result<(), String> {
    let whole = String::from_utf8_lossy(text);
    for finding in findings {
        let fault = |what: &str| Err(format!("{what}: {finding:?}\n{}", text.escape_ascii()));
        if let Some(place) = &finding.place {
            if place.start > place.end || place.end > text.len() {
                return fault("a place outside the text");
            }
            if !whole.is_char_boundary(place.start) || !whole.is_char_boundary(place.end) {
                return fault("a place inside a character");
            }
        }
        if finding.what.trim().is_empty() || finding.help.trim().is_empty() {
            return fault("no words");
        }
    }
    let drawn = draw(findings, "a brief", &whole, Colour::Plain);
    match findings.iter().take(50).find(|f| !drawn.contains(f.code)) {
        Some(lost) => Err(format!("not drawn: {lost:?}\n{drawn}")),
        None => Ok(()),
    }
}

/// Whether every code is one of the reader's.
pub fn known(findings: &[Finding]) -> Result<(), String> {
    let strange = findings.iter().find(|f| !codes::ALL.contains(&f.code));
    strange.map_or(Ok(()), |f| Err(format!("an unknown code: {f:?}")))
}

/// Whether a brief that was let in can be worked with: every figure is a number, steps are over zero,
/// ranges the right way round.
pub fn usable(brief: &Brief) -> Result<(), String> {
    for c in &brief.candidates {
        let masses = &c.portion.masses;
        let figures = [
            masses.ethanol,
            masses.water,
            masses.solids,
            masses.acid,
            c.portion.excess,
            c.portion.poured,
            c.portion.strength,
            c.portion.sugars,
            c.portion.sweet,
            c.portion.energy,
            c.least,
        ];
        let money = c.cost_per_unit.is_none_or(|cost| cost.is_finite() && cost >= 0.0);
        let step = c.step.unit().is_none_or(|step| step.is_finite() && step > 0.0);
        let most = c.most.is_none_or(|most| most.is_finite() && (c.out || most >= c.least));
        let carried = c.carries.iter().all(|c| c.is_finite() && *c >= 0.0);
        if !figures.iter().all(|f| f.is_finite()) || !money || !step || !most || !carried {
            return Err(format!("let in: {c:#?}"));
        }
    }
    let limits = brief.targets.iter().flat_map(|t| [t.min, t.max]).flatten();
    if brief.targets.iter().any(|t| t.min.zip(t.max).is_some_and(|(min, max)| min > max))
        || limits.into_iter().any(|limit| !limit.is_finite())
    {
        return Err(format!("let in: {:#?}", brief.targets));
    }
    Ok(())
}
