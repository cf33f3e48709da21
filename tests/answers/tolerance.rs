//! A test for every comparison number, named as the constant in `src/tolerance.rs` is: `MET` is held by
//! `tolerance::met`. Each fails where its constant is a thousand times as large, and where it is nothing.
//!
//! Most are about waters: what they measure is what is poured, so that a pencil is enough.

use washline::brief::{Aim, Goal, Measure, Per, Pour, Property, Role, Step};
use washline::explain::{rules, sensitivity, steps};
use washline::free;
use washline::liquid::{Label, Method};
use washline::model::{Model, Objective};
use washline::search::seek;
use washline::solve::{Ending, SearchLimits, SearchMode, Solved, Stop, solve};
use washline::tolerance::{BETTER, BROKEN, FIXED_POINT, GAIN, LOOSE, MET, PIVOT, SAME_PIECE, ZERO_PRICE};

use crate::briefs::{Aims, seeded};
use crate::plan::{Group, Item, Members, Plan};

/// A water at so many pounds per 100 ml, written exactly by its cents and pack.
fn water(name: &str, cents: u32) -> Item {
    let mut item = Item::liquid(name, Role::Water, Label::default(), cents);
    item.pack = 100;
    item
}

/// These waters, 20 ml of them in all.
fn waters(items: Vec<Item>) -> Plan {
    Plan::of(items).with(Measure::Volume, 20.0, 20.0)
}

/// The same with caffeine, mg per litre of each, and exactly one of them in the drink.
fn with_caffeine(items: Vec<Item>, carries: &[f64]) -> Plan {
    let mut plan = waters(items);
    plan.properties = vec![Property { name: "caffeine".to_owned(), unit: "mg".to_owned(), per: Per::Serve }];
    plan.items.iter_mut().zip(carries).for_each(|(item, carried)| item.carries = vec![*carried]);
    plan.choose = vec![Group { members: Members::Role(Role::Water), min: Some(1), max: Some(1) }];
    plan
}

/// Whether each is less than the next.
fn rising(figures: &[f64]) -> bool {
    figures.is_sorted_by(|a, b| a < b)
}

const CAFFEINE: Measure = Measure::Property(0);

fn names(plan: &Plan, solved: &Solved) -> Vec<String> {
    let name = |pours: &[Pour]| pours.iter().map(|p| plan.items[p.candidate].name.as_str()).collect();
    solved.specs.iter().map(|spec| name(&spec.pours)).collect()
}

/// Is a limit met? 20 ml of water against a limit of half, and of twice, the margin less.
#[test]
fn met() {
    for (by, ending) in [(0.5e-9, Ending::Found), (2e-9, Ending::Conflict)] {
        let under = Plan::of(vec![water("a", 100)]).with(Measure::Volume, 15.5, 20.0 * (1.0 - by));
        let over = Plan::of(vec![water("a", 100)]).with(Measure::Volume, 20.0 * (1.0 + by), 24.5);
        for plan in [under, over] {
            // Of 5 ml steps only 20 ml lie near.
            assert_eq!(solve(&plan.brief(), &Stop::default()).ending, ending, "{by}");
        }
    }
}

/// Are two scores the same? Of two caffeines a third of the margin apart the cheaper water is first; of
/// two that are three times the margin apart, the lower.
#[test]
fn same_score() {
    for (apart, first) in [(0.3e-9, "cheap"), (3e-9, "low")] {
        let items = vec![water("low", 900), water("cheap", 100)];
        let mut plan = with_caffeine(items, &[100.0, 100.0 * (1.0 + apart)]);
        plan.aim = Aim::Lowest(Goal::Measure(CAFFEINE));
        assert_eq!(names(&plan, &solve(&plan.brief(), &Stop::default()))[0], first, "{apart}");
    }
}

