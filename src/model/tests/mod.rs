//! Lines against the physics: what the rows rest on holds for every mixture of a range, meets it where the range is one
//! point, and has its slope there.

mod linear_program;
mod program;
mod rows;
mod rules;
mod scores;
mod slopes;
mod worst;

use super::*;
use crate::brief::{Goal, serve};
use crate::liquid::Drink;
use crate::read::read;

/// How the drinks of these tests are served: shaken and strained, stirred and poured over ice, built on it, by a stated melt,
/// and without any ice.
const SERVED: [&str; 5] = [
    "method = \"shake\"",
    "method = \"stir\"\nserved = \"on ice\"",
    "method = \"build\"\nserved = \"on ice\"",
    "method = \"shake\"\nmelt = { typical = 30, exact = true }",
    "method = \"none\"",
];

/// Spirit, syrup, juice with pulp in it, a powder, water, and a cold wine on top: all that bends a volume or a melt, in
/// several steps.
fn brief(served: &str) -> String {
    let liquid = |name: &str, figures: &str| format!("[[candidate]]\nname = \"{name}\"\n{figures}\n");
    [
        format!("currency = \"GBP\"\n[serve]\n{served}\npour = \"2.5 ml\"\n[targets]\nvolume = {{ min = 20, max = 900 }}\n"),
        "strength = { min = 1, max = 40 }\nsugar = { min = 5, max = 300 }\nacid = { min = 0.5, max = 30 }\n".to_owned(),
        "sugar_acid = { min = 1, max = 90 }\ncost = { max = 9 }\nenergy = { max = 900 }\nmelt = { max = 400 }\n".to_owned(),
        "pour_cost = { max = 90 }\ntannin = { max = 500 }\n[menu]\nprice = 12.00\ntax = 20\n[aim]\nlowest = \"cost\"\n".to_owned(),
        "[properties]\ntannin = { unit = \"mg\", per = \"litre\" }\n".to_owned(),
        liquid("spirit", "strength = 57\npour = \"5 ml\"\nprice = \"20.00 per 700 ml\""),
        liquid("wine", "strength = 16\nsugar = 140\nacid = 4\nprice = \"9.00 per 750 ml\""),
        liquid("juice", "sugar = 18\nacid = 58\ndensity = 1.06\ncarries = { tannin = 300 }\nprice = \"6.00 per 1 l\""),
        liquid("syrup", "sugar = 650\nprice = \"3.00 per 1 l\""),
        liquid("acid", "form = \"powder\"\nacid = 990\npour = \"0.1 g\"\nprice = \"8.00 per 1 kg\""),
        liquid("water", "price = \"0.10 per 1 l\""),
        liquid("on top", "strength = 11\nsugar = 9\nacid = 5\ntop = true\ntemperature = 4\nprice = \"9.00 per 750 ml\""),
    ]
    .concat()
}

/// Some numbers between 0 and 1, always the same.
struct Numbers(u64);

