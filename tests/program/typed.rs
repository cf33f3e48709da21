//! Answers stay typed to the last step: no name or unit of a brief is taken for a word of ours.

use super::run::washline;

/// A punch of tea and gin: the tannin is from the tea alone, which is there to bring the strength down.
fn punch(aim: &str, tea: &str, unit: &str) -> String {
    format!(
        "title = \"Punch\"\ncurrency = \"GBP\"\n[serve]\nmethod = \"none\"\npour = \"2.5 ml\"\n\
         [properties]\ntannin = {{ unit = \"{unit}\", per = \"serve\" }}\n\
         [targets]\nvolume = {{ min = 90, max = 120 }}\nstrength = {{ min = 5, max = 10 }}\n[aim]\n{aim}\n\
         [[candidate]]\nname = \"gin\"\nstrength = 40\nprice = \"20.00 per 700 ml\"\n\
         [[candidate]]\nname = \"{tea}\"\ncarries = {{ tannin = 100 }}\nprice = \"0.40 per 1 l\"\n"
    )
}

fn limits(brief: &str) -> String {
    let text = washline(["spec", "-", "--only", "limits"]).input(brief).go().answered(0);
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// `mg per bag per % vol`: the aim's unit is all of `mg per bag`, and what is looser are % vol or ml.
#[test]
fn a_unit_with_per_in_it_stays_whole() {
    let said = limits(&punch("lowest = \"tannin\"", "tea", "mg per bag"));
    assert!(said.contains("each % vol looser") || said.contains("each ml looser"), "{said}");
    assert!(said.contains("mg per bag per ml") && !said.contains("each bag"), "{said}");
}

/// Millilitres are told by what they are, not by how their unit is written.
#[test]
fn a_property_counted_in_ml_is_no_volume() {
    let brief = punch("lowest = \"tannin\"", "tea", "ml");
    let run = |units: &str| {
        washline(["spec", "-", "--full", "--units", units]).input(brief.as_str()).go().answered(0)
    };
    let row = |text: &str| {
        text.lines().find(|l| l.contains("strength at most 10 % vol")).map(str::to_owned).expect("the limit")
    };
    assert!(row(&run("oz")).contains("ml per % vol"), "{}", run("oz"));
}

/// An ingredient may be called what an aim is called.
#[test]
fn an_ingredient_called_reference_is_an_ingredient() {
    let brief = punch("highest = \"reference\"", "reference", "mg");
    let text = washline(["spec", "-", "--full"]).input(brief.as_str()).go().answered(0);
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        text.contains("Reference: ") && text.contains("as good as the most that can be poured"),
        "{text}"
    );
    assert!(
        !text.contains("poured differently") && !text.contains("differently from the reference"),
        "{text}"
    );
    assert!(text.contains("would change the reference by"), "{text}");
}

/// One natural unit for the same limit, in text and on the page.
#[test]
fn a_limit_is_told_in_the_same_unit_everywhere() {
    let folder = tempfile::tempdir().expect("a folder");
    let page = folder.path().join("page.html");
    let demo = "problems-demo/caffeine-free.toml";
    let run = washline(["spec", demo, "--only", "limits", "--report", page.to_str().expect("a name")]).go();
    assert!(run.out.contains("each mg looser"), "{}", run.out);
    let page = std::fs::read_to_string(page).expect("a page");
    assert!(!page.contains("a hundredth") && !page.contains("A hundredth"), "hundredths on the page");
}

/// What is worth less than a tenth of the smallest coin is left out, and switches have three digits.
#[test]
fn no_figure_has_more_digits_than_it_deserves() {
    let text = washline(["spec", "problems-demo/low-strength.toml", "--only", "limits"]).go().answered(0);
    assert!(!text.contains("0.0004"), "{text}");
    let arguments =
        ["sweep", "problems-demo/low-strength.toml", "--over", "targets.strength.max=8..12", "--steps", "5"];
    let text = washline([&arguments[..], &["--only", "switches"]].concat()).go().answered(0);
    let shown: Vec<&str> = text.split_whitespace().filter(|w| w.parse::<f64>().is_ok()).collect();
    let value = |text: &str| text.parse::<f64>().expect("a number");
    for figure in &shown {
        let digits = figure.replace('.', "").trim_start_matches('0').len();
        // More than four only where another switch is so near that fewer would be its figure.
        let near = shown.iter().any(|other| other != figure && (value(other) - value(figure)).abs() < 0.005);
        assert!(digits <= 4 || near, "{figure}: {text}");
    }
    assert!(shown.iter().any(|figure| figure.len() == 4), "{text}");
}

/// A name in one list is not denied by another: what is said to be in none is so within its own bound.
#[test]
fn who_is_in_play_says_within_what() {
    let text = washline(["spec", "problems-demo/low-strength.toml", "--only", "play"]).go().answered(0);
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        text.contains("In none of those: ")
            && text.contains("In alternatives that are over 5 % worse: honey"),
        "{text}"
    );
}
