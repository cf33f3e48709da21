//! A brief and its house: what is taken in, what overrides, what stays out.

use std::sync::Arc;

use washline::brief::{Brief, Origin};
use washline::finding::Text;
use washline::read::{Changes, House, Reading, Setting, Swap, read_changed};

const HOUSE: &str = r#"
currency = "GBP"
[properties]
caffeine = { unit = "mg" }
[[candidate]]
larder = "aged rum"
price  = "14.00 per 700 ml"
notes  = ["vanilla"]
[[candidate]]
larder = "lime juice"
price  = "0.30 per 25 ml"
[[candidate]]
larder = "lemon juice"
[[candidate]]
name   = "cold tea"
role   = "lengthener"
carries = { caffeine = 150 }
price  = "0.50 per 1 l"
[[candidate]]
larder = "sugar, white"
price  = "2.00 per 1 kg"
out    = true
[[candidate]]
name  = "bay syrup"
role  = "sweetener"
made  = { by = "weight", parts = { "sugar, white" = 1, "water" = 1 } }
"#;

fn names(brief: &Brief) -> Vec<(&str, bool)> {
    brief.candidates.iter().map(|c| (c.name.as_str(), c.out)).collect()
}

/// A brief with these tables beside a house.
fn brief_of(tables: &str, aim: &str) -> Reading {
    let text = format!(
        "house = \"h.toml\"\n[serve]\nmethod = \"shake\"\n[targets]\nvolume = {{ min = 60, max = 120 }}\n\
         [aim]\nlowest = \"{aim}\"\n{tables}"
    );
    let house = Some(Arc::new(House { name: "h.toml".to_owned(), bytes: HOUSE.as_bytes().to_vec() }));
    let changes = Changes { house, ..Changes::default() };
    read_changed(text.as_bytes(), &changes).unwrap_or_else(|f| panic!("{f:#?}\n{text}"))
}

#[test]
fn a_candidate_of_the_house_has_its_keys_and_the_brief_overrides() {
    let tables =
        "[[candidate]]\nhouse = \"aged rum\"\nstrength = 45\n[[candidate]]\nhouse = \"lime juice\"\n";
    let Reading { brief, warnings, .. } = brief_of(tables, "cost");
    assert!(warnings.is_empty(), "{warnings:?}");
    assert_eq!(brief.currency.code(), "GBP");
    let rum = &brief.candidates[0];
    assert_eq!((rum.label.strength, rum.notes.as_slice()), (45.0, &["vanilla".to_owned()][..]));
    // 14.00 per 700 ml are 2 pence a millilitre.
    assert!((rum.cost_per_unit.expect("a price") - 0.02).abs() < 1e-12);
    assert!(matches!(&brief.candidates[1].origin, Origin::Larder { entry, .. } if entry == "lime juice"));
}

#[test]
fn the_parts_of_a_preparation_come_along_and_are_not_poured() {
    let tables = "[[candidate]]\nhouse = \"bay syrup\"\n[[candidate]]\nhouse = \"aged rum\"\n";
    let Reading { brief, .. } = brief_of(tables, "cost");
    assert_eq!(names(&brief), [("bay syrup", false), ("aged rum", false), ("sugar, white", true)]);
    // Half a gram of sugar at 2 pence per 10 g in each gram; sucrose solutions of 50 % weigh 1.2296 g/ml (ICUMSA).
    let syrup = brief.candidates[0].cost_per_unit.expect("a price");
    assert!((syrup - 0.5 * 1.2296 * 0.002).abs() < 1e-5, "{syrup}");
}

#[test]
fn what_fits_is_brought_and_what_has_no_price_stays_out() {
    let tables = "[[candidate]]\nhouse = \"aged rum\"\n[[bring]]\nfrom = \"house\"\nrole = \"sour\"\n";
    let Reading { brief, warnings, .. } = brief_of(tables, "cost");
    assert_eq!(names(&brief), [("aged rum", false), ("lime juice", false), ("lemon juice", true)]);
    assert!(warnings.len() == 1 && warnings[0].what.contains("lemon juice"), "{warnings:?}");
    let Reading { brief, .. } = brief_of(&format!("{tables}most = 1\n"), "volume");
    assert_eq!(names(&brief), [("aged rum", false), ("lime juice", false)]);
    let note = "[[bring]]\nfrom = \"house\"\nnote = \"Vanilla\"\n[[bring]]\nfrom = \"larder\"\nnames = [\"verjus\"]\n";
    assert_eq!(names(&brief_of(note, "volume").brief), [("aged rum", false), ("verjus", false)]);
}

