//! `--report`: one page that stands alone, says what it is, and is the same every time.

use std::path::Path;

use super::markup::{Tag, tags};
use super::run::washline;
use crate::effort::some;

/// A page that goes by mail and opens at once.
const MOST_BYTES: usize = 200_000;
const LOW: &str = "problems-demo/low-strength.toml";
const HOSTILE: &str = "tests/browser/hostile.toml";

/// The page of a run, written afresh, on the first day that the clock knows.
fn page(arguments: &[&str]) -> String {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("page.html");
    let name = file.to_str().expect("UTF-8");
    let run = washline([arguments, &["--report", name]].concat()).variable("SOURCE_DATE_EPOCH", "0").go();
    assert_eq!(run.err, format!("Wrote {name}.\n"));
    std::fs::read_to_string(&file).expect("the page")
}

/// A house is no brief.
const HOUSE: &str = "problems-demo/house.toml";

fn demos() -> Vec<String> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("problems-demo");
    let files = std::fs::read_dir(folder).expect("demos").map(|f| f.expect("a file").file_name());
    let names = files.map(|name| format!("problems-demo/{}", name.to_str().expect("UTF-8")));
    let mut names: Vec<String> = names
        .filter(|name| name != HOUSE && Path::new(name).extension().is_some_and(|e| e == "toml"))
        .collect();
    names.sort();
    assert!(names.len() >= 5, "{names:?}");
    names
}

/// Every page has to pass: well-formed, light, alone, with every picture told beside it and a name once.
fn stands(page: &str) -> Vec<Tag> {
    let tags = tags(page).expect("well-formed");
    assert!(page.len() < MOST_BYTES, "{} bytes", page.len());
    alone(&tags, page);
    let value = |tag: &Tag, key: &str| tag.attributes.iter().find(|(k, _)| k == key).map(|(_, v)| v.clone());
    let ids: Vec<String> = tags.iter().filter_map(|t| value(t, "id")).collect();
    let mut once = ids.clone();
    once.sort();
    once.dedup();
    assert_eq!(once.len(), ids.len(), "an id twice");
    // Pictures repeat what stands beside them in words.
    let outermost = tags.iter().filter(|t| t.name == "svg" && value(t, "width").is_some());
    for svg in outermost.filter(|t| value(t, "x").is_none()) {
        assert_eq!(value(svg, "aria-hidden").as_deref(), Some("true"), "{svg:?}");
    }
    for named in tags.iter().filter_map(|t| value(t, "aria-labelledby")) {
        assert!(ids.contains(&named), "{named}");
    }
    let titles = tags.iter().filter(|t| t.name == "h1").count();
    assert_eq!(titles, 1);
    tags
}

/// Nothing is fetched: no address but places in the page itself, no script, no handler.
fn alone(tags: &[Tag], page: &str) {
    for tag in tags {
        assert!(
            !["script", "img", "link", "iframe", "object", "base"].contains(&tag.name.as_str()),
            "{tag:?}"
        );
        for (key, value) in &tag.attributes {
            assert!(!key.starts_with("on") && key != "src" && key != "style", "{tag:?}");
            assert!(!key.ends_with("href") || value.starts_with('#'), "{tag:?}");
            assert!(!value.contains("url(") || value.starts_with("url(#"), "{tag:?}");
        }
    }
    let style =
        page.split_once("<style>").and_then(|(_, rest)| rest.split_once("</style>")).expect("a style").0;
    assert!(!style.contains("url(") && !style.contains("@import") && !style.contains("//"));
}

#[test]
fn every_demo_has_a_page_that_stands_alone() {
    for demo in some(demos(), 4) {
        let page = page(&["spec", &demo]);
        let tags = stands(&page);
        assert!(tags.iter().any(|t| t.name == "svg"), "{demo} has no picture");
    }
}

#[test]
fn every_command_has_a_page() {
    let check = ["check", LOW, "50 ml aged rum, 25 ml lime juice, 12.5 ml bay syrup"];
    let batch = ["batch", LOW, "--make", "10 l", "--dilute", "--bottle", "700 ml"];
    let sweep = ["sweep", LOW, "--over", "targets.strength.max=8..10", "--steps", "5"];
    for (arguments, kind) in
        [(&check[..], "A given spec, measured"), (&batch, "A batch of"), (&sweep, "Trade-off")]
    {
        let page = page(arguments);
        stands(&page);
        assert!(page.contains(&format!("<p class=\"kind\">{kind}")), "{kind}");
    }
}