/// Is an amount a whole number of steps? 0.3 g in steps of 0.1 g, which no binary fraction is, and a
/// hundred-thousandth of a step off; but not a ten-thousandth.
#[test]
fn whole() {
    let mut item = water("a", 100);
    (item.pour, item.max) = (Some(0.1), Some(50.0));
    let brief = Plan::of(vec![item]).brief();
    let broken = |amount: f64| !rules::broken(&brief, &[Pour { candidate: 0, amount }]).is_empty();
    assert!(!broken(0.3) && !broken(0.1 + 0.2) && !broken(0.3 + 0.5e-7));
    assert!(broken(0.3 + 1e-5) && broken(0.3 - 1e-5));
    // A largest pour of three steps, and one of a little less.
    for (most, ending) in [(0.3 - 0.5e-7, Ending::Found), (0.3 - 1e-5, Ending::Conflict)] {
        let mut brief = Plan::of(vec![water("a", 100)]).with(Measure::Volume, 0.25, 0.35).brief();
        (brief.candidates[0].step, brief.candidates[0].least) = (Step::Every(0.1), 0.1);
        brief.candidates[0].most = Some(most);
        assert_eq!(solve(&brief, &Stop::default()).ending, ending, "{most}");
    }
}

/// Is a free pour nothing? Two hundred-thousandths of a millilitre of a potent liquid are something, and
/// the dust of a linear program is not.
#[test]
fn unused() {
    let mut plan = with_caffeine(vec![water("potent", 900), water("a", 100)], &[1e9, 0.0]);
    plan.choose.clear();
    // A million mg a ml: twenty mg are 0.00002 ml.
    let plan = plan.with(CAFFEINE, 20.0, 21.0);
    let free = solve(&plan.brief(), &Stop::default()).unrounded.expect("free pours");
    let potent = free.pours.iter().find(|p| p.candidate == 0).map(|p| p.amount);
    assert!(potent.is_some_and(|amount| (1.9e-5..2.2e-5).contains(&amount)), "{potent:?}");
    let brief = Plan::of(vec![water("a", 100), water("b", 100)]).brief();
    let model = Model::new(&brief);
    for (dust, poured) in [(0.5e-7, 1), (2e-7, 2)] {
        let units: Vec<f64> = model.columns.iter().zip([20.0, dust]).map(|(c, ml)| ml / c.unit).collect();
        assert_eq!(free::measure(&model, &units).0.len(), poured, "{dust}");
    }
}

/// Twelve waters, each a three-millionth dearer than the next.
fn nearly_alike(apart: f64) -> Plan {
    let items = (0..12).map(|at| water(&format!("{at:02}"), 100)).collect();
    let carries: Vec<f64> = (0..12).map(|at| 100.0 * (1.0 + apart * f64::from(12 - at))).collect();
    let mut plan = with_caffeine(items, &carries);
    plan.aim = Aim::Lowest(Goal::Measure(CAFFEINE));
    plan
}

/// By how much must another spec be better for a search for the least to go on? By a three-millionth it has
/// to; for ties it ends soon.
#[test]
fn gain() {
    let least = |plan: &Plan| {
        let brief = plan.brief();
        let model = Model::new(&brief);
        let stop = Stop::default();
        let search_limits = SearchLimits { stop: &stop, nodes: u64::MAX };
        let found = seek(&model, &Objective::of(&model), SearchMode::Least, None, search_limits);
        (found.entries[0].score, found.nodes)
    };
    assert!(rising(&[LOOSE, GAIN, BETTER]));
    let (score, _) = least(&nearly_alike(3e-6));
    // 20 ml with 100·(1 + 3e-6) mg a litre.
    assert!((score - 2.0 * (1.0 + 3e-6)).abs() < 1e-9, "{score}");
    // Any of them, in any amounts: all cost the same.
    let mut ties = nearly_alike(0.0);
    ties.choose.clear();
    let (_, nodes) = least(&ties);
    assert!(nodes < 100, "{nodes} nodes for a tie");
}

