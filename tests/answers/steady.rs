//! In how many serves each spec of an answer holds, against closed forms.

use washline::explain::explain;
use washline::read::read;
use washline::report::gather::explained;
use washline::solve::{Stop, solve};

use crate::service::{close, normal};

/// Two waters of which one is poured alone, 50 ml of it and nothing else: the cheap one in the bar's step of 10 ml and
/// with its error of 1.5 ml, the dear one in steps of 2 ml and so with a fifth of it. 48 to 51.5 ml hold in
/// Φ(1) - Φ(-4/3) and Φ(5) - Φ(-20/3) of the serves.
#[test]
fn every_spec_of_an_answer_comes_with_its_share() {
    let text = "currency = \"GBP\"\n[serve]\nmethod = \"none\"\npour = \"10 ml\"\nmost = 1\n\
                [variation]\npour_error = \"1.5 ml\"\n[targets]\nvolume = { min = 48, max = 51.5 }\n\
                [aim]\nlowest = \"cost\"\n\
                [[candidate]]\nname = \"cheap\"\nrole = \"water\"\nprice = \"1.00 per 1 l\"\n\
                [[candidate]]\nname = \"dear\"\nrole = \"water\"\npour = \"2 ml\"\nprice = \"2.00 per 1 l\"\n";
    let brief = read(text.as_bytes(), &[]).unwrap_or_else(|findings| panic!("{findings:#?}")).brief;
    let stop = Stop::default();
    let solved = solve(&brief, &stop);
    let answer = explained(&brief, &solved, &explain(&brief, &solved, &stop));
    let shares = |spec: &washline::report::gather::SpecLine| spec.within_all.expect("a share");
    close(shares(answer.best.as_ref().expect("a spec")), normal(1.0) - normal(-4.0 / 3.0));
    assert_eq!(answer.alternatives.len(), 1);
    close(shares(&answer.alternatives[0]), normal(5.0) - normal(-20.0 / 3.0));
}
