//! Families of drinks: what one usually measures in the glass, and which roles it needs.
//!
//! The list and its figures are common practice of the trade, with no source: the ranges are wide enough for
//! most drinks that a bartender would call by the name, and the least pours are those that a guest still tastes.
//! Where a spec of the International Bartenders Association lay outside (a sour with egg white, a short collins), the
//! range was widened to hold it; no drink of the tests decides a range.

use crate::brief::{Measure, Role};
use crate::liquid::Method;

/// A role that a family needs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Need {
    /// Which role.
    pub role: Role,
    /// At least so much of each ingredient of it, ml.
    pub least: f64,
    /// At most so many ingredients of it.
    pub most: usize,
    /// What an ordinary shelf has for it, by larder name; the first ones are the most ordinary.
    pub shelf: &'static [&'static str],
}

/// A family of drinks.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Family {
    /// Its name.
    pub name: &'static str,
    /// What it is, in a few words.
    pub about: &'static str,
    /// How it is made as a rule.
    pub method: Method,
    /// What it measures in the glass: least and most of each measure, in its unit.
    pub ranges: &'static [(Measure, f64, f64)],
    /// What it is made of.
    pub needs: &'static [Need],
}

impl Family {
    /// The family of a name; letter case, hyphens and a plural do not matter.
    pub fn find(name: &str) -> Option<&'static Self> {
        let wanted = super::folded(name);
        let called = |family: &&Self| {
            let own = super::folded(family.name);
            [own.clone(), format!("{own}s"), format!("{own}es")].contains(&wanted)
                || wanted.strip_suffix("ies").is_some_and(|stem| format!("{stem}y") == own)
        };
        FAMILIES.iter().find(called)
    }

    /// What one of it is called in a sentence: `a sour`, `a stirred drink`, `an alcohol-free drink`.
    pub fn called(&self) -> String {
        let article = if self.name.starts_with(['a', 'e', 'i', 'o', 'u']) { "an" } else { "a" };
        let drink = if ["stirred", "alcohol-free"].contains(&self.name) { " drink" } else { "" };
        format!("{article} {}{drink}", self.name)
    }

    /// By how much a figure lies outside its range, as a share of the range's width; 0 inside.
    pub fn outside(&self, value: impl Fn(Measure) -> f64) -> f64 {
        let one = |(measure, least, most): &(Measure, f64, f64)| {
            let value = value(*measure);
            (least - value).max(value - most).max(0.0) / (most - least)
        };
        self.ranges.iter().map(one).sum()
    }
}

const BASES: &[&str] = &["gin", "light rum", "aged rum", "tequila", "vodka", "brandy", "bourbon"];
const CITRUS: &[&str] = &["lemon juice", "lime juice"];
const SYRUPS: &[&str] = &["sugar syrup 1:1", "honey syrup 2:1", "demerara syrup 1:1"];
const BITTERS: &[&str] = &["aromatic bitters", "orange bitters"];

/// What a drink measures, each from to: volume in ml, strength in % vol, sugar and acid in g/L.
const fn in_glass(
    volume: (f64, f64),
    strength: (f64, f64),
    sugar: (f64, f64),
    acid: (f64, f64),
) -> [(Measure, f64, f64); 4] {
    [
        (Measure::Volume, volume.0, volume.1),
        (Measure::Strength, strength.0, strength.1),
        (Measure::Sugar, sugar.0, sugar.1),
        (Measure::Acid, acid.0, acid.1),
    ]
}

const fn need(role: Role, least: f64, most: usize, shelf: &'static [&'static str]) -> Need {
    Need { role, least, most, shelf }
}

