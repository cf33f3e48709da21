//! Spreads that are true: how far a pour is off by how it is poured and how much, tonight's lots beside the hand,
//! and what stands still. Against closed forms of normal and uniform sums.

use std::num::NonZeroUsize;

use washline::brief::{Brief, Measure, Natural, Pour, PourError, Poured, Range, Role, Varies};
use washline::explain::variation::service;
use washline::liquid::Label;
use washline::model::Model;
use washline::read::read;
use washline::simulate::{LOTS, Run, SERVES, Serves};

use crate::plan::{Item, Plan};

/// P(X ≤ x) of a normal variable of mean 0 and standard deviation 1: (1 + erf(x/√2)) / 2.
fn normal(x: f64) -> f64 {
    0.5 * (1.0 + libm::erf(x / std::f64::consts::SQRT_2))
}

/// A count is within four standard deviations, √(p(1-p)/n) each, in all but 6 of 100,000 cases; the random numbers
/// are fixed.
#[track_caller]
fn close(found: f64, probability: f64, draws: usize) {
    let deviation = (probability * (1.0 - probability) / draws as f64).sqrt();
    assert!((found - probability).abs() <= 4.0 * deviation, "{found} is not {probability} ± {deviation}");
}

/// Waters of these amounts, poured so, and the share of serves whose volume is within ± `by` ml.
fn share(waters: &[(f64, Poured)], by: f64) -> f64 {
    let items = (0..waters.len()).map(|at| {
        let name = format!("water {at}");
        Item::liquid(&name, Role::Base, Label::default(), 1000)
    });
    let sum: f64 = waters.iter().map(|(amount, _)| amount).sum();
    let mut brief = Plan::of(items.collect()).with(Measure::Volume, sum - by, sum + by).brief();
    let mut pours = vec![];
    for (candidate, (amount, way)) in waters.iter().enumerate() {
        brief.candidates[candidate].spread.poured = Some(*way);
        pours.push(Pour { candidate, amount: *amount });
    }
    service(&brief, &pours).within_all.found
}

/// Volumes of water add, and so do the variances of independent pours: a share of the amount, a fixed part, and both.
#[test]
fn a_pour_is_off_by_its_way_and_its_amount() {
    let within = |by: f64, deviation: f64| normal(by / deviation) - normal(-by / deviation);
    let stated = |fixed, share| Poured::Stated(PourError { fixed, share });
    // 3 % of 50 ml are 1.5 ml; with 2 ml beside it √(2.25 + 4) = 2.5 ml.
    close(share(&[(50.0, stated(0.0, 0.03))], 2.0), within(2.0, 1.5), SERVES);
    close(share(&[(50.0, stated(2.0, 0.03))], 2.0), within(2.0, 2.5), SERVES);
    // By hand and eye a tenth of 40 ml is 4 ml; by the dash 0.3 of 2 ml are 0.6 ml.
    close(share(&[(40.0, Poured::FreeHand)], 5.0), within(5.0, 4.0), SERVES);
    close(share(&[(2.0, Poured::Dash)], 0.5), within(0.5, 0.6), SERVES);
    // Together: 4² + 3² = 5².
    close(share(&[(40.0, Poured::FreeHand), (20.0, stated(3.0, 0.0))], 6.0), within(6.0, 5.0), SERVES);
}

/// One liquid whose acid is uniform from 40 to 70 g/L, of which 45 to 62 is wanted; 50 ± 0.5 ml, 49 to 51 wanted.
fn limes(varies: Varies) -> (Brief, Vec<Pour>) {
    let label = Label { acid: 56.0, density: Some(1.035), ..Label::default() };
    let mut brief = Plan::of(vec![Item::liquid("a juice", Role::Sour, label, 1000)])
        .with(Measure::Acid, 45.0, 62.0)
        .with(Measure::Volume, 49.0, 51.0)
        .brief();
    brief.candidates[0].natural =
        Natural { acid: Some(Range { min: 40.0, max: 70.0 }), ..Natural::default() };
    brief.candidates[0].spread.varies = varies;
    brief.candidates[0].spread.poured = Some(Poured::Stated(PourError::fixed(0.5)));
    (brief, vec![Pour { candidate: 0, amount: 50.0 }])
}

/// Of a typical lot the hand alone decides: Φ(2) - Φ(-2). A lot is good with 17/30, and then as good as the typical
/// one, or else no serve of it is. Over many nights it is the product.
#[test]
fn lots_are_good_or_not_and_the_hand_decides_within_them() {
    let (brief, pours) = limes(Varies::Lot);
    let hand = normal(2.0) - normal(-2.0);
    let found = service(&brief, &pours);
    close(found.within_all.found, hand * 17.0 / 30.0, SERVES);
    let lots = found.lots.expect("lots differ");
    assert_eq!(lots.ingredients, [brief.candidates[0].name.as_str()]);
    close(lots.typical, hand, SERVES);
    for good in lots.good {
        assert!(good.level < 92.0, "{} is too near to what good lots do", good.level);
        close(good.share, 17.0 / 30.0, LOTS);
    }
    let serves = Serves::new(&brief, Run::First);
    let limits = Model::new(&brief).targets();
    for lot in serves.lots(&pours, &limits, NonZeroUsize::MIN) {
        let share = lot.within_all as f64 / lot.draws as f64;
        if share > 0.0 {
            close(share, hand, lot.draws);
        }
    }
    let three = serves.lots(&pours, &limits, NonZeroUsize::new(3).expect("three"));
    assert_eq!(three, serves.lots(&pours, &limits, NonZeroUsize::MIN), "whatever the threads");
}

