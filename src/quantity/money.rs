//! Money: exact decimals, never binary fractions, until the solver needs a float.

use std::fmt;
use std::str::FromStr;

use rust_decimal::prelude::ToPrimitive;
use rust_decimal::{Decimal, RoundingStrategy};

use super::{Amount, NotAQuantity, Unit};

/// A currency by its ISO 4217 code.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Currency(String);

impl Currency {
    /// ISO 4217's code for transactions without any currency.
    pub const NONE: &str = "XXX";

    /// Reads a code of three capital letters.
    ///
    /// # Errors
    /// When it is anything else.
    pub fn parse(code: &str) -> Result<Self, NotAQuantity> {
        if code.len() == 3 && code.bytes().all(|b| b.is_ascii_uppercase()) {
            Ok(Self(code.to_owned()))
        } else {
            Err(NotAQuantity::new(
                format!("`{code}` is no currency code"),
                "write the three capital letters of ISO 4217, such as GBP, EUR or USD",
            ))
        }
    }

    /// The three letters.
    pub fn code(&self) -> &str {
        &self.0
    }

    /// How many decimals its amounts are written with: two, but for those that ISO 4217 lists with none,
    /// three or four (list from memory, as of 2024).
    pub fn digits(&self) -> u32 {
        match self.0.as_str() {
            "BIF" | "CLP" | "DJF" | "GNF" | "ISK" | "JPY" | "KMF" | "KRW" | "PYG" | "RWF" | "UGX" | "UYI"
            | "VND" | "VUV" | "XAF" | "XOF" | "XPF" => 0,
            "BHD" | "IQD" | "JOD" | "KWD" | "LYD" | "OMR" | "TND" => 3,
            "CLF" | "UYW" => 4,
            _ => 2,
        }
    }

    /// Writes an exact amount of money with the decimals of the currency and its code: `12.50 GBP`. Half
    /// of the last decimal goes up.
    pub fn write(&self, money: Decimal) -> String {
        self.with_code(money, RoundingStrategy::MidpointAwayFromZero)
    }

    /// Writes an amount that must not be under what was worked out, such as a price that is needed.
    pub fn write_at_least(&self, money: Decimal) -> String {
        self.with_code(money, RoundingStrategy::ToPositiveInfinity)
    }

    fn with_code(&self, money: Decimal, rounding: RoundingStrategy) -> String {
        let digits = self.digits();
        let mut rounded = money.round_dp_with_strategy(digits, rounding);
        if rounded.is_zero() {
            rounded = Decimal::ZERO;
        }
        format!("{rounded:.*} {}", digits as usize, self.0)
    }
}

/// The signs that people write for currencies, each with those that it may stand for (the signs of Unicode's
/// currency block and the usual letters before a dollar sign; list from memory). The longest first where one
/// ends with another.
const SIGNS: [(&str, &[&str]); 17] = [
    ("US$", &["USD"]),
    ("A$", &["AUD"]),
    ("C$", &["CAD"]),
    ("NZ$", &["NZD"]),
    ("S$", &["SGD"]),
    ("HK$", &["HKD"]),
    ("R$", &["BRL"]),
    (
        "$",
        &[
            "USD", "AUD", "CAD", "NZD", "SGD", "HKD", "MXN", "TWD", "ARS", "CLP", "COP", "UYU", "BBD", "BSD",
            "BZD", "BMD", "FJD", "GYD", "JMD", "KYD", "LRD", "NAD", "SBD", "SRD", "TTD", "XCD",
        ],
    ),
    ("£", &["GBP", "EGP", "FKP", "GIP", "SHP", "LBP", "SDG", "SSP", "SYP"]),
    ("€", &["EUR"]),
    ("¥", &["JPY", "CNY"]),
    ("₹", &["INR"]),
    ("₩", &["KRW", "KPW"]),
    ("₺", &["TRY"]),
    ("₱", &["PHP", "CUP"]),
    ("₪", &["ILS"]),
    ("₫", &["VND"]),
];

