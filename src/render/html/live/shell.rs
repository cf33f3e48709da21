//! The page itself, before anything is put in place: what is written by hand stays, what is answered has its own
//! elements.

use maud::{DOCTYPE, Markup, html};

use crate::larder::FAMILIES;
use crate::render::html::page::{STYLE, wash};
use crate::render::html::picture::Said;
use crate::render::html::{choice, look};

/// The script of the page.
pub const SCRIPT: &str = include_str!("live.js");

/// The style sheet of the page: the one of the reports and its own.
pub fn style() -> String {
    let marks: String = (1..choice::CARDS)
        .map(|at| format!(":root:has(#pick-{at}:checked) .of-{at}{{display:inline}}\n"))
        .collect();
    format!("{}{}{STYLE}{marks}{}", look::variables(), choice::rules(), include_str!("live.css"))
}

/// The page for a file, or for a brief that has none yet.
pub fn shell(file: Option<&str>) -> String {
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="color-scheme" content="light dark";
                title { "washline" }
                link rel="stylesheet" href="live.css";
                link rel="icon" href="data:,";
                script src="live.js" defer {}
            }
            body.live data-file=[file] {
                a.skip href="#answer" { "To the answer" }
                div id="defs" {}
                header {
                    (tools(file))
                    h1.unseen { "A drink, worked out while you change it" }
                    input.title id="title" type="text" autocomplete="off" aria-label="Title" hidden data-edit=r#"{"kind":"word","key":"title"}"# data-field="title";
                    div id="said" {}
                    p.unseen id="aloud" role="status" {}
                }
                (wash())
                main id="answer" {
                    div.notice id="notice" role="alert" {}
                    div.notice id="astray" role="alert" {}
                    (begin())
                    (play())
                }
                footer { p { "Figures are of the drink as served, melt water included, at 20 °C. Melt water is an estimate and \
                              fruit varies: taste before you serve. Allergens, raw egg and alcohol: check with your local rules \
                              and a competent person." } }
            }
        }
    };
    page.into_string()
}

fn tools(file: Option<&str>) -> Markup {
    let button = |id: &str, says: &str| html! { button type="button" id=(id) { (says) } };
    html! {
        div.tools {
            p.kind { "Live" span id="file" { @if let Some(file) = file { ", " (Said(file)) } } " " small id="state" {} }
            div.buttons role="group" aria-label="The brief" {
                (button("undo", "Undo"))
                (button("redo", "Redo"))
                (button("save", "Save"))
                (button("print", "Print"))
                (button("report", "Report"))
                (button("new-drink", "New"))
            }
        }
        form.naming id="naming" hidden {
            label { span { "Save as" } input type="text" id="as" autocomplete="off" placeholder="my-drink.toml" data-field="as"; }
            button type="submit" { "Save" }
        }
    }
}

/// What a new brief begins with.
fn begin() -> Markup {
    let methods = ["", "shake", "stir", "build", "blend", "none"];
    html! {
        form.begin id="begin" hidden aria-labelledby="begin-h" {
            h2 id="begin-h" { "What drink is it to be?" }
            label.wide { span { "A drink that you know, as it stands on a card" }
                textarea name="line" data-field="line" rows="5" autocomplete="off" placeholder="50 ml aged rum, 25 ml lime juice, 20 ml sugar syrup 1:1" {} }
            div.row {
                label { span { "or of a family" } select name="family" {
                    option value="" { "…" }
                    @for family in &FAMILIES { option value=(family.name) { (family.name) } }
                } }
                label { span { "made by" } select name="method" { @for one in methods { option value=(one) { @if one.is_empty() { "as usual" } @else { (one) } } } } }
                label { span { "at most, % vol" } input.short type="text" inputmode="decimal" name="lighter" data-field="lighter" autocomplete="off" size="5"; }
                label { span { "glass" } input.short type="text" name="glass" data-field="glass" autocomplete="off" size="7" placeholder="160 ml"; }
                button.first type="submit" { "Begin" }
                button type="button" id="back" hidden { "Back to the drink" }
            }
        }
    }
}

fn play() -> Markup {
    html! {
        div id="play" hidden {
            div.bench {
                div id="left" {
                    section id="ways" aria-label="What stands in the way" {}
                    section id="card" aria-label="The spec" {}
                }
                section.hands aria-labelledby="limits-h" {
                    h2 id="limits-h" { "What it must measure in the glass" }
                    p.note.screen { "Drag an end, use the arrow keys on it, or type a figure." }
                    div id="limits" {}
                    p.way id="way" role="status" {}
                    div.row {
                        label { span { "aim" } select id="aims" data-edit=r#"{"kind":"aim"}"# data-field="aim" {} }
                        div.inner id="serve" {}
                        label { span { "limit also" } select id="bounds" data-edit=r#"{"kind":"bound"}"# {} }
                    }
                }
            }
            section id="others" aria-label="Specs to choose from" {}
            section.hands aria-labelledby="shelf-h" {
                h2 id="shelf-h" { "What may go in" }
                div id="shelf" {}
                (search("find", "add from house and larder", &html! {}))
            }
            section.hands aria-labelledby="swaps-h" {
                h2 id="swaps-h" { "Swaps beside each other" }
                (search("new", "try", &html! { label { span { "instead of" } select id="olds" {} } }))
                div id="tried" {}
            }
            details id="why" { summary { "What it hangs on, what brings what, how sure it is" } div id="reasons" {} }
            details id="toml" {
                summary { "The brief as text" }
                textarea id="text" rows="24" spellcheck="false" autocomplete="off" aria-label="The brief as TOML" {}
                button type="button" id="apply" { "Take this text" }
            }
        }
    }
}

/// A field in which ingredients are found, a price beside it, and what is found under it.
fn search(id: &str, says: &str, before: &Markup) -> Markup {
    html! {
        div.search {
            div.row {
                (before)
                label { span { (says) } input id=(id) type="search" autocomplete="off" data-field=(id) placeholder="verjus"; }
                label { span { "price, where it needs one" } input id=(format!("{id}-price")) type="text" autocomplete="off" placeholder="7.20 per 750 ml"; }
            }
            ul.offers id=(format!("{id}-offers")) aria-label="Found" {}
        }
    }
}
