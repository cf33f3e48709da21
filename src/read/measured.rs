//! Texts that give a measure in one of its units: what they are in the unit of the contract.

use crate::brief::Measure;
use crate::liquid::sucrose;
use crate::quantity::{Amount, Currency, NotAQuantity, Unit, money, numeral};

/// kJ in one kcal (thermochemical calorie, ISO 80000-5).
const KILOJOULES: f64 = 4.184;

/// How the fault of a text ends that has no number at all.
pub const NO_NUMBER: &str = " has no number";

/// A number and the words behind it, folded.
fn split(text: &str) -> Result<(f64, String), NotAQuantity> {
    let text = text.trim();
    let length = numeral::length(text);
    let (number, unit) = (text[..length].trim(), text[length..].trim());
    if number.is_empty() {
        return Err(NotAQuantity::new(
            format!("`{}`{NO_NUMBER}", super::shape::shown(text)),
            "write a number, or a number with its unit",
        ));
    }
    let unit = unit.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase();
    Ok((numeral::parse(number)?, unit))
}

fn no_unit(unit: &str, of: &str, help: &str) -> NotAQuantity {
    NotAQuantity::new(format!("`{}` is no unit of {of}", super::shape::shown(unit)), help)
}

/// A target's figure in its own unit.
///
/// # Errors
/// When there is no number, or the unit is not one of the measure.
pub fn target(measure: Measure, text: &str, currency: Option<&Currency>) -> Result<f64, NotAQuantity> {
    match measure {
        _ if !text.contains(char::is_numeric) => split(text).map(|(number, _)| number),
        Measure::Volume | Measure::Melt | Measure::Level => {
            amount(text, Unit::Ml, "write it in ml, cl, l or fl oz")
        }
        Measure::Ethanol => amount(text, Unit::G, "write it in g"),
        Measure::Strength => content("strength", text).map(|(_, number)| number),
        Measure::Sugar | Measure::Sweetness => match content("sugar", text)? {
            ("brix", brix) => Ok(sucrose::grams_per_litre(brix)),
            (_, number) => Ok(number),
        },
        Measure::Acid => content("acid", text).map(|(_, number)| number),
        Measure::SugarAcid => match split(text)? {
            (number, unit) if matches!(unit.as_str(), "" | "g/g" | ": 1" | ":1" | "to 1") => Ok(number),
            (_, unit) => Err(no_unit(&unit, "sugar to acid", "write grams of sugar per gram of acid")),
        },
        Measure::Cost => {
            let exact = money(text, currency)?;
            exact
                .to_string()
                .parse()
                .map_err(|_| NotAQuantity::new("this is no amount of money", "write it like 1.60"))
        }
        Measure::PourCost => match split(text)? {
            (number, unit) if matches!(unit.as_str(), "" | "%") => Ok(number),
            (_, unit) => Err(no_unit(&unit, "pour cost", "write % of the net menu price")),
        },
        Measure::Energy => match split(text)? {
            (number, unit) if matches!(unit.as_str(), "" | "kcal") => Ok(number),
            (number, unit) if unit == "kj" => Ok(number / KILOJOULES),
            (_, unit) => Err(no_unit(&unit, "energy", "write it in kcal or kJ")),
        },
        Measure::Property(_) => property(text, ""),
    }
}

fn amount(text: &str, unit: Unit, help: &str) -> Result<f64, NotAQuantity> {
    let amount = Amount::parse(text, unit)?;
    if amount.unit == unit {
        return Ok(amount.value);
    }
    Err(NotAQuantity::new(
        format!("this is counted in {}, not in {}", unit.symbol(), amount.unit.symbol()),
        help,
    ))
}

/// A property's figure: its own unit may stand behind it.
///
/// # Errors
/// When there is no number, or another unit.
pub fn property(text: &str, own: &str) -> Result<f64, NotAQuantity> {
    let (number, unit) = split(text)?;
    let own = own.trim().to_lowercase();
    if unit.is_empty() || unit == own || unit == format!("{own}/l") {
        return Ok(number);
    }
    Err(no_unit(&unit, "this property", "write the unit that it is declared in, or the number alone"))
}

