//! Lines and columns of a text. The lines of a text are counted once, and each place is then found without counting
//! from the start.

/// The number of characters before the text is noted every so many bytes.
const STRIDE: usize = 1024;

/// A text with its lines counted.
#[derive(Debug)]
pub struct LinePlaces<'a> {
    text: &'a str,
    /// Where each line begins.
    starts: Vec<usize>,
    /// The characters before each stretch of [`STRIDE`] bytes.
    characters: Vec<usize>,
}

impl<'a> LinePlaces<'a> {
    /// Counts the lines of a text.
    pub fn of(text: &'a str) -> Self {
        let starts = std::iter::once(0).chain(text.match_indices('\n').map(|(at, _)| at + 1)).collect();
        let mut before = 0;
        let characters = text.as_bytes().chunks(STRIDE).map(|stretch| {
            let here = before;
            before += begun_in(stretch);
            here
        });
        Self { text, characters: characters.collect(), starts }
    }

    /// The text.
    pub fn text(&self) -> &'a str {
        self.text
    }

    /// The line and the column, both from 1, of a byte of the text. Columns count characters.
    ///
    /// A byte past the end, or inside a character, counts as the nearest character's edge before it.
    pub fn place(&self, at: usize) -> (usize, usize) {
        let at = self.text.floor_char_boundary(at);
        let line = self.starts.partition_point(|start| *start <= at);
        let start = self.starts[line - 1];
        (line, self.characters_before(at) - self.characters_before(start) + 1)
    }

    fn characters_before(&self, at: usize) -> usize {
        let stretch = (at / STRIDE).min(self.characters.len().saturating_sub(1));
        let before = self.characters.get(stretch).copied().unwrap_or(0);
        before + begun_in(&self.text.as_bytes()[stretch * STRIDE..at])
    }
}

/// The characters that begin in some bytes of UTF-8.
fn begun_in(bytes: &[u8]) -> usize {
    bytes.iter().filter(|byte| (**byte as i8) >= -0x40).count()
}

/// The line and the column, both from 1, of one byte of a text, as [`LinePlaces::place`] gives them.
pub fn place(text: &str, at: usize) -> (usize, usize) {
    LinePlaces::of(&text[..text.floor_char_boundary(at)]).place(at)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::{prop_assert_eq, proptest};

    use super::{LinePlaces, STRIDE, place};

    #[test]
    fn a_place_far_into_a_text_is_found() {
        let text = format!("{}\n{}x\n", "é".repeat(STRIDE), "ab".repeat(STRIDE));
        let at = text.rfind('x').unwrap();
        assert_eq!(LinePlaces::of(&text).place(at), (2, 2 * STRIDE + 1));
        assert_eq!(place(&text, at), (2, 2 * STRIDE + 1));
        assert_eq!(LinePlaces::of(&text).place(usize::MAX), (3, 1));
        assert_eq!(LinePlaces::of("").place(7), (1, 1));
    }

    proptest! {
        #[test]
        fn places_are_those_of_counting(text in "([a-z]{0,3}|é|犬|\n){0,40}", at in 0..60_usize) {
            let before = &text[..text.floor_char_boundary(at)];
            let start = before.rfind('\n').map_or(0, |newline| newline + 1);
            let counted = (before.matches('\n').count() + 1, before[start..].chars().count() + 1);
            prop_assert_eq!(LinePlaces::of(&text).place(at), counted);
            prop_assert_eq!(place(&text, at), counted);
        }
    }
}