#[test]
fn properties_count_where_the_brief_declares_them() {
    let tables = "[[candidate]]\nhouse = \"cold tea\"\n";
    assert!(brief_of(tables, "volume").brief.properties.is_empty());
    let declared = format!("{tables}[properties]\ncaffeine = {{ unit = \"mg\" }}\n");
    assert_eq!(brief_of(&declared, "volume").brief.candidates[0].carries, [150.0]);
}

#[test]
fn a_swap_takes_from_the_house_before_the_larder_and_settings_reach_what_was_brought() {
    let tables = "[[candidate]]\nhouse = \"aged rum\"\n[[candidate]]\nlarder = \"verjus\"\nprice = \"7 per 750 ml\"\n\
                  [reference]\n\"aged rum\" = \"50 ml\"\nverjus = \"20 ml\"\n";
    let text = format!(
        "house = \"h.toml\"\n[serve]\nmethod = \"shake\"\n[targets]\nvolume = {{ min = 60, max = 120 }}\n\
         [aim]\nlowest = \"cost\"\n{tables}"
    );
    let changes = Changes {
        swaps: vec![Swap { old: "verjus".to_owned(), new: "lime juice".to_owned() }],
        settings: vec![Setting { key: "candidate.\"lime juice\".max".to_owned(), value: "20 ml".to_owned() }],
        house: Some(Arc::new(House { name: "h.toml".to_owned(), bytes: HOUSE.as_bytes().to_vec() })),
    };
    let brief = read_changed(text.as_bytes(), &changes).unwrap_or_else(|f| panic!("{f:#?}")).brief;
    let lime = &brief.candidates[brief.find("lime juice").expect("swapped in")];
    assert_eq!((lime.cost_per_unit.map(|c| (c * 1000.0).round()), lime.most), (Some(12.0), Some(20.0)));
}

#[test]
fn a_fault_points_into_the_house() {
    let broken = HOUSE.replace("14.00 per 700 ml", "cheap");
    let text = "house = \"h.toml\"\n[serve]\nmethod = \"shake\"\n[targets]\nvolume = { max = 120 }\n[aim]\nlowest = \"volume\"\n\
                [[candidate]]\nhouse = \"aged rum\"\n";
    let house = Some(Arc::new(House { name: "h.toml".to_owned(), bytes: broken.clone().into_bytes() }));
    let findings =
        read_changed(text.as_bytes(), &Changes { house, ..Changes::default() }).expect_err("a fault");
    let [finding] = findings.as_slice() else { panic!("{findings:#?}") };
    assert_eq!((finding.text, finding.code), (Text::House, "bad-price"));
    assert_eq!(&broken[finding.place.clone().expect("a place")], "\"cheap\"");
}

/// Figures stand in a house as people have them. Proof is twice the % vol (27 CFR 5.1); 12 °P is 12 g in 100 g, as Brix is.
/// By the polynomial of Bubnik, Kadlec, Urban, Bruhns (Sugar Technologists Manual, 1995, p. 164) 50 g in 100 g weigh
/// 1.22965 g/ml at 20 °C and 12 g 1.04644, so 614.8 and 125.57 g/L; 6 % of acid are 6 g in 100 ml.
#[test]
fn figures_with_units_stand_in_a_house_too() {
    let house = "[[candidate]]\nname = \"rum\"\nstrength = \"114 proof\"\n[[candidate]]\nname = \"syrup\"\n\
                 sugar = \"50 brix\"\nmin = \"1/4 fl oz\"\n[[candidate]]\nname = \"wort\"\nsugar = \"12 °P\"\n\
                 [[candidate]]\nname = \"sour\"\nacid = { typical = \"6 %\", min = \"5 %\", max = \"7 %\" }\n";
    let text = "house = \"h.toml\"\n[serve]\nmethod = \"none\"\npour = \"free\"\n[targets]\nvolume = { max = 90 }\n\
                [aim]\nlowest = \"volume\"\n[[bring]]\nfrom = \"house\"\n";
    let house = Some(Arc::new(House { name: "h.toml".to_owned(), bytes: house.as_bytes().to_vec() }));
    let changes = Changes { house, ..Changes::default() };
    let brief = read_changed(text.as_bytes(), &changes).unwrap_or_else(|f| panic!("{f:#?}")).brief;
    let label = |at: usize| &brief.candidates[at].label;
    assert_eq!(label(0).strength, 57.0);
    assert!((label(1).sugar - 614.8).abs() < 0.1, "{}", label(1).sugar);
    assert!((brief.candidates[1].least - 29.5735 / 4.0).abs() < 1e-3, "{}", brief.candidates[1].least);
    assert!((label(2).sugar - 125.57).abs() < 0.02, "{}", label(2).sugar);
    let acid = brief.candidates[3].natural.acid.expect("a range");
    assert_eq!((label(3).acid, acid.min, acid.max), (60.0, 50.0, 70.0));
}
