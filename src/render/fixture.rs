//! A small brief and its answer, built by hand: the formats are tested without reader and solver.

use crate::brief::{
    Aim, Allergen, Answer, Brief, Candidate, Glass, Goal, Handling, Measure, Natural, Notes, Origin, Per,
    Pour, Property, Resolution, Role, Serve, Spread, Step, Target, Variation, serve,
};
use crate::liquid::{Dilution, Form, Label, Method, Stage};
use crate::quantity::{Currency, Price};
use crate::solve::{AsGood, Ending, Solved, Spec};

fn candidate(name: &str, role: Role, label: Label, price: &str) -> Candidate {
    let price = Price::parse(price).ok();
    Candidate {
        name: name.to_owned(),
        role,
        label,
        natural: Natural::default(),
        spread: Spread::default(),
        portion: label.portion().expect("a liquid that can exist"),
        carries: vec![0.0],
        cost_per_unit: price.as_ref().map(Price::per_unit),
        price,
        yielded: 1.0,
        step: Step::Every(if label.form == Form::Powder { 0.1 } else { 2.5 }),
        least: 0.1,
        most: None,
        must: false,
        out: false,
        stage: Stage::Made,
        allergens: Vec::new(),
        handling: Vec::new(),
        notes: Vec::new(),
        origin: Origin::Brief,
        stored: crate::brief::Stored::default(),
    }
}

/// A low-strength sour of six candidates; the figures of the ingredients are round numbers.
pub fn brief() -> Brief {
    let label = |strength, sugar, acid| Label { strength, sugar, acid, ..Label::default() };
    let powder = Label { form: Form::Powder, acid: 1000.0, ..Label::default() };
    let mut candidates = vec![
        candidate("aged rum", Role::Base, label(40.0, 2.0, 0.0), "16.80 per 700 ml"),
        candidate("pale dry sherry", Role::Modifier, label(15.0, 3.0, 4.5), "11.25 per 750 ml"),
        candidate("lime juice", Role::Sour, label(0.0, 17.0, 60.0), "0.28 per 25 ml"),
        candidate("verjus", Role::Sour, label(0.0, 40.0, 25.0), "7.50 per 750 ml"),
        candidate("bay leaf syrup, rich", Role::Sweetener, label(0.0, 880.0, 0.0), "3.10 per 1 l"),
        candidate("citric acid", Role::Seasoning, powder, "9.00 per 1 kg"),
        candidate("egg white", Role::Texture, label(0.0, 7.0, 0.0), "2.40 per 400 ml"),
    ];
    candidates[1].allergens = vec![Allergen::Sulphites];
    candidates[2].handling = vec![Handling::FreshJuice];
    candidates[6].allergens = vec![Allergen::Eggs];
    candidates[6].handling = vec![Handling::RawEgg];
    let target = |measure, min, max| Target { measure, min, max };
    Brief {
        about: vec![],
        title: "Quince and bay sour, low strength".to_owned(),
        currency: Currency::parse("GBP").expect("three capitals"),
        serve: Serve {
            method: Method::Shake,
            melt: None,
            spread: 0.05,
            ice: None,
            dilution: Dilution::of(Method::Shake, None).expect("a rule"),
            most: Some(6),
            glass: Some(Glass { brim: 160.0, headroom: 5.0, ice: 0.0 }),
        },
        targets: vec![
            target(Measure::Volume, Some(105.0), Some(125.0)),
            target(Measure::Strength, Some(9.5), Some(11.0)),
            target(Measure::Sugar, Some(60.0), Some(75.0)),
            target(Measure::Acid, Some(6.0), None),
            target(Measure::Cost, None, Some(1.6)),
            target(Measure::Property(0), None, Some(0.0)),
        ],
        aim: Aim::Lowest(Goal::Measure(Measure::Cost)),
        resolution: Resolution::By(0.01),
        serves: None,
        menu: None,
        properties: vec![Property { name: "caffeine".to_owned(), unit: "mg".to_owned(), per: Per::Serve }],
        candidates,
        choose: Vec::new(),
        proportions: Vec::new(),
        reference: None,
        hold: Vec::new(),
        answer: Answer { alternatives: 3, ..Answer::default() },
        variation: Variation::default(),
        tasted: vec![],
        weighed: vec![],
        notes: Notes::default(),
    }
}

/// A spec of this brief, measured.
pub fn spec(brief: &Brief, pours: &[(&str, f64)]) -> Spec {
    let pours: Vec<Pour> = pours
        .iter()
        .map(|(name, amount)| Pour { candidate: brief.find(name).expect(name), amount: *amount })
        .collect();
    let served = serve(brief, &pours);
    Spec { pours, score: served.cost, served }
}

/// An answer of three specs; they are no optimum, the formats do not ask.
pub fn solved(brief: &Brief) -> Solved {
    let best = &[
        ("aged rum", 20.0),
        ("pale dry sherry", 20.0),
        ("lime juice", 15.0),
        ("verjus", 12.5),
        ("bay leaf syrup, rich", 7.5),
    ];
    let next = &[
        ("aged rum", 27.5),
        ("lime juice", 15.0),
        ("verjus", 25.0),
        ("bay leaf syrup, rich", 7.5),
        ("citric acid", 0.1),
    ];
    let last = &[("aged rum", 30.0), ("verjus", 27.5), ("bay leaf syrup, rich", 7.5), ("egg white", 15.0)];
    let free = &[
        ("aged rum", 18.371_02),
        ("pale dry sherry", 21.9),
        ("lime juice", 14.1),
        ("verjus", 14.25),
        ("bay leaf syrup, rich", 6.9),
    ];
    Solved {
        ending: Ending::Found,
        specs: vec![spec(brief, best), spec(brief, next), spec(brief, last)],
        bound: Some(spec(brief, best).score),
        complete: true,
        unrounded: Some(spec(brief, free)),
        as_good: AsGood::default(),
    }
}
