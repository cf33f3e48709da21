//! Figures of a brief as it is read, by hand, where a fault would pass for an answer.

use washline::brief::{Measure, Pour, serve};
use washline::read::read;

/// Of 12.00 with 20 % tax 10.00 are net; 50 ml at 21.00 for 700 ml are 1.50, a pour cost of 15 %.
#[test]
fn a_pour_cost_is_of_the_net_price() {
    let text = "currency = \"GBP\"\n[serve]\nmethod = \"none\"\n[menu]\nprice = 12\ntax = 20\n[targets]\nvolume = { max = 1000 }\npour_cost = { max = 18 }\n\
                [aim]\nlowest = \"pour_cost\"\n[[candidate]]\nname = \"spirit\"\nrole = \"base\"\nstrength = 40\n\
                price = \"21.00 per 700 ml\"\n";
    let brief = read(text.as_bytes(), &[]).expect("a brief").brief;
    // 50 ml of it are 1.50, 15 % of 10.00.
    let served = serve(&brief, &[Pour { candidate: 0, amount: 50.0 }]);
    assert!((served.value(Measure::PourCost) - 15.0).abs() < 1e-9);
}

/// Notes are carried by what is poured alone.
#[test]
fn what_is_not_poured_carries_no_note() {
    let text = "[serve]\nmethod = \"none\"\n[targets]\nvolume = { min = 1, max = 1000 }\n[aim]\nhighest = { notes = [\"plum\", \"hay\"] }\n\
                [[candidate]]\nname = \"a\"\nrole = \"base\"\nnotes = [\"plum\"]\n\
                [[candidate]]\nname = \"b\"\nrole = \"base\"\nnotes = [\"hay\", \"Plum\"]\n";
    let brief = read(text.as_bytes(), &[]).unwrap_or_else(|findings| panic!("{findings:#?}")).brief;
    let of = |a: f64, b: f64| [Pour { candidate: 0, amount: a }, Pour { candidate: 1, amount: b }];
    assert_eq!(
        (brief.covered(&of(10.0, 0.0)), brief.covered(&of(0.5, 0.5)), brief.covered(&of(0.0, 0.0))),
        (1, 2, 0)
    );
    assert_eq!(brief.carriers("plum", &of(0.5, 0.5)).collect::<Vec<_>>(), [0, 1]);
    assert_eq!(brief.carriers("plum", &of(10.0, 0.0)).collect::<Vec<_>>(), [0]);
    assert_eq!(brief.carriers("hay", &of(10.0, 0.0)).count(), 0);
}

/// A property per litre is over the volume, one per serve is not: 2 mg in each ml of 50 ml, in 100 ml.
#[test]
fn properties_are_per_serve_or_per_litre() {
    let text = "[serve]\nmethod = \"none\"\n[properties]\ntannin = { unit = \"mg\", per = \"litre\" }\nsalt = { unit = \"mg\" }\n\
                [targets]\nvolume = { min = 1, max = 1000 }\n[aim]\nlowest = \"volume\"\n\
                [[candidate]]\nname = \"tea\"\nrole = \"base\"\ncarries = { tannin = 2000, salt = 2000 }\n\
                [[candidate]]\nname = \"water\"\nrole = \"lengthener\"\n";
    let brief = read(text.as_bytes(), &[]).unwrap_or_else(|findings| panic!("{findings:#?}")).brief;
    let served = serve(&brief, &[Pour { candidate: 0, amount: 50.0 }, Pour { candidate: 1, amount: 50.0 }]);
    let at = |name: &str| {
        let at = brief.properties.iter().position(|p| p.name == name).expect(name);
        served.value(Measure::Property(at))
    };
    assert!((at("salt") - 100.0).abs() < 1e-9, "{}", at("salt"));
    assert!((at("tannin") - 1000.0).abs() < 1e-6, "{}", at("tannin"));
}
