//! Serves counted one by one, beside what is told of them; and how each thing is poured.

use super::*;
use crate::brief::{Natural, Step};
use crate::liquid::Form;

fn threads(count: usize) -> NonZeroUsize {
    NonZeroUsize::new(count).expect("some")
}

/// Limits of volume, acid, strength and a property per litre that a good part of the serves miss.
fn some_limits(typical: &Served) -> Vec<Limit> {
    let of = [Measure::Volume, Measure::Acid, Measure::Strength, Measure::Property(0)];
    limits(typical, 0.97).into_iter().filter(|limit| of.contains(&limit.measure)).collect()
}

/// How many serves meet all limits, those of each measure, and miss each limit; which of them miss something. On however
/// many threads.
fn tallied(served_as: &str, wine: f64) {
    let mut brief = brief(served_as);
    let powder = brief.candidates.iter().position(|c| c.label.form == Form::Powder && !c.out);
    let powder = powder.expect("a powder");
    brief.candidates[powder].natural.acid = Some(Range { min: 900.0, max: 990.0 });
    let mut pours = pours(&brief);
    pours[2].amount = wine;
    pours.push(Pour { candidate: powder, amount: 0.4 });
    let typical = serve(&brief, &pours);
    assert!(typical.drink.glass_melt > 0.0, "{typical:?}");
    let limits = some_limits(&typical);
    assert_eq!(limits.len(), 8);
    let serves = Serves::new(&brief, Run::First);
    let tally = serves.tally(&pours, &limits, NonZeroUsize::MIN);
    let all: Vec<Served> = (0..SERVES).map(|at| one(&serves, &pours, at)).collect();
    let met = |served: &Served, of: &dyn Fn(&Limit) -> bool| {
        limits.iter().filter(|limit| of(limit)).all(|limit| limit.met(served))
    };
    let misses: Vec<usize> = (0..SERVES).filter(|at| !met(&all[*at], &|_| true)).collect();
    assert!(misses.len() > SERVES / 10 && misses.len() < SERVES, "{}", misses.len());
    assert_eq!((tally.draws, tally.within_all), (SERVES, SERVES - misses.len()));
    for count in [1, 3] {
        assert_eq!(serves.holding(&pours, &limits, threads(count)), tally.within_all, "{count} threads");
    }
    assert_eq!(tally.misses, misses);
    let of_measure = |measure| all.iter().filter(|served| met(served, &|l| l.measure == measure)).count();
    let within = [Measure::Volume, Measure::Strength, Measure::Acid, Measure::Property(0)]
        .map(|measure| (measure, of_measure(measure)));
    assert_eq!(tally.within, within);
    let missed: Vec<usize> =
        limits.iter().map(|limit| all.iter().filter(|served| !limit.met(served)).count()).collect();
    assert_eq!(tally.missed, missed);
    for count in [3, 40, 1000] {
        assert_eq!(serves.tally(&pours, &limits, threads(count)), tally, "{count} threads");
    }
    let lots = serves.lots(&pours, &limits, NonZeroUsize::MIN);
    for count in [3, 100, 1000] {
        assert_eq!(serves.lots(&pours, &limits, threads(count)), lots, "{count} threads");
    }
}

/// Built on ice, and shaken and poured over it with so much wine on top that some of it melts.
#[test]
fn a_tally_is_what_is_counted_one_by_one() {
    tallied(SERVED[2], 25.0);
    tallied(SERVED[1], 90.0);
}

