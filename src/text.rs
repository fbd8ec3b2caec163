//! The copy as it is read: words with their syllables, sentences and paragraphs, each with its place.
//!
//! The blurb is what is measured. The headline and the note on the author are read by the same rules and kept apart:
//! terms are also looked for in the headline, and neither is measured. Quotes, credits and the other blocks are not
//! read. Nothing here depends on type or paper.
//!
//! The counting rules stand once, in [`rules`], as the text that a report prints.

pub mod rules;
pub mod language;
pub(crate) mod inflections;
pub(crate) mod spelling;
mod word;
pub(crate) mod places;
pub(crate) mod lexicon;
pub mod words;
mod abbreviations;
mod figures;
mod patterns;
mod vowels;
pub mod syllables;
mod sentences;
mod names;
mod copy;
pub mod verse;
pub mod quotation_marks;
pub(crate) mod dashes;
mod single_marks;
mod paired_marks;
pub mod straight_marks;
pub(crate) mod parts;
pub mod tagger;
pub mod length;

pub use copy::{CopyPart, Paragraph, Sentence, Text, TextMemory};
pub use sentences::sentences_of;
pub use word::{Basis, Word};

#[cfg(test)]
mod tests {
    use proptest::prelude::{TestCaseError, any, prop_assert, prop_assert_eq, proptest};

    use super::{CopyPart, Text, length, syllables};
    use crate::brief::Book;
    use crate::brief::book::{BookKind, Name};
    use crate::draft::Draft;

    /// Sentences share out the words without a gap, and every place is a stretch of its block, in order.
    fn check(text: &Text, part: &CopyPart) -> Result<(), TestCaseError> {
        let mut next = 0;
        for sentence in &part.sentences {
            prop_assert_eq!(sentence.words.start, next);
            prop_assert!(!sentence.words.is_empty());
            next = sentence.words.end;
            prop_assert_eq!(text.sentence(sentence).trim(), text.sentence(sentence));
            for word in &part.words[sentence.words.clone()] {
                prop_assert_eq!(word.block, sentence.block);
                prop_assert!(sentence.range.start <= word.range.start && word.range.end <= sentence.range.end);
                prop_assert!(!text.word(word).is_empty() && word.syllables > 0);
            }
        }
        prop_assert_eq!(next, part.words.len());
        let places = |at: usize| (part.words[at].block, part.words[at].range.start, part.words[at].range.end);
        for at in 1..part.words.len() {
            let ((block, _, end), (next_block, next_start, _)) = (places(at - 1), places(at));
            prop_assert!(block < next_block || end <= next_start);
        }
        let paragraphs = part.paragraphs.iter();
        prop_assert_eq!(paragraphs.map(|paragraph| paragraph.words.len()).sum::<usize>(), part.words.len());
        Ok(())
    }

    /// A look-up of all words together finds what a look-up of each word finds.
    fn check_syllables(copy: &str) -> Result<(), TestCaseError> {
        let draft = Draft::read(copy);
        let text = Text::read(&draft, &Book::default());
        for word in text.parts().into_iter().flat_map(|part| &part.words) {
            let after = &text.block(word.block).text()[word.range.end..];
            let alone = syllables::count(text.word(word), after);
            prop_assert_eq!((word.syllables, word.basis), alone, "{}", text.word(word));
        }
        Ok(())
    }

    fn check_copy(copy: &str, word: &str) -> Result<(), TestCaseError> {
        let draft = Draft::read(copy);
        let names = vec![Name { name: word.to_owned(), syllables: Some(2) }];
        let book = Book { names, ..Book::default() };
        let text = Text::read(&draft, &book);
        for part in text.parts() {
            check(&text, part)?;
        }
        check_syllables(copy)?;
        let length = length::measure(&text, BookKind::PictureBook);
        prop_assert!(length.letters <= copy.chars().count());
        Ok(())
    }

    proptest! {
        #[test]
        fn any_draft_is_read_whole(copy in any::<String>(), word in any::<String>()) {
            check_copy(&copy, &word)?;
        }

        #[test]
        fn any_prose_is_read_whole(copy in "([A-Za-z]{1,7}|[0-9]{1,5}|é|犬|[.!?…,;—-]|[\"'“”‘’()]|\n\n|\n|  |# |> \
                                            |\\*){0,60}") {
            check_copy(&copy, "story-time")?;
        }
    }

    /// Work that grows with the square of the length would take minutes here.
    #[test]
    fn very_long_copy_takes_little_time() {
        for unit in ["na", "a-", "a'", "1", "1,", "A.", "...", "é", "\u{301}", "\"", "犬", "no. ", "story time "] {
            let copy = unit.repeat(10_000 / unit.len());
            assert!(check_copy(&copy, "story time").is_ok(), "{unit}");
        }
    }
}
