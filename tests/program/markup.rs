//! What a page says of itself: read strictly, so that a tag left open or a name that became markup shows.

/// Elements that have no end.
const VOID: [&str; 4] = ["meta", "br", "img", "input"];
/// Elements whose content is no markup.
const RAW: &str = "style";

/// One start tag: its name and its attributes.
#[derive(Debug)]
pub struct Tag {
    /// Such as `svg`.
    pub name: String,
    /// Name and value, in their order.
    pub attributes: Vec<(String, String)>,
}

/// All start tags of a page, or the first fault of its markup.
pub fn tags(page: &str) -> Result<Vec<Tag>, String> {
    let mut rest = page.strip_prefix("<!DOCTYPE html>").ok_or("no doctype")?;
    let (mut open, mut tags): (Vec<String>, Vec<Tag>) = (Vec::new(), Vec::new());
    while let Some(at) = rest.find('<') {
        text(&rest[..at])?;
        let end = tag_end(&rest[at..]).ok_or_else(|| format!("a tag without an end: {:.60}", &rest[at..]))?;
        let inside = &rest[at + 1..at + end];
        rest = &rest[at + end + 1..];
        if let Some(name) = inside.strip_prefix('/') {
            if open.pop().as_deref() != Some(name) {
                return Err(format!("</{name}> closes nothing that is open"));
            }
            continue;
        }
        let tag = tag(inside)?;
        if tag.name == RAW {
            let end = format!("</{RAW}>");
            rest = rest.split_once(&end).ok_or("a style without an end")?.1;
        } else if !VOID.contains(&tag.name.as_str()) {
            open.push(tag.name.clone());
        }
        tags.push(tag);
    }
    text(rest)?;
    if open.is_empty() { Ok(tags) } else { Err(format!("left open: {open:?}")) }
}

/// The place of the `>` that ends a tag: not one within quotes.
fn tag_end(from: &str) -> Option<usize> {
    let mut quoted = false;
    from.char_indices().find_map(|(at, letter)| {
        quoted ^= letter == '"';
        (letter == '>' && !quoted).then_some(at)
    })
}

fn tag(inside: &str) -> Result<Tag, String> {
    let (name, mut rest) = inside.split_once(' ').unwrap_or((inside, ""));
    if name.is_empty() || !name.chars().all(|c| c.is_ascii_alphanumeric()) {
        return Err(format!("<{inside}> is no tag"));
    }
    let mut attributes = Vec::new();
    while !rest.trim().is_empty() {
        let fault = || format!("<{inside}> has an attribute without quotes");
        let (key, after) = rest.trim_start().split_once("=\"").ok_or_else(fault)?;
        let (value, after) = after.split_once('"').ok_or_else(fault)?;
        if key.contains([' ', '<', '"']) || value.contains('<') {
            return Err(fault());
        }
        attributes.push((key.to_owned(), value.to_owned()));
        rest = after;
    }
    Ok(Tag { name: name.to_owned(), attributes })
}

/// Text holds no bare `&` or `>`.
fn text(text: &str) -> Result<(), String> {
    let entity = |after: &str| ["amp;", "lt;", "gt;", "quot;", "#39;"].iter().any(|e| after.starts_with(e));
    if text.contains('>') || text.split('&').skip(1).any(|after| !entity(after)) {
        return Err(format!("bare markup in the text {text:?}"));
    }
    Ok(())
}

#[test]
fn faults_of_markup_are_seen() {
    for fault in [
        "<p>",
        "<!DOCTYPE html><p>",
        "<!DOCTYPE html><p></b>",
        "<!DOCTYPE html><p>a & b</p>",
        "<!DOCTYPE html><p id=x></p>",
        "<!DOCTYPE html><p>1 > 0</p>",
        "<!DOCTYPE html><p id=\"x",
    ] {
        assert!(tags(fault).is_err(), "{fault}");
    }
    let found = tags("<!DOCTYPE html><p id=\"a > b\">x &amp; y<br></p>").expect("well-formed");
    assert_eq!(found.iter().map(|t| t.name.as_str()).collect::<Vec<_>>(), ["p", "br"]);
}