/// Of some serves those that meet the limits, as they are and with some of what is off put right: of a typical drink that
/// is within, all.
#[test]
fn serves_meet_the_limits_were_only_some_causes_at_work() {
    let brief = brief(SERVED[1]);
    let pours = pours(&brief);
    let typical = serve(&brief, &pours);
    let limits = some_limits(&typical);
    let serves = Serves::new(&brief, Run::First);
    let numbers: Vec<usize> = (0..SERVES).filter(|at| at % 131 < 3).collect();
    let by_hand: Vec<usize> = numbers
        .iter()
        .copied()
        .filter(|at| limits.iter().all(|limit| limit.met(&one(&serves, &pours, *at))))
        .collect();
    assert!(by_hand.len() < numbers.len());
    assert_eq!(serves.meeting(&pours, &limits, &numbers, |_| true), by_hand);
    assert_eq!(serves.meeting(&pours, &limits, &numbers, |_| false), numbers);
    // Only the ice: the pours are those of the spec, of typical fruit.
    let iced: Vec<usize> = numbers
        .iter()
        .copied()
        .filter(|at| {
            let by = serves.ice(at / BLOCK).at(at % BLOCK);
            let melting = brief.serve.melting().shifted(by);
            let served = serve_on(&brief, &pours, |at| &brief.candidates[at].portion, melting);
            limits.iter().all(|limit| limit.met(&served))
        })
        .collect();
    assert!(iced.len() < numbers.len());
    assert_eq!(serves.meeting(&pours, &limits, &numbers, |cause| cause == Cause::Ice), iced);
}

/// How many serves meet limits where some ingredients are typical and all else is as it comes.
fn within_with_typical(serves: &Serves, pours: &[Pour], limits: &[Limit], typical: &[usize]) -> usize {
    let brief = serves.brief;
    let within = |number: &usize| {
        let ((poured, by), naturals) = (poured(serves, pours, *number), serves.portions(*number));
        let portion = |at: usize| {
            if typical.contains(&at) { &brief.candidates[at].portion } else { &naturals[at] }
        };
        let served = serve_on(brief, &poured, portion, brief.serve.melting().shifted(by));
        limits.iter().all(|limit| limit.met(&served))
    };
    (0..SERVES).filter(within).count()
}

/// Serves that share the typical fruit: the hand and the ice are what is left, and what each serve has of its own.
#[test]
fn a_typical_lot_has_the_typical_fruit() {
    let mut brief = brief(SERVED[0]);
    let pours = pours(&brief);
    let limits: Vec<Limit> = some_limits(&serve(&brief, &pours));
    let fruit = pours.iter().map(|p| p.candidate).find(|at| !brief.candidates[*at].natural.is_fixed());
    let fruit = fruit.expect("fruit");
    let mut told = vec![];
    for varies in [Varies::Lot, Varies::Serve] {
        brief.candidates[fruit].spread.varies = varies;
        let serves = Serves::new(&brief, Run::First);
        let common = serves.from_lots(&pours);
        assert_eq!(common.contains(&fruit), varies == Varies::Lot);
        let lot = serves.typical_lot(&pours, &limits);
        assert_eq!(lot.draws, SERVES);
        assert_eq!(lot.within_all, within_with_typical(&serves, &pours, &limits, &common));
        told.push(lot.within_all);
    }
    assert_ne!(told[0], told[1]);
}

/// Half of 20,000 serves are 10,000: held after as many that meet, lost with one more that do not, a hundred at a time.
#[test]
fn a_share_is_decided_as_soon_as_it_can_be() {
    let brief = brief(SERVED[0]);
    let pours = pours(&brief);
    let typical = serve(&brief, &pours);
    let limit = |side, by: f64| Limit {
        measure: Measure::Volume,
        side,
        value: by * typical.drink.volume,
        source: Source::Target,
    };
    let serves = Serves::new(&brief, Run::First);
    assert!(serves.hold(&pours, &[limit(Side::Min, 0.1)], 0.5));
    assert_eq!(serves.held(), 10_000);
    assert!(!serves.hold(&pours, &[limit(Side::Max, 0.1)], 0.5));
    assert_eq!(serves.held(), 20_100);
    assert!(serves.hold(&pours, &[limit(Side::Min, 0.1)], 0.0045));
    assert_eq!(serves.held(), 20_200);
    assert!(!serves.hold(&pours, &[limit(Side::Max, 0.1)], 1.0));
    assert_eq!(serves.held(), 20_300);
}