/// All families.
pub const FAMILIES: [Family; 10] = [
    Family {
        name: "sour",
        about: "a base with citrus and sugar, shaken, served short",
        method: Method::Shake,
        ranges: &in_glass((90.0, 220.0), (12.0, 21.0), (45.0, 105.0), (6.0, 13.0)),
        needs: &[
            need(Role::Base, 30.0, 1, BASES),
            need(Role::Sour, 15.0, 1, CITRUS),
            need(Role::Sweetener, 10.0, 1, SYRUPS),
        ],
    },
    Family {
        name: "daisy",
        about: "a sour that a liqueur sweetens",
        method: Method::Shake,
        ranges: &in_glass((90.0, 160.0), (15.0, 25.0), (25.0, 95.0), (6.0, 13.0)),
        needs: &[
            need(Role::Base, 30.0, 1, BASES),
            need(Role::Modifier, 15.0, 1, &["triple sec", "maraschino liqueur", "elderflower liqueur"]),
            need(Role::Sour, 15.0, 1, CITRUS),
        ],
    },
    Family {
        name: "collins",
        about: "a sour made long with soda water",
        method: Method::Build,
        ranges: &in_glass((160.0, 330.0), (6.0, 13.0), (25.0, 80.0), (3.0, 10.0)),
        needs: &[
            need(Role::Base, 30.0, 1, BASES),
            need(Role::Sour, 15.0, 1, CITRUS),
            need(Role::Sweetener, 10.0, 1, SYRUPS),
            need(Role::Lengthener, 60.0, 1, &["soda water"]),
        ],
    },
    Family {
        name: "highball",
        about: "a base made long with something that sparkles",
        method: Method::Build,
        ranges: &in_glass((150.0, 320.0), (6.0, 14.0), (0.0, 90.0), (0.0, 6.0)),
        needs: &[
            need(Role::Base, 30.0, 1, BASES),
            need(Role::Lengthener, 90.0, 1, &["tonic water", "ginger ale", "soda water"]),
        ],
    },
    Family {
        name: "spritz",
        about: "a bitter or fragrant aperitif with sparkling wine and soda water",
        method: Method::Build,
        ranges: &in_glass((140.0, 280.0), (6.0, 13.0), (20.0, 120.0), (1.0, 6.0)),
        needs: &[
            need(
                Role::Modifier,
                30.0,
                2,
                &["red bitter aperitif", "bitter aperitif 11%", "elderflower liqueur"],
            ),
            need(Role::Lengthener, 20.0, 2, &["brut sparkling wine", "soda water"]),
        ],
    },
    Family {
        name: "stirred",
        about: "a base with a fortified wine or a liqueur and bitters, stirred, served short",
        method: Method::Stir,
        ranges: &in_glass((70.0, 140.0), (20.0, 34.0), (2.0, 100.0), (0.0, 4.0)),
        needs: &[
            need(Role::Base, 30.0, 1, BASES),
            need(Role::Modifier, 10.0, 2, &["sweet vermouth", "dry vermouth", "maraschino liqueur"]),
            need(Role::Bitters, 0.8, 1, BITTERS),
        ],
    },
    Family {
        name: "sling",
        about: "a spirit with a little sugar and bitters, stirred on ice",
        method: Method::Stir,
        // What 45 to 70 ml of a spirit of 40 to 50 % with 2 to 8 g of sugar come to on a quarter to a half of their
        // volume in melt water, in round figures: common practice, no source.
        ranges: &in_glass((55.0, 120.0), (22.0, 38.0), (15.0, 110.0), (0.0, 1.5)),
        needs: &[
            need(Role::Base, 45.0, 1, BASES),
            need(Role::Sweetener, 5.0, 1, SYRUPS),
            need(Role::Bitters, 0.8, 1, BITTERS),
        ],
    },
    Family {
        name: "punch",
        about: "a base with citrus, sugar and something long, such as tea",
        method: Method::Stir,
        ranges: &in_glass((110.0, 240.0), (7.0, 18.0), (40.0, 110.0), (4.0, 11.0)),
        needs: &[
            need(Role::Base, 30.0, 1, BASES),
            need(Role::Sour, 15.0, 1, CITRUS),
            need(Role::Sweetener, 10.0, 1, SYRUPS),
            need(Role::Lengthener, 20.0, 1, &["black tea", "apple juice"]),
        ],
    },
    Family {
        name: "flip",
        about: "a base or a fortified wine with sugar and a whole egg or cream, shaken",
        method: Method::Shake,
        ranges: &in_glass((100.0, 190.0), (8.0, 20.0), (35.0, 120.0), (0.0, 3.0)),
        needs: &[
            need(Role::Base, 30.0, 1, BASES),
            need(Role::Sweetener, 10.0, 1, SYRUPS),
            need(Role::Texture, 30.0, 1, &["whole egg", "light cream"]),
        ],
    },
    Family {
        name: "alcohol-free",
        about: "citrus, sugar and something long, without alcohol",
        method: Method::Build,
        ranges: &in_glass((120.0, 330.0), (0.0, 0.5), (25.0, 110.0), (2.0, 10.0)),
        needs: &[
            need(Role::Sour, 10.0, 1, CITRUS),
            need(Role::Sweetener, 10.0, 1, SYRUPS),
            need(Role::Lengthener, 60.0, 2, &["soda water", "black tea", "apple juice"]),
        ],
    },
];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::larder;

    #[test]
    fn what_a_family_needs_is_in_the_larder_under_that_role() {
        for family in &FAMILIES {
            for need in family.needs {
                for name in need.shelf {
                    let entry = larder::find(name).unwrap_or_else(|| panic!("{}: {name}", family.name));
                    assert_eq!((entry.name.as_str(), entry.role), (*name, need.role), "{}", family.name);
                }
            }
        }
    }

    #[test]
    fn every_range_is_one() {
        for family in &FAMILIES {
            assert!(family.ranges.iter().all(|(_, least, most)| least < most), "{}", family.name);
            assert_eq!(Family::find(&family.name.to_uppercase()).map(|f| f.name), Some(family.name));
        }
    }
}
