//! The author's terms in the copy, and what a story has of its own: coverage, phrases, near-misses, the spelling of
//! names.
//!
//! Coverage and story share one definition of a word's forms (`family.rs`). This room knows the brief's words, and
//! nothing of paper or type.

pub mod name_signs;
mod heard;
mod nearly_spelt;
pub mod frequencies;
mod family;
mod phrases;
mod word_forms;
pub mod other_words;
mod tokens;
mod named;
pub mod coverage;
pub mod spellings;
pub mod near;
pub mod story;
pub mod borrowed;
pub mod answers;

#[cfg(test)]
mod tests {
    use proptest::prelude::{TestCaseError, any, prop_assert, proptest};

    use super::story::Story;
    use super::{borrowed, coverage, near, spellings};
    use crate::brief::book::Name;
    use crate::brief::terms::Term;
    use crate::brief::{Book, Terms};
    use crate::draft::Draft;
    use crate::text::Text;

    /// Checks that every place which this room reports is a stretch of the author's file that is not empty.
    fn check_places(copy: &str, word: &str) -> Result<(), TestCaseError> {
        let draft = Draft::read(copy);
        let names = vec![Name { name: word.to_owned(), syllables: Some(2) }];
        let book = Book { names, ..Book::default() };
        let text = Text::read(&draft, &book);
        let wanted = vec![Term { term: word.to_owned(), ..Term::default() }];
        let coverage = coverage::find(&text, &Terms { wanted, avoid: Vec::new() });
        let near = near::find(&text, &coverage).into_iter().flatten().map(|near| near.span);
        let twins = spellings::find(&draft, &book).into_iter().flat_map(|name| name.twins).map(|twin| twin.span);
        let story = Story::read(&text);
        let borrowed = borrowed::find(&text, &story, word);
        let taken = borrowed.late.iter().chain(&borrowed.sentences).flat_map(|taken| [taken.in_draft, taken.in_story]);
        let own = story.words.iter().chain(&story.phrases).map(|candidate| candidate.first);
        let terms = coverage.items.iter().flat_map(|item| item.spans.clone());
        for span in terms.chain(near).chain(twins).chain(taken).chain(own) {
            prop_assert!(copy.get(span.start..span.end).is_some_and(|found| !found.is_empty()));
        }
        Ok(())
    }

    proptest! {
        #[test]
        fn every_place_in_any_draft_can_be_shown(copy in any::<String>(), word in any::<String>()) {
            check_places(&copy, &word)?;
        }

        #[test]
        fn every_place_in_any_prose_can_be_shown(copy in "([A-Za-z]{1,7}|[0-9]{1,5}|é|犬|[.!?…,;—-]|[\"'“”‘’()]|\n\n|\n\
                                                          |  |# |> |\\*){0,60}") {
            check_places(&copy, "story-time")?;
        }
    }

    /// Work that grows with the square of the length would take minutes here.
    #[test]
    fn very_long_copy_takes_little_time() {
        for unit in ["na", "a-", "a'", "1", "1,", "A.", "...", "é", "\u{301}", "\"", "犬", "no. ", "story time "] {
            let copy = unit.repeat(10_000 / unit.len());
            assert!(check_places(&copy, "story time").is_ok(), "{unit}");
        }
    }
}