/// Is another spec strictly better, so that a looser limit is worth naming? By a millionth it is; a tie is
/// not.
#[test]
fn better() {
    for (apart, named) in [(1e-6, true), (0.0, false)] {
        // The other costs a millionth less, and has caffeine that is not allowed.
        let items = vec![water("plain", 100), water("other", 100)];
        let plan = with_caffeine(items, &[0.0, 1000.0]).with(CAFFEINE, None, 1.0);
        let mut brief = plan.brief();
        brief.candidates[1].cost_per_unit = Some(0.01 * (1.0 - apart));
        let solved = solve(&brief, &Stop::default());
        assert_eq!(solved.specs[0].pours[0].candidate, 0);
        let next = steps::next_pourable(&brief, &solved, &Stop::default());
        assert!(next.open.is_empty());
        let caffeine = next.found.iter().any(|found| found.change.target == "caffeine");
        assert_eq!(caffeine, named, "{apart}: {next:?}");
    }
}

/// By how much are rows loosened? By more than what a limit lets pass, or the search would cut off what the
/// judge lets pass; and by less than what counts as better, or ties would not end a search.
#[test]
fn loose() {
    assert!(rising(&[0.0, MET, LOOSE, GAIN, BETTER]));
    // Two that fill it: their row is missed by nearly twice what either would miss alone.
    let mut items = vec![water("a", 100), water("b", 100)];
    items.iter_mut().for_each(|item| (item.must, item.min, item.max) = (true, Some(10.0), Some(10.0)));
    let plan = Plan::of(items).with(Measure::Volume, 15.0, 20.0 * (1.0 - 0.95e-9));
    assert_eq!(solve(&plan.brief(), &Stop::default()).ending, Ending::Found);
}

/// Is a figure big enough to pivot on? A water with a ten-millionth of another's caffeine is the only one
/// that brings the little that is asked; what a few hundred sums of order 1 leave in the last digit is not.
#[test]
fn pivot() {
    assert!(rising(&[1000.0 * f64::EPSILON, PIVOT]));
    let items = vec![water("strong", 100), water("weak", 100), water("a", 100)];
    let mut plan = with_caffeine(items, &[1e9, 20.0, 0.0]).with(CAFFEINE, 0.15, 0.25);
    plan.choose.clear();
    plan.aim = Aim::Highest(Goal::Measure(CAFFEINE));
    let solved = solve(&plan.brief(), &Stop::default());
    // By hand: 10 ml bring 0.2 mg.
    let weak = solved.specs.first().and_then(|s| s.pours.iter().find(|p| p.candidate == 1));
    assert_eq!(weak.map(|p| p.amount), Some(10.0), "{solved:?}");
}

/// Does a value break its bound? Less is let pass than the rows are loosened by, and the last digits of
/// sums do not count. What three hundred-millionths are missing for is out before a search begins; a simplex that
/// let it pass would leave it to the judge, spec by spec. (That nothing at all is let pass shows by the order
/// alone: bounds are loosened, so that the last digits seldom come into play.)
#[test]
fn broken() {
    assert!(rising(&[1000.0 * f64::EPSILON, BROKEN, LOOSE]));
    let items = (0..12).map(|at| Item { max: Some(10.0), ..water(&format!("{at:02}"), 100) }).collect();
    let plan = Plan::of(items).with(Measure::Volume, 120.0 * (1.0 + 3e-8), 200.0);
    let brief = plan.brief();
    let (model, stop) = (Model::new(&brief), Stop::default());
    let search_limits = SearchLimits { stop: &stop, nodes: u64::MAX };
    let found = seek(&model, &Objective::of(&model), SearchMode::Least, None, search_limits);
    assert!(found.complete && found.entries.is_empty() && found.nodes == 0, "{found:?}");
}

