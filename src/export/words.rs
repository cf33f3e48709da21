//! What a program, its variables and its rows are, in words.

use crate::brief::{Aim, Goal, HoldFor, Nearest, Over, Pour, Side, Source};
use crate::export::program::Exported;
use crate::model::{Kind, Objective, PlainOf, Pours, Something, Variable, VariableOf};
use crate::quantity::english::listed;
use crate::quantity::{Amount, UnitSystem, number};
use crate::solve::outer::OuterEnding;
use crate::solve::{Ending, in_card_order};

/// How wide the lines at the top may be.
const WIDEST: usize = 96;

/// The lines at the top.
pub fn head(exported: &Exported) -> Vec<String> {
    let mut text = vec![exported.model.brief.title.clone(), String::new()];
    let kind = match exported.pours {
        Pours::Steps => {
            "What can be poured, as a mixed-integer program: amounts in whole pour steps, what is used \
             gets at least its smallest pour, and counts are kept."
        }
        Pours::Free => {
            "Free pours, as a linear program: any amount of anything, no smallest pours, no counts; what \
             has to be used is used."
        }
    };
    text.extend(wrapped(kind));
    text.push(String::new());
    text.extend(wrapped(&about_points(exported)));
    text.extend(points(exported));
    text.push(String::new());
    text.extend(wrapped(&about_optimum(exported)));
    text.push(String::new());
    text.extend(wrapped(
        "Numbers are written so that they read back the same. What is served is measured at 20 degrees \
         Celsius, melt water included.",
    ));
    text
}

fn about_points(exported: &Exported) -> String {
    let at = match (&exported.best, exported.pours) {
        (Some(_), Pours::Steps) => "the best spec (point 1)",
        (Some(_), Pours::Free) => "the optimum with free pours (point 1)",
        (None, _) => "a little of everything (point 1), for no spec meets the brief",
    };
    let mut text = format!(
        "Volume and melt water are not linear in what is poured. Rows with them are expanded to the first \
         order at {at}: exact there, and nearly right elsewhere."
    );
    if !exported.outer.further.is_empty() {
        text.push_str(
            " By these rows alone something would pass that in truth misses a limit or scores worse. So they \
             are expanded at further points, too, until nothing of the kind is left.",
        );
    }
    text
}

/// A line a point: what is poured there.
fn points(exported: &Exported) -> Vec<String> {
    let further = exported.outer.further.iter().map(|f| &f.expansion);
    let all = std::iter::once(&exported.outer.first).chain(further);
    all.enumerate()
        .flat_map(|(at, expansion)| {
            let text = format!("  point {}: {}", at + 1, pours(exported, &expansion.pours));
            wrapped(&text)
                .into_iter()
                .enumerate()
                .map(|(at, line)| if at == 0 { format!("  {line}") } else { format!("    {line}") })
        })
        .collect()
}

fn pours(exported: &Exported, pours: &[Pour]) -> String {
    let mut pours = pours.to_vec();
    in_card_order(exported.model.brief, &mut pours);
    let candidates = &exported.model.brief.candidates;
    let one = |p: &Pour| {
        let candidate = &candidates[p.candidate];
        let amount = Amount { value: p.amount, unit: candidate.unit() };
        format!("{} {}", number::pour(amount, UnitSystem::Metric), candidate.name)
    };
    pours.iter().map(one).collect::<Vec<_>>().join(", ")
}

fn about_optimum(exported: &Exported) -> String {
    let Some(best) = &exported.best else {
        return match (exported.ending, exported.outer.ending) {
            (Ending::Stopped, _) => {
                "Stopped before any spec was found: nothing is known of the optimum.".to_owned()
            }
            (_, OuterEnding::Exact) => "No amounts keep all rows: the program has no optimum.".to_owned(),
            _ => "No spec meets the brief; the program may let some through nevertheless.".to_owned(),
        };
    };
    let score = super::number(exported.objective.score_of(best.score));
    let optimum = exported.outer.optimum.map(super::number);
    match (exported.ending, exported.outer.ending, optimum) {
        (Ending::Stopped, ..) => {
            format!("Stopped: point 1 is the best spec found so far; its score is {score}.")
        }
        (_, OuterEnding::Exact, Some(optimum)) => format!("Optimum: {optimum}"),
        (_, OuterEnding::Open(count), _) => format!(
            "The score of point 1 is {score}. The program lets through {count} specs that score better \
             and in truth miss a limit: no straight row cuts them off without the best spec."
        ),
        (_, _, Some(optimum)) if exported.pours == Pours::Free => {
            format!("Optimum: {optimum}; the score of point 1 is {score}.")
        }
        _ => format!(
            "The score of point 1 is {score}. Whether the program lets something through that scores \
             better and in truth misses a limit was not searched to the end."
        ),
    }
}

