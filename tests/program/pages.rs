//! `--report`: one page that stands alone, says what it is, and is the same every time.

use std::path::Path;

use super::markup::{Tag, tags};
use super::run::washline;

/// A page that goes by mail and opens at once.
const MOST_BYTES: usize = 200_000;
const LOW: &str = "problems-demo/low-strength.toml";
const HOSTILE: &str = "tests/browser/hostile.toml";

/// The page of a run, written afresh.
fn page(arguments: &[&str]) -> String {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("page.html");
    let name = file.to_str().expect("UTF-8");
    let run = washline([arguments, &["--report", name]].concat()).go();
    assert_eq!(run.err, format!("Wrote {name}.\n"));
    std::fs::read_to_string(&file).expect("the page")
}

fn demos() -> Vec<String> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("problems-demo");
    let files = std::fs::read_dir(folder).expect("demos").map(|f| f.expect("a file").file_name());
    let names = files.map(|name| format!("problems-demo/{}", name.to_str().expect("UTF-8")));
    let mut names: Vec<String> =
        names.filter(|name| Path::new(name).extension().is_some_and(|e| e == "toml")).collect();
    names.sort();
    assert!(names.len() >= 5, "{names:?}");
    names
}

/// Every page has to pass: well-formed, light, alone, with words for every picture and a name once.
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
    for svg in tags.iter().filter(|t| value(t, "role").as_deref() == Some("img")) {
        let named = value(svg, "aria-labelledby").expect("a picture in words");
        assert!(named.split(' ').all(|id| ids.iter().any(|known| known == id)), "{named}");
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
    for demo in demos() {
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

#[test]
fn a_sweep_shows_its_switches_and_where_there_is_no_spec() {
    let page = page(&["sweep", LOW, "--over", "targets.strength.max=5..12", "--steps", "8"]);
    stands(&page);
    let curve = page.split_once("pic-curve").expect("a curve").1.split_once("</figure>").expect("an end").0;
    assert!(curve.contains("url(#fill-out)"), "the hatched stretch");
    assert!(curve.contains("class=\"buoy\""), "numbers");
    assert!(page.contains("from here on there is a spec"), "and what they mean");
}

#[test]
fn a_long_sweep_stays_light() {
    // 400 points and a price: the pours stay, the score moves at every point.
    let over = "candidate.aged rum.price=20..30";
    stands(&page(&["sweep", LOW, "--over", over, "--steps", "400", "--set", "answer.alternatives=0"]));
}