#[test]
fn the_same_page_to_the_last_byte() {
    let sweep = ["sweep", LOW, "--over", "targets.strength.max=8..10", "--steps", "5"];
    assert_eq!(page(&["spec", LOW]), page(&["spec", LOW]));
    assert_eq!(page(&sweep), page(&sweep));
}

#[test]
fn no_name_becomes_markup() {
    let sweep = ["sweep", HOSTILE, "--over", "targets.strength.max=5..9", "--steps", "5"];
    for arguments in [&["spec", HOSTILE][..], &sweep, &["batch", HOSTILE, "--serves", "12"]] {
        let page = page(arguments);
        let tags = stands(&page);
        assert!(page.contains("&lt;script&gt;alert(&quot;title&quot;)&lt;/script&gt;"), "the title is there");
        assert!(
            page.contains("\u{2068}מיץ לימון טרי عصير\u{2069}") && page.contains("🍋🧊"),
            "names are there"
        );
        assert!(!tags.iter().any(|t| t.name == "b" && !t.attributes.is_empty()));
        assert!(!page.contains("<script") && !page.contains("<img") && !page.contains("<b>zing"));
    }
}

/// What is read of a page: no style, no brief, no markup.
fn read(page: &str) -> String {
    let body = page.split_once("<body>").expect("a body").1;
    let body = body.split_once("<details class=\"brief\">").map_or(body, |(before, _)| before);
    let inside = body.split('<').map(|piece| piece.split_once('>').map_or(piece, |(_, text)| text));
    inside.collect::<Vec<_>>().join(" ").replace('\u{a0}', " ")
}

/// What stands between the first `from` and the next `to` after it.
fn between<'a>(page: &'a str, from: &str, to: &str) -> &'a str {
    page.split_once(from).expect(from).1.split_once(to).expect(to).0
}

#[test]
fn a_sweep_shows_curve_bands_and_switches_over_one_axis() {
    let page = page(&["sweep", LOW, "--over", "targets.strength.max=5..12", "--steps", "8"]);
    stands(&page);
    let figure = between(&page, "id=\"sweep\"", "</figure>");
    let lanes: Vec<&str> = figure.split("class=\"lane\"").skip(1).collect();
    let switches = |lane: &str| {
        let lines = lane.split("class=\"switch\" x1=\"").skip(1);
        lines.map(|line| line.split('"').next().expect("a place").to_owned()).collect::<Vec<_>>()
    };
    let (axis, drawn) = lanes.split_last().expect("lanes");
    assert!(axis.contains("most strength") && axis.contains("% vol"), "{axis}");
    assert!(drawn.len() > 4, "a curve and bands");
    for lane in drawn {
        assert_eq!(switches(lane), switches(drawn[0]), "the same places in every lane");
        assert!(lane.contains("url(#fill-out)"), "the hatched stretch");
        assert!(lane.contains("class=\"own\""), "the brief's own value");
    }
    assert!(!switches(drawn[0]).is_empty());
    let read = read(&page);
    assert!(read.contains("brief:  9.5 % vol") || read.contains("brief: 9.5 % vol"), "{read}");
    for raw in ["targets.", "--", "washline spec"] {
        assert!(
            !read.replace("washline spec` with", "").contains(raw),
            "{raw} is nothing to be read:\n{read}"
        );
    }
    assert!(page.contains("id=\"recipes-table\""), "and the recipes");
}

#[test]
fn the_first_row_is_chosen_and_every_row_has_its_card_and_its_share() {
    let page = page(&["spec", LOW]);
    let tags = stands(&page);
    let value = |tag: &Tag, key: &str| tag.attributes.iter().find(|(k, _)| k == key).map(|(_, v)| v.clone());
    let picks: Vec<&Tag> = tags.iter().filter(|t| t.name == "input").collect();
    assert_eq!(picks.len(), 7, "the best and six alternatives");
    for (at, pick) in picks.iter().enumerate() {
        assert_eq!(value(pick, "id"), Some(format!("pick-{at}")));
        assert_eq!(value(pick, "checked").is_some(), at == 0);
        for what in ["spec", "card", "strips", "row"] {
            assert!(page.contains(&format!("id=\"{what}-{at}\"")), "{what} {at}");
        }
    }
    // The first alternative pours 12.5 ml of overproof rum in place of the aged one.
    let row = between(&page, "id=\"row-1\"", "</tr>");
    assert!(row.contains("<b>12.5</b>") && row.contains("<td class=\"none\">–</td>"), "{row}");
    let card = between(&page, "id=\"card-1\"", "</article>");
    let told = read(&format!("<body>{card}"));
    for part in ["12.5", "overproof rum", "Shake with ice", "Allergens:", "of 100 serves"] {
        assert!(told.contains(part), "{part}: {told}");
    }
}