/// The money of a text without the sign or code of its currency, before it or after it: `28` of `£28`, `28 GBP`.
///
/// # Errors
/// When there is a sign or a code that the brief's currency does not have.
fn bare<'t>(text: &'t str, currency: Option<&Currency>) -> Result<&'t str, NotAQuantity> {
    let text = text.trim();
    let code = |word: &str| word.len() == 3 && word.bytes().all(|b| b.is_ascii_uppercase());
    let signed = SIGNS.iter().find_map(|(sign, codes)| {
        let rest = text.strip_prefix(sign).or_else(|| text.strip_suffix(sign))?;
        Some((*sign, codes.to_vec(), rest))
    });
    let head = text.get(..3).filter(|head| code(head)).map(|head| (head, vec![head], &text[3..]));
    let tail = text.len().checked_sub(3).and_then(|at| text.get(at..).map(|tail| (tail, at)));
    let tail = tail.filter(|(tail, _)| code(tail)).map(|(tail, at)| (tail, vec![tail], &text[..at]));
    let Some((sign, codes, rest)) = signed.or(head).or(tail) else { return Ok(text) };
    match currency {
        Some(own) if codes.contains(&own.code()) => Ok(rest.trim()),
        Some(own) => {
            let help = format!("write the amount alone: it is in {own}, the brief's currency");
            Err(NotAQuantity::new(format!("`{sign}` is no sign of {own}"), help))
        }
        None => {
            let help = "name the currency first: currency = \"GBP\" (or another ISO 4217 code) at the top";
            Err(NotAQuantity::new(format!("`{sign}` tells no currency by itself"), help))
        }
    }
}

/// Reads an exact amount of money, zero or more: `28`, or with the sign or the code of the currency that the
/// brief names, `£28`, `28 GBP`.
///
/// # Errors
/// When it is no number, negative, or beyond any purse; or in another currency.
pub fn money(text: &str, currency: Option<&Currency>) -> Result<Decimal, NotAQuantity> {
    let help = "write it like 14.50, with a full stop for the decimals";
    let text = bare(text, currency)?;
    let amount = Decimal::from_str(text)
        .map_err(|_| NotAQuantity::new(format!("`{text}` is not an amount of money"), help))?;
    if amount.is_sign_negative() && !amount.is_zero() {
        return Err(NotAQuantity::new("the price is negative", "write an amount of zero or more"));
    }
    if amount > Decimal::from(1_000_000_000) {
        return Err(NotAQuantity::new("the price is beyond any bar's purse", help));
    }
    Ok(amount)
}

impl fmt::Display for Currency {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// What a pack costs: an exact amount of money for a quantity bought.
#[derive(Debug, Clone, PartialEq)]
pub struct Price {
    /// Money for one pack, in the brief's currency.
    pub amount: Decimal,
    /// What one pack holds.
    pub pack: Amount,
    /// The pack as the brief writes it, such as `700 ml`.
    pub pack_text: String,
}

impl Price {
    /// Reads `"6.20 per 1 l"`.
    ///
    /// # Errors
    /// When there is no ` per `, the money is negative or no number, or the pack holds nothing.
    pub fn parse(text: &str) -> Result<Self, NotAQuantity> {
        Self::parse_in(text, None)
    }

    /// The same where the brief may name a currency, whose sign or code may then stand beside the money:
    /// `"£6.20 per 1 l"`.
    ///
    /// # Errors
    /// As [`Price::parse`], and when the sign is that of another currency.
    pub fn parse_in(text: &str, currency: Option<&Currency>) -> Result<Self, NotAQuantity> {
        let help = "write it like \"14.50 per 700 ml\"";
        let (amount, pack) = text
            .split_once(" per ")
            .ok_or_else(|| NotAQuantity::new(format!("`{text}` is no price"), help))?;
        let amount = money(amount, currency)?;
        let pack_text = pack.trim().to_owned();
        let pack = Amount::parse(&pack_text, Unit::Ml)?;
        if pack.value <= 0.0 {
            return Err(NotAQuantity::new("the price is for a pack that holds nothing", help));
        }
        let price = Self { amount, pack, pack_text };
        // Next to nothing for something: no number is large enough.
        if !price.per_unit().is_finite() {
            return Err(NotAQuantity::new("the price is beyond any bar's purse", help));
        }
        Ok(price)
    }