impl Numbers {
    fn next(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(0x5851_f42d_4c95_7f2d).wrapping_add(0x1405_7b7e_f767_814f);
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// Units of every column, one in three of them none.
    fn units(&mut self, columns: usize) -> Vec<f64> {
        let mut one = || if self.next() < 0.33 { 0.0 } else { 1.0 + 20.0 * self.next() };
        let units: Vec<f64> = (0..columns).map(|_| one()).collect();
        if units.iter().sum::<f64>() > 0.0 { units } else { vec![4.0; columns] }
    }
}

fn poured(model: &Model, units: &[f64]) -> (Vec<Pour>, Served) {
    let pours: Vec<Pour> =
        (0..units.len()).map(|c| model.pour(c, units[c])).filter(|p| p.amount > 0.0).collect();
    let served = serve(model.brief, &pours);
    (pours, served)
}

/// Every way of serving with a hundred mixtures.
fn each(mut check: impl FnMut(&Model, &[f64], &[Pour], &Served)) {
    for served in SERVED {
        let brief = read(brief(served).as_bytes(), &[]).expect("a brief").brief;
        let model = Model::new(&brief);
        let mut numbers = Numbers(1);
        for _ in 0..100 {
            let units = numbers.units(model.columns.len());
            let (pours, served) = poured(&model, &units);
            check(&model, &units, &pours, &served);
        }
    }
}

/// The composition of a drink, so far to each side.
fn around(drink: &Drink, by: f64) -> Ranges {
    let m = &drink.masses;
    let about = |x: f64| ((x - by).max(0.0), (x + by).min(1.0));
    let share = |part: f64, rest: f64| if part > 0.0 { part / (part + rest) } else { 0.0 };
    Ranges {
        before: about(drink.worked_strength),
        spirit: about(share(m.ethanol, m.water)),
        syrup: about(share(m.solids, m.water)),
        heat: if drink.glass_melt > 0.0 { Heat::Melts } else { Heat::Spares },
    }
}

fn level(served: &Served) -> f64 {
    served.value(Measure::Level)
}

/// An envelope's lines at units of every column, low and high, beside what they are about.
fn lines(envelope: &Envelope, units: &[f64], served: &Served) -> [(f64, f64, f64); 3] {
    let at = |line: &[f64]| dot(line, units);
    [
        (at(&envelope.volume_low), served.drink.volume, at(&envelope.volume_high)),
        (at(&envelope.melt_low), served.drink.melt, at(&envelope.melt_high)),
        (at(&envelope.level_low), level(served), at(&envelope.level_high)),
    ]
}

#[test]
fn volume_melt_and_level_lie_between_the_lines_of_every_range_that_the_mixture_is_in() {
    each(|model, units, _, served| {
        let whole = Ranges::of(&model.typical);
        let signed = Ranges { heat: around(&served.drink, 0.0).heat, ..whole };
        for ranges in [whole, signed, around(&served.drink, 0.05), around(&served.drink, 0.0)] {
            let envelope = Envelope::new(model, &model.typical, &ranges);
            for (low, value, high) in lines(&envelope, units, served) {
                let pad = 1e-9 * served.drink.volume;
                assert!(low <= value + pad && value <= high + pad, "{low} {value} {high}: {ranges:?}");
            }
            if let Some((figures, side)) = envelope.sign_row(ranges.heat) {
                let sign = dot(&figures, units);
                let holds = if side == Side::Min { sign >= -1e-9 } else { sign <= 1e-9 };
                assert!(ranges.heat == Heat::Open || holds, "{sign}: {ranges:?}");
            }
        }
    });
}

/// In a range of one composition nothing bends: the lines are the drink itself. Over a wider one what lies between them
/// shrinks with the square of its width, as chords and tangents do.
#[test]
fn the_lines_meet_where_the_range_is_one_composition() {
    each(|model, units, _, served| {
        let gap = |by: f64| {
            let envelope = Envelope::new(model, &model.typical, &around(&served.drink, by));
            lines(&envelope, units, served).map(|(low, _, high)| high - low)
        };
        let (nothing, little, twice) = (gap(0.0), gap(0.005), gap(0.01));
        for at in 0..3 {
            let volume = served.drink.volume;
            assert!(nothing[at] <= 1e-9 * volume, "{nothing:?}");
            assert!(little[at] <= 0.49 * twice[at] + 1e-9 * volume, "{little:?} {twice:?}");
            assert!(twice[at] <= 0.001 * volume, "{twice:?} of {volume}");
        }
    });
}

/// Where it is open whether ice melts, each column melts at most what it does where ice melts, or none of it.
#[test]
fn open_heat_lies_between_none_and_what_melts() {
    each(|model, _, _, served| {
        if model.brief.serve.melting().glass.is_none() {
            return;
        }
        let with = |heat| {
            let ranges = Ranges { heat, ..around(&served.drink, 0.01) };
            Envelope::new(model, &model.typical, &ranges)
        };
        let (open, melts, spares) = (with(Heat::Open), with(Heat::Melts), with(Heat::Spares));
        let highest = melts.melt_high.iter().zip(&spares.melt_high).map(|(melts, none)| melts.max(*none));
        assert!(highest.zip(&open.melt_high).all(|(a, b)| (a - b).abs() <= 1e-12), "{open:?}");
        assert_eq!(open.melt_low, spares.melt_low);
        assert!(open.sign.is_empty() && melts.sign.len() == model.columns.len());
        // Where ice melts, the row of the sign is what melts in the glass.
        let glass = melts.melt_high.iter().zip(&spares.melt_high).map(|(all, worked)| all - worked);
        assert!(glass.zip(&melts.sign).all(|(a, b)| (a - b).abs() <= 1e-12), "{melts:?}");
        let glass = melts.melt_low.iter().zip(&spares.melt_low).map(|(all, worked)| all - worked);
        assert!(glass.zip(&spares.sign).all(|(a, b)| (a - b).abs() <= 1e-12), "{spares:?}");
    });
}

/// What each ingredient is by itself bounds what they make: only what meets the working ice counts before it, only what has
/// ethanol or sweet solids in it after.
#[test]
fn the_whole_range_is_that_of_the_parts() {
    let portion = |ethanol: f64, water: f64, solids: f64, worked: f64, strength: f64| Portion {
        masses: crate::liquid::Masses { ethanol, water, solids, ..Default::default() },
        worked,
        strength,
        ..Portion::default()
    };
    let spirit = portion(0.3, 0.6, 0.0, 1.0, 0.4);
    let syrup = portion(0.0, 0.5, 0.75, 1.0, 0.1);
    let topper = portion(0.6, 0.2, 0.0, 0.0, 0.7);
    let ranges = Ranges::of(&[spirit, syrup, topper]);
    assert_eq!((ranges.before, ranges.heat), ((0.1, 0.4), Heat::Open));
    assert_eq!(ranges.spirit.0, 0.0);
    assert!((ranges.spirit.1 - 0.75).abs() < 1e-15 && (ranges.syrup.1 - 0.6).abs() < 1e-15);
    assert_eq!((ranges.syrup.0, Ranges::of(&[topper]).before), (0.0, (0.0, 0.0)));
}

/// Warm liquids all melt ice in the glass; what is colder than ice by itself spares it, and beside them both are open.
#[test]
fn the_signs_of_the_heat_follow_from_what_may_be_poured() {
    let heats = |served: &str, cold: bool| {
        let mut brief = read(brief(served).as_bytes(), &[]).expect("a brief").brief;
        let last = brief.candidates.len() - 1;
        if cold {
            // Strong spirit out of the freezer.
            let label = crate::liquid::Label {
                strength: 57.0,
                sugar: 0.0,
                acid: 0.0,
                ..brief.candidates[last].label
            };
            let portion = label.portion().expect("a portion");
            brief.candidates[last].portion = portion.joining(crate::liquid::Stage::Topped, -30.0);
        }
        Model::new(&brief).heats()
    };
    assert_eq!(heats(SERVED[0], false), [Heat::Open]);
    assert_eq!(heats(SERVED[2], false), [Heat::Melts]);
    assert_eq!(heats(SERVED[2], true), [Heat::Melts, Heat::Spares]);
    // All of it out of the freezer.
    let mut brief = read(brief(SERVED[2]).as_bytes(), &[]).expect("a brief").brief;
    for candidate in &mut brief.candidates {
        candidate.portion = candidate.portion.joining(crate::liquid::Stage::Topped, -60.0);
    }
    assert_eq!(Model::new(&brief).heats(), [Heat::Spares]);
}

/// The mixtures of a range keep to its rows, and the ends of the strength before the ice are met exactly.
#[test]
fn rows_of_a_range_hold_in_it_and_end_where_it_ends() {
    let mut beyond = 0;
    each(|model, units, _, served| {
        let ranges = around(&served.drink, 0.02);
        let envelope = Envelope::new(model, &model.typical, &ranges);
        let inside = |row: &Row| {
            let activity = dot(&row.coefficients, units);
            row.low - 1e-7 <= activity && activity <= row.high + 1e-7
        };
        let rows = ends::range_rows(model, &envelope, &ranges);
        assert!(rows.iter().all(inside), "{rows:?}");
        // All of them are sums that are held to nothing, from one side.
        let from_nothing =
            |row: &Row| row.low == 0.0 && row.high.is_infinite() || row.high == 0.0 && row.low.is_infinite();
        assert!(rows.iter().all(from_nothing), "{rows:?}");
        if matches!(model.brief.serve.dilution, crate::liquid::Dilution::Share(_))
            || served.drink.worked == 0.0
        {
            return;
        }
        // Another range, a little over the mixture or under it, does not hold it.
        let strength = served.drink.worked_strength;
        for before in [(strength + 0.001, 0.9), (0.0, strength - 0.001)] {
            let missed = Ranges { before, ..ranges };
            let rows = ends::range_rows(model, &Envelope::new(model, &model.typical, &missed), &missed);
            let before = &rows[rows.len() - 2..];
            assert!(before.iter().any(|row| !inside(row)) || missed.before.1 < 0.0, "{before:?}");
            beyond += 1;
        }
    });
    assert!(beyond > 300, "{beyond}");
}

/// A mixture at the very end of its range of spirit, all melt known: the row says so.
#[test]
fn the_row_of_spirit_on_ice_ends_where_the_range_ends() {
    each(|model, units, _, served| {
        let m = &served.drink.masses;
        if model.brief.serve.melting().glass.is_none() || m.ethanol == 0.0 {
            return;
        }
        let ranges = around(&served.drink, 0.0);
        for (by, held) in [(1.0005, false), (0.9995, true)] {
            let low = ranges.spirit.0 * by;
            let ranges = Ranges { spirit: (low, ranges.spirit.1.max(low)), ..ranges };
            // The melt is that of the mixture itself, by lines that meet there.
            let exact = Envelope::new(model, &model.typical, &around(&served.drink, 0.0));
            let rows = ends::range_rows(model, &exact, &ranges);
            let row = rows.iter().rfind(|row| row.low == 0.0 && row.origin == RowOrigin::Range(Side::Min));
            let ethanol = rows.iter().filter(|row| row.origin == RowOrigin::Range(Side::Min));
            let met = ethanol.clone().all(|row| dot(&row.coefficients, units) >= row.low - 1e-7);
            assert!(row.is_some() && met == held, "{by}: {rows:?}");
        }
    });
}
