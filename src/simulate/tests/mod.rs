//! What serves can do to a spec, against the serves themselves.

mod counts;

use std::num::NonZeroUsize;

use super::*;
use crate::brief::{
    Menu, Per, PourError, Poured, Property, Range, Served, Side, Source, Varies, serve, serve_on,
};
use crate::liquid::{Masses, Portion, Stage};
use crate::read::read;

/// A sour with spirit, fruit, wine and syrup that differ, topped up with some of the wine, shaken, over ice or built; with
/// a menu price and two properties, so that every measure is something.
fn brief(served: &str) -> Brief {
    let text = include_str!("../../../problems-demo/low-strength.toml");
    let text = text.replacen("[serve]\nmethod   = \"shake\"", &format!("[serve]\n{served}"), 1);
    let mut brief = read(text.as_bytes(), &[]).expect("a brief").brief;
    brief.menu = Some(Menu { price: 9.0, tax: 20.0 });
    // So much of the bar's pours is off, in ml: no figure that is the same times and over.
    brief.variation.pour_error = Some(Poured::Stated(PourError { fixed: 0.7, share: 0.02 }));
    let property = |name: &str, per| Property { name: name.to_owned(), unit: "mg".to_owned(), per };
    brief.properties = vec![property("per litre", Per::Litre), property("per serve", Per::Serve)];
    for (at, candidate) in brief.candidates.iter_mut().enumerate() {
        candidate.carries = vec![40.0 + 25.0 * at as f64, 310.0 - 20.0 * at as f64];
    }
    let spirit = &mut brief.candidates[0];
    let strength = spirit.label.strength;
    spirit.natural.strength = Some(Range { min: strength - 1.0, max: strength + 1.0 });
    let wine = &mut brief.candidates[2];
    (wine.label.stage, wine.label.temperature) = (Stage::Topped, 12.0);
    wine.portion = wine.portion.joining(Stage::Topped, 12.0);
    let strength = wine.label.strength;
    wine.natural.strength = Some(Range { min: strength - 0.5, max: strength + 0.5 });
    brief
}

const SERVED: [&str; 4] = [
    "method = \"shake\"",
    "method = \"shake\"\nserved = \"on ice\"",
    "method = \"build\"\nserved = \"on ice\"",
    "method = \"none\"",
];

fn pours(brief: &Brief) -> Vec<Pour> {
    let amounts = [30.0, 22.5, 25.0, 17.5, 12.5, 10.0];
    brief.usable().zip(amounts).map(|(candidate, amount)| Pour { candidate, amount }).collect()
}

impl Serves<'_> {
    /// What one unit of a candidate is in a serve. Only what counts in a drink is kept of a draw.
    pub(super) fn portion(&self, candidate: usize, serve: usize) -> Portion {
        let typical = self.brief.candidates[candidate].portion;
        let Some(natural) = self.natural(candidate, serve) else { return typical };
        let [ethanol, water, solids, acid, excess, worked, alcohol, sugars, sweet, energy, heat, poured] =
            natural;
        let masses = Masses { ethanol, water, solids, acid };
        Portion { masses, excess, worked, strength: alcohol, sugars, sweet, energy, heat, poured, ..typical }
    }

    /// The same of every candidate.
    pub(super) fn portions(&self, serve: usize) -> Vec<Portion> {
        (0..self.brief.candidates.len()).map(|candidate| self.portion(candidate, serve)).collect()
    }
}

/// What the hand pours in a serve, and by how much its ice is off: the working ice, then the glass's.
fn poured(serves: &Serves, pours: &[Pour], number: usize) -> (Vec<Pour>, (f64, f64)) {
    let (block, place) = (number / BLOCK, number % BLOCK);
    let off = |pour: &Pour| {
        let normals = &serves.drawn(pour.candidate, block).normals;
        normals.get(place).map_or(0.0, |normal| normal * serves.hand.error(pour.candidate, pour.amount))
    };
    let poured = pours.iter().map(|pour| Pour { amount: (pour.amount + off(pour)).max(0.0), ..*pour });
    (poured.collect(), serves.ice(block).at(place))
}

/// A serve by itself.
fn one(serves: &Serves, pours: &[Pour], number: usize) -> Served {
    let brief = serves.brief;
    let (poured, by) = poured(serves, pours, number);
    let portions = serves.portions(number);
    serve_on(brief, &poured, |at| &portions[at], brief.serve.melting().shifted(by))
}

