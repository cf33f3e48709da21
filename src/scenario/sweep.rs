//! A brief along one of its values: the best spec at every point, and the exact places where the set of
//! ingredients switches.
//!
//! Between two points with different sets the interval is halved until nothing that could decide lies in
//! it any more; both sides of a switch have been solved. A set that comes and goes between two points is
//! not seen: more points see more.

use super::swap::best;
use crate::brief::Brief;
use crate::explain::side_by_side::side_by_side;
use crate::finding::Finding;
use crate::solve::{Ending, Spec, Stop};
use crate::tolerance;

/// So many switches are looked for between two points; a gap with more asks for more points.
const SWITCHES: usize = 50;

/// What a brief asks at one place.
#[derive(Debug, Clone)]
pub enum Question {
    /// This.
    Brief(Box<Brief>),
    /// Something that nothing can meet, as a lower limit stands above its upper one.
    Crossed,
}

/// The way of a sweep.
#[derive(Debug, Clone, PartialEq)]
pub struct Way {
    /// The values of the points, in their order.
    pub values: Vec<f64>,
    /// The least distance of two values that can differ: 1 of whole numbers, else nothing.
    pub grain: f64,
}

/// Told while a sweep is on its way.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Told {
    /// A point, or a gap between two, is done.
    Done,
    /// So many gaps turned out to hold a switch.
    More(usize),
}

/// One point.
#[derive(Debug, Clone)]
pub struct Point {
    /// The value there.
    pub at: f64,
    /// What was asked there, where a spec answers it.
    pub brief: Option<Box<Brief>>,
    /// How the search ended.
    pub ending: Ending,
    /// The best spec, where there is one.
    pub spec: Option<Spec>,
}

impl Point {
    /// The ingredients used, in the order of the brief; nothing where no spec meets it.
    pub fn set(&self) -> Vec<usize> {
        let mut set: Vec<usize> =
            self.spec.iter().flat_map(|spec| &spec.pours).map(|pour| pour.candidate).collect();
        set.sort_unstable();
        set
    }
}

/// Where one set of ingredients gives way to another.
#[derive(Debug, Clone)]
pub struct Switch {
    /// The last value at which the old set was the best: solved there.
    pub before: Point,
    /// The first value at which the new set is: solved there.
    pub after: Point,
}

/// A sweep.
#[derive(Debug, Clone)]
pub struct Sweep {
    /// The brief at the first point where it asks anything; none where it never does.
    pub first: Option<Box<Brief>>,
    /// Every point, in the order of the way.
    pub points: Vec<Point>,
    /// Every switch that the points show, in the order of the way.
    pub switches: Vec<Switch>,
}

/// How much may be done at once, and what ends it.
#[derive(Clone, Copy)]
pub struct Run<'a> {
    /// So many searches at a time.
    pub workers: usize,
    /// Raised to end them.
    pub stop: &'a Stop,
    /// Who is told how far it is.
    pub told: &'a (dyn Fn(Told) + Sync),
}

/// What is asked at a value.
pub type Ask<'a> = &'a (dyn Fn(f64) -> Result<Question, Vec<Finding>> + Sync);

/// Solves every point and finds the switches between them.
///
/// # Errors
/// What is wrong with the brief at the first point where anything is.
pub fn sweep(ask: Ask, way: &Way, run: Run) -> Result<Sweep, Vec<Finding>> {
    let first = first(ask, way)?;
    let solved = side_by_side(&way.values, run.workers, |at| {
        let point = point(ask, *at, run.stop);
        (run.told)(Told::Done);
        point
    });
    let points = solved.into_iter().collect::<Result<Vec<Point>, _>>()?;
    let gaps: Vec<(&Point, &Point)> =
        points.iter().zip(points.iter().skip(1)).filter(|(a, b)| differ(a, b)).collect();
    (run.told)(Told::More(gaps.len()));
    let found = side_by_side(&gaps, run.workers, |(left, right)| {
        let switches = switches(ask, left, right, way.grain, run.stop);
        (run.told)(Told::Done);
        switches
    });
    let switches = found.into_iter().collect::<Result<Vec<_>, _>>()?.concat();
    Ok(Sweep { first, points, switches })
}

fn first(ask: Ask, way: &Way) -> Result<Option<Box<Brief>>, Vec<Finding>> {
    for at in &way.values {
        if let Question::Brief(brief) = ask(*at)? {
            return Ok(Some(brief));
        }
    }
    Ok(None)
}

