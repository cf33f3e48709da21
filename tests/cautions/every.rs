//! Every entry of the larder beside every statement: what may be said of each stands in tables here, by
//! name, written from the rules and not from the entries.

use std::collections::BTreeSet;

use washline::batch::{Order, Size, Water, batch};
use washline::brief::{Brief, Handling, Pour, serve};
use washline::explain::cautions;
use washline::larder::{Entry, Group, all};
use washline::liquid::Form;
use washline::read::read;
use washline::solve::Spec;

/// A drink of the entry alone: 100 ml of a liquid, 20 g of a powder in 80 ml of water.
fn alone(entry: &Entry, keys: &str) -> (Brief, Spec) {
    let one = |name: &str, keys: &str| format!("[[candidate]]\nlarder = \"{name}\"\nmax = \"1000\"\n{keys}");
    let (rest, amounts) = match entry.label.form {
        Form::Liquid => (one(&entry.name, keys), vec![100.0]),
        Form::Powder => (one(&entry.name, keys) + &one("water", ""), vec![20.0, 80.0]),
    };
    let text = format!(
        "title = \"Test\"\ncurrency = \"GBP\"\n[serve]\nmethod = \"none\"\npour = \"free\"\n[targets]\n\
         volume = {{ min = 1, max = 1000 }}\n[aim]\nlowest = \"strength\"\n{rest}"
    );
    let brief =
        read(text.as_bytes(), &[]).unwrap_or_else(|findings| panic!("{}: {findings:#?}", entry.name)).brief;
    let pours: Vec<Pour> =
        amounts.into_iter().enumerate().map(|(candidate, amount)| Pour { candidate, amount }).collect();
    let served = serve(&brief, &pours);
    (brief, Spec { pours, served, score: 0.0 })
}

/// What the label facts say of it. What holds gas is let go flat first: it has no place in a vessel.
fn statements(entry: &Entry) -> String {
    let still: Vec<String> = entry
        .handling
        .iter()
        .filter(|handling| **handling != Handling::Carbonated)
        .map(|handling| format!("\"{}\"", handling.keyword()))
        .collect();
    let (brief, spec) = alone(entry, &format!("handling = [{}]\n", still.join(", ")));
    let order =
        Order { size: Size::Serves(10.0), water: Water::FromIce, bottle: None, pour_cost: None, waste: 0.0 };
    batch(&brief, &spec, &order).expect("a batch").label.statements.join("\n")
}

fn cautions(entry: &Entry) -> String {
    let (brief, spec) = alone(entry, "");
    cautions::of_batch(&brief, &spec).join("\n")
}

/// Asserts that `words` are said of exactly these entries.
#[track_caller]
fn only_of<'a>(
    what: &str,
    said: fn(&Entry) -> String,
    words: &str,
    names: impl IntoIterator<Item = &'a str>,
) {
    let wanted: BTreeSet<&str> = names.into_iter().collect();
    let found: BTreeSet<&str> =
        all().iter().filter(|entry| said(entry).contains(words)).map(|entry| entry.name.as_str()).collect();
    let missing: Vec<_> = wanted.difference(&found).collect();
    let wrong: Vec<_> = found.difference(&wanted).collect();
    assert!(missing.is_empty() && wrong.is_empty(), "{what}: not said of {missing:?}; wrongly of {wrong:?}");
}

fn of_group(group: Group) -> impl Iterator<Item = &'static str> {
    all().iter().filter(move |entry| entry.group == group).map(|entry| entry.name.as_str())
}

/// Regulation (EC) 1333/2008, Annex II part E: the polyols among its sweeteners are E 420, 421, 953, 965, 966, 967
/// and 968 (from memory). Glycerol is E 422, a carrier; allulose and gums are none.
#[test]
fn sweeteners_are_those_of_the_additives_list() {
    let polyols = ["erythritol", "xylitol", "sorbitol", "maltitol"];
    only_of("sweetener", statements, "with sweetener(s)", polyols.into_iter().chain(["stevia drops"]));
    only_of("laxative", statements, "laxative", polyols);
    only_of("laxative, as a caution", cautions, "over 10 % of the drink", polyols);
    only_of("allulose", statements, "Allulose", ["allulose"]);
    only_of("glycerol", cautions, "not for young children", ["alcohol-free bitters", "glycerol"]);
}