/// What is made least.
pub fn aim(exported: &Exported) -> String {
    let brief = exported.model.brief;
    let goal = |goal: Goal| match goal {
        Goal::Measure(m) => (brief.measure_name(m).to_owned(), brief.measure_unit(m)),
        Goal::Ingredient(at) => {
            let candidate = &brief.candidates[at];
            (format!("amount of {}", candidate.name), candidate.unit().symbol().to_owned())
        }
    };
    match brief.aim {
        Aim::Lowest(of) => {
            let (name, unit) = goal(of);
            format!("Aim: the lowest {name}. Unit: {unit}")
        }
        Aim::Highest(of) => {
            let (name, unit) = goal(of);
            format!("Aim: the highest {name}, its sign turned, for the least is asked for. Unit: {unit}")
        }
        Aim::Notes => format!(
            "Aim: as many as can be covered of the notes {}, the sign turned, for the least is asked for. Unit: notes",
            listed(&brief.notes.aimed.iter().map(String::as_str).collect::<Vec<_>>())
        ),
        Aim::Nearest(Nearest::Reference) => {
            "Aim: the least poured differently from the reference. Unit: ml (g of powders)".to_owned()
        }
        Aim::Nearest(Nearest::Middle) => {
            "Aim: the least of the largest distance from the middle of a range. Unit: half the range's width"
                .to_owned()
        }
    }
}

/// What a variable is.
pub fn variable(exported: &Exported, variable: &Variable) -> String {
    let model = &exported.model;
    let name = |c: usize| &model.candidate(c).name;
    let unit = |c: usize| model.candidate(c).unit();
    match variable.of {
        VariableOf::Pour(c) if variable.kind == Kind::Whole => {
            let step =
                number::pour(Amount { value: model.columns[c].unit, unit: unit(c) }, UnitSystem::Metric);
            format!("{}, in steps of {step}", name(c))
        }
        VariableOf::Pour(c) => format!("{}, in {}", name(c), unit(c).symbol()),
        VariableOf::Filled(c, nth) => {
            let size = model.columns[c].jigger.as_ref().and_then(|jigger| jigger.sizes().nth(nth));
            let size = Amount { value: size.unwrap_or(f64::NAN), unit: unit(c) };
            format!("{}: how often {} is measured", name(c), number::pour(size, UnitSystem::Metric))
        }
        VariableOf::Used(c) => format!("1 if {} is used, else 0", name(c)),
        VariableOf::More(c) => format!("{} beyond the reference, in {}", name(c), unit(c).symbol()),
        VariableOf::Less(c) => format!("{} short of the reference, in {}", name(c), unit(c).symbol()),
        VariableOf::Covered(at) if variable.kind == Kind::Binary => {
            format!("1 if the note {} is covered, else 0", note(exported, at))
        }
        VariableOf::Covered(at) => format!("how far the note {} is covered", note(exported, at)),
        VariableOf::Score => "the score: at least each of the lines".to_owned(),
    }
}

