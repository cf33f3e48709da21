//! The one writer of figures that people see: fixed digits per quantity, and never `-0`.

use super::amount::{DASH, US_FLUID_OUNCE};
use super::{Amount, Unit, UnitSystem};

/// Writes `value` with `digits` decimals, without a minus before zero.
/// What is not a number is written as a dash.
pub fn fixed(value: f64, digits: usize) -> String {
    if value.is_nan() {
        return "–".to_owned();
    }
    if value.is_infinite() {
        return if value > 0.0 { "∞" } else { "-∞" }.to_owned();
    }
    let text = format!("{value:.digits$}");
    match text.strip_prefix('-') {
        Some(rest) if rest.bytes().all(|b| b == b'0' || b == b'.') => rest.to_owned(),
        _ => text,
    }
}

/// Writes `value` with at most `digits` decimals and no trailing zeros: `2.5`, `30`.
pub fn trimmed(value: f64, digits: usize) -> String {
    let text = fixed(value, digits);
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}

/// Writes `value` with its sign: `+1.5`, `-0.3`, `0.0`.
pub fn signed(value: f64, digits: usize) -> String {
    let text = fixed(value, digits);
    let zero = text.bytes().all(|b| b == b'0' || b == b'.');
    if value > 0.0 && !zero { format!("+{text}") } else { text }
}

/// US fluid ounces from millilitres.
pub fn in_ounces(millilitres: f64) -> f64 {
    millilitres / US_FLUID_OUNCE
}

/// Writes an amount as it is poured: `22.5 ml`, `3/4 oz`, `2 dashes` (in ounces), `1.2 g`, `0.125 g`. What no jigger could
/// measure, as free pours are, is shown to a tenth: `28.4 ml`. However little it is, it is not nothing:
/// `0.0034 oz`.
pub fn pour(amount: Amount, system: UnitSystem) -> String {
    let thousandths = amount.value * 1000.0;
    let measured = (thousandths - thousandths.round()).abs() < 1e-6;
    let digits = match amount.value {
        _ if measured => 3,
        small if small < 1.0 => 2,
        _ => 1,
    };
    match (amount.unit, system) {
        (Unit::Ml, UnitSystem::UsOunces) => in_jiggers(amount.value),
        (unit, _) => format!("{} {}", some(amount.value, digits), unit.symbol()),
    }
}

/// Fractions of an ounce that jiggers and their lines show: eighths and thirds. Common practice, no source.
const PARTS: [f64; 2] = [8.0, 3.0];
/// So many dashes are counted; more are measured.
const DASHES: f64 = 4.0;

/// An amount of ml as it is measured in US fluid ounces: a fraction where it is one, `1 1/2 oz`; dashes where it is
/// a few of them, `2 dashes`; else decimals, `0.85 oz`.
fn in_jiggers(millilitres: f64) -> String {
    let whole = |value: f64| value > 0.5 && (value - value.round()).abs() < 1e-6;
    let dashes = millilitres / DASH;
    let ounces = in_ounces(millilitres);
    if whole(dashes) && dashes < DASHES + 0.5 {
        let many = if dashes > 1.5 { "es" } else { "" };
        return format!("{} dash{many}", fixed(dashes, 0));
    }
    match PARTS.into_iter().find(|parts| whole(ounces * parts)) {
        Some(parts) => format!("{} oz", fraction((ounces * parts).round() as u64, parts as u64)),
        None => format!("{} oz", some(ounces, 2)),
    }
}

/// `over` parts, so many of which are a whole, in their lowest terms: `1 1/2`, `3/4`, `2`.
fn fraction(over: u64, parts: u64) -> String {
    let (whole, mut rest, mut parts) = (over / parts, over % parts, parts);
    while rest > 0 && rest % 2 == 0 && parts % 2 == 0 {
        (rest, parts) = (rest / 2, parts / 2);
    }
    match (whole, rest) {
        (whole, 0) => whole.to_string(),
        (0, rest) => format!("{rest}/{parts}"),
        (whole, rest) => format!("{whole} {rest}/{parts}"),
    }
}

/// Writes a value with at most `digits` decimals, or with as many more as it takes to show two digits of
/// what would else be nothing.
fn some(value: f64, digits: usize) -> String {
    let shown = |digits: usize, least: f64| value * 10_f64.powi(i32::try_from(digits).unwrap_or(0)) >= least;
    if value <= 0.0 || shown(digits, 0.5) {
        return trimmed(value, digits);
    }
    let enough = (digits..MOST_DIGITS).find(|digits| shown(*digits, 10.0));
    trimmed(value, enough.unwrap_or(MOST_DIGITS))
}