/// A limit on both sides of every measure that a drink has, at so much of its own value.
fn limits(served: &Served, by: f64) -> Vec<Limit> {
    let properties = (0..served.properties.len()).map(Measure::Property);
    let measures = Measure::BUILT_IN.into_iter().chain([Measure::Level]).chain(properties);
    let measures =
        measures.filter(|measure| served.value(*measure).is_finite() && served.value(*measure) > 0.0);
    let both = |measure| {
        let at = |side, by: f64| Limit {
            measure,
            side,
            value: by * served.value(measure),
            source: Source::Target,
        };
        [at(Side::Min, by), at(Side::Max, 2.0 - by)]
    };
    measures.flat_map(both).collect()
}

fn region(pours: &[Pour], served: &Served, by: f64) -> Region {
    let m = &served.drink.masses;
    let about = |x: f64| (x * (1.0 - by), x * (1.0 + by));
    let around = |pour: &Pour| (pour.candidate, pour.amount * (1.0 - by), pour.amount * (1.0 + by));
    Region {
        pours: pours.iter().map(around).collect(),
        worked: about(served.drink.worked),
        before: about(served.drink.worked_strength),
        spirit: about(m.ethanol / (m.ethanol + m.water)),
        syrup: about(m.solids / (m.solids + m.water)),
    }
}

/// No serve of a spec of a region gains more at a limit than the region says, for a point, a narrow and a wide region; and
/// for a point not much less.
#[test]
fn no_serve_gains_more_than_its_region_says() {
    for served_as in SERVED {
        let brief = brief(served_as);
        let pours = pours(&brief);
        let typical = serve(&brief, &pours);
        let limits = limits(&typical, 0.97);
        assert!(limits.len() >= 22, "{limits:?}");
        let serves = Serves::new(&brief, Run::First);
        for by in [0.0, 0.01, 0.1] {
            let room = serves.room(&limits, &region(&pours, &typical, by), 0.5);
            for (limit, gains) in limits.iter().zip(&room.gains) {
                let (mut most, mut loosest) = (0.0_f64, 0.0_f64);
                for number in (0..SERVES).step_by(97) {
                    let gained =
                        limit.left(&brief, &one(&serves, &pours, number)) - limit.left(&brief, &typical);
                    let said = gains[number];
                    assert!(gained <= said + 1e-7, "{limit:?} {by}: {gained} and {said}, {served_as}");
                    if said.is_finite() {
                        (most, loosest) = (most.max(gained.abs()), loosest.max(said - gained));
                    }
                }
                // The ice in the glass is bounded from nothing on.
                let may = if by > 0.0 {
                    3.0
                } else if served_as.contains("on ice") {
                    2.0
                } else {
                    0.4
                };
                assert!(loosest <= may * most + 1e-7, "{limit:?} {by}: {loosest} of {most}, {served_as}");
            }
        }
    }
}

/// What the room says cannot be, the serves say as well; and it says something.
#[test]
fn a_spec_without_the_room_does_not_hold_as_often() {
    let mut without = 0;
    for served_as in SERVED {
        let brief = brief(served_as);
        let pours = pours(&brief);
        let typical = serve(&brief, &pours);
        for (by, share) in [(0.999, 0.9), (0.99, 0.9), (0.97, 0.9), (0.97, 0.5), (0.8, 0.5)] {
            let limits: Vec<Limit> = limits(&typical, by);
            let serves = Serves::new(&brief, Run::First);
            let room = serves.room(&limits, &region(&pours, &typical, 0.001), share);
            let left: Vec<f64> = limits.iter().map(|limit| limit.left(&brief, &typical)).collect();
            let short = left.iter().zip(&room.needed).any(|(left, needed)| left < needed);
            let held = serves.tally(&pours, &limits, NonZeroUsize::MIN).within_all;
            let holds = held as f64 >= share * SERVES as f64;
            assert_eq!(holds, serves.hold(&pours, &limits, share));
            assert!(!holds || (room.may_do(&left) && !short), "{by} {share}: {held}, {served_as}");
            without += usize::from(!room.may_do(&left));
            // Each limit alone needs what the serve lacks that is the last of so many.
            for (needed, gains) in room.needed.iter().zip(&room.gains) {
                let mut gains = gains.clone();
                gains.sort_by(|a, b| b.total_cmp(a));
                let last = gains[(share * SERVES as f64).round() as usize - 1];
                assert_eq!(*needed, (-last).max(0.0));
            }
            assert!(room.needed.iter().all(|needed| needed.is_finite() && *needed >= 0.0));
        }
    }
    assert!(without >= 8, "{without}");
}

