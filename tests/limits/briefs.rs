//! Briefs that are larger than any bar's.

use std::fmt::Write as _;

/// A sour of four: a spirit, lime, a syrup and water.
pub const SMALL: &str = r#"title = "Corner"
currency = "GBP"
[serve]
method = "shake"
pour = "2.5 ml"
most = 6
[targets]
volume = { min = 100, max = 140 }
strength = { min = 9, max = 14 }
sugar = { min = 50, max = 90 }
acid = { min = 5, max = 9 }
[aim]
lowest = "cost"
[[candidate]]
name = "spirit"
strength = 40
price = "15 per 700 ml"
[[candidate]]
name = "lime"
acid = 60
price = "5 per 1 l"
[[candidate]]
name = "syrup"
brix = 60
price = "4 per 1 l"
[[candidate]]
name = "water"
price = "0 per 1 l"
"#;

/// So many bottles beside them: spirits, sours, syrups and wines in turn, no two alike.
pub fn shelf(bottles: usize) -> String {
    let mut text = SMALL.to_owned();
    for at in 0..bottles {
        // Three figures that come round at different lengths.
        let (a, b, c) = (at % 7, at % 11, at % 13);
        let figures = match at % 4 {
            0 => format!("role = \"base\"\nstrength = {}\nprice = \"{}.{c:02} per 700 ml\"", 37 + a, 12 + b),
            1 => format!(
                "role = \"sour\"\nacid = {}\nsugar = {b}\nprice = \"{}.{a:02} per 1 l\"",
                35 + 2 * c,
                4 + b
            ),
            2 => format!(
                "role = \"sweetener\"\nsugar = {}\nprice = \"{}.{c:02} per 1 l\"",
                400 + 30 * b,
                3 + a
            ),
            _ => {
                let price = 9 + 2 * c;
                format!(
                    "role = \"modifier\"\nstrength = {}\nsugar = {}\nprice = \"{price} per 1 l\"",
                    12 + a,
                    50 + 9 * b
                )
            }
        };
        let _ = writeln!(text, "[[candidate]]\nname = \"bottle {at}\"\n{figures}");
    }
    text
}

/// A chain of preparations: each is 99 parts of the one before and one of water, by weight.
pub fn chain(length: usize) -> String {
    let mut text = SMALL.to_owned();
    let mut before = "syrup".to_owned();
    for at in 1..=length {
        let name = format!("syrup, let down {at} times");
        let _ = writeln!(
            text,
            "[[candidate]]\nname = \"{name}\"\nmade = {{ by = \"weight\", parts = {{ \"{before}\" = 99, \"water\" = 1 }} }}"
        );
        before = name;
    }
    text
}
