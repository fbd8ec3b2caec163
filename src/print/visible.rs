//! Makes text safe to show: characters that a terminal would obey are written out instead.

use std::borrow::Cow;

/// The text with every control character, and every mark that changes the direction of writing, replaced by its code
/// point, such as `<U+001B>`, so that a terminal shows it and does not obey it.
pub fn visible(text: &str) -> Cow<'_, str> {
    if !text.contains(acts_on_a_terminal) {
        return Cow::Borrowed(text);
    }
    let mut shown = String::with_capacity(text.len());
    for character in text.chars() {
        if acts_on_a_terminal(character) {
            shown.push_str(&format!("<U+{:04X}>", u32::from(character)));
        } else {
            shown.push(character);
        }
    }
    Cow::Owned(shown)
}

/// Words of the copy on one line, with the ends of lines that the author has ended shown as ` / `.
pub fn in_a_row(text: &str) -> String {
    visible(&text.replace('\n', " / ")).into_owned()
}

/// Whether a terminal obeys a character instead of showing it.
pub(super) fn acts_on_a_terminal(character: char) -> bool {
    character.is_control()
        || matches!(character, '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn escapes_are_shown_and_letters_stand() {
        assert_eq!(visible("a\u{1b}[31mb\u{9b}c\u{202e}d"), "a<U+001B>[31mb<U+009B>c<U+202E>d");
        assert_eq!(visible("Übermut – “ja”"), "Übermut – “ja”");
    }
}
