//! A line that is measured without a brief, and the families of drinks.

use serde_json::{Map, Value, json};

use super::document::{Block, Cell, Document, Kind, Row, Section, Table, Tone, columns};
use super::instruments::Instruments;
use super::{Extent, Part};
use crate::answer::{FORMAT, Frame};
use crate::brief::{Brief, Measure, Pour, Served, serve};
use crate::draft::method_word;
use crate::larder::{FAMILIES, Family, ph};
use crate::liquid::Method;
use crate::liquid::instruments::readings;
use crate::quantity::number::{fixed, pour, trimmed};
use crate::quantity::{Amount, UnitSystem};

/// The words that show more.
const MORE: &str = "More: --full, or --only with one of card, glass, instruments.";

/// How a drink can be made, in words.
pub const METHODS: [(Method, &str); 5] = [
    (Method::Shake, "shaken with ice"),
    (Method::Stir, "stirred on ice"),
    (Method::Build, "built on ice"),
    (Method::Blend, "blended with ice"),
    (Method::None, "without ice"),
];

/// How a drink lies to a family.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct FamilyLine {
    /// Its name.
    pub name: &'static str,
    /// What one of it is called in a sentence.
    #[serde(skip)]
    pub called: String,
    /// Whether every figure and role of it is there.
    pub inside: bool,
    /// Where it lies outside, in words.
    pub outside: Vec<String>,
}

/// A line, measured.
#[derive(Debug, Clone, PartialEq)]
pub struct MeasureAnswer {
    /// What is poured, in the order of the line: name, amount.
    pub pours: Vec<(String, Amount)>,
    /// How it is made.
    pub method: Method,
    /// Whether it is served on ice, beside the ice of a built drink.
    pub on_ice: bool,
    /// Every figure in the glass: label, key, value, unit, digits.
    pub figures: Vec<(String, String, f64, String, usize)>,
    /// The families that it is nearest to.
    pub families: Vec<FamilyLine>,
    /// Notes, and what carries them.
    pub notes: Vec<(String, Vec<String>)>,
    /// What instruments would read; nothing of an empty glass.
    pub instruments: Option<Instruments>,
}

/// How instruments are read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reader {
    /// At which temperature, °C from 0 to 40.
    pub celsius: f64,
    /// What the empty vessel weighs, g.
    pub vessel: Option<f64>,
}

/// Measures pours.
pub fn measure_answer(brief: &Brief, pours: &[Pour], reader: Reader) -> MeasureAnswer {
    let served = serve(brief, pours);
    let read = readings(&served.drink, reader.celsius);
    let instruments = read.map(|readings| Instruments {
        sugar: 100.0 * served.drink.sugars / readings.mass,
        ph: ph(brief, pours, &served),
        vessel: reader.vessel,
        readings,
    });
    let name = |pour: &Pour| brief.candidates[pour.candidate].name.clone();
    let unit = |pour: &Pour| brief.candidates[pour.candidate].unit();
    let figures = Frame::of(brief).gauges.into_iter().filter_map(|gauge| {
        let value = served.value(gauge.measure);
        value.is_finite().then_some((gauge.label, gauge.key, value, gauge.unit, gauge.digits))
    });
    MeasureAnswer {
        pours: pours.iter().map(|p| (name(p), Amount { value: p.amount, unit: unit(p) })).collect(),
        method: brief.serve.method,
        on_ice: brief.serve.ice.is_some() && brief.serve.method != Method::Build,
        figures: figures.collect(),
        families: nearest(brief, pours, &served),
        notes: notes(brief, pours),
        instruments,
    }
}

/// Every note of what is poured, with those that carry it.
pub fn notes(brief: &Brief, pours: &[Pour]) -> Vec<(String, Vec<String>)> {
    let mut notes: Vec<(String, Vec<String>)> = Vec::new();
    for candidate in pours.iter().map(|pour| &brief.candidates[pour.candidate]) {
        for note in &candidate.notes {
            match notes.iter_mut().find(|(there, _)| there == note) {
                Some((_, from)) => from.push(candidate.name.clone()),
                None => notes.push((note.clone(), vec![candidate.name.clone()])),
            }
        }
    }
    notes
}