/// What differs from serve to serve does so within a lot as well: there are no lots to tell apart.
#[test]
fn what_each_serve_has_of_its_own_makes_no_lots() {
    let (brief, pours) = limes(Varies::Serve);
    let found = service(&brief, &pours);
    assert_eq!(found.lots, None);
    close(found.within_all.found, (normal(2.0) - normal(-2.0)) * 17.0 / 30.0, SERVES);
}

/// Equal parts of two juices, each uniform: their mean has a triangular density (Irwin, Hall, *Biometrika* 19, 1927).
/// Acid and water add without contraction. With u in [0, 1] the mean of two is under t ≤ 1/2 with 2 t².
#[test]
fn two_lots_together_are_a_triangular_share() {
    let label = Label { acid: 50.0, ..Label::default() };
    let juice = |name: &str| Item::liquid(name, Role::Sour, label, 1000);
    let mut brief =
        Plan::of(vec![juice("one juice"), juice("another juice")]).with(Measure::Acid, 46.0, 55.0).brief();
    for candidate in &mut brief.candidates {
        candidate.natural.acid = Some(Range { min: 40.0, max: 60.0 });
    }
    brief.variation.pour_error = Some(Poured::Stated(PourError::default()));
    let pours: Vec<Pour> = (0..2).map(|candidate| Pour { candidate, amount: 30.0 }).collect();
    let found = service(&brief, &pours);
    // Under 46: t = 0.3; over 55: t = 0.25 from above.
    let probability = 1.0 - 2.0 * 0.3 * 0.3 - 2.0 * 0.25 * 0.25;
    close(found.within_all.found, probability, SERVES);
    // With exact pours and no ice every serve of a lot is alike.
    let lots = found.lots.expect("lots differ");
    assert_eq!(lots.typical, 1.0);
    for good in lots.good {
        close(good.share, probability, LOTS);
    }
}

fn reading(text: &str) -> Brief {
    read(text.as_bytes(), &[]).unwrap_or_else(|findings| panic!("{findings:#?}")).brief
}

const EQUAL_PARTS: &str = "[serve]\nmethod = \"stir\"\npour = \"2.5 ml\"\n[targets]\nstrength = { min = 19.5, max = 21.1 }\nvolume = { max = 120 }\n\
    [aim]\nlowest = \"volume\"\n[[candidate]]\nlarder = \"gin\"\n[[candidate]]\nlarder = \"dry vermouth\"\n";

/// Equal parts of gin and dry vermouth: bottles of a make are alike, so their strength is not drawn, and the answer
/// says so with the range and what it would do. Told as lots they are drawn, and the same share comes out.
#[test]
fn what_stands_still_is_told_with_its_range() {
    let brief = reading(EQUAL_PARTS);
    let pours: Vec<Pour> = (0..2).map(|candidate| Pour { candidate, amount: 30.0 }).collect();
    let found = service(&brief, &pours);
    let strengths: Vec<&str> = found
        .held
        .iter()
        .filter(|held| held.figure == "strength")
        .map(|held| held.ingredient.as_str())
        .collect();
    assert_eq!(strengths, ["gin", "dry vermouth"], "{:?}", found.held);
    assert!(found.drawn.is_empty());
    let any = found.any_make.expect("makes differ");
    assert!(any < found.within_all.found, "{any} of {}", found.within_all.found);
    let told = format!("{EQUAL_PARTS}varies = \"lot\"\n").replace("\"gin\"\n", "\"gin\"\nvaries = \"lot\"\n");
    let told = service(&reading(&told), &pours);
    assert!(told.held.is_empty() && told.any_make.is_none());
    assert_eq!(told.within_all.found, any);
    // What the brief states is asked no more.
    let stated = service(&reading(&format!("{EQUAL_PARTS}strength = 18\n")), &pours);
    assert!(stated.held.iter().all(|h| h.ingredient == "gin" || h.figure != "strength"));
}

/// The words and figures of a brief come through: the bar's, an ingredient's own, and dashes by themselves.
#[test]
fn a_brief_says_how_it_is_poured() {
    let of = |bar: &str, own: &str| {
        let brief = reading(&format!(
            "[serve]\nmethod = \"none\"\npour = \"2.5 ml\"\n[variation]\n{bar}\n[targets]\nvolume = {{ max = 100 }}\n\
             [aim]\nlowest = \"volume\"\n[[candidate]]\nname = \"a liquid\"\n{own}\n"
        ));
        service(&brief, &[Pour { candidate: 0, amount: 40.0 }]).hand[0].error
    };
    let near = |a: f64, b: f64| assert!((a - b).abs() < 1e-12, "{a} and {b}");
    near(of("", ""), 1.0);
    near(of("pour_error = \"2 ml\"", ""), 2.0);
    near(of("pour_error = \"5 %\"", ""), 2.0);
    near(of("pour_error = \"3 ml + 10 %\"", ""), 5.0);
    near(of("pour_error = \"free hand\"", ""), 4.0);
    near(of("pour_error = \"2 ml\"", "pour_error = \"1 %\""), 0.4);
    near(of("pour_error = 0", "pour_error = \"scale\""), 1.25);
    near(of("", "pour = \"1 dash\""), 12.0);
    near(of("pour_error = \"0 ml\"", "pour = \"1 dash\""), 0.0);
}