/// A descriptor has to hold for every make (UK guidance of 2018: alcohol free up to 0.05 % vol, de-alcoholised up
/// to 0.5, low alcohol up to 1.2). Brewed ginger beer and the bitters have up to 0.5, kombucha up to 1.2 % vol.
#[test]
fn descriptors_hold_over_the_range() {
    let weak = ["ginger beer", "alcohol-free bitters", "kombucha"];
    let alcoholic = [Group::Spirit, Group::Wine, Group::Liqueur, Group::Bitters, Group::Beer];
    let free = all().iter().filter(|entry| !alcoholic.contains(&entry.group)).map(|e| e.name.as_str());
    let free = free.filter(|name| !weak.contains(name));
    only_of("alcohol free", statements, "\"alcohol free\"", free);
    only_of("de-alcoholised", statements, "\"de-alcoholised\"", ["ginger beer", "alcohol-free bitters"]);
    only_of("makes differ", statements, "what is said of a weak drink", weak);
    // 27 CFR 16.10: the warning from 0.5 % vol on.
    let warned = all().iter().filter(|e| alcoholic.contains(&e.group) || weak.contains(&e.name.as_str()));
    only_of("warning", statements, "27 CFR 16.21", warned.map(|e| e.name.as_str()));
}

/// EU 1169/2011 Annex II. Grain, whey and nuts that were distilled are exempt, so no spirit holds any.
#[test]
fn allergens_are_those_of_annex_ii() {
    let must = |word: &str| format!("Contains {word} (EU");
    let eggs = ["egg white", "pasteurised egg white", "whole egg", "egg liqueur"];
    only_of("eggs", statements, &must("eggs"), eggs);
    only_of("US eggs", statements, "Contains eggs (US", eggs);
    let milk = [
        "cream liqueur",
        "lactose",
        "heavy cream",
        "light cream",
        "whole milk",
        "condensed milk",
        "half and half",
        "buttermilk",
        "whey",
    ];
    only_of("milk", statements, &must("milk"), milk);
    only_of("nuts", statements, &must("nuts"), ["orgeat", "almond drink"]);
    let gluten = ["lager", "wheat beer", "stout", "pale ale", "sour beer", "oat drink", "malt vinegar"];
    only_of("gluten", statements, &must("gluten"), gluten);
    only_of("soya", statements, &must("soybeans"), ["soya drink"]);
    only_of("soy sauce", statements, "Contains gluten, soybeans", ["soy sauce"]);
    only_of("fish", statements, &must("fish"), ["fish sauce", "worcester-style sauce", "dashi"]);
    only_of("celery", statements, &must("celery"), ["celery juice"]);
    let wines = of_group(Group::Wine).filter(|name| *name != "sake");
    let others = ["dry cider", "sweet cider", "bottled lemon juice", "bottled lime juice", "wine vinegar"];
    let others = others.into_iter().chain(["balsamic vinegar", "sherry vinegar", "perry"]);
    only_of("sulphites", statements, &must("sulphites"), wines.chain(others));
}

/// EU 1169/2011 Annex III, 4.1 (over 150 mg/L, whatever it comes from) and Annex VII, part D.
#[test]
fn caffeine_and_quinine_are_named_where_they_are() {
    let high = [
        "coffee liqueur",
        "black tea",
        "filter coffee",
        "espresso",
        "cold brew coffee",
        "cold brew concentrate",
        "mate",
    ];
    // Some makes of these have more than 150 mg/L; a typical one has not.
    let may = ["green tea", "oolong tea", "decaffeinated espresso"];
    only_of("high caffeine", statements, "Not recommended for children", high);
    only_of("may be high", statements, "by the strongest", may);
    let some = ["cola", "kombucha", "decaffeinated coffee", "chocolate syrup"];
    let named = high.into_iter().chain(may).chain(some);
    only_of("caffeine", statements, "caffeine", named);
    let quinine = ["tonic water", "bitter lemon", "quinquina"];
    only_of("quinine", statements, "Contains quinine", quinine);
    only_of("quinine, as a caution", cautions, "some guests must avoid it", quinine);
}

/// What asks for care in the hand; common practice of kitchens, no source.
#[test]
fn care_is_asked_for_where_it_is_due() {
    only_of("raw egg", cautions, "raw egg; tell the guest", ["egg white", "whole egg"]);
    only_of("pasteurised egg", cautions, "pasteurised egg; keep it cold", ["pasteurised egg white"]);
    let fresh =
        ["heavy cream", "light cream", "half and half", "whole milk", "buttermilk", "condensed milk", "whey"];
    only_of("dairy", cautions, "Acid can curdle it", fresh);
    let acids = ["citric acid", "citric acid monohydrate", "malic acid", "tartaric acid", "lactic acid 88%"];
    only_of("acid", cautions, "guard your eyes", acids.into_iter().chain(["phosphoric acid 10%"]));
    let burns = ["neutral spirit 96%", "overproof rum", "cask-strength whisky", "absinthe"];
    only_of("flame", cautions, "burns with a flame", burns);
    let sparkling = ["brut sparkling wine", "extra dry sparkling wine", "demi-sec sparkling wine"];
    let gas = of_group(Group::Beer).chain(of_group(Group::Soda)).chain(sparkling);
    only_of("gas", cautions, "never shake", gas);
}