/// The families that it is inside of, made like this; else the nearest, with where it lies outside.
fn nearest(brief: &Brief, pours: &[Pour], served: &Served) -> Vec<FamilyLine> {
    let mut ranked: Vec<(f64, FamilyLine)> = FAMILIES
        .iter()
        .map(|family| {
            let outside = outside(family, brief, pours, served);
            let roles = lacking(family, brief, pours).len() as f64;
            let made = if family.method == brief.serve.method { 0.0 } else { 0.25 };
            let apart = family.outside(|measure| served.value(measure)) + roles + made;
            (
                apart,
                FamilyLine {
                    name: family.name,
                    called: family.called(),
                    inside: outside.is_empty(),
                    outside,
                },
            )
        })
        .collect();
    ranked.sort_by(|a, b| a.0.total_cmp(&b.0));
    let best = ranked.first().map_or(0.0, |(apart, _)| *apart);
    ranked.into_iter().filter(|(apart, _)| *apart <= best + 1e-9).map(|(_, line)| line).collect()
}

fn lacking(family: &Family, brief: &Brief, pours: &[Pour]) -> Vec<&'static str> {
    let has = |role| pours.iter().any(|pour| brief.candidates[pour.candidate].role == role);
    family.needs.iter().filter(|need| !has(need.role)).map(|need| need.role.keyword()).collect()
}

fn outside(family: &Family, brief: &Brief, pours: &[Pour], served: &Served) -> Vec<String> {
    let mut outside: Vec<String> = Vec::new();
    for (measure, least, most) in family.ranges {
        let value = served.value(*measure);
        let (name, unit) = (measure.keyword(), measure.unit());
        let figure = fixed(value, measure.digits());
        if value < *least {
            outside.push(format!("{name} {figure} {unit}, under the usual {least}"));
        } else if value > *most {
            outside.push(format!("{name} {figure} {unit}, over the usual {most}"));
        }
    }
    outside.extend(lacking(family, brief, pours).iter().map(|role| format!("no {role}")));
    outside
}

impl MeasureAnswer {
    /// The answer as the contract's object, numbers not rounded.
    pub fn json(&self) -> Value {
        let served: Map<String, Value> =
            self.figures.iter().map(|(_, key, value, ..)| (key.clone(), json!(value))).collect();
        let pours: Vec<Value> = self
            .pours
            .iter()
            .map(|(name, a)| json!({ "ingredient": name, "amount": a.value, "unit": a.unit.symbol() }))
            .collect();
        let notes: Vec<Value> =
            self.notes.iter().map(|(note, from)| json!({ "note": note, "from": from })).collect();
        json!({ "format": FORMAT, "pours": pours, "method": method_word(self.method), "served": served,
                "families": self.families, "notes": notes,
                "instruments": self.instruments.map(|found| found.json()) })
    }

    /// The answer as blocks.
    pub fn document(&self, units: UnitSystem, extent: Extent) -> Document {
        let mut sections = vec![
            Section::new(Part::Card, "Poured", vec![Block::Table(self.poured(units))]),
            Section::new(Part::Glass, "In the glass", vec![Block::Table(self.glass())]),
        ];
        sections.extend(self.instruments.map(|found| {
            Section::new(Part::Instruments, "What instruments would read", vec![Block::Table(found.table())])
        }));
        let mut lines = self.lines();
        let read = self.instruments.map(|found| found.lines()).unwrap_or_default();
        match extent {
            Extent::Screen => {
                sections.retain(|section| section.part != Part::Instruments);
                lines.push(MORE.to_owned());
            }
            Extent::Full => lines.extend(read),
            Extent::Only(only) => {
                sections.retain(|section| section.part == only);
                lines = match only {
                    Part::Instruments => read,
                    _ if sections.is_empty() => {
                        vec![format!("Nothing to say of {} here. {MORE}", only.word())]
                    }
                    _ => vec![],
                };
            }
        }
        document(format!("Measured: {}", self.made()), sections, lines)
    }

    fn poured(&self, units: UnitSystem) -> Table {
        let row = |(name, amount): &(String, Amount)| {
            Row::plain(vec![Cell::words(name), Cell::measured(&pour(*amount, units), Tone::Plain)])
        };
        Table::spoken(columns([(Kind::Words, ""), (Kind::Figure, "")]), self.pours.iter().map(row))
    }

    fn glass(&self) -> Table {
        let rows = self.figures.iter().map(|(label, _, value, unit, digits)| {
            Row::plain(vec![Cell::words(label), Cell::figure(fixed(*value, *digits)), Cell::words(unit)])
        });
        Table::spoken(columns([(Kind::Words, ""), (Kind::Figure, ""), (Kind::Short, "")]), rows)
    }