#[test]
fn emphasis_follows_the_share_of_serves_alone() {
    let page = page(&["spec", LOW]);
    let strips = between(&page, "id=\"strips-0\"", "</figure>");
    let mut seldom = Vec::new();
    let mut often = Vec::new();
    for strip in strips.split("<li class=\"strip ").skip(1) {
        let share: f64 = between(strip, "class=\"share\"><span>", " of 100").parse().expect("a share");
        if strip.starts_with("edge") { seldom.push(share) } else { often.push(share) }
    }
    assert!(!seldom.is_empty() && !often.is_empty());
    let most = seldom.iter().copied().fold(0.0, f64::max);
    assert!(often.iter().all(|share| *share > most), "{seldom:?} stand out, {often:?} do not");
}

#[test]
fn a_page_says_where_it_comes_from() {
    let swap = "sugar syrup 1:1=fructose syrup";
    let page = page(&["spec", "problems-demo/sweetener-swap.toml", "--set", "serve.most=4", "--swap", swap]);
    stands(&page);
    let imprint = between(&page, "class=\"imprint\"", "</dl>");
    for part in [
        "sweetener-swap.toml",
        "1970-01-01",
        env!("CARGO_PKG_VERSION"),
        "--set serve.most=4",
        "--swap sugar syrup 1:1=fructose syrup",
    ] {
        assert!(imprint.replace('\u{a0}', " ").contains(part), "{part}: {imprint}");
    }
    assert!(!imprint.contains("problems-demo"), "folders are nobody's business");
    assert!(page.contains("nearest = &quot;reference&quot;"), "the brief itself");
}

#[test]
fn what_comes_in_is_told_by_its_pour_and_can_be_sorted() {
    let page = page(&["spec", "problems-demo/sweetener-swap.toml", "--swap", "sugar syrup 1:1=?"]);
    assert!(read(&page).contains("first 17.5 ml of fructose syrup"), "{}", read(&page));
    let table = between(&page, "id=\"ranked\"", "</table>");
    let head = read(&format!("<body>{}", between(table, "<thead>", "</thead>")));
    for column in ["pour", "sugar", "sweetness", "strength", "acid", "cost", "of 100", "allergens"] {
        assert!(head.contains(column), "{column}: {head}");
    }
    assert!(table.contains("data-value=\"17.5\""), "figures to sort by");
    assert_eq!(page.matches("<script").count(), 1);
    assert!(page.contains("script-src 'sha256-"), "only our own");
}

#[test]
fn a_page_in_ounces_has_no_millilitres_but_those_of_packs() {
    let pages = [
        page(&["spec", LOW, "--units", "oz"]),
        page(&["sweep", LOW, "--over", "targets.strength.max=8..10", "--steps", "3", "--units", "oz"]),
    ];
    for page in pages {
        let read = read(&page);
        let packs = ["per 700 ml", "per 750 ml", "per 25 ml", "per 500 ml", "by 1 ml", "take 4 ml"];
        let rest = packs.iter().fold(read, |text, pack| text.replace(pack, ""));
        let at = rest.find(" ml");
        assert!(at.is_none(), "{:.80}", &rest[at.unwrap_or(0).saturating_sub(40)..]);
    }
}

#[test]
fn a_conflict_leads_with_what_clashes_and_the_smallest_change() {
    let page = page(&["spec", "problems-demo/too-much.toml"]);
    stands(&page);
    let places =
        ["The smallest change in all", "id=\"clash\"", "id=\"card-0\"", "id=\"enough\"", "id=\"reach\""];
    let places: Vec<usize> = places.iter().map(|what| page.find(what).expect(what)).collect();
    assert!(places.is_sorted(), "{places:?}");
}

#[test]
fn a_long_sweep_stays_light() {
    // 400 points and a price: the pours stay, the score moves at every point.
    let over = "candidate.aged rum.price=20..30";
    stands(&page(&["sweep", LOW, "--over", over, "--steps", "400", "--set", "answer.alternatives=0"]));
}
