//! Figures of a brief that its answers lean on, by hand, where a fault would pass for an answer.

use super::spread::{DASH, FREE_HAND, FREE_SCALE, SCALE};
use super::*;
use crate::liquid::Form;

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-12 * b.abs().max(1.0)
}

/// HMRC VAT Notice 700 (from memory): of a price with 20 % VAT in it a sixth is tax.
#[test]
fn tax_is_a_share_of_the_net_price() {
    assert!(near(Menu { price: 12.0, tax: 20.0 }.net(), 10.0));
    assert!(near(Menu { price: 12.0, tax: 0.0 }.net(), 12.0));
}

/// Of 200 ml to the brim a tenth stays free, and ice takes up 40 ml.
#[test]
fn a_glass_holds_what_headroom_and_ice_leave() {
    assert!(near(Glass { brim: 200.0, headroom: 10.0, ice: 40.0 }.holds(), 140.0));
}

/// Independent errors add as squares (JCGM 100:2008, 5.1.2): 3 ml and a tenth of 40 ml are 5 ml.
#[test]
fn pour_errors_add_as_squares() {
    let both = PourError { fixed: 3.0, share: 0.1 };
    assert!(near(both.at(40.0), 5.0) && near(both.at(0.0), 3.0));
    assert!(near(PourError::fixed(2.0).at(40.0), 2.0) && near(PourError::share(0.05).at(40.0), 2.0));
    assert!(PourError::fixed(0.0).is_exact() && PourError::share(0.0).is_exact());
    assert!(!PourError::fixed(0.1).is_exact() && !PourError::share(0.01).is_exact());
}

/// A jigger with lines at half the bar's step is half as far off, a scale half a step; a hand and a dash go by what they
/// pour, whatever the step.
#[test]
fn a_finer_tool_is_less_far_off() {
    let fixed = |way: Poured, form, step, bar| way.error(form, step, bar).at(40.0);
    assert!(near(fixed(Poured::Jigger, Form::Liquid, Some(5.0), Some(5.0)), JIGGER));
    assert!(near(fixed(Poured::Jigger, Form::Liquid, Some(2.5), Some(5.0)), 0.5 * JIGGER));
    // A coarser step than the bar's makes nobody worse.
    assert!(near(fixed(Poured::Jigger, Form::Liquid, Some(10.0), Some(5.0)), JIGGER));
    assert!(near(fixed(Poured::Scale, Form::Powder, Some(0.2), Some(5.0)), 0.2 * SCALE));
    assert!(near(fixed(Poured::Scale, Form::Powder, None, Some(5.0)), FREE_SCALE));
    assert!(near(fixed(Poured::FreeHand, Form::Liquid, Some(2.5), Some(5.0)), 40.0 * FREE_HAND));
    assert!(near(fixed(Poured::Dash, Form::Liquid, None, None), 40.0 * DASH));
    let stated = Poured::Stated(PourError { fixed: 3.0, share: 0.1 });
    assert!(near(fixed(stated, Form::Liquid, Some(5.0), Some(5.0)), 5.0));
    assert!(near(stated.error(Form::Liquid, Some(2.5), Some(5.0)).fixed, 1.5));
}

/// By hand: jiggers of 15, 20 and 25 ml count in fives. 10 ml cannot be measured, nor 5; from 15 on all fives can
/// (30 = 15 + 15, 35 = 15 + 20).
#[test]
fn jiggers_measure_their_sums() {
    let jigger = Jigger::of(&[25.0, 15.0, 20.0]).expect("jiggers");
    assert_eq!(jigger.unit(), 5.0);
    assert_eq!(jigger.sizes().collect::<Vec<_>>(), [15.0, 20.0, 25.0]);
    assert!(!jigger.is_step() && !jigger.measures(0.0));
    let step = Step::Jigger(std::sync::Arc::new(jigger));
    assert_eq!((step.least(), step.unit()), (15.0, Some(5.0)));
    assert_eq!((step.up(1.0), step.up(15.0), step.up(16.0), step.up(26.0)), (15.0, 15.0, 20.0, 30.0));
    assert_eq!((step.down(14.9), step.down(15.0), step.down(29.0)), (0.0, 15.0, 25.0));
    assert!([15.0, 20.0, 25.0, 30.0, 35.0, 100.0].iter().all(|ml| step.measures(*ml)));
    assert!([5.0, 10.0, 17.5, 32.0].iter().all(|ml| !step.measures(*ml)));
    // 25 and 50 ml are as good as steps of 25.
    assert!(Jigger::of(&[25.0, 50.0]).is_some_and(|jigger| jigger.is_step() && jigger.unit() == 25.0));
    assert!(
        Jigger::of(&[]).is_none() && Jigger::of(&[0.0]).is_none() && Jigger::of(&[f64::INFINITY]).is_none()
    );
}

#[test]
fn a_resolution_and_an_order_are_of_the_aim() {
    assert_eq!(Resolution::By(0.1).at(8.0), 0.1);
    assert!(near(Resolution::Share(0.01).at(-8.0), 0.08) && Resolution::Share(0.01).at(f64::NAN) == 0.0);
    let cost = Goal::Measure(Measure::Cost);
    let (low, high) = (Aim::Lowest(cost), Aim::Highest(cost));
    assert!(low.better(1.0, 2.0) && !low.better(2.0, 1.0) && !low.better(1.0, 1.0));
    assert!(high.better(2.0, 1.0) && !high.better(1.0, 2.0) && !high.better(1.0, 1.0));
    assert!(Aim::Notes.better(2.0, 1.0) && !Aim::Notes.better(1.0, 1.0));
}

#[test]
fn a_range_of_one_figure_varies_nothing() {
    let range = |min, max| Some(Range { min, max });
    assert!(Natural::default().is_fixed());
    assert!(Natural { sugar: range(80.0, 80.0), ..Natural::default() }.is_fixed());
    for natural in [
        Natural { strength: range(38.0, 40.0), ..Natural::default() },
        Natural { sugar: range(80.0, 90.0), ..Natural::default() },
        Natural { acid: range(50.0, 60.0), ..Natural::default() },
    ] {
        assert!(!natural.is_fixed(), "{natural:?}");
    }
}