/// What a liquid holds: the key of the contract that the unit belongs to, and the figure there.
///
/// - strength in % vol, or in degrees of proof, twice as many (27 CFR 5.1: at 60 °F, where ours is at 20 °C; they
///   differ by under 0.1 % vol);
/// - sugar in g/L, in % as g in 100 ml, or in degrees Brix or Plato, g of sucrose in 100 g (the two scales agree
///   within their own tables' last digit);
/// - acid in g/L, or in % as g in 100 ml.
///
/// # Errors
/// When there is no number, or the unit is none of these.
pub fn content(key: &str, text: &str) -> Result<(&'static str, f64), NotAQuantity> {
    let (number, unit) = split(text)?;
    let unit = unit.trim_start_matches('°').trim().to_owned();
    let grams = matches!(unit.as_str(), "" | "g/l" | "g/kg");
    let percent = matches!(unit.as_str(), "%" | "g/100 ml" | "g/100ml" | "g/100 g" | "% w/v");
    match key {
        "strength" => match unit.as_str() {
            "" | "%" | "% vol" | "vol" | "% abv" | "abv" | "%vol" | "%abv" => Ok(("strength", number)),
            "proof" => Ok(("strength", number / 2.0)),
            _ => Err(no_unit(&unit, "strength", "write % vol, or proof, which is twice as much")),
        },
        "sugar" if grams => Ok(("sugar", number)),
        "sugar" if percent => Ok(("sugar", number * 10.0)),
        "sugar" | "brix" => match unit.as_str() {
            "brix" | "bx" | "plato" | "p" => Ok(("brix", number)),
            "" | "%" if key == "brix" => Ok(("brix", number)),
            _ => Err(no_unit(&unit, "sugar", "write g/L, % (g in 100 ml), brix or plato")),
        },
        _ if grams => Ok(("acid", number)),
        _ if percent => Ok(("acid", number * 10.0)),
        _ => Err(no_unit(&unit, "acid", "write g/L, or % (g in 100 ml)")),
    }
}

/// Half the width of the range that one figure of a target stands for, in the target's unit: what is usual at a bar.
/// Common practice, no source; of what has no usual width a twentieth.
pub fn width(key: &str, figure: f64) -> f64 {
    match key {
        "volume" => 8.0,
        "strength" | "acid" | "ethanol" => 0.5,
        "sugar" | "sweetness" | "melt" => 5.0,
        "sugar_acid" | "pour_cost" => 1.0,
        "energy" => 10.0,
        _ => figure.abs() / 20.0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(text: Result<f64, NotAQuantity>, expected: f64, within: f64) {
        let value = text.expect("a figure");
        assert!((value - expected).abs() <= within, "{value} is not {expected}");
    }

    #[test]
    fn figures_are_read_in_the_units_that_people_have() {
        let pounds = Currency::parse("GBP").ok();
        let read = |measure, text| target(measure, text, pounds.as_ref());
        // NIST Handbook 44, Appendix C: 29.573 53 ml to the US fluid ounce.
        near(read(Measure::Volume, "3 1/4 fl oz"), 3.25 * 29.573_53, 1e-4);
        near(read(Measure::Volume, "12 cl"), 120.0, 0.0);
        // 27 CFR 5.1: proof is twice the percentage of alcohol by volume.
        near(read(Measure::Strength, "80 proof"), 40.0, 0.0);
        near(read(Measure::Strength, "11 % vol"), 11.0, 0.0);
        near(read(Measure::Sugar, "6 %"), 60.0, 1e-12);
        near(read(Measure::Acid, "0.65 %"), 6.5, 1e-12);
        // 50 °Brix weigh 1.2296 g/ml at 20 °C (ICUMSA SPS-4, as in the Sugar Technologists Manual; from memory).
        near(read(Measure::Sugar, "50 brix"), 614.8, 0.5);
        near(read(Measure::Energy, "418.4 kJ"), 100.0, 1e-9);
        near(read(Measure::Cost, "£1.60"), 1.6, 0.0);
        near(read(Measure::PourCost, "18 %"), 18.0, 0.0);
        near(read(Measure::SugarAcid, "8:1"), 8.0, 0.0);
        assert_eq!(content("sugar", "12 °P"), Ok(("brix", 12.0)));
        assert_eq!(property("40 mg", "mg"), Ok(40.0));
    }

    #[test]
    fn another_measures_unit_is_refused() {
        for (measure, text) in [
            (Measure::Volume, "3 g"),
            (Measure::Strength, "3 brix"),
            (Measure::Sugar, "80 proof"),
            (Measure::Acid, "6 ml"),
            (Measure::Cost, "£1.60"),
            (Measure::Energy, "ten"),
            (Measure::Ethanol, "10 ml"),
        ] {
            assert!(target(measure, text, None).is_err(), "{text}");
        }
        assert!(property("40 g", "mg").is_err());
    }
}