/// A share of serves that is met to the letter holds, and one serve more does not.
#[test]
fn a_share_holds_to_the_serve() {
    let brief = brief(SERVED[0]);
    let pours = pours(&brief);
    let typical = serve(&brief, &pours);
    let limits: Vec<Limit> =
        limits(&typical, 0.95).into_iter().filter(|l| l.measure == Measure::Acid).collect();
    let serves = Serves::new(&brief, Run::First);
    let held =
        (0..SERVES).filter(|at| limits.iter().all(|limit| limit.met(&one(&serves, &pours, *at)))).count();
    assert!(held > SERVES / 10 && held < SERVES, "{held}");
    let share = |serves: usize| serves as f64 / SERVES as f64;
    assert!(serves.hold(&pours, &limits, share(held)));
    assert!(!serves.hold(&pours, &limits, share(held + 1)));
    assert_eq!(serves.tally(&pours, &limits, NonZeroUsize::MIN).within_all, held);
    let missed = serves.tally(&pours, &limits, NonZeroUsize::MIN).missed;
    let by_hand =
        limits.iter().map(|limit| (0..SERVES).filter(|at| !limit.met(&one(&serves, &pours, *at))).count());
    assert_eq!(missed, by_hand.collect::<Vec<_>>());
}

/// What is drawn: pours off by the hand's error, fruit within its ranges, ice within its reach; normal and uniform, with
/// their means and deviations (both known in closed form).
#[test]
fn what_is_drawn_has_the_moments_of_its_law() {
    let brief = brief(SERVED[1]);
    let serves = Serves::new(&brief, Run::First);
    let moments = |all: &[f64]| {
        let mean = all.iter().sum::<f64>() / all.len() as f64;
        (mean, (all.iter().map(|x| (x - mean).powi(2)).sum::<f64>() / all.len() as f64).sqrt())
    };
    let first = brief.usable().next().expect("a candidate");
    let normals: Vec<f64> =
        (0..BLOCKS).flat_map(|block| serves.drawn(first, block).normals.clone()).collect();
    let (mean, deviation) = moments(&normals);
    // Four standard errors of a mean and of a deviation of 20,000.
    assert!(
        normals.len() == SERVES && mean.abs() < 0.029 && (deviation - 1.0).abs() < 0.02,
        "{mean} {deviation}"
    );
    let (working, glass) = melt_reaches(&brief);
    for (reach, which) in [(working, 0), (glass, 1)] {
        let of = |at: usize| {
            let (working, glass) = serves.ice(at / BLOCK).at(at % BLOCK);
            [working, glass][which]
        };
        let ice: Vec<f64> = (0..SERVES).map(of).collect();
        let (mean, deviation) = moments(&ice);
        // Uniform between both ends: the deviation is the half width over the root of three.
        assert!(reach > 0.0 && ice.iter().all(|x| x.abs() <= reach), "{reach}");
        assert!(mean.abs() < 0.017 * reach && (deviation / reach - 3_f64.sqrt().recip()).abs() < 0.01);
    }
    let lime =
        brief.candidates.iter().position(|c| c.spread.varies != Varies::Serve && c.natural.acid.is_some());
    let lime = lime.expect("fruit");
    let range = brief.candidates[lime].natural.acid.expect("a range");
    let acids: Vec<f64> = (0..SERVES).map(|at| 1000.0 * serves.portion(lime, at).masses.acid).collect();
    let (mean, deviation) = moments(&acids);
    let half = 0.5 * (range.max - range.min);
    assert!(acids.iter().all(|acid| *acid >= range.min - 1e-9 && *acid <= range.max + 1e-9));
    assert!((mean - range.min - half).abs() < 0.02 * half, "{mean} of {range:?}");
    assert!((deviation / half - 3_f64.sqrt().recip()).abs() < 0.01, "{deviation} of {half}");
}