/// Each thing by its own way, else powders on the scale and the rest as the bar pours, by the jigger where it does not say;
/// where the bar is exact, all that does not say otherwise is.
#[test]
fn hands_pour_as_they_are_told() {
    let mut brief = brief(SERVED[0]);
    let powder = brief.candidates.iter().position(|c| c.label.form == Form::Powder).expect("a powder");
    let liquid = 0;
    brief.candidates[powder].step = Step::Every(0.1);
    brief.candidates[liquid].step = Step::Every(2.5);
    brief.variation.bar_step = Some(5.0);
    let of = |brief: &Brief, at: usize| Hand::way(brief, &brief.candidates[at]);
    let fixed = PourError::fixed;
    let near = |told: (Poured, PourError), way: Poured, error: PourError| {
        told.0 == way
            && (told.1.fixed - error.fixed).abs() < 1e-12
            && (told.1.share - error.share).abs() < 1e-12
    };
    // 1 ml in the bar's step, half of that in half of it; half a step of the scale.
    brief.variation.pour_error = None;
    assert!(near(of(&brief, liquid), Poured::Jigger, fixed(0.5)));
    assert!(near(of(&brief, powder), Poured::Scale, fixed(0.05)));
    // A tenth of what is poured by hand and eye.
    brief.variation.pour_error = Some(Poured::FreeHand);
    assert!(near(of(&brief, liquid), Poured::FreeHand, PourError::share(0.1)));
    assert!(near(of(&brief, powder), Poured::Scale, fixed(0.05)));
    assert!((Hand::of(&brief).error(liquid, 30.0) - 3.0).abs() < 1e-12);
    // 2 ml of the bar's are 1 ml in half its step; those of an ingredient's own are its own.
    let stated = Poured::Stated(fixed(2.0));
    brief.variation.pour_error = Some(stated);
    assert!(near(of(&brief, liquid), stated, fixed(1.0)));
    brief.candidates[liquid].spread.poured = Some(stated);
    assert!(near(of(&brief, liquid), stated, fixed(2.0)));
    let exact = Poured::Stated(PourError::default());
    brief.variation.pour_error = Some(exact);
    assert!(near(of(&brief, liquid), stated, fixed(2.0)));
    assert!(near(of(&brief, powder), exact, fixed(0.0)));
    assert_eq!(Hand::of(&brief).error(brief.candidates.len(), 30.0), 0.0);
}

/// A half width of the melt is the greater of both kinds of ice: the rule's 0.05 (from memory of Arnold, *Liquid
/// Intelligence*, 2014) or the brief's own, and the balance's 0.05, a judgement.
#[test]
fn the_melt_reaches_as_far_as_the_greater_of_both() {
    let mut on_ice = brief(SERVED[1]);
    on_ice.serve.spread = 0.02;
    assert_eq!((melt_reaches(&on_ice), melt_reach(&on_ice)), ((0.02, 0.05), 0.05));
    on_ice.serve.spread = 0.08;
    assert_eq!((melt_reaches(&on_ice), melt_reach(&on_ice)), ((0.08, 0.05), 0.08));
    let mut up = brief(SERVED[0]);
    up.serve.spread = 0.02;
    assert_eq!((melt_reaches(&up), melt_reach(&up)), ((0.02, 0.0), 0.02));
    up.serve.spread = 0.0;
    assert_eq!(Ice::new(&up, Run::First, 0).at(3), (0.0, 0.0));
}

/// A range of one value is no range: that figure stands still beside those that vary.
#[test]
fn a_range_of_one_value_is_that_value() {
    let mut brief = brief(SERVED[0]);
    let fruit = brief.candidates.iter().position(|c| !c.natural.is_fixed()).expect("fruit");
    brief.candidates[fruit].natural = Natural {
        strength: None,
        sugar: Some(Range { min: 20.0, max: 20.0 }),
        acid: Some(Range { min: 50.0, max: 60.0 }),
    };
    let serves = Serves::new(&brief, Run::First);
    let sugars: Vec<f64> = (0..700).map(|at| serves.portion(fruit, at).sugars).collect();
    assert_eq!(sugars.len(), 700);
    assert!(sugars.iter().all(|sugar| (sugar - 0.02).abs() < 1e-12), "{:?}", &sugars[..9]);
}

