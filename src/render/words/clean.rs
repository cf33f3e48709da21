//! Text that can do nothing but be read.

/// Text without anything that could move a cursor or turn the reading direction: such characters come from
/// the brief and are shown as what they are, foreign.
pub fn clean(text: &str) -> String {
    let foreign = |c: char| {
        c.is_control()
            || matches!(c, '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
    };
    text.chars().map(|c| if foreign(c) { '\u{fffd}' } else { c }).collect()
}

#[cfg(test)]
mod tests {
    use super::clean;

    #[test]
    fn nothing_in_a_name_can_steer_the_terminal() {
        assert_eq!(clean("a\u{1b}[2Jb\u{202e}c\n"), "a\u{fffd}[2Jb\u{fffd}c\u{fffd}");
    }
}