    /// What is to be said below the figures.
    fn lines(&self) -> Vec<String> {
        let mut lines: Vec<String> = self.families.iter().map(FamilyLine::words).collect();
        if !self.notes.is_empty() {
            let one = |(note, from): &(String, Vec<String>)| format!("{note} ({})", from.join(", "));
            let notes = self.notes.iter().map(one).collect::<Vec<_>>().join("; ");
            lines.push(format!(
                "Notes: {notes}. They are words of the larder or the house: counted, not tasted."
            ));
        }
        lines.push(
            "The water from the ice is an estimate. Check all of this with a competent person.".to_owned(),
        );
        lines
    }

    fn made(&self) -> String {
        let made = METHODS.iter().find(|(method, _)| *method == self.method).map_or("", |(_, made)| made);
        if self.on_ice { format!("{made}, served on ice") } else { made.to_owned() }
    }
}

/// A small answer: its tables, and what is said below them.
pub(super) fn document(title: String, mut sections: Vec<Section>, lines: Vec<String>) -> Document {
    sections.push(Section::bare(Part::Measured, lines.into_iter().map(Block::plain).collect()));
    Document { title, sections, more: None }
}

impl FamilyLine {
    fn words(&self) -> String {
        if self.inside {
            format!("It measures as {} usually does (common practice, no source).", self.called)
        } else {
            let outside = self.outside.join("; ");
            format!(
                "Nearest to {}, and outside of it by: {outside} (common practice, no source).",
                self.called
            )
        }
    }
}

/// The families as an object.
pub fn families_json() -> Value {
    let one = |family: &Family| {
        let ranges: Map<String, Value> = family
            .ranges
            .iter()
            .map(|(m, least, most)| (m.keyword().to_owned(), json!({ "min": least, "max": most })))
            .collect();
        let needs: Vec<Value> = family
            .needs
            .iter()
            .map(|need| json!({ "role": need.role.keyword(), "least": need.least, "most": need.most }))
            .collect();
        json!({ "name": family.name, "about": family.about, "method": method_word(family.method),
                "ranges": ranges, "needs": needs, "basis": "common practice, no source" })
    };
    json!({ "format": FORMAT, "families": FAMILIES.iter().map(one).collect::<Vec<_>>() })
}

/// The families as blocks.
pub fn families() -> Document {
    let range = |family: &Family, measure: Measure| {
        let found = family.ranges.iter().find(|(m, ..)| *m == measure);
        found.map_or(Cell::Nothing, |(_, least, most)| {
            Cell::measured(&format!("{} to {}", trimmed(*least, 1), trimmed(*most, 1)), Tone::Plain)
        })
    };
    let figures = FAMILIES.iter().map(|family| {
        let measures = [Measure::Volume, Measure::Strength, Measure::Sugar, Measure::Acid];
        let names = [family.name, method_word(family.method)].map(Cell::words);
        Row::plain(names.into_iter().chain(measures.map(|measure| range(family, measure))).collect())
    });
    let needs = FAMILIES.iter().flat_map(|family| {
        family.needs.iter().map(|need| {
            let most = if need.most == 1 { "one".to_owned() } else { format!("up to {}", need.most) };
            let least = Cell::figure(trimmed(need.least, 1));
            let (name, role) = (Cell::words(family.name), Cell::words(need.role.keyword()));
            Row::plain(vec![name, role, least, Cell::words(most)])
        })
    });
    let glass = [
        (Kind::Words, ""),
        (Kind::Short, "made"),
        (Kind::Figure, "volume, ml"),
        (Kind::Figure, "% vol"),
        (Kind::Figure, "sugar, g/L"),
        (Kind::Figure, "acid, g/L"),
    ];
    let roles =
        [(Kind::Words, ""), (Kind::Short, "role"), (Kind::Figure, "least, ml"), (Kind::Short, "how many")];
    let table = |table: Table| vec![Block::Table(table)];
    let sections = vec![
        Section::new(Part::Glass, "After the ice", table(Table::headed(columns(glass), figures))),
        Section::new(Part::Card, "What they need", table(Table::headed(columns(roles), needs))),
    ];
    let about: Vec<String> =
        FAMILIES.iter().map(|family| format!("{}: {}", family.name, family.about)).collect();
    let lines = vec![
        format!("{}.", about.join("; ")),
        "All of this is common practice of the trade, with no source: a place to begin, no rule.".to_owned(),
    ];
    document("Families of drinks, and what they usually measure in the glass".to_owned(), sections, lines)
}