/// Exact pours of what does not vary, without ice: every serve is the spec, to less than a gram.
#[test]
fn what_is_exact_is_poured_as_it_is() {
    let mut brief = brief(SERVED[3]);
    let powder =
        brief.candidates.iter().position(|c| c.label.form == Form::Powder && !c.out).expect("a powder");
    for candidate in &mut brief.candidates {
        candidate.natural = Natural::default();
    }
    brief.variation.pour_error = Some(Poured::Stated(PourError::default()));
    let pours = [Pour { candidate: 4, amount: 0.5 }, Pour { candidate: powder, amount: 0.3 }];
    let typical = serve(&brief, &pours);
    let serves = Serves::new(&brief, Run::First);
    let limits = some_limits(&typical);
    let tally = serves.tally(&pours, &limits, NonZeroUsize::MIN);
    for (spread, (measure, _)) in tally.spreads().into_iter().zip(tally.within) {
        let value = typical.value(measure);
        let (low, high) = spread.expect("a spread");
        assert!((low - value).abs() <= 1e-9 * value && (high - value).abs() <= 1e-9 * value, "{measure:?}");
    }
}

/// One serve strays from its own mean by nothing; without a menu there is no share of its price to stray.
#[test]
fn one_serve_does_not_stray() {
    let brief = brief(SERVED[0]);
    let pours = pours(&brief);
    let serves = Serves::new(&brief, Run::First);
    assert!(serves.deviations(&pours, &[Measure::Volume], 1)[0] < 1e-5);
    assert!(serves.deviations(&pours, &[Measure::Volume], 2)[0] > 1e-3);
    let mut free = brief.clone();
    free.menu = None;
    let serves = Serves::new(&free, Run::First);
    assert!(serves.deviations(&pours, &[Measure::PourCost], 9)[0].is_nan());
}

/// What is poured by less than its error: often nothing, never less. No serve gains more than its region says, where it
/// says anything.
#[test]
fn no_serve_of_a_dash_gains_more_than_its_region_says() {
    for served_as in SERVED {
        let brief = brief(served_as);
        let mut pours = pours(&brief);
        pours[5].amount = 0.6;
        let typical = serve(&brief, &pours);
        let limits = limits(&typical, 0.97);
        let serves = Serves::new(&brief, Run::First);
        let room = serves.room(&limits, &region(&pours, &typical, 0.0), 0.5);
        for (limit, gains) in limits.iter().zip(&room.gains) {
            let known = gains.iter().filter(|gain| gain.is_finite()).count();
            assert!(known > SERVES / 2 && known < SERVES, "{limit:?}: {known}");
            for number in (0..SERVES).step_by(61) {
                let gained = limit.left(&brief, &one(&serves, &pours, number)) - limit.left(&brief, &typical);
                assert!(
                    gained <= gains[number] + 1e-7,
                    "{limit:?}: {gained} and {}, {served_as}",
                    gains[number]
                );
            }
        }
    }
}

/// Two that differ in nothing but their names are poured by numbers of their own.
#[test]
fn each_name_has_its_own_numbers() {
    let mut brief = brief(SERVED[0]);
    let mut other = brief.candidates[0].clone();
    other.name = "its twin".to_owned();
    brief.candidates.push(other);
    let serves = Serves::new(&brief, Run::First);
    let twin = brief.candidates.len() - 1;
    assert_ne!(serves.drawn(0, 0).normals, serves.drawn(twin, 0).normals);
}

/// Shares are rounded up to whole serves, but for the last digits of a product: none of none, 14,000 of 0.7 (whose
/// product with 20,000 is 14,000 or a hair more), one of next to nothing.
#[test]
fn a_share_is_so_many_serves() {
    let all = [0.0, 0.7, 0.00001, 1.0].map(room::wanted);
    assert_eq!(all, [0, 14_000, 1, SERVES]);
}