/// Has the repeated program settled? Where it has, a limit that is reached holds to the last digits, far
/// inside of what a limit lets pass. (The steps shrink so fast that the last digits come right at a thousand
/// times the number as well, and with none at all by a step more: there the order alone fails.)
#[test]
fn fixed_point() {
    assert!(rising(&[0.0, FIXED_POINT, MET / 100.0]));
    // Shaken, so that the melt bends; strength, sugar and acid each end at a limit.
    let spirit = Item::liquid("spirit", Role::Base, Label { strength: 40.0, ..Label::default() }, 1400);
    let lime = Item::liquid("lime", Role::Sour, Label { acid: 60.0, sugar: 10.0, ..Label::default() }, 350);
    let syrup = Item::liquid("syrup", Role::Sweetener, Label { sugar: 620.0, ..Label::default() }, 210);
    let mut plan = Plan::of(vec![spirit, lime, syrup, water("water", 0)]).with(Measure::Volume, 100.0, 130.0);
    plan.method = Method::Shake;
    let limits = [(Measure::Strength, 11.0), (Measure::Sugar, 60.0), (Measure::Acid, 7.0)];
    let plan = limits.into_iter().fold(plan, |plan, (measure, least)| plan.with(measure, least, 2.0 * least));
    let brief = plan.brief();
    let model = Model::new(&brief);
    let found = free::optimum(&model, &Objective::of(&model), None).expect("free pours");
    for (measure, least) in limits {
        let missed = (found.served.value(measure) - least).abs() / least;
        assert!(missed < 1e-13, "{measure:?} is missed by {missed:e}");
    }
}

/// Is a multiplier zero? A limit that is worth a hundred-thousandth of the cost of a millilitre has a slope,
/// and the dust of sums has none.
#[test]
fn zero_price() {
    assert!(rising(&[MET, ZERO_PRICE]));
    // Plain at 1 p a ml, and one a hundred-thousandth cheaper of which caffeine allows 5 ml.
    let items = vec![water("plain", 100), water("other", 100)];
    let mut plan = with_caffeine(items, &[0.0, 1000.0]).with(CAFFEINE, None, 5.0);
    plan.choose.clear();
    let mut brief = plan.brief();
    brief.candidates[1].cost_per_unit = Some(0.01 * (1.0 - 1e-5));
    let solved = solve(&brief, &Stop::default());
    let limits = sensitivity::limits(&brief, &solved, &Stop::default()).expect("limits");
    let caffeine = limits.iter().find(|l| l.unit.to_string().contains("mg")).expect("the limit");
    // By hand: one mg more is one ml more of it, at a ten-millionth of a pound less.
    assert!(caffeine.looser.is_some_and(|slope| (slope + 1e-7).abs() < 1e-9), "{caffeine:?}");
    let volume: Vec<_> =
        limits.iter().filter(|l| l.unit.to_string().contains("ml")).map(|l| (l.looser, l.tighter)).collect();
    // What is cheapest as it is wants no more of it: exactly nothing.
    assert!(volume.iter().all(|(looser, _)| looser.is_none_or(|s| s == 0.0 || s.abs() > 1e-3)), "{volume:?}");
}

/// Is another free-pour optimum better, so that a range ended before? Not by the dust of two ways to the same
/// optimum, or nothing could be said of prices.
#[test]
fn same_piece() {
    assert!(rising(&[MET, SAME_PIECE, BETTER]));
    let (mut answered, mut told) = (0, 0);
    for seed in 0..60 {
        let mut brief = seeded(seed, Aims::Plain).brief();
        brief.aim = Aim::Lowest(Goal::Measure(Measure::Cost));
        let solved = solve(&brief, &Stop::default());
        if solved.ending == Ending::Found {
            answered += 1;
            let prices = sensitivity::prices(&brief, &solved, &Stop::default()).unwrap_or_default();
            told += usize::from(!prices.is_empty());
        }
    }
    assert!(answered >= 30 && told * 10 >= answered * 9, "{told} of {answered}");
}

/// Every constant has its test here and its row in tests/README.md.
#[test]
fn every_number_has_a_test_and_a_row() {
    let read =
        |path: &str| std::fs::read_to_string(format!("{}/{path}", env!("CARGO_MANIFEST_DIR"))).expect(path);
    let (numbers, table, tests) =
        (read("src/tolerance.rs"), read("tests/README.md"), read("tests/answers/tolerance.rs"));
    let names: Vec<&str> =
        numbers.lines().filter_map(|line| line.strip_prefix("pub const ")?.split(':').next()).collect();
    assert!(names.len() >= 12, "{names:?}");
    for name in names {
        assert!(table.contains(&format!("| `{name}` |")), "{name} has no row in tests/README.md");
        let test = format!("#[test]\nfn {}() {{", name.to_lowercase());
        assert!(tests.contains(&test), "{name} has no test");
    }
}
