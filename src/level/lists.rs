//! The lists of familiar words to measure with: those that the program carries, or others; and which lists of any kind
//! the program was built without.

use std::sync::LazyLock;

use super::familiar::{FamiliarWords, WordList};
use crate::text::lexicon;
use crate::text::spelling::Spelling;
use crate::text::syllables::fold;

static DALE_CHALL: LazyLock<Option<FamiliarWords>> = LazyLock::new(|| FamiliarWords::read(text(WordList::DaleChall)));
static SPACHE: LazyLock<Option<FamiliarWords>> = LazyLock::new(|| FamiliarWords::read(text(WordList::Spache)));

/// The text of a list that the program carries; empty where the program was built without it.
fn text(list: WordList) -> &'static str {
    match list {
        WordList::DaleChall => wordlist!("dale-chall.txt"),
        WordList::Spache => wordlist!("spache.txt"),
    }
}

/// The lists to measure with.
#[derive(Debug, Clone, Copy)]
pub enum Lists<'a> {
    /// The lists that the program carries; one may be missing.
    Carried,
    /// The user's own list, for every formula that needs a list.
    Own(&'a FamiliarWords),
    /// No list at all.
    #[cfg(test)]
    Missing,
}

/// Reads a user's own list: one word a line; a line that begins with `#` is a comment. None where the list holds no
/// word.
pub fn read_own(text: &str) -> Option<FamiliarWords> {
    FamiliarWords::read(&fold(text))
}

/// The files of lists that were missing in `wordlists/` when the program was built.
pub fn taken_away() -> impl Iterator<Item = &'static str> {
    wordlist!("missing.txt").lines()
}

impl<'a> Lists<'a> {
    /// The words of a list; none where the list is missing.
    pub fn of(self, list: WordList) -> Option<&'a FamiliarWords> {
        match (self, list) {
            (Self::Carried, WordList::DaleChall) => DALE_CHALL.as_ref(),
            (Self::Carried, WordList::Spache) => SPACHE.as_ref(),
            (Self::Own(words), _) => Some(words),
            #[cfg(test)]
            (Self::Missing, _) => None,
        }
    }

    /// Whether a list is there. None is read for that: what the carried lists say stands in the dictionary already.
    pub fn has(self, list: WordList) -> bool {
        match self {
            Self::Carried => !text(list).is_empty(),
            Self::Own(_) => true,
            #[cfg(test)]
            Self::Missing => false,
        }
    }

    /// Whether these are the lists that the program carries.
    pub(super) fn are_carried(self) -> bool {
        matches!(self, Self::Carried)
    }

    /// Whether the marks of a word's spelling hold what these lists say about the word, as the build script stored it.
    pub(super) fn are_settled_for(self, spelling: Spelling) -> bool {
        self.are_carried() && (spelling.syllables().is_some() || spelling.is_letters())
    }

    /// Whether a word in small letters with straight apostrophes is familiar by the rules of each list.
    pub(super) fn are_familiar(self, word: &str) -> [bool; 2] {
        [WordList::DaleChall, WordList::Spache].map(|list| self.is_familiar(list, word))
    }

    /// Whether a word in small letters with straight apostrophes is familiar by the rules of a list; false where the
    /// list is missing.
    pub(crate) fn is_familiar(self, list: WordList, word: &str) -> bool {
        self.of(list).is_some_and(|words| words.is_familiar(word, list, lexicon::syllables))
    }
}

#[cfg(test)]
mod tests {
    use super::{Lists, WordList};
    use crate::level::gunning;
    use crate::text::lexicon;
    use crate::text::spelling::WordMark;

    #[test]
    fn a_list_that_is_there_can_be_read() {
        let own = super::read_own("lamp").unwrap();
        for lists in [Lists::Carried, Lists::Own(&own), Lists::Missing] {
            for list in [WordList::DaleChall, WordList::Spache] {
                assert_eq!(lists.has(list), lists.of(list).is_some(), "{lists:?}, {list:?}");
            }
        }
    }

    /// The marks that the build script stored are what the rules say with the carried lists.
    #[test]
    fn the_marks_of_the_dictionary_are_what_the_rules_say() {
        let list = include_str!("../../wordlists/cmudict-syllables.txt");
        let words = list.lines().filter(|line| !line.starts_with('#')).filter_map(|line| line.split_once(' '));
        let familiar = |list, word: &str| Lists::Carried.is_familiar(list, word);
        for (word, _) in words.step_by(11) {
            let spelling = lexicon::find(word.as_bytes(), word.len());
            assert_eq!(spelling.has(WordMark::FamiliarToDaleChall), familiar(WordList::DaleChall, word), "{word}");
            assert_eq!(spelling.has(WordMark::FamiliarToSpache), familiar(WordList::Spache, word), "{word}");
            let is_hard = gunning::is_hard(
                word,
                spelling.syllables().unwrap(),
                Lists::Carried.of(WordList::DaleChall),
                lexicon::syllables,
            );
            assert_eq!(spelling.has(WordMark::Hard), is_hard, "{word}");
        }
    }

    /// Every word of letters that the rules of a list take for familiar stands in the dictionary, even with several
    /// endings or where the form is no real word.
    #[test]
    fn no_familiar_word_of_letters_is_missing() {
        let endings = "s es d ed ing n r er st est ly ies ied ier iest ily ying ked king ker kest y";
        let endings: Vec<&str> = endings.split(' ').chain([""]).collect();
        for list in [WordList::DaleChall, WordList::Spache] {
            let words = include_str!("../../wordlists/dale-chall.txt").lines().step_by(11);
            for word in words.chain(include_str!("../../wordlists/spache.txt").lines().step_by(7)) {
                let is_letters = |word: &&str| !word.is_empty() && word.bytes().all(|byte| byte.is_ascii_lowercase());
                for stem in (0..4).filter_map(|cut| word.get(..word.len().checked_sub(cut)?)).filter(is_letters) {
                    let doubled = [stem, &stem[stem.len() - 1..]].concat();
                    for form in
                        [stem, &doubled].iter().flat_map(|stem| endings.iter().map(move |end| [*stem, end].concat()))
                    {
                        let marked = lexicon::find(form.as_bytes(), form.len());
                        let mark = if list == WordList::Spache {
                            WordMark::FamiliarToSpache
                        } else {
                            WordMark::FamiliarToDaleChall
                        };
                        let is_familiar = Lists::Carried.is_familiar(list, &form);
                        assert_eq!(marked.has(mark), is_familiar, "{form}");
                    }
                }
            }
        }
    }

    #[test]
    fn hyphened_words_have_the_marks_that_the_rules_give() {
        for (word, syllables) in [
            ("well-known", Some(2)),
            ("lamp-post", Some(2)),
            ("good-bye", Some(2)),
            ("old-fashioned", Some(3)),
            ("lighthouse-lamp", Some(3)),
            ("half-adventurous", Some(5)),
            ("lamp-quillonia", None),
            ("o'clock-lamp", None),
            ("a-", None),
        ] {
            let spelling = lexicon::find_hyphened(word);
            assert_eq!(spelling.syllables(), syllables, "{word}");
            if syllables.is_some() {
                let [dale_chall, spache] = Lists::Carried.are_familiar(word);
                assert_eq!(spelling.has(WordMark::FamiliarToDaleChall), dale_chall, "{word}");
                assert_eq!(spelling.has(WordMark::FamiliarToSpache), spache, "{word}");
                assert_eq!(spelling.has(WordMark::Hard), word == "half-adventurous", "{word}");
            }
        }
    }
}