/// Solves the brief at one value. Once stopped, nothing more is read: ten thousand points would take their
/// time all the same, and their memory.
fn point(ask: Ask, at: f64, stop: &Stop) -> Result<Point, Vec<Finding>> {
    if stop.raised() {
        return Ok(Point { at, brief: None, ending: Ending::Stopped, spec: None });
    }
    let Question::Brief(brief) = ask(at)? else {
        return Ok(Point { at, brief: None, ending: Ending::Conflict, spec: None });
    };
    let solved = best(&brief, stop);
    let spec = solved.specs.into_iter().next();
    Ok(Point { at, brief: spec.is_some().then_some(brief), ending: solved.ending, spec })
}

/// Whether two points are both proved and differ in their sets.
fn differ(a: &Point, b: &Point) -> bool {
    let proved = |point: &Point| point.ending != Ending::Stopped;
    proved(a) && proved(b) && a.set() != b.set()
}

/// The switches from one point to the next, found by halving.
fn switches(
    ask: Ask,
    left: &Point,
    right: &Point,
    grain: f64,
    stop: &Stop,
) -> Result<Vec<Switch>, Vec<Finding>> {
    let mut found: Vec<Switch> = Vec::new();
    let mut from = left.clone();
    while differ(&from, right) && found.len() < SWITCHES {
        let Some(switch) = first_switch(ask, &from, right, grain, stop)? else { break };
        from = switch.after.clone();
        found.push(switch);
    }
    Ok(found)
}

/// The first switch away from the left point's set; nothing where the search was stopped.
fn first_switch(
    ask: Ask,
    left: &Point,
    right: &Point,
    grain: f64,
    stop: &Stop,
) -> Result<Option<Switch>, Vec<Finding>> {
    let (mut before, mut after) = (left.clone(), right.clone());
    while let Some(middle) = between(before.at, after.at, grain) {
        let middle = point(ask, middle, stop)?;
        if middle.ending == Ending::Stopped {
            return Ok(None);
        }
        if middle.set() == left.set() { before = middle } else { after = middle }
    }
    Ok(Some(Switch { before, after }))
}

/// A value between two, while they are far enough apart to differ by more than what a limit allows.
fn between(a: f64, b: f64, grain: f64) -> Option<f64> {
    let middle = if grain > 0.0 {
        a + ((b - a) / (2.0 * grain)).trunc() * grain
    } else if (b - a).abs() <= tolerance::MET * a.abs().max(b.abs()) {
        return None;
    } else {
        f64::midpoint(a, b)
    };
    (middle != a && middle != b).then_some(middle)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A spirit and water, of which `at` % vol are asked: pure arithmetic, any number of threads.
    #[test]
    fn the_number_of_threads_changes_nothing() {
        let text = "[serve]\nmethod = \"none\"\npour = \"5 ml\"\n[targets]\nvolume = { min = 90, max = 100 }\n\
                    [aim]\nlowest = \"strength\"\n[[candidate]]\nname = \"water\"\n[[candidate]]\nname = \"gin\"\n\
                    strength = 40\n";
        let ask = |at: f64| {
            let text = format!("{text}[[proportion]]\nof = \"gin\"\nto = \"water\"\nmin = {at}\n");
            crate::read::read(text.as_bytes(), &[]).map(|reading| Question::Brief(Box::new(reading.brief)))
        };
        let way = Way { values: (0..40).map(|at| 20.0 * f64::from(at) / 39.0).collect(), grain: 0.0 };
        let run = |workers| {
            let run = Run { workers, stop: &Stop::default(), told: &|_| () };
            format!("{:?}", sweep(&ask, &way, run).expect("a curve"))
        };
        let alone = run(1);
        assert!(alone.contains("Switch"));
        for workers in [2, 3, 8] {
            assert_eq!(run(workers), alone, "{workers} threads");
        }
    }

    #[test]
    fn halving_ends_where_nothing_can_decide_any_more() {
        assert_eq!(between(8.0, 16.0, 0.0), Some(12.0));
        assert_eq!(between(8.0, 8.0 + 4e-9, 0.0), None);
        assert_eq!(between(0.0, 0.0, 0.0), None);
        // Towards zero the floats themselves end it.
        let (mut low, mut high, mut halvings) = (0.0, 1.0, 0);
        while let Some(middle) = between(low, high, 0.0) {
            high = middle;
            halvings += 1;
        }
        assert!(halvings < 1100, "{halvings}");
        low = 3.0;
        high = 6.0;
        assert_eq!(between(low, high, 1.0), Some(4.0));
        assert_eq!(between(3.0, 4.0, 1.0), None);
        assert_eq!(between(6.0, 3.0, 1.0), Some(5.0));
        // Of the steps in between the middle one, the one nearer to the first where there are two.
        assert_eq!(between(2.5, 10.0, 2.5), Some(5.0));
        assert_eq!(between(10.0, 2.5, 2.5), Some(7.5));
        assert_eq!(between(0.0, 2.0, 0.5), Some(1.0));
        assert_eq!(between(1.0, 2.0, 0.25), Some(1.5));
    }
}