/// Serves of a lot have its fruit in common, and each its own pours and ice.
#[test]
fn a_lot_is_served_with_its_own_fruit() {
    let brief = brief(SERVED[0]);
    let pours = pours(&brief);
    let serves = Serves::new(&brief, Run::First);
    let common = serves.from_lots(&pours);
    let differs = |pour: &&Pour| !brief.candidates[pour.candidate].natural.is_fixed();
    let fruit: Vec<usize> = pours.iter().filter(differs).map(|pour| pour.candidate).collect();
    assert!(!fruit.is_empty() && fruit.len() < pours.len());
    assert_eq!(common, fruit);
    let typical = serve(&brief, &pours);
    let limits: Vec<Limit> =
        limits(&typical, 0.95).into_iter().filter(|l| l.measure == Measure::Acid).collect();
    let each = SERVES / LOTS;
    let lots = serves.lots(&pours, &limits, NonZeroUsize::MIN);
    assert_eq!(lots.len(), LOTS);
    for (number, lot) in lots.iter().enumerate().step_by(17) {
        let first = number * each;
        let mut of_lot = brief.clone();
        for candidate in &mut of_lot.candidates {
            let at = brief.find(&candidate.name).expect("a candidate");
            candidate.portion = serves.portion(at, first);
            candidate.natural = crate::brief::Natural::default();
        }
        let held = Serves { brief: &of_lot, ..Serves::new(&of_lot, Run::First) };
        // The pours and the ice are those of the serves themselves.
        let within = (first..first + each).filter(|at| {
            let (poured, by) = poured(&serves, &pours, *at);
            let portion = |candidate: usize| &held.brief.candidates[candidate].portion;
            let served = serve_on(&of_lot, &poured, portion, brief.serve.melting().shifted(by));
            limits.iter().all(|limit| limit.met(&served))
        });
        assert_eq!((lot.draws, lot.within_all), (each, within.count()), "lot {number}");
    }
}

/// The mean and the deviation of serves one by one, and between which values nine of ten lie.
#[test]
fn serves_stray_as_one_by_one() {
    let brief = brief(SERVED[1]);
    let pours = pours(&brief);
    let serves = Serves::new(&brief, Run::First);
    let measures = [Measure::Volume, Measure::Strength, Measure::Acid];
    let deviations = serves.deviations(&pours, &measures, 700);
    let limit = |measure| Limit { measure, side: Side::Min, value: 0.0, source: Source::Target };
    let spreads = serves.tally(&pours, &measures.map(limit), NonZeroUsize::MIN).spreads();
    let all: Vec<Served> = (0..SERVES).map(|at| one(&serves, &pours, at)).collect();
    for ((measure, deviation), spread) in measures.into_iter().zip(deviations).zip(spreads) {
        let values: Vec<f64> = all[..700].iter().map(|served| served.value(measure)).collect();
        let mean = values.iter().sum::<f64>() / 700.0;
        let by_hand = (values.iter().map(|value| (value - mean).powi(2)).sum::<f64>() / 700.0).sqrt();
        assert!((deviation - by_hand).abs() <= 1e-6 * by_hand, "{measure:?}: {deviation} and {by_hand}");
        let stray = serves.strays(&pours, &[(measure, mean)], (0.95, 700))[0];
        let farther = values.iter().filter(|value| (**value - mean).abs() > stray * (1.0 + 1e-9)).count();
        assert!((33..=35).contains(&farther), "{measure:?}: {farther} of 700 are farther than {stray}");
        let (low, high) = spread.expect("a spread");
        let outside =
            |out: &dyn Fn(f64) -> bool| all.iter().filter(|served| out(served.value(measure))).count();
        let (under, over) = (outside(&|value| value < low), outside(&|value| value > high));
        assert!(under.abs_diff(SERVES / 20) <= 1 && over.abs_diff(SERVES / 20) <= 1, "{under} {over}");
    }
}

/// What was drawn for one ingredient is not taken for another of the same name, nor for another run.
#[test]
fn draws_are_of_their_ingredient() {
    let brief = brief(SERVED[0]);
    let lime = brief.candidates.iter().position(|c| c.natural.acid.is_some()).expect("fruit");
    let drawn = |brief: &Brief, run| {
        let serves = Serves::new(brief, run);
        let block = serves.drawn(lime, 0);
        (
            block.normals.clone(),
            (0..BLOCK).map(|at| serves.portion(lime, at).masses.acid).collect::<Vec<f64>>(),
        )
    };
    let first = drawn(&brief, Run::First);
    assert_eq!(first, drawn(&brief, Run::First));
    assert_ne!(first.0, drawn(&brief, Run::Fresh).0);
    let mut other = brief.clone();
    let acid = other.candidates[lime].natural.acid.as_mut().expect("a range");
    acid.max += 20.0;
    let wider = drawn(&other, Run::First);
    assert!(first.0 == wider.0 && first.1 != wider.1);
    let mut exact = brief.clone();
    exact.candidates[lime].spread.poured = Some(Poured::Stated(PourError::default()));
    assert!(drawn(&exact, Run::First).0.is_empty());
    assert_eq!(first, drawn(&brief, Run::First));
}