    /// Money per ml or g of the pack (whichever the pack counts), as a float for the solver.
    pub fn per_unit(&self) -> f64 {
        self.amount.to_f64().unwrap_or(f64::INFINITY) / self.pack.value
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_price_is_exact_money_for_a_pack() {
        let price = Price::parse("14.10 per 700 ml").expect("a price");
        assert_eq!(price.amount, Decimal::new(1410, 2));
        assert_eq!(price.pack, Amount::ml(700.0));
        assert_eq!(price.pack_text, "700 ml");
        assert_eq!(Price::parse("9 per 1 kg").expect("a price").per_unit(), 0.009);
    }

    #[test]
    fn what_is_no_price_is_refused() {
        for text in [
            "",
            "5",
            "5 per",
            "x per 1 l",
            "-1 per 1 l",
            "1 per 0 ml",
            "1 per -5 ml",
            "1e99 per 1 l",
            "9 per 6e-324 kg",
        ] {
            assert!(Price::parse(text).is_err(), "{text}");
        }
    }

    #[test]
    fn a_sign_is_read_where_it_is_the_currencys_own() {
        let (pounds, dollars) = (Currency::parse("GBP").ok(), Currency::parse("USD").ok());
        for text in ["£28", "28 GBP", "GBP 28", "28£", " £ 28 "] {
            assert_eq!(money(text, pounds.as_ref()), Ok(Decimal::from(28)), "{text}");
            assert!(money(text, dollars.as_ref()).is_err(), "{text}");
            assert!(money(text, None).is_err(), "{text}");
        }
        assert_eq!(money("US$28", dollars.as_ref()), Ok(Decimal::from(28)));
        assert!(money("A$28", dollars.as_ref()).is_err());
        assert_eq!(money("28", None), Ok(Decimal::from(28)));
        for text in ["£", "£-5", "£ £ 28", "$1e99", "GBP", "£28 GBP"] {
            assert!(money(text, pounds.as_ref()).is_err(), "{text}");
        }
        let price = Price::parse_in("£14.10 per 700 ml", pounds.as_ref()).expect("a price");
        assert_eq!((price.amount, price.pack), (Decimal::new(1410, 2), Amount::ml(700.0)));
    }

    #[test]
    fn money_is_written_with_the_decimals_of_its_currency() {
        let write = |code: &str, money: &str| {
            Currency::parse(code).expect(code).write(Decimal::from_str(money).expect(money))
        };
        assert_eq!(write("GBP", "12.5"), "12.50 GBP");
        assert_eq!(write("GBP", "0.125"), "0.13 GBP");
        assert_eq!(write("JPY", "1249.5"), "1250 JPY");
        assert_eq!(write("KWD", "1.2345"), "1.235 KWD");
        assert_eq!(write("EUR", "-0.001"), "0.00 EUR");
        let pounds = Currency::parse("GBP").expect("three capitals");
        assert_eq!(pounds.write_at_least(Decimal::new(9_391, 3)), "9.40 GBP");
        assert_eq!(pounds.write_at_least(Decimal::new(94, 1)), "9.40 GBP");
    }

    #[test]
    fn a_currency_is_three_capitals() {
        assert_eq!(Currency::parse("GBP").map(|c| c.to_string()), Ok("GBP".to_owned()));
        for code in ["", "gbp", "£", "EURO", "É12"] {
            assert!(Currency::parse(code).is_err(), "{code}");
        }
    }
}
