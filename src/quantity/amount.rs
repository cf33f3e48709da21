//! Amounts: millilitres of a liquid or grams of a powder.

use super::{NotAQuantity, numeral};

/// What an amount counts: volume at 20 °C, or mass.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, serde::Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Unit {
    /// Millilitres at 20 °C.
    Ml,
    /// Grams.
    G,
}

impl Unit {
    /// The symbol: `ml` or `g`.
    pub fn symbol(self) -> &'static str {
        match self {
            Self::Ml => "ml",
            Self::G => "g",
        }
    }
}

/// In which units volumes are shown to people; what is computed stays in millilitres.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum UnitSystem {
    /// Millilitres.
    #[default]
    Metric,
    /// US fluid ounces (29.5735 ml); grams stay grams.
    UsOunces,
}

/// An amount: a number and what it counts.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Amount {
    /// How many millilitres or grams.
    pub value: f64,
    /// Which of the two.
    pub unit: Unit,
}

/// One unit that a brief may write: its spellings and what it is in ml or g.
struct Spelling {
    names: &'static [&'static str],
    factor: f64,
    unit: Unit,
}

/// US fluid ounce in ml: 231 cubic inches to the gallon, 128 ounces to it (NIST Handbook 44, Appendix C).
pub(crate) const US_FLUID_OUNCE: f64 = 29.573_529_562_5;
/// Imperial fluid ounce in ml: 4.546 09 l to the gallon, 160 ounces to it (UK Weights and Measures Act 1985).
const IMPERIAL_FLUID_OUNCE: f64 = 28.413_062_5;

/// A dash in ml. Common practice, no source.
pub(crate) const DASH: f64 = 0.8;

/// The longest spelling of a unit first where one ends with another.
const SPELLINGS: [Spelling; 12] = [
    Spelling { names: &["imp fl oz"], factor: IMPERIAL_FLUID_OUNCE, unit: Unit::Ml },
    Spelling { names: &["fl oz", "oz"], factor: US_FLUID_OUNCE, unit: Unit::Ml },
    Spelling { names: &["ml"], factor: 1.0, unit: Unit::Ml },
    Spelling { names: &["cl"], factor: 10.0, unit: Unit::Ml },
    Spelling { names: &["dl"], factor: 100.0, unit: Unit::Ml },
    Spelling { names: &["l"], factor: 1000.0, unit: Unit::Ml },
    Spelling { names: &["tsp"], factor: 5.0, unit: Unit::Ml },
    Spelling { names: &["tbsp"], factor: 15.0, unit: Unit::Ml },
    // Common practice, no source: a barspoon of 5 ml and a dash of 0.8 ml.
    Spelling { names: &["barspoon", "barspoons"], factor: 5.0, unit: Unit::Ml },
    Spelling { names: &["dash", "dashes"], factor: DASH, unit: Unit::Ml },
    Spelling { names: &["kg"], factor: 1000.0, unit: Unit::G },
    Spelling { names: &["g"], factor: 1.0, unit: Unit::G },
];

const UNITS_HELP: &str =
    "write a number and one of ml, cl, dl, l, fl oz, imp fl oz, tsp, tbsp, barspoon, dash, g, kg";

impl Amount {
    /// An amount of `value` millilitres.
    pub fn ml(value: f64) -> Self {
        Self { value, unit: Unit::Ml }
    }

    /// An amount of `value` grams.
    pub fn g(value: f64) -> Self {
        Self { value, unit: Unit::G }
    }

    /// Reads `"2.5 ml"`, `"1 l"`, `"0.75 fl oz"`, `"1 1/2 oz"`, `"¾ oz"`, `"2 dashes"`. A bare number takes `bare`.
    ///
    /// # Errors
    /// When there is no number, it is negative, not finite or absurdly large, or the unit is unknown.
    pub fn parse(text: &str, bare: Unit) -> Result<Self, NotAQuantity> {
        let text = text.trim();
        let split = text.find(|c: char| c.is_alphabetic()).unwrap_or(text.len());
        // "1e3 ml": the exponent's letter belongs to the number.
        let split = exponent_end(text, split).unwrap_or(split);
        let (digits, unit) = (text[..split].trim(), text[split..].trim());
        if digits.is_empty() {
            return Err(NotAQuantity::new("there is no number", UNITS_HELP));
        }
        let number = numeral::parse(digits)?;
        if unit.is_empty() {
            return Ok(Self { value: number, unit: bare });
        }
        let folded = unit.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase();
        let spelling = SPELLINGS
            .iter()
            .find(|s| s.names.contains(&folded.as_str()))
            .ok_or_else(|| NotAQuantity::new(format!("`{unit}` is no unit of volume or mass"), UNITS_HELP))?;
        Ok(Self { value: number * spelling.factor, unit: spelling.unit })
    }
}

/// Where the number ends if the first letter is the `e` of an exponent.
fn exponent_end(text: &str, at: usize) -> Option<usize> {
    let rest = &text[at..];
    let tail = rest.strip_prefix(['e', 'E'])?;
    let digits = tail.strip_prefix(['+', '-']).unwrap_or(tail);
    let length = digits.bytes().take_while(u8::is_ascii_digit).count();
    (length > 0).then(|| text.len() - digits.len() + length)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ml(text: &str) -> f64 {
        let amount = Amount::parse(text, Unit::Ml).expect(text);
        assert_eq!(amount.unit, Unit::Ml, "{text}");
        amount.value
    }

    #[test]
    fn every_unit_of_the_contract_is_read() {
        assert_eq!(ml("2.5 ml"), 2.5);
        assert_eq!(ml("2 cl"), 20.0);
        assert_eq!(ml("1dl"), 100.0);
        assert_eq!(ml("0.7 L"), 700.0);
        // NIST Handbook 44 (2023), Appendix C: 1 US fluid ounce is 29.573 53 ml.
        assert!((ml("1 fl oz") - 29.573_53).abs() < 5e-6);
        // UK Weights and Measures Act 1985, Schedule 1: 1 fluid ounce is 28.413 062 5 ml.
        assert_eq!(ml("1 imp fl oz"), 28.413_062_5);
        assert_eq!(ml("2 tsp"), 10.0);
        assert_eq!(ml("1 tbsp"), 15.0);
        assert_eq!(ml("1 barspoon"), 5.0);
        assert_eq!(ml("2 dashes"), 1.6);
        assert_eq!(ml("12"), 12.0);
        assert_eq!(ml("1 1/2 tsp"), 7.5);
        assert_eq!(ml("¾ oz"), ml("0.75 fl oz"));
        assert_eq!(ml("1½"), 1.5);
        assert_eq!(ml("1/2 barspoon"), 2.5);
        assert_eq!(ml("1e2 ml"), 100.0);
        assert_eq!(Amount::parse("1 kg", Unit::Ml), Ok(Amount::g(1000.0)));
        assert_eq!(Amount::parse("3", Unit::G), Ok(Amount::g(3.0)));
    }

    #[test]
    fn what_is_no_amount_is_refused_with_help() {
        for text in
            ["", "ml", "-1 ml", "nan ml", "inf", "1 furlong", "1 2 ml", "1,5 ml", "1e999 ml", "é", "1/0 ml"]
        {
            let error = Amount::parse(text, Unit::Ml).expect_err(text);
            assert!(!error.help.is_empty());
        }
    }
}