/// More decimals than this are those of a rounding.
const MOST_DIGITS: usize = 9;

/// Writes an amount that nobody has to measure, such as what the ice brings: `34 ml`, `1.2 oz`, `7.5 ml`.
pub fn pour_about(amount: Amount, system: UnitSystem) -> String {
    match (amount.unit, system) {
        (Unit::Ml, UnitSystem::UsOunces) => format!("{} oz", fixed(in_ounces(amount.value), 2)),
        (Unit::Ml, UnitSystem::Metric) if amount.value >= 10.0 => format!("{} ml", fixed(amount.value, 0)),
        (unit, _) => format!("{} {}", fixed(amount.value, 1), unit.symbol()),
    }
}

/// Writes a count with its thousands apart: `20,000`.
pub fn grouped(count: usize) -> String {
    let digits = count.to_string();
    let first = digits.len() % 3;
    let comma = |at: usize| at > 0 && at % 3 == first;
    digits.chars().enumerate().fold(String::new(), |mut out, (at, digit)| {
        if comma(at) {
            out.push(',');
        }
        out.push(digit);
        out
    })
}

/// Writes a share of one as a percentage: `93 %`.
pub fn percent(share: f64, digits: usize) -> String {
    format!("{} %", fixed(share * 100.0, digits))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn zero_has_no_sign_and_trailing_zeros_go() {
        assert_eq!(fixed(-0.0001, 2), "0.00");
        assert_eq!(fixed(-0.5, 0), "0");
        assert_eq!(fixed(f64::NAN, 2), "–");
        assert_eq!(trimmed(30.0, 2), "30");
        assert_eq!(trimmed(2.50, 2), "2.5");
        assert_eq!(signed(0.04, 1), "0.0");
        assert_eq!(signed(1.25, 2), "+1.25");
        assert_eq!(signed(-1.25, 2), "-1.25");
    }

    #[test]
    fn thousands_stand_apart() {
        let counts = [7, 100, 1000, 20_000, 123_456, 1_234_567];
        let texts = ["7", "100", "1,000", "20,000", "123,456", "1,234,567"];
        assert_eq!(counts.map(grouped), texts);
    }

    #[test]
    fn pours_read_like_a_card() {
        assert_eq!(pour(Amount::ml(22.5), UnitSystem::Metric), "22.5 ml");
        assert_eq!(pour(Amount::ml(22.180_147), UnitSystem::UsOunces), "3/4 oz");
        assert_eq!(pour(Amount::g(0.3), UnitSystem::UsOunces), "0.3 g");
        assert_eq!(pour(Amount::ml(28.371_02), UnitSystem::Metric), "28.4 ml");
        assert_eq!(pour(Amount::g(0.371_02), UnitSystem::Metric), "0.37 g");
        assert_eq!(pour(Amount::g(0.125), UnitSystem::Metric), "0.125 g");
        // A tenth of a millilitre, 0.00338 oz.
        assert_eq!(pour(Amount::ml(0.1), UnitSystem::UsOunces), "0.0034 oz");
        assert_eq!(pour(Amount::ml(0.8), UnitSystem::UsOunces), "1 dash");
        assert_eq!(pour(Amount::ml(1.6), UnitSystem::UsOunces), "2 dashes");
        assert_eq!(pour(Amount::ml(8.0), UnitSystem::UsOunces), "0.27 oz");
        // Quarters and thirds of 29.5735 ml, and what is near one, but is none.
        let ounces = |oz: f64| pour(Amount::ml(oz * 29.573_529_562_5), UnitSystem::UsOunces);
        assert_eq!(
            [0.125, 0.25, 0.5, 1.0, 1.5, 2.0 / 3.0, 1.0 + 1.0 / 3.0, 2.875].map(ounces),
            ["1/8 oz", "1/4 oz", "1/2 oz", "1 oz", "1 1/2 oz", "2/3 oz", "1 1/3 oz", "2 7/8 oz"]
        );
        assert_eq!(pour(Amount::ml(22.5), UnitSystem::UsOunces), "0.76 oz");
        assert_eq!(pour(Amount::ml(0.001_27), UnitSystem::Metric), "0.0013 ml");
        assert_eq!(pour(Amount::ml(0.0), UnitSystem::UsOunces), "0 oz");
        assert_eq!(pour_about(Amount::ml(33.6), UnitSystem::Metric), "34 ml");
        assert_eq!(pour_about(Amount::ml(7.46), UnitSystem::Metric), "7.5 ml");
        assert_eq!(pour_about(Amount::ml(33.6), UnitSystem::UsOunces), "1.14 oz");
    }
}