/// What a row says.
pub fn row(exported: &Exported, of: PlainOf) -> String {
    let model = &exported.model;
    let brief = model.brief;
    let name = |c: usize| &model.candidate(c).name;
    match of {
        PlainOf::Limit(at, point) => limit(exported, at, point),
        PlainOf::Something(what) => match what {
            Something::Drink => "something is poured at all: amounts over their least pours",
            Something::Acid => "a taste of acid at least, as sugar is measured against it",
            Something::Sugar => "a taste of sugar at least, as it is measured against acid",
        }
        .to_owned(),
        PlainOf::Proportion(at, side) => {
            let rule = &brief.proportions[at];
            let (of, to) = (&brief.candidates[rule.of].name, &brief.candidates[rule.to].name);
            let ratio = if side == Side::Min { rule.min } else { rule.max };
            let ratio = super::number(ratio.unwrap_or(f64::NAN));
            format!("{of} over {to}: {} {ratio}. Unit: ml (g of powders)", side_words(side))
        }
        PlainOf::Count(at, side) => {
            let members = &model.groups[at].members;
            let group = &model.groups[at];
            let count = if side == Side::Min { group.min } else { group.max };
            let sure: Vec<&str> =
                members.iter().filter(|c| model.columns[**c].must).map(|c| name(*c).as_str()).collect();
            let counted = if sure.is_empty() {
                String::new()
            } else {
                format!(" (already counted, for the brief wants it: {})", listed(&sure))
            };
            format!(
                "{} {count} of: {}{counted}. Unit: ingredients",
                side_words(side),
                self::group(exported, at)
            )
        }
        PlainOf::Filled(c) => format!("{}: what the jiggers measure together", name(c)),
        PlainOf::Least(c) => format!("{}: at least its smallest pour, if it is used", name(c)),
        PlainOf::Most(c) => format!("{}: nothing unless it is used, and at most its most", name(c)),
        PlainOf::Change(c) => format!("{}: what is poured beyond or short of the reference", name(c)),
        PlainOf::Covered(at) => format!(
            "{}: covered only by what carries it, amounts over their least pours. Unit: least pours",
            note(exported, at)
        ),
        PlainOf::Score(point) => score_line(exported, point),
    }
}

fn side_words(side: Side) -> &'static str {
    match side {
        Side::Min => "at least",
        Side::Max => "at most",
    }
}

fn limit(exported: &Exported, at: usize, point: usize) -> String {
    let model = &exported.model;
    let brief = model.brief;
    let limit = &model.limits[at];
    let (name, unit) = (brief.measure_name(limit.measure), brief.measure_unit(limit.measure));
    let value = super::number(limit.value);
    let source = match limit.source {
        Source::Target => "",
        Source::Hold => ", held from the reference",
        Source::Glass => ", by the glass",
    };
    let worst =
        if brief.variation.hold == HoldFor::Worst { ", every composition at its worse end" } else { "" };
    let row_unit = match limit.measure.over(brief) {
        Over::One => unit.clone(),
        Over::Volume => format!("{unit} x ml, for it stands times the served volume"),
        Over::Acid => "g of sugar, for it stands times the acid".to_owned(),
    };
    let expanded = if point == 0 { String::new() } else { format!(", expanded at point {}", point + 1) };
    format!("{name} {} {value} {unit}{source}{worst}{expanded}. Unit: {row_unit}", side_words(limit.side))
}

fn score_line(exported: &Exported, point: usize) -> String {
    let place = if point == 0 { String::new() } else { format!(", expanded at point {}", point + 1) };
    match &exported.objective {
        Objective::Elastic { .. } => {
            format!("the score is at least one range's distance from its middle{place}. Unit: half widths")
        }
        Objective::Change { .. } => "the score counts what cannot be poured of the reference, too".to_owned(),
        Objective::Goal { goal: Goal::Measure(measure), .. } => match measure.over(exported.model.brief) {
            Over::One => format!("the score is at least the aim's value{place}"),
            Over::Volume | Over::Acid => format!(
                "the score is at least the best one plus (numerator - best score x denominator) over the \
                 denominator at the point{place}"
            ),
        },
        _ => format!("the score is at least the aim's value{place}"),
    }
}

/// The note of the objective's index: those that nobody carries are not in it.
pub fn note<'a>(exported: &'a Exported, at: usize) -> &'a str {
    let brief = exported.model.brief;
    let carried = |note: &&String| brief.usable().any(|c| brief.candidates[c].has_note(note));
    brief.notes.aimed.iter().filter(carried).nth(at).map_or("", String::as_str)
}

/// What a group is called.
pub fn group(exported: &Exported, at: usize) -> String {
    let brief = exported.model.brief;
    brief.choose.get(at).map_or_else(|| "all ingredients".to_owned(), |rule| rule.label.clone())
}

/// A text in lines of at most so many columns.
fn wrapped(text: &str) -> Vec<String> {
    let mut lines = vec![String::new()];
    for word in text.split_whitespace() {
        let last = lines.len() - 1;
        let line = &mut lines[last];
        if !line.is_empty() && line.len() + 1 + word.len() > WIDEST {
            lines.push(word.to_owned());
        } else {
            if !line.is_empty() {
                line.push(' ');
            }
            line.push_str(word);
        }
    }
    lines
}
