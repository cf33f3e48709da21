//! A section: a question, its answer in words, and the picture that shows it.

use maud::{Markup, html};

use super::picture::Said;

/// One question and what answers it.
pub struct Section {
    /// Its place in the page.
    pub slug: &'static str,
    /// What is asked.
    pub question: String,
    /// The answer in a sentence or two.
    pub answer: Vec<String>,
    /// The picture, or the list.
    pub body: Markup,
}

impl Section {
    /// A section with an answer of one paragraph.
    pub fn new(slug: &'static str, question: &str, answer: String, body: Markup) -> Self {
        Self { slug, question: question.to_owned(), answer: vec![answer], body }
    }

    /// The section in the page.
    pub fn write(&self) -> Markup {
        let id = format!("{}-q", self.slug);
        html! {
            section id=(self.slug) aria-labelledby=(id) {
                div.ask {
                    h2 id=(id) { (Said(&self.question)) }
                    @for sentence in self.answer.iter().filter(|s| !s.is_empty()) { p { (Said(sentence)) } }
                }
                div.show { (self.body) }
            }
        }
    }
}
